/* bench-lists LARGE SMALL: a row of each list, asked for as the window asks: on a farm ten times as
 * large it may take a little longer, for the trees in the file are deeper and a felling has more
 * logs, but not ten times. */
#include "bench.h"
#include "model/farm/query.h"

#define ROWS 100
#define RUNS 7

static const char *const lists[]
    = { "log_today",    "batch_summary", "felling_summary", "spawn_left",   "stack_today",
        "soak_summary", "pick_named",    "lot_left",        "sale_summary", NULL };

static GArray *
read_ids (BedFarm *farm, const char *list)
{
  g_autofree char *sql = g_strdup_printf ("SELECT id FROM %s LIMIT %d", list, ROWS);
  g_autoptr (BedQuery) q = bed_query_new (farm, sql);
  GArray *ids = g_array_new (FALSE, FALSE, sizeof (gint64));

  while (bed_query_next (q))
    {
      gint64 id = bed_query_int (q, 0);

      g_array_append_val (ids, id);
    }
  return ids;
}

/* Seconds a row, the least of several runs. */
static double
time_rows (BedFarm *farm, const char *list)
{
  g_autofree char *sql = g_strdup_printf ("SELECT * FROM %s WHERE id = ?1", list);
  g_autoptr (GArray) ids = read_ids (farm, list);
  double best = G_MAXDOUBLE;

  for (int run = 0; run < RUNS; run++)
    {
      double start = bench_now ();

      for (guint i = 0; i < ids->len; i++)
        {
          g_autoptr (BedQuery) q = bed_query_new (farm, sql);

          bed_query_bind_int (q, 1, g_array_index (ids, gint64, i));
          g_assert_true (bed_query_next (q));
        }
      best = MIN (best, (bench_now () - start) / MAX (ids->len, 1));
    }
  return best;
}

static BedFarm *
open_farm (const char *path)
{
  g_autoptr (GError) error = NULL;
  BedFarm *farm = bed_farm_open (path, &error);

  g_assert_no_error (error);
  bed_farm_fix_clock (farm, "2026-11-20T12:00", 1);
  return farm;
}

int
main (int argc, char **argv)
{
  if (argc != 3)
    return 2;
  g_autoptr (BedFarm) large = open_farm (argv[1]);
  g_autoptr (BedFarm) small = open_farm (argv[2]);

  for (const char *const *list = lists; *list; list++)
    {
      g_autofree char *what = g_strdup_printf ("a row of %s, beside a tenth of the logs", *list);
      BenchRow row
          = { "list", what, time_rows (large, *list) * 1e3, time_rows (small, *list) * 1e3, "ms" };

      bench_row (&row);
    }
  return 0;
}
