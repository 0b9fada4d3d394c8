#include "model/season_logs_private.h"

#include <stdlib.h>

#include "model/functions.h"
#include "model/query.h"

typedef struct
{
  int since;
  const char *strain;
} Batch;

/* What is the same for all logs of a batch or a felling. */
typedef struct
{
  GHashTable *batches;  /* id -> Batch */
  GHashTable *fellings; /* id -> wood, in ->texts */
} Kinds;

/* Helpers */

static gpointer
dup_id (gint64 id)
{
  return g_memdup2 (&id, sizeof id);
}

static gboolean
finish (BedQuery *q, GError **error)
{
  gboolean well = bed_query_finish (q, error);

  bed_query_free (q);
  return well;
}

static gboolean
read_batches (BedSeasonLogs *self, Kinds *kinds, GError **error)
{
  BedQuery *q = bed_query_new (self->farm,
                               "SELECT b.id, bed_season (b.inoculated_on),"
                               " coalesce (s.strain_name, '-')"
                               " FROM batch b LEFT JOIN batch_spawn s ON s.batch = b.id");

  while (bed_query_next (q))
    {
      Batch batch = { .since = bed_query_int (q, 1),
                      .strain = g_string_chunk_insert_const (self->texts, bed_query_text (q, 2)) };

      g_hash_table_insert (kinds->batches, dup_id (bed_query_int (q, 0)),
                           g_memdup2 (&batch, sizeof batch));
    }
  return finish (q, error);
}

static gboolean
read_fellings (BedSeasonLogs *self, Kinds *kinds, GError **error)
{
  BedQuery *q = bed_query_new (
      self->farm, "SELECT f.id, w.common_name FROM felling f JOIN wood w ON w.id = f.wood");

  while (bed_query_next (q))
    g_hash_table_insert (kinds->fellings, dup_id (bed_query_int (q, 0)),
                         g_string_chunk_insert_const (self->texts, bed_query_text (q, 1)));
  return finish (q, error);
}

static BedSize
find_size (gint64 both_ends)
{
  return both_ends < 200000 ? BED_SIZE_SMALL : both_ends < 300000 ? BED_SIZE_MIDDLE : BED_SIZE_LARGE;
}

static gboolean
read_logs (BedSeasonLogs *self, Kinds *kinds, GError **error)
{
  BedQuery *q = bed_query_new (self->farm,
                               "SELECT id, coalesce (batch, 0), felling, retired_on,"
                               " retired_why IN ('sold', 'lost'),"
                               " small_diameter + coalesce (large_diameter, small_diameter)"
                               " FROM log ORDER BY id");

  while (bed_query_next (q))
    {
      gint64 batch_id = bed_query_int (q, 1), felling = bed_query_int (q, 2);
      const char *retired = bed_query_text (q, 3);
      const Batch *batch = g_hash_table_lookup (kinds->batches, &batch_id);
      BedSeasonLog log = { .id = bed_query_int (q, 0),
                           .batch = batch_id,
                           .felling = felling,
                           .retired = bed_day_read (retired),
                           .since = batch ? batch->since : BED_SEASON_NEVER,
                           .until = retired ? bed_season_of (self->farm, retired)
                                            : BED_SEASON_NEVER,
                           .spared = bed_query_int (q, 4),
                           .wood = g_hash_table_lookup (kinds->fellings, &felling),
                           .strain = batch ? batch->strain : "-",
                           .size = find_size (bed_query_int (q, 5)) };

      g_array_append_val (self->logs, log);
    }
  return finish (q, error);
}

/* Public */

BedDay
bed_day_read (const char *text)
{
  if (!text)
    return BED_DAY_NEVER;
  return atoi (text) * 10000 + atoi (text + 5) * 100 + atoi (text + 8);
}

BedSeasonLogs *
bed_season_logs_new (BedFarm *farm, int season, GError **error)
{
  BedSeasonLogs *self = g_new0 (BedSeasonLogs, 1);
  Kinds kinds = { .batches = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free),
                  .fellings = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL) };
  gboolean well;

  self->farm = farm;
  self->season = season;
  self->next = bed_season_first (farm, season + 1);
  self->logs = g_array_new (FALSE, FALSE, sizeof (BedSeasonLog));
  self->texts = g_string_chunk_new (1024);
  well = read_batches (self, &kinds, error) && read_fellings (self, &kinds, error)
         && read_logs (self, &kinds, error);
  g_hash_table_unref (kinds.batches);
  g_hash_table_unref (kinds.fellings);
  if (!well)
    g_clear_pointer (&self, bed_season_logs_free);
  return self;
}

void
bed_season_logs_free (BedSeasonLogs *self)
{
  g_free (self->next);
  g_array_unref (self->logs);
  g_string_chunk_free (self->texts);
  g_free (self);
}

gboolean
bed_season_log_stood (const BedSeasonLogs *self, const BedSeasonLog *log)
{
  return log->since <= self->season && log->until >= self->season;
}

gboolean
bed_season_log_lives (const BedSeasonLogs *self, const BedSeasonLog *log)
{
  return log->since <= self->season && log->until > self->season;
}
