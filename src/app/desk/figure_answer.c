#include "app/desk/figure_answer.h"

#include <glib/gi18n.h>

#include "app/widgets/facts.h"

BedPageFigure
bed_figure_answer (BedFarm *farm, const BedFigureAnswers *answers, BedFigureId id, GPtrArray *texts)
{
  const BedFigure *figure = bed_figure_get (id);
  double answer = answers->values[id];
  const char *label = figure->one && answer == 1 ? figure->one : figure->label;
  char *value = bed_figure_dup_text (farm, id, answer);
  char *unit = bed_figure_dup_unit (farm, id);

  g_ptr_array_add (texts, value);
  g_ptr_array_add (texts, unit);
  return (BedPageFigure){ value, *unit ? unit : NULL, _ (label), _ (figure->sentence) };
}

void
bed_figure_add_fact (GtkWidget *box, BedFarm *farm, const BedFigureAnswers *answers, BedFigureId id)
{
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  BedPageFigure figure = bed_figure_answer (farm, answers, id, texts);

  if (!figure.value)
    return;
  g_autofree char *text = figure.unit ? g_strdup_printf ("%s %s", figure.value, figure.unit)
                                      : g_strdup (figure.value);
  bed_facts_add (box, figure.caption, text);
  gtk_widget_set_tooltip_text (gtk_widget_get_last_child (box), figure.sentence);
}
