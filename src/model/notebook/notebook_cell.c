#include <glib/gi18n-lib.h>
#include <stdlib.h>
#include <string.h>

#include "model/farm/code.h"
#include "model/farm/csv_read.h"
#include "model/farm/known.h"
#include "model/farm/say.h"
#include "model/farm/value.h"
#include "model/notebook/notebook_private.h"
#include "science/check_character.h"
#include "science/language.h"
#include "science/units.h"

/* A cell into the record of its column, read as the forms read, or a question about it. */

typedef struct
{
  BedNotebook *self;
  guint column; /* from 0 */
  const BedNotebookMatch *match;
  BedNotebookSlot *slot;
  const char *text;
  BedCellKind kind;
} Cell;

static void
offer_empty_and_out (BedNotebook *self, const char *key)
{
  bed_notebook_offer (self, key, "empty", _ ("Leave these cells empty"));
  bed_notebook_offer (self, key, "out", _ ("Leave these rows out"));
}

/* TRUE where the answer says what becomes of the cell without its text. */
static gboolean
is_settled (BedNotebook *self, const char *answer)
{
  if (g_strcmp0 (answer, "out") == 0)
    self->left_out = BED_ASIDE_ASKED;
  return answer && (strcmp (answer, "out") == 0 || strcmp (answer, "empty") == 0);
}

/* @why may be NULL. */
static void
ask_unread (const Cell *cell, const char *why)
{
  BedNotebook *self = cell->self;
  g_autofree char *key = g_strdup_printf ("odd:%u", cell->column);
  const char *head = cell->match->shown.head;
  char *sentence
      /* Translators: head of a column, what its cell says, why it is not understood. */
      = g_strdup_printf (_ ("%s: “%s”, and cells like it, are not understood. %s"), head,
                         cell->text, why ? why : "");
  const char *answer = bed_notebook_ask (self, key, cell->column + 1, sentence);

  ((BedNotebookMatch *) cell->match)->shown.odd++;
  if (bed_notebook_is_new (self, key))
    {
      offer_empty_and_out (self, key);
      bed_notebook_let_type (self, key, _ ("What to take for each of them"));
    }
  if (answer && !is_settled (self, answer))
    bed_notebook_set_typed (self, cell->slot, cell->match->shown.field, answer, NULL);
}

static void
take (const Cell *cell)
{
  cell->slot->filled = TRUE;
  ((BedNotebookMatch *) cell->match)->shown.read++;
}

/* --- texts ---------------------------------------------------------------------------------- */

static void
add_note (const Cell *cell)
{
  g_autofree char *said = cell->match->of_notes
                              ? g_strdup (cell->text)
                              : bed_dup_labelled (cell->match->shown.head, cell->text);

  bed_notebook_add_note (cell->slot->record, said);
  take (cell);
}

/* A log's own number is its code only where it is one of ours. */
static gboolean
is_our_code (const char *text)
{
  return strchr (text, '-') && bed_check_character_valid (text);
}

static void
read_text (const Cell *cell)
{
  const BedField *field = cell->match->shown.field;
  const BedField *mark = bed_kind_find_field (BED_KIND_LOG, "mark", NULL);
  g_autofree char *text = g_strdup (bed_csv_unguard (cell->text));

  if (field->type == BED_FIELD_TEXT)
    g_strdelimit (text, "\r\n", ' ');
  if (g_utf8_strlen (text, -1) > field->longest)
    {
      g_autofree char *why = bed_say (_ ("It is longer than %u letters."), field->longest);
      ask_unread (cell, why);
      return;
    }
  if (cell->match->shown.kind == BED_KIND_LOG && strcmp (field->name, "code") == 0 && mark
      && !is_our_code (text))
    field = mark;
  bed_record_set_text (cell->slot->record, field->name, text);
  take (cell);
}

/* --- dates ------------------------------------------------------------------------------------ */

/* The order that was asked for: TRUE when the cell waits for it. */
static gboolean
waits_for_order (const Cell *cell, const BedDay *day)
{
  BedNotebook *self = cell->self;
  char first[16], last[16];

  if (day->form == BED_DAY_NUMBER && cell->match->asks_epoch)
    {
      bed_notebook_ask (self, "epoch", cell->column + 1,
                        g_strdup_printf (_ ("%s: which day is the number %s?"),
                                         cell->match->shown.head, cell->text));
      if (bed_notebook_is_new (self, "epoch") && bed_day_write (day, BED_DATES_DAYS_1900, 0, first)
          && bed_day_write (day, BED_DATES_DAYS_1904, 0, last))
        {
          g_autofree char *a = bed_date_format (first), *b = bed_date_format (last);
          bed_notebook_offer (self, "epoch", "1900", a);
          bed_notebook_offer (self, "epoch", "1904", b);
          bed_notebook_suggest (self, "epoch", "1900");
        }
      return !bed_notebook_decision (self, "epoch");
    }
  if (day->form != BED_DAY_FIGURES || !cell->match->asks_order || day->a == day->b
      || !bed_day_fits (day, BED_DATES_DMY) || !bed_day_fits (day, BED_DATES_MDY))
    return FALSE;
  bed_notebook_ask (self, "dates", cell->column + 1,
                    g_strdup_printf (_ ("%s: “%s” and its like can be read two ways. Which?"),
                                     cell->match->shown.head, cell->text));
  if (bed_notebook_is_new (self, "dates"))
    {
      int year = atoi (bed_farm_get_today (self->farm));
      bed_day_write (day, BED_DATES_DMY, year, first);
      bed_day_write (day, BED_DATES_MDY, year, last);
      g_autofree char *a = bed_date_format (first), *b = bed_date_format (last);
      bed_notebook_offer (self, "dates", "dmy", a);
      bed_notebook_offer (self, "dates", "mdy", b);
      bed_notebook_suggest (self, "dates", self->notation.system == BED_SYSTEM_US ? "mdy" : "dmy");
    }
  return !bed_notebook_decision (self, "dates");
}

/* A year in the rows above the table, or this one. */
static char *
dup_year_of_title (BedNotebook *self)
{
  for (guint i = 0; i < self->first->len; i++)
    {
      const BedNotebookLine *line = self->first->pdata[i];
      for (guint c = 0; line->line < self->layout.head_line && c < line->n_cells; c++)
        for (const char *at = line->cells[c]; *at; at++)
          if ((at == line->cells[c] || !g_ascii_isdigit (at[-1])) && strspn (at, "0123456789") == 4
              && atoi (at) >= 1990 && atoi (at) <= 2099)
            return g_strndup (at, 4);
    }
  return g_strndup (bed_farm_get_today (self->farm), 4);
}

/* The year of a date without one: of a column of years, or asked for. 0: it waits. */
static int
find_year (const Cell *cell)
{
  BedNotebook *self = cell->self;

  for (guint i = 0; self->line && i < self->matches->len && i < self->layout.columns->len; i++)
    if (g_array_index (self->matches, BedNotebookMatch, i).is_year)
      {
        guint at = self->layout.crossing->len ? i : g_array_index (self->layout.columns, guint, i);
        const char *text = at < self->line->n_cells ? self->line->cells[at] : "";
        if (atoi (text) > 0)
          return atoi (text) < 100 ? 2000 + atoi (text) : atoi (text);
      }
  const char *answer = bed_notebook_ask (
      self, "year", cell->column + 1,
      g_strdup_printf (_ ("%s: “%s” has no year. Which year is it?"),
                       *cell->match->shown.head ? cell->match->shown.head : _ ("Date"),
                       cell->text));
  bed_notebook_let_type (self, "year", _ ("A year, such as 2024"));
  if (bed_notebook_is_new (self, "year"))
    {
      g_autofree char *year = dup_year_of_title (self);
      bed_notebook_suggest (self, "year", year);
    }
  return answer ? atoi (answer) : 0;
}

static void
read_date (const Cell *cell)
{
  const BedField *field = cell->match->shown.field;
  BedPeriod period;
  BedDay day;

  if (!bed_period_scan (cell->match, cell->text, &day))
    {
      ask_unread (cell, NULL);
      return;
    }
  if (cell->match->asks_order && day.form == BED_DAY_FIGURES)
    bed_notebook_note_day ((BedNotebookMatch *) cell->match, &day);
  if (waits_for_order (cell, &day))
    return;
  gboolean needs_year = day.c < 0 && day.form != BED_DAY_YMD && day.form != BED_DAY_NUMBER;
  int year = needs_year ? find_year (cell) : 0;
  if (needs_year && year == 0)
    return;
  if (!bed_period_find (cell->self, cell->match, &day, year, &period))
    {
      ask_unread (cell, NULL);
      return;
    }
  g_autofree char *moment = field->type == BED_FIELD_MOMENT
                                ? g_strdup_printf ("%sT%02d:%02d", period.last,
                                                   day.hour < 0 ? 12 : day.hour,
                                                   day.hour < 0 ? 0 : day.minute)
                                : NULL;
  bed_record_set_text (cell->slot->record, field->name, moment ? moment : period.last);
  bed_period_say (cell->self, cell->slot->record, field, &period);
  take (cell);
}

/* --- choices ------------------------------------------------------------------------------------
 */

static void
read_choice (const Cell *cell)
{
  const BedNotebookColumn *shown = &cell->match->shown;
  const BedField *field = shown->field;
  BedNotebook *self = cell->self;
  BedValueReading reading = { self->notation, NULL };
  const char *group = bed_kind_get_info (shown->kind)->name;
  const char *known = bed_words_find (group, field->name, cell->text);

  if (bed_value_parse_csv (self->farm, cell->slot->record, field->name, &reading,
                           known ? known : cell->text, NULL))
    {
      take (cell);
      return;
    }
  g_autofree char *folded = bed_known_fold (cell->text);
  g_autofree char *key = g_strdup_printf ("word:%s.%s:%s", group, field->name, folded);
  const char *answer = bed_notebook_ask (
      self, key, cell->column + 1,
      /* Translators: head of a column, a word in it, field. */
      g_strdup_printf (_ ("%s: what is “%s” (%s)?"), shown->head, cell->text, _ (field->label)));
  ((BedNotebookMatch *) cell->match)->shown.odd++;
  if (bed_notebook_is_new (self, key))
    {
      for (const BedChoice *choice = field->choices; choice->key; choice++)
        bed_notebook_offer (self, key, choice->key, bed_choice_get_word (choice));
      offer_empty_and_out (self, key);
    }
  if (answer && !is_settled (self, answer))
    bed_record_set_text (cell->slot->record, field->name, answer);
}

/* --- measures -----------------------------------------------------------------------------------
 */

/* About, or from one to another: TRUE when the number is to be taken. */
static gboolean
is_wanted (const Cell *cell, BedNumberForm form, const char *plain)
{
  BedNotebook *self = cell->self;
  g_autofree char *key
      = g_strdup_printf (form == BED_NUMBER_ABOUT ? "about:%u" : "range:%u", cell->column);
  const char *head = cell->match->shown.head;
  char *sentence
      = form == BED_NUMBER_ABOUT
            /* Translators: head of a column, cell, number. */
            ? g_strdup_printf (_ ("%s: “%s” and its like: take it as %s?"), head, cell->text, plain)
            : g_strdup_printf (_ ("%s: “%s” and its like: take the middle, %s?"), head, cell->text,
                               plain);
  const char *answer = bed_notebook_ask (self, key, cell->column + 1, sentence);

  ((BedNotebookMatch *) cell->match)->shown.odd++;
  if (bed_notebook_is_new (self, key))
    {
      bed_notebook_offer (self, key, "take", _ ("Take it so"));
      offer_empty_and_out (self, key);
      bed_notebook_suggest (self, key, "take");
    }
  return !answer || !is_settled (self, answer);
}

/* The unit that stands in a column beside it, or of the head. */
static const char *
find_unit (const Cell *cell)
{
  BedNotebook *self = cell->self;
  const BedField *field = cell->match->shown.field;

  if (field->measure != BED_MEASURE_MASS && field->measure != BED_MEASURE_MASS_FINE)
    return cell->match->unit;
  for (guint i = 0; i < self->matches->len && i < self->layout.columns->len; i++)
    if (g_array_index (self->matches, BedNotebookMatch, i).is_unit)
      {
        guint at = self->layout.crossing->len ? i : g_array_index (self->layout.columns, guint, i);
        const char *text = at < self->line->n_cells ? self->line->cells[at] : "";
        const char *unit = bed_words_find ("unit", "", text);
        return unit ? unit : cell->match->unit;
      }
  return cell->match->unit;
}

static void
turn (const Cell *cell)
{
  const char *name = cell->match->shown.field->name;
  gint64 value = -bed_record_get_int (cell->slot->record, name);

  if (value <= 0)
    cell->self->left_out = BED_ASIDE_OTHER;
  bed_record_set_int (cell->slot->record, name, value);
}

static gboolean
waits_for_mark (const Cell *cell)
{
  BedNotebook *self = cell->self;

  if (self->asks_mark)
    bed_notebook_note_mark (self, cell->text);
  if (!self->asks_mark || bed_number_find_mark (cell->text) != BED_MARK_EITHER)
    return FALSE;
  bed_notebook_ask (self, "decimal", cell->column + 1,
                    g_strdup_printf (_ ("%s: “%s” can be read two ways. Which mark is before the "
                                        "decimals?"),
                                     cell->match->shown.head, cell->text));
  if (bed_notebook_is_new (self, "decimal"))
    {
      bed_notebook_offer (self, "decimal", ".", _ ("a point"));
      bed_notebook_offer (self, "decimal", ",", _ ("a comma"));
    }
  return TRUE; /* decided, there would be no question */
}

/* TRUE where @text names a currency that is not the farm's; signs of several are taken for it. */
static gboolean
is_foreign (BedNotebook *self, const char *text)
{
  static const struct
  {
    const char *sign;
    const char *currencies;
  } signs[] = { { "$", "USD CAD AUD NZD MXN ARS CLP COP SGD HKD TWD" },
                { "€", "EUR" },
                { "£", "GBP EGP" },
                { "¥", "JPY CNY" },
                { "円", "JPY" },
                { "₩", "KRW" },
                { "Fr.", "CHF" },
                { "zł", "PLN" } };
  const char *own = bed_record_get_text (bed_farm_get_settings (self->farm), "currency");
  const char *code = text;

  for (gsize i = 0; i < G_N_ELEMENTS (signs); i++)
    if (strstr (text, signs[i].sign) && !strstr (text, own))
      return strstr (signs[i].currencies, own) == NULL;
  while (*code && !g_ascii_isupper (*code))
    code++;
  return g_ascii_isupper (code[0]) && g_ascii_isupper (code[1]) && g_ascii_isupper (code[2])
         && !g_ascii_isalpha (code[3]) && strncmp (code, own, 3) != 0;
}

static gboolean
waits_for_currency (const Cell *cell)
{
  BedNotebook *self = cell->self;
  const char *own = bed_record_get_text (bed_farm_get_settings (self->farm), "currency");
  gboolean foreign = is_foreign (self, cell->text);

  if (!foreign && !is_foreign (self, cell->match->shown.head))
    return FALSE;
  const char *answer = bed_notebook_ask (
      self, "currency", cell->column + 1,
      /* Translators: head of a column, what is in it, currency of the farm. */
      g_strdup_printf (_ ("%s: “%s” is not in %s, in which the farm counts. Take the numbers as "
                          "they are?"),
                       cell->match->shown.head, foreign ? cell->text : cell->match->shown.head,
                       own));
  if (bed_notebook_is_new (self, "currency"))
    {
      bed_notebook_offer (self, "currency", "take", _ ("Take them as they are"));
      offer_empty_and_out (self, "currency");
    }
  return !answer || is_settled (self, answer);
}

static void
read_measure (const Cell *cell)
{
  const BedField *field = cell->match->shown.field;
  BedNotebook *self = cell->self;
  gboolean money = field->measure == BED_MEASURE_MONEY;
  BedValueReading reading = { self->notation, money ? NULL : find_unit (cell) };
  BedNumberForm form;
  g_autoptr (GError) error = NULL;

  if (money && waits_for_currency (cell))
    return;
  if (cell->kind == BED_CELL_TEXT && waits_for_mark (cell))
    return;
  g_autofree char *plain
      = bed_number_dup_plain (cell->text, cell->kind == BED_CELL_NUMBER ? '.' : self->mark,
                              money ? BED_NUMBER_OF_MONEY : BED_NUMBER_OF_THINGS, &form);
  if (!*plain)
    {
      ask_unread (cell, NULL);
      return;
    }
  if (!bed_value_parse_csv (self->farm, cell->slot->record, field->name, &reading, plain, &error))
    {
      ask_unread (cell, error->message);
      return;
    }
  if (form != BED_NUMBER_PLAIN && !is_wanted (cell, form, plain))
    {
      bed_record_unset (cell->slot->record, field->name);
      return;
    }
  if (cell->match->turned)
    turn (cell);
  cell->slot->filled = TRUE;
  if (form == BED_NUMBER_PLAIN)
    ((BedNotebookMatch *) cell->match)->shown.read++;
}

/* --- cells ---------------------------------------------------------------------------------------
 */

static void
read_reference (const Cell *cell)
{
  BedNotebook *self = cell->self;
  const BedField *field = cell->match->shown.field;
  g_autofree char *folded = bed_known_fold (cell->text);
  g_autofree char *name = bed_notebook_resolve (self, field->refers, cell->text, cell->column + 1);

  if (!*folded)
    ask_unread (cell, NULL); /* nothing but marks: nobody's name */
  if (!name)
    return;
  bed_notebook_refer (self, cell->slot, field, name, cell->column + 1);
  take (cell);
}

static void
read_each (BedNotebook *self, const BedNotebookMatch *match, const char *text)
{
  BedNumberForm form;
  BedNotation notation = bed_notation_plain (&self->notation);
  g_autofree char *plain = bed_number_dup_plain (text, self->mark, BED_NUMBER_OF_MONEY, &form);

  if (!bed_measure_parse (BED_MEASURE_MONEY, &notation, plain, &self->each, NULL))
    self->each = 0;
  self->each_unit = match->unit;
}

/* A number that is of the row, and of no record. */
static void
read_number (const Cell *cell, gint64 *number)
{
  const BedField *field = cell->match->shown.field;
  BedNotebook *self = cell->self;
  const BedNotation notation = bed_notation_plain (&self->notation);
  BedNumberForm form;
  g_autofree char *plain = bed_number_dup_plain (
      cell->text, cell->kind == BED_CELL_NUMBER ? '.' : self->mark, BED_NUMBER_OF_THINGS, &form);
  gint64 value;

  if (!bed_measure_parse_in (BED_MEASURE_COUNT, &notation, "", plain, &value, NULL)
      || !bed_value_check_limits (self->farm, field, value, NULL))
    {
      ask_unread (cell, NULL);
      return;
    }
  if (form != BED_NUMBER_PLAIN && !is_wanted (cell, form, plain))
    return;
  *number = value;
  if (form == BED_NUMBER_PLAIN)
    take (cell);
}

static void
read_by_type (const Cell *cell)
{
  const BedField *field = cell->match->shown.field;

  switch (field->type)
    {
    case BED_FIELD_TEXT:
    case BED_FIELD_NOTE:
      if (strcmp (field->name, "notes") == 0)
        add_note (cell);
      else
        read_text (cell);
      break;
    case BED_FIELD_DATE:
    case BED_FIELD_MOMENT:
      read_date (cell);
      break;
    case BED_FIELD_CHOICE:
      read_choice (cell);
      break;
    case BED_FIELD_REFERENCE:
      read_reference (cell);
      break;
    case BED_FIELD_MEASURE:
      read_measure (cell);
      break;
    }
}

void
bed_notebook_read_cell (BedNotebook *self, guint column, const char *text, BedCellKind kind)
{
  BedNotebookMatch *match = &g_array_index (self->matches, BedNotebookMatch, column);
  const BedField *field = match->shown.field;

  if (bed_words_is_missing (text))
    return;
  match->shown.filled++;
  if (match->is_income && strpbrk (text, "123456789"))
    self->left_out = BED_ASIDE_OTHER;
  if (match->is_each)
    read_each (self, match, text);
  if (!field)
    return;
  const Cell cell
      = { self, column, match, bed_notebook_slot (self, match->shown.kind), text, kind };
  gint64 *number = bed_notebook_number_of (self, field);
  self->waits = FALSE;
  if (number)
    read_number (&cell, number);
  else
    read_by_type (&cell);
  if (self->waits)
    g_ptr_array_add (self->waiting, (gpointer) field);
}
