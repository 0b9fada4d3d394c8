#include "../ask.h"

#include "model/check/check.h"
#include "model/farm/farm_private.h"
#include "model/farm/names.h"
#include "model/season/season.h"
#include "model_test.h"

#include <string.h>

#define RECORD(kind, ...) scene_record (scene->farm, BED_KIND_##kind, __VA_ARGS__, NULL)

static void
test_required (Scene *scene, gconstpointer units)
{
  scene_refuses (scene->farm, bed_record_new (BED_KIND_STAND), "name", "Stand is missing");
  scene_refuses (scene->farm, RECORD (FELLING, "felled_on", "2026-02-01"), "wood",
                 "Wood is missing");
}

static void
test_future (Scene *scene, gconstpointer units)
{
  scene_refuses (scene->farm, RECORD (FELLING, "felled_on", "2026-05-13", "wood", "white oak"),
                 "felled_on", "in the future");
  g_autoptr (BedRecord) due = RECORD (DUE, "due_on", "2026-06-01", "what", "Turn the cribs");
  g_assert_true (bed_edit_put_one (scene->farm, due, "Planned", NULL));
}

static void
test_woodlot (Scene *scene, gconstpointer units)
{
  scene_warns (scene->farm,
               RECORD (FELLING, "felled_on", "2026-05-01", "wood", "white oak", "leaf", "in leaf"),
               "leaf", "Bark slips");
  scene_warns (
      scene->farm,
      RECORD (FELLING, "felled_on", "2026-02-01", "wood", "white oak", "condition", "dead"),
      "condition", "Dead trees");
  scene_warns (scene->farm, RECORD (FELLING, "felled_on", "2026-02-01", "wood", "white oak"),
               "stand", "Where the bolts come from");
}

/* The scene's lot cost 90.00. */
static void
test_spawn_bought (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 3);
#define BOUGHT(on, money, ...)                                                                     \
  RECORD (PURCHASE, "bought_on", on, "category", "spawn", "what", "spawn", "amount", money,        \
          "scope", "season", ##__VA_ARGS__)
  scene_warns (scene->farm, BOUGHT ("2026-03-01", "90.00"), "spawn", "cost as much");
  scene_warns (scene->farm, BOUGHT ("2026-02-10", "84.00", "tax", "6.00"), "spawn", "cost as much");
#undef BOUGHT
  scene_add (scene->farm,
             RECORD (STOCK_COUNT, "counted_on", "2026-03-01", "category", "wax", "amount", "3.00"));
  scene_refuses (
      scene->farm,
      RECORD (STOCK_COUNT, "counted_on", "2026-03-01", "category", "wax", "amount", "4.00"),
      "category", "counted on this day already");
}

static void
test_spawn (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 3);
  scene_refuses (
      scene->farm,
      RECORD (SPAWN, "strain", "Wide one", "form", "sawdust", "received_on", "2026-02-01"), "mass",
      "Mass is missing");
  scene_refuses (scene->farm,
                 RECORD (SPAWN, "strain", "Wide one", "form", "dowel", "received_on", "2026-02-01",
                         "pieces", "1000", "use_by", "2026-01-01"),
                 "use_by", "before it was received");
  scene_warns (scene->farm, RECORD (SPAWN_USED, "batch", "26A", "spawn", "S26-1", "mass", "9 kg"),
               "mass", "1.5 kg are missing");
  scene_refuses (scene->farm,
                 RECORD (SPAWN_GONE, "spawn", "S26-1", "gone_on", "2026-05-01", "why", "spoiled",
                         "mass", "8 kg"),
                 "mass", "0.5 kg too much");
  scene_refuses (scene->farm,
                 RECORD (SPAWN_GONE, "spawn", "S26-1", "gone_on", "2026-05-01", "why", "spoiled"),
                 "mass", "a mass");
  scene_refuses (scene->farm,
                 RECORD (SPAWN_GONE, "spawn", "S26-1", "gone_on", "2026-02-01", "why", "spoiled",
                         "mass", "1 kg"),
                 "gone_on", "before it was received");
}

/* What is too much is said in the farm's own units: 20 lb of 7.5 kg are 3.465 lb too many. */
static void
test_us_units (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 3);
  scene_warns (scene->farm, RECORD (SPAWN_USED, "batch", "26A", "spawn", "S26-1", "mass", "20 lb"),
               "mass", "3.47 lb are missing");
}

static void
test_order_of_dates (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;
  gint64 batch = scene_batch (scene->farm, 3);
  g_autoptr (BedRecord) early = bed_farm_load (scene->farm, BED_KIND_BATCH, batch, &error);

  bed_record_set_text (early, "inoculated_on", "2026-01-15");
  scene_refuses (scene->farm, g_steal_pointer (&early), "inoculated_on", "before felling F26-1");
  scene_refuses (
      scene->farm,
      RECORD (PICK, "picked_on", "2026-02-15", "log", "26A-001", "grade", "A", "mass", "200"),
      "picked_on", "before it was inoculated");
  g_autoptr (BedRecord) late = bed_farm_load (scene->farm, BED_KIND_BATCH, batch, &error);
  bed_record_set_text (late, "inoculated_on", "2026-04-20");
  scene_warns (scene->farm, g_steal_pointer (&late), "inoculated_on", "at most");
}

static void
test_places (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 3);
  scene_add (scene->farm, RECORD (AREA, "name", "Hollow", "width", "20 m", "depth", "10 m"));
  scene_add (scene->farm, RECORD (STACK, "name", "Crib 1", "area", "Hollow", "kind", "crib",
                                  "built_on", "2026-03-02"));
  scene_add (scene->farm, RECORD (STACK, "name", "Crib 2", "area", "Hollow", "kind", "crib",
                                  "built_on", "2026-03-02"));
  gint64 first = scene_add (scene->farm, RECORD (PLACE, "log", "26A-001", "stack", "Crib 1", "tier",
                                                 "1", "slot", "1", "since", "2026-03-05"));
  scene_refuses (scene->farm,
                 RECORD (PLACE, "log", "26A-001", "stack", "Crib 2", "since", "2026-04-01"), "log",
                 "one place at a time");
  scene_refuses (scene->farm,
                 RECORD (PLACE, "log", "26A-002", "stack", "Crib 1", "tier", "1", "slot", "1",
                         "since", "2026-03-06"),
                 "slot", "taken by log 26A-001");
  scene_refuses (scene->farm,
                 RECORD (PLACE, "log", "26A-002", "stack", "Crib 1", "since", "2026-03-01"),
                 "since", "was not there");

  /* Moving: close the one, open the other, in one edit. */
  g_autoptr (GError) error = NULL;
  g_autoptr (BedEdit) move = bed_edit_new (scene->farm);
  g_autoptr (BedRecord) was = bed_farm_load (scene->farm, BED_KIND_PLACE, first, &error);
  g_autoptr (BedRecord) is
      = RECORD (PLACE, "log", "26A-001", "stack", "Crib 2", "since", "2026-04-01");
  bed_record_set_text (was, "until", "2026-04-01");
  bed_edit_put (move, is);
  bed_edit_put (move, was);
  g_assert_true (bed_edit_commit (move, "Moved a log", &error));
  g_assert_no_error (error);
}

static void
test_soaks (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 3);
  scene_add (scene->farm, RECORD (SOAK, "code", "K26-1", "tank", "pond tank", "put_in",
                                  "2026-05-01T08:00", "taken_out", "2026-05-02T08:00"));
  scene_add (scene->farm,
             RECORD (SOAK, "code", "K26-2", "tank", "pond tank", "put_in", "2026-05-10T08:00"));
  scene_add (scene->farm, RECORD (SOAKED, "soak", "K26-1", "log", "26A-001"));
  scene_refuses (scene->farm, RECORD (SOAKED, "soak", "K26-1", "log", "26A-001"), "log", "already");
  scene_warns (scene->farm, RECORD (SOAKED, "soak", "K26-2", "log", "26A-001"), "log",
               "it rests 8");
  scene_refuses (
      scene->farm,
      RECORD (SOAK, "tank", "t", "put_in", "2026-05-01T08:00", "taken_out", "2026-04-30T08:00"),
      "taken_out", "Out of the tank before");
}

static void
test_retired (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;

  scene_batch (scene->farm, 3);
  gint64 id = bed_farm_find (scene->farm, BED_KIND_LOG, "26A-001", &error);
  g_autoptr (BedRecord) log = bed_farm_load (scene->farm, BED_KIND_LOG, id, &error);
  bed_record_set_text (log, "retired_on", "2026-04-01");
  scene_refuses (scene->farm, g_object_ref (log), "retired_why", "is missing");
  bed_record_set_text (log, "retired_why", "rotted");
  scene_add (scene->farm, g_object_ref (log));
  scene_refuses (
      scene->farm,
      RECORD (PICK, "picked_on", "2026-05-01", "log", "26A-001", "grade", "A", "mass", "200"),
      "picked_on", "cannot be from it");
  /* A late entry dated before is fine. */
  scene_add (scene->farm, RECORD (PICK, "picked_on", "2026-03-20", "log", "26A-001", "grade", "A",
                                  "mass", "200"));
}

static void
test_lots (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 3);
  scene_add (scene->farm, RECORD (LOT, "code", "L260501-1", "picked_on", "2026-05-01"));
  scene_add (scene->farm, RECORD (PICK, "picked_on", "2026-05-01", "batch", "26A", "grade", "A",
                                  "mass", "1 kg", "lot", "L260501-1"));
  scene_add (scene->farm, RECORD (BUYER, "name", "Saturday market", "kind", "market"));
  scene_add (scene->farm,
             RECORD (SALE, "code", "V26-1", "sold_on", "2026-05-02", "buyer", "Saturday market"));
  scene_refuses (scene->farm,
                 RECORD (LINE, "sale", "V26-1", "lot", "L260501-1", "form", "fresh", "use", "sold",
                         "mass", "1.2 kg", "price", "20"),
                 "mass", "0.2 kg too much");
  scene_add (scene->farm, RECORD (LINE, "sale", "V26-1", "lot", "L260501-1", "form", "fresh", "use",
                                  "sold", "mass", "0.7 kg", "price", "14"));
  scene_refuses (scene->farm,
                 RECORD (LINE, "sale", "V26-1", "lot", "L260501-1", "form", "fresh", "use",
                         "culled", "mass", "0.4 kg"),
                 "mass", "too much");
}

/* What was not sold brings no money: refused at once, of an old farm left out and told by a check.
 */
static void
test_not_sold (Scene *scene, gconstpointer units)
{
  static const char *const uses[] = { "given away", "culled", "spoiled" };
  BedFarm *farm = scene->farm;
  BedSeason season;

  scene_batch (farm, 1);
  scene_add (farm, RECORD (LOT, "code", "L260501-1", "picked_on", "2026-05-01"));
  scene_add (farm, RECORD (PICK, "picked_on", "2026-05-01", "batch", "26A", "grade", "A", "mass",
                           "1.0 kg", "lot", "L260501-1"));
  scene_add (farm, RECORD (SALE, "code", "V26-1", "sold_on", "2026-05-02"));
  scene_add (farm, RECORD (LINE, "sale", "V26-1", "lot", "L260501-1", "form", "fresh", "use",
                           "sold", "mass", "0.5 kg", "price", "10"));
  for (guint i = 0; i < G_N_ELEMENTS (uses); i++)
    {
      scene_refuses (farm,
                     RECORD (LINE, "sale", "V26-1", "lot", "L260501-1", "form", "fresh", "use",
                             uses[i], "mass", "0.1 kg", "price", "0.01"),
                     "price", "not sold");
      scene_add (farm, RECORD (LINE, "sale", "V26-1", "lot", "L260501-1", "form", "fresh", "use",
                               uses[i], "mass", "0.1 kg"));
    }
  g_assert_cmpint (sqlite3_exec (bed_farm_get_db (farm),
                                 "UPDATE line SET price = 200 WHERE price IS NULL", NULL, NULL,
                                 NULL),
                   ==, SQLITE_OK);
  g_assert_true (bed_season_read (farm, 2026, &season, NULL));
  g_assert_cmpint (season.income, ==, 1000);
  g_assert_cmpint (ask_one (farm, "SELECT income FROM lot_summary", 0), ==, 1000);
  g_assert_cmpint (ask_one (farm, "SELECT income FROM sale_summary", 0), ==, 1000);
  g_autoptr (BedCheckup) checkup = bed_check_farm (farm, BED_CHECK_ALL, NULL, NULL);
  g_assert_nonnull (checkup);
  g_assert_cmpuint (checkup->faults[BED_CHECK_RULES]->len, ==, 3);
  g_assert_cmpuint (checkup->faults[BED_CHECK_QUESTIONS]->len, ==, 0);
}

/* What others need stays. */
static void
test_removal (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;
  gint64 batch = scene_batch (scene->farm, 2);
  g_autofree char *before = scene_dump (scene->farm);
  g_autoptr (BedEdit) alone = bed_edit_new (scene->farm);

  bed_edit_remove (alone, BED_KIND_BATCH, batch);
  g_assert_false (bed_edit_commit (alone, "Removed 26A", &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
  g_assert_nonnull (strstr (error->message, "26A is needed by others ("));
  g_autofree char *after = scene_dump (scene->farm);
  g_assert_cmpstr (before, ==, after);
}

/* Removes that one with all that hangs on it; what was said of it. */
static char *
remove_with (Scene *scene, BedKind kind, gint64 id)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BedEdit) edit = bed_edit_new (scene->farm);
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (gint64));

  g_array_append_val (ids, id);
  char *sentence = bed_edit_remove_with (edit, kind, ids, &error);
  g_assert_no_error (error);
  bed_edit_commit (edit, sentence, &error);
  g_assert_no_error (error);
  return sentence;
}

static gint64
add_stack (Scene *scene)
{
  scene_add (scene->farm, RECORD (AREA, "name", "Slope"));
  return scene_add (scene->farm, RECORD (STACK, "name", "Crib 1", "area", "Slope", "kind", "crib",
                                         "built_on", "2026-03-02"));
}

/* All that is of a batch alone goes with it; what was spent stays spent. One undo brings all back.
 */
static void
test_removal_with (Scene *scene, gconstpointer units)
{
  gint64 batch = scene_batch (scene->farm, 3);
  g_autofree char *log = bed_farm_dup_name (scene->farm, BED_KIND_LOG,
                                            ask_one (scene->farm, "SELECT min (id) FROM log", 0));

  add_stack (scene);
  scene_add (scene->farm, RECORD (PLACE, "log", log, "stack", "Crib 1", "since", "2026-03-02"));
  scene_add (scene->farm, RECORD (SOAK, "code", "SO1", "tank", "T", "put_in", "2026-05-01T08:00",
                                  "taken_out", "2026-05-02T08:00"));
  scene_add (scene->farm, RECORD (SOAKED, "soak", "SO1", "log", log));
  scene_add (scene->farm,
             RECORD (PICK, "picked_on", "2026-05-08", "log", log, "grade", "A", "mass", "210 g"));
  scene_add (scene->farm,
             RECORD (WEIGHING, "weighed_on", "2026-05-08", "log", log, "mass", "4 kg"));
  gint64 bought = scene_add (scene->farm,
                             RECORD (PURCHASE, "bought_on", "2026-03-01", "category", "wax", "what",
                                     "Wax", "amount", "20", "scope", "batch", "batch", "26A"));
  g_autofree char *before = scene_dump (scene->farm);
  g_autofree char *said = remove_with (scene, BED_KIND_BATCH, batch);

  g_assert_cmpstr (said, ==,
                   "Removed batch 26A with its 1 spawn use, 3 logs, 1 place, 1 weighing, 1 soaked "
                   "log and 1 pick");
  g_assert_cmpint (ask_one (scene->farm, "SELECT count (*) FROM log", 0), ==, 0);
  g_assert_cmpint (ask_one (scene->farm, "SELECT count (*) FROM soak", 0), ==, 1);
  g_assert_cmpint (ask_one (scene->farm,
                            "SELECT amount FROM purchase WHERE id = ?1 AND scope = 'overhead'"
                            " AND batch IS NULL",
                            bought),
                   ==, 2000);
  g_assert_true (bed_history_undo (scene->farm, NULL, NULL));
  g_autofree char *back = scene_dump (scene->farm);
  g_assert_cmpstr (before, ==, back);
}

/* What is of something else, too, stays with that, and a felling without its stand is one. */
static void
test_removal_loose (Scene *scene, gconstpointer units)
{
  gint64 stand = scene_add (scene->farm, RECORD (STAND, "name", "Hill"));
  gint64 stack = add_stack (scene);

  scene_batch (scene->farm, 2);
  gint64 felling = scene_add (scene->farm, RECORD (FELLING, "code", "F9", "felled_on", "2026-02-01",
                                                   "stand", "Hill", "wood", "white oak"));
  gint64 both = scene_add (scene->farm, RECORD (CHECK, "checked_on", "2026-05-01", "batch", "26A",
                                                "stack", "Crib 1", "colonised", "40"));
  gint64 one = scene_add (scene->farm, RECORD (CHECK, "checked_on", "2026-05-01", "stack", "Crib 1",
                                               "colonised", "40"));
  g_autofree char *hill = remove_with (scene, BED_KIND_STAND, stand);
  g_autofree char *crib = remove_with (scene, BED_KIND_STACK, stack);

  g_assert_cmpstr (hill, ==, "Removed stand Hill");
  g_assert_cmpint (ask_one (scene->farm,
                            "SELECT count (*) FROM felling WHERE id = ?1 AND stand IS NULL",
                            felling),
                   ==, 1);
  g_assert_cmpstr (crib, ==, "Removed stack Crib 1 with its 1 check");
  g_assert_cmpint (ask_one (scene->farm,
                            "SELECT count (*) FROM \"check\" WHERE id = ?1 AND stack IS NULL",
                            both),
                   ==, 1);
  g_assert_cmpint (ask_one (scene->farm, "SELECT count (*) FROM \"check\" WHERE id = ?1", one), ==,
                   0);
}

static void
test_duplicates (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 1);
  scene_refuses (scene->farm, RECORD (STAND, "name", "NORTH SLOPE"), "name", "already");
  scene_add (scene->farm, RECORD (RAIN, "fell_on", "2026-05-01", "depth", "4"));
  scene_refuses (scene->farm, RECORD (RAIN, "fell_on", "2026-05-01", "depth", "5"), "fell_on",
                 "already");
}

/* A batch that is refused whole leaves nothing, and says every fault. */
static void
test_all_or_nothing (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BedEdit) edit = bed_edit_new (scene->farm);
  g_autoptr (BedRecord) good = RECORD (STAND, "name", "Good");
  g_autoptr (BedRecord) bad = bed_record_new (BED_KIND_STAND);
  g_autoptr (BedRecord) worse = RECORD (FELLING, "leaf", "dormant");

  bed_edit_put (edit, good);
  bed_edit_put (edit, bad);
  bed_edit_put (edit, worse);
  g_assert_false (bed_edit_commit (edit, "Added three", &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
  g_assert_cmpuint (bed_edit_get_faults (edit)->len, >=, 3);
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_STAND), ==, 0);
  /* Mended, the same edit goes in. */
  bed_record_set_text (bad, "name", "Better");
  bed_record_set_text (worse, "felled_on", "2026-02-01");
  bed_record_set_int (worse, "wood", bed_farm_find (scene->farm, BED_KIND_WOOD, "white oak", NULL));
  g_clear_error (&error);
  g_assert_true (bed_edit_commit (edit, "Added three", &error));
  g_assert_cmpstr (bed_record_get_text (worse, "code"), ==, "F26-1");
}

static void
refuse_currency (Scene *scene)
{
  g_autoptr (BedRecord) settings = bed_record_copy (bed_farm_get_settings (scene->farm));

  bed_record_set_text (settings, "currency", "EUR");
  scene_refuses (scene->farm, g_steal_pointer (&settings), "currency",
                 "already written down in USD");
}

/* Another currency is a word as long as there is no amount; then it would be a lie. */
static void
test_currency (Scene *scene, gconstpointer units)
{
  g_autoptr (BedRecord) settings = bed_record_copy (bed_farm_get_settings (scene->farm));
  g_autoptr (BedRecord) wax = RECORD (PURCHASE, "bought_on", "2026-02-01", "what", "wax",
                                      "category", "wax", "amount", "30", "scope", "overhead");

  bed_record_set_text (settings, "currency", "EUR");
  g_assert_true (bed_edit_put_one (scene->farm, settings, "Counted in euro", NULL));
  bed_record_set_text (settings, "currency", "USD");
  g_assert_true (bed_edit_put_one (scene->farm, settings, "Counted in dollars", NULL));
  g_assert_true (bed_edit_put_one (scene->farm, wax, "Bought wax", NULL));
  refuse_currency (scene);
  bed_record_set_text (settings, "name", "Another name");
  g_assert_true (bed_edit_put_one (scene->farm, settings, "Named it anew", NULL));
}

#define ADD(path, test) g_test_add (path, Scene, NULL, scene_set_up, test, scene_tear_down)

/* 29 February too: a season begins on a day that every year has. */
static void
test_season_start (Scene *scene, gconstpointer units)
{
  for (int month = 0; month <= 13; month++)
    for (int day = 0; day <= 32; day++)
      {
        g_autofree char *text = g_strdup_printf ("%02d-%02d", month, day);
        g_autoptr (BedRecord) settings = bed_record_copy (bed_farm_get_settings (scene->farm));
        g_autoptr (GError) error = NULL;
        gboolean there = month >= 1 && month <= 12 && day >= 1
                         && day <= g_date_get_days_in_month (month, 2001);

        bed_record_set_text (settings, "season_start", text);
        g_assert_cmpint (bed_edit_put_one (scene->farm, settings, "Set the season", &error), ==,
                         there);
        if (!there)
          g_assert_nonnull (strstr (error->message, text));
      }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("/rules/required", test_required);
  ADD ("/rules/season-start", test_season_start);
  ADD ("/rules/future", test_future);
  ADD ("/rules/woodlot", test_woodlot);
  ADD ("/rules/spawn", test_spawn);
  ADD ("/rules/spawn-bought", test_spawn_bought);
  g_test_add ("/rules/us-units", Scene, "US", scene_set_up, test_us_units, scene_tear_down);
  ADD ("/rules/order-of-dates", test_order_of_dates);
  ADD ("/rules/places", test_places);
  ADD ("/rules/soaks", test_soaks);
  ADD ("/rules/retired", test_retired);
  ADD ("/rules/lots", test_lots);
  ADD ("/rules/removal", test_removal);
  ADD ("/rules/removal-with", test_removal_with);
  ADD ("/rules/removal-loose", test_removal_loose);
  ADD ("/rules/duplicates", test_duplicates);
  ADD ("/rules/currency", test_currency);
  ADD ("/rules/all-or-nothing", test_all_or_nothing);
  ADD ("/rules/not-sold", test_not_sold);
  return g_test_run ();
}
