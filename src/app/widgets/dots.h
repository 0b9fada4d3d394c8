#pragma once

#include <gtk/gtk.h>

/* Comparison: a line each, its dot where the mean is, whiskers where the mean may be. */
#define BED_TYPE_DOTS (bed_dots_get_type ())
G_DECLARE_FINAL_TYPE (BedDots, bed_dots, BED, DOTS, GtkWidget)

typedef struct
{
  const char *label;
  const char *detail; /* dim, after the label: "54 logs" */
  double value;
  double low, high; /* both equal to value: no spread is known */
} BedDot;

BedDots *bed_dots_new (void);

/* @unit of the axis, @label the accessible name. Copies. */
void bed_dots_set (BedDots *self, const char *label, const char *unit, const BedDot *dots, guint n);
