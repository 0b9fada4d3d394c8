#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/csv/csv_private.h"
#include "model/farm/kinds.h"
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

/* A second row of the same name: the one given things (woods, mushrooms, strains, the
 * farm itself) are changed by it, of all else there may be but one. */
static gboolean
is_given (BedKind kind)
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
  return *name ? bed_csv_names_find (bed_csv_names (self, self->kind), name) : 0;
}

static void
fault_same (BedCsvImporter *self, const BedCsvRow *row, gint64 id)
{
  const BedKindInfo *info = bed_kind_get_info (self->kind);
  guint column = info->key ? bed_csv_find_column (self->columns, self->kind, info->key) : 0;
  const BedCsvOrigin *first = g_hash_table_lookup (self->by_id, &id);
  const char *name = column ? bed_csv_unguard (row->cells[column - 1]) : "";

  if (first)
    bed_csv_fault_at (self, row, column,
                      /* Translators: kind of record, name, file, line. */
                      g_strdup_printf (_ ("The %s %s is there twice; first in %s, line %u."),
                                       _ (info->singular), name, first->file, first->line));
  else
    bed_csv_fault_at (self, row, column,
                      g_strdup_printf (_ ("The %s %s is in the farm already. Leave the row out, or "
                                          "give it another name."),
                                       _ (info->singular), name));
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
                    g_strdup_printf (_ ("The line has %u fields, its head %u. Every line needs as "
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

static void
put_line (BedCsvImporter *self, BedCsvLine *line, guint soaked)
{
  if (self->kind == BED_KIND_LOG && !bed_csv_find_column (self->columns, BED_KIND_LOG, "holes"))
    bed_csv_count_holes (self, line->record);
  bed_csv_put (self, line->record, line->row->line);
  if (soaked)
    bed_csv_read_soaked (self, line, soaked);
  bed_csv_finish_line (self, line);
}

void
bed_csv_read_row (BedCsvImporter *self, const BedCsvRow *row)
{
  if (!check_width (self, row))
    return;
  gint64 same = find_same (self, row);
  gboolean taken = same && (!is_given (self->kind) || g_hash_table_contains (self->by_id, &same));
  guint errors = self->errors, drafts = self->drafts->len;
  BedCsvLine line = { row, NULL, NULL };

  line.record = same && !taken ? bed_farm_load (self->farm, self->kind, same, NULL) : NULL;
  if (!line.record)
    line.record = bed_record_new (self->kind);
  if (taken)
    fault_same (self, row, same);
  guint soaked = read_cells (self, &line);
  if (!taken)
    put_line (self, &line, soaked);
  for (guint i = drafts; self->errors > errors && i < self->drafts->len; i++)
    ((BedCsvOrigin *) self->drafts->pdata[i])->faulty = TRUE;
  g_clear_object (&line.record);
  g_clear_object (&line.beside);
  self->rows++;
}
