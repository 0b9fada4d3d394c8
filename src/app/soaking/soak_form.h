#pragma once

#include "app/form/form.h"

/* The form of a soak and of the logs in it, named by stack, batch or code. */
BedForm *bed_soak_form_new (BedFarm *farm);

/* Fills in the logs, named as bed_source_find_logs() reads them, unless something was typed
 * into the form; it does not count as typing. */
void bed_soak_form_offer_logs (BedForm *form, const char *names);
