#pragma once

#include "science/measure.h"
#include <adwaita.h>

/* Where this desk keeps label sheets of its own (print/sheet.h); owned by the caller. */
char *bed_sheets_dup_path (void);

/* @key is that of the sheet just added. */
typedef void (*BedSheetAdded) (const char *key, gpointer user_data);

#define BED_TYPE_SHEET_DIALOG (bed_sheet_dialog_get_type ())
G_DECLARE_FINAL_TYPE (BedSheetDialog, bed_sheet_dialog, BED, SHEET_DIALOG, AdwWindow)

/* Asks for the measures of a label sheet over the window @inside is in, its outlines drawn
 * beside them, and adds it to the desk's own. @user_data must outlive that window. */
void bed_sheet_dialog_show (GtkWidget *inside, const BedNotation *notation, BedSheetAdded added,
                            gpointer user_data);
