#pragma once

#include "model/farm/farm.h"

/* Field values as people type and read them, in the farm's units and the
 * locale's decimal mark. */

/* Reads @text into the field of @record; empty text unsets it, and what the field shows
 * already leaves its value as fine as it is. INVALID with a sentence that says what was
 * not understood and what would be right. */
gboolean bed_value_parse (BedFarm *farm, BedRecord *record, const char *field, const char *text,
                          GError **error);

/* How the cells of a CSV column are read. */
typedef struct
{
  BedNotation notation; /* of a bare number; its marks are those of files, whatever it says */
  const char *unit;     /* of a head like `length (mm)`; NULL: the notation's */
} BedValueReading;

/* As bed_value_parse, for a cell of a CSV file. */
gboolean bed_value_parse_csv (BedFarm *farm, BedRecord *record, const char *field,
                              const BedValueReading *reading, const char *text, GError **error);

/* What the form shows: number without unit, date in the locale's short order,
 * the choice's word, the referred record's name; "" when unset. */
char *bed_value_dup_text (BedFarm *farm, BedRecord *record, const char *field);

/* What goes into CSV: number with a point, YYYY-MM-DD, the choice's key. */
char *bed_value_dup_csv (BedFarm *farm, BedRecord *record, const char *field);

/* With the unit, for sentences and history: "12.7 cm". */
char *bed_value_dup_sentence (BedFarm *farm, BedRecord *record, const char *field);

/* The record in a sentence: "batch 26A"; of what has no name, what it must have and what it is of:
 * "weighing 12/05/26, 26A-003-K, 12.3 kg". */
char *bed_value_dup_words (BedFarm *farm, BedRecord *record);

/* "cm", "in", "USD", or "" where there is no unit. */
const char *bed_value_get_unit (BedFarm *farm, const BedField *field);

/* @sentence with {1} to {9} filled by what @dup_word gives of the columns of @row, from 0. */
char *bed_value_fill (const char *sentence, char *(*dup_word) (gpointer row, int column),
                      gpointer row);

/* Whether a measure is within the field's limits; INVALID with both limits in words. */
gboolean bed_value_check_limits (BedFarm *farm, const BedField *field, gint64 value,
                                 GError **error);

/* A date as typed (2026-05-18, 18.5.2026, 5/18/26 by the locale's order, "18 May 2026", "today",
 * "yesterday", 2026年5月18日; months and days of the week by the locale's names or English ones) to
 * YYYY-MM-DD, or NULL with INVALID. @today is YYYY-MM-DD, whose year is meant where none is. */
char *bed_date_parse (const char *text, const char *today, GError **error);

/* YYYY-MM-DD in the locale's short order; bed_date_format_day with the weekday in place of the
 * year, bed_date_format_whole with both. */
char *bed_date_format (const char *date);
char *bed_date_format_day (const char *date);
char *bed_date_format_whole (const char *date);

/* bed_date_format_day(), with the year where the week of @date has days of two: by it alone nobody
 * can tell which January is meant. */
char *bed_date_format_in_week (const char *date);

/* YYYY-MM-DDTHH:MM as bed_date_format(), and the time of day behind it; it may be a date alone. */
char *bed_date_format_moment (const char *moment);

/* @date and @days later (or earlier when negative), YYYY-MM-DD; days from @a to @b. */
char *bed_date_add (const char *date, int days);
int bed_date_days (const char *a, const char *b);

/* Monday of the week of @date, YYYY-MM-DD. The weeks of plans, seasons, files and figures are those
 * of ISO 8601 and begin on it, so that they are the same on every desk. */
char *bed_date_monday (const char *date);

/* The first day of the week of @date as calendars of the locale show it: what is called this week
 * is from it to six days on. */
char *bed_date_week_start (const char *date);
