#pragma once

#include <glib.h>

/* Heads and feet of printed pages are little programs (ECMA-376 part 1, 18.3.1.46): & begins a
 * command, the figures after one for a size belong to it, and a whole head holds at most 255
 * characters. */

/* Adds @text to the part @where ("&L", "&C", "&R") of @page in that font ("Arial,Bold") and size,
 * so that it stands as it was written, whatever is in it. Cut with … where it is long. */
typedef struct
{
  const char *where;
  const char *font;
  int size;
} BedPageText;

void bed_page_text_append (GString *page, const BedPageText *how, const char *text);
