#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/csv/csv.h"
#include "model/farm/kinds.h"
#include "tool/commands.h"

static void
print_faults (GPtrArray *faults)
{
  for (guint i = 0; faults && i < faults->len; i++)
    {
      const BedCsvFault *fault = faults->pdata[i];
      g_autofree char *text = bed_csv_fault_dup_text (fault);
      if (fault->severity == BED_FAULT_WARNING)
        g_printerr (_ ("note: %s\n"), text);
      else
        g_printerr ("%s\n", text);
    }
}

static void
add_faults (JsonBuilder *json, GPtrArray *faults)
{
  json_builder_set_member_name (json, "faults");
  json_builder_begin_array (json);
  for (guint i = 0; faults && i < faults->len; i++)
    {
      const BedCsvFault *fault = faults->pdata[i];
      json_builder_begin_object (json);
      bed_tool_json_text (json, "severity",
                          fault->severity == BED_FAULT_ERROR ? "error" : "warning");
      bed_tool_json_text (json, "file", fault->file);
      bed_tool_json_int (json, "line", fault->line);
      bed_tool_json_int (json, "column", fault->column);
      bed_tool_json_text (json, "message", fault->message);
      json_builder_end_object (json);
    }
  json_builder_end_array (json);
}

static void
print_json (int records, GPtrArray *faults)
{
  g_autoptr (JsonBuilder) json = json_builder_new ();

  json_builder_begin_object (json);
  bed_tool_json_int (json, "records", MAX (records, 0));
  add_faults (json, faults);
  json_builder_end_object (json);
  bed_tool_print_json (json);
}

static gboolean
has_error (GPtrArray *faults)
{
  for (guint i = 0; faults && i < faults->len; i++)
    if (((BedCsvFault *) faults->pdata[i])->severity == BED_FAULT_ERROR)
      return TRUE;
  return FALSE;
}

static int
import (BedFarm *farm, const BedImport *plan, gboolean in_json)
{
  g_autoptr (GPtrArray) faults = NULL;
  g_autoptr (GError) error = NULL;
  BedImportMode mode = plan->mode;
  int n = plan->kind == BED_N_KINDS ? bed_csv_import_all (farm, plan, &faults, &error)
                                    : bed_csv_import (farm, plan, &faults, &error);

  if (in_json)
    print_json (n, faults);
  else
    print_faults (faults);
  if (n < 0 && !has_error (faults))
    return bed_tool_fail (g_steal_pointer (&error));
  if (n >= 0 && !in_json)
    g_print (mode == BED_IMPORT_DRY_RUN
                 ? ngettext ("%d record would be imported\n", "%d records would be imported\n", n)
                 : ngettext ("%d record imported\n", "%d records imported\n", n),
             n);
  return n < 0 ? BED_EXIT_WRONG : BED_EXIT_OK;
}

int
bed_cmd_import (int argc, char **argv)
{
  gboolean dry_run = FALSE, json = FALSE;
  g_autofree char *encoding = NULL, *sheet = NULL;
  const GOptionEntry entries[] = {
    { "dry-run", 0, 0, G_OPTION_ARG_NONE, &dry_run, N_ ("Check everything and write nothing"),
      NULL },
    { "encoding", 0, 0, G_OPTION_ARG_STRING, &encoding,
      N_ ("How the letters of a text file are stored, where they come out wrong"), N_ ("NAME") },
    { "sheet", 0, 0, G_OPTION_ARG_STRING, &sheet, N_ ("The sheet of a workbook to read"),
      N_ ("NAME") },
    { "json", 0, 0, G_OPTION_ARG_NONE, &json, N_ ("Say what came of it in JSON"), NULL },
    G_OPTION_ENTRY_NULL,
  };
  int code = bed_tool_options ("import", entries, 3, &argc, &argv);

  if (code)
    return code - 1;
  if (strcmp (argv[2], "all") != 0 && bed_kind_from_name (argv[2]) == BED_N_KINDS)
    return bed_tool_unknown_kind (argv[2]);
  if (encoding && !bed_encoding_from_name (encoding))
    return bed_tool_misused (_ ("There is no encoding “%s”. There are UTF-8, UTF-16LE, UTF-16BE, "
                                "Windows-1252 and Latin-1."),
                             encoding);
  if (sheet && strcmp (argv[2], "all") == 0)
    return bed_tool_misused (_ ("--sheet is of one workbook: name its kind of record and it in "
                                "place of all and the folder."));
  const BedImport plan = {
    bed_kind_from_name (argv[2]),
    strcmp (argv[3], "-") == 0 ? "/dev/stdin" : argv[3],
    dry_run ? BED_IMPORT_DRY_RUN : BED_IMPORT_WRITE,
    encoding ? bed_encoding_from_name (encoding) : BED_ENCODING_FOUND,
    sheet,
  };
  g_autoptr (BedFarm) farm = dry_run ? bed_tool_open (argv[1], &code)
                                     : bed_tool_open_to_write (argv[1], &code);
  return farm ? import (farm, &plan, json) : code;
}
