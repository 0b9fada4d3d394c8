/* Rules across records are SQL that finds what breaks them: ?1 is the id of the
 * record just written, the columns found fill the sentence. */
#include "model/rules.h"

#include <glib/gi18n-lib.h>
#include <stdlib.h>
#include <string.h>

#include "model/farm_private.h"
#include "model/query.h"
#include "model/value.h"

typedef struct
{
  BedKind kind;
  BedFaultSeverity severity;
  const char *field; /* where the fault is shown */
  const char *sql;   /* a row for each fault */
  const char *message; /* N_(), {1} {2}… are the row's columns */
} Rule;

#define E BED_FAULT_ERROR
#define W BED_FAULT_WARNING

static const Rule rules[] = {
  /* The farm */
  { BED_KIND_FARM, E, "season_start",
    "SELECT season_start FROM farm WHERE id = ?1"
    " AND date ('2001-' || season_start) IS NOT '2001-' || season_start",
    N_ ("Season starts: “{1}” is not a month and day like 01-01 or 07-01.") },
  { BED_KIND_FARM, E, "currency",
    "SELECT currency FROM farm WHERE id = ?1 AND currency NOT GLOB '[A-Z][A-Z][A-Z]'",
    N_ ("Currency: “{1}” is not three capital letters like USD or EUR.") },
  { BED_KIND_FARM, E, "moisture_high",
    "SELECT 1 FROM farm WHERE id = ?1 AND moisture_low > moisture_high",
    N_ ("The moisture target ends below where it begins.") },
  { BED_KIND_FARM, E, "wait_most", "SELECT 1 FROM farm WHERE id = ?1 AND wait_least > wait_most",
    N_ ("Days from felling to inoculation: the most is less than the least.") },

  /* Woodlot. Dead trees carry other fungi: Virginia Tech thesis on shiitake logs (docs/sources.md);
   * bark slips from bud swell to full leaf: common practice, no source. */
  { BED_KIND_FELLING, W, "condition", "SELECT 1 FROM felling WHERE id = ?1 AND condition = 'dead'",
    N_ ("Dead trees often carry other fungi already. Healthy trees are better.") },
  { BED_KIND_FELLING, W, "leaf",
    "SELECT 1 FROM felling WHERE id = ?1 AND leaf IN ('bud swell', 'in leaf')",
    N_ ("Bark slips off logs felled from bud swell to full leaf. Dormant trees keep it.") },
  { BED_KIND_FELLING, W, "stand",
    "SELECT 1 FROM felling WHERE id = ?1 AND stand IS NULL AND supplier IS NULL",
    N_ ("Where the logs come from is missing: a stand, or who sold them.") },
  { BED_KIND_FELLING, E, "felled_on",
    "SELECT f.felled_on, b.code, b.inoculated_on FROM felling f JOIN log l ON l.felling = f.id"
    " JOIN batch b ON b.id = l.batch WHERE f.id = ?1 AND b.inoculated_on < f.felled_on LIMIT 1",
    N_ ("Felled on {1}, but batch {2} with its logs was inoculated before, on {3}.") },

  /* Spawn */
  { BED_KIND_STRAIN, E, "fruits_to",
    "SELECT 1 FROM strain WHERE id = ?1 AND fruits_from > fruits_to",
    N_ ("The fruiting range ends below where it begins.") },
  { BED_KIND_STRAIN, E, "run_most", "SELECT 1 FROM strain WHERE id = ?1 AND run_least > run_most",
    N_ ("The longest spawn run is shorter than the shortest.") },
  { BED_KIND_SPAWN, E, "mass",
    "SELECT form FROM spawn WHERE id = ?1 AND form IN ('sawdust', 'grain') AND mass IS NULL",
    N_ ("Mass is missing: {1} spawn is counted by mass.") },
  { BED_KIND_SPAWN, E, "pieces",
    "SELECT form FROM spawn WHERE id = ?1 AND form IN ('dowel', 'thimble') AND pieces IS NULL",
    N_ ("Pieces are missing: {1} spawn is counted in pieces.") },
  { BED_KIND_SPAWN, E, "use_by",
    "SELECT use_by, received_on FROM spawn WHERE id = ?1 AND use_by < received_on",
    N_ ("Use by {1} is before it was received, {2}.") },
  { BED_KIND_SPAWN_USED, E, "mass",
    "SELECT s.code FROM spawn_used u JOIN spawn s ON s.id = u.spawn WHERE u.id = ?1"
    " AND s.form IN ('sawdust', 'grain') AND u.mass IS NULL",
    N_ ("How much of spawn lot {1} was used is missing: a mass.") },
  { BED_KIND_SPAWN_USED, E, "pieces",
    "SELECT s.code FROM spawn_used u JOIN spawn s ON s.id = u.spawn WHERE u.id = ?1"
    " AND s.form IN ('dowel', 'thimble') AND u.pieces IS NULL",
    N_ ("How much of spawn lot {1} was used is missing: a number of pieces.") },
  { BED_KIND_SPAWN_USED, W, "mass",
    "SELECT s.code, bed_mass (sum (u.mass) - s.mass) FROM spawn_used o"
    " JOIN spawn s ON s.id = o.spawn JOIN spawn_used u ON u.spawn = s.id WHERE o.id = ?1"
    " GROUP BY s.id HAVING sum (u.mass) > s.mass",
    N_ ("More of spawn lot {1} is used than was received: {2} are missing.") },
  { BED_KIND_SPAWN_USED, W, "pieces",
    "SELECT s.code, sum (u.pieces) - s.pieces FROM spawn_used o"
    " JOIN spawn s ON s.id = o.spawn JOIN spawn_used u ON u.spawn = s.id WHERE o.id = ?1"
    " GROUP BY s.id HAVING sum (u.pieces) > s.pieces",
    N_ ("More of spawn lot {1} is used than was received: {2} pieces are missing.") },
  { BED_KIND_SPAWN_USED, E, "spawn",
    "SELECT b.code, b.inoculated_on, s.code, s.received_on FROM spawn_used u"
    " JOIN batch b ON b.id = u.batch JOIN spawn s ON s.id = u.spawn"
    " WHERE u.id = ?1 AND b.inoculated_on < s.received_on",
    N_ ("Batch {1} was inoculated on {2}, before spawn lot {3} was received on {4}.") },
  { BED_KIND_SPAWN_USED, W, "spawn",
    "SELECT s.code, s.use_by FROM spawn_used u"
    " JOIN batch b ON b.id = u.batch JOIN spawn s ON s.id = u.spawn"
    " WHERE u.id = ?1 AND b.inoculated_on > s.use_by",
    N_ ("Spawn lot {1} was past its date: use by {2}.") },

  /* Batches and logs */
  { BED_KIND_BATCH, E, "inoculated_on",
    "SELECT b.inoculated_on, f.code, f.felled_on FROM batch b JOIN log l ON l.batch = b.id"
    " JOIN felling f ON f.id = l.felling WHERE b.id = ?1 AND b.inoculated_on < f.felled_on LIMIT 1",
    N_ ("Inoculated on {1}, but felling {2} was on {3}.") },
  { BED_KIND_LOG, E, "batch",
    "SELECT b.code, b.inoculated_on, f.felled_on FROM log l JOIN batch b ON b.id = l.batch"
    " JOIN felling f ON f.id = l.felling WHERE l.id = ?1 AND b.inoculated_on < f.felled_on",
    N_ ("Batch {1} was inoculated on {2}, before its tree was felled on {3}.") },
  { BED_KIND_BATCH, W, "inoculated_on",
    "SELECT cast (julianday (b.inoculated_on) - julianday (f.felled_on) AS INTEGER), x.wait_least"
    " FROM batch b JOIN log l ON l.batch = b.id JOIN felling f ON f.id = l.felling, farm x"
    " WHERE b.id = ?1 AND julianday (b.inoculated_on) - julianday (f.felled_on)"
    " BETWEEN 0 AND x.wait_least - 1 LIMIT 1",
    N_ ("Only {1} days after felling; this farm waits {2} at least.") },
  { BED_KIND_BATCH, W, "inoculated_on",
    "SELECT cast (julianday (b.inoculated_on) - julianday (f.felled_on) AS INTEGER), x.wait_most"
    " FROM batch b JOIN log l ON l.batch = b.id JOIN felling f ON f.id = l.felling, farm x"
    " WHERE b.id = ?1 AND julianday (b.inoculated_on) - julianday (f.felled_on) > x.wait_most"
    " LIMIT 1",
    N_ ("{1} days after felling; this farm waits {2} at most.") },
  { BED_KIND_LOG, E, "large_diameter",
    "SELECT 1 FROM log WHERE id = ?1 AND large_diameter < small_diameter",
    N_ ("The large end is thinner than the small end.") },
  { BED_KIND_LOG, E, "retired_why",
    "SELECT 1 FROM log WHERE id = ?1 AND retired_on IS NOT NULL AND retired_why IS NULL",
    N_ ("Why the log was retired is missing.") },
  { BED_KIND_LOG, E, "retired_on",
    "SELECT 1 FROM log WHERE id = ?1 AND retired_why IS NOT NULL AND retired_on IS NULL",
    N_ ("When the log was retired is missing.") },
  { BED_KIND_LOG, E, "retired_on",
    "SELECT l.retired_on, f.felled_on FROM log l JOIN felling f ON f.id = l.felling"
    " WHERE l.id = ?1 AND l.retired_on < f.felled_on",
    N_ ("Retired on {1}, before its tree was felled on {2}.") },
  { BED_KIND_LOG, E, "retired_on",
    "SELECT l.retired_on, p.picked_on FROM log l JOIN pick p ON p.log = l.id"
    " WHERE l.id = ?1 AND p.picked_on > l.retired_on LIMIT 1",
    N_ ("Retired on {1}, but picked from on {2}.") },
  { BED_KIND_LOG, E, "retired_on",
    "SELECT l.retired_on, date (s.put_in) FROM log l JOIN soaked d ON d.log = l.id"
    " JOIN soak s ON s.id = d.soak WHERE l.id = ?1 AND date (s.put_in) > l.retired_on LIMIT 1",
    N_ ("Retired on {1}, but soaked on {2}.") },

  /* Yard */
  { BED_KIND_STACK, E, "taken_down_on",
    "SELECT taken_down_on, built_on FROM stack WHERE id = ?1 AND taken_down_on < built_on",
    N_ ("Taken down on {1}, before it was built on {2}.") },
  { BED_KIND_STACK, E, "taken_down_on",
    "SELECT k.name, count (*) FROM stack k JOIN place p ON p.stack = k.id"
    " WHERE k.id = ?1 AND k.taken_down_on IS NOT NULL"
    " AND (p.until IS NULL OR p.until > k.taken_down_on) HAVING count (*) > 0",
    N_ ("{2} logs still lie in {1}. Move them first.") },
  { BED_KIND_PLACE, E, "until",
    "SELECT until, since FROM place WHERE id = ?1 AND until < since",
    N_ ("Until {1} is before since {2}.") },
  { BED_KIND_PLACE, E, "since",
    "SELECT k.name, p.since, k.built_on FROM place p JOIN stack k ON k.id = p.stack"
    " WHERE p.id = ?1 AND p.since < k.built_on",
    N_ ("Stack {1} was not there on {2}: it was built on {3}.") },
  { BED_KIND_PLACE, E, "since",
    "SELECT k.name, k.taken_down_on FROM place p JOIN stack k ON k.id = p.stack"
    " WHERE p.id = ?1 AND (p.until IS NULL OR p.until > k.taken_down_on)"
    " AND k.taken_down_on IS NOT NULL",
    N_ ("Stack {1} was taken down on {2}.") },
  { BED_KIND_PLACE, E, "since",
    "SELECT l.code, p.since, f.felled_on FROM place p JOIN log l ON l.id = p.log"
    " JOIN felling f ON f.id = l.felling WHERE p.id = ?1 AND p.since < f.felled_on",
    N_ ("Log {1} cannot lie in a stack on {2}: its tree was felled on {3}.") },
  { BED_KIND_PLACE, W, "since",
    "SELECT l.code, p.since, b.inoculated_on FROM place p JOIN log l ON l.id = p.log"
    " JOIN batch b ON b.id = l.batch WHERE p.id = ?1 AND p.since < b.inoculated_on",
    N_ ("Log {1} is stacked on {2}, before its batch was inoculated on {3}.") },
  { BED_KIND_PLACE, E, "since",
    "SELECT l.code, l.retired_on FROM place p JOIN log l ON l.id = p.log"
    " WHERE p.id = ?1 AND p.since > l.retired_on",
    N_ ("Log {1} was retired on {2}.") },
  { BED_KIND_PLACE, E, "log",
    "SELECT l.code, k.name, o.since FROM place p JOIN place o ON o.log = p.log AND o.id <> p.id"
    " JOIN log l ON l.id = p.log JOIN stack k ON k.id = o.stack WHERE p.id = ?1"
    " AND coalesce (o.until, '9999') > p.since AND coalesce (p.until, '9999') > o.since LIMIT 1",
    N_ ("Log {1} lies in {2} since {3}: a log is in one place at a time.") },
  { BED_KIND_PLACE, E, "slot",
    "SELECT k.name, p.tier, p.slot, l.code FROM place p JOIN place o ON o.stack = p.stack"
    " AND o.tier = p.tier AND o.slot = p.slot AND o.id <> p.id"
    " JOIN log l ON l.id = o.log JOIN stack k ON k.id = o.stack WHERE p.id = ?1"
    " AND coalesce (o.until, '9999') > p.since AND coalesce (p.until, '9999') > o.since LIMIT 1",
    N_ ("Tier {2}, slot {3} of {1} is taken by log {4}.") },

  /* Care */
  { BED_KIND_CHECK, E, "log",
    "SELECT 1 FROM \"check\" WHERE id = ?1 AND log IS NULL AND batch IS NULL AND stack IS NULL",
    N_ ("What was looked at is missing: a log, a batch or a stack.") },
  { BED_KIND_DISC, E, "batch",
    "SELECT 1 FROM disc WHERE id = ?1 AND batch IS NULL AND felling IS NULL",
    N_ ("Where the disc was cut is missing: a batch or a felling.") },
  { BED_KIND_DISC, E, "dry_mass",
    "SELECT 1 FROM disc WHERE id = ?1 AND dry_mass > fresh_mass",
    N_ ("The disc is heavier dry than fresh. Are the two swapped?") },
  { BED_KIND_WEIGHING, E, "weighed_on",
    "SELECT l.code, w.weighed_on, f.felled_on FROM weighing w JOIN log l ON l.id = w.log"
    " JOIN felling f ON f.id = l.felling WHERE w.id = ?1 AND w.weighed_on < f.felled_on",
    N_ ("Log {1} was weighed on {2}, before its tree was felled on {3}.") },
  { BED_KIND_WATERING, E, "stack",
    "SELECT 1 FROM watering WHERE id = ?1 AND stack IS NULL AND area IS NULL",
    N_ ("What was watered is missing: a stack or an area.") },
  { BED_KIND_TEMPERATURE, E, "most", "SELECT 1 FROM temperature WHERE id = ?1 AND least > most",
    N_ ("The least temperature is above the most. Are the two swapped?") },

  /* Soaks */
  { BED_KIND_SOAK, E, "taken_out", "SELECT 1 FROM soak WHERE id = ?1 AND taken_out < put_in",
    N_ ("Out of the tank before in it.") },
  { BED_KIND_SOAK, W, "tank",
    "SELECT count (d.id), x.tank_capacity FROM soaked d, farm x WHERE d.soak = ?1"
    " HAVING count (d.id) > x.tank_capacity",
    N_ ("{1} logs in a tank that holds {2}.") },
  { BED_KIND_SOAKED, E, "log",
    "SELECT l.code, l.retired_on FROM soaked d JOIN log l ON l.id = d.log"
    " JOIN soak s ON s.id = d.soak WHERE d.id = ?1 AND date (s.put_in) > l.retired_on",
    N_ ("Log {1} was retired on {2}: it cannot be soaked after that.") },
  { BED_KIND_SOAKED, E, "log",
    "SELECT l.code FROM soaked d JOIN log l ON l.id = d.log WHERE d.id = ?1 AND l.batch IS NULL",
    N_ ("Log {1} is not inoculated yet.") },
  { BED_KIND_SOAKED, E, "log",
    "SELECT l.code, b.inoculated_on, date (s.put_in) FROM soaked d JOIN log l ON l.id = d.log"
    " JOIN batch b ON b.id = l.batch JOIN soak s ON s.id = d.soak WHERE d.id = ?1"
    " AND date (s.put_in) < b.inoculated_on",
    N_ ("Log {1} was inoculated on {2}, after this soak on {3}.") },
  { BED_KIND_SOAKED, E, "log",
    "SELECT l.code, o.code FROM soaked d JOIN soak s ON s.id = d.soak JOIN log l ON l.id = d.log"
    " JOIN soaked e ON e.log = d.log AND e.id <> d.id JOIN soak o ON o.id = e.soak WHERE d.id = ?1"
    " AND s.put_in < coalesce (o.taken_out, '9999') AND o.put_in < coalesce (s.taken_out, '9999')"
    " LIMIT 1",
    N_ ("Log {1} was in the tank with soak {2} at that time.") },
  { BED_KIND_SOAKED, W, "log",
    "SELECT l.code, cast ((julianday (s.put_in) - julianday (o.put_in)) / 7 AS INTEGER),"
    " b.rest_weeks FROM soaked d JOIN soak s ON s.id = d.soak JOIN log l ON l.id = d.log"
    " JOIN batch_spawn b ON b.batch = l.batch"
    " JOIN soaked e ON e.log = d.log AND e.id <> d.id JOIN soak o ON o.id = e.soak WHERE d.id = ?1"
    " AND o.put_in <= s.put_in"
    " AND julianday (s.put_in) - julianday (o.put_in) < 7 * b.rest_weeks LIMIT 1",
    N_ ("Log {1} was soaked {2} weeks before; it rests {3}.") },

  /* Crop */
  { BED_KIND_PICK, E, "log",
    "SELECT 1 FROM pick WHERE id = ?1 AND log IS NULL AND batch IS NULL AND stack IS NULL",
    N_ ("Where it was picked is missing: a log, a stack or a batch.") },
  { BED_KIND_PICK, E, "picked_on",
    "SELECT l.code, p.picked_on, b.inoculated_on FROM pick p JOIN log l ON l.id = p.log"
    " JOIN batch b ON b.id = l.batch WHERE p.id = ?1 AND p.picked_on < b.inoculated_on",
    N_ ("Log {1} was picked from on {2}, before it was inoculated on {3}.") },
  { BED_KIND_PICK, E, "picked_on",
    "SELECT b.code, p.picked_on, b.inoculated_on FROM pick p JOIN batch b ON b.id = p.batch"
    " WHERE p.id = ?1 AND p.picked_on < b.inoculated_on",
    N_ ("Batch {1} was picked from on {2}, before it was inoculated on {3}.") },
  { BED_KIND_PICK, E, "log",
    "SELECT l.code FROM pick p JOIN log l ON l.id = p.log WHERE p.id = ?1 AND l.batch IS NULL",
    N_ ("Log {1} is not inoculated yet.") },
  { BED_KIND_PICK, E, "picked_on",
    "SELECT l.code, l.retired_on, p.picked_on FROM pick p JOIN log l ON l.id = p.log"
    " WHERE p.id = ?1 AND p.picked_on > l.retired_on",
    N_ ("Log {1} was retired on {2}; a pick on {3} cannot be from it.") },
  { BED_KIND_PICK, W, "stack",
    "SELECT k.name, p.picked_on FROM pick p JOIN stack k ON k.id = p.stack"
    " WHERE p.id = ?1 AND p.log IS NULL AND NOT EXISTS (SELECT 1 FROM place x"
    " WHERE x.stack = k.id AND x.since <= p.picked_on"
    " AND (x.until IS NULL OR x.until > p.picked_on))",
    N_ ("No logs lay in {1} on {2}: no batch can be credited with the pick.") },
  { BED_KIND_PICK, W, "lot",
    "SELECT t.code, t.picked_on, p.picked_on FROM pick p JOIN lot t ON t.id = p.lot"
    " WHERE p.id = ?1 AND t.picked_on < p.picked_on",
    N_ ("Lot {1} is of {2}, the pick of {3}.") },
  { BED_KIND_DRYING, E, "dried_mass",
    "SELECT 1 FROM drying WHERE id = ?1 AND dried_mass > fresh_mass",
    N_ ("More came out of the dryer than went in. Are the two swapped?") },
  { BED_KIND_DRYING, E, "dried_on",
    "SELECT t.code, t.picked_on FROM drying d JOIN lot t ON t.id = d.lot WHERE d.id = ?1"
    " AND d.dried_on < t.picked_on",
    N_ ("Lot {1} was picked later, on {2}.") },
  { BED_KIND_DRYING, E, "fresh_mass",
    "SELECT t.code, bed_mass (t.sold + t.lost + t.dried - t.picked) FROM drying d"
    " JOIN lot_summary t ON t.id = d.lot WHERE d.id = ?1 AND t.sold + t.lost + t.dried > t.picked",
    N_ ("Lot {1} has not so much: {2} too much sold, lost and dried.") },
  { BED_KIND_LINE, E, "mass",
    "SELECT t.code, bed_mass (t.sold + t.lost + t.dried - t.picked) FROM line n"
    " JOIN lot_summary t ON t.id = n.lot WHERE n.id = ?1 AND n.form = 'fresh'"
    " AND t.sold + t.lost + t.dried > t.picked",
    N_ ("Lot {1} has not so much: {2} too much sold, lost and dried.") },
  { BED_KIND_LINE, E, "mass",
    "SELECT t.code FROM line n JOIN lot t ON t.id = n.lot WHERE n.id = ?1 AND n.form = 'dried'"
    " AND (SELECT sum (mass) FROM line o WHERE o.lot = n.lot AND o.form = 'dried')"
    " > coalesce ((SELECT sum (dried_mass) FROM drying d WHERE d.lot = n.lot), 0)",
    N_ ("Not so much of lot {1} was dried.") },
  { BED_KIND_LINE, E, "lot",
    "SELECT v.code, v.sold_on, t.code, t.picked_on FROM line n JOIN sale v ON v.id = n.sale"
    " JOIN lot t ON t.id = n.lot WHERE n.id = ?1 AND v.sold_on < t.picked_on",
    N_ ("Sale {1} was on {2}, before lot {3} was picked on {4}.") },
  { BED_KIND_LINE, E, "price",
    "SELECT 1 FROM line WHERE id = ?1 AND use = 'sold' AND price IS NULL",
    N_ ("The price is missing. What was lost or given away has none.") },

  /* Money */
  { BED_KIND_PURCHASE, E, "batch",
    "SELECT 1 FROM purchase WHERE id = ?1 AND scope = 'batch' AND batch IS NULL",
    N_ ("Which batch it was for is missing.") },
  { BED_KIND_EQUIPMENT, E, "salvage",
    "SELECT 1 FROM equipment WHERE id = ?1 AND salvage > price",
    N_ ("It would be worth more at the end than it cost.") },
};

#undef E
#undef W

BedFault *
bed_fault_new (BedFaultSeverity severity, BedRecord *record, const char *field, char *message)
{
  BedFault *fault = g_new0 (BedFault, 1);

  fault->severity = severity;
  fault->code = BED_FARM_ERROR_INVALID;
  fault->record = record ? g_object_ref (record) : NULL;
  fault->field = field;
  fault->message = message;
  return fault;
}

void
bed_fault_free (BedFault *fault)
{
  g_clear_object (&fault->record);
  g_free (fault->message);
  g_free (fault);
}

static void
add (GPtrArray *faults, BedRecord *record, const char *field, char *message)
{
  g_ptr_array_add (faults, bed_fault_new (BED_FAULT_ERROR, record, field, message));
}

/* A date column reads as people write dates. */
static char *
word (const char *text)
{
  if (text && strlen (text) == 10 && text[4] == '-' && text[7] == '-')
    return bed_date_format (text);
  return g_strdup (text ? text : "");
}

static char *
fill (const char *message, sqlite3_stmt *row)
{
  GString *sentence = g_string_new (NULL);

  for (const char *at = message; *at; at++)
    if (at[0] == '{' && g_ascii_isdigit (at[1]) && at[2] == '}')
      {
        g_autofree char *text = word ((const char *) sqlite3_column_text (row, at[1] - '1'));
        g_string_append (sentence, text);
        at += 2;
      }
    else
      g_string_append_c (sentence, *at);
  return g_string_free (sentence, FALSE);
}

/* Dates that may lie ahead: plans, and dates printed on a bag. */
static gboolean
may_be_ahead (BedKind kind, const BedField *field)
{
  return kind == BED_KIND_DUE || strcmp (field->name, "use_by") == 0;
}

static void
check_date (BedFarm *farm, BedRecord *record, const BedField *field, GPtrArray *faults)
{
  const char *text = bed_record_get_text (record, field->name);
  const char *pattern = field->type == BED_FIELD_DATE
                            ? "^\\d{4}-\\d{2}-\\d{2}$"
                            : "^\\d{4}-\\d{2}-\\d{2}T([01]\\d|2[0-3]):[0-5]\\d$";
  GDate date;

  g_date_clear (&date, 1);
  if (g_regex_match_simple (pattern, text, 0, 0)
      && g_date_valid_dmy (atoi (text + 8), atoi (text + 5), atoi (text)))
    g_date_set_dmy (&date, atoi (text + 8), atoi (text + 5), atoi (text));
  if (!g_date_valid (&date))
    add (faults, record, field->name,
         g_strdup_printf (_ ("%s: “%s” is not a date like %s."), _ (field->label), text,
                          bed_farm_get_today (farm)));
  else if (!may_be_ahead (bed_record_get_kind (record), field)
           && strncmp (text, bed_farm_get_today (farm), 10) > 0)
    {
      g_autofree char *day = g_strndup (text, 10);
      g_autofree char *shown = bed_date_format (day);
      add (faults, record, field->name,
           g_strdup_printf (_ ("%s: %s is in the future."), _ (field->label), shown));
    }
}

static void
check_choice (BedRecord *record, const BedField *field, GPtrArray *faults)
{
  const char *text = bed_record_get_text (record, field->name);

  for (const BedChoice *c = field->choices; c->key; c++)
    if (strcmp (c->key, text) == 0)
      return;
  add (faults, record, field->name,
       g_strdup_printf (_ ("%s: “%s” is not one of the choices."), _ (field->label), text));
}

static void
check_field (BedFarm *farm, BedRecord *record, const BedField *field, GPtrArray *faults)
{
  g_autoptr (GError) error = NULL;

  switch (field->type)
    {
    case BED_FIELD_DATE:
    case BED_FIELD_MOMENT:
      check_date (farm, record, field, faults);
      break;
    case BED_FIELD_CHOICE:
      check_choice (record, field, faults);
      break;
    case BED_FIELD_MEASURE:
      if (!bed_value_check_limits (farm, field, bed_record_get_int (record, field->name), &error))
        add (faults, record, field->name, g_strdup (error->message));
      break;
    case BED_FIELD_TEXT:
    case BED_FIELD_NOTE:
    case BED_FIELD_FLAG:
    case BED_FIELD_REFERENCE:
      break;
    }
}

/* Outlines are pairs of metres: "0 0, 12 0, 12 8". */
static void
check_outline (BedRecord *record, GPtrArray *faults)
{
  static const char pattern[]
      = "^\\s*-?[0-9.]+\\s+-?[0-9.]+(\\s*,\\s*-?[0-9.]+\\s+-?[0-9.]+)*\\s*$";
  const char *text = bed_record_get_text (record, "outline");

  if (text && !g_regex_match_simple (pattern, text, 0, 0))
    add (faults, record, "outline",
         g_strdup_printf (_ ("Outline: “%s” is not pairs of metres like 0 0, 12 0, 12 8."),
                          text));
}

/* Amounts are whole minor units of the farm's currency, and nothing converts them. */
static void
check_currency (BedFarm *farm, BedRecord *record, GPtrArray *faults)
{
  BedRecord *settings = bed_farm_get_settings (farm);
  const char *before = settings ? bed_record_get_text (settings, "currency") : NULL;

  if (!before || g_strcmp0 (before, bed_record_get_text (record, "currency")) == 0)
    return;
  if (bed_query_one (farm,
                     "SELECT EXISTS (SELECT 1 FROM purchase) OR EXISTS (SELECT 1 FROM equipment)"
                     " OR EXISTS (SELECT 1 FROM line WHERE price IS NOT NULL)"
                     " OR EXISTS (SELECT 1 FROM spawn WHERE cost IS NOT NULL)"
                     " OR EXISTS (SELECT 1 FROM hours WHERE rate IS NOT NULL)",
                     0))
    add (faults, record, "currency",
         g_strdup_printf (_ ("Currency: amounts are already written down in %s and would not be "
                             "converted. Keep %s, or begin a new farm in the other currency."),
                          before, before));
}

void
bed_rules_check_fields (BedFarm *farm, BedRecord *record, GPtrArray *faults)
{
  BedKind kind = bed_record_get_kind (record);
  const BedKindInfo *info = bed_kind_get_info (kind);

  for (guint i = 0; i < info->n_fields; i++)
    {
      const BedField *field = &info->fields[i];
      if (bed_record_has (record, field->name))
        check_field (farm, record, field, faults);
      else if (field->required)
        add (faults, record, field->name,
             /* Translators: a field, as in "Wood is missing." */
             g_strdup_printf (_ ("%s is missing."), _ (field->label)));
    }
  if (kind == BED_KIND_AREA || kind == BED_KIND_FEATURE)
    check_outline (record, faults);
  if (kind == BED_KIND_FARM)
    check_currency (farm, record, faults);
}

/* Kinds of which there is one a day, or one a pair. */
static const struct
{
  BedKind kind;
  const char *field;
  const char *where;
  const char *message;
} unique[] = {
  { BED_KIND_RAIN, "fell_on", "fell_on = ?2", N_ ("The rain of that day is entered already.") },
  { BED_KIND_TEMPERATURE, "measured_on", "measured_on = ?2",
    N_ ("The temperatures of that day are entered already.") },
  { BED_KIND_SOAKED, "log", "soak = ?2 AND log = ?3", N_ ("That log is in this soak already.") },
  { BED_KIND_PLACE, "log", "until IS NULL AND ?3 IS NULL AND log = ?2",
    N_ ("That log lies in a stack already: a log is in one place at a time.") },
};

static void
bind_field (sqlite3_stmt *stmt, int parameter, BedRecord *record, const char *name)
{
  if (!bed_record_has (record, name))
    sqlite3_bind_null (stmt, parameter);
  else if (bed_record_get_text (record, name))
    sqlite3_bind_text (stmt, parameter, bed_record_get_text (record, name), -1, SQLITE_TRANSIENT);
  else
    sqlite3_bind_int64 (stmt, parameter, bed_record_get_int (record, name));
}

static gboolean
finds_one (sqlite3_stmt *stmt)
{
  gboolean found = sqlite3_step (stmt) == SQLITE_ROW;

  sqlite3_reset (stmt);
  return found;
}

static void
check_pair (BedFarm *farm, BedRecord *record, guint which, GPtrArray *faults)
{
  static const char *second[] = { "fell_on", "measured_on", "log", "until" };
  const char *first = unique[which].kind == BED_KIND_SOAKED ? "soak" : unique[which].field;
  g_autofree char *sql
      = g_strdup_printf ("SELECT 1 FROM \"%s\" WHERE id <> ?1 AND %s",
                         bed_kind_get_info (unique[which].kind)->name, unique[which].where);
  sqlite3_stmt *stmt = bed_farm_statement (farm, sql, NULL);

  sqlite3_bind_int64 (stmt, 1, bed_record_get_id (record));
  bind_field (stmt, 2, record, first);
  if (sqlite3_bind_parameter_count (stmt) > 2)
    bind_field (stmt, 3, record, second[which]);
  if (finds_one (stmt))
    add (faults, record, unique[which].field, g_strdup (_ (unique[which].message)));
}

void
bed_rules_check_unique (BedFarm *farm, BedRecord *record, GPtrArray *faults)
{
  BedKind kind = bed_record_get_kind (record);
  const BedKindInfo *info = bed_kind_get_info (kind);

  if (info->key && kind != BED_KIND_FARM)
    {
      g_autofree char *sql = g_strdup_printf (
          "SELECT 1 FROM \"%s\" WHERE \"%s\" = ?1 COLLATE NOCASE AND id <> ?2", info->name,
          info->key);
      sqlite3_stmt *stmt = bed_farm_statement (farm, sql, NULL);
      bind_field (stmt, 1, record, info->key);
      sqlite3_bind_int64 (stmt, 2, bed_record_get_id (record));
      if (finds_one (stmt))
        add (faults, record, info->key,
             /* Translators: kind of record, its name. */
             g_strdup_printf (_ ("There is a %s “%s” already."), _ (info->singular),
                              bed_record_get_text (record, info->key)));
    }
  for (guint i = 0; i < G_N_ELEMENTS (unique); i++)
    if (unique[i].kind == kind)
      check_pair (farm, record, i, faults);
}

static void
check_references (BedFarm *farm, BedRecord *record, GPtrArray *faults)
{
  const BedKindInfo *info = bed_kind_get_info (bed_record_get_kind (record));

  for (guint i = 0; i < info->n_fields; i++)
    {
      const BedField *field = &info->fields[i];
      if (field->type != BED_FIELD_REFERENCE || !bed_record_has (record, field->name))
        continue;
      g_autofree char *sql = g_strdup_printf ("SELECT 1 FROM \"%s\" WHERE id = ?1",
                                              bed_kind_get_info (field->refers)->name);
      sqlite3_stmt *stmt = bed_farm_statement (farm, sql, NULL);
      sqlite3_bind_int64 (stmt, 1, bed_record_get_int (record, field->name));
      if (!finds_one (stmt))
        add (faults, record, field->name,
             g_strdup_printf (_ ("%s: that %s is not in the farm."), _ (field->label),
                              _ (bed_kind_get_info (field->refers)->singular)));
    }
}

void
bed_rules_check_written (BedFarm *farm, BedRecord *record, GPtrArray *faults)
{
  check_references (farm, record, faults);
  for (gsize i = 0; i < G_N_ELEMENTS (rules); i++)
    {
      if (rules[i].kind != bed_record_get_kind (record))
        continue;
      sqlite3_stmt *stmt = bed_farm_statement (farm, rules[i].sql, NULL);
      g_return_if_fail (stmt != NULL);
      sqlite3_bind_int64 (stmt, 1, bed_record_get_id (record));
      while (sqlite3_step (stmt) == SQLITE_ROW)
        g_ptr_array_add (faults, bed_fault_new (rules[i].severity, record, rules[i].field,
                                                fill (_ (rules[i].message), stmt)));
      sqlite3_reset (stmt);
    }
}

void
bed_rules_check_removed (BedFarm *farm, BedKind kind, gint64 id, const char *name,
                         GPtrArray *faults)
{
  for (BedKind other = 0; other < BED_N_KINDS; other++)
    {
      const BedKindInfo *info = bed_kind_get_info (other);
      for (guint i = 0; i < info->n_fields; i++)
        {
          if (info->fields[i].type != BED_FIELD_REFERENCE || info->fields[i].refers != kind)
            continue;
          g_autofree char *sql = g_strdup_printf (
              "SELECT count (*) FROM \"%s\" WHERE \"%s\" = ?1", info->name, info->fields[i].name);
          sqlite3_stmt *stmt = bed_farm_statement (farm, sql, NULL);
          sqlite3_bind_int64 (stmt, 1, id);
          gint64 n = sqlite3_step (stmt) == SQLITE_ROW ? sqlite3_column_int64 (stmt, 0) : 0;
          sqlite3_reset (stmt);
          if (n > 0)
            add (faults, NULL, NULL,
                 /* Translators: kind, name, number, kind of record that needs it. */
                 g_strdup_printf (_ ("%s %s is needed by %" G_GINT64_FORMAT " %s. "
                                     "Remove those first."),
                                  _ (bed_kind_get_info (kind)->singular), name ? name : "", n,
                                  n == 1 ? _ (info->singular) : _ (info->plural)));
        }
    }
}
