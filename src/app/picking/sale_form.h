#pragma once

#include "app/form/form.h"

/* The form of a sale and its lines: lot, mass, price, form, use; Enter after the price takes
 * the line in, Enter in the empty lot saves. */
BedForm *bed_sale_form_new (BedFarm *farm);

/* Begins a line of that lot with what is left of it, where none is being typed. */
void bed_sale_form_offer_lot (BedForm *form, const char *lot);
