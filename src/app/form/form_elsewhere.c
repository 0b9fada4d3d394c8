#include "app/form/form_elsewhere.h"

#include <glib/gi18n.h>

#include "app/form/form_rows.h"
#include "model/farm/kinds.h"
#include "model/farm/value.h"

static BedRecord *
load_stored (BedFarm *farm, BedRecord *draft)
{
  return bed_farm_load (farm, bed_record_get_kind (draft), bed_record_get_id (draft), NULL);
}

void
bed_form_elsewhere_merge (BedFarm *farm, BedRecord *draft, GPtrArray *rows)
{
  g_autoptr (BedRecord) before = bed_record_copy (draft);
  g_autoptr (BedRecord) stored = load_stored (farm, draft);

  if (!stored)
    return; /* the check says that it was removed */
  bed_record_merge (draft, stored);
  for (guint i = 0; i < rows->len; i++)
    {
      BedFieldRow *row = rows->pdata[i];
      if (bed_field_row_get_draft (row) == draft
          && bed_record_differs (draft, before, bed_field_row_get_field (row)->name))
        bed_field_row_set_draft (row, draft);
    }
}

void
bed_form_elsewhere_show (BedFarm *farm, BedFieldRow *row, const BedFault *fault)
{
  g_autoptr (BedRecord) stored = load_stored (farm, fault->record);
  g_autofree char *value = NULL;
  g_autofree char *text = NULL;

  if (!stored)
    return;
  if (bed_record_has (stored, fault->field))
    value = bed_value_dup_sentence (farm, stored, fault->field);
  text = value ? g_strdup_printf (_ ("Changed elsewhere to %s"), value)
               : g_strdup (_ ("Emptied elsewhere"));
  bed_field_row_set_torn (row, text);
}

void
bed_form_elsewhere_clear (GPtrArray *rows, GPtrArray *faults)
{
  for (guint r = 0; r < rows->len; r++)
    {
      gboolean torn = FALSE;

      for (guint i = 0; i < faults->len && !torn; i++)
        torn = ((BedFault *) faults->pdata[i])->code == BED_FARM_ERROR_CONFLICT
               && bed_form_rows_find_fault (rows, faults->pdata[i]) == rows->pdata[r];
      if (!torn)
        bed_field_row_set_torn (rows->pdata[r], NULL);
    }
}

void
bed_form_elsewhere_settle (BedFarm *farm, BedFieldRow *row, BedFieldRowSide side)
{
  BedRecord *draft = bed_field_row_get_draft (row);
  const char *field = bed_field_row_get_field (row)->name;
  g_autoptr (BedRecord) stored = load_stored (farm, draft);

  if (!stored)
    return;
  bed_record_rebase (draft, stored, field);
  if (side == BED_FIELD_ROW_MINE)
    return;
  bed_record_take_field (draft, stored, field);
  bed_field_row_set_draft (row, draft);
}
