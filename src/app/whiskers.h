#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* A comparison: a line for each, its name, a dot with whiskers on one common axis, and the
 * figures in words. */
#define BED_TYPE_WHISKERS (bed_whiskers_get_type ())
G_DECLARE_FINAL_TYPE (BedWhiskers, bed_whiskers, BED, WHISKERS, GtkWidget)

typedef struct
{
  const char *name;
  const char *text;  /* at the right: "0.42 (0.31 – 0.55)" */
  double value;
  double low, high;  /* equal: no whiskers, the spread is not known */
} BedWhisker;

BedWhiskers *bed_whiskers_new (const char *label);

/* Puts @n lines in the place of those there were. Copies. */
void bed_whiskers_set (BedWhiskers *self, const BedWhisker *lines, guint n);

G_END_DECLS
