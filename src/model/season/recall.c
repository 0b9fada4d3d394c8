#include "model/season/recall.h"

#include <glib/gi18n-lib.h>

#include "model/farm/kind_words.h"
#include "model/farm/names.h"
#include "model/farm/value.h"
#include "model/season/trace_private.h"

/* Every question begins with three lists: logs (with the day from which they are in question),
 * picks that they may have given, lots these went into. ?1 is the record, ?2 the text. */

/* The first day of a pick that may be the total of several. */
#define FIRST "coalesce (p.since, p.picked_on)"

/* In the stack while it was picked from, the day it left included. */
#define WAS_THERE                                                                                  \
  "(bed_lies (x.since, x.until, p.picked_on) OR x.until BETWEEN " FIRST " AND p.picked_on)"

/* What all logs of a batch were gone for came from one of them. */
#define FROM_LOGS                                                                                  \
  ", picks (id) AS (SELECT p.id FROM logs g JOIN pick p ON p.log = g.id"                           \
  " WHERE p.picked_on >= g.since"                                                                  \
  " UNION SELECT p.id FROM logs g JOIN place x ON x.log = g.id"                                    \
  " JOIN pick p ON p.stack = x.stack AND p.log IS NULL"                                            \
  " WHERE p.picked_on >= g.since AND " WAS_THERE                                                   \
  " UNION SELECT p.id FROM (SELECT l.batch, min (g.since) AS since, max (l.retired_on) AS last,"   \
  "  count (*) > count (l.retired_on) AS living, count (*) AS logs"                                \
  "  FROM logs g JOIN log l ON l.id = g.id GROUP BY l.batch) g"                                    \
  " JOIN pick p ON p.batch = g.batch AND p.log IS NULL AND p.stack IS NULL"                        \
  " WHERE p.picked_on >= g.since AND (g.living OR bed_stood (g.last, " FIRST ")"                   \
  " OR g.logs = (SELECT count (*) FROM log m WHERE m.batch = g.batch)))"                           \
  ", lots (id) AS (SELECT DISTINCT p.lot FROM picks g JOIN pick p ON p.id = g.id"                  \
  " WHERE p.lot IS NOT NULL) "

#define TO_LOGS                                                                                    \
  ", logs (id, since) AS (SELECT p.log, '' FROM picks g JOIN pick p ON p.id = g.id"                \
  " WHERE p.log IS NOT NULL"                                                                       \
  " UNION SELECT x.log, '' FROM picks g JOIN pick p ON p.id = g.id AND p.log IS NULL"              \
  " JOIN place x ON x.stack = p.stack AND " WAS_THERE                                              \
  " UNION SELECT l.id, '' FROM picks g JOIN pick p ON p.id = g.id AND p.log IS NULL"               \
  " AND p.stack IS NULL JOIN log l ON l.batch = p.batch AND (bed_stood (l.retired_on, " FIRST ")"  \
  " OR NOT EXISTS (SELECT 1 FROM log m WHERE m.batch = l.batch"                                    \
  "                   AND bed_stood (m.retired_on, " FIRST ")))) "

#define LOGS(select) "WITH logs (id, since) AS (" select ")" FROM_LOGS

static const struct
{
  BedKind kind;
  const char *lists, *of_text; /* with an id; without one */
} subjects[] = {
  { BED_KIND_LOT,
    "WITH lots (id) AS (SELECT ?1), picks (id) AS (SELECT id FROM pick WHERE lot = ?1)" TO_LOGS,
    NULL },
  { BED_KIND_LOG, LOGS ("SELECT ?1, ''"), NULL },
  { BED_KIND_BATCH, LOGS ("SELECT id, '' FROM log WHERE batch = ?1"), NULL },
  { BED_KIND_SPAWN,
    LOGS ("SELECT DISTINCT l.id, '' FROM spawn_used u JOIN log l ON l.batch = u.batch"
          " WHERE u.spawn = ?1"),
    NULL },
  { BED_KIND_FELLING, LOGS ("SELECT id, '' FROM log WHERE felling = ?1"), NULL },
  { BED_KIND_SOAK,
    LOGS ("SELECT d.log, date (s.put_in) FROM soaked d JOIN soak s ON s.id = d.soak"
          " WHERE d.soak = ?1"),
    LOGS ("SELECT d.log, min (date (s.put_in)) FROM soaked d JOIN soak s ON s.id = d.soak"
          " WHERE s.water = ?2 GROUP BY d.log") },
  /* What lay there may have been watered there. */
  { BED_KIND_AREA,
    LOGS ("SELECT x.log, min (max (x.since, s.since)) FROM stack_place s JOIN place x"
          " ON x.stack = s.stack AND x.since <= coalesce (s.until, '9999')"
          " AND coalesce (x.until, '9999') >= s.since WHERE s.area = ?1 GROUP BY x.log"),
    NULL },
  /* Whole lots are called back, so whatever else went into them is. */
  { BED_KIND_PICK, NULL,
    "WITH lots (id) AS (SELECT lot FROM pick WHERE lot IS NOT NULL"
    " AND ?2 BETWEEN coalesce (since, picked_on) AND picked_on"
    " UNION SELECT id FROM lot WHERE picked_on = ?2)"
    ", picks (id) AS (SELECT id FROM pick WHERE lot IN (SELECT id FROM lots)"
    " OR ?2 BETWEEN coalesce (since, picked_on) AND picked_on)" TO_LOGS },
};

#define STEP(...) BED_TRACE_STEP (0, __VA_ARGS__)
#define COLUMN BED_TRACE_COLUMN

/* What was culled or spoiled nobody has. */
#define HAVE                                                                                       \
  " FROM lots g JOIN line n ON n.lot = g.id AND n.use IN ('sold', 'given away')"                   \
  " JOIN lot t ON t.id = g.id JOIN sale v ON v.id = n.sale LEFT JOIN buyer y ON y.id = v.buyer"

static const BedTraceStep steps[] = {
  STEP ("buyers", N_ ("Who has it"),
        "SELECT y.name, y.contact, count (DISTINCT v.id), min (v.sold_on), max (v.sold_on),"
        " sum (n.mass)" HAVE " GROUP BY y.id ORDER BY y.name IS NULL, y.name",
        COLUMN (TEXT, "buyer", N_ ("Buyer")), COLUMN (TEXT, "contact", N_ ("Contact")),
        COLUMN (COUNT, "sales", N_ ("Sales")), COLUMN (DATE, "first_sold_on", N_ ("First sold")),
        COLUMN (DATE, "last_sold_on", N_ ("Last sold")), COLUMN (MASS, "mass_mg", N_ ("Mass"))),
  STEP ("to", N_ ("Sales"),
        "SELECT y.name, v.sold_on, v.code,"
        " replace (group_concat (DISTINCT t.code), ',', ', '), n.form,"
        " sum (n.mass)" HAVE " GROUP BY v.id, n.form"
        " ORDER BY y.name IS NULL, y.name, v.sold_on, v.code",
        COLUMN (TEXT, "buyer", N_ ("Buyer")), COLUMN (DATE, "sold_on", N_ ("Sold on")),
        COLUMN (TEXT, "sale", N_ ("Sale")), COLUMN (TEXT, "lots", N_ ("Lots")),
        COLUMN (TEXT, "form", N_ ("Form")), COLUMN (MASS, "mass_mg", N_ ("Mass"))),
  STEP ("in_store", N_ ("Still in store"),
        "SELECT t.code, t.picked_on, nullif (max (t.rest, 0), 0), nullif (d.dried, 0)"
        " FROM lots g JOIN lot_left t ON t.id = g.id"
        " JOIN (SELECT g.id, coalesce ((SELECT sum (dried_mass) FROM drying WHERE lot = g.id), 0)"
        "   - coalesce ((SELECT sum (mass) FROM line WHERE lot = g.id AND form = 'dried'), 0)"
        "   AS dried FROM lots g) d ON d.id = g.id"
        " WHERE t.rest > 0 OR d.dried > 0 ORDER BY t.code",
        COLUMN (TEXT, "lot", N_ ("Lot")), COLUMN (DATE, "picked_on", N_ ("Picked on")),
        COLUMN (MASS, "fresh_mg", N_ ("Fresh")), COLUMN (MASS, "dried_mg", N_ ("Dried"))),
  STEP ("no_lot", N_ ("Picked into no lot: not to be followed"),
        "SELECT p.from_what, p.picked_on, p.mass FROM picks g JOIN pick_named p ON p.id = g.id"
        " WHERE p.lot IS NULL ORDER BY p.picked_on, p.id",
        COLUMN (TEXT, "source", N_ ("From")), COLUMN (DATE, "picked_on", N_ ("Picked on")),
        COLUMN (MASS, "mass_mg", N_ ("Mass"))),
  STEP ("batches", N_ ("Batches"),
        "SELECT b.code, b.inoculated_on, count (*), sum (l.retired_on IS NOT NULL)"
        " FROM logs g JOIN log l ON l.id = g.id JOIN batch b ON b.id = l.batch"
        " GROUP BY b.id ORDER BY b.code",
        COLUMN (TEXT, "batch", N_ ("Batch")), COLUMN (DATE, "inoculated_on", N_ ("Inoculated on")),
        COLUMN (COUNT, "logs", N_ ("Logs")), COLUMN (COUNT, "retired", N_ ("Retired"))),
  STEP ("spawn", N_ ("Spawn"),
        "SELECT DISTINCT s.code, t.name, s.supplier, s.supplier_lot, s.received_on"
        " FROM spawn_used u JOIN spawn s ON s.id = u.spawn JOIN strain t ON t.id = s.strain"
        " WHERE u.batch IN (SELECT l.batch FROM logs g JOIN log l ON l.id = g.id) ORDER BY 1",
        COLUMN (TEXT, "spawn", N_ ("Spawn lot")), COLUMN (TEXT, "strain", N_ ("Strain")),
        COLUMN (TEXT, "supplier", N_ ("Supplier")), COLUMN (TEXT, "supplier_lot", N_ ("Its lot")),
        COLUMN (DATE, "received_on", N_ ("Received on"))),
  STEP ("fellings", N_ ("Trees"),
        "SELECT f.code, f.felled_on, w.common_name, s.name, f.supplier, count (*)"
        " FROM logs g JOIN log l ON l.id = g.id JOIN felling f ON f.id = l.felling"
        " JOIN wood w ON w.id = f.wood LEFT JOIN stand s ON s.id = f.stand"
        " GROUP BY f.id ORDER BY f.code",
        COLUMN (TEXT, "felling", N_ ("Felling")), COLUMN (DATE, "felled_on", N_ ("Felled on")),
        COLUMN (TEXT, "wood", N_ ("Wood")), COLUMN (TEXT, "stand", N_ ("Stand")),
        COLUMN (TEXT, "supplier", N_ ("Supplier")), COLUMN (COUNT, "logs", N_ ("Logs"))),
  STEP ("soaks", N_ ("Soaked in"),
        "SELECT s.code, s.tank, s.put_in, s.water, count (*) FROM logs g"
        " JOIN soaked d ON d.log = g.id JOIN soak s ON s.id = d.soak"
        " WHERE date (s.put_in) BETWEEN"
        " (SELECT date (min (coalesce (p.since, p.picked_on)), " BED_TRACE_SOAKED_BEFORE
        ") FROM picks q"
        "   JOIN pick p ON p.id = q.id)"
        " AND (SELECT max (p.picked_on) FROM picks q JOIN pick p ON p.id = q.id)"
        " GROUP BY s.id ORDER BY s.put_in, s.code",
        COLUMN (TEXT, "soak", N_ ("Soak")), COLUMN (TEXT, "tank", N_ ("Tank")),
        COLUMN (DATE, "put_in", N_ ("Put in")), COLUMN (TEXT, "water", N_ ("Water")),
        COLUMN (COUNT, "logs", N_ ("Logs"))),
  STEP ("areas", N_ ("Water in the yard"),
        "SELECT a.name, a.water_source, a.water_tested_on, count (DISTINCT g.id)"
        " FROM logs g JOIN place x ON x.log = g.id JOIN stack_place s ON s.stack = x.stack"
        " AND coalesce (s.until, '9999') >= x.since AND s.since <= coalesce (x.until, '9999')"
        " JOIN area a ON a.id = s.area GROUP BY a.id ORDER BY a.name",
        COLUMN (TEXT, "area", N_ ("Area")), COLUMN (TEXT, "water_source", N_ ("Water")),
        COLUMN (DATE, "tested_on", N_ ("Tested on")), COLUMN (COUNT, "logs", N_ ("Logs"))),
  STEP ("lots", N_ ("Lots"),
        "SELECT t.code, t.picked_on, t.picked FROM lots g JOIN lot_summary t ON t.id = g.id"
        " ORDER BY t.picked_on, t.code",
        COLUMN (TEXT, "lot", N_ ("Lot")), COLUMN (DATE, "picked_on", N_ ("Picked on")),
        COLUMN (MASS, "picked_mg", N_ ("Picked"))),
  STEP ("balance", N_ ("Mass balance"),
        "SELECT (SELECT count (*) FROM lots), sum (t.picked), sum (t.sold), sum (t.lost),"
        " sum (t.dried), sum (t.rest),"
        " (SELECT sum (d.dried_mass) FROM lots g JOIN drying d ON d.lot = g.id),"
        " (SELECT sum (n.mass) FROM lots g JOIN line n ON n.lot = g.id AND n.form = 'dried'),"
        " (SELECT sum (p.mass) FROM picks g JOIN pick p ON p.id = g.id WHERE p.lot IS NULL)"
        " FROM lots g JOIN lot_left t ON t.id = g.id",
        COLUMN (COUNT, "lots", N_ ("Lots")), COLUMN (MASS, "picked_mg", N_ ("Picked")),
        COLUMN (MASS, "sold_mg", N_ ("Sold fresh")), COLUMN (MASS, "lost_mg", N_ ("Lost or given")),
        COLUMN (MASS, "dried_mg", N_ ("To the dryer")), COLUMN (MASS, "left_mg", N_ ("Left")),
        COLUMN (MASS, "dried_out_mg", N_ ("Dried")),
        COLUMN (MASS, "dried_gone_mg", N_ ("Dried gone")),
        COLUMN (MASS, "no_lot_mg", N_ ("In no lot"))),
};

static const char *
get_lists (const BedRecallOf *of)
{
  for (gsize i = 0; i < G_N_ELEMENTS (subjects); i++)
    if (subjects[i].kind == of->kind)
      return of->id ? subjects[i].lists : subjects[i].of_text;
  return NULL;
}

/* The key of the water that is called so, in the words shown or as it is stored; NULL for none. */
static const char *
find_water (const char *text)
{
  const BedField *water = bed_kind_find_field (BED_KIND_SOAK, "water", NULL);

  for (const BedChoice *choice = water->choices; choice->key; choice++)
    if (g_ascii_strcasecmp (choice->key, text) == 0
        || g_ascii_strcasecmp (bed_choice_get_word (choice), text) == 0)
      return choice->key;
  return NULL;
}

/* Public */

gboolean
bed_recall_is_of (BedKind kind)
{
  return get_lists (&(BedRecallOf){ kind, 1, NULL }) != NULL;
}

gboolean
bed_recall_find (BedFarm *farm, const char *text, BedRecallOf *of, char **day, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && text != NULL && of != NULL && day != NULL, FALSE);
  const char *water = find_water (text);

  *of = (BedRecallOf){ BED_KIND_SOAK, 0, water };
  *day = NULL;
  if (water)
    return TRUE;
  for (gsize i = 0; i < G_N_ELEMENTS (subjects) && !of->id; i++)
    if (subjects[i].lists)
      *of = (BedRecallOf){ subjects[i].kind, bed_farm_find (farm, subjects[i].kind, text, NULL),
                           NULL };
  if (of->id)
    return TRUE;
  *day = bed_date_parse (text, bed_farm_get_today (farm), NULL);
  *of = (BedRecallOf){ BED_KIND_PICK, 0, *day };
  if (!*day)
    g_set_error (
        error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_FOUND,
        _ ("“%s” is no code of a lot, log, batch, spawn lot, felling or soak, no area, day or "
           "water."),
        text);
  return *day != NULL;
}

char *
bed_recall_dup_words (BedFarm *farm, const BedRecallOf *of)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && of != NULL, NULL);
  const BedField *water = bed_kind_find_field (BED_KIND_SOAK, "water", NULL);

  if (of->kind == BED_KIND_PICK)
    {
      g_autofree char *day = bed_date_format (of->text);
      return g_strdup_printf (_ ("picked on %s"), day);
    }
  if (!of->id)
    return g_strdup_printf (_ ("water: %s"), bed_field_choice_label (water, of->text));
  g_autofree char *name = bed_farm_dup_name (farm, of->kind, of->id);
  return bed_kind_dup_named (of->kind, name);
}

const BedTraceStep *
bed_recall_next (const BedTraceStep *last)
{
  const BedTraceStep *next = last ? last + 1 : steps;

  return next < steps + G_N_ELEMENTS (steps) ? next : NULL;
}

BedQuery *
bed_recall_ask (BedFarm *farm, const BedRecallOf *of, const BedTraceStep *step)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && of != NULL && step != NULL, NULL);
  const char *lists = get_lists (of);

  g_return_val_if_fail (lists != NULL, NULL);
  g_autofree char *sql = g_strconcat (lists, step->sql, NULL);
  BedQuery *q = bed_query_new (farm, sql);
  if (of->id)
    bed_query_bind_int (q, 1, of->id);
  else
    bed_query_bind_text (q, 2, of->text);
  return q;
}
