/* One batch, from the felled tree to the season workbook, from CSV files. */
#include "tool_test.h"

#include <json-glib/json-glib.h>
#include <string.h>

#define FARM "./hill.bedlog"

/* The notebook: ten files as a grower keeps them in a spreadsheet. */
static const struct
{
  const char *kind, *text;
} notebook[] = {
  { "felling", "code,felled_on,stand,wood,trees,dbh (in),height (ft),condition,leaf,felled_by,"
               "notes\r\n"
               "F24-1,2024-02-10,North slope,northern red oak,12,7.5,48,healthy,dormant,feller,"
               "\"thinning, marked in autumn\"\r\n" },
  { "spawn", "code,strain,mushroom,type,form,supplier,received_on,use_by,mass (lb),cost (USD)\r\n"
             "S24-1,Hollow 1,shiitake,wide-range,sawdust,spawn maker,2024-02-20,2024-08-20,11,"
             "58.00\r\n" },
  { "batch", "code,inoculated_on,method,hole_diameter (in),hole_depth (in),along (in),between (in),"
             "margin (in),closing,holes_sealed,wax,wax_mass (lb),spawn,spawn_mass (lb)\r\n"
             "24A,2024-03-09,drilled,7/16,1 1/4,6,3,2,nearest,yes,soy wax,1.5,S24-1,5 1/2\r\n" },
  { "log", NULL },
  { "stack", "name,area,kind,x (ft),y (ft),turn (°),tiers,per_tier,built_on\r\n"
             "Crib 1,Laying yard,crib,12,10,15,5,5,2024-03-09\r\n" },
  { "place", NULL },
  { "soak", "code,tank,put_in,taken_out,water_temperature (°F),logs\r\n"
            "K25-1,Tank 1,2025-06-02T19:00,2025-06-03T07:00,52,Crib 1\r\n" },
  { "pick", "picked_on,batch,log,grade,mass (oz),lot,picker\r\n"
            "2025-06-09,24A,,A,48,L250609-1-F,picker 1\r\n"
            "2025-06-09,24A,,B,24,L250609-1-F,picker 1\r\n"
            "2025-06-10,,24A-001,A,3,L250609-1-F,picker 2\r\n" },
  { "purchase", "bought_on,category,what,amount (USD),scope,batch\r\n"
                "2024-03-01,wax,Soy wax,9.60,batch,24A\r\n"
                "2024-03-02,tools,Drill bit,12.40,overhead,\r\n" },
  { "hours", "worked_on,task,person,minutes,batch,logs\r\n"
             "2024-03-09,drilling,hand 1,1 h 15 min,24A,24\r\n"
             "2024-03-09,filling,hand 2,1.5,24A,24\r\n" },
};

/* 24 logs; the first 6 in thick and 48 in long, for a count that is published. */
static char *
log_csv (void)
{
  GString *text = g_string_new (
      "felling,batch,length (in),small_diameter (in),large_diameter (in)\r\nF24-1,24A,48,6,6\r\n");

  for (int i = 1; i < 24; i++)
    g_string_append_printf (text, "F24-1,24A,40,%d 1/4,%d 3/4\r\n", 4 + i % 2, 4 + i % 2);
  return g_string_free (text, FALSE);
}

static char *
place_csv (void)
{
  GString *text = g_string_new ("log,stack,tier,slot,since\r\n");

  for (int i = 0; i < 24; i++)
    g_string_append_printf (text, "24A-%03d,Crib 1,%d,%d,2024-03-09\r\n", i + 1, i / 5 + 1,
                            i % 5 + 1);
  return g_string_free (text, FALSE);
}

static void
enter_notebook (Tool *tool)
{
  g_autofree char *logs = log_csv (), *places = place_csv ();

  tool_does (tool, "new", FARM, "--name", "Hill, an invented farm", "--units", "US", "--currency",
             "USD");
  for (gsize i = 0; i < G_N_ELEMENTS (notebook); i++)
    {
      const char *kind = notebook[i].kind;
      g_autofree char *file = g_strdup_printf ("./%s.csv", kind);
      tool_write (tool, file,
                  notebook[i].text            ? notebook[i].text
                  : strcmp (kind, "log") == 0 ? logs
                                              : places);
      tool_does (tool, "import", FARM, kind, file, "--dry-run");
      tool_does (tool, "import", FARM, kind, file);
    }
}

/* --- reading JSON ---------------------------------------------------------------- */

static JsonNode *
parse (Tool *tool)
{
  g_autoptr (GError) error = NULL;
  JsonNode *root = json_from_string (tool->out, &error);

  g_assert_no_error (error);
  return root;
}

static JsonObject *
first_of (JsonNode *root, const char *section)
{
  JsonArray *rows = json_object_get_array_member (json_node_get_object (root), section);

  g_assert_cmpuint (json_array_get_length (rows), >, 0);
  return json_array_get_object_element (rows, 0);
}

static guint
count_changes (Tool *tool)
{
  tool_does (tool, "history", FARM, "--json");
  g_autoptr (JsonNode) root = parse (tool);

  return json_array_get_length (json_node_get_array (root));
}

static char *
export_all (Tool *tool, const char *farm, const char *folder)
{
  static const char *kinds[] = { "farm",   "wood",  "stand",    "felling",    "mushroom",
                                 "strain", "spawn", "batch",    "spawn_used", "log",
                                 "area",   "stack", "place",    "soak",       "soaked",
                                 "lot",    "pick",  "purchase", "hours" };
  GString *all = g_string_new (NULL);

  tool_does (tool, "export", farm, folder);
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      g_autofree char *name = g_strdup_printf ("%s/%s.csv", folder, kinds[i]);
      g_autofree char *text = tool_read (tool, name);
      g_string_append (all, text);
    }
  return g_string_free (all, FALSE);
}

/* --- the steps --------------------------------------------------------------------- */

/* D 152.4 mm, L 1219.2, 76.2 by 152.4 mm, 50.8 from the end: 6 rows of 8 and 7, 45 holes
 * (hole count table, own derivation: docs/sources.md, Staggered holes). */
static void
check_what_was_entered (Tool *tool)
{
  tool_does (tool, "check", FARM);
  tool_does (tool, "export", FARM, "./csv");
  g_autofree char *logs = tool_read (tool, "./csv/log.csv");
  g_assert_nonnull (strstr (logs, "24A-001-"));
  g_assert_nonnull (strstr (logs, ",48,6,6,,45,"));
  g_assert_nonnull (strstr (logs, "24A-024-"));
  g_autofree char *soaked = tool_read (tool, "./csv/soaked.csv");
  g_auto (GStrv) lines = g_strsplit (soaked, "\r\n", -1);
  g_assert_cmpuint (g_strv_length (lines), ==, 1 + 24 + 1);
}

/* 48 + 24 + 3 oz are 75 oz: 2126.21 g. */
static void
check_the_lot (Tool *tool)
{
  tool_does (tool, "trace", FARM, "L250609-1-F", "--json");
  g_autoptr (JsonNode) root = parse (tool);
  JsonObject *lot = first_of (root, "lot"), *from = first_of (root, "from");

  gint64 mg = json_object_get_int_member (lot, "picked_mg");
  g_assert_cmpint (ABS (mg - G_GINT64_CONSTANT (2126214)), <=, 1);
  g_assert_cmpstr (json_object_get_string_member (from, "spawn"), ==, "S24-1");
  g_assert_cmpstr (json_object_get_string_member (from, "stand"), ==, "North slope");
  g_assert_cmpstr (json_object_get_string_member (from, "felling"), ==, "F24-1");
  tool_does (tool, "trace", FARM, "L250609-1-F");
  g_assert_nonnull (strstr (tool->out, "\n  Code L250609-1-F, Picked on 9 Jun 2025, "));
  g_assert_nonnull (strstr (tool->out, ", Spawn lot S24-1, "));
  g_assert_nonnull (strstr (tool->out, "Picked 4.69 lb"));
}

static void
test_steps (Tool *tool, gconstpointer data)
{
  enter_notebook (tool);
  check_what_was_entered (tool);
  check_the_lot (tool);
  g_assert_cmpuint (count_changes (tool), ==, 11);
  tool_does (tool, "due", FARM, "--json");
  tool_does (tool, "calc", "drill", "--diameter", "6in", "--length", "48in", "--along", "6in",
             "--between", "3in", "--margin", "2in");
  g_assert_nonnull (strstr (tool->out, "45"));
}

static void
test_undo_all_and_redo_all (Tool *tool, gconstpointer data)
{
  enter_notebook (tool);
  g_autofree char *before = export_all (tool, FARM, "./before");

  for (gsize i = 0; i < G_N_ELEMENTS (notebook); i++)
    tool_does (tool, "undo", FARM);
  tool_fails (tool, 1, "nothing to undo", "undo", FARM);
  tool_does (tool, "check", FARM);
  tool_does (tool, "trace", FARM, "--help");
  tool_fails (tool, 1, "There is no lot, log, batch", "trace", FARM, "24A");
  tool_does (tool, "history", FARM);
  g_assert_nonnull (strstr (tool->out, "Undone: Imported 1 felling from felling.csv\n"));
  g_assert_nonnull (strstr (tool->out, "  Imported 1 felling from felling.csv  (undone)\n"));
  for (gsize i = 0; i < G_N_ELEMENTS (notebook); i++)
    tool_does (tool, "redo", FARM);
  tool_does (tool, "history", FARM);
  g_assert_nonnull (strstr (tool->out, "Done again: Imported 1 felling from felling.csv\n"));
  g_assert_null (strstr (tool->out, "(undone)"));
  g_autofree char *after = export_all (tool, FARM, "./after");
  g_assert_cmpstr (before, ==, after);
}

static void
test_export_is_what_import_reads (Tool *tool, gconstpointer data)
{
  enter_notebook (tool);
  g_autofree char *before = export_all (tool, FARM, "./one");

  tool_does (tool, "new", "./copy.bedlog", "--units", "metric");
  tool_does (tool, "import", "./copy.bedlog", "all", "./one", "--dry-run");
  tool_does (tool, "import", "./copy.bedlog", "all", "./one");
  g_autofree char *after = export_all (tool, "./copy.bedlog", "./two");
  g_assert_cmpstr (before, ==, after);
  tool_does (tool, "backup", FARM, "-o", "./saved.bedlog");
  g_autofree char *saved = export_all (tool, "./saved.bedlog", "./three");
  g_assert_cmpstr (before, ==, saved);
}

/* Whether @path begins with @magic. */
static void
assert_begins (Tool *tool, const char *name, const char *magic)
{
  g_autofree char *bytes = tool_read (tool, name);

  g_assert_cmpint (strncmp (bytes, magic, strlen (magic)), ==, 0);
}

static void
test_paper_and_workbook (Tool *tool, gconstpointer data)
{
  enter_notebook (tool);
  tool_does (tool, "report", FARM, "--season", "2025", "-o", "./2025.xlsx");
  assert_begins (tool, "./2025.xlsx", "PK");
  tool_does (tool, "labels", FARM, "--batch", "24A", "--sheet", "letter-3x10", "-o", "./tags.pdf");
  assert_begins (tool, "./tags.pdf", "%PDF");
  tool_does (tool, "labels", FARM, "--log", "24A-1..2 3", "-o", "./tags.pdf");
  tool_fails (tool, 1, "There is no log 24A-999", "labels", FARM, "--log", "24A-1..999", "-o",
              "./tags.pdf");
}

/* docs/file-format.md is written from the field table. */
static void
test_format_is_documented (Tool *tool, gconstpointer data)
{
  g_autofree char *path
      = g_build_filename (g_getenv ("BEDLOG_SOURCE"), "docs", "file-format.md", NULL);
  g_autofree char *text = NULL;

  tool_does (tool, "format");
  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  /* Line by line: the whole of both is long to read. */
  g_auto (GStrv) wanted = g_strsplit (tool->out, "\n", -1);
  g_auto (GStrv) found = g_strsplit (text, "\n", -1);
  for (guint i = 0; wanted[i] || found[i]; i++)
    {
      g_assert_cmpstr (wanted[i], ==, found[i]);
      if (!wanted[i] || !found[i])
        break;
    }
}

/* One thing at a time, and one that there is. */
static void
test_figures_of_what (Tool *tool, gconstpointer data)
{
  tool_does (tool, "demo", "./f.bedlog", "--logs", "40", "--years", "4", "--today", "2026-07-14");
  tool_does (tool, "figures", "./f.bedlog", "--log", "26A-001", "--json");
  g_assert_nonnull (strstr (tool->out, "\"picked_in_all\" : "));
  tool_does (tool, "figures", "./f.bedlog", "--week", "2026-07-19", "--json");
  g_assert_nonnull (strstr (tool->out, "\"day\" : \"2026-07-19\""));
  tool_does (tool, "figures", "./f.bedlog", "--farm");
  g_assert_nonnull (strstr (tool->out, "logs_in_tank "));
  tool_does (tool, "figures", "./f.bedlog", "--kinds");
  g_assert_nonnull (strstr (tool->out, "level_low "));
  tool_fails (tool, 1, "one thing at a time", "figures", "./f.bedlog", "--farm", "--kinds");
  tool_fails (tool, 1, "one thing at a time", "figures", "./f.bedlog", "--log", "26A-001", "--week",
              "2026-07-19");
  tool_fails (tool, 2, "NONE", "figures", "./f.bedlog", "--log", "NONE");
  tool_fails (tool, 1, "someday", "figures", "./f.bedlog", "--week", "someday");
}

/* docs/figures.md holds the tables of figures. */
static void
test_figures_are_documented (Tool *tool, gconstpointer data)
{
  g_autofree char *path = g_build_filename (g_getenv ("BEDLOG_SOURCE"), "docs", "figures.md", NULL);
  g_autofree char *text = NULL;

  tool_does (tool, "format-figures");
  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  g_autofree char *wanted
      = g_strdup_printf ("<!-- table -->\n%s<!-- end of table -->\n", tool->out);
  g_assert_nonnull (strstr (text, wanted));
}

static void
test_demo (Tool *tool, gconstpointer data)
{
  tool_does (tool, "demo", "./demo.bedlog", "--logs", "60", "--years", "3", "--seed", "4",
             "--today", "2026-06-12");
  tool_does (tool, "demo", "./again.bedlog", "--logs", "60", "--years", "3", "--seed", "4",
             "--today", "2026-06-12");
  g_autofree char *one = tool_hash (tool, "./demo.bedlog");
  g_autofree char *other = tool_hash (tool, "./again.bedlog");
  g_assert_cmpstr (one, ==, other);
  tool_does (tool, "check", "./demo.bedlog");
  tool_fails (tool, 1, "already", "demo", "./demo.bedlog");
  tool_fails (tool, 1, "1 to 200000", "demo", "./more.bedlog", "--logs", "300000");
  tool_fails (tool, 1, "1 to 200000", "demo", "./less.bedlog", "--logs", "0");
  tool_fails (tool, 1, "1 to 20 ", "demo", "./less.bedlog", "--years", "0");
}

#define ADD(name, function)                                                                        \
  g_test_add ("/steps/" name, Tool, NULL, tool_set_up, function, tool_tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("steps", test_steps);
  ADD ("undo-all-and-redo-all", test_undo_all_and_redo_all);
  ADD ("export-is-what-import-reads", test_export_is_what_import_reads);
  ADD ("paper-and-workbook", test_paper_and_workbook);
  ADD ("format-is-documented", test_format_is_documented);
  ADD ("figures-of-what", test_figures_of_what);
  ADD ("figures-are-documented", test_figures_are_documented);
  ADD ("demo", test_demo);
  return g_test_run ();
}
