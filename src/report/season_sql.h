#pragma once

/* Pieces of the questions that several sheets ask alike, so that a log counted
 * in one is counted in the other. ?1 is the first day of the season, ?2 the day
 * after its last. */

/* Oven-dry wood of log l in wood w, mg: mean of the two end areas times the
 * length (Smalian) times basic density, diameters over bark made less by the
 * bark's share. um3 times kg/m3 is 1e-12 mg. */
#define LOG_DRY_MASS                                                                               \
  "(0.785398163397448 * (1.0 * l.small_diameter * l.small_diameter"                                \
  " + 1.0 * coalesce (l.large_diameter, l.small_diameter)"                                         \
  " * coalesce (l.large_diameter, l.small_diameter)) / 2 * l.length * w.basic_density * 1e-12"     \
  " / (1 + coalesce (w.bark_share, 0) / 10000.0))"

/* What a use u of spawn lot s cost, minor units, rounded to the nearest. */
#define SPAWN_SHARE                                                                                \
  "CASE WHEN s.mass > 0 AND u.mass > 0 THEN (coalesce (s.cost, 0) * u.mass + s.mass / 2) / s.mass" \
  " WHEN s.pieces > 0 AND u.pieces > 0"                                                            \
  " THEN (coalesce (s.cost, 0) * u.pieces + s.pieces / 2) / s.pieces ELSE 0 END"

/* What an entry h of hours cost, minor units, rounded to the nearest. */
#define HOURS_COST                                                                                 \
  "((h.minutes * coalesce (h.rate, (SELECT labour_rate FROM farm), 0) + 30) / 60)"
