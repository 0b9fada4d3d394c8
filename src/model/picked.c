#include "model/picked.h"

#include <glib/gi18n-lib.h>
#include <stdlib.h>

#include "model/farm_private.h"
#include "model/functions.h"
#include "model/query.h"

/* A day as a whole number, 20260518, so that days compare fast; NEVER is after all. */
typedef int Day;
#define NEVER G_MAXINT

typedef struct
{
  gint64 id;
  gint64 batch; /* 0: felled, not inoculated */
  Day retired;
  double own, share, earlier;
} Log;

/* Logs of one batch that came to a stack on one day and left it on one day. */
typedef struct
{
  gint64 stack;
  gint64 batch;
  Day since, until;
  guint first; /* place in ->lying */
  guint logs;
  double share, earlier; /* what each of them has of the stack's picks */
} Spell;

typedef struct
{
  BedFarm *farm;
  sqlite3 *db;
  int season;
  char *end;            /* the day after its last */
  GArray *logs;         /* Log, by id */
  GHashTable *by_id;    /* gint64 * -> Log *, both into ->logs */
  GHashTable *batches;  /* id -> GPtrArray of Log * */
  GArray *lying;        /* Log *, spell after spell */
  GArray *spells;       /* Spell, stack after stack */
  GHashTable *stacks;   /* id -> Spell *, the first one */
  GHashTable *seasons;  /* Day -> season */
  GHashTable *days;     /* stack and day that have their parts in crop_part */
  GHashTable *crops;    /* batch and season -> double, mg */
  sqlite3_stmt *part;
} Walk;

/* What one pick says. */
typedef struct
{
  const char *text; /* its day */
  Day day;
  int season;
  double mass;
} Pick;

typedef struct
{
  gint64 id;
  int number; /* a season, or a day */
} Key;

/* Helpers */

static guint
hash_key (gconstpointer p)
{
  const Key *key = p;

  return g_int64_hash (&key->id) * 31 + key->number;
}

static gboolean
equal_keys (gconstpointer a, gconstpointer b)
{
  const Key *x = a, *y = b;

  return x->id == y->id && x->number == y->number;
}

static Day
read_day (const char *text)
{
  if (!text)
    return NEVER;
  return atoi (text) * 10000 + atoi (text + 5) * 100 + atoi (text + 8);
}

static gboolean
finish (BedQuery *q, GError **error)
{
  gboolean well = bed_query_finish (q, error);

  bed_query_free (q);
  return well;
}

static gboolean
load_logs (Walk *walk, GError **error)
{
  BedQuery *q
      = bed_query_new (walk->farm,
                       "SELECT id, coalesce (batch, 0), retired_on FROM log ORDER BY id");

  while (bed_query_next (q))
    {
      Log log = { .id = bed_query_int (q, 0), .batch = bed_query_int (q, 1),
                  .retired = read_day (bed_query_text (q, 2)) };
      g_array_append_val (walk->logs, log);
    }
  for (guint i = 0; i < walk->logs->len; i++)
    {
      Log *log = &g_array_index (walk->logs, Log, i);
      GPtrArray *batch = g_hash_table_lookup (walk->batches, &log->batch);

      g_hash_table_insert (walk->by_id, &log->id, log);
      if (!batch)
        g_hash_table_insert (walk->batches, &log->batch, batch = g_ptr_array_new ());
      g_ptr_array_add (batch, log);
    }
  return finish (q, error);
}

static gboolean
load_places (Walk *walk, GError **error)
{
  BedQuery *q = bed_query_new (
      walk->farm, "SELECT x.stack, x.since, x.until, x.log, coalesce (l.batch, 0) FROM place x"
                  " JOIN log l ON l.id = x.log ORDER BY 1, 2, 3, 5");
  Spell *last = NULL;

  while (bed_query_next (q))
    {
      Spell spell = { .stack = bed_query_int (q, 0), .since = read_day (bed_query_text (q, 1)),
                      .until = read_day (bed_query_text (q, 2)), .first = walk->lying->len,
                      .batch = bed_query_int (q, 4) };
      gint64 id = bed_query_int (q, 3);
      Log *log = g_hash_table_lookup (walk->by_id, &id);

      if (!last || last->stack != spell.stack || last->since != spell.since
          || last->until != spell.until || last->batch != spell.batch)
        {
          g_array_append_val (walk->spells, spell);
          last = &g_array_index (walk->spells, Spell, walk->spells->len - 1);
        }
      last->logs++;
      g_array_append_val (walk->lying, log);
    }
  for (guint i = 0; i < walk->spells->len; i++)
    {
      Spell *spell = &g_array_index (walk->spells, Spell, i);

      if (!g_hash_table_contains (walk->stacks, &spell->stack))
        g_hash_table_insert (walk->stacks, &spell->stack, spell);
    }
  return finish (q, error);
}

static int
find_season (Walk *walk, const char *text, Day day)
{
  gpointer season = g_hash_table_lookup (walk->seasons, GINT_TO_POINTER (day));

  if (!season)
    {
      season = GINT_TO_POINTER (bed_season_of (walk->farm, text));
      g_hash_table_insert (walk->seasons, GINT_TO_POINTER (day), season);
    }
  return GPOINTER_TO_INT (season);
}

static void
add_to_batch (Walk *walk, gint64 batch, int season, double mass)
{
  Key key = { batch, season };
  double *crop = g_hash_table_lookup (walk->crops, &key);

  if (batch == 0)
    return;
  if (!crop)
    {
      crop = g_new0 (double, 1);
      g_hash_table_insert (walk->crops, g_memdup2 (&key, sizeof key), crop);
    }
  *crop += mass;
}

static gboolean
lies (const Spell *spell, Day day)
{
  return spell->since <= day && day < spell->until;
}

/* After the last spell of the stack that began by the day. */
static Spell *
find_end (Walk *walk, Spell *spell, Day day)
{
  const Spell *end = &g_array_index (walk->spells, Spell, walk->spells->len);
  Spell *at = spell;

  while (at < end && at->stack == spell->stack && at->since <= day)
    at++;
  return at;
}

static gboolean
run (sqlite3_stmt *stmt)
{
  gboolean well = sqlite3_step (stmt) == SQLITE_DONE;

  return sqlite3_reset (stmt) == SQLITE_OK && well;
}

/* The parts of the batches of a stack on a day, once for all its picks. */
static gboolean
keep_parts (Walk *walk, Spell *first, const Pick *pick, double logs)
{
  Key key = { first->stack, pick->day };
  Spell *end = find_end (walk, first, pick->day);

  if (g_hash_table_contains (walk->days, &key))
    return TRUE;
  g_hash_table_add (walk->days, g_memdup2 (&key, sizeof key));
  for (Spell *spell = first; spell < end; spell++)
    {
      double part = 0;
      const Spell *same = first;

      while (same < spell && !(same->batch == spell->batch && lies (same, pick->day)))
        same++;
      if (same < spell || !lies (spell, pick->day))
        continue;
      for (; same < end; same++)
        if (same->batch == spell->batch && lies (same, pick->day))
          part += same->logs / logs;
      sqlite3_bind_int64 (walk->part, 1, spell->stack);
      sqlite3_bind_text (walk->part, 2, pick->text, -1, SQLITE_TRANSIENT);
      sqlite3_bind_int64 (walk->part, 3, spell->batch);
      sqlite3_bind_double (walk->part, 4, part);
      if (!run (walk->part))
        return FALSE;
    }
  return TRUE;
}

static gboolean
divide_over_stack (Walk *walk, gint64 stack, const Pick *pick)
{
  Spell *first = g_hash_table_lookup (walk->stacks, &stack);
  Spell *end = first ? find_end (walk, first, pick->day) : NULL;
  double logs = 0;

  for (Spell *spell = first; spell < end; spell++)
    logs += lies (spell, pick->day) ? spell->logs : 0;
  for (Spell *spell = first; spell < end; spell++)
    if (lies (spell, pick->day))
      {
        double each = pick->mass / logs;

        *(pick->season == walk->season ? &spell->share : &spell->earlier) += each;
        add_to_batch (walk, spell->batch, pick->season, each * spell->logs);
      }
  return logs == 0 || pick->season != walk->season || keep_parts (walk, first, pick, logs);
}

static void
divide_over_batch (Walk *walk, gint64 batch, const Pick *pick)
{
  GPtrArray *logs = g_hash_table_lookup (walk->batches, &batch);
  guint alive = 0;

  for (guint i = 0; logs && i < logs->len; i++)
    alive += ((Log *) logs->pdata[i])->retired > pick->day;
  for (guint i = 0; logs && i < logs->len; i++)
    {
      Log *log = logs->pdata[i];

      if (log->retired > pick->day)
        *(pick->season == walk->season ? &log->share : &log->earlier) += pick->mass / alive;
    }
  add_to_batch (walk, batch, pick->season, pick->mass);
}

static gboolean
walk_picks (Walk *walk, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (
      walk->farm, "SELECT picked_on, mass, coalesce (log, 0), coalesce (stack, 0),"
                  " coalesce (batch, 0) FROM pick NOT INDEXED WHERE picked_on < ?1");
  gboolean well = TRUE;

  bed_query_bind_text (q, 1, walk->end);
  while (well && bed_query_next (q))
    {
      Pick pick = { .text = bed_query_text (q, 0), .mass = bed_query_real (q, 1) };
      gint64 id = bed_query_int (q, 2), stack = bed_query_int (q, 3), batch = bed_query_int (q, 4);
      Log *log = id ? g_hash_table_lookup (walk->by_id, &id) : NULL;

      pick.day = read_day (pick.text);
      pick.season = find_season (walk, pick.text, pick.day);
      if (log)
        {
          *(pick.season == walk->season ? &log->own : &log->earlier) += pick.mass;
          add_to_batch (walk, log->batch, pick.season, pick.mass);
        }
      else if (stack)
        well = divide_over_stack (walk, stack, &pick);
      else
        divide_over_batch (walk, batch, &pick);
    }
  if (!well)
    bed_farm_set_error (walk->farm, error, _ ("adding up the crop"));
  return bed_query_finish (q, well ? error : NULL) && well;
}

static void
share_spells (Walk *walk)
{
  for (guint s = 0; s < walk->spells->len; s++)
    {
      const Spell *spell = &g_array_index (walk->spells, Spell, s);

      for (guint i = 0; i < spell->logs; i++)
        {
          Log *log = g_array_index (walk->lying, Log *, spell->first + i);

          log->share += spell->share;
          log->earlier += spell->earlier;
        }
    }
}

static gboolean
keep_logs (Walk *walk)
{
  sqlite3_stmt *stmt = NULL;
  gboolean well = sqlite3_prepare_v2 (walk->db, "INSERT INTO crop_log VALUES (?1, ?2, ?3, ?4)", -1,
                                      &stmt, NULL)
                  == SQLITE_OK;

  for (guint i = 0; well && i < walk->logs->len; i++)
    {
      const Log *log = &g_array_index (walk->logs, Log, i);

      if (log->own + log->share + log->earlier == 0)
        continue;
      sqlite3_bind_int64 (stmt, 1, log->id);
      sqlite3_bind_double (stmt, 2, log->own);
      sqlite3_bind_double (stmt, 3, log->share);
      sqlite3_bind_double (stmt, 4, log->earlier);
      well = run (stmt);
    }
  sqlite3_finalize (stmt);
  return well;
}

static gboolean
keep_batches (Walk *walk)
{
  sqlite3_stmt *stmt = NULL;
  gboolean well
      = sqlite3_prepare_v2 (walk->db, "INSERT INTO crop_batch VALUES (?1, ?2, ?3)", -1, &stmt, NULL)
        == SQLITE_OK;
  GHashTableIter iter;
  gpointer key, crop;

  g_hash_table_iter_init (&iter, walk->crops);
  while (well && g_hash_table_iter_next (&iter, &key, &crop))
    {
      sqlite3_bind_int64 (stmt, 1, ((Key *) key)->id);
      sqlite3_bind_int64 (stmt, 2, ((Key *) key)->number);
      sqlite3_bind_double (stmt, 3, *(double *) crop);
      well = run (stmt);
    }
  sqlite3_finalize (stmt);
  return well;
}

static void
begin (Walk *walk)
{
  walk->db = bed_farm_get_db (walk->farm);
  walk->end = bed_season_first (walk->farm, walk->season + 1);
  walk->logs = g_array_new (FALSE, FALSE, sizeof (Log));
  walk->by_id = g_hash_table_new (g_int64_hash, g_int64_equal);
  walk->batches = g_hash_table_new_full (g_int64_hash, g_int64_equal, NULL,
                                         (GDestroyNotify) g_ptr_array_unref);
  walk->lying = g_array_new (FALSE, FALSE, sizeof (Log *));
  walk->spells = g_array_new (FALSE, FALSE, sizeof (Spell));
  walk->stacks = g_hash_table_new (g_int64_hash, g_int64_equal);
  walk->seasons = g_hash_table_new (NULL, NULL);
  walk->days = g_hash_table_new_full (hash_key, equal_keys, g_free, NULL);
  walk->crops = g_hash_table_new_full (hash_key, equal_keys, g_free, g_free);
}

static void
end (Walk *walk)
{
  sqlite3_finalize (walk->part);
  g_hash_table_unref (walk->crops);
  g_hash_table_unref (walk->days);
  g_hash_table_unref (walk->seasons);
  g_hash_table_unref (walk->stacks);
  g_array_unref (walk->spells);
  g_array_unref (walk->lying);
  g_hash_table_unref (walk->batches);
  g_hash_table_unref (walk->by_id);
  g_array_unref (walk->logs);
  g_free (walk->end);
}

static gboolean
keep (Walk *walk, GError **error)
{
  gboolean well = keep_logs (walk) && keep_batches (walk);

  if (!well)
    bed_farm_set_error (walk->farm, error, _ ("adding up the crop"));
  return well;
}

/* Temporary tables are in memory and no part of the farm: a farm that cannot be written
 * to has them too. */
static const char tables[]
    = "DROP TABLE IF EXISTS temp.crop_log; DROP TABLE IF EXISTS temp.crop_batch;"
      "DROP TABLE IF EXISTS temp.crop_part;"
      "CREATE TEMP TABLE crop_log (log INTEGER PRIMARY KEY, own REAL, share REAL, earlier REAL);"
      "CREATE TEMP TABLE crop_batch (batch INTEGER, season INTEGER, mass REAL,"
      " PRIMARY KEY (batch, season)) WITHOUT ROWID;"
      "CREATE TEMP TABLE crop_part (stack INTEGER, picked_on TEXT, batch INTEGER, part REAL,"
      " PRIMARY KEY (stack, picked_on, batch)) WITHOUT ROWID;";

/* Public */

gboolean
bed_picked_read (BedFarm *farm, int season, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), FALSE);
  Walk walk = { .farm = farm, .season = season };
  const char *doing = _ ("adding up the crop");
  gboolean well;

  begin (&walk);
  well = bed_db_exec (walk.db, "SAVEPOINT crop;", doing, error);
  if (well)
    {
      well = bed_db_exec (walk.db, tables, doing, error) && load_logs (&walk, error)
             && load_places (&walk, error);
      if (well)
        sqlite3_prepare_v2 (walk.db, "INSERT INTO crop_part VALUES (?1, ?2, ?3, ?4)",
                            -1, &walk.part, NULL);
      well = well && walk_picks (&walk, error);
      if (well)
        share_spells (&walk);
      well = well && keep (&walk, error);
      well = bed_db_exec (walk.db, well ? "RELEASE crop;" : "ROLLBACK TO crop; RELEASE crop;",
                          doing, well ? error : NULL)
             && well;
    }
  end (&walk);
  return well;
}
