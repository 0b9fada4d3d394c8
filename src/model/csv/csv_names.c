#include "model/csv/csv_names.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/farm/kinds.h"
#include "model/farm/names.h"
#include "model/farm/query.h"

struct _BedCsvNames
{
  BedKind kind;
  GHashTable *ids;  /* folded name -> id */
  GPtrArray *names; /* as written */
  int patience;     /* nearest names still to be looked for */
};

BedCsvNames *
bed_csv_names_new (BedFarm *farm, BedKind kind)
{
  const BedKindInfo *info = bed_kind_get_info (kind);
  g_autofree char *sql = g_strdup_printf ("SELECT id, \"%s\" FROM \"%s\"", info->key, info->name);
  g_autoptr (BedQuery) q = bed_query_new (farm, sql);
  BedCsvNames *self = g_new0 (BedCsvNames, 1);

  self->kind = kind;
  self->patience = 50;
  self->ids = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  self->names = g_ptr_array_new_with_free_func (g_free);
  while (bed_query_next (q))
    if (bed_query_text (q, 1))
      bed_csv_names_add (self, bed_query_text (q, 1), bed_query_int (q, 0));
  if (!bed_query_finish (q, NULL)) /* the import does not go through: see csv_import.c */
    g_hash_table_remove_all (self->ids);
  return self;
}

void
bed_csv_names_free (BedCsvNames *self)
{
  if (!self)
    return;
  g_hash_table_unref (self->ids);
  g_ptr_array_unref (self->names);
  g_free (self);
}

gint64
bed_csv_names_find (BedCsvNames *self, const char *name)
{
  g_autofree char *folded = g_ascii_strdown (name, -1);
  gint64 *id = g_hash_table_lookup (self->ids, folded);

  return id ? *id : 0;
}

void
bed_csv_names_add (BedCsvNames *self, const char *name, gint64 id)
{
  g_hash_table_replace (self->ids, g_ascii_strdown (name, -1), g_memdup2 (&id, sizeof id));
  g_ptr_array_add (self->names, g_strdup (name));
}

const char *
bed_csv_names_nearest (BedCsvNames *self, const char *name)
{
  return self->patience-- > 0
             ? bed_near_choose (name, (const char *const *) self->names->pdata, self->names->len, 3)
             : NULL;
}

char *
bed_csv_names_dup_missing (BedCsvNames *self, const char *name)
{
  const char *singular = _ (bed_kind_get_info (self->kind)->singular);
  const char *nearest = bed_csv_names_nearest (self, name);

  if (nearest)
    /* Translators: kind of record, name typed, likely name. */
    return g_strdup_printf (_ ("There is no %s “%s”. Did you mean “%s”?"), singular, name, nearest);
  if (self->names->len == 0 || self->names->len > 6)
    return g_strdup_printf (_ ("There is no %s “%s”. Add it first."), singular, name);
  g_autoptr (GString) list = g_string_new (NULL);
  for (guint i = 0; i < self->names->len; i++)
    g_string_append_printf (list, "%s%s", i ? ", " : "", (char *) self->names->pdata[i]);
  /* Translators: kind of record, name typed, list of names. */
  return g_strdup_printf (_ ("There is no %s “%s”. There are: %s."), singular, name, list->str);
}
