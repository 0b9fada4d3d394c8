/* The rules of what is due, each a question to the farm with its source. A number in a
 * question is the rule's; the sentence beside it says the same. */
#include "model/work/due_private.h"

#include <glib/gi18n-lib.h>

#define COMMON N_ ("Common practice, no source.")

/* Where soaks go on in the month in which they may. */
#define IN_SEASON                                                                                  \
  "CAST (strftime ('%m', max (max (ready_on), bed_today ())) AS INTEGER)"                          \
  " IN (SELECT month FROM soak_month)"

/* The dry spell today: model/weather.h. NULL where rain is not written down. */
#define DRY                                                                                        \
  "WITH dry AS MATERIALIZED (SELECT bed_dry_days () AS days, bed_dry_advice () AS advice,"         \
  " bed_dry_words () AS words)"

/* Whether anything of @picks was picked from the logs of soak s on a day that @when says: from a
 * log, from a stack where one of them has lain since the soak, from their batch. */
#define PICKED(picks, when)                                                                        \
  "(EXISTS (SELECT 1 FROM soaked d JOIN " picks                                                    \
  " p ON p.log = d.log WHERE d.soak = s.id AND " when ")"                                          \
  " OR EXISTS (SELECT 1 FROM (SELECT DISTINCT x.stack FROM soaked d JOIN place x ON x.log = d.log" \
  " AND coalesce (x.until, '9999') > date (s.put_in) WHERE d.soak = s.id) k"                       \
  " JOIN " picks " p ON p.stack = k.stack WHERE " when ")"                                         \
  " OR EXISTS (SELECT 1 FROM (SELECT DISTINCT l.batch FROM soaked d JOIN log l ON l.id = d.log"    \
  " WHERE d.soak = s.id) b JOIN " picks " p ON p.batch = b.batch WHERE " when "))"

const BedDueQuestion bed_due_questions[BED_DUE_N_RULES] = {
  [BED_DUE_LIFT]
  = { .rule
      = { BED_DUE_LIFT, "lift", N_ ("Lift from tank"),
          N_ ("24 h in the water is usual; 12 h did as well in a trial of one wood, and spring "
              "and autumn may want two or three days."),
          "Cornell, Forcing Bolts, in: Mudge and others, Best Management Practices for "
          "Log-Based Shiitake Cultivation, 2013; Ohio State F-0042, 2022." },
      .sql = "SELECT 'soak', s.id, s.code || ' · ' || s.tank, date (s.put_in, '+24 hours'),"
             " strftime ('%s', bed_now ()) - strftime ('%s', s.put_in) > 86400, s.logs,"
             " s.hours_since, 24"
             " FROM soak_summary s WHERE s.taken_out IS NULL AND s.put_in <= bed_now ()",
      .detail = N_ ("in for {1} h, plan {2} h") },

  /* From day 5: pins after 3 days at the earliest and 2 more to the harvest. To day 14: the
   * end of a flush. */
  [BED_DUE_PICK]
  = { .rule
      = { BED_DUE_PICK, "pick", N_ ("Pick"),
          N_ ("Pins show 3 to 5 days after the soak, mushrooms are ready 2 to 7 days later, "
              "and a flush lasts one to two weeks: look every day and pick before the caps "
              "are flat. Pick only what you know to be the mushroom you inoculated; local food "
              "rules come first."),
          "G. F. Leatham, Forest Products Journal, 1982 (pin to harvest); a Japanese "
          "fresh-shiitake page (soak to pins); Ohio State F-0042, 2022 (flush)." },
      .sql
      = "SELECT 'soak', s.id, coalesce ((SELECT group_concat (name, ', ') FROM (SELECT DISTINCT"
        " k.name FROM soaked d JOIN place x ON x.log = d.log AND x.until IS NULL"
        " JOIN stack k ON k.id = x.stack WHERE d.soak = s.id ORDER BY 1)) || ' · ', '')"
        " || s.code, date (s.taken_out, '+5 days'), 0, s.logs, date (s.taken_out)"
        " FROM soak_summary s"
        " WHERE bed_today () <= bed_flush_over (s.taken_out) AND s.logs > 0"
        " AND NOT " PICKED ("pick_dated", "p.picked_on = bed_today ()"),
      .detail = N_ ("soaked {1}") },

  [BED_DUE_SOAK]
  = { .rule
      = { BED_DUE_SOAK, "soak", N_ ("Soak logs"),
          N_ ("A log rests 7 to 9 weeks from one soak to the next (the farm's setting, or the "
              "strain's); it is not forced before its first spawn run is over. Soaks go on from "
              "May to October, in the south from November to April, and where a farm has soaked "
              "at other times. Wet logs are heavy: lift with two people, and never leave an open "
              "tank to children; local rules come first."),
          "Cornell, Forcing Bolts (7-8 weeks); D. B. Hill, University of Kentucky FOR-85 "
          "(nine weeks; a full year before the first); Cornell, Four Methods (season)." },
      .sql = "SELECT CASE WHEN m.stack IS NULL THEN 'batch' ELSE 'stack' END,"
             " coalesce (m.stack, m.batch),"
             " coalesce (k.name || ' · ', '') || m.batch_code, max (m.ready_on), 0, count (*),"
             " max (m.ready_on),"
             " CASE WHEN max (m.put_in) IS NULL THEN 'first' ELSE 'rest' END"
             /* Those that may be soaked do not wait for the rest of their stack. */
             " FROM (SELECT *, ready_on <= bed_today () AS ready, max (ready_on <= bed_today ())"
             "        OVER (PARTITION BY stack, batch, put_in IS NULL) AS some FROM log_forced"
             "        WHERE inside = 0) m LEFT JOIN stack k ON k.id = m.stack"
             " WHERE m.ready = m.some GROUP BY m.stack, m.batch, m.put_in IS NULL"
             " HAVING " IN_SEASON,
      .detail = N_ ("may be soaked since {1}") },

  [BED_DUE_WATER]
  = { .rule
      = { BED_DUE_WATER, "water", N_ ("Water the yard"),
          N_ ("After more than 7 days without rain, above all when it is warmer than 24 C (75 "
              "F), water the logs overnight, then let the bark dry. When it is cooler, 14 days; "
              "2 mm of rain counts. Where the farm's latitude and temperatures are known, "
              "evaporation is added up instead: past 35 mm, which is 7 days of 5 mm. The 14 "
              "days, the 2 mm and the 35 mm are common practice, no source."),
          "D. B. Hill, Shiitake Production on Logs: Harvesting, University of Kentucky "
          "FOR-85; R. G. Allen and others, FAO Irrigation and Drainage Paper 56, 1998, "
          "equation 52." },
      .sql = DRY
      "SELECT 'area', a.id, a.name, date (bed_today (), '-' || max (dry.days - 8, 0) ||"
      " ' days'), 0, count (x.id), dry.words FROM dry, area a JOIN stack k ON k.area = a.id"
      " JOIN place x ON x.stack = k.id AND x.until IS NULL WHERE dry.advice = 2"
      " AND NOT EXISTS (SELECT 1 FROM watering w LEFT JOIN stack o ON o.id = w.stack"
      " WHERE coalesce (w.area, o.area) = a.id AND w.watered_on > date (bed_today (), '-7 days'))"
      " GROUP BY a.id",
      .detail = N_ ("{1}") },

  [BED_DUE_WEIGH]
  = { .rule
      = { BED_DUE_WEIGH, "weigh", N_ ("Weigh sample logs"),
          N_ ("The same few logs of a batch, weighed every week in hot dry weather, show when "
              "the yard needs water: when they have lost more than a tenth."),
          "D. B. Hill, University of Kentucky FOR-82, Monitoring Moisture, and FOR-83, "
          "Incubation and Stacking." },
      .sql = DRY
      "SELECT 'batch', b.id, b.code, date (max (w.weighed_on), '+7 days'), 0,"
      " count (DISTINCT l.id), dry.days, max (w.weighed_on)"
      " FROM dry, weighing w JOIN log l ON l.id = w.log AND bed_alive (l.retired_on, bed_today ())"
      " JOIN batch b ON b.id = l.batch WHERE dry.days >= 7 AND w.weighed_on <= bed_today ()"
      " GROUP BY b.id HAVING max (w.weighed_on) <= date (bed_today (), '-7 days')"
      " AND max (w.weighed_on) > date (bed_today (), '-1 year')",
      .detail = N_ ("{1} dry days, last weighed {2}") },

  /* Every 90 days: the middle of the 2-4 months after which logs are turned. */
  [BED_DUE_LOOK]
  = { .rule = { BED_DUE_LOOK, "look", N_ ("Check log ends"),
                N_ ("White spots or a white ring at the ends tell how far the spawn has run; check "
                    "them when the logs are turned end for end, every 2 to 4 months."),
                "G. F. Leatham, Cultivation of shiitake on logs, Forest Products Journal, 1982 "
                "(turning); D. B. Hill, University of Kentucky FOR-85 (signs)." },
      .sql = "SELECT 'batch', b.id, b.code, date (max (b.inoculated_on, coalesce (c.on_, '')),"
             " '+90 days'), 0, b.logs_alive, coalesce (c.on_, b.inoculated_on),"
             " b.age_days FROM batch_summary b"
             " LEFT JOIN (SELECT coalesce (c.batch, l.batch) AS batch,"
             " max (c.checked_on) AS on_ FROM \"check\" c LEFT JOIN log l ON l.id = c.log"
             " GROUP BY 1) c ON c.batch = b.id"
             /* Few have a log that was neither soaked nor bore; the stage of all takes long. */
             " WHERE CASE WHEN b.id IN (SELECT l.batch FROM log l"
             "  WHERE bed_alive (l.retired_on, bed_today ())"
             "  AND NOT EXISTS (SELECT 1 FROM soaked d WHERE d.log = l.id)"
             "  AND NOT EXISTS (SELECT 1 FROM pick p WHERE p.log = l.id))"
             " THEN b.stage = 'spawn run' END",
      .detail = N_ ("spawn run, day {2}, not checked since {1}") },

  [BED_DUE_INOCULATE]
  = { .rule
      = { BED_DUE_INOCULATE, "inoculate", N_ ("Inoculate"),
          N_ ("Bolts dry out and other fungi move in. The sources differ on how long they may "
              "wait (one day to three weeks, two weeks, never over two months), so the limits "
              "are the farm's settings. Grinder, hot wax and saw: as their makers and local "
              "rules say, with eyes and ears covered."),
          "Cornell, Inoculating Logs, 2013; D. B. Hill, University of Kentucky FOR-77, "
          "1999; G. F. Leatham, 1982; a New Hampshire farm guide." },
      .sql = "SELECT 'felling', f.id, f.code || ' · ' || f.wood_name,"
             " date (f.felled_on, '+' || coalesce (s.wait_most, 56) || ' days'),"
             " f.age_days > coalesce (s.wait_most, 56), f.waiting,"
             " f.age_days, coalesce (s.wait_most, 56) FROM felling_summary f, farm s"
             " WHERE f.waiting > 0",
      .detail = N_ ("felled {1} days ago, limit {2}") },

  [BED_DUE_TASK]
  = { .rule = { BED_DUE_TASK, "task", N_ ("Task"), N_ ("You set this yourself."),
                N_ ("The farm's own.") },
      .sql = "SELECT 'due', d.id, d.what || coalesce (' · ' || d.subject, ''),"
             " coalesce (d.put_off_until, d.due_on),"
             " coalesce (d.put_off_until, d.due_on) < bed_today (), 0, coalesce (d.why, '')"
             /* A mark of what is put off is no task; a task may be called like one. */
             " FROM due d WHERE d.done_on IS NULL"
             " AND (d.what NOT GLOB 'rule:*' OR d.put_off_until IS NULL)",
      .detail = N_ ("{1}") },

  /* Against the first time the log was weighed: 35 lb down to 31.5 is a tenth and not yet
   * more, 29 is (the leaflet's own example). */
  [BED_DUE_DRYING]
  = { .rule
      = { BED_DUE_DRYING, "drying", N_ ("Drying out"),
          N_ ("A log that has lost more than a tenth of its weight at inoculation needs water, "
              "in the tank or under a sprinkler overnight. One that has dried right through "
              "takes no more up."),
          "D. B. Hill, University of Kentucky FOR-83, Incubation and Stacking (35 lb to 29 "
          "lb), and FOR-82, Monitoring Moisture.",
          TRUE },
      .sql = "WITH weighed AS (SELECT w.log, w.weighed_on, w.mass, row_number () OVER (PARTITION BY"
             " w.log ORDER BY w.weighed_on DESC, w.id DESC) AS back, coalesce (l.green_mass,"
             " first_value (w.mass) OVER (PARTITION BY w.log ORDER BY w.weighed_on, w.id)) AS full"
             " FROM weighing w JOIN log l ON l.id = w.log"
             " WHERE bed_alive (l.retired_on, bed_today ()) AND w.weighed_on <= bed_today ())"
             " SELECT 'log', l.id, l.code, w.weighed_on, 0, 1, (w.full - w.mass) * 100 / w.full,"
             " w.weighed_on FROM weighed w JOIN log l ON l.id = w.log WHERE w.back = 1"
             " AND (w.full - w.mass) * 10 > w.full"
             " AND w.weighed_on > date (bed_today (), '-28 days')"
             " AND NOT EXISTS (SELECT 1 FROM soaked d JOIN soak s ON s.id = d.soak"
             " WHERE d.log = l.id AND date (s.put_in) >= w.weighed_on)",
      /* xgettext:no-c-format */
      .detail = N_ ("lost {1} % of its weight, weighed {2}") },

  [BED_DUE_SPAWN_DATE]
  = { .rule
      = { BED_DUE_SPAWN_DATE, "spawn-date", N_ ("Spawn date"),
          N_ ("Spawn weakens in store. Bedlog warns three weeks before the maker's use-by date."),
          COMMON, TRUE },
      .sql = "SELECT 'spawn', s.id, s.code || ' · ' || s.strain_name, s.use_by,"
             " s.use_by < bed_today (), 0, s.use_by FROM spawn_left s"
             " WHERE s.use_by <= date (bed_today (), '+21 days')"
             " AND s.use_by > date (bed_today (), '-1 year')"
             " AND (coalesce (s.mass_left, 0) > 0 OR coalesce (s.pieces_left, 0) > 0)",
      .detail = N_ ("use by {1}") },

  [BED_DUE_NOTHING_BORN]
  = { .rule
      = { BED_DUE_NOTHING_BORN, "nothing-born", N_ ("Nothing picked"),
          N_ ("A flush lasts one to two weeks after a soak, and no pick is recorded. Either "
              "picks are missing, or the logs did not fruit: not fully colonised, too dry, or "
              "the water as warm as the air."),
          "Ohio State F-0042, Fruiting, Harvesting, Storage, 2022.", TRUE },
      .sql = "SELECT 'soak', s.id, s.code || ' · ' || s.tank, bed_flush_over (s.taken_out), 0,"
             " s.logs, date (s.taken_out) FROM soak_summary s"
             " WHERE bed_today () > bed_flush_over (s.taken_out)"
             " AND bed_today () <= date (s.taken_out, '+28 days') AND s.logs > 0"
             /* A total up to then or later says that something was. */
             " AND NOT " PICKED ("pick", "p.picked_on >= date (s.put_in)"),
      .detail = N_ ("soaked {1}, no pick since") },
};
