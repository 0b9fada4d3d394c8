#pragma once

#include <glib.h>

/* Water the air asks for, and days without rain. R. G. Allen, L. S. Pereira, D.
 * Raes, M. Smith, Crop Evapotranspiration, FAO Irrigation and Drainage Paper 56
 * (1998). */

/* Radiation above the air, MJ per m2 and day, eq. 21-25. @latitude degrees, south
 * negative, -90 to 90; @day of the year 1 to 366. In polar night 0. */
gboolean bed_evaporation_radiation (double latitude, int day, double *radiation, GError **error);

/* Reference evaporation, mm a day (Hargreaves, eq. 52), from the day's @least,
 * @mean and @most temperature, C, and bed_evaporation_radiation(). */
gboolean bed_evaporation_reference (double least, double mean, double most, double radiation,
                                    double *millimetres, GError **error);

/* Water that the air has taken since wood was last wet through, mm: day by day what it asks
 * for (@evaporation, mm) is added and rain that counts (@rain, mm; from 2 mm on) taken off,
 * never below nothing. @n may be 0. */
gboolean bed_evaporation_deficit (const double *evaporation, const double *rain, gsize n,
                                  double *millimetres, GError **error);

/* The deficit at which seven days without rain have been hot ones: 7 days of 5 mm, the upper
 * end of Paper 56, table 2, for temperate places of about 20 C with rain (table from memory).
 * That the two rules meet there is ours: common practice, no source. */
#define BED_EVAPORATION_WET_MM 35.0

typedef struct
{
  double rain_mm; /* of one day; the last of a series is today */
  double most_c;  /* highest temperature; NAN when not known */
} BedWeatherDay;

typedef enum
{
  BED_DRY_SPELL_NONE,
  BED_DRY_SPELL_WATCH, /* the days without rain reach the limit */
  BED_DRY_SPELL_WET,   /* past it: wet the yard overnight, or weigh logs to know better */
} BedDrySpell;

typedef struct
{
  int days;         /* without rain that counts, up to today */
  double most_mean; /* mean of the highest temperatures of those days; NAN when none known */
  BedDrySpell advice;
} BedDrySpellResult;

/* More than 7 days without rain, above all beyond 24 C: wet overnight. D. B. Hill,
 * University of Kentucky, FOR-85, Harvesting. Below 24 C the limit is taken as 14
 * days, and rain counts from 2 mm on: both common practice, no source. For days
 * without weighings only. @n may be 0. */
gboolean bed_dry_spell (const BedWeatherDay *days, gsize n, BedDrySpellResult *result,
                        GError **error);
