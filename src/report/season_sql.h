#pragma once

/* Pieces of the questions that several sheets ask alike, so that a log counted
 * in one is counted in the other. ?1 is the first day of the season, ?2 the day
 * after its last. */

/* Of a log l: it stood inoculated in the season, and was not retired before it. */
#define LOG_IN_SEASON                                                                              \
  "(SELECT count (*) FROM batch ib WHERE ib.id = l.batch AND ib.inoculated_on < ?2)"               \
  " AND (l.retired_on IS NULL OR l.retired_on >= ?1)"

/* Of a log l: inoculated, and not retired when the season ended. */
#define LOG_ALIVE                                                                                  \
  "(SELECT count (*) FROM batch ab WHERE ab.id = l.batch AND ab.inoculated_on < ?2)"               \
  " AND (l.retired_on IS NULL OR l.retired_on >= ?2)"

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

/* What each log gave before the season, and its part, this season, of picks made
 * from its stack or its batch, mg: log_crop (log, share, earlier). What was picked
 * from a log itself this season is on the sheet of picks. NOT INDEXED:
 * one walk of the table is less work than an index left for every row. */
#define LOG_CROP                                                                                   \
  "own (log, mass) AS (SELECT log, sum (mass) FROM pick NOT INDEXED"                               \
  " WHERE log IS NOT NULL AND picked_on < ?1 GROUP BY log),"                                       \
  " spell AS MATERIALIZED (SELECT stack, since, until,"                                            \
  " sum (CASE WHEN picked_on >= ?1 THEN mass ELSE 0 END) AS season,"                               \
  " sum (CASE WHEN picked_on < ?1 THEN mass ELSE 0 END) AS earlier"                                \
  " FROM stack_share WHERE picked_on < ?2 GROUP BY 1, 2, 3),"                                      \
  " batch_pick (log, picked_on, mass) AS (SELECT l.id, p.picked_on,"                               \
  " p.mass * 1.0 / count (*) OVER (PARTITION BY p.id) FROM pick p JOIN log l ON l.batch = p.batch" \
  " AND (l.retired_on IS NULL OR l.retired_on > p.picked_on)"                                      \
  " WHERE p.log IS NULL AND p.stack IS NULL AND p.batch IS NOT NULL AND p.picked_on < ?2),"        \
  " part (log, season, earlier) AS (SELECT log, 0, mass FROM own UNION ALL"                        \
  " SELECT x.log, s.season, s.earlier FROM place x JOIN spell s ON s.stack = x.stack"              \
  " AND s.since = x.since AND s.until = coalesce (x.until, '9999') UNION ALL"                      \
  " SELECT log, CASE WHEN picked_on >= ?1 THEN mass ELSE 0 END,"                                   \
  " CASE WHEN picked_on < ?1 THEN mass ELSE 0 END FROM batch_pick),"                               \
  " log_crop (log, share, earlier) AS MATERIALIZED (SELECT log, sum (season), sum (earlier)"       \
  " FROM part GROUP BY log)"
