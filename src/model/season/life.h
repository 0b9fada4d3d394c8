#pragma once

#include "model/farm/farm.h"

/* The life of a log or a batch, from the felled tree to today. */

typedef enum
{
  BED_LIFE_FELLED,
  BED_LIFE_INOCULATED,
  BED_LIFE_LAY, /* in a stack, from ->day until ->until */
  BED_LIFE_SOAKED,
  BED_LIFE_PICKED, /* on one day; a total from its first until its last */
  BED_LIFE_CHECKED,
  BED_LIFE_WEIGHED,
  BED_LIFE_RETIRED,
  BED_N_LIFE_KINDS
} BedLifeKind;

typedef struct
{
  BedLifeKind kind;
  char *day;   /* YYYY-MM-DD */
  char *until; /* the same; NULL: of one day, or until today */
  char *what;  /* felling, batch, stack or tank by name, why it was retired (a key); may be NULL */
  gint64 logs; /* that it is of; 1 of a log */
  double amount; /* mg picked or weighed; hundredths of a percent colonised, -1 not said */
} BedLifeEvent;

/* By day. Element BedLifeEvent; (transfer full). Of a batch, what is of several logs on a day is
 * one event; logs that came to a stack together lie there until the last of them has left. NULL and
 * an error when the farm cannot be read. */
GPtrArray *bed_life_of_log (BedFarm *farm, gint64 log, GError **error);
GPtrArray *bed_life_of_batch (BedFarm *farm, gint64 batch, GError **error);
