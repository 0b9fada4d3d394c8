#include "science/calendar.h"
#include "science/rotation.h"
#include "tool/calc/calc_command.h"
#include "tool/calc/calc_csv.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const BedCalcOption options[] = {
  OPTION_TEXT (
      "csv-groups", REQUIRED, NULL,
      "file with group,logs,kg_per_log,first_week,last_week,whole (1: soaked all at once)"),
  OPTION_TEXT (
      "csv-weeks", REQUIRED, NULL,
      "file with week,demand_kg and, if you like, closed (1: nothing is soaked); weeks are "
      "those of a year, 52, 1, 2, or have it with them, 2026-W53"),
  OPTION_NUMBER ("tank", REQUIRED, NULL, "logs the tank holds, a week"),
  OPTION_NUMBER ("rest", REQUIRED, NULL, "weeks from one soak of a log to its next"),
  OPTION_TEXT ("lags", OPTIONAL, "1", "shares of the harvest in the weeks after the soak: 0.6,0.4"),
  OPTION_NUMBER ("shortfall", OPTIONAL, "1", "weight of 1 kg too little"),
  OPTION_NUMBER ("surplus", OPTIONAL, "1", "weight of 1 kg too much"),
  { NULL }
};

/* Columns of the two tables; those with ? may be left out, and so may the cells of
 * first_week and last_week, which are then those of the plan. */
enum
{
  GROUP,
  LOGS,
  KG_PER_LOG,
  FIRST_WEEK,
  LAST_WEEK,
  WHOLE
};
enum
{
  WEEK,
  DEMAND_KG,
  CLOSED
};

static const char *const group_columns[]
    = { "group", "logs", "kg_per_log", "first_week", "last_week", "?whole", NULL };
static const char *const week_columns[] = { "week", "demand_kg", "?closed", NULL };

static gboolean
read_count (BedCalc *calc, const char *name, guint *count, GError **error)
{
  double value = bed_calc_value (calc, name);

  if (value < 0 || value > G_MAXINT || value > floor (value))
    return bed_calc_refuse (error, "--%s: “%s” is not a whole number from 0 up", name,
                            bed_calc_text (calc, name));
  *count = (guint) value;
  return TRUE;
}

/* A whole number from 0 up; an empty cell is @fallback. */
static gboolean
read_cell (const BedCalcTable *table, guint row, int column, guint fallback, guint *value,
           GError **error)
{
  double count = fallback;

  if (*bed_calc_table_text (table, row, column) != '\0'
      && !bed_calc_table_value (table, row, column, BED_MEASURE_COUNT, &count, error))
    return FALSE;
  if (count < 0 || count > G_MAXUINT)
    return bed_calc_table_refuse (table, row, column, "is not a whole number from 0 up", error);
  *value = (guint) count;
  return TRUE;
}

static gboolean
read_flag (const BedCalcTable *table, guint row, int column, gboolean *flag, GError **error)
{
  guint value = 0;

  if (!read_cell (table, row, column, 0, &value, error))
    return FALSE;
  if (value > 1)
    return bed_calc_table_refuse (table, row, column, "write 1 for yes, 0 for no", error);
  *flag = value == 1;
  return TRUE;
}

/* The weeks of a plan, counted on over the new year: those of a table with the weeks of a year
 * (50, 51, 52, 1, 2) or with the year to them (2026-W53, 2027-W01). */
typedef struct
{
  const BedCalcTable *table;
  gboolean iso; /* with the year */
  guint first;  /* the count of the first, which without a year is its number */
  guint n;
  guint year; /* weeks of the year that ends within the plan; 0: none does */
} Calendar;

/* `2026-W53`, counted from a Monday long ago; FALSE where it is none. */
static gboolean
read_iso_week (const char *text, guint *week)
{
  int year, number, found_year, found;
  GDate monday;

  if (!g_regex_match_simple ("^\\d{4}-W\\d{2}$", text, G_REGEX_DOLLAR_ENDONLY, 0)
      || sscanf (text, "%4d-W%2d", &year, &number) != 2 || year < 1 || number < 1)
    return FALSE;
  g_date_clear (&monday, 1);
  g_date_set_dmy (&monday, 4, G_DATE_JANUARY, (GDateYear) year); /* is in week 1 */
  g_date_subtract_days (&monday, (guint) (g_date_get_weekday (&monday) - G_DATE_MONDAY));
  g_date_add_days (&monday, 7 * (guint) (number - 1));
  bed_calendar_week (&monday, &found_year, &found);
  *week = (g_date_get_julian (&monday) - 1) / 7;
  return found_year == year && found == number;
}

static gboolean
read_number (const BedCalcTable *table, guint row, int column, gboolean iso, guint *week,
             GError **error)
{
  if (!iso)
    return read_cell (table, row, column, 0, week, error);
  return read_iso_week (bed_calc_table_text (table, row, column), week)
         || bed_calc_table_refuse (table, row, column, "is not a week like 2026-W53", error);
}

/* The weeks may begin with any number, as those of a year do, and must follow on. */
static GArray *
read_weeks (const BedCalcTable *table, Calendar *calendar, GError **error)
{
  g_autoptr (GArray) weeks = g_array_new (FALSE, FALSE, sizeof (BedRotationWeek));
  guint before = 0;

  *calendar = (Calendar){ .table = table, .n = bed_calc_table_length (table) };
  calendar->iso = calendar->n > 0 && strchr (bed_calc_table_text (table, 0, WEEK), 'W') != NULL;
  for (guint row = 0; row < calendar->n; row++)
    {
      BedRotationWeek week;
      guint number = 0;
      if (!read_number (table, row, WEEK, calendar->iso, &number, error)
          || !bed_calc_table_value (table, row, DEMAND_KG, BED_MEASURE_MASS, &week.demand_kg, error)
          || !read_flag (table, row, CLOSED, &week.closed, error))
        return NULL;
      calendar->first = row == 0 ? number : calendar->first;
      if (row > 0 && number == 1 && (before == 52 || before == 53))
        calendar->year = before;
      else if (row > 0 && number != before + 1)
        {
          bed_calc_table_refuse (table, row, WEEK, "the weeks must follow on, without gaps", error);
          return NULL;
        }
      before = number;
      g_array_append_val (weeks, week);
    }
  return g_steal_pointer (&weeks);
}

/* The week of a group in the count of the plan, where it is not before @least. Over the new year
 * week 2 is the one in the plan, and if none is, the one nearer to it. */
static gboolean
read_group_week (const BedCalcTable *table, guint row, int column, const Calendar *calendar,
                 guint least, guint *week, GError **error)
{
  if (*bed_calc_table_text (table, row, column) == '\0')
    return TRUE;
  if (!read_number (table, row, column, calendar->iso, week, error))
    return FALSE;
  guint end = calendar->first + calendar->n - 1, next = *week + calendar->year;
  gboolean sooner = *week >= calendar->first
                    || (next > end && calendar->first - *week <= next - end);
  if (calendar->year && (*week < least || (least == 0 && !sooner)))
    *week = next;
  return TRUE;
}

/* A group that could begin before the plan can begin in its first week. */
static gboolean
read_group (const BedCalcTable *table, guint row, const Calendar *calendar, BedRotationGroup *group,
            GError **error)
{
  guint first = calendar->first, from = first, to = G_MAXINT;

  group->name = bed_calc_table_text (table, row, GROUP);
  if (!read_cell (table, row, LOGS, 0, &group->logs, error)
      || !bed_calc_table_value (table, row, KG_PER_LOG, BED_MEASURE_MASS, &group->kg_per_log, error)
      || !read_group_week (table, row, FIRST_WEEK, calendar, 0, &from, error)
      || !read_group_week (table, row, LAST_WEEK, calendar, from, &to, error)
      || !read_flag (table, row, WHOLE, &group->whole, error))
    return FALSE;
  if (to < from)
    return bed_calc_table_refuse (table, row, LAST_WEEK, "comes before first_week", error);
  if (to < first)
    return bed_calc_table_refuse (table, row, LAST_WEEK, "comes before the first week of the plan",
                                  error);
  group->first_week = from > first ? from - first + 1 : 1;
  group->last_week = MIN (to, G_MAXINT) - first + 1;
  return TRUE;
}

static GArray *
read_groups (const BedCalcTable *table, const Calendar *calendar, GError **error)
{
  g_autoptr (GArray) groups = g_array_new (FALSE, FALSE, sizeof (BedRotationGroup));

  for (guint row = 0; row < bed_calc_table_length (table); row++)
    {
      BedRotationGroup group = { 0 };
      if (!read_group (table, row, calendar, &group, error))
        return NULL;
      g_array_append_val (groups, group);
    }
  return g_steal_pointer (&groups);
}

/* As the table of weeks calls it. */
static void
add_week (BedCalc *calc, const Calendar *calendar, guint week)
{
  guint number = 0;

  if (!calendar->iso && read_cell (calendar->table, week - 1, WEEK, 0, &number, NULL))
    bed_calc_add_int (calc, "week", number);
  else
    bed_calc_add_text (calc, "week", bed_calc_table_text (calendar->table, week - 1, WEEK));
}

static void
add_plan (BedCalc *calc, const BedRotationPlan *plan, const BedRotationProblem *problem,
          const Calendar *calendar)
{
  bed_calc_add_text (calc, "status", plan->status == BED_ROTATION_OPTIMAL ? "optimal" : "near");
  bed_calc_add_double (calc, "bound", BED_CALC_WEIGHTED_KG, plan->bound);
  bed_calc_add_double (calc, "cost", BED_CALC_WEIGHTED_KG, plan->cost);
  bed_calc_add_double (calc, "gap", BED_CALC_WEIGHTED_KG, plan->cost - plan->bound);
  bed_calc_add_double (calc, "longest_rested_cost", BED_CALC_WEIGHTED_KG, plan->greedy_cost);
  bed_calc_begin_list (calc, "harvest", BED_CALC_KG);
  for (gsize week = 0; week < problem->n_weeks; week++)
    bed_calc_add_double (calc, NULL, BED_CALC_KG, plan->harvest_kg[week]);
  bed_calc_end_list (calc);
  bed_calc_begin_list (calc, "soaks", BED_CALC_PLAIN);
  for (guint i = 0; i < plan->soaks->len; i++)
    {
      const BedSoak *soak = &g_array_index (plan->soaks, BedSoak, i);
      bed_calc_begin_object (calc);
      add_week (calc, calendar, soak->week);
      bed_calc_add_text (calc, "group", problem->groups[soak->group].name);
      bed_calc_add_int (calc, "logs", soak->logs);
      bed_calc_end_object (calc);
    }
  bed_calc_end_list (calc);
}

static gboolean
run_rotation (BedCalc *calc, GError **error)
{
  Calendar calendar;
  BedRotationProblem problem = {
    .shortfall_weight = bed_calc_value (calc, "shortfall"),
    .surplus_weight = bed_calc_value (calc, "surplus"),
    .time_limit_ms = BED_ROTATION_TIME_LIMIT_MS,
  };
  g_autoptr (GArray) lags = bed_calc_list (calc, "lags", error);
  if (lags == NULL || !read_count (calc, "tank", &problem.tank_logs, error)
      || !read_count (calc, "rest", &problem.rest_weeks, error))
    return FALSE;
  g_autoptr (BedCalcTable) week_table
      = bed_calc_table_read (calc, "csv-weeks", week_columns, error);
  g_autoptr (BedCalcTable) group_table
      = week_table == NULL ? NULL : bed_calc_table_read (calc, "csv-groups", group_columns, error);
  g_autoptr (GArray) weeks = group_table == NULL ? NULL : read_weeks (week_table, &calendar, error);
  g_autoptr (GArray) groups = weeks == NULL ? NULL : read_groups (group_table, &calendar, error);
  if (groups == NULL)
    return FALSE;

  problem.groups = (const BedRotationGroup *) (gpointer) groups->data;
  problem.n_groups = groups->len;
  problem.weeks = (const BedRotationWeek *) (gpointer) weeks->data;
  problem.n_weeks = weeks->len;
  problem.lag_shares = (const double *) (gpointer) lags->data;
  problem.n_lags = lags->len;
  g_autoptr (BedRotationPlan) plan = bed_rotation_plan_new (&problem, error);
  if (plan == NULL)
    return FALSE;
  add_plan (calc, plan, &problem, &calendar);
  return TRUE;
}

const BedCalcCommand bed_calc_rotation
    = { "rotation", "which logs to soak in which week, so that the harvest follows demand", NULL,
        options, run_rotation };
