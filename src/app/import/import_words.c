#include "app/import/import_words.h"

#include <glib/gi18n.h>

#include "model/farm/kind_words.h"
#include "model/farm/kinds.h"
#include "model/farm/say.h"
#include "model/farm/value.h"
#include "science/language.h"
#include "science/units.h"

char *
bed_import_dup_target (const BedNotebookTarget *target, BedKind rows)
{
  const char *label = _ (target->field->label);

  if (target->kind == rows)
    return g_strdup (label);
  /* Translators: a kind of record and one of its fields: "batch: Wood". */
  return g_strdup_printf (_ ("%s: %s"), _ (bed_kind_get_info (target->kind)->singular), label);
}

char *
bed_import_dup_samples (const BedNotebookColumn *column)
{
  GString *cells = g_string_new (NULL);

  for (guint i = 0; i < BED_NOTEBOOK_SAMPLES && column->samples[i]; i++)
    g_string_append_printf (cells, "%s%s", i ? bed_comma () : "", column->samples[i]);
  g_strdelimit (cells->str, "\n\r\t", ' ');
  return g_string_free (cells, FALSE);
}

char *
bed_import_dup_how (const BedNotebookColumn *column)
{
  if (!column->field)
    return g_strdup ("");
  if (column->odd > 0)
    return bed_say (_ ("%u of %u, %u to look at"), column->read, column->filled, column->odd);
  return bed_say (_ ("%u of %u"), column->read, column->filled);
}

GStrv
bed_import_dup_units (const BedField *field)
{
  const BedNotation plain = { BED_SYSTEM_METRIC, '.', 2 };
  g_autoptr (GPtrArray) units = g_ptr_array_new_with_free_func (g_free);
  gint64 one;

  if (field->type != BED_FIELD_MEASURE)
    return NULL;
  for (int measure = 0; measure < BED_N_MEASURES; measure++)
    for (int system = BED_SYSTEM_METRIC; system <= BED_SYSTEM_US; system++)
      {
        const char *unit = bed_measure_unit (measure, system);

        if (unit[0] && !g_ptr_array_find_with_equal_func (units, unit, g_str_equal, NULL)
            && bed_measure_parse_in (field->measure, &plain, unit, "1", &one, NULL))
          g_ptr_array_add (units, g_strdup (unit));
      }
  if (units->len == 0)
    return NULL;
  g_ptr_array_add (units, NULL);
  return (GStrv) g_ptr_array_steal (units, NULL);
}

const char *
bed_import_get_dates_word (BedDates dates)
{
  switch (dates)
    {
    case BED_DATES_YMD:
      return _ ("year-month-day");
    case BED_DATES_DMY:
      return _ ("day-month-year");
    case BED_DATES_MDY:
      return _ ("month-day-year");
    case BED_DATES_DAYS_1900:
      return _ ("days since 1900");
    case BED_DATES_DAYS_1904:
      return _ ("days since 1904");
    case BED_DATES_NONE:
    default:
      return "";
    }
}

static const char *
delimiter_word (char delimiter)
{
  switch (delimiter)
    {
    case ',':
      return _ ("commas");
    case ';':
      return _ ("semicolons");
    case '\t':
      return _ ("tabs");
    case '|':
      return _ ("bars");
    default:
      return _ ("one column");
    }
}

static char *
dup_way (BedNotebook *notebook, guint sheet)
{
  BedRows *rows = bed_notebook_get_rows (notebook);
  const BedReading *reading = bed_rows_get_reading (rows);

  if (bed_rows_get_format (rows) != BED_ROWS_TEXT)
    return g_strdup_printf (_ ("workbook, sheet %s"), bed_rows_get_sheet_name (rows, sheet));
  return g_strdup_printf ("%s, %s, %s", delimiter_word (reading->delimiter),
                          bed_notebook_get_decimal_mark (notebook) == ',' ? _ ("decimal comma")
                                                                          : _ ("decimal point"),
                          bed_encoding_get_name (reading->encoding));
}

char *
bed_import_dup_reading (BedNotebook *notebook, guint sheet)
{
  g_autofree char *way = dup_way (notebook, sheet);
  guint n;

  bed_notebook_get_tables (notebook, &n);
  if (n <= 1)
    return g_steal_pointer (&way);
  /* Translators: how a sheet is read, which of its tables, how many there are. */
  return g_strdup_printf (_ ("%s, table %u of %u"), way, bed_notebook_get_table (notebook) + 1, n);
}

char *
bed_import_dup_aside (BedNotebook *notebook)
{
  g_autoptr (GString) kinds = g_string_new (NULL);
  guint all = 0;

  for (BedAside why = BED_ASIDE_ABOVE; why <= BED_ASIDE_ASKED; why++)
    {
      guint n = bed_notebook_count_aside (notebook, why);

      if (n > 1)
        g_string_append_printf (kinds, "%s%u × ", all ? bed_comma () : "", n);
      else if (n == 1 && all > 0)
        g_string_append (kinds, bed_comma ());
      if (n > 0)
        g_string_append (kinds, bed_aside_get_word (why));
      all += n;
    }
  return all ? bed_say (_ ("%u set aside: %s"), all, kinds->str) : NULL;
}

static gboolean
is_summed (const BedField *field)
{
  return field->type == BED_FIELD_MEASURE
         && (field->measure == BED_MEASURE_MASS || field->measure == BED_MEASURE_MASS_FINE
             || field->measure == BED_MEASURE_MONEY || field->measure == BED_MEASURE_TIME);
}

static gint64
sum_of (BedNotebook *notebook, const BedImportAnswer *answer, BedKind kind, const BedField *field)
{
  if (!answer)
    return bed_notebook_sum (notebook, kind, field);
  for (guint i = 0; i < answer->totals->len; i++)
    {
      const BedImportTotal *total = &g_array_index (answer->totals, BedImportTotal, i);

      if (total->kind == kind && total->field == field)
        return total->sum;
    }
  return 0;
}

/* A season in grams, or to the milligram, says nothing. */
static char *
dup_sum (const BedField *field, const BedNotation *notation, gint64 sum)
{
  if (field->measure == BED_MEASURE_MASS || field->measure == BED_MEASURE_MASS_FINE)
    return bed_measure_format_unit_rounded (BED_MEASURE_MASS, notation, 2, sum);
  return bed_measure_format_unit_said (field->measure, notation, sum);
}

static void
append_sums (GString *totals, BedNotebook *notebook, const BedImportAnswer *answer, BedKind kind,
             const BedNotation *notation)
{
  const BedKindInfo *info = bed_kind_get_info (kind);

  for (guint i = 0; i < info->n_fields; i++)
    {
      const BedField *field = &info->fields[i];
      gint64 sum = is_summed (field) ? sum_of (notebook, answer, kind, field) : 0;

      if (sum == 0)
        continue;
      g_autofree char *said = dup_sum (field, notation, sum);
      g_string_append_printf (totals, ", %s %s", _ (field->label), said);
    }
}

char *
bed_import_dup_totals (BedNotebook *notebook, const BedImportAnswer *answer,
                       const BedNotation *notation)
{
  g_autoptr (GString) totals = g_string_new (NULL);
  const char *first = bed_notebook_get_first_day (notebook);

  for (int kind = 0; kind < BED_N_KINDS; kind++)
    {
      guint n = answer ? answer->added[kind] : bed_notebook_count_records (notebook, kind);
      g_autofree char *count = n ? bed_kind_dup_count (kind, n) : NULL;

      if (!count)
        continue;
      g_string_append_printf (totals, "%s%s", totals->len ? " · " : "", count);
      append_sums (totals, notebook, answer, kind, notation);
    }
  if (totals->len && first)
    {
      g_autofree char *from = bed_date_format (first);
      g_autofree char *to = bed_date_format (bed_notebook_get_last_day (notebook));

      g_string_append_printf (totals, _ (" · %s to %s"), from, to);
    }
  return totals->len ? g_string_free (g_steal_pointer (&totals), FALSE) : NULL;
}

char *
bed_import_dup_known (const BedImportAnswer *answer, BedImportDiffers differs)
{
  guint known = 0, differing = 0;

  for (int kind = 0; kind < BED_N_KINDS; kind++)
    {
      known += answer->known[kind];
      differing += answer->amended[kind] + answer->left[kind];
    }
  g_autofree char *listed
      = bed_say (ngettext ("%u that was only counted is listed now",
                           "%u that were only counted are listed now", answer->listed),
                 answer->listed);
  g_autofree char *there
      = bed_say (ngettext ("%u is there already", "%u are there already", known), known);
  g_autofree char *changed
      = differs == BED_DIFFERS_AMENDED
            ? bed_say (ngettext ("%u is changed", "%u are changed", differing), differing)
        : differs == BED_DIFFERS_LEFT
            ? bed_say (ngettext ("%u stays as it is", "%u stay as they are", differing), differing)
            : bed_say (ngettext ("%u differs", "%u differ", differing), differing);
  const struct
  {
    guint n;
    const char *words;
  } all[] = { { known, there }, { differing, changed }, { answer->listed, listed } };
  g_autoptr (GString) text = g_string_new (NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (all); i++)
    if (all[i].n)
      g_string_append_printf (text, "%s%s", text->len ? bed_comma () : "", all[i].words);
  return text->len ? g_strdup (text->str) : NULL;
}
