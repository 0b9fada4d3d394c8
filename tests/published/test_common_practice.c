/* Rules of thumb that the trade states: common practice, no source. What the defaults, the rules
 * and the due lines say lies inside them. */
#include <math.h>

#include "../model/model_test.h"

#include "model/farm/names.h"
#include "model/work/due.h"
#include "science/drill.h"
#include "science/stack.h"

#define IN 25.4

/* Bolts are 4 to 6 in thick. Common practice, no source. */
static void
test_bolts (void)
{
  g_assert_cmpfloat (BED_DRILL_USUAL_DIAMETER, >=, 4 * IN);
  g_assert_cmpfloat (BED_DRILL_USUAL_DIAMETER, <=, 6 * IN);
}

/* Holes 4 to 6 in apart in rows 2 to 3 in apart, of which whole rows make 1.7 to 3.5 in round the
 * log; staggered to a diamond: the next row begins half a spacing on. Common practice, no source.
 */
static void
test_diamond (void)
{
  for (double thick = 4; thick <= 6; thick += 0.5)
    for (double along = 4; along <= 6; along++)
      for (double between = 2; between <= 3; between += 0.5)
        {
          const BedDrill drill = { .large_diameter = thick * IN,
                                   .small_diameter = thick * IN,
                                   .length = 40 * IN,
                                   .along = along * IN,
                                   .between = between * IN,
                                   .margin = 2 * IN,
                                   .hole_diameter = 12,
                                   .hole_depth = 25 };
          g_autoptr (BedDrillPlan) plan = bed_drill_plan_new (&drill, NULL);

          g_assert_nonnull (plan);
          g_assert_cmpfloat (plan->pitch, >=, 1.7 * IN);
          g_assert_cmpfloat (plan->pitch, <=, 3.5 * IN);
          g_assert_cmpfloat_with_epsilon (plan->start[1] - plan->start[0], along * IN / 2, 1e-9);
          g_assert_cmpfloat (plan->inside.distance, <, 3.5 * IN);
        }
}

/* A grinder drills several times as fast as a drill, in seconds a hole; a bag of 5 to 5.5 lb of
 * sawdust spawn fills 20 to 25 logs of 5 by 40 in. Common practice, no source. */
static void
test_needs (void)
{
  const BedDrill drill = { .large_diameter = 5 * IN,
                           .small_diameter = 5 * IN,
                           .length = 40 * IN,
                           .along = 6 * IN,
                           .between = 3 * IN,
                           .margin = 2 * IN,
                           .hole_diameter = 12,
                           .hole_depth = 25 };
  const BedDrillWork grinder = { BED_SPAWN_SAWDUST, BED_DRILL_GRINDER, BED_SEAL_HOLES };
  const BedDrillWork hand = { BED_SPAWN_SAWDUST, BED_DRILL_HAND, BED_SEAL_HOLES };
  g_autoptr (BedDrillPlan) plan = bed_drill_plan_new (&drill, NULL);
  int holes = (int) plan->holes->len;
  BedDrillNorms norms;
  BedDrillNeeds fast, slow;

  bed_drill_norms_init (&norms);
  g_assert_true (bed_drill_needs (&drill, holes, &grinder, &norms, &fast, NULL));
  g_assert_true (bed_drill_needs (&drill, holes, &hand, &norms, &slow, NULL));
  g_assert_cmpfloat (slow.drill_minutes, >=, 2 * fast.drill_minutes);
  g_assert_cmpfloat (slow.drill_minutes * 60 / holes, <=, 15);
  g_assert_cmpfloat (fast.spawn_g, >=, 5 * 453.59237 / 25);
  g_assert_cmpfloat (fast.spawn_g, <=, 5.5 * 453.59237 / 20);
  g_assert_cmpfloat (fast.minutes, >=, 3);
  g_assert_cmpfloat (fast.minutes, <=, 15);
}

/* Logs lie low in winter, on the ground or on a low rail, and stand raised for the crop, where
 * one picks from both sides. No pile is lifted above the chest. Common practice, no source. */
static void
test_stacks (void)
{
  const BedStackLoad load = { 125, 1016, 14, 100 };
  double height[BED_N_STACKS];

  for (int kind = 0; kind < BED_N_STACKS; kind++)
    {
      BedStackRules rules;
      BedStackPlan plan;

      g_assert_true (bed_stack_rules ((BedStackKind) kind, &rules, NULL));
      g_assert_true (bed_stack_plan ((BedStackKind) kind, &load, &rules, &plan, NULL));
      height[kind] = plan.height;
      g_assert_cmpfloat (plan.height, <=, 1400);
    }
  g_assert_cmpfloat (height[BED_STACK_GROUND], <=, 150);
  g_assert_cmpfloat (height[BED_STACK_LEAN_TO], <, height[BED_STACK_A_FRAME]);
}

/* What is warned of at @leaf, NULL when nothing is. */
static char *
warning_of (BedFarm *farm, const char *leaf)
{
  g_autoptr (BedEdit) edit = bed_edit_new (farm);
  g_autoptr (BedRecord) felling = scene_record (farm, BED_KIND_FELLING, "felled_on", "2026-05-01",
                                                "supplier", "a neighbour", "wood", "white oak",
                                                "leaf", leaf, NULL);

  bed_edit_put (edit, felling);
  GPtrArray *faults = bed_edit_check (edit);
  for (guint i = 0; i < faults->len; i++)
    {
      BedFault *fault = faults->pdata[i];
      g_assert_cmpint (fault->severity, ==, BED_FAULT_WARNING);
      if (g_strcmp0 (fault->field, "leaf") == 0)
        return g_strdup (fault->message);
    }
  return NULL;
}

/* Trees are felled dormant, from leaf fall until buds swell: bark of others slips. Common practice,
 * no source. */
static void
test_dormant (Scene *scene, gconstpointer units)
{
  static const char *const states[] = { "dormant", "leaf fall", "bud swell", "in leaf" };

  for (gsize i = 0; i < G_N_ELEMENTS (states); i++)
    {
      g_autofree char *warning = warning_of (scene->farm, states[i]);

      g_assert_cmpint (warning != NULL, ==, i >= 2);
      g_assert_true (!warning || strstr (warning, "Dormant"));
    }
}

/* The day of the line, "" where it is silent on the morning of @today. */
static char *
dup_due_day (Scene *scene, BedDueRuleId rule, const char *today)
{
  g_autofree char *now = g_strconcat (today, "T09:00", NULL);
  g_autoptr (GError) error = NULL;
  char *day = NULL;

  bed_farm_fix_clock (scene->farm, now, 7);
  g_autoptr (GPtrArray) items = bed_due_list (scene->farm, &error);
  g_assert_no_error (error);
  for (guint i = 0; i < items->len && !day; i++)
    {
      BedDueItem *item = items->pdata[i];
      day = item->rule->id == rule ? g_strdup (item->day) : NULL;
    }
  return day ? day : g_strdup ("");
}

/* Logs are first looked at two to four months after they were inoculated. Common practice, no
 * source. */
static void
test_first_look (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 2); /* on 1 March 2026 */
  g_autofree char *day = dup_due_day (scene, BED_DUE_LOOK, "2026-05-12");

  g_assert_cmpstr (day, >=, "2026-05-01");
  g_assert_cmpstr (day, <=, "2026-07-01");
}

/* Felled bolts wait two months at most. Common practice, no source. */
static void
test_waiting (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 1);
  scene_add (scene->farm,
             scene_record (scene->farm, BED_KIND_FELLING, "code", "F26-2", "felled_on",
                           "2026-03-17", "stand", "North slope", "wood", "northern red oak", NULL));
  scene_add (scene->farm,
             scene_record (scene->farm, BED_KIND_LOG, "code", "bolt 1", "felling", "F26-2",
                           "length", "100 cm", "small_diameter", "10 cm", NULL));
  g_autofree char *day = dup_due_day (scene, BED_DUE_INOCULATE, "2026-05-12");

  g_assert_cmpstr (day, >, "2026-03-17");
  g_assert_cmpstr (day, <=, "2026-05-17");
}

static void
soak (BedFarm *farm, const char *in, const char *out)
{
  gint64 bath = scene_add (farm, scene_record (farm, BED_KIND_SOAK, "tank", "Trough", "put_in", in,
                                               out ? "taken_out" : NULL, out, NULL));
  g_autoptr (BedRecord) soaked = bed_record_new (BED_KIND_SOAKED);

  bed_record_set_int (soaked, "soak", bath);
  bed_record_set_int (soaked, "log", bed_farm_find (farm, BED_KIND_LOG, "26A-001", NULL));
  scene_add (farm, g_steal_pointer (&soaked));
}

/* Logs are not forced while their spawn runs, nor in winter: from May to October, half a year later
 * in the south. Common practice, no source. */
static void
test_soaking_season (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 1); /* on 1 March 2026, half a year to run at least */
  g_autofree char *running = dup_due_day (scene, BED_DUE_SOAK, "2026-05-12");

  g_assert_cmpstr (running, ==, "");
  for (int month = 1; month <= 12; month++)
    {
      g_autofree char *today = g_strdup_printf ("2027-%02d-10", month);
      g_autofree char *day = dup_due_day (scene, BED_DUE_SOAK, today);

      g_assert_cmpint (*day != '\0', ==, month >= 5 && month <= 10);
    }
}

/* They stay in the water for a day or so, give for a week or two, and rest for 7 to 9 weeks. Common
 * practice, no source. */
static void
test_soaking (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 1);
  bed_farm_fix_clock (scene->farm, "2027-05-10T09:00", 7);
  soak (scene->farm, "2027-05-10T08:00", NULL);
  g_autofree char *lift = dup_due_day (scene, BED_DUE_LIFT, "2027-05-10");

  g_assert_cmpstr (lift, >=, "2027-05-10");
  g_assert_cmpstr (lift, <=, "2027-05-13");
}

static void
test_rest (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 1);
  bed_farm_fix_clock (scene->farm, "2027-05-12T09:00", 7);
  soak (scene->farm, "2027-05-10T08:00", "2027-05-11T08:00");
  g_autofree char *pick = dup_due_day (scene, BED_DUE_PICK, "2027-05-12");
  g_autofree char *again = dup_due_day (scene, BED_DUE_SOAK, "2027-06-20");

  g_assert_cmpstr (pick, >=, "2027-05-14");
  g_assert_cmpstr (pick, <=, "2027-05-25");
  g_assert_cmpstr (again, >=, "2027-06-28");
  g_assert_cmpstr (again, <=, "2027-07-12");
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/common-practice/bolts", test_bolts);
  g_test_add_func ("/common-practice/diamond", test_diamond);
  g_test_add_func ("/common-practice/needs", test_needs);
  g_test_add_func ("/common-practice/stacks", test_stacks);
#define ADD(path, test) g_test_add (path, Scene, "metric", scene_set_up, test, scene_tear_down)
  ADD ("/common-practice/dormant", test_dormant);
  ADD ("/common-practice/first-look", test_first_look);
  ADD ("/common-practice/waiting", test_waiting);
  ADD ("/common-practice/soaking-season", test_soaking_season);
  ADD ("/common-practice/soaking", test_soaking);
  ADD ("/common-practice/rest", test_rest);
  return g_test_run ();
}
