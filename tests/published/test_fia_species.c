/* USDA Forest Service, FIA reference table REF_SPECIES, the machine-readable form of
 * P. D. Miles, W. B. Smith, Research Note NRS-38 (2009): the published factor from
 * dry to green mass of wood and bark follows from the other columns (SEEN, to four
 * decimals). The moistures of the other columns are rounded to a tenth, which moves the
 * factor by up to 0.0005. Checks data/wood.csv and bed_log_mass() together, every species. */
#include <gio/gio.h>

#include "science/wood.h"

static const struct
{
  int code;
  double factor;
} published[] = {
  { 833, 1.8466 }, { 837, 1.8422 }, { 830, 1.7920 }, { 806, 1.6640 }, { 812, 1.8634 },
  { 832, 1.7411 }, { 802, 1.7094 }, { 823, 1.7612 }, { 804, 1.6158 }, { 835, 1.7371 },
  { 822, 1.7900 }, { 827, 1.8164 }, { 831, 1.8415 }, { 318, 1.6165 }, { 316, 1.6500 },
  { 317, 1.6879 }, { 611, 1.7619 }, { 621, 1.9917 }, { 746, 2.2433 }, { 743, 1.9117 },
  { 742, 2.0541 }, { 741, 2.0131 }, { 375, 1.7079 }, { 372, 1.7111 }, { 371, 1.7075 },
  { 531, 1.5684 }, { 762, 1.5755 }, { 407, 1.5618 }, { 409, 1.6244 }, { 402, 1.6946 },
  { 403, 1.6449 }, { 404, 1.6486 }, { 541, 1.5120 }, { 544, 1.5888 }, { 543, 1.8583 },
  { 462, 1.6694 }, { 972, 1.9217 }, { 975, 1.8428 }, { 951, 2.0330 }, { 351, 1.9545 },
  { 922, 2.2188 }, { 901, 1.4374 }, { 391, 1.4969 }, { 701, 1.5650 }, { 421, 2.1542 },
  { 331, 2.3300 }, { 731, 1.8145 }, { 693, 1.9748 }, { 694, 1.9511 }, { 691, 1.9318 },
  { 650, 1.9188 }, { 653, 1.8928 }, { 652, 2.0352 },
};

static const BedWood *
find_code (GPtrArray *table, int code)
{
  for (guint i = 0; i < table->len; i++)
    if (((BedWood *) g_ptr_array_index (table, i))->code == code)
      return g_ptr_array_index (table, i);
  return NULL;
}

static void
test_dry_to_green (void)
{
  g_autofree char *path = g_build_filename (g_getenv ("BEDLOG_SOURCE"), "data", "wood.csv", NULL);
  g_autofree char *csv = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_true (g_file_get_contents (path, &csv, NULL, &error));
  g_autoptr (GPtrArray) table = bed_wood_table_new (csv, &error);
  g_assert_no_error (error);
  for (gsize i = 0; i < G_N_ELEMENTS (published); i++)
    {
      const BedWood *wood = find_code (table, published[i].code);
      BedLogMass mass;

      g_assert_nonnull (wood);
      g_assert_true (bed_log_mass (&wood->numbers, 100, &mass, NULL));
      g_test_message ("%s %.6f", wood->name, mass.green_kg / mass.dry_kg);
      /* Of southern magnolia the published columns themselves disagree by 0.0035. */
      g_assert_cmpfloat_with_epsilon (mass.green_kg / mass.dry_kg, published[i].factor,
                                      published[i].code == 652 ? 4e-3 : 5.5e-4);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/fia-species/dry-to-green", test_dry_to_green);
  return g_test_run ();
}
