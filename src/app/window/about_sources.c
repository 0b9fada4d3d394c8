#include "app/window/about_sources.h"

#include <gio/gio.h>
#include <string.h>

#define PAGE "/org/bedlog/manual/sources.md"
#define HEAD "| Source |"

/* The first cell of a row, without its marks; NULL where that is no publication. */
static char *
dup_source (const char *row)
{
  const char *end = strstr (row + 2, " |");
  g_auto (GStrv) parts = NULL;
  g_autofree char *cell = NULL;

  if (!g_str_has_prefix (row, "| ") || !end)
    return NULL;
  cell = g_strndup (row + 2, end - row - 2);
  if (!g_regex_match_simple ("\\b(1[89]|20)\\d\\d\\b", cell, 0, 0))
    return NULL;
  parts = g_strsplit (cell, "*", 0);
  return g_strjoinv (NULL, parts);
}

GStrv
bed_about_dup_sources (void)
{
  g_autoptr (GBytes) page = g_resources_lookup_data (PAGE, G_RESOURCE_LOOKUP_FLAGS_NONE, NULL);
  g_auto (GStrv) lines = page ? g_strsplit (g_bytes_get_data (page, NULL), "\n", 0) : NULL;
  g_autoptr (GStrvBuilder) sources = g_strv_builder_new ();
  g_autoptr (GHashTable) known = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  gboolean in_table = FALSE;

  for (guint i = 0; lines && lines[i]; i++)
    {
      g_autofree char *source = NULL;

      in_table = g_str_has_prefix (lines[i], HEAD) || (in_table && lines[i][0] == '|');
      source = in_table ? dup_source (lines[i]) : NULL;
      if (!source || g_hash_table_contains (known, source))
        continue;
      g_strv_builder_add (sources, source);
      g_hash_table_add (known, g_steal_pointer (&source));
    }
  return g_strv_builder_end (sources);
}
