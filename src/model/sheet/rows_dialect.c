#include <string.h>

#include "model/sheet/rows_private.h"

/* Which delimiter, quote and escape a text is written with, after the idea of G. J. J. van den
 * Burg, A. Nazabal, C. Sutton, "Wrangling messy CSV files by detecting row and type patterns",
 * Data Mining and Knowledge Discovery 33, 2019: the right reading is the one that gives rows of
 * few different patterns with many cells each, and cells that are something one knows (number,
 * date, word). Every reading is tried and the product of both measures taken. What is known of
 * a cell is ours, after what growers write. */

/* A row of one cell says nothing for a delimiter; a file of such rows still has a reading. */
#define LEAST_PATTERN 1e-3
/* Readings whose scores lie this near are one: the plainer comes first. */
#define SAME_SCORE 1e-9

static const char delimiters[] = ",;\t|";

/* --- cells -------------------------------------------------------------------------- */

/* 12  1,234.50  -3  1 1/2  28.5.2023  28/05/23  2023-05-28T12:30  14:30  35%  $4.50: digits, and
 * between them one mark each. */
static gboolean
is_numeric (const char *text)
{
  gboolean digit = FALSE;

  for (const char *c = text + strspn (text, "+-$(~<"); *c; c++)
    if (g_ascii_isdigit (*c))
      digit = TRUE;
    else if (!digit || !strchr (".,:/- T%)", *c) || (!g_ascii_isdigit (c[1]) && c[1] && *c != ' '))
      return FALSE;
  return digit;
}

/* Letters and digits with what stands among them in a sentence: marks only at the end of a word,
 * so that `Shed A;6` is none. */
static gboolean
is_words (const char *text)
{
  for (const char *c = text; *c; c++)
    {
      gboolean sentence = strchr (",;:.!?", *c) != NULL;
      if (sentence && c[1] && c[1] != ' ' && *c != '.' && *c != ':')
        return FALSE;
      if (!sentence
          && !((guchar) *c >= 0x80 || g_ascii_isalnum (*c) || strchr (" '-_/#()&%+=@*$\r\n", *c)))
        return FALSE;
    }
  return TRUE;
}

static gboolean
is_known (const BedCell *cell)
{
  return !*cell->text || is_numeric (cell->text) || is_words (cell->text);
}

/* --- a reading ------------------------------------------------------------------------- */

typedef struct
{
  guint patterns[BED_ROWS_MOST_CELLS + 2]; /* rows by their number of cells */
  guint rows, cells, known;
} Count;

static void
count_row (Count *count, const BedSheetRow *row)
{
  guint known = 0, empty = 0;

  for (guint i = 0; i < row->n_cells; i++)
    {
      known += is_known (&row->cells[i]);
      empty += row->cells[i].kind == BED_CELL_EMPTY;
    }
  if (empty == row->n_cells)
    return;
  count->patterns[MIN (row->n_cells, BED_ROWS_MOST_CELLS + 1)]++;
  count->rows++;
  count->cells += row->n_cells;
  count->known += known;
}

static void
score (const Count *count, BedCandidate *candidate)
{
  guint patterns = 0;
  double sum = 0;

  candidate->rows = count->rows;
  for (guint width = 1; width <= BED_ROWS_MOST_CELLS + 1; width++)
    if (count->patterns[width] > 0)
      {
        patterns++;
        sum += count->patterns[width] * MAX (LEAST_PATTERN, width - 1.0) / width;
        if (count->patterns[width] > candidate->rows_alike)
          {
            candidate->rows_alike = count->patterns[width];
            candidate->width = width;
          }
      }
  if (patterns > 0)
    candidate->score = sum / patterns * count->known / count->cells;
}

/* FALSE: the text cannot be read in this way. */
static gboolean
try_reading (BedCandidate *candidate, const char *text, gsize length, BedTextEnd end)
{
  g_autofree Count *count = g_new0 (Count, 1);
  BedSplitter splitter;
  BedRowSplit split;
  gsize done = 0, taken;

  bed_splitter_init (&splitter, &candidate->reading);
  while ((split = bed_splitter_feed (&splitter, text + done, length - done, end, &taken))
         == BED_SPLIT_ROW)
    {
      count_row (count, bed_line_finish (&splitter.line));
      done += taken;
    }
  bed_splitter_clear (&splitter);
  score (count, candidate);
  return split == BED_SPLIT_MORE && candidate->rows > 0;
}

/* --- all of them ------------------------------------------------------------------------ */

static void
add_reading (GArray *found, const char *text, gsize length, BedTextEnd end, BedReading reading)
{
  BedCandidate candidate = { .reading = reading };

  if (try_reading (&candidate, text, length, end))
    g_array_append_val (found, candidate);
}

static void
add_delimiter (GArray *found, const char *text, gsize length, BedTextEnd end, char delimiter)
{
  add_reading (found, text, length, end, (BedReading){ .delimiter = delimiter, .quote = '"' });
  if (memmem (text, length, "\\\"", 2))
    add_reading (found, text, length, end,
                 (BedReading){ .delimiter = delimiter, .quote = '"', .escape = '\\' });
  if (memchr (text, '\'', length))
    add_reading (found, text, length, end, (BedReading){ .delimiter = delimiter, .quote = '\'' });
  if (memchr (text, '"', length))
    add_reading (found, text, length, end, (BedReading){ .delimiter = delimiter });
}

/* The order of trying is the order of preference. */
static void
sort (GArray *found)
{
  BedCandidate *at = (BedCandidate *) found->data;

  for (guint i = 1; i < found->len; i++)
    for (guint j = i; j > 0 && at[j].score > at[j - 1].score + SAME_SCORE; j--)
      {
        BedCandidate better = at[j];
        at[j] = at[j - 1];
        at[j - 1] = better;
      }
}

GArray *
bed_dialect_find (const char *text, gsize length, BedTextEnd end)
{
  GArray *found = g_array_new (FALSE, FALSE, sizeof (BedCandidate));

  for (const char *c = delimiters; *c; c++)
    if (c == delimiters || memchr (text, *c, length))
      add_delimiter (found, text, length, end, *c);
  sort (found);
  if (found->len == 0)
    g_array_append_vals (
        found, &(BedCandidate){ .reading = { .delimiter = delimiters[0], .quote = '"' } }, 1);
  return found;
}
