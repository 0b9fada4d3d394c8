/* Every question of views.sql held against the slow one of slow.sql, row by row. */
#include "model/check/check_private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "model/farm/farm_private.h"
#include "model/farm/query.h"

/* Sums in another order differ in the last bits of a double. */
#define CLOSE_ENOUGH 1e-9

static const struct
{
  const char *view;
  const char *order; /* columns that tell its rows apart */
  const char *asked; /* NULL: the view as it is */
} views[] = {
  { "pick_dated", "id", NULL },
  { "pick_log", "pick, log", NULL },
  { "main_spawn", "batch", NULL },
  { "batch_spawn", "batch", NULL },
  { "log_today", "id", NULL },
  { "log_waiting", "id", NULL },
  { "log_forced", "id", NULL },
  { "hours_paid", "id", NULL },
  { "spawn_share", "id", NULL },
  { "equipment_owned", "id", NULL },
  { "equipment_charge", "id, season", NULL },
  { "purchase_paid", "id", NULL },
  { "stock_used", "season, category", NULL },
  { "spawn_left", "id", NULL },
  { "batch_cost", "batch", NULL },
  { "batch_begun", "batch", NULL },
  { "batch_summary", "id", NULL },
  { "stack_today", "id", NULL },
  { "stack_place", "stack, since, until", NULL },
  { "soak_summary", "id", NULL },
  { "pick_named", "id", NULL },
  { "lot_summary", "id", NULL },
  { "felling_summary", "id", NULL },
  { "lot_back", "lot, batch, felling_code, spawn_code, supplier_lot", NULL },
  { "lot_forward", "lot, sale_code, form, use, mass, price", NULL },
  { "place_group", "stack, since, until, batch", NULL },
  { "stack_share", "stack, picked_on, total_since, since, until, batch", NULL },
  /* A day's rows of it are to be added up by whoever asks. */
  { "batch_day", "batch, picked_on, since",
    "SELECT batch, since, picked_on, sum (mass) AS mass FROM batch_day GROUP BY 1, 2, 3" },
  { "lot_left", "id", NULL },
  { "sale_summary", "id", NULL },
  { "batch_season", "batch, season", NULL },
  { "soak_month", "month", NULL },
  { "weather_day", "day", NULL },
  { "supplier_name", "id", NULL },
};

static int
compare_words (gconstpointer a, gconstpointer b)
{
  return strcmp (*(char *const *) a, *(char *const *) b);
}

/* Several codes in one cell come in any order. */
static gboolean
same_words (const char *a, const char *b)
{
  g_auto (GStrv) these = g_strsplit (a, ",", -1);
  g_auto (GStrv) those = g_strsplit (b, ",", -1);

  qsort (these, g_strv_length (these), sizeof *these, compare_words);
  qsort (those, g_strv_length (those), sizeof *those, compare_words);
  return g_strv_equal ((const char *const *) these, (const char *const *) those);
}

static gboolean
same_cell (BedQuery *fast, BedQuery *slow, int column)
{
  const char *a = bed_query_text (fast, column), *b = bed_query_text (slow, column);

  if (!a || !b || strcmp (a, b) == 0)
    return g_strcmp0 (a, b) == 0;
  if (strcmp (bed_query_column_name (fast, column), "batches") == 0)
    return same_words (a, b);
  double x = bed_query_real (fast, column), y = bed_query_real (slow, column);
  return (g_ascii_isdigit (*a) || *a == '-') && (strchr (a, '.') || strchr (b, '.'))
         && fabs (x - y) <= CLOSE_ENOUGH * MAX (fabs (x), fabs (y));
}

/* "id 12" of the row where they part. */
static char *
row_name (BedQuery *row)
{
  return g_strdup_printf ("%s %s", bed_query_column_name (row, 0),
                          bed_query_text (row, 0) ? bed_query_text (row, 0) : "-");
}

static void
add_difference (BedChecking *self, const char *view, BedQuery *fast, BedQuery *slow, int column)
{
  g_autofree char *row = row_name (fast);

  bed_checking_add (self, BED_CHECK_QUESTIONS, BED_FAULT_ERROR,
                    /* Translators: a question, a row, a column, two answers. */
                    _ ("%s, %s, %s: the answer is %s; worked out a second time it is %s."), view,
                    row, bed_query_column_name (fast, column),
                    bed_query_text (fast, column) ? bed_query_text (fast, column) : "-",
                    bed_query_text (slow, column) ? bed_query_text (slow, column) : "-");
}

/* Only the first difference of a view: one row too many shifts all that follow. */
static void
compare_rows (BedChecking *self, const char *view, BedQuery *fast, BedQuery *slow)
{
  for (;;)
    {
      gboolean more = bed_query_next (fast), more_slow = bed_query_next (slow);
      if (more != more_slow)
        bed_checking_add (self, BED_CHECK_QUESTIONS, BED_FAULT_ERROR,
                          more ? _ ("%s has a row too many.") : _ ("%s has a row too few."), view);
      if (!more || !more_slow)
        return;
      self->checkup->looked_at[BED_CHECK_QUESTIONS]++;
      for (int i = 0; i < bed_query_n_columns (fast); i++)
        if (!same_cell (fast, slow, i))
          {
            add_difference (self, view, fast, slow, i);
            return;
          }
    }
}

static gboolean
compare_view (BedChecking *self, guint which, GError **error)
{
  g_autofree char *asked = views[which].asked ? g_strdup_printf ("(%s)", views[which].asked)
                                              : g_strdup_printf ("\"%s\"", views[which].view);
  g_autofree char *sql
      = g_strdup_printf ("SELECT * FROM %s ORDER BY %s", asked, views[which].order);
  g_autofree char *slow_sql = g_strdup_printf ("SELECT * FROM slow_%s ORDER BY %s",
                                               views[which].view, views[which].order);
  g_autoptr (BedQuery) fast = bed_query_new (self->farm, sql);
  g_autoptr (BedQuery) slow = bed_query_new (self->farm, slow_sql);

  if (bed_query_n_columns (fast) == bed_query_n_columns (slow))
    compare_rows (self, views[which].view, fast, slow);
  else
    bed_checking_add (self, BED_CHECK_QUESTIONS, BED_FAULT_ERROR,
                      _ ("%s has columns that are not worked out a second time."),
                      views[which].view);
  return bed_query_finish (fast, error) && bed_query_finish (slow, error);
}

/* A view that came later and was not given a second reckoning. */
static gboolean
check_every_view_is_here (BedChecking *self, GError **error)
{
  g_autoptr (BedQuery) q
      = bed_query_new (self->farm, "SELECT name FROM temp.sqlite_schema"
                                   " WHERE type = 'view' AND substr (name, 1, 5) <> 'slow_'");

  while (bed_query_next (q))
    {
      gsize i = 0;
      while (i < G_N_ELEMENTS (views) && strcmp (views[i].view, bed_query_text (q, 0)) != 0)
        i++;
      if (i == G_N_ELEMENTS (views))
        bed_checking_add (self, BED_CHECK_QUESTIONS, BED_FAULT_ERROR,
                          _ ("%s is not worked out a second time."), bed_query_text (q, 0));
    }
  return bed_query_finish (q, error);
}

gboolean
bed_check_views (BedChecking *self, GError **error)
{
  sqlite3 *db = bed_farm_get_db (self->farm);
  gboolean done = bed_schema_attach_slow_views (db, error)
                  && check_every_view_is_here (self, error);

  for (guint i = 0; done && i < G_N_ELEMENTS (views); i++)
    done = compare_view (self, i, error);
  bed_schema_detach_slow_views (db);
  return done;
}
