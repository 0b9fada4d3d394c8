#include "science/crop_model.h"

#include "science/argument.h"

#include <math.h>
#include <stdlib.h>

#define DRAWS 401
#define MIDDLE 200
#define TENTH 40
#define SEED 20260401
#define TURNS 30

/* The root at which luck is taken as normal: of 2 and 3, both tried, this leaned the less. */
#define POWER 2.0

/* Guesses of ours, no source; tests/figures says how they do. A new farm's seasons are taken to
 * differ by so much of their mean, as if so many seasons had told it. */
#define LUCK_OF_SEASON 0.28
#define LUCK_KNOWN 2.0
/* The luck of a batch in one season beside that of the season, as variances. */
#define BATCH_TO_SEASON 1.0
/* What is drawn in keeps the published shape, or the farm's mean, as if so many seasons or
 * batches had told it; one more is off by so much. */
#define SHAPE_HELD 4.0
#define KIND_HELD 6.0
#define BATCH_HELD 8.0
#define SHAPE_OFF 0.35
#define BATCH_OFF 0.15
/* A running season of which less has usually come tells nothing yet. */
#define SHARE_LEAST 0.05

/* A season's mass over what its logs should give: one observation. */
typedef struct
{
  int season;
  double kg;
  double due;         /* logs x shape x kind x batch x share */
  double due_squares; /* by batch, for how many batches stand for it */
  double share;
} Season;

/* What is drawn toward one: a kind, a batch, an age. */
typedef struct
{
  double factor;
  double seen; /* observations */
} Pull;

struct _BedCropModel
{
  GArray *cells;   /* BedCropCell */
  GArray *seasons; /* Season */
  GArray *kinds;   /* Pull */
  GArray *batches;
  Pull ages[BED_CROP_AGES];
  gboolean only_first;                 /* no log is older than its first season */
  double mean, error, spread, freedom; /* of the square root of a season's rate */
};

/* --- the fit ------------------------------------------------------------------------------ */

static double
get_published (guint age)
{
  static const double bearing[] = { 1.0 / 6, 2.0 / 6, 2.0 / 6, 1.0 / 6 };

  /* Logs that bore in their first season are taken to have begun early. */
  if (age == 0)
    return bearing[0];
  return age <= 4 ? bearing[age - 1] : bearing[3] * pow (0.5, age - 4.0);
}

static guint
clip (guint age)
{
  return MIN (age, BED_CROP_AGES - 1);
}

static Pull *
get_pull (const GArray *pulls, guint index)
{
  return index < pulls->len ? &g_array_index (pulls, Pull, index) : NULL;
}

static double
get_factor (const GArray *pulls, guint index)
{
  const Pull *pull = get_pull (pulls, index);

  return pull ? pull->factor : 1;
}

/* What a log should give, in units of the level. */
static double
get_due (const BedCropModel *self, guint batch, guint kind, guint age)
{
  return get_published (age) * self->ages[clip (age)].factor * get_factor (self->kinds, kind)
         * get_factor (self->batches, batch);
}

static Season *
find_season (BedCropModel *self, int number)
{
  for (guint i = 0; i < self->seasons->len; i++)
    if (g_array_index (self->seasons, Season, i).season == number)
      return &g_array_index (self->seasons, Season, i);
  Season season = { .season = number };
  g_array_append_val (self->seasons, season);
  return &g_array_index (self->seasons, Season, self->seasons->len - 1);
}

static void
measure_seasons (BedCropModel *self)
{
  g_array_set_size (self->seasons, 0);
  for (guint i = 0; i < self->cells->len; i++)
    {
      const BedCropCell *cell = &g_array_index (self->cells, BedCropCell, i);
      Season *season = find_season (self, cell->season);
      double due = cell->logs * cell->share * get_due (self, cell->batch, cell->kind, cell->age);

      season->kg += cell->kg;
      season->due += due;
      season->due_squares += due * due;
      season->share = cell->share;
    }
}

static void
pull_in (Pull *pull, double kg, double due, double seen, double held)
{
  if (due > 0)
    *pull = (Pull){ pull->factor * (held / pull->factor + seen * kg / due) / (held + seen), seen };
}

typedef guint (*Place) (const BedCropCell *cell);

static guint
place_age (const BedCropCell *cell)
{
  return clip (cell->age);
}

static guint
place_kind (const BedCropCell *cell)
{
  return cell->kind;
}

static guint
place_batch (const BedCropCell *cell)
{
  return cell->batch;
}

/* One turn for @pulls: each factor is the mean of 1, held so many times, and of what came over
 * what should have without it, as often as it was seen. */
static void
turn (BedCropModel *self, Pull *pulls, guint n, Place place, double held)
{
  g_autofree double *sums = g_new0 (double, 3 * MAX (n, 1));
  double *kg = sums, *due = sums + n, *seen = sums + 2 * n;

  measure_seasons (self);
  for (guint i = 0; i < self->cells->len; i++)
    {
      const BedCropCell *cell = &g_array_index (self->cells, BedCropCell, i);
      const Season *season = find_season (self, cell->season);
      guint at = place (cell);
      double part = cell->logs * cell->share * get_due (self, cell->batch, cell->kind, cell->age);

      /* An empty season tells nothing of its parts. */
      if (season->kg <= 0)
        continue;
      kg[at] += cell->kg * season->due / season->kg;
      due[at] += part;
      seen[at] += cell->share;
    }
  for (guint i = 0; i < n; i++)
    pull_in (&pulls[i], kg[i], due[i], seen[i], held);
}

/* How much less than many batches one season tells. */
static double
get_quiet (double due, double due_squares, double share)
{
  double batches = due_squares > 0 ? due * due / due_squares : 1;

  return (1 + BATCH_TO_SEASON / batches) / (share * share);
}

static void
measure_level (BedCropModel *self)
{
  double weights = 0, sum = 0, squares = 0, guess;
  guint n = 0;

  for (guint i = 0; i < self->seasons->len; i++)
    {
      const Season *season = &g_array_index (self->seasons, Season, i);
      double weight = 1 / get_quiet (season->due, season->due_squares, season->share);

      weights += weight;
      sum += weight * pow (season->kg / season->due, 1 / POWER);
      n++;
    }
  self->mean = n ? sum / weights : 0;
  for (guint i = 0; i < self->seasons->len; i++)
    {
      const Season *season = &g_array_index (self->seasons, Season, i);

      squares += pow (pow (season->kg / season->due, 1 / POWER) - self->mean, 2)
                 / get_quiet (season->due, season->due_squares, season->share);
    }
  guess = self->mean * LUCK_OF_SEASON / POWER;
  self->freedom = LUCK_KNOWN + MAX (n, 1) - 1;
  self->spread = sqrt ((LUCK_KNOWN * guess * guess + squares) / self->freedom);
  self->error = n ? 1 / weights : 0;
}

static void
fit (BedCropModel *self)
{
  for (int i = 0; i < TURNS && self->cells->len > 0; i++)
    {
      turn (self, self->ages, BED_CROP_AGES, place_age, SHAPE_HELD);
      turn (self, (Pull *) (gpointer) self->kinds->data, self->kinds->len, place_kind, KIND_HELD);
      turn (self, (Pull *) (gpointer) self->batches->data, self->batches->len, place_batch,
            BATCH_HELD);
    }
  measure_seasons (self);
  measure_level (self);
}

/* --- draws -------------------------------------------------------------------------------- */

static double
draw_normal (GRand *rand)
{
  return sqrt (-2 * log (1 - g_rand_double (rand))) * cos (2 * G_PI * g_rand_double (rand));
}

/* A factor around one that is never below nought and has @off for its deviation. */
static double
draw_factor (GRand *rand, double off)
{
  return exp (off * draw_normal (rand) - off * off / 2);
}

static double
get_off (const Pull *pull, double held, double off)
{
  return off / sqrt (held + (pull ? pull->seen : 0));
}

static double
draw_due (const BedCropModel *self, const BedCropLogs *logs, gsize n, GRand *rand)
{
  double ages[BED_CROP_AGES], due = 0;

  for (guint age = 0; age < BED_CROP_AGES; age++)
    ages[age] = draw_factor (rand, get_off (&self->ages[age], SHAPE_HELD, SHAPE_OFF));
  for (gsize i = 0; i < n; i++)
    {
      double off = get_off (get_pull (self->batches, logs[i].batch), BATCH_HELD, BATCH_OFF);
      double alive = logs[i].survival + logs[i].survival_error * draw_normal (rand);

      due += logs[i].logs * CLAMP (alive, 0, 1) * ages[clip (logs[i].age)]
             * draw_factor (rand, off * sqrt (BATCH_HELD))
             * get_due (self, logs[i].batch, logs[i].kind, logs[i].age);
    }
  return due;
}

static int
compare_doubles (const void *a, const void *b)
{
  double one = *(const double *) a, other = *(const double *) b;

  return (one > other) - (one < other);
}

/* --- public ------------------------------------------------------------------------------- */

static gboolean
check_cells (const BedCropCell *cells, gsize n_cells, GError **error)
{
  for (gsize i = 0; i < n_cells; i++)
    if (!bed_argument_positive ("logs", cells[i].logs, error)
        || !bed_argument_between ("logs", cells[i].logs, 0, 1e9, error)
        || !bed_argument_between ("kg", cells[i].kg, 0, 1e9, error)
        || !bed_argument_between ("share", cells[i].share, 0, 1, error))
      return FALSE;
  return TRUE;
}

static void
reach (GArray *pulls, guint index)
{
  const Pull one = { 1, 0 };

  while (pulls->len <= index)
    g_array_append_val (pulls, one);
}

BedCropModel *
bed_crop_model_new (const BedCropCell *cells, gsize n_cells, GError **error)
{
  g_return_val_if_fail (cells != NULL || n_cells == 0, NULL);
  if (!check_cells (cells, n_cells, error))
    return NULL;
  BedCropModel *self = g_new0 (BedCropModel, 1);
  self->cells = g_array_new (FALSE, FALSE, sizeof (BedCropCell));
  self->seasons = g_array_new (FALSE, FALSE, sizeof (Season));
  self->kinds = g_array_new (FALSE, FALSE, sizeof (Pull));
  self->batches = g_array_new (FALSE, FALSE, sizeof (Pull));
  for (guint age = 0; age < BED_CROP_AGES; age++)
    self->ages[age] = (Pull){ 1, 0 };
  self->only_first = TRUE;
  for (gsize i = 0; i < n_cells; i++)
    self->only_first = self->only_first && (cells[i].age == 0 || cells[i].share < SHARE_LEAST);
  for (gsize i = 0; i < n_cells; i++)
    if (cells[i].share >= SHARE_LEAST && (self->only_first ? cells[i].kg > 0 : cells[i].age > 0))
      {
        g_array_append_val (self->cells, cells[i]);
        reach (self->kinds, cells[i].kind);
        reach (self->batches, cells[i].batch);
      }
  fit (self);
  return self;
}

void
bed_crop_model_free (BedCropModel *self)
{
  g_array_unref (self->cells);
  g_array_unref (self->seasons);
  g_array_unref (self->kinds);
  g_array_unref (self->batches);
  g_free (self);
}

BedCropExpected
bed_crop_model_expect (const BedCropModel *self, const BedCropLogs *logs, gsize n_logs)
{
  BedCropExpected answer = { .seasons = self->seasons->len };
  double kg[DRAWS], due = 0, squares = 0, unseen = 0;

  for (gsize i = 0; i < n_logs; i++)
    {
      double one = logs[i].logs * logs[i].survival
                   * get_due (self, logs[i].batch, logs[i].kind, logs[i].age);
      due += one;
      squares += one * one;
      unseen += self->ages[clip (logs[i].age)].seen > 0 ? 0 : one;
    }
  if (due <= 0 || answer.seasons == 0)
    return answer;
  g_autoptr (GRand) rand = g_rand_new_with_seed (SEED);
  double spread = self->spread * sqrt (get_quiet (due, squares, 1) + self->error);
  for (guint i = 0; i < DRAWS; i++)
    {
      /* Every part of the luck once, in an order that has nothing of the others'. */
      double p = ((i * 167) % DRAWS + 0.5) / DRAWS;
      double root = self->mean + spread * bed_t_quantile (p, self->freedom);

      kg[i] = pow (MAX (root, 0), POWER) * draw_due (self, logs, n_logs, rand);
    }
  qsort (kg, DRAWS, sizeof *kg, compare_doubles);
  answer.share_unseen = unseen / due;
  answer.kg = (BedInterval){ BED_KNOWN_INTERVAL, kg[MIDDLE], kg[TENTH], kg[DRAWS - 1 - TENTH] };
  return answer;
}

double
bed_crop_model_log (const BedCropModel *self, guint age)
{
  return self->seasons->len
             ? pow (self->mean, POWER) * get_published (age) * self->ages[clip (age)].factor
             : 0;
}

double
bed_crop_model_due (const BedCropModel *self, guint batch, guint kind, guint age)
{
  return get_due (self, batch, kind, age);
}
