-- Each question of views.sql asked again, for `bedlog-tool check`: view X as slow_X, with the
-- same columns. Written to be read, not to be fast: straight from the tables, every figure by
-- a look of its own, never through a view it is to be held against. check_views.c names the
-- columns to sort by.

CREATE TEMP VIEW slow_pick_dated AS
SELECT id, picked_on, log, stack, batch, grade, mass, lot, picker, notes
  FROM pick WHERE id NOT IN (SELECT id FROM pick WHERE since <= picked_on OR since > picked_on);

-- Which logs share in a pick; every share below comes from here.
CREATE TEMP VIEW slow_member AS
SELECT p.id AS pick, p.log AS log FROM pick p WHERE p.log IS NOT NULL
UNION ALL
SELECT p.id, x.log FROM pick p, place x
 WHERE p.log IS NULL AND x.stack = p.stack
   AND x.since <= p.picked_on AND coalesce (x.until, '9999') > p.picked_on
UNION ALL
SELECT p.id, l.id FROM pick p, log l
 WHERE p.log IS NULL AND p.stack IS NULL AND l.batch = p.batch
   AND coalesce (l.retired_on, '9999') > p.picked_on;

CREATE TEMP VIEW slow_pick_log AS
WITH member AS MATERIALIZED (SELECT pick, log FROM slow_member),
     sharing AS MATERIALIZED (SELECT pick, count (*) AS logs FROM member GROUP BY pick)
SELECT m.pick, m.log, p.since, p.picked_on, p.lot, p.mass * 1.0 / s.logs AS mass
  FROM member m, sharing s, pick p WHERE s.pick = m.pick AND p.id = m.pick;

-- A pick of a batch stays the batch's, whether logs of it are left or not.
CREATE TEMP VIEW slow_pick_share AS
SELECT s.pick, l.batch, s.since, s.picked_on, sum (s.mass) AS mass
  FROM slow_pick_log s, log l
 WHERE l.id = s.log
   AND NOT EXISTS (SELECT 1 FROM pick p WHERE p.id = s.pick AND p.log IS NULL AND p.stack IS NULL)
 GROUP BY s.pick, l.batch
UNION ALL
SELECT p.id, p.batch, p.since, p.picked_on, p.mass * 1.0
  FROM pick p WHERE coalesce (p.log, p.stack) IS NULL AND p.batch IS NOT NULL;

CREATE TEMP VIEW slow_main_spawn AS
SELECT batch, spawn FROM slow_batch_spawn;

CREATE TEMP VIEW slow_batch_spawn AS
WITH most AS
  (SELECT u.batch, u.spawn FROM spawn_used u
    WHERE NOT EXISTS (SELECT 1 FROM spawn_used v
                       WHERE v.batch = u.batch
                         AND (coalesce (v.mass, v.pieces, 0) > coalesce (u.mass, u.pieces, 0)
                              OR (coalesce (v.mass, v.pieces, 0) = coalesce (u.mass, u.pieces, 0)
                                  AND v.id < u.id)))),
     named AS
  (SELECT b.id AS batch, (SELECT spawn FROM most WHERE most.batch = b.id) AS spawn FROM batch b),
     carried AS
  (SELECT n.batch, n.spawn, (SELECT s.strain FROM spawn s WHERE s.id = n.spawn) AS strain
     FROM named n),
     grown AS
  (SELECT c.*, (SELECT t.mushroom FROM strain t WHERE t.id = c.strain) AS mushroom FROM carried c)
SELECT g.batch, g.spawn, (SELECT code FROM spawn WHERE id = g.spawn) AS spawn_code,
       (SELECT form FROM spawn WHERE id = g.spawn) AS form, g.strain,
       (SELECT name FROM strain WHERE id = g.strain) AS strain_name,
       (SELECT type FROM strain WHERE id = g.strain) AS strain_type, g.mushroom,
       (SELECT common_name FROM mushroom WHERE id = g.mushroom) AS mushroom_name,
       (SELECT run_least FROM strain WHERE id = g.strain) AS run_least,
       (SELECT run_most FROM strain WHERE id = g.strain) AS run_most,
       coalesce ((SELECT rest_weeks FROM strain WHERE id = g.strain),
                 (SELECT rest_weeks FROM farm WHERE id = 1), 8) AS rest_weeks
  FROM grown g;

CREATE TEMP VIEW slow_log_today AS
WITH grown AS MATERIALIZED (SELECT * FROM slow_batch_spawn),
     last AS MATERIALIZED
  (SELECT d.log, max (s.put_in || ' ' || printf ('%020d', s.id)) AS latest
     FROM soaked d, soak s WHERE s.id = d.soak GROUP BY d.log),
     known AS
  (SELECT l.id AS log, l.batch,
          (SELECT cast (substr (latest, instr (latest, ' ') + 1) AS INTEGER) FROM last
            WHERE last.log = l.id) AS soak,
          (SELECT g.strain FROM grown g WHERE g.batch = l.batch) AS strain,
          (SELECT x.id FROM place x WHERE x.log = l.id AND x.until IS NULL) AS place
     FROM log l),
     dated AS
  (SELECT k.*, (SELECT put_in FROM soak WHERE id = k.soak) AS put_in,
          (SELECT taken_out FROM soak WHERE id = k.soak) AS taken_out,
          (SELECT inoculated_on FROM batch WHERE id = k.batch) AS inoculated_on,
          7 * coalesce ((SELECT rest_weeks FROM strain WHERE id = k.strain),
                        (SELECT rest_weeks FROM farm WHERE id = 1), 8) AS rest,
          coalesce ((SELECT run_least FROM strain WHERE id = k.strain), 12) AS run
     FROM known k),
     told AS
  (SELECT d.*, date (julianday (substr (d.put_in, 1, 10)) + d.rest) AS soak_from FROM dated d)
SELECT l.id, l.code, l.batch, (SELECT code FROM batch WHERE id = l.batch) AS batch_code, l.felling,
       f.code AS felling_code, f.wood,
       (SELECT common_name FROM wood WHERE id = f.wood) AS wood_name,
       l.length, l.small_diameter, l.large_diameter,
       l.green_mass, l.holes, l.bark, l.retired_on, l.retired_why, o.inoculated_on,
       (SELECT name FROM strain WHERE id = o.strain) AS strain_name,
       (SELECT m.common_name FROM mushroom m, strain t
         WHERE m.id = t.mushroom AND t.id = o.strain) AS mushroom_name,
       (SELECT stack FROM place WHERE id = o.place) AS stack,
       (SELECT k.name FROM stack k, place x WHERE k.id = x.stack AND x.id = o.place) AS stack_name,
       (SELECT tier FROM place WHERE id = o.place) AS tier,
       (SELECT slot FROM place WHERE id = o.place) AS slot,
       (SELECT since FROM place WHERE id = o.place) AS place_since,
       (SELECT code FROM soak WHERE id = o.soak) AS soak_code,
       o.put_in AS soaked_in, o.taken_out AS soaked_out, o.soak_from,
       (SELECT sum (mass) FROM pick WHERE log = l.id) AS picked_alone,
       (SELECT max (picked_on) FROM pick WHERE log = l.id AND coalesce (since, '') = '')
         AS picked_last,
       iif (coalesce (l.retired_on, '9999') <= bed_today (), 'retired',
       iif (l.batch IS NULL, 'felled',
       iif (coalesce (o.put_in, '9999') <= bed_now ()
            AND coalesce (o.taken_out, '9999') > bed_now (), 'soaking',
       iif (julianday (bed_today ()) - julianday (substr (o.taken_out, 1, 10)) <= 14, 'fruiting',
       iif (o.soak_from > bed_today (), 'resting',
       iif (o.soak IS NULL AND (SELECT count (*) FROM pick WHERE log = l.id) = 0
            AND max (date (o.inoculated_on, '+' || o.run || ' months'),
                     ifnull (bed_run_full (l.batch), '')) > bed_today (), 'spawn run',
            'ready')))))) AS stage
  FROM log l, felling f, told o WHERE f.id = l.felling AND o.log = l.id;

CREATE TEMP VIEW slow_log_waiting AS
SELECT id, code, batch FROM log
 WHERE coalesce (retired_on, '9999') > bed_today ()
   AND id NOT IN (SELECT log FROM place WHERE until IS NULL);

CREATE TEMP VIEW slow_log_forced AS
WITH grown AS MATERIALIZED (SELECT * FROM slow_batch_spawn),
     told AS
  (SELECT l.*, b.code AS batch_code, b.inoculated_on, g.rest_weeks, ifnull (g.run_least, 12) AS run,
          (SELECT max (s.put_in) FROM soaked d, soak s WHERE s.id = d.soak AND d.log = l.id)
            AS put_in
     FROM log l, batch b, grown g
    WHERE b.id = l.batch AND g.batch = b.id AND NOT b.method = 'totem'
      AND NOT EXISTS (SELECT 1 FROM mushroom m
                       WHERE m.id = g.mushroom AND m.latin_name <> 'Lentinula edodes'))
SELECT id, batch, batch_code, (SELECT stack FROM place WHERE log = t.id AND until IS NULL) AS stack,
       put_in, EXISTS (SELECT 1 FROM soaked d, soak s WHERE s.id = d.soak AND d.log = t.id
                          AND s.taken_out IS NULL) AS inside, rest_weeks,
       iif (put_in IS NULL,
            (SELECT min (day) FROM (SELECT max (date (t.inoculated_on, '+' || t.run || ' months'),
                                        ifnull (bed_run_full (t.batch), '')) AS day
              UNION ALL SELECT p.picked_on FROM pick p WHERE p.log = t.id)),
            date (julianday (substr (put_in, 1, 10)) + 7 * rest_weeks)) AS ready_on
  FROM told t WHERE coalesce (retired_on, '9999') > bed_today ();

CREATE TEMP VIEW slow_hours_paid AS
WITH paid AS
  (SELECT h.*, iif (rate IS NOT NULL, rate, ifnull (
            (SELECT r.rate FROM rate r WHERE r.until > h.worked_on AND NOT EXISTS
               (SELECT 1 FROM rate e WHERE e.until > h.worked_on AND e.until < r.until)),
            ifnull ((SELECT labour_rate FROM farm WHERE farm.id = 1), 0))) AS at FROM hours h)
SELECT id, worked_on, task, person, batch, stack, minutes, logs, notes, at AS rate,
       cast (round (minutes * at / 60.0) AS INTEGER) AS cost
  FROM paid;

CREATE TEMP VIEW slow_spawn_share AS
WITH taken AS
       (SELECT id, batch, spawn, (SELECT inoculated_on FROM batch WHERE id = spawn_used.batch) AS day,
               mass, pieces FROM spawn_used
        UNION SELECT id, NULL, spawn, gone_on, mass, pieces FROM spawn_gone)
SELECT u.id, u.batch, u.spawn, u.day, u.mass, u.pieces,
       cast (round (iif (s.mass > 0 AND u.mass > 0, ifnull (s.cost, 0) * 1.0 * u.mass / s.mass,
             iif (s.pieces > 0 AND u.pieces > 0, ifnull (s.cost, 0) * 1.0 * u.pieces / s.pieces,
                  0))) AS INTEGER) AS cost
  FROM taken u, spawn s WHERE s.id = u.spawn;

-- The season by comparing texts, as slow_day.
CREATE TEMP VIEW slow_equipment_owned AS
SELECT id, what, bought_on,
       cast (substr (bought_on, 1, 4) AS INTEGER)
         - (substr (bought_on, 6, 5) < (SELECT season_start FROM farm WHERE farm.id = 1)) AS since,
       price, ifnull (salvage, 0) AS salvage, life_years AS life,
       ifnull (method, 'straight line') AS method,
       CASE method WHEN 'declining 150' THEN 1.5 WHEN 'declining 200' THEN 2.0
                   WHEN 'years'' digits' THEN 0.0 ELSE 1.0 END AS times,
       ifnull (share, 10000) AS part
  FROM equipment;

-- Year by year: lost is what is still to be written off at the end of it.
CREATE TEMP VIEW slow_equipment_charge AS
WITH RECURSIVE year (id, n, since, life, times, part, salvage, whole, lost) AS (
SELECT id, 0, since, life, times, part, salvage, max (0, price - salvage),
       max (0, price - salvage) * 1.0 FROM slow_equipment_owned
UNION ALL
SELECT id, n + 1, since, life, times, part, salvage, whole,
       lost - CASE times WHEN 1 THEN lost / (life - n)
                         WHEN 0 THEN lost * 2 / (life - n + 1)
                         ELSE max (min (lost, (lost + salvage) * min (1.0, times / life)),
                                   lost / (life - n)) END
  FROM year WHERE n < min (life, 100)),
ended AS (
SELECT id, n, since, cast (round ((whole - lost) * part / 10000 + 0.000001) AS INTEGER) AS gone
  FROM year)
SELECT a.id, a.since + a.n - 1 AS season, a.gone - b.gone AS charge
  FROM ended a JOIN ended b ON b.id = a.id AND b.n = a.n - 1;

CREATE TEMP VIEW slow_purchase_paid AS
SELECT *, iif ((SELECT cost FROM spawn WHERE id = purchase.spawn) IS NOT NULL, 0,
               amount + iif ((SELECT tax_reclaimed FROM farm) IS 'no', ifnull (tax, 0), 0)) AS cost
  FROM purchase;

-- Season by season, each looking for the newest count by itself.
CREATE TEMP VIEW slow_stock_used AS
WITH counted AS
       (SELECT *, cast (substr (counted_on, 1, 4) AS INTEGER)
                    - (substr (counted_on, 6, 5) < (SELECT season_start FROM farm WHERE farm.id = 1))
                    AS season FROM stock_count),
     last AS (SELECT season, category, max (counted_on) AS day FROM counted GROUP BY 1, 2),
     worth AS (SELECT l.season, l.category, c.amount FROM last l
                 JOIN counted c ON c.category = l.category AND c.counted_on = l.day)
SELECT season, category, opening, amount AS closing, opening - amount AS used
  FROM (SELECT w.*, lag (w.amount, 1, 0) OVER (PARTITION BY w.category ORDER BY w.season) AS opening
          FROM worth w);

CREATE TEMP VIEW slow_spawn_left AS
WITH taken AS (SELECT spawn, mass, pieces FROM spawn_used
               UNION ALL SELECT spawn, mass, pieces FROM spawn_gone),
     went AS (SELECT s.id AS spawn, total (u.mass) AS mass, total (u.pieces) AS pieces
                FROM spawn s LEFT JOIN taken u ON u.spawn = s.id GROUP BY s.id)
SELECT s.id, s.code, s.strain, (SELECT name FROM strain WHERE id = s.strain) AS strain_name,
       (SELECT m.common_name FROM strain t, mushroom m
         WHERE t.id = s.strain AND m.id = t.mushroom) AS mushroom_name,
       s.form, s.received_on, s.use_by, s.mass, s.pieces, s.cost,
       cast ((SELECT total (mass) FROM spawn_used WHERE spawn = s.id) AS INTEGER) AS mass_used,
       cast ((SELECT total (pieces) FROM spawn_used WHERE spawn = s.id) AS INTEGER) AS pieces_used,
       cast ((SELECT total (mass) FROM spawn_gone WHERE spawn = s.id) AS INTEGER) AS mass_gone,
       cast ((SELECT total (pieces) FROM spawn_gone WHERE spawn = s.id) AS INTEGER) AS pieces_gone,
       s.mass - cast (w.mass AS INTEGER) AS mass_left,
       s.pieces - cast (w.pieces AS INTEGER) AS pieces_left
  FROM spawn s, went w WHERE w.spawn = s.id;

CREATE TEMP VIEW slow_batch_cost AS
SELECT b.id AS batch,
       cast ((SELECT total (cost) FROM slow_purchase_paid WHERE batch = b.id AND scope = 'batch')
             AS INTEGER) AS bought,
       cast ((SELECT total (round (
                iif (s.mass > 0 AND u.mass > 0, s.cost * 1.0 * u.mass / s.mass,
                iif (s.pieces > 0 AND u.pieces > 0, s.cost * 1.0 * u.pieces / s.pieces, 0))))
               FROM spawn_used u, spawn s WHERE s.id = u.spawn AND u.batch = b.id)
             AS INTEGER) AS spawn,
       cast ((SELECT total (cost) FROM slow_hours_paid WHERE batch = b.id) AS INTEGER) AS labour
  FROM batch b;

CREATE TEMP VIEW slow_batch_begun AS
WITH day AS (SELECT id AS batch, inoculated_on AS spent_on FROM batch
             UNION SELECT batch, bought_on FROM purchase WHERE scope = 'batch'
             UNION SELECT batch, worked_on FROM hours)
SELECT d.batch, d.spent_on AS begun_on FROM day d
 WHERE d.batch IS NOT NULL
       AND NOT EXISTS (SELECT 1 FROM day e WHERE e.batch = d.batch AND e.spent_on < d.spent_on);

CREATE TEMP VIEW slow_batch_summary AS
WITH share AS MATERIALIZED
       (SELECT batch, sum (mass) AS mass FROM slow_pick_share GROUP BY batch),
     today AS MATERIALIZED
       (SELECT batch, stage, count (*) AS logs FROM slow_log_today GROUP BY batch, stage),
     cost AS MATERIALIZED (SELECT * FROM slow_batch_cost),
     looked AS
       (SELECT c.id, c.batch, c.checked_on, c.colonised FROM "check" c
         WHERE c.colonised IS NOT NULL AND c.batch IS NOT NULL
        UNION
        SELECT c.id, l.batch, c.checked_on, c.colonised FROM "check" c, log l
         WHERE c.colonised IS NOT NULL AND l.id = c.log)
SELECT b.id, b.code, b.inoculated_on, b.method, b.hole_diameter, b.hole_depth, b.along,
       b."between", b.margin, b.closing,
       s.strain_name, s.strain_type, s.mushroom_name, s.spawn_code, s.form,
       s.run_least, s.run_most, s.rest_weeks,
       (SELECT iif (min (f.wood) = max (f.wood), w.common_name, 'mixed')
          FROM log l, felling f, wood w
         WHERE f.id = l.felling AND w.id = f.wood AND l.batch = b.id
        HAVING count (*) > 0) AS wood_name,
       (SELECT count (*) FROM log WHERE batch = b.id) AS logs,
       (SELECT count (*) FROM log WHERE batch = b.id
           AND coalesce (retired_on, '9999') > bed_today ()) AS logs_alive,
       (SELECT sum (holes) FROM log WHERE batch = b.id) AS holes,
       (SELECT mass FROM share WHERE share.batch = b.id) AS picked,
       (SELECT o.colonised FROM looked o WHERE o.batch = b.id
           AND NOT EXISTS (SELECT 1 FROM looked n WHERE n.batch = b.id
                              AND (n.checked_on > o.checked_on
                                   OR (n.checked_on = o.checked_on AND n.id > o.id)))
       ) AS colonised,
       (unixepoch (bed_today ()) - unixepoch (b.inoculated_on)) / 86400 AS age_days,
       ifnull ((SELECT min (t.stage) FROM today t WHERE t.batch = b.id AND t.stage <> 'retired'
                   AND t.logs = (SELECT max (m.logs) FROM today m
                                  WHERE m.batch = b.id AND m.stage <> 'retired')),
               (SELECT t.stage FROM today t WHERE t.batch = b.id)) AS stage,
       (SELECT bought + spawn + labour FROM cost WHERE cost.batch = b.id) AS cost
  FROM batch b, slow_batch_spawn s WHERE s.batch = b.id;

CREATE TEMP VIEW slow_stack_today AS
WITH lying AS
  (SELECT x.stack, x.id AS place, l.* FROM place x, log l WHERE l.id = x.log AND x.until IS NULL)
SELECT k.id, k.name, k.area, a.name AS area_name, k.kind, k.x, k.y, k.turn, k.tiers, k.per_tier,
       k.built_on, k.taken_down_on,
       (SELECT count (*) FROM place WHERE stack = k.id AND until IS NULL) AS logs,
       (SELECT sum (green_mass) FROM lying WHERE lying.stack = k.id) AS green_mass,
       (SELECT max (length) FROM lying WHERE lying.stack = k.id) AS longest,
       (SELECT total (length) / count (*) FROM lying WHERE lying.stack = k.id) AS mean_length,
       (SELECT total (small_diameter + ifnull (large_diameter, small_diameter)) / 2 / count (*)
          FROM lying WHERE lying.stack = k.id) AS mean_diameter,
       (SELECT max (ifnull (large_diameter, small_diameter)) FROM lying WHERE lying.stack = k.id)
         AS thickest,
       (SELECT group_concat (code) FROM batch b
         WHERE EXISTS (SELECT 1 FROM lying WHERE lying.stack = k.id AND lying.batch = b.id))
         AS batches
  FROM stack k, area a WHERE a.id = k.area;

CREATE TEMP VIEW slow_stack_place AS
WITH ends AS
  (SELECT stack, area, x, y, turn, until, until AS rank FROM stood
   UNION ALL SELECT id, area, x, y, turn, taken_down_on, '9999-99-99' FROM stack)
SELECT e.stack, e.area, e.x, e.y, e.turn,
       ifnull ((SELECT p.rank FROM ends p WHERE p.stack = e.stack AND p.rank < e.rank
                 ORDER BY p.rank DESC LIMIT 1),
               (SELECT built_on FROM stack WHERE id = e.stack)) AS since,
       e.until
  FROM ends e;

CREATE TEMP VIEW slow_soak_summary AS
SELECT id, code, tank, put_in, taken_out, water_temperature, air_temperature,
       (SELECT count (*) FROM soaked WHERE soaked.soak = soak.id) AS logs,
       cast (round ((unixepoch (bed_now ()) - unixepoch (put_in)) / 3600.0) AS INTEGER)
         AS hours_since,
       cast (round ((unixepoch (ifnull (taken_out, bed_now ())) - unixepoch (put_in)) / 3600.0)
             AS INTEGER) AS hours_in
  FROM soak;

-- The season by comparing texts, the week by its Thursday (ISO 8601).
CREATE TEMP VIEW slow_day AS
SELECT d.day,
       cast (substr (d.day, 1, 4) AS INTEGER)
         - (substr (d.day, 6, 5) < (SELECT season_start FROM farm WHERE id = 1)) AS season,
       printf ('%s-W%02d', strftime ('%Y', d.day, '-3 days', 'weekday 4'),
               (strftime ('%j', d.day, '-3 days', 'weekday 4') - 1) / 7 + 1) AS week
  FROM (SELECT picked_on AS day FROM pick UNION SELECT since FROM pick WHERE since > ''
        UNION SELECT picked_on FROM lot
        UNION SELECT inoculated_on FROM batch) d;

CREATE TEMP VIEW slow_pick_named AS
WITH calendar AS MATERIALIZED (SELECT * FROM slow_day),
     named AS
  (SELECT p.*, (SELECT code FROM log WHERE id = p.log) AS log_code,
          (SELECT name FROM stack WHERE id = p.stack) AS stack_name,
          (SELECT code FROM batch WHERE id = p.batch) AS own_batch,
          (SELECT b.code FROM batch b, log l WHERE b.id = l.batch AND l.id = p.log) AS log_batch
     FROM pick p)
SELECT id, since, picked_on, grade, mass, picker, notes, log, stack, batch, lot,
       log_code, stack_name, ifnull (own_batch, log_batch) AS batch_code,
       (SELECT code FROM lot WHERE lot.id = n.lot) AS lot_code,
       (SELECT season FROM calendar WHERE day = picked_on) AS season,
       (SELECT week FROM calendar WHERE day = picked_on
           AND week IS (SELECT week FROM calendar WHERE day = ifnull (since, picked_on))) AS week,
       ifnull (log_code, ifnull (stack_name, own_batch)) AS from_what
  FROM named n;

CREATE TEMP VIEW slow_lot_summary AS
SELECT t.id, t.code, t.picked_on, t.cooled_at, t.cooled_to,
       (SELECT season FROM slow_day WHERE day = t.picked_on) AS season,
       cast ((SELECT total (mass) FROM pick WHERE lot = t.id) AS INTEGER) AS picked,
       cast ((SELECT total (iif ("use" = 'sold', mass, 0)) FROM line
               WHERE lot = t.id AND form = 'fresh') AS INTEGER) AS sold,
       cast ((SELECT total (iif ("use" = 'sold', 0, mass)) FROM line
               WHERE lot = t.id AND form = 'fresh') AS INTEGER) AS lost,
       cast ((SELECT total (fresh_mass) FROM drying WHERE lot = t.id) AS INTEGER) AS dried,
       cast ((SELECT total (iif ("use" = 'sold', price, 0)) FROM line WHERE lot = t.id) AS INTEGER)
         AS income
  FROM lot t;

CREATE TEMP VIEW slow_lot_left AS
SELECT s.*, iif (EXISTS (SELECT 1 FROM pick WHERE lot = s.id AND mass > 0),
                 cast ((SELECT total (mass) FROM pick WHERE lot = s.id)
                       - (SELECT total (mass) FROM line WHERE lot = s.id AND form = 'fresh')
                       - (SELECT total (fresh_mass) FROM drying WHERE lot = s.id) AS INTEGER),
                 0) AS rest
  FROM slow_lot_summary s;

CREATE TEMP VIEW slow_felling_summary AS
WITH standing AS
  (SELECT * FROM log WHERE coalesce (retired_on, '9999') > bed_today ())
SELECT f.id, f.code, f.felled_on, f.trees, f.dbh, f.height, f.condition, f.leaf,
       (SELECT name FROM stand WHERE stand.id = f.stand) AS stand_name,
       f.supplier, (SELECT common_name FROM wood WHERE wood.id = f.wood) AS wood_name,
       (SELECT count (*) FROM standing WHERE felling = f.id) AS logs,
       (SELECT count (*) FROM standing WHERE felling = f.id AND batch IS NULL) AS waiting,
       (unixepoch (bed_today ()) - unixepoch (f.felled_on)) / 86400 AS age_days
  FROM felling f;

CREATE TEMP VIEW slow_lot_back AS
WITH given AS MATERIALIZED
  (SELECT DISTINCT p.lot, m.log FROM slow_member m, pick p
    WHERE p.id = m.pick AND p.lot IS NOT NULL),
     bags AS
  (SELECT u.batch, s.code, s.supplier, s.supplier_lot,
          (SELECT name FROM strain WHERE id = s.strain) AS strain_name
     FROM spawn_used u, spawn s WHERE s.id = u.spawn)
SELECT DISTINCT g.lot, l.batch,
       (SELECT code FROM batch WHERE id = l.batch) AS batch_code,
       (SELECT inoculated_on FROM batch WHERE id = l.batch) AS inoculated_on,
       a.code AS spawn_code, a.supplier AS spawn_supplier, a.supplier_lot, a.strain_name,
       f.code AS felling_code, f.felled_on,
       (SELECT common_name FROM wood WHERE id = f.wood) AS wood_name,
       (SELECT name FROM stand WHERE id = f.stand) AS stand_name
  FROM given g, log l, felling f LEFT JOIN bags a ON a.batch = l.batch
 WHERE l.id = g.log AND f.id = l.felling;

CREATE TEMP VIEW slow_lot_forward AS
SELECT lot, (SELECT code FROM sale WHERE sale.id = line.sale) AS sale_code,
       (SELECT sold_on FROM sale WHERE sale.id = line.sale) AS sold_on,
       (SELECT y.name FROM buyer y, sale v WHERE y.id = v.buyer AND v.id = line.sale)
         AS buyer_name,
       form, "use", mass, price
  FROM line;

CREATE TEMP VIEW slow_place_group AS
WITH lying AS MATERIALIZED
  (SELECT stack, since, coalesce (until, '9999') AS until,
          (SELECT batch FROM log WHERE log.id = place.log) AS batch FROM place)
SELECT g.stack, g.since, g.until, g.batch,
       (SELECT count (*) FROM lying x WHERE x.stack = g.stack AND x.since = g.since
           AND x.until = g.until AND x.batch IS g.batch) AS logs
  FROM (SELECT DISTINCT stack, since, until, batch FROM lying) g;

CREATE TEMP VIEW slow_stack_share AS
WITH day AS
  (SELECT DISTINCT stack, since, picked_on FROM pick WHERE log IS NULL AND stack IS NOT NULL),
     told AS MATERIALIZED
  (SELECT d.*, (SELECT sum (mass) FROM pick p WHERE p.log IS NULL AND p.stack = d.stack
                   AND p.picked_on = d.picked_on AND p.since IS d.since) AS mass,
          (SELECT count (*) FROM place x WHERE x.stack = d.stack AND x.since <= d.picked_on
              AND coalesce (x.until, '9999') > d.picked_on) AS logs
     FROM day d)
SELECT t.stack, t.since AS total_since, t.picked_on, x.since,
       coalesce (x.until, '9999') AS until, l.batch, count (*) AS logs,
       t.mass * 1.0 / t.logs AS mass
  FROM told t, place x, log l
 WHERE l.id = x.log AND x.stack = t.stack AND x.since <= t.picked_on
       AND coalesce (x.until, '9999') > t.picked_on
 GROUP BY t.stack, t.since, t.picked_on, x.since, x.until, l.batch;

CREATE TEMP VIEW slow_batch_day AS
SELECT batch, since, picked_on, sum (mass) AS mass
  FROM slow_pick_share GROUP BY batch, since, picked_on;

CREATE TEMP VIEW slow_sale_summary AS
SELECT v.id, v.code, v.sold_on, (SELECT name FROM buyer WHERE buyer.id = v.buyer) AS buyer_name,
       (SELECT count (*) FROM line WHERE sale = v.id) AS lines,
       (SELECT sum (mass) FROM line WHERE sale = v.id) AS mass,
       (SELECT sum (price) FROM line WHERE sale = v.id AND NOT "use" <> 'sold') AS income
  FROM sale v;

CREATE TEMP VIEW slow_batch_season AS
WITH calendar AS MATERIALIZED (SELECT * FROM slow_day),
     given AS MATERIALIZED
  (SELECT s.batch, d.season, sum (s.mass) AS mass
     FROM slow_pick_share s, calendar d
    WHERE d.day = s.picked_on AND s.batch IS NOT NULL GROUP BY s.batch, d.season),
     counted AS
  (SELECT g.*, (SELECT count (*) FROM log WHERE log.batch = g.batch
                   AND ifnull (log.retired_on, '9999') >= printf ('%04d-%s', g.season,
                       (SELECT season_start FROM farm WHERE id = 1))) AS logs FROM given g)
SELECT c.batch, c.season, b.code, b.inoculated_on,
       (SELECT strain_name FROM slow_batch_spawn s WHERE s.batch = c.batch) AS strain_name,
       c.season - (SELECT season FROM calendar WHERE day = b.inoculated_on) AS age,
       c.logs, c.mass, CASE WHEN c.logs > 0 THEN c.mass / c.logs END AS mass_per_log
  FROM counted c, batch b WHERE b.id = c.batch;

CREATE TEMP VIEW slow_soak_month AS
WITH usual AS
  (SELECT value AS month FROM json_each (CASE (SELECT hemisphere FROM farm)
     WHEN 'south' THEN '[11, 12, 1, 2, 3, 4]' ELSE '[5, 6, 7, 8, 9, 10]' END)),
     soaked AS
  (SELECT substr (put_in, 6, 2) + 0 AS month FROM soak
    WHERE put_in > date (bed_today (), '-2 years'))
SELECT DISTINCT d.month
  FROM (SELECT month FROM usual UNION SELECT month FROM soaked
        UNION SELECT CASE month WHEN 12 THEN 1 ELSE month + 1 END FROM soaked) d
 WHERE EXISTS (SELECT 1 FROM usual u WHERE u.month = d.month)
    OR EXISTS (SELECT 1 FROM soaked s WHERE s.month = d.month)
    OR EXISTS (SELECT 1 FROM soaked s WHERE d.month = CASE s.month WHEN 12 THEN 1 ELSE s.month + 1 END
               AND NOT EXISTS (SELECT 1 FROM usual u WHERE u.month = s.month));

CREATE TEMP VIEW slow_weather_day AS
SELECT coalesce ((SELECT id FROM rain WHERE fell_on = d.day),
                 (SELECT id FROM temperature WHERE measured_on = d.day)) AS id, d.day,
       (SELECT id FROM rain WHERE fell_on = d.day) AS rain,
       (SELECT depth FROM rain WHERE fell_on = d.day) AS depth,
       (SELECT id FROM temperature WHERE measured_on = d.day) AS temperature,
       (SELECT least FROM temperature WHERE measured_on = d.day) AS least,
       (SELECT most FROM temperature WHERE measured_on = d.day) AS most
  FROM (SELECT fell_on AS day FROM rain UNION SELECT measured_on FROM temperature) d;

CREATE TEMP VIEW slow_supplier_name AS
WITH sold AS
       (SELECT id, supplier FROM spawn UNION SELECT id, supplier FROM purchase
        UNION SELECT id, supplier FROM felling),
     first AS
       (SELECT * FROM sold s WHERE supplier IS NOT NULL AND NOT EXISTS
          (SELECT 1 FROM sold o WHERE o.supplier = s.supplier COLLATE NOCASE AND o.id < s.id))
SELECT f.id, f.supplier AS name,
       (SELECT count (*) FROM spawn x WHERE x.supplier = f.supplier COLLATE NOCASE) AS lots,
       (SELECT count (*) FROM purchase x WHERE x.supplier = f.supplier COLLATE NOCASE) AS purchases,
       (SELECT count (*) FROM felling x WHERE x.supplier = f.supplier COLLATE NOCASE) AS fellings,
       max (ifnull ((SELECT max (received_on) FROM spawn x
                      WHERE x.supplier = f.supplier COLLATE NOCASE), ''),
            ifnull ((SELECT max (bought_on) FROM purchase x
                      WHERE x.supplier = f.supplier COLLATE NOCASE), ''),
            ifnull ((SELECT max (felled_on) FROM felling x
                      WHERE x.supplier = f.supplier COLLATE NOCASE), '')) AS last_on
  FROM first f;
