#pragma once

#include "print/page/document.h"
#include "tool/tool.h"

/* What labels, sheet and drill share. */

/* As bed_tool_fail(); text that does not fit, a sheet that is wrong and a measure
 * out of its range are the user's to mend: BED_EXIT_WRONG. */
int bed_tool_fail_paper (GError *error);

/* The paper called @name, "a4" or "letter"; NULL is bed_paper_usual() with the
 * units of @notation. FALSE when it is neither. */
gboolean bed_tool_find_paper (const char *name, const BedNotation *notation, BedPaper *paper,
                              GError **error);

/* A length of holes and logs, millimetres, with or without its unit. */
gboolean bed_tool_read_mm (const char *text, const BedNotation *notation, double *mm,
                           GError **error);

/* Writes @document (taken over) to @path by its ending: every page to .pdf, one to .png (300
 * dpi) or .svg; "-" is standard output, which has a PDF. Says what had no room and no letters. @now
 * is the date in the file, NULL for the clock. The exit code. */
int bed_tool_write_pages (BedDocument *document, const char *path, const char *now);
