#include "model/season/trace_private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/farm/value.h"
#include "science/units.h"

#define STEP(kind, ...) BED_TRACE_STEP (BED_KIND_##kind, __VA_ARGS__)
#define TEXT(key, label) BED_TRACE_COLUMN (TEXT, key, label)
#define DATE(key, label) BED_TRACE_COLUMN (DATE, key, label)
#define MASS(key, label) BED_TRACE_COLUMN (MASS, key, label)
#define MONEY(key, label) BED_TRACE_COLUMN (MONEY, key, label)
#define COUNT(key, label) BED_TRACE_COLUMN (COUNT, key, label)

/* Lots that logs matching a condition gave to, and who got those. A plain list inside IN: of
 * a view in parts SQLite asks only the parts' own indexes when nothing is grouped or sorted. */
#define LOTS_OF(where) "(SELECT x.lot FROM log l JOIN pick_log x ON x.log = l.id WHERE " where ")"
#define LOTS(kind, where)                                                                          \
  STEP (kind, "lots", N_ ("Lots"),                                                                 \
        "SELECT code, picked_on FROM lot WHERE id IN " LOTS_OF (where) " ORDER BY 2, 1",           \
        TEXT ("lot", N_ ("Lot")), DATE ("picked_on", N_ ("Picked on")))
#define BUYERS(kind, where)                                                                        \
  STEP (kind, "to", N_ ("To"),                                                                     \
        "SELECT f.sale_code, f.sold_on, f.buyer_name, t.code, f.form, f.use, f.mass"               \
        " FROM lot_forward f JOIN lot t ON t.id = f.lot"                                           \
        " WHERE f.lot IN " LOTS_OF (where) " ORDER BY 2, 1",                                       \
        TEXT ("sale", N_ ("Sale")), DATE ("sold_on", N_ ("Sold on")),                              \
        TEXT ("buyer", N_ ("Buyer")), TEXT ("lot", N_ ("Lot")), TEXT ("form", N_ ("Form")),        \
        TEXT ("use", N_ ("Use")), MASS ("mass_mg", N_ ("Mass")))
#define OF_SPAWN "l.batch IN (SELECT batch FROM spawn_used WHERE spawn = ?1)"

static const BedTraceStep steps[] = {
  STEP (LOT, "lot", N_ ("Lot"),
        "SELECT code, picked_on, cooled_at, picked, sold, lost, dried FROM lot_summary"
        " WHERE id = ?1",
        TEXT ("code", N_ ("Code")), DATE ("picked_on", N_ ("Picked on")),
        DATE ("cooled_at", N_ ("Cooled at")), MASS ("picked_mg", N_ ("Picked")),
        MASS ("sold_mg", N_ ("Sold fresh")), MASS ("lost_mg", N_ ("Lost or given")),
        MASS ("dried_mg", N_ ("Dried, fresh mass"))),
  STEP (LOT, "from", N_ ("From"),
        "SELECT batch_code, inoculated_on, strain_name, spawn_code, spawn_supplier, supplier_lot,"
        " wood_name, felling_code, felled_on, stand_name FROM lot_back WHERE lot = ?1"
        " ORDER BY batch_code, spawn_code, felling_code",
        TEXT ("batch", N_ ("Batch")), DATE ("inoculated_on", N_ ("Inoculated on")),
        TEXT ("strain", N_ ("Strain")), TEXT ("spawn", N_ ("Spawn lot")),
        TEXT ("spawn_supplier", N_ ("Spawn from")), TEXT ("supplier_lot", N_ ("Its lot")),
        TEXT ("wood", N_ ("Wood")), TEXT ("felling", N_ ("Felling")),
        DATE ("felled_on", N_ ("Felled on")), TEXT ("stand", N_ ("Stand"))),
  STEP (
      LOT, "soaks", N_ ("Soaked"),
      "SELECT DISTINCT s.code, s.put_in, s.water FROM pick_log x"
      " JOIN soaked d ON d.log = x.log JOIN soak s ON s.id = d.soak WHERE x.lot = ?1"
      " AND date (s.put_in) BETWEEN date (coalesce (x.since, x.picked_on), " BED_TRACE_SOAKED_BEFORE
      ")"
      " AND x.picked_on ORDER BY 2",
      TEXT ("soak", N_ ("Soak")), DATE ("put_in", N_ ("Put in")), TEXT ("water", N_ ("Water"))),
  STEP (LOT, "picks", N_ ("Picks"),
        "SELECT from_what, batch_code, picked_on, grade, mass, picker, since FROM pick_named"
        " WHERE lot = ?1 ORDER BY id",
        TEXT ("source", N_ ("From")), TEXT ("batch", N_ ("Batch")),
        DATE ("picked_on", N_ ("Picked on")), TEXT ("grade", N_ ("Grade")),
        MASS ("mass_mg", N_ ("Mass")), TEXT ("picker", N_ ("Picker")),
        DATE ("since", N_ ("Total since"))),
  STEP (LOT, "to", N_ ("To"),
        "SELECT sale_code, sold_on, buyer_name, form, use, mass, price FROM lot_forward"
        " WHERE lot = ?1 ORDER BY 2, 1",
        TEXT ("sale", N_ ("Sale")), DATE ("sold_on", N_ ("Sold on")), TEXT ("buyer", N_ ("Buyer")),
        TEXT ("form", N_ ("Form")), TEXT ("use", N_ ("Use")), MASS ("mass_mg", N_ ("Mass")),
        MONEY ("price_minor", N_ ("Price"))),

  STEP (LOG, "log", N_ ("Log"),
        "SELECT code, stage, batch_code, inoculated_on, strain_name, wood_name, felling_code,"
        " stack_name, retired_on, retired_why FROM log_today WHERE id = ?1",
        TEXT ("code", N_ ("Code")), TEXT ("stage", N_ ("Stage")), TEXT ("batch", N_ ("Batch")),
        DATE ("inoculated_on", N_ ("Inoculated on")), TEXT ("strain", N_ ("Strain")),
        TEXT ("wood", N_ ("Wood")), TEXT ("felling", N_ ("Felling")), TEXT ("stack", N_ ("Stack")),
        DATE ("retired_on", N_ ("Retired on")), TEXT ("retired_why", N_ ("Why retired"))),
  STEP (LOG, "places", N_ ("Lay in"),
        "SELECT k.name, a.name, p.tier, p.slot, max (p.since, s.since),"
        " nullif (min (coalesce (p.until, '9999'), coalesce (s.until, '9999')), '9999')"
        " FROM place p JOIN stack k ON k.id = p.stack JOIN stack_place s ON s.stack = p.stack"
        " AND coalesce (s.until, '9999') > p.since"
        " AND (s.since < coalesce (p.until, '9999') OR s.since = p.since)"
        " JOIN area a ON a.id = s.area WHERE p.log = ?1 ORDER BY 5",
        TEXT ("stack", N_ ("Stack")), TEXT ("area", N_ ("Area")), COUNT ("tier", N_ ("Tier")),
        COUNT ("slot", N_ ("Slot")), DATE ("since", N_ ("Since")), DATE ("until", N_ ("Until"))),
  STEP (LOG, "soaks", N_ ("Soaked"),
        "SELECT s.code, s.tank, s.put_in, s.taken_out FROM soaked d"
        " JOIN soak s ON s.id = d.soak WHERE d.log = ?1 ORDER BY 3",
        TEXT ("soak", N_ ("Soak")), TEXT ("tank", N_ ("Tank")), DATE ("put_in", N_ ("Put in")),
        DATE ("taken_out", N_ ("Taken out"))),
  LOTS (LOG, "l.id = ?1"),
  BUYERS (LOG, "l.id = ?1"),

  STEP (BATCH, "batch", N_ ("Batch"),
        "SELECT code, inoculated_on, method, mushroom_name, strain_name, spawn_code, wood_name,"
        " logs, logs_alive, picked FROM batch_summary WHERE id = ?1",
        TEXT ("code", N_ ("Code")), DATE ("inoculated_on", N_ ("Inoculated on")),
        TEXT ("method", N_ ("Method")), TEXT ("mushroom", N_ ("Mushroom")),
        TEXT ("strain", N_ ("Strain")), TEXT ("spawn", N_ ("Spawn lot")),
        TEXT ("wood", N_ ("Wood")), COUNT ("logs", N_ ("Logs")),
        COUNT ("logs_alive", N_ ("Logs alive")), MASS ("picked_mg", N_ ("Picked"))),
  STEP (BATCH, "fellings", N_ ("Felled"),
        "SELECT DISTINCT f.code, f.felled_on, s.name, f.supplier FROM log l"
        " JOIN felling f ON f.id = l.felling LEFT JOIN stand s ON s.id = f.stand"
        " WHERE l.batch = ?1",
        TEXT ("felling", N_ ("Felling")), DATE ("felled_on", N_ ("Felled on")),
        TEXT ("stand", N_ ("Stand")), TEXT ("supplier", N_ ("Supplier"))),
  LOTS (BATCH, "l.batch = ?1"),
  BUYERS (BATCH, "l.batch = ?1"),

  STEP (SPAWN, "spawn", N_ ("Spawn lot"),
        "SELECT code, strain_name, mushroom_name, form, received_on, use_by, mass_left,"
        " pieces_left FROM spawn_left WHERE id = ?1",
        TEXT ("code", N_ ("Code")), TEXT ("strain", N_ ("Strain")),
        TEXT ("mushroom", N_ ("Mushroom")), TEXT ("form", N_ ("Form")),
        DATE ("received_on", N_ ("Received on")), DATE ("use_by", N_ ("Use by")),
        MASS ("mass_left_mg", N_ ("Mass left")), COUNT ("pieces_left", N_ ("Pieces left"))),
  STEP (SPAWN, "batches", N_ ("Batches"),
        "SELECT b.code, b.inoculated_on, u.mass, u.pieces FROM spawn_used u"
        " JOIN batch b ON b.id = u.batch WHERE u.spawn = ?1 ORDER BY 2, 1",
        TEXT ("batch", N_ ("Batch")), DATE ("inoculated_on", N_ ("Inoculated on")),
        MASS ("mass_mg", N_ ("Mass")), COUNT ("pieces", N_ ("Pieces"))),
  LOTS (SPAWN, OF_SPAWN),
  BUYERS (SPAWN, OF_SPAWN),

  STEP (FELLING, "felling", N_ ("Felling"),
        "SELECT code, felled_on, wood_name, stand_name, supplier, logs FROM felling_summary"
        " WHERE id = ?1",
        TEXT ("code", N_ ("Code")), DATE ("felled_on", N_ ("Felled on")),
        TEXT ("wood", N_ ("Wood")), TEXT ("stand", N_ ("Stand")),
        TEXT ("supplier", N_ ("Supplier")), COUNT ("logs", N_ ("Logs"))),
  STEP (FELLING, "batches", N_ ("Batches"),
        "SELECT DISTINCT b.code, b.inoculated_on FROM log l JOIN batch b ON b.id = l.batch"
        " WHERE l.felling = ?1 ORDER BY 2, 1",
        TEXT ("batch", N_ ("Batch")), DATE ("inoculated_on", N_ ("Inoculated on"))),
  LOTS (FELLING, "l.felling = ?1"),
  BUYERS (FELLING, "l.felling = ?1"),
};

/* Public */

const BedTraceStep *
bed_trace_next (BedKind kind, const BedTraceStep *last)
{
  for (const BedTraceStep *step = last ? last + 1 : steps; step < steps + G_N_ELEMENTS (steps);
       step++)
    if (step->kind == kind)
      return step;
  return NULL;
}

const BedTraceStep *
bed_trace_find (BedKind kind, const char *key)
{
  const BedTraceStep *step = NULL;

  do
    step = bed_trace_next (kind, step);
  while (step && strcmp (step->key, key) != 0);
  g_return_val_if_fail (step != NULL, NULL);
  return step;
}

int
bed_trace_find_column (const BedTraceStep *step, const char *key)
{
  int i = 0;

  while (step->columns[i].key && strcmp (step->columns[i].key, key) != 0)
    i++;
  g_return_val_if_fail (step->columns[i].key != NULL, 0);
  return i;
}

BedQuery *
bed_trace_ask (BedFarm *farm, const BedTraceStep *step, gint64 id)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && step != NULL, NULL);
  BedQuery *q = bed_query_new (farm, step->sql);

  bed_query_bind_int (q, 1, id);
  return q;
}

char *
bed_trace_dup_cell (BedFarm *farm, const BedTraceColumn *column, BedQuery *q, int index)
{
  const BedNotation *notation = bed_farm_get_notation (farm);
  const char *text = bed_query_text (q, index);

  if (bed_query_is_null (q, index))
    return NULL;
  if (column->type == BED_TRACE_MASS)
    return bed_measure_format_unit_rounded (BED_MEASURE_MASS, notation, 2,
                                            bed_query_int (q, index));
  if (column->type == BED_TRACE_MONEY)
    return bed_measure_format (BED_MEASURE_MONEY, notation, bed_query_int (q, index));
  return column->type == BED_TRACE_DATE ? bed_date_format_moment (text) : g_strdup (text);
}
