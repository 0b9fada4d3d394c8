#include "science/crop_compare.h"

#include "science/argument.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_linalg.h>
#include <math.h>

#define TURNS 200
#define CLOSE_ENOUGH 1e-10
#define BY_CHANCE 0.01 /* that kinds alike differ so much in their bare seasons; ours */

/* Kinds come first in whatever is numbered, then years. */
typedef struct
{
  const BedCropBatch *batches;
  gsize n_batches;
  guint n_kinds, n_years;
  GArray *years;  /* int */
  guint *year;    /* of each batch */
  gboolean *used; /* of each batch */
  guint *set;     /* of each kind and year: those tied together have one number */
  guint *column;  /* of each kind and year in the equations, from 1; 0: none */
  guint n, n_used;
  gsl_matrix *cross; /* X'X, then its inverse */
  gsl_vector *answer;
} Fit;

static void
clear_fit (Fit *fit)
{
  g_array_unref (fit->years);
  g_free (fit->year);
  g_free (fit->used);
  g_free (fit->set);
  g_free (fit->column);
  g_clear_pointer (&fit->cross, gsl_matrix_free);
  g_clear_pointer (&fit->answer, gsl_vector_free);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Fit, clear_fit)

static void
number_years (Fit *fit)
{
  for (gsize i = 0; i < fit->n_batches; i++)
    {
      guint at = 0;

      while (at < fit->years->len && g_array_index (fit->years, int, at) != fit->batches[i].year)
        at++;
      if (at == fit->years->len)
        g_array_append_val (fit->years, fit->batches[i].year);
      fit->year[i] = fit->n_kinds + at;
    }
  fit->n_years = fit->years->len;
}

/* A kind or a year of which nothing was ever picked has no level to compare, and a batch of which
 * nothing was tells only how often that is. */
static void
leave_out_empty (Fit *fit)
{
  gboolean again = TRUE;

  while (again)
    {
      g_autofree double *kg = g_new0 (double, fit->n_kinds + fit->n_years + 1);

      again = FALSE;
      for (gsize i = 0; i < fit->n_batches; i++)
        if (fit->used[i])
          {
            kg[fit->batches[i].kind] += fit->batches[i].kg;
            kg[fit->year[i]] += fit->batches[i].kg;
          }
      for (gsize i = 0; i < fit->n_batches; i++)
        if (fit->used[i] && (kg[fit->batches[i].kind] <= 0 || kg[fit->year[i]] <= 0))
          {
            fit->used[i] = FALSE;
            again = TRUE;
          }
    }
}

/* Leaves only the batches of the largest set of kinds and years tied together. */
static void
keep_largest (Fit *fit)
{
  guint all = fit->n_kinds + fit->n_years, best = 0;
  g_autofree guint *size = g_new0 (guint, all + 1);
  gboolean moved = TRUE;

  for (guint i = 0; i < all; i++)
    fit->set[i] = i;
  while (moved)
    {
      moved = FALSE;
      for (gsize i = 0; i < fit->n_batches; i++)
        {
          guint *kind = &fit->set[fit->batches[i].kind], *year = &fit->set[fit->year[i]];

          if (!fit->used[i] || *kind == *year)
            continue;
          *kind = *year = MIN (*kind, *year);
          moved = TRUE;
        }
    }
  for (gsize i = 0; i < fit->n_batches; i++)
    if (fit->used[i])
      size[fit->set[fit->batches[i].kind]]++;
  for (guint i = 0; i < all; i++)
    if (size[i] > size[best])
      best = i;
  for (gsize i = 0; i < fit->n_batches; i++)
    fit->used[i] = fit->used[i] && fit->set[fit->batches[i].kind] == best;
}

/* The first year stands for all: the others are told against it. */
static void
number_columns (Fit *fit)
{
  guint all = fit->n_kinds + fit->n_years;
  gboolean first = TRUE;

  for (gsize i = 0; i < fit->n_batches; i++)
    if (fit->used[i])
      {
        fit->column[fit->batches[i].kind] = fit->column[fit->year[i]] = 1;
        fit->n_used++;
      }
  for (guint i = 0; i < all; i++)
    if (fit->column[i])
      {
        gboolean stands = i >= fit->n_kinds && first;

        first = first && !stands;
        fit->column[i] = stands ? 0 : ++fit->n;
      }
}

static void
make_cross (Fit *fit)
{
  fit->cross = gsl_matrix_calloc (fit->n, fit->n);
  for (gsize i = 0; i < fit->n_batches; i++)
    {
      guint columns[2] = { fit->column[fit->batches[i].kind], fit->column[fit->year[i]] };

      for (int a = 0; a < 2 && fit->used[i]; a++)
        for (int b = 0; b < 2; b++)
          if (columns[a] && columns[b])
            *gsl_matrix_ptr (fit->cross, columns[a] - 1, columns[b] - 1) += 1;
    }
  gsl_linalg_cholesky_decomp1 (fit->cross);
  gsl_linalg_cholesky_invert (fit->cross);
}

static double
get (const Fit *fit, guint item)
{
  return fit->column[item] ? gsl_vector_get (fit->answer, fit->column[item] - 1) : 0;
}

/* Its logs and seasons but for those that gave nothing. */
static double
get_bearing (const BedCropBatch *batch)
{
  return batch->logs * (1 - batch->bare_share);
}

/* How far batch @i is off what is fitted, as a share of it. */
static double
get_residual (const Fit *fit, gsize i)
{
  const BedCropBatch *batch = &fit->batches[i];

  return batch->kg / get_bearing (batch) / exp (get (fit, batch->kind) + get (fit, fit->year[i]))
         - 1;
}

/* Fisher's scoring: with this link and deviation every batch weighs the same. */
static void
solve (Fit *fit)
{
  gsl_vector *sums = gsl_vector_alloc (fit->n), *step = gsl_vector_alloc (fit->n);
  double kg = 0, logs = 0, off = 1;

  for (gsize i = 0; i < fit->n_batches; i++)
    {
      kg += fit->used[i] ? fit->batches[i].kg : 0;
      logs += fit->used[i] ? get_bearing (&fit->batches[i]) : 0;
    }
  fit->answer = gsl_vector_calloc (fit->n);
  for (guint k = 0; k < fit->n_kinds; k++)
    if (fit->column[k])
      gsl_vector_set (fit->answer, fit->column[k] - 1, log (kg / logs));
  for (int i = 0; i < TURNS && off > CLOSE_ENOUGH; i++)
    {
      gsl_vector_set_zero (sums);
      for (gsize b = 0; b < fit->n_batches; b++)
        {
          guint columns[2] = { fit->column[fit->batches[b].kind], fit->column[fit->year[b]] };

          for (int c = 0; c < 2 && fit->used[b]; c++)
            if (columns[c])
              *gsl_vector_ptr (sums, columns[c] - 1) += get_residual (fit, b);
        }
      gsl_blas_dgemv (CblasNoTrans, 1, fit->cross, sums, 0, step);
      off = MAX (fabs (gsl_vector_max (step)), fabs (gsl_vector_min (step)));
      /* A long first step would throw a kind far off. */
      if (off > 1)
        gsl_vector_scale (step, 1 / off);
      gsl_vector_add (fit->answer, step);
    }
  gsl_vector_free (sums);
  gsl_vector_free (step);
}

/* What each of the columns weighs in the level of @kind in the mean of the years. */
static gsl_vector *
make_weights (const Fit *fit, guint kind)
{
  gsl_vector *weights = gsl_vector_calloc (fit->n);

  for (gsize i = 0; i < fit->n_batches; i++)
    if (fit->used[i] && fit->column[fit->year[i]])
      *gsl_vector_ptr (weights, fit->column[fit->year[i]] - 1) += 1.0 / fit->n_used;
  gsl_vector_set (weights, fit->column[kind] - 1, 1);
  return weights;
}

/* Seasons on record, and those that gave nothing. */
typedef struct
{
  double all, bare;
} Seasons;

/* Of @kind, or of all where they differ by chance: also of those of which nothing was picked, or
 * bare seasons would seem rarer than they are. */
static Seasons
count_seasons (const Fit *fit, guint kind)
{
  g_autofree Seasons *own = g_new0 (Seasons, MAX (fit->n_kinds, 1));
  Seasons sum = { 0 };
  double off = 0, kinds = 0;

  for (gsize i = 0; i < fit->n_batches; i++)
    {
      const BedCropBatch *batch = &fit->batches[i];

      own[batch->kind].all += batch->seasons;
      own[batch->kind].bare += batch->bare;
      sum.all += batch->seasons;
      sum.bare += batch->bare;
    }
  for (guint k = 0; k < fit->n_kinds && sum.bare > 0; k++)
    {
      double due = own[k].all * sum.bare / sum.all;

      if (own[k].all <= 0)
        continue;
      off += pow (own[k].bare - due, 2) / (due * (1 - sum.bare / sum.all));
      kinds++;
    }
  return kinds > 1 && gsl_cdf_chisq_Q (off, kinds - 1) < BY_CHANCE ? own[kind] : sum;
}

static BedInterval
find_interval (const Fit *fit, guint kind, double level)
{
  gsl_vector *weights = make_weights (fit, kind), *half = gsl_vector_alloc (fit->n);
  double middle, variance, squares = 0, freedom = (double) fit->n_used - fit->n;

  gsl_blas_ddot (weights, fit->answer, &middle);
  gsl_blas_dgemv (CblasNoTrans, 1, fit->cross, weights, 0, half);
  gsl_blas_ddot (weights, half, &variance);
  gsl_vector_free (weights);
  gsl_vector_free (half);
  for (gsize i = 0; i < fit->n_batches; i++)
    squares += fit->used[i] ? pow (get_residual (fit, i), 2) : 0;
  Seasons seasons = count_seasons (fit, kind);
  if (seasons.bare > 0)
    middle += log (1 - seasons.bare / seasons.all);
  if (freedom < 1 || squares <= 1e-12)
    return (BedInterval){ BED_KNOWN_POINT, exp (middle), exp (middle), exp (middle) };
  double off = bed_t_quantile (0.5 + level / 2, freedom) * sqrt (squares / freedom * variance);
  /* Half a season more of each: few seasons without a bare one are no proof that none comes. */
  if (seasons.bare > 0)
    off = hypot (off, gsl_cdf_ugaussian_Pinv (0.5 + level / 2)
                          * sqrt ((seasons.bare + 0.5) / (seasons.all - seasons.bare + 0.5)
                                  / (seasons.all + 1)));
  return (BedInterval){ BED_KNOWN_INTERVAL, exp (middle), exp (middle - off), exp (middle + off) };
}

static void
keep_others (const Fit *fit, BedCropLevel *levels)
{
  g_autofree double *logs = g_new0 (double, fit->n_kinds + 1);

  for (gsize i = 0; i < fit->n_batches; i++)
    {
      levels[fit->batches[i].kind].batches++;
      levels[fit->batches[i].kind].kg.estimate += fit->batches[i].kg;
      logs[fit->batches[i].kind] += fit->batches[i].logs;
    }
  for (guint k = 0; k < fit->n_kinds; k++)
    if (logs[k] > 0)
      {
        double kg = levels[k].kg.estimate / logs[k];

        levels[k].kg = (BedInterval){ BED_KNOWN_POINT, kg, kg, kg };
        /* Nothing picked is no question of years. */
        levels[k].told = kg > 0 ? BED_CROP_OTHER_YEARS : BED_CROP_COMPARED;
      }
}

static gboolean
check_batches (const BedCropBatch *batches, gsize n, guint n_kinds, GError **error)
{
  for (gsize i = 0; i < n; i++)
    if (!bed_argument_between ("kind", batches[i].kind, 0, (double) n_kinds - 1, error)
        || !bed_argument_positive ("logs", batches[i].logs, error)
        || !bed_argument_between ("logs", batches[i].logs, 0, 1e9, error)
        || !bed_argument_between ("kg", batches[i].kg, 0, 1e9, error)
        || !bed_argument_between ("bare", batches[i].bare, 0, batches[i].seasons, error)
        || !bed_argument_between ("bare_share", batches[i].bare_share, 0,
                                  batches[i].kg > 0 ? 1 - 1e-9 : 1, error))
      return FALSE;
  return TRUE;
}

BedCropLevel *
bed_crop_compare (const BedCropBatch *batches, gsize n_batches, guint n_kinds, double level,
                  GError **error)
{
  g_return_val_if_fail (batches != NULL || n_batches == 0, NULL);
  if (!bed_level_check (level, error) || !check_batches (batches, n_batches, n_kinds, error))
    return NULL;
  g_auto (Fit) fit = { .batches = batches,
                       .n_batches = n_batches,
                       .n_kinds = n_kinds,
                       .years = g_array_new (FALSE, FALSE, sizeof (int)),
                       .year = g_new0 (guint, n_batches + 1),
                       .used = g_new0 (gboolean, n_batches + 1) };
  BedCropLevel *levels = g_new0 (BedCropLevel, MAX (n_kinds, 1));

  number_years (&fit);
  fit.set = g_new0 (guint, n_kinds + fit.n_years + 1);
  fit.column = g_new0 (guint, n_kinds + fit.n_years + 1);
  for (gsize i = 0; i < n_batches; i++)
    fit.used[i] = batches[i].kg > 0;
  leave_out_empty (&fit);
  keep_largest (&fit);
  number_columns (&fit);
  keep_others (&fit, levels);
  if (fit.n == 0)
    return levels;
  make_cross (&fit);
  solve (&fit);
  for (guint k = 0; k < n_kinds; k++)
    if (fit.column[k])
      {
        levels[k].kg = find_interval (&fit, k, level);
        levels[k].told = BED_CROP_COMPARED;
      }
  return levels;
}
