#pragma once

#include <stdint.h>

#include "model/notebook/notebook.h"

/* Somebody's sheet of any bytes; NULL where there is none, which a sentence says. */
BedNotebook *fuzz_notebook_new (BedFarm *farm, const uint8_t *data, size_t size);

/* Answers all questions, by @seed. Each has an answer that can be given, and a place in the sheet.
 */
void fuzz_answer_all (BedNotebook *notebook, guint seed);
