/* Where one reads from right to left the charts do so, too: what is first stands at the right, and
 * what is pointed at is what stands there. */
#include "app_test.h"

#include <locale.h>
#include <math.h>

#include "app/soaking/rotation_view.h"
#include "app/week/week_strip.h"
#include "app/widgets/chart.h"
#include "app/widgets/dots.h"
#include "app/widgets/plot.h"
#include "app/widgets/run_chart.h"
#include "app/widgets/split_bar.h"
#include "app/widgets/table_bar.h"
#include "app/widgets/timeline.h"
#include "app/widgets/trend_chart.h"
#include "model/farm/kinds.h"

#define WIDTH 990
#define SLACK 1.5 /* px, of rounding */

/* --- charts of which the first is drawn in bark, and little else ------------------------- */

static GtkWidget *
make_chart (BedFarm *farm)
{
  static const BedChartBar bars[] = { { "4 May", "the first", 3, 0, 0, FALSE },
                                      { "11 May", "the second", 0.1, 0, 0, TRUE },
                                      { "18 May", "the last", 0.1, 0, 0, TRUE } };
  BedChart *chart = bed_chart_new ();

  bed_chart_set (chart, &(BedChartSpec){ "kg", "Picked", 0, NULL, 0 }, bars, G_N_ELEMENTS (bars));
  return GTK_WIDGET (chart);
}

static GtkWidget *
make_run (BedFarm *farm)
{
  static const double weeks[] = { 5, 0, 0 }, sums[] = { 5, 5, 5 };
  static const char *const names[] = { "4 May", "11 May", "18 May", NULL };
  static const char *const tooltips[] = { "the first", "the second", "the last", NULL };
  BedRunChart *chart = bed_run_chart_new ();

  bed_run_chart_set (chart, &(BedRunSpec){ .unit = "kg",
                                           .label = "The season",
                                           .description = "",
                                           .n_weeks = 3,
                                           .weeks = weeks,
                                           .sums = sums,
                                           .n_known = 1,
                                           .name = "2026",
                                           .names = names,
                                           .tooltips = tooltips,
                                           .low = NAN,
                                           .expected = NAN,
                                           .high = NAN });
  return GTK_WIDGET (chart);
}

static GtkWidget *
make_timeline (BedFarm *farm)
{
  static const char *const lanes[] = { "Lay" };
  static const BedTimelineItem items[]
      = { { 0, 100, 140, 1, BED_TIMELINE_BARK, NULL, "the first" },
          { 0, 900, 901, 1, BED_TIMELINE_WATER, NULL, "the last" } };
  BedTimeline *timeline = bed_timeline_new ();

  bed_timeline_set (timeline, &(BedTimelineSpec){ "Its life", lanes, 1, items, 2, 901 });
  return GTK_WIDGET (timeline);
}

static GtkWidget *
make_trend (BedFarm *farm)
{
  static const BedTrendPoint dots[] = { { 1, 30 }, { 2, 34 } };
  BedTrendChart *chart = bed_trend_chart_new ();

  bed_trend_chart_set (chart, &(BedTrendSpec){ .unit = "%",
                                               .label = "Moisture",
                                               .description = "",
                                               .dots = dots,
                                               .n_dots = 2,
                                               .first_day = 0,
                                               .last_day = 20,
                                               .band_low = NAN,
                                               .band_high = NAN,
                                               .limit = NAN,
                                               .reach_early = NAN,
                                               .reach = NAN,
                                               .reach_late = NAN });
  return GTK_WIDGET (chart);
}

static GtkWidget *
make_dots (BedFarm *farm)
{
  static const BedDot dots[]
      = { { "oak", "4 logs", 0.1, 0.1, 0.1 }, { "elm", "4 logs", 0.1, 0, 2 } };
  BedDots *chart = bed_dots_new ();

  bed_dots_set (chart, "By wood", "kg", dots, G_N_ELEMENTS (dots));
  return GTK_WIDGET (chart);
}

static GtkWidget *
make_split (BedFarm *farm)
{
  static const BedSplitPart parts[] = { { "spawn", "1 kg", 0.2 }, { "wax", "4 kg", 0.8 } };
  BedSplitBar *bar = bed_split_bar_new ();

  bed_split_bar_set (bar, "Spent", parts, G_N_ELEMENTS (parts));
  return GTK_WIDGET (bar);
}

static GtkWidget *
make_table_bar (BedFarm *farm)
{
  static const double shares[BED_TABLE_BAR_PARTS] = { 0.2, 0.1 };
  GtkWidget *bar = bed_table_bar_new (NULL);

  bed_table_bar_set (bar, shares, "a fifth");
  return bar;
}

/* Soaked in the first of its weeks. */
static GtkWidget *
make_rotation (BedFarm *farm)
{
  static BedSoakPlan *plan; /* borrowed by the last one */
  BedRotationView *view = bed_rotation_view_new (farm);

  g_clear_pointer (&plan, bed_soak_plan_free);
  plan = bed_soak_plan_new (farm, NULL);
  g_assert_cmpuint (plan->groups->len, >, 0);
  g_array_set_size (plan->bars, 0);
  g_array_append_val (plan->bars, ((BedSoakBar){ 0, 0, 12, BED_SOAK_DONE }));
  bed_rotation_view_set_plan (view, plan);
  return GTK_WIDGET (view);
}

/* Of a Tuesday, which has a mark. */
static GtkWidget *
make_week (BedFarm *farm)
{
  g_autoptr (GPtrArray) items = bed_due_list (farm, NULL);
  BedWeekStrip *strip = bed_week_strip_new (farm);

  /* Where weeks begin on Monday. */
  g_assert_nonnull (setlocale (LC_TIME, "en_GB.UTF-8"));
  bed_week_strip_set (strip, bed_week_new (farm, items, NULL));
  return GTK_WIDGET (strip);
}

/* --- how they look ---------------------------------------------------------------------- */

static gboolean
is_bark (guint32 pixel)
{
  const GdkRGBA *bark = &bed_ink_get ()->bark;

  return ABS ((int) (pixel >> 16 & 255) - (int) lroundf (bark->red * 255)) < 3
         && ABS ((int) (pixel >> 8 & 255) - (int) lroundf (bark->green * 255)) < 3
         && ABS ((int) (pixel & 255) - (int) lroundf (bark->blue * 255)) < 3;
}

/* The middle of all that is drawn in bark, px from the left of @widget. */
static double
find_bark (GtkWidget *widget)
{
  g_autoptr (GdkPaintable) paintable = gtk_widget_paintable_new (widget);
  g_autoptr (GskRenderNode) node = NULL;
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  double sum = 0;
  guint n = 0;

  /* Nothing before its next frame. */
  for (guint i = 0; !node && i < 100; i++)
    {
      GtkSnapshot *snapshot = gtk_snapshot_new ();
      app_settle (20);
      gdk_paintable_snapshot (paintable, snapshot, width, height);
      node = gtk_snapshot_free_to_node (snapshot);
    }
  GskRenderer *renderer = gtk_native_get_renderer (gtk_widget_get_native (widget));
  g_autoptr (GdkTexture) texture
      = gsk_renderer_render_texture (renderer, node, &GRAPHENE_RECT_INIT (0, 0, width, height));
  g_autofree guint32 *pixels = g_new (guint32, width * height);
  gdk_texture_download (texture, (guchar *) pixels, (gsize) width * 4);
  for (int i = 0; i < width * height; i++)
    if (is_bark (pixels[i]))
      {
        sum += i % width + 0.5;
        n++;
      }
  g_assert_cmpuint (n, >, 5);
  return sum / n;
}

static GtkWidget *
show (GtkWidget *widget)
{
  gtk_widget_set_size_request (widget, WIDTH, -1);
  gtk_widget_set_halign (widget, GTK_ALIGN_START);
  gtk_widget_set_valign (widget, GTK_ALIGN_START);
  return app_show (widget);
}

static const struct
{
  const char *name;
  GtkWidget *(*make) (BedFarm *farm);
  int said, unsaid; /* px from where one begins to read: something is said of the one alone */
} drawings[] = {
  { "chart", make_chart, WIDTH - 5, 5 },
  { "run", make_run, 70, WIDTH - 70 },
  { "timeline", make_timeline, 70, WIDTH - 70 },
  { "trend", make_trend, 0, 0 },
  { "dots", make_dots, 0, 0 },
  { "split", make_split, 0, 0 },
  { "table bar", make_table_bar, 0, 0 },
  { "rotation", make_rotation, BED_ROTATION_VIEW_NAMES + 5, WIDTH - 5 },
  { "week", make_week, 0, 0 },
};

static gboolean
is_said (GtkWidget *widget, GtkTextDirection direction, int from)
{
  g_autoptr (GObject) tooltip = g_object_new (GTK_TYPE_TOOLTIP, NULL);
  gboolean said;

  g_signal_emit_by_name (widget, "query-tooltip",
                         direction == GTK_TEXT_DIR_RTL ? WIDTH - from : from,
                         gtk_widget_get_height (widget) * 2 / 3, FALSE, tooltip, &said);
  return said;
}

static double
look (guint at, BedFarm *farm, GtkTextDirection direction)
{
  gtk_widget_set_default_direction (direction);
  GtkWidget *widget = drawings[at].make (farm), *window = show (widget);
  double bark = find_bark (widget);

  if (g_test_verbose ())
    g_test_message ("%s: bark at %.1f", drawings[at].name, bark);
  g_assert_cmpint (gtk_widget_get_width (widget), ==, WIDTH);
  if (drawings[at].said)
    {
      g_assert_true (is_said (widget, direction, drawings[at].said));
      g_assert_false (is_said (widget, direction, drawings[at].unsaid));
    }
  app_close (window, widget);
  gtk_widget_set_default_direction (GTK_TEXT_DIR_LTR);
  return bark;
}

static void
test_drawings (Scene *scene, gconstpointer data)
{
  scene_batch (scene->farm, 6);
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_SOAK, "tank", "Trough", "put_in",
                                        "2026-05-11T08:00", NULL));
  scene_add (scene->farm,
             scene_record (scene->farm, BED_KIND_SOAKED, "soak", "K26-1", "log", "26A-001", NULL));
  for (guint i = 0; i < G_N_ELEMENTS (drawings); i++)
    {
      double left = look (i, scene->farm, GTK_TEXT_DIR_LTR);
      double right = look (i, scene->farm, GTK_TEXT_DIR_RTL);

      g_assert_cmpfloat (left, <, WIDTH / 2 - 20);
      g_assert_cmpfloat_with_epsilon (left, WIDTH - right, SLACK);
    }
}

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  app_begin ();
  g_test_add ("/app/turned/drawings", Scene, "metric", scene_set_up, test_drawings,
              scene_tear_down);
  return g_test_run ();
}
