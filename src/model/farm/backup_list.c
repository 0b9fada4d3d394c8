/* What copies there are and what each holds: read from the copies, not from their names. */
#include "model/farm/backup_private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/farm/farm_private.h"
#include "model/farm/query.h"

#define MOST_STEPS 1000000 /* of SQLite's machine: a strange file must not hold us up */

void
bed_backup_free (BedBackup *self)
{
  if (!self)
    return;
  g_free (self->path);
  g_free (self->made);
  g_free (self->at);
  g_free (self->sentence);
  g_free (self->fault);
  g_free (self);
}

static int
stop_cb (gpointer data)
{
  return 1;
}

/* FALSE when the table cannot be read. */
static gboolean
read_last_change (sqlite3 *db, BedBackup *self)
{
  sqlite3_stmt *stmt = NULL;
  int status = sqlite3_prepare_v2 (
      db, "SELECT id, at, sentence, role IS 'undo' FROM main.change ORDER BY id DESC LIMIT 1", -1,
      &stmt, NULL);

  if (status == SQLITE_OK)
    status = sqlite3_step (stmt);
  if (status == SQLITE_ROW)
    {
      self->change = sqlite3_column_int64 (stmt, 0);
      self->at = g_strdup ((const char *) sqlite3_column_text (stmt, 1));
      const char *sentence = (const char *) sqlite3_column_text (stmt, 2);
      self->sentence = sentence ? g_utf8_make_valid (sentence, -1) : NULL;
      self->undo = sqlite3_column_int (stmt, 3);
    }
  sqlite3_finalize (stmt);
  return status == SQLITE_ROW || status == SQLITE_DONE;
}

static void
read_contents (BedBackup *self)
{
  BedDbHeader header = { 0 };
  g_autoptr (GError) error = NULL;
  sqlite3 *db = bed_db_open (self->path, SQLITE_OPEN_READONLY, &error);

  if (db && bed_db_look (db, self->path, &header, &error))
    {
      sqlite3_progress_handler (db, MOST_STEPS, stop_cb, NULL);
      if (!read_last_change (db, self))
        bed_db_set_error (db, &error, _ ("reading the copy"), self->path);
      self->version = (int) bed_db_ask (db, "PRAGMA user_version");
      self->pages = bed_db_ask (db, "PRAGMA page_count");
    }
  sqlite3_close_v2 (db);
  if (error)
    self->fault = g_strdup (error->message);
}

/* The order of what they hold; only of the same do the names decide. */
static int
newest_first (gconstpointer a, gconstpointer b)
{
  const BedBackup *one = *(BedBackup *const *) a, *other = *(BedBackup *const *) b;

  if (!one->fault != !other->fault)
    return one->fault ? 1 : -1;
  if (one->change != other->change)
    return one->change > other->change ? -1 : 1;
  if (one->version != other->version)
    return other->version - one->version;
  return -strcmp (one->path, other->path);
}

static void
add_folder (GPtrArray *copies, const char *folder, const char *stem)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;
  char *made;

  while (dir && (name = g_dir_read_name (dir)))
    if (bed_backup_read_name (name, stem, &made))
      {
        BedBackup *copy = g_new0 (BedBackup, 1);

        copy->path = g_build_filename (folder, name, NULL);
        copy->made = made;
        read_contents (copy);
        g_ptr_array_add (copies, copy);
      }
}

/* --- for the room ------------------------------------------------------------------ */

GPtrArray *
bed_backup_list_in (const char *folder, const char *stem)
{
  GPtrArray *copies = g_ptr_array_new_with_free_func ((GDestroyNotify) bed_backup_free);

  add_folder (copies, folder, stem);
  g_ptr_array_sort (copies, newest_first);
  return copies;
}

BedBackup *
bed_backup_describe (sqlite3 *db)
{
  BedBackup *self = g_new0 (BedBackup, 1);

  read_last_change (db, self);
  self->version = (int) bed_db_ask (db, "PRAGMA main.user_version");
  self->pages = bed_db_ask (db, "PRAGMA main.page_count");
  return self;
}

gboolean
bed_backup_is_of_line (sqlite3 *farm, const BedBackup *copy)
{
  sqlite3_stmt *stmt = NULL;
  gboolean same = copy->change == 0;

  if (!same
      && sqlite3_prepare_v2 (farm,
                             "SELECT 1 FROM main.change WHERE id = ?1 AND at IS ?2"
                             " AND sentence IS ?3",
                             -1, &stmt, NULL)
             == SQLITE_OK)
    {
      sqlite3_bind_int64 (stmt, 1, copy->change);
      sqlite3_bind_text (stmt, 2, copy->at, -1, SQLITE_STATIC);
      sqlite3_bind_text (stmt, 3, copy->sentence, -1, SQLITE_STATIC);
      same = sqlite3_step (stmt) == SQLITE_ROW;
    }
  sqlite3_finalize (stmt);
  return same;
}

/* --- public ------------------------------------------------------------------------ */

GPtrArray *
bed_backup_list (const char *path)
{
  g_return_val_if_fail (path != NULL, NULL);
  GPtrArray *copies = g_ptr_array_new_with_free_func ((GDestroyNotify) bed_backup_free);
  g_auto (GStrv) folders = bed_backup_dup_folders (path, NULL);
  g_autofree char *stem = bed_backup_dup_stem (path);

  for (char **folder = folders; *folder; folder++)
    add_folder (copies, *folder, stem);
  g_ptr_array_sort (copies, newest_first);
  return copies;
}

gint64
bed_backup_changes_since (BedFarm *farm, const BedBackup *copy)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && copy != NULL, -1);

  if (copy->fault || !bed_backup_is_of_line (bed_farm_get_db (farm), copy))
    return -1;
  gint64 since;
  return bed_query_one (farm, "SELECT count (*) FROM change WHERE id > ?1", copy->change, &since,
                        NULL)
             ? since
             : -1;
}
