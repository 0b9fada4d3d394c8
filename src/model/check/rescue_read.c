/* The records and changes that stand on the pages of a damaged farm. */
#include "model/check/rescue_private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/farm/farm_private.h"
#include "model/farm/kinds.h"
#include "model/farm/pages.h"

/* Table change: at, who, sentence, role, changeset, undoes, undone_by after its id. */
#define CHANGE_COLUMNS 8

typedef struct
{
  BedRescueRead *read;
  BedPages *pages;
  guint roots[BED_N_KINDS];
  guint change_root;
  GArray *indices; /* Index */
  BedKind kind;    /* whose rows are being read */
} Reader;

typedef struct
{
  BedKind kind;
  guint root;
} Index;

/* --- one row ------------------------------------------------------------------------------- */

/* @mended tells whether it had to be put right. */
static char *
dup_text (const BedPageCell *cell, gboolean *mended)
{
  gsize length = strnlen ((const char *) cell->bytes, cell->size);

  *mended |= length < cell->size || !g_utf8_validate ((const char *) cell->bytes, length, NULL);
  return g_utf8_make_valid ((const char *) cell->bytes, (gssize) length);
}

static gboolean
is_number (const BedField *field)
{
  return field->type == BED_FIELD_REFERENCE || field->type == BED_FIELD_MEASURE;
}

/* FALSE when the cell is not of the field's type. */
static gboolean
set_field (BedRecord *record, const BedField *field, const BedPageCell *cell, gboolean *mended)
{
  if (cell->type == BED_PAGE_CELL_NULL)
    return TRUE;
  if (is_number (field) != (cell->type == BED_PAGE_CELL_INTEGER)
      || cell->type == BED_PAGE_CELL_OTHER)
    return FALSE;
  if (is_number (field))
    bed_record_set_int (record, field->name, cell->number);
  else
    {
      g_autofree char *text = dup_text (cell, mended);
      bed_record_set_text (record, field->name, text);
      /* What is there and empty stays so: some columns must not be NULL. */
    }
  return TRUE;
}

/* Whether the row can be one of the kind at all. */
static gboolean
fits (BedKind kind, gint64 id, const BedPageCell *cells, guint n_cells)
{
  const BedKindInfo *info = bed_kind_get_info (kind);
  g_autoptr (BedRecord) record = bed_record_new (kind);
  gboolean mended = FALSE;

  if (n_cells < 2 || n_cells > info->n_fields + 1 || cells[0].type != BED_PAGE_CELL_NULL)
    return FALSE;
  for (guint i = 1; i < n_cells; i++)
    if (!set_field (record, bed_schema_get_field (kind, i), &cells[i], &mended))
      return FALSE;
  for (guint i = 0; i < info->n_fields; i++)
    if (info->fields[i].required && !bed_record_has (record, info->fields[i].name))
      return FALSE;
  return TRUE;
}

static void
keep_row (BedRescueRead *read, BedKind kind, gint64 id, const BedPageCell *cells, guint n_cells)
{
  const BedKindInfo *info = bed_kind_get_info (kind);
  g_autoptr (BedRecord) record = bed_record_new (kind);

  bed_record_set_id (record, id);
  for (guint i = 1; i < n_cells && i <= info->n_fields; i++)
    {
      const BedField *field = bed_schema_get_field (kind, i);
      gboolean mended = FALSE;
      if (!set_field (record, field, &cells[i], &mended))
        bed_rescue_note (read->notes, BED_RESCUE_CHANGED, kind, id,
                         _ ("%s held what does not belong there and is left out."),
                         _ (field->label));
      else if (mended)
        bed_rescue_note (read->notes, BED_RESCUE_CHANGED, kind, id,
                         _ ("Part of %s was not text; that part is replaced."), _ (field->label));
    }
  g_hash_table_replace (read->records[kind], g_memdup2 (&id, sizeof id), g_steal_pointer (&record));
}

static void
row_cb (gint64 id, const BedPageCell *cells, guint n_cells, gpointer data)
{
  Reader *reader = data;

  if (n_cells > bed_kind_get_info (reader->kind)->n_fields + 1)
    n_cells = bed_kind_get_info (reader->kind)->n_fields + 1;
  if (!g_hash_table_contains (reader->read->records[reader->kind], &id))
    keep_row (reader->read, reader->kind, id, cells, n_cells);
}

/* The last cell of an index's row is the id of the row it leads to. */
static void
index_row_cb (gint64 none, const BedPageCell *cells, guint n_cells, gpointer data)
{
  Reader *reader = data;

  if (n_cells < 2 || cells[n_cells - 1].type != BED_PAGE_CELL_INTEGER)
    return;
  gint64 id = cells[n_cells - 1].number;
  if (!g_hash_table_contains (reader->read->records[reader->kind], &id))
    g_hash_table_add (reader->read->missing[reader->kind], g_memdup2 (&id, sizeof id));
}

static void
change_row_cb (gint64 id, const BedPageCell *cells, guint n_cells, gpointer data)
{
  Reader *reader = data;
  gboolean mended = FALSE;

  for (guint i = 1; i < 5; i++)
    if (n_cells != CHANGE_COLUMNS || cells[i].type != BED_PAGE_CELL_TEXT
        || cells[5].type != BED_PAGE_CELL_OTHER || cells[5].bytes == NULL || id < 1)
      {
        reader->read->changes_damaged = TRUE;
        return;
      }
  BedRescueChange *change = g_new0 (BedRescueChange, 1);
  change->id = id;
  change->at = dup_text (&cells[1], &mended);
  change->who = dup_text (&cells[2], &mended);
  change->sentence = dup_text (&cells[3], &mended);
  change->role = dup_text (&cells[4], &mended);
  change->changeset = g_bytes_new (cells[5].bytes, cells[5].size);
  change->undoes = cells[6].type == BED_PAGE_CELL_INTEGER ? cells[6].number : 0;
  change->undone_by = cells[7].type == BED_PAGE_CELL_INTEGER ? cells[7].number : 0;
  g_ptr_array_add (reader->read->changes, change);
}

/* --- where the tables are ------------------------------------------------------------------ */

static void
set_root (Reader *reader, const char *type, const char *name, const char *table, guint root)
{
  BedKind kind = bed_kind_from_name (table);

  if (strcmp (type, "index") == 0 && kind < BED_N_KINDS)
    {
      Index index = { kind, root };
      g_array_append_val (reader->indices, index);
    }
  else if (strcmp (type, "table") == 0 && kind < BED_N_KINDS)
    reader->roots[kind] = root;
  else if (strcmp (type, "table") == 0 && strcmp (name, "change") == 0)
    reader->change_root = root;
}

/* A row of sqlite_schema: type, name, tbl_name, rootpage, sql. */
static void
schema_row_cb (gint64 id, const BedPageCell *cells, guint n_cells, gpointer data)
{
  gboolean mended = FALSE;

  if (n_cells < 4 || cells[0].type != BED_PAGE_CELL_TEXT || cells[1].type != BED_PAGE_CELL_TEXT
      || cells[2].type != BED_PAGE_CELL_TEXT || cells[3].type != BED_PAGE_CELL_INTEGER
      || cells[3].number < 2 || cells[3].number > G_MAXUINT32)
    return;
  g_autofree char *type = dup_text (&cells[0], &mended);
  g_autofree char *name = dup_text (&cells[1], &mended);
  g_autofree char *table = dup_text (&cells[2], &mended);
  set_root (data, type, name, table, (guint) cells[3].number);
}

/* Where Bedlog puts them when it makes a file, for those that the first page does not tell. */
static void
guess_roots (Reader *reader)
{
  sqlite3 *model = NULL;
  sqlite3_stmt *row = NULL;
  g_autoptr (GArray) known = g_array_copy (reader->indices);

  if (sqlite3_open (":memory:", &model) == SQLITE_OK && bed_schema_create (model, NULL)
      && sqlite3_prepare_v2 (model, "SELECT type, name, tbl_name, rootpage FROM sqlite_schema", -1,
                             &row, NULL)
             == SQLITE_OK)
    while (sqlite3_step (row) == SQLITE_ROW)
      {
        const char *table = (const char *) sqlite3_column_text (row, 2);
        BedKind kind = bed_kind_from_name (table);
        gboolean told = kind < BED_N_KINDS ? reader->roots[kind] != 0 : reader->change_root != 0;
        gboolean is_index = strcmp ((const char *) sqlite3_column_text (row, 0), "index") == 0;
        if (is_index ? known->len == 0 : !told)
          set_root (reader, (const char *) sqlite3_column_text (row, 0),
                    (const char *) sqlite3_column_text (row, 1), table,
                    (guint) sqlite3_column_int (row, 3));
      }
  sqlite3_finalize (row);
  sqlite3_close (model);
}

/* --- rows whose table does not lead to them any more --------------------------------------- */

/* Ids are of one kind only, so an index or a reference that names one tells its kind. */
static BedKind
kind_of (Reader *reader, gint64 id)
{
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    if (g_hash_table_contains (reader->read->missing[kind], &id))
      return kind;
  return BED_N_KINDS;
}

static void
stray_row_cb (gint64 id, const BedPageCell *cells, guint n_cells, gpointer data)
{
  Reader *reader = data;
  BedKind kind = kind_of (reader, id);

  if (kind == BED_N_KINDS && n_cells == CHANGE_COLUMNS && cells[5].type == BED_PAGE_CELL_OTHER)
    change_row_cb (id, cells, n_cells, data);
  else if (kind < BED_N_KINDS && fits (kind, id, cells, n_cells))
    keep_row (reader->read, kind, id, cells, n_cells);
}

/* Tables without an index that could tell: by their columns, where only one kind has such. */
static void
stray_unnamed_cb (gint64 id, const BedPageCell *cells, guint n_cells, gpointer data)
{
  Reader *reader = data;
  BedKind found = BED_N_KINDS;

  if (kind_of (reader, id) < BED_N_KINDS)
    stray_row_cb (id, cells, n_cells, data);
  else
    for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
      if (reader->read->damaged[kind] && n_cells == bed_kind_get_info (kind)->n_fields + 1
          && fits (kind, id, cells, n_cells))
        {
          if (found < BED_N_KINDS)
            return;
          found = kind;
        }
  if (found < BED_N_KINDS && !g_hash_table_contains (reader->read->records[found], &id))
    keep_row (reader->read, found, id, cells, n_cells);
  else
    stray_row_cb (id, cells, n_cells, data);
}

static void
read_strays (Reader *reader)
{
  gboolean any = reader->read->changes_damaged;

  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    any |= reader->read->damaged[kind];
  for (guint page = 0; any && (page = bed_pages_next_stray (reader->pages, page)) > 0;)
    bed_pages_walk (reader->pages, page, stray_unnamed_cb, reader);
}

/* --- all of it ----------------------------------------------------------------------------- */

static int
oldest_first (gconstpointer a, gconstpointer b)
{
  gint64 x = (*(BedRescueChange *const *) a)->id, y = (*(BedRescueChange *const *) b)->id;

  return x < y ? -1 : x > y;
}

static void
read_tables (Reader *reader)
{
  for (reader->kind = 0; reader->kind < BED_N_KINDS; reader->kind++)
    reader->read->damaged[reader->kind]
        = bed_pages_walk (reader->pages, reader->roots[reader->kind], row_cb, reader) > 0;
  for (guint i = 0; i < reader->indices->len; i++)
    {
      const Index *index = &g_array_index (reader->indices, Index, i);
      reader->kind = index->kind;
      bed_pages_walk (reader->pages, index->root, index_row_cb, reader);
    }
  if (bed_pages_walk (reader->pages, reader->change_root, change_row_cb, reader) > 0)
    reader->read->changes_damaged = TRUE;
}

static void
read_all (Reader *reader)
{
  bed_pages_pass_over_free (reader->pages);
  bed_pages_walk (reader->pages, 1, schema_row_cb, reader);
  guess_roots (reader);
  read_tables (reader);
  read_strays (reader);
  g_ptr_array_sort (reader->read->changes, oldest_first);
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    {
      GHashTableIter iter;
      gpointer id;
      g_hash_table_iter_init (&iter, reader->read->missing[kind]);
      while (g_hash_table_iter_next (&iter, &id, NULL))
        if (g_hash_table_contains (reader->read->records[kind], id))
          g_hash_table_iter_remove (&iter);
    }
}

static void
change_free (BedRescueChange *change)
{
  g_free (change->at);
  g_free (change->who);
  g_free (change->sentence);
  g_free (change->role);
  g_bytes_unref (change->changeset);
  g_free (change);
}

static void
note_free (BedRescueNote *note)
{
  g_free (note->why);
  g_free (note);
}

/* --- for the room -------------------------------------------------------------------------- */

void
bed_rescue_note (GPtrArray *notes, BedRescueFate fate, BedKind kind, gint64 id, const char *format,
                 ...)
{
  BedRescueNote *note = g_new (BedRescueNote, 1);
  va_list values;

  va_start (values, format);
  *note = (BedRescueNote){ fate, kind, id, g_strdup_vprintf (format, values) };
  va_end (values);
  g_ptr_array_add (notes, note);
}

BedRescueRead *
bed_rescue_read (GBytes *bytes)
{
  BedRescueRead *read = g_new0 (BedRescueRead, 1);
  g_autoptr (BedPages) pages = bed_pages_new (bytes);
  g_autoptr (GArray) indices = g_array_new (FALSE, FALSE, sizeof (Index));
  Reader reader = { read, pages, { 0 }, 0, indices, 0 };

  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    {
      read->records[kind]
          = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_object_unref);
      read->missing[kind] = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
    }
  read->changes = g_ptr_array_new_with_free_func ((GDestroyNotify) change_free);
  read->notes = g_ptr_array_new_with_free_func ((GDestroyNotify) note_free);
  if (pages)
    read_all (&reader);
  return read;
}

void
bed_rescue_read_free (BedRescueRead *self)
{
  if (!self)
    return;
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    {
      g_hash_table_unref (self->records[kind]);
      g_hash_table_unref (self->missing[kind]);
    }
  g_ptr_array_unref (self->changes);
  g_ptr_array_unref (self->notes);
  g_free (self);
}

gint64
bed_rescue_read_count (const BedRescueRead *self)
{
  gint64 n = 0;

  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    n += g_hash_table_size (self->records[kind]);
  return n;
}
