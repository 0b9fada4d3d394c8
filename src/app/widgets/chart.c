#include "app/widgets/chart.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/widgets/build.h"
#include "app/widgets/plot.h"
#include "model/farm/say.h"
#include "science/language.h"

#define LEFT 44 /* unless the chart is told */
#define TOP 22
#define BOTTOM 22
#define HEIGHT 190
#define STEPS 4
#define WIDEST 40 /* px of a bar */
#define SMALL 0.85f

struct _BedChart
{
  GtkWidget parent_instance;
  GArray *bars; /* BedChartBar, their texts our own */
  char *unit;
  char *wanted_label;
  double wanted;
  double most; /* top of the axis */
  int left;
};

BED_DEFINE_TYPE (BedChart, bed_chart, GTK_TYPE_WIDGET)

static void
clear_bar (BedChartBar *bar)
{
  g_free ((char *) bar->label);
  g_free ((char *) bar->tooltip);
}

/* Where the bars stand: left edge and width of bar @i, and y of @value. */
typedef struct
{
  float left, width, height, pitch, bar;
  double most;
} Scale;

static Scale
measure_scale (BedChart *self)
{
  Scale scale = { self->left,
                  bed_plot_width (GTK_WIDGET (self)) - self->left,
                  bed_plot_height (GTK_WIDGET (self)) - TOP - BOTTOM,
                  0,
                  0,
                  self->most };

  scale.pitch = self->bars->len ? scale.width / self->bars->len : scale.width;
  scale.bar = roundf (MIN (scale.pitch * 0.7f, WIDEST));
  return scale;
}

static float
bar_x (const Scale *scale, guint i)
{
  return roundf (scale->left + scale->pitch * (i + 0.5f) - scale->bar / 2);
}

static float
value_y (const Scale *scale, double value)
{
  return roundf (TOP + scale->height * (1 - value / scale->most));
}

static void
draw_axis (BedChart *self, GtkSnapshot *snapshot, const Scale *scale)
{
  const BedInk *ink = bed_ink_get ();
  double step = bed_plot_step (scale->most, STEPS);

  for (double value = 0; value <= scale->most * 1.001; value += step)
    {
      g_autofree char *text = bed_say ("%.*f", step < 1 ? (step < 0.1 ? 2 : 1) : 0, value);
      float y = value_y (scale, value);
      bed_plot_box (snapshot, scale->left, y, scale->width, 1, &ink->line);
      bed_plot_text (snapshot, GTK_WIDGET (self), text,
                     &(BedPlotText){ scale->left - 6, y, 1, SMALL, 0, &ink->dim });
    }
  if (self->unit)
    bed_plot_text (snapshot, GTK_WIDGET (self), self->unit,
                   &(BedPlotText){ scale->left - 6, TOP / 2 - 3, 1, SMALL, 0, &ink->dim });
}

static void
draw_bar (BedChart *self, GtkSnapshot *snapshot, const Scale *scale, guint i)
{
  const BedInk *ink = bed_ink_get ();
  const BedChartBar *bar = &g_array_index (self->bars, BedChartBar, i);
  float x = bar_x (scale, i), y = value_y (scale, bar->value);
  float middle = x + floorf (scale->bar / 2);

  bed_plot_box (snapshot, x, y, scale->bar, value_y (scale, 0) - y,
                bar->is_expected ? &ink->wood : &ink->bark);
  if (bar->high > 0)
    {
      float top = value_y (scale, bar->high), foot = value_y (scale, bar->low);
      bed_plot_box (snapshot, middle, top, 1, foot - top, &ink->ink);
      bed_plot_box (snapshot, middle - 3, top, 7, 1, &ink->ink);
      bed_plot_box (snapshot, middle - 3, foot, 7, 1, &ink->ink);
    }
}

static float
measure_label (BedChart *self)
{
  g_autoptr (PangoLayout) layout = bed_plot_layout_new (GTK_WIDGET (self), NULL, 1);
  int most = 0, width;

  for (guint i = 0; i < self->bars->len; i++)
    {
      const BedChartBar *bar = &g_array_index (self->bars, BedChartBar, i);
      pango_layout_set_text (layout, bar->label ? bar->label : "", -1);
      pango_layout_get_pixel_size (layout, &width, NULL);
      most = MAX (most, width);
    }
  return most * SMALL;
}

/* Labels that would touch are left out, evenly. */
static void
draw_labels (BedChart *self, GtkSnapshot *snapshot, const Scale *scale)
{
  const BedInk *ink = bed_ink_get ();
  guint every = MAX (ceilf ((measure_label (self) + 6) / scale->pitch), 1);

  for (guint i = 0; i < self->bars->len; i += every)
    {
      const BedChartBar *bar = &g_array_index (self->bars, BedChartBar, i);
      float x = scale->left + scale->pitch * (i + 0.5f);
      if (bar->label)
        bed_plot_text (
            snapshot, GTK_WIDGET (self), bar->label,
            &(BedPlotText){ x, TOP + scale->height + BOTTOM / 2 + 2, 0.5f, SMALL, 0, &ink->dim });
    }
}

static void
draw_wanted (BedChart *self, GtkSnapshot *snapshot, const Scale *scale)
{
  const BedInk *ink = bed_ink_get ();
  float y = value_y (scale, self->wanted);

  float end = scale->left + scale->width, label = 0;

  for (float x = scale->left; x < end; x += 8)
    bed_plot_box (snapshot, x, y, MIN (4, end - x), 1, &ink->water);
  /* Above the bars, after a piece of the line itself: no bar is in its way there. */
  if (self->wanted_label)
    label = bed_plot_text (snapshot, GTK_WIDGET (self), self->wanted_label,
                           &(BedPlotText){ end, TOP / 2 - 3, 1, SMALL, 0, &ink->water });
  for (int i = 0; label && i < 3; i++)
    bed_plot_box (snapshot, end - label - 28 + 8 * i, TOP / 2 - 3, 4, 1, &ink->water);
}

static void
bed_chart_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  BedChart *self = BED_CHART (widget);
  Scale scale = measure_scale (self);

  bed_plot_begin (widget, snapshot);
  if (scale.width < 20 || scale.height < 20)
    return;
  draw_axis (self, snapshot, &scale);
  for (guint i = 0; i < self->bars->len; i++)
    draw_bar (self, snapshot, &scale, i);
  draw_labels (self, snapshot, &scale);
  if (self->wanted > 0)
    draw_wanted (self, snapshot, &scale);
}

static void
bed_chart_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                   int *natural, int *minimum_baseline, int *natural_baseline)
{
  *minimum = bed_plot_to_px (widget, orientation == GTK_ORIENTATION_VERTICAL ? HEIGHT : 200);
  *natural = bed_plot_to_px (widget, orientation == GTK_ORIENTATION_VERTICAL ? HEIGHT : 600);
}

static gboolean
query_tooltip_cb (BedChart *self, int x, int y, gboolean keyboard, GtkTooltip *tooltip)
{
  Scale scale = measure_scale (self);
  float at = bed_plot_x_from_px (GTK_WIDGET (self), x) - scale.left;
  int i = floorf (at / scale.pitch);

  if (keyboard || at < 0 || i >= (int) self->bars->len
      || !g_array_index (self->bars, BedChartBar, i).tooltip)
    return FALSE;
  gtk_tooltip_set_text (tooltip, g_array_index (self->bars, BedChartBar, i).tooltip);
  return TRUE;
}

static void
bed_chart_finalize (GObject *object)
{
  BedChart *self = BED_CHART (object);

  g_array_unref (self->bars);
  g_free (self->unit);
  g_free (self->wanted_label);
  G_OBJECT_CLASS (bed_chart_parent_class)->finalize (object);
}

static void
bed_chart_class_init (BedChartClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = bed_chart_finalize;
  widget_class->snapshot = bed_chart_snapshot;
  widget_class->measure = bed_chart_measure;
  gtk_widget_class_set_css_name (widget_class, "chart");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

BedChart *
bed_chart_new (void)
{
  BedChart *self = g_object_new (BED_TYPE_CHART, NULL);

  self->bars = g_array_new (FALSE, FALSE, sizeof (BedChartBar));
  g_array_set_clear_func (self->bars, (GDestroyNotify) clear_bar);
  self->most = 1;
  self->left = LEFT;
  gtk_widget_set_has_tooltip (GTK_WIDGET (self), TRUE);
  g_signal_connect (self, "query-tooltip", G_CALLBACK (query_tooltip_cb), NULL);
  bed_ink_follow (GTK_WIDGET (self));
  return self;
}

/* Whoever cannot see the bars hears them, those that are not empty. */
static void
describe (BedChart *self, const char *label)
{
  GString *words = g_string_new (NULL);

  for (guint i = 0; i < self->bars->len; i++)
    {
      const BedChartBar *bar = &g_array_index (self->bars, BedChartBar, i);
      if (bar->value > 0 && bar->tooltip)
        g_string_append_printf (words, "%s%s", words->len ? bed_semicolon () : "", bar->tooltip);
    }
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, label,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  words->len ? words->str : _ ("Nothing here yet"), -1);
  g_string_free (words, TRUE);
}

void
bed_chart_set (BedChart *self, const BedChartSpec *spec, const BedChartBar *bars, guint n)
{
  g_return_if_fail (BED_IS_CHART (self) && spec != NULL);
  double most = spec->wanted;

  g_array_set_size (self->bars, 0);
  for (guint i = 0; i < n; i++)
    {
      BedChartBar bar = bars[i];
      bar.label = g_strdup (bar.label);
      bar.tooltip = g_strdup (bar.tooltip);
      g_array_append_val (self->bars, bar);
      most = MAX (most, MAX (bar.value, bar.high));
    }
  g_free (self->unit);
  self->unit = g_strdup (spec->unit);
  g_free (self->wanted_label);
  self->wanted_label = g_strdup (spec->wanted_label);
  self->wanted = spec->wanted;
  self->left = spec->left ? spec->left : LEFT;
  double step = bed_plot_step (most, STEPS);
  self->most = MAX (step * ceil (most / step - 1e-9), step);
  describe (self, spec->label);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
