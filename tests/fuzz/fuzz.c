#include "fuzz.h"

#include <glib/gstdio.h>
#include <stdlib.h>

static char *folder;

static void
remove_folder_cb (void)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir && (name = g_dir_read_name (dir)))
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      g_unlink (path);
    }
  g_rmdir (folder);
  g_free (folder);
}

const char *
fuzz_folder (void)
{
  if (!folder)
    {
      folder = g_dir_make_tmp ("bedlog-fuzz-XXXXXX", NULL);
      g_assert_nonnull (folder);
      atexit (remove_folder_cb);
    }
  return folder;
}

char *
fuzz_dup_text (const uint8_t *data, size_t size)
{
  return g_strndup ((const char *) data, size);
}

void
fuzz_assert_said (const GError *error)
{
  g_assert_nonnull (error);
  g_assert_cmpstr (error->message, !=, "");
  g_assert_true (g_utf8_validate (error->message, -1, NULL));
}

char *
fuzz_write (const char *name, const void *data, gsize size)
{
  char *path = g_build_filename (fuzz_folder (), name, NULL);

  g_unlink (path); /* written over, a longer file would keep its end */
  g_assert_true (
      g_file_set_contents_full (path, data, (gssize) size, G_FILE_SET_CONTENTS_NONE, 0600, NULL));
  return path;
}
