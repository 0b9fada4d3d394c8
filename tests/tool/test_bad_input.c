/* What bad input gets: a clear sentence, the right exit code, the file untouched. */
#include "tool_test.h"

#include <glib/gstdio.h>
#include <sqlite3.h>
#include <string.h>

#define FARM "./farm.bedlog"

static void
make_farm (Tool *tool)
{
  tool_does (tool, "new", FARM, "--name", "Hill", "--units", "US");
  tool_write (tool, "./stand.csv", "name\nNorth\n");
}

/* Runs each command that writes, and asserts that it fails so and changes nothing. */
static void
assert_refused (Tool *tool, int code, const char *words)
{
  g_autofree char *before = tool_hash (tool, FARM);

  tool_fails (tool, code, words, "import", FARM, "stand", "./stand.csv");
  g_autofree char *after = tool_hash (tool, FARM);
  g_assert_cmpstr (before, ==, after);
}

/* --- files ------------------------------------------------------------------------ */

static void
test_no_file (Tool *tool, gconstpointer data)
{
  tool_fails (tool, 2, "No such file", "history", FARM);
  make_farm (tool);
  tool_fails (tool, 2, "No such file", "import", FARM, "stand", "./gone.csv");
  tool_fails (tool, 2, "no CSV file", "import", FARM, "all", "./gone");
  tool_fails (tool, 1, "already", "new", FARM);
}

static void
test_not_a_farm (Tool *tool, gconstpointer data)
{
  g_autofree char *path = tool_path (tool, FARM);
  sqlite3 *db;

  make_farm (tool);
  tool_write (tool, FARM, "A letter, not a farm.\n");
  assert_refused (tool, 2, "not a Bedlog farm");
  tool_write (tool, FARM, "");
  assert_refused (tool, 2, "not a Bedlog farm");
  g_unlink (path);
  sqlite3_open (path, &db);
  sqlite3_exec (db, "CREATE TABLE t (a)", NULL, NULL, NULL);
  sqlite3_close (db);
  assert_refused (tool, 2, "not a Bedlog farm");
}

/* Byte 60 to 63: the number of the schema (https://sqlite.org/fileformat2.html, 1.3.14). */
static void
test_newer (Tool *tool, gconstpointer data)
{
  g_autofree char *path = tool_path (tool, FARM);
  g_autofree char *bytes = NULL;
  gsize length;

  make_farm (tool);
  g_assert_true (g_file_get_contents (path, &bytes, &length, NULL));
  bytes[62] = 1;
  g_assert_true (g_file_set_contents (path, bytes, length, NULL));
  assert_refused (tool, 2, "newer Bedlog");
  tool_does (tool, "history", FARM);
  g_assert_nonnull (strstr (tool->out, "Hill"));
}

static void
test_read_only (Tool *tool, gconstpointer data)
{
  g_autofree char *path = tool_path (tool, FARM);

  make_farm (tool);
  tool_write (tool, "./area.csv", "name\nYard\n");
  tool_does (tool, "import", FARM, "area", "./area.csv");
  g_assert_cmpint (g_chmod (path, 0444), ==, 0);
  assert_refused (tool, 2, "may not be written to");
  tool_fails (tool, 2, "may not be written to", "undo", FARM);
  tool_does (tool, "export", FARM, "./csv");
  tool_does (tool, "check", FARM);
}

/* The hashes are taken with no lock held: closing any descriptor of a file gives up the
 * POSIX locks that the process has on it (https://sqlite.org/howtocorrupt.html, 2.2). */
static void
test_locked (Tool *tool, gconstpointer data)
{
  g_autofree char *path = tool_path (tool, FARM);
  sqlite3 *db;

  make_farm (tool);
  g_autofree char *before = tool_hash (tool, FARM);
  sqlite3_open (path, &db);
  g_assert_cmpint (sqlite3_exec (db, "BEGIN EXCLUSIVE", NULL, NULL, NULL), ==, SQLITE_OK);
  tool_fails (tool, 2, "in use by another program", "import", FARM, "stand", "./stand.csv");
  sqlite3_exec (db, "ROLLBACK", NULL, NULL, NULL);
  g_assert_cmpint (sqlite3_exec (db, "BEGIN IMMEDIATE", NULL, NULL, NULL), ==, SQLITE_OK);
  tool_fails (tool, 2, "in use by another program", "import", FARM, "stand", "./stand.csv");
  tool_does (tool, "history", FARM); /* reading is no matter */
  sqlite3_close (db);
  g_autofree char *after = tool_hash (tool, FARM);
  g_assert_cmpstr (before, ==, after);
}

static void
test_truncated (Tool *tool, gconstpointer data)
{
  g_autofree char *path = tool_path (tool, FARM);
  g_autofree char *bytes = NULL;
  gsize length;

  make_farm (tool);
  g_assert_true (g_file_get_contents (path, &bytes, &length, NULL));
  for (gsize cut = length - 1; cut > 200; cut /= 2)
    {
      g_assert_true (g_file_set_contents (path, bytes, cut, NULL));
      assert_refused (tool, 2, "cut short");
    }
}

static void
test_no_room (Tool *tool, gconstpointer data)
{
  g_autoptr (GString) csv = g_string_new ("name,notes\n");
  char *words[] = { "import", FARM, "stand", "./stand.csv", NULL };
  g_autofree char *path = tool_path (tool, FARM);
  GStatBuf info;

  make_farm (tool);
  for (int i = 0; i < 5000; i++)
    g_string_append_printf (csv, "stand %d,some text to fill the pages with\n", i);
  tool_write (tool, "./stand.csv", csv->str);
  g_autofree char *before = tool_hash (tool, FARM);
  g_assert_cmpint (g_stat (path, &info), ==, 0);
  tool_run_limited (tool, info.st_size + 8192, words);
  g_test_message ("%s", tool->err);
  g_assert_cmpint (tool->status, ==, 2);
  g_assert_nonnull (strstr (tool->err, "disk"));
  tool_does (tool, "check", FARM);
  g_autofree char *after = tool_hash (tool, FARM);
  g_assert_cmpstr (before, ==, after);
  tool_does (tool, "import", FARM, "stand", "./stand.csv");
}

/* --- CSV and usage -------------------------------------------------------------------- */

static void
test_csv_faults (Tool *tool, gconstpointer data)
{
  make_farm (tool);
  tool_write (tool, "./felling.csv",
              "code,felled_on,wood,trees\r\n"
              "F1,2024-02-30,northern red oak,12\r\n"
              "F2,2024-02-01,northern red oka,12\r\n"
              "F2,2024-02-01,white oak,a dozen\r\n");
  g_autofree char *before = tool_hash (tool, FARM);
  g_autofree char *path = tool_path (tool, "./felling.csv");
  tool_fails (tool, 1, "", "import", FARM, "felling", "./felling.csv");
  const char *faults[] = { ":2:2: ", ":3:3: ", ":4:1: ", ":4:4: " };
  for (gsize i = 0; i < G_N_ELEMENTS (faults); i++)
    {
      g_autofree char *place = g_strconcat (path, faults[i], NULL);
      g_assert_nonnull (strstr (tool->err, place));
    }
  g_assert_nonnull (strstr (tool->err, "Did you mean “northern red oak”?"));
  tool_run (tool, "import", FARM, "felling", "./felling.csv", "--json", NULL);
  g_assert_cmpint (tool->status, ==, 1);
  g_assert_nonnull (strstr (tool->out, "\"line\" : 3"));
  g_assert_cmpstr (tool->err, ==, "");
  g_autofree char *after = tool_hash (tool, FARM);
  g_assert_cmpstr (before, ==, after);
}

static void
test_usage (Tool *tool, gconstpointer data)
{
  tool_fails (tool, 1, "Did you mean “import”?", "imprt", FARM);
  tool_fails (tool, 1, "There is no command", "zzzzzzzz");
  tool_fails (tool, 1, "Usage: bedlog-tool import", "import", FARM);
  tool_fails (tool, 1, "Did you mean “log”?", "import", FARM, "logs", "./log.csv");
  tool_fails (tool, 1, "--frob", "check", FARM, "--frob");
  tool_does (tool, "--help");
  g_assert_nonnull (strstr (tool->out, "import"));
  g_assert_null (strstr (tool->out, "format"));
  tool_does (tool, "import", "--help");
  g_assert_nonnull (strstr (tool->out, "--dry-run"));
  tool_run (tool, NULL);
  g_assert_cmpint (tool->status, ==, 1);
  tool_fails (tool, 1, "Units", "new", FARM, "--units", "cubits");
  tool_fails (tool, 1, "three capital letters", "new", FARM, "--currency", "dollars");
  g_autofree char *path = tool_path (tool, FARM);
  g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
}

/* The first change made the farm: it stays. */
static void
test_nothing_to_undo (Tool *tool, gconstpointer data)
{
  make_farm (tool);
  tool_fails (tool, 1, "othing", "undo", FARM);
  tool_fails (tool, 1, "othing", "redo", FARM);
  tool_does (tool, "history", FARM);
}

static void
test_trace_of_a_mistyped_code (Tool *tool, gconstpointer data)
{
  make_farm (tool);
  tool_fails (tool, 1, "likely meant", "trace", FARM, "L240518-1-0");
  tool_fails (tool, 1, "with the code", "trace", FARM, "26A-001");
}

#define ADD(name, function)                                                                        \
  g_test_add ("/bad-input/" name, Tool, NULL, tool_set_up, function, tool_tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("no-file", test_no_file);
  ADD ("not-a-farm", test_not_a_farm);
  ADD ("newer", test_newer);
  ADD ("read-only", test_read_only);
  ADD ("locked", test_locked);
  ADD ("truncated", test_truncated);
  ADD ("no-room", test_no_room);
  ADD ("csv-faults", test_csv_faults);
  ADD ("usage", test_usage);
  ADD ("nothing-to-undo", test_nothing_to_undo);
  ADD ("trace-of-a-mistyped-code", test_trace_of_a_mistyped_code);
  return g_test_run ();
}
