#include "model/work/week.h"

#include "model/farm/query.h"
#include "model/farm/value.h"

#define DAYS ((int) G_N_ELEMENTS (((BedWeek *) NULL)->days))

/* Which day of the week @date is, -1 when of another. */
static int
find_day (const BedWeek *week, const char *date)
{
  int at = bed_date_days (week->days[0].day, date);

  return at >= 0 && at < DAYS ? at : -1;
}

/* Of each row the day comes first. */
static gboolean
read_days (BedWeek *week, BedFarm *farm, const char *sql,
           void (*note) (BedWeekDay *day, BedQuery *q), GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (farm, sql);

  bed_query_bind_text (q, 1, week->days[0].day);
  bed_query_bind_text (q, 2, week->days[DAYS - 1].day);
  while (bed_query_next (q))
    {
      int at = find_day (week, bed_query_text (q, 0));
      if (at >= 0)
        note (&week->days[at], q);
    }
  return bed_query_finish (q, error);
}

static void
note_weather (BedWeekDay *day, BedQuery *q)
{
  day->has_rain = !bed_query_is_null (q, 1);
  day->rain = bed_query_int (q, 1);
  day->has_temperatures = !bed_query_is_null (q, 2);
  day->least = bed_query_int (q, 2);
  day->most = bed_query_int (q, 3);
}

static void
note_picked (BedWeekDay *day, BedQuery *q)
{
  day->picked = bed_query_int (q, 1);
}

static void
note_soaked (BedWeekDay *day, BedQuery *q)
{
  day->soaked = bed_query_int (q, 1);
}

static void
note_moves (BedWeekDay *day, BedQuery *q)
{
  day->moves = bed_query_int (q, 1);
}

static void
note_due (BedWeek *week, const GPtrArray *items)
{
  for (guint i = 0; i < items->len; i++)
    {
      const BedDueItem *item = items->pdata[i];
      gboolean now = item->state == BED_DUE_OVERDUE || item->state == BED_DUE_TODAY;
      int at = now ? week->today : find_day (week, item->day);
      if (at < 0 || item->state == BED_DUE_WARNING)
        continue;
      if (item->rule->id == BED_DUE_TASK)
        {
          g_ptr_array_add (week->days[at].tasks, g_strdup (item->subject));
          continue;
        }
      week->days[at].due[item->rule->id]++;
      week->days[at].due_logs[item->rule->id] += item->logs;
    }
}

/* The day the soak is to be lifted, or today where that is over. */
static int
find_lift (const BedWeek *week, const GPtrArray *items, gint64 soak)
{
  for (guint i = 0; i < items->len; i++)
    {
      const BedDueItem *item = items->pdata[i];
      if (item->rule->id == BED_DUE_LIFT && item->id == soak)
        return CLAMP (bed_date_days (week->days[0].day, item->day), week->today, DAYS - 1);
    }
  return week->today;
}

static void
free_tank (gpointer data)
{
  g_free (((BedWeekTank *) data)->name);
  g_free (data);
}

/* A soak is over within days: one put in long before and not lifted was forgotten, and is due. */
static gboolean
read_tanks (BedWeek *week, BedFarm *farm, const GPtrArray *items, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (
      farm, "SELECT s.id, s.tank, s.put_in, s.taken_out,"
            " (SELECT count (*) FROM soaked d WHERE d.soak = s.id) FROM soak s"
            " WHERE s.put_in <= ?2 || 'T24' AND coalesce (date (s.taken_out), '9999') >= ?1"
            " ORDER BY s.put_in, s.id");

  bed_query_bind_text (q, 1, week->days[0].day);
  bed_query_bind_text (q, 2, week->days[week->today].day);
  while (bed_query_next (q))
    {
      BedWeekTank *tank = g_new0 (BedWeekTank, 1);
      const char *out = bed_query_text (q, 3);
      g_autofree char *in_day = g_strndup (bed_query_text (q, 2), 10);
      g_autofree char *out_day = out ? g_strndup (out, 10) : NULL;
      tank->name = g_strdup (bed_query_text (q, 1));
      tank->inside = out == NULL;
      tank->logs = bed_query_int (q, 4);
      tank->first = MAX (bed_date_days (week->days[0].day, in_day), 0);
      tank->last = out_day ? MIN (bed_date_days (week->days[0].day, out_day), DAYS - 1)
                           : find_lift (week, items, bed_query_int (q, 0));
      g_ptr_array_add (week->tanks, tank);
    }
  return bed_query_finish (q, error);
}

BedWeek *
bed_week_new (BedFarm *farm, const GPtrArray *items, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && items != NULL, NULL);
  g_autoptr (BedWeek) week = g_new0 (BedWeek, 1);
  g_autofree char *first = bed_date_week_start (bed_farm_get_today (farm));

  week->tanks = g_ptr_array_new_with_free_func (free_tank);
  for (int i = 0; i < DAYS; i++)
    {
      week->days[i].day = bed_date_add (first, i);
      week->days[i].tasks = g_ptr_array_new_with_free_func (g_free);
    }
  week->today = bed_date_days (first, bed_farm_get_today (farm));
  note_due (week, items);
  if (!read_days (week, farm,
                  "SELECT day, depth, least, most FROM weather_day WHERE day BETWEEN ?1 AND ?2",
                  note_weather, error)
      || !read_days (week, farm,
                     "SELECT picked_on, sum (mass) FROM pick_dated"
                     " WHERE picked_on BETWEEN ?1 AND ?2 GROUP BY 1",
                     note_picked, error)
      || !read_days (week, farm,
                     "SELECT date (s.put_in), count (*) FROM soak s JOIN soaked d ON d.soak = s.id"
                     " WHERE s.put_in BETWEEN ?1 AND ?2 || 'T24' GROUP BY 1",
                     note_soaked, error)
      || !read_days (week, farm,
                     "SELECT planned_on, count (*) FROM planned_move"
                     " WHERE planned_on BETWEEN ?1 AND ?2 GROUP BY 1",
                     note_moves, error)
      || !read_tanks (week, farm, items, error))
    return NULL;
  return g_steal_pointer (&week);
}

void
bed_week_free (BedWeek *week)
{
  for (int i = 0; i < DAYS; i++)
    {
      g_free (week->days[i].day);
      g_ptr_array_unref (week->days[i].tasks);
    }
  g_ptr_array_unref (week->tanks);
  g_free (week);
}
