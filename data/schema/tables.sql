-- The tables of a farm file, version by version. A new version is a line "-- schema N" at the end and
-- what it brings: columns are added to a table's end (ALTER TABLE ... ADD COLUMN), tables made; what is
-- there stays, so that the history of old files can be taken back.

-- schema 1
-- Bedlog farm file, schema 1. Units: lengths um, masses mg, areas cm2, temperatures
-- thousandths of a degree C, percents in hundredths, times minutes, money in minor
-- units of the farm's currency, angles hundredths of a degree. Dates YYYY-MM-DD,
-- moments YYYY-MM-DDTHH:MM. Foreign keys are checked at commit.

-- Settings of the farm: one row, id 1.
CREATE TABLE farm (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  name TEXT NOT NULL,
  address TEXT,
  contact TEXT,
  unit_system TEXT NOT NULL,
  currency TEXT NOT NULL,
  hemisphere TEXT NOT NULL,
  latitude INTEGER,
  season_start TEXT NOT NULL,
  labour_rate INTEGER,
  moisture_basis TEXT NOT NULL,
  moisture_alarm INTEGER,
  moisture_low INTEGER,
  moisture_high INTEGER,
  wait_least INTEGER,
  wait_most INTEGER,
  rest_weeks INTEGER,
  tank_capacity INTEGER,
  weekly_demand INTEGER,
  organic_certificate TEXT
) STRICT;

-- Woods, given and editable (data/wood.csv).
CREATE TABLE wood (
  id INTEGER PRIMARY KEY,
  common_name TEXT NOT NULL UNIQUE COLLATE NOCASE,
  latin_name TEXT,
  basic_density INTEGER,
  green_moisture INTEGER,
  bark_share INTEGER,
  suits_shiitake TEXT,
  suits_oyster TEXT,
  suits_lions_mane TEXT,
  cautions TEXT,
  source TEXT
) STRICT;

-- Stands of trees that logs come from.
CREATE TABLE stand (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE COLLATE NOCASE,
  area INTEGER,
  grows TEXT,
  basal_area INTEGER,
  trees INTEGER,
  residual INTEGER,
  owner TEXT,
  permission TEXT,
  declared_on TEXT,
  notes TEXT
) STRICT;

-- A felling in a stand, or logs bought.
CREATE TABLE felling (
  id INTEGER PRIMARY KEY,
  code TEXT NOT NULL UNIQUE COLLATE NOCASE,
  felled_on TEXT NOT NULL,
  stand INTEGER REFERENCES stand (id) DEFERRABLE INITIALLY DEFERRED,
  supplier TEXT,
  wood INTEGER NOT NULL REFERENCES wood (id) DEFERRABLE INITIALLY DEFERRED,
  trees INTEGER,
  dbh INTEGER,
  height INTEGER,
  condition TEXT,
  leaf TEXT,
  felled_by TEXT,
  notes TEXT
) STRICT;

-- Mushrooms grown, given and editable.
CREATE TABLE mushroom (
  id INTEGER PRIMARY KEY,
  common_name TEXT NOT NULL UNIQUE COLLATE NOCASE,
  latin_name TEXT NOT NULL,
  usual_method TEXT,
  notes TEXT
) STRICT;

-- Strains of a mushroom.
CREATE TABLE strain (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE COLLATE NOCASE,
  mushroom INTEGER NOT NULL REFERENCES mushroom (id) DEFERRABLE INITIALLY DEFERRED,
  type TEXT,
  fruits_from INTEGER,
  fruits_to INTEGER,
  run_least INTEGER,
  run_most INTEGER,
  rest_weeks INTEGER,
  notes TEXT
) STRICT;

-- Spawn lots received.
CREATE TABLE spawn (
  id INTEGER PRIMARY KEY,
  code TEXT NOT NULL UNIQUE COLLATE NOCASE,
  strain INTEGER NOT NULL REFERENCES strain (id) DEFERRABLE INITIALLY DEFERRED,
  form TEXT NOT NULL,
  supplier TEXT,
  supplier_lot TEXT,
  received_on TEXT NOT NULL,
  use_by TEXT,
  mass INTEGER,
  pieces INTEGER,
  cost INTEGER,
  organic TEXT,
  certificate TEXT,
  notes TEXT
) STRICT;

-- Inoculation batches.
CREATE TABLE batch (
  id INTEGER PRIMARY KEY,
  code TEXT NOT NULL UNIQUE COLLATE NOCASE,
  inoculated_on TEXT NOT NULL,
  method TEXT NOT NULL,
  hole_diameter INTEGER,
  hole_depth INTEGER,
  along INTEGER,
  "between" INTEGER,
  margin INTEGER,
  closing TEXT,
  holes_sealed TEXT,
  ends_sealed TEXT,
  wax TEXT,
  wax_mass INTEGER,
  notes TEXT
) STRICT;

-- How much of which spawn lot went into a batch.
CREATE TABLE spawn_used (
  id INTEGER PRIMARY KEY,
  batch INTEGER NOT NULL REFERENCES batch (id) DEFERRABLE INITIALLY DEFERRED,
  spawn INTEGER NOT NULL REFERENCES spawn (id) DEFERRABLE INITIALLY DEFERRED,
  mass INTEGER,
  pieces INTEGER
) STRICT;

-- Logs (bolts), from bucking to retirement.
CREATE TABLE log (
  id INTEGER PRIMARY KEY,
  code TEXT NOT NULL UNIQUE COLLATE NOCASE,
  felling INTEGER NOT NULL REFERENCES felling (id) DEFERRABLE INITIALLY DEFERRED,
  batch INTEGER REFERENCES batch (id) DEFERRABLE INITIALLY DEFERRED,
  length INTEGER NOT NULL,
  small_diameter INTEGER NOT NULL,
  large_diameter INTEGER,
  green_mass INTEGER,
  holes INTEGER,
  bark TEXT,
  retired_on TEXT,
  retired_why TEXT,
  notes TEXT
) STRICT;

-- Parts of the yard.
CREATE TABLE area (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE COLLATE NOCASE,
  shade INTEGER,
  shade_kind TEXT,
  water TEXT,
  water_source TEXT,
  water_tested_on TEXT,
  width INTEGER,
  depth INTEGER,
  outline TEXT,
  north INTEGER,
  slope TEXT,
  notes TEXT
) STRICT;

-- What stands or lies in an area: trees, paths, water, buildings.
CREATE TABLE feature (
  id INTEGER PRIMARY KEY,
  area INTEGER NOT NULL REFERENCES area (id) DEFERRABLE INITIALLY DEFERRED,
  kind TEXT NOT NULL,
  label TEXT,
  outline TEXT NOT NULL
) STRICT;

-- Stacks of logs.
CREATE TABLE stack (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE COLLATE NOCASE,
  area INTEGER NOT NULL REFERENCES area (id) DEFERRABLE INITIALLY DEFERRED,
  kind TEXT NOT NULL,
  x INTEGER,
  y INTEGER,
  turn INTEGER,
  tiers INTEGER,
  per_tier INTEGER,
  built_on TEXT NOT NULL,
  taken_down_on TEXT,
  notes TEXT
) STRICT;

-- Where a log lies since when; one open place a log.
CREATE TABLE place (
  id INTEGER PRIMARY KEY,
  log INTEGER NOT NULL REFERENCES log (id) DEFERRABLE INITIALLY DEFERRED,
  stack INTEGER NOT NULL REFERENCES stack (id) DEFERRABLE INITIALLY DEFERRED,
  tier INTEGER,
  slot INTEGER,
  since TEXT NOT NULL,
  until TEXT
) STRICT;

-- Looking at logs: colonisation, bark, weed fungi, animals.
CREATE TABLE "check" (
  id INTEGER PRIMARY KEY,
  checked_on TEXT NOT NULL,
  log INTEGER REFERENCES log (id) DEFERRABLE INITIALLY DEFERRED,
  batch INTEGER REFERENCES batch (id) DEFERRABLE INITIALLY DEFERRED,
  stack INTEGER REFERENCES stack (id) DEFERRABLE INITIALLY DEFERRED,
  colonised INTEGER,
  bark TEXT,
  weed TEXT,
  severity TEXT,
  animals TEXT,
  action TEXT,
  notes TEXT
) STRICT;

-- A log on the scale.
CREATE TABLE weighing (
  id INTEGER PRIMARY KEY,
  weighed_on TEXT NOT NULL,
  log INTEGER NOT NULL REFERENCES log (id) DEFERRABLE INITIALLY DEFERRED,
  mass INTEGER NOT NULL,
  notes TEXT
) STRICT;

-- Sample discs weighed fresh and oven-dry.
CREATE TABLE disc (
  id INTEGER PRIMARY KEY,
  cut_on TEXT NOT NULL,
  batch INTEGER REFERENCES batch (id) DEFERRABLE INITIALLY DEFERRED,
  felling INTEGER REFERENCES felling (id) DEFERRABLE INITIALLY DEFERRED,
  fresh_mass INTEGER NOT NULL,
  dry_mass INTEGER NOT NULL
) STRICT;

-- Watering of a stack or an area.
CREATE TABLE watering (
  id INTEGER PRIMARY KEY,
  watered_on TEXT NOT NULL,
  stack INTEGER REFERENCES stack (id) DEFERRABLE INITIALLY DEFERRED,
  area INTEGER REFERENCES area (id) DEFERRABLE INITIALLY DEFERRED,
  method TEXT,
  minutes INTEGER
) STRICT;

-- Rain by day.
CREATE TABLE rain (
  id INTEGER PRIMARY KEY,
  fell_on TEXT NOT NULL,
  depth INTEGER NOT NULL
) STRICT;

-- Least and most temperature by day.
CREATE TABLE temperature (
  id INTEGER PRIMARY KEY,
  measured_on TEXT NOT NULL,
  least INTEGER NOT NULL,
  most INTEGER NOT NULL
) STRICT;

-- A filling of a soak tank.
CREATE TABLE soak (
  id INTEGER PRIMARY KEY,
  code TEXT NOT NULL UNIQUE COLLATE NOCASE,
  tank TEXT NOT NULL,
  put_in TEXT NOT NULL,
  taken_out TEXT,
  water_temperature INTEGER,
  air_temperature INTEGER,
  water TEXT,
  notes TEXT
) STRICT;

-- Which logs were in it.
CREATE TABLE soaked (
  id INTEGER PRIMARY KEY,
  soak INTEGER NOT NULL REFERENCES soak (id) DEFERRABLE INITIALLY DEFERRED,
  log INTEGER NOT NULL REFERENCES log (id) DEFERRABLE INITIALLY DEFERRED
) STRICT;

-- Lots of mushrooms: what buyers and inspectors trace.
CREATE TABLE lot (
  id INTEGER PRIMARY KEY,
  code TEXT NOT NULL UNIQUE COLLATE NOCASE,
  picked_on TEXT NOT NULL,
  cooled_at TEXT,
  cooled_to INTEGER,
  notes TEXT
) STRICT;

-- Picks. At least one of log, stack, batch is set.
CREATE TABLE pick (
  id INTEGER PRIMARY KEY,
  picked_on TEXT NOT NULL,
  log INTEGER REFERENCES log (id) DEFERRABLE INITIALLY DEFERRED,
  stack INTEGER REFERENCES stack (id) DEFERRABLE INITIALLY DEFERRED,
  batch INTEGER REFERENCES batch (id) DEFERRABLE INITIALLY DEFERRED,
  grade TEXT NOT NULL,
  mass INTEGER NOT NULL,
  lot INTEGER REFERENCES lot (id) DEFERRABLE INITIALLY DEFERRED,
  picker TEXT,
  notes TEXT
) STRICT;

-- Drying of a lot.
CREATE TABLE drying (
  id INTEGER PRIMARY KEY,
  lot INTEGER NOT NULL REFERENCES lot (id) DEFERRABLE INITIALLY DEFERRED,
  dried_on TEXT NOT NULL,
  fresh_mass INTEGER NOT NULL,
  dried_mass INTEGER NOT NULL
) STRICT;

-- Buyers.
CREATE TABLE buyer (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE COLLATE NOCASE,
  kind TEXT,
  contact TEXT
) STRICT;

-- A sale (or a loss) on a day.
CREATE TABLE sale (
  id INTEGER PRIMARY KEY,
  code TEXT NOT NULL UNIQUE COLLATE NOCASE,
  sold_on TEXT NOT NULL,
  buyer INTEGER REFERENCES buyer (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;

-- Its lines; losses are lines without a price.
CREATE TABLE line (
  id INTEGER PRIMARY KEY,
  sale INTEGER NOT NULL REFERENCES sale (id) DEFERRABLE INITIALLY DEFERRED,
  lot INTEGER NOT NULL REFERENCES lot (id) DEFERRABLE INITIALLY DEFERRED,
  form TEXT NOT NULL,
  "use" TEXT NOT NULL,
  mass INTEGER NOT NULL,
  price INTEGER
) STRICT;

-- Money spent, without tax and tax.
CREATE TABLE purchase (
  id INTEGER PRIMARY KEY,
  bought_on TEXT NOT NULL,
  category TEXT NOT NULL,
  what TEXT NOT NULL,
  quantity TEXT,
  amount INTEGER NOT NULL,
  tax INTEGER,
  supplier TEXT,
  scope TEXT NOT NULL,
  batch INTEGER REFERENCES batch (id) DEFERRABLE INITIALLY DEFERRED,
  notes TEXT
) STRICT;

-- Hours worked.
CREATE TABLE hours (
  id INTEGER PRIMARY KEY,
  worked_on TEXT NOT NULL,
  task TEXT NOT NULL,
  person TEXT,
  minutes INTEGER NOT NULL,
  rate INTEGER,
  batch INTEGER REFERENCES batch (id) DEFERRABLE INITIALLY DEFERRED,
  stack INTEGER REFERENCES stack (id) DEFERRABLE INITIALLY DEFERRED,
  logs INTEGER,
  notes TEXT
) STRICT;

-- Equipment written off over years.
CREATE TABLE equipment (
  id INTEGER PRIMARY KEY,
  what TEXT NOT NULL UNIQUE COLLATE NOCASE,
  bought_on TEXT NOT NULL,
  price INTEGER NOT NULL,
  salvage INTEGER,
  life_years INTEGER NOT NULL,
  share INTEGER
) STRICT;

-- Tasks the grower set or put off; the rest of what is due is worked out.
CREATE TABLE due (
  id INTEGER PRIMARY KEY,
  due_on TEXT NOT NULL,
  what TEXT NOT NULL,
  subject TEXT,
  why TEXT,
  done_on TEXT,
  put_off_until TEXT
) STRICT;

-- One open place a log.
CREATE UNIQUE INDEX by_place_open ON place (log) WHERE until IS NULL;
CREATE INDEX by_place_log ON place (log, since);
CREATE INDEX by_place_stack ON place (stack, since);
CREATE UNIQUE INDEX by_soaked_once ON soaked (soak, log);
CREATE INDEX by_soaked_log ON soaked (log);
CREATE INDEX by_soak_in ON soak (put_in);
CREATE INDEX by_log_batch ON log (batch, code);
CREATE INDEX by_log_felling ON log (felling);
CREATE INDEX by_pick_log ON pick (log, picked_on);
CREATE INDEX by_pick_day ON pick (picked_on);
CREATE INDEX by_pick_lot ON pick (lot);
CREATE INDEX by_pick_batch ON pick (batch) WHERE batch IS NOT NULL;
CREATE INDEX by_pick_stack ON pick (stack) WHERE stack IS NOT NULL;
CREATE INDEX by_weighing_log ON weighing (log, weighed_on);
CREATE INDEX by_check_log ON "check" (log, checked_on);
CREATE INDEX by_check_batch ON "check" (batch, checked_on);
CREATE INDEX by_check_stack ON "check" (stack, checked_on);
CREATE INDEX by_spawn_used_batch ON spawn_used (batch);
CREATE INDEX by_spawn_used_spawn ON spawn_used (spawn);
CREATE INDEX by_disc_batch ON disc (batch);
CREATE INDEX by_disc_felling ON disc (felling);
CREATE INDEX by_line_sale ON line (sale);
CREATE INDEX by_line_lot ON line (lot);
CREATE INDEX by_drying_lot ON drying (lot);
CREATE INDEX by_hours_day ON hours (worked_on);
CREATE INDEX by_hours_batch ON hours (batch);
CREATE INDEX by_purchase_day ON purchase (bought_on);
CREATE INDEX by_purchase_batch ON purchase (batch);
CREATE INDEX by_stack_area ON stack (area);
CREATE INDEX by_feature_area ON feature (area);
CREATE INDEX by_watering_day ON watering (watered_on);
CREATE UNIQUE INDEX by_rain_day ON rain (fell_on);
CREATE UNIQUE INDEX by_temperature_day ON temperature (measured_on);

-- What was done: one row a commit. changeset is an SQLite session changeset over
-- the tables above; role tells work from undo and redo; undoes names the change
-- that an undo takes back or a redo puts forward again; undone_by names the undo
-- in force.
CREATE TABLE change (
  id INTEGER PRIMARY KEY,
  at TEXT NOT NULL,
  who TEXT NOT NULL,
  sentence TEXT NOT NULL,
  role TEXT NOT NULL CHECK (role IN ('do', 'undo', 'redo')),
  changeset BLOB NOT NULL,
  undoes INTEGER REFERENCES change (id),
  undone_by INTEGER REFERENCES change (id)
) STRICT;

-- schema 2
-- A farm's own pace and needs when it drills, fills and waxes; NULL: common practice.
-- Paces are counts a minute, handle_pace an hour; masses mg.
ALTER TABLE farm ADD COLUMN drill_tool TEXT;
ALTER TABLE farm ADD COLUMN drill_pace INTEGER;
ALTER TABLE farm ADD COLUMN fill_pace INTEGER;
ALTER TABLE farm ADD COLUMN wax_pace INTEGER;
ALTER TABLE farm ADD COLUMN end_pace INTEGER;
ALTER TABLE farm ADD COLUMN handle_pace INTEGER;
ALTER TABLE farm ADD COLUMN wax_holes INTEGER;
ALTER TABLE farm ADD COLUMN wax_ends INTEGER;
ALTER TABLE farm ADD COLUMN spawn_litre INTEGER;

-- schema 3
-- Labour rates that held for hours before a day; since the last of them the farm's own does.
CREATE TABLE rate (
  id INTEGER PRIMARY KEY,
  until TEXT NOT NULL,
  rate INTEGER NOT NULL
) STRICT;
CREATE UNIQUE INDEX by_rate_until ON rate (until);

-- More spawn than the plan needs, hundredths of a percent of it, that a farm keeps by.
ALTER TABLE farm ADD COLUMN spawn_reserve INTEGER;

-- schema 4
-- What stands in an area, by its form: outline then holds its middle alone, or the points of a band
-- or polygon. Measures um, turn hundredths of a degree; NULL form: as its corners say.
ALTER TABLE feature ADD COLUMN form TEXT;
ALTER TABLE feature ADD COLUMN turn INTEGER;
ALTER TABLE feature ADD COLUMN width INTEGER;
ALTER TABLE feature ADD COLUMN depth INTEGER;
ALTER TABLE feature ADD COLUMN radius INTEGER;
ALTER TABLE feature ADD COLUMN trunk INTEGER;

-- Where a stack stood before it was moved on a day; since the last of them it stands where the stack
-- itself says.
CREATE TABLE stood (
  id INTEGER PRIMARY KEY,
  stack INTEGER NOT NULL REFERENCES stack (id) DEFERRABLE INITIALLY DEFERRED,
  area INTEGER NOT NULL REFERENCES area (id) DEFERRABLE INITIALLY DEFERRED,
  x INTEGER,
  y INTEGER,
  turn INTEGER,
  until TEXT NOT NULL
) STRICT;
CREATE UNIQUE INDEX by_stood_stack ON stood (stack, until);
CREATE INDEX by_stood_area ON stood (area);

-- A farm's own measures in the yard, um; NULL: common practice.
ALTER TABLE farm ADD COLUMN aisle INTEGER;
ALTER TABLE farm ADD COLUMN pile_height INTEGER;
ALTER TABLE farm ADD COLUMN crib_height INTEGER;
ALTER TABLE farm ADD COLUMN lean_rail INTEGER;
ALTER TABLE farm ADD COLUMN frame_rail INTEGER;
ALTER TABLE farm ADD COLUMN water_distance INTEGER;

-- schema 5
-- What a grower calls a log beside its code: one in its batch.
ALTER TABLE log ADD COLUMN mark TEXT;
CREATE INDEX by_log_mark ON log (batch, mark);

-- What is planned in the yard for a coming day: stacks that are still to be built, um and hundredths
-- of a degree as those that stand,
CREATE TABLE planned_stack (
  id INTEGER PRIMARY KEY,
  planned_on TEXT NOT NULL,
  name TEXT NOT NULL UNIQUE COLLATE NOCASE,
  area INTEGER NOT NULL REFERENCES area (id) DEFERRABLE INITIALLY DEFERRED,
  kind TEXT NOT NULL,
  x INTEGER,
  y INTEGER,
  turn INTEGER,
  tiers INTEGER,
  per_tier INTEGER
) STRICT;
CREATE INDEX by_planned_stack_area ON planned_stack (area);

-- and logs that are to be moved, into one of those or one that stands already.
CREATE TABLE planned_move (
  id INTEGER PRIMARY KEY,
  planned_on TEXT NOT NULL,
  log INTEGER NOT NULL REFERENCES log (id) DEFERRABLE INITIALLY DEFERRED,
  stack INTEGER REFERENCES stack (id) DEFERRABLE INITIALLY DEFERRED,
  new_stack INTEGER REFERENCES planned_stack (id) DEFERRABLE INITIALLY DEFERRED,
  tier INTEGER,
  slot INTEGER
) STRICT;
CREATE UNIQUE INDEX by_planned_move_log ON planned_move (log, planned_on);
CREATE INDEX by_planned_move_stack ON planned_move (stack);
CREATE INDEX by_planned_move_new_stack ON planned_move (new_stack);

-- How a sheet of somebody else's was understood, under its heads: taken again with the next of them.
CREATE TABLE matching (
  id INTEGER PRIMARY KEY,
  heads TEXT NOT NULL UNIQUE COLLATE NOCASE,
  decisions TEXT NOT NULL
) STRICT;

-- schema 6
-- A log of which only its batch's number is known.
ALTER TABLE log ADD COLUMN counted TEXT;

-- The first day of a total of several picks; NULL for what was picked on one day.
ALTER TABLE pick ADD COLUMN since TEXT;
CREATE INDEX by_pick_total ON pick (batch) WHERE since IS NOT NULL;

-- Who certified a farm: stands on the label of a crate.
ALTER TABLE farm ADD COLUMN organic_certifier TEXT;

-- Whether tax on what is bought comes back from the state ('yes', NULL) or is a cost ('no').
ALTER TABLE farm ADD COLUMN tax_reclaimed TEXT;

-- The spawn lot on record that a purchase paid for: its cost is counted as it is used.
ALTER TABLE purchase ADD COLUMN spawn INTEGER REFERENCES spawn (id) DEFERRABLE INITIALLY DEFERRED;

-- The day a buyer paid; NULL: not on record.
ALTER TABLE sale ADD COLUMN paid_on TEXT;

-- What of a category (of purchase) was in store on a day and not used, at cost, in minor units.
CREATE TABLE stock_count (
  id INTEGER PRIMARY KEY,
  counted_on TEXT NOT NULL,
  category TEXT NOT NULL,
  amount INTEGER NOT NULL,
  notes TEXT
) STRICT;
CREATE UNIQUE INDEX by_stock_count_day ON stock_count (counted_on, category);

-- What the last test of an area's water found.
ALTER TABLE area ADD COLUMN water_result TEXT;

-- What of a spawn lot was thrown away, spoiled or past its use.
CREATE TABLE spawn_gone (
  id INTEGER PRIMARY KEY,
  spawn INTEGER NOT NULL REFERENCES spawn (id) DEFERRABLE INITIALLY DEFERRED,
  gone_on TEXT NOT NULL,
  why TEXT NOT NULL,
  mass INTEGER,
  pieces INTEGER,
  notes TEXT
) STRICT;
CREATE INDEX by_spawn_gone_spawn ON spawn_gone (spawn);

-- How equipment is written off; NULL: by the straight line.
ALTER TABLE equipment ADD COLUMN method TEXT;

-- schema 7
-- Masses are summed by day, by log and by stack, and logs that lay together are counted: each is
-- read from its index alone.
DROP INDEX by_pick_day;
CREATE INDEX by_pick_day ON pick (picked_on, mass, since);
DROP INDEX by_pick_log;
CREATE INDEX by_pick_log ON pick (log, picked_on, mass, since);
DROP INDEX by_pick_stack;
CREATE INDEX by_pick_stack ON pick (stack, picked_on, mass, since, log) WHERE stack IS NOT NULL;
DROP INDEX by_place_stack;
CREATE INDEX by_place_stack ON place (stack, since, until, log);
DROP INDEX by_soaked_log;
CREATE INDEX by_soaked_log ON soaked (log, soak);
