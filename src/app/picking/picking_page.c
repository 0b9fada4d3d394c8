#include "app/picking/picking_page.h"

#include <glib/gi18n.h>

#include "app/desk/crop_detail.h"
#include "app/desk/detail.h"
#include "app/desk/figure_answer.h"
#include "app/form/forms.h"
#include "app/host/host.h"
#include "app/host/wait.h"
#include "app/paper/paper_dialog.h"
#include "app/paper/recall_dialog.h"
#include "app/picking/lot_detail.h"
#include "app/picking/pick_line.h"
#include "app/picking/sale_form.h"
#include "app/widgets/build.h"
#include "app/widgets/table_bar.h"
#include "model/farm/kinds.h"
#include "model/farm/query.h"
#include "model/farm/say.h"
#include "model/farm/value.h"
#include "model/season/pick.h"

#define GRADES_MOST 4

struct _BedPickingPage
{
  BedPartsPage parent_instance;
  GtkWidget *picks; /* "empty", "line", "pick": without a batch there is nothing to pick from */
  BedPickLine *line;
  BedTable *table;
  GtkWidget *drop;
  GtkWidget *change;
  BedForm *form; /* of a pick that is changed; NULL until first opened */
};

BED_DEFINE_TYPE (BedPickingPage, bed_picking_page, BED_TYPE_PARTS_PAGE)

/* --- tables -------------------------------------------------------------------- */

static const BedTableColumn pick_columns[] = {
  { .column = "from_what", .title = N_ ("From") },
  { .field = "grade", .width = 5 },
  { .field = "mass", .title = N_ ("Weight") },
  { .column = "lot_code", .title = N_ ("Lot"), .width = 12 },
  { .field = "picker" },
  { .field = "since" },
};

static const BedTableSpec pick_table = {
  .label = N_ ("Picks of the day"),
  .source = "pick_named",
  .kind = BED_KIND_PICK,
  .columns = pick_columns,
  .n_columns = G_N_ELEMENTS (pick_columns),
  .order = "id DESC",
  .kinds = BED_KIND_BIT (BED_KIND_PICK) | BED_KIND_BIT (BED_KIND_LOT),
};

/* What of it is sold, dried and lost; the rest is left. */
static void
show_lot (GtkWidget *bar, BedRow *row)
{
  double picked = (double) bed_row_int (row, "picked");
  double sold = (double) bed_row_int (row, "sold"), dried = (double) bed_row_int (row, "dried");
  double lost = (double) bed_row_int (row, "lost");
  double all = MAX (picked, 1);
  double shares[BED_TABLE_BAR_PARTS] = { sold / all, dried / all, lost / all };
  g_autofree char *words = bed_say (_ ("%.0f %% sold, %.0f %% dried, %.0f %% lost"),
                                    100 * sold / all, 100 * dried / all, 100 * lost / all);

  bed_table_bar_set (bar, shares, words);
}

static const BedTableColumn lot_columns[] = {
  { .field = "code" },
  { .column = "picked",
    .title = N_ ("Picked"),
    .cell = BED_CELL_MEASURE,
    .measure = BED_MEASURE_MASS,
    .decimals = 2 },
  { .column = "rest",
    .title = N_ ("Left"),
    .cell = BED_CELL_MEASURE,
    .measure = BED_MEASURE_MASS,
    .decimals = 2 },
  { .column = "sold",
    .title = N_ ("Sold"),
    .cell = BED_CELL_DRAWN,
    .drawn_new = bed_table_bar_new,
    .drawn_show = show_lot },
};

static const BedTableSpec lot_table = {
  .label = N_ ("Lots"),
  .source = "lot_left",
  .kind = BED_KIND_LOT,
  .columns = lot_columns,
  .n_columns = G_N_ELEMENTS (lot_columns),
  .order = "picked_on DESC, id DESC",
  .search = "code",
  .kinds = BED_KIND_BIT (BED_KIND_LOT) | BED_KIND_BIT (BED_KIND_PICK) | BED_KIND_BIT (BED_KIND_LINE)
           | BED_KIND_BIT (BED_KIND_DRYING),
};

static const BedTableColumn sale_columns[] = {
  { .field = "sold_on" },
  { .column = "buyer_name", .title = N_ ("Buyer"), .width = 10 },
  { .column = "mass",
    .title = N_ ("Weight"),
    .cell = BED_CELL_MEASURE,
    .measure = BED_MEASURE_MASS,
    .decimals = 2,
    .from = 520 },
  { .column = "income",
    .title = N_ ("Income"),
    .cell = BED_CELL_MEASURE,
    .measure = BED_MEASURE_MONEY },
};

static const BedTableSpec sale_table = {
  .label = N_ ("Sales"),
  .source = "sale_summary",
  .kind = BED_KIND_SALE,
  .columns = sale_columns,
  .n_columns = G_N_ELEMENTS (sale_columns),
  .order = "sold_on DESC, id DESC",
  .search = "code || ' ' || coalesce (buyer_name, '')",
  .kinds = BED_KIND_BIT (BED_KIND_SALE) | BED_KIND_BIT (BED_KIND_LINE)
           | BED_KIND_BIT (BED_KIND_BUYER),
};

/* --- figures ------------------------------------------------------------------- */

/* What was picked on the day, in the place of what the table calls it @caption. */
static BedPageFigure
picked (BedFarm *farm, double mass, char *caption, GPtrArray *texts)
{
  BedFigureAnswers got;

  got.values[BED_FIGURE_WEEK_PICKED_DAY] = mass;
  BedPageFigure figure = bed_figure_answer (farm, &got, BED_FIGURE_WEEK_PICKED_DAY, texts);
  figure.caption = caption;
  g_ptr_array_add (texts, caption);
  return figure;
}

static gboolean
show_figures (gpointer page, GError **error)
{
  BedPickingPage *self = page;
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));
  const char *day = bed_pick_line_get_day (self->line);
  const BedField *grade = bed_kind_find_field (BED_KIND_PICK, "grade", NULL);
  g_autoptr (BedQuery) q = bed_query_new (
      farm, "SELECT grade, sum (mass) FROM pick_dated WHERE picked_on = ?1 GROUP BY 1 ORDER BY 1");
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  BedPageFigure figures[1 + GRADES_MOST];
  double whole = 0;
  guint n = 1;

  bed_query_bind_text (q, 1, day);
  while (bed_query_next (q) && n < G_N_ELEMENTS (figures))
    {
      const char *name = bed_field_choice_label (grade, bed_query_text (q, 0));

      whole += bed_query_real (q, 1);
      figures[n++]
          = picked (farm, bed_query_real (q, 1), g_strdup_printf (_ ("Grade %s"), name), texts);
    }
  g_autofree char *shown = bed_date_format_whole (day);
  gboolean today = strcmp (day, bed_farm_get_today (farm)) == 0;
  figures[0] = picked (
      farm, whole,
      today ? g_strdup (_ ("Picked today")) : g_strdup_printf (_ ("Picked on %s"), shown), texts);
  bed_page_set_figures (BED_PAGE (self), figures, n);
  return bed_query_finish (q, error);
}

/* --- picks of the day ---------------------------------------------------------- */

static void
show_day (BedPickingPage *self)
{
  bed_table_set_where_text (self->table, "picked_on = ?2", bed_pick_line_get_day (self->line));
}

static void
day_changed_cb (BedPickingPage *self)
{
  show_day (self);
  bed_host_read (self, bed_page_get_farm (BED_PAGE (self)), show_figures);
}

static void
table_selected_cb (BedPickingPage *self)
{
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));
  gboolean can = bed_table_get_selected (self->table) && !bed_farm_get_read_only_why (farm);

  gtk_widget_set_sensitive (self->drop, can);
  gtk_widget_set_sensitive (self->change, can);
}

static void
pick_left_cb (BedPickingPage *self)
{
  gtk_stack_set_visible_child_name (GTK_STACK (self->picks), "line");
  gtk_widget_grab_focus (GTK_WIDGET (self->table));
}

/* A pick that was moved to another day is followed there. */
static void
pick_saved_cb (BedPickingPage *self, BedRecord *pick)
{
  bed_pick_line_show_day (self->line, bed_record_get_text (pick, "picked_on"));
  bed_table_select (self->table, bed_record_get_id (pick));
}

static void
change_cb (BedPickingPage *self)
{
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));
  gint64 id = bed_table_get_selected (self->table);
  g_autoptr (BedRecord) pick = id ? bed_host_load (GTK_WIDGET (self), farm, BED_KIND_PICK, id)
                                  : NULL;

  if (!pick || bed_farm_get_read_only_why (farm))
    return;
  if (!self->form)
    {
      self->form = bed_forms_get_in (GTK_STACK (self->picks), farm, BED_KIND_PICK,
                                     G_CALLBACK (pick_left_cb), self);
      g_signal_connect_object (self->form, "saved", G_CALLBACK (pick_saved_cb), self,
                               G_CONNECT_SWAPPED);
    }
  bed_form_open (self->form, pick, "mass");
}

static void
drop_cb (BedPickingPage *self)
{
  gint64 id = bed_table_get_selected (self->table);

  if (id)
    bed_host_remove_one (GTK_WIDGET (self), bed_page_get_farm (BED_PAGE (self)), BED_KIND_PICK, id);
}

static gboolean
try_open_lot_cb (gpointer data, GError **error)
{
  BedPickingPage *self = data;

  return bed_pick_open_lot (bed_page_get_farm (BED_PAGE (self)), bed_pick_line_get_day (self->line),
                            error);
}

static void
open_lot_cb (BedPickingPage *self)
{
  g_autoptr (GError) error = NULL;

  if (bed_wait_to_write (GTK_WIDGET (self), try_open_lot_cb, self, &error))
    bed_host_say_undo (GTK_WIDGET (self));
  else
    bed_host_say_error (GTK_WIDGET (self), error);
  gtk_widget_grab_focus (GTK_WIDGET (self->line));
}

/* --- the page ------------------------------------------------------------------ */

static void
show_line (BedPickingPage *self)
{
  gboolean any = bed_farm_count (bed_page_get_farm (BED_PAGE (self)), BED_KIND_BATCH) > 0;

  gtk_stack_set_visible_child_name (GTK_STACK (self->picks), any ? "line" : "empty");
}

static gboolean
refresh_picks (BedPartsPage *page, GError **error)
{
  BedPickingPage *self = BED_PICKING_PAGE (page);

  if (!show_figures (self, error))
    return FALSE;
  if (g_strcmp0 (gtk_stack_get_visible_child_name (GTK_STACK (self->picks)), "pick") != 0)
    show_line (self);
  bed_pick_line_refresh (self->line);
  return TRUE;
}

/* Where sales are seen, a sale; anywhere else a pick. */
static void
bed_picking_page_add (BedPage *page)
{
  BedPickingPage *self = BED_PICKING_PAGE (page);

  if (strcmp (bed_parts_page_get_seen (BED_PARTS_PAGE (page)), "sales") == 0)
    {
      BED_PAGE_CLASS (bed_picking_page_parent_class)->add (page);
      return;
    }
  bed_parts_page_see (BED_PARTS_PAGE (page), "picks");
  show_line (self);
  gtk_widget_grab_focus (GTK_WIDGET (self->line));
}

static void
bed_picking_page_print (BedPage *page)
{
  gint64 lot
      = bed_browser_get_selected (bed_parts_page_get_list (BED_PARTS_PAGE (page), BED_KIND_LOT));
  BedPrintOffer offers[] = { { BED_PRINT_CRATES, lot }, { BED_PRINT_PICKING, 0 } };
  BedFarm *farm = bed_page_get_farm (page);
  g_autoptr (GError) error = NULL;

  if (!bed_farm_begin_reading (farm))
    return;
  /* The lot is chosen in the dialog, too, where there is one. */
  guint first = bed_farm_count (farm, BED_KIND_LOT) > 0 ? 0 : 1;
  if (bed_farm_end_reading (farm, &error))
    bed_paper_dialog_show (GTK_WIDGET (page), farm, offers + first, 2 - first);
  else
    bed_host_say_error (GTK_WIDGET (page), error);
}

/* A line is read in its sale. */
static void
bed_picking_page_show_record (BedPage *page, BedKind kind, gint64 id)
{
  g_autoptr (BedRecord) record = bed_farm_load (bed_page_get_farm (page), kind, id, NULL);

  if (kind == BED_KIND_LINE)
    {
      kind = BED_KIND_SALE;
      id = record ? bed_record_get_int (record, "sale") : 0;
    }
  BED_PAGE_CLASS (bed_picking_page_parent_class)->show_record (page, kind, id);
  if (kind != BED_KIND_PICK)
    return;
  bed_parts_page_see (BED_PARTS_PAGE (page), "picks");
  if (record)
    pick_saved_cb (BED_PICKING_PAGE (page), record);
}

static void
bed_picking_page_show_draft (BedPage *page, BedRecord *draft, const char *logs)
{
  BED_PAGE_CLASS (bed_picking_page_parent_class)->show_draft (page, draft, logs);
  if (bed_record_get_kind (draft) == BED_KIND_SALE && logs)
    bed_sale_form_offer_lot (
        bed_browser_get_form (bed_parts_page_get_list (BED_PARTS_PAGE (page), BED_KIND_SALE)),
        logs);
  if (bed_record_get_kind (draft) != BED_KIND_PICK)
    return;
  bed_parts_page_see (BED_PARTS_PAGE (page), "picks");
  bed_pick_line_fill (BED_PICKING_PAGE (page)->line, draft);
}

static void
recall_cb (BedPickingPage *self)
{
  bed_recall_show_day (GTK_WIDGET (self), bed_page_get_farm (BED_PAGE (self)),
                       bed_pick_line_get_day (self->line));
}

static GtkWidget *
make_foot (BedPickingPage *self)
{
  GtkWidget *recall
      = bed_styled (bed_button_new (_ ("Recall this day…"), G_CALLBACK (recall_cb), self), "flat");

  GtkWidget *lot = bed_styled (
      bed_button_new (_ ("Open another lot"), G_CALLBACK (open_lot_cb), self), "flat");

  self->drop = bed_styled (bed_button_new (_ ("Remove pick"), G_CALLBACK (drop_cb), self), "flat");
  self->change
      = bed_styled (bed_button_new (_ ("Change pick"), G_CALLBACK (change_cb), self), "flat");
  gtk_widget_set_focus_on_click (self->drop, FALSE);
  gtk_widget_set_tooltip_text (self->change, _ ("Enter on the pick"));
  gtk_widget_set_sensitive (self->change, FALSE);
  gtk_widget_set_sensitive (self->drop, FALSE);
  gtk_widget_set_sensitive (lot, !bed_farm_get_read_only_why (bed_page_get_farm (BED_PAGE (self))));
  gtk_widget_set_tooltip_text (lot, _ ("Picks of this day go into a new lot from now on"));
  gtk_widget_set_tooltip_text (recall, _ ("Who has what was picked, and where it came from"));
  return bed_styled (bed_row_new (6, lot, self->change, self->drop, recall, NULL), "foot");
}

static GtkWidget *
make_picks (BedPartsPage *page)
{
  static const BedEmpty empty
      = { "bed-picking-symbolic", N_ ("Nothing to pick from yet"),
          N_ ("Once a batch is inoculated, picks of its logs are typed or scanned here, "
              "one line each."),
          N_ ("Go to the batches"), "win.page::batches" };
  BedPickingPage *self = BED_PICKING_PAGE (page);
  BedFarm *farm = bed_page_get_farm (BED_PAGE (page));
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  self->picks = bed_empty_stack_new (&empty, box, "line");
  self->line = bed_pick_line_new (farm);
  self->table = bed_table_new_of_one (farm, &pick_table);
  show_day (self);
  gtk_widget_set_vexpand (GTK_WIDGET (self->table), TRUE);
  g_signal_connect_object (self->line, "day-changed", G_CALLBACK (day_changed_cb), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (self->line, "picked", G_CALLBACK (bed_table_select), self->table,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (self->table, "selected", G_CALLBACK (table_selected_cb), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (self->table, "change", G_CALLBACK (change_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->table, "remove", G_CALLBACK (drop_cb), self, G_CONNECT_SWAPPED);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->line));
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->table));
  gtk_box_append (GTK_BOX (box), make_foot (self));
  return self->picks;
}

static const BedPagePart parts[] = {
  { .name = "picks", .title = N_ ("Picks"), .make = make_picks },
  { .name = "lots",
    .title = N_ ("Lots"),
    .list = { .kind = BED_KIND_LOT,
              .table = &lot_table,
              .empty
              = { "bed-picking-symbolic", N_ ("No lot yet"),
                  N_ ("The first pick of a day opens its lot. A lot can be traced back to the tree "
                      "and forward to who bought it."),
                  NULL, NULL },
              .detail_new = bed_lot_detail_new,
              .detail_show = bed_lot_detail_show } },
  { .name = "sales",
    .title = N_ ("Sales"),
    .list
    = { .kind = BED_KIND_SALE,
        .table = &sale_table,
        .empty
        = { "bed-money-symbolic", N_ ("Nothing sold yet"),
            N_ ("A sale says which lots went to whom, and for how much. What was lost or given "
                "away is written down the same way, without a price."),
            N_ ("New sale"), "win.add" },
        .detail_new = bed_detail_new,
        .detail_show = bed_sale_detail_show,
        .form_new = bed_sale_form_new } },
  { .name = NULL },
};

static void
bed_picking_page_class_init (BedPickingPageClass *klass)
{
  BedPageClass *page_class = BED_PAGE_CLASS (klass);
  BedPartsPageClass *parts_class = BED_PARTS_PAGE_CLASS (klass);
  static const BedPageKey keys[] = {
    { "<Shift>Tab", N_ ("Before the log, stack or batch: the day") },
    { "Return", N_ ("In the list: change the pick") },
    { NULL, NULL },
  };

  parts_class->parts = parts;
  parts_class->refresh_own = refresh_picks;
  page_class->add = bed_picking_page_add;
  page_class->show_record = bed_picking_page_show_record;
  page_class->show_draft = bed_picking_page_show_draft;
  page_class->print = bed_picking_page_print;
  page_class->keys = keys;
  page_class->print_title = N_ ("Print crate labels or the picking sheet");
  page_class->add_title = N_ ("New pick or sale");
  page_class->kinds = BED_KIND_BIT (BED_KIND_PICK) | BED_KIND_BIT (BED_KIND_LOT)
                      | BED_KIND_BIT (BED_KIND_SALE) | BED_KIND_BIT (BED_KIND_LINE);
}
