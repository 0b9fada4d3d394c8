#include "yard/codes.h"

#include <string.h>

/* The parts of a code that are more than its check character. */
static guint
count_parts (char *const *parts)
{
  guint n = g_strv_length ((char **) parts);

  return n >= 3 && strlen (parts[n - 1]) == 1 ? n - 1 : n;
}

static char *
join (char *const *parts, guint from, guint to)
{
  GString *text = g_string_new (NULL);

  for (guint i = from; i < to; i++)
    g_string_append_printf (text, "%s%s", i > from ? "-" : "", parts[i]);
  return g_string_free (text, FALSE);
}

static gboolean
is_common (const GPtrArray *codes, guint part)
{
  char *const *first = codes->pdata[0];

  for (guint i = 1; i < codes->len; i++)
    if (strcmp (((char **) codes->pdata[i])[part], first[part]) != 0)
      return FALSE;
  return TRUE;
}

/* Codes of one number of parts; NULL when they are not, or one is missing. */
static GPtrArray *
split_codes (const BedYardStack *stack, guint *n)
{
  g_autoptr (GPtrArray) codes = g_ptr_array_new_with_free_func ((GDestroyNotify) g_strfreev);

  for (guint i = 0; i < stack->logs->len; i++)
    {
      const BedYardLog *log = stack->logs->pdata[i];
      if (!log->code)
        return NULL;
      char **parts = g_strsplit (log->code, "-", -1);
      g_ptr_array_add (codes, parts);
      if (i == 0)
        *n = count_parts (parts);
      else if (count_parts (parts) != *n)
        return NULL;
    }
  return codes->len > 0 && *n > 0 ? g_steal_pointer (&codes) : NULL;
}

void
bed_codes_shorten (BedYardStack *stack)
{
  guint n = 0, from = 0, to;
  g_autoptr (GPtrArray) codes = split_codes (stack, &n);

  if (!codes)
    return;
  to = n;
  while (from + 1 < n && is_common (codes, from))
    from++;
  while (to > from + 1 && is_common (codes, to - 1))
    to--;
  for (guint i = 0; i < codes->len; i++)
    {
      BedYardLog *log = stack->logs->pdata[i];
      g_free (log->brief);
      log->brief = join (codes->pdata[i], from, to);
    }
  g_autofree char *before = from > 0 ? join (codes->pdata[0], 0, from) : NULL;
  g_free (stack->shared);
  stack->shared = before ? g_strdup_printf ("%s-…", before) : NULL;
}
