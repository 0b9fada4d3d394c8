/* What can be seen in one record alone, field by field. */
#include "model/farm/rules_private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/farm/farm_private.h"
#include "model/farm/kinds.h"
#include "model/farm/query.h"
#include "model/farm/value.h"
#include "science/calendar.h"

/* Dates that may lie ahead: plans, and dates printed on a bag. */
static gboolean
may_be_ahead (const BedField *field)
{
  static const char *const plans[] = { "due_on", "put_off_until", "use_by", "planned_on", NULL };

  return g_strv_contains (plans, field->name);
}

/* T08:30, and no more. */
static gboolean
is_time (const char *text)
{
  static const char form[] = "T00:00";
  gboolean has_form = strlen (text) == strlen (form);

  for (gsize i = 0; has_form && form[i]; i++)
    has_form = form[i] == '0' ? g_ascii_isdigit (text[i]) : text[i] == form[i];
  return has_form && strncmp (text, "T24", 3) < 0 && text[4] < '6';
}

static void
check_date (BedFarm *farm, BedRecord *record, const BedField *field, GPtrArray *faults)
{
  const char *text = bed_record_get_text (record, field->name);
  const char *time = bed_calendar_read_day (text, NULL);

  if (!time || !(field->type == BED_FIELD_DATE ? !*time : is_time (time)))
    bed_rules_add (faults, record, field->name, _ ("%s: “%s” is not a date like %s."),
                   _ (field->label), text, bed_farm_get_today (farm));
  else if (!may_be_ahead (field) && strncmp (text, bed_farm_get_today (farm), 10) > 0)
    {
      g_autofree char *day = g_strndup (text, 10);
      g_autofree char *shown = bed_date_format (day);
      bed_rules_add (faults, record, field->name, _ ("%s: %s is in the future."), _ (field->label),
                     shown);
    }
}

/* What cannot be seen, or turns the writing round, and so hides what a name is: controls
 * (Unicode 15, category Cc), the marks that set a direction for others (UAX 9, explicit
 * formatting), the byte order mark, and code points that are no characters. */
static gboolean
is_strange (gunichar c)
{
  return g_unichar_iscntrl (c) || (c >= 0x202A && c <= 0x202E) || (c >= 0x2066 && c <= 0x2069)
         || c == 0xFEFF || (c >= 0xFDD0 && c <= 0xFDEF) || (c & 0xFFFE) == 0xFFFE;
}

static gboolean
breaks_line (gunichar c)
{
  return c == '\n' || c == '\r' || c == '\t' || c == 0x2028 || c == 0x2029;
}

static char *
find_strange (const BedField *field, const char *text)
{
  gboolean lines = field->type == BED_FIELD_NOTE;

  for (const char *at = text; *at; at = g_utf8_next_char (at))
    {
      gunichar c = g_utf8_get_char (at);
      if (breaks_line (c) && lines)
        continue;
      if (breaks_line (c))
        return g_strdup_printf (_ ("%s: one line only."), _ (field->label));
      if (is_strange (c))
        return g_strdup_printf (_ ("%s: it holds the character U+%04X, which cannot be seen or "
                                   "printed. Take that out."),
                                _ (field->label), c);
    }
  return NULL;
}

static void
check_text (BedRecord *record, const BedField *field, GPtrArray *faults)
{
  const char *text = bed_record_get_text (record, field->name);

  if (!text || !g_utf8_validate (text, -1, NULL))
    {
      bed_rules_add (faults, record, field->name, _ ("%s: the text is not UTF-8."),
                     _ (field->label));
      return;
    }
  glong length = g_utf8_strlen (text, -1);
  g_autofree char *strange = find_strange (field, text);
  if (strange)
    bed_rules_add (faults, record, field->name, "%s", strange);
  if (length > field->longest)
    bed_rules_add (faults, record, field->name,
                   _ ("%s: %ld characters are too many; %u are the most."), _ (field->label),
                   length, field->longest);
}

static void
check_choice (BedRecord *record, const BedField *field, GPtrArray *faults)
{
  const char *text = bed_record_get_text (record, field->name);

  for (const BedChoice *c = field->choices; c->key; c++)
    if (strcmp (c->key, text) == 0)
      return;
  bed_rules_add (faults, record, field->name, _ ("%s: “%s” is not one of the choices."),
                 _ (field->label), text);
}

static void
check_field (BedFarm *farm, BedRecord *record, const BedField *field, GPtrArray *faults)
{
  g_autoptr (GError) error = NULL;

  switch (field->type)
    {
    case BED_FIELD_DATE:
    case BED_FIELD_MOMENT:
      check_date (farm, record, field, faults);
      break;
    case BED_FIELD_CHOICE:
      check_choice (record, field, faults);
      break;
    case BED_FIELD_MEASURE:
      if (!bed_value_check_limits (farm, field, bed_record_get_int (record, field->name), &error))
        bed_rules_add (faults, record, field->name, "%s", error->message);
      break;
    case BED_FIELD_TEXT:
    case BED_FIELD_NOTE:
      check_text (record, field, faults);
      break;
    case BED_FIELD_REFERENCE:
      break;
    }
}

/* Outlines are pairs of metres: "0 0, 12 0, 12 8". */
static void
check_outline (BedRecord *record, GPtrArray *faults)
{
  static const char pattern[]
      = "^\\s*-?[0-9.]+\\s+-?[0-9.]+(\\s*,\\s*-?[0-9.]+\\s+-?[0-9.]+)*\\s*$";
  const char *text = bed_record_get_text (record, "outline");

  if (text && !g_regex_match_simple (pattern, text, 0, 0))
    bed_rules_add (faults, record, "outline",
                   _ ("Outline: “%s” is not pairs of metres like 0 0, 12 0, 12 8."), text);
}

static void
check_season_start (BedRecord *record, GPtrArray *faults)
{
  const char *text = bed_record_get_text (record, "season_start");
  BedSeasonStart start;

  if (text && !bed_calendar_read_start (text, &start))
    bed_rules_add (
        faults, record, "season_start",
        _ ("Season starts: “%s” is not a month and day that every year has, like 01-01 or 07-01. "
           "%02d-%02d would do."),
        text, start.month, start.day);
}

/* Amounts are whole minor units of the farm's currency, and nothing converts them. */
static void
check_currency (BedFarm *farm, BedRecord *record, GPtrArray *faults)
{
  BedRecord *settings = bed_farm_get_settings (farm);
  const char *before = settings ? bed_record_get_text (settings, "currency") : NULL;

  if (!before || strcmp (before, BED_CURRENCY_NONE) == 0
      || g_strcmp0 (before, bed_record_get_text (record, "currency")) == 0)
    return;
  gint64 any;
  if (bed_query_one (farm,
                     "SELECT EXISTS (SELECT 1 FROM purchase) OR EXISTS (SELECT 1 FROM equipment)"
                     " OR EXISTS (SELECT 1 FROM line WHERE price IS NOT NULL)"
                     " OR EXISTS (SELECT 1 FROM spawn WHERE cost IS NOT NULL)"
                     " OR EXISTS (SELECT 1 FROM hours WHERE rate IS NOT NULL)"
                     " OR EXISTS (SELECT 1 FROM stock_count)",
                     0, &any, NULL)
      && any)
    bed_rules_add (
        faults, record, "currency",
        _ ("Currency: amounts are already written down in %s and would not be converted. Keep %s, "
           "or begin a new farm in the other currency."),
        before, before);
}

void
bed_rules_check_fields (BedFarm *farm, BedRecord *record, GPtrArray *faults)
{
  BedKind kind = bed_record_get_kind (record);
  const BedKindInfo *info = bed_kind_get_info (kind);

  for (guint i = 0; i < info->n_fields; i++)
    {
      const BedField *field = &info->fields[i];
      if (bed_record_has (record, field->name))
        check_field (farm, record, field, faults);
      else if (field->required)
        bed_rules_add (faults, record, field->name,
                       /* Translators: a field, as in "Wood is missing." */
                       _ ("%s is missing."), _ (field->label));
    }
  if (kind == BED_KIND_AREA || kind == BED_KIND_FEATURE)
    check_outline (record, faults);
  if (kind == BED_KIND_FARM)
    {
      check_currency (farm, record, faults);
      check_season_start (record, faults);
    }
}

/* --- what was let in before ------------------------------------------------------ */

static gboolean
only_words_differ (BedRecord *before, BedRecord *record)
{
  const BedKindInfo *info = bed_kind_get_info (bed_record_get_kind (record));

  for (guint i = 0; i < info->n_fields; i++)
    if (info->fields[i].type != BED_FIELD_TEXT && info->fields[i].type != BED_FIELD_NOTE
        && bed_record_differs (before, record, info->fields[i].name))
      return FALSE;
  return TRUE;
}

void
bed_rules_spare (BedRecord *before, BedRecord *record, BedSpare what, GPtrArray *faults, guint from)
{
  g_return_if_fail (BED_IS_RECORD (record) && faults != NULL);
  gboolean all = before && what == BED_SPARE_WORDS && only_words_differ (before, record);

  for (guint i = from; before && i < faults->len; i++)
    {
      BedFault *fault = faults->pdata[i];
      if (all
          || (what == BED_SPARE_FIELDS && fault->field
              && !bed_record_differs (before, record, fault->field)))
        fault->severity = BED_FAULT_WARNING;
    }
}
