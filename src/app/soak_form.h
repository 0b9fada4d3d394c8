#pragma once

#include "app/form.h"

G_BEGIN_DECLS

/* The form of a soak and of the logs in it, named by stack, batch or code. */
BedForm *bed_soak_form_new (BedFarm *farm);

/* Names as bed_source_find_logs() reads them. */
void bed_soak_form_set_logs (BedForm *form, const char *names);

G_END_DECLS
