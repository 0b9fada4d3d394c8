#pragma once

#include "app/form.h"

G_BEGIN_DECLS

/* The paper sheets: which fields stand together, kind by kind. NULL for a kind
 * that is not typed in a form of its own. Static. */
const BedFormSpec *bed_forms_get_spec (BedKind kind);

/* A new record as it most likely will be: today's date, the pattern of the last batch. */
BedRecord *bed_forms_new_record (BedFarm *farm, BedKind kind);

G_END_DECLS
