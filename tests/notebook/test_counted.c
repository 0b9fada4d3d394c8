/* Batches of which only the number of logs is known, lists of them that come later, and totals. */
#include "../ask.h"
#include "../model/model_test.h"

#include <glib/gstdio.h>
#include <string.h>

#include "model/csv/csv_bring.h"
#include "model/farm/kinds.h"
#include "model/notebook/notebook.h"

#define HEAD "Batch,Inoculated,Method,Number of logs\n"
#define NUMBERS HEAD "Spring,2022-03-12,drilled,3\nFall,2022-10-30,drilled,2\n"
#define LIST_HEAD "Log,Batch,Inoculated,Method,Wood,Felled,Length (cm),Diameter (cm)\n"
#define ROW(log, batch) log "," batch ",2022-03-12,drilled,white oak,2022-02-01,110,14\n"

/* The same answers for all, those that are not asked for left out. */
static const char *const answers[][2] = {
  { "need:felling.felled_on", "=batch.inoculated_on" },
  { "need:felling.wood", "=unknown" },
  { "need:log.length", "100 cm" },
  { "need:log.small_diameter", "12 cm" },
  { "need:log.retired_why", "spent" },
  { "need:log.retired_on", "2025-06-01" },
  { "need:pick.grade", "unknown" },
};

static BedNotebook *
read_text (Scene *scene, const char *text)
{
  g_autoptr (GBytes) bytes = g_bytes_new (text, strlen (text));
  g_autoptr (GError) error = NULL;
  BedRows *rows = bed_rows_open_bytes (bytes, NULL, &error);

  g_assert_no_error (error);
  BedNotebook *notebook = bed_notebook_new (scene->farm, rows, &error);
  g_assert_no_error (error);
  for (gsize i = 0; i < G_N_ELEMENTS (answers); i++)
    bed_notebook_answer (notebook, answers[i][0], answers[i][1], NULL);
  return notebook;
}

static BedImportAnswer *
bring_notebook (Scene *scene, BedNotebook *notebook)
{
  BedImportAnswer *answer = bed_import_answer_new ();
  const BedImport import = { .path = "sheet.csv", .answer = answer };
  g_autoptr (GPtrArray) faults = NULL;
  g_autoptr (GError) error = NULL;

  bed_csv_bring (scene->farm, notebook, &import, &faults, &error);
  for (guint i = 0; faults && i < faults->len; i++)
    {
      g_autofree char *text = bed_csv_fault_dup_text (faults->pdata[i]);
      g_test_message ("%s", text);
      /* When logs that are only counted were felled, nobody wrote down. */
      g_assert_null (strstr (text, "this farm waits"));
    }
  g_assert_no_error (error);
  return answer;
}

static BedImportAnswer *
bring (Scene *scene, const char *text)
{
  g_autoptr (BedNotebook) notebook = read_text (scene, text);

  return bring_notebook (scene, notebook);
}

static gint64
count (Scene *scene, const char *where)
{
  g_autofree char *sql = g_strdup_printf (
      "SELECT count (*) FROM log l JOIN batch b ON b.id = l.batch WHERE %s", where);

  return ask_one (scene->farm, sql, 0);
}

static char *
dup_code (Scene *scene, const char *like)
{
  g_autoptr (BedQuery) q = bed_query_new (scene->farm, "SELECT code FROM log WHERE code LIKE ?1");

  bed_query_bind_text (q, 1, like);
  g_assert_true (bed_query_next (q));
  return g_strdup (bed_query_text (q, 0));
}

static void
assert_logs (const BedImportAnswer *answer, guint added, guint listed, guint known)
{
  g_assert_cmpuint (answer->added[BED_KIND_LOG], ==, added);
  g_assert_cmpuint (answer->listed, ==, listed);
  g_assert_cmpuint (answer->known[BED_KIND_LOG], ==, known);
}

/* --- numbers --------------------------------------------------------------------------- */

static void
test_number (Scene *scene, gconstpointer units)
{
  g_autoptr (BedImportAnswer) answer = bring (scene, NUMBERS);

  assert_logs (answer, 5, 0, 0);
  g_assert_cmpint (count (scene, "l.counted = 'yes' AND l.length = 1000000"
                                 " AND l.small_diameter = 120000"),
                   ==, 5);
  g_assert_cmpint (count (scene, "b.code = 'Spring' AND l.code LIKE 'Spring-00%'"), ==, 3);
  g_assert_cmpint (
      ask_one (scene->farm,
               "SELECT count (*) FROM felling f JOIN wood w ON w.id = f.wood"
               " WHERE w.basic_density IS NULL AND f.felled_on IN ('2022-03-12', '2022-10-30')",
               0),
      ==, 2);
  /* The same once more, and a higher number. */
  g_autoptr (BedImportAnswer) again = bring (scene, NUMBERS);
  assert_logs (again, 0, 0, 5);
  g_autoptr (BedImportAnswer) more = bring (scene, HEAD "Spring,2022-03-12,drilled,7\n");
  assert_logs (more, 4, 0, 3);
}

static void
test_left (Scene *scene, gconstpointer units)
{
  g_autoptr (BedImportAnswer) answer
      = bring (scene, "Batch,Inoculated,Method,Number of logs,Alive,Retired\n"
                      "A,2022-03-12,drilled,5,2,2025-11-01\n" /* three were retired that day */
                      "B,2022-03-12,drilled,4,,2025-10-01\n"  /* all */
                      "C,2022-03-12,drilled,3,3,\n"           /* none */
                      "D,2022-03-12,drilled,3,0,\n"           /* all, one does not know when */
                      "E,2022-03-12,drilled,,6,\n"            /* nobody counted the others */
                      "F,2022-03-12,drilled,,,\n");

  assert_logs (answer, 21, 0, 0);
  g_assert_cmpint (count (scene, "b.code = 'A' AND l.retired_on = '2025-11-01'"), ==, 3);
  g_assert_cmpint (count (scene, "b.code = 'A' AND l.retired_why IS NULL"), ==, 2);
  g_assert_cmpint (count (scene, "b.code = 'B' AND l.retired_on = '2025-10-01'"), ==, 4);
  g_assert_cmpint (count (scene, "b.code = 'C' AND l.retired_on IS NULL"), ==, 3);
  g_assert_cmpint (count (scene, "b.code = 'D' AND l.retired_on = '2025-06-01'"), ==, 3);
  g_assert_cmpint (count (scene, "b.code = 'E' AND l.retired_on IS NULL"), ==, 6);
  g_assert_cmpint (count (scene, "b.code = 'F'"), ==, 0);
}

static void
test_too_many_left (Scene *scene, gconstpointer units)
{
  static const char text[] = "Batch,Inoculated,Method,Number of logs,Left\n"
                             "A,2022-03-12,drilled,4,4\nB,2022-03-12,drilled,4,5\n";
  static const struct
  {
    const char *answer;
    guint logs;
  } cases[] = { { "logs", 8 }, { "left", 9 }, { "out", 4 } };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (BedNotebook) notebook = read_text (scene, text);
      g_autoptr (GError) error = NULL;
      g_assert_cmpuint (bed_notebook_count_open (notebook), ==, 1);
      bed_notebook_answer (notebook, "left", cases[i].answer, &error);
      g_assert_no_error (error);
      g_assert_cmpuint (bed_notebook_count_open (notebook), ==, 0);
      g_assert_cmpuint (bed_notebook_count_records (notebook, BED_KIND_LOG), ==, cases[i].logs);
    }
}

/* The day of felling is that of inoculation, also where somebody had to say that. */
static void
test_day_said (Scene *scene, gconstpointer units)
{
  g_autoptr (BedNotebook) notebook = read_text (scene, HEAD "A,2022-03-12,drilled,2\n"
                                                            "B,,drilled,3\n");
  g_autoptr (GError) error = NULL;

  g_assert_cmpuint (bed_notebook_count_open (notebook), ==, 1);
  bed_notebook_answer (notebook, "need:batch.inoculated_on", "2023-04-01", &error);
  g_assert_no_error (error);
  g_autoptr (BedImportAnswer) answer = bring_notebook (scene, notebook);
  assert_logs (answer, 5, 0, 0);
  g_assert_cmpint (ask_one (scene->farm,
                            "SELECT count (*) FROM felling"
                            " WHERE felled_on IN ('2022-03-12', '2023-04-01')",
                            0),
                   ==, 2);
}

/* A number that is none is asked about, and one may be typed for it. */
static void
test_no_number (Scene *scene, gconstpointer units)
{
  g_autoptr (BedNotebook) notebook = read_text (scene, HEAD "A,2022-03-12,drilled,many\n"
                                                            "B,2022-03-12,drilled,9999999\n"
                                                            "C,2022-03-12,drilled,3\n");
  g_autoptr (GError) error = NULL;

  g_assert_false (bed_notebook_answer (notebook, "odd:3", "5001", &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
  g_clear_error (&error);
  bed_notebook_answer (notebook, "odd:3", "50", &error);
  g_assert_no_error (error);
  g_assert_cmpuint (bed_notebook_count_records (notebook, BED_KIND_LOG), ==, 103);
  bed_notebook_answer (notebook, "odd:3", "empty", &error);
  g_assert_no_error (error);
  g_assert_cmpuint (bed_notebook_count_records (notebook, BED_KIND_LOG), ==, 3);
}

/* What the farm's logs measure is what others probably do. */
static void
test_sizes_offered (Scene *scene, gconstpointer units)
{
  g_autoptr (GBytes) bytes = g_bytes_new (NUMBERS, strlen (NUMBERS));

  for (guint i = 0; i < 2; i++)
    {
      BedRows *rows = bed_rows_open_bytes (bytes, NULL, NULL);
      g_autoptr (BedNotebook) notebook = bed_notebook_new (scene->farm, rows, NULL);
      guint n;
      const BedNotebookQuestion *questions = bed_notebook_get_questions (notebook, &n);
      g_assert_cmpuint (n, ==, 4);
      for (guint q = 0; q < n; q++)
        if (strcmp (questions[q].key, "need:log.small_diameter") == 0)
          g_assert_cmpstr (questions[q].offer, ==, i == 0 ? "12 cm" : "10 cm");
        else if (strcmp (questions[q].key, "need:felling.felled_on") == 0)
          g_assert_cmpstr (questions[q].offer, ==, "=batch.inoculated_on");
      if (i == 0)
        scene_batch (scene->farm, 2);
    }
}

/* --- lists ----------------------------------------------------------------------------- */

static void
test_list (Scene *scene, gconstpointer units)
{
  g_autoptr (BedImportAnswer) numbers = bring (scene, NUMBERS);
  static const char list[] = LIST_HEAD ROW ("1", "Spring") ROW ("2", "Spring");
  g_autoptr (BedImportAnswer) answer = bring (scene, list);

  assert_logs (numbers, 5, 0, 0);
  assert_logs (answer, 0, 2, 0);
  g_assert_cmpint (count (scene, "b.code = 'Spring'"), ==, 3);
  g_assert_cmpint (count (scene, "b.code = 'Spring' AND l.counted IS NULL AND l.mark IN ('1', '2')"
                                 " AND l.length = 1100000 AND l.code LIKE 'Spring-00%'"),
                   ==, 2);
  g_autoptr (BedImportAnswer) again = bring (scene, list);
  assert_logs (again, 0, 0, 2);
  g_autoptr (BedImportAnswer) more
      = bring (scene, LIST_HEAD ROW ("3", "Spring") ROW ("4", "Spring"));
  assert_logs (more, 1, 1, 0);
  g_assert_cmpint (count (scene, "b.code = 'Spring' AND l.counted = 'yes'"), ==, 0);
  g_assert_cmpint (count (scene, "b.code = 'Fall' AND l.counted = 'yes'"), ==, 2);
  /* And the numbers after the list. */
  g_autoptr (BedImportAnswer) last = bring (scene, NUMBERS);
  assert_logs (last, 0, 0, 5);
}

/* What anything hangs on stays what it is. */
static void
test_list_beside (Scene *scene, gconstpointer units)
{
  g_autoptr (BedImportAnswer) numbers = bring (scene, NUMBERS);

  g_autofree char *one = dup_code (scene, "Spring-001%"), *two = dup_code (scene, "Spring-002%");
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_PICK, "picked_on", "2024-05-01",
                                        "log", one, "grade", "A", "mass", "100", NULL));
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_WEIGHING, "weighed_on", "2024-05-01",
                                        "log", two, "mass", "9 kg", NULL));
  g_autoptr (BedImportAnswer) answer
      = bring (scene, LIST_HEAD ROW ("1", "Spring") ROW ("2", "Spring"));
  assert_logs (numbers, 5, 0, 0);
  assert_logs (answer, 1, 1, 0);
  g_assert_cmpint (count (scene, "b.code = 'Spring' AND l.counted = 'yes'"), ==, 2);
}

/* Those retired are met by those retired. */
static void
test_list_of_retired (Scene *scene, gconstpointer units)
{
  g_autoptr (BedImportAnswer) numbers
      = bring (scene, "Batch,Inoculated,Method,Number of logs,Alive,Retired\n"
                      "Spring,2022-03-12,drilled,2,1,2025-11-01\n");
  g_autoptr (BedImportAnswer) answer
      = bring (scene, "Log,Batch,Inoculated,Method,Wood,Felled,Length (cm),Diameter (cm),Retired\n"
                      "7,Spring,2022-03-12,drilled,white oak,2022-02-01,110,14,2025-10-30\n");

  assert_logs (numbers, 2, 0, 0);
  assert_logs (answer, 0, 1, 0);
  g_assert_cmpint (count (scene, "l.mark = '7' AND l.retired_on = '2025-10-30'"), ==, 1);
  g_assert_cmpint (count (scene, "l.counted = 'yes' AND l.retired_on IS NULL"), ==, 1);
}

/* A file written as ours, by codes or without. */
static void
test_list_as_ours (Scene *scene, gconstpointer units)
{
  g_autoptr (BedImportAnswer) numbers = bring (scene, NUMBERS), answer = bed_import_answer_new ();
  g_autofree char *path = g_build_filename (scene->folder, "log.csv", NULL);
  g_autofree char *code = NULL;
  g_autoptr (GPtrArray) faults = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (BedQuery) q = bed_query_new (scene->farm,
                                          "SELECT l.code, f.code FROM log l JOIN felling f"
                                          " ON f.id = l.felling WHERE l.code LIKE 'Fall-002%'");

  g_assert_true (bed_query_next (q));
  code = g_strdup_printf ("code,felling,batch,mark,length (mm),small_diameter (mm)\n"
                          "%s,%s,Fall,x,900,90\n,%s,Fall,y,900,90\n,%s,Fall,z,900,90\n",
                          bed_query_text (q, 0), bed_query_text (q, 1), bed_query_text (q, 1),
                          bed_query_text (q, 1));
  g_clear_pointer (&q, bed_query_free);
  g_file_set_contents (path, code, -1, &error);
  g_assert_no_error (error);
  const BedImport import = { .kind = BED_KIND_LOG, .path = path, .answer = answer };
  g_assert_cmpint (bed_csv_import (scene->farm, &import, &faults, &error), ==, 3);
  g_unlink (path);
  assert_logs (numbers, 5, 0, 0);
  assert_logs (answer, 1, 2, 0);
  g_assert_cmpint (count (scene, "b.code = 'Fall' AND l.counted IS NULL"), ==, 3);
  g_assert_cmpint (count (scene, "b.code = 'Fall' AND l.counted = 'yes'"), ==, 0);
}

/* What became of logs, by their codes, does not make a list of them. */
static void
test_amended (Scene *scene, gconstpointer units)
{
  g_autoptr (BedImportAnswer) numbers = bring (scene, NUMBERS), answer = bed_import_answer_new ();
  g_autofree char *path = g_build_filename (scene->folder, "log.csv", NULL);
  g_autofree char *code = dup_code (scene, "Fall-002%");
  g_autofree char *text
      = g_strdup_printf ("code,retired_on,retired_why\n%s,2025-01-01,spent\n", code);
  g_autoptr (GPtrArray) faults = NULL;
  g_autoptr (GError) error = NULL;
  const BedImport import
      = { .kind = BED_KIND_LOG, .path = path, .answer = answer, .differs = BED_DIFFERS_AMENDED };

  g_file_set_contents (path, text, -1, &error);
  g_assert_no_error (error);
  g_assert_cmpint (bed_csv_import (scene->farm, &import, &faults, &error), ==, 1);
  g_unlink (path);
  assert_logs (numbers, 5, 0, 0);
  assert_logs (answer, 0, 0, 0);
  g_assert_cmpuint (answer->amended[BED_KIND_LOG], ==, 1);
  g_assert_cmpint (count (scene, "l.counted = 'yes' AND l.retired_on = '2025-01-01'"), ==, 1);
}

/* --- totals ---------------------------------------------------------------------------- */

/* A season is one of the farm's, and a total begins no earlier than its batch. */
static void
test_seasons (Scene *scene, gconstpointer units)
{
  g_autoptr (BedRecord) settings = bed_record_copy (bed_farm_get_settings (scene->farm));

  bed_record_set_text (settings, "season_start", "10-01");
  scene_add (scene->farm, g_steal_pointer (&settings));
  g_autoptr (BedImportAnswer) numbers = bring (scene, NUMBERS);
  g_autoptr (BedImportAnswer) answer = bring (scene, "Season,Batch,Weight (g)\n"
                                                     "2021,Spring,100\n" /* begun in March */
                                                     "2023,Spring,2000\n"
                                                     "2025,Spring,30\n"); /* running */
  g_autoptr (BedQuery) q = bed_query_new (
      scene->farm, "SELECT group_concat (since || ' ' || picked_on || ' ' || (mass / 1000), ', ')"
                   " FROM (SELECT * FROM pick ORDER BY since)");

  g_assert_cmpuint (numbers->added[BED_KIND_LOG], ==, 5);
  g_assert_cmpuint (answer->added[BED_KIND_PICK], ==, 3);
  g_assert_true (bed_query_next (q));
  g_assert_cmpstr (bed_query_text (q, 0), ==,
                   "2022-03-12 2022-09-30 100, 2023-10-01 2024-09-30 2000,"
                   " 2025-10-01 2026-05-12 30");
}

/* Of what was bought, worked and sold it stays one, of which the day is not known. */
static void
test_notes (Scene *scene, gconstpointer units)
{
  static const char *const sheets[]
      = { "Month,Item,Category,For,Amount,Notes\nMar 2023,Wax,wax,season,64.50,soft\n",
          "Month,Task,Hours\nMar 2023,drilling,12\n",
          "Month,Customer,Weight (g),Total,Form\nMar 2023,Stand,900,32,fresh\n" };
  static const char *const asked[]
      = { "SELECT notes LIKE '%day is not known; soft' AND bought_on = '2023-03-31' FROM purchase",
          ("SELECT notes LIKE '%1 %2023%31 %day is not known' AND worked_on = '2023-03-31'"
           " FROM hours"),
          "SELECT notes LIKE '%day is not known' AND sold_on = '2023-03-31' FROM sale" };

  for (gsize i = 0; i < G_N_ELEMENTS (sheets); i++)
    {
      g_autoptr (BedImportAnswer) answer = bring (scene, sheets[i]);
      g_assert_nonnull (answer);
      g_assert_cmpint (ask_one (scene->farm, asked[i], 0), ==, 1);
    }
}

/* A sheet that does not say when: of what time it is may be said of all of it. */
static void
test_typed (Scene *scene, gconstpointer units)
{
  static const struct
  {
    const char *answer, *since, *last;
  } cases[] = { { "2024", "2024-01-01", "2024-12-31" },
                { "May 2024", "2024-05-01", "2024-05-31" },
                { "2024-05", "2024-05-01", "2024-05-31" },
                { "2026", "2026-01-01", "2026-05-12" },
                { "2024-05-03", "-", "2024-05-03" } };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (BedNotebook) notebook = read_text (scene, "Batch,Weight (g)\n26A,100\n");
      g_autoptr (GError) error = NULL;
      if (i == 0)
        scene_batch (scene->farm, 1);
      g_assert_false (bed_notebook_answer (notebook, "need:pick.picked_on", "some day", &error));
      g_clear_error (&error);
      bed_notebook_answer (notebook, "need:pick.picked_on", cases[i].answer, &error);
      g_assert_no_error (error);
      bed_notebook_answer (notebook, "need:batch.method", "drilled", NULL);
      bed_notebook_answer (notebook, "need:batch.inoculated_on", "2020-01-01", NULL);
      bed_notebook_begin (notebook, &error);
      g_assert_no_error (error);
      const BedNotebookRow *row = bed_notebook_next (notebook, &error);
      BedRecord *pick = row->drafts[row->n_drafts - 1].record;
      const char *since = bed_record_get_text (pick, "since");
      g_assert_cmpstr (since ? since : "-", ==, cases[i].since);
      g_assert_cmpstr (bed_record_get_text (pick, "picked_on"), ==, cases[i].last);
    }
}

/* The two ends of a week, and one that the year's end cuts. */
static void
test_weeks (Scene *scene, gconstpointer units)
{
  g_autoptr (BedImportAnswer) numbers = bring (scene, NUMBERS);
  g_autoptr (BedImportAnswer) of = bring (scene, "Week of,Batch,Weight (g)\n2024-05-06,Spring,1\n");
  g_autoptr (BedImportAnswer) ending
      = bring (scene, "Week ending,Batch,Weight (g)\n2025-01-05,Spring,2\n");
  g_autoptr (BedQuery) q = bed_query_new (
      scene->farm, "SELECT group_concat (since || ' ' || picked_on || ' ' || (mass / 1000), ', ')"
                   " FROM (SELECT * FROM pick ORDER BY since)");

  g_assert_nonnull (numbers);
  g_assert_cmpuint (of->added[BED_KIND_PICK] + ending->added[BED_KIND_PICK], ==, 2);
  g_assert_true (bed_query_next (q));
  g_assert_cmpstr (bed_query_text (q, 0), ==, "2024-05-06 2024-05-12 1, 2025-01-01 2025-01-05 2");
}

/* What no column says and is as usual is one decision, gone back on in one. */
static void
test_usual (Scene *scene, gconstpointer units)
{
  g_autoptr (BedNotebook) notebook = read_text (
      scene, "Batch,Inoculated,Wood,Strain,Logs,Left\n19A,2019-04-02,red maple,WR,60,0\n"
             "20A,2020-04-09,sugar maple,WR,45,20\n");
  guint open = bed_notebook_count_open (notebook);
  guint before = bed_notebook_count_decisions (notebook);

  g_assert_cmpuint (open, ==, 4);
  g_assert_cmpuint (bed_notebook_count_usual (notebook), ==, open);
  bed_notebook_take_usual (notebook);
  g_assert_cmpuint (bed_notebook_count_open (notebook), ==, 0);
  g_assert_cmpuint (bed_notebook_count_decisions (notebook), ==, before + 1);
  g_assert_cmpuint (bed_notebook_count_records (notebook, BED_KIND_LOG), ==, 105);
  g_assert_true (bed_notebook_go_back (notebook));
  g_assert_cmpuint (bed_notebook_count_open (notebook), ==, open);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
#define ADD(path, run) g_test_add (path, Scene, "metric", scene_set_up, run, scene_tear_down)
  ADD ("/counted/number", test_number);
  ADD ("/counted/left", test_left);
  ADD ("/counted/too-many-left", test_too_many_left);
  ADD ("/counted/day-said", test_day_said);
  ADD ("/counted/no-number", test_no_number);
  ADD ("/counted/sizes", test_sizes_offered);
  ADD ("/counted/list", test_list);
  ADD ("/counted/list-beside", test_list_beside);
  ADD ("/counted/list-of-retired", test_list_of_retired);
  ADD ("/counted/list-as-ours", test_list_as_ours);
  ADD ("/counted/amended", test_amended);
  ADD ("/counted/seasons", test_seasons);
  ADD ("/counted/notes", test_notes);
  ADD ("/counted/weeks", test_weeks);
  ADD ("/counted/typed", test_typed);
  ADD ("/counted/usual", test_usual);
  return g_test_run ();
}
