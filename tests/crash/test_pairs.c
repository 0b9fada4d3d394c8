/* Two processes with the same farm open, both as it was before, do something at the same moment.
 * What was said to be done is in the history, once; the history leads back, change by change, to
 * what was there before; who is refused is told why. test-crash-pairs ROUNDS SEED. */
#include "../ask.h"
#include "disk.h"
#include "judge.h"
#include "replay.h"

#include <glib/gstdio.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "../model/model_test.h"
#include "model/farm/backup.h"
#include "model/farm/changeset.h"
#include "model/farm/farm_private.h"
#include "model/farm/restore.h"

enum
{
  LATEST = 12000, /* microseconds that one may wait for the other to go first */
  WHY = 21,       /* where it begins in an answer */
};

static BedRecord *loaded; /* by the process, before the other began */
static guint who;         /* 0 or 1 */

/* --- what they do -------------------------------------------------------------------- */

static void
open_farm (Site *site)
{
  site_open (site);
  /* Each with ids of its own, as two programs would. */
  bed_farm_fix_clock (site->farm, "2026-05-12T10:00", 10 + who);
}

static void
load_stand (Site *site)
{
  open_farm (site);
  loaded = bed_farm_load (site->farm, BED_KIND_STAND,
                          ask_one (site->farm, "SELECT max (id) FROM stand", 0), NULL);
}

static gboolean
edit (Site *site, GError **error)
{
  bed_record_set_text (loaded, "grows", who ? "by the right hand" : "by the left hand");
  return bed_edit_put_one (site->farm, loaded, "Changed a stand", error);
}

static gboolean
edit_other (Site *site, GError **error)
{
  bed_record_set_text (loaded, "owner", "the left hand");
  return bed_edit_put_one (site->farm, loaded, "Changed another field", error);
}

static gboolean
remove_stand (Site *site, GError **error)
{
  g_autoptr (BedEdit) work = bed_edit_new (site->farm);

  bed_edit_remove (work, BED_KIND_STAND, bed_record_get_id (loaded));
  return bed_edit_commit (work, "Removed a stand", error);
}

static gboolean
add (Site *site, GError **error)
{
  g_autoptr (BedRecord) stand = bed_record_new (BED_KIND_STAND);

  bed_record_set_text (stand, "name", "Far end");
  return bed_edit_put_one (site->farm, stand, "Added a stand", error);
}

static gboolean
undo (Site *site, GError **error)
{
  return bed_history_undo (site->farm, NULL, error);
}

static gboolean
redo (Site *site, GError **error)
{
  return bed_history_redo (site->farm, NULL, error);
}

static gboolean
import (Site *site, GError **error)
{
  return deed_find ("import")->step (site, 0, error);
}

static gboolean
back_up (Site *site, GError **error)
{
  return bed_backup_make (site->farm, BED_BACKUP_DIFFERS, NULL, error);
}

static gboolean
restore (Site *site, GError **error)
{
  g_autofree char *copy = g_build_filename (site->folder, "Kept.bedlog", NULL);

  return bed_restore (site->path, copy, NULL, error);
}

static gboolean
make (Site *site, GError **error)
{
  return deed_find ("new")->step (site, 0, error);
}

static gboolean
open_now (Site *site, GError **error)
{
  return deed_find ("migration")->step (site, 0, error);
}

typedef struct
{
  const char *name;
  void (*ready) (Site *site);
  gboolean (*act) (Site *site, GError **error);
  const char *leaves; /* SQL: which row of the history it leaves, or NULL: none */
} Act;

#define SAID(sentence) "role = 'do' AND sentence = '" sentence "'"

static const Act act_edit = { "edit", load_stand, edit, SAID ("Changed a stand") };
static const Act act_other
    = { "other field", load_stand, edit_other, SAID ("Changed another field") };
static const Act act_remove = { "remove", load_stand, remove_stand, SAID ("Removed a stand") };
static const Act act_add = { "add", open_farm, add, SAID ("Added a stand") };
static const Act act_undo = { "undo", open_farm, undo, "role = 'undo'" };
static const Act act_redo = { "redo", open_farm, redo, "role = 'redo'" };
static const Act act_import = { "import", open_farm, import, "sentence LIKE 'Imported %'" };
static const Act act_backup = { "backup", open_farm, back_up, NULL };
static const Act act_restore = { "restore", NULL, restore, NULL };
static const Act act_new = { "new", NULL, make, NULL };
static const Act act_open = { "open", NULL, open_now, NULL };

/* --- pairs ------------------------------------------------------------------------------ */

typedef struct
{
  const char *deed; /* whose farm they begin with */
  const Act *acts[2];
  guint most; /* of the two can be done, both having begun with the same farm */
} Pair;

static const Pair pairs[] = {
  { "undo", { &act_edit, &act_edit }, 1 },
  { "undo", { &act_edit, &act_other }, 2 },
  { "undo", { &act_edit, &act_remove }, 2 },
  { "undo", { &act_remove, &act_remove }, 1 },
  { "undo", { &act_add, &act_add }, 1 },
  { "undo", { &act_edit, &act_undo }, 1 },
  { "undo", { &act_add, &act_undo }, 2 },
  { "undo", { &act_undo, &act_undo }, 1 },
  { "redo", { &act_redo, &act_redo }, 1 },
  { "redo", { &act_undo, &act_redo }, 2 },
  { "redo", { &act_add, &act_redo }, 2 },
  { "undo", { &act_import, &act_edit }, 2 },
  { "undo", { &act_import, &act_undo }, 2 },
  { "undo", { &act_import, &act_import }, 2 },
  { "undo", { &act_backup, &act_edit }, 2 },
  { "undo", { &act_backup, &act_import }, 2 },
  { "undo", { &act_backup, &act_backup }, 2 },
  { "restore", { &act_restore, &act_edit }, 2 },
  { "restore", { &act_restore, &act_undo }, 2 },
  { "restore", { &act_restore, &act_import }, 2 },
  { "restore", { &act_restore, &act_restore }, 2 },
  { "new", { &act_new, &act_new }, 1 },
  { "migration", { &act_open, &act_open }, 2 },
};

/* --- two processes --------------------------------------------------------------------------- */

typedef struct
{
  pid_t pid;
  int go;   /* a byte into it: the process begins; the other may have inherited it */
  int from; /* its answer: '+' when done, else '-', the moment, and why */
} Hand;

static void
be_a_hand (const Act *act, Site *site, int go, int to, guint wait)
{
  g_autoptr (GError) error = NULL;
  char none;

  alarm (30);
  if (act->ready)
    act->ready (site);
  if (write (to, "r", 1) < 0 || read (go, &none, 1) < 0)
    _exit (2);
  g_usleep (wait);
  gboolean done = act->act (site, &error);
  g_autofree char *answer = g_strdup_printf ("%c%020" G_GINT64_FORMAT "%s", done ? '+' : '-',
                                             g_get_monotonic_time (), error ? error->message : "");
  if (write (to, answer, strlen (answer)) < 0)
    _exit (2);
  g_clear_object (&site->farm);
  _exit (0);
}

static Hand
begin (const Act *act, Site *site, guint number, guint wait)
{
  int go[2], back[2];
  char ready;

  g_assert_cmpint (pipe (go), ==, 0);
  g_assert_cmpint (pipe (back), ==, 0);
  (void) fflush (stdout);
  pid_t pid = fork ();
  if (pid == 0)
    {
      close (go[1]);
      close (back[0]);
      who = number;
      be_a_hand (act, site, go[0], back[1], wait);
    }
  close (go[0]);
  close (back[1]);
  /* Until it has the farm open; an end without that shows in its answer. */
  if (read (back[0], &ready, 1) != 1)
    g_message ("a process ended before it began");
  return (Hand){ pid, go[1], back[0] };
}

static char *
end (Hand *hand)
{
  GString *answer = g_string_new (NULL);
  char part[256];
  gssize n;
  int status;

  while ((n = read (hand->from, part, sizeof part)) > 0)
    g_string_append_len (answer, part, n);
  close (hand->from);
  close (hand->go);
  waitpid (hand->pid, &status, 0);
  if (!WIFEXITED (status) || WEXITSTATUS (status) != 0)
    g_string_printf (answer, "!ended with status %d", status);
  return g_string_free (answer, FALSE);
}

/* --- what came of it ------------------------------------------------------------------------- */

typedef struct
{
  const Pair *pair;
  GHashTable *files; /* before */
  char *records;     /* before: as scene_dump() has it */
  gint64 newest;     /* change before */
  GRand *chance;
  guint both, one, left_first, faults;
} Meeting;

/* Takes back, newest first, what was done since. */
static gboolean
go_back (BedFarm *farm, gint64 newest)
{
  sqlite3_stmt *row = bed_farm_statement (
      farm, "SELECT changeset FROM change WHERE id > ?1 ORDER BY id DESC", NULL);
  gboolean well = TRUE;

  sqlite3_bind_int64 (row, 1, newest);
  while (well && sqlite3_step (row) == SQLITE_ROW)
    {
      const BedChangeset done
          = { (void *) sqlite3_column_blob (row, 0), sqlite3_column_bytes (row, 0) };
      g_auto (BedChangeset) inverted = { 0 };
      well = bed_changeset_invert (farm, &done, &inverted, NULL)
             && bed_changeset_apply (farm, &inverted, NULL);
    }
  sqlite3_reset (row);
  return well;
}

static char *
judge_history (Meeting *self, BedFarm *farm)
{
  if (!go_back (farm, self->newest))
    return g_strdup ("the history does not lead back");
  g_autofree char *records = scene_dump (farm);
  return strcmp (records, self->records) == 0
             ? NULL
             : g_strdup ("the history leads back to something else");
}

static char *
judge_rows (Meeting *self, BedFarm *farm, char **answers)
{
  gint64 wanted = 0;

  for (guint i = 0; i < 2; i++)
    {
      const Act *act = self->pair->acts[i];
      if (!act->leaves || *answers[i] != '+')
        continue;
      wanted++;
      g_autofree char *sql
          = g_strdup_printf ("SELECT count (*) FROM change WHERE id > ?1 AND %s", act->leaves);
      if (ask_one (farm, sql, self->newest) < 1)
        return g_strdup_printf ("%s was said to be done and is not in the history", act->name);
    }
  gint64 found = ask_one (farm, "SELECT count (*) FROM change WHERE id > ?1", self->newest);
  return found == wanted || !self->records
             ? NULL
             : g_strdup_printf ("%d changes are in the history for %d done", (int) found,
                                (int) wanted);
}

static char *
judge_answers (Meeting *self, char **answers)
{
  guint done = 0;

  for (guint i = 0; i < 2; i++)
    {
      if (*answers[i] == '!')
        return g_strdup (answers[i] + 1);
      done += *answers[i] == '+';
      if (*answers[i] == '-' && strlen (answers[i]) < WHY + 15)
        return g_strdup_printf ("says “%s”", answers[i] + WHY);
    }
  self->left_first += strncmp (answers[0] + 1, answers[1] + 1, WHY - 1) < 0;
  self->both += done == 2;
  self->one += done == 1;
  if (done == 0)
    return g_strdup_printf ("nobody got through: %s %s", answers[0] + WHY, answers[1] + WHY);
  return done <= self->pair->most ? NULL : g_strdup ("both were said to be done");
}

/* What was done and then replaced by an older copy is in the copy made before that. */
static char *
judge_kept (BedFarm *farm, const Act *act)
{
  g_autoptr (GPtrArray) copies = bed_backup_list (bed_farm_get_path (farm));
  g_autofree char *sql = g_strdup_printf ("SELECT count (*) FROM change WHERE %s", act->leaves);
  gboolean found = ask_one (farm, sql, 0) > 0;

  for (guint i = 0; i < copies->len && !found; i++)
    {
      const BedBackup *copy = copies->pdata[i];
      g_autoptr (BedFarm) kept = bed_farm_open (copy->path, NULL);
      found = kept && ask_one (kept, sql, 0) > 0;
    }
  return found ? NULL : g_strdup_printf ("%s was said to be done and is nowhere", act->name);
}

static char *
judge_meeting (Meeting *self, const char *path, char **answers)
{
  g_autoptr (GError) error = NULL;
  char *fault = judge_answers (self, answers);

  if (fault)
    return fault;
  g_autoptr (BedFarm) farm = bed_farm_open (path, &error);
  if (!farm)
    return g_strdup_printf ("open: %s", error->message);
  fault = judge_soundness (farm);
  if (self->pair->acts[0] == &act_restore)
    {
      const Act *other = self->pair->acts[1];
      return fault || !other->leaves || *answers[1] != '+' ? fault : judge_kept (farm, other);
    }
  fault = fault ? fault : judge_rows (self, farm, answers);
  if (!fault && self->records)
    fault = judge_history (self, farm);
  return fault;
}

static char *
judge_copies (const char *folder)
{
  g_autofree char *kept = g_build_filename (folder, "Hill backups", NULL);
  g_autoptr (GPtrArray) names = disk_list (kept);

  for (guint i = 0; i < names->len; i++)
    {
      g_autofree char *path = g_build_filename (kept, names->pdata[i], NULL);
      g_autoptr (BedFarm) copy = g_str_has_suffix (path, ".bedlog") ? bed_farm_open (path, NULL)
                                                                    : NULL;
      char *fault = copy ? judge_soundness (copy) : g_strdup ("a copy cannot be opened");
      if (fault)
        return fault;
    }
  return NULL;
}

/* --- meetings ----------------------------------------------------------------------------- */

static void
meet (Meeting *self, guint round)
{
  g_autofree char *place = site_new_folder ();
  g_autofree char *folder = g_build_filename (place, "farm", NULL);
  g_autoptr (Site) site = site_new (folder);
  Hand hands[2];
  char *answers[2];

  replay_lay_out (self->files, folder);
  for (guint i = 0; i < 2; i++)
    hands[i] = begin (self->pair->acts[i], site, i, g_rand_int_range (self->chance, 0, LATEST));
  for (guint i = 0; i < 2; i++)
    g_assert_cmpint (write (hands[i].go, "g", 1), ==, 1);
  for (guint i = 0; i < 2; i++)
    answers[i] = end (&hands[i]);
  char *fault = judge_meeting (self, site->path, answers);
  fault = fault ? fault : judge_copies (folder);
  if (fault && self->faults++ < 3)
    printf ("# %s and %s, round %u: %s [%s] [%s]\n", self->pair->acts[0]->name,
            self->pair->acts[1]->name, round, fault, answers[0], answers[1]);
  g_free (fault);
  for (guint i = 0; i < 2; i++)
    g_free (answers[i]);
  site_remove_folder (place);
}

static void
prepare (Meeting *self)
{
  g_autofree char *place = site_new_folder ();
  g_autofree char *folder = g_build_filename (place, "farm", NULL);
  const Deed *deed = deed_find (self->pair->deed);
  g_autoptr (Site) site = deed_begin (deed, folder);
  g_autoptr (Replay) replay = replay_new (folder);
  const ReplayCut whole = { REPLAY_ALL, REPLAY_ALL, NULL };

  self->files = replay_cut (replay, &whole);
  if (!deed->closed)
    {
      site_open (site);
      self->records = scene_dump (site->farm);
      self->newest = ask_one (site->farm, "SELECT max (id) FROM change", 0);
    }
  g_clear_object (&site->farm);
  site_remove_folder (place);
}

static guint
run (const Pair *pair, guint rounds, guint32 seed, guint *left_first)
{
  Meeting meeting = { pair };

  meeting.chance = g_rand_new_with_seed (seed);
  prepare (&meeting);
  for (guint i = 0; i < rounds; i++)
    meet (&meeting, i);
  printf ("# %s and %s: %u rounds, both done in %u, one in %u, the left first in %u,"
          " %u wrong\n",
          pair->acts[0]->name, pair->acts[1]->name, rounds, meeting.both, meeting.one,
          meeting.left_first, meeting.faults);
  *left_first += meeting.left_first;
  g_rand_free (meeting.chance);
  g_hash_table_unref (meeting.files);
  g_free (meeting.records);
  return meeting.faults;
}

int
main (int argc, char **argv)
{
  guint rounds = argc > 1 ? atoi (argv[1]) : 40;
  guint32 seed = argc > 2 ? strtoul (argv[2], NULL, 10) : 1;
  guint n = G_N_ELEMENTS (pairs), failed = 0, left_first = 0;

  printf ("# seed %u\n", seed);
  for (guint i = 0; i < n; i++)
    {
      guint wrong = run (&pairs[i], rounds, seed + i, &left_first);
      failed += wrong > 0;
      printf ("%s %u /crash/pairs/%s-and-%s\n", wrong ? "not ok" : "ok", i + 1,
              pairs[i].acts[0]->name, pairs[i].acts[1]->name);
    }
  /* Two that always go one after the other do not meet. */
  gboolean met = left_first > n * rounds / 10 && left_first < n * rounds * 9 / 10;
  printf ("%s %u /crash/pairs/either-goes-first\n", met ? "ok" : "not ok", n + 1);
  printf ("1..%u\n", n + 1);
  return failed > 0 || !met;
}
