#pragma once

#include "print/page/document.h"

/* Text on paper that never overflows: it is set at the size wanted, shrinks to
 * a floor, then wraps, then is refused.
 *
 * Pango on a PDF page takes 96 dots per inch unless told, which sets 10 point
 * text 1.3 times too wide; here one unit of the font is one point. A string is
 * shaped once, without hinting, and scaled to every size it is shown at, so a
 * page is the same on a screen, a printer and in a file. */
typedef struct _BedTypesetter BedTypesetter;

typedef enum
{
  BED_WEIGHT_REGULAR,
  BED_WEIGHT_BOLD,
  BED_N_WEIGHTS
} BedTextWeight;

typedef enum
{
  BED_ALIGN_LEFT,
  BED_ALIGN_CENTRE,
  BED_ALIGN_RIGHT,
} BedTextAlign;

typedef struct
{
  double size;  /* wanted, points */
  double floor; /* smallest still read at arm's length, points */
  guint lines;  /* most lines it may wrap to, at least 1 */
  BedTextWeight weight;
  BedTextAlign align;
} BedTextStyle;

/* How a text was made to fit. */
typedef struct
{
  double size; /* points */
  double width, height;
  guint lines;
} BedTextFit;

BedTypesetter *bed_typesetter_new (void);
void bed_typesetter_free (BedTypesetter *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedTypesetter, bed_typesetter_free)

/* A sentence with the texts drawn so far of which no font here has every letter; NULL for none. */
char *bed_typesetter_dup_missing (const BedTypesetter *self);

/* Width of @text on one line of @size points; height of a line of that size. */
double bed_text_width (BedTypesetter *self, const char *text, BedTextWeight weight, double size);
double bed_text_line_height (BedTypesetter *self, double size);

/* Whether @text can be set in a box of that width and height, and how. */
gboolean bed_text_fit (BedTypesetter *self, const char *text, const BedBox *box,
                       const BedTextStyle *style, BedTextFit *fit);

/* Draws @text at the top of @box. When it cannot be made to fit: FALSE with
 * BED_PRINT_ERROR_TEXT, a sentence naming @owner (what is being printed, such as
 * "the log tag 26A-017-K") and the text. */
gboolean bed_text_draw (BedTypesetter *self, cairo_t *cr, const char *text, const BedBox *box,
                        const BedTextStyle *style, const char *owner, GError **error);

/* The same, with as much of @text as fits and … for the rest: for heads, which name what is
 * named elsewhere too, never for codes. */
gboolean bed_text_draw_cut (BedTypesetter *self, cairo_t *cr, const char *text, const BedBox *box,
                            const BedTextStyle *style, const char *owner, GError **error);

/* One line with its baseline at @y and its left edge at @x, at exactly @size. For text whose
 * width was asked for first. */
void bed_text_show (BedTypesetter *self, cairo_t *cr, const char *text, BedTextWeight weight,
                    double size, double x, double y);

/* From the top of a line of @size to its baseline, and the height of its capitals. */
double bed_text_ascent (BedTypesetter *self, double size);
double bed_text_cap_height (BedTypesetter *self, double size);

/* The refusal of bed_text_draw(), for those who place text themselves. */
void bed_text_refuse (GError **error, const char *owner, const char *text);
