#include "model/season/soak_plan.h"

#include <math.h>
#include <string.h>

#include "model/farm/functions.h"
#include "model/farm/query.h"
#include "model/farm/value.h"
#include "science/forecast.h"

#define MG_PER_KG 1e6
#define LEVEL 0.8
#define TIME_LIMIT_MS 400

/* Logs that are forced, by the stack they lie in and their batch. */
#define GROUPS                                                                                     \
  "SELECT coalesce (k.name || ' · ', '') || f.batch_code, coalesce (f.stack, 0), f.batch,"        \
  " count (*), max (f.ready_on) AS ready, f.rest_weeks,"                                           \
  " sum (f.inside = 0 AND f.ready_on <= bed_today ())"                                             \
  " FROM log_forced f LEFT JOIN stack k ON k.id = f.stack"                                         \
  " GROUP BY f.stack, f.batch ORDER BY ready, k.name, f.batch_code"

/* Soaked logs by day, with the stack and batch they are in today. */
#define SOAKS                                                                                      \
  "SELECT date (s.put_in), coalesce (x.stack, 0), l.batch, count (*)"                              \
  " FROM soak s JOIN soaked d ON d.soak = s.id JOIN log l ON l.id = d.log"                         \
  " LEFT JOIN place x ON x.log = l.id AND x.until IS NULL"                                         \
  " WHERE date (s.put_in) >= ?1 GROUP BY 1, 2, 3"

static void
free_group (BedSoakGroup *group)
{
  g_free (group->name);
  g_free (group->ready_on);
  g_free (group);
}

void
bed_soak_plan_free (BedSoakPlan *plan)
{
  g_clear_pointer (&plan->given, bed_soak_given_unref);
  g_free (plan->first_day);
  g_clear_pointer (&plan->groups, g_ptr_array_unref);
  g_clear_pointer (&plan->bars, g_array_unref);
  g_free (plan->picked_kg);
  g_free (plan->followed_kg);
  g_free (plan->expected_kg);
  g_free (plan->forecast);
  g_free (plan);
}

/* Weeks from the plan's first to that of @date; before it, negative. */
static int
find_week (const BedSoakPlan *plan, const char *date)
{
  int days = bed_date_days (plan->first_day, date);

  return days >= 0 ? days / 7 : -((6 - days) / 7);
}

static gboolean
read_groups (BedSoakPlan *plan, BedFarm *farm, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (farm, GROUPS);

  while (bed_query_next (q))
    {
      BedSoakGroup *group = g_new0 (BedSoakGroup, 1);
      group->name = g_strdup (bed_query_text (q, 0));
      group->stack = bed_query_int (q, 1);
      group->batch = bed_query_int (q, 2);
      group->logs = bed_query_int (q, 3);
      group->ready_on = g_strdup (bed_query_text (q, 4));
      group->rest_weeks = bed_query_int (q, 5);
      group->ready_logs = bed_query_int (q, 6);
      g_ptr_array_add (plan->groups, group);
    }
  return bed_query_finish (q, error);
}

static gboolean
find_group (const BedSoakPlan *plan, gint64 stack, gint64 batch, guint *index)
{
  for (guint i = 0; i < plan->groups->len; i++)
    {
      const BedSoakGroup *group = plan->groups->pdata[i];
      *index = i;
      if (group->stack == stack && group->batch == batch)
        return TRUE;
    }
  return FALSE;
}

static void
add_bar (BedSoakPlan *plan, const BedSoakBar *bar)
{
  for (guint i = 0; i < plan->bars->len; i++)
    {
      BedSoakBar *old = &g_array_index (plan->bars, BedSoakBar, i);
      if (old->week == bar->week && old->group == bar->group && old->state == bar->state)
        {
          old->logs += bar->logs;
          return;
        }
    }
  g_array_append_val (plan->bars, *bar);
}

static gboolean
read_soaks (BedSoakPlan *plan, BedFarm *farm, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (farm, SOAKS);

  bed_query_bind_text (q, 1, plan->first_day);
  while (bed_query_next (q))
    {
      int week = find_week (plan, bed_query_text (q, 0));
      BedSoakBar bar = { MAX (week, 0), 0, bed_query_int (q, 3), BED_SOAK_DONE };

      if (week >= 0 && week < (int) plan->n_weeks
          && find_group (plan, bed_query_int (q, 1), bed_query_int (q, 2), &bar.group))
        add_bar (plan, &bar);
    }
  return bed_query_finish (q, error);
}

static gboolean
read_picks (BedSoakPlan *plan, BedFarm *farm, GError **error)
{
  g_autoptr (BedQuery) q
      = bed_query_new (farm, "SELECT picked_on, sum (mass) FROM pick WHERE picked_on >= ?1"
                             " AND bed_pick_week (since, picked_on) IS NOT NULL GROUP BY 1");

  bed_query_bind_text (q, 1, plan->first_day);
  while (bed_query_next (q))
    {
      int week = find_week (plan, bed_query_text (q, 0));
      if (week >= 0 && week < (int) plan->n_weeks)
        plan->picked_kg[week] += bed_query_int (q, 1) / MG_PER_KG;
    }
  return bed_query_finish (q, error);
}

static gboolean
read_months (BedSoakPlan *plan, BedFarm *farm, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (farm, "SELECT month FROM soak_month");

  while (bed_query_next (q))
    plan->soaks_in[bed_query_int (q, 0) - 1] = TRUE;
  return bed_query_finish (q, error);
}

/* Of the picks, those that followed a soak. */
static void
set_followed (BedSoakPlan *plan)
{
  GHashTableIter iter;
  gpointer day, kg;

  g_hash_table_iter_init (&iter, plan->given->by_day);
  while (g_hash_table_iter_next (&iter, &day, &kg))
    {
      int week = find_week (plan, day);
      if (week >= 0 && week < (int) plan->n_weeks)
        plan->followed_kg[week] += *(double *) kg;
    }
}

/* What a log gives a soak, of each group; the plan's is their mean. */
static void
set_kg (BedSoakPlan *plan, int season)
{
  double kg = 0;
  guint logs = 0;

  for (guint i = 0; i < plan->groups->len; i++)
    {
      BedSoakGroup *group = plan->groups->pdata[i];

      group->kg_per_log = bed_soak_given_get_kg (plan->given, group->batch, season);
      plan->kg_is_own = plan->kg_is_own
                        || bed_soak_given_is_own (plan->given, group->batch, season);
      kg += group->logs * group->kg_per_log;
      logs += group->logs;
    }
  plan->kg_per_log = logs ? kg / logs : bed_soak_given_get_kg (plan->given, 0, season);
}

/* The settings; what is not set is what keeps all logs in turn. */
static void
read_settings (BedSoakPlan *plan, BedFarm *farm)
{
  BedRecord *settings = bed_farm_get_settings (farm);
  double even = 0;
  guint logs = 0;

  for (guint i = 0; i < plan->groups->len; i++)
    {
      const BedSoakGroup *group = plan->groups->pdata[i];
      even += group->logs * group->kg_per_log / MAX (group->rest_weeks, 1);
      logs += group->logs;
    }
  plan->demand_is_set = bed_record_has (settings, "weekly_demand");
  plan->demand_kg = plan->demand_is_set ? bed_record_get_int (settings, "weekly_demand") / MG_PER_KG
                                        : even;
  plan->tank_logs = bed_record_has (settings, "tank_capacity")
                        ? bed_record_get_int (settings, "tank_capacity")
                        : logs;
}

/* The farm's own weeks say how far off such a reckoning is. */
static gboolean
forecast (BedSoakPlan *plan, GError **error)
{
  BedForecastPast past[BED_SOAK_PLAN_WEEKS_BACK];

  for (guint w = 0; w < BED_SOAK_PLAN_WEEKS_BACK; w++)
    past[w] = (BedForecastPast){ plan->expected_kg[w], plan->followed_kg[w] };
  return bed_forecast (past, G_N_ELEMENTS (past), plan->expected_kg + BED_SOAK_PLAN_WEEKS_BACK,
                       BED_SOAK_PLAN_WEEKS_AHEAD, LEVEL, plan->forecast + BED_SOAK_PLAN_WEEKS_BACK,
                       error);
}

static BedSoakPlan *
make_plan (void)
{
  BedSoakPlan *plan = g_new0 (BedSoakPlan, 1);

  plan->n_weeks = BED_SOAK_PLAN_WEEKS_BACK + BED_SOAK_PLAN_WEEKS_AHEAD;
  plan->groups = g_ptr_array_new_with_free_func ((GDestroyNotify) free_group);
  plan->bars = g_array_new (FALSE, FALSE, sizeof (BedSoakBar));
  plan->picked_kg = g_new0 (double, plan->n_weeks);
  plan->followed_kg = g_new0 (double, plan->n_weeks);
  plan->expected_kg = g_new0 (double, plan->n_weeks);
  plan->forecast = g_new0 (BedInterval, plan->n_weeks);
  return plan;
}

BedSoakPlan *
bed_soak_plan_new_done (BedFarm *farm, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), NULL);
  g_autoptr (BedSoakPlan) plan = make_plan ();
  g_autofree char *monday = bed_date_monday (bed_farm_get_today (farm));
  g_autoptr (BedSoakGiven) given = bed_soak_given_new (farm, bed_farm_get_today (farm), error);

  plan->first_day = bed_date_add (monday, -7 * BED_SOAK_PLAN_WEEKS_BACK);
  if (!given
      || !bed_soak_given_expect (given, farm, plan->first_day, plan->n_weeks, plan->expected_kg,
                                 error))
    return NULL;
  plan->given = g_steal_pointer (&given);
  set_followed (plan);
  forecast (plan, NULL); /* where the weeks differ too much, what is expected stands alone */
  return g_steal_pointer (&plan);
}

BedSoakPlan *
bed_soak_plan_new (BedFarm *farm, GError **error)
{
  g_autoptr (BedSoakPlan) plan = bed_soak_plan_new_done (farm, error);

  if (!plan || !read_groups (plan, farm, error) || !read_soaks (plan, farm, error)
      || !read_picks (plan, farm, error) || !read_months (plan, farm, error))
    return NULL;
  set_kg (plan, bed_season_of (farm, bed_farm_get_today (farm)));
  read_settings (plan, farm);
  return g_steal_pointer (&plan);
}

static void *
copy_group (gconstpointer source, gpointer data)
{
  const BedSoakGroup *from = source;
  BedSoakGroup *group = g_memdup2 (from, sizeof *from);

  group->name = g_strdup (from->name);
  group->ready_on = g_strdup (from->ready_on);
  return group;
}

BedSoakPlan *
bed_soak_plan_copy (const BedSoakPlan *plan)
{
  g_return_val_if_fail (plan != NULL, NULL);
  gsize n = plan->n_weeks;
  BedSoakPlan *copy = g_memdup2 (plan, sizeof *plan);

  copy->given = NULL;
  copy->first_day = g_strdup (plan->first_day);
  copy->groups = g_ptr_array_copy (plan->groups, copy_group, NULL);
  g_ptr_array_set_free_func (copy->groups, (GDestroyNotify) free_group);
  copy->bars = g_array_copy (plan->bars);
  copy->picked_kg = g_memdup2 (plan->picked_kg, n * sizeof (double));
  copy->followed_kg = g_memdup2 (plan->followed_kg, n * sizeof (double));
  copy->expected_kg = g_memdup2 (plan->expected_kg, n * sizeof (double));
  copy->forecast = g_memdup2 (plan->forecast, n * sizeof (BedInterval));
  return copy;
}

/* A week is what its Monday is. */
static gboolean
is_closed (const BedSoakPlan *plan, guint week)
{
  g_autofree char *monday = bed_date_add (plan->first_day, 7 * (int) week);

  return !plan->soaks_in[g_ascii_strtoll (monday + 5, NULL, 10) - 1];
}

/* The groups that may be soaked within the plan; @index maps them to the plan's. */
static GArray *
make_rotation_groups (const BedSoakPlan *plan, GArray *index)
{
  GArray *groups = g_array_new (FALSE, FALSE, sizeof (BedRotationGroup));

  for (guint i = 0; i < plan->groups->len; i++)
    {
      const BedSoakGroup *from = plan->groups->pdata[i];
      /* One that is ready in the middle of a week is soaked in the next. */
      int days = bed_date_days (plan->first_day, from->ready_on);
      int first = (days + 6) / 7 - BED_SOAK_PLAN_WEEKS_BACK + 1;
      /* A stack is lifted as a whole, unless the tank is too small for it. */
      BedRotationGroup group = { from->name,
                                 from->logs,
                                 from->kg_per_log,
                                 MAX (first, 1),
                                 BED_SOAK_PLAN_WEEKS_AHEAD,
                                 from->logs <= plan->tank_logs,
                                 from->rest_weeks };
      if (group.first_week > BED_SOAK_PLAN_WEEKS_AHEAD)
        continue;
      g_array_append_val (groups, group);
      g_array_append_val (index, i);
    }
  return groups;
}

static void
take_planned (BedSoakPlan *plan, const BedRotationPlan *rotation, GArray *index)
{
  for (guint i = 0; i < rotation->soaks->len; i++)
    {
      const BedSoak *soak = &g_array_index (rotation->soaks, BedSoak, i);
      BedSoakBar bar = { BED_SOAK_PLAN_WEEKS_BACK + soak->week - 1,
                         g_array_index (index, guint, soak->group), soak->logs, BED_SOAK_PLANNED };
      add_bar (plan, &bar);
    }
  for (guint w = 0; w < BED_SOAK_PLAN_WEEKS_AHEAD; w++)
    plan->expected_kg[BED_SOAK_PLAN_WEEKS_BACK + w] += rotation->harvest_kg[w];
  plan->status = rotation->status;
}

gboolean
bed_soak_plan_solve (BedSoakPlan *plan, GError **error)
{
  g_return_val_if_fail (plan != NULL, FALSE);
  g_autoptr (GArray) index = g_array_new (FALSE, FALSE, sizeof (guint));
  g_autoptr (GArray) groups = make_rotation_groups (plan, index);
  BedRotationWeek weeks[BED_SOAK_PLAN_WEEKS_AHEAD];

  if (groups->len == 0)
    return forecast (plan, error);
  for (guint w = 0; w < BED_SOAK_PLAN_WEEKS_AHEAD; w++)
    {
      /* What the soaks already done bring is taken off. */
      double left = plan->demand_kg - plan->expected_kg[BED_SOAK_PLAN_WEEKS_BACK + w];
      gboolean closed = is_closed (plan, BED_SOAK_PLAN_WEEKS_BACK + w);
      weeks[w] = (BedRotationWeek){ MAX (left, 0), closed };
    }
  BedRotationProblem problem = {
    .groups = (const BedRotationGroup *) groups->data,
    .n_groups = groups->len,
    .weeks = weeks,
    .n_weeks = G_N_ELEMENTS (weeks),
    .lag_shares = bed_soak_lag_shares,
    .n_lags = BED_SOAK_N_LAGS,
    .tank_logs = MAX (plan->tank_logs, 1),
    .rest_weeks = 1, /* of a group whose strain needs none */
    /* What is over can be dried; a log that is not soaked is a crop lost. */
    .shortfall_weight = 1,
    .surplus_weight = 0.1,
    .time_limit_ms = TIME_LIMIT_MS,
  };
  g_autoptr (BedRotationPlan) rotation = bed_rotation_plan_new (&problem, error);
  if (!rotation)
    return FALSE;
  take_planned (plan, rotation, index);
  return forecast (plan, error);
}

double
bed_soak_plan_get_week_mass (const BedSoakPlan *plan, const char *day)
{
  g_return_val_if_fail (plan != NULL && day != NULL, NAN);
  int week = find_week (plan, day);

  if (week < 0 || week >= (int) plan->n_weeks)
    return NAN;
  const BedInterval *forecast = &plan->forecast[week];
  return MG_PER_KG
         * (forecast->known == BED_KNOWN_INTERVAL ? forecast->estimate : plan->expected_kg[week]);
}
