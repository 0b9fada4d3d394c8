#include "app/batches/batches_page.h"

#include <glib/gi18n.h>

#include "app/batches/batch_detail.h"
#include "app/batches/batch_form.h"
#include "app/batches/log_view.h"
#include "app/desk/browser.h"
#include "app/desk/page_parts.h"
#include "app/paper/paper_dialog.h"
#include "app/widgets/compat.h"
#include "app/widgets/enter.h"
#include "model/farm/query.h"

struct _BedBatchesPage
{
  BedPage parent_instance;
  GtkWidget *stack; /* the batches, or one log of them */
  BedBrowser *browser;
  BedLogView *log;
};

G_DEFINE_FINAL_TYPE (BedBatchesPage, bed_batches_page, BED_TYPE_PAGE)

static const BedTableColumn columns[] = {
  { .field = "code", .width = 5 },
  { .column = "wood_name", .title = N_ ("Wood") },
  { .column = "stage", .title = N_ ("Stage"), .cell = BED_CELL_STAGE, .width = 9 },
  { .column = "logs_alive",
    .title = N_ ("Logs"),
    .cell = BED_CELL_MEASURE,
    .measure = BED_MEASURE_COUNT },
};

static const BedTableSpec table = {
  .label = N_ ("Batches"),
  .source = "batch_summary",
  .kind = BED_KIND_BATCH,
  .columns = columns,
  .n_columns = G_N_ELEMENTS (columns),
  .order = "inoculated_on DESC, id DESC",
  .search = "code || ' ' || coalesce (wood_name, '') || ' ' || coalesce (strain_name, '')"
            " || ' ' || coalesce (bed_stage_word (stage), '')",
};

/* Logs come from a felling and spawn from a lot: without them there is nothing to enter yet. */
static const BedEmpty *
find_first_step (BedFarm *farm)
{
  static const BedEmpty no_felling = {
    "bed-batches-symbolic",
    N_ ("No batch yet"),
    N_ ("A batch is what was inoculated together: one pattern, one spawn, a number of logs. The "
        "first step is the felling that the logs are cut from."),
    N_ ("To the woodlot"),
    "win.page::woodlot",
  };
  static const BedEmpty no_spawn = {
    "bed-batches-symbolic",
    N_ ("No batch yet"),
    N_ ("The logs have their felling. The next step is the spawn lot that goes into them: the "
        "third part of the woodlot."),
    N_ ("To the woodlot"),
    "win.page::woodlot",
  };

  if (!bed_farm_count (farm, BED_KIND_FELLING))
    return &no_felling;
  return bed_farm_count (farm, BED_KIND_SPAWN) ? NULL : &no_spawn;
}

static const BedBrowserSpec browser = {
  .kind = BED_KIND_BATCH,
  .table = &table,
  .empty = { "bed-batches-symbolic", N_ ("No batch yet"),
             N_ ("Felling and spawn are entered. A batch brings them together: type the pattern, "
                 "choose the spawn, then one diameter per Enter."),
             N_ ("New batch"), "win.add" },
  .find_first_step = find_first_step,
  .detail_new = bed_batch_detail_new,
  .detail_show = bed_batch_detail_show,
  .form_new = bed_batch_form_new,
};

static void
open_log (BedBatchesPage *self, gint64 log)
{
  gtk_stack_set_visible_child (GTK_STACK (self->stack), GTK_WIDGET (self->log));
  bed_log_view_show (self->log, log);
}

static void
show_batches (BedBatchesPage *self)
{
  gtk_stack_set_visible_child (GTK_STACK (self->stack), GTK_WIDGET (self->browser));
}

/* Back to the log's line in its batch. */
static void
log_left_cb (BedBatchesPage *self)
{
  GtkWidget *detail = bed_browser_get_detail (self->browser);

  show_batches (self);
  bed_batch_detail_show_log (BED_BATCH_DETAIL (detail), bed_log_view_get_log (self->log));
}

static void
bed_batches_page_refresh (BedPage *page, guint64 kinds)
{
  BedBatchesPage *self = BED_BATCHES_PAGE (page);

  bed_browser_refresh (self->browser);
  if (gtk_stack_get_visible_child (GTK_STACK (self->stack)) == GTK_WIDGET (self->log))
    bed_log_view_refresh (self->log);
}

static void
bed_batches_page_add (BedPage *page)
{
  BedBatchesPage *self = BED_BATCHES_PAGE (page);

  show_batches (self);
  bed_browser_add (self->browser, NULL);
}

static void
bed_batches_page_print (BedPage *page)
{
  BedBatchesPage *self = BED_BATCHES_PAGE (page);
  gint64 batch = bed_browser_get_selected (self->browser);
  BedPrintOffer tag = { BED_PRINT_TAG, bed_log_view_get_log (self->log) };
  BedPrintOffer offers[] = {
    { BED_PRINT_TAGS, batch },
    { BED_PRINT_GUIDE, batch },
    { BED_PRINT_INOCULATION, batch },
    { BED_PRINT_WEIGHING, batch },
  };

  if (gtk_stack_get_visible_child (GTK_STACK (self->stack)) == GTK_WIDGET (self->log))
    bed_paper_dialog_show (GTK_WIDGET (page), bed_page_get_farm (page), &tag, 1);
  else if (batch)
    bed_paper_dialog_show (GTK_WIDGET (page), bed_page_get_farm (page), offers,
                           G_N_ELEMENTS (offers));
}

static void
bed_batches_page_show_record (BedPage *page, BedKind kind, gint64 id)
{
  BedBatchesPage *self = BED_BATCHES_PAGE (page);
  gint64 batch = id;

  if (kind == BED_KIND_LOG)
    batch = bed_query_one (bed_page_get_farm (page), "SELECT batch FROM log WHERE id = ?1", id);
  show_batches (self);
  if (batch)
    bed_browser_show (self->browser, batch);
  if (kind == BED_KIND_LOG)
    open_log (self, id);
}

static void
bed_batches_page_show_draft (BedPage *page, BedRecord *draft, const char *logs)
{
  BedBatchesPage *self = BED_BATCHES_PAGE (page);

  if (bed_record_get_kind (draft) != BED_KIND_BATCH)
    return;
  show_batches (self);
  bed_browser_add (self->browser, draft);
}

static void
bed_batches_page_open_parts (BedPage *page)
{
  BedBatchesPage *self = BED_BATCHES_PAGE (page);

  show_batches (self);
  bed_browser_show_detail (self->browser);
}

/* One reads down the list first; the parts of the chosen batch have keys of their own. */
static gboolean
bed_batches_page_grab_focus (GtkWidget *widget)
{
  return bed_enter (gtk_stack_get_visible_child (GTK_STACK (BED_BATCHES_PAGE (widget)->stack)));
}

static void
bed_batches_page_constructed (GObject *object)
{
  BedBatchesPage *self = BED_BATCHES_PAGE (object);

  G_OBJECT_CLASS (bed_batches_page_parent_class)->constructed (object);
  self->browser = bed_browser_new (bed_page_get_farm (BED_PAGE (self)), &browser);
  self->log = bed_log_view_new (bed_page_get_farm (BED_PAGE (self)));
  self->stack = gtk_stack_new ();
  gtk_stack_add_child (GTK_STACK (self->stack), GTK_WIDGET (self->browser));
  gtk_stack_add_child (GTK_STACK (self->stack), GTK_WIDGET (self->log));
  bed_hide_unseen (GTK_WIDGET (self->browser));
  bed_hide_unseen (GTK_WIDGET (self->log));
  adw_bin_set_child (ADW_BIN (self), self->stack);
  bed_page_set_parts (BED_PAGE (self), bed_batch_detail_get_parts (BED_BATCH_DETAIL (
                                           bed_browser_get_detail (self->browser))));
  g_signal_connect_swapped (bed_browser_get_detail (self->browser), "log-opened",
                            G_CALLBACK (open_log), self);
  g_signal_connect_swapped (self->log, "left", G_CALLBACK (log_left_cb), self);
}

static void
bed_batches_page_class_init (BedBatchesPageClass *klass)
{
  BedPageClass *page_class = BED_PAGE_CLASS (klass);

  G_OBJECT_CLASS (klass)->constructed = bed_batches_page_constructed;
  GTK_WIDGET_CLASS (klass)->grab_focus = bed_batches_page_grab_focus;
  page_class->refresh = bed_batches_page_refresh;
  page_class->open_parts = bed_batches_page_open_parts;
  page_class->add = bed_batches_page_add;
  page_class->print = bed_batches_page_print;
  page_class->show_record = bed_batches_page_show_record;
  page_class->show_draft = bed_batches_page_show_draft;
  page_class->add_title = N_ ("New batch");
  page_class->print_title = N_ ("Print tags, guide or sheets");
  page_class->kinds = BED_KIND_BIT (BED_KIND_BATCH) | BED_KIND_BIT (BED_KIND_LOG);
  page_class->help
      = N_ ("A batch is what was inoculated together. Type the pattern from the sheet, choose the "
            "spawn, then the logs: felling and length once, and one diameter per Enter. Enter in "
            "the empty diameter saves the batch. The plan beside the form follows every key: "
            "rows, holes, the farthest point of the wood from any hole, spawn, wax and hours.\n\n"
            "Angle grinders need their guard, the side handle, and eye and ear protection; keep "
            "hot wax attended, away from water, and off the heat when it smokes; logs are heavy, "
            "and damp sawdust spawn is dusty with spores when it dries: ventilate. Follow the "
            "tools' instructions and the rules of the place.");
}

static void
bed_batches_page_init (BedBatchesPage *self)
{
}
