/* calc invest, breakeven, share and rotation, as a script would use them. */
#include "tool/calc/calc.h"

#include <glib/gstdio.h>
#include <json-glib/json-glib.h>
#include <string.h>

/* A folder with the two files of a rotation. */
typedef struct
{
  char *directory;
  char *groups;
  char *weeks;
} Files;

static void
set_up (Files *files, gconstpointer data)
{
  files->directory = g_dir_make_tmp ("calc-XXXXXX", NULL);
  files->groups = g_build_filename (files->directory, "groups.csv", NULL);
  files->weeks = g_build_filename (files->directory, "weeks.csv", NULL);
}

static void
tear_down (Files *files, gconstpointer data)
{
  g_remove (files->groups);
  g_remove (files->weeks);
  g_rmdir (files->directory);
  g_free (files->groups);
  g_free (files->weeks);
  g_free (files->directory);
}

/* The answer of one command, whose words are divided by spaces. */
static JsonObject *
ask (const char *line)
{
  g_auto (GStrv) argv = g_strsplit (line, " ", -1);
  g_autoptr (GString) out = g_string_new (NULL);
  g_autoptr (GString) err = g_string_new (NULL);
  int status = bed_calc_run ((int) g_strv_length (argv), argv, out, err);

  if (status != 0)
    g_error ("%s: %d: %s", line, status, err->str);
  g_assert_cmpuint (err->len, ==, 0);
  g_autoptr (JsonNode) root = json_from_string (out->str, NULL);
  g_assert_nonnull (root);
  return json_node_dup_object (root);
}

/* @line ends with @status and says @words. */
static void
assert_refused (const char *line, int status, const char *words)
{
  g_auto (GStrv) argv = g_strsplit (line, " ", -1);
  g_autoptr (GString) out = g_string_new (NULL);
  g_autoptr (GString) err = g_string_new (NULL);

  int got = bed_calc_run ((int) g_strv_length (argv), argv, out, err);
  if (got != status || out->len > 0)
    g_error ("%s: %d, %s, where \"%s\" is expected", line, got, out->str, words);
  if (strstr (err->str, words) == NULL)
    g_error ("%s: \"%s\" does not say \"%s\"", line, err->str, words);
}

static void
test_invest (void)
{
  g_autoptr (JsonObject) one = ask ("invest --flows -700000,120000,150000,180000,210000,260000 "
                                    "--rate 0.05 --json");
  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (one, "irr"), 0.0866309, 5e-8);
  g_assert_cmpstr (json_object_get_string_member (one, "irr_count"), ==, "one");
  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (one, "payback_years"), 4.1538,
                                  5e-5);
  g_autoptr (JsonObject) mescius = ask ("invest --flows 0,-10000,3000,3400,7700 --rate 6.5% "
                                        "--json");
  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (mescius, "npv"), 2055.38, 0.005);

  g_autoptr (JsonObject) several = ask ("invest --flows -100,230,-132 --rate 0 --json");
  g_assert_true (json_object_get_null_member (several, "irr"));
  g_assert_true (json_object_get_null_member (several, "payback_years") == FALSE);
  g_assert_cmpuint (json_array_get_length (json_object_get_array_member (several, "irr_all")), ==,
                    2);
  g_autoptr (JsonObject) none = ask ("invest --flows -100,20 --rate 0 --json");
  g_assert_cmpstr (json_object_get_string_member (none, "irr_count"), ==, "one");
  g_assert_true (json_object_get_null_member (none, "payback_years"));
}

/* Worked by hand: 60 kg x 16 + 40; a tub of 1200 less 200 over 5 years. */
static void
test_budget (void)
{
  g_autoptr (JsonObject) answer
      = ask ("budget --quantity 60 --price 16 --other 40 --materials 300 --labour 420 --equipment "
             "1200 --salvage 200 --life 5 --overhead 30 --json");

  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (answer, "gross"), 1000, 1e-9);
  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (answer, "depreciation"), 200,
                                  1e-9);
  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (answer, "return_over_variable"),
                                  280, 1e-9);
  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (answer, "return_to_management"),
                                  50, 1e-9);
  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (answer, "price_total"),
                                  (950 - 40) / 60.0, 1e-9);
  assert_refused ("budget --quantity 60 --price 16 --materials -1", 1, "materials");
  assert_refused ("budget --quantity 60 --price 16 --equipment 1 --salvage 2", 1, "salvage");
}

static void
test_break_even (void)
{
  g_autoptr (JsonObject) answer = ask ("breakeven --fixed 300 --variable 1020 --price 16 "
                                       "--quantity 95 --json");

  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (answer, "price_variable"), 10.7368,
                                  5e-5);
  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (answer, "price_total"), 13.8947,
                                  5e-5);
  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (answer, "quantity_variable"),
                                  63.75, 1e-9);
  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (answer, "quantity_total"), 82.5,
                                  1e-9);
}

static void
assert_parts (const char *line, const gint64 *expected, guint n)
{
  g_autoptr (JsonObject) answer = ask (line);
  JsonArray *parts = json_object_get_array_member (answer, "parts");

  g_assert_cmpuint (json_array_get_length (parts), ==, n);
  for (guint i = 0; i < n; i++)
    g_assert_cmpint (json_array_get_int_element (parts, i), ==, expected[i]);
}

static void
test_share (void)
{
  assert_parts ("share --total 12345 --weights 18,27,54.5,0.5 --json",
                (const gint64[]){ 2222, 3333, 6728, 62 }, 4);
  assert_parts ("share --total -10000 --weights 1,1,1 --json",
                (const gint64[]){ -3334, -3333, -3333 }, 3);
  assert_parts ("share --total -9223372036854775808 --weights 1,0 --json",
                (const gint64[]){ G_MININT64, 0 }, 2);
}

static void
test_money_refused (void)
{
  assert_refused ("invest --flows -100,x --rate 0.1", 1, "“x” is not a number");
  assert_refused ("invest --flows -100,110 --rate 8", 1, "write 8%");
  assert_refused ("invest --flows -100,110 --rate nan", 1, "is not a rate");
  assert_refused ("invest --flows -100,110 --rate ten", 1, "is not a rate");
  assert_refused ("invest --flows 0,0 --rate 0.1", 1, "flows:");
  assert_refused ("invest --flows -100,110", 1, "--rate is missing");
  assert_refused ("breakeven --fixed -1 --variable 1 --price 1 --quantity 1", 1, "fixed:");
  assert_refused ("breakeven --fixed 1 --variable 1 --price 0 --quantity 1", 1, "price:");
  assert_refused ("share --total 12.5 --weights 1", 1, "write 12345 for 123.45");
  assert_refused ("share --total 5 --weights 1,-2", 1, "“-2” is not a number from 0 up");
  assert_refused ("share --total 5 --weights 1,,2", 1, "“” is not a number");
  assert_refused ("share --total 5 --weights 1.2.3", 1, "“1.2.3” is not a number");
  assert_refused ("share --total 5 --weights 0.1234567891", 1, "decimals");
  assert_refused ("share --total 5 --weights 99999999999999999999", 1, "is not a number");
  assert_refused ("share --total 5 --weights 0,0", 1, "weights:");
}

static JsonObject *
ask_rotation (Files *files, const char *groups, const char *weeks, const char *more)
{
  g_autofree char *line = g_strdup_printf ("rotation --csv-groups %s --csv-weeks %s %s --json",
                                           files->groups, files->weeks, more);

  g_assert_true (g_file_set_contents (files->groups, groups, -1, NULL));
  g_assert_true (g_file_set_contents (files->weeks, weeks, -1, NULL));
  return ask (line);
}

/* The toy season, its weeks numbered as those of a year. */
static void
test_rotation (Files *files, gconstpointer data)
{
  g_autoptr (JsonObject) answer
      = ask_rotation (files,
                      "\xef\xbb\xbfgroup,logs,kg_per_log,first_week,last_week,whole\r\n"
                      "\"A\",20,0.25,20,27,1\r\nB,20,0.25,1,40,1\r\nC,20,0.25,20,27,1\r\n",
                      "week,demand_kg\n20,0\n21,5\n22,5\n23,5\n24,5\n25,5\n26,5\n27,5\n",
                      "--tank 20 --rest 3 --lags 0.6,0.4");
  JsonArray *soaks = json_object_get_array_member (answer, "soaks");

  g_assert_cmpstr (json_object_get_string_member (answer, "status"), ==, "optimal");
  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (answer, "cost"), 2, 1e-9);
  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (answer, "bound"), 2, 1e-9);
  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (answer, "gap"), 0, 1e-9);
  JsonObject *first = json_array_get_object_element (soaks, 0);
  g_assert_cmpint (json_object_get_int_member (first, "week"), ==, 20);
  g_assert_cmpint (json_object_get_int_member (first, "logs"), ==, 20);
}

/* Over the new year: the same plan by weeks of a year, 52 or 53 of them, and with the year. */
static void
test_rotation_new_year (Files *files, gconstpointer data)
{
  static const char head[] = "group,logs,kg_per_log,first_week,last_week,whole\n";
  const struct
  {
    const char *weeks, *from, *to;
    const char *first, *last; /* week of the first and the last soak, as JSON has it */
  } table[] = {
    { "51,0\n52,5\n53,5\n1,5\n2,5\n", "52", "1", "52", "1" },
    { "51,0\n52,5\n1,5\n2,5\n3,5\n", "40", "2", "51", "2" },
    { "51,0\n52,5\n1,5\n2,5\n3,5\n", "1", "", "1", "2" },
    { "2026-W52,0\n2026-W53,5\n2027-W01,5\n2027-W02,5\n2027-W03,5\n", "2026-W40", "2027-W01",
      "\"2026-W52\"", "\"2027-W01\"" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    {
      g_autofree char *groups = g_strdup_printf ("%sA,20,0.25,%s,%s,1\nB,20,0.25,%s,%s,1\n", head,
                                                 table[i].from, table[i].to, table[i].from,
                                                 table[i].to);
      g_autofree char *weeks = g_strconcat ("week,demand_kg\n", table[i].weeks, NULL);
      g_autoptr (JsonObject) answer = ask_rotation (files, groups, weeks, "--tank 20 --rest 2");
      JsonArray *soaks = json_object_get_array_member (answer, "soaks");
      guint n = json_array_get_length (soaks);

      g_assert_cmpuint (n, >, 0);
      for (guint end = 0; end < 2; end++)
        {
          JsonObject *soak = json_array_get_object_element (soaks, end ? n - 1 : 0);
          g_autofree char *week = json_to_string (json_object_get_member (soak, "week"), FALSE);

          g_assert_cmpstr (week, ==, end ? table[i].last : table[i].first);
        }
    }
}

/* Weights, a closed week, empty cells for what is left open. */
static void
test_rotation_options (Files *files, gconstpointer data)
{
  g_autoptr (JsonObject) answer = ask_rotation (
      files, "logs,group,kg_per_log,last_week,first_week,whole\n10,A,0.1,,,\n",
      "closed,demand_kg,week\n1,0,1\n0,1,2\n,1,3\n", "--tank 10 --rest 1 --shortfall 2");
  JsonArray *soaks = json_object_get_array_member (answer, "soaks");

  /* Week 1 is closed, so week 2 goes short by 1 kg at weight 2. */
  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (answer, "cost"), 2, 1e-9);
  g_assert_cmpuint (json_array_get_length (soaks), ==, 1);
  g_assert_cmpint (json_object_get_int_member (json_array_get_object_element (soaks, 0), "week"),
                   ==, 2);
}

static void
test_rotation_refused (Files *files, gconstpointer data)
{
  static const char head[] = "group,logs,kg_per_log,first_week,last_week,whole\n";
  const struct
  {
    const char *groups, *weeks, *words;
  } table[] = {
    { "A,5,0.2,1,2,0\n", "1,x\n", "weeks.csv:2:2: demand_kg: “x”" },
    { "A,5,0.2,1,2,0\n", "1,\n", "weeks.csv:2:2: demand_kg: " },
    { "A,5,0.2,1,2,0\n", "1,1\n3,1\n", "weeks.csv:3:1: week: the weeks must follow on" },
    { "A,5.5,0.2,1,2,0\n", "1,1\n", "groups.csv:2:2: logs: “5.5”" },
    { "A,,0.2,1,2,0\n", "1,1\n", "group A: logs" },
    { "A,5,0.2,1,2,2\n", "1,1\n", "groups.csv:2:6: whole: write 1 for yes, 0 for no" },
    { "A,5,0.2,2,1,0\n", "1,1\n2,1\n", "groups.csv:2:5: last_week: comes before first_week" },
    { "A,5,0.2,1,2,0\n", "5,1\n6,1\n", "comes before the first week of the plan" },
    { "A,5,0.2,40,45,0\n", "51,1\n52,1\n1,1\n", "comes before the first week of the plan" },
    { "A,5,0.2,1,2,0\n", "51,1\n1,1\n", "weeks.csv:3:1: week: the weeks must follow on" },
    { "A,5,0.2,,,0\n", "2026-W53,1\n2027-W02,1\n", "the weeks must follow on" },
    { "A,5,0.2,,,0\n", "2027-W53,1\n", "weeks.csv:2:1: week: is not a week like 2026-W53" },
    { "A,5,0.2,1,,0\n", "2026-W53,1\n", "groups.csv:2:4: first_week: is not a week like" },
    { "A,5,0.2,9,9,0\n", "5,1\n6,1\n", "group A: first_week" },
    { "A,50,0.2,1,2,1\n", "1,1\n", "do not fit the tank" },
    { "A,-5,0.2,1,2,0\n", "1,1\n", "groups.csv:2:2: logs: " },
    { "A,5\n", "1,1\n", "groups.csv:2:3: kg_per_log: " },
    { "A,5,0.2,1,2,\"0\n", "1,1\n", "groups.csv:2:6: A quotation mark is left open" },
    { "", "1,1\n", "groups:" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    {
      g_autofree char *line = g_strdup_printf ("rotation --csv-groups %s --csv-weeks %s --tank 20 "
                                               "--rest 1",
                                               files->groups, files->weeks);
      g_autofree char *groups = g_strconcat (head, table[i].groups, NULL);
      g_autofree char *weeks = g_strconcat ("week,demand_kg\n", table[i].weeks, NULL);
      g_assert_true (g_file_set_contents (files->groups, groups, -1, NULL));
      g_assert_true (g_file_set_contents (files->weeks, weeks, -1, NULL));
      assert_refused (line, 1, table[i].words);
    }
}

static void
test_rotation_files (Files *files, gconstpointer data)
{
  g_autofree char *line = g_strdup_printf ("rotation --csv-groups %s --csv-weeks %s --tank 20 "
                                           "--rest 1",
                                           files->groups, files->weeks);
  g_autofree char *half = g_strconcat (line, " --tank 2.5", NULL);

  assert_refused (line, 2, "weeks.csv");
  assert_refused (half, 1, "--tank: given twice");
  assert_refused ("rotation --csv-groups a --csv-weeks b --tank 2.5 --rest 1", 1,
                  "--tank: “2.5” is not a whole number");
  g_assert_true (g_file_set_contents (files->weeks, "week\n1\n", -1, NULL));
  assert_refused (line, 1, "no column “demand_kg”");
  g_assert_true (g_file_set_contents (files->weeks, "week,demand_kg\n1,\xff\n", -1, NULL));
  assert_refused (line, 1, "not UTF-8");
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/calc/invest", test_invest);
  g_test_add_func ("/calc/break-even", test_break_even);
  g_test_add_func ("/calc/budget", test_budget);
  g_test_add_func ("/calc/share", test_share);
  g_test_add_func ("/calc/money-refused", test_money_refused);
  g_test_add ("/calc/rotation", Files, NULL, set_up, test_rotation, tear_down);
  g_test_add ("/calc/rotation-new-year", Files, NULL, set_up, test_rotation_new_year, tear_down);
  g_test_add ("/calc/rotation-options", Files, NULL, set_up, test_rotation_options, tear_down);
  g_test_add ("/calc/rotation-refused", Files, NULL, set_up, test_rotation_refused, tear_down);
  g_test_add ("/calc/rotation-files", Files, NULL, set_up, test_rotation_files, tear_down);
  return g_test_run ();
}
