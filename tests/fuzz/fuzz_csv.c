/* A CSV file of any bytes: byte 0 the kind of record, then the file. It is read or refused with
 * faults, each with a place; what a rehearsal takes is taken, and undone again. */
#include "fuzz.h"
#include "fuzz_farm.h"
#include "model/csv/csv.h"
#include "model/farm/history.h"

static BedFarm *farm;

static void
assert_placed (GPtrArray *faults)
{
  for (guint i = 0; i < faults->len; i++)
    {
      const BedCsvFault *fault = faults->pdata[i];
      g_assert_true (g_utf8_validate (fault->message, -1, NULL));
      g_assert_cmpuint (fault->line, >=, 1);
    }
}

static int
import_as (const BedImport *import, BedImportMode mode)
{
  BedImport in_mode = { import->kind, import->path, mode };
  g_autoptr (GPtrArray) faults = NULL;
  g_autoptr (GError) error = NULL;
  int n = bed_csv_import (farm, &in_mode, &faults, &error);

  if (n < 0)
    {
      fuzz_assert_said (error);
      g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
    }
  assert_placed (faults);
  return n;
}

static gint64
newest_change (void)
{
  g_autoptr (GPtrArray) newest = bed_history_list (farm, 1, NULL);

  return ((BedChange *) newest->pdata[0])->id;
}

/* Every change leaves its undo behind in the file: a fresh one now and then. */
static void
make_farm (void)
{
  static guint n;
  g_autofree char *name = g_strdup_printf ("csv-%u.bedlog", n++ / 2000);

  if (n % 2000 != 1)
    return;
  g_clear_object (&farm);
  farm = fuzz_farm_new (name, 30);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  if (size < 1)
    return 0;
  make_farm ();
  g_autofree char *path = fuzz_write ("any.csv", data + 1, size - 1);
  const BedImport import = { data[0] % BED_N_KINDS, path, BED_IMPORT_DRY_RUN };

  int n = import_as (&import, BED_IMPORT_DRY_RUN);
  if (n < 0)
    return 0;
  gint64 before = newest_change ();
  g_assert_cmpint (import_as (&import, BED_IMPORT_WRITE), ==, n);
  if (newest_change () != before)
    g_assert_true (bed_history_undo (farm, NULL, NULL));
  return 0;
}
