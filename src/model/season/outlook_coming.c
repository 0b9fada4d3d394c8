/* What the crop's model says, in tables for the sheets, and how long the logs stood. */
#include "model/season/outlook_private.h"

#include <glib/gi18n-lib.h>

#include "model/season/crop.h"
#include "science/survival.h"

#define MG_PER_KG 1e6

/* Spans alike have one row: few, whatever the number of logs. */
static gboolean
keep_spans (const BedSeasonLogs *all, GError **error)
{
  const GArray *logs = all->logs;
  g_autoptr (GHashTable) spans = g_hash_table_new (NULL, NULL);
  BedOutlookTable table = bed_outlook_table (all->farm, "INSERT INTO log_span VALUES (?1, ?2, ?3)");
  GHashTableIter iter;
  gpointer span, count;

  for (guint i = 0; i < logs->len; i++)
    {
      const BedSeasonLog *log = &g_array_index (logs, BedSeasonLog, i);
      gpointer both = GINT_TO_POINTER (log->since * 10000 + log->until);

      if (log->since <= all->season)
        g_hash_table_insert (
            spans, both, GINT_TO_POINTER (GPOINTER_TO_INT (g_hash_table_lookup (spans, both)) + 1));
    }
  g_hash_table_iter_init (&iter, spans);
  while (table.well && g_hash_table_iter_next (&iter, &span, &count))
    {
      sqlite3_bind_int (table.stmt, 1, GPOINTER_TO_INT (span) / 10000);
      sqlite3_bind_int (table.stmt, 2, GPOINTER_TO_INT (span) % 10000);
      sqlite3_bind_int (table.stmt, 3, GPOINTER_TO_INT (count));
      bed_outlook_add (&table);
    }
  return bed_outlook_end (&table, error);
}

static gboolean
keep_survival (BedFarm *farm, const BedCrop *crop, GError **error)
{
  BedOutlookTable table
      = bed_outlook_table (farm, "INSERT INTO log_survival VALUES (?1, ?2, ?3, ?4, ?5, ?6)");

  for (guint i = 0; table.well && i < crop->curve->len; i++)
    {
      const BedSurvivalStep *step = &g_array_index (crop->curve, BedSurvivalStep, i);

      sqlite3_bind_double (table.stmt, 1, step->age);
      sqlite3_bind_int64 (table.stmt, 2, step->at_risk);
      sqlite3_bind_int64 (table.stmt, 3, step->retired);
      sqlite3_bind_double (table.stmt, 4, step->survival.estimate);
      bed_outlook_bind_interval (&table, 5, &step->survival, 1);
      bed_outlook_add (&table);
    }
  return bed_outlook_end (&table, error);
}

static gboolean
keep_coming (BedFarm *farm, const BedCrop *crop, GError **error)
{
  BedOutlookTable table
      = bed_outlook_table (farm, "INSERT INTO season_coming VALUES (?1, ?2, ?3, ?4, ?5)");

  for (int i = 0; table.well && i < BED_CROP_SEASONS; i++)
    {
      const BedCropExpected *expected = &crop->coming[i];

      sqlite3_bind_int64 (table.stmt, 1, crop->season + 1 + i);
      sqlite3_bind_double (table.stmt, 2, expected->kg.estimate * MG_PER_KG);
      bed_outlook_bind_interval (&table, 3, &expected->kg, MG_PER_KG);
      sqlite3_bind_double (table.stmt, 5, expected->share_unseen);
      bed_outlook_add (&table);
    }
  return bed_outlook_end (&table, error);
}

static gboolean
keep_log (BedFarm *farm, const BedCrop *crop, GError **error)
{
  BedOutlookTable table = bed_outlook_table (farm, "INSERT INTO log_coming VALUES (?1, ?2)");

  for (int age = 0; table.well && age < BED_CROP_AGES; age++)
    {
      sqlite3_bind_int64 (table.stmt, 1, age);
      sqlite3_bind_double (table.stmt, 2, crop->log_kg[age] * MG_PER_KG);
      bed_outlook_add (&table);
    }
  return bed_outlook_end (&table, error);
}

static const char *
get_told (const BedCropGroup *group)
{
  if (group->told == BED_CROP_OTHER_YEARS)
    return _ ("made in other years than the rest");
  return group->kg.known == BED_KNOWN_INTERVAL ? _ ("yes") : _ ("too few batches to give a range");
}

static gboolean
keep_kinds (BedFarm *farm, const BedCrop *crop, GError **error)
{
  BedOutlookTable table
      = bed_outlook_table (farm, "INSERT INTO kind_yield VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)");

  for (guint i = 0; table.well && i < crop->groups->len; i++)
    {
      const BedCropGroup *group = crop->groups->pdata[i];

      sqlite3_bind_text (table.stmt, 1, group->wood, -1, SQLITE_TRANSIENT);
      sqlite3_bind_text (table.stmt, 2, group->strain, -1, SQLITE_TRANSIENT);
      sqlite3_bind_int64 (table.stmt, 3, group->batches);
      sqlite3_bind_text (table.stmt, 4, get_told (group), -1, SQLITE_STATIC);
      sqlite3_bind_double (table.stmt, 5, group->kg.estimate * MG_PER_KG);
      bed_outlook_bind_interval (&table, 6, &group->kg, MG_PER_KG);
      bed_outlook_add (&table);
    }
  return bed_outlook_end (&table, error);
}

gboolean
bed_outlook_read_coming (const BedSeasonLogs *all, GError **error)
{
  g_autoptr (BedCrop) crop = bed_crop_new_reckoned (all->farm, all->season, error);

  return crop && keep_spans (all, error) && keep_survival (all->farm, crop, error)
         && keep_coming (all->farm, crop, error) && keep_log (all->farm, crop, error)
         && keep_kinds (all->farm, crop, error);
}
