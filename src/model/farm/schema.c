/* The tables: made for a new farm, stepped up for an old one, compared for a
 * strange one; and the views every farm is asked through. */
#include "model/farm/farm_private.h"

#include <gio/gio.h>
#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/farm/kinds.h"
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

/* What each version brings, the first at 0; NULL ends. */
static gpointer
split_versions (gpointer none)
{
  g_autofree char *tables = load ("tables.sql");
  char **parts = g_regex_split_simple ("^-- schema \\d+$", tables, G_REGEX_MULTILINE, 0);

  g_free (parts[0]); /* what is said before the first */
  memmove (parts, parts + 1, g_strv_length (parts + 1) * sizeof *parts + sizeof *parts);
  return parts;
}

static char **
get_versions (void)
{
  static GOnce once = G_ONCE_INIT;

  return g_once (&once, split_versions, NULL);
}

int
bed_schema_get_newest (void)
{
  return (int) g_strv_length (get_versions ());
}

/* One version up, with its number, in one transaction; nothing where another program that opens
 * the farm at the same time was quicker. */
static gboolean
step_to (sqlite3 *db, int version, GError **error)
{
  const char *doing = _ ("making the tables");
  g_autofree char *step
      = g_strdup_printf ("%s\nPRAGMA application_id = %d;\nPRAGMA user_version = %d;",
                         get_versions ()[version - 1], BED_APPLICATION_ID, version);
  gboolean done = bed_db_exec (db, "BEGIN IMMEDIATE", doing, error)
                  && (bed_db_ask (db, "PRAGMA main.user_version") >= version
                      || bed_db_exec (db, step, doing, error))
                  && bed_db_exec (db, "COMMIT", doing, error);

  if (!done)
    sqlite3_exec (db, "ROLLBACK", NULL, NULL, NULL);
  return done;
}

/* Brings the versions above @from up to @to. */
static gboolean
step_up (sqlite3 *db, int from, int to, GError **error)
{
  for (int version = from + 1; version <= to; version++)
    if (!step_to (db, version, error))
      return FALSE;
  return TRUE;
}

/* Name and text of everything in the schema, in one string to compare; what ANALYZE leaves
 * behind is the one thing that may be there or not. */
static char *
schema_text (sqlite3 *db)
{
  sqlite3_stmt *stmt = NULL;
  GString *text = g_string_new (NULL);

  if (sqlite3_prepare_v2 (db,
                          "SELECT type, name, tbl_name, sql FROM main.sqlite_schema"
                          " WHERE name NOT IN ('sqlite_stat1', 'sqlite_stat4')"
                          " ORDER BY type, name",
                          -1, &stmt, NULL)
      == SQLITE_OK)
    while (sqlite3_step (stmt) == SQLITE_ROW)
      g_string_append_printf (text, "%s %s %s %s\n", sqlite3_column_text (stmt, 0),
                              sqlite3_column_text (stmt, 1), sqlite3_column_text (stmt, 2),
                              sqlite3_column_text (stmt, 3));
  sqlite3_finalize (stmt);
  return g_string_free (text, FALSE);
}

/* Triggers, views and virtual tables can run something; columns worked out can too. */
static gboolean
has_tables_alone (sqlite3 *db)
{
  return bed_db_ask (
             db, "SELECT NOT EXISTS (SELECT 1 FROM main.sqlite_schema WHERE type NOT IN ('table',"
                 " 'index') OR (type = 'table' AND sql NOT LIKE 'CREATE TABLE %') UNION ALL"
                 " SELECT 1 FROM main.sqlite_schema s, pragma_table_xinfo (s.name) c"
                 " WHERE s.type = 'table' AND c.hidden <> 0)")
         == 1;
}

static gboolean
is_of_version (sqlite3 *db, int version, GError **error)
{
  sqlite3 *model = NULL;
  gboolean same = FALSE;

  if (sqlite3_open (":memory:", &model) == SQLITE_OK && step_up (model, 0, version, error))
    {
      g_autofree char *wanted = schema_text (model);
      g_autofree char *found = schema_text (db);
      same = g_strcmp0 (wanted, found) == 0;
    }
  sqlite3_close (model);
  return same;
}

gboolean
bed_schema_create (sqlite3 *db, GError **error)
{
  return step_up (db, 0, bed_schema_get_newest (), error);
}

gboolean
bed_schema_step_up (sqlite3 *db, GError **error)
{
  return step_up (db, (int) bed_db_ask (db, "PRAGMA user_version"), bed_schema_get_newest (),
                  error);
}

gboolean
bed_schema_compare (sqlite3 *db, int version, const char *path, GError **error)
{
  g_autoptr (GError) own = NULL;
  gboolean known = version > 0 && version <= bed_schema_get_newest ();

  if (known ? is_of_version (db, version, &own) : version > 0 && has_tables_alone (db))
    return TRUE;
  if (own)
    {
      g_propagate_error (error, g_steal_pointer (&own));
      return FALSE;
    }
  return bed_farm_refuse (
      error, BED_FARM_ERROR_NOT_A_FARM,
      _ ("%s calls itself a Bedlog farm, but its tables are not Bedlog's. Open the file as Bedlog "
         "wrote it, or restore a copy: Backups in the menu, or bedlog-tool restore."),
      path);
}

/* For each kind a GPtrArray of BedField, NULL for the id. */
static gpointer
make_columns (gpointer none)
{
  GPtrArray **columns = g_new0 (GPtrArray *, BED_N_KINDS);
  sqlite3 *db = NULL;
  sqlite3_stmt *stmt = NULL;
  gboolean made = sqlite3_open (":memory:", &db) == SQLITE_OK && bed_schema_create (db, NULL)
                  && sqlite3_prepare_v2 (db, "SELECT name FROM pragma_table_info (?1) ORDER BY cid",
                                         -1, &stmt, NULL)
                         == SQLITE_OK;

  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    {
      columns[kind] = g_ptr_array_new ();
      if (!made)
        continue;
      sqlite3_bind_text (stmt, 1, bed_kind_get_info (kind)->name, -1, SQLITE_STATIC);
      while (sqlite3_step (stmt) == SQLITE_ROW)
        g_ptr_array_add (columns[kind],
                         (gpointer) bed_kind_find_field (
                             kind, (const char *) sqlite3_column_text (stmt, 0), NULL));
      sqlite3_reset (stmt);
    }
  sqlite3_finalize (stmt);
  sqlite3_close (db);
  return columns;
}

const BedField *
bed_schema_get_field (BedKind kind, guint column)
{
  static GOnce once = G_ONCE_INIT;
  GPtrArray **columns = g_once (&once, make_columns, NULL);

  return column < columns[kind]->len ? columns[kind]->pdata[column] : NULL;
}

static char *
make_insert (BedKind kind)
{
  const BedKindInfo *info = bed_kind_get_info (kind);
  GString *sql = g_string_new (NULL);

  g_string_printf (sql, "INSERT INTO \"%s\" (id", info->name);
  for (guint i = 0; i < info->n_fields; i++)
    g_string_append_printf (sql, ", \"%s\"", info->fields[i].name);
  g_string_append (sql, ") VALUES (?1");
  for (guint i = 0; i < info->n_fields; i++)
    g_string_append_printf (sql, ", ?%u", i + 2);
  g_string_append_c (sql, ')');
  return g_string_free (sql, FALSE);
}

static gpointer
make_inserts (gpointer none)
{
  char **sql = g_new0 (char *, BED_N_KINDS);

  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    sql[kind] = make_insert (kind);
  return sql;
}

const char *
bed_schema_get_insert (BedKind kind)
{
  static GOnce once = G_ONCE_INIT;
  char **sql = g_once (&once, make_inserts, NULL);

  return sql[kind];
}

int
bed_schema_bind (sqlite3_stmt *stmt, BedRecord *record)
{
  const BedKindInfo *info = bed_kind_get_info (bed_record_get_kind (record));
  int most = sqlite3_bind_parameter_count (stmt);
  int status = sqlite3_bind_int64 (stmt, 1, bed_record_get_id (record));

  for (int i = 0; i + 2 <= most && status == SQLITE_OK; i++)
    {
      const char *name = info->fields[i].name;
      const char *text = bed_record_get_text (record, name);
      if (!bed_record_has (record, name))
        status = sqlite3_bind_null (stmt, i + 2);
      else if (text)
        status = sqlite3_bind_text (stmt, i + 2, text, -1, SQLITE_TRANSIENT);
      else
        status = sqlite3_bind_int64 (stmt, i + 2, bed_record_get_int (record, name));
    }
  return status;
}

gboolean
bed_schema_attach_views (sqlite3 *db, GError **error)
{
  g_autofree char *sql = load ("views.sql");

  return bed_db_exec (db, sql, _ ("preparing the questions"), error);
}

gboolean
bed_schema_attach_slow_views (sqlite3 *db, GError **error)
{
  g_autofree char *sql = load ("slow.sql");

  return bed_db_exec (db, sql, _ ("preparing the check"), error);
}

void
bed_schema_detach_slow_views (sqlite3 *db)
{
  g_autoptr (GString) sql = g_string_new (NULL);
  sqlite3_stmt *stmt = NULL;

  sqlite3_prepare_v2 (db, "SELECT name FROM temp.sqlite_schema WHERE substr (name, 1, 5) = 'slow_'",
                      -1, &stmt, NULL);
  while (sqlite3_step (stmt) == SQLITE_ROW)
    g_string_append_printf (sql, "DROP VIEW temp.\"%s\";", sqlite3_column_text (stmt, 0));
  sqlite3_finalize (stmt);
  sqlite3_exec (db, sql->str, NULL, NULL, NULL);
}
