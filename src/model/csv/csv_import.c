#include "model/csv/csv.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/csv/csv_private.h"
#include "model/farm/farm_private.h"
#include "model/farm/kind_words.h"
#include "model/farm/kinds.h"
#include "model/farm/say.h"
#include "model/farm/value.h"

/* Records of a round: what is in memory of the file at once. */
#define ROUND 1000

/* --- records ---------------------------------------------------------------------- */

BedCsvNames *
bed_csv_names (BedCsvImporter *self, BedKind kind)
{
  if (!self->names[kind])
    self->names[kind] = bed_csv_names_new (self->farm, kind);
  return self->names[kind];
}

static void
add_name (BedCsvImporter *self, BedRecord *record)
{
  BedKind kind = bed_record_get_kind (record);
  const char *key = bed_kind_get_info (kind)->key;

  if (key && bed_record_has (record, key))
    bed_csv_names_add (bed_csv_names (self, kind), bed_record_get_text (record, key),
                       bed_record_get_id (record));
  else if (key)
    bed_csv_names_add_unnamed (bed_csv_names (self, kind));
}

void
bed_csv_put_aside (BedCsvImporter *self, BedRecord *record, guint line)
{
  const BedCsvPlace place = { self->file, line };

  g_array_append_val (self->asides, place);
  bed_record_set_id (record, -(gint64) self->asides->len);
  add_name (self, record);
}

static gboolean
leans_on_aside (BedRecord *record)
{
  const BedKindInfo *info = bed_kind_get_info (bed_record_get_kind (record));

  for (guint i = 0; i < info->n_fields; i++)
    if (info->fields[i].type == BED_FIELD_REFERENCE
        && bed_record_get_int (record, info->fields[i].name) < 0)
      return TRUE;
  return FALSE;
}

void
bed_csv_put (BedCsvImporter *self, BedRecord *record, guint line)
{
  gboolean stored = bed_record_get_origin (record) == BED_RECORD_LOADED;

  if (!stored && self->errors > 0 && leans_on_aside (record))
    {
      bed_csv_put_aside (self, record, line);
      return;
    }
  bed_edit_put (self->edit, record);
  self->pending++;
  gint64 id = bed_record_get_id (record);
  if (stored)
    {
      const BedCsvPlace place = { self->file, line };
      g_hash_table_replace (self->amended, g_memdup2 (&id, sizeof id),
                            g_memdup2 (&place, sizeof place));
    }
  else
    {
      if (!self->first_id)
        self->first_id = id;
      bed_csv_place_add (self, id, line);
      bed_csv_count_added (self, record);
    }
  add_name (self, record);
}

gboolean
bed_csv_end_round (BedCsvImporter *self)
{
  if (self->stopped || self->pending == 0)
    return !self->stopped;
  self->pending = 0;
  bed_edit_end_round (self->edit, &self->stopped);
  bed_csv_take_faults (self);
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    if (self->names[kind])
      bed_csv_names_settle (self->names[kind]);
  if (!self->stopped)
    g_cancellable_set_error_if_cancelled (self->import->cancellable, &self->stopped);
  if (self->import->progress)
    self->import->progress ((guint) self->rows, self->import->progress_data);
  return !self->stopped;
}

void
bed_csv_pace (BedCsvImporter *self)
{
  if (self->pending >= ROUND)
    bed_csv_end_round (self);
}

/* --- files ------------------------------------------------------------------------- */

static void
clear_column (gpointer column)
{
  g_free (((BedCsvColumn *) column)->unit);
}

/* What a farm.csv says of units and money, before anything in it is read by them. */
static void
look_ahead (BedCsvImporter *self, const BedCsvRow *head, const BedCsvRow *row)
{
  const BedValueReading any = { self->notation, NULL };
  static const char *const fields[] = { "unit_system", "currency" };

  for (guint i = 0; i < MIN (head->n_cells, row->n_cells); i++)
    for (gsize f = 0; f < G_N_ELEMENTS (fields); f++)
      if (g_ascii_strcasecmp (head->cells[i], fields[f]) == 0 && *row->cells[i])
        bed_value_parse_csv (self->farm, self->settings, fields[f], &any, row->cells[i], NULL);
  self->notation = bed_farm_notation_of (self->farm, self->settings);
}

/* A farm.csv says how it and the files after it in its folder are written. */
static void
take_settings (BedCsvImporter *self)
{
  g_clear_object (&self->settings);
  self->settings
      = bed_record_copy (self->brought ? self->brought : bed_farm_get_settings (self->farm));
  self->notation = bed_farm_notation_of (self->farm, self->settings);
}

/* A head that this program knows, when the line is read with commas: then they are right, whatever
 * else the cells below look like. */
static gboolean
begins_as_own (BedRows *rows, BedKind kind)
{
  const BedSheetRow *row;

  while ((row = bed_rows_next (rows, NULL)))
    for (guint i = 0; i < row->n_cells; i++)
      if (row->cells[i].kind != BED_CELL_EMPTY)
        return bed_csv_knows_head (kind, row);
  return FALSE;
}

/* NULL with an error, or with none and a fault. */
static BedRows *
open_rows (BedCsvImporter *self, BedKind kind, const char *path, GError **error)
{
  const BedReading own = { self->import->encoding, ',', '"', 0 };
  const char *sheet = self->import->kind < BED_N_KINDS ? self->import->sheet : NULL;
  g_autoptr (GError) why = NULL;
  g_autoptr (BedRows) rows = bed_rows_open_file (path, &own, &why);

  if (rows && bed_rows_get_format (rows) == BED_ROWS_TEXT)
    {
      BedReading reading = *bed_rows_get_reading (rows);
      if (!begins_as_own (rows, kind))
        reading.delimiter = 0;
      if (!bed_rows_read_as (rows, &reading, &why))
        g_clear_pointer (&rows, bed_rows_free);
    }
  if (rows && (!sheet || bed_rows_choose_sheet_named (rows, sheet, &why)))
    return g_steal_pointer (&rows);
  if (!bed_csv_take_error (why, error))
    bed_csv_fault_in (self, BED_FAULT_ERROR, path, 1, 0, g_strdup (why->message));
  return NULL;
}

static void
file_free (BedCsvFile *file)
{
  g_free (file->path);
  g_array_unref (file->columns);
  g_free (file);
}

void
bed_csv_begin_file (BedCsvImporter *self, BedKind kind, const char *path)
{
  BedCsvFile *file = g_new0 (BedCsvFile, 1);

  file->path = g_strdup (path);
  file->kind = self->kind = kind;
  file->columns = self->columns = g_array_new (FALSE, FALSE, sizeof (BedCsvColumn));
  g_array_set_clear_func (file->columns, clear_column);
  g_ptr_array_add (self->files, file);
  self->file = file;
  take_settings (self);
}

/* The next that is not blank; NULL at the end, or with @error. */
static const BedCsvRow *
next_row (BedRows *rows, BedCsvRow *row, GError **error)
{
  const BedSheetRow *from;

  do
    from = bed_rows_next (rows, error);
  while (from && bed_csv_row_is_blank (from));
  if (!from)
    return NULL;
  bed_csv_row_take (row, from);
  return row;
}

static void
read_body (BedCsvImporter *self, BedRows *rows, const BedCsvRow *row, GError **error)
{
  g_auto (BedCsvRow) held = { 0 };

  while (row && !self->stopped)
    {
      bed_csv_read_row (self, row);
      bed_csv_pace (self);
      row = self->stopped ? NULL : next_row (rows, &held, error);
    }
  bed_csv_end_round (self);
}

/* The head is kept while the first row is looked at: a farm's says how its heads are read. */
static void
read_rows (BedCsvImporter *self, BedRows *rows, GError **error)
{
  g_auto (BedCsvRow) head = { 0 }, first = { 0 };
  g_autoptr (GStringChunk) texts = g_string_chunk_new (1 << 10);
  g_autoptr (GError) why = NULL;

  if (!next_row (rows, &head, &why))
    {
      if (!why)
        bed_csv_fault_in (self, BED_FAULT_ERROR, self->file->path, 1, 0,
                          g_strdup (_ ("The file is empty. Its first line must name the "
                                       "fields.")));
      if (why)
        g_propagate_error (error, g_steal_pointer (&why));
      return;
    }
  for (guint i = 0; i < head.n_cells; i++)
    head.cells[i] = g_string_chunk_insert (texts, head.cells[i]);
  const BedCsvRow *row = next_row (rows, &first, &why);
  if (row && self->kind == BED_KIND_FARM)
    look_ahead (self, &head, row);
  if (bed_csv_read_head (self, &head) && row)
    read_body (self, rows, row, &why);
  if (why)
    g_propagate_error (error, g_steal_pointer (&why));
}

/* FALSE when the file could not be read at all. */
static gboolean
read_file (BedCsvImporter *self, BedKind kind, const char *path, GError **error)
{
  g_autoptr (GError) why = NULL, broken = NULL;
  g_autoptr (BedRows) rows = open_rows (self, kind, path, &why);

  if (rows)
    {
      bed_csv_begin_file (self, kind, path);
      read_rows (self, rows, &broken);
    }
  if (broken && !bed_csv_take_error (broken, &why))
    bed_csv_fault_in (self, BED_FAULT_ERROR, path, bed_rows_get_line (rows),
                      bed_rows_get_column (rows), g_strdup (broken->message));
  if (self->stopped && !why)
    why = g_steal_pointer (&self->stopped);
  if (!why)
    return TRUE;
  g_propagate_error (error, g_steal_pointer (&why));
  return FALSE;
}

/* --- the whole import --------------------------------------------------------------- */

void
bed_csv_importer_free (BedCsvImporter *self)
{
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    bed_csv_names_free (self->names[kind]);
  bed_edit_free (self->edit);
  if (!self->import->answer)
    bed_import_answer_free (self->answer);
  g_clear_error (&self->stopped);
  g_clear_object (&self->settings);
  g_clear_object (&self->brought);
  g_clear_object (&self->batch);
  g_hash_table_unref (self->alike);
  g_hash_table_unref (self->amended);
  g_hash_table_unref (self->met);
  g_hash_table_unref (self->there);
  for (gsize i = 0; i < G_N_ELEMENTS (self->free); i++)
    g_hash_table_unref (self->free[i]);
  g_array_unref (self->runs);
  g_array_unref (self->asides);
  g_ptr_array_unref (self->faults);
  g_ptr_array_unref (self->files);
  g_free (self);
}

BedCsvImporter *
bed_csv_importer_new (BedFarm *farm, const BedImport *import)
{
  BedCsvImporter *self = g_new0 (BedCsvImporter, 1);

  self->farm = farm;
  self->import = import;
  self->answer = import->answer ? import->answer : bed_import_answer_new ();
  self->edit = bed_edit_new (farm);
  self->faults = g_ptr_array_new_with_free_func ((GDestroyNotify) bed_csv_fault_free);
  self->alike = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  self->amended = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  self->met = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  self->there = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  for (gsize i = 0; i < G_N_ELEMENTS (self->free); i++)
    self->free[i] = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free,
                                           (GDestroyNotify) g_array_unref);
  self->runs = bed_csv_runs_new ();
  self->asides = g_array_new (FALSE, FALSE, sizeof (BedCsvPlace));
  self->files = g_ptr_array_new_with_free_func ((GDestroyNotify) file_free);
  return self;
}

int
bed_csv_give_up (BedCsvImporter *self)
{
  g_ptr_array_set_size (self->faults, 0);
  return -1;
}

int
bed_csv_finish (BedCsvImporter *self, const char *sentence, GError **error)
{
  g_autoptr (GError) why = NULL;

  /* What could not be asked is no fault of the file. */
  if (!bed_farm_check_trouble (self->farm, error))
    return bed_csv_give_up (self);
  if (self->import->mode == BED_IMPORT_DRY_RUN || self->errors > 0)
    bed_edit_check (self->edit);
  else if (self->rows > 0 && !bed_edit_commit (self->edit, sentence, &why)
           && !g_error_matches (why, BED_FARM_ERROR, BED_FARM_ERROR_INVALID))
    {
      g_propagate_error (error, g_steal_pointer (&why));
      return -1;
    }
  bed_csv_take_faults (self);
  return bed_csv_end_faults (self, error) ? -1 : self->rows;
}

int
bed_csv_import (BedFarm *farm, const BedImport *import, GPtrArray **faults, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && import != NULL && import->kind < BED_N_KINDS, -1);
  g_autoptr (BedCsvImporter) self = bed_csv_importer_new (farm, import);
  g_autofree char *name = g_path_get_basename (import->path);
  int n = -1;

  if (bed_edit_begin (self->edit, error) && read_file (self, import->kind, import->path, error))
    {
      g_autofree char *count = bed_kind_dup_count (import->kind, self->rows);
      /* Translators: "24 logs", file. */
      g_autofree char *sentence = g_strdup_printf (_ ("Imported %s from %s"), count, name);
      n = bed_csv_finish (self, sentence, error);
    }
  else
    bed_csv_give_up (self);
  if (faults)
    *faults = g_ptr_array_ref (self->faults);
  return n;
}

/* What a file of a kind may be called after its name. */
static const char *const suffixes[] = { ".csv", ".tsv", ".xlsx", ".ods", NULL };

/* Files that look like ours and are not. */
static void
note_strangers (BedCsvImporter *self, const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir && (name = g_dir_read_name (dir)))
    {
      const char *point = strrchr (name, '.');
      g_autofree char *kind
          = point && g_strv_contains (suffixes, point) ? g_strndup (name, point - name) : NULL;
      if (kind && bed_kind_from_name (kind) == BED_N_KINDS)
        bed_csv_fault_in (
            self, BED_FAULT_WARNING, name, 0, 0,
            g_strdup_printf (_ ("Passed over: there is no kind of record “%s”."), kind));
    }
}

/* The file of the kind in the folder, or NULL; two of them are a fault, not a choice. */
static char *
find_file (BedCsvImporter *self, const char *folder, BedKind kind)
{
  g_autofree char *found = NULL;

  for (guint i = 0; suffixes[i]; i++)
    {
      g_autofree char *name = g_strconcat (bed_kind_get_info (kind)->name, suffixes[i], NULL);
      g_autofree char *path = g_build_filename (folder, name, NULL);
      if (!g_file_test (path, G_FILE_TEST_EXISTS))
        continue;
      if (!found)
        found = g_steal_pointer (&path);
      else
        bed_csv_fault_in (self, BED_FAULT_ERROR, path, 0, 0,
                          g_strdup_printf (_ ("%s is there as well. Take one of them out of the "
                                              "folder."),
                                           found));
    }
  return g_steal_pointer (&found);
}

static int
read_folder (BedCsvImporter *self, const char *folder, GError **error)
{
  int files = 0;

  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    {
      g_autofree char *path = find_file (self, folder, kind);
      if (!path)
        continue;
      if (!read_file (self, kind, path, error))
        return -1;
      files++;
    }
  if (files == 0)
    g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_FOUND,
                 _ ("There is no CSV file of a kind of record in %s. They are named after their "
                    "kind: log.csv, batch.csv."),
                 folder);
  return files;
}

int
bed_csv_import_all (BedFarm *farm, const BedImport *import, GPtrArray **faults, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && import != NULL, -1);
  const BedImport every = { .kind = BED_N_KINDS,
                            .mode = import->mode,
                            .encoding = import->encoding,
                            .known = import->known,
                            .differs = import->differs,
                            .answer = import->answer,
                            .cancellable = import->cancellable,
                            .progress = import->progress,
                            .progress_data = import->progress_data };
  g_autoptr (BedCsvImporter) self = bed_csv_importer_new (farm, &every);
  const char *folder = import->path;
  g_autofree char *name = g_path_get_basename (folder);
  int files = bed_edit_begin (self->edit, error) ? read_folder (self, folder, error) : -1;
  int n = -1;

  if (files > 0)
    {
      note_strangers (self, folder);
      g_autofree char *sentence
          = bed_say (ngettext ("Imported %d record from %d files in %s",
                               "Imported %d records from %d files in %s", self->rows),
                     self->rows, files, name);
      n = bed_csv_finish (self, sentence, error);
    }
  else
    bed_csv_give_up (self);
  if (faults)
    *faults = g_ptr_array_ref (self->faults);
  return n;
}
