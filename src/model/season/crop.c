#include "model/season/crop.h"

#include <math.h>
#include <string.h>

#include "model/farm/functions.h"
#include "model/farm/query.h"
#include "model/farm/value.h"
#include "science/crop_compare.h"
#include "science/survival.h"

#define LEVEL BED_CROP_LEVEL
#define AGES_SHOWN 6
/* Of the season in which nothing tells when crops usually come, as much as is gone, but at least
 * this: our guess, no source. */
#define COME_LEAST 0.5

typedef struct
{
  const char *of_batches; /* what each batch gave in each season */
  const char *of_days;    /* what each day gave in the seasons before ?1 */
} Questions;

#define EARLIER_DAYS                                                                               \
  " SELECT day, bed_season (day) AS season, mass FROM crop_day WHERE season < ?1"                  \
  " AND bed_week (day) IS NOT NULL"

/* A batch: its kind, and what it gave by age in seasons. */
typedef struct
{
  gint64 id;
  guint kind;
  int season; /* of inoculation */
  double kg[BED_CROP_AGES];
  double stood[BED_CROP_AGES]; /* logs not retired before that season */
  gint64 logs;
} Batch;

/* Logs of one batch that were retired in one season, or still live. */
typedef struct
{
  guint batch;       /* index */
  int until;         /* season, 9999: alive */
  gboolean is_spent; /* not sold or lost */
  guint logs;
} Lives;

typedef struct
{
  BedFarm *farm;
  const Questions *questions;
  GArray *batches;   /* Batch */
  GArray *lives;     /* Lives */
  GHashTable *index; /* batch id to place + 1 */
  int season;        /* to the end of which, or to today, all is known */
  gboolean runs;     /* it is not over */
  double share;      /* of its mass that has usually come by today */
} Book;

static void
clear_book (Book *book)
{
  g_array_unref (book->batches);
  g_array_unref (book->lives);
  g_hash_table_unref (book->index);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Book, clear_book)

/* --- reading ---------------------------------------------------------------------------- */

static guint
find_kind (BedCrop *crop, const char *strain, const char *wood)
{
  for (guint i = 0; i < crop->groups->len; i++)
    {
      const BedCropGroup *group = crop->groups->pdata[i];
      if (g_str_equal (group->strain, strain) && g_str_equal (group->wood, wood))
        return i;
    }
  BedCropGroup *group = g_new0 (BedCropGroup, 1);
  group->strain = g_strdup (strain);
  group->wood = g_strdup (wood);
  group->name = g_str_equal (strain, "-") ? g_strdup (wood)
                                          : g_strdup_printf ("%s · %s", strain, wood);
  g_ptr_array_add (crop->groups, group);
  return crop->groups->len - 1;
}

static gboolean
read_batches (Book *book, BedCrop *crop, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (
      book->farm, "SELECT b.id, coalesce (s.strain_name, '-'), (SELECT CASE WHEN"
                  " count (DISTINCT f.wood) = 1 THEN min (w.common_name) ELSE '+' END FROM log l"
                  " JOIN felling f ON f.id = l.felling JOIN wood w ON w.id = f.wood"
                  " WHERE l.batch = b.id), bed_season (b.inoculated_on) AS since,"
                  " (SELECT count (*) FROM log l WHERE l.batch = b.id) AS logs"
                  " FROM batch b JOIN batch_spawn s ON s.batch = b.id"
                  " WHERE logs > 0 AND since <= ?1 ORDER BY b.inoculated_on, b.id");

  bed_query_bind_int (q, 1, book->season);
  while (bed_query_next (q))
    {
      Batch batch = { .id = bed_query_int (q, 0),
                      .kind = find_kind (crop, bed_query_text (q, 1), bed_query_text (q, 2)),
                      .season = (int) bed_query_int (q, 3),
                      .logs = bed_query_int (q, 4) };
      g_array_append_val (book->batches, batch);
      g_hash_table_insert (book->index, g_memdup2 (&batch.id, sizeof batch.id),
                           GUINT_TO_POINTER (book->batches->len));
    }
  return bed_query_finish (q, error);
}

static Batch *
find_batch (Book *book, gint64 id)
{
  guint at = GPOINTER_TO_UINT (g_hash_table_lookup (book->index, &id));

  return at ? &g_array_index (book->batches, Batch, at - 1) : NULL;
}

static gboolean
read_picks (Book *book, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (book->farm, book->questions->of_batches);

  while (bed_query_next (q))
    {
      Batch *batch = find_batch (book, bed_query_int (q, 0));
      int season = (int) bed_query_int (q, 1), age = batch ? season - batch->season : -1;
      if (age >= 0 && age < BED_CROP_AGES && season <= book->season)
        batch->kg[age] += bed_query_real (q, 2) / 1e6;
    }
  return bed_query_finish (q, error);
}

static gboolean
read_lives (Book *book, GError **error)
{
  g_autoptr (BedQuery) q
      = bed_query_new (book->farm, "SELECT l.batch, coalesce (bed_season (l.retired_on), 9999),"
                                   " NOT bed_out_of_sight (l.retired_why), count (*) FROM log l"
                                   " WHERE l.batch IS NOT NULL GROUP BY 1, 2, 3");

  while (bed_query_next (q))
    {
      Batch *batch = find_batch (book, bed_query_int (q, 0));
      if (!batch)
        continue;
      Lives lives = { .batch = (guint) (batch - (Batch *) (gpointer) book->batches->data),
                      .until = (int) bed_query_int (q, 1),
                      .is_spent = bed_query_int (q, 2) != 0,
                      .logs = (guint) bed_query_int (q, 3) };
      g_array_append_val (book->lives, lives);
      for (int age = 0; age < BED_CROP_AGES && batch->season + age <= lives.until; age++)
        batch->stood[age] += lives.logs;
    }
  return bed_query_finish (q, error);
}

/* Which part of a season's mass has usually come by today, of the seasons that are over. */
static gboolean
read_share (Book *book, GError **error)
{
  g_autofree char *first = bed_season_first (book->farm, book->season);
  g_autofree char *next = bed_season_first (book->farm, book->season + 1);
  const char *today = bed_farm_get_today (book->farm);
  int gone = bed_date_days (first, today), days = bed_date_days (first, next);
  double come = 0, all = 0;

  book->share = 1;
  book->runs = gone < days;
  if (!book->runs)
    return TRUE;
  g_autoptr (BedQuery) q = bed_query_new (book->farm, book->questions->of_days);

  bed_query_bind_int (q, 1, book->season);
  while (bed_query_next (q))
    {
      g_autofree char *begin = bed_season_first (book->farm, (int) bed_query_int (q, 1));

      all += bed_query_real (q, 2);
      if (bed_date_days (begin, bed_query_text (q, 0)) <= gone)
        come += bed_query_real (q, 2);
    }
  book->share = all > 0 ? come / all : MAX (COME_LEAST, (double) gone / days);
  return bed_query_finish (q, error);
}

/* --- answers ---------------------------------------------------------------------------- */

static gboolean
survive (const Book *book, BedCrop *crop, GError **error)
{
  g_autoptr (GArray) all = g_array_new (FALSE, FALSE, sizeof (BedLogLife));
  double oldest = 0;

  for (guint i = 0; i < book->lives->len; i++)
    {
      const Lives *lives = &g_array_index (book->lives, Lives, i);
      int since = g_array_index (book->batches, Batch, lives->batch).season;
      BedLogLife life = { MAX (MIN (lives->until, book->season) - since, 0),
                          lives->until <= book->season && lives->is_spent };

      oldest = MAX (oldest, life.age);
      for (guint n = 0; n < lives->logs; n++)
        g_array_append_val (all, life);
    }
  crop->logs = all->len;
  crop->curve
      = bed_survival_curve ((const BedLogLife *) (gpointer) all->data, all->len, LEVEL, error);
  if (!crop->curve)
    return FALSE;
  for (guint i = 0; i < crop->curve->len && isnan (crop->median_seasons); i++)
    if (g_array_index (crop->curve, BedSurvivalStep, i).survival.estimate <= 0.5)
      crop->median_seasons = g_array_index (crop->curve, BedSurvivalStep, i).age;
  for (guint age = 1; age <= AGES_SHOWN && age <= oldest; age++)
    {
      BedCropAge row = { age, { BED_KNOWN_POINT, 1, 1, 1 } };
      for (guint i = 0; i < crop->curve->len; i++)
        if (g_array_index (crop->curve, BedSurvivalStep, i).age <= age)
          row.alive = g_array_index (crop->curve, BedSurvivalStep, i).survival;
      g_array_append_val (crop->ages, row);
    }
  return TRUE;
}

static BedCropModel *
make_model (const Book *book, GError **error)
{
  g_autoptr (GArray) cells = g_array_new (FALSE, FALSE, sizeof (BedCropCell));

  for (guint i = 0; i < book->batches->len; i++)
    {
      const Batch *batch = &g_array_index (book->batches, Batch, i);
      for (int age = 0; age < BED_CROP_AGES && batch->season + age <= book->season; age++)
        {
          int season = batch->season + age;
          BedCropCell cell = { i,
                               batch->kind,
                               (guint) age,
                               season,
                               batch->stood[age],
                               batch->kg[age],
                               season < book->season ? 1 : book->share };
          if (cell.logs > 0)
            g_array_append_val (cells, cell);
        }
    }
  return bed_crop_model_new ((const BedCropCell *) (gpointer) cells->data, cells->len, error);
}

/* A log retired in a season stood in it, so one that is to stand @ahead seasons on must outlive
 * the season before. */
static void
expect (const Book *book, const BedCropModel *model, BedCrop *crop, int ahead)
{
  g_autoptr (GArray) logs = g_array_new (FALSE, FALSE, sizeof (BedCropLogs));

  for (guint i = 0; i < book->lives->len; i++)
    {
      const Lives *lives = &g_array_index (book->lives, Lives, i);
      const Batch *batch = &g_array_index (book->batches, Batch, lives->batch);
      int age = book->season - batch->season;
      if (lives->until <= book->season)
        continue;
      /* Older than any log before it: nothing is known against its living on. */
      double share = bed_survival_at (crop->curve, age) > 0
                         ? bed_survival_ratio (crop->curve, age, age + ahead - 1)
                         : 1;
      BedCropLogs row = { lives->batch, batch->kind, (guint) (age + ahead),
                          lives->logs,  share,       sqrt (share * (1 - share) / crop->logs) };
      g_array_append_val (logs, row);
    }
  crop->coming[ahead - 1]
      = bed_crop_model_expect (model, (const BedCropLogs *) (gpointer) logs->data, logs->len);
}

static gboolean
forecast (const Book *book, BedCrop *crop, GError **error)
{
  g_autoptr (BedCropModel) model = make_model (book, error);

  if (!model)
    return FALSE;
  crop->season = book->season;
  for (int ahead = 1; ahead <= BED_CROP_SEASONS; ahead++)
    expect (book, model, crop, ahead);
  for (guint age = 0; age < BED_CROP_AGES; age++)
    crop->log_kg[age] = bed_crop_model_log (model, age);
  return TRUE;
}

static void
free_group (BedCropGroup *group)
{
  g_free (group->name);
  g_free (group->wood);
  g_free (group->strain);
  g_free (group);
}

static int
compare_groups (gconstpointer a, gconstpointer b)
{
  const BedCropGroup *x = *(BedCropGroup *const *) a, *y = *(BedCropGroup *const *) b;

  if (x->told != y->told)
    return (x->told > y->told) - (x->told < y->told);
  return (x->kg.estimate < y->kg.estimate) - (x->kg.estimate > y->kg.estimate);
}

/* Its seasons of bearing that are over. */
static BedCropBatch
sum_seasons (const Book *book, const BedCrop *crop, const Batch *batch)
{
  int over = book->season - book->runs - batch->season;
  BedCropBatch record = { .kind = batch->kind, .year = batch->season };
  double due = 0, bare_due = 0;

  for (int age = 1; age < BED_CROP_AGES && age <= over; age++)
    {
      double logs = batch->stood[age], own = logs * crop->log_kg[age];

      record.logs += logs;
      record.kg += batch->kg[age];
      record.seasons += logs > 0;
      due += own;
      if (batch->kg[age] > 0)
        continue;
      record.bare += logs > 0;
      bare_due += own;
    }
  record.bare_share = due > 0 ? bare_due / due : 0;
  return record;
}

static gboolean
compare (const Book *book, BedCrop *crop, GError **error)
{
  g_autoptr (GArray) records = g_array_new (FALSE, FALSE, sizeof (BedCropBatch));

  for (guint i = 0; i < book->batches->len; i++)
    {
      const Batch *batch = &g_array_index (book->batches, Batch, i);
      BedCropGroup *group = crop->groups->pdata[batch->kind];
      BedCropBatch record = sum_seasons (book, crop, batch);

      group->logs += batch->logs;
      if (record.logs > 0)
        g_array_append_val (records, record);
    }
  g_autofree BedCropLevel *levels
      = bed_crop_compare ((const BedCropBatch *) (gpointer) records->data, records->len,
                          crop->groups->len, LEVEL, error);
  if (!levels)
    return FALSE;
  /* A kind that has borne in no season yet has nothing to compare. */
  for (guint i = crop->groups->len; i > 0; i--)
    {
      BedCropGroup *group = crop->groups->pdata[i - 1];
      group->told = levels[i - 1].told;
      group->batches = levels[i - 1].batches;
      group->kg = levels[i - 1].kg;
      if (group->told == BED_CROP_NO_RECORD)
        g_ptr_array_remove_index (crop->groups, i - 1);
    }
  g_ptr_array_sort (crop->groups, compare_groups);
  return TRUE;
}

static BedCrop *
read_crop (BedFarm *farm, int season, const Questions *questions, GError **error)
{
  g_autoptr (BedCrop) self = g_new0 (BedCrop, 1);
  g_auto (Book) book = {
    .farm = farm,
    .questions = questions,
    .batches = g_array_new (FALSE, TRUE, sizeof (Batch)),
    .lives = g_array_new (FALSE, FALSE, sizeof (Lives)),
    .index = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL),
    .season = season,
  };

  self->groups = g_ptr_array_new_with_free_func ((GDestroyNotify) free_group);
  self->ages = g_array_new (FALSE, FALSE, sizeof (BedCropAge));
  self->median_seasons = NAN;
  if (!read_batches (&book, self, error) || !read_picks (&book, error) || !read_lives (&book, error)
      || !read_share (&book, error) || !survive (&book, self, error)
      || !forecast (&book, self, error) || !compare (&book, self, error))
    return NULL;
  return g_steal_pointer (&self);
}

/* --- public ----------------------------------------------------------------------------- */

BedCrop *
bed_crop_new (BedFarm *farm, int season, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), NULL);
  /* MATERIALIZED, or what is asked of a day would be asked of each of its picks. */
  static const Questions of_views
      = { "SELECT batch, bed_season (picked_on), sum (mass) FROM batch_day GROUP BY 1, 2",
          "WITH crop_day AS MATERIALIZED (SELECT picked_on AS day, sum (mass) AS mass FROM pick"
          " GROUP BY 1)" EARLIER_DAYS };

  return read_crop (farm, season, &of_views, error);
}

BedCrop *
bed_crop_new_reckoned (BedFarm *farm, int season, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), NULL);
  static const Questions of_tables = { "SELECT batch, season, mass FROM crop_batch", EARLIER_DAYS };

  return read_crop (farm, season, &of_tables, error);
}

void
bed_crop_free (BedCrop *self)
{
  g_ptr_array_unref (self->groups);
  g_array_unref (self->ages);
  g_clear_pointer (&self->curve, g_array_unref);
  g_free (self);
}
