#include "model/farm/record_private.h"

#include <string.h>

#include "model/farm/kinds.h"

typedef struct
{
  gboolean set;
  gint64 number;
  char *text;
} Value;

struct _BedRecord
{
  GObject parent_instance;
  BedKind kind;
  gint64 id;
  BedRecordOrigin origin;
  Value *values;
  Value *base; /* what was stored, of a loaded record; NULL while the values are that */
};

G_DEFINE_FINAL_TYPE (BedRecord, bed_record, G_TYPE_OBJECT)

static Value *
value_of (BedRecord *self, const char *field)
{
  guint index;

  if (!bed_kind_find_field (self->kind, field, &index))
    {
      g_critical ("%s has no field %s", bed_kind_get_info (self->kind)->name, field);
      return NULL;
    }
  return &self->values[index];
}

static void
clear (Value *value)
{
  g_clear_pointer (&value->text, g_free);
  value->number = 0;
  value->set = FALSE;
}

static void
copy_value (Value *to, const Value *from)
{
  char *text = g_strdup (from->text);

  clear (to);
  *to = (Value){ from->set, from->number, text };
}

static gboolean
same (const Value *a, const Value *b)
{
  if (!a || !b)
    return a == b;
  return a->set == b->set && a->number == b->number && g_strcmp0 (a->text, b->text) == 0;
}

static guint
count_fields (BedRecord *self)
{
  return bed_kind_get_info (self->kind)->n_fields;
}

static Value *
dup_values (BedRecord *self, const Value *values)
{
  Value *copy = g_new0 (Value, count_fields (self));

  for (guint i = 0; i < count_fields (self); i++)
    copy_value (&copy[i], &values[i]);
  return copy;
}

static void
free_values (BedRecord *self, Value *values)
{
  for (guint i = 0; values && i < count_fields (self); i++)
    clear (&values[i]);
  g_free (values);
}

/* The stored value, which is kept apart from the first change on. */
static Value *
base_of (BedRecord *self, guint index)
{
  if (self->origin != BED_RECORD_LOADED)
    return NULL;
  return self->base ? &self->base[index] : &self->values[index];
}

static void
part_from_base (BedRecord *self)
{
  if (self->origin == BED_RECORD_LOADED && !self->base)
    self->base = dup_values (self, self->values);
}

static void
forget_base (BedRecord *self)
{
  free_values (self, self->base);
  self->base = NULL;
}

static void
bed_record_finalize (GObject *object)
{
  BedRecord *self = BED_RECORD (object);

  free_values (self, self->values);
  free_values (self, self->base);
  G_OBJECT_CLASS (bed_record_parent_class)->finalize (object);
}

static void
bed_record_class_init (BedRecordClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = bed_record_finalize;
}

static void
bed_record_init (BedRecord *self)
{
}

BedRecord *
bed_record_new (BedKind kind)
{
  g_return_val_if_fail (kind < BED_N_KINDS, NULL);
  BedRecord *self = g_object_new (BED_TYPE_RECORD, NULL);

  self->kind = kind;
  self->values = g_new0 (Value, bed_kind_get_info (kind)->n_fields);
  return self;
}

BedRecord *
bed_record_copy (BedRecord *self)
{
  g_return_val_if_fail (BED_IS_RECORD (self), NULL);
  BedRecord *copy = bed_record_new (self->kind);

  copy->id = self->id;
  copy->origin = self->origin;
  for (guint i = 0; i < count_fields (self); i++)
    copy_value (&copy->values[i], &self->values[i]);
  copy->base = self->base ? dup_values (self, self->base) : NULL;
  return copy;
}

BedKind
bed_record_get_kind (BedRecord *self)
{
  g_return_val_if_fail (BED_IS_RECORD (self), BED_N_KINDS);
  return self->kind;
}

gint64
bed_record_get_id (BedRecord *self)
{
  g_return_val_if_fail (BED_IS_RECORD (self), 0);
  return self->id;
}

void
bed_record_set_id (BedRecord *self, gint64 id)
{
  g_return_if_fail (BED_IS_RECORD (self));
  self->id = id;
  self->origin = id ? BED_RECORD_NAMED : BED_RECORD_NEW;
  forget_base (self);
}

void
bed_record_give_id (BedRecord *self, gint64 id)
{
  g_return_if_fail (BED_IS_RECORD (self));
  bed_record_set_id (self, id);
  self->origin = BED_RECORD_NEW;
}

BedRecordOrigin
bed_record_get_origin (BedRecord *self)
{
  g_return_val_if_fail (BED_IS_RECORD (self), BED_RECORD_NEW);
  return self->origin;
}

void
bed_record_set_stored (BedRecord *self)
{
  g_return_if_fail (BED_IS_RECORD (self));
  self->origin = BED_RECORD_LOADED;
  forget_base (self);
}

gboolean
bed_record_has (BedRecord *self, const char *field)
{
  g_return_val_if_fail (BED_IS_RECORD (self), FALSE);
  Value *value = value_of (self, field);

  return value && value->set;
}

gint64
bed_record_get_int (BedRecord *self, const char *field)
{
  g_return_val_if_fail (BED_IS_RECORD (self), 0);
  Value *value = value_of (self, field);

  return value ? value->number : 0;
}

const char *
bed_record_get_text (BedRecord *self, const char *field)
{
  g_return_val_if_fail (BED_IS_RECORD (self), NULL);
  Value *value = value_of (self, field);

  return value ? value->text : NULL;
}

const char *
bed_record_get_name (BedRecord *self)
{
  g_return_val_if_fail (BED_IS_RECORD (self), NULL);
  const char *key = bed_kind_get_info (self->kind)->key;

  return key ? bed_record_get_text (self, key) : NULL;
}

void
bed_record_set_int (BedRecord *self, const char *field, gint64 number)
{
  g_return_if_fail (BED_IS_RECORD (self));
  Value *value = value_of (self, field);

  if (!value)
    return;
  part_from_base (self);
  clear (value);
  value->number = number;
  value->set = TRUE;
}

void
bed_record_set_text (BedRecord *self, const char *field, const char *text)
{
  g_return_if_fail (BED_IS_RECORD (self));
  Value *value = value_of (self, field);

  if (!value)
    return;
  /* A column of a strange file may hold any bytes; Pango, PDF and XML take none but UTF-8. */
  char *copy = text && *text ? g_utf8_make_valid (text, -1) : NULL;
  part_from_base (self);
  clear (value);
  value->text = copy;
  value->set = copy != NULL;
}

void
bed_record_unset (BedRecord *self, const char *field)
{
  g_return_if_fail (BED_IS_RECORD (self));
  Value *value = value_of (self, field);

  if (!value)
    return;
  part_from_base (self);
  clear (value);
}

void
bed_record_take_field (BedRecord *self, BedRecord *from, const char *field)
{
  g_return_if_fail (BED_IS_RECORD (self) && BED_IS_RECORD (from) && self->kind == from->kind);
  Value *to = value_of (self, field);
  const Value *taken = value_of (from, field);

  if (!to || !taken || self == from)
    return;
  part_from_base (self);
  copy_value (to, taken);
}

gboolean
bed_record_differs (BedRecord *self, BedRecord *other, const char *field)
{
  g_return_val_if_fail (BED_IS_RECORD (self) && BED_IS_RECORD (other) && self->kind == other->kind,
                        FALSE);
  Value *value = value_of (self, field);

  return value && !same (value, value_of (other, field));
}

gboolean
bed_record_is_torn (BedRecord *self, BedRecord *stored, const char *field)
{
  guint index;

  g_return_val_if_fail (
      BED_IS_RECORD (self) && BED_IS_RECORD (stored) && self->kind == stored->kind, FALSE);
  if (!bed_kind_find_field (self->kind, field, &index) || !base_of (self, index))
    return FALSE;
  const Value *base = base_of (self, index), *mine = &self->values[index];
  const Value *theirs = &stored->values[index];
  return !same (mine, base) && !same (theirs, base) && !same (mine, theirs);
}

gboolean
bed_record_is_changed (BedRecord *self, const char *field)
{
  guint index;

  g_return_val_if_fail (BED_IS_RECORD (self), FALSE);
  if (!bed_kind_find_field (self->kind, field, &index) || !base_of (self, index))
    return TRUE;
  return !same (base_of (self, index), &self->values[index]);
}

void
bed_record_rebase (BedRecord *self, BedRecord *stored, const char *field)
{
  guint index;

  g_return_if_fail (BED_IS_RECORD (self) && BED_IS_RECORD (stored) && self->kind == stored->kind
                    && self != stored);
  if (!bed_kind_find_field (self->kind, field, &index) || !base_of (self, index))
    return;
  part_from_base (self);
  copy_value (&self->base[index], &stored->values[index]);
}

guint
bed_record_merge (BedRecord *self, BedRecord *stored)
{
  guint n_torn = 0;

  g_return_val_if_fail (BED_IS_RECORD (self) && BED_IS_RECORD (stored) && self->kind == stored->kind
                            && self != stored,
                        0);
  for (guint i = 0; self->origin == BED_RECORD_LOADED && i < count_fields (self); i++)
    {
      const char *field = bed_kind_get_info (self->kind)->fields[i].name;
      if (same (base_of (self, i), &stored->values[i]))
        continue;
      if (bed_record_is_torn (self, stored, field))
        {
          n_torn++;
          continue;
        }
      /* Changed there alone, or to the same on both sides. */
      bed_record_rebase (self, stored, field);
      copy_value (&self->values[i], &stored->values[i]);
    }
  return n_torn;
}
