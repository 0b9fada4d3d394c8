#pragma once

#include <glib.h>

/* The disk under one folder, as the C library's calls see it: a program linked with disk.c has
 * its own open, write, sync, rename... in front of the C library's, for itself and for every
 * library it loads (SQLite, GLib). They write down what is done to the files of the watched
 * folder, and fail where they are told to. Without a watched folder they only pass calls on.
 * What goes another way (mapped memory, a stream's buffer, names from an open folder) is not
 * seen: who watches compares in the end what was written down with what is there. */

typedef enum
{
  DISK_NAME,        /* @path names @inode: created, or linked to */
  DISK_FOLDER,      /* @path is a folder now */
  DISK_WRITE,       /* @size bytes of @data at @offset of @inode */
  DISK_SIZE,        /* @inode is cut or stretched to @offset */
  DISK_SYNC,        /* @inode is on the disk */
  DISK_SYNC_FOLDER, /* the names in @path are on the disk */
  DISK_REMOVE,      /* @path is gone */
  DISK_RENAME,      /* @inode, which was @path, is @to */
  DISK_MARK,        /* @offset: that many steps had been said to be done */
} DiskOp;

typedef struct
{
  DiskOp op;
  guint inode;
  guint64 offset;
  gsize size;
  guint8 *data;
  char *path; /* within the folder; "" is the folder itself */
  char *to;
} DiskEvent;

void disk_event_free (DiskEvent *event);

/* @folder: absolute, without links in it. Inodes of the files that are there already are handed
 * out in the order of disk_watch_files(), from 1. */
void disk_watch (const char *folder);
void disk_unwatch (void);

/* The files and folders in @folder, within it, folders before what is in them; free with
 * g_ptr_array_unref(). A folder's name ends in '/'. */
GPtrArray *disk_list (const char *folder);

/* Since disk_watch(); element DiskEvent; owned by the caller. */
GPtrArray *disk_steal_events (void);
void disk_mark (guint steps);

/* --- faults ------------------------------------------------------------------ */

typedef enum
{
  DISK_CALL_OPEN = 1 << 0, /* for reading or writing, a folder too */
  DISK_CALL_READ = 1 << 1,
  DISK_CALL_WRITE = 1 << 2, /* and size, and making a file or folder */
  DISK_CALL_SYNC = 1 << 3,
  DISK_CALL_REMOVE = 1 << 4,
  DISK_CALL_RENAME = 1 << 5,
  DISK_CALL_LOCK = 1 << 6, /* fcntl */
} DiskCalls;

enum
{
  DISK_SHORT = -1, /* in place of an errno: half is written or read, then ENOSPC or the end */
  DISK_KILL = -2,  /* the process ends there, before the call */
};

typedef enum
{
  DISK_ONCE,
  DISK_FROM_THEN_ON,
} DiskLasting;

typedef struct
{
  const char *name;
  int calls; /* DiskCalls */
  int code;  /* an errno, or one of the above */
  DiskLasting lasting;
} DiskFault;

/* The @at-th of those calls, from 1, fails. NULL: none does any more. */
void disk_break (const DiskFault *fault, guint at);
/* How many calls failed since, and how many might have. */
guint disk_get_broken (void);
guint disk_get_seen (void);
