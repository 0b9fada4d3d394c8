#pragma once

#include "app/page.h"

G_BEGIN_DECLS

/* Soaking: the rotation, what is in the tank, and the soaks written down. */
#define BED_TYPE_SOAKING_PAGE (bed_soaking_page_get_type ())
G_DECLARE_FINAL_TYPE (BedSoakingPage, bed_soaking_page, BED, SOAKING_PAGE, BedPage)

/* Names of the logs (bed_source_find_logs()) in the form that show_draft() opened. */
void bed_soaking_page_set_logs (BedSoakingPage *self, const char *names);

G_END_DECLS
