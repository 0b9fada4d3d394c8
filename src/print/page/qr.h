#pragma once

#include "print/page/document.h"

/* QR codes, ISO/IEC 18004, error correction level Q (about a quarter of the
 * code may be lost: tags live outdoors), the plain code as content, four light
 * modules around it. Encoding is libqrencode's. */

/* Smallest module, mm. The standard sets none; about 0.33 mm is what phone
 * cameras and wet labels bear: common practice, no source. */
#define BED_QR_SMALLEST_MODULE 0.33

/* Light modules on each side, ISO/IEC 18004. */
#define BED_QR_QUIET_ZONE 4

typedef struct _BedQr BedQr;

/* NULL with BED_PRINT_ERROR_CODE when @text is empty or holds more than a code can. */
BedQr *bed_qr_new (const char *text, GError **error);
void bed_qr_free (BedQr *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedQr, bed_qr_free)

/* Modules along a side, quiet zone included. */
guint bed_qr_get_modules (const BedQr *self);

/* The smallest side with its quiet zone, points. */
double bed_qr_get_smallest_side (const BedQr *self);

/* Whether it can be read at that side, points. FALSE with BED_PRINT_ERROR_CODE, naming @owner,
 * when its modules would be smaller than BED_QR_SMALLEST_MODULE. */
gboolean bed_qr_check (const BedQr *self, double side, const char *owner, GError **error);

/* Fills the largest square of @box, in its middle, the quiet zone inside it.
 * FALSE as bed_qr_check() says. */
gboolean bed_qr_draw (const BedQr *self, cairo_t *cr, const BedBox *box, const char *owner,
                      GError **error);
