#include "bench.h"

#include <math.h>
#include <sys/resource.h>

static int
compare (gconstpointer a, gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

void
bench_row (const BenchRow *row)
{
  g_print ("row\t%s\t%s\t%.9g\t%.9g\t%s\n", row->key, row->what, row->here, row->beside,
           row->unit);
}

double
bench_now (void)
{
  return g_get_monotonic_time () / 1e6;
}

double
bench_cpu (void)
{
  struct rusage usage;

  getrusage (RUSAGE_SELF, &usage);
  return usage.ru_utime.tv_sec + usage.ru_stime.tv_sec
         + (usage.ru_utime.tv_usec + usage.ru_stime.tv_usec) / 1e6;
}

double
bench_median (GArray *values)
{
  guint n = values->len;

  g_array_sort (values, compare);
  return n == 0 ? NAN : (g_array_index (values, double, (n - 1) / 2)
                         + g_array_index (values, double, n / 2)) / 2;
}

double
bench_least (GArray *values)
{
  g_array_sort (values, compare);
  return values->len ? g_array_index (values, double, 0) : NAN;
}
