/* What a season's money does in the workbook: whose cost it is, and what a price is. */
#include "../ask.h"

#include "report_test.h"

#include <math.h>
#include <string.h>

#include "model/farm/farm_private.h"
#include "model/farm/names.h"
#include "model/season/season.h"

/* Helpers */

/* In the cell of that name, or @row rows below it. */
static void
expect (Farm *farm, const char *name, int row, double value)
{
  char number[G_ASCII_DTOSTR_BUF_SIZE];
  g_autofree char *at = g_strdup_printf ("%d", row);
  g_autofree char *item
      = g_strdup_printf ("%s=%s/0.001", name, g_ascii_dtostr (number, sizeof number, value));

  farm_check ("column", farm->book, at, item, NULL);
}

/* In December, for the batch inoculated in March: 2 h at 18.00, and wood for 40.00. */
static void
work_in_winter (Farm *farm)
{
  scene_add (farm->farm, scene_record (farm->farm, BED_KIND_HOURS, "worked_on", "2025-12-10",
                                       "task", "hauling", "minutes", "2 h", "batch", "26A", NULL));
  scene_add (farm->farm, scene_record (farm->farm, BED_KIND_PURCHASE, "bought_on", "2025-12-11",
                                       "category", "logs", "what", "oak bolts", "amount", "40.00",
                                       "scope", "batch", "batch", "26A", NULL));
}

/* Tests */

/* What was done for a batch in the winter before is its cost in that season, not that of the
 * batches that were there, nor of nobody. */
static void
test_winter_before (void)
{
  g_autoptr (Farm) farm = farm_new ("metric");

  work_in_winter (farm);
  farm_write (farm, 2025);
  expect (farm, "Cost_uncharged", 0, 0);
  expect (farm, "Pool_labour", 0, 0);
  /* 24A, 25A and then 26A, which has no logs yet. */
  expect (farm, "Costs_work", 0, 0);
  expect (farm, "Costs_direct", 2, 40);
  expect (farm, "Costs_labour", 2, 36);
  expect (farm, "Costs_total", 2, 76);
  expect (farm, "Costs_new", 2, 0);
  expect (farm, "Spent_cost", 2, 76);
  expect (farm, "Life_made_of", 2, 40);
  expect (farm, "Life_made_by", 2, 36);
  expect (farm, "Life_cost", 2, 76);
  expect (farm, "Making_this_season", 2, 76);
  expect (farm, "Making_earlier", 2, 0);
}

/* A year later it is in what the batch has cost in all, on every sheet that says so. */
static void
test_winter_after (void)
{
  g_autoptr (Farm) farm = farm_new ("metric");
  double alone, own;

  work_in_winter (farm);
  alone = ask_one (farm->farm,
                   "SELECT c.bought + c.spawn + c.labour FROM batch_cost c JOIN batch b"
                   " ON b.id = c.batch WHERE b.code = '26A'",
                   0)
          / 100.0;
  own = alone - 76;
  farm_write (farm, 2026);
  expect (farm, "Spent_before", 2, 76);
  expect (farm, "Spent_cost", 2, alone);
  expect (farm, "Life_cost", 2, alone);
  expect (farm, "Making_earlier", 2, 76);
  expect (farm, "Making_this_season", 2, own);
  farm_write (farm, 2027);
  expect (farm, "Making_earlier", 2, alone);
  expect (farm, "Making_charge", 2, alone / 4);
}

/* A batch of which no log was entered, picked from in two seasons. */
static void
test_without_logs (void)
{
  g_autoptr (Farm) farm = farm_new ("metric");

  scene_add (farm->farm, scene_record (farm->farm, BED_KIND_BATCH, "code", "25Z", "inoculated_on",
                                       "2025-06-01", "method", "drilled", NULL));
  scene_add (farm->farm, scene_record (farm->farm, BED_KIND_PICK, "picked_on", "2025-10-01",
                                       "batch", "25Z", "grade", "A", "mass", "3 kg", NULL));
  scene_add (farm->farm, scene_record (farm->farm, BED_KIND_PICK, "picked_on", "2026-06-01",
                                       "batch", "25Z", "grade", "A", "mass", "2 kg", NULL));
  farm_write (farm, 2026);
  expect (farm, "Batches_mass", 2, 2);
  expect (farm, "Batches_earlier", 2, 3);
  expect (farm, "Batches_in_all", 2, 5);
  expect (farm, "Costs_mass", 2, 2);
}

/* The last log is gone, and the batch is picked from once more: of no log, but the batch's. */
static void
test_after_the_last_log (void)
{
  g_autoptr (Farm) farm = farm_new ("metric");
  g_autoptr (GError) error = NULL;
  g_autoptr (BedEdit) edit = bed_edit_new (farm->farm);
  g_autoptr (BedQuery) q = bed_query_new (
      farm->farm, "SELECT l.id FROM log l JOIN batch b ON b.id = l.batch WHERE b.code = '25A'");

  while (bed_query_next (q))
    {
      BedRecord *log = bed_farm_load (farm->farm, BED_KIND_LOG, bed_query_int (q, 0), NULL);

      bed_record_set_text (log, "retired_on", "2026-07-01");
      bed_record_set_text (log, "retired_why", "spent");
      bed_edit_put (edit, log);
      g_object_unref (log);
    }
  bed_edit_commit (edit, "Retired the logs", &error);
  g_assert_no_error (error);
  scene_add (farm->farm, scene_record (farm->farm, BED_KIND_PICK, "picked_on", "2026-08-01",
                                       "batch", "25A", "grade", "A", "mass", "1 kg", NULL));
  farm_write (farm, 2027);
  expect (
      farm, "Batches_in_all", 1,
      ask_one (farm->farm, "SELECT round (picked / 1000) FROM batch_summary WHERE code = '25A'", 0)
          / 1000.0);
}

static double
read_figure (Farm *farm, const char *name)
{
  return g_ascii_strtod (farm_check ("values", farm->book, name, NULL), NULL);
}

/* 1.5 kg a week over the weeks of the season, few of which were picked in so far. Young logs that
 * gave nothing in their first year leave the logs to make known by what a log gives in its life,
 * and they are whole. */
static void
test_wanted (void)
{
  g_autoptr (Farm) farm = farm_new ("metric");
  double yearly, logs;

  farm_write (farm, 2026);
  expect (farm, "Wanted", 0, 1.5 * 26);
  g_assert_cmpint (sqlite3_exec (bed_farm_get_db (farm->farm),
                                 "UPDATE pick SET log = (SELECT id FROM log WHERE code LIKE"
                                 " '24A-001%'), stack = NULL; UPDATE pick SET picked_on ="
                                 " '2026-05-18'",
                                 NULL, NULL, NULL),
                   ==, SQLITE_OK);
  farm_write (farm, 2026);
  yearly = read_figure (farm, "Logs_yearly");
  logs = read_figure (farm, "Logs_wanted");
  g_assert_cmpfloat (yearly, >, 1);
  g_assert_cmpfloat (logs, >=, yearly);
  g_assert_cmpfloat (logs, ==, round (logs));
}

/* For 100.00, and 7.00 of tax. */
static void
buy_wax (Farm *farm, const char *day)
{
  scene_add (farm->farm, scene_record (farm->farm, BED_KIND_PURCHASE, "bought_on", day, "category",
                                       "wax", "what", "wax", "amount", "100.00", "tax", "7.00",
                                       "scope", "season", NULL));
}

static double
read_cost (Farm *farm, int season)
{
  BedSeason page;

  g_assert_true (bed_season_read (farm->farm, season, &page, NULL));
  farm_write (farm, season);
  expect (farm, "figure_cost", 0, page.cost / 100.0);
  expect (farm, "Total_cost", 0, page.cost / 100.0);
  expect (farm, "Cost_uncharged", 0, 0);
  return page.cost / 100.0;
}

static void
test_tax (void)
{
  g_autoptr (Farm) farm = farm_new ("metric");
  double without = read_cost (farm, 2026), taxes;

  taxes
      = ask_one (farm->farm, "SELECT total (tax) FROM purchase WHERE bought_on >= '2026-01-01'", 0)
        / 100.0;
  buy_wax (farm, "2026-03-01");
  g_assert_cmpfloat_with_epsilon (read_cost (farm, 2026), without + 100, 1e-9);
  g_autoptr (BedRecord) settings = bed_record_copy (bed_farm_get_settings (farm->farm));
  bed_record_set_text (settings, "tax_reclaimed", "no");
  scene_add (farm->farm, g_steal_pointer (&settings));
  g_assert_cmpfloat_with_epsilon (read_cost (farm, 2026), without + 107 + taxes, 1e-9);
}

static void
test_stock (void)
{
  g_autoptr (Farm) farm = farm_new ("metric");
  double before = read_cost (farm, 2025), after = read_cost (farm, 2026), wax;

  buy_wax (farm, "2025-03-01");
  wax = read_cost (farm, 2025);
  g_assert_cmpfloat_with_epsilon (wax, before + 100, 1e-9);
  scene_add (farm->farm, scene_record (farm->farm, BED_KIND_STOCK_COUNT, "counted_on", "2025-12-31",
                                       "category", "wax", "amount", "30.00", NULL));
  g_assert_cmpfloat_with_epsilon (read_cost (farm, 2025), wax - 30, 1e-9);
  expect (farm, "Stock_change", 1, -30);
  /* Not counted again yet, it is there still. */
  g_assert_cmpfloat_with_epsilon (read_cost (farm, 2026), after, 1e-9);
  expect (farm, "Stock_closing", 1, 30);
  scene_add (farm->farm, scene_record (farm->farm, BED_KIND_STOCK_COUNT, "counted_on", "2026-11-30",
                                       "category", "wax", "amount", "5.00", NULL));
  g_assert_cmpfloat_with_epsilon (read_cost (farm, 2026), after + 25, 1e-9);
}

/* A lot and what paid for it are one. */
static void
test_spawn_once (void)
{
  g_autoptr (Farm) farm = farm_new ("metric");
  double before = read_cost (farm, 2026);
  scene_add (farm->farm, scene_record (farm->farm, BED_KIND_PURCHASE, "bought_on", "2026-03-01",
                                       "category", "spawn", "what", "spawn", "amount", "90.00",
                                       "scope", "season", "spawn", "S26-1", NULL));
  g_assert_cmpfloat_with_epsilon (read_cost (farm, 2026), before, 1e-9);
}

/* What a lender asks: two buyers in two months, one of whom has paid; and the seasons as the page
 * of each has them. */
static void
test_lender (void)
{
  g_autoptr (Farm) farm = farm_new ("metric");
  BedSeason page;

  gint64 id = bed_farm_find (farm->farm, BED_KIND_SALE, "V26-1", NULL);
  g_autoptr (BedRecord) sale = bed_farm_load (farm->farm, BED_KIND_SALE, id, NULL);
  bed_record_set_text (sale, "paid_on", "2026-06-03");
  scene_add (farm->farm, g_steal_pointer (&sale));
  read_cost (farm, 2026);
  /* @the corner table in May, then Saturday stall. */
  expect (farm, "Buyers_sold", 0, 33.35);
  expect (farm, "Buyers_paid", 0, 33.35);
  expect (farm, "Buyers_fresh", 1, 0.9);
  expect (farm, "Buyers_dried", 1, 0.05);
  expect (farm, "Buyers_sold", 1, 28.80);
  expect (farm, "Buyers_paid", 1, 0);
  expect (farm, "Months_sold", 4, 33.35 + 28.80);
  expect (farm, "Months_paid", 4, 0);
  expect (farm, "Months_paid", 5, 33.35);
  expect (farm, "Months_spawn", 1, 71.37);
  expect (farm, "Months_bought", 1, 21.59);
  for (int i = 0; i < 3; i++)
    {
      g_assert_true (bed_season_read (farm->farm, 2024 + i, &page, NULL));
      expect (farm, "Seasons_season", i, 2024 + i);
      expect (farm, "Seasons_mass", i, page.picked / 1e6);
      expect (farm, "Seasons_cost", i, page.cost / 100.0);
      expect (farm, "Seasons_margin", i, (page.income - page.cost) / 100.0);
    }
  /* 24A in its years 0 to 2, at 20.00 and 53.15 / 2.4 a kg; what is still to come stands apart. */
  /* 7 of the 11 logs that lay there. */
  expect (farm, "Lives_mass", 1, 2.31 * 7 / 11);
  expect (farm, "Lives_price", 1, 20);
  expect (farm, "Lives_coming", 2, 0);
  expect (farm, "Lives_price", 2, 53.15 / 2.4);
  expect (farm, "Lives_coming", 3, 1);
}

/* What a certifier asks: the spawn of a crop from earlier years, and where every gram is. */
static void
test_certifier (void)
{
  g_autoptr (Farm) farm = farm_new ("metric");

  farm_write (farm, 2026);
  g_assert_nonnull (
      strstr (farm_check ("words", farm->book, "Sources_code", NULL), "S24-1 S25-1 S26-1"));
  expect (farm, "Balance", 0, 0);
  expect (farm, "Balance_loose", 0, 0.091);
  expect (farm, "Dried_after", 0, 0.061 - 0.05);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/report/money/winter-before", test_winter_before);
  g_test_add_func ("/report/money/winter-after", test_winter_after);
  g_test_add_func ("/report/money/without-logs", test_without_logs);
  g_test_add_func ("/report/money/after-the-last-log", test_after_the_last_log);
  g_test_add_func ("/report/money/wanted", test_wanted);
  g_test_add_func ("/report/money/tax", test_tax);
  g_test_add_func ("/report/money/stock", test_stock);
  g_test_add_func ("/report/money/spawn-once", test_spawn_once);
  g_test_add_func ("/report/money/lender", test_lender);
  g_test_add_func ("/report/money/certifier", test_certifier);
  return g_test_run ();
}
