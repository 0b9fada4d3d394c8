#include "model/backup_private.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <stdlib.h>
#include <string.h>

#include "model/farm_private.h"
#include "model/output.h"
#include "model/value.h"

enum
{
  DAYS = 7,
  WEEKS = 4,
  YEAR = 365, /* days in which each month keeps one */
};

/* --- names -------------------------------------------------------------------- */

static char *
stem_of (const char *path)
{
  char *stem = g_path_get_basename (path);

  if (g_str_has_suffix (stem, ".bedlog"))
    stem[strlen (stem) - strlen (".bedlog")] = '\0';
  return stem;
}

static char *
folder_of (const char *path)
{
  g_autofree char *parent = g_path_get_dirname (path);
  g_autofree char *stem = stem_of (path);
  g_autofree char *name = g_strconcat (stem, " backups", NULL);

  return g_build_filename (parent, name, NULL);
}

static char *
copy_path (const char *path, const char *label)
{
  g_autofree char *folder = folder_of (path);
  g_autofree char *stem = stem_of (path);
  g_autofree char *name = g_strdup_printf ("%s %s.bedlog", stem, label);

  return g_build_filename (folder, name, NULL);
}

/* The date in "Hill 2026-05-18.bedlog" when the rest of the name is ours, or NULL. */
static char *
date_in_name (const char *name, const char *stem)
{
  gsize length = strlen (stem);

  if (!g_str_has_prefix (name, stem) || strlen (name) != length + strlen (" 2026-05-18.bedlog")
      || name[length] != ' ' || !g_str_has_suffix (name, ".bedlog"))
    return NULL;
  g_autofree char *date = g_strndup (name + length + 1, 10);
  return g_regex_match_simple ("^\\d{4}-\\d{2}-\\d{2}$", date, 0, 0) ? g_steal_pointer (&date)
                                                                   : NULL;
}

/* --- copying -------------------------------------------------------------------- */

gboolean
bed_backup_copy_pages (sqlite3 *from, sqlite3 *to, const char *path, GError **error)
{
  sqlite3_backup *backup = sqlite3_backup_init (to, "main", from, "main");

  if (backup)
    {
      sqlite3_backup_step (backup, -1);
      sqlite3_backup_finish (backup);
    }
  if (sqlite3_errcode (to) == SQLITE_OK)
    return TRUE;
  bed_db_set_error (to, error, _ ("copying the farm"), path);
  return FALSE;
}

/* To a name of its own first: a copy cut short never looks like a whole one. */
static gboolean
copy_to (sqlite3 *db, const char *path, GError **error)
{
  g_autofree char *part = g_strconcat (path, ".part", NULL);
  sqlite3 *to = NULL;
  gboolean done;

  g_unlink (part);
  done = sqlite3_open_v2 (part, &to, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, NULL) == SQLITE_OK;
  if (!done)
    bed_db_set_error (to, error, _ ("making the copy"), path);
  done = done && bed_backup_copy_pages (db, to, path, error);
  sqlite3_close (to);
  if (done && g_rename (part, path) != 0)
    {
      g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_FAILED, _ ("%s cannot be written: %s."),
                   path, g_strerror (errno));
      done = FALSE;
    }
  if (!done)
    g_unlink (part);
  return done;
}

static gboolean
make_folder (const char *path, GError **error)
{
  g_autofree char *folder = g_path_get_dirname (path);

  if (g_mkdir_with_parents (folder, 0777) == 0)
    return TRUE;
  g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_FAILED,
               _ ("The folder %s cannot be made: %s."), folder, g_strerror (errno));
  return FALSE;
}

/* --- keeping and pruning ----------------------------------------------------------- */

/* Which span of time a copy stands for; -1: none any more. Weeks and months are those of
 * the calendar: were they counted back from today, a copy would never grow old enough to
 * reach the next. */
static int
span_of (const char *date, const char *today)
{
  int age = bed_date_days (date, today);

  if (age < DAYS)
    return MAX (age, 0);
  if (age < DAYS + 7 * WEEKS)
    return 1000 + bed_date_days ("2001-01-01", date) / 7; /* a Monday */
  return age < DAYS + 7 * WEEKS + YEAR ? 100 * atoi (date) + atoi (date + 5) : -1;
}

static int
newest_first (gconstpointer a, gconstpointer b)
{
  return -strcmp (*(char *const *) a, *(char *const *) b);
}

char **
bed_backup_keep (const char *const *dates, const char *today)
{
  g_return_val_if_fail (dates != NULL && today != NULL, NULL);
  g_autoptr (GPtrArray) sorted = g_ptr_array_new ();
  g_autoptr (GPtrArray) kept = g_ptr_array_new ();
  int last = -1; /* newest first, so those of one span follow each other */

  for (; *dates; dates++)
    g_ptr_array_add (sorted, (gpointer) *dates);
  g_ptr_array_sort (sorted, newest_first);
  for (guint i = 0; i < sorted->len; i++)
    {
      int span = span_of (sorted->pdata[i], today);
      if (span < 0 || span == last)
        continue;
      last = span;
      g_ptr_array_add (kept, g_strdup (sorted->pdata[i]));
    }
  g_ptr_array_add (kept, NULL);
  return (char **) g_ptr_array_free (g_steal_pointer (&kept), FALSE);
}

static char **
list_dates (const char *path)
{
  g_autofree char *folder = folder_of (path);
  g_autofree char *stem = stem_of (path);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  g_autoptr (GPtrArray) dates = g_ptr_array_new ();
  const char *name;

  while (dir && (name = g_dir_read_name (dir)))
    {
      char *date = date_in_name (name, stem);
      if (date)
        g_ptr_array_add (dates, date);
    }
  g_ptr_array_sort (dates, newest_first);
  g_ptr_array_add (dates, NULL);
  return (char **) g_ptr_array_free (g_steal_pointer (&dates), FALSE);
}

static void
prune (const char *path, const char *today)
{
  g_auto (GStrv) dates = list_dates (path);
  g_auto (GStrv) kept = bed_backup_keep ((const char *const *) dates, today);

  for (char **date = dates; *date; date++)
    if (!g_strv_contains ((const char *const *) kept, *date))
      {
        g_autofree char *old = copy_path (path, *date);
        g_unlink (old);
      }
}

/* Whether the farm was written to after the newest copy was made. */
static gboolean
has_changed (const char *path, const char *newest_date)
{
  g_autofree char *newest = newest_date ? copy_path (path, newest_date) : NULL;
  GStatBuf farm, copy;

  return !newest || g_stat (newest, &copy) != 0 || g_stat (path, &farm) != 0
         || farm.st_mtime >= copy.st_mtime;
}

/* --- public ------------------------------------------------------------------------- */

gboolean
bed_backup_write (BedFarm *farm, const char *path, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && path != NULL, FALSE);

  if (g_file_test (path, G_FILE_TEST_EXISTS))
    {
      g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_EXISTS,
                   _ ("There is a file %s already. Give the copy another name."), path);
      return FALSE;
    }
  g_autofree char *target = bed_output_dup_target (path, error);
  return target && copy_to (bed_farm_get_db (farm), target, error);
}

gboolean
bed_backup_daily (BedFarm *farm, char **path, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), FALSE);
  const char *from = bed_farm_get_path (farm), *today = bed_farm_get_today (farm);
  g_auto (GStrv) dates = list_dates (from);
  g_autofree char *to = copy_path (from, today);

  if (path)
    *path = NULL;
  if (g_strv_contains ((const char *const *) dates, today) || !has_changed (from, dates[0]))
    return TRUE;
  if (!make_folder (to, error) || !copy_to (bed_farm_get_db (farm), to, error))
    return FALSE;
  prune (from, today);
  if (path)
    *path = g_steal_pointer (&to);
  return TRUE;
}

gboolean
bed_backup_before_migration (sqlite3 *db, const char *path, int version, GError **error)
{
  g_autofree char *label = g_strdup_printf ("schema %d", version);
  g_autofree char *to = copy_path (path, label);

  return make_folder (to, error) && copy_to (db, to, error);
}
