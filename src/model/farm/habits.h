#pragma once

#include <glib.h>

#include "science/measure.h"

/* What is usual where the program runs, by the locale of the process. A farm says none of it: the
 * same file is read with a comma here and a point there. */

/* Puts the locale's marks and the way its text runs into @notation; the rest of it stays. The
 * figures are those of Europe everywhere, as other programs show them; those of other scripts are
 * read. */
void bed_habits_mark (BedNotation *notation);

/* Whether printers hold US letter and not A4. Where the locale is of no country (C, POSIX) the
 * units of the farm decide. */
gboolean bed_habits_has_letter (BedSystem system);

/* What a new farm is offered, by the locale's own categories and not by its language: "US" or
 * "metric", a choice of farm.unit_system, and three letters (transfer full); NULL where the locale
 * is of no country. */
const char *bed_habits_get_units (void);
char *bed_habits_dup_currency (void);

/* The day a week is shown from, 1 Monday to 7 Sunday; Monday (ISO 8601) where the locale is of no
 * country. */
int bed_habits_first_weekday (void);
