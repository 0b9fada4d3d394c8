#pragma once

#include <glib.h>

/* What every computation of this room answers to nonsense: an error that
 * names the argument, never NaN. */

#define BED_SCIENCE_ERROR (bed_science_error_quark ())
GQuark bed_science_error_quark (void);

typedef enum
{
  BED_SCIENCE_ERROR_ARGUMENT,  /* one argument is out of its range; the message begins with it */
  BED_SCIENCE_ERROR_DATA,      /* each value is possible, but there are too few of them */
  BED_SCIENCE_ERROR_NO_ANSWER, /* the question has no answer for these values */
} BedScienceError;

/* Sets it, with a format and its values; FALSE. */
#define bed_science_refuse(error, code, ...)                                                       \
  (g_set_error (error, BED_SCIENCE_ERROR, code, __VA_ARGS__), FALSE)

/* Whether @least <= @value <= @most, in whatever unit @value has. NaN and the
 * infinities are never inside. Sets @error, `name: 120 is not between 0 and
 * 100`, and returns FALSE otherwise. An open end is written as DBL_MAX. */
gboolean bed_argument_between (const char *name, double value, double least, double most,
                               GError **error);

/* Whether @value is a finite number above zero. */
gboolean bed_argument_positive (const char *name, double value, GError **error);
