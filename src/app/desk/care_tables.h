#pragma once

#include "app/widgets/table.h"

/* What is written down about logs: beside a batch, and of the whole farm. */
extern const BedTableSpec bed_care_weighings;
extern const BedTableSpec bed_care_checks;
extern const BedTableSpec bed_care_discs;
extern const BedTableSpec bed_care_waterings;
