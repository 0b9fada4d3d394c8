#pragma once

#include "app/import/import_source.h"
#include "model/csv/csv_bring.h"

/* Somebody's sheet while it is understood. Its notebook asks a farm of its own, so that the whole
 * of it can be gone through in a thread, anew after each decision.
 *
 * Signal "understood" (): it was opened or read in another way, or something was decided.
 * Signal "read" (): it has been gone through, and when nothing is left to ask what it would bring
 * was tried; or that failed: bed_import_sheet_get_trouble().
 * Signal "brought" (): the same of bed_import_sheet_bring_in(). */
#define BED_TYPE_IMPORT_SHEET (bed_import_sheet_get_type ())
G_DECLARE_FINAL_TYPE (BedImportSheet, bed_import_sheet, BED, IMPORT_SHEET, GObject)

/* Copies @source. NULL with the error of the rows or of bed_notebook_new(). Nothing is gone through
 * before bed_import_sheet_begin(). */
BedImportSheet *bed_import_sheet_new (BedFarm *farm, const BedImportSource *source, GError **error);

/* Emits "understood" and goes through it: when the signals have their handlers, and after it could
 * not be brought in. */
void bed_import_sheet_begin (BedImportSheet *self);

const char *bed_import_sheet_get_name (BedImportSheet *self);
/* Which one of a workbook. */
guint bed_import_sheet_get_sheet (BedImportSheet *self);

/* Whether it was decided, and still is, as another sheet with such heads was before. As the
 * notebook, only: */
gboolean bed_import_sheet_is_matched (BedImportSheet *self);

/* Only in handlers of the signals, and between the beginning and the end of a decision: else the
 * thread has it. */
BedNotebook *bed_import_sheet_get_notebook (BedImportSheet *self);

/* One or more decisions: the thread lets go of the notebook; at the end all is told and gone
 * through anew. */
BedNotebook *bed_import_sheet_begin_decision (BedImportSheet *self);
void bed_import_sheet_end_decision (BedImportSheet *self);

/* Whether rows differ from what the farm has, or may where they were not all tried; and what is to
 * become of it: BED_DIFFERS_REFUSED until somebody says so. _set_differs() is a decision, but not
 * one of the notebook's. As the notebook, only: */
gboolean bed_import_sheet_may_differ (BedImportSheet *self);
BedImportDiffers bed_import_sheet_get_differs (BedImportSheet *self);
void bed_import_sheet_set_differs (BedImportSheet *self, BedImportDiffers differs);

/* Reads it in another way, or another sheet of the workbook: what was decided is kept where heads
 * are the same. FALSE, and all as before. */
gboolean bed_import_sheet_read_as (BedImportSheet *self, const BedReading *reading, guint sheet,
                                   GError **error);

/* Another of the tables in it; what was decided of this one is gone. Likewise. */
gboolean bed_import_sheet_choose_table (BedImportSheet *self, guint table, GError **error);

/* The farm has changed: names that were new may be known now. */
gboolean bed_import_sheet_look_again (BedImportSheet *self, GError **error);

/* Whether it has been gone through, and tried, since the last decision. */
gboolean bed_import_sheet_is_read (BedImportSheet *self);

/* Adds what it holds to the farm, in the thread; "brought" follows, and nothing may be decided
 * before. No question may be open. */
void bed_import_sheet_bring_in (BedImportSheet *self);
gboolean bed_import_sheet_is_bringing (BedImportSheet *self);
/* Rows that are in, and @all there are. */
guint bed_import_sheet_get_progress (BedImportSheet *self, guint *all);
void bed_import_sheet_cancel (BedImportSheet *self);

/* The rows that somebody set aside, @n of them (of the first some hundred), under the heads, as
 * text that can be pasted: (transfer full), NULL where there is none. As the notebook, only: */
char *bed_import_sheet_dup_aside (BedImportSheet *self, guint *n);

/* What was added, or by a rehearsal would be; NULL: not known. As the notebook, only while the
 * thread is not at it. */
const BedImportAnswer *bed_import_sheet_get_answer (BedImportSheet *self);
/* BedImportPreview: rows beside what becomes of them; NULL: while a question is open. */
GPtrArray *bed_import_sheet_get_preview (BedImportSheet *self);
/* BedCsvFault, where its rows break a rule of the farm; NULL: none is known. */
GPtrArray *bed_import_sheet_get_faults (BedImportSheet *self);

/* Why the thread did not come to its end, at the last signal; NULL: it did. */
const GError *bed_import_sheet_get_trouble (BedImportSheet *self);

/* Ends the thread's work without a signal. */
void bed_import_sheet_stop (BedImportSheet *self);
