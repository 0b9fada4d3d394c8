#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/csv/csv_private.h"
#include "model/farm/code.h"
#include "model/farm/kinds.h"
#include "model/farm/say.h"
#include "model/farm/value.h"
#include "science/calendar.h"

/* From a line of the file to a drafted record. */

/* --- cells ------------------------------------------------------------------------ */

static void
read_reference (BedCsvImporter *self, BedCsvLine *line, guint column, BedRecord *record)
{
  const BedField *field = g_array_index (self->columns, BedCsvColumn, column - 1).field;
  g_autofree char *name = g_strstrip (g_strdup (bed_csv_unguard (line->row->cells[column - 1])));
  gint64 id = *name ? bed_csv_refer (self, line, column, name) : 0;

  if (id)
    bed_record_set_int (record, field->name, id);
}

/* What a form takes by the order of the locale (5/8/26) would be one day here and
 * another on the next machine. */
static gboolean
is_plain_date (const BedField *field, const char *cell)
{
  const char *text = cell + strspn (cell, " \t");

  return (field->type != BED_FIELD_DATE && field->type != BED_FIELD_MOMENT) || !*text
         || (bed_calendar_looks_like_day (text) && strchr ("T ", text[10]));
}

static void
read_cell (BedCsvImporter *self, BedCsvLine *line, guint number)
{
  const BedCsvColumn *column = &g_array_index (self->columns, BedCsvColumn, number - 1);
  const BedField *field = column->field;
  const char *cell = line->row->cells[number - 1];
  gboolean text = field->type == BED_FIELD_TEXT || field->type == BED_FIELD_NOTE;
  BedValueReading reading = { self->notation, column->unit };
  g_autoptr (GError) error = NULL;

  if (!*cell && column->record_kind != self->kind)
    return;
  if (column->record_kind != self->kind && !line->beside)
    line->beside = bed_record_new (column->record_kind);
  BedRecord *record = column->record_kind == self->kind ? line->record : line->beside;
  if (field->type == BED_FIELD_REFERENCE)
    read_reference (self, line, number, record);
  else if (!is_plain_date (field, cell))
    bed_csv_fault_at (self, line->row, number,
                      g_strdup_printf (_ ("“%s” is no date of the kind 2026-05-18: year, month "
                                          "and day with hyphens."),
                                       cell));
  else if (!bed_value_parse_csv (self->farm, record, field->name, &reading,
                                 text ? bed_csv_unguard (cell) : cell, &error))
    bed_csv_fault_at (self, line->row, number, g_strdup (error->message));
}

gboolean
bed_csv_is_given (BedKind kind)
{
  return kind == BED_KIND_FARM || kind == BED_KIND_WOOD || kind == BED_KIND_MUSHROOM
         || kind == BED_KIND_STRAIN;
}

static gint64
find_same (BedCsvImporter *self, const BedCsvRow *row)
{
  const char *key = bed_kind_get_info (self->kind)->key;
  guint column = key ? bed_csv_find_column (self->columns, self->kind, key) : 0;

  if (self->kind == BED_KIND_FARM)
    return 1;
  if (column == 0)
    return 0;
  g_autofree char *name = g_strstrip (g_strdup (bed_csv_unguard (row->cells[column - 1])));
  gint64 id = *name ? bed_csv_names_find (bed_csv_names (self, self->kind), name) : 0;
  if (id || !*name || self->import->differs == BED_DIFFERS_REFUSED)
    return id;
  /* A log may be named without its check character. */
  g_autofree char *whole = bed_code_complete (self->kind, name, NULL);
  return whole ? bed_csv_names_find (bed_csv_names (self, self->kind), whole) : 0;
}

static void
fault_same (BedCsvImporter *self, const BedCsvRow *row, gint64 id)
{
  const BedKindInfo *info = bed_kind_get_info (self->kind);
  guint column = info->key ? bed_csv_find_column (self->columns, self->kind, info->key) : 0;
  const BedCsvPlace first = bed_csv_place_of (self, id);
  const char *name = column ? bed_csv_unguard (row->cells[column - 1]) : "";

  if (first.file)
    bed_csv_fault_at (self, row, column,
                      /* Translators: name, file, line. */
                      g_strdup_printf (_ ("“%s” is there twice; first in %s, line %u."), name,
                                       first.file->path, first.line));
  else
    bed_csv_fault_at (self, row, column,
                      g_strdup_printf (_ ("“%s” is in the farm already. Leave the row out, or give "
                                          "it another name."),
                                       name));
}

static void
fault_unnamed (BedCsvImporter *self, const BedCsvRow *row)
{
  const BedKindInfo *info = bed_kind_get_info (self->kind);
  guint column = bed_csv_find_column (self->columns, self->kind, info->key);

  bed_csv_fault_at (self, row, column,
                    bed_csv_dup_missing (self, self->kind,
                                         column ? bed_csv_unguard (row->cells[column - 1]) : ""));
}

/* --- rows ------------------------------------------------------------------------- */

static gboolean
check_width (BedCsvImporter *self, const BedCsvRow *row)
{
  guint wanted = self->columns->len;

  for (guint i = 0; i < row->n_cells; i++)
    if (*row->cells[i] && (i >= wanted || !g_array_index (self->columns, BedCsvColumn, i).field))
      {
        bed_csv_fault_at (self, row, i + 1,
                          g_strdup_printf (_ ("“%s” stands in a column without a head. Name the "
                                              "column or empty it."),
                                           row->cells[i]));
        return FALSE;
      }
  if (row->n_cells >= wanted)
    return TRUE;
  bed_csv_fault_at (self, row, 0,
                    bed_say (_ ("The line has %u fields, its head %u. Every line needs as "
                                "many commas as the head."),
                             row->n_cells, wanted));
  return FALSE;
}

/* Gives the number of the column with the logs of a soak, or 0. */
static guint
read_cells (BedCsvImporter *self, BedCsvLine *line)
{
  guint soaked = 0;

  for (guint pass = 0; pass < 2; pass++)
    for (guint i = 0; i < self->columns->len; i++)
      {
        const BedCsvColumn *column = &g_array_index (self->columns, BedCsvColumn, i);
        if (!column->field || bed_csv_column_waits (self, column) != (pass == 1))
          continue;
        if (column->record_kind == BED_KIND_SOAKED && self->kind == BED_KIND_SOAK)
          soaked = i + 1;
        else
          read_cell (self, line, i + 1);
      }
  return soaked;
}

/* A stored record as the row would have it. */
static void
amend (BedCsvImporter *self, BedCsvLine *line, BedRecord *stored)
{
  if (!bed_csv_differs (self, stored, line->record))
    {
      self->answer->known[self->kind]++;
      if (bed_csv_is_given (self->kind))
        self->rows++;
      else if (self->import->known != BED_KNOWN_SKIPPED
               && self->import->differs == BED_DIFFERS_REFUSED)
        fault_same (self, line->row, bed_record_get_id (stored));
      return;
    }
  if (self->import->differs == BED_DIFFERS_REFUSED && !bed_csv_is_given (self->kind))
    {
      fault_same (self, line->row, bed_record_get_id (stored));
      return;
    }
  if (!bed_csv_amends (self, stored, line->record))
    return;
  bed_csv_put (self, line->record, line->row->line);
  self->rows++;
}

/* The row of a log that was only counted, found by its code, with all that a list says of one. */
static gboolean
is_listed_now (BedCsvImporter *self, BedCsvLine *line, BedRecord *stored)
{
  if (self->kind != BED_KIND_LOG || self->file->partial || !bed_csv_is_counted (stored)
      || bed_csv_find_column (self->columns, BED_KIND_LOG, "counted"))
    return FALSE;
  bed_csv_list_log (self, stored, line->record, line->row->line);
  self->rows++;
  return TRUE;
}

/* Whether the farm has the very row, and it is not to be put once more. */
static gboolean
is_left_out (BedCsvImporter *self, BedCsvLine *line)
{
  if (!bed_csv_meets_known (self, line->record))
    return FALSE;
  self->answer->known[self->kind]++;
  if (self->import->known == BED_KNOWN_REFUSED)
    bed_csv_fault_at (self, line->row, 0,
                      g_strdup (_ ("This row is in the farm already, the same in every column.")));
  return TRUE;
}

static void
put_line (BedCsvImporter *self, BedCsvLine *line)
{
  if (is_left_out (self, line))
    return;
  if (self->kind == BED_KIND_LOG && !bed_csv_find_column (self->columns, BED_KIND_LOG, "holes"))
    bed_csv_count_holes (self, line->record);
  self->rows++;
  if (self->kind == BED_KIND_LOG && bed_csv_take_place (self, line->record, line->row->line))
    return;
  bed_csv_put (self, line->record, line->row->line);
  bed_csv_put_beside (self, line);
}

/* By its name it was neither in the farm nor in a row before. */
static void
read_new (BedCsvImporter *self, BedCsvLine *line)
{
  guint errors = self->errors;

  if (self->file->partial)
    fault_unnamed (self, line->row);
  line->record = bed_record_new (self->kind);
  bed_csv_read_beside (self, line, read_cells (self, line));
  if (self->errors == errors)
    put_line (self, line);
  else
    bed_csv_put_aside (self, line->record, line->row->line);
}

static void
read_stored (BedCsvImporter *self, BedCsvLine *line, gint64 id)
{
  g_autoptr (BedRecord) stored = bed_farm_load (self->farm, self->kind, id, NULL);
  guint errors = self->errors;

  if (!stored) /* the farm's trouble */
    return;
  line->record = bed_record_copy (stored);
  read_cells (self, line);
  /* It is what the record was found by, whatever the case of its letters. */
  if (!bed_csv_is_given (self->kind))
    bed_record_take_field (line->record, stored, bed_kind_get_info (self->kind)->key);
  if (self->errors == errors && !is_listed_now (self, line, stored))
    amend (self, line, stored);
  if (self->kind == BED_KIND_FARM && self->errors == errors)
    g_set_object (&self->brought, line->record);
}

/* Its other faults are told all the same. */
static void
read_twice (BedCsvImporter *self, BedCsvLine *line, gint64 id)
{
  fault_same (self, line->row, id);
  line->record = bed_record_new (self->kind);
  read_cells (self, line);
}

void
bed_csv_read_row (BedCsvImporter *self, const BedCsvRow *row)
{
  if (!check_width (self, row))
    return;
  gint64 same = find_same (self, row);
  BedCsvLine line = { row, NULL, NULL, NULL };

  if (!same)
    read_new (self, &line);
  else if (bed_csv_is_drafted (self, same))
    read_twice (self, &line, same);
  else
    read_stored (self, &line, same);
  g_clear_object (&line.record);
  g_clear_object (&line.beside);
  g_clear_pointer (&line.logs, g_array_unref);
}
