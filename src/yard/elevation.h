#pragma once

#include "yard/pile.h"

/* A stack seen from the side: each log end once, as a circle of its true
 * diameter. One look does not show every end (a crib's tiers lie crosswise, rows
 * stand one behind the other), so an elevation is one face or more, each with
 * its own ground line.
 *
 * Metres on the drawing: x to the right, y up, origin at the lower left. */

typedef struct
{
  guint bar;       /* index in pile->bars */
  guint face;      /* index in faces */
  BedPoint middle; /* of the end; of a totem's section, which hides it, of its side */
  BedPoint foot;   /* of the other end; the same point when seen end on, or when a side shows it */
  double radius;
} BedLogEnd;

/* A log seen along its length on a face that is not its own, or what logs lie on. */
typedef struct
{
  guint bar; /* G_MAXUINT: a rail, post, runner, stake, base or cap */
  guint face;
  BedPoint from, to;
  double radius;
} BedLogSide;

typedef struct
{
  char *caption;
  BedPoint corner; /* left end of the ground line */
  double width, height;
} BedEndFace;

typedef struct
{
  BedPile *pile;
  guint n_faces;
  GArray *faces; /* BedEndFace */
  GArray *ends;  /* BedLogEnd, one for each bar */
  GArray *sides; /* BedLogSide */
  double width, height;
} BedElevation;

typedef enum
{
  BED_FACES_ACROSS,  /* side by side */
  BED_FACES_DOWN,    /* one below the other */
  BED_FACES_AS_FITS, /* two high faces side by side, long rows one below the other */
} BedFacesFlow;

/* Borrows the stack, which must outlive it. */
BedElevation *bed_elevation_new (const BedYardStack *stack, BedFacesFlow flow);
void bed_elevation_free (BedElevation *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedElevation, bed_elevation_free)

#define bed_elevation_end(self, i) (&g_array_index ((self)->ends, BedLogEnd, i))

/* The bar an end belongs to; borrowed. */
const BedBar *bed_elevation_get_bar (const BedElevation *self, guint end);

/* Which end (or free slot) is at @point, or -1. */
int bed_elevation_hit (const BedElevation *self, BedPoint point);

typedef enum
{
  BED_TO_LEFT,
  BED_TO_RIGHT,
  BED_TO_UP,
  BED_TO_DOWN
} BedDirection;

/* The nearest end in that direction; @end itself when there is none. */
guint bed_elevation_step (const BedElevation *self, guint end, BedDirection direction);

/* The end with that log, or -1. */
int bed_elevation_find_log (const BedElevation *self, gint64 log);
