#include "model/season/figures.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "model/farm/farm_settings.h"
#include "model/farm/functions.h"
#include "model/farm/query.h"
#include "model/season/crop.h"
#include "model/season/season.h"
#include "model/work/soak_plan.h"
#include "science/units.h"

#define MG_PER_KG 1e6
#define MINUTES_PER_HOUR 60.0

#define SEASON(key, label, measure, per, decimals, sentence)                                       \
  {                                                                                                \
    key, label, BED_FIGURE_OF_SEASON, BED_MEASURE_##measure, BED_FIGURE_##per, decimals, sentence  \
  }
#define BATCH(key, label, measure, per, decimals, sentence)                                        \
  {                                                                                                \
    key, label, BED_FIGURE_OF_BATCH, BED_MEASURE_##measure, BED_FIGURE_##per, decimals, sentence   \
  }

static const BedFigure table[BED_N_FIGURES] = {
  [BED_FIGURE_PICKED]
  = SEASON ("picked", N_ ("Picked"), MASS, WHOLE, 1, N_ ("Fresh mass picked in the season.")),
  [BED_FIGURE_SOLD] = SEASON ("sold", N_ ("Sold fresh"), MASS, WHOLE, 1,
                              N_ ("Fresh mass sold in the season; dried goods, gifts and losses "
                                  "are not in it.")),
  [BED_FIGURE_INCOME] = SEASON ("income", N_ ("Income"), MONEY, WHOLE, 0,
                                N_ ("Money from everything sold in the season, without tax.")),
  [BED_FIGURE_COST] = SEASON ("cost", N_ ("Whole cost"), MONEY, WHOLE, 0,
                              N_ ("Purchases of the season, spawn of the batches inoculated in it, "
                                  "hours worked in it at their rate, and equipment written off in "
                                  "it.")),
  [BED_FIGURE_MARGIN]
  = SEASON ("margin", N_ ("Margin"), MONEY, WHOLE, 0, N_ ("Income less cost of the season.")),
  [BED_FIGURE_HOURS] = SEASON ("hours", N_ ("Hours of work"), TIME, WHOLE, 0,
                               N_ ("Hours worked in the season, paid or not.")),
  [BED_FIGURE_LOGS_IN_SEASON] = SEASON ("logs_in_season", N_ ("Logs in the season"), COUNT, WHOLE,
                                        0,
                                        N_ ("Logs inoculated by the season's end and not retired "
                                            "before it began.")),
  [BED_FIGURE_PICKED_PER_LOG] = SEASON ("picked_per_log", N_ ("Each log in the season"), MASS,
                                        A_LOG, 2,
                                        N_ ("Fresh mass picked in the season over the logs in the "
                                            "season.")),
  [BED_FIGURE_COST_PER_LOG] = SEASON ("cost_per_log", N_ ("Cost of each log"), MONEY, A_LOG, 0,
                                      N_ ("Cost of the season over the logs in the season.")),
  [BED_FIGURE_COST_PER_KG] = SEASON ("cost_per_kg", N_ ("Cost of what was picked"), MONEY, A_MASS,
                                     0,
                                     N_ ("Cost of the season over the fresh mass picked in it.")),
  [BED_FIGURE_HOURS_PER_KG] = SEASON ("hours_per_kg", N_ ("Work for what was picked"), TIME, A_MASS,
                                      2,
                                      N_ ("Hours worked in the season over the fresh mass picked "
                                          "in it.")),
  [BED_FIGURE_PRICE_GOT_FRESH] = SEASON ("price_got_fresh", N_ ("Price got, fresh"), MONEY, A_MASS,
                                         0,
                                         N_ ("Money from what was sold fresh in the season over "
                                             "its mass.")),
  [BED_FIGURE_PRICE_GOT_DRIED] = SEASON ("price_got_dried", N_ ("Price got, dried"), MONEY, A_MASS,
                                         0,
                                         N_ ("Money from what was sold dried in the season over "
                                             "its dried mass.")),
  [BED_FIGURE_PRICE_TO_BREAK_EVEN]
  = SEASON ("price_to_break_even", N_ ("Price to break even"), MONEY, A_MASS, 0,
            N_ ("What a unit of mass sold fresh would have to bring to pay the whole cost of the "
                "season, less what dried goods brought.")),
  [BED_FIGURE_EXPECTED_NEXT_LOW]
  = SEASON ("expected_next_low", N_ ("Next season at least"), MASS, WHOLE, 0,
            N_ ("What the season after will give more than, nine times in ten.")),
  [BED_FIGURE_EXPECTED_NEXT]
  = SEASON ("expected_next", N_ ("Expected next season"), MASS, WHOLE, 0,
            N_ ("What the season after will give as likely more as less than: by the logs that "
                "should be alive, their kind, age and batch, and how far seasons differ.")),
  [BED_FIGURE_EXPECTED_NEXT_HIGH]
  = SEASON ("expected_next_high", N_ ("Next season at most"), MASS, WHOLE, 0,
            N_ ("What the season after will give less than, nine times in ten.")),
  [BED_FIGURE_EXPECTED_WEEK] = SEASON ("expected_week", N_ ("To pick this week, by the soaks"),
                                       MASS, WHOLE, 1,
                                       N_ ("What the logs soaked for this week should give, by "
                                           "what a log gives a soak.")),

  [BED_FIGURE_BATCH_LOGS_MADE] = BATCH ("logs_made", N_ ("Logs made"), COUNT, WHOLE, 0,
                                        N_ ("Logs inoculated in the batch, alive or not.")),
  [BED_FIGURE_BATCH_LOGS_ALIVE] = BATCH ("logs_alive", N_ ("Logs alive"), COUNT, WHOLE, 0,
                                         N_ ("Logs of the batch that are not retired today.")),
  [BED_FIGURE_BATCH_LOGS_IN_SEASON] = BATCH (
      "logs_in_season", N_ ("Logs in the season"), COUNT, WHOLE, 0,
      N_ ("Logs of the batch inoculated by the season's end and not retired before it began.")),
  [BED_FIGURE_BATCH_AGE] = BATCH ("age", N_ ("Age in seasons"), COUNT, WHOLE, 0,
                                  N_ ("Seasons since that of inoculation, which is 0.")),
  [BED_FIGURE_BATCH_PICKED] = BATCH ("picked", N_ ("Picked in the season"), MASS, WHOLE, 1,
                                     N_ ("Fresh mass of the batch picked in the season.")),
  [BED_FIGURE_BATCH_PICKED_IN_ALL]
  = BATCH ("picked_in_all", N_ ("Picked so far"), MASS, WHOLE, 1,
           N_ ("Fresh mass of the batch picked in all seasons so far.")),
  [BED_FIGURE_BATCH_PICKED_PER_LOG]
  = BATCH ("picked_per_log", N_ ("Each log in the season"), MASS, A_LOG, 2,
           N_ ("Fresh mass of the batch picked in the season over its logs in the season.")),
  [BED_FIGURE_BATCH_PICKED_PER_LOG_MADE]
  = BATCH ("picked_per_log_made", N_ ("Each log made, so far"), MASS, A_LOG, 2,
           N_ ("Fresh mass of the batch picked in all seasons so far over its logs made.")),
  [BED_FIGURE_BATCH_COST] = BATCH ("cost", N_ ("Own cost"), MONEY, WHOLE, 0,
                                   N_ ("What was bought for the batch alone, its spawn, and the "
                                       "hours worked on it, in all seasons so far.")),
  [BED_FIGURE_BATCH_COST_PER_LOG] = BATCH ("cost_per_log", N_ ("Own cost of each log"), MONEY,
                                           A_LOG, 0,
                                           N_ ("Own cost of the batch over its logs made.")),
  [BED_FIGURE_BATCH_COST_PER_KG]
  = BATCH ("cost_per_kg", N_ ("Own cost of what was picked"), MONEY, A_MASS, 0,
           N_ ("Own cost of the batch over the fresh mass picked of it so far.")),
  [BED_FIGURE_BATCH_STAGE]
  = BATCH ("stage", N_ ("Stage"), COUNT, WHOLE, 0,
           N_ ("The stage of most of the batch's logs that are alive. The spawn run "
               "lasts the least months of the strain, and longer where "
               "log ends that were looked at say so.")),
};

/* --- answers ------------------------------------------------------------------------ */

static double
divide (double a, double b)
{
  return b > 0 ? a / b : NAN;
}

static void
forget (BedFigureAnswers *answers, BedFigureId from, BedFigureId to)
{
  for (BedFigureId id = from; id <= to; id++)
    answers->values[id] = NAN;
}

gboolean
bed_figures_read_season (BedFarm *farm, int season, BedFigureAnswers *answers, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && answers != NULL, FALSE);
  double *to = answers->values;
  BedSeason got;

  forget (answers, BED_FIGURE_PICKED, BED_FIGURE_EXPECTED_WEEK);
  if (!bed_season_read (farm, season, &got, error))
    return FALSE;
  double kg = got.picked / MG_PER_KG;
  to[BED_FIGURE_PICKED] = got.picked;
  to[BED_FIGURE_SOLD] = got.sold;
  to[BED_FIGURE_INCOME] = got.income;
  to[BED_FIGURE_COST] = got.cost;
  to[BED_FIGURE_MARGIN] = got.income - got.cost;
  to[BED_FIGURE_HOURS] = got.minutes;
  to[BED_FIGURE_LOGS_IN_SEASON] = got.logs;
  to[BED_FIGURE_PICKED_PER_LOG] = divide (got.picked, got.logs);
  to[BED_FIGURE_COST_PER_LOG] = divide (got.cost, got.logs);
  to[BED_FIGURE_COST_PER_KG] = divide (got.cost, kg);
  to[BED_FIGURE_HOURS_PER_KG] = divide (got.minutes, kg);
  to[BED_FIGURE_PRICE_GOT_FRESH] = divide (got.income_fresh, got.sold / MG_PER_KG);
  to[BED_FIGURE_PRICE_GOT_DRIED] = divide (got.income_dried, got.sold_dried / MG_PER_KG);
  to[BED_FIGURE_PRICE_TO_BREAK_EVEN] = divide (got.cost - got.income_dried, got.sold / MG_PER_KG);
  return TRUE;
}

gboolean
bed_figures_read_expected (BedFarm *farm, int season, BedFigureAnswers *answers, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && answers != NULL, FALSE);
  double *to = answers->values;

  forget (answers, BED_FIGURE_EXPECTED_NEXT_LOW, BED_FIGURE_EXPECTED_WEEK);
  int running = bed_season_of (farm, bed_farm_get_today (farm));
  if (season > running)
    return TRUE;
  g_autoptr (BedCrop) crop = bed_crop_new (farm, season, error);
  if (!crop)
    return FALSE;
  const BedInterval *next = &crop->coming[0].kg;
  if (next->known == BED_KNOWN_INTERVAL)
    {
      to[BED_FIGURE_EXPECTED_NEXT_LOW] = next->low * MG_PER_KG;
      to[BED_FIGURE_EXPECTED_NEXT] = next->estimate * MG_PER_KG;
      to[BED_FIGURE_EXPECTED_NEXT_HIGH] = next->high * MG_PER_KG;
    }
  return bed_figures_read_week (farm, season, answers, error);
}

gboolean
bed_figures_read_week (BedFarm *farm, int season, BedFigureAnswers *answers, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && answers != NULL, FALSE);

  forget (answers, BED_FIGURE_EXPECTED_WEEK, BED_FIGURE_EXPECTED_WEEK);
  if (season != bed_season_of (farm, bed_farm_get_today (farm)))
    return TRUE;
  g_autoptr (BedSoakPlan) plan = bed_soak_plan_new (farm, error);
  if (!plan)
    return FALSE;
  answers->values[BED_FIGURE_EXPECTED_WEEK] = bed_soak_plan_get_week_mass (plan);
  return TRUE;
}

gboolean
bed_figures_read_batch (BedFarm *farm, gint64 batch, BedFigureAnswers *answers, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && answers != NULL, FALSE);
  double *to = answers->values;
  g_autoptr (BedQuery) q = bed_query_new (
      farm, "SELECT logs, logs_alive, picked, cost, stage FROM batch_summary WHERE id = ?1");

  forget (answers, BED_FIGURE_BATCH_LOGS_MADE, BED_FIGURE_BATCH_PICKED_PER_LOG);
  bed_query_bind_int (q, 1, batch);
  if (bed_query_next (q))
    {
      double made = bed_query_real (q, 0), picked = bed_query_real (q, 2);
      double cost = bed_query_real (q, 3);

      to[BED_FIGURE_BATCH_LOGS_MADE] = made;
      to[BED_FIGURE_BATCH_LOGS_ALIVE] = bed_query_real (q, 1);
      to[BED_FIGURE_BATCH_PICKED_IN_ALL] = picked;
      to[BED_FIGURE_BATCH_PICKED_PER_LOG_MADE] = divide (picked, made);
      to[BED_FIGURE_BATCH_COST] = cost;
      to[BED_FIGURE_BATCH_COST_PER_LOG] = divide (cost, made);
      to[BED_FIGURE_BATCH_COST_PER_KG] = divide (cost, picked / MG_PER_KG);
      if (!bed_query_is_null (q, 4))
        to[BED_FIGURE_BATCH_STAGE] = bed_stage_from_key (bed_query_text (q, 4));
    }
  return bed_query_finish (q, error);
}

/* ?1 the batch, ?2 the season, ?3 its first day, ?4 the day after its last. */
static const char of_batch_season[]
    = "SELECT ?2 - bed_season (b.inoculated_on), (SELECT count (*) FROM log l"
      " WHERE l.batch = b.id AND b.inoculated_on < ?4 AND bed_stood (l.retired_on, ?3)),"
      " (SELECT mass FROM batch_season g WHERE g.batch = b.id AND g.season = ?2)"
      " FROM batch b WHERE b.id = ?1";

gboolean
bed_figures_read_batch_season (BedFarm *farm, gint64 batch, int season, BedFigureAnswers *answers,
                               GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && answers != NULL, FALSE);
  double *to = answers->values;
  g_autofree char *first = bed_season_first (farm, season);
  g_autofree char *next = bed_season_first (farm, season + 1);
  g_autoptr (BedQuery) q = bed_query_new (farm, of_batch_season);

  forget (answers, BED_FIGURE_BATCH_AGE, BED_FIGURE_BATCH_PICKED_PER_LOG);
  bed_query_bind_int (q, 1, batch);
  bed_query_bind_int (q, 2, season);
  bed_query_bind_text (q, 3, first);
  bed_query_bind_text (q, 4, next);
  if (bed_query_next (q))
    {
      double logs = bed_query_real (q, 1), picked = bed_query_real (q, 2);

      to[BED_FIGURE_BATCH_AGE] = bed_query_real (q, 0);
      to[BED_FIGURE_BATCH_LOGS_IN_SEASON] = logs;
      to[BED_FIGURE_BATCH_PICKED] = picked;
      to[BED_FIGURE_BATCH_PICKED_PER_LOG] = divide (picked, logs);
    }
  return bed_query_finish (q, error);
}

/* --- as they are read ------------------------------------------------------------------ */

const BedFigure *
bed_figure_get (BedFigureId id)
{
  g_return_val_if_fail (id < BED_N_FIGURES, NULL);

  return &table[id];
}

BedFigureId
bed_figure_find (BedFigureScope scope, const char *key)
{
  BedFigureId id = 0;

  while (id < BED_N_FIGURES && (table[id].scope != scope || strcmp (table[id].key, key) != 0))
    id++;
  return id;
}

/* Stored by the kg, read by the farm's unit of mass. */
static double
by_own_mass (BedFarm *farm, const BedFigure *figure, double value)
{
  if (figure->per != BED_FIGURE_A_MASS)
    return value;
  return value
         / bed_measure_to_unit (BED_MEASURE_MASS, bed_farm_get_notation (farm)->system, MG_PER_KG);
}

char *
bed_figure_dup_text (BedFarm *farm, BedFigureId id, double value)
{
  const BedFigure *figure = bed_figure_get (id);
  const BedNotation *notation = bed_farm_get_notation (farm);

  if (isnan (value))
    return NULL;
  if (id == BED_FIGURE_BATCH_STAGE)
    return g_strdup (bed_stage_get_word ((BedStage) value));
  gint64 whole = llround (by_own_mass (farm, figure, value));
  return figure->measure == BED_MEASURE_MONEY
             ? bed_measure_format (BED_MEASURE_MONEY, notation, whole)
             : bed_measure_format_rounded (figure->measure, notation, figure->decimals, whole);
}

char *
bed_figure_dup_unit (BedFarm *farm, BedFigureId id)
{
  const BedFigure *figure = bed_figure_get (id);
  BedSystem system = bed_farm_get_notation (farm)->system;
  const char *unit = figure->measure == BED_MEASURE_MONEY
                         ? bed_record_get_text (bed_farm_get_settings (farm), "currency")
                         : bed_measure_unit (figure->measure, system);

  if (figure->per == BED_FIGURE_A_MASS)
    return g_strdup_printf ("%s/%s", unit, bed_measure_unit (BED_MEASURE_MASS, system));
  return g_strdup (unit);
}

double
bed_figure_to_si (BedFarm *farm, BedFigureId id, double value)
{
  BedMeasure measure = bed_figure_get (id)->measure;

  if (measure == BED_MEASURE_MASS)
    return value / MG_PER_KG;
  if (measure == BED_MEASURE_TIME)
    return value / MINUTES_PER_HOUR;
  if (measure == BED_MEASURE_MONEY)
    return value / pow (10, bed_farm_get_notation (farm)->money_decimals);
  return value;
}
