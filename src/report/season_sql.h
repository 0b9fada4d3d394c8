#pragma once

/* Pieces of the questions that several sheets ask alike. ?1 is the first day of the
 * season, ?2 the day after its last. */

/* What a use u of spawn lot s cost, minor units, rounded to the nearest. */
#define SPAWN_SHARE                                                                                \
  "CASE WHEN s.mass > 0 AND u.mass > 0 THEN (coalesce (s.cost, 0) * u.mass + s.mass / 2) / s.mass" \
  " WHEN s.pieces > 0 AND u.pieces > 0"                                                            \
  " THEN (coalesce (s.cost, 0) * u.pieces + s.pieces / 2) / s.pieces ELSE 0 END"

/* What an entry h of hours cost, minor units, rounded to the nearest. */
#define HOURS_COST "((h.minutes * coalesce (h.rate, (SELECT labour_rate FROM farm), 0) + 30) / 60)"
