#include "replay.h"

#include <glib/gstdio.h>
#include <string.h>

enum
{
  SECTOR = 512, /* bytes a disk writes whole or not at all */
};

typedef struct
{
  GByteArray *synced;
  GPtrArray *waiting; /* DiskEvent, borrowed: WRITE, SIZE */
} Inode;

struct _Replay
{
  GPtrArray *inodes;  /* Inode; [0] is none */
  GHashTable *synced; /* path -> inode, G_MAXUINT for a folder */
  GPtrArray *waiting; /* DiskEvent, borrowed: NAME, FOLDER, REMOVE, RENAME */
};

static void
inode_free (Inode *inode)
{
  g_byte_array_unref (inode->synced);
  g_ptr_array_unref (inode->waiting);
  g_free (inode);
}

static Inode *
inode_at (Replay *self, guint number)
{
  while (self->inodes->len <= number)
    {
      Inode *inode = g_new0 (Inode, 1);
      inode->synced = g_byte_array_new ();
      inode->waiting = g_ptr_array_new ();
      g_ptr_array_add (self->inodes, inode);
    }
  return self->inodes->pdata[number];
}

/* --- contents ------------------------------------------------------------------------ */

static void
set_size (GByteArray *bytes, gsize size)
{
  gsize before = bytes->len;

  g_byte_array_set_size (bytes, size);
  if (size > before)
    memset (bytes->data + before, 0, size - before);
}

static void
put (GByteArray *bytes, guint64 offset, const guint8 *data, gsize size)
{
  if (bytes->len < offset + size)
    set_size (bytes, offset + size);
  memcpy (bytes->data + offset, data, size);
}

static void
apply (GByteArray *bytes, const DiskEvent *event)
{
  if (event->op == DISK_SIZE)
    set_size (bytes, event->offset);
  else
    put (bytes, event->offset, event->data, event->size);
}

/* Sector by sector: all up to one, or each by chance. The file may have grown before what it
 * grew for was there, and then anything may stand in it. */
static void
tear (GByteArray *bytes, const DiskEvent *event, GRand *chance)
{
  gsize before = bytes->len, end = event->offset + event->size;
  gboolean in_order = g_rand_boolean (chance);
  double share = g_rand_double (chance);

  if (before < end && g_rand_boolean (chance))
    {
      gboolean stale = g_rand_boolean (chance);
      set_size (bytes, end);
      for (gsize i = before; stale && i < end; i++)
        bytes->data[i] = g_rand_int (chance);
    }
  for (gsize at = event->offset; at < end;)
    {
      gsize next = MIN (end, (at / SECTOR + 1) * SECTOR);
      gboolean kept = in_order ? at < event->offset + share * event->size
                               : g_rand_double (chance) < share;
      if (kept)
        put (bytes, at, event->data + (at - event->offset), next - at);
      at = next;
    }
}

static void
apply_by_chance (GByteArray *bytes, const DiskEvent *event, GRand *chance)
{
  int what = g_rand_int_range (chance, 0, 3);

  if (what == 0)
    return;
  if (what == 1 || event->op == DISK_SIZE)
    apply (bytes, event);
  else
    tear (bytes, event, chance);
}

static GBytes *
contents (Inode *inode, const ReplayCut *cut)
{
  GByteArray *bytes = g_byte_array_sized_new (inode->synced->len);

  g_byte_array_append (bytes, inode->synced->data, inode->synced->len);
  for (guint i = 0; cut->contents != REPLAY_NONE && i < inode->waiting->len; i++)
    if (cut->contents == REPLAY_ALL)
      apply (bytes, inode->waiting->pdata[i]);
    else
      apply_by_chance (bytes, inode->waiting->pdata[i], cut->chance);
  return g_byte_array_free_to_bytes (bytes);
}

/* --- names ------------------------------------------------------------------------------ */

static void
rename_in (GHashTable *names, const DiskEvent *event)
{
  const char *path = event->path, *to = event->to;

  switch (event->op)
    {
    case DISK_NAME:
      g_hash_table_insert (names, g_strdup (path), GUINT_TO_POINTER (event->inode));
      break;
    case DISK_FOLDER:
      g_hash_table_insert (names, g_strdup (path), GUINT_TO_POINTER (G_MAXUINT));
      break;
    case DISK_RENAME:
      g_hash_table_insert (names, g_strdup (to), GUINT_TO_POINTER (event->inode));
      G_GNUC_FALLTHROUGH;
    case DISK_REMOVE:
      g_hash_table_remove (names, path);
      break;
    case DISK_WRITE:
    case DISK_SIZE:
    case DISK_SYNC:
    case DISK_SYNC_FOLDER:
    case DISK_MARK:
    default:
      g_assert_not_reached ();
    }
}

static gboolean
lies_in (const char *path, const char *folder)
{
  g_autofree char *parent = g_path_get_dirname (path);

  return strcmp (strcmp (parent, ".") == 0 ? "" : parent, folder) == 0;
}

static void
sync_names (Replay *self, const char *folder)
{
  for (guint i = 0; i < self->waiting->len;)
    if (lies_in (((DiskEvent *) self->waiting->pdata[i])->path, folder))
      {
        rename_in (self->synced, self->waiting->pdata[i]);
        g_ptr_array_remove_index (self->waiting, i);
      }
    else
      i++;
}

static GHashTable *
names_left (Replay *self, const ReplayCut *cut)
{
  GHashTable *names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  GHashTableIter iter;
  gpointer path, inode;

  g_hash_table_iter_init (&iter, self->synced);
  while (g_hash_table_iter_next (&iter, &path, &inode))
    g_hash_table_insert (names, g_strdup (path), inode);
  for (guint i = 0; cut->names != REPLAY_NONE && i < self->waiting->len; i++)
    if (cut->names == REPLAY_ALL || g_rand_boolean (cut->chance))
      rename_in (names, self->waiting->pdata[i]);
  return names;
}

/* In a folder that is not there is nothing. */
static gboolean
has_place (GHashTable *names, const char *path)
{
  g_autofree char *parent = g_path_get_dirname (path);

  return strcmp (parent, ".") == 0
         || (GPOINTER_TO_UINT (g_hash_table_lookup (names, parent)) == G_MAXUINT
             && has_place (names, parent));
}

/* --- public -------------------------------------------------------------------------------- */

Replay *
replay_new (const char *folder)
{
  Replay *self = g_new0 (Replay, 1);
  g_autoptr (GPtrArray) files = disk_list (folder);
  guint number = 0;

  self->inodes = g_ptr_array_new_with_free_func ((GDestroyNotify) inode_free);
  self->synced = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->waiting = g_ptr_array_new ();
  for (guint i = 0; i < files->len; i++)
    {
      char *name = files->pdata[i];
      g_autofree char *path = g_build_filename (folder, name, NULL);
      char *data;
      gsize size;
      if (g_str_has_suffix (name, "/"))
        {
          g_hash_table_insert (self->synced, g_strndup (name, strlen (name) - 1),
                               GUINT_TO_POINTER (G_MAXUINT));
          continue;
        }
      g_assert_true (g_file_get_contents (path, &data, &size, NULL));
      g_byte_array_append (inode_at (self, ++number)->synced, (guint8 *) data, size);
      g_hash_table_insert (self->synced, g_strdup (name), GUINT_TO_POINTER (number));
      g_free (data);
    }
  return self;
}

void
replay_free (Replay *self)
{
  g_ptr_array_unref (self->inodes);
  g_hash_table_unref (self->synced);
  g_ptr_array_unref (self->waiting);
  g_free (self);
}

void
replay_do (Replay *self, const DiskEvent *event)
{
  Inode *inode = inode_at (self, event->inode);

  switch (event->op)
    {
    case DISK_WRITE:
    case DISK_SIZE:
      g_ptr_array_add (inode->waiting, (gpointer) event);
      break;
    case DISK_SYNC:
      for (guint i = 0; i < inode->waiting->len; i++)
        apply (inode->synced, inode->waiting->pdata[i]);
      g_ptr_array_set_size (inode->waiting, 0);
      break;
    case DISK_SYNC_FOLDER:
      sync_names (self, event->path);
      break;
    case DISK_NAME:
    case DISK_FOLDER:
    case DISK_REMOVE:
    case DISK_RENAME:
      g_ptr_array_add (self->waiting, (gpointer) event);
      break;
    case DISK_MARK:
    default:
      break;
    }
}

GHashTable *
replay_cut (Replay *self, const ReplayCut *cut)
{
  GHashTable *files
      = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) g_bytes_unref);
  g_autoptr (GHashTable) names = names_left (self, cut);
  g_autoptr (GList) paths = g_list_sort (g_hash_table_get_keys (names), (GCompareFunc) strcmp);

  for (GList *l = paths; l; l = l->next)
    {
      guint number = GPOINTER_TO_UINT (g_hash_table_lookup (names, l->data));
      if (!has_place (names, l->data))
        continue;
      if (number == G_MAXUINT)
        {
          g_autofree char *folder = g_strconcat (l->data, "/", NULL);
          g_hash_table_insert (files, g_steal_pointer (&folder), g_bytes_new (NULL, 0));
        }
      else
        g_hash_table_insert (files, g_strdup (l->data), contents (inode_at (self, number), cut));
    }
  return files;
}

void
replay_lay_out (GHashTable *files, const char *folder)
{
  GHashTableIter iter;
  gpointer name, bytes;

  g_mkdir_with_parents (folder, 0700);
  g_hash_table_iter_init (&iter, files);
  while (g_hash_table_iter_next (&iter, &name, &bytes))
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      g_autofree char *parent = g_path_get_dirname (path);
      gsize size;
      const char *data = g_bytes_get_data (bytes, &size);
      g_mkdir_with_parents (g_str_has_suffix (name, "/") ? path : parent, 0700);
      if (!g_str_has_suffix (name, "/"))
        g_assert_true (g_file_set_contents_full (path, data ? data : "", size,
                                                 G_FILE_SET_CONTENTS_NONE, 0600, NULL));
    }
}

char *
replay_digest (GHashTable *files)
{
  g_autoptr (GList) names = g_list_sort (g_hash_table_get_keys (files), (GCompareFunc) strcmp);
  g_autoptr (GChecksum) sum = g_checksum_new (G_CHECKSUM_SHA1);

  for (GList *l = names; l; l = l->next)
    {
      gsize size;
      const guint8 *data = g_bytes_get_data (g_hash_table_lookup (files, l->data), &size);
      g_autofree char *head = g_strdup_printf ("%s %zu\n", (char *) l->data, size);
      g_checksum_update (sum, (guchar *) head, strlen (head));
      if (size)
        g_checksum_update (sum, data, size);
    }
  return g_strdup (g_checksum_get_string (sum));
}
