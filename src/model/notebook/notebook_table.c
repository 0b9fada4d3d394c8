#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "model/farm/known.h"
#include "model/notebook/notebook_private.h"

/* From rows to a table: which row is the head, which are none of the table's. */

#define MOST_ROWS_ABOVE 40

/* --- lines -------------------------------------------------------------------------- */

BedNotebookLine *
bed_line_copy (const BedSheetRow *row)
{
  BedNotebookLine *line = g_new (BedNotebookLine, 1);

  line->line = row->line;
  line->n_cells = MIN (row->n_cells, BED_NOTEBOOK_MOST_COLUMNS);
  line->cells = g_new (char *, line->n_cells + 1);
  line->kinds = g_new (BedCellKind, line->n_cells + 1);
  for (guint i = 0; i < line->n_cells; i++)
    {
      gboolean nothing = row->cells[i].kind == BED_CELL_EMPTY
                         || row->cells[i].kind == BED_CELL_ERROR;
      line->cells[i] = nothing ? g_strdup ("") : g_strstrip (g_strdup (row->cells[i].text));
      line->kinds[i] = *line->cells[i] ? row->cells[i].kind : BED_CELL_EMPTY;
    }
  line->cells[line->n_cells] = NULL;
  return line;
}

void
bed_line_free (BedNotebookLine *line)
{
  if (!line)
    return;
  g_strfreev (line->cells);
  g_free (line->kinds);
  g_free (line);
}

static guint
count_filled (const BedNotebookLine *line)
{
  guint n = 0;

  for (guint i = 0; i < line->n_cells; i++)
    n += line->kinds[i] != BED_CELL_EMPTY;
  return n;
}

gboolean
bed_line_is_number (const BedNotebookLine *line, guint cell, char mark, double *value)
{
  const char *text = cell < line->n_cells ? line->cells[cell] : "";
  char *end;

  if (!*text || strlen (text) > 30)
    return FALSE;
  *value = g_ascii_strtod (text, &end);
  if (!*end && !strpbrk (text, "xXnN")
      && (mark == '.' || line->kinds[cell] == BED_CELL_NUMBER || !strchr (text, '.')))
    return TRUE;
  if (g_ascii_isalpha (*text) || !strpbrk (text, "0123456789") || strpbrk (text, "/:"))
    return FALSE;
  BedNumberForm form;
  g_autofree char *plain = bed_number_dup_plain (text, mark, BED_NUMBER_OF_THINGS, &form);
  const char *digits = strpbrk (plain, "0123456789-");
  if (!digits || digits - plain > 4)
    return FALSE;
  *value = g_ascii_strtod (digits, &end);
  return end != digits && strlen (end) <= 4 && !strpbrk (end, "0123456789");
}

static gboolean
is_day (const char *text)
{
  BedDay day;

  return *text && bed_day_scan (text, &day) && day.form != BED_DAY_NUMBER;
}

/* --- the head ------------------------------------------------------------------------ */

static gboolean
is_year_head (const char *text)
{
  int year = atoi (text);

  return strlen (text) == 4 && year >= 1990 && year <= 2099;
}

/* "6.5" is a day without a year in no head. */
static gboolean
is_crossing (const char *text)
{
  BedDay day;

  if (is_year_head (text))
    return TRUE;
  return *text && bed_day_scan (text, &day) && day.form != BED_DAY_NUMBER
         && (day.form != BED_DAY_FIGURES || day.c > 0 || strpbrk (text, "/-")
             || g_str_has_suffix (text, "."));
}

typedef struct
{
  guint known, texts, values, crossing;
} HeadScore;

static HeadScore
score_head (const BedNotebookLine *line)
{
  HeadScore score = { 0 };

  for (guint i = 0; i < line->n_cells; i++)
    {
      const char *text = line->cells[i];
      g_autofree char *unit = NULL;
      double value;
      if (!*text)
        continue;
      if (is_crossing (text))
        score.crossing++;
      else if (bed_words_read_head (text, &unit))
        score.known++;
      else if (bed_line_is_number (line, i, '.', &value))
        score.values++;
      else
        score.texts++;
    }
  return score;
}

/* A head has words that heads have, and no values; a crosswise one dates. */
static int
worth (const HeadScore *score)
{
  if (score->values > score->known + score->texts)
    return 0;
  if (score->crossing >= 3 && score->known + score->texts >= 1 && score->known + score->texts <= 5)
    return 4 + 2 * score->known + score->crossing;
  if (score->crossing > 0 && score->crossing >= score->known)
    return 0;
  return score->known == 0
             ? 0
             : 4 * score->known + score->texts - 3 * (score->values + score->crossing);
}

/* No head is known: a first row of words over rows that have values is one all the same. */
static gboolean
is_unknown_head (const BedNotebookLine *line, const BedNotebookLine *below)
{
  HeadScore head = score_head (line), body = score_head (below);

  return head.texts >= 2 && head.values == 0 && head.crossing == 0
         && body.values + body.crossing > 0;
}

static int
find_head (GPtrArray *first)
{
  int best = 0, found = -1;
  guint seen = 0;

  for (guint i = 0; i < first->len && seen < MOST_ROWS_ABOVE; i++)
    {
      const BedNotebookLine *line = first->pdata[i];
      guint filled = count_filled (line);
      seen += filled > 0;
      HeadScore score = score_head (line);
      int this = filled > 1 || (first->len > 1 && line->n_cells == 1) ? worth (&score) : 0;
      /* The first of like ones: what is below repeats it, or is another table. */
      if (this > best && (found < 0 || this > 2 * best))
        {
          best = this;
          found = i;
        }
    }
  if (found >= 0)
    return found;
  for (guint i = 0; i + 1 < first->len; i++)
    if (count_filled (first->pdata[i]) > 0)
      return is_unknown_head (first->pdata[i], first->pdata[i + 1]) ? (int) i : -1;
  return -1;
}

/* A row of nothing but units below the heads. */
static gboolean
is_units (const BedNotebookLine *line)
{
  guint n = 0;

  for (guint i = 0; i < line->n_cells; i++)
    if (*line->cells[i])
      {
        g_autofree char *bare = g_strdup (line->cells[i]);
        g_strdelimit (bare, "()[]", ' ');
        if (!bed_words_find ("unit", "", g_strstrip (bare)))
          return FALSE;
        n++;
      }
  return n > 0;
}

static char *
dup_head (const BedNotebookLine *head, const BedNotebookLine *units, guint column)
{
  const char *text = head && column < head->n_cells ? head->cells[column] : "";
  const char *unit = units && column < units->n_cells ? units->cells[column] : "";

  return *unit ? g_strdup_printf ("%s (%s)", text, unit) : g_strdup (text);
}

static gboolean
is_used (GPtrArray *first, guint from, guint column)
{
  for (guint i = from; i < first->len; i++)
    {
      const BedNotebookLine *line = first->pdata[i];
      if (column < line->n_cells && *line->cells[column])
        return TRUE;
    }
  return FALSE;
}

static void
add_column (BedNotebookLayout *self, guint column, char *head, gboolean crossing)
{
  g_array_append_val (crossing ? self->crossing : self->columns, column);
  g_ptr_array_add (crossing ? self->above : self->heads, head);
}

static guint
count_crossings (const BedNotebookLine *head)
{
  guint n = 0;

  for (guint i = 0; head && i < head->n_cells; i++)
    n += is_crossing (head->cells[i]);
  return n >= 3 ? n : 0;
}

static int
find_line (GPtrArray *first, guint line)
{
  for (guint i = 0; i < first->len; i++)
    if (((const BedNotebookLine *) first->pdata[i])->line == line)
      return (int) i;
  return -1;
}

void
bed_layout_find (BedNotebookLayout *self, GPtrArray *first, guint line)
{
  int first_at = find_head (first);
  int at = line ? find_line (first, line) : first_at;
  const BedNotebookLine *head = at >= 0 ? first->pdata[at] : NULL;
  const BedNotebookLine *units
      = head && at + 1 < (int) first->len && is_units (first->pdata[at + 1]) ? first->pdata[at + 1]
                                                                             : NULL;
  guint width = 0, crossings = count_crossings (head);

  *self = (BedNotebookLayout){ .heads = g_ptr_array_new_with_free_func (g_free),
                               .columns = g_array_new (FALSE, FALSE, sizeof (guint)),
                               .crossing = g_array_new (FALSE, FALSE, sizeof (guint)),
                               .above = g_ptr_array_new_with_free_func (g_free) };
  self->first_line = first_at >= 0 ? ((const BedNotebookLine *) first->pdata[first_at])->line : 0;
  self->head_line = head ? head->line : 0;
  self->body_line = units ? units->line + 1 : head ? head->line + 1 : 0;
  for (guint i = 0; i < first->len; i++)
    width = MAX (width, ((BedNotebookLine *) first->pdata[i])->n_cells);
  for (guint i = 0; i < width; i++)
    {
      g_autofree char *text = dup_head (head, units, i);
      gboolean crossing = crossings && is_crossing (text);
      /* A column of sums beside the weeks is no week. */
      if (crossings && bed_words_is (text, BED_HEAD_TOTAL))
        continue;
      if (*text || is_used (first, at + 1 + (units != NULL), i))
        add_column (self, i, g_steal_pointer (&text), crossing);
    }
  if (crossings)
    {
      g_ptr_array_add (self->heads, g_strdup ("Date"));
      g_ptr_array_add (self->heads, g_strdup (""));
    }
}

void
bed_layout_clear (BedNotebookLayout *self)
{
  g_clear_pointer (&self->heads, g_ptr_array_unref);
  g_clear_pointer (&self->columns, g_array_unref);
  g_clear_pointer (&self->crossing, g_array_unref);
  g_clear_pointer (&self->above, g_ptr_array_unref);
}

/* --- rows set aside ------------------------------------------------------------------- */

void
bed_sorter_begin (BedNotebookSorter *self)
{
  bed_sorter_clear (self);
  self->n = BED_NOTEBOOK_MOST_COLUMNS;
  self->sums = g_new0 (double, 2 * self->n);
  self->group = self->sums + self->n;
}

void
bed_sorter_clear (BedNotebookSorter *self)
{
  g_free (self->sums);
  *self = (BedNotebookSorter){ 0 };
}

static gboolean
repeats_head (const BedNotebookLayout *layout, const BedNotebookLine *line)
{
  guint same = 0;

  for (guint i = 0; i < layout->columns->len; i++)
    {
      guint column = g_array_index (layout->columns, guint, i);
      const char *cell = column < line->n_cells ? line->cells[column] : "";
      const char *head = layout->heads->pdata[i];
      if (!*cell)
        continue;
      if (g_ascii_strcasecmp (cell, head) != 0)
        return FALSE;
      same++;
    }
  return same >= 2 || (same == 1 && layout->columns->len == 1);
}

/* All its cells are words of heads: another table begins. */
static gboolean
is_other_head (const BedNotebookLine *line)
{
  guint n = 0;

  for (guint i = 0; i < line->n_cells; i++)
    if (*line->cells[i])
      {
        g_autofree char *unit = NULL;
        if (g_ascii_isdigit (*line->cells[i]) || !bed_words_read_head (line->cells[i], &unit))
          return FALSE;
        n++;
      }
  return n >= 3;
}

static void
add_table (GArray *tables, const BedNotebookLine *head, GStringChunk *texts)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; head && i < head->n_cells && text->len < 60; i++)
    if (*head->cells[i])
      g_string_append_printf (text, "%s%.30s", text->len ? ", " : "", head->cells[i]);
  g_autofree char *valid = g_utf8_make_valid (text->str, -1);
  const BedNotebookTable table = { head ? head->line : 0, g_string_chunk_insert (texts, valid) };
  g_array_append_val (tables, table);
}

GArray *
bed_layout_list_tables (const BedNotebookLayout *self, GPtrArray *first, GStringChunk *texts)
{
  GArray *tables = g_array_new (FALSE, FALSE, sizeof (BedNotebookTable));
  int at = self->head_line ? find_line (first, self->head_line) : -1;

  add_table (tables, at >= 0 ? first->pdata[at] : NULL, texts);
  for (guint i = at + 1; at >= 0 && i < first->len; i++)
    if (!repeats_head (self, first->pdata[i]) && is_other_head (first->pdata[i]))
      add_table (tables, first->pdata[i], texts);
  return tables;
}

static gboolean
says_total (const char *text)
{
  g_autofree char *folded = bed_known_fold (text);
  char *first = strchr (folded, ' '), *last = strrchr (folded, ' ');

  if (bed_words_is (folded, BED_HEAD_TOTAL) || (last && bed_words_is (last + 1, BED_HEAD_TOTAL)))
    return TRUE;
  if (first)
    *first = '\0';
  return first && bed_words_is (folded, BED_HEAD_TOTAL);
}

static gboolean
is_near (double a, double b)
{
  return b != 0 && fabs (a - b) <= 0.0005 * fabs (b);
}

/* Its numbers are the sums of those above, and there is nothing else. */
static gboolean
is_sum (const BedNotebookSorter *self, const BedNotebookLine *line, char mark)
{
  guint n = 0;

  for (guint i = 0; i < line->n_cells; i++)
    {
      double value;
      if (!*line->cells[i])
        continue;
      if (!bed_line_is_number (line, i, mark, &value)
          || !(is_near (value, self->sums[i]) || is_near (value, self->group[i])))
        return FALSE;
      n++;
    }
  return n > 0 && self->rows >= 2;
}

static void
add_up (BedNotebookSorter *self, const BedNotebookLine *line, char mark)
{
  double value;

  for (guint i = 0; i < line->n_cells; i++)
    if (g_ascii_isdigit (*line->cells[i]) && bed_line_is_number (line, i, mark, &value))
      {
        self->sums[i] += value;
        self->group[i] += value;
      }
  self->rows++;
}

static BedAside
sort_out (BedNotebookSorter *self, const BedNotebookLayout *layout, const BedNotebookLine *line,
          char mark)
{
  guint filled = count_filled (line);
  const char *text = NULL;
  double value;

  if (filled == 0)
    return BED_ASIDE_BLANK;
  if (line->line < layout->first_line)
    return BED_ASIDE_ABOVE;
  if (line->line < layout->body_line) /* the head itself is neither set aside nor a row */
    return line->line < layout->head_line ? BED_ASIDE_TABLE : BED_ASIDE_BLANK;
  if (repeats_head (layout, line))
    {
      self->in_other_table = FALSE;
      return BED_ASIDE_HEAD;
    }
  if (layout->head_line && !self->in_other_table && is_other_head (line))
    self->in_other_table = TRUE;
  if (self->in_other_table)
    return BED_ASIDE_TABLE;
  for (guint i = 0; i < line->n_cells && !text; i++)
    if (*line->cells[i] && line->kinds[i] == BED_CELL_TEXT
        && !bed_line_is_number (line, i, mark, &value))
      text = line->cells[i];
  if ((text && says_total (text)) || (!text && is_sum (self, line, mark)))
    return BED_ASIDE_TOTAL;
  if (filled == 1 && text && layout->columns->len + layout->crossing->len >= 3 && !is_day (text))
    return BED_ASIDE_NOTE;
  return BED_ASIDE_NOT;
}

BedAside
bed_sorter_sort (BedNotebookSorter *self, const BedNotebookLayout *layout,
                 const BedNotebookLine *line, char mark)
{
  BedAside aside = sort_out (self, layout, line, mark);

  if (aside == BED_ASIDE_NOT)
    add_up (self, line, mark);
  else if (aside == BED_ASIDE_TOTAL)
    {
      memset (self->group, 0, self->n * sizeof (double));
      self->rows = 0;
    }
  return aside;
}
