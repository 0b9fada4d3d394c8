#include "app/import/import_sheet.h"

#include "app/import/import_preview.h"
#include "app/widgets/build.h"

#define LOOK_EVERY 30 /* ms */
#define PATIENCE 100  /* ms a question stands still for another program's lock */
/* Rows that are rehearsed: meanwhile, some 2 s for 100,000, nobody else can write to the farm. */
#define REHEARSED_MOST 300000
#define FIRST_SHOWN G_MAXUINT

struct _BedImportSheet
{
  GObject parent_instance;
  BedFarm *farm; /* the desk's */
  BedFarm *twin; /* the notebook's */
  char *path;
  GBytes *bytes;
  char *name;
  guint64 kinds;
  BedReading reading;
  guint sheet;
  BedNotebook *notebook;
  gboolean matched;         /* by what was decided for another sheet with such heads */
  BedImportDiffers differs; /* BED_DIFFERS_REFUSED: nobody has said it yet */

  GThread *thread; /* while it works; it has the notebook then */
  GCancellable *cancellable;
  gboolean bringing; /* in, not reading */
  gint over, rows;   /* atomic */
  guint all;         /* rows there are to bring in */
  BedImportAnswer *answer;
  GPtrArray *faults;  /* BedCsvFault; NULL: none */
  GPtrArray *preview; /* NULL: none yet */
  gboolean read;      /* since the last decision */
  gboolean rehearsed; /* to the end, or brought in: the answer holds */
  GError *trouble;
  guint look_source;
};

G_DEFINE_FINAL_TYPE (BedImportSheet, bed_import_sheet, G_TYPE_OBJECT)

/* --- rows --------------------------------------------------------------------------- */

static guint
find_shown_sheet (BedRows *rows)
{
  for (guint i = 0; i < bed_rows_get_n_sheets (rows); i++)
    if (bed_rows_get_sheet_sight (rows, i) == BED_ROW_SHOWN)
      return i;
  return 0;
}

/* From the first one of its sheet. */
static BedRows *
open_rows (BedImportSheet *self, GError **error)
{
  g_autoptr (BedRows) rows = self->bytes ? bed_rows_open_bytes (self->bytes, &self->reading, error)
                                         : bed_rows_open_file (self->path, &self->reading, error);

  if (!rows)
    return NULL;
  if (self->sheet == FIRST_SHOWN)
    self->sheet = find_shown_sheet (rows);
  else if (!bed_rows_choose_sheet (rows, self->sheet, error))
    return NULL;
  return g_steal_pointer (&rows);
}

/* --- the thread -------------------------------------------------------------------- */

static void
progress_cb (guint rows, gpointer data)
{
  g_atomic_int_set (&((BedImportSheet *) data)->rows, (int) rows);
}

/* What is there already is not added again. The rehearsal says what differs before somebody says
 * what becomes of it; then nothing may. */
static void
bring_in (BedImportSheet *self, BedImportMode mode)
{
  gboolean rehearsal = mode == BED_IMPORT_DRY_RUN && self->differs == BED_DIFFERS_REFUSED;
  const BedImport import = { .path = self->name,
                             .mode = mode,
                             .known = BED_KNOWN_SKIPPED,
                             .differs = rehearsal ? BED_DIFFERS_AMENDED : self->differs,
                             .answer = self->answer,
                             .cancellable = self->cancellable,
                             .progress = progress_cb,
                             .progress_data = self };

  g_clear_pointer (&self->faults, g_ptr_array_unref);
  self->rehearsed
      = bed_csv_bring (self->twin, self->notebook, &import, &self->faults, &self->trouble) >= 0;
}

static void
preview (BedImportSheet *self)
{
  g_autoptr (BedRows) rows = open_rows (self, NULL);

  if (rows)
    self->preview = bed_import_preview_new (self->twin, self->notebook, rows);
}

/* What is known and what differs is told by a rehearsal; while another program writes, without. */
static void
read_all (BedImportSheet *self)
{
  if (!bed_notebook_read_all (self->notebook, self->cancellable, &self->trouble)
      || bed_notebook_count_open (self->notebook) > 0)
    return;
  preview (self);
  if (bed_notebook_count_rows (self->notebook) > REHEARSED_MOST
      || bed_farm_get_read_only_why (self->twin))
    return;
  bring_in (self, BED_IMPORT_DRY_RUN);
  if (g_error_matches (self->trouble, BED_FARM_ERROR, BED_FARM_ERROR_BUSY))
    g_clear_error (&self->trouble);
}

static gpointer
work (gpointer data)
{
  BedImportSheet *self = data;

  if (self->bringing)
    bring_in (self, BED_IMPORT_WRITE);
  else
    read_all (self);
  g_atomic_int_set (&self->over, TRUE);
  return NULL;
}

/* It looks at the cancellable every few rows, so this takes no time that one would see. */
static void
end_thread (BedImportSheet *self)
{
  g_clear_handle_id (&self->look_source, g_source_remove);
  if (!self->thread)
    return;
  g_thread_join (g_steal_pointer (&self->thread));
  g_clear_object (&self->cancellable);
  self->bringing = FALSE;
}

static gboolean
look_cb (gpointer data)
{
  BedImportSheet *self = data;
  const char *signal = self->bringing ? "brought" : "read";

  if (!g_atomic_int_get (&self->over))
    return G_SOURCE_CONTINUE;
  self->look_source = 0;
  end_thread (self);
  self->read = TRUE;
  g_signal_emit_by_name (self, signal);
  return G_SOURCE_REMOVE;
}

static void
forget (BedImportSheet *self)
{
  g_clear_error (&self->trouble);
  g_clear_pointer (&self->faults, g_ptr_array_unref);
  g_clear_pointer (&self->answer, bed_import_answer_free);
  g_clear_pointer (&self->preview, g_ptr_array_unref);
  self->read = self->rehearsed = FALSE;
}

static void
begin_thread (BedImportSheet *self)
{
  forget (self);
  self->answer = bed_import_answer_new ();
  self->over = FALSE;
  self->cancellable = g_cancellable_new ();
  self->thread = g_thread_new ("sheet", work, self);
  self->look_source = g_timeout_add (LOOK_EVERY, look_cb, self);
}

static void
tell (BedImportSheet *self)
{
  forget (self);
  g_signal_emit_by_name (self, "understood");
  /* A handler may have stopped it, or decided more. */
  if (self->notebook && !self->thread)
    begin_thread (self);
}

/* --- the notebook -------------------------------------------------------------------- */

/* Of what was decided, @kept, what fits is decided again; NULL: what the farm keeps of the last
 * sheet with such heads. */
static BedNotebook *
make_notebook (BedImportSheet *self, const char *kept, guint table, GError **error)
{
  BedRows *rows = open_rows (self, error);

  if (!rows)
    return NULL;
  BedNotebook *notebook = bed_notebook_new (self->twin, rows, error);
  if (notebook && table > 0) /* the file may have changed: then it is the first */
    bed_notebook_choose_table (notebook, table, NULL);
  if (notebook && self->kinds)
    bed_notebook_expect (notebook, self->kinds);
  g_autofree char *matching = notebook && !kept ? bed_csv_dup_matching (self->twin, notebook)
                                                : g_strdup (kept);
  if (matching && bed_notebook_take_matching (notebook, matching, NULL))
    self->matched = self->matched || !kept;
  return notebook;
}

static gboolean
open_twin (BedImportSheet *self, GError **error)
{
  BedFarmTwin *twin = bed_farm_twin_new (self->farm);

  self->twin = bed_farm_twin_open (twin, error);
  bed_farm_twin_free (twin);
  if (self->twin)
    bed_farm_set_patience (self->twin, PATIENCE);
  return self->twin != NULL;
}

/* --- overrides -------------------------------------------------------------------------- */

static void
bed_import_sheet_dispose (GObject *object)
{
  BedImportSheet *self = BED_IMPORT_SHEET (object);

  bed_import_sheet_stop (self);
  g_clear_pointer (&self->notebook, bed_notebook_free);
  g_clear_object (&self->twin);
  g_clear_object (&self->farm);
  G_OBJECT_CLASS (bed_import_sheet_parent_class)->dispose (object);
}

static void
bed_import_sheet_finalize (GObject *object)
{
  BedImportSheet *self = BED_IMPORT_SHEET (object);

  forget (self);
  g_clear_pointer (&self->bytes, g_bytes_unref);
  g_free (self->path);
  g_free (self->name);
  G_OBJECT_CLASS (bed_import_sheet_parent_class)->finalize (object);
}

static void
bed_import_sheet_class_init (BedImportSheetClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = bed_import_sheet_dispose;
  G_OBJECT_CLASS (klass)->finalize = bed_import_sheet_finalize;
  bed_signal_new (G_TYPE_FROM_CLASS (klass), "understood", 0);
  bed_signal_new (G_TYPE_FROM_CLASS (klass), "read", 0);
  bed_signal_new (G_TYPE_FROM_CLASS (klass), "brought", 0);
}

static void
bed_import_sheet_init (BedImportSheet *self)
{
}

/* --- public --------------------------------------------------------------------------------- */

BedImportSheet *
bed_import_sheet_new (BedFarm *farm, const BedImportSource *source, GError **error)
{
  g_autoptr (BedImportSheet) self = g_object_new (BED_TYPE_IMPORT_SHEET, NULL);

  self->farm = g_object_ref (farm);
  self->sheet = FIRST_SHOWN;
  self->path = g_strdup (source->path);
  self->bytes = source->bytes ? g_bytes_ref (source->bytes) : NULL;
  self->name = g_strdup (source->name);
  self->kinds = source->kinds;
  if (!open_twin (self, error))
    return NULL;
  self->notebook = make_notebook (self, NULL, 0, error);
  return self->notebook ? g_steal_pointer (&self) : NULL;
}

void
bed_import_sheet_begin (BedImportSheet *self)
{
  g_return_if_fail (BED_IS_IMPORT_SHEET (self));
  tell (self);
}

const char *
bed_import_sheet_get_name (BedImportSheet *self)
{
  g_return_val_if_fail (BED_IS_IMPORT_SHEET (self), NULL);
  return self->name;
}

guint
bed_import_sheet_get_sheet (BedImportSheet *self)
{
  g_return_val_if_fail (BED_IS_IMPORT_SHEET (self), 0);
  return self->sheet;
}

gboolean
bed_import_sheet_is_matched (BedImportSheet *self)
{
  g_return_val_if_fail (BED_IS_IMPORT_SHEET (self), FALSE);
  return self->matched && bed_notebook_count_decisions (self->notebook) > 0;
}

BedNotebook *
bed_import_sheet_get_notebook (BedImportSheet *self)
{
  g_return_val_if_fail (BED_IS_IMPORT_SHEET (self) && !self->thread, NULL);
  return self->notebook;
}

BedNotebook *
bed_import_sheet_begin_decision (BedImportSheet *self)
{
  g_return_val_if_fail (BED_IS_IMPORT_SHEET (self), NULL);
  bed_import_sheet_stop (self);
  return self->notebook;
}

void
bed_import_sheet_end_decision (BedImportSheet *self)
{
  g_return_if_fail (BED_IS_IMPORT_SHEET (self) && !self->thread);
  tell (self);
}

/* What has no name of its own is there as a whole or not at all; too many rows are not rehearsed.
 */
gboolean
bed_import_sheet_may_differ (BedImportSheet *self)
{
  g_return_val_if_fail (BED_IS_IMPORT_SHEET (self) && !self->thread, FALSE);
  BedKind kind = bed_notebook_get_kind (self->notebook, NULL);

  if (!self->read || self->trouble || bed_notebook_count_open (self->notebook) > 0)
    return FALSE;
  if (self->rehearsed)
    return self->answer->n_changes > 0;
  return bed_kind_get_info (kind)->key && bed_farm_count (self->farm, kind) > 0;
}

BedImportDiffers
bed_import_sheet_get_differs (BedImportSheet *self)
{
  g_return_val_if_fail (BED_IS_IMPORT_SHEET (self), BED_DIFFERS_REFUSED);
  return self->differs;
}

void
bed_import_sheet_set_differs (BedImportSheet *self, BedImportDiffers differs)
{
  g_return_if_fail (BED_IS_IMPORT_SHEET (self));
  bed_import_sheet_begin_decision (self);
  self->differs = differs;
  bed_import_sheet_end_decision (self);
}

gboolean
bed_import_sheet_read_as (BedImportSheet *self, const BedReading *reading, guint sheet,
                          GError **error)
{
  g_return_val_if_fail (BED_IS_IMPORT_SHEET (self), FALSE);
  BedReading before = self->reading;
  guint sheet_before = self->sheet;

  bed_import_sheet_stop (self);
  guint table = sheet == self->sheet ? bed_notebook_get_table (self->notebook) : 0;
  g_autofree char *kept = bed_notebook_dup_matching (self->notebook);
  self->reading = *reading;
  self->sheet = sheet;
  BedNotebook *notebook = make_notebook (self, kept, table, error);
  if (notebook)
    {
      bed_notebook_free (self->notebook);
      self->notebook = notebook;
    }
  else
    {
      self->reading = before;
      self->sheet = sheet_before;
    }
  tell (self);
  return notebook != NULL;
}

gboolean
bed_import_sheet_choose_table (BedImportSheet *self, guint table, GError **error)
{
  g_return_val_if_fail (BED_IS_IMPORT_SHEET (self), FALSE);
  bed_import_sheet_stop (self);
  BedNotebook *notebook = make_notebook (self, NULL, table, error);

  if (notebook)
    {
      bed_notebook_free (self->notebook);
      self->notebook = notebook;
    }
  tell (self);
  return notebook != NULL;
}

gboolean
bed_import_sheet_look_again (BedImportSheet *self, GError **error)
{
  g_return_val_if_fail (BED_IS_IMPORT_SHEET (self), FALSE);
  BedReading reading = self->reading;

  bed_farm_look_again (self->twin);
  return bed_import_sheet_read_as (self, &reading, self->sheet, error);
}

gboolean
bed_import_sheet_is_read (BedImportSheet *self)
{
  g_return_val_if_fail (BED_IS_IMPORT_SHEET (self), FALSE);
  return self->read;
}

void
bed_import_sheet_bring_in (BedImportSheet *self)
{
  g_return_if_fail (BED_IS_IMPORT_SHEET (self) && !self->bringing);
  bed_import_sheet_stop (self);
  self->all = bed_notebook_count_rows (self->notebook);
  self->rows = 0;
  self->bringing = TRUE;
  begin_thread (self);
}

gboolean
bed_import_sheet_is_bringing (BedImportSheet *self)
{
  g_return_val_if_fail (BED_IS_IMPORT_SHEET (self), FALSE);
  return self->bringing;
}

guint
bed_import_sheet_get_progress (BedImportSheet *self, guint *all)
{
  g_return_val_if_fail (BED_IS_IMPORT_SHEET (self), 0);
  *all = self->all;
  return (guint) g_atomic_int_get (&self->rows);
}

void
bed_import_sheet_cancel (BedImportSheet *self)
{
  g_return_if_fail (BED_IS_IMPORT_SHEET (self));
  if (self->cancellable)
    g_cancellable_cancel (self->cancellable);
}

/* All that is in it is a head. */
static gboolean
is_head (BedNotebook *notebook, const BedSheetRow *row)
{
  guint n = 0;

  for (guint i = 0; i < row->n_cells; i++)
    {
      g_autofree char *cell = g_strstrip (g_strdup (row->cells[i].text));
      gboolean found = !*cell;
      for (guint c = 0; c < bed_notebook_get_n_columns (notebook) && !found; c++)
        found = g_str_equal (bed_notebook_get_column (notebook, c)->head, cell);
      if (!found)
        return FALSE;
      n += *cell != '\0';
    }
  return n > 0;
}

static void
append_cells (GString *text, const BedSheetRow *row)
{
  for (guint i = 0; i < row->n_cells; i++)
    {
      g_autofree char *cell = g_strdelimit (g_strdup (row->cells[i].text), "\t\r\n", ' ');
      g_string_append_printf (text, "%s%s", i ? "\t" : "", cell);
    }
  g_string_append_c (text, '\n');
}

char *
bed_import_sheet_dup_aside (BedImportSheet *self, guint *n)
{
  g_return_val_if_fail (BED_IS_IMPORT_SHEET (self) && !self->thread, NULL);
  guint all;
  const BedNotebookAside *asides = bed_notebook_get_aside (self->notebook, &all);
  g_autoptr (GHashTable) lines = g_hash_table_new (NULL, NULL);
  g_autoptr (GString) text = g_string_new (NULL);
  const BedSheetRow *row;

  for (guint i = 0; i < all; i++)
    if (asides[i].why == BED_ASIDE_ASKED)
      g_hash_table_add (lines, GUINT_TO_POINTER (asides[i].line));
  *n = g_hash_table_size (lines);
  g_autoptr (BedRows) rows = *n > 0 ? open_rows (self, NULL) : NULL;
  for (guint left = *n; rows && left > 0 && (row = bed_rows_next (rows, NULL));)
    if (g_hash_table_contains (lines, GUINT_TO_POINTER (row->line)))
      {
        append_cells (text, row);
        left--;
      }
    else if (text->len == 0 && is_head (self->notebook, row))
      append_cells (text, row);
  return *n > 0 ? g_strdup (text->str) : NULL;
}

const BedImportAnswer *
bed_import_sheet_get_answer (BedImportSheet *self)
{
  g_return_val_if_fail (BED_IS_IMPORT_SHEET (self) && !self->thread, NULL);
  return self->rehearsed ? self->answer : NULL;
}

GPtrArray *
bed_import_sheet_get_preview (BedImportSheet *self)
{
  g_return_val_if_fail (BED_IS_IMPORT_SHEET (self) && !self->thread, NULL);
  return self->preview;
}

GPtrArray *
bed_import_sheet_get_faults (BedImportSheet *self)
{
  g_return_val_if_fail (BED_IS_IMPORT_SHEET (self) && !self->thread, NULL);
  return self->faults && self->faults->len > 0 ? self->faults : NULL;
}

const GError *
bed_import_sheet_get_trouble (BedImportSheet *self)
{
  g_return_val_if_fail (BED_IS_IMPORT_SHEET (self), NULL);
  return self->trouble;
}

void
bed_import_sheet_stop (BedImportSheet *self)
{
  g_return_if_fail (BED_IS_IMPORT_SHEET (self));
  bed_import_sheet_cancel (self);
  end_thread (self);
}
