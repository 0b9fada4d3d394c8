#include "simulate.h"

#include "science/crop_compare.h"
#include "science/crop_model.h"

#include <math.h>
#include <stdlib.h>

#define KINDS 3
#define MOST 64

/* A batch: made in season @made of the farm, 0 the first. */
typedef struct
{
  guint kind, made;
  double logs, luck;
  double alive; /* when the season begins */
} Batch;

typedef struct
{
  const SimFarms *set;
  GRand *rand;
  Batch batches[MOST];
  guint n_batches;
  double kinds[KINDS], shape[8];
  double level, spread;                   /* of seasons */
  GArray *cells;                          /* BedCropCell */
  double due[MOST], logs[MOST], kg[MOST]; /* by batch: true luck and shape, log seasons, mass */
  double known[MOST], bare_known[MOST];   /* by the published shape: of all, and of bare seasons */
  guint seasons[MOST], bare[MOST];
} Farm;

static const double published[] = { 0, 1, 2, 2, 1, 0.5, 0.25, 0.125 };

static double
normal (GRand *rand)
{
  return sqrt (-2 * log (1 - g_rand_double (rand))) * cos (2 * G_PI * g_rand_double (rand));
}

static double
luck (GRand *rand, double off)
{
  return exp (off * normal (rand) - off * off / 2);
}

static void
begin (Farm *farm)
{
  GRand *rand = farm->rand;

  farm->n_batches = 0;
  farm->level = 0.1 * luck (rand, 0.5);
  farm->spread = g_rand_double_range (rand, 0.15, 0.45);
  for (guint k = 0; k < KINDS; k++)
    farm->kinds[k] = luck (rand, 0.25);
  for (guint age = 0; age < G_N_ELEMENTS (published); age++)
    farm->shape[age] = published[age] * luck (rand, 0.2);
  for (guint made = 0; made < farm->set->seasons; made++)
    for (guint n = (guint) g_rand_int_range (rand, 1, 5); n > 0; n--)
      farm->batches[farm->n_batches++] = (Batch){ .kind = (guint) g_rand_int_range (rand, 0, KINDS),
                                                  .made = made,
                                                  .logs = g_rand_int_range (rand, 15, 80),
                                                  .luck = luck (rand, farm->set->batch_luck) };
  for (guint i = 0; i < farm->n_batches; i++)
    farm->batches[i].alive = farm->batches[i].logs;
}

/* One season; past ones are kept on record. */
static double
pass (Farm *farm, guint season, double weather)
{
  double sum = 0;

  for (guint i = 0; i < farm->n_batches; i++)
    {
      Batch *batch = &farm->batches[i];
      guint age = season - batch->made, alive = 0;
      double mean = weather * farm->level * farm->kinds[batch->kind] * batch->luck, kg = 0;

      if (season <= batch->made || batch->alive < 1)
        continue;
      mean *= farm->shape[MIN (age, 7)];
      for (guint log = 0; log < batch->alive; log++)
        kg += mean * luck (farm->rand, 0.7);
      if (g_rand_double (farm->rand) < farm->set->empty)
        kg = 0;
      if (season < farm->set->seasons)
        {
          farm->due[i] += weather * farm->shape[MIN (age, 7)] * batch->alive;
          farm->logs[i] += batch->alive;
          farm->kg[i] += kg;
          farm->known[i] += batch->alive * published[MIN (age, 7)];
          farm->bare_known[i] += kg > 0 ? 0 : batch->alive * published[MIN (age, 7)];
          farm->seasons[i]++;
          farm->bare[i] += kg <= 0;
          BedCropCell cell = { i, batch->kind, age, (int) season, batch->alive, kg, 1 };
          g_array_append_val (farm->cells, cell);
        }
      sum += kg;
      for (guint log = 0; log < batch->alive; log++)
        alive += g_rand_double (farm->rand) < 0.92;
      batch->alive = alive;
    }
  return sum;
}

static BedCropExpected
expect (const Farm *farm, guint seasons)
{
  g_autoptr (BedCropModel) model = bed_crop_model_new (
      (const BedCropCell *) (gpointer) farm->cells->data, farm->cells->len, NULL);
  BedCropLogs logs[MOST];

  for (guint i = 0; i < farm->n_batches; i++)
    {
      const Batch *batch = &farm->batches[i];
      logs[i] = (BedCropLogs){ i, batch->kind, seasons - batch->made, batch->alive, 1, 0 };
    }
  return bed_crop_model_expect (model, logs, farm->n_batches);
}

static int
compare_doubles (const void *a, const void *b)
{
  double one = *(const double *) a, other = *(const double *) b;

  return (one > other) - (one < other);
}

SimForecast
sim_forecast (const SimFarms *farms, guint seed)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (seed);
  g_autofree double *ratios = g_new0 (double, farms->farms);
  guint above = 0, held = 0, n = 0;

  while (n < farms->farms)
    {
      Farm farm = { .set = farms,
                    .rand = rand,
                    .cells = g_array_new (FALSE, FALSE, sizeof (BedCropCell)) };
      begin (&farm);
      for (guint season = 1; season < farms->seasons; season++)
        pass (&farm, season, luck (rand, farm.spread));
      BedCropExpected expected = expect (&farm, farms->seasons);
      double truth = pass (&farm, farms->seasons, luck (rand, farm.spread));
      g_array_unref (farm.cells);
      /* A farm that never picked is promised nothing and told so. */
      if (expected.kg.estimate <= 0)
        continue;
      above += truth > expected.kg.estimate;
      held += expected.kg.low <= truth && truth <= expected.kg.high;
      ratios[n++] = truth / expected.kg.estimate;
    }
  qsort (ratios, n, sizeof *ratios, compare_doubles);
  return (SimForecast){ (double) above / n, ratios[n / 2], (double) held / n };
}

/* Whether anything was picked of what batch @i shares its year of inoculation with. */
static gboolean
has_year (const Farm *farm, guint i)
{
  double kg = 0;

  for (guint b = 0; b < farm->n_batches; b++)
    kg += farm->batches[b].made == farm->batches[i].made ? farm->kg[b] : 0;
  return kg > 0;
}

/* The logarithm of the luck of the years in the mean of the batches compared; a year of which
 * nothing was picked is none of the years compared. */
static double
get_years (const Farm *farm, const BedCropLevel *levels)
{
  double sum = 0;
  guint n = 0;

  for (guint i = 0; i < farm->n_batches; i++)
    if (farm->logs[i] > 0 && levels[farm->batches[i].kind].told == BED_CROP_COMPARED
        && has_year (farm, i))
      {
        sum += log (farm->due[i] / farm->logs[i]);
        n++;
      }
  return n ? sum / n : 0;
}

static void
compare_kinds (const Farm *farm, SimKinds *kinds)
{
  BedCropBatch batches[MOST];
  guint n = 0;

  for (guint i = 0; i < farm->n_batches; i++)
    if (farm->logs[i] > 0)
      batches[n++] = (BedCropBatch){ farm->batches[i].kind,
                                     (int) farm->batches[i].made,
                                     farm->logs[i],
                                     farm->kg[i],
                                     farm->seasons[i],
                                     farm->bare[i],
                                     farm->bare_known[i] / farm->known[i] };
  g_autofree BedCropLevel *levels = bed_crop_compare (batches, n, KINDS, 0.8, NULL);
  double years = get_years (farm, levels);
  for (guint k = 0; k < KINDS; k++)
    if (levels[k].told == BED_CROP_COMPARED && levels[k].kg.known == BED_KNOWN_INTERVAL)
      {
        double truth = farm->level * farm->kinds[k] * exp (years) * (1 - farm->set->empty);
        kinds->kinds++;
        kinds->coverage += levels[k].kg.low <= truth && truth <= levels[k].kg.high;
      }
}

SimKinds
sim_kinds (const SimFarms *farms, guint seed)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (seed);
  SimKinds kinds = { 0 };

  for (guint n = 0; n < farms->farms; n++)
    {
      Farm farm = { .set = farms,
                    .rand = rand,
                    .cells = g_array_new (FALSE, FALSE, sizeof (BedCropCell)) };
      begin (&farm);
      for (guint season = 1; season < farms->seasons; season++)
        pass (&farm, season, luck (rand, farm.spread));
      compare_kinds (&farm, &kinds);
      g_array_unref (farm.cells);
    }
  kinds.coverage /= MAX (kinds.kinds, 1);
  kinds.error = sqrt (0.8 * 0.2 / MAX (kinds.kinds, 1));
  return kinds;
}
