#pragma once

#include "app/form/form.h"

/* The inoculation sheet: pattern, spawn and logs of one batch, saved together with
 * one sentence, and the drilling plan live beside it. */
BedForm *bed_batch_form_new (BedFarm *farm);
