#pragma once

#include <sys/types.h>

#include "model/farm/farm_private.h"

G_BEGIN_DECLS

/* Others at work on the same file: what they changed, when they hold it, and whether
 * it is still there. Model room only; a part of every BedFarm. */
struct _BedFarmWatch
{
  dev_t device; /* of the file, when it was opened */
  ino_t inode;
  gint64 version;     /* PRAGMA data_version: moves with every commit of another connection */
  gint64 seen;        /* the newest change the views were told of */
  guint64 unseen;     /* kinds others changed since, as found when a write began */
  guint64 untold;     /* kinds the views have still to be told of */
  guint reading;      /* begun and not ended */
  gboolean in_read;   /* a transaction of its own is open for that */
  guint patience;     /* ms to wait for a lock */
  gint64 given_up;    /* us, monotonic: when a lock was last waited for in vain; 0: it is free */
  gboolean said_held; /* what "state-changed" was last emitted for */
  gboolean writing;   /* begun, and neither committed nor given up */
  gboolean stuck;     /* given up or read, and not even that could be ended: no memory */
  GError *trouble;    /* the first since it was last forgotten: see farm_private.h */
  char *gone_why;
  gboolean said_gone;
};

/* The farm has just been opened. */
void bed_farm_watch_begin (BedFarm *self);
void bed_farm_watch_clear (BedFarmWatch *watch);

/* READ_ONLY when nothing can be written, and why. */
gboolean bed_farm_check_writable (BedFarm *self, GError **error);

/* A transaction that writes: READ_ONLY when the file is not where it was, BUSY when another
 * holds it. Ids given from then on are above all that others have given to changes. */
gboolean bed_farm_begin_writing (BedFarm *self, GError **error);

/* Commits: @change is the row of table change (0: none), @kinds what it touched. On FALSE the
 * transaction is still open. bed_farm_tell() then tells the views, of what others did too. */
gboolean bed_farm_end_writing (BedFarm *self, gint64 change, guint64 kinds, GError **error);
void bed_farm_tell (BedFarm *self);

/* Within a transaction that writes: whether others changed records of @kind since the views were
 * told. */
gboolean bed_farm_is_unseen (BedFarm *self, BedKind kind);

/* Rolls back. */
void bed_farm_give_up_writing (BedFarm *self);

/* Refuses with CONFLICT what would take back or do again something the views have not been
 * told of. Within a transaction that writes. */
gboolean bed_farm_check_seen (BedFarm *self, GError **error);

G_END_DECLS
