#include <glib/gstdio.h>
#include <string.h>

#include "../ask.h"
#include "../model/model_test.h"
#include "model/farm/names.h"
#include "model/farm/value.h"
#include "model/season/soak_plan.h"
#include "print/drill/drill_farm.h"
#include "print/field/field_sheet_farm.h"
#include "print/field/recall_sheet.h"
#include "print/label/labels_farm.h"
#include "read_back.h"

static char *
read_text (Scene *scene, BedDocument *document)
{
  g_autofree char *pdf = g_build_filename (scene->folder, "out.pdf", NULL);
  g_autoptr (GError) error = NULL;
  char *text = NULL;

  bed_document_write_pdf (document, pdf, "2026-05-12T12:00", &error);
  g_assert_no_error (error);
  const char *argv[] = { "pdftotext", "-layout", pdf, "-", NULL };
  g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &text, NULL, NULL,
                &error);
  g_assert_no_error (error);
  g_unlink (pdf);
  return text;
}

static void
check_says (const char *text, const char *const *words)
{
  for (guint i = 0; words[i]; i++)
    if (!strstr (text, words[i]))
      g_error ("there is no “%s” in:\n%s", words[i], text);
}

/* The tags of a batch, as they are printed: every living log, none that is retired. */
static void
test_tags (Scene *scene, gconstpointer units)
{
  g_autoptr (GPtrArray) sheets = bed_sheet_list_new ();
  g_autoptr (GError) error = NULL;
  BedLabels *labels = bed_labels_new ("Tags");
  gint64 batch = scene_batch (scene->farm, 24);

  if (!read_back_possible ())
    {
      bed_labels_free (labels);
      return;
    }
  gint64 last = ask_one (scene->farm, "SELECT max (id) FROM log WHERE ?1 = 0", 0);
  g_autoptr (BedRecord) log = bed_farm_load (scene->farm, BED_KIND_LOG, last, &error);
  g_assert_no_error (error);
  bed_record_set_text (log, "retired_on", "2026-05-01");
  bed_record_set_text (log, "retired_why", "lost");
  scene_add (scene->farm, g_steal_pointer (&log));

  g_assert_true (bed_labels_add_batch_tags (labels, scene->farm, batch, &error));
  g_assert_cmpuint (bed_labels_get_n (labels), ==, 23);
  g_autoptr (BedDocument) document = bed_labels_document_new (
      labels, bed_sheet_list_find (sheets, "letter-3x10", NULL), NULL, &error);
  g_assert_no_error (error);
  g_autofree char *text = read_text (scene, document);
  check_says (text, (const char *[]){ "26A-001-", "26A-023-", "Northern red oak", "Wide one",
                                      "1 Mar 2026", NULL });
  g_assert_null (strstr (text, "26A-024"));
}

/* Soaked on 15 May 2026 and rested for eight weeks: the rotation has them in the week of Mon
 * 13 July at the earliest, and the sheet names that week, not one in which nothing is to do. */
static void
test_soaks (Scene *scene, gconstpointer units)
{
  BedFieldSheetRequest request = { .kind = BED_PAPER_SOAK, .paper = bed_paper_a4 };
  g_autoptr (GError) error = NULL;

  if (!read_back_possible ())
    return;
  scene_batch (scene->farm, 6);
  bed_farm_fix_clock (scene->farm, "2026-05-20T09:00", 3);
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_SOAK, "tank", "Trough", "put_in",
                                        "2026-05-15T08:00", "taken_out", "2026-05-16T08:00", NULL));
  for (int i = 1; i <= 6; i++)
    {
      g_autofree char *code = g_strdup_printf ("26A-%03d", i);
      scene_add (scene->farm,
                 scene_record (scene->farm, BED_KIND_SOAKED, "soak", "K26-1", "log", code, NULL));
    }
  g_autoptr (BedSoakPlan) plan = bed_soak_plan_new (scene->farm, &error);
  g_assert_no_error (error);
  g_assert_true (bed_soak_plan_solve (plan, &error));
  guint first = plan->n_weeks;
  for (guint i = 0; i < plan->bars->len; i++)
    if (g_array_index (plan->bars, BedSoakBar, i).state == BED_SOAK_PLANNED)
      first = MIN (first, g_array_index (plan->bars, BedSoakBar, i).week);
  g_assert_cmpuint (first, <, plan->n_weeks);
  g_autofree char *monday = bed_date_add (plan->first_day, 7 * (int) first);
  g_autofree char *day = bed_date_format_day (monday);
  g_assert_cmpstr (monday, >=, "2026-07-13");

  g_autoptr (BedDocument) document
      = bed_field_sheet_document_for_farm (scene->farm, &request, &error);
  g_assert_no_error (error);
  g_autofree char *text = read_text (scene, document);
  g_autofree char *title = g_strdup_printf ("Soaking week %s", day);
  check_says (text, (const char *[]){ title, "26A", "6", "Rest", "Plan", "24", "drowns", NULL });
}

/* 400 g of log 26A-001, picked on 11 May. */
static gint64
pick_lot (Scene *scene)
{
  gint64 lot = scene_add (
      scene->farm, scene_record (scene->farm, BED_KIND_LOT, "picked_on", "2026-05-11", NULL));
  g_autofree char *code = bed_farm_dup_name (scene->farm, BED_KIND_LOT, lot);

  scene_add (scene->farm,
             scene_record (scene->farm, BED_KIND_PICK, "picked_on", "2026-05-11", "log", "26A-001",
                           "grade", "A", "mass", "400 g", "lot", code, NULL));
  return lot;
}

static gint64
add_lot (Scene *scene)
{
  scene_batch (scene->farm, 3);
  return pick_lot (scene);
}

static void
change (Scene *scene, BedKind kind, gint64 id, const char *field, const char *text)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BedRecord) record = bed_farm_load (scene->farm, kind, id, &error);

  g_assert_no_error (error);
  bed_record_set_text (record, field, text);
  scene_add (scene->farm, g_steal_pointer (&record));
}

static void
test_other_labels (Scene *scene, gconstpointer units)
{
  g_autoptr (GPtrArray) sheets = bed_sheet_list_new ();
  g_autoptr (GError) error = NULL;
  BedLabels *labels = bed_labels_new ("Labels");

  if (!read_back_possible ())
    {
      bed_labels_free (labels);
      return;
    }
  scene_batch (scene->farm, 3);
  scene_add (scene->farm,
             scene_record (scene->farm, BED_KIND_AREA, "name", "Under the firs", NULL));
  gint64 stack = scene_add (scene->farm, scene_record (scene->farm, BED_KIND_STACK, "name",
                                                       "Crib 4", "area", "Under the firs", "kind",
                                                       "crib", "built_on", "2026-03-02", NULL));
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_PLACE, "log", "26A-001", "stack",
                                        "Crib 4", "since", "2026-03-02", NULL));
  gint64 lot = pick_lot (scene);
  g_autofree char *code = bed_farm_dup_name (scene->farm, BED_KIND_LOT, lot);
  gint64 spawn = bed_farm_find (scene->farm, BED_KIND_SPAWN, "S26-1", &error);
  g_assert_no_error (error);

  g_assert_true (bed_labels_add_signs (labels, scene->farm, stack, &error));
  g_assert_true (bed_labels_add_spawn (labels, scene->farm, spawn, &error));
  g_assert_true (
      bed_labels_add_crate (labels, scene->farm, &(BedCrate){ .lot = lot, .price = 560 }, &error));
  g_assert_true (bed_labels_add_crate (
      labels, scene->farm, &(BedCrate){ .lot = lot, .count = 3, .mass = 123000 }, &error));
  g_assert_no_error (error);
  g_assert_false (bed_labels_add_signs (labels, scene->farm, 4711, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_FOUND);
  g_clear_error (&error);
  g_assert_cmpuint (bed_labels_get_n (labels), ==, 6);

  g_autoptr (BedDocument) document = bed_labels_document_new (
      labels, bed_sheet_list_find (sheets, "a4-2x4", NULL), NULL, &error);
  g_autofree char *text = read_text (scene, document);
  check_says (text, (const char *[]){ "Crib 4 · 26A", "1 log", "Wide one", "Northern red oak",
                                      "1 Mar 2026", "S26-1", "10 kg", "Sawdust", "Shiitake",
                                      "Lentinula edodes", code, "400 g", "123 g", "5.60",
                                      "Picked 11 May 2026", "Packed 11 May 2026",
                                      "Keep cold, 1 to 4 °C", NULL });
  g_assert_null (strstr (text, "organic"));
}

/* A lot of a total was picked from its first day on. */
static void
test_crate_of_total (Scene *scene, gconstpointer units)
{
  g_autoptr (GPtrArray) sheets = bed_sheet_list_new ();
  g_autoptr (GError) error = NULL;

  if (!read_back_possible ())
    return;
  BedLabels *labels = bed_labels_new ("Labels");
  gint64 lot = add_lot (scene);
  gint64 pick = 0;
  g_assert_true (
      bed_query_one (scene->farm, "SELECT id FROM pick WHERE lot = ?1", lot, &pick, &error));
  change (scene, BED_KIND_PICK, pick, "since", "2026-05-03");
  g_assert_true (bed_labels_add_crate (labels, scene->farm, &(BedCrate){ .lot = lot }, &error));
  g_assert_no_error (error);
  g_autoptr (BedDocument) document = bed_labels_document_new (
      labels, bed_sheet_list_find (sheets, "a4-2x4", NULL), NULL, &error);
  g_autofree char *text = read_text (scene, document);
  check_says (text, (const char *[]){ "Picked 3 May 2026", "11 May 2026", NULL });
}

/* Four times 0.123 kg are more than the 0.4 kg of the lot, and a whole lot is in one crate. */
static void
test_too_many_crates (Scene *scene, gconstpointer units)
{
  const BedCrate many[] = { { .count = 4, .mass = 123000 }, { .count = 2 } };
  gint64 lot = add_lot (scene);

  for (gsize i = 0; i < G_N_ELEMENTS (many); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (BedLabels) labels = bed_labels_new ("Crates");
      BedCrate crate = many[i];

      crate.lot = lot;
      g_assert_false (bed_labels_add_crate (labels, scene->farm, &crate, &error));
      g_assert_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_AMOUNT);
      g_assert_cmpuint (bed_labels_get_n (labels), ==, 0);
    }
}

/* The certifier's line is for a certified farm and no lot that came of other spawn; a farm in the
 * US says what a crate weighs in both systems, and the day its crates were cooled is the day they
 * were packed. */
static void
test_certified (Scene *scene, gconstpointer units)
{
  g_autoptr (GPtrArray) sheets = bed_sheet_list_new ();
  gint64 lot = add_lot (scene);

  if (!read_back_possible ())
    return;
  change (scene, BED_KIND_FARM, 1, "organic_certificate", "00-1234");
  change (scene, BED_KIND_FARM, 1, "organic_certifier", "Leafmark");
  change (scene, BED_KIND_FARM, 1, "address", "12 Mill Lane\nUpper Fernhollow");
  change (scene, BED_KIND_FARM, 1, "unit_system", "US");
  change (scene, BED_KIND_LOT, lot, "cooled_at", "2026-05-12T07:00");
  for (guint turn = 0; turn < 2; turn++)
    {
      g_autoptr (GError) error = NULL;
      BedLabels *labels = bed_labels_new ("Crates");

      g_assert_true (bed_labels_add_crate (labels, scene->farm, &(BedCrate){ .lot = lot }, &error));
      g_autoptr (BedDocument) document = bed_labels_document_new (
          labels, bed_sheet_list_find (sheets, "letter-2x3", NULL), NULL, &error);
      g_assert_no_error (error);
      g_autofree char *text = read_text (scene, document);
      check_says (text, (const char *[]){ "14.1 oz (400 g)", "Packed 12 May 2026",
                                          "12 Mill Lane, Upper Fernhollow", "34 to 39 °F", NULL });
      gboolean certified = strstr (text, "Certified organic by Leafmark, no. 00-1234") != NULL;
      g_assert_true (certified == (turn == 0));
      change (scene, BED_KIND_SPAWN, ask_one (scene->farm, "SELECT min (id) FROM spawn", 0),
              "organic", "no");
    }
}

/* Every kind of sheet comes out of a farm with a batch in it, and says what is known. */
static void
test_sheets (Scene *scene, gconstpointer units)
{
  gint64 batch = scene_batch (scene->farm, 24);
  g_autoptr (GError) error = NULL;
  gint64 felling = bed_farm_find (scene->farm, BED_KIND_FELLING, "F26-1", &error);

  g_assert_no_error (error);
  if (!read_back_possible ())
    return;
  for (BedPaperKind kind = 0; kind < BED_N_PAPERS; kind++)
    {
      BedFieldSheetRequest request = { kind, batch, felling, 0, bed_paper_a4, 10 };
      g_autoptr (BedDocument) document
          = bed_field_sheet_document_for_farm (scene->farm, &request, &error);

      g_assert_no_error (error);
      g_autofree char *text = read_text (scene, document);
      check_says (text, (const char *[]){ bed_paper_get_form (kind)->title, NULL });
      if (kind == BED_PAPER_FELLING)
        check_says (text, (const char *[]){ "F26-1", "North slope", "northern red oak", "dormant",
                                            "1 Feb 2026", NULL });
      if (kind == BED_PAPER_INOCULATION)
        check_says (text, (const char *[]){ "26A-001-", "26A-024-", "S26-1", "2.5 kg", "15 cm",
                                            "Hot wax", "12", "100", NULL });
      if (kind == BED_PAPER_MOVES || kind == BED_PAPER_WEIGHING || kind == BED_PAPER_MEASURING)
        check_says (text, (const char *[]){ "26A-001-", "26A-024-", NULL });
    }
}

/* What is planned is listed in working order, with a box to tick, for the day asked or the first.
 */
static void
test_plan (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;
  BedFieldSheetRequest request = { .kind = BED_PAPER_PLAN, .paper = bed_paper_a4 };

  scene_batch (scene->farm, 4);
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_AREA, "name", "Lower yard", NULL));
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_PLANNED_STACK, "name", "Crib 9",
                                        "planned_on", "2026-12-01", "area", "Lower yard", "kind",
                                        "crib", "x", "4 m", "y", "4 m", NULL));
  scene_add (scene->farm,
             scene_record (scene->farm, BED_KIND_PLANNED_MOVE, "log", "26A-002", "planned_on",
                           "2026-12-01", "new_stack", "Crib 9", "tier", "1", "slot", "2", NULL));
  if (!read_back_possible ())
    return;
  for (guint i = 0; i < 2; i++)
    {
      request.day = i ? "2026-12-01" : NULL;
      g_autoptr (BedDocument) document
          = bed_field_sheet_document_for_farm (scene->farm, &request, &error);
      g_assert_no_error (error);
      g_autofree char *text = read_text (scene, document);
      check_says (text, (const char *[]){ "Planned moves", "26A-002-", "Crib 9", "in no stack",
                                          "1 Dec", NULL });
      g_assert_null (strstr (text, "26A-003"));
    }
  request.day = "2026-12-02";
  g_autoptr (BedDocument) none = bed_field_sheet_document_for_farm (scene->farm, &request, &error);
  g_assert_no_error (error);
  g_autofree char *text = read_text (scene, none);
  g_assert_null (strstr (text, "26A-002"));
}

/* An empty sheet to carry out, for a batch that is still to be made. */
static void
test_blank (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;
  BedFieldSheetRequest request = { .kind = BED_PAPER_INOCULATION, .paper = bed_paper_a4 };

  if (!read_back_possible ())
    return;
  g_autoptr (BedDocument) document
      = bed_field_sheet_document_for_farm (scene->farm, &request, &error);
  g_assert_no_error (error);
  g_autofree char *text = read_text (scene, document);
  check_says (text, (const char *[]){ "Inoculated on", "Spawn lot", "Rows round the log", NULL });
  request.batch = 4711;
  g_assert_null (bed_field_sheet_document_for_farm (scene->farm, &request, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_FOUND);
}

/* Every spawn lot of a batch, and room for one more. */
static void
test_spawn_lots (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;
  gint64 batch = scene_batch (scene->farm, 3);
  BedFieldSheetRequest request = { .kind = BED_PAPER_INOCULATION, .paper = bed_paper_a4 };

  if (!read_back_possible ())
    return;
  scene_add (scene->farm,
             scene_record (scene->farm, BED_KIND_SPAWN, "code", "S26-2", "strain", "Wide one",
                           "form", "sawdust", "received_on", "2026-02-20", "mass", "4 kg", NULL));
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_SPAWN_USED, "batch", "26A", "spawn",
                                        "S26-2", "mass", "1.25 kg", NULL));
  request.batch = batch;
  g_autoptr (BedDocument) document
      = bed_field_sheet_document_for_farm (scene->farm, &request, &error);
  g_assert_no_error (error);
  g_autofree char *text = read_text (scene, document);
  check_says (text, (const char *[]){ "S26-1", "2.5 kg", "S26-2", "1.25 kg", NULL });
}

/* A stack is weighed log by log, and taken down from the top: log 2 lies over log 1. */
static void
test_of_stack (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;
  BedFieldSheetRequest request = { .paper = bed_paper_a4 };

  if (!read_back_possible ())
    return;
  scene_batch (scene->farm, 3);
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_AREA, "name", "Yard", NULL));
  request.stack = scene_add (scene->farm,
                             scene_record (scene->farm, BED_KIND_STACK, "name", "Crib 4", "area",
                                           "Yard", "kind", "crib", "built_on", "2026-03-02", NULL));
  for (int i = 1; i <= 2; i++)
    {
      g_autofree char *code = g_strdup_printf ("26A-%03d", i), *tier = g_strdup_printf ("%d", i);
      scene_add (scene->farm,
                 scene_record (scene->farm, BED_KIND_PLACE, "log", code, "stack", "Crib 4", "tier",
                               tier, "slot", "1", "since", "2026-03-02", NULL));
    }
  for (guint turn = 0; turn < 2; turn++)
    {
      request.kind = turn ? BED_PAPER_MOVES : BED_PAPER_WEIGHING;
      g_autoptr (BedDocument) document
          = bed_field_sheet_document_for_farm (scene->farm, &request, &error);
      g_assert_no_error (error);
      g_autofree char *text = read_text (scene, document);
      const char *first = strstr (text, "26A-001"), *second = strstr (text, "26A-002");
      g_assert_true (first && second && !strstr (text, "26A-003"));
      g_assert_true ((second < first) == (turn == 1));
    }
}

/* A sheet for each person who worked here, none for one who has not for years. */
static void
test_days (Scene *scene, gconstpointer units)
{
  static const char *const hours[][2]
      = { { "Ash", "2026-05-01" }, { "Birch", "2026-04-01" }, { "Elder", "2024-04-01" } };
  g_autoptr (GError) error = NULL;
  BedFieldSheetRequest request = { .kind = BED_PAPER_DAY, .paper = bed_paper_a4 };

  if (!read_back_possible ())
    return;
  for (gsize i = 0; i < G_N_ELEMENTS (hours); i++)
    scene_add (scene->farm,
               scene_record (scene->farm, BED_KIND_HOURS, "worked_on", hours[i][1], "task",
                             "picking", "person", hours[i][0], "minutes", "60 min", NULL));
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_DUE, "due_on", "2026-05-12", "what",
                                        "Mend the fence", NULL));
  g_autoptr (BedDocument) days = bed_field_sheet_document_for_farm (scene->farm, &request, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (bed_document_get_n_pages (days), ==, 2);
  g_autofree char *text = read_text (scene, days);
  check_says (text,
              (const char *[]){ "The day of Ash", "The day of Birch", "Mend the fence", NULL });
  g_assert_null (strstr (text, "Elder"));
  request.kind = BED_PAPER_WEEK;
  g_autoptr (BedDocument) week = bed_field_sheet_document_for_farm (scene->farm, &request, &error);
  g_assert_no_error (error);
  g_autofree char *said = read_text (scene, week);
  check_says (said, (const char *[]){ "This week", "Mend the fence", NULL });
}

/* 15 by 7.5 cm on logs of 10 to 12 cm by 1 m: the second row of the table of science/drill's
 * test, five rows of 7 and 6. */
static void
test_pattern (Scene *scene, gconstpointer units)
{
  gint64 batch = scene_batch (scene->farm, 4);
  g_autoptr (GError) error = NULL;
  BedDrill drill;

  g_assert_true (bed_drill_read_batch (scene->farm, batch, &drill, &error));
  g_assert_cmpfloat_with_epsilon (drill.large_diameter, 120, 1e-9);
  g_assert_cmpfloat_with_epsilon (drill.small_diameter, 100, 1e-9);
  g_autoptr (BedDrillPlan) plan = bed_drill_plan_new (&drill, &error);
  g_assert_no_error (error);
  g_assert_cmpint (plan->rows, ==, 5);
  g_assert_cmpuint (plan->holes->len, ==, 33);
}

/* More than a page holds: the first has whom to call and the balance, those after it each sale. */
static void
test_long_recall (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *day = NULL;
  BedRecallOf of;

  if (!read_back_possible ())
    return;
  scene_batch (scene->farm, 1);
  g_autofree char *lot = bed_farm_dup_name (scene->farm, BED_KIND_LOT, pick_lot (scene));
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_BUYER, "name", "Inn", "contact",
                                        "555 0100", NULL));
  for (int i = 1; i <= 120; i++)
    {
      g_autofree char *code = g_strdup_printf ("V26-%d", i);
      scene_add (scene->farm, scene_record (scene->farm, BED_KIND_SALE, "code", code, "sold_on",
                                            "2026-05-12", "buyer", "Inn", NULL));
      scene_add (scene->farm,
                 scene_record (scene->farm, BED_KIND_LINE, "sale", code, "lot", lot, "form",
                               "fresh", "use", "sold", "mass", "2 g", "price", "1", NULL));
    }
  g_assert_true (bed_recall_find (scene->farm, "26A", &of, &day, &error));
  g_autoptr (BedDocument) document = bed_recall_sheet_new (scene->farm, &of, &bed_paper_a4, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (bed_document_get_n_pages (document), >, 1);
  g_autofree char *text = read_text (scene, document);
  g_auto (GStrv) pages = g_strsplit (text, "\f", -1);
  check_says (pages[0], (const char *[]){ "Who has it", "Inn", "555 0100", "120", "0.24 kg",
                                          "Batches", "Mass balance", NULL });
  g_assert_null (strstr (pages[0], "V26-1"));
  check_says (pages[1], (const char *[]){ "Sales", "V26-1", NULL });
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
#define ADD(path, test)                                                                            \
  g_test_add ("/farm-paper/" path, Scene, "metric", scene_set_up, test, scene_tear_down)
  ADD ("tags", test_tags);
  ADD ("other-labels", test_other_labels);
  ADD ("crate-of-total", test_crate_of_total);
  ADD ("too-many-crates", test_too_many_crates);
  ADD ("certified", test_certified);
  ADD ("sheets", test_sheets);
  ADD ("plan", test_plan);
  ADD ("soaks", test_soaks);
  ADD ("blank", test_blank);
  ADD ("spawn-lots", test_spawn_lots);
  ADD ("of-stack", test_of_stack);
  ADD ("days", test_days);
  ADD ("pattern", test_pattern);
  ADD ("long-recall", test_long_recall);
  return g_test_run ();
}
