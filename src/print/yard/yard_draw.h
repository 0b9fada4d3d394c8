#pragma once

#include "print/page/text.h"
#include "print/yard/yard_look.h"
#include "science/measure.h"
#include "yard/elevation.h"
#include "yard/scene.h"
#include <glib.h>

/* The yard on a cairo context: window, page and picture draw through here. The
 * context's unit is the view's screen unit (a pixel, a point). */

/* How much of a stack is drawn: every log; or, from afar, bars of colour and hatch, then one block
 * striped by its batches. */
typedef enum
{
  BED_DETAIL_ALL,
  BED_DETAIL_BY_SCALE,
} BedDetail;

typedef struct
{
  const BedPalette *palette;
  BedTypesetter *type; /* borrowed */
  BedColourBy colour_by;
  double text_size; /* of names, in screen units: 11 on a screen, 8 on paper */
  BedSystem system; /* of lengths written on it */
  BedDetail detail;
} BedYardStyle;

/* One drawing: what, how, and looked at how. */
typedef struct
{
  const BedScene *scene;
  const BedYardStyle *style;
  BedViewport view;
} BedPlan;

/* The ground with its grid and its features. */
void bed_plan_draw_ground (cairo_t *cr, const BedPlan *plan);

/* Stack @index: its shadow, its logs. */
void bed_plan_draw_stack (cairo_t *cr, const BedPlan *plan, guint index);

/* Whether any of it is in the view. */
gboolean bed_plan_sees_stack (const BedPlan *plan, guint index);

/* In the upper right corner, in the lower left one. */
void bed_plan_draw_north (cairo_t *cr, const BedPlan *plan);
void bed_plan_draw_scale_bar (cairo_t *cr, const BedPlan *plan);

typedef struct
{
  const BedElevation *elevation;
  const BedYardStyle *style;
  BedViewport view;
  const GArray *lifted; /* gint64, logs in the hand: their places are drawn as if free; or NULL */
} BedElevationDrawing;

/* The stack from its end: rails, logs, free slots. */
void bed_elevation_draw (cairo_t *cr, const BedElevationDrawing *drawing);

/* One log end with its middle at @at and @radius screen units. */
void bed_log_end_draw (cairo_t *cr, const BedYardLog *log, BedPoint at, double radius,
                       const BedYardStyle *style);

/* Where one log lies on the screen, from the middle of one end to that of the other. */
typedef struct
{
  BedPoint from, to;
  double radius;
} BedLogBar;

/* The log from its side. */
void bed_log_bar_draw (cairo_t *cr, const BedYardLog *log, const BedLogBar *bar,
                       const BedYardStyle *style);

/* Metres to the unit lengths of yards are written in (m, ft). */
double bed_yard_unit (BedSystem system);

/* A small picture to know a kind of stack by, standing in @box. */
void bed_stack_sketch_draw (cairo_t *cr, BedStackKind kind, const BedBox *box,
                            const BedYardStyle *style);

/* What the drawing's colours make of it: see yard_look.h. */
int bed_log_class (const BedYardLog *log, const BedYardStyle *style);
BedLogLook bed_log_look (const BedYardLog *log, const BedYardStyle *style);

/* Internal to the drawing: a feature's shape; a path through points of the world, left open. */
void bed_feature_draw (cairo_t *cr, const BedPlan *plan, const BedShape *shape);
void bed_plan_trace (cairo_t *cr, const BedPlan *plan, const BedPoint *points, guint n);
