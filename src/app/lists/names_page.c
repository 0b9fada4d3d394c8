#include "app/lists/names_page.h"

#include <glib/gi18n.h>

#include "app/lists/supplier_names.h"
#include "app/widgets/build.h"

struct _BedNamesPage
{
  BedPartsPage parent_instance;
};

BED_DEFINE_TYPE (BedNamesPage, bed_names_page, BED_TYPE_PARTS_PAGE)

#define TABLE(name, KIND, words, by, found)                                                        \
  static const BedTableSpec name##_table = {                                                       \
    .label = words,                                                                                \
    .source = #name,                                                                               \
    .kind = BED_KIND_##KIND,                                                                       \
    .columns = name##_columns,                                                                     \
    .n_columns = G_N_ELEMENTS (name##_columns),                                                    \
    .order = by,                                                                                   \
    .search = found,                                                                               \
  }

static const BedTableColumn wood_columns[] = {
  { .field = "common_name" },
  { .field = "latin_name" },
};
TABLE (wood, WOOD, N_ ("Woods"), "common_name", "common_name || ' ' || coalesce (latin_name, '')");

static const BedTableColumn mushroom_columns[] = {
  { .field = "common_name" },
  { .field = "latin_name" },
};
TABLE (mushroom, MUSHROOM, N_ ("Mushrooms"), "common_name", "common_name || ' ' || latin_name");

static const BedTableColumn strain_columns[] = {
  { .field = "name" },
  { .field = "type" },
};
TABLE (strain, STRAIN, N_ ("Strains"), "name",
       "name || ' ' || (SELECT common_name FROM mushroom m WHERE m.id = mushroom) || ' '"
       " || coalesce (bed_choice_word ('strain', 'type', type), '')");

static const BedTableColumn buyer_columns[] = {
  { .field = "name" },
  { .field = "kind" },
};
TABLE (buyer, BUYER, N_ ("Buyers"), "name",
       "name || ' ' || coalesce (bed_choice_word ('buyer', 'kind', kind), '') || ' '"
       " || coalesce (contact, '')");

static const BedTableColumn area_columns[] = {
  { .field = "name" },
  { .field = "shade" },
};
TABLE (area, AREA, N_ ("Areas"), "name", "name || ' ' || coalesce (notes, '')");

static char *
dup_area (BedFarm *farm, BedRow *row)
{
  return bed_farm_dup_name (farm, BED_KIND_AREA, bed_row_int (row, "area"));
}

#define AREA_NAME "(SELECT name FROM area x WHERE x.id = area)"
#define OF_AREA                                                                                    \
  {                                                                                                \
    .column = "area", .title = N_ ("Area"), .cell = BED_CELL_CUSTOM, .dup_text = dup_area,         \
    .order = AREA_NAME                                                                             \
  }

static const BedTableColumn stack_columns[] = {
  { .field = "name" },
  OF_AREA,
  { .field = "taken_down_on", .title = N_ ("Taken down") },
};
TABLE (stack, STACK, N_ ("Stacks"), "name",
       "name || ' ' || " AREA_NAME " || ' ' || bed_choice_word ('stack', 'kind', kind)");

static const BedTableColumn feature_columns[] = {
  { .field = "kind", .width = 10 },
  { .field = "label" },
  OF_AREA,
};
TABLE (feature, FEATURE, N_ ("Trees, paths, water"), "kind, label, id",
       "coalesce (label, '') || ' ' || bed_choice_word ('feature', 'kind', kind) || ' '"
       " || " AREA_NAME);

static const BedTableColumn log_columns[] = {
  { .field = "code", .width = 10 },
  { .field = "mark", .width = 6 },
  { .field = "small_diameter", .title = N_ ("Diameter") },
  { .field = "retired_on", .title = N_ ("Retired") },
};
TABLE (log, LOG, N_ ("Logs"), "code",
       "code || ' ' || coalesce (mark, '') || ' ' || coalesce (notes, '')");

#define EMPTY(title, text, button)                                                                 \
  {                                                                                                \
    "bed-names-symbolic", title, text, button, "win.add"                                           \
  }

static GtkWidget *
make_suppliers (BedPartsPage *page)
{
  return bed_supplier_names_new (bed_page_get_farm (BED_PAGE (page)));
}

static const BedPagePart parts[] = {
  { .name = "woods",
    .title = N_ ("Woods"),
    .list
    = { .kind = BED_KIND_WOOD,
        .table = &wood_table,
        .empty = EMPTY (
            N_ ("No wood"),
            N_ ("The kinds of tree that bolts are cut from, with what is known of their wood."),
            N_ ("New wood")) } },
  { .name = "mushrooms",
    .title = N_ ("Mushrooms"),
    .list = { .kind = BED_KIND_MUSHROOM,
              .table = &mushroom_table,
              .empty = EMPTY (N_ ("No mushroom"), N_ ("What is grown on the logs."),
                              N_ ("New mushroom")) } },
  { .name = "strains",
    .title = N_ ("Strains"),
    .list = { .kind = BED_KIND_STRAIN,
              .table = &strain_table,
              .empty = EMPTY (N_ ("No strain"),
                              N_ ("A strain says when it fruits, how long its spawn runs and how "
                                  "long it rests."),
                              N_ ("New strain")) } },
  { .name = "buyers",
    .title = N_ ("Buyers"),
    .list = { .kind = BED_KIND_BUYER,
              .table = &buyer_table,
              .empty = EMPTY (N_ ("No buyer yet"), N_ ("Who buys, and how to reach them."),
                              N_ ("New buyer")) } },
  { .name = "suppliers", .title = N_ ("Suppliers"), .make = make_suppliers },
  { .name = "areas",
    .title = N_ ("Areas"),
    .list
    = { .kind = BED_KIND_AREA,
        .table = &area_table,
        .empty = EMPTY (N_ ("No area yet"), N_ ("The shaded pieces of ground where logs lie."),
                        N_ ("New area")) } },
  { .name = "stacks",
    .title = N_ ("Stacks"),
    .list = { .kind = BED_KIND_STACK,
              .table = &stack_table,
              .empty = EMPTY (N_ ("No stack yet"),
                              N_ ("All stacks there ever were; they are built in the yard."),
                              N_ ("New stack")) } },
  { .name = "features",
    .title = N_ ("Ground"),
    .list = { .kind = BED_KIND_FEATURE,
              .table = &feature_table,
              .empty = EMPTY (N_ ("Nothing on the ground yet"),
                              N_ ("Trees, paths, water and buildings; they are drawn in the yard."),
                              N_ ("New feature")) } },
  { .name = "logs",
    .title = N_ ("Logs"),
    .list = { .kind = BED_KIND_LOG,
              .table = &log_table,
              .empty = EMPTY (N_ ("No log yet"),
                              N_ ("Every log there is or was, whichever batch it is of. They are "
                                  "entered with their batch."),
                              N_ ("New log")) } },
  { .name = NULL },
};

static void
bed_names_page_class_init (BedNamesPageClass *klass)
{
  BedPageClass *page_class = BED_PAGE_CLASS (klass);

  BED_PARTS_PAGE_CLASS (klass)->parts = parts;
  page_class->add_title = N_ ("New name in the list that is open");
  page_class->kinds = BED_KIND_BIT (BED_KIND_WOOD) | BED_KIND_BIT (BED_KIND_MUSHROOM)
                      | BED_KIND_BIT (BED_KIND_STRAIN) | BED_KIND_BIT (BED_KIND_BUYER)
                      | BED_KIND_BIT (BED_KIND_FEATURE);
}
