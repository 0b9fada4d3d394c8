#pragma once

#include <glib-object.h>
#include "model/kinds.h"

G_BEGIN_DECLS

/* One record: a kind, an id (0 until it is first put into an edit) and a value
 * for each field of the kind, any of which may be unset. A plain draft: nothing
 * is checked or stored before a BedEdit commits it. */
#define BED_TYPE_RECORD (bed_record_get_type ())
G_DECLARE_FINAL_TYPE (BedRecord, bed_record, BED, RECORD, GObject)

/* Both are owned by the caller; a copy has the id of the first. */
BedRecord *bed_record_new (BedKind kind);
BedRecord *bed_record_copy (BedRecord *self);

BedKind bed_record_get_kind (BedRecord *self);
gint64 bed_record_get_id (BedRecord *self);
void bed_record_set_id (BedRecord *self, gint64 id);

/* Fields are named; an unknown name is a programmer's mistake (critical).
 * Unset integers read as 0, unset texts as NULL. Texts are borrowed until the
 * field is set again. Setting an empty text unsets it. */
gboolean bed_record_has (BedRecord *self, const char *field);
gint64 bed_record_get_int (BedRecord *self, const char *field);
const char *bed_record_get_text (BedRecord *self, const char *field);
void bed_record_set_int (BedRecord *self, const char *field, gint64 value);
void bed_record_set_text (BedRecord *self, const char *field, const char *value);
void bed_record_unset (BedRecord *self, const char *field);

/* The same field copied from another record of the same kind. */
void bed_record_take_field (BedRecord *self, BedRecord *from, const char *field);

G_END_DECLS
