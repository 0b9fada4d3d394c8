#include "app/widgets/split_bar.h"

#include <math.h>

#include "app/widgets/build.h"
#include "app/widgets/plot.h"
#include "model/farm/say.h"
#include "science/language.h"

#define BAR 14
#define GAP 2
#define SMALL 0.85f
#define APART 16 /* px between names */
#define BELOW 6  /* px between what lies one below the other */
#define CHIP 8
#define LEAST_WIDTH 120
#define USUAL_WIDTH 600

typedef struct
{
  char *label;
  char *text;
  double share;
  float x, width; /* of its name, set by place_names() */
  guint row;      /* of the names */
} Part;

struct _BedSplitBar
{
  GtkWidget parent_instance;
  GArray *parts;     /* Part */
  gboolean is_plain; /* set by bed_split_bar_set_measure() */
};

BED_DEFINE_TYPE (BedSplitBar, bed_split_bar, GTK_TYPE_WIDGET)

static void
clear_part (Part *part)
{
  g_free (part->label);
  g_free (part->text);
}

/* From bark to wood, part by part: the order says which is which. */
static GdkRGBA
mix (guint i, guint n)
{
  const BedInk *ink = bed_ink_get ();
  float at = n > 1 ? (float) i / (n - 1) : 0;

  return (GdkRGBA){ ink->bark.red + (ink->wood.red - ink->bark.red) * at,
                    ink->bark.green + (ink->wood.green - ink->bark.green) * at,
                    ink->bark.blue + (ink->wood.blue - ink->bark.blue) * at, 1 };
}

/* The heights of the two lines of a name, px. */
typedef struct
{
  int text, label;
} Lines;

static Lines
measure_lines (GtkWidget *widget)
{
  g_autoptr (PangoLayout) layout = bed_plot_layout_new (widget, "0", 1);
  Lines lines;

  pango_layout_get_pixel_size (layout, NULL, &lines.text);
  lines.label = (int) ceilf (lines.text * SMALL);
  return lines;
}

static int
measure_rows (GtkWidget *widget, guint rows)
{
  Lines lines = measure_lines (widget);

  return BAR + (int) rows * (BELOW + lines.text + lines.label);
}

static float
measure_name (GtkWidget *widget, const Part *part)
{
  g_autoptr (PangoLayout) layout = bed_plot_layout_new (widget, part->text, 1);
  int text, label;

  pango_layout_get_pixel_size (layout, &text, NULL);
  pango_layout_set_text (layout, part->label, -1);
  pango_layout_get_pixel_size (layout, &label, NULL);
  return MAX (text, ceilf (label * SMALL) + CHIP + 8);
}

/* Each under its part, or as far left of it as it must to end within the bar; FALSE when there is
 * too little room for that. */
static gboolean
place_under (BedSplitBar *self, float whole)
{
  float end = whole, x = 0;

  for (guint i = 0; i < self->parts->len; i++)
    {
      Part *part = &g_array_index (self->parts, Part, i);
      part->x = x;
      part->row = 0;
      x += roundf (whole * part->share);
    }
  for (guint i = self->parts->len; i > 0; i--)
    {
      Part *part = &g_array_index (self->parts, Part, i - 1);
      part->x = MIN (part->x, end - part->width);
      end = part->x - APART;
    }
  return self->parts->len == 0 || g_array_index (self->parts, Part, 0).x >= 0;
}

/* In the order of the parts, as many beside each other as there is room for. */
static guint
place_in_rows (BedSplitBar *self, float whole)
{
  float x = 0;
  guint row = 0;

  for (guint i = 0; i < self->parts->len; i++)
    {
      Part *part = &g_array_index (self->parts, Part, i);
      if (x > 0 && x + part->width > whole)
        {
          row++;
          x = 0;
        }
      part->x = x;
      part->row = row;
      x += part->width + APART;
    }
  return row + 1;
}

/* How many rows the names take. */
static guint
place_names (BedSplitBar *self, float whole)
{
  for (guint i = 0; i < self->parts->len; i++)
    {
      Part *part = &g_array_index (self->parts, Part, i);
      part->width = measure_name (GTK_WIDGET (self), part);
    }
  return place_under (self, whole) ? 1 : place_in_rows (self, whole);
}

static void
draw_name (GtkWidget *widget, GtkSnapshot *snapshot, const Part *part, const GdkRGBA *colour)
{
  const BedInk *ink = bed_ink_get ();
  Lines lines = measure_lines (widget);
  float top = measure_rows (widget, part->row) + BELOW;
  float label = top + lines.text + lines.label / 2.f;

  bed_plot_box (snapshot, part->x, label - CHIP / 2.f, CHIP, CHIP, colour);
  bed_plot_text (snapshot, widget, part->text,
                 &(BedPlotText){ part->x, top + lines.text / 2.f, 0, 1, 0, &ink->ink });
  bed_plot_text (snapshot, widget, part->label,
                 &(BedPlotText){ part->x + CHIP + 4, label, 0, SMALL, 0, &ink->dim });
}

static void
bed_split_bar_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  BedSplitBar *self = BED_SPLIT_BAR (widget);
  float whole = bed_plot_width (widget), x = 0;

  bed_plot_begin (widget, snapshot);
  place_names (self, whole);
  for (guint i = 0; i < self->parts->len; i++)
    {
      const Part *part = &g_array_index (self->parts, Part, i);
      float width = roundf (whole * part->share);
      GdkRGBA colour = mix (i, self->parts->len);
      bed_plot_box (snapshot, x, 0, MAX (width - GAP, 1), BAR, &colour);
      if (!self->is_plain)
        draw_name (widget, snapshot, part, &colour);
      x += width;
    }
}

static GtkSizeRequestMode
bed_split_bar_get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
bed_split_bar_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                       int *natural, int *minimum_baseline, int *natural_baseline)
{
  BedSplitBar *self = BED_SPLIT_BAR (widget);

  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    {
      *minimum = bed_plot_to_px (widget, LEAST_WIDTH);
      *natural = bed_plot_to_px (widget, USUAL_WIDTH);
      return;
    }
  float whole = for_size > 0 ? bed_plot_from_px (widget, for_size) : USUAL_WIDTH;
  guint rows = self->is_plain ? 0 : place_names (self, whole);
  *minimum = *natural = bed_plot_to_px (widget, measure_rows (widget, rows));
}

static gboolean
query_tooltip_cb (BedSplitBar *self, int x, int y, gboolean keyboard, GtkTooltip *tooltip)
{
  float whole = bed_plot_width (GTK_WIDGET (self)), at = 0;

  for (guint i = 0; i < self->parts->len && !keyboard; i++)
    {
      const Part *part = &g_array_index (self->parts, Part, i);
      at += roundf (whole * part->share);
      if (bed_plot_x_from_px (GTK_WIDGET (self), x) < at)
        {
          g_autofree char *text = bed_dup_labelled (part->label, part->text);
          gtk_tooltip_set_text (tooltip, text);
          return TRUE;
        }
    }
  return FALSE;
}

static void
bed_split_bar_finalize (GObject *object)
{
  g_array_unref (BED_SPLIT_BAR (object)->parts);
  G_OBJECT_CLASS (bed_split_bar_parent_class)->finalize (object);
}

static void
bed_split_bar_class_init (BedSplitBarClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = bed_split_bar_finalize;
  widget_class->snapshot = bed_split_bar_snapshot;
  widget_class->measure = bed_split_bar_measure;
  widget_class->get_request_mode = bed_split_bar_get_request_mode;
  gtk_widget_class_set_css_name (widget_class, "splitbar");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

BedSplitBar *
bed_split_bar_new (void)
{
  BedSplitBar *self = g_object_new (BED_TYPE_SPLIT_BAR, NULL);

  self->parts = g_array_new (FALSE, FALSE, sizeof (Part));
  g_array_set_clear_func (self->parts, (GDestroyNotify) clear_part);
  gtk_widget_set_has_tooltip (GTK_WIDGET (self), TRUE);
  g_signal_connect (self, "query-tooltip", G_CALLBACK (query_tooltip_cb), NULL);
  bed_ink_follow (GTK_WIDGET (self));
  return self;
}

void
bed_split_bar_set (BedSplitBar *self, const char *label, const BedSplitPart *parts, guint n)
{
  g_return_if_fail (BED_IS_SPLIT_BAR (self));
  GString *words = g_string_new (NULL);

  g_array_set_size (self->parts, 0);
  self->is_plain = FALSE;
  for (guint i = 0; i < n; i++)
    {
      Part part = { g_strdup (parts[i].label), g_strdup (parts[i].text), parts[i].share };
      g_array_append_val (self->parts, part);
      g_autofree char *said = bed_dup_labelled (part.label, part.text);
      g_string_append_printf (words, "%s%s", i ? bed_semicolon () : "", said);
    }
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, label,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words->str, -1);
  g_string_free (words, TRUE);
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

void
bed_split_bar_set_measure (BedSplitBar *self, const char *label, double share)
{
  g_return_if_fail (BED_IS_SPLIT_BAR (self));
  g_autofree char *text = bed_say ("%.0f %%", 100 * share);
  BedSplitPart part = { label, text, share };

  bed_split_bar_set (self, label, &part, 1);
  self->is_plain = TRUE;
  gtk_widget_queue_resize (GTK_WIDGET (self));
  gtk_widget_set_valign (GTK_WIDGET (self), GTK_ALIGN_CENTER);
}
