/* The hidden command that writes docs/file-format.md from the field table; a test
 * compares the two. */
#include <glib/gi18n-lib.h>
#include <string.h>

#include "tool/commands.h"

#include "model/farm/kinds.h"
#include "science/units.h"

static const char head[]
    = "# The farm file and its CSV files\n"
      "\n"
      "<!-- Written by `bedlog-tool format` from src/model/farm/fields.c. Do not edit by hand."
      " -->\n"
      "\n"
      "A farm is one SQLite file, suffix `.bedlog`: application id `0x4245444C` (`BEDL`),\n"
      "the number of its schema in `user_version`, STRICT tables, foreign keys, a rollback\n"
      "journal. There is a table for each kind of record below, of the same name and with\n"
      "the same columns, and a table `change` with what was done. Views and functions\n"
      "belong to the program and are not in the file.\n"
      "\n"
      "Stored are whole numbers of fine SI units: lengths in micrometres, masses in\n"
      "milligrams, areas in square centimetres (basal area per hectare), temperatures in\n"
      "thousandths of a degree Celsius, times in minutes, percents and angles in\n"
      "hundredths, money in minor units of the farm's currency. Dates are text\n"
      "`YYYY-MM-DD`, moments `YYYY-MM-DDTHH:MM`, both farm time. A reference is the `id` of\n"
      "a record of the other kind.\n"
      "\n"
      "## CSV\n"
      "\n"
      "`bedlog-tool export FILE DIR` writes, and `bedlog-tool import FILE KIND CSV` reads,\n"
      "one file a kind, `KIND.csv` (RFC 4180, UTF-8; a byte order mark, LF and CRLF are all\n"
      "read).\n"
      "\n"
      "* The first line names the fields, in any order: `name`, or `name (unit)` for a\n"
      "  measure. Any unit of the measure will do, and a number may carry its own: `5 1/4\n"
      "  in`, `12.7 cm`. Without a unit in the head, numbers are in the farm's own. The\n"
      "  decimal mark is a point, and thousands have no mark. Money is in the farm's currency.\n"
      "* References are written by name or code (`wood` = `northern red oak`, `batch` =\n"
      "  `26A`), whatever the case of their letters; a log or lot may be named without its\n"
      "  check character.\n"
      "* Choices are written by the words below. Dates are `YYYY-MM-DD`. An empty field is\n"
      "  unset.\n"
      "* White space at both ends of a one-line text is dropped. What is too long (the most\n"
      "  characters stand below) is a fault, and so are characters that cannot be seen:\n"
      "  controls, marks that turn the direction of other text, the byte order mark. Line\n"
      "  ends and tabs are in texts of several lines alone.\n"
      "* Text that a spreadsheet would take for a formula (it begins with `=`, `+`, `-`,\n"
      "  `@`, a tab or a line end) is written with an apostrophe in front, and so is text\n"
      "  of apostrophes followed by one of these; reading takes exactly that apostrophe off\n"
      "  again. Numbers are never touched (OWASP, *CSV Injection*).\n"
      "* All or nothing: when anything is wrong, every fault is listed as\n"
      "  `file:line:column: what`, with physical lines, and nothing is written. `--dry-run`\n"
      "  checks and writes nothing.\n"
      "* A row with a name that is in the farm already is a fault, but in `farm.csv`,\n"
      "  `wood.csv`, `mushroom.csv` and `strain.csv`, where it changes the record, and with\n"
      "  `--amend`: then it changes the record in the columns that the file has (an empty cell\n"
      "  empties), and a file of codes and one column will do. Each change is listed, from and\n"
      "  to; `--dry-run` lists them and makes none.\n"
      "* A row of a kind without names that is in the farm already, the same in every column of\n"
      "  the file, is a fault, so that no file goes in twice. `--skip-known` leaves such rows\n"
      "  out, with those whose name is there and nothing differs; `--add-known` adds them once\n"
      "  more. A row of the farm is the same as one of the file: two alike of which the farm has\n"
      "  one are one known and one new.\n"
      "* The answer counts what is new, changed and known of each kind, with the sums of mass,\n"
      "  money and time of what is new. Of faults that are alike but for names and numbers the\n"
      "  first three are told and the others counted.\n"
      "* `import FILE all DIR` reads every `KIND.csv` (`.tsv`, `.xlsx`, `.ods`) in a folder in\n"
      "  the order below, as one change.\n"
      "\n"
      "Conveniences of import alone, never written by export:\n"
      "\n"
      "* Text with semicolons, tabs or bars in place of commas, with other quotes, in UTF-16,\n"
      "  Windows-1252 or Latin-1, with any line ends: found by what the rows look like, or told\n"
      "  (`--encoding NAME`, a first line `sep=;`). `-` is standard input, and of\n"
      "  `export -k KIND` standard output.\n"
      "* A sheet of an .xlsx or .ods: the first that is shown, or `--sheet NAME`. Formulas are\n"
      "  read by the value saved with them, merged cells as their first. Faults name the row.\n"
      "* A stand or an area that is named by another record, and near no name there is, is\n"
      "  added.\n"
      "* A whole lot code (`L260518-1-4`) that is not there yet is opened with the date in\n"
      "  it.\n"
      "* Codes left out are given: `F26-1` to fellings, `S26-1` to spawn lots, `26A` to\n"
      "  batches, `26A-001-…` to logs in their batch, `K26-1` to soaks, `V26-1` to sales,\n"
      "  `L260518-1-4` to lots.\n"
      "* `log.csv` without a column `holes`: worked out from the batch's pattern.\n"
      "* A log is referred to without its check character too (`26A-17`), or by its `mark`\n"
      "  where no other log has it.\n"
      "* `soak.csv` with a column `logs`: codes separated by spaces or commas, ranges of them\n"
      "  (`26A-1..12`, `26A-1 3 7`), or a stack (every log that lay there that day), or a\n"
      "  batch (every log not retired that day).\n"
      "* `batch.csv` with columns `spawn`, and `spawn_mass` or `spawn_pieces`: what was\n"
      "  used of one lot.\n"
      "* `spawn.csv` with columns `mushroom` and `type`: a strain that is not there yet is\n"
      "  added.\n"
      "* `farm.csv` may leave out any column; what it leaves out stays.\n";

static void
append_choices (GString *out, const BedField *field)
{
  for (const BedChoice *c = field->choices; c->key; c++)
    g_string_append_printf (out, "%s`%s`", c == field->choices ? "" : ", ", c->key);
}

static void
append_measure (GString *out, const BedField *field)
{
  const char *metric = bed_measure_unit (field->measure, BED_SYSTEM_METRIC);
  const char *us = bed_measure_unit (field->measure, BED_SYSTEM_US);

  if (field->measure == BED_MEASURE_MONEY)
    g_string_append (out, "money");
  else if (field->measure == BED_MEASURE_COUNT)
    g_string_append (out, "count");
  else if (strcmp (metric, us) == 0)
    g_string_append (out, metric);
  else
    g_string_append_printf (out, "%s or %s", metric, us);
}

static void
append_limits (GString *out, const BedField *field)
{
  BedNotation notation = { BED_SYSTEM_METRIC, '.', 2 };

  if (field->type != BED_FIELD_MEASURE || field->measure == BED_MEASURE_MONEY
      || (field->lowest == 0 && field->highest == 0))
    return;
  g_autofree char *low = bed_measure_format (field->measure, &notation, field->lowest);
  g_autofree char *high = bed_measure_format_unit (field->measure, &notation, field->highest);
  g_string_append_printf (out, " %s to %s.", low, high);
}

static void
append_holds (GString *out, const BedField *field)
{
  switch (field->type)
    {
    case BED_FIELD_TEXT:
      g_string_append_printf (out, "text, at most %u", field->longest);
      break;
    case BED_FIELD_NOTE:
      g_string_append_printf (out, "text, several lines, at most %u", field->longest);
      break;
    case BED_FIELD_DATE:
      g_string_append (out, "date");
      break;
    case BED_FIELD_MOMENT:
      g_string_append (out, "moment");
      break;
    case BED_FIELD_CHOICE:
      append_choices (out, field);
      break;
    case BED_FIELD_REFERENCE:
      g_string_append_printf (out, "a %s", bed_kind_get_info (field->refers)->name);
      break;
    case BED_FIELD_MEASURE:
      append_measure (out, field);
      break;
    }
}

static void
append_kind (GString *out, BedKind kind)
{
  const BedKindInfo *info = bed_kind_get_info (kind);

  g_string_append_printf (out, "\n### %s\n\n| field | holds | |\n|---|---|---|\n", info->name);
  for (guint i = 0; i < info->n_fields; i++)
    {
      const BedField *field = &info->fields[i];
      g_string_append_printf (out, "| `%s`%s | ", field->name, field->required ? " \\*" : "");
      append_holds (out, field);
      g_string_append_printf (out, " | %s%s", field->label,
                              g_str_has_suffix (field->label, ".") ? "" : ".");
      append_limits (out, field);
      if (field->help)
        g_string_append_printf (out, " %s.", field->help);
      g_string_append (out, " |\n");
    }
}

int
bed_cmd_format (int argc, char **argv)
{
  g_autoptr (GString) out = g_string_new (head);
  int code = bed_tool_options ("format", NULL, 0, &argc, &argv);

  if (code)
    return code - 1;
  g_string_append (out, "\n## The kinds of record\n\nFields marked \\* are required.\n");
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    append_kind (out, kind);
  g_print ("%s", out->str);
  return BED_EXIT_OK;
}
