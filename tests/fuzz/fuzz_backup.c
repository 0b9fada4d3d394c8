/* A folder of copies as nobody made it: each file is a byte for its name, a byte for what it
 * holds and two for its time. Copies are listed, made, thinned and restored from; nothing that
 * is no copy of ours is touched, never are fewer than ten of ours left by thinning, and after a
 * restoring the farm opens. */
#include <glib/gstdio.h>
#include <string.h>
#include <utime.h>

#include "fuzz.h"
#include "fuzz_farm.h"
#include "model/farm/backup.h"
#include "model/farm/restore.h"

#define FILE_BYTES 4
#define MOST_FILES 24

static char *sound;
static gsize length;

/* {} for a day. */
static const char *const names[] = {
  "day {}",   "day {} 14-30",         "Day {}",       "day {} {}",    "day 2026-13-45",   "day",
  "other {}", "day 9999-12-31 23-59", "day {} 99-99", "day schema 1", "day {} 14-30 (2)", ".day.{}",
};

static char *
dup_name (const uint8_t *file)
{
  g_autofree char *day
      = g_strdup_printf ("%04d-%02d-%02d", 1900 + file[2], 1 + file[3] % 12, 1 + file[3] / 12);
  g_autoptr (GString) name = g_string_new (names[(file[0] & 0x7f) % G_N_ELEMENTS (names)]);

  g_string_replace (name, "{}", day, 0);
  g_string_append (name, file[0] & 0x80 ? ".bedlog.part" : ".bedlog");
  return g_strdup (name->str);
}

static void
write_copy (const char *folder, const uint8_t *file)
{
  g_autofree char *name = dup_name (file);
  g_autofree char *path = g_build_filename (folder, name, NULL);
  gsize kept = file[1] % 8 == 0 ? length * file[1] / 256 : length;
  g_autofree char *bytes = g_memdup2 (sound, length);
  struct utimbuf times = { file[2] * 1000000L, file[2] * 25000000L };

  if (file[1] % 4 == 1)
    bytes[file[1] * 37 % length] ^= (char) file[3];
  if (file[1] % 8 == 7)
    g_mkdir (path, 0700);
  else
    g_file_set_contents (path, bytes, (gssize) kept, NULL);
  utime (path, &times);
}

static void
empty (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir && (name = g_dir_read_name (dir)))
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      g_remove (path);
    }
}

/* Not of what a copying that was cut off left behind: that is tidied away. */
static guint
count (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;
  guint n = 0;

  while (dir && (name = g_dir_read_name (dir)))
    n += !g_str_has_suffix (name, ".part");
  return n;
}

static void
assert_listed (GPtrArray *copies)
{
  for (guint i = 0; i < copies->len; i++)
    {
      const BedBackup *copy = copies->pdata[i];
      g_autofree char *words = bed_backup_dup_words (copy);
      g_autofree char *last = bed_backup_dup_last (copy);
      g_assert_nonnull (copy->path);
      g_assert_true (!words || g_utf8_validate (words, -1, NULL));
      g_assert_true (!last || g_utf8_validate (last, -1, NULL));
      g_assert_true (copy->fault || copy->change > 0 || copy->change == 0);
    }
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_autofree char *path = g_build_filename (fuzz_folder (), "day.bedlog", NULL);
  g_autofree char *folder = g_build_filename (fuzz_folder (), "day backups", NULL);
  g_autoptr (GError) error = NULL;

  if (!sound)
    {
      g_autoptr (BedFarm) first = fuzz_farm_new ("day.bedlog", 2);
      g_clear_object (&first);
      g_assert_true (g_file_get_contents (path, &sound, &length, NULL));
    }
  g_unlink (path);
  g_assert_true (g_file_set_contents (path, sound, (gssize) length, NULL));
  g_mkdir (folder, 0700);
  empty (folder);
  for (guint i = 0; i < MOST_FILES && size >= FILE_BYTES;
       i++, data += FILE_BYTES, size -= FILE_BYTES)
    write_copy (folder, data);
  guint before = count (folder);
  g_autoptr (BedFarm) farm = bed_farm_open (path, &error);
  g_assert_no_error (error);
  if (!bed_backup_make (farm, BED_BACKUP_DIFFERS, NULL, &error))
    fuzz_assert_said (error);
  g_clear_error (&error);
  g_assert_cmpuint (count (folder), >=, MIN (before, 10));
  g_clear_object (&farm);
  g_autoptr (GPtrArray) copies = bed_backup_list (path);
  assert_listed (copies);
  for (guint i = 0; i < copies->len && i < 3; i++)
    {
      const BedBackup *copy = copies->pdata[size > 0 ? (i + data[0]) % copies->len : i];
      if (!bed_restore (path, copy->path, NULL, &error))
        fuzz_assert_said (error);
      g_clear_error (&error);
      g_autoptr (BedFarm) restored = bed_farm_open (path, &error);
      g_assert_no_error (error);
      g_assert_nonnull (restored);
    }
  empty (folder);
  g_rmdir (folder);
  return 0;
}
