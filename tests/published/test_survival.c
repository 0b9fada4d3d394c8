/* E. A. Gehan, "A generalized Wilcoxon test for comparing arbitrarily
 * singly-censored samples", Biometrika 52:203-223, 1965, after E. J. Freireich
 * and others, Blood 21:699-716, 1963: remissions of 21 patients on
 * 6-mercaptopurine, weeks. Estimates and standard errors as printed by the R
 * package survival for these data (seen). The times without a relapse are from
 * memory; the numbers at risk printed there fix them between the steps. */
#include "science/survival.h"

static void
test_remissions (void)
{
  const BedLogLife lives[] = {
    { 6, TRUE },   { 6, TRUE },   { 6, TRUE },   { 6, FALSE }, { 7, TRUE },   { 9, FALSE },
    { 10, TRUE },  { 10, FALSE }, { 11, FALSE }, { 13, TRUE }, { 16, TRUE },  { 17, FALSE },
    { 19, FALSE }, { 20, FALSE }, { 22, TRUE },  { 23, TRUE }, { 25, FALSE }, { 32, FALSE },
    { 32, FALSE }, { 34, FALSE }, { 35, FALSE },
  };
  const struct
  {
    double age;
    guint at_risk, retired;
    double survival, error;
  } table[] = {
    { 6, 21, 3, 0.857, 0.0764 },  { 7, 17, 1, 0.807, 0.0869 },  { 10, 15, 1, 0.753, 0.0963 },
    { 13, 12, 1, 0.690, 0.1068 }, { 16, 11, 1, 0.627, 0.1141 }, { 22, 7, 1, 0.538, 0.1282 },
    { 23, 6, 1, 0.448, 0.1346 },
  };
  g_autoptr (GArray) curve = bed_survival_curve (lives, G_N_ELEMENTS (lives), 0.95, NULL);

  g_assert_cmpuint (curve->len, ==, G_N_ELEMENTS (table));
  for (guint i = 0; i < curve->len; i++)
    {
      const BedSurvivalStep *step = &g_array_index (curve, BedSurvivalStep, i);
      g_assert_cmpfloat (step->age, ==, table[i].age);
      g_assert_cmpuint (step->at_risk, ==, table[i].at_risk);
      g_assert_cmpuint (step->retired, ==, table[i].retired);
      g_assert_cmpfloat_with_epsilon (step->survival.estimate, table[i].survival, 5.1e-4);
      g_assert_cmpfloat_with_epsilon (step->standard_error, table[i].error, 5.1e-5);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/survival/remissions", test_remissions);
  return g_test_run ();
}
