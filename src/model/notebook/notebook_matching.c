#include <glib/gi18n-lib.h>
#include <stdlib.h>
#include <string.h>

#include "model/farm/known.h"
#include "model/notebook/notebook_private.h"

/* Decisions as text that is kept: columns by their heads, so that they fit another sheet of the
 * same heads, also when its columns stand in another order. */

#define GROUP "matching"

char *
bed_notebook_dup_heads (BedNotebook *self)
{
  g_autoptr (GString) heads = g_string_new (NULL);

  for (guint i = 0; i < self->layout.heads->len; i++)
    {
      g_autofree char *folded = bed_known_fold (self->layout.heads->pdata[i]);
      g_string_append_printf (heads, "%s%s", i ? "|" : "", folded);
    }
  return g_strdup (heads->str);
}

/* Questions are kept but those about a column, which are numbered, and of this sheet alone. What
 * was decided of a row says which row. */
static gboolean
is_of_column (const char *key)
{
  return g_str_has_prefix (key, "field:") || g_str_has_prefix (key, "unit:")
         || g_str_has_prefix (key, "dates:") || g_str_has_prefix (key, "odd:")
         || g_str_has_prefix (key, "about:") || g_str_has_prefix (key, "range:")
         || g_str_has_prefix (key, "missing:")
         || strcmp (key, "year") == 0; /* another sheet is of another */
}

static void
keep_answers (BedNotebook *self, GKeyFile *file)
{
  g_autoptr (GList) keys
      = g_list_sort (g_hash_table_get_keys (self->decided), (GCompareFunc) strcmp);
  guint n = 0;

  for (GList *each = keys; each; each = each->next)
    if (!is_of_column (each->data))
      {
        g_autofree char *group = g_strdup_printf ("answer %u", ++n);
        g_key_file_set_string (file, group, "question", each->data);
        g_key_file_set_string (file, group, "answer",
                               g_hash_table_lookup (self->decided, each->data));
      }
}

static char *
dup_field (const BedNotebookColumn *column)
{
  return column->field ? g_strdup_printf ("%s.%s", bed_kind_get_info (column->kind)->name,
                                          column->field->name)
                       : g_strdup ("-");
}

static void
keep_column (BedNotebook *self, GKeyFile *file, guint column)
{
  const BedNotebookColumn *shown = bed_notebook_get_column (self, column);
  g_autofree char *group = g_strdup_printf ("column %u", column + 1);
  g_autofree char *field = dup_field (shown);

  g_key_file_set_string (file, group, "head", shown->head);
  /* What nobody left out is understood anew: it may be a unit or a year. */
  if (shown->field || shown->sure == BED_MATCH_CHOSEN)
    g_key_file_set_string (file, group, "field", field);
  if (*shown->unit)
    g_key_file_set_string (file, group, "unit", shown->unit);
  if (bed_notebook_decision (self, "dates:%u", column))
    g_key_file_set_string (file, group, "dates", bed_notebook_decision (self, "dates:%u", column));
  for (guint i = 0; i < 3; i++)
    {
      static const char *const asked[] = { "odd", "about", "range" };
      const char *answer = bed_notebook_decision (self, "%s:%u", asked[i], column);
      if (answer)
        g_key_file_set_string (file, group, asked[i], answer);
    }
}

char *
bed_notebook_dup_matching (BedNotebook *self)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();

  g_key_file_set_string (file, GROUP, "kind", bed_kind_get_info (self->kind)->name);
  for (guint i = 0; i < self->matches->len; i++)
    keep_column (self, file, i);
  keep_answers (self, file);
  return g_key_file_to_data (file, NULL, NULL);
}

/* The column of this sheet with that head, not taken before; -1 when there is none. */
static int
find_column (BedNotebook *self, const char *head, guint8 *taken)
{
  g_autofree char *wanted = bed_known_fold (head);

  for (guint i = 0; i < self->layout.heads->len; i++)
    {
      g_autofree char *folded = bed_known_fold (self->layout.heads->pdata[i]);
      if (!taken[i] && strcmp (folded, wanted) == 0)
        {
          taken[i] = 1;
          return i;
        }
    }
  return -1;
}

static gboolean
is_field (const char *text)
{
  const char *point = strchr (text, '.');
  g_autofree char *name = point ? g_strndup (text, point - text) : NULL;
  BedKind kind = name ? bed_kind_from_name (name) : BED_N_KINDS;

  return strcmp (text, "-") == 0
         || (kind != BED_N_KINDS && bed_notebook_find_field (kind, point + 1));
}

static void
take_column (BedNotebook *self, GKeyFile *file, const char *group, guint8 *taken)
{
  static const char *const keys[] = { "field", "unit", "dates", "odd", "about", "range" };
  g_autofree char *head = g_key_file_get_string (file, group, "head", NULL);
  int column = head ? find_column (self, head, taken) : -1;

  for (gsize i = 0; column >= 0 && i < G_N_ELEMENTS (keys); i++)
    {
      g_autofree char *value = g_key_file_get_string (file, group, keys[i], NULL);
      if (value && (i > 0 || is_field (value)))
        g_hash_table_insert (self->decided, g_strdup_printf ("%s:%d", keys[i], column),
                             g_steal_pointer (&value));
    }
}

static void
take_answer (BedNotebook *self, GKeyFile *file, const char *group)
{
  g_autofree char *key = g_key_file_get_string (file, group, "question", NULL);
  g_autofree char *answer = g_key_file_get_string (file, group, "answer", NULL);

  if (!key || !answer || !*key || is_of_column (key) || strcmp (key, "kind") == 0
      || (strcmp (key, "decimal") == 0 && strcmp (answer, ".") != 0 && strcmp (answer, ",") != 0))
    return;
  g_hash_table_insert (self->decided, g_steal_pointer (&key), g_steal_pointer (&answer));
}

gboolean
bed_notebook_take_matching_text (BedNotebook *self, const char *matching, GError **error)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_autoptr (GError) why = NULL;
  g_autofree guint8 *taken = g_new0 (guint8, self->layout.heads->len + 1);

  if (!g_key_file_load_from_data (file, matching, strlen (matching), G_KEY_FILE_NONE, &why))
    return bed_farm_refuse (error, BED_FARM_ERROR_INVALID,
                            _ ("This is not a matching of columns: %s"), why->message);
  g_autofree char *kind = g_key_file_get_string (file, GROUP, "kind", NULL);
  if (!kind || bed_kind_from_name (kind) == BED_N_KINDS)
    return bed_farm_refuse (error, BED_FARM_ERROR_INVALID,
                            _ ("This is not a matching of columns: it does not say what the rows "
                               "are."));
  g_hash_table_insert (self->decided, g_strdup ("kind"), g_steal_pointer (&kind));
  g_auto (GStrv) groups = g_key_file_get_groups (file, NULL);
  for (char **group = groups; *group; group++)
    if (g_str_has_prefix (*group, "column "))
      take_column (self, file, *group, taken);
    else if (g_str_has_prefix (*group, "answer "))
      take_answer (self, file, *group);
  return TRUE;
}
