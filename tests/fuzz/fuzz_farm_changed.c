#include "fuzz.h"
#include "fuzz_farm.h"

#define PATCH 5 /* bytes of input a change */

static char *sound;
static gsize length;

static void
keep_sound_farm (void)
{
  BedFarm *farm = fuzz_farm_new ("sound.bedlog", 2);

  g_assert_true (g_file_get_contents (bed_farm_get_path (farm), &sound, &length, NULL));
  g_object_unref (farm);
}

char *
fuzz_farm_dup_changed (const uint8_t *data, size_t size, gsize *kept)
{
  if (!sound)
    keep_sound_farm ();
  char *bytes = g_memdup2 (sound, length);

  *kept = size % PATCH ? length * data[size - 1] / 256 : length;
  for (; size >= PATCH; data += PATCH, size -= PATCH)
    {
      gsize at = ((gsize) data[0] << 16 | (gsize) data[1] << 8 | data[2]) % length;
      for (gsize i = 0; i <= data[3] && at + i < length; i++)
        bytes[at + i] = (char) (data[4] + i);
    }
  return bytes;
}
