#include "app/woodlot/woodlot_page.h"

#include <glib/gi18n.h>

#include "app/desk/detail.h"
#include "app/desk/figure_answer.h"
#include "app/paper/paper_dialog.h"
#include "app/widgets/build.h"
#include "app/widgets/table_bar.h"
#include "app/woodlot/felling_detail.h"
#include "app/woodlot/spawn_detail.h"
#include "app/woodlot/stand_detail.h"
#include "app/woodlot/woodlot_forms.h"
#include "model/farm/say.h"
#include "science/units.h"

struct _BedWoodlotPage
{
  BedPartsPage parent_instance;
};

BED_DEFINE_TYPE (BedWoodlotPage, bed_woodlot_page, BED_TYPE_PARTS_PAGE)

/* --- the three tables ------------------------------------------------------------ */

/* How many of its bolts are inoculated, and how many wait. */
static void
show_bolts (GtkWidget *bar, BedRow *row)
{
  gint64 all = bed_row_int (row, "logs"), waiting = bed_row_int (row, "waiting");
  double share = all ? (double) waiting / (double) all : 0;
  double shares[BED_TABLE_BAR_PARTS] = { all ? 1 - share : 0, share, 0 };
  g_autofree char *words = bed_say (
      ngettext ("%d of %d bolt waits for spawn", "%d of %d bolts wait for spawn", (gulong) all),
      (int) waiting, (int) all);

  bed_table_bar_set (bar, shares, all ? words : _ ("No bolt or log of it is left"));
}

static const BedTableColumn felling_columns[] = {
  { .field = "code", .width = 6 },
  { .field = "felled_on", .title = N_ ("Felled") },
  { .column = "wood_name", .title = N_ ("Wood"), .width = 14 },
  { .column = "stand_name", .title = N_ ("Stand"), .width = 8, .from = 600 },
  { .field = "trees", .from = 700 },
  { .column = "waiting",
    .title = N_ ("Waiting"),
    .cell = BED_CELL_MEASURE,
    .measure = BED_MEASURE_COUNT },
  { .column = "waiting",
    .title = N_ ("Inoculated"),
    .cell = BED_CELL_DRAWN,
    .from = 440,
    .drawn_new = bed_table_bar_new,
    .drawn_show = show_bolts },
};

static const BedTableSpec felling_table = {
  .label = N_ ("Fellings"),
  .source = "felling_summary",
  .kind = BED_KIND_FELLING,
  .columns = felling_columns,
  .n_columns = G_N_ELEMENTS (felling_columns),
  .order = "felled_on DESC, id DESC",
  .search = "code || ' ' || wood_name || ' ' || coalesce (stand_name, supplier, '')",
  .kinds = BED_KIND_BIT (BED_KIND_FELLING) | BED_KIND_BIT (BED_KIND_LOG)
           | BED_KIND_BIT (BED_KIND_STAND) | BED_KIND_BIT (BED_KIND_WOOD),
};

static const BedTableColumn stand_columns[] = {
  { .field = "name" },
  { .field = "area" },
  { .field = "basal_area" },
};

static const BedTableSpec stand_table = {
  .label = N_ ("Stands"),
  .source = "stand",
  .kind = BED_KIND_STAND,
  .columns = stand_columns,
  .n_columns = G_N_ELEMENTS (stand_columns),
  .order = "name",
  .search = "name || ' ' || coalesce (grows, '')",
  .kinds = BED_KIND_BIT (BED_KIND_STAND),
};

/* What is left, in the measure its form is counted in. */
static char *
dup_left (BedFarm *farm, BedRow *row)
{
  if (bed_row_has (row, "pieces"))
    return bed_say ("%" G_GINT64_FORMAT, bed_row_int (row, "pieces_left"));
  if (bed_row_has (row, "mass"))
    return bed_measure_format_unit_rounded (BED_MEASURE_MASS, bed_farm_get_notation (farm), 2,
                                            bed_row_int (row, "mass_left"));
  return g_strdup ("");
}

static const BedTableColumn spawn_columns[] = {
  { .field = "code", .title = N_ ("Lot"), .width = 6 },
  { .column = "strain_name", .title = N_ ("Strain") },
  { .field = "use_by" },
  { .column = "mass_left", .title = N_ ("Left"), .cell = BED_CELL_CUSTOM, .dup_text = dup_left },
};

static const BedTableSpec spawn_table = {
  .label = N_ ("Spawn lots"),
  .source = "spawn_left",
  .kind = BED_KIND_SPAWN,
  .columns = spawn_columns,
  .n_columns = G_N_ELEMENTS (spawn_columns),
  .order = "received_on DESC, id DESC",
  .search = "code || ' ' || strain_name || ' ' || mushroom_name",
  .kinds = BED_KIND_BIT (BED_KIND_SPAWN) | BED_KIND_BIT (BED_KIND_SPAWN_USED)
           | BED_KIND_BIT (BED_KIND_SPAWN_GONE) | BED_KIND_BIT (BED_KIND_STRAIN)
           | BED_KIND_BIT (BED_KIND_MUSHROOM),
};

static const BedPagePart parts[] = {
  { .name = "fellings",
    .title = N_ ("Fellings"),
    .list
    = { .kind = BED_KIND_FELLING,
        .table = &felling_table,
        .empty
        = { "bed-woodlot-symbolic", N_ ("No tree felled yet"),
            N_ ("A felling says what was cut, where and when. Bolts are cut from it, and every "
                "log can be traced back to it."),
            N_ ("New felling"), "win.add" },
        .detail_new = bed_felling_detail_new,
        .detail_show = bed_felling_detail_show,
        .form_new = bed_felling_form_new } },
  { .name = "stands",
    .title = N_ ("Stands"),
    .list = { .kind = BED_KIND_STAND,
              .table = &stand_table,
              .empty = { "bed-woodlot-symbolic", N_ ("No stand yet"),
                         N_ ("A stand is a piece of woodland that bolts come from."),
                         N_ ("New stand"), "win.add" },
              .detail_new = bed_detail_new,
              .detail_show = bed_stand_detail_show,
              .form_new = bed_stand_form_new } },
  { .name = "spawn",
    .title = N_ ("Spawn"),
    .list = { .kind = BED_KIND_SPAWN,
              .table = &spawn_table,
              .empty = { "bed-picking-symbolic", N_ ("No spawn in store"),
                         N_ ("A spawn lot is one delivery of one strain, with its cost and "
                             "the day it must be used by."),
                         N_ ("New spawn lot"), "win.add" },
              .detail_new = bed_spawn_detail_new,
              .detail_show = bed_spawn_detail_show,
              .form_new = bed_spawn_form_new } },
  { .name = NULL },
};

/* --- the page ---------------------------------------------------------------------- */

static gboolean
show_figures (BedPartsPage *self, GError **error)
{
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  BedFigureAnswers got;

  if (!bed_figures_read_farm (farm, BED_FIGURE_LOGS_WAITING, BED_FIGURE_PIECES_LEFT, &got, error))
    return FALSE;
  BedPageFigure figures[] = {
    bed_figure_answer (farm, &got, BED_FIGURE_LOGS_WAITING, texts),
    bed_figure_answer (farm, &got, BED_FIGURE_DAYS_WAITING, texts),
    bed_figure_answer (farm, &got, BED_FIGURE_SPAWN_LEFT, texts),
    bed_figure_answer (farm, &got, BED_FIGURE_PIECES_LEFT, texts),
  };

  bed_page_set_figures (BED_PAGE (self), figures, G_N_ELEMENTS (figures));
  return TRUE;
}

static gint64
get_chosen (BedPartsPage *self, BedKind kind)
{
  return bed_browser_get_selected (bed_parts_page_get_list (self, kind));
}

static void
bed_woodlot_page_print (BedPage *page)
{
  BedPartsPage *self = BED_PARTS_PAGE (page);
  const char *seen = bed_parts_page_get_seen (self);
  gint64 spawn = strcmp (seen, "spawn") == 0 ? get_chosen (self, BED_KIND_SPAWN) : 0;
  gint64 felling = strcmp (seen, "fellings") == 0 ? get_chosen (self, BED_KIND_FELLING) : 0;
  BedPrintOffer offers[] = {
    { BED_PRINT_SPAWN, spawn },
    { BED_PRINT_TALLY, felling },
    { BED_PRINT_MEASURING, felling },
  };
  guint first = spawn ? 0 : 1;

  bed_paper_dialog_show (GTK_WIDGET (self), bed_page_get_farm (page), offers + first,
                         G_N_ELEMENTS (offers) - first);
}

static void
bed_woodlot_page_class_init (BedWoodlotPageClass *klass)
{
  BedPageClass *page_class = BED_PAGE_CLASS (klass);
  BedPartsPageClass *parts_class = BED_PARTS_PAGE_CLASS (klass);

  parts_class->parts = parts;
  parts_class->refresh_own = show_figures;
  page_class->print = bed_woodlot_page_print;
  page_class->print_title = N_ ("Print a field sheet or spawn labels");
  page_class->add_title = N_ ("New felling, stand or spawn lot");
  page_class->kinds = BED_KIND_BIT (BED_KIND_STAND) | BED_KIND_BIT (BED_KIND_FELLING)
                      | BED_KIND_BIT (BED_KIND_SPAWN);
}
