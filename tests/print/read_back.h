#pragma once

#include "print/page/document.h"

/* Reads printed codes back with programs that are not ours: poppler renders the
 * file, ImageMagick blurs, zbar reads. */

typedef enum
{
  READ_CLEAN,   /* as rendered */
  READ_TURNED,  /* by 3 degrees */
  READ_BLURRED, /* over READ_BLUR_MM, as a hand that is not still and a wet label do */
  READ_N_HOWS
} ReadHow;

/* Two standard deviations of the blur, mm. */
#define READ_BLUR_MM 0.2

/* FALSE after marking the test as skipped when one of the programs is missing. */
gboolean read_back_possible (void);

/* A page of @pdf in grey at @dpi; the caller destroys it. */
cairo_surface_t *read_back_render (const char *pdf, guint page, double dpi);

/* What stands in the codes in the boxes (BedBox, points) of @page, each read by itself, element
 * char *, sorted and each once; a box without a code that can be read is missing. Those
 * that are not clean are looked at again, nearer, until there are as many as @expected. */
GPtrArray *read_back_codes (cairo_surface_t *page, double dpi, GArray *boxes, ReadHow how,
                            guint expected);
