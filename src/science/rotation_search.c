#include "science/rotation_private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A change smaller than this is rounding, in weighted kg: without it two equal
 * plans could be exchanged for ever. */
#define LEAST_GAIN 1e-9
#define MOST_PASSES 50
#define MOST_REPLANNED 8

typedef struct
{
  guint class;
  guint week;
  double remainder;
} Place;

Soaking *
soaking_new (const Rotation *rotation)
{
  Soaking *soaking = g_new0 (Soaking, 1);

  soaking->rotation = rotation;
  soaking->units = g_new0 (guint, rotation->n_classes * rotation->n_weeks);
  soaking->tank = g_new0 (guint, rotation->n_weeks);
  soaking->harvest = g_new0 (double, rotation->n_weeks);
  return soaking;
}

void
soaking_free (Soaking *soaking)
{
  if (soaking == NULL)
    return;
  g_free (soaking->units);
  g_free (soaking->tank);
  g_free (soaking->harvest);
  g_free (soaking);
}

gboolean
rotation_is_open (const Rotation *rotation, guint class, guint week)
{
  const RotationClass *kind = &rotation->classes[class];

  return week >= kind->first && week <= kind->last && !rotation->problem->weeks[week].closed;
}

static double
week_cost (const Rotation *rotation, guint week, double harvest)
{
  double over = harvest - rotation->problem->weeks[week].demand_kg;

  return over > 0 ? over * rotation->problem->surplus_weight
                  : -over * rotation->problem->shortfall_weight;
}

/* The fullest window of rest weeks that holds @week. */
static guint
find_fullest (const Soaking *soaking, guint class, guint week)
{
  const Rotation *rotation = soaking->rotation;
  guint rest = rotation_rest (rotation, class);
  guint start = week + 1 >= rest ? week + 1 - rest : 0;
  guint end = MIN (week + rest, rotation->n_weeks);
  guint sum = 0;
  guint most = 0;

  for (guint w = start; w < end; w++)
    {
      sum += *soaking_at (soaking, class, w);
      if (w >= start + rest)
        sum -= *soaking_at (soaking, class, w - rest);
      most = MAX (most, sum);
    }
  return most;
}

/* Units that may still be added to @class in @week. */
static guint
room (const Soaking *soaking, guint class, guint week)
{
  const RotationClass *kind = &soaking->rotation->classes[class];

  if (!rotation_is_open (soaking->rotation, class, week))
    return 0;
  guint tank = (soaking->rotation->problem->tank_logs - soaking->tank[week]) / kind->unit_logs;
  return tank > 0 ? MIN (tank, kind->units - find_fullest (soaking, class, week)) : 0;
}

/* Adds units, or takes them off when @units is negative, without asking for room. */
static void
add (Soaking *soaking, guint class, guint week, int units)
{
  const Rotation *rotation = soaking->rotation;
  const RotationClass *kind = &rotation->classes[class];

  *soaking_at (soaking, class, week) += (guint) units;
  soaking->tank[week] += (guint) units * kind->unit_logs;
  for (gsize lag = 0; lag < rotation->problem->n_lags && week + lag + 1 < rotation->n_weeks; lag++)
    soaking->harvest[week + lag + 1] += units * kind->unit_kg * rotation->problem->lag_shares[lag];
}

/* What add() would add to the cost. */
static double
change_by (const Soaking *soaking, guint class, guint week, int units)
{
  const Rotation *rotation = soaking->rotation;
  double kg = units * rotation->classes[class].unit_kg;
  double change = 0;

  for (gsize lag = 0; lag < rotation->problem->n_lags && week + lag + 1 < rotation->n_weeks; lag++)
    {
      guint w = week + (guint) lag + 1;
      double harvest = soaking->harvest[w] + kg * rotation->problem->lag_shares[lag];
      change += week_cost (rotation, w, harvest) - week_cost (rotation, w, soaking->harvest[w]);
    }
  return change;
}

/* Summed afresh, so that a long search leaves no rounding in it. */
double
soaking_cost (const Soaking *soaking)
{
  const Rotation *rotation = soaking->rotation;
  g_autofree double *kg = g_new0 (double, rotation->n_weeks);
  g_autofree double *harvest = g_new (double, rotation->n_weeks);
  double cost = 0;

  for (guint class = 0; class < rotation->n_classes; class ++)
    for (guint week = 0; week < rotation->n_weeks; week++)
      kg[week] += *soaking_at (soaking, class, week) * rotation->classes[class].unit_kg;
  bed_rotation_harvest (kg, rotation->n_weeks, rotation->problem->lag_shares,
                        rotation->problem->n_lags, harvest);
  for (guint week = 0; week < rotation->n_weeks; week++)
    cost += week_cost (rotation, week, harvest[week]);
  return cost;
}

/* When the unit next in turn was last soaked; before its first week for one never
 * soaked, so that the class which has waited longest comes first. */
static int
find_last_soak (const Soaking *soaking, guint class, guint week)
{
  const Rotation *rotation = soaking->rotation;
  const RotationClass *kind = &rotation->classes[class];
  guint since = 0;

  /* Backwards over one round of the class: the oldest soak in it is that of the
   * unit next in turn. */
  for (guint w = week + 1; w-- > kind->first;)
    {
      since += *soaking_at (soaking, class, w);
      if (since >= kind->units)
        return (int) w;
    }
  return (int) kind->first - (int) rotation_rest (rotation, class);
}

/* What a class can do in a week, worked out anew only when it was soaked. */
typedef struct
{
  gboolean passed; /* no room, or no use */
  int last_soak;
} Turn;

static Turn
turn_of (const Soaking *soaking, guint class, guint week)
{
  if (room (soaking, class, week) == 0)
    return (Turn){ TRUE, 0 };
  return (Turn){ FALSE, find_last_soak (soaking, class, week) };
}

/* The class with room this week whose next unit has rested longest, or -1. */
static int
find_longest_rested (const Soaking *soaking, guint week, const Turn *turns)
{
  const Rotation *rotation = soaking->rotation;
  guint left = rotation->problem->tank_logs - soaking->tank[week];
  int best = -1;

  for (guint class = 0; class < rotation->n_classes; class ++)
    if (!turns[class].passed && rotation->classes[class].unit_logs <= left
        && (best < 0 || turns[class].last_soak < turns[best].last_soak))
      best = (int) class;
  return best;
}

void
soaking_fill_greedily (Soaking *soaking)
{
  const Rotation *rotation = soaking->rotation;
  g_autofree Turn *turns = g_new0 (Turn, rotation->n_classes);

  for (guint week = 0; week < rotation->n_weeks; week++)
    {
      int class;
      for (guint c = 0; c < rotation->n_classes; c++)
        turns[c] = turn_of (soaking, c, week);
      while ((class = find_longest_rested (soaking, week, turns)) >= 0)
        if (change_by (soaking, (guint) class, week, 1) < -LEAST_GAIN)
          {
            add (soaking, (guint) class, week, 1);
            turns[class] = turn_of (soaking, (guint) class, week);
          }
        else
          turns[class].passed = TRUE;
    }
}

/* Largest remainder first; then in the order of classes and weeks. */
static int
compare_places (const void *a, const void *b)
{
  const Place *one = a;
  const Place *other = b;

  if (one->remainder < other->remainder || one->remainder > other->remainder)
    return one->remainder > other->remainder ? -1 : 1;
  if (one->class != other->class)
    return one->class < other->class ? -1 : 1;
  return one->week < other->week ? -1 : one->week > other->week;
}

/* Rounding down keeps every limit, since all only forbid too much. */
void
soaking_round (Soaking *soaking, const double *units)
{
  const Rotation *rotation = soaking->rotation;
  g_autoptr (GArray) places = g_array_new (FALSE, FALSE, sizeof (Place));

  for (guint class = 0; class < rotation->n_classes; class ++)
    for (guint week = 0; week < rotation->n_weeks; week++)
      {
        double value = units[class * rotation->n_weeks + week];
        double down = floor (value + 1e-6);
        Place place = { class, week, value - down };
        if (down > 0)
          add (soaking, class, week, (int) MIN (down, room (soaking, class, week)));
        if (place.remainder > 1e-6)
          g_array_append_val (places, place);
      }
  g_array_sort (places, compare_places);
  for (guint i = 0; i < places->len; i++)
    {
      const Place *place = &g_array_index (places, Place, i);
      if (room (soaking, place->class, place->week) > 0
          && change_by (soaking, place->class, place->week, 1) < -LEAST_GAIN)
        add (soaking, place->class, place->week, 1);
    }
}

static gboolean
try_add (Soaking *soaking, guint class, guint week)
{
  if (!rotation_is_open (soaking->rotation, class, week)
      || change_by (soaking, class, week, 1) >= -LEAST_GAIN || room (soaking, class, week) == 0)
    return FALSE;
  add (soaking, class, week, 1);
  return TRUE;
}

/* Takes a unit off; puts one into @other in @later where that is better still
 * than what was there. */
static gboolean
try_move (Soaking *soaking, guint class, guint week, guint other, guint later)
{
  if (*soaking_at (soaking, class, week) == 0
      || !rotation_is_open (soaking->rotation, other, later))
    return FALSE;
  double change = change_by (soaking, class, week, -1);
  add (soaking, class, week, -1);
  change += change_by (soaking, other, later, 1);
  if (change < -LEAST_GAIN && room (soaking, other, later) > 0)
    {
      add (soaking, other, later, 1);
      return TRUE;
    }
  add (soaking, class, week, 1);
  return FALSE;
}

/* All that can be done with the soaks of one class in one week. */
static gboolean
improve_place (Soaking *soaking, guint class, guint week)
{
  gboolean better = FALSE;

  while (try_add (soaking, class, week))
    better = TRUE;
  for (guint w = 0; w < soaking->rotation->n_weeks; w++)
    if (w != week && try_move (soaking, class, week, class, w))
      better = TRUE;
  for (guint c = 0; c < soaking->rotation->n_classes; c++)
    if (c != class && try_move (soaking, class, week, c, week))
      better = TRUE;
  return better;
}

void
soaking_improve (Soaking *soaking)
{
  const Rotation *rotation = soaking->rotation;
  gboolean better = TRUE;

  for (int pass = 0; better && pass < MOST_PASSES; pass++)
    {
      better = FALSE;
      for (guint class = 0; class < rotation->n_classes && !rotation_is_late (rotation); class ++)
        for (guint week = 0; week < rotation->n_weeks; week++)
          if (rotation_is_open (rotation, class, week) && improve_place (soaking, class, week))
            better = TRUE;
    }
}

static void
copy_into (Soaking *soaking, const Soaking *from)
{
  const Rotation *rotation = from->rotation;

  memcpy (soaking->units, from->units,
          rotation->n_classes * rotation->n_weeks * sizeof *from->units);
  memcpy (soaking->tank, from->tank, rotation->n_weeks * sizeof *from->tank);
  memcpy (soaking->harvest, from->harvest, rotation->n_weeks * sizeof *from->harvest);
}

static void
empty_weeks (Soaking *soaking, guint start, guint end)
{
  for (guint class = 0; class < soaking->rotation->n_classes; class ++)
    for (guint week = start; week < end; week++)
      add (soaking, class, week, -(int) *soaking_at (soaking, class, week));
}

/* Adds, one at a time, the unit that brings the cost down most. */
static void
fill_weeks (Soaking *soaking, guint start, guint end)
{
  for (;;)
    {
      double least = -LEAST_GAIN;
      Place best = { 0 };
      for (guint class = 0; class < soaking->rotation->n_classes; class ++)
        for (guint week = start; week < end; week++)
          {
            double change = change_by (soaking, class, week, 1);
            if (change >= least || room (soaking, class, week) == 0)
              continue;
            least = change;
            best = (Place){ class, week, 1 };
          }
      if (best.remainder <= 0)
        return;
      add (soaking, best.class, best.week, 1);
    }
}

void
soaking_replan (Soaking *soaking)
{
  const Rotation *rotation = soaking->rotation;
  g_autoptr (Soaking) trial = soaking_new (rotation);
  double cost = soaking_cost (soaking);

  for (guint width = 1; width <= MOST_REPLANNED && width <= rotation->n_weeks; width++)
    for (guint start = 0; start + width <= rotation->n_weeks; start++)
      {
        copy_into (trial, soaking);
        empty_weeks (trial, start, start + width);
        fill_weeks (trial, start, start + width);
        soaking_improve (trial);
        double trial_cost = soaking_cost (trial);
        if (trial_cost >= cost - LEAST_GAIN)
          continue;
        cost = trial_cost;
        copy_into (soaking, trial);
      }
}
