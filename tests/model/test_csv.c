/* CSV import: what is read, what is made on the way, and every fault with its place. */
#include "../ask.h"

#include "model_test.h"

#include <glib/gstdio.h>

#include "model/csv/csv.h"
#include "model/farm/kinds.h"

static char *
write_csv (Scene *scene, const char *kind, const char *text)
{
  g_autofree char *name = g_strconcat (kind, ".csv", NULL);
  char *path = g_build_filename (scene->folder, name, NULL);

  g_assert_true (g_file_set_contents (path, text, -1, NULL));
  return path;
}

static int
import_mode (Scene *scene, const char *kind, const char *text, BedImportMode mode,
             GPtrArray **faults)
{
  g_autofree char *path = write_csv (scene, kind, text);
  g_autoptr (GError) error = NULL;
  BedImport import = { bed_kind_from_name (kind), path, mode };
  int n = bed_csv_import (scene->farm, &import, faults, &error);

  if (n < 0)
    g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
  g_unlink (path);
  return n;
}

/* Asserts that it goes in, without a word when @notes is 0. */
static void
imports (Scene *scene, const char *kind, const char *text, int records, guint notes)
{
  g_autoptr (GPtrArray) faults = NULL;
  int n = import_mode (scene, kind, text, BED_IMPORT_WRITE, &faults);

  for (guint i = 0; i < faults->len; i++)
    if (n < 0 || faults->len != notes)
      g_test_message ("%s", ((BedCsvFault *) faults->pdata[i])->message);
  g_assert_cmpint (n, ==, records);
  g_assert_cmpuint (faults->len, ==, notes);
}

typedef struct
{
  guint line, column;
  const char *words; /* in the message */
} Expected;

/* Asserts that exactly these faults are found, and that the farm stays as it was. */
static void
refuses (Scene *scene, const char *kind, const char *text, const Expected *expected, guint n)
{
  g_autoptr (GPtrArray) faults = NULL;
  g_autofree char *before = scene_dump (scene->farm);

  g_assert_cmpint (import_mode (scene, kind, text, BED_IMPORT_WRITE, &faults), ==, -1);
  g_autofree char *after = scene_dump (scene->farm);
  g_assert_cmpstr (before, ==, after);
  for (guint i = 0; i < faults->len; i++)
    {
      const BedCsvFault *fault = faults->pdata[i];
      g_test_message ("%u:%u: %s", fault->line, fault->column, fault->message);
    }
  g_assert_cmpuint (faults->len, ==, n);
  for (guint i = 0; i < n; i++)
    {
      const BedCsvFault *fault = faults->pdata[i];
      g_assert_cmpuint (fault->line, ==, expected[i].line);
      g_assert_cmpuint (fault->column, ==, expected[i].column);
      g_assert_nonnull (strstr (fault->message, expected[i].words));
    }
}

#define REFUSES(scene, kind, text, ...)                                                            \
  do                                                                                               \
    {                                                                                              \
      const Expected expected[] = { __VA_ARGS__ };                                                 \
      refuses (scene, kind, text, expected, G_N_ELEMENTS (expected));                              \
    }                                                                                              \
  while (0)

static gint64
one (Scene *scene, const char *sql)
{
  return ask_one (scene->farm, sql, 0);
}

static void
assert_text (Scene *scene, const char *sql, const char *text)
{
  g_autoptr (BedQuery) q = bed_query_new (scene->farm, sql);

  g_assert_true (bed_query_next (q));
  g_assert_cmpstr (bed_query_text (q, 0), ==, text);
}

/* --- reading ------------------------------------------------------------------- */

/* RFC 4180 as reference/sciences 9.1 has it: a comma, doubled quotes, a line end inside a
 * field; then LF, CRLF and a byte order mark. */
static void
test_rfc4180 (Scene *scene, gconstpointer data)
{
  imports (scene, "stand", "name,grows,notes\r\n\"a,b\",\"he said \"\"x\"\"\",\"line1\nline2\"\r\n",
           1, 0);
  assert_text (scene, "SELECT name FROM stand", "a,b");
  assert_text (scene, "SELECT grows FROM stand", "he said \"x\"");
  assert_text (scene, "SELECT notes FROM stand", "line1\nline2");
  imports (scene, "stand", "\xef\xbb\xbfname\nNorth", 1, 0);
  imports (scene, "stand", "name\rSouth\r", 1, 0);
  imports (scene, "stand", "name,\r\n\r\nEast,\r\n,\r\n , \r\n", 1, 0);
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_STAND), ==, 4);
}

/* As other programs write it: semicolons, tabs, Windows-1252, UTF-16. */
static void
test_other_habits (Scene *scene, gconstpointer data)
{
  imports (scene, "stand", "name;grows\nSouth, low;oak\nS\xfc\x80;ash\n", 2, 0);
  assert_text (scene, "SELECT grows FROM stand WHERE name = 'South, low'", "oak");
  assert_text (scene, "SELECT grows FROM stand WHERE name = 'Sü€'", "ash");
  imports (scene, "area", "sep=\t\r\nname\tnotes\r\nYard\twet, mossy\r\n", 1, 0);
  assert_text (scene, "SELECT notes FROM area WHERE name = 'Yard'", "wet, mossy");
  /* A head with commas that names our fields is ours, whatever the notes look like. */
  imports (scene, "buyer", "name,kind,contact\nA,market,a;b;c\nB,market,d;e;f\nC,shop,g;h;i\n", 3,
           0);
  assert_text (scene, "SELECT contact FROM buyer WHERE name = 'B'", "d;e;f");
}

static void
test_heads_and_units (Scene *scene, gconstpointer data)
{
  scene_batch (scene->farm, 0);
  imports (scene, "log",
           "Small diameter (mm),length (in),batch,felling,code\n"
           "101.6,40,26a,F26-1,OLD-1\n"
           "4 in,1 m,26A,f26-1,OLD-2\n",
           2, 0);
  g_assert_cmpint (one (scene, "SELECT small_diameter FROM log WHERE code = 'OLD-1'"), ==, 101600);
  g_assert_cmpint (one (scene, "SELECT length FROM log WHERE code = 'OLD-1'"), ==, 1016000);
  g_assert_cmpint (one (scene, "SELECT small_diameter FROM log WHERE code = 'OLD-2'"), ==, 101600);
  g_assert_cmpint (one (scene, "SELECT length FROM log WHERE code = 'OLD-2'"), ==, 1000000);
  imports (scene, "purchase",
           "bought_on,category,what,amount (USD),scope\n2026-05-01,wax,Wax,12.50,overhead\n", 1, 0);
  g_assert_cmpint (one (scene, "SELECT amount FROM purchase"), ==, 1250);
}

/* --- faults ---------------------------------------------------------------------- */

static void
test_faults_of_the_head (Scene *scene, gconstpointer data)
{
  REFUSES (scene, "stand", "", { 1, 0, "empty" });
  REFUSES (scene, "stand", "nam\nNorth\n", { 1, 0, "name is missing" },
           { 1, 1, "Did you mean “name”?" });
  REFUSES (scene, "stand", "name,Name\na,b\n", { 1, 2, "twice" });
  REFUSES (scene, "log", "felling,length (kg),small_diameter (mm)\n", { 1, 2, "kg" });
  REFUSES (scene, "stand", "name (cm)\nNorth\n", { 1, 1, "no unit" });
  REFUSES (scene, "purchase", "bought_on,category,what,amount (EUR),scope\n", { 1, 4, "USD" });
}

static void
test_faults_of_the_bytes (Scene *scene, gconstpointer data)
{
  REFUSES (scene, "stand",
           "name\nNørre\nSønder\nS\xfc"
           "d\nMøn\nRømø\n",
           { 4, 0, "UTF-8" });
  REFUSES (scene, "stand", "name,notes\nNorth,\"never closed\nSouth,x\n", { 2, 2, "quotation" });
  REFUSES (scene, "stand", "name,notes\nNorth,a \"b\" c\n", { 2, 2, "quotation" });
}

/* Fifteen kinds of fault at once: all are listed, nothing is written; lines are physical
 * ones, though the first row runs over three. */
static void
test_every_fault_is_listed (Scene *scene, gconstpointer data)
{
  scene_batch (scene->farm, 2);
  REFUSES (scene, "pick",
           "picked_on,log,grade,mass (g),lot,notes\n"
           "5/1/26,26A-001,A,100,,\"one\ntwo\nthree\"\n" /* 2: two kinds */
           "2026-05-32,26A-001,A,100,,\n"                /* 5: no such date */
           "2026-05-02,26A-009,A,100,,\n"                /* 6: no such log */
           "2026-05-02,26A-001-X,A,100,,\n"              /* 7: check character */
           "2026-05-02,26A-001,D,100,,\n"                /* 8: no such grade */
           "2026-05-02,26A-001,A,lots,,\n"               /* 9: no number */
           "2026-05-02,26A-001,A,100 mm,,\n"             /* 10: wrong unit */
           "2026-05-02,26A-001,A,\"1,5\",,\n"            /* 11: decimal comma */
           "2026-05-02,26A-001,A,20000000,,\n"           /* 12: out of range */
           "2026-05-02,26A-001,A,100\n"                  /* 13: too few fields */
           "2026-05-02,26A-001,A,100,,,x\n"              /* 14: too many */
           "2026-05-02,26A-001,,100,,\n"                 /* 15: missing */
           "2026-05-02,26A-001,A,100,L1,\n"              /* 16: no lot code */
           "2026-12-31,26A-001,A,100,,\n",               /* 17: in the future */
           { 2, 1, "5/1/26" }, { 2, 6, "one line only" }, { 5, 1, "2026-05-32" },
           { 6, 2, "26A-009" }, { 7, 2, "likely meant" }, { 8, 3, "none of" }, { 9, 4, "lots" },
           { 10, 4, "mm" }, { 11, 4, "1,5" }, { 12, 4, "outside" }, { 13, 0, "4 fields" },
           { 14, 7, "without a head" }, { 15, 3, "missing" }, { 16, 5, "L260518-1-4" },
           { 17, 1, "future" });
}

/* Rules that hold between records are told at their line and column too. */
static void
test_rules_have_a_place (Scene *scene, gconstpointer data)
{
  scene_batch (scene->farm, 2);
  REFUSES (scene, "pick",
           "picked_on,log,grade,mass (g)\n"
           "2026-05-02,26A-001,A,100\n"
           "2026-02-02,26A-001,A,100\n",
           { 3, 1, "before it was inoculated" });
  REFUSES (scene, "rain", "fell_on,depth (mm)\n2026-05-01,3\n2026-05-01,4\n", { 3, 1, "already" });
}

/* A row that cannot be written does not hide what the rules say of the others, and is not
 * echoed by those that lean on it. */
static void
test_rules_beside_faults (Scene *scene, gconstpointer data)
{
  scene_batch (scene->farm, 2);
  REFUSES (scene, "pick",
           "picked_on,log,grade,mass (g)\n"
           "2026-05-02,26A-001,D,100\n"
           "2026-02-02,26A-001,A,100\n"
           "2026-05-02,,A,100\n",
           { 2, 3, "none of" }, { 3, 1, "before it was inoculated" }, { 4, 2, "missing" });
  REFUSES (scene, "batch",
           "code,inoculated_on,method,spawn,spawn_mass (kg)\n"
           "26D,2026-04-31,drilled,S26-1,2\n"
           "26E,2020-04-30,drilled,S26-1,2\n",
           { 2, 2, "2026-04-31" }, { 3, 2, "before spawn lot" });
}

static void
test_names_are_unique (Scene *scene, gconstpointer data)
{
  imports (scene, "stand", "name\nNorth\n", 1, 0);
  REFUSES (scene, "stand", "name\nEast\nnorth\nEAST\n", { 3, 1, "in the farm already" },
           { 4, 1, "twice" });
  /* The given woods are changed instead. */
  imports (scene, "wood", "common_name,cautions\nNorthern Red Oak,\"Oak wilt: local rules\"\n", 1,
           0);
  assert_text (scene, "SELECT cautions FROM wood WHERE common_name = 'northern red oak'",
               "Oak wilt: local rules");
  imports (scene, "farm", "labour_rate\n21.50\n", 1, 0);
  g_assert_cmpint (one (scene, "SELECT labour_rate FROM farm"), ==, 2150);
  assert_text (scene, "SELECT currency FROM farm", "USD");
}

static void
test_dry_run (Scene *scene, gconstpointer data)
{
  g_autofree char *before = scene_dump (scene->farm);
  g_autoptr (GPtrArray) faults = NULL;

  int n = import_mode (scene, "stand", "name\nNorth\nSouth\n", BED_IMPORT_DRY_RUN, &faults);
  g_assert_cmpint (n, ==, 2);
  g_autofree char *after = scene_dump (scene->farm);
  g_assert_cmpstr (before, ==, after);
  g_assert_cmpuint (faults->len, ==, 0);
}

/* --- made on the way --------------------------------------------------------------- */

static void
test_stands_areas_and_lots (Scene *scene, gconstpointer data)
{
  imports (scene, "felling",
           "felled_on,wood,stand,code\n2026-02-01,white oak,Brook side,F1\n"
           "2026-02-02,white oak,brook side,F2\n",
           2, 1);
  g_assert_cmpint (one (scene, "SELECT count (*) FROM stand"), ==, 1);
  REFUSES (scene, "felling", "felled_on,wood,stand\n2026-02-01,white oak,Brook sid\n",
           { 2, 3, "Did you mean “Brook side”?" });
  imports (scene, "stack", "name,area,kind,built_on\nCrib 1,Yard,crib,2026-03-01\n", 1, 1);
  scene_batch (scene->farm, 1);
  imports (scene, "pick",
           "picked_on,batch,grade,mass (g),lot\n2026-05-09,26A,A,100,L260509-1-8\n"
           "2026-05-09,26A,B,50,\n",
           2, 1);
  assert_text (scene, "SELECT picked_on FROM lot WHERE code = 'L260509-1-8'", "2026-05-09");
  g_assert_cmpint (one (scene, "SELECT count (*) FROM pick WHERE lot IS NULL"), ==, 1);
}

static void
test_strain_with_spawn (Scene *scene, gconstpointer data)
{
  REFUSES (scene, "spawn",
           "code,strain,form,received_on,mass (kg)\nS9,Dale 1,sawdust,2026-03-01,5\n",
           { 2, 2, "column mushroom" });
  imports (scene, "spawn",
           "code,strain,mushroom,type,form,received_on,mass (kg)\n"
           "S8,Dale 1,shiitake,wide-range,sawdust,2026-03-01,5\n"
           "S9,Dale 1,,,sawdust,2026-03-02,5\n",
           2, 1);
  g_assert_cmpint (one (scene, "SELECT count (*) FROM strain WHERE name = 'Dale 1'"), ==, 1);
  assert_text (scene, "SELECT type FROM strain WHERE name = 'Dale 1'", "wide-range");
}

static void
test_spawn_with_batch (Scene *scene, gconstpointer data)
{
  scene_batch (scene->farm, 0);
  imports (scene, "batch",
           "code,inoculated_on,method,spawn,spawn_mass (kg)\n26B,2026-04-01,drilled,S26-1,1.5\n"
           "26C,2026-04-01,drilled,,\n",
           2, 0);
  g_assert_cmpint (one (scene, "SELECT mass FROM spawn_used u JOIN batch b ON b.id = u.batch"
                               " WHERE b.code = '26B'"),
                   ==, 1500000);
  g_assert_cmpint (one (scene, "SELECT count (*) FROM spawn_used u JOIN batch b ON b.id = u.batch"
                               " WHERE b.code = '26C'"),
                   ==, 0);
  REFUSES (scene, "batch",
           "code,inoculated_on,method,spawn,spawn_mass (kg)\n26D,2026-04-01,drilled,,2\n",
           { 2, 0, "does not say of which" });
}

/* D 100 mm, L 1000, a 75, b 150, m 50: 4 rows of 7 and 6 in turn, 26 holes (hole count
 * table, own derivation: docs/sources.md, Staggered holes). */
static void
test_logs_are_numbered_and_holes_counted (Scene *scene, gconstpointer data)
{
  scene_batch (scene->farm, 2);
  imports (scene, "batch",
           "code,inoculated_on,method,along (mm),between (mm),margin (mm),closing\n"
           "26B,2026-04-01,drilled,150,75,50,nearest\n",
           1, 0);
  imports (scene, "log",
           "felling,batch,length (mm),small_diameter (mm),large_diameter (mm)\n"
           "F26-1,26B,1000,100,100\nF26-1,26B,1000,100,100\nF26-1,26A,1000,100,100\n"
           "F26-1,,1000,100,\n",
           4, 0);
  g_assert_cmpint (one (scene, "SELECT count (*) FROM log WHERE code LIKE '26B-00_-_'"), ==, 2);
  g_assert_cmpint (one (scene, "SELECT count (*) FROM log WHERE code LIKE '26A-003-_'"), ==, 1);
  g_assert_cmpint (one (scene, "SELECT holes FROM log WHERE code LIKE '26B-001-_'"), ==, 26);
}

/* A log is meant by its own number where no other has it. */
static void
test_own_numbers (Scene *scene, gconstpointer data)
{
  scene_batch (scene->farm, 0);
  imports (
      scene, "log",
      "felling,batch,length (mm),small_diameter (mm),mark\n"
      "F26-1,26A,1000,100,7\nF26-1,26A,1000,100,B 9\nF26-1,,1000,100,12\nF26-1,26A,1000,100,12\n",
      4, 0);
  imports (scene, "weighing", "log,weighed_on,mass (g)\n7,2026-05-05,7000\nb 9,2026-05-05,7000\n",
           2, 0);
  REFUSES (scene, "weighing", "log,weighed_on,mass (g)\n8,2026-05-05,7000\n",
           { 2, 1, "There is no log “8”" });
  REFUSES (scene, "weighing", "log,weighed_on,mass (g)\n12,2026-05-05,7000\n",
           { 2, 1, "Several logs have the own number 12" });
}

static void
test_logs_of_a_soak (Scene *scene, gconstpointer data)
{
  scene_batch (scene->farm, 4);
  imports (scene, "stack", "name,area,kind,built_on\nCrib 1,Yard,crib,2026-03-01\n", 1, 1);
  imports (scene, "place",
           "log,stack,since,until\n26A-001,Crib 1,2026-03-02,\n"
           "26A-002,Crib 1,2026-03-02,2026-04-01\n"
           "26A-003,Crib 1,2026-03-02,2026-05-01\n",
           3, 0);
  imports (scene, "soak",
           "code,tank,put_in,taken_out,logs\n"
           "K1,T,2026-04-01T20:00,2026-04-02T07:00,Crib 1\n"
           "K2,T,2026-04-05T20:00,2026-04-06T07:00,26A-002 26A-004\n"
           "K3,U,2026-05-08T20:00,2026-05-09T07:00,26A\n",
           3, 4);
  g_assert_cmpint (one (scene, "SELECT count (*) FROM soaked d JOIN soak s ON s.id = d.soak"
                               " WHERE s.code = 'K1'"),
                   ==, 2);
  g_assert_cmpint (one (scene, "SELECT count (*) FROM soaked d JOIN soak s ON s.id = d.soak"
                               " WHERE s.code = 'K2'"),
                   ==, 2);
  g_assert_cmpint (one (scene, "SELECT count (*) FROM soaked d JOIN soak s ON s.id = d.soak"
                               " WHERE s.code = 'K3'"),
                   ==, 4);
  imports (scene, "soak",
           "code,tank,put_in,taken_out,logs\n"
           "K5,V,2026-03-20T20:00,2026-03-21T07:00,\"26A-1..2, 4\"\n",
           1, 3);
  g_assert_cmpint (one (scene, "SELECT count (*) FROM soaked d JOIN soak s ON s.id = d.soak"
                               " WHERE s.code = 'K5'"),
                   ==, 3);
  REFUSES (scene, "soak", "code,tank,put_in,logs\nK6,T,2026-03-25T20:00,26A-1..9\n",
           { 2, 4, "There is no log 26A-9. There are 26A-1 to 4." });
  REFUSES (scene, "soak", "code,tank,put_in,logs\nK4,T,2026-03-01T20:00,Crib 1\n",
           { 2, 4, "No log lay in Crib 1" });
  REFUSES (scene, "soak", "code,tank,put_in,logs\nK4,T,2026-04-10T20:00,Crib 2\n",
           { 2, 4, "no stack “Crib 2”. Did you mean “Crib 1”?" });
  REFUSES (scene, "soak", "code,tank,put_in,logs\nK4,T,2026-04-10T20:00,26A-002 26A-7\n",
           { 2, 4, "no log “26A-007" });
}

/* A whole farm is read in its own units and money, whatever the new file began with. */
static void
test_farm_comes_first (Scene *scene, gconstpointer data)
{
  g_autofree char *farm = write_csv (scene, "farm",
                                     "name,labour_rate (JPY),unit_system,currency\n"
                                     "Hill,1500,us,JPY\n");
  g_autofree char *stand = write_csv (scene, "stand", "name,area\nNorth,1\n");
  g_autofree char *purchase = write_csv (scene, "purchase",
                                         "bought_on,category,what,amount (JPY),scope\n"
                                         "2026-05-01,wax,Wax,1250,overhead\n");
  g_autofree char *hours = write_csv (scene, "hours",
                                      "worked_on,task,minutes,rate (USD)\n"
                                      "2026-05-01,waxing,1,20\n");
  g_autoptr (GPtrArray) faults = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (bed_csv_import_all (
                       scene->farm, &(BedImport){ .path = scene->folder, .mode = BED_IMPORT_WRITE },
                       &faults, &error),
                   ==, -1);
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
  g_assert_cmpuint (faults->len, ==, 1);
  g_assert_nonnull (strstr (((BedCsvFault *) faults->pdata[0])->message, "in JPY, not in USD"));
  g_unlink (hours);
  g_assert_cmpint (
      bed_csv_import_all (
          scene->farm, &(BedImport){ .path = scene->folder, .mode = BED_IMPORT_WRITE }, NULL, NULL),
      ==, 3);
  g_assert_cmpint (one (scene, "SELECT amount FROM purchase"), ==, 1250); /* yen have no cents */
  g_assert_cmpint (one (scene, "SELECT labour_rate FROM farm"), ==, 1500);
  g_assert_cmpint (one (scene, "SELECT area FROM stand"), ==, 40468564); /* 1 ac in cm2 */
  g_unlink (farm);
  g_unlink (stand);
  g_unlink (purchase);
}

/* A file torn, swapped and scribbled over in any way is read or refused, and never
 * writes a part of itself. */
static void
test_scribbles (Scene *scene, gconstpointer data)
{
  static const char text[] = "felling,batch,length (mm),small_diameter (in),code,notes\r\n"
                             "F26-1,26A,1000,4 1/4,OLD-1,\"a \"\"note\"\"\nof two lines\"\r\n"
                             "F26-1,26A,1000,5,OLD-2,'=x\r\nF26-1,,1 m,6,OLD-3,\r\n";
  static const char ink[] = ",\"\r\n;'=()0 1/\t\xc3\xbc\xff-A";
  g_autoptr (GRand) chance = g_rand_new_with_seed (3);

  scene_batch (scene->farm, 1);
  g_autofree char *before = scene_dump (scene->farm);
  for (int i = 0; i < 400; i++)
    {
      g_autofree char *scribbled = g_strdup (text);
      g_autoptr (GPtrArray) faults = NULL;
      int length = strlen (scribbled);
      for (int n = g_rand_int_range (chance, 1, 6); n > 0; n--)
        scribbled[g_rand_int_range (chance, 0, length)]
            = ink[g_rand_int_range (chance, 0, sizeof ink - 1)];
      if (g_rand_int_range (chance, 0, 4) == 0)
        scribbled[g_rand_int_range (chance, 0, length)] = '\0';
      int n = import_mode (scene, "log", scribbled, BED_IMPORT_DRY_RUN, &faults);
      g_assert_true (n >= 0 || faults->len > 0);
    }
  g_autofree char *after = scene_dump (scene->farm);
  g_assert_cmpstr (before, ==, after);
}

#define ADD(name, function)                                                                        \
  g_test_add ("/csv/" name, Scene, NULL, scene_set_up, function, scene_tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("rfc4180", test_rfc4180);
  ADD ("other-habits", test_other_habits);
  ADD ("heads-and-units", test_heads_and_units);
  ADD ("faults-of-the-head", test_faults_of_the_head);
  ADD ("faults-of-the-bytes", test_faults_of_the_bytes);
  ADD ("every-fault-is-listed", test_every_fault_is_listed);
  ADD ("rules-have-a-place", test_rules_have_a_place);
  ADD ("rules-beside-faults", test_rules_beside_faults);
  ADD ("names-are-unique", test_names_are_unique);
  ADD ("dry-run", test_dry_run);
  ADD ("stands-areas-and-lots", test_stands_areas_and_lots);
  ADD ("strain-with-spawn", test_strain_with_spawn);
  ADD ("spawn-with-batch", test_spawn_with_batch);
  ADD ("logs-numbered-holes-counted", test_logs_are_numbered_and_holes_counted);
  ADD ("logs-of-a-soak", test_logs_of_a_soak);
  ADD ("own-numbers", test_own_numbers);
  ADD ("farm-comes-first", test_farm_comes_first);
  ADD ("scribbles", test_scribbles);
  return g_test_run ();
}
