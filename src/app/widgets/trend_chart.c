#include "app/widgets/trend_chart.h"

#include <math.h>

#include "app/widgets/build.h"
#include "app/widgets/plot.h"
#include "model/farm/say.h"

#define LEFT 44
#define RIGHT 16
#define TOP 22
#define BOTTOM 22
#define HEIGHT 210
#define STEPS 4
#define SMALL 0.85f
#define DOT 3.5

struct _BedTrendChart
{
  GtkWidget parent_instance;
  BedTrendSpec spec;  /* its texts and arrays are our own */
  double least, most; /* of the value axis */
};

BED_DEFINE_TYPE (BedTrendChart, bed_trend_chart, GTK_TYPE_WIDGET)

typedef struct
{
  float width, height;
} Area;

static Area
measure_area (BedTrendChart *self)
{
  return (Area){ bed_plot_width (GTK_WIDGET (self)) - LEFT - RIGHT,
                 bed_plot_height (GTK_WIDGET (self)) - TOP - BOTTOM };
}

static float
day_x (BedTrendChart *self, const Area *area, double day)
{
  const BedTrendSpec *spec = &self->spec;
  double share = (day - spec->first_day) / MAX (spec->last_day - spec->first_day, 1);

  return LEFT + area->width * (float) CLAMP (share, 0, 1);
}

static float
value_y (BedTrendChart *self, const Area *area, double value)
{
  double share = (value - self->least) / (self->most - self->least);

  return roundf (TOP + area->height * (float) (1 - CLAMP (share, 0, 1)));
}

static void
draw_band (BedTrendChart *self, GtkSnapshot *snapshot, const Area *area)
{
  const BedTrendSpec *spec = &self->spec;
  const BedInk *ink = bed_ink_get ();

  if (isnan (spec->band_low) || isnan (spec->band_high))
    return;
  float top = value_y (self, area, spec->band_high), foot = value_y (self, area, spec->band_low);
  bed_plot_box (snapshot, LEFT, top, area->width, foot - top, &ink->shade);
  if (spec->band_label)
    bed_plot_text (snapshot, GTK_WIDGET (self), spec->band_label,
                   &(BedPlotText){ LEFT + area->width - 4, top + 9, 1, SMALL, 0, &ink->dim });
}

static void
draw_axis (BedTrendChart *self, GtkSnapshot *snapshot, const Area *area)
{
  const BedInk *ink = bed_ink_get ();
  double step = bed_plot_step (self->most - self->least, STEPS);

  for (double value = self->least; value <= self->most + step / 100; value += step)
    {
      g_autofree char *text = bed_say ("%.*f", step < 1 ? 1 : 0, value);
      float y = value_y (self, area, value);

      bed_plot_box (snapshot, LEFT, y, area->width, 1, &ink->line);
      bed_plot_text (snapshot, GTK_WIDGET (self), text,
                     &(BedPlotText){ LEFT - 6, y, 1, SMALL, 0, &ink->dim });
    }
  bed_plot_text (snapshot, GTK_WIDGET (self), self->spec.unit,
                 &(BedPlotText){ LEFT - 6, TOP / 2 - 3, 1, SMALL, 0, &ink->dim });
}

/* Labels that would touch are left out. */
static void
draw_marks (BedTrendChart *self, GtkSnapshot *snapshot, const Area *area)
{
  const BedInk *ink = bed_ink_get ();
  float end = 0;

  for (guint i = 0; i < self->spec.n_marks; i++)
    {
      const BedTrendMark *mark = &self->spec.marks[i];
      float x = day_x (self, area, mark->day);

      bed_plot_box (snapshot, roundf (x), TOP + area->height, 1, 4, &ink->line);
      if (x < end)
        continue;
      end = x + 12
            + bed_plot_text (snapshot, GTK_WIDGET (self), mark->label,
                             &(BedPlotText){ x, TOP + area->height + BOTTOM / 2 + 3, 0.5f, SMALL, 0,
                                             &ink->dim });
    }
}

static void
draw_limit (BedTrendChart *self, GtkSnapshot *snapshot, const Area *area)
{
  const BedTrendSpec *spec = &self->spec;
  const BedInk *ink = bed_ink_get ();
  float y;

  if (isnan (spec->limit))
    return;
  y = value_y (self, area, spec->limit);
  for (float x = LEFT; x < LEFT + area->width; x += 8)
    bed_plot_box (snapshot, x, y, MIN (4, LEFT + area->width - x), 1, &ink->water);
  if (spec->limit_label)
    bed_plot_text (snapshot, GTK_WIDGET (self), spec->limit_label,
                   &(BedPlotText){ LEFT + 4, y + 9, 0, SMALL, 0, &ink->water });
}

/* On the line of the limit: when it will be reached, as a bar with a stroke at its median. */
static void
draw_reach (BedTrendChart *self, GtkSnapshot *snapshot, const Area *area)
{
  const BedTrendSpec *spec = &self->spec;
  const BedInk *ink = bed_ink_get ();

  if (isnan (spec->limit) || isnan (spec->reach) || spec->reach_late < spec->first_day
      || spec->reach_early > spec->last_day)
    return;
  float y = value_y (self, area, spec->limit), left = day_x (self, area, spec->reach_early);
  float right = day_x (self, area, spec->reach_late);

  bed_plot_box (snapshot, left, y - 2, MAX (right - left, 2), 5, &ink->water);
  if (spec->reach <= spec->last_day && spec->reach >= spec->first_day)
    bed_plot_box (snapshot, day_x (self, area, spec->reach) - 1, y - 6, 2, 13, &ink->water);
}

static void
draw_lines (BedTrendChart *self, GtkSnapshot *snapshot, const Area *area)
{
  const BedTrendSpec *spec = &self->spec;
  const BedInk *ink = bed_ink_get ();
  cairo_t *cr = bed_plot_cairo (GTK_WIDGET (self), snapshot);

  gdk_cairo_set_source_rgba (cr, &ink->bark);
  cairo_set_line_width (cr, 1.5);
  for (guint i = 0; i < spec->n_curve; i++)
    cairo_line_to (cr, day_x (self, area, spec->curve[i].day),
                   value_y (self, area, spec->curve[i].value));
  cairo_stroke (cr);
  for (guint i = 0; i < spec->n_dots; i++)
    {
      cairo_arc (cr, day_x (self, area, spec->dots[i].day),
                 value_y (self, area, spec->dots[i].value), DOT, 0, 2 * G_PI);
      cairo_fill (cr);
    }
  cairo_destroy (cr);
}

static void
bed_trend_chart_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  BedTrendChart *self = BED_TREND_CHART (widget);
  Area area = measure_area (self);

  bed_plot_begin (widget, snapshot);
  if (area.width < 20 || area.height < 20 || !self->spec.unit)
    return;
  draw_band (self, snapshot, &area);
  draw_axis (self, snapshot, &area);
  draw_marks (self, snapshot, &area);
  draw_limit (self, snapshot, &area);
  draw_reach (self, snapshot, &area);
  draw_lines (self, snapshot, &area);
}

static void
bed_trend_chart_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                         int *natural, int *minimum_baseline, int *natural_baseline)
{
  *minimum = bed_plot_to_px (widget, orientation == GTK_ORIENTATION_VERTICAL ? HEIGHT : 200);
  *natural = bed_plot_to_px (widget, orientation == GTK_ORIENTATION_VERTICAL ? HEIGHT : 600);
}

static void
clear_spec (BedTrendChart *self)
{
  BedTrendSpec *spec = &self->spec;

  for (guint i = 0; i < spec->n_marks; i++)
    g_free ((char *) spec->marks[i].label);
  g_free ((BedTrendMark *) spec->marks);
  g_free ((BedTrendPoint *) spec->dots);
  g_free ((BedTrendPoint *) spec->curve);
  g_free ((char *) spec->unit);
  g_free ((char *) spec->band_label);
  g_free ((char *) spec->limit_label);
  *spec = (BedTrendSpec){ 0 };
}

static void
bed_trend_chart_finalize (GObject *object)
{
  clear_spec (BED_TREND_CHART (object));
  G_OBJECT_CLASS (bed_trend_chart_parent_class)->finalize (object);
}

static void
bed_trend_chart_class_init (BedTrendChartClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = bed_trend_chart_finalize;
  widget_class->snapshot = bed_trend_chart_snapshot;
  widget_class->measure = bed_trend_chart_measure;
  gtk_widget_class_set_css_name (widget_class, "chart");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

BedTrendChart *
bed_trend_chart_new (void)
{
  BedTrendChart *self = g_object_new (BED_TYPE_TREND_CHART, NULL);

  bed_ink_follow (GTK_WIDGET (self));
  return self;
}

static void
take_in (BedTrendChart *self, double value)
{
  if (isnan (value))
    return;
  self->least = MIN (self->least, value);
  self->most = MAX (self->most, value);
}

/* From a whole step below the least to one above the most. */
static void
fit_axis (BedTrendChart *self)
{
  const BedTrendSpec *spec = &self->spec;

  self->least = INFINITY;
  self->most = -INFINITY;
  take_in (self, spec->band_low);
  take_in (self, spec->band_high);
  take_in (self, spec->limit);
  for (guint i = 0; i < spec->n_dots; i++)
    take_in (self, spec->dots[i].value);
  if (self->least > self->most)
    self->least = self->most = 0;
  double step = bed_plot_step (MAX (self->most - self->least, 1), STEPS);
  self->least = MAX (step * floor (self->least / step - 0.2), 0);
  self->most = step * ceil (self->most / step + 0.2);
}

static BedTrendPoint *
dup_points (const BedTrendPoint *points, guint n)
{
  return g_memdup2 (points, n * sizeof *points);
}

void
bed_trend_chart_set (BedTrendChart *self, const BedTrendSpec *spec)
{
  g_return_if_fail (BED_IS_TREND_CHART (self) && spec != NULL);
  BedTrendMark *marks = g_memdup2 (spec->marks, spec->n_marks * sizeof *marks);

  for (guint i = 0; i < spec->n_marks; i++)
    marks[i].label = g_strdup (spec->marks[i].label);
  clear_spec (self);
  self->spec = *spec;
  self->spec.marks = marks;
  self->spec.dots = dup_points (spec->dots, spec->n_dots);
  self->spec.curve = dup_points (spec->curve, spec->n_curve);
  self->spec.unit = g_strdup (spec->unit);
  self->spec.band_label = g_strdup (spec->band_label);
  self->spec.limit_label = g_strdup (spec->limit_label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, spec->label,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, spec->description, -1);
  self->spec.label = self->spec.description = NULL;
  fit_axis (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
