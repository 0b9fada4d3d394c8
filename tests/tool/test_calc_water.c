/* calc dry, soak, run, evaporation: known answers, and faults that name their place. */
#include "tool/calc/calc.h"

#include <glib/gstdio.h>
#include <json-glib/json-glib.h>
#include <math.h>
#include <string.h>

typedef struct
{
  char *folder;
  char *path; /* of the table */
} Table;

static void
set_up (Table *table, gconstpointer data)
{
  table->folder = g_dir_make_tmp ("bedlog-XXXXXX", NULL);
  table->path = g_build_filename (table->folder, "t.csv", NULL);
}

static void
tear_down (Table *table, gconstpointer data)
{
  g_unlink (table->path);
  g_rmdir (table->folder);
  g_free (table->path);
  g_free (table->folder);
}

/* Runs calc with `%s` in @line as the table's path; the JSON answer, or NULL. */
static JsonObject *
run (Table *table, const char *line, int status, char **faults)
{
  g_autoptr (GString) out = g_string_new (NULL), err = g_string_new (NULL);
  g_autofree char *whole = g_strdup_printf (line, table->path);
  g_auto (GStrv) argv = NULL;
  int argc;

  g_assert_true (g_shell_parse_argv (whole, &argc, &argv, NULL));
  int got = bed_calc_run (argc, argv, out, err);
  g_test_message ("%s: %d\n%s%s", whole, got, out->str, err->str);
  g_assert_cmpint (got, ==, status);
  if (faults)
    *faults = g_strdup (err->str);
  if (status)
    return NULL;
  g_autoptr (JsonNode) node = json_from_string (out->str, NULL);
  return json_node_dup_object (node);
}

static double
number (JsonObject *answer, const char *key)
{
  g_assert_true (json_object_has_member (answer, key));
  return json_object_get_double_member (answer, key);
}

static void
refuses (Table *table, const char *text, const char *line, const char *words)
{
  g_autofree char *faults = NULL;

  g_file_set_contents (table->path, text, -1, NULL);
  run (table, line, 1, &faults);
  g_assert_nonnull (strstr (faults, words));
}

/* 10 kg of dry matter drying exactly by 0.006 a day from 80 % to 16: at 42.857 % (30 % wet)
 * after ln (64 / 26.857) / 0.006 = 144.7 days. */
static void
test_dry (Table *table, gconstpointer data)
{
  const char *line = "dry --csv %s --dry 10kg --alarm 30 --basis wet --json";
  g_autoptr (GString) text = g_string_new ("date,mass (kg)\n");

  for (int day = 0; day <= 90; day += 10)
    {
      GDate date;
      char day_text[16], mass[G_ASCII_DTOSTR_BUF_SIZE];

      g_date_set_dmy (&date, 1, 3, 2026);
      g_date_add_days (&date, (guint) day);
      g_date_strftime (day_text, sizeof day_text, "%Y-%m-%d", &date);
      g_ascii_formatd (mass, sizeof mass, "%.4f", 11.6 + 6.4 * exp (-0.006 * day));
      g_string_append_printf (text, "%s,%s\n", day_text, mass);
    }
  g_file_set_contents (table->path, text->str, -1, NULL);
  g_autoptr (JsonObject) answer = run (table, line, 0, NULL);
  g_assert_cmpfloat_with_epsilon (number (answer, "wet_at_kg"), 10 / 0.7, 1e-3);
  g_assert_cmpfloat_with_epsilon (number (answer, "rate_per_day"), 0.006, 4e-4);
  g_assert_cmpfloat_with_epsilon (number (answer, "now_dry_pct"), 16 + 64 * exp (-0.54), 0.3);
  g_assert_cmpstr (json_object_get_string_member (answer, "alarm_on"), >=, "2026-07-20");
  g_assert_cmpstr (json_object_get_string_member (answer, "alarm_on"), <=, "2026-07-26");
  refuses (table, "date,mass\n2026-03-01,9kg\n", line,
           "t.csv:2:2: mass: "); /* under its dry mass */
  refuses (table, "date,mass\n1 March,18kg\n", line, "t.csv:2:1: date: is not a date");
  refuses (table, "date,mass\n", line, "weighings");
}

static void
test_soak (Table *table, gconstpointer data)
{
  const char *line = "soak --csv %s --hours 16 --json";

  g_file_set_contents (table->path,
                       "hours,before,after,dry\n4,15kg,15.4kg,10kg\n"
                       "25,15 kg,16 kg,10 kg\n",
                       -1, NULL);
  g_autoptr (JsonObject) root = run (table, line, 0, NULL);
  g_assert_cmpstr (json_object_get_string_member (root, "form"), ==, "square root");
  g_assert_cmpfloat_with_epsilon (number (root, "per_root_hour"), 2, 1e-9);
  g_assert_cmpfloat_with_epsilon (number (root, "gain_pct"), 8, 1e-9);
  /* Exactly t / (0.5 + 0.05 t): Peleg. */
  g_file_set_contents (table->path,
                       "hours,before,after,dry\n5,100kg,106.666667kg,100kg\n"
                       "10,100kg,110kg,100kg\n30,100kg,115kg,100kg\n",
                       -1, NULL);
  g_autoptr (JsonObject) peleg = run (table, line, 0, NULL);
  g_assert_cmpstr (json_object_get_string_member (peleg, "form"), ==, "Peleg");
  g_assert_cmpfloat_with_epsilon (number (peleg, "gain_pct"), 16 / 1.3, 1e-3);
  refuses (table, "hours,before,after,dry\nlong,1,2,3\n", line,
           "t.csv:2:1: hours: is not a number");
  refuses (table, "hours,before,after,dry\n5,1,2,0\n", line, "t.csv:2:4: dry: must be above zero");
}

/* 100 days of 15 C are 1000 degree days over 5; the wide strain's median is sqrt (6 x 12)
 * months of 30.4 days. */
static void
test_run (Table *table, gconstpointer data)
{
  const char *line = "run --csv %s --json";
  g_autoptr (GString) text = g_string_new ("date,min,max\n");
  g_autofree char *faults = NULL;
  GDate date;

  g_date_set_dmy (&date, 1, 3, 2026);
  for (int day = 0; day < 100; day++, g_date_add_days (&date, 1))
    {
      char day_text[16];
      g_date_strftime (day_text, sizeof day_text, "%Y-%m-%d", &date);
      g_string_append_printf (text, "%s,15,15\n", day_text);
    }
  g_file_set_contents (table->path, text->str, -1, NULL);
  g_autoptr (JsonObject) answer = run (table, line, 0, NULL);
  g_assert_cmpfloat_with_epsilon (number (answer, "degree_days"), 1000, 1e-6);
  g_assert_cmpfloat_with_epsilon (number (answer, "full_degree_days"), sqrt (72) * 304, 30);
  g_assert_cmpfloat_with_epsilon (number (answer, "colonised_pct"),
                                  100 * 1000 / number (answer, "full_degree_days"), 2);
  g_assert_cmpstr (json_object_get_string_member (answer, "full_on"), >, "2026-11-01");
  refuses (table, "date,min,max\n2026-03-01,5,15\n2026-03-03,5,15\n", line,
           "t.csv:3:1: date: a day");
  run (table, "run --csv %s --strain hot --json", 1, &faults);
  g_assert_nonnull (strstr (faults, "none of cold, wide, warm"));
}

/* FAO Irrigation and Drainage Paper 56 (1998), example 8: 20 S on 3 September, Ra 32.2. */
static void
test_evaporation (Table *table, gconstpointer data)
{
  g_autofree char *faults = NULL;
  g_autoptr (JsonObject) answer = run (
      table, "evaporation --latitude -20 --date 2026-09-03 --min 20 --max 30 --json", 0, NULL);

  g_assert_cmpfloat_with_epsilon (number (answer, "radiation_mj_m2"), 32.2, 0.05);
  g_assert_cmpfloat_with_epsilon (number (answer, "evaporation_mm"),
                                  0.0023 * (25 + 17.8) * sqrt (10) * 0.408 * 32.194, 1e-3);
  run (table, "evaporation --latitude -20 --date soon --min 20 --max 30", 1, &faults);
  g_assert_nonnull (strstr (faults, "--date: “soon” is not a date"));
}

#define ADD(name, test) g_test_add ("/calc/" name, Table, NULL, set_up, test, tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("dry", test_dry);
  ADD ("soak", test_soak);
  ADD ("run", test_run);
  ADD ("evaporation", test_evaporation);
  return g_test_run ();
}
