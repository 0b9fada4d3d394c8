#include "model/season/life.h"

#include <string.h>

#include "model/farm/query.h"

/* Columns: day, until, what, logs, amount; ?1 the log or batch. Each row is an event. */
typedef struct
{
  BedLifeKind kind;
  const char *sql;
} Question;

/* A day, or from the first day of a total until its last. */
#define PICKED_ON "coalesce (since, picked_on), CASE WHEN since IS NOT NULL THEN picked_on END"

static const Question of_log[] = {
  { BED_LIFE_FELLED, "SELECT f.felled_on, NULL, f.code, 1, 0 FROM log l"
                     " JOIN felling f ON f.id = l.felling WHERE l.id = ?1" },
  { BED_LIFE_INOCULATED, "SELECT b.inoculated_on, NULL, b.code, 1, 0 FROM log l"
                         " JOIN batch b ON b.id = l.batch WHERE l.id = ?1" },
  { BED_LIFE_LAY, "SELECT x.since, x.until, k.name, 1, 0 FROM place x"
                  " JOIN stack k ON k.id = x.stack WHERE x.log = ?1" },
  { BED_LIFE_SOAKED, "SELECT date (s.put_in), date (s.taken_out), s.tank, 1, 0 FROM soaked d"
                     " JOIN soak s ON s.id = d.soak WHERE d.log = ?1" },
  { BED_LIFE_PICKED, "SELECT " PICKED_ON ", NULL, 1, sum (mass) FROM pick_log WHERE log = ?1"
                     " GROUP BY since, picked_on" },
  { BED_LIFE_CHECKED, "SELECT checked_on, NULL, NULL, 1, coalesce (colonised, -1) FROM \"check\""
                      " WHERE log = ?1" },
  { BED_LIFE_WEIGHED, "SELECT weighed_on, NULL, NULL, 1, mass FROM weighing WHERE log = ?1" },
  { BED_LIFE_RETIRED, "SELECT retired_on, NULL, retired_why, 1, 0 FROM log"
                      " WHERE id = ?1 AND retired_on IS NOT NULL" },
};

/* Its picks as batch_summary has them: those of no other batch are looked at. */
static const Question of_batch[] = {
  { BED_LIFE_FELLED, "SELECT f.felled_on, NULL, f.code, count (*), 0 FROM log l"
                     " JOIN felling f ON f.id = l.felling WHERE l.batch = ?1 GROUP BY f.id" },
  { BED_LIFE_INOCULATED,
    "SELECT b.inoculated_on, NULL, b.code, (SELECT count (*) FROM log l WHERE l.batch = b.id), 0"
    " FROM batch b WHERE b.id = ?1" },
  { BED_LIFE_LAY, "SELECT x.since, CASE WHEN count (x.until) = count (*) THEN max (x.until) END,"
                  " k.name, count (*), 0 FROM log l JOIN place x ON x.log = l.id"
                  " JOIN stack k ON k.id = x.stack WHERE l.batch = ?1 GROUP BY x.stack, x.since" },
  { BED_LIFE_SOAKED, "SELECT date (s.put_in), date (s.taken_out), s.tank, count (*), 0 FROM log l"
                     " JOIN soaked d ON d.log = l.id JOIN soak s ON s.id = d.soak"
                     " WHERE l.batch = ?1 GROUP BY s.id" },
  { BED_LIFE_PICKED,
    "SELECT " PICKED_ON ", NULL, 0, sum (mass) FROM ("
    " SELECT p.since, p.picked_on, p.mass FROM log l JOIN pick p ON p.log = l.id WHERE l.batch = ?1"
    " UNION ALL SELECT p.since, p.picked_on, p.mass FROM pick p"
    "  WHERE p.batch = ?1 AND p.log IS NULL AND p.stack IS NULL"
    " UNION ALL SELECT p.since, p.picked_on, g.logs * bed_pick_share (p.mass,"
    "  (SELECT count (*) FROM place x WHERE x.stack = p.stack"
    "    AND bed_lies (x.since, x.until, p.picked_on)))"
    "  FROM (SELECT x.stack, x.since, x.until, count (*) AS logs FROM log l"
    "   JOIN place x ON x.log = l.id WHERE l.batch = ?1 GROUP BY x.stack, x.since, x.until) g"
    "  JOIN pick p ON p.stack = g.stack AND +p.log IS NULL"
    "   AND bed_lies (g.since, g.until, p.picked_on)) GROUP BY since, picked_on" },
  { BED_LIFE_CHECKED,
    "SELECT c.checked_on, NULL, NULL, count (c.log), coalesce (avg (c.colonised), -1)"
    " FROM \"check\" c LEFT JOIN log l ON l.id = c.log"
    " WHERE c.batch = ?1 OR l.batch = ?1 GROUP BY c.checked_on" },
  { BED_LIFE_WEIGHED, "SELECT w.weighed_on, NULL, NULL, count (*), avg (w.mass) FROM log l"
                      " JOIN weighing w ON w.log = l.id WHERE l.batch = ?1 GROUP BY w.weighed_on" },
  { BED_LIFE_RETIRED, "SELECT retired_on, NULL, retired_why, count (*), 0 FROM log"
                      " WHERE batch = ?1 AND retired_on IS NOT NULL"
                      " GROUP BY retired_on, retired_why" },
};

static void
free_event (gpointer data)
{
  BedLifeEvent *event = data;

  g_free (event->day);
  g_free (event->until);
  g_free (event->what);
  g_free (event);
}

static gboolean
ask (GPtrArray *events, BedFarm *farm, const Question *question, gint64 of, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (farm, question->sql);

  bed_query_bind_int (q, 1, of);
  while (bed_query_next (q))
    {
      BedLifeEvent *event = g_new0 (BedLifeEvent, 1);
      event->kind = question->kind;
      event->day = g_strdup (bed_query_text (q, 0));
      event->until = g_strdup (bed_query_text (q, 1));
      event->what = g_strdup (bed_query_text (q, 2));
      event->logs = bed_query_int (q, 3);
      event->amount = bed_query_real (q, 4);
      if (event->day)
        g_ptr_array_add (events, event);
      else
        free_event (event);
    }
  return bed_query_finish (q, error);
}

static int
compare (gconstpointer a, gconstpointer b)
{
  const BedLifeEvent *one = *(BedLifeEvent *const *) a, *other = *(BedLifeEvent *const *) b;
  int days = strcmp (one->day, other->day);

  return days ? days : (int) one->kind - (int) other->kind;
}

/* A move within a stack is none here: it lay there all the time. */
static void
join_places (GPtrArray *events)
{
  BedLifeEvent *before = NULL;

  for (guint i = 0; i < events->len; i++)
    {
      BedLifeEvent *event = events->pdata[i];
      if (event->kind != BED_LIFE_LAY)
        continue;
      if (before && g_strcmp0 (before->what, event->what) == 0 && before->logs == event->logs
          && g_strcmp0 (before->until, event->day) == 0)
        {
          g_free (before->until);
          before->until = g_strdup (event->until);
          g_ptr_array_remove_index (events, i--);
        }
      else
        before = event;
    }
}

static GPtrArray *
read_life (BedFarm *farm, const Question *questions, guint n, gint64 of, GError **error)
{
  g_autoptr (GPtrArray) events = g_ptr_array_new_with_free_func (free_event);

  for (guint i = 0; i < n; i++)
    if (!ask (events, farm, &questions[i], of, error))
      return NULL;
  g_ptr_array_sort (events, compare);
  join_places (events);
  return g_steal_pointer (&events);
}

GPtrArray *
bed_life_of_log (BedFarm *farm, gint64 log, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), NULL);
  return read_life (farm, of_log, G_N_ELEMENTS (of_log), log, error);
}

GPtrArray *
bed_life_of_batch (BedFarm *farm, gint64 batch, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), NULL);
  return read_life (farm, of_batch, G_N_ELEMENTS (of_batch), batch, error);
}
