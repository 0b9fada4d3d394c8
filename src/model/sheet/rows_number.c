#include "model/sheet/rows_number.h"

#include <math.h>
#include <string.h>

/* After 31 December 9999 spreadsheets show no date any more. */
#define DAYS_1900 2958466
#define DAY (24 * 60 * 60)

BedNumberLook
bed_look_of_number (guint id)
{
  if (id == 9 || id == 10)
    return BED_LOOK_PERCENT;
  if ((id >= 14 && id <= 17) || (id >= 27 && id <= 31) || id == 36 || (id >= 50 && id <= 58))
    return BED_LOOK_DATE;
  if (id == 22)
    return BED_LOOK_MOMENT;
  if ((id >= 18 && id <= 21) || (id >= 32 && id <= 35) || id == 45 || id == 47)
    return BED_LOOK_TIME;
  return id == 46 ? BED_LOOK_DURATION : BED_LOOK_NUMBER;
}

/* Past what is shown as it stands: "text", \x, _x, *x, [Red], AM/PM. NULL: nothing of it here. */
static const char *
skip_literal (const char *at)
{
  const char *end;

  if (*at == '"' || *at == '[')
    {
      end = strchr (at + 1, *at == '"' ? '"' : ']');
      return end ? end + 1 : at + strlen (at);
    }
  if (strchr ("\\_*", *at))
    return at[1] ? g_utf8_next_char (at + 1) : at + 1;
  if (g_ascii_strncasecmp (at, "AM/PM", 5) == 0)
    return at + 5;
  return g_ascii_strncasecmp (at, "A/P", 3) == 0 ? at + 3 : NULL;
}

static gboolean
is_elapsed (const char *at)
{
  return *at == '[' && at[1] && strchr ("hHmMsS", at[1]) && (at[2] == ']' || at[2] == at[1]);
}

BedNumberLook
bed_look_of_format (const char *format)
{
  gboolean day = FALSE, time = FALSE, month = FALSE, percent = FALSE;

  if (g_ascii_strcasecmp (format, "General") == 0)
    return BED_LOOK_NUMBER;
  for (const char *c = format, *past; *c && *c != ';'; c = past)
    {
      if (is_elapsed (c))
        return BED_LOOK_DURATION;
      if ((past = skip_literal (c)))
        continue;
      day |= strchr ("yYdD", *c) != NULL;
      time |= strchr ("hHsS", *c) != NULL;
      month |= *c == 'm' || *c == 'M';
      percent |= *c == '%';
      past = c + 1;
    }
  if (day || (month && !time))
    return time ? BED_LOOK_MOMENT : BED_LOOK_DATE;
  if (time)
    return BED_LOOK_TIME;
  return percent ? BED_LOOK_PERCENT : BED_LOOK_NUMBER;
}

void
bed_number_append_plain (GString *text, double value)
{
  char digits[G_ASCII_DTOSTR_BUF_SIZE], whole[400];

  g_ascii_formatd (digits, sizeof digits, "%.15g", value);
  if (!strchr (digits, 'e'))
    g_string_append (text, digits);
  else if (fabs (value) > 1)
    g_string_append (text, g_ascii_formatd (whole, sizeof whole, "%.0f", value));
  else
    {
      g_ascii_formatd (whole, sizeof whole, "%.20f", value);
      for (gsize end = strlen (whole); end > 1 && strchr ("0.", whole[end - 1]); end--)
        {
          gboolean point = whole[end - 1] == '.';
          whole[end - 1] = '\0';
          if (point)
            break;
        }
      g_string_append (text, whole);
    }
}

void
bed_number_append_time (GString *text, gint64 seconds)
{
  g_string_append_printf (text, "%02d:%02d", (int) (seconds / 3600), (int) (seconds / 60 % 60));
  if (seconds % 60)
    g_string_append_printf (text, ":%02d", (int) (seconds % 60));
}

static void
append_date (GString *text, gint64 day, BedEpoch epoch)
{
  GDate date;

  /* Julian day of GDate of 31 December 1899 and of 1 January 1904. */
  guint32 first = epoch == BED_EPOCH_1904 ? 695056 : 693595;
  /* Day 60 of 1900 is the 29 February that never was: all after it are one too many. */
  g_date_clear (&date, 1);
  g_date_set_julian (&date, first + day - (epoch == BED_EPOCH_1900 && day > 59));
  g_string_append_printf (text, "%04d-%02d-%02d", g_date_get_year (&date), g_date_get_month (&date),
                          g_date_get_day (&date));
}

BedCellKind
bed_number_append (GString *text, double value, BedNumberLook look, BedEpoch epoch)
{
  gboolean timely = look != BED_LOOK_NUMBER && look != BED_LOOK_PERCENT;

  if (look == BED_LOOK_PERCENT)
    {
      bed_number_append_plain (text, value * 100);
      g_string_append_c (text, '%');
      return BED_CELL_PERCENT;
    }
  if (!timely || !(value >= 0 && value < DAYS_1900 - (epoch == BED_EPOCH_1904 ? 1462 : 0)))
    {
      bed_number_append_plain (text, value);
      return BED_CELL_NUMBER;
    }
  gint64 seconds = (gint64) (value * DAY + 0.5);
  if (look == BED_LOOK_TIME || look == BED_LOOK_DURATION)
    {
      bed_number_append_time (text, look == BED_LOOK_TIME ? seconds % DAY : seconds);
      return BED_CELL_TIME;
    }
  append_date (text, look == BED_LOOK_DATE ? (gint64) value : seconds / DAY, epoch);
  if (look == BED_LOOK_MOMENT && seconds % DAY > 0)
    {
      g_string_append_c (text, 'T');
      bed_number_append_time (text, seconds % DAY);
    }
  return BED_CELL_DATE;
}
