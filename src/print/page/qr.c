#include "print/page/qr.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <qrencode.h>
#include <string.h>

struct _BedQr
{
  QRcode *code;
};

static gboolean
is_dark (const QRcode *code, int x, int y)
{
  return code->data[y * code->width + x] & 1;
}

/* One path for the whole code, a rectangle for each run of dark modules, so that
 * no hairline shows between neighbours. The unit is the module. */
static void
add_path (const QRcode *code, cairo_t *cr)
{
  for (int y = 0; y < code->width; y++)
    for (int x = 0; x < code->width; x++)
      {
        int from = x;

        while (x < code->width && is_dark (code, x, y))
          x++;
        if (x > from)
          cairo_rectangle (cr, from, y, x - from, 1);
      }
}

/* Of letters beyond ASCII a reader must be told that they are UTF-8 (ECI 26, ISO/IEC 18004): where
 * it guesses, names in other alphabets come out as others. */
static QRcode *
encode (const char *text)
{
  if (g_str_is_ascii (text))
    return QRcode_encodeString (text, 0, QR_ECLEVEL_Q, QR_MODE_8, 1);
  QRinput *input = QRinput_new2 (0, QR_ECLEVEL_Q);
  QRcode *code = NULL;

  if (input && QRinput_appendECIheader (input, 26) == 0
      && QRinput_append (input, QR_MODE_8, (int) strlen (text), (const unsigned char *) text) == 0)
    code = QRcode_encodeInput (input);
  int problem = errno;
  QRinput_free (input);
  errno = problem;
  return code;
}

/* Public */

BedQr *
bed_qr_new (const char *text, GError **error)
{
  g_return_val_if_fail (text != NULL, NULL);
  QRcode *code = encode (text);

  if (!code)
    {
      g_set_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_CODE,
                   errno == ERANGE ? _ ("“%s” is too long for a QR code.")
                                   : _ ("“%s” cannot be made into a QR code."),
                   text);
      return NULL;
    }
  BedQr *self = g_new0 (BedQr, 1);
  self->code = code;
  return self;
}

void
bed_qr_free (BedQr *self)
{
  if (!self)
    return;
  QRcode_free (self->code);
  g_free (self);
}

guint
bed_qr_get_modules (const BedQr *self)
{
  g_return_val_if_fail (self != NULL, 0);
  return (guint) self->code->width + 2 * BED_QR_QUIET_ZONE;
}

double
bed_qr_get_smallest_side (const BedQr *self)
{
  return bed_qr_get_modules (self) * BED_QR_SMALLEST_MODULE * BED_POINTS_PER_MM;
}

gboolean
bed_qr_check (const BedQr *self, double side, const char *owner, GError **error)
{
  g_return_val_if_fail (self != NULL, FALSE);

  if (side >= bed_qr_get_smallest_side (self) - 1e-6)
    return TRUE;
  g_set_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_CODE,
               _ ("On %s the QR code would be %.1f mm wide; below %.1f mm it cannot be "
                  "read. Choose a larger label."),
               owner, side / BED_POINTS_PER_MM,
               bed_qr_get_smallest_side (self) / BED_POINTS_PER_MM);
  return FALSE;
}

gboolean
bed_qr_draw (const BedQr *self, cairo_t *cr, const BedBox *box, const char *owner, GError **error)
{
  g_return_val_if_fail (self != NULL && cr != NULL, FALSE);
  double side = MIN (box->width, box->height);
  double module = side / bed_qr_get_modules (self);

  if (!bed_qr_check (self, side, owner, error))
    return FALSE;
  cairo_save (cr);
  cairo_translate (cr, box->x + (box->width - side) / 2, box->y + (box->height - side) / 2);
  cairo_scale (cr, module, module);
  cairo_translate (cr, BED_QR_QUIET_ZONE, BED_QR_QUIET_ZONE);
  cairo_set_antialias (cr, CAIRO_ANTIALIAS_NONE);
  cairo_new_path (cr);
  add_path (self->code, cr);
  cairo_fill (cr);
  cairo_restore (cr);
  return TRUE;
}
