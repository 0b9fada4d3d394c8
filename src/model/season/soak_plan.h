#pragma once

#include "model/farm/farm.h"
#include "model/season/soak_given.h"
#include "science/rotation.h"
#include "science/statistics.h"

/* The soaks behind and ahead, week by week (Monday to Sunday), and what they bring.
 *
 * A group is what is lifted together: the logs of one batch in one stack. What a log
 * gives a soak is a share of what the crop's model says of it, learned of the picks that followed
 * the farm's soaks, before there are any a published mass (soak_given.h). */

#define BED_SOAK_PLAN_WEEKS_BACK 8
#define BED_SOAK_PLAN_WEEKS_AHEAD 16

typedef struct
{
  char *name;   /* "Crib 4 · 26A" */
  gint64 stack; /* 0 when it lies in none */
  gint64 batch;
  guint logs;
  guint ready_logs; /* that may be soaked today */
  char *ready_on;   /* YYYY-MM-DD, the day the rest or first spawn run of all of them is over */
  guint rest_weeks;
  double kg_per_log; /* fresh mass a log of it gives a soak */
} BedSoakGroup;

typedef enum
{
  BED_SOAK_DONE,
  BED_SOAK_PLANNED,
} BedSoakState;

typedef struct
{
  guint week;  /* 0 is the first of the plan, BED_SOAK_PLAN_WEEKS_BACK this one */
  guint group; /* index */
  guint logs;
  BedSoakState state;
} BedSoakBar;

typedef struct
{
  BedSoakGiven *given; /* what it reckons with; none of a copy's */
  char *first_day;     /* Monday of week 0 */
  guint n_weeks;
  GPtrArray *groups;      /* BedSoakGroup, those soaked longest ago first */
  GArray *bars;           /* BedSoakBar, done before bed_soak_plan_solve(), then planned too */
  double kg_per_log;      /* fresh mass a log gives a soak, over all groups */
  gboolean kg_is_own;     /* of one group at least it is the farm's own, not the published one */
  double demand_kg;       /* a week */
  gboolean demand_is_set; /* in the settings; else what an even harvest would be */
  guint tank_logs;
  gboolean soaks_in[12]; /* months of the year, January first, in which soaks go on */
  double *picked_kg;     /* by week, up to this one */
  double *followed_kg;   /* of it, what followed soaks */
  double *expected_kg;   /* by week, of the soaks done and, once solved, planned */
  BedInterval *forecast; /* by week, 80 %, after solving; from this week on */
  BedRotationStatus status;
} BedSoakPlan;

/* Reads the farm; what is planned is still to be solved. */
BedSoakPlan *bed_soak_plan_new (BedFarm *farm, GError **error);

/* The same without groups and what hangs on them: what the soaks on record should bring. */
BedSoakPlan *bed_soak_plan_new_done (BedFarm *farm, GError **error);

/* One that another thread may solve. */
BedSoakPlan *bed_soak_plan_copy (const BedSoakPlan *plan);

/* Plans the weeks ahead. Asks nothing of the farm: any thread may do it. FALSE with the words
 * of bed_rotation_plan_new() when it cannot be planned. */
gboolean bed_soak_plan_solve (BedSoakPlan *plan, GError **error);

/* What the week of @day should bring, mg, by the soaks done and, once solved, planned: from this
 * week on as the farm's last weeks turned out, where two of them or more tell. NAN outside of the
 * plan's weeks. */
double bed_soak_plan_get_week_mass (const BedSoakPlan *plan, const char *day);

void bed_soak_plan_free (BedSoakPlan *plan);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedSoakPlan, bed_soak_plan_free)
