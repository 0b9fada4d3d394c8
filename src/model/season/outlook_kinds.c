/* What logs of a wood and a strain give, luck taken out. */
#include "model/season/outlook_private.h"

#include "model/season/outlook.h"
#include "science/yield.h"

#define MG_PER_KG 1e6

typedef enum
{
  DIVIDE_NOT,
  DIVIDE_BY_SIZE
} Division;

typedef struct
{
  const char *wood, *strain;
  int size; /* 0: all */
  guint index;
  guint logs;
} Kind;

/* Logs of a kind and a batch that had the same of the picks of their stacks, and nothing of
 * their own. */
typedef struct
{
  const Kind *kind;
  gint64 batch;
  double share;
  guint record;
} Heap;

/* What the logs of a first season gave. */
typedef struct
{
  double mass;
  guint logs;
} Year;

typedef struct
{
  const BedSeasonLogs *all;
  Division division;
  GHashTable *years; /* first season -> Year */
  double mean;       /* of all logs of years that gave anything, mg */
  GPtrArray *order;  /* Kind, by index */
  GHashTable *kinds; /* a set of Kind */
  GHashTable *heaps; /* a set of Heap */
  GArray *records;   /* BedYieldRecord */
} Yields;

/* Helpers */

static guint
hash_kind (gconstpointer p)
{
  const Kind *kind = p;

  return g_direct_hash (kind->wood) * 31 + g_direct_hash (kind->strain) + kind->size;
}

/* Equal texts are the same pointer. */
static gboolean
equal_kinds (gconstpointer p, gconstpointer q)
{
  const Kind *a = p, *b = q;

  return a->wood == b->wood && a->strain == b->strain && a->size == b->size;
}

static guint
hash_heap (gconstpointer p)
{
  const Heap *heap = p;

  return g_direct_hash (heap->kind) * 31 + g_int64_hash (&heap->batch)
         + g_double_hash (&heap->share);
}

static gboolean
equal_heaps (gconstpointer p, gconstpointer q)
{
  const Heap *a = p, *b = q;

  return a->kind == b->kind && a->batch == b->batch && a->share == b->share;
}

static double
get_mass (const BedSeasonLog *log)
{
  return log->own + log->share;
}

static Year *
find_year (Yields *yields, const BedSeasonLog *log)
{
  return g_hash_table_lookup (yields->years, GINT_TO_POINTER (log->since));
}

static void
measure_years (Yields *yields)
{
  const GArray *logs = yields->all->logs;
  Year whole = { 0 };
  GHashTableIter iter;
  gpointer value;

  for (guint i = 0; i < logs->len; i++)
    {
      const BedSeasonLog *log = &g_array_index (logs, BedSeasonLog, i);
      Year *year = find_year (yields, log);

      if (!bed_season_log_stood (yields->all, log))
        continue;
      if (!year)
        g_hash_table_insert (yields->years, GINT_TO_POINTER (log->since), year = g_new0 (Year, 1));
      year->mass += get_mass (log);
      year->logs++;
    }
  g_hash_table_iter_init (&iter, yields->years);
  while (g_hash_table_iter_next (&iter, NULL, &value))
    if (((Year *) value)->mass > 0)
      {
        whole.mass += ((Year *) value)->mass;
        whole.logs += ((Year *) value)->logs;
      }
  yields->mean = whole.logs ? whole.mass / whole.logs : 0;
}

static Kind *
find_kind (Yields *yields, const BedSeasonLog *log)
{
  Kind key = { .wood = log->wood, .strain = log->strain };
  Kind *kind;

  key.size = yields->division == DIVIDE_BY_SIZE ? log->size : 0;
  kind = g_hash_table_lookup (yields->kinds, &key);
  if (!kind)
    {
      kind = g_memdup2 (&key, sizeof key);
      kind->index = yields->order->len;
      g_hash_table_add (yields->kinds, kind);
      g_ptr_array_add (yields->order, kind);
    }
  return kind;
}

/* Logs weighed one by one are a record each; those that only ever shared picks of their stack
 * alike are one together. Relative to the mean of the year of life. */
static void
add_log (Yields *yields, const BedSeasonLog *log)
{
  const Year *year = find_year (yields, log);
  Kind *kind = find_kind (yields, log);
  double mass = get_mass (log) * year->logs / year->mass * yields->mean / MG_PER_KG;
  BedYieldRecord record = { .group = kind->index, .logs = 1, .mass_kg = mass };
  const Heap key = { kind, log->batch, log->share, yields->records->len };
  gboolean heaped = log->own == 0 && log->share > 0;
  const Heap *heap = heaped ? g_hash_table_lookup (yields->heaps, &key) : NULL;

  kind->logs++;
  if (heap)
    {
      BedYieldRecord *whole = &g_array_index (yields->records, BedYieldRecord, heap->record);

      whole->logs++;
      whole->mass_kg += mass;
      return;
    }
  if (heaped)
    g_hash_table_add (yields->heaps, g_memdup2 (&key, sizeof key));
  g_array_append_val (yields->records, record);
}

static void
add_logs (Yields *yields)
{
  const GArray *logs = yields->all->logs;

  for (guint i = 0; i < logs->len; i++)
    {
      const BedSeasonLog *log = &g_array_index (logs, BedSeasonLog, i);

      if (!bed_season_log_stood (yields->all, log))
        continue;
      if (find_year (yields, log)->mass > 0)
        add_log (yields, log);
      else
        find_kind (yields, log);
    }
}

static void
keep_kind (BedOutlookTable *table, const Kind *kind, const BedInterval *shrunk)
{
  char size[2] = { kind->size ? '0' + kind->size : '\0' };

  if (kind->size && kind->logs < BED_OUTLOOK_LOGS_LEAST)
    return;
  sqlite3_bind_text (table->stmt, 1, kind->wood, -1, SQLITE_TRANSIENT);
  sqlite3_bind_text (table->stmt, 2, kind->strain, -1, SQLITE_TRANSIENT);
  sqlite3_bind_text (table->stmt, 3, size, -1, SQLITE_TRANSIENT);
  sqlite3_bind_int64 (table->stmt, 4, kind->logs);
  if (kind->logs)
    {
      sqlite3_bind_double (table->stmt, 5, shrunk->estimate * MG_PER_KG);
      bed_outlook_bind_interval (table, 6, shrunk, MG_PER_KG);
    }
  bed_outlook_add (table);
}

static gboolean
keep_kinds (Yields *yields, GError **error)
{
  g_autoptr (BedYields) known
      = bed_yields_new ((const BedYieldRecord *) (gpointer) yields->records->data,
                        yields->records->len, yields->order->len, BED_OUTLOOK_LEVEL, error);
  BedOutlookTable table;

  if (!known)
    return FALSE;
  table = bed_outlook_table (yields->all->farm,
                             "INSERT INTO kind_yield VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)");
  for (guint i = 0; table.well && i < yields->order->len; i++)
    keep_kind (&table, yields->order->pdata[i], &known->groups[i].shrunk);
  return bed_outlook_end (&table, error);
}

static gboolean
read_kinds (const BedSeasonLogs *all, Division division, GError **error)
{
  Yields yields = { .all = all,
                    .division = division,
                    .years = g_hash_table_new_full (NULL, NULL, NULL, g_free),
                    .order = g_ptr_array_new (),
                    .kinds = g_hash_table_new_full (hash_kind, equal_kinds, g_free, NULL),
                    .heaps = g_hash_table_new_full (hash_heap, equal_heaps, g_free, NULL),
                    .records = g_array_new (FALSE, FALSE, sizeof (BedYieldRecord)) };
  gboolean well;

  measure_years (&yields);
  add_logs (&yields);
  well = keep_kinds (&yields, error);
  g_array_unref (yields.records);
  g_hash_table_unref (yields.heaps);
  g_hash_table_unref (yields.kinds);
  g_ptr_array_unref (yields.order);
  g_hash_table_unref (yields.years);
  return well;
}

/* For the parts */

gboolean
bed_outlook_read_kinds (const BedSeasonLogs *all, GError **error)
{
  return read_kinds (all, DIVIDE_NOT, error) && read_kinds (all, DIVIDE_BY_SIZE, error);
}
