#include "model/record.h"

#include <string.h>

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
  Value *values;
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

static void
bed_record_finalize (GObject *object)
{
  BedRecord *self = BED_RECORD (object);

  for (guint i = 0; self->values && i < bed_kind_get_info (self->kind)->n_fields; i++)
    clear (&self->values[i]);
  g_free (self->values);
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
  for (guint i = 0; i < bed_kind_get_info (self->kind)->n_fields; i++)
    copy_value (&copy->values[i], &self->values[i]);
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

void
bed_record_set_int (BedRecord *self, const char *field, gint64 number)
{
  g_return_if_fail (BED_IS_RECORD (self));
  Value *value = value_of (self, field);

  if (!value)
    return;
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
  char *copy = text && *text ? g_strdup (text) : NULL;
  clear (value);
  value->text = copy;
  value->set = copy != NULL;
}

void
bed_record_unset (BedRecord *self, const char *field)
{
  g_return_if_fail (BED_IS_RECORD (self));
  Value *value = value_of (self, field);

  if (value)
    clear (value);
}

void
bed_record_take_field (BedRecord *self, BedRecord *from, const char *field)
{
  g_return_if_fail (BED_IS_RECORD (self) && BED_IS_RECORD (from) && self->kind == from->kind);
  Value *to = value_of (self, field);

  if (to && self != from)
    copy_value (to, value_of (from, field));
}
