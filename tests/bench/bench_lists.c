/* A row of each list, asked for as the window asks: on a farm eight times as large it may take a
 * little longer, for the trees in the file are deeper and a felling has more logs, but not eight
 * times. */
#include <glib/gstdio.h>

#include "model/demo.h"
#include "model/query.h"

#define ROWS 100
#define RUNS 3
#define TARGET 5.0

static const char *const lists[] = {
  "log_today", "batch_summary", "felling_summary", "spawn_left", "stack_today",
  "soak_summary", "pick_named", "lot_left", "sale_summary", NULL
};

typedef struct
{
  char *path;
  BedFarm *farm;
} Scene;

static Scene
make_scene (const char *folder, int logs)
{
  const BedDemoPlan plan = { .logs = logs, .years = 5, .seed = 1, .today = "2026-11-20" };
  g_autofree char *name = g_strdup_printf ("%d.bedlog", logs);
  g_autoptr (GError) error = NULL;
  Scene scene = { .path = g_build_filename (folder, name, NULL) };

  scene.farm = bed_demo_new (scene.path, &plan, &error);
  g_assert_no_error (error);
  return scene;
}

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
      gint64 start = g_get_monotonic_time ();

      for (guint i = 0; i < ids->len; i++)
        {
          g_autoptr (BedQuery) q = bed_query_new (farm, sql);

          bed_query_bind_int (q, 1, g_array_index (ids, gint64, i));
          g_assert_true (bed_query_next (q));
        }
      best = MIN (best, (g_get_monotonic_time () - start) / 1e6 / MAX (ids->len, 1));
    }
  return best;
}

int
main (void)
{
  g_autofree char *folder = g_dir_make_tmp ("bench-XXXXXX", NULL);
  Scene small = make_scene (folder, 1000), large = make_scene (folder, 8000);
  gboolean well = TRUE;

  for (const char *const *list = lists; *list; list++)
    {
      double one = time_rows (small.farm, *list), other = time_rows (large.farm, *list);

      g_print ("%-16s %.2f ms a row of 1,000 logs, %.2f ms of 8,000: ratio %.2f (target %.1f)\n",
               *list, one * 1e3, other * 1e3, other / one, TARGET);
      well = well && other / one <= TARGET;
    }
  for (Scene *scene = (Scene[]){ small, large, { NULL, NULL } }; scene->path; scene++)
    {
      g_object_unref (scene->farm);
      g_unlink (scene->path);
      g_free (scene->path);
    }
  g_rmdir (folder);
  return well ? 0 : 1;
}
