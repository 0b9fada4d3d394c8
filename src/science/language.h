#pragma once

/* The reader's language: where its texts are, and how words are put together in it. */

/* First of all in a program. The texts are in @folder, LANGUAGE/LC_MESSAGES/bedlog.mo; a build that
 * is not installed names its own by BEDLOG_LOCALEDIR. */
void bed_language_begin (const char *folder);

/* One and several, in a table: a pair for ngettext (), which xgettext takes together. */
#define NP_(one, several)                                                                          \
  {                                                                                                \
    one, several                                                                                   \
  }

/* A word and what it is said of, in a table: gettext's context, for one English word may need two
 * elsewhere. */
#define OF_(what, word) word, what

/* Between the names of a list: ", ". */
const char *bed_comma (void);

/* Between what has commas itself: "; ". */
const char *bed_semicolon (void);

/* "Hollow: 12 kg"; owned by the caller. */
char *bed_dup_labelled (const char *label, const char *value);
