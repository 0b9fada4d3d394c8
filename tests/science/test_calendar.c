/* Weeks: edge cases of ISO 8601 (own arithmetic), and GLib beside every day. */
#include "science/calendar.h"

#include <string.h>

static void
test_edges (void)
{
  const struct
  {
    int y, m, d, year, week;
  } days[] = {
    { 2005, 1, 1, 2004, 53 },  { 2005, 12, 31, 2005, 52 }, { 2006, 1, 1, 2005, 52 },
    { 2007, 12, 31, 2008, 1 }, { 2008, 12, 29, 2009, 1 },  { 2009, 12, 31, 2009, 53 },
    { 2010, 1, 3, 2009, 53 },  { 2016, 1, 3, 2015, 53 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (days); i++)
    {
      GDate date;
      int year, week;
      g_date_set_dmy (&date, (GDateDay) days[i].d, days[i].m, (GDateYear) days[i].y);
      bed_calendar_week (&date, &year, &week);
      g_assert_cmpint (year, ==, days[i].year);
      g_assert_cmpint (week, ==, days[i].week);
    }
}

static void
test_every_day (void)
{
  GDate date;

  g_date_set_dmy (&date, 1, 1, 1999);
  for (int i = 0; i < 12000; i++, g_date_add_days (&date, 1))
    {
      g_autoptr (GDateTime) moment = g_date_time_new_utc (
          g_date_get_year (&date), g_date_get_month (&date), g_date_get_day (&date), 12, 0, 0);
      int year, week;

      bed_calendar_week (&date, &year, &week);
      g_assert_cmpint (year, ==, g_date_time_get_week_numbering_year (moment));
      g_assert_cmpint (week, ==, g_date_time_get_week_of_year (moment));
    }
}

static void
test_seasons (void)
{
  const BedSeasonStart july = { 7, 1 }, january = { 1, 1 }, leap = { 2, 29 };
  GDate date;
  int year;
  g_autoptr (GError) error = NULL;

  g_date_set_dmy (&date, 30, 6, 2026);
  g_assert_true (bed_calendar_season (&date, &july, &year, NULL));
  g_assert_cmpint (year, ==, 2025);
  g_date_add_days (&date, 1);
  g_assert_true (bed_calendar_season (&date, &july, &year, NULL));
  g_assert_cmpint (year, ==, 2026);
  g_autofree char *split = bed_calendar_name (2099, &july);
  g_autofree char *whole = bed_calendar_name (2026, &january);
  g_assert_cmpstr (split, ==, "2099/00");
  g_assert_cmpstr (whole, ==, "2026");
  g_assert_false (bed_calendar_season (&date, &leap, &year, &error));
  g_assert_true (g_str_has_prefix (error->message, "day"));
}

/* Every two digits and two digits: what every year has stands, the rest is brought to a day
 * that every year has. */
static void
test_every_start (void)
{
  static const int days[] = { 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31 };
  GDate date;
  int year;

  g_date_set_dmy (&date, 15, 6, 2026);
  for (int month = 0; month < 100; month++)
    for (int day = 0; day < 100; day++)
      {
        g_autofree char *text = g_strdup_printf ("%02d-%02d", month, day);
        gboolean dated = month >= 1 && month <= 12 && day >= 1 && day <= 31;
        gboolean sound = dated && day <= days[month - 1];
        BedSeasonStart start;

        g_assert_cmpint (bed_calendar_read_start (text, &start), ==, sound);
        g_assert_cmpint (start.month, ==, dated ? month : 1);
        g_assert_cmpint (start.day, ==, dated ? MIN (day, days[month - 1]) : 1);
        g_assert_true (bed_calendar_season (&date, &start, &year, NULL));
      }
}

static void
test_no_start (void)
{
  static const char *const texts[]
      = { NULL, "", "1-1", "01/01", "01-1", "01-011", "ab-cd", "-1-01", "\xff\xff-01", "01-0 " };
  BedSeasonStart start;

  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      g_assert_false (bed_calendar_read_start (texts[i], &start));
      g_assert_cmpint (start.month, ==, 1);
      g_assert_cmpint (start.day, ==, 1);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/calendar/edges", test_edges);
  g_test_add_func ("/calendar/every-day", test_every_day);
  g_test_add_func ("/calendar/seasons", test_seasons);
  g_test_add_func ("/calendar/every-start", test_every_start);
  g_test_add_func ("/calendar/no-start", test_no_start);
  return g_test_run ();
}
