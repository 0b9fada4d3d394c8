#include "print/yard/yard_draw.h"

#include <math.h>

/* Screen units to a metre from which logs are seen one by one, then with all they show. */
#define BARS_FROM 8.0
#define LOGS_FROM 40.0

/* What lies beside the colour of a bar: the dark between two logs. */
#define BAR_WIDTH 0.86

/* --- all there is to see ---------------------------------------------------- */

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

/* Features come first among the shapes, then each stack's, in the order of the stacks. */
static guint
find_first (const BedScene *scene, guint index)
{
  guint low = 0, high = scene->shapes->len;

  while (low < high)
    {
      guint middle = (low + high) / 2;
      const BedShape *shape = &g_array_index (scene->shapes, BedShape, middle);

      if (shape->role == BED_SHAPE_FEATURE || shape->owner < index)
        low = middle + 1;
      else
        high = middle;
    }
  return low;
}

static void
draw_logs (cairo_t *cr, const BedPlan *plan, guint index)
{
  for (guint i = find_first (plan->scene, index); i < plan->scene->shapes->len; i++)
    {
      const BedShape *shape = &g_array_index (plan->scene->shapes, BedShape, i);
      if (shape->owner != index)
        return;
      if (shape->role == BED_SHAPE_STACK)
        draw_footprint (cr, plan, shape);
      else
        draw_line_shape (cr, plan, shape);
    }
}

/* --- from farther away ------------------------------------------------------ */

/* From here on: the stack's own frame, screen units, y down. */
static void
enter_frame (cairo_t *cr, const BedPlan *plan, const BedYardStack *stack)
{
  BedPoint at = bed_viewport_to_screen (&plan->view, (BedPoint){ stack->pose.x, stack->pose.y });

  cairo_translate (cr, at.x, at.y);
  cairo_rotate (cr, -stack->pose.turn);
}

static void
trace_ground (cairo_t *cr, const BedPlan *plan, const BedPile *pile)
{
  double x = pile->length * plan->view.scale, y = pile->width * plan->view.scale;

  cairo_rectangle (cr, -x / 2, -y / 2, x, y);
}

static void
draw_empty (cairo_t *cr, const BedPlan *plan, const BedPile *pile)
{
  trace_ground (cr, plan, pile);
  cairo_set_dash (cr, (const double[]){ 3, 2 }, 2, 0);
  bed_colour_stroke (cr, &plan->style->palette->free, 1, 1);
  cairo_set_dash (cr, NULL, 0, 0);
}

/* One bar, into the path. */
static void
trace_log (cairo_t *cr, const BedBar *bar, double scale)
{
  double dx = bar->head.x - bar->foot.x, dy = bar->head.y - bar->foot.y, far = hypot (dx, dy);
  double half = bar->radius * BAR_WIDTH;

  if (far < 2 * bar->radius)
    {
      cairo_new_sub_path (cr);
      cairo_arc (cr, bar->head.x * scale, -bar->head.y * scale, half * scale, 0, 2 * G_PI);
      return;
    }
  double nx = -dy / far * half, ny = dx / far * half;
  cairo_move_to (cr, (bar->foot.x + nx) * scale, -(bar->foot.y + ny) * scale);
  cairo_line_to (cr, (bar->head.x + nx) * scale, -(bar->head.y + ny) * scale);
  cairo_line_to (cr, (bar->head.x - nx) * scale, -(bar->head.y - ny) * scale);
  cairo_line_to (cr, (bar->foot.x - nx) * scale, -(bar->foot.y - ny) * scale);
  cairo_close_path (cr);
}

/* The path in the colour of @log, with its hatch across @pile. */
static void
fill_like (cairo_t *cr, const BedPlan *plan, const BedYardLog *log, const BedPile *pile)
{
  double x = pile->length * plan->view.scale, y = pile->width * plan->view.scale;
  BedHatch hatch = { -x / 2, -y / 2, x, y, CLAMP (plan->view.scale / 6, 3, 5), 0.42 };
  BedLogLook look = bed_log_look (log, plan->style);

  bed_colour_set (cr, &look.colour, 1);
  cairo_save (cr);
  cairo_fill_preserve (cr);
  cairo_clip (cr);
  bed_look_hatch (cr, &look, &hatch);
  cairo_restore (cr);
  cairo_new_path (cr);
}

static gboolean
looks_like (const BedYardLog *a, const BedYardLog *b, const BedYardStyle *style)
{
  return bed_log_class (a, style) == bed_log_class (b, style);
}

/* Logs that look alike and lie in one tier are one path. */
static void
draw_bars (cairo_t *cr, const BedPlan *plan, const BedPile *pile)
{
  const BedBar *last = NULL;

  trace_ground (cr, plan, pile);
  bed_colour_fill (cr, &plan->style->palette->bark, 0.55);
  for (guint i = 0; i < pile->bars->len; i++)
    {
      const BedBar *bar = &g_array_index (pile->bars, BedBar, i);

      /* Of a crib the two upper tiers are seen. */
      if (!bar->log || (pile->kind == BED_STACK_CRIB && bar->tier + 2 <= pile->tiers))
        continue;
      if (last && (last->tier != bar->tier || !looks_like (last->log, bar->log, plan->style)))
        fill_like (cr, plan, last->log, pile);
      trace_log (cr, bar, plan->view.scale);
      last = bar;
    }
  if (last)
    fill_like (cr, plan, last->log, pile);
}

typedef struct
{
  const BedYardLog *log;
  int order;
  guint n;
} Share;

static int
compare_shares (gconstpointer a, gconstpointer b)
{
  return ((const Share *) a)->order - ((const Share *) b)->order;
}

static GArray *
list_shares (const BedYardStack *stack, const BedYardStyle *style)
{
  GArray *shares = g_array_new (FALSE, FALSE, sizeof (Share));

  for (guint i = 0; i < stack->logs->len; i++)
    {
      Share one = { stack->logs->pdata[i], bed_log_class (stack->logs->pdata[i], style), 1 };
      guint at = 0;
      while (at < shares->len && g_array_index (shares, Share, at).order != one.order)
        at++;
      if (at < shares->len)
        g_array_index (shares, Share, at).n++;
      else
        g_array_append_val (shares, one);
    }
  g_array_sort (shares, compare_shares);
  return shares;
}

/* One block, in stripes across its longer way, as wide as each batch has logs in it. */
static void
draw_block (cairo_t *cr, const BedPlan *plan, const BedYardStack *stack, const BedPile *pile)
{
  double x = pile->length * plan->view.scale, y = pile->width * plan->view.scale;
  g_autoptr (GArray) shares = list_shares (stack, plan->style);
  double at = 0;

  for (guint i = 0; i < shares->len; i++)
    {
      const Share *share = &g_array_index (shares, Share, i);
      double part = (double) share->n / stack->logs->len;
      if (x >= y)
        cairo_rectangle (cr, -x / 2 + at * x, -y / 2, part * x, y);
      else
        cairo_rectangle (cr, -x / 2, -y / 2 + at * y, x, part * y);
      fill_like (cr, plan, share->log, pile);
      at += part;
    }
  trace_ground (cr, plan, pile);
  bed_colour_stroke (cr, &plan->style->palette->bark, 0.7, 0.7);
}

/* --- public ----------------------------------------------------------------- */

void
bed_plan_draw_stack (cairo_t *cr, const BedPlan *plan, guint index)
{
  const BedYardStack *stack = plan->scene->yard->stacks->pdata[index];
  const BedPile *pile = plan->scene->piles->pdata[index];

  if (plan->style->detail == BED_DETAIL_ALL || plan->view.scale >= LOGS_FROM)
    {
      draw_logs (cr, plan, index);
      return;
    }
  cairo_save (cr);
  cairo_new_path (cr);
  enter_frame (cr, plan, stack);
  if (stack->logs->len == 0)
    draw_empty (cr, plan, pile);
  else if (plan->view.scale >= BARS_FROM)
    draw_bars (cr, plan, pile);
  else
    draw_block (cr, plan, stack, pile);
  cairo_restore (cr);
}
