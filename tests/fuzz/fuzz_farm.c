/* A farm file with bytes changed: five bytes a change (three the place, one how many bytes less
 * one, one the first of them, which the others count up from), and one byte left over cuts the
 * file to that share of 256. It opens and answers, or is refused with a sentence. */
#include <string.h>

#include "fuzz.h"
#include "fuzz_farm.h"
#include "model/check.h"
#include "model/csv.h"
#include "model/history.h"
#include "model/query.h"

#define PATCH 5

static char *sound;
static gsize length;

static void
keep_sound_farm (void)
{
  BedFarm *farm = fuzz_farm_new ("sound.bedlog", 2);

  g_assert_true (g_file_get_contents (bed_farm_get_path (farm), &sound, &length, NULL));
  g_object_unref (farm);
}

static char *
dup_changed (const uint8_t *data, size_t size)
{
  char *bytes = g_memdup2 (sound, length);

  for (; size >= PATCH; data += PATCH, size -= PATCH)
    {
      gsize at = ((gsize) data[0] << 16 | (gsize) data[1] << 8 | data[2]) % length;
      for (gsize i = 0; i <= data[3] && at + i < length; i++)
        bytes[at + i] = (char) (data[4] + i);
    }
  return bytes;
}

/* Everything that reads: it may fail, and may not crash. */
static void
ask (BedFarm *farm)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BedCheckup) checkup = bed_check_farm (farm, BED_CHECK_ALL, NULL, &error);
  g_autoptr (GPtrArray) changes = bed_history_list (farm, 3);
  g_autofree char *csv = g_build_filename (fuzz_folder (), "out.csv", NULL);

  g_assert_true (checkup || error);
  for (guint i = 0; i < changes->len; i++)
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
  if (!sound)
    keep_sound_farm ();
  g_autofree char *bytes = dup_changed (data, size);
  gsize kept = size % PATCH ? length * data[size - 1] / 256 : length;
  g_autofree char *path = fuzz_write ("changed.bedlog", bytes, kept);
  g_autoptr (GError) error = NULL;

  g_autoptr (BedFarm) farm = bed_farm_open (path, &error);
  if (farm)
    ask (farm);
  else
    fuzz_assert_said (error);
  return 0;
}
