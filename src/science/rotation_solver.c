#include "science/rotation_private.h"

#include <glpk.h>
#include <math.h>

/* Columns of a plan small enough to be worth closing by branch and bound, and the
 * columns it may look at in all. Counting work instead of time gives the same
 * plan on every machine. */
#define MOST_WHOLE_COLUMNS 1500
#define MOST_WORK 150000

/* Of a programme that simplex ends in time: 100 groups by 52 weeks it does. */
#define MOST_COLUMNS 6000

/* Where things stand in the programme: GLPK counts from 1. */
typedef struct
{
  const Rotation *rotation;
  glp_prob *programme;
  int *columns;     /* n_classes x n_weeks: of the units soaked, 0 where none may be */
  int short_column; /* of week 0; then one a week */
  int over_column;
  int tank_row;
  int demand_row;
} Programme;

typedef struct
{
  double bound;
  int nodes_left;
} Search;

static void
add_weeks (Programme *p)
{
  int n = (int) p->rotation->n_weeks;
  const BedRotationProblem *problem = p->rotation->problem;

  p->tank_row = glp_add_rows (p->programme, n);
  p->demand_row = glp_add_rows (p->programme, n);
  p->short_column = glp_add_cols (p->programme, n);
  p->over_column = glp_add_cols (p->programme, n);
  for (int w = 0; w < n; w++)
    {
      int rows[] = { 0, p->demand_row + w };
      double up[] = { 0, 1 };
      double down[] = { 0, -1 };
      double demand = problem->weeks[w].demand_kg;
      glp_set_row_bnds (p->programme, p->tank_row + w, GLP_UP, 0, problem->tank_logs);
      glp_set_row_bnds (p->programme, p->demand_row + w, GLP_FX, demand, demand);
      glp_set_col_bnds (p->programme, p->short_column + w, GLP_LO, 0, 0);
      glp_set_col_bnds (p->programme, p->over_column + w, GLP_LO, 0, 0);
      glp_set_obj_coef (p->programme, p->short_column + w, problem->shortfall_weight);
      glp_set_obj_coef (p->programme, p->over_column + w, problem->surplus_weight);
      glp_set_mat_col (p->programme, p->short_column + w, 1, rows, up);
      glp_set_mat_col (p->programme, p->over_column + w, 1, rows, down);
    }
}

/* @windows: the row of the window that begins in the class's first week. */
static void
add_column (Programme *p, guint class, guint week, int windows, guint n_windows)
{
  const Rotation *rotation = p->rotation;
  const RotationClass *kind = &rotation->classes[class];
  guint rest = rotation_rest (rotation, class);
  gsize most = 2 + rotation->problem->n_lags + rest;
  g_autofree int *rows = g_new (int, most);
  g_autofree double *values = g_new (double, most);
  int n = 0;
  guint since = week - kind->first;

  rows[++n] = p->tank_row + (int) week;
  values[n] = kind->unit_logs;
  for (guint lag = 0; lag < rotation->problem->n_lags && week + lag + 1 < rotation->n_weeks; lag++)
    {
      rows[++n] = p->demand_row + (int) (week + lag + 1);
      values[n] = kind->unit_kg * rotation->problem->lag_shares[lag];
    }
  for (guint w = since + 1 >= rest ? since + 1 - rest : 0; w <= since && w < n_windows; w++)
    {
      rows[++n] = windows + (int) w;
      values[n] = 1;
    }
  int column = glp_add_cols (p->programme, 1);
  p->columns[class * rotation->n_weeks + week] = column;
  glp_set_col_bnds (p->programme, column, GLP_DB, 0, kind->units);
  glp_set_mat_col (p->programme, column, n, rows, values);
}

/* The rest as a sliding window, the tightest form of it: the sum over any rest
 * weeks on end is at most what the class has. */
static void
add_class (Programme *p, guint class)
{
  const Rotation *rotation = p->rotation;
  const RotationClass *kind = &rotation->classes[class];
  guint weeks = kind->last - kind->first + 1;
  guint rest = rotation_rest (rotation, class);
  guint n_windows = weeks > rest ? weeks - rest + 1 : 1;
  int windows = glp_add_rows (p->programme, (int) n_windows);

  for (guint w = 0; w < n_windows; w++)
    glp_set_row_bnds (p->programme, windows + (int) w, GLP_UP, 0, kind->units);
  for (guint week = kind->first; week <= kind->last; week++)
    if (rotation_is_open (rotation, class, week))
      add_column (p, class, week, windows, n_windows);
}

static void
build (Programme *p, const Rotation *rotation)
{
  p->rotation = rotation;
  p->programme = glp_create_prob ();
  p->columns = g_new0 (int, rotation->n_classes * rotation->n_weeks);
  glp_set_obj_dir (p->programme, GLP_MIN);
  add_weeks (p);
  for (guint class = 0; class < rotation->n_classes; class ++)
    add_class (p, class);

  /* Nothing soaked and everything short is a plan: starting from it, the primal
   * simplex needs no first phase (measured 4 to 10 times as fast as the dual). */
  glp_std_basis (p->programme);
  for (guint w = 0; w < rotation->n_weeks; w++)
    {
      glp_set_col_stat (p->programme, p->short_column + (int) w, GLP_BS);
      glp_set_row_stat (p->programme, p->demand_row + (int) w, GLP_NS);
    }
}

/* Where @value gives the value of a column: of the linear or the whole programme. */
static double *
read_units (const Programme *p, double (*value) (glp_prob *, int))
{
  gsize n = p->rotation->n_classes * p->rotation->n_weeks;
  double *units = g_new0 (double, n);

  for (gsize i = 0; i < n; i++)
    if (p->columns[i] > 0)
      units[i] = value (p->programme, p->columns[i]);
  return units;
}

/* Rounds and improves; keeps the result in @best when it is better. */
static void
keep_better (const Rotation *rotation, Soaking *best, const double *units)
{
  g_autoptr (Soaking) rounded = soaking_new (rotation);

  soaking_round (rounded, units);
  soaking_improve (rounded);
  if (soaking_cost (rounded) < soaking_cost (best))
    {
      Soaking swap = *best;
      *best = *rounded;
      *rounded = swap;
    }
}

static void
search_cb (glp_tree *tree, void *data)
{
  Search *search = data;
  int node = glp_ios_best_node (tree);

  if (node > 0)
    search->bound = MAX (search->bound, glp_ios_node_bound (tree, node));
  if (glp_ios_reason (tree) == GLP_ISELECT && --search->nodes_left < 0)
    glp_ios_terminate (tree);
}

static int
time_left (const Rotation *rotation)
{
  return (int) ((rotation->deadline - g_get_monotonic_time ()) / 1000);
}

/* Branch and bound over whole units. Returns the bound it reached. */
static double
solve_whole (Programme *p, Soaking *best, double bound)
{
  const Rotation *rotation = p->rotation;
  Search search = { bound, MOST_WORK / glp_get_num_cols (p->programme) };
  glp_iocp options;
  gsize n = rotation->n_classes * rotation->n_weeks;

  for (gsize i = 0; i < n; i++)
    if (p->columns[i] > 0)
      glp_set_col_kind (p->programme, p->columns[i], GLP_IV);
  glp_init_iocp (&options);
  options.msg_lev = GLP_MSG_OFF;
  options.cb_func = search_cb;
  options.cb_info = &search;
  options.tm_lim = MAX (time_left (rotation), 1);
  int failed = glp_intopt (p->programme, &options);
  int status = glp_mip_status (p->programme);
  if (status == GLP_OPT || status == GLP_FEAS)
    {
      g_autofree double *units = read_units (p, glp_mip_col_val);
      keep_better (rotation, best, units);
    }
  return !failed && status == GLP_OPT ? glp_mip_obj_val (p->programme) : search.bound;
}

static void
run_simplex (Programme *p, int time_limit_ms)
{
  glp_smcp options;

  glp_init_smcp (&options);
  options.msg_lev = GLP_MSG_OFF;
  options.meth = GLP_PRIMAL;
  options.tm_lim = time_limit_ms;
  glp_simplex (p->programme, &options);
}

/* By prices, for what simplex cannot do in time. */
static double
solve_by_prices (const Rotation *rotation, Soaking *best)
{
  g_autofree double *units = g_new0 (double, rotation->n_classes * rotation->n_weeks);
  double bound = rotation_price (rotation, soaking_cost (best), units);

  keep_better (rotation, best, units);
  return bound;
}

static double
solve (Programme *p, Soaking *best)
{
  const Rotation *rotation = p->rotation;
  gboolean is_small = glp_get_num_cols (p->programme) <= MOST_WHOLE_COLUMNS;
  double priced = is_small ? 0 : solve_by_prices (rotation, best);

  soaking_improve (best);
  run_simplex (p, MAX (time_left (rotation), 1));
  int status = glp_get_status (p->programme);
  if (status == GLP_OPT || status == GLP_FEAS)
    {
      g_autofree double *units = read_units (p, glp_get_col_prim);
      keep_better (rotation, best, units);
    }
  if (status != GLP_OPT)
    return is_small ? solve_by_prices (rotation, best) : priced;
  double bound = glp_get_obj_val (p->programme);
  if (is_small && soaking_cost (best) - bound > 1e-6 * MAX (1, bound))
    {
      soaking_replan (best);
      bound = MAX (bound, solve_whole (p, best, bound));
    }
  return bound;
}

double
rotation_solve (const Rotation *rotation, Soaking *soaking)
{
  Programme programme = { 0 };

  if (rotation->n_classes * rotation->n_weeks > MOST_COLUMNS)
    return solve_by_prices (rotation, soaking);
  glp_term_out (GLP_OFF);
  build (&programme, rotation);
  double bound = solve (&programme, soaking);
  glp_delete_prob (programme.programme);
  glp_free_env ();
  g_free (programme.columns);
  return bound;
}
