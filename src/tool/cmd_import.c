#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/csv/csv_bring.h"
#include "model/farm/kind_words.h"
#include "model/farm/kinds.h"
#include "model/farm/output.h"
#include "model/farm/say.h"
#include "science/language.h"
#include "science/units.h"
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
      bed_tool_json_int (json, "more", fault->more);
      json_builder_end_object (json);
    }
  json_builder_end_array (json);
}

/* Sums of many grams are read in kilograms. */
static char *
dup_total (BedFarm *farm, const BedImportTotal *total)
{
  const BedNotation *notation = bed_farm_get_notation (farm);
  BedMeasure measure = total->field->measure;

  if (measure == BED_MEASURE_MASS_FINE)
    measure = BED_MEASURE_MASS;
  g_autofree char *text = bed_measure_format_unit_said (measure, notation, total->sum);
  if (measure != BED_MEASURE_MONEY)
    return g_steal_pointer (&text);
  return g_strconcat (text, " ", bed_record_get_text (bed_farm_get_settings (farm), "currency"),
                      NULL);
}

static void
print_said (char *said)
{
  g_print ("%s", said);
  g_free (said);
}

static void
print_kind (BedFarm *farm, const BedImportAnswer *answer, BedKind kind)
{
  const BedKindInfo *info = bed_kind_get_info (kind);
  const struct
  {
    guint n;
    const char *words;
  } counts[] = { { answer->added[kind], _ ("new") },
                 { answer->amended[kind], _ ("changed") },
                 { kind == BED_KIND_LOG ? answer->listed : 0, _ ("listed that were only counted") },
                 { answer->known[kind], _ ("in the farm already") } };
  g_autoptr (GString) line = g_string_new (NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (counts); i++)
    if (counts[i].n)
      {
        g_autofree char *count = bed_say ("%u %s", counts[i].n, counts[i].words);
        g_string_append_printf (line, "%s%s", line->len ? bed_comma () : "", count);
      }
  for (guint i = 0; i < answer->totals->len; i++)
    {
      const BedImportTotal *total = &g_array_index (answer->totals, BedImportTotal, i);
      g_autofree char *sum = total->kind == kind ? dup_total (farm, total) : NULL;
      if (sum)
        g_string_append_printf (line, "; %s %s", _ (total->field->label), sum);
    }
  if (line->len)
    g_print ("%s: %s\n", _ (info->plural), line->str);
}

/* From and to, and what it all comes to. */
static void
print_answer (BedFarm *farm, const BedImportAnswer *answer)
{
  for (guint i = 0; i < answer->changes->len; i++)
    {
      const BedImportChange *change = answer->changes->pdata[i];
      g_autofree char *name = bed_kind_dup_named (change->kind, change->name);
      g_print ("%s: %s: %s -> %s\n", name, _ (change->field->label),
               *change->from ? change->from : _ ("empty"), *change->to ? change->to : _ ("empty"));
    }
  if (answer->n_changes > answer->changes->len)
    print_said (bed_say (ngettext ("and %u change more\n", "and %u changes more\n",
                                   answer->n_changes - answer->changes->len),
                         answer->n_changes - answer->changes->len));
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    print_kind (farm, answer, kind);
}

static void
add_kinds (JsonBuilder *json, const BedImportAnswer *answer)
{
  json_builder_set_member_name (json, "kinds");
  json_builder_begin_object (json);
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    {
      guint listed = kind == BED_KIND_LOG ? answer->listed : 0;
      if (!answer->added[kind] && !answer->amended[kind] && !answer->known[kind] && !listed)
        continue;
      json_builder_set_member_name (json, bed_kind_get_info (kind)->name);
      json_builder_begin_object (json);
      bed_tool_json_int (json, "new", answer->added[kind]);
      bed_tool_json_int (json, "changed", answer->amended[kind]);
      bed_tool_json_int (json, "known", answer->known[kind]);
      if (listed)
        bed_tool_json_int (json, "listed", listed);
      for (guint i = 0; i < answer->totals->len; i++)
        {
          const BedImportTotal *total = &g_array_index (answer->totals, BedImportTotal, i);
          if (total->kind == kind)
            bed_tool_json_int (json, total->field->name, total->sum);
        }
      json_builder_end_object (json);
    }
  json_builder_end_object (json);
}

static void
add_changes (JsonBuilder *json, const BedImportAnswer *answer)
{
  json_builder_set_member_name (json, "changes");
  json_builder_begin_array (json);
  for (guint i = 0; i < answer->changes->len; i++)
    {
      const BedImportChange *change = answer->changes->pdata[i];
      json_builder_begin_object (json);
      bed_tool_json_text (json, "kind", bed_kind_get_info (change->kind)->name);
      bed_tool_json_text (json, "name", change->name);
      bed_tool_json_text (json, "field", change->field->name);
      bed_tool_json_text (json, "from", change->from);
      bed_tool_json_text (json, "to", change->to);
      json_builder_end_object (json);
    }
  json_builder_end_array (json);
}

static void
add_choices (JsonBuilder *json, const BedNotebookQuestion *question)
{
  json_builder_set_member_name (json, "choices");
  json_builder_begin_array (json);
  for (guint i = 0; i < question->n_choices; i++)
    {
      json_builder_begin_object (json);
      bed_tool_json_text (json, "answer", question->choices[i].key);
      bed_tool_json_text (json, "label", question->choices[i].label);
      json_builder_end_object (json);
    }
  json_builder_end_array (json);
}

/* The open ones. */
static void
add_questions (JsonBuilder *json, BedNotebook *notebook)
{
  guint n;
  const BedNotebookQuestion *questions = bed_notebook_get_questions (notebook, &n);

  json_builder_set_member_name (json, "questions");
  json_builder_begin_array (json);
  for (guint i = 0; i < n; i++)
    {
      if (questions[i].answer)
        continue;
      json_builder_begin_object (json);
      bed_tool_json_text (json, "key", questions[i].key);
      bed_tool_json_text (json, "sentence", questions[i].sentence);
      bed_tool_json_int (json, "line", questions[i].line);
      bed_tool_json_int (json, "column", questions[i].column);
      bed_tool_json_int (json, "count", questions[i].count);
      add_choices (json, &questions[i]);
      bed_tool_json_text (json, "typed", questions[i].typed);
      bed_tool_json_text (json, "offer", questions[i].offer);
      json_builder_end_object (json);
    }
  json_builder_end_array (json);
}

static void
print_json (int records, GPtrArray *faults, const BedImportAnswer *answer, BedNotebook *notebook)
{
  g_autoptr (JsonBuilder) json = json_builder_new ();

  json_builder_begin_object (json);
  bed_tool_json_int (json, "records", MAX (records, 0));
  if (notebook)
    add_questions (json, notebook);
  add_kinds (json, answer);
  add_changes (json, answer);
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

/* What would be right when rows are in the farm already. */
static void
advise (const BedImport *plan, const BedImportAnswer *answer)
{
  guint known = 0;

  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    known += answer->known[kind];
  if (known > 0 && plan->known == BED_KNOWN_REFUSED)
    g_printerr (ngettext ("%u row is in the farm already: --skip-known leaves it out.\n",
                          "%u rows are in the farm already: --skip-known leaves them out.\n",
                          known),
                known);
}

/* How somebody else's sheet is to be understood. */
typedef struct
{
  char *map;      /* a file with a matching, or NULL */
  char *keep_map; /* where to write the one that was taken, or NULL */
  char *dates;
  char **answers; /* KEY=ANSWER */
  gboolean usual;
  int table; /* 0: the first */
} Understanding;

static gboolean
take_matching (BedFarm *farm, BedNotebook *notebook, const Understanding *how, GError **error)
{
  g_autofree char *kept = NULL;

  if (how->map && !g_file_get_contents (bed_tool_input (how->map), &kept, NULL, error))
    return FALSE;
  if (!how->map)
    kept = bed_csv_dup_matching (farm, notebook);
  return !kept || bed_notebook_take_matching (notebook, kept, error);
}

static gboolean
set_dates (BedNotebook *notebook, const char *word, GError **error)
{
  static const struct
  {
    const char *word;
    BedDates dates;
  } orders[] = { { "dmy", BED_DATES_DMY }, { "mdy", BED_DATES_MDY }, { "ymd", BED_DATES_YMD } };

  for (gsize i = 0; i < G_N_ELEMENTS (orders); i++)
    if (g_ascii_strcasecmp (orders[i].word, word) == 0)
      {
        for (guint c = 0; c < bed_notebook_get_n_columns (notebook); c++)
          if (bed_notebook_get_column (notebook, c)->dates != BED_DATES_NONE
              && !bed_notebook_set_dates (notebook, c, orders[i].dates, error))
            return FALSE;
        /* Where both readings fit it is a question, whatever the columns show by now. */
        bed_notebook_answer (notebook, "dates", orders[i].word, NULL);
        return TRUE;
      }
  return bed_farm_refuse (error, BED_FARM_ERROR_INVALID,
                          _ ("“%s” is no order of dates: dmy, mdy or ymd."), word);
}

static gboolean
give_answers (BedNotebook *notebook, const Understanding *how, GError **error)
{
  /* First, for answers may be to what comes up by it, and go before it. */
  if (how->usual)
    bed_notebook_take_usual (notebook);
  for (char **answer = how->answers; answer && *answer; answer++)
    {
      const char *at = strchr (*answer, '=');
      g_autofree char *key = at ? g_strndup (*answer, at - *answer) : NULL;
      if (!key)
        return bed_farm_refuse (error, BED_FARM_ERROR_INVALID,
                                _ ("“%s” is no answer: write KEY=ANSWER."), *answer);
      if (!bed_notebook_answer (notebook, key, at + 1, error))
        return FALSE;
    }
  return TRUE;
}

static BedNotebook *
understand (BedFarm *farm, const BedImport *plan, const Understanding *how, GError **error)
{
  const BedReading reading = { plan->encoding, 0, 0, 0 };
  g_autoptr (BedRows) rows = bed_rows_open_file (
      plan->path, plan->encoding == BED_ENCODING_FOUND ? NULL : &reading, error);

  if (!rows || (plan->sheet && !bed_rows_choose_sheet_named (rows, plan->sheet, error)))
    return NULL;
  g_autoptr (BedNotebook) notebook = bed_notebook_new (farm, g_steal_pointer (&rows), error);
  if (!notebook
      || (how->table && !bed_notebook_choose_table (notebook, (guint) how->table - 1, error))
      || !take_matching (farm, notebook, how, error)
      || (how->dates && !set_dates (notebook, how->dates, error))
      || !give_answers (notebook, how, error) || !bed_notebook_read_all (notebook, NULL, error))
    return NULL;
  return g_steal_pointer (&notebook);
}

/* What each column was taken as: it is a guess until somebody has looked at it. */
static void
print_columns (BedNotebook *notebook)
{
  BedKind kind = bed_notebook_get_kind (notebook, NULL);

  g_print ("%s: %s\n", _ (bed_kind_get_info (kind)->plural), bed_notebook_get_kind_why (notebook));
  for (guint i = 0; i < bed_notebook_get_n_columns (notebook); i++)
    {
      const BedNotebookColumn *column = bed_notebook_get_column (notebook, i);
      const char *label = column->field ? _ (column->field->label) : _ ("(left out)");
      g_print ("  %-24s %-24s %-6s %s\n", column->head, label, column->unit, column->why);
    }
}

static void
print_tables (BedNotebook *notebook)
{
  guint n;
  const BedNotebookTable *tables = bed_notebook_get_tables (notebook, &n);

  for (guint i = 0; i < n; i++)
    if (i != bed_notebook_get_table (notebook))
      /* Translators: number of a row, heads of a table. */
      g_print (_ ("In row %u another table begins: %s; --table=%u reads it.\n"), tables[i].line,
               tables[i].text, i + 1);
}

/* The open questions, on standard error, with what may be answered. */
static void
print_questions (BedNotebook *notebook, const char *path)
{
  guint n;
  const BedNotebookQuestion *questions = bed_notebook_get_questions (notebook, &n);

  for (guint i = 0; i < n; i++)
    {
      const BedNotebookQuestion *question = &questions[i];
      if (question->answer)
        continue;
      g_printerr ("%s:%u:%u: %s\n", path, question->line, question->column, question->sentence);
      for (guint c = 0; c < question->n_choices; c++)
        g_printerr ("  --answer '%s=%s'  %s\n", question->key, question->choices[c].key,
                    question->choices[c].label);
      if (question->typed)
        g_printerr ("  --answer '%s=…'  %s\n", question->key, question->typed);
      if (bed_notebook_is_usual (question))
        g_printerr (_ ("  --usual: %s\n"), question->offer);
    }
}

static gboolean
is_piped (const char *path)
{
  return path && strcmp (path, "-") == 0;
}

static gboolean
keep_map (BedNotebook *notebook, const char *path, GError **error)
{
  g_autofree char *text = path ? bed_notebook_dup_matching (notebook) : NULL;
  if (is_piped (path))
    {
      g_print ("%s", text);
      return TRUE;
    }
  g_autofree char *target = path ? bed_output_dup_target (path, BED_OUTPUT_MATCHING, error) : NULL;

  return !path || (target && g_file_set_contents (target, text, -1, error));
}

/* What standard output has. */
typedef enum
{
  SAY_WORDS,
  SAY_JSON,
  SAY_MAP, /* --keep-map -: nothing but that */
} Saying;

/* @notebook: of a sheet, or NULL. */
static int
say (BedFarm *farm, const BedImport *plan, int n, GPtrArray *faults, BedNotebook *notebook,
     Saying saying)
{
  if (saying == SAY_JSON)
    print_json (n, faults, plan->answer, notebook);
  else
    print_faults (faults);
  if (n < 0 && saying != SAY_JSON)
    advise (plan, plan->answer);
  if (n >= 0 && saying == SAY_WORDS)
    {
      print_answer (farm, plan->answer);
      print_said (bed_say (
          plan->mode == BED_IMPORT_DRY_RUN
              ? ngettext ("%d record would be imported\n", "%d records would be imported\n", n)
              : ngettext ("%d record imported\n", "%d records imported\n", n),
          n));
    }
  return n < 0 ? BED_EXIT_WRONG : BED_EXIT_OK;
}

static int
import_sheet (BedFarm *farm, BedImport *plan, const Understanding *how, Saying saying)
{
  g_autoptr (GPtrArray) faults = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (BedImportAnswer) answer = bed_import_answer_new ();
  g_autoptr (BedNotebook) notebook = understand (farm, plan, how, &error);

  plan->answer = answer;
  if (!notebook)
    return bed_tool_misused ("%s: %s", plan->path, error->message);
  if (saying == SAY_WORDS)
    {
      print_columns (notebook);
      print_tables (notebook);
    }
  if (!keep_map (notebook, how->keep_map, &error))
    return bed_tool_fail (g_steal_pointer (&error));
  if (bed_notebook_count_open (notebook) > 0)
    {
      if (saying == SAY_JSON)
        print_json (0, NULL, answer, notebook);
      else
        print_questions (notebook, plan->path);
      return BED_EXIT_WRONG;
    }
  int n = bed_csv_bring (farm, notebook, plan, &faults, &error);
  if (n < 0 && !has_error (faults))
    return bed_tool_fail (g_steal_pointer (&error));
  return say (farm, plan, n, faults, notebook, saying);
}

static int
import (BedFarm *farm, BedImport *plan, Saying saying)
{
  g_autoptr (GPtrArray) faults = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (BedImportAnswer) answer = bed_import_answer_new ();

  plan->answer = answer;
  int n = plan->kind == BED_N_KINDS ? bed_csv_import_all (farm, plan, &faults, &error)
                                    : bed_csv_import (farm, plan, &faults, &error);

  if (n < 0 && !has_error (faults))
    return bed_tool_fail (g_steal_pointer (&error));
  return say (farm, plan, n, faults, NULL, saying);
}

int
bed_cmd_import (int argc, char **argv)
{
  gboolean dry_run = FALSE, json = FALSE, skip = FALSE, again = FALSE, amend = FALSE;
  static Understanding how;
  g_autofree char *encoding = NULL, *sheet = NULL;
  const GOptionEntry entries[] = {
    { "dry-run", 0, 0, G_OPTION_ARG_NONE, &dry_run, N_ ("Check everything and write nothing"),
      NULL },
    { "encoding", 0, 0, G_OPTION_ARG_STRING, &encoding,
      N_ ("How the letters of a text file are stored, where they come out wrong"), N_ ("NAME") },
    { "sheet", 0, 0, G_OPTION_ARG_STRING, &sheet, N_ ("The sheet of a workbook to read"),
      N_ ("NAME") },
    { "table", 0, 0, G_OPTION_ARG_INT, &how.table,
      N_ ("Which of several tables of a sheet, one below the other"), N_ ("NUMBER") },
    { "skip-known", 0, 0, G_OPTION_ARG_NONE, &skip,
      N_ ("Leave out rows that are in the farm already, the same in every column"), NULL },
    { "add-known", 0, 0, G_OPTION_ARG_NONE, &again,
      N_ ("Add such rows once more, where they have no name of their own"), NULL },
    { "amend", 0, 0, G_OPTION_ARG_NONE, &amend,
      N_ ("Change records whose code or name is in the farm already, in the columns that the file "
          "has; an empty cell empties"),
      NULL },
    { "map", 0, 0, G_OPTION_ARG_FILENAME, &how.map,
      N_ ("Understand a sheet as the matching in this file says"), N_ ("FILE") },
    { "keep-map", 0, 0, G_OPTION_ARG_FILENAME, &how.keep_map,
      N_ ("Write to this file how the sheet was understood"), N_ ("FILE") },
    { "dates", 0, 0, G_OPTION_ARG_STRING, &how.dates,
      N_ ("The order of day, month and year in a sheet: dmy, mdy or ymd"), N_ ("ORDER") },
    { "answer", 0, 0, G_OPTION_ARG_STRING_ARRAY, &how.answers,
      N_ ("The answer to a question about a sheet (repeat for more)"), N_ ("KEY=ANSWER") },
    { "usual", 0, 0, G_OPTION_ARG_NONE, &how.usual,
      N_ ("What no column of a sheet says is as on most farms"), NULL },
    { "json", 0, 0, G_OPTION_ARG_NONE, &json, N_ ("Say what came of it in JSON"), NULL },
    G_OPTION_ENTRY_NULL,
  };
  int code = bed_tool_options ("import", entries, 3, &argc, &argv);

  if (code)
    return code - 1;
  gboolean foreign = strcmp (argv[2], "sheet") == 0;
  if (!foreign && strcmp (argv[2], "all") != 0 && bed_kind_from_name (argv[2]) == BED_N_KINDS)
    return bed_tool_unknown_kind (argv[2]);
  if (!foreign && (how.map || how.keep_map || how.dates || how.answers || how.table))
    return bed_tool_misused (
        _ ("--map, --keep-map, --dates, --answer and --table are about a sheet of "
           "somebody else's: import FILE sheet X.csv."));
  if (encoding && !bed_encoding_from_name (encoding))
    return bed_tool_misused (_ ("There is no encoding “%s”. There are UTF-8, UTF-16LE, UTF-16BE, "
                                "Windows-1252 and Latin-1."),
                             encoding);
  if (sheet && strcmp (argv[2], "all") == 0)
    return bed_tool_misused (_ ("--sheet is of one workbook: name its kind of record and it in "
                                "place of all and the folder."));
  if (json && is_piped (how.keep_map))
    return bed_tool_misused (_ ("The matching or JSON on standard output, not both."));
  if (skip && again)
    return bed_tool_misused (_ ("What is known is left out or added once more, not both."));
  BedImport plan = {
    .kind = bed_kind_from_name (argv[2]),
    .path = bed_tool_input (argv[3]),
    .mode = dry_run ? BED_IMPORT_DRY_RUN : BED_IMPORT_WRITE,
    .encoding = encoding ? bed_encoding_from_name (encoding) : BED_ENCODING_FOUND,
    .sheet = sheet,
    .known = skip    ? BED_KNOWN_SKIPPED
             : again ? BED_KNOWN_ADDED
                     : BED_KNOWN_REFUSED,
    .differs = amend ? BED_DIFFERS_AMENDED : BED_DIFFERS_REFUSED,
  };
  g_autoptr (BedFarm) farm = dry_run ? bed_tool_open (argv[1], &code)
                                     : bed_tool_open_to_write (argv[1], &code);
  if (!farm)
    return code;
  Saying saying = json ? SAY_JSON : is_piped (how.keep_map) ? SAY_MAP : SAY_WORDS;
  return foreign ? import_sheet (farm, &plan, &how, saying) : import (farm, &plan, saying);
}
