/* An import in rounds, what it knows to be there already, what it amends and what it answers. */
#include "../ask.h"

#include "model_test.h"

#include <glib/gstdio.h>

#include "model/csv/csv.h"

typedef struct
{
  int n;
  GPtrArray *faults;
  BedImportAnswer *answer;
  GError *error;
} Done;

static void
clear_done (Done *done)
{
  g_clear_pointer (&done->faults, g_ptr_array_unref);
  g_clear_pointer (&done->answer, bed_import_answer_free);
  g_clear_error (&done->error);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Done, clear_done)

/* @import says how; its kind and path are filled in. */
static Done
bring (Scene *scene, const char *kind, const char *text, BedImport import)
{
  g_autofree char *path = g_build_filename (scene->folder, "some.csv", NULL);
  Done done = { .answer = bed_import_answer_new () };

  g_assert_true (g_file_set_contents (path, text, -1, NULL));
  import.kind = bed_kind_from_name (kind);
  import.path = path;
  import.answer = done.answer;
  done.n = bed_csv_import (scene->farm, &import, &done.faults, &done.error);
  for (guint i = 0; i < done.faults->len; i++)
    {
      g_autofree char *said = bed_csv_fault_dup_text (done.faults->pdata[i]);
      g_test_message ("%s", said);
    }
  g_unlink (path);
  return done;
}

static gint64
one (Scene *scene, const char *sql)
{
  return ask_one (scene->farm, sql, 0);
}

static gint64
count_changes (Scene *scene)
{
  return one (scene, "SELECT count (*) FROM change");
}

static const BedCsvFault *
fault_at (const Done *done, guint i)
{
  g_assert_cmpuint (done->faults->len, >, i);
  return done->faults->pdata[i];
}

/* --- rounds ----------------------------------------------------------------------- */

/* Picks of the batch's logs in turn, 2,600 of them. */
static char *
many_picks (const char *in_line_2501)
{
  GString *csv = g_string_new ("picked_on,log,grade,mass (g),notes\n");

  for (int line = 2; line <= 2601; line++)
    if (line == 2501 && in_line_2501)
      g_string_append (csv, in_line_2501);
    else
      g_string_append_printf (csv, "2026-0%d-%02d,26A-%03d,A,%d,\n", 4 + line % 2, 1 + line % 11,
                              1 + line % 24, 1 + line % 90);
  return g_string_free (csv, FALSE);
}

static void
test_rounds (Scene *scene, gconstpointer data)
{
  g_autofree char *csv = many_picks (NULL);
  g_autoptr (GError) error = NULL;

  scene_batch (scene->farm, 24);
  g_autofree char *before = scene_dump (scene->farm);
  gint64 changes = count_changes (scene), mass = 0;
  for (int line = 2; line <= 2601; line++)
    mass += 1000 * (1 + line % 90);
  g_auto (Done) done = bring (scene, "pick", csv, (BedImport){ 0 });
  g_assert_cmpint (done.n, ==, 2600);
  g_assert_cmpint (one (scene, "SELECT count (*) FROM pick"), ==, 2600);
  g_assert_cmpint (one (scene, "SELECT sum (mass) FROM pick"), ==, mass);
  g_assert_cmpint (count_changes (scene), ==, changes + 1);
  g_assert_cmpuint (done.answer->added[BED_KIND_PICK], ==, 2600);
  g_assert_cmpuint (done.answer->totals->len, ==, 1);
  g_assert_cmpint (g_array_index (done.answer->totals, BedImportTotal, 0).sum, ==, mass);
  g_assert_true (bed_history_undo (scene->farm, NULL, &error));
  g_autofree char *after = scene_dump (scene->farm);
  g_assert_cmpstr (before, ==, after);
}

/* A rule that is broken in the third round, by a record that is no longer in memory. */
static void
test_faults_of_rounds (Scene *scene, gconstpointer data)
{
  static const struct
  {
    const char *row;
    guint column;
    const char *words;
  } rows[] = {
    { "2026-01-02,26A-001,A,100,\n", 1, "before it was inoculated" },
    { "2026-05-02,26A-001,Q,100,\n", 3, "none of" },
    { "2026-12-31,26A-001,A,100,\n", 1, "in the future" },
    { "2026-05-02,26A-099,A,100,\n", 2, "no log" },
  };

  scene_batch (scene->farm, 24);
  g_autofree char *before = scene_dump (scene->farm);
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree char *csv = many_picks (rows[i].row);
      g_auto (Done) done = bring (scene, "pick", csv, (BedImport){ 0 });
      g_assert_error (done.error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
      g_assert_cmpuint (done.faults->len, ==, 1);
      g_assert_cmpuint (fault_at (&done, 0)->line, ==, 2501);
      g_assert_cmpuint (fault_at (&done, 0)->column, ==, rows[i].column);
      g_assert_nonnull (strstr (fault_at (&done, 0)->message, rows[i].words));
      g_autofree char *after = scene_dump (scene->farm);
      g_assert_cmpstr (before, ==, after);
    }
}

/* A log that is refused in the first round is no fault of what refers to it in the next. */
static void
test_refused_is_not_echoed (Scene *scene, gconstpointer data)
{
  g_autofree char *felling = g_build_filename (scene->folder, "log.csv", NULL);
  g_autofree char *pick = g_build_filename (scene->folder, "pick.csv", NULL);
  g_autofree char *csv = many_picks ("2026-05-02,X-1,A,100,\n");
  BedImport import = { .path = scene->folder };
  g_autoptr (GPtrArray) faults = NULL;

  scene_batch (scene->farm, 24);
  g_assert_true (g_file_set_contents (felling,
                                      "code,felling,batch,length (cm),small_diameter (cm)\n"
                                      "X-1,F26-1,26A,5,10\n", /* too short: a fault of the field */
                                      -1, NULL));
  g_assert_true (g_file_set_contents (pick, csv, -1, NULL));
  g_assert_cmpint (bed_csv_import_all (scene->farm, &import, &faults, NULL), ==, -1);
  g_assert_cmpuint (faults->len, ==, 1);
  g_assert_nonnull (strstr (((BedCsvFault *) faults->pdata[0])->file, "log.csv"));
  g_unlink (felling);
  g_unlink (pick);
}

/* Codes that the farm gives in one file are names in the next. */
static void
test_codes_given (Scene *scene, gconstpointer data)
{
  g_autofree char *log = g_build_filename (scene->folder, "log.csv", NULL);
  g_autofree char *pick = g_build_filename (scene->folder, "pick.csv", NULL);
  BedImport import = { .path = scene->folder };
  g_autoptr (GPtrArray) faults = NULL;
  g_autoptr (GError) error = NULL;

  scene_batch (scene->farm, 2);
  g_assert_true (g_file_set_contents (log,
                                      "felling,batch,length (cm),small_diameter (cm)\n"
                                      "F26-1,26A,100,11\nF26-1,26A,100,12\n",
                                      -1, NULL));
  g_assert_true (g_file_set_contents (pick,
                                      "picked_on,log,grade,mass (g)\n"
                                      "2026-05-02,26A-004,A,100\n",
                                      -1, NULL));
  g_assert_cmpint (bed_csv_import_all (scene->farm, &import, &faults, &error), ==, 3);
  g_assert_no_error (error);
  g_assert_cmpint (one (scene, "SELECT l.small_diameter FROM pick p JOIN log l ON l.id = p.log"),
                   ==, 120000);
  g_unlink (log);
  g_unlink (pick);
}

static void
cancel_cb (guint rows, gpointer data)
{
  if (rows >= 2000)
    g_cancellable_cancel (data);
}

static void
test_cancelled (Scene *scene, gconstpointer data)
{
  g_autofree char *csv = many_picks (NULL);
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();

  scene_batch (scene->farm, 24);
  g_autofree char *before = scene_dump (scene->farm);
  g_auto (Done) done = bring (scene, "pick", csv,
                              (BedImport){ .cancellable = cancellable,
                                           .progress = cancel_cb,
                                           .progress_data = cancellable });
  g_assert_error (done.error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_assert_cmpuint (done.faults->len, ==, 0);
  g_autofree char *after = scene_dump (scene->farm);
  g_assert_cmpstr (before, ==, after);
  /* The lock is given back. */
  g_auto (Done) again = bring (scene, "stand", "name\nRidge\n", (BedImport){ 0 });
  g_assert_cmpint (again.n, ==, 1);
}

static void
test_alike (Scene *scene, gconstpointer data)
{
  g_autoptr (GString) csv = g_string_new ("fell_on,depth (mm)\n");

  for (int i = 1; i <= 12; i++)
    g_string_append_printf (csv, "%d-May-26,3\n", i);
  g_auto (Done) done = bring (scene, "rain", csv->str, (BedImport){ 0 });
  g_assert_cmpuint (done.faults->len, ==, 3);
  g_assert_cmpuint (fault_at (&done, 0)->more, ==, 0);
  g_assert_cmpuint (fault_at (&done, 2)->line, ==, 4);
  g_assert_cmpuint (fault_at (&done, 2)->more, ==, 9);
  g_assert_cmpuint (fault_at (&done, 2)->to_line, ==, 13);
  g_assert_nonnull (strstr (done.error->message, "and 11 faults more"));
}

/* --- known ------------------------------------------------------------------------ */

static void
test_twice (Scene *scene, gconstpointer data)
{
  static const char csv[] = "picked_on,log,grade,mass (g)\n2026-05-02,26A-001,A,100\n"
                            "2026-05-02,26A-001,A,100\n2026-05-03,26A-002,B,50\n";

  scene_batch (scene->farm, 2);
  g_auto (Done) first = bring (scene, "pick", csv, (BedImport){ 0 });
  g_assert_cmpint (first.n, ==, 3);
  gint64 changes = count_changes (scene);
  g_auto (Done) second = bring (scene, "pick", csv, (BedImport){ 0 });
  g_assert_error (second.error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
  g_assert_nonnull (strstr (second.error->message, "in the farm already"));
  g_auto (Done) skipped = bring (scene, "pick", csv, (BedImport){ .known = BED_KNOWN_SKIPPED });
  g_assert_cmpint (skipped.n, ==, 0);
  g_assert_cmpuint (skipped.answer->known[BED_KIND_PICK], ==, 3);
  g_assert_cmpint (count_changes (scene), ==, changes);
  g_auto (Done) added = bring (scene, "pick", csv, (BedImport){ .known = BED_KNOWN_ADDED });
  g_assert_cmpint (added.n, ==, 3);
  g_assert_cmpint (one (scene, "SELECT count (*) FROM pick"), ==, 6);
}

/* What has names: the same is known, another is not silently left out. */
static void
test_known_by_name (Scene *scene, gconstpointer data)
{
  static const char csv[] = "name,owner\nRidge,\nBrook,a neighbour\n";

  g_auto (Done) first = bring (scene, "stand", csv, (BedImport){ 0 });
  g_assert_cmpint (first.n, ==, 2);
  g_auto (Done) skipped = bring (scene, "stand", csv, (BedImport){ .known = BED_KNOWN_SKIPPED });
  g_assert_cmpint (skipped.n, ==, 0);
  g_assert_cmpuint (skipped.answer->known[BED_KIND_STAND], ==, 2);
  g_auto (Done) other = bring (scene, "stand", "name,owner\nRidge,\nbrook,ourselves\nHill,\n",
                               (BedImport){ .known = BED_KNOWN_SKIPPED });
  g_assert_error (other.error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
  g_assert_cmpuint (fault_at (&other, 0)->line, ==, 3);
}

/* Random heaps of a few sorts of picks: of each sort as many are added as the farm lacks. */
static void
test_heaps (Scene *scene, gconstpointer data)
{
  g_autoptr (GRand) chance = g_rand_new_with_seed (11);
  int had[6] = { 0 };

  scene_batch (scene->farm, 2);
  for (int round = 0; round < 40; round++)
    {
      g_autoptr (GString) csv = g_string_new ("grade,picked_on,batch,mass (g),picker\n");
      int brought[6] = { 0 }, added = 0, rows = g_rand_int_range (chance, 0, 12);
      for (int i = 0; i < rows; i++)
        {
          int sort = g_rand_int_range (chance, 0, 6);
          brought[sort]++;
          g_string_append_printf (csv, "A,2026-05-0%d,26A,%d,%s\n", 1 + sort % 3, 10 + sort / 3,
                                  sort == 4 ? "" : "D");
        }
      g_auto (Done) done
          = bring (scene, "pick", csv->str, (BedImport){ .known = BED_KNOWN_SKIPPED });
      for (int sort = 0; sort < 6; sort++)
        {
          added += MAX (brought[sort] - had[sort], 0);
          had[sort] = MAX (had[sort], brought[sort]);
        }
      g_assert_cmpint (done.n, ==, added);
      g_assert_cmpuint (done.answer->known[BED_KIND_PICK], ==, rows - added);
    }
  g_assert_cmpint (one (scene, "SELECT count (*) FROM pick"), ==,
                   had[0] + had[1] + had[2] + had[3] + had[4] + had[5]);
}

/* --- amended ---------------------------------------------------------------------- */

static void
assert_change (const Done *done, guint i, const char *name, const char *from, const char *to)
{
  g_assert_cmpuint (done->answer->changes->len, >, i);
  const BedImportChange *change = done->answer->changes->pdata[i];
  g_autofree char *is = g_strdup_printf ("%s %s %s -> %s", change->name, change->field->name,
                                         change->from, change->to);
  g_autofree char *wanted = g_strdup_printf ("%s %s -> %s", name, from, to);
  g_assert_cmpstr (is, ==, wanted);
}

static void
test_amend (Scene *scene, gconstpointer data)
{
  static const char csv[] = "code,retired_on,retired_why\n26A-001,2026-05-01,spent\n"
                            "26A-002,,\n";
  const BedImport amend = { .differs = BED_DIFFERS_AMENDED };
  BedImport rehearse = amend;

  scene_batch (scene->farm, 3);
  g_autofree char *before = scene_dump (scene->farm);
  rehearse.mode = BED_IMPORT_DRY_RUN;
  g_auto (Done) shown = bring (scene, "log", csv, rehearse);
  g_assert_cmpint (shown.n, ==, 1);
  assert_change (&shown, 1, "26A-001-0", "retired_why ", "spent");
  g_autofree char *after = scene_dump (scene->farm);
  g_assert_cmpstr (before, ==, after);
  g_auto (Done) done = bring (scene, "log", csv, amend);
  g_assert_cmpint (done.n, ==, 1);
  g_assert_cmpuint (done.answer->amended[BED_KIND_LOG], ==, 1);
  g_assert_cmpuint (done.answer->known[BED_KIND_LOG], ==, 1);
  g_assert_cmpuint (done.answer->n_changes, ==, 2);
  g_assert_cmpint (one (scene, "SELECT count (*) FROM log WHERE retired_on = '2026-05-01'"), ==, 1);
  /* An empty cell empties; rules hold. */
  g_auto (Done) emptied = bring (scene, "log", "code,retired_on,retired_why\n26A-001,,\n", amend);
  g_assert_cmpuint (emptied.answer->n_changes, ==, 2);
  g_assert_cmpint (one (scene, "SELECT count (*) FROM log WHERE retired_on IS NOT NULL"), ==, 0);
  g_auto (Done) broken = bring (scene, "log", "code,retired_on\n26A-001,2026-05-01\n", amend);
  g_assert_error (broken.error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
  g_assert_cmpuint (fault_at (&broken, 0)->line, ==, 2);
  g_auto (Done) unknown = bring (scene, "log", "code,notes\n26A-009,lost\n", amend);
  g_assert_error (unknown.error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
  g_assert_nonnull (strstr (fault_at (&unknown, 0)->message, "no log “26A-009"));
  g_auto (Done) twice = bring (scene, "log", "code,notes\n26A-001,a\n26A-001,b\n", amend);
  g_assert_nonnull (strstr (fault_at (&twice, 0)->message, "is there twice"));
}

#define ADD(name, function)                                                                        \
  g_test_add ("/csv-stream/" name, Scene, NULL, scene_set_up, function, scene_tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("rounds", test_rounds);
  ADD ("faults-of-rounds", test_faults_of_rounds);
  ADD ("refused-is-not-echoed", test_refused_is_not_echoed);
  ADD ("codes-given", test_codes_given);
  ADD ("cancelled", test_cancelled);
  ADD ("alike", test_alike);
  ADD ("twice", test_twice);
  ADD ("known-by-name", test_known_by_name);
  ADD ("heaps", test_heaps);
  ADD ("amend", test_amend);
  return g_test_run ();
}
