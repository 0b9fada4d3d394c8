#include "yard/load_logs.h"

#include <string.h>

#include "model/farm/functions.h"
#include "model/farm/query.h"
#include "model/season/log_crop.h"
#include "model/work/care_dry_mass.h"
#include "yard/codes.h"
#include "yard/marks.h"

#define METRES(um) ((um) / 1e6)
#define SHARE(hundredths) ((hundredths) / 1e4)

/* What lay in the stacks of an area (?1) at the end of a day (?2). */
#define LYING " stack_place s JOIN place x ON x.stack = s.stack JOIN log l ON l.id = x.log"
#define THAT_DAY                                                                                   \
  " WHERE s.area = ?1 AND bed_lies (s.since, s.until, ?2) AND bed_lies (x.since, x.until, ?2)"

static const char log_sql[]
    = "SELECT x.stack, l.id, l.code, b.code, l.batch, l.length,"
      " max (l.small_diameter, coalesce (l.large_diameter, 0)), NOT bed_alive (l.retired_on, ?2),"
      " x.tier, x.slot, julianday (?2) - julianday (b.inoculated_on)"
      " FROM" LYING " LEFT JOIN batch b ON b.id = l.batch" THAT_DAY;

/* Of soaks and picks those count that had been by then: today by now, on another day by its end. */
static const char stage_sql[]
    = "WITH at AS (SELECT CASE ?2 WHEN bed_today () THEN bed_now () ELSE ?2 || 'T24' END AS now),"
      " bred AS MATERIALIZED (SELECT b.id, b.inoculated_on, t.run_least,"
      "   bed_rest_weeks (t.rest_weeks) AS rest_weeks FROM batch b"
      "   LEFT JOIN main_spawn u ON u.batch = b.id LEFT JOIN spawn p ON p.id = u.spawn"
      "   LEFT JOIN strain t ON t.id = p.strain)"
      " SELECT l.id, bed_stage (?2, at.now, l.retired_on,"
      "   CASE WHEN b.inoculated_on <= ?2 THEN l.batch END,"
      "   b.inoculated_on, b.run_least, k.put_in, b.rest_weeks,"
      "   CASE WHEN k.taken_out <= at.now THEN k.taken_out END,"
      "   k.id IS NOT NULL OR EXISTS (SELECT 1 FROM pick p WHERE p.log = l.id"
      "                               AND p.picked_on <= ?2)),"
      "  CASE WHEN k.taken_out <= at.now"
      "   THEN julianday (?2) - julianday (substr (k.taken_out, 1, 10)) WHEN k.id THEN 0 END"
      " FROM at," LYING " LEFT JOIN bred b ON b.id = l.batch"
      " LEFT JOIN soak k ON k.id = (SELECT o.id FROM soaked d JOIN soak o ON o.id = d.soak"
      "   WHERE d.log = l.id AND o.put_in <= at.now ORDER BY o.put_in DESC, o.id DESC"
      "   LIMIT 1)" THAT_DAY;

/* The newest check of each log, of each batch and of each stack by a day (?1); a bare column beside
 * max() is of the row that has it (SQLite). */
static const char look_sql[]
    = "SELECT log, batch, stack, colonised, max (checked_on) FROM \"check\""
      " WHERE colonised IS NOT NULL AND checked_on <= ?1"
      " GROUP BY log, CASE WHEN log IS NULL THEN batch END,"
      "          CASE WHEN log IS NULL AND batch IS NULL THEN stack END";

/* --- logs -------------------------------------------------------------------- */

BedYardLog *
bed_yard_log_read (BedQuery *q, GHashTable *marks)
{
  BedYardLog *log = bed_yard_log_new ();
  gpointer mark;

  log->id = bed_query_int (q, 1);
  log->code = g_strdup (bed_query_text (q, 2));
  log->batch = g_strdup (bed_query_text (q, 3));
  log->batch_id = bed_query_int (q, 4);
  if (g_hash_table_lookup_extended (marks, &log->batch_id, NULL, &mark))
    log->mark = GPOINTER_TO_INT (mark);
  log->length = METRES (bed_query_int (q, 5));
  log->diameter = METRES (bed_query_int (q, 6));
  return log;
}

static BedYardLog *
read_log (BedQuery *q, GHashTable *marks)
{
  BedYardLog *log = bed_yard_log_read (q, marks);

  log->retired = bed_query_int (q, 7) != 0;
  log->tier = (guint) bed_query_int (q, 8);
  log->slot = (guint) bed_query_int (q, 9);
  if (!bed_query_is_null (q, 10) && bed_query_int (q, 10) >= 0)
    log->age = (int) bed_query_int (q, 10);
  return log;
}

/* --- numbers ----------------------------------------------------------------- */

typedef struct
{
  double sum;
  guint n;
} Mean;

/* All logs of the yard. */
static GPtrArray *
list_logs (const BedYard *yard)
{
  GPtrArray *logs = g_ptr_array_new ();

  for (guint i = 0; i < yard->stacks->len; i++)
    g_ptr_array_extend (logs, ((BedYardStack *) yard->stacks->pdata[i])->logs, NULL, NULL);
  return logs;
}

/* What the newest look at something saw. */
typedef struct
{
  char day[sizeof "YYYY-MM-DD"];
  double colonised;
} Look;

typedef struct
{
  GHashTable *of_log, *of_batch, *of_stack; /* gint64 -> Look */
} Looks;

static GHashTable *
table_new (void)
{
  return g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
}

static void
clear_looks (Looks *looks)
{
  g_hash_table_unref (looks->of_log);
  g_hash_table_unref (looks->of_batch);
  g_hash_table_unref (looks->of_stack);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Looks, clear_looks)

static gboolean
read_looks (Looks *looks, BedFarm *farm, const char *date, GError **error)
{
  GHashTable *by_column[] = { looks->of_log, looks->of_batch, looks->of_stack };
  g_autoptr (BedQuery) q = bed_query_new (farm, look_sql);

  bed_query_bind_text (q, 1, date);
  while (bed_query_next (q))
    for (int column = 0; column < 3; column++)
      {
        gint64 of = bed_query_int (q, column);
        Look look = { .colonised = SHARE (bed_query_int (q, 3)) };
        if (bed_query_is_null (q, column))
          continue;
        g_strlcpy (look.day, bed_query_text (q, 4), sizeof look.day);
        g_hash_table_insert (by_column[column], g_memdup2 (&of, sizeof of),
                             g_memdup2 (&look, sizeof look));
        break; /* one of a log says nothing of its batch */
      }
  return bed_query_finish (q, error);
}

/* The newest look at the log itself, its batch or its stack; of those of one day the nearest. */
static const Look *
find_look (const Looks *looks, const BedYardLog *log, const BedYardStack *stack)
{
  const Look *each[] = { g_hash_table_lookup (looks->of_log, &log->id),
                         g_hash_table_lookup (looks->of_batch, &log->batch_id),
                         g_hash_table_lookup (looks->of_stack, &stack->id) };
  const Look *newest = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (each); i++)
    if (each[i] && (!newest || strcmp (each[i]->day, newest->day) > 0))
      newest = each[i];
  return newest;
}

static gboolean
load_looks (BedYard *yard, BedFarm *farm, const char *date, GError **error)
{
  g_auto (Looks) looks = { table_new (), table_new (), table_new () };

  if (!read_looks (&looks, farm, date, error))
    return FALSE;
  for (guint i = 0; i < yard->stacks->len; i++)
    {
      const BedYardStack *stack = yard->stacks->pdata[i];

      for (guint j = 0; j < stack->logs->len; j++)
        {
          BedYardLog *log = stack->logs->pdata[j];
          const Look *look = find_look (&looks, log, stack);

          if (look)
            log->colonised = look->colonised;
        }
    }
  return TRUE;
}

gboolean
bed_yard_load_stages (BedYard *yard, BedFarm *farm, const char *date, GError **error)
{
  g_return_val_if_fail (yard != NULL && BED_IS_FARM (farm) && date != NULL, FALSE);
  if (yard->staged)
    return TRUE;
  g_autoptr (GPtrArray) logs = list_logs (yard);
  g_autoptr (GHashTable) by_id = g_hash_table_new (g_int64_hash, g_int64_equal);
  g_autoptr (BedQuery) q = bed_query_new (farm, stage_sql);

  for (guint i = 0; i < logs->len; i++)
    g_hash_table_insert (by_id, &((BedYardLog *) logs->pdata[i])->id, logs->pdata[i]);
  bed_query_bind_int (q, 1, yard->id);
  bed_query_bind_text (q, 2, date);
  while (bed_query_next (q))
    {
      gint64 id = bed_query_int (q, 0);
      BedYardLog *log = g_hash_table_lookup (by_id, &id);

      if (!log)
        continue;
      log->stage = bed_stage_from_key (bed_query_text (q, 1));
      if (!bed_query_is_null (q, 2))
        log->soaked = (int) MAX (0, bed_query_int (q, 2));
    }
  yard->staged = bed_query_finish (q, error);
  return yard->staged;
}

static GHashTable *
average (const GArray *weighed)
{
  GHashTable *means = g_hash_table_new_full (g_int64_hash, g_int64_equal, NULL, g_free);

  for (guint i = 0; i < weighed->len; i++)
    {
      BedCareWeighed *one = &g_array_index (weighed, BedCareWeighed, i);
      Mean *mean = g_hash_table_lookup (means, &one->batch);
      if (!mean)
        g_hash_table_insert (means, &one->batch, mean = g_new0 (Mean, 1));
      mean->sum += one->wet_pct;
      mean->n++;
    }
  return means;
}

gboolean
bed_yard_load_moisture (BedYard *yard, BedFarm *farm, const char *date, GError **error)
{
  g_return_val_if_fail (yard != NULL && BED_IS_FARM (farm) && date != NULL, FALSE);
  g_autoptr (GPtrArray) logs = list_logs (yard);
  g_autoptr (GArray) weighed = bed_care_weighed_read (farm, date, error);

  if (!weighed)
    return FALSE;
  g_autoptr (GHashTable) means = average (weighed),
                         own = g_hash_table_new (g_int64_hash, g_int64_equal);

  for (guint i = 0; i < weighed->len; i++)
    {
      BedCareWeighed *one = &g_array_index (weighed, BedCareWeighed, i);
      g_hash_table_insert (own, &one->log, one);
    }
  for (guint i = 0; i < logs->len; i++)
    {
      BedYardLog *log = logs->pdata[i];
      const BedCareWeighed *one = g_hash_table_lookup (own, &log->id);
      const Mean *mean = log->batch_id ? g_hash_table_lookup (means, &log->batch_id) : NULL;
      if (one)
        log->moisture = one->wet_pct;
      else if (mean)
        log->moisture = mean->sum / mean->n;
    }
  return TRUE;
}

gboolean
bed_yard_load_picked (BedYard *yard, BedFarm *farm, const char *date, GError **error)
{
  g_return_val_if_fail (yard != NULL && BED_IS_FARM (farm) && date != NULL, FALSE);
  g_autoptr (GPtrArray) logs = list_logs (yard);
  g_autofree char *first = bed_season_first (farm, bed_season_of (farm, date));
  g_autoptr (GHashTable) given = bed_log_crop_read (farm, first, date, error);

  for (guint i = 0; given && i < logs->len; i++)
    {
      BedYardLog *log = logs->pdata[i];
      const double *mass = g_hash_table_lookup (given, &log->id);
      if (mass)
        log->picked = *mass;
    }
  return given != NULL;
}

/* By tier, then slot, then code: SQLite would sort the logs of all stacks, with all of each. */
static int
compare_places (gconstpointer a, gconstpointer b)
{
  const BedYardLog *one = *(gpointer *) a, *other = *(gpointer *) b;

  if (one->tier != other->tier)
    return one->tier < other->tier ? -1 : 1;
  if (one->slot != other->slot)
    return one->slot < other->slot ? -1 : 1;
  return strcmp (one->code, other->code);
}

gboolean
bed_yard_load_logs (BedYard *yard, BedFarm *farm, const char *date, GError **error)
{
  GHashTable *marks = bed_marks_get (farm, error);
  BedYardStack *stack = NULL;

  if (!marks)
    return FALSE;
  g_autoptr (BedQuery) q = bed_query_new (farm, log_sql);
  bed_query_bind_int (q, 1, yard->id);
  bed_query_bind_text (q, 2, date);
  while (bed_query_next (q))
    {
      gint64 id = bed_query_int (q, 0);
      if (!stack || stack->id != id)
        stack = bed_yard_find_stack (yard, id, NULL);
      if (stack)
        g_ptr_array_add (stack->logs, read_log (q, marks));
    }
  for (guint i = 0; i < yard->stacks->len; i++)
    {
      stack = yard->stacks->pdata[i];
      g_ptr_array_sort (stack->logs, compare_places);
      bed_codes_shorten (stack);
    }
  return bed_query_finish (q, error) && load_looks (yard, farm, date, error);
}
