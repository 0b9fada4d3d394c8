#pragma once

#include "model/farm/farm.h"
#include <gtk/gtk.h>

/* A batch's colour and hatch, as the yard draws it, with its code beside it. */
#define BED_TYPE_BATCH_MARK (bed_batch_mark_get_type ())
G_DECLARE_FINAL_TYPE (BedBatchMark, bed_batch_mark, BED, BATCH_MARK, GtkWidget)

GtkWidget *bed_batch_mark_new (BedFarm *farm);

/* @code may be NULL. A batch that never lay in a stack is bare wood, as there. */
void bed_batch_mark_show (BedBatchMark *self, gint64 batch, const char *code);

/* Reads the marks of all batches, for a page that shows some: FALSE when they could not be. Until
 * then a mark is not drawn. */
gboolean bed_batch_mark_read (BedFarm *farm, GError **error);

/* The mark alone, over that box; bare wood until they are read. */
void bed_batch_mark_draw (cairo_t *cr, BedFarm *farm, gint64 batch, const GdkRectangle *box);
