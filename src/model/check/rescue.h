#pragma once

#include "model/farm/farm.h"
#include <glib.h>

/* Saves what can be read of a damaged farm into a new, sound one, record by record.
 *
 * The damaged file is only ever read. It is read twice, as it lies and as SQLite mends it (in a
 * copy) when a journal lies beside it, and the reading that gives more is kept. Pages are read
 * one by one (pages.h), so that one that is damaged takes no other with it; a record on a
 * damaged page is taken from the history where that still has it.
 *
 * What is not as it was, is said of each record: text that is none is put right, a reference to
 * nothing is left out where it may be, a name that is there twice gets a number. What the tables
 * cannot hold at all is lost and listed. Rules are not asked: bed_check_farm() on the new farm
 * says which records break one. Of the history is kept what fits the records. */

typedef enum
{
  BED_RESCUE_LOST,    /* it is not in the new farm */
  BED_RESCUE_CHANGED, /* it is, and not quite as it was */
} BedRescueFate;

typedef struct
{
  BedRescueFate fate;
  BedKind kind; /* BED_N_KINDS: not of one record */
  gint64 id;    /* 0: not known */
  char *why;    /* a sentence */
} BedRescueNote;

typedef struct
{
  gint64 saved[BED_N_KINDS]; /* records of each kind in the new farm */
  gint64 changes_read, changes_kept;
  GPtrArray *notes; /* element BedRescueNote */
} BedRescue;

/* Makes the farm at @path. EXISTS when there is a file at it; NOT_FOUND or NOT_A_FARM when no
 * record of a farm can be found at @damaged; FULL and FAILED as bed_farm_new(). On any error
 * nothing is left at @path. */
BedRescue *bed_rescue_farm (const char *damaged, const char *path, GError **error);
void bed_rescue_free (BedRescue *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedRescue, bed_rescue_free)

gint64 bed_rescue_count_saved (const BedRescue *self);
