#include "model/notebook/notebook.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/notebook/notebook_private.h"
#include "science/units.h"

/* --- understanding --------------------------------------------------------------------- */

static void
show_columns (BedNotebook *self)
{
  for (guint i = 0; i < self->matches->len; i++)
    {
      BedNotebookMatch *match = &g_array_index (self->matches, BedNotebookMatch, i);
      memcpy (match->shown.samples, match->samples, sizeof match->samples);
      match->shown.unit = match->unit ? match->unit : "";
      match->shown.why = match->why;
    }
}

/* Anew after each decision, from the first rows. */
static void
understand (BedNotebook *self)
{
  bed_notebook_count_cells (self);
  bed_notebook_match (self);
  bed_notebook_find_orders (self);
  bed_notebook_find_units (self);
  show_columns (self);
  bed_notebook_read_first (self);
}

static gboolean
read_first_rows (BedNotebook *self, GError **error)
{
  g_autoptr (GError) why = NULL;
  const BedSheetRow *row = NULL;
  gsize bytes = 0;

  while (self->first->len < BED_NOTEBOOK_FIRST_ROWS && bytes < BED_NOTEBOOK_FIRST_BYTES
         && (row = bed_rows_next (self->rows, &why)))
    {
      for (guint i = 0; i < row->n_cells; i++)
        bytes += strlen (row->cells[i].text) + 1;
      g_ptr_array_add (self->first, bed_line_copy (row));
    }
  if (why)
    {
      g_propagate_error (error, g_steal_pointer (&why));
      return FALSE;
    }
  self->is_whole = row == NULL;
  return TRUE;
}

static void
make_matches (BedNotebook *self)
{
  for (guint i = 0; i < self->layout.heads->len; i++)
    {
      BedNotebookMatch match = { 0 };
      match.shown.head = self->layout.heads->pdata[i];
      g_array_append_val (self->matches, match);
    }
}

static void
clear_match (gpointer data)
{
  BedNotebookMatch *match = data;

  g_free (match->why);
  g_free (match->unit);
  for (guint i = 0; i < match->n_samples; i++)
    g_free (match->samples[i]);
}

static BedNotebook *
notebook_alloc (BedFarm *farm, BedRows *rows)
{
  BedNotebook *self = g_new0 (BedNotebook, 1);

  self->farm = g_object_ref (farm);
  self->rows = rows;
  self->sheet = bed_rows_get_sheet (rows);
  self->notation = *bed_farm_get_notation (farm);
  self->first = g_ptr_array_new_with_free_func ((GDestroyNotify) bed_line_free);
  self->texts = g_string_chunk_new (4096);
  self->decided = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  self->past = g_ptr_array_new_with_free_func ((GDestroyNotify) g_hash_table_unref);
  self->kinds = g_array_new (FALSE, FALSE, sizeof (BedKind));
  self->targets = g_array_new (FALSE, FALSE, sizeof (BedNotebookTarget));
  self->matches = g_array_new (FALSE, FALSE, sizeof (BedNotebookMatch));
  g_array_set_clear_func (self->matches, clear_match);
  self->asked = g_array_new (FALSE, FALSE, sizeof (BedNotebookQuestion));
  self->aside = g_array_new (FALSE, FALSE, sizeof (BedNotebookAside));
  self->sums = g_hash_table_new_full (NULL, NULL, NULL, g_free);
  self->made = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  self->drafts = g_array_new (FALSE, FALSE, sizeof (BedNotebookDraft));
  self->waiting = g_ptr_array_new ();
  self->made_now = g_ptr_array_new ();
  self->kept = g_ptr_array_new_with_free_func (g_free);
  self->held = g_ptr_array_new_with_free_func (g_object_unref);
  self->kept_references = g_ptr_array_new_with_free_func ((GDestroyNotify) g_array_unref);
  bed_notebook_forget_questions (self);
  return self;
}

BedNotebook *
bed_notebook_new (BedFarm *farm, BedRows *rows, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && rows != NULL, NULL);
  g_autoptr (BedNotebook) self = notebook_alloc (farm, rows);

  if (!bed_rows_choose_sheet (rows, self->sheet, error) || !read_first_rows (self, error))
    return NULL;
  bed_layout_find (&self->layout, self->first, 0);
  if (self->layout.heads->len == 0)
    {
      g_set_error_literal (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID,
                           _ ("There is nothing in this sheet."));
      return NULL;
    }
  self->tables = bed_layout_list_tables (&self->layout, self->first, self->texts);
  make_matches (self);
  understand (self);
  return g_steal_pointer (&self);
}

static void
clear_row (BedNotebook *self)
{
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    {
      g_clear_object (&self->slots[kind].record);
      g_clear_pointer (&self->slots[kind].references, g_array_unref);
      g_clear_pointer (&self->known[kind], g_hash_table_unref);
    }
  bed_line_free (self->line);
  bed_line_free (self->crossed);
  g_array_unref (self->drafts);
  g_ptr_array_unref (self->waiting);
  g_ptr_array_unref (self->made_now);
  g_ptr_array_unref (self->kept);
  g_ptr_array_unref (self->held);
  g_ptr_array_unref (self->kept_references);
}

void
bed_notebook_free (BedNotebook *self)
{
  if (!self)
    return;
  clear_row (self);
  bed_sorter_clear (&self->sorter);
  if (self->layout.heads)
    bed_layout_clear (&self->layout);
  g_clear_pointer (&self->tables, g_array_unref);
  g_hash_table_unref (self->questions);
  g_hash_table_unref (self->decided);
  g_hash_table_unref (self->sums);
  g_hash_table_unref (self->made);
  g_hash_table_unref (self->names);
  g_ptr_array_unref (self->past);
  g_ptr_array_unref (self->first);
  g_array_unref (self->kinds);
  g_array_unref (self->targets);
  g_array_unref (self->matches);
  g_array_unref (self->asked);
  g_array_unref (self->aside);
  g_string_chunk_free (self->texts);
  g_free (self->kind_why);
  bed_rows_free (self->rows);
  g_object_unref (self->farm);
  g_free (self);
}

void
bed_notebook_expect (BedNotebook *self, guint64 kinds)
{
  self->expected = kinds;
  understand (self);
}

/* --- what was understood ------------------------------------------------------------------ */

BedRows *
bed_notebook_get_rows (BedNotebook *self)
{
  return self->rows;
}

BedKind
bed_notebook_get_kind (BedNotebook *self, BedMatch *sure)
{
  if (sure)
    *sure = self->kind_sure;
  return self->kind;
}

const char *
bed_notebook_get_kind_why (BedNotebook *self)
{
  return self->kind_why;
}

const BedKind *
bed_notebook_get_kinds (BedNotebook *self, guint *n)
{
  *n = self->kinds->len;
  return (const BedKind *) self->kinds->data;
}

guint
bed_notebook_get_n_columns (BedNotebook *self)
{
  return self->matches->len;
}

const BedNotebookColumn *
bed_notebook_get_column (BedNotebook *self, guint column)
{
  g_return_val_if_fail (column < self->matches->len, NULL);
  return &g_array_index (self->matches, BedNotebookMatch, column).shown;
}

const BedNotebookTarget *
bed_notebook_get_targets (BedNotebook *self, guint *n)
{
  *n = self->targets->len;
  return (const BedNotebookTarget *) self->targets->data;
}

const BedNotebookAside *
bed_notebook_get_aside (BedNotebook *self, guint *n)
{
  *n = self->aside->len;
  return (const BedNotebookAside *) self->aside->data;
}

guint
bed_notebook_count_aside (BedNotebook *self, BedAside why)
{
  return self->n_aside[why];
}

const char *
bed_aside_get_word (BedAside why)
{
  static const char *const words[] = {
    [BED_ASIDE_NOT] = N_ ("taken"),
    [BED_ASIDE_BLANK] = N_ ("blank"),
    [BED_ASIDE_ABOVE] = N_ ("above the table"),
    [BED_ASIDE_HEAD] = N_ ("the heads again"),
    [BED_ASIDE_TOTAL] = N_ ("a total"),
    [BED_ASIDE_NOTE] = N_ ("a note"),
    [BED_ASIDE_TABLE] = N_ ("another table"),
    [BED_ASIDE_OTHER] = N_ ("nothing of this kind"),
    [BED_ASIDE_ASKED] = N_ ("as you said"),
  };

  return _ (words[why]);
}

gboolean
bed_notebook_is_crosswise (BedNotebook *self)
{
  return self->layout.crossing->len > 0;
}

const BedNotebookTable *
bed_notebook_get_tables (BedNotebook *self, guint *n)
{
  *n = self->tables->len;
  return (const BedNotebookTable *) self->tables->data;
}

guint
bed_notebook_get_table (BedNotebook *self)
{
  return self->table;
}

gboolean
bed_notebook_choose_table (BedNotebook *self, guint table, GError **error)
{
  if (table >= self->tables->len)
    return bed_farm_refuse (
        error, BED_FARM_ERROR_INVALID,
        ngettext ("The sheet has %u table.", "The sheet has %u tables.", self->tables->len),
        self->tables->len);
  self->table = table;
  g_hash_table_remove_all (self->decided);
  g_ptr_array_set_size (self->past, 0);
  g_array_set_size (self->matches, 0);
  bed_layout_clear (&self->layout);
  bed_layout_find (&self->layout, self->first,
                   g_array_index (self->tables, BedNotebookTable, table).line);
  make_matches (self);
  understand (self);
  return TRUE;
}

guint
bed_notebook_find_column (BedNotebook *self, BedKind kind, const char *field)
{
  for (guint i = 0; i < self->matches->len; i++)
    {
      const BedNotebookColumn *shown = bed_notebook_get_column (self, i);
      if (shown->field && shown->kind == kind && strcmp (shown->field->name, field) == 0)
        return i + 1;
    }
  return 0;
}

/* --- decisions ------------------------------------------------------------------------------ */

static GHashTable *
copy_decided (BedNotebook *self)
{
  GHashTable *copy = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  GHashTableIter iter;
  gpointer key, value;

  g_hash_table_iter_init (&iter, self->decided);
  while (g_hash_table_iter_next (&iter, &key, &value))
    g_hash_table_insert (copy, g_strdup (key), g_strdup (value));
  return copy;
}

/* @value NULL: it is undecided again. Takes over both. */
static gboolean
decide (BedNotebook *self, char *key, char *value)
{
  g_ptr_array_add (self->past, copy_decided (self));
  if (value)
    g_hash_table_insert (self->decided, key, value);
  else
    {
      g_hash_table_remove (self->decided, key);
      g_free (key);
    }
  understand (self);
  return TRUE;
}

gboolean
bed_notebook_set_kind (BedNotebook *self, BedKind kind, GError **error)
{
  gboolean known = FALSE;

  for (guint i = 0; i < self->kinds->len; i++)
    known = known || g_array_index (self->kinds, BedKind, i) == kind;
  if (!known)
    return bed_farm_refuse (error, BED_FARM_ERROR_INVALID,
                            _ ("A table of these cannot be brought in."));
  return decide (self, g_strdup ("kind"), g_strdup (bed_kind_get_info (kind)->name));
}

static gboolean
check_column (BedNotebook *self, guint column, GError **error)
{
  return column < self->matches->len
         || bed_farm_refuse (error, BED_FARM_ERROR_INVALID,
                             _ ("The sheet has %u columns, none with the number %u."),
                             self->matches->len, column + 1);
}

gboolean
bed_notebook_set_field (BedNotebook *self, guint column, BedKind kind, const BedField *field,
                        GError **error)
{
  if (!check_column (self, column, error))
    return FALSE;
  if (field && !bed_notebook_can_be (self, kind, field))
    return bed_farm_refuse (error, BED_FARM_ERROR_INVALID,
                            _ ("A row of this sheet makes no such record."));
  return decide (self, g_strdup_printf ("field:%u", column),
                 field ? g_strdup_printf ("%s.%s", bed_kind_get_info (kind)->name, field->name)
                       : g_strdup ("-"));
}

gboolean
bed_notebook_set_unit (BedNotebook *self, guint column, const char *unit, GError **error)
{
  if (!check_column (self, column, error))
    return FALSE;
  const BedField *field = bed_notebook_get_column (self, column)->field;
  const char *known = bed_words_find ("unit", "", unit);
  gint64 value;
  if (!field || field->type != BED_FIELD_MEASURE)
    return bed_farm_refuse (error, BED_FARM_ERROR_INVALID, _ ("This column has no unit."));
  if (!bed_measure_parse_in (field->measure, &self->notation, known ? known : unit, "1", &value,
                             error))
    return FALSE;
  return decide (self, g_strdup_printf ("unit:%u", column), g_strdup (known ? known : unit));
}

gboolean
bed_notebook_set_dates (BedNotebook *self, guint column, BedDates dates, GError **error)
{
  static const char *const names[] = { NULL, "ymd", "dmy", "mdy", "1900", "1904" };

  if (!check_column (self, column, error))
    return FALSE;
  g_return_val_if_fail (dates < G_N_ELEMENTS (names), FALSE);
  return decide (self, g_strdup_printf ("dates:%u", column), g_strdup (names[dates]));
}

gboolean
bed_notebook_set_decimal_mark (BedNotebook *self, char mark, GError **error)
{
  if (mark != '.' && mark != ',')
    return bed_farm_refuse (error, BED_FARM_ERROR_INVALID,
                            _ ("A point or a comma is before the decimals."));
  return decide (self, g_strdup ("decimal"), g_strdup_printf ("%c", mark));
}

char
bed_notebook_get_decimal_mark (BedNotebook *self)
{
  return self->mark;
}

static gboolean
is_choice (const BedNotebookAsked *asked, const char *answer)
{
  for (guint i = 0; i < asked->choices->len; i++)
    if (strcmp (g_array_index (asked->choices, BedNotebookChoice, i).key, answer) == 0)
      return TRUE;
  return FALSE;
}

gboolean
bed_notebook_answer (BedNotebook *self, const char *key, const char *answer, GError **error)
{
  g_autofree char *trimmed = answer ? g_strstrip (g_strdup (answer)) : NULL;

  if (trimmed && !bed_notebook_can_answer (self, key, trimmed, error))
    return FALSE;
  const BedNotebookAsked *asked = trimmed ? g_hash_table_lookup (self->questions, key) : NULL;
  if (asked && asked->meant && !is_choice (asked, trimmed))
    key = asked->meant;
  return decide (self, g_strdup (key), g_steal_pointer (&trimmed));
}

/* Of what a column says in two ways nothing is usual. */
gboolean
bed_notebook_is_usual (const BedNotebookQuestion *question)
{
  return !question->answer && question->offer && g_str_has_prefix (question->key, "need:");
}

guint
bed_notebook_count_usual (BedNotebook *self)
{
  guint n, usual = 0;
  const BedNotebookQuestion *questions = bed_notebook_get_questions (self, &n);

  for (guint i = 0; i < n; i++)
    usual += bed_notebook_is_usual (&questions[i]);
  return usual;
}

void
bed_notebook_take_usual (BedNotebook *self)
{
  guint n;

  g_ptr_array_add (self->past, copy_decided (self));
  /* Each round answers one at least. */
  while (bed_notebook_count_usual (self) > 0)
    {
      const BedNotebookQuestion *questions = bed_notebook_get_questions (self, &n);

      for (guint i = 0; i < n; i++)
        if (bed_notebook_is_usual (&questions[i]))
          g_hash_table_insert (self->decided, g_strdup (questions[i].key),
                               g_strdup (questions[i].offer));
      understand (self);
    }
}

gboolean
bed_notebook_set_aside (BedNotebook *self, guint line, BedAside aside, GError **error)
{
  if (aside != BED_ASIDE_NOT && aside != BED_ASIDE_ASKED)
    return bed_farm_refuse (error, BED_FARM_ERROR_INVALID, _ ("A row is taken or set aside."));
  return decide (self, g_strdup_printf ("row:%u", line),
                 g_strdup (aside == BED_ASIDE_NOT ? "take" : "aside"));
}

gboolean
bed_notebook_go_back (BedNotebook *self)
{
  if (self->past->len == 0)
    return FALSE;
  g_hash_table_unref (self->decided);
  self->decided = g_ptr_array_steal_index (self->past, self->past->len - 1);
  understand (self);
  return TRUE;
}

guint
bed_notebook_count_decisions (BedNotebook *self)
{
  return self->past->len;
}

gboolean
bed_notebook_take_matching (BedNotebook *self, const char *matching, GError **error)
{
  g_autoptr (GHashTable) before = copy_decided (self);

  if (!bed_notebook_take_matching_text (self, matching, error))
    return FALSE;
  g_ptr_array_add (self->past, g_steal_pointer (&before));
  understand (self);
  return TRUE;
}

/* --- reading -----------------------------------------------------------------------------------
 */

static gboolean
read_through (BedNotebook *self, GCancellable *cancellable, GError **error)
{
  g_autoptr (GError) why = NULL;

  if (!bed_notebook_rewind (self, error))
    return FALSE;
  while (bed_notebook_step (self, &why))
    if (g_cancellable_set_error_if_cancelled (cancellable, error))
      return FALSE;
  if (!why)
    return TRUE;
  g_propagate_error (error, g_steal_pointer (&why));
  return FALSE;
}

gboolean
bed_notebook_read_all (BedNotebook *self, GCancellable *cancellable, GError **error)
{
  if (self->is_read)
    return TRUE;
  if (!read_through (self, cancellable, error))
    return FALSE;
  /* What the first rows left open, the others say: nobody needs to be asked. */
  if (bed_notebook_settle (self))
    {
      understand (self);
      if (!read_through (self, cancellable, error))
        return FALSE;
    }
  self->is_read = TRUE;
  return TRUE;
}

gboolean
bed_notebook_is_read (BedNotebook *self)
{
  return self->is_read;
}

guint
bed_notebook_count_rows (BedNotebook *self)
{
  return self->n_rows;
}

guint
bed_notebook_count_records (BedNotebook *self, BedKind kind)
{
  g_return_val_if_fail (kind < BED_N_KINDS, 0);
  return self->n_records[kind];
}

gint64
bed_notebook_sum (BedNotebook *self, BedKind kind, const BedField *field)
{
  g_return_val_if_fail (kind < BED_N_KINDS && bed_kind_find_field (kind, field->name, NULL), 0);
  const gint64 *sum = g_hash_table_lookup (self->sums, field);

  return sum ? *sum : 0;
}

const char *
bed_notebook_get_first_day (BedNotebook *self)
{
  return *self->first_day ? self->first_day : NULL;
}

const char *
bed_notebook_get_last_day (BedNotebook *self)
{
  return *self->last_day ? self->last_day : NULL;
}

gboolean
bed_notebook_begin (BedNotebook *self, GError **error)
{
  if (!bed_notebook_read_all (self, NULL, error))
    return FALSE;
  guint open = bed_notebook_count_open (self);
  if (open > 0)
    return bed_farm_refuse (error, BED_FARM_ERROR_INVALID,
                            ngettext ("%u question about this sheet is open.",
                                      "%u questions about this sheet are open.", open),
                            open);
  return bed_notebook_rewind (self, error);
}

const BedNotebookRow *
bed_notebook_next (BedNotebook *self, GError **error)
{
  const BedNotebookRow *row = bed_notebook_step (self, error);

  self->is_read = row == NULL; /* or there is an error, and another reading meets it again */
  return row;
}
