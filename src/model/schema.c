/* The tables: made for a new farm, stepped up for an old one, compared for a
 * strange one; and the views every farm is asked through. */
#include "model/backup_private.h"
#include "model/farm_private.h"

#include <gio/gio.h>
#include <glib/gi18n-lib.h>

#include "model_resources.h"

#define RESOURCES "/org/bedlog/model/"

static char *
load (const char *name)
{
  g_autofree char *path = g_strconcat (RESOURCES, name, NULL);
  g_autoptr (GBytes) bytes
      = g_resource_lookup_data (model_get_resource (), path, G_RESOURCE_LOOKUP_FLAGS_NONE, NULL);

  g_assert (bytes != NULL); /* linked into the program */
  return g_strndup (g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes));
}

static int
user_version (sqlite3 *db)
{
  sqlite3_stmt *stmt = NULL;
  int version = -1;

  if (sqlite3_prepare_v2 (db, "PRAGMA user_version", -1, &stmt, NULL) == SQLITE_OK
      && sqlite3_step (stmt) == SQLITE_ROW)
    version = sqlite3_column_int (stmt, 0);
  sqlite3_finalize (stmt);
  return version;
}

/* Runs the numbered migrations above @from, each with the new version number in
 * one transaction. */
static gboolean
step_up (sqlite3 *db, int from, GError **error)
{
  for (int version = from + 1; version <= BED_SCHEMA_VERSION; version++)
    {
      g_autofree char *name = g_strdup_printf ("%04d.sql", version);
      g_autofree char *sql = load (name);
      g_autofree char *whole = g_strdup_printf (
          "BEGIN IMMEDIATE;\n%s\nPRAGMA application_id = %d;\nPRAGMA user_version = %d;\nCOMMIT;",
          sql, BED_APPLICATION_ID, version);
      if (!bed_db_exec (db, whole, _ ("making the tables"), error))
        {
          sqlite3_exec (db, "ROLLBACK", NULL, NULL, NULL);
          return FALSE;
        }
    }
  return TRUE;
}

/* Name and text of everything in the schema, in one string to compare. */
static char *
schema_text (sqlite3 *db)
{
  sqlite3_stmt *stmt = NULL;
  GString *text = g_string_new (NULL);

  if (sqlite3_prepare_v2 (db,
                          "SELECT type, name, sql FROM main.sqlite_schema"
                          " WHERE name NOT LIKE 'sqlite_%' ORDER BY type, name",
                          -1, &stmt, NULL)
      == SQLITE_OK)
    while (sqlite3_step (stmt) == SQLITE_ROW)
      g_string_append_printf (text, "%s %s %s\n", sqlite3_column_text (stmt, 0),
                              sqlite3_column_text (stmt, 1), sqlite3_column_text (stmt, 2));
  sqlite3_finalize (stmt);
  return g_string_free (text, FALSE);
}

gboolean
bed_schema_create (sqlite3 *db, GError **error)
{
  return step_up (db, 0, error);
}

gboolean
bed_schema_migrate (sqlite3 *db, const char *path, GError **error)
{
  int version = user_version (db);

  if (version >= BED_SCHEMA_VERSION)
    return TRUE;
  /* A copy of it as it was comes first. */
  return (version == 0 || bed_backup_before_migration (db, path, version, error))
         && step_up (db, version, error);
}

gboolean
bed_schema_compare (sqlite3 *db, const char *path, GError **error)
{
  sqlite3 *model = NULL;
  gboolean same = FALSE;

  if (sqlite3_open (":memory:", &model) == SQLITE_OK && bed_schema_create (model, error))
    {
      g_autofree char *wanted = schema_text (model);
      g_autofree char *found = schema_text (db);
      same = g_strcmp0 (wanted, found) == 0;
      if (!same)
        g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_A_FARM,
                     _ ("%s calls itself a Bedlog farm, but its tables are not Bedlog's. "
                        "Open a backup, or the file as Bedlog wrote it."),
                     path);
    }
  sqlite3_close (model);
  return same;
}

gboolean
bed_schema_attach_views (sqlite3 *db, GError **error)
{
  g_autofree char *sql = load ("views.sql");

  return bed_db_exec (db, sql, _ ("preparing the questions"), error);
}
