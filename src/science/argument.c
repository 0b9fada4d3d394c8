#include "science/argument.h"

#include <float.h>
#include <math.h>

G_DEFINE_QUARK (bed - science - error - quark, bed_science_error)

/* Messages never depend on the locale of the process. */
static const char *
text_of (char buffer[G_ASCII_DTOSTR_BUF_SIZE], double value)
{
  return g_ascii_formatd (buffer, G_ASCII_DTOSTR_BUF_SIZE, "%.10g", value);
}

gboolean
bed_argument_between (const char *name, double value, double least, double most, GError **error)
{
  char v[G_ASCII_DTOSTR_BUF_SIZE], l[G_ASCII_DTOSTR_BUF_SIZE], m[G_ASCII_DTOSTR_BUF_SIZE];

  if (isfinite (value) && value >= least && value <= most)
    return TRUE;
  if (!isfinite (value))
    return bed_science_refuse (error, BED_SCIENCE_ERROR_ARGUMENT, "%s: not a number", name);
  if (most >= DBL_MAX)
    return bed_science_refuse (error, BED_SCIENCE_ERROR_ARGUMENT, "%s: %s is less than %s", name,
                               text_of (v, value), text_of (l, least));
  return bed_science_refuse (error, BED_SCIENCE_ERROR_ARGUMENT, "%s: %s is not between %s and %s",
                             name, text_of (v, value), text_of (l, least), text_of (m, most));
}

gboolean
bed_argument_positive (const char *name, double value, GError **error)
{
  char v[G_ASCII_DTOSTR_BUF_SIZE];

  if (isfinite (value) && value > 0)
    return TRUE;
  if (!isfinite (value))
    return bed_science_refuse (error, BED_SCIENCE_ERROR_ARGUMENT, "%s: not a number", name);
  return bed_science_refuse (error, BED_SCIENCE_ERROR_ARGUMENT, "%s: %s is not more than zero",
                             name, text_of (v, value));
}
