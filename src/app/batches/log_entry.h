#pragma once

#include "app/form/form.h"
#include "app/widgets/part.h"

/* The log measuring sheet: felling and length stay, one diameter per Enter makes a line, several
 * make several (see bed_diameters_parse()). The lines stand under it, the newest first: Up leads
 * there, Enter puts the line into the fields to be put right, Delete takes it out; Ctrl+Z in the
 * empty diameter takes out the newest.
 *
 * Signal "changed" (): a line more or less. */
#define BED_TYPE_LOG_ENTRY (bed_log_entry_get_type ())
G_DECLARE_FINAL_TYPE (BedLogEntry, bed_log_entry, BED, LOG_ENTRY, BedPart)

/* Its rows join the round of @form. */
BedLogEntry *bed_log_entry_new (BedFarm *farm, BedForm *form);

/* The logs typed so far (element BedRecord of kind LOG, without code and batch); borrowed. A
 * diameter that stands in the entry without its Enter, and what waits for it, are taken in first.
 */
GPtrArray *bed_log_entry_get_lines (BedLogEntry *self);
GPtrArray *bed_log_entry_take_pending (BedLogEntry *self);

/* A block of cells from a spreadsheet, one log a line: diameter, and after a tab its length when
 * it has one of its own. The first line that is not understood stays in the entry with its fault,
 * and those behind it, whose numbers follow it, wait until it is right. How many were taken. */
guint bed_log_entry_paste (BedLogEntry *self, const char *text);

/* Begins anew, felling and length from the last log of the farm. */
void bed_log_entry_clear (BedLogEntry *self);
