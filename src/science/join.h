#pragma once

/* What stands between words that are put one after the other, as the language has it. */

/* One and several, in a table: a pair for ngettext (), which xgettext takes together. */
#define NP_(one, several)                                                                          \
  {                                                                                                \
    one, several                                                                                   \
  }

/* Between the names of a list: ", ". */
const char *bed_comma (void);

/* Between what has commas itself: "; ". */
const char *bed_semicolon (void);

/* "Hollow: 12 kg"; owned by the caller. */
char *bed_dup_labelled (const char *label, const char *value);
