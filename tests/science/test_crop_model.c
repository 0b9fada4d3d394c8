#include "science/argument.h"
#include "science/crop_model.h"

#include <math.h>

static BedCropExpected
expect (const BedCropCell *cells, gsize n, guint age, double logs)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BedCropModel) model = bed_crop_model_new (cells, n, &error);
  const BedCropLogs row = { 0, 0, age, logs, 1, 0 };

  g_assert_no_error (error);
  return bed_crop_model_expect (model, &row, 1);
}

static void
test_nothing (void)
{
  const BedCropCell empty = { .age = 1, .season = 2024, .logs = 10, .kg = 0, .share = 1 };

  g_assert_cmpint (expect (NULL, 0, 1, 10).kg.known, ==, BED_KNOWN_NOTHING);
  /* One empty season: nothing is what it has seen. */
  g_assert_cmpfloat (expect (&empty, 1, 2, 10).kg.high, <=, 0);
}

/* The same records have the same answer; twice the logs twice the crop. */
static void
test_steady (void)
{
  const BedCropCell cells[] = { { 0, 0, 1, 2023, 40, 8, 1 }, { 0, 0, 2, 2024, 38, 17, 1 } };
  BedCropExpected one = expect (cells, 2, 3, 36), two = expect (cells, 2, 3, 72);

  g_assert_cmpfloat (one.kg.estimate, ==, expect (cells, 2, 3, 36).kg.estimate);
  g_assert_cmpfloat_with_epsilon (two.kg.estimate, 2 * one.kg.estimate, 1e-9);
  g_assert_cmpfloat (one.kg.low, <, one.kg.estimate);
  g_assert_cmpfloat (one.kg.high, >, one.kg.estimate);
  g_assert_cmpfloat (one.kg.estimate, >, 12);
  g_assert_cmpfloat (one.kg.estimate, <, 20);
  g_assert_cmpfloat (one.share_unseen, ==, 1);
  g_assert_cmpfloat (expect (cells, 2, 2, 36).share_unseen, ==, 0);
}

/* Half of a season that has usually half come is as good as the whole, if less sure. */
static void
test_share (void)
{
  const BedCropCell half = { 0, 0, 1, 2024, 40, 4, 0.5 }, whole = { 0, 0, 1, 2024, 40, 8, 1 };
  BedCropExpected a = expect (&half, 1, 2, 40), b = expect (&whole, 1, 2, 40);

  g_assert_cmpfloat_with_epsilon (a.kg.estimate, b.kg.estimate, 0.05 * b.kg.estimate);
  g_assert_cmpfloat (a.kg.high - a.kg.low, >, b.kg.high - b.kg.low);
}

static void
test_refused (void)
{
  const BedCropCell cells[] = { { 0, 0, 1, 2024, 0, 1, 1 },
                                { 0, 0, 1, 2024, NAN, 1, 1 },
                                { 0, 0, 1, 2024, 10, -1, 1 },
                                { 0, 0, 1, 2024, 10, NAN, 1 },
                                { 0, 0, 1, 2024, 10, 1, 1.5 } };
  const char *names[] = { "logs:", "logs:", "kg:", "kg:", "share:" };

  for (gsize i = 0; i < G_N_ELEMENTS (cells); i++)
    {
      g_autoptr (GError) error = NULL;
      g_assert_null (bed_crop_model_new (&cells[i], 1, &error));
      g_assert_true (error->domain == BED_SCIENCE_ERROR);
      g_assert_true (g_str_has_prefix (error->message, names[i]));
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/crop-model/nothing", test_nothing);
  g_test_add_func ("/crop-model/steady", test_steady);
  g_test_add_func ("/crop-model/share", test_share);
  g_test_add_func ("/crop-model/refused", test_refused);
  return g_test_run ();
}
