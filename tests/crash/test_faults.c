/* Every call to the disk fails once, and every piece of memory SQLite asks for is refused once:
 * disk full, errors, short writes, syncs, names, locks. The step is done or it says in a sentence
 * that it is not; nothing is there by half; and afterwards the farm goes on.
 * test-crash-faults all|DEED N SEED: N faults of the disk and N of memory, by chance when there are
 * more; of all deeds together, as near as it divides. */
#include "disk.h"
#include "judge.h"
#include "memory.h"
#include "replay.h"

#include <errno.h>
#include <glib/gstdio.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "../model/model_test.h"

static const DiskFault faults[] = {
  { "no room, once", DISK_CALL_WRITE, ENOSPC, DISK_ONCE },
  { "no room", DISK_CALL_WRITE, ENOSPC, DISK_FROM_THEN_ON },
  { "half written, no room", DISK_CALL_WRITE, DISK_SHORT, DISK_FROM_THEN_ON },
  { "half written, once", DISK_CALL_WRITE, DISK_SHORT, DISK_ONCE },
  { "writing fails once", DISK_CALL_WRITE, EIO, DISK_ONCE },
  { "writing fails", DISK_CALL_WRITE, EIO, DISK_FROM_THEN_ON },
  { "sync fails once", DISK_CALL_SYNC, EIO, DISK_ONCE },
  { "sync fails", DISK_CALL_SYNC, EIO, DISK_FROM_THEN_ON },
  { "reading fails once", DISK_CALL_READ, EIO, DISK_ONCE },
  { "reading fails", DISK_CALL_READ, EIO, DISK_FROM_THEN_ON },
  { "half read, once", DISK_CALL_READ, DISK_SHORT, DISK_ONCE },
  { "too many files", DISK_CALL_OPEN, EMFILE, DISK_ONCE },
  { "opening is refused", DISK_CALL_OPEN, EACCES, DISK_FROM_THEN_ON },
  { "removing fails once", DISK_CALL_REMOVE, EIO, DISK_ONCE },
  { "removing is refused", DISK_CALL_REMOVE, EACCES, DISK_FROM_THEN_ON },
  { "renaming fails", DISK_CALL_RENAME, EIO, DISK_ONCE },
  { "locking fails", DISK_CALL_LOCK, EIO, DISK_ONCE },
  { "interrupted", ~0, EINTR, DISK_ONCE },
  { "the disk is gone", ~0, EIO, DISK_FROM_THEN_ON },
  /* Of memory. */
  { "out of memory, once", 0, ENOMEM, DISK_ONCE },
  { "out of memory", 0, ENOMEM, DISK_FROM_THEN_ON },
};

/* One step of a deed from the folder as it was before it. */
typedef struct
{
  const Deed *deed;
  guint step;
  GHashTable *files; /* see replay_cut() */
  GHashTable *names; /* of those before and after */
  Judge *judge;      /* [0] before, [1] after */
} Stage;

typedef struct
{
  const DiskFault *fault;
  guint stage, at;
} Case;

typedef struct
{
  guint run, done, refused, said_wrong, reopened, faults;
} Tally;

/* --- a stage ----------------------------------------------------------------------- */

static GHashTable *
read_folder (const char *folder)
{
  g_autoptr (Replay) replay = replay_new (folder);
  const ReplayCut whole = { REPLAY_ALL, REPLAY_ALL, NULL };

  return replay_cut (replay, &whole);
}

/* Copies are named by the minute, which is another in the next step. */
static char *
dup_timeless (const char *name)
{
  g_autoptr (GRegex) minute = g_regex_new ("\\d{4}-\\d\\d-\\d\\d \\d\\d-\\d\\d[b-z]*", 0, 0, NULL);

  return g_regex_replace_literal (minute, name, -1, 0, "NOW", 0, NULL);
}

static void
add_names (Stage *self, const char *folder)
{
  g_autoptr (GPtrArray) names = disk_list (folder);

  for (guint i = 0; i < names->len; i++)
    g_hash_table_add (self->names, dup_timeless (names->pdata[i]));
}

static Site *
set_up (Stage *self, const char *folder)
{
  replay_lay_out (self->files, folder);
  Site *site = site_new (folder);
  if (!self->deed->closed)
    site_open (site);
  return site;
}

static char *
digest_of (const char *path)
{
  g_autoptr (BedFarm) farm = bed_farm_open (path, NULL);

  return farm ? farm_digest (farm, NULL) : NULL;
}

/* The copies that were there before the step. */
static void
know_copies (Judge *judge, const char *folder)
{
  g_autofree char *kept = g_build_filename (folder, "Hill backups", NULL);
  g_autoptr (GPtrArray) names = disk_list (kept);

  for (guint i = 0; i < names->len; i++)
    {
      g_autofree char *path = g_build_filename (kept, names->pdata[i], NULL);
      g_hash_table_add (judge->copies, digest_of (path));
    }
}

/* The deed of one step that the judge knows: with copies it cannot count. */
static Deed *
one_step (const Deed *deed)
{
  Deed *one = g_memdup2 (deed, sizeof *deed);

  one->n_steps = 1;
  one->copies = NULL;
  return one;
}

static Stage *
stage_new (const Deed *deed, guint step, GHashTable *files, const char *folder)
{
  Stage *self = g_new0 (Stage, 1);
  g_autoptr (GError) error = NULL;

  self->deed = deed;
  self->step = step;
  self->files = g_hash_table_ref (files);
  self->names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->judge = judge_new (one_step (deed));
  g_autoptr (Site) site = set_up (self, folder);
  add_names (self, folder);
  if (!deed->step (site, step, &error))
    g_error ("%s, step %u: %s", deed->name, step, error->message);
  add_names (self, folder);
  self->judge->digests[1] = farm_digest (site->farm, NULL);
  g_clear_object (&site->farm);
  site_remove_folder (folder);
  replay_lay_out (files, folder);
  /* An older farm is stepped up by opening it: what it holds is as after it. */
  self->judge->digests[0] = digest_of (site->path);
  know_copies (self->judge, folder);
  site_remove_folder (folder);
  return self;
}

static void
stage_free (Stage *self)
{
  G_GNUC_UNUSED g_autofree gpointer one = (gpointer) self->judge->deed; /* which it still reads */

  judge_free (self->judge);
  g_hash_table_unref (self->files);
  g_hash_table_unref (self->names);
  g_free (self);
}

static GPtrArray *
stages_of (const Deed *deed, const char *folder)
{
  GPtrArray *stages = g_ptr_array_new_with_free_func ((GDestroyNotify) stage_free);

  for (guint step = 0; step < deed->n_steps; step++)
    {
      g_autoptr (Site) site = deed_begin (deed, folder);
      if (!deed->closed)
        site_open (site);
      for (guint i = 0; i < step; i++)
        g_assert_true (deed->step (site, i, NULL));
      g_clear_object (&site->farm);
      g_autoptr (GHashTable) files = read_folder (folder);
      site_remove_folder (folder);
      g_ptr_array_add (stages, stage_new (deed, step, files, folder));
    }
  return stages;
}

/* --- one fault, in a process of its own ------------------------------------------------- */

static void
arm (const DiskFault *fault, guint at)
{
  if (fault->code == ENOMEM)
    memory_break (at, (MemoryLasting) fault->lasting);
  else
    disk_break (fault, at);
}

static guint
disarm (const DiskFault *fault)
{
  guint broken = fault->code == ENOMEM ? memory_get_broken () : disk_get_broken ();

  memory_break (0, MEMORY_ONCE);
  disk_break (NULL, 0);
  return broken;
}

/* Not a sentence for people, or not of people's words. */
static gboolean
says_nothing (const char *message)
{
  static const char *const empty[]
      = { "not an error", "no such savepoint", "unknown error", "(null)", "bad parameter", NULL };

  for (guint i = 0; empty[i]; i++)
    if (strstr (message, empty[i]))
      return TRUE;
  return strlen (message) < 15;
}

static char *
left_behind (Stage *self, const char *folder)
{
  g_autoptr (GPtrArray) names = disk_list (folder);

  for (guint i = 0; i < names->len; i++)
    {
      g_autofree char *name = dup_timeless (names->pdata[i]);
      /* What could not be taken back at once is when the farm is next asked; a farm that could
       * not be read once is kept, as a damaged one would be. */
      if (!g_hash_table_contains (self->names, name) && !g_str_has_prefix (name, "Hill damaged ")
          && strcmp (name, "Hill.bedlog-journal") != 0)
        {
          g_autofree char *stem = g_strndup (name, 30);
          return g_strdup_printf ("%s… is left behind", stem);
        }
    }
  return NULL;
}

/* What the handle says that saw the fault; whether it can go on is told by 'r'. */
static char *
judge_handle (Stage *self, Site *site, gboolean done, char *mark)
{
  if (!site->farm)
    return done ? g_strdup ("done, and no farm") : NULL;
  bed_farm_look_again (site->farm); /* as a window does every half second */
  g_autofree char *digest = farm_digest (site->farm, NULL);
  if (!digest)
    *mark = 'r';
  else if (!done && g_strcmp0 (digest, self->judge->digests[0]) == 0)
    *mark = '.';
  else if (g_strcmp0 (digest, self->judge->digests[1]) == 0)
    *mark = done ? 'd' : 'w';
  else
    return g_strdup (done ? "said to be done, and is not" : "there by half for the open farm");
  return NULL;
}

static char *
goes_on (Site *site, char *mark)
{
  g_autoptr (BedRecord) stand = bed_record_new (BED_KIND_STAND);
  g_autoptr (GError) error = NULL;

  bed_record_set_text (stand, "name", "Afterwards");
  if (site->farm && !bed_edit_put_one (site->farm, stand, "Added a stand", &error))
    *mark = 'r';
  g_clear_object (&site->farm);
  if (*mark != 'r')
    return NULL;
  site->farm = bed_farm_open (site->path, &error);
  return site->farm ? NULL : g_strdup ("the farm cannot be opened again");
}

static char *
judge_after (Stage *self, Site *site, const Case *which, gboolean done, const GError *error,
             char *mark)
{
  char *fault = NULL;

  *mark = done ? 'd' : '.';
  if (!done && (!error || says_nothing (error->message)))
    return g_strdup_printf ("says “%s”", error ? error->message : "");
  if (!(which->fault->calls & DISK_CALL_REMOVE))
    fault = left_behind (self, site->folder);
  fault = fault ? fault : judge_handle (self, site, done, mark);
  fault = fault ? fault : judge_site (self->judge, site->folder, done ? 1 : 0);
  return fault ? fault : goes_on (site, mark);
}

/* Writes a letter and, after it, what is wrong: d done, . not done, w not done it says and yet
 * done, r the farm had to be opened again; e: the fault was never reached. */
static void
child (Stage *self, const Case *which, const char *folder, int to)
{
  g_autoptr (Site) site = set_up (self, folder);
  g_autoptr (GError) error = NULL;
  char mark = 'e';

  disk_watch (folder);
  arm (which->fault, which->at);
  gboolean done = self->deed->step (site, self->step, &error);
  guint broken = disarm (which->fault);
  disk_unwatch ();
  g_autofree char *fault = broken ? judge_after (self, site, which, done, error, &mark) : NULL;
  g_autofree char *answer = g_strdup_printf ("%c%s", mark, fault ? fault : "");
  if (write (to, answer, strlen (answer)) < 0)
    _exit (2);
}

static char *
read_answer (int from)
{
  GString *answer = g_string_new (NULL);
  char part[256];
  gssize n;

  while ((n = read (from, part, sizeof part)) > 0)
    g_string_append_len (answer, part, n);
  close (from);
  return g_string_free (answer, FALSE);
}

static char *
run_case (Stage *stage, const Case *which, const char *folder)
{
  int ends[2], status;

  g_assert_cmpint (pipe (ends), ==, 0);
  (void) fflush (stdout);
  pid_t pid = fork ();
  if (pid == 0)
    {
      alarm (60);
      close (ends[0]);
      child (stage, which, folder, ends[1]);
      _exit (0);
    }
  close (ends[1]);
  char *answer = read_answer (ends[0]);
  waitpid (pid, &status, 0);
  site_remove_folder (folder);
  if (WIFEXITED (status) && WEXITSTATUS (status) == 0 && *answer)
    return answer;
  g_free (answer);
  return WIFSIGNALED (status)
             ? g_strdup_printf (".the program ended with signal %d", WTERMSIG (status))
             : g_strdup (".the program ended");
}

/* --- all of a deed --------------------------------------------------------------------------- */

/* How often the fault can strike in the stage. */
static guint
count (Stage *stage, const DiskFault *fault, const char *folder)
{
  g_autoptr (Site) site = set_up (stage, folder);
  g_autoptr (GError) error = NULL;

  disk_watch (folder);
  arm (fault, G_MAXUINT);
  stage->deed->step (site, stage->step, &error);
  guint seen = fault->code == ENOMEM ? memory_get_seen () : disk_get_seen ();
  disarm (fault);
  disk_unwatch ();
  g_clear_object (&site->farm);
  site_remove_folder (folder);
  return seen;
}

static GArray *
list_cases (GPtrArray *stages, gboolean of_memory, const char *folder)
{
  GArray *cases = g_array_new (FALSE, FALSE, sizeof (Case));

  for (guint s = 0; s < stages->len; s++)
    for (guint f = 0; f < G_N_ELEMENTS (faults); f++)
      {
        guint n = (faults[f].code == ENOMEM) == of_memory
                      ? count (stages->pdata[s], &faults[f], folder)
                      : 0;
        for (guint at = 1; at <= n; at++)
          {
            Case one = { &faults[f], s, at };
            g_array_append_val (cases, one);
          }
      }
  return cases;
}

static void
shuffle (GArray *cases, GRand *chance)
{
  for (guint i = cases->len; i > 1; i--)
    {
      Case *a = &g_array_index (cases, Case, i - 1);
      Case *b = &g_array_index (cases, Case, g_rand_int_range (chance, 0, i));
      Case kept = *a;
      *a = *b;
      *b = kept;
    }
}

static void
add_up (Tally *tally, const Deed *deed, const Case *which, const char *answer)
{
  tally->run++;
  tally->done += *answer == 'd';
  tally->refused += *answer == '.';
  tally->said_wrong += *answer == 'w';
  tally->reopened += *answer == 'r';
  if (*answer == 'e' || answer[1])
    {
      tally->faults++;
      printf ("# %s, step %u, %s, at %u: %s\n", deed->name, which->stage, which->fault->name,
              which->at, *answer == 'e' ? "the fault was not reached" : answer + 1);
    }
}

static guint
run (const Deed *deed, gboolean of_memory, guint n, GRand *chance)
{
  g_autofree char *place = site_new_folder ();
  g_autofree char *folder = g_build_filename (place, "farm", NULL);
  g_autoptr (GPtrArray) stages = stages_of (deed, folder);
  g_autoptr (GArray) cases = list_cases (stages, of_memory, folder);
  Tally tally = { 0 };

  if (cases->len > n)
    shuffle (cases, chance);
  for (guint i = 0; i < MIN (n, cases->len); i++)
    {
      const Case *which = &g_array_index (cases, Case, i);
      g_autofree char *answer = run_case (stages->pdata[which->stage], which, folder);
      add_up (&tally, deed, which, answer);
    }
  printf ("# %s, %s: %u of %u faults, %u done all the same, %u refused, %u done but said not, "
          "%u opened again, %u wrong\n",
          deed->name, of_memory ? "memory" : "disk", tally.run, cases->len, tally.done,
          tally.refused, tally.said_wrong, tally.reopened, tally.faults);
  site_remove_folder (place);
  return tally.faults;
}

int
main (int argc, char **argv)
{
  const char *only = argc > 1 ? argv[1] : "all";
  guint n = argc > 2 ? atoi (argv[2]) : 100;
  guint32 seed = argc > 3 ? strtoul (argv[3], NULL, 10) : 1;
  guint number = 0, failed = 0;

  if (strcmp (only, "all") == 0)
    n = (n + deed_count () - 1) / deed_count ();
  memory_watch ();
  printf ("# seed %u\n", seed);
  for (const Deed *deed = deeds; deed->name; deed++)
    for (int of_memory = 0; of_memory < 2; of_memory++)
      {
        if (strcmp (only, "all") != 0 && strcmp (only, deed->name) != 0)
          continue;
        g_autoptr (GRand) chance = g_rand_new_with_seed (seed + number);
        guint wrong = run (deed, of_memory, n, chance);
        failed += wrong > 0;
        printf ("%s %u /crash/faults/%s/%s\n", wrong ? "not ok" : "ok", ++number, deed->name,
                of_memory ? "memory" : "disk");
      }
  printf ("1..%u\n", number);
  return failed > 0;
}
