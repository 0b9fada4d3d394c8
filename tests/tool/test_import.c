/* Other people's files through the tool: encodings, workbooks and their sheets, a pipe, a folder.
 * All or nothing, as with our own. */
#include "tool_test.h"

#include <gio/gio.h>
#include <string.h>

#define FARM "./farm.bedlog"

static void
make_farm (Tool *tool)
{
  tool_does (tool, "new", FARM, "--name", "Hill");
}

/* Of tests/model/sheets, written by a spreadsheet. */
static char *
kept (const char *name)
{
  return g_build_filename (g_getenv ("BEDLOG_SOURCE"), "tests", "model", "sheets", name, NULL);
}

/* What the farm's areas are when they are written out again. */
static void
assert_areas (Tool *tool, const char *expected)
{
  tool_does (tool, "export", FARM, "./out");
  g_autofree char *text = tool_read (tool, "./out/area.csv");
  g_auto (GStrv) lines = g_strsplit (text, "\r\n", -1);
  g_autoptr (GString) shown = g_string_new (NULL);

  for (guint i = 1; lines[i] && *lines[i]; i++)
    g_string_append_printf (shown, "%s\n", lines[i]);
  g_assert_cmpstr (shown->str, ==, expected);
}

static void
test_text (Tool *tool, gconstpointer data)
{
  make_farm (tool);
  tool_write (tool, "./stand.csv", "name;grows\nS\xfc\x80;ash, oak\n");
  tool_does (tool, "import", FARM, "stand", "./stand.csv");
  tool_does (tool, "export", FARM, "./out");
  g_autofree char *text = tool_read (tool, "./out/stand.csv");
  g_assert_nonnull (strstr (text, "Sü€,,\"ash, oak\""));
  tool_fails (tool, 1, "no encoding “klingon”", "import", FARM, "stand", "./stand.csv",
              "--encoding", "klingon");
  tool_fails (tool, 1, "stand.csv:2: This is not UTF-8", "import", FARM, "stand", "./stand.csv",
              "--encoding", "utf-8");
  tool_fails (tool, 1, "no sheets", "import", FARM, "stand", "./stand.csv", "--sheet", "A");
  tool_fails (tool, 1, "--sheet is of one", "import", FARM, "all", ".", "--sheet", "A");
}

static void
test_workbook (Tool *tool, gconstpointer name)
{
  g_autofree char *path = kept (name);

  make_farm (tool);
  tool_fails (tool, 1, "no sheet “Logs”. The sheets are: “Old”, “Yards”, “Rain”", "import", FARM,
              "area", path, "--sheet", "Logs");
  tool_does (tool, "import", FARM, "area", path, "--sheet", "yards");
  g_assert_nonnull (strstr (tool->out, "2 records"));
  tool_does (tool, "export", FARM, "./out");
  g_autofree char *text = tool_read (tool, "./out/area.csv");
  g_assert_nonnull (strstr (text, "\"Süd, below\",80"));
  g_assert_nonnull (strstr (text, "Hill 🍄,65.5"));
  /* A fault is at its row and column. */
  tool_fails (tool, 1, ":2:1: ", "import", FARM, "area", path, "--sheet", "Yards");
}

/* Runs the tool behind a pipe, which cannot be read twice. */
static void
test_pipe (Tool *tool, gconstpointer data)
{
  g_autofree char *farm = tool_path (tool, FARM), *csv = tool_path (tool, "./stand.csv");
  g_autofree char *out = NULL;
  const char *words[]
      = { "sh", "-c", "cat \"$2\" | \"$0\" import \"$1\" stand -", g_getenv ("BEDLOG_TOOL"), farm,
          csv,  NULL };
  int status;

  make_farm (tool);
  tool_write (tool, "./stand.csv", "name\tgrows\nNorth\tash, oak\n");
  g_assert_true (g_spawn_sync (NULL, (char **) words, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &out,
                               NULL, &status, NULL));
  g_assert_cmpint (status, ==, 0);
  g_assert_nonnull (strstr (out, "1 record"));
}

static void
test_folder (Tool *tool, gconstpointer data)
{
  g_autofree char *book = kept ("yards.ods"), *into = tool_path (tool, "./area.ods");
  g_autoptr (GFile) from = g_file_new_for_path (book);
  g_autoptr (GFile) to = g_file_new_for_path (into);

  make_farm (tool);
  g_assert_true (g_file_copy (from, to, G_FILE_COPY_NONE, NULL, NULL, NULL, NULL));
  tool_write (tool, "./stand.tsv", "name\tgrows\nNorth\tash, oak\n");
  tool_does (tool, "import", FARM, "all", tool->folder);
  assert_areas (tool,
                "\"Süd, below\",80,,,,,,,,,,,by the brook\nHill 🍄,65.5,,,,,,,,,,,by the brook\n");
  tool_write (tool, "./stand.csv", "name\nSouth\n");
  tool_fails (tool, 1, "is there as well", "import", FARM, "all", tool->folder);
}

/* What is there already, what is to be changed, and what it all comes to. */
static void
test_answer (Tool *tool, gconstpointer data)
{
  static const char rows[] = "bought_on,category,what,amount (USD),scope\n"
                             "2026-05-01,wax,Wax,12.50,overhead\n"
                             "2026-05-02,tools,Bit,7.25,overhead\n";

  make_farm (tool);
  tool_write (tool, "./stand.csv", "name,grows\nNorth,oak\nSouth,ash\n");
  tool_does (tool, "import", FARM, "stand", "./stand.csv");
  g_assert_nonnull (strstr (tool->out, "stands: 2 new"));
  tool_fails (tool, 1, "--skip-known leaves them out", "import", FARM, "stand", "./stand.csv");
  tool_does (tool, "import", FARM, "stand", "./stand.csv", "--skip-known");
  g_assert_nonnull (strstr (tool->out, "2 in the farm already"));
  tool_write (tool, "./stand.csv", "name,grows\nNorth,beech\n");
  tool_does (tool, "import", FARM, "stand", "./stand.csv", "--amend", "--dry-run");
  g_assert_nonnull (strstr (tool->out, "stand North: What grows there: oak -> beech"));
  tool_does (tool, "import", FARM, "stand", "./stand.csv", "--amend");
  g_assert_nonnull (strstr (tool->out, "oak -> beech"));
  tool_write (tool, "./purchase.csv", rows);
  tool_does (tool, "import", FARM, "purchase", "./purchase.csv", "--dry-run");
  g_assert_nonnull (strstr (tool->out, "purchases: 2 new; Amount 19.75 USD"));
  tool_does (tool, "import", FARM, "purchase", "./purchase.csv", "--json");
  g_assert_nonnull (strstr (tool->out, "\"amount\" : 1975"));
  tool_fails (tool, 1, "not both", "import", FARM, "purchase", "./purchase.csv", "--skip-known",
              "--add-known");
}

/* A sheet as somebody keeps it: questions first, then it goes in, and the matching is kept. */
static void
test_sheet (Tool *tool, gconstpointer data)
{
  tool_does (tool, "new", FARM, "--name", "Hill", "--units", "us");
  tool_write (tool, "./crop.csv",
              "date,row,lbs,grade\n04/05/2024,Shed,2.5,A\n04/06/2024,Shed,1,B\n");
  tool_fails (tool, 1, "can be read two ways", "import", FARM, "sheet", "./crop.csv");
  g_assert_nonnull (strstr (tool->err, "--answer 'need:batch.method=drilled'"));
  g_assert_nonnull (strstr (tool->out, "Fresh mass               lb"));
  tool_fails (tool, 1, "can be read", "import", FARM, "sheet", "./crop.csv", "--keep-map", "-");
  g_assert_true (g_str_has_prefix (tool->out, "[matching]\nkind=pick\n"));
  tool_fails (tool, 1, "", "import", FARM, "sheet", "./crop.csv", "--json");
  g_assert_cmpstr (tool->err, ==, "");
  g_assert_nonnull (strstr (tool->out, "\"key\" : \"need:batch.method\""));
  g_assert_nonnull (strstr (tool->out, "\"answer\" : \"drilled\""));
  g_assert_nonnull (strstr (tool->out, "\"typed\" : \"A date\""));
  tool_fails (tool, 1, "is no order of dates", "import", FARM, "sheet", "./crop.csv", "--dates",
              "dym");
  tool_does (tool, "import", FARM, "sheet", "./crop.csv", "--dates", "DMY", "--answer",
             "need:batch.inoculated_on=2022-04-01", "--answer", "need:batch.method=drilled",
             "--keep-map", "./crop.map");
  g_assert_nonnull (strstr (tool->out, "picks: 2 new; Fresh mass 3.5 lb"));
  tool_does (tool, "export", FARM, "./out");
  g_autofree char *picks = tool_read (tool, "./out/pick.csv");
  g_assert_nonnull (strstr (picks, "2024-06-04"));
  /* The next of the same heads asks nothing, nor does another farm that is given the matching. */
  tool_write (tool, "./crop.csv",
              "date,row,lbs,grade\n04/05/2024,Shed,2.5,A\n"
              "07/08/2024,Shed,3,A\n");
  tool_does (tool, "import", FARM, "sheet", "./crop.csv");
  g_assert_nonnull (strstr (tool->out, "picks: 1 new, 1 in the farm already; Fresh mass 3 lb"));
  tool_does (tool, "new", "./other.bedlog", "--name", "Vale", "--units", "US");
  tool_does (tool, "import", "./other.bedlog", "sheet", "./crop.csv", "--map", "./crop.map",
             "--dry-run");
  g_assert_nonnull (strstr (tool->out, "picks: 2 new; Fresh mass 5.5 lb"));
  tool_fails (tool, 1, "about a sheet", "import", FARM, "pick", "./crop.csv", "--dates", "dmy");
}

/* A batch's number of logs, a list of them later, and the second table of a sheet. */
static void
test_counted (Tool *tool, gconstpointer data)
{
  tool_does (tool, "new", FARM, "--name", "Hill", "--units", "metric");
  tool_write (tool, "./numbers.csv",
              "Batch,Inoculated,Method,Number of logs\n"
              "Spring,2022-03-12,drilled,4\n");
  tool_does (tool, "import", FARM, "sheet", "./numbers.csv", "--answer",
             "need:felling.felled_on==batch.inoculated_on", "--answer",
             "need:felling.wood==unknown", "--answer", "need:log.length=1 m", "--answer",
             "need:log.small_diameter=12 cm");
  g_assert_nonnull (strstr (tool->out, "logs: 4 new"));
  tool_write (tool, "./list.csv",
              "Date,Hours,Task\n2024-05-03,2,other\n\n"
              "Log,Batch,Wood,Felled,Length (cm),Diameter (cm)\n"
              "1,Spring,white oak,2022-02-01,110,14\n"
              "2,Spring,white oak,2022-02-01,110,14\n");
  tool_does (tool, "import", FARM, "sheet", "./list.csv", "--dry-run");
  g_assert_nonnull (strstr (tool->out, "In row 4 another table begins: Log, Batch, Wood, Felled"));
  tool_does (tool, "import", FARM, "sheet", "./list.csv", "--table", "2", "--dry-run");
  g_assert_nonnull (strstr (tool->out, "logs: 2 listed that were only counted\n"));
  tool_does (tool, "import", FARM, "sheet", "./list.csv", "--table", "2", "--json");
  g_assert_nonnull (strstr (tool->out, "\"listed\" : 2"));
  tool_does (tool, "figures", FARM, "--season", "2022");
  g_assert_nonnull (strstr (tool->out, "logs_in_season                  4"));
  tool_fails (tool, 1, "The sheet has 2 tables", "import", FARM, "sheet", "./list.csv", "--table",
              "3");
  tool_fails (tool, 1, "The sheet has 2 tables", "import", FARM, "sheet", "./list.csv", "--table",
              "-1");
  tool_fails (tool, 1, "about a sheet", "import", FARM, "log", "./list.csv", "--table", "2");
}

/* Choices in any case, seasons in two figures, and none that the farm knows nothing of. */
static void
test_words (Tool *tool, gconstpointer data)
{
  tool_does (tool, "new", FARM, "--name", "Hill", "--units", "us", "--currency", "eur",
             "--hemisphere", "SOUTH");
  tool_does (tool, "export", FARM, "./out");
  g_autofree char *text = tool_read (tool, "./out/farm.csv");
  g_assert_nonnull (strstr (text, ",US,EUR,south,"));
  tool_fails (tool, 1, "“imperial” is none of the words for Units: metric, US", "new", "./b.bedlog",
              "--units", "imperial");
  tool_does (tool, "demo", "./demo.bedlog", "--today", "2026-10-01");
  tool_does (tool, "figures", "./demo.bedlog", "--season", "25");
  g_autofree char *two = g_strdup (tool->out);
  tool_does (tool, "figures", "./demo.bedlog", "--season", "2025");
  g_assert_cmpstr (two, ==, tool->out);
  tool_does (tool, "report", "./demo.bedlog", "--season", "25", "-o", "./book.xlsx");
  g_autofree char *before = tool_hash (tool, "./book.xlsx");
  tool_fails (tool, 1, "no record of the season 1925", "report", "./demo.bedlog", "--season",
              "1925", "-o", "./book.xlsx");
  tool_fails (tool, 1, "is no season", "report", "./demo.bedlog", "--season", "x6", "-o",
              "./book.xlsx");
  g_autofree char *after = tool_hash (tool, "./book.xlsx");
  g_assert_cmpstr (before, ==, after);
}

#define ADD(path, data, test) g_test_add (path, Tool, data, tool_set_up, test, tool_tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("/import/text", NULL, test_text);
  ADD ("/import/xlsx", "yards.xlsx", test_workbook);
  ADD ("/import/ods", "yards.ods", test_workbook);
  ADD ("/import/pipe", NULL, test_pipe);
  ADD ("/import/folder", NULL, test_folder);
  ADD ("/import/answer", NULL, test_answer);
  ADD ("/import/sheet", NULL, test_sheet);
  ADD ("/import/counted", NULL, test_counted);
  ADD ("/import/words", NULL, test_words);
  return g_test_run ();
}
