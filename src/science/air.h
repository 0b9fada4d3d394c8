#pragma once

#include <glib.h>

/* Air and the moisture wood comes to in it. Temperatures degrees C, humidity percent. */

typedef struct
{
  double emc_pct; /* equilibrium moisture of wood, dry basis */
  double vpd_kpa; /* vapour pressure deficit */
  double dew_point_c;
} BedAir;

/* Saturation pressure of water vapour, kPa: 0.6108 exp (17.27 T / (T + 237.3)),
 * R. G. Allen, L. S. Pereira, D. Raes, M. Smith, Crop Evapotranspiration, FAO
 * Irrigation and Drainage Paper 56 (1998), eq. 11. @temperature -60 to 140. */
double bed_air_saturation (double temperature);

/* @temperature -40 to 130, @humidity 0.1 to 100; otherwise BED_SCIENCE_ERROR_ARGUMENT.
 *
 * Equilibrium moisture: Hailwood-Horrobin equation, Forest Products Laboratory,
 * Wood Handbook, FPL-GTR-190 (2010), eq. 4-5, constants for degrees C; made from
 * Sitka spruce at -1.1 to 132.2 C and 5 to 95 %, beyond that an extrapolation. It
 * is where air-dry wood ends, not the moisture of a wet log: no better than half a
 * percent for hardwood. Deficit: FAO 56 eq. 11. Dew point: Magnus form, O. A.
 * Alduchov, R. E. Eskridge, Journal of Applied Meteorology 35 (1996), eq. 21. */
gboolean bed_air (double temperature, double humidity, BedAir *air, GError **error);
