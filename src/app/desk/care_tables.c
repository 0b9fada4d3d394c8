#include "app/desk/care_tables.h"

#include <glib/gi18n.h>

#include "model/farm/kinds.h"

/* The first of @kinds, whose references are named like them, that is set: the nearest. */
static char *
dup_first (BedFarm *farm, BedRow *row, const BedKind *kinds, guint n)
{
  for (guint i = 0; i < n; i++)
    {
      const char *column = bed_kind_get_info (kinds[i])->name;

      if (bed_row_has (row, column))
        return bed_farm_dup_name (farm, kinds[i], bed_row_int (row, column));
    }
  return NULL;
}

#define DUP_FIRST(name, ...)                                                                       \
  static char *name (BedFarm *farm, BedRow *row)                                                   \
  {                                                                                                \
    static const BedKind kinds[] = { __VA_ARGS__ };                                                \
                                                                                                   \
    return dup_first (farm, row, kinds, G_N_ELEMENTS (kinds));                                     \
  }

DUP_FIRST (dup_of_weighing, BED_KIND_LOG)
DUP_FIRST (dup_of_check, BED_KIND_LOG, BED_KIND_STACK, BED_KIND_BATCH)
DUP_FIRST (dup_of_disc, BED_KIND_BATCH, BED_KIND_FELLING)
DUP_FIRST (dup_of_watering, BED_KIND_STACK, BED_KIND_AREA)

/* The same in SQL, to sort by and to filter. */
#define LOG "(SELECT code FROM log x WHERE x.id = log)"
#define STACK "(SELECT name FROM stack x WHERE x.id = stack)"
#define BATCH "(SELECT code FROM batch x WHERE x.id = batch)"
#define FELLING "(SELECT code FROM felling x WHERE x.id = felling)"
#define AREA "(SELECT name FROM area x WHERE x.id = area)"
#define OF_CHECK "coalesce (" LOG ", " STACK ", " BATCH ")"
#define OF_DISC "coalesce (" BATCH ", " FELLING ")"
#define OF_WATERING "coalesce (" STACK ", " AREA ")"
#define OF_WHAT(head, dup, sql)                                                                    \
  {                                                                                                \
    .column = "id", .title = head, .cell = BED_CELL_CUSTOM, .dup_text = dup, .order = sql,         \
    .width = 10                                                                                    \
  }

static const BedTableColumn weighing_columns[] = {
  { .field = "weighed_on", .title = N_ ("Weighed") },
  OF_WHAT (N_ ("Log"), dup_of_weighing, LOG),
  { .field = "mass" },
  { .field = "notes" },
};

const BedTableSpec bed_care_weighings = {
  .label = N_ ("Weighings"),
  .source = "weighing",
  .kind = BED_KIND_WEIGHING,
  .columns = weighing_columns,
  .n_columns = G_N_ELEMENTS (weighing_columns),
  .order = "weighed_on DESC, id DESC",
  .search = LOG " || ' ' || weighed_on || ' ' || coalesce (notes, '')",
  .kinds = BED_KIND_BIT (BED_KIND_WEIGHING) | BED_KIND_BIT (BED_KIND_LOG),
  .empty = N_ ("Not weighed yet"),
};

static const BedTableColumn check_columns[] = {
  { .field = "checked_on", .title = N_ ("Checked") },
  OF_WHAT (N_ ("Of"), dup_of_check, OF_CHECK),
  { .field = "colonised", .title = N_ ("Colonised") },
  { .field = "bark", .width = 7 },
  { .field = "weed" },
  { .field = "severity", .width = 7 },
};

const BedTableSpec bed_care_checks = {
  .label = N_ ("Checks"),
  .source = "check",
  .kind = BED_KIND_CHECK,
  .columns = check_columns,
  .n_columns = G_N_ELEMENTS (check_columns),
  .order = "checked_on DESC, id DESC",
  .search = OF_CHECK " || ' ' || checked_on || ' ' || coalesce (bed_choice_word ('check', 'weed',"
                     " weed), '') || ' ' || coalesce (animals, '') || ' ' || coalesce (action, '')"
                     " || ' ' || coalesce (notes, '')",
  .kinds = BED_KIND_BIT (BED_KIND_CHECK) | BED_KIND_BIT (BED_KIND_LOG)
           | BED_KIND_BIT (BED_KIND_BATCH) | BED_KIND_BIT (BED_KIND_STACK),
  .empty = N_ ("Not checked yet"),
};

static const BedTableColumn disc_columns[] = {
  { .field = "cut_on", .title = N_ ("Cut") },
  OF_WHAT (N_ ("Of"), dup_of_disc, OF_DISC),
  { .field = "fresh_mass" },
  { .field = "dry_mass", .title = N_ ("Oven-dry") },
};

const BedTableSpec bed_care_discs = {
  .label = N_ ("Sample discs"),
  .source = "disc",
  .kind = BED_KIND_DISC,
  .columns = disc_columns,
  .n_columns = G_N_ELEMENTS (disc_columns),
  .order = "cut_on DESC, id DESC",
  .search = OF_DISC " || ' ' || cut_on",
  .kinds = BED_KIND_BIT (BED_KIND_DISC) | BED_KIND_BIT (BED_KIND_BATCH)
           | BED_KIND_BIT (BED_KIND_FELLING),
  .empty = N_ ("No disc cut yet"),
};

static const BedTableColumn watering_columns[] = {
  { .field = "watered_on", .title = N_ ("Watered") },
  OF_WHAT (N_ ("What"), dup_of_watering, OF_WATERING),
  { .field = "method" },
  { .field = "minutes" },
};

const BedTableSpec bed_care_waterings = {
  .label = N_ ("Waterings"),
  .source = "watering",
  .kind = BED_KIND_WATERING,
  .columns = watering_columns,
  .n_columns = G_N_ELEMENTS (watering_columns),
  .order = "watered_on DESC, id DESC",
  .search = OF_WATERING " || ' ' || watered_on",
  .kinds = BED_KIND_BIT (BED_KIND_WATERING) | BED_KIND_BIT (BED_KIND_STACK)
           | BED_KIND_BIT (BED_KIND_AREA),
  .empty = N_ ("Not watered yet"),
};
