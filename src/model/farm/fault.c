#include "model/farm/fault.h"

BedFault *
bed_fault_new (BedFaultSeverity severity, BedRecord *record, const char *field, char *message)
{
  BedFault *fault = g_new0 (BedFault, 1);

  fault->severity = severity;
  fault->code = BED_FARM_ERROR_INVALID;
  fault->record = record ? g_object_ref (record) : NULL;
  fault->field = field;
  fault->message = message;
  return fault;
}

void
bed_fault_free (BedFault *fault)
{
  g_clear_object (&fault->record);
  g_free (fault->message);
  g_free (fault);
}

GPtrArray *
bed_faults_new (void)
{
  return g_ptr_array_new_with_free_func ((GDestroyNotify) bed_fault_free);
}

const BedFault *
bed_faults_find_error (GPtrArray *faults, guint from)
{
  for (guint i = from; i < faults->len; i++)
    if (((BedFault *) faults->pdata[i])->severity == BED_FAULT_ERROR)
      return faults->pdata[i];
  return NULL;
}
