#pragma once

#include "model/farm/farm.h"
#include "print/field/field_sheet_kinds.h"

/* What is planned in the yard for @day (YYYY-MM-DD; NULL: the first anything is planned for), in
 * working order; empty when nothing is. */
BedFieldSheet *bed_field_sheet_new_plan (BedFarm *farm, const char *day, BedPaperHead *head,
                                         GError **error);
