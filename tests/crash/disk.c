/* See disk.h. The names of the C library are defined here as they are, so none of the macros
 * that would turn one into another may be in force. */
#undef _FILE_OFFSET_BITS
#undef _FORTIFY_SOURCE
#define _FORTIFY_SOURCE 0
#define _LARGEFILE64_SOURCE 1

#include "disk.h"

#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define N_FDS 1024

enum
{
  NO_FILE = 0,
  A_FOLDER = G_MAXUINT,
};

/* Not more than a test's own thread ever writes here. */
static struct
{
  char *folder; /* NULL: nothing is watched */
  GPtrArray *events;
  GHashTable *inodes; /* path -> inode */
  guint last_inode;
  guint inode_of_fd[N_FDS];
  char *folder_of_fd[N_FDS];

  const DiskFault *fault;
  guint at, seen, broken;
} disk;

#define REAL(name)                                                                                 \
  static __typeof__ (&name) real;                                                                  \
  if (!real)                                                                                       \
  real = (__typeof__ (&name)) dlsym (RTLD_NEXT, #name)

/* --- events -------------------------------------------------------------------- */

void
disk_event_free (DiskEvent *event)
{
  g_free (event->data);
  g_free (event->path);
  g_free (event->to);
  g_free (event);
}

static DiskEvent *
note (DiskOp op, guint inode, const char *path)
{
  DiskEvent *event = g_new0 (DiskEvent, 1);

  event->op = op;
  event->inode = inode;
  event->path = g_strdup (path);
  g_ptr_array_add (disk.events, event);
  return event;
}

/* The path within the watched folder, or NULL. */
static const char *
within (const char *path)
{
  gsize length = disk.folder ? strlen (disk.folder) : 0;

  if (!length || !path || strncmp (path, disk.folder, length) != 0)
    return NULL;
  if (path[length] == '\0')
    return path + length;
  return path[length] == '/' ? path + length + 1 : NULL;
}

static guint
inode_of (int fd)
{
  return fd >= 0 && fd < N_FDS ? disk.inode_of_fd[fd] : NO_FILE;
}

static guint
inode_at (const char *path)
{
  return GPOINTER_TO_UINT (g_hash_table_lookup (disk.inodes, path));
}

static guint
new_inode (const char *path)
{
  g_hash_table_insert (disk.inodes, g_strdup (path), GUINT_TO_POINTER (++disk.last_inode));
  return disk.last_inode;
}

static void
know_fd (int fd, const char *path)
{
  struct stat info;

  g_assert (fd < N_FDS);
  if (fstat (fd, &info) != 0)
    return;
  disk.inode_of_fd[fd] = S_ISDIR (info.st_mode) ? A_FOLDER : inode_at (path);
  g_free (disk.folder_of_fd[fd]);
  disk.folder_of_fd[fd] = S_ISDIR (info.st_mode) ? g_strdup (path) : NULL;
}

/* --- faults -------------------------------------------------------------------- */

void
disk_break (const DiskFault *fault, guint at)
{
  disk.fault = fault;
  disk.at = at;
  disk.seen = disk.broken = 0;
}

guint
disk_get_broken (void)
{
  return disk.broken;
}

guint
disk_get_seen (void)
{
  return disk.seen;
}

/* 0: go on; else an errno or DISK_SHORT. */
static int
fails (DiskCalls call)
{
  const DiskFault *fault = disk.fault;

  if (!fault || !(fault->calls & call))
    return 0;
  disk.seen++;
  if (disk.seen < disk.at || (disk.seen > disk.at && fault->lasting == DISK_ONCE))
    return 0;
  disk.broken++;
  if (fault->code == DISK_KILL)
    raise (SIGKILL);
  /* What follows a short write on a full disk. */
  if (fault->code == DISK_SHORT && disk.seen > disk.at)
    return ENOSPC;
  return fault->code;
}

#define FAIL_IF(call)                                                                              \
  {                                                                                                \
    int code = fails (call);                                                                       \
    if (code)                                                                                      \
      {                                                                                            \
        errno = code == DISK_SHORT ? ENOSPC : code;                                                \
        return -1;                                                                                 \
      }                                                                                            \
  }

/* --- the calls ------------------------------------------------------------------- */

typedef int (*OpenFunc) (const char *path, int flags, ...);

static int
opened (OpenFunc real, const char *path, int flags, mode_t mode)
{
  const char *inner = within (path);

  if (!inner)
    return real (path, flags, mode);
  gboolean fresh = (flags & O_CREAT) && !inode_at (inner);
  FAIL_IF (fresh ? DISK_CALL_OPEN | DISK_CALL_WRITE : DISK_CALL_OPEN);
  int fd = real (path, flags, mode);
  if (fd < 0)
    return fd;
  if (fresh)
    note (DISK_NAME, new_inode (inner), inner);
  know_fd (fd, inner);
  if ((flags & O_TRUNC) && !fresh)
    note (DISK_SIZE, inode_of (fd), NULL)->offset = 0;
  return fd;
}

static mode_t
mode_of (int flags, va_list arguments)
{
  return flags & O_CREAT ? (mode_t) va_arg (arguments, int) : 0;
}

int
open (const char *path, int flags, ...)
{
  REAL (open);
  va_list arguments;

  va_start (arguments, flags);
  mode_t mode = mode_of (flags, arguments);
  va_end (arguments);
  return opened (real, path, flags, mode);
}

int
open64 (const char *path, int flags, ...)
{
  REAL (open64);
  va_list arguments;

  va_start (arguments, flags);
  mode_t mode = mode_of (flags, arguments);
  va_end (arguments);
  return opened (real, path, flags, mode);
}

int
creat (const char *path, mode_t mode)
{
  return open64 (path, O_CREAT | O_WRONLY | O_TRUNC, mode);
}

int
creat64 (const char *path, mode_t mode)
{
  return open64 (path, O_CREAT | O_WRONLY | O_TRUNC, mode);
}

int
close (int fd)
{
  REAL (close);

  if (fd >= 0 && fd < N_FDS)
    {
      disk.inode_of_fd[fd] = NO_FILE;
      g_clear_pointer (&disk.folder_of_fd[fd], g_free);
    }
  return real (fd);
}

static void
note_write (int fd, const void *data, gssize size, guint64 offset)
{
  if (size <= 0)
    return;
  DiskEvent *event = note (DISK_WRITE, inode_of (fd), NULL);
  event->offset = offset;
  event->size = size;
  event->data = g_memdup2 (data, size);
}

typedef ssize_t (*PwriteFunc) (int fd, const void *data, size_t size, off64_t offset);

static ssize_t
written (PwriteFunc real, int fd, const void *data, size_t size, off64_t offset)
{
  if (!inode_of (fd))
    return real (fd, data, size, offset);
  int code = fails (DISK_CALL_WRITE);
  if (code > 0)
    {
      errno = code;
      return -1;
    }
  ssize_t done = real (fd, data, code == DISK_SHORT && size > 1 ? size / 2 : size, offset);
  note_write (fd, data, done, offset);
  return done;
}

ssize_t
pwrite (int fd, const void *data, size_t size, off_t offset)
{
  REAL (pwrite);
  return written (real, fd, data, size, offset);
}

ssize_t
pwrite64 (int fd, const void *data, size_t size, off64_t offset)
{
  REAL (pwrite64);
  return written (real, fd, data, size, offset);
}

ssize_t
write (int fd, const void *data, size_t size)
{
  REAL (write);

  if (!inode_of (fd))
    return real (fd, data, size);
  int code = fails (DISK_CALL_WRITE);
  if (code > 0)
    {
      errno = code;
      return -1;
    }
  off64_t offset = lseek64 (fd, 0, fcntl (fd, F_GETFL) & O_APPEND ? SEEK_END : SEEK_CUR);
  ssize_t done = real (fd, data, code == DISK_SHORT && size > 1 ? size / 2 : size);
  note_write (fd, data, done, offset);
  return done;
}

typedef ssize_t (*PreadFunc) (int fd, void *data, size_t size, off64_t offset);

static ssize_t
got (PreadFunc real, int fd, void *data, size_t size, off64_t offset)
{
  int code = inode_of (fd) ? fails (DISK_CALL_READ) : 0;

  if (code > 0)
    {
      errno = code;
      return -1;
    }
  return real (fd, data, code == DISK_SHORT ? size / 2 : size, offset);
}

ssize_t
pread (int fd, void *data, size_t size, off_t offset)
{
  REAL (pread);
  return got (real, fd, data, size, offset);
}

ssize_t
pread64 (int fd, void *data, size_t size, off64_t offset)
{
  REAL (pread64);
  return got (real, fd, data, size, offset);
}

ssize_t
read (int fd, void *data, size_t size)
{
  REAL (read);
  int code = inode_of (fd) ? fails (DISK_CALL_READ) : 0;

  if (code > 0)
    {
      errno = code;
      return -1;
    }
  return real (fd, data, code == DISK_SHORT ? size / 2 : size);
}

static int
synced (int (*real) (int fd), int fd)
{
  guint inode = inode_of (fd);

  if (!inode)
    return real (fd);
  FAIL_IF (DISK_CALL_SYNC);
  if (inode == A_FOLDER)
    note (DISK_SYNC_FOLDER, NO_FILE, disk.folder_of_fd[fd]);
  else
    note (DISK_SYNC, inode, NULL);
  return real (fd);
}

int
fsync (int fd)
{
  REAL (fsync);
  return synced (real, fd);
}

int
fdatasync (int fd)
{
  REAL (fdatasync);
  return synced (real, fd);
}

int
ftruncate64 (int fd, off64_t size)
{
  REAL (ftruncate64);

  if (inode_of (fd))
    {
      FAIL_IF (DISK_CALL_WRITE);
      note (DISK_SIZE, inode_of (fd), NULL)->offset = size;
    }
  return real (fd, size);
}

int
ftruncate (int fd, off_t size)
{
  return ftruncate64 (fd, size);
}

int
unlink (const char *path)
{
  REAL (unlink);
  const char *inner = within (path);

  if (!inner)
    return real (path);
  FAIL_IF (DISK_CALL_REMOVE);
  int status = real (path);
  if (status == 0)
    {
      note (DISK_REMOVE, NO_FILE, inner);
      g_hash_table_remove (disk.inodes, inner);
    }
  return status;
}

int
rmdir (const char *path)
{
  REAL (rmdir);
  const char *inner = within (path);

  if (!inner)
    return real (path);
  FAIL_IF (DISK_CALL_REMOVE);
  int status = real (path);
  if (status == 0)
    note (DISK_REMOVE, NO_FILE, inner);
  return status;
}

static int
renamed (const char *from, const char *to, int status)
{
  const char *source = within (from), *target = within (to);

  /* A folder, or a file from or to elsewhere: see disk.h. */
  if (status != 0 || !source || !target || !inode_at (source))
    return status;
  DiskEvent *event = note (DISK_RENAME, inode_at (source), source);
  event->to = g_strdup (target);
  g_hash_table_insert (disk.inodes, g_strdup (target), GUINT_TO_POINTER (event->inode));
  g_hash_table_remove (disk.inodes, source);
  return status;
}

int
rename (const char *from, const char *to)
{
  REAL (rename);

  if (within (from) || within (to))
    FAIL_IF (DISK_CALL_RENAME);
  return renamed (from, to, real (from, to));
}

int
renameat2 (int from_folder, const char *from, int to_folder, const char *to, unsigned flags)
{
  REAL (renameat2);

  if (within (from) || within (to))
    FAIL_IF (DISK_CALL_RENAME);
  return renamed (from, to, real (from_folder, from, to_folder, to, flags));
}

int
link (const char *from, const char *to)
{
  REAL (link);
  const char *source = within (from), *target = within (to);

  if (!source && !target)
    return real (from, to);
  FAIL_IF (DISK_CALL_RENAME);
  int status = real (from, to);
  if (status == 0 && source && target)
    {
      guint inode = inode_at (source);
      g_hash_table_insert (disk.inodes, g_strdup (target), GUINT_TO_POINTER (inode));
      note (DISK_NAME, inode, target);
    }
  return status;
}

int
mkdir (const char *path, mode_t mode)
{
  REAL (mkdir);
  const char *inner = within (path);

  if (!inner)
    return real (path, mode);
  FAIL_IF (DISK_CALL_WRITE);
  int status = real (path, mode);
  if (status == 0)
    note (DISK_FOLDER, NO_FILE, inner);
  return status;
}

/* SQLite locks by fcntl; its third argument is a pointer or a number, of one width here. */
int
fcntl64 (int fd, int command, ...)
{
  REAL (fcntl64);
  va_list arguments;

  va_start (arguments, command);
  void *argument = va_arg (arguments, void *);
  va_end (arguments);
  if (inode_of (fd) && (command == F_SETLK || command == F_SETLKW || command == F_GETLK))
    FAIL_IF (DISK_CALL_LOCK);
  return real (fd, command, argument);
}

/* --- watching --------------------------------------------------------------------------- */

static int
by_text (gconstpointer a, gconstpointer b)
{
  return strcmp (*(char *const *) a, *(char *const *) b);
}

static void
list_into (const char *folder, const char *inner, GPtrArray *list)
{
  g_autofree char *path = g_build_filename (folder, inner, NULL);
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  const char *name;

  while (dir && (name = g_dir_read_name (dir)))
    g_ptr_array_add (names, *inner ? g_build_filename (inner, name, NULL) : g_strdup (name));
  g_ptr_array_sort (names, by_text);
  for (guint i = 0; i < names->len; i++)
    {
      g_autofree char *whole = g_build_filename (folder, names->pdata[i], NULL);
      gboolean is_folder = g_file_test (whole, G_FILE_TEST_IS_DIR);
      g_ptr_array_add (list, g_strconcat (names->pdata[i], is_folder ? "/" : "", NULL));
      if (is_folder)
        list_into (folder, names->pdata[i], list);
    }
}

GPtrArray *
disk_list (const char *folder)
{
  GPtrArray *list = g_ptr_array_new_with_free_func (g_free);

  list_into (folder, "", list);
  return list;
}

/* Those opened before the watching began. */
static void
know_open_files (void)
{
  for (int fd = 0; fd < N_FDS; fd++)
    {
      g_autofree char *name = g_strdup_printf ("/proc/self/fd/%d", fd);
      g_autofree char *path = g_file_read_link (name, NULL);
      const char *inner = within (path);
      disk.inode_of_fd[fd] = NO_FILE;
      g_clear_pointer (&disk.folder_of_fd[fd], g_free);
      if (inner)
        know_fd (fd, inner);
    }
}

void
disk_watch (const char *folder)
{
  g_autoptr (GPtrArray) files = disk_list (folder);

  disk_unwatch ();
  disk.events = g_ptr_array_new_with_free_func ((GDestroyNotify) disk_event_free);
  disk.inodes = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  disk.last_inode = 0;
  for (guint i = 0; i < files->len; i++)
    if (!g_str_has_suffix (files->pdata[i], "/"))
      new_inode (files->pdata[i]);
  disk.folder = g_strdup (folder);
  know_open_files ();
}

void
disk_unwatch (void)
{
  g_clear_pointer (&disk.folder, g_free);
  g_clear_pointer (&disk.events, g_ptr_array_unref);
  g_clear_pointer (&disk.inodes, g_hash_table_unref);
  memset (disk.inode_of_fd, 0, sizeof disk.inode_of_fd);
}

GPtrArray *
disk_steal_events (void)
{
  GPtrArray *events = disk.events;

  disk.events = g_ptr_array_new_with_free_func ((GDestroyNotify) disk_event_free);
  return events;
}

void
disk_mark (guint steps)
{
  note (DISK_MARK, NO_FILE, NULL)->offset = steps;
}
