#pragma once

#include "app/desk/page.h"
#include "app/form/form.h"
#include "yard/scene.h"

/* The forms of the yard's page, and the figures at its top. */
extern const BedFormSpec bed_yard_area_form;
extern const BedFormSpec bed_yard_feature_form;

void bed_yard_show_figures (BedPage *page, const BedScene *scene);
