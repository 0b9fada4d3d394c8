#include "report/pen.h"

#include <math.h>
#include <string.h>

#define LONGEST_TEXT 8000 /* characters; a cell holds 32,767 UTF-16 units */
#define LONG_LIST 150     /* rows, three pages or so: more are printed only when asked for */

/* Widths in pixels: of a column a digit each character, and of letters in the mean, which are
 * Arial's. */
#define DIGIT_WIDTH 7.0
#define MARGIN_WIDTH 14 /* of a cell, its indent too */
static const double letter_widths[] = {
  [BED_LETTERS_BODY] = 5.9,
  [BED_LETTERS_HEAD] = 6.7,
  [BED_LETTERS_TITLE] = 12,
};
static const double line_heights[] = {
  [BED_LETTERS_BODY] = BED_LINE_HEIGHT,
  [BED_LETTERS_HEAD] = BED_LINE_HEIGHT,
  [BED_LETTERS_TITLE] = 21,
};

/* Helpers */

static int
read_digits (const char *text, int n)
{
  int value = 0;

  for (int i = 0; i < n; i++)
    value = g_ascii_isdigit (text[i]) && value >= 0 ? value * 10 + text[i] - '0' : -1;
  return value;
}

/* T12:30 behind the day, as a part of it; 0 where there is none. */
static double
read_time (const char *time)
{
  int hour = *time ? read_digits (time + 1, 2) : 0, minute = *time ? read_digits (time + 4, 2) : 0;

  return (hour * 60 + minute) / 1440.0;
}

/* Days since 1899-12-30, how spreadsheets count days after February 1900. By hand:
 * a workbook has a hundred thousand dates, and sscanf() takes its time. */
static gboolean
read_serial (const char *date, double *serial)
{
  const guint32 zero = 693594; /* g_date_get_julian() of that day */
  int year, month, day;
  GDate d;

  gsize length = strlen (date);

  if (length != 10 && length != 16)
    return FALSE;
  year = read_digits (date, 4);
  month = read_digits (date + 5, 2);
  day = read_digits (date + 8, 2);
  if (year < 1901 || month < 1 || day < 1 || !g_date_valid_dmy (day, month, year))
    return FALSE;
  g_date_clear (&d, 1);
  g_date_set_dmy (&d, day, month, year);
  *serial = g_date_get_julian (&d) - zero + read_time (date + 10);
  return TRUE;
}

/* Public */

void
bed_pen_text (BedPen *pen, lxw_col_t column, const char *text, lxw_format *format)
{
  g_autofree char *whole = NULL;
  g_autofree char *valid = NULL;

  if (text && (strlen (text) >= LONGEST_TEXT || !g_utf8_validate (text, -1, NULL)))
    {
      whole = g_utf8_make_valid (text, -1);
      valid = g_utf8_strlen (whole, -1) > LONGEST_TEXT ? g_utf8_substring (whole, 0, LONGEST_TEXT)
                                                       : g_strdup (whole);
      text = valid;
    }
  bed_book_check (pen->book,
                  text && *text
                      ? worksheet_write_string (pen->worksheet, pen->row, column, text, format)
                      : worksheet_write_blank (pen->worksheet, pen->row, column, format));
}

void
bed_pen_number (BedPen *pen, lxw_col_t column, double value, lxw_format *format)
{
  bed_book_check (pen->book,
                  isnan (value)
                      ? worksheet_write_blank (pen->worksheet, pen->row, column, format)
                      : worksheet_write_number (pen->worksheet, pen->row, column, value, format));
}

void
bed_pen_live (BedPen *pen, lxw_col_t column, const char *formula, double value, lxw_format *format)
{
  bed_book_check (
      pen->book,
      isnan (value)
          ? worksheet_write_formula_str (pen->worksheet, pen->row, column, formula, format, "")
          : worksheet_write_formula_num (pen->worksheet, pen->row, column, formula, format, value));
}

void
bed_pen_date (BedPen *pen, lxw_col_t column, const char *date, lxw_format *format)
{
  /* Picks of one day follow each other. */
  gboolean known = date && (strcmp (date, pen->date) == 0 || read_serial (date, &pen->serial));

  if (known)
    g_strlcpy (pen->date, date, sizeof pen->date);
  if (known)
    bed_pen_number (pen, column, pen->serial, format);
  else
    bed_pen_text (pen, column, date, format);
}

double
bed_pen_expression (BedPen *pen, const BedScope *scope, lxw_col_t column, BedExpression *expression,
                    lxw_format *format)
{
  double value = bed_expression_value (expression, scope);

  bed_pen_live (pen, column, bed_expression_text (expression, scope), value, format);
  return value;
}

int
bed_text_lines (const char *text, BedLetters letters, int width)
{
  g_auto (GStrv) words = g_strsplit (text, " ", -1);
  int most = MAX (1, (width * DIGIT_WIDTH - MARGIN_WIDTH) / letter_widths[letters]);
  int lines = 1;
  int used = 0;

  for (char **word = words; *word; word++)
    {
      int length = g_utf8_strlen (*word, -1);

      if (used > 0 && used + 1 + length > most)
        {
          lines++;
          used = 0;
        }
      /* A word too long for a line is broken. */
      lines += length > most ? (length - 1) / most : 0;
      used = length > most ? length % most : used + length + (used > 0);
    }
  return lines;
}

int
bed_word_width (const char *text, BedLetters letters)
{
  g_auto (GStrv) words = g_strsplit (text, " ", -1);
  glong longest = 0;

  for (char **word = words; *word; word++)
    longest = MAX (longest, g_utf8_strlen (*word, -1));
  return ceil ((longest * letter_widths[letters] + MARGIN_WIDTH) / DIGIT_WIDTH);
}

void
bed_pen_across (BedPen *pen, const char *text, BedLook look)
{
  BedLetters letters = look == BED_LOOK_TITLE ? BED_LETTERS_TITLE : BED_LETTERS_BODY;
  int lines = bed_text_lines (text, letters, pen->width);
  lxw_format *format = pen->book->looks[look];

  bed_book_check (pen->book, worksheet_set_row (pen->worksheet, pen->row,
                                                lines * line_heights[letters] + 5, NULL));
  if (pen->used > 1 && !pen->two_wide)
    bed_book_check (pen->book, worksheet_merge_range (pen->worksheet, pen->row, 0, pen->row,
                                                      pen->used - 1, "", format));
  bed_pen_text (pen, 0, text, format);
  pen->row++;
}

gboolean
bed_pen_prints (const BedPen *pen, guint rows)
{
  return pen->book->plan->lists == BED_WORKBOOK_LISTS_PRINTED
         || (!pen->sheet->list && rows <= LONG_LIST);
}
