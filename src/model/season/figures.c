#include "model/season/figures.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "model/farm/farm_settings.h"
#include "science/units.h"

#define MG_PER_KG 1e6
#define MINUTES_PER_HOUR 60.0

#define FIGURE(key, label, scope, measure, per, decimals, sentence)                                \
  {                                                                                                \
    key, label, BED_FIGURE_OF_##scope, BED_MEASURE_##measure, BED_FIGURE_##per, decimals, sentence \
  }
#define SEASON(key, label, measure, per, decimals, sentence)                                       \
  FIGURE (key, label, SEASON, measure, per, decimals, sentence)
#define BATCH(key, label, measure, per, decimals, sentence)                                        \
  FIGURE (key, label, BATCH, measure, per, decimals, sentence)
#define LOG(key, label, measure, decimals, sentence)                                               \
  FIGURE (key, label, LOG, measure, WHOLE, decimals, sentence)
#define KIND(key, label, measure, per, decimals, sentence)                                         \
  FIGURE (key, label, KIND, measure, per, decimals, sentence)
#define COUNTED(scope, key, one, many, sentence)                                                   \
  {                                                                                                \
    key, many, BED_FIGURE_OF_##scope, BED_MEASURE_COUNT, BED_FIGURE_WHOLE, 0, sentence, one        \
  }

static const BedFigure table[BED_N_FIGURES] = {
  [BED_FIGURE_LOGS_WAITING] = COUNTED (FARM, "logs_waiting", N_ ("Bolt waiting"),
                                       N_ ("Bolts waiting"),
                                       N_ ("Bolts cut, not retired and in no batch yet.")),
  [BED_FIGURE_DAYS_WAITING]
  = COUNTED (FARM, "days_waiting", N_ ("Day since felling"), N_ ("Days since felling"),
             N_ ("Days since the oldest felling that has bolts waiting for spawn.")),
  [BED_FIGURE_SPAWN_LEFT]
  = FIGURE ("spawn_left", N_ ("Spawn in store"), FARM, MASS, WHOLE, 1,
            N_ ("Mass received of each spawn lot less what its batches took and what was "
                "written off.")),
  [BED_FIGURE_PIECES_LEFT]
  = COUNTED (FARM, "pieces_left", N_ ("Piece in store"), N_ ("Pieces in store"),
             N_ ("Dowels and thimbles received of each spawn lot less what its batches took and "
                 "what was written off.")),
  [BED_FIGURE_LOGS_IN_TANK] = COUNTED (FARM, "logs_in_tank", N_ ("Log in the tank"),
                                       N_ ("Logs in the tank"),
                                       N_ ("Logs of soaks that were not lifted yet.")),
  [BED_FIGURE_LOGS_RESTED]
  = COUNTED (FARM, "logs_rested", N_ ("Log whose rest is over"), N_ ("Logs whose rest is over"),
             N_ ("Logs that may be soaked today: alive, out of the tank, and past the rest or the "
                 "first spawn run of their strain.")),
  [BED_FIGURE_CHANGES] = COUNTED (FARM, "changes", N_ ("Change made"), N_ ("Changes made"),
                                  N_ ("Changes in the history of the farm file.")),
  [BED_FIGURE_PEOPLE] = COUNTED (FARM, "people", N_ ("Person"), N_ ("People"),
                                 N_ ("People by whose names those changes were made.")),

  [BED_FIGURE_WEEK_LOGS_DUE]
  = COUNTED (WEEK, "logs_due", N_ ("Log due this week"), N_ ("Logs due this week"),
             N_ ("Logs of all work that is overdue or due by the end of the running week; "
                 "a log counts once for each piece of work.")),
  [BED_FIGURE_WEEK_OVERDUE]
  = COUNTED (WEEK, "overdue", NULL, N_ ("Overdue"),
             N_ ("Pieces of work whose day is over, of the running week.")),
  [BED_FIGURE_WEEK_PICKED]
  = FIGURE ("picked", N_ ("Picked in the week"), WEEK, MASS, WHOLE, 1,
            N_ ("Fresh mass picked from Monday to Sunday; a total of more days is of no week.")),
  [BED_FIGURE_WEEK_EXPECTED]
  = FIGURE ("expected", N_ ("Expected, by the soaks"), WEEK, MASS, WHOLE, 1,
            N_ ("What the logs soaked so far should give in the week, by what a log gives a soak; "
                "of eight weeks back to sixteen ahead.")),
  [BED_FIGURE_WEEK_PICKED_DAY]
  = FIGURE ("picked_day", N_ ("Picked on the day"), WEEK, MASS, WHOLE, 2,
            N_ ("Fresh mass picked on the day asked about, of all grades or of one; totals are of "
                "no day.")),

  [BED_FIGURE_PICKED]
  = SEASON ("picked", N_ ("Picked"), MASS, WHOLE, 1, N_ ("Fresh mass picked in the season.")),
  [BED_FIGURE_SOLD] = SEASON ("sold", N_ ("Sold fresh"), MASS, WHOLE, 1,
                              N_ ("Fresh mass sold in the season; dried goods, gifts and losses "
                                  "are not in it.")),
  [BED_FIGURE_INCOME] = SEASON ("income", N_ ("Income"), MONEY, WHOLE, 0,
                                N_ ("Money from everything sold in the season, without tax.")),
  [BED_FIGURE_COST]
  = SEASON ("cost", N_ ("Whole cost"), MONEY, WHOLE, 0,
            N_ ("Purchases of the season, what it used of its stock, spawn of the "
                "batches inoculated in it and spawn written off in it, "
                "hours worked in it at their rate, and equipment written off in "
                "it, each thing by its method.")),
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
  [BED_FIGURE_PRICE_GOT_FRESH] = SEASON ("price_got_fresh", N_ ("Price received, fresh"), MONEY,
                                         A_MASS, 0,
                                         N_ ("Money from what was sold fresh in the season over "
                                             "its mass.")),
  [BED_FIGURE_PRICE_GOT_DRIED] = SEASON ("price_got_dried", N_ ("Price received, dried"), MONEY,
                                         A_MASS, 0,
                                         N_ ("Money from what was sold dried in the season over "
                                             "its dried mass.")),
  [BED_FIGURE_PRICE_TO_BREAK_EVEN]
  = SEASON ("price_to_break_even", N_ ("Price to break even"), MONEY, A_MASS, 0,
            N_ ("What a unit of mass sold fresh would have to bring to pay the whole cost of the "
                "season, less what dried goods brought.")),
  [BED_FIGURE_EXPECTED_NEXT_LOW]
  = SEASON ("expected_next_low", N_ ("Next season at least"), MASS, WHOLE, 0,
            N_ ("What the season after will give more than, nine times in ten.")),
  [BED_FIGURE_EXPECTED_NEXT] = SEASON (
      "expected_next", N_ ("Expected next season"), MASS, WHOLE, 0,
      N_ ("What the season after is as likely to give more than as less than: by the logs that "
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
           N_ ("The stage of most of the batch's logs that are alive. The spawn run lasts the "
               "shortest time the strain has, and longer where checked log ends say so.")),

  [BED_FIGURE_LOG_STAGE]
  = LOG ("stage", N_ ("Stage"), COUNT, 0, N_ ("Where the log stands in its life today.")),
  [BED_FIGURE_LOG_PICKED_IN_ALL]
  = LOG ("picked_in_all", N_ ("Picked, its share"), MASS, 2,
         N_ ("Fresh mass picked from the log so far, with its even share of what was picked from "
             "its stacks and its batch.")),
  [BED_FIGURE_LOG_AGE] = LOG ("age", N_ ("Age in seasons"), COUNT, 0,
                              N_ ("Seasons since that of inoculation, which is 0.")),
  [BED_FIGURE_LOG_SOAKS] = LOG ("soaks", N_ ("Soaks in the season"), COUNT, 0,
                                N_ ("Soaks the log was put in during the season.")),
  [BED_FIGURE_LOG_PICKED]
  = LOG ("picked", N_ ("Picked in the season"), MASS, 2, N_ ("The same of the season alone.")),

  [BED_FIGURE_KIND_LOGS] = KIND ("logs", N_ ("Logs made"), COUNT, WHOLE, 0,
                                 N_ ("Logs inoculated in all batches of the kind.")),
  [BED_FIGURE_KIND_BATCHES]
  = KIND ("batches", N_ ("Batches that have fruited"), COUNT, WHOLE, 0,
          N_ ("Batches of the kind on record with a fruiting season that is over.")),
  [BED_FIGURE_KIND_LEVEL_LOW]
  = KIND ("level_low", N_ ("Each log and season, at least"), MASS, A_LOG, 2,
          N_ ("What the mean of the kind is above, nine times in ten.")),
  [BED_FIGURE_KIND_LEVEL]
  = KIND ("level", N_ ("Each log and season"), MASS, A_LOG, 2,
          N_ ("Fresh mass that a log of the kind gives in a season, allowing for its age and for "
              "good and bad years where they can be told apart, over all seasons that are over.")),
  [BED_FIGURE_KIND_LEVEL_HIGH]
  = KIND ("level_high", N_ ("Each log and season, at most"), MASS, A_LOG, 2,
          N_ ("What the mean of the kind is below, nine times in ten.")),
};

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

gboolean
bed_figure_is_stage (BedFigureId id)
{
  return id == BED_FIGURE_BATCH_STAGE || id == BED_FIGURE_LOG_STAGE;
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

/* Minutes a kilogram are few: whole ones would be off by tenths. */
static char *
dup_hours (const BedNotation *notation, guint decimals, double minutes)
{
  g_autofree char *format = g_strdup_printf ("%%.%uf", decimals);
  char number[G_ASCII_DTOSTR_BUF_SIZE];

  g_ascii_formatd (number, sizeof number, format, minutes / MINUTES_PER_HOUR);
  return bed_number_say (notation, number);
}

char *
bed_figure_dup_text (BedFarm *farm, BedFigureId id, double value)
{
  const BedFigure *figure = bed_figure_get (id);
  const BedNotation *notation = bed_farm_get_notation (farm);

  if (isnan (value))
    return NULL;
  if (bed_figure_is_stage (id))
    return g_strdup (bed_stage_get_word ((BedStage) value));
  double own = by_own_mass (farm, figure, value);
  if (figure->measure == BED_MEASURE_TIME)
    return dup_hours (notation, figure->decimals, own);
  gint64 whole = llround (own);
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
