/* What is printed at the foot of a page, read back as a spreadsheet reads it. */
#include "report_test.h"

#include <sqlite3.h>

static void
expect_foot (Farm *farm, const char *name, const char *foot)
{
  g_autoptr (BedRecord) settings = bed_record_copy (bed_farm_get_settings (farm->farm));

  bed_record_set_text (settings, "name", name);
  scene_add (farm->farm, g_steal_pointer (&settings));
  farm_write (farm, 2026);
  farm_check ("foot", farm->book, foot, NULL);
  farm_check ("opens", farm->book, NULL);
}

static char *
dup_times (const char *what, guint n)
{
  GString *text = g_string_new (NULL);

  while (n-- > 0)
    g_string_append (text, what);
  return g_string_free (text, FALSE);
}

static void
test_foot (void)
{
  static const char *const names[]
      = { "100 Acre & Sons", "&P",       "&&",    "7 Oaks",
          "5&\"Arial\"7",    "Oaks & 7", "&Land", "\"Quote\", &K00FF00 red" };
  static const char *const letters[] = { "W", "&", "\303\244", "\360\237\215\204" };
  g_autoptr (Farm) farm = farm_new_empty ("metric");

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *foot = g_strconcat (names[i], ", season 2026", NULL);

      expect_foot (farm, names[i], foot);
    }
  for (guint i = 0; i < G_N_ELEMENTS (letters); i++)
    {
      g_autofree char *whole = dup_times (letters[i], 80);
      g_autofree char *cut = dup_times (letters[i], 59);
      g_autofree char *foot = g_strconcat (cut, "\342\200\246, season 2026", NULL);

      expect_foot (farm, whole, foot);
    }
}

/* A strange file: bytes that are no text, where a name's length was counted. */
static void
test_foot_of_bytes (void)
{
  g_autoptr (Farm) farm = farm_new_empty ("metric");
  g_autoptr (GError) error = NULL;
  sqlite3 *db;

  g_clear_object (&farm->farm);
  g_assert_cmpint (sqlite3_open (farm->path, &db), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (db,
                                 "UPDATE farm SET name = cast (x'4f616bf0' AS TEXT),"
                                 " currency = ''",
                                 NULL, NULL, NULL),
                   ==, SQLITE_OK);
  sqlite3_close (db);
  farm->farm = bed_farm_open (farm->path, &error);
  g_assert_no_error (error);
  bed_farm_fix_clock (farm->farm, "2026-12-01T12:00", 3);
  farm_write (farm, 2026);
  farm_check ("foot", farm->book, "Oak\357\277\275, season 2026", NULL);
  farm_check ("opens", farm->book, NULL);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/report/foot/names", test_foot);
  g_test_add_func ("/report/foot/bytes", test_foot_of_bytes);
  return g_test_run ();
}
