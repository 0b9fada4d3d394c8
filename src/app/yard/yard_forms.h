#pragma once

#include "app/desk/page.h"
#include "yard/scene.h"

/* The figures at the top of the yard's page. */
void bed_yard_show_figures (BedPage *page, const BedScene *scene);
