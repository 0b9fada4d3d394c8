#pragma once

#include <glib.h>

/* The pages of the manual are written in a part of Markdown, read here into blocks: headings with
 * #, paragraphs, lists with * or 1., tables with |, pictures on a line of their own, lines indented
 * by four. Within them **bold**, *slanted*, `typed` and [links](page.md#heading). */

typedef enum
{
  BED_BLOCK_HEADING,
  BED_BLOCK_WORDS,
  BED_BLOCK_POINT, /* of a list; ->mark is "•" or "1." */
  BED_BLOCK_TABLE,
  BED_BLOCK_PICTURE,
  BED_BLOCK_TYPED,
} BedManualBlockKind;

typedef struct
{
  BedManualBlockKind kind;
  int level;        /* of a heading, 1 to 3 */
  char *mark;       /* of a point */
  char *text;       /* what it says; of a picture what is told of it */
  char *target;     /* of a picture: its file */
  GPtrArray *cells; /* of a table: char *, row after row, the first is its head */
  guint n_columns;
} BedManualBlock;

/* Elements BedManualBlock. Free with g_ptr_array_unref(). */
GPtrArray *bed_manual_read (const char *text);

/* What stands in a block, as Pango's markup; links are underlined and carry their target. And with
 * nothing but the words. Owned by the caller. */
char *bed_manual_dup_markup (const char *text);
char *bed_manual_dup_plain (const char *text);
