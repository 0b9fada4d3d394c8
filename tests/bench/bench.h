#pragma once

#include <glib.h>

/* What the benches share. A bench prints rows, one a line, which bench.py gathers into the table:
 * key, what, here, beside it, unit; separated by tabs. The goals stand in bench.py. */

typedef struct
{
  const char *key; /* of the goal */
  const char *what;
  double here, beside; /* NAN beside: nothing to compare with */
  const char *unit;
} BenchRow;

void bench_row (const BenchRow *row);

/* Seconds by a clock that only goes forward. */
double bench_now (void);

/* Seconds the processors have worked for this process, all together. */
double bench_cpu (void);

/* Of GArray of double: sorted in place. */
double bench_median (GArray *values);
double bench_least (GArray *values);
