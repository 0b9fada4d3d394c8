/* Where logs could stand: rows against plain rows and against brute force, and who stands where. */
#include "yard/arrange.h"
#include "yard/ground.h"
#include "yard_sample.h"

#include <math.h>

#define AISLE 0.9

static BedYard *
random_yard_new (GRand *dice, double least, double most)
{
  BedYard *yard = bed_yard_new (g_rand_double_range (dice, least, most),
                                g_rand_double_range (dice, least, most));
  int things = g_rand_int_range (dice, 0, 4);

  for (int i = 0; i < things; i++)
    {
      double x = g_rand_double_range (dice, 0, yard->width),
             y = g_rand_double_range (dice, 0, yard->depth);
      g_autofree char *at = g_strdup_printf ("%.2f %.2f", x, y);
      g_autofree char *way = g_strdup_printf ("%.2f 0, %.2f %.2f", x, y, yard->depth);
      sample_add_feature (yard, i ? BED_FEATURE_TREE : BED_FEATURE_PATH, i ? at : way);
    }
  return yard;
}

static BedYardStack *
like_new (BedStackKind kind)
{
  return bed_yard_stack_new (kind);
}

/* --- how many ------------------------------------------------------------------------------- */

/* Whether a box of the ground, unturned, is inside and on nothing. */
static gboolean
is_free (const BedYard *yard, const BedPile *pile, double x, double y)
{
  double dx = pile->length / 2, dy = pile->width / 2;
  const BedPoint corners[]
      = { { x - dx, y - dy }, { x + dx, y - dy }, { x + dx, y + dy }, { x - dx, y + dy } };
  BedShape box = bed_shape_polygon (corners, 4);

  if (x - dx < -1e-9 || y - dy < -1e-9 || x + dx > yard->width + 1e-9
      || y + dy > yard->depth + 1e-9)
    return FALSE;
  for (guint i = 0; i < yard->features->len; i++)
    {
      BedPoint of_box[4];
      BedShape footing = bed_feature_get_footing (yard->features->pdata[i], of_box);
      if (bed_shape_overlaps (&box, &footing))
        return FALSE;
    }
  return TRUE;
}

/* Rows along the x axis or the y axis, an aisle apart, without a thought. */
static guint
count_plain (const BedYard *yard, const BedPile *pile)
{
  guint n = 0;

  for (double y = pile->width / 2; y < yard->depth; y += pile->width + AISLE)
    for (double x = pile->length / 2; x < yard->width; x += pile->length + AISLE)
      n += is_free (yard, pile, x, y);
  return n;
}

/* Never fewer than plain rows along the longest side. */
static void
test_plain (void)
{
  GRand *dice = g_rand_new_with_seed (10);
  guint more = 0;

  for (guint i = 0; i < 60; i++)
    {
      g_autoptr (BedYard) yard = random_yard_new (dice, 4, 14);
      g_autoptr (BedScene) scene = bed_scene_new (yard);
      g_autoptr (BedYardStack) like = like_new (i % (BED_N_STACKS - 1));
      g_autoptr (BedPile) pile = bed_pile_new (like);
      const BedRoomWish wish = { like, NULL, AISLE };
      g_autoptr (GArray) places = bed_room_fill (scene, &wish);
      guint plain = count_plain (yard, pile);
      g_assert_cmpuint (places->len, >=, plain);
      more += places->len > plain;
    }
  g_assert_cmpuint (more, >, 12);
  g_rand_free (dice);
}

typedef struct
{
  GArray *spots; /* BedPoint */
  const BedPile *pile;
  guint best;
} Brute;

static void
choose (Brute *self, guint from, const BedPoint *chosen, guint n)
{
  BedPoint more[16];

  self->best = MAX (self->best, n);
  if (n == G_N_ELEMENTS (more))
    return;
  for (guint i = from; i < self->spots->len; i++)
    {
      BedPoint p = g_array_index (self->spots, BedPoint, i);
      gboolean apart = TRUE;
      for (guint j = 0; j < n && apart; j++)
        {
          double dx = MAX (0, fabs (p.x - chosen[j].x) - self->pile->length);
          double dy = MAX (0, fabs (p.y - chosen[j].y) - self->pile->width);
          apart = hypot (dx, dy) >= AISLE - 1e-9;
        }
      if (!apart)
        continue;
      for (guint j = 0; j < n; j++)
        more[j] = chosen[j];
      more[n] = p;
      choose (self, i + 1, more, n + 1);
    }
}

/* The most that fit at all, standing straight, on a grid of 0.4 m: ours find as many, but for a
 * few yards where one less. */
static void
test_brute (void)
{
  GRand *dice = g_rand_new_with_seed (11);
  guint fewer = 0;

  for (guint i = 0; i < 60; i++)
    {
      g_autoptr (BedYard) yard = random_yard_new (dice, 2.4, 4.8);
      g_autoptr (BedScene) scene = bed_scene_new (yard);
      g_autoptr (BedYardStack) like = like_new (BED_STACK_CRIB);
      g_autoptr (BedPile) pile = bed_pile_new (like);
      g_autoptr (GArray) spots = g_array_new (FALSE, FALSE, sizeof (BedPoint));
      Brute brute = { spots, pile, 0 };
      const BedRoomWish wish = { like, NULL, AISLE };
      g_autoptr (GArray) places = bed_room_fill (scene, &wish);
      for (double y = pile->width / 2; y < yard->depth; y += 0.4)
        for (double x = pile->length / 2; x < yard->width; x += 0.4)
          if (is_free (yard, pile, x, y))
            g_array_append_val (spots, ((BedPoint){ x, y }));
      choose (&brute, 0, NULL, 0);
      g_assert_cmpuint (places->len + 1, >=, brute.best);
      fewer += places->len < brute.best;
    }
  g_test_message ("one fewer in %u of 60", fewer);
  g_assert_cmpuint (fewer, <=, 3);
  g_rand_free (dice);
}

/* --- who stands where ----------------------------------------------------------------------- */

/* Logs of @n_groups groups; the one of the highest number is soaked first. */
static GPtrArray *
make_logs (GRand *dice, guint n, guint n_groups)
{
  GPtrArray *logs = bed_arrange_imagine (n, 1, 0.12);

  for (guint i = 0; i < n; i++)
    {
      BedArrangeLog *log = logs->pdata[i];
      guint group = (guint) g_rand_int_range (dice, 0, (int) n_groups);
      log->id = i + 1;
      log->length = g_rand_double_range (dice, 0.8, 1.2);
      log->diameter = g_rand_double_range (dice, 0.08, 0.2);
      log->group = g_strdup_printf ("26%c", 'A' + (int) group);
      log->next_soak = g_strdup_printf ("2026-06-%02u", 20 - group);
    }
  return logs;
}

/* The stack with the very logs it was given. */
static BedYardStack *
build (const BedArrangement *arrangement, const BedArrangedStack *arranged, BedStackKind kind)
{
  BedYardStack *stack = bed_yard_stack_new (kind);

  stack->pose = arranged->pose;
  for (guint i = 0; i < arranged->n; i++)
    {
      const BedArrangeLog *from = arrangement->logs->pdata[arranged->first + i];
      BedYardLog *log = bed_yard_log_new ();
      log->length = from->length;
      log->diameter = from->diameter;
      g_ptr_array_add (stack->logs, log);
    }
  return stack;
}

/* Nothing overlaps, lies outside or across anything that was drawn, with the logs they get. */
static void
assert_sound (BedYard *yard, const BedArrangement *arrangement, BedStackKind kind)
{
  guint old = yard->stacks->len;

  for (guint i = 0; i < arrangement->stacks->len; i++)
    g_ptr_array_add (
        yard->stacks,
        build (arrangement, &g_array_index (arrangement->stacks, BedArrangedStack, i), kind));
  g_autoptr (BedScene) scene = bed_scene_new (yard);
  for (guint i = old; i < yard->stacks->len; i++)
    {
      const BedYardStack *stack = yard->stacks->pdata[i];
      BedPoint corners[4], others[4];
      BedMeasurement nearest;
      bed_yard_footprint (scene, i, &stack->pose, corners);
      BedShape shape = bed_shape_polygon (corners, 4);
      bed_yard_nearest (scene, i, &stack->pose, &nearest);
      g_assert_cmpfloat (nearest.distance, >=, AISLE - 0.0011);
      for (guint f = 0; f < yard->features->len; f++)
        {
          const BedYardFeature *feature = yard->features->pdata[f];
          BedShape footing = bed_feature_get_footing (feature, others);
          g_assert_false (feature->kind != BED_FEATURE_SHADE_CLOTH
                          && bed_shape_overlaps (&shape, &footing));
        }
      BedShape outline = bed_shape_polygon ((const BedPoint *) (gpointer) yard->outline->data,
                                            yard->outline->len);
      g_assert_true (bed_shape_lies_in (&shape, &outline));
    }
  g_ptr_array_set_size (yard->stacks, (int) old);
}

static void
test_sound (void)
{
  GRand *dice = g_rand_new_with_seed (12);

  for (guint kind = 0; kind < BED_N_STACKS - 1; kind++)
    {
      g_autoptr (BedYard) yard = sample_yard_new ();
      g_autoptr (BedScene) scene = bed_scene_new (yard);
      g_autoptr (BedYardStack) like = like_new (kind);
      const BedArrangeWish wish = { like, NULL, AISLE };
      g_autoptr (BedArrangement) one = bed_arrange (scene, &wish, make_logs (dice, 500, 3));
      guint placed = 0;
      for (guint i = 0; i < one->stacks->len; i++)
        placed += g_array_index (one->stacks, BedArrangedStack, i).n;
      g_assert_cmpuint (placed + one->left, ==, 500);
      g_assert_cmpuint (one->stacks->len, >, 0);
      g_assert_true (one->left == 0 || one->stacks->len == one->n_places);
      assert_sound (yard, one, kind);
    }
  g_rand_free (dice);
}

static const BedArrangeLog *
get_log (const BedArrangement *self, guint stack, guint i)
{
  return self->logs->pdata[g_array_index (self->stacks, BedArrangedStack, stack).first + i];
}

/* Who is soaked next stands nearest to the tap; no stack holds logs of two groups. */
static void
test_order (void)
{
  GRand *dice = g_rand_new_with_seed (13);
  g_autoptr (BedYard) yard = bed_yard_new (20, 14);
  g_autoptr (BedYardStack) like = like_new (BED_STACK_CRIB);
  const BedArrangeWish wish = { like, NULL, AISLE };

  sample_add_feature (yard, BED_FEATURE_TAP, "19 13");
  sample_add_feature (yard, BED_FEATURE_BUILDING, "12 8, 17 12");
  g_autoptr (BedScene) scene = bed_scene_new (yard);
  g_autoptr (BedArrangement) one = bed_arrange (scene, &wish, make_logs (dice, 300, 3));
  g_autoptr (BedArrangement) again = bed_arrange (scene, &wish, make_logs (dice, 300, 3));
  g_assert_cmpuint (one->stacks->len, >=, 13);
  g_assert_cmpuint (one->left, ==, 0);
  for (guint i = 0; i < one->stacks->len; i++)
    {
      const BedArrangedStack *stack = &g_array_index (one->stacks, BedArrangedStack, i);
      g_assert_cmpfloat (stack->to_water, >, 0);
      for (guint j = 1; j < stack->n; j++)
        g_assert_cmpstr (get_log (one, i, j)->group, ==, get_log (one, i, 0)->group);
      if (i == 0)
        continue;
      g_assert_cmpfloat (stack->to_water, >=,
                         g_array_index (one->stacks, BedArrangedStack, i - 1).to_water);
      g_assert_cmpstr (get_log (one, i, 0)->next_soak, >=, get_log (one, i - 1, 0)->next_soak);
    }
  g_assert_cmpuint (again->n_places, ==, one->n_places);
  g_rand_free (dice);
}

/* The same logs come to stand in the same places. */
static void
test_same (void)
{
  g_autoptr (BedYard) yard = sample_yard_new ();
  g_autoptr (BedScene) scene = bed_scene_new (yard);
  g_autoptr (BedYardStack) like = like_new (BED_STACK_A_FRAME);
  const BedArrangeWish wish = { like, NULL, AISLE };
  GRand *dice = g_rand_new_with_seed (14), *same = g_rand_new_with_seed (14);
  g_autoptr (BedArrangement) one = bed_arrange (scene, &wish, make_logs (dice, 90, 4));
  g_autoptr (BedArrangement) other = bed_arrange (scene, &wish, make_logs (same, 90, 4));

  g_assert_cmpuint (one->stacks->len, ==, other->stacks->len);
  for (guint i = 0; i < one->stacks->len; i++)
    {
      const BedArrangedStack *a = &g_array_index (one->stacks, BedArrangedStack, i);
      const BedArrangedStack *b = &g_array_index (other->stacks, BedArrangedStack, i);
      g_assert_cmpmem (&a->pose, sizeof a->pose, &b->pose, sizeof b->pose);
      for (guint j = 0; j < a->n; j++)
        g_assert_cmpint (get_log (one, i, j)->id, ==, get_log (other, i, j)->id);
    }
  g_rand_free (dice);
  g_rand_free (same);
}

/* Where room is scarce, groups share a stack rather than logs being left out. */
static void
test_scarce (void)
{
  g_autoptr (BedYard) yard = bed_yard_new (2.9, 1.1);
  g_autoptr (BedScene) scene = bed_scene_new (yard);
  g_autoptr (BedYardStack) like = like_new (BED_STACK_CRIB);
  const BedArrangeWish wish = { like, NULL, AISLE };
  GPtrArray *logs = bed_arrange_imagine (30, 1, 0.12);

  for (guint i = 0; i < 30; i++)
    ((BedArrangeLog *) logs->pdata[i])->group = g_strdup_printf ("26%c", 'A' + (int) (i / 10));
  g_autoptr (BedArrangement) one = bed_arrange (scene, &wish, logs);
  g_assert_cmpuint (one->n_places, ==, 2);
  g_assert_cmpuint (one->stacks->len, ==, 2);
  g_assert_cmpuint (one->left, ==, 0);
  g_autoptr (BedArrangement) much = bed_arrange (scene, &wish, bed_arrange_imagine (60, 1, 0.12));
  g_assert_cmpuint (much->left, ==, 60 - 2 * much->holds);
}

/* 500 logs in 40 by 25 m: well under a second. */
static void
test_speed (void)
{
  GRand *dice = g_rand_new_with_seed (15);
  g_autoptr (BedYard) yard = bed_yard_new (40, 25);
  g_autoptr (BedYardStack) like = like_new (BED_STACK_CRIB);
  const BedArrangeWish wish = { like, NULL, AISLE };

  sample_add_feature (yard, BED_FEATURE_TAP, "1 1");
  sample_add_feature (yard, BED_FEATURE_PATH, "0 12, 40 13");
  for (guint i = 0; i < 20; i++)
    {
      g_autofree char *at = g_strdup_printf ("%u %u", 2 + i * 7 % 37, 2 + i * 11 % 23);
      sample_add_feature (yard, BED_FEATURE_TREE, at);
    }
  g_autoptr (BedScene) scene = bed_scene_new (yard);
  gint64 begin = g_get_monotonic_time ();
  g_autoptr (BedArrangement) one = bed_arrange (scene, &wish, make_logs (dice, 500, 5));
  double took = (double) (g_get_monotonic_time () - begin) / 1e6;
  g_test_message ("%u places, %.3f s", one->n_places, took);
  g_assert_cmpuint (one->left, ==, 0);
  g_assert_cmpfloat (took, <, 1);
  g_rand_free (dice);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/arrange/plain", test_plain);
  g_test_add_func ("/arrange/brute", test_brute);
  g_test_add_func ("/arrange/sound", test_sound);
  g_test_add_func ("/arrange/order", test_order);
  g_test_add_func ("/arrange/same", test_same);
  g_test_add_func ("/arrange/scarce", test_scarce);
  g_test_add_func ("/arrange/speed", test_speed);
  return g_test_run ();
}
