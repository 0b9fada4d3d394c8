#include "yard/moves.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "model/farm/kinds.h"
#include "model/farm/names.h"
#include "model/farm/query.h"
#include "model/farm/say.h"
#include "model/farm/value.h"

#define MICROMETRES(m) ((gint64) round ((m) *1e6))
#define HUNDREDTHS(radians) ((gint64) round ((radians) *180 / G_PI * 100))

static void
put (BedYardChange *change, BedRecord *record)
{
  bed_edit_put (change->edit, record);
  g_object_unref (record);
}

/* Tenths of a millimetre (a quarter foot is 76.2 mm) and of a degree: the drawing's own steps are
 * coarser, and what is typed stays as it was typed until it is moved. */
void
bed_yard_set_pose (BedRecord *stack, const BedPose *pose)
{
  bed_record_set_int (stack, "x", MICROMETRES (round (pose->x * 1e4) / 1e4));
  bed_record_set_int (stack, "y", MICROMETRES (round (pose->y * 1e4) / 1e4));
  bed_record_set_int (stack, "turn", HUNDREDTHS (pose->turn) / 10 * 10);
}

/* What the stack's record says of its place, kept as having been so until today. */
static BedRecord *
stood_new (BedFarm *farm, BedRecord *stack)
{
  static const char *const fields[] = { "area", "x", "y", "turn" };
  BedRecord *stood = bed_record_new (BED_KIND_STOOD);

  bed_record_set_int (stood, "stack", bed_record_get_id (stack));
  for (guint i = 0; i < G_N_ELEMENTS (fields); i++)
    if (bed_record_has (stack, fields[i]))
      bed_record_set_int (stood, fields[i], bed_record_get_int (stack, fields[i]));
  bed_record_set_text (stood, "until", bed_farm_get_today (farm));
  return stood;
}

/* Whether the stack's place is one it had on an earlier day. */
static gboolean
stood_before_today (BedFarm *farm, BedRecord *stack, gboolean *before, GError **error)
{
  gint64 moved_today;

  if (!bed_query_one (farm, "SELECT count (*) FROM stood WHERE stack = ?1 AND until = bed_today ()",
                      bed_record_get_id (stack), &moved_today, error))
    return FALSE;
  *before = !moved_today && bed_record_has (stack, "x") && bed_record_has (stack, "y")
            && g_strcmp0 (bed_record_get_text (stack, "built_on"), bed_farm_get_today (farm)) < 0;
  return TRUE;
}

/* What a stack is called until somebody calls it otherwise. */
static const char *const stack_names[] = {
  [BED_STACK_DEAD] = N_ ("Dead stack %u"),     [BED_STACK_CRIB] = N_ ("Crib %u"),
  [BED_STACK_LEAN_TO] = N_ ("Lean-to %u"),     [BED_STACK_A_FRAME] = N_ ("A-frame %u"),
  [BED_STACK_UPRIGHT] = N_ ("Upright row %u"), [BED_STACK_GROUND] = N_ ("Ground row %u"),
  [BED_STACK_TOTEM] = N_ ("Totem %u"),
};

G_STATIC_ASSERT (G_N_ELEMENTS (stack_names) == BED_N_STACKS);

const char *
bed_yard_change_name_stack (BedYardChange *change, BedFarm *farm, BedStackKind kind)
{
  g_return_val_if_fail (kind < BED_N_STACKS, NULL);
  for (guint n = 1;; n++)
    {
      g_autofree char *name = g_strdup_printf (_ (stack_names[kind]), n);
      if (g_hash_table_contains (change->names, name)
          || bed_farm_find (farm, BED_KIND_STACK, name, NULL)
          || bed_farm_find (farm, BED_KIND_PLANNED_STACK, name, NULL))
        continue;
      g_hash_table_add (change->names, name);
      return g_steal_pointer (&name);
    }
}

/* --- places --------------------------------------------------------------------- */

static const char *
get_day (BedFarm *farm, const char *since)
{
  return since ? since : bed_farm_get_today (farm);
}

static BedRecord *
place_new (BedFarm *farm, gint64 log, const BedLogGoal *goal)
{
  BedRecord *place = bed_record_new (BED_KIND_PLACE);

  bed_record_set_int (place, "log", log);
  bed_record_set_int (place, "stack", goal->to->id);
  bed_record_set_int (place, "tier", goal->tier);
  bed_record_set_int (place, "slot", goal->slot);
  bed_record_set_text (place, "since", get_day (farm, goal->since));
  return place;
}

/* Ends the place a log has. When it came there on that day only, that never was: it is removed.
 * What was after that day is somebody's word, and stays. */
static gboolean
leave_place (BedFarm *farm, BedYardChange *change, gint64 log, const char *since, GError **error)
{
  const char *day = get_day (farm, since);
  gint64 id;

  if (!bed_query_one (farm, "SELECT id FROM place WHERE log = ?1 AND until IS NULL", log, &id,
                      error))
    return FALSE;
  g_autoptr (BedRecord) place = id ? bed_farm_load (farm, BED_KIND_PLACE, id, error) : NULL;
  if (!place)
    return id == 0;
  int later = g_strcmp0 (bed_record_get_text (place, "since"), day);
  if (later > 0)
    {
      g_autofree char *code = bed_farm_dup_name (farm, BED_KIND_LOG, log);
      g_autofree char *stack = bed_value_dup_sentence (farm, place, "stack");
      g_autofree char *came = bed_value_dup_sentence (farm, place, "since");

      g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID,
                   _ ("Log %s lies in %s since %s: choose that day or a later one."), code, stack,
                   came);
      return FALSE;
    }
  bed_record_set_text (place, "until", day);
  if (later < 0)
    bed_edit_put (change->edit, place);
  else
    bed_edit_remove (change->edit, BED_KIND_PLACE, id);
  return TRUE;
}

/* The free slots of a stack from the bottom up, as goals. */
static GArray *
list_free (const BedYardStack *stack)
{
  g_autoptr (BedPile) pile = bed_pile_new (stack);
  GArray *goals = g_array_new (FALSE, FALSE, sizeof (BedLogGoal));

  for (guint i = 0; i < pile->bars->len; i++)
    {
      const BedBar *bar = &g_array_index (pile->bars, BedBar, i);
      BedLogGoal goal = { stack, bar->tier, bar->slot };
      if (!bar->log)
        g_array_append_val (goals, goal);
    }
  return goals;
}

static const BedYardLog *
find_log_in (const BedLogGoal *goal)
{
  g_autoptr (BedPile) pile = bed_pile_new (goal->to);

  for (guint i = 0; i < pile->bars->len; i++)
    {
      const BedBar *bar = &g_array_index (pile->bars, BedBar, i);
      if (bar->tier == goal->tier && bar->slot == goal->slot)
        return bar->log;
    }
  return NULL;
}

/* Where the pile shows the log: the slot it is in, said or not. */
static BedLogGoal
find_slot (const BedYardStack *stack, gint64 log)
{
  g_autoptr (BedPile) pile = bed_pile_new (stack);

  for (guint i = 0; i < pile->bars->len; i++)
    {
      const BedBar *bar = &g_array_index (pile->bars, BedBar, i);
      if (bar->log && bar->log->id == log)
        return (BedLogGoal){ stack, bar->tier, bar->slot };
    }
  return (BedLogGoal){ stack, 0, 0 };
}

static void
refuse_slot (const BedYardStack *stack, const BedYardLog *taken, GError **error)
{
  if (taken)
    g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID,
                 _ ("Log %s lies there: choose a free place in %s."), taken->code, stack->name);
  else
    g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID,
                 _ ("%s is full: add tiers, or build another stack."), stack->name);
}

/* --- public --------------------------------------------------------------------- */

BedYardChange *
bed_yard_change_new (BedFarm *farm, BedRecord *record, char *sentence)
{
  BedYardChange *change = bed_yard_change_new_empty (farm);

  change->sentence = sentence;
  bed_edit_put (change->edit, record);
  return change;
}

BedYardChange *
bed_yard_change_new_empty (BedFarm *farm)
{
  BedYardChange *change = g_new0 (BedYardChange, 1);

  change->edit = bed_edit_new (farm);
  change->names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  return change;
}

void
bed_yard_change_free (BedYardChange *change)
{
  if (!change)
    return;
  bed_edit_free (change->edit);
  g_free (change->sentence);
  g_hash_table_unref (change->names);
  g_free (change);
}

gboolean
bed_yard_change_add_move (BedYardChange *change, BedFarm *farm, gint64 id, const BedStackGoal *goal,
                          GError **error)
{
  g_autoptr (BedRecord) stack = bed_farm_load (farm, BED_KIND_STACK, id, error);
  gboolean before;

  if (!stack || !stood_before_today (farm, stack, &before, error))
    return FALSE;
  g_autoptr (BedRecord) stood = before ? stood_new (farm, stack) : NULL;
  bed_record_set_int (stack, "area", goal->area);
  bed_yard_set_pose (stack, &goal->pose);
  bed_edit_put (change->edit, stack);
  if (stood)
    bed_edit_put (change->edit, stood);
  return TRUE;
}

gint64
bed_yard_change_add_build (BedYardChange *change, BedFarm *farm, const BedNewStack *stack)
{
  g_autoptr (BedRecord) record = bed_record_new (BED_KIND_STACK);

  bed_record_set_text (record, "name", bed_yard_change_name_stack (change, farm, stack->kind));
  bed_record_set_int (record, "area", stack->area);
  bed_record_set_text (record, "kind", bed_stack_kind_key (stack->kind));
  bed_record_set_int (record, "tiers", bed_stack_tiers (stack->kind, stack->tiers));
  bed_record_set_int (record, "per_tier", bed_stack_per_tier (stack->kind, stack->per_tier));
  bed_record_set_text (record, "built_on", bed_farm_get_today (farm));
  bed_yard_set_pose (record, &stack->pose);
  bed_edit_put (change->edit, record);
  return bed_record_get_id (record);
}

BedYardChange *
bed_yard_build_stack (BedFarm *farm, const BedNewStack *stack, gint64 *id)
{
  BedYardChange *change = bed_yard_change_new_empty (farm);
  gint64 made = bed_yard_change_add_build (change, farm, stack);
  GHashTableIter names;
  gpointer name;

  g_hash_table_iter_init (&names, change->names);
  g_hash_table_iter_next (&names, &name, NULL);
  change->sentence = g_strdup_printf (_ ("Built %s"), (char *) name);
  if (id)
    *id = made;
  return change;
}

gboolean
bed_yard_change_add_take_down (BedYardChange *change, BedFarm *farm, gint64 id, GError **error)
{
  g_autoptr (BedRecord) stack = bed_farm_load (farm, BED_KIND_STACK, id, error);

  if (!stack)
    return FALSE;
  bed_record_set_text (stack, "taken_down_on", bed_farm_get_today (farm));
  bed_edit_put (change->edit, stack);
  return TRUE;
}

BedYardChange *
bed_yard_take_down (BedFarm *farm, gint64 id, GError **error)
{
  g_autoptr (BedYardChange) change = bed_yard_change_new_empty (farm);
  g_autofree char *name = bed_farm_dup_name (farm, BED_KIND_STACK, id);

  if (!bed_yard_change_add_take_down (change, farm, id, error))
    return NULL;
  change->sentence = g_strdup_printf (_ ("Took down %s"), name);
  return g_steal_pointer (&change);
}

BedYardChange *
bed_yard_put_batch (BedFarm *farm, const BedYardStack *stack, gint64 batch, GError **error)
{
  g_autoptr (GArray) goals = list_free (stack);
  g_autoptr (BedYardChange) change = bed_yard_change_new_empty (farm);
  g_autoptr (BedQuery) q
      = bed_query_new (farm, "SELECT id FROM log_waiting WHERE batch = ?1 ORDER BY code");
  g_autofree char *code = bed_farm_dup_name (farm, BED_KIND_BATCH, batch);
  guint n = 0;

  bed_query_bind_int (q, 1, batch);
  while (n < goals->len && bed_query_next (q))
    put (change, place_new (farm, bed_query_int (q, 0), &g_array_index (goals, BedLogGoal, n++)));
  if (!bed_query_finish (q, error))
    return NULL;
  if (goals->len == 0)
    refuse_slot (stack, NULL, error);
  else if (n == 0)
    g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID,
                 _ ("Every log of %s lies in a stack already."), code ? code : "");
  if (n == 0)
    return NULL;
  /* TRANSLATORS: "Put 24 logs of 26A in Crib 4" */
  change->sentence = bed_say (ngettext ("Put %u log of %s in %s", "Put %u logs of %s in %s", n), n,
                              code, stack->name);
  return g_steal_pointer (&change);
}

gboolean
bed_yard_change_add_log (BedYardChange *change, BedFarm *farm, gint64 log, const BedLogGoal *goal,
                         GError **error)
{
  if (!leave_place (farm, change, log, goal->since, error))
    return FALSE;
  put (change, place_new (farm, log, goal));
  return TRUE;
}

/* @other (may be NULL) lies there, and goes to the place the log comes from. */
static gboolean
set_down (BedFarm *farm, BedYardChange *change, gint64 log, const BedYardLog *other,
          const BedLogGoal *goal, GError **error)
{
  BedLogGoal back = find_slot (goal->to, log);

  back.since = goal->since;
  if (!leave_place (farm, change, log, goal->since, error)
      || (other && !leave_place (farm, change, other->id, goal->since, error)))
    return FALSE;
  put (change, place_new (farm, log, goal));
  if (other)
    put (change, place_new (farm, other->id, &back));
  return TRUE;
}

BedYardChange *
bed_yard_move_log (BedFarm *farm, gint64 log, const BedLogGoal *wanted, GError **error)
{
  g_autoptr (BedYardChange) change = bed_yard_change_new_empty (farm);
  g_autofree char *code = bed_farm_dup_name (farm, BED_KIND_LOG, log);
  BedLogGoal goal = *wanted;

  if (goal.tier == 0 || goal.slot == 0)
    {
      g_autoptr (GArray) free = list_free (goal.to);
      if (free->len == 0)
        {
          refuse_slot (goal.to, NULL, error);
          return NULL;
        }
      goal = g_array_index (free, BedLogGoal, 0);
      goal.since = wanted->since;
    }
  const BedYardLog *there = find_log_in (&goal);
  if (there && !bed_yard_stack_find_log (goal.to, log))
    {
      refuse_slot (goal.to, there, error);
      return NULL;
    }
  if (!set_down (farm, change, log, there, &goal, error))
    return NULL;
  change->sentence = g_strdup_printf (_ ("Moved log %s to %s, tier %u, slot %u"), code,
                                      goal.to->name, goal.tier, goal.slot);
  return g_steal_pointer (&change);
}

BedYardChange *
bed_yard_take_out (BedFarm *farm, gint64 log, GError **error)
{
  g_autoptr (BedYardChange) change = bed_yard_change_new_empty (farm);
  g_autofree char *code = bed_farm_dup_name (farm, BED_KIND_LOG, log);
  gint64 in;

  if (!bed_query_one (farm, "SELECT stack FROM place WHERE log = ?1 AND until IS NULL", log, &in,
                      error))
    return NULL;
  g_autofree char *stack = bed_farm_dup_name (farm, BED_KIND_STACK, in);
  if (!in)
    {
      g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_FOUND, _ ("Log %s lies in no stack."),
                   code ? code : "");
      return NULL;
    }
  if (!leave_place (farm, change, log, NULL, error))
    return NULL;
  change->sentence = g_strdup_printf (_ ("Took log %s out of %s"), code, stack);
  return g_steal_pointer (&change);
}

/* --- several logs --------------------------------------------------------------- */

static gboolean
is_among (const GArray *logs, const BedYardLog *log)
{
  for (guint i = 0; log && i < logs->len; i++)
    if (g_array_index (logs, gint64, i) == log->id)
      return TRUE;
  return FALSE;
}

GArray *
bed_yard_list_places (const BedLogGoal *goal, const GArray *logs, GError **error)
{
  g_autoptr (BedPile) pile = bed_pile_new (goal->to);
  g_autoptr (GArray) before = g_array_new (FALSE, FALSE, sizeof (BedLogGoal));
  g_autoptr (GArray) goals = g_array_new (FALSE, FALSE, sizeof (BedLogGoal));

  for (guint i = 0; i < pile->bars->len; i++)
    {
      const BedBar *bar = &g_array_index (pile->bars, BedBar, i);
      BedLogGoal place = { goal->to, bar->tier, bar->slot, goal->since };
      gboolean sooner = bar->tier < goal->tier
                        || (bar->tier == goal->tier && bar->slot < goal->slot);
      if (bar->log && !is_among (logs, bar->log))
        continue;
      g_array_append_val (sooner ? before : goals, place);
    }
  if (before->len > 0)
    g_array_append_vals (goals, before->data, before->len);
  if (goals->len >= logs->len)
    return g_steal_pointer (&goals);
  g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID,
               ngettext ("%s has %u free place: add tiers, or move fewer logs.",
                         "%s has %u free places: add tiers, or move fewer logs.", goals->len),
               goal->to->name, goals->len);
  return NULL;
}

BedYardChange *
bed_yard_move_logs (BedFarm *farm, const GArray *logs, const BedLogGoal *goal, GError **error)
{
  g_return_val_if_fail (logs->len > 0, NULL);
  if (logs->len == 1)
    return bed_yard_move_log (farm, g_array_index (logs, gint64, 0), goal, error);
  g_autoptr (BedYardChange) change = bed_yard_change_new_empty (farm);
  g_autoptr (GArray) goals = bed_yard_list_places (goal, logs, error);

  if (!goals)
    return NULL;
  for (guint i = 0; i < logs->len; i++)
    if (!leave_place (farm, change, g_array_index (logs, gint64, i), goal->since, error))
      return NULL;
  for (guint i = 0; i < logs->len; i++)
    put (change,
         place_new (farm, g_array_index (logs, gint64, i), &g_array_index (goals, BedLogGoal, i)));
  /* TRANSLATORS: "Moved 5 logs to Crib 4"; always more than one */
  change->sentence = bed_say (ngettext ("Moved %u log to %s", "Moved %u logs to %s", logs->len),
                              logs->len, goal->to->name);
  return g_steal_pointer (&change);
}

BedYardChange *
bed_yard_put_logs (BedFarm *farm, const GArray *logs, const BedLogGoal *goal, GError **error)
{
  g_autoptr (GArray) others = g_array_new (FALSE, FALSE, sizeof (gint64));
  BedYardChange *change;

  for (guint i = 0; i < logs->len; i++)
    if (!bed_yard_stack_find_log (goal->to, g_array_index (logs, gint64, i)))
      g_array_append_val (others, g_array_index (logs, gint64, i));
  if (!others->len)
    {
      g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID, _ ("They lie in %s already."),
                   goal->to->name);
      return NULL;
    }
  change = bed_yard_move_logs (farm, others, goal, error);
  if (change && goal->since && g_strcmp0 (goal->since, bed_farm_get_today (farm)) != 0)
    {
      g_autofree char *moved = g_steal_pointer (&change->sentence);
      g_autofree char *day = bed_date_format (goal->since);

      /* TRANSLATORS: "Moved 5 logs to Crib 4", a day in the past */
      change->sentence = g_strdup_printf (_ ("%s on %s"), moved, day);
    }
  return change;
}

BedYardChange *
bed_yard_take_out_logs (BedFarm *farm, const GArray *logs, GError **error)
{
  g_return_val_if_fail (logs->len > 0, NULL);
  if (logs->len == 1)
    return bed_yard_take_out (farm, g_array_index (logs, gint64, 0), error);
  g_autoptr (BedYardChange) change = bed_yard_change_new_empty (farm);

  for (guint i = 0; i < logs->len; i++)
    if (!leave_place (farm, change, g_array_index (logs, gint64, i), NULL, error))
      return NULL;
  change->sentence = bed_say (
      ngettext ("Took %u log out of its stack", "Took %u logs out of their stack", logs->len),
      logs->len);
  return g_steal_pointer (&change);
}
