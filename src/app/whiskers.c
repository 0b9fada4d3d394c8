#include "app/whiskers.h"

#include "app/plot.h"

#define LINE 24
#define NAME_SHARE 0.38f
#define TEXT_WIDTH 150
#define GAP 12
#define DOT 7

typedef struct
{
  char *name;
  char *text;
  double value, low, high;
} Line;

struct _BedWhiskers
{
  GtkWidget parent_instance;
  GArray *lines; /* Line */
  double most;
};

G_DEFINE_FINAL_TYPE (BedWhiskers, bed_whiskers, GTK_TYPE_WIDGET)

static void
clear_line (Line *line)
{
  g_free (line->name);
  g_free (line->text);
}

static void
draw_line (BedWhiskers *self, GtkSnapshot *snapshot, guint i)
{
  const Line *line = &g_array_index (self->lines, Line, i);
  const BedInk *ink = bed_ink_get ();
  int width = gtk_widget_get_width (GTK_WIDGET (self));
  float left = width * NAME_SHARE, room = MAX (width - left - TEXT_WIDTH - GAP, 10);
  float y = i * LINE + LINE / 2, per = room / MAX (self->most, 1e-9);
  float low = left + line->low * per, high = left + line->high * per;

  bed_plot_text (snapshot, GTK_WIDGET (self), line->name,
                 &(BedPlotText) { 0, y, 0, 1, left - GAP, &ink->ink });
  bed_plot_box (snapshot, left, y, room, 1, &ink->line);
  if (line->high > line->low)
    {
      bed_plot_box (snapshot, low, y - 1, high - low, 3, &ink->wood);
      bed_plot_box (snapshot, low, y - 5, 1, 11, &ink->bark);
      bed_plot_box (snapshot, high, y - 5, 1, 11, &ink->bark);
    }
  bed_plot_box (snapshot, left + line->value * per - DOT / 2, y - DOT / 2, DOT, DOT, &ink->bark);
  bed_plot_text (snapshot, GTK_WIDGET (self), line->text,
                 &(BedPlotText) { width, y, 1, 1, 0, &ink->ink });
}

static void
bed_whiskers_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  BedWhiskers *self = BED_WHISKERS (widget);

  for (guint i = 0; i < self->lines->len; i++)
    draw_line (self, snapshot, i);
}

static void
bed_whiskers_measure (GtkWidget *widget,
                      GtkOrientation orientation,
                      int for_size,
                      int *minimum,
                      int *natural,
                      int *minimum_baseline,
                      int *natural_baseline)
{
  int height = (int) BED_WHISKERS (widget)->lines->len * LINE;

  *minimum = orientation == GTK_ORIENTATION_VERTICAL ? height : 320;
  *natural = orientation == GTK_ORIENTATION_VERTICAL ? height : 700;
}

static void
bed_whiskers_finalize (GObject *object)
{
  g_array_unref (BED_WHISKERS (object)->lines);
  G_OBJECT_CLASS (bed_whiskers_parent_class)->finalize (object);
}

static void
bed_whiskers_class_init (BedWhiskersClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = bed_whiskers_finalize;
  widget_class->snapshot = bed_whiskers_snapshot;
  widget_class->measure = bed_whiskers_measure;
  gtk_widget_class_set_css_name (widget_class, "chart");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
bed_whiskers_init (BedWhiskers *self)
{
  self->lines = g_array_new (FALSE, FALSE, sizeof (Line));
  g_array_set_clear_func (self->lines, (GDestroyNotify) clear_line);
  bed_ink_follow (GTK_WIDGET (self));
}

BedWhiskers *
bed_whiskers_new (const char *label)
{
  BedWhiskers *self = g_object_new (BED_TYPE_WHISKERS, NULL);

  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  return self;
}

void
bed_whiskers_set (BedWhiskers *self, const BedWhisker *lines, guint n)
{
  g_return_if_fail (BED_IS_WHISKERS (self));
  GString *words = g_string_new (NULL);

  g_array_set_size (self->lines, 0);
  self->most = 0;
  for (guint i = 0; i < n; i++)
    {
      Line line = { g_strdup (lines[i].name), g_strdup (lines[i].text), lines[i].value,
                    lines[i].low, lines[i].high };
      g_array_append_val (self->lines, line);
      self->most = MAX (self->most, MAX (line.value, line.high));
      g_string_append_printf (words, "%s%s %s", i ? "; " : "", line.name, line.text);
    }
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  words->str, -1);
  g_string_free (words, TRUE);
  gtk_widget_queue_resize (GTK_WIDGET (self));
}
