#include "model/season/picked_private.h"

#include <glib/gi18n-lib.h>

#include "model/farm/functions.h"
#include "model/farm/query.h"
#include "model/season/outlook_private.h"

typedef BedSeasonLog Log;

/* Logs of one batch and felling that came to a stack on one day and left it on one day. */
typedef struct
{
  gint64 stack;
  gint64 batch, felling;
  BedDay since, until;
  guint first; /* place in ->lying */
  guint logs;
  double share, earlier; /* what each of them has of the stack's picks */
} Spell;

/* A log in a stack, until it left it. */
typedef struct
{
  BedDay until;
  Log *log;
} Lying;

typedef struct
{
  BedSeasonLogs *all;
  GHashTable *by_id;    /* gint64 * -> Log *, both into ->all->logs */
  GHashTable *batches;  /* id -> GPtrArray of Log * */
  GArray *lying;        /* Log *, spell after spell */
  GArray *spells;       /* Spell, stack after stack */
  GHashTable *stacks;   /* id -> Spell *, the first one */
  GHashTable *days;     /* stack and day that have their parts in crop_part */
  GHashTable *heaps;    /* stack, day and lot that have their sources in ->sources */
  GHashTable *sources;  /* lot, batch and felling */
  GHashTable *by_day;   /* day -> double, mg */
  GHashTable *crops;    /* batch (0: logs without one) and season -> double, mg */
  BedOutlookTable part; /* crop_part */
} Walk;

/* What one pick says. */
typedef struct
{
  const char *text; /* its day */
  BedDay day;
  int season;
  double mass;
  gint64 lot; /* 0: none */
} Pick;

typedef struct
{
  gint64 a, b, c;
} Key;

/* Helpers */

static guint
hash_key (gconstpointer p)
{
  const Key *key = p;

  guint64 mixed = (guint64) key->a * 31 + (guint64) key->b * 1009 + (guint64) key->c;

  return (guint) (mixed ^ mixed >> 32);
}

static gboolean
equal_keys (gconstpointer a, gconstpointer b)
{
  const Key *x = a, *y = b;

  return x->a == y->a && x->b == y->b && x->c == y->c;
}

/* FALSE when it was there already. */
static gboolean
add_key (GHashTable *keys, const Key *key)
{
  return !g_hash_table_contains (keys, key)
         && g_hash_table_add (keys, g_memdup2 (key, sizeof *key));
}

static void
order_logs (Walk *walk)
{
  GArray *logs = walk->all->logs;

  for (guint i = 0; i < logs->len; i++)
    {
      Log *log = &g_array_index (logs, Log, i);
      GPtrArray *batch = g_hash_table_lookup (walk->batches, &log->batch);

      g_hash_table_insert (walk->by_id, &log->id, log);
      if (!batch)
        g_hash_table_insert (walk->batches, &log->batch, batch = g_ptr_array_new ());
      g_ptr_array_add (batch, log);
    }
}

/* @log lies in the stack of @spell: that is its stack at the season's end, unless it moved. */
static void
place_log (Walk *walk, Log *log, const Spell *spell)
{
  BedDay end = bed_day_read (walk->all->next);

  if (spell->since < end && spell->until >= end && spell->since >= log->stack_since)
    {
      log->stack = spell->stack;
      log->stack_since = spell->since;
    }
}

static int
compare_spells (gconstpointer p, gconstpointer q)
{
  const Lying *a = p, *b = q;

  return a->until != b->until ? (a->until > b->until) - (a->until < b->until)
         : a->log->batch != b->log->batch
             ? (a->log->batch > b->log->batch) - (a->log->batch < b->log->batch)
             : (a->log->felling > b->log->felling) - (a->log->felling < b->log->felling);
}

/* @logs came to @stack on one day. */
static void
add_spells (Walk *walk, gint64 stack, BedDay since, GArray *logs)
{
  Spell *spell = NULL;

  g_array_sort (logs, compare_spells);
  for (guint i = 0; i < logs->len; i++)
    {
      const Lying *at = &g_array_index (logs, Lying, i);

      if (!spell || compare_spells (at - 1, at) != 0)
        {
          Spell next = { .stack = stack,
                         .batch = at->log->batch,
                         .felling = at->log->felling,
                         .since = since,
                         .until = at->until,
                         .first = walk->lying->len };

          g_array_append_val (walk->spells, next);
          spell = &g_array_index (walk->spells, Spell, walk->spells->len - 1);
        }
      spell->logs++;
      place_log (walk, at->log, spell);
      g_array_append_val (walk->lying, at->log);
    }
  g_array_set_size (logs, 0);
}

/* In the order of the index by_place_stack: sorting a farm's places any further costs more
 * than all the rest. */
static gboolean
load_places (Walk *walk, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (
      walk->all->farm, "SELECT stack, since, until, log FROM place ORDER BY stack, since");
  g_autoptr (GArray) logs = g_array_new (FALSE, FALSE, sizeof (Lying));
  gint64 stack = 0;
  BedDay since = 0;

  while (bed_query_next (q))
    {
      gint64 next_stack = bed_query_int (q, 0), id = bed_query_int (q, 3);
      BedDay next_since = bed_day_read (bed_query_text (q, 1));
      Lying lying = { .until = bed_day_read (bed_query_text (q, 2)),
                      .log = g_hash_table_lookup (walk->by_id, &id) };

      if (!lying.log)
        continue; /* as read_logs() left it out */
      if (next_stack != stack || next_since != since)
        add_spells (walk, stack, since, logs);
      stack = next_stack;
      since = next_since;
      g_array_append_val (logs, lying);
    }
  add_spells (walk, stack, since, logs);
  for (guint i = 0; i < walk->spells->len; i++)
    {
      Spell *spell = &g_array_index (walk->spells, Spell, i);

      if (!g_hash_table_contains (walk->stacks, &spell->stack))
        g_hash_table_insert (walk->stacks, &spell->stack, spell);
    }
  return bed_query_finish (q, error);
}

static void
add_mass (GHashTable *sums, const Key *key, double mass)
{
  double *sum = g_hash_table_lookup (sums, key);

  if (!sum)
    {
      sum = g_new0 (double, 1);
      g_hash_table_insert (sums, g_memdup2 (key, sizeof *key), sum);
    }
  *sum += mass;
}

static void
add_to_batch (Walk *walk, gint64 batch, int season, double mass)
{
  add_mass (walk->crops, &(Key){ batch, season, 0 }, mass);
}

static gboolean
lies (const Spell *spell, BedDay day)
{
  return spell->since <= day && day < spell->until;
}

/* After the last spell of the stack that began by the day. */
static Spell *
find_end (Walk *walk, Spell *spell, BedDay day)
{
  const Spell *end = &g_array_index (walk->spells, Spell, walk->spells->len);
  Spell *at = spell;

  while (at < end && at->stack == spell->stack && at->since <= day)
    at++;
  return at;
}

static void
add_source (Walk *walk, const Pick *pick, gint64 batch, gint64 felling)
{
  const Key key = { pick->lot, batch, felling };

  if (pick->lot && pick->season == walk->all->season)
    add_key (walk->sources, &key);
}

/* Of a stack: once for its day and lot. */
static void
add_sources (Walk *walk, const Spell *first, const Spell *end, const Pick *pick)
{
  const Key key = { first->stack, pick->day, pick->lot };

  if (pick->lot && add_key (walk->heaps, &key))
    for (const Spell *spell = first; spell < end; spell++)
      if (lies (spell, pick->day))
        add_source (walk, pick, spell->batch, spell->felling);
}

/* The parts of the batches of a stack on a day, once for all its picks. */
static void
keep_parts (Walk *walk, Spell *first, const Pick *pick, double logs)
{
  const Key key = { first->stack, pick->day, 0 };
  Spell *end = find_end (walk, first, pick->day);

  if (!add_key (walk->days, &key))
    return;
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
          part += bed_pick_share (same->logs, logs);
      sqlite3_bind_int64 (walk->part.stmt, 1, spell->stack);
      sqlite3_bind_text (walk->part.stmt, 2, pick->text, -1, SQLITE_TRANSIENT);
      sqlite3_bind_int64 (walk->part.stmt, 3, spell->batch);
      sqlite3_bind_double (walk->part.stmt, 4, part);
      bed_outlook_add (&walk->part);
    }
}

static void
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
        double each = bed_pick_share (pick->mass, logs);

        *(pick->season == walk->all->season ? &spell->share : &spell->earlier) += each;
        add_to_batch (walk, spell->batch, pick->season, each * spell->logs);
      }
  if (!first || logs == 0)
    add_to_batch (walk, 0, pick->season, pick->mass);
  else if (pick->season == walk->all->season)
    {
      add_sources (walk, first, end, pick);
      keep_parts (walk, first, pick, logs);
    }
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

      add_source (walk, pick, batch, log->felling);
      if (log->retired > pick->day)
        *(pick->season == walk->all->season ? &log->share : &log->earlier)
            += bed_pick_share (pick->mass, alive);
    }
  add_to_batch (walk, batch, pick->season, pick->mass);
}

static gboolean
walk_picks (Walk *walk, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (walk->all->farm,
                                          "SELECT picked_on, mass, log, stack, batch, lot,"
                                          " since IS NULL"
                                          " OR bed_pick_week (since, picked_on) IS NOT NULL"
                                          " FROM pick NOT INDEXED WHERE picked_on < ?1");

  bed_query_bind_text (q, 1, walk->all->next);
  while (bed_query_next (q))
    {
      Pick pick = { .text = bed_query_text (q, 0),
                    .mass = bed_query_real (q, 1),
                    .lot = bed_query_int (q, 5) };
      gint64 id = bed_query_int (q, 2), stack = bed_query_int (q, 3), batch = bed_query_int (q, 4);
      Log *log = id ? g_hash_table_lookup (walk->by_id, &id) : NULL;

      pick.day = bed_day_read (pick.text);
      pick.season = bed_season_logs_find (walk->all, pick.day);
      if (bed_query_int (q, 6))
        add_mass (walk->by_day, &(Key){ pick.day, 0, 0 }, pick.mass);
      if (log)
        {
          *(pick.season == walk->all->season ? &log->own : &log->earlier) += pick.mass;
          add_source (walk, &pick, log->batch, log->felling);
          add_to_batch (walk, log->batch, pick.season, pick.mass);
        }
      else if (stack)
        divide_over_stack (walk, stack, &pick);
      else
        divide_over_batch (walk, batch, &pick);
    }
  return bed_query_finish (q, error);
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
keep_logs (Walk *walk, GError **error)
{
  BedSeasonLogs *all = walk->all;
  BedOutlookTable table = bed_outlook_table (all->farm,
                                             "INSERT INTO season_log"
                                             " VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)");

  for (guint i = 0; table.well && i < all->logs->len; i++)
    {
      const Log *log = &g_array_index (all->logs, Log, i);

      sqlite3_bind_int64 (table.stmt, 1, log->id);
      sqlite3_bind_int64 (table.stmt, 2, log->size);
      if (log->stack)
        sqlite3_bind_int64 (table.stmt, 3, log->stack);
      sqlite3_bind_int (table.stmt, 4, bed_season_log_stood (all, log));
      sqlite3_bind_int (table.stmt, 5, bed_season_log_lives (all, log));
      sqlite3_bind_double (table.stmt, 6, log->own);
      sqlite3_bind_double (table.stmt, 7, log->share);
      sqlite3_bind_double (table.stmt, 8, log->earlier);
      sqlite3_bind_text (table.stmt, 9, log->strain, -1, SQLITE_STATIC);
      sqlite3_bind_double (table.stmt, 10, log->dry);
      bed_outlook_add (&table);
    }
  return bed_outlook_end (&table, error);
}

static gboolean
keep_crops (Walk *walk, GError **error)
{
  BedOutlookTable table
      = bed_outlook_table (walk->all->farm, "INSERT INTO crop_batch VALUES (?1, ?2, ?3)");
  GHashTableIter iter;
  gpointer key, crop;

  g_hash_table_iter_init (&iter, walk->crops);
  while (table.well && g_hash_table_iter_next (&iter, &key, &crop))
    {
      sqlite3_bind_int64 (table.stmt, 1, ((Key *) key)->a);
      sqlite3_bind_int64 (table.stmt, 2, ((Key *) key)->b);
      sqlite3_bind_double (table.stmt, 3, *(double *) crop);
      bed_outlook_add (&table);
    }
  return bed_outlook_end (&table, error);
}

static gboolean
keep_days (Walk *walk, GError **error)
{
  BedOutlookTable table
      = bed_outlook_table (walk->all->farm, "INSERT INTO crop_day VALUES (?1, ?2)");
  GHashTableIter iter;
  gpointer key, mass;

  g_hash_table_iter_init (&iter, walk->by_day);
  while (table.well && g_hash_table_iter_next (&iter, &key, &mass))
    {
      BedDay at = (BedDay) ((Key *) key)->a;
      char day[32];
      g_snprintf (day, sizeof day, "%04d-%02d-%02d", at / 10000, at / 100 % 100, at % 100);
      sqlite3_bind_text (table.stmt, 1, day, -1, SQLITE_TRANSIENT);
      sqlite3_bind_double (table.stmt, 2, *(double *) mass);
      bed_outlook_add (&table);
    }
  return bed_outlook_end (&table, error);
}

static void
keep_batch (Walk *walk, BedOutlookTable *table, const GPtrArray *logs)
{
  const Log *first = logs->pdata[0];
  const char *wood = first->wood;
  int stood = 0, lives = 0;

  for (guint i = 0; i < logs->len; i++)
    {
      const Log *log = logs->pdata[i];

      stood += bed_season_log_stood (walk->all, log);
      lives += bed_season_log_lives (walk->all, log);
      wood = log->wood == first->wood ? wood : _ ("mixed");
    }
  sqlite3_bind_int64 (table->stmt, 1, first->batch);
  sqlite3_bind_text (table->stmt, 2, wood, -1, SQLITE_STATIC);
  sqlite3_bind_int (table->stmt, 3, stood);
  sqlite3_bind_int (table->stmt, 4, lives);
  bed_outlook_add (table);
}

static gboolean
keep_batches (Walk *walk, GError **error)
{
  BedOutlookTable table
      = bed_outlook_table (walk->all->farm, "INSERT INTO season_batch VALUES (?1, ?2, ?3, ?4)");
  GHashTableIter iter;
  gpointer logs;

  g_hash_table_iter_init (&iter, walk->batches);
  while (table.well && g_hash_table_iter_next (&iter, NULL, &logs))
    keep_batch (walk, &table, logs);
  return bed_outlook_end (&table, error);
}

static gboolean
keep_sources (Walk *walk, GError **error)
{
  BedOutlookTable table
      = bed_outlook_table (walk->all->farm, "INSERT INTO lot_source VALUES (?1, ?2, ?3)");
  GHashTableIter iter;
  gpointer at;

  g_hash_table_iter_init (&iter, walk->sources);
  while (table.well && g_hash_table_iter_next (&iter, &at, NULL))
    {
      const Key *key = at;

      sqlite3_bind_int64 (table.stmt, 1, key->a);
      sqlite3_bind_int64 (table.stmt, 2, key->b);
      sqlite3_bind_int64 (table.stmt, 3, key->c);
      bed_outlook_add (&table);
    }
  return bed_outlook_end (&table, error);
}

static void
begin (Walk *walk)
{
  walk->by_id = g_hash_table_new (g_int64_hash, g_int64_equal);
  walk->batches = g_hash_table_new_full (g_int64_hash, g_int64_equal, NULL,
                                         (GDestroyNotify) g_ptr_array_unref);
  walk->lying = g_array_new (FALSE, FALSE, sizeof (Log *));
  walk->spells = g_array_new (FALSE, FALSE, sizeof (Spell));
  walk->stacks = g_hash_table_new (g_int64_hash, g_int64_equal);
  walk->days = g_hash_table_new_full (hash_key, equal_keys, g_free, NULL);
  walk->heaps = g_hash_table_new_full (hash_key, equal_keys, g_free, NULL);
  walk->sources = g_hash_table_new_full (hash_key, equal_keys, g_free, NULL);
  walk->by_day = g_hash_table_new_full (hash_key, equal_keys, g_free, g_free);
  walk->crops = g_hash_table_new_full (hash_key, equal_keys, g_free, g_free);
  walk->part = bed_outlook_table (walk->all->farm, "INSERT INTO crop_part VALUES (?1, ?2, ?3, ?4)");
}

static void
end (Walk *walk)
{
  g_hash_table_unref (walk->by_day);
  g_hash_table_unref (walk->crops);
  g_hash_table_unref (walk->sources);
  g_hash_table_unref (walk->heaps);
  g_hash_table_unref (walk->days);
  g_hash_table_unref (walk->stacks);
  g_array_unref (walk->spells);
  g_array_unref (walk->lying);
  g_hash_table_unref (walk->batches);
  g_hash_table_unref (walk->by_id);
}

/* For the parts */

gboolean
bed_picked_read (BedSeasonLogs *all, GError **error)
{
  Walk walk = { .all = all };
  gboolean well;

  begin (&walk);
  order_logs (&walk);
  well = load_places (&walk, error) && walk_picks (&walk, error);
  share_spells (&walk);
  well = bed_outlook_end (&walk.part, well ? error : NULL) && well;
  well = well && keep_logs (&walk, error) && keep_batches (&walk, error) && keep_days (&walk, error)
         && keep_crops (&walk, error) && keep_sources (&walk, error);
  end (&walk);
  return well;
}
