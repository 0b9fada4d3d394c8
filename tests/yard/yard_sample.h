#pragma once

#include "yard/yard.h"

/* An invented yard for tests and pictures. */

/* A stack of that kind at (x, y) with @n logs whose sizes come from @seed, marks from @mark on. */
typedef struct
{
  BedStackKind kind;
  double x, y, turn; /* turn in degrees */
  guint n;
  int mark;
  guint32 seed;
} SampleStack;

BedYardStack *sample_stack_new (const SampleStack *sample);

/* Its corners as older versions stored them; no name. */
void sample_add_feature (BedYard *yard, BedFeatureKind kind, const char *outline);

/* A feature and a stack of each kind. */
BedYard *sample_yard_new (void);

/* 40 stacks, 1000 logs. */
BedYard *sample_large_yard_new (void);
