#include "report_test.h"

#include "model/farm/functions.h"

#include <errno.h>
#include <glib/gstdio.h>
#include <locale.h>
#include <signal.h>
#include <string.h>
#include <sys/resource.h>

/* The beginning of an older workbook: the name of its first file stands at the 30th byte. */
#define OLD_BOOK "PK\3\4zzzzzzzzzzzzzzzzzzzzzzzzzz[Content_Types].xml the old one"

/* Helpers */

static GBytes *
read_book (Farm *farm)
{
  char *contents;
  gsize length;
  g_autoptr (GError) error = NULL;

  g_file_get_contents (farm->book, &contents, &length, &error);
  g_assert_no_error (error);
  return g_bytes_new_take (contents, length);
}

/* Workbooks that the last test has recalculated elsewhere, all in one go: programs take longer to
 * begin than to reckon. */
static char *sound;

static void
expect_sound (Farm *farm, int season)
{
  static guint n = 0;
  g_autofree char *kept = g_strdup_printf ("%s/%02u.xlsx", sound, ++n);
  g_autoptr (GBytes) bytes = NULL;
  gsize length;

  farm_write (farm, season);
  bytes = read_book (farm);
  const char *data = g_bytes_get_data (bytes, &length);
  g_assert_true (g_file_set_contents (kept, data, length, NULL));
}

/* Every formula, worked out anew, is there and comes to what was cached. */
static void
test_elsewhere (void)
{
  static const char *const programs[] = { "libreoffice", "gnumeric" };

  farm_check ("opens", sound, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (programs); i++)
    {
      g_autofree char *again = g_strconcat (sound, "-", programs[i], NULL);

      farm_run (REPORT_TESTS "/recalculate.sh", sound, again, programs[i], NULL);
      farm_check ("same", sound, again, NULL);
      farm_run ("rm", "-r", again, NULL);
    }
}

static void
retire_logs (Farm *farm)
{
  g_autoptr (BedQuery) q = bed_query_new (farm->farm, "SELECT id FROM log ORDER BY code LIMIT 6");
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (gint64));

  while (bed_query_next (q))
    {
      gint64 id = bed_query_int (q, 0);

      g_array_append_val (ids, id);
    }
  for (guint i = 0; i < ids->len; i++)
    {
      g_autoptr (BedRecord) log
          = bed_farm_load (farm->farm, BED_KIND_LOG, g_array_index (ids, gint64, i), NULL);

      bed_record_set_text (log, "retired_on", i < 3 ? "2026-08-01" : "2026-11-01");
      bed_record_set_text (log, "retired_why", "spent");
      scene_add (farm->farm, g_steal_pointer (&log));
    }
}

/* Tests: seasons */

/* Of every method, in all years of their lives and after. */
static void
add_tools (Farm *farm)
{
  static const char *const methods[]
      = { NULL, "straight line", "declining 150", "declining 200", "years' digits" };
  static const int lives[] = { 1, 2, 3, 5, 10, 40 };
  g_autoptr (BedEdit) edit = bed_edit_new (farm->farm);
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < 120; i++)
    {
      g_autofree char *bought = g_strdup_printf ("%d-03-01", 2026 - (int) (i % 12));
      g_autofree char *what = g_strdup_printf ("tool %u", i);
      g_autoptr (BedRecord) tool
          = scene_record (farm->farm, BED_KIND_EQUIPMENT, "what", what, "bought_on", bought, NULL);

      bed_record_set_text (tool, "method", methods[i % 5]);
      bed_record_set_int (tool, "price", i * 7919);
      bed_record_set_int (tool, "salvage", i * 331 * (i % 2));
      bed_record_set_int (tool, "life_years", lives[i / 5 % 6]);
      bed_record_set_int (tool, "share", 10000 - i * 37);
      bed_edit_put (edit, tool);
    }
  bed_edit_commit (edit, "Bought tools", &error);
  g_assert_no_error (error);
}

static void
test_tools (void)
{
  g_autoptr (Farm) farm = farm_new ("metric");

  add_tools (farm);

  expect_sound (farm, 2026);
}

/* --- totals ------------------------------------------------------------------------------ */

/* Each pick is a total of a month, each log is only counted. */
static void
forget_days (Farm *farm)
{
  g_autoptr (BedEdit) edit = bed_edit_new (farm->farm);
  g_autoptr (BedQuery) picks = bed_query_new (
      farm->farm, "SELECT id, date (picked_on, '-30 days') FROM pick WHERE picked_on > '2026'");
  g_autoptr (BedQuery) logs = bed_query_new (farm->farm, "SELECT id FROM log");
  g_autoptr (GError) error = NULL;

  while (bed_query_next (picks))
    {
      g_autoptr (BedRecord) pick
          = bed_farm_load (farm->farm, BED_KIND_PICK, bed_query_int (picks, 0), NULL);
      bed_record_set_text (pick, "since", bed_query_text (picks, 1));
      bed_edit_put (edit, pick);
    }
  while (bed_query_next (logs))
    {
      g_autoptr (BedRecord) log
          = bed_farm_load (farm->farm, BED_KIND_LOG, bed_query_int (logs, 0), NULL);
      bed_record_set_text (log, "counted", "yes");
      bed_edit_put (edit, log);
    }
  g_assert_true (bed_query_finish (picks, NULL) && bed_query_finish (logs, NULL));
  bed_edit_commit (edit, "Forgot the days", &error);
  g_assert_no_error (error);
}

static char *
dup_cells (Farm *farm)
{
  static const char *const names[] = { "figure_picked",
                                       "figure_picked_per_log",
                                       "figure_cost_per_log",
                                       "figure_cost_per_kg",
                                       "figure_logs_in_season",
                                       "Logs_own",
                                       "Logs_share",
                                       "Logs_in_all",
                                       "Batches_mass",
                                       "Costs_mass",
                                       "Picks_mass",
                                       "Lots_mass",
                                       "figure_expected_next" };
  GString *cells = g_string_new (NULL);

  farm_write (farm, 2026);
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    g_string_append_printf (cells, "%s: %s\n", names[i],
                            farm_check ("values", farm->book, names[i], NULL));
  return g_string_free (cells, FALSE);
}

/* All sums are the same, but for those of weeks, which have none of it. */
static void
test_totals (void)
{
  g_autoptr (Farm) farm = farm_new ("metric");
  g_autofree char *days = dup_cells (farm);

  farm_check ("figures", farm->book, "figure_without_week=0/0", NULL);
  forget_days (farm);
  g_autofree char *totals = dup_cells (farm);
  g_assert_cmpstr (days, ==, totals);
  farm_check ("figures", farm->book, "figure_without_week=3.657/0.0000001",
              "figure_picked=3.657/0.0000001", NULL);
  g_assert_null (strpbrk (farm_check ("values", farm->book, "Weeks_mass", NULL), "123456789"));
}

/* A season from October to September, its weeks in two years. */
static void
test_autumn (void)
{
  g_autoptr (Farm) farm = farm_new ("metric");
  g_autoptr (BedRecord) settings = bed_record_copy (bed_farm_get_settings (farm->farm));

  bed_record_set_text (settings, "season_start", "10-01");
  scene_add (farm->farm, g_steal_pointer (&settings));
  g_assert_cmpint (bed_workbook_season (farm->farm, NULL), ==, 2026);
  expect_sound (farm, 2025);
  farm_check ("figures", farm->book, "figure_picked=3.657/0.0000001", "figure_logs_in_season=16/0",
              "Season=2025/0", NULL);
  /* Named as the desk names it. */
  g_autofree char *name = bed_season_dup_name (farm->farm, 2025);
  g_autofree char *title = g_strdup_printf (
      "Summary · %s %s", bed_record_get_text (bed_farm_get_settings (farm->farm), "name"), name);
  g_assert_nonnull (strchr (name, '/'));
  farm_check ("text", farm->book, title, NULL);
}

/* Two logs in their third season, picks and costs in all three. */
static void
test_other_seasons (void)
{
  g_autoptr (Farm) farm = farm_new ("metric");

  expect_sound (farm, 2025);
  expect_sound (farm, 2024);
}

static void
test_nothing_yet (void)
{
  g_autoptr (Farm) farm = farm_new_empty ("metric");

  expect_sound (farm, 2026);
}

/* A season without picks, sales, hours: what is shared out has no logs of 2023 to carry it. */
static void
test_season_before (void)
{
  g_autoptr (Farm) farm = farm_new ("metric");

  expect_sound (farm, 2023);
  expect_sound (farm, 2015);
}

static void
test_retired (void)
{
  g_autoptr (Farm) farm = farm_new ("US");

  retire_logs (farm);
  expect_sound (farm, 2026);
  expect_sound (farm, 2027);
}

/* A currency without minor units, and costs that no batch can carry, then one of a single log. */
static void
test_yen (void)
{
  g_autoptr (Farm) farm = farm_new_empty ("metric");
  g_autoptr (BedRecord) settings = bed_record_copy (bed_farm_get_settings (farm->farm));

  bed_record_set_text (settings, "currency", "JPY");
  bed_record_set_int (settings, "labour_rate", 1100);
  scene_add (farm->farm, g_steal_pointer (&settings));
  scene_add (farm->farm,
             scene_record (farm->farm, BED_KIND_PURCHASE, "bought_on", "2026-03-01", "category",
                           "yard", "what", "cloth", "amount", "12345", "scope", "yard", NULL));
  scene_add (farm->farm, scene_record (farm->farm, BED_KIND_HOURS, "worked_on", "2026-03-01",
                                       "task", "hauling", "minutes", "1 h 23 min", NULL));
  expect_sound (farm, 2026);
  scene_batch (farm->farm, 1);
  expect_sound (farm, 2026);
}

/* Tests: the file */

static void
test_text (void)
{
  g_autoptr (Farm) farm = farm_new ("metric");

  farm_write (farm, 2026);
  farm_check ("text", farm->book, "=HYPERLINK(\"x\")", "@sum", "-1", "=1+2", "+3",
              "@the corner table", "=cmd", "-we", NULL);
}

static void
test_same_bytes (void)
{
  g_autoptr (Farm) farm = farm_new ("metric");
  g_autoptr (GBytes) once = NULL;
  g_autoptr (GBytes) twice = NULL;

  farm_write (farm, 2026);
  once = read_book (farm);
  farm_write (farm, 2026);
  twice = read_book (farm);
  g_assert_true (g_bytes_equal (once, twice));
}

/* Half of Europe writes 1,5. */
static void
test_comma_locale (void)
{
  g_autoptr (Farm) farm = farm_new ("metric");
  g_autoptr (GBytes) point = NULL;
  g_autoptr (GBytes) comma = NULL;

  farm_write (farm, 2026);
  point = read_book (farm);
  g_assert_nonnull (setlocale (LC_ALL, "de_DE.utf8"));
  g_assert_cmpstr (localeconv ()->decimal_point, ==, ",");
  farm_write (farm, 2026);
  g_assert_cmpstr (localeconv ()->decimal_point, ==, ",");
  setlocale (LC_ALL, "C");
  comma = read_book (farm);
  g_assert_true (g_bytes_equal (point, comma));
}

/* One black dot, by hand: signature, IHDR 1 x 1, IDAT, IEND. */
static const guint8 dot[] = {
  0x89, 'P',  'N',  'G',  '\r', '\n', 0x1a, '\n', 0,    0,    0,    13,  'I',  'H',  'D',  'R',  0,
  0,    0,    1,    0,    0,    0,    1,    8,    0,    0,    0,    0,   0x3a, 0x7e, 0x9b, 0x55, 0,
  0,    0,    10,   'I',  'D',  'A',  'T',  0x78, 0x9c, 0x63, 0x60, 0,   0,    0,    2,    0,    1,
  0x48, 0xaf, 0xa4, 0x71, 0,    0,    0,    0,    'I',  'E',  'N',  'D', 0xae, 0x42, 0x60, 0x82,
};

static GPtrArray *
get_maps (gpointer maps, GError **error)
{
  return maps;
}

static GPtrArray *
fail_maps (gpointer data, GError **error)
{
  g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_FAILED, "the yard cannot be drawn");
  return NULL;
}

/* Without its maps a file for the certifier is none. */
static void
test_no_maps (void)
{
  g_autoptr (Farm) farm = farm_new ("metric");
  BedWorkbookPlan plan = { .season = 2026, .path = farm->book, .yard_maps = fail_maps };
  g_autoptr (GError) error = NULL;

  g_assert_false (bed_workbook_write (farm->farm, &plan, &error));
  g_assert_cmpstr (error->message, ==, "the yard cannot be drawn");
  g_assert_false (g_file_test (farm->book, G_FILE_TEST_EXISTS));
}

static void
test_maps (void)
{
  g_autoptr (Farm) farm = farm_new ("metric");
  g_autoptr (GPtrArray) maps = g_ptr_array_new_with_free_func ((GDestroyNotify) g_bytes_unref);
  BedWorkbookPlan plan
      = { .season = 2026, .path = farm->book, .yard_maps = get_maps, .yard_maps_data = maps };
  g_autoptr (GError) error = NULL;

  g_ptr_array_add (maps, g_bytes_new_static (dot, sizeof dot));
  g_assert_true (bed_workbook_write (farm->farm, &plan, &error));
  g_assert_no_error (error);
  farm_check ("opens", farm->book, NULL);
  g_assert_cmpstr (farm_check ("media", farm->book, NULL), ==, "67");
}

/* A sheet on one page where it says so, its charts and maps whole, no title cut by a column. */
static void
test_pages (void)
{
  g_autoptr (Farm) farm = farm_new_demo ();
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) maps = g_ptr_array_new_with_free_func ((GDestroyNotify) g_bytes_unref);
  BedWorkbookPlan plan
      = { .season = 2026, .path = farm->book, .yard_maps = get_maps, .yard_maps_data = maps };

  g_ptr_array_add (maps, g_bytes_new_static (dot, sizeof dot));
  g_ptr_array_add (maps, g_bytes_new_static (dot, sizeof dot));
  g_assert_true (bed_workbook_write (farm->farm, &plan, &error));
  g_assert_no_error (error);
#define EXPECT_PAGE(...) farm_check ("page", farm->book, __VA_ARGS__, NULL)
  EXPECT_PAGE ("Summary", "W=1", "H=1", "inside=yes");
  EXPECT_PAGE ("Next season", "W=1", "H=1", "inside=yes");
  EXPECT_PAGE ("Survival", "W=1", "H=1", "inside=yes", "top=1");
  EXPECT_PAGE ("Weeks", "W=1", "H=1", "inside=yes");
  EXPECT_PAGE ("Wood x strain", "W=1", "inside=yes", "rotation=0");
  EXPECT_PAGE ("Batches", "W=1");
  EXPECT_PAGE ("Traceability", "W=1");
  EXPECT_PAGE ("Maps", "W=-", "breaks=1", "inside=yes");
#undef EXPECT_PAGE
}

/* Tests: what can go wrong */

static void
note_progress (double fraction, const char *doing, gpointer data)
{
  double *last = data;

  g_assert_cmpfloat (fraction, >=, *last);
  g_assert_cmpfloat (fraction, <=, 1);
  g_assert_nonnull (doing);
  *last = fraction;
}

static void
cancel_now (double fraction, const char *doing, gpointer data)
{
  g_cancellable_cancel (data);
}

static guint
count_files (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  guint n = 0;

  while (g_dir_read_name (dir))
    n++;
  return n;
}

static void
test_progress (void)
{
  g_autoptr (Farm) farm = farm_new ("metric");
  double last = 0;
  BedWorkbookPlan plan
      = { .season = 2026, .path = farm->book, .progress = note_progress, .progress_data = &last };
  g_autoptr (GError) error = NULL;

  g_assert_true (bed_workbook_write (farm->farm, &plan, &error));
  g_assert_cmpfloat (last, >, 0.2);
}

static void
test_cancel (void)
{
  g_autoptr (Farm) farm = farm_new ("metric");
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  BedWorkbookPlan plan = { .season = 2026,
                           .path = farm->book,
                           .cancellable = cancellable,
                           .progress = cancel_now,
                           .progress_data = cancellable };
  g_autoptr (GError) error = NULL;
  g_autofree char *kept = NULL;

  g_file_set_contents (farm->book, OLD_BOOK, -1, NULL);
  g_assert_false (bed_workbook_write (farm->farm, &plan, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_file_get_contents (farm->book, &kept, NULL, NULL);
  g_assert_cmpstr (kept, ==, OLD_BOOK);
  g_assert_cmpuint (count_files (farm->folder), ==, 2);
}

static gpointer
cancel_soon (gpointer data)
{
  g_usleep (1000);
  g_cancellable_cancel (data);
  return NULL;
}

/* The last thing told: from here on the library writes and asks nobody. */
static void
cancel_at_the_end (double fraction, const char *doing, gpointer data)
{
  GThread **thread = data;

  if (g_str_has_prefix (doing, "Putting"))
    *thread = g_thread_new ("cancel", cancel_soon, g_cancellable_get_current ());
}

static void
test_cancel_late (void)
{
  g_autoptr (Farm) farm = farm_new_demo ();
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  GThread *thread = NULL;
  BedWorkbookPlan plan = { .season = 2026,
                           .path = farm->book,
                           .cancellable = cancellable,
                           .progress = cancel_at_the_end,
                           .progress_data = &thread };
  g_autoptr (GError) error = NULL;
  g_autofree char *kept = NULL;

  g_file_set_contents (farm->book, OLD_BOOK, -1, NULL);
  g_cancellable_push_current (cancellable);
  g_assert_false (bed_workbook_write (farm->farm, &plan, &error));
  g_cancellable_pop_current (cancellable);
  g_assert_nonnull (thread);
  g_thread_join (thread);
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_file_get_contents (farm->book, &kept, NULL, NULL);
  g_assert_cmpstr (kept, ==, OLD_BOOK);
  g_assert_cmpuint (count_files (farm->folder), ==, 2);
}

static void
test_no_folder (void)
{
  g_autoptr (Farm) farm = farm_new_empty ("metric");
  const BedWorkbookPlan plan = { .season = 2026, .path = "/nonexistent/season.xlsx" };
  g_autoptr (GError) error = NULL;

  g_assert_false (bed_workbook_write (farm->farm, &plan, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_NOT_FOUND);
}

/* Files that may not grow stand for a full disk, at every size of it. */
static void
test_no_room (void)
{
  g_autoptr (Farm) farm = farm_new ("metric");
  const BedWorkbookPlan plan = { .season = 2026, .path = farm->book };
  struct rlimit before, small;

  signal (SIGXFSZ, SIG_IGN);
  getrlimit (RLIMIT_FSIZE, &before);
  small = before;
  g_file_set_contents (farm->book, OLD_BOOK, -1, NULL);
  for (small.rlim_cur = 512; small.rlim_cur <= 16384; small.rlim_cur *= 2)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *kept = NULL;

      setrlimit (RLIMIT_FSIZE, &small);
      gboolean written = bed_workbook_write (farm->farm, &plan, &error);
      setrlimit (RLIMIT_FSIZE, &before);
      g_assert_false (written);
      g_assert_error (error, G_IO_ERROR, (int) g_io_error_from_errno (EFBIG));
      g_file_get_contents (farm->book, &kept, NULL, NULL);
      g_assert_cmpstr (kept, ==, OLD_BOOK);
    }
  g_assert_cmpuint (count_files (farm->folder), ==, 2);
}

int
main (int argc, char **argv)
{
  int failed;

  sound = g_dir_make_tmp ("bedlog-books-XXXXXX", NULL);
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/report/workbook/tools", test_tools);
  g_test_add_func ("/report/workbook/totals", test_totals);
  g_test_add_func ("/report/workbook/other-seasons", test_other_seasons);
  g_test_add_func ("/report/workbook/autumn", test_autumn);
  g_test_add_func ("/report/workbook/nothing-yet", test_nothing_yet);
  g_test_add_func ("/report/workbook/season-before", test_season_before);
  g_test_add_func ("/report/workbook/retired", test_retired);
  g_test_add_func ("/report/workbook/yen", test_yen);
  g_test_add_func ("/report/workbook/text", test_text);
  g_test_add_func ("/report/workbook/same-bytes", test_same_bytes);
  g_test_add_func ("/report/workbook/comma-locale", test_comma_locale);
  g_test_add_func ("/report/workbook/maps", test_maps);
  g_test_add_func ("/report/workbook/no-maps", test_no_maps);
  g_test_add_func ("/report/workbook/pages", test_pages);
  g_test_add_func ("/report/workbook/progress", test_progress);
  g_test_add_func ("/report/workbook/cancel", test_cancel);
  g_test_add_func ("/report/workbook/cancel-late", test_cancel_late);
  g_test_add_func ("/report/workbook/no-folder", test_no_folder);
  g_test_add_func ("/report/workbook/no-room", test_no_room);
  g_test_add_func ("/report/workbook/elsewhere", test_elsewhere);
  failed = g_test_run ();
  farm_run ("rm", "-r", sound, NULL);
  g_free (sound);
  return failed;
}
