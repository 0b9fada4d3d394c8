#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/notebook/notebook_private.h"

/* One reading of the rows, of the first ones or of all: both go the same way. */

BedNotebookLine *
bed_notebook_cross (const BedNotebookLayout *layout, const BedNotebookLine *line, guint *crossing)
{
  guint fixed = layout->columns->len, column = 0;

  for (; *crossing < layout->crossing->len; (*crossing)++)
    {
      column = g_array_index (layout->crossing, guint, *crossing);
      if (column < line->n_cells && *line->cells[column])
        break;
    }
  if (*crossing == layout->crossing->len)
    return NULL;
  BedNotebookLine *each = g_new (BedNotebookLine, 1);
  *each = (BedNotebookLine){ line->line, fixed + 2, g_new0 (char *, fixed + 3),
                             g_new (BedCellKind, fixed + 2) };
  for (guint i = 0; i < fixed; i++)
    {
      guint from = g_array_index (layout->columns, guint, i);
      each->cells[i] = g_strdup (from < line->n_cells ? line->cells[from] : "");
      each->kinds[i] = from < line->n_cells ? line->kinds[from] : BED_CELL_EMPTY;
    }
  each->cells[fixed] = g_strdup (layout->above->pdata[*crossing]);
  each->kinds[fixed] = BED_CELL_TEXT;
  each->cells[fixed + 1] = g_strdup (line->cells[column]);
  each->kinds[fixed + 1] = line->kinds[column];
  (*crossing)++;
  return each;
}

void
bed_notebook_begin_reading (BedNotebook *self)
{
  bed_sorter_begin (&self->sorter);
  bed_notebook_forget_questions (self);
  g_array_set_size (self->aside, 0);
  memset (self->n_aside, 0, sizeof self->n_aside);
  memset (self->n_records, 0, sizeof self->n_records);
  g_hash_table_remove_all (self->sums);
  g_hash_table_remove_all (self->made);
  g_hash_table_remove_all (self->names);
  for (guint i = 0; i < self->matches->len; i++)
    {
      BedNotebookMatch *match = &g_array_index (self->matches, BedNotebookMatch, i);
      match->shown.filled = match->shown.read = match->shown.odd = 0;
      match->later_day_first = match->later_month_first = 0;
    }
  self->later_points = self->later_commas = 0;
  *self->first_day = *self->last_day = '\0';
  self->n_rows = self->at = 0;
  self->crossing = G_MAXUINT;
  g_clear_pointer (&self->crossed, bed_line_free);
  g_clear_pointer (&self->line, bed_line_free);
  self->is_read = FALSE;
}

static void
add_aside (BedNotebook *self, const BedNotebookLine *line, BedAside why)
{
  self->n_aside[why]++;
  if (why == BED_ASIDE_BLANK || self->aside->len >= BED_NOTEBOOK_MOST_ASIDE)
    return;
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint i = 0; i < line->n_cells && text->len < 120; i++)
    if (*line->cells[i])
      g_string_append_printf (text, "%s%.80s", text->len ? " · " : "", line->cells[i]);
  g_autofree char *valid = g_utf8_make_valid (text->str, -1);
  BedNotebookAside aside = { line->line, why, g_string_chunk_insert (self->texts, valid) };
  g_array_append_val (self->aside, aside);
}

static guint
find_width (const BedNotebookLayout *layout)
{
  const GArray *columns = layout->columns, *crossing = layout->crossing;
  guint last = columns->len ? g_array_index (columns, guint, columns->len - 1) : 0;

  return MAX (last, crossing->len ? g_array_index (crossing, guint, crossing->len - 1) : 0) + 1;
}

/* Cells where the first rows have none mean nothing that is known. Sums beside weeks are read
 * over. */
static gboolean
is_too_wide (BedNotebook *self, const BedNotebookLine *line)
{
  guint cell = find_width (&self->layout);

  while (cell < line->n_cells && !*line->cells[cell])
    cell++;
  if (cell >= line->n_cells || self->layout.crossing->len > 0)
    return FALSE;
  const char *answer = bed_notebook_ask (
      self, "beyond", cell + 1,
      g_strdup_printf (_ ("“%s” stands in a column without a head that is empty in the first rows. "
                          "Go on without such cells?"),
                       line->cells[cell]));
  if (bed_notebook_is_new (self, "beyond"))
    {
      bed_notebook_offer (self, "beyond", "empty", _ ("Leave these cells out"));
      bed_notebook_offer (self, "beyond", "out", _ ("Leave these rows out"));
    }
  return g_strcmp0 (answer, "out") == 0;
}

/* What was decided of a row is of its number and its cells: kept for another sheet with such heads,
 * it holds for no other row. The cells are known from the first reading after the decision on. */
static const char *
decision_of (BedNotebook *self, const BedNotebookLine *line)
{
  const char *decided = bed_notebook_decision (self, "row:%u", line->line);

  if (!decided)
    return NULL;
  g_autofree char *cells = g_strjoinv ("\t", line->cells);
  g_autofree char *sum = g_compute_checksum_for_string (G_CHECKSUM_SHA256, cells, -1);
  const char *of = strchr (decided, ' ');
  if (of)
    return strcmp (of + 1, sum) == 0 ? decided : NULL;
  g_hash_table_insert (self->decided, g_strdup_printf ("row:%u", line->line),
                       g_strconcat (decided, " ", sum, NULL));
  return bed_notebook_decision (self, "row:%u", line->line);
}

/* By what it is, or as somebody said of it. */
static gboolean
is_taken (BedNotebook *self, const BedNotebookLine *line)
{
  BedAside aside = bed_sorter_sort (&self->sorter, &self->layout, line, self->mark);
  const char *decided = decision_of (self, line);

  if (decided)
    aside = g_str_has_prefix (decided, "take") ? BED_ASIDE_NOT : BED_ASIDE_ASKED;
  if (aside == BED_ASIDE_NOT && is_too_wide (self, line))
    aside = BED_ASIDE_ASKED;
  if (aside != BED_ASIDE_NOT)
    add_aside (self, line, aside);
  return aside == BED_ASIDE_NOT;
}

/* Nothing is read as a kind that nobody said it is. */
static gboolean
waits_for_kind (BedNotebook *self)
{
  if (self->kind_sure != BED_MATCH_NONE)
    return FALSE;
  bed_notebook_ask (self, "kind", 0, g_strdup (_ ("What are the rows of this sheet?")));
  for (guint i = 0; i < self->kinds->len; i++)
    {
      const BedKindInfo *info = bed_kind_get_info (g_array_index (self->kinds, BedKind, i));
      bed_notebook_offer (self, "kind", info->name, _ (info->plural));
    }
  return TRUE;
}

static const BedNotebookRow *
read_line (BedNotebook *self, const BedNotebookLine *line)
{
  if (waits_for_kind (self))
    return NULL;
  const BedNotebookRow *row = bed_notebook_read_line (self, line);

  if (row)
    self->n_rows++;
  else
    add_aside (self, line, self->left_out);
  return row;
}

/* The next of a crosswise line that has several; NULL when it has no more. */
static const BedNotebookRow *
read_crossed (BedNotebook *self)
{
  const BedNotebookRow *row = NULL;

  while (!row && self->line && self->crossing != G_MAXUINT)
    {
      BedNotebookLine *each = bed_notebook_cross (&self->layout, self->line, &self->crossing);
      if (!each)
        {
          self->crossing = G_MAXUINT;
          return NULL;
        }
      bed_line_free (self->crossed);
      self->crossed = each;
      row = read_line (self, each);
    }
  return row;
}

/* Takes over @line. */
static const BedNotebookRow *
begin_line (BedNotebook *self, BedNotebookLine *line)
{
  bed_line_free (self->line);
  self->line = line;
  self->crossing = G_MAXUINT;
  if (!is_taken (self, line))
    return NULL;
  if (self->layout.crossing->len == 0)
    return read_line (self, line);
  self->crossing = 0;
  return read_crossed (self);
}

void
bed_notebook_read_first (BedNotebook *self)
{
  bed_notebook_begin_reading (self);
  for (guint i = 0; i < self->first->len; i++)
    {
      const BedNotebookLine *line = self->first->pdata[i];
      BedNotebookLine *copy = g_new (BedNotebookLine, 1);
      *copy = (BedNotebookLine){ line->line, line->n_cells, g_strdupv (line->cells),
                                 g_memdup2 (line->kinds,
                                            (line->n_cells + 1) * sizeof (BedCellKind)) };
      begin_line (self, copy);
      while (self->crossing != G_MAXUINT)
        read_crossed (self);
    }
  self->is_read = self->is_whole;
}

gboolean
bed_notebook_rewind (BedNotebook *self, GError **error)
{
  bed_notebook_begin_reading (self);
  return bed_rows_choose_sheet (self->rows, self->sheet, error);
}

const BedNotebookRow *
bed_notebook_step (BedNotebook *self, GError **error)
{
  const BedNotebookRow *row = read_crossed (self);
  const BedSheetRow *next;

  while (!row && (next = bed_rows_next (self->rows, error)))
    row = begin_line (self, bed_line_copy (next));
  return row;
}
