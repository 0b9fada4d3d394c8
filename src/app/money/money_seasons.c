#include "app/money/money_seasons.h"

#include <glib/gi18n.h>

#include "app/widgets/build.h"
#include "app/widgets/split_bar.h"
#include "model/farm/functions.h"
#include "model/season/figures.h"
#include "model/season/season.h"

#define SEASONS_MOST 12

static const BedFigureId columns[] = { BED_FIGURE_COST, BED_FIGURE_INCOME, BED_FIGURE_MARGIN };

static void
attach (GtkWidget *grid, const char *text, const char *style, int column, int row)
{
  GtkWidget *label = bed_styled (bed_words_new (text, style), "numeric");

  gtk_label_set_wrap (GTK_LABEL (label), FALSE);
  gtk_label_set_xalign (GTK_LABEL (label), column > 0 ? 1 : 0);
  gtk_grid_attach (GTK_GRID (grid), label, column, row, 1, 1);
}

static void
add_heads (GtkWidget *grid, BedFarm *farm)
{
  attach (grid, _ ("Season"), "dim-label", 0, 0);
  for (guint i = 0; i < G_N_ELEMENTS (columns); i++)
    {
      g_autofree char *unit = bed_figure_dup_unit (farm, columns[i]);
      g_autofree char *head
          = g_strdup_printf (_ ("%s (%s)"), _ (bed_figure_get (columns[i])->label), unit);
      attach (grid, head, "dim-label", 1 + (int) i, 0);
    }
}

/* @most: the greatest cost of any season, to which the bar is drawn. */
static void
add_season (GtkWidget *grid, BedFarm *farm, int season, const BedFigureAnswers *got, double most,
            int row, const char *style)
{
  g_autofree char *name = bed_season_dup_name (farm, season);
  GtkWidget *bar = GTK_WIDGET (bed_split_bar_new ());

  attach (grid, name, style, 0, row);
  for (guint i = 0; i < G_N_ELEMENTS (columns); i++)
    {
      g_autofree char *text = bed_figure_dup_text (farm, columns[i], got->values[columns[i]]);
      attach (grid, text ? text : "–", style, 1 + (int) i, row);
    }
  bed_split_bar_set_measure (BED_SPLIT_BAR (bar), name,
                             CLAMP (got->values[BED_FIGURE_COST] / MAX (most, 1), 0, 1));
  gtk_widget_set_hexpand (bar, TRUE);
  gtk_grid_attach (GTK_GRID (grid), bar, 1 + (int) G_N_ELEMENTS (columns), row, 1, 1);
}

gboolean
bed_money_seasons_show (GtkWidget *grid, BedFarm *farm, int season, GError **error)
{
  BedFigureAnswers got[SEASONS_MOST];
  int first, last, n = 0;
  double most = 0;

  if (!bed_season_range (farm, &first, &last, error))
    return FALSE;
  for (int year = last; year >= first && n < SEASONS_MOST; year--, n++)
    {
      if (!bed_figures_read_season (farm, year, &got[n], error))
        return FALSE;
      most = MAX (most, got[n].values[BED_FIGURE_COST]);
    }
  bed_box_clear (grid);
  add_heads (grid, farm);
  for (int i = 0; i < n; i++)
    add_season (grid, farm, last - i, &got[i], most, i + 1, last - i == season ? "due-what" : NULL);
  return TRUE;
}
