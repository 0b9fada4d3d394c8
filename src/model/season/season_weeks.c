#include "model/season/season_weeks.h"

#include "model/farm/functions.h"
#include "model/farm/query.h"
#include "model/farm/value.h"

static int
find_week (const char *first, const char *day)
{
  g_autofree char *monday = bed_date_monday (first);
  int last = (int) G_N_ELEMENTS (((BedSeasonWeeks *) NULL)->mass) - 1;

  return CLAMP (bed_date_days (monday, day) / 7, 0, last);
}

int
bed_season_week_of (BedFarm *farm, const char *day)
{
  g_autofree char *first = bed_season_first (farm, bed_season_of (farm, day));

  return find_week (first, day);
}

static BedSeasonWeeks *
get_season (GArray *seasons, int season)
{
  BedSeasonWeeks one = { .season = season };

  if (!seasons->len || g_array_index (seasons, BedSeasonWeeks, seasons->len - 1).season != season)
    g_array_append_val (seasons, one);
  return &g_array_index (seasons, BedSeasonWeeks, seasons->len - 1);
}

GArray *
bed_season_weeks_read (BedFarm *farm, int season, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), NULL);
  g_autoptr (GArray) seasons = g_array_new (FALSE, FALSE, sizeof (BedSeasonWeeks));
  g_autofree char *next = bed_season_first (farm, season + 1);
  /* One walk over all picks: their index of days would look each of them up. */
  g_autoptr (BedQuery) q
      = bed_query_new (farm, "SELECT picked_on, sum (mass), coalesce (sum (mass) FILTER (WHERE"
                             "  since IS NOT NULL AND bed_pick_week (since, picked_on) IS NULL), 0)"
                             " FROM pick NOT INDEXED WHERE picked_on < ?1 GROUP BY 1 ORDER BY 1");

  bed_query_bind_text (q, 1, next);
  while (bed_query_next (q))
    {
      const char *day = bed_query_text (q, 0);
      int of = bed_season_of (farm, day);
      g_autofree char *first = bed_season_first (farm, of);
      BedSeasonWeeks *weeks = get_season (seasons, of);
      weeks->mass[find_week (first, day)] += bed_query_real (q, 1) - bed_query_real (q, 2);
      weeks->of_no_week += bed_query_real (q, 2);
    }
  get_season (seasons, season);
  return bed_query_finish (q, error) ? g_steal_pointer (&seasons) : NULL;
}
