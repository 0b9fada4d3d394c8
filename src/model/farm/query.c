#include "model/farm/query.h"

#include <glib/gi18n-lib.h>

#include "model/farm/farm_private.h"

struct _BedQuery
{
  BedFarm *farm;
  sqlite3_stmt *stmt;
  int status;
  char *refused;
  GPtrArray *mended; /* texts of this row that were not UTF-8; NULL: none so far */
};

BedQuery *
bed_query_new (BedFarm *farm, const char *sql)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && sql != NULL, NULL);
  BedQuery *self = g_new0 (BedQuery, 1);
  sqlite3 *db = bed_farm_get_db (farm);

  self->farm = g_object_ref (farm);
  self->status = sqlite3_prepare_v2 (db, sql, -1, &self->stmt, NULL);
  if (self->status != SQLITE_OK)
    bed_farm_note_trouble (farm);
  /* Another program may hold the file, or the disk or the memory fail, before a question is
   * even understood. */
  if (self->status != SQLITE_OK && self->status != SQLITE_ERROR)
    return self;
  if (self->status != SQLITE_OK)
    self->refused = g_strdup_printf ("%s: %s", sqlite3_errmsg (db), sql);
  else if (!sqlite3_stmt_readonly (self->stmt))
    self->refused = g_strdup_printf ("a question must not write: %s", sql);
  /* Only a mistake in the program gets here, or a damaged file. */
  if (self->refused)
    g_warning ("%s", self->refused);
  return self;
}

void
bed_query_free (BedQuery *self)
{
  if (!self)
    return;
  sqlite3_finalize (self->stmt);
  g_clear_pointer (&self->mended, g_ptr_array_unref);
  g_free (self->refused);
  g_object_unref (self->farm);
  g_free (self);
}

void
bed_query_bind_int (BedQuery *self, int parameter, gint64 value)
{
  sqlite3_bind_int64 (self->stmt, parameter, value);
}

void
bed_query_bind_text (BedQuery *self, int parameter, const char *value)
{
  bed_farm_bind_text (self->farm, self->stmt, parameter, value);
}

gboolean
bed_query_next (BedQuery *self)
{
  if (!self->stmt)
    return FALSE;
  g_clear_pointer (&self->mended, g_ptr_array_unref);
  self->status = bed_farm_step (self->farm, self->stmt);
  return self->status == SQLITE_ROW;
}

gboolean
bed_query_finish (BedQuery *self, GError **error)
{
  if (self->refused)
    return bed_farm_refuse (error, BED_FARM_ERROR_FAILED, _ ("Could not ask the farm: %s"),
                            self->refused);
  gboolean well = self->status == SQLITE_DONE || self->status == SQLITE_ROW
                  || self->status == SQLITE_OK;
  if (!well)
    bed_farm_set_error (self->farm, error, _ ("reading the farm"));
  sqlite3_reset (self->stmt);
  return well;
}

gboolean
bed_query_is_null (BedQuery *self, int column)
{
  return sqlite3_column_type (self->stmt, column) == SQLITE_NULL;
}

gint64
bed_query_int (BedQuery *self, int column)
{
  return sqlite3_column_int64 (self->stmt, column);
}

double
bed_query_real (BedQuery *self, int column)
{
  return sqlite3_column_double (self->stmt, column);
}

const char *
bed_query_text (BedQuery *self, int column)
{
  const char *text = (const char *) sqlite3_column_text (self->stmt, column);

  if (!text && sqlite3_errcode (bed_farm_get_db (self->farm)) == SQLITE_NOMEM)
    bed_farm_note_trouble (self->farm);
  if (!text || g_utf8_validate (text, -1, NULL))
    return text;
  if (!self->mended)
    self->mended = g_ptr_array_new_with_free_func (g_free);
  g_ptr_array_add (self->mended, g_utf8_make_valid (text, -1));
  return g_ptr_array_index (self->mended, self->mended->len - 1);
}

int
bed_query_n_columns (BedQuery *self)
{
  return sqlite3_column_count (self->stmt);
}

const char *
bed_query_column_name (BedQuery *self, int column)
{
  return sqlite3_column_name (self->stmt, column);
}

gboolean
bed_query_one (BedFarm *farm, const char *sql, gint64 parameter, gint64 *answer, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (farm, sql);

  bed_query_bind_int (q, 1, parameter);
  *answer = bed_query_next (q) ? bed_query_int (q, 0) : 0;
  return bed_query_finish (q, error);
}
