#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/notebook/notebook_private.h"
#include "science/units.h"

/* Batches of which only the number of logs is known: columns that fill no field of a record, and
 * the logs that they come to. */

static const BedField numbers[] = {
  { .name = "logs",
    .label = N_ ("Number of logs"),
    .type = BED_FIELD_MEASURE,
    .measure = BED_MEASURE_COUNT,
    .lowest = 0,
    .highest = 5000 },
  { .name = "left",
    .label = N_ ("Logs left"),
    .type = BED_FIELD_MEASURE,
    .measure = BED_MEASURE_COUNT,
    .lowest = 0,
    .highest = 5000 },
};

/* What the row of a batch may say of its logs. */
static const struct
{
  BedKind kind;
  const char *field;
} said[] = {
  { BED_KIND_LOG, "length" },         { BED_KIND_LOG, "small_diameter" },
  { BED_KIND_LOG, "large_diameter" }, { BED_KIND_LOG, "retired_on" },
  { BED_KIND_LOG, "retired_why" },    { BED_KIND_FELLING, "wood" },
  { BED_KIND_FELLING, "felled_on" },  { BED_KIND_FELLING, "stand" },
  { BED_KIND_FELLING, "supplier" },
};

const BedField *
bed_notebook_find_field (BedKind kind, const char *name)
{
  for (gsize i = 0; kind == BED_KIND_BATCH && i < G_N_ELEMENTS (numbers); i++)
    if (strcmp (numbers[i].name, name) == 0)
      return &numbers[i];
  return bed_kind_find_field (kind, name, NULL);
}

const BedField *
bed_notebook_get_numbers (guint *n)
{
  *n = G_N_ELEMENTS (numbers);
  return numbers;
}

gint64 *
bed_notebook_number_of (BedNotebook *self, const BedField *field)
{
  return field == &numbers[0] ? &self->n_logs : field == &numbers[1] ? &self->n_left : NULL;
}

gboolean
bed_notebook_says_of_logs (BedKind kind, const BedField *field)
{
  for (gsize i = 0; i < G_N_ELEMENTS (said); i++)
    if (said[i].kind == kind && strcmp (said[i].field, field->name) == 0)
      return TRUE;
  return FALSE;
}

/* More are left than there were. */
static void
ask_which (BedNotebook *self)
{
  const char *answer = bed_notebook_ask (
      self, "left", bed_notebook_find_column (self, BED_KIND_BATCH, "left"),
      g_strdup (
          _ ("In some rows more logs are left than there were. Which number is right there?")));

  if (bed_notebook_is_new (self, "left"))
    {
      bed_notebook_offer (self, "left", "logs", _ ("How many there were"));
      bed_notebook_offer (self, "left", "left", _ ("How many are left"));
      bed_notebook_offer (self, "left", "out", _ ("Leave these rows out"));
    }
  if (g_strcmp0 (answer, "out") == 0)
    self->left_out = BED_ASIDE_ASKED;
  if (g_strcmp0 (answer, "left") == 0)
    self->n_logs = self->n_left;
  else
    self->n_left = self->n_logs;
}

void
bed_notebook_begin_counted (BedNotebook *self)
{
  if (self->kind != BED_KIND_BATCH)
    return;
  if (self->n_logs < 0)
    self->n_logs = self->n_left; /* those that are not left, nobody counted */
  if (self->n_left > self->n_logs)
    ask_which (self);
  if (self->n_logs <= 0)
    {
      bed_notebook_empty_slot (self, BED_KIND_LOG);
      bed_notebook_empty_slot (self, BED_KIND_FELLING);
      return;
    }
  bed_record_set_text (bed_notebook_slot (self, BED_KIND_LOG)->record, "counted", "yes");
}

/* Those left and those that are not, which a day or a reason in the row is about. */
void
bed_notebook_make_counted (BedNotebook *self)
{
  BedNotebookSlot *slot = &self->slots[BED_KIND_LOG];
  gint64 left = self->n_left >= 0                                             ? self->n_left
                : slot->record && bed_record_has (slot->record, "retired_on") ? 0
                                                                              : self->n_logs;

  if (!slot->record)
    return;
  if (left > 0)
    {
      BedRecord *gone = slot->record;
      slot->record = bed_record_copy (gone);
      bed_record_unset (slot->record, "retired_on");
      bed_record_unset (slot->record, "retired_why");
      bed_notebook_make_times (self, BED_KIND_LOG, (guint) left);
      g_object_unref (slot->record);
      slot->record = gone;
    }
  if (self->n_logs > left)
    {
      if (!bed_record_has (slot->record, "retired_why"))
        bed_notebook_ask_for (self, BED_KIND_LOG, "retired_why");
      bed_notebook_make_times (self, BED_KIND_LOG, (guint) (self->n_logs - left));
    }
}
