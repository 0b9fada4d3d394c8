#pragma once

#include <glib.h>

/* Farms made up, whose truth is known: what the program expects of them is held against what
 * then comes. Everything is drawn from a seed. */

typedef struct
{
  guint farms;
  guint seasons;     /* past ones */
  double batch_luck; /* deviation of the logarithm */
  double empty;      /* share of batches' seasons that give nothing */
} SimFarms;

typedef struct
{
  double above;    /* share of truths above the middle */
  double ratio;    /* median of truth over the middle */
  double coverage; /* share of truths in the 80 % interval */
} SimForecast;

SimForecast sim_forecast (const SimFarms *farms, guint seed);

typedef struct
{
  guint kinds;     /* intervals */
  double coverage; /* share that hold the kind's true level */
  double error;    /* standard error of that share, were it 0.8 */
} SimKinds;

SimKinds sim_kinds (const SimFarms *farms, guint seed);
