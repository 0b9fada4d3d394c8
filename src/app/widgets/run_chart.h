#pragma once

#include <gtk/gtk.h>

/* The weeks of a season as bars, and over them how they add up: beside the sums of other seasons
 * and what was expected, over one axis of weeks. */
#define BED_TYPE_RUN_CHART (bed_run_chart_get_type ())
G_DECLARE_FINAL_TYPE (BedRunChart, bed_run_chart, BED, RUN_CHART, GtkWidget)

typedef struct
{
  const char *label;  /* "2025" */
  const double *sums; /* what had come by the end of each week, of ->n_weeks */
} BedRunLine;

typedef struct
{
  const char *unit;        /* "kg" */
  const char *label;       /* accessible name */
  const char *description; /* the same in words */
  guint n_weeks;
  const double *weeks;         /* what each week gave */
  const double *sums;          /* how they add up, as far as ->n_known */
  guint n_known;               /* weeks that have begun */
  const char *name;            /* of the season, at its line */
  const char *const *names;    /* of each week on the axis, "8 Jun" */
  const char *const *tooltips; /* by week */
  const BedRunLine *others;
  guint n_others;
  double low, expected, high; /* of the whole season; NAN: not known */
  const char *expected_label;
} BedRunSpec;

BedRunChart *bed_run_chart_new (void);

/* Copies. */
void bed_run_chart_set (BedRunChart *self, const BedRunSpec *spec);
