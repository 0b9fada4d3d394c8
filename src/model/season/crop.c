#include "model/season/crop.h"

#include <math.h>
#include <string.h>

#include "model/farm/functions.h"
#include "model/farm/query.h"
#include "model/farm/value.h"
#include "science/forecast.h"
#include "science/survival.h"
#include "science/yield.h"

#define LEVEL 0.8
#define MOST_AGE 12
#define AGES_SHOWN 6
#define DAYS_PER_YEAR 365.25

/* A batch: its group, and what it gave in each season after its own. */
typedef struct
{
  gint64 id;
  guint group;
  int season;                 /* of inoculation */
  double kg[MOST_AGE + 1];    /* by age in seasons */
  double stood[MOST_AGE + 1]; /* logs not retired before that season */
  gint64 logs;
} Batch;

/* Logs of one batch that ended, or still live, alike. */
typedef struct
{
  guint batch;       /* index */
  char *retired_on;  /* NULL: alive */
  gboolean is_spent; /* not sold or lost */
  char *inoculated_on;
  guint logs;
} Lives;

typedef struct
{
  BedFarm *farm;
  GArray *batches;   /* Batch */
  GArray *lives;     /* Lives */
  GPtrArray *names;  /* of groups */
  GHashTable *index; /* batch id to place + 1 */
  int season;        /* the running one */
} Book;

static void
clear_lives (Lives *lives)
{
  g_free (lives->retired_on);
  g_free (lives->inoculated_on);
}

static void
clear_book (Book *book)
{
  g_array_unref (book->batches);
  g_array_unref (book->lives);
  g_ptr_array_unref (book->names);
  g_hash_table_unref (book->index);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Book, clear_book)

/* --- reading ---------------------------------------------------------------------------- */

static guint
find_group (Book *book, const char *name)
{
  guint at;

  if (!g_ptr_array_find_with_equal_func (book->names, name, g_str_equal, &at))
    {
      at = book->names->len;
      g_ptr_array_add (book->names, g_strdup (name));
    }
  return at;
}

static gboolean
read_batches (Book *book, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (
      book->farm, "SELECT b.id, coalesce (s.strain_name || ' · ', '') || (SELECT CASE WHEN"
                  " count (DISTINCT f.wood) = 1 THEN min (w.common_name) ELSE '+' END FROM log l"
                  " JOIN felling f ON f.id = l.felling JOIN wood w ON w.id = f.wood"
                  " WHERE l.batch = b.id), bed_season (b.inoculated_on),"
                  " (SELECT count (*) FROM log l WHERE l.batch = b.id) AS logs"
                  " FROM batch b JOIN batch_spawn s ON s.batch = b.id WHERE logs > 0"
                  " ORDER BY b.inoculated_on, b.id");

  while (bed_query_next (q))
    {
      Batch batch = { .id = bed_query_int (q, 0),
                      .group = find_group (book, bed_query_text (q, 1)),
                      .season = (int) bed_query_int (q, 2),
                      .logs = bed_query_int (q, 3) };
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
  g_autoptr (BedQuery) q = bed_query_new (
      book->farm, "SELECT batch, bed_season (picked_on), sum (mass) FROM batch_day GROUP BY 1, 2");

  while (bed_query_next (q))
    {
      Batch *batch = find_batch (book, bed_query_int (q, 0));
      int age = batch ? (int) bed_query_int (q, 1) - batch->season : -1;
      if (age >= 0 && age <= MOST_AGE)
        batch->kg[age] += bed_query_real (q, 2) / 1e6;
    }
  return bed_query_finish (q, error);
}

static gboolean
read_lives (Book *book, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (
      book->farm, "SELECT l.batch, l.retired_on, NOT bed_out_of_sight (l.retired_why),"
                  " b.inoculated_on, count (*) FROM log l JOIN batch b ON b.id = l.batch"
                  " GROUP BY 1, 2, 3");

  while (bed_query_next (q))
    {
      Batch *batch = find_batch (book, bed_query_int (q, 0));
      Lives lives = { .batch = (guint) (batch - (Batch *) (gpointer) book->batches->data),
                      .retired_on = g_strdup (bed_query_text (q, 1)),
                      .is_spent = bed_query_int (q, 2) != 0,
                      .inoculated_on = g_strdup (bed_query_text (q, 3)),
                      .logs = (guint) bed_query_int (q, 4) };
      g_array_append_val (book->lives, lives);
    }
  return bed_query_finish (q, error);
}

/* --- what was known on one day ------------------------------------------------------------ */

/* As bed_alive () in SQL. */
static gboolean
is_alive (const Lives *lives, const char *day)
{
  return !lives->retired_on || strcmp (lives->retired_on, day) > 0;
}

/* As bed_stood () in SQL. */
static gboolean
has_stood (const Lives *lives, const char *first)
{
  return !lives->retired_on || strcmp (lives->retired_on, first) >= 0;
}

/* The lives as they were on @day: what came later had not happened. */
static GArray *
dup_lives (const Book *book, const char *day)
{
  GArray *all = g_array_new (FALSE, FALSE, sizeof (BedLogLife));

  for (guint i = 0; i < book->lives->len; i++)
    {
      const Lives *lives = &g_array_index (book->lives, Lives, i);
      gboolean ended = !is_alive (lives, day);
      int days = bed_date_days (lives->inoculated_on, ended ? lives->retired_on : day);
      BedLogLife life = { days / DAYS_PER_YEAR, ended && lives->is_spent };

      for (guint n = 0; n < lives->logs && days >= 0; n++)
        g_array_append_val (all, life);
    }
  return all;
}

static GArray *
dup_curve (const Book *book, const char *day)
{
  g_autoptr (GArray) lives = dup_lives (book, day);

  return bed_survival_curve ((const BedLogLife *) (gpointer) lives->data, lives->len, LEVEL, NULL);
}

static void
count_stood (Book *book)
{
  for (guint i = 0; i < book->lives->len; i++)
    {
      const Lives *lives = &g_array_index (book->lives, Lives, i);
      Batch *batch = &g_array_index (book->batches, Batch, lives->batch);

      for (int age = 0; age <= MOST_AGE; age++)
        {
          g_autofree char *day = bed_season_first (book->farm, batch->season + age);
          if (has_stood (lives, day))
            batch->stood[age] += lives->logs;
        }
    }
}

/* Mean crop by age in seasons of a log that stood in the season, of the seasons before
 * @season; NAN where none is known. */
static void
find_means (const Book *book, int season, double *means)
{
  double kg[MOST_AGE + 1] = { 0 }, logs[MOST_AGE + 1] = { 0 };

  for (guint i = 0; i < book->batches->len; i++)
    {
      const Batch *batch = &g_array_index (book->batches, Batch, i);
      for (int age = 1; age <= MOST_AGE && batch->season + age < season; age++)
        {
          kg[age] += batch->kg[age];
          logs[age] += batch->stood[age];
        }
    }
  for (int age = 0; age <= MOST_AGE; age++)
    means[age] = logs[age] > 0 ? kg[age] / logs[age] : NAN;
}

/* An age not on record yet is taken to give what a log gives on the mean of the ages that
 * are, as the workbook takes it; 0 while none is. */
static void
fill_unknown (double *means)
{
  double sum = 0;
  int known = 0;

  for (int age = 1; age <= MOST_AGE; age++)
    if (!isnan (means[age]))
      {
        sum += means[age];
        known++;
      }
  for (int age = 0; age <= MOST_AGE; age++)
    if (isnan (means[age]))
      means[age] = known ? sum / known : 0;
}

/* What @season should bring by @means, kg by age, and what was known on @day, which is not after
 * its beginning: logs alive then, as many of them as should live to see it. Ages without a
 * mean are left out. */
static double
expect (const Book *book, int season, const char *day, const double *means)
{
  g_autofree char *begin = bed_season_first (book->farm, season);
  g_autoptr (GArray) curve = strcmp (day, begin) < 0 ? dup_curve (book, day) : NULL;
  g_autoptr (GArray) logs = g_array_new (FALSE, FALSE, sizeof (BedForecastLogs));
  double kg = 0;

  for (guint i = 0; i < book->lives->len; i++)
    {
      const Lives *group = &g_array_index (book->lives, Lives, i);
      int age = season - g_array_index (book->batches, Batch, group->batch).season;
      double now = bed_date_days (group->inoculated_on, day) / DAYS_PER_YEAR;
      double then = bed_date_days (group->inoculated_on, begin) / DAYS_PER_YEAR;
      if (age < 1 || age > MOST_AGE || isnan (means[age]) || now < 0 || !is_alive (group, day))
        continue;
      /* Older than any log before it: nothing is known against its living on. */
      double share
          = curve && bed_survival_at (curve, now) > 0 ? bed_survival_ratio (curve, now, then) : 1;
      BedForecastLogs row = { group->logs, (guint) age, share };
      g_array_append_val (logs, row);
    }
  double known[MOST_AGE + 1];
  for (int age = 0; age <= MOST_AGE; age++)
    known[age] = isnan (means[age]) ? 0 : means[age];
  if (!bed_forecast_season ((const BedForecastLogs *) (gpointer) logs->data, logs->len, known,
                            MOST_AGE + 1, &kg, NULL))
    return 0;
  return kg;
}

/* What @season brought, of the ages of which something had been known. */
static double
find_actual (const Book *book, int season, const double *means)
{
  double kg = 0;

  for (guint i = 0; i < book->batches->len; i++)
    {
      const Batch *batch = &g_array_index (book->batches, Batch, i);
      int age = season - batch->season;
      if (age >= 1 && age <= MOST_AGE && !isnan (means[age]))
        kg += batch->kg[age];
    }
  return kg;
}

/* --- answers ---------------------------------------------------------------------------- */

static gboolean
forecast (const Book *book, BedCrop *crop, GError **error)
{
  const char *today = bed_farm_get_today (book->farm);
  g_autofree char *begin = bed_season_first (book->farm, book->season);
  g_autoptr (GArray) past = g_array_new (FALSE, FALSE, sizeof (BedForecastPast));
  double means[MOST_AGE + 1];

  for (int season = book->season - MOST_AGE; season < book->season; season++)
    {
      g_autofree char *day = bed_season_first (book->farm, season);
      find_means (book, season, means);
      BedForecastPast one
          = { expect (book, season, day, means), find_actual (book, season, means) };
      if (one.expected_kg > 0)
        g_array_append_val (past, one);
    }
  gboolean early = bed_date_days (begin, today) < 183;
  crop->next_season = early ? book->season : book->season + 1;
  find_means (book, book->season, means);
  fill_unknown (means);
  double kg = expect (book, crop->next_season, early ? begin : today, means);
  return bed_forecast ((const BedForecastPast *) (gpointer) past->data, past->len, &kg, 1, LEVEL,
                       &crop->next, error);
}

static void
free_group (BedCropGroup *group)
{
  g_free (group->name);
  g_free (group);
}

/* A season's crop with the age taken out: as if the log had been of the mean age. */
static GArray *
dup_yields (const Book *book, BedCropGroup **groups)
{
  GArray *records = g_array_new (FALSE, FALSE, sizeof (BedYieldRecord));
  double means[MOST_AGE + 1], sum = 0, logs = 0;

  find_means (book, book->season, means);
  for (guint i = 0; i < book->batches->len; i++)
    {
      const Batch *batch = &g_array_index (book->batches, Batch, i);
      for (int age = 1; age <= MOST_AGE && batch->season + age < book->season; age++)
        if (batch->stood[age] > 0 && !isnan (means[age]) && means[age] > 0)
          {
            BedYieldRecord record
                = { batch->group, batch->stood[age], batch->kg[age] / means[age] };
            sum += batch->kg[age];
            logs += batch->stood[age];
            groups[batch->group]->batch_seasons++;
            g_array_append_val (records, record);
          }
    }
  for (guint i = 0; i < records->len; i++)
    g_array_index (records, BedYieldRecord, i).mass_kg *= sum / logs;
  return records;
}

static int
compare_groups (gconstpointer a, gconstpointer b)
{
  double x = (*(BedCropGroup *const *) a)->kg.estimate;
  double y = (*(BedCropGroup *const *) b)->kg.estimate;

  return (x < y) - (x > y);
}

static gboolean
compare (const Book *book, BedCrop *crop, GError **error)
{
  BedCropGroup **groups;

  for (guint i = 0; i < book->names->len; i++)
    {
      BedCropGroup *group = g_new0 (BedCropGroup, 1);
      group->name = g_strdup (book->names->pdata[i]);
      g_ptr_array_add (crop->groups, group);
    }
  groups = (BedCropGroup **) crop->groups->pdata;
  for (guint i = 0; i < book->batches->len; i++)
    groups[g_array_index (book->batches, Batch, i).group]->logs
        += g_array_index (book->batches, Batch, i).logs;
  g_autoptr (GArray) records = dup_yields (book, groups);
  g_autoptr (BedYields) yields = bed_yields_new ((const BedYieldRecord *) (gpointer) records->data,
                                                 records->len, MAX (book->names->len, 1), LEVEL,
                                                 error);
  if (!yields)
    return FALSE;
  for (guint i = 0; i < book->names->len; i++)
    groups[i]->kg = yields->groups[i].shrunk;
  /* A group that has borne in no season yet has nothing to compare. */
  for (guint i = crop->groups->len; i > 0; i--)
    if (((BedCropGroup *) crop->groups->pdata[i - 1])->batch_seasons == 0)
      g_ptr_array_remove_index (crop->groups, i - 1);
  g_ptr_array_sort (crop->groups, compare_groups);
  return TRUE;
}

static gboolean
survive (const Book *book, BedCrop *crop, GError **error)
{
  g_autoptr (GArray) lives = dup_lives (book, bed_farm_get_today (book->farm));
  g_autoptr (GArray) curve
      = bed_survival_curve ((const BedLogLife *) (gpointer) lives->data, lives->len, LEVEL, error);
  double oldest = 0;

  if (!curve)
    return FALSE;
  crop->logs = lives->len;
  for (guint i = 0; i < lives->len; i++)
    oldest = MAX (oldest, g_array_index (lives, BedLogLife, i).age);
  for (guint i = 0; i < curve->len && isnan (crop->median_years); i++)
    if (g_array_index (curve, BedSurvivalStep, i).survival.estimate <= 0.5)
      crop->median_years = g_array_index (curve, BedSurvivalStep, i).age;
  for (guint age = 1; age <= AGES_SHOWN && age <= oldest; age++)
    {
      BedCropAge row = { age, { BED_KNOWN_POINT, 1, 1, 1 } };
      for (guint i = 0; i < curve->len; i++)
        if (g_array_index (curve, BedSurvivalStep, i).age <= age)
          row.alive = g_array_index (curve, BedSurvivalStep, i).survival;
      g_array_append_val (crop->ages, row);
    }
  return TRUE;
}

static gboolean
read_book (Book *book, GError **error)
{
  if (!read_batches (book, error) || !read_picks (book, error) || !read_lives (book, error))
    return FALSE;
  count_stood (book);
  return TRUE;
}

/* --- public ----------------------------------------------------------------------------- */

BedCrop *
bed_crop_new (BedFarm *farm, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), NULL);
  g_autoptr (BedCrop) self = g_new0 (BedCrop, 1);
  g_auto (Book) book = {
    .farm = farm,
    .batches = g_array_new (FALSE, TRUE, sizeof (Batch)),
    .lives = g_array_new (FALSE, FALSE, sizeof (Lives)),
    .names = g_ptr_array_new_with_free_func (g_free),
    .index = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL),
    .season = bed_season_of (farm, bed_farm_get_today (farm)),
  };

  g_array_set_clear_func (book.lives, (GDestroyNotify) clear_lives);
  self->groups = g_ptr_array_new_with_free_func ((GDestroyNotify) free_group);
  self->ages = g_array_new (FALSE, FALSE, sizeof (BedCropAge));
  self->median_years = NAN;
  if (!read_book (&book, error) || !compare (&book, self, error) || !survive (&book, self, error)
      || !forecast (&book, self, error))
    return NULL;
  return g_steal_pointer (&self);
}

void
bed_crop_free (BedCrop *self)
{
  g_ptr_array_unref (self->groups);
  g_array_unref (self->ages);
  g_free (self);
}
