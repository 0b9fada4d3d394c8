/* Air, heat, evaporation and dry spells against plain quadrature, inverses and limits. */
#include <math.h>

#include "science/air.h"
#include "science/evaporation.h"
#include "science/heat.h"

/* Own evaluation of the handbook's equation with an independent program (mark CALC). */
static void
test_emc_grid (void)
{
  const double humidities[] = { 5, 10, 20, 30, 40, 50, 60, 65, 70, 75, 80, 85, 90, 95 };
  const struct
  {
    double c, emc[14];
  } rows[] = {
    { 4.4, { 1.4, 2.6, 4.6, 6.3, 7.9, 9.5, 11.3, 12.3, 13.5, 14.9, 16.5, 18.5, 21.0, 24.3 } },
    { 15.6, { 1.3, 2.5, 4.6, 6.3, 7.8, 9.4, 11.1, 12.1, 13.3, 14.6, 16.2, 18.2, 20.7, 24.1 } },
    { 37.8, { 1.2, 2.3, 4.2, 5.8, 7.2, 8.7, 10.3, 11.2, 12.3, 13.6, 15.1, 17.0, 19.5, 22.9 } },
  };

  for (gsize r = 0; r < G_N_ELEMENTS (rows); r++)
    for (gsize i = 0; i < G_N_ELEMENTS (humidities); i++)
      {
        BedAir air;
        g_assert_true (bed_air (rows[r].c, humidities[i], &air, NULL));
        g_assert_cmpfloat_with_epsilon (air.emc_pct, rows[r].emc[i], 0.055);
      }
}

static void
test_dew_point (void)
{
  const struct
  {
    double c, humidity, vpd, dew;
  } table[] = {
    { 20, 50, 1.169, 9.26 },  { 25, 60, 1.267, 16.70 }, { 15, 85, 0.256, 12.50 },
    { 25, 80, 0.634, 21.31 }, { 10, 95, 0.061, 9.24 },  { 30, 40, 2.546, 14.93 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    {
      BedAir air;
      g_assert_true (bed_air (table[i].c, table[i].humidity, &air, NULL));
      g_assert_cmpfloat_with_epsilon (air.vpd_kpa, table[i].vpd, 6e-4);
      g_assert_cmpfloat_with_epsilon (air.dew_point_c, table[i].dew, 6e-3);
    }
  for (int t = -20; t <= 40; t += 5)
    {
      BedAir air;
      g_assert_true (bed_air (t, 100, &air, NULL));
      g_assert_cmpfloat_with_epsilon (air.dew_point_c, t, 1e-9);
      g_assert_cmpfloat_with_epsilon (air.vpd_kpa, 0, 1e-12);
    }
}

/* The wave cut into many steps, added up. */
static double
heat_by_hand (double least, double most, double lower, double upper)
{
  const int steps = 20000;
  double sum = 0;

  for (int i = 0; i < steps; i++)
    {
      double t = (most + least) / 2 + (most - least) / 2 * sin (2 * G_PI * (i + 0.5) / steps);
      sum += CLAMP (t, lower, upper) - lower;
    }
  return sum / steps;
}

static void
test_heat_quadrature (void)
{
  const double outer[][3] = {
    { 7, 14, 0.4681 }, { 13, 14, 1.5 }, { 35, 40, 21 }, { 13, 40, 12.9443 }, { 7, 40, 10.9397 }
  };
  double dd;

  for (gsize i = 0; i < G_N_ELEMENTS (outer); i++)
    {
      g_assert_true (bed_heat_day (outer[i][0], outer[i][1], 12, 33, &dd, NULL));
      g_assert_cmpfloat_with_epsilon (dd, outer[i][2], 6e-5);
    }
  for (int i = 0; i < 300; i++)
    {
      double least = g_test_rand_double_range (-15, 30);
      double most = least + (i % 10 ? g_test_rand_double_range (0, 25) : 0);
      double lower = g_test_rand_double_range (-10, 20);
      double upper = lower + g_test_rand_double_range (0, 25);

      g_assert_true (bed_heat_day (least, most, lower, upper, &dd, NULL));
      g_assert_cmpfloat_with_epsilon (dd, heat_by_hand (least, most, lower, upper), 2e-3);
    }
}

/* Radiation: the halves of the earth six months apart, night at the poles. */
static void
test_radiation (void)
{
  double north, south;

  for (int day = 1; day <= 365; day++)
    {
      g_assert_true (bed_evaporation_radiation (90, day, &north, NULL));
      g_assert_true (bed_evaporation_radiation (-90, day, &south, NULL));
      g_assert_cmpfloat (north, >=, 0);
      g_assert_true (north < 1e-9 || south < 1e-9);
    }
  g_assert_true (bed_evaporation_radiation (45.72, 196, &north, NULL));
  g_assert_cmpfloat_with_epsilon (north, 40.55, 6e-3);
}

static void
test_dry_spell (void)
{
  BedWeatherDay days[20];
  BedDrySpellResult result;

  for (gsize i = 0; i < G_N_ELEMENTS (days); i++)
    days[i] = (BedWeatherDay){ 0, 27 };
  g_assert_true (bed_dry_spell (NULL, 0, &result, NULL));
  g_assert_cmpint (result.advice, ==, BED_DRY_SPELL_NONE);
  g_assert_true (bed_dry_spell (days, 7, &result, NULL));
  g_assert_cmpint (result.advice, ==, BED_DRY_SPELL_WATCH);
  g_assert_true (bed_dry_spell (days, 8, &result, NULL));
  g_assert_cmpint (result.advice, ==, BED_DRY_SPELL_WET);
  g_assert_cmpint (result.days, ==, 8);
  days[6].rain_mm = 10;
  g_assert_true (bed_dry_spell (days, 8, &result, NULL));
  g_assert_cmpint (result.days, ==, 1);
  g_assert_cmpint (result.advice, ==, BED_DRY_SPELL_NONE);
  for (gsize i = 0; i < G_N_ELEMENTS (days); i++)
    days[i] = (BedWeatherDay){ 1, 15 };
  g_assert_true (bed_dry_spell (days, 13, &result, NULL));
  g_assert_cmpint (result.advice, ==, BED_DRY_SPELL_NONE);
  g_assert_true (bed_dry_spell (days, 15, &result, NULL));
  g_assert_cmpint (result.advice, ==, BED_DRY_SPELL_WET);
  days[14].most_c = NAN;
  g_assert_true (bed_dry_spell (days, 15, &result, NULL));
  g_assert_cmpfloat_with_epsilon (result.most_mean, 15, 1e-9);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/weather/emc-grid", test_emc_grid);
  g_test_add_func ("/weather/dew-point", test_dew_point);
  g_test_add_func ("/weather/heat-quadrature", test_heat_quadrature);
  g_test_add_func ("/weather/radiation", test_radiation);
  g_test_add_func ("/weather/dry-spell", test_dry_spell);
  return g_test_run ();
}
