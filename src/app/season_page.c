#include "app/season_page.h"

#include <glib/gi18n.h>

#include "app/chart.h"
#include "app/page_parts.h"
#include "app/table.h"
#include "app/window.h"
#include "app/workbook_button.h"
#include "model/functions.h"
#include "model/query.h"
#include "model/season.h"
#include "model/value.h"

#define WEEKS_MOST 54
#define TABLE_HEIGHT 260
#define KINDS_MOST 12 /* the best of them; more have no room for their names */

struct _BedSeasonPage
{
  BedPage parent_instance;
  GtkWidget *parts; /* "nothing", "season" */
  BedFigures *figures;
  GtkWidget *year;
  GtkWidget *earlier;
  GtkWidget *later;
  BedChart *weeks;
  BedChart *kinds;
  GtkWidget *kinds_section;
  BedTable *batches;
  GtkWidget *batches_place; /* AdwBin */
  GtkWidget *write_place;   /* AdwBin */
  BedWorkbookButton *write;
  int season; /* 0 until first shown */
};

G_DEFINE_FINAL_TYPE (BedSeasonPage, bed_season_page, BED_TYPE_PAGE)

static const BedColumn batch_columns[] = {
  { .column = "code", .title = N_ ("Batch"), .cell = BED_CELL_TEXT, .width = 8 },
  { .column = "strain_name", .title = N_ ("Strain"), .cell = BED_CELL_TEXT },
  { .column = "inoculated_on", .title = N_ ("Inoculated"), .cell = BED_CELL_DATE },
  { .column = "year_of_life", .title = N_ ("Year of life"), .cell = BED_CELL_MEASURE,
    .measure = BED_MEASURE_COUNT },
  { .column = "logs", .title = N_ ("Logs"), .cell = BED_CELL_MEASURE,
    .measure = BED_MEASURE_COUNT },
  { .column = "mass", .title = N_ ("Picked"), .cell = BED_CELL_MEASURE,
    .measure = BED_MEASURE_MASS, .decimals = 2 },
  { .column = "mass_per_log", .title = N_ ("A log"), .cell = BED_CELL_MEASURE,
    .measure = BED_MEASURE_MASS, .decimals = 3 },
};

static const BedTableSpec batch_table = {
  .label = N_ ("Picked by batch"),
  .source = "batch_season",
  .columns = batch_columns,
  .n_columns = G_N_ELEMENTS (batch_columns),
  .order = "code",
  .kinds = BED_KIND_BIT (BED_KIND_PICK) | BED_KIND_BIT (BED_KIND_LOG)
           | BED_KIND_BIT (BED_KIND_BATCH) | BED_KIND_BIT (BED_KIND_PLACE),
};

/* --- figures ------------------------------------------------------------------- */

static char *
dup_money (BedFarm *farm, gint64 amount)
{
  return bed_measure_format (BED_MEASURE_MONEY, bed_farm_get_notation (farm), amount);
}

static char *
dup_mass (BedFarm *farm, int decimals, gint64 mass)
{
  return bed_measure_format_rounded (BED_MEASURE_MASS, bed_farm_get_notation (farm), decimals,
                                     mass);
}

/* Hours a unit of mass, one kg being so many of them. */
static char *
dup_hours (BedFarm *farm, const BedSeason *season)
{
  const BedNotation *notation = bed_farm_get_notation (farm);
  double hours = bed_season_hours_per_kg (season)
                 / bed_measure_to_unit (BED_MEASURE_MASS, notation->system, 1000000);

  return season->picked
             ? bed_measure_format_rounded (BED_MEASURE_TIME, notation, 2, hours * 60 + 0.5)
             : NULL;
}

static void
show_figures (BedSeasonPage *self, const BedSeason *season)
{
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));
  const char *currency = bed_record_get_text (bed_farm_get_settings (farm), "currency");
  BedSystem system = bed_farm_get_notation (farm)->system;
  const char *kg = bed_measure_unit (BED_MEASURE_MASS, system);
  g_autofree char *mass = dup_mass (farm, 1, season->picked);
  g_autofree char *each = season->logs ? dup_mass (farm, 2, bed_season_mg_per_log (season)) : NULL;
  g_autofree char *income = dup_money (farm, season->income);
  g_autofree char *cost = dup_money (farm, season->cost);
  g_autofree char *margin = dup_money (farm, season->income - season->cost);
  g_autofree char *hours = dup_hours (farm, season);
  g_autofree char *per = g_strdup_printf ("%s/%s", bed_measure_unit (BED_MEASURE_TIME, system), kg);
  BedFigure figures[] = {
    { mass, kg, _ ("picked") },        { each, kg, _ ("a log") },
    { income, currency, _ ("income") }, { cost, currency, _ ("cost") },
    { margin, currency, _ ("margin") }, { hours, per, _ ("of work") },
  };

  bed_figures_set (self->figures, figures, G_N_ELEMENTS (figures));
}

/* --- by week ------------------------------------------------------------------- */

/* From the first week with a pick to the last, empty ones between. */
static void
show_weeks (BedSeasonPage *self)
{
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));
  const BedNotation *notation = bed_farm_get_notation (farm);
  g_autoptr (BedQuery) q = bed_query_new (
      farm, "SELECT date (picked_on, 'weekday 0', '-6 days') AS monday, sum (mass) FROM pick"
            " WHERE bed_season (picked_on) = ?1 GROUP BY 1 ORDER BY 1");
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  BedChartSpec spec = { bed_measure_unit (BED_MEASURE_MASS, notation->system),
                        _ ("Picked by week"), 0, NULL };
  BedChartBar bars[WEEKS_MOST] = { 0 };
  g_autofree char *first = NULL;
  guint n = 0;

  bed_query_bind_int (q, 1, self->season);
  while (bed_query_next (q))
    {
      const char *monday = bed_query_text (q, 0);
      if (!first)
        first = g_strdup (monday);
      n = MIN (bed_date_days (first, monday) / 7, WEEKS_MOST - 1);
      g_autofree char *day = bed_date_format_day (monday);
      g_autofree char *mass = bed_measure_format_unit_rounded (BED_MEASURE_MASS, notation, 1,
                                                               bed_query_int (q, 1));
      char *tooltip = g_strdup_printf (_ ("week of %s: %s picked"), day, mass);
      g_ptr_array_add (texts, tooltip);
      bars[n].tooltip = tooltip;
      bars[n++].value
          = bed_measure_to_unit (BED_MEASURE_MASS, notation->system, bed_query_int (q, 1));
    }
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *monday = bed_date_add (first, 7 * (int) i);
      GDate date;
      char label[32];
      g_date_clear (&date, 1);
      g_date_set_parse (&date, monday);
      /* Translators: strftime format of a day on a chart's axis. */
      g_date_strftime (label, sizeof label, _ ("%-d %b"), &date);
      g_ptr_array_add (texts, g_strdup (label));
      bars[i].label = texts->pdata[texts->len - 1];
    }
  bed_chart_set (self->weeks, &spec, bars, n);
}

/* --- by wood and strain -------------------------------------------------------- */

static char *
dup_kind_tooltip (BedFarm *farm, const BedSeasonKind *kind)
{
  const BedNotation *notation = bed_farm_get_notation (farm);
  g_autofree char *mass
      = bed_measure_format_unit_rounded (BED_MEASURE_MASS, notation, 3, kind->mass);
  g_autofree char *low = dup_mass (farm, 3, kind->low);
  g_autofree char *high
      = bed_measure_format_unit_rounded (BED_MEASURE_MASS, notation, 3, kind->high);

  if (kind->high == 0)
    return g_strdup_printf (_ ("%s, %s: %s a log, of %d logs"), kind->wood, kind->strain, mass,
                            (int) kind->logs);
  return g_strdup_printf (_ ("%s, %s: %s a log, 95 %% sure between %s and %s, of %d logs"),
                          kind->wood, kind->strain, mass, low, high, (int) kind->logs);
}

static gboolean
show_kinds (BedSeasonPage *self, GError **error)
{
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));
  BedSystem system = bed_farm_get_notation (farm)->system;
  g_autoptr (GPtrArray) kinds = bed_season_by_kind (farm, self->season, error);
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  BedChartSpec spec = { .unit = bed_measure_unit (BED_MEASURE_MASS, system),
                        .label = _ ("Mass a log gave, by wood and strain"), .is_dots = TRUE };
  BedChartBar bars[KINDS_MOST] = { 0 };
  guint n = kinds ? MIN (kinds->len, KINDS_MOST) : 0;

  for (guint i = 0; i < n; i++)
    {
      const BedSeasonKind *kind = kinds->pdata[i];
      char *label = g_strdup_printf ("%s\n%s", kind->wood, kind->strain);
      char *tooltip = dup_kind_tooltip (farm, kind);

      g_ptr_array_add (texts, label);
      g_ptr_array_add (texts, tooltip);
      bars[i] = (BedChartBar) { label, tooltip,
                                bed_measure_to_unit (BED_MEASURE_MASS, system, kind->mass),
                                bed_measure_to_unit (BED_MEASURE_MASS, system, kind->low),
                                bed_measure_to_unit (BED_MEASURE_MASS, system, kind->high) };
    }
  bed_chart_set (self->kinds, &spec, bars, n);
  gtk_widget_set_visible (self->kinds_section, n > 0);
  return kinds != NULL;
}

/* --- the page ------------------------------------------------------------------ */

static gboolean
show_season (BedSeasonPage *self, GError **error)
{
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));
  g_autofree char *name = bed_season_dup_name (farm, self->season);
  g_autofree char *where = g_strdup_printf ("season = %d", self->season);
  BedSeason season;
  int first, last;

  if (!bed_season_read (farm, self->season, &season, error))
    return FALSE;
  bed_season_range (farm, &first, &last);
  gtk_label_set_label (GTK_LABEL (self->year), name);
  gtk_widget_set_sensitive (self->earlier, self->season > first);
  gtk_widget_set_sensitive (self->later, self->season < last);
  bed_workbook_button_set_season (self->write, self->season);
  bed_table_set_where (self->batches, where);
  show_figures (self, &season);
  show_weeks (self);
  if (!show_kinds (self, error))
    return FALSE;
  gtk_stack_set_visible_child_name (GTK_STACK (self->parts),
                                    season.picked || season.cost || season.income ? "season"
                                                                                  : "nothing");
  return TRUE;
}

static void
show (BedSeasonPage *self)
{
  g_autoptr (GError) error = NULL;

  if (!show_season (self, &error))
    bed_window_say_error (GTK_WIDGET (self), error);
}

static void
earlier_cb (BedSeasonPage *self)
{
  self->season--;
  show (self);
}

static void
later_cb (BedSeasonPage *self)
{
  self->season++;
  show (self);
}

static void
bed_season_page_refresh (BedPage *page, guint64 kinds)
{
  BedSeasonPage *self = BED_SEASON_PAGE (page);
  BedFarm *farm = bed_page_get_farm (page);

  if (!self->season)
    self->season = bed_season_of (farm, bed_farm_get_today (farm));
  show (self);
}

static void
batch_opened_cb (BedSeasonPage *self, gint64 id)
{
  BedList *list = bed_table_get_list (self->batches);
  int at = bed_list_find (list, id);
  g_autoptr (BedRow) row = at >= 0 ? g_list_model_get_item (G_LIST_MODEL (list), at) : NULL;

  if (row)
    bed_window_show_record (GTK_WIDGET (self), BED_KIND_BATCH, bed_row_int (row, "batch"));
}

static void
bed_season_page_constructed (GObject *object)
{
  BedSeasonPage *self = BED_SEASON_PAGE (object);
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));

  G_OBJECT_CLASS (bed_season_page_parent_class)->constructed (object);
  self->batches = bed_table_new (farm, &batch_table);
  gtk_widget_set_size_request (GTK_WIDGET (self->batches), -1, TABLE_HEIGHT);
  g_signal_connect_object (self->batches, "opened", G_CALLBACK (batch_opened_cb), self,
                           G_CONNECT_SWAPPED);
  adw_bin_set_child (ADW_BIN (self->batches_place), GTK_WIDGET (self->batches));
  self->write = bed_workbook_button_new (farm);
  adw_bin_set_child (ADW_BIN (self->write_place), GTK_WIDGET (self->write));
}

static void
bed_season_page_class_init (BedSeasonPageClass *klass)
{
  BedPageClass *page_class = BED_PAGE_CLASS (klass);

  G_OBJECT_CLASS (klass)->constructed = bed_season_page_constructed;
  page_class->refresh = bed_season_page_refresh;
  page_class->help
      = N_ ("One season at a time: what was picked, earned and spent. Write workbook makes one "
            "spreadsheet file of it, with every total a live formula, for the accountant, the "
            "certifier and the winter evenings. Enter on a batch opens it.");
}

static GtkWidget *
make_chooser (BedSeasonPage *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  self->earlier = gtk_button_new_from_icon_name ("go-previous-symbolic");
  self->later = gtk_button_new_from_icon_name ("go-next-symbolic");
  self->year = gtk_label_new (NULL);
  gtk_widget_add_css_class (self->year, "title-2");
  gtk_widget_add_css_class (self->year, "numeric");
  gtk_widget_add_css_class (self->earlier, "flat");
  gtk_widget_add_css_class (self->later, "flat");
  gtk_widget_set_tooltip_text (self->earlier, _ ("The season before"));
  gtk_widget_set_tooltip_text (self->later, _ ("The season after"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->earlier), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("The season before"), -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->later), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("The season after"), -1);
  g_signal_connect_swapped (self->earlier, "clicked", G_CALLBACK (earlier_cb), self);
  g_signal_connect_swapped (self->later, "clicked", G_CALLBACK (later_cb), self);
  gtk_box_append (GTK_BOX (box), self->earlier);
  gtk_box_append (GTK_BOX (box), self->year);
  gtk_box_append (GTK_BOX (box), self->later);
  gtk_widget_set_halign (box, GTK_ALIGN_END);
  return box;
}

static GtkWidget *
make_season (BedSeasonPage *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 24);

  self->weeks = bed_chart_new ();
  self->kinds = bed_chart_new ();
  self->kinds_section = bed_section_new (_ ("A log of each wood and strain, luck taken out"),
                                         GTK_WIDGET (self->kinds));
  self->batches_place = adw_bin_new ();
  gtk_box_append (GTK_BOX (box), bed_section_new (_ ("Picked by week"), GTK_WIDGET (self->weeks)));
  gtk_box_append (GTK_BOX (box), self->kinds_section);
  gtk_box_append (GTK_BOX (box), bed_section_new (_ ("By batch"), self->batches_place));
  return bed_reading_new (box);
}

static void
bed_season_page_init (BedSeasonPage *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *extra = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  BedEmpty empty = { "bed-season-symbolic", _ ("Nothing in this season"),
                     _ ("Picks, sales and costs of a year come together here, and go into one "
                        "workbook."),
                     _ ("Record a pick"), "win.page::picking" };

  self->figures = bed_figures_new ();
  self->write_place = adw_bin_new ();
  self->parts = gtk_stack_new ();
  gtk_stack_add_named (GTK_STACK (self->parts), bed_empty_new (&empty), "nothing");
  gtk_stack_add_named (GTK_STACK (self->parts), make_season (self), "season");
  gtk_widget_set_vexpand (self->parts, TRUE);
  gtk_box_append (GTK_BOX (extra), make_chooser (self));
  gtk_box_append (GTK_BOX (extra), self->write_place);
  gtk_box_append (GTK_BOX (box), bed_page_head_new (self->figures, extra));
  gtk_box_append (GTK_BOX (box), self->parts);
  adw_bin_set_child (ADW_BIN (self), box);
}
