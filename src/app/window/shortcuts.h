#pragma once

#include "app/desk/page.h"

/* The window of keys: those of @page (may be NULL), of forms, and @keys, which end as those of a
 * page do. */
void bed_shortcuts_show (GtkWidget *inside, const BedPageKey *keys, BedPage *page);
