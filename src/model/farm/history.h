#pragma once

#include "model/farm/farm.h"

/* What was done, by whom, and back again. It lives in the farm file, so undo
 * outlives closing it. */

typedef enum
{
  BED_CHANGE_DO,
  BED_CHANGE_UNDO, /* took another back */
  BED_CHANGE_REDO, /* put another forward again */
} BedChangeRole;

typedef struct
{
  gint64 id;
  BedChangeRole role;
  char *at; /* YYYY-MM-DDTHH:MM */
  char *who;
  char *sentence;  /* of the work itself, whichever role */
  gboolean undone; /* it has been taken back since */
  gint64 undoes;   /* the change it took back or put forward again, or 0 */
} BedChange;

/* The change the next undo or redo would reverse, or 0; the sentence of any change, owned by
 * the caller, NULL when there is none. */
gint64 bed_history_find_undo (BedFarm *farm);
gint64 bed_history_find_redo (BedFarm *farm);
char *bed_history_dup_sentence (BedFarm *farm, gint64 change);

/* NOTHING when there is none. CONFLICT when something was done elsewhere since the views of this
 * farm were last told: nobody takes back what they have not seen. They are told then, and the
 * next call takes back the newest. @sentence (may be NULL) gets what was undone. */
gboolean bed_history_undo (BedFarm *farm, char **sentence, GError **error);
gboolean bed_history_redo (BedFarm *farm, char **sentence, GError **error);

/* The same for exactly that change, as a button names it; CONFLICT when it is not, or is no
 * longer, the one that would be reversed. */
gboolean bed_history_undo_named (BedFarm *farm, gint64 change, char **sentence, GError **error);
gboolean bed_history_redo_named (BedFarm *farm, gint64 change, char **sentence, GError **error);

/* Takes back one change that need not be the last; CONFLICT when later changes rest on it. */
gboolean bed_history_put_back (BedFarm *farm, gint64 change, GError **error);

/* Whether that would be done, without doing it; why not otherwise. It waits for nobody: BUSY while
 * another program writes. Not while something is being read. */
gboolean bed_history_try_put_back (BedFarm *farm, gint64 change, GError **error);

/* Newest first, at most @most (0: all); element BedChange. */
GPtrArray *bed_history_list (BedFarm *farm, guint most, GError **error);

/* One field of one record, before and after, for people (either may be NULL). */
typedef struct
{
  char *record; /* "log 26A-017-K" */
  char *field;  /* label */
  char *from;
  char *to;
} BedDifference;

/* What a change did, field by field; element BedDifference. */
GPtrArray *bed_history_differences (BedFarm *farm, gint64 change);

/* All of that in one text, to find a change by: which records, and what stood in them; borrowed
 * from the farm. In SQL: bed_change_words (id). */
const char *bed_history_get_words (BedFarm *farm, gint64 change);
