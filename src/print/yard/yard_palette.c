#include "print/yard/yard_palette.h"

#include <math.h>

#define MOST_LINES 1000
#define RGB(hex)                                                                                   \
  {                                                                                                \
    (((hex) >> 16) & 0xff) / 255.0, (((hex) >> 8) & 0xff) / 255.0, ((hex) &0xff) / 255.0           \
  }

#define N_MARK_COLOURS 7
#define N_HATCHES 7

/* Each colour in the light, in the dark and on paper. */
#define COLOURS(X)                                                                                 \
  X (around, 0xf7f7f3, 0x1d1e1b, 0xffffff)                                                         \
  X (ground, 0xecefe2, 0x272b24, 0xffffff)                                                         \
  X (grid, 0xdde2d0, 0x32372d, 0xe4e4e0)                                                           \
  X (edge, 0xb4ba9f, 0x566049, 0x6b6b63)                                                           \
  X (crown, 0xa9c48f, 0x43603a, 0xdde8d2)                                                          \
  X (crown_edge, 0x86a56d, 0x618554, 0x8fa87c)                                                     \
  X (water, 0xb5d6e6, 0x284a5d, 0xdcebf3)                                                          \
  X (water_edge, 0x7fb0cb, 0x44788f, 0x6fa3bf)                                                     \
  X (path, 0xe3d9c4, 0x3f3a30, 0xf0ebe0)                                                           \
  X (wall, 0xd6cfc4, 0x413d37, 0xe8e4dd)                                                           \
  X (wall_edge, 0x948b7e, 0x817768, 0x77706a)                                                      \
  X (fence, 0x8d8676, 0x867d6b, 0x77706a)                                                          \
  X (cloth, 0x6f7d66, 0x9fae92, 0x8a9580)                                                          \
  X (bark, 0x5b4335, 0x16120e, 0x3d2d23)                                                           \
  X (bark_light, 0x8b6f5a, 0x7d6552, 0x8b6f5a)                                                     \
  X (sapwood, 0xf0e2c6, 0xcbb992, 0xf6ecd8)                                                        \
  X (heartwood, 0xd8bf97, 0xa98f68, 0xe3cfac)                                                      \
  X (rail, 0xa39378, 0x8c7d63, 0x8f8168)                                                           \
  X (free, 0x8f9484, 0x868b7b, 0x8a8a80)                                                           \
  X (rim, 0xffffff, 0xfbfbf5, 0xffffff)                                                            \
  X (text, 0x2b3026, 0xecece4, 0x111111)                                                           \
  X (dim, 0x646a5a, 0xa9ad9d, 0x555550)                                                            \
  X (accent, 0x1c71d8, 0x78aeed, 0x1c71d8)
#define LIGHT(name, in_light, in_dark, on_paper) .name = RGB (in_light),
#define DARK(name, in_light, in_dark, on_paper) .name = RGB (in_dark),
#define PAPER(name, in_light, in_dark, on_paper) .name = RGB (on_paper),

static const BedPalette light = { COLOURS (LIGHT).shadow = 0.16, .crown_cover = 0.5 };
static const BedPalette dark = { COLOURS (DARK).shadow = 0.4, .crown_cover = 0.55 };
static const BedPalette paper = { COLOURS (PAPER).shadow = 0, .crown_cover = 0.7 };

/* Orange, sky blue, bluish green, yellow, blue, vermillion, reddish purple. */
static const BedYardColour okabe_ito[N_MARK_COLOURS] = {
  RGB (0xe69f00), RGB (0x56b4e9), RGB (0x009e73), RGB (0xf0e442),
  RGB (0x0072b2), RGB (0xd55e00), RGB (0xcc79a7),
};

/* The life of a log, in the same seven: wood, then from first to last. */
static const int stage_marks[BED_N_STAGES] = {
  [BED_STAGE_UNKNOWN] = -1, [BED_STAGE_FELLED] = -1,  [BED_STAGE_SPAWN_RUN] = 3,
  [BED_STAGE_READY] = 2,    [BED_STAGE_SOAKING] = 4,  [BED_STAGE_FRUITING] = 5,
  [BED_STAGE_RESTING] = 1,  [BED_STAGE_RETIRED] = -1,
};

const BedPalette *
bed_palette_get (BedPaletteName name)
{
  return name == BED_PALETTE_DARK ? &dark : name == BED_PALETTE_PAPER ? &paper : &light;
}

void
bed_colour_set (cairo_t *cr, const BedYardColour *colour, double alpha)
{
  cairo_set_source_rgba (cr, colour->red, colour->green, colour->blue, alpha);
}

void
bed_colour_fill (cairo_t *cr, const BedYardColour *colour, double alpha)
{
  bed_colour_set (cr, colour, alpha);
  cairo_fill (cr);
}

void
bed_colour_stroke (cairo_t *cr, const BedYardColour *colour, double alpha, double width)
{
  bed_colour_set (cr, colour, alpha);
  cairo_set_line_width (cr, width);
  cairo_stroke (cr);
}

BedYardColour
bed_colour_mix (const BedYardColour *a, const BedYardColour *b, double share)
{
  return (BedYardColour){ a->red + share * (b->red - a->red),
                          a->green + share * (b->green - a->green),
                          a->blue + share * (b->blue - a->blue) };
}

static double
to_linear (double value)
{
  return value <= 0.03928 ? value / 12.92 : pow ((value + 0.055) / 1.055, 2.4);
}

double
bed_colour_luminance (const BedYardColour *colour)
{
  return 0.2126 * to_linear (colour->red) + 0.7152 * to_linear (colour->green)
         + 0.0722 * to_linear (colour->blue);
}

BedYardColour
bed_mark_colour (int mark, const BedPalette *palette)
{
  return mark < 0 ? palette->heartwood : okabe_ito[mark % N_MARK_COLOURS];
}

BedYardColour
bed_stage_colour (BedStage stage, const BedPalette *palette)
{
  g_return_val_if_fail (stage < BED_N_STAGES, palette->heartwood);
  if (stage == BED_STAGE_RETIRED)
    return palette->dim;
  return bed_mark_colour (stage_marks[stage], palette);
}

/* Parallel lines across the box, leaning @lean steps across for each step down. */
static void
rule (cairo_t *cr, const BedHatch *box, double lean)
{
  double shift = lean * box->height, from = box->x + MIN (0, -shift);
  double step = box->pitch * sqrt (1 + lean * lean);

  /* On a grid of the page, so that neighbours' lines run on. */
  for (double x = floor (from / step) * step; x <= box->x + box->width + MAX (0, -shift); x += step)
    {
      cairo_move_to (cr, x, box->y);
      cairo_line_to (cr, x + shift, box->y + box->height);
    }
  cairo_stroke (cr);
}

static void
rule_across (cairo_t *cr, const BedHatch *box)
{
  for (double y = ceil (box->y / box->pitch) * box->pitch; y <= box->y + box->height;
       y += box->pitch)
    {
      cairo_move_to (cr, box->x, y);
      cairo_line_to (cr, box->x + box->width, y);
    }
  cairo_stroke (cr);
}

static void
dot (cairo_t *cr, const BedHatch *box)
{
  double pitch = box->pitch * 1.2;

  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  cairo_set_line_width (cr, pitch * 0.34);
  for (double y = floor (box->y / pitch) * pitch; y <= box->y + box->height; y += pitch)
    for (double x = floor (box->x / pitch) * pitch; x <= box->x + box->width; x += pitch)
      {
        cairo_move_to (cr, x, y);
        cairo_line_to (cr, x, y);
      }
  cairo_stroke (cr);
}

void
bed_mark_hatch (cairo_t *cr, int mark, const BedHatch *box)
{
  int hatch = mark < 0 ? 0 : (mark + mark / N_MARK_COLOURS) % N_HATCHES;

  /* A log as long as a country, from a strange file, would be drawn for hours. */
  if (!(MAX (box->width, box->height) < MOST_LINES * box->pitch))
    return;
  cairo_save (cr);
  cairo_set_source_rgba (cr, 0, 0, 0, box->ink);
  cairo_set_line_width (cr, box->pitch * 0.2);
  if (hatch == 1 || hatch == 5)
    rule (cr, box, 1);
  if (hatch == 2 || hatch == 5)
    rule (cr, box, -1);
  if (hatch == 3)
    rule_across (cr, box);
  if (hatch == 4)
    rule (cr, box, 0);
  if (hatch == 6)
    dot (cr, box);
  cairo_restore (cr);
}
