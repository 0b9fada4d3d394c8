#include "app/widgets/run_chart.h"

#include <math.h>

#include "app/widgets/build.h"
#include "app/widgets/plot.h"
#include "model/farm/say.h"

#define LEFT 44
#define TOP 22
#define FOOT 22
#define RIGHT 96 /* for the names of the lines */
#define BETWEEN 18
#define HEIGHT 320
#define SUMS 0.66f /* of the height, for the sums */
#define STEPS 4
#define STEPS_OF_WEEKS 2
#define SMALL 0.85f
#define LINE_HEIGHT 15
#define WIDEST 40 /* px of a bar */

typedef struct
{
  char *name;
  double *sums;
  float y; /* of the name, while it is drawn */
} Line;

struct _BedRunChart
{
  GtkWidget parent_instance;
  guint n_weeks, n_known;
  double *weeks;
  GArray *lines; /* Line, the season's own last */
  GStrv names, tooltips;
  char *unit, *expected_label;
  double low, expected, high;
  double most_sum, most_week; /* tops of the axes */
};

BED_DEFINE_TYPE (BedRunChart, bed_run_chart, GTK_TYPE_WIDGET)

static void
clear_line (gpointer data)
{
  g_free (((Line *) data)->name);
  g_free (((Line *) data)->sums);
}

/* One of the two drawings over the axis of weeks. */
typedef struct
{
  GtkSnapshot *snapshot;
  float top, height; /* px */
  float width, pitch;
  double most;
} Frame;

static Frame
measure_frame (BedRunChart *self, GtkSnapshot *snapshot, gboolean of_sums)
{
  float all = bed_plot_height (GTK_WIDGET (self)) - TOP - BETWEEN - FOOT;
  float width = bed_plot_width (GTK_WIDGET (self)) - LEFT - RIGHT;
  Frame frame
      = { snapshot, TOP, all * SUMS, width, width / MAX (self->n_weeks, 1), self->most_sum };

  if (of_sums)
    return frame;
  frame.top = TOP + frame.height + BETWEEN;
  frame.height = all - frame.height;
  frame.most = self->most_week;
  return frame;
}

static float
value_y (const Frame *frame, double value)
{
  return roundf (frame->top + frame->height * (float) (1 - value / frame->most));
}

static float
week_x (const Frame *frame, double week)
{
  return LEFT + frame->pitch * (float) week;
}

static void
draw_axis (BedRunChart *self, const Frame *frame, int steps)
{
  const BedInk *ink = bed_ink_get ();
  double step = bed_plot_step (frame->most, steps);

  for (double value = 0; value <= frame->most * 1.001; value += step)
    {
      g_autofree char *text = bed_say ("%.*f", step < 1 ? (step < 0.1 ? 2 : 1) : 0, value);
      float y = value_y (frame, value);
      bed_plot_box (frame->snapshot, LEFT, y, frame->width, 1, &ink->line);
      bed_plot_text (frame->snapshot, GTK_WIDGET (self), text,
                     &(BedPlotText){ LEFT - 6, y, 1, SMALL, 0, &ink->dim });
    }
}

/* --- the sums ------------------------------------------------------------------ */

static void
draw_expected (BedRunChart *self, const Frame *frame)
{
  const BedInk *ink = bed_ink_get ();
  float middle;

  if (isnan (self->expected))
    return;
  middle = value_y (frame, self->expected);
  if (!isnan (self->low))
    bed_plot_box (frame->snapshot, LEFT, value_y (frame, self->high), frame->width,
                  value_y (frame, self->low) - value_y (frame, self->high), &ink->shade);
  for (float x = LEFT; x < LEFT + frame->width; x += 8)
    bed_plot_box (frame->snapshot, x, middle, MIN (4, LEFT + frame->width - x), 1, &ink->water);
  bed_plot_text (
      frame->snapshot, GTK_WIDGET (self), self->expected_label,
      &(BedPlotText){ LEFT + 6, middle - LINE_HEIGHT / 2.f - 1, 0, SMALL, 0, &ink->water });
}

/* GTK 4.8 draws no paths but with Cairo. */
static void
draw_sums (BedRunChart *self, const Frame *frame, const Line *line, guint n, gboolean own)
{
  const BedInk *ink = bed_ink_get ();
  cairo_t *cr = bed_plot_cairo (GTK_WIDGET (self), frame->snapshot);

  cairo_move_to (cr, LEFT, value_y (frame, 0));
  for (guint i = 0; i < n; i++)
    cairo_line_to (cr, week_x (frame, i + 1), value_y (frame, line->sums[i]));
  gdk_cairo_set_source_rgba (cr, own ? &ink->bark : &ink->dim);
  cairo_set_line_width (cr, own ? 3 : 1);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_stroke (cr);
  if (own && n)
    {
      cairo_arc (cr, week_x (frame, n), value_y (frame, line->sums[n - 1]), 5, 0, 2 * G_PI);
      cairo_fill (cr);
    }
  cairo_destroy (cr);
}

static int
compare_y (gconstpointer a, gconstpointer b)
{
  float one = (*(Line *const *) a)->y, other = (*(Line *const *) b)->y;

  return one < other ? -1 : one > other;
}

/* At the end of their lines, pushed apart where lines end close to each other. */
static void
draw_names (BedRunChart *self, const Frame *frame)
{
  const BedInk *ink = bed_ink_get ();
  g_autoptr (GPtrArray) order = g_ptr_array_new ();
  guint last = self->lines->len - 1;

  for (guint i = 0; i < self->lines->len; i++)
    {
      Line *line = &g_array_index (self->lines, Line, i);
      line->y = value_y (frame, line->sums[self->n_weeks - 1]);
      /* One that still runs has its name where it is. */
      if (i < last || self->n_known == self->n_weeks)
        g_ptr_array_add (order, line);
    }
  g_ptr_array_sort (order, compare_y);
  for (guint i = order->len; i-- > 1;)
    {
      Line *above = order->pdata[i - 1], *below = order->pdata[i];
      above->y = MIN (above->y, below->y - LINE_HEIGHT);
    }
  for (guint i = 0; i < order->len; i++)
    {
      const Line *line = order->pdata[i];
      gboolean own = line == &g_array_index (self->lines, Line, last);
      bed_plot_text (frame->snapshot, GTK_WIDGET (self), line->name,
                     &(BedPlotText){ LEFT + frame->width + 8, line->y, 0, own ? 1 : SMALL,
                                     RIGHT - 8, own ? &ink->ink : &ink->dim });
    }
  if (self->n_known < self->n_weeks && self->n_known)
    {
      const Line *own = &g_array_index (self->lines, Line, last);
      bed_plot_text (frame->snapshot, GTK_WIDGET (self), own->name,
                     &(BedPlotText){ week_x (frame, self->n_known) - 10,
                                     value_y (frame, own->sums[self->n_known - 1]) - 10, 1, 1, 0,
                                     &ink->ink });
    }
}

/* --- the weeks ----------------------------------------------------------------- */

static void
draw_weeks (BedRunChart *self, const Frame *frame)
{
  const BedInk *ink = bed_ink_get ();
  float wide = roundf (MIN (frame->pitch * 0.7f, WIDEST));

  for (guint i = 0; i < self->n_weeks; i++)
    {
      float y = value_y (frame, self->weeks[i]);
      bed_plot_box (frame->snapshot, roundf (week_x (frame, i + 0.5) - wide / 2), y, wide,
                    value_y (frame, 0) - y, &ink->bark);
    }
  if (self->n_known && self->n_known < self->n_weeks)
    bed_plot_box (frame->snapshot, roundf (week_x (frame, self->n_known)), TOP, 1,
                  frame->top + frame->height - TOP, &ink->dim);
}

static float
measure_name (BedRunChart *self)
{
  g_autoptr (PangoLayout) layout = bed_plot_layout_new (GTK_WIDGET (self), NULL, 1);
  int most = 0, width;

  for (guint i = 0; self->names && self->names[i]; i++)
    {
      pango_layout_set_text (layout, self->names[i], -1);
      pango_layout_get_pixel_size (layout, &width, NULL);
      most = MAX (most, width);
    }
  return most * SMALL;
}

/* Names that would touch are left out, evenly. */
static void
draw_week_names (BedRunChart *self, const Frame *frame)
{
  guint every = MAX ((guint) ceilf ((measure_name (self) + 8) / frame->pitch), 1);

  for (guint i = 0; i < self->n_weeks; i += every)
    bed_plot_text (frame->snapshot, GTK_WIDGET (self), self->names[i],
                   &(BedPlotText){ week_x (frame, i + 0.5),
                                   frame->top + frame->height + FOOT / 2 + 2, 0.5f, SMALL, 0,
                                   &bed_ink_get ()->dim });
}

static void
bed_run_chart_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  BedRunChart *self = BED_RUN_CHART (widget);
  Frame sums = measure_frame (self, snapshot, TRUE), weeks = measure_frame (self, snapshot, FALSE);

  bed_plot_begin (widget, snapshot);
  if (!self->n_weeks || sums.width < 20 || weeks.height < 20)
    return;
  bed_plot_text (snapshot, widget, self->unit,
                 &(BedPlotText){ LEFT - 6, TOP / 2 - 3, 1, SMALL, 0, &bed_ink_get ()->dim });
  draw_axis (self, &sums, STEPS);
  draw_expected (self, &sums);
  for (guint i = 0; i < self->lines->len; i++)
    {
      gboolean own = i + 1 == self->lines->len;
      draw_sums (self, &sums, &g_array_index (self->lines, Line, i),
                 own ? self->n_known : self->n_weeks, own);
    }
  draw_names (self, &sums);
  draw_axis (self, &weeks, STEPS_OF_WEEKS);
  draw_weeks (self, &weeks);
  draw_week_names (self, &weeks);
}

static void
bed_run_chart_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                       int *natural, int *minimum_baseline, int *natural_baseline)
{
  *minimum = bed_plot_to_px (widget, orientation == GTK_ORIENTATION_VERTICAL ? HEIGHT : 300);
  *natural = bed_plot_to_px (widget, orientation == GTK_ORIENTATION_VERTICAL ? HEIGHT : 700);
}

static gboolean
query_tooltip_cb (BedRunChart *self, int x, int y, gboolean keyboard, GtkTooltip *tooltip)
{
  Frame frame = measure_frame (self, NULL, TRUE);
  int at = (int) floorf ((bed_plot_x_from_px (GTK_WIDGET (self), x) - LEFT) / frame.pitch);

  if (keyboard || at < 0 || at >= (int) self->n_weeks)
    return FALSE;
  gtk_tooltip_set_text (tooltip, self->tooltips[at]);
  return TRUE;
}

/* --- widget -------------------------------------------------------------------- */

static void
clear (BedRunChart *self)
{
  g_array_set_size (self->lines, 0);
  g_clear_pointer (&self->weeks, g_free);
  g_clear_pointer (&self->names, g_strfreev);
  g_clear_pointer (&self->tooltips, g_strfreev);
  g_clear_pointer (&self->unit, g_free);
  g_clear_pointer (&self->expected_label, g_free);
}

static void
bed_run_chart_finalize (GObject *object)
{
  BedRunChart *self = BED_RUN_CHART (object);

  clear (self);
  g_array_unref (self->lines);
  G_OBJECT_CLASS (bed_run_chart_parent_class)->finalize (object);
}

static void
bed_run_chart_class_init (BedRunChartClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = bed_run_chart_finalize;
  widget_class->snapshot = bed_run_chart_snapshot;
  widget_class->measure = bed_run_chart_measure;
  gtk_widget_class_set_css_name (widget_class, "chart");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

BedRunChart *
bed_run_chart_new (void)
{
  BedRunChart *self = g_object_new (BED_TYPE_RUN_CHART, NULL);

  self->lines = g_array_new (FALSE, FALSE, sizeof (Line));
  g_array_set_clear_func (self->lines, clear_line);
  gtk_widget_set_has_tooltip (GTK_WIDGET (self), TRUE);
  g_signal_connect (self, "query-tooltip", G_CALLBACK (query_tooltip_cb), NULL);
  bed_ink_follow (GTK_WIDGET (self));
  return self;
}

static GStrv
copy_texts (const char *const *texts, guint n)
{
  GStrv copy = g_new0 (char *, n + 1);

  for (guint i = 0; i < n; i++)
    copy[i] = g_strdup (texts[i]);
  return copy;
}

static void
add_line (BedRunChart *self, const char *name, const double *sums, guint n)
{
  Line line = { g_strdup (name), g_memdup2 (sums, n * sizeof *sums), 0 };

  g_array_append_val (self->lines, line);
  if (n)
    self->most_sum = MAX (self->most_sum, sums[n - 1]);
}

static double
round_up (double most, int steps)
{
  double step = bed_plot_step (most, steps);

  return MAX (step * ceil (most / step - 1e-9), step);
}

void
bed_run_chart_set (BedRunChart *self, const BedRunSpec *spec)
{
  g_return_if_fail (BED_IS_RUN_CHART (self) && spec != NULL);

  clear (self);
  self->n_weeks = spec->n_weeks;
  self->n_known = MIN (spec->n_known, spec->n_weeks);
  self->low = spec->low;
  self->expected = spec->expected;
  self->high = spec->high;
  self->most_week = 0;
  self->most_sum = isnan (spec->expected) ? 0 : isnan (spec->high) ? spec->expected : spec->high;
  self->weeks = g_memdup2 (spec->weeks, spec->n_weeks * sizeof *spec->weeks);
  for (guint i = 0; i < spec->n_weeks; i++)
    self->most_week = MAX (self->most_week, spec->weeks[i]);
  for (guint i = 0; i < spec->n_others; i++)
    add_line (self, spec->others[i].label, spec->others[i].sums, spec->n_weeks);
  add_line (self, spec->name, spec->sums, spec->n_weeks);
  self->most_sum = round_up (self->most_sum, STEPS);
  self->most_week = round_up (self->most_week, STEPS_OF_WEEKS);
  self->names = copy_texts (spec->names, spec->n_weeks);
  self->tooltips = copy_texts (spec->tooltips, spec->n_weeks);
  self->unit = g_strdup (spec->unit);
  self->expected_label = g_strdup (spec->expected_label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, spec->label,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, spec->description, -1);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
