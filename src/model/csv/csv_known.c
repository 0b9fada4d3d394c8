/* What is there already, what differs from it, and what it all comes to. */
#include "model/csv/csv_private.h"

#include <string.h>

#include "model/farm/farm_private.h"
#include "model/farm/kinds.h"
#include "model/farm/query.h"
#include "model/farm/value.h"

/* --- known ------------------------------------------------------------------------ */

static gboolean
has_any (BedFarm *farm, BedKind kind)
{
  gint64 any = 0;
  g_autofree char *sql
      = g_strdup_printf ("SELECT EXISTS (SELECT 1 FROM \"%s\")", bed_kind_get_info (kind)->name);

  return bed_query_one (farm, sql, 0, &any, NULL) && any;
}

/* What has a name in the file is known by it. */
void
bed_csv_begin_known (BedCsvImporter *self)
{
  const BedKindInfo *info = bed_kind_get_info (self->kind);
  g_autoptr (GString) sql = g_string_new (NULL);

  if ((info->key && bed_csv_find_column (self->columns, self->kind, info->key))
      || self->import->known == BED_KNOWN_ADDED || !has_any (self->farm, self->kind))
    return;
  g_string_printf (sql, "SELECT id FROM \"%s\" WHERE id < ?1", info->name);
  for (guint i = 0; i < self->columns->len; i++)
    {
      const BedCsvColumn *column = &g_array_index (self->columns, BedCsvColumn, i);
      if (column->field && column->record_kind == self->kind)
        g_string_append_printf (sql, " AND \"%s\" IS ?%u", column->field->name, i + 2);
    }
  self->file->known_sql = g_strdup (sql->str);
}

static void
bind_columns (BedCsvImporter *self, sqlite3_stmt *stmt, BedRecord *record)
{
  for (guint i = 0; i < self->columns->len; i++)
    {
      const BedCsvColumn *column = &g_array_index (self->columns, BedCsvColumn, i);
      const char *name = column->field ? column->field->name : NULL;
      if (!name || column->record_kind != self->kind || !bed_record_has (record, name))
        continue;
      if (bed_record_get_text (record, name))
        bed_farm_bind_text (self->farm, stmt, (int) i + 2, bed_record_get_text (record, name));
      else
        sqlite3_bind_int64 (stmt, (int) i + 2, bed_record_get_int (record, name));
    }
}

gboolean
bed_csv_meets_known (BedCsvImporter *self, BedRecord *record)
{
  const char *sql = self->file->known_sql;
  sqlite3_stmt *stmt = sql ? bed_farm_statement (self->farm, sql, NULL) : NULL;
  gint64 met = 0;

  if (!stmt)
    return FALSE;
  sqlite3_bind_int64 (stmt, 1, self->first_id ? self->first_id : G_MAXINT64);
  bind_columns (self, stmt, record);
  while (!met && bed_farm_step (self->farm, stmt) == SQLITE_ROW)
    {
      gint64 id = sqlite3_column_int64 (stmt, 0);
      if (g_hash_table_add (self->met, g_memdup2 (&id, sizeof id)))
        met = id;
    }
  sqlite3_reset (stmt);
  return met != 0;
}

gboolean
bed_csv_differs (BedCsvImporter *self, BedRecord *stored, BedRecord *record)
{
  for (guint i = 0; i < self->columns->len; i++)
    {
      const BedCsvColumn *column = &g_array_index (self->columns, BedCsvColumn, i);
      if (column->field && column->record_kind == self->kind
          && bed_record_differs (record, stored, column->field->name))
        return TRUE;
    }
  return FALSE;
}

/* --- the answer ------------------------------------------------------------------- */

static void
change_free (BedImportChange *change)
{
  g_free (change->name);
  g_free (change->from);
  g_free (change->to);
  g_free (change);
}

BedImportAnswer *
bed_import_answer_new (void)
{
  BedImportAnswer *answer = g_new0 (BedImportAnswer, 1);

  answer->totals = g_array_new (FALSE, FALSE, sizeof (BedImportTotal));
  answer->changes = g_ptr_array_new_with_free_func ((GDestroyNotify) change_free);
  return answer;
}

void
bed_import_answer_free (BedImportAnswer *answer)
{
  g_array_unref (answer->totals);
  g_ptr_array_unref (answer->changes);
  g_free (answer);
}

static gboolean
is_summed (const BedField *field)
{
  return field->type == BED_FIELD_MEASURE
         && (field->measure == BED_MEASURE_MASS || field->measure == BED_MEASURE_MASS_FINE
             || field->measure == BED_MEASURE_MONEY || field->measure == BED_MEASURE_TIME);
}

static BedImportTotal *
find_total (BedImportAnswer *answer, BedKind kind, const BedField *field)
{
  for (guint i = answer->totals->len; i > 0; i--)
    {
      BedImportTotal *total = &g_array_index (answer->totals, BedImportTotal, i - 1);
      if (total->field == field)
        return total;
    }
  const BedImportTotal total = { kind, field, 0 };
  g_array_append_val (answer->totals, total);
  return &g_array_index (answer->totals, BedImportTotal, answer->totals->len - 1);
}

void
bed_csv_count_added (BedCsvImporter *self, BedRecord *record)
{
  BedKind kind = bed_record_get_kind (record);

  self->answer->added[kind]++;
  for (guint i = 0; i < self->columns->len; i++)
    {
      const BedCsvColumn *column = &g_array_index (self->columns, BedCsvColumn, i);
      if (!column->field || column->record_kind != kind || !is_summed (column->field))
        continue;
      BedImportTotal *total = find_total (self->answer, kind, column->field);
      gint64 value = bed_record_get_int (record, column->field->name);
      /* A mistyped amount may be anything; it is for the rules to say so. */
      if (__builtin_add_overflow (total->sum, value, &total->sum))
        total->sum = value > 0 ? G_MAXINT64 : G_MININT64;
    }
}

static void
add_change (BedCsvImporter *self, const BedField *field, BedRecord *stored, BedRecord *record)
{
  BedKind kind = bed_record_get_kind (record);
  const char *key = bed_kind_get_info (kind)->key;
  BedImportChange *change = g_new0 (BedImportChange, 1);

  change->kind = kind;
  change->field = field;
  change->name = g_strdup (bed_record_get_text (stored, key));
  change->from = bed_value_dup_sentence (self->farm, stored, field->name);
  change->to = bed_value_dup_sentence (self->farm, record, field->name);
  g_ptr_array_add (self->answer->changes, change);
}

void
bed_csv_count_amended (BedCsvImporter *self, BedRecord *stored, BedRecord *record)
{
  const BedKindInfo *info = bed_kind_get_info (bed_record_get_kind (record));

  self->answer->amended[bed_record_get_kind (record)]++;
  for (guint i = 0; i < info->n_fields; i++)
    if (bed_record_differs (record, stored, info->fields[i].name)
        && self->answer->n_changes++ < BED_IMPORT_CHANGES_MOST)
      add_change (self, &info->fields[i], stored, record);
}
