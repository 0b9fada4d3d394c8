#include "model/season/season_logs_private.h"

#include <math.h>
#include <string.h>

#include "model/farm/functions.h"
#include "model/farm/query.h"
#include "model/farm/woods.h"
#include "science/log.h"

#define MG_PER_KG 1e6
#define UM_PER_MM 1000.0

typedef struct
{
  int since;
  const char *strain;
} Batch;

typedef struct
{
  const char *name; /* in ->texts */
  BedWoodNumbers numbers;
} Wood;

/* What is the same for all logs of a batch or a felling. */
typedef struct
{
  GHashTable *batches;  /* id -> Batch */
  GHashTable *woods;    /* id -> Wood */
  GHashTable *fellings; /* id -> Wood, of ->woods */
} Kinds;

/* Helpers */

static gpointer
dup_id (gint64 id)
{
  return g_memdup2 (&id, sizeof id);
}

static gboolean
read_batches (BedSeasonLogs *self, Kinds *kinds, GError **error)
{
  g_autoptr (BedQuery) q
      = bed_query_new (self->farm, "SELECT b.id, bed_season (b.inoculated_on),"
                                   " coalesce (s.strain_name, '-')"
                                   " FROM batch b LEFT JOIN batch_spawn s ON s.batch = b.id");

  while (bed_query_next (q))
    {
      Batch batch = { .since = bed_query_int (q, 1),
                      .strain = g_string_chunk_insert_const (self->texts, bed_query_text (q, 2)) };

      g_hash_table_insert (kinds->batches, dup_id (bed_query_int (q, 0)),
                           g_memdup2 (&batch, sizeof batch));
    }
  return bed_query_finish (q, error);
}

static Wood *
find_wood (BedSeasonLogs *self, Kinds *kinds, gint64 id, GError **error)
{
  Wood *wood = g_hash_table_lookup (kinds->woods, &id);
  g_auto (BedWood) record = { 0 };

  if (wood || !bed_woods_read (self->farm, id, &record, error))
    return wood;
  wood = g_new0 (Wood, 1);
  wood->name = g_string_chunk_insert_const (self->texts, record.name);
  wood->numbers = bed_wood_numbers_complete (&record.numbers);
  g_hash_table_insert (kinds->woods, dup_id (id), wood);
  return wood;
}

static gboolean
read_fellings (BedSeasonLogs *self, Kinds *kinds, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (self->farm, "SELECT id, wood FROM felling");
  gboolean well = TRUE;

  while (well && bed_query_next (q))
    {
      Wood *wood = find_wood (self, kinds, bed_query_int (q, 1), error);

      well = wood != NULL;
      g_hash_table_insert (kinds->fellings, dup_id (bed_query_int (q, 0)), wood);
    }
  return bed_query_finish (q, well ? error : NULL) && well;
}

static BedSize
find_size (BedFarm *farm, gint64 both_ends)
{
  BedSize size = BED_SIZE_SMALL;

  while (size < BED_SIZE_LARGE && both_ends >= 2 * bed_size_get_limit (farm, size))
    size++;
  return size;
}

static double
weigh_wood (const BedWoodNumbers *numbers, const BedLogSize *size)
{
  BedLogMass mass;
  double litres;

  if (!bed_log_volume (size, &litres, NULL) || !bed_log_mass (numbers, litres, &mass, NULL))
    return NAN;
  return mass.wood_dry_kg * MG_PER_KG;
}

static gboolean
read_logs (BedSeasonLogs *self, Kinds *kinds, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (self->farm,
                                          "SELECT id, batch, felling, retired_on,"
                                          " bed_out_of_sight (retired_why), small_diameter,"
                                          " coalesce (large_diameter, small_diameter), length"
                                          " FROM log ORDER BY id");

  while (bed_query_next (q))
    {
      gint64 batch_id = bed_query_int (q, 1), felling = bed_query_int (q, 2);
      BedDay retired = bed_day_read (bed_query_text (q, 3));
      const Batch *batch = g_hash_table_lookup (kinds->batches, &batch_id);
      const Wood *wood = g_hash_table_lookup (kinds->fellings, &felling);

      /* A reference to nothing: no view has such a log either, and a check names it. */
      if (!wood)
        continue;
      gint64 small = bed_query_int (q, 5), large = bed_query_int (q, 6);
      const BedLogSize size = { .small_diameter = small / UM_PER_MM,
                                .large_diameter = large / UM_PER_MM,
                                .length = bed_query_int (q, 7) / UM_PER_MM };
      BedSeasonLog log = { .id = bed_query_int (q, 0),
                           .batch = batch_id,
                           .felling = felling,
                           .retired = retired,
                           .since = batch ? batch->since : BED_SEASON_NEVER,
                           .until = bed_season_logs_find (self, retired),
                           .spared = bed_query_int (q, 4),
                           .wood = wood->name,
                           .strain = batch ? batch->strain : "-",
                           .size = find_size (self->farm, small + large),
                           .dry = weigh_wood (&wood->numbers, &size) };

      g_array_append_val (self->logs, log);
    }
  return bed_query_finish (q, error);
}

/* Public */

gint64
bed_size_get_limit (BedFarm *farm, BedSize size)
{
  gboolean inches = bed_farm_get_notation (farm)->system == BED_SYSTEM_US;

  if (size == BED_SIZE_LARGE)
    return G_MAXINT64;
  return size == BED_SIZE_SMALL ? (inches ? 101600 : 100000) : (inches ? 152400 : 150000);
}

BedDay
bed_day_read (const char *text)
{
  BedDay day = 0;

  if (!text || strlen (text) < strlen ("YYYY-MM-DD"))
    return BED_DAY_NEVER;
  for (guint i = 0; i < strlen ("YYYY-MM-DD"); i++)
    if (text[i] != '-')
      day = day * 10 + text[i] - '0';
  return day;
}

BedSeasonLogs *
bed_season_logs_new (BedFarm *farm, int season, GError **error)
{
  BedSeasonLogs *self = g_new0 (BedSeasonLogs, 1);
  Kinds kinds = { .batches = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free),
                  .woods = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free),
                  .fellings = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL) };
  gboolean well;

  self->farm = farm;
  self->season = season;
  self->next = bed_season_first (farm, season + 1);
  self->start = bed_day_read (self->next) % 10000;
  self->logs = g_array_new (FALSE, FALSE, sizeof (BedSeasonLog));
  self->texts = g_string_chunk_new (1024);
  well = read_batches (self, &kinds, error) && read_fellings (self, &kinds, error)
         && read_logs (self, &kinds, error);
  g_hash_table_unref (kinds.batches);
  g_hash_table_unref (kinds.fellings);
  g_hash_table_unref (kinds.woods);
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

int
bed_season_logs_find (const BedSeasonLogs *self, BedDay day)
{
  return day == BED_DAY_NEVER ? BED_SEASON_NEVER : day / 10000 - (day % 10000 < self->start);
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
