#include "yard/planned_farm.h"

#include <glib/gi18n-lib.h>

#include "model/farm/query.h"
#include "yard/load.h"
#include "yard/load_logs.h"
#include "yard/marks.h"

#define METRES(um) ((um) / 1e6)
#define RADIANS(hundredths) ((hundredths) / 100.0 * G_PI / 180)

char *
bed_planned_dup_day (BedFarm *farm, GError **error)
{
  g_autoptr (BedQuery) q
      = bed_query_new (farm, "SELECT planned_on FROM planned_stack UNION"
                             " SELECT planned_on FROM planned_move ORDER BY 1 LIMIT 1");
  char *day = bed_query_next (q) ? g_strdup (bed_query_text (q, 0)) : NULL;

  if (bed_query_finish (q, error))
    return day;
  g_free (day);
  return NULL;
}

/* --- the yard of that day ----------------------------------------------------------------- */

static gboolean
add_planned_stacks (BedFarm *farm, BedYard *yard, const char *day, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (
      farm, "SELECT id, name, kind, coalesce (x, 0), coalesce (y, 0), turn, tiers, per_tier"
            " FROM planned_stack WHERE area = ?1 AND planned_on = ?2 ORDER BY id");

  bed_query_bind_int (q, 1, yard->id);
  bed_query_bind_text (q, 2, day);
  while (bed_query_next (q))
    {
      BedStackKind kind = bed_stack_kind_from_key (bed_query_text (q, 2));
      if (kind == BED_N_STACKS)
        continue;
      BedYardStack *stack = bed_yard_stack_new_for (farm, kind);
      stack->id = -bed_query_int (q, 0);
      stack->name = g_strdup (bed_query_text (q, 1));
      stack->pose = (BedPose){ METRES (bed_query_int (q, 3)), METRES (bed_query_int (q, 4)),
                               RADIANS (bed_query_int (q, 5)) };
      stack->tiers = (guint) bed_query_int (q, 6);
      stack->per_tier = (guint) bed_query_int (q, 7);
      g_ptr_array_add (yard->stacks, stack);
    }
  return bed_query_finish (q, error);
}

/* Out of its stack, or NULL where it does not lie in the area. */
static BedYardLog *
take_log (BedYard *yard, gint64 id, const BedYardStack **from)
{
  for (guint i = 0; i < yard->stacks->len; i++)
    {
      GPtrArray *logs = ((BedYardStack *) yard->stacks->pdata[i])->logs;
      *from = yard->stacks->pdata[i];
      for (guint j = 0; j < logs->len; j++)
        if (((BedYardLog *) logs->pdata[j])->id == id)
          return g_ptr_array_steal_index (logs, j);
    }
  *from = NULL;
  return NULL;
}

static gboolean
is_same_arrow (const BedYardArrow *a, const BedYardArrow *b)
{
  return a->from.x == b->from.x && a->from.y == b->from.y && a->to.x == b->to.x
         && a->to.y == b->to.y;
}

/* Once from each stack to each. */
static void
add_arrow (BedYard *yard, const BedYardStack *from, const BedYardStack *to)
{
  BedYardArrow arrow = { { from->pose.x, from->pose.y }, { to->pose.x, to->pose.y } };

  for (guint i = 0; i < yard->arrows->len; i++)
    if (is_same_arrow (&g_array_index (yard->arrows, BedYardArrow, i), &arrow))
      return;
  g_array_append_val (yard->arrows, arrow);
}

/* Those that go within the area, out of it or into it. Each is out before the first is in: it may
 * go where another lies. */
static gboolean
move_logs (BedFarm *farm, BedYard *yard, const char *day, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (
      farm, "SELECT coalesce (m.stack, -m.new_stack), l.id, l.code, b.code, l.batch, l.length,"
            "  max (l.small_diameter, coalesce (l.large_diameter, 0)), m.tier, m.slot"
            " FROM planned_move m JOIN log l ON l.id = m.log LEFT JOIN batch b ON b.id = l.batch"
            " WHERE m.planned_on = ?1 AND bed_alive (l.retired_on, bed_today ()) ORDER BY m.id");
  g_autoptr (GPtrArray) logs = g_ptr_array_new (), to = g_ptr_array_new ();
  GHashTable *marks = bed_marks_get (farm, error);

  if (!marks)
    return FALSE;
  bed_query_bind_text (q, 1, day);
  while (bed_query_next (q))
    {
      BedYardStack *stack = bed_yard_find_stack (yard, bed_query_int (q, 0), NULL);
      const BedYardStack *from;
      BedYardLog *log = take_log (yard, bed_query_int (q, 1), &from);
      if (from && stack && from != stack)
        add_arrow (yard, from, stack);
      if (!log)
        log = bed_yard_log_read (q, marks); /* its stage is not known there */
      log->tier = (guint) bed_query_int (q, 7);
      log->slot = (guint) bed_query_int (q, 8);
      g_ptr_array_add (logs, log);
      g_ptr_array_add (to, stack);
    }
  g_autoptr (BedYardStack) elsewhere = bed_yard_stack_new (BED_STACK_GROUND);
  for (guint i = 0; i < logs->len; i++)
    g_ptr_array_add ((to->pdata[i] ? (BedYardStack *) to->pdata[i] : elsewhere)->logs,
                     logs->pdata[i]);
  return bed_query_finish (q, error);
}

BedYard *
bed_planned_yard (BedFarm *farm, gint64 area, const char *day, GError **error)
{
  g_autoptr (BedYard) yard = bed_yard_load (farm, area, bed_farm_get_today (farm), error);

  if (!yard || !add_planned_stacks (farm, yard, day, error) || !move_logs (farm, yard, day, error))
    return NULL;
  return g_steal_pointer (&yard);
}

/* --- the moves ---------------------------------------------------------------------------- */

typedef struct
{
  BedFarm *farm;
  BedPlannedDay *draft;
  GHashTable *now, *then; /* gint64 * of a log -> BedPlannedSpot *, today and by the plan */
  GArray *stays;          /* BedPlannedStay */
} Reading;

static GHashTable *
spots_new (void)
{
  return g_hash_table_new_full (g_int64_hash, g_int64_equal, NULL, g_free);
}

static const BedShape *
find_ground (const BedScene *scene, guint index)
{
  for (guint i = 0; i < scene->shapes->len; i++)
    {
      const BedShape *shape = &g_array_index (scene->shapes, BedShape, i);
      if (shape->role == BED_SHAPE_STACK && shape->owner == index)
        return shape;
    }
  return NULL;
}

/* Where each log of the stack lies. */
static void
add_spots (const BedScene *scene, guint index, GHashTable *spots)
{
  const BedYardStack *stack = scene->yard->stacks->pdata[index];
  const BedPile *pile = scene->piles->pdata[index];
  const BedShape *ground = find_ground (scene, index);

  for (guint i = 0; i < pile->bars->len; i++)
    {
      const BedBar *bar = &g_array_index (pile->bars, BedBar, i);
      BedPlannedSpot spot = {
        stack->id, stack->kind, bar->tier, bar->slot, { stack->pose.x, stack->pose.y }, ground
      };
      if (bar->log)
        g_hash_table_insert (spots, (gpointer) &bar->log->id, g_memdup2 (&spot, sizeof spot));
    }
}

/* Takes @yard. */
static void
add_yard (Reading *self, BedYard *yard, GHashTable *spots)
{
  BedPlannedDay *draft = self->draft;
  BedScene *scene = bed_scene_new (yard);

  g_ptr_array_add (draft->yards, yard);
  g_ptr_array_add (draft->scenes, scene);
  for (guint i = 0; i < yard->stacks->len; i++)
    {
      const BedYardStack *stack = yard->stacks->pdata[i];
      add_spots (scene, i, spots);
      g_hash_table_insert (draft->names, (gpointer) &stack->id, stack->name);
      if (spots == self->now)
        g_hash_table_insert (draft->counts, (gpointer) &stack->id,
                             GUINT_TO_POINTER (stack->logs->len));
    }
}

/* All that the plan touches. */
static gboolean
read_areas (Reading *self, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (
      self->farm,
      "SELECT area FROM planned_stack WHERE planned_on = ?1 UNION"
      " SELECT k.area FROM planned_move m JOIN stack k ON k.id = m.stack WHERE m.planned_on = ?1"
      " UNION SELECT k.area FROM planned_move m JOIN place x ON x.log = m.log AND x.until IS NULL"
      "  JOIN stack k ON k.id = x.stack WHERE m.planned_on = ?1 ORDER BY 1");

  bed_query_bind_text (q, 1, self->draft->day);
  while (bed_query_next (q))
    {
      gint64 area = bed_query_int (q, 0);
      BedYard *now = bed_yard_load (self->farm, area, bed_farm_get_today (self->farm), error);
      if (!now)
        return FALSE;
      add_yard (self, now, self->now);
      BedYard *then = bed_planned_yard (self->farm, area, self->draft->day, error);
      if (!then)
        return FALSE;
      add_yard (self, then, self->then);
    }
  return bed_query_finish (q, error);
}

static gboolean
read_moves (Reading *self, GHashTable *planned, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (
      self->farm, "SELECT m.id, m.log, l.code FROM planned_move m JOIN log l ON l.id = m.log"
                  " WHERE m.planned_on = ?1 AND bed_alive (l.retired_on, bed_today ())"
                  " ORDER BY m.id");

  bed_query_bind_text (q, 1, self->draft->day);
  while (bed_query_next (q))
    {
      gint64 log = bed_query_int (q, 1);
      const BedPlannedSpot *from = g_hash_table_lookup (self->now, &log);
      const BedPlannedSpot *to = g_hash_table_lookup (self->then, &log);
      if (!to || !to->stack)
        continue;
      BedPlannedMove *move = g_new0 (BedPlannedMove, 1);
      move->id = bed_query_int (q, 0);
      move->log = log;
      move->code = g_strdup (bed_query_text (q, 2));
      move->to = *to;
      if (from)
        move->from = *from;
      g_ptr_array_add (self->draft->moves, move);
      g_hash_table_add (planned, &move->log);
    }
  return bed_query_finish (q, error);
}

/* In the order of the yards: a hash table has none. */
static void
list_stays (Reading *self, GHashTable *planned)
{
  for (guint y = 0; y < self->draft->yards->len; y += 2) /* today's */
    {
      const GPtrArray *stacks = ((BedYard *) self->draft->yards->pdata[y])->stacks;
      for (guint i = 0; i < stacks->len; i++)
        for (guint j = 0; j < ((BedYardStack *) stacks->pdata[i])->logs->len; j++)
          {
            const BedYardLog *log = ((BedYardStack *) stacks->pdata[i])->logs->pdata[j];
            if (g_hash_table_contains (planned, &log->id))
              continue;
            BedPlannedStay stay
                = { log->code, *(BedPlannedSpot *) g_hash_table_lookup (self->now, &log->id) };
            g_array_append_val (self->stays, stay);
          }
    }
}

BedPlannedDay *
bed_planned_read (BedFarm *farm, const char *day, GError **error)
{
  g_autoptr (BedPlannedDay) draft = g_new0 (BedPlannedDay, 1);
  g_autoptr (GHashTable) now = spots_new (), then = spots_new ();
  g_autoptr (GHashTable) planned = g_hash_table_new (g_int64_hash, g_int64_equal);
  g_autoptr (GArray) stays = g_array_new (FALSE, FALSE, sizeof (BedPlannedStay));
  Reading self = { farm, draft, now, then, stays };

  draft->day = g_strdup (day);
  draft->moves = g_ptr_array_new_with_free_func ((GDestroyNotify) bed_planned_move_free);
  draft->names = g_hash_table_new (g_int64_hash, g_int64_equal);
  draft->counts = g_hash_table_new (g_int64_hash, g_int64_equal);
  draft->scenes = g_ptr_array_new_with_free_func ((GDestroyNotify) bed_scene_free);
  draft->yards = g_ptr_array_new_with_free_func ((GDestroyNotify) bed_yard_free);
  if (!read_areas (&self, error) || !read_moves (&self, planned, error))
    return NULL;
  list_stays (&self, planned);
  bed_planned_order (draft->moves, stays);
  return g_steal_pointer (&draft);
}

void
bed_planned_free (BedPlannedDay *self)
{
  g_free (self->day);
  g_ptr_array_unref (self->moves);
  g_hash_table_unref (self->names);
  g_hash_table_unref (self->counts);
  g_ptr_array_unref (self->scenes);
  g_ptr_array_unref (self->yards);
  g_free (self);
}

char *
bed_planned_dup_spot (const BedPlannedDay *self, const BedPlannedSpot *spot)
{
  if (!spot->stack)
    return g_strdup (_ ("in no stack"));
  return g_strdup_printf (_ ("%s, tier %u, slot %u"),
                          (char *) g_hash_table_lookup (self->names, &spot->stack), spot->tier,
                          spot->slot);
}

char *
bed_planned_dup_trouble (const BedPlannedMove *move)
{
  switch (move->state)
    {
    case BED_PLANNED_UNDER:
      return g_strdup_printf (_ ("Log %s, which stays, lies on it."), move->hindered_by);
    case BED_PLANNED_TAKEN:
      return g_strdup_printf (_ ("Log %s lies there and stays."), move->hindered_by);
    case BED_PLANNED_WAITS:
      return g_strdup (_ ("It waits for a log that cannot be moved before it."));
    case BED_PLANNED_READY:
    default:
      return NULL;
    }
}
