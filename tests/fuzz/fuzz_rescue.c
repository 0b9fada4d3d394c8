/* A farm file with bytes changed, as fuzz_farm.c changes them, rescued: it ends, and what it
 * makes opens and has sound pages and references. */
#include <glib/gstdio.h>

#include "fuzz.h"
#include "fuzz_farm.h"
#include "model/check/check.h"
#include "model/check/rescue.h"

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  gsize length;
  g_autofree char *bytes = fuzz_farm_dup_changed (data, size, &length);
  g_autofree char *damaged = fuzz_write ("damaged.bedlog", bytes, length);
  g_autofree char *saved = g_build_filename (fuzz_folder (), "saved.bedlog", NULL);
  g_autoptr (GError) error = NULL;

  g_unlink (saved);
  g_autoptr (BedRescue) rescue = bed_rescue_farm (damaged, saved, &error);
  if (!rescue)
    {
      fuzz_assert_said (error);
      return 0;
    }
  g_autoptr (BedFarm) farm = bed_farm_open (saved, &error);
  g_assert_no_error (error);
  g_autoptr (BedCheckup) checkup = bed_check_farm (farm, BED_CHECK_USUAL, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (checkup->faults[BED_CHECK_PAGES]->len, ==, 0);
  g_assert_cmpuint (checkup->faults[BED_CHECK_REFERENCES]->len, ==, 0);
  g_assert_cmpuint (checkup->faults[BED_CHECK_HISTORY]->len, ==, 0);
  return 0;
}
