#include "app/widgets/split.h"

#include <glib/gi18n.h>

#include "app/widgets/build.h"
#include "app/widgets/plot.h"

#define LIST_WIDTH 380 /* px, least */
#define LIST_SHARE 0.47
#define LIST_MOST 820
#define NARROW 780 /* px of our own; the window is 200 wider with its page names */

struct _BedSplit
{
  GtkWidget parent_instance;
  GtkWidget *list;
  GtkWidget *line;
  GtkWidget *detail;
  GtkWidget *back;
  gboolean on_detail; /* where it is narrow */
};

BED_DEFINE_TYPE (BedSplit, bed_split, GTK_TYPE_WIDGET)

static void
back_clicked_cb (BedSplit *self)
{
  bed_split_show_list (self);
  gtk_widget_child_focus (self->list, GTK_DIR_TAB_FORWARD);
}

static int
measured (GtkWidget *widget, GtkOrientation orientation, int *natural)
{
  int least;

  gtk_widget_measure (widget, orientation, -1, &least, natural, NULL, NULL);
  return least;
}

static void
bed_split_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                   int *natural, int *minimum_baseline, int *natural_baseline)
{
  BedSplit *self = BED_SPLIT (widget);
  int list_natural, detail_natural, back_natural;
  int list = measured (self->list, orientation, &list_natural);
  int detail = measured (self->detail, orientation, &detail_natural);
  int back = measured (self->back, orientation, &back_natural);

  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    *natural = bed_plot_to_px (widget, LIST_WIDTH) + detail_natural;
  else
    {
      detail += back;
      *natural = MAX (list_natural, detail_natural + back_natural);
    }
  *minimum = MAX (list, detail);
  *natural = MAX (*minimum, *natural);
}

static void
place (GtkWidget *child, int x, int y, int width, int height)
{
  GtkAllocation at = { x, y, width, height };

  gtk_widget_size_allocate (child, &at, -1);
}

static void
bed_split_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  BedSplit *self = BED_SPLIT (widget);
  int line = 1, back = 0, detail_least = measured (self->detail, GTK_ORIENTATION_HORIZONTAL, NULL);
  int list_least = bed_plot_to_px (widget, LIST_WIDTH);
  gboolean narrow = width < MAX (bed_plot_to_px (widget, NARROW), list_least + line + detail_least);
  int list = CLAMP (MIN ((int) (width * LIST_SHARE), width - line - detail_least), list_least,
                    bed_plot_to_px (widget, LIST_MOST));

  gtk_widget_set_child_visible (self->list, !narrow || !self->on_detail);
  gtk_widget_set_child_visible (self->detail, !narrow || self->on_detail);
  gtk_widget_set_child_visible (self->line, !narrow);
  gtk_widget_set_child_visible (self->back, narrow && self->on_detail);

  if (!narrow)
    {
      gboolean mirrored = gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL;
      int detail = width - list - line;

      place (self->list, mirrored ? detail + line : 0, 0, list, height);
      place (self->line, mirrored ? detail : list, 0, line, height);
      place (self->detail, mirrored ? 0 : list + line, 0, detail, height);
    }
  else if (self->on_detail)
    {
      back = measured (self->back, GTK_ORIENTATION_VERTICAL, NULL);
      place (self->back, 0, 0, width, back);
      place (self->detail, 0, back, width, height - back);
    }
  else
    place (self->list, 0, 0, width, height);
}

static void
bed_split_dispose (GObject *object)
{
  BedSplit *self = BED_SPLIT (object);

  g_clear_pointer (&self->list, gtk_widget_unparent);
  g_clear_pointer (&self->line, gtk_widget_unparent);
  g_clear_pointer (&self->back, gtk_widget_unparent);
  g_clear_pointer (&self->detail, gtk_widget_unparent);
  G_OBJECT_CLASS (bed_split_parent_class)->dispose (object);
}

static void
bed_split_class_init (BedSplitClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = bed_split_dispose;
  widget_class->measure = bed_split_measure;
  widget_class->size_allocate = bed_split_size_allocate;
}

BedSplit *
bed_split_new (GtkWidget *list, GtkWidget *detail)
{
  BedSplit *self = g_object_new (BED_TYPE_SPLIT, NULL);

  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  gtk_widget_set_hexpand (GTK_WIDGET (self), TRUE);
  gtk_widget_set_vexpand (GTK_WIDGET (self), TRUE);
  self->list = list;
  self->line = gtk_separator_new (GTK_ORIENTATION_VERTICAL);
  self->back = bed_icon_button_new ("go-previous-symbolic", _ ("Back to the list"));
  self->detail = detail;
  gtk_widget_set_halign (self->back, GTK_ALIGN_START);
  g_signal_connect_swapped (self->back, "clicked", G_CALLBACK (back_clicked_cb), self);
  gtk_widget_set_parent (self->list, GTK_WIDGET (self));
  gtk_widget_set_parent (self->line, GTK_WIDGET (self));
  gtk_widget_set_parent (self->back, GTK_WIDGET (self));
  gtk_widget_set_parent (self->detail, GTK_WIDGET (self));
  return self;
}

void
bed_split_show_detail (BedSplit *self)
{
  g_return_if_fail (BED_IS_SPLIT (self));
  self->on_detail = TRUE;
  gtk_widget_set_child_visible (self->detail, TRUE); /* now: it may be given the keyboard */
  gtk_widget_queue_allocate (GTK_WIDGET (self));
}

void
bed_split_show_list (BedSplit *self)
{
  g_return_if_fail (BED_IS_SPLIT (self));
  self->on_detail = FALSE;
  gtk_widget_queue_allocate (GTK_WIDGET (self));
}
