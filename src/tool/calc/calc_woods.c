/* Commands of wood, water and weather that need no data file. */
#include <math.h>

#include "science/air.h"
#include "science/check_character.h"
#include "science/stand.h"
#include "science/tree.h"
#include "tool/calc/calc_command.h"

#define HA_PER_ACRE 0.40468564224

static const BedCalcOption air_options[]
    = { OPTION ("temperature", REQUIRED, TEMPERATURE, NULL, "of the air"),
        OPTION ("humidity", REQUIRED, PERCENT, NULL, "relative humidity"),
        { NULL } };

static gboolean
run_air (BedCalc *calc, GError **error)
{
  BedAir air;

  if (!bed_air (bed_calc_value (calc, "temperature"), bed_calc_value (calc, "humidity"), &air,
                error))
    return FALSE;
  bed_calc_add_double (calc, "emc_pct", BED_CALC_PLAIN, air.emc_pct);
  bed_calc_add_double (calc, "vpd_kpa", BED_CALC_PLAIN, air.vpd_kpa);
  bed_calc_add_double (calc, "dew_point", BED_CALC_C, air.dew_point_c);
  return TRUE;
}

const BedCalcCommand bed_calc_air
    = { "air", "moisture wood comes to in this air, vapour deficit, dew point", NULL, air_options,
        run_air };

static gboolean
run_check_character (BedCalc *calc, GError **error)
{
  char text[2] = { bed_check_character (bed_calc_argument (calc)), '\0' };

  if (!text[0])
    return bed_calc_refuse (error,
                            "CODE: “%s” holds more than letters A to Z, figures, hyphens and "
                            "spaces, or none of them",
                            bed_calc_argument (calc));
  bed_calc_add_text (calc, "character", text);
  return TRUE;
}

const BedCalcCommand bed_calc_check_character
    = { "check-character", "the last character of a code (ISO 7064 MOD 37,36)", "CODE", NULL,
        run_check_character };

static const BedCalcOption stand_options[]
    = { OPTION ("basal-area", REQUIRED, BASAL_AREA, NULL, "of the stand"),
        OPTION_TEXT ("trees", REQUIRED, NULL, "number per ha, or 150/ac (per ac under --units US)"),
        OPTION ("residual", OPTIONAL, BASAL_AREA, NULL, "basal area to be left"),
        OPTION_TEXT ("wood", OPTIONAL, NULL, "of the trees taken, and"),
        OPTION ("height", OPTIONAL, LENGTH_LONG, NULL, "theirs, to count their bolts"),
        OPTION ("bolt", OPTIONAL, LENGTH, "40in", "length of a bolt"),
        OPTION ("top", OPTIONAL, LENGTH, "3in", "smallest diameter wanted"),
        OPTION ("stump", OPTIONAL, LENGTH, "6in", "height of the stump"),
        { NULL } };

/* `400`, `400/ha`, `150/ac`: trees per ha. A bare number is per the area of --units. */
static gboolean
read_trees (BedCalc *calc, double *per_ha, GError **error)
{
  const char *text = bed_calc_text (calc, "trees");
  char *end = NULL;
  double value = g_ascii_strtod (text, &end), factor = 0;

  while (end != text && g_ascii_isspace (*end))
    end++;
  if (*end == '\0')
    factor = bed_calc_system (calc) == BED_SYSTEM_US ? 1 / HA_PER_ACRE : 1;
  else if (g_ascii_strcasecmp (end, "/ha") == 0)
    factor = 1;
  else if (g_ascii_strcasecmp (end, "/ac") == 0 || g_ascii_strcasecmp (end, "/acre") == 0)
    factor = 1 / HA_PER_ACRE;
  if (end == text || factor == 0 || !isfinite (value))
    return bed_calc_refuse (
        error, "--trees: “%s” is not a number of trees; write for example 400 or 150/ac", text);
  *per_ha = value * factor;
  return TRUE;
}

/* Bolts of the trees taken, each as the tree of mean basal area. */
static gboolean
add_bolts (BedCalc *calc, double qmd_cm, double trees, GError **error)
{
  const BedWood *wood = bed_calc_wood (calc, error);
  BedTree tree = { qmd_cm * 10, bed_calc_value (calc, "height"), bed_calc_value (calc, "stump"),
                   bed_calc_value (calc, "bolt"), bed_calc_value (calc, "top") };
  g_autoptr (BedTreeYield) yield = wood ? bed_tree_yield_new (wood, &tree, error) : NULL;

  if (yield == NULL)
    return FALSE;
  bed_calc_add_int (calc, "bolts_per_tree", yield->bolts->len);
  bed_calc_add_double (calc, "remove_bolts", BED_CALC_WHOLE_PER_HA, trees * yield->bolts->len);
  return TRUE;
}

static gboolean
run_stand (BedCalc *calc, GError **error)
{
  BedStand stand = { bed_calc_value (calc, "basal-area"), 0 };
  BedStandState state;
  BedThinning thinning;

  if (!read_trees (calc, &stand.trees, error) || !bed_stand_state (&stand, &state, error))
    return FALSE;
  bed_calc_add_double (calc, "qmd", BED_CALC_CM, state.qmd_cm);
  bed_calc_add_double (calc, "sdi", BED_CALC_PER_HA, state.sdi);
  bed_calc_add_double (calc, "stocking_pct", BED_CALC_PLAIN, state.stocking_pct);
  if (!bed_calc_has (calc, "residual"))
    return TRUE;
  if (!bed_stand_thin (&stand, bed_calc_value (calc, "residual"), &thinning, error))
    return FALSE;
  bed_calc_add_double (calc, "remove_trees", BED_CALC_PER_HA, thinning.remove_trees);
  bed_calc_add_double (calc, "remove", BED_CALC_M2_HA, thinning.remove_basal_area);
  bed_calc_add_double (calc, "remove_pct", BED_CALC_PLAIN, thinning.share_pct);
  bed_calc_add_double (calc, "after_stocking_pct", BED_CALC_PLAIN, thinning.after.stocking_pct);
  if (bed_calc_has (calc, "wood") && bed_calc_has (calc, "height"))
    return add_bolts (calc, state.qmd_cm, thinning.remove_trees, error);
  return TRUE;
}

const BedCalcCommand bed_calc_stand
    = { "stand", "mean diameter and stocking of a stand, and what a thinning takes", NULL,
        stand_options, run_stand };
