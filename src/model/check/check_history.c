/* The history: that it says of itself what it may, and that every change can be taken back. */
#include "model/check/check_private.h"

#include <glib/gi18n-lib.h>

#include "model/farm/changeset.h"
#include "model/farm/farm_private.h"
#include "model/farm/kind_words.h"
#include "model/farm/kinds.h"
#include "model/farm/query.h"

/* Each finds the changes (id, sentence) that are wrong so. u: the change it undoes or that
 * undoes it. */
static const struct
{
  const char *sql;
  const char *message; /* {1} for the change */
} faults[] = {
  { "SELECT c.id, c.sentence FROM change c WHERE c.role = 'do' AND c.undoes IS NOT NULL",
    N_ ("says that it takes another back, and is itself work") },
  { "SELECT c.id, c.sentence FROM change c LEFT JOIN change u ON u.id = c.undoes"
    " WHERE c.role = 'undo' AND (u.id IS NULL OR u.id >= c.id OR u.role <> 'do')",
    N_ ("takes back what is no earlier work") },
  { "SELECT c.id, c.sentence FROM change c LEFT JOIN change u ON u.id = c.undoes"
    " WHERE c.role = 'redo' AND (u.id IS NULL OR u.id >= c.id OR u.role <> 'undo'"
    " OR u.undone_by IS NOT c.id)",
    N_ ("does again what no undo took back") },
  { "SELECT c.id, c.sentence FROM change c LEFT JOIN change u ON u.id = c.undone_by"
    " WHERE c.undone_by IS NOT NULL"
    " AND (u.id IS NULL OR u.undoes IS NOT c.id OR u.id <= c.id"
    "      OR u.role <> CASE c.role WHEN 'do' THEN 'undo' WHEN 'undo' THEN 'redo' END"
    "      OR c.role = 'redo')",
    N_ ("is marked as taken back by a change that did not") },
  { "SELECT c.id, c.sentence FROM change c JOIN change u ON u.id = c.undoes"
    " WHERE c.role = 'undo' AND c.undone_by IS NULL AND u.undone_by IS NOT c.id",
    N_ ("takes back work that is not marked as taken back") },
};

static void
add (BedChecking *self, gint64 id, const char *sentence, const char *what)
{
  g_autofree char *valid = g_utf8_make_valid (sentence ? sentence : "", -1);

  bed_checking_add (self, BED_CHECK_HISTORY, BED_FAULT_ERROR,
                    /* Translators: number of a change, its sentence, what is wrong with it. */
                    _ ("Change %lld (%s) %s."), (long long) id, valid, what);
}

static gboolean
check_form (BedChecking *self, GError **error)
{
  for (gsize i = 0; i < G_N_ELEMENTS (faults); i++)
    {
      g_autoptr (BedQuery) q = bed_query_new (self->farm, faults[i].sql);
      while (bed_query_next (q))
        add (self, bed_query_int (q, 0), bed_query_text (q, 1), _ (faults[i].message));
      if (!bed_query_finish (q, error))
        return FALSE;
    }
  return TRUE;
}

/* --- walking back ------------------------------------------------------------------- */

static int
refuse_cb (void *data, int what, sqlite3_changeset_iter *iter)
{
  return SQLITE_CHANGESET_ABORT;
}

static gboolean
take_back (sqlite3 *db, sqlite3_stmt *row)
{
  g_auto (BedChangeset) inverted = { 0 };
  BedChangeset stored = { (void *) sqlite3_column_blob (row, 1), sqlite3_column_bytes (row, 1) };

  return bed_changeset_is_sound (&stored)
         && sqlite3changeset_invert (stored.size, stored.data, &inverted.size, &inverted.data)
                == SQLITE_OK
         && sqlite3changeset_apply (db, inverted.size, inverted.data, NULL, refuse_cb, NULL)
                == SQLITE_OK;
}

gboolean
bed_check_walk_back (sqlite3 *db, GCancellable *cancellable, BedWalk *walk, GError **error)
{
  sqlite3_stmt *row = NULL;
  gboolean cancelled = FALSE;
  int status = sqlite3_prepare_v2 (db, "SELECT id, changeset FROM change ORDER BY id DESC", -1,
                                   &row, NULL);

  *walk = (BedWalk){ 0 };
  if (status == SQLITE_OK)
    status = SQLITE_ROW;
  while (status == SQLITE_ROW && !walk->failed && !cancelled
         && (status = sqlite3_step (row)) == SQLITE_ROW)
    {
      cancelled = g_cancellable_set_error_if_cancelled (cancellable, error);
      if (!cancelled && !take_back (db, row))
        walk->failed = sqlite3_column_int64 (row, 0);
      else
        walk->taken_back += !cancelled;
    }
  if (status != SQLITE_ROW && status != SQLITE_DONE)
    bed_db_set_error (db, error, _ ("reading the history"), _ ("the copy of the farm"));
  sqlite3_finalize (row);
  return !cancelled && (status == SQLITE_ROW || status == SQLITE_DONE);
}

sqlite3 *
bed_check_copy (sqlite3 *db, const char *path, GError **error)
{
  sqlite3 *copy = NULL;
  sqlite3_backup *backup = NULL;

  if (sqlite3_open_v2 ("", &copy, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, NULL) == SQLITE_OK)
    backup = sqlite3_backup_init (copy, "main", db, "main");
  int status = backup ? sqlite3_backup_step (backup, -1) : SQLITE_ERROR;
  sqlite3_backup_finish (backup);
  sqlite3_db_config (copy, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
  sqlite3_db_config (copy, SQLITE_DBCONFIG_ENABLE_FKEY, 1, NULL);
  if (status == SQLITE_DONE
      && bed_db_exec (copy, "PRAGMA journal_mode = MEMORY; PRAGMA synchronous = OFF",
                      _ ("trying the history"), error))
    return copy;
  if (status != SQLITE_DONE)
    bed_db_set_error (copy, error, _ ("copying the farm"), path);
  sqlite3_close_v2 (copy);
  return NULL;
}

static void
check_left (BedChecking *self, sqlite3 *copy)
{
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    {
      const BedKindInfo *info = bed_kind_get_info (kind);
      g_autofree char *sql = g_strdup_printf ("SELECT count (*) FROM \"%s\"", info->name);
      gint64 left = bed_db_ask (copy, sql);
      g_autofree char *count = bed_kind_dup_count (kind, MAX (left, 0));
      if (left > 0)
        bed_checking_add (self, BED_CHECK_HISTORY, BED_FAULT_WARNING,
                          /* Translators: "24 logs". */
                          _ ("Written by another program, without a change of the history: %s."),
                          count);
    }
}

static gboolean
add_failed (BedChecking *self, gint64 change, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (self->farm, "SELECT sentence FROM change WHERE id = ?1");

  bed_query_bind_int (q, 1, change);
  add (self, change, bed_query_next (q) ? bed_query_text (q, 0) : NULL,
       _ ("cannot be taken back: it is not stored whole, or the records are not as it left them. "
          "Those before it were not tried"));
  return bed_query_finish (q, error);
}

gboolean
bed_check_history (BedChecking *self, GError **error)
{
  if (!check_form (self, error))
    return FALSE;
  sqlite3 *copy
      = bed_check_copy (bed_farm_get_db (self->farm), bed_farm_get_path (self->farm), error);
  BedWalk walk = { 0 };

  if (!copy)
    return FALSE;
  gboolean walked = bed_db_exec (copy, "BEGIN", _ ("trying the history"), error)
                    && bed_check_walk_back (copy, self->cancellable, &walk, error);
  if (walked && walk.failed)
    walked = add_failed (self, walk.failed, error);
  else if (walked)
    check_left (self, copy);
  self->checkup->looked_at[BED_CHECK_HISTORY] = walk.taken_back;
  sqlite3_close_v2 (copy);
  return walked;
}
