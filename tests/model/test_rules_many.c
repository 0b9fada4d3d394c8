/* Many records are asked about all at once, and the answer is that of one by one. */
#include "../ask.h"

#include "model_test.h"

#include <string.h>

#define LOGS 60
#define SOAKS 30
#define IN_EACH 2
#define HOURS 200
#define HOLDS 9

static GPtrArray *
list_logs (BedFarm *farm)
{
  GPtrArray *codes = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (BedQuery) q = bed_query_new (farm, "SELECT code FROM log ORDER BY id");

  while (bed_query_next (q))
    g_ptr_array_add (codes, g_strdup (bed_query_text (q, 0)));
  g_assert_true (bed_query_finish (q, NULL));
  return codes;
}

/* Of the logs, the fifth is weighed before its tree was felled, the seventh before it was
 * inoculated; the ninth weighs a ton. */
static BedRecord *
weigh (BedFarm *farm, GPtrArray *logs, guint i)
{
  const char *day = i % 5 == 4 ? "2025-01-01" : "2026-05-01";

  return scene_record (farm, BED_KIND_WEIGHING, "weighed_on", day, "log", logs->pdata[i % LOGS],
                       "mass", i % 9 == 8 ? "1000 kg" : "10 kg", NULL);
}

static int
by_text (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char **) a, *(const char **) b);
}

/* What is said of each of the first @n weighings, @at_once in an edit; sorted lines. */
static char *
dup_said (BedFarm *farm, GPtrArray *logs, guint n, guint at_once)
{
  g_autoptr (GPtrArray) lines = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < n; i += at_once)
    {
      g_autoptr (BedEdit) edit = bed_edit_new (farm);
      for (guint k = i; k < MIN (n, i + at_once); k++)
        {
          g_autoptr (BedRecord) record = weigh (farm, logs, k);
          bed_edit_put (edit, record);
        }
      GPtrArray *faults = bed_edit_check (edit);
      for (guint k = 0; k < faults->len; k++)
        {
          const BedFault *fault = faults->pdata[k];
          g_ptr_array_add (
              lines, g_strdup_printf ("%d %s %s", fault->severity, fault->field, fault->message));
        }
    }
  g_ptr_array_sort (lines, by_text);
  g_ptr_array_add (lines, NULL);
  return g_strjoinv ("\n", (char **) lines->pdata);
}

static void
test_alike (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, LOGS);
  g_autoptr (GPtrArray) logs = list_logs (scene->farm);
  g_autofree char *each = dup_said (scene->farm, logs, LOGS, 1);
  g_autofree char *all = dup_said (scene->farm, logs, LOGS, LOGS);

  g_assert_nonnull (strstr (each, "before its tree was felled"));
  g_assert_nonnull (strstr (each, "is too much for log"));
  g_assert_cmpstr (all, ==, each);
}

/* A record whose reference leads nowhere, among many. */
static void
test_lost (Scene *scene, gconstpointer units)
{
  g_autoptr (BedEdit) edit = bed_edit_new (scene->farm);

  scene_batch (scene->farm, LOGS);
  g_autoptr (GPtrArray) logs = list_logs (scene->farm);
  for (guint i = 0; i < LOGS; i++)
    {
      g_autoptr (BedRecord) record = scene_record (scene->farm, BED_KIND_WEIGHING, "weighed_on",
                                                   "2026-05-01", "log", logs->pdata[i], "mass",
                                                   "10 kg", NULL);
      if (i == 40)
        bed_record_set_int (record, "log", 77);
      bed_edit_put (edit, record);
    }
  GPtrArray *faults = bed_edit_check (edit);
  g_assert_cmpuint (faults->len, ==, 1);
  g_assert_cmpstr (((BedFault *) faults->pdata[0])->field, ==, "log");
}

typedef struct
{
  int from, to; /* hours */
  int tank;
} Bath;

static char *
dup_moment (int hours)
{
  return g_strdup_printf ("2026-05-%02d %02d:00", 1 + hours / 24, hours % 24);
}

/* The most logs in one tank at any hour. */
static int
find_fullest (const Bath *baths)
{
  int most = 0;

  for (int tank = 0; tank < 2; tank++)
    for (int hour = 0; hour < HOURS + 48; hour++)
      {
        int held = 0;
        for (guint i = 0; i < SOAKS; i++)
          held += baths[i].tank == tank && baths[i].from <= hour && hour < baths[i].to ? IN_EACH
                                                                                       : 0;
        most = MAX (most, held);
      }
  return most;
}

static void
put_bath (BedEdit *edit, BedFarm *farm, const Bath *bath, char *const *logs)
{
  g_autofree char *from = dup_moment (bath->from), *to = dup_moment (bath->to);
  g_autoptr (BedRecord) soak = scene_record (farm, BED_KIND_SOAK, "tank",
                                             bath->tank ? "Trough" : "pond", "put_in", from,
                                             "taken_out", to, NULL);

  bed_edit_put (edit, soak);
  for (guint i = 0; i < IN_EACH; i++)
    {
      g_autoptr (BedRecord) soaked = scene_record (farm, BED_KIND_SOAKED, "log", logs[i], NULL);
      bed_record_set_int (soaked, "soak", bed_record_get_id (soak));
      bed_edit_put (edit, soaked);
    }
}

static gboolean
says (GPtrArray *faults, const char *words)
{
  for (guint i = 0; i < faults->len; i++)
    if (strstr (((BedFault *) faults->pdata[i])->message, words))
      return TRUE;
  return FALSE;
}

/* A tank that is asked for its fullest hour, against all hours counted. */
static void
test_tanks (Scene *scene, gconstpointer units)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (4712);
  g_autoptr (BedRecord) settings = bed_record_copy (bed_farm_get_settings (scene->farm));
  guint over = 0;

  bed_record_set_int (settings, "tank_capacity", HOLDS);
  g_assert_true (bed_edit_put_one (scene->farm, settings, "Smaller tank", NULL));
  scene_batch (scene->farm, SOAKS * IN_EACH);
  g_autoptr (GPtrArray) logs = list_logs (scene->farm);
  for (guint round = 0; round < 20; round++)
    {
      g_autoptr (BedEdit) edit = bed_edit_new (scene->farm);
      Bath baths[SOAKS];
      for (guint i = 0; i < SOAKS; i++)
        {
          baths[i].from = g_rand_int_range (rand, 0, HOURS);
          baths[i].to = baths[i].from + g_rand_int_range (rand, 0, 49);
          baths[i].tank = g_rand_boolean (rand);
          put_bath (edit, scene->farm, &baths[i], (char **) logs->pdata + i * IN_EACH);
        }
      gboolean full = find_fullest (baths) > HOLDS;
      g_assert_cmpint (says (bed_edit_check (edit), "logs at one time"), ==, full);
      over += full;
    }
  g_assert_cmpuint (over, >, 3);
  g_assert_cmpuint (over, <, 17);
}

/* Two soaks of a log lie together, or follow sooner than @rest hours. */
static gboolean
find_two (const Bath *baths, const guint *of, int rest)
{
  for (guint a = 0; a < SOAKS; a++)
    for (guint b = 0; b < SOAKS; b++)
      {
        int hours = baths[b].from - baths[a].from;
        if (a == b || of[a] != of[b] || hours < 0)
          continue;
        if (rest ? hours < rest : baths[b].from < baths[a].to)
          return TRUE;
      }
  return FALSE;
}

/* Soaks of the same logs, half an hour to months apart, against each two looked at. */
static void
test_soaks (Scene *scene, gconstpointer units)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (4713);
  guint together = 0, restless = 0;

  scene_batch (scene->farm, SOAKS * IN_EACH);
  int rest = (int) ask_one (scene->farm, "SELECT rest_weeks FROM batch_spawn", 0) * 7 * 24;
  g_autoptr (GPtrArray) logs = list_logs (scene->farm);
  for (guint round = 0; round < 20; round++)
    {
      g_autoptr (BedEdit) edit = bed_edit_new (scene->farm);
      Bath baths[SOAKS];
      guint of[SOAKS];
      for (guint i = 0; i < SOAKS; i++)
        {
          baths[i].from = g_rand_int_range (rand, 0, 220);
          baths[i].to = baths[i].from + g_rand_int_range (rand, 1, 20);
          baths[i].tank = g_rand_boolean (rand);
          of[i] = i == SOAKS - 1 ? i - round % 4 : i; /* in each fourth round every log once */
          put_bath (edit, scene->farm, &baths[i], (char **) logs->pdata + of[i] * IN_EACH);
        }
      GPtrArray *faults = bed_edit_check (edit);
      gboolean two = find_two (baths, of, 0), soon = find_two (baths, of, rest);
      g_assert_cmpint (says (faults, "was in the tank with soak"), ==, two);
      g_assert_cmpint (says (faults, "weeks before; it rests"), ==, soon);
      together += two;
      restless += soon;
    }
  g_assert_cmpuint (together, >, 0);
  g_assert_cmpuint (together, <, 20);
  g_assert_cmpuint (restless, ==, 15);
}

#define ADD(name, function)                                                                        \
  g_test_add (name, Scene, "metric", scene_set_up, function, scene_tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("/rules/many/alike", test_alike);
  ADD ("/rules/many/lost", test_lost);
  ADD ("/rules/many/tanks", test_tanks);
  ADD ("/rules/many/soaks", test_soaks);
  return g_test_run ();
}
