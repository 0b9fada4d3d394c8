#include "model/farm/reverse_rules.h"

#include "model/farm/farm_private.h"
#include "model/farm/kinds.h"
#include "model/farm/rules.h"

typedef struct
{
  BedKind kind;
  gint64 id;
  BedRecord *before; /* NULL: it is not there */
} Touched;

static void
touched_free (Touched *touched)
{
  g_clear_object (&touched->before);
  g_free (touched);
}

static void
add_row (BedFarm *farm, sqlite3_changeset_iter *iter, GPtrArray *list)
{
  const char *table;
  int n_columns, operation, indirect;
  sqlite3_value *id = NULL;

  sqlite3changeset_op (iter, &table, &n_columns, &operation, &indirect);
  BedKind kind = bed_kind_from_name (table);
  /* What goes away breaks no rule but a reference, and applying looks for those. */
  if (kind >= BED_N_KINDS || operation == SQLITE_DELETE)
    return;
  if (operation == SQLITE_INSERT)
    sqlite3changeset_new (iter, 0, &id);
  else
    sqlite3changeset_old (iter, 0, &id);
  Touched *touched = g_new0 (Touched, 1);
  touched->kind = kind;
  touched->id = id ? sqlite3_value_int64 (id) : 0;
  if (operation == SQLITE_UPDATE)
    touched->before = bed_farm_load (farm, kind, touched->id, NULL);
  g_ptr_array_add (list, touched);
}

static void
check_one (BedFarm *farm, const Touched *touched, GPtrArray *faults)
{
  g_autoptr (BedRecord) record = bed_farm_load (farm, touched->kind, touched->id, NULL);
  guint from = faults->len;

  if (!record)
    return;
  bed_rules_check_fields (farm, record, faults);
  bed_rules_spare (touched->before, record, BED_SPARE_FIELDS, faults, from);
  bed_rules_check_unique (farm, record, faults);
  from = faults->len;
  bed_rules_check_written (farm, record, NULL, faults);
  bed_rules_spare (touched->before, record, BED_SPARE_WORDS, faults, from);
}

GPtrArray *
bed_reverse_rules_read (BedFarm *farm, const BedChangeset *changeset)
{
  GPtrArray *list = g_ptr_array_new_with_free_func ((GDestroyNotify) touched_free);
  sqlite3_changeset_iter *iter = NULL;

  if (sqlite3changeset_start (&iter, changeset->size, changeset->data) != SQLITE_OK)
    return list;
  while (sqlite3changeset_next (iter) == SQLITE_ROW)
    add_row (farm, iter, list);
  sqlite3changeset_finalize (iter);
  return list;
}

gboolean
bed_reverse_rules_check (BedFarm *farm, GPtrArray *touched, GError **error)
{
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) bed_fault_free);

  for (guint i = 0; i < touched->len; i++)
    {
      check_one (farm, touched->pdata[i], faults);
      for (guint f = 0; f < faults->len; f++)
        {
          BedFault *fault = faults->pdata[f];
          if (fault->severity != BED_FAULT_ERROR)
            continue;
          g_set_error_literal (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID, fault->message);
          return FALSE;
        }
      g_ptr_array_set_size (faults, 0);
    }
  return TRUE;
}
