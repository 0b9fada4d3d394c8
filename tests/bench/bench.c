#include "bench.h"

#include <math.h>
#include <time.h>

static int
compare (gconstpointer a, gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

void
bench_row (const BenchRow *row)
{
  g_print ("row\t%s\t%s\t%.9g\t%.9g\t%s\n", row->key, row->what, row->here, row->beside, row->unit);
}

double
bench_now (void)
{
  return g_get_monotonic_time () / 1e6;
}

double
bench_cpu (void)
{
  struct timespec used;

  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &used);
  return used.tv_sec + used.tv_nsec / 1e9;
}

double
bench_median (GArray *values)
{
  guint n = values->len;

  g_array_sort (values, compare);
  return n == 0
             ? NAN
             : (g_array_index (values, double, (n - 1) / 2) + g_array_index (values, double, n / 2))
                   / 2;
}

double
bench_least (GArray *values)
{
  g_array_sort (values, compare);
  return values->len ? g_array_index (values, double, 0) : NAN;
}
