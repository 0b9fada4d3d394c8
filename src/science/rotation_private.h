#pragma once

/* Inside the rotation: classes of units, and a plan that can be changed step by
 * step. Shared by rotation.c (what is asked and answered), rotation_search.c
 * (greedy, rounding, exchanges), rotation_prices.c (a bound by prices) and rotation_solver.c
 * (GLPK). */

#include "science/rotation.h"

/* Groups that are alike. What is soaked at once is a unit: a log, or the whole
 * group where it may not be split. */
typedef struct
{
  guint units;
  guint unit_logs;
  double unit_kg; /* of a unit, per soak */
  guint first;    /* week, 0 = the first of the plan */
  guint last;
  guint rest; /* weeks; 0: the rotation's */
} RotationClass;

typedef struct
{
  const BedRotationProblem *problem;
  RotationClass *classes; /* in an order that does not depend on the order of groups */
  guint n_classes;
  guint n_weeks;
  guint rest;      /* weeks, no more than the plan has */
  gint64 deadline; /* monotonic microseconds; the search stops there with what it has */
} Rotation;

typedef struct
{
  const Rotation *rotation;
  guint *units;    /* n_classes x n_weeks: soaked */
  guint *tank;     /* logs in the tank, by week */
  double *harvest; /* kg, by week */
} Soaking;

Soaking *soaking_new (const Rotation *rotation);
void soaking_free (Soaking *soaking);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Soaking, soaking_free)

static inline guint *
soaking_at (const Soaking *soaking, guint class, guint week)
{
  return &soaking->units[class * soaking->rotation->n_weeks + week];
}

/* Weeks from a soak of a unit of @class to its next, no more than the plan has. */
static inline guint
rotation_rest (const Rotation *rotation, guint class)
{
  guint own = rotation->classes[class].rest;

  return own ? MIN (own, rotation->n_weeks) : rotation->rest;
}

static inline gboolean
rotation_is_late (const Rotation *rotation)
{
  return g_get_monotonic_time () > rotation->deadline;
}

gboolean rotation_is_open (const Rotation *rotation, guint class, guint week);
double soaking_cost (const Soaking *soaking);

/* The longest-rested units each week, while they bring the cost down. */
void soaking_fill_greedily (Soaking *soaking);
/* Whole units from the broken ones of the linear programme (n_classes x n_weeks). */
void soaking_round (Soaking *soaking, const double *units);
/* Adds and moves single units while that brings the cost down. Taking them off as well made
 * 9 plans of 81 cheaper and 16 dearer. */
void soaking_improve (Soaking *soaking);
/* Empties a few weeks on end, one stretch after the other, and fills them anew;
 * keeps what turns out better. */
void soaking_replan (Soaking *soaking);

/* Solves the linear programme, then whole numbers where that can be had in time.
 * @soaking comes with the greedy plan and leaves with the best one found.
 * Returns a bound no plan can beat. */
double rotation_solve (const Rotation *rotation, Soaking *soaking);

/* A bound no plan can beat, by prices; below @cost, which a plan is known to have. Sets @units
 * (n_classes x n_weeks) to a broken plan near it, for soaking_round(). */
double rotation_price (const Rotation *rotation, double cost, double *units);
