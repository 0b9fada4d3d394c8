#include "app/widgets/figures.h"

#include <glib/gi18n.h>

#include "app/widgets/build.h"
#include "app/widgets/wrap_layout.h"

struct _BedFigures
{
  GtkWidget parent_instance;
};

G_DEFINE_FINAL_TYPE (BedFigures, bed_figures, GTK_TYPE_WIDGET)

static GtkWidget *
make_figure (const BedPageFigure *figure)
{
  GtkWidget *value = bed_label_new (figure->value ? figure->value : "–", "figure");
  GtkWidget *line = bed_row_new (6, value, NULL);

  if (figure->unit && figure->value)
    {
      GtkWidget *unit = bed_label_new (figure->unit, "figure-unit");

      gtk_widget_set_valign (unit, GTK_ALIGN_BASELINE);
      gtk_widget_set_valign (value, GTK_ALIGN_BASELINE);
      gtk_box_append (GTK_BOX (line), unit);
    }
  return bed_column_new (0, line, bed_line_new (figure->caption, "figure-caption"), NULL);
}

static void
clear (BedFigures *self)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))))
    gtk_widget_unparent (child);
}

static void
bed_figures_dispose (GObject *object)
{
  clear (BED_FIGURES (object));
  G_OBJECT_CLASS (bed_figures_parent_class)->dispose (object);
}

static void
bed_figures_class_init (BedFiguresClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = bed_figures_dispose;
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "figures");
}

static void
bed_figures_init (BedFigures *self)
{
  gtk_widget_set_layout_manager (GTK_WIDGET (self), bed_wrap_layout_new (36, 6));
}

BedFigures *
bed_figures_new (void)
{
  return g_object_new (BED_TYPE_FIGURES, NULL);
}

void
bed_figures_set (BedFigures *self, const BedPageFigure *figures, guint n)
{
  g_return_if_fail (BED_IS_FIGURES (self));

  clear (self);
  for (guint i = 0; i < n; i++)
    gtk_widget_set_parent (make_figure (&figures[i]), GTK_WIDGET (self));
}

const char *
bed_count_words (const char *number, const char *one, const char *many)
{
  return _ (g_strcmp0 (number, "1") == 0 ? one : many);
}
