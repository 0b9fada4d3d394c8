/* How long logs last, and what those alive will bring in the seasons to come. */
#include "model/season/outlook_private.h"

#include "model/farm/query.h"
#include "model/season/outlook.h"
#include "science/forecast.h"
#include "science/survival.h"

#define MG_PER_KG 1e6
#define YEARS_MOST 12
#define SEASONS_AHEAD 3

typedef struct
{
  const BedSeasonLogs *all;
  GArray *lives;            /* BedLogLife, one a log, whole years */
  double stood[YEARS_MOST]; /* log seasons at that year of life, to the end of @season */
  double crop_kg[YEARS_MOST];
  double alive[YEARS_MOST]; /* now, by year of life in @season */
  GArray *curve;
} Outlook;

/* Logs alike: sold logs, and those that were lost from sight, tell only that they lived so
 * long. */
static void
add_life (Outlook *outlook, const BedSeasonLog *log)
{
  int season = outlook->all->season;
  gboolean ended = log->until <= season;
  int age = MIN (log->until, season) - log->since;
  BedLogLife life = { .age = MAX (age, 0), .retired = ended && !log->spared };

  g_array_append_val (outlook->lives, life);
  for (int year = 0; year <= age && year < YEARS_MOST; year++)
    outlook->stood[year]++;
  if (!ended && age < YEARS_MOST)
    outlook->alive[age]++;
}

static void
add_lives (Outlook *outlook)
{
  const GArray *logs = outlook->all->logs;

  for (guint i = 0; i < logs->len; i++)
    {
      const BedSeasonLog *log = &g_array_index (logs, BedSeasonLog, i);

      if (log->since <= outlook->all->season)
        add_life (outlook, log);
    }
}

/* Spans alike have one row: few, whatever the number of logs. */
static gboolean
keep_spans (const Outlook *outlook, GError **error)
{
  const GArray *logs = outlook->all->logs;
  g_autoptr (GHashTable) spans = g_hash_table_new (NULL, NULL);
  BedOutlookTable table
      = bed_outlook_table (outlook->all->farm, "INSERT INTO log_span VALUES (?1, ?2, ?3)");
  GHashTableIter iter;
  gpointer span, count;

  for (guint i = 0; i < logs->len; i++)
    {
      const BedSeasonLog *log = &g_array_index (logs, BedSeasonLog, i);
      gpointer both = GINT_TO_POINTER (log->since * 10000 + log->until);

      if (log->since <= outlook->all->season)
        g_hash_table_insert (
            spans, both, GINT_TO_POINTER (GPOINTER_TO_INT (g_hash_table_lookup (spans, both)) + 1));
    }
  g_hash_table_iter_init (&iter, spans);
  while (table.well && g_hash_table_iter_next (&iter, &span, &count))
    {
      sqlite3_bind_int (table.stmt, 1, GPOINTER_TO_INT (span) / 10000);
      sqlite3_bind_int (table.stmt, 2, GPOINTER_TO_INT (span) % 10000);
      sqlite3_bind_int (table.stmt, 3, GPOINTER_TO_INT (count));
      bed_outlook_add (&table);
    }
  return bed_outlook_end (&table, error);
}

static gboolean
read_crop (Outlook *outlook, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (
      outlook->all->farm, "SELECT c.season - bed_season (b.inoculated_on), sum (c.mass)"
                          " FROM crop_batch c JOIN batch b ON b.id = c.batch GROUP BY 1");

  while (bed_query_next (q))
    {
      gint64 year = bed_query_int (q, 0);

      if (year >= 0 && year < YEARS_MOST)
        outlook->crop_kg[year] = bed_query_real (q, 1) / MG_PER_KG;
    }
  return bed_query_finish (q, error);
}

static gboolean
keep_survival (Outlook *outlook, GError **error)
{
  BedOutlookTable table = bed_outlook_table (
      outlook->all->farm, "INSERT INTO log_survival VALUES (?1, ?2, ?3, ?4, ?5, ?6)");

  for (guint i = 0; table.well && i < outlook->curve->len; i++)
    {
      const BedSurvivalStep *step = &g_array_index (outlook->curve, BedSurvivalStep, i);

      sqlite3_bind_int64 (table.stmt, 1, step->age);
      sqlite3_bind_int64 (table.stmt, 2, step->at_risk);
      sqlite3_bind_int64 (table.stmt, 3, step->retired);
      sqlite3_bind_double (table.stmt, 4, step->survival.estimate);
      bed_outlook_bind_interval (&table, 5, &step->survival, 1);
      bed_outlook_add (&table);
    }
  return bed_outlook_end (&table, error);
}

/* Logs retired in a season stood in it, so a log that is to stand in the season of @ahead must
 * outlive the year of life before. */
static gboolean
expect_season (Outlook *outlook, int ahead, const double *kg_by_year, double *kg, GError **error)
{
  BedForecastLogs logs[YEARS_MOST];

  for (guint year = 0; year < YEARS_MOST; year++)
    logs[year] = (BedForecastLogs){
      .logs = outlook->alive[year],
      .year_of_life = year + ahead,
      .survival
      = outlook->alive[year] > 0 ? bed_survival_ratio (outlook->curve, year, year + ahead - 1) : 0,
    };
  return bed_forecast_season (logs, YEARS_MOST, kg_by_year, YEARS_MOST, kg, error);
}

/* What a log gave on average from @first year of life on; 0 where none stood so long. */
static double
get_mean_from (const Outlook *outlook, int first)
{
  double stood = 0, kg = 0;

  for (int year = first; year < YEARS_MOST; year++)
    {
      stood += outlook->stood[year];
      kg += outlook->crop_kg[year];
    }
  return stood > 0 ? kg / stood : 0;
}

/* What a log gave in each year of life; a year not on record yet is taken to give what a log
 * gives on average after its first season, in which it bears little or nothing: counted in,
 * that season made young farms expect half of what came. */
static void
measure_years (const Outlook *outlook, double *kg_by_year)
{
  double usual = get_mean_from (outlook, outlook->stood[1] > 0 ? 1 : 0);

  for (int year = 0; year < YEARS_MOST; year++)
    kg_by_year[year] = outlook->stood[year] > 0 ? outlook->crop_kg[year] / outlook->stood[year]
                                                : usual;
}

static gboolean
keep_coming (Outlook *outlook, GError **error)
{
  double kg_by_year[YEARS_MOST];
  BedOutlookTable table
      = bed_outlook_table (outlook->all->farm, "INSERT INTO season_coming VALUES (?1, ?2)");

  measure_years (outlook, kg_by_year);
  for (int ahead = 1; table.well && ahead <= SEASONS_AHEAD; ahead++)
    {
      double kg = 0;

      if (!expect_season (outlook, ahead, kg_by_year, &kg, error))
        {
          sqlite3_finalize (table.stmt);
          return FALSE;
        }
      sqlite3_bind_int64 (table.stmt, 1, outlook->all->season + ahead);
      sqlite3_bind_double (table.stmt, 2, kg * MG_PER_KG);
      bed_outlook_add (&table);
    }
  return bed_outlook_end (&table, error);
}

gboolean
bed_outlook_read_coming (const BedSeasonLogs *all, GError **error)
{
  Outlook outlook = { .all = all };
  gboolean well;

  outlook.lives = g_array_new (FALSE, FALSE, sizeof (BedLogLife));
  add_lives (&outlook);
  well = keep_spans (&outlook, error) && read_crop (&outlook, error);
  if (well)
    outlook.curve = bed_survival_curve ((const BedLogLife *) (gpointer) outlook.lives->data,
                                        outlook.lives->len, BED_OUTLOOK_LEVEL, error);
  well = outlook.curve && keep_survival (&outlook, error) && keep_coming (&outlook, error);
  g_clear_pointer (&outlook.curve, g_array_unref);
  g_array_unref (outlook.lives);
  return well;
}
