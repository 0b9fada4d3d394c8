#include "model/season/crop_book.h"

#include "model/farm/functions.h"
#include "model/farm/query.h"
#include "model/farm/value.h"

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

/* MATERIALIZED, or what is asked of a day would be asked of each of its picks. */
static const Questions questions[] = {
  [BED_CROP_OF_VIEWS]
  = { "SELECT batch, bed_season (picked_on), sum (mass) FROM batch_day GROUP BY 1, 2",
      "WITH crop_day AS MATERIALIZED (SELECT picked_on AS day, sum (mass) AS mass FROM pick"
      " WHERE since IS NULL OR bed_pick_week (since, picked_on) IS NOT NULL"
      " GROUP BY 1)" EARLIER_DAYS },
  [BED_CROP_OF_RECKONED] = { "SELECT batch, season, mass FROM crop_batch", EARLIER_DAYS },
};

/* --- reading ---------------------------------------------------------------------------- */

static guint
find_kind (BedCropBook *book, const char *strain, const char *wood)
{
  for (guint i = 0; i < book->kinds->len; i++)
    {
      const BedCropKind *kind = book->kinds->pdata[i];
      if (g_str_equal (kind->strain, strain) && g_str_equal (kind->wood, wood))
        return i;
    }
  BedCropKind *kind = g_new0 (BedCropKind, 1);
  kind->strain = g_strdup (strain);
  kind->wood = g_strdup (wood);
  g_ptr_array_add (book->kinds, kind);
  return book->kinds->len - 1;
}

static gboolean
read_batches (BedCropBook *book, BedFarm *farm, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (
      farm, "SELECT b.id, coalesce (s.strain_name, '-'), (SELECT CASE WHEN"
            " count (DISTINCT f.wood) = 1 THEN min (w.common_name) ELSE '+' END FROM log l"
            " JOIN felling f ON f.id = l.felling JOIN wood w ON w.id = f.wood"
            " WHERE l.batch = b.id), bed_season (b.inoculated_on) AS since,"
            " (SELECT count (*) FROM log l WHERE l.batch = b.id) AS logs"
            " FROM batch b JOIN batch_spawn s ON s.batch = b.id"
            " WHERE logs > 0 AND since <= ?1 ORDER BY b.inoculated_on, b.id");

  bed_query_bind_int (q, 1, book->season);
  while (bed_query_next (q))
    {
      BedCropBatchLife batch
          = { .id = bed_query_int (q, 0),
              .kind = find_kind (book, bed_query_text (q, 1), bed_query_text (q, 2)),
              .season = (int) bed_query_int (q, 3),
              .logs = bed_query_int (q, 4) };
      g_array_append_val (book->batches, batch);
      g_hash_table_insert (book->index, g_memdup2 (&batch.id, sizeof batch.id),
                           GUINT_TO_POINTER (book->batches->len));
    }
  return bed_query_finish (q, error);
}

static BedCropBatchLife *
find_batch (const BedCropBook *book, gint64 id)
{
  guint at = GPOINTER_TO_UINT (g_hash_table_lookup (book->index, &id));

  return at ? &g_array_index (book->batches, BedCropBatchLife, at - 1) : NULL;
}

/* What a batch gave in a season. */
typedef struct
{
  gint64 batch;
  int season;
  double kg;
} Gave;

static GArray *
ask_picks (BedFarm *farm, const char *of_batches, GError **error)
{
  g_autoptr (GArray) given = g_array_new (FALSE, FALSE, sizeof (Gave));
  g_autoptr (BedQuery) q = bed_query_new (farm, of_batches);

  while (bed_query_next (q))
    {
      Gave one = { bed_query_int (q, 0), (int) bed_query_int (q, 1), bed_query_real (q, 2) / 1e6 };
      g_array_append_val (given, one);
    }
  return bed_query_finish (q, error) ? g_steal_pointer (&given) : NULL;
}

/* Of the whole farm it takes most of a book's time: the books of two seasons ask it once. */
static GArray *
read_given (BedFarm *farm, const Questions *asked, GError **error)
{
  static const char key[] = "crop-given";
  gboolean of_farm = asked == &questions[BED_CROP_OF_VIEWS];
  GArray *given = of_farm ? bed_farm_get_kept (farm, key) : NULL;

  if (given)
    return g_array_ref (given);
  given = ask_picks (farm, asked->of_batches, error);
  if (given && of_farm)
    bed_farm_keep (farm, key, g_array_ref (given), (GDestroyNotify) g_array_unref);
  return given;
}

static gboolean
read_picks (BedCropBook *book, BedFarm *farm, const Questions *asked, GError **error)
{
  g_autoptr (GArray) given = read_given (farm, asked, error);

  for (guint i = 0; given && i < given->len; i++)
    {
      const Gave *one = &g_array_index (given, Gave, i);
      BedCropBatchLife *batch = find_batch (book, one->batch);
      int age = batch ? one->season - batch->season : -1;
      if (age >= 0 && age < BED_CROP_AGES && one->season <= book->season)
        batch->kg[age] += one->kg;
    }
  return given != NULL;
}

static gboolean
read_lives (BedCropBook *book, BedFarm *farm, GError **error)
{
  g_autoptr (BedQuery) q
      = bed_query_new (farm, "SELECT l.batch, coalesce (bed_season (l.retired_on), 9999),"
                             " NOT bed_out_of_sight (l.retired_why), count (*) FROM log l"
                             " WHERE l.batch IS NOT NULL GROUP BY 1, 2, 3");

  while (bed_query_next (q))
    {
      BedCropBatchLife *batch = find_batch (book, bed_query_int (q, 0));
      if (!batch)
        continue;
      BedCropLives lives
          = { .batch = (guint) (batch - (BedCropBatchLife *) (gpointer) book->batches->data),
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
read_share (BedCropBook *book, BedFarm *farm, const char *of_days, GError **error)
{
  g_autofree char *first = bed_season_first (farm, book->season);
  g_autofree char *next = bed_season_first (farm, book->season + 1);
  const char *today = bed_farm_get_today (farm);
  int gone = bed_date_days (first, today), days = bed_date_days (first, next);
  double come = 0, all = 0;

  book->share = 1;
  book->runs = gone < days;
  if (!book->runs)
    return TRUE;
  g_autoptr (BedQuery) q = bed_query_new (farm, of_days);

  bed_query_bind_int (q, 1, book->season);
  while (bed_query_next (q))
    {
      g_autofree char *begin = bed_season_first (farm, (int) bed_query_int (q, 1));

      all += bed_query_real (q, 2);
      if (bed_date_days (begin, bed_query_text (q, 0)) <= gone)
        come += bed_query_real (q, 2);
    }
  book->share = all > 0 ? come / all : MAX (COME_LEAST, (double) gone / days);
  return bed_query_finish (q, error);
}

/* --- the model ------------------------------------------------------------------------ */

static BedCropModel *
make_model (const BedCropBook *book, GError **error)
{
  g_autoptr (GArray) cells = g_array_new (FALSE, FALSE, sizeof (BedCropCell));

  for (guint i = 0; i < book->batches->len; i++)
    {
      const BedCropBatchLife *batch = &g_array_index (book->batches, BedCropBatchLife, i);
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

/* --- public ----------------------------------------------------------------------------- */

static void
free_kind (BedCropKind *kind)
{
  g_free (kind->wood);
  g_free (kind->strain);
  g_free (kind);
}

static void
clear_book (BedCropBook *book)
{
  g_ptr_array_unref (book->kinds);
  g_array_unref (book->batches);
  g_array_unref (book->lives);
  g_hash_table_unref (book->index);
  g_clear_pointer (&book->model, bed_crop_model_free);
}

void
bed_crop_book_unref (BedCropBook *book)
{
  g_rc_box_release_full (book, (GDestroyNotify) clear_book);
}

static BedCropBook *
read_book (BedFarm *farm, int season, const Questions *asked, GError **error)
{
  g_autoptr (BedCropBook) book = g_rc_box_new0 (BedCropBook);

  book->kinds = g_ptr_array_new_with_free_func ((GDestroyNotify) free_kind);
  book->batches = g_array_new (FALSE, TRUE, sizeof (BedCropBatchLife));
  book->lives = g_array_new (FALSE, FALSE, sizeof (BedCropLives));
  book->index = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  book->season = season;
  if (!read_batches (book, farm, error) || !read_picks (book, farm, asked, error)
      || !read_lives (book, farm, error) || !read_share (book, farm, asked->of_days, error))
    return NULL;
  book->model = make_model (book, error);
  return book->model ? g_steal_pointer (&book) : NULL;
}

BedCropBook *
bed_crop_book_new (BedFarm *farm, int season, BedCropSource source, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), NULL);
  g_autofree char *key = g_strdup_printf ("crop-book-%d", season);
  BedCropBook *book = bed_farm_get_kept (farm, key);

  if (book)
    return g_rc_box_acquire (book);
  book = read_book (farm, season, &questions[source], error);
  if (book)
    bed_farm_keep (farm, key, g_rc_box_acquire (book), (GDestroyNotify) bed_crop_book_unref);
  return book;
}

double
bed_crop_book_get_due (const BedCropBook *book, gint64 id, int season)
{
  g_return_val_if_fail (book != NULL, 0);
  guint at = GPOINTER_TO_UINT (g_hash_table_lookup (book->index, &id));
  const BedCropBatchLife *batch = at ? &g_array_index (book->batches, BedCropBatchLife, at - 1)
                                     : NULL;

  return batch && season >= batch->season
             ? bed_crop_model_due (book->model, at - 1, batch->kind, season - batch->season)
             : 0;
}
