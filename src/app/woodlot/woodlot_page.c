#include "app/woodlot/woodlot_page.h"

#include <glib/gi18n.h>

#include "app/desk/browser.h"
#include "app/desk/page_parts.h"
#include "app/paper/paper_dialog.h"
#include "app/widgets/compat.h"
#include "app/woodlot/felling_detail.h"
#include "app/woodlot/stand_detail.h"
#include "app/woodlot/woodlot_forms.h"
#include "model/farm/query.h"
#include "science/units.h"

enum
{
  FELLINGS,
  STANDS,
  SPAWN,
  N_TABS
};

struct _BedWoodlotPage
{
  BedPage parent_instance;
  GtkWidget *stack;
  BedFigures *figures;
  BedBrowser *browsers[N_TABS];
};

G_DEFINE_FINAL_TYPE (BedWoodlotPage, bed_woodlot_page, BED_TYPE_PAGE)

/* --- the three tables ------------------------------------------------------------ */

static const BedTableColumn felling_columns[] = {
  { .field = "code", .width = 6 },
  { .field = "felled_on", .title = N_ ("Felled") },
  { .column = "wood_name", .title = N_ ("Wood") },
  { .column = "waiting",
    .title = N_ ("Waiting"),
    .cell = BED_CELL_MEASURE,
    .measure = BED_MEASURE_COUNT },
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
  { .field = "area", .decimals = 2 },
  { .field = "basal_area", .decimals = 1 },
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
    return g_strdup_printf ("%" G_GINT64_FORMAT, bed_row_int (row, "pieces_left"));
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
           | BED_KIND_BIT (BED_KIND_STRAIN) | BED_KIND_BIT (BED_KIND_MUSHROOM),
};

static const struct
{
  const char *name;
  const char *title;
  BedBrowserSpec browser;
} tabs[N_TABS] = {
  [FELLINGS] = { "fellings",
                 N_ ("Fellings"),
                 { .kind = BED_KIND_FELLING,
                   .table = &felling_table,
                   .empty = { "bed-woodlot-symbolic", N_ ("No tree felled yet"),
                              N_ ("A felling says what was cut, where and when. Logs are cut "
                                  "from it, and every log remembers it."),
                              N_ ("New felling"), "win.add" },
                   .detail_new = bed_felling_detail_new,
                   .detail_show = bed_felling_detail_show,
                   .form_new = bed_felling_form_new } },
  [STANDS] = { "stands",
               N_ ("Stands"),
               { .kind = BED_KIND_STAND,
                 .table = &stand_table,
                 .empty = { "bed-woodlot-symbolic", N_ ("No stand yet"),
                            N_ ("A stand is a piece of woodland that logs come from."),
                            N_ ("New stand"), "win.add" },
                 .detail_new = bed_stand_detail_new,
                 .detail_show = bed_stand_detail_show,
                 .form_new = bed_stand_form_new } },
  [SPAWN] = { "spawn",
              N_ ("Spawn"),
              { .kind = BED_KIND_SPAWN,
                .table = &spawn_table,
                .empty = { "bed-picking-symbolic", N_ ("No spawn in store"),
                           N_ ("A spawn lot is one delivery of one strain, with its cost and "
                               "the day it must be used by."),
                           N_ ("New spawn lot"), "win.add" },
                .form_new = bed_spawn_form_new } },
};

/* --- the page ---------------------------------------------------------------------- */

static int
get_tab (BedWoodlotPage *self)
{
  const char *name = gtk_stack_get_visible_child_name (GTK_STACK (self->stack));

  for (int i = 0; i < N_TABS; i++)
    if (g_strcmp0 (tabs[i].name, name) == 0)
      return i;
  return FELLINGS;
}

static void
show_figures (BedWoodlotPage *self)
{
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));
  gint64 waiting = bed_query_one (farm, "SELECT sum (waiting) FROM felling_summary", 0);
  gint64 oldest = bed_query_one (farm,
                                 "SELECT max (age_days) FROM felling_summary"
                                 " WHERE waiting > 0",
                                 0);
  gint64 spawn = bed_query_one (farm,
                                "SELECT sum (mass_left) FROM spawn_left"
                                " WHERE mass_left > 0",
                                0);
  gint64 pieces = bed_query_one (farm,
                                 "SELECT sum (pieces_left) FROM spawn_left"
                                 " WHERE pieces_left > 0",
                                 0);
  const BedNotation *notation = bed_farm_get_notation (farm);
  g_autofree char *bolts = g_strdup_printf ("%" G_GINT64_FORMAT, waiting);
  g_autofree char *days = waiting ? g_strdup_printf ("%" G_GINT64_FORMAT, oldest) : NULL;
  g_autofree char *mass = bed_measure_format_rounded (BED_MEASURE_MASS, notation, 1, spawn);
  g_autofree char *dowels = g_strdup_printf ("%" G_GINT64_FORMAT, pieces);
  BedPageFigure figures[] = {
    { bolts, NULL, bed_count_words (bolts, N_ ("log waiting"), N_ ("logs waiting")) },
    { days, _ ("days"), _ ("since felling") },
    { mass, bed_measure_unit (BED_MEASURE_MASS, notation->system), _ ("spawn in store") },
    { dowels, NULL, bed_count_words (dowels, N_ ("piece in store"), N_ ("pieces in store")) },
  };

  bed_figures_set (self->figures, figures, G_N_ELEMENTS (figures));
}

static void
bed_woodlot_page_refresh (BedPage *page, guint64 kinds)
{
  BedWoodlotPage *self = BED_WOODLOT_PAGE (page);

  show_figures (self);
  for (int i = 0; i < N_TABS; i++)
    bed_browser_refresh (self->browsers[i]);
}

static void
bed_woodlot_page_add (BedPage *page)
{
  BedWoodlotPage *self = BED_WOODLOT_PAGE (page);

  bed_browser_add (self->browsers[get_tab (self)], NULL);
}

static int
show_tab_of (BedWoodlotPage *self, BedKind kind)
{
  int at = FELLINGS;

  for (int i = 0; i < N_TABS; i++)
    if (tabs[i].browser.kind == kind)
      at = i;
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), tabs[at].name);
  return at;
}

static void
bed_woodlot_page_print (BedPage *page)
{
  BedWoodlotPage *self = BED_WOODLOT_PAGE (page);
  BedBrowser *browser = self->browsers[get_tab (self)];
  BedKind kind = tabs[get_tab (self)].browser.kind;
  gint64 id = bed_browser_get_selected (browser);
  gint64 felling = kind == BED_KIND_FELLING ? id : 0;
  BedPrintOffer offers[] = {
    { BED_PRINT_SPAWN, id },
    { BED_PRINT_TALLY, felling },
    { BED_PRINT_MEASURING, felling },
  };
  guint first = kind == BED_KIND_SPAWN && id ? 0 : 1;

  bed_paper_dialog_show (GTK_WIDGET (self), bed_page_get_farm (page), offers + first,
                         G_N_ELEMENTS (offers) - first);
}

static void
bed_woodlot_page_show_record (BedPage *page, BedKind kind, gint64 id)
{
  BedWoodlotPage *self = BED_WOODLOT_PAGE (page);

  bed_browser_show (self->browsers[show_tab_of (self, kind)], id);
}

static void
bed_woodlot_page_show_draft (BedPage *page, BedRecord *draft, const char *logs)
{
  BedWoodlotPage *self = BED_WOODLOT_PAGE (page);

  bed_browser_add (self->browsers[show_tab_of (self, bed_record_get_kind (draft))], draft);
}

static void
bed_woodlot_page_constructed (GObject *object)
{
  BedWoodlotPage *self = BED_WOODLOT_PAGE (object);
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));

  G_OBJECT_CLASS (bed_woodlot_page_parent_class)->constructed (object);
  for (int i = 0; i < N_TABS; i++)
    {
      self->browsers[i] = bed_browser_new (farm, &tabs[i].browser);
      gtk_stack_add_titled (GTK_STACK (self->stack), GTK_WIDGET (self->browsers[i]), tabs[i].name,
                            _ (tabs[i].title));
      bed_hide_unseen (GTK_WIDGET (self->browsers[i]));
    }
}

static void
bed_woodlot_page_class_init (BedWoodlotPageClass *klass)
{
  BedPageClass *page_class = BED_PAGE_CLASS (klass);

  G_OBJECT_CLASS (klass)->constructed = bed_woodlot_page_constructed;
  page_class->refresh = bed_woodlot_page_refresh;
  page_class->add = bed_woodlot_page_add;
  page_class->show_record = bed_woodlot_page_show_record;
  page_class->show_draft = bed_woodlot_page_show_draft;
  page_class->print = bed_woodlot_page_print;
  page_class->print_title = N_ ("Print a field sheet or spawn labels");
  page_class->add_title = N_ ("New felling, stand or spawn lot");
  page_class->kinds = BED_KIND_BIT (BED_KIND_STAND) | BED_KIND_BIT (BED_KIND_FELLING)
                      | BED_KIND_BIT (BED_KIND_SPAWN);
  page_class->help
      = N_ ("What there is to make batches of. Enter a stand once, a felling each time trees "
            "are cut or logs are bought, and a spawn lot when it arrives. Ctrl+N adds to the "
            "list that is open.\n\nFelling is dangerous work. Whoever does it must be trained "
            "and equipped for it and must keep to the rules of the place; get help where a tree "
            "leans, is hung up, is dead or stands near a line or a road. Do not eat wild "
            "mushrooms that come up on logs: some that kill look like the one you planted.");
}

static void
bed_woodlot_page_init (BedWoodlotPage *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  self->figures = bed_figures_new ();
  self->stack = gtk_stack_new ();
  gtk_widget_set_vexpand (self->stack, TRUE);
  gtk_box_append (GTK_BOX (box),
                  bed_page_head_new (self->figures, bed_page_switch_new (GTK_STACK (self->stack))));
  gtk_box_append (GTK_BOX (box), self->stack);
  adw_bin_set_child (ADW_BIN (self), box);
  bed_page_set_parts (BED_PAGE (self), GTK_STACK (self->stack));
}
