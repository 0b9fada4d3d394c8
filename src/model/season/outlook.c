#include "model/season/outlook.h"

#include <glib/gi18n-lib.h>

#include "model/season/outlook_private.h"
#include "model/season/picked_private.h"
#include "model/season/season.h"

/* Temporary tables are in memory and no part of the farm: a farm that cannot be written
 * to has them too. */
#define TABLE(name, columns)                                                                       \
  "DROP TABLE IF EXISTS temp." name "; CREATE TEMP TABLE " name " " columns ";"

/* A table in lines of its own. */
/* clang-format off */
static const char tables[] =
  TABLE ("season_log", "(log INTEGER PRIMARY KEY, size INTEGER, stack INTEGER, stood INTEGER,"
         " lives INTEGER, own REAL, share REAL, earlier REAL, strain TEXT, dry REAL)")
  TABLE ("size_class", "(size INTEGER PRIMARY KEY, above INTEGER, below INTEGER)")
  TABLE ("season_batch", "(batch INTEGER PRIMARY KEY, wood TEXT, stood INTEGER, lives INTEGER)")
  TABLE ("log_span", "(since INTEGER, until INTEGER, logs INTEGER)")
  TABLE ("crop_day", "(day TEXT, mass REAL)")
  TABLE ("crop_batch", "(batch INTEGER, season INTEGER, mass REAL,"
         " PRIMARY KEY (batch, season)) WITHOUT ROWID")
  TABLE ("crop_part", "(stack INTEGER, picked_on TEXT, batch INTEGER, part REAL,"
         " PRIMARY KEY (stack, picked_on, batch)) WITHOUT ROWID")
  TABLE ("lot_source", "(lot INTEGER, batch INTEGER, felling INTEGER)")
  TABLE ("kind_yield", "(wood TEXT, strain TEXT, batches INTEGER, told TEXT, mass REAL,"
         " low REAL, high REAL)")
  TABLE ("log_survival", "(age INTEGER, at_risk INTEGER, retired INTEGER, survival REAL,"
         " low REAL, high REAL)")
  TABLE ("season_coming", "(season INTEGER, expected REAL, low REAL, high REAL, unseen REAL)")
  TABLE ("log_coming", "(age INTEGER, mass REAL)")
  TABLE ("season_past", "(season INTEGER, logs INTEGER, picked REAL, sold REAL, minutes INTEGER,"
         " income_fresh INTEGER, income_dried INTEGER, bought INTEGER, stock INTEGER,"
         " spawn INTEGER, labour INTEGER, equipment INTEGER)")
  TABLE ("season_week", "(monday TEXT PRIMARY KEY, expected REAL)")
  TABLE ("batch_year", "(batch INTEGER, year INTEGER, materials INTEGER, labour INTEGER)");
/* clang-format on */

/* Helpers */

static gboolean
fill_classes (BedFarm *farm, GError **error)
{
  BedOutlookTable table = bed_outlook_table (farm, "INSERT INTO size_class VALUES (?1, ?2, ?3)");

  for (BedSize size = BED_SIZE_SMALL; size <= BED_SIZE_LARGE; size++)
    {
      sqlite3_bind_int (table.stmt, 1, size);
      if (size > BED_SIZE_SMALL)
        sqlite3_bind_int64 (table.stmt, 2, bed_size_get_limit (farm, size - 1));
      if (size < BED_SIZE_LARGE)
        sqlite3_bind_int64 (table.stmt, 3, bed_size_get_limit (farm, size));
      bed_outlook_add (&table);
    }
  return bed_outlook_end (&table, error);
}

/* From the first with a record to this one. */
static gboolean
fill_past (BedFarm *farm, int season, GError **error)
{
  BedOutlookTable table
      = bed_outlook_table (farm, "INSERT INTO season_past VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8,"
                                 " ?9, ?10, ?11, ?12)");
  int first, last;
  gboolean well = bed_season_range (farm, &first, &last, error);

  for (int year = MIN (first, season); well && year <= season; year++)
    {
      BedSeason past;

      well = bed_season_read (farm, year, &past, error);
      const gint64 values[]
          = { year,         past.logs,         past.picked,       past.sold,
              past.minutes, past.income_fresh, past.income_dried, past.bought,
              past.stock,   past.spawn,        past.labour,       past.equipment };
      for (guint i = 0; i < G_N_ELEMENTS (values); i++)
        sqlite3_bind_int64 (table.stmt, i + 1, values[i]);
      bed_outlook_add (&table);
    }
  return bed_outlook_end (&table, well ? error : NULL) && well;
}

static gboolean
fill (BedFarm *farm, int season, GError **error)
{
  g_autoptr (BedSeasonLogs) all = bed_season_logs_new (farm, season, error);

  return all && fill_classes (farm, error) && fill_past (farm, season, error)
         && bed_picked_read (all, error) && bed_outlook_read_coming (all, error)
         && bed_outlook_read_costs (all, error) && bed_outlook_read_weeks (all, error);
}

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
bed_outlook_bind_interval (BedOutlookTable *table, int parameter, const BedInterval *interval,
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

  sqlite3 *db = bed_farm_get_db (farm);
  const char *doing = _ ("working out the season");
  gboolean well = bed_db_exec (db, "SAVEPOINT season;", doing, error);

  if (!well)
    return FALSE;
  well = bed_db_exec (db, tables, doing, error) && fill (farm, season, error);
  return bed_db_exec (db, well ? "RELEASE season;" : "ROLLBACK TO season; RELEASE season;", doing,
                      well ? error : NULL)
         && well;
}
