#include "print/yard/yard_draw.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "science/units.h"

#define PLATE 0.85 /* how much north and scale bar hide of what they stand on */
#define EDGE 8.0   /* screen units: a line, the lobes of a crown stand out over their shape */

/* --- ground ----------------------------------------------------------------- */

static void
trace_outline (cairo_t *cr, const BedPlan *plan)
{
  const GArray *outline = plan->scene->yard->outline;

  bed_plan_trace (cr, plan, &g_array_index (outline, BedPoint, 0), outline->len);
  cairo_close_path (cr);
}

/* The longest round length of the style's own unit within @most screen units, in metres. */
static double
find_round (const BedPlan *plan, double most)
{
  double unit = bed_yard_unit (plan->style->system);
  BedViewport in_units = plan->view;

  in_units.scale *= unit;
  return bed_viewport_round_length (&in_units, most) * unit;
}

/* Lines every round length, on whole units of the area, within its outline. */
static void
draw_grid (cairo_t *cr, const BedPlan *plan)
{
  const BedViewport *view = &plan->view;
  double step = MAX (bed_yard_unit (plan->style->system), find_round (plan, 90));
  BedPoint low = bed_viewport_to_world (view, (BedPoint){ 0, view->height });
  BedPoint high = bed_viewport_to_world (view, (BedPoint){ view->width, 0 });

  for (double x = ceil (low.x / step) * step; x <= high.x; x += step)
    {
      double at = round (bed_viewport_to_screen (view, (BedPoint){ x, 0 }).x) + 0.5;
      cairo_move_to (cr, at, 0);
      cairo_line_to (cr, at, view->height);
    }
  for (double y = ceil (low.y / step) * step; y <= high.y; y += step)
    {
      double at = round (bed_viewport_to_screen (view, (BedPoint){ 0, y }).y) + 0.5;
      cairo_move_to (cr, 0, at);
      cairo_line_to (cr, view->width, at);
    }
  bed_colour_stroke (cr, &plan->style->palette->grid, 1, 1);
}

/* --- north, scale ---------------------------------------------------- */

void
bed_plan_draw_north (cairo_t *cr, const BedPlan *plan)
{
  const BedYardStyle *style = plan->style;
  double size = style->text_size * 1.5;

  cairo_save (cr);
  cairo_translate (cr, plan->view.width - size * 1.7, size * 1.9);
  /* What passes under it does not run into it. */
  cairo_arc (cr, 0, -0.3 * size, 1.55 * size, 0, 2 * G_PI);
  bed_colour_fill (cr, &style->palette->around, PLATE);
  cairo_rotate (cr, -plan->scene->yard->north);
  cairo_move_to (cr, 0, -size);
  cairo_line_to (cr, size * 0.42, size * 0.62);
  cairo_line_to (cr, 0, size * 0.34);
  cairo_close_path (cr);
  bed_colour_fill (cr, &style->palette->text, 0.9);
  cairo_move_to (cr, 0, -size);
  cairo_line_to (cr, -size * 0.42, size * 0.62);
  cairo_line_to (cr, 0, size * 0.34);
  cairo_close_path (cr);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  bed_colour_stroke (cr, &style->palette->text, 0.9, 1);
  /* TRANSLATORS: north, on a map */
  const char *letter = C_ ("north", "N");
  double width = bed_text_width (style->type, letter, BED_WEIGHT_BOLD, style->text_size);
  bed_text_show (style->type, cr, letter, BED_WEIGHT_BOLD, style->text_size, -width / 2,
                 -size * 1.12);
  cairo_restore (cr);
}

void
bed_plan_draw_scale_bar (cairo_t *cr, const BedPlan *plan)
{
  const BedYardStyle *style = plan->style;
  double metres = find_round (plan, 130 * style->text_size / 11);
  double length = metres * plan->view.scale, high = style->text_size * 0.36;
  double x = style->text_size * 1.4, y = plan->view.height - style->text_size * 1.6;
  g_autofree char *label
      = g_strdup_printf ("%g %s", metres / bed_yard_unit (style->system),
                         bed_measure_unit (BED_MEASURE_LENGTH_LONG, style->system));

  double text = bed_text_width (style->type, label, BED_WEIGHT_REGULAR, style->text_size);
  cairo_rectangle (cr, x - 0.5 * style->text_size, y - 0.6 * style->text_size,
                   length + text + 1.6 * style->text_size, high + 1.2 * style->text_size);
  bed_colour_fill (cr, &style->palette->around, PLATE);
  for (guint i = 0; i < 2; i++)
    {
      cairo_rectangle (cr, x + i * length / 2, y, length / 2, high);
      bed_colour_fill (cr, i ? &style->palette->around : &style->palette->text, 0.9);
    }
  cairo_rectangle (cr, x, y, length, high);
  bed_colour_stroke (cr, &style->palette->text, 0.9, 1);
  bed_text_show (style->type, cr, label, BED_WEIGHT_REGULAR, style->text_size,
                 x + length + style->text_size * 0.6,
                 y + high / 2 + bed_text_cap_height (style->type, style->text_size) / 2);
}

/* 1 ft = 0.3048 m: NIST SP 811 (2008), appendix B.8 (MEM-H). */
double
bed_yard_unit (BedSystem system)
{
  return system == BED_SYSTEM_US ? 0.3048 : 1;
}

void
bed_plan_trace (cairo_t *cr, const BedPlan *plan, const BedPoint *points, guint n)
{
  cairo_new_path (cr);
  for (guint i = 0; i < n; i++)
    {
      BedPoint at = bed_viewport_to_screen (&plan->view, points[i]);
      cairo_line_to (cr, at.x, at.y);
    }
}

/* Whether the shape may reach into what is looked at. */
static gboolean
is_seen (const BedPlan *plan, const BedShape *shape)
{
  double out = shape->radius * plan->view.scale + EDGE;
  double left = G_MAXDOUBLE, right = -G_MAXDOUBLE, top = G_MAXDOUBLE, bottom = -G_MAXDOUBLE;

  for (guint i = 0; i < shape->n_points; i++)
    {
      BedPoint at = bed_viewport_to_screen (&plan->view, shape->points[i]);
      left = MIN (left, at.x - out);
      right = MAX (right, at.x + out);
      top = MIN (top, at.y - out);
      bottom = MAX (bottom, at.y + out);
    }
  return right > 0 && bottom > 0 && left < plan->view.width && top < plan->view.height;
}

gboolean
bed_plan_sees_stack (const BedPlan *plan, guint index)
{
  const BedYardStack *stack = plan->scene->yard->stacks->pdata[index];
  BedPoint corners[4];

  bed_yard_footprint (plan->scene, index, &stack->pose, corners);
  BedShape foot = bed_shape_polygon (corners, 4);
  return is_seen (plan, &foot);
}

void
bed_plan_draw_ground (cairo_t *cr, const BedPlan *plan)
{
  const BedPalette *palette = plan->style->palette;

  cairo_rectangle (cr, 0, 0, plan->view.width, plan->view.height);
  bed_colour_fill (cr, &palette->around, 1);
  cairo_save (cr);
  trace_outline (cr, plan);
  bed_colour_set (cr, &palette->ground, 1);
  cairo_fill_preserve (cr);
  cairo_clip (cr);
  draw_grid (cr, plan);
  cairo_restore (cr);
  trace_outline (cr, plan);
  bed_colour_stroke (cr, &palette->edge, 1, 1.5);
  for (guint i = 0; i < plan->scene->shapes->len; i++)
    {
      const BedShape *shape = &g_array_index (plan->scene->shapes, BedShape, i);
      if (shape->role != BED_SHAPE_FEATURE)
        break; /* the stacks come after them */
      if (is_seen (plan, shape))
        bed_feature_draw (cr, plan, shape);
    }
}
