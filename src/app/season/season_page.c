#include "app/season/season_page.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/desk/batch_mark.h"
#include "app/desk/crop_view.h"
#include "app/desk/figure_answer.h"
#include "app/desk/page_parts.h"
#include "app/desk/season_chooser.h"
#include "app/host/host.h"
#include "app/paper/paper_dialog.h"
#include "app/season/season_run.h"
#include "app/season/workbook_button.h"
#include "app/widgets/build.h"
#include "model/farm/query.h"
#include "model/farm/value.h"
#include "model/season/season_weeks.h"

#define BATCHES_MOST 120 /* a farm with more reads them in the workbook */

struct _BedSeasonPage
{
  BedPage parent_instance;
  GtkWidget *parts; /* "empty", "season" */
  BedSeasonChooser *chooser;
  BedRunChart *run;
  GtkWidget *totals;  /* what is in none of its weeks */
  GtkWidget *batches; /* a grid */
  BedCropView *crop;
  BedWorkbookButton *write;
};

BED_DEFINE_TYPE (BedSeasonPage, bed_season_page, BED_TYPE_PAGE)

/* --- figures ------------------------------------------------------------------- */

static gboolean
show_figures (BedSeasonPage *self, GError **error)
{
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  BedFigureAnswers got;

  if (!bed_figures_read_season (farm, bed_season_chooser_get (self->chooser), &got, error))
    return FALSE;
  BedPageFigure figures[] = {
    bed_figure_answer (farm, &got, BED_FIGURE_PICKED, texts),
    bed_figure_answer (farm, &got, BED_FIGURE_PICKED_PER_LOG, texts),
    bed_figure_answer (farm, &got, BED_FIGURE_INCOME, texts),
    bed_figure_answer (farm, &got, BED_FIGURE_COST, texts),
    bed_figure_answer (farm, &got, BED_FIGURE_MARGIN, texts),
    bed_figure_answer (farm, &got, BED_FIGURE_HOURS_PER_KG, texts),
  };
  gboolean any = got.values[BED_FIGURE_PICKED] || got.values[BED_FIGURE_COST]
                 || got.values[BED_FIGURE_INCOME];

  bed_page_set_figures (BED_PAGE (self), figures, G_N_ELEMENTS (figures));
  gtk_stack_set_visible_child_name (GTK_STACK (self->parts), any ? "season" : "empty");
  return TRUE;
}

static gboolean
show_run (BedSeasonPage *self, GError **error)
{
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));
  int season = bed_season_chooser_get (self->chooser);
  g_autoptr (GArray) seasons = bed_season_weeks_read (farm, season, error);

  if (!seasons || !bed_season_run_show (self->run, farm, seasons, error))
    return FALSE;
  double mass = g_array_index (seasons, BedSeasonWeeks, seasons->len - 1).of_no_week;
  g_autofree char *number = bed_figure_dup_text (farm, BED_FIGURE_PICKED, mass);
  g_autofree char *unit = bed_figure_dup_unit (farm, BED_FIGURE_PICKED);
  g_autofree char *text
      = g_strdup_printf (_ ("%s %s more, in totals longer than a week"), number, unit);
  gtk_label_set_text (GTK_LABEL (self->totals), text);
  gtk_widget_set_visible (self->totals, mass > 0);
  return TRUE;
}

/* --- by batch ------------------------------------------------------------------- */

static void
open_batch_cb (GtkWidget *button)
{
  gint64 *id = g_object_get_data (G_OBJECT (button), "bed-batch");

  bed_host_show_record (button, BED_KIND_BATCH, *id);
}

/* Numbers stand right, @text is shown as it is. */
static void
attach (BedSeasonPage *self, const char *text, const char *style, int column, int row)
{
  GtkWidget *label = bed_styled (bed_words_new (text, style), "numeric");

  /* A head of several words may stand on two lines. */
  gtk_label_set_wrap (GTK_LABEL (label), row == 0);
  gtk_label_set_justify (GTK_LABEL (label), column >= 3 ? GTK_JUSTIFY_RIGHT : GTK_JUSTIFY_LEFT);
  gtk_widget_set_valign (label, row == 0 ? GTK_ALIGN_END : GTK_ALIGN_FILL);
  gtk_label_set_xalign (GTK_LABEL (label), column >= 3 ? 1 : 0);
  gtk_widget_set_hexpand (label, column == 1);
  if (column == 1)
    bed_cut_off (label);
  gtk_grid_attach (GTK_GRID (self->batches), label, column, row, 1, 1);
}

static void
attach_batch (BedSeasonPage *self, gint64 id, const char *code, int row)
{
  GtkWidget *button = gtk_button_new ();
  GtkWidget *mark = bed_batch_mark_new (bed_page_get_farm (BED_PAGE (self)));

  bed_batch_mark_show (BED_BATCH_MARK (mark), id, code);
  gtk_button_set_child (GTK_BUTTON (button), mark);
  bed_named (button, code);

  gtk_widget_add_css_class (button, "flat");
  gtk_widget_add_css_class (button, "row-link");
  gtk_widget_set_halign (button, GTK_ALIGN_START);
  gtk_widget_set_tooltip_text (button, _ ("Open the batch"));
  g_object_set_data_full (G_OBJECT (button), "bed-batch", g_memdup2 (&id, sizeof id), g_free);
  g_signal_connect (button, "clicked", G_CALLBACK (open_batch_cb), NULL);
  gtk_grid_attach (GTK_GRID (self->batches), button, 0, row, 1, 1);
}

/* Columns after batch, strain and day, as the question has them. */
static const BedFigureId columns[] = { BED_FIGURE_BATCH_AGE, BED_FIGURE_BATCH_LOGS_IN_SEASON,
                                       BED_FIGURE_BATCH_PICKED, BED_FIGURE_BATCH_PICKED_PER_LOG };

static void
add_batch (BedSeasonPage *self, BedQuery *q, int row)
{
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));
  g_autofree char *day = bed_date_format (bed_query_text (q, 3));

  attach_batch (self, bed_query_int (q, 0), bed_query_text (q, 1), row);
  attach (self, bed_query_text (q, 2) ? bed_query_text (q, 2) : "", NULL, 1, row);
  attach (self, day, NULL, 2, row);
  for (guint i = 0; i < G_N_ELEMENTS (columns); i++)
    {
      double value = bed_query_is_null (q, 4 + i) ? NAN : bed_query_real (q, 4 + i);
      g_autofree char *text = bed_figure_dup_text (farm, columns[i], value);

      attach (self, text ? text : "–", NULL, 3 + i, row);
    }
}

static void
add_heads (BedSeasonPage *self)
{
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));
  const char *heads[] = { _ ("Batch"), _ ("Strain"), _ ("Inoculated") };

  for (guint i = 0; i < G_N_ELEMENTS (heads); i++)
    attach (self, heads[i], "dim-label", i, 0);
  for (guint i = 0; i < G_N_ELEMENTS (columns); i++)
    {
      const BedFigure *figure = bed_figure_get (columns[i]);
      g_autofree char *unit = bed_figure_dup_unit (farm, columns[i]);
      g_autofree char *head = *unit ? g_strdup_printf ("%s (%s)", _ (figure->label), unit)
                                    : g_strdup (_ (figure->label));

      attach (self, head, "dim-label", 3 + i, 0);
      gtk_widget_set_tooltip_text (gtk_grid_get_child_at (GTK_GRID (self->batches), 3 + (int) i, 0),
                                   _ (figure->sentence));
    }
}

static gboolean
show_batches (BedSeasonPage *self, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (
      bed_page_get_farm (BED_PAGE (self)),
      "SELECT batch, code, strain_name, inoculated_on, age, logs, mass, mass_per_log"
      " FROM batch_season WHERE season = ?1 ORDER BY code LIMIT ?2");
  int row = 0;

  bed_box_clear (self->batches);
  bed_query_bind_int (q, 1, bed_season_chooser_get (self->chooser));
  bed_query_bind_int (q, 2, BATCHES_MOST);
  while (bed_query_next (q))
    {
      if (!row)
        add_heads (self);
      add_batch (self, q, ++row);
    }
  return bed_query_finish (q, error);
}

static gboolean
show_season (BedSeasonPage *self, GError **error)
{
  bed_workbook_button_set_season (self->write, bed_season_chooser_get (self->chooser));
  return show_figures (self, error);
}

/* What looks at the picks of every season. */
static gboolean
show_drawings (BedSeasonPage *self, GError **error)
{
  return show_run (self, error) && bed_batch_mark_read (bed_page_get_farm (BED_PAGE (self)), error)
         && show_batches (self, error);
}

static gboolean
show_seasons_drawings (BedPage *page, GError **error)
{
  return show_drawings (BED_SEASON_PAGE (page), error);
}

static gboolean
show_crop (BedPage *page, GError **error)
{
  return bed_crop_view_refresh (BED_SEASON_PAGE (page)->crop, error);
}

static const BedPageRead late[] = { show_seasons_drawings, show_crop, NULL };

static gboolean
show_all (gpointer page, GError **error)
{
  return show_season (page, error) && show_drawings (page, error);
}

static void
season_changed_cb (BedSeasonPage *self)
{
  bed_host_read (self, bed_page_get_farm (BED_PAGE (self)), show_all);
}

static gboolean
bed_season_page_refresh (BedPage *page, GError **error)
{
  BedSeasonPage *self = BED_SEASON_PAGE (page);

  return bed_season_chooser_refresh (self->chooser, error) && show_season (self, error);
}

static GtkWidget *
make_season (BedSeasonPage *self)
{
  GtkWidget *box;

  self->run = bed_run_chart_new ();
  self->totals = bed_words_new (NULL, "dim-label");
  self->batches = bed_grid_new (24, 6);
  box = bed_column_new (
      24,
      bed_section_new (_ ("The season, week by week"),
                       bed_column_new (6, GTK_WIDGET (self->run), self->totals, NULL)),
      bed_section_new (_ ("By batch"), self->batches), NULL);
  self->crop = bed_crop_view_new (bed_page_get_farm (BED_PAGE (self)));
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->crop));
  return bed_reading_new (_ ("Season"), box);
}

static GtkWidget *
bed_season_page_make (BedPage *page)
{
  BedSeasonPage *self = BED_SEASON_PAGE (page);
  static const BedEmpty empty
      = { "bed-season-symbolic", N_ ("Nothing in this season"),
          N_ ("Picks, sales and costs of a year come together here, and go into one "
              "workbook."),
          N_ ("Record a pick"), "win.page::picking" };

  self->chooser = bed_season_chooser_new (bed_page_get_farm (page));
  self->write = bed_workbook_button_new (bed_page_get_farm (page));
  g_signal_connect_swapped (self->chooser, "changed", G_CALLBACK (season_changed_cb), self);
  self->parts = bed_empty_stack_new (&empty, make_season (self), "season");
  return bed_page_column_new (
      page, bed_row_new (12, GTK_WIDGET (self->chooser), GTK_WIDGET (self->write), NULL),
      self->parts);
}

static void
print_shown (BedPage *page)
{
  bed_paper_dialog_show_page (GTK_WIDGET (page), bed_page_get_farm (page), _ ("Season"));
}

static void
bed_season_page_class_init (BedSeasonPageClass *klass)
{
  BedPageClass *page_class = BED_PAGE_CLASS (klass);

  page_class->print = print_shown;
  page_class->print_title = N_ ("Print what this page shows");
  page_class->make = bed_season_page_make;
  page_class->refresh = bed_season_page_refresh;
  page_class->refresh_late = late;
}
