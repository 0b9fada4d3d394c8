#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "model/sheet/rows_private.h"

/* What comes through a pipe is kept in a file without a name, up to here. */
#define MOST_PIPED (G_GUINT64_CONSTANT (1) << 30)

struct _BedSource
{
  int fd; /* -1: @bytes */
  GBytes *bytes;
  guint64 size;
};

static void
set_errno (GError **error, const char *path, int why)
{
  g_autofree char *shown = g_filename_display_name (path);

  g_set_error (error, BED_ROWS_ERROR,
               why == ENOENT || why == ENOTDIR ? BED_ROWS_ERROR_NOT_FOUND : BED_ROWS_ERROR_FAILED,
               _ ("%s cannot be read: %s."), shown, g_strerror (why));
}

static gboolean
write_all (int fd, const char *bytes, gsize n)
{
  for (gssize written; n > 0; bytes += written, n -= written)
    if ((written = write (fd, bytes, n)) < 0)
      return FALSE;
  return TRUE;
}

/* A pipe cannot be read twice, and a sheet is: for what it is, and for its rows. Takes @fd. */
static int
keep_pipe (int fd, const char *path, GError **error)
{
  g_autofree char *name = NULL;
  int kept = g_file_open_tmp ("bedlog-XXXXXX", &name, error);
  char block[1 << 16];
  guint64 total = 0;
  gssize n = 0;

  if (kept >= 0)
    g_unlink (name);
  while (kept >= 0 && total <= MOST_PIPED && (n = read (fd, block, sizeof block)) > 0
         && write_all (kept, block, n))
    total += n;
  if (kept >= 0 && n != 0)
    {
      if (total > MOST_PIPED)
        g_set_error (error, BED_ROWS_ERROR, BED_ROWS_ERROR_BOUND,
                     _ ("More than %d MB came in. A sheet of a farm is smaller; split it."),
                     (int) (MOST_PIPED >> 20));
      else
        set_errno (error, path, errno);
      close (kept);
      kept = -1;
    }
  close (fd);
  return kept;
}

BedSource *
bed_source_new_file (const char *path, GError **error)
{
  int fd = g_open (path, O_RDONLY | O_CLOEXEC, 0);
  struct stat about;

  if (fd < 0 || fstat (fd, &about) < 0 || S_ISDIR (about.st_mode))
    {
      set_errno (error, path, fd >= 0 && S_ISDIR (about.st_mode) ? EISDIR : errno);
      if (fd >= 0)
        close (fd);
      return NULL;
    }
  if (!S_ISREG (about.st_mode)
      && ((fd = keep_pipe (fd, path, error)) < 0 || fstat (fd, &about) < 0))
    return NULL;
  BedSource *self = g_new0 (BedSource, 1);
  self->fd = fd;
  self->size = about.st_size;
  return self;
}

BedSource *
bed_source_new_bytes (GBytes *bytes)
{
  BedSource *self = g_new0 (BedSource, 1);

  self->fd = -1;
  self->bytes = g_bytes_ref (bytes);
  self->size = g_bytes_get_size (bytes);
  return self;
}

void
bed_source_free (BedSource *self)
{
  if (self->fd >= 0)
    close (self->fd);
  g_clear_pointer (&self->bytes, g_bytes_unref);
  g_free (self);
}

guint64
bed_source_get_size (BedSource *self)
{
  return self->size;
}

gssize
bed_source_read (BedSource *self, guint64 at, void *bytes, gsize n)
{
  if (self->fd >= 0)
    return pread (self->fd, bytes, n, at);
  if (at >= self->size)
    return 0;
  n = MIN (n, self->size - at);
  memcpy (bytes, (const char *) g_bytes_get_data (self->bytes, NULL) + at, n);
  return n;
}
