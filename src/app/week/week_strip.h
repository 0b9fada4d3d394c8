#pragma once

#include "model/work/week.h"
#include <gtk/gtk.h>

/* The week across, Monday to Sunday, today marked: temperatures and rain as they are written down,
 * what lies in the tank, what was done and what is due on each day. */
#define BED_TYPE_WEEK_STRIP (bed_week_strip_get_type ())
G_DECLARE_FINAL_TYPE (BedWeekStrip, bed_week_strip, BED, WEEK_STRIP, GtkWidget)

BedWeekStrip *bed_week_strip_new (BedFarm *farm);

/* Takes @week. */
void bed_week_strip_set (BedWeekStrip *self, BedWeek *week);

/* All that is known of day @at, 0 to 6, in words: "Mon 13 Jul: rain 12 mm; due: Soak, 45 logs".
 * Free with g_free(). */
char *bed_week_strip_dup_day (BedWeekStrip *self, int at);
