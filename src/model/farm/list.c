#include "model/farm/list.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/farm/farm_private.h"

/* --- row ---------------------------------------------------------------- */

struct _BedRow
{
  GObject parent_instance;
  gint64 id;
  GHashTable *columns; /* shared by the list's rows: name -> index + 1 */
  sqlite3_value **values;
  guint n_values;
};

enum
{
  ROW_CHANGED,
  N_ROW_SIGNALS,
};

static guint row_signals[N_ROW_SIGNALS];

G_DEFINE_FINAL_TYPE (BedRow, bed_row, G_TYPE_OBJECT)

static void
clear_values (BedRow *self)
{
  for (guint i = 0; i < self->n_values; i++)
    sqlite3_value_free (self->values[i]);
  g_clear_pointer (&self->values, g_free);
  self->n_values = 0;
}

static void
bed_row_finalize (GObject *object)
{
  BedRow *self = BED_ROW (object);

  clear_values (self);
  g_clear_pointer (&self->columns, g_hash_table_unref);
  G_OBJECT_CLASS (bed_row_parent_class)->finalize (object);
}

static void
bed_row_class_init (BedRowClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = bed_row_finalize;

  row_signals[ROW_CHANGED] = g_signal_new ("changed", BED_TYPE_ROW, G_SIGNAL_RUN_LAST, 0, NULL,
                                           NULL, NULL, G_TYPE_NONE, 0);
}

static void
bed_row_init (BedRow *self)
{
}

static sqlite3_value *
column (BedRow *self, const char *name)
{
  guint index = GPOINTER_TO_UINT (g_hash_table_lookup (self->columns, name));

  if (g_hash_table_size (self->columns) == 0)
    return NULL; /* nothing could be asked yet: another program holds the farm */
  if (index == 0)
    {
      g_critical ("the list has no column %s", name);
      return NULL;
    }
  return index <= self->n_values ? self->values[index - 1] : NULL;
}

gboolean
bed_row_has (BedRow *self, const char *name)
{
  g_return_val_if_fail (BED_IS_ROW (self), FALSE);
  sqlite3_value *value = column (self, name);

  return value && sqlite3_value_type (value) != SQLITE_NULL;
}

const char *
bed_row_text (BedRow *self, const char *name)
{
  g_return_val_if_fail (BED_IS_ROW (self), NULL);
  sqlite3_value *value = column (self, name);

  const char *text = value ? (const char *) sqlite3_value_text (value) : NULL;
  if (!text || g_utf8_validate (text, -1, NULL))
    return text;
  /* Of a strange file: see bed_query_text(). Callers hold it as long as the row. */
  if (!g_object_get_data (G_OBJECT (self), name))
    g_object_set_data_full (G_OBJECT (self), name, g_utf8_make_valid (text, -1), g_free);
  return g_object_get_data (G_OBJECT (self), name);
}

gint64
bed_row_int (BedRow *self, const char *name)
{
  g_return_val_if_fail (BED_IS_ROW (self), 0);
  sqlite3_value *value = column (self, name);

  return value ? sqlite3_value_int64 (value) : 0;
}

/* --- list ---------------------------------------------------------------- */

enum
{
  TROUBLE,
  N_LIST_SIGNALS,
};

static guint list_signals[N_LIST_SIGNALS];

struct _BedList
{
  GObject parent_instance;
  BedFarm *farm;
  char *ids_sql;
  char *row_sql;
  char *argument;
  char *second;
  guint64 kinds;
  GArray *ids;         /* gint64 */
  GHashTable *live;    /* gint64 id -> BedRow, weak: rows somebody still shows */
  BedRow *last;        /* GTK lets each row go once before it shows it */
  GHashTable *columns; /* see BedRow */
  GError *trouble;     /* see bed_list_get_trouble() */
};

static void list_model_iface_init (GListModelInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (BedList, bed_list, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (G_TYPE_LIST_MODEL, list_model_iface_init))

/* The first is kept until all was asked anew. */
static void
take_trouble (BedList *self, GError *error)
{
  if (self->trouble || g_error_matches (error, BED_FARM_ERROR, BED_FARM_ERROR_BUSY))
    {
      g_error_free (error);
      return;
    }
  self->trouble = error;
  g_signal_emit (self, list_signals[TROUBLE], 0);
}

/* NULL, and trouble, when the question cannot be asked. */
static sqlite3_stmt *
get_statement (BedList *self, const char *sql)
{
  g_autoptr (GError) error = NULL;
  sqlite3_stmt *stmt = bed_farm_statement (self->farm, sql, &error);

  /* Only a mistake in the program, or a damaged file. */
  if (!stmt && sqlite3_errcode (bed_farm_get_db (self->farm)) == SQLITE_ERROR)
    g_warning ("%s", error->message);
  if (!stmt)
    take_trouble (self, g_steal_pointer (&error));
  return stmt;
}

/* Ends the question: trouble, when it did not end well. */
static void
reset (BedList *self, sqlite3_stmt *stmt, int status)
{
  g_autoptr (GError) error = NULL;

  if (status != SQLITE_ROW && status != SQLITE_DONE)
    bed_farm_set_error (self->farm, &error, _ ("reading the farm"));
  sqlite3_reset (stmt);
  if (error)
    take_trouble (self, g_steal_pointer (&error));
}

/* NULL when the farm cannot be asked now: what was there stays, and "changed" follows. */
static GArray *
ask_ids (BedList *self)
{
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  sqlite3_stmt *stmt = get_statement (self, self->ids_sql);
  int status;

  if (!stmt)
    return NULL;
  if (self->argument)
    sqlite3_bind_text (stmt, 1, self->argument, -1, SQLITE_TRANSIENT);
  if (self->second)
    sqlite3_bind_text (stmt, 2, self->second, -1, SQLITE_TRANSIENT);
  while ((status = bed_farm_step (self->farm, stmt)) == SQLITE_ROW)
    {
      gint64 id = sqlite3_column_int64 (stmt, 0);
      g_array_append_val (ids, id);
    }
  reset (self, stmt, status);
  return status == SQLITE_DONE ? g_steal_pointer (&ids) : NULL;
}

static void
learn_columns (BedList *self, sqlite3_stmt *stmt)
{
  for (int i = 0; i < sqlite3_column_count (stmt); i++)
    g_hash_table_insert (self->columns, g_strdup (sqlite3_column_name (stmt, i)),
                         GUINT_TO_POINTER (i + 1));
}

/* A row that cannot be asked for now keeps what it shows. */
static void
fetch (BedList *self, BedRow *row)
{
  sqlite3_stmt *stmt = get_statement (self, self->row_sql);

  if (!stmt)
    return;
  if (g_hash_table_size (self->columns) == 0)
    learn_columns (self, stmt);
  sqlite3_bind_int64 (stmt, 1, row->id);
  int status = bed_farm_step (self->farm, stmt);
  if (status == SQLITE_ROW || status == SQLITE_DONE)
    clear_values (row);
  if (status == SQLITE_ROW)
    {
      row->n_values = sqlite3_column_count (stmt);
      row->values = g_new (sqlite3_value *, row->n_values);
      for (guint i = 0; i < row->n_values; i++)
        row->values[i] = sqlite3_value_dup (sqlite3_column_value (stmt, i));
    }
  reset (self, stmt, status);
}

static void
row_gone_cb (gpointer data, GObject *where_it_was)
{
  BedList *self = data;
  GHashTableIter iter;
  gpointer row;

  g_hash_table_iter_init (&iter, self->live);
  while (g_hash_table_iter_next (&iter, NULL, &row))
    if (row == where_it_was)
      {
        g_hash_table_iter_remove (&iter);
        return;
      }
}

/* The differing middle of two id arrays, spliced: rows before and after it stay. */
static void
splice (BedList *self, GArray *fresh)
{
  g_autoptr (GArray) old = self->ids;
  const gint64 *a = (gint64 *) old->data, *b = (gint64 *) fresh->data;
  guint head = 0, tail = 0;

  while (head < old->len && head < fresh->len && a[head] == b[head])
    head++;
  while (tail < old->len - head && tail < fresh->len - head
         && a[old->len - 1 - tail] == b[fresh->len - 1 - tail])
    tail++;
  self->ids = fresh;
  if (old->len - head - tail || fresh->len - head - tail)
    g_list_model_items_changed (G_LIST_MODEL (self), head, old->len - head - tail,
                                fresh->len - head - tail);
}

static void
farm_changed_cb (BedFarm *farm, guint64 kinds, BedList *self)
{
  if (self->kinds && !(kinds & self->kinds))
    return;
  g_clear_object (&self->last);
  g_autoptr (GList) rows = g_hash_table_get_values (self->live);
  g_autoptr (GError) before = g_steal_pointer (&self->trouble);
  /* A handler may let a row go: hold them all meanwhile. */
  for (GList *l = rows; l; l = l->next)
    g_object_ref (l->data);
  GArray *fresh = ask_ids (self);
  if (fresh)
    splice (self, fresh);
  for (GList *l = rows; l; l = l->next)
    {
      fetch (self, l->data);
      g_signal_emit (l->data, row_signals[ROW_CHANGED], 0);
      g_object_unref (l->data);
    }
  if (before && !self->trouble)
    g_signal_emit (self, list_signals[TROUBLE], 0);
}

static GType
get_item_type (GListModel *model)
{
  return BED_TYPE_ROW;
}

static guint
get_n_items (GListModel *model)
{
  return BED_LIST (model)->ids->len;
}

static gpointer
get_item (GListModel *model, guint position)
{
  BedList *self = BED_LIST (model);

  if (position >= self->ids->len)
    return NULL;
  gint64 id = g_array_index (self->ids, gint64, position);
  BedRow *row = g_hash_table_lookup (self->live, &id);
  if (row)
    return g_object_ref (row);
  row = g_object_new (BED_TYPE_ROW, NULL);
  row->id = id;
  row->columns = g_hash_table_ref (self->columns);
  fetch (self, row);
  g_hash_table_insert (self->live, &row->id, row);
  g_object_weak_ref (G_OBJECT (row), row_gone_cb, self);
  g_set_object (&self->last, row);
  return row;
}

static void
list_model_iface_init (GListModelInterface *iface)
{
  iface->get_item_type = get_item_type;
  iface->get_n_items = get_n_items;
  iface->get_item = get_item;
}

static void
bed_list_dispose (GObject *object)
{
  BedList *self = BED_LIST (object);
  GHashTableIter iter;
  gpointer row;

  if (self->farm)
    g_signal_handlers_disconnect_by_data (self->farm, self);
  g_clear_object (&self->last);
  g_hash_table_iter_init (&iter, self->live);
  while (g_hash_table_iter_next (&iter, NULL, &row))
    g_object_weak_unref (row, row_gone_cb, self);
  g_hash_table_remove_all (self->live);
  g_clear_object (&self->farm);
  G_OBJECT_CLASS (bed_list_parent_class)->dispose (object);
}

static void
bed_list_finalize (GObject *object)
{
  BedList *self = BED_LIST (object);

  g_array_unref (self->ids);
  g_hash_table_unref (self->live);
  g_hash_table_unref (self->columns);
  g_clear_error (&self->trouble);
  g_free (self->ids_sql);
  g_free (self->row_sql);
  g_free (self->argument);
  g_free (self->second);
  G_OBJECT_CLASS (bed_list_parent_class)->finalize (object);
}

static void
bed_list_class_init (BedListClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = bed_list_dispose;
  G_OBJECT_CLASS (klass)->finalize = bed_list_finalize;

  list_signals[TROUBLE] = g_signal_new ("trouble", BED_TYPE_LIST, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                        NULL, G_TYPE_NONE, 0);
}

static void
bed_list_init (BedList *self)
{
  self->ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  self->live = g_hash_table_new (g_int64_hash, g_int64_equal);
  self->columns = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
}

BedList *
bed_list_new (BedFarm *farm, const BedListSpec *spec)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && spec != NULL && spec->source != NULL, NULL);
  BedList *self = g_object_new (BED_TYPE_LIST, NULL);

  self->farm = g_object_ref (farm);
  self->kinds = spec->kinds;
  self->argument = g_strdup (spec->argument);
  self->second = g_strdup (spec->second);
  self->ids_sql = g_strdup_printf ("SELECT id FROM \"%s\"%s%s%s%s", spec->source,
                                   spec->where ? " WHERE " : "", spec->where ? spec->where : "",
                                   spec->order ? " ORDER BY " : "", spec->order ? spec->order : "");
  self->row_sql = g_strdup_printf ("SELECT * FROM \"%s\" WHERE id = ?1", spec->source);
  GArray *ids = ask_ids (self);
  if (ids)
    {
      g_array_unref (self->ids);
      self->ids = ids;
    }
  g_signal_connect (farm, "changed", G_CALLBACK (farm_changed_cb), self);
  return self;
}

void
bed_list_show_again (BedList *self)
{
  g_return_if_fail (BED_IS_LIST (self));
  g_autoptr (GList) rows = g_hash_table_get_values (self->live);

  /* A handler may let a row go: hold them all meanwhile. */
  for (GList *l = rows; l; l = l->next)
    g_object_ref (l->data);
  for (GList *l = rows; l; l = l->next)
    {
      g_signal_emit (l->data, row_signals[ROW_CHANGED], 0);
      g_object_unref (l->data);
    }
}

int
bed_list_find (BedList *self, gint64 id)
{
  g_return_val_if_fail (BED_IS_LIST (self), -1);

  for (guint i = 0; i < self->ids->len; i++)
    if (g_array_index (self->ids, gint64, i) == id)
      return i;
  return -1;
}

gint64
bed_list_get_id (BedList *self, guint position)
{
  g_return_val_if_fail (BED_IS_LIST (self) && position < self->ids->len, 0);
  return g_array_index (self->ids, gint64, position);
}

const GError *
bed_list_get_trouble (BedList *self)
{
  g_return_val_if_fail (BED_IS_LIST (self), NULL);
  return self->trouble;
}
