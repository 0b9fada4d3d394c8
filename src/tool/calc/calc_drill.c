#include "science/argument.h"
#include "science/drill.h"
#include "tool/calc/calc_command.h"

static const BedCalcOption options[] = {
  OPTION ("diameter", REQUIRED, LENGTH_FINE, NULL, "of the large end, over bark"),
  OPTION ("small-end", OPTIONAL, LENGTH_FINE, NULL, "diameter of the small end, else the same"),
  OPTION ("length", REQUIRED, LENGTH_FINE, NULL, "of the log"),
  OPTION ("along", OPTIONAL, LENGTH_FINE, NULL, "between holes of a row"),
  OPTION ("between", OPTIONAL, LENGTH_FINE, NULL, "between rows"),
  OPTION ("margin", REQUIRED, LENGTH_FINE, NULL, "first hole from the end"),
  OPTION ("hole", OPTIONAL, LENGTH_FINE, "12mm", "diameter of a hole"),
  OPTION ("depth", OPTIONAL, LENGTH_FINE, "25mm", "depth of a hole"),
  OPTION_TEXT ("form", OPTIONAL, "sawdust", "of spawn: sawdust, dowel, thimble, grain"),
  OPTION_TEXT ("tool", OPTIONAL, "drill", "drill or grinder"),
  OPTION_TEXT ("seal", OPTIONAL, "holes", "what is waxed: holes, or ends for holes and ends"),
  OPTION_TEXT ("closing", OPTIONAL, "nearest", "rows round the log: nearest, even, helical"),
  OPTION ("spawn", OPTIONAL, MASS_FINE, NULL,
          "instead of a spacing: spawn for one log, the best spacing is found"),
  OPTION ("covering", OPTIONAL, LENGTH_FINE, NULL,
          "instead of a spacing: no bark farther from a hole, the fewest holes are found"),
  /* Instead of common practice. */
  OPTION_NUMBER ("drill-pace", OPTIONAL, NULL, "your own: holes drilled a minute"),
  OPTION_NUMBER ("fill-pace", OPTIONAL, NULL, "your own: holes filled a minute"),
  OPTION_NUMBER ("wax-pace", OPTIONAL, NULL, "your own: holes waxed a minute"),
  OPTION_NUMBER ("end-pace", OPTIONAL, NULL, "your own: log ends waxed a minute"),
  OPTION_NUMBER ("handle-pace", OPTIONAL, NULL, "your own: logs lifted, turned and tagged an hour"),
  OPTION ("wax-holes", OPTIONAL, MASS_FINE, NULL, "your own: wax for 100 holes"),
  OPTION ("wax-ends", OPTIONAL, MASS_FINE, NULL,
          "your own: wax for both ends of a log 12 cm thick"),
  OPTION ("spawn-litre", OPTIONAL, MASS_FINE, NULL,
          "your own: a litre of spawn, packed as in the hole"),
  { NULL }
};

static const char *const forms[] = { "sawdust", "dowel", "thimble", "grain", NULL };
static const char *const tools[] = { "drill", "grinder", NULL };
static const char *const seals[] = { "holes", "ends", NULL };
static const char *const closings[] = { "nearest", "even", "helical", NULL };

static gboolean
read_work (BedCalc *calc, BedDrillWork *work, GError **error)
{
  int form = bed_calc_choice (calc, "form", forms, error);
  int tool = form < 0 ? -1 : bed_calc_choice (calc, "tool", tools, error);
  int seal = tool < 0 ? -1 : bed_calc_choice (calc, "seal", seals, error);

  if (seal < 0)
    return FALSE;
  *work = (BedDrillWork){ (BedSpawnForm) form, (BedDrillTool) tool, (BedSeal) seal };
  return TRUE;
}

/* One that is not given stays 0, which science/drill.h takes for not measured. */
static gboolean
read_own (BedCalc *calc, const char *name, double *value, GError **error)
{
  if (!bed_calc_has (calc, name))
    return TRUE;
  *value = bed_calc_value (calc, name);
  return bed_argument_positive (name, *value, error);
}

static gboolean
read_norms (BedCalc *calc, BedDrillNorms *norms, GError **error)
{
  BedDrillPace pace = { 0 };

  bed_drill_norms_init (norms);
  if (!read_own (calc, "drill-pace", &pace.holes_drilled, error)
      || !read_own (calc, "fill-pace", &pace.holes_filled, error)
      || !read_own (calc, "wax-pace", &pace.holes_waxed, error)
      || !read_own (calc, "end-pace", &pace.ends_waxed, error)
      || !read_own (calc, "handle-pace", &pace.logs_handled, error)
      || !read_own (calc, "wax-holes", &pace.wax_g_100_holes, error)
      || !read_own (calc, "wax-ends", &pace.wax_g_ends, error)
      || !read_own (calc, "spawn-litre", &pace.spawn_g_litre, error))
    return FALSE;
  bed_drill_norms_measure (norms, &pace);
  return TRUE;
}

/* Three ways to say how close: a spacing, an amount of spawn, a covering distance. */
static gboolean
choose_spacing (BedCalc *calc, BedDrill *drill, const BedDrillWork *work,
                const BedDrillNorms *norms, GError **error)
{
  gboolean along = bed_calc_has (calc, "along"), between = bed_calc_has (calc, "between");
  gboolean spaced = along || between;
  int holes;

  if (along != between
      || spaced + bed_calc_has (calc, "spawn") + bed_calc_has (calc, "covering") != 1)
    return bed_calc_refuse (error, "give --along and --between, or --spawn, or --covering");
  if (spaced)
    {
      drill->along = bed_calc_value (calc, "along");
      drill->between = bed_calc_value (calc, "between");
      return TRUE;
    }
  if (bed_calc_has (calc, "covering"))
    return bed_drill_fit_covering (drill, bed_calc_value (calc, "covering"), error);
  return bed_drill_holes_for_spawn (drill, work->form, bed_calc_value (calc, "spawn"), norms,
                                    &holes, error)
         && bed_drill_fit_holes (drill, holes, error);
}

static void
add_plan (BedCalc *calc, const BedDrillPlan *plan)
{
  bed_calc_add_int (calc, "rows", plan->rows);
  bed_calc_begin_list (calc, "per_row", BED_CALC_PLAIN);
  for (int row = 0; row < plan->rows; row++)
    bed_calc_add_int (calc, NULL, plan->per_row[row]);
  bed_calc_end_list (calc);
  bed_calc_add_int (calc, "holes", plan->holes->len);
  bed_calc_add_double (calc, "row_pitch", BED_CALC_MM, plan->pitch);
  bed_calc_add_double (calc, "along", BED_CALC_MM, plan->along);
  bed_calc_add_double (calc, "shift", BED_CALC_MM, plan->shift);
  bed_calc_add_double (calc, "covering", BED_CALC_MM, plan->inside.distance);
  bed_calc_add_double (calc, "covering_seam", BED_CALC_MM, plan->seam.distance);
  bed_calc_add_double (calc, "covering_end", BED_CALC_MM, plan->ends.distance);
}

static gboolean
run_drill (BedCalc *calc, GError **error)
{
  BedDrillNorms norms;
  BedDrillNeeds needs;
  BedDrillWork work;
  const char *small = bed_calc_has (calc, "small-end") ? "small-end" : "diameter";
  int closing = bed_calc_choice (calc, "closing", closings, error);
  BedDrill drill = {
    .large_diameter = bed_calc_value (calc, "diameter"),
    .small_diameter = bed_calc_value (calc, small),
    .length = bed_calc_value (calc, "length"),
    .margin = bed_calc_value (calc, "margin"),
    .hole_diameter = bed_calc_value (calc, "hole"),
    .hole_depth = bed_calc_value (calc, "depth"),
    .closing = (BedClosing) MAX (closing, 0),
  };

  if (closing < 0 || !read_norms (calc, &norms, error) || !read_work (calc, &work, error)
      || !choose_spacing (calc, &drill, &work, &norms, error))
    return FALSE;
  g_autoptr (BedDrillPlan) plan = bed_drill_plan_new (&drill, error);
  if (plan == NULL
      || !bed_drill_needs (&drill, (int) plan->holes->len, &work, &norms, &needs, error))
    return FALSE;
  add_plan (calc, plan);
  bed_calc_add_double (calc, "spawn", BED_CALC_ML, needs.spawn_ml);
  bed_calc_add_double (calc, "spawn", BED_CALC_G, needs.spawn_g);
  bed_calc_add_double (calc, "spawn_low", BED_CALC_G, needs.spawn_low_g);
  bed_calc_add_double (calc, "spawn_high", BED_CALC_G, needs.spawn_high_g);
  bed_calc_add_double (calc, "wax", BED_CALC_G, needs.wax_g);
  bed_calc_add_double (calc, "minutes", BED_CALC_PLAIN, needs.minutes);
  return TRUE;
}

const BedCalcCommand bed_calc_drill = {
  "drill",
  "holes of a log, how far the wood is from spawn, and what it takes (spawn, wax and minutes: "
  "common practice, no published source)",
  NULL, options, run_drill
};
