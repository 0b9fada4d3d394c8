#include "yard/advice.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "science/units.h"

/* Crib tiers are laid with air between their logs; less than this share of the usual air dries
 * badly after rain: common practice, no source. */
#define LEAST_AIR 0.25

/* 85-95 % shade in the yard: D. B. Hill, Shiitake: Monitoring Moisture (FOR-82), University of
 * Kentucky. Other sources say 60-80 % cloth; the sentence gives the figure. */
#define LEAST_SHADE 0.75

/* Room to walk between: bases about 3 ft apart, D. B. Hill, Shiitake: Incubation and Stacking
 * (FOR-83), University of Kentucky. Half of that is where no one gets through. */
#define LEAST_AISLE 0.45

static void
advice_free (gpointer data)
{
  BedAdvice *advice = data;

  g_free (advice->sentence);
  g_free (advice);
}

/* Takes @sentence. */
static void
say (GPtrArray *all, BedAdviceAbout about, char *sentence, const char *source)
{
  BedAdvice *advice = g_new0 (BedAdvice, 1);

  advice->about = about;
  advice->sentence = sentence;
  advice->source = source;
  g_ptr_array_add (all, advice);
}

static char *
format_length (const BedNotation *notation, double metres)
{
  gint64 um = llround (metres * 1e6);

  if (metres < 0.5)
    return bed_measure_format_unit_said (BED_MEASURE_LENGTH, notation, um);
  return bed_measure_format_unit_rounded (BED_MEASURE_LENGTH_LONG, notation, 1, um);
}

static void
advise_pile (GPtrArray *all, const BedPile *pile, const BedNotation *notation)
{
  BedStackRules rules = { 0 };
  g_autofree char *height = format_length (notation, pile->height);
  g_autofree char *gap = format_length (notation, pile->gap);

  if (pile->over > 0)
    say (all, BED_ADVICE_TOO_MANY,
         g_strdup_printf (ngettext ("%u log more than it holds (%u): add a tier or move it.",
                                    "%u logs more than it holds (%u): add tiers or move some.",
                                    pile->over),
                          pile->over, pile->holds),
         _ ("its own tiers"));
  /* Only piles have a highest: leaning and standing logs are as high as they are long. */
  bed_stack_rules (pile->kind, &rules, NULL);
  if (rules.max_height > 0 && pile->height > rules.max_height / 1000 + 0.01)
    say (all, BED_ADVICE_TOO_HIGH,
         g_strdup_printf (_ ("%s high: it may topple, and the top logs are lifted far. Build a "
                             "second stack."),
                          height),
         _ ("common practice"));
  if (pile->kind == BED_STACK_CRIB && pile->gap < LEAST_AIR * rules.air * pile->diameter)
    say (all, BED_ADVICE_TOO_TIGHT,
         g_strdup_printf (_ ("Only %s between logs: too tight to dry after rain. Lay fewer in a "
                             "tier."),
                          gap),
         _ ("common practice"));
}

/* A corner of the footprint beyond the area's own box. */
static gboolean
is_outside (const BedScene *scene, guint index)
{
  const BedYardStack *stack = scene->yard->stacks->pdata[index];
  BedPoint corners[4];

  bed_yard_footprint (scene, index, &stack->pose, corners);
  for (guint i = 0; i < 4; i++)
    if (corners[i].x < -0.01 || corners[i].y < -0.01 || corners[i].x > scene->yard->width + 0.01
        || corners[i].y > scene->yard->depth + 0.01)
      return TRUE;
  return FALSE;
}

static void
advise_neighbour (GPtrArray *all, const BedScene *scene, guint index, const BedNotation *notation)
{
  const BedYardStack *stack = scene->yard->stacks->pdata[index];
  BedMeasurement measured;
  int nearest = bed_yard_nearest (scene, index, &stack->pose, &measured);

  if (nearest < 0 || measured.distance >= LEAST_AISLE)
    return;
  const BedYardStack *other = scene->yard->stacks->pdata[nearest];
  g_autofree char *apart = format_length (notation, measured.distance);
  say (all, BED_ADVICE_TOO_NEAR,
       measured.distance > 0 ? g_strdup_printf (
           _ ("Only %s from %s: about %s lets you walk and air pass."), apart, other->name,
           notation->system == BED_SYSTEM_US ? _ ("3 ft") : _ ("0.9 m"))
                             : g_strdup_printf (_ ("It stands in %s."), other->name),
       _ ("D. B. Hill, FOR-83, University of Kentucky"));
}

/* A shade cloth over the middle of the stack. */
static gboolean
is_covered (const BedScene *scene, const BedPose *pose)
{
  for (guint i = 0; i < scene->shapes->len; i++)
    {
      const BedShape *shape = &g_array_index (scene->shapes, BedShape, i);
      if (shape->role != BED_SHAPE_FEATURE)
        continue;
      const BedYardFeature *feature = scene->yard->features->pdata[shape->owner];
      if ((feature->kind == BED_FEATURE_SHADE_CLOTH || feature->kind == BED_FEATURE_TREE
           || feature->kind == BED_FEATURE_BUILDING)
          && bed_shape_distance (shape, (BedPoint){ pose->x, pose->y }) <= 0)
        return TRUE;
    }
  return FALSE;
}

GPtrArray *
bed_yard_advice (const BedScene *scene, guint index, const BedNotation *notation)
{
  GPtrArray *all = g_ptr_array_new_with_free_func (advice_free);
  const BedYard *yard = scene->yard;

  g_return_val_if_fail (index < yard->stacks->len, all);
  const BedYardStack *stack = yard->stacks->pdata[index];
  advise_pile (all, scene->piles->pdata[index], notation);
  if (yard->shade >= 0 && yard->shade < LEAST_SHADE && !is_covered (scene, &stack->pose))
    say (all, BED_ADVICE_SUN,
         g_strdup_printf (_ ("In the sun: the area has %.0f %% shade, a laying yard wants 85–95 "
                             "%%. Move it under cloth or trees."),
                          100 * yard->shade),
         _ ("D. B. Hill, FOR-82, University of Kentucky"));
  advise_neighbour (all, scene, index, notation);
  if (is_outside (scene, index))
    say (all, BED_ADVICE_OUTSIDE, g_strdup (_ ("It stands outside the area.")),
         _ ("the area's own size"));
  return all;
}
