/* What a change did, in words to be found by. */
#include "model/farm/history.h"

#define WORDS "change-words"

static char *
make_words (BedFarm *farm, gint64 change)
{
  g_autoptr (GPtrArray) differences = bed_history_differences (farm, change);
  GString *words = g_string_new (NULL);
  const char *record = NULL;

  for (guint i = 0; i < differences->len; i++)
    {
      const BedDifference *difference = differences->pdata[i];

      if (g_strcmp0 (record, difference->record) != 0)
        g_string_append_printf (words, " %s", difference->record);
      record = difference->record;
      if (difference->from)
        g_string_append_printf (words, " %s", difference->from);
      if (difference->to)
        g_string_append_printf (words, " %s", difference->to);
    }
  return g_string_free (words, FALSE);
}

/* Kept: a filter asks all of them at every key. Only until the farm is another: they have the names
 * that other records have today. */
const char *
bed_history_get_words (BedFarm *farm, gint64 change)
{
  g_return_val_if_fail (BED_IS_FARM (farm), "");
  GHashTable *all = bed_farm_get_kept (farm, WORDS);
  char *words;

  if (!all)
    {
      all = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
      bed_farm_keep (farm, WORDS, all, (GDestroyNotify) g_hash_table_unref);
    }
  words = g_hash_table_lookup (all, &change);
  if (!words)
    {
      words = make_words (farm, change);
      g_hash_table_insert (all, g_memdup2 (&change, sizeof change), words);
    }
  return words;
}
