#pragma once

#include "app/yard/yard_elevation.h"

/* Shared by yard_elevation.c (what is seen) and yard_elevation_input.c (choosing, pointer, keys).
 */

#define BED_ELEVATION_TEXT 11.0

struct _BedYardElevation
{
  GtkWidget parent_instance;
  BedFacesFlow flow;
  const BedYardStack *stack; /* borrowed */
  BedElevation *elevation;
  BedNotation notation;
  BedTypesetter *type;
  BedYardStyle style;
  BedViewport view;
  BedYardMode mode;
  GskRenderNode *still; /* all but the ring and what is in the hand; NULL: to be drawn anew */
  GPtrArray *spots;     /* GtkWidget of each end, borrowed */
  int at;               /* the end with the frame, or -1 */
  int anchor;           /* the end Shift chooses from, or -1 */
  GArray *chosen;       /* gint64: logs */
  gboolean lifted;      /* they are in the hand */
};

/* --- yard_elevation.c --- */

/* Of an end; NULL for none (-1), or where no log lies. */
const BedBar *bed_yard_elevation_bar_at (BedYardElevation *self, int end);
const BedYardLog *bed_yard_elevation_log_at (BedYardElevation *self, int end);

/* Which end is there; -1 for none. */
int bed_yard_elevation_hit (BedYardElevation *self, double x, double y);

void bed_yard_elevation_forget_still (BedYardElevation *self);
void bed_yard_elevation_go_to (BedYardElevation *self, int end);

/* How many are chosen, where that is more than one. */
void bed_yard_elevation_draw_count (BedYardElevation *self, cairo_t *cr, double x, double y);

/* --- yard_elevation_input.c --- */

void bed_yard_elevation_init_input (BedYardElevation *self);
void bed_yard_elevation_set_lifted (BedYardElevation *self, gboolean lifted);
gboolean bed_yard_elevation_is_chosen (BedYardElevation *self, const BedYardLog *log);
void bed_yard_elevation_pick_or_drop (BedYardElevation *self);
