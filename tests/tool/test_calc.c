#include "tool/calc/calc.h"

#include <glib/gstdio.h>
#include <json-glib/json-glib.h>
#include <string.h>

/* Runs a command line given as one string; the JSON answer, or NULL with the faults. */
static JsonNode *
run (const char *line, int status, char **faults)
{
  g_auto (GStrv) argv = NULL;
  g_autoptr (GString) out = g_string_new (NULL), err = g_string_new (NULL);
  int argc;

  g_assert_true (g_shell_parse_argv (line, &argc, &argv, NULL));
  int got = bed_calc_run (argc, argv, out, err);
  if (got != status)
    g_test_message ("%s: %d\n%s%s", line, got, out->str, err->str);
  g_assert_cmpint (got, ==, status);
  g_assert_true ((err->len == 0) == (status == 0));
  if (faults)
    *faults = g_strdup (err->str);
  return status == 0 ? json_from_string (out->str, NULL) : NULL;
}

static double
number (JsonNode *answer, const char *key)
{
  JsonObject *object = json_node_get_object (answer);

  if (!json_object_has_member (object, key))
    g_error ("no key %s", key);
  return json_object_get_double_member (object, key);
}

static void
assert_number (const char *line, const char *key, double value, double epsilon)
{
  g_autoptr (JsonNode) answer = run (line, 0, NULL);

  g_assert_nonnull (answer);
  g_test_message ("%s -> %s %g", line, key, number (answer, key));
  g_assert_cmpfloat_with_epsilon (number (answer, key), value, epsilon);
}

static void
test_commands (void)
{
  const char *drill = "drill --diameter 100mm --length 1m --along 150 --between 7.5cm --margin 5cm "
                      "--json";
  const char *own = "drill --diameter 100mm --length 1m --along 150 --between 7.5cm --margin 5cm "
                    "--drill-pace 10 --fill-pace 10 --wax-pace 10 --handle-pace 60 "
                    "--wax-holes 100g --spawn-litre 500g --json";
  const char *oak = "tree --wood 'northern red oak' --dbh 6in --height 50ft --bolt 40in --top 3in "
                    "--stump 0.5ft --json";

  assert_number (drill, "rows", 4, 1e-9);
  assert_number (drill, "holes", 26, 1e-9);
  assert_number (drill, "row_pitch_mm", 78.54, 5e-3);
  assert_number (drill, "covering_mm", 75.1, 0.05);
  assert_number (own, "minutes", 26 * 0.3 + 1, 1e-9);
  assert_number (own, "wax_g", 26, 1e-9);
  assert_number (own, "spawn_g", 26 * G_PI * 36 * 25 / 2000, 1e-9);
  assert_number (oak, "bolts", 9, 1e-9);
  assert_number (oak, "wood_l", 4.2217 * 28.316846592, 5e-3);
  assert_number ("log --wood 'Quercus rubra' --large 120 --small 120 --length 1000 --json",
                 "volume_l", 11.3097, 1e-3);
  assert_number ("stand --basal-area 80ft2/ac --trees 200/ac --json", "qmd_cm", 8.5638 * 2.54,
                 1e-3);
  assert_number ("stand --basal-area 90ft2/ac --trees 200/ac --residual 65ft2/ac --json",
                 "remove_trees", 200 / 0.40468564224 * 25 / 90, 1e-2);
  assert_number ("stand --basal-area 80ft2/ac --trees 400/ac --residual 60ft2/ac --wood "
                 "'white oak' --height 48ft --json",
                 "remove_bolts", 2223, 1e-9);
  assert_number ("moisture --mass 29lb --start-mass 35lb --start-moisture 42 --json", "wet_pct",
                 30.0, 5e-2);
  assert_number ("moisture --mass 136g --dry 100g --json", "dry_pct", 36.0, 1e-6);
  assert_number ("air --temperature 70F --humidity 50% --json", "emc_pct", 9.2, 5e-2);
  assert_number ("air --temperature 20 --humidity=50 --json", "dew_point_c", 9.26, 5e-3);
  assert_number ("stack --kind crib --diameter 120mm --length 1m --logs 25 --json", "tiers", 7,
                 1e-9);
}

/* By hand: 100 mm = 3.937008 in, 1 L = 0.0353147 ft3, 1 kg = 2.204623 lb, 1 m2/ha = 4.356 ft2/ac,
 * 1 ac = 0.404686 ha; NIST SP 811 (2008), appendix B.8. The crib's ground and the tree's stem are
 * those of test_commands. Bare numbers are in the same units as the answers. */
static void
test_units (void)
{
  const struct
  {
    const char *line, *us, *metric;
    double in_us, in_metric;
  } answers[] = {
    { "drill --diameter 100mm --length 1m --along 150mm --between 75mm --margin 5cm",
      "row_pitch_in", "row_pitch_mm", 78.5398 / 25.4, 78.5398 },
    { "drill --diameter 100mm --length 1m --along 150mm --between 75mm --margin 5cm "
      "--spawn-litre 500g",
      "spawn_oz", "spawn_g", 36.757 / 28.349523, 36.757 },
    { "drill --diameter 100mm --length 1m --along 150mm --between 75mm --margin 5cm", "spawn_fl_oz",
      "spawn_ml", 73.513 / 29.573530, 73.513 },
    { "log --wood 'Quercus rubra' --large 120mm --small 120mm --length 1m", "volume_ft3",
      "volume_l", 0.39940, 11.3097 },
    { "moisture --mass 29lb --start-mass 35lb --start-moisture 42", "dry_lb", "dry_kg", 20.3,
      20.3 * 0.45359237 },
    { "air --temperature 20C --humidity 50", "dew_point_f", "dew_point_c", 48.67, 9.26 },
    { "stand --basal-area 80ft2/ac --trees 200/ac", "qmd_in", "qmd_cm", 8.5638, 8.5638 * 2.54 },
    { "stand --basal-area 90ft2/ac --trees 200/ac --residual 65ft2/ac", "remove_ft2_ac",
      "remove_m2_ha", 25, 25 / 4.356 },
    { "stand --basal-area 90ft2/ac --trees 200/ac --residual 65ft2/ac", "remove_trees_per_ac",
      "remove_trees", 200 * 25 / 90.0, 200 / 0.40468564224 * 25 / 90 },
    { "stack --kind crib --diameter 120mm --length 1m --logs 25", "length_ft", "length_m", 3.28084,
      1 },
    { "evaporation --latitude -20 --date 2026-09-03 --min 68F --max 86F", "evaporation_in",
      "evaporation_mm", 4.0889 / 25.4, 4.0889 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (answers); i++)
    {
      g_autofree char *us = g_strdup_printf ("%s --units US --json", answers[i].line);
      g_autofree char *metric = g_strdup_printf ("%s --units=Metric --json", answers[i].line);
      g_autofree char *plain = g_strdup_printf ("%s --json", answers[i].line);

      assert_number (us, answers[i].us, answers[i].in_us, 1e-3);
      assert_number (metric, answers[i].metric, answers[i].in_metric, 5e-3);
      assert_number (plain, answers[i].metric, answers[i].in_metric, 5e-3);
    }
  assert_number ("log --wood 'Quercus rubra' --units US --large 5 --small 5 --length 40 --json",
                 "volume_ft3", G_PI * 6.25 * 40 / 1728, 1e-4);
  assert_number ("stand --units US --basal-area 80 --trees 200 --json", "qmd_in", 8.5638, 1e-3);
  assert_number ("stand --basal-area 80ft2/ac --trees 400/ac --residual 60ft2/ac --wood "
                 "'white oak' --height 48ft --units US --json",
                 "remove_bolts_per_ac", 900, 1e-9);
}

/* The list's key says the unit of what is in it. */
static void
test_lists (void)
{
  const char *line = "tree --wood 'northern red oak' --dbh 6in --height 50ft --units US --json";
  g_autoptr (JsonNode) us = run (line, 0, NULL);
  JsonArray *ends = json_object_get_array_member (json_node_get_object (us), "ends_in");
  JsonObject *butt = json_array_get_object_element (ends, 0);

  g_assert_cmpfloat (json_object_get_double_member (butt, "large"), >, 5);
  g_assert_cmpfloat (json_object_get_double_member (butt, "large"), <, 8);
}

/* The words are those of the farm's own fields; the beginning of one will do. */
static void
test_words (void)
{
  static const char *const kinds[]
      = { "dead", "crib", "lean-to", "A-frame", "upright row", "ground row", "upright", "g" };
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      g_autofree char *line = g_strdup_printf (
          "stack --kind '%s' --diameter 120 --length 1000 --logs 5 --json", kinds[i]);
      assert_number (line, "stacks", 1, 1e-9);
    }
  assert_number ("drill --diameter 100 --length 1000 --along 150 --between 75 --margin 50 "
                 "--closing helical --json",
                 "rows", 4, 1e-9);
}

static void
test_heat (void)
{
  g_autofree char *dir = g_dir_make_tmp ("bedlog-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (dir, "days.csv", NULL);
  g_autofree char *line = g_strdup_printf ("heat --csv %s --lower 12C --upper 91.4F --json", path);
  g_autofree char *faults = NULL;

  g_file_set_contents (path, "max,date,min\r\n19.4,2016-01-01,7.8\r\n22.2,2016-01-02,4.4\r\n", -1,
                       NULL);
  assert_number (line, "degree_days", 2.72 + 3.51, 1e-2);
  assert_number (line, "days", 2, 1e-9);
  g_file_set_contents (path, "date,min (F),max (F)\n2016-01-01,46.04,66.92\n", -1, NULL);
  assert_number (line, "degree_days", 2.72, 1e-2);
  g_file_set_contents (path, "date,min,max\n2016-01-01,7.8,19.4\n2016-02-30,7,9\n", -1, NULL);
  run (line, 1, &faults);
  g_assert_nonnull (strstr (faults, "days.csv:3:1: date: is not a date"));
  g_clear_pointer (&faults, g_free);
  g_file_set_contents (path, "date,min,max\n2016-01-01,17.8,9.4\n", -1, NULL);
  run (line, 1, &faults);
  g_assert_nonnull (strstr (faults, "days.csv:2:3: max: most (C):"));
  g_unlink (path);
  run (line, 2, NULL);
  g_rmdir (dir);
}

/* For a person two decimals, of less than one three digits; a script gets all. */
static void
test_said (void)
{
  const char *line = "stack --kind crib --diameter 5in --length 40in --logs 50 --units US";
  g_auto (GStrv) argv = NULL;
  g_autoptr (GString) out = g_string_new (NULL), err = g_string_new (NULL);
  int argc;

  g_assert_true (g_shell_parse_argv (line, &argc, &argv, NULL));
  g_assert_cmpint (bed_calc_run (argc, argv, out, err), ==, 0);
  g_assert_nonnull (strstr (out->str, "length_ft: 3.33\n"));
  g_assert_nonnull (strstr (out->str, "gap_in: 5\n"));
  g_assert_nonnull (strstr (out->str, "mass_lb: 1418.72\n"));
  assert_number ("stack --kind crib --diameter 5in --length 40in --logs 50 --units US --json",
                 "length_ft", 40 / 12.0, 1e-12);
}

static void
test_text (void)
{
  g_autoptr (GString) out = g_string_new (NULL), err = g_string_new (NULL);
  char *argv[] = { "check-character", "A12425GABC1234002", NULL };

  g_assert_cmpint (bed_calc_run (2, argv, out, err), ==, 0);
  g_assert_cmpstr (out->str, ==, "character: M\n");
  g_string_truncate (out, 0);
  char *help[] = { "drill", "--help", NULL };
  g_assert_cmpint (bed_calc_run (2, help, out, err), ==, 0);
  g_assert_nonnull (strstr (out->str, "--small-end=mm "));
  g_assert_nonnull (strstr (out->str, "diameter of a hole [12mm]"));
  g_string_truncate (out, 0);
  char *us[] = { "drill", "--help", "--units", "US", NULL };
  g_assert_cmpint (bed_calc_run (4, us, out, err), ==, 0);
  g_assert_nonnull (strstr (out->str, "--small-end=in "));
}

static void
test_faults (void)
{
  const struct
  {
    const char *line, *said;
  } faults[] = {
    { "nothing", "there is no “nothing”" },
    { "air --temperature 20C", "--humidity is missing" },
    { "air --temperature warm --humidity 50", "--temperature: “warm” is not a number" },
    { "air --temperature 20kg --humidity 50", "--temperature: “kg” is not a unit" },
    { "air --temperature 20 --humidity 120", "humidity (%): 120 is not between" },
    { "air --temperature --humidity 50", "--temperature: its value is missing" },
    { "air --temperature 20 --temperature 21 --humidity 50", "given twice" },
    { "air --temprature 20 --humidity 50", "Unknown option --temprature; see air --help" },
    { "air --temperature 20 --humidity", "Missing argument for --humidity" },
    { "air --temperature 20 --humidity 50 --units imperial", "none of metric, US" },
    { "air 20 --temperature 20 --humidity 50", "one word too many" },
    { "check-character", "CODE is missing" },
    { "check-character 26Å", "CODE:" },
    { "drill --diameter 5in --length 40in --margin 2in --along 6in --between 3in --wax-pace 0",
      "wax-pace: 0 is not" },
    { "drill --diameter 5in --length 40in --margin 2in", "give --along and --between" },
    { "drill --diameter 5in --small-end 6in --length 40in --margin 2in --along 6in --between 3in",
      "small diameter (mm):" },
    { "log --wood oak --large 5in --small 4in --length 40in", "may be any of" },
    { "log --wood zebra --large 5in --small 4in --length 40in", "not in the table" },
    { "moisture --mass 10kg", "give --dry" },
    { "moisture --mass 10kg --dry 11kg", "mass (kg): 10 is not between" },
    { "drill --diameter 127 --length 1000 --margin 50 --along 150 --spawn 100",
      "give --along and --between" },
    { "drill --diameter 127 --length 1000 --margin 50 --covering 80 --closing n --form d --tool x",
      "is none of drill, grinder" },
    { "stack --kind '' --diameter 120 --length 1000 --logs 5", "is none of dead, crib" },
    { "evaporation --latitude 45 --date 15-07-2026 --min 14 --max 26", "write 2026-05-18" },
    { "stack --kind heap --diameter 120 --length 1000 --logs 5", "is none of dead, crib" },
    { "stack --kind dead --diameter 120 --length 1000 --logs 2.5", "not a whole number" },
    { "stand --basal-area 20 --trees many", "--trees:" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (faults); i++)
    {
      g_autofree char *said = NULL;
      run (faults[i].line, 1, &said);
      g_test_message ("%s", said);
      g_assert_nonnull (strstr (said, faults[i].said));
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/calc/commands", test_commands);
  g_test_add_func ("/calc/units", test_units);
  g_test_add_func ("/calc/lists", test_lists);
  g_test_add_func ("/calc/heat", test_heat);
  g_test_add_func ("/calc/said", test_said);
  g_test_add_func ("/calc/text", test_text);
  g_test_add_func ("/calc/words", test_words);
  g_test_add_func ("/calc/faults", test_faults);
  return g_test_run ();
}
