#pragma once

#include <gtk/gtk.h>

/* What happened over days, in lanes one under the other: bars from day to day, bars as high as
 * what was measured on a day, and days that stand for themselves. */
#define BED_TYPE_TIMELINE (bed_timeline_get_type ())
G_DECLARE_FINAL_TYPE (BedTimeline, bed_timeline, BED, TIMELINE, GtkWidget)

typedef enum
{
  BED_TIMELINE_WOOD,
  BED_TIMELINE_BARK,
  BED_TIMELINE_WATER,
  BED_TIMELINE_INK,
} BedTimelineTone;

typedef struct
{
  int lane;      /* from 0; -1: a day by itself, named over the lanes */
  int from, to;  /* Julian days, GDate; the same of one day */
  double height; /* 0 to 1, of the lane */
  BedTimelineTone tone;
  const char *label; /* in or beside the bar; NULL: none */
  const char *words; /* all of it, for tooltip and reader */
} BedTimelineItem;

typedef struct
{
  const char *label;        /* accessible name */
  const char *const *lanes; /* their names */
  guint n_lanes;
  const BedTimelineItem *items;
  guint n_items;
  int last; /* Julian day: where the axis ends, if nothing is later */
} BedTimelineSpec;

BedTimeline *bed_timeline_new (void);

/* Copies. */
void bed_timeline_set (BedTimeline *self, const BedTimelineSpec *spec);
