#include "app/widgets/big_figures.h"

#include <glib/gi18n.h>

#include "app/widgets/build.h"
#include "app/widgets/wrap_layout.h"
#include "science/language.h"

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
  GtkWidget *column
      = bed_column_new (0, line, bed_line_new (figure->caption, "figure-caption"), NULL);
  g_autofree char *amount = figure->value && figure->unit
                                ? g_strdup_printf ("%s %s", figure->value, figure->unit)
                                : g_strdup (figure->value ? figure->value : "–");
  g_autofree char *name = bed_dup_labelled (figure->caption, amount);

  g_object_set (column, "accessible-role", GTK_ACCESSIBLE_ROLE_GROUP, NULL);
  gtk_widget_set_tooltip_text (column, figure->sentence);
  return bed_named (column, name);
}

GtkWidget *
bed_big_figures_new (void)
{
  return bed_styled (bed_wrap_new (36, 6), "figures");
}

void
bed_big_figures_set (GtkWidget *box, const BedPageFigure *figures, guint n)
{
  bed_box_clear (box);
  for (guint i = 0; i < n; i++)
    gtk_box_append (GTK_BOX (box), make_figure (&figures[i]));
}

const char *
bed_count_words (const char *number, const char *one, const char *many)
{
  return _ (g_strcmp0 (number, "1") == 0 ? one : many);
}
