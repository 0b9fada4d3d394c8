/* Moisture, drying and soaking. */
#include <gsl/gsl_cdf.h>
#include <math.h>

#include "science/argument.h"
#include "science/drying.h"
#include "science/moisture.h"

static void
test_bases (void)
{
  const double pairs[][2] = { { 10, 11.11 }, { 15, 17.65 }, { 20, 25.00 }, { 35, 53.85 },
                              { 40, 66.67 }, { 45, 81.82 }, { 50, 100.00 } };

  for (gsize i = 0; i < G_N_ELEMENTS (pairs); i++)
    {
      BedMoisture moisture;
      g_assert_true (bed_moisture_convert (pairs[i][0], BED_BASIS_WET, &moisture, NULL));
      g_assert_cmpfloat_with_epsilon (moisture.dry_pct, pairs[i][1], 6e-3);
      g_assert_true (bed_moisture_convert (moisture.dry_pct, BED_BASIS_DRY, &moisture, NULL));
      g_assert_cmpfloat_with_epsilon (moisture.wet_pct, pairs[i][0], 1e-9);
    }
}

/* 10 kg at 60 % dry are 9 kg at 44 %; a disc gives the same dry mass as its log. */
static void
test_masses (void)
{
  double dry, mass;

  g_assert_true (bed_moisture_dry_mass (10, 60, BED_BASIS_DRY, &dry, NULL));
  g_assert_true (bed_moisture_mass_at (dry, 44, BED_BASIS_DRY, &mass, NULL));
  g_assert_cmpfloat_with_epsilon (mass, 9, 1e-9);
  g_assert_true (bed_moisture_from_disc (0.160, 0.100, 10, &dry, NULL));
  g_assert_cmpfloat_with_epsilon (dry, 6.25, 1e-9);
}

static double
moisture_at (double m0, double rest, double rate, double day)
{
  return rest + (m0 - rest) * exp (-rate * day);
}

/* M0 80, rest 16, 0.01 a day: 35 % after 121.44 days (own arithmetic). Ten weighings
 * without error find it. */
static void
test_exact (void)
{
  const BedDryingSetting setting = { 16, 35, 0.05 };
  BedWeighing weighings[10];
  BedDrying drying;

  for (int i = 0; i < 10; i++)
    weighings[i] = (BedWeighing){ 8 * i, moisture_at (80, 16, 0.01, 8 * i) };
  g_assert_cmpfloat_with_epsilon (moisture_at (80, 16, 0.01, 90), 42.020, 5e-4);
  g_assert_true (bed_drying_fit (weighings, 10, &setting, &drying, NULL));
  g_assert_cmpfloat_with_epsilon (drying.alarm_day, 121.44, 1.5);
  g_assert_cmpfloat_with_epsilon (drying.rate, 0.01, 3e-4);
  /* In another order, and from another day: the same. */
  for (int i = 0; i < 10; i++)
    weighings[i] = (BedWeighing){ 1000 + 8 * (9 - i), moisture_at (80, 16, 0.01, 8 * (9 - i)) };
  BedDrying turned;
  g_assert_true (bed_drying_fit (weighings, 10, &setting, &turned, NULL));
  g_assert_cmpfloat_with_epsilon (turned.alarm_day - 1000, drying.alarm_day, 1e-6);
  g_assert_cmpfloat_with_epsilon (turned.now_pct, drying.now_pct, 1e-9);
}

/* One weighing: the prior speaks, and the log is not yet at the alarm. */
static void
test_one_weighing (void)
{
  const BedDryingSetting setting = { 16, 35, 1.5 };
  const BedWeighing one = { 0, 70 };
  BedDrying drying;

  g_assert_true (bed_drying_fit (&one, 1, &setting, &drying, NULL));
  g_assert_cmpfloat_with_epsilon (drying.now_pct, 70, 0.01);
  g_assert_cmpfloat_with_epsilon (drying.rate, 0.006, 2e-4);
  g_assert_cmpfloat (drying.alarm_day_early, >, 0);
  g_assert_cmpfloat (drying.alarm_day_early, <, drying.alarm_day);
  g_assert_cmpfloat (drying.alarm_day, <, drying.alarm_day_late);
}

/* Dried past the alarm, even under the resting moisture: the day lies behind. */
static void
test_too_dry (void)
{
  const BedDryingSetting setting = { 16, 35, 1.5 };
  const BedWeighing dry[] = { { 0, 17 }, { 30, 15 } };
  BedDrying drying;

  g_assert_true (bed_drying_fit (dry, 2, &setting, &drying, NULL));
  g_assert_cmpfloat (drying.alarm_day_late, <, 0);
  g_assert_true (isfinite (drying.alarm_day_early));
}

static double
random_normal (void)
{
  return gsl_cdf_ugaussian_Pinv (g_test_rand_double_range (1e-6, 1 - 1e-6));
}

/* Logs drawn from the prior, weighed four times with error: the 80 % interval holds
 * the true day in 80 % of them, within 4 standard errors of a binomial of 600. */
static void
test_coverage (void)
{
  const BedDryingSetting setting = { 16, 35, 1.5 };
  const int n = 600;
  int held = 0;

  for (int i = 0; i < n; i++)
    {
      double rate = 0.006 * exp (log (2) / 1.645 * random_normal ());
      double m0 = g_test_rand_double_range (60, 90);
      BedWeighing weighings[4];
      BedDrying drying;

      for (int w = 0; w < 4; w++)
        weighings[w]
            = (BedWeighing){ 14 * w, moisture_at (m0, 16, rate, 14 * w) + 1.5 * random_normal () };
      g_assert_true (bed_drying_fit (weighings, 4, &setting, &drying, NULL));
      double day = log ((m0 - 16) / 19) / rate;
      held += day >= drying.alarm_day_early && day <= drying.alarm_day_late;
    }
  g_test_message ("%d of %d held", held, n);
  g_assert_cmpfloat_with_epsilon (held / (double) n, 0.8, 4 * sqrt (0.8 * 0.2 / n));
}

/* Logs of another density than their species: @off of them a tenth denser or lighter each (1), or
 * as woods differ (0). Four weighings reckoned with the species' dry mass. */
static double
cover_density (double off)
{
  const BedDryingSetting setting = { 16, 35, 1.5, BED_DRYING_BY_SPECIES };
  const int n = 400;
  int held = 0;

  for (int i = 0; i < n; i++)
    {
      double rate = 0.006 * exp (log (2) / 1.645 * random_normal ());
      double m0 = g_test_rand_double_range (60, 90);
      double share = off > 0 ? (i % 2 ? 1 + off : 1 - off) : exp (0.1 * random_normal ());
      BedWeighing weighings[4];
      BedDrying drying;

      for (int w = 0; w < 4; w++)
        weighings[w] = (BedWeighing){ 14 * w, share * (100 + moisture_at (m0, 16, rate, 14 * w))
                                                  - 100 + 1.5 * random_normal () };
      g_assert_true (bed_drying_fit (weighings, 4, &setting, &drying, NULL));
      double day = log ((m0 - 16) / 19) / rate;
      held += day >= drying.alarm_day_early && day <= drying.alarm_day_late;
      g_assert_cmpfloat (drying.now_low_pct, <=, drying.now_pct);
      g_assert_cmpfloat (drying.now_high_pct, >=, drying.now_pct);
    }
  g_test_message ("off %g: %d of %d held", off, held, n);
  return held / (double) n;
}

static void
test_density (void)
{
  const double offs[] = { 0, 0.1 };

  for (gsize i = 0; i < G_N_ELEMENTS (offs); i++)
    {
      double held = cover_density (offs[i]);
      g_assert_cmpfloat (held, >=, 0.72);
      g_assert_cmpfloat (held, <=, 0.88);
    }
}

/* Both forms from curves of their own; 24 h at 2.5 a root hour are 12.25 points, at
 * Peleg's 0.5 and 0.05 14.118 (own arithmetic). */
static void
test_soak (void)
{
  const double hours[] = { 1, 6, 12, 24, 48 };
  BedSoaking soaks[5];
  BedSoakFit fit;
  double gain;

  for (int i = 0; i < 5; i++)
    soaks[i] = (BedSoaking){ hours[i], 2.5 * sqrt (hours[i]) };
  g_assert_true (bed_soak_fit (soaks, 5, &fit, NULL));
  g_assert_true (bed_soak_gain (&fit, 24, &gain, NULL));
  g_assert_cmpfloat_with_epsilon (gain, 12.247, 1e-3);
  for (int i = 0; i < 5; i++)
    soaks[i] = (BedSoaking){ hours[i], hours[i] / (0.5 + 0.05 * hours[i]) };
  g_assert_true (bed_soak_fit (soaks, 5, &fit, NULL));
  g_assert_cmpfloat_with_epsilon (fit.k1, 0.5, 1e-9);
  g_assert_cmpfloat_with_epsilon (fit.k2, 0.05, 1e-9);
  g_assert_true (bed_soak_gain (&fit, 24, &gain, NULL));
  g_assert_cmpfloat_with_epsilon (gain, 14.118, 1e-3);
  /* One soak, and one that gave nothing: still an answer. */
  g_assert_true (bed_soak_fit (soaks, 1, &fit, NULL));
  g_assert_cmpfloat_with_epsilon (fit.per_root_hour, soaks[0].gain_pct, 1e-9);
  soaks[0].gain_pct = 0;
  g_assert_true (bed_soak_fit (soaks, 1, &fit, NULL));
  g_assert_true (bed_soak_gain (&fit, 24, &gain, NULL));
  g_assert_cmpfloat (gain, ==, 0);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/moisture/bases", test_bases);
  g_test_add_func ("/moisture/masses", test_masses);
  g_test_add_func ("/moisture/exact", test_exact);
  g_test_add_func ("/moisture/one-weighing", test_one_weighing);
  g_test_add_func ("/moisture/too-dry", test_too_dry);
  g_test_add_func ("/moisture/coverage", test_coverage);
  g_test_add_func ("/moisture/density", test_density);
  g_test_add_func ("/moisture/soak", test_soak);
  return g_test_run ();
}
