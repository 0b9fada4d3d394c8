#pragma once

#include "yard/viewport.h"
#include <gtk/gtk.h>

/* A drawing of the ground in square pieces that are kept: looking about only lays the pieces
 * elsewhere. Pieces are drawn anew when what they show changed or the scale did, a few to a frame,
 * those seen first; until then the old ones stand, at the new size. */
typedef struct _BedYardTiles BedYardTiles;

/* Draws what @view shows on @cr; the view is a piece, its scale the one looked at. */
typedef void (*BedTileDraw) (cairo_t *cr, const BedViewport *view, gpointer data);

BedYardTiles *bed_yard_tiles_new (BedTileDraw draw, gpointer data);
void bed_yard_tiles_free (BedYardTiles *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedYardTiles, bed_yard_tiles_free)

/* All is to be drawn anew, when there is time; at once; or the pieces that show that part of the
 * ground, at once. */
void bed_yard_tiles_refresh (BedYardTiles *self);
void bed_yard_tiles_forget (BedYardTiles *self);
void bed_yard_tiles_forget_part (BedYardTiles *self, const BedExtent *part);

/* Lays the pieces @view shows on @snapshot, @device pixels to a screen unit, and draws missing ones
 * for @budget microseconds, the last of them to its end. FALSE: some are still to be drawn, ask
 * again with the next frame. */
gboolean bed_yard_tiles_snapshot (BedYardTiles *self, GtkSnapshot *snapshot,
                                  const BedViewport *view, int device, gint64 budget);
