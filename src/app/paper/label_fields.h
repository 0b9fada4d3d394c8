#pragma once

#include "app/paper/papers.h"
#include <gtk/gtk.h>

/* On which sheet labels go, where on it they start, how many there are, and what is said of crates:
 * a fault stands at its field. */
#define BED_TYPE_LABEL_FIELDS (bed_label_fields_get_type ())
G_DECLARE_FINAL_TYPE (BedLabelFields, bed_label_fields, BED, LABEL_FIELDS, GtkBox)

/* "changed" is emitted when something else is to be printed. */
BedLabelFields *bed_label_fields_new (BedFarm *farm);

/* For that offer: the sheets that are large enough for it, the last one used or the usual one. */
void bed_label_fields_set_offer (BedLabelFields *self, const BedPrintOffer *offer);

/* What stands in the fields, into the choice and the offer. FALSE with the fault, which stands at
 * its field too. */
gboolean bed_label_fields_read (BedLabelFields *self, BedPrintOffer *offer, BedPrintChoice *choice,
                                GError **error);

/* What is wrong with the pages, NULL for nothing. TRUE when a field says it. */
gboolean bed_label_fields_say (BedLabelFields *self, const GError *error);

/* Keeps the sheet, where it goes on after @n labels, and by how much the printer is off on it. */
void bed_label_fields_remember (BedLabelFields *self, const BedPrintChoice *choice, guint n);
