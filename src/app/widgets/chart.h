#pragma once

#include <gtk/gtk.h>

/* Bars side by side over one axis of words: kilograms by week. Where a bar is an
 * estimate it has whiskers; a line across says what is wanted. */
#define BED_TYPE_CHART (bed_chart_get_type ())
G_DECLARE_FINAL_TYPE (BedChart, bed_chart, BED, CHART, GtkWidget)

typedef struct
{
  const char *label;   /* under the bar; NULL: none */
  const char *tooltip; /* translated, read aloud too */
  double value;
  double low, high;     /* whiskers; both 0: none */
  gboolean is_expected; /* drawn lighter: not yet so */
} BedChartBar;

typedef struct
{
  const char *unit;  /* over the value axis: "kg" */
  const char *label; /* accessible name */
  double wanted;     /* a line across; 0: none */
  const char *wanted_label;
  int left; /* px before the bars, to stand under a drawing; 0: as needed */
} BedChartSpec;

BedChart *bed_chart_new (void);

/* Puts @n bars in the place of those there were. Copies. */
void bed_chart_set (BedChart *self, const BedChartSpec *spec, const BedChartBar *bars, guint n);
