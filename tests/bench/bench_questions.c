/* bench-questions FARM SEASON VIEWS FUNCTIONS FOLDER RUNS: each question the workbook of a season
 * asks, against the same SQL in the sqlite3 shell. The questions are those that were heard while a
 * workbook was written, so none is left out; the shell gets the views and the tables of the outlook
 * that they ask. Here each value is read from its row; the shell writes it as text to /dev/null. */
#include <glib/gstdio.h>
#include <math.h>
#include <sqlite3.h>
#include <stdlib.h>
#include <string.h>

#include "bench.h"
#include "model/farm/farm_private.h"
#include "model/farm/query.h"
#include "model/season/outlook.h"
#include "report/workbook.h"
#include "shell.h"

#define TODAY "2026-11-20"
#define WORTH_A_ROW 0.02 /* s: a quicker one is added to the others */
#define LABEL 56

typedef struct
{
  char *sql;
  GArray *here, *shell; /* double, s */
} Question;

static void
free_question (Question *question)
{
  g_free (question->sql);
  g_array_unref (question->here);
  g_array_unref (question->shell);
  g_free (question);
}

/* --- what is asked --------------------------------------------------------------- */

static int
heard_cb (unsigned what, void *data, void *p, void *x)
{
  GPtrArray *questions = data;
  sqlite3_stmt *stmt = p;
  char *sql = NULL;

  /* Not what triggers do, nor what writes the tables of the outlook. */
  if (strncmp (x, "--", 2) == 0 || !sqlite3_stmt_readonly (stmt)
      || sqlite3_column_count (stmt) == 0)
    return 0;
  sql = sqlite3_expanded_sql (stmt);
  for (guint i = 0; i < questions->len; i++)
    if (strcmp (((Question *) questions->pdata[i])->sql, sql) == 0)
      {
        sqlite3_free (sql);
        return 0;
      }
  Question *question = g_new0 (Question, 1);
  question->sql = g_strdup (sql);
  question->here = g_array_new (FALSE, FALSE, sizeof (double));
  question->shell = g_array_new (FALSE, FALSE, sizeof (double));
  g_ptr_array_add (questions, question);
  sqlite3_free (sql);
  return 0;
}

static GPtrArray *
hear_outlook (BedFarm *farm, int season)
{
  GPtrArray *questions = g_ptr_array_new_with_free_func ((GDestroyNotify) free_question);
  g_autoptr (GError) error = NULL;

  sqlite3_trace_v2 (bed_farm_get_db (farm), SQLITE_TRACE_STMT, heard_cb, questions);
  bed_outlook_read (farm, season, &error);
  sqlite3_trace_v2 (bed_farm_get_db (farm), 0, NULL, NULL);
  g_assert_no_error (error);
  return questions;
}

static GPtrArray *
hear_workbook (BedFarm *farm, int season, const char *folder)
{
  GPtrArray *questions = g_ptr_array_new_with_free_func ((GDestroyNotify) free_question);
  g_autofree char *path = g_build_filename (folder, "heard.xlsx", NULL);
  const BedWorkbookPlan plan = { .season = season, .path = path };
  g_autoptr (GError) error = NULL;

  sqlite3_trace_v2 (bed_farm_get_db (farm), SQLITE_TRACE_STMT, heard_cb, questions);
  bed_workbook_write (farm, &plan, &error);
  sqlite3_trace_v2 (bed_farm_get_db (farm), 0, NULL, NULL);
  g_assert_no_error (error);
  g_unlink (path);
  return questions;
}

/* What @others are is no question of @questions. */
static void
leave_out (GPtrArray *questions, const GPtrArray *others)
{
  for (guint i = questions->len; i-- > 0;)
    {
      const Question *question = questions->pdata[i];
      gboolean found = FALSE;

      for (guint k = 0; k < others->len; k++)
        found |= strcmp (question->sql, ((const Question *) others->pdata[k])->sql) == 0;
      if (found)
        g_ptr_array_remove_index (questions, i);
    }
}

/* --- the shell's side --------------------------------------------------------------- */

static void
add_rows (BedFarm *farm, GString *script, const char *table)
{
  g_autofree char *all = g_strdup_printf ("SELECT * FROM temp.\"%s\"", table);
  sqlite3_stmt *stmt = NULL;

  sqlite3_prepare_v2 (bed_farm_get_db (farm), all, -1, &stmt, NULL);
  g_assert_nonnull (stmt);
  while (sqlite3_step (stmt) == SQLITE_ROW)
    {
      g_string_append_printf (script, "INSERT INTO temp.\"%s\" VALUES (", table);
      for (int i = 0; i < sqlite3_column_count (stmt); i++)
        {
          g_autofree char *value = NULL;
          char number[G_ASCII_DTOSTR_BUF_SIZE];

          if (sqlite3_column_type (stmt, i) == SQLITE_TEXT)
            {
              char *quoted = sqlite3_mprintf ("%Q", sqlite3_column_text (stmt, i));
              value = g_strdup (quoted);
              sqlite3_free (quoted);
            }
          else if (sqlite3_column_type (stmt, i) == SQLITE_INTEGER)
            value = g_strdup_printf ("%" G_GINT64_FORMAT, (gint64) sqlite3_column_int64 (stmt, i));
          else if (sqlite3_column_type (stmt, i) == SQLITE_FLOAT)
            value = g_strdup (
                g_ascii_dtostr (number, sizeof number, sqlite3_column_double (stmt, i)));
          g_string_append_printf (script, "%s%s", i ? "," : "", value ? value : "NULL");
        }
      g_string_append (script, ");\n");
    }
  sqlite3_finalize (stmt);
}

static void
prepare_shell (BenchShell *shell, BedFarm *farm, char **argv)
{
  g_autoptr (GString) script = g_string_new (NULL);
  g_autoptr (BedQuery) q
      = bed_query_new (farm, "SELECT name, sql FROM temp.sqlite_schema WHERE type = 'table'");

  /* The store first: to set it forgets what is temporary. */
  g_string_append_printf (script,
                          "PRAGMA temp_store = MEMORY; PRAGMA cache_size = -32768;\n"
                          ".load %s\n.read %s\nBEGIN;\n",
                          argv[4], argv[3]);
  while (bed_query_next (q))
    {
      g_autofree char *rest = g_strdup (bed_query_text (q, 1) + strlen ("CREATE TABLE "));

      g_string_append_printf (script, "CREATE TEMP TABLE %s;\n", rest);
      add_rows (farm, script, bed_query_text (q, 0));
    }
  g_string_append (script, "COMMIT;\n");
  bench_shell_run (shell, script->str);
}

/* --- asking --------------------------------------------------------------------------- */

static double
ask_here (BedFarm *farm, const char *sql)
{
  double start = bench_now (), sum = 0;
  g_autoptr (BedQuery) q = bed_query_new (farm, sql);
  g_autoptr (GError) error = NULL;

  while (bed_query_next (q))
    for (int i = 0; i < bed_query_n_columns (q); i++)
      if (!bed_query_is_null (q, i))
        {
          const char *text = bed_query_text (q, i);
          sum += text ? *text : 0;
        }
  g_assert_true (bed_query_finish (q, &error));
  g_assert_no_error (error);
  return sum < 0 ? NAN : bench_now () - start;
}

static double
ask_shell (BenchShell *shell, const char *sql)
{
  g_autofree char *line = g_strconcat (sql, ";", NULL);

  return bench_shell_run (shell, g_strdelimit (line, "\n", ' '));
}

static void
ask_all (BedFarm *farm, BenchShell *shell, GPtrArray *questions, int runs)
{
  for (int run = 0; run < runs; run++)
    for (guint i = 0; i < questions->len; i++)
      {
        Question *question = questions->pdata[i];
        double here = ask_here (farm, question->sql), beside = ask_shell (shell, question->sql);

        g_array_append_val (question->here, here);
        g_array_append_val (question->shell, beside);
      }
}

static double
time_outlook (BedFarm *farm, int season, int runs)
{
  g_autoptr (GArray) times = g_array_new (FALSE, FALSE, sizeof (double));
  g_autoptr (GError) error = NULL;

  for (int run = 0; run < runs; run++)
    {
      double start = bench_now (), took;

      bed_outlook_read (farm, season, &error);
      g_assert_no_error (error);
      took = bench_now () - start;
      g_array_append_val (times, took);
    }
  return bench_least (times);
}

/* --- telling --------------------------------------------------------------------------- */

static void
tell (GPtrArray *questions)
{
  BenchRow others = { .key = "question", .unit = "ms" }, whole = others;
  g_autofree char *what = NULL, *all = NULL;
  int n = 0;

  for (guint i = 0; i < questions->len; i++)
    {
      Question *question = questions->pdata[i];
      g_autofree char *label = g_strndup (question->sql, LABEL);
      double here = bench_least (question->here) * 1e3;
      double shell = bench_least (question->shell) * 1e3;
      BenchRow row = { "question", g_strdelimit (label, "\n\t|", ' '), here, shell, "ms" };

      whole.here += here;
      whole.beside += shell;
      if (here > WORTH_A_ROW * 1e3)
        bench_row (&row);
      else
        {
          others.here += here;
          others.beside += shell;
          n++;
        }
    }
  what = g_strdup_printf ("%d quicker questions together", n);
  others.what = what;
  bench_row (&others);
  all = g_strdup_printf ("all %u questions of the workbook", questions->len);
  whole.what = all;
  bench_row (&whole);
}

int
main (int argc, char **argv)
{
  g_autoptr (GError) error = NULL;

  if (argc != 7)
    return 2;
  int season = atoi (argv[2]), runs = atoi (argv[6]);
  g_autoptr (BedFarm) farm = bed_farm_open (argv[1], &error);
  g_assert_no_error (error);
  bed_farm_fix_clock (farm, TODAY "T12:00", 1);
  g_setenv ("BENCH_FARM", argv[1], TRUE);
  g_setenv ("BENCH_TODAY", TODAY, TRUE);
  g_autoptr (GPtrArray) outlook = hear_outlook (farm, season);
  g_autoptr (GPtrArray) questions = hear_workbook (farm, season, argv[5]);
  BenchShell *shell = bench_shell_new (argv[1]);

  prepare_shell (shell, farm, argv);
  leave_out (questions, outlook);
  ask_all (farm, shell, questions, runs);
  ask_all (farm, shell, outlook, runs);
  tell (questions);
  BenchRow row = { "outlook", "the season reckoned, against its SQL alone", 0, 0, "ms" };
  for (guint i = 0; i < outlook->len; i++)
    row.beside += bench_least (((Question *) outlook->pdata[i])->shell) * 1e3;
  row.here = time_outlook (farm, season, runs) * 1e3;
  bench_row (&row);
  bench_shell_free (shell);
  return 0;
}
