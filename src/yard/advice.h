#pragma once

#include "science/measure.h"
#include "yard/scene.h"
#include <glib.h>

/* What the trade warns of about one stack, in sentences. Each rule has its source
 * beside it in advice.c. */
typedef enum
{
  BED_ADVICE_TOO_HIGH,
  BED_ADVICE_TOO_TIGHT,
  BED_ADVICE_TOO_MANY,
  BED_ADVICE_SUN,
  BED_ADVICE_TOO_NEAR,
  BED_ADVICE_OUTSIDE,
  BED_ADVICE_UNSTEADY, /* higher than it is wide */
  BED_ADVICE_ON_PATH,
  BED_ADVICE_IN_THE_WAY, /* in a building, in water, across a trunk or a fence */
  BED_ADVICE_NO_WAY,     /* too narrow to carry a log out */
  BED_ADVICE_FAR_FROM_WATER,
} BedAdviceAbout;

typedef struct
{
  BedAdviceAbout about;
  char *sentence;
  const char *source; /* "FOR-83, …" or "common practice" */
} BedAdvice;

/* What is known of one stack. */
typedef struct
{
  GPtrArray *advice; /* see bed_yard_advice() */
  double to_water;   /* see bed_ways_to_water() */
} BedStackLook;

BedStackLook *bed_stack_look_new (const BedScene *scene, guint index, const BedNotation *notation);
void bed_stack_look_free (BedStackLook *look);

/* Element BedAdvice, owned; empty when there is nothing to say. @notation: for the lengths in the
 * sentences. */
GPtrArray *bed_yard_advice (const BedScene *scene, guint index, const BedNotation *notation);
