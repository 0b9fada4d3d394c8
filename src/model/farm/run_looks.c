#include "model/farm/run_looks.h"

#include <string.h>

#include "model/farm/farm_private.h"
#include "model/farm/query.h"
#include "model/farm/run.h"

struct _BedRunLooks
{
  BedFarm *farm;
  BedRunHeat *heat; /* NULL: not asked for yet */
  GHashTable *full; /* gint64 batch -> its day, "" where it was not asked for yet */
  char *today;
  guint version; /* SQLITE_FCNTL_DATA_VERSION */
};

/* What was reckoned holds until something is written or the day is over. In a change under way the
 * version stands still, so nothing holds. */
static void
read_anew (BedRunLooks *self)
{
  sqlite3 *db = bed_farm_get_db (self->farm);
  const char *today = bed_farm_get_today (self->farm);
  gboolean changing = sqlite3_txn_state (db, "main") == SQLITE_TXN_WRITE;
  guint version = 0;

  sqlite3_file_control (db, "main", SQLITE_FCNTL_DATA_VERSION, &version);
  if (self->today && version == self->version && strcmp (today, self->today) == 0 && !changing)
    return;
  g_hash_table_remove_all (self->full);
  g_clear_pointer (&self->heat, bed_run_heat_free);
  g_free (self->today);
  self->version = version;
  self->today = changing ? NULL : g_strdup (today);
  g_autoptr (BedQuery) q = bed_query_new (
      self->farm, "SELECT DISTINCT coalesce (c.batch, l.batch) FROM \"check\" c"
                  " LEFT JOIN log l ON l.id = c.log WHERE c.colonised IS NOT NULL"
                  " AND c.checked_on <= bed_today () AND coalesce (c.batch, l.batch) IS NOT NULL");
  while (bed_query_next (q))
    {
      gint64 batch = bed_query_int (q, 0);
      g_hash_table_insert (self->full, g_memdup2 (&batch, sizeof batch), g_strdup (""));
    }
  if (!bed_query_finish (q, NULL))
    g_clear_pointer (&self->today, g_free);
}

BedRunLooks *
bed_run_looks_new (BedFarm *farm)
{
  BedRunLooks *self = g_new0 (BedRunLooks, 1);

  self->farm = farm;
  self->full = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  return self;
}

void
bed_run_looks_free (void *data)
{
  BedRunLooks *self = data;

  g_clear_pointer (&self->heat, bed_run_heat_free);
  g_hash_table_unref (self->full);
  g_free (self->today);
  g_free (self);
}

const char *
bed_run_looks_find (BedRunLooks *self, gint64 batch)
{
  const char *day;

  read_anew (self);
  day = g_hash_table_lookup (self->full, &batch);
  if (!day || *day)
    return day;
  if (!self->heat)
    self->heat = bed_run_heat_new (self->farm, NULL);
  char *full = self->heat ? bed_run_dup_full (self->farm, batch, self->heat) : NULL;
  if (full)
    g_hash_table_insert (self->full, g_memdup2 (&batch, sizeof batch), full);
  else
    g_hash_table_remove (self->full, &batch);
  return full;
}
