#pragma once

#include "model/farm/farm.h"

/* Records by the names that people type, with the likely right name for a mistyped one. */

/* The id of the record of @kind that people call @name (its key field, ignoring case), or 0 with
 * NOT_FOUND and a sentence that offers the nearest names there are. A log may be named without its
 * check character, or by the own number that no other log has. */
gint64 bed_farm_find (BedFarm *self, BedKind kind, const char *name, GError **error);

/* The same by the key field alone: 0 and no error when there is none of that name. */
gint64 bed_farm_find_named (BedFarm *self, BedKind kind, const char *name, GError **error);
/* The one log with the own number @mark: 0 and no error when there is none, NOT_FOUND and which
 * there are when there are several. */
gint64 bed_farm_find_marked (BedFarm *self, const char *mark, GError **error);

/* Edits (insert, delete, replace, swap of neighbours) between two texts, ignoring case;
 * G_MAXUINT where one is longer than any name. */
guint bed_near_distance (const char *a, const char *b);

/* The nearest to @name of @n texts, borrowed; NULL when none is within a part of its length: of
 * @part 3 a third. Texts that are NULL are passed over. */
const char *bed_near_choose (const char *name, const char *const *texts, guint n, guint part);

/* Sets NOT_FOUND: there is no such record, and which there are that are near. */
void bed_near_set_error (BedFarm *farm, BedKind kind, const char *name, GError **error);

/* The nearest name of that kind, or NULL when none is within a third of its length. */
char *bed_near_dup_name (BedFarm *farm, BedKind kind, const char *name);
