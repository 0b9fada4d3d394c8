#pragma once

#include "model/farm/farm.h"

/* An invented farm with some years behind it, for trying Bedlog out, for tests,
 * benches and pictures. Place, people and trade names are made up, and so is every
 * number in it but those whose source stands beside them in the code. It is written
 * through BedEdit alone, day by day, so its history reads like a real one. */
typedef struct
{
  int logs;             /* 1 to 200,000, waiting bolts among them; 0: 300 */
  int years;            /* 1 to 20 seasons, the running one included; 0: 5 */
  guint32 seed;         /* the same plan, today written out, makes the same bytes */
  const char *today;    /* YYYY-MM-DD, the last day of the story; NULL: the clock's */
  const char *units;    /* a choice of farm.unit_system; NULL: US */
  const char *currency; /* three letters; NULL: USD */
} BedDemoPlan;

/* Makes the file at @path and opens it; its clock is the user's again. EXISTS when
 * there is a file already; INVALID when the plan is out of its range. Nothing is
 * left at @path after an error. */
BedFarm *bed_demo_new (const char *path, const BedDemoPlan *plan, GError **error);
