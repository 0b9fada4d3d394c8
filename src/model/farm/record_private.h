#pragma once

#include "model/farm/record.h"

/* For the model room only. */

/* An id that is the farm's own: the record stays new. */
void bed_record_give_id (BedRecord *self, gint64 id);

/* What is in the record is what is stored. */
void bed_record_set_stored (BedRecord *self);
