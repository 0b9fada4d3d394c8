#include "model/outlook.h"

#include <glib/gi18n-lib.h>

#include "model/outlook_private.h"

static const char tables[]
    = "DROP TABLE IF EXISTS temp.log_survival;"
      "DROP TABLE IF EXISTS temp.season_coming; DROP TABLE IF EXISTS temp.batch_year;"
      "CREATE TEMP TABLE log_survival (age INTEGER, at_risk INTEGER, retired INTEGER,"
      " survival REAL, low REAL, high REAL);"
      "CREATE TEMP TABLE season_coming (season INTEGER, expected REAL);"
      "CREATE TEMP TABLE batch_year (batch INTEGER, year INTEGER, materials INTEGER,"
      " labour INTEGER);";

/* For the parts */

BedOutlookTable
bed_outlook_table (BedFarm *farm, const char *insert)
{
  BedOutlookTable table = { .farm = farm };

  table.well = sqlite3_prepare_v2 (bed_farm_get_db (farm), insert, -1, &table.stmt, NULL)
               == SQLITE_OK;
  return table;
}

void
bed_outlook_bind_interval (BedOutlookTable *table,
                           int parameter,
                           const BedInterval *interval,
                           double factor)
{
  if (interval->known != BED_KNOWN_INTERVAL)
    return;
  sqlite3_bind_double (table->stmt, parameter, interval->low * factor);
  sqlite3_bind_double (table->stmt, parameter + 1, interval->high * factor);
}

void
bed_outlook_add (BedOutlookTable *table)
{
  table->well = table->well && sqlite3_step (table->stmt) == SQLITE_DONE;
  sqlite3_reset (table->stmt);
  sqlite3_clear_bindings (table->stmt);
}

gboolean
bed_outlook_end (BedOutlookTable *table, GError **error)
{
  if (!table->well)
    bed_farm_set_error (table->farm, error, _ ("working out the season"));
  sqlite3_finalize (table->stmt);
  return table->well;
}

/* Public */

gboolean
bed_outlook_read (BedFarm *farm, int season, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), FALSE);

  return bed_db_exec (bed_farm_get_db (farm), tables, _ ("working out the season"), error)
         && bed_outlook_read_kinds (farm, season, error)
         && bed_outlook_read_coming (farm, season, error)
         && bed_outlook_read_costs (farm, season, error);
}
