#include "print/yard/yard_draw.h"

#include <math.h>
#include <string.h>

/* Shares of a log end's radius. The bark is about 5 % of the radius; the ring that
 * carries the white rim is drawn wider than the sapwood of most trees so that it can be read. */
#define WOOD 0.94
#define CORE 0.76

/* Smaller than this (screen units) only colour is drawn. */
#define SMALLEST_RING 4.0
#define SMALLEST_TEXT 6.5
#define SMALLEST_BARK 3.5

/* At 2 pixels the lines of every hatch run into one grey. */
#define SMALLEST_PITCH 2.5

static void
circle (cairo_t *cr, double radius)
{
  cairo_new_sub_path (cr);
  cairo_arc (cr, 0, 0, radius, 0, 2 * G_PI);
}

/* The longer of both forms of the code that can be read inside @width, and its size; NULL when
 * neither can. */
static const char *
fit_code (const BedYardLog *log, double width, const BedYardStyle *style, double *size)
{
  const char *forms[] = { log->code, log->brief ? log->brief : log->code };

  for (guint i = 0; log->code && i < G_N_ELEMENTS (forms); i++)
    {
      *size = MIN (width * 0.62, style->text_size * 1.25);
      double wide = bed_text_width (style->type, forms[i], BED_WEIGHT_BOLD, *size);
      if (wide > width)
        *size *= width / wide;
      if (*size >= SMALLEST_TEXT * style->text_size / 11 * (i ? 1 : 1.3))
        return forms[i];
    }
  return NULL;
}

/* White where spawn has reached the end face: clockwise from the top, the whole ring when it is
 * all the way. */
static void
draw_rim (cairo_t *cr, const BedYardLog *log, double radius, const BedPalette *palette)
{
  double middle = (WOOD + CORE) / 2 * radius;

  if (log->colonised <= 0)
    return;
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
  cairo_new_sub_path (cr);
  cairo_arc (cr, 0, 0, middle, -G_PI / 2, -G_PI / 2 + 2 * G_PI * MIN (1, log->colonised));
  bed_colour_stroke (cr, &palette->rim, 1, (WOOD - CORE) * radius * 0.82);
}

/* A notch sawn into the end of a log that is done. */
static void
draw_notch (cairo_t *cr, double radius, const BedPalette *palette)
{
  cairo_move_to (cr, radius * 1.05 * cos (-1.15), radius * 1.05 * sin (-1.15));
  cairo_line_to (cr, radius * 0.45 * cos (-0.785), radius * 0.45 * sin (-0.785));
  cairo_line_to (cr, radius * 1.05 * cos (-0.42), radius * 1.05 * sin (-0.42));
  cairo_close_path (cr);
  bed_colour_fill (cr, &palette->ground, 1);
}

int
bed_log_class (const BedYardLog *log, const BedYardStyle *style)
{
  return bed_colour_by_class (style->colour_by, style->system, log);
}

BedLogLook
bed_log_look (const BedYardLog *log, const BedYardStyle *style)
{
  return bed_colour_by_look (style->colour_by, bed_log_class (log, style), style->palette);
}

static void
fill_core (cairo_t *cr, const BedYardLog *log, double radius, const BedYardStyle *style)
{
  BedLogLook look = bed_log_look (log, style);
  BedHatch box
      = { -radius, -radius, 2 * radius, 2 * radius, CLAMP (radius / 3, SMALLEST_PITCH, 5), 0.42 };

  cairo_save (cr);
  circle (cr, radius);
  bed_colour_set (cr, &look.colour, 1);
  cairo_fill_preserve (cr);
  cairo_clip (cr);
  bed_look_hatch (cr, &look, &box);
  cairo_restore (cr);
}

/* A plain ground under the code, so that the hatch does not run through it. */
static void
write_code (cairo_t *cr, const BedYardLog *log, double radius, const BedYardStyle *style)
{
  BedYardColour colour = bed_log_look (log, style).colour;
  BedYardColour black = { 0.08, 0.08, 0.06 }, white = { 1, 1, 1 };
  gboolean on_dark = bed_colour_luminance (&colour) < 0.3;
  double size, half = radius * 0.86, high = radius * 0.42;
  const char *code = fit_code (log, radius * 1.6, style, &size);

  if (!code)
    return;
  double wide = bed_text_width (style->type, code, BED_WEIGHT_BOLD, size);
  cairo_save (cr);
  circle (cr, radius);
  cairo_clip (cr);
  cairo_rectangle (cr, -half, -high, 2 * half, 2 * high);
  bed_colour_fill (cr, &colour, 0.88);
  bed_colour_set (cr, on_dark ? &white : &black, 1);
  bed_text_show (style->type, cr, code, BED_WEIGHT_BOLD, size, -wide / 2,
                 bed_text_cap_height (style->type, size) / 2);
  cairo_restore (cr);
}

/* The end face, of an end that is large enough. */
static void
draw_rings (cairo_t *cr, const BedYardLog *log, double radius, const BedYardStyle *style)
{
  circle (cr, radius * WOOD);
  bed_colour_fill (cr, &style->palette->sapwood, 1);
  draw_rim (cr, log, radius, style->palette);
  fill_core (cr, log, radius * CORE, style);
  if (log->retired)
    draw_notch (cr, radius, style->palette);
  write_code (cr, log, radius * CORE, style);
}

void
bed_log_end_draw (cairo_t *cr, const BedYardLog *log, BedPoint at, double radius,
                  const BedYardStyle *style)
{
  cairo_save (cr);
  cairo_translate (cr, at.x, at.y);
  circle (cr, radius);
  bed_colour_fill (cr, &style->palette->bark, 1);
  if (radius < SMALLEST_RING)
    fill_core (cr, log, radius * 0.8, style);
  else
    draw_rings (cr, log, radius, style);
  cairo_restore (cr);
}

static void
trace_bar (cairo_t *cr, double length, double r)
{
  double corner = MIN (r * 0.55, length / 2);

  cairo_new_path (cr);
  cairo_arc (cr, length - corner, r - corner, corner, 0, G_PI / 2);
  cairo_arc (cr, corner, r - corner, corner, G_PI / 2, G_PI);
  cairo_arc (cr, corner, -r + corner, corner, G_PI, 1.5 * G_PI);
  cairo_arc (cr, length - corner, -r + corner, corner, 1.5 * G_PI, 2 * G_PI);
  cairo_close_path (cr);
}

/* The hatch of its batch, and light along its upper side. */
static void
dress_bar (cairo_t *cr, const BedLogLook *look, double length, double r)
{
  BedHatch box = { 0, -r, length, 2 * r, CLAMP (r * 0.7, SMALLEST_PITCH, 6), 0.36 };

  bed_look_hatch (cr, look, &box);
  if (r <= SMALLEST_BARK)
    return;
  cairo_rectangle (cr, r * 0.5, -r * 0.62, length - r, r * 0.34);
  cairo_set_source_rgba (cr, 1, 1, 1, 0.22);
  cairo_fill (cr);
}

void
bed_log_bar_draw (cairo_t *cr, const BedYardLog *log, const BedLogBar *bar,
                  const BedYardStyle *style)
{
  const BedPalette *palette = style->palette;
  BedLogLook look = bed_log_look (log, style);
  BedYardColour fill = bed_colour_mix (&palette->bark_light, &look.colour, 0.72);
  double length = hypot (bar->to.x - bar->from.x, bar->to.y - bar->from.y), r = bar->radius;

  cairo_save (cr);
  cairo_translate (cr, bar->from.x, bar->from.y);
  cairo_rotate (cr, atan2 (bar->to.y - bar->from.y, bar->to.x - bar->from.x));
  trace_bar (cr, length, r);
  bed_colour_set (cr, &fill, log->retired ? 0.5 : 1);
  cairo_fill_preserve (cr);
  bed_colour_set (cr, &palette->bark, r < SMALLEST_BARK ? 0.55 : 1);
  cairo_set_line_width (cr, CLAMP (r * 0.16, 0.5, 1.6));
  cairo_stroke_preserve (cr);
  cairo_clip (cr);
  dress_bar (cr, &look, length, r);
  cairo_new_path (cr);
  cairo_restore (cr);
}
