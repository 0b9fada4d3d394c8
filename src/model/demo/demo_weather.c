#include <math.h>

#include "model/demo/demo_private.h"

/* Rain and temperature of a cool temperate valley, invented: a yearly wave, days that
 * take after the day before, and showers. Written down once a month. */

static int
day_of_year (int day)
{
  return day - bed_demo_day (bed_demo_year (day), 1, 1);
}

static gint64
hundredths_of_inch (double mm)
{
  return llround (mm / 0.254) * 254;
}

static void
happen (BedDemo *demo)
{
  double season = 9.5 - 13.5 * cos (2 * G_PI * (day_of_year (demo->day) - 20) / 365.25);

  demo->warmth = 0.7 * demo->warmth + bed_demo_normal (demo, 0, 2.6);
  double rain = bed_demo_chance (demo, 0.34) ? -9 * log (1 - g_rand_double (demo->chance)) : 0;
  double swing = (rain > 0 ? 3.4 : 6.2) * bed_demo_between (demo, 1, 0.2, 0.4, 1.6);
  double least = season + demo->warmth - swing, most = season + demo->warmth + swing;
  demo->rain_week = demo->rain_week * 6 / 7 + rain;
  g_array_append_val (demo->rain, rain);
  g_array_append_val (demo->least, least);
  g_array_append_val (demo->most, most);
}

static void
write_day (BedDemo *demo, BedEdit *edit, guint i)
{
  g_autofree char *date = bed_demo_date (demo->day + 1 - demo->rain->len + i);
  gint64 rain = hundredths_of_inch (g_array_index (demo->rain, double, i));

  if (rain > 0)
    bed_record_set_int (bed_demo_put (edit, BED_KIND_RAIN, "fell_on", date, NULL), "depth", rain);
  BedRecord *temperature = bed_demo_put (edit, BED_KIND_TEMPERATURE, "measured_on", date, NULL);
  BED_DEMO_SET (
      temperature,
      { "least", bed_demo_temperature (&demo->plan, g_array_index (demo->least, double, i)) },
      { "most", bed_demo_temperature (&demo->plan, g_array_index (demo->most, double, i)) });
}

static gboolean
write_month (BedDemo *demo, GError **error)
{

  demo->minute = MAX (demo->minute, 20 * 60);
  BedEdit *edit = bed_demo_begin (demo);
  for (guint i = 0; i < demo->rain->len; i++)
    write_day (demo, edit, i);
  g_array_set_size (demo->rain, 0);
  g_array_set_size (demo->least, 0);
  g_array_set_size (demo->most, 0);
  return bed_demo_end (edit, error, "Copied rain and temperature up to %s", demo->date);
}

/* A dry week in the growing season: the laying yard gets the sprinkler overnight (D. B.
 * Hill, Harvesting, FOR-85: more than 7 days without rain). */
static gboolean
water (BedDemo *demo, GError **error)
{
  int doy = day_of_year (demo->day);

  if (demo->rain_week > 6 || doy < 130 || doy > 275)
    return TRUE;
  BedEdit *edit = bed_demo_begin (demo);
  BedRecord *watering = bed_demo_put (edit, BED_KIND_WATERING, "watered_on", demo->date, "method",
                                      "sprinkler", NULL);
  BED_DEMO_SET (watering, { "area", demo->laying.area }, { "minutes", 8 * 60 });
  bed_demo_work (demo, edit, "watering", 30, 0, 0);
  demo->rain_week = 25;
  return bed_demo_end (edit, error, "Watered the laying yard overnight");
}

gboolean
bed_demo_weather (BedDemo *demo, GError **error)
{
  GDate date = bed_demo_gdate (demo->day);

  happen (demo);
  if (!water (demo, error))
    return FALSE;
  return (!g_date_is_last_of_month (&date) && demo->day != demo->today)
         || write_month (demo, error);
}
