#include "yard/work_order.h"

#include <math.h>

typedef struct
{
  GPtrArray *moves;
  GHashTable *overlaps; /* pair of shapes -> whether they do, for those asked about */
  guint *before;        /* of each, the moves that must be done before and are not */
  GArray **after;       /* of each, guint: those that must be done after it */
  gboolean *done;
} Order;

static BedPlannedMove *
get_move (const Order *self, guint i)
{
  return self->moves->pdata[i];
}

static gboolean
is_same (const BedPlannedSpot *one, const BedPlannedSpot *other)
{
  return one->stack && one->stack == other->stack && one->tier == other->tier
         && one->slot == other->slot;
}

gboolean
bed_planned_lies_on (const BedPlannedSpot *upper, const BedPlannedSpot *lower)
{
  if (!upper->stack || upper->stack != lower->stack || upper->tier <= lower->tier)
    return FALSE;
  /* In a row, tiers stand side by side; a totem's sections stand each on its own. */
  return upper->kind == BED_STACK_DEAD || upper->kind == BED_STACK_CRIB
         || (upper->kind == BED_STACK_TOTEM && upper->slot == lower->slot);
}

static gboolean
overlap (Order *self, const BedPlannedSpot *from, const BedPlannedSpot *to)
{
  gint64 pair[2] = { from->stack, to->stack };
  gpointer known;

  if (from->stack == to->stack || !from->ground || !to->ground)
    return FALSE;
  g_autoptr (GBytes) key = g_bytes_new (pair, sizeof pair);
  if (g_hash_table_lookup_extended (self->overlaps, key, NULL, &known))
    return GPOINTER_TO_INT (known);
  gboolean overlaps = bed_shape_overlaps (from->ground, to->ground);
  g_hash_table_insert (self->overlaps, g_steal_pointer (&key), GINT_TO_POINTER (overlaps));
  return overlaps;
}

static gboolean
must_precede (Order *self, const BedPlannedMove *first, const BedPlannedMove *then)
{
  return bed_planned_lies_on (&first->from, &then->from) || is_same (&first->from, &then->to)
         || bed_planned_lies_on (&then->to, &first->from)
         || bed_planned_lies_on (&first->from, &then->to)
         || bed_planned_lies_on (&then->to, &first->to) || overlap (self, &first->from, &then->to);
}

static void
hinder (BedPlannedMove *move, const GArray *stays)
{
  move->state = BED_PLANNED_READY;
  g_clear_pointer (&move->hindered_by, g_free);
  for (guint i = 0; i < stays->len && move->state == BED_PLANNED_READY; i++)
    {
      const BedPlannedStay *stay = &g_array_index (stays, BedPlannedStay, i);
      if (is_same (&stay->at, &move->to))
        move->state = BED_PLANNED_TAKEN;
      else if (bed_planned_lies_on (&stay->at, &move->from)
               || bed_planned_lies_on (&stay->at, &move->to))
        move->state = BED_PLANNED_UNDER;
      if (move->state != BED_PLANNED_READY)
        move->hindered_by = g_strdup (stay->code);
    }
}

static double
measure_way (const BedPlannedMove *move)
{
  return move->from.stack ? hypot (move->to.at.x - move->from.at.x, move->to.at.y - move->from.at.y)
                          : 0;
}

/* Whether @one is rather done next than @other, both free to be done. */
static gboolean
is_sooner (const BedPlannedMove *last, const BedPlannedMove *one, const BedPlannedMove *other)
{
  gboolean goes_on = last && one->from.stack == last->from.stack;
  gboolean other_goes_on = last && other->from.stack == last->from.stack;

  if (goes_on != other_goes_on)
    return goes_on;
  double way = measure_way (one), other_way = measure_way (other);
  if (way != other_way)
    return way < other_way;
  if (one->from.stack != other->from.stack)
    return one->from.stack < other->from.stack;
  if (one->from.tier != other->from.tier)
    return one->from.tier > other->from.tier;
  if (one->from.slot != other->from.slot)
    return one->from.slot < other->from.slot;
  return strcmp (one->code, other->code) < 0;
}

static void
find_pairs (Order *self)
{
  for (guint i = 0; i < self->moves->len; i++)
    self->after[i] = g_array_new (FALSE, FALSE, sizeof (guint));
  for (guint i = 0; i < self->moves->len; i++)
    for (guint j = 0; j < self->moves->len; j++)
      if (i != j && must_precede (self, get_move (self, i), get_move (self, j)))
        {
          g_array_append_val (self->after[i], j);
          self->before[j]++;
        }
}

/* The move to be done next, or the number of all when none can be. */
static guint
find_next (const Order *self, const BedPlannedMove *last)
{
  guint best = self->moves->len;

  for (guint i = 0; i < self->moves->len; i++)
    if (!self->done[i] && self->before[i] == 0 && get_move (self, i)->state == BED_PLANNED_READY
        && (best == self->moves->len
            || is_sooner (last, get_move (self, i), get_move (self, best))))
      best = i;
  return best;
}

static void
put_in_order (Order *self)
{
  g_autoptr (GPtrArray) order = g_ptr_array_new ();
  guint n = self->moves->len;

  for (guint next = find_next (self, NULL); next < n;
       next = find_next (self, order->pdata[order->len - 1]))
    {
      g_ptr_array_add (order, get_move (self, next));
      self->done[next] = TRUE;
      for (guint i = 0; i < self->after[next]->len; i++)
        self->before[g_array_index (self->after[next], guint, i)]--;
    }
  for (guint i = 0; i < n; i++)
    {
      BedPlannedMove *move = get_move (self, i);
      if (self->done[i])
        continue;
      if (move->state == BED_PLANNED_READY)
        move->state = BED_PLANNED_WAITS;
      g_ptr_array_add (order, move);
    }
  if (n > 0)
    memcpy (self->moves->pdata, order->pdata, n * sizeof (gpointer));
}

static int
compare_codes (gconstpointer a, gconstpointer b)
{
  const BedPlannedMove *one = *(BedPlannedMove *const *) a, *other = *(BedPlannedMove *const *) b;

  return strcmp (one->code, other->code);
}

void
bed_planned_order (GPtrArray *moves, const GArray *stays)
{
  g_autofree guint *before = g_new0 (guint, moves->len);
  g_autofree GArray **after = g_new0 (GArray *, moves->len);
  g_autofree gboolean *done = g_new0 (gboolean, moves->len);
  g_autoptr (GHashTable) overlaps
      = g_hash_table_new_full (g_bytes_hash, g_bytes_equal, (GDestroyNotify) g_bytes_unref, NULL);
  Order self = { moves, overlaps, before, after, done };

  g_ptr_array_sort (moves, compare_codes);
  for (guint i = 0; i < moves->len; i++)
    hinder (moves->pdata[i], stays);
  find_pairs (&self);
  put_in_order (&self);
  for (guint i = 0; i < moves->len; i++)
    g_array_unref (after[i]);
}

void
bed_planned_move_free (BedPlannedMove *move)
{
  g_free (move->code);
  g_free (move->hindered_by);
  g_free (move);
}
