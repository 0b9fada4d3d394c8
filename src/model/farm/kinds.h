#pragma once

#include "model/farm/kind.h"
#include "science/measure.h"
#include <glib.h>

/* The kinds of record and their fields: the one table that forms, columns, CSV
 * heads, messages, the audit text and docs/file-format.md all read.
 *
 * A kind is an SQL table of the same name, a CSV file of the same name and a
 * form. A field is an SQL column, a CSV head and an entry of the same name.
 */

typedef enum
{
  BED_FIELD_TEXT,      /* one line of text */
  BED_FIELD_NOTE,      /* several lines of text */
  BED_FIELD_DATE,      /* text YYYY-MM-DD */
  BED_FIELD_MOMENT,    /* text YYYY-MM-DDTHH:MM, farm time */
  BED_FIELD_CHOICE,    /* text, one of the keys of ->choices */
  BED_FIELD_REFERENCE, /* integer, the id of a record of kind ->refers */
  BED_FIELD_MEASURE,   /* integer in the unit science/units.h names for ->measure */
} BedFieldType;

typedef struct
{
  const char *key;   /* stored, written to CSV */
  const char *label; /* OF_(), shown by bed_choice_get_word () */
  const char *of;
} BedChoice;

struct _BedField
{
  const char *name;  /* SQL column, CSV head, name a widget binds to */
  const char *label; /* N_() */
  BedFieldType type;
  BedMeasure measure;       /* MEASURE only */
  BedKind refers;           /* REFERENCE only */
  gboolean loose;           /* REFERENCE only: its record stays when the other is removed */
  const BedChoice *choices; /* CHOICE only; ends with a NULL key */
  gboolean required;
  gint64 lowest, highest; /* MEASURE only, both included; both 0: no limit but >= 0 */
  guint longest;          /* TEXT and NOTE only: characters */
  gboolean year_day;      /* TEXT only: a day of every year, MM-DD */
  gboolean points;        /* TEXT only: points of a drawing, see points.h */
  const char *help;       /* N_() or NULL: what to enter, with its source where it has one */
};

struct _BedKindInfo
{
  const char *name;     /* SQL table and CSV file */
  const char *singular; /* N_() "log" */
  const char *plural;   /* N_() "logs" */
  const char *key;      /* the unique field people name a record by; NULL: nothing refers to it */
  const BedField *fields;
  guint n_fields;
};

/* Never NULL for a kind below BED_N_KINDS; static. */
const BedKindInfo *bed_kind_get_info (BedKind kind);

/* The kind of that table name, or BED_N_KINDS. */
BedKind bed_kind_from_name (const char *name);

/* The field of that name and, through @index (may be NULL), its place; NULL when there is none. */
const BedField *bed_kind_find_field (BedKind kind, const char *name, guint *index);

/* Translated. */
const char *bed_choice_get_word (const BedChoice *choice);

/* The shown word for @key (translated), or @key itself when it is none of the choices. */
const char *bed_field_choice_label (const BedField *field, const char *key);
