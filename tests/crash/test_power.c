/* The current goes off: after every write, sync, and change of a name, with what was not synced
 * lost, kept, torn and mixed up. test-crash-power all|DEED N SEED [STRIDE]: N cuts by chance, of
 * all deeds together as near as it divides, on top of those at every STRIDE-th event. */
#include "disk.h"
#include "judge.h"
#include "replay.h"

#include <glib/gstdio.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "model/farm/farm_private.h"

typedef struct
{
  const Deed *deed;
  GPtrArray *events;
  char *before; /* the folder as it was */
  Judge *judge;
  char *scratch;
  GHashTable *seen; /* digests of the folders that were judged, with what had been said */

  const char *kind;
  guint cuts, distinct, faults;
  GHashTable *sentences; /* fault -> how often */
} Power;

/* Which durability the farm is opened with: NULL as the program does. */
static const char *weakened;

/* --- once, written down ------------------------------------------------------------------- */

static void
weaken (Site *site)
{
  if (weakened && site->farm)
    g_assert_true (bed_db_exec (bed_farm_get_db (site->farm), weakened, "weakening", NULL));
}

static void
copy_folder (const char *from, const char *to)
{
  g_autoptr (Replay) replay = replay_new (from);
  const ReplayCut whole = { REPLAY_ALL, REPLAY_ALL, NULL };
  g_autoptr (GHashTable) files = replay_cut (replay, &whole);

  replay_lay_out (files, to);
}

/* What was written down leads to what is there. */
static void
assert_all_seen (Power *self, const char *folder)
{
  const ReplayCut whole = { REPLAY_ALL, REPLAY_ALL, NULL };
  g_autoptr (Replay) told = replay_new (self->before), found = replay_new (folder);

  for (guint i = 0; i < self->events->len; i++)
    replay_do (told, self->events->pdata[i]);
  g_autoptr (GHashTable) by_events = replay_cut (told, &whole), there = replay_cut (found, &whole);
  g_autofree char *one = replay_digest (by_events), *other = replay_digest (there);
  g_assert_cmpstr (one, ==, other);
}

static void
record (Power *self)
{
  g_autofree char *folder = site_new_folder ();
  g_autoptr (Site) site = deed_begin (self->deed, folder);
  g_autoptr (GError) error = NULL;

  copy_folder (folder, self->before);
  if (g_file_test (site->path, G_FILE_TEST_EXISTS) && !self->deed->closed)
    site_open (site);
  weaken (site);
  if (site->farm)
    self->judge->digests[0] = farm_digest (site->farm, &error);
  disk_watch (folder);
  for (guint i = 0; i < self->deed->n_steps; i++)
    {
      if (!self->deed->step (site, i, &error))
        g_error ("%s, step %u: %s", self->deed->name, i, error->message);
      disk_mark (i + 1);
      self->judge->digests[i + 1] = farm_digest (site->farm, &error);
    }
  self->events = disk_steal_events ();
  disk_unwatch ();
  assert_all_seen (self, folder);
  /* Opening a farm of an older version steps it up at once: there is no other before. */
  if (self->deed->closed && g_file_test (self->before, G_FILE_TEST_IS_DIR))
    {
      g_autofree char *old = g_build_filename (self->before, "Hill.bedlog", NULL);
      if (g_file_test (old, G_FILE_TEST_EXISTS))
        self->judge->digests[0] = g_strdup (self->judge->digests[1]);
    }
  site_remove_folder (folder);
}

/* --- one cut ------------------------------------------------------------------------------- */

static void
complain (Power *self, char *fault, guint at)
{
  gpointer count = g_hash_table_lookup (self->sentences, fault);

  self->faults++;
  if (!count && !weakened)
    printf ("# %s, after event %u of %u, %s: %s\n", self->deed->name, at, self->events->len,
            self->kind, fault);
  g_hash_table_insert (self->sentences, fault, GUINT_TO_POINTER (GPOINTER_TO_UINT (count) + 1));
}

/* The folder's own name changes from cut to cut; what is wrong does not. */
static char *
without_path (const char *fault, const char *folder)
{
  g_auto (GStrv) parts = g_strsplit (fault, folder, -1);

  return g_strjoinv ("…", parts);
}

static void
cut (Power *self, Replay *replay, const ReplayCut *how, guint at, guint acked)
{
  g_autoptr (GHashTable) files = replay_cut (replay, how);
  g_autofree char *digest = replay_digest (files);
  g_autofree char *key = g_strdup_printf ("%s %u", digest, acked);
  gpointer known;

  self->cuts++;
  if (g_hash_table_lookup_extended (self->seen, key, NULL, &known))
    {
      if (known)
        complain (self, g_strdup (known), at);
      return;
    }
  self->distinct++;
  replay_lay_out (files, self->scratch);
  g_autofree char *fault = judge_site (self->judge, self->scratch, acked);
  site_remove_folder (self->scratch);
  char *plain = fault ? without_path (fault, self->scratch) : NULL;
  g_hash_table_insert (self->seen, g_steal_pointer (&key), plain);
  if (plain)
    complain (self, g_strdup (plain), at);
}

/* At every stride-th event: nothing, all, or one of both of what was not synced. */
static void
cut_everywhere (Power *self, guint stride)
{
  static const struct
  {
    const char *kind;
    ReplayCut cut;
  } kinds[] = {
    { "all written", { REPLAY_ALL, REPLAY_ALL, NULL } },
    { "unsynced lost", { REPLAY_NONE, REPLAY_NONE, NULL } },
    { "unsynced contents lost", { REPLAY_NONE, REPLAY_ALL, NULL } },
    { "unsynced names lost", { REPLAY_ALL, REPLAY_NONE, NULL } },
  };
  g_autoptr (Replay) replay = replay_new (self->before);
  guint acked = 0;

  for (guint at = 0; at <= self->events->len; at++)
    {
      for (guint k = 0; at % stride == 0 && k < G_N_ELEMENTS (kinds); k++)
        {
          self->kind = kinds[k].kind;
          cut (self, replay, &kinds[k].cut, at, acked);
        }
      if (at == self->events->len)
        break;
      DiskEvent *event = self->events->pdata[at];
      if (event->op == DISK_MARK)
        acked = event->offset;
      replay_do (replay, event);
    }
}

static int
by_number (gconstpointer a, gconstpointer b)
{
  return *(const guint *) a < *(const guint *) b ? -1 : *(const guint *) a > *(const guint *) b;
}

/* @n places by chance, in order, each with its own mixture. */
static void
cut_by_chance (Power *self, guint n, GRand *chance)
{
  g_autoptr (Replay) replay = replay_new (self->before);
  g_autofree guint *places = g_new (guint, n + 1);
  const ReplayCut some = { REPLAY_SOME, REPLAY_SOME, chance };
  guint acked = 0, at = 0;

  for (guint i = 0; i < n; i++)
    places[i] = g_rand_int_range (chance, 0, self->events->len + 1);
  qsort (places, n, sizeof places[0], by_number);
  self->kind = "unsynced torn and mixed";
  for (guint i = 0; i < n; i++)
    {
      for (; at < places[i]; at++)
        {
          DiskEvent *event = self->events->pdata[at];
          if (event->op == DISK_MARK)
            acked = event->offset;
          replay_do (replay, event);
        }
      cut (self, replay, &some, at, acked);
    }
}

/* --- a deed ---------------------------------------------------------------------------------- */

static Power *
power_new (const Deed *deed)
{
  Power *self = g_new0 (Power, 1);
  g_autofree char *folder = site_new_folder ();

  self->deed = deed;
  self->before = g_build_filename (folder, "before", NULL);
  self->scratch = g_build_filename (folder, "cut", NULL);
  self->judge = judge_new (deed);
  self->seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  self->sentences = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  record (self);
  return self;
}

static void
power_free (Power *self)
{
  g_autofree char *folder = g_path_get_dirname (self->before);

  site_remove_folder (folder);
  g_ptr_array_unref (self->events);
  judge_free (self->judge);
  g_hash_table_unref (self->seen);
  g_hash_table_unref (self->sentences);
  g_free (self->before);
  g_free (self->scratch);
  g_free (self);
}

static void
report (Power *self)
{
  GHashTableIter iter;
  gpointer fault, count;

  printf ("# %s: %u events, %u cuts, %u different disks, %u files judged whole, %u faults\n",
          self->deed->name, self->events->len, self->cuts, self->distinct,
          g_hash_table_size (self->judge->sound), self->faults);
  g_hash_table_iter_init (&iter, self->sentences);
  while (g_hash_table_iter_next (&iter, &fault, &count))
    printf ("#   %u times: %s\n", GPOINTER_TO_UINT (count), (char *) fault);
  (void) fflush (stdout);
}

static guint
run (const Deed *deed, guint n, guint32 seed, guint stride)
{
  g_autoptr (GRand) chance = g_rand_new_with_seed (seed);
  Power *self = power_new (deed);

  cut_everywhere (self, stride);
  cut_by_chance (self, n, chance);
  report (self);
  guint faults = self->faults;
  power_free (self);
  return faults;
}

/* A net that catches nothing is no net: with less care for the disk it must. */
static gboolean
catches (const char *care, guint n, guint32 seed)
{
  weakened = care;
  guint faults = run (deed_find ("edit"), n, seed, 1);
  weakened = NULL;
  return faults > 0;
}

int
main (int argc, char **argv)
{
  const char *only = argc > 1 ? argv[1] : "all";
  guint n = argc > 2 ? atoi (argv[2]) : 100, stride = argc > 4 ? atoi (argv[4]) : 1;
  guint32 seed = argc > 3 ? strtoul (argv[3], NULL, 10) : 1;
  guint number = 0, failed = 0;

  if (strcmp (only, "all") == 0)
    n = (n + deed_count () - 1) / deed_count ();
  printf ("# seed %u\n", seed);
  for (const Deed *deed = deeds; deed->name; deed++)
    {
      if (strcmp (only, "all") != 0 && strcmp (only, deed->name) != 0)
        continue;
      guint faults = run (deed, n, seed, stride);
      failed += faults > 0;
      printf ("%s %u /crash/power/%s\n", faults ? "not ok" : "ok", ++number, deed->name);
    }
  static const struct
  {
    const char *name, *care;
  } nets[] = {
    { "off", "PRAGMA synchronous = OFF" },
    { "full", "PRAGMA synchronous = FULL" },
  };
  for (guint i = 0; strcmp (only, "all") == 0 && i < G_N_ELEMENTS (nets); i++)
    {
      gboolean caught = catches (nets[i].care, n, seed);
      failed += !caught;
      printf ("%s %u /crash/power/catches-synchronous-%s\n", caught ? "ok" : "not ok", ++number,
              nets[i].name);
    }
  printf ("1..%u\n", number);
  return failed > 0;
}
