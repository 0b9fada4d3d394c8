/* ISO/IEC 7064:2003, MOD 37,36. Example value as published in the test suite of
 * A. de Jong, python-stdnum, module iso7064 (seen). */
#include "science/check_character.h"

static void
test_mod_37_36 (void)
{
  g_assert_cmpint ((guchar) bed_check_character ("A12425GABC1234002"), ==, 'M');
  g_assert_true (bed_check_character_valid ("A12425GABC1234002M"));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/iso7064/mod-37-36", test_mod_37_36);
  return g_test_run ();
}
