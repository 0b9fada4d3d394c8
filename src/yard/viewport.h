#pragma once

#include "yard/yard.h"

/* What part of a drawing in metres is looked at, and how large. World: x right,
 * y up. Screen (or page): x right, y down, origin at the upper left. */
typedef struct
{
  double scale;         /* screen units to a metre */
  BedPoint middle;      /* the world point in the middle of the screen */
  double width, height; /* of the screen */
} BedViewport;

/* A point of one in the other. */
BedPoint bed_viewport_to_screen (const BedViewport *view, BedPoint world);
BedPoint bed_viewport_to_world (const BedViewport *view, BedPoint screen);

/* Shows all of @extent with @margin screen units around it. */
void bed_viewport_fit (BedViewport *view, const BedExtent *extent, double margin);

/* Enlarges by @factor, the world point under @screen staying where it is. The
 * scale keeps within BED_VIEWPORT_LEAST and BED_VIEWPORT_MOST. */
void bed_viewport_zoom (BedViewport *view, double factor, BedPoint screen);

/* 4 to 2000 screen units to a metre: a hectare on a screen, a log end the size of a hand. */
#define BED_VIEWPORT_LEAST 4.0
#define BED_VIEWPORT_MOST 2000.0

/* Moves the drawing by that many screen units. */
void bed_viewport_pan (BedViewport *view, double dx, double dy);

/* The longest round length (1, 2 or 5 times a power of ten metres) that is at most @most screen
 * units long: for scale bars and grids. */
double bed_viewport_round_length (const BedViewport *view, double most);
