#pragma once

#include "app/import/import_sheet.h"
#include <gtk/gtk.h>

/* A button, and under it how the bytes of the sheet are read: encoding, delimiter, decimal mark,
 * or which sheet of a workbook. */
#define BED_TYPE_IMPORT_READING (bed_import_reading_get_type ())
G_DECLARE_FINAL_TYPE (BedImportReading, bed_import_reading, BED, IMPORT_READING, GtkWidget)

GtkWidget *bed_import_reading_new (void);

/* In a handler of the sheet's signals. NULL: nothing is read. */
void bed_import_reading_show (BedImportReading *self, BedImportSheet *sheet);
