#include "fuzz.h"
#include "fuzz_farm.h"
#include "model/demo/demo.h"

BedFarm *
fuzz_farm_new (const char *name, int logs)
{
  const BedDemoPlan plan = { logs, 2, 1, "2026-07-14" };
  g_autofree char *path = g_build_filename (fuzz_folder (), name, NULL);
  g_autoptr (GError) error = NULL;
  BedFarm *farm = bed_demo_new (path, &plan, &error);

  g_assert_no_error (error);
  bed_farm_fix_clock (farm, "2026-07-14T09:00", 1);
  return farm;
}
