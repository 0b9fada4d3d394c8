#pragma once

#include "yard/yard.h"
#include <cairo.h>

/* The colours of the yard's drawings. Dark is drawn with its own tones, not
 * inverted; paper keeps large areas white to spare ink. */

typedef struct
{
  double red, green, blue;
} BedYardColour;

typedef struct
{
  BedYardColour around, ground, grid, edge; /* outside the area, inside it, its lines */
  BedYardColour crown, crown_edge, water, water_edge, path, wall, wall_edge, fence, cloth;
  BedYardColour bark, bark_light, sapwood, heartwood, rail, free;
  BedYardColour rim; /* spawn grown to the end face */
  BedYardColour text, dim;
  BedYardColour accent; /* frames of what is selected */
  double shadow;        /* how dark the shadow of a stack is, 0 to 1 */
  double crown_cover;   /* how much a tree's crown hides, 0 to 1 */
} BedPalette;

typedef enum
{
  BED_PALETTE_LIGHT,
  BED_PALETTE_DARK,
  BED_PALETTE_PAPER
} BedPaletteName;

/* Static. */
const BedPalette *bed_palette_get (BedPaletteName name);

/* The source of @cr; @alpha and @share_of_b from 0 to 1. */
void bed_colour_set (cairo_t *cr, const BedYardColour *colour, double alpha);

/* The path filled, or its line drawn @width wide; there is none any more then. */
void bed_colour_fill (cairo_t *cr, const BedYardColour *colour, double alpha);
void bed_colour_stroke (cairo_t *cr, const BedYardColour *colour, double alpha, double width);

BedYardColour bed_colour_mix (const BedYardColour *a, const BedYardColour *b, double share_of_b);

/* Relative luminance, 0 black to 1 white: text on a colour is white below 0.4.
 * WCAG 2.1, definition of relative luminance (MEM-H). */
double bed_colour_luminance (const BedYardColour *colour);

/* --- looks: a colour and a hatch --------------------------------------------
 *
 * Colours that people with any of the common kinds of colour blindness can tell
 * apart: M. Okabe, K. Ito, Color Universal Design (2008), the seven of the set
 * that are not black. In grey some of them are alike; of two looks that are, the
 * hatches differ. */
typedef struct
{
  BedYardColour colour;
  guint hatch; /* 0: none; any number is another one: lines of one of seven kinds, one, two, three…
                * of them together, thin and bold */
} BedLogLook;

/* No two marks look alike, in colour or in grey. Below 0 (no batch, not known): bare
 * wood, dotted. */
BedLogLook bed_mark_look (int mark, const BedPalette *palette);

BedLogLook bed_stage_look (BedStage stage, const BedPalette *palette);

/* Step @step, from 0, of a scale of @n: from light to dark, with more and more lines. */
BedLogLook bed_step_look (guint step, guint n);

/* A box, how far apart the lines in it are, screen units, and how dark, 0 to 1. */
typedef struct
{
  double x, y, width, height;
  double pitch;
  double ink;
} BedHatch;

/* Draws the hatch of @look in that box, which the caller has clipped to: dark on light, white on
 * dark. Lines of boxes side by side run on. */
void bed_look_hatch (cairo_t *cr, const BedLogLook *look, const BedHatch *box);
