#pragma once

#include "model/farm/farm.h"
#include "print/page/document.h"
#include <gtk/gtk.h>

/* What a page shows on paper: the figures, grids of words and tables inside @shown, these with all
 * their rows, under their headings. Charts are drawn as they are on the screen, in the ink of
 * a white sheet. */
BedDocument *bed_shown_document_new (BedFarm *farm, GtkWidget *shown, const char *title,
                                     const BedPaper *paper);
