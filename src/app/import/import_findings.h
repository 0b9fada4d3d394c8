#pragma once

#include "app/import/import_sheet.h"
#include <gtk/gtk.h>

/* What a rehearsal found: what stops the sheet, what of the farm it would change, from and to, what
 * is worth knowing, and some rows beside what becomes of them. Not seen where there is none. */
#define BED_TYPE_IMPORT_FINDINGS (bed_import_findings_get_type ())
G_DECLARE_FINAL_TYPE (BedImportFindings, bed_import_findings, BED, IMPORT_FINDINGS, GtkWidget)

GtkWidget *bed_import_findings_new (void);

/* Gives the keyboard to what has to be said of rows that differ; FALSE: nothing has. */
gboolean bed_import_findings_enter (BedImportFindings *self);

/* In a handler of the sheet's signals. NULL: none. */
void bed_import_findings_show (BedImportFindings *self, BedImportSheet *sheet);
