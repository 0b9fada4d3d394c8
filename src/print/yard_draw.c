#include "print/yard_draw.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* --- ground ----------------------------------------------------------------- */

static void
trace_outline (cairo_t *cr, const BedPlan *plan)
{
  const GArray *outline = plan->scene->yard->outline;

  cairo_new_path (cr);
  for (guint i = 0; i < outline->len; i++)
    {
      BedPoint at = bed_view_to_screen (&plan->view, g_array_index (outline, BedPoint, i));
      cairo_line_to (cr, at.x, at.y);
    }
  cairo_close_path (cr);
}

/* Lines every round length, on whole metres of the area, within its outline. */
static void
draw_grid (cairo_t *cr, const BedPlan *plan)
{
  const BedView *view = &plan->view;
  double step = MAX (1, bed_view_round_length (view, 90));
  BedPoint low = bed_view_to_world (view, (BedPoint) { 0, view->height });
  BedPoint high = bed_view_to_world (view, (BedPoint) { view->width, 0 });

  for (double x = ceil (low.x / step) * step; x <= high.x; x += step)
    {
      double at = round (bed_view_to_screen (view, (BedPoint) { x, 0 }).x) + 0.5;
      cairo_move_to (cr, at, 0);
      cairo_line_to (cr, at, view->height);
    }
  for (double y = ceil (low.y / step) * step; y <= high.y; y += step)
    {
      double at = round (bed_view_to_screen (view, (BedPoint) { 0, y }).y) + 0.5;
      cairo_move_to (cr, 0, at);
      cairo_line_to (cr, view->width, at);
    }
  bed_colour_set (cr, &plan->style->palette->grid, 1);
  cairo_set_line_width (cr, 1);
  cairo_stroke (cr);
}

/* --- stacks ----------------------------------------------------------------- */

static void
trace_footprint (cairo_t *cr, const BedPlan *plan, const BedShape *shape, double down)
{
  cairo_new_path (cr);
  for (guint i = 0; i < shape->n_points; i++)
    {
      BedPoint at = bed_view_to_screen (&plan->view, shape->points[i]);
      cairo_line_to (cr, at.x, at.y + down);
    }
  cairo_close_path (cr);
}

static void
draw_footprint (cairo_t *cr, const BedPlan *plan, const BedShape *shape)
{
  const BedPalette *palette = plan->style->palette;
  const BedYardStack *stack = g_ptr_array_index (plan->scene->yard->stacks, shape->owner);

  trace_footprint (cr, plan, shape, MIN (3, 0.05 * plan->view.scale));
  cairo_set_source_rgba (cr, 0, 0, 0, palette->shadow);
  cairo_fill (cr);
  trace_footprint (cr, plan, shape, 0);
  bed_colour_set (cr, &palette->edge, 0.35);
  cairo_fill_preserve (cr);
  if (stack->logs->len == 0)
    {
      cairo_set_dash (cr, (const double[]) { 4, 3 }, 2, 0);
      bed_colour_set (cr, &palette->free, 1);
      cairo_set_line_width (cr, 1.2);
      cairo_stroke_preserve (cr);
      cairo_set_dash (cr, NULL, 0, 0);
    }
  cairo_new_path (cr);
}

static void
draw_line_shape (cairo_t *cr, const BedPlan *plan, const BedShape *shape)
{
  BedLogBar bar = { bed_view_to_screen (&plan->view, shape->points[0]),
                    bed_view_to_screen (&plan->view, shape->points[1]),
                    shape->radius * plan->view.scale };

  if (shape->log)
    {
      bed_log_bar_draw (cr, shape->log, &bar, plan->style);
      return;
    }
  cairo_move_to (cr, bar.from.x, bar.from.y);
  cairo_line_to (cr, bar.to.x, bar.to.y);
  cairo_set_line_width (cr, MAX (1.2, 2 * bar.radius));
  bed_colour_set (cr, &plan->style->palette->rail, 1);
  cairo_stroke (cr);
}

/* --- names, north, scale ---------------------------------------------------- */

static void
show_centred (cairo_t *cr, const BedYardStyle *style, const char *text, BedTextWeight weight,
              BedPoint at)
{
  double size = weight == BED_WEIGHT_BOLD ? style->text_size : style->text_size * 0.9;
  double width = bed_text_width (style->type, text, weight, size);

  bed_text_show (style->type, cr, text, weight, size, at.x - width / 2, at.y);
}

static void
draw_north (cairo_t *cr, const BedPlan *plan)
{
  const BedYardStyle *style = plan->style;
  double size = style->text_size * 1.5;

  cairo_save (cr);
  cairo_translate (cr, plan->view.width - size * 1.7, size * 1.9);
  cairo_rotate (cr, -plan->scene->yard->north);
  cairo_move_to (cr, 0, -size);
  cairo_line_to (cr, size * 0.42, size * 0.62);
  cairo_line_to (cr, 0, size * 0.34);
  cairo_close_path (cr);
  bed_colour_set (cr, &style->palette->text, 0.9);
  cairo_fill (cr);
  cairo_move_to (cr, 0, -size);
  cairo_line_to (cr, -size * 0.42, size * 0.62);
  cairo_line_to (cr, 0, size * 0.34);
  cairo_close_path (cr);
  bed_colour_set (cr, &style->palette->text, 0.9);
  cairo_set_line_width (cr, 1);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_stroke (cr);
  /* TRANSLATORS: north, on a map */
  show_centred (cr, style, _ ("N"), BED_WEIGHT_BOLD, (BedPoint) { 0, -size * 1.12 });
  cairo_restore (cr);
}

static void
draw_scale_bar (cairo_t *cr, const BedPlan *plan)
{
  const BedYardStyle *style = plan->style;
  double metres = bed_view_round_length (&plan->view, 130 * style->text_size / 11);
  double length = metres * plan->view.scale, high = style->text_size * 0.36;
  double x = style->text_size * 1.4, y = plan->view.height - style->text_size * 1.6;
  g_autofree char *label = g_strdup_printf (_ ("%g m"), metres);

  for (guint i = 0; i < 2; i++)
    {
      cairo_rectangle (cr, x + i * length / 2, y, length / 2, high);
      bed_colour_set (cr, i ? &style->palette->around : &style->palette->text, 0.9);
      cairo_fill (cr);
    }
  cairo_rectangle (cr, x, y, length, high);
  bed_colour_set (cr, &style->palette->text, 0.9);
  cairo_set_line_width (cr, 1);
  cairo_stroke (cr);
  bed_text_show (style->type, cr, label, BED_WEIGHT_REGULAR, style->text_size,
                 x + length + style->text_size * 0.6,
                 y + high / 2 + bed_text_cap_height (style->type, style->text_size) / 2);
}

void
bed_plan_draw_ground (cairo_t *cr, const BedPlan *plan)
{
  const BedPalette *palette = plan->style->palette;

  bed_colour_set (cr, &palette->around, 1);
  cairo_rectangle (cr, 0, 0, plan->view.width, plan->view.height);
  cairo_fill (cr);
  cairo_save (cr);
  trace_outline (cr, plan);
  bed_colour_set (cr, &palette->ground, 1);
  cairo_fill_preserve (cr);
  cairo_clip (cr);
  draw_grid (cr, plan);
  cairo_restore (cr);
  trace_outline (cr, plan);
  bed_colour_set (cr, &palette->edge, 1);
  cairo_set_line_width (cr, 1.5);
  cairo_stroke (cr);
  for (guint i = 0; i < plan->scene->shapes->len; i++)
    {
      const BedShape *shape = &g_array_index (plan->scene->shapes, BedShape, i);
      if (shape->role == BED_SHAPE_FEATURE)
        bed_feature_draw (cr, plan, shape);
    }
}

void
bed_plan_draw_stack (cairo_t *cr, const BedPlan *plan, guint index)
{
  for (guint i = 0; i < plan->scene->shapes->len; i++)
    {
      const BedShape *shape = &g_array_index (plan->scene->shapes, BedShape, i);
      if (shape->role == BED_SHAPE_FEATURE || shape->owner != index)
        continue;
      if (shape->role == BED_SHAPE_STACK)
        draw_footprint (cr, plan, shape);
      else
        draw_line_shape (cr, plan, shape);
    }
}

void
bed_plan_draw_name (cairo_t *cr, const BedPlan *plan, guint index)
{
  const BedYardStack *stack = g_ptr_array_index (plan->scene->yard->stacks, index);
  BedPoint corners[4], at = { 0, -G_MAXDOUBLE };
  const BedYardStyle *style = plan->style;

  if (!stack->name || plan->view.scale < 14)
    return;
  bed_yard_footprint (plan->scene, index, &stack->pose, corners);
  for (guint i = 0; i < 4; i++)
    at.y = MAX (at.y, bed_view_to_screen (&plan->view, corners[i]).y);
  at.x = bed_view_to_screen (&plan->view, (BedPoint) { stack->pose.x, stack->pose.y }).x;
  at.y += style->text_size * 1.35;
  bed_colour_set (cr, &style->palette->text, 1);
  show_centred (cr, style, stack->name, BED_WEIGHT_BOLD, at);
  if (plan->view.scale < 45)
    return;
  g_autofree char *contents = bed_yard_stack_contents (stack);
  bed_colour_set (cr, &style->palette->dim, 1);
  at.y += style->text_size * 1.15;
  show_centred (cr, style, contents, BED_WEIGHT_REGULAR, at);
}

void
bed_plan_draw_furniture (cairo_t *cr, const BedPlan *plan)
{
  draw_north (cr, plan);
  draw_scale_bar (cr, plan);
}

void
bed_plan_draw (cairo_t *cr, const BedPlan *plan)
{
  guint n = plan->scene->yard->stacks->len;

  bed_plan_draw_ground (cr, plan);
  for (guint i = 0; i < n; i++)
    bed_plan_draw_stack (cr, plan, i);
  for (guint i = 0; i < n; i++)
    bed_plan_draw_name (cr, plan, i);
  bed_plan_draw_furniture (cr, plan);
}
