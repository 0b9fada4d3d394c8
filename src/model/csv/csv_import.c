#include "model/csv/csv.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/csv/csv_private.h"
#include "model/farm/farm_private.h"
#include "model/farm/kinds.h"
#include "model/farm/value.h"

/* --- faults ---------------------------------------------------------------------- */

static void
add_at (BedCsvImporter *self, BedFaultSeverity severity, const BedCsvRow *row, guint column,
        char *message)
{
  guint line = column > 0 && column <= row->n_cells ? row->lines[column - 1] : row->line;

  if (severity == BED_FAULT_ERROR)
    self->errors++;
  bed_csv_add_fault (self->faults, severity, self->file, line, column, message);
}

void
bed_csv_fault_at (BedCsvImporter *self, const BedCsvRow *row, guint column, char *message)
{
  add_at (self, BED_FAULT_ERROR, row, column, message);
}

void
bed_csv_note_at (BedCsvImporter *self, const BedCsvRow *row, guint column, char *message)
{
  add_at (self, BED_FAULT_WARNING, row, column, message);
}

static guint
count_errors (GPtrArray *faults)
{
  guint n = 0;

  for (guint i = 0; i < faults->len; i++)
    n += ((BedCsvFault *) faults->pdata[i])->severity == BED_FAULT_ERROR;
  return n;
}

/* --- drafts ----------------------------------------------------------------------- */

BedCsvNames *
bed_csv_names (BedCsvImporter *self, BedKind kind)
{
  if (!self->names[kind])
    self->names[kind] = bed_csv_names_new (self->farm, kind);
  return self->names[kind];
}

static void
origin_free (BedCsvOrigin *origin)
{
  g_object_unref (origin->record);
  g_array_unref (origin->columns);
  g_free (origin);
}

void
bed_csv_put (BedCsvImporter *self, BedRecord *record, guint line)
{
  BedKind kind = bed_record_get_kind (record);
  const char *key = bed_kind_get_info (kind)->key;
  BedCsvOrigin *origin = g_new (BedCsvOrigin, 1);

  bed_edit_put (self->edit, record);
  *origin = (BedCsvOrigin){ g_object_ref (record), self->file, line, g_array_ref (self->columns),
                            FALSE };
  gint64 id = bed_record_get_id (record);
  g_ptr_array_add (self->drafts, origin);
  g_hash_table_replace (self->by_id, g_memdup2 (&id, sizeof id), origin);
  if (key && bed_record_has (record, key))
    bed_csv_names_add (bed_csv_names (self, kind), bed_record_get_text (record, key), id);
}

/* --- files ------------------------------------------------------------------------- */

static void
clear_column (gpointer column)
{
  g_free (((BedCsvColumn *) column)->unit);
}

/* What a farm.csv says of units and money, before anything in it is read by them. */
static void
look_ahead (BedCsvImporter *self, const BedCsvTable *table)
{
  const BedValueReading any = { self->notation, NULL };
  static const char *const fields[] = { "unit_system", "currency" };
  const BedCsvRow *head = table->rows->pdata[0], *row = table->rows->pdata[1];

  for (guint i = 0; i < MIN (head->n_cells, row->n_cells); i++)
    for (gsize f = 0; f < G_N_ELEMENTS (fields); f++)
      if (g_ascii_strcasecmp (head->cells[i], fields[f]) == 0 && *row->cells[i])
        bed_value_parse_csv (self->farm, self->settings, fields[f], &any, row->cells[i], NULL);
}

/* A farm.csv says how it and the files after it in its folder are written. */
static void
take_settings (BedCsvImporter *self, BedKind kind, const BedCsvTable *table)
{
  const gint64 id = 1; /* the one record of the kind; no other kind has it */
  const BedCsvOrigin *brought = g_hash_table_lookup (self->by_id, &id);

  g_clear_object (&self->settings);
  self->settings = bed_record_copy (brought ? brought->record : bed_farm_get_settings (self->farm));
  if (kind == BED_KIND_FARM && table->rows->len > 1)
    look_ahead (self, table);
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
  const BedReading own = { self->encoding, ',', '"', 0 };
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
  if (rows && (!self->sheet || bed_rows_choose_sheet_named (rows, self->sheet, &why)))
    return g_steal_pointer (&rows);
  if (!bed_csv_take_error (why, error))
    bed_csv_add_fault (self->faults, BED_FAULT_ERROR, path, 1, 0, g_strdup (why->message));
  return NULL;
}

/* FALSE when the file could not be read at all. */
static gboolean
read_file (BedCsvImporter *self, BedKind kind, const char *path, GError **error)
{
  g_autoptr (GError) why = NULL;
  g_autoptr (BedRows) rows = open_rows (self, kind, path, &why);
  g_autoptr (BedCsvTable) table = rows ? bed_csv_table_take (rows, path, self->faults, &why) : NULL;

  if (why)
    {
      g_propagate_error (error, g_steal_pointer (&why));
      return FALSE;
    }
  if (!table)
    return TRUE;
  g_autofree char *name = g_strdup (path);
  take_settings (self, kind, table);
  self->kind = kind;
  self->file = name;
  g_ptr_array_add (self->files, g_steal_pointer (&name));
  g_clear_pointer (&self->columns, g_array_unref);
  self->columns = g_array_new (FALSE, FALSE, sizeof (BedCsvColumn));
  g_array_set_clear_func (self->columns, clear_column);
  if (bed_csv_read_head (self, table->rows->pdata[0]))
    for (guint i = 1; i < table->rows->len; i++)
      bed_csv_read_row (self, table->rows->pdata[i]);
  return TRUE;
}

/* --- the whole import --------------------------------------------------------------- */

static BedCsvImporter *
importer_new (BedFarm *farm)
{
  BedCsvImporter *self = g_new0 (BedCsvImporter, 1);

  bed_farm_forget_trouble (farm);
  self->farm = farm;
  self->edit = bed_edit_new (farm);
  self->faults = g_ptr_array_new_with_free_func ((GDestroyNotify) bed_csv_fault_free);
  self->drafts = g_ptr_array_new_with_free_func ((GDestroyNotify) origin_free);
  self->by_id = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  self->files = g_ptr_array_new_with_free_func (g_free);
  return self;
}

static void
importer_free (BedCsvImporter *self)
{
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    bed_csv_names_free (self->names[kind]);
  g_clear_pointer (&self->columns, g_array_unref);
  g_clear_object (&self->settings);
  g_hash_table_unref (self->by_id);
  g_ptr_array_unref (self->drafts);
  g_ptr_array_unref (self->faults);
  bed_edit_free (self->edit);
  g_ptr_array_unref (self->files);
  g_free (self);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedCsvImporter, importer_free)

/* Tells a broken rule where it stands. */
static void
take_fault (BedCsvImporter *self, const BedFault *fault)
{
  gint64 id = fault->record ? bed_record_get_id (fault->record) : 0;
  const BedCsvOrigin *origin = g_hash_table_lookup (self->by_id, &id);
  const char *file = self->file ? self->file : "";
  guint column = 0;

  if (origin && origin->faulty)
    return;
  if (origin && fault->field)
    column
        = bed_csv_find_column (origin->columns, bed_record_get_kind (fault->record), fault->field);
  bed_csv_add_fault (self->faults, fault->severity, origin ? origin->file : file,
                     origin ? origin->line : 0, column, g_strdup (fault->message));
}

static void
take_faults (BedCsvImporter *self)
{
  GPtrArray *faults = bed_edit_get_faults (self->edit);

  for (guint i = 0; i < faults->len; i++)
    take_fault (self, faults->pdata[i]);
}

static int
by_position (gconstpointer a, gconstpointer b)
{
  const BedCsvFault *one = *(const BedCsvFault **) a, *other = *(const BedCsvFault **) b;
  int order = g_strcmp0 (one->file, other->file);

  if (order == 0 && one->line != other->line)
    order = one->line < other->line ? -1 : 1;
  if (order == 0 && one->column != other->column)
    order = one->column < other->column ? -1 : 1;
  return order;
}

static int
fail (BedCsvImporter *self, GError **error)
{
  guint n = count_errors (self->faults);
  const BedCsvFault *first = NULL;

  for (guint i = 0; i < self->faults->len && !first; i++)
    if (((BedCsvFault *) self->faults->pdata[i])->severity == BED_FAULT_ERROR)
      first = self->faults->pdata[i];
  g_autofree char *text = bed_csv_fault_dup_text (first);
  if (n > 1)
    g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID,
                 ngettext ("%s (and %u fault more)", "%s (and %u faults more)", n - 1), text,
                 n - 1);
  else
    g_set_error_literal (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID, text);
  return -1;
}

/* Checks, and writes when it is no rehearsal and nothing was wrong so far. */
static int
finish (BedCsvImporter *self, BedImportMode mode, const char *sentence, GError **error)
{
  g_autoptr (GError) why = NULL;

  /* What could not be asked is no fault of the file. */
  if (!bed_farm_check_trouble (self->farm, error))
    {
      g_ptr_array_set_size (self->faults, 0);
      return -1;
    }
  if (mode == BED_IMPORT_DRY_RUN || count_errors (self->faults) > 0)
    bed_edit_check (self->edit);
  else if (self->rows > 0 && !bed_edit_commit (self->edit, sentence, &why)
           && !g_error_matches (why, BED_FARM_ERROR, BED_FARM_ERROR_INVALID))
    {
      g_propagate_error (error, g_steal_pointer (&why));
      return -1;
    }
  take_faults (self);
  g_ptr_array_sort (self->faults, by_position);
  return count_errors (self->faults) > 0 ? fail (self, error) : self->rows;
}

int
bed_csv_import (BedFarm *farm, const BedImport *import, GPtrArray **faults, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && import != NULL && import->kind < BED_N_KINDS, -1);
  g_autoptr (BedCsvImporter) self = importer_new (farm);
  g_autofree char *name = g_path_get_basename (import->path);
  int n = -1;

  self->encoding = import->encoding;
  self->sheet = import->sheet;
  if (read_file (self, import->kind, import->path, error))
    {
      const BedKindInfo *info = bed_kind_get_info (import->kind);
      g_autofree char *sentence
          /* Translators: number, kind of record, file. */
          = g_strdup_printf (_ ("Imported %d %s from %s"), self->rows,
                             self->rows == 1 ? _ (info->singular) : _ (info->plural), name);
      n = finish (self, import->mode, sentence, error);
    }
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
        bed_csv_add_fault (
            self->faults, BED_FAULT_WARNING, name, 0, 0,
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
        bed_csv_add_fault (self->faults, BED_FAULT_ERROR, path, 0, 0,
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
  g_autoptr (BedCsvImporter) self = importer_new (farm);
  const char *folder = import->path;
  g_autofree char *name = g_path_get_basename (folder);
  self->encoding = import->encoding;
  int files = read_folder (self, folder, error), n = -1;

  if (files > 0)
    {
      note_strangers (self, folder);
      g_autofree char *sentence
          = g_strdup_printf (ngettext ("Imported %d record from %d files in %s",
                                       "Imported %d records from %d files in %s", self->rows),
                             self->rows, files, name);
      n = finish (self, import->mode, sentence, error);
    }
  if (faults)
    *faults = g_ptr_array_ref (self->faults);
  return n;
}
