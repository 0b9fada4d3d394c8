#pragma once

#include "print/yard/yard_draw.h"
#include "yard/yard.h"

/* What is seen of a farm's yards. */
typedef struct
{
  BedFarm *farm;
  gint64 area;
  const char *day;  /* YYYY-MM-DD */
  const char *plan; /* the day of the plan that is drawn over it; NULL: none */
  BedColourBy colour_by;
  gboolean staged; /* with the stages of its logs, whatever the colours are of */
} BedYardSeen;

/* The area to begin with: @area if there is one, else the one with most stacks; 0 where the farm
 * has none. FALSE when it cannot be read. */
gboolean bed_yard_seen_find_area (BedFarm *farm, gint64 *area, GError **error);

/* It with what its colours are of; owned by the caller. NULL as bed_yard_load(). */
BedYard *bed_yard_seen_load (const BedYardSeen *seen, GError **error);
