/* A record is removed with all that hangs on it: the table of fields says what refers to what. */
#include "model/farm/edit_private.h"

#include <glib/gi18n-lib.h>

#include "model/farm/kind_words.h"
#include "model/farm/kinds.h"
#include "model/farm/query.h"
#include "model/farm/say.h"
#include "model/farm/value.h"
#include "science/language.h"

typedef struct
{
  BedKind kind;
  gint64 id;
} Named;

typedef struct
{
  BedFarm *farm;
  GArray *gone; /* Named; what hangs on those from ->asked on is not known yet */
  guint asked;
  GHashTable *ids;   /* of ->gone */
  GHashTable *loose; /* by id, the record that stays without what goes */
  guint count[BED_N_KINDS];
} Removal;

static void
add (Removal *self, BedKind kind, gint64 id)
{
  Named named = { kind, id };

  if (!g_hash_table_add (self->ids, g_memdup2 (&id, sizeof id)))
    return;
  g_array_append_val (self->gone, named);
  self->count[kind]++;
}

/* What was picked of a log in a stack is still of the log when the stack goes. */
static gboolean
is_held_else (Removal *self, BedRecord *record, const BedField *but)
{
  const BedKindInfo *info = bed_kind_get_info (bed_record_get_kind (record));

  for (guint i = 0; i < info->n_fields; i++)
    {
      const BedField *field = &info->fields[i];
      gint64 id = field != but && field->type == BED_FIELD_REFERENCE && !field->required
                          && !field->loose
                      ? bed_record_get_int (record, field->name)
                      : 0;
      if (id && !g_hash_table_contains (self->ids, &id))
        return TRUE;
    }
  return FALSE;
}

static gboolean
meet (Removal *self, BedKind kind, const BedField *field, gint64 id, GError **error)
{
  BedRecord *record = g_hash_table_lookup (self->loose, &id);

  if (field->required)
    add (self, kind, id);
  if (g_hash_table_contains (self->ids, &id))
    return TRUE;
  if (!record && !(record = bed_farm_load (self->farm, kind, id, error)))
    return FALSE;
  if (!g_hash_table_contains (self->loose, &id))
    g_hash_table_insert (self->loose, g_memdup2 (&id, sizeof id), record);
  if (!field->loose && !is_held_else (self, record, field))
    add (self, kind, id);
  bed_record_unset (record, field->name);
  /* What was spent on a batch stays spent. */
  if (kind == BED_KIND_PURCHASE && g_strcmp0 (bed_record_get_text (record, "scope"), "batch") == 0)
    bed_record_set_text (record, "scope", "overhead");
  return TRUE;
}

static gboolean
meet_all (Removal *self, BedKind kind, const BedField *field, gint64 id, GError **error)
{
  g_autofree char *sql = g_strdup_printf ("SELECT id FROM \"%s\" WHERE \"%s\" = ?1 ORDER BY id",
                                          bed_kind_get_info (kind)->name, field->name);
  g_autoptr (BedQuery) q = bed_query_new (self->farm, sql);

  bed_query_bind_int (q, 1, id);
  while (bed_query_next (q))
    if (!meet (self, kind, field, bed_query_int (q, 0), error))
      return FALSE;
  return bed_query_finish (q, error);
}

static gboolean
ask (Removal *self, Named named, GError **error)
{
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    {
      const BedKindInfo *info = bed_kind_get_info (kind);

      for (guint i = 0; i < info->n_fields; i++)
        if (info->fields[i].type == BED_FIELD_REFERENCE && info->fields[i].refers == named.kind
            && !meet_all (self, kind, &info->fields[i], named.id, error))
          return FALSE;
    }
  return TRUE;
}

/* --- the sentence -------------------------------------------------------------------- */

static char *
dup_one (BedFarm *farm, BedKind kind, gint64 id, GError **error)
{
  g_autoptr (BedRecord) record = bed_farm_load (farm, kind, id, error);

  return record ? bed_value_dup_words (farm, record) : NULL;
}

/* "24 logs, 12 soaked logs and 3 picks"; NULL for none. */
static char *
dup_rest (Removal *self, BedKind kind, guint n_named)
{
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (g_free);

  self->count[kind] -= n_named;
  for (BedKind k = 0; k < BED_N_KINDS; k++)
    if (self->count[k])
      g_ptr_array_add (parts, bed_kind_dup_count (k, self->count[k]));
  if (parts->len == 0)
    return NULL;
  g_autofree char *last = g_ptr_array_steal_index (parts, parts->len - 1);
  g_ptr_array_add (parts, NULL);
  g_autofree char *first = g_strjoinv (bed_comma (), (char **) parts->pdata);
  /* Translators: of a list, all but the last, and the last. */
  return *first ? g_strdup_printf (_ ("%s and %s"), first, last) : g_steal_pointer (&last);
}

static char *
dup_sentence (Removal *self, BedKind kind, const gint64 *ids, guint n, GError **error)
{
  g_autofree char *what = n == 1 ? dup_one (self->farm, kind, ids[0], error)
                                 : bed_kind_dup_count (kind, n);
  g_autofree char *rest = NULL;

  if (!what)
    return NULL;
  rest = dup_rest (self, kind, n);
  /* Translators: "batch 26A", then "24 logs and 12 picks". */
  return rest ? g_strdup_printf (_ ("Removed %s with its %s"), what, rest)
              : g_strdup_printf (_ ("Removed %s"), what);
}

/* --- public -------------------------------------------------------------------------- */

static void
put (Removal *self, BedEdit *edit)
{
  GHashTableIter iter;
  gpointer id, record;

  g_hash_table_iter_init (&iter, self->loose);
  while (g_hash_table_iter_next (&iter, &id, &record))
    if (!g_hash_table_contains (self->ids, id))
      bed_edit_put (edit, record);
  for (guint i = 0; i < self->gone->len; i++)
    {
      Named named = g_array_index (self->gone, Named, i);
      bed_edit_remove (edit, named.kind, named.id);
    }
}

char *
bed_edit_remove_with (BedEdit *edit, BedKind kind, GArray *ids, GError **error)
{
  g_return_val_if_fail (edit != NULL && kind < BED_N_KINDS && ids->len > 0, NULL);
  Removal self = { .farm = edit->farm };
  g_autoptr (GArray) gone = self.gone = g_array_new (FALSE, FALSE, sizeof (Named));
  g_autoptr (GHashTable) by_id G_GNUC_UNUSED = self.ids
      = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  g_autoptr (GHashTable) loose G_GNUC_UNUSED = self.loose
      = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_object_unref);

  for (guint i = 0; i < ids->len; i++)
    add (&self, kind, g_array_index (ids, gint64, i));
  while (self.asked < gone->len)
    if (!ask (&self, g_array_index (gone, Named, self.asked++), error))
      return NULL;
  char *sentence = dup_sentence (&self, kind, (gint64 *) (gpointer) ids->data, ids->len, error);
  if (sentence)
    put (&self, edit);
  return sentence;
}
