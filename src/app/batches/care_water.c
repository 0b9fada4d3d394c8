#include "app/batches/care_water.h"

#include <adwaita.h>
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "app/desk/page_parts.h"
#include "app/widgets/facts.h"
#include "app/widgets/trend_chart.h"
#include "model/farm/say.h"
#include "model/farm/value.h"
#include "model/work/care.h"
#include "science/units.h"

#define SOAK_HOURS 24
#define BACK_DAYS 400 /* that the chart shows, at most */
#define AHEAD_DAYS 120
#define CURVE_POINTS 60
#define MARKS_MOST 7

struct _BedCareWater
{
  BedPart parent_instance;
  BedFarm *farm;
  BedTrendChart *chart;
  GtkWidget *facts; /* AdwBin */
  GtkWidget *logs;  /* AdwBin */
  GtkWidget *basis;
};

BED_DEFINE_PLAIN_TYPE (BedCareWater, bed_care_water, BED_TYPE_PART)

/* --- words ------------------------------------------------------------------------------ */

static char *
dup_pct (BedFarm *farm, double pct)
{
  return bed_measure_format_unit_rounded (BED_MEASURE_PERCENT, bed_farm_get_notation (farm), 0,
                                          llround (bed_care_in_basis (farm, pct) * 100));
}

static char *
dup_mass (BedFarm *farm, double kg)
{
  return isnan (kg) ? g_strdup ("–")
                    : bed_measure_format_unit_rounded (
                        BED_MEASURE_MASS, bed_farm_get_notation (farm), 1, llround (kg * 1e6));
}

static const char *
get_basis (BedFarm *farm)
{
  const char *basis = bed_record_get_text (bed_farm_get_settings (farm), "moisture_basis");

  return g_strcmp0 (basis, "dry") == 0 ? _ ("dry basis") : _ ("wet basis");
}

static char *
dup_reach (BedFarm *farm, const BedCareMoisture *care)
{
  if (care->trend == BED_CARE_NO_TREND)
    return g_strdup ("–");
  if (care->alarm_on && strcmp (care->alarm_on, bed_farm_get_today (farm)) <= 0)
    {
      g_autofree char *day = bed_date_format (care->alarm_on);
      return g_strdup_printf (_ ("reached about %s: water them"), day);
    }
  return bed_care_dup_when (care->alarm_on, care->alarm_early, care->alarm_late);
}

static char *
dup_soak (BedFarm *farm)
{
  g_autoptr (GError) error = NULL;
  BedCareSoak soak;

  if (!bed_care_soak_read (farm, SOAK_HOURS, &soak, &error) || soak.soaks == 0)
    return g_strdup (_ ("not known yet: weigh some logs before and after"));
  return bed_say (ngettext ("%+.0f points dry basis, by %u log weighed round a soak",
                            "%+.0f points dry basis, by %u logs weighed round a soak", soak.soaks),
                  soak.gain_pct, soak.soaks);
}

static char *
dup_wetted (const BedCareMoisture *care)
{
  return care->wetted_on ? bed_date_format (care->wetted_on) : g_strdup (_ ("not recorded"));
}

/* --- facts ------------------------------------------------------------------------------ */

static void
show_facts (BedCareWater *self, const BedCareMoisture *care)
{
  GtkWidget *box = bed_facts_box_new ();
  g_autofree char *percent = dup_pct (self->farm, care->today_pct);
  g_autofree char *today = care->trend == BED_CARE_TREND
                               ? g_strdup_printf ("%s, %s", percent, get_basis (self->farm))
                           : care->points->len ? g_strdup (_ ("weigh again: watered since"))
                                               : g_strdup ("–");
  g_autofree char *alarm = isnan (care->alarm_pct) ? NULL : dup_pct (self->farm, care->alarm_pct);
  g_autofree char *reach_label = alarm ? g_strdup_printf (_ ("Down to %s"), alarm)
                                       : g_strdup (_ ("Moisture alarm"));
  g_autofree char *reach = alarm ? dup_reach (self->farm, care)
                                 : g_strdup (_ ("not set in the farm's settings"));
  g_autofree char *wetted = dup_wetted (care);
  g_autofree char *hours = g_strdup_printf (_ ("A soak of %d h"), SOAK_HOURS);
  g_autofree char *soak = dup_soak (self->farm);

  bed_facts_add (box, _ ("Moisture today"), today);
  bed_facts_add (box, reach_label, reach);
  bed_facts_add (box, _ ("Last watered"), wetted);
  bed_facts_add (box, hours, soak);
  adw_bin_set_child (ADW_BIN (self->facts), box);
}

/* --- chart ------------------------------------------------------------------------------ */

/* The days shown: from the first weighing not too long ago to where the limit is reached. */
typedef struct
{
  char *first;
  double last; /* days from it */
} Span;

static void
clear_span (Span *span)
{
  g_free (span->first);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Span, clear_span)

static void
init_span (Span *span, BedFarm *farm, const BedCareMoisture *care)
{
  const BedCarePoint *newest = care->points->pdata[care->points->len - 1];
  const char *today = bed_farm_get_today (farm);
  gboolean ahead = care->trend == BED_CARE_TREND && care->alarm_late
                   && strcmp (care->alarm_late, today) > 0;
  int days;

  for (guint i = 0; i < care->points->len && !span->first; i++)
    {
      const BedCarePoint *point = care->points->pdata[i];
      if (bed_date_days (point->date, newest->date) <= BACK_DAYS)
        span->first = g_strdup (point->date);
    }
  days = bed_date_days (span->first, newest->date) + 14;
  if (care->trend == BED_CARE_TREND)
    days = MAX (days, bed_date_days (span->first, today));
  if (ahead)
    days = MAX (days, bed_date_days (span->first, today)
                          + MIN (bed_date_days (today, care->alarm_late), AHEAD_DAYS));
  span->last = days;
}

static GArray *
dup_dots (BedFarm *farm, const BedCareMoisture *care, const Span *span)
{
  GArray *dots = g_array_new (FALSE, FALSE, sizeof (BedTrendPoint));

  for (guint i = 0; i < care->points->len; i++)
    {
      const BedCarePoint *point = care->points->pdata[i];
      BedTrendPoint dot
          = { bed_date_days (span->first, point->date), bed_care_in_basis (farm, point->pct) };
      if (dot.day >= 0)
        g_array_append_val (dots, dot);
    }
  return dots;
}

static GArray *
dup_curve (BedFarm *farm, const BedCareMoisture *care, const Span *span)
{
  GArray *curve = g_array_new (FALSE, FALSE, sizeof (BedTrendPoint));

  if (care->trend == BED_CARE_NO_TREND)
    return curve;
  double from = MAX (bed_date_days (span->first, care->trend_from), 0);
  for (int i = 0; i <= CURVE_POINTS; i++)
    {
      double day = from + (span->last - from) * i / CURVE_POINTS;
      g_autofree char *date = bed_date_add (span->first, (int) floor (day));
      double pct = bed_care_moisture_at (care, date);
      BedTrendPoint point = { floor (day), bed_care_in_basis (farm, pct) };
      g_array_append_val (curve, point);
    }
  return curve;
}

static void
clear_mark (BedTrendMark *mark)
{
  g_free ((char *) mark->label);
}

/* The first of each month, or of every second, third... where there are many. */
static GArray *
dup_marks (const Span *span)
{
  GArray *marks = g_array_new (FALSE, FALSE, sizeof (BedTrendMark));
  int step = (int) ceil (span->last / 30.4 / MARKS_MOST);
  GDate first, date;

  g_array_set_clear_func (marks, (GDestroyNotify) clear_mark);
  g_date_set_parse (&first, span->first);
  date = first;
  g_date_set_day (&date, 1);
  for (g_date_add_months (&date, 1); g_date_days_between (&first, &date) <= span->last;
       g_date_add_months (&date, MAX (step, 1)))
    {
      char label[32];
      /* Translators: strftime format of a month on a chart's axis. */
      g_date_strftime (label, sizeof label, _ ("%b %Y"), &date);
      BedTrendMark mark = { g_date_days_between (&first, &date), g_strdup (label) };
      g_array_append_val (marks, mark);
    }
  return marks;
}

static double
span_day (const Span *span, const char *date, double otherwise)
{
  return date ? bed_date_days (span->first, date) : otherwise;
}

static char *
dup_description (BedFarm *farm, const BedCareMoisture *care)
{
  const BedCarePoint *newest = care->points->pdata[care->points->len - 1];
  g_autofree char *day = bed_date_format (newest->date);
  g_autofree char *percent = dup_pct (farm, newest->pct);
  g_autofree char *reach = dup_reach (farm, care);

  return g_strdup_printf (_ ("last weighed %s: %s; alarm: %s"), day, percent, reach);
}

static void
show_chart (BedCareWater *self, const BedCareMoisture *care)
{
  g_auto (Span) span = { 0 };

  gtk_widget_set_visible (GTK_WIDGET (self->chart), care->points->len > 0);
  if (care->points->len == 0)
    return;
  init_span (&span, self->farm, care);
  g_autoptr (GArray) dots = dup_dots (self->farm, care, &span);
  g_autoptr (GArray) curve = dup_curve (self->farm, care, &span);
  g_autoptr (GArray) marks = dup_marks (&span);
  g_autofree char *description = dup_description (self->farm, care);
  double far = span.last + 1000;
  gboolean trend = care->trend == BED_CARE_TREND;
  BedTrendSpec spec = {
    .unit = "%",
    .label = _ ("Moisture of the sample logs"),
    .description = description,
    .dots = (const BedTrendPoint *) (gpointer) dots->data,
    .n_dots = dots->len,
    .curve = (const BedTrendPoint *) (gpointer) curve->data,
    .n_curve = curve->len,
    .marks = (const BedTrendMark *) (gpointer) marks->data,
    .n_marks = marks->len,
    .last_day = span.last,
    .band_low = bed_care_in_basis (self->farm, care->low_pct),
    .band_high = bed_care_in_basis (self->farm, care->high_pct),
    .band_label = _ ("wanted"),
    .limit = bed_care_in_basis (self->farm, care->alarm_pct),
    .limit_label = _ ("alarm"),
    .reach = trend ? span_day (&span, care->alarm_on, far) : NAN,
    .reach_early = trend ? span_day (&span, care->alarm_early, far) : NAN,
    .reach_late = trend ? span_day (&span, care->alarm_late, far) : NAN,
  };
  bed_trend_chart_set (self->chart, &spec);
}

/* --- sample logs ------------------------------------------------------------------------ */

static void
attach (GtkGrid *grid, int column, int row, const char *text)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), column < 2 ? 0 : 1);
  gtk_widget_add_css_class (label, row == 0 ? "fact-label" : "numeric");
  gtk_grid_attach (grid, label, column, row, 1, 1);
}

static void
show_logs (BedCareWater *self, const BedCareMoisture *care)
{
  GtkWidget *grid = bed_grid_new (18, 3);
  const char *heads[] = { _ ("Log"),      _ ("Weighed"),     _ ("Weight"),
                          _ ("Moisture"), _ ("Water it at"), _ ("Dry mass") };

  for (guint i = 0; i < G_N_ELEMENTS (heads) && care->logs->len; i++)
    attach (GTK_GRID (grid), i, 0, heads[i]);
  for (guint i = 0; i < care->logs->len; i++)
    {
      const BedCareLog *log = care->logs->pdata[i];
      g_autofree char *day = bed_date_format (log->weighed_on);
      g_autofree char *mass = dup_mass (self->farm, log->mass_kg);
      g_autofree char *pct = dup_pct (self->farm, log->pct);
      g_autofree char *wet_at = dup_mass (self->farm, log->wet_at_kg);
      g_autofree char *dry = dup_mass (self->farm, log->dry_kg);
      const char *texts[] = { log->code, day, mass, pct, wet_at, dry };

      for (guint c = 0; c < G_N_ELEMENTS (texts); c++)
        attach (GTK_GRID (grid), c, i + 1, texts[c]);
    }
  adw_bin_set_child (ADW_BIN (self->logs), grid);
}

static const char *
get_source (const BedCareMoisture *care)
{
  gboolean by_disc = care->logs->len > 0;

  if (care->logs->len == 0)
    return _ (
        "Weigh the same few logs again and again: their weights show how wet the batch is and "
        "when to water it.");
  for (guint i = 0; i < care->logs->len; i++)
    by_disc = by_disc && ((BedCareLog *) care->logs->pdata[i])->basis == BED_CARE_BY_DISC;
  if (by_disc)
    return _ ("Dry mass by sample disc. Drying by the weighings, on rates of bark-on piled logs "
              "(Visser and others, 2014; Tomczak and others, 2020). A log loses dry matter as the "
              "fungus feeds: after a year it reads drier than it is.");
  return _ (
      "Dry mass by the log's size and its wood's mean density (Miles and Smith, USDA NRS-38, "
      "2009), which can be a tenth or more off for a single log; a sample disc is closer. Drying "
      "by the weighings, on rates of bark-on piled logs (Visser and others, 2014; Tomczak and "
      "others, 2020).");
}

/* --- widget ----------------------------------------------------------------------------- */

BedCareWater *
bed_care_water_new (BedFarm *farm)
{
  BedCareWater *self = g_object_new (BED_TYPE_CARE_WATER, NULL);

  self->farm = bed_part_hold (BED_PART (self), farm);
  self->facts = adw_bin_new ();
  self->chart = bed_trend_chart_new ();
  self->logs = adw_bin_new ();
  self->basis = bed_styled (bed_words_new (NULL, "caption"), "dim-label");
  bed_part_set_child (BED_PART (self),
                      bed_section_new (_ ("Water in the logs"),
                                       bed_column_new (12, self->facts, GTK_WIDGET (self->chart),
                                                       self->logs, self->basis, NULL)));
  return self;
}

void
bed_care_water_show (BedCareWater *self, gint64 batch)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BedCareMoisture) care = bed_care_moisture_new (self->farm, batch, &error);

  if (!care)
    {
      gtk_label_set_label (GTK_LABEL (self->basis), error->message);
      return;
    }
  show_facts (self, care);
  show_chart (self, care);
  show_logs (self, care);
  gtk_label_set_label (GTK_LABEL (self->basis), get_source (care));
}

char *
bed_care_dup_when (const char *likely, const char *early, const char *late)
{
  g_autofree char *day = likely ? bed_date_format (likely) : NULL;
  g_autofree char *first = early ? bed_date_format (early) : NULL;
  g_autofree char *last = late ? bed_date_format (late) : g_strdup (_ ("years away"));

  if (!likely && !early)
    return g_strdup (_ ("cannot be told yet"));
  if (!likely)
    return g_strdup_printf (_ ("not before %s"), first);
  /* Translators: the likely day, and the first and last of its interval. */
  return g_strdup_printf (_ ("about %s (%s – %s)"), day, first ? first : day, last);
}
