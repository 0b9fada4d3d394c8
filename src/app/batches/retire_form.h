#pragma once

#include "app/form/form.h"

/* The short form that retires logs: on what day and why. Enter in the last of the two saves,
 * all of them in one change. */
BedForm *bed_retire_form_new (BedFarm *farm);

/* Begins it for @logs (element gint64, at least one; copied): today, and spent, which most are.
 * In view in its stack, the keyboard is given to the reason. */
void bed_retire_form_begin (BedForm *form, GArray *logs);
