/* Logs of which only their batch's number was known, and a list of them that comes later. */
#include "model/csv/csv_private.h"

#include "model/farm/farm_private.h"
#include "model/farm/kinds.h"
#include "model/farm/query.h"

/* Nothing is known of one that is not also true of its neighbour. Those retired are met by those
 * retired. */
static const char free_ones[]
    = "SELECT l.id FROM log l WHERE l.batch = ?1 AND l.counted = 'yes' AND l.id < ?2"
      " AND NOT EXISTS (SELECT 1 FROM pick WHERE log = l.id"
      "  UNION ALL SELECT 1 FROM soaked WHERE log = l.id"
      "  UNION ALL SELECT 1 FROM place WHERE log = l.id"
      "  UNION ALL SELECT 1 FROM weighing WHERE log = l.id"
      "  UNION ALL SELECT 1 FROM \"check\" WHERE log = l.id"
      "  UNION ALL SELECT 1 FROM planned_move WHERE log = l.id)"
      " ORDER BY (coalesce (l.retired_on, '') > '') <> ?3, l.id";

static gboolean
has_counted (BedCsvImporter *self)
{
  gint64 any = 0;

  if (!self->counted)
    self->counted = bed_query_one (self->farm,
                                   "SELECT EXISTS (SELECT 1 FROM log WHERE counted = 'yes')", 0,
                                   &any, NULL)
                            && any
                        ? BED_CSV_SOME
                        : BED_CSV_NONE;
  return self->counted == BED_CSV_SOME;
}

gboolean
bed_csv_is_counted (BedRecord *log)
{
  return g_strcmp0 (bed_record_get_text (log, "counted"), "yes") == 0;
}

/* That no row of this import was before; 0: none. */
static gint64
find_free (BedCsvImporter *self, BedRecord *log)
{
  gint64 found = 0;
  sqlite3_stmt *stmt = bed_farm_statement (self->farm, free_ones, NULL);

  if (!stmt)
    {
      bed_farm_note_trouble (self->farm);
      return 0;
    }
  sqlite3_bind_int64 (stmt, 1, bed_record_get_int (log, "batch"));
  sqlite3_bind_int64 (stmt, 2, self->first_id ? self->first_id : G_MAXINT64);
  sqlite3_bind_int (stmt, 3, bed_record_has (log, "retired_on"));
  while (!found && bed_farm_step (self->farm, stmt) == SQLITE_ROW)
    {
      gint64 id = sqlite3_column_int64 (stmt, 0);
      if (!bed_csv_is_drafted (self, id))
        found = id;
    }
  sqlite3_reset (stmt);
  return found;
}

void
bed_csv_list_log (BedCsvImporter *self, BedRecord *stored, BedRecord *log, guint line)
{
  const BedKindInfo *info = bed_kind_get_info (BED_KIND_LOG);
  g_autoptr (BedRecord) listed = bed_record_copy (stored);

  for (guint i = 0; i < info->n_fields; i++)
    if (bed_record_has (log, info->fields[i].name))
      bed_record_take_field (listed, log, info->fields[i].name);
  bed_record_unset (listed, "counted");
  self->answer->listed++;
  bed_csv_put (self, listed, line);
}

gint64
bed_csv_take_place (BedCsvImporter *self, BedRecord *log, guint line)
{
  if (bed_csv_is_counted (log) || !bed_record_has (log, "batch") || !has_counted (self))
    return 0;
  gint64 id = find_free (self, log);
  g_autoptr (BedRecord) stored = id ? bed_farm_load (self->farm, BED_KIND_LOG, id, NULL) : NULL;

  if (!stored)
    return 0;
  bed_csv_list_log (self, stored, log, line);
  return id;
}

/* --- numbers --------------------------------------------------------------------------- */

guint
bed_csv_count_missing (BedCsvImporter *self, gint64 batch, guint n)
{
  gint64 *there = g_hash_table_lookup (self->there, &batch);

  if (!there)
    {
      there = g_new0 (gint64, 1);
      /* Trouble with it comes up at the end of the round. */
      if (!bed_csv_is_drafted (self, batch)
          && !bed_query_one (self->farm, "SELECT count (*) FROM log WHERE batch = ?1", batch, there,
                             NULL))
        *there = 0;
      g_hash_table_insert (self->there, g_memdup2 (&batch, sizeof batch), there);
    }
  guint known = (guint) MIN (*there, (gint64) n);
  *there -= known;
  self->answer->known[BED_KIND_LOG] += known;
  return n - known;
}
