#pragma once

#include "model/farm/edit.h"
#include "model/farm/rules.h"
#include <sqlite3.h>

/* The files of the edit among themselves. */

typedef enum
{
  BED_EDIT_WRITE,
  BED_EDIT_CHECK,
  BED_EDIT_TRY, /* a check that waits for nobody */
} BedEditPurpose;

typedef struct
{
  BedRecord *record; /* NULL: a removal */
  BedKind kind;
  gint64 id;
  gboolean stored;   /* it is in the farm already */
  gboolean dropped;  /* put new into this edit and taken out again: nothing to remove */
  gboolean refused;  /* its own fields are wrong, so it was not written */
  gboolean leans;    /* on a refused one, directly or not */
  BedRecord *before; /* as it is stored, while this edit is under way; NULL: it is new */
  char *name;        /* of a removed record */
} BedEditItem;

/* What is kept of the records of rounds that are over. */
typedef struct
{
  BedRulesSpan span[BED_N_KINDS]; /* of the new ones that were written */
  GHashTable *refused;            /* ids of new ones that were not, or lean on such */
  guint written;                  /* of the items, which are changes then */
  gboolean all_new;               /* nothing but new ones, and none refused */
  gboolean wrong;                 /* a fault was found that stops the commit */
  gint64 next_id, ids_end;        /* kept for the next ones */
} BedEditRounds;

struct _BedEdit
{
  BedFarm *farm;
  GPtrArray *items;
  GHashTable *by_id; /* id -> BedEditItem, borrowed */
  GPtrArray *faults;
  BedEditPurpose purpose;
  BedEditItem *taken;       /* its id is another's: see renumber() */
  gboolean held;            /* by another that writes: the rest is checked by itself alone */
  gint64 change;            /* what the last commit recorded */
  BedEditRounds *rounds;    /* NULL: it is not in rounds */
  sqlite3_session *session; /* while it is under way, or NULL */
};

/* edit_ask.c: whether @item refers to a record that was refused, or to one that does. */
gboolean bed_edit_leans (BedEdit *self, const BedEditItem *item);

/* Rules across records, once all are written. */
void bed_edit_ask_rules (BedEdit *self);
