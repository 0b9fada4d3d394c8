#include "model/farm/edit_merge.h"

#include <glib/gi18n-lib.h>

#include "model/farm/kinds.h"
#include "model/farm/value.h"

static void
add_fault (GPtrArray *faults, BedRecord *record, const char *field, BedFarmError code,
           char *message)
{
  BedFault *fault = bed_fault_new (BED_FAULT_ERROR, record, field, message);

  fault->code = code;
  g_ptr_array_add (faults, fault);
}

static char *
dup_value (BedFarm *farm, BedRecord *record, const char *field)
{
  return bed_record_has (record, field) ? bed_value_dup_sentence (farm, record, field)
                                        : g_strdup (_ ("empty"));
}

static char *
dup_torn (BedFarm *farm, BedRecord *record, BedRecord *stored, const char *field)
{
  const BedField *info = bed_kind_find_field (bed_record_get_kind (record), field, NULL);
  g_autofree char *theirs = dup_value (farm, stored, field);
  g_autofree char *mine = dup_value (farm, record, field);

  /* Translators: label of a field; its value in the farm; its value as typed here. */
  return g_strdup_printf (
      _ ("%s: changed elsewhere to %s, here it is %s. Keep yours or take theirs."), _ (info->label),
      theirs, mine);
}

gboolean
bed_edit_merge (BedFarm *farm, BedRecord *record, GPtrArray *faults, GError **error)
{
  const BedKindInfo *info = bed_kind_get_info (bed_record_get_kind (record));
  g_autoptr (GError) why = NULL;
  g_autoptr (BedRecord) stored
      = bed_farm_load (farm, bed_record_get_kind (record), bed_record_get_id (record), &why);

  if (!stored && !g_error_matches (why, BED_FARM_ERROR, BED_FARM_ERROR_NOT_FOUND))
    {
      g_propagate_error (error, g_steal_pointer (&why));
      return FALSE;
    }
  if (!stored)
    add_fault (faults, record, NULL, BED_FARM_ERROR_NOT_FOUND,
               g_strdup (_ ("This was removed elsewhere since it was opened here. Save what you "
                            "typed as a new one, or cancel.")));
  else if (bed_record_merge (record, stored))
    for (guint i = 0; i < info->n_fields; i++)
      if (bed_record_is_torn (record, stored, info->fields[i].name))
        add_fault (faults, record, info->fields[i].name, BED_FARM_ERROR_CONFLICT,
                   dup_torn (farm, record, stored, info->fields[i].name));
  return TRUE;
}

void
bed_edit_add_unseen_fault (BedKind kind, GPtrArray *faults)
{
  add_fault (faults, NULL, NULL, BED_FARM_ERROR_CONFLICT,
             /* Translators: kind of record, several. */
             g_strdup_printf (_ ("Some of it was changed elsewhere a moment ago (%s). Nothing was "
                                 "removed; look at it and ask again."),
                              _ (bed_kind_get_info (kind)->plural)));
}

void
bed_edit_add_removed_fault (BedKind kind, GPtrArray *faults)
{
  add_fault (faults, NULL, NULL, BED_FARM_ERROR_NOT_FOUND,
             /* Translators: kind of record. */
             g_strdup_printf (_ ("It is not in the farm any more: it was removed elsewhere (%s)."),
                              _ (bed_kind_get_info (kind)->singular)));
}
