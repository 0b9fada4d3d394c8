#pragma once

#include "model/farm/farm.h"

/* What soaks gave, and by it what they will: the picks that followed them, from the day logs go in
 * to the last day of their flush. A pick of a log is of its own soak; one of a stack or a batch is
 * of those of its logs that were soaked, if any were: what came by itself, or of kinds that are not
 * soaked, is left out. Of the last 200 soaks within two years.
 *
 * Mushrooms are picked from day 5 to day 14 after the lift (sources in due_rules.c). Of a soak
 * lifted on a Thursday, evenly over those ten days, six fall into the next week and four into the
 * one after. */
#define BED_SOAK_N_LAGS 2
extern const double bed_soak_lag_shares[BED_SOAK_N_LAGS];

typedef struct
{
  GHashTable *by_batch; /* id -> double *, kg a log gives a soak: the mean of its mushroom and
                         * method; none where no soak of them gave anything yet */
  GHashTable *by_day;   /* YYYY-MM-DD -> double *, kg picked after soaks */
} BedSoakGiven;

/* As it was known on @day, YYYY-MM-DD. NULL and an error when the farm cannot be read. */
BedSoakGiven *bed_soak_given_new (BedFarm *farm, const char *day, GError **error);
void bed_soak_given_free (BedSoakGiven *given);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedSoakGiven, bed_soak_given_free)

/* What a log of @batch gives a soak, kg; where the farm does not know 3/8 lb, the middle of 1/4-1/2
 * lb a flush (S. Gabriel, "How many mushroom logs do I need?", 2012). */
double bed_soak_given_get_kg (const BedSoakGiven *given, gint64 batch);
gboolean bed_soak_given_is_own (const BedSoakGiven *given, gint64 batch);

/* What the soaks on record should bring in each of @n_weeks weeks from @monday on, kg. */
gboolean bed_soak_given_expect (const BedSoakGiven *given, BedFarm *farm, const char *monday,
                                guint n_weeks, double *kg, GError **error);
