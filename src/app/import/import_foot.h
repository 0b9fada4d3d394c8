#pragma once

#include "app/import/import_sheet.h"
#include <gtk/gtk.h>

/* The last line: what would be added, and the button that adds it; while it does, how far it is.
 *
 * Signals "ask" (): the button was pressed while a question is open. "back" (): the last decision
 * is to be taken back. "brought" (const char *said): it is in the farm, in a sentence. */
#define BED_TYPE_IMPORT_FOOT (bed_import_foot_get_type ())
G_DECLARE_FINAL_TYPE (BedImportFoot, bed_import_foot, BED, IMPORT_FOOT, GtkWidget)

/* Totals are in the units of @farm. */
GtkWidget *bed_import_foot_new (BedFarm *farm);

/* In a handler of the sheet's signals. NULL: nothing. */
void bed_import_foot_show (BedImportFoot *self, BedImportSheet *sheet);

/* The keyboard to the button; where the sheet is still read, as soon as it has been. */
void bed_import_foot_enter (BedImportFoot *self);
