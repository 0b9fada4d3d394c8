/* The answers of the table of figures. */
#include "model/season/figures.h"

#include <math.h>
#include <string.h>

#include "model/farm/functions.h"
#include "model/farm/query.h"
#include "model/farm/value.h"
#include "model/season/season.h"

#define MG_PER_KG 1e6

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

/* What the soaks should bring in the week of @day, mg; FALSE when the farm cannot be read. */
static gboolean
read_soaks (BedFarm *farm, const char *day, double *mass, GError **error)
{
  g_autoptr (BedSoakPlan) plan = bed_soak_plan_new_done (farm, error);

  if (plan)
    *mass = bed_soak_plan_get_week_mass (plan, day);
  return plan != NULL;
}

/* The fellings that any logs without a batch are of: without it the logs of all are counted. */
#define OF_LOGS_WITHOUT_BATCH " WHERE id IN (SELECT felling FROM log WHERE batch IS NULL)"

/* Of the farm today, each with its question. */
static const char *const of_farm[] = {
  [BED_FIGURE_LOGS_WAITING]
  = "SELECT coalesce (sum (waiting), 0) FROM felling_summary" OF_LOGS_WITHOUT_BATCH,
  [BED_FIGURE_DAYS_WAITING] = "SELECT max (age_days) FROM felling_summary" OF_LOGS_WITHOUT_BATCH
                              " AND waiting > 0",
  [BED_FIGURE_SPAWN_LEFT]
  = "SELECT coalesce (sum (mass_left), 0) FROM spawn_left WHERE mass_left > 0",
  [BED_FIGURE_PIECES_LEFT]
  = "SELECT coalesce (sum (pieces_left), 0) FROM spawn_left WHERE pieces_left > 0",
  [BED_FIGURE_LOGS_IN_TANK]
  = "SELECT coalesce (sum (logs), 0) FROM soak_summary WHERE taken_out IS NULL",
  [BED_FIGURE_LOGS_RESTED]
  = "SELECT count (*) FROM log_forced WHERE inside = 0 AND ready_on <= bed_today ()",
  [BED_FIGURE_CHANGES] = "SELECT count (*) FROM change",
  [BED_FIGURE_PEOPLE] = "SELECT count (DISTINCT who) FROM change",
};

gboolean
bed_figures_read_farm (BedFarm *farm, BedFigureId from, BedFigureId to, BedFigureAnswers *answers,
                       GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && answers != NULL, FALSE);
  g_return_val_if_fail (to < G_N_ELEMENTS (of_farm), FALSE);
  gboolean read = TRUE;

  forget (answers, from, to);
  for (BedFigureId id = from; read && id <= to; id++)
    {
      g_autoptr (BedQuery) q = bed_query_new (farm, of_farm[id]);

      if (bed_query_next (q) && !bed_query_is_null (q, 0))
        answers->values[id] = bed_query_real (q, 0);
      read = bed_query_finish (q, error);
    }
  return read;
}

void
bed_figures_read_due (const GPtrArray *items, BedFigureAnswers *answers)
{
  g_return_if_fail (items != NULL && answers != NULL);
  double *to = answers->values;

  to[BED_FIGURE_WEEK_LOGS_DUE] = to[BED_FIGURE_WEEK_OVERDUE] = 0;
  for (guint i = 0; i < items->len; i++)
    {
      const BedDueItem *item = items->pdata[i];

      if (item->state <= BED_DUE_WEEK)
        to[BED_FIGURE_WEEK_LOGS_DUE] += item->logs;
      to[BED_FIGURE_WEEK_OVERDUE] += item->state == BED_DUE_OVERDUE;
    }
}

void
bed_figures_read_soaks (const BedSoakPlan *plan, const char *day, BedFigureAnswers *answers)
{
  g_return_if_fail (plan != NULL && day != NULL && answers != NULL);
  double *to = answers->values;

  to[BED_FIGURE_LOGS_RESTED] = 0;
  for (guint i = 0; i < plan->groups->len; i++)
    to[BED_FIGURE_LOGS_RESTED] += ((const BedSoakGroup *) plan->groups->pdata[i])->ready_logs;
  to[BED_FIGURE_EXPECTED_WEEK] = bed_soak_plan_get_week_mass (plan, day);
}

gboolean
bed_figures_read_week (BedFarm *farm, const char *day, BedFigureAnswers *answers, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && day != NULL && answers != NULL, FALSE);
  g_autofree char *monday = bed_date_monday (day);
  g_autofree char *running = bed_date_monday (bed_farm_get_today (farm));
  g_autofree char *sunday = bed_date_add (monday, 6);
  g_autoptr (BedQuery) q = bed_query_new (
      farm, "SELECT coalesce (sum (mass), 0),"
            " coalesce (sum (mass) FILTER (WHERE picked_on = ?3 AND since IS NULL), 0)"
            " FROM pick WHERE picked_on BETWEEN ?1 AND ?2"
            " AND bed_pick_week (since, picked_on) IS NOT NULL");

  forget (answers, BED_FIGURE_WEEK_LOGS_DUE, BED_FIGURE_WEEK_PICKED_DAY);
  bed_query_bind_text (q, 1, monday);
  bed_query_bind_text (q, 2, sunday);
  bed_query_bind_text (q, 3, day);
  if (bed_query_next (q))
    {
      answers->values[BED_FIGURE_WEEK_PICKED] = bed_query_real (q, 0);
      answers->values[BED_FIGURE_WEEK_PICKED_DAY] = bed_query_real (q, 1);
    }
  if (!bed_query_finish (q, error)
      || !read_soaks (farm, monday, &answers->values[BED_FIGURE_WEEK_EXPECTED], error))
    return FALSE;
  if (strcmp (monday, running) != 0)
    return TRUE;
  g_autoptr (GPtrArray) items = bed_due_list (farm, error);
  if (items)
    bed_figures_read_due (items, answers);
  return items != NULL;
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
  return season != running
         || read_soaks (farm, bed_farm_get_today (farm), &to[BED_FIGURE_EXPECTED_WEEK], error);
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

/* ?1 is what @id names, ?2 the season, ?3 its first day, ?4 the day after its last. */
static BedQuery *
ask_in_season (BedFarm *farm, const char *sql, gint64 id, int season)
{
  g_autofree char *first = bed_season_first (farm, season);
  g_autofree char *next = bed_season_first (farm, season + 1);
  BedQuery *q = bed_query_new (farm, sql);

  bed_query_bind_int (q, 1, id);
  bed_query_bind_int (q, 2, season);
  bed_query_bind_text (q, 3, first);
  bed_query_bind_text (q, 4, next);
  return q;
}

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
  g_autoptr (BedQuery) q = ask_in_season (farm, of_batch_season, batch, season);

  forget (answers, BED_FIGURE_BATCH_AGE, BED_FIGURE_BATCH_PICKED_PER_LOG);
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

/* --- of a log and of a kind --------------------------------------------------------- */

gboolean
bed_figures_read_log (BedFarm *farm, gint64 log, BedFigureAnswers *answers, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && answers != NULL, FALSE);
  double *to = answers->values;
  g_autoptr (BedQuery) q = bed_query_new (
      farm, "SELECT stage, coalesce ((SELECT sum (mass) FROM pick_log WHERE log = ?1), 0)"
            " FROM log_today WHERE id = ?1");

  forget (answers, BED_FIGURE_LOG_STAGE, BED_FIGURE_LOG_PICKED);
  bed_query_bind_int (q, 1, log);
  if (bed_query_next (q))
    {
      to[BED_FIGURE_LOG_STAGE] = bed_stage_from_key (bed_query_text (q, 0));
      to[BED_FIGURE_LOG_PICKED_IN_ALL] = bed_query_real (q, 1);
    }
  return bed_query_finish (q, error);
}

static const char of_log_season[]
    = "SELECT ?2 - bed_season (b.inoculated_on), (SELECT count (*) FROM soaked d JOIN soak s"
      " ON s.id = d.soak WHERE d.log = ?1 AND s.put_in >= ?3 AND s.put_in < ?4),"
      " coalesce ((SELECT sum (mass) FROM pick_log WHERE log = ?1 AND picked_on >= ?3"
      "  AND picked_on < ?4), 0) FROM log l LEFT JOIN batch b ON b.id = l.batch WHERE l.id = ?1";

gboolean
bed_figures_read_log_season (BedFarm *farm, gint64 log, int season, BedFigureAnswers *answers,
                             GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && answers != NULL, FALSE);
  double *to = answers->values;
  g_autoptr (BedQuery) q = ask_in_season (farm, of_log_season, log, season);

  forget (answers, BED_FIGURE_LOG_AGE, BED_FIGURE_LOG_PICKED);
  if (bed_query_next (q))
    {
      if (!bed_query_is_null (q, 0))
        to[BED_FIGURE_LOG_AGE] = bed_query_real (q, 0);
      to[BED_FIGURE_LOG_SOAKS] = bed_query_real (q, 1);
      to[BED_FIGURE_LOG_PICKED] = bed_query_real (q, 2);
    }
  return bed_query_finish (q, error);
}

void
bed_figures_read_kind (const BedCropGroup *group, BedFigureAnswers *answers)
{
  g_return_if_fail (group != NULL && answers != NULL);
  double *to = answers->values;

  forget (answers, BED_FIGURE_KIND_LOGS, BED_FIGURE_KIND_LEVEL_HIGH);
  to[BED_FIGURE_KIND_LOGS] = group->logs;
  to[BED_FIGURE_KIND_BATCHES] = group->batches;
  if (group->kg.known != BED_KNOWN_NOTHING)
    to[BED_FIGURE_KIND_LEVEL] = group->kg.estimate * MG_PER_KG;
  if (group->kg.known != BED_KNOWN_INTERVAL)
    return;
  to[BED_FIGURE_KIND_LEVEL_LOW] = group->kg.low * MG_PER_KG;
  to[BED_FIGURE_KIND_LEVEL_HIGH] = group->kg.high * MG_PER_KG;
}
