#pragma once

#include "app/form/form.h"

/* The sheets of a felling and a stand, with what the trees should give and what a thinning
 * takes beside them, following each key. */
BedForm *bed_felling_form_new (BedFarm *farm);
BedForm *bed_stand_form_new (BedFarm *farm);

/* The same in words, for a draft or a stored record; what is missing when it cannot be worked
 * out. (transfer full). */
char *bed_woodlot_dup_felling_words (BedFarm *farm, BedRecord *felling);
char *bed_woodlot_dup_stand_words (BedFarm *farm, BedRecord *stand);

/* The sheet of a spawn lot: it asks for a mass or for pieces, by the form of the spawn. */
BedForm *bed_spawn_form_new (BedFarm *farm);
