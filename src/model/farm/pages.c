#include "model/farm/pages.h"

#include <string.h>

#include "model/farm/journal.h"

enum
{
  INDEX_INTERIOR = 2,
  TABLE_INTERIOR = 5,
  INDEX_LEAF = 10,
  TABLE_LEAF = 13,
  FILE_HEADER = 100,  /* bytes before the first page's own header */
  LIKELY_PAGE = 4096, /* what SQLite makes when not told */
  MOST_CELLS = 2000,  /* SQLite's own limit of columns */
  DEEPEST = 40,
};

struct _BedPages
{
  GBytes *bytes;
  const guchar *data;
  gsize length;
  guint page_size;
  guint usable; /* without what is reserved at the end of each page */
  guint n_pages;
  guchar *walked;
  GByteArray *payload; /* of a row that goes over several pages */
};

typedef struct
{
  BedPages *pages;
  BedPagesRowFunc row;
  gpointer data;
  guint n_damaged;
} Walk;

static guint
two (const guchar *at)
{
  return (guint) at[0] << 8 | at[1];
}

/* Up to nine bytes; 0 when it goes over @end. How many bytes it took. */
static guint
read_number (const guchar *at, const guchar *end, guint64 *number)
{
  *number = 0;
  for (guint i = 0; i < 9 && at + i < end; i++)
    {
      *number = i == 8 ? *number << 8 | at[i] : *number << 7 | (at[i] & 0x7f);
      if (i == 8 || !(at[i] & 0x80))
        return i + 1;
    }
  return 0;
}

/* --- a row ---------------------------------------------------------------------------- */

static gsize
size_of_type (guint64 type)
{
  static const guchar sizes[] = { 0, 1, 2, 3, 4, 6, 8, 8, 0, 0, 0, 0 };

  return type < G_N_ELEMENTS (sizes) ? sizes[type] : (type - 12) / 2;
}

static BedPageCell
read_cell (guint64 type, const guchar *at)
{
  gsize size = size_of_type (type);
  BedPageCell cell = { BED_PAGE_CELL_OTHER, 0, at, size };

  if (type == 0)
    cell.type = BED_PAGE_CELL_NULL;
  else if (type == 8 || type == 9)
    cell = (BedPageCell){ BED_PAGE_CELL_INTEGER, type == 9, NULL, 0 };
  else if (type < 7)
    {
      guint64 number = at[0] & 0x80 ? G_MAXUINT64 : 0;
      for (gsize i = 0; i < size; i++)
        number = number << 8 | at[i];
      cell = (BedPageCell){ BED_PAGE_CELL_INTEGER, (gint64) number, NULL, 0 };
    }
  else if (type > 12 && type % 2 == 1)
    cell.type = BED_PAGE_CELL_TEXT;
  return cell;
}

/* A record: a head with the type of each cell, then the cells. */
static gboolean
read_record (Walk *walk, gint64 id, const guchar *bytes, gsize length)
{
  BedPageCell cells[MOST_CELLS];
  const guchar *end = bytes + length;
  guint64 head;
  guint n = 0, step = read_number (bytes, end, &head);

  if (!step || head > length || head < step)
    return FALSE;
  const guchar *type_at = bytes + step, *at = bytes + head;
  while (type_at < bytes + head)
    {
      guint64 type;
      step = read_number (type_at, bytes + head, &type);
      if (!step || type == 10 || type == 11 || n == MOST_CELLS
          || size_of_type (type) > (gsize) (end - at))
        return FALSE;
      cells[n++] = read_cell (type, at);
      at += size_of_type (type);
      type_at += step;
    }
  walk->row (id, cells, n, walk->data);
  return TRUE;
}

/* How much of a payload stands on the page itself (section 1.6). */
static gsize
local_size (BedPages *self, guint type, guint64 payload)
{
  gsize most = type == TABLE_LEAF ? self->usable - 35 : (self->usable - 12) * 64 / 255 - 23;
  gsize least = (self->usable - 12) * 32 / 255 - 23;

  if (payload <= most)
    return payload;
  gsize size = least + (payload - least) % (self->usable - 4);
  return size <= most ? size : least;
}

/* Gathers what stands on the pages from @page on. */
static gboolean
gather (BedPages *self, guint32 page, gsize rest)
{
  while (rest > 0)
    {
      if (page < 2 || page > self->n_pages)
        return FALSE;
      const guchar *at = self->data + (gsize) (page - 1) * self->page_size;
      gsize part = MIN (rest, self->usable - 4);
      g_byte_array_append (self->payload, at + 4, part);
      rest -= part;
      page = bed_db_number (at);
    }
  return TRUE;
}

static gboolean
read_payload (Walk *walk, gint64 id, guint type, guint64 payload, const guchar *at,
              const guchar *end)
{
  BedPages *self = walk->pages;
  gsize local = local_size (self, type, payload);

  /* No row is longer than the file; a chain that goes round ends by its length. */
  if (payload > MIN (self->length, BED_PAGES_LONGEST) || local > (gsize) (end - at))
    return FALSE;
  if (local == payload)
    return read_record (walk, id, at, local);
  if ((gsize) (end - at) < local + 4)
    return FALSE;
  g_byte_array_set_size (self->payload, 0);
  g_byte_array_append (self->payload, at, local);
  return gather (self, bed_db_number (at + local), payload - local)
         && read_record (walk, id, self->payload->data, self->payload->len);
}

/* --- a page --------------------------------------------------------------------------- */

static gboolean
read_row (Walk *walk, guint type, const guchar *at, const guchar *end)
{
  guint64 payload, id = 0;
  guint step;

  if (type == INDEX_INTERIOR)
    at += 4;
  if (at >= end || !(step = read_number (at, end, &payload)))
    return FALSE;
  at += step;
  if (type == TABLE_LEAF)
    {
      if (!(step = read_number (at, end, &id)))
        return FALSE;
      at += step;
    }
  return read_payload (walk, (gint64) id, type, payload, at, end);
}

static void
walk_page (Walk *walk, guint32 page, guint depth)
{
  BedPages *self = walk->pages;

  if (page < 1 || page > self->n_pages || self->walked[page] || depth > DEEPEST)
    {
      walk->n_damaged++;
      return;
    }
  const guchar *start = self->data + (gsize) (page - 1) * self->page_size;
  const guchar *head = start + (page == 1 ? FILE_HEADER : 0), *end = start + self->usable;
  guint type = head[0], n_cells = two (head + 3);
  gboolean interior = type == TABLE_INTERIOR || type == INDEX_INTERIOR;
  const guchar *pointers = head + (interior ? 12 : 8);

  if ((!interior && type != TABLE_LEAF && type != INDEX_LEAF)
      || (gsize) (end - pointers) < 2 * (gsize) n_cells)
    {
      walk->n_damaged++;
      return;
    }
  self->walked[page] = TRUE;
  for (guint i = 0; i < n_cells; i++)
    {
      const guchar *cell = start + two (pointers + 2 * i);
      if (cell < pointers || cell + 4 > end)
        {
          walk->n_damaged++;
          continue;
        }
      if (interior)
        walk_page (walk, bed_db_number (cell), depth + 1);
      if (type != TABLE_INTERIOR && !read_row (walk, type, cell, end))
        walk->n_damaged++;
    }
  if (interior)
    walk_page (walk, bed_db_number (head + 8), depth + 1);
}

/* --- public ----------------------------------------------------------------------------- */

BedPages *
bed_pages_new (GBytes *bytes)
{
  g_return_val_if_fail (bytes != NULL, NULL);
  gsize length;
  const guchar *data = g_bytes_get_data (bytes, &length);
  guint size = length > FILE_HEADER ? two (data + 16) : 0;

  size = size == 1 ? 65536 : size;
  guint reserved = length > FILE_HEADER ? data[20] : 0;
  /* A head that cannot be: as Bedlog's files are. */
  if (size < 512 || size > 65536 || (size & (size - 1)) || size - reserved < 480)
    {
      size = LIKELY_PAGE;
      reserved = 0;
    }
  if (length < size)
    return NULL;
  BedPages *self = g_new0 (BedPages, 1);
  self->bytes = g_bytes_ref (bytes);
  self->data = data;
  self->length = length;
  self->page_size = size;
  self->usable = size - reserved;
  self->n_pages = (guint) MIN (length / size, G_MAXUINT32 - 1);
  self->walked = g_malloc0 ((gsize) self->n_pages + 1);
  self->payload = g_byte_array_new ();
  return self;
}

void
bed_pages_free (BedPages *self)
{
  if (!self)
    return;
  g_bytes_unref (self->bytes);
  g_free (self->walked);
  g_byte_array_unref (self->payload);
  g_free (self);
}

guint
bed_pages_walk (BedPages *self, guint root, BedPagesRowFunc row, gpointer data)
{
  g_return_val_if_fail (self != NULL && row != NULL, 0);
  Walk walk = { self, row, data, 0 };

  walk_page (&walk, root, 0);
  return walk.n_damaged;
}

void
bed_pages_pass_over_free (BedPages *self)
{
  g_return_if_fail (self != NULL);
  guint32 trunk = bed_db_number (self->data + 32);

  while (trunk > 1 && trunk <= self->n_pages && !self->walked[trunk])
    {
      const guchar *start = self->data + (gsize) (trunk - 1) * self->page_size;
      guint32 n = MIN (bed_db_number (start + 4), self->usable / 4 - 2);
      self->walked[trunk] = TRUE;
      for (guint32 i = 0; i < n; i++)
        {
          guint32 leaf = bed_db_number (start + 8 + 4 * i);
          if (leaf > 1 && leaf <= self->n_pages)
            self->walked[leaf] = TRUE;
        }
      trunk = bed_db_number (start);
    }
}

guint
bed_pages_next_stray (BedPages *self, guint page)
{
  g_return_val_if_fail (self != NULL, 0);

  for (page++; page <= self->n_pages; page++)
    {
      const guchar *start = self->data + (gsize) (page - 1) * self->page_size;
      if (!self->walked[page] && start[page == 1 ? FILE_HEADER : 0] == TABLE_LEAF)
        return page;
    }
  return 0;
}
