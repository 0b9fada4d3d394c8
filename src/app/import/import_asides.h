#pragma once

#include "app/import/import_sheet.h"
#include <gtk/gtk.h>

/* The rows of a sheet that are set aside, each with why, to be taken all the same. */
#define BED_TYPE_IMPORT_ASIDES (bed_import_asides_get_type ())
G_DECLARE_FINAL_TYPE (BedImportAsides, bed_import_asides, BED, IMPORT_ASIDES, GtkWidget)

GtkWidget *bed_import_asides_new (void);

/* In a handler of the sheet's signals. NULL: none. */
void bed_import_asides_show (BedImportAsides *self, BedImportSheet *sheet);
