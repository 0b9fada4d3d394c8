#include "model/sheet/rows_private.h"

/* Rows of cells out of text, a byte at a time, so that text may come in pieces of any size. Every
 * delimiter, quote and line end is ASCII, which no other letter of UTF-8 has within it. Space
 * about a cell is no part of it, space within quotes is. */

enum
{
  BETWEEN, /* before the first byte of a row */
  BEFORE,  /* of a cell: space alone so far */
  PLAIN,
  QUOTED,
  ESCAPED, /* after an escape in a quoted cell */
  CLOSED,  /* right after a quote in a quoted cell: its end, or one of two */
  AFTER,   /* the end of a quoted cell */
};

void
bed_splitter_init (BedSplitter *self, const BedReading *reading)
{
  *self = (BedSplitter){ .reading = *reading, .state = BETWEEN };
  bed_line_init (&self->line);
  for (const char *c = " \t\r\n"; *c; c++)
    self->special[(guchar) *c] = TRUE;
  self->special[(guchar) reading->delimiter] = TRUE;
  self->special[(guchar) reading->quote] = TRUE;
  self->special[(guchar) reading->escape] = TRUE;
}

void
bed_splitter_clear (BedSplitter *self)
{
  bed_line_clear (&self->line);
}

static void
begin_cell (BedSplitter *self)
{
  self->start = self->kept = self->line.texts->len;
  self->begun_on = self->at_line;
  self->state = BEFORE;
}

static void
end_cell (BedSplitter *self)
{
  if (self->state == PLAIN || self->state == BEFORE)
    g_string_truncate (self->line.texts, self->kept);
  bed_line_end_cell (&self->line, self->start, BED_CELL_TEXT, self->begun_on);
  begin_cell (self);
}

static gboolean
is_space (BedSplitter *self, char c)
{
  return (c == ' ' || c == '\t') && c != self->reading.delimiter;
}

/* A byte inside a quoted cell. */
static void
take_quoted (BedSplitter *self, char c)
{
  if (self->state == QUOTED && self->reading.escape && c == self->reading.escape)
    self->state = ESCAPED;
  else if (self->state == QUOTED && c == self->reading.quote)
    self->state = CLOSED;
  else
    {
      /* An escape before what needs none stands for itself. */
      if (self->state == ESCAPED && c != self->reading.quote && c != self->reading.escape)
        g_string_append_c (self->line.texts, self->reading.escape);
      g_string_append_c (self->line.texts, c);
      self->state = QUOTED;
    }
}

/* A byte outside of quotes that is no line end. FALSE: a quote where none may stand. */
static gboolean
take_plain (BedSplitter *self, char c)
{
  gboolean quote = self->reading.quote && c == self->reading.quote;

  if (c == self->reading.delimiter)
    end_cell (self);
  else if (quote && self->state == CLOSED && !self->reading.escape)
    take_quoted (self, c);
  else if (quote && self->state == BEFORE)
    {
      g_string_truncate (self->line.texts, self->start);
      self->state = QUOTED;
    }
  else if (is_space (self, c) && (self->state == CLOSED || self->state == AFTER))
    self->state = AFTER;
  else if (quote || self->state == CLOSED || self->state == AFTER)
    return FALSE;
  else
    {
      if (self->state == PLAIN || !is_space (self, c))
        {
          g_string_append_c (self->line.texts, c);
          self->state = PLAIN;
        }
      if (!is_space (self, c))
        self->kept = self->line.texts->len;
    }
  return TRUE;
}

/* Bytes that mean nothing in this state, all at once. */
static gsize
take_stretch (BedSplitter *self, const char *text, gsize length)
{
  gsize n = 0;

  if (self->state != PLAIN && self->state != QUOTED && self->state != BEFORE)
    return 0;
  while (n < length && !self->special[(guchar) text[n]])
    n++;
  if (n == 0)
    return 0;
  g_string_append_len (self->line.texts, text, n);
  if (self->state == QUOTED)
    return n;
  self->state = PLAIN;
  self->kept = self->line.texts->len;
  return n;
}

static gboolean
is_line_end (char c)
{
  return c == '\n' || c == '\r';
}

/* Counts it; the second half of a CRLF is none of its own. */
static void
count_line (BedSplitter *self, char c)
{
  if (is_line_end (c) && !(c == '\n' && self->carriage))
    self->at_line++;
  self->carriage = c == '\r';
}

static gboolean
is_inside (BedSplitter *self)
{
  return self->state == QUOTED || self->state == ESCAPED;
}

static void
begin_row (BedSplitter *self)
{
  if (self->at_line == 0)
    self->at_line = 1;
  bed_line_begin (&self->line, self->at_line);
  begin_cell (self);
}

static BedRowSplit
end_row (BedSplitter *self)
{
  end_cell (self);
  self->state = BETWEEN;
  return BED_SPLIT_ROW;
}

/* One byte or a stretch; @taken counts it. */
static BedRowSplit
take (BedSplitter *self, const char *text, gsize length, gsize *taken)
{
  gsize n = take_stretch (self, text, length);

  if (n > 0)
    self->carriage = FALSE;
  else if (is_line_end (*text) && !is_inside (self))
    {
      BedRowSplit split = end_row (self);
      count_line (self, *text);
      *taken += 1;
      return split;
    }
  else
    {
      gboolean fits = TRUE;
      if (is_inside (self))
        take_quoted (self, *text);
      else
        fits = take_plain (self, *text);
      count_line (self, *text);
      if (!fits)
        return BED_SPLIT_QUOTE;
      n = 1;
    }
  *taken += n;
  if (self->line.cells->len > BED_ROWS_MOST_CELLS)
    return BED_SPLIT_WIDE;
  return self->line.texts->len > BED_ROWS_MOST_TEXT ? BED_SPLIT_LONG : BED_SPLIT_MORE;
}

BedRowSplit
bed_splitter_feed (BedSplitter *self, const char *text, gsize length, BedTextEnd end, gsize *taken)
{
  BedRowSplit split = BED_SPLIT_MORE;

  *taken = 0;
  while (*taken < length && split == BED_SPLIT_MORE)
    {
      if (self->state == BETWEEN)
        {
          if (self->carriage && text[*taken] == '\n')
            {
              self->carriage = FALSE;
              ++*taken;
              continue;
            }
          self->carriage = FALSE;
          begin_row (self);
        }
      split = take (self, text + *taken, length - *taken, taken);
    }
  if (split != BED_SPLIT_MORE || end == BED_TEXT_GOES_ON || self->state == BETWEEN)
    return split;
  return is_inside (self) ? BED_SPLIT_QUOTE : end_row (self);
}
