/* Which copies stay, whatever the clock said when they were made. */
#include "model_test.h"

#include "model/farm/backup_private.h"

#define ALWAYS 10
#define ROUNDS 300

static BedBackup *
copy_at (gint64 change, const char *at)
{
  BedBackup *copy = g_new0 (BedBackup, 1);

  copy->change = change;
  copy->at = g_strdup (at);
  copy->made = g_strdup (at);
  return copy;
}

/* Newest first, as they are listed. */
static void
add (GPtrArray *copies, gint64 change, const char *at)
{
  g_ptr_array_insert (copies, 0, copy_at (change, at));
}

/* Leaves out what is no longer kept; how many that were. */
static guint
thin (GPtrArray *copies, const char *at, const char *today)
{
  g_autoptr (GPtrArray) spare = bed_backup_spare (copies, at, today);

  for (guint i = 0; i < spare->len; i++)
    g_assert_true (g_ptr_array_remove (copies, spare->pdata[i]));
  return spare->len;
}

static gboolean
holds (GPtrArray *copies, const char *day)
{
  for (guint i = 0; i < copies->len; i++)
    if (g_str_has_prefix (((BedBackup *) copies->pdata[i])->at, day))
      return TRUE;
  return FALSE;
}

static GPtrArray *
make_copies (void)
{
  return g_ptr_array_new_with_free_func ((GDestroyNotify) bed_backup_free);
}

/* A copy every day for two years: never more than the newest ten, 7 days, 5 weeks and 13 months
 * have one, all of the last week do, and none is older than the months reach. */
static void
test_daily (void)
{
  g_autoptr (GPtrArray) copies = make_copies ();

  for (int day = 0; day < 730; day++)
    {
      g_autofree char *today = bed_date_add ("2025-01-01", day);
      g_autofree char *now = g_strconcat (today, "T09:00", NULL);
      add (copies, day + 1, now);
      thin (copies, now, today);
      g_assert_cmpuint (copies->len, <=, ALWAYS + 5 + 13);
      for (int back = 0; back < MIN (ALWAYS, day + 1); back++)
        {
          g_autofree char *date = bed_date_add (today, -back);
          g_assert_true (holds (copies, date));
        }
    }
  const BedBackup *oldest = copies->pdata[copies->len - 1];
  g_autofree char *last = g_strndup (oldest->at, 10);
  int age = bed_date_days (last, "2026-12-31");
  g_assert_cmpint (age, >, 360);
  g_assert_cmpint (age, <, 7 + 28 + 365);
  g_assert_cmpuint (copies->len, >, 20);
}

/* Six a day for two months: the newest ten, then one a day, one a week. */
static void
test_hourly (void)
{
  g_autoptr (GPtrArray) copies = make_copies ();
  gint64 change = 0;

  for (int day = 0; day < 60; day++)
    for (int hour = 8; hour < 14; hour++)
      {
        g_autofree char *today = bed_date_add ("2026-04-01", day);
        g_autofree char *now = g_strdup_printf ("%sT%02d:00", today, hour);
        add (copies, ++change, now);
        thin (copies, now, today);
      }
  g_assert_cmpuint (copies->len, <=, ALWAYS + 6 + 5 + 2);
  for (int back = 0; back < 7; back++)
    {
      g_autofree char *date = bed_date_add ("2026-05-30", -back);
      g_assert_true (holds (copies, date));
    }
  g_assert_true (holds (copies, "2026-04-"));
}

static void
test_clock_contradicts (void)
{
  static const char *todays[] = { "2000-01-01", "2026-05-11", "2038-01-19", "9999-12-31" };
  g_autoptr (GPtrArray) copies = make_copies ();

  for (int i = 0; i < 40; i++)
    add (copies, i + 1, "2026-05-12T09:00");
  for (gsize i = 0; i < G_N_ELEMENTS (todays); i++)
    g_assert_cmpuint (thin (copies, "2026-05-12T09:00", todays[i]), ==, 0);
  g_assert_cmpuint (thin (copies, NULL, "2026-05-12"), ==, 0);
  g_assert_cmpuint (thin (copies, "2026-02-31T09:00", "2026-05-12"), ==, 0);
  g_assert_cmpuint (thin (copies, "2026-05-12T09:00", "2026-05-12"), ==, 30);
  g_assert_cmpuint (copies->len, ==, ALWAYS);
}

/* What was done under a clock of 2038 is neither removed nor does it push others out. */
static void
test_future (void)
{
  g_autoptr (GPtrArray) copies = make_copies ();

  for (int i = 0; i < 20; i++)
    add (copies, i + 1, "2026-05-12T09:00");
  for (int i = 0; i < 30; i++)
    add (copies, i + 21, "2038-01-19T03:14");
  add (copies, 51, "2026-05-13T09:00");
  g_assert_cmpuint (thin (copies, "2026-05-13T09:00", "2026-05-13"), ==, 11);
  g_assert_cmpuint (copies->len, ==, ALWAYS + 30);
}

/* A year's jump of the clock between two copies ages what is before it by a month only. */
static void
test_jump (void)
{
  g_autoptr (GPtrArray) copies = make_copies ();

  for (int i = 0; i < 12; i++)
    {
      g_autofree char *at = g_strdup_printf ("2025-%02d-12T09:00", i + 1);
      add (copies, i + 1, at);
    }
  for (int i = 0; i < 10; i++)
    add (copies, i + 13, "2038-01-19T03:14");
  thin (copies, "2038-01-19T03:14", "2038-01-19");
  g_assert_cmpuint (copies->len, ==, 10 + 12);
}

static char *
random_moment (void)
{
  static const int years[] = { 1970, 2000, 2025, 2026, 2026, 2026, 2027, 2038 };

  return g_strdup_printf ("%d-%02d-%02dT%02d:%02d",
                          years[g_test_rand_int_range (0, G_N_ELEMENTS (years))],
                          g_test_rand_int_range (1, 13), g_test_rand_int_range (1, 29),
                          g_test_rand_int_range (0, 24), g_test_rand_int_range (0, 60));
}

/* Whatever the clock does: never fewer than ten, or than there are, and the newest ten of those
 * that are not dated in the future always among them. */
static void
test_any_clock (void)
{
  for (int round = 0; round < ROUNDS; round++)
    {
      g_autoptr (GPtrArray) copies = make_copies ();
      int n = g_test_rand_int_range (0, 60);

      for (int i = 0; i < n; i++)
        {
          g_autofree char *at = random_moment ();
          add (copies, i + 1, at);
        }
      g_autofree char *now = random_moment ();
      g_autofree char *today = g_strndup (now, 10);
      const char *at = n ? ((BedBackup *) copies->pdata[0])->at : NULL;
      g_autofree char *last = g_strdup (g_test_rand_bit () ? at : now);
      GArray *must = g_array_new (FALSE, FALSE, sizeof (gint64));

      for (guint i = 0; i < copies->len && must->len < ALWAYS; i++)
        {
          const BedBackup *copy = copies->pdata[i];
          if (strncmp (copy->at, today, 10) <= 0)
            g_array_append_val (must, copy->change);
        }
      gint64 newest = n;
      thin (copies, last, today);
      g_assert_cmpuint (copies->len, >=, MIN (ALWAYS, n));
      g_assert_true (n == 0 || ((BedBackup *) copies->pdata[0])->change == newest);
      for (guint i = 0, at_copy = 0; i < must->len; i++)
        {
          while (((BedBackup *) copies->pdata[at_copy])->change != g_array_index (must, gint64, i))
            g_assert_cmpuint (++at_copy, <, copies->len);
        }
      g_array_unref (must);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/backup-keep/daily", test_daily);
  g_test_add_func ("/backup-keep/hourly", test_hourly);
  g_test_add_func ("/backup-keep/clock-contradicts", test_clock_contradicts);
  g_test_add_func ("/backup-keep/future", test_future);
  g_test_add_func ("/backup-keep/jump", test_jump);
  g_test_add_func ("/backup-keep/any-clock", test_any_clock);
  return g_test_run ();
}
