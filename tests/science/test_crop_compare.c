#include "science/argument.h"
#include "science/crop_compare.h"

#include <math.h>

static BedCropLevel *
compare (const BedCropBatch *batches, gsize n, guint n_kinds)
{
  g_autoptr (GError) error = NULL;
  BedCropLevel *levels = bed_crop_compare (batches, n, n_kinds, 0.8, &error);

  g_assert_no_error (error);
  return levels;
}

static void
test_nothing (void)
{
  const BedCropBatch empty[] = { { 0, 2024, 10, 0 }, { 1, 2024, 10, 0 } };
  g_autofree BedCropLevel *none = compare (NULL, 0, 2);
  g_autofree BedCropLevel *zeros = compare (empty, 2, 2);

  g_assert_cmpint (none[1].told, ==, BED_CROP_NO_RECORD);
  g_assert_cmpfloat (zeros[0].kg.high, ==, 0);
  g_assert_cmpint (zeros[0].kg.known, ==, BED_KNOWN_POINT);
}

/* A kind twice as good in each year, whatever the years: twice the level. A season that gave
 * nothing pulls the kinds down. */
static void
test_years (void)
{
  const BedCropBatch batches[] = { { 0, 2022, 10, 2 }, { 1, 2022, 20, 8 },  { 0, 2023, 10, 6 },
                                   { 1, 2023, 5, 6 },  { 0, 2024, 10, 10 }, { 0, 2024, 10, 10 } };
  g_autofree BedCropLevel *levels = compare (batches, 6, 2);

  g_assert_cmpfloat_with_epsilon (levels[1].kg.estimate, 2 * levels[0].kg.estimate, 1e-6);
  BedCropBatch less[6];
  for (int i = 0; i < 6; i++)
    {
      less[i] = batches[i];
      less[i].seasons = 1;
    }
  less[5].kg = 0;
  less[5].bare = 1;
  less[5].bare_share = 1;
  g_autofree BedCropLevel *lower = compare (less, 6, 2);
  g_assert_cmpfloat (lower[0].kg.estimate, <, levels[0].kg.estimate);
}

/* Kinds 0 and 1 share 2022, 1 and 2 share 2023: all are tied. Kind 3 has 2024 to itself. */
static void
test_tied (void)
{
  const BedCropBatch batches[] = { { 0, 2022, 10, 2 }, { 1, 2022, 10, 3 }, { 1, 2023, 10, 4 },
                                   { 2, 2023, 10, 3 }, { 2, 2023, 10, 5 }, { 3, 2024, 10, 9 } };
  g_autofree BedCropLevel *levels = compare (batches, 6, 4);

  for (guint k = 0; k < 3; k++)
    {
      g_assert_cmpint (levels[k].told, ==, BED_CROP_COMPARED);
      g_assert_cmpint (levels[k].kg.known, ==, BED_KNOWN_INTERVAL);
    }
  g_assert_cmpint (levels[3].told, ==, BED_CROP_OTHER_YEARS);
  g_assert_cmpint (levels[3].kg.known, ==, BED_KNOWN_POINT);
  g_assert_cmpfloat_with_epsilon (levels[3].kg.estimate, 0.9, 1e-12);
}

/* Half the seasons of every kind gave nothing: as when none did, at half the level, and wider. */
static void
test_bare (void)
{
  BedCropBatch batches[8], half[8];

  for (guint i = 0; i < 8; i++)
    {
      batches[i] = (BedCropBatch){ i % 2, 2020, 10, 10 + 5 * (i % 2) + i, 2, 0, 0 };
      half[i] = batches[i];
      half[i].kg /= 2;
      half[i].bare = 1;
      half[i].bare_share = 0.5;
    }
  g_autofree BedCropLevel *levels = compare (batches, 8, 2);
  g_autofree BedCropLevel *halves = compare (half, 8, 2);
  for (guint k = 0; k < 2; k++)
    {
      g_assert_cmpfloat_with_epsilon (halves[k].kg.estimate, levels[k].kg.estimate / 2, 1e-9);
      g_assert_cmpfloat (halves[k].kg.high, >, levels[k].kg.high / 2 * 1.05);
      g_assert_cmpfloat (halves[k].kg.low, <, levels[k].kg.low / 2 / 1.05);
    }
}

/* What one kind has in bare seasons by chance it shares with the rest; one that hardly ever bears
 * is lower by that. */
static void
test_bare_kind (void)
{
  BedCropBatch batches[12];

  for (guint i = 0; i < 12; i++)
    batches[i] = (BedCropBatch){ i % 2, 2020, 10, 10, 5, 0, 0 };
  batches[1].bare = 1;
  batches[1].bare_share = 0.2;
  batches[1].kg = 8;
  g_autofree BedCropLevel *alike = compare (batches, 12, 2);
  g_assert_cmpfloat_with_epsilon (alike[1].kg.estimate, alike[0].kg.estimate, 1e-9);
  for (guint i = 1; i < 12; i += 2)
    {
      batches[i].bare = 4;
      batches[i].bare_share = 0.8;
      batches[i].kg = 2;
    }
  g_autofree BedCropLevel *apart = compare (batches, 12, 2);
  g_assert_cmpfloat_with_epsilon (apart[0].kg.estimate, 1, 1e-9);
  g_assert_cmpfloat_with_epsilon (apart[1].kg.estimate, 0.2, 1e-9);
}

static void
test_refused (void)
{
  const BedCropBatch batches[] = { { 2, 2024, 10, 1 },           { 0, 2024, 0, 1 },
                                   { 0, 2024, NAN, 1 },          { 0, 2024, 10, -1 },
                                   { 0, 2024, 10, 1, 1, 2, 0 },  { 0, 2024, 10, 1, 2, 1, 1 },
                                   { 0, 2024, 10, 0, 1, 1, 1.5 } };
  const char *names[] = { "kind:", "logs:", "logs:", "kg:", "bare:", "bare_share:", "bare_share:" };

  for (gsize i = 0; i < G_N_ELEMENTS (batches); i++)
    {
      g_autoptr (GError) error = NULL;
      g_assert_null (bed_crop_compare (&batches[i], 1, 2, 0.8, &error));
      g_assert_true (error->domain == BED_SCIENCE_ERROR);
      g_assert_true (g_str_has_prefix (error->message, names[i]));
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/crop-compare/nothing", test_nothing);
  g_test_add_func ("/crop-compare/years", test_years);
  g_test_add_func ("/crop-compare/tied", test_tied);
  g_test_add_func ("/crop-compare/bare", test_bare);
  g_test_add_func ("/crop-compare/bare-kind", test_bare_kind);
  g_test_add_func ("/crop-compare/refused", test_refused);
  return g_test_run ();
}
