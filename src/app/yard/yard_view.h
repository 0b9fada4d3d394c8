#pragma once

#include "print/yard/yard_draw.h"
#include <gtk/gtk.h>

/* The yard seen from above. Pan with the pointer, scroll or + and - to zoom, 0 to
 * see it all; drag a stack, or turn it by its handle; drag a corner of the area or
 * of what stands in it, which shows itself under the pointer; Tab walks the stacks,
 * arrows nudge (0.1 m or a quarter foot, with Shift ten times that), R turns,
 * Space selects, Enter opens, Esc lets go. While a stack is in the hand only the
 * picture moves: one signal when it is set down.
 *
 * Signals:
 *   "selected" (gint64 stack)            0 for none
 *   "opened" (gint64 stack)              Enter or double click
 *   "moved" (gint64 stack, gpointer pose)     set down at a const BedPose *
 *   "built" (guint kind, gpointer pose)       a kind of stack put down
 *   "log-dropped" (gint64 stack, gint64 log)  a log dragged onto a stack
 *   "shaped" (gpointer corner, gpointer point)  a const BedCorner * (yard_corner.h) of the area or
 *                                        of something in it, set down at a const BedPoint *
 *   "zoomed" ()                          the scale changed */
#define BED_TYPE_YARD_VIEW (bed_yard_view_get_type ())
G_DECLARE_FINAL_TYPE (BedYardView, bed_yard_view, BED, YARD_VIEW, GtkWidget)

GtkWidget *bed_yard_view_new (void);

/* Takes @yard (may be NULL). What was in the hand is let go; the part looked at stays unless the
 * area is another. */
void bed_yard_view_set_yard (BedYardView *self, BedYard *yard);

/* The scene being shown, or NULL; borrowed until the next set_yard. */
const BedScene *bed_yard_view_get_scene (BedYardView *self);

void bed_yard_view_set_colour_by (BedYardView *self, BedColourBy colour_by);

/* Of the lengths written in it; before the first set_yard. */
void bed_yard_view_set_system (BedYardView *self, BedSystem system);

/* Another day's yard can be looked at, not changed. */
typedef enum
{
  BED_YARD_LOOK,
  BED_YARD_CHANGE
} BedYardMode;

void bed_yard_view_set_mode (BedYardView *self, BedYardMode mode);

gint64 bed_yard_view_get_selected (BedYardView *self);
void bed_yard_view_select (BedYardView *self, gint64 stack);

/* Gives the keyboard to the selected stack, or to the drawing. */
void bed_yard_view_focus_selected (BedYardView *self);

/* The next click puts a stack of that kind down; Enter puts it in the middle, Esc lets go. */
void bed_yard_view_place (BedYardView *self, BedStackKind kind);

void bed_yard_view_zoom (BedYardView *self, double factor);
void bed_yard_view_fit (BedYardView *self);

/* Screen units to a metre. */
double bed_yard_view_get_scale (BedYardView *self);

/* Lets go of what is in the hand, and shows the yard as it is. */
void bed_yard_view_let_go (BedYardView *self);
