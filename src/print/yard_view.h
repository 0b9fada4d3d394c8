#pragma once

#include "print/yard.h"

G_BEGIN_DECLS

/* What part of a drawing in metres is looked at, and how large. World: x right,
 * y up. Screen (or page): x right, y down, origin at the upper left. */
typedef struct
{
  double scale;   /* screen units to a metre */
  BedPoint middle; /* the world point in the middle of the screen */
  double width, height; /* of the screen */
} BedView;

/* A box in the world, metres. */
typedef struct
{
  double x, y, width, height;
} BedExtent;

/* A point of one in the other. */
BedPoint bed_view_to_screen (const BedView *view, BedPoint world);
BedPoint bed_view_to_world (const BedView *view, BedPoint screen);

/* Shows all of @extent with @margin screen units around it. */
void bed_view_fit (BedView *view, const BedExtent *extent, double margin);

/* Enlarges by @factor, the world point under @screen staying where it is. The
 * scale keeps within BED_VIEW_LEAST and BED_VIEW_MOST. */
void bed_view_zoom (BedView *view, double factor, BedPoint screen);

/* 4 to 2000 screen units to a metre: a hectare on a screen, a log end the size of a hand. */
#define BED_VIEW_LEAST 4.0
#define BED_VIEW_MOST 2000.0

/* Moves the drawing by that many screen units. */
void bed_view_pan (BedView *view, double dx, double dy);

/* The longest round length (1, 2 or 5 times a power of ten metres) that is at most @most screen
 * units long: for scale bars and grids. */
double bed_view_round_length (const BedView *view, double most);

G_END_DECLS
