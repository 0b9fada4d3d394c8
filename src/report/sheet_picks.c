#include "report/sheet.h"

#include <glib/gi18n-lib.h>

static const BedColumn columns[] = {
  BED_COLUMN (N_ ("Picked on"), DATE, 11),
  BED_COLUMN (N_ ("Week"), TEXT, 10, .name = "week"),
  BED_COLUMN (N_ ("Batch"), TEXT, 10, .name = "batch"),
  BED_COLUMN (N_ ("Log"), TEXT, 13, .name = "log"),
  BED_COLUMN (N_ ("Stack"), TEXT, 14),
  BED_COLUMN (N_ ("Grade"), TEXT, 7, .choice = "pick.grade"),
  BED_COLUMN (N_ ("Fresh mass"), MASS, 11, .name = "mass", BED_SUMMED),
  BED_COLUMN (N_ ("Lot"), TEXT, 14, .name = "lot"),
  BED_COLUMN (N_ ("Picker"), TEXT, 14),
  BED_COLUMN (N_ ("Notes"), TEXT, 28),
};

/* One row a pick, or a row a batch where a pick came from a stack that held
 * logs of several: in parts by their number. A pick from a stack with
 * no logs on record that day keeps a row of its own, so that nothing is lost. */
static const char question[] =
  "WITH lying AS MATERIALIZED (SELECT s.stack, s.picked_on, g.batch, sum (s.part * g.logs) AS part"
  "  FROM stack_share s JOIN place_group g ON g.stack = s.stack AND g.since = s.since"
  "   AND g.until = s.until WHERE s.picked_on >= ?1 AND s.picked_on < ?2 GROUP BY 1, 2, 3),"
  " entry (id, picked_on, batch, mass) AS ("
  " SELECT p.id, p.picked_on, l.batch, p.mass FROM pick p JOIN log l ON l.id = p.log"
  "  WHERE p.picked_on >= ?1 AND p.picked_on < ?2"
  " UNION ALL"
  " SELECT p.id, p.picked_on, y.batch, p.mass * y.part FROM pick p"
  "  JOIN lying y ON y.stack = p.stack AND y.picked_on = p.picked_on"
  "  WHERE p.log IS NULL AND p.picked_on >= ?1 AND p.picked_on < ?2"
  " UNION ALL"
  " SELECT p.id, p.picked_on, p.batch, p.mass FROM pick p"
  "  WHERE p.log IS NULL AND p.picked_on >= ?1 AND p.picked_on < ?2"
  "   AND NOT EXISTS (SELECT 1 FROM place x WHERE x.stack = p.stack AND x.since <= p.picked_on"
  "    AND (x.until IS NULL OR x.until > p.picked_on)))"
  " SELECT e.picked_on, bed_week (e.picked_on), b.code, l.code, k.name, p.grade, e.mass, t.code,"
  "        p.picker, p.notes"
  "  FROM entry e JOIN pick p ON p.id = e.id"
  "  LEFT JOIN batch b ON b.id = e.batch LEFT JOIN log l ON l.id = p.log"
  "  LEFT JOIN stack k ON k.id = p.stack LEFT JOIN lot t ON t.id = p.lot"
  "  ORDER BY e.picked_on, e.id, b.code";

static const BedBlock blocks[] = { { BED_BLOCK_TABLE ("Picks", columns, question) } };

const BedSheet bed_sheet_picks = {
  .name = N_ ("Picks"),
  .question = N_ ("Every pick of the season. The other sheets add up these rows."),
  .blocks = blocks,
  .n_blocks = G_N_ELEMENTS (blocks),
};
