#pragma once

#include "model/farm/kind.h"
#include <glib-object.h>

/* One record: a kind, an id (0 until it is first put into an edit) and a value
 * for each field of the kind, any of which may be unset. A plain draft: nothing
 * is checked or stored before a BedEdit commits it. */
#define BED_TYPE_RECORD (bed_record_get_type ())
G_DECLARE_FINAL_TYPE (BedRecord, bed_record, BED, RECORD, GObject)

/* Where its id comes from. */
typedef enum
{
  BED_RECORD_NEW,    /* to be added: no id yet, or one that an edit gave it */
  BED_RECORD_NAMED,  /* the id was set from outside: changes that record, or adds it */
  BED_RECORD_LOADED, /* read from the farm or written there: it knows what is stored */
} BedRecordOrigin;

/* Both are owned by the caller; a copy has the id, the origin and what was stored of the first. */
BedRecord *bed_record_new (BedKind kind);
BedRecord *bed_record_copy (BedRecord *self);

BedKind bed_record_get_kind (BedRecord *self);
gint64 bed_record_get_id (BedRecord *self);

/* It is then NAMED (0: NEW), and knows nothing of what is stored. */
void bed_record_set_id (BedRecord *self, gint64 id);
BedRecordOrigin bed_record_get_origin (BedRecord *self);

/* Fields are named; an unknown name is a programmer's mistake (critical).
 * Unset integers read as 0, unset texts as NULL. Texts are borrowed until the
 * field is set again. Setting an empty text unsets it; in a text that is not UTF-8
 * U+FFFD stands for each byte that is none. */
gboolean bed_record_has (BedRecord *self, const char *field);
gint64 bed_record_get_int (BedRecord *self, const char *field);
const char *bed_record_get_text (BedRecord *self, const char *field);
/* What people call it by, from its kind's key; NULL where it has none. */
const char *bed_record_get_name (BedRecord *self);
void bed_record_set_int (BedRecord *self, const char *field, gint64 value);
void bed_record_set_text (BedRecord *self, const char *field, const char *value);
void bed_record_unset (BedRecord *self, const char *field);

/* The same field copied from another record of the same kind. */
void bed_record_take_field (BedRecord *self, BedRecord *from, const char *field);

/* Whether the field has another value in @other, of the same kind. */
gboolean bed_record_differs (BedRecord *self, BedRecord *other, const char *field);

/* --- two at work on one record -----------------------------------------------
 * A loaded record remembers what was stored when it was read or last written. @stored is the
 * same record as it is in the farm now (bed_farm_load). */

/* Whether the field is another than what the record knows to be stored; TRUE of one that does not
 * know. */
gboolean bed_record_is_changed (BedRecord *self, const char *field);

/* Whether the field was changed here and there, to different values. */
gboolean bed_record_is_torn (BedRecord *self, BedRecord *stored, const char *field);

/* Takes over what was changed there and not here; how many fields are torn. They stay as they
 * are here, and torn, until one is settled. */
guint bed_record_merge (BedRecord *self, BedRecord *stored);

/* Settles a field: it stays as it is here, in the knowledge of what is stored ("keep mine");
 * with bed_record_take_field() from @stored it becomes that ("take theirs"). */
void bed_record_rebase (BedRecord *self, BedRecord *stored, const char *field);
