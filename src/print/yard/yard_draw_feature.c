#include "print/yard/yard_draw.h"

#include <math.h>

#define POST_SPACING 2.0 /* metres between a drawn fence's posts; our own choice */

static void
trace (cairo_t *cr, const BedPlan *plan, const BedShape *shape)
{
  bed_plan_trace (cr, plan, shape->points, shape->n_points);
  if (shape->form == BED_SHAPE_AREA)
    cairo_close_path (cr);
}

static void
trace_disc (cairo_t *cr, const BedPlan *plan, const BedShape *shape, double share)
{
  BedPoint at = bed_viewport_to_screen (&plan->view, shape->points[0]);

  cairo_new_sub_path (cr);
  cairo_arc (cr, at.x, at.y, share * shape->radius * plan->view.scale, 0, 2 * G_PI);
}

static void
trace_any (cairo_t *cr, const BedPlan *plan, const BedShape *shape)
{
  if (shape->form == BED_SHAPE_DISC)
    trace_disc (cr, plan, shape, 1);
  else
    trace (cr, plan, shape);
}

/* A closed curve through the middles of the edges: water has no corners. */
static void
trace_smooth (cairo_t *cr, const BedPlan *plan, const BedShape *shape)
{
  guint n = shape->n_points;

  if (shape->form == BED_SHAPE_DISC || n < 3)
    {
      trace_any (cr, plan, shape);
      return;
    }
  for (guint i = 0; i <= n; i++)
    {
      BedPoint a = bed_viewport_to_screen (&plan->view, shape->points[i % n]);
      BedPoint b = bed_viewport_to_screen (&plan->view, shape->points[(i + 1) % n]);
      double x = (a.x + b.x) / 2, y = (a.y + b.y) / 2;
      if (i == 0)
        cairo_move_to (cr, x, y);
      else
        {
          double from_x, from_y;
          cairo_get_current_point (cr, &from_x, &from_y);
          cairo_curve_to (cr, from_x + 2.0 / 3 * (a.x - from_x), from_y + 2.0 / 3 * (a.y - from_y),
                          x + 2.0 / 3 * (a.x - x), y + 2.0 / 3 * (a.y - y), x, y);
        }
    }
  cairo_close_path (cr);
}

static void
fill_and_edge (cairo_t *cr, const BedYardColour *fill, const BedYardColour *edge, double width)
{
  bed_colour_set (cr, fill, 1);
  cairo_fill_preserve (cr);
  bed_colour_stroke (cr, edge, 1, width);
}

/* A crown with lobes; the same tree has the same lobes at every scale. */
static void
draw_tree (cairo_t *cr, const BedPlan *plan, const BedShape *shape)
{
  const BedPalette *palette = plan->style->palette;
  BedPoint at = bed_viewport_to_screen (&plan->view, shape->points[0]);
  double radius = shape->radius * plan->view.scale, phase = shape->owner * 1.7;

  for (int i = 0; i <= 72; i++)
    {
      double angle = i * G_PI / 36;
      double lobe = 1 + 0.05 * sin (7 * angle + phase) + 0.035 * sin (4 * angle + 2 * phase)
                    + 0.02 * sin (13 * angle);
      cairo_line_to (cr, at.x + radius * 0.95 * lobe * cos (angle),
                     at.y + radius * 0.95 * lobe * sin (angle));
    }
  cairo_close_path (cr);
  bed_colour_set (cr, &palette->crown, palette->crown_cover);
  cairo_fill_preserve (cr);
  bed_colour_stroke (cr, &palette->crown_edge, 0.8, 1);
  cairo_new_sub_path (cr);
  cairo_arc (cr, at.x, at.y, CLAMP (0.09 * radius, 1.2, 6), 0, 2 * G_PI);
  bed_colour_fill (cr, &palette->crown_edge, 1);
}

static void
draw_path (cairo_t *cr, const BedPlan *plan, const BedShape *shape)
{
  if (shape->form == BED_SHAPE_DISC)
    {
      trace_disc (cr, plan, shape, 1);
      bed_colour_fill (cr, &plan->style->palette->path, 1);
      return;
    }
  trace (cr, plan, shape);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  bed_colour_stroke (cr, &plan->style->palette->path, 1,
                     MAX (1.5, 2 * shape->radius * plan->view.scale));
}

static void
draw_pond (cairo_t *cr, const BedPlan *plan, const BedShape *shape)
{
  const BedPalette *palette = plan->style->palette;

  trace_smooth (cr, plan, shape);
  fill_and_edge (cr, &palette->water, &palette->water_edge, 1.2);
  if (shape->form != BED_SHAPE_DISC)
    return;
  trace_disc (cr, plan, shape, 0.62);
  cairo_set_dash (cr, (const double[]){ 7, 5 }, 2, 0);
  bed_colour_stroke (cr, &palette->water_edge, 0.55, 1);
}

static void
draw_tank (cairo_t *cr, const BedPlan *plan, const BedShape *shape)
{
  const BedPalette *palette = plan->style->palette;

  trace_any (cr, plan, shape);
  fill_and_edge (cr, &palette->water, &palette->wall_edge, CLAMP (0.06 * plan->view.scale, 1.2, 4));
}

static void
draw_tap (cairo_t *cr, const BedPlan *plan, const BedShape *shape)
{
  const BedPalette *palette = plan->style->palette;
  BedPoint at = bed_viewport_to_screen (&plan->view, shape->points[0]);
  double r = MAX (3, shape->radius * plan->view.scale);

  cairo_move_to (cr, at.x, at.y - 1.5 * r);
  cairo_curve_to (cr, at.x + 0.4 * r, at.y - 0.7 * r, at.x + r, at.y - 0.2 * r, at.x + r,
                  at.y + 0.35 * r);
  cairo_arc (cr, at.x, at.y + 0.35 * r, r, 0, G_PI);
  cairo_curve_to (cr, at.x - r, at.y - 0.2 * r, at.x - 0.4 * r, at.y - 0.7 * r, at.x,
                  at.y - 1.5 * r);
  cairo_close_path (cr);
  fill_and_edge (cr, &palette->water, &palette->water_edge, 1.2);
}

static void
draw_posts (cairo_t *cr, const BedPlan *plan, BedPoint from, BedPoint to)
{
  double length = hypot (to.x - from.x, to.y - from.y);
  guint n = MAX (1, (guint) round (length / POST_SPACING));

  for (guint i = 0; i <= n; i++)
    {
      BedPoint post = { from.x + i * (to.x - from.x) / n, from.y + i * (to.y - from.y) / n };
      BedPoint at = bed_viewport_to_screen (&plan->view, post);
      cairo_new_sub_path (cr);
      cairo_arc (cr, at.x, at.y, CLAMP (0.06 * plan->view.scale, 1.1, 4), 0, 2 * G_PI);
    }
  cairo_fill (cr);
}

static void
draw_fence (cairo_t *cr, const BedPlan *plan, const BedShape *shape)
{
  trace (cr, plan, shape);
  bed_colour_stroke (cr, &plan->style->palette->fence, 1, 1);
  for (guint i = 0; i + 1 < shape->n_points; i++)
    draw_posts (cr, plan, shape->points[i], shape->points[i + 1]);
}

/* A ridge along the longer way of a roof with four corners. */
static void
draw_ridge (cairo_t *cr, const BedPlan *plan, const BedShape *shape)
{
  BedPoint p[5];
  guint i;

  for (i = 0; i < 5; i++)
    p[i] = bed_viewport_to_screen (&plan->view, shape->points[i % 4]);
  i = hypot (p[1].x - p[0].x, p[1].y - p[0].y) > hypot (p[2].x - p[1].x, p[2].y - p[1].y);
  cairo_move_to (cr, (p[i].x + p[i + 1].x) / 2, (p[i].y + p[i + 1].y) / 2);
  cairo_line_to (cr, (p[i + 2].x + p[(i + 3) % 4].x) / 2, (p[i + 2].y + p[(i + 3) % 4].y) / 2);
  bed_colour_stroke (cr, &plan->style->palette->wall_edge, 0.6, 1);
}

static void
draw_building (cairo_t *cr, const BedPlan *plan, const BedShape *shape)
{
  const BedPalette *palette = plan->style->palette;

  trace_any (cr, plan, shape);
  fill_and_edge (cr, &palette->wall, &palette->wall_edge, 1.6);
  if (shape->n_points == 4)
    draw_ridge (cr, plan, shape);
}

static void
draw_cloth (cairo_t *cr, const BedPlan *plan, const BedShape *shape)
{
  const BedPalette *palette = plan->style->palette;
  BedPoint origin = bed_viewport_to_screen (&plan->view, (BedPoint){ 0, 0 });
  double x1, y1, x2, y2;

  cairo_save (cr);
  trace_any (cr, plan, shape);
  bed_colour_set (cr, &palette->cloth, 0.9);
  cairo_set_line_width (cr, 1.2);
  cairo_set_dash (cr, (const double[]){ 6, 4 }, 2, 0);
  cairo_stroke_preserve (cr);
  cairo_set_dash (cr, NULL, 0, 0);
  bed_colour_set (cr, &palette->cloth, 0.12);
  cairo_fill_preserve (cr);
  cairo_clip_extents (cr, &x1, &y1, &x2, &y2);
  cairo_clip (cr);
  cairo_clip_extents (cr, &x1, &y1, &x2, &y2);
  /* Anchored to the ground: drawn in pieces, its lines still run on. */
  double from = origin.x + origin.y;
  for (double c = from + ceil ((x1 + y1 - from) / 8) * 8; c < x2 + y2; c += 8)
    {
      cairo_move_to (cr, c - y2, y2);
      cairo_line_to (cr, c - y1, y1);
    }
  bed_colour_stroke (cr, &palette->cloth, 0.3, 0.7);
  cairo_restore (cr);
}

void
bed_feature_draw (cairo_t *cr, const BedPlan *plan, const BedShape *shape)
{
  static void (*const draw[BED_N_FEATURE_KINDS]) (cairo_t *, const BedPlan *, const BedShape *) = {
    [BED_FEATURE_TREE] = draw_tree,         [BED_FEATURE_PATH] = draw_path,
    [BED_FEATURE_POND] = draw_pond,         [BED_FEATURE_TANK] = draw_tank,
    [BED_FEATURE_TAP] = draw_tap,           [BED_FEATURE_FENCE] = draw_fence,
    [BED_FEATURE_BUILDING] = draw_building, [BED_FEATURE_SHADE_CLOTH] = draw_cloth,
  };
  const BedYardFeature *feature = g_ptr_array_index (plan->scene->yard->features, shape->owner);

  g_return_if_fail (feature->kind < BED_N_FEATURE_KINDS);
  cairo_save (cr);
  cairo_new_path (cr);
  draw[feature->kind](cr, plan, shape);
  cairo_restore (cr);
}
