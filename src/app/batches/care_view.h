#pragma once

#include "app/form/form.h"
#include "app/widgets/part.h"
#include "model/farm/farm.h"
#include <gtk/gtk.h>

/* Care of one batch: water, spawn run, last checks, and the short forms that record them.
 *
 * Signal "turned" (): a form took the place of the rest, or left it. */
#define BED_TYPE_CARE_VIEW (bed_care_view_get_type ())
G_DECLARE_FINAL_TYPE (BedCareView, bed_care_view, BED, CARE_VIEW, BedPart)

BedCareView *bed_care_view_new (BedFarm *farm);
/* The form that is seen in it, or NULL; borrowed. */
BedForm *bed_care_view_get_form (BedCareView *self);

void bed_care_view_show (BedCareView *self, gint64 batch);
