/* Sheets as farms keep them, and what has to come out of each: expect.ini, reckoned by hand. */
#include "../model/model_test.h"

#include <string.h>

#include "model/csv/csv_bring.h"
#include "model/farm/kinds.h"
#include "model/farm/names.h"
#include "model/farm/record.h"
#include "model/notebook/notebook.h"
#include "science/units.h"

#define MOST_DECISIONS 5

static GKeyFile *expected;
static char *folder;

/* What is written to them is taken back: one for each system of units serves all sheets. */
static Scene scenes[2];

typedef struct
{
  BedFarm *farm;
  BedNotebook *notebook;
  const char *name;
} Sheet;

static char *
said (const Sheet *sheet, const char *key)
{
  char *text = g_key_file_get_string (expected, sheet->name, key, NULL);

  return text ? text : g_strdup ("");
}

static BedNotebook *
open_sheet (BedFarm *farm, const char *name)
{
  g_autofree char *path = g_build_filename (folder, "sheets", name, NULL);
  g_autoptr (GError) error = NULL;
  BedRows *rows = bed_rows_open_file (path, NULL, &error);

  g_assert_no_error (error);
  BedNotebook *notebook = bed_notebook_new (farm, rows, &error);
  g_assert_no_error (error);
  return notebook;
}

static void
set_up (Sheet *sheet, gconstpointer name)
{
  sheet->name = name;
  g_autofree char *units = said (sheet, "units");
  Scene *scene = &scenes[*units ? 1 : 0];
  if (!scene->farm)
    scene_set_up (scene, *units ? units : "US");
  sheet->farm = scene->farm;
  sheet->notebook = open_sheet (sheet->farm, name);
}

static void
tear_down (Sheet *sheet, gconstpointer name)
{
  bed_notebook_free (sheet->notebook);
}

/* --- what is said of a sheet ------------------------------------------------------------ */

static const BedField *
find_field (const char *text, BedKind *kind)
{
  g_auto (GStrv) parts = g_strsplit (text, ".", 2);

  *kind = bed_kind_from_name (parts[0]);
  g_assert_cmpuint (*kind, <, BED_N_KINDS);
  const BedField *field = bed_kind_find_field (*kind, parts[1], NULL);
  g_assert_nonnull (field);
  return field;
}

/* "need:pick.grade=A" is a question and its answer; each is one decision. */
static void
give_answers (Sheet *sheet)
{
  g_autofree char *answers = said (sheet, "answers");
  g_auto (GStrv) each = g_strsplit (answers, "|", -1);

  for (char **answer = each; *answer && **answer; answer++)
    {
      g_autoptr (GError) error = NULL;
      char *at = strchr (*answer, '=');
      *at = '\0';
      if (!bed_notebook_answer (sheet->notebook, *answer, at + 1, &error))
        g_error ("%s, %s: %s", sheet->name, *answer, error->message);
    }
}

static void
assert_nothing_open (Sheet *sheet)
{
  guint n;
  const BedNotebookQuestion *questions = bed_notebook_get_questions (sheet->notebook, &n);

  for (guint i = 0; i < n; i++)
    if (!questions[i].answer)
      g_error ("%s: open is %s, %s", sheet->name, questions[i].key, questions[i].sentence);
}

static void
check_records (Sheet *sheet, const guint counts[BED_N_KINDS])
{
  g_autofree char *records = said (sheet, "records");
  g_auto (GStrv) each = g_strsplit (records, ";", -1);
  guint wanted[BED_N_KINDS] = { 0 };

  for (char **record = each; *record; record++)
    {
      g_auto (GStrv) words = g_strsplit (*record, " ", 2);
      wanted[bed_kind_from_name (words[0])] = g_ascii_strtoull (words[1], NULL, 10);
    }
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    if (counts[kind] != wanted[kind])
      g_error ("%s: %u %s, not %u", sheet->name, counts[kind], bed_kind_get_info (kind)->plural,
               wanted[kind]);
}

/* Each cell is rounded to the whole of a fine unit. */
static void
check_sums (Sheet *sheet)
{
  g_autofree char *sums = said (sheet, "sums");
  g_auto (GStrv) each = g_strsplit (sums, ";", -1);

  for (char **sum = each; *sum && **sum; sum++)
    {
      g_auto (GStrv) words = g_strsplit (*sum, " ", 2);
      BedKind kind;
      const BedField *field = find_field (words[0], &kind);
      gint64 is = bed_notebook_sum (sheet->notebook, kind, field), wanted;
      /* Degrees do not add up as other units do. */
      if (field->measure == BED_MEASURE_TEMPERATURE)
        wanted = g_ascii_strtod (words[1], NULL) * 1000;
      else
        g_assert_true (bed_measure_parse (field->measure, bed_farm_get_notation (sheet->farm),
                                          words[1], &wanted, NULL));
      if (ABS (is - wanted) > 20)
        g_error ("%s: %s is %" G_GINT64_FORMAT ", not %" G_GINT64_FORMAT, sheet->name, words[0], is,
                 wanted);
    }
}

static void
check_aside (Sheet *sheet)
{
  static const char *const names[]
      = { "", "", "above", "head", "total", "note", "table", "other", "asked" };
  g_autofree char *text = said (sheet, "aside");
  g_auto (GStrv) each = g_strsplit (text, ";", -1);
  guint wanted[G_N_ELEMENTS (names)] = { 0 };

  for (char **aside = each; *aside && **aside; aside++)
    for (guint i = 2; i < G_N_ELEMENTS (names); i++)
      if (g_str_has_prefix (*aside, names[i]))
        wanted[i] = g_ascii_strtoull (strchr (*aside, ' '), NULL, 10);
  for (guint i = 2; i < G_N_ELEMENTS (names); i++)
    if (bed_notebook_count_aside (sheet->notebook, i) != wanted[i])
      g_error ("%s: %u rows aside as %s, not %u", sheet->name,
               bed_notebook_count_aside (sheet->notebook, i), names[i], wanted[i]);
}

static void
check_days (Sheet *sheet)
{
  g_autofree char *days = said (sheet, "days");
  const char *first = bed_notebook_get_first_day (sheet->notebook);
  const char *last = bed_notebook_get_last_day (sheet->notebook);
  g_autofree char *is = first ? g_strdup_printf ("%s %s", first, last) : g_strdup ("");

  g_assert_cmpstr (is, ==, days);
}

/* What a shared record is called, everyone after it may call it; nobody else is meant. */
static void
check_references (Sheet *sheet, const BedNotebookRow *row, GHashTable *names)
{
  for (guint i = 0; i < row->n_drafts; i++)
    {
      const BedNotebookDraft *draft = &row->drafts[i];
      for (guint r = 0; r < draft->n_references; r++)
        {
          const BedDraftReference *reference = &draft->references[r];
          g_autofree char *name
              = g_strdup_printf ("%d:%s", reference->field->refers, reference->name);
          g_autoptr (GError) error = NULL;
          if (!g_hash_table_contains (names, name)
              && !bed_farm_find (sheet->farm, reference->field->refers, reference->name, &error))
            g_error ("%s:%u: %s", sheet->name, row->line, error->message);
        }
      if (draft->name)
        g_hash_table_add (
            names, g_strdup_printf ("%d:%s", bed_record_get_kind (draft->record), draft->name));
    }
}

/* Required fields are there, in the record or as a reference, but codes that the farm gives. */
static void
check_draft (Sheet *sheet, const BedNotebookDraft *draft)
{
  const BedKindInfo *info = bed_kind_get_info (bed_record_get_kind (draft->record));

  for (guint i = 0; i < info->n_fields; i++)
    {
      const BedField *field = &info->fields[i];
      gboolean referred = FALSE;
      for (guint r = 0; r < draft->n_references; r++)
        referred = referred || draft->references[r].field == field;
      if (field->required && strcmp (field->name, "code") != 0 && !referred
          && !bed_record_has (draft->record, field->name))
        g_error ("%s: a %s has no %s", sheet->name, info->name, field->name);
    }
}

/* Picks that are totals of several, and the first day of any. */
typedef struct
{
  guint n;
  char *first;
} Totals;

static void
note_total (Totals *totals, BedRecord *record)
{
  const char *since = bed_record_get_kind (record) == BED_KIND_PICK
                          ? bed_record_get_text (record, "since")
                          : NULL;

  if (!since)
    return;
  totals->n++;
  if (!totals->first || strcmp (since, totals->first) < 0)
    {
      g_free (totals->first);
      totals->first = g_strdup (since);
    }
}

static void
check_totals (Sheet *sheet, Totals *totals)
{
  g_autofree char *wanted = said (sheet, "totals");
  g_autofree char *is = totals->n ? g_strdup_printf ("%u since %s", totals->n, totals->first)
                                  : g_strdup ("");

  g_assert_cmpstr (is, ==, wanted);
  g_free (totals->first);
}

static void
count_stream (Sheet *sheet, guint counts[BED_N_KINDS])
{
  Totals totals = { 0 };

  g_autoptr (GHashTable) names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (GError) error = NULL;
  const BedNotebookRow *row;

  bed_notebook_begin (sheet->notebook, &error);
  g_assert_no_error (error);
  while ((row = bed_notebook_next (sheet->notebook, &error)))
    {
      check_references (sheet, row, names);
      for (guint i = 0; i < row->n_drafts; i++)
        {
          check_draft (sheet, &row->drafts[i]);
          note_total (&totals, row->drafts[i].record);
          counts[bed_record_get_kind (row->drafts[i].record)] += row->drafts[i].times;
        }
    }
  g_assert_no_error (error);
  check_totals (sheet, &totals);
}

static void
check_all (Sheet *sheet)
{
  guint counted[BED_N_KINDS] = { 0 }, streamed[BED_N_KINDS] = { 0 };
  g_autoptr (GError) error = NULL;

  assert_nothing_open (sheet);
  bed_notebook_read_all (sheet->notebook, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (bed_notebook_count_rows (sheet->notebook), ==,
                    g_key_file_get_integer (expected, sheet->name, "rows", NULL));
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    counted[kind] = bed_notebook_count_records (sheet->notebook, kind);
  check_records (sheet, counted);
  check_sums (sheet);
  check_aside (sheet);
  check_days (sheet);
  count_stream (sheet, streamed);
  check_records (sheet, streamed);
}

static void
test_sheet (Sheet *sheet, gconstpointer name)
{
  g_autofree char *kind = said (sheet, "kind"), *stops = said (sheet, "stops");

  g_assert_cmpstr (bed_kind_get_info (bed_notebook_get_kind (sheet->notebook, NULL))->name, ==,
                   kind);
  if (*stops)
    {
      g_autoptr (GError) error = NULL;
      guint n;
      const BedNotebookQuestion *questions = bed_notebook_get_questions (sheet->notebook, &n);
      g_assert_cmpuint (n, ==, 1);
      g_assert_cmpstr (questions[0].key, ==, stops);
      g_assert_false (bed_notebook_begin (sheet->notebook, &error));
      g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
      return;
    }
  give_answers (sheet);
  check_all (sheet);
}

/* The matching of one sheet makes the same of another with the same heads, without a decision but
 * the year, which is another there. */
static void
test_matching (Sheet *sheet, gconstpointer name)
{
  g_autofree char *stops = said (sheet, "stops");
  g_autoptr (GError) error = NULL;

  give_answers (sheet);
  g_autofree char *matching = bed_notebook_dup_matching (sheet->notebook);
  g_autofree char *heads = bed_notebook_dup_heads (sheet->notebook);
  bed_notebook_free (sheet->notebook);
  sheet->notebook = open_sheet (sheet->farm, sheet->name);
  g_autofree char *again = bed_notebook_dup_heads (sheet->notebook);
  g_assert_cmpstr (again, ==, heads);
  bed_notebook_take_matching (sheet->notebook, matching, &error);
  g_assert_no_error (error);
  if (*stops)
    return;
  guint n;
  const BedNotebookQuestion *questions = bed_notebook_get_questions (sheet->notebook, &n);
  if (n > 0 && strcmp (questions[0].key, "year") == 0 && !questions[0].answer)
    bed_notebook_answer (sheet->notebook, "year", "2024", NULL);
  check_all (sheet);
}

/* --- brought into the farm ---------------------------------------------------------------- */

/* Of what is known by now nothing is asked any more. */
static void
give_answers_again (Sheet *sheet)
{
  g_autofree char *answers = said (sheet, "answers");
  g_auto (GStrv) each = g_strsplit (answers, "|", -1);

  for (char **answer = each; *answer && **answer; answer++)
    {
      char *at = strchr (*answer, '=');
      *at = '\0';
      bed_notebook_answer (sheet->notebook, *answer, at + 1, NULL);
    }
}

static int
bring (Sheet *sheet, BedImportAnswer *answer)
{
  const BedImport import = { .path = sheet->name, .answer = answer };
  g_autoptr (GPtrArray) faults = NULL;
  g_autoptr (GError) error = NULL;
  int n = bed_csv_bring (sheet->farm, sheet->notebook, &import, &faults, &error);

  for (guint i = 0; faults && i < faults->len; i++)
    {
      g_autofree char *text = bed_csv_fault_dup_text (faults->pdata[i]);
      g_test_message ("%s", text);
    }
  g_assert_no_error (error);
  return n;
}

/* It goes in as it was understood, the same once more changes nothing, and one undo takes all of
 * it back. */
static void
test_bring (Sheet *sheet, gconstpointer name)
{
  g_autofree char *stops = said (sheet, "stops");
  g_autofree char *before = scene_dump (sheet->farm);
  g_autoptr (BedImportAnswer) first = bed_import_answer_new (), second = bed_import_answer_new ();
  g_autoptr (GError) error = NULL;

  if (*stops)
    return;
  give_answers (sheet);
  int rows = bring (sheet, first);
  g_assert_cmpint (rows, >, 0);
  check_records (sheet, first->added);
  g_autofree char *brought = scene_dump (sheet->farm);
  g_autofree char *matching = bed_notebook_dup_matching (sheet->notebook);
  bed_notebook_free (sheet->notebook);
  sheet->notebook = open_sheet (sheet->farm, sheet->name);
  g_autofree char *kept = bed_csv_dup_matching (sheet->farm, sheet->notebook);
  g_assert_cmpstr (kept, ==, matching);
  give_answers_again (sheet);
  g_assert_cmpint (bring (sheet, second), ==, 0);
  g_autofree char *again = scene_dump (sheet->farm);
  g_assert_cmpstr (again, ==, brought);
  bed_history_undo (sheet->farm, NULL, &error);
  g_assert_no_error (error);
  g_autofree char *after = scene_dump (sheet->farm);
  g_assert_cmpstr (after, ==, before);
}

/* --- how many decisions ------------------------------------------------------------------ */

/* At least thirty files, and 25 of them by at most five decisions each. */
static void
test_few_decisions (void)
{
  gsize n;
  g_auto (GStrv) names = g_key_file_get_groups (expected, &n);
  guint easy = 0;

  for (char **name = names; *name; name++)
    {
      g_autofree char *answers = g_key_file_get_string (expected, *name, "answers", NULL);
      g_auto (GStrv) each = g_strsplit (answers ? answers : "", "|", -1);
      easy += g_strv_length (each) <= MOST_DECISIONS
              && !g_key_file_has_key (expected, *name, "stops", NULL);
    }
  g_assert_cmpuint (n, >=, 30);
  g_assert_cmpuint (easy, >=, 25);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_autoptr (GError) error = NULL;
  folder = argv[1];
  g_autofree char *path = g_build_filename (folder, "expect.ini", NULL);
  expected = g_key_file_new ();
  g_key_file_load_from_file (expected, path, G_KEY_FILE_NONE, &error);
  g_assert_no_error (error);
  g_auto (GStrv) names = g_key_file_get_groups (expected, NULL);

  for (char **name = names; *name; name++)
    {
      g_autofree char *test = g_strconcat ("/notebook/sheet/", *name, NULL);
      g_autofree char *kept = g_strconcat ("/notebook/matching/", *name, NULL);
      g_test_add (test, Sheet, *name, set_up, test_sheet, tear_down);
      g_autofree char *brought = g_strconcat ("/notebook/brought/", *name, NULL);
      g_test_add (kept, Sheet, *name, set_up, test_matching, tear_down);
      g_test_add (brought, Sheet, *name, set_up, test_bring, tear_down);
    }
  g_test_add_func ("/notebook/few-decisions", test_few_decisions);
  int status = g_test_run ();
  g_key_file_unref (expected);
  for (gsize i = 0; i < G_N_ELEMENTS (scenes); i++)
    if (scenes[i].farm)
      scene_tear_down (&scenes[i], NULL);
  return status;
}
