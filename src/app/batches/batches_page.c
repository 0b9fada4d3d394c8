#include "app/batches/batches_page.h"

#include <glib/gi18n.h>

#include "app/batches/batch_cells.h"
#include "app/batches/batch_detail.h"
#include "app/batches/batch_form.h"
#include "app/batches/log_view.h"
#include "app/desk/batch_mark.h"
#include "app/host/host.h"
#include "app/paper/paper_dialog.h"
#include "app/widgets/build.h"
#include "model/farm/query.h"
#include "model/season/batch_glance.h"

struct _BedBatchesPage
{
  BedPartsPage parent_instance;
  BedLogView *log;
};

BED_DEFINE_TYPE (BedBatchesPage, bed_batches_page, BED_TYPE_PARTS_PAGE)

static const BedTableColumn columns[] = {
  { .column = "code",
    .title = N_ ("Batch"),
    .cell = BED_CELL_DRAWN,
    .width = 5,
    .drawn_new = bed_batch_cell_mark_new,
    .drawn_show = bed_batch_cell_mark_show },
  { .column = "wood_name", .title = N_ ("Wood"), .width = 10 },
  { .column = "strain_name", .title = N_ ("Strain"), .width = 10, .from = 760 },
  { .column = "inoculated_on",
    .title = N_ ("Life"),
    .cell = BED_CELL_DRAWN,
    .drawn_new = bed_batch_cell_life_new,
    .drawn_show = bed_batch_cell_life_show },
  { .column = "stage", .title = N_ ("Stage"), .cell = BED_CELL_STAGE, .width = 9 },
  { .column = "logs_alive",
    .title = N_ ("Logs"),
    .cell = BED_CELL_MEASURE,
    .measure = BED_MEASURE_COUNT },
  { .column = "picked",
    .title = N_ ("Picked"),
    .cell = BED_CELL_MEASURE,
    .measure = BED_MEASURE_MASS,
    .decimals = 1,
    .from = 600 },
  { .column = "picked",
    .title = N_ ("Weeks"),
    .cell = BED_CELL_DRAWN,
    .from = 440,
    .drawn_new = bed_batch_cell_weeks_new,
    .drawn_show = bed_batch_cell_weeks_show },
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
        "first step is the felling that its bolts are cut from."),
    N_ ("Go to the woodlot"),
    "win.page::woodlot",
  };
  static const BedEmpty no_spawn = {
    "bed-batches-symbolic",
    N_ ("No batch yet"),
    N_ ("The felling is entered. The next step is the spawn lot for it: the third part of the "
        "woodlot."),
    N_ ("Go to the woodlot"),
    "win.page::woodlot",
  };

  if (!bed_farm_count (farm, BED_KIND_FELLING))
    return &no_felling;
  return bed_farm_count (farm, BED_KIND_SPAWN) ? NULL : &no_spawn;
}

static BedBrowser *
get_batches (BedBatchesPage *self)
{
  return bed_parts_page_get_list (BED_PARTS_PAGE (self), BED_KIND_BATCH);
}

static BedBatchDetail *
get_detail (BedBatchesPage *self)
{
  return BED_BATCH_DETAIL (bed_browser_get_detail (get_batches (self)));
}

static gboolean
is_log_seen (BedBatchesPage *self)
{
  return strcmp (bed_parts_page_get_seen (BED_PARTS_PAGE (self)), "log") == 0;
}

static void
open_log (BedBatchesPage *self, gint64 log)
{
  bed_parts_page_see (BED_PARTS_PAGE (self), "log");
  bed_log_view_show (self->log, log);
}

/* Back to the log's line in its batch. */
static void
log_left_cb (BedBatchesPage *self)
{
  bed_parts_page_see (BED_PARTS_PAGE (self), "batches");
  bed_batch_detail_show_log (get_detail (self), bed_log_view_get_log (self->log));
}

/* The log. */
static gboolean
refresh_own (BedPartsPage *page, GError **error)
{
  BedBatchesPage *self = BED_BATCHES_PAGE (page);

  return !is_log_seen (self) || bed_log_view_refresh (self->log, error);
}

/* --- what comes late ---------------------------------------------------------------- */

static gboolean
show_seen_part (BedPage *page, GError **error)
{
  return bed_batch_detail_show_whole (get_detail (BED_BATCHES_PAGE (page)), error);
}

static gboolean
show_marks (BedPage *page, GError **error)
{
  if (!bed_batch_mark_read (bed_page_get_farm (page), error))
    return FALSE;
  bed_browser_show_rows (get_batches (BED_BATCHES_PAGE (page)));
  return TRUE;
}

/* What the list draws of picks and losses of every batch. */
static gboolean
show_glances (BedPage *page, GError **error)
{
  if (!bed_batch_glances_get (bed_page_get_farm (page), error))
    return FALSE;
  bed_browser_show_rows (get_batches (BED_BATCHES_PAGE (page)));
  return TRUE;
}

static const BedPageRead late[] = { show_seen_part, show_marks, show_glances, NULL };

/* --- a page -------------------------------------------------------------------------- */

static void
bed_batches_page_print (BedPage *page)
{
  BedBatchesPage *self = BED_BATCHES_PAGE (page);
  gint64 batch = bed_browser_get_selected (get_batches (self));
  BedPrintOffer tag = { BED_PRINT_TAG, bed_log_view_get_log (self->log) };
  BedPrintOffer blank = { BED_PRINT_INOCULATION, 0 };
  BedPrintOffer offers[] = {
    { BED_PRINT_TAGS, batch },       { BED_PRINT_GUIDE, batch },
    { BED_PRINT_GUIDE_BARK, batch }, { BED_PRINT_INOCULATION, batch },
    { BED_PRINT_WEIGHING, batch },
  };

  if (is_log_seen (self))
    bed_paper_dialog_show (GTK_WIDGET (page), bed_page_get_farm (page), &tag, 1);
  else if (batch)
    bed_paper_dialog_show (GTK_WIDGET (page), bed_page_get_farm (page), offers,
                           G_N_ELEMENTS (offers));
  else
    bed_paper_dialog_show (GTK_WIDGET (page), bed_page_get_farm (page), &blank, 1);
}

static void
bed_batches_page_show_record (BedPage *page, BedKind kind, gint64 id)
{
  BedFarm *farm = bed_page_get_farm (page);
  g_autoptr (GError) error = NULL;
  gint64 batch = id;

  if (kind == BED_KIND_LOG
      && !bed_query_one (farm, "SELECT batch FROM log WHERE id = ?1", id, &batch, &error))
    bed_host_say_error (GTK_WIDGET (page), error);
  if (batch)
    BED_PAGE_CLASS (bed_batches_page_parent_class)->show_record (page, BED_KIND_BATCH, batch);
  if (kind == BED_KIND_LOG)
    open_log (BED_BATCHES_PAGE (page), id);
}

static gint64
bed_batches_page_get_record (BedPage *page, BedKind *kind)
{
  BedBatchesPage *self = BED_BATCHES_PAGE (page);

  if (!is_log_seen (self))
    return BED_PAGE_CLASS (bed_batches_page_parent_class)->get_record (page, kind);
  *kind = BED_KIND_LOG;
  return bed_log_view_get_log (self->log);
}

static void
bed_batches_page_open_parts (BedPage *page)
{
  bed_parts_page_see (BED_PARTS_PAGE (page), "batches");
  bed_batch_detail_open_parts (get_detail (BED_BATCHES_PAGE (page)));
  bed_browser_show_detail (get_batches (BED_BATCHES_PAGE (page)));
}

static GtkWidget *
make_log (BedPartsPage *page)
{
  BedBatchesPage *self = BED_BATCHES_PAGE (page);

  self->log = bed_log_view_new (bed_page_get_farm (BED_PAGE (page)));
  g_signal_connect_swapped (self->log, "left", G_CALLBACK (log_left_cb), self);
  return GTK_WIDGET (self->log);
}

/* One reads down the list first; the parts of the chosen batch have the keys. */
static GtkWidget *
bed_batches_page_make (BedPage *page)
{
  BedBatchesPage *self = BED_BATCHES_PAGE (page);
  GtkWidget *made = BED_PAGE_CLASS (bed_batches_page_parent_class)->make (page);

  bed_page_set_parts (page, bed_batch_detail_get_parts (get_detail (self)));
  g_signal_connect_swapped (get_detail (self), "log-opened", G_CALLBACK (open_log), self);
  return made;
}

static const BedPagePart parts[] = {
  { .name = "batches",
    .list
    = { .kind = BED_KIND_BATCH,
        .table = &table,
        .empty
        = { "bed-batches-symbolic", N_ ("No batch yet"),
            N_ ("Felling and spawn are entered. A batch brings them together: type the pattern, "
                "choose the spawn, then a diameter and Enter for each log."),
            N_ ("New batch"), "win.add" },
        .find_first_step = find_first_step,
        .detail_new = bed_batch_detail_new,
        .detail_show = bed_batch_detail_show,
        .form_new = bed_batch_form_new } },
  { .name = "log", .make = make_log },
  { .name = NULL },
};

static void
bed_batches_page_class_init (BedBatchesPageClass *klass)
{
  BedPageClass *page_class = BED_PAGE_CLASS (klass);
  BedPartsPageClass *parts_class = BED_PARTS_PAGE_CLASS (klass);

  parts_class->parts = parts;
  parts_class->refresh_own = refresh_own;
  page_class->make = bed_batches_page_make;
  page_class->refresh_late = late;
  page_class->open_parts = bed_batches_page_open_parts;
  page_class->print = bed_batches_page_print;
  page_class->show_record = bed_batches_page_show_record;
  page_class->get_record = bed_batches_page_get_record;
  page_class->add_title = N_ ("New batch");
  page_class->print_title = N_ ("Print tags, guide or sheets");
  page_class->kinds = BED_KIND_BIT (BED_KIND_BATCH) | BED_KIND_BIT (BED_KIND_LOG);
}
