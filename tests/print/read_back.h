#pragma once

#include "print/page/document.h"

/* Reads printed codes back with programs that are not ours: poppler renders the
 * file, ImageMagick blurs, zbar reads. */

typedef enum
{
  READ_CLEAN,   /* as rendered */
  READ_HANDLED, /* turned by 3 degrees and blurred by a pixel */
} ReadHow;

/* FALSE after marking the test as skipped when one of the programs is missing. */
gboolean read_back_possible (void);

/* A page of @pdf in grey at @dpi; the caller destroys it. */
cairo_surface_t *read_back_render (const char *pdf, guint page, double dpi);

/* What stands in the codes in the boxes (BedBox, points) of @page, element char *, sorted; a box
 * without a code that can be read is missing. */
GPtrArray *read_back_codes (cairo_surface_t *page, double dpi, GArray *boxes, ReadHow how);
