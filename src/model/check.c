#include "model/check.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/query.h"
#include "model/rules.h"

static void
add (GPtrArray *faults, char *message)
{
  g_ptr_array_add (faults, bed_fault_new (BED_FAULT_ERROR, NULL, NULL, message));
}

static gboolean
check_pages (BedFarm *farm, GPtrArray *faults, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (farm, "SELECT * FROM pragma_quick_check (100)");

  while (bed_query_next (q))
    if (strcmp (bed_query_text (q, 0), "ok") != 0)
      add (faults, g_strdup_printf (_ ("The file is damaged: %s."), bed_query_text (q, 0)));
  return bed_query_finish (q, error);
}

static gboolean
check_references (BedFarm *farm, GPtrArray *faults, GError **error)
{
  g_autoptr (BedQuery) q
      = bed_query_new (farm, "SELECT \"table\", rowid, parent FROM pragma_foreign_key_check");

  while (bed_query_next (q))
    add (faults,
         /* Translators: kind of record, its number, kind of record. */
         g_strdup_printf (_ ("%s %" G_GINT64_FORMAT " refers to a %s that is not there."),
                          bed_query_text (q, 0), bed_query_int (q, 1), bed_query_text (q, 2)));
  return bed_query_finish (q, error);
}

static gboolean
check_kind (BedFarm *farm, BedKind kind, GPtrArray *faults, GError **error)
{
  g_autofree char *sql
      = g_strdup_printf ("SELECT id FROM \"%s\" ORDER BY id", bed_kind_get_info (kind)->name);
  g_autoptr (BedQuery) q = bed_query_new (farm, sql);

  while (bed_query_next (q))
    {
      g_autoptr (BedRecord) record = bed_farm_load (farm, kind, bed_query_int (q, 0), error);
      if (!record)
        return FALSE;
      bed_rules_check_fields (farm, record, faults);
      bed_rules_check_unique (farm, record, faults);
      bed_rules_check_written (farm, record, faults);
    }
  return bed_query_finish (q, error);
}

GPtrArray *
bed_check_farm (BedFarm *farm, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), NULL);
  g_autoptr (GPtrArray) faults
      = g_ptr_array_new_with_free_func ((GDestroyNotify) bed_fault_free);

  if (!check_pages (farm, faults, error) || !check_references (farm, faults, error))
    return NULL;
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    if (!check_kind (farm, kind, faults, error))
      return NULL;
  bed_rules_say_once (faults);
  return g_steal_pointer (&faults);
}

char *
bed_check_dup_name (BedFarm *farm, BedRecord *record)
{
  g_return_val_if_fail (BED_IS_RECORD (record), NULL);
  const BedKindInfo *info = bed_kind_get_info (bed_record_get_kind (record));
  const char *key = info->key ? bed_record_get_text (record, info->key) : NULL;

  if (key)
    return g_strdup_printf ("%s %s", _ (info->singular), key);
  for (guint i = 0; i < info->n_fields; i++)
    if (info->fields[i].type == BED_FIELD_DATE && bed_record_has (record, info->fields[i].name))
      /* Translators: kind of record, date. */
      return g_strdup_printf (_ ("%s of %s"), _ (info->singular),
                              bed_record_get_text (record, info->fields[i].name));
  for (guint i = 0; i < info->n_fields; i++)
    if (info->fields[i].type == BED_FIELD_REFERENCE)
      {
        g_autofree char *name = bed_farm_dup_name (
            farm, info->fields[i].refers, bed_record_get_int (record, info->fields[i].name));
        if (name)
          return g_strdup_printf (_ ("%s of %s"), _ (info->singular), name);
      }
  return g_strdup (_ (info->singular));
}
