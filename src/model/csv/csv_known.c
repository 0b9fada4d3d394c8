/* What is there already, what differs from it, and what it all comes to. */
#include "model/csv/csv_private.h"

#include <string.h>

#include "model/farm/farm_private.h"
#include "model/farm/kinds.h"
#include "model/farm/query.h"
#include "model/farm/value.h"

/* --- known ------------------------------------------------------------------------ */

/* Before this import. */
static gboolean
has_any (BedCsvImporter *self, BedKind kind)
{
  gint64 any = 0;
  g_autofree char *sql = g_strdup_printf ("SELECT EXISTS (SELECT 1 FROM \"%s\" WHERE id < ?1)",
                                          bed_kind_get_info (kind)->name);

  return bed_query_one (self->farm, sql, self->first_id ? self->first_id : G_MAXINT64, &any, NULL)
         && any;
}

static gboolean
may_meet (BedCsvImporter *self, BedKind kind)
{
  if (self->import->known == BED_KNOWN_ADDED)
    return FALSE;
  if (!self->looked[kind])
    self->looked[kind] = has_any (self, kind) ? BED_CSV_SOME : BED_CSV_NONE;
  return self->looked[kind] == BED_CSV_SOME;
}

static const char *
column_of (BedCsvImporter *self, guint i, BedKind kind)
{
  const BedCsvColumn *column = &g_array_index (self->columns, BedCsvColumn, i);

  return column->field && column->record_kind == kind ? column->field->name : NULL;
}

static char *
dup_same (BedCsvImporter *self, BedKind kind)
{
  g_autoptr (GString) sql = g_string_new (NULL);

  g_string_printf (sql, "SELECT id FROM \"%s\" WHERE id < ?1", bed_kind_get_info (kind)->name);
  for (guint i = 0; i < self->columns->len; i++)
    if (column_of (self, i, kind))
      g_string_append_printf (sql, " AND \"%s\" IS ?%u", column_of (self, i, kind), i + 2);
  return g_strdup (sql->str);
}

static void
bind_columns (BedCsvImporter *self, sqlite3_stmt *stmt, BedRecord *record)
{
  for (guint i = 0; i < self->columns->len; i++)
    {
      const char *name = column_of (self, i, bed_record_get_kind (record));
      if (!name || !bed_record_has (record, name))
        continue;
      if (bed_record_get_text (record, name))
        bed_farm_bind_text (self->farm, stmt, (int) i + 2, bed_record_get_text (record, name));
      else
        sqlite3_bind_int64 (stmt, (int) i + 2, bed_record_get_int (record, name));
    }
}

gint64
bed_csv_meets_known (BedCsvImporter *self, BedRecord *record)
{
  BedKind kind = bed_record_get_kind (record);
  const char *key = bed_kind_get_info (kind)->key;
  gint64 met = 0;

  /* What has a name in the file is known by it. */
  if ((key && bed_record_has (record, key)) || !may_meet (self, kind))
    return 0;
  g_autofree char *sql = dup_same (self, kind);
  sqlite3_stmt *stmt = bed_farm_statement (self->farm, sql, NULL);
  if (!stmt)
    {
      bed_farm_note_trouble (self->farm);
      return 0;
    }
  sqlite3_bind_int64 (stmt, 1, self->first_id ? self->first_id : G_MAXINT64);
  bind_columns (self, stmt, record);
  while (!met && bed_farm_step (self->farm, stmt) == SQLITE_ROW)
    {
      gint64 id = sqlite3_column_int64 (stmt, 0);
      if (g_hash_table_add (self->met, g_memdup2 (&id, sizeof id)))
        met = id;
    }
  sqlite3_reset (stmt);
  return met;
}

gboolean
bed_csv_differs (BedCsvImporter *self, BedRecord *stored, BedRecord *record)
{
  for (guint i = 0; i < self->columns->len; i++)
    {
      const char *name = column_of (self, i, bed_record_get_kind (record));
      if (name && bed_record_differs (record, stored, name))
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

gboolean
bed_csv_amends (BedCsvImporter *self, BedRecord *stored, BedRecord *record)
{
  const BedKindInfo *info = bed_kind_get_info (bed_record_get_kind (record));
  gboolean left = self->import->differs == BED_DIFFERS_LEFT;

  (left ? self->answer->left : self->answer->amended)[bed_record_get_kind (record)]++;
  for (guint i = 0; i < info->n_fields; i++)
    if (bed_record_differs (record, stored, info->fields[i].name)
        && self->answer->n_changes++ < BED_IMPORT_CHANGES_MOST)
      add_change (self, &info->fields[i], stored, record);
  return !left;
}
