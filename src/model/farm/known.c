#include "model/farm/known.h"

#include <gio/gio.h>
#include <string.h>

#include "model/farm/csv_read.h"
#include "model/farm/kinds.h"
#include "model_resources.h"

/* --- folding ---------------------------------------------------------------------- */

/* Combining marks above and below letters; those of kana stay. */
static gboolean
is_accent (gunichar c)
{
  return c >= 0x0300 && c <= 0x036f;
}

static void
end_word (GString *folded, gsize start)
{
  static const char *const numbers[] = { "nr", "num", "number", "nummer", "numero", NULL };
  const char *word = folded->str + start;

  if (g_strv_contains (numbers, word))
    {
      g_string_truncate (folded, start);
      g_string_append (folded, "no");
    }
}

char *
bed_known_fold (const char *text)
{
  g_autofree char *small = g_utf8_casefold (text, -1);
  g_autofree char *plain = g_utf8_normalize (small, -1, G_NORMALIZE_ALL);
  GString *folded = g_string_new (NULL);
  gsize start = 0;

  for (const char *at = plain ? plain : ""; *at; at = g_utf8_next_char (at))
    {
      gunichar c = g_utf8_get_char (at);
      if (is_accent (c))
        continue;
      /* N° as typed on keyboards that have no º. */
      gboolean number = c == '#'
                        || (c == 0xb0 && folded->len == start + 1 && folded->len > 0
                            && folded->str[start] == 'n');
      if (!number && (g_unichar_isalnum (c) || g_unichar_ismark (c)))
        {
          g_string_append_unichar (folded, c);
          continue;
        }
      if (c == '#')
        g_string_append (folded, folded->len > start ? " no" : "no");
      else if (number)
        g_string_append_c (folded, 'o');
      end_word (folded, start);
      if (folded->len > 0 && folded->str[folded->len - 1] != ' ')
        g_string_append_c (folded, ' ');
      start = folded->len;
    }
  end_word (folded, start);
  return g_strchomp (g_string_free (folded, FALSE));
}

/* --- names ------------------------------------------------------------------------ */

typedef struct
{
  GPtrArray *latin; /* NULL behind them */
  gboolean doubtful;
} Meaning;

static void
add_name (GHashTable *names, const char *kind, char *name, const char *latin)
{
  char *doubt = g_str_has_suffix (name, "?") ? strrchr (name, '?') : NULL;

  if (doubt)
    *doubt = '\0';
  g_autofree char *folded = bed_known_fold (name);
  g_autofree char *key = g_strconcat (kind, ":", folded, NULL);
  Meaning *meaning = g_hash_table_lookup (names, key);
  if (!meaning)
    {
      meaning = g_new0 (Meaning, 1);
      meaning->latin = g_ptr_array_new ();
      g_ptr_array_add (meaning->latin, NULL);
      g_hash_table_insert (names, g_steal_pointer (&key), meaning);
    }
  meaning->doubtful = meaning->doubtful || doubt;
  for (guint i = 0; i + 1 < meaning->latin->len; i++)
    if (strcmp (meaning->latin->pdata[i], latin) == 0)
      return;
  g_ptr_array_insert (meaning->latin, meaning->latin->len - 1, g_strdup (latin));
}

static gpointer
read_names (gpointer none)
{
  g_autoptr (GBytes) bytes = g_resource_lookup_data (
      model_get_resource (), "/org/bedlog/model/names.csv", G_RESOURCE_LOOKUP_FLAGS_NONE, NULL);
  g_autoptr (GPtrArray) faults
      = g_ptr_array_new_with_free_func ((GDestroyNotify) bed_csv_fault_free);
  gsize length = 0;
  const char *text = bytes ? g_bytes_get_data (bytes, &length) : NULL;
  g_autoptr (BedCsvTable) table = text ? bed_csv_table_parse ("names.csv", text, length, faults)
                                       : NULL;
  GHashTable *names = g_hash_table_new (g_str_hash, g_str_equal);

  if (!table)
    g_error ("data/notebook/names.csv cannot be read");
  for (guint i = 1; i < table->rows->len; i++)
    {
      const BedCsvRow *row = table->rows->pdata[i];
      g_auto (GStrv) words = g_strsplit (row->cells[2], ";", -1);
      g_autofree char *latin = g_strdup (row->cells[1]);
      for (char **word = words; *word; word++)
        add_name (names, row->cells[0], *word, row->cells[1]);
      add_name (names, row->cells[0], latin, row->cells[1]);
    }
  return names;
}

BedKnownName
bed_known_find (BedKind kind, const char *name, const char *const **latin)
{
  static GOnce once = G_ONCE_INIT;
  GHashTable *names = g_once (&once, read_names, NULL);
  g_autofree char *folded = bed_known_fold (name);
  g_autofree char *key = g_strconcat (bed_kind_get_info (kind)->name, ":", folded, NULL);
  const Meaning *meaning = g_hash_table_lookup (names, key);

  if (!meaning)
    return BED_KNOWN_NOT;
  *latin = (const char *const *) meaning->latin->pdata;
  return meaning->doubtful ? BED_KNOWN_SEVERAL : BED_KNOWN_ONE;
}
