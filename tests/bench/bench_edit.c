/* bench-edit FARM FOLDER: one edit, with its checks, its rules and its history, against the
 * same rows, the row of the history among them, written by SQLite alone with statements that are
 * ready and bound, at the same durability. Two copies of the farm in FOLDER grow alike, in turn. */
#include <gio/gio.h>
#include <glib/gstdio.h>

#include <sqlite3.h>

#include "../ask.h"
#include "bench.h"
#include "model/farm/edit.h"
#include "model/farm/farm_private.h"
#include "model/farm/query.h"

#define RUNS 31
#define MANY 24

typedef struct
{
  BedFarm *farm;
  sqlite3 *bare;
  char *path, *bare_path;
  int turn;
} Scene;

/* --- the two copies ---------------------------------------------------------- */

static void
copy_file (const char *from, const char *to)
{
  g_autoptr (GFile) source = g_file_new_for_path (from), copy = g_file_new_for_path (to);
  g_autoptr (GError) error = NULL;

  g_file_copy (source, copy, G_FILE_COPY_OVERWRITE, NULL, NULL, NULL, &error);
  g_assert_no_error (error);
}

static void
run (sqlite3 *db, const char *sql)
{
  char *message = NULL;

  if (sqlite3_exec (db, sql, NULL, NULL, &message) != SQLITE_OK)
    g_error ("%s: %s", sql, message);
}

static int
ask (sqlite3 *db, const char *sql)
{
  sqlite3_stmt *stmt = NULL;

  g_assert_cmpint (sqlite3_prepare_v2 (db, sql, -1, &stmt, NULL), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_step (stmt), ==, SQLITE_ROW);
  int value = sqlite3_column_int (stmt, 0);
  sqlite3_finalize (stmt);
  return value;
}

/* As the farm has them. */
static void
set_pragmas (Scene *scene)
{
  static const char *const pragmas[] = { "synchronous", "cache_size", "temp_store" };
  for (guint i = 0; i < G_N_ELEMENTS (pragmas); i++)
    {
      g_autofree char *question = g_strdup_printf ("PRAGMA %s", pragmas[i]);
      g_autofree char *order = g_strdup_printf ("PRAGMA %s = %d", pragmas[i],
                                                ask (bed_farm_get_db (scene->farm), question));
      run (scene->bare, order);
    }
}

static void
set_up (Scene *scene, const char *farm, const char *folder)
{
  g_autoptr (GError) error = NULL;

  scene->path = g_build_filename (folder, "edit-here.bedlog", NULL);
  scene->bare_path = g_build_filename (folder, "edit-bare.bedlog", NULL);
  copy_file (farm, scene->path);
  copy_file (farm, scene->bare_path);
  scene->farm = bed_farm_open (scene->path, &error);
  g_assert_no_error (error);
  bed_farm_fix_clock (scene->farm, "2026-11-25T12:00", 1);
  g_assert_cmpint (sqlite3_open (scene->bare_path, &scene->bare), ==, SQLITE_OK);
  set_pragmas (scene);
}

static void
tear_down (Scene *scene)
{
  g_object_unref (scene->farm);
  sqlite3_close (scene->bare);
  g_unlink (scene->path);
  g_unlink (scene->bare_path);
  g_free (scene->path);
  g_free (scene->bare_path);
}

/* --- what is edited ------------------------------------------------------------ */

static GArray *
read_ids (BedFarm *farm, const char *sql, gint64 parameter)
{
  g_autoptr (BedQuery) q = bed_query_new (farm, sql);
  GArray *ids = g_array_new (FALSE, FALSE, sizeof (gint64));

  bed_query_bind_int (q, 1, parameter);
  while (bed_query_next (q))
    {
      gint64 id = bed_query_int (q, 0);

      g_array_append_val (ids, id);
    }
  return ids;
}

static BedRecord *
load (BedFarm *farm, BedKind kind, gint64 id)
{
  g_autoptr (GError) error = NULL;
  BedRecord *record = bed_farm_load (farm, kind, id, &error);

  g_assert_no_error (error);
  return record;
}

static gint64
pick_log (Scene *scene)
{
  return ask_one (scene->farm,
                  "SELECT id FROM log WHERE retired_on IS NULL AND batch IS NOT NULL"
                  " ORDER BY code LIMIT 1 OFFSET 20 + ?1 * 7",
                  scene->turn);
}

static void
draft_pick (Scene *scene, GPtrArray *records)
{
  BedRecord *pick = bed_record_new (BED_KIND_PICK);

  bed_record_set_text (pick, "picked_on", "2026-11-19");
  bed_record_set_text (pick, "grade", "A");
  bed_record_set_int (pick, "log", pick_log (scene));
  bed_record_set_int (pick, "mass", 250000);
  g_ptr_array_add (records, pick);
}

static void
draft_change (Scene *scene, GPtrArray *records)
{
  BedRecord *log = load (scene->farm, BED_KIND_LOG, pick_log (scene));
  g_autofree char *note = g_strdup_printf ("Looked at again, turn %d", scene->turn);

  bed_record_set_text (log, "notes", note);
  g_ptr_array_add (records, log);
}

/* Logs of a batch into the tank overnight. */
static void
draft_soak (Scene *scene, GPtrArray *records)
{
  BedRecord *soak = bed_record_new (BED_KIND_SOAK);
  g_autofree char *tank = g_strdup_printf ("Tank %d", (int) scene->turn);
  gint64 batch = ask_one (scene->farm,
                          "SELECT batch FROM log WHERE retired_on IS NULL"
                          " GROUP BY batch HAVING count (*) >= 24 AND batch IS NOT NULL"
                          " ORDER BY batch LIMIT 1 OFFSET ?1",
                          scene->turn);
  g_autoptr (GArray) logs = read_ids (
      scene->farm, "SELECT id FROM log WHERE batch = ?1 AND retired_on IS NULL LIMIT 24", batch);

  /* A tank holds so many at one time. */
  bed_record_set_text (soak, "tank", tank);
  bed_record_set_text (soak, "put_in", "2026-11-18T18:00");
  bed_record_set_text (soak, "taken_out", "2026-11-19T06:00");
  bed_record_set_id (soak, bed_farm_next_id (scene->farm));
  g_ptr_array_add (records, soak);
  for (guint i = 0; i < logs->len; i++)
    {
      BedRecord *soaked = bed_record_new (BED_KIND_SOAKED);

      bed_record_set_int (soaked, "soak", bed_record_get_id (soak));
      bed_record_set_int (soaked, "log", g_array_index (logs, gint64, i));
      g_ptr_array_add (records, soaked);
    }
}

/* 24 logs to another stack: a place ends, another begins. */
static void
draft_move (Scene *scene, GPtrArray *records)
{
  /* Those that were moved fall out by themselves. */
  g_autoptr (GArray) places
      = read_ids (scene->farm,
                  "SELECT id FROM place WHERE until IS NULL AND since < '2026-11-19'"
                  " ORDER BY stack LIMIT ?1",
                  24);
  gint64 other = ask_one (scene->farm,
                          "SELECT id FROM stack WHERE taken_down_on IS NULL"
                          " AND built_on < '2026-06-01' ORDER BY id DESC LIMIT 1 OFFSET ?1",
                          scene->turn % 31);

  g_assert_cmpuint (places->len, ==, 24);
  for (guint i = 0; i < places->len; i++)
    {
      BedRecord *left = load (scene->farm, BED_KIND_PLACE, g_array_index (places, gint64, i));
      BedRecord *place = bed_record_new (BED_KIND_PLACE);

      bed_record_set_text (left, "until", "2026-11-19");
      bed_record_set_text (place, "since", "2026-11-19");
      bed_record_set_int (place, "log", bed_record_get_int (left, "log"));
      bed_record_set_int (place, "stack", other);
      g_ptr_array_add (records, left);
      g_ptr_array_add (records, place);
    }
}

/* What one side took: while a person waits, and of the processor. */
typedef struct
{
  double elapsed, cpu;
} Took;

typedef struct
{
  GArray *elapsed, *cpu; /* double, s */
} Times;

static Took
begin (void)
{
  return (Took){ bench_now (), bench_cpu () };
}

static Took
end (Took begun)
{
  return (Took){ bench_now () - begun.elapsed, bench_cpu () - begun.cpu };
}

static Times
new_times (void)
{
  return (Times){ g_array_new (FALSE, FALSE, sizeof (double)),
                  g_array_new (FALSE, FALSE, sizeof (double)) };
}

static void
add_times (Times *times, Took took)
{
  g_array_append_val (times->elapsed, took.elapsed);
  g_array_append_val (times->cpu, took.cpu);
}

static void
free_times (Times *times)
{
  g_array_unref (times->elapsed);
  g_array_unref (times->cpu);
}

/* --- here and beside ------------------------------------------------------------- */

static Took
time_here (Scene *scene, GPtrArray *records)
{
  g_autoptr (GError) error = NULL;
  Took begun = begin ();
  g_autoptr (BedEdit) edit = bed_edit_new (scene->farm);

  for (guint i = 0; i < records->len; i++)
    bed_edit_put (edit, records->pdata[i]);
  bed_edit_commit (edit, "Something of a day's work", &error);
  g_assert_no_error (error);
  return end (begun);
}

static char *
column_name (sqlite3 *db, const char *table, int column)
{
  g_autofree char *sql
      = g_strdup_printf ("SELECT name FROM pragma_table_info ('%s') WHERE cid = %d", table, column);
  sqlite3_stmt *stmt = NULL;

  g_assert_cmpint (sqlite3_prepare_v2 (db, sql, -1, &stmt, NULL), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_step (stmt), ==, SQLITE_ROW);
  char *name = g_strdup ((const char *) sqlite3_column_text (stmt, 0));
  sqlite3_finalize (stmt);
  return name;
}

static sqlite3_stmt *
prepare_insert (sqlite3 *db, sqlite3_changeset_iter *iter, const char *table, int n)
{
  GString *sql = g_string_new (NULL);
  sqlite3_stmt *stmt = NULL;
  sqlite3_value *value;

  g_string_printf (sql, "INSERT INTO \"%s\" VALUES (?1", table);
  for (int i = 1; i < n; i++)
    g_string_append_printf (sql, ", ?%d", i + 1);
  g_string_append_c (sql, ')');
  g_assert_cmpint (sqlite3_prepare_v2 (db, sql->str, -1, &stmt, NULL), ==, SQLITE_OK);
  for (int i = 0; i < n; i++)
    {
      sqlite3changeset_new (iter, i, &value);
      sqlite3_bind_value (stmt, i + 1, value);
    }
  g_string_free (sql, TRUE);
  return stmt;
}

static sqlite3_stmt *
prepare_update (sqlite3 *db, sqlite3_changeset_iter *iter, const char *table, int n)
{
  GString *sql = g_string_new (NULL);
  sqlite3_stmt *stmt = NULL;
  sqlite3_value *value = NULL;

  g_string_printf (sql, "UPDATE \"%s\" SET ", table);
  for (int i = 1, some = 0; i < n; i++)
    if (sqlite3changeset_new (iter, i, &value) == SQLITE_OK && value)
      {
        g_autofree char *name = column_name (db, table, i);
        g_string_append_printf (sql, "%s\"%s\" = ?%d", some++ ? ", " : "", name, i + 1);
      }
  g_string_append (sql, " WHERE id = ?1");
  g_assert_cmpint (sqlite3_prepare_v2 (db, sql->str, -1, &stmt, NULL), ==, SQLITE_OK);
  sqlite3changeset_old (iter, 0, &value);
  sqlite3_bind_value (stmt, 1, value);
  for (int i = 1; i < n; i++)
    if (sqlite3changeset_new (iter, i, &value) == SQLITE_OK && value)
      sqlite3_bind_value (stmt, i + 1, value);
  g_string_free (sql, TRUE);
  return stmt;
}

/* What the last change of the farm wrote, its own row last: ready to be stepped. */
static GPtrArray *
prepare_bare (Scene *scene)
{
  GPtrArray *stmts = g_ptr_array_new ();
  sqlite3_stmt *last = NULL, *stmt = NULL;
  sqlite3_changeset_iter *iter = NULL;
  const char *table;
  int n, operation, indirect;

  sqlite3_prepare_v2 (bed_farm_get_db (scene->farm),
                      "SELECT * FROM change ORDER BY id DESC LIMIT 1", -1, &last, NULL);
  g_assert_cmpint (sqlite3_step (last), ==, SQLITE_ROW);
  sqlite3changeset_start (&iter, sqlite3_column_bytes (last, 5),
                          (void *) sqlite3_column_blob (last, 5));
  while (sqlite3changeset_next (iter) == SQLITE_ROW)
    {
      sqlite3changeset_op (iter, &table, &n, &operation, &indirect);
      /* What is changed first: a log leaves a place before it has another. */
      if (operation == SQLITE_INSERT)
        g_ptr_array_add (stmts, prepare_insert (scene->bare, iter, table, n));
      else
        g_ptr_array_insert (stmts, 0, prepare_update (scene->bare, iter, table, n));
    }
  sqlite3changeset_finalize (iter);
  sqlite3_prepare_v2 (scene->bare, "INSERT INTO change VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)", -1,
                      &stmt, NULL);
  for (int i = 0; i < 8; i++)
    sqlite3_bind_value (stmt, i + 1, sqlite3_column_value (last, i));
  g_ptr_array_add (stmts, stmt);
  sqlite3_finalize (last);
  return stmts;
}

static Took
time_bare (Scene *scene)
{
  GPtrArray *stmts = prepare_bare (scene);
  Took took = begin ();

  run (scene->bare, "BEGIN IMMEDIATE");
  for (guint i = 0; i < stmts->len; i++)
    g_assert_cmpint (sqlite3_step (stmts->pdata[i]), ==, SQLITE_DONE);
  run (scene->bare, "COMMIT");
  took = end (took);
  for (guint i = 0; i < stmts->len; i++)
    sqlite3_finalize (stmts->pdata[i]);
  g_ptr_array_unref (stmts);
  return took;
}

static void
measure (Scene *scene, const char *what, void (*draft) (Scene *scene, GPtrArray *records))
{
  Times here = new_times (), bare = new_times ();
  g_autofree char *of_cpu = g_strdup_printf ("%s: of the processor", what);

  for (scene->turn = 0; scene->turn < RUNS; scene->turn++)
    {
      g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (g_object_unref);
      draft (scene, records);
      Took one = time_here (scene, records), other = time_bare (scene);

      /* The first time both read pages and this side prepares its statements. */
      if (scene->turn == 0)
        continue;
      add_times (&here, one);
      add_times (&bare, other);
    }
  bench_row (&(BenchRow){ "edit", what, bench_median (here.elapsed) * 1e3,
                          bench_median (bare.elapsed) * 1e3, "ms" });
  bench_row (&(BenchRow){ "edit-cpu", of_cpu, bench_median (here.cpu) * 1e3,
                          bench_median (bare.cpu) * 1e3, "ms" });
  free_times (&here);
  free_times (&bare);
}

int
main (int argc, char **argv)
{
  Scene scene = { 0 };

  if (argc != 3)
    return 2;
  set_up (&scene, argv[1], argv[2]);
  measure (&scene, "a pick is written down", draft_pick);
  measure (&scene, "a log's note is changed", draft_change);
  measure (&scene, "24 logs go into the tank", draft_soak);
  measure (&scene, "24 logs are moved", draft_move);
  tear_down (&scene);
  return 0;
}
