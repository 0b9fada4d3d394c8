#pragma once

#include "app/import/import_sheet.h"
#include <gtk/gtk.h>

/* What has to be asked about a sheet, one after the other: an answer goes to the next. Those
 * answered stay, and can be asked again.
 *
 * Signal "all-answered" (): by the last answer given here. */
#define BED_TYPE_IMPORT_QUESTIONS (bed_import_questions_get_type ())
G_DECLARE_FINAL_TYPE (BedImportQuestions, bed_import_questions, BED, IMPORT_QUESTIONS, GtkWidget)

GtkWidget *bed_import_questions_new (void);

/* In a handler of the sheet's signals. NULL: none. */
void bed_import_questions_show (BedImportQuestions *self, BedImportSheet *sheet);

/* The keyboard to the question that is open; FALSE when there is none. */
gboolean bed_import_questions_enter (BedImportQuestions *self);

/* Takes the last decision back, whatever it was about, and asks again. */
void bed_import_questions_go_back (BedImportQuestions *self);

/* The one about that column of theirs is asked now. */
void bed_import_questions_ask_about (BedImportQuestions *self, guint column);
