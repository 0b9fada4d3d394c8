#pragma once

/* The rotation written down a second time, as an independent solver reads it. */

#include "science/rotation.h"

/* What the stand-alone solver of GLPK made of a problem. */
typedef struct
{
  double cost;
  double seconds;
  gboolean proved; /* optimal, not stopped by the time limit */
} ModelAnswer;

typedef enum
{
  MODEL_WHOLE,   /* whole logs and groups, branch and bound */
  MODEL_RELAXED, /* the linear programme: a bound */
} ModelKind;

/* Whether glpsol can be run here. */
gboolean model_can_run (void);

/* Solves @problem with glpsol, for no more than @seconds. FALSE when it found
 * nothing in that time. */
gboolean model_solve (const BedRotationProblem *problem, ModelKind kind, int seconds,
                      ModelAnswer *answer);
