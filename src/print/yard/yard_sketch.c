#include "print/yard/yard_draw.h"

#include <math.h>

/* A few logs of one thickness are enough to know a kind by. */
static const struct
{
  guint tiers, per_tier;
  double diameter;
} sketches[BED_N_STACKS] = {
  [BED_STACK_DEAD] = { 3, 5, 0.2 },     [BED_STACK_CRIB] = { 4, 3, 0.17 },
  [BED_STACK_LEAN_TO] = { 2, 1, 0.14 }, [BED_STACK_A_FRAME] = { 2, 1, 0.14 },
  [BED_STACK_UPRIGHT] = { 2, 1, 0.14 }, [BED_STACK_GROUND] = { 1, 5, 0.17 },
  [BED_STACK_TOTEM] = { 2, 2, 0.4 },
};

static BedYardStack *
make_stack (BedStackKind kind)
{
  BedYardStack *stack = bed_yard_stack_new (kind);

  stack->tiers = sketches[kind].tiers;
  stack->per_tier = sketches[kind].per_tier;
  for (guint tier = 1; tier <= stack->tiers; tier++)
    for (guint i = 0; i < bed_stack_slots (kind, stack->per_tier, tier); i++)
      {
        BedYardLog *log = bed_yard_log_new ();
        log->length = 1;
        log->diameter = sketches[kind].diameter;
        g_ptr_array_add (stack->logs, log);
      }
  return stack;
}

/* Leaning logs are known by their slant, seen along the row; the others by their ends. */
static BedPoint
project (BedStackKind kind, BedPoint3 point)
{
  gboolean leaning = kind == BED_STACK_LEAN_TO || kind == BED_STACK_A_FRAME
                     || kind == BED_STACK_UPRIGHT;
  return (BedPoint){ leaning ? point.x : point.y, point.z };
}

static void
draw_bar (cairo_t *cr, const BedPile *pile, const BedBar *bar, const BedViewport *view,
          const BedYardStyle *style)
{
  BedPoint foot = bed_viewport_to_screen (view, project (pile->kind, bar->foot));
  BedPoint head = bed_viewport_to_screen (view, project (pile->kind, bar->head));
  BedLogBar line = { foot, head, bar->radius * view->scale };

  if (hypot (head.x - foot.x, head.y - foot.y) > 1)
    {
      bed_log_bar_draw (cr, bar->log, &line, style);
      return;
    }
  cairo_new_sub_path (cr);
  cairo_arc (cr, head.x, head.y, line.radius - 0.5, 0, 2 * G_PI);
  bed_colour_set (cr, &style->palette->sapwood, 1);
  cairo_fill_preserve (cr);
  bed_colour_stroke (cr, &style->palette->bark_light, 1, 1.2);
}

void
bed_stack_sketch_draw (cairo_t *cr, BedStackKind kind, const BedBox *box, const BedYardStyle *style)
{
  g_autoptr (BedYardStack) stack = make_stack (kind);
  g_autoptr (BedPile) pile = bed_pile_new (stack);
  BedViewport view = { .width = box->width, .height = box->height };
  double wide = MAX (pile->length, pile->width);
  BedExtent extent = { -wide / 2, 0, wide, MAX (pile->height, 0.5 * wide) };

  cairo_save (cr);
  cairo_translate (cr, box->x, box->y);
  bed_viewport_fit (&view, &extent, 2);
  for (guint tier = 0; tier < 2; tier++) /* what lies across is behind the ends */
    for (guint i = 0; i < pile->bars->len; i++)
      {
        const BedBar *bar = &g_array_index (pile->bars, BedBar, i);
        if (bar->tier % 2 == tier)
          draw_bar (cr, pile, bar, &view, style);
      }
  cairo_restore (cr);
}
