#pragma once

#include "model/farm/record.h"
#include "science/drill.h"

/* The drilling pattern of @batch (kind BATCH) on @log (kind LOG) in the millimetres of
 * science/drill.h; what a record leaves open is 0. A log without a large end is a
 * cylinder. */
void bed_pattern_read (BedRecord *batch, BedRecord *log, BedDrill *drill);

/* The spacings, hole and closing alone; the log is left 0. */
void bed_pattern_read_batch (BedRecord *batch, BedDrill *drill);

/* What holes, wax and logs take on the farm of these @settings (kind FARM), and the tool it
 * drills with: its own measures, else common practice. */
BedDrillTool bed_pattern_read_norms (BedRecord *settings, BedDrillNorms *norms);

/* The form of spawn a record names so; BED_N_SPAWN_FORMS for none and for NULL. */
BedSpawnForm bed_pattern_find_form (const char *form);

/* Whether holes are drilled in a @batch (kind BATCH): totems and wedges have none. */
gboolean bed_pattern_has_holes (BedRecord *batch);

/* How many holes that makes; 0 when the batch has no pattern or the log cannot be
 * drilled to it. */
int bed_pattern_count_holes (BedRecord *batch, BedRecord *log);
