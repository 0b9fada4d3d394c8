/* A farm in whose texts another hand wrote bytes that are no UTF-8: every page, form and detail
 * shows it. Warnings of Pango and GTK are fatal here. */
#include "app_test.h"

#include <glib/gstdio.h>
#include <sqlite3.h>

#include "app/window/window.h"
#include "model/demo/demo.h"
#include "model/farm/kinds.h"

static const char *const page_names[]
    = { "week", "woodlot", "batches", "yard", "soaking", "picking", "money", "season", "history" };

/* A byte that begins nothing, and a beginning without an end. */
static char *
dup_sql (BedKind kind, const BedField *field)
{
  const char *table = bed_kind_get_info (kind)->name;

  return field->type == BED_FIELD_CHOICE
             ? g_strdup_printf ("UPDATE \"%s\" SET \"%s\" = cast (x'fff0' AS TEXT)"
                                " WHERE id %% 7 = 0 AND \"%s\" IS NOT NULL",
                                table, field->name, field->name)
             : g_strdup_printf ("UPDATE \"%s\" SET \"%s\" = coalesce (\"%s\", '')"
                                " || cast (x'20ff20' AS TEXT) || id || cast (x'f09f' AS TEXT)",
                                table, field->name, field->name);
}

static gboolean
takes_bytes (BedKind kind, const BedField *field)
{
  /* Read as numbers, not shown. */
  if (g_str_equal (field->name, "outline") || g_str_equal (field->name, "season_start"))
    return FALSE;
  return field->type == BED_FIELD_TEXT || field->type == BED_FIELD_NOTE
         || (field->type == BED_FIELD_CHOICE && kind != BED_KIND_FARM);
}

static void
spoil (const char *path)
{
  sqlite3 *db;

  g_assert_cmpint (sqlite3_open (path, &db), ==, SQLITE_OK);
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    for (guint f = 0; f < bed_kind_get_info (kind)->n_fields; f++)
      {
        const BedField *field = &bed_kind_get_info (kind)->fields[f];
        g_autofree char *sql = takes_bytes (kind, field) ? dup_sql (kind, field) : NULL;

        if (sql)
          g_assert_cmpint (sqlite3_exec (db, sql, NULL, NULL, NULL), ==, SQLITE_OK);
      }
  g_assert_cmpint (sqlite3_exec (db,
                                 "UPDATE change SET sentence = sentence || cast (x'ff' AS TEXT),"
                                 " who = cast (x'e2' AS TEXT)",
                                 NULL, NULL, NULL),
                   ==, SQLITE_OK);
  sqlite3_close (db);
}

static void
test_pages (void)
{
  g_autofree char *folder = g_dir_make_tmp ("bedlog-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "farm.bedlog", NULL);
  g_autoptr (GError) error = NULL;
  const BedDemoPlan plan = { .logs = 60, .years = 3, .today = "2026-07-14" };
  g_autoptr (BedFarm) farm = bed_demo_new (path, &plan, &error);

  g_assert_no_error (error);
  g_clear_object (&farm);
  spoil (path);
  farm = bed_farm_open (path, &error);
  g_assert_no_error (error);
  bed_farm_fix_clock (farm, "2026-07-14T09:00", 3);
  BedWindow *window = g_object_new (BED_TYPE_WINDOW, NULL);
  gtk_window_present (GTK_WINDOW (window));
  bed_window_set_farm (window, farm);
  for (guint i = 0; i < G_N_ELEMENTS (page_names); i++)
    {
      g_test_message ("%s", page_names[i]);
      g_assert_true (bed_window_show_page (window, page_names[i]));
      app_settle (300);
      gtk_widget_activate_action (GTK_WIDGET (window), "win.add", NULL);
      app_settle (100);
    }
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
  g_clear_object (&farm);
  g_unlink (path);
  g_rmdir (folder);
}

int
main (int argc, char *argv[])
{
  gtk_test_init (&argc, &argv, NULL);
  app_begin ();
  g_test_add_func ("/strange-bytes/pages", test_pages);
  return g_test_run ();
}
