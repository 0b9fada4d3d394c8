#pragma once

#include "model/farm/stage.h"
#include "science/moisture.h"
#include "science/stack.h"
#include <glib.h>

/* One area of the yard as it lies on one day: plain structs for drawing, with no
 * farm and no window behind them. bed_yard_load() fills them from a farm.
 *
 * Lengths are metres, angles radians counter-clockwise. The origin is the
 * area's south-west corner, x runs east and y north before north is turned. */

typedef struct
{
  double x, y;
} BedPoint;

/* A box, from its south-west corner. */
typedef struct
{
  double x, y, width, height;
} BedExtent;

/* Where a stack stands: the middle of its footprint, and how it is turned from
 * its logs lying west to east. */
typedef struct
{
  double x, y;
  double turn;
} BedPose;

/* A point of the stack's own frame where the stack stands; the point from @a to @b nearest @p. */
BedPoint bed_pose_point (const BedPose *pose, BedPoint local);
BedPoint bed_point_nearest (BedPoint p, BedPoint a, BedPoint b);

typedef enum
{
  BED_FEATURE_TREE,
  BED_FEATURE_PATH,
  BED_FEATURE_POND,
  BED_FEATURE_TANK,
  BED_FEATURE_TAP,
  BED_FEATURE_FENCE,
  BED_FEATURE_BUILDING,
  BED_FEATURE_SHADE_CLOTH,
  BED_N_FEATURE_KINDS
} BedFeatureKind;

typedef struct
{
  gint64 id;
  char *code;
  char *brief;     /* what of the code tells it from the others in its stack; NULL: all of it */
  char *batch;     /* code; NULL when not inoculated */
  gint64 batch_id; /* 0: none */
  int mark;       /* which colour and hatch its batch has (see bed_mark_look); -1: no batch. Batches
                   * that lie in one area at one time have marks of their own */
  BedStage stage; /* of logs of a farm: when .staged */
  double length, diameter; /* the thicker end */
  double colonised;        /* 0 to 1 at the last check; negative when never checked */
  gboolean retired;
  int soaked;      /* days since it was last in the tank, 0 in it; -1: never was; see .stage */
  int age;         /* days since inoculation; -1: not inoculated */
  double moisture; /* percent of all mass at the last weighing of it, or of its batch's sample logs;
                    * NAN: none */
  double picked;   /* mg this season, its share of what its stack and batch gave too */
  guint tier, slot; /* from 1; 0 when nobody said where in the stack */
} BedYardLog;

typedef struct
{
  gint64 id;
  char *name;
  BedStackKind kind;
  BedPose pose;
  guint tiers, per_tier; /* 0: as usual for the kind */
  BedStackRules rules;   /* of the kind, as the farm has them (mm); a rail height of 0: as high as
                          * the logs' length asks for */
  char *shared;          /* what the codes of its logs have in common: "26A-…"; NULL: nothing */
  GPtrArray *logs;       /* BedYardLog, owned */
} BedYardStack;

/* What form a thing on the ground has. */
typedef enum
{
  BED_GROUND_POINT,
  BED_GROUND_DISC,
  BED_GROUND_BOX, /* a rectangle, turned */
  BED_GROUND_BAND,
  BED_GROUND_POLYGON,
  BED_N_GROUND_FORMS
} BedGroundForm;

/* It with its measures; see ground.h. */
typedef struct
{
  BedGroundForm form;
  GArray *points; /* BedPoint, at least one: the middle alone of a point, disc or box; the corners
                   * of a polygon, at least three; along the middle of a band */
  double turn;    /* of a box, from its width lying west to east */
  double width;   /* of a box or band */
  double depth;   /* of a box */
  double radius;  /* of a disc */
  double trunk;   /* diameter of a tree's; 0: not said */
} BedGround;

typedef struct
{
  gint64 id;
  BedFeatureKind kind;
  char *label; /* may be NULL */
  BedGround ground;
} BedYardFeature;

/* Logs of one stack are planned to go to another. */
typedef struct
{
  BedPoint from, to;
} BedYardArrow;

typedef struct
{
  gint64 id;
  char *name;
  double width, depth;
  double north;        /* how far north is turned from straight up */
  double shade;        /* 0 to 1; negative when not said */
  gboolean cloth;      /* its shade is said to be that of a cloth or building */
  BedBasis basis;      /* the farm's own of moisture */
  double aisle;        /* the farm's own between stacks */
  double to_water;     /* the farthest the farm carries logs to water */
  GArray *outline;     /* BedPoint; at least three */
  GPtrArray *features; /* BedYardFeature, owned */
  GPtrArray *stacks;   /* BedYardStack, owned */
  GArray *arrows;      /* BedYardArrow; none but in a plan */
  gboolean staged;     /* the stages of its logs were loaded */
} BedYard;

/* Bases about 3 ft apart: D. B. Hill, Shiitake: Incubation and Stacking (FOR-83), University of
 * Kentucky. A farm may say its own. */
#define BED_YARD_AISLE 0.9

/* Empty ones, to be filled; hand a log to a stack, and a stack or feature to a yard or free it. */
BedYardLog *bed_yard_log_new (void);
BedYardStack *bed_yard_stack_new (BedStackKind kind);
void bed_yard_stack_free (BedYardStack *stack);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedYardStack, bed_yard_stack_free)

/* Without points yet. */
BedYardFeature *bed_yard_feature_new (BedFeatureKind kind);
void bed_yard_feature_free (BedYardFeature *feature);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedYardFeature, bed_yard_feature_free)

/* An empty area of that size. */
BedYard *bed_yard_new (double width, double depth);
void bed_yard_free (BedYard *yard);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedYard, bed_yard_free)

/* The stack with that id and, through @index (may be NULL), its place; NULL when there is none. */
BedYardStack *bed_yard_find_stack (const BedYard *yard, gint64 id, guint *index);

/* The log with that id; NULL when it does not lie in it. */
const BedYardLog *bed_yard_stack_find_log (const BedYardStack *stack, gint64 id);

/* "24 logs of 26A", "24 logs of 26A and 26B", "no logs": free with g_free(). */
char *bed_yard_stack_contents (const BedYardStack *stack);

/* The same for where its log ends are drawn, whose codes are short: "24 logs of 26A · codes 26A-…".
 */
char *bed_yard_stack_about (const BedYardStack *stack);

/* The words the field table stores for these, and back; BED_N_… or UNKNOWN when
 * it is none of them. */
const char *bed_stack_kind_key (BedStackKind kind);
BedStackKind bed_stack_kind_from_key (const char *key);
BedFeatureKind bed_feature_kind_from_key (const char *key);
const char *bed_feature_kind_key (BedFeatureKind kind);
BedGroundForm bed_ground_form_from_key (const char *key);
const char *bed_ground_form_key (BedGroundForm form);

#define BED_YARD_ERROR (bed_yard_error_quark ())
GQuark bed_yard_error_quark (void);

typedef enum
{
  BED_YARD_ERROR_OUTLINE, /* cannot be read as corners */
} BedYardError;

/* Corners as people write them, "3 2, 5 2.5": metres with a decimal point. An
 * array of BedPoint, or NULL with BED_YARD_ERROR_OUTLINE and a sentence. */
GArray *bed_outline_parse (const char *text, GError **error);
char *bed_outline_format (const GArray *points);
