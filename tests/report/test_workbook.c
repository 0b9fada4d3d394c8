#include "report_test.h"

static void
test_recalculates (gconstpointer data)
{
  g_autoptr (Farm) farm = farm_new (data);
  g_autofree char *again = g_strconcat (farm->folder, "/again.xlsx", NULL);

  farm_write (farm, 2026);
  farm_run (REPORT_TESTS "/recalculate.sh", farm->book, again, NULL);
  if (g_getenv ("KEEP")) farm_run ("cp", farm->book, "/tmp/r-book.xlsx", NULL);
  farm_run (PYTHON, REPORT_TESTS "/xlsx_check.py", "same", farm->book, again, NULL);
  farm_run (PYTHON, REPORT_TESTS "/xlsx_check.py", "opens", farm->book, NULL);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_data_func ("/report/workbook/recalculates/metric", "metric", test_recalculates);
  return g_test_run ();
}
