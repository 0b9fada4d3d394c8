#pragma once

#include <glib.h>

/* For the model room only: what stands on the pages of an SQLite file, read without SQLite, so
 * that damage in one page hides no other (https://sqlite.org/fileformat2.html). Whatever the
 * bytes are, it ends, and reads only within them. */

/* Bytes of a row, and of a value in it, that are still read, here and by SQLite: what an import of
 * a million records changed is the longest there is; two or three copies lie in memory at once. */
#define BED_PAGES_LONGEST (64 << 20)

typedef enum
{
  BED_PAGE_CELL_NULL,
  BED_PAGE_CELL_INTEGER,
  BED_PAGE_CELL_TEXT,
  BED_PAGE_CELL_OTHER, /* a real number or a blob; number holds none */
} BedCellType;

typedef struct
{
  BedCellType type;
  gint64 number;
  const guchar *bytes; /* of TEXT and of a blob */
  gsize size;
} BedPageCell;

typedef struct _BedPages BedPages;

/* A row of a table (@id its rowid) or of an index (@id 0). Cells are borrowed. */
typedef void (*BedPagesRowFunc) (gint64 id, const BedPageCell *cells, guint n_cells, gpointer data);

/* Keeps @bytes. NULL when not a page of it is there. */
BedPages *bed_pages_new (GBytes *bytes);
void bed_pages_free (BedPages *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedPages, bed_pages_free)

/* Every row that can be read of the tree that begins at page @root, 1 being the first; how many
 * of its pages or rows could not be. A page is walked once in the life of @self: trees do not
 * share pages in a sound file. */
guint bed_pages_walk (BedPages *self, guint root, BedPagesRowFunc row, gpointer data);

/* Marks the pages that the head lists as free as walked: what stands there was removed. */
void bed_pages_pass_over_free (BedPages *self);

/* The next page of table rows that no walk came to, after @page; 0: none. */
guint bed_pages_next_stray (BedPages *self, guint page);
