#pragma once

#include "app/yard/yard_view.h"
#include "print/yard/yard_draw.h"
#include "science/measure.h"
#include <glib.h>

/* One stack seen from the side, log by log. Logs are dragged between its places
 * and to other stacks; with the keyboard arrows walk the places, Enter picks a
 * log up and sets it down, Esc puts it back, Delete takes it out of the stack.
 *
 * Signals:
 *   "log-selected" (gint64 log)                        0: a free place, or none
 *   "log-moved" (gint64 log, guint tier, guint slot)   set down in this stack; it may come from
 *                                                      another
 *   "log-taken-out" (gint64 log) */
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
