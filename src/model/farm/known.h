#pragma once

#include "model/farm/kind.h"
#include <glib.h>

/* Woods and mushrooms by the names people have for them: trade, regional and Latin names in
 * several languages, data/notebook/names.csv, and by those that a new farm has them under in the
 * reader's language, data/given/names.csv. */

typedef enum
{
  BED_KNOWN_NOT,
  BED_KNOWN_ONE,
  BED_KNOWN_SEVERAL, /* "red oak": which, only a person can say */
} BedKnownName;

/* @latin (NULL-terminated, borrowed for good) the Latin names that @name may stand for. */
BedKnownName bed_known_find (BedKind kind, const char *name, const char *const **latin);

/* All names of the species @latin of the kind of that name, with and without accents, in one text
 * to be searched; "" where none is known. */
const char *bed_known_get_names (const char *kind, const char *latin);

/* What a species is called in the reader's language, its Latin name where no name is settled there;
 * NULL in a language without names, where the given ones stay as they are. Borrowed for good. */
const char *bed_known_get_given (BedKind kind, const char *latin);

/* @text for comparing: small letters without accents, words parted by one space, marks left out;
 * what people write for "number" is "no". Owned by the caller. */
char *bed_known_fold (const char *text);
