#include "deed.h"

#include <glib/gstdio.h>
#include <stdlib.h>
#include <string.h>

#include "../model/model_test.h"
#include "model/csv/csv.h"
#include "model/farm/backup.h"
#include "model/farm/farm_private.h"
#include "model/farm/kinds.h"
#include "model/farm/restore.h"

#define NOW "2026-05-12T09:00"

/* --- places ---------------------------------------------------------------------- */

char *
site_new_folder (void)
{
  const char *given = g_getenv ("TMPDIR");
  const char *where = given ? given : g_access ("/dev/shm", W_OK) == 0 ? "/dev/shm" : "/tmp";
  g_autofree char *template = g_build_filename (where, "bedlog-crash-XXXXXX", NULL);

  g_assert_nonnull (g_mkdtemp (template));
  char *real = realpath (template, NULL);
  char *folder = g_strdup (real);
  free (real);
  return folder;
}

void
site_remove_folder (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir && (name = g_dir_read_name (dir)))
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      if (g_file_test (path, G_FILE_TEST_IS_DIR))
        site_remove_folder (path);
      else
        g_unlink (path);
    }
  g_rmdir (folder);
}

Site *
site_new (const char *folder)
{
  Site *site = g_new0 (Site, 1);

  g_mkdir_with_parents (folder, 0700);
  site->folder = g_strdup (folder);
  site->path = g_build_filename (folder, "Hill.bedlog", NULL);
  return site;
}

void
site_open (Site *site)
{
  g_autoptr (GError) error = NULL;

  site->farm = bed_farm_open (site->path, &error);
  g_assert_no_error (error);
  bed_farm_fix_clock (site->farm, "2026-05-12T10:00", 2);
}

void
site_free (Site *site)
{
  g_clear_object (&site->farm);
  g_free (site->folder);
  g_free (site->path);
  g_free (site);
}

Site *
deed_begin (const Deed *deed, const char *folder)
{
  Site *site = site_new (folder);

  deed->prepare (site);
  return site;
}

/* --- farms to begin with ------------------------------------------------------------ */

static void
prepare_nothing (Site *site)
{
}

static void
make (Site *site)
{
  g_autoptr (BedRecord) settings = scene_settings ("metric");
  g_autoptr (GError) error = NULL;

  site->farm = bed_farm_new_at (site->path, settings, NOW, 1, &error);
  g_assert_no_error (error);
}

static void
prepare_stocked (Site *site)
{
  make (site);
  scene_batch (site->farm, 12);
  g_clear_object (&site->farm);
}

static void
add_stand (Site *site, const char *name)
{
  scene_add (site->farm, scene_record (site->farm, BED_KIND_STAND, "name", name, NULL));
}

static void
prepare_done (Site *site)
{
  make (site);
  scene_batch (site->farm, 12);
  add_stand (site, "Ridge");
  add_stand (site, "Mill");
  g_clear_object (&site->farm);
}

static void
prepare_undone (Site *site)
{
  prepare_done (site);
  site_open (site);
  g_assert_true (bed_history_undo (site->farm, NULL, NULL));
  g_assert_true (bed_history_undo (site->farm, NULL, NULL));
  g_clear_object (&site->farm);
}

/* As the first version wrote it. */
static void
prepare_older (Site *site)
{
  scene_lay_kept (site->path, 1);
}

/* With a copy of the farm in its folder, some work ago. */
static void
prepare_kept (Site *site)
{
  g_autofree char *copy = g_build_filename (site->folder, "Kept.bedlog", NULL);

  make (site);
  scene_batch (site->farm, 12);
  g_assert_true (bed_backup_write (site->farm, copy, NULL));
  add_stand (site, "Mill");
  g_clear_object (&site->farm);
}

/* Logs to be imported lie beside, where nothing is watched. */
static char *
write_csv (Site *site, int n)
{
  g_autoptr (GString) text = g_string_new ("felling,length (cm),small_diameter (cm),"
                                           "large_diameter (cm),notes\n");
  char *path = g_strconcat (site->folder, "-log.csv", NULL);

  for (int i = 0; i < n; i++)
    g_string_append_printf (text, "F26-1,100,%d,14,bolt %d of a long day in the north slope\n",
                            8 + i % 5, i);
  g_assert_true (g_file_set_contents (path, text->str, -1, NULL));
  return path;
}

/* --- steps ---------------------------------------------------------------------------- */

static gboolean
step_new (Site *site, guint step, GError **error)
{
  g_autoptr (BedRecord) settings = scene_settings ("metric");

  site->farm = bed_farm_new_at (site->path, settings, NOW, 1, error);
  return site->farm != NULL;
}

static gboolean
put (Site *site, BedRecord *given, GError **error)
{
  g_autoptr (BedRecord) record = given;

  return bed_edit_put_one (site->farm, record, "Wrote one record", error);
}

static gboolean
remove_log (Site *site, GError **error)
{
  g_autoptr (BedEdit) edit = bed_edit_new (site->farm);
  g_autoptr (BedQuery) newest = bed_query_new (site->farm, "SELECT max (id) FROM log");

  if (!bed_query_next (newest))
    return bed_query_finish (newest, error);
  bed_edit_remove (edit, BED_KIND_LOG, bed_query_int (newest, 0));
  if (!bed_query_finish (newest, error))
    return FALSE;
  return bed_edit_commit (edit, "Removed a log", error);
}

static BedRecord *
load_batch (Site *site, GError **error)
{
  gint64 first;

  if (!bed_query_one (site->farm, "SELECT min (id) FROM batch", 0, &first, error))
    return NULL;
  return bed_farm_load (site->farm, BED_KIND_BATCH, first, error);
}

/* What a rule forbids is written under no circumstances. */
static gboolean
step_refused (Site *site, guint step, GError **error)
{
  g_autoptr (BedRecord) batch = load_batch (site, error);
  g_autoptr (GError) refused = NULL;

  if (!batch)
    return FALSE;
  /* Before the felling of its logs. */
  bed_record_set_text (batch, "inoculated_on", "2026-01-01");
  if (bed_edit_put_one (site->farm, batch, "Inoculated too early", &refused)
      || g_error_matches (refused, BED_FARM_ERROR, BED_FARM_ERROR_INVALID))
    return TRUE;
  g_propagate_error (error, g_steal_pointer (&refused));
  return FALSE;
}

/* A change, an addition and a removal, each on its own. */
static gboolean
step_edit (Site *site, guint step, GError **error)
{
  if (step == 2)
    return remove_log (site, error);
  if (step == 1)
    return put (site, scene_record (site->farm, BED_KIND_STAND, "name", "Ridge", NULL), error);
  BedRecord *batch = load_batch (site, error);
  if (!batch)
    return FALSE;
  bed_record_set_text (batch, "notes", "Rain in the morning");
  return put (site, batch, error);
}

static gboolean
import_logs (Site *site, int logs, GError **error)
{
  g_autofree char *csv = write_csv (site, logs);
  g_autoptr (GPtrArray) faults = NULL;
  BedImport import = { BED_KIND_LOG, csv, BED_IMPORT_WRITE };
  int n = bed_csv_import (site->farm, &import, &faults, error);

  for (guint i = 0; n < 0 && faults && i < faults->len; i++)
    g_test_message ("%s", ((BedCsvFault *) faults->pdata[i])->message);
  g_unlink (csv);
  return n >= 0;
}

static gboolean
step_import (Site *site, guint step, GError **error)
{
  return import_logs (site, 60, error);
}

/* With a page cache so small that pages are written before the end of the transaction. */
static gboolean
step_import_small (Site *site, guint step, GError **error)
{
  return bed_db_exec (bed_farm_get_db (site->farm), "PRAGMA cache_size = 10", "narrowing", error)
         && import_logs (site, 400, error);
}

static gboolean
step_undo (Site *site, guint step, GError **error)
{
  return bed_history_undo (site->farm, NULL, error);
}

static gboolean
step_redo (Site *site, guint step, GError **error)
{
  return bed_history_redo (site->farm, NULL, error);
}

static gboolean
step_open (Site *site, guint step, GError **error)
{
  site->farm = bed_farm_open (site->path, error);
  if (site->farm)
    bed_farm_fix_clock (site->farm, "2026-05-12T10:00", 2);
  return site->farm != NULL;
}

/* The copy of the day, an edit, the copy of the next day. */
static gboolean
step_backup (Site *site, guint step, GError **error)
{
  if (step == 1)
    return put (site, scene_record (site->farm, BED_KIND_STAND, "name", "Ridge", NULL), error);
  bed_farm_fix_clock (site->farm, step ? "2026-05-13T10:00" : "2026-05-12T10:00", 3);
  return bed_backup_make (site->farm, BED_BACKUP_DIFFERS, NULL, error);
}

/* An edit that is to be forgotten, then the copy from before it. */
static gboolean
step_restore (Site *site, guint step, GError **error)
{
  g_autofree char *copy = g_build_filename (site->folder, "Kept.bedlog", NULL);

  if (step == 0)
    return put (site, scene_record (site->farm, BED_KIND_STAND, "name", "Ridge", NULL), error);
  g_clear_object (&site->farm);
  return bed_restore (site->path, copy, NULL, error) && step_open (site, step, error);
}

static guint
copies_of_backup (guint steps)
{
  return steps > 2 ? 2 : MIN (steps, 1);
}

static guint
copies_of_open (guint steps)
{
  return steps;
}

/* What was there before is copied first. */
static guint
copies_of_restore (guint steps)
{
  return steps > 1;
}

const Deed deeds[] = {
  { "new", 1, prepare_nothing, TRUE, step_new, NULL },
  { "edit", 3, prepare_stocked, FALSE, step_edit, NULL },
  { "refused", 1, prepare_stocked, FALSE, step_refused, NULL },
  { "import", 1, prepare_stocked, FALSE, step_import, NULL },
  { "import-spilling", 1, prepare_stocked, FALSE, step_import_small, NULL },
  { "undo", 2, prepare_done, FALSE, step_undo, NULL },
  { "redo", 2, prepare_undone, FALSE, step_redo, NULL },
  { "migration", 1, prepare_older, TRUE, step_open, copies_of_open },
  { "backup", 3, prepare_stocked, FALSE, step_backup, copies_of_backup },
  { "restore", 2, prepare_kept, FALSE, step_restore, copies_of_restore },
  { NULL },
};

const Deed *
deed_find (const char *name)
{
  for (const Deed *deed = deeds; deed->name; deed++)
    if (strcmp (deed->name, name) == 0)
      return deed;
  return NULL;
}

guint
deed_count (void)
{
  return G_N_ELEMENTS (deeds) - 1;
}

/* --- what a farm holds -------------------------------------------------------------------- */

static gboolean
add_rows (BedFarm *farm, const char *table, GChecksum *sum, GError **error)
{
  g_autofree char *sql = g_strdup_printf ("SELECT * FROM main.\"%s\" ORDER BY id", table);
  sqlite3_stmt *row = bed_farm_statement (farm, sql, error);
  int status = SQLITE_ERROR;

  while (row && (status = sqlite3_step (row)) == SQLITE_ROW)
    for (int c = 0; c < sqlite3_column_count (row); c++)
      {
        const guchar *data = sqlite3_column_blob (row, c);
        int size = sqlite3_column_bytes (row, c);
        g_autofree char *head
            = g_strdup_printf ("%s %d %d|", table, sqlite3_column_type (row, c), size);
        g_checksum_update (sum, (guchar *) head, -1);
        if (size)
          g_checksum_update (sum, data, size);
      }
  if (status == SQLITE_DONE)
    return TRUE;
  if (row)
    bed_farm_set_error (farm, error, "reading the rows");
  return FALSE;
}

char *
farm_digest (BedFarm *farm, GError **error)
{
  g_autoptr (GChecksum) sum = g_checksum_new (G_CHECKSUM_SHA1);

  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    if (!add_rows (farm, bed_kind_get_info (kind)->name, sum, error))
      return NULL;
  return add_rows (farm, "change", sum, error) ? g_strdup (g_checksum_get_string (sum)) : NULL;
}
