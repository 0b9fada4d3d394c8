/* Rules across records are SQL that finds what breaks them: ?1 is the id of the
 * record just written, the columns found fill the sentence. */
#include "model/farm/rules_private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/farm/farm_private.h"
#include "model/farm/kind_words.h"
#include "model/farm/kinds.h"
#include "model/farm/query.h"
#include "model/farm/say.h"
#include "model/farm/value.h"

typedef struct
{
  BedKind kind;
  BedFaultSeverity severity;
  const char *field;   /* where the fault is shown */
  const char *sql;     /* a row for each fault */
  const char *message; /* N_(), {1} {2}… are the row's columns */
  const char *only_if; /* see BedRuleQuestion */
} Rule;

/* The logs of each slot as they follow; hardly ever are there two at once, and that is seen at
 * once. */
#define ANY_CROWDED                                                                                \
  "SELECT EXISTS (SELECT 1 FROM (SELECT since, max (coalesce (until, '9999'))"                     \
  " OVER (PARTITION BY stack, tier, slot ORDER BY since"                                           \
  " ROWS BETWEEN UNBOUNDED PRECEDING AND 1 PRECEDING) AS before FROM place"                        \
  " WHERE tier IS NOT NULL AND slot IS NOT NULL) WHERE before > since)"

/* Of years past it is often not known how much it was, nor what it cost. */
#define SPAWN_KNOWN "(cost IS NOT NULL OR received_on > date (bed_today (), '-1 year'))"

#define E BED_FAULT_ERROR
#define W BED_FAULT_WARNING

static const Rule rules[] = {
  /* The farm */
  { BED_KIND_FARM, E, "currency",
    "SELECT currency FROM farm WHERE id = ?1 AND currency NOT GLOB '[A-Z][A-Z][A-Z]'",
    N_ ("Currency: “{1}” is not three capital letters like USD or EUR.") },
  { BED_KIND_FARM, E, "moisture_high",
    "SELECT 1 FROM farm WHERE id = ?1 AND moisture_low > moisture_high",
    N_ ("The moisture target ends below where it begins.") },
  { BED_KIND_FARM, E, "wait_most", "SELECT 1 FROM farm WHERE id = ?1 AND wait_least > wait_most",
    N_ ("Days from felling to inoculation: the longest is shorter than the shortest.") },

  /* Woodlot. Dead trees carry other fungi: Virginia Tech thesis on shiitake logs (docs/sources.md);
   * bark slips from bud swell to full leaf: common practice, no source. */
  { BED_KIND_FELLING, W, "condition", "SELECT 1 FROM felling WHERE id = ?1 AND condition = 'dead'",
    N_ ("Dead trees often carry other fungi already. Healthy trees are better.") },
  { BED_KIND_FELLING, W, "leaf",
    "SELECT 1 FROM felling WHERE id = ?1 AND leaf IN ('bud swell', 'in leaf')",
    N_ ("Bark slips off trees felled between bud swell and full leaf. Dormant trees keep it.") },
  { BED_KIND_FELLING, W, "stand",
    "SELECT 1 FROM felling WHERE id = ?1 AND stand IS NULL AND supplier IS NULL",
    N_ ("Where the bolts come from is missing: a stand, or who sold them.") },

  /* Spawn */
  { BED_KIND_STRAIN, E, "fruits_to",
    "SELECT 1 FROM strain WHERE id = ?1 AND fruits_from > fruits_to",
    N_ ("The fruiting range ends below where it begins.") },
  { BED_KIND_STRAIN, E, "run_most", "SELECT 1 FROM strain WHERE id = ?1 AND run_least > run_most",
    N_ ("The longest spawn run is shorter than the shortest.") },
  { BED_KIND_SPAWN, E, "mass",
    "SELECT form FROM spawn WHERE id = ?1 AND form IN ('sawdust', 'grain') AND mass IS NULL"
    " AND " SPAWN_KNOWN,
    N_ ("Mass is missing: {1} spawn is counted by mass.") },
  { BED_KIND_SPAWN, E, "pieces",
    "SELECT form FROM spawn WHERE id = ?1 AND form IN ('dowel', 'thimble') AND pieces IS NULL"
    " AND " SPAWN_KNOWN,
    N_ ("Pieces are missing: {1} spawn is counted in pieces.") },
  { BED_KIND_SPAWN, E, "use_by",
    "SELECT use_by, received_on FROM spawn WHERE id = ?1 AND use_by < received_on",
    N_ ("Use by {1} is before it was received, {2}.") },

  /* Logs */
  { BED_KIND_LOG, E, "large_diameter",
    "SELECT 1 FROM log WHERE id = ?1 AND large_diameter < small_diameter",
    N_ ("The large end is thinner than the small end.") },
  { BED_KIND_LOG, E, "green_mass",
    "SELECT bed_mass (l.green_mass), bed_mass (cast (" BED_RULES_HEAVIEST " AS INTEGER)) FROM log l"
    " WHERE l.id = ?1 AND l.green_mass > " BED_RULES_HEAVIEST,
    N_ ("{1} is too much: of this size, the heaviest wood soaked through weighs less than {2}. Is "
        "the unit right?") },
  { BED_KIND_LOG, E, "mark",
    "SELECT l.mark, o.code FROM log l JOIN log o ON o.batch = l.batch AND o.mark = l.mark"
    " AND o.id <> l.id WHERE l.id = ?1 AND l.mark IS NOT NULL LIMIT 1",
    N_ ("{2} of the same batch has the own number {1}, too.") },
  { BED_KIND_LOG, E, "retired_why",
    "SELECT 1 FROM log WHERE id = ?1 AND retired_on IS NOT NULL AND retired_why IS NULL",
    N_ ("Why the log was retired is missing.") },
  { BED_KIND_LOG, E, "retired_on",
    "SELECT 1 FROM log WHERE id = ?1 AND retired_why IS NOT NULL AND retired_on IS NULL",
    N_ ("When the log was retired is missing.") },

  /* Yard */
  { BED_KIND_STACK, E, "taken_down_on",
    "SELECT taken_down_on, built_on FROM stack WHERE id = ?1 AND taken_down_on < built_on",
    N_ ("Taken down on {1}, before it was built on {2}.") },
  { BED_KIND_PLACE, E, "until", "SELECT until, since FROM place WHERE id = ?1 AND until < since",
    N_ ("Until {1} is before since {2}.") },
  { BED_KIND_PLACE, E, "log",
    "SELECT l.code, k.name, o.since FROM place p JOIN place o ON o.log = p.log AND o.id <> p.id"
    " JOIN log l ON l.id = p.log JOIN stack k ON k.id = o.stack WHERE p.id = ?1"
    " AND coalesce (o.until, '9999') > p.since AND coalesce (p.until, '9999') > o.since LIMIT 1",
    N_ ("Log {1} lies in {2} since {3}: a log is in one place at a time.") },
  { BED_KIND_PLACE, E, "slot",
    "SELECT k.name, p.tier, p.slot, l.code FROM place p JOIN place o ON o.stack = p.stack"
    " AND o.tier = p.tier AND o.slot = p.slot AND o.id <> p.id"
    " JOIN log l ON l.id = o.log JOIN stack k ON k.id = o.stack WHERE p.id = ?1"
    /* Else every place there ever was in the stack is read to find that none has a slot. */
    " AND p.tier IS NOT NULL AND p.slot IS NOT NULL"
    " AND coalesce (o.until, '9999') > p.since AND coalesce (p.until, '9999') > o.since LIMIT 1",
    N_ ("Tier {2}, slot {3} of {1} is taken by log {4}."), ANY_CROWDED },

  /* Care */
  { BED_KIND_CHECK, E, "log",
    "SELECT 1 FROM \"check\" WHERE id = ?1 AND log IS NULL AND batch IS NULL AND stack IS NULL",
    N_ ("What was checked is missing: a log, a batch or a stack.") },
  { BED_KIND_PLANNED_MOVE, E, "stack",
    "SELECT 1 FROM planned_move WHERE id = ?1 AND (stack IS NULL) = (new_stack IS NULL)",
    N_ ("Where the log is to go: one stack, that stands or is to be built.") },
  { BED_KIND_DISC, E, "batch",
    "SELECT 1 FROM disc WHERE id = ?1 AND batch IS NULL AND felling IS NULL",
    N_ ("Where the disc was cut is missing: a batch or a felling.") },
  { BED_KIND_DISC, E, "dry_mass", "SELECT 1 FROM disc WHERE id = ?1 AND dry_mass > fresh_mass",
    N_ ("The disc is heavier dry than fresh. Are the two swapped?") },
  { BED_KIND_WATERING, E, "stack",
    "SELECT 1 FROM watering WHERE id = ?1 AND stack IS NULL AND area IS NULL",
    N_ ("What was watered is missing: a stack or an area.") },
  { BED_KIND_TEMPERATURE, E, "most", "SELECT 1 FROM temperature WHERE id = ?1 AND least > most",
    N_ ("The lowest temperature is above the highest. Are the two swapped?") },

  /* Soaks */
  { BED_KIND_SOAK, E, "taken_out", "SELECT 1 FROM soak WHERE id = ?1 AND taken_out < put_in",
    N_ ("Out of the tank before in it.") },
  /* Logs are soaked for a night to two days. Three days are asked about, two weeks are a slip:
   * common practice, no source. */
  { BED_KIND_SOAK, E, "taken_out",
    "SELECT cast (julianday (taken_out) - julianday (put_in) AS INTEGER) FROM soak WHERE id = ?1"
    " AND julianday (taken_out) - julianday (put_in) > 14",
    N_ ("In the tank for {1} days: a soak takes hours, at most 14 days. Are the dates right?") },
  { BED_KIND_SOAK, W, "taken_out",
    "SELECT cast (24 * (julianday (taken_out) - julianday (put_in)) AS INTEGER) FROM soak"
    " WHERE id = ?1 AND julianday (taken_out) - julianday (put_in) BETWEEN 3.01 AND 14",
    N_ ("In the tank for {1} hours; one to three days are usual.") },

  /* Crop */
  { BED_KIND_LOT, E, "cooled_at",
    "SELECT date (cooled_at), picked_on FROM lot WHERE id = ?1 AND date (cooled_at) < picked_on",
    N_ ("Cooled on {1}, before it was picked on {2}.") },
  { BED_KIND_PICK, E, "log",
    "SELECT 1 FROM pick WHERE id = ?1 AND log IS NULL AND batch IS NULL AND stack IS NULL",
    N_ ("Where it was picked is missing: a log, a stack or a batch.") },
  { BED_KIND_PICK, E, "since",
    "SELECT since, picked_on FROM pick WHERE id = ?1 AND since > picked_on",
    N_ ("The total begins on {1}, after its last day, {2}.") },
  { BED_KIND_PICK, E, "since",
    "SELECT since, picked_on FROM pick WHERE id = ?1 AND since <= picked_on"
    " AND bed_season (since) <> bed_season (picked_on)",
    N_ ("The total from {1} to {2} is of more than one season. Divide it.") },
  /* More than any day brings: common practice, no source. */
  { BED_KIND_PICK, E, "mass",
    "SELECT bed_mass (mass) FROM pick WHERE id = ?1 AND since IS NULL AND mass > 200000000",
    N_ ("{1} is too much for one pick. Is the unit right, or is it a total of several days?") },
  { BED_KIND_PICK, W, "stack",
    "SELECT k.name, p.picked_on FROM pick p JOIN stack k ON k.id = p.stack"
    " WHERE p.id = ?1 AND p.log IS NULL AND NOT EXISTS (SELECT 1 FROM place x"
    " WHERE x.stack = k.id AND bed_lies (x.since, x.until, p.picked_on))",
    N_ ("No logs lay in {1} on {2}: no batch can be credited with the pick.") },
  { BED_KIND_DRYING, E, "dried_mass",
    "SELECT 1 FROM drying WHERE id = ?1 AND dried_mass > fresh_mass",
    N_ ("More came out of the dryer than went in. Are the two swapped?") },
  { BED_KIND_LINE, E, "price",
    "SELECT 1 FROM line WHERE id = ?1 AND use = 'sold' AND price IS NULL",
    N_ ("The price is missing. What was lost or given away has none.") },
  { BED_KIND_LINE, E, "price", "SELECT 1 FROM line WHERE id = ?1 AND use <> 'sold' AND price > 0",
    N_ ("What was not sold, but lost or given away, brings no money: leave the price out.") },

  /* Money */
  { BED_KIND_PURCHASE, E, "batch",
    "SELECT 1 FROM purchase WHERE id = ?1 AND scope = 'batch' AND batch IS NULL",
    N_ ("Which batch it was for is missing.") },
  /* Within three months: common practice, no source. */
  { BED_KIND_PURCHASE, W, "spawn",
    "SELECT s.code FROM purchase p JOIN spawn s ON s.cost IN (p.amount, p.amount + p.tax)"
    " WHERE p.id = ?1 AND p.category = 'spawn' AND p.spawn IS NULL AND p.amount > 0"
    " AND abs (julianday (s.received_on) - julianday (p.bought_on)) <= 92 LIMIT 1",
    N_ ("Spawn lot {1} cost as much. If this paid for it, name the lot here; else it counts "
        "twice.") },
  { BED_KIND_EQUIPMENT, E, "salvage", "SELECT 1 FROM equipment WHERE id = ?1 AND salvage > price",
    N_ ("It would be worth more at the end than it cost.") },
};

#undef E
#undef W

void
bed_rules_add (GPtrArray *faults, BedRecord *record, const char *field, const char *format, ...)
{
  va_list values;

  va_start (values, format);
  char *message = g_strdup_vprintf (format, values);
  va_end (values);
  g_ptr_array_add (faults, bed_fault_new (BED_FAULT_ERROR, record, field, message));
}

/* Dates and numbers read as people write them. */
static char *
dup_word (gpointer row, int column)
{
  if (sqlite3_column_type (row, column) == SQLITE_INTEGER)
    return bed_say ("%" G_GINT64_FORMAT, (gint64) sqlite3_column_int64 (row, column));
  const char *text = (const char *) sqlite3_column_text (row, column);

  if (text && strlen (text) == 10 && text[4] == '-' && text[7] == '-')
    return bed_date_format (text);
  return text ? g_utf8_make_valid (text, -1) : g_strdup ("");
}

/* Kinds of which there is one a day, or one a pair. */
static const struct
{
  BedKind kind;
  const char *field; /* where the fault is shown */
  const char *first, *second;
  const char *where; /* with ?2 the first field and ?3 the second */
  const char *message;
} unique[] = {
  { BED_KIND_RAIN, "fell_on", "fell_on", NULL, "fell_on = ?2",
    N_ ("The rain of that day is entered already.") },
  { BED_KIND_TEMPERATURE, "measured_on", "measured_on", NULL, "measured_on = ?2",
    N_ ("The temperatures of that day are entered already.") },
  { BED_KIND_RATE, "until", "until", NULL, "until = ?2",
    N_ ("The rate that held until that day is entered already.") },
  { BED_KIND_STOCK_COUNT, "category", "counted_on", "category", "counted_on = ?2 AND category = ?3",
    N_ ("That was counted on this day already.") },
  { BED_KIND_STOOD, "until", "until", "stack", "until = ?2 AND stack = ?3",
    N_ ("Where that stack stood until that day is entered already.") },
  { BED_KIND_PLANNED_MOVE, "log", "log", "planned_on", "log = ?2 AND planned_on = ?3",
    N_ ("That log is to be moved on that day already.") },
  { BED_KIND_SOAKED, "log", "soak", "log", "soak = ?2 AND log = ?3",
    N_ ("That log is in this soak already.") },
  { BED_KIND_PLACE, "log", "log", "until", "until IS NULL AND ?3 IS NULL AND log = ?2",
    N_ ("That log lies in a stack already: a log is in one place at a time.") },
};

static void
bind_field (BedFarm *farm, sqlite3_stmt *stmt, int parameter, BedRecord *record, const char *name)
{
  if (!bed_record_has (record, name))
    sqlite3_bind_null (stmt, parameter);
  else if (bed_record_get_text (record, name))
    bed_farm_bind_text (farm, stmt, parameter, bed_record_get_text (record, name));
  else
    sqlite3_bind_int64 (stmt, parameter, bed_record_get_int (record, name));
}

static gboolean
finds_one (BedFarm *farm, sqlite3_stmt *stmt)
{
  gboolean found = bed_farm_step (farm, stmt) == SQLITE_ROW;

  sqlite3_reset (stmt);
  return found;
}

static gpointer
make_unique (gpointer none)
{
  char **sql = g_new0 (char *, G_N_ELEMENTS (unique));

  for (gsize i = 0; i < G_N_ELEMENTS (unique); i++)
    sql[i] = g_strdup_printf ("SELECT 1 FROM \"%s\" WHERE id <> ?1 AND %s",
                              bed_kind_get_info (unique[i].kind)->name, unique[i].where);
  return sql;
}

static void
check_pair (BedFarm *farm, BedRecord *record, guint which, GPtrArray *faults)
{
  static GOnce once = G_ONCE_INIT;
  char **sql = g_once (&once, make_unique, NULL);
  sqlite3_stmt *stmt = bed_farm_statement (farm, sql[which], NULL);

  sqlite3_bind_int64 (stmt, 1, bed_record_get_id (record));
  bind_field (farm, stmt, 2, record, unique[which].first);
  if (unique[which].second)
    bind_field (farm, stmt, 3, record, unique[which].second);
  if (finds_one (farm, stmt))
    bed_rules_add (faults, record, unique[which].field, "%s", _ (unique[which].message));
}

void
bed_rules_check_unique (BedFarm *farm, BedRecord *record, GPtrArray *faults)
{
  BedKind kind = bed_record_get_kind (record);
  const BedKindInfo *info = bed_kind_get_info (kind);

  if (info->key && kind != BED_KIND_FARM)
    {
      g_autofree char *sql
          = g_strdup_printf ("SELECT 1 FROM \"%s\" WHERE \"%s\" = ?1 COLLATE NOCASE AND id <> ?2",
                             info->name, info->key);
      sqlite3_stmt *stmt = bed_farm_statement (farm, sql, NULL);
      bind_field (farm, stmt, 1, record, info->key);
      sqlite3_bind_int64 (stmt, 2, bed_record_get_id (record));
      if (finds_one (farm, stmt))
        bed_rules_add (faults, record, info->key, _ ("“%s” is in the farm already."),
                       bed_record_get_text (record, info->key));
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
      if (!finds_one (farm, stmt))
        bed_rules_add (faults, record, field->name, _ ("%s: it is not in the farm."),
                       _ (field->label));
    }
}

void
bed_rules_ask (BedFarm *farm, BedRecord *record, const BedRuleQuestion *question, GPtrArray *faults)
{
  sqlite3_stmt *stmt = bed_farm_statement (farm, question->sql, NULL);

  sqlite3_bind_int64 (stmt, 1, bed_record_get_id (record));
  while (bed_farm_step (farm, stmt) == SQLITE_ROW)
    {
      BedFault *fault = bed_fault_new (question->severity, record, question->field,
                                       bed_value_fill (_ (question->message), dup_word, stmt));
      fault->between = question->between;
      g_ptr_array_add (faults, fault);
    }
  sqlite3_reset (stmt);
}

static BedRuleQuestion
question_of (const Rule *rule)
{
  return (BedRuleQuestion){ .severity = rule->severity,
                            .field = rule->field,
                            .sql = rule->sql,
                            .message = rule->message,
                            .only_if = rule->only_if };
}

void
bed_rules_gather (BedFarm *farm, BedKind kind, const BedRulesSpan *span, BedRulesRound *round)
{
  bed_rules_round_begin (round, farm, kind, span);
  for (const Rule *rule = rules; rule < rules + G_N_ELEMENTS (rules); rule++)
    if (rule->kind == kind)
      {
        BedRuleQuestion question = question_of (rule);
        bed_rules_round_ask (round, farm, kind, &question);
      }
  bed_rules_gather_pairs (farm, kind, round);
}

void
bed_rules_check_written (BedFarm *farm, BedRecord *record, BedRulesRound *round, GPtrArray *faults)
{
  if (bed_rules_round_is_well (round, record))
    return;
  check_references (farm, record, faults);
  for (const Rule *rule = rules; rule < rules + G_N_ELEMENTS (rules); rule++)
    if (rule->kind == bed_record_get_kind (record))
      {
        BedRuleQuestion question = question_of (rule);
        if (!bed_rules_round_spares (round, record, &question))
          bed_rules_ask (farm, record, &question, faults);
      }
  bed_rules_check_pairs (farm, record, round, faults);
}

void
bed_rules_say_once (GPtrArray *faults)
{
  g_autoptr (GHashTable) said = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (GPtrArray) again = bed_faults_new ();
  guint kept = 0;

  for (guint i = 0; i < faults->len; i++)
    {
      BedFault *fault = faults->pdata[i];
      BedFault *first = fault->between ? g_hash_table_lookup (said, fault->message) : NULL;
      if (!first)
        {
          if (fault->between)
            g_hash_table_insert (said, fault->message, fault);
          faults->pdata[kept++] = fault;
          continue;
        }
      if (fault->severity == BED_FAULT_ERROR)
        first->severity = BED_FAULT_ERROR;
      g_ptr_array_add (again, fault);
    }
  /* Setting the size would free what stands in front by now, or in the other array. */
  faults->len = kept;
}

/* Takes @by. */
static void
add_needed (GPtrArray *faults, BedKind kind, const char *name, char *by)
{
  g_autofree char *what = bed_kind_dup_named (kind, name);
  g_autofree char *who = by;

  /* Translators: "batch 26A", "24 logs". */
  bed_rules_add (faults, NULL, NULL, _ ("%s is needed by others (%s). Remove those first."), what,
                 who);
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
          g_autofree char *sql = g_strdup_printf ("SELECT count (*) FROM \"%s\" WHERE \"%s\" = ?1",
                                                  info->name, info->fields[i].name);
          sqlite3_stmt *stmt = bed_farm_statement (farm, sql, NULL);
          sqlite3_bind_int64 (stmt, 1, id);
          gint64 n = bed_farm_step (farm, stmt) == SQLITE_ROW ? sqlite3_column_int64 (stmt, 0) : 0;
          sqlite3_reset (stmt);
          if (n > 0)
            add_needed (faults, kind, name, bed_kind_dup_count (other, n));
        }
    }
}
