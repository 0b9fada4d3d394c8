/* What the soaks gave reason to expect in the weeks of the season. */
#include "model/season/outlook_private.h"

#include <math.h>
#include <string.h>

#include "model/farm/functions.h"
#include "model/farm/value.h"
#include "model/season/soak_plan.h"

#define MG_PER_KG 1e6

static gboolean
keep (BedFarm *farm, const char *monday, const double *kg, guint n, const BedSoakPlan *plan,
      GError **error)
{
  g_autofree char *running = bed_date_monday (bed_farm_get_today (farm));
  BedOutlookTable table = bed_outlook_table (farm, "INSERT INTO season_week VALUES (?1, ?2)");

  for (guint week = 0; table.well && week < n; week++)
    {
      g_autofree char *day = bed_date_add (monday, 7 * (int) week);
      double ahead = plan && strcmp (day, running) >= 0 ? bed_soak_plan_get_week_mass (plan, day)
                                                        : NAN;

      sqlite3_bind_text (table.stmt, 1, day, -1, SQLITE_TRANSIENT);
      sqlite3_bind_double (table.stmt, 2, isnan (ahead) ? kg[week] * MG_PER_KG : ahead);
      bed_outlook_add (&table);
    }
  return bed_outlook_end (&table, error);
}

gboolean
bed_outlook_read_weeks (const BedSeasonLogs *all, GError **error)
{
  BedFarm *farm = all->farm;
  const char *today = bed_farm_get_today (farm);
  g_autofree char *first = bed_season_first (farm, all->season);
  g_autofree char *next = bed_season_first (farm, all->season + 1);
  g_autofree char *last = bed_date_add (next, -1);
  g_autofree char *monday = bed_date_monday (first);
  gboolean runs = bed_season_of (farm, today) == all->season;
  guint n = bed_date_days (monday, last) / 7 + 1;
  g_autofree double *kg = g_new0 (double, n);
  g_autoptr (BedSoakPlan) plan = runs ? bed_soak_plan_new_done (farm, error) : NULL;
  /* Of a season not begun nobody knows more than today. */
  g_autoptr (BedSoakGiven) closed
      = runs ? NULL : bed_soak_given_new (farm, strcmp (today, last) < 0 ? today : last, error);
  const BedSoakGiven *given = plan ? plan->given : closed;

  return given && bed_soak_given_expect (given, farm, monday, n, kg, error)
         && keep (farm, monday, kg, n, plan, error);
}
