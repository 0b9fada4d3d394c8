#include "yard/advice.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "model/farm/say.h"
#include "science/units.h"
#include "yard/features.h"
#include "yard/ground.h"

/* Crib tiers are laid with air between their logs; less than this share of the usual air dries
 * badly after rain: common practice, no source. */
#define LEAST_AIR 0.25

/* A crib of metre logs is laid to 1.2 m (science/stack.h): so many times its footing's width. */
#define MOST_SLENDER 1.2

/* 85-95 % shade in the yard: D. B. Hill, Shiitake: Monitoring Moisture (FOR-82), University of
 * Kentucky. Other sources say 60-80 % cloth; the sentence gives the figure. */
#define LEAST_SHADE 0.75

/* Half of an aisle is where no one gets through: ours, no source. */
#define LEAST_AISLE 0.5

/* Less than this of a stack under cover is in the sun; squares across it that are looked at. */
#define LEAST_COVER 0.5
#define SQUARES 6

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
advise_height (GPtrArray *all, const BedYardStack *stack, const BedPile *pile,
               const BedNotation *notation)
{
  g_autofree char *height = format_length (notation, pile->height);
  g_autofree char *width = format_length (notation, MIN (pile->length, pile->width));
  double most = stack->rules.max_height / 1000;

  /* Only piles have a highest: leaning and standing logs are as high as they are long. */
  if (most > 0 && pile->height > most + 0.01)
    say (all, BED_ADVICE_TOO_HIGH,
         g_strdup_printf (_ ("%s high: it may topple, and the top logs are lifted far. Build a "
                             "second stack."),
                          height),
         _ ("common practice"));
  else if (pile->kind == BED_STACK_CRIB
           && pile->height > MOST_SLENDER * MIN (pile->length, pile->width) + 0.01)
    say (all, BED_ADVICE_UNSTEADY,
         g_strdup_printf (_ ("%s high on a footing %s wide: it may topple. Lay fewer tiers."),
                          height, width),
         _ ("common practice"));
}

static gboolean
has_stage (const BedYardStack *stack, BedStage stage)
{
  for (guint i = 0; i < stack->logs->len; i++)
    if (((BedYardLog *) stack->logs->pdata[i])->stage == stage)
      return TRUE;
  return FALSE;
}

/* Air between the logs, by what they are at: after rain they must dry, and a flush needs room. */
static void
advise_air (GPtrArray *all, const BedYardStack *stack, const BedPile *pile,
            const BedNotation *notation)
{
  g_autofree char *gap = format_length (notation, pile->gap);

  if (pile->kind == BED_STACK_CRIB && pile->gap < LEAST_AIR * stack->rules.air * pile->diameter)
    say (all, BED_ADVICE_TOO_TIGHT,
         g_strdup_printf (has_stage (stack, BED_STAGE_SPAWN_RUN)
                              ? _ ("Only %s between logs: too tight for the spawn run, they do not "
                                   "dry after rain. Lay fewer in a tier.")
                              : _ ("Only %s between logs: too tight to dry after rain. Lay fewer "
                                   "in a tier."),
                          gap),
         _ ("common practice"));
  if (pile->kind == BED_STACK_DEAD && has_stage (stack, BED_STAGE_FRUITING))
    say (all, BED_ADVICE_TOO_TIGHT,
         g_strdup (_ ("Logs that fruit lie close: mushrooms have no room, and no one can pick "
                      "them. Stand the logs up.")),
         _ ("common practice"));
}

static void
advise_pile (GPtrArray *all, const BedYardStack *stack, const BedPile *pile,
             const BedNotation *notation)
{
  if (pile->over > 0)
    say (all, BED_ADVICE_TOO_MANY,
         bed_say (ngettext ("%u log more than it holds (%u): add a tier or move it.",
                            "%u logs more than it holds (%u): add tiers or move some.", pile->over),
                  pile->over, pile->holds),
         _ ("its own tiers"));
  advise_height (all, stack, pile, notation);
  advise_air (all, stack, pile, notation);
}

static void
advise_neighbour (GPtrArray *all, const BedScene *scene, guint index, const BedNotation *notation)
{
  const BedYardStack *stack = scene->yard->stacks->pdata[index];
  BedMeasurement measured;
  int nearest = bed_yard_nearest (scene, index, &stack->pose, &measured);

  if (nearest < 0 || measured.distance >= LEAST_AISLE * scene->yard->aisle)
    return;
  const BedYardStack *other = scene->yard->stacks->pdata[nearest];
  g_autofree char *apart = format_length (notation, measured.distance);
  g_autofree char *aisle = format_length (notation, scene->yard->aisle);
  say (all, BED_ADVICE_TOO_NEAR,
       measured.distance > 0 ? g_strdup_printf (
           _ ("Only %s from %s: about %s lets you walk and air pass."), apart, other->name, aisle)
                             : g_strdup_printf (_ ("It stands in %s."), other->name),
       _ ("D. B. Hill, FOR-83, University of Kentucky"));
}

/* --- on the ground ------------------------------------------------------------------ */

static gboolean
covers (const BedYardFeature *feature)
{
  return feature->kind == BED_FEATURE_SHADE_CLOTH || feature->kind == BED_FEATURE_TREE
         || feature->kind == BED_FEATURE_BUILDING;
}

static gboolean
is_covered (const GPtrArray *covers, BedPoint point)
{
  for (guint i = 0; i < covers->len; i++)
    if (bed_shape_distance (covers->pdata[i], point) <= 0)
      return TRUE;
  return FALSE;
}

/* Whether the boxes around both have ground in common: what is far off is asked no more. */
static gboolean
is_near (const BedShape *a, const BedShape *b)
{
  BedExtent one = bed_shape_extent (a), other = bed_shape_extent (b);

  return one.x <= other.x + other.width && other.x <= one.x + one.width
         && one.y <= other.y + other.height && other.y <= one.y + one.height;
}

static BedShape
get_footprint (const BedScene *scene, guint index, BedPoint corners[4])
{
  const BedYardStack *stack = scene->yard->stacks->pdata[index];

  bed_yard_footprint (scene, index, &stack->pose, corners);
  return bed_shape_polygon (corners, 4);
}

/* The shapes that may cover some of the stack. */
static GPtrArray *
list_covers (const BedScene *scene, guint index)
{
  GPtrArray *all = g_ptr_array_new ();
  BedPoint corners[4];
  BedShape stack = get_footprint (scene, index, corners);

  for (guint i = 0; i < scene->shapes->len; i++)
    {
      BedShape *shape = &g_array_index (scene->shapes, BedShape, i);
      if (shape->role != BED_SHAPE_FEATURE) /* they come first */
        break;
      if (covers (scene->yard->features->pdata[shape->owner]) && is_near (shape, &stack))
        g_ptr_array_add (all, shape);
    }
  return all;
}

/* How much of the stack lies under cloth, crowns or a roof. */
static double
measure_cover (const BedScene *scene, guint index)
{
  const BedYardStack *stack = scene->yard->stacks->pdata[index];
  const BedPile *pile = scene->piles->pdata[index];
  g_autoptr (GPtrArray) covers = list_covers (scene, index);
  guint covered = 0;

  for (guint i = 0; i < SQUARES * SQUARES; i++)
    {
      BedPoint local = { ((i % SQUARES + 0.5) / SQUARES - 0.5) * pile->length,
                         ((i / SQUARES + 0.5) / SQUARES - 0.5) * pile->width };
      covered += is_covered (covers, bed_pose_point (&stack->pose, local));
    }
  return covered / (double) (SQUARES * SQUARES);
}

static void
advise_shade (GPtrArray *all, const BedScene *scene, guint index)
{
  const BedYard *yard = scene->yard;

  if (yard->shade < 0 || (yard->shade >= LEAST_SHADE && !yard->cloth)
      || measure_cover (scene, index) >= LEAST_COVER)
    return;
  say (all, BED_ADVICE_SUN,
       yard->shade < LEAST_SHADE
           ? bed_say (_ ("In the sun: the area has %.0f %% shade, a laying yard wants 85–95 "
                         "%%. Move it under cloth or trees."),
                      100 * yard->shade)
           : g_strdup (_ ("Outside the shade that the area is said to have: nothing drawn covers "
                          "it. Move it under the cloth.")),
       _ ("D. B. Hill, FOR-82, University of Kentucky"));
}

/* What stands or lies where the stack is. A cloth hangs over it, and so does a crown. */
static void
advise_feature (GPtrArray *all, const BedYardFeature *feature, const BedShape *stack)
{
  BedPoint corners[4];
  BedShape footing = bed_feature_get_footing (feature, corners);

  if (feature->kind == BED_FEATURE_SHADE_CLOTH || !is_near (&footing, stack)
      || !bed_shape_overlaps (&footing, stack))
    return;
  g_autofree char *name = bed_feature_dup_name (feature);
  gboolean path = feature->kind == BED_FEATURE_PATH;
  say (all, path ? BED_ADVICE_ON_PATH : BED_ADVICE_IN_THE_WAY,
       path ? g_strdup_printf (_ ("It stands on a way people walk (%s)."), name)
            /* Translators: a building, tank, pond, tree or fence */
            : g_strdup_printf (_ ("It stands where something else is (%s)."), name),
       _ ("what is drawn there"));
}

/* The widest of the narrower ways that lead out; 0 when none does. */
static double
find_breadth (const BedScene *scene, guint index)
{
  for (guint narrower = 1; narrower < BED_SCENE_WAYS; narrower++)
    if (bed_ways_leads_out (bed_scene_get_ways (scene, narrower), index))
      return BED_WAY_BREADTH - 0.1 * narrower;
  return 0;
}

static void
advise_ways (GPtrArray *all, const BedScene *scene, guint index, const BedNotation *notation)
{
  const BedWays *ways = bed_scene_get_ways (scene, 0);
  double most = scene->yard->to_water, water = bed_ways_to_water_most (ways, index);
  g_autofree char *wanted = format_length (notation, BED_WAY_BREADTH);

  if (water > most && (water = bed_ways_to_water (ways, index)) > most)
    {
      g_autofree char *far = format_length (notation, water);
      g_autofree char *said = format_length (notation, most);
      say (all, BED_ADVICE_FAR_FROM_WATER,
           g_strdup_printf (_ ("%s along the ground to water: wet logs are carried no farther than "
                               "about %s."),
                            far, said),
           _ ("the farm's settings, or common practice"));
    }
  if (bed_ways_leads_out (ways, index))
    return;
  double breadth = find_breadth (scene, index);
  g_autofree char *narrow = format_length (notation, breadth);
  say (all, BED_ADVICE_NO_WAY,
       breadth > 0 ? g_strdup_printf (
           _ ("The way out is only about %s wide: a person with a log needs %s."), narrow, wanted)
                   : g_strdup_printf (_ ("No way leads out of it: a person with a log needs %s."),
                                      wanted),
       _ ("common practice"));
}

static void
advise_ground (GPtrArray *all, const BedScene *scene, guint index, const BedNotation *notation)
{
  const BedYard *yard = scene->yard;
  BedPoint corners[4];
  BedShape shape = get_footprint (scene, index, corners),
           outline = bed_shape_polygon ((const BedPoint *) (gpointer) yard->outline->data,
                                        yard->outline->len);

  for (guint i = 0; i < yard->features->len; i++)
    advise_feature (all, yard->features->pdata[i], &shape);
  if (!bed_shape_lies_in (&shape, &outline))
    say (all, BED_ADVICE_OUTSIDE, g_strdup (_ ("It stands outside the area.")),
         _ ("the area's own outline"));
  advise_ways (all, scene, index, notation);
}

GPtrArray *
bed_yard_advice (const BedScene *scene, guint index, const BedNotation *notation)
{
  GPtrArray *all = g_ptr_array_new_with_free_func (advice_free);

  g_return_val_if_fail (index < scene->yard->stacks->len, all);
  const BedYardStack *stack = scene->yard->stacks->pdata[index];
  advise_pile (all, stack, scene->piles->pdata[index], notation);
  advise_shade (all, scene, index);
  advise_neighbour (all, scene, index, notation);
  advise_ground (all, scene, index, notation);
  return all;
}

BedStackLook *
bed_stack_look_new (const BedScene *scene, guint index, const BedNotation *notation)
{
  BedStackLook *look = g_new (BedStackLook, 1);

  look->advice = bed_yard_advice (scene, index, notation);
  look->to_water = bed_ways_to_water (bed_scene_get_ways (scene, 0), index);
  return look;
}

void
bed_stack_look_free (BedStackLook *look)
{
  g_ptr_array_unref (look->advice);
  g_free (look);
}
