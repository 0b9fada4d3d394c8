#pragma once

#include <glib.h>

#include "model/sheet/rows.h"

/* Reads every sheet of it to its end, or to an error that says something; what is read is text in
 * UTF-8 within the bounds. Takes @bytes. How many rows. */
guint fuzz_rows_read (GBytes *bytes, const BedReading *reading);
