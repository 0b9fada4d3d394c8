#include <glib/gi18n-lib.h>
#include <stdlib.h>
#include <string.h>

#include "model/sheet/rows_xlsx.h"

/* Merged ranges stand after the rows they are of, so the sheet is looked through for them first:
 * as bytes, which takes a tenth of reading it. */

#define BLOCK (1 << 16)
/* The longest element that is looked at: <x:mergeCell ref="XFD1048576:XFD1048576"/>. */
#define LONGEST 200

static void
clear_merged (gpointer merged)
{
  g_free (((BedMerged *) merged)->text);
}

void
bed_xlsx_read_place (const char *text, guint *column, guint *row)
{
  *column = *row = 0;
  for (; g_ascii_isalpha (*text) && *column <= BED_ROWS_MOST_CELLS; text++)
    *column = *column * 26 + (g_ascii_toupper (*text) - 'A' + 1);
  if (g_ascii_isdigit (*text))
    *row = MIN (g_ascii_strtoull (text, NULL, 10), G_MAXUINT);
}

static void
take_range (GArray *ranges, const char *text)
{
  const char *colon = strchr (text, ':');
  BedMerged range = { 0 };

  bed_xlsx_read_place (text, &range.left, &range.top);
  if (colon)
    bed_xlsx_read_place (colon + 1, &range.right, &range.bottom);
  if (range.left && range.top && range.right >= range.left && range.bottom >= range.top
      && range.left <= BED_ROWS_MOST_CELLS)
    {
      range.right = MIN (range.right, range.left + BED_MERGED_MOST_COLUMNS - 1);
      g_array_append_val (ranges, range);
    }
}

/* Every whole `mergeCell ` element of @bytes; how much of them may go. */
static gsize
take_ranges (GArray *ranges, const char *bytes, gsize length)
{
  static const char name[] = "mergeCell ";
  const char *at = bytes, *end = bytes + length, *found;

  while ((found = memmem (at, end - at, name, sizeof name - 1)))
    {
      const char *close = memchr (found, '>', MIN (end - found, LONGEST));
      if (!close && end - found < LONGEST)
        return found - bytes - (found > bytes);
      at = found + 1;
      if (!close || found == bytes || !strchr ("<:", found[-1]))
        continue;
      g_autofree char *element = g_strndup (found, close - found);
      const char *range = strstr (element, "ref=");
      if (range && range[4])
        take_range (ranges, range + 5);
    }
  return length - MIN (length - (at - bytes), sizeof name);
}

static int
by_top (gconstpointer a, gconstpointer b)
{
  guint one = ((const BedMerged *) a)->top, other = ((const BedMerged *) b)->top;

  return one < other ? -1 : one > other;
}

gboolean
bed_merged_read (BedXlsx *self, BedSource *source, const char *sheet, GError **error)
{
  g_autoptr (BedBookPart) part = bed_part_open (source, sheet, error);
  g_autofree char *bytes = g_malloc (BLOCK + LONGEST * 2);
  gsize held = 0;
  gssize n = -1;

  self->merged = g_array_new (FALSE, FALSE, sizeof (BedMerged));
  g_array_set_clear_func (self->merged, clear_merged);
  while (part && (n = bed_part_read_bytes (part, bytes + held, BLOCK, error)) > 0)
    {
      gsize gone = take_ranges (self->merged, bytes, held + n);
      held = held + n - gone;
      memmove (bytes, bytes + gone, held);
      if (self->merged->len <= BED_MERGED_MOST)
        continue;
      g_set_error_literal (
          error, BED_ROWS_ERROR, BED_ROWS_ERROR_BOUND,
          _ ("More than 5,000 ranges of the sheet are merged. Take them apart, or save the "
             "sheet as CSV."));
      return FALSE;
    }
  g_array_sort (self->merged, by_top);
  return n == 0;
}

/* --- a row ------------------------------------------------------------------------------ */

static void
fill (BedLine *line, BedMerged *range)
{
  BedCell *cells = (BedCell *) line->cells->data;

  if (line->row.line == range->top && range->left <= line->cells->len && !range->text)
    {
      range->text = g_strdup (line->texts->str + GPOINTER_TO_SIZE (cells[range->left - 1].text));
      range->kind = cells[range->left - 1].kind;
    }
  if (!range->text || range->kind == BED_CELL_EMPTY || strlen (range->text) > BED_MERGED_LONGEST)
    return;
  bed_line_pad (line, range->right);
  cells = (BedCell *) line->cells->data;
  gsize start = line->texts->len;
  g_string_append_len (line->texts, range->text, strlen (range->text) + 1);
  for (guint i = range->left; i <= range->right; i++)
    if (cells[i - 1].kind == BED_CELL_EMPTY)
      {
        cells[i - 1].text = GSIZE_TO_POINTER (start);
        cells[i - 1].kind = range->kind;
      }
}

void
bed_merged_fill (BedXlsx *self)
{
  guint row = self->line.row.line;

  for (guint i = self->first_open; i < self->merged->len; i++)
    {
      BedMerged *range = &g_array_index (self->merged, BedMerged, i);
      if (range->top > row)
        break;
      if (range->bottom >= row)
        fill (&self->line, range);
      else if (i == self->first_open)
        self->first_open++;
    }
}
