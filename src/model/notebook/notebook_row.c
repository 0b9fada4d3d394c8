#include <math.h>
#include <string.h>

#include "model/farm/known.h"
#include "model/notebook/notebook_private.h"
#include "science/units.h"

/* A row of the sheet to the records it makes: its own, and those it makes with others. */

/* In the order they need each other. */
static const BedKind alone[] = { BED_N_KINDS };
static const BedKind of_log[]
    = { BED_KIND_FELLING, BED_KIND_SPAWN, BED_KIND_BATCH, BED_KIND_SPAWN_USED, BED_N_KINDS };
static const BedKind of_batch[] = { BED_KIND_FELLING,    BED_KIND_SPAWN, BED_KIND_BATCH,
                                    BED_KIND_SPAWN_USED, BED_KIND_LOG,   BED_N_KINDS };
/* A lot may be of the day it was sold. */
static const BedKind of_line[] = { BED_KIND_SALE, BED_KIND_LOT, BED_N_KINDS };
static const BedKind of_rain[] = { BED_KIND_TEMPERATURE, BED_N_KINDS };
static const BedKind of_temperature[] = { BED_KIND_RAIN, BED_N_KINDS };
static const BedKind of_soaked[] = { BED_KIND_SOAK, BED_N_KINDS };

const BedKind *
bed_notebook_besides (BedKind kind)
{
  return kind == BED_KIND_LOG           ? of_log
         : kind == BED_KIND_BATCH       ? of_batch
         : kind == BED_KIND_LINE        ? of_line
         : kind == BED_KIND_RAIN        ? of_rain
         : kind == BED_KIND_TEMPERATURE ? of_temperature
         : kind == BED_KIND_SOAKED      ? of_soaked
                                        : alone;
}

/* Which field of which record names another that the row makes. */
static const struct
{
  BedKind holder;
  const char *field;
  BedKind made;
} links[] = {
  { BED_KIND_LOG, "felling", BED_KIND_FELLING },
  { BED_KIND_LOG, "batch", BED_KIND_BATCH },
  { BED_KIND_SPAWN_USED, "spawn", BED_KIND_SPAWN },
  { BED_KIND_SPAWN_USED, "batch", BED_KIND_BATCH },
  { BED_KIND_LINE, "lot", BED_KIND_LOT },
  { BED_KIND_LINE, "sale", BED_KIND_SALE },
  { BED_KIND_SOAKED, "soak", BED_KIND_SOAK },
};

/* --- slots --------------------------------------------------------------------------------- */

BedNotebookSlot *
bed_notebook_slot (BedNotebook *self, BedKind kind)
{
  BedNotebookSlot *slot = &self->slots[kind];

  if (!slot->record)
    {
      slot->record = bed_record_new (kind);
      slot->references = g_array_new (FALSE, TRUE, sizeof (BedDraftReference));
      slot->filled = FALSE;
    }
  return slot;
}

void
bed_notebook_empty_slot (BedNotebook *self, BedKind kind)
{
  g_clear_object (&self->slots[kind].record);
  g_clear_pointer (&self->slots[kind].references, g_array_unref);
  self->slots[kind].name = NULL;
}

static void
empty_slots (BedNotebook *self)
{
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    bed_notebook_empty_slot (self, kind);
}

static const char *
keep (BedNotebook *self, char *text)
{
  g_ptr_array_add (self->kept, text);
  return text;
}

void
bed_notebook_refer (BedNotebook *self, BedNotebookSlot *slot, const BedField *field,
                    const char *name, guint column)
{
  BedDraftReference reference
      = { .field = field, .name = keep (self, g_strdup (name)), .column = column };

  if (slot->references)
    g_array_append_val (slot->references, reference);
}

static BedDraftReference *
find_reference (BedNotebookSlot *slot, const char *field)
{
  for (guint i = 0; slot->record && i < slot->references->len; i++)
    {
      BedDraftReference *reference = &g_array_index (slot->references, BedDraftReference, i);
      if (strcmp (reference->field->name, field) == 0)
        return reference;
    }
  return NULL;
}

/* --- names of what has none ---------------------------------------------------------------- */

/* All that is known of it, one after the other: rows that say the same mean the same. */
static const char *
keep_contents (BedNotebook *self, BedKind kind)
{
  BedNotebookSlot *slot = &self->slots[kind];
  const BedKindInfo *info = bed_kind_get_info (kind);
  GString *name = g_string_new (info->name);

  for (guint i = 0; i < slot->references->len; i++)
    g_string_append_printf (name, " %s",
                            g_array_index (slot->references, BedDraftReference, i).name);
  for (guint i = 0; i < info->n_fields; i++)
    {
      const char *text = bed_record_get_text (slot->record, info->fields[i].name);
      if (text)
        g_string_append_printf (name, " %s", text);
      else if (bed_record_has (slot->record, info->fields[i].name))
        g_string_append_printf (name, " %" G_GINT64_FORMAT,
                                bed_record_get_int (slot->record, info->fields[i].name));
    }
  return keep (self, g_string_free (name, FALSE));
}

/* What others call it: as a cell does, by its own key, or by all that is known of it. */
static void
name_slot (BedNotebook *self, BedKind kind)
{
  BedNotebookSlot *slot = &self->slots[kind];
  const char *key = bed_kind_get_info (kind)->key, *given = NULL;

  for (gsize i = 0; i < G_N_ELEMENTS (links); i++)
    {
      BedDraftReference *reference
          = links[i].made == kind ? find_reference (&self->slots[links[i].holder], links[i].field)
                                  : NULL;
      if (reference)
        given = reference->name;
    }
  if (given && slot->record && !bed_record_has (slot->record, key))
    bed_record_set_text (slot->record, key, given);
  if (given)
    slot->name = given;
  else if (slot->record && bed_record_has (slot->record, key))
    slot->name = keep (self, g_strdup (bed_record_get_text (slot->record, key)));
  else if (slot->record && !slot->name)
    slot->name = keep_contents (self, kind);
}

/* --- drafts ------------------------------------------------------------------------------------
 */

/* For as long as the row stands: what a row that is left out would have made, another makes. */
static gboolean
note_made (BedNotebook *self, BedKind kind, const char *name)
{
  g_autofree char *folded = bed_known_fold (name);
  g_autofree char *key = g_strdup_printf ("%d:%s", kind, folded);

  if (g_hash_table_contains (self->made, key))
    return FALSE;
  g_ptr_array_add (self->made_now, key);
  return g_hash_table_add (self->made, g_steal_pointer (&key));
}

static void
take_back (BedNotebook *self)
{
  for (guint i = 0; i < self->made_now->len; i++)
    g_hash_table_remove (self->made, self->made_now->pdata[i]);
}

static void
count_draft (BedNotebook *self, const BedNotebookDraft *draft)
{
  BedRecord *record = draft->record;
  BedKind kind = bed_record_get_kind (record);
  const BedKindInfo *info = bed_kind_get_info (kind);

  self->n_records[kind] += draft->times;
  for (guint i = 0; i < info->n_fields; i++)
    {
      const BedField *field = &info->fields[i];
      gint64 *sum, all;
      if (field->type != BED_FIELD_MEASURE || !bed_record_has (record, field->name))
        continue;
      sum = g_hash_table_lookup (self->sums, field);
      if (!sum)
        g_hash_table_insert (self->sums, (gpointer) field, sum = g_new0 (gint64, 1));
      /* Measures are whole and bounded each, their sum is not. */
      if (__builtin_mul_overflow (bed_record_get_int (record, field->name), draft->times, &all)
          || __builtin_add_overflow (*sum, all, sum))
        *sum = G_MAXINT64;
    }
}

static void
add_draft (BedNotebook *self, BedNotebookSlot *slot, BedDraftMaking making, guint times)
{
  BedNotebookDraft draft = { g_object_ref (slot->record),
                             making,
                             slot->name,
                             (const BedDraftReference *) slot->references->data,
                             slot->references->len,
                             times };

  g_ptr_array_add (self->held, draft.record);
  g_array_append_val (self->drafts, draft);
}

static void make_named (BedNotebook *self, BedKind kind, const char *name);

/* What a slot refers to and only has a name: a buyer, a stand, a strain, a batch. */
static void
make_referred (BedNotebook *self, BedKind kind)
{
  BedNotebookSlot *slot = &self->slots[kind];

  for (guint i = 0; i < slot->references->len; i++)
    {
      BedDraftReference reference = g_array_index (slot->references, BedDraftReference, i);
      BedKind refers = reference.field->refers;
      if (refers != BED_KIND_LOG && !bed_notebook_has (self, refers, reference.name)
          && !(self->slots[refers].record
               && g_strcmp0 (self->slots[refers].name, reference.name) == 0))
        make_named (self, refers, reference.name);
    }
}

static gboolean
is_made (BedNotebook *self, BedKind kind, const char *name)
{
  g_autofree char *folded = bed_known_fold (name);
  g_autofree char *key = g_strdup_printf ("%d:%s", kind, folded);

  return g_hash_table_contains (self->made, key);
}

/* Spawn is the batch's where it has no name of its own. */
static void
name_made (BedNotebook *self, BedKind kind)
{
  BedNotebookSlot *slot = &self->slots[kind];
  const char *batch = self->slots[BED_KIND_BATCH].name;

  name_slot (self, kind);
  if (kind == BED_KIND_SPAWN && batch && !bed_record_has (slot->record, "code"))
    slot->name = keep (self, g_strconcat (slot->name, " ", batch, NULL));
}

/* Completes what is in the slot and hands it over, unless it was before, or a shared one is in the
 * farm. */
static gboolean
make_slot (BedNotebook *self, BedKind kind, BedDraftMaking making)
{
  BedNotebookSlot *slot = &self->slots[kind];
  gboolean shared = making == BED_DRAFT_SHARED;

  if (slot->name
      && (is_made (self, kind, slot->name)
          || (shared && bed_notebook_has (self, kind, slot->name))))
    return FALSE;
  bed_notebook_complete (self, kind);
  if (self->left_out)
    return FALSE;
  if (shared && !slot->name)
    name_made (self, kind);
  if (slot->name && !note_made (self, kind, slot->name))
    return FALSE;
  make_referred (self, kind);
  if (!self->left_out)
    add_draft (self, slot, making, 1);
  return TRUE;
}

void
bed_notebook_make_times (BedNotebook *self, BedKind kind, guint times)
{
  if (!self->left_out)
    bed_notebook_complete (self, kind);
  if (!self->left_out)
    make_referred (self, kind);
  if (!self->left_out)
    add_draft (self, &self->slots[kind], BED_DRAFT_OWN, times);
}

static void
make_named (BedNotebook *self, BedKind kind, const char *name)
{
  BedNotebookSlot before = self->slots[kind], *slot = &self->slots[kind];

  if (is_made (self, kind, name))
    return;
  *slot = (BedNotebookSlot){ bed_notebook_new_named (self, kind, name), NULL,
                             g_array_new (FALSE, TRUE, sizeof (BedDraftReference)), TRUE };
  slot->name = keep (self, g_strdup (name));
  if (make_slot (self, kind, BED_DRAFT_SHARED))
    g_ptr_array_add (self->kept_references, g_array_ref (slot->references));
  g_object_unref (slot->record);
  g_array_unref (slot->references);
  *slot = before;
}

static gboolean
is_needed (BedNotebook *self, gsize link)
{
  const BedField *field = bed_kind_find_field (links[link].holder, links[link].field, NULL);

  return field->required && !find_reference (&self->slots[links[link].holder], links[link].field)
         && self->slots[links[link].holder].record;
}

/* What needs another that the row makes refers to it by its name. */
static void
refer_to_made (BedNotebook *self)
{
  for (gsize i = 0; i < G_N_ELEMENTS (links); i++)
    {
      BedNotebookSlot *holder = &self->slots[links[i].holder];
      const char *name = self->slots[links[i].made].name;
      if (holder->record && name && !find_reference (holder, links[i].field))
        bed_notebook_refer (self, holder,
                            bed_kind_find_field (links[i].holder, links[i].field, NULL), name, 0);
    }
}

/* The records beside the row's own. */
static void
make_besides (BedNotebook *self)
{
  if (self->slots[BED_KIND_SPAWN].record && self->kind != BED_KIND_SPAWN)
    bed_notebook_slot (self, BED_KIND_SPAWN_USED);
  for (gsize i = 0; i < G_N_ELEMENTS (links); i++)
    if (is_needed (self, i))
      bed_notebook_slot (self, links[i].made);
  name_slot (self, BED_KIND_BATCH);
  for (const BedKind *kind = bed_notebook_besides (self->kind);
       *kind != BED_N_KINDS && !self->left_out; kind++)
    {
      gboolean pair = *kind == BED_KIND_RAIN || *kind == BED_KIND_TEMPERATURE;
      if (!self->slots[*kind].record || *kind == self->kind || *kind == BED_KIND_SPAWN_USED
          || *kind == BED_KIND_LOG)
        continue;
      if (!make_slot (self, *kind, pair ? BED_DRAFT_OWN : BED_DRAFT_SHARED)
          && *kind == BED_KIND_SPAWN)
        bed_notebook_empty_slot (self, BED_KIND_SPAWN_USED); /* its use is known, too */
    }
  refer_to_made (self);
}

/* --- rows
 * ----------------------------------------------------------------------------------------- */

static gboolean
decides_row (const BedNotebookMatch *match)
{
  return match->turned || match->is_income;
}

static void
read_cell (BedNotebook *self, const BedNotebookLine *line, guint column)
{
  gboolean crosswise = self->layout.crossing->len > 0;
  guint cell = crosswise ? column : g_array_index (self->layout.columns, guint, column);

  if (cell < line->n_cells)
    bed_notebook_read_cell (self, column, line->cells[cell], line->kinds[cell]);
}

/* First those that may set the row aside: of what is, nothing is asked. */
static void
read_cells (BedNotebook *self, const BedNotebookLine *line)
{
  for (guint i = 0; i < self->matches->len; i++)
    if (decides_row (&g_array_index (self->matches, BedNotebookMatch, i)))
      read_cell (self, line, i);
  for (guint i = 0; i < self->matches->len && !self->left_out; i++)
    if (!decides_row (&g_array_index (self->matches, BedNotebookMatch, i)))
      read_cell (self, line, i);
}

/* The price of a sale of which only that of one lb or kg is said: of the unit of its head, else of
 * the column of the mass. */
static void
reckon_price (BedNotebook *self)
{
  BedNotebookSlot *slot = &self->slots[BED_KIND_LINE];
  guint column = bed_notebook_find_column (self, BED_KIND_LINE, "mass");
  const char *unit = self->each_unit ? self->each_unit
                     : column > 0    ? bed_notebook_get_column (self, column - 1)->unit
                                     : "";
  gint64 one;

  if (self->each <= 0 || !slot->record || !bed_record_has (slot->record, "mass")
      || bed_record_has (slot->record, "price")
      || !bed_measure_parse_in (BED_MEASURE_MASS, &self->notation, unit, "1", &one, NULL))
    return;
  double price = (double) bed_record_get_int (slot->record, "mass") / one * self->each;
  if (price < 1e15)
    bed_record_set_int (slot->record, "price", llround (price));
}

static gboolean
is_filled (BedNotebook *self)
{
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    if (self->slots[kind].record && self->slots[kind].filled)
      return TRUE;
  return FALSE;
}

static gboolean
has_key (BedNotebookSlot *slot)
{
  const char *key = bed_kind_get_info (bed_record_get_kind (slot->record))->key;

  return key && bed_record_has (slot->record, key);
}

static void
make_drafts (BedNotebook *self)
{
  BedNotebookSlot *own = bed_notebook_slot (self, self->kind);

  bed_notebook_begin_counted (self);
  make_besides (self);
  if (!self->left_out && has_key (own))
    name_slot (self, self->kind);
  if (!self->left_out)
    make_slot (self, self->kind, BED_DRAFT_OWN);
  if (!self->left_out && self->slots[BED_KIND_SPAWN_USED].record)
    make_slot (self, BED_KIND_SPAWN_USED, BED_DRAFT_OWN);
  if (self->kind == BED_KIND_BATCH)
    bed_notebook_make_counted (self);
}

static void
count_day (BedNotebook *self)
{
  BedKind of = BED_N_KINDS;
  const BedField *field = bed_notebook_date_of (self->kind, &of);
  const char *day = field && self->slots[of].record
                        ? bed_record_get_text (self->slots[of].record, field->name)
                        : NULL;

  if (!day)
    return;
  if (!*self->first_day || strncmp (day, self->first_day, 10) < 0)
    g_strlcpy (self->first_day, day, 11);
  if (strncmp (day, self->last_day, 10) > 0)
    g_strlcpy (self->last_day, day, 11);
}

static void
begin_row (BedNotebook *self)
{
  g_ptr_array_set_size (self->waiting, 0);
  g_ptr_array_set_size (self->made_now, 0);
  g_ptr_array_set_size (self->kept, 0);
  g_ptr_array_set_size (self->held, 0);
  g_ptr_array_set_size (self->kept_references, 0);
  g_array_set_size (self->drafts, 0);
  empty_slots (self);
  self->left_out = BED_ASIDE_NOT;
  self->each = 0;
  self->each_unit = NULL;
  self->n_logs = self->n_left = -1;
}

const BedNotebookRow *
bed_notebook_read_line (BedNotebook *self, const BedNotebookLine *line)
{
  begin_row (self);
  read_cells (self, line);
  reckon_price (self);
  if (!self->left_out && !is_filled (self))
    self->left_out = BED_ASIDE_OTHER;
  if (!self->left_out)
    make_drafts (self);
  if (self->left_out)
    {
      take_back (self);
      return NULL;
    }
  for (guint i = 0; i < self->drafts->len; i++)
    count_draft (self, &g_array_index (self->drafts, BedNotebookDraft, i));
  count_day (self);
  self->row = (BedNotebookRow){ line->line, (const BedNotebookDraft *) self->drafts->data,
                                self->drafts->len };
  return &self->row;
}
