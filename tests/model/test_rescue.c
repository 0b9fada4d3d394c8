/* What a rescue saves of a farm that was damaged in a hundred ways. */
#include <gio/gio.h>
#include <glib/gstdio.h>
#include <string.h>

#include "model_test.h"

#include "model/check/check.h"
#include "model/check/rescue.h"
#include "model/demo/demo.h"
#include "model/farm/farm_private.h"
#include "model/farm/kinds.h"
#include "model/farm/pages.h"

#define PAGE 4096
#define WAYS 100

typedef struct
{
  char *folder, *sound, *damaged, *saved;
  char *bytes;
  gsize length;
  GHashTable *page_of; /* id of a record or change -> the page its row is on */
} Ruin;

typedef struct
{
  GHashTable *page_of;
  guint page;
} OnPage;

static void
on_page_cb (gint64 id, const BedPageCell *cells, guint n_cells, gpointer data)
{
  OnPage *on = data;

  if (id > 100) /* neither a row of the schema nor the settings */
    g_hash_table_insert (on->page_of, g_memdup2 (&id, sizeof id), GUINT_TO_POINTER (on->page));
}

static void
find_pages (Ruin *ruin)
{
  g_autoptr (GBytes) bytes = g_bytes_new (ruin->bytes, ruin->length);
  g_autoptr (BedPages) pages = bed_pages_new (bytes);
  OnPage on = { ruin->page_of, 0 };

  while ((on.page = bed_pages_next_stray (pages, on.page)) > 0)
    bed_pages_walk (pages, on.page, on_page_cb, &on);
  g_assert_cmpuint (g_hash_table_size (ruin->page_of), >, 500);
}

static void
set_up (Ruin *ruin, gconstpointer data)
{
  const BedDemoPlan plan = { 40, 2, 1, "2026-07-14" };
  g_autoptr (GError) error = NULL;

  ruin->folder = g_dir_make_tmp ("bedlog-XXXXXX", NULL);
  ruin->sound = g_build_filename (ruin->folder, "sound.bedlog", NULL);
  ruin->damaged = g_build_filename (ruin->folder, "damaged.bedlog", NULL);
  ruin->saved = g_build_filename (ruin->folder, "saved.bedlog", NULL);
  g_autoptr (BedFarm) farm = bed_demo_new (ruin->sound, &plan, &error);
  g_assert_no_error (error);
  g_clear_object (&farm);
  g_assert_true (g_file_get_contents (ruin->sound, &ruin->bytes, &ruin->length, NULL));
  ruin->page_of = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  find_pages (ruin);
}

static void
tear_down (Ruin *ruin, gconstpointer data)
{
  g_autofree char *journal = g_strconcat (ruin->damaged, "-journal", NULL);

  g_unlink (journal);
  g_unlink (ruin->sound);
  g_unlink (ruin->damaged);
  g_unlink (ruin->saved);
  g_assert_cmpint (g_rmdir (ruin->folder), ==, 0);
  g_hash_table_unref (ruin->page_of);
  g_free (ruin->bytes);
  g_free (ruin->folder);
  g_free (ruin->sound);
  g_free (ruin->damaged);
  g_free (ruin->saved);
}

static void
write_damaged (Ruin *ruin, const char *bytes, gsize length)
{
  g_unlink (ruin->damaged); /* written over, a longer file would keep its end */
  g_assert_true (g_file_set_contents_full (ruin->damaged, bytes, (gssize) length,
                                           G_FILE_SET_CONTENTS_NONE, 0600, NULL));
}

/* --- ways to damage: each marks the pages it touched ------------------------------------ */

static void
flip (GRand *chance, char *bytes, gsize *length, gboolean *touched)
{
  for (int n = g_rand_int_range (chance, 1, 30); n > 0; n--)
    {
      gsize at = (gsize) g_rand_int_range (chance, 0, (gint32) *length);
      bytes[at] = (char) g_rand_int (chance);
      touched[at / PAGE + 1] = TRUE;
    }
}

static void
blank (GRand *chance, char *bytes, gsize *length, gboolean *touched)
{
  for (int n = g_rand_int_range (chance, 1, 6); n > 0; n--)
    {
      gsize page = (gsize) g_rand_int_range (chance, 0, (gint32) (*length / PAGE));
      memset (bytes + page * PAGE, 0, PAGE);
      touched[page + 1] = TRUE;
    }
}

static void
scatter (GRand *chance, char *bytes, gsize *length, gboolean *touched)
{
  gsize page = (gsize) g_rand_int_range (chance, 0, (gint32) (*length / PAGE));

  for (gsize i = 0; i < PAGE; i++)
    bytes[page * PAGE + i] = (char) g_rand_int (chance);
  touched[page + 1] = TRUE;
}

static void
shorten (GRand *chance, char *bytes, gsize *length, gboolean *touched)
{
  gsize whole = *length;

  *length = (gsize) g_rand_int_range (chance, (gint32) whole / 8, (gint32) whole);
  for (gsize page = *length / PAGE; page < whole / PAGE; page++)
    touched[page + 1] = TRUE;
}

static void (*const ways[]) (GRand *, char *, gsize *, gboolean *)
    = { flip, blank, scatter, shorten };

/* --- what must hold --------------------------------------------------------------------- */

static GHashTable *
ids_in (BedFarm *farm)
{
  GHashTable *ids = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);

  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    {
      g_autofree char *sql
          = g_strdup_printf ("SELECT id FROM \"%s\"", bed_kind_get_info (kind)->name);
      g_autoptr (BedQuery) q = bed_query_new (farm, sql);
      while (bed_query_next (q))
        {
          gint64 id = bed_query_int (q, 0);
          g_hash_table_add (ids, g_memdup2 (&id, sizeof id));
        }
    }
  return ids;
}

static void
assert_sound (BedFarm *farm)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BedCheckup) checkup = bed_check_farm (farm, BED_CHECK_USUAL, NULL, &error);
  static const BedCheckPart parts[] = { BED_CHECK_PAGES, BED_CHECK_REFERENCES, BED_CHECK_HISTORY };

  g_assert_no_error (error);
  for (gsize i = 0; i < G_N_ELEMENTS (parts); i++)
    for (guint n = 0; n < checkup->faults[parts[i]]->len; n++)
      g_error ("%s", ((BedFault *) checkup->faults[parts[i]]->pdata[n])->message);
}

/* Whether the record is in the farm or was told to be lost. */
static gboolean
is_told (const BedRescue *rescue, gint64 id)
{
  for (guint i = 0; i < rescue->notes->len; i++)
    {
      const BedRescueNote *note = rescue->notes->pdata[i];
      if (note->fate == BED_RESCUE_LOST && note->id == id)
        return TRUE;
    }
  return FALSE;
}

typedef struct
{
  guint untouched, there, told, touched, back, refused;
} Tally;

static void
count (Ruin *ruin, const BedRescue *rescue, const gboolean *touched, GHashTable *before,
       Tally *tally)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BedFarm) farm = bed_farm_open (ruin->saved, &error);
  GHashTableIter iter;
  gpointer id;

  g_assert_no_error (error);
  assert_sound (farm);
  g_autoptr (GHashTable) after = ids_in (farm);
  g_hash_table_iter_init (&iter, before);
  while (g_hash_table_iter_next (&iter, &id, NULL))
    {
      guint page = GPOINTER_TO_UINT (g_hash_table_lookup (ruin->page_of, id));
      gboolean there = g_hash_table_contains (after, id);
      if (page == 0)
        continue;
      if (touched[page])
        {
          tally->touched++;
          tally->back += there;
          continue;
        }
      tally->untouched++;
      tally->there += there;
      tally->told += !there && is_told (rescue, *(gint64 *) id);
      if (!there && !is_told (rescue, *(gint64 *) id))
        g_error ("record %" G_GINT64_FORMAT " of page %u is neither saved nor listed",
                 *(gint64 *) id, page);
    }
}

static void
test_hundred_ways (Ruin *ruin, gconstpointer data)
{
  g_autoptr (GRand) chance = g_rand_new_with_seed (7);
  g_autoptr (BedFarm) farm = bed_farm_open (ruin->sound, NULL);
  g_autoptr (GHashTable) before = ids_in (farm);
  Tally tally = { 0 };

  for (guint i = 0; i < WAYS; i++)
    {
      g_autofree char *bytes = g_memdup2 (ruin->bytes, ruin->length);
      g_autofree gboolean *touched = g_new0 (gboolean, ruin->length / PAGE + 2);
      gsize length = ruin->length;
      g_autoptr (GError) error = NULL;
      g_test_message ("way %u", i);
      ways[i % G_N_ELEMENTS (ways)](chance, bytes, &length, touched);
      write_damaged (ruin, bytes, length);
      g_autofree char *kept = g_memdup2 (bytes, length);
      g_unlink (ruin->saved);
      g_autoptr (BedRescue) rescue = bed_rescue_farm (ruin->damaged, ruin->saved, &error);
      g_assert_no_error (error);
      g_autofree char *now = NULL;
      gsize now_length;
      g_assert_true (g_file_get_contents (ruin->damaged, &now, &now_length, NULL));
      g_assert_cmpmem (now, now_length, kept, length);
      count (ruin, rescue, touched, before, &tally);
    }
  g_test_message ("%u of %u records on untouched pages are there, %u are listed as lost with what "
                  "they belong to; %u of %u on touched pages are there too",
                  tally.there, tally.untouched, tally.told, tally.back, tally.touched);
  g_assert_cmpuint (tally.there * 100, >=, tally.untouched * 95);
}

static void
test_whole (Ruin *ruin, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BedRescue) rescue = bed_rescue_farm (ruin->sound, ruin->saved, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (rescue->notes->len, ==, 0);
  g_assert_cmpint (rescue->changes_kept, ==, rescue->changes_read);
  g_autoptr (BedFarm) sound = bed_farm_open (ruin->sound, NULL);
  g_autoptr (BedFarm) saved = bed_farm_open (ruin->saved, NULL);
  g_autofree char *a = scene_dump (sound), *b = scene_dump (saved);
  g_assert_cmpstr (a, ==, b);
  g_assert_true (bed_history_undo (saved, NULL, &error));
  g_assert_no_error (error);
}

/* Nothing is made over a file, or of a file that has nothing. */
static void
test_refused (Ruin *ruin, gconstpointer data)
{
  g_autoptr (GError) there = NULL, nothing = NULL, gone = NULL;

  write_damaged (ruin, "A letter.", 9);
  g_assert_null (bed_rescue_farm (ruin->sound, ruin->damaged, &there));
  g_assert_error (there, BED_FARM_ERROR, BED_FARM_ERROR_EXISTS);
  g_assert_null (bed_rescue_farm (ruin->damaged, ruin->saved, &nothing));
  g_assert_error (nothing, BED_FARM_ERROR, BED_FARM_ERROR_NOT_A_FARM);
  g_unlink (ruin->damaged);
  g_assert_null (bed_rescue_farm (ruin->damaged, ruin->saved, &gone));
  g_assert_error (gone, BED_FARM_ERROR, BED_FARM_ERROR_NOT_FOUND);
  g_assert_false (g_file_test (ruin->saved, G_FILE_TEST_EXISTS));
}

/* Records that no sound farm could hold: kept as far as they can be, and told. */
static void
test_wrong_records (Ruin *ruin, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  sqlite3 *db = NULL;

  write_damaged (ruin, ruin->bytes, ruin->length);
  g_assert_cmpint (sqlite3_open (ruin->damaged, &db), ==, SQLITE_OK);
  g_assert_cmpint (
      sqlite3_exec (db,
                    "PRAGMA foreign_keys = OFF;"
                    "UPDATE buyer SET contact = CAST (x'41ff42' AS TEXT)"
                    " WHERE id = (SELECT min (id) FROM buyer);"
                    "UPDATE sale SET buyer = 4242 WHERE id = (SELECT min (id) FROM sale);"
                    "UPDATE weighing SET log = 4242 WHERE id = (SELECT min (id) FROM weighing)",
                    NULL, NULL, NULL),
      ==, SQLITE_OK);
  sqlite3_close (db);
  g_autoptr (BedRescue) rescue = bed_rescue_farm (ruin->damaged, ruin->saved, &error);
  g_assert_no_error (error);
  guint n[BED_N_KINDS] = { 0 };
  for (guint i = 0; i < rescue->notes->len; i++)
    {
      const BedRescueNote *note = rescue->notes->pdata[i];
      n[note->kind]++;
      g_assert_cmpint (note->fate, ==,
                       note->kind == BED_KIND_WEIGHING ? BED_RESCUE_LOST : BED_RESCUE_CHANGED);
    }
  g_assert_cmpuint (rescue->notes->len, ==, 3);
  g_assert_cmpuint (n[BED_KIND_BUYER], ==, 1);
  g_assert_cmpuint (n[BED_KIND_SALE], ==, 1);
  g_assert_cmpuint (n[BED_KIND_WEIGHING], ==, 1);
  g_autoptr (BedFarm) saved = bed_farm_open (ruin->saved, &error);
  g_assert_no_error (error);
  assert_sound (saved);
}

/* A change cut off: the journal brings the farm back as it was, in a copy. */
static void
test_journal (Ruin *ruin, gconstpointer data)
{
  g_autofree char *journal = g_strconcat (ruin->damaged, "-journal", NULL);
  g_autofree char *kept = NULL, *torn = NULL;
  gsize kept_length, torn_length;
  g_autoptr (GError) error = NULL;
  sqlite3 *db = NULL;

  write_damaged (ruin, ruin->bytes, ruin->length);
  g_assert_cmpint (sqlite3_open (ruin->damaged, &db), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (db,
                                 "PRAGMA cache_size = 1; PRAGMA foreign_keys = OFF; BEGIN;"
                                 "DELETE FROM pick; DELETE FROM log; DELETE FROM place",
                                 NULL, NULL, NULL),
                   ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_db_cacheflush (db), ==, SQLITE_OK);
  g_assert_true (g_file_get_contents (journal, &kept, &kept_length, NULL));
  g_assert_true (g_file_get_contents (ruin->damaged, &torn, &torn_length, NULL));
  sqlite3_close (db);
  write_damaged (ruin, torn, torn_length);
  g_assert_true (g_file_set_contents (journal, kept, (gssize) kept_length, NULL));
  g_autoptr (BedRescue) rescue = bed_rescue_farm (ruin->damaged, ruin->saved, &error);
  g_assert_no_error (error);
  g_autoptr (BedFarm) sound = bed_farm_open (ruin->sound, NULL);
  g_assert_cmpint (rescue->saved[BED_KIND_PICK], ==, bed_farm_count (sound, BED_KIND_PICK));
  g_assert_cmpint (rescue->saved[BED_KIND_LOG], ==, bed_farm_count (sound, BED_KIND_LOG));
  g_assert_true (g_file_test (journal, G_FILE_TEST_EXISTS));
}

#define ADD(name, function) g_test_add ("/rescue/" name, Ruin, NULL, set_up, function, tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("whole", test_whole);
  ADD ("refused", test_refused);
  ADD ("wrong-records", test_wrong_records);
  ADD ("journal", test_journal);
  ADD ("hundred-ways", test_hundred_ways);
  return g_test_run ();
}
