/* Somebody's sheet of any bytes into a farm: byte 0 says what is decided about it and of what the
 * farm has, the rest is the file. What a rehearsal takes is taken, no more than was counted; the
 * same sheet once more adds nothing; and all of it is undone again. */
#include "fuzz.h"
#include "fuzz_farm.h"
#include "fuzz_sheet.h"
#include "model/csv/csv_bring.h"
#include "model/farm/history.h"

static BedFarm *farm;

/* Every change leaves its undo behind in the file: a fresh one now and then. */
static void
make_farm (void)
{
  static guint n;

  if (n++ % 1000 == 0)
    {
      g_autofree char *name = g_strdup_printf ("bring-%u.bedlog", n);

      g_clear_object (&farm);
      farm = fuzz_farm_new (name, 5);
    }
}

static void
assert_counted (BedNotebook *notebook, const BedImportAnswer *answer)
{
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    g_assert_cmpuint (answer->added[kind] + answer->amended[kind] + answer->left[kind], <=,
                      bed_notebook_count_records (notebook, kind));
}

static int
bring (BedNotebook *notebook, BedImport *import)
{
  g_autoptr (GPtrArray) faults = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (BedImportAnswer) answer = bed_import_answer_new ();

  import->answer = answer;
  int n = bed_csv_bring (farm, notebook, import, &faults, &error);
  import->answer = NULL;
  if (n < 0)
    fuzz_assert_said (error);
  else
    assert_counted (notebook, answer);
  for (guint i = 0; i < faults->len; i++)
    g_assert_true (g_utf8_validate (((BedCsvFault *) faults->pdata[i])->message, -1, NULL));
  return n;
}

static gint64
newest_change (void)
{
  g_autoptr (GPtrArray) newest = bed_history_list (farm, 1, NULL);

  return ((BedChange *) newest->pdata[0])->id;
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  if (size < 1)
    return 0;
  make_farm ();
  g_autoptr (BedNotebook) notebook = fuzz_notebook_new (farm, data + 1, size - 1);
  if (!notebook)
    return 0;
  fuzz_answer_all (notebook, data[0]);
  BedImport import = { .path = "any.csv",
                       .mode = BED_IMPORT_DRY_RUN,
                       .known = BED_KNOWN_SKIPPED,
                       .differs = data[0] & 1 ? BED_DIFFERS_AMENDED : BED_DIFFERS_LEFT };
  int n = bring (notebook, &import);
  if (n < 0)
    return 0;
  gint64 before = newest_change ();
  import.mode = BED_IMPORT_WRITE;
  g_assert_cmpint (bring (notebook, &import), ==, n);
  import.mode = BED_IMPORT_DRY_RUN;
  g_assert_cmpint (bring (notebook, &import), ==, 0);
  if (newest_change () != before)
    g_assert_true (bed_history_undo (farm, NULL, NULL));
  return 0;
}
