#include "model/farm/rates.h"

#include "model/farm/farm_private.h"

static gboolean
same_rate (BedRecord *before, BedRecord *after)
{
  return bed_record_has (after, "labour_rate")
         && bed_record_get_int (after, "labour_rate") == bed_record_get_int (before, "labour_rate");
}

sqlite3_stmt *
bed_rates_keep (BedFarm *farm, BedRecord *before, BedRecord *after, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && after != NULL, NULL);
  sqlite3_stmt *stmt;

  if (!before || !bed_record_has (before, "labour_rate") || same_rate (before, after))
    return NULL;
  /* Of two changes on one day the first says what held before it. */
  stmt = bed_farm_statement (farm,
                             "INSERT OR IGNORE INTO rate (id, until, rate) SELECT ?1, ?2, ?3"
                             " WHERE EXISTS (SELECT 1 FROM hours WHERE rate IS NULL"
                             "  AND worked_on < ?2)",
                             error);
  if (!stmt)
    return NULL;
  sqlite3_bind_int64 (stmt, 1, bed_farm_next_id (farm));
  bed_farm_bind_text (farm, stmt, 2, bed_farm_get_today (farm));
  sqlite3_bind_int64 (stmt, 3, bed_record_get_int (before, "labour_rate"));
  return stmt;
}
