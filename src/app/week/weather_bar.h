#pragma once

#include "app/widgets/part.h"
#include "model/farm/farm.h"
#include <gtk/gtk.h>

/* How long the yard has been dry, and the buttons that write down rain, temperatures and
 * watering: they open the form on the page of such records. */
#define BED_TYPE_WEATHER_BAR (bed_weather_bar_get_type ())
G_DECLARE_FINAL_TYPE (BedWeatherBar, bed_weather_bar, BED, WEATHER_BAR, BedPart)

BedWeatherBar *bed_weather_bar_new (BedFarm *farm);
gboolean bed_weather_bar_refresh (BedWeatherBar *self, GError **error);
