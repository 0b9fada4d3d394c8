#pragma once

#include "app/form/form.h"

/* The form of a sale and its lines: lot, form, use, mass, price; Enter after the price takes
 * the line in, Enter in the empty lot saves. */
BedForm *bed_sale_form_new (BedFarm *farm);
