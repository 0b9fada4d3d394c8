#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/farm/names.h"
#include "model/farm/query.h"
#include "model/farm/value.h"
#include "model/notebook/notebook_private.h"
#include "science/units.h"

/* What every record must have and its row does not say: it follows from the rest of the row, or is
 * asked for, once for all rows. */

/* What follows from another field of the row. */
static const struct
{
  BedKind kind;
  const char *field;
  BedKind from;
  const char *other;
} follows[] = {
  { BED_KIND_LOT, "picked_on", BED_KIND_SALE, "sold_on" },
  { BED_KIND_TEMPERATURE, "measured_on", BED_KIND_RAIN, "fell_on" },
  { BED_KIND_RAIN, "fell_on", BED_KIND_TEMPERATURE, "measured_on" },
  { BED_KIND_SPAWN_USED, "mass", BED_KIND_SPAWN, "mass" },
  { BED_KIND_SPAWN_USED, "pieces", BED_KIND_SPAWN, "pieces" },
};

/* What the rules ask for, as BedField.required does, where another field is or is not set. */
static const struct
{
  BedKind kind;
  const char *field;
  const char *if_set;    /* NULL: always */
  const char *values;    /* of that field, "" any */
  const char *unless[3]; /* one of these is as good */
} needs[] = {
  { BED_KIND_PICK, "batch", NULL, "", { "log", "stack", "batch" } },
  { BED_KIND_CHECK, "batch", NULL, "", { "log", "stack", "batch" } },
  { BED_KIND_DISC, "batch", NULL, "", { "felling", "batch" } },
  { BED_KIND_WATERING, "area", NULL, "", { "stack", "area" } },
  { BED_KIND_SPAWN, "mass", "form", "sawdust grain", { "mass" } },
  { BED_KIND_SPAWN, "pieces", "form", "dowel thimble", { "pieces" } },
  { BED_KIND_LOG, "retired_why", "retired_on", "", { "retired_why" } },
  { BED_KIND_LOG, "retired_on", "retired_why", "", { "retired_on" } },
  { BED_KIND_LINE, "price", "use", "sold", { "price" } },
  { BED_KIND_PURCHASE, "batch", "scope", "batch", { "batch" } },
};

/* An answer: a wood that nobody knows, and of which no density is known. */
#define UNKNOWN "=unknown"
/* How much spawn it was is often not written down of years past. */
#define NONE "=none"

/* What most farms would answer. */
static const struct
{
  BedKind kind;
  const char *field;
  const char *answer;
} usual[] = {
  { BED_KIND_BATCH, "method", "drilled" },
  { BED_KIND_LINE, "form", "fresh" },
  { BED_KIND_LINE, "use", "sold" },
  { BED_KIND_PURCHASE, "scope", "overhead" },
  { BED_KIND_PURCHASE, "category", "other" },
  { BED_KIND_HOURS, "task", "other" },
  { BED_KIND_PICK, "grade", "unknown" },
  { BED_KIND_FELLING, "felled_on", "=batch.inoculated_on" },
  { BED_KIND_SPAWN, "received_on", "=batch.inoculated_on" },
  { BED_KIND_LOG, "retired_why", "spent" },
  { BED_KIND_SPAWN, "form", "sawdust" },
  { BED_KIND_STRAIN, "mushroom", "shiitake" },
  { BED_KIND_SPAWN, "mass", NONE },
  { BED_KIND_SPAWN, "pieces", NONE },
  { BED_KIND_FELLING, "wood", UNKNOWN },
};

/* Of logs that nobody measured, where the farm has none either: common practice, no source. */
static const struct
{
  const char *field;
  const char *metric, *us;
} sizes[] = {
  { "length", "100 cm", "40 in" },
  { "small_diameter", "12 cm", "5 in" },
};

/* Or there is a question about its cell. */
static gboolean
has_field (BedNotebook *self, BedNotebookSlot *slot, const BedField *field)
{
  if (g_ptr_array_find (self->waiting, field, NULL))
    return TRUE;
  for (guint i = 0; i < slot->references->len; i++)
    if (g_array_index (slot->references, BedDraftReference, i).field == field)
      return TRUE;
  return bed_record_has (slot->record, field->name);
}

static gboolean
has_named (BedNotebook *self, BedNotebookSlot *slot, BedKind kind, const char *name)
{
  const BedField *field = bed_kind_find_field (kind, name, NULL);

  return field && has_field (self, slot, field);
}

/* --- answers ---------------------------------------------------------------------------------- */

gboolean
bed_notebook_set_typed (BedNotebook *self, BedNotebookSlot *slot, const BedField *field,
                        const char *text, GError **error)
{
  BedValueReading reading = { self->notation, NULL };
  gint64 *number = bed_notebook_number_of (self, field);
  g_autofree char *name = NULL;

  if (number)
    return bed_measure_parse (BED_MEASURE_COUNT, &self->notation, text, number, error)
           && bed_value_check_limits (self->farm, field, *number, error);
  if (field->type == BED_FIELD_MEASURE)
    {
      BedNumberForm form;
      g_autofree char *plain = bed_number_dup_plain (
          text, self->notation.decimal_mark,
          field->measure == BED_MEASURE_MONEY ? BED_NUMBER_OF_MONEY : BED_NUMBER_OF_THINGS, &form);
      return bed_value_parse_csv (self->farm, slot->record, field->name, &reading, plain, error);
    }
  if (bed_period_set_typed (self, slot->record, field, text))
    return TRUE;
  if (field->type != BED_FIELD_REFERENCE)
    return bed_value_parse_csv (self->farm, slot->record, field->name, &reading, text, error);
  name = bed_notebook_resolve (self, field->refers, text, 0);
  if (name)
    bed_notebook_refer (self, slot, field, name, 0);
  return name != NULL;
}

/* "=batch.inoculated_on": the day that the row has elsewhere. */
static gboolean
copy_day (BedNotebook *self, BedNotebookSlot *slot, const BedField *field, const char *from)
{
  const char *point = strchr (from, '.');
  g_autofree char *name = point ? g_strndup (from, point - from) : NULL;
  BedKind kind = name ? bed_kind_from_name (name) : BED_N_KINDS;
  BedRecord *other = kind != BED_N_KINDS ? self->slots[kind].record : NULL;
  const BedField *of = other ? bed_kind_find_field (kind, point + 1, NULL) : NULL;

  if (!of || of->type != BED_FIELD_DATE)
    return FALSE;
  /* Where the row does not say it either, somebody has. */
  const char *said = bed_notebook_decision (self, "need:%s", from);
  if (!bed_record_has (other, of->name))
    return said && *said != '=' && bed_notebook_set_typed (self, slot, field, said, NULL);
  bed_record_set_text (slot->record, field->name, bed_record_get_text (other, of->name));
  return TRUE;
}

static gboolean
answer_with (BedNotebook *self, BedNotebookSlot *slot, const BedField *field, const char *answer)
{
  if (strcmp (answer, "out") == 0)
    {
      self->left_out = BED_ASIDE_ASKED;
      return TRUE;
    }
  if (strcmp (answer, UNKNOWN) == 0)
    {
      bed_notebook_refer (self, slot, field, _ ("wood not known"), 0);
      return TRUE;
    }
  if (strcmp (answer, NONE) == 0)
    return TRUE;
  return *answer == '=' ? copy_day (self, slot, field, answer + 1)
                        : bed_notebook_set_typed (self, slot, field, answer, NULL);
}

gboolean
bed_notebook_can_answer (BedNotebook *self, const char *key, const char *answer, GError **error)
{
  const BedNotebookAsked *asked = g_hash_table_lookup (self->questions, key);

  if (!asked)
    return bed_farm_refuse (error, BED_FARM_ERROR_INVALID,
                            _ ("There is no such question about this sheet."));
  for (guint i = 0; i < asked->choices->len; i++)
    if (strcmp (g_array_index (asked->choices, BedNotebookChoice, i).key, answer) == 0)
      return TRUE;
  if (!asked->shown.typed)
    return bed_farm_refuse (error, BED_FARM_ERROR_INVALID,
                            _ ("“%s” is none of the answers to choose from."), answer);
  if (asked->meant)
    {
      g_autoptr (GError) why = NULL;
      if (bed_notebook_find_called (self, asked->kind, answer))
        return TRUE;
      bed_near_set_error (self->farm, asked->kind, answer, &why);
      return bed_farm_refuse (error, BED_FARM_ERROR_INVALID, "%s", why->message);
    }
  g_auto (GStrv) parts = g_strsplit_set (key, ":.", 3);
  BedKind kind = parts[0] && parts[1] ? bed_kind_from_name (parts[1]) : BED_N_KINDS;
  const BedField *field
      = kind != BED_N_KINDS && parts[2] ? bed_kind_find_field (kind, parts[2], NULL) : NULL;
  if (g_str_has_prefix (key, "odd:"))
    {
      guint column = g_ascii_strtoull (parts[1], NULL, 10);
      const BedNotebookMatch *match = &g_array_index (self->matches, BedNotebookMatch, column);
      kind = match->shown.kind;
      field = match->shown.field;
    }
  if (strcmp (key, "year") == 0 && !(strlen (answer) == 4 && strspn (answer, "0123456789") == 4))
    return bed_farm_refuse (error, BED_FARM_ERROR_INVALID,
                            _ ("“%s” is not a year. Write it as 2024."), answer);
  if (g_str_has_prefix (key, "name:") && !bed_notebook_knows (self, kind, answer))
    return bed_farm_refuse (error, BED_FARM_ERROR_INVALID, _ ("“%s” is not known."), answer);
  if (!field || field->type == BED_FIELD_REFERENCE)
    return TRUE;
  BedNotebookSlot scratch = { bed_record_new (kind), NULL, NULL, FALSE };
  gboolean fits = bed_notebook_set_typed (self, &scratch, field, answer, error);
  g_object_unref (scratch.record);
  return fits;
}

/* --- questions ----------------------------------------------------------------------------------
 */

static void
offer_records (BedNotebook *self, const char *key, BedKind kind)
{
  const BedKindInfo *info = bed_kind_get_info (kind);
  g_autofree char *sql = g_strdup_printf ("SELECT \"%s\" FROM \"%s\" ORDER BY id DESC LIMIT 8",
                                          info->key, info->name);
  g_autoptr (BedQuery) q = bed_query_new (self->farm, sql);

  while (bed_query_next (q))
    if (bed_query_text (q, 0))
      bed_notebook_offer (self, key, bed_query_text (q, 0), bed_query_text (q, 0));
  /* None to offer when they cannot be read: one may type it. */
  if (!bed_query_finish (q, NULL))
    bed_notebook_let_type (self, key, _ ("A name"));
}

/* What there need be no name for: a wood that nobody knows; a batch of all that was there before
 * batches were written down. */
static void
offer_unnamed (BedNotebook *self, const char *key, BedKind kind, const BedField *field)
{
  if (kind == BED_KIND_FELLING && field->refers == BED_KIND_WOOD)
    bed_notebook_offer (self, key, UNKNOWN, _ ("Not known"));
  if (kind == BED_KIND_SPAWN && field->type == BED_FIELD_MEASURE)
    bed_notebook_offer (self, key, NONE, _ ("Not known"));
  if (kind == BED_KIND_PICK && field->refers == BED_KIND_BATCH)
    bed_notebook_offer (self, key, _ ("Old logs"), _ ("A batch “Old logs”, for all of them"));
}

/* Days that the row has of what was done before: none of a batch is the day it was picked from. */
static void
offer_days (BedNotebook *self, const char *key, const BedField *wanted)
{
  for (guint i = 0; i < self->matches->len; i++)
    {
      const BedNotebookColumn *shown = &g_array_index (self->matches, BedNotebookMatch, i).shown;
      if (!shown->field || shown->field->type != BED_FIELD_DATE || shown->field == wanted
          || (shown->kind == self->kind && self->kind != BED_KIND_BATCH))
        continue;
      g_autofree char *choice
          = g_strdup_printf ("=%s.%s", bed_kind_get_info (shown->kind)->name, shown->field->name);
      g_autofree char *label = g_strdup_printf (_ ("The day in “%s”"), shown->head);
      bed_notebook_offer (self, key, choice, label);
    }
}

/* As the farm's logs are, in whole centimetres or inches. */
static void
offer_size (BedNotebook *self, const char *key, gsize size)
{
  gboolean us = self->notation.system == BED_SYSTEM_US;
  g_autofree char *sql = g_strdup_printf ("SELECT avg (\"%s\") / %d FROM log", sizes[size].field,
                                          us ? 25400 : 10000);
  g_autoptr (BedQuery) q = bed_query_new (self->farm, sql);
  g_autofree char *own = NULL;

  if (bed_query_next (q) && !bed_query_is_null (q, 0))
    own = g_strdup_printf ("%.0f %s", bed_query_real (q, 0), us ? "in" : "cm");
  if (!bed_query_finish (q, NULL))
    return;
  const char *size_text = own ? own : us ? sizes[size].us : sizes[size].metric;
  bed_notebook_offer (self, key, size_text, size_text);
  bed_notebook_suggest (self, key, size_text);
}

static gboolean
is_choice (const BedField *field, const char *key)
{
  for (const BedChoice *choice = field->choices; choice && choice->key; choice++)
    if (strcmp (choice->key, key) == 0)
      return TRUE;
  return FALSE;
}

static void
suggest_usual (BedNotebook *self, const char *key, BedKind kind, const BedField *field)
{
  for (gsize i = 0; i < G_N_ELEMENTS (usual); i++)
    {
      gboolean day = field->type == BED_FIELD_DATE;
      if (usual[i].kind == kind && strcmp (usual[i].field, field->name) == 0
          && (day ? bed_notebook_find_column (self, BED_KIND_BATCH, "inoculated_on") > 0
                  : field->type != BED_FIELD_CHOICE || is_choice (field, usual[i].answer)))
        bed_notebook_suggest (self, key, usual[i].answer);
    }
}

static void
offer_answers (BedNotebook *self, const char *key, BedKind kind, const BedField *field)
{
  static const char *const what[] = {
    [BED_FIELD_TEXT] = N_ ("A text"),      [BED_FIELD_NOTE] = N_ ("A text"),
    [BED_FIELD_DATE] = N_ ("A date"),      [BED_FIELD_MOMENT] = N_ ("A date and time"),
    [BED_FIELD_REFERENCE] = N_ ("A name"), [BED_FIELD_MEASURE] = N_ ("A number with its unit"),
  };

  if (field->type == BED_FIELD_CHOICE)
    for (const BedChoice *choice = field->choices; choice->key; choice++)
      bed_notebook_offer (self, key, choice->key, bed_choice_get_word (choice));
  else
    bed_notebook_let_type (self, key,
                           bed_period_fits (self, field) ? _ ("A date, a month or a season")
                                                         : _ (what[field->type]));
  offer_unnamed (self, key, kind, field);
  if (field->type == BED_FIELD_REFERENCE)
    offer_records (self, key, field->refers);
  if (field->type == BED_FIELD_DATE)
    offer_days (self, key, field);
  for (gsize i = 0; kind == BED_KIND_LOG && i < G_N_ELEMENTS (sizes); i++)
    if (strcmp (sizes[i].field, field->name) == 0)
      offer_size (self, key, i);
  if (bed_notebook_find_column (self, kind, field->name))
    bed_notebook_offer (self, key, "out", _ ("Leave these rows out"));
  suggest_usual (self, key, kind, field);
}

static void
ask_for (BedNotebook *self, BedKind kind, const BedField *field)
{
  BedNotebookSlot *slot = &self->slots[kind];
  const BedKindInfo *info = bed_kind_get_info (kind);
  g_autofree char *key = g_strdup_printf ("need:%s.%s", info->name, field->name);
  guint column = bed_notebook_find_column (self, kind, field->name);
  const char *answer = bed_notebook_ask (
      self, key, column,
      column ? g_strdup_printf (
          /* Translators: field, kind of record. */
          _ ("“%s” is not said in some rows, and is needed (%s). What is it there?"),
          _ (field->label), _ (info->singular))
             : g_strdup_printf (_ ("“%s”: no column says it, and it is needed (%s). What is it?"),
                                _ (field->label), _ (info->singular)));

  if (bed_notebook_is_new (self, key))
    offer_answers (self, key, kind, field);
  if (answer)
    answer_with (self, slot, field, answer);
}

void
bed_notebook_ask_for (BedNotebook *self, BedKind kind, const char *field)
{
  ask_for (self, kind, bed_kind_find_field (kind, field, NULL));
}

static gboolean
follow (BedNotebook *self, BedKind kind, const BedField *field)
{
  BedNotebookSlot *slot = &self->slots[kind];

  for (gsize i = 0; i < G_N_ELEMENTS (follows); i++)
    {
      BedRecord *from = self->slots[follows[i].from].record;
      if (follows[i].kind != kind || strcmp (follows[i].field, field->name) != 0 || !from
          || !bed_record_has (from, follows[i].other))
        continue;
      if (field->type == BED_FIELD_MEASURE)
        bed_record_set_int (slot->record, field->name, bed_record_get_int (from, follows[i].other));
      else
        bed_record_set_text (slot->record, field->name,
                             bed_record_get_text (from, follows[i].other));
      return TRUE;
    }
  /* What was sold has a price. */
  if (kind == BED_KIND_LINE && strcmp (field->name, "use") == 0
      && bed_record_get_int (slot->record, "price") > 0)
    {
      bed_record_set_text (slot->record, "use", "sold");
      return TRUE;
    }
  /* What a batch is named with was for it. */
  if (kind == BED_KIND_PURCHASE && strcmp (field->name, "scope") == 0
      && has_named (self, slot, kind, "batch"))
    {
      bed_record_set_text (slot->record, "scope", "batch");
      return TRUE;
    }
  return FALSE;
}

static gboolean
is_met (BedNotebook *self, BedNotebookSlot *slot, gsize need)
{
  const char *set = needs[need].if_set ? bed_record_get_text (slot->record, needs[need].if_set)
                                       : "";

  if (!set || (*needs[need].values && !strstr (needs[need].values, set)))
    return TRUE;
  for (gsize i = 0; i < G_N_ELEMENTS (needs[need].unless) && needs[need].unless[i]; i++)
    if (has_named (self, slot, needs[need].kind, needs[need].unless[i]))
      return TRUE;
  return FALSE;
}

/* Codes are given where they are left out; references to what the row makes are set later. */
static gboolean
comes_by_itself (BedKind kind, const BedField *field)
{
  return strcmp (field->name, "code") == 0
         || (kind == BED_KIND_LOG && strcmp (field->name, "felling") == 0)
         || (kind == BED_KIND_LINE && field->type == BED_FIELD_REFERENCE)
         || (kind == BED_KIND_SOAKED && strcmp (field->name, "soak") == 0)
         || (kind == BED_KIND_SPAWN_USED && field->type == BED_FIELD_REFERENCE);
}

void
bed_notebook_complete (BedNotebook *self, BedKind kind)
{
  BedNotebookSlot *slot = &self->slots[kind];
  const BedKindInfo *info = bed_kind_get_info (kind);

  for (guint i = 0; i < info->n_fields && !self->left_out; i++)
    {
      const BedField *field = &info->fields[i];
      if (field->required && !comes_by_itself (kind, field) && !has_field (self, slot, field)
          && !follow (self, kind, field))
        ask_for (self, kind, field);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (needs) && !self->left_out; i++)
    if (needs[i].kind == kind && !is_met (self, slot, i))
      ask_for (self, kind, bed_kind_find_field (kind, needs[i].field, NULL));
  if (kind == BED_KIND_SPAWN_USED)
    for (guint i = 0; i < info->n_fields; i++)
      if (!has_field (self, slot, &info->fields[i]))
        follow (self, kind, &info->fields[i]);
}
