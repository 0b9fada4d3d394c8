-- The questions Bedlog asks, as temporary views made anew at each opening: they
-- belong to the program, not to the farm file, so they need no migration and a
-- strange file cannot bring its own. Functions from the program: bed_today(),
-- bed_now(), bed_season(date) (the year its season began), bed_season_first(year), bed_week(date)
-- (ISO, '2026-W20'). The rules of the trade that are asked all over are said once, here
-- or there, and tests/tree finds them where they are said again:
--   bed_alive (retired_on, day)      a log is alive on a day before the one it is retired on
--   bed_stood (retired_on, first)    it stood in a season if that day is in it or later, so
--                                    what is picked that day has a log it came from
--   bed_lies (since, until, day)     it lies there from the day it came, the day it left not
--   bed_pick_week (since, picked_on) the week a pick belongs to; NULL of a total longer than it
--   pick_dated                       what was picked on one day: no totals
--   bed_pick_share (mass, logs)      what each of the logs has of a pick that is theirs together
--   bed_run_over (batch, inoculated_on, months), bed_rest_over (put_in, weeks),
--   bed_flush_over (taken_out)       when the spawn run, the rest, the flush is over
--   bed_stage (day, now, …)          the stage of a log on a day
--   bed_rest_weeks (weeks)           how long a strain rests: as it says, or as the farm does
--   bed_out_of_sight (retired_why)   sold or lost: how long it lives on is not known
--   main_spawn                       the spawn lot that a batch goes by
--   until IS NULL                    where it lies now: no date of a place may lie ahead
--   bed_part_cost (cost, mass, of_mass, pieces, of_pieces)  what part of a lot's cost goes with it
--   hours_paid, spawn_share, equipment_charge  what work, spawn and equipment cost
--   purchase_paid, stock_used        what of purchases is a cost, what a season used of its stock
--   log_waiting, log_forced          which logs lie nowhere, which may be soaked
--   soak_month                       in which months soaks go on

-- What was picked on a day that is known. A total of several picks (since) has none: it counts in
-- every mass, and where days or single picks matter it does not.
CREATE TEMP VIEW pick_dated AS
SELECT id, picked_on, log, stack, batch, grade, mass, lot, picker, notes
  FROM pick WHERE since IS NULL;

-- Which log shares in a pick, with how much (mg, fraction kept). A pick of a log is
-- its own; one of a stack is spread evenly over the logs lying there that day; one
-- of a batch over its logs not yet retired. Asked for one log or lot, named
-- by a parameter or in IN of a plain list, it looks at no other picks; joined or
-- summed over many it is made whole, which takes seconds on a big farm.
CREATE TEMP VIEW pick_log AS
SELECT p.id AS pick, p.log AS log, p.since AS since, p.picked_on AS picked_on, p.lot AS lot,
       p.mass * 1.0 AS mass
  FROM pick p WHERE p.log IS NOT NULL
UNION ALL
SELECT p.id, x.log, p.since, p.picked_on, p.lot, bed_pick_share (p.mass,
       (SELECT count(*) FROM place y
         WHERE y.stack = p.stack AND bed_lies (y.since, y.until, p.picked_on)))
  FROM pick p JOIN place x ON x.stack = p.stack AND bed_lies (x.since, x.until, p.picked_on)
 WHERE +p.log IS NULL AND p.stack IS NOT NULL
UNION ALL
SELECT p.id, l.id, p.since, p.picked_on, p.lot, bed_pick_share (p.mass,
       (SELECT count(*) FROM log m WHERE m.batch = p.batch
           AND bed_alive (m.retired_on, p.picked_on)))
  FROM pick p JOIN log l ON l.batch = p.batch
       AND bed_alive (l.retired_on, p.picked_on)
 WHERE +p.log IS NULL AND +p.stack IS NULL AND p.batch IS NOT NULL;

-- The spawn lot most of a batch came from; NULL where none is entered.
CREATE TEMP VIEW main_spawn AS
SELECT b.id AS batch, (SELECT u.spawn FROM spawn_used u WHERE u.batch = b.id
                        ORDER BY coalesce (u.mass, u.pieces, 0) DESC, u.id LIMIT 1) AS spawn
  FROM batch b;

-- Which strain and spawn a batch carries.
CREATE TEMP VIEW batch_spawn AS
SELECT b.batch, s.id AS spawn, s.code AS spawn_code, s.form AS form, t.id AS strain,
       t.name AS strain_name, t.type AS strain_type, m.id AS mushroom,
       m.common_name AS mushroom_name, t.run_least AS run_least, t.run_most AS run_most,
       bed_rest_weeks (t.rest_weeks) AS rest_weeks
  FROM main_spawn b
  LEFT JOIN spawn s ON s.id = b.spawn
  LEFT JOIN strain t ON t.id = s.strain
  LEFT JOIN mushroom m ON m.id = t.mushroom;

-- A log today: where it lies, its stage, last soak, crop so far.
-- Stages: felled, spawn run, ready, soaking, fruiting, resting, retired.
CREATE TEMP VIEW log_today AS
SELECT l.id, l.code, l.batch, b.code AS batch_code, l.felling, f.code AS felling_code,
       f.wood, w.common_name AS wood_name, l.length, l.small_diameter, l.large_diameter,
       l.green_mass, l.holes, l.bark, l.retired_on, l.retired_why, b.inoculated_on,
       t.name AS strain_name, m.common_name AS mushroom_name,
       x.stack, k.name AS stack_name, x.tier, x.slot, x.since AS place_since,
       s.code AS soak_code, s.put_in AS soaked_in, s.taken_out AS soaked_out,
       bed_rest_over (s.put_in, bed_rest_weeks (t.rest_weeks)) AS soak_from,
       (SELECT sum(p.mass) FROM pick p WHERE p.log = l.id) AS picked_alone,
       (SELECT max(p.picked_on) FROM pick_dated p WHERE p.log = l.id) AS picked_last,
       bed_stage (bed_today (), bed_now (), l.retired_on, l.batch, b.inoculated_on, t.run_least,
                  s.put_in, bed_rest_weeks (t.rest_weeks), s.taken_out,
                  s.id IS NOT NULL OR EXISTS (SELECT 1 FROM pick p WHERE p.log = l.id)) AS stage
  FROM log l
  JOIN felling f ON f.id = l.felling
  JOIN wood w ON w.id = f.wood
  LEFT JOIN batch b ON b.id = l.batch
  -- Not batch_spawn, which would be made whole for each log asked for.
  LEFT JOIN main_spawn u ON u.batch = l.batch
  LEFT JOIN spawn sp ON sp.id = u.spawn
  LEFT JOIN strain t ON t.id = sp.strain
  LEFT JOIN mushroom m ON m.id = t.mushroom
  LEFT JOIN place x ON x.log = l.id AND x.until IS NULL
  LEFT JOIN stack k ON k.id = x.stack
  LEFT JOIN soak s ON s.id = (SELECT so.id FROM soaked sd JOIN soak so ON so.id = sd.soak
                               WHERE sd.log = l.id ORDER BY so.put_in DESC, so.id DESC
                               LIMIT 1);

-- Logs that lie in no stack and could be put in one.
CREATE TEMP VIEW log_waiting AS
SELECT l.id, l.code, l.batch
  FROM log l
 WHERE bed_alive (l.retired_on, bed_today ())
       AND NOT EXISTS (SELECT 1 FROM place x WHERE x.log = l.id AND x.until IS NULL);

-- Logs that are forced by soaking: alive, inoculated with shiitake (or what nobody named), and
-- no totems. ready_on is when the rest after the last soak, or the first spawn run, is over, of
-- a log that bore before that when it did; log_today calls the same logs ready.
-- inside is 1 while in the tank. Those that may be soaked: inside = 0 AND ready_on <= bed_today ().
CREATE TEMP VIEW log_forced AS
WITH alive AS MATERIALIZED
       (SELECT l.id, l.batch,
               (SELECT max (s.put_in) FROM soaked d JOIN soak s ON s.id = d.soak
                 WHERE d.log = l.id) AS put_in,
               EXISTS (SELECT 1 FROM soaked d JOIN soak s ON s.id = d.soak
                        WHERE d.log = l.id AND s.taken_out IS NULL) AS inside
          FROM log l WHERE bed_alive (l.retired_on, bed_today ()))
SELECT l.id, l.batch, b.code AS batch_code, x.stack, l.put_in, l.inside, r.rest_weeks,
       CASE WHEN l.put_in IS NULL
            THEN min (bed_run_over (b.id, b.inoculated_on, r.run_least),
                      coalesce ((SELECT min (p.picked_on) FROM pick p WHERE p.log = l.id), '9999'))
            ELSE bed_rest_over (l.put_in, r.rest_weeks) END AS ready_on
  FROM alive l JOIN batch b ON b.id = l.batch JOIN batch_spawn r ON r.batch = b.id
  LEFT JOIN mushroom m ON m.id = r.mushroom
  LEFT JOIN place x ON x.log = l.id AND x.until IS NULL
 WHERE b.method <> 'totem'
       AND coalesce (m.latin_name, 'Lentinula edodes') = 'Lentinula edodes';

-- Entries of work with what they cost: at their own rate an hour or the one that held that day,
-- which is the farm's after the last that held until a day. Minor units, each entry rounded to
-- the nearest by itself, as science/budget.h does.
CREATE TEMP VIEW hours_paid AS
SELECT *, (minutes * rate + 30) / 60 AS cost
  FROM (SELECT id, worked_on, task, person, batch, stack, minutes, logs, notes,
               coalesce (rate, (SELECT r.rate FROM rate r WHERE r.until > worked_on
                                 ORDER BY r.until LIMIT 1),
                         (SELECT labour_rate FROM farm), 0) AS rate
          FROM hours);

-- What went of a spawn lot, into a batch or, batch NULL, nowhere, on which day, with its share of
-- what the lot cost.
CREATE TEMP VIEW spawn_share AS
SELECT u.id, u.batch, u.spawn, b.inoculated_on AS day, u.mass, u.pieces,
       bed_part_cost (s.cost, u.mass, s.mass, u.pieces, s.pieces) AS cost
  FROM spawn_used u JOIN batch b ON b.id = u.batch JOIN spawn s ON s.id = u.spawn
UNION ALL
SELECT g.id, NULL, g.spawn, g.gone_on, g.mass, g.pieces,
       bed_part_cost (s.cost, g.mass, s.mass, g.pieces, s.pieces)
  FROM spawn_gone g JOIN spawn s ON s.id = g.spawn;

-- Equipment with all that its depreciation goes by; part is what of it is used for logs (in
-- 10,000ths), times as of bed_write_off_times ().
CREATE TEMP VIEW equipment_owned AS
SELECT id, what, bought_on, bed_season (bought_on) AS since, price, coalesce (salvage, 0) AS salvage,
       life_years AS life, coalesce (method, 'straight line') AS method,
       bed_write_off_times (method) AS times, coalesce (share, 10000) AS part
  FROM equipment;

-- What of equipment is a cost of each season of its life, by its method and the part of it used
-- for logs. Minor units, whole; over a life they add up to what is lost. No field has a longer
-- life than 100 years.
CREATE TEMP VIEW equipment_charge AS
WITH RECURSIVE year (n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM year WHERE n < 100)
SELECT id, since + n - 1 AS season, bed_written_off (method, price, salvage, life, part, n)
       - bed_written_off (method, price, salvage, life, part, n - 1) AS charge
  FROM equipment_owned JOIN year ON n <= life;

-- Purchases with what of them is a cost, minor units: with tax where that is not reclaimed;
-- nothing of what paid for a spawn lot whose cost is on record, and is counted as it is used.
CREATE TEMP VIEW purchase_paid AS
SELECT p.*, CASE WHEN s.cost IS NOT NULL THEN 0
                 WHEN f.tax_reclaimed = 'no' THEN p.amount + coalesce (p.tax, 0)
                 ELSE p.amount END AS cost
  FROM purchase p JOIN farm f LEFT JOIN spawn s ON s.id = p.spawn;

-- What a season used of its stock by category, minor units: what was in store by the last count
-- of the seasons before it less what was by its own last; nothing where none was counted.
CREATE TEMP VIEW stock_used AS
SELECT season, category, opening, closing, opening - closing AS used
  FROM (SELECT c.category, bed_season (c.counted_on) AS season, c.amount AS closing,
               coalesce ((SELECT o.amount FROM stock_count o
                           WHERE o.category = c.category
                                 AND bed_season (o.counted_on) < bed_season (c.counted_on)
                           ORDER BY o.counted_on DESC LIMIT 1), 0) AS opening
          FROM stock_count c
         WHERE NOT EXISTS (SELECT 1 FROM stock_count n
                            WHERE n.category = c.category AND n.counted_on > c.counted_on
                                  AND bed_season (n.counted_on) = bed_season (c.counted_on)));

-- What of a spawn lot is left: what came less what went into batches and what was written off.
-- Masses mg, pieces.
CREATE TEMP VIEW spawn_left AS
SELECT *, mass - mass_used - mass_gone AS mass_left, pieces - pieces_used - pieces_gone AS pieces_left
  FROM (SELECT s.id, s.code, s.strain, t.name AS strain_name, m.common_name AS mushroom_name, s.form,
               s.received_on, s.use_by, s.mass, s.pieces, s.cost,
               coalesce ((SELECT sum (mass) FROM spawn_used u WHERE u.spawn = s.id), 0) AS mass_used,
               coalesce ((SELECT sum (pieces) FROM spawn_used u WHERE u.spawn = s.id), 0)
                 AS pieces_used,
               coalesce ((SELECT sum (mass) FROM spawn_gone g WHERE g.spawn = s.id), 0) AS mass_gone,
               coalesce ((SELECT sum (pieces) FROM spawn_gone g WHERE g.spawn = s.id), 0)
                 AS pieces_gone
          FROM spawn s JOIN strain t ON t.id = s.strain JOIN mushroom m ON m.id = t.mushroom);

-- What a batch cost by itself: purchases for it, its share of the spawn lots, hours on it.
CREATE TEMP VIEW batch_cost AS
SELECT b.id AS batch,
       coalesce ((SELECT sum (p.cost) FROM purchase_paid p
                   WHERE p.batch = b.id AND p.scope = 'batch'), 0) AS bought,
       -- spawn_share of this batch, without looking at the spawn of any other.
       coalesce ((SELECT sum (bed_part_cost (s.cost, u.mass, s.mass, u.pieces, s.pieces))
                    FROM spawn_used u JOIN spawn s ON s.id = u.spawn WHERE u.batch = b.id), 0)
         AS spawn,
       coalesce ((SELECT sum (h.cost) FROM hours_paid h WHERE h.batch = b.id), 0) AS labour
  FROM batch b;

-- When a batch began to cost: winter work and what was bought for it come before it is inoculated.
CREATE TEMP VIEW batch_begun AS
SELECT b.id AS batch,
       min (b.inoculated_on,
            coalesce ((SELECT min (p.bought_on) FROM purchase p
                        WHERE p.batch = b.id AND p.scope = 'batch'), b.inoculated_on),
            coalesce ((SELECT min (h.worked_on) FROM hours h WHERE h.batch = b.id),
                      b.inoculated_on)) AS begun_on
  FROM batch b;

-- A batch in one row. Masses mg; wood in common when all its logs are of one.
CREATE TEMP VIEW batch_summary AS
SELECT b.id, b.code, b.inoculated_on, b.method, b.hole_diameter, b.hole_depth, b.along,
       b."between", b.margin, b.closing,
       bs.strain_name, bs.strain_type, bs.mushroom_name, bs.spawn_code, bs.form,
       bs.run_least, bs.run_most, bs.rest_weeks,
       (SELECT CASE WHEN count (DISTINCT f.wood) = 1 THEN min (w.common_name)
                    WHEN count (DISTINCT f.wood) > 1 THEN 'mixed' END
          FROM log l JOIN felling f ON f.id = l.felling JOIN wood w ON w.id = f.wood
         WHERE l.batch = b.id) AS wood_name,
       (SELECT count (*) FROM log l WHERE l.batch = b.id) AS logs,
       (SELECT count (*) FROM log l WHERE l.batch = b.id
           AND bed_alive (l.retired_on, bed_today ())) AS logs_alive,
       (SELECT sum (l.holes) FROM log l WHERE l.batch = b.id) AS holes,
       -- batch_day of this batch, without looking at the picks of any other.
       (SELECT sum (mass) FROM (
          SELECT p.mass * 1.0 AS mass FROM log l JOIN pick p ON p.log = l.id WHERE l.batch = b.id
          UNION ALL
          SELECT p.mass * 1.0 FROM pick p
           WHERE p.batch = b.id AND p.log IS NULL AND p.stack IS NULL
          UNION ALL
          SELECT g.logs * bed_pick_share (p.mass,
                 (SELECT count (*) FROM place x WHERE x.stack = p.stack
                     AND bed_lies (x.since, x.until, p.picked_on)))
            FROM (SELECT x.stack, x.since, x.until, count (*) AS logs
                    FROM log l JOIN place x ON x.log = l.id
                   WHERE l.batch = b.id GROUP BY x.stack, x.since, x.until) g
            JOIN pick p ON p.stack = g.stack AND +p.log IS NULL
                 AND bed_lies (g.since, g.until, p.picked_on))) AS picked,
       -- Of the batch or of one of its logs: an OR would look at the checks of all.
       (SELECT colonised FROM (
          SELECT id, checked_on, colonised FROM "check" WHERE batch = b.id
          UNION ALL
          SELECT c.id, c.checked_on, c.colonised FROM log l JOIN "check" c ON c.log = l.id
           WHERE l.batch = b.id)
         WHERE colonised IS NOT NULL ORDER BY checked_on DESC, id DESC LIMIT 1) AS colonised,
       cast (julianday (bed_today ()) - julianday (b.inoculated_on) AS INTEGER) AS age_days,
       -- Of most of its logs that live; retired when none does.
       (SELECT t.stage FROM log_today t WHERE t.batch = b.id GROUP BY t.stage
         ORDER BY t.stage = 'retired', count (*) DESC, t.stage LIMIT 1) AS stage,
       c.bought + c.spawn + c.labour AS cost
  FROM batch b
  JOIN batch_spawn bs ON bs.batch = b.id
  JOIN batch_cost c ON c.batch = b.id;

-- A stack today.
CREATE TEMP VIEW stack_today AS
SELECT k.id, k.name, k.area, a.name AS area_name, k.kind, k.x, k.y, k.turn, k.tiers, k.per_tier,
       k.built_on, k.taken_down_on,
       count (x.id) AS logs, sum (l.green_mass) AS green_mass,
       max (l.length) AS longest, avg (l.length) AS mean_length,
       avg ((l.small_diameter + coalesce (l.large_diameter, l.small_diameter)) / 2.0)
         AS mean_diameter,
       max (coalesce (l.large_diameter, l.small_diameter)) AS thickest,
       group_concat (DISTINCT b.code) AS batches
  FROM stack k
  JOIN area a ON a.id = k.area
  LEFT JOIN place x ON x.stack = k.id AND x.until IS NULL
  LEFT JOIN log l ON l.id = x.log
  LEFT JOIN batch b ON b.id = l.batch
 GROUP BY k.id;

-- Where each stack stood from one day on until another: until NULL, where it stands.
CREATE TEMP VIEW stack_place AS
SELECT s.stack, s.area, s.x, s.y, s.turn,
       coalesce ((SELECT max (o.until) FROM stood o WHERE o.stack = s.stack AND o.until < s.until),
                 k.built_on) AS since,
       s.until
  FROM stood s JOIN stack k ON k.id = s.stack
UNION ALL
SELECT k.id, k.area, k.x, k.y, k.turn,
       coalesce ((SELECT max (o.until) FROM stood o WHERE o.stack = k.id), k.built_on),
       k.taken_down_on
  FROM stack k;

-- A soak with its number of logs, and the hours since it was put in.
CREATE TEMP VIEW soak_summary AS
SELECT s.id, s.code, s.tank, s.put_in, s.taken_out, s.water_temperature, s.air_temperature,
       (SELECT count (*) FROM soaked d WHERE d.soak = s.id) AS logs,
       (strftime ('%s', bed_now ()) - strftime ('%s', s.put_in) + 1800) / 3600 AS hours_since,
       (strftime ('%s', coalesce (s.taken_out, bed_now ())) - strftime ('%s', s.put_in) + 1800)
       / 3600 AS hours_in
  FROM soak s;

-- Picks with the names people know them by.
CREATE TEMP VIEW pick_named AS
SELECT p.id, p.since, p.picked_on, p.grade, p.mass, p.picker, p.notes, p.log, p.stack, p.batch,
       p.lot, l.code AS log_code, k.name AS stack_name, coalesce (b.code, lb.code) AS batch_code,
       t.code AS lot_code, bed_season (p.picked_on) AS season,
       bed_pick_week (p.since, p.picked_on) AS week,
       coalesce (l.code, k.name, b.code) AS from_what
  FROM pick p
  LEFT JOIN log l ON l.id = p.log
  LEFT JOIN batch lb ON lb.id = l.batch
  LEFT JOIN stack k ON k.id = p.stack
  LEFT JOIN batch b ON b.id = p.batch
  LEFT JOIN lot t ON t.id = p.lot;

-- A lot: picked, sold, lost, left.
CREATE TEMP VIEW lot_summary AS
SELECT t.id, t.code, t.picked_on, t.cooled_at, t.cooled_to, bed_season (t.picked_on) AS season,
       coalesce ((SELECT sum (mass) FROM pick p WHERE p.lot = t.id), 0) AS picked,
       coalesce ((SELECT sum (n.mass) FROM line n WHERE n.lot = t.id AND n.form = 'fresh'
                     AND n.use = 'sold'), 0) AS sold,
       coalesce ((SELECT sum (n.mass) FROM line n WHERE n.lot = t.id AND n.form = 'fresh'
                     AND n.use <> 'sold'), 0) AS lost,
       coalesce ((SELECT sum (d.fresh_mass) FROM drying d WHERE d.lot = t.id), 0) AS dried,
       coalesce ((SELECT sum (n.price) FROM line n WHERE n.lot = t.id AND n.use = 'sold'), 0)
         AS income
  FROM lot t;

-- Fellings with what came of them.
CREATE TEMP VIEW felling_summary AS
SELECT f.id, f.code, f.felled_on, f.trees, f.dbh, f.height, f.condition, f.leaf, s.name AS stand_name,
       f.supplier, w.common_name AS wood_name,
       (SELECT count (*) FROM log l WHERE l.felling = f.id
           AND bed_alive (l.retired_on, bed_today ())) AS logs,
       (SELECT count (*) FROM log l WHERE l.felling = f.id AND l.batch IS NULL
           AND bed_alive (l.retired_on, bed_today ())) AS waiting,
       cast (julianday (bed_today ()) - julianday (f.felled_on) AS INTEGER) AS age_days
  FROM felling f JOIN wood w ON w.id = f.wood
  LEFT JOIN stand s ON s.id = f.stand;

-- Lot trace back: lot -> picks -> batches -> spawn, fellings, stands.
CREATE TEMP VIEW lot_back AS
SELECT DISTINCT pl.lot, b.id AS batch, b.code AS batch_code, b.inoculated_on, s.code AS spawn_code,
       s.supplier AS spawn_supplier, s.supplier_lot, t.name AS strain_name, f.code AS felling_code,
       f.felled_on, w.common_name AS wood_name, st.name AS stand_name
  FROM pick_log pl
  JOIN log l ON l.id = pl.log
  JOIN felling f ON f.id = l.felling
  JOIN wood w ON w.id = f.wood
  LEFT JOIN stand st ON st.id = f.stand
  LEFT JOIN batch b ON b.id = l.batch
  LEFT JOIN spawn_used u ON u.batch = b.id
  LEFT JOIN spawn s ON s.id = u.spawn
  LEFT JOIN strain t ON t.id = s.strain
 WHERE pl.lot IS NOT NULL;

-- Lot trace forward: who got it.
CREATE TEMP VIEW lot_forward AS
SELECT n.lot, v.code AS sale_code, v.sold_on, y.name AS buyer_name, n.form, n.use, n.mass, n.price
  FROM line n JOIN sale v ON v.id = n.sale LEFT JOIN buyer y ON y.id = v.buyer;

-- Logs that came to a stack on one day and left it on one day lie there as a group:
-- groups are few where logs are many. until is '9999' for those still there.
CREATE TEMP VIEW place_group AS
SELECT x.stack, x.since, coalesce (x.until, '9999') AS until, l.batch, count (*) AS logs
  FROM place x JOIN log l ON l.id = x.log
 GROUP BY x.stack, x.since, x.until, l.batch;

-- What each log of a group, so many of one batch, has of a day's picks from its stack (mg, fraction
-- kept); totals by their first day, total_since, apart.
CREATE TEMP VIEW stack_share AS
WITH lying AS MATERIALIZED
       (SELECT stack, since, until, sum (logs) AS logs FROM place_group GROUP BY 1, 2, 3),
     day AS
       (SELECT p.*, (SELECT sum (g.logs) FROM lying g WHERE g.stack = p.stack
                        AND bed_lies (g.since, g.until, p.picked_on)) AS lay
          FROM (SELECT stack, since AS total_since, picked_on, sum (mass) AS mass FROM pick
                 WHERE +log IS NULL AND stack IS NOT NULL GROUP BY stack, picked_on, since) p)
SELECT d.stack, d.total_since, d.picked_on, g.since, g.until, g.batch, g.logs,
       bed_pick_share (d.mass, d.lay) AS mass
  FROM day d JOIN place_group g ON g.stack = d.stack AND bed_lies (g.since, g.until, d.picked_on);

-- What a batch gave each day: pick_log by batch, but what was picked from a batch stays the
-- batch's whether logs of it are left or not. batch is NULL for what was picked from logs without
-- one. A day may have several rows; since: the first day of a total.
CREATE TEMP VIEW batch_day AS
SELECT l.batch, p.since, p.picked_on, sum (p.mass) * 1.0 AS mass
  FROM pick p JOIN log l ON l.id = p.log GROUP BY l.batch, p.picked_on, p.since
UNION ALL
SELECT batch, total_since, picked_on, mass * logs FROM stack_share
UNION ALL
SELECT p.batch, p.since, p.picked_on, sum (p.mass) * 1.0
  FROM pick p WHERE p.log IS NULL AND p.stack IS NULL AND p.batch IS NOT NULL
 GROUP BY p.batch, p.picked_on, p.since;

-- A lot with what is neither sold, lost nor dried yet (mg); nothing of one that no pick is known of.
CREATE TEMP VIEW lot_left AS
SELECT *, coalesce (nullif (picked, 0) - sold - lost - dried, 0) AS rest
  FROM lot_summary;

-- A sale with who bought and how much it came to (mg, minor units).
CREATE TEMP VIEW sale_summary AS
SELECT v.id, v.code, v.sold_on, y.name AS buyer_name, count (n.id) AS lines,
       sum (n.mass) AS mass, sum (n.price) FILTER (WHERE n.use = 'sold') AS income
  FROM sale v LEFT JOIN buyer y ON y.id = v.buyer LEFT JOIN line n ON n.sale = v.id
 GROUP BY v.id;

-- What a batch gave in a season (mg), and its logs that stood in it; age in seasons since that of
-- inoculation. mass_per_log is NULL where no log of it did.
CREATE TEMP VIEW batch_season AS
SELECT b.id AS batch, g.season, b.code, b.inoculated_on, r.strain_name,
       g.season - bed_season (b.inoculated_on) AS age, g.logs, g.mass,
       g.mass / nullif (g.logs, 0) AS mass_per_log
  FROM (SELECT s.*, (SELECT count (*) FROM log l WHERE l.batch = s.batch
                        AND bed_stood (l.retired_on, bed_season_first (s.season))) AS logs
          FROM (SELECT batch, bed_season (picked_on) AS season, sum (mass) AS mass
                  FROM batch_day GROUP BY 1, 2) s) g
  JOIN batch b ON b.id = g.batch
  JOIN batch_spawn r ON r.batch = b.id;

-- Months (1 to 12) in which soaks go on: May to October in the north, half a year later in the
-- south (Cornell, Four Methods); out of these, in a house that is kept warm, a month in which the
-- farm has soaked within two years and the one after it (ours, no source).
CREATE TEMP VIEW soak_month AS
WITH RECURSIVE number (month) AS
       (SELECT 1 UNION ALL SELECT month + 1 FROM number WHERE month < 12),
     usual AS MATERIALIZED
       (SELECT month FROM number
         WHERE (month BETWEEN 5 AND 10) = ((SELECT hemisphere FROM farm) = 'north')),
     own AS MATERIALIZED
       (SELECT DISTINCT cast (strftime ('%m', put_in) AS INTEGER) AS month FROM soak
         WHERE put_in > date (bed_today (), '-2 years'))
SELECT month FROM usual
UNION SELECT month FROM own
UNION SELECT month % 12 + 1 FROM own WHERE month NOT IN (SELECT month FROM usual);

-- The days whose weather is written down (um, thousandths of a degree C), with the records of each;
-- id is that of the rain, else of the temperature.
CREATE TEMP VIEW weather_day AS
SELECT r.id, r.fell_on AS day, r.id AS rain, r.depth, t.id AS temperature, t.least, t.most
  FROM rain r LEFT JOIN temperature t ON t.measured_on = r.fell_on
UNION ALL
SELECT t.id, t.measured_on, NULL, NULL, t.id, t.least, t.most
  FROM temperature t WHERE NOT EXISTS (SELECT 1 FROM rain r WHERE r.fell_on = t.measured_on);

-- Who sold what, by the name in other records, ignoring case: how many spawn lots, purchases and
-- fellings, the last day; id is that of the oldest of them.
CREATE TEMP VIEW supplier_name AS
SELECT min (id) AS id, supplier AS name, count (*) FILTER (WHERE kind = 'spawn') AS lots,
       count (*) FILTER (WHERE kind = 'purchase') AS purchases,
       count (*) FILTER (WHERE kind = 'felling') AS fellings, max (day) AS last_on
  FROM (SELECT 'spawn' AS kind, id, supplier, received_on AS day FROM spawn
        UNION ALL SELECT 'purchase', id, supplier, bought_on FROM purchase
        UNION ALL SELECT 'felling', id, supplier, felled_on FROM felling)
 WHERE supplier IS NOT NULL GROUP BY supplier COLLATE NOCASE;
