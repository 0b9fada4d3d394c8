#pragma once

#include "model/sheet/rows_private.h"

/* How a spreadsheet shows a number, as far as it says what the number is. */
typedef enum
{
  BED_LOOK_NUMBER,
  BED_LOOK_PERCENT,
  BED_LOOK_DATE, /* days since an epoch; the time of day is in the fraction */
  BED_LOOK_MOMENT,
  BED_LOOK_TIME,
  BED_LOOK_DURATION, /* 36:30 */
} BedNumberLook;

/* The day of nought: of 1900 as the spreadsheets have it, with a 29 February 1900 that never
 * was, or of 1904. */
typedef enum
{
  BED_EPOCH_1900,
  BED_EPOCH_1904,
} BedEpoch;

/* Of a number format, "dd/mm/yyyy"; of one that has only a number (ECMA-376 part 1, 18.8.30). */
BedNumberLook bed_look_of_format (const char *format);
BedNumberLook bed_look_of_number (guint id);

/* Appends what it reads like in the forms of BedCellKind, and says which. */
BedCellKind bed_number_append (GString *text, double value, BedNumberLook look, BedEpoch epoch);
/* A plain number as people would type it: 15 digits, as the spreadsheets show, no exponent. */
void bed_number_append_plain (GString *text, double value);
/* 14:30, 36:30:15. */
void bed_number_append_time (GString *text, gint64 seconds);
