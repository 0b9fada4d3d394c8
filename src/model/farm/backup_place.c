/* Where copies lie. The choice is kept by this machine for each farm, never in the farm file:
 * a stranger's farm must not say where this program writes. */
#include "model/farm/backup_private.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* Farms and folders are written as addresses: a path need not be UTF-8. */
#define FARM "farm"
#define PLACE "place"

static char *
dup_whole (const char *path)
{
  g_autofree char *parent = g_path_get_dirname (path);
  g_autofree char *name = g_path_get_basename (path);
  char *whole = realpath (path, NULL);

  if (whole)
    return whole;
  /* The farm may be gone; where it lay is not. */
  g_autofree char *folder = realpath (parent, NULL);
  return folder ? g_build_filename (folder, name, NULL) : g_canonicalize_filename (path, NULL);
}

static char *
dup_file (void)
{
  return g_build_filename (g_get_user_config_dir (), "bedlog", "backup-places.ini", NULL);
}

static GKeyFile *
read_places (void)
{
  g_autofree char *file = dup_file ();
  GKeyFile *places = g_key_file_new ();

  g_key_file_load_from_file (places, file, G_KEY_FILE_KEEP_COMMENTS, NULL);
  return places;
}

static gboolean
write_places (GKeyFile *places, GError **error)
{
  g_autofree char *file = dup_file ();
  g_autofree char *folder = g_path_get_dirname (file);
  g_autoptr (GError) why = NULL;

  if (g_mkdir_with_parents (folder, 0700) == 0 && g_key_file_save_to_file (places, file, &why))
    return TRUE;
  return bed_farm_refuse (error, BED_FARM_ERROR_FAILED,
                          _ ("The place for copies could not be noted in %s: %s."), file,
                          why ? why->message : g_strerror (errno));
}

/* Group names may not hold every byte of a path. */
static char *
dup_group (const char *path)
{
  g_autofree char *whole = dup_whole (path);

  return g_compute_checksum_for_string (G_CHECKSUM_SHA256, whole, -1);
}

static char *
dup_path_at (GKeyFile *places, const char *group, const char *key)
{
  g_autofree char *address = g_key_file_get_string (places, group, key, NULL);

  return address ? g_filename_from_uri (address, NULL, NULL) : NULL;
}

/* Another farm of the same name with its copies there: they would lie in one folder. */
static char *
dup_rival (GKeyFile *places, const char *own, const char *folder)
{
  g_auto (GStrv) groups = g_key_file_get_groups (places, NULL);

  for (char **group = groups; *group; group++)
    {
      g_autofree char *farm = dup_path_at (places, *group, FARM);
      g_autofree char *place = dup_path_at (places, *group, PLACE);
      g_autofree char *theirs = farm && place ? bed_backup_dup_folder_in (place, farm) : NULL;

      if (g_strcmp0 (*group, own) != 0 && g_strcmp0 (theirs, folder) == 0)
        return g_steal_pointer (&farm);
    }
  return NULL;
}

/* The folder is made at once: later its absence says that the stick is not there, even where
 * an empty folder stands in its stead. */
static gboolean
prepare (const char *path, const char *folder, GError **error)
{
  guint mode = bed_backup_mode_of (path);

  if (g_mkdir (folder, 0700 | (mode & 077) | ((mode & 044) >> 2)) == 0
      || (errno == EEXIST && g_access (folder, W_OK) == 0))
    return TRUE;
  return bed_farm_refuse (error, BED_FARM_ERROR_FAILED, _ ("The folder %s cannot be made: %s."),
                          folder, g_strerror (errno));
}

static gboolean
note_place (GKeyFile *places, const char *path, const char *place, GError **error)
{
  g_autofree char *whole = dup_whole (path);
  g_autofree char *group = dup_group (path);
  g_autofree char *folder = bed_backup_dup_folder_in (place, whole);
  g_autofree char *rival = dup_rival (places, group, folder);
  g_autofree char *farm_address = g_filename_to_uri (whole, NULL, NULL);
  g_autofree char *place_address = g_filename_to_uri (place, NULL, NULL);

  if (rival)
    return bed_farm_refuse (
        error, BED_FARM_ERROR_INVALID,
        _ ("The copies of %s lie there already, under the same name. Choose another folder."),
        rival);
  if (!prepare (path, folder, error))
    return FALSE;
  g_key_file_set_string (places, group, FARM, farm_address);
  g_key_file_set_string (places, group, PLACE, place_address);
  return write_places (places, error);
}

/* --- for the room ---------------------------------------------------------------- */

char **
bed_backup_dup_folders (const char *path, char **missing)
{
  g_autofree char *place = bed_backup_dup_place (path);
  g_autofree char *chosen = place ? bed_backup_dup_folder_in (place, path) : NULL;
  g_autofree char *parent = g_path_get_dirname (path);
  char **folders = g_new0 (char *, 3);
  int n = 0;

  if (chosen && g_file_test (chosen, G_FILE_TEST_IS_DIR))
    folders[n++] = g_steal_pointer (&chosen);
  else if (chosen && missing)
    *missing = g_steal_pointer (&place);
  folders[n] = bed_backup_dup_folder_in (parent, path);
  return folders;
}

/* --- public ------------------------------------------------------------------------ */

char *
bed_backup_dup_place (const char *path)
{
  g_return_val_if_fail (path != NULL, NULL);
  g_autoptr (GKeyFile) places = read_places ();
  g_autofree char *group = dup_group (path);

  return dup_path_at (places, group, PLACE);
}

gboolean
bed_backup_set_place (const char *path, const char *place, GError **error)
{
  g_return_val_if_fail (path != NULL, FALSE);
  g_autoptr (GKeyFile) places = read_places ();
  g_autofree char *whole = place ? realpath (place, NULL) : NULL;
  g_autofree char *group = dup_group (path);

  if (!place)
    {
      g_key_file_remove_group (places, group, NULL);
      return write_places (places, error);
    }
  if (whole && g_file_test (whole, G_FILE_TEST_IS_DIR))
    return note_place (places, path, whole, error);
  return bed_farm_refuse (
      error, BED_FARM_ERROR_INVALID,
      _ ("%s is not a folder. Copies go into a folder that is there, as on a stick."), place);
}

char *
bed_backup_dup_farm (const char *path)
{
  g_return_val_if_fail (path != NULL, NULL);
  g_autofree char *why = bed_backup_dup_why (path);
  g_autofree char *whole = why ? realpath (path, NULL) : NULL;
  g_autofree char *folder = whole ? g_path_get_dirname (whole) : NULL;
  g_autoptr (GKeyFile) places = read_places ();

  if (!whole)
    return NULL;
  char *farm = dup_rival (places, NULL, folder);
  if (farm)
    return farm;
  /* Beside it: "Hill backups" stands where "Hill.bedlog" does. */
  g_autofree char *bare = g_strndup (folder, strlen (folder) - strlen (" backups"));
  return g_file_test (bare, G_FILE_TEST_IS_REGULAR) ? g_steal_pointer (&bare)
                                                    : g_strconcat (bare, ".bedlog", NULL);
}
