#pragma once

#include "app/import/import_sheet.h"
#include <gtk/gtk.h>

/* What the rows of a sheet are, how many, and those that are set aside. */
#define BED_TYPE_IMPORT_KIND (bed_import_kind_get_type ())
G_DECLARE_FINAL_TYPE (BedImportKind, bed_import_kind, BED, IMPORT_KIND, GtkWidget)

GtkWidget *bed_import_kind_new (void);

/* In a handler of the sheet's signals. NULL: nothing. */
void bed_import_kind_show (BedImportKind *self, BedImportSheet *sheet);
