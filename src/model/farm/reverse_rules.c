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

typedef struct
{
  BedFarm *farm;
  GPtrArray *list; /* Touched */
} Reading;

static void
add_row (const BedChangesetRow *row, gpointer data)
{
  const Reading *reading = data;

  /* What goes away breaks no rule but a reference, and applying looks for those. */
  if (row->operation == SQLITE_DELETE)
    return;
  Touched *touched = g_new0 (Touched, 1);
  touched->kind = row->kind;
  touched->id = row->id;
  if (row->operation == SQLITE_UPDATE)
    touched->before = bed_farm_load (reading->farm, row->kind, row->id, NULL);
  g_ptr_array_add (reading->list, touched);
}

/* What versions before schema 3 let in, one minor unit on what was not sold, is done again as it
 * was; no new record may, and the check lists it. */
static void
spare_priced_gift (BedRecord *record, GPtrArray *faults, guint from)
{
  if (bed_record_get_kind (record) != BED_KIND_LINE || bed_record_get_int (record, "price") != 1)
    return;
  for (guint i = from; i < faults->len; i++)
    {
      BedFault *fault = faults->pdata[i];

      if (g_strcmp0 (fault->field, "price") == 0)
        fault->severity = BED_FAULT_WARNING;
    }
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
  spare_priced_gift (record, faults, from);
}

GPtrArray *
bed_reverse_rules_read (BedFarm *farm, const BedChangeset *changeset)
{
  Reading reading = { farm, g_ptr_array_new_with_free_func ((GDestroyNotify) touched_free) };

  bed_changeset_walk (changeset, add_row, &reading);
  return reading.list;
}

gboolean
bed_reverse_rules_check (BedFarm *farm, GPtrArray *touched, GError **error)
{
  g_autoptr (GPtrArray) faults = bed_faults_new ();

  for (guint i = 0; i < touched->len; i++)
    {
      check_one (farm, touched->pdata[i], faults);
      const BedFault *fault = bed_faults_find_error (faults, 0);
      if (fault)
        return bed_farm_refuse (error, BED_FARM_ERROR_INVALID, "%s", fault->message);
      g_ptr_array_set_size (faults, 0);
    }
  return TRUE;
}
