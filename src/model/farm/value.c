#include "model/farm/value.h"

#include <glib/gi18n-lib.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "model/farm/code.h"
#include "model/farm/kind_words.h"
#include "model/farm/kinds.h"
#include "model/farm/names.h"
#include "model/farm/points.h"
#include "science/language.h"
#include "science/units.h"

static gboolean
has_limits (const BedField *field)
{
  return field->lowest != 0 || field->highest != 0;
}

static gboolean
check_limits (const BedField *field, const BedNotation *notation, gint64 value, GError **error)
{
  gint64 lowest = field->lowest;
  gint64 highest = has_limits (field) ? field->highest : G_MAXINT64;

  if (value >= lowest && value <= highest)
    return TRUE;
  g_autofree char *is = bed_measure_format_unit (field->measure, notation, value);
  g_autofree char *low = bed_measure_format_unit (field->measure, notation, lowest);
  g_autofree char *high = bed_measure_format_unit (field->measure, notation, highest);
  if (!has_limits (field))
    /* Translators: field, value. */
    return bed_farm_refuse (error, BED_FARM_ERROR_INVALID, _ ("%s: %s is below zero."),
                            _ (field->label), is);
  /* Translators: field, value, lowest, highest. */
  return bed_farm_refuse (error, BED_FARM_ERROR_INVALID, _ ("%s: %s is outside %s to %s."),
                          _ (field->label), is, low, high);
}

gboolean
bed_value_check_limits (BedFarm *farm, const BedField *field, gint64 value, GError **error)
{
  return check_limits (field, bed_farm_get_notation (farm), value, error);
}

static gboolean
parse_choice (BedRecord *record, const BedField *field, const char *text, GError **error)
{
  const BedChoice *c = field->choices;

  while (c->key && g_ascii_strcasecmp (c->key, text) != 0)
    c++;
  if (!c->key)
    for (c = field->choices; c->key && g_strcmp0 (bed_choice_get_word (c), text) != 0;)
      c++;
  if (c->key)
    {
      bed_record_set_text (record, field->name, c->key);
      return TRUE;
    }
  g_autoptr (GString) words = g_string_new (NULL);
  for (c = field->choices; c->key; c++)
    g_string_append_printf (words, "%s%s", words->len ? ", " : "", c->key);
  /* Translators: field, value, the possible values. */
  return bed_farm_refuse (error, BED_FARM_ERROR_INVALID, _ ("%s: “%s” is none of %s."),
                          _ (field->label), text, words->str);
}

/* `2026-05-18T08:30`, or a date as typed and `8:30` after it; a date alone is noon. */
static gboolean
parse_moment (BedFarm *farm, BedRecord *record, const BedField *field, const char *text,
              GError **error)
{
  g_autofree char *copy = g_strdup (text);
  char *cut = strrchr (copy, copy[0] && strchr (copy, 'T') ? 'T' : ' ');
  int hour = 12, minute = 0, end = 0;

  if (cut && sscanf (cut + 1, "%2d:%2d%n", &hour, &minute, &end) == 2 && !cut[1 + end])
    *cut = '\0';
  else
    hour = 12, minute = 0;
  g_autofree char *date = bed_date_parse (copy, bed_farm_get_today (farm), error);
  if (!date)
    return FALSE;
  if (hour > 23 || minute > 59 || hour < 0 || minute < 0)
    return bed_farm_refuse (error, BED_FARM_ERROR_INVALID, _ ("%s: %d:%02d is not a time of day."),
                            _ (field->label), hour, minute);
  g_autofree char *moment = g_strdup_printf ("%sT%02d:%02d", date, hour, minute);
  bed_record_set_text (record, field->name, moment);
  return TRUE;
}

static gboolean
parse_measure (BedRecord *record, const BedField *field, const BedValueReading *reading,
               const char *text, GError **error)
{
  const BedNotation *notation = &reading->notation;
  g_autoptr (GError) why = NULL;
  gint64 value;

  if (!bed_measure_parse_in (field->measure, notation, reading->unit, text, &value, &why))
    return bed_farm_refuse (error, BED_FARM_ERROR_INVALID, "%s: %s", _ (field->label),
                            why->message);
  if (!check_limits (field, notation, value, error))
    return FALSE;
  bed_record_set_int (record, field->name, value);
  return TRUE;
}

static gboolean
parse_text (BedRecord *record, const BedField *field, const char *text, GError **error)
{
  if (field->type == BED_FIELD_TEXT && strpbrk (text, "\n\r"))
    return bed_farm_refuse (error, BED_FARM_ERROR_INVALID, _ ("%s: one line only."),
                            _ (field->label));
  const BedKindInfo *info = bed_kind_get_info (bed_record_get_kind (record));
  if (g_strcmp0 (info->key, field->name) == 0)
    {
      g_autofree char *code = bed_code_complete (bed_record_get_kind (record), text, error);
      if (!code)
        return FALSE;
      bed_record_set_text (record, field->name, code);
      return TRUE;
    }
  bed_record_set_text (record, field->name, text);
  return TRUE;
}

static gboolean
parse (BedFarm *farm, BedRecord *record, const char *name, const BedValueReading *reading,
       const char *text, GError **error)
{
  const BedField *field = bed_kind_find_field (bed_record_get_kind (record), name, NULL);

  g_return_val_if_fail (field != NULL && text != NULL, FALSE);
  g_autofree char *trimmed = field->type == BED_FIELD_NOTE ? g_strdup (text)
                                                           : g_strstrip (g_strdup (text));
  if (!*trimmed)
    {
      bed_record_unset (record, name);
      return TRUE;
    }
  if (!g_utf8_validate (trimmed, -1, NULL))
    return bed_farm_refuse (error, BED_FARM_ERROR_INVALID, _ ("%s: the text is not UTF-8."),
                            _ (field->label));
  switch (field->type)
    {
    case BED_FIELD_TEXT:
    case BED_FIELD_NOTE:
      return parse_text (record, field, trimmed, error);
    case BED_FIELD_DATE:
      {
        g_autofree char *date = bed_date_parse (trimmed, bed_farm_get_today (farm), error);
        if (!date)
          return FALSE;
        bed_record_set_text (record, name, date);
        return TRUE;
      }
    case BED_FIELD_MOMENT:
      return parse_moment (farm, record, field, trimmed, error);
    case BED_FIELD_CHOICE:
      return parse_choice (record, field, trimmed, error);
    case BED_FIELD_REFERENCE:
      {
        gint64 id = bed_farm_find (farm, field->refers, trimmed, error);
        if (id)
          bed_record_set_int (record, name, id);
        return id != 0;
      }
    case BED_FIELD_MEASURE:
      return parse_measure (record, field, reading, trimmed, error);
    }
  return FALSE;
}

/* A measure that is shown rounded is not rounded by being shown. */
static gboolean
says_already (BedFarm *farm, BedRecord *record, const char *name, const char *text)
{
  const BedField *field = bed_kind_find_field (bed_record_get_kind (record), name, NULL);

  if (!field || (field->type != BED_FIELD_MEASURE && !field->points)
      || !bed_record_has (record, name))
    return FALSE;
  g_autofree char *said = bed_value_dup_text (farm, record, name);
  return g_strcmp0 (said, text) == 0;
}

gboolean
bed_value_parse (BedFarm *farm, BedRecord *record, const char *name, const char *text,
                 GError **error)
{
  BedValueReading reading = { *bed_farm_get_notation (farm), NULL };
  const BedField *field = bed_kind_find_field (bed_record_get_kind (record), name, NULL);
  g_autofree char *stored = NULL;

  if (says_already (farm, record, name, text))
    return TRUE;
  if (field && field->points && *text && g_utf8_validate (text, -1, NULL))
    {
      stored = bed_points_from_said (&reading.notation, text, error);
      if (!stored)
        return FALSE;
    }
  return parse (farm, record, name, &reading, stored ? stored : text, error);
}

gboolean
bed_value_parse_csv (BedFarm *farm, BedRecord *record, const char *field,
                     const BedValueReading *reading, const char *text, GError **error)
{
  BedValueReading pointed = *reading;

  pointed.notation = bed_notation_plain (&reading->notation);
  return parse (farm, record, field, &pointed, text, error);
}

/* The value where it reads the same for people and in CSV, or NULL. */
static char *
common_text (BedFarm *farm, BedRecord *record, const BedField *field)
{
  if (!bed_record_has (record, field->name))
    return g_strdup ("");
  if (field->type == BED_FIELD_REFERENCE)
    {
      char *name
          = bed_farm_dup_name (farm, field->refers, bed_record_get_int (record, field->name));
      return name ? name : g_strdup ("");
    }
  if (field->type == BED_FIELD_TEXT || field->type == BED_FIELD_NOTE)
    return g_strdup (bed_record_get_text (record, field->name));
  return NULL;
}

char *
bed_value_dup_text (BedFarm *farm, BedRecord *record, const char *name)
{
  const BedField *field = bed_kind_find_field (bed_record_get_kind (record), name, NULL);

  g_return_val_if_fail (field != NULL, NULL);
  if (field->points && bed_record_has (record, name))
    return bed_points_to_said (bed_farm_get_notation (farm), bed_record_get_text (record, name));
  char *text = common_text (farm, record, field);
  if (text)
    return text;
  switch (field->type)
    {
    case BED_FIELD_DATE:
      return bed_date_format (bed_record_get_text (record, name));
    case BED_FIELD_MOMENT:
      return bed_date_format_moment (bed_record_get_text (record, name));
    case BED_FIELD_CHOICE:
      return g_strdup (bed_field_choice_label (field, bed_record_get_text (record, name)));
    case BED_FIELD_MEASURE:
      return bed_measure_format_said (field->measure, bed_farm_get_notation (farm),
                                      bed_record_get_int (record, name));
    case BED_FIELD_TEXT:
    case BED_FIELD_NOTE:
    case BED_FIELD_REFERENCE:
      break;
    }
  g_return_val_if_reached (NULL);
}

char *
bed_value_dup_csv (BedFarm *farm, BedRecord *record, const char *name)
{
  const BedField *field = bed_kind_find_field (bed_record_get_kind (record), name, NULL);

  g_return_val_if_fail (field != NULL, NULL);
  char *text = common_text (farm, record, field);
  if (text)
    return text;
  if (field->type == BED_FIELD_MEASURE)
    {
      BedNotation notation = bed_notation_plain (bed_farm_get_notation (farm));
      return bed_measure_format (field->measure, &notation, bed_record_get_int (record, name));
    }
  return g_strdup (bed_record_get_text (record, name));
}

char *
bed_value_dup_sentence (BedFarm *farm, BedRecord *record, const char *name)
{
  const BedField *field = bed_kind_find_field (bed_record_get_kind (record), name, NULL);

  g_return_val_if_fail (field != NULL, NULL);
  g_autofree char *text = bed_value_dup_text (farm, record, name);
  const char *unit = bed_value_get_unit (farm, field);
  if (!text || !*text || !*unit)
    return g_steal_pointer (&text);
  return g_strdup_printf ("%s %s", text, unit);
}

/* Of what has no name. */
static char *
dup_facts (BedFarm *farm, BedRecord *record)
{
  const BedKindInfo *info = bed_kind_get_info (bed_record_get_kind (record));
  GString *facts = g_string_new (NULL);

  for (guint i = 0; i < info->n_fields; i++)
    {
      const BedField *field = &info->fields[i];
      if (!bed_record_has (record, field->name)
          || !(field->required || field->type == BED_FIELD_REFERENCE))
        continue;
      g_autofree char *value = bed_value_dup_sentence (farm, record, field->name);
      g_string_append_printf (facts, "%s%s", facts->len ? bed_comma () : "", value);
    }
  return g_string_free (facts, FALSE);
}

char *
bed_value_dup_words (BedFarm *farm, BedRecord *record)
{
  BedKind kind = bed_record_get_kind (record);
  g_autofree char *facts = bed_kind_get_info (kind)->key ? NULL : dup_facts (farm, record);

  return bed_kind_dup_named (kind, facts ? facts : bed_record_get_name (record));
}

const char *
bed_value_get_unit (BedFarm *farm, const BedField *field)
{
  if (field->points)
    return bed_measure_unit (BED_MEASURE_LENGTH_LONG, bed_farm_get_notation (farm)->system);
  if (field->type != BED_FIELD_MEASURE)
    return "";
  if (field->measure == BED_MEASURE_MONEY)
    {
      BedRecord *settings = bed_farm_get_settings (farm);
      return settings ? bed_record_get_text (settings, "currency") : "";
    }
  return bed_measure_unit (field->measure, bed_farm_get_notation (farm)->system);
}

char *
bed_value_fill (const char *sentence, char *(*dup_word) (gpointer row, int column), gpointer row)
{
  GString *filled = g_string_new (NULL);

  for (const char *at = sentence; *at; at++)
    if (at[0] == '{' && g_ascii_isdigit (at[1]) && at[2] == '}')
      {
        g_autofree char *text = dup_word (row, at[1] - '1');
        g_string_append (filled, text);
        at += 2;
      }
    else
      g_string_append_c (filled, *at);
  return g_string_free (filled, FALSE);
}
