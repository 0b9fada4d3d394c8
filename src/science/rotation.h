#pragma once

#include <glib.h>

/* Which logs to soak in which week, so that the harvest follows demand.
 *
 * Logs of a group are alike. A soak of n logs in week w brings n kg_per_log over
 * the weeks after it, by the lag shares. In any rest_weeks weeks on end no log is
 * soaked twice: the logs of a group soaked in such a window are no more than the
 * group has. That is enough for a plan log by log: always take the ones soaked
 * longest ago. Logs soaked before the plan begins are a group of their own, whose
 * first week is the one in which they have rested.
 *
 * The cost of a week is what is short of demand times the shortfall weight, or
 * what is over times the surplus weight. A linear programme (GLPK) gives a bound
 * no plan can beat; it is rounded to whole logs by largest remainder, improved
 * by exchanges, and where groups may not be split, or the season is small, closed
 * by branch and bound. Of a large season prices are looked for first, of a kilogram
 * and of a place in the tank in each week, by which every group is planned by
 * itself: they give a bound, too, and a plan to be rounded, and the largest are
 * left at that. The plan kept is never worse than taking the longest-rested logs
 * each week, which is computed beside it.
 *
 * Theory: the windows of one group are rows of consecutive ones, so the loss
 * by rounding is small (standard, from memory: D. R. Fulkerson, O. A. Gross,
 * "Incidence matrices and interval graphs", Pacific J. Math. 15:835-855, 1965).
 * The rest between soaks, 7 to 9 weeks, is a setting: the sources differ.
 *
 * The environment of GLPK is per thread and belongs to this module: a plan
 * leaves none behind, and nothing is printed. */

/* What a person is willing to wait for. */
#define BED_ROTATION_TIME_LIMIT_MS 1000

typedef struct
{
  const char *name;  /* for messages */
  guint logs;        /* >= 1 */
  double kg_per_log; /* fresh mass a log gives per soak, >= 0 */
  guint first_week;  /* in which it may be soaked, 1 = the first of the plan */
  guint last_week;   /* >= first_week; later than the plan is the plan's end */
  gboolean whole;    /* soaked all at once or not at all */
  guint rest_weeks;  /* of its strain; 0: the problem's */
} BedRotationGroup;

typedef struct
{
  double demand_kg; /* >= 0 */
  gboolean closed;  /* nothing is soaked in it; what was soaked before is still picked */
} BedRotationWeek;

typedef struct
{
  const BedRotationGroup *groups;
  gsize n_groups; /* 1 to 500 */
  const BedRotationWeek *weeks;
  gsize n_weeks;            /* 1 to 104 */
  const double *lag_shares; /* [0] is picked in the week after the soak; they sum to 1 */
  gsize n_lags;             /* 1 to 26 */
  guint tank_logs;          /* the tank holds, a week, >= 1 */
  guint rest_weeks;        /* from one soak of a log to its next, >= 1, where the group says none */
  double shortfall_weight; /* per kg, >= 0, not both 0 */
  double surplus_weight;
  guint time_limit_ms; /* 1 to 600000. Once reached,
                        * the plan is good but may differ from one machine to the next */
} BedRotationProblem;

typedef enum
{
  BED_ROTATION_OPTIMAL, /* cost = bound: there is no better plan */
  BED_ROTATION_NEAR,    /* no plan is better by more than cost - bound */
} BedRotationStatus;

typedef struct
{
  guint week;  /* 1 = the first */
  guint group; /* index in the problem */
  guint logs;
} BedSoak;

typedef struct
{
  BedRotationStatus status;
  double cost;        /* weighted kg over all weeks */
  double bound;       /* <= cost; by prices where the solver would run out of time */
  double greedy_cost; /* of taking the longest-rested logs: >= cost */
  GArray *soaks;      /* BedSoak, by week, then group */
  double *harvest_kg; /* by week, n_weeks of the problem */
} BedRotationPlan;

/* Plans the soaks of @problem. Groups alike in everything but their name share a
 * plan, and the order in which groups are given decides only between those.
 *
 * Error, in words with the group or week: a number out of range; lag shares that
 * do not sum to 1; a window that ends before it begins or begins after the plan;
 * a whole group that does not fit the tank.
 * Returns: (transfer full) free with bed_rotation_plan_free(). */
BedRotationPlan *bed_rotation_plan_new (const BedRotationProblem *problem, GError **error);
void bed_rotation_plan_free (BedRotationPlan *plan);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedRotationPlan, bed_rotation_plan_free)

/* What soaks bring in each of @n_weeks weeks, kg: @soaked_kg[w] is logs times kg
 * per log soaked in week w, picked by @lag_shares in the weeks after it. Sets
 * every place of @harvest_kg. What falls after the last week is lost to it. */
void bed_rotation_harvest (const double *soaked_kg, gsize n_weeks, const double *lag_shares,
                           gsize n_lags, double *harvest_kg);
