/* What is said of a kind of record, in sentences that no language has to put together from a kind's
 * word and a rest: articles, endings and orders differ. */
#pragma once

#include "model/farm/kinds.h"

/* "New felling": of a kind that has a form. */
const char *bed_kind_get_new (BedKind kind);

/* "Change felling F26-1", or "Change purchase" of what has no name; @name may be NULL. */
char *bed_kind_dup_change (BedKind kind, const char *name);

/* "Purchase" over the facts of one: of a kind without names that is read beside its table. */
const char *bed_kind_get_heading (BedKind kind);

/* "batch 26A", to stand in a list or after a colon; the kind alone where @name is NULL. */
char *bed_kind_dup_named (BedKind kind, const char *name);

/* "log 1234", by its number in the file. */
char *bed_kind_dup_numbered (BedKind kind, gint64 id);

/* "3 logs" */
char *bed_kind_dup_count (BedKind kind, guint64 n);

/* "There is no batch “26X”.": of a kind that has names. */
char *bed_kind_dup_missing (BedKind kind, const char *name);
