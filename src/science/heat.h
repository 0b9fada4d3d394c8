#pragma once

#include <glib.h>

/* Degree days of one day from its least and greatest temperature, all degrees C:
 * the area of one sine wave between @lower and @upper (horizontal cutoff), G. L.
 * Baskerville, P. Emin, Ecology 50 (1969) 514-517. -80 <= @least <= @most <= 80,
 * @lower <= @upper; otherwise BED_SCIENCE_ERROR_ARGUMENT. */
gboolean bed_heat_day (double least, double most, double lower, double upper, double *degree_days,
                       GError **error);
