#pragma once

#include "app/page.h"

G_BEGIN_DECLS

/* Soaking: the rotation, what is in the tank, and the soaks written down. */
#define BED_TYPE_SOAKING_PAGE (bed_soaking_page_get_type ())
G_DECLARE_FINAL_TYPE (BedSoakingPage, bed_soaking_page, BED, SOAKING_PAGE, BedPage)

/* Fills the logs of the form that show_draft() opened: bed_soak_form_offer_logs(). */
void bed_soaking_page_offer_logs (BedSoakingPage *self, const char *names);

G_END_DECLS
