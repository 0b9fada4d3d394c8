#include "app/desk/settings.h"

/* What one printing leaves is what the next begins with, sheet by sheet. */
static void
test_sheets (void)
{
  double right, down;
  g_autofree char *tags = NULL;
  g_autofree char *crates = NULL;

  g_assert_null (bed_settings_dup_sheet ("tags"));
  g_assert_cmpuint (bed_settings_get_start ("letter-3x10"), ==, 1);
  bed_settings_get_offsets ("letter-3x10", &right, &down);
  g_assert_cmpfloat (right, ==, 0);

  bed_settings_set_sheet ("tags", "a4-3x8");
  bed_settings_set_sheet ("crates", "a4-2x7");
  bed_settings_set_sheet ("tags", "letter-3x10");
  bed_settings_set_offsets ("letter-3x10", 1.5, -0.5);
  bed_settings_set_start ("letter-3x10", 13);
  bed_settings_set_offsets ("a4-2x7", 0.25, 2);
  bed_settings_set_start ("a4-2x7", 5);
  bed_settings_set_start ("a4-2x7", 6);

  tags = bed_settings_dup_sheet ("tags");
  crates = bed_settings_dup_sheet ("crates");
  g_assert_cmpstr (tags, ==, "letter-3x10");
  g_assert_cmpstr (crates, ==, "a4-2x7");
  bed_settings_get_offsets ("letter-3x10", &right, &down);
  g_assert_cmpfloat (right, ==, 1.5);
  g_assert_cmpfloat (down, ==, -0.5);
  bed_settings_get_offsets ("a4-2x7", &right, &down);
  g_assert_cmpfloat (right, ==, 0.25);
  g_assert_cmpuint (bed_settings_get_start ("letter-3x10"), ==, 13);
  g_assert_cmpuint (bed_settings_get_start ("a4-2x7"), ==, 6);
  g_assert_cmpuint (bed_settings_get_start ("never"), ==, 1);
}

/* What the colours of the yard said last. */
static void
test_colours (void)
{
  g_autofree char *before = bed_settings_dup_yard_colours ();

  g_assert_cmpstr (before, ==, "");
  bed_settings_set_yard_colours ("moisture");
  g_autofree char *after = bed_settings_dup_yard_colours ();
  g_assert_cmpstr (after, ==, "moisture");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/settings/sheets", test_sheets);
  g_test_add_func ("/settings/colours", test_colours);
  return g_test_run ();
}
