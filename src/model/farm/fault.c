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
