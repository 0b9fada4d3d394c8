/* What logs of a wood and a strain give, luck taken out. */
#include "model/outlook_private.h"

#include <glib/gi18n-lib.h>

#include "model/functions.h"
#include "model/outlook.h"
#include "model/query.h"
#include "science/yield.h"

#define MG_PER_KG 1e6

typedef struct
{
  char *wood, *strain, *size;
  guint logs;
} Kind;

/* Logs weighed one by one are a record each; those that only ever shared picks of
 * their stack alike are one together. ?1 first day, ?2 the day after the last; relative to
 * the mean of the year of life. */
#define RECORDS(size)                                                                              \
  "WITH crop AS MATERIALIZED (SELECT l.id AS log, l.batch, w.common_name AS wood,"                 \
  "  coalesce (s.strain_name, '-') AS strain, " size " AS size,"                                   \
  "  bed_season (b.inoculated_on) AS since, coalesce (c.own, 0) AS own,"                           \
  "  coalesce (c.share, 0) AS share"                                                               \
  "  FROM log l JOIN batch b ON b.id = l.batch JOIN felling f ON f.id = l.felling"                 \
  "  JOIN wood w ON w.id = f.wood LEFT JOIN batch_spawn s ON s.batch = b.id"                       \
  "  LEFT JOIN crop_log c ON c.log = l.id"                                                         \
  "  WHERE b.inoculated_on < ?2 AND (l.retired_on IS NULL OR l.retired_on >= ?1)),"                \
  " age AS MATERIALIZED (SELECT since, avg (own + share) AS mean FROM crop GROUP BY since"         \
  "  HAVING avg (own + share) > 0),"                                                               \
  " whole AS (SELECT avg (own + share) AS mean FROM crop JOIN age USING (since))"                  \
  " SELECT c.wood, c.strain, c.size, count (*),"                                                   \
  "  sum (c.own + c.share) / a.mean * (SELECT mean FROM whole)"                                    \
  "  FROM crop c JOIN age a ON a.since = c.since"                                                  \
  "  GROUP BY c.wood, c.strain, c.size, c.since, c.batch,"                                         \
  "   CASE WHEN c.own = 0 AND c.share > 0 THEN -c.share ELSE c.log END ORDER BY 1, 2, 3"

static void
free_kind (Kind *kind)
{
  g_free (kind->wood);
  g_free (kind->strain);
  g_free (kind->size);
  g_free (kind);
}

static gboolean
is_kind (const Kind *kind, BedQuery *q)
{
  return g_str_equal (kind->wood, bed_query_text (q, 0))
         && g_str_equal (kind->strain, bed_query_text (q, 1))
         && g_str_equal (kind->size, bed_query_text (q, 2));
}

static gboolean
keep_kinds (BedFarm *farm, const BedYields *yields, GPtrArray *kinds, GError **error)
{
  BedOutlookTable table = bed_outlook_table (
      farm, "INSERT INTO kind_yield VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)");

  for (guint i = 0; table.well && i < kinds->len; i++)
    {
      const Kind *kind = kinds->pdata[i];
      const BedInterval *shrunk = &yields->groups[i].shrunk;

      if (*kind->size && kind->logs < BED_OUTLOOK_LOGS_LEAST)
        continue;
      sqlite3_bind_text (table.stmt, 1, kind->wood, -1, SQLITE_TRANSIENT);
      sqlite3_bind_text (table.stmt, 2, kind->strain, -1, SQLITE_TRANSIENT);
      sqlite3_bind_text (table.stmt, 3, kind->size, -1, SQLITE_TRANSIENT);
      sqlite3_bind_int64 (table.stmt, 4, kind->logs);
      sqlite3_bind_double (table.stmt, 5, shrunk->estimate * MG_PER_KG);
      bed_outlook_bind_interval (&table, 6, shrunk, MG_PER_KG);
      bed_outlook_add (&table);
    }
  return bed_outlook_end (&table, error);
}

static gboolean
read_kinds (BedFarm *farm, const char *sql, int season, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (farm, sql);
  g_autofree char *first = bed_season_first (farm, season);
  g_autofree char *next = bed_season_first (farm, season + 1);
  g_autoptr (GArray) records = g_array_new (FALSE, FALSE, sizeof (BedYieldRecord));
  g_autoptr (GPtrArray) kinds = g_ptr_array_new_with_free_func ((GDestroyNotify) free_kind);
  g_autoptr (BedYields) yields = NULL;
  Kind *kind = NULL;

  bed_query_bind_text (q, 1, first);
  bed_query_bind_text (q, 2, next);
  while (bed_query_next (q))
    {
      BedYieldRecord record = { .logs = bed_query_int (q, 3),
                                .mass_kg = bed_query_real (q, 4) / MG_PER_KG };

      if (!kind || !is_kind (kind, q))
        {
          kind = g_new0 (Kind, 1);
          kind->wood = g_strdup (bed_query_text (q, 0));
          kind->strain = g_strdup (bed_query_text (q, 1));
          kind->size = g_strdup (bed_query_text (q, 2));
          g_ptr_array_add (kinds, kind);
        }
      kind->logs += bed_query_int (q, 3);
      record.group = kinds->len - 1;
      g_array_append_val (records, record);
    }
  if (!bed_query_finish (q, error))
    return FALSE;
  yields = bed_yields_new ((const BedYieldRecord *) (gpointer) records->data, records->len,
                           kinds->len, BED_OUTLOOK_LEVEL, error);
  return yields && keep_kinds (farm, yields, kinds, error);
}

static const char table[]
    = "DROP TABLE IF EXISTS temp.kind_yield;"
      "CREATE TEMP TABLE kind_yield (wood TEXT, strain TEXT, size TEXT, logs INTEGER,"
      " mass REAL, low REAL, high REAL);";

gboolean
bed_outlook_read_kinds (BedFarm *farm, int season, GError **error)
{
  return bed_db_exec (bed_farm_get_db (farm), table, _ ("working out the season"), error)
         && read_kinds (farm, RECORDS ("''"), season, error)
         && read_kinds (farm, RECORDS (BED_OUTLOOK_SIZE), season, error);
}
