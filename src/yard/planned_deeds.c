/* The plan of a day is changed, and carried out. */
#include "yard/planned_farm.h"

#include <glib/gi18n-lib.h>

#include "model/farm/names.h"
#include "model/farm/query.h"
#include "model/farm/say.h"
#include "model/farm/value.h"
#include "science/language.h"

/* The pile is put on its head: what is taken up first is set down first, at the bottom. */
static GPtrArray *
list_from_top (const BedYardStack *stack)
{
  g_autoptr (BedPile) pile = bed_pile_new (stack);
  GPtrArray *logs = g_ptr_array_new ();

  for (guint end = pile->bars->len; end > 0;)
    {
      guint first = end - 1;
      while (first > 0
             && g_array_index (pile->bars, BedBar, first - 1).tier
                    == g_array_index (pile->bars, BedBar, end - 1).tier)
        first--;
      for (guint i = first; i < end; i++)
        {
          const BedYardLog *log = g_array_index (pile->bars, BedBar, i).log;
          if (log)
            g_ptr_array_add (logs, (gpointer) log);
        }
      end = first;
    }
  return logs;
}

static gboolean
refuse_empty (const BedYardStack *stack, GError **error)
{
  return bed_farm_refuse (error, BED_FARM_ERROR_INVALID,
                          _ ("Nothing would lie in %s: a plan is of logs and where they go."),
                          stack->name);
}

static gboolean
refuse_feature (GError **error)
{
  return bed_farm_refuse (error, BED_FARM_ERROR_INVALID,
                          _ ("A plan is of stacks and logs: go back to today to change the rest."));
}

/* --- records -------------------------------------------------------------------------------- */

gint64
bed_planned_add_build (BedYardChange *change, BedFarm *farm, const char *day,
                       const BedNewStack *stack)
{
  g_autoptr (BedRecord) record = bed_record_new (BED_KIND_PLANNED_STACK);

  bed_record_set_text (record, "planned_on", day);
  bed_record_set_text (record, "name", bed_yard_change_name_stack (change, farm, stack->kind));
  bed_record_set_int (record, "area", stack->area);
  bed_record_set_text (record, "kind", bed_stack_kind_key (stack->kind));
  bed_record_set_int (record, "tiers", bed_stack_tiers (stack->kind, stack->tiers));
  bed_record_set_int (record, "per_tier", bed_stack_per_tier (stack->kind, stack->per_tier));
  bed_yard_set_pose (record, &stack->pose);
  bed_edit_put (change->edit, record);
  return -bed_record_get_id (record);
}

BedYardChange *
bed_planned_build (BedFarm *farm, const char *day, const BedNewStack *stack, gint64 *id)
{
  BedYardChange *change = bed_yard_change_new_empty (farm);
  gint64 made = bed_planned_add_build (change, farm, day, stack);
  GHashTableIter names;
  gpointer name;

  g_hash_table_iter_init (&names, change->names);
  g_hash_table_iter_next (&names, &name, NULL);
  change->sentence = g_strdup_printf (_ ("Planned %s"), (char *) name);
  if (id)
    *id = made;
  return change;
}

static gboolean
find_move (BedFarm *farm, const char *day, gint64 log, gint64 *id, GError **error)
{
  g_autoptr (BedQuery) q
      = bed_query_new (farm, "SELECT id FROM planned_move WHERE log = ?1 AND planned_on = ?2");

  bed_query_bind_int (q, 1, log);
  bed_query_bind_text (q, 2, day);
  *id = bed_query_next (q) ? bed_query_int (q, 0) : 0;
  return bed_query_finish (q, error);
}

static void
set_goal (BedRecord *move, gint64 stack)
{
  bed_record_unset (move, stack < 0 ? "stack" : "new_stack");
  bed_record_set_int (move, stack < 0 ? "new_stack" : "stack", ABS (stack));
}

gboolean
bed_planned_add_move (BedYardChange *change, BedFarm *farm, const char *day, gint64 log,
                      const BedLogGoal *goal, GError **error)
{
  gint64 id;

  if (!find_move (farm, day, log, &id, error))
    return FALSE;
  g_autoptr (BedRecord) move = id ? bed_farm_load (farm, BED_KIND_PLANNED_MOVE, id, error)
                                  : bed_record_new (BED_KIND_PLANNED_MOVE);
  if (!move)
    return FALSE;
  bed_record_set_text (move, "planned_on", day);
  bed_record_set_int (move, "log", log);
  set_goal (move, goal->to->id);
  bed_record_set_int (move, "tier", goal->tier);
  bed_record_set_int (move, "slot", goal->slot);
  bed_edit_put (change->edit, move);
  return TRUE;
}

/* --- planning ------------------------------------------------------------------------------- */

static gboolean
move_planned (BedYardChange *change, BedFarm *farm, gint64 id, const BedPose *pose, GError **error)
{
  g_autoptr (BedRecord) stack = bed_farm_load (farm, BED_KIND_PLANNED_STACK, id, error);

  if (!stack)
    return FALSE;
  bed_yard_set_pose (stack, pose);
  bed_edit_put (change->edit, stack);
  return TRUE;
}

static gboolean
move_standing (BedYardChange *change, BedFarm *farm, gint64 area, const char *day,
               const BedYardStack *stack, const BedPose *pose, GError **error)
{
  g_autoptr (GPtrArray) logs = list_from_top (stack);
  BedNewStack new_stack = { area, stack->kind, *pose, stack->tiers, stack->per_tier };

  if (logs->len == 0)
    return refuse_empty (stack, error);
  g_autoptr (BedYardStack) to = bed_yard_stack_new (stack->kind);
  to->tiers = stack->tiers;
  to->per_tier = stack->per_tier;
  to->id = bed_planned_add_build (change, farm, day, &new_stack);
  g_autoptr (BedPile) places = bed_pile_new (to);
  for (guint i = 0; i < logs->len; i++)
    {
      const BedYardLog *log = logs->pdata[i];
      BedLogGoal goal = { to, 0, 0 };
      if (i < places->bars->len)
        {
          const BedBar *bar = &g_array_index (places->bars, BedBar, i);
          goal.tier = bar->tier;
          goal.slot = bar->slot;
        }
      if (!bed_planned_add_move (change, farm, day, log->id, &goal, error))
        return FALSE;
    }
  return TRUE;
}

BedYardChange *
bed_planned_move (BedFarm *farm, const BedYard *yard, const char *day, const GArray *steps,
                  GError **error)
{
  g_autoptr (BedYardChange) change = bed_yard_change_new_empty (farm);
  const char *name = NULL;

  for (guint i = 0; i < steps->len; i++)
    {
      const BedGroupStep *step = &g_array_index (steps, BedGroupStep, i);
      const BedYardStack *stack = step->thing.kind == BED_THING_STACK
                                      ? bed_yard_find_stack (yard, step->thing.id, NULL)
                                      : NULL;
      if (!stack)
        {
          refuse_feature (error);
          return NULL;
        }
      BedPose pose = bed_motion_pose (&step->motion, &stack->pose);
      name = stack->name;
      if (!(stack->id < 0 ? move_planned (change, farm, -stack->id, &pose, error)
                          : move_standing (change, farm, yard->id, day, stack, &pose, error)))
        return NULL;
    }
  change->sentence = steps->len == 1 ? g_strdup_printf (_ ("Planned to move %s"), name)
                                     : bed_say (ngettext ("Planned to move %u stack",
                                                          "Planned to move %u stacks", steps->len),
                                                steps->len);
  return g_steal_pointer (&change);
}

BedYardChange *
bed_planned_move_logs (BedFarm *farm, const char *day, const GArray *logs, const BedLogGoal *goal,
                       GError **error)
{
  g_autoptr (BedYardChange) change = bed_yard_change_new_empty (farm);
  g_autoptr (GArray) goals = bed_yard_list_places (goal, logs, error);

  if (!goals)
    return NULL;
  for (guint i = 0; i < logs->len; i++)
    if (!bed_planned_add_move (change, farm, day, g_array_index (logs, gint64, i),
                               &g_array_index (goals, BedLogGoal, i), error))
      return NULL;
  change->sentence = bed_say (
      ngettext ("Planned to move %u log to %s", "Planned to move %u logs to %s", logs->len),
      logs->len, goal->to->name);
  return g_steal_pointer (&change);
}

/* The records the question finds, out of the farm. */
static gboolean
remove_found (BedYardChange *change, BedKind kind, BedQuery *q, GError **error)
{
  while (bed_query_next (q))
    bed_edit_remove (change->edit, kind, bed_query_int (q, 0));
  return bed_query_finish (q, error);
}

BedYardChange *
bed_planned_remove (BedFarm *farm, const BedYard *yard, const GArray *things, GError **error)
{
  g_autoptr (BedYardChange) change = bed_yard_change_new_empty (farm);
  g_autoptr (GString) names = g_string_new (NULL);

  for (guint i = 0; i < things->len; i++)
    {
      const BedThing *thing = &g_array_index (things, BedThing, i);
      g_autoptr (BedQuery) q
          = bed_query_new (farm, "SELECT id FROM planned_move WHERE new_stack = ?1");
      if (thing->kind != BED_THING_STACK || thing->id > 0)
        {
          g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID,
                       _ ("That stands there today: go back to today to take it away."));
          return NULL;
        }
      bed_query_bind_int (q, 1, -thing->id);
      if (!remove_found (change, BED_KIND_PLANNED_MOVE, q, error))
        return NULL;
      bed_edit_remove (change->edit, BED_KIND_PLANNED_STACK, -thing->id);
      const BedYardStack *stack = bed_yard_find_stack (yard, thing->id, NULL);
      g_string_append_printf (names, "%s%s", i ? bed_comma () : "", stack ? stack->name : "");
    }
  change->sentence = g_strdup_printf (_ ("Left out of the plan: %s"), names->str);
  return g_steal_pointer (&change);
}

BedYardChange *
bed_planned_forget (BedFarm *farm, const char *day, GError **error)
{
  g_autoptr (BedYardChange) change = bed_yard_change_new_empty (farm);
  g_autoptr (BedQuery) moves
      = bed_query_new (farm, "SELECT id FROM planned_move WHERE planned_on = ?1");
  g_autoptr (BedQuery) stacks
      = bed_query_new (farm, "SELECT id FROM planned_stack WHERE planned_on = ?1");
  g_autofree char *said = bed_date_format (day);

  bed_query_bind_text (moves, 1, day);
  bed_query_bind_text (stacks, 1, day);
  if (!remove_found (change, BED_KIND_PLANNED_MOVE, moves, error)
      || !remove_found (change, BED_KIND_PLANNED_STACK, stacks, error))
    return NULL;
  change->sentence = g_strdup_printf (_ ("Discarded the plan for %s"), said);
  return g_steal_pointer (&change);
}

/* --- carrying out ----------------------------------------------------------------------------- */

typedef struct
{
  BedFarm *farm;
  const BedPlannedDay *draft;
  BedYardChange *change;
  GHashTable *made;   /* id of a planned stack -> BedYardStack, the one that is built of it */
  GHashTable *gone;   /* gint64 * of a stack -> logs that were taken out of it */
  GHashTable *wanted; /* gint64 * of the stacks that logs go to, now or later */
} CarryOut;

/* As it was planned, under the name it was planned with. */
static BedYardStack *
build (CarryOut *self, gint64 planned, BedStackKind kind, GError **error)
{
  static const char *const fields[] = { "area", "x", "y", "turn", "tiers", "per_tier" };
  g_autoptr (BedRecord) plan = bed_farm_load (self->farm, BED_KIND_PLANNED_STACK, planned, error);
  g_autoptr (BedRecord) record = bed_record_new (BED_KIND_STACK);

  if (!plan)
    return NULL;
  const char *name = bed_record_get_text (plan, "name");
  if (bed_farm_find (self->farm, BED_KIND_STACK, name, NULL))
    name = bed_yard_change_name_stack (self->change, self->farm, kind);
  bed_record_set_text (record, "name", name);
  bed_record_set_text (record, "kind", bed_record_get_text (plan, "kind"));
  bed_record_set_text (record, "built_on", bed_farm_get_today (self->farm));
  for (guint i = 0; i < G_N_ELEMENTS (fields); i++)
    if (bed_record_has (plan, fields[i]))
      bed_record_set_int (record, fields[i], bed_record_get_int (plan, fields[i]));
  bed_edit_put (self->change->edit, record);
  bed_edit_remove (self->change->edit, BED_KIND_PLANNED_STACK, planned);
  BedYardStack *stack = bed_yard_stack_new (kind);
  stack->id = bed_record_get_id (record);
  return stack;
}

static const BedYardStack *
find_made (CarryOut *self, const BedPlannedSpot *to, GError **error)
{
  gint64 planned = -to->stack;
  BedYardStack *stack = g_hash_table_lookup (self->made, &planned);

  if (stack)
    return stack;
  stack = build (self, planned, to->kind, error);
  if (stack)
    g_hash_table_insert (self->made, g_memdup2 (&planned, sizeof planned), stack);
  return stack;
}

static gboolean
make_move (CarryOut *self, const BedPlannedMove *move, GError **error)
{
  g_autoptr (BedYardStack) standing = bed_yard_stack_new (move->to.kind);
  BedLogGoal goal = { standing, move->to.tier, move->to.slot };

  standing->id = move->to.stack;
  if (move->to.stack < 0)
    goal.to = find_made (self, &move->to, error);
  if (!goal.to || !bed_yard_change_add_log (self->change, self->farm, move->log, &goal, error))
    return FALSE;
  bed_edit_remove (self->change->edit, BED_KIND_PLANNED_MOVE, move->id);
  guint gone = GPOINTER_TO_UINT (g_hash_table_lookup (self->gone, &move->from.stack));
  if (move->from.stack)
    g_hash_table_insert (self->gone, (gpointer) &move->from.stack, GUINT_TO_POINTER (gone + 1));
  return TRUE;
}

/* What stays planned goes into the stack that stands now. */
static gboolean
keep_move (CarryOut *self, const BedPlannedMove *move, GError **error)
{
  gint64 planned = -move->to.stack;
  const BedYardStack *stack = g_hash_table_lookup (self->made, &planned);

  if (!stack)
    return TRUE;
  g_autoptr (BedRecord) record = bed_farm_load (self->farm, BED_KIND_PLANNED_MOVE, move->id, error);
  if (!record)
    return FALSE;
  set_goal (record, stack->id);
  bed_edit_put (self->change->edit, record);
  return TRUE;
}

/* A retired log lies where it lay: its stack is not empty. */
static gboolean
take_down_empty (CarryOut *self, GError **error)
{
  GHashTableIter all;
  gpointer stack, gone;

  g_hash_table_iter_init (&all, self->gone);
  while (g_hash_table_iter_next (&all, &stack, &gone))
    if (g_hash_table_lookup (self->draft->counts, stack) == gone
        && !g_hash_table_contains (self->wanted, stack)
        && !bed_yard_change_add_take_down (self->change, self->farm, *(gint64 *) stack, error))
      return FALSE;
  return TRUE;
}

static gboolean
is_among (const GArray *ids, gint64 id)
{
  for (guint i = 0; i < ids->len; i++)
    if (g_array_index (ids, gint64, i) == id)
      return TRUE;
  return FALSE;
}

static gboolean
carry_out (CarryOut *self, const GArray *ids, guint *n, GError **error)
{
  const GPtrArray *moves = self->draft->moves;

  for (guint i = 0; i < moves->len; i++)
    {
      const BedPlannedMove *move = moves->pdata[i];
      g_hash_table_add (self->wanted, (gpointer) &move->to.stack);
      if (!is_among (ids, move->id))
        continue;
      if (!make_move (self, move, error))
        return FALSE;
      (*n)++;
    }
  for (guint i = 0; i < moves->len; i++)
    if (!is_among (ids, ((BedPlannedMove *) moves->pdata[i])->id)
        && !keep_move (self, moves->pdata[i], error))
      return FALSE;
  return take_down_empty (self, error);
}

BedYardChange *
bed_planned_carry_out (BedFarm *farm, const BedPlannedDay *draft, const GArray *ids, GError **error)
{
  g_autoptr (BedYardChange) change = bed_yard_change_new_empty (farm);
  g_autoptr (GHashTable) made = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free,
                                                       (GDestroyNotify) bed_yard_stack_free);
  g_autoptr (GHashTable) gone = g_hash_table_new (g_int64_hash, g_int64_equal);
  g_autoptr (GHashTable) wanted = g_hash_table_new (g_int64_hash, g_int64_equal);
  CarryOut self = { farm, draft, change, made, gone, wanted };
  guint n = 0;

  if (!carry_out (&self, ids, &n, error))
    return NULL;
  change->sentence
      = bed_say (ngettext ("Moved %u log as planned", "Moved %u logs as planned", n), n);
  return g_steal_pointer (&change);
}
