#include "app/season/season_run.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "model/farm/functions.h"
#include "model/farm/value.h"
#include "model/season/figures.h"
#include "model/season/season_weeks.h"
#include "science/language.h"
#include "science/units.h"

#define OTHERS_MOST 4  /* seasons beside it: more lines are no longer told apart */
#define WEEKS_LEAST 8  /* of the axis */
#define WEEKS_BEYOND 1 /* before the first pick of any season and after the last */

/* What is drawn, in the farm's unit; weeks of the axis from ->begin of the season on. */
typedef struct
{
  BedFarm *farm;
  GArray *seasons; /* BedSeasonWeeks, the season itself last */
  int begin, n;
  int n_known;
  GPtrArray *sums;  /* double *, of each that is drawn */
  GPtrArray *texts; /* char *, what the spec borrows */
} Run;

static const BedSeasonWeeks *
get_weeks (const Run *run, guint back)
{
  return &g_array_index (run->seasons, BedSeasonWeeks, run->seasons->len - 1 - back);
}

static double
to_unit (const Run *run, double mass)
{
  BedSystem system = bed_farm_get_notation (run->farm)->system;

  return isnan (mass) ? NAN : bed_measure_to_unit (BED_MEASURE_MASS, system, llround (mass));
}

/* The weeks in which any season gave something, and the running one. */
static void
find_axis (Run *run, int season)
{
  const char *today = bed_farm_get_today (run->farm);
  int weeks = (int) G_N_ELEMENTS (((BedSeasonWeeks *) NULL)->mass), first = weeks, last = -1;
  gboolean runs = bed_season_of (run->farm, today) == season;
  int now = bed_season_week_of (run->farm, today);

  for (guint i = 0; i < run->seasons->len && i <= OTHERS_MOST; i++)
    for (int week = 0; week < weeks; week++)
      if (get_weeks (run, i)->mass[week] > 0)
        {
          first = MIN (first, week);
          last = MAX (last, week);
        }
  if (last < 0)
    first = last = runs ? now : 0;
  run->begin = MAX (first - WEEKS_BEYOND, 0);
  last = MIN (MAX (last + WEEKS_BEYOND, run->begin + WEEKS_LEAST - 1), weeks - 1);
  run->n = last - run->begin + 1;
  run->n_known = runs ? CLAMP (now - run->begin + 1, 0, run->n) : run->n;
}

/* What had come by the end of that week of the axis, mg. */
static double
sum_until (const Run *run, const BedSeasonWeeks *weeks, int week)
{
  int last = weeks == get_weeks (run, 0) ? run->n_known : run->n;
  double sum = week + 1 >= last ? weeks->of_no_week : 0;

  for (int i = 0; i <= run->begin + week; i++)
    sum += weeks->mass[i];
  return sum;
}

static double *
add_sums (Run *run, const BedSeasonWeeks *weeks)
{
  double *sums = g_new0 (double, run->n);

  for (int i = 0; i < run->n; i++)
    sums[i] = to_unit (run, sum_until (run, weeks, i));
  g_ptr_array_add (run->sums, sums);
  return sums;
}

static const char *
keep (Run *run, char *text)
{
  g_ptr_array_add (run->texts, text);
  return text;
}

static const char *
keep_mass (Run *run, double mass)
{
  g_autofree char *text = bed_figure_dup_text (run->farm, BED_FIGURE_PICKED, mass);
  g_autofree char *unit = bed_figure_dup_unit (run->farm, BED_FIGURE_PICKED);

  return keep (run, g_strdup_printf ("%s %s", text, unit));
}

static char *
dup_day (const Run *run, int week)
{
  g_autofree char *first = bed_season_first (run->farm, get_weeks (run, 0)->season);
  g_autofree char *monday = bed_date_monday (first);

  return bed_date_add (monday, 7 * (run->begin + week));
}

static const char *
keep_name (Run *run, const char *monday)
{
  g_autofree char *sunday = bed_date_add (monday, 6);
  gboolean new_year = strncmp (monday, sunday, 4) != 0;
  GDate date;
  char label[32];

  g_date_clear (&date, 1);
  g_date_set_parse (&date, monday);
  /* Translators: strftime format of a day on a chart's axis. */
  g_date_strftime (label, sizeof label, new_year ? _ ("%-d %b %Y") : _ ("%-d %b"), &date);
  return keep (run, g_strdup (label));
}

/* "week of Mon 8 Jun: 19.4 lb picked, 43.5 lb so far; 2025: 30.1 lb by then" */
static const char *
keep_tooltip (Run *run, const BedRunSpec *spec, int week, const char *monday)
{
  g_autofree char *day = bed_date_format_in_week (monday);
  GString *words = g_string_new (NULL);

  if (week < run->n_known)
    g_string_append_printf (words, _ ("week of %s: %s picked, %s so far"), day,
                            keep_mass (run, get_weeks (run, 0)->mass[run->begin + week]),
                            keep_mass (run, sum_until (run, get_weeks (run, 0), week)));
  else
    g_string_append_printf (words, _ ("week of %s"), day);
  for (guint i = 1; i <= spec->n_others; i++)
    {
      const BedSeasonWeeks *of = get_weeks (run, i);
      g_autofree char *name = bed_season_dup_name (run->farm, of->season);
      /* Translators: a season, and what it had given by that week. */
      g_string_append_printf (words, _ ("; %s: %s by then"), name,
                              keep_mass (run, sum_until (run, of, week)));
    }
  return keep (run, g_string_free (words, FALSE));
}

/* "2026: 88.7 lb; 2025: 104.0 lb; expected 92.1 lb (70.0 – 120.5); week of …" */
static const char *
keep_description (Run *run, const BedRunSpec *spec)
{
  GString *words = g_string_new (spec->name);

  for (guint i = spec->n_others; i-- > 0;)
    g_string_append_printf (words, "; %s", spec->others[i].label);
  if (spec->expected_label)
    g_string_append_printf (words, "; %s", spec->expected_label);
  for (int i = 0; i < run->n_known; i++)
    if (spec->weeks[i] > 0)
      g_string_append_printf (words, "; %s", spec->tooltips[i]);
  return keep (run, g_string_free (words, FALSE));
}

static gboolean
read_expected (Run *run, int season, BedRunSpec *spec, GError **error)
{
  BedFigureAnswers got;

  if (!bed_figures_read_expected (run->farm, season - 1, &got, error))
    return FALSE;
  double middle = got.values[BED_FIGURE_EXPECTED_NEXT];
  spec->low = to_unit (run, got.values[BED_FIGURE_EXPECTED_NEXT_LOW]);
  spec->expected = to_unit (run, middle);
  spec->high = to_unit (run, got.values[BED_FIGURE_EXPECTED_NEXT_HIGH]);
  if (!isnan (middle))
    {
      g_autofree char *text = bed_figure_dup_text (run->farm, BED_FIGURE_EXPECTED_NEXT, middle);
      g_autofree char *low = bed_figure_dup_text (run->farm, BED_FIGURE_EXPECTED_NEXT_LOW,
                                                  got.values[BED_FIGURE_EXPECTED_NEXT_LOW]);
      g_autofree char *high = bed_figure_dup_text (run->farm, BED_FIGURE_EXPECTED_NEXT_HIGH,
                                                   got.values[BED_FIGURE_EXPECTED_NEXT_HIGH]);
      /* Translators: what the season was to give, its unit, and the ends of four in five. */
      spec->expected_label = keep (
          run, g_strdup_printf (_ ("expected %s %s (%s – %s)"), text, spec->unit, low, high));
    }
  return TRUE;
}

static void
show (Run *run, BedRunSpec *spec, BedRunChart *chart)
{
  guint n_others = MIN (run->seasons->len - 1, OTHERS_MOST);
  g_autofree BedRunLine *others = g_new0 (BedRunLine, MAX (n_others, 1));
  g_autofree double *weeks = g_new0 (double, run->n);
  g_autofree const char **names = g_new0 (const char *, run->n);
  g_autofree const char **tooltips = g_new0 (const char *, run->n);
  g_autofree char *season = bed_season_dup_name (run->farm, get_weeks (run, 0)->season);

  for (int i = 0; i < run->n; i++)
    weeks[i] = to_unit (run, get_weeks (run, 0)->mass[run->begin + i]);
  spec->weeks = weeks;
  spec->sums = add_sums (run, get_weeks (run, 0));
  for (guint i = 0; i < n_others; i++)
    {
      const BedSeasonWeeks *of = get_weeks (run, n_others - i);
      g_autofree char *name = bed_season_dup_name (run->farm, of->season);
      others[i].sums = add_sums (run, of);
      others[i].label
          = keep (run, bed_dup_labelled (name, keep_mass (run, sum_until (run, of, run->n - 1))));
    }
  spec->others = others;
  spec->n_others = n_others;
  spec->n_weeks = run->n;
  spec->n_known = run->n_known;
  spec->name = keep (
      run,
      bed_dup_labelled (season, keep_mass (run, sum_until (run, get_weeks (run, 0), run->n - 1))));
  for (int i = 0; i < run->n; i++)
    {
      g_autofree char *monday = dup_day (run, i);
      names[i] = keep_name (run, monday);
      tooltips[i] = keep_tooltip (run, spec, i, monday);
    }
  spec->names = names;
  spec->tooltips = tooltips;
  spec->description = keep_description (run, spec);
  bed_run_chart_set (chart, spec);
}

gboolean
bed_season_run_show (BedRunChart *chart, BedFarm *farm, GArray *seasons, GError **error)
{
  g_return_val_if_fail (BED_IS_RUN_CHART (chart) && seasons != NULL, FALSE);
  int season = g_array_index (seasons, BedSeasonWeeks, seasons->len - 1).season;
  g_autoptr (GPtrArray) sums = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  Run run = { .farm = farm, .seasons = seasons, .sums = sums, .texts = texts };
  BedRunSpec spec = {
    .unit = bed_measure_unit (BED_MEASURE_MASS, bed_farm_get_notation (farm)->system),
    .label = _ ("What the season gave, week by week, and how it adds up"),
  };

  if (!read_expected (&run, season, &spec, error))
    return FALSE;
  find_axis (&run, season);
  show (&run, &spec, chart);
  return TRUE;
}
