#include "report/book_sheet.h"

#include <glib/gi18n-lib.h>

static const BedBookFigure figures[] = {
  BED_FIGURE (N_ ("Farm"), TEXT, .sql = "SELECT name FROM farm"),
  BED_FIGURE (N_ ("Address"), TEXT, .sql = "SELECT replace (address, char (10), ', ') FROM farm"),
  BED_FIGURE (N_ ("Contact"), TEXT, .sql = "SELECT contact FROM farm"),
  BED_FIGURE (N_ ("Organic certificate no."), TEXT, .sql = "SELECT organic_certificate FROM farm"),
};

static const BedBookColumn spawn_columns[] = {
  BED_COLUMN_OF ("spawn.code", 12, .name = "code"),
  BED_COLUMN_OF ("strain.name", 24),
  BED_COLUMN_OF ("spawn.form", 12),
  BED_COLUMN_OF ("spawn.supplier", 24),
  BED_COLUMN_OF ("spawn.supplier_lot", 16, .title = N_ ("Supplier's lot")),
  BED_COLUMN_OF ("spawn.received_on", 12, .title = N_ ("Received")),
  BED_COLUMN_OF ("spawn.mass", 10),
  BED_COLUMN_OF ("spawn.pieces", 10),
  BED_COLUMN_OF ("spawn.organic", 9),
  BED_COLUMN_OF ("spawn.certificate", 20),
};

/* Batch b gave something this season. */
#define BORE                                                                                       \
  "EXISTS (SELECT 1 FROM crop_batch c WHERE c.batch = b.id AND c.season = ?3 AND c.mass > 0)"

/* Lots received this season, and those that its batches and its crop came from. */
static const char spawn_question[]
    = "SELECT s.code, t.name, s.form, s.supplier, s.supplier_lot, s.received_on, s.mass, s.pieces,"
      " s.organic, s.certificate FROM spawn s JOIN strain t ON t.id = s.strain"
      " WHERE (s.received_on >= ?1 AND s.received_on < ?2) OR EXISTS (SELECT 1 FROM spawn_used u"
      "  JOIN batch b ON b.id = u.batch WHERE u.spawn = s.id AND (b.inoculated_on >= ?1"
      "  AND b.inoculated_on < ?2 OR " BORE ")) ORDER BY s.received_on, s.code";

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
  BED_COLUMN_OF ("area.water_result", 30),
  BED_COLUMN (N_ ("Waterings this season"), COUNT, 10),
};

static const char water_question[]
    = "SELECT a.name, a.shade_kind, a.water, a.water_source,"
      " (SELECT count (DISTINCT k.stack) FROM stack_place k WHERE k.area = a.id"
      "   AND k.since < ?2 AND coalesce (k.until, '9999') >= ?1),"
      " a.water_tested_on, a.water_result,"
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

/* What was picked is somewhere. */
static const BedBookFigure balance_figures[] = {
  BED_FIGURE_HEADING (N_ ("Fresh mushrooms")),
  BED_FIGURE (N_ ("Picked"), MASS, .expression = "SUM(Picks_mass)", .style = BED_STYLE_STRONG),
  BED_FIGURE (N_ ("Sold fresh"), MASS, .expression = "SUM(Lots_sold)"),
  BED_FIGURE (N_ ("Lost or given away"), MASS, .expression = "SUM(Lots_lost)"),
  BED_FIGURE (N_ ("Dried"), MASS, .expression = "SUM(Lots_dried)"),
  BED_FIGURE (N_ ("In store at the end"), MASS, .expression = "SUM(Lots_left)"),
  BED_FIGURE (N_ ("Picked into no lot"), MASS, .name = "Balance_loose",
              .expression = "ROUND(SUM(Picks_mass)-SUM(Lots_mass),4)"),
  BED_FIGURE (N_ ("Not accounted for"), MASS, .name = "Balance", .style = BED_STYLE_STRONG,
              .expression = "ROUND(SUM(Picks_mass)-SUM(Lots_sold)-SUM(Lots_lost)-SUM(Lots_dried)"
                            "-SUM(Lots_left)-Balance_loose,3)",
              .note = N_ ("nothing, if the books are right")),

  BED_FIGURE_HEADING (N_ ("Dried mushrooms")),
  BED_FIGURE (N_ ("In store before the season"), MASS, .name = "Dried_before",
              .sql = "SELECT " BED_DRIED_LEFT ("?1")),
  BED_FIGURE (N_ ("Came out of the dryer"), MASS, .name = "Dried_made",
              .sql = "SELECT coalesce (sum (dried_mass), 0) FROM drying"
                     " WHERE dried_on >= ?1 AND dried_on < ?2"),
  BED_FIGURE (N_ ("Sold dried"), MASS, .expression = "Mass_sold_dried"),
  BED_FIGURE (N_ ("Lost or given away"), MASS, .name = "Dried_lost",
              .expression = "SUMIFS(Sales_mass,Sales_form,{line.form.dried},"
                            "Sales_use,\"<>\"&{line.use.sold})"),
  BED_FIGURE (N_ ("In store at the end"), MASS, .name = "Dried_after", .style = BED_STYLE_STRONG,
              .expression = "ROUND(Dried_before+Dried_made-Mass_sold_dried-Dried_lost,4)"),
};

static const BedBookColumn crop_columns[] = {
  BED_COLUMN_OF ("batch.code", 10),
  BED_COLUMN_OF ("batch.inoculated_on", 12, .title = N_ ("Inoculated")),
  BED_COLUMN_OF ("batch.method", 10),
  BED_COLUMN (N_ ("Wood"), TEXT, 18),
  BED_COLUMN (N_ ("Fellings"), TEXT, 16),
  BED_COLUMN (N_ ("Spawn lots"), TEXT, 16),
  BED_COLUMN_OF ("batch.wax", 12),
  BED_COLUMN_OF ("batch.wax_mass", 10),
  BED_COLUMN_OF ("batch.holes_sealed", 9),
  BED_COLUMN_OF ("batch.ends_sealed", 9),
  BED_COLUMN (N_ ("Logs in the season"), COUNT, 9, BED_SUMMED),
  BED_COLUMN (N_ ("Where they lay at its end"), TEXT, 34),
  BED_COLUMN (N_ ("Picked"), MASS, 10, BED_SUMMED),
};

/* SQL in lines of its own. */
/* clang-format off */
#define LISTED(what, from) \
  "(SELECT group_concat (x, ', ') FROM (SELECT DISTINCT " what " AS x " from " ORDER BY 1))"

static const char crop_question[] =
  "SELECT b.code, b.inoculated_on, b.method, n.wood,"
  LISTED ("f.code", "FROM log l JOIN felling f ON f.id = l.felling WHERE l.batch = b.id") ","
  LISTED ("s.code", "FROM spawn_used u JOIN spawn s ON s.id = u.spawn WHERE u.batch = b.id") ","
  " b.wax, b.wax_mass, b.holes_sealed, b.ends_sealed, n.stood,"
  LISTED ("substr (a.name, 1, 200) || ': ' || substr (k.name, 1, 200)",
          "FROM log l JOIN season_log g ON g.log = l.id"
          " JOIN stack k ON k.id = g.stack JOIN area a ON a.id = k.area"
          " WHERE l.batch = b.id") ","
  " (SELECT c.mass FROM crop_batch c WHERE c.batch = b.id AND c.season = ?3)"
  " FROM batch b LEFT JOIN season_batch n ON n.batch = b.id WHERE b.inoculated_on < ?2"
  " AND (b.inoculated_on >= ?1 OR n.stood > 0 OR " BORE ") ORDER BY b.inoculated_on, b.code";
/* clang-format on */

const BedBookSheet bed_sheet_crop = {
  .name = N_ ("Batches and papers"),
  .question
  = N_ ("Every batch that was made this season, stood in it or gave something: what it is "
        "made of and where it lies."),
  BED_ONE_TABLE ("Made", crop_columns, crop_question),
};

static const BedBookColumn check_columns[] = {
  BED_COLUMN_OF ("check.checked_on", 12), BED_COLUMN (N_ ("What"), TEXT, 16),
  BED_COLUMN_OF ("check.colonised", 11),  BED_COLUMN_OF ("check.bark", 9),
  BED_COLUMN_OF ("check.weed", 28),       BED_COLUMN_OF ("check.severity", 9),
  BED_COLUMN_OF ("check.animals", 18),    BED_COLUMN_OF ("check.action", 26),
  BED_COLUMN_OF ("check.notes", 26),
};

static const char check_question[]
    = "SELECT c.checked_on, coalesce (l.code, b.code, k.name), c.colonised, c.bark, c.weed,"
      " c.severity, c.animals, c.action, c.notes FROM \"check\" c LEFT JOIN log l ON l.id = c.log"
      " LEFT JOIN batch b ON b.id = c.batch LEFT JOIN stack k ON k.id = c.stack"
      " WHERE c.checked_on >= ?1 AND c.checked_on < ?2 ORDER BY c.checked_on, c.id";

const BedBookSheet bed_sheet_checks = {
  .name = N_ ("Checks"),
  .question = N_ ("What was seen on logs this season: weed fungi, animals, and what was done."),
  BED_ONE_TABLE ("Checks", check_columns, check_question),
};

static const BedBookColumn delivery_columns[] = {
  BED_COLUMN_OF ("buyer.name", 28),
  BED_COLUMN_OF ("buyer.contact", 34),
  BED_COLUMN_OF ("sale.sold_on", 12),
  BED_COLUMN_OF ("lot.code", 15),
  BED_COLUMN_OF ("lot.picked_on", 12, .title = N_ ("Picked on")),
  BED_COLUMN_OF ("line.form", 9),
  BED_COLUMN_OF ("line.use", 12),
  BED_COLUMN_OF ("line.mass", 11),
};

static const char delivery_question[]
    = "SELECT y.name, y.contact, v.sold_on, t.code, t.picked_on, n.form, n.\"use\", n.mass"
      " FROM line n JOIN sale v ON v.id = n.sale JOIN lot t ON t.id = n.lot"
      " LEFT JOIN buyer y ON y.id = v.buyer WHERE v.sold_on >= ?1 AND v.sold_on < ?2"
      " ORDER BY y.name, v.sold_on, t.code, n.id";

const BedBookSheet bed_sheet_deliveries = {
  .name = N_ ("Deliveries"),
  .question = N_ ("Who had what of which lot, and when."),
  BED_ONE_TABLE ("Deliveries", delivery_columns, delivery_question),
};

static const BedBlock blocks[] = {
  { BED_BLOCK_FIGURES (figures) },
  { BED_BLOCK_FIGURES (balance_figures) },
};

const BedBookSheet bed_sheet_organic = {
  .name = N_ ("Organic file"),
  .question
  = N_ ("What a certifier asks of the season: the mass balance here; spawn, batches, wood, "
        "checks, inputs, water, buyers and maps on the sheets that follow."),
  BED_BLOCKS (blocks),
  .one_page = TRUE,
};

const BedBookSheet bed_sheet_sources = {
  .name = N_ ("Spawn lots"),
  .question = N_ ("Spawn lots received this season, and those that its batches and its crop came "
                  "from."),
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
