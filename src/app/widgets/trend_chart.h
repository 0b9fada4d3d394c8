#pragma once

#include <gtk/gtk.h>

/* One line over days: dots that were measured, the curve through them, the band that is
 * wanted, the limit, and when the curve reaches it with its interval. */
#define BED_TYPE_TREND_CHART (bed_trend_chart_get_type ())
G_DECLARE_FINAL_TYPE (BedTrendChart, bed_trend_chart, BED, TREND_CHART, GtkWidget)

typedef struct
{
  double day;
  double value;
} BedTrendPoint;

typedef struct
{
  double day;
  const char *label;
} BedTrendMark;

typedef struct
{
  const char *unit;        /* over the value axis: "%" */
  const char *label;       /* accessible name */
  const char *description; /* the same in words, for who cannot see it */
  const BedTrendPoint *dots;
  guint n_dots;
  const BedTrendPoint *curve;
  guint n_curve;
  const BedTrendMark *marks; /* of the day axis */
  guint n_marks;
  double first_day, last_day;
  double band_low, band_high; /* NAN: none */
  const char *band_label;
  double limit; /* NAN: none */
  const char *limit_label;
  double reach_early, reach, reach_late; /* days on which it is reached; NAN: none */
} BedTrendSpec;

BedTrendChart *bed_trend_chart_new (void);

/* Copies. */
void bed_trend_chart_set (BedTrendChart *self, const BedTrendSpec *spec);
