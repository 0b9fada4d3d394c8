#pragma once

#include "science/measure.h"
#include <glib.h>

/* Measures: whole numbers of a fine SI unit inside, the farm's unit outside.
 *
 * A value is stored as a whole number so fine that what is typed in either
 * system reads back exactly: 5 1/4 in is 133350 um, 3 oz is 85049 mg, 68.5 F is
 * 20278 thousandths of a degree C and shows again as 68.5. Arithmetic is exact
 * (ratios of integers); the nearest whole number is taken once, at the end,
 * halves away from zero. Nothing here depends on the locale of the process.
 *
 * Factors: 1 in = 25.4 mm, 1 lb = 0.45359237 kg, 1 ft = 12 in, 1 US gallon =
 * 231 in3, 1 acre = 43560 ft2; B. N. Taylor, A. Thompson (eds.), The
 * International System of Units, NIST SP 811 (2008), appendix B.8 (MEM-H). */

#define BED_UNITS_ERROR (bed_units_error_quark ())
GQuark bed_units_error_quark (void);

typedef enum
{
  BED_UNITS_ERROR_EMPTY,  /* nothing was written */
  BED_UNITS_ERROR_NUMBER, /* not a number, or one that could be read two ways */
  BED_UNITS_ERROR_UNIT,   /* a number, but a unit this measure does not have */
  BED_UNITS_ERROR_RANGE,  /* too large or too fine to keep */
} BedUnitsError;

/* The unit @measure is shown in: "mm", "in"; "" for money and counts. Static. */
const char *bed_measure_unit (BedMeasure measure, BedSystem system);

/* Reads what a person typed. A bare number is in the notation's own unit; other
 * units of the measure are taken too, with or without a space: `127mm`, `5 1/4
 * in`, `5-1/4"`, `5½ in`, `2 lb 4 oz`, `3'6"`, `1 h 30 min`, `1:30`, `68.5 F`.
 * The notation's own marks of thousands are taken where they stand as it has
 * them: `1,234` and `12,345.6`, but neither `12,34` nor `0,250`. Figures of any
 * script are figures. Refused with a sentence that says what is wrong and what
 * would be right: other marks of thousands and the other decimal mark (without
 * marks in the notation `1,234` is a thousand to one reader and one to another),
 * anything not a plain number, fractions of things that come whole. Sets @value
 * only on success. */
gboolean bed_measure_parse (BedMeasure measure, const BedNotation *notation, const char *text,
                            gint64 *value, GError **error);

/* As bed_measure_parse(), but a bare number is in @unit, the word in a table
 * head such as `length (mm)`. NULL or "" means the notation's own unit. An
 * unknown @unit is BED_UNITS_ERROR_UNIT and lists those accepted. */
gboolean bed_measure_parse_in (BedMeasure measure, const BedNotation *notation, const char *unit,
                               const char *text, gint64 *value, GError **error);

/* @notation as files have it: a decimal point and no marks of thousands. */
BedNotation bed_notation_plain (const BedNotation *notation);

/* @plain, figures with or without a minus before them and a point and decimals behind, as the
 * notation writes it: "12,345.6". Marks stand from five figures on, since four read well without
 * and a year has none. Free with g_free(). */
char *bed_number_say (const BedNotation *notation, const char *plain);

/* The number alone, in the notation's unit, with the fewest decimals that read
 * back as exactly @value (money: always the currency's own decimals). Free with
 * g_free(). */
char *bed_measure_format (BedMeasure measure, const BedNotation *notation, gint64 value);

/* The number alone with @decimals (0 to 9) decimals, halves away from zero. */
char *bed_measure_format_rounded (BedMeasure measure, const BedNotation *notation, int decimals,
                                  gint64 value);

/* As a person says it, on screen and on paper: what was typed reads as it was typed,
 * inches that are whole sixteenths, the marks of a rule, as a common fraction ("7/16",
 * "5 1/4"), all else with the decimals it takes where those are no more than people type:
 * two, of a mass as many as a scale shows, grams or half ounces. What takes more was
 * reckoned or typed in other units and is rounded to two, or to two figures. Not for files: there
 * numbers are exact. */
char *bed_measure_format_said (BedMeasure measure, const BedNotation *notation, gint64 value);

/* bed_measure_format_said() and the unit. */
char *bed_measure_format_unit_said (BedMeasure measure, const BedNotation *notation, gint64 value);

/* The same for a cell of a workbook, where inches are decimal: the number that was typed,
 * 11 and not the 10.9999998 that whole milligrams of 11 lb come to, and in @decimals those
 * to show it with. What was not typed comes as it is. */
double bed_measure_to_said (BedMeasure measure, const BedNotation *notation, gint64 value,
                            int *decimals);

/* bed_measure_format() and the unit: "127 mm", "68.5 °F", "40 %". */
char *bed_measure_format_unit (BedMeasure measure, const BedNotation *notation, gint64 value);

/* bed_measure_format_rounded() and the unit. */
char *bed_measure_format_unit_rounded (BedMeasure measure, const BedNotation *notation,
                                       int decimals, gint64 value);

/* @value in the unit shown, for a chart. Money is divided by a hundred:
 * for other currencies use bed_measure_format(). */
double bed_measure_to_unit (BedMeasure measure, BedSystem system, gint64 value);
