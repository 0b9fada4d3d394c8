#include "app/widgets/timeline.h"

#include <math.h>
#include <string.h>

#include "app/widgets/build.h"
#include "app/widgets/plot.h"
#include "science/language.h"

#define LANE 18 /* px */
#define GAP 3
#define NAMES 20 /* of the days by themselves */
#define FOOT 20
#define SMALL 0.85f
#define LEAST_BAR 3   /* px: one day is seen */
#define DAYS_LEAST 60 /* of the axis */
#define BY_MONTH 550  /* days up to which the axis has months */

struct _BedTimeline
{
  GtkWidget parent_instance;
  GArray *items; /* BedTimelineItem, their texts our own */
  GStrv lanes;
  guint n_lanes;
  int first, last;
};

BED_DEFINE_TYPE (BedTimeline, bed_timeline, GTK_TYPE_WIDGET)

static void
clear_item (gpointer data)
{
  BedTimelineItem *item = data;

  g_free ((char *) item->label);
  g_free ((char *) item->words);
}

static const GdkRGBA *
get_colour (BedTimelineTone tone)
{
  const BedInk *ink = bed_ink_get ();
  const GdkRGBA *colours[] = { [BED_TIMELINE_WOOD] = &ink->wood,
                               [BED_TIMELINE_BARK] = &ink->bark,
                               [BED_TIMELINE_WATER] = &ink->water,
                               [BED_TIMELINE_INK] = &ink->ink };

  return colours[tone];
}

static float
measure_text (BedTimeline *self, const char *text)
{
  g_autoptr (PangoLayout) layout = bed_plot_layout_new (GTK_WIDGET (self), text, 1);
  int width;

  pango_layout_get_pixel_size (layout, &width, NULL);
  return width * SMALL;
}

/* As wide as the longest name of a lane. */
static float
measure_left (BedTimeline *self)
{
  float most = 0;

  for (guint i = 0; i < self->n_lanes; i++)
    most = MAX (most, measure_text (self, self->lanes[i]));
  return ceilf (most) + 12;
}

static float
day_x (BedTimeline *self, float left, double day)
{
  float width = bed_plot_width (GTK_WIDGET (self)) - left;

  return left + width * (float) ((day - self->first) / MAX (self->last - self->first, 1));
}

static float
lane_y (int lane)
{
  return NAMES + lane * (LANE + GAP);
}

/* --- drawing ------------------------------------------------------------------- */

/* Years, of a short life months: names that would touch are left out. */
static void
draw_axis (BedTimeline *self, GtkSnapshot *snapshot, float left)
{
  const BedInk *ink = bed_ink_get ();
  gboolean months = self->last - self->first <= BY_MONTH;
  float foot = lane_y ((int) self->n_lanes), end = left;
  GDate date;

  g_date_clear (&date, 1);
  g_date_set_julian (&date, (guint32) self->first);
  g_date_set_day (&date, 1);
  if (!months)
    g_date_set_month (&date, G_DATE_JANUARY);
  bed_plot_box (snapshot, left, foot, bed_plot_width (GTK_WIDGET (self)) - left, 1, &ink->line);
  for (; (int) g_date_get_julian (&date) <= self->last; g_date_add_months (&date, months ? 1 : 12))
    {
      float x = roundf (day_x (self, left, g_date_get_julian (&date)));
      char name[16];
      if (x < left)
        continue;
      bed_plot_box (snapshot, x, NAMES, 1, foot - NAMES + 4, &ink->line);
      g_date_strftime (name, sizeof name, months ? "%b" : "%Y", &date);
      if (x >= end)
        end = x + 12
              + bed_plot_text (snapshot, GTK_WIDGET (self), name,
                               &(BedPlotText){ x + 3, foot + FOOT / 2, 0, SMALL, 0, &ink->dim });
    }
}

static void
draw_item (BedTimeline *self, GtkSnapshot *snapshot, float left, const BedTimelineItem *item)
{
  const BedInk *ink = bed_ink_get ();
  float x = floorf (day_x (self, left, item->from));
  float wide = MAX (day_x (self, left, item->to) - x - 1, LEAST_BAR);
  float tall = MAX (roundf (LANE * (float) item->height), 2), foot = lane_y (item->lane) + LANE;

  bed_plot_box (snapshot, x, foot - tall, wide, tall, get_colour (item->tone));
  if (item->label && wide > 24)
    bed_plot_text (snapshot, GTK_WIDGET (self), item->label,
                   &(BedPlotText){ x + 4, foot - LANE / 2.f, 0, SMALL, wide - 6, &ink->ink });
}

/* From left to right, each name after the one before. */
static void
draw_days (BedTimeline *self, GtkSnapshot *snapshot, float left)
{
  const BedInk *ink = bed_ink_get ();
  float end = left, foot = lane_y ((int) self->n_lanes);

  for (guint i = 0; i < self->items->len; i++)
    {
      const BedTimelineItem *item = &g_array_index (self->items, BedTimelineItem, i);
      float x = floorf (day_x (self, left, item->from)), at = MAX (x - 2, end);
      if (item->lane >= 0)
        continue;
      bed_plot_box (snapshot, x, NAMES - 4, 1, foot - NAMES + 4, get_colour (item->tone));
      /* The last ones stand before their day where there is no room behind it. */
      float most = bed_plot_width (GTK_WIDGET (self)) - measure_text (self, item->label);
      at = MAX (MIN (at, most), end);
      end = at + 12
            + bed_plot_text (snapshot, GTK_WIDGET (self), item->label,
                             &(BedPlotText){ at, NAMES / 2 - 2, 0, SMALL, 0, &ink->ink });
    }
}

static void
bed_timeline_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  BedTimeline *self = BED_TIMELINE (widget);
  float left = measure_left (self);

  bed_plot_begin (widget, snapshot);
  if (!self->n_lanes)
    return;
  draw_axis (self, snapshot, left);
  for (guint i = 0; i < self->n_lanes; i++)
    bed_plot_text (
        snapshot, widget, self->lanes[i],
        &(BedPlotText){ 0, lane_y ((int) i) + LANE / 2.f, 0, SMALL, 0, &bed_ink_get ()->dim });
  for (guint i = 0; i < self->items->len; i++)
    {
      const BedTimelineItem *item = &g_array_index (self->items, BedTimelineItem, i);
      if (item->lane >= 0)
        draw_item (self, snapshot, left, item);
    }
  draw_days (self, snapshot, left);
}

static void
bed_timeline_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                      int *natural, int *minimum_baseline, int *natural_baseline)
{
  BedTimeline *self = BED_TIMELINE (widget);
  float height = lane_y ((int) self->n_lanes) + FOOT;

  *minimum = bed_plot_to_px (widget, orientation == GTK_ORIENTATION_VERTICAL ? height : 240);
  *natural = bed_plot_to_px (widget, orientation == GTK_ORIENTATION_VERTICAL ? height : 600);
}

/* The item nearest to the pointer, in its lane. */
static gboolean
query_tooltip_cb (BedTimeline *self, int px, int py, gboolean keyboard, GtkTooltip *tooltip)
{
  float x = bed_plot_x_from_px (GTK_WIDGET (self), px),
        y = bed_plot_from_px (GTK_WIDGET (self), py);
  float left = measure_left (self), nearest = 8;
  int lane = y < NAMES ? -1 : (int) ((y - NAMES) / (LANE + GAP));
  const char *words = NULL;

  for (guint i = 0; i < self->items->len && !keyboard; i++)
    {
      const BedTimelineItem *item = &g_array_index (self->items, BedTimelineItem, i);
      float from = day_x (self, left, item->from), to = day_x (self, left, item->to);
      float away = x < from ? from - x : x > to ? x - to : 0;
      if (item->lane != lane || away >= nearest)
        continue;
      nearest = away;
      words = item->words;
    }
  gtk_tooltip_set_text (tooltip, words);
  return words != NULL;
}

/* --- widget -------------------------------------------------------------------- */

static void
bed_timeline_finalize (GObject *object)
{
  BedTimeline *self = BED_TIMELINE (object);

  g_array_unref (self->items);
  g_strfreev (self->lanes);
  G_OBJECT_CLASS (bed_timeline_parent_class)->finalize (object);
}

static void
bed_timeline_class_init (BedTimelineClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = bed_timeline_finalize;
  widget_class->snapshot = bed_timeline_snapshot;
  widget_class->measure = bed_timeline_measure;
  gtk_widget_class_set_css_name (widget_class, "chart");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

BedTimeline *
bed_timeline_new (void)
{
  BedTimeline *self = g_object_new (BED_TYPE_TIMELINE, NULL);

  self->items = g_array_new (FALSE, FALSE, sizeof (BedTimelineItem));
  g_array_set_clear_func (self->items, clear_item);
  gtk_widget_set_has_tooltip (GTK_WIDGET (self), TRUE);
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  g_signal_connect (self, "query-tooltip", G_CALLBACK (query_tooltip_cb), NULL);
  bed_ink_follow (GTK_WIDGET (self));
  return self;
}

static void
describe (BedTimeline *self, const char *label)
{
  g_autoptr (GString) words = g_string_new (NULL);

  for (guint i = 0; i < self->items->len; i++)
    g_string_append_printf (words, "%s%s", i ? bed_semicolon () : "",
                            g_array_index (self->items, BedTimelineItem, i).words);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, label,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words->str, -1);
}

void
bed_timeline_set (BedTimeline *self, const BedTimelineSpec *spec)
{
  g_return_if_fail (BED_IS_TIMELINE (self) && spec != NULL);

  g_array_set_size (self->items, 0);
  g_strfreev (self->lanes);
  self->lanes = g_new0 (char *, spec->n_lanes + 1);
  self->n_lanes = spec->n_lanes;
  for (guint i = 0; i < spec->n_lanes; i++)
    self->lanes[i] = g_strdup (spec->lanes[i]);
  self->first = self->last = spec->last;
  for (guint i = 0; i < spec->n_items; i++)
    {
      BedTimelineItem item = spec->items[i];
      item.label = g_strdup (item.label);
      item.words = g_strdup (item.words);
      self->first = MIN (self->first, item.from);
      self->last = MAX (self->last, item.to);
      g_array_append_val (self->items, item);
    }
  self->last = MAX (self->last, self->first + DAYS_LEAST);
  /* A little before the first day and after the last: both are seen. */
  self->first -= MAX ((self->last - self->first) / 100, 1);
  self->last += MAX ((self->last - self->first) / 100, 1);
  describe (self, spec->label);
  gtk_widget_queue_resize (GTK_WIDGET (self));
}
