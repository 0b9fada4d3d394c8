#include "app/desk/figure_answer.h"

#include <glib/gi18n.h>

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
