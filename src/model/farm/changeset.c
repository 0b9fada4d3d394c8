#include "model/farm/changeset.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/farm/farm_private.h"
#include "model/farm/kinds.h"

void
bed_changeset_clear (BedChangeset *changeset)
{
  sqlite3_free (changeset->data);
  *changeset = (BedChangeset){ NULL, 0 };
}

/* The session extension returns what went wrong; the connection remembers what came after. */
static void
set_error (BedFarm *farm, int status, GError **error, const char *doing)
{
  bed_db_set_status_error (bed_farm_get_db (farm), status, error, doing, bed_farm_get_path (farm));
}

sqlite3_session *
bed_changeset_watch (BedFarm *farm, GError **error)
{
  sqlite3_session *session = NULL;
  int status = sqlite3session_create (bed_farm_get_db (farm), "main", &session);

  for (BedKind kind = 0; status == SQLITE_OK && kind < BED_N_KINDS; kind++)
    status = sqlite3session_attach (session, bed_kind_get_info (kind)->name);
  if (status == SQLITE_OK)
    return session;
  if (session)
    sqlite3session_delete (session);
  set_error (farm, status, error, _ ("watching the change"));
  return NULL;
}

gboolean
bed_changeset_take (BedFarm *farm, sqlite3_session *session, BedChangeset *changeset,
                    GError **error)
{
  int status = sqlite3session_changeset (session, &changeset->size, &changeset->data);

  if (status != SQLITE_OK)
    set_error (farm, status, error, _ ("recording the change"));
  return status == SQLITE_OK;
}

gboolean
bed_changeset_invert (BedFarm *farm, const BedChangeset *changeset, BedChangeset *inverted,
                      GError **error)
{
  int status = sqlite3changeset_invert (changeset->size, changeset->data, &inverted->size,
                                        &inverted->data);

  if (status != SQLITE_OK)
    set_error (farm, status, error, _ ("turning the change round"));
  return status == SQLITE_OK;
}

/* A row that is not as it was, or a reference left hanging: stop, nothing is done. */
static int
conflict_cb (void *data, int what, sqlite3_changeset_iter *iter)
{
  gboolean *conflict = data;

  *conflict = TRUE;
  return SQLITE_CHANGESET_ABORT;
}

gboolean
bed_changeset_apply (BedFarm *farm, const BedChangeset *changeset, GError **error)
{
  gboolean conflict = FALSE;
  /* It would open a transaction of its own. */
  int status = bed_farm_is_cut_off (farm)
                   ? SQLITE_ABORT
                   : sqlite3changeset_apply (bed_farm_get_db (farm), changeset->size,
                                             changeset->data, NULL, conflict_cb, &conflict);

  if (status == SQLITE_OK)
    return TRUE;
  if (conflict)
    g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_CONFLICT,
                 _ ("That cannot be taken back: later changes rest on it. Take those back first."));
  else
    set_error (farm, status, error, _ ("taking the change back"));
  return FALSE;
}

void
bed_changeset_walk (const BedChangeset *changeset,
                    void (*visit) (const BedChangesetRow *row, gpointer data), gpointer data)
{
  BedChangesetRow row = { 0 };
  sqlite3_value *id = NULL;
  const char *table;
  int n_columns, indirect;

  if (sqlite3changeset_start (&row.iter, changeset->size, changeset->data) != SQLITE_OK)
    return;
  while (sqlite3changeset_next (row.iter) == SQLITE_ROW)
    {
      sqlite3changeset_op (row.iter, &table, &n_columns, &row.operation, &indirect);
      if (row.operation == SQLITE_INSERT)
        sqlite3changeset_new (row.iter, 0, &id);
      else
        sqlite3changeset_old (row.iter, 0, &id);
      row.kind = bed_kind_from_name (table);
      row.id = id ? sqlite3_value_int64 (id) : 0;
      if (row.kind < BED_N_KINDS)
        visit (&row, data);
    }
  sqlite3changeset_finalize (row.iter);
}

static void
set_value (BedRecord *record, const BedField *field, sqlite3_value *value)
{
  const char *text = sqlite3_value_type (value) == SQLITE_TEXT
                         ? (const char *) sqlite3_value_text (value)
                         : NULL;

  if (text && g_utf8_validate (text, -1, NULL))
    bed_record_set_text (record, field->name, text);
  else if (sqlite3_value_type (value) == SQLITE_INTEGER)
    bed_record_set_int (record, field->name, sqlite3_value_int64 (value));
  else
    bed_record_unset (record, field->name);
}

void
bed_changeset_row_read (const BedChangesetRow *row, BedChangesetHalf half, BedRecord *record)
{
  for (guint c = 1; c <= bed_kind_get_info (row->kind)->n_fields; c++)
    {
      sqlite3_value *value = NULL;

      /* An older schema had fewer columns. */
      if (half (row->iter, (int) c, &value) == SQLITE_OK && value)
        set_value (record, bed_schema_get_field (row->kind, c), value);
    }
}

static void
add_kind (const BedChangesetRow *row, gpointer kinds)
{
  *(guint64 *) kinds |= BED_KIND_BIT (row->kind);
}

guint64
bed_changeset_kinds (const BedChangeset *changeset)
{
  guint64 kinds = 0;

  bed_changeset_walk (changeset, add_kind, &kinds);
  return kinds;
}

gint64
bed_changeset_record (BedFarm *farm, const BedChangeEntry *entry, const BedChangeset *changeset,
                      GError **error)
{
  sqlite3_stmt *stmt
      = bed_farm_statement (farm,
                            "INSERT INTO change (id, at, who, sentence, role, changeset, undoes)"
                            " VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
                            error);
  gint64 id = bed_farm_next_id (farm);

  if (!stmt)
    return 0;
  sqlite3_bind_int64 (stmt, 1, id);
  bed_farm_bind_text (farm, stmt, 2, bed_farm_get_now (farm));
  bed_farm_bind_text (farm, stmt, 3, bed_farm_get_who (farm));
  bed_farm_bind_text (farm, stmt, 4, entry->sentence);
  bed_farm_bind_text (farm, stmt, 5, entry->role);
  sqlite3_bind_blob (stmt, 6, changeset->data ? changeset->data : "", changeset->size,
                     SQLITE_STATIC);
  if (entry->undoes)
    sqlite3_bind_int64 (stmt, 7, entry->undoes);
  int status = bed_farm_step (farm, stmt);
  if (status != SQLITE_DONE)
    bed_farm_set_error (farm, error, _ ("recording the change"));
  sqlite3_reset (stmt);
  sqlite3_clear_bindings (stmt);
  return status == SQLITE_DONE ? id : 0;
}
