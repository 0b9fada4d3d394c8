#include "model/farm/farm_watch.h"

#include <gio/gio.h>
#include <glib/gi18n-lib.h>
#include <sys/stat.h>

#include "model/farm/changeset.h"
#include "model/farm/farm_private.h"
#include "model/farm/query.h"

#define PATIENCE 1000               /* ms to wait for a lock, unless the farm is told otherwise */
#define WAIT_STEP 5                 /* ms between two tries */
#define READ_MOST (1024 * 1024)     /* bytes of a changeset: a longer one is taken for all kinds */
#define HELD_FOR G_TIME_SPAN_SECOND /* what was waited for in vain is not waited for again */

/* --- locks ---------------------------------------------------------------------- */

/* Not again by every question of a page: one waits, the others fail at once until the farm
 * is looked at again. SQLite forbids using the connection in here. */
static int
wait_cb (void *data, int times)
{
  BedFarmWatch *watch = data;
  gint64 now = g_get_monotonic_time ();

  if (watch->trying)
    return 0;
  if (watch->given_up && now - watch->given_up < HELD_FOR)
    return 0;
  if ((guint) times * WAIT_STEP >= watch->patience)
    {
      watch->given_up = now;
      return 0;
    }
  g_usleep (WAIT_STEP * 1000);
  return 1;
}

#define NEWEST "SELECT max (id) FROM change"

/* FALSE when another holds the file. */
static gboolean
read_version (BedFarm *self, gint64 *version)
{
  sqlite3_stmt *stmt = bed_farm_statement (self, "PRAGMA data_version", NULL);
  gboolean read = stmt && bed_farm_step (self, stmt) == SQLITE_ROW;

  if (read)
    *version = sqlite3_column_int64 (stmt, 0);
  if (stmt)
    sqlite3_reset (stmt);
  return read;
}

/* --- the file ----------------------------------------------------------------------- */

/* A sync program puts a file of its own there, a person moves ours: what SQLite then wrote
 * would go to a file that nobody finds any more. */
static gboolean
look_at_place (BedFarm *self)
{
  BedFarmWatch *watch = bed_farm_get_watch (self);
  const char *path = bed_farm_get_path (self), *why = NULL;
  g_autofree char *text = NULL;
  struct stat info;

  if (watch->inode == 0)
    return TRUE; /* a new farm is built beside its name */
  if (stat (path, &info) != 0)
    why = _ ("%s was moved or removed. Nothing more is written; open the farm again from where "
             "it is now.");
  else if (info.st_dev != watch->device || info.st_ino != watch->inode)
    why = _ ("Another file was put in the place of %s. Nothing more is written; open the farm "
             "again to go on with that one.");
  text = why ? g_strdup_printf (why, path) : NULL;
  if (g_strcmp0 (text, watch->gone_why) != 0)
    {
      g_free (watch->gone_why);
      watch->gone_why = g_steal_pointer (&text);
    }
  return why == NULL;
}

/* --- what others did ------------------------------------------------------------------ */

/* The kinds of every change since the newest one the views were told of; all kinds when the
 * history does not say. Moves @seen. */
static guint64
find_unseen (BedFarm *self, gint64 *seen)
{
  guint64 kinds = 0;
  sqlite3_stmt *stmt = bed_farm_statement (
      self,
      "SELECT id, CASE WHEN length (changeset) < ?2 THEN changeset END FROM change"
      " WHERE id > ?1 ORDER BY id",
      NULL);

  if (!stmt)
    return G_MAXUINT64;
  sqlite3_bind_int64 (stmt, 1, *seen);
  sqlite3_bind_int64 (stmt, 2, READ_MOST);
  while (bed_farm_step (self, stmt) == SQLITE_ROW)
    {
      BedChangeset changeset
          = { (void *) sqlite3_column_blob (stmt, 1), sqlite3_column_bytes (stmt, 1) };
      guint64 touched = bed_changeset_kinds (&changeset);

      *seen = sqlite3_column_int64 (stmt, 0);
      kinds |= touched ? touched : G_MAXUINT64;
    }
  sqlite3_reset (stmt);
  return kinds;
}

/* Within a reading: whether another connection wrote, and what. */
static void
look_at_version (BedFarm *self)
{
  BedFarmWatch *watch = bed_farm_get_watch (self);
  gint64 version;

  if (!read_version (self, &version) || version == watch->version)
    return;
  guint64 kinds = find_unseen (self, &watch->seen);
  watch->version = version;
  watch->untold |= kinds ? kinds : G_MAXUINT64;
  /* A file written over in place by an older one. */
  if (!bed_query_one (self, NEWEST, 0, &watch->seen, NULL))
    watch->version = 0; /* looked for again */
}

static void
say_state (BedFarm *self)
{
  BedFarmWatch *watch = bed_farm_get_watch (self);
  gboolean held = bed_farm_is_held (self), gone = watch->gone_why != NULL;

  if (held == watch->said_held && gone == watch->said_gone)
    return;
  watch->said_held = held;
  watch->said_gone = gone;
  bed_farm_emit_state_changed (self);
}

/* --- for the room ---------------------------------------------------------------------- */

void
bed_farm_watch_begin (BedFarm *self)
{
  BedFarmWatch *watch = bed_farm_get_watch (self);
  struct stat info = { 0 };

  watch->patience = PATIENCE;
  sqlite3_busy_handler (bed_farm_get_db (self), wait_cb, watch);
  if (stat (bed_farm_get_path (self), &info) == 0)
    {
      watch->device = info.st_dev;
      watch->inode = info.st_ino;
    }
  bed_statements_keep (bed_farm_get_statements (self), "ROLLBACK");
  bed_statements_keep (bed_farm_get_statements (self), "COMMIT");
  read_version (self, &watch->version);
  if (!bed_query_one (self, NEWEST, 0, &watch->seen, NULL))
    watch->version = 0; /* looked for at the next look */
  bed_farm_raise_ids (self, watch->seen);
}

/* Prepared at the opening: when memory is out there is none to prepare it. */
static void
end_transaction (BedFarm *self, const char *how)
{
  sqlite3_stmt *stmt = bed_farm_statement (self, how, NULL);

  if (stmt && !sqlite3_get_autocommit (bed_farm_get_db (self)))
    sqlite3_step (stmt);
  if (stmt)
    sqlite3_reset (stmt);
  bed_farm_get_watch (self)->stuck = !sqlite3_get_autocommit (bed_farm_get_db (self));
}

static void
stop_reading (BedFarm *self)
{
  BedFarmWatch *watch = bed_farm_get_watch (self);

  if (watch->in_read)
    end_transaction (self, "COMMIT");
  watch->in_read = FALSE;
}

/* What it met, or NULL. */
static GError *
end_innermost (BedFarm *self)
{
  BedFarmWatch *watch = bed_farm_get_watch (self);
  GError *met = g_ptr_array_steal_index (watch->readings, watch->readings->len - 1);

  if (watch->readings->len == 0)
    stop_reading (self);
  /* Read in this very reading, they are no trouble of it any more. */
  return met || !watch->no_settings ? met : g_error_copy (watch->no_settings);
}

gboolean
bed_farm_check_writable (BedFarm *self, GError **error)
{
  look_at_place (self);
  const char *why = bed_farm_get_read_only_why (self);

  if (!why)
    return TRUE;
  return bed_farm_refuse (error, BED_FARM_ERROR_READ_ONLY, "%s", why);
}

static gboolean
begin (BedFarm *self, const char *how, GError **error)
{
  BedFarmWatch *watch = bed_farm_get_watch (self);

  stop_reading (self);
  if (watch->stuck)
    end_transaction (self, "ROLLBACK");
  if (!bed_farm_check_writable (self, error)
      || !bed_db_exec (bed_farm_get_db (self), how, _ ("beginning the change"), error))
    return FALSE;
  bed_farm_forget_trouble (self);
  watch->writing = TRUE;
  /* From here on nobody else commits: what is found stays so until the end. */
  gint64 newest, seen = watch->seen;
  if (!bed_query_one (self, NEWEST, 0, &newest, error))
    {
      bed_farm_give_up_writing (self);
      return FALSE;
    }
  watch->unseen = newest > seen ? find_unseen (self, &seen) : 0;
  bed_farm_raise_ids (self, newest);
  return TRUE;
}

gboolean
bed_farm_begin_writing (BedFarm *self, GError **error)
{
  return begin (self, "BEGIN IMMEDIATE", error);
}

gboolean
bed_farm_begin_trying (BedFarm *self, GError **error)
{
  bed_farm_get_watch (self)->trying = TRUE;
  if (begin (self, "BEGIN", error))
    return TRUE;
  bed_farm_get_watch (self)->trying = FALSE;
  return FALSE;
}

gboolean
bed_farm_end_writing (BedFarm *self, gint64 change, guint64 kinds, GError **error)
{
  BedFarmWatch *watch = bed_farm_get_watch (self);

  if (!bed_farm_check_writable (self, error) || !bed_farm_check_trouble (self, error)
      || !bed_db_exec (bed_farm_get_db (self), "COMMIT", _ ("writing the change"), error))
    return FALSE;
  watch->writing = FALSE;
  gint64 newest;
  if (watch->unseen && bed_query_one (self, NEWEST, 0, &newest, NULL))
    watch->seen = newest;
  if (change)
    watch->seen = change;
  watch->untold |= watch->given_up ? G_MAXUINT64 : kinds | watch->unseen;
  watch->given_up = 0;
  watch->unseen = 0;
  return TRUE;
}

void
bed_farm_give_up_writing (BedFarm *self)
{
  end_transaction (self, "ROLLBACK");
  bed_farm_get_watch (self)->writing = FALSE;
  bed_farm_get_watch (self)->trying = FALSE;
  bed_farm_get_watch (self)->unseen = 0;
}

void
bed_farm_tell (BedFarm *self)
{
  BedFarmWatch *watch = bed_farm_get_watch (self);

  if (!watch->untold || !bed_farm_begin_reading (self))
    return;
  guint64 kinds = watch->untold;
  watch->untold = 0;
  bed_farm_emit_changed (self, kinds);
  /* Each view has said itself what it could not read. */
  G_GNUC_UNUSED g_autoptr (GError) met = end_innermost (self);
}

gboolean
bed_farm_is_unseen (BedFarm *self, BedKind kind)
{
  return (bed_farm_get_watch (self)->unseen & BED_KIND_BIT (kind)) != 0;
}

gboolean
bed_farm_check_seen (BedFarm *self, GError **error)
{
  BedFarmWatch *watch = bed_farm_get_watch (self);

  if (!watch->unseen && !watch->untold)
    return TRUE;
  g_autoptr (BedQuery) q
      = bed_query_new (self, "SELECT sentence, role, who FROM change ORDER BY id DESC LIMIT 1");
  if (!bed_query_next (q) && !bed_query_finish (q, error))
    return FALSE;
  const char *role = bed_query_text (q, 1);
  /* Translators: the sentence of a change; who made it. */
  const char *format
      = g_strcmp0 (role, "undo") == 0
            ? _ ("Meanwhile “%s” was undone elsewhere, by %s. Nothing was taken back here; look "
                 "and ask again.")
            : _ ("Meanwhile “%s” was done elsewhere, by %s. Nothing was taken back here; look "
                 "and ask again.");
  const char *sentence = bed_query_text (q, 0), *who = bed_query_text (q, 2);
  g_autofree char *text = g_strdup_printf (format, sentence ? sentence : "", who ? who : "");
  return bed_farm_refuse (error, BED_FARM_ERROR_CONFLICT, "%s", text);
}

/* --- public ------------------------------------------------------------------------------ */

gboolean
bed_farm_is_file (BedFarm *self, const char *path)
{
  g_return_val_if_fail (BED_IS_FARM (self) && path != NULL, FALSE);
  BedFarmWatch *watch = bed_farm_get_watch (self);
  g_autoptr (GFile) mine = g_file_new_for_path (bed_farm_get_path (self));
  g_autoptr (GFile) other = g_file_new_for_path (path);
  struct stat info;

  if (watch->inode == 0)
    return FALSE; /* in memory */
  return g_file_equal (mine, other)
         || (stat (path, &info) == 0 && info.st_dev == watch->device
             && info.st_ino == watch->inode);
}

void
bed_farm_set_patience (BedFarm *self, guint ms)
{
  g_return_if_fail (BED_IS_FARM (self));
  bed_farm_get_watch (self)->patience = ms;
}

gboolean
bed_farm_is_held (BedFarm *self)
{
  g_return_val_if_fail (BED_IS_FARM (self), FALSE);
  return bed_farm_get_watch (self)->given_up != 0;
}

gboolean
bed_farm_begin_reading (BedFarm *self)
{
  g_return_val_if_fail (BED_IS_FARM (self), FALSE);
  BedFarmWatch *watch = bed_farm_get_watch (self);
  sqlite3 *db = bed_farm_get_db (self);

  /* Within a transaction already: of a write, or of a reading round this one. */
  gboolean outermost = watch->readings->len == 0 && sqlite3_get_autocommit (db);
  g_ptr_array_add (watch->readings, NULL);
  if (!outermost)
    return TRUE;
  gint64 version;
  watch->in_read = sqlite3_exec (db, "BEGIN", NULL, NULL, NULL) == SQLITE_OK;
  if (!watch->in_read)
    bed_farm_note_trouble (self);
  else if (read_version (self, &version))
    return TRUE;
  g_autoptr (GError) error = end_innermost (self);
  if (g_error_matches (error, BED_FARM_ERROR, BED_FARM_ERROR_BUSY))
    return FALSE;
  g_ptr_array_add (watch->readings, g_steal_pointer (&error));
  return TRUE;
}

gboolean
bed_farm_end_reading (BedFarm *self, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (self) && bed_farm_get_watch (self)->readings->len > 0, TRUE);
  GError *met = end_innermost (self);

  if (met)
    g_propagate_error (error, met);
  return met == NULL;
}

void
bed_farm_ask_again (BedFarm *self)
{
  g_return_if_fail (BED_IS_FARM (self));
  bed_farm_get_watch (self)->untold = G_MAXUINT64;
  bed_farm_tell (self);
}

void
bed_farm_look_again (BedFarm *self)
{
  g_return_if_fail (BED_IS_FARM (self));
  BedFarmWatch *watch = bed_farm_get_watch (self);
  gint64 before = watch->given_up;

  /* Others wait for it. */
  if (watch->stuck)
    end_transaction (self, "ROLLBACK");
  if (watch->readings->len > 0 || !sqlite3_get_autocommit (bed_farm_get_db (self)))
    return;
  look_at_place (self);
  watch->given_up = g_get_monotonic_time (); /* asked without waiting */
  if (bed_farm_begin_reading (self))
    {
      watch->given_up = 0;
      /* Questions asked while it was held have failed: all of them anew. */
      if (before)
        watch->untold = G_MAXUINT64;
      look_at_version (self);
      bed_farm_tell (self);
      g_autoptr (GError) met = end_innermost (self);
      if (met)
        watch->version = 0; /* what others did is looked for again */
    }
  say_state (self);
}
