#pragma once

#include <gtk/gtk.h>

#include "app/paper/papers.h"

/* The window everything is printed from: what, on which sheet, a preview, then the
 * print dialog or a PDF. The first of @offers is chosen; they are copied (their
 * days, too; their logs are referenced). What would not fit is said here, before
 * anything is printed. */
void bed_paper_dialog_show (GtkWidget *inside, BedFarm *farm, const BedPrintOffer *offers,
                            guint n_offers);

/* The same for what a page shows, called @title. */
void bed_paper_dialog_show_page (GtkWidget *page, BedFarm *farm, const char *title);
