#include "print/yard/yard_draw.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "science/units.h"

/* With fewer heights of text to a metre than this, names, then contents, are left out. */
#define NAMES_FROM 1.25
#define CONTENTS_FROM 3.6

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

static void
draw_ground (cairo_t *cr, const BedPlan *plan)
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
      if (shape->role == BED_SHAPE_FEATURE)
        bed_feature_draw (cr, plan, shape);
    }
}

/* --- stacks ----------------------------------------------------------------- */

static void
draw_footprint (cairo_t *cr, const BedPlan *plan, const BedShape *shape)
{
  const BedPalette *palette = plan->style->palette;
  const BedYardStack *stack = g_ptr_array_index (plan->scene->yard->stacks, shape->owner);

  cairo_save (cr);
  cairo_translate (cr, 0, MIN (3, 0.05 * plan->view.scale));
  bed_plan_trace (cr, plan, shape->points, shape->n_points);
  cairo_set_source_rgba (cr, 0, 0, 0, palette->shadow);
  cairo_fill (cr);
  cairo_restore (cr);
  bed_plan_trace (cr, plan, shape->points, shape->n_points);
  cairo_close_path (cr);
  bed_colour_set (cr, &palette->edge, 0.35);
  cairo_fill_preserve (cr);
  if (stack->logs->len == 0)
    {
      cairo_set_dash (cr, (const double[]){ 4, 3 }, 2, 0);
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
  BedLogBar bar = { bed_viewport_to_screen (&plan->view, shape->points[0]),
                    bed_viewport_to_screen (&plan->view, shape->points[1]),
                    shape->radius * plan->view.scale };

  if (!shape->log)
    {
      cairo_move_to (cr, bar.from.x, bar.from.y);
      cairo_line_to (cr, bar.to.x, bar.to.y);
      bed_colour_stroke (cr, &plan->style->palette->rail, 1, MAX (1.2, 2 * bar.radius));
    }
  else if (hypot (bar.to.x - bar.from.x, bar.to.y - bar.from.y) < bar.radius)
    bed_log_end_draw (cr, shape->log, bar.to, bar.radius, plan->style);
  else
    bed_log_bar_draw (cr, shape->log, &bar, plan->style);
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

/* The footprint's box on the screen. */
static BedBox
find_box (const BedPlan *plan, guint index)
{
  const BedYardStack *stack = g_ptr_array_index (plan->scene->yard->stacks, index);
  BedPoint corners[4], low = { G_MAXDOUBLE, G_MAXDOUBLE }, high = { -G_MAXDOUBLE, -G_MAXDOUBLE };

  bed_yard_footprint (plan->scene, index, &stack->pose, corners);
  for (guint i = 0; i < 4; i++)
    {
      BedPoint at = bed_viewport_to_screen (&plan->view, corners[i]);
      low = (BedPoint){ MIN (low.x, at.x), MIN (low.y, at.y) };
      high = (BedPoint){ MAX (high.x, at.x), MAX (high.y, at.y) };
    }
  return (BedBox){ low.x, low.y, high.x - low.x, high.y - low.y };
}

static gboolean
is_free (const GArray *taken, const BedBox *box)
{
  for (guint i = 0; i < taken->len; i++)
    {
      const BedBox *other = &g_array_index (taken, BedBox, i);
      if (box->x < other->x + other->width && other->x < box->x + box->width
          && box->y < other->y + other->height && other->y < box->y + box->height)
        return FALSE;
    }
  return TRUE;
}

/* Under the stack, or above it where another name has that place, or across it, or nowhere. */
static gboolean
find_room (const GArray *taken, const BedBox *foot, double line, BedBox *box)
{
  const double tops[] = { foot->y + foot->height + 0.3 * line, foot->y - box->height - 0.3 * line,
                          foot->y + (foot->height - box->height) / 2 };

  for (guint i = 0; i < G_N_ELEMENTS (tops); i++)
    {
      box->y = tops[i];
      if (is_free (taken, box))
        return TRUE;
    }
  return FALSE;
}

static void
draw_name (cairo_t *cr, const BedPlan *plan, guint index, GArray *taken)
{
  const BedYardStack *stack = g_ptr_array_index (plan->scene->yard->stacks, index);
  const BedYardStyle *style = plan->style;
  g_autofree char *contents = plan->view.scale >= CONTENTS_FROM * style->text_size
                                  ? bed_yard_stack_contents (stack)
                                  : NULL;
  BedBox foot = find_box (plan, index), box;
  double size = style->text_size, middle = foot.x + foot.width / 2;

  if (!stack->name)
    return;
  box.width = bed_text_width (style->type, stack->name, BED_WEIGHT_BOLD, size) + 4;
  if (contents)
    box.width = MAX (box.width,
                     bed_text_width (style->type, contents, BED_WEIGHT_REGULAR, 0.9 * size) + 4);
  box.height = (contents ? 2.25 : 1) * size;
  box.x = middle - box.width / 2;
  if (!find_room (taken, &foot, size, &box))
    return;
  g_array_append_val (taken, box);
  cairo_rectangle (cr, box.x, box.y, box.width, box.height);
  bed_colour_fill (cr, &style->palette->ground, 0.6); /* read over grid, hatch and logs */
  bed_colour_set (cr, &style->palette->text, 1);
  show_centred (cr, style, stack->name, BED_WEIGHT_BOLD, (BedPoint){ middle, box.y + 0.9 * size });
  if (!contents)
    return;
  bed_colour_set (cr, &style->palette->dim, 1);
  show_centred (cr, style, contents, BED_WEIGHT_REGULAR, (BedPoint){ middle, box.y + 2.05 * size });
}

static void
draw_names (cairo_t *cr, const BedPlan *plan, int but)
{
  g_autoptr (GArray) taken = g_array_new (FALSE, FALSE, sizeof (BedBox));

  if (plan->view.scale < NAMES_FROM * plan->style->text_size)
    return;
  for (guint i = 0; i < plan->scene->yard->stacks->len; i++)
    if ((int) i != but)
      draw_name (cr, plan, i, taken);
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
  bed_colour_fill (cr, &style->palette->text, 0.9);
  cairo_move_to (cr, 0, -size);
  cairo_line_to (cr, -size * 0.42, size * 0.62);
  cairo_line_to (cr, 0, size * 0.34);
  cairo_close_path (cr);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  bed_colour_stroke (cr, &style->palette->text, 0.9, 1);
  /* TRANSLATORS: north, on a map */
  show_centred (cr, style, _ ("N"), BED_WEIGHT_BOLD, (BedPoint){ 0, -size * 1.12 });
  cairo_restore (cr);
}

static void
draw_scale_bar (cairo_t *cr, const BedPlan *plan)
{
  const BedYardStyle *style = plan->style;
  double metres = find_round (plan, 130 * style->text_size / 11);
  double length = metres * plan->view.scale, high = style->text_size * 0.36;
  double x = style->text_size * 1.4, y = plan->view.height - style->text_size * 1.6;
  g_autofree char *label
      = g_strdup_printf ("%g %s", metres / bed_yard_unit (style->system),
                         bed_measure_unit (BED_MEASURE_LENGTH_LONG, style->system));

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
bed_plan_draw (cairo_t *cr, const BedPlan *plan, int but)
{
  draw_ground (cr, plan);
  for (guint i = 0; i < plan->scene->yard->stacks->len; i++)
    if ((int) i != but)
      bed_plan_draw_stack (cr, plan, i);
  draw_names (cr, plan, but);
  draw_north (cr, plan);
  draw_scale_bar (cr, plan);
}
