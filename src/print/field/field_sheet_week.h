#pragma once

#include "model/farm/farm.h"
#include "print/field/field_sheet_kinds.h"

/* A line for each thing that is due this week, with a box to tick and room for who does it. */
gboolean bed_field_sheet_add_week (BedFieldSheet *sheet, BedFarm *farm, GError **error);

/* A sheet for today for each person who worked here within a year, with what is due and room for
 * the hours; one without a name where nobody did. NULL with the farm's error. */
BedDocument *bed_field_sheet_days_new (BedFarm *farm, const char *subtitle, const BedPaper *paper,
                                       guint empty_rows, GError **error);
