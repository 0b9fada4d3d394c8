#pragma once

#include "app/yard/yard_view.h"
#include "print/yard/yard_draw.h"
#include "science/measure.h"
#include <glib.h>

/* One stack seen from the side, log by log. A click chooses a log, with Shift all from the last one
 * to it, with Ctrl it, too; what is chosen is dragged together between the places and to other
 * stacks. With the keyboard arrows walk the places (with Shift they choose), Space chooses one
 * more, Ctrl+A all, Enter picks up what is chosen and sets it down, Esc puts it back, Delete takes
 * it out of the stack.
 *
 * Signals:
 *   "log-selected" (gint64 log)      the one with the frame; 0: a free place, or none
 *   "log-opened" (gint64 log)        a double press
 *   "logs-chosen" (guint)            how many are
 *   "logs-moved" (gpointer, guint tier, guint slot)   set down in this stack: a const GArray * of
 *                                    gint64; they may come from another
 *   "logs-taken-out" (gpointer)      a const GArray * of gint64 */
#define BED_TYPE_YARD_ELEVATION (bed_yard_elevation_get_type ())
G_DECLARE_FINAL_TYPE (BedYardElevation, bed_yard_elevation, BED, YARD_ELEVATION, GtkWidget)

/* @flow: how the faces of a stack follow each other. */
GtkWidget *bed_yard_elevation_new (BedFacesFlow flow);

/* Borrows @stack (may be NULL): set another, or NULL, before it goes. @notation: for the sizes that
 * are spoken; copied. */
void bed_yard_elevation_set_stack (BedYardElevation *self, const BedYardStack *stack,
                                   const BedNotation *notation);

void bed_yard_elevation_set_colour_by (BedYardElevation *self, BedColourBy colour_by);

/* Another day's stack can only be looked at. */
void bed_yard_elevation_set_mode (BedYardElevation *self, BedYardMode mode);

/* The log with the frame, or 0. */
gint64 bed_yard_elevation_get_log (BedYardElevation *self);
void bed_yard_elevation_select_log (BedYardElevation *self, gint64 log);

/* Element gint64: the logs that are chosen, or the one with the frame. Borrowed until the next
 * signal. */
const GArray *bed_yard_elevation_get_chosen (BedYardElevation *self);

/* Of the log with the frame: its tier, its batch; or all. */
typedef enum
{
  BED_LOGS_OF_TIER,
  BED_LOGS_OF_BATCH,
  BED_LOGS_ALL
} BedLogsAlike;

void bed_yard_elevation_choose (BedYardElevation *self, BedLogsAlike alike);
