/* Any bytes as the stored changeset of the newest change: byte 0 says what is asked of it, the
 * rest is the changeset. It is told, taken back and done again, or refused with a sentence; what
 * was taken back and done again leaves every record as it was. */
#include <sqlite3.h>

#include "../ask.h"
#include "fuzz.h"
#include "fuzz_farm.h"
#include "model/check/check.h"
#include "model/farm/farm_private.h"
#include "model/farm/history.h"
#include "model/farm/kinds.h"
#include "model/farm/query.h"

#define INPUTS_PER_FARM 300

static BedFarm *farm;
static gint64 newest;

static void
make_farm (void)
{
  static guint n;
  g_autofree char *name = g_strdup_printf ("changeset-%u.bedlog", n / INPUTS_PER_FARM);

  if (n++ % INPUTS_PER_FARM != 0)
    return;
  g_clear_object (&farm);
  farm = fuzz_farm_new (name, 2);
  newest = ask_one (farm, "SELECT max (id) FROM change", 0);
}

static void
store (const uint8_t *data, size_t size)
{
  sqlite3_stmt *stmt = NULL;

  g_assert_cmpint (sqlite3_prepare_v2 (bed_farm_get_db (farm),
                                       "UPDATE change SET changeset = ?1, undone_by = NULL,"
                                       " role = 'do', undoes = NULL WHERE id = ?2",
                                       -1, &stmt, NULL),
                   ==, SQLITE_OK);
  sqlite3_bind_blob (stmt, 1, size ? (const void *) data : "", (int) size, SQLITE_STATIC);
  sqlite3_bind_int64 (stmt, 2, newest);
  g_assert_cmpint (sqlite3_step (stmt), ==, SQLITE_DONE);
  sqlite3_finalize (stmt);
  /* What earlier inputs left behind it would be taken back first. */
  g_assert_cmpint (sqlite3_exec (bed_farm_get_db (farm),
                                 "DELETE FROM change WHERE id >"
                                 " (SELECT max (id) FROM change WHERE role = 'do')",
                                 NULL, NULL, NULL),
                   ==, SQLITE_OK);
}

static char *
dump (void)
{
  GString *text = g_string_new (NULL);

  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    {
      g_autofree char *sql
          = g_strdup_printf ("SELECT * FROM \"%s\" ORDER BY 1", bed_kind_get_info (kind)->name);
      g_autoptr (BedQuery) q = bed_query_new (farm, sql);
      while (bed_query_next (q))
        for (int i = 0; i < bed_query_n_columns (q); i++)
          g_string_append_printf (text, "%s|", bed_query_text (q, i));
    }
  return g_string_free (text, FALSE);
}

static void
take_back_and_again (void)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *before = dump ();

  if (!bed_history_undo (farm, NULL, &error))
    {
      g_autofree char *after = dump ();
      fuzz_assert_said (error);
      g_assert_cmpstr (before, ==, after);
      return;
    }
  g_autofree char *sentence = bed_history_dup_sentence (farm, bed_history_find_redo (farm));
  g_assert_nonnull (sentence);
  /* Rules of today may stand against it; nothing is done by half then. */
  if (bed_history_redo (farm, NULL, &error))
    {
      g_autofree char *after = dump ();
      g_assert_cmpstr (before, ==, after);
    }
  else
    fuzz_assert_said (error);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_autoptr (GError) error = NULL;

  if (size < 1)
    return 0;
  make_farm ();
  store (data + 1, size - 1);
  g_autoptr (GPtrArray) differences = bed_history_differences (farm, newest);
  g_assert_nonnull (differences);
  for (guint i = 0; i < differences->len; i++)
    {
      const BedDifference *difference = differences->pdata[i];
      g_assert_true (g_utf8_validate (difference->record, -1, NULL));
      g_assert_true (!difference->from || g_utf8_validate (difference->from, -1, NULL));
      g_assert_true (!difference->to || g_utf8_validate (difference->to, -1, NULL));
    }
  if (data[0] % 4 == 0)
    take_back_and_again ();
  else if (data[0] % 4 == 1 && !bed_history_put_back (farm, newest, &error))
    fuzz_assert_said (error);
  else if (data[0] % 4 == 2)
    {
      g_autoptr (BedCheckup) checkup = bed_check_farm (farm, BED_CHECK_USUAL, NULL, &error);
      g_assert_true (checkup || error);
    }
  return 0;
}
