#pragma once

#include "app/widgets/part.h"

/* Who spawn, bolts and the rest were bought from. A supplier is a name in other records: it is
 * changed in all of them at once, and is gone when none has it. */
#define BED_TYPE_SUPPLIER_NAMES (bed_supplier_names_get_type ())
G_DECLARE_FINAL_TYPE (BedSupplierNames, bed_supplier_names, BED, SUPPLIER_NAMES, BedPart)

GtkWidget *bed_supplier_names_new (BedFarm *farm);
