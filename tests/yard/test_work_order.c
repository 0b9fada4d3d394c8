/* The working order of planned moves, on random piles. */
#include "yard/work_order.h"

#define N_STACKS 6
#define TIERS 4
#define SLOTS 4

/* Which log lies where: numbers from 1; 0: none. */
typedef int Piles[N_STACKS][TIERS + 1][SLOTS + 1];

static const BedStackKind kinds[N_STACKS] = { BED_STACK_CRIB,  BED_STACK_DEAD, BED_STACK_A_FRAME,
                                              BED_STACK_TOTEM, BED_STACK_CRIB, BED_STACK_GROUND };

static BedPlannedSpot
spot (int stack, int tier, int slot)
{
  return (BedPlannedSpot){
    stack + 1, kinds[stack], (guint) tier, (guint) slot, { stack % 3 * 4.0, stack / 3 * 5.0 }, NULL
  };
}

static gboolean
is_piled (int stack)
{
  return kinds[stack] == BED_STACK_CRIB || kinds[stack] == BED_STACK_DEAD;
}

/* Whether any log lies on that place, as a person sees it. */
static gboolean
is_covered (Piles piles, const BedPlannedSpot *at)
{
  int stack = (int) at->stack - 1;

  for (guint tier = at->tier + 1; tier <= TIERS; tier++)
    for (guint slot = 1; slot <= SLOTS; slot++)
      if (piles[stack][tier][slot]
          && (is_piled (stack) || (kinds[stack] == BED_STACK_TOTEM && slot == at->slot)))
        return TRUE;
  return FALSE;
}

static void
add_move (GPtrArray *moves, int log, BedPlannedSpot from, BedPlannedSpot to)
{
  BedPlannedMove *move = g_new0 (BedPlannedMove, 1);

  move->id = move->log = log;
  move->code = g_strdup_printf ("26A-%03d", log);
  move->from = from;
  move->to = to;
  g_ptr_array_add (moves, move);
}

/* The first three stacks are filled at random from the bottom, the logs at the top of some go into
 * the others, or wherever one has gone or none lies. */
static void
make_scene (GRand *dice, Piles piles, GPtrArray *moves, GArray *stays)
{
  int log = 0;

  memset (piles, 0, sizeof (Piles));
  for (int stack = 0; stack < N_STACKS; stack++)
    {
      int full = g_rand_int_range (dice, 0, TIERS * SLOTS + 1) / (stack < 4 ? 1 : 4);
      for (int i = 0; i < full; i++)
        piles[stack][1 + i / SLOTS][1 + i % SLOTS] = ++log;
    }
  g_autofree gboolean *aimed = g_new0 (gboolean, N_STACKS * TIERS * SLOTS);
  for (int stack = 0; stack < N_STACKS; stack++)
    {
      int stay = g_rand_int_range (dice, 0, TIERS * SLOTS + 1);
      for (int i = 0; i < TIERS * SLOTS; i++)
        {
          int here = piles[stack][1 + i / SLOTS][1 + i % SLOTS];
          BedPlannedSpot from = spot (stack, 1 + i / SLOTS, 1 + i % SLOTS);
          if (!here)
            continue;
          int to = g_rand_int_range (dice, 0, N_STACKS * TIERS * SLOTS);
          if (i < stay || aimed[to])
            {
              BedPlannedStay one = { g_intern_string ("26A-000"), from };
              g_array_append_val (stays, one);
              continue;
            }
          aimed[to] = TRUE;
          add_move (moves, here, from,
                    spot (to / (TIERS * SLOTS), 1 + to / SLOTS % TIERS, 1 + to % SLOTS));
        }
    }
}

/* Carried out one by one: each is free when it is taken, and its place when it is set down; none is
 * set onto a log that still has to go. */
static guint
carry_out (Piles piles, GPtrArray *moves)
{
  g_autoptr (GHashTable) moved = g_hash_table_new (NULL, NULL),
                         to_go = g_hash_table_new (NULL, NULL);
  guint done = 0;

  for (guint i = 0; i < moves->len; i++)
    g_hash_table_add (to_go, GINT_TO_POINTER ((int) ((BedPlannedMove *) moves->pdata[i])->log));
  for (guint i = 0; i < moves->len; i++)
    {
      const BedPlannedMove *move = moves->pdata[i];
      int *from = &piles[move->from.stack - 1][move->from.tier][move->from.slot];
      int *to = &piles[move->to.stack - 1][move->to.tier][move->to.slot];
      if (move->state != BED_PLANNED_READY)
        continue;
      g_assert_cmpuint (i, ==, done); /* what cannot be done comes last */
      g_assert_true (g_hash_table_add (moved, GINT_TO_POINTER ((int) move->log)));
      g_assert_cmpint (*from, ==, move->log);
      g_assert_false (is_covered (piles, &move->from));
      *from = 0;
      g_hash_table_remove (to_go, GINT_TO_POINTER ((int) move->log));
      g_assert_cmpint (*to, ==, 0);
      g_assert_false (is_covered (piles, &move->to));
      for (guint tier = 1; tier < move->to.tier; tier++)
        for (guint slot = 1; slot <= SLOTS; slot++)
          {
            BedPlannedSpot under = spot ((int) move->to.stack - 1, (int) tier, (int) slot);
            int below = piles[move->to.stack - 1][tier][slot];
            if (below && bed_planned_lies_on (&move->to, &under))
              g_assert_false (g_hash_table_contains (to_go, GINT_TO_POINTER (below)));
          }
      *to = (int) move->log;
      done++;
    }
  return done;
}

static void
test_random (void)
{
  GRand *dice = g_rand_new_with_seed (9);
  guint done = 0, all = 0;

  for (guint i = 0; i < 400; i++)
    {
      g_autoptr (GPtrArray) moves
          = g_ptr_array_new_with_free_func ((GDestroyNotify) bed_planned_move_free);
      g_autoptr (GArray) stays = g_array_new (FALSE, FALSE, sizeof (BedPlannedStay));
      Piles piles;
      make_scene (dice, piles, moves, stays);
      bed_planned_order (moves, stays);
      done += carry_out (piles, moves);
      all += moves->len;
    }
  g_test_message ("%u of %u could be done", done, all);
  g_assert_cmpuint (done, >, all / 10);
  g_rand_free (dice);
}

/* A whole crib to an empty one: from the top, into the bottom; nothing is left out. */
static void
test_whole (void)
{
  g_autoptr (GPtrArray) moves
      = g_ptr_array_new_with_free_func ((GDestroyNotify) bed_planned_move_free);
  g_autoptr (GArray) stays = g_array_new (FALSE, FALSE, sizeof (BedPlannedStay));
  int n = TIERS * SLOTS;

  for (int i = 0; i < n; i++)
    add_move (moves, i + 1, spot (0, 1 + i / SLOTS, 1 + i % SLOTS),
              spot (4, TIERS - i / SLOTS, 1 + i % SLOTS));
  bed_planned_order (moves, stays);
  for (int i = 0; i < n; i++)
    {
      const BedPlannedMove *move = moves->pdata[i];
      g_assert_cmpint (move->state, ==, BED_PLANNED_READY);
      g_assert_cmpuint (move->from.tier, ==, (guint) (TIERS - i / SLOTS));
      g_assert_cmpuint (move->to.tier, ==, (guint) (1 + i / SLOTS));
    }
}

/* What hinders is named. */
static void
test_hindered (void)
{
  g_autoptr (GPtrArray) moves
      = g_ptr_array_new_with_free_func ((GDestroyNotify) bed_planned_move_free);
  g_autoptr (GArray) stays = g_array_new (FALSE, FALSE, sizeof (BedPlannedStay));
  BedPlannedStay top = { "26A-009", spot (0, 2, 1) }, there = { "26A-008", spot (2, 1, 1) };

  g_array_append_val (stays, top);
  g_array_append_val (stays, there);
  add_move (moves, 1, spot (0, 1, 1), spot (4, 1, 1)); /* under 009 */
  add_move (moves, 2, spot (5, 1, 1), spot (2, 1, 1)); /* onto 008 */
  add_move (moves, 3, spot (5, 1, 2), spot (5, 1, 3)); /* each other's place */
  add_move (moves, 4, spot (5, 1, 3), spot (5, 1, 2));
  add_move (moves, 5, spot (5, 1, 4), spot (4, 2, 1)); /* onto the first */
  bed_planned_order (moves, stays);
  const BedPlannedState wanted[] = { BED_PLANNED_UNDER, BED_PLANNED_TAKEN, BED_PLANNED_WAITS,
                                     BED_PLANNED_WAITS, BED_PLANNED_WAITS };
  for (guint i = 0; i < moves->len; i++)
    g_assert_cmpint (((BedPlannedMove *) moves->pdata[i])->state, ==, wanted[i]);
  g_assert_cmpstr (((BedPlannedMove *) moves->pdata[0])->hindered_by, ==, "26A-009");
  g_assert_cmpstr (((BedPlannedMove *) moves->pdata[1])->hindered_by, ==, "26A-008");
}

/* The pile that was begun goes on; of two, the nearer first. */
static void
test_nearest (void)
{
  g_autoptr (GPtrArray) moves
      = g_ptr_array_new_with_free_func ((GDestroyNotify) bed_planned_move_free);
  g_autoptr (GArray) stays = g_array_new (FALSE, FALSE, sizeof (BedPlannedStay));
  const char *wanted[] = { "26A-003", "26A-004", "26A-001", "26A-002" };

  add_move (moves, 1, spot (0, 2, 1), spot (5, 1, 1)); /* 8 m east, 5 m north */
  add_move (moves, 2, spot (0, 1, 1), spot (5, 1, 2));
  add_move (moves, 3, spot (1, 2, 1), spot (2, 1, 1)); /* 4 m east */
  add_move (moves, 4, spot (1, 1, 1), spot (5, 1, 3));
  bed_planned_order (moves, stays);
  for (guint i = 0; i < moves->len; i++)
    g_assert_cmpstr (((BedPlannedMove *) moves->pdata[i])->code, ==, wanted[i]);
}

/* A stack that is to stand where another still stands is begun when that is gone. */
static void
test_ground (void)
{
  g_autoptr (GPtrArray) moves
      = g_ptr_array_new_with_free_func ((GDestroyNotify) bed_planned_move_free);
  g_autoptr (GArray) stays = g_array_new (FALSE, FALSE, sizeof (BedPlannedStay));
  const BedPoint corners[][4] = { { { 0, 0 }, { 1, 0 }, { 1, 1 }, { 0, 1 } },
                                  { { 0.5, 0 }, { 1.5, 0 }, { 1.5, 1 }, { 0.5, 1 } } };
  BedShape old = bed_shape_polygon (corners[0], 4), new_one = bed_shape_polygon (corners[1], 4);
  BedPlannedSpot from = spot (0, 1, 1), to = spot (4, 1, 1);

  from.ground = &old;
  to.ground = &new_one;
  add_move (moves, 1, spot (2, 1, 1), to);   /* it comes there, 4 m */
  add_move (moves, 2, from, spot (5, 1, 1)); /* it stands there */
  bed_planned_order (moves, stays);
  g_assert_cmpstr (((BedPlannedMove *) moves->pdata[0])->code, ==, "26A-002");
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/work-order/random", test_random);
  g_test_add_func ("/work-order/whole", test_whole);
  g_test_add_func ("/work-order/hindered", test_hindered);
  g_test_add_func ("/work-order/nearest", test_nearest);
  g_test_add_func ("/work-order/ground", test_ground);
  return g_test_run ();
}
