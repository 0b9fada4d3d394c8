#include "model/farm/backup_private.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "model/farm/farm_private.h"
#include "model/farm/output.h"
#include "model/farm/value.h"

#define PART ".part"
#define HOUR 60 /* minutes */

/* A folder of copies while it is worked on. */
typedef struct
{
  sqlite3 *db;
  const char *farm; /* path */
  const char *folder;
  char *stem;
  int lock;
} Work;

static void
work_clear (Work *work)
{
  g_free (work->stem);
  if (work->lock >= 0)
    close (work->lock);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Work, work_clear)

void
bed_backup_made_clear (BedBackupMade *made)
{
  g_clear_pointer (&made->path, g_free);
  g_clear_pointer (&made->same, g_free);
  g_clear_pointer (&made->note, g_free);
}

/* --- the folder ------------------------------------------------------------------- */

/* As private as the farm: whoever may read it may look into the folder. */
static gboolean
make_folder (const char *folder, const char *farm, GError **error)
{
  guint mode = bed_backup_mode_of (farm);
  guint wanted = 0700 | (mode & 077) | ((mode & 044) >> 2);

  if (g_mkdir (folder, 0700) == 0)
    {
      g_chmod (folder, wanted);
      if (bed_file_sync_folder_of (folder))
        return TRUE;
    }
  if (errno == EEXIST && g_file_test (folder, G_FILE_TEST_IS_DIR))
    {
      guint now = bed_backup_mode_of (folder);
      if (now & ~wanted)
        g_chmod (folder, now & wanted);
      return TRUE;
    }
  return bed_farm_refuse (error, BED_FARM_ERROR_FAILED, _ ("The folder %s cannot be made: %s."),
                          folder, g_strerror (errno));
}

/* What a killed program left half done; under the lock nobody is at work on it. */
static void
tidy (Work *work)
{
  g_autoptr (GDir) dir = g_dir_open (work->folder, 0, NULL);
  const char *name;

  while (dir && (name = g_dir_read_name (dir)))
    {
      g_autofree char *whole = g_strdup (name);
      char *made = NULL;

      if (!g_str_has_suffix (name, PART))
        continue;
      whole[strlen (whole) - strlen (PART)] = '\0';
      if (bed_backup_read_name (whole, work->stem, &made))
        {
          g_autofree char *path = g_build_filename (work->folder, name, NULL);
          g_unlink (path);
        }
      g_free (made);
    }
}

static gboolean
begin (Work *work, GError **error)
{
  work->stem = bed_backup_dup_stem (work->farm);
  if (!make_folder (work->folder, work->farm, error))
    return FALSE;
  work->lock = bed_backup_lock_folder (work->folder, error);
  if (work->lock < 0)
    return FALSE;
  tidy (work);
  return TRUE;
}

/* To a name of its own first: a copy cut short never looks like a whole one. */
static gboolean
copy_to (sqlite3 *db, const char *farm, const char *path, GError **error)
{
  g_autofree char *part = g_strconcat (path, PART, NULL);

  if (!bed_backup_copy_file (db, part, bed_backup_mode_of (farm), error))
    return FALSE;
  if (g_rename (part, path) == 0 && bed_file_sync_folder_of (path))
    return TRUE;
  g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_FAILED, _ ("%s cannot be written: %s."), path,
               g_strerror (errno));
  g_unlink (part);
  return FALSE;
}

/* --- whether, and which go --------------------------------------------------------- */

static GPtrArray *
of_one_line (sqlite3 *db, GPtrArray *copies)
{
  GPtrArray *own = g_ptr_array_new ();

  for (guint i = 0; i < copies->len; i++)
    {
      BedBackup *copy = copies->pdata[i];

      /* Those from before a new version have no date and stay. */
      if (!copy->fault && copy->made && bed_backup_is_of_line (db, copy))
        g_ptr_array_add (own, copy);
    }
  return own;
}

static int
minutes_between (const char *from, const char *to)
{
  g_autofree char *first = g_strndup (from, 10), *last = g_strndup (to, 10);

  return bed_date_days (first, last) * 24 * 60 + (atoi (to + 11) - atoi (from + 11)) * 60
         + atoi (to + 14) - atoi (from + 14);
}

/* A copy whose name lies in the future says nothing of when it was made. */
static gboolean
is_recent (const BedBackup *copy, BedBackupWhen when, const char *now)
{
  if (when == BED_BACKUP_OPENING)
    return strncmp (copy->made, now, 10) == 0;
  return when == BED_BACKUP_HOUR && copy->made[10] && strcmp (copy->made, now) <= 0
         && minutes_between (copy->made, now) < HOUR;
}

static gboolean
is_same (const BedBackup *copy, const BedBackup *farm)
{
  return copy->change == farm->change && copy->version == farm->version
         && copy->pages == farm->pages;
}

static gboolean
is_due (GPtrArray *copies, const BedBackup *farm, BedBackupWhen when, const char *now)
{
  if (copies->len > 0 && is_same (copies->pdata[0], farm))
    return FALSE;
  for (guint i = 0; i < copies->len; i++)
    if (is_recent (copies->pdata[i], when, now))
      return FALSE;
  return TRUE;
}

static void
thin (Work *work, const char *today)
{
  g_autoptr (GPtrArray) copies = bed_backup_list_in (work->folder, work->stem);
  g_autoptr (GPtrArray) own = of_one_line (work->db, copies);
  g_autoptr (BedBackup) farm = bed_backup_describe (work->db);
  g_autoptr (GPtrArray) spare = bed_backup_spare (own, farm->at, today);

  for (guint i = 0; i < spare->len; i++)
    g_unlink (((BedBackup *) spare->pdata[i])->path);
}

static gboolean
make_in (BedFarm *farm, const char *folder, BedBackupWhen when, BedBackupMade *made, GError **error)
{
  g_auto (Work) work = { bed_farm_get_db (farm), bed_farm_get_path (farm), folder, NULL, -1 };
  const char *now = bed_farm_get_now (farm);

  if (!begin (&work, error))
    return FALSE;
  g_autoptr (GPtrArray) copies = bed_backup_list_in (folder, work.stem);
  g_autoptr (GPtrArray) own = of_one_line (work.db, copies);
  g_autoptr (BedBackup) is = bed_backup_describe (work.db);
  if (!is_due (own, is, when, now))
    {
      if (own->len > 0 && is_same (own->pdata[0], is))
        made->same = g_strdup (((BedBackup *) own->pdata[0])->path);
      return TRUE;
    }
  g_autofree char *label = bed_backup_dup_label (now);
  g_autofree char *to = bed_backup_free_name (folder, work.stem, label);
  if (!copy_to (work.db, work.farm, to, error))
    return FALSE;
  made->path = g_steal_pointer (&to);
  thin (&work, bed_farm_get_today (farm));
  return TRUE;
}

/* --- public ------------------------------------------------------------------------- */

gboolean
bed_backup_make (BedFarm *farm, BedBackupWhen when, BedBackupMade *made, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), FALSE);
  g_auto (BedBackupMade) own = { NULL };
  g_autofree char *missing = NULL;
  g_auto (GStrv) folders = bed_backup_dup_folders (bed_farm_get_path (farm), &missing);
  g_autoptr (GError) why = NULL;
  gboolean done;

  if (when == BED_BACKUP_OPENING)
    bed_backup_tidy (bed_farm_get_path (farm));
  done = make_in (farm, folders[0], when, &own, &why);

  if (missing)
    own.note = g_strdup_printf (_ ("The place for copies, %s, is not there, so the copies lie "
                                   "beside the farm in %s."),
                                missing, folders[0]);
  if (!done && folders[1])
    {
      own.note = g_strdup_printf (_ ("%s The copies lie beside the farm in %s."), why->message,
                                  folders[1]);
      g_clear_error (&why);
      done = make_in (farm, folders[1], when, &own, &why);
    }
  if (why)
    g_propagate_error (error, g_steal_pointer (&why));
  if (made)
    {
      *made = own;
      own = (BedBackupMade){ NULL };
    }
  return done;
}

gboolean
bed_backup_write (BedFarm *farm, const char *path, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && path != NULL, FALSE);
  g_autofree char *folder = g_path_get_dirname (path);
  int lock;
  gboolean done;

  if (g_file_test (path, G_FILE_TEST_EXISTS))
    return bed_farm_refuse (error, BED_FARM_ERROR_EXISTS,
                            _ ("There is a file %s already. Give the copy another name."), path);
  g_autofree char *target = bed_output_dup_target (path, BED_OUTPUT_FARM, error);
  if (!target)
    return FALSE;
  lock = bed_backup_lock_folder (folder, error);
  done = lock >= 0 && copy_to (bed_farm_get_db (farm), bed_farm_get_path (farm), target, error);
  if (lock >= 0)
    close (lock);
  return done;
}

gboolean
bed_backup_before_migration (sqlite3 *db, const char *path, int version, GError **error)
{
  g_autofree char *label = g_strdup_printf ("schema %d", version);
  g_auto (GStrv) folders = bed_backup_dup_folders (path, NULL);
  g_auto (Work) work = { db, path, folders[0], NULL, -1 };

  if (!begin (&work, error))
    return FALSE;
  g_autofree char *to = bed_backup_free_name (work.folder, work.stem, label);
  return copy_to (db, path, to, error);
}
