/* Logs in their slots: every log lies somewhere, once, and none inside another. */
#include "yard/codes.h"
#include "yard/elevation.h"
#include "yard_sample.h"

#include <math.h>

static SampleStack
roll (GRand *dice, BedStackKind kind)
{
  return (SampleStack){
    kind, 0, 0, 0, g_rand_int_range (dice, 0, 70), 0, g_rand_int_range (dice, 1, 100000)
  };
}

static void
set_slots (BedYardStack *stack, GRand *dice)
{
  stack->tiers = g_rand_int_range (dice, 0, 7);
  stack->per_tier = g_rand_int_range (dice, 0, 10);
  for (guint i = 0; i < stack->logs->len; i++)
    {
      BedYardLog *log = stack->logs->pdata[i];
      log->tier = g_rand_int_range (dice, 0, 9);
      log->slot = g_rand_int_range (dice, 0, 12);
      log->diameter = g_rand_double_range (dice, 0.04, 0.3);
      log->length = g_rand_double_range (dice, 0.4, 1.5);
    }
}

static void
check_all_there (const BedYardStack *stack, const BedElevation *elevation)
{
  guint found = 0, over = 0;

  g_assert_cmpuint (elevation->ends->len, ==, elevation->pile->bars->len);
  for (guint i = 0; i < elevation->ends->len; i++)
    {
      const BedBar *bar = bed_elevation_get_bar (elevation, i);
      over += bar->log && stack->tiers && bar->tier > stack->tiers;
      found += bar->log != NULL;
    }
  g_assert_cmpuint (found, ==, stack->logs->len);
  if (stack->tiers)
    g_assert_cmpuint (elevation->pile->over, ==, over);
  for (guint i = 0; i < stack->logs->len; i++)
    {
      const BedYardLog *log = stack->logs->pdata[i];
      int end = bed_elevation_find_log (elevation, log->id);
      g_assert_cmpint (end, >=, 0);
      g_assert_cmpfloat_with_epsilon (bed_elevation_end (elevation, end)->radius, log->diameter / 2,
                                      1e-12);
    }
}

/* On each face no two ends overlap, and none sinks into the ground. */
static void
check_no_overlap (const BedElevation *elevation)
{
  for (guint i = 0; i < elevation->ends->len; i++)
    {
      const BedLogEnd *a = bed_elevation_end (elevation, i);
      const BedEndFace *face = &g_array_index (elevation->faces, BedEndFace, a->face);
      g_assert_cmpfloat (a->middle.y - a->radius, >=, face->corner.y - 1e-9);
      g_assert_cmpfloat (a->middle.x - a->radius, >=, -1e-9);
      g_assert_cmpfloat (a->middle.x + a->radius, <=, elevation->width + 1e-9);
      g_assert_cmpfloat (a->middle.y + a->radius, <=, elevation->height + 1e-9);
      for (guint j = 0; j < i; j++)
        {
          const BedLogEnd *b = bed_elevation_end (elevation, j);
          if (a->face == b->face)
            g_assert_cmpfloat (hypot (a->middle.x - b->middle.x, a->middle.y - b->middle.y), >=,
                               a->radius + b->radius - 1e-9);
        }
    }
}

/* A crib's tiers bear on one another: the lower tier's thickest log touches the upper tier. */
static void
check_crib_bears (const BedPile *pile)
{
  for (guint i = 0; i < pile->bars->len; i++)
    {
      const BedBar *upper = &g_array_index (pile->bars, BedBar, i);
      double highest = 0;
      for (guint j = 0; j < pile->bars->len; j++)
        {
          const BedBar *lower = &g_array_index (pile->bars, BedBar, j);
          if (lower->tier + 1 == upper->tier)
            highest = MAX (highest, lower->head.z + lower->radius);
        }
      if (upper->tier > 1 && highest > 0)
        g_assert_cmpfloat_with_epsilon (upper->head.z - upper->radius, highest, 1e-9);
    }
}

static void
test_property (gconstpointer data)
{
  BedStackKind kind = GPOINTER_TO_INT (data);
  GRand *dice = g_rand_new_with_seed (20 + kind);

  for (int n = 0; n < 120; n++)
    {
      SampleStack sample = roll (dice, kind);
      g_autoptr (BedYardStack) stack = sample_stack_new (&sample);
      if (n % 2)
        set_slots (stack, dice);
      g_autoptr (BedElevation) elevation
          = bed_elevation_new (stack, n % 3 ? BED_FACES_DOWN : BED_FACES_ACROSS);
      check_all_there (stack, elevation);
      check_no_overlap (elevation);
      if (kind == BED_STACK_CRIB)
        check_crib_bears (elevation->pile);
    }
  g_rand_free (dice);
}

/* What is hit in the middle of a log as it is seen is that log. */
static void
test_hit (gconstpointer data)
{
  SampleStack sample = { GPOINTER_TO_INT (data), 0, 0, 0, 21, 0, 5 };
  g_autoptr (BedYardStack) stack = sample_stack_new (&sample);
  g_autoptr (BedElevation) elevation = bed_elevation_new (stack, BED_FACES_DOWN);

  for (guint i = 0; i < elevation->ends->len; i++)
    {
      const BedLogEnd *end = bed_elevation_end (elevation, i);
      BedPoint middle = { (end->middle.x + end->foot.x) / 2, (end->middle.y + end->foot.y) / 2 };
      BedPoint rim = { middle.x, middle.y + 0.99 * end->radius };
      g_assert_cmpint (bed_elevation_hit (elevation, middle), ==, (int) i);
      g_assert_cmpint (bed_elevation_hit (elevation, rim), ==, (int) i);
    }
  g_assert_cmpint (bed_elevation_hit (elevation, (BedPoint){ -1, -1 }), ==, -1);
}

/* Arrows reach every end of every face from any other, and a way out is a way back somewhere. */
static void
test_steps (gconstpointer data)
{
  SampleStack sample = { GPOINTER_TO_INT (data), 0, 0, 0, 21, 0, 5 };
  g_autoptr (BedYardStack) stack = sample_stack_new (&sample);
  g_autoptr (BedElevation) elevation = bed_elevation_new (stack, BED_FACES_DOWN);
  guint n = elevation->ends->len, reached = 1;
  g_autofree gboolean *seen = g_new0 (gboolean, n);
  g_autofree guint *queue = g_new0 (guint, n);

  seen[0] = TRUE;
  for (guint at = 0; at < reached; at++)
    for (int way = BED_TO_LEFT; way <= BED_TO_DOWN; way++)
      {
        guint next = bed_elevation_step (elevation, queue[at], way);
        if (seen[next])
          continue;
        seen[next] = TRUE;
        queue[reached++] = next;
      }
  g_assert_cmpuint (reached, ==, n);
}

static BedYardLog *
add_log (BedYardStack *stack, gint64 id, guint tier, guint slot)
{
  BedYardLog *log = bed_yard_log_new ();

  log->id = id;
  log->length = 1;
  log->diameter = 0.1;
  log->tier = tier;
  log->slot = slot;
  g_ptr_array_add (stack->logs, log);
  return log;
}

static const BedBar *
find_bar (const BedPile *pile, gint64 log)
{
  for (guint i = 0; i < pile->bars->len; i++)
    {
      const BedBar *bar = &g_array_index (pile->bars, BedBar, i);
      if (bar->log && bar->log->id == log)
        return bar;
    }
  g_assert_not_reached ();
}

static void
test_slots (void)
{
  g_autoptr (BedYardStack) stack = bed_yard_stack_new (BED_STACK_CRIB);
  stack->tiers = 2;
  stack->per_tier = 3;
  add_log (stack, 1, 0, 0); /* nobody said: the first free */
  add_log (stack, 2, 1, 1); /* as said */
  add_log (stack, 3, 1, 1); /* taken: the next free */
  add_log (stack, 4, 2, 9); /* no such slot: the next free */
  add_log (stack, 5, 2, 3);
  g_autoptr (BedPile) pile = bed_pile_new (stack);

  g_assert_cmpuint (pile->holds, ==, 6);
  g_assert_cmpuint (pile->over, ==, 0);
  g_assert_cmpuint (find_bar (pile, 2)->slot, ==, 1);
  g_assert_cmpuint (find_bar (pile, 1)->slot, ==, 2);
  g_assert_cmpuint (find_bar (pile, 3)->slot, ==, 3);
  g_assert_cmpuint (find_bar (pile, 4)->tier, ==, 2);
  g_assert_cmpuint (find_bar (pile, 4)->slot, ==, 1);
  g_assert_cmpuint (find_bar (pile, 5)->slot, ==, 3);
}

static void
test_over (void)
{
  g_autoptr (BedYardStack) stack = bed_yard_stack_new (BED_STACK_CRIB);
  stack->tiers = 2;
  stack->per_tier = 2;
  for (int i = 1; i <= 7; i++)
    add_log (stack, i, 0, 0);
  g_autoptr (BedPile) pile = bed_pile_new (stack);

  g_assert_cmpuint (pile->holds, ==, 4);
  g_assert_cmpuint (pile->over, ==, 3);
  g_assert_cmpuint (pile->tiers, ==, 4);
  g_assert_cmpfloat_with_epsilon (pile->height, 0.4, 1e-9); /* four tiers of 10 cm logs */
  g_assert_cmpfloat_with_epsilon (pile->gap, 0.86 - 0.2, 1e-9);
}

/* Equal logs in a dead stack: each tier lies in the hollows of the one below, sqrt (3) radii
 * higher, on runners 10 cm thick; as many as hexagonal packing holds, and the next one is over. */
static void
test_dead_hollows (void)
{
  g_autoptr (BedYardStack) stack = bed_yard_stack_new (BED_STACK_DEAD);
  stack->tiers = 5;
  stack->per_tier = 4;
  for (int i = 1; i <= 4 + 3 + 4 + 3 + 4 + 1; i++)
    add_log (stack, i, 0, 0);
  g_autoptr (BedPile) pile = bed_pile_new (stack);

  g_assert_cmpuint (pile->holds, ==, 18);
  g_assert_cmpuint (pile->over, ==, 1);
  for (int i = 1; i <= 18; i++)
    {
      const BedBar *bar = find_bar (pile, i);
      double y = (bar->slot - 1.0) * 0.1 - (bar->tier % 2 ? 0.15 : 0.1);
      g_assert_cmpfloat_with_epsilon (bar->head.y, y, 1e-6);
      g_assert_cmpfloat_with_epsilon (bar->head.z, 0.1 + 0.05 * (1 + (bar->tier - 1) * sqrt (3)),
                                      1e-6);
    }
  g_assert_cmpfloat_with_epsilon (pile->width, 0.4, 1e-9);
}

/* Whether something holds the log on that side (-1: left): a log that was there before it, or the
 * stake. */
static gboolean
is_held (const BedPile *pile, guint i, int side, double stake)
{
  const BedBar *bars = (const BedBar *) (gpointer) pile->bars->data, *bar = &bars[i];

  if (side * bar->head.y + bar->radius > stake - 1e-6)
    return TRUE;
  for (guint j = 0; j < i; j++)
    {
      double far = hypot (bars[j].head.y - bar->head.y, bars[j].head.z - bar->head.z);
      if (far < bars[j].radius + bar->radius + 1e-6
          && side * (bars[j].head.y - bar->head.y) > -1e-6)
        return TRUE;
    }
  return FALSE;
}

/* However thick its logs are, each lies on the runners or is held from both sides, between the
 * stakes. */
static void
test_dead_held (void)
{
  GRand *dice = g_rand_new_with_seed (5);

  for (int n = 0; n < 200; n++)
    {
      SampleStack sample = roll (dice, BED_STACK_DEAD);
      sample.n += 2;
      g_autoptr (BedYardStack) stack = sample_stack_new (&sample);
      for (guint i = 0; n % 2 && i < stack->logs->len; i++)
        ((BedYardLog *) stack->logs->pdata[i])->diameter = g_rand_double_range (dice, 0.06, 0.25);
      g_autoptr (BedPile) pile = bed_pile_new (stack);
      double stake = 0;
      for (guint i = 0; i < pile->rails->len; i++)
        {
          const BedRail *rail = &g_array_index (pile->rails, BedRail, i);
          if (rail->kind == BED_RAIL_STAKE)
            stake = MAX (stake, rail->from.y - rail->radius);
        }
      for (guint i = 0; i < pile->bars->len; i++)
        {
          const BedBar *bar = &g_array_index (pile->bars, BedBar, i);
          g_assert_cmpfloat (fabs (bar->head.y) + bar->radius, <=, stake + 1e-6);
          if (bar->head.z - bar->radius < 0.1 + 1e-6)
            continue;
          g_assert_true (is_held (pile, i, -1, stake));
          g_assert_true (is_held (pile, i, 1, stake));
        }
    }
  g_rand_free (dice);
}

static const BedRail *
find_rail (const BedPile *pile, BedRailKind kind)
{
  for (guint i = 0; i < pile->rails->len; i++)
    if (g_array_index (pile->rails, BedRail, i).kind == kind)
      return &g_array_index (pile->rails, BedRail, i);
  g_assert_not_reached ();
}

/* Logs of 0.8 m and 1 m on one A-frame: its rail is as high as the short ones ask for, and every
 * log reaches it, from both sides. */
static void
test_frame_rail (void)
{
  g_autoptr (BedYardStack) stack = bed_yard_stack_new (BED_STACK_A_FRAME);

  for (int i = 1; i <= 8; i++)
    add_log (stack, i, i % 2 ? 1 : 2, (guint) (i + 1) / 2)->length = i % 4 < 2 ? 0.8 : 1;
  g_autoptr (BedPile) pile = bed_pile_new (stack);
  const BedRail *rail = find_rail (pile, BED_RAIL_LEAN);
  g_assert_cmpfloat_with_epsilon (rail->from.z + rail->radius, 0.9 * 0.8, 1e-9);
  for (int i = 1; i <= 8; i++)
    {
      const BedBar *bar = find_bar (pile, i);
      double side = i % 2 ? -1 : 1;
      g_assert_cmpfloat_with_epsilon (bar->head.x, rail->from.x + side * rail->radius, 1e-9);
      g_assert_cmpfloat_with_epsilon (bar->head.z - bar->radius, 0.72, 1e-9);
      g_assert_cmpfloat (side * (bar->foot.x - bar->head.x), >, 0.3);
      g_assert_cmpfloat_with_epsilon (hypot (bar->head.x - bar->foot.x, bar->head.z - bar->foot.z),
                                      bar->log->length, 1e-9);
    }
  stack->rules.rail_height = 600; /* the farm's own */
  g_autoptr (BedPile) low = bed_pile_new (stack);
  rail = find_rail (low, BED_RAIL_LEAN);
  g_assert_cmpfloat_with_epsilon (rail->from.z + rail->radius, 0.6, 1e-9);
}

/* Each log of a lean-to lies on the rail, whatever its length and thickness. */
static void
test_lean_to_rail (void)
{
  g_autoptr (BedYardStack) stack = bed_yard_stack_new (BED_STACK_LEAN_TO);

  for (int i = 1; i <= 6; i++)
    {
      BedYardLog *log = add_log (stack, i, 1, (guint) i);
      log->length = 0.7 + 0.1 * i;
      log->diameter = 0.05 + 0.02 * i;
    }
  g_autoptr (BedPile) pile = bed_pile_new (stack);
  const BedRail *rail = find_rail (pile, BED_RAIL_LEAN);
  for (int i = 1; i <= 6; i++)
    {
      const BedBar *bar = find_bar (pile, i);
      double share = (rail->from.x - bar->foot.x) / (bar->head.x - bar->foot.x);
      double z = bar->foot.z + share * (bar->head.z - bar->foot.z);
      g_assert_cmpfloat_with_epsilon (z - bar->radius, rail->from.z + rail->radius, 1e-9);
      g_assert_cmpfloat (share, >, 0.8);
      g_assert_cmpfloat (share, <, 1);
    }
}

/* The A is seen from its end: a log from either side, their heads at the rail. */
static void
test_frame_end (void)
{
  const SampleStack sample = { BED_STACK_A_FRAME, 0, 0, 0, 20, 0, 1 };
  g_autoptr (BedYardStack) stack = sample_stack_new (&sample);
  g_autoptr (BedElevation) elevation = bed_elevation_new (stack, BED_FACES_DOWN);
  guint last = elevation->faces->len - 1, leaning = 0;

  g_assert_cmpuint (elevation->faces->len, ==, 3);
  for (guint i = 0; i < elevation->sides->len; i++)
    {
      const BedLogSide *side = &g_array_index (elevation->sides, BedLogSide, i);
      if (side->bar == G_MAXUINT || side->face != last)
        continue;
      g_assert_cmpfloat (side->to.y, >, side->from.y);
      leaning += side->to.x > side->from.x ? 1 : 100;
    }
  g_assert_cmpuint (leaning, ==, 101);
}

/* Sections stand on one another, on a base and under a cap; a totem without a log has no cap. */
static void
test_totem (void)
{
  g_autoptr (BedYardStack) stack = bed_yard_stack_new (BED_STACK_TOTEM);

  stack->tiers = 2;
  stack->per_tier = 3;
  add_log (stack, 1, 1, 1)->length = 0.3;
  add_log (stack, 2, 2, 1)->length = 0.2;
  add_log (stack, 3, 1, 2)->diameter = 0.4;
  g_autoptr (BedPile) pile = bed_pile_new (stack);
  g_autoptr (BedElevation) elevation = bed_elevation_new (stack, BED_FACES_DOWN);
  guint caps = 0, bases = 0;

  g_assert_cmpfloat_with_epsilon (find_bar (pile, 1)->foot.z, 0.06, 1e-9);
  g_assert_cmpfloat_with_epsilon (find_bar (pile, 2)->foot.z, 0.36, 1e-9);
  g_assert_cmpfloat_with_epsilon (find_bar (pile, 2)->head.z, 0.56, 1e-9);
  g_assert_cmpfloat_with_epsilon (find_bar (pile, 2)->head.y, find_bar (pile, 1)->head.y, 1e-9);
  for (guint i = 0; i < pile->rails->len; i++)
    {
      const BedRail *rail = &g_array_index (pile->rails, BedRail, i);
      caps += rail->kind == BED_RAIL_CAP;
      bases += rail->kind == BED_RAIL_BASE;
    }
  g_assert_cmpuint (caps, ==, 2);
  g_assert_cmpuint (bases, ==, 3);
  g_assert_cmpuint (elevation->faces->len, ==, 1);
  /* Between two totems is as much air as a mean log is thick. */
  g_assert_cmpfloat_with_epsilon (
      find_bar (pile, 3)->head.y - 0.2 - (find_bar (pile, 1)->head.y + 0.05), pile->diameter, 1e-9);
}

static void
test_contents (void)
{
  const SampleStack sample = { BED_STACK_CRIB, 0, 0, 0, 25, 0, 1 };
  g_autoptr (BedYardStack) two = sample_stack_new (&sample), none = bed_yard_stack_new (0);
  g_autofree char *text = bed_yard_stack_contents (two), *empty = bed_yard_stack_contents (none);

  g_assert_cmpstr (text, ==, "25 logs of 26A and 26B");
  g_assert_cmpstr (empty, ==, "no logs");
}

static void
add_for_each_kind (const char *name, GTestDataFunc test)
{
  for (int kind = 0; kind < BED_N_STACKS; kind++)
    {
      g_autofree char *path = g_strdup_printf ("/yard/%s/%s", name, bed_stack_kind_key (kind));
      g_test_add_data_func (path, GINT_TO_POINTER (kind), test);
    }
}

/* What a code is shortened to tells it from the others, and is shown with what they share once. */
static void
test_codes (void)
{
  static const struct
  {
    const char *codes[3], *briefs[3], *shared;
  } stacks[] = {
    { { "26A-017-K", "26A-018-2", "26A-120-K" }, { "017", "018", "120" }, "26A-…" },
    { { "F26-4-B001", "F26-4-B002", "F26-4-B030" }, { "B001", "B002", "B030" }, "F26-4-…" },
    { { "F26-4-B001", "F26-5-B001", "F26-4-B002" }, { "4-B001", "5-B001", "4-B002" }, "F26-…" },
    { { "26A-017-K", "26B-017-K", "26A-018-K" }, { "26A-017", "26B-017", "26A-018" }, NULL },
    { { "26A-017-K", "26B-017-X", "26C-017-2" }, { "26A", "26B", "26C" }, NULL },
    { { "26A-017-K" }, { "017" }, "26A-…" },
    { { "oak", "26B-017-K" }, { NULL, NULL }, NULL },
  };

  for (guint i = 0; i < G_N_ELEMENTS (stacks); i++)
    {
      g_autoptr (BedYardStack) stack = bed_yard_stack_new (BED_STACK_DEAD);
      for (guint j = 0; j < 3 && stacks[i].codes[j]; j++)
        {
          BedYardLog *log = bed_yard_log_new ();
          log->code = g_strdup (stacks[i].codes[j]);
          g_ptr_array_add (stack->logs, log);
        }
      bed_codes_shorten (stack);
      g_assert_cmpstr (stack->shared, ==, stacks[i].shared);
      for (guint j = 0; j < stack->logs->len; j++)
        g_assert_cmpstr (((BedYardLog *) stack->logs->pdata[j])->brief, ==, stacks[i].briefs[j]);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  add_for_each_kind ("property", test_property);
  add_for_each_kind ("hit", test_hit);
  add_for_each_kind ("steps", test_steps);
  g_test_add_func ("/yard/slots", test_slots);
  g_test_add_func ("/yard/over", test_over);
  g_test_add_func ("/yard/dead-hollows", test_dead_hollows);
  g_test_add_func ("/yard/dead-held", test_dead_held);
  g_test_add_func ("/yard/frame-rail", test_frame_rail);
  g_test_add_func ("/yard/lean-to-rail", test_lean_to_rail);
  g_test_add_func ("/yard/frame-end", test_frame_end);
  g_test_add_func ("/yard/totem", test_totem);
  g_test_add_func ("/yard/contents", test_contents);
  g_test_add_func ("/yard/stack/codes", test_codes);
  return g_test_run ();
}
