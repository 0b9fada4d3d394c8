#pragma once

#include "print/yard/yard_draw.h"

/* Where the names of the stacks and the labels of what else is there stand, laid out for one scale
 * at a time so that none covers another, nor another stack: the same wherever the drawing is looked
 * at, and in however many pieces it is drawn. */
typedef struct _BedYardNames BedYardNames;

/* Borrows both. */
BedYardNames *bed_yard_names_new (const BedScene *scene, const BedYardStyle *style);
void bed_yard_names_free (BedYardNames *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedYardNames, bed_yard_names_free)

/* Measures them ahead, for at most @budget microseconds; FALSE when there are more. */
gboolean bed_yard_names_measure (BedYardNames *self, gint64 budget);

/* All stay within @limits from now on, screen units from the area's own origin, y down: a sheet of
 * paper. */
void bed_yard_names_limit (BedYardNames *self, const BedBox *limits);

/* For that many screen units to a metre. A name that finds no place is left out. */
void bed_yard_names_lay (BedYardNames *self, double scale);

/* The stacks of the yard, then its features. */
guint bed_yard_names_get_n (const BedYardNames *self);

/* The box of name @index, screen units from the area's own origin, y down; FALSE when there is none
 * or it is left out. */
gboolean bed_yard_names_get (const BedYardNames *self, guint index, BedBox *box);

/* Those that reach into the view, which has the scale they were laid out for. */
void bed_yard_names_draw (BedYardNames *self, cairo_t *cr, const BedViewport *view);

/* All there is to see of the ground: it, the stacks, their names with, when there is room, what
 * lies in them. */
void bed_plan_draw (cairo_t *cr, const BedPlan *plan, BedYardNames *names);
