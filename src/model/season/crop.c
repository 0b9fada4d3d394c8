#include "model/season/crop.h"

#include <math.h>

#include "model/season/crop_book.h"
#include "science/survival.h"

#define LEVEL BED_CROP_LEVEL
#define AGES_SHOWN 6

/* --- answers ---------------------------------------------------------------------------- */

static gboolean
survive (const BedCropBook *book, BedCrop *crop, GError **error)
{
  g_autoptr (GArray) all = g_array_new (FALSE, FALSE, sizeof (BedLogLife));
  double oldest = 0;

  for (guint i = 0; i < book->lives->len; i++)
    {
      const BedCropLives *lives = &g_array_index (book->lives, BedCropLives, i);
      int since = g_array_index (book->batches, BedCropBatchLife, lives->batch).season;
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

/* A log retired in a season stood in it, so one that is to stand @ahead seasons on must outlive
 * the season before. */
static void
expect (const BedCropBook *book, BedCrop *crop, int ahead)
{
  g_autoptr (GArray) logs = g_array_new (FALSE, FALSE, sizeof (BedCropLogs));

  for (guint i = 0; i < book->lives->len; i++)
    {
      const BedCropLives *lives = &g_array_index (book->lives, BedCropLives, i);
      const BedCropBatchLife *batch
          = &g_array_index (book->batches, BedCropBatchLife, lives->batch);
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
      = bed_crop_model_expect (book->model, (const BedCropLogs *) (gpointer) logs->data, logs->len);
}

static void
forecast (const BedCropBook *book, BedCrop *crop)
{
  crop->season = book->season;
  for (int ahead = 1; ahead <= BED_CROP_SEASONS; ahead++)
    expect (book, crop, ahead);
  for (guint age = 0; age < BED_CROP_AGES; age++)
    crop->log_kg[age] = bed_crop_model_log (book->model, age);
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
sum_seasons (const BedCropBook *book, const BedCrop *crop, const BedCropBatchLife *batch)
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
compare (const BedCropBook *book, BedCrop *crop, GError **error)
{
  g_autoptr (GArray) records = g_array_new (FALSE, FALSE, sizeof (BedCropBatch));

  for (guint i = 0; i < book->batches->len; i++)
    {
      const BedCropBatchLife *batch = &g_array_index (book->batches, BedCropBatchLife, i);
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

static void
add_groups (const BedCropBook *book, BedCrop *crop)
{
  for (guint i = 0; i < book->kinds->len; i++)
    {
      const BedCropKind *kind = book->kinds->pdata[i];
      BedCropGroup *group = g_new0 (BedCropGroup, 1);

      group->strain = g_strdup (kind->strain);
      group->wood = g_strdup (kind->wood);
      group->name = g_str_equal (kind->strain, "-")
                        ? g_strdup (kind->wood)
                        : g_strdup_printf ("%s · %s", kind->strain, kind->wood);
      g_ptr_array_add (crop->groups, group);
    }
}

static BedCrop *
read_crop (BedFarm *farm, int season, BedCropSource source, GError **error)
{
  g_autoptr (BedCropBook) book = bed_crop_book_new (farm, season, source, error);

  if (!book)
    return NULL;
  g_autoptr (BedCrop) self = g_new0 (BedCrop, 1);
  self->groups = g_ptr_array_new_with_free_func ((GDestroyNotify) free_group);
  self->ages = g_array_new (FALSE, FALSE, sizeof (BedCropAge));
  self->median_seasons = NAN;
  add_groups (book, self);
  if (!survive (book, self, error))
    return NULL;
  forecast (book, self);
  return compare (book, self, error) ? g_steal_pointer (&self) : NULL;
}

/* --- public ----------------------------------------------------------------------------- */

BedCrop *
bed_crop_new (BedFarm *farm, int season, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), NULL);
  return read_crop (farm, season, BED_CROP_OF_VIEWS, error);
}

BedCrop *
bed_crop_new_reckoned (BedFarm *farm, int season, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), NULL);
  return read_crop (farm, season, BED_CROP_OF_RECKONED, error);
}

void
bed_crop_free (BedCrop *self)
{
  g_ptr_array_unref (self->groups);
  g_array_unref (self->ages);
  g_clear_pointer (&self->curve, g_array_unref);
  g_free (self);
}
