#pragma once

#include "model/farm/farm.h"
#include "science/crop_model.h"

/* What every batch gave in every season and how its logs fared, and the model of it: the one from
 * which all that is expected is reckoned, of a season (crop.h) and of a soak (soak_given.h).
 * Batches without single logs are not in it. */

/* One strain on one wood. */
typedef struct
{
  char *wood;   /* '+': batches of several */
  char *strain; /* "-" for none known */
} BedCropKind;

typedef struct
{
  gint64 id;
  guint kind;                  /* index in ->kinds */
  int season;                  /* of inoculation */
  double kg[BED_CROP_AGES];    /* by age in seasons */
  double stood[BED_CROP_AGES]; /* logs not retired before that season */
  gint64 logs;                 /* made */
} BedCropBatchLife;

/* Logs of one batch that were retired in one season, or still live. */
typedef struct
{
  guint batch;       /* index in ->batches */
  int until;         /* season, 9999: alive */
  gboolean is_spent; /* not sold or lost */
  guint logs;
} BedCropLives;

typedef struct
{
  GPtrArray *kinds; /* BedCropKind */
  GArray *batches;  /* BedCropBatchLife, by day of inoculation */
  GArray *lives;    /* BedCropLives */
  int season;       /* to the end of which, or to today, all is known */
  gboolean runs;    /* it is not over */
  BedCropModel *model;

  /*< private >*/
  GHashTable *index; /* batch id to place + 1 */
  double share;      /* of the season's mass that has usually come by today */
} BedCropBook;

/* Where the mass of each batch and season, and of each day, is asked of. */
typedef enum
{
  BED_CROP_OF_VIEWS,    /* of the farm */
  BED_CROP_OF_RECKONED, /* of the tables that bed_outlook_read() has made */
} BedCropSource;

/* The farm's book of @season (the year it began), kept until the farm or its day is another, so
 * that a page which was opened before opens at once. NULL and an error when the farm cannot be
 * read. */
BedCropBook *bed_crop_book_new (BedFarm *farm, int season, BedCropSource source, GError **error);
void bed_crop_book_unref (BedCropBook *book);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedCropBook, bed_crop_book_unref)

/* What a log of the batch @id should give in @season beside any other log, in units of the model's
 * level: by kind, age and batch. 0 of a batch that is not in the book or not inoculated yet. */
double bed_crop_book_get_due (const BedCropBook *book, gint64 id, int season);
