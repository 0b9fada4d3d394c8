/* Logs of which only their batch's number was known, and a list of them that comes later. */
#include "model/csv/csv_private.h"

#include "model/farm/kinds.h"
#include "model/farm/query.h"

/* Nothing is known of one that is not also true of its neighbour. The last first. */
static const char free_ones[] = "SELECT l.id FROM log l WHERE l.batch = ?1 AND l.counted = 'yes'"
                                " AND l.id < ?3 AND (coalesce (l.retired_on, '') > '') = ?2"
                                " AND NOT EXISTS (SELECT 1 FROM pick WHERE log = l.id"
                                "  UNION ALL SELECT 1 FROM soaked WHERE log = l.id"
                                "  UNION ALL SELECT 1 FROM place WHERE log = l.id"
                                "  UNION ALL SELECT 1 FROM weighing WHERE log = l.id"
                                "  UNION ALL SELECT 1 FROM \"check\" WHERE log = l.id"
                                "  UNION ALL SELECT 1 FROM planned_move WHERE log = l.id)"
                                " ORDER BY l.id DESC";

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

typedef enum
{
  LIVING,
  RETIRED
} Life;

static GArray *
read_free (BedCsvImporter *self, gint64 batch, Life life)
{
  GArray *ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autoptr (BedQuery) q = bed_query_new (self->farm, free_ones);

  bed_query_bind_int (q, 1, batch);
  bed_query_bind_int (q, 2, life == RETIRED);
  bed_query_bind_int (q, 3, self->first_id ? self->first_id : G_MAXINT64);
  while (bed_query_next (q))
    {
      gint64 id = bed_query_int (q, 0);
      g_array_append_val (ids, id);
    }
  /* Trouble with it comes up at the end of the round. */
  if (!bed_query_finish (q, NULL))
    g_array_set_size (ids, 0);
  return ids;
}

/* That no row of this import was before; 0: none. A batch is asked once: what hangs on logs comes
 * after all of them. */
static gint64
take_free (BedCsvImporter *self, gint64 batch, Life life)
{
  GArray *ids = g_hash_table_lookup (self->free[life], &batch);

  if (!ids)
    {
      ids = read_free (self, batch, life);
      g_hash_table_insert (self->free[life], g_memdup2 (&batch, sizeof batch), ids);
    }
  while (ids->len > 0)
    {
      gint64 id = g_array_index (ids, gint64, ids->len - 1);
      g_array_set_size (ids, ids->len - 1);
      if (!bed_csv_is_drafted (self, id))
        return id;
    }
  return 0;
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
  /* Those retired are met by those retired, as long as there are any. */
  Life life = bed_record_has (log, "retired_on") ? RETIRED : LIVING;
  gint64 batch = bed_record_get_int (log, "batch"), id = take_free (self, batch, life);
  if (!id)
    id = take_free (self, batch, life == RETIRED ? LIVING : RETIRED);
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
