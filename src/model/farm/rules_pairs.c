/* Rules about two records and the dates or amounts between them. Each is said once and asked
 * from every end, so that it does not matter which of the records is changed, or in what order
 * they are written. */
#include "model/farm/rules_private.h"

#include <glib/gi18n-lib.h>

#include "model/farm/query.h"

#define MOST_ENDS 4

typedef struct
{
  BedKind kind;
  const char *alias;  /* in the SQL below */
  const char *field;  /* where the fault is shown */
  const char *sum_of; /* see BedRuleQuestion */
  gboolean referred;
} End;

typedef struct
{
  BedFaultSeverity severity;
  const char *columns; /* of the sentence */
  const char *from;
  const char *where;   /* what breaks the rule */
  const char *message; /* N_(), {1} {2}… are the columns */
  End ends[MOST_ENDS]; /* as many as there are */
  const char *only_if; /* see BedRuleQuestion */
} Pair;

#define E BED_FAULT_ERROR
#define W BED_FAULT_WARNING

/* The roads from one record to the other. */
#define LOG_FELLING "log l JOIN felling f ON f.id = l.felling"
#define LOG_BATCH "log l JOIN batch b ON b.id = l.batch"
#define OF_LOG(table, alias) " JOIN " table " " alias " ON " alias ".log = l.id"
#define SOAKED_LOG "soaked d JOIN soak s ON s.id = d.soak JOIN log l ON l.id = d.log"
#define OF_STACK(table, alias) table " " alias " JOIN stack k ON k.id = " alias ".stack"
#define REST_WEEKS "(SELECT b.rest_weeks FROM batch_spawn b WHERE b.batch = l.batch)"
#define SPAWN_USED "spawn_used u JOIN spawn s ON s.id = u.spawn"
#define SPAWN_GONE "spawn_gone g JOIN spawn s ON s.id = g.spawn"
/* What went of spawn lot s, in batches and written off. */
#define TAKEN(what)                                                                                \
  "((SELECT coalesce (sum (o." what "), 0) FROM spawn_used o WHERE o.spawn = s.id)"                \
  " + (SELECT coalesce (sum (o." what "), 0) FROM spawn_gone o WHERE o.spawn = s.id))"

/* The soaks of each log as they follow; most logs rest long enough, and that is seen at once. Two
 * rules ask it, and it is answered once. */
#define LONGEST_REST "(SELECT max (rest_weeks) FROM batch_spawn)"
#define ANY_CLOSE                                                                                  \
  "SELECT EXISTS (SELECT 1 FROM (SELECT s.put_in AS at, max (s.put_in) OVER before AS put_in,"     \
  " max (coalesce (s.taken_out, '9999')) OVER before AS taken_out"                                 \
  " FROM soaked d JOIN soak s ON s.id = d.soak WINDOW before AS (PARTITION BY d.log"               \
  " ORDER BY s.put_in ROWS BETWEEN UNBOUNDED PRECEDING AND 1 PRECEDING))"                          \
  " WHERE taken_out > at OR julianday (at) - julianday (put_in) < 7 * " LONGEST_REST ")"

/* What came into tanks and went out of them, as it follows; what goes out makes room first. A soak
 * takes 14 days at most, so what came 28 days before is out when what came in its time is. */
#define TANK_EVENTS(soaks)                                                                         \
  "SELECT c.tank AS tank, c.put_in AS at,"                                                         \
  " (SELECT count (*) FROM soaked g WHERE g.soak = c.id) AS logs FROM soak c WHERE " soaks         \
  " UNION ALL SELECT c.tank, c.taken_out, -(SELECT count (*) FROM soaked g WHERE g.soak = c.id)"   \
  " FROM soak c WHERE c.taken_out IS NOT NULL AND " soaks
#define TANK_LOADS(soaks)                                                                          \
  "SELECT at, sum (logs) OVER (PARTITION BY lower (tank) ORDER BY at, logs) AS held"               \
  " FROM (" TANK_EVENTS (soaks) ")"
#define IN_TANK_OF_S                                                                               \
  "c.put_in >= date (s.put_in, '-28 days') AND c.put_in < coalesce (s.taken_out, '9999')"          \
  " AND c.tank = s.tank COLLATE NOCASE"
#define WHILE_S "at >= s.put_in AND at < coalesce (s.taken_out, '9999')"
/* The most logs at one time in the tank of soak s while it lay there. */
#define FULLEST "(SELECT max (held) FROM (" TANK_LOADS (IN_TANK_OF_S) ") WHERE " WHILE_S ")"
#define OVERFULL "SELECT 1 FROM (" TANK_LOADS ("c.tank IS NOT NULL") "), farm x"
#define ANY_OVERFULL "SELECT EXISTS (" OVERFULL " WHERE held > x.tank_capacity)"

/* A log gives a tenth to a third of its weight in all its years, so half of its volume in water is
 * asked about, and all of it in one pick is a slip: common practice, no source. */
#define WATER "1e-9 * " BED_RULES_VOLUME

/* When those that are only counted were felled, nobody wrote down. */
#define IS_LISTED "l.counted IS NOT 'yes'"

#define TOO_MUCH "t.code, bed_mass (t.sold + t.lost + t.dried - t.picked)"
/* Years before the first pick that is entered may be known by their sales alone. */
#define HAS_PICKS_BY_THEN "EXISTS (SELECT 1 FROM pick e WHERE e.picked_on <= t.picked_on)"
#define IS_TOO_MUCH "t.sold + t.lost + t.dried > t.picked AND " HAS_PICKS_BY_THEN
#define IS_UNPICKED "t.sold + t.lost + t.dried > 0 AND NOT " HAS_PICKS_BY_THEN
#define SAY_UNPICKED N_ ("Of lot {1} no pick is entered.")
#define ANY_TOO_MUCH "SELECT EXISTS (SELECT 1 FROM lot_summary t WHERE " IS_TOO_MUCH ")"
#define SAY_TOO_MUCH N_ ("Lot {1} has not so much: {2} too much sold, lost and dried.")

/* What a total says of days that are entered singly as well, or in another total; grades apart are
 * two sums. */
#define ANY_TOTAL "SELECT EXISTS (SELECT 1 FROM pick WHERE since IS NOT NULL)"
#define TWICE                                                                                      \
  "p.since IS NOT NULL AND q.id <> p.id AND q.picked_on >= p.since"                                \
  " AND coalesce (q.since, q.picked_on) <= p.picked_on"                                            \
  " AND (q.grade = p.grade OR 'unknown' IN (q.grade, p.grade))"
#define IS_OF_BATCH(alias) " AND " alias ".log IS NULL AND " alias ".stack IS NULL"
#define SAY_TWICE                                                                                  \
  N_ ("{1} has a total from {2} to {3}, and a pick of {4} in that time: is it counted twice?")
#define IN_TOTAL(name, from, where)                                                                \
  PAIR_IF (ANY_TOTAL, W, name ", p.since, p.picked_on, q.picked_on", from, where, SAY_TWICE,       \
           END (PICK, "p", "since"), END (PICK, "q", "picked_on"))

#define PAIR(severity, columns, from, where, message, ...)                                         \
  PAIR_IF (NULL, severity, columns, from, where, message, __VA_ARGS__)
#define PAIR_IF(only_if, severity, columns, from, where, message, ...)                             \
  {                                                                                                \
    severity, columns, from, where, message, { __VA_ARGS__ }, only_if                              \
  }
/* One date that lies on the wrong side of another; the sentence names whose they are. */
#define DATES(severity, name, from, one, is, other, message, ...)                                  \
  DATES_IF (NULL, severity, name, from, one, is, other, message, __VA_ARGS__)
#define DATES_IF(only_if, severity, name, from, one, is, other, message, ...)                      \
  PAIR_IF (only_if, severity, name ", " one ", " other, from, one " " is " " other, message,       \
           __VA_ARGS__)
#define OF_TANK(from, end)                                                                         \
  PAIR_IF (ANY_OVERFULL, E, FULLEST ", s.tank, x.tank_capacity", from " JOIN farm x",              \
           FULLEST " > x.tank_capacity",                                                           \
           N_ ("{1} logs at one time in tank {2}, which holds {3}."), end)
#define END(k, ...)                                                                                \
  {                                                                                                \
    BED_KIND_##k, __VA_ARGS__                                                                      \
  }
/* That another of the ends refers to, at first or second hand. */
#define REF(...) END (__VA_ARGS__, .referred = TRUE)

static const Pair pairs[] = {
  /* Felling, batch, log */
  PAIR (E, "b.code, b.inoculated_on, f.code, f.felled_on",
        LOG_BATCH " JOIN felling f ON f.id = l.felling", "b.inoculated_on < f.felled_on",
        N_ ("Batch {1} was inoculated on {2}, before felling {3} on {4}."),
        REF (FELLING, "f", "felled_on"), END (LOG, "l", "batch"),
        REF (BATCH, "b", "inoculated_on")),
  /* Not from the log: a batch of 200 would be warned of 200 times. */
  PAIR (W,
        "cast (julianday (b.inoculated_on) - julianday (f.felled_on) AS INTEGER), x.wait_least,"
        " b.code, f.code",
        LOG_BATCH " JOIN felling f ON f.id = l.felling, farm x",
        "julianday (b.inoculated_on) - julianday (f.felled_on) BETWEEN 0 AND x.wait_least - 1"
        " AND " IS_LISTED,
        N_ ("Batch {3} was inoculated only {1} days after felling {4}; this farm waits {2} at "
            "least."),
        END (FELLING, "f", "felled_on"), END (BATCH, "b", "inoculated_on")),
  PAIR (W,
        "cast (julianday (b.inoculated_on) - julianday (f.felled_on) AS INTEGER), x.wait_most,"
        " b.code, f.code",
        LOG_BATCH " JOIN felling f ON f.id = l.felling, farm x",
        "julianday (b.inoculated_on) - julianday (f.felled_on) > x.wait_most AND " IS_LISTED,
        N_ ("Batch {3} was inoculated {1} days after felling {4}; this farm waits {2} at most."),
        END (FELLING, "f", "felled_on"), END (BATCH, "b", "inoculated_on")),
  DATES (E, "l.code", LOG_FELLING, "l.retired_on", "<", "f.felled_on",
         N_ ("Log {1} was retired on {2}, before its tree was felled on {3}."),
         END (LOG, "l", "retired_on"), REF (FELLING, "f", "felled_on")),
  PAIR (E, "l.code, l.retired_on, b.code, b.inoculated_on", LOG_BATCH,
        "l.retired_on < b.inoculated_on",
        N_ ("Log {1} was retired on {2}, before batch {3} was inoculated on {4}."),
        END (LOG, "l", "retired_on"), REF (BATCH, "b", "inoculated_on")),

  /* Spawn */
  PAIR (E, "s.code, b.code", SPAWN_USED " JOIN batch b ON b.id = u.batch",
        "s.form IN ('sawdust', 'grain') AND u.mass IS NULL AND s.mass IS NOT NULL",
        N_ ("How much of spawn lot {1} went into batch {2} is missing: a mass."),
        END (SPAWN_USED, "u", "mass"), REF (SPAWN, "s", "form")),
  PAIR (E, "s.code, b.code", SPAWN_USED " JOIN batch b ON b.id = u.batch",
        "s.form IN ('dowel', 'thimble') AND u.pieces IS NULL AND s.pieces IS NOT NULL",
        N_ ("How much of spawn lot {1} went into batch {2} is missing: a number of pieces."),
        END (SPAWN_USED, "u", "pieces"), REF (SPAWN, "s", "form")),
  PAIR (W, "s.code, bed_mass (" TAKEN ("mass") " - s.mass)", SPAWN_USED, "s.mass < " TAKEN ("mass"),
        N_ ("More of spawn lot {1} is used than was received: {2} are missing."),
        END (SPAWN_USED, "u", "mass"), REF (SPAWN, "s", "mass")),
  PAIR (W, "s.code, " TAKEN ("pieces") " - s.pieces", SPAWN_USED, "s.pieces < " TAKEN ("pieces"),
        N_ ("More of spawn lot {1} is used than was received: {2} pieces are missing."),
        END (SPAWN_USED, "u", "pieces"), REF (SPAWN, "s", "pieces")),
  PAIR (E, "s.code", SPAWN_GONE, "s.form IN ('sawdust', 'grain') AND g.mass IS NULL",
        N_ ("How much of spawn lot {1} is written off is missing: a mass."),
        END (SPAWN_GONE, "g", "mass"), REF (SPAWN, "s", "form")),
  PAIR (E, "s.code", SPAWN_GONE, "s.form IN ('dowel', 'thimble') AND g.pieces IS NULL",
        N_ ("How much of spawn lot {1} is written off is missing: a number of pieces."),
        END (SPAWN_GONE, "g", "pieces"), REF (SPAWN, "s", "form")),
  PAIR (E, "s.code, bed_mass (" TAKEN ("mass") " - s.mass)", SPAWN_GONE, "s.mass < " TAKEN ("mass"),
        N_ ("There is not so much of spawn lot {1} to write off: {2} too much."),
        END (SPAWN_GONE, "g", "mass"), REF (SPAWN, "s", "mass")),
  PAIR (E, "s.code, " TAKEN ("pieces") " - s.pieces", SPAWN_GONE, "s.pieces < " TAKEN ("pieces"),
        N_ ("There is not so much of spawn lot {1} to write off: {2} pieces too many."),
        END (SPAWN_GONE, "g", "pieces"), REF (SPAWN, "s", "pieces")),
  PAIR (E, "s.code, g.gone_on, s.received_on", SPAWN_GONE, "g.gone_on < s.received_on",
        N_ ("Spawn lot {1} was written off on {2}, before it was received on {3}."),
        END (SPAWN_GONE, "g", "gone_on"), REF (SPAWN, "s", "received_on")),
  PAIR (E, "b.code, b.inoculated_on, s.code, s.received_on",
        SPAWN_USED " JOIN batch b ON b.id = u.batch", "b.inoculated_on < s.received_on",
        N_ ("Batch {1} was inoculated on {2}, before spawn lot {3} was received on {4}."),
        END (SPAWN_USED, "u", "spawn"), REF (SPAWN, "s", "received_on"),
        REF (BATCH, "b", "inoculated_on")),
  PAIR (W, "s.code, s.use_by, b.code", SPAWN_USED " JOIN batch b ON b.id = u.batch",
        "b.inoculated_on > s.use_by",
        N_ ("Spawn lot {1} was past its date, {2}, when batch {3} was inoculated."),
        END (SPAWN_USED, "u", "spawn"), REF (SPAWN, "s", "use_by"),
        REF (BATCH, "b", "inoculated_on")),

  /* Places */
  DATES (E, "k.name", OF_STACK ("place", "p"), "p.since", "<", "k.built_on",
         N_ ("Stack {1} was not there on {2}: it was built on {3}."), END (PLACE, "p", "since"),
         REF (STACK, "k", "built_on")),
  PAIR (E,
        "k.name, k.taken_down_on, (SELECT count (*) FROM place q WHERE q.stack = k.id"
        " AND (q.until IS NULL OR q.until > k.taken_down_on))",
        OF_STACK ("place", "p"),
        "k.taken_down_on IS NOT NULL AND (p.until IS NULL OR p.until > k.taken_down_on)",
        N_ ("Stack {1} was taken down on {2}, and {3} logs still lie in it. Move them first."),
        END (PLACE, "p", "since"), REF (STACK, "k", "taken_down_on")),
  DATES (E, "k.name", OF_STACK ("stood", "s"), "s.until", "<", "k.built_on",
         N_ ("Stack {1} stood elsewhere until {2}, before it was built on {3}."),
         END (STOOD, "s", "until"), REF (STACK, "k", "built_on")),
  DATES (E, "k.name", OF_STACK ("stood", "s"), "s.until", ">", "k.taken_down_on",
         N_ ("Stack {1} was moved on {2}, after it was taken down on {3}."),
         END (STOOD, "s", "until"), REF (STACK, "k", "taken_down_on")),
  DATES (E, "l.code", LOG_FELLING OF_LOG ("place", "p"), "p.since", "<", "f.felled_on",
         N_ ("Log {1} cannot lie in a stack on {2}: its tree was felled on {3}."),
         END (PLACE, "p", "since"), REF (LOG, "l", "felling"), REF (FELLING, "f", "felled_on")),
  DATES (W, "l.code", LOG_BATCH OF_LOG ("place", "p"), "p.since", "<", "b.inoculated_on",
         N_ ("Log {1} is stacked on {2}, before its batch was inoculated on {3}."),
         END (PLACE, "p", "since"), REF (LOG, "l", "batch"), REF (BATCH, "b", "inoculated_on")),
  DATES (E, "l.code", "log l" OF_LOG ("place", "p"), "l.retired_on", "<", "p.since",
         N_ ("Log {1} was retired on {2}; it cannot be stacked on {3}."), END (PLACE, "p", "since"),
         REF (LOG, "l", "retired_on")),

  /* Checks. Of a log not inoculated yet the bark may be looked at. */
  DATES (E, "b.code", "\"check\" c JOIN batch b ON b.id = c.batch", "c.checked_on", "<",
         "b.inoculated_on", N_ ("Batch {1} was checked on {2}, before it was inoculated on {3}."),
         END (CHECK, "c", "checked_on"), REF (BATCH, "b", "inoculated_on")),
  DATES (E, "l.code", LOG_FELLING OF_LOG ("\"check\"", "c"), "c.checked_on", "<", "f.felled_on",
         N_ ("Log {1} was checked on {2}, before its tree was felled on {3}."),
         END (CHECK, "c", "checked_on"), REF (LOG, "l", "felling"),
         REF (FELLING, "f", "felled_on")),
  DATES (W, "l.code", LOG_BATCH OF_LOG ("\"check\"", "c"), "c.checked_on", "<", "b.inoculated_on",
         N_ ("Log {1} was checked on {2}, before its batch was inoculated on {3}."),
         END (CHECK, "c", "checked_on"), REF (LOG, "l", "batch"),
         REF (BATCH, "b", "inoculated_on")),
  DATES (W, "l.code", "log l" OF_LOG ("\"check\"", "c"), "c.checked_on", ">", "l.retired_on",
         N_ ("Log {1} was checked on {2}, after it was retired on {3}."),
         END (CHECK, "c", "checked_on"), REF (LOG, "l", "retired_on")),
  DATES (E, "k.name", OF_STACK ("\"check\"", "c"), "c.checked_on", "<", "k.built_on",
         N_ ("Stack {1} was checked on {2}, before it was built on {3}."),
         END (CHECK, "c", "checked_on"), REF (STACK, "k", "built_on")),
  DATES (E, "k.name", OF_STACK ("\"check\"", "c"), "c.checked_on", ">", "k.taken_down_on",
         N_ ("Stack {1} was checked on {2}, after it was taken down on {3}."),
         END (CHECK, "c", "checked_on"), REF (STACK, "k", "taken_down_on")),

  /* Weighings and discs */
  DATES (E, "l.code", LOG_FELLING OF_LOG ("weighing", "w"), "w.weighed_on", "<", "f.felled_on",
         N_ ("Log {1} was weighed on {2}, before its tree was felled on {3}."),
         END (WEIGHING, "w", "weighed_on"), REF (LOG, "l", "felling"),
         REF (FELLING, "f", "felled_on")),
  DATES (W, "l.code", "log l" OF_LOG ("weighing", "w"), "w.weighed_on", ">", "l.retired_on",
         N_ ("Log {1} was weighed on {2}, after it was retired on {3}."),
         END (WEIGHING, "w", "weighed_on"), REF (LOG, "l", "retired_on")),
  PAIR (
      E, "l.code, bed_mass (w.mass), bed_mass (cast (" BED_RULES_HEAVIEST " AS INTEGER))",
      "log l" OF_LOG ("weighing", "w"), "w.mass > " BED_RULES_HEAVIEST,
      N_ ("{2} is too much for log {1}: of its size, the heaviest wood soaked through weighs less "
          "than {3}. Is the unit right?"),
      END (WEIGHING, "w", "mass"), REF (LOG, "l", "length")),
  PAIR (W, "l.code, bed_mass (w.mass), bed_mass (cast (" BED_RULES_SOAKED " AS INTEGER))",
        "log l" OF_LOG ("weighing", "w"),
        "w.mass BETWEEN " BED_RULES_SOAKED " AND " BED_RULES_HEAVIEST,
        N_ ("{2} is much for log {1}: of its size, heavy wood soaked through weighs "
            "{3}. Are its length and diameters right?"),
        END (WEIGHING, "w", "mass"), REF (LOG, "l", "length")),
  DATES (E, "f.code", "disc d JOIN felling f ON f.id = d.felling", "d.cut_on", "<", "f.felled_on",
         N_ ("The disc was cut on {2}, before felling {1} on {3}."), END (DISC, "d", "cut_on"),
         REF (FELLING, "f", "felled_on")),
  /* Where a batch is of several fellings, it may be of the first. */
  PAIR (E, "b.code, d.cut_on, f.felled_on",
        "disc d JOIN batch b ON b.id = d.batch JOIN log l ON l.batch = b.id"
        " JOIN felling f ON f.id = l.felling",
        "d.cut_on < f.felled_on AND NOT EXISTS (SELECT 1 FROM log m JOIN felling g"
        " ON g.id = m.felling WHERE m.batch = d.batch AND g.felled_on <= d.cut_on)",
        N_ ("The disc of batch {1} was cut on {2}, before its felling on {3}."),
        END (DISC, "d", "cut_on"), END (LOG, "l", "batch"), REF (FELLING, "f", "felled_on")),

  /* Watering and hours. Who stacks begins before the stack is built. */
  DATES (E, "k.name", OF_STACK ("watering", "g"), "g.watered_on", "<", "k.built_on",
         N_ ("Stack {1} was watered on {2}, before it was built on {3}."),
         END (WATERING, "g", "watered_on"), REF (STACK, "k", "built_on")),
  DATES (E, "k.name", OF_STACK ("watering", "g"), "g.watered_on", ">", "k.taken_down_on",
         N_ ("Stack {1} was watered on {2}, after it was taken down on {3}."),
         END (WATERING, "g", "watered_on"), REF (STACK, "k", "taken_down_on")),
  DATES (W, "k.name", OF_STACK ("hours", "h"), "h.worked_on", "<", "k.built_on",
         N_ ("Work at stack {1} on {2}, before it was built on {3}."),
         END (HOURS, "h", "worked_on"), REF (STACK, "k", "built_on")),
  DATES (W, "k.name", OF_STACK ("hours", "h"), "h.worked_on", ">", "k.taken_down_on",
         N_ ("Work at stack {1} on {2}, after it was taken down on {3}."),
         END (HOURS, "h", "worked_on"), REF (STACK, "k", "taken_down_on")),

  /* Soaks */
  DATES (E, "l.code", SOAKED_LOG, "l.retired_on", "<", "date (s.put_in)",
         N_ ("Log {1} was retired on {2}: it cannot be soaked on {3}."), END (SOAKED, "d", "log"),
         REF (SOAK, "s", "put_in"), REF (LOG, "l", "retired_on")),
  PAIR (E, "l.code", SOAKED_LOG, "l.batch IS NULL",
        N_ ("Log {1} is soaked, but not inoculated yet."), END (SOAKED, "d", "log"),
        REF (LOG, "l", "batch")),
  DATES (E, "l.code", SOAKED_LOG " JOIN batch b ON b.id = l.batch", "b.inoculated_on", ">",
         "date (s.put_in)", N_ ("Log {1} was inoculated on {2}, after its soak on {3}."),
         END (SOAKED, "d", "log"), REF (SOAK, "s", "put_in"), REF (LOG, "l", "batch"),
         REF (BATCH, "b", "inoculated_on")),
  PAIR_IF (
      ANY_CLOSE, E, "l.code, s.code, o.code",
      SOAKED_LOG " JOIN soaked e ON e.log = d.log AND e.id <> d.id JOIN soak o ON o.id = e.soak",
      "s.put_in < coalesce (o.taken_out, '9999') AND o.put_in < coalesce (s.taken_out, '9999')",
      N_ ("Log {1} was in the tank with soak {3} at that time."), END (SOAKED, "d", "log"),
      REF (SOAK, "s", "put_in")),
  OF_TANK ("soak s", REF (SOAK, "s", "tank")),
  OF_TANK (SOAKED_LOG, END (SOAKED, "d", "log", .sum_of = "soak")),
  /* How long it rests is asked only of soaks within the longest rest there is, 52 weeks. */
  PAIR_IF (
      ANY_CLOSE, W,
      "l.code, cast ((julianday (s.put_in) - julianday (o.put_in)) / 7 AS INTEGER), " REST_WEEKS,
      SOAKED_LOG " JOIN soaked e ON e.log = d.log AND e.id <> d.id JOIN soak o ON o.id = e.soak",
      "o.put_in <= s.put_in AND o.put_in >= date (s.put_in, '-364 days')"
      " AND julianday (s.put_in) - julianday (o.put_in) < 7 * " REST_WEEKS,
      N_ ("Log {1} was soaked {2} weeks before; it rests {3}."), END (SOAKED, "d", "log"),
      END (SOAKED, "e", "log"), REF (SOAK, "s", "put_in"), REF (SOAK, "o", "put_in")),

  /* Picks */
  DATES (E, "l.code", LOG_BATCH OF_LOG ("pick", "p"), "p.picked_on", "<", "b.inoculated_on",
         N_ ("Log {1} was picked from on {2}, before it was inoculated on {3}."),
         END (PICK, "p", "picked_on"), REF (LOG, "l", "batch"), REF (BATCH, "b", "inoculated_on")),
  DATES (E, "b.code", "pick p JOIN batch b ON b.id = p.batch", "p.picked_on", "<",
         "b.inoculated_on",
         N_ ("Batch {1} was picked from on {2}, before it was inoculated on {3}."),
         END (PICK, "p", "picked_on"), REF (BATCH, "b", "inoculated_on")),
  DATES_IF (ANY_TOTAL, E, "l.code", LOG_BATCH OF_LOG ("pick", "p"), "p.since", "<",
            "b.inoculated_on",
            N_ ("The total of log {1} begins on {2}, before the log was inoculated on {3}."),
            END (PICK, "p", "since"), REF (LOG, "l", "batch"), REF (BATCH, "b", "inoculated_on")),
  DATES_IF (ANY_TOTAL, E, "b.code", "pick p JOIN batch b ON b.id = p.batch", "p.since", "<",
            "b.inoculated_on",
            N_ ("The total of batch {1} begins on {2}, before the batch was inoculated on {3}."),
            END (PICK, "p", "since"), REF (BATCH, "b", "inoculated_on")),
  DATES_IF (ANY_TOTAL, E, "k.name", OF_STACK ("pick", "p"), "p.since", "<", "k.built_on",
            N_ ("The total of stack {1} begins on {2}, before the stack was built on {3}."),
            END (PICK, "p", "since"), REF (STACK, "k", "built_on")),
  IN_TOTAL ("l.code", "log l" OF_LOG ("pick", "p") OF_LOG ("pick", "q"), TWICE),
  IN_TOTAL ("k.name", OF_STACK ("pick", "p") " JOIN pick q ON q.stack = k.id",
            TWICE " AND p.log IS NULL AND q.log IS NULL"),
  IN_TOTAL ("b.code", "batch b JOIN pick p ON p.batch = b.id JOIN pick q ON q.batch = b.id",
            TWICE IS_OF_BATCH ("p") IS_OF_BATCH ("q")),
  IN_TOTAL ("b.code", LOG_BATCH " JOIN pick p ON p.batch = b.id" OF_LOG ("pick", "q"),
            TWICE IS_OF_BATCH ("p")),
  PAIR (E, "l.code", "log l" OF_LOG ("pick", "p"), "l.batch IS NULL",
        N_ ("Log {1} is picked from, but not inoculated yet."), END (PICK, "p", "log"),
        REF (LOG, "l", "batch")),
  DATES (E, "l.code", "log l" OF_LOG ("pick", "p"), "l.retired_on", "<", "p.picked_on",
         N_ ("Log {1} was retired on {2}; a pick on {3} cannot be from it."),
         END (PICK, "p", "picked_on"), REF (LOG, "l", "retired_on")),
  DATES (E, "k.name", OF_STACK ("pick", "p"), "p.picked_on", "<", "k.built_on",
         N_ ("Stack {1} was picked from on {2}, before it was built on {3}."),
         END (PICK, "p", "picked_on"), REF (STACK, "k", "built_on")),
  DATES (E, "k.name", OF_STACK ("pick", "p"), "p.picked_on", ">", "k.taken_down_on",
         N_ ("Stack {1} was picked from on {2}, after it was taken down on {3}."),
         END (PICK, "p", "picked_on"), REF (STACK, "k", "taken_down_on")),
  PAIR (E, "l.code, bed_mass (p.mass), bed_mass (cast (" WATER " AS INTEGER))",
        "log l" OF_LOG ("pick", "p"), "p.mass > " WATER,
        N_ ("{2} cannot be picked from log {1}: it weighs about {3} itself. Is the unit right?"),
        END (PICK, "p", "mass"), REF (LOG, "l", "length")),
  PAIR (W,
        "l.code, bed_mass ((SELECT sum (q.mass) FROM pick q WHERE q.log = l.id)),"
        " bed_mass (cast (" WATER " AS INTEGER))",
        "log l" OF_LOG ("pick", "p"),
        "(SELECT sum (q.mass) FROM pick q WHERE q.log = l.id) > 0.5 * " WATER,
        N_ ("Log {1} has given {2} in all, more than half of the {3} it weighs itself."),
        END (PICK, "p", "mass", .sum_of = "log"), REF (LOG, "l", "length")),

  /* Lots */
  DATES (W, "t.code", "pick p JOIN lot t ON t.id = p.lot", "t.picked_on", "<", "p.picked_on",
         N_ ("Lot {1} is of {2}, the pick of {3}."), END (PICK, "p", "lot"),
         REF (LOT, "t", "picked_on")),
  DATES (E, "t.code", "drying d JOIN lot t ON t.id = d.lot", "d.dried_on", "<", "t.picked_on",
         N_ ("Lot {1} was dried on {2}, but picked later, on {3}."), END (DRYING, "d", "dried_on"),
         REF (LOT, "t", "picked_on")),
  PAIR (E, "v.code, v.sold_on, t.code, t.picked_on",
        "line n JOIN sale v ON v.id = n.sale JOIN lot t ON t.id = n.lot", "v.sold_on < t.picked_on",
        N_ ("Sale {1} was on {2}, before lot {3} was picked on {4}."), END (LINE, "n", "lot"),
        REF (SALE, "v", "sold_on"), REF (LOT, "t", "picked_on")),
  PAIR_IF (ANY_TOO_MUCH, E, TOO_MUCH, "drying d JOIN lot_summary t ON t.id = d.lot", IS_TOO_MUCH,
           SAY_TOO_MUCH, END (DRYING, "d", "fresh_mass")),
  PAIR_IF (ANY_TOO_MUCH, E, TOO_MUCH, "line n JOIN lot_summary t ON t.id = n.lot",
           "n.form = 'fresh' AND " IS_TOO_MUCH, SAY_TOO_MUCH, END (LINE, "n", "mass")),
  PAIR (W, "t.code", "drying d JOIN lot_summary t ON t.id = d.lot", IS_UNPICKED, SAY_UNPICKED,
        END (DRYING, "d", "lot")),
  PAIR (W, "t.code", "line n JOIN lot_summary t ON t.id = n.lot",
        "n.form = 'fresh' AND " IS_UNPICKED, SAY_UNPICKED, END (LINE, "n", "lot")),
  /* The summary of a lot is dear, and most picks are of a lot not sold from yet. */
  PAIR_IF (ANY_TOO_MUCH, E, TOO_MUCH, "pick p JOIN lot_summary t ON t.id = p.lot",
           "(EXISTS (SELECT 1 FROM line n WHERE n.lot = p.lot)"
           " OR EXISTS (SELECT 1 FROM drying d WHERE d.lot = p.lot)) AND " IS_TOO_MUCH,
           SAY_TOO_MUCH, END (PICK, "p", "mass", .sum_of = "lot")),
  PAIR (E, "t.code", "line n JOIN lot t ON t.id = n.lot LEFT JOIN drying d ON d.lot = t.id",
        "n.form = 'dried' AND (SELECT sum (o.mass) FROM line o WHERE o.lot = t.id"
        " AND o.form = 'dried') > coalesce ((SELECT sum (c.dried_mass) FROM drying c"
        " WHERE c.lot = t.id), 0)",
        N_ ("Not so much of lot {1} was dried."), END (LINE, "n", "mass"),
        END (DRYING, "d", "dried_mass")),
};

#undef E
#undef W

typedef struct
{
  char *of_end[MOST_ENDS];
  char *of_all[MOST_ENDS];
} Questions;

/* Of each pair, made once. */
static gpointer
make_questions (gpointer none)
{
  Questions *questions = g_new0 (Questions, G_N_ELEMENTS (pairs));

  for (gsize i = 0; i < G_N_ELEMENTS (pairs); i++)
    for (guint e = 0; e < MOST_ENDS && pairs[i].ends[e].alias; e++)
      {
        const char *alias = pairs[i].ends[e].alias;
        questions[i].of_end[e]
            = g_strdup_printf ("SELECT %s FROM %s WHERE %s.id = ?1 AND (%s) LIMIT 1",
                               pairs[i].columns, pairs[i].from, alias, pairs[i].where);
        questions[i].of_all[e]
            = g_strdup_printf ("SELECT %s.id FROM %s WHERE %s.id BETWEEN ?1 AND ?2 AND (%s)", alias,
                               pairs[i].from, alias, pairs[i].where);
      }
  return questions;
}

static BedRuleQuestion
question_at (const Questions *questions, gsize pair, guint end)
{
  return (BedRuleQuestion){ .severity = pairs[pair].severity,
                            .field = pairs[pair].ends[end].field,
                            .sql = questions[pair].of_end[end],
                            .message = pairs[pair].message,
                            .between = TRUE,
                            .sum_of = pairs[pair].ends[end].sum_of,
                            .referred = pairs[pair].ends[end].referred,
                            .of_all = questions[pair].of_all[end],
                            .only_if = pairs[pair].only_if };
}

typedef void (*AtEnd) (const BedRuleQuestion *question, gpointer data);

static void
each_end (BedKind kind, AtEnd at_end, gpointer data)
{
  static GOnce once = G_ONCE_INIT;
  const Questions *questions = g_once (&once, make_questions, NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (pairs); i++)
    for (guint e = 0; e < MOST_ENDS && pairs[i].ends[e].alias; e++)
      if (pairs[i].ends[e].kind == kind)
        {
          BedRuleQuestion question = question_at (questions, i, e);
          at_end (&question, data);
        }
}

typedef struct
{
  BedFarm *farm;
  BedKind kind;
  BedRecord *record;
  BedRulesRound *round;
  GPtrArray *faults;
} Asking;

static void
ask_all_cb (const BedRuleQuestion *question, gpointer data)
{
  Asking *asking = data;

  if (!bed_rules_round_leaves_out (asking->round, question))
    bed_rules_round_ask (asking->round, asking->farm, asking->kind, question);
}

static void
ask_one_cb (const BedRuleQuestion *question, gpointer data)
{
  Asking *asking = data;

  if (!bed_rules_round_spares (asking->round, asking->record, question))
    bed_rules_ask (asking->farm, asking->record, question, asking->faults);
}

void
bed_rules_gather_pairs (BedFarm *farm, BedKind kind, BedRulesRound *round)
{
  Asking asking = { farm, kind, NULL, round, NULL };

  each_end (kind, ask_all_cb, &asking);
}

void
bed_rules_check_pairs (BedFarm *farm, BedRecord *record, BedRulesRound *round, GPtrArray *faults)
{
  Asking asking = { farm, bed_record_get_kind (record), record, round, faults };

  each_end (asking.kind, ask_one_cb, &asking);
}

/* A lot sold from rests on what was picked into it and dried of it. */
static const struct
{
  BedKind kind;
  const char *field;
  const char *leaning; /* the lines that are asked again; ?1 is what @field named */
} sums[] = {
  { BED_KIND_PICK, "lot", "SELECT id FROM line WHERE lot = ?1" },
  { BED_KIND_DRYING, "lot", "SELECT id FROM line WHERE lot = ?1" },
};

static gboolean
has_left (BedRecord *before, BedRecord *after, const char *field)
{
  return bed_record_has (before, field)
         && !(after && bed_record_has (after, field)
              && bed_record_get_int (after, field) == bed_record_get_int (before, field));
}

void
bed_rules_check_left (BedFarm *farm, BedRecord *before, BedRecord *after, GPtrArray *faults)
{
  for (gsize i = 0; i < G_N_ELEMENTS (sums); i++)
    {
      if (sums[i].kind != bed_record_get_kind (before) || !has_left (before, after, sums[i].field))
        continue;
      g_autoptr (BedQuery) q = bed_query_new (farm, sums[i].leaning);
      bed_query_bind_int (q, 1, bed_record_get_int (before, sums[i].field));
      while (bed_query_next (q))
        {
          g_autoptr (BedRecord) line
              = bed_farm_load (farm, BED_KIND_LINE, bed_query_int (q, 0), NULL);
          if (line)
            bed_rules_check_pairs (farm, line, NULL, faults);
        }
      if (!bed_query_finish (q, NULL))
        return; /* and the writing round this fails */
    }
}
