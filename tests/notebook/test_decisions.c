/* What is asked and decided of a sheet, one thing at a time: orders of dates, marks, units, names,
 * rows, and the way back. */
#include "../model/model_test.h"

#include <string.h>

#include "model/farm/kinds.h"
#include "model/farm/names.h"
#include "model/notebook/notebook.h"

static Scene scene;

static BedNotebook *
read_text (const char *text)
{
  g_autoptr (GBytes) bytes = g_bytes_new (text, strlen (text));
  g_autoptr (GError) error = NULL;
  BedRows *rows = bed_rows_open_bytes (bytes, NULL, &error);

  g_assert_no_error (error);
  BedNotebook *notebook = bed_notebook_new (scene.farm, rows, &error);
  g_assert_no_error (error);
  return notebook;
}

static const BedNotebookQuestion *
find_question (BedNotebook *notebook, const char *key)
{
  guint n;
  const BedNotebookQuestion *questions = bed_notebook_get_questions (notebook, &n);

  for (guint i = 0; i < n; i++)
    if (strcmp (questions[i].key, key) == 0)
      return &questions[i];
  return NULL;
}

static void
answer (BedNotebook *notebook, const char *key, const char *text)
{
  g_autoptr (GError) error = NULL;

  bed_notebook_answer (notebook, key, text, &error);
  g_assert_no_error (error);
}

static void
assert_refused (BedNotebook *notebook, const char *key, const char *text)
{
  g_autoptr (GError) error = NULL;
  guint decisions = bed_notebook_count_decisions (notebook);

  g_assert_false (bed_notebook_answer (notebook, key, text, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
  g_assert_cmpuint (bed_notebook_count_decisions (notebook), ==, decisions);
}

static gint64
sum (BedNotebook *notebook, BedKind kind, const char *field)
{
  return bed_notebook_sum (notebook, kind, bed_kind_find_field (kind, field, NULL));
}

/* --- dates --------------------------------------------------------------------------- */

/* One cell says the order for the whole column, and for the other dates of the sheet. */
static void
test_order_from_column (void)
{
  g_autoptr (BedNotebook) notebook = read_text (
      "Picked,Row,Weight (g),Grade\n4/5/2024,R,5,A\n6/5/2024,R,5,A\n25/5/2024,R,5,A\n");

  g_assert_null (find_question (notebook, "dates"));
  g_assert_cmpint (bed_notebook_get_column (notebook, 0)->dates, ==, BED_DATES_DMY);
  g_assert_cmpstr (bed_notebook_get_first_day (notebook), ==, "2024-05-04");
}

static void
test_order_asked (void)
{
  g_autoptr (BedNotebook) notebook
      = read_text ("Picked,Row,Weight (g),Grade\n4/5/2024,R,5,A\n6/5/2024,R,5,A\n");
  const BedNotebookQuestion *question = find_question (notebook, "dates");

  g_assert_nonnull (question);
  g_assert_cmpuint (question->count, ==, 2);
  g_assert_cmpuint (question->line, ==, 2);
  g_assert_cmpuint (question->column, ==, 1);
  assert_refused (notebook, "dates", "ymd");
  answer (notebook, "dates", "mdy");
  g_assert_cmpstr (bed_notebook_get_first_day (notebook), ==, "2024-04-05");
  /* And gone back on. */
  g_assert_true (bed_notebook_go_back (notebook));
  g_assert_null (find_question (notebook, "dates")->answer);
  answer (notebook, "dates", "dmy");
  g_assert_cmpstr (bed_notebook_get_first_day (notebook), ==, "2024-05-04");
}

/* The first thousand rows leave it open, a later one does not. */
static void
test_order_from_later_row (void)
{
  g_autoptr (GString) text = g_string_new ("Picked,Row,Weight (g),Grade\n");
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < 1500; i++)
    g_string_append_printf (text, "%u/%u/2024,R,%u,A\n", i % 12 + 1, i % 11 + 1, i + 1);
  g_string_append (text, "25/5/2024,R,5,A\n");
  g_autoptr (BedNotebook) notebook = read_text (text->str);
  g_assert_nonnull (find_question (notebook, "dates"));
  bed_notebook_read_all (notebook, NULL, &error);
  g_assert_no_error (error);
  g_assert_null (find_question (notebook, "dates"));
  g_assert_cmpint (bed_notebook_get_column (notebook, 0)->dates, ==, BED_DATES_DMY);
  g_assert_cmpuint (bed_notebook_count_rows (notebook), ==, 1501);
  g_assert_cmpstr (bed_notebook_get_last_day (notebook), ==, "2024-11-12");
}

static void
test_epochs (void)
{
  /* Of 2019 or of 2023. */
  g_autoptr (BedNotebook) notebook
      = read_text ("Date,Row,Weight (g),Grade\n43600,R,5,A\n43601,R,5,A\n");

  g_assert_nonnull (find_question (notebook, "epoch"));
  answer (notebook, "epoch", "1904");
  g_assert_cmpstr (bed_notebook_get_first_day (notebook), ==, "2023-05-16");
  answer (notebook, "epoch", "1900");
  g_assert_cmpstr (bed_notebook_get_first_day (notebook), ==, "2019-05-15");
}

static void
test_forms_of_days (void)
{
  static const struct
  {
    const char *cell, *day;
  } days[] = { { "28-May-23", "2023-05-28" },
               { "May 28, 2023", "2023-05-28" },
               { "28. Mai 2023", "2023-05-28" },
               { "28 mai 2023", "2023-05-28" },
               { "28 de mayo de 2023", "2023-05-28" },
               { "2023年5月28日", "2023-05-28" },
               { "20230528", "2023-05-28" },
               { "2023/5/28", "2023-05-28" },
               { "28.5.23", "2023-05-28" },
               { "Sun 28 May 2023", "2023-05-28" },
               { "2023-05-28 14:30", "2023-05-28" },
               { "28th May 2023", "2023-05-28" },
               { "mar. 4 mars 2025", "2025-03-04" },
               { "May 2023", "2023-05-31" },
               { "2023-05", "2023-05-31" },
               { "KW 21 2023", "2023-05-28" },
               { "2023-W21", "2023-05-28" } };

  for (gsize i = 0; i < G_N_ELEMENTS (days); i++)
    {
      g_autofree char *text
          = g_strdup_printf ("Date,Row,Weight (g),Grade\n\"%s\",R,5,A\n", days[i].cell);
      g_autoptr (BedNotebook) notebook = read_text (text);
      if (g_strcmp0 (bed_notebook_get_first_day (notebook), days[i].day) != 0)
        g_error ("“%s” is %s, not %s", days[i].cell, bed_notebook_get_first_day (notebook),
                 days[i].day);
    }
}

/* No day of any reading: asked, and no day is made of it. */
static void
test_no_days (void)
{
  static const char *const cells[]
      = { "31/31/2024", "2024-02-30", "rainy", "May 32 2024", "12", "0", "1/2/3/4", "-5" };

  for (gsize i = 0; i < G_N_ELEMENTS (cells); i++)
    {
      g_autofree char *text
          = g_strdup_printf ("Harvest date,Row,Weight (g),Grade\n2024-05-01,R,5,A\n2024-05-02,R,5,A"
                             "\n%s,R,5,A\n",
                             cells[i]);
      g_autoptr (BedNotebook) notebook = read_text (text);
      if (!find_question (notebook, "odd:0"))
        g_error ("nothing is asked of “%s”", cells[i]);
      g_assert_cmpstr (bed_notebook_get_last_day (notebook), ==, "2024-05-02");
    }
}

/* --- numbers ---------------------------------------------------------------------------- */

static void
test_numbers (void)
{
  static const struct
  {
    const char *cell;
    gint64 mg;
  } masses[] = { { "1250", 1250000 },   { "1,250", 1250000 },    { "1 250", 1250000 },
                 { "1.5 kg", 1500000 }, { "2 lb 3 oz", 992233 }, { "1/2", 500 },
                 { "1-1/2", 1500 },     { "1250 g", 1250000 } };

  for (gsize i = 0; i < G_N_ELEMENTS (masses); i++)
    {
      /* The first row says that a point is before the decimals. */
      g_autofree char *text = g_strdup_printf (
          "Date,Row,Weight (g),Grade\n2024-05-01,R,0.25,A\n2024-05-02,R,\"%s\",A\n",
          masses[i].cell);
      g_autoptr (BedNotebook) notebook = read_text (text);
      if (sum (notebook, BED_KIND_PICK, "mass") != masses[i].mg + 250)
        g_error ("“%s” is %" G_GINT64_FORMAT, masses[i].cell,
                 sum (notebook, BED_KIND_PICK, "mass") - 250);
    }
}

static void
test_mark_asked (void)
{
  g_autoptr (BedNotebook) notebook
      = read_text ("Date\tRow\tWeight (g)\tGrade\n2024-05-01\tR\t1,250\tA\n");

  g_assert_nonnull (find_question (notebook, "decimal"));
  answer (notebook, "decimal", ",");
  g_assert_cmpint (sum (notebook, BED_KIND_PICK, "mass"), ==, 1250);
  bed_notebook_set_decimal_mark (notebook, '.', NULL);
  g_assert_cmpint (sum (notebook, BED_KIND_PICK, "mass"), ==, 1250000);
}

static void
test_about_and_range (void)
{
  g_autoptr (BedNotebook) notebook = read_text (
      "Date,Row,Weight (g),Grade\n2024-05-01,R,~400,A\n2024-05-02,R,300-500,A\n2024-05-03,R,ca. 50,"
      "A\n2024-05-04,R,100,A\n");

  g_assert_cmpuint (find_question (notebook, "about:2")->count, ==, 2);
  answer (notebook, "about:2", "take");
  answer (notebook, "range:2", "out");
  g_assert_cmpint (sum (notebook, BED_KIND_PICK, "mass"), ==, 550000);
  g_assert_cmpuint (bed_notebook_count_aside (notebook, BED_ASIDE_ASKED), ==, 1);
}

static void
test_currency (void)
{
  g_autoptr (BedNotebook) notebook
      = read_text ("Date,Item,Amount\n2024-05-01,wax,$12.00\n2024-05-02,bits,€9.50\n");

  g_assert_cmpuint (find_question (notebook, "currency")->count, ==, 1);
  answer (notebook, "currency", "out");
  g_assert_cmpint (sum (notebook, BED_KIND_PURCHASE, "amount"), ==, 1200);
}

/* --- columns and rows ---------------------------------------------------------------------- */

static void
test_columns (void)
{
  g_autoptr (BedNotebook) notebook
      = read_text ("Date,Row,Wt,Grade,Extra\n2024-05-01,R,5,A,Mo\n2024-05-02,R,6,A,Jo\n");
  const BedField *picker = bed_kind_find_field (BED_KIND_PICK, "picker", NULL);
  const BedField *cost = bed_kind_find_field (BED_KIND_SPAWN, "cost", NULL);
  g_autoptr (GError) error = NULL;

  g_assert_cmpstr (bed_notebook_get_column (notebook, 2)->unit, ==, "g");
  g_assert_nonnull (strstr (bed_notebook_get_column (notebook, 2)->why, "taken as g"));
  g_assert_true (bed_notebook_set_unit (notebook, 2, "ounces", NULL));
  g_assert_cmpint (sum (notebook, BED_KIND_PICK, "mass"), ==, 311845);
  g_assert_false (bed_notebook_set_unit (notebook, 2, "cm", NULL));
  g_assert_null (bed_notebook_get_column (notebook, 4)->field);
  g_assert_true (bed_notebook_set_field (notebook, 4, BED_KIND_PICK, picker, NULL));
  g_assert_true (bed_notebook_get_column (notebook, 4)->field == picker);
  g_assert_cmpint (bed_notebook_get_column (notebook, 4)->sure, ==, BED_MATCH_CHOSEN);
  g_assert_false (bed_notebook_set_field (notebook, 4, BED_KIND_SPAWN, cost, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
  g_assert_true (bed_notebook_go_back (notebook));
  g_assert_null (bed_notebook_get_column (notebook, 4)->field);
  g_assert_true (bed_notebook_go_back (notebook));
  g_assert_false (bed_notebook_go_back (notebook));
}

/* On a metric farm: what cannot be degrees C makes the other bare columns of the sheet US ones too;
 * hours tell nothing, and a column in centimetres keeps the farm's. */
static void
test_units_together (void)
{
  g_autoptr (BedNotebook) station
      = read_text ("DATE,PRCP,TMAX,TMIN\n2024-05-01,0.12,68,45\n2024-05-02,0,71,48\n");
  g_autoptr (BedNotebook) mixed
      = read_text ("Log #,Row,Dia (in),Length (cm),Weight\n1,R,5,100,12\n");

  g_assert_cmpstr (bed_notebook_get_column (station, 1)->unit, ==, "in");
  g_assert_cmpstr (bed_notebook_get_column (station, 2)->unit, ==, "\u00b0F");
  g_assert_cmpstr (bed_notebook_get_column (station, 3)->unit, ==, "\u00b0F");
  g_assert_cmpstr (bed_notebook_get_column (mixed, 2)->unit, ==, "in");
  g_assert_cmpstr (bed_notebook_get_column (mixed, 3)->unit, ==, "cm");
  g_assert_cmpstr (bed_notebook_get_column (mixed, 4)->unit, ==, "kg");
}

/* A head without a unit is of the system that the others are of. */
static void
test_system_of_heads (void)
{
  g_autoptr (BedNotebook) notebook
      = read_text ("Date,Rain (in),Low,High\n2024-05-01,0.2,41,59\n2024-05-02,0,32,50\n");

  g_assert_cmpstr (bed_notebook_get_column (notebook, 2)->unit, ==, "°F");
  g_assert_nonnull (strstr (bed_notebook_get_column (notebook, 2)->why, "as the other columns"));
  g_assert_cmpint (sum (notebook, BED_KIND_TEMPERATURE, "most"), ==, 25000);
}

static void
test_rows_set_aside (void)
{
  g_autoptr (BedNotebook) notebook
      = read_text ("Date,Row,Weight (g),Grade\n2024-05-01,R,5,A\n2024-05-02,R,7,A\nTotal,,12,\n");

  g_assert_cmpuint (bed_notebook_count_rows (notebook), ==, 2);
  g_assert_true (bed_notebook_set_aside (notebook, 2, BED_ASIDE_ASKED, NULL));
  g_assert_cmpuint (bed_notebook_count_rows (notebook), ==, 1);
  g_assert_cmpint (sum (notebook, BED_KIND_PICK, "mass"), ==, 7000);
  g_assert_true (bed_notebook_set_aside (notebook, 4, BED_ASIDE_NOT, NULL));
  g_assert_cmpuint (bed_notebook_count_rows (notebook), ==, 2);
}

#define ROWS "Date,Row,Weight (g),Grade\n2024-05-01,R,5,A\n2024-05-02,R,7,A\n"

/* What was decided of a row is kept, and holds for that row of that content alone. */
static void
test_row_kept_aside (void)
{
  g_autoptr (BedNotebook) notebook = read_text (ROWS);
  g_autoptr (BedNotebook) longer = read_text (ROWS "2024-05-03,R,9,A\n");
  g_autoptr (BedNotebook) other = read_text ("Date,Row,Weight (g),Grade\n2024-06-01,R,5,A\n");

  g_assert_true (bed_notebook_set_aside (notebook, 2, BED_ASIDE_ASKED, NULL));
  g_autofree char *kept = bed_notebook_dup_matching (notebook);
  g_assert_true (bed_notebook_take_matching (longer, kept, NULL));
  g_assert_cmpint (sum (longer, BED_KIND_PICK, "mass"), ==, 16000);
  g_assert_true (bed_notebook_take_matching (other, kept, NULL));
  g_assert_cmpuint (bed_notebook_count_rows (other), ==, 1);
}

/* Cells without heads are what is kept where they are pasted, and so is what fits several. */
static void
test_expected (void)
{
  g_autoptr (BedNotebook) bare = read_text ("2026-03-12\tF26-1\t5 kg\n2026-03-13\tF26-1\t6 kg\n");
  g_autoptr (BedNotebook) sure = read_text ("Date,Hours,Task\n2026-03-12,5,drilling\n");
  BedMatch match;

  bed_notebook_get_kind (bare, &match);
  g_assert_cmpint (match, ==, BED_MATCH_NONE);
  g_assert_nonnull (find_question (bare, "kind"));
  bed_notebook_expect (bare, BED_KIND_BIT (BED_KIND_PICK) | BED_KIND_BIT (BED_KIND_LOT));
  g_assert_cmpint (bed_notebook_get_kind (bare, &match), ==, BED_KIND_PICK);
  g_assert_null (find_question (bare, "kind"));
  g_assert_cmpint (sum (bare, BED_KIND_PICK, "mass"), ==, 11000000);
  g_assert_cmpstr (bed_notebook_get_column (bare, 0)->field->name, ==, "picked_on");
  g_assert_null (bed_notebook_get_column (bare, 1)->field); /* no pick is of a felling */
  bed_notebook_expect (sure, BED_KIND_BIT (BED_KIND_PICK));
  g_assert_cmpint (bed_notebook_get_kind (sure, NULL), ==, BED_KIND_HOURS);
}

/* A column without a head is what its cells name; the batch is that of the own numbers. */
static void
test_names_without_heads (void)
{
  g_autoptr (BedNotebook) notebook = read_text ("2026-04-12\t26A\t5 kg\n2026-04-13\t26a\t6 kg\n");

  bed_notebook_expect (notebook, BED_KIND_BIT (BED_KIND_PICK));
  g_assert_cmpstr (bed_notebook_get_column (notebook, 1)->field->name, ==, "batch");
  answer (notebook, "need:pick.grade", "A");
  g_assert_cmpuint (bed_notebook_count_open (notebook), ==, 0);
  g_assert_cmpint (sum (notebook, BED_KIND_PICK, "mass"), ==, 11000000);
}

/* A row that only another's buyer was made in is left out: the next one makes the buyer. */
static void
test_shared_of_row_left_out (void)
{
  g_autoptr (BedNotebook) notebook
      = read_text ("Date,Customer,Weight (g),Total,Form\n2024-05-01,The Ford,500,5.00,stale\n"
                   "2024-05-02,The Ford,400,4.00,fresh\n");

  answer (notebook, "word:line.form:stale", "out");
  g_assert_cmpuint (bed_notebook_count_records (notebook, BED_KIND_BUYER), ==, 1);
  g_assert_cmpuint (bed_notebook_count_records (notebook, BED_KIND_LINE), ==, 1);
}

/* --- names -------------------------------------------------------------------------------------
 */

static void
test_woods (void)
{
  g_autoptr (GError) error = NULL;
  gint64 maple = bed_farm_find (scene.farm, BED_KIND_WOOD, "sugar maple", NULL);

  g_assert_cmpint (bed_farm_find (scene.farm, BED_KIND_WOOD, "Hard Maple", NULL), ==, maple);
  g_assert_cmpint (bed_farm_find (scene.farm, BED_KIND_WOOD, "acer saccharum", NULL), ==, maple);
  g_assert_cmpint (bed_farm_find (scene.farm, BED_KIND_WOOD, "érable à sucre", NULL), ==, maple);
  g_assert_cmpint (bed_farm_find (scene.farm, BED_KIND_WOOD, "red oak", &error), ==, 0);
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_FOUND);
  g_assert_nonnull (strstr (error->message, "northern red oak, southern red oak"));
  g_assert_cmpint (bed_farm_find (scene.farm, BED_KIND_MUSHROOM, "しいたけ", NULL), ==,
                   bed_farm_find (scene.farm, BED_KIND_MUSHROOM, "shiitake", NULL));
}

/* Each name that people have for a wood or mushroom is one that a new farm has, or is asked about
 * with those it may be; and what is typed into a form finds it. */
static void
test_every_name (void)
{
  g_autofree char *path
      = g_build_filename (g_getenv ("BEDLOG_SOURCE"), "data", "notebook", "names.csv", NULL);
  g_autofree char *csv = NULL;
  guint n_one = 0, n_asked = 0;

  g_assert_true (g_file_get_contents (path, &csv, NULL, NULL));
  g_auto (GStrv) lines = g_strsplit (csv, "\n", -1);
  for (char **line = lines + 1; **line; line++)
    {
      g_auto (GStrv) cells = g_strsplit (*line, ",", 3);
      g_auto (GStrv) names = g_strsplit (cells[2], ";", -1);
      BedKind kind = strcmp (cells[0], "wood") == 0 ? BED_KIND_WOOD : BED_KIND_MUSHROOM;
      gint64 species = bed_farm_find (scene.farm, kind, cells[1], NULL);

      g_assert_cmpint (species, !=, 0);
      for (char **name = names; *name; name++)
        {
          g_autoptr (GError) error = NULL;
          gboolean doubtful = g_str_has_suffix (*name, "?");

          g_strdelimit (*name, "?", ' ');
          gint64 found = bed_farm_find (scene.farm, kind, g_strstrip (*name), &error);
          /* A name of several may be what the program calls one of them. */
          if (!doubtful)
            g_assert_cmpint (found, ==, species);
          else if (!found)
            g_assert_nonnull (strstr (error->message, "Write which"));
          n_one += found != 0;
          n_asked += !found;
        }
    }
  g_test_message ("%u names of one species, %u asked about", n_one, n_asked);
  g_assert_cmpuint (n_one, >, 500);
  g_assert_cmpuint (n_asked, <, n_one / 2);
}

/* A sheet of fellings with a row for each wood under its name in that language. */
static char *
dup_fellings (char **lines, guint language)
{
  GString *text = g_string_new ("Code,Felled on,Wood,Bolts\n");

  for (guint i = 1; *lines[i]; i++)
    {
      g_auto (GStrv) cells = g_strsplit (lines[i], ",", -1);
      if (strcmp (cells[0], "wood") == 0 && *cells[language])
        g_string_append_printf (text, "F%u,2026-01-13,%s,5\n", i, cells[language]);
    }
  return g_string_free (text, FALSE);
}

static gboolean
chooses (const char *kind, gint64 id, const char *typed)
{
  g_autofree char *sql
      = g_strdup_printf ("SELECT bed_found (common_name || ' ' || bed_names ('%s', latin_name), ?1)"
                         " FROM %s WHERE id = ?2",
                         kind, kind);
  g_autoptr (BedQuery) q = bed_query_new (scene.farm, sql);
  bed_query_bind_text (q, 1, typed);
  bed_query_bind_int (q, 2, id);
  gboolean found = bed_query_next (q) && bed_query_int (q, 0);
  return bed_query_finish (q, NULL) && found;
}

/* In the farm of that language it is the name; in an English one it is understood, or asked. */
static guint
check_given (char **cells, guint language, BedFarm *english)
{
  BedKind kind = strcmp (cells[0], "wood") == 0 ? BED_KIND_WOOD : BED_KIND_MUSHROOM;
  const char *name = *cells[language] ? cells[language] : cells[1];
  gint64 id = bed_farm_find (scene.farm, kind, cells[1], NULL);
  g_autoptr (BedRecord) record = bed_farm_load (scene.farm, kind, id, NULL);
  g_autoptr (GError) error = NULL;

  g_test_message ("%s", name);
  g_assert_nonnull (record);
  g_assert_cmpstr (bed_record_get_text (record, "common_name"), ==, name);
  g_assert_cmpint (bed_farm_find (scene.farm, kind, name, NULL), ==, id);
  g_assert_true (chooses (cells[0], id, name));
  gint64 there = bed_farm_find (english, kind, name, &error);
  g_autoptr (BedRecord) same = there ? bed_farm_load (english, kind, there, NULL) : NULL;
  if (!same)
    g_assert_nonnull (strstr (error->message, "Write which"));
  else
    g_assert_cmpstr (bed_record_get_text (same, "latin_name"), ==, cells[1]);
  return !same;
}

/* A new farm has the woods and mushrooms under the names of the reader's language. */
static void
test_given_names (void)
{
  g_autofree char *path
      = g_build_filename (g_getenv ("BEDLOG_SOURCE"), "data", "given", "names.csv", NULL);
  g_autofree char *csv = NULL;
  const Scene english = scene;

  g_assert_true (g_file_get_contents (path, &csv, NULL, NULL));
  g_auto (GStrv) lines = g_strsplit (csv, "\n", -1);
  g_auto (GStrv) heads = g_strsplit (lines[0], ",", -1);
  for (guint language = 2; heads[language]; language++)
    {
      guint asked = 0, n;

      g_setenv ("LANGUAGE", heads[language], TRUE);
      scene_set_up (&scene, "metric");
      for (char **line = lines + 1; **line; line++)
        {
          g_auto (GStrv) cells = g_strsplit (*line, ",", -1);
          asked += check_given (cells, language, english.farm);
        }
      g_assert_cmpuint (asked, <=, 2);
      g_autofree char *text = dup_fellings (lines, language);
      g_autoptr (BedNotebook) notebook = read_text (text);
      g_assert_true (bed_notebook_read_all (notebook, NULL, NULL));
      bed_notebook_get_questions (notebook, &n);
      g_assert_cmpuint (n, ==, 0);
      g_assert_cmpuint (bed_notebook_count_records (notebook, BED_KIND_FELLING), >, 80);
      g_clear_pointer (&notebook, bed_notebook_free);
      scene_tear_down (&scene, "metric");
    }
  g_unsetenv ("LANGUAGE");
  scene = english;
}

static void
test_typed_name (void)
{
  static const struct
  {
    const char *typed, *wood;
  } names[] = { { "roteich", "northern red oak" }, { "chene rou", "northern red oak" },
                { "encina", "holm oak" },          { "クヌギ", "sawtooth oak" },
                { "굴참", "Chinese cork oak" },    { "枫香", "Formosan sweetgum" } };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autoptr (BedQuery) q
          = bed_query_new (scene.farm, "SELECT count (*) FROM wood WHERE common_name = ?2"
                                       " AND bed_found (bed_names ('wood', latin_name), ?1)");
      bed_query_bind_text (q, 1, names[i].typed);
      bed_query_bind_text (q, 2, names[i].wood);
      g_assert_true (bed_query_next (q));
      g_test_message ("%s", names[i].typed);
      g_assert_cmpint (bed_query_int (q, 0), ==, 1);
      g_assert_true (bed_query_finish (q, NULL));
    }
}

static void
test_woods_asked (void)
{
  /* A farm from before there was this wood. */
  g_autoptr (BedEdit) edit = bed_edit_new (scene.farm);
  bed_edit_remove (edit, BED_KIND_WOOD,
                   bed_farm_find (scene.farm, BED_KIND_WOOD, "European beech", NULL));
  g_assert_true (bed_edit_commit (edit, "Took a wood out", NULL));
  g_autoptr (BedNotebook) notebook
      = read_text ("Felled,Species,Trees\n2024-02-01,Red Oak,3\n2024-02-02,greebwood,2\n"
                   "2024-02-03,Rotbuche,1\n");
  const BedNotebookQuestion *question = find_question (notebook, "name:wood:red oak");

  g_assert_nonnull (question);
  g_assert_cmpstr (question->choices[0].key, ==, "northern red oak");
  g_assert_nonnull (find_question (notebook, "name:wood:greebwood"));
  assert_refused (notebook, "name:wood:red oak", "oak"); /* several, again */
  assert_refused (notebook, "name:wood:greebwood", "greebwood");
  answer (notebook, "name:wood:red oak", "southern red oak");
  answer (notebook, "name:wood:greebwood", "out");
  g_assert_cmpuint (bed_notebook_count_records (notebook, BED_KIND_FELLING), ==, 2);
  /* Known with its density, though the farm does not have it yet; nothing else is made. */
  g_assert_cmpuint (bed_notebook_count_records (notebook, BED_KIND_WOOD), ==, 1);
  g_assert_cmpint (sum (notebook, BED_KIND_WOOD, "basic_density"), ==, 580);
}

static void
test_near_names (void)
{
  g_autoptr (BedNotebook) notebook
      = read_text ("Date,Customer,Weight (g),Total\n2024-05-01,Saturday market,500,5\n"
                   "2024-05-02,Saturday markt,400,4\n2024-05-02,Stall 1,400,4\n"
                   "2024-05-03,Stall 2,400,4\n");
  guint n, names = 0;
  const BedNotebookQuestion *questions = bed_notebook_get_questions (notebook, &n);

  for (guint i = 0; i < n; i++)
    names += g_str_has_prefix (questions[i].key, "name:");
  g_assert_cmpuint (names, ==, 1);
  answer (notebook, "name:buyer:saturday markt", "=new");
  g_assert_cmpuint (bed_notebook_count_records (notebook, BED_KIND_BUYER), ==, 4);
  answer (notebook, "name:buyer:saturday markt", "Saturday market");
  g_assert_cmpuint (bed_notebook_count_records (notebook, BED_KIND_BUYER), ==, 3);
}

/* Nothing but marks is nobody's name, and not passed over. */
static void
test_no_name (void)
{
  g_autoptr (BedNotebook) notebook
      = read_text ("Date,Customer,Weight (g),Total\n2024-05-01,!!!,500,5\n");

  g_assert_nonnull (find_question (notebook, "odd:1"));
}

/* A log by its own number, where the row says of which batch. */
static void
test_own_numbers (void)
{
  scene_batch (scene.farm, 2);
  g_autoptr (BedQuery) q
      = bed_query_new (scene.farm, "SELECT id, code FROM log ORDER BY id LIMIT 1");
  g_assert_true (bed_query_next (q));
  g_autofree char *code = g_strdup (bed_query_text (q, 1));
  g_autoptr (BedRecord) log = bed_farm_load (scene.farm, BED_KIND_LOG, bed_query_int (q, 0), NULL);
  g_assert_true (bed_query_finish (q, NULL));
  bed_record_set_text (log, "mark", "17");
  g_assert_true (bed_edit_put_one (scene.farm, log, "Numbered a log", NULL));

  g_autoptr (BedNotebook) notebook
      = read_text ("Date,Batch,Log #,Weight (g),Grade\n2026-05-01,26A,17,500,A\n");
  g_autoptr (GError) error = NULL;
  bed_notebook_begin (notebook, &error);
  g_assert_no_error (error);
  const BedNotebookRow *row = bed_notebook_next (notebook, NULL);
  g_assert_cmpuint (row->n_drafts, ==, 1);
  for (guint i = 0; i < row->drafts[0].n_references; i++)
    if (strcmp (row->drafts[0].references[i].field->name, "log") == 0)
      g_assert_cmpstr (row->drafts[0].references[i].name, ==, code);

  /* It is one in its batch. */
  BedRecord *other = scene_record (scene.farm, BED_KIND_LOG, "felling", "F26-1", "batch", "26A",
                                   "length", "100", "small_diameter", "10", "mark", "17", NULL);
  scene_refuses (scene.farm, other, "mark", "own number 17");
}

/* --- several tables -------------------------------------------------------------------- */

#define TABLES                                                                                     \
  "Picks 2024\nDate,Row,Weight (g)\n2024-05-03,Pond,1200\n2024-05-05,Ridge,800\n\n"                \
  "Date,Customer,Total,Weight (g)\n2024-05-04,Market,18,900\n\n"                                   \
  "Date,Row,Weight (g)\n2024-05-09,Pond,77\n"

/* The first is read, its heads once more belong to it; another is chosen by its number. */
static void
test_tables (void)
{
  g_autoptr (BedNotebook) notebook = read_text (TABLES);
  g_autoptr (GError) error = NULL;
  guint n;
  const BedNotebookTable *tables = bed_notebook_get_tables (notebook, &n);

  g_assert_cmpuint (n, ==, 2);
  g_assert_cmpuint (tables[0].line, ==, 2);
  g_assert_cmpuint (tables[1].line, ==, 6);
  g_assert_cmpstr (tables[1].text, ==, "Date, Customer, Total, Weight (g)");
  g_assert_cmpuint (bed_notebook_get_table (notebook), ==, 0);
  g_assert_cmpint (bed_notebook_get_kind (notebook, NULL), ==, BED_KIND_PICK);
  g_assert_cmpuint (bed_notebook_count_rows (notebook), ==, 3);
  answer (notebook, "need:pick.grade", "A");

  g_assert_true (bed_notebook_choose_table (notebook, 1, &error));
  g_assert_cmpint (bed_notebook_get_kind (notebook, NULL), ==, BED_KIND_LINE);
  g_assert_cmpuint (bed_notebook_count_rows (notebook), ==, 1);
  g_assert_cmpuint (bed_notebook_count_aside (notebook, BED_ASIDE_ABOVE), ==, 1);
  g_assert_cmpuint (bed_notebook_count_aside (notebook, BED_ASIDE_TABLE), ==, 5);
  g_assert_cmpuint (bed_notebook_count_decisions (notebook), ==, 0);
  g_assert_cmpint (sum (notebook, BED_KIND_LINE, "mass"), ==, 900000);
  g_assert_cmpint (sum (notebook, BED_KIND_LINE, "price"), ==, 1800);
  answer (notebook, "need:line.form", "fresh");
  bed_notebook_read_all (notebook, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (bed_notebook_count_rows (notebook), ==, 1);

  g_assert_false (bed_notebook_choose_table (notebook, 2, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
  g_clear_error (&error);
  g_assert_true (bed_notebook_choose_table (notebook, 0, &error));
  g_assert_cmpuint (bed_notebook_count_rows (notebook), ==, 3);
  g_assert_nonnull (find_question (notebook, "need:pick.grade"));
}

static void
test_one_table (void)
{
  static const char *const texts[] = { "Date,Row,Weight (g)\n2024-05-03,Pond,1200\n", "12\n13\n" };

  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      g_autoptr (BedNotebook) notebook = read_text (texts[i]);
      g_autoptr (GError) error = NULL;
      guint n;
      bed_notebook_get_tables (notebook, &n);
      g_assert_cmpuint (n, ==, 1);
      g_assert_true (bed_notebook_choose_table (notebook, 0, &error));
      g_assert_cmpuint (bed_notebook_get_n_columns (notebook), ==, i == 0 ? 3 : 1);
    }
}

/* A log that the farm does not have is put right by itself; the next one is asked about. */
static void
test_meant (void)
{
  g_autoptr (BedNotebook) notebook
      = read_text ("Date,Log,Weight (g),Grade\n2026-04-12,26A-1,500,A\n2026-04-12,26A-91,500,A\n"
                   "2026-04-13,26A-92,500,A\n2026-04-13,26a-91,500,A\n");

  g_assert_nonnull (strstr (find_question (notebook, "missing:2")->sentence, "26A-91"));
  assert_refused (notebook, "missing:2", "26A-93");
  answer (notebook, "missing:2", "26a-2");
  g_assert_nonnull (strstr (find_question (notebook, "missing:2")->sentence, "26A-92"));
  g_assert_cmpuint (find_question (notebook, "missing:2")->count, ==, 1);
  answer (notebook, "missing:2", "out");
  g_assert_cmpuint (bed_notebook_count_open (notebook), ==, 0);
  g_assert_cmpint (sum (notebook, BED_KIND_PICK, "mass"), ==, 1500000);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  scene_set_up (&scene, "metric");
  g_test_add_func ("/notebook/dates/order-from-column", test_order_from_column);
  g_test_add_func ("/notebook/dates/order-asked", test_order_asked);
  g_test_add_func ("/notebook/dates/order-from-later-row", test_order_from_later_row);
  g_test_add_func ("/notebook/dates/epochs", test_epochs);
  g_test_add_func ("/notebook/dates/forms", test_forms_of_days);
  g_test_add_func ("/notebook/dates/none", test_no_days);
  g_test_add_func ("/notebook/numbers/forms", test_numbers);
  g_test_add_func ("/notebook/numbers/mark-asked", test_mark_asked);
  g_test_add_func ("/notebook/numbers/about-and-range", test_about_and_range);
  g_test_add_func ("/notebook/numbers/currency", test_currency);
  g_test_add_func ("/notebook/columns", test_columns);
  g_test_add_func ("/notebook/units/together", test_units_together);
  g_test_add_func ("/notebook/columns/system", test_system_of_heads);
  g_test_add_func ("/notebook/rows/aside", test_rows_set_aside);
  g_test_add_func ("/notebook/rows/kept-aside", test_row_kept_aside);
  g_test_add_func ("/notebook/rows/expected", test_expected);
  g_test_add_func ("/notebook/rows/left-out", test_shared_of_row_left_out);
  g_test_add_func ("/notebook/names/given", test_given_names);
  g_test_add_func ("/notebook/names/woods", test_woods);
  g_test_add_func ("/notebook/names/every-name", test_every_name);
  g_test_add_func ("/notebook/names/typed", test_typed_name);
  g_test_add_func ("/notebook/names/woods-asked", test_woods_asked);
  g_test_add_func ("/notebook/names/near", test_near_names);
  g_test_add_func ("/notebook/names/none", test_no_name);
  g_test_add_func ("/notebook/names/own-numbers", test_own_numbers);
  g_test_add_func ("/notebook/names/meant", test_meant);
  g_test_add_func ("/notebook/names/without-heads", test_names_without_heads);
  g_test_add_func ("/notebook/tables", test_tables);
  g_test_add_func ("/notebook/tables/one", test_one_table);
  int status = g_test_run ();
  scene_tear_down (&scene, NULL);
  return status;
}
