#include <glib/gi18n-lib.h>

#include "model/farm/names.h"
#include "model/farm/source.h"
#include "model/farm/value.h"
#include "print/label/labels_farm.h"
#include "science/units.h"
#include "tool/commands.h"
#include "tool/paper.h"

#define MOST_COPIES 1000

typedef struct
{
  char *batch, *stack, *area, *spawn, *lot;
  char **logs;
  gboolean stacks, list, json, test_page;
  char *mass, *price, *packed;
  char *sheet, *sheets;
  int start, copies;
  double offset_x, offset_y;
  char *output;
} Options;

static int
read_options (Options *o, int *argc, char ***argv)
{
  const GOptionEntry entries[] = {
    { "batch", 'b', 0, G_OPTION_ARG_STRING, &o->batch, N_ ("Tags for the logs of a batch"), "26A" },
    { "log", 'l', 0, G_OPTION_ARG_STRING_ARRAY, &o->logs,
      N_ ("Tags for logs: 26A-017-K, 26A-1..12, 26A-1 3 7 (repeat for more)"), N_ ("LOGS") },
    { "stack", 0, 0, G_OPTION_ARG_STRING, &o->stack, N_ ("The sign of a stack"), N_ ("NAME") },
    { "stacks", 0, 0, G_OPTION_ARG_NONE, &o->stacks, N_ ("The signs of all stacks"), NULL },
    { "area", 0, 0, G_OPTION_ARG_STRING, &o->area, N_ ("The signs of the stacks in an area"),
      N_ ("NAME") },
    { "spawn", 0, 0, G_OPTION_ARG_STRING, &o->spawn, N_ ("Labels for the bags of a spawn lot"),
      "S26-1" },
    { "lot", 0, 0, G_OPTION_ARG_STRING, &o->lot, N_ ("Labels for the crates of a lot"),
      "L260518-1-4" },
    { "mass", 0, 0, G_OPTION_ARG_STRING, &o->mass, N_ ("In one crate (default: the whole lot)"),
      N_ ("MASS") },
    { "price", 0, 0, G_OPTION_ARG_STRING, &o->price, N_ ("Printed on the crate"), N_ ("AMOUNT") },
    { "packed", 0, 0, G_OPTION_ARG_STRING, &o->packed,
      N_ ("Day of packing (default: when it was cooled, else picked)"), N_ ("DATE") },
    { "copies", 0, 0, G_OPTION_ARG_INT, &o->copies, N_ ("Of each label (default: 1)"), "N" },
    { "sheet", 0, 0, G_OPTION_ARG_STRING, &o->sheet, N_ ("The sheet of labels; see --list"),
      N_ ("KEY") },
    { "sheets", 0, 0, G_OPTION_ARG_FILENAME, &o->sheets,
      N_ ("Your own sheets, with the columns of data/label-sheets.csv"), "CSV" },
    { "start", 0, 0, G_OPTION_ARG_INT, &o->start, N_ ("First label used on the sheet"), "N" },
    { "offset-x", 0, 0, G_OPTION_ARG_DOUBLE, &o->offset_x, N_ ("Shift to the right, mm"), "MM" },
    { "offset-y", 0, 0, G_OPTION_ARG_DOUBLE, &o->offset_y, N_ ("Shift down, mm"), "MM" },
    { "list", 0, 0, G_OPTION_ARG_NONE, &o->list, N_ ("List the sheets there are"), NULL },
    { "json", 0, 0, G_OPTION_ARG_NONE, &o->json, N_ ("List them in JSON"), NULL },
    { "test-page", 0, 0, G_OPTION_ARG_NONE, &o->test_page,
      N_ ("The outline of the first label and a bar in it"), NULL },
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &o->output,
      N_ ("The file to write; - is standard output"), "X.pdf" },
    G_OPTION_ENTRY_NULL,
  };

  return bed_tool_options ("labels", entries, 1, argc, argv);
}

static gboolean
add_crate (BedLabels *labels, BedFarm *farm, const Options *o, GError **error)
{
  const BedNotation *notation = bed_farm_get_notation (farm);
  g_autofree char *packed = NULL;
  BedCrate crate = { 0 };

  if (o->packed && !(packed = bed_date_parse (o->packed, bed_farm_get_today (farm), error)))
    return FALSE;
  crate.packed = packed;
  crate.count = (guint) MAX (o->copies, 1);
  crate.lot = bed_farm_find (farm, BED_KIND_LOT, o->lot, error);
  return crate.lot
         && (!o->mass
             || bed_measure_parse (BED_MEASURE_MASS, notation, o->mass, &crate.mass, error))
         && (!o->price
             || bed_measure_parse (BED_MEASURE_MONEY, notation, o->price, &crate.price, error))
         && bed_labels_add_crate (labels, farm, &crate, error);
}

typedef gboolean (*Add) (BedLabels *labels, BedFarm *farm, gint64 id, GError **error);

/* Of the record called @name; nothing where none was asked for. */
static gboolean
add_named (BedLabels *labels, BedFarm *farm, BedKind kind, const char *name, Add add,
           GError **error)
{
  gint64 id = name ? bed_farm_find (farm, kind, name, error) : 0;

  return !name || (id && add (labels, farm, id, error));
}

static gboolean
add_logs (BedLabels *labels, BedFarm *farm, const char *names, GError **error)
{
  g_autoptr (GArray) logs = bed_source_find_logs (farm, names, error);

  for (guint i = 0; logs && i < logs->len; i++)
    if (!bed_labels_add_tag (labels, farm, g_array_index (logs, gint64, i), error))
      return FALSE;
  return logs != NULL;
}

/* Everything asked for but crates, once. */
static gboolean
add_labels (BedLabels *labels, BedFarm *farm, const Options *o, GError **error)
{
  if (!add_named (labels, farm, BED_KIND_BATCH, o->batch, bed_labels_add_batch_tags, error))
    return FALSE;
  for (guint i = 0; o->logs && o->logs[i]; i++)
    if (!add_logs (labels, farm, o->logs[i], error))
      return FALSE;
  return add_named (labels, farm, BED_KIND_STACK, o->stack, bed_labels_add_signs, error)
         && (!o->stacks || bed_labels_add_signs (labels, farm, 0, error))
         && add_named (labels, farm, BED_KIND_AREA, o->area, bed_labels_add_area_signs, error)
         && add_named (labels, farm, BED_KIND_SPAWN, o->spawn, bed_labels_add_spawn, error);
}

/* The given sheets or the user's own. */
static GPtrArray *
load_sheets (const Options *o, GError **error)
{
  g_autofree char *csv = NULL;

  if (!o->sheets)
    return bed_sheet_list_new ();
  return g_file_get_contents (o->sheets, &csv, NULL, error) ? bed_sheet_list_parse (csv, error)
                                                            : NULL;
}

static BedLabelUse
get_use (const Options *o)
{
  return o->lot                             ? BED_LABEL_CRATE
         : o->spawn                         ? BED_LABEL_SPAWN
         : o->stack || o->stacks || o->area ? BED_LABEL_SIGN
                                            : BED_LABEL_TAG;
}

static const BedSheet *
choose_sheet (GPtrArray *sheets, const Options *o, BedFarm *farm, GError **error)
{
  BedSystem system = bed_farm_get_notation (farm)->system;

  if (!o->sheet && o->sheets)
    return sheets->len ? sheets->pdata[0] : NULL;
  return bed_sheet_list_find (
      sheets, o->sheet ? o->sheet : bed_label_use_get_sheet (get_use (o), system), error);
}

/* Shown by PDF readers. */
static const char *
get_title (const Options *o)
{
  gboolean tags = o->batch || o->logs, signs = o->stack || o->stacks || o->area;

  if (tags + signs + (o->spawn != NULL) + (o->lot != NULL) != 1)
    return _ ("Labels");
  return tags     ? _ ("Log tags")
         : signs  ? _ ("Stack signs")
         : o->lot ? _ ("Crate labels")
                  : _ ("Spawn labels");
}

static BedDocument *
make_document (const Options *o, BedFarm *farm, GPtrArray *sheets, GError **error)
{
  const BedSheetPlace place = { (guint) MAX (o->start, 0), o->offset_x, o->offset_y };
  const BedSheet *sheet = choose_sheet (sheets, o, farm, error);
  g_autoptr (BedLabels) labels = bed_labels_new (get_title (o));

  if (!sheet)
    return NULL;
  if (o->test_page)
    return bed_sheet_test_page_new (sheet, &place, error);
  for (int copy = 0; copy < MAX (o->copies, 1); copy++)
    if (!add_labels (labels, farm, o, error))
      return NULL;
  if (o->lot && !add_crate (labels, farm, o, error))
    return NULL;
  return bed_labels_document_new (g_steal_pointer (&labels), sheet, &place, error);
}

static void
add_sheet (JsonBuilder *json, gconstpointer element, gpointer data)
{
  const BedSheet *sheet = element;

  bed_tool_json_text (json, "key", sheet->key);
  bed_tool_json_text (json, "name", sheet->name);
}

static int
list_sheets (GPtrArray *sheets)
{
  for (guint i = 0; i < sheets->len; i++)
    {
      const BedSheet *sheet = sheets->pdata[i];
      g_print ("%-18s %s\n", sheet->key, sheet->name);
    }
  return BED_EXIT_OK;
}

int
bed_cmd_labels (int argc, char **argv)
{
  static Options o;
  g_autoptr (GError) error = NULL;
  int code = read_options (&o, &argc, &argv);

  if (code)
    return code - 1;
  if (o.start < 0 || o.copies < 0 || o.copies > MOST_COPIES)
    return bed_tool_misused (_ ("--start and --copies count from 1; at most %d copies."),
                             MOST_COPIES);
  g_autoptr (GPtrArray) sheets = load_sheets (&o, &error);
  if (!sheets)
    return bed_tool_fail_paper (g_steal_pointer (&error));
  if (o.json)
    bed_tool_print_list (sheets, add_sheet, NULL);
  if (o.list || o.json)
    return o.json ? BED_EXIT_OK : list_sheets (sheets);
  if (!o.output)
    return bed_tool_misused (_ ("Say where the labels go: -o labels.pdf"));
  g_autoptr (BedFarm) farm = bed_tool_open (argv[1], &code);
  if (!farm)
    return code;
  BedDocument *document = make_document (&o, farm, sheets, &error);
  if (!document && error)
    return bed_tool_fail_paper (g_steal_pointer (&error));
  if (!document)
    return bed_tool_misused (_ ("There is no sheet in %s."), o.sheets);
  return bed_tool_write_pages (document, o.output, bed_farm_get_now (farm));
}
