#pragma once

#include "app/desk/page.h"
#include "app/import/import_source.h"

/* Somebody's own sheet comes in: what it is understood as, what has to be asked, what would be
 * added; and then it is. */
#define BED_TYPE_IMPORT_PAGE (bed_import_page_get_type ())
G_DECLARE_FINAL_TYPE (BedImportPage, bed_import_page, BED, IMPORT_PAGE, BedPage)

/* In place of the sheet before; why it cannot be read is said. */
void bed_import_page_open (BedImportPage *self, const BedImportSource *source);
