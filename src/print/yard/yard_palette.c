#include "print/yard/yard_palette.h"

#include <math.h>

#define MOST_LINES 1000
#define DARK_BELOW 0.3 /* luminance of a colour that white lines are drawn on */
#define RGB(hex)                                                                                   \
  {                                                                                                \
    (((hex) >> 16) & 0xff) / 255.0, (((hex) >> 8) & 0xff) / 255.0, ((hex) &0xff) / 255.0           \
  }

#define N_COLOURS 7
#define N_GREYS 4
#define N_LINES 7                      /* kinds of hatch */
#define N_GROUPS 9                     /* of up to three lines */
#define N_HATCHES (N_GROUPS * N_LINES) /* with none, without dots */
#define DOTS 7

/* In a hatch of more than one line: between two of them, and what is left free after the last,
 * in pitches. */
#define LINE_GAP 0.7
#define GROUP_GAP 1.5

/* Widths of lines, in pitches; a dot is thicker. */
#define THIN 0.2
#define BOLD 0.46
#define DOT 1.8

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
  X (dim, 0x51564a, 0xbabeae, 0x555550)                                                            \
  X (accent, 0x1c71d8, 0x78aeed, 0x1c71d8)
#define LIGHT(name, in_light, in_dark, on_paper) .name = RGB (in_light),
#define DARK(name, in_light, in_dark, on_paper) .name = RGB (in_dark),
#define PAPER(name, in_light, in_dark, on_paper) .name = RGB (on_paper),

static const BedPalette light = { COLOURS (LIGHT).shadow = 0.16, .crown_cover = 0.5 };
static const BedPalette dark = { COLOURS (DARK).shadow = 0.4, .crown_cover = 0.55 };
static const BedPalette paper = { COLOURS (PAPER).shadow = 0, .crown_cover = 0.7 };

/* Orange, sky blue, bluish green, yellow, blue, vermillion, reddish purple. */
static const BedYardColour okabe_ito[N_COLOURS] = {
  RGB (0xe69f00), RGB (0x56b4e9), RGB (0x009e73), RGB (0xf0e442),
  RGB (0x0072b2), RGB (0xd55e00), RGB (0xcc79a7),
};

/* What each is in grey, and which of them are in each grey. */
static const guint greys[N_COLOURS] = { 0, 0, 1, 2, 3, 1, 0 };
static const struct
{
  guint n, colours[3];
} of_grey[N_GREYS] = { { 3, { 0, 1, 6 } }, { 2, { 2, 5 } }, { 1, { 3 } }, { 1, { 4 } } };

/* The life of a log, in the same seven: wood, then from first to last; each has its own hatch. */
static const struct
{
  int colour;
  guint hatch;
} stages[BED_N_STAGES] = {
  [BED_STAGE_UNKNOWN] = { -1, 0 },  [BED_STAGE_FELLED] = { -1, DOTS },
  [BED_STAGE_SPAWN_RUN] = { 3, 1 }, [BED_STAGE_READY] = { 2, 2 },
  [BED_STAGE_SOAKING] = { 4, 3 },   [BED_STAGE_FRUITING] = { 5, 5 },
  [BED_STAGE_RESTING] = { 1, 4 },   [BED_STAGE_RETIRED] = { -1, 6 },
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

/* --- looks ------------------------------------------------------------------ */

/* Each hatch comes once in each grey: first all hatches, the colours in turn, then with the next
 * grey. Beyond them all there are more lines together. Dots are bare wood's: as pale as yellow, it
 * is told from that by them. */
BedLogLook
bed_mark_look (int mark, const BedPalette *palette)
{
  if (mark < 0)
    return (BedLogLook){ palette->heartwood, DOTS };
  guint at = (guint) mark % N_HATCHES, round = (guint) mark / N_HATCHES;
  guint colour = at % N_COLOURS, grey = (greys[colour] + round) % N_GREYS;

  if (grey != greys[colour])
    colour = of_grey[grey].colours[at % of_grey[grey].n];
  at += round / N_GREYS * N_HATCHES;
  return (BedLogLook){ okabe_ito[colour], at < DOTS ? at : at + 1 };
}

BedLogLook
bed_stage_look (BedStage stage, const BedPalette *palette)
{
  g_return_val_if_fail (stage < BED_N_STAGES, ((BedLogLook){ palette->heartwood, 0 }));
  const BedYardColour *wood = stage == BED_STAGE_RETIRED ? &palette->dim : &palette->heartwood;

  return (BedLogLook){ stages[stage].colour < 0 ? *wood : okabe_ito[stages[stage].colour],
                       stages[stage].hatch };
}

/* From yellow to blue, which is from light to dark, too. */
BedLogLook
bed_step_look (guint step, guint n)
{
  double share = n > 1 ? (double) step / (n - 1) : 0;

  return (BedLogLook){ bed_colour_mix (&okabe_ito[3], &okabe_ito[4], share),
                       step ? 1 + (step - 1) * N_LINES : 0 };
}

/* --- hatches ---------------------------------------------------------------- */

/* Lines that lie together, some of them bold: thin, bold, two thin, one of each, two bold… */
typedef struct
{
  guint lines, bold;
} Group;

static Group
find_group (guint index)
{
  Group group = { 1, 0 };

  while (index > group.lines)
    index -= ++group.lines;
  group.bold = index;
  return group;
}

static double
get_period (const BedHatch *box, const Group *group)
{
  return box->pitch * (group->lines > 1 ? (group->lines - 1) * LINE_GAP + GROUP_GAP : 1);
}

/* Parallel lines over the box, the @line-th of each group, at @angle from flat. On a grid of the
 * page, so that neighbours' lines run on. */
static void
rule (cairo_t *cr, const BedHatch *box, const Group *group, guint line, double angle)
{
  double c = cos (angle), s = sin (angle), period = get_period (box, group);
  BedPoint middle = { box->x + box->width / 2, box->y + box->height / 2 };
  double along = c * middle.x + s * middle.y, across = c * middle.y - s * middle.x;
  double out = (fabs (s) * box->width + fabs (c) * box->height) / 2;
  double half = (fabs (c) * box->width + fabs (s) * box->height) / 2;

  for (double d = floor ((across - out) / period - 1) * period; d <= across + out; d += period)
    {
      double at = d + line * LINE_GAP * box->pitch;
      cairo_move_to (cr, c * (along - half) - s * at, s * (along - half) + c * at);
      cairo_line_to (cr, c * (along + half) - s * at, s * (along + half) + c * at);
    }
  cairo_stroke (cr);
}

static void
dot (cairo_t *cr, const BedHatch *box, const Group *group, guint line)
{
  double period = 1.2 * get_period (box, group), pitch = 1.2 * box->pitch;
  double in = line * LINE_GAP * pitch;

  for (double y = floor (box->y / pitch) * pitch; y <= box->y + box->height; y += pitch)
    for (double x = floor (box->x / period - 1) * period; x <= box->x + box->width; x += period)
      {
        cairo_move_to (cr, x + in, y);
        cairo_line_to (cr, x + in, y);
      }
  cairo_stroke (cr);
}

/* What is seen of the box. A log as long as a country, from a strange file, would be drawn for
 * hours: its lines stand farther apart. */
static gboolean
limit (cairo_t *cr, BedHatch *box)
{
  double left, top, right, bottom;

  cairo_clip_extents (cr, &left, &top, &right, &bottom);
  left = MAX (left, box->x);
  top = MAX (top, box->y);
  right = MIN (right, box->x + box->width);
  bottom = MIN (bottom, box->y + box->height);
  if (!(right > left && bottom > top && box->pitch > 0))
    return FALSE;
  box->x = left;
  box->y = top;
  box->width = right - left;
  box->height = bottom - top;
  while (MAX (box->width, box->height) > MOST_LINES * box->pitch)
    box->pitch *= 2;
  return TRUE;
}

void
bed_look_hatch (cairo_t *cr, const BedLogLook *look, const BedHatch *box)
{
  static const double angles[N_LINES][2] = {
    { 0.25, -1 }, { -0.25, -1 }, { 0, -1 }, { 0.5, -1 }, { 0.25, -0.25 }, { 0, 0.5 }
  }; /* half turns */
  BedHatch seen = *box;

  if (look->hatch == 0 || !limit (cr, &seen))
    return;
  guint kind = (look->hatch - 1) % N_LINES;
  Group group = find_group ((look->hatch - 1) / N_LINES);
  gboolean on_dark = bed_colour_luminance (&look->colour) < DARK_BELOW;

  cairo_save (cr);
  cairo_set_source_rgba (cr, on_dark, on_dark, on_dark, MIN (1, box->ink * (on_dark ? 1.4 : 1)));
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  for (guint line = 0; line < group.lines; line++)
    {
      double width = line < group.bold ? BOLD : THIN;
      cairo_set_line_width (cr, seen.pitch * width * (kind == N_LINES - 1 ? DOT : 1));
      for (guint i = 0; i < 2 && kind != N_LINES - 1; i++)
        if (angles[kind][i] != -1)
          rule (cr, &seen, &group, line, G_PI * angles[kind][i]);
      if (kind == N_LINES - 1)
        dot (cr, &seen, &group, line);
    }
  cairo_restore (cr);
}
