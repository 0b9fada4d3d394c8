#include "report/book_sheet.h"

#include <glib/gi18n-lib.h>

static const BedBookFigure figures[] = {
  BED_FIGURE (N_ ("Farm"), TEXT, .sql = "SELECT name FROM farm"),
  BED_FIGURE (N_ ("Address"), TEXT, .sql = "SELECT replace (address, char (10), ', ') FROM farm"),
  BED_FIGURE (N_ ("Contact"), TEXT, .sql = "SELECT contact FROM farm"),
  BED_FIGURE (N_ ("Organic certificate no."), TEXT, .sql = "SELECT organic_certificate FROM farm"),
};

static const BedBookColumn spawn_columns[] = {
  BED_COLUMN_OF ("spawn.code", 12),
  BED_COLUMN_OF ("strain.name", 18),
  BED_COLUMN_OF ("spawn.form", 12),
  BED_COLUMN_OF ("spawn.supplier", 24),
  BED_COLUMN_OF ("spawn.supplier_lot", 16, .title = N_ ("Supplier's lot")),
  BED_COLUMN_OF ("spawn.received_on", 12, .title = N_ ("Received")),
  BED_COLUMN_OF ("spawn.mass", 10),
  BED_COLUMN_OF ("spawn.pieces", 10),
  BED_COLUMN_OF ("spawn.organic", 9),
  BED_COLUMN_OF ("spawn.certificate", 20),
};

/* Lots received this season, and those that went into its batches. */
static const char spawn_question[]
    = "SELECT s.code, t.name, s.form, s.supplier, s.supplier_lot, s.received_on, s.mass, s.pieces,"
      " s.organic, s.certificate FROM spawn s JOIN strain t ON t.id = s.strain"
      " WHERE (s.received_on >= ?1 AND s.received_on < ?2) OR EXISTS (SELECT 1 FROM spawn_used u"
      "  JOIN batch b ON b.id = u.batch WHERE u.spawn = s.id AND b.inoculated_on >= ?1"
      "  AND b.inoculated_on < ?2) ORDER BY s.received_on, s.code";

static const BedBookColumn wood_columns[] = {
  BED_COLUMN_OF ("felling.code", 12),      BED_COLUMN_OF ("wood.common_name", 18),
  BED_COLUMN_OF ("felling.felled_on", 12), BED_COLUMN (N_ ("Stand or supplier"), TEXT, 24),
  BED_COLUMN_OF ("stand.owner", 16),       BED_COLUMN_OF ("stand.declared_on", 12),
  BED_COLUMN (N_ ("Logs"), COUNT, 10),     BED_COLUMN_OF ("felling.trees", 10),
  BED_COLUMN_OF ("felling.leaf", 9),       BED_COLUMN_OF ("stand.permission", 20),
};

/* Fellings whose logs stood in the season. */
static const char wood_question[]
    = "SELECT f.code, w.common_name, f.felled_on, coalesce (d.name, f.supplier), d.owner,"
      " d.declared_on, count (l.id), f.trees, f.leaf, d.permission"
      " FROM felling f JOIN wood w ON w.id = f.wood LEFT JOIN stand d ON d.id = f.stand"
      " JOIN log l ON l.felling = f.id AND bed_stood (l.retired_on, ?1)"
      " WHERE f.felled_on < ?2 GROUP BY f.id ORDER BY f.felled_on, f.code";

static const BedBookColumn input_columns[] = {
  BED_COLUMN_OF ("purchase.bought_on", 12), BED_COLUMN_OF ("purchase.what", 18),
  BED_COLUMN_OF ("purchase.category", 12),  BED_COLUMN_OF ("purchase.supplier", 24),
  BED_COLUMN_OF ("purchase.quantity", 16),
};

/* What touches logs, mushrooms or water; not paper, miles or fees. */
static const char input_question[]
    = "SELECT bought_on, what, category, supplier, quantity FROM purchase"
      " WHERE bought_on >= ?1 AND bought_on < ?2"
      " AND category IN ('spawn', 'wax', 'tools', 'logs', 'yard', 'water', 'packaging')"
      " ORDER BY bought_on, id";

static const BedBookColumn water_columns[] = {
  BED_COLUMN_OF ("area.name", 12),
  BED_COLUMN_OF ("area.shade_kind", 18, .title = N_ ("Shade from")),
  BED_COLUMN_OF ("area.water", 12),
  BED_COLUMN_OF ("area.water_source", 24),
  BED_COLUMN (N_ ("Stacks"), COUNT, 16),
  BED_COLUMN_OF ("area.water_tested_on", 12),
  BED_COLUMN (N_ ("Waterings this season"), COUNT, 10),
};

static const char water_question[]
    = "SELECT a.name, a.shade_kind, a.water, a.water_source,"
      " (SELECT count (DISTINCT k.stack) FROM stack_place k WHERE k.area = a.id"
      "   AND k.since < ?2 AND coalesce (k.until, '9999') >= ?1), a.water_tested_on,"
      /* A stack may be watered on the day it leaves. */
      " (SELECT count (DISTINCT g.id) FROM watering g LEFT JOIN stack_place k"
      "   ON k.stack = g.stack AND g.watered_on >= k.since"
      "   AND g.watered_on <= coalesce (k.until, '9999')"
      "   WHERE coalesce (g.area, k.area) = a.id AND g.watered_on >= ?1 AND g.watered_on < ?2)"
      " FROM area a ORDER BY a.name";

static const BedBookColumn soak_columns[] = {
  BED_COLUMN_OF ("soak.tank", 12),
  BED_COLUMN_OF ("soak.water", 18, .title = N_ ("Water")),
  BED_COLUMN (N_ ("Soaks"), COUNT, 12),
  BED_COLUMN (N_ ("Logs soaked"), COUNT, 24),
};

static const char soak_question[]
    = "SELECT s.tank, s.water, count (*),"
      " sum ((SELECT count (*) FROM soaked d WHERE d.soak = s.id)) FROM soak s"
      " WHERE s.put_in >= ?1 AND s.put_in < ?2 GROUP BY 1, 2 ORDER BY 1, 2";

static const BedBlock blocks[] = { { BED_BLOCK_FIGURES (figures) } };

const BedBookSheet bed_sheet_organic = {
  .name = N_ ("Organic file"),
  .question
  = N_ ("What a certifier asks of the season; spawn, wood, inputs, water and yard stand on "
        "the sheets that follow."),
  BED_BLOCKS (blocks),
  .one_page = TRUE,
};

const BedBookSheet bed_sheet_sources = {
  .name = N_ ("Spawn lots"),
  .question = N_ ("Spawn lots received this season, and those that went into its batches."),
  BED_ONE_TABLE ("Sources", spawn_columns, spawn_question),
};

const BedBookSheet bed_sheet_wood = {
  .name = N_ ("Fellings"),
  .question = N_ ("Fellings and purchases of wood whose logs stood in the season."),
  BED_ONE_TABLE ("Wood", wood_columns, wood_question),
};

const BedBookSheet bed_sheet_inputs = {
  .name = N_ ("Inputs"),
  .question = N_ ("What was bought this season that touches logs, mushrooms or water."),
  BED_ONE_TABLE ("Inputs", input_columns, input_question),
};

const BedBookSheet bed_sheet_water = {
  .name = N_ ("Yard and water"),
  .question = N_ ("Each area of the yard, its shade and its water."),
  BED_ONE_TABLE ("Water", water_columns, water_question),
};

const BedBookSheet bed_sheet_soaks = {
  .name = N_ ("Soaks"),
  .question = N_ ("The season's soaks by tank and water."),
  BED_ONE_TABLE ("Soaks", soak_columns, soak_question),
};
