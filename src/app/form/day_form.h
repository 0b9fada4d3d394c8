#pragma once

#include "app/form/form.h"

/* The weather of a day, rain and both temperatures, each of which may be left out: a form of the
 * kind RAIN that puts the temperatures of its day beside it. */
BedForm *bed_day_form_new (BedFarm *farm);

/* Goes on with that day, as bed_form_open() does; NULL: today. */
void bed_day_form_open (BedForm *form, BedFarm *farm, const char *day);
