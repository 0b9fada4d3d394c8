#include "science/check_character.h"

#include <string.h>

/* Codes of the shapes Bedlog uses; every single wrong character is found. */
static void
test_single_errors (void)
{
  static const char alphabet[] = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ";
  const char *codes[] = { "26A-017", "L260518-1", "31Z-1204" };

  for (gsize i = 0; i < G_N_ELEMENTS (codes); i++)
    {
      g_autofree char *whole = g_strdup_printf ("%s-%c", codes[i], bed_check_character (codes[i]));
      g_assert_true (bed_check_character_valid (whole));
      for (gsize at = 0; whole[at]; at++)
        for (const char *c = alphabet; *c && whole[at] != '-'; c++)
          {
            g_autofree char *wrong = g_strdup (whole);
            wrong[at] = *c;
            g_assert_cmpint (bed_check_character_valid (wrong), ==, *c == whole[at]);
          }
    }
}

static void
test_form (void)
{
  g_assert_cmpint ((guchar) bed_check_character ("26a017"), ==,
                   (guchar) bed_check_character ("26A-017"));
  g_assert_cmpint ((guchar) bed_check_character (""), ==, 0);
  g_assert_cmpint ((guchar) bed_check_character ("-"), ==, 0);
  g_assert_cmpint ((guchar) bed_check_character ("26Å"), ==, 0);
  g_assert_false (bed_check_character_valid ("K"));
  g_assert_false (bed_check_character_valid ("26A-0*7-K"));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/check-character/single-errors", test_single_errors);
  g_test_add_func ("/check-character/form", test_form);
  return g_test_run ();
}
