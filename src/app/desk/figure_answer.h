#pragma once

#include "app/widgets/big_figures.h"
#include "model/season/figures.h"

/* A figure of the table with its answer, to be shown: in the farm's units, with the sentence that
 * says what it is. Its texts are @texts', an array that frees them. */
BedPageFigure bed_figure_answer (BedFarm *farm, const BedFigureAnswers *answers, BedFigureId id,
                                 GPtrArray *texts);

/* The same as a fact of @box (widgets/facts.h); nothing where there is no answer. */
void bed_figure_add_fact (GtkWidget *box, BedFarm *farm, const BedFigureAnswers *answers,
                          BedFigureId id);
