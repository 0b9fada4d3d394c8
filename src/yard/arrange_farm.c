/* The logs that are arranged, out of the farm and into it. */
#include "yard/arrange.h"

#include <glib/gi18n-lib.h>

#include "model/farm/query.h"
#include "model/farm/say.h"
#include "yard/planned_farm.h"

#define METRES(um) ((um) / 1e6)

static void
free_log (gpointer data)
{
  BedArrangeLog *log = data;

  g_free (log->group);
  g_free (log->next_soak);
  g_free (log);
}

static GPtrArray *
logs_new (void)
{
  return g_ptr_array_new_with_free_func (free_log);
}

GPtrArray *
bed_arrange_imagine (guint n, double length, double diameter)
{
  GPtrArray *logs = logs_new ();

  for (guint i = 0; i < n; i++)
    {
      BedArrangeLog *log = g_new0 (BedArrangeLog, 1);
      log->length = length;
      log->diameter = diameter;
      g_ptr_array_add (logs, log);
    }
  return logs;
}

static BedArrangeLog *
read_log (BedQuery *q)
{
  BedArrangeLog *log = g_new0 (BedArrangeLog, 1);

  log->id = bed_query_int (q, 0);
  log->length = METRES (bed_query_int (q, 1));
  log->diameter = METRES (bed_query_int (q, 2));
  log->group = g_strdup (bed_query_text (q, 3));
  log->next_soak = g_strdup (bed_query_text (q, 4));
  return log;
}

GPtrArray *
bed_arrange_read (BedFarm *farm, gint64 batch, guint most, GError **error)
{
  g_autoptr (GPtrArray) logs = logs_new ();
  g_autoptr (BedQuery) q = bed_query_new (
      farm, "SELECT l.id, l.length,"
            "  max (l.small_diameter, coalesce (l.large_diameter, 0)), b.code,"
            "  f.ready_on"
            " FROM log l LEFT JOIN batch b ON b.id = l.batch"
            " LEFT JOIN log_forced f ON f.id = l.id"
            " LEFT JOIN log_waiting w ON w.id = l.id"
            " LEFT JOIN place x ON x.log = l.id AND x.until IS NULL"
            " WHERE bed_alive (l.retired_on, bed_today ())"
            "  AND CASE WHEN ?1 THEN l.batch = ?1 ELSE w.id IS NOT NULL END"
            " ORDER BY w.id IS NULL, x.stack, x.tier DESC, x.slot, l.code LIMIT ?2");

  bed_query_bind_int (q, 1, batch);
  bed_query_bind_int (q, 2, most ? (gint64) most : -1);
  while (bed_query_next (q))
    g_ptr_array_add (logs, read_log (q));
  return bed_query_finish (q, error) ? g_steal_pointer (&logs) : NULL;
}

/* Its logs into the places of a new stack, from the bottom up. */
static gboolean
fill_stack (BedYardChange *change, BedFarm *farm, const char *day, const BedYardStack *stack,
            const BedArrangement *arrangement, const BedArrangedStack *arranged, GError **error)
{
  g_autoptr (BedPile) pile = bed_pile_new (stack);

  for (guint i = 0; i < arranged->n; i++)
    {
      const BedArrangeLog *log = arrangement->logs->pdata[arranged->first + i];
      const BedBar *bar = &g_array_index (pile->bars, BedBar, i);
      BedLogGoal goal = { stack, bar->tier, bar->slot };
      if (log->id
          && !(day ? bed_planned_add_move (change, farm, day, log->id, &goal, error)
                   : bed_yard_change_add_log (change, farm, log->id, &goal, error)))
        return FALSE;
    }
  return TRUE;
}

BedYardChange *
bed_arrange_put (BedFarm *farm, gint64 area, const char *day, const BedArrangeWish *wish,
                 const BedArrangement *arrangement, GArray **made, GError **error)
{
  g_autoptr (BedYardChange) change = bed_yard_change_new_empty (farm);
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  guint stacks = arrangement->stacks->len, logs = arrangement->logs->len - arrangement->left;

  for (guint i = 0; i < stacks; i++)
    {
      const BedArrangedStack *arranged = &g_array_index (arrangement->stacks, BedArrangedStack, i);
      BedNewStack new_stack = { area, wish->like->kind, arranged->pose, 0, 0 };
      g_autoptr (BedYardStack) stack = bed_yard_stack_new (wish->like->kind);
      stack->id = day ? bed_planned_add_build (change, farm, day, &new_stack)
                      : bed_yard_change_add_build (change, farm, &new_stack);
      g_array_append_val (ids, stack->id);
      if (!fill_stack (change, farm, day, stack, arrangement, arranged, error))
        return NULL;
    }
  g_autofree char *in = bed_say (ngettext ("%u stack", "%u stacks", stacks), stacks);
  /* TRANSLATORS: "Arranged 48 logs in 2 stacks" */
  change->sentence
      = bed_say (ngettext ("Arranged %u log in %s", "Arranged %u logs in %s", logs), logs, in);
  if (made)
    *made = g_steal_pointer (&ids);
  return g_steal_pointer (&change);
}
