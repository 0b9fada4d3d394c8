#pragma once

#include "model/farm/farm.h"
#include "print/page/document.h"
#include <gtk/gtk.h>

/* What a page shows on paper: the figures, grids of words and tables inside @shown, these with all
 * their rows, under their headings. Charts are left out: what they draw has no words. */
BedDocument *bed_shown_document_new (BedFarm *farm, GtkWidget *shown, const char *title,
                                     const BedPaper *paper);
