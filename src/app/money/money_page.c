#include "app/money/money_page.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/desk/figure_answer.h"
#include "app/desk/page_parts.h"
#include "app/desk/season_chooser.h"
#include "app/form/forms.h"
#include "app/host/host.h"
#include "app/money/money_seasons.h"
#include "app/paper/paper_dialog.h"
#include "app/widgets/split_bar.h"
#include "model/farm/say.h"
#include "model/season/season.h"
#include "science/units.h"

struct _BedMoneyPage
{
  BedPartsPage parent_instance;
  BedSeasonChooser *chooser;
  GtkWidget *costs; /* "empty", "parts" */
  BedSplitBar *purposes;
  GtkWidget *categories;
  GtkWidget *seasons;
};

BED_DEFINE_TYPE (BedMoneyPage, bed_money_page, BED_TYPE_PARTS_PAGE)

/* --- the tables ---------------------------------------------------------------- */

static const BedTableColumn purchase_columns[] = {
  { .field = "bought_on" },
  { .field = "what" },
  { .field = "category", .width = 9, .from = 560 },
  { .field = "amount" },
};

static const BedTableSpec purchase_table = {
  .label = N_ ("Purchases"),
  .source = "purchase",
  .kind = BED_KIND_PURCHASE,
  .columns = purchase_columns,
  .n_columns = G_N_ELEMENTS (purchase_columns),
  .order = "bought_on DESC, id DESC",
  .search = "what || ' ' || bed_choice_word ('purchase', 'category', category)"
            " || ' ' || coalesce (supplier, '')",
  .kinds = BED_KIND_BIT (BED_KIND_PURCHASE),
};

static const BedTableColumn hours_columns[] = {
  { .field = "worked_on" },
  { .field = "task" },
  { .field = "person" },
  { .field = "minutes" },
};

static const BedTableSpec hours_table = {
  .label = N_ ("Hours"),
  .source = "hours",
  .kind = BED_KIND_HOURS,
  .columns = hours_columns,
  .n_columns = G_N_ELEMENTS (hours_columns),
  .order = "worked_on DESC, id DESC",
  .search = "bed_choice_word ('hours', 'task', task) || ' ' || coalesce (person, '')",
  .kinds = BED_KIND_BIT (BED_KIND_HOURS),
};

static const BedTableColumn rate_columns[] = {
  { .field = "until" },
  { .field = "rate" },
};

static const BedTableSpec rate_table = {
  .label = N_ ("Earlier labour rates"),
  .source = "rate",
  .kind = BED_KIND_RATE,
  .columns = rate_columns,
  .n_columns = G_N_ELEMENTS (rate_columns),
  .order = "until DESC, id DESC",
  .search = "until",
  .kinds = BED_KIND_BIT (BED_KIND_RATE),
};

static const BedTableColumn equipment_columns[] = {
  { .field = "what" },
  { .field = "bought_on" },
  { .field = "price" },
};

static const BedTableSpec equipment_table = {
  .label = N_ ("Equipment"),
  .source = "equipment",
  .kind = BED_KIND_EQUIPMENT,
  .columns = equipment_columns,
  .n_columns = G_N_ELEMENTS (equipment_columns),
  .order = "bought_on DESC, id DESC",
  .search = "what",
  .kinds = BED_KIND_BIT (BED_KIND_EQUIPMENT),
};

static const BedTableColumn stock_columns[] = {
  { .field = "counted_on" },
  { .field = "category" },
  { .field = "amount" },
};

static const BedTableSpec stock_table = {
  .label = N_ ("Stock counts"),
  .source = "stock_count",
  .kind = BED_KIND_STOCK_COUNT,
  .columns = stock_columns,
  .n_columns = G_N_ELEMENTS (stock_columns),
  .order = "counted_on DESC, id DESC",
  .search = "bed_choice_word ('stock_count', 'category', category)",
  .kinds = BED_KIND_BIT (BED_KIND_STOCK_COUNT),
};

static void
ask_where (BedForm *form, const char *field, const char *answer, const char *asked)
{
  const char *said = bed_record_get_text (bed_form_get_draft (form), field);

  if (g_strcmp0 (said, answer) == 0)
    bed_form_show_field (form, asked);
  else
    bed_form_hide_field (form, asked);
}

/* A batch is asked for only where the purchase was for one, a spawn lot where spawn was bought. */
static void
purchase_changed_cb (BedForm *form)
{
  ask_where (form, "scope", "batch", "batch");
  ask_where (form, "category", "spawn", "spawn");
}

static BedForm *
make_purchase_form (BedFarm *farm)
{
  BedForm *form = bed_form_new (farm, bed_forms_get_spec (BED_KIND_PURCHASE));

  g_signal_connect (form, "draft-changed", G_CALLBACK (purchase_changed_cb), NULL);
  purchase_changed_cb (form);
  return form;
}

/* --- what the season cost ------------------------------------------------------ */

static char *
dup_money (BedFarm *farm, double amount)
{
  return bed_measure_format (BED_MEASURE_MONEY, bed_farm_get_notation (farm),
                             llround (amount)); /* refunds are negative */
}

static gboolean
show_figures (BedMoneyPage *self, int season, GError **error)
{
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  BedFigureAnswers got;

  if (!bed_figures_read_season (farm, season, &got, error))
    return FALSE;
  BedPageFigure figures[] = {
    bed_figure_answer (farm, &got, BED_FIGURE_COST, texts),
    bed_figure_answer (farm, &got, BED_FIGURE_HOURS, texts),
    bed_figure_answer (farm, &got, BED_FIGURE_COST_PER_LOG, texts),
    bed_figure_answer (farm, &got, BED_FIGURE_COST_PER_KG, texts),
    bed_figure_answer (farm, &got, BED_FIGURE_PRICE_TO_BREAK_EVEN, texts),
    bed_figure_answer (farm, &got, BED_FIGURE_PRICE_GOT_FRESH, texts),
  };

  bed_page_set_figures (BED_PAGE (self), figures, G_N_ELEMENTS (figures));
  return TRUE;
}

static void
show_purposes (BedMoneyPage *self, GPtrArray *parts, gint64 cost)
{
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));
  g_autofree BedSplitPart *split = g_new0 (BedSplitPart, MAX (parts->len, 1));
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  guint n = 0;

  for (guint i = 0; i < parts->len; i++)
    {
      const BedSeasonPart *part = parts->pdata[i];
      char *text = dup_money (farm, part->amount);
      g_ptr_array_add (texts, text);
      /* A refund larger than what was bought is no part of a bar. */
      if (part->amount > 0)
        split[n++] = (BedSplitPart){ part->label, text, (double) part->amount / MAX (cost, 1) };
    }
  bed_split_bar_set (self->purposes, _ ("Cost by what it was for"), split, n);
}

static void
add_category (BedMoneyPage *self, const BedSeasonPart *part, gint64 cost, int row)
{
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));
  g_autofree char *amount = dup_money (farm, part->amount);
  g_autofree char *share = bed_say ("%.0f %%", 100.0 * part->amount / MAX (cost, 1));
  GtkWidget *name = bed_words_new (part->label, NULL);
  GtkWidget *money = bed_words_new (amount, "numeric");
  GtkWidget *percent = bed_styled (bed_words_new (share, "numeric"), "dim-label");
  GtkWidget *bar = GTK_WIDGET (bed_split_bar_new ());

  gtk_label_set_xalign (GTK_LABEL (money), 1);
  gtk_label_set_xalign (GTK_LABEL (percent), 1);
  bed_styled (name, "category");
  gtk_widget_set_hexpand (bar, TRUE);
  bed_split_bar_set_measure (BED_SPLIT_BAR (bar), part->label,
                             CLAMP ((double) part->amount / MAX (cost, 1), 0, 1));
  gtk_grid_attach (GTK_GRID (self->categories), name, 0, row, 1, 1);
  gtk_grid_attach (GTK_GRID (self->categories), money, 1, row, 1, 1);
  gtk_grid_attach (GTK_GRID (self->categories), percent, 2, row, 1, 1);
  gtk_grid_attach (GTK_GRID (self->categories), bar, 3, row, 1, 1);
}

static void
show_categories (BedMoneyPage *self, GPtrArray *parts, gint64 cost)
{
  bed_box_clear (self->categories);
  for (guint i = 0; i < parts->len; i++)
    add_category (self, parts->pdata[i], cost, i);
}

static gboolean
show_season (BedMoneyPage *self, GError **error)
{
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));
  int year = bed_season_chooser_get (self->chooser);
  g_autoptr (GPtrArray) purposes = NULL;
  g_autoptr (GPtrArray) categories = NULL;
  gint64 cost = 0;

  if (!show_figures (self, year, error) || !(purposes = bed_season_by_purpose (farm, year, error))
      || !(categories = bed_season_by_category (farm, year, error)))
    return FALSE;
  for (guint i = 0; i < categories->len; i++)
    cost += ((BedSeasonPart *) categories->pdata[i])->amount;
  show_purposes (self, purposes, cost);
  show_categories (self, categories, cost);
  gtk_stack_set_visible_child_name (GTK_STACK (self->costs), cost ? "parts" : "empty");
  return TRUE;
}

static gboolean
show_seasons (BedPage *page, GError **error)
{
  BedMoneyPage *self = BED_MONEY_PAGE (page);

  return bed_money_seasons_show (self->seasons, bed_page_get_farm (page),
                                 bed_season_chooser_get (self->chooser), error);
}

static const BedPageRead late[] = { show_seasons, NULL };

static gboolean
show_all (gpointer page, GError **error)
{
  return show_season (page, error) && show_seasons (page, error);
}

static void
season_changed_cb (BedMoneyPage *self)
{
  bed_host_read (self, bed_page_get_farm (BED_PAGE (self)), show_all);
}

static gboolean
bed_money_page_refresh_own (BedPartsPage *page, GError **error)
{
  BedMoneyPage *self = BED_MONEY_PAGE (page);

  return bed_season_chooser_refresh (self->chooser, error) && show_season (self, error);
}

/* --- the page ------------------------------------------------------------------ */

static GtkWidget *
make_chooser (BedPartsPage *page)
{
  BedMoneyPage *self = BED_MONEY_PAGE (page);

  self->chooser = bed_season_chooser_new (bed_page_get_farm (BED_PAGE (page)));
  g_signal_connect_swapped (self->chooser, "changed", G_CALLBACK (season_changed_cb), self);
  return GTK_WIDGET (self->chooser);
}

static GtkWidget *
make_parts (BedMoneyPage *self)
{
  GtkWidget *box;

  self->purposes = bed_split_bar_new ();
  self->categories = bed_grid_new (18, 12);
  self->seasons = bed_grid_new (18, 12);
  box = bed_column_new (24, bed_section_new (_ ("What it was for"), GTK_WIDGET (self->purposes)),
                        bed_section_new (_ ("By category"), self->categories),
                        bed_section_new (_ ("Season by season"), self->seasons), NULL);
  return bed_reading_new (_ ("Costs"), box);
}

static GtkWidget *
make_costs (BedPartsPage *page)
{
  BedMoneyPage *self = BED_MONEY_PAGE (page);
  static const BedEmpty empty
      = { "bed-money-symbolic", N_ ("Nothing spent this season"),
          N_ ("Purchases and hours come together here as the cost of a log and of a "
              "kilogram, and the price that pays for them."),
          N_ ("New purchase"), "win.add" };

  self->costs = bed_empty_stack_new (&empty, make_parts (self), "parts");
  return self->costs;
}

static const BedPagePart parts[] = {
  { .name = "costs", .title = N_ ("Costs"), .make = make_costs },
  { .name = "purchases",
    .title = N_ ("Purchases"),
    .list = { .kind = BED_KIND_PURCHASE,
              .table = &purchase_table,
              .empty = { "bed-money-symbolic", N_ ("Nothing bought yet"),
                         N_ ("Wax, bits, shade cloth, packaging: what was bought, for how "
                             "much, and what it was for. Spawn is entered with its lot."),
                         N_ ("New purchase"), "win.add" },
              .form_new = make_purchase_form } },
  { .name = "hours",
    .title = N_ ("Hours"),
    .list = { .kind = BED_KIND_HOURS,
              .table = &hours_table,
              .empty = { "bed-money-symbolic", N_ ("No hours yet"),
                         N_ ("Work is the largest cost of most log farms. Written down by task, "
                             "it shows what a log and a kilogram really cost."),
                         N_ ("Record hours"), "win.add" } } },
  { .name = "equipment",
    .title = N_ ("Equipment"),
    .list = { .kind = BED_KIND_EQUIPMENT,
              .table = &equipment_table,
              .empty = { "bed-money-symbolic", N_ ("No equipment yet"),
                         N_ ("What lasts for years is written off over its life, by the "
                             "share that is used for logs."),
                         N_ ("New equipment"), "win.add" } } },
  { .name = "rates",
    .title = N_ ("Rates"),
    .list = { .kind = BED_KIND_RATE,
              .table = &rate_table,
              .empty = { "bed-money-symbolic", N_ ("No earlier labour rates"),
                         N_ ("A labour rate changed in the farm's settings holds from that day on. "
                             "The one before is kept here, and older hours stay at it."),
                         N_ ("New earlier rate"), "win.add" } } },
  { .name = "stock",
    .title = N_ ("Stock"),
    .list = { .kind = BED_KIND_STOCK_COUNT,
              .table = &stock_table,
              .empty = { "bed-money-symbolic", N_ ("No stock counted yet"),
                         N_ ("Wax, packaging and spawn without a lot that were bought and not used "
                             "are no cost of this season. Count what is left at its end, at what "
                             "it cost. Spawn lots count themselves."),
                         N_ ("New stock count"), "win.add" } } },
  { .name = NULL },
};

static void
print_shown (BedPage *page)
{
  bed_paper_dialog_show_page (GTK_WIDGET (page), bed_page_get_farm (page), _ ("Money"));
}

static void
bed_money_page_class_init (BedMoneyPageClass *klass)
{
  BedPageClass *page_class = BED_PAGE_CLASS (klass);
  BedPartsPageClass *parts_class = BED_PARTS_PAGE_CLASS (klass);

  page_class->print = print_shown;
  page_class->print_title = N_ ("Print what this page shows");
  parts_class->parts = parts;
  parts_class->refresh_own = bed_money_page_refresh_own;
  parts_class->make_beside = make_chooser;
  page_class->refresh_late = late;
  page_class->add_title = N_ ("New purchase, hours or equipment");
  page_class->kinds = BED_KIND_BIT (BED_KIND_PURCHASE) | BED_KIND_BIT (BED_KIND_HOURS)
                      | BED_KIND_BIT (BED_KIND_RATE) | BED_KIND_BIT (BED_KIND_EQUIPMENT)
                      | BED_KIND_BIT (BED_KIND_STOCK_COUNT);
}
