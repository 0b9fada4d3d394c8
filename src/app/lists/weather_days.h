#pragma once

#include "app/widgets/part.h"

/* The days whose weather is written down, rain and temperatures of each in one row. */
#define BED_TYPE_WEATHER_DAYS (bed_weather_days_get_type ())
G_DECLARE_FINAL_TYPE (BedWeatherDays, bed_weather_days, BED, WEATHER_DAYS, BedPart)

GtkWidget *bed_weather_days_new (BedFarm *farm);

/* The form of today's weather. */
void bed_weather_days_add (BedWeatherDays *self);
