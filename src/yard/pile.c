#include "yard/pile.h"

#include <math.h>

#include "yard/heap.h"

/* The size of a free slot when the stack has no log to go by. */
#define USUAL_LENGTH 1.0
#define USUAL_DIAMETER 0.12
#define TOTEM_LENGTH 0.3
#define TOTEM_DIAMETER 0.25

static const struct
{
  guint tiers, per_tier;
} usual[BED_N_STACKS] = {
  [BED_STACK_DEAD] = { 5, 9 },     [BED_STACK_CRIB] = { 6, 4 },     [BED_STACK_LEAN_TO] = { 3, 8 },
  [BED_STACK_A_FRAME] = { 2, 12 }, [BED_STACK_UPRIGHT] = { 2, 12 }, [BED_STACK_GROUND] = { 1, 12 },
  [BED_STACK_TOTEM] = { 2, 6 },
};

#define MOST_TIERS 40u
#define MOST_PER_TIER 1000u

/* Between the rows of one stack, one behind the other. Our own choice. */
#define ROW_SPACE 0.2

/* The share of its length that a crib's outer logs stand apart: the rest is the
 * overhang at both ends. Our own choice. */
#define CRIB_SPAN 0.86

/* A rail as high as this share of the shortest log lets all lean well: common practice, no source.
 * A log must be longer than its rail is high. */
#define LEAN_TO_RAIL 0.45
#define A_FRAME_RAIL 0.9
#define HIGHEST_RAIL 0.95

/* Of its length, so much of a lean-to's log is beyond the rail. Our own choice. */
#define OVER_RAIL 0.08

/* Half the thickness of what logs lie on. Our own choice. */
#define RAIL_RADIUS 0.03
#define POST_RADIUS 0.03
#define RUNNER_RADIUS 0.05
#define STAKE_RADIUS 0.025
#define BASE_RADIUS 0.03
#define CAP_RADIUS 0.02

/* Runners lie this share of the logs' length apart. Our own choice. */
#define RUNNER_SPAN 0.7

typedef struct
{
  const BedYardStack *stack;
  BedPile *pile;
  const BedYardLog **slots; /* tiers x per_tier, row by row */
  double length, diameter;  /* of a free slot; length: the longest log */
  double shortest;
  double rail, air, aisle; /* of the kind's rules, metres */
} Layout;

/* --- who lies where --------------------------------------------------------- */

static guint
count_slots (BedStackKind kind, guint per_tier, guint tiers)
{
  guint n = 0;

  for (guint tier = 1; tier <= tiers; tier++)
    n += bed_stack_slots (kind, per_tier, tier);
  return n;
}

static void
size_pile (Layout *self)
{
  const BedYardStack *stack = self->stack;
  BedPile *pile = self->pile;
  guint asked = bed_stack_tiers (stack->kind, stack->tiers);

  pile->per_tier = bed_stack_per_tier (stack->kind, stack->per_tier);
  pile->per_tier = CLAMP (pile->per_tier, 1, MOST_PER_TIER);
  asked = CLAMP (asked, 1, MOST_TIERS);
  pile->tiers = asked;
  pile->holds = count_slots (stack->kind, pile->per_tier, asked);
  for (guint i = 0; i < stack->logs->len; i++)
    {
      const BedYardLog *log = g_ptr_array_index (stack->logs, i);
      if (log->slot && log->slot <= bed_stack_slots (stack->kind, pile->per_tier, log->tier))
        pile->tiers = MAX (pile->tiers, MIN (log->tier, MOST_TIERS));
      self->length = MAX (self->length, log->length);
      self->shortest = i ? MIN (self->shortest, log->length) : log->length;
      self->diameter += log->diameter / stack->logs->len;
    }
  while (count_slots (stack->kind, pile->per_tier, pile->tiers) < stack->logs->len)
    pile->tiers++;
  if (stack->logs->len == 0)
    {
      gboolean totem = stack->kind == BED_STACK_TOTEM;
      self->length = self->shortest = totem ? TOTEM_LENGTH : USUAL_LENGTH;
      self->diameter = totem ? TOTEM_DIAMETER : USUAL_DIAMETER;
    }
}

static void
read_rules (Layout *self)
{
  const BedStackRules *rules = &self->stack->rules;
  double share = self->pile->kind == BED_STACK_LEAN_TO ? LEAN_TO_RAIL : A_FRAME_RAIL;

  self->pile->diameter = self->diameter;
  self->rail = share * self->shortest;
  if (rules->rail_height > 0) /* the farm's own */
    self->rail = MIN (rules->rail_height / 1000, HIGHEST_RAIL * self->shortest);
  self->air = rules->air * self->diameter;
  self->aisle = rules->aisle / 1000;
}

static const BedYardLog **
slot_at (Layout *self, guint tier, guint slot)
{
  return &self->slots[(gsize) (tier - 1) * self->pile->per_tier + slot - 1];
}

static gboolean
take_slot (Layout *self, const BedYardLog *log)
{
  BedPile *pile = self->pile;

  if (log->tier < 1 || log->tier > pile->tiers || log->slot < 1
      || log->slot > bed_stack_slots (pile->kind, pile->per_tier, log->tier))
    return FALSE;
  const BedYardLog **at = slot_at (self, log->tier, log->slot);
  if (*at)
    return FALSE;
  *at = log;
  return TRUE;
}

/* Logs with a slot first, then the others from the bottom up. */
static void
assign_slots (Layout *self)
{
  g_autoptr (GPtrArray) others = g_ptr_array_new ();
  BedPile *pile = self->pile;
  guint next = 0;

  for (guint i = 0; i < self->stack->logs->len; i++)
    {
      gpointer log = g_ptr_array_index (self->stack->logs, i);
      if (!take_slot (self, log))
        g_ptr_array_add (others, log);
    }
  for (guint tier = 1; tier <= pile->tiers; tier++)
    for (guint slot = 1; slot <= bed_stack_slots (pile->kind, pile->per_tier, tier); slot++)
      {
        const BedYardLog **at = slot_at (self, tier, slot);
        if (!*at && next < others->len)
          *at = g_ptr_array_index (others, next++);
      }
}

/* The free slots of tiers beyond those asked for are nobody's target. */
static void
add_bars (Layout *self)
{
  BedPile *pile = self->pile;
  guint asked = bed_stack_tiers (pile->kind, self->stack->tiers);

  for (guint tier = 1; tier <= pile->tiers; tier++)
    for (guint slot = 1; slot <= bed_stack_slots (pile->kind, pile->per_tier, tier); slot++)
      {
        BedBar bar = { .log = *slot_at (self, tier, slot), .tier = tier, .slot = slot };
        bar.radius = (bar.log ? bar.log->diameter : self->diameter) / 2;
        if (bar.log && tier > asked)
          pile->over++;
        if (bar.log || tier <= asked)
          g_array_append_val (pile->bars, bar);
      }
}

/* --- where that is ---------------------------------------------------------- */

static BedBar *
get_bar (Layout *self, guint i)
{
  return &g_array_index (self->pile->bars, BedBar, i);
}

static double
get_length (Layout *self, const BedBar *bar)
{
  return bar->log ? bar->log->length : self->length;
}

/* The bars of one tier are consecutive: where the next tier begins. */
static guint
end_of_tier (Layout *self, guint from)
{
  guint end = from;

  while (end < self->pile->bars->len && get_bar (self, end)->tier == get_bar (self, from)->tier)
    end++;
  return end;
}

static void
lay_along_x (Layout *self, BedBar *bar, double y, double z)
{
  double half = get_length (self, bar) / 2;

  bar->foot = (BedPoint3){ -half, y, z };
  bar->head = (BedPoint3){ half, y, z };
}

/* Places the bars [from, to) side by side across @span, evenly apart but never
 * nearer than @least; gives each middle through @middles. Returns the free width
 * between two. */
static double
spread (Layout *self, guint from, guint to, double span, double least, double *middles)
{
  double wood = 0, gap = least, at;
  guint n = to - from;

  for (guint i = from; i < to; i++)
    wood += 2 * get_bar (self, i)->radius;
  if (n > 1)
    gap = MAX (least, (span - wood) / (n - 1));
  at = -(wood + gap * (n - 1)) / 2;
  for (guint i = from; i < to; i++)
    {
      double radius = get_bar (self, i)->radius;
      middles[i - from] = at + radius;
      at += 2 * radius + gap;
    }
  return gap;
}

static void
add_rail (Layout *self, BedRailKind kind, guint tier, BedPoint3 from, BedPoint3 to)
{
  static const double radii[]
      = { RAIL_RADIUS, POST_RADIUS, RUNNER_RADIUS, STAKE_RADIUS, BASE_RADIUS, CAP_RADIUS };
  BedRail rail = { kind, tier, from, to, radii[kind] };

  g_array_append_val (self->pile->rails, rail);
}

/* On two runners and between stakes, as high as the logs lie. */
static void
hold_heap (Layout *self, const BedHeap *heap)
{
  double x = RUNNER_SPAN * self->length / 2, side = heap->half + STAKE_RADIUS, top = 0;

  for (guint i = 0; i < self->pile->bars->len; i++)
    top = MAX (top, get_bar (self, i)->head.z + get_bar (self, i)->radius);
  for (int sign = -1; sign <= 1; sign += 2)
    {
      add_rail (self, BED_RAIL_RUNNER, 0, (BedPoint3){ sign * x, -heap->half, RUNNER_RADIUS },
                (BedPoint3){ sign * x, heap->half, RUNNER_RADIUS });
      for (int end = -1; end <= 1; end += 2)
        add_rail (self, BED_RAIL_STAKE, 0, (BedPoint3){ end * x, sign * side, 0 },
                  (BedPoint3){ end * x, sign * side, top });
    }
}

/* The first tier lies on the runners, side by side; each further one in its hollows. */
static void
arrange_dead (Layout *self)
{
  g_autofree double *middles = g_new (double, self->pile->per_tier);
  g_autoptr (GArray) lying = g_array_new (FALSE, FALSE, sizeof (BedHeapLog));
  BedHeap heap = { 0, 2 * RUNNER_RADIUS, lying, self->pile->per_tier };

  for (guint from = 0, to; from < self->pile->bars->len; from = to)
    {
      double least = -G_MAXDOUBLE;
      gboolean fewer = get_bar (self, from)->tier % 2 == 0; /* half a log in from either side */
      to = end_of_tier (self, from);
      spread (self, from, to, 2 * heap.half - (fewer ? self->diameter : 0), 0, middles);
      for (guint i = from; i < to; i++)
        {
          BedBar *bar = get_bar (self, i);
          BedPoint at = { middles[i - from], heap.floor + bar->radius };
          if (from > 0)
            at = bed_heap_rest (&heap, bar->radius, at.x, least);
          lay_along_x (self, bar, at.x, at.y);
          least = at.x;
          g_array_append_vals (lying, &(BedHeapLog){ at, bar->radius }, 1);
        }
      if (from == 0)
        heap.half = least + get_bar (self, to - 1)->radius;
    }
  hold_heap (self, &heap);
  self->pile->gap = 0;
}

static void
arrange_crib (Layout *self)
{
  g_autofree double *middles = g_new (double, self->pile->per_tier);
  double base = 0;

  self->pile->gap = G_MAXDOUBLE;
  for (guint from = 0, to; from < self->pile->bars->len; from = to)
    {
      double thickest = 0, gap;
      to = end_of_tier (self, from);
      gap = spread (self, from, to, CRIB_SPAN * self->length, 0, middles);
      if (to - from > 1)
        self->pile->gap = MIN (self->pile->gap, gap);
      for (guint i = from; i < to; i++)
        {
          BedBar *bar = get_bar (self, i);
          double across = middles[i - from];
          lay_along_x (self, bar, across, base + bar->radius);
          if (bar->tier % 2 == 0) /* this tier lies across */
            {
              bar->foot = (BedPoint3){ across, bar->head.x, bar->head.z };
              bar->head = (BedPoint3){ across, -bar->head.x, bar->head.z };
            }
          thickest = MAX (thickest, 2 * bar->radius);
        }
      base += thickest; /* the next tier lies on the thickest logs of this one */
    }
}

/* One row to a tier, its logs side by side. */
typedef struct
{
  double rail;         /* the logs' heads are raised this high; the whole length: they stand */
  double over;         /* of a log's length, so much is beyond the rail */
  double pitch;        /* from one row, or pair of rows, to the next */
  gboolean both_sides; /* every second row faces the other way, back to back */
} Rows;

static void
lean_bar (Layout *self, BedBar *bar, const Rows *rows, double y)
{
  double length = get_length (self, bar), rise = MIN (rows->rail, length);
  double run = sqrt (length * length - rise * rise), side = 1;
  double x = (bar->tier - 1) * rows->pitch; /* of the rail */

  if (rows->both_sides)
    {
      side = bar->tier % 2 ? 1 : -1;
      /* Back to back at the rail, upright ones against each other; from either side slot 1 is at
       * the left. */
      x = ((bar->tier - 1) / 2) * rows->pitch - side * (run > 0 ? RAIL_RADIUS : bar->radius);
      y *= -side;
    }
  x -= side * (1 - rows->over) * run;
  bar->foot = (BedPoint3){ x, y, rise < length ? bar->radius : 0 };
  bar->head = (BedPoint3){ x + side * run, y, bar->foot.z + rise };
}

static void
arrange_rows (Layout *self, const Rows *rows)
{
  g_autofree double *middles = g_new (double, self->pile->per_tier);

  self->pile->gap = self->air;
  for (guint from = 0, to; from < self->pile->bars->len; from = to)
    {
      to = end_of_tier (self, from);
      spread (self, from, to, 0, self->air, middles);
      for (guint i = from; i < to; i++)
        lean_bar (self, get_bar (self, i), rows, middles[i - from]);
    }
}

/* Where each totem stands and how high it is so far. */
typedef struct
{
  double width, middle, top;
} Totem;

/* Each is as wide as its thickest section. */
static Totem *
measure_totems (Layout *self)
{
  Totem *totems = g_new0 (Totem, self->pile->per_tier);
  double at = 0;

  for (guint i = 0; i < self->pile->bars->len; i++)
    {
      const BedBar *bar = get_bar (self, i);
      Totem *totem = &totems[bar->slot - 1];
      totem->width = MAX (totem->width, 2 * bar->radius);
    }
  for (guint i = 0; i < self->pile->per_tier; i++)
    {
      totems[i].middle = at + totems[i].width / 2;
      totems[i].top = 2 * BASE_RADIUS;
      at += totems[i].width + self->air;
    }
  return totems;
}

/* The last bar with a log of that totem, or the number of bars. */
static guint
find_topmost (Layout *self, guint slot)
{
  guint n = self->pile->bars->len;

  for (guint i = n; i-- > 0;)
    if (get_bar (self, i)->log && get_bar (self, i)->slot == slot)
      return i;
  return n;
}

/* A tier is the sections at one height, each on the one below it, on a base and under a cap; what
 * is free is above that. */
static void
arrange_totems (Layout *self)
{
  g_autofree Totem *totems = measure_totems (self);

  self->pile->gap = self->air;
  for (guint i = 0; i < self->pile->bars->len; i++)
    {
      BedBar *bar = get_bar (self, i);
      Totem *totem = &totems[bar->slot - 1];
      double west = totem->middle - totem->width / 2, east = totem->middle + totem->width / 2;
      if (bar->tier == 1)
        add_rail (self, BED_RAIL_BASE, 0, (BedPoint3){ 0, west, BASE_RADIUS },
                  (BedPoint3){ 0, east, BASE_RADIUS });
      bar->foot = (BedPoint3){ 0, totem->middle, totem->top };
      totem->top += get_length (self, bar);
      bar->head = (BedPoint3){ 0, totem->middle, totem->top };
      if (i != find_topmost (self, bar->slot))
        continue;
      double z = totem->top + CAP_RADIUS;
      add_rail (self, BED_RAIL_CAP, 0, (BedPoint3){ 0, west, z }, (BedPoint3){ 0, east, z });
      totem->top += 2 * CAP_RADIUS;
    }
}

/* One rail on posts to a row, or to the two sides of a frame, under the logs. */
static void
add_leaning_rails (Layout *self, double rail, gboolean paired, double pitch)
{
  double low = G_MAXDOUBLE, high = -G_MAXDOUBLE;

  for (guint i = 0; i < self->pile->bars->len; i++)
    {
      const BedBar *bar = get_bar (self, i);
      low = MIN (low, bar->foot.y - bar->radius);
      high = MAX (high, bar->foot.y + bar->radius);
    }
  for (guint i = 0; i < self->pile->bars->len; i = end_of_tier (self, i))
    {
      guint tier = get_bar (self, i)->tier;
      double x = (paired ? (tier - 1) / 2 : tier - 1) * pitch, z = rail - RAIL_RADIUS;
      if (paired && tier % 2 == 0)
        continue;
      add_rail (self, BED_RAIL_LEAN, tier, (BedPoint3){ x, low, z }, (BedPoint3){ x, high, z });
      add_rail (self, BED_RAIL_POST, tier, (BedPoint3){ x, low, 0 }, (BedPoint3){ x, low, z });
      add_rail (self, BED_RAIL_POST, tier, (BedPoint3){ x, high, 0 }, (BedPoint3){ x, high, z });
    }
}

static void
arrange (Layout *self)
{
  double run = sqrt (self->length * self->length - self->rail * self->rail);
  Rows ground = { 0, 0, self->length + ROW_SPACE };
  Rows lean_to = { self->rail, OVER_RAIL, run + ROW_SPACE };
  Rows frame = { self->rail, 0, 2 * run + self->aisle, TRUE };
  Rows upright = { G_MAXDOUBLE, 0, 2 * self->diameter + self->aisle, TRUE };

  switch (self->pile->kind)
    {
    case BED_STACK_DEAD:
      arrange_dead (self);
      break;
    case BED_STACK_CRIB:
      arrange_crib (self);
      break;
    case BED_STACK_LEAN_TO:
      arrange_rows (self, &lean_to);
      add_leaning_rails (self, (1 - OVER_RAIL) * self->rail, FALSE, lean_to.pitch);
      break;
    case BED_STACK_A_FRAME:
      arrange_rows (self, &frame);
      add_leaning_rails (self, self->rail, TRUE, frame.pitch);
      break;
    case BED_STACK_UPRIGHT:
      arrange_rows (self, &upright);
      break;
    case BED_STACK_TOTEM:
      arrange_totems (self);
      break;
    case BED_STACK_GROUND:
    case BED_N_STACKS:
    default:
      arrange_rows (self, &ground);
      break;
    }
}

/* --- what that comes to ----------------------------------------------------- */

typedef struct
{
  double west, east, south, north;
} Extent;

/* The ground a bar covers: a box around its axis, wider by its radius across it only, for a log
 * is cut square at the ends. */
static void
cover (Extent *extent, const BedBar *bar)
{
  double dx = bar->head.x - bar->foot.x, dy = bar->head.y - bar->foot.y;
  double rx = fabs (dx) > fabs (dy) ? 0 : bar->radius;
  double ry = fabs (dx) > fabs (dy) ? bar->radius : 0;

  if (hypot (dx, dy) < 4 * bar->radius) /* nearly upright */
    rx = ry = bar->radius;
  extent->west = MIN (extent->west, MIN (bar->foot.x, bar->head.x) - rx);
  extent->east = MAX (extent->east, MAX (bar->foot.x, bar->head.x) + rx);
  extent->south = MIN (extent->south, MIN (bar->foot.y, bar->head.y) - ry);
  extent->north = MAX (extent->north, MAX (bar->foot.y, bar->head.y) + ry);
}

static void
shift (BedPoint3 *point, double x, double y)
{
  point->x -= x;
  point->y -= y;
}

/* Brings the origin to the middle of the footprint. */
static void
centre (Layout *self)
{
  Extent extent = { G_MAXDOUBLE, -G_MAXDOUBLE, G_MAXDOUBLE, -G_MAXDOUBLE };
  BedPile *pile = self->pile;

  for (guint i = 0; i < pile->bars->len; i++)
    cover (&extent, get_bar (self, i));
  for (guint i = 0; i < pile->bars->len; i++)
    {
      BedBar *bar = get_bar (self, i);
      shift (&bar->foot, (extent.west + extent.east) / 2, (extent.south + extent.north) / 2);
      shift (&bar->head, (extent.west + extent.east) / 2, (extent.south + extent.north) / 2);
      if (bar->log)
        pile->height = MAX (pile->height, MAX (bar->foot.z, bar->head.z) + bar->radius);
    }
  for (guint i = 0; i < pile->rails->len; i++)
    {
      BedRail *rail = &g_array_index (pile->rails, BedRail, i);
      shift (&rail->from, (extent.west + extent.east) / 2, (extent.south + extent.north) / 2);
      shift (&rail->to, (extent.west + extent.east) / 2, (extent.south + extent.north) / 2);
      if (rail->kind == BED_RAIL_CAP)
        pile->height = MAX (pile->height, rail->to.z + rail->radius);
    }
  pile->length = extent.east - extent.west;
  pile->width = extent.north - extent.south;
}

BedPile *
bed_pile_new (const BedYardStack *stack)
{
  BedPile *pile = g_new0 (BedPile, 1);
  Layout layout = { .stack = stack, .pile = pile };

  pile->kind = stack->kind;
  pile->bars = g_array_new (FALSE, FALSE, sizeof (BedBar));
  pile->rails = g_array_new (FALSE, FALSE, sizeof (BedRail));
  size_pile (&layout);
  read_rules (&layout);
  layout.slots = g_new0 (const BedYardLog *, (gsize) pile->tiers * pile->per_tier);
  assign_slots (&layout);
  add_bars (&layout);
  arrange (&layout);
  centre (&layout);
  g_free (layout.slots);
  return pile;
}

void
bed_pile_free (BedPile *pile)
{
  g_array_unref (pile->bars);
  g_array_unref (pile->rails);
  g_free (pile);
}

guint
bed_stack_tiers (BedStackKind kind, guint said)
{
  g_return_val_if_fail (kind < BED_N_STACKS, 1);
  return said ? said : usual[kind].tiers;
}

guint
bed_stack_per_tier (BedStackKind kind, guint said)
{
  g_return_val_if_fail (kind < BED_N_STACKS, 1);
  return said ? said : usual[kind].per_tier;
}

guint
bed_stack_slots (BedStackKind kind, guint per_tier, guint tier)
{
  if (kind == BED_STACK_DEAD && per_tier > 1 && tier % 2 == 0)
    return per_tier - 1;
  return per_tier;
}
