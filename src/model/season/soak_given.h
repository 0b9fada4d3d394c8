#pragma once

#include "model/farm/farm.h"
#include "model/season/crop_book.h"

/* What a soak brings: what the logs are due in the season by the crop's model (crop_book.h: kind,
 * age, batch), times the share of a season that a soak of their mushroom and method is on this
 * farm. That share is learned of the picks that followed soaks, from the day logs go in to the last
 * day of their flush, over what the soaked logs were due. A pick of a log is of its own soak; one
 * of a stack or a batch is of those of its logs that were soaked, if any were: what came by itself,
 * or of kinds that are not soaked, is left out. Of the last 200 soaks within two years.
 *
 * Mushrooms are picked from day 5 to day 14 after the lift (sources in due_rules.c). Of a soak
 * lifted on a Thursday, evenly over those ten days, six fall into the next week and four into the
 * one after. */
#define BED_SOAK_N_LAGS 2
extern const double bed_soak_lag_shares[BED_SOAK_N_LAGS];

typedef struct _BedSoakKind BedSoakKind;

typedef struct
{
  GHashTable *by_day; /* YYYY-MM-DD -> double *, kg picked after soaks */

  /*< private >*/
  GHashTable *kinds;    /* mushroom and method -> BedSoakKind */
  GHashTable *by_batch; /* id -> BedSoakKind of ->kinds */
  BedCropBook *book;
} BedSoakGiven;

/* As it was known on @day, YYYY-MM-DD; kept until the farm changes. NULL and an error when the farm
 * cannot be read. */
BedSoakGiven *bed_soak_given_new (BedFarm *farm, const char *day, GError **error);
void bed_soak_given_unref (BedSoakGiven *given);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedSoakGiven, bed_soak_given_unref)

/* What a log of @batch gives a soak in @season (the year it began), kg; where no soak of its
 * mushroom and method gave anything yet 3/8 lb, the middle of 1/4-1/2 lb a flush (S. Gabriel, "How
 * many mushroom logs do I need?", 2012). */
double bed_soak_given_get_kg (const BedSoakGiven *given, gint64 batch, int season);
gboolean bed_soak_given_is_own (const BedSoakGiven *given, gint64 batch, int season);

/* What the soaks on record should bring in each of @n_weeks weeks from @monday on, kg. */
gboolean bed_soak_given_expect (const BedSoakGiven *given, BedFarm *farm, const char *monday,
                                guint n_weeks, double *kg, GError **error);
