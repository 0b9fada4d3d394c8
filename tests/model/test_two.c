/* Two at work on one farm: two BedFarms of one program, and two programs. */
#include "../ask.h"

#include "model_test.h"

#include "model/farm/farm_private.h"
#include "model/farm/list.h"
#include "model/farm/names.h"

#include <glib/gstdio.h>
#include <sqlite3.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

typedef struct
{
  guint64 kinds;
  guint n;
} Heard;

static void
changed_cb (BedFarm *farm, guint64 kinds, gpointer data)
{
  Heard *heard = data;

  heard->kinds |= kinds;
  heard->n++;
}

static BedFarm *
open_again (Scene *scene)
{
  g_autoptr (GError) error = NULL;
  BedFarm *farm = bed_farm_open (scene->path, &error);

  g_assert_no_error (error);
  bed_farm_fix_clock (farm, "2026-05-12T11:00", 3);
  return farm;
}

static gint64
add_stand (BedFarm *farm, const char *name)
{
  return scene_add (farm, scene_record (farm, BED_KIND_STAND, "name", name, NULL));
}

static BedRecord *
load_stand (BedFarm *farm, gint64 id)
{
  g_autoptr (GError) error = NULL;
  BedRecord *stand = bed_farm_load (farm, BED_KIND_STAND, id, &error);

  g_assert_no_error (error);
  return stand;
}

static void
put (BedFarm *farm, BedRecord *record, const char *sentence)
{
  g_autoptr (GError) error = NULL;

  bed_edit_put_one (farm, record, sentence, &error);
  g_assert_no_error (error);
}

/* --- ids -------------------------------------------------------------------------- */

/* The second program's clock is years behind: the history still is in the order of the work. */
static void
test_ids_follow_the_farm (Scene *scene, gconstpointer units)
{
  g_autoptr (BedFarm) other = open_again (scene);
  g_autoptr (GError) error = NULL;

  bed_farm_fix_clock (other, "2021-01-01T08:00", 4);
  bed_farm_fix_clock (scene->farm, "2030-01-01T08:00", 5);
  add_stand (scene->farm, "First");
  add_stand (other, "Second");
  add_stand (scene->farm, "Third");
  add_stand (other, "Fourth");
  g_autoptr (GPtrArray) changes = bed_history_list (other, 4, NULL);
  g_assert_cmpint (((BedChange *) changes->pdata[0])->id, >, ((BedChange *) changes->pdata[1])->id);
  static const char *const names[] = { "Fourth", "Third", "Second", "First" };
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_assert_cmpint (bed_farm_find (other, BED_KIND_STAND, names[i], &error), !=, 0);
      g_assert_no_error (error);
      bed_farm_look_again (other);
      g_assert_true (bed_history_undo (other, NULL, &error));
      g_assert_cmpint (bed_farm_find (other, BED_KIND_STAND, names[i], NULL), ==, 0);
    }
  g_assert_cmpint (bed_farm_count (other, BED_KIND_STAND), ==, 0);
}

/* The same clock and the same chance on both sides: the same ids are given, and both go in. */
static void
test_ids_do_not_meet (Scene *scene, gconstpointer units)
{
  g_autoptr (BedFarm) other = open_again (scene);
  BedFarm *farms[] = { scene->farm, other };
  BedEdit *edits[2];
  gint64 ids[2];

  for (guint i = 0; i < 2; i++)
    {
      g_autofree char *code = g_strdup_printf ("F26-%u", i + 1);
      g_autoptr (BedRecord) stand
          = scene_record (farms[i], BED_KIND_STAND, "name", i ? "East" : "West", NULL);
      g_autoptr (BedRecord) felling = scene_record (farms[i], BED_KIND_FELLING, "code", code,
                                                    "felled_on", "2026-02-01", "wood",
                                                    "northern red oak", NULL);

      bed_farm_fix_clock (farms[i], "2026-05-13T08:00", 9);
      edits[i] = bed_edit_new (farms[i]);
      bed_edit_put (edits[i], stand);
      ids[i] = bed_record_get_id (stand);
      bed_record_set_int (felling, "stand", ids[i]);
      bed_edit_put (edits[i], felling);
    }
  g_assert_cmpint (ids[0], ==, ids[1]);
  for (guint i = 0; i < 2; i++)
    {
      g_autoptr (GError) error = NULL;
      bed_edit_commit (edits[i], "Felled", &error);
      g_assert_no_error (error);
      bed_edit_free (edits[i]);
    }
  g_assert_cmpint (ask_one (other,
                            "SELECT count (*) FROM felling JOIN stand"
                            " ON stand.id = felling.stand"
                            " WHERE (felling.code, stand.name)"
                            " IN (VALUES ('F26-1', 'West'), ('F26-2', 'East'))",
                            0),
                   ==, 2);
}

/* --- one record ---------------------------------------------------------------------- */

static void
test_merge (Scene *scene, gconstpointer units)
{
  gint64 id = add_stand (scene->farm, "Ridge");
  g_autoptr (BedFarm) other = open_again (scene);
  g_autoptr (BedRecord) mine = load_stand (scene->farm, id);
  g_autoptr (BedRecord) theirs = load_stand (other, id);

  bed_record_set_int (theirs, "trees", 40);
  put (other, theirs, "Counted");
  bed_record_set_text (mine, "notes", "steep");
  put (scene->farm, mine, "Noted");
  g_assert_cmpint (bed_record_get_int (mine, "trees"), ==, 40);
  g_autoptr (BedRecord) now = load_stand (other, id);
  g_assert_cmpint (bed_record_get_int (now, "trees"), ==, 40);
  g_assert_cmpstr (bed_record_get_text (now, "notes"), ==, "steep");

  /* What was written is what it was loaded with from then on. */
  bed_record_set_int (now, "trees", 41);
  put (other, now, "Counted again");
  bed_record_set_text (mine, "notes", "steep and wet");
  put (scene->farm, mine, "Noted");
  g_assert_cmpint (bed_record_get_int (mine, "trees"), ==, 41);
}

static void
test_conflict (Scene *scene, gconstpointer units)
{
  gint64 id = add_stand (scene->farm, "Ridge");
  g_autoptr (BedFarm) other = open_again (scene);
  g_autoptr (BedRecord) mine = load_stand (scene->farm, id);
  g_autoptr (BedRecord) theirs = load_stand (other, id);
  g_autoptr (BedEdit) edit = bed_edit_new (scene->farm);
  g_autoptr (GError) error = NULL;

  bed_record_set_int (theirs, "trees", 40);
  bed_record_set_text (theirs, "owner", "the neighbour");
  put (other, theirs, "Counted");
  bed_record_set_int (mine, "trees", 50);
  bed_edit_put (edit, mine);
  g_assert_false (bed_edit_commit (edit, "Counted", &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_CONFLICT);
  g_test_message ("%s", error->message);
  g_assert_nonnull (strstr (error->message, "40"));
  g_assert_nonnull (strstr (error->message, "50"));
  GPtrArray *faults = bed_edit_get_faults (edit);
  g_assert_cmpuint (faults->len, ==, 1);
  g_assert_cmpstr (((BedFault *) faults->pdata[0])->field, ==, "trees");
  g_clear_error (&error);

  /* Refused as long as nobody chooses. */
  g_assert_false (bed_edit_commit (edit, "Counted", &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_CONFLICT);
  g_autoptr (BedRecord) stored = load_stand (scene->farm, id);
  g_assert_true (bed_record_is_torn (mine, stored, "trees"));
  bed_record_rebase (mine, stored, "trees");
  g_assert_false (bed_record_is_torn (mine, stored, "trees"));
  put (scene->farm, mine, "Counted");
  g_autoptr (BedRecord) now = load_stand (other, id);
  g_assert_cmpint (bed_record_get_int (now, "trees"), ==, 50);
  g_assert_cmpstr (bed_record_get_text (now, "owner"), ==, "the neighbour");
}

static void
test_take_theirs (Scene *scene, gconstpointer units)
{
  gint64 id = add_stand (scene->farm, "Ridge");
  g_autoptr (BedFarm) other = open_again (scene);
  g_autoptr (BedRecord) mine = load_stand (scene->farm, id);
  g_autoptr (BedRecord) theirs = load_stand (other, id);
  g_autoptr (BedEdit) edit = bed_edit_new (scene->farm);
  g_autoptr (GError) error = NULL;

  bed_record_set_int (theirs, "trees", 40);
  put (other, theirs, "Counted");
  bed_record_set_int (mine, "trees", 50);
  bed_record_take_field (mine, theirs, "trees");
  bed_record_rebase (mine, theirs, "trees");
  bed_edit_put (edit, mine);
  g_assert_true (bed_edit_commit (edit, "Counted", &error));
  /* Nothing differs, so nothing was changed and there is nothing to take back. */
  g_assert_cmpint (bed_edit_get_change (edit), ==, 0);
}

static void
test_removed_stays_removed (Scene *scene, gconstpointer units)
{
  gint64 id = add_stand (scene->farm, "Ridge");
  g_autoptr (BedFarm) other = open_again (scene);
  g_autoptr (BedRecord) mine = load_stand (scene->farm, id);
  g_autoptr (BedEdit) removal = bed_edit_new (other);
  g_autoptr (BedEdit) again = bed_edit_new (scene->farm);
  g_autoptr (GError) error = NULL;

  bed_edit_remove (removal, BED_KIND_STAND, id);
  g_assert_true (bed_edit_commit (removal, "Removed", &error));
  bed_record_set_int (mine, "trees", 50);
  g_assert_false (bed_edit_put_one (scene->farm, mine, "Counted", &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_FOUND);
  g_assert_nonnull (strstr (error->message, "removed elsewhere"));
  g_assert_cmpint (bed_farm_count (other, BED_KIND_STAND), ==, 0);

  /* Nor is a removal that found nothing said to be done. */
  g_clear_error (&error);
  bed_edit_remove (again, BED_KIND_STAND, id);
  g_assert_false (bed_edit_commit (again, "Removed", &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_FOUND);

  /* Kept as a new one. */
  g_clear_error (&error);
  bed_record_set_id (mine, 0);
  g_assert_true (bed_edit_put_one (scene->farm, mine, "Added", &error));
  g_assert_cmpint (bed_farm_count (other, BED_KIND_STAND), ==, 1);
}

/* What others made of it since is not removed unseen. */
static void
test_removal_of_the_unseen (Scene *scene, gconstpointer units)
{
  gint64 id = add_stand (scene->farm, "Ridge");
  g_autoptr (BedFarm) other = open_again (scene);
  g_autoptr (BedRecord) theirs = load_stand (other, id);
  g_autoptr (BedEdit) removal = bed_edit_new (scene->farm);
  g_autoptr (GError) error = NULL;

  bed_record_set_int (theirs, "trees", 40);
  put (other, theirs, "Counted");
  bed_edit_remove (removal, BED_KIND_STAND, id);
  g_assert_false (bed_edit_commit (removal, "Removed", &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_CONFLICT);
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_STAND), ==, 1);
  bed_farm_look_again (scene->farm);
  g_clear_error (&error);
  g_assert_true (bed_edit_commit (removal, "Removed", &error));
  g_assert_no_error (error);
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_STAND), ==, 0);
}

/* What was removed here refers to what was added there. */
static void
test_removal_of_what_is_used (Scene *scene, gconstpointer units)
{
  gint64 id = add_stand (scene->farm, "Ridge");
  g_autoptr (BedFarm) other = open_again (scene);
  g_autoptr (BedEdit) edit = bed_edit_new (scene->farm);
  g_autoptr (GError) error = NULL;

  scene_add (other,
             scene_record (other, BED_KIND_FELLING, "code", "F26-1", "felled_on", "2026-02-01",
                           "stand", "Ridge", "wood", "northern red oak", NULL));
  bed_edit_remove (edit, BED_KIND_STAND, id);
  g_assert_false (bed_edit_commit (edit, "Removed", &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
  g_assert_cmpint (bed_farm_count (other, BED_KIND_STAND), ==, 1);
}

/* A record of one farm says nothing of another: a farm is made from the settings of the draft. */
static void
test_settings_of_another_farm (Scene *scene, gconstpointer units)
{
  g_autofree char *path = g_build_filename (scene->folder, "other.bedlog", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (BedFarm) other = bed_farm_new (path, bed_farm_get_settings (scene->farm), &error);

  g_assert_no_error (error);
  g_assert_cmpstr (bed_record_get_text (bed_farm_get_settings (other), "name"), ==, "Alder Hollow");
  g_unlink (path);
}

/* --- undo ------------------------------------------------------------------------------- */

static void
test_undo_of_the_unseen (Scene *scene, gconstpointer units)
{
  g_autoptr (BedFarm) other = open_again (scene);
  g_autoptr (GError) error = NULL;
  Heard heard = { 0 };

  add_stand (scene->farm, "Mine");
  gint64 mine = bed_history_find_undo (scene->farm);
  add_stand (other, "Theirs");
  g_signal_connect (scene->farm, "changed", G_CALLBACK (changed_cb), &heard);
  g_assert_false (bed_history_undo (scene->farm, NULL, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_CONFLICT);
  g_test_message ("%s", error->message);
  g_assert_cmpint (bed_farm_count (other, BED_KIND_STAND), ==, 2);
  g_assert_cmpuint (heard.n, ==, 1);
  g_assert_true (heard.kinds & BED_KIND_BIT (BED_KIND_STAND));

  /* Seen now, but not what the button named. */
  g_clear_error (&error);
  g_assert_false (bed_history_undo_named (scene->farm, mine, NULL, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_CONFLICT);
  g_assert_cmpint (bed_farm_count (other, BED_KIND_STAND), ==, 2);
  g_clear_error (&error);
  g_assert_true (
      bed_history_undo_named (scene->farm, bed_history_find_undo (scene->farm), NULL, &error));
  g_assert_cmpint (bed_farm_find (other, BED_KIND_STAND, "Theirs", NULL), ==, 0);
  g_assert_cmpint (bed_farm_find (other, BED_KIND_STAND, "Mine", NULL), !=, 0);

  /* Redo of what the other took back meanwhile, likewise. */
  g_assert_false (bed_history_redo (other, NULL, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_CONFLICT);
  g_assert_true (bed_history_redo (other, NULL, NULL));
}

/* --- seeing ------------------------------------------------------------------------------ */

static void
test_seen_elsewhere (Scene *scene, gconstpointer units)
{
  g_autoptr (BedFarm) other = open_again (scene);
  g_autoptr (BedRecord) settings = bed_record_copy (bed_farm_get_settings (other));
  Heard heard = { 0 };

  g_signal_connect (scene->farm, "changed", G_CALLBACK (changed_cb), &heard);
  bed_farm_look_again (scene->farm);
  g_assert_cmpuint (heard.n, ==, 0);
  add_stand (other, "Theirs");
  bed_farm_look_again (scene->farm);
  g_assert_cmpuint (heard.n, ==, 1);
  g_assert_cmphex (heard.kinds, ==, BED_KIND_BIT (BED_KIND_STAND));
  bed_farm_look_again (scene->farm);
  g_assert_cmpuint (heard.n, ==, 1);

  bed_record_set_text (settings, "unit_system", "US");
  put (other, settings, "Changed units");
  bed_farm_look_again (scene->farm);
  g_assert_cmpint (bed_farm_get_notation (scene->farm)->system, ==, BED_SYSTEM_US);

  /* With one's own change comes what was done elsewhere just before. */
  heard = (Heard){ 0 };
  scene_add (other, scene_record (other, BED_KIND_AREA, "name", "Yard", NULL));
  add_stand (scene->farm, "Mine");
  g_assert_cmpuint (heard.n, ==, 1);
  g_assert_true (heard.kinds & BED_KIND_BIT (BED_KIND_AREA));
  g_signal_handlers_disconnect_by_data (scene->farm, &heard);
}

/* A sync program puts its own file in the place of the farm; or the farm is moved away. */
static void
test_replaced (Scene *scene, gconstpointer units)
{
  g_autofree char *aside = g_build_filename (scene->folder, "aside.bedlog", NULL);
  g_autofree char *content = NULL;
  g_autoptr (GError) error = NULL;
  gsize length;

  g_assert_true (g_file_get_contents (scene->path, &content, &length, NULL));
  g_assert_true (g_file_set_contents (aside, content, length, NULL));
  g_assert_cmpint (g_rename (aside, scene->path), ==, 0);
  g_autoptr (BedRecord) stand = scene_record (scene->farm, BED_KIND_STAND, "name", "Lost", NULL);
  g_assert_false (bed_edit_put_one (scene->farm, stand, "Added", &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_READ_ONLY);
  g_test_message ("%s", error->message);
  g_assert_nonnull (strstr (error->message, "open the farm again"));
  g_assert_nonnull (bed_farm_get_read_only_why (scene->farm));
  g_clear_error (&error);
  g_assert_false (bed_history_undo (scene->farm, NULL, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_READ_ONLY);

  scene_reopen (scene);
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_STAND), ==, 0);
  g_assert_cmpint (g_rename (scene->path, aside), ==, 0);
  bed_farm_look_again (scene->farm);
  g_assert_nonnull (strstr (bed_farm_get_read_only_why (scene->farm), "moved or removed"));
  g_assert_cmpint (g_rename (aside, scene->path), ==, 0);
  bed_farm_look_again (scene->farm);
  g_assert_null (bed_farm_get_read_only_why (scene->farm));
  add_stand (scene->farm, "Found");
}

/* --- locks --------------------------------------------------------------------------------- */

typedef struct
{
  pid_t child;
  int go;   /* written to: let go */
  int said; /* read from: it is held */
} Holder;

/* Another program that has the file to itself until it is told to let go. */
static Holder
hold (const char *path, const char *begin)
{
  int go[2], said[2];
  char byte;

  g_assert_cmpint (pipe (go), ==, 0);
  g_assert_cmpint (pipe (said), ==, 0);
  pid_t child = fork ();
  if (child == 0)
    {
      sqlite3 *db;

      close (go[1]); /* the end of the test ends this too */
      if (sqlite3_open (path, &db) != SQLITE_OK
          || sqlite3_exec (db, begin, NULL, NULL, NULL) != SQLITE_OK || write (said[1], "h", 1) != 1
          || read (go[0], &byte, 1) != 1 || sqlite3_exec (db, "COMMIT", NULL, NULL, NULL) != 0)
        _exit (1);
      sqlite3_close (db);
      _exit (0);
    }
  g_assert_cmpint (read (said[0], &byte, 1), ==, 1);
  close (go[0]);
  close (said[1]);
  return (Holder){ child, go[1], said[0] };
}

static void
let_go (const Holder *holder)
{
  int status;

  g_assert_cmpint (write (holder->go, "g", 1), ==, 1);
  waitpid (holder->child, &status, 0);
  g_assert_cmpint (status, ==, 0);
  close (holder->go);
  close (holder->said);
}

static void
state_cb (BedFarm *farm, guint *n)
{
  (*n)++;
}

/* Held by another: what is asked fails soon and does not wait for each question anew, lists keep
 * what they show, and all is read again when it is free. */
static void
test_held (Scene *scene, gconstpointer units)
{
  gint64 id = add_stand (scene->farm, "Ridge");
  BedListSpec spec = { "stand", NULL, NULL, "name", 0 };
  g_autoptr (BedList) list = bed_list_new (scene->farm, &spec);
  g_autoptr (BedRow) row = g_list_model_get_item (G_LIST_MODEL (list), 0);
  g_autoptr (GError) error = NULL;
  Heard heard = { 0 };
  guint states = 0;

  bed_farm_set_patience (scene->farm, 100);
  g_signal_connect (scene->farm, "changed", G_CALLBACK (changed_cb), &heard);
  g_signal_connect (scene->farm, "state-changed", G_CALLBACK (state_cb), &states);
  Holder holder = hold (scene->path, "BEGIN EXCLUSIVE");
  gint64 begun = g_get_monotonic_time ();
  for (int i = 0; i < 50; i++)
    bed_farm_count (scene->farm, BED_KIND_STAND);
  g_autoptr (BedRecord) stand = scene_record (scene->farm, BED_KIND_STAND, "name", "Late", NULL);
  g_assert_false (bed_edit_put_one (scene->farm, stand, "Added", &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_BUSY);
  bed_farm_look_again (scene->farm);
  g_assert_cmpint (g_get_monotonic_time () - begun, <, 500 * 1000);
  g_assert_true (bed_farm_is_held (scene->farm));
  g_assert_cmpuint (states, ==, 1);
  g_assert_cmpuint (heard.n, ==, 0);
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (list)), ==, 1);
  g_signal_emit_by_name (scene->farm, "changed", G_MAXUINT64); /* a list that cannot ask */
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (list)), ==, 1);
  g_assert_cmpstr (bed_row_text (row, "name"), ==, "Ridge");
  heard = (Heard){ 0 };

  let_go (&holder);
  bed_farm_look_again (scene->farm);
  g_assert_false (bed_farm_is_held (scene->farm));
  g_assert_cmpuint (states, ==, 2);
  g_assert_cmpuint (heard.n, ==, 1);
  g_assert_cmphex (heard.kinds, ==, G_MAXUINT64);
  put (scene->farm, stand, "Added");
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_STAND), ==, 2);
  g_assert_cmpint (id, !=, bed_record_get_id (stand));
  g_signal_handlers_disconnect_by_data (scene->farm, &heard);
}

/* Another is in the middle of its work: reading goes on, writing is BUSY, nothing is half done. */
static void
test_other_writes (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;

  add_stand (scene->farm, "Ridge");
  bed_farm_set_patience (scene->farm, 50);
  Holder holder = hold (scene->path, "BEGIN IMMEDIATE");
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_STAND), ==, 1);
  g_assert_false (bed_history_undo (scene->farm, NULL, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_BUSY);
  let_go (&holder);
  g_clear_error (&error);
  g_assert_true (bed_history_undo (scene->farm, NULL, &error));
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_STAND), ==, 0);
}

/* Faults of what is typed, asked as a form asks; in no time, whoever holds the file. */
static guint
count_typed_faults (BedFarm *farm, BedRecord *record, const char *words, BedFarmError *code)
{
  g_autoptr (BedEdit) edit = bed_edit_new (farm);
  gint64 begun = g_get_monotonic_time ();
  guint n = 0;

  bed_edit_put (edit, record);
  GPtrArray *faults = bed_edit_try (edit);
  g_assert_cmpint (g_get_monotonic_time () - begun, <, 200 * 1000);
  for (guint i = 0; i < faults->len; i++)
    {
      const BedFault *fault = faults->pdata[i];
      n += strstr (fault->message, words) != NULL;
      *code = fault->code;
    }
  return n;
}

/* While another writes, checking what is typed neither waits nor fails: what can be seen in the
 * record is said, what is across records when it is saved. */
static void
test_typed_while_held (Scene *scene, gconstpointer units)
{
  gint64 stand = add_stand (scene->farm, "Ridge");
  g_autoptr (BedRecord) good = scene_record (scene->farm, BED_KIND_STAND, "name", "New", NULL);
  g_autoptr (BedRecord) twice = scene_record (scene->farm, BED_KIND_STAND, "name", "ridge", NULL);
  g_autoptr (BedRecord) nameless = bed_record_new (BED_KIND_STAND);
  g_autoptr (BedRecord) across = bed_record_copy (bed_farm_get_settings (scene->farm));
  BedFarmError code = BED_FARM_ERROR_FAILED;
  guint states = 0;

  bed_record_set_text (across, "currency", "usd");
  g_signal_connect (scene->farm, "state-changed", G_CALLBACK (state_cb), &states);
  bed_farm_set_patience (scene->farm, 3000);
  Holder holder = hold (scene->path, "BEGIN IMMEDIATE");
  g_assert_cmpuint (count_typed_faults (scene->farm, good, "", &code), ==, 0);
  g_assert_cmpuint (count_typed_faults (scene->farm, twice, "already", &code), ==, 1);
  g_assert_cmpuint (count_typed_faults (scene->farm, nameless, "", &code), ==, 1);
  g_assert_cmpint (code, ==, BED_FARM_ERROR_INVALID);
  g_assert_cmpuint (count_typed_faults (scene->farm, across, "capital", &code), ==, 0);
  g_autoptr (BedEdit) removal = bed_edit_new (scene->farm);
  bed_edit_remove (removal, BED_KIND_STAND, stand);
  g_assert_cmpuint (bed_edit_try (removal)->len, ==, 0);
  let_go (&holder);

  /* Not even to be read: said at once, and a form leaves what it said. */
  holder = hold (scene->path, "BEGIN EXCLUSIVE");
  g_assert_cmpuint (count_typed_faults (scene->farm, good, "in use", &code), ==, 1);
  g_assert_cmpint (code, ==, BED_FARM_ERROR_BUSY);
  let_go (&holder);
  g_assert_false (bed_farm_is_held (scene->farm));

  g_assert_cmpuint (count_typed_faults (scene->farm, across, "capital", &code), ==, 1);
  g_assert_cmpuint (count_typed_faults (scene->farm, good, "", &code), ==, 0);
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_STAND), ==, 1);
  put (scene->farm, good, "Added");
  g_assert_cmpuint (states, ==, 0);
  g_signal_handlers_disconnect_by_data (scene->farm, &states);
}

/* The lock of a check is gone after it. */
static void
test_typing_leaves_no_lock (Scene *scene, gconstpointer units)
{
  g_autoptr (BedFarm) other = open_again (scene);
  g_autoptr (BedRecord) good = scene_record (scene->farm, BED_KIND_STAND, "name", "New", NULL);
  BedFarmError code;

  bed_farm_set_patience (other, 0);
  g_assert_cmpuint (count_typed_faults (scene->farm, good, "", &code), ==, 0);
  add_stand (other, "Meanwhile");
  g_assert_cmpuint (count_typed_faults (scene->farm, good, "", &code), ==, 0);
  put (scene->farm, good, "Added");
  g_assert_cmpint (bed_farm_count (other, BED_KIND_STAND), ==, 2);
}

typedef struct
{
  BedFarm *other;
  gint64 seen[2];
  gboolean refused;
} Still;

static void
ask_twice_cb (BedFarm *farm, guint64 kinds, Still *still)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BedRecord) stand = scene_record (still->other, BED_KIND_STAND, "name", "Mid", NULL);

  still->seen[0] = bed_farm_count (farm, BED_KIND_STAND);
  bed_farm_set_patience (still->other, 20);
  still->refused = !bed_edit_put_one (still->other, stand, "Added", &error)
                   && g_error_matches (error, BED_FARM_ERROR, BED_FARM_ERROR_BUSY);
  still->seen[1] = bed_farm_count (farm, BED_KIND_STAND);
}

/* While the views are told nothing moves under them. */
static void
test_stands_still (Scene *scene, gconstpointer units)
{
  g_autoptr (BedFarm) other = open_again (scene);
  Still still = { other, { 0 }, FALSE };

  g_signal_connect (scene->farm, "changed", G_CALLBACK (ask_twice_cb), &still);
  add_stand (scene->farm, "Mine");
  g_assert_true (still.refused);
  g_assert_cmpint (still.seen[0], ==, 1);
  g_assert_cmpint (still.seen[1], ==, 1);
  g_signal_handlers_disconnect_by_data (scene->farm, &still);
  add_stand (other, "Later");
}

/* --- what is written ---------------------------------------------------------------- */

static int
update_cb (unsigned what, void *data, void *stmt, void *sql)
{
  GString *updates = data;

  if (g_str_has_prefix (sql, "UPDATE"))
    g_string_append_printf (updates, "%s\n", (const char *) sql);
  return 0;
}

/* Naming a column has SQLite write its indices anew. */
static void
test_changed_alone (Scene *scene, gconstpointer units)
{
  gint64 id = add_stand (scene->farm, "North slope");
  g_autoptr (BedRecord) stand = load_stand (scene->farm, id);
  g_autoptr (GString) updates = g_string_new (NULL);
  int parameter = 0;

  sqlite3_trace_v2 (bed_farm_get_db (scene->farm), SQLITE_TRACE_STMT, update_cb, updates);
  bed_record_set_text (stand, "notes", "Steep");
  g_assert_true (bed_record_is_changed (stand, "notes"));
  g_assert_false (bed_record_is_changed (stand, "name"));
  put (scene->farm, stand, "Noted");
  g_assert_cmpint (
      sscanf (updates->str, "UPDATE \"stand\" SET \"notes\" = ?%d WHERE id = ?1\n", &parameter), ==,
      1);
  g_string_truncate (updates, 0);
  put (scene->farm, stand, "Nothing new");
  sqlite3_trace_v2 (bed_farm_get_db (scene->farm), 0, NULL, NULL);
  g_assert_cmpstr (updates->str, ==, "");
  g_autoptr (BedRecord) again = load_stand (scene->farm, id);
  g_assert_cmpstr (bed_record_get_text (again, "notes"), ==, "Steep");
  g_assert_cmpstr (bed_record_get_text (again, "name"), ==, "North slope");
}

#define ADD(path, function)                                                                        \
  g_test_add (path, Scene, "metric", scene_set_up, function, scene_tear_down)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  ADD ("/model/two/ids-follow-the-farm", test_ids_follow_the_farm);
  ADD ("/model/two/ids-do-not-meet", test_ids_do_not_meet);
  ADD ("/model/two/merge", test_merge);
  ADD ("/model/two/conflict", test_conflict);
  ADD ("/model/two/take-theirs", test_take_theirs);
  ADD ("/model/two/removed-stays-removed", test_removed_stays_removed);
  ADD ("/model/two/removal-of-the-unseen", test_removal_of_the_unseen);
  ADD ("/model/two/removal-of-what-is-used", test_removal_of_what_is_used);
  ADD ("/model/two/settings-of-another-farm", test_settings_of_another_farm);
  ADD ("/model/two/undo-of-the-unseen", test_undo_of_the_unseen);
  ADD ("/model/two/seen-elsewhere", test_seen_elsewhere);
  ADD ("/model/two/replaced", test_replaced);
  ADD ("/model/two/held", test_held);
  ADD ("/model/two/other-writes", test_other_writes);
  ADD ("/model/two/typed-while-held", test_typed_while_held);
  ADD ("/model/two/typing-leaves-no-lock", test_typing_leaves_no_lock);
  ADD ("/model/two/stands-still", test_stands_still);
  ADD ("/model/two/changed-alone", test_changed_alone);
  return g_test_run ();
}
