#pragma once

#include "app/import/import_sheet.h"
#include <gtk/gtk.h>

/* What each column of the sheet is taken as: its head, its first cells, our field, the unit, how
 * it is read. Each of the last three can be decided otherwise.
 *
 * Signal "look" (guint column): somebody wants to see the question about it. */
#define BED_TYPE_IMPORT_COLUMNS (bed_import_columns_get_type ())
G_DECLARE_FINAL_TYPE (BedImportColumns, bed_import_columns, BED, IMPORT_COLUMNS, GtkWidget)

GtkWidget *bed_import_columns_new (void);

/* What was understood: in a handler of the sheet's signals. NULL: nothing. */
void bed_import_columns_show (BedImportColumns *self, BedImportSheet *sheet);
