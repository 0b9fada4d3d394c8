#include <glib/gi18n-lib.h>
#include <stdlib.h>
#include <string.h>

#include "model/farm/functions.h"
#include "model/farm/value.h"
#include "model/notebook/notebook_private.h"

/* Weeks, months and seasons that stand where a day might. */

gboolean
bed_period_scan (const BedNotebookMatch *match, const char *text, BedDay *day)
{
  gboolean figures = strspn (text, "0123456789") == strlen (text);
  int number = figures ? atoi (text) : 0;

  if (strlen (text) == 4 && number >= 1990 && number <= 2199)
    *day = (BedDay){ BED_DAY_YEAR, 0, 0, number, -1, -1 };
  else if (match && match->is_month && number >= 1 && number <= 12)
    *day = (BedDay){ BED_DAY_MONTH, 0, number, -1, -1, -1 };
  else
    return bed_day_scan (text, day);
  return TRUE;
}

/* A week's other day, where the head says that it is one end of it. */
static void
take_week (BedPeriod *period, int days)
{
  g_autofree char *other = days ? bed_date_add (period->last, days) : NULL;

  if (!other)
    return;
  g_strlcpy (period->first, days < 0 ? other : period->last, sizeof period->first);
  if (days > 0)
    g_strlcpy (period->last, other, sizeof period->last);
}

/* None is of two seasons, and what is not over yet ends today. */
static void
cut (BedFarm *farm, BedPeriod *period)
{
  const char *today = bed_farm_get_today (farm);

  if (!*period->first)
    return;
  if (strcmp (period->first, today) <= 0 && strcmp (period->last, today) > 0)
    g_strlcpy (period->last, today, sizeof period->last);
  g_autofree char *season = bed_season_first (farm, bed_season_of (farm, period->last));
  if (strcmp (season, period->first) > 0)
    g_strlcpy (period->first, season, sizeof period->first);
}

static void
take_season (BedFarm *farm, int season, BedPeriod *period)
{
  g_autofree char *first = bed_season_first (farm, season);
  g_autofree char *next = bed_season_first (farm, season + 1);
  g_autofree char *last = bed_date_add (next, -1);

  g_strlcpy (period->first, first, sizeof period->first);
  g_strlcpy (period->last, last, sizeof period->last);
}

gboolean
bed_period_find (BedNotebook *self, const BedNotebookMatch *match, const BedDay *day, int year,
                 BedPeriod *period)
{
  *period = (BedPeriod){ 0 };
  if (day->form == BED_DAY_YEAR)
    take_season (self->farm, day->c, period);
  else if (!bed_day_write (day, match ? match->shown.dates : BED_DATES_NONE, year, period->last))
    return FALSE;
  else if (!bed_day_write_first (day, year, period->first))
    take_week (period, match ? match->week : 0);
  cut (self->farm, period);
  return TRUE;
}

void
bed_notebook_add_note (BedRecord *record, const char *said)
{
  const char *before = bed_record_get_text (record, "notes");
  g_autofree char *text = before ? g_strdup_printf ("%s; %s", before, said) : g_strdup (said);

  g_strdelimit (text, "\r\n", ' ');
  bed_record_set_text (record, "notes", text);
}

static gboolean
has_period (BedKind kind)
{
  return kind == BED_KIND_PICK || kind == BED_KIND_PURCHASE || kind == BED_KIND_HOURS
         || kind == BED_KIND_SALE;
}

gboolean
bed_period_fits (BedNotebook *self, const BedField *field)
{
  BedKind of = BED_N_KINDS;

  return field == bed_notebook_date_of (self->kind, &of) && has_period (of);
}

/* What was picked came in all of it; of what was bought, worked or sold the day is not known. */
void
bed_period_say (BedNotebook *self, BedRecord *record, const BedField *field,
                const BedPeriod *period)
{
  if (!*period->first || !bed_period_fits (self, field))
    return;
  if (bed_record_get_kind (record) == BED_KIND_PICK)
    {
      bed_record_set_text (record, "since", period->first);
      return;
    }
  g_autofree char *first = bed_date_format (period->first);
  g_autofree char *last = bed_date_format (period->last);
  g_autofree char *text = g_strdup_printf (_ ("From %s to %s, the day is not known"), first, last);
  bed_notebook_add_note (record, text);
}

gboolean
bed_period_set_typed (BedNotebook *self, BedRecord *record, const BedField *field, const char *text)
{
  BedPeriod period;
  BedDay day;

  if (!bed_period_fits (self, field) || !bed_period_scan (NULL, text, &day) || day.c <= 0
      || !(day.form == BED_DAY_YEAR || day.form == BED_DAY_MONTH || day.form == BED_DAY_WEEK)
      || !bed_period_find (self, NULL, &day, 0, &period))
    return FALSE;
  bed_record_set_text (record, field->name, period.last);
  bed_period_say (self, record, field, &period);
  return TRUE;
}
