#include "yard/heap.h"

#include <math.h>

#define CLOSE 1e-9

/* A place is first looked for among the last tiers, and this many logs to either side. */
#define TIERS 3
#define ASIDE 2

typedef struct
{
  const BedHeap *heap;
  double radius, wanted, least;
  BedPoint best;
  double cost;
} Resting;

static const BedHeapLog *
get_log (const Resting *self, guint i)
{
  return &g_array_index (self->heap->logs, BedHeapLog, i);
}

/* Whether it has room there, between the stakes. */
static gboolean
has_room (const Resting *self, double y, double z)
{
  if (fabs (y) > self->heap->half - self->radius + CLOSE
      || z < self->heap->floor + self->radius - CLOSE)
    return FALSE;
  for (guint i = 0; i < self->heap->logs->len; i++)
    {
      const BedHeapLog *other = get_log (self, i);
      double reach = self->radius + other->radius - CLOSE;
      double dy = y - other->middle.x, dz = z - other->middle.y;
      if (fabs (dy) < reach && dy * dy + dz * dz < reach * reach)
        return FALSE;
    }
  return TRUE;
}

/* A place it would stay in: low, near where it belongs and in the order of the slots is best. */
static void
offer (Resting *self, double y, double z)
{
  double cost = fabs (y - self->wanted) + z + (y <= self->least ? 4 * self->radius : 0);

  if (cost >= self->cost || !has_room (self, y, z))
    return;
  self->cost = cost;
  self->best = (BedPoint){ y, z };
}

/* Between these two, touching both. */
static void
offer_hollow (Resting *self, const BedHeapLog *left, const BedHeapLog *right)
{
  double a = self->radius + left->radius, b = self->radius + right->radius;
  double dy = right->middle.x - left->middle.x, dz = right->middle.y - left->middle.y;
  double apart = hypot (dy, dz);

  if (apart > a + b || apart <= 0)
    return;
  double along = (apart * apart + a * a - b * b) / (2 * apart);
  double aside = sqrt (MAX (0, a * a - along * along));
  double y = left->middle.x + (along * dy - aside * dz) / apart;
  double z = left->middle.y + (along * dz + aside * dy) / apart;
  if (y >= left->middle.x - CLOSE && y <= right->middle.x + CLOSE)
    offer (self, y, z);
}

/* On that log and against the stake on the side of @sign: the log pushes it there. */
static void
offer_stake (Resting *self, const BedHeapLog *under, int sign)
{
  double y = sign * (self->heap->half - self->radius), reach = self->radius + under->radius;
  double aside = y - under->middle.x;

  if (fabs (aside) <= reach && sign * aside >= -CLOSE)
    offer (self, y, under->middle.y + sqrt (reach * reach - aside * aside));
}

/* On what the lowest lie on, beside that log. */
static void
offer_floor (Resting *self, const BedHeapLog *beside)
{
  double z = self->heap->floor + self->radius, up = z - beside->middle.y;
  double reach = self->radius + beside->radius;

  for (int sign = -1; sign <= 1 && fabs (up) <= reach; sign += 2)
    offer (self, beside->middle.x + sign * sqrt (reach * reach - up * up), z);
}

/* The top of what lies there, for a log that no other place is left for. */
static double
find_top (const Resting *self)
{
  double top = self->heap->floor;

  for (guint i = 0; i < self->heap->logs->len; i++)
    top = MAX (top, get_log (self, i)->middle.y + get_log (self, i)->radius);
  return top;
}

/* All places that the logs of @near (BedHeapLog *) make. */
static void
offer_all (Resting *self, const GPtrArray *near)
{
  for (guint i = 0; i < near->len; i++)
    {
      const BedHeapLog *a = near->pdata[i];
      for (guint j = i + 1; j < near->len; j++)
        {
          const BedHeapLog *b = near->pdata[j];
          if (fabs (a->middle.x - b->middle.x) <= a->radius + b->radius + 2 * self->radius)
            offer_hollow (self, a->middle.x <= b->middle.x ? a : b,
                          a->middle.x <= b->middle.x ? b : a);
        }
      offer_stake (self, a, -1);
      offer_stake (self, a, 1);
      offer_floor (self, a);
    }
}

BedPoint
bed_heap_rest (const BedHeap *heap, double radius, double wanted, double least)
{
  Resting self = { heap, radius, wanted, least, { 0, 0 }, G_MAXDOUBLE };
  g_autoptr (GPtrArray) near = g_ptr_array_new ();
  guint n = heap->logs->len, recent = MIN (n, TIERS * heap->row);

  for (guint i = n - recent; i < n; i++)
    if (fabs (get_log (&self, i)->middle.x - wanted) <= 2 * ASIDE * radius)
      g_ptr_array_add (near, (gpointer) get_log (&self, i));
  offer_all (&self, near);
  if (self.cost < G_MAXDOUBLE)
    return self.best;
  g_ptr_array_set_size (near, 0);
  for (guint i = 0; i < n; i++)
    g_ptr_array_add (near, (gpointer) get_log (&self, i));
  offer_all (&self, near);
  if (self.cost == G_MAXDOUBLE) /* wider than the stakes are apart */
    self.best = (BedPoint){ 0, find_top (&self) + radius };
  return self.best;
}
