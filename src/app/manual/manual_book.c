#include "app/manual/manual_book.h"

#include <gio/gio.h>
#include <string.h>

#include "app/manual/manual_text.h"

#define FOLDER "/org/bedlog/manual/manual/"
#define CONTENTS "contents.md"
#define TOPICS "<!-- F1:"

/* Resources end with a zero byte that their size does not count; they live as long as the
 * program. */
static const char *
find_file (const char *folder, const char *name)
{
  g_autofree char *path = g_strconcat (FOLDER, folder, name, NULL);
  g_autoptr (GBytes) bytes = g_resources_lookup_data (path, G_RESOURCE_LOOKUP_FLAGS_NONE, NULL);

  return bytes ? g_bytes_get_data (bytes, NULL) : NULL;
}

/* The page in the reader's language; NULL where it is not translated, or English is read. */
static const char *
find_own (const char *name)
{
  const char *const *wanted = g_get_language_names ();
  const char *text = NULL;

  for (; !text && *wanted && !g_str_equal (*wanted, "C") && !g_str_equal (*wanted, "en"); wanted++)
    {
      g_autofree char *folder = g_strconcat (*wanted, "/", NULL);
      text = find_file (folder, name);
    }
  return text;
}

static const char *
read_file (const char *name)
{
  const char *text = find_own (name);

  if (!text)
    text = find_file ("", name);
  if (!text)
    g_error ("docs/manual/%s is not in the program", name);
  return text;
}

static char **
dup_topics (const char *text)
{
  const char *end = g_str_has_prefix (text, TOPICS) ? strstr (text, "-->") : NULL;
  g_autofree char *line
      = end ? g_strndup (text + strlen (TOPICS), (gsize) (end - text) - strlen (TOPICS))
            : g_strdup ("");

  return g_strsplit (g_strstrip (line), " ", -1);
}

static char *
fold (const char *text)
{
  g_autofree char *small = g_utf8_casefold (text, -1);

  return g_utf8_normalize (small, -1, G_NORMALIZE_ALL);
}

/* The words of the page, as they are read. */
static char *
dup_folded (GPtrArray *blocks)
{
  g_autoptr (GString) said = g_string_new (NULL);

  for (guint i = 0; i < blocks->len; i++)
    {
      const BedManualBlock *block = blocks->pdata[i];
      g_autofree char *plain = bed_manual_dup_plain (block->text);

      g_string_append_printf (said, "%s\n", plain);
      for (guint c = 0; block->cells && c < block->cells->len; c++)
        {
          g_autofree char *cell = bed_manual_dup_plain (block->cells->pdata[c]);
          g_string_append_printf (said, "%s\n", cell);
        }
    }
  return fold (said->str);
}

/* A page that is not translated is listed by what the contents call it, in @link. */
static void
add_page (GArray *pages, const char *name, const char *link)
{
  BedManualPage page = { .name = g_strdup (name), .text = read_file (name) };
  g_autoptr (GPtrArray) blocks = bed_manual_read (page.text);
  const BedManualBlock *first = blocks->len ? blocks->pdata[0] : NULL;

  page.title = g_strdup (link && find_own (CONTENTS) && !find_own (name) ? link
                         : first                                         ? first->text
                                                                         : name);
  page.topics = dup_topics (page.text);
  page.folded = dup_folded (blocks);
  g_array_append_val (pages, page);
}

/* What stands between the brackets that @at is the end of. */
static char *
dup_link (const char *text, const char *at)
{
  const char *begin = g_strrstr_len (text, at - text, "[");

  return begin ? g_strndup (begin + 1, (gsize) (at - begin) - 1) : NULL;
}

/* The links of the contents, one after the other. */
static gpointer
read_pages (gpointer none)
{
  GArray *pages = g_array_new (FALSE, FALSE, sizeof (BedManualPage));
  const char *contents = read_file (CONTENTS), *at = contents;

  add_page (pages, CONTENTS, NULL);
  while (at && (at = strstr (at, "](")))
    {
      const char *end = strchr (at, ')');
      if (!end)
        break;
      g_autofree char *target = g_strndup (at + 2, (gsize) (end - at) - 2);
      g_autofree char *name = g_path_get_basename (target); /* one page is beside the manual */
      g_autofree char *link = dup_link (contents, at);

      add_page (pages, name, link);
      at = end;
    }
  return pages;
}

const BedManualPage *
bed_manual_get_pages (guint *n_pages)
{
  static GOnce once = G_ONCE_INIT;
  GArray *pages = g_once (&once, read_pages, NULL);

  *n_pages = pages->len;
  return &g_array_index (pages, BedManualPage, 0);
}

int
bed_manual_find (const char *name)
{
  guint n;
  const BedManualPage *pages = bed_manual_get_pages (&n);

  for (guint i = 0; i < n; i++)
    if (strcmp (pages[i].name, name) == 0)
      return (int) i;
  return -1;
}

int
bed_manual_find_topic (const char *topic)
{
  guint n;
  const BedManualPage *pages = bed_manual_get_pages (&n);

  for (guint i = 0; i < n && topic; i++)
    if (g_strv_contains ((const char *const *) pages[i].topics, topic))
      return (int) i;
  return -1;
}

gboolean
bed_manual_page_has (const BedManualPage *page, const char *words)
{
  g_return_val_if_fail (page != NULL && words != NULL, FALSE);
  g_autofree char *folded = fold (words);
  g_auto (GStrv) each = g_strsplit (folded, " ", -1);

  for (char **word = each; *word; word++)
    if (!strstr (page->folded, *word))
      return FALSE;
  return TRUE;
}
