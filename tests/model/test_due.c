/* What is due, each rule on both sides of its edge. Today is Tue 2026-05-12, 09:00. */
#include "model_test.h"

#include <locale.h>

#include "model/farm/names.h"
#include "model/work/due.h"
#include "model/work/week.h"

static BedDueItem *
find (GPtrArray *items, BedDueRuleId id)
{
  for (guint i = 0; i < items->len; i++)
    {
      BedDueItem *item = items->pdata[i];
      if (item->rule->id == id)
        return item;
    }
  return NULL;
}

static GPtrArray *
list (BedFarm *farm)
{
  g_autoptr (GError) error = NULL;
  GPtrArray *items = bed_due_list (farm, &error);

  g_assert_no_error (error);
  return items;
}

static void
assert_absent (BedFarm *farm, BedDueRuleId id)
{
  g_autoptr (GPtrArray) items = list (farm);

  g_assert_null (find (items, id));
}

/* Asserts that the rule speaks once, in that state, of that day. */
static void
assert_due (BedFarm *farm, BedDueRuleId id, BedDueState state, const char *day)
{
  g_autoptr (GPtrArray) items = list (farm);
  BedDueItem *item = find (items, id);

  g_assert_nonnull (item);
  g_assert_cmpstr (item->day, ==, day);
  g_assert_cmpint (item->state, ==, state);
}

static gint64
add_soak (BedFarm *farm, const char *in, const char *out)
{
  gint64 soak
      = scene_add (farm, scene_record (farm, BED_KIND_SOAK, "tank", "Trough", "put_in", in,
                                       out ? "taken_out" : "tank", out ? out : "Trough", NULL));
  g_autoptr (BedQuery) q = bed_query_new (farm, "SELECT id FROM log");
  g_autoptr (GArray) logs = g_array_new (FALSE, FALSE, sizeof (gint64));

  while (bed_query_next (q))
    {
      gint64 id = bed_query_int (q, 0);
      g_array_append_val (logs, id);
    }
  for (guint i = 0; i < logs->len; i++)
    {
      BedRecord *soaked = bed_record_new (BED_KIND_SOAKED);
      bed_record_set_int (soaked, "soak", soak);
      bed_record_set_int (soaked, "log", g_array_index (logs, gint64, i));
      scene_add (farm, soaked);
    }
  return soak;
}

static void
fix (Scene *scene, const char *now)
{
  bed_farm_fix_clock (scene->farm, now, 7);
}

static void
test_empty (Scene *scene, gconstpointer units)
{
  g_autoptr (GPtrArray) items = list (scene->farm);

  g_assert_cmpuint (items->len, ==, 0);
}

static void
test_rules_are_whole (void)
{
  for (int i = 0; i < BED_DUE_N_RULES; i++)
    {
      const BedDueRule *rule = bed_due_rule_get (i);
      g_assert_cmpint (rule->id, ==, i);
      g_assert_true (rule->nick && *rule->nick && rule->what && *rule->what);
      g_assert_true (rule->why && *rule->why && rule->source && *rule->source);
      for (int j = 0; j < i; j++)
        g_assert_cmpstr (bed_due_rule_get (j)->nick, !=, rule->nick);
    }
}

static void
test_lift (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 3);
  add_soak (scene->farm, "2026-05-11T09:00", NULL);
  /* 24 h to the minute is not yet too long. */
  assert_due (scene->farm, BED_DUE_LIFT, BED_DUE_TODAY, "2026-05-12");
  fix (scene, "2026-05-12T09:01");
  assert_due (scene->farm, BED_DUE_LIFT, BED_DUE_OVERDUE, "2026-05-12");
  g_autoptr (GPtrArray) items = list (scene->farm);
  BedDueItem *item = items->pdata[0];
  g_assert_cmpint (item->rule->id, ==, BED_DUE_LIFT);
  g_assert_cmpint (item->logs, ==, 3);
  g_assert_cmpstr (item->subject, ==, "K26-1 · Trough");
  g_assert_cmpstr (item->detail, ==, "in for 24 h, plan 24 h");

  g_autoptr (BedRecord) draft = bed_due_dup_draft (scene->farm, item);
  g_assert_cmpint (bed_record_get_id (draft), ==, item->id);
  g_assert_cmpstr (bed_record_get_text (draft, "taken_out"), ==, "2026-05-12T09:01");
  g_autoptr (GError) error = NULL;
  g_assert_false (bed_due_put_off (scene->farm, item, 1, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
  scene_add (scene->farm, g_object_ref (draft));
  assert_absent (scene->farm, BED_DUE_LIFT);
}

/* Window of a flush: 5 to 14 days after the soak (see due_rules.c). */
static void
test_pick (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 3);
  add_soak (scene->farm, "2026-05-10T08:00", "2026-05-11T08:00");
  assert_due (scene->farm, BED_DUE_PICK, BED_DUE_WEEK, "2026-05-16");
  fix (scene, "2026-05-16T07:00");
  assert_due (scene->farm, BED_DUE_PICK, BED_DUE_TODAY, "2026-05-16");
  gint64 pick
      = scene_add (scene->farm, scene_record (scene->farm, BED_KIND_PICK, "picked_on", "2026-05-16",
                                              "log", "26A-001", "grade", "A", "mass", "200", NULL));
  g_assert_cmpint (pick, !=, 0);
  assert_absent (scene->farm, BED_DUE_PICK);
  fix (scene, "2026-05-25T07:00");
  assert_due (scene->farm, BED_DUE_PICK, BED_DUE_TODAY, "2026-05-16");
  fix (scene, "2026-05-26T07:00");
  assert_absent (scene->farm, BED_DUE_PICK);
  assert_absent (scene->farm, BED_DUE_NOTHING_BORN);
}

static void
test_nothing_born (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 3);
  add_soak (scene->farm, "2026-05-10T08:00", "2026-05-11T08:00");
  fix (scene, "2026-05-25T07:00");
  assert_absent (scene->farm, BED_DUE_NOTHING_BORN);
  fix (scene, "2026-05-26T07:00");
  assert_due (scene->farm, BED_DUE_NOTHING_BORN, BED_DUE_WARNING, "2026-05-25");
}

/* Eight weeks of rest by the farm's setting, as in "How many mushroom logs do I need?",
 * S. Gabriel, 2012. */
static void
test_soak_after_rest (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 3);
  add_soak (scene->farm, "2026-05-10T08:00", "2026-05-11T08:00");
  fix (scene, "2026-06-06T09:00");
  assert_absent (scene->farm, BED_DUE_SOAK); /* 29 days ahead: 5 July is not listed yet */
  fix (scene, "2026-06-07T09:00");
  assert_due (scene->farm, BED_DUE_SOAK, BED_DUE_LATER, "2026-07-05");
  fix (scene, "2026-07-05T09:00");
  assert_due (scene->farm, BED_DUE_SOAK, BED_DUE_TODAY, "2026-07-05");
  g_autoptr (GPtrArray) items = list (scene->farm);
  BedDueItem *item = find (items, BED_DUE_SOAK);
  g_assert_cmpint (item->logs, ==, 3);
  g_assert_cmpint (item->kind, ==, BED_KIND_BATCH);
  g_assert_cmpstr (item->subject, ==, "26A");
  g_autoptr (BedRecord) draft = bed_due_dup_draft (scene->farm, item);
  g_assert_cmpstr (bed_record_get_text (draft, "tank"), ==, "Trough");
  g_assert_cmpstr (bed_record_get_text (draft, "put_in"), ==, "2026-07-05T09:00");
  g_autoptr (GArray) logs = bed_due_dup_logs (scene->farm, item);
  g_assert_cmpuint (logs->len, ==, 3);
}

/* The strain of the scene runs 6 months at least: inoculated 1 March, from 1 September. */
static void
test_first_soak (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 3);
  fix (scene, "2026-08-31T09:00");
  assert_due (scene->farm, BED_DUE_SOAK, BED_DUE_WEEK, "2026-09-01");
  fix (scene, "2026-09-01T09:00");
  assert_due (scene->farm, BED_DUE_SOAK, BED_DUE_TODAY, "2026-09-01");
  fix (scene, "2026-11-01T09:00");
  assert_absent (scene->farm, BED_DUE_SOAK);
  fix (scene, "2027-05-01T09:00");
  assert_due (scene->farm, BED_DUE_SOAK, BED_DUE_TODAY, "2026-09-01");
}

/* In the south the soaking season is the other half of the year. */
static void
test_first_soak_south (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 3);
  g_autoptr (BedRecord) settings = bed_record_copy (bed_farm_get_settings (scene->farm));
  bed_record_set_text (settings, "hemisphere", "south");
  scene_add (scene->farm, g_object_ref (settings));
  fix (scene, "2026-09-01T09:00");
  assert_absent (scene->farm, BED_DUE_SOAK);
  fix (scene, "2026-11-01T09:00");
  assert_due (scene->farm, BED_DUE_SOAK, BED_DUE_TODAY, "2026-09-01");
}

/* A farm that soaks in a warm house is told of soaks in the months in which it did and the next;
 * in the open the same logs wait for May. */
static void
test_soaks_in_winter (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 3);
  fix (scene, "2026-11-05T09:00");
  add_soak (scene->farm, "2026-11-03T08:00", "2026-11-04T08:00");
  fix (scene, "2026-11-30T09:00");
  assert_absent (scene->farm, BED_DUE_SOAK); /* 29 days ahead */
  fix (scene, "2026-12-29T09:00");
  assert_due (scene->farm, BED_DUE_SOAK, BED_DUE_TODAY, "2026-12-29");
  fix (scene, "2027-02-01T09:00");
  assert_absent (scene->farm, BED_DUE_SOAK);
  fix (scene, "2027-05-01T09:00");
  assert_due (scene->farm, BED_DUE_SOAK, BED_DUE_TODAY, "2026-12-29");
}

static void
add_rain (BedFarm *farm, const char *day, const char *depth)
{
  scene_add (farm, scene_record (farm, BED_KIND_RAIN, "fell_on", day, "depth", depth, NULL));
}

/* More than 7 rainless days: FOR-85. */
static void
test_dry_spell (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 3);
  BedFarm *farm = scene->farm;
  scene_add (farm, scene_record (farm, BED_KIND_AREA, "name", "Laying yard", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_STACK, "name", "Crib 1", "area", "Laying yard",
                                 "kind", "crib", "built_on", "2026-03-01", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_PLACE, "log", "26A-001", "stack", "Crib 1", "since",
                                 "2026-03-01", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_WEIGHING, "weighed_on", "2026-05-06", "log",
                                 "26A-001", "mass", "10 kg", NULL));
  assert_absent (farm, BED_DUE_WATER);
  add_rain (farm, "2026-05-05", "4");
  add_rain (farm, "2026-05-08", "0");
  assert_absent (farm, BED_DUE_WATER); /* 7 days */
  assert_absent (farm, BED_DUE_WEIGH); /* weighed 6 days ago */
  fix (scene, "2026-05-13T09:00");
  assert_due (farm, BED_DUE_WATER, BED_DUE_TODAY, "2026-05-13");
  assert_due (farm, BED_DUE_WEIGH, BED_DUE_TODAY, "2026-05-13");
  scene_add (farm, scene_record (farm, BED_KIND_WATERING, "watered_on", "2026-05-13", "stack",
                                 "Crib 1", "method", "sprinkler", NULL));
  assert_absent (farm, BED_DUE_WATER);
  scene_add (farm, scene_record (farm, BED_KIND_WEIGHING, "weighed_on", "2026-05-13", "log",
                                 "26A-001", "mass", "9.8 kg", NULL));
  assert_absent (farm, BED_DUE_WEIGH);
}

/* D. B. Hill, University of Kentucky FOR-83: water when the weight falls more than 10 %; 35 lb
 * down to 29 lb does, 31.5 lb is exactly a tenth. */
static void
test_drying_published (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;

  scene_batch (farm, 1);
  scene_add (farm, scene_record (farm, BED_KIND_WEIGHING, "weighed_on", "2026-03-01", "log",
                                 "26A-001", "mass", "35 lb", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_WEIGHING, "weighed_on", "2026-05-10", "log",
                                 "26A-001", "mass", "31.5 lb", NULL));
  assert_absent (farm, BED_DUE_DRYING);
  scene_add (farm, scene_record (farm, BED_KIND_WEIGHING, "weighed_on", "2026-05-11", "log",
                                 "26A-001", "mass", "29 lb", NULL));
  g_autoptr (GPtrArray) items = list (farm);
  BedDueItem *item = find (items, BED_DUE_DRYING);
  g_assert_nonnull (item);
  g_assert_cmpint (item->state, ==, BED_DUE_WARNING);
  g_assert_cmpstr (item->detail, ==, "lost 17 % of its weight, weighed Mon 11 May");
}

static void
test_look (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;

  scene_batch (farm, 2); /* 1 March + 90 days = 30 May */
  assert_due (farm, BED_DUE_LOOK, BED_DUE_LATER, "2026-05-30");
  scene_add (farm, scene_record (farm, BED_KIND_CHECK, "checked_on", "2026-05-12", "batch", "26A",
                                 "colonised", "30", NULL));
  assert_absent (farm, BED_DUE_LOOK); /* 10 August */
  fix (scene, "2026-08-10T09:00");
  assert_due (farm, BED_DUE_LOOK, BED_DUE_TODAY, "2026-08-10");
  fix (scene, "2026-09-01T09:00"); /* its months are over, but so far it was slow */
  assert_due (farm, BED_DUE_LOOK, BED_DUE_TODAY, "2026-08-10");
  scene_add (farm, scene_record (farm, BED_KIND_CHECK, "checked_on", "2026-09-01", "batch", "26A",
                                 "colonised", "100", NULL));
  fix (scene, "2026-12-10T09:00");
  assert_absent (farm, BED_DUE_LOOK); /* the run is over */
}

static void
test_inoculate (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;

  scene_batch (farm, 1);
  scene_add (farm, scene_record (farm, BED_KIND_FELLING, "code", "F26-2", "felled_on", "2026-03-17",
                                 "stand", "North slope", "wood", "northern red oak", NULL));
  assert_absent (farm, BED_DUE_INOCULATE); /* no bolts yet */
  scene_add (farm, scene_record (farm, BED_KIND_LOG, "code", "bolt 1", "felling", "F26-2", "length",
                                 "100 cm", "small_diameter", "10 cm", NULL));
  assert_due (farm, BED_DUE_INOCULATE, BED_DUE_TODAY, "2026-05-12"); /* day 56 */
  fix (scene, "2026-05-13T09:00");
  assert_due (farm, BED_DUE_INOCULATE, BED_DUE_OVERDUE, "2026-05-12");
}

static void
test_spawn_date (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;

  scene_batch (farm, 1);
  gint64 spawn = bed_farm_find (farm, BED_KIND_SPAWN, "S26-1", NULL);
  g_autoptr (BedRecord) record = bed_farm_load (farm, BED_KIND_SPAWN, spawn, NULL);
  bed_record_set_text (record, "use_by", "2026-06-03");
  scene_add (farm, g_object_ref (record));
  assert_absent (farm, BED_DUE_SPAWN_DATE);
  fix (scene, "2026-05-13T09:00");
  assert_due (farm, BED_DUE_SPAWN_DATE, BED_DUE_WARNING, "2026-06-03");
  scene_add (farm, scene_record (farm, BED_KIND_SPAWN_USED, "batch", "26A", "spawn", "S26-1",
                                 "mass", "7.5 kg", NULL));
  assert_absent (farm, BED_DUE_SPAWN_DATE); /* used up */
}

static void
test_task_and_put_off (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  g_autoptr (GError) error = NULL;

  scene_add (farm,
             scene_record (farm, BED_KIND_DUE, "due_on", "2026-05-11", "what", "Order: wax", NULL));
  assert_due (farm, BED_DUE_TASK, BED_DUE_OVERDUE, "2026-05-11");
  g_autoptr (GPtrArray) items = list (farm);
  g_assert_true (bed_due_put_off (farm, items->pdata[0], 7, &error));
  g_assert_no_error (error);
  assert_due (farm, BED_DUE_TASK, BED_DUE_LATER, "2026-05-19");
  g_autoptr (BedRecord) done = bed_due_dup_draft (farm, items->pdata[0]);
  scene_add (farm, g_object_ref (done));
  assert_absent (farm, BED_DUE_TASK);
}

/* Called like the mark of work that is put off, it is still there when it is put off itself. */
static void
test_put_off_task_called_rule (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  g_autoptr (GError) error = NULL;

  scene_add (farm,
             scene_record (farm, BED_KIND_DUE, "due_on", "2026-05-11", "what", "rule:soak", NULL));
  g_autoptr (GPtrArray) items = list (farm);
  g_assert_true (bed_due_put_off (farm, items->pdata[0], 7, &error));
  g_assert_no_error (error);
  assert_due (farm, BED_DUE_TASK, BED_DUE_LATER, "2026-05-19");
}

static void
test_put_off_rule (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  g_autoptr (GError) error = NULL;

  scene_batch (farm, 2);
  fix (scene, "2026-09-03T09:00");
  g_autoptr (GPtrArray) items = list (farm);
  g_assert_true (bed_due_put_off (farm, find (items, BED_DUE_SOAK), 7, &error));
  g_assert_no_error (error);
  assert_due (farm, BED_DUE_SOAK, BED_DUE_LATER, "2026-09-10");
  assert_absent (farm, BED_DUE_TASK);
  g_assert_true (bed_history_undo (farm, NULL, &error));
  assert_due (farm, BED_DUE_SOAK, BED_DUE_TODAY, "2026-09-01");
}

/* Mon 11 to Sun 17 May: each day has what belongs to it and nothing of the days around. */
static void
test_week (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;

  scene_batch (scene->farm, 3);
  add_soak (scene->farm, "2026-05-09T09:00", "2026-05-10T09:00"); /* to be picked from the 15th */
  add_soak (scene->farm, "2026-05-11T09:30", NULL);
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_RAIN, "fell_on", "2026-05-10",
                                        "depth", "9", NULL));
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_RAIN, "fell_on", "2026-05-11",
                                        "depth", "4", NULL));
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_TEMPERATURE, "measured_on",
                                        "2026-05-12", "least", "8", "most", "19", NULL));
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_PICK, "picked_on", "2026-05-11",
                                        "batch", "26A", "grade", "A", "mass", "500 g", NULL));
  g_autoptr (GPtrArray) items = list (scene->farm);
  g_autoptr (BedWeek) week = bed_week_new (scene->farm, items, &error);
  g_assert_no_error (error);
  const BedWeekDay *days = week->days;
  g_assert_cmpint (week->today, ==, 1);
  g_assert_cmpstr (days[0].day, ==, "2026-05-11");
  g_assert_true (days[0].has_rain && !days[1].has_rain && !days[0].has_temperatures);
  g_assert_cmpint (days[0].rain, ==, 4000);
  g_assert_cmpint (days[1].least, ==, 8000);
  g_assert_cmpint (days[1].most, ==, 19000);
  g_assert_cmpint (days[0].picked, ==, 500 * 1000);
  g_assert_cmpint (days[0].soaked, ==, 3);
  g_assert_cmpuint (days[1].due[BED_DUE_LIFT], ==, 1);
  g_assert_cmpint (days[1].due_logs[BED_DUE_LIFT], ==, 3);
  g_assert_cmpuint (days[4].due[BED_DUE_PICK], ==, 1);
  g_assert_cmpuint (days[6].due[BED_DUE_PICK], ==, 0);
  /* The soak that came out on Sunday is of the week before. */
  g_assert_cmpuint (week->tanks->len, ==, 1);
  const BedWeekTank *tank = week->tanks->pdata[0];
  g_assert_cmpstr (tank->name, ==, "Trough");
  g_assert_true (tank->inside && tank->first == 0 && tank->last == 1 && tank->logs == 3);
}

/* Where calendars begin on Sunday, or on Saturday, so do the week shown and what is due in it. */
static void
test_week_start (Scene *scene, gconstpointer units)
{
  static const struct
  {
    const char *locale, *first;
    int today;
    BedDueState sunday;
  } cases[] = {
    { "C", "2026-05-11", 1, BED_DUE_WEEK },
    { "de_DE.utf8", "2026-05-11", 1, BED_DUE_WEEK },
    { "en_US.utf8", "2026-05-10", 2, BED_DUE_LATER },
    { "he_IL.utf8", "2026-05-10", 2, BED_DUE_LATER },
    { "ar_EG.utf8", "2026-05-09", 3, BED_DUE_LATER },
    { "bn_BD", "2026-05-08", 4, BED_DUE_LATER },
  };

  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_DUE, "due_on", "2026-05-17", "what",
                                        "Mend the fence", NULL));
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      g_assert_nonnull (setlocale (LC_ALL, cases[i].locale));
      g_test_message ("%s", cases[i].locale);
      g_autoptr (GPtrArray) items = list (scene->farm);
      g_autoptr (BedWeek) week = bed_week_new (scene->farm, items, &error);
      g_assert_no_error (error);
      g_assert_cmpstr (week->days[0].day, ==, cases[i].first);
      g_assert_cmpint (week->today, ==, cases[i].today);
      g_assert_cmpint (find (items, BED_DUE_TASK)->state, ==, cases[i].sunday);
      g_autofree char *of_first = bed_date_week_start (cases[i].first);
      g_assert_cmpstr (of_first, ==, cases[i].first);
      g_autofree char *before = bed_date_add (cases[i].first, -1);
      g_autofree char *of_before = bed_date_week_start (before);
      g_assert_cmpint (bed_date_days (of_before, cases[i].first), ==, 7);
      /* The weeks of plans and files are those of ISO 8601 everywhere. */
      g_autofree char *monday = bed_date_monday ("2026-05-17");
      g_assert_cmpstr (monday, ==, "2026-05-11");
    }
  setlocale (LC_ALL, "C");
}

#define ADD(path, test) g_test_add ("/due/" path, Scene, NULL, scene_set_up, test, scene_tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/due/rules-are-whole", test_rules_are_whole);
  ADD ("empty", test_empty);
  ADD ("week", test_week);
  ADD ("week-start", test_week_start);
  ADD ("lift", test_lift);
  ADD ("pick", test_pick);
  ADD ("nothing-born", test_nothing_born);
  ADD ("soak-after-rest", test_soak_after_rest);
  ADD ("first-soak", test_first_soak);
  ADD ("soaks-in-winter", test_soaks_in_winter);
  ADD ("first-soak-south", test_first_soak_south);
  ADD ("dry-spell", test_dry_spell);
  ADD ("drying-published", test_drying_published);
  ADD ("look", test_look);
  ADD ("inoculate", test_inoculate);
  ADD ("spawn-date", test_spawn_date);
  ADD ("task-and-put-off", test_task_and_put_off);
  ADD ("put-off-task-called-rule", test_put_off_task_called_rule);
  ADD ("put-off-rule", test_put_off_rule);
  return g_test_run ();
}
