#include "yard/arrange.h"

#include <math.h>

/* Rows whose waste differs by less waste alike: our own choice. */
#define SAME_WASTE 0.05

typedef struct
{
  BedRoomPlace place;
  double to_water;
  double row_to_water; /* of the nearest in its row */
  guint number;        /* as found */
} Candidate;

typedef struct
{
  const BedScene *scene;
  const BedArrangeWish *wish;
  BedArrangement *arrangement;
  BedYardStack *like; /* with as much room as any of the logs may take */
  GArray *candidates; /* Candidate */
} Arrange;

static const BedArrangeLog *
get_log (const BedArrangement *self, guint i)
{
  return self->logs->pdata[i];
}

/* --- the logs ------------------------------------------------------------------------------- */

/* Who is soaked next first; what is soaked together, together. */
static int
compare_logs (gconstpointer a, gconstpointer b)
{
  const BedArrangeLog *one = *(BedArrangeLog *const *) a, *other = *(BedArrangeLog *const *) b;
  int order = (one->next_soak == NULL) - (other->next_soak == NULL);

  if (order == 0)
    order = g_strcmp0 (one->next_soak, other->next_soak);
  return order ? order : g_strcmp0 (one->group, other->group);
}

static gboolean
are_together (const BedArrangeLog *one, const BedArrangeLog *other)
{
  return g_strcmp0 (one->group, other->group) == 0
         && g_strcmp0 (one->next_soak, other->next_soak) == 0;
}

/* The end of the logs from @first on that are soaked together. */
static guint
find_end (const BedArrangement *self, guint first)
{
  guint end = first + 1;

  while (end < self->logs->len && are_together (get_log (self, first), get_log (self, end)))
    end++;
  return end;
}

static guint
count_stacks (guint logs, guint holds)
{
  return (logs + holds - 1) / holds;
}

/* As many as there are when no stack holds logs of two groups. */
static guint
count_separate (const BedArrangement *self)
{
  guint n = 0;

  for (guint first = 0, end; first < self->logs->len; first = end)
    {
      end = find_end (self, first);
      n += count_stacks (end - first, self->holds);
    }
  return n;
}

/* A full stack of the longest and thickest, on the rail of the shortest: whichever of the logs
 * come to lie in one stack, it takes no more ground than that. */
static BedYardStack *
make_like (const BedArrangeWish *wish, const GPtrArray *logs)
{
  BedYardStack *like = bed_yard_stack_new (wish->like->kind);
  double longest = 0, shortest = G_MAXDOUBLE, thickest = 0;

  like->rules = wish->like->rules;
  for (guint i = 0; i < logs->len; i++)
    {
      const BedArrangeLog *log = logs->pdata[i];
      longest = MAX (longest, log->length);
      shortest = MIN (shortest, log->length);
      thickest = MAX (thickest, log->diameter);
    }
  g_autoptr (BedPile) pile = bed_pile_new (like);
  for (guint i = 0; i < pile->holds; i++)
    {
      BedYardLog *log = bed_yard_log_new ();
      log->length = i ? longest : shortest;
      log->diameter = thickest;
      g_ptr_array_add (like->logs, log);
    }
  return like;
}

/* --- the places ----------------------------------------------------------------------------- */

/* As if a stack stood at each of them. */
static void
measure_water (Arrange *self)
{
  g_autoptr (GPtrArray) all = g_ptr_array_new (), made = g_ptr_array_new_with_free_func (g_free);
  BedYard yard = *self->scene->yard;
  guint before = yard.stacks->len;

  for (guint i = 0; i < before; i++)
    g_ptr_array_add (all, yard.stacks->pdata[i]);
  for (guint i = 0; i < self->candidates->len; i++)
    {
      BedYardStack *stack = g_memdup2 (self->like, sizeof *self->like);
      stack->pose = g_array_index (self->candidates, Candidate, i).place.pose;
      g_ptr_array_add (made, stack);
      g_ptr_array_add (all, stack);
    }
  yard.stacks = all;
  g_autoptr (BedScene) scene = bed_scene_new (&yard);
  const BedWays *ways = bed_scene_get_ways (scene, 0);
  for (guint i = 0; i < self->candidates->len; i++)
    g_array_index (self->candidates, Candidate, i).to_water = bed_ways_to_water (ways, before + i);
}

static double
rank_water (double to_water)
{
  return to_water < 0 ? G_MAXDOUBLE : to_water;
}

static void
find_candidates (Arrange *self)
{
  const BedRoomWish room = { self->like, self->wish->within, self->wish->aisle };
  g_autoptr (GArray) places = bed_room_fill (self->scene, &room);

  for (guint i = 0; i < places->len; i++)
    {
      Candidate candidate = { g_array_index (places, BedRoomPlace, i), -1, G_MAXDOUBLE, i };
      g_array_append_val (self->candidates, candidate);
    }
  measure_water (self);
  for (guint i = 0; i < places->len; i++)
    {
      Candidate *one = &g_array_index (self->candidates, Candidate, i);
      for (guint j = 0; j < places->len; j++)
        {
          const Candidate *other = &g_array_index (self->candidates, Candidate, j);
          if (other->place.row == one->place.row)
            one->row_to_water = MIN (one->row_to_water, rank_water (other->to_water));
        }
    }
}

static int
compare_water (gconstpointer a, gconstpointer b)
{
  const Candidate *one = a, *other = b;
  double x = rank_water (one->to_water), y = rank_water (other->to_water);

  if (x != y)
    return x < y ? -1 : 1;
  return (one->number > other->number) - (one->number < other->number);
}

/* Rows that waste least, of those the ones nearest to water, row by row. */
static int
compare_rows (gconstpointer a, gconstpointer b)
{
  const Candidate *one = a, *other = b;
  int x = (int) (one->place.waste / SAME_WASTE), y = (int) (other->place.waste / SAME_WASTE);

  if (x != y)
    return x < y ? -1 : 1;
  if (one->row_to_water != other->row_to_water)
    return one->row_to_water < other->row_to_water ? -1 : 1;
  if (one->place.row != other->place.row)
    return one->place.row < other->place.row ? -1 : 1;
  return compare_water (a, b);
}

/* --- who stands where ----------------------------------------------------------------------- */

static void
add_stack (Arrange *self, guint first, guint n)
{
  BedArrangement *arrangement = self->arrangement;
  const Candidate *at = &g_array_index (self->candidates, Candidate, arrangement->stacks->len);
  BedArrangedStack stack = { at->place.pose, first, n, at->to_water };

  g_array_append_val (arrangement->stacks, stack);
}

/* From the nearest to water on; where there is less room than each group by itself would take, one
 * after the other without a gap. */
static void
fill_stacks (Arrange *self, guint separate)
{
  BedArrangement *arrangement = self->arrangement;
  guint n_logs = arrangement->logs->len, holds = arrangement->holds;
  gboolean apart = separate <= self->candidates->len;
  guint first = 0;

  while (first < n_logs && arrangement->stacks->len < self->candidates->len)
    {
      guint end = apart ? find_end (arrangement, first) : n_logs;
      guint n = MIN (end - first, holds);
      add_stack (self, first, n);
      first += n;
    }
  arrangement->left = n_logs - first;
}

BedArrangement *
bed_arrange (const BedScene *scene, const BedArrangeWish *wish, GPtrArray *logs)
{
  BedArrangement *arrangement = g_new0 (BedArrangement, 1);
  g_autoptr (BedYardStack) like = make_like (wish, logs);
  g_autoptr (GArray) candidates = g_array_new (FALSE, FALSE, sizeof (Candidate));
  Arrange self = { scene, wish, arrangement, like, candidates };

  g_ptr_array_sort (logs, compare_logs);
  arrangement->logs = logs;
  arrangement->stacks = g_array_new (FALSE, FALSE, sizeof (BedArrangedStack));
  arrangement->holds = like->logs->len;
  find_candidates (&self);
  arrangement->n_places = candidates->len;
  guint separate = count_separate (arrangement);
  guint together = count_stacks (logs->len, arrangement->holds);
  g_array_sort (candidates, compare_rows);
  g_array_set_size (candidates,
                    MIN (candidates->len, separate <= candidates->len ? separate : together));
  g_array_sort (candidates, compare_water);
  fill_stacks (&self, separate);
  return arrangement;
}

void
bed_arrangement_free (BedArrangement *self)
{
  g_ptr_array_unref (self->logs);
  g_array_unref (self->stacks);
  g_free (self);
}
