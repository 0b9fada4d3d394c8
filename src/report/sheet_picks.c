#include "report/book_sheet.h"

#include <glib/gi18n-lib.h>

static const BedBookColumn columns[] = {
  BED_COLUMN_OF ("pick.picked_on", 12),
  BED_COLUMN (N_ ("Week"), TEXT, 10, .name = "week"),
  BED_COLUMN_OF ("batch.code", 10, .name = "batch"),
  BED_COLUMN_OF ("log.code", 13, .name = "log"),
  BED_COLUMN_OF ("stack.name", 14),
  BED_COLUMN_OF ("pick.grade", 7),
  BED_COLUMN_OF ("pick.mass", 11, .name = "mass", BED_SUMMED),
  BED_COLUMN_OF ("lot.code", 14, .name = "lot"),
  BED_COLUMN_OF ("pick.picker", 14),
  BED_COLUMN_OF ("pick.notes", 28),
  BED_COLUMN_OF ("pick.since", 11),
};

/* One row a pick or a total, which has no week when it is longer than one, or a row a batch where a
 * pick came from a stack that held logs of several: in parts by their number. A pick from a stack
 * with no logs on record that day keeps a row of its own, so that nothing is lost. */
static const char question[]
    = "SELECT p.picked_on, bed_pick_week (p.since, p.picked_on), b.code, l.code, k.name,"
      "  p.grade, p.mass * coalesce (y.part, 1), t.code, p.picker, p.notes, p.since"
      "  FROM pick p LEFT JOIN log l ON l.id = p.log"
      "  LEFT JOIN crop_part y ON p.log IS NULL AND y.stack = p.stack AND y.picked_on = p.picked_on"
      "  LEFT JOIN batch b ON b.id = coalesce (l.batch, y.batch, p.batch)"
      "  LEFT JOIN stack k ON k.id = p.stack LEFT JOIN lot t ON t.id = p.lot"
      " WHERE p.picked_on >= ?1 AND p.picked_on < ?2 ORDER BY p.picked_on, p.id, y.batch";

const BedBookSheet bed_sheet_picks = {
  .name = N_ ("Picks"),
  .question = N_ ("Every pick of the season. The other sheets add up these rows."),
  .list = TRUE,
  BED_ONE_TABLE ("Picks", columns, question),
};
