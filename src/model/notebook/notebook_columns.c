#include <glib/gi18n-lib.h>
#include <stdlib.h>
#include <string.h>

#include "model/farm/value.h"
#include "model/notebook/notebook_private.h"
#include "science/units.h"

/* What stands in the columns: how their dates, numbers and units are written. */

/* --- statistics ------------------------------------------------------------------------- */

static int
days_of_today (BedNotebook *self)
{
  return bed_date_days ("1899-12-30", bed_farm_get_today (self->farm));
}

static void
count_figures (BedNotebookMatch *match, const BedDay *day, const char *text)
{
  gboolean day_first = bed_day_fits (day, BED_DATES_DMY);
  gboolean month_first = bed_day_fits (day, BED_DATES_MDY);

  if (day_first && month_first && day->a != day->b)
    match->either++;
  else if (day_first && !month_first)
    match->day_first++;
  else if (month_first && !day_first)
    match->month_first++;
  match->dots += strchr (text, '.') != NULL;
  match->no_year += day->c < 0;
}

static void
count_day (BedNotebook *self, BedNotebookMatch *match, const char *text)
{
  guint column = match - (BedNotebookMatch *) self->matches->data;
  BedDay day;

  /* What was a head, a year perhaps. */
  if (self->layout.crossing->len > 0 && column + 2 == self->matches->len && strlen (text) == 4
      && strspn (text, "0123456789") == 4)
    {
      match->days++;
      return;
    }

  if (!bed_day_scan (text, &day))
    return;
  if (day.form == BED_DAY_NUMBER)
    {
      match->serials++;
      match->serials_late += day.a + 1462 > days_of_today (self);
    }
  else if (day.form == BED_DAY_FIGURES)
    {
      count_figures (match, &day, text);
      *(day.c < 0 ? &match->maybe : &match->days) += 1;
    }
  else
    {
      match->days++;
      match->no_year += day.form != BED_DAY_YMD && day.c < 0;
    }
}

static void
count_cell (BedNotebook *self, BedNotebookMatch *match, const BedNotebookLine *line, guint cell)
{
  const char *text = cell < line->n_cells ? line->cells[cell] : "";
  double value;

  if (bed_words_is_missing (text))
    return;
  match->filled++;
  if (match->n_samples < BED_NOTEBOOK_SAMPLES)
    match->samples[match->n_samples++] = g_strdup (text);
  count_day (self, match, text);
  if (bed_line_is_number (line, cell, self->mark, &value))
    {
      match->numbers++;
      match->negatives += value < 0 || *text == '(' || strchr (text, '-') != NULL;
    }
  else if (!strpbrk (text, "0123456789"))
    match->texts++;
}

static void
clear_counts (BedNotebookMatch *match)
{
  for (guint i = 0; i < match->n_samples; i++)
    g_clear_pointer (&match->samples[i], g_free);
  match->n_samples = match->filled = match->numbers = match->negatives = match->days = 0;
  match->maybe = match->dots = match->day_first = match->month_first = match->either = 0;
  match->no_year = match->serials = match->serials_late = match->texts = 0;
}

/* --- the decimal mark --------------------------------------------------------------------- */

static void
count_marks (const BedNotebookLine *line, guint marks[4])
{
  BedDay day;

  for (guint i = 0; i < line->n_cells; i++)
    if (line->kinds[i] == BED_CELL_TEXT && strpbrk (line->cells[i], "0123456789")
        && strlen (line->cells[i]) <= 30
        && !(bed_day_scan (line->cells[i], &day)
             && (day.form == BED_DAY_YMD || (day.form != BED_DAY_NUMBER && day.c > 0))))
      marks[bed_number_find_mark (line->cells[i])]++;
}

static void
find_mark (BedNotebook *self)
{
  const char *decided = bed_notebook_decision (self, "decimal");
  guint marks[4] = { 0 };
  BedNotebookSorter sorter = { 0 };

  bed_sorter_begin (&sorter);
  for (guint i = 0; i < self->first->len; i++)
    if (bed_sorter_sort (&sorter, &self->layout, self->first->pdata[i], '.') == BED_ASIDE_NOT)
      count_marks (self->first->pdata[i], marks);
  bed_sorter_clear (&sorter);
  self->asks_mark = FALSE;
  self->mark = self->notation.decimal_mark;
  if (decided)
    self->mark = *decided;
  else if (marks[BED_MARK_POINT] > 0 || marks[BED_MARK_COMMA] > 0)
    self->mark = marks[BED_MARK_COMMA] > marks[BED_MARK_POINT] ? ',' : '.';
  else if (self->found_mark)
    self->mark = self->found_mark;
  else
    self->asks_mark = marks[BED_MARK_EITHER] > 0;
}

static void
count_line (BedNotebook *self, const BedNotebookLine *line)
{
  gboolean crosswise = self->layout.crossing->len > 0;
  guint crossing = 0;

  for (BedNotebookLine *each;
       crosswise && (each = bed_notebook_cross (&self->layout, line, &crossing));)
    {
      for (guint i = 0; i < self->matches->len; i++)
        count_cell (self, &g_array_index (self->matches, BedNotebookMatch, i), each, i);
      bed_line_free (each);
    }
  for (guint i = 0; !crosswise && i < self->matches->len; i++)
    count_cell (self, &g_array_index (self->matches, BedNotebookMatch, i), line,
                g_array_index (self->layout.columns, guint, i));
}

void
bed_notebook_count_cells (BedNotebook *self)
{
  BedNotebookSorter sorter = { 0 };

  find_mark (self);
  for (guint i = 0; i < self->matches->len; i++)
    clear_counts (&g_array_index (self->matches, BedNotebookMatch, i));
  bed_sorter_begin (&sorter);
  for (guint i = 0; i < self->first->len; i++)
    if (bed_sorter_sort (&sorter, &self->layout, self->first->pdata[i], self->mark)
        == BED_ASIDE_NOT)
      count_line (self, self->first->pdata[i]);
  bed_sorter_clear (&sorter);
}

/* --- the order of dates ---------------------------------------------------------------------- */

static gboolean
is_date (const BedNotebookMatch *match)
{
  return match->shown.field
         && (match->shown.field->type == BED_FIELD_DATE
             || match->shown.field->type == BED_FIELD_MOMENT);
}

static BedDates
dates_from_name (const char *name)
{
  static const char *const names[] = { "", "ymd", "dmy", "mdy", "1900", "1904" };

  for (guint i = 1; name && i < G_N_ELEMENTS (names); i++)
    if (strcmp (names[i], name) == 0)
      return i;
  return BED_DATES_NONE;
}

/* How many more of all dates in the sheet have the day first. */
static int
lean (BedNotebook *self)
{
  int day = 0, month = 0;

  for (guint i = 0; i < self->matches->len; i++)
    {
      const BedNotebookMatch *match = &g_array_index (self->matches, BedNotebookMatch, i);
      if (is_date (match))
        day += match->day_first, month += match->month_first;
    }
  return day - month;
}

static void
find_order (BedNotebook *self, guint column, BedNotebookMatch *match, int lean)
{
  BedDates decided = dates_from_name (bed_notebook_decision (self, "dates:%u", column));
  BedDates answered = dates_from_name (bed_notebook_decision (self, "dates"));
  int own = (int) match->day_first - (int) match->month_first;
  gboolean us = self->notation.system == BED_SYSTEM_US;

  match->asks_order = FALSE;
  if (decided)
    match->shown.dates = decided;
  else if (own != 0)
    match->shown.dates = own > 0 ? BED_DATES_DMY : BED_DATES_MDY;
  else if (match->either == 0)
    match->shown.dates = BED_DATES_NONE;
  else if (match->dots == match->either)
    match->shown.dates = BED_DATES_DMY;
  else if (match->found)
    match->shown.dates = match->found;
  else if (lean != 0)
    match->shown.dates = lean > 0 ? BED_DATES_DMY : BED_DATES_MDY;
  else
    {
      match->asks_order = TRUE;
      match->shown.dates = answered ? answered : us ? BED_DATES_MDY : BED_DATES_DMY;
    }
}

static void
find_epoch (BedNotebook *self, guint column, BedNotebookMatch *match)
{
  BedDates decided = dates_from_name (bed_notebook_decision (self, "dates:%u", column));
  BedDates answered = dates_from_name (bed_notebook_decision (self, "epoch"));

  match->asks_epoch = FALSE;
  if (match->serials == 0 || match->days > match->serials)
    return;
  match->asks_epoch = !decided && match->serials_late == 0;
  match->shown.dates = decided                         ? decided
                       : match->asks_epoch && answered ? answered
                                                       : BED_DATES_DAYS_1900;
}

void
bed_notebook_find_orders (BedNotebook *self)
{
  int leaning = lean (self);

  for (guint i = 0; i < self->matches->len; i++)
    {
      BedNotebookMatch *match = &g_array_index (self->matches, BedNotebookMatch, i);
      match->shown.dates = BED_DATES_NONE;
      match->asks_order = match->asks_epoch = FALSE;
      if (!is_date (match))
        continue;
      find_order (self, i, match, leaning);
      find_epoch (self, i, match);
    }
}

/* --- what later rows say
 * -------------------------------------------------------------------------- */

void
bed_notebook_note_day (BedNotebookMatch *match, const BedDay *day)
{
  gboolean day_first = bed_day_fits (day, BED_DATES_DMY);
  gboolean month_first = bed_day_fits (day, BED_DATES_MDY);

  match->later_day_first += day_first && !month_first;
  match->later_month_first += month_first && !day_first;
}

void
bed_notebook_note_mark (BedNotebook *self, const char *text)
{
  BedDecimalMark mark = bed_number_find_mark (text);

  self->later_points += mark == BED_MARK_POINT;
  self->later_commas += mark == BED_MARK_COMMA;
}

gboolean
bed_notebook_settle (BedNotebook *self)
{
  gboolean settled = FALSE;

  for (guint i = 0; i < self->matches->len; i++)
    {
      BedNotebookMatch *match = &g_array_index (self->matches, BedNotebookMatch, i);
      if (!match->asks_order || match->later_day_first == match->later_month_first)
        continue;
      match->found = match->later_day_first > match->later_month_first ? BED_DATES_DMY
                                                                       : BED_DATES_MDY;
      settled = TRUE;
    }
  if (self->asks_mark && self->later_points != self->later_commas)
    {
      self->found_mark = self->later_points > self->later_commas ? '.' : ',';
      settled = TRUE;
    }
  return settled;
}

/* --- units ------------------------------------------------------------------------------------ */

static gboolean
is_unit (BedNotebook *self, const BedField *field, const char *unit)
{
  gint64 value;

  return *unit && bed_measure_parse_in (field->measure, &self->notation, unit, "1", &value, NULL);
}

/* How many of the first cells are within the field's limits when bare numbers are in @unit. */
static guint
count_within (BedNotebook *self, guint column, const BedField *field, const char *unit)
{
  BedNotation notation = bed_notation_plain (&self->notation);
  guint n = 0;

  for (guint i = 0; i < self->first->len; i++)
    {
      const BedNotebookLine *line = self->first->pdata[i];
      guint cell = g_array_index (self->layout.columns, guint, column);
      gint64 value;
      double number;
      if (line->line < self->layout.body_line
          || !bed_line_is_number (line, cell, self->mark, &number))
        continue;
      char text[G_ASCII_DTOSTR_BUF_SIZE];
      g_ascii_formatd (text, sizeof text, "%.6g", number);
      n += bed_measure_parse_in (field->measure, &notation, unit, text, &value, NULL)
           && value >= field->lowest && value <= field->highest;
    }
  return n;
}

/* The unit of the other system, where the farm's makes no sense of most numbers. */
static const char *
guess_unit (BedNotebook *self, guint column, const BedField *field, const char *own)
{
  const char *other = bed_measure_unit (
      field->measure, self->notation.system == BED_SYSTEM_US ? BED_SYSTEM_METRIC : BED_SYSTEM_US);

  if (column >= self->layout.columns->len || (field->lowest == 0 && field->highest == 0)
      || strcmp (other, own) == 0)
    return NULL;
  guint with_own = count_within (self, column, field, own);
  guint with_other = count_within (self, column, field, other);
  return with_other > 2 * with_own ? other : NULL;
}

/* "Pounds picked 2024" above a table without units in its heads. */
static const char *
find_unit_above (BedNotebook *self, const BedField *field)
{
  for (guint i = 0; i < self->first->len; i++)
    {
      const BedNotebookLine *line = self->first->pdata[i];
      for (guint c = 0; line->line < self->layout.head_line && c < line->n_cells; c++)
        {
          g_auto (GStrv) words = g_strsplit_set (line->cells[c], " ()[],:", -1);
          for (char **word = words; *word; word++)
            {
              const char *unit = **word ? bed_words_find ("unit", "", *word) : NULL;
              if (unit && is_unit (self, field, unit) && strcmp (unit, "m") != 0)
                return unit;
            }
        }
    }
  return NULL;
}

static void
say_unit (BedNotebookMatch *match, char *sentence)
{
  char *why = g_strdup_printf ("%s %s", match->why, sentence);

  g_free (match->why);
  match->why = why;
  g_free (sentence);
}

static void
set_unit (BedNotebookMatch *match, const char *unit)
{
  g_free (match->unit);
  match->unit = g_strdup (unit);
}

typedef enum
{
  UNIT_NONE,  /* the field has none to choose from */
  UNIT_SAID,  /* decided, in the head or above it, or the only one that makes sense */
  UNIT_TAKEN, /* the farm's, for want of a word */
} UnitBy;

static UnitBy
find_unit (BedNotebook *self, guint column, BedNotebookMatch *match)
{
  const BedField *field = match->shown.field;
  const char *decided = bed_notebook_decision (self, "unit:%u", column);
  const char *own = bed_measure_unit (field->measure, self->notation.system);
  g_autofree char *head = g_steal_pointer (&match->unit);

  match->unit = g_strdup (own);
  if (field->measure == BED_MEASURE_MONEY || !*own)
    return UNIT_NONE;
  const char *guess = guess_unit (self, column, field, own);
  const char *above = find_unit_above (self, field);
  if (decided && is_unit (self, field, decided))
    set_unit (match, decided);
  else if (head && is_unit (self, field, head))
    set_unit (match, head);
  else if (above)
    {
      set_unit (match, above);
      say_unit (match, g_strdup_printf (_ ("Bare numbers are taken as %s, as it stands above the "
                                           "table."),
                                        above));
    }
  else if (guess)
    {
      set_unit (match, guess);
      say_unit (match, g_strdup_printf (_ ("Bare numbers are taken as %s: as %s, most would be "
                                           "outside what it can be."),
                                        guess, own));
    }
  else
    return UNIT_TAKEN;
  return UNIT_SAID;
}

/* Of the system that the farm does not use. */
static gboolean
is_foreign (BedNotebook *self, const BedNotebookMatch *match)
{
  static const char *const us[] = { "in",  "\"", "ft", "'",     "oz",      "lb", "lbs",
                                    "gal", "qt", "pt", "fl oz", "\u00b0F", "F",  NULL };

  return g_strv_contains (us, match->unit) == (self->notation.system == BED_SYSTEM_METRIC);
}

/* Where every column that says its unit has one of the other system, so have those that do not. */
static void
take_unit (BedNotebook *self, BedNotebookMatch *match, gboolean foreign)
{
  const BedSystem system = self->notation.system;
  const BedSystem other = system == BED_SYSTEM_US ? BED_SYSTEM_METRIC : BED_SYSTEM_US;
  const char *unit = bed_measure_unit (match->shown.field->measure, foreign ? other : system);

  set_unit (match, unit);
  say_unit (match,
            foreign ? g_strdup_printf (_ ("Bare numbers are taken as %s, as the other columns "
                                          "have such units."),
                                       unit)
                    : g_strdup_printf (_ ("Bare numbers are taken as %s, the farm's unit."), unit));
}

/* Hours and shares have one unit in both systems, and tell nothing of the others. */
static gboolean
tells_system (const BedNotebookMatch *match)
{
  const BedMeasure measure = match->shown.field->measure;

  return strcmp (bed_measure_unit (measure, BED_SYSTEM_METRIC),
                 bed_measure_unit (measure, BED_SYSTEM_US))
         != 0;
}

static gboolean
has_unit (const BedNotebookMatch *match)
{
  return match->shown.field && match->shown.field->type == BED_FIELD_MEASURE;
}

static void
find_all_units (BedNotebook *self)
{
  g_autofree UnitBy *by = g_new0 (UnitBy, MAX (self->matches->len, 1));
  guint said = 0, foreign = 0;

  for (guint i = 0; i < self->matches->len; i++)
    {
      BedNotebookMatch *match = &g_array_index (self->matches, BedNotebookMatch, i);
      if (!has_unit (match))
        continue;
      by[i] = find_unit (self, i, match);
      if (by[i] != UNIT_SAID || !tells_system (match))
        continue;
      said++;
      foreign += is_foreign (self, match);
    }
  for (guint i = 0; i < self->matches->len; i++)
    if (by[i] == UNIT_TAKEN)
      take_unit (self, &g_array_index (self->matches, BedNotebookMatch, i),
                 foreign > 0 && foreign == said);
}

void
bed_notebook_find_units (BedNotebook *self)
{
  find_all_units (self);
  for (guint i = 0; i < self->matches->len; i++)
    {
      BedNotebookMatch *match = &g_array_index (self->matches, BedNotebookMatch, i);

      /* A bank's account: money spent has a minus. */
      match->turned = has_unit (match) && self->kind == BED_KIND_PURCHASE
                      && match->shown.field->measure == BED_MEASURE_MONEY
                      && strcmp (match->shown.field->name, "amount") == 0
                      && 2 * match->negatives >= match->numbers && match->negatives > 0;
      if (match->turned)
        say_unit (match, g_strdup (_ ("As banks write it, money spent has a minus; money "
                                      "that came in is set aside.")));
      if (!has_unit (match) && !match->is_each)
        g_clear_pointer (&match->unit, g_free);
    }
}
