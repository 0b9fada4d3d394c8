#include "app/widgets/dots.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/widgets/build.h"
#include "app/widgets/plot.h"
#include "model/farm/say.h"
#include "science/language.h"

#define NAMES_MOST 0.45f /* of the width, for the names */
#define DETAIL 84
#define ROW 26
#define FOOT 24
#define RIGHT 24
#define STEPS 5
#define RADIUS 4.5f
#define SMALL 0.85f

struct _BedDots
{
  GtkWidget parent_instance;
  GArray *dots; /* BedDot, their texts our own */
  char *unit;
  double most;
  float names; /* px, set when drawn */
};

BED_DEFINE_TYPE (BedDots, bed_dots, GTK_TYPE_WIDGET)

static void
clear_dot (BedDot *dot)
{
  g_free ((char *) dot->label);
  g_free ((char *) dot->detail);
}

/* As wide as the longest name, within reason. */
static float
measure_names (BedDots *self)
{
  g_autoptr (PangoLayout) layout = bed_plot_layout_new (GTK_WIDGET (self), NULL, 1);
  int longest = 0, width;

  for (guint i = 0; i < self->dots->len; i++)
    {
      pango_layout_set_text (layout, g_array_index (self->dots, BedDot, i).label, -1);
      pango_layout_get_pixel_size (layout, &width, NULL);
      longest = MAX (longest, width);
    }
  return MIN (longest + 12 + DETAIL, bed_plot_width (GTK_WIDGET (self)) * NAMES_MOST);
}

static float
value_x (BedDots *self, double value)
{
  float width = bed_plot_width (GTK_WIDGET (self)) - self->names - RIGHT;

  return roundf (self->names + width * value / self->most);
}

static void
draw_axis (BedDots *self, GtkSnapshot *snapshot)
{
  const BedInk *ink = bed_ink_get ();
  float height = ROW * self->dots->len;
  double step = bed_plot_step (self->most, STEPS);
  int decimals = step < 0.1 ? 2 : step < 1 ? 1 : 0;

  for (double value = 0; value <= self->most * 1.001; value += step)
    {
      g_autofree char *text = bed_say ("%.*f", decimals, value);
      g_autofree char *first = value > 0 ? NULL : g_strdup_printf ("%s %s", text, self->unit);
      bed_plot_box (snapshot, value_x (self, value), 0, 1, height, &ink->line);
      bed_plot_text (
          snapshot, GTK_WIDGET (self), first ? first : text,
          &(BedPlotText){ value_x (self, value), height + FOOT / 2, 0.5f, SMALL, 0, &ink->dim });
    }
}

static void
draw_row (BedDots *self, GtkSnapshot *snapshot, guint i)
{
  const BedInk *ink = bed_ink_get ();
  const BedDot *dot = &g_array_index (self->dots, BedDot, i);
  float y = ROW * (i + 0.5f);
  float low = value_x (self, dot->low), high = value_x (self, dot->high);

  bed_plot_text (snapshot, GTK_WIDGET (self), dot->label,
                 &(BedPlotText){ 0, y, 0, 1, self->names - DETAIL, &ink->ink });
  bed_plot_text (snapshot, GTK_WIDGET (self), dot->detail,
                 &(BedPlotText){ self->names - 14, y, 1, SMALL, 0, &ink->dim });
  bed_plot_box (snapshot, low, y, high - low, 1, &ink->ink);
  if (high > low)
    {
      bed_plot_box (snapshot, low, y - 3, 1, 7, &ink->ink);
      bed_plot_box (snapshot, high, y - 3, 1, 7, &ink->ink);
    }
}

static void
draw_dots (BedDots *self, GtkSnapshot *snapshot)
{
  cairo_t *cr = bed_plot_cairo (GTK_WIDGET (self), snapshot);

  gdk_cairo_set_source_rgba (cr, &bed_ink_get ()->bark);
  for (guint i = 0; i < self->dots->len; i++)
    {
      float x = value_x (self, g_array_index (self->dots, BedDot, i).value);
      cairo_arc (cr, x, ROW * (i + 0.5) + 0.5, RADIUS, 0, 2 * G_PI);
      cairo_fill (cr);
    }
  cairo_destroy (cr);
}

static void
bed_dots_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  BedDots *self = BED_DOTS (widget);

  bed_plot_begin (widget, snapshot);
  if (!self->dots->len)
    return;
  self->names = measure_names (self);
  draw_axis (self, snapshot);
  for (guint i = 0; i < self->dots->len; i++)
    draw_row (self, snapshot, i);
  draw_dots (self, snapshot);
}

static void
bed_dots_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                  int *natural, int *minimum_baseline, int *natural_baseline)
{
  int height = ROW * BED_DOTS (widget)->dots->len + FOOT;

  *minimum = bed_plot_to_px (widget, orientation == GTK_ORIENTATION_VERTICAL ? height : 300);
  *natural = bed_plot_to_px (widget, orientation == GTK_ORIENTATION_VERTICAL ? height : 800);
}

static void
bed_dots_finalize (GObject *object)
{
  g_array_unref (BED_DOTS (object)->dots);
  g_free (BED_DOTS (object)->unit);
  G_OBJECT_CLASS (bed_dots_parent_class)->finalize (object);
}

static void
bed_dots_class_init (BedDotsClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = bed_dots_finalize;
  widget_class->snapshot = bed_dots_snapshot;
  widget_class->measure = bed_dots_measure;
  gtk_widget_class_set_css_name (widget_class, "dots");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

BedDots *
bed_dots_new (void)
{
  BedDots *self = g_object_new (BED_TYPE_DOTS, NULL);

  self->dots = g_array_new (FALSE, FALSE, sizeof (BedDot));
  g_array_set_clear_func (self->dots, (GDestroyNotify) clear_dot);
  self->most = 1;
  bed_ink_follow (GTK_WIDGET (self));
  return self;
}

void
bed_dots_set (BedDots *self, const char *label, const char *unit, const BedDot *dots, guint n)
{
  g_return_if_fail (BED_IS_DOTS (self));
  GString *words = g_string_new (NULL);
  double most = 0, step;

  g_array_set_size (self->dots, 0);
  for (guint i = 0; i < n; i++)
    {
      BedDot dot = dots[i];
      dot.label = g_strdup (dot.label);
      dot.detail = g_strdup (dot.detail);
      g_array_append_val (self->dots, dot);
      most = MAX (most, MAX (dot.value, dot.high));
      g_string_append_printf (words, "%s%s: %.2f %s (%.2f–%.2f)", i ? bed_semicolon () : "",
                              dot.label, dot.value, unit, dot.low, dot.high);
    }
  step = bed_plot_step (most, STEPS);
  self->most = MAX (step * ceil (most / step - 1e-9), step);
  g_free (self->unit);
  self->unit = g_strdup (unit);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, label,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  n ? words->str : _ ("Nothing here yet"), -1);
  g_string_free (words, TRUE);
  gtk_widget_queue_resize (GTK_WIDGET (self));
}
