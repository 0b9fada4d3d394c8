#pragma once

#include "model/csv/csv_bring.h"

/* What is understood of a sheet, in words. Owned by the caller unless said. */

/* "Picked on"; of another kind than the rows': "Batch: wood". */
char *bed_import_dup_target (const BedNotebookTarget *target, BedKind rows);

/* "28-May-23, 29-May-23 …" */
char *bed_import_dup_samples (const BedNotebookColumn *column);

/* "600 of 600", "588 of 600, 12 to look at"; nothing of a column that is left out. */
char *bed_import_dup_how (const BedNotebookColumn *column);

/* The units that bare numbers of the field may be in; NULL: it has none. */
GStrv bed_import_dup_units (const BedField *field);

/* "day-month-year"; translated. */
const char *bed_import_get_dates_word (BedDates dates);

/* "semicolons, decimal comma, Windows-1252"; of a workbook the name of its @sheet. */
char *bed_import_dup_reading (BedNotebook *notebook, guint sheet);

/* "3 set aside: 2 × a total, a note"; NULL: none but blank ones. */
char *bed_import_dup_aside (BedNotebook *notebook);

/* "585 picks, Mass 412.6 lb · 28 May 2023 to 3 Oct 2024"; NULL: nothing. By @answer, or where it
 * is NULL by what was read so far. */
char *bed_import_dup_totals (BedNotebook *notebook, const BedImportAnswer *answer,
                             const BedNotation *notation);

/* "12 are there already, 3 are changed", where @differs says so; NULL: neither. */
char *bed_import_dup_known (const BedImportAnswer *answer, BedImportDiffers differs);
