#include "app/window/demo_place.h"

#include <errno.h>
#include <fcntl.h>
#include <gio/gio.h>
#include <glib/gstdio.h>
#include <sys/file.h>
#include <unistd.h>

struct _BedDemoPlace
{
  char *folder;
  char *path;
  int lock; /* descriptor: let go by the system, however the program ends */
};

static char *
dup_root (void)
{
  return g_build_filename (g_get_user_cache_dir (), "bedlog", "demo", NULL);
}

static gboolean
fail (GError **error)
{
  const int why = errno;

  g_set_error_literal (error, G_IO_ERROR, (int) g_io_error_from_errno (why), g_strerror (why));
  return FALSE;
}

/* -1 with errno where that is not possible, as when another program has it. */
static int
take_lock (const char *folder, int flags)
{
  g_autofree char *path = g_build_filename (folder, "lock", NULL);
  int lock = g_open (path, O_RDWR | O_CLOEXEC | flags, 0600);

  if (lock >= 0 && flock (lock, LOCK_EX | LOCK_NB) == 0)
    return lock;
  if (lock >= 0)
    close (lock);
  return -1;
}

/* A link is removed, not followed. */
static void
remove_all (const char *path)
{
  g_autoptr (GDir) dir = NULL;
  const char *name;

  if (!g_file_test (path, G_FILE_TEST_IS_SYMLINK))
    dir = g_dir_open (path, 0, NULL);
  while (dir && (name = g_dir_read_name (dir)))
    {
      g_autofree char *inner = g_build_filename (path, name, NULL);

      remove_all (inner);
    }
  g_remove (path);
}

BedDemoPlace *
bed_demo_place_new (GError **error)
{
  g_autoptr (BedDemoPlace) self = g_new0 (BedDemoPlace, 1);
  g_autofree char *root = dup_root ();
  g_autofree char *name = g_build_filename (root, "XXXXXX", NULL);

  self->lock = -1;
  if (g_mkdir_with_parents (root, 0700) != 0 || !g_mkdtemp (name))
    return fail (error), NULL;
  self->folder = g_steal_pointer (&name);
  self->path = g_build_filename (self->folder, "demo.bedlog", NULL);
  self->lock = take_lock (self->folder, O_CREAT);
  if (self->lock < 0)
    return fail (error), NULL;
  return g_steal_pointer (&self);
}

const char *
bed_demo_place_get_path (const BedDemoPlace *self)
{
  return self->path;
}

void
bed_demo_place_free (BedDemoPlace *self)
{
  if (self->folder)
    remove_all (self->folder);
  if (self->lock >= 0)
    close (self->lock);
  g_free (self->folder);
  g_free (self->path);
  g_free (self);
}

/* What has no lock yet is just being made. */
void
bed_demo_place_sweep (void)
{
  g_autofree char *root = dup_root ();
  g_autoptr (GDir) dir = g_dir_open (root, 0, NULL);
  const char *name;

  while (dir && (name = g_dir_read_name (dir)))
    {
      g_autofree char *folder = g_build_filename (root, name, NULL);
      int lock = take_lock (folder, 0);

      if (lock < 0)
        continue;
      remove_all (folder);
      close (lock);
    }
}
