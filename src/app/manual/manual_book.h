#pragma once

#include <glib.h>

/* The pages of the manual, which the program carries: docs/manual, in the order of contents.md:
 * each in the reader's language where docs/manual/LL has it, else in English. */

typedef struct
{
  const char *name;  /* of its file: "soaking.md" */
  const char *title; /* its first heading, or what the contents of another language call it */
  const char *text;  /* as written */
  char **topics;     /* what F1 opens it for: its first line, <!-- F1: soaking soak --> */
  char *folded;      /* its words in small letters, to be searched */
} BedManualPage;

/* All pages, borrowed for good. */
const BedManualPage *bed_manual_get_pages (guint *n_pages);

/* Index of the page of that file, or for that topic; -1 where there is none. */
int bed_manual_find (const char *name);
int bed_manual_find_topic (const char *topic);

/* Whether every word of @words is in the page. */
gboolean bed_manual_page_has (const BedManualPage *page, const char *words);
