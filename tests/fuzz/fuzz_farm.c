/* A farm file with bytes changed (fuzz_farm_dup_changed): it opens and answers, or is refused
 * with a sentence. */
#include "fuzz_farm.h"
#include "fuzz.h"
#include "model/check/check.h"
#include "model/csv/csv.h"
#include "model/farm/history.h"
#include "model/farm/query.h"

/* Everything that reads: it may fail, and may not crash. */
static void
ask (BedFarm *farm)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BedCheckup) checkup = bed_check_farm (farm, BED_CHECK_ALL, NULL, &error);
  g_autoptr (GPtrArray) changes = bed_history_list (farm, 3, NULL);
  g_autofree char *csv = g_build_filename (fuzz_folder (), "out.csv", NULL);

  g_assert_true (checkup || error);
  for (guint i = 0; changes && i < changes->len; i++)
    {
      g_autoptr (GPtrArray) differences
          = bed_history_differences (farm, ((BedChange *) changes->pdata[i])->id);
      g_assert_nonnull (differences);
    }
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    {
      g_autoptr (GError) why = NULL;
      if (bed_csv_export (farm, kind, csv, &why) < 0)
        fuzz_assert_said (why);
    }
  g_autoptr (GError) why = NULL;
  if (!bed_history_undo (farm, NULL, &why))
    fuzz_assert_said (why);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  gsize kept;
  g_autofree char *bytes = fuzz_farm_dup_changed (data, size, &kept);
  g_autofree char *path = fuzz_write ("changed.bedlog", bytes, kept);
  g_autoptr (GError) error = NULL;

  g_autoptr (BedFarm) farm = bed_farm_open (path, &error);
  if (farm)
    ask (farm);
  else
    fuzz_assert_said (error);
  return 0;
}
