/* Nonsense given to every public function of wood, water and weather: an error that
 * begins with the argument's name, and nothing written that is not a number. */
#include <float.h>
#include <math.h>

#include "science/air.h"
#include "science/argument.h"
#include "science/calendar.h"
#include "science/drill.h"
#include "science/drying.h"
#include "science/evaporation.h"
#include "science/heat.h"
#include "science/log.h"
#include "science/moisture.h"
#include "science/spawn_run.h"
#include "science/stack.h"
#include "science/stand.h"
#include "science/tree.h"

/* One call with one bad argument. @bad is what that argument is set to. */
typedef struct
{
  const char *name;
  gboolean (*call) (double bad, GError **error);
  double bad; /* beside NaN and the infinities, which all are tried */
} Nonsense;

#define CALL(function, ...)                                                                        \
  static gboolean function (double bad, GError **error)                                            \
  {                                                                                                \
    __VA_ARGS__                                                                                    \
  }

CALL (air_temperature, BedAir a; return bed_air (bad, 50, &a, error);)
CALL (air_humidity, BedAir a; return bed_air (20, bad, &a, error);)
CALL (heat_least, double d; return bed_heat_day (bad, 20, 5, 30, &d, error);)
CALL (heat_most, double d; return bed_heat_day (10, bad, 5, 30, &d, error);)
CALL (heat_lower, double d; return bed_heat_day (10, 20, bad, 30, &d, error);)
CALL (heat_upper, double d; return bed_heat_day (10, 20, 5, bad, &d, error);)
CALL (radiation_latitude, double r; return bed_evaporation_radiation (bad, 100, &r, error);)
CALL (evaporation_least, double e; return bed_evaporation_reference (bad, 15, 20, 30, &e, error);)
CALL (evaporation_mean, double e; return bed_evaporation_reference (10, bad, 20, 30, &e, error);)
CALL (evaporation_most, double e; return bed_evaporation_reference (10, 15, bad, 30, &e, error);)
CALL (evaporation_sun, double e; return bed_evaporation_reference (10, 15, 20, bad, &e, error);)
CALL (dry_rain, BedWeatherDay d = { bad, 20 }; BedDrySpellResult r;
      return bed_dry_spell (&d, 1, &r, error);)
CALL (log_large, BedLogSize s = { bad, 100, 1000 }; double v;
      return bed_log_volume (&s, &v, error);)
CALL (log_small, BedLogSize s = { 120, bad, 1000 }; double v;
      return bed_log_volume (&s, &v, error);)
CALL (log_length, BedLogSize s = { 120, 100, bad }; double v;
      return bed_log_volume (&s, &v, error);)
CALL (mass_volume, BedWoodNumbers w = { .6, 80, .5, 80, 15 }; BedLogMass m;
      return bed_log_mass (&w, bad, &m, error);)
CALL (mass_density, BedWoodNumbers w = { bad, 80, .5, 80, 15 }; BedLogMass m;
      return bed_log_mass (&w, 10, &m, error);)
CALL (mass_moisture, BedWoodNumbers w = { .6, bad, .5, 80, 15 }; BedLogMass m;
      return bed_log_mass (&w, 10, &m, error);)
CALL (mass_bark, BedWoodNumbers w = { .6, 80, .5, 80, bad }; BedLogMass m;
      return bed_log_mass (&w, 10, &m, error);)
CALL (stand_area, BedStand s = { bad, 500 }; BedStandState t;
      return bed_stand_state (&s, &t, error);)
CALL (stand_trees, BedStand s = { 20, bad }; BedStandState t;
      return bed_stand_state (&s, &t, error);)
CALL (stand_residual, BedStand s = { 20, 500 }; BedThinning t;
      return bed_stand_thin (&s, bad, &t, error);)
CALL (convert_pct, BedMoisture m; return bed_moisture_convert (bad, BED_BASIS_WET, &m, error);)
CALL (moisture_dry, BedMoisture m; return bed_moisture_from_mass (10, bad, &m, error);)
CALL (moisture_mass, BedMoisture m; return bed_moisture_from_mass (bad, 5, &m, error);)
CALL (dry_of_mass, double d; return bed_moisture_dry_mass (bad, 40, BED_BASIS_WET, &d, error);)
CALL (dry_of_pct, double d; return bed_moisture_dry_mass (10, bad, BED_BASIS_WET, &d, error);)
CALL (mass_at_dry, double d; return bed_moisture_mass_at (bad, 40, BED_BASIS_WET, &d, error);)
CALL (disc_fresh, double d; return bed_moisture_from_disc (bad, .1, 10, &d, error);)
CALL (disc_dry, double d; return bed_moisture_from_disc (.2, bad, 10, &d, error);)
CALL (disc_log, double d; return bed_moisture_from_disc (.2, .1, bad, &d, error);)
CALL (drying_rest, BedWeighing w = { 0, 70 }; BedDryingSetting s = { bad, 35, 1 }; BedDrying d;
      return bed_drying_fit (&w, 1, &s, &d, error);)
CALL (drying_alarm, BedWeighing w = { 0, 70 }; BedDryingSetting s = { 16, bad, 1 }; BedDrying d;
      return bed_drying_fit (&w, 1, &s, &d, error);)
CALL (drying_noise, BedWeighing w = { 0, 70 }; BedDryingSetting s = { 16, 35, bad }; BedDrying d;
      return bed_drying_fit (&w, 1, &s, &d, error);)
CALL (drying_day, BedWeighing w = { bad, 70 }; BedDryingSetting s = { 16, 35, 1 }; BedDrying d;
      return bed_drying_fit (&w, 1, &s, &d, error);)
CALL (drying_pct, BedWeighing w = { 0, bad }; BedDryingSetting s = { 16, 35, 1 }; BedDrying d;
      return bed_drying_fit (&w, 1, &s, &d, error);)
CALL (soak_hours, BedSoaking s = { bad, 5 }; BedSoakFit f; return bed_soak_fit (&s, 1, &f, error);)
CALL (soak_gain, BedSoaking s = { 5, bad }; BedSoakFit f; return bed_soak_fit (&s, 1, &f, error);)
CALL (gain_hours, BedSoakFit f = { 2, 0, 0, 0 }; double g;
      return bed_soak_gain (&f, bad, &g, error);)
CALL (stack_diameter, BedStackLoad l = { bad, 1000, 0, 5 }; BedStackRules r; BedStackPlan p;
      return bed_stack_rules (BED_STACK_CRIB, &r, error)
             && bed_stack_plan (BED_STACK_CRIB, &l, &r, &p, error);)
CALL (stack_length, BedStackLoad l = { 120, bad, 0, 5 }; BedStackRules r; BedStackPlan p;
      return bed_stack_rules (BED_STACK_CRIB, &r, error)
             && bed_stack_plan (BED_STACK_CRIB, &l, &r, &p, error);)
CALL (stack_rail, BedStackLoad l = { 120, 1000, 0, 5 }; BedStackRules r = { 0, 6000, bad, 1, 900 };
      BedStackPlan p; return bed_stack_plan (BED_STACK_LEAN_TO, &l, &r, &p, error);)
CALL (tree_dbh, BedWood w = { .group = 9 }; BedTree t = { bad, 15000, 150, 1000, 75 };
      return bed_tree_yield_new (&w, &t, error) != NULL;)
CALL (tree_height, BedWood w = { .group = 9 }; BedTree t = { 150, bad, 150, 1000, 75 };
      return bed_tree_yield_new (&w, &t, error) != NULL;)
CALL (tree_stump, BedWood w = { .group = 9 }; BedTree t = { 150, 15000, bad, 1000, 75 };
      return bed_tree_yield_new (&w, &t, error) != NULL;)
CALL (tree_bolt, BedWood w = { .group = 9 }; BedTree t = { 150, 15000, 150, bad, 75 };
      return bed_tree_yield_new (&w, &t, error) != NULL;)
CALL (tree_top, BedWood w = { .group = 9 }; BedTree t = { 150, 15000, 150, 1000, bad };
      return bed_tree_yield_new (&w, &t, error) != NULL;)
CALL (run_likely, BedSpawnPrior p = { bad, 100, 300 }; BedSpawnRun r;
      return bed_spawn_run (&p, NULL, 0, 10, &r, error);)
CALL (run_late, BedSpawnPrior p = { 200, 100, bad }; BedSpawnRun r;
      return bed_spawn_run (&p, NULL, 0, 10, &r, error);)
CALL (run_effort, BedSpawnPrior p = { 200, 100, 300 }; BedSpawnRun r;
      return bed_spawn_run (&p, NULL, 0, bad, &r, error);)
CALL (run_check, BedSpawnPrior p = { 200, 100, 300 }; BedSpawnCheck c = { 10, bad }; BedSpawnRun r;
      return bed_spawn_run (&p, &c, 1, 10, &r, error);)
CALL (day_wanted, int d; return bed_spawn_day (1, bad, NULL, 0, &d, error);)
CALL (day_daily, int d; return bed_spawn_day (1, 5, &bad, 1, &d, error);)
CALL (fit_covering, BedDrill d = { 100, 100, 1000, 100, 100, 50, 0, 0, BED_CLOSING_NEAREST };
      return bed_drill_fit_covering (&d, bad, error);)
CALL (spawn_grams, BedDrill d = { 100, 100, 1000, 100, 100, 50, 12, 25, BED_CLOSING_NEAREST };
      BedDrillNorms n; int h; bed_drill_norms_init (&n);
      return bed_drill_holes_for_spawn (&d, BED_SPAWN_SAWDUST, bad, &n, &h, error);)
CALL (needs_density, BedDrill d = { 100, 100, 1000, 100, 100, 50, 12, 25, BED_CLOSING_NEAREST };
      BedDrillNorms n; BedDrillNeeds o; BedDrillWork w = { 0 }; bed_drill_norms_init (&n);
      n.spawn_g_per_ml[0] = bad; return bed_drill_needs (&d, 5, &w, &n, &o, error);)
CALL (needs_wax, BedDrill d = { 100, 100, 1000, 100, 100, 50, 12, 25, BED_CLOSING_NEAREST };
      BedDrillNorms n; BedDrillNeeds o; BedDrillWork w = { 0 }; bed_drill_norms_init (&n);
      n.wax_g_per_hole = bad; return bed_drill_needs (&d, 5, &w, &n, &o, error);)

static const Nonsense table[] = {
  { "temperature", air_temperature, -300 },
  { "humidity", air_humidity, 0 },
  { "most", heat_least, 21 },
  { "most", heat_most, 9 },
  { "upper", heat_lower, 31 },
  { "upper", heat_upper, 4 },
  { "latitude", radiation_latitude, 91 },
  { "most", evaporation_least, 21 },
  { "mean", evaporation_mean, 25 },
  { "most", evaporation_most, 5 },
  { "radiation", evaporation_sun, -1 },
  { "rain", dry_rain, -1 },
  { "large diameter", log_large, 0 },
  { "small diameter", log_small, 121 },
  { "length", log_length, -1 },
  { "volume", mass_volume, -1 },
  { "basic density", mass_density, 0 },
  { "moisture", mass_moisture, -1 },
  { "bark share", mass_bark, 101 },
  { "basal area", stand_area, 0 },
  { "trees", stand_trees, 0 },
  { "residual", stand_residual, -1 },
  { "moisture", convert_pct, 100 },
  { "dry mass", moisture_dry, 0 },
  { "mass", moisture_mass, 4 },
  { "mass", dry_of_mass, -1 },
  { "moisture", dry_of_pct, 100 },
  { "dry mass", mass_at_dry, -1 },
  { "fresh disc", disc_fresh, 0.05 },
  { "dry disc", disc_dry, 0 },
  { "log mass", disc_log, -1 },
  { "rest", drying_rest, -1 },
  { "alarm", drying_alarm, 16 },
  { "noise", drying_noise, 0 },
  { "day", drying_day, 1e9 },
  { "moisture", drying_pct, -1 },
  { "hours", soak_hours, 0 },
  { "gain", soak_gain, 1000 },
  { "hours", gain_hours, -1 },
  { "diameter", stack_diameter, 0 },
  { "length", stack_length, 0 },
  { "rail height", stack_rail, 1000 },
  { "dbh", tree_dbh, 0 },
  { "height", tree_height, 0 },
  { "stump", tree_stump, -1 },
  { "bolt", tree_bolt, 0 },
  { "top", tree_top, 0 },
  { "likely", run_likely, 0 },
  { "late", run_late, 150 },
  { "effort", run_effort, -1 },
  { "colonised", run_check, 101 },
  { "wanted", day_wanted, -1 },
  { "daily", day_daily, -1 },
  { "covering", fit_covering, 0 },
  { "spawn", spawn_grams, -1 },
  { "spawn g per ml", needs_density, 0 },
  { "wax g per hole", needs_wax, -1 },
};

static void
test_every_argument (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    {
      const double bads[] = { table[i].bad, NAN, INFINITY, -INFINITY, DBL_MAX };

      for (gsize b = 0; b < G_N_ELEMENTS (bads); b++)
        {
          g_autoptr (GError) error = NULL;

          g_assert_false (table[i].call (bads[b], &error));
          g_assert_nonnull (error);
          g_test_message ("%s", error->message);
          g_assert_error (error, BED_SCIENCE_ERROR, BED_SCIENCE_ERROR_ARGUMENT);
          if (b == 0)
            g_assert_true (g_str_has_prefix (error->message, table[i].name));
        }
    }
}

/* Choices and counts. */
static void
test_choices (void)
{
  g_autoptr (GError) error = NULL;
  GDate date;
  BedStackRules rules;
  BedSpawnPrior prior;
  BedMoisture moisture;
  int year;
  const BedSeasonStart never = { 13, 1 };

  g_assert_false (bed_stack_rules (BED_N_STACKS, &rules, &error));
  g_assert_true (g_str_has_prefix (error->message, "kind"));
  g_clear_error (&error);
  g_assert_false (bed_spawn_prior (BED_N_STRAINS, BED_WOOD_DENSE, &prior, &error));
  g_assert_true (g_str_has_prefix (error->message, "strain type"));
  g_clear_error (&error);
  g_assert_false (bed_moisture_convert (40, (BedBasis) 2, &moisture, &error));
  g_assert_true (g_str_has_prefix (error->message, "basis"));
  g_clear_error (&error);
  g_date_clear (&date, 1);
  g_date_set_dmy (&date, 18, 5, 2026);
  g_assert_false (bed_calendar_season (&date, &never, &year, &error));
  g_assert_true (g_str_has_prefix (error->message, "month"));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/nonsense/every-argument", test_every_argument);
  g_test_add_func ("/nonsense/choices", test_choices);
  return g_test_run ();
}
