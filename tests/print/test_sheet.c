#include "print/page/sheet.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#define HEAD                                                                                       \
  "key,paper,unit,page_width,page_height,columns,rows,label_width,label_height,"                   \
  "pitch_x,pitch_y,left,top\n"

static void
check_refused (const char *line, const char *why)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *csv = g_strconcat (HEAD, line, NULL);
  g_autoptr (GPtrArray) sheets = bed_sheet_list_parse (csv, &error);

  g_assert_null (sheets);
  g_assert_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_SHEET);
  if (!strstr (error->message, why))
    g_error ("“%s” does not say “%s”", error->message, why);
}

/* Every given sheet is one, and its last label ends on the page. */
static void
test_given (void)
{
  g_autoptr (GPtrArray) sheets = bed_sheet_list_new ();
  g_autoptr (GHashTable) keys = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (GHashTable) names = g_hash_table_new (g_str_hash, g_str_equal);

  g_assert_cmpuint (sheets->len, >=, 20);
  for (guint i = 0; i < sheets->len; i++)
    {
      const BedSheet *sheet = sheets->pdata[i];
      BedPaper paper = bed_sheet_get_paper (sheet);
      BedBox last = bed_sheet_get_label_box (sheet, NULL, sheet->columns * sheet->rows - 1);

      g_assert_true (g_hash_table_add (keys, sheet->key));
      g_assert_true (g_hash_table_add (names, sheet->name));
      g_assert_cmpfloat (last.x + last.width, <=, paper.width + 0.05);
      g_assert_cmpfloat (last.y + last.height, <=, paper.height + 0.05);
    }
}

/* The corners of two sheets, worked out by hand from the dimensions in data/label-sheets.csv. */
static void
test_places (void)
{
  g_autoptr (GPtrArray) sheets = bed_sheet_list_new ();
  const BedSheet *letter = bed_sheet_list_find (sheets, "LETTER-3x10", NULL);
  const BedSheet *a4 = bed_sheet_list_find (sheets, "a4-3x7", NULL);
  BedBox box = bed_sheet_get_label_box (letter, NULL, 4);

  g_assert_cmpstr (letter->name, ==, "Letter, 3 × 10, 2.625 × 1 in");
  g_assert_cmpfloat_with_epsilon (box.x, (0.1875 + 2.75) * 72, 1e-6);
  g_assert_cmpfloat_with_epsilon (box.y, 1.5 * 72, 1e-6);
  g_assert_cmpfloat_with_epsilon (box.width, 2.625 * 72, 1e-6);
  box = bed_sheet_get_label_box (a4, &(BedSheetPlace){ 21, 1, -2 }, 0);
  g_assert_cmpfloat_with_epsilon (box.x, (7.2 + 2 * 66.04 + 1) * BED_POINTS_PER_MM, 1e-6);
  g_assert_cmpfloat_with_epsilon (box.y, (15.15 + 6 * 38.1 - 2) * BED_POINTS_PER_MM, 1e-6);
  /* One after the last of the sheet is the first of the next. */
  box = bed_sheet_get_label_box (a4, &(BedSheetPlace){ 21, 0, 0 }, 1);
  g_assert_cmpfloat_with_epsilon (box.x, 7.2 * BED_POINTS_PER_MM, 1e-6);
}

/* Against counting them out one by one. */
static void
test_pages (void)
{
  g_autoptr (GPtrArray) sheets = bed_sheet_list_new ();
  const BedSheet *sheet = bed_sheet_list_find (sheets, "a4-2x7", NULL);

  for (guint start = 1; start <= 14; start++)
    for (guint n = 1; n <= 40; n++)
      {
        const BedSheetPlace place = { start, 0, 0 };
        guint page = 0, slot = start - 1;

        for (guint label = 0; label < n; label++)
          {
            guint first, end;

            if (slot == 14)
              page++, slot = 0;
            bed_sheet_get_page_range (sheet, &place, page, n, &first, &end);
            g_assert_true (label >= first && label < end);
            slot++;
          }
        g_assert_cmpuint (bed_sheet_get_n_pages (sheet, &place, n), ==, page + 1);
        /* What is printed next follows on the same sheet, or begins one. */
        BedSheetPlace next = { .start = bed_sheet_get_next_start (sheet, &place, n) };
        BedBox after = bed_sheet_get_label_box (sheet, &next, 0);
        BedBox wanted
            = bed_sheet_get_label_box (sheet, &(BedSheetPlace){ .start = place.start }, n);
        g_assert_cmpfloat (after.x, ==, wanted.x);
        g_assert_cmpfloat (after.y, ==, wanted.y);
      }
}

static void
test_refusals (void)
{
  /* 15.9 + 15.9 + 7 * 38.1 = 298.5 > 297: a published template that does not add up. */
  check_refused ("a,A4,mm,210,297,3,7,63.5,38.1,66.04,38.1,7.2,15.9", "298.50 mm");
  check_refused ("a,A4,mm,210,297,4,7,63.5,38.1,66.04,38.1,7.2,15.15", "Line 2");
  check_refused ("a,A4,mm,210,297,3,7,63.5,38.1,60,38.1,7.2,15.15", "overlap");
  check_refused ("a,A4,mm,210,297,0,7,63.5,38.1,66.04,38.1,7.2,15.15", "columns");
  check_refused ("a,A4,mm,210,297,3,7.5,63.5,38.1,66.04,38.1,7.2,15.15", "rows");
  check_refused ("a,A4,mm,210,297,3,7,5,38.1,66.04,38.1,7.2,15.15", "10 mm");
  check_refused ("a,A4,mm,210,297,3,7,63.5,38.1,66.04,38.1,-1,15.15", "below 0");
  check_refused ("a,A4,cm,210,297,3,7,63.5,38.1,66.04,38.1,7.2,15.15", "unit");
  check_refused ("a,A4,mm,210,297,3,7,63.5,38.1,66.04,38.1,7.2,nan", "top");
  check_refused ("a,A4,mm,210,297,3,7,63.5,38.1,66.04,38.1,7.2,12 mm", "top");
  check_refused ("a,A4,mm,210,297,3,7", "7 columns");
}

static void
test_refused_head (void)
{
  g_autoptr (GError) error = NULL;

  g_assert_null (bed_sheet_list_parse ("", &error));
  g_assert_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_SHEET);
  g_clear_error (&error);
  g_assert_null (bed_sheet_list_parse ("a,b,c,d,e,f,g,h,i,j,k,l,m\n", &error));
  g_assert_nonnull (strstr (error->message, "“key”"));
}

static void
test_refused_place (void)
{
  g_autoptr (GPtrArray) sheets = bed_sheet_list_new ();
  g_autoptr (GError) error = NULL;
  const BedSheet *sheet = bed_sheet_list_find (sheets, "a4-2x7", NULL);
  const BedSheetPlace wrong[] = { { 15, 0, 0 }, { 1, 20.5, 0 }, { 1, 0, -21 }, { 1, NAN, 0 } };

  g_assert_true (bed_sheet_check_place (sheet, &(BedSheetPlace){ 14, -20, 20 }, NULL));
  for (gsize i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      g_assert_false (bed_sheet_check_place (sheet, &wrong[i], &error));
      g_assert_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_SHEET);
      g_clear_error (&error);
    }
  g_assert_null (bed_sheet_list_find (sheets, "a4-9x9", &error));
  g_assert_nonnull (strstr (error->message, "a4-2x7"));
}

/* One more label than fits, in either direction, is refused; as many as fit are not. */
static void
test_limit (void)
{
  for (guint n = 1; n <= 30; n++)
    {
      BedSheet sheet = { NULL, (char *) "x", 200, 200, n, 1, 20, 20, 25, 25, 10, 10 };
      gboolean fits = 2 * 10 + (n - 1) * 25.0 + 20 <= 200;

      g_assert_cmpint (bed_sheet_check (&sheet, NULL), ==, fits);
      sheet.columns = 1;
      sheet.rows = n;
      g_assert_cmpint (bed_sheet_check (&sheet, NULL), ==, fits);
    }
}

/* The user's own sheets: kept in the units typed, the same measures read back, numbered on. */
static void
test_own (void)
{
  g_autofree char *folder = g_dir_make_tmp ("bedlog-XXXXXX", NULL);
  g_autofree char *below = g_build_filename (folder, "bedlog", NULL);
  g_autofree char *path = g_build_filename (below, "label-sheets.csv", NULL);
  BedSheet metric
      = { NULL, (char *) "Farm shop", 210, 297, 3, 7, 63.5, 38.1, 66.04, 38.1, 7.2, 15.15 };
  BedSheet us
      = { NULL, (char *) "Crates", 215.9, 279.4, 2, 5, 101.6, 50.8, 106.3625, 50.8, 4.1275, 12.7 };
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) given = bed_sheet_list_new ();
  g_autoptr (GPtrArray) none = bed_sheet_list_new_with (path, &error);
  g_autofree char *first = bed_sheet_own_add (path, &metric, BED_SYSTEM_METRIC, &error);
  g_autofree char *second = bed_sheet_own_add (path, &us, BED_SYSTEM_US, &error);
  g_autoptr (GPtrArray) sheets = bed_sheet_list_new_with (path, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (none->len, ==, given->len);
  g_assert_cmpuint (sheets->len, ==, given->len + 2);
  g_assert_cmpstr (first, ==, "own-1");
  g_assert_cmpstr (second, ==, "own-2");
  const BedSheet *back = bed_sheet_list_find (sheets, "own-2", &error);
  g_assert_no_error (error);
  g_assert_cmpstr (back->name, ==, "Crates, 2 × 5, 4 × 2 in");
  g_assert_cmpfloat_with_epsilon (back->pitch_x, us.pitch_x, 1e-4);
  g_assert_cmpfloat_with_epsilon (back->left, us.left, 1e-4);
  back = bed_sheet_list_find (sheets, "own-1", &error);
  g_assert_cmpfloat_with_epsilon (back->pitch_x, 66.04, 1e-9);
  g_unlink (path);
  g_rmdir (below);
  g_rmdir (folder);
}

/* What cannot be a sheet is not kept, and a file that cannot be read is left as it is. */
static void
test_own_refused (void)
{
  g_autofree char *folder = g_dir_make_tmp ("bedlog-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "label-sheets.csv", NULL);
  BedSheet sheet = { NULL, (char *) "Mine", 210, 297, 3, 7, 63.5, 38.1, 66.04, 38.1, 7.2, 15.15 };
  const char *names[] = { "", "  ", "a,b", "a\"b", "a\nb" };
  g_autofree char *kept = NULL;

  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autoptr (GError) error = NULL;

      sheet.name = (char *) names[i];
      g_assert_null (bed_sheet_own_add (path, &sheet, BED_SYSTEM_METRIC, &error));
      g_assert_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_SHEET);
    }
  sheet.name = (char *) "Mine";
  sheet.columns = 4;
  g_autoptr (GError) wide = NULL;
  g_assert_null (bed_sheet_own_add (path, &sheet, BED_SYSTEM_METRIC, &wide));
  g_assert_error (wide, BED_PRINT_ERROR, BED_PRINT_ERROR_SHEET);
  g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));

  g_autoptr (GError) error = NULL;
  sheet.columns = 3;
  g_file_set_contents (path, "not a list", -1, NULL);
  g_assert_null (bed_sheet_own_add (path, &sheet, BED_SYSTEM_METRIC, &error));
  g_assert_nonnull (strstr (error->message, path));
  g_assert_null (bed_sheet_list_new_with (path, NULL));
  g_file_get_contents (path, &kept, NULL, NULL);
  g_assert_cmpstr (kept, ==, "not a list");
  g_unlink (path);
  g_rmdir (folder);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/sheet/given", test_given);
  g_test_add_func ("/sheet/places", test_places);
  g_test_add_func ("/sheet/pages", test_pages);
  g_test_add_func ("/sheet/refusals", test_refusals);
  g_test_add_func ("/sheet/refused-head", test_refused_head);
  g_test_add_func ("/sheet/refused-place", test_refused_place);
  g_test_add_func ("/sheet/limit", test_limit);
  g_test_add_func ("/sheet/own", test_own);
  g_test_add_func ("/sheet/own-refused", test_own_refused);
  return g_test_run ();
}
