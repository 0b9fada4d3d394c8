/* bench-farm PATH LOGS YEARS PICKS: a demo farm for the benches, its history with it. The demo's
 * grower picks by the stack; as many picks of single logs as are missing to PICKS, of logs that
 * lay in those stacks on those days, go straight into the file: it is a bench. */
#include <glib/gstdio.h>
#include <sqlite3.h>
#include <stdlib.h>

#include "bench.h"
#include "model/demo/demo.h"

#define TODAY "2026-11-20"

static void
add_picks (const char *path, int picks)
{
  sqlite3 *db;
  char *message = NULL;
  g_autofree char *sql = g_strdup_printf (
      "INSERT INTO pick (picked_on, log, grade, mass, lot)"
      " SELECT p.picked_on, x.log, p.grade, p.mass / 20 + 1000, p.lot FROM pick p"
      " JOIN place x ON x.stack = p.stack AND x.since <= p.picked_on"
      "  AND (x.until IS NULL OR x.until > p.picked_on)"
      /* Any of them, but the same each time. */
      " ORDER BY (p.id %% 1000003 * 7919 + x.id %% 1000003 * 104729) %% 1000003, x.id, p.id"
      " LIMIT max (0, %d - (SELECT count (*) FROM pick))",
      picks);

  g_assert_cmpint (sqlite3_open (path, &db), ==, SQLITE_OK);
  if (sqlite3_exec (db, sql, NULL, NULL, &message) != SQLITE_OK)
    g_error ("%s", message);
  sqlite3_close (db);
}

int
main (int argc, char **argv)
{
  if (argc != 5)
    return 2;
  const BedDemoPlan plan
      = { .logs = atoi (argv[2]), .years = atoi (argv[3]), .seed = 1, .today = TODAY };
  g_autofree char *part = g_strconcat (argv[1], ".part", NULL);
  g_autoptr (GError) error = NULL;

  g_unlink (part);
  BedFarm *farm = bed_demo_new (part, &plan, &error);
  g_assert_no_error (error);
  g_object_unref (farm);
  add_picks (part, atoi (argv[4]));
  return g_rename (part, argv[1]) == 0 ? 0 : 1;
}
