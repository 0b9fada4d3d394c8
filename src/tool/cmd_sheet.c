#include <glib/gi18n-lib.h>

#include "model/farm/names.h"
#include "model/farm/value.h"
#include "print/field/field_sheet_farm.h"
#include "tool/commands.h"
#include "tool/paper.h"

#define DEFAULT_ROWS 3
#define MOST_ROWS 1000

typedef struct
{
  char *batch, *felling, *stack, *day;
  char *paper, *output;
  int rows;
} Options;

static int
read_options (Options *o, int *argc, char ***argv)
{
  const GOptionEntry entries[] = {
    { "batch", 'b', 0, G_OPTION_ARG_STRING, &o->batch, N_ ("About the logs of a batch"), "26A" },
    { "felling", 0, 0, G_OPTION_ARG_STRING, &o->felling, N_ ("About a felling"), "F26-1" },
    { "stack", 0, 0, G_OPTION_ARG_STRING, &o->stack, N_ ("Log by log of a stack"), N_ ("NAME") },
    { "day", 'd', 0, G_OPTION_ARG_STRING, &o->day, N_ ("Of a plan: for which day"), "2026-11-30" },
    { "rows", 'r', 0, G_OPTION_ARG_INT, &o->rows, N_ ("Empty lines, at least (default: 3)"), "N" },
    { "paper", 'p', 0, G_OPTION_ARG_STRING, &o->paper, N_ ("a4 or letter"), N_ ("PAPER") },
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &o->output,
      N_ ("The file to write; - is standard output"), "X.pdf" },
    G_OPTION_ENTRY_NULL,
  };

  return bed_tool_options ("sheet", entries, 2, argc, argv);
}

static int
unknown_kind (const char *name)
{
  g_autoptr (GString) names = g_string_new (NULL);

  for (BedPaperKind kind = 0; kind < BED_N_PAPERS; kind++)
    g_string_append_printf (names, "%s%s", kind ? ", " : "", bed_paper_get_form (kind)->name);
  return bed_tool_misused (_ ("There is no sheet “%s”. There are: %s."), name, names->str);
}

/* A subject that was not named stays 0. */
static gboolean
find (BedFarm *farm, BedKind kind, const char *name, gint64 *id, GError **error)
{
  *id = name ? bed_farm_find (farm, kind, name, error) : 0;
  return !name || *id != 0;
}

/* None that was named: the first day that anything is planned for. */
static gboolean
find_day (BedFarm *farm, const char *text, char **day, GError **error)
{
  *day = text ? bed_date_parse (text, bed_farm_get_today (farm), error) : NULL;
  return !text || *day;
}

int
bed_cmd_sheet (int argc, char **argv)
{
  static Options o = { .rows = DEFAULT_ROWS };
  g_autoptr (GError) error = NULL;
  int code = read_options (&o, &argc, &argv);

  if (code)
    return code - 1;
  BedFieldSheetRequest request = { .kind = bed_paper_kind_from_name (argv[2]) };
  if (request.kind == BED_N_PAPERS)
    return unknown_kind (argv[2]);
  if (!o.output)
    return bed_tool_misused (_ ("Say where the sheet goes: -o sheet.pdf"));
  if (o.rows < 0 || o.rows > MOST_ROWS)
    return bed_tool_misused (_ ("--rows: from 0 to %d."), MOST_ROWS);
  request.empty_rows = (guint) o.rows;
  g_autofree char *day = NULL;
  g_autoptr (BedFarm) farm = bed_tool_open (argv[1], &code);
  if (!farm)
    return code;
  if (!bed_tool_find_paper (o.paper, bed_farm_get_notation (farm), &request.paper, &error)
      || !find (farm, BED_KIND_BATCH, o.batch, &request.batch, &error)
      || !find (farm, BED_KIND_FELLING, o.felling, &request.felling, &error)
      || !find (farm, BED_KIND_STACK, o.stack, &request.stack, &error)
      || !find_day (farm, o.day, &day, &error))
    return bed_tool_fail_paper (g_steal_pointer (&error));
  request.day = day;
  BedDocument *document = bed_field_sheet_document_for_farm (farm, &request, &error);
  if (!document)
    return bed_tool_fail_paper (g_steal_pointer (&error));
  return bed_tool_write_pages (document, o.output, bed_farm_get_now (farm));
}
