/* What is asked of a farm. A failed question is not an empty answer: what could not be asked while
 * a change is being written is remembered, and such a change is not committed. */
#include "model/farm/farm_private.h"

#include <glib/gi18n-lib.h>

void
bed_farm_note_trouble (BedFarm *self)
{
  BedFarmWatch *watch = bed_farm_get_watch (self);
  GPtrArray *readings = watch->readings;
  gpointer *reading = readings->len ? &readings->pdata[readings->len - 1] : NULL;
  g_autoptr (GError) error = NULL;

  bed_farm_set_error (self, &error, _ ("reading the farm"));
  if (!watch->trouble)
    watch->trouble = g_error_copy (error);
  if (reading && !*reading)
    *reading = g_steal_pointer (&error);
}

void
bed_farm_forget_trouble (BedFarm *self)
{
  g_clear_error (&bed_farm_get_watch (self)->trouble);
}

gboolean
bed_farm_check_trouble (BedFarm *self, GError **error)
{
  BedFarmWatch *watch = bed_farm_get_watch (self);

  if (!watch->trouble)
    return TRUE;
  if (error && !*error)
    *error = g_error_copy (watch->trouble);
  return FALSE;
}

gboolean
bed_farm_is_cut_off (BedFarm *self)
{
  return bed_farm_get_watch (self)->writing && sqlite3_get_autocommit (bed_farm_get_db (self));
}

sqlite3_stmt *
bed_farm_statement (BedFarm *self, const char *sql, GError **error)
{
  sqlite3_stmt *stmt = bed_statements_get (bed_farm_get_statements (self), sql);

  if (stmt)
    return stmt;
  bed_farm_note_trouble (self);
  bed_farm_set_error (self, error, sql);
  return NULL;
}

int
bed_farm_step (BedFarm *self, sqlite3_stmt *stmt)
{
  /* After some faults SQLite rolls back by itself: what followed would be written at once. */
  if (bed_farm_is_cut_off (self))
    return SQLITE_ABORT;
  int status = stmt ? sqlite3_step (stmt) : SQLITE_NOMEM;

  if (status != SQLITE_ROW && status != SQLITE_DONE)
    bed_farm_note_trouble (self);
  return status;
}

void
bed_farm_bind_text (BedFarm *self, sqlite3_stmt *stmt, int parameter, const char *text)
{
  if (sqlite3_bind_text (stmt, parameter, text, -1, SQLITE_TRANSIENT) != SQLITE_OK)
    bed_farm_note_trouble (self);
}
