#pragma once

#include "app/form/field_row.h"

/* A form over a record that somebody else changed meanwhile. For the form only. */

/* Takes over into @draft, and shows in its @rows, what was changed elsewhere and not here. */
void bed_form_elsewhere_merge (BedFarm *farm, BedRecord *draft, GPtrArray *rows);

/* Says at the row what its field became elsewhere, and offers both. */
void bed_form_elsewhere_show (BedFarm *farm, BedFieldRow *row, const BedFault *fault);

/* Rows that none of @faults is about are no longer torn. */
void bed_form_elsewhere_clear (GPtrArray *rows, GPtrArray *faults);

/* The choice was made: the row's draft knows what is stored, and has that or its own. */
void bed_form_elsewhere_settle (BedFarm *farm, BedFieldRow *row, BedFieldRowSide side);
