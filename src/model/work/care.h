#pragma once

#include "model/farm/farm.h"
#include "science/drying.h"

/* The water in a batch's logs: the farm's records put to science/drying.h and moisture.h. Moisture
 * is percent, dry basis, unless the name says otherwise; masses kg; dates YYYY-MM-DD. */

typedef enum
{
  BED_CARE_BY_SPECIES, /* dry mass from the log's size and the wood's mean density */
  BED_CARE_BY_DISC,    /* from a sample disc of its batch or felling */
} BedCareBasis;

/* A sample log: one that is on the scale now and then. */
typedef struct
{
  gint64 log;
  char *code;
  BedCareBasis basis;
  double dry_kg;    /* not less what the fungus has eaten since: moisture then reads low */
  char *weighed_on; /* last */
  double mass_kg;   /* then */
  double pct;       /* then */
  double wet_at_kg; /* the weight at which it reaches the alarm; NAN without one */
} BedCareLog;

/* The mean of the sample logs weighed on one day. */
typedef struct
{
  char *date;
  double pct;
  guint logs;
} BedCarePoint;

typedef enum
{
  BED_CARE_NO_TREND, /* no weighing since the last wetting, or no alarm above air-dry */
  BED_CARE_TREND,
} BedCareTrend;

typedef struct
{
  GPtrArray *logs;   /* BedCareLog, by code; empty without weighings */
  GPtrArray *points; /* BedCarePoint, by date */
  double alarm_pct;  /* of the farm's settings; NAN where not set */
  double low_pct;    /* target */
  double high_pct;
  double rest_pct; /* where drying ends: air of 80 %, bed_air() */
  char *wetted_on; /* last soak's end or the day after a watering; NULL for never */
  BedCareTrend trend;
  BedDrying drying; /* when there is a trend */
  double today_pct;
  char *trend_from;  /* the first weighing of the trend */
  GArray *rains;     /* int: days after it with rain that counts, on which logs do not dry */
  char *alarm_on;    /* median; NULL when more than three years away */
  char *alarm_early; /* 10 % */
  char *alarm_late;  /* 90 % */
} BedCareMoisture;

/* The sample logs of @batch that are not retired, weighed up to today. NULL and an error when
 * the farm cannot be read. */
BedCareMoisture *bed_care_moisture_new (BedFarm *farm, gint64 batch, GError **error);
void bed_care_moisture_free (BedCareMoisture *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedCareMoisture, bed_care_moisture_free)

/* Moisture on @date by the trend, which there must be; as if it rained no more after today. */
double bed_care_moisture_at (const BedCareMoisture *self, const char *date);

/* @pct on the farm's own basis. */
double bed_care_in_basis (BedFarm *farm, double pct);

/* What a soak does, learnt from the last 200 logs weighed within three days before one and
 * within three after it: points of moisture that @hours add. No curve for whole logs is
 * published, so a farm that did not weigh has none: @soaks is 0 then and nothing else is
 * set. */
typedef struct
{
  guint soaks; /* logs weighed round a soak */
  BedSoakFit fit;
  double gain_pct;
} BedCareSoak;

gboolean bed_care_soak_read (BedFarm *farm, double hours, BedCareSoak *soak, GError **error);
