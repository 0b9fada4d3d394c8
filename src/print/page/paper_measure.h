#pragma once

#include "science/measure.h"
#include <glib.h>

/* Measures as they stand on paper: inches in the marks of a rule ("5 1/4"), and no more
 * than two decimals. What was typed in one system and is printed in the other has as many
 * as it takes to read back exactly, and nobody measures a log to the micrometre. The
 * caller frees both. */

/* The number alone, for a column with the unit in its head. */
char *bed_paper_dup_number (BedMeasure measure, const BedNotation *notation, gint64 value);

/* The number and its unit. */
char *bed_paper_dup_measure (BedMeasure measure, const BedNotation *notation, gint64 value);
