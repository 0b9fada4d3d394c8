#pragma once

#include "model/farm/farm.h"

/* What the looks at the log ends of every batch say, kept until something is written: lists ask
 * it of every log. */
typedef struct _BedRunLooks BedRunLooks;

BedRunLooks *bed_run_looks_new (BedFarm *farm);
void bed_run_looks_free (void *self);

/* bed_run_dup_full(), kept by @self until the next question. */
const char *bed_run_looks_find (BedRunLooks *self, gint64 batch);
