#include "print/page/text.h"
#include "science/language.h"

#include <glib/gi18n-lib.h>
#include <pango/pangocairo.h>
#include <string.h>

/* The first of these that is there; figures of one width and a zero that is not an O. */
#define FAMILIES "Cantarell, Adwaita Sans, Noto Sans, DejaVu Sans, Sans"
#define FEATURES "tnum=1, zero=1"

/* Strings are shaped at this size, in units of the page, and scaled from it. */
#define REFERENCE 100.0

/* Shaped strings kept: wood, strain and date repeat on every tag, codes do not. */
#define MOST_KEPT 256
#define MOST_BYTES 16384
#define MOST_BYTES_SAID 200
#define MOST_SAID 3

struct _BedTypesetter
{
  PangoContext *context;
  PangoFontDescription *fonts[BED_N_WEIGHTS];
  PangoAttrList *attributes;
  GHashTable *lines[BED_N_WEIGHTS];   /* text -> PangoLayout, one line each */
  double ascent, descent, cap_height; /* of a font of 1 point */
  GPtrArray *missing;                 /* texts with letters that no font has, MOST_SAID of them */
};

/* Bytes of whole letters at the beginning of @text, @most of them. */
static int
first_bytes (const char *text, gsize most)
{
  gsize length = strnlen (text, most + 1);

  if (length > most)
    for (length = most; length > 0 && (text[length] & 0xc0) == 0x80;)
      length--;
  return (int) length;
}

static PangoLayout *
shape (BedTypesetter *self, const char *text, BedTextWeight weight)
{
  PangoLayout *layout = pango_layout_new (self->context);

  pango_layout_set_font_description (layout, self->fonts[weight]);
  pango_layout_set_attributes (layout, self->attributes);
  /* No sheet holds as many, so a longer text does not fit either way; Pango would take minutes
   * and gigabytes for what a strange file may hold. */
  pango_layout_set_text (layout, text, first_bytes (text, MOST_BYTES));
  return layout;
}

/* The text as one line; kept by the typesetter. */
static PangoLayout *
get_line (BedTypesetter *self, const char *text, BedTextWeight weight)
{
  GHashTable *lines = self->lines[weight];
  PangoLayout *layout = g_hash_table_lookup (lines, text);

  if (layout)
    return layout;
  if (g_hash_table_size (lines) >= MOST_KEPT)
    g_hash_table_remove_all (lines);
  layout = shape (self, text, weight);
  pango_layout_set_single_paragraph_mode (layout, TRUE);
  g_hash_table_insert (lines, g_strdup (text), layout);
  return layout;
}

static double
get_layout_width (PangoLayout *layout)
{
  PangoRectangle logical;

  pango_layout_get_extents (layout, NULL, &logical);
  return (double) logical.width / PANGO_SCALE;
}

/* @text wrapped between words into @width points at @size. */
static PangoLayout *
wrap (BedTypesetter *self, const char *text, const BedTextStyle *style, double size, double width)
{
  PangoLayout *layout = shape (self, text, style->weight);
  static const PangoAlignment alignments[]
      = { PANGO_ALIGN_LEFT, PANGO_ALIGN_CENTER, PANGO_ALIGN_RIGHT };

  pango_layout_set_width (layout, (int) (width * REFERENCE / size * PANGO_SCALE));
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD);
  pango_layout_set_alignment (layout, alignments[style->align]);
  return layout;
}

/* Wrapping leaves a word longer than the line sticking out: that does not fit. */
static gboolean
fit_wrapped (BedTypesetter *self, const char *text, const BedBox *box, const BedTextStyle *style,
             BedTextFit *fit)
{
  g_autoptr (PangoLayout) layout = wrap (self, text, style, style->floor, box->width);
  double scale = style->floor / REFERENCE;

  fit->size = style->floor;
  fit->lines = (guint) pango_layout_get_line_count (layout);
  fit->width = get_layout_width (layout) * scale;
  fit->height = fit->lines * bed_text_line_height (self, style->floor);
  return fit->lines <= style->lines && fit->width <= box->width + 0.01
         && fit->height <= box->height + 0.01;
}

/* A box would stand for each of them. */
static void
note_missing (BedTypesetter *self, PangoLayout *layout)
{
  const char *text = pango_layout_get_text (layout);

  if (self->missing->len < MOST_SAID && pango_layout_get_unknown_glyphs_count (layout) > 0
      && !g_ptr_array_find_with_equal_func (self->missing, text, g_str_equal, NULL))
    g_ptr_array_add (self->missing, g_strndup (text, (gsize) first_bytes (text, MOST_BYTES_SAID)));
}

static void
show_layout (BedTypesetter *self, cairo_t *cr, PangoLayout *layout, double x, double y, double size)
{
  note_missing (self, layout);
  cairo_save (cr);
  cairo_translate (cr, x, y);
  cairo_scale (cr, size / REFERENCE, size / REFERENCE);
  pango_cairo_show_layout (cr, layout);
  cairo_restore (cr);
}

static double
align_within (const BedBox *box, double width, BedTextAlign align)
{
  if (align == BED_ALIGN_RIGHT)
    return box->x + box->width - width;
  if (align == BED_ALIGN_CENTRE)
    return box->x + (box->width - width) / 2;
  return box->x;
}

static void
measure_font (BedTypesetter *self)
{
  g_autoptr (PangoLayout) layout = shape (self, "H", BED_WEIGHT_REGULAR);
  PangoRectangle ink, logical;
  double unit = PANGO_SCALE * REFERENCE;

  pango_layout_get_extents (layout, &ink, &logical);
  self->ascent = pango_layout_get_baseline (layout) / unit;
  self->descent = logical.height / unit - self->ascent;
  self->cap_height = ink.height / unit;
}

static PangoContext *
new_context (void)
{
  PangoContext *context = pango_font_map_create_context (pango_cairo_font_map_get_default ());
  cairo_font_options_t *options = cairo_font_options_create ();

  cairo_font_options_set_hint_style (options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics (options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_antialias (options, CAIRO_ANTIALIAS_GRAY);
  pango_cairo_context_set_font_options (context, options);
  cairo_font_options_destroy (options);
  pango_cairo_context_set_resolution (context, 72);
  pango_context_set_round_glyph_positions (context, FALSE);
  return context;
}

/* Public */

BedTypesetter *
bed_typesetter_new (void)
{
  static const PangoWeight weights[BED_N_WEIGHTS] = { PANGO_WEIGHT_NORMAL, PANGO_WEIGHT_BOLD };
  BedTypesetter *self = g_new0 (BedTypesetter, 1);

  self->context = new_context ();
  self->missing = g_ptr_array_new_with_free_func (g_free);
  self->attributes = pango_attr_list_new ();
  pango_attr_list_insert (self->attributes, pango_attr_font_features_new (FEATURES));
  for (int i = 0; i < BED_N_WEIGHTS; i++)
    {
      self->fonts[i] = pango_font_description_from_string (FAMILIES);
      pango_font_description_set_weight (self->fonts[i], weights[i]);
      pango_font_description_set_absolute_size (self->fonts[i], REFERENCE * PANGO_SCALE);
      self->lines[i] = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_object_unref);
    }
  measure_font (self);
  return self;
}

void
bed_typesetter_free (BedTypesetter *self)
{
  if (!self)
    return;
  for (int i = 0; i < BED_N_WEIGHTS; i++)
    {
      g_hash_table_unref (self->lines[i]);
      pango_font_description_free (self->fonts[i]);
    }
  g_ptr_array_unref (self->missing);
  pango_attr_list_unref (self->attributes);
  g_object_unref (self->context);
  g_free (self);
}

char *
bed_typesetter_dup_missing (const BedTypesetter *self)
{
  g_autoptr (GString) texts = g_string_new (NULL);

  for (guint i = 0; i < self->missing->len; i++)
    g_string_append_printf (texts, "%s“%s”", i ? bed_comma () : "",
                            (char *) self->missing->pdata[i]);
  return self->missing->len
             ? g_strdup_printf (_ ("No font here has all letters of %s: boxes would be printed in "
                                   "their place. Install a font that has them."),
                                texts->str)
             : NULL;
}

double
bed_text_width (BedTypesetter *self, const char *text, BedTextWeight weight, double size)
{
  g_return_val_if_fail (self != NULL && text != NULL, 0);
  return get_layout_width (get_line (self, text, weight)) * size / REFERENCE;
}

double
bed_text_line_height (BedTypesetter *self, double size)
{
  return (self->ascent + self->descent) * size;
}

double
bed_text_ascent (BedTypesetter *self, double size)
{
  return self->ascent * size;
}

double
bed_text_cap_height (BedTypesetter *self, double size)
{
  return self->cap_height * size;
}

gboolean
bed_text_fit (BedTypesetter *self, const char *text, const BedBox *box, const BedTextStyle *style,
              BedTextFit *fit)
{
  g_return_val_if_fail (self != NULL && text != NULL, FALSE);
  g_return_val_if_fail (style->floor > 0 && style->size >= style->floor, FALSE);
  double em = bed_text_width (self, text, style->weight, 1);
  double size = MIN (style->size, box->height / (self->ascent + self->descent));

  if (em * size > box->width)
    size = box->width / em;
  if (size >= style->floor - 1e-6)
    {
      *fit = (BedTextFit){ size, em * size, bed_text_line_height (self, size), 1 };
      return TRUE;
    }
  return style->lines > 1 && fit_wrapped (self, text, box, style, fit);
}

void
bed_text_refuse (GError **error, const char *owner, const char *text)
{
  g_set_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_TEXT,
               /* Translators: first what is printed ("the log tag 26A-017-K"), then the text. */
               _ ("On %s there is no room for “%.*s”. Shorten it or choose a larger label."), owner,
               first_bytes (text, MOST_BYTES_SAID), text);
}

gboolean
bed_text_draw (BedTypesetter *self, cairo_t *cr, const char *text, const BedBox *box,
               const BedTextStyle *style, const char *owner, GError **error)
{
  g_return_val_if_fail (self != NULL && cr != NULL && text != NULL, FALSE);
  BedTextFit fit;

  if (!bed_text_fit (self, text, box, style, &fit))
    {
      bed_text_refuse (error, owner, text);
      return FALSE;
    }
  if (fit.lines == 1)
    {
      show_layout (self, cr, get_line (self, text, style->weight),
                   align_within (box, fit.width, style->align), box->y, fit.size);
      return TRUE;
    }
  g_autoptr (PangoLayout) layout = wrap (self, text, style, fit.size, box->width);
  show_layout (self, cr, layout, box->x, box->y, fit.size);
  return TRUE;
}

/* The longest beginning that fits, with … for the rest. A bare … always fits. */
static char *
dup_cut (BedTypesetter *self, const char *text, const BedBox *box, const BedTextStyle *style)
{
  glong fits = 0, beyond = g_utf8_strlen (text, -1);
  char *best = g_strdup ("…");

  while (beyond - fits > 1)
    {
      glong length = (fits + beyond) / 2;
      g_autofree char *begun = g_utf8_substring (text, 0, length);
      g_autofree char *cut = g_strconcat (g_strchomp (begun), "…", NULL);
      BedTextFit fit;
      if (bed_text_fit (self, cut, box, style, &fit))
        {
          g_free (best);
          best = g_steal_pointer (&cut);
          fits = length;
        }
      else
        beyond = length;
    }
  return best;
}

gboolean
bed_text_draw_cut (BedTypesetter *self, cairo_t *cr, const char *text, const BedBox *box,
                   const BedTextStyle *style, const char *owner, GError **error)
{
  g_return_val_if_fail (self != NULL && cr != NULL && text != NULL, FALSE);
  BedTextFit fit;
  g_autofree char *cut
      = bed_text_fit (self, text, box, style, &fit) ? NULL : dup_cut (self, text, box, style);

  return bed_text_draw (self, cr, cut ? cut : text, box, style, owner, error);
}

void
bed_text_show (BedTypesetter *self, cairo_t *cr, const char *text, BedTextWeight weight,
               double size, double x, double y)
{
  g_return_if_fail (self != NULL && cr != NULL && text != NULL);
  show_layout (self, cr, get_line (self, text, weight), x, y - bed_text_ascent (self, size), size);
}
