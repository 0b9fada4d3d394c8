/* bench-desk [FARM]: the desk as it is started, with that farm open; without a farm an empty
 * window of libadwaita. Prints how long after BENCH_STARTED (monotonic clock, us) the first frame
 * was painted and the first with the farm in it, and the memory then; with BENCH_PAGES set also how
 * long each page takes to open, one after another, and what a frame of the yard costs at rest,
 * zooming and panning: the median and the 99th of a hundred, of the processor's time. */
#include <stdlib.h>
#include <string.h>

#include "app/window/application.h"
#include "app/window/window.h"
#include "app/yard/yard_view.h"
#include "bench.h"

#define SETTLE 150      /* ms, for what comes in by itself after a page is seen */
#define MOST_IDLE 20000 /* ms: what is done in idle moments is over by then */
#define FRAMES 20

static const char *const pages[] = { "woodlot", "batches", "yard", "soaking", "picking", "money",
                                     "season",  "history", "care", "names",   "week",    NULL };

static gint64 painted, begun; /* us: end of the last frame, and its beginning */
static gboolean opened;
static gint64 first; /* end of the first frame */
static gint64 shown; /* end of the first that showed what was to be opened */

/* --- frames ------------------------------------------------------------------------- */

/* The farm, or of the empty window itself, is there to be painted. */
static gboolean
is_open (void)
{
  GApplication *application = g_application_get_default ();
  GtkWindow *window = gtk_application_get_active_window (GTK_APPLICATION (application));

  return window && (!BED_IS_WINDOW (window) || bed_window_get_farm (BED_WINDOW (window)));
}

static gboolean
before_cb (GSignalInvocationHint *hint, guint n, const GValue *values, gpointer data)
{
  begun = g_get_monotonic_time ();
  opened = opened || is_open ();
  return TRUE;
}

static gboolean
after_cb (GSignalInvocationHint *hint, guint n, const GValue *values, gpointer data)
{
  painted = g_get_monotonic_time ();
  if (!first)
    first = painted;
  if (opened && !shown)
    shown = painted;
  return TRUE;
}

static void
watch_frames (void)
{
  g_type_class_ref (GDK_TYPE_FRAME_CLOCK);
  g_signal_add_emission_hook (g_signal_lookup ("before-paint", GDK_TYPE_FRAME_CLOCK), 0, before_cb,
                              NULL, NULL);
  g_signal_add_emission_hook (g_signal_lookup ("after-paint", GDK_TYPE_FRAME_CLOCK), 0, after_cb,
                              NULL, NULL);
}

static gint64
wait_for_frame (gint64 since)
{
  while (painted < since || begun < since)
    g_main_context_iteration (NULL, TRUE);
  return painted;
}

static gboolean
over_cb (gpointer data)
{
  *(gboolean *) data = TRUE;
  return G_SOURCE_REMOVE;
}

static void
settle (guint ms)
{
  gboolean over = FALSE;

  g_timeout_add (ms, over_cb, &over);
  while (!over)
    g_main_context_iteration (NULL, TRUE);
}

/* Until nothing is left that is done in idle moments: it is no part of a frame. */
static void
settle_idle (void)
{
  gint64 until = g_get_monotonic_time () + 1000 * MOST_IDLE;

  do
    settle (SETTLE);
  while (g_main_context_pending (NULL) && g_get_monotonic_time () < until);
}

/* --- what is told ---------------------------------------------------------------------- */

/* kB: its own, and of what it shares with others its part. */
static int
memory (void)
{
  g_autofree char *status = NULL;

  g_assert_true (g_file_get_contents ("/proc/self/smaps_rollup", &status, NULL, NULL));
  const char *line = strstr (status, "\nPss:");
  return line ? atoi (line + strlen ("\nPss:")) : 0;
}

static void
tell_start (void)
{
  const char *said = g_getenv ("BENCH_STARTED");
  gint64 started = g_ascii_strtoll (said ? said : "0", NULL, 10);

  g_print ("start\t%.3f\nshown\t%.3f\n", (first - started) / 1e3, (shown - started) / 1e3);
  settle (SETTLE);
  g_print ("memory\t%d\n", memory ());
}

static GtkWidget *
find (GtkWidget *inside, GType type)
{
  if (g_type_is_a (G_OBJECT_TYPE (inside), type))
    return inside;
  for (GtkWidget *child = gtk_widget_get_first_child (inside); child;
       child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find (child, type);

      if (found)
        return found;
    }
  return NULL;
}

/* Processor time of a frame of @widget, ms, from what asks for it to its end, after @step was done
 * to it. */
static double
time_frame (GtkWidget *widget, void (*step) (GtkWidget *widget, int i), int i)
{
  gint64 since = g_get_monotonic_time ();
  double from = bench_cpu ();

  step (widget, i);
  gtk_widget_queue_draw (widget);
  wait_for_frame (since);
  return 1e3 * (bench_cpu () - from);
}

static void
rest_step (GtkWidget *widget, int i)
{
}

static void
zoom_step (GtkWidget *yard, int i)
{
  bed_yard_view_zoom (BED_YARD_VIEW (yard), i % 16 < 8 ? 1.2 : 1 / 1.2);
}

/* There and back, across and up: as far as three screens. */
static void
pan_step (GtkWidget *yard, int i)
{
  double there = i % 200 < 100 ? -1 : 1;

  bed_yard_view_pan (BED_YARD_VIEW (yard), 23 * there, i % 100 < 50 ? 0 : 17 * there);
}

/* The median and the 99th of a hundred of @frames frames. */
static void
tell_steps (GtkWidget *widget, const char *what, void (*step) (GtkWidget *, int), int frames)
{
  g_autoptr (GArray) took = g_array_new (FALSE, FALSE, sizeof (double));

  for (int i = 0; i < frames; i++)
    {
      double one = time_frame (widget, step, i);
      g_array_append_val (took, one);
    }
  g_print ("%s\t%.3f\n", what, bench_median (took)); /* which sorts them */
  g_print ("%s 99\t%.3f\n", what, g_array_index (took, double, (guint) (frames * 99 / 100)));
}

static void
tell_frames (GtkWidget *window)
{
  static const double scales[] = { 60, 20, 0 }; /* pixels to a metre; 0: all of it */
  GtkWidget *yard = find (window, BED_TYPE_YARD_VIEW);

  if (!yard)
    return;
  tell_steps (yard, "frame", rest_step, FRAMES);
  tell_steps (yard, "zoomed", zoom_step, 5 * FRAMES);
  for (guint i = 0; i < G_N_ELEMENTS (scales); i++)
    {
      g_autofree char *what = g_strdup_printf ("pan at %g", scales[i]);
      if (scales[i] > 0)
        bed_yard_view_zoom (BED_YARD_VIEW (yard),
                            scales[i] / bed_yard_view_get_scale (BED_YARD_VIEW (yard)));
      else
        bed_yard_view_fit (BED_YARD_VIEW (yard));
      settle (SETTLE);
      tell_steps (yard, what, pan_step, 20 * FRAMES);
    }
}

static void
tell_pages (BedWindow *window)
{
  for (const char *const *page = pages; *page; page++)
    {
      gint64 since = g_get_monotonic_time ();
      double from = bench_cpu ();

      g_assert_true (bed_window_show_page (window, *page));
      g_print ("page %s\t%.3f\n", *page, (wait_for_frame (since) - since) / 1e3);
      g_print ("cpu %s\t%.3f\n", *page, 1e3 * (bench_cpu () - from));
      settle (SETTLE);
      if (strcmp (*page, "yard") != 0 || g_getenv ("BENCH_NO_FRAMES"))
        continue;
      settle_idle ();
      tell_frames (GTK_WIDGET (window));
    }
  g_print ("memory of all\t%d\n", memory ());
}

/* --- running ----------------------------------------------------------------------------- */

static gboolean
tell_cb (gpointer data)
{
  GtkApplication *application = data;
  GtkWindow *window = gtk_application_get_active_window (application);

  if (!shown)
    return G_SOURCE_CONTINUE;
  tell_start ();
  if (BED_IS_WINDOW (window) && g_getenv ("BENCH_PAGES"))
    tell_pages (BED_WINDOW (window));
  else if (!BED_IS_WINDOW (window))
    tell_steps (GTK_WIDGET (window), "empty frame", rest_step, 5 * FRAMES);
  exit (0);
}

static void
empty_cb (GtkApplication *application)
{
  GtkWidget *window = adw_application_window_new (application);

  adw_application_window_set_content (ADW_APPLICATION_WINDOW (window), adw_header_bar_new ());
  gtk_window_set_default_size (GTK_WINDOW (window), 1000, 700);
  gtk_window_present (GTK_WINDOW (window));
}

int
main (int argc, char **argv)
{
  GApplication *application = argc > 1
                                  ? G_APPLICATION (bed_application_new ())
                                  : G_APPLICATION (adw_application_new ("org.bedlog.Empty", 0));

  watch_frames ();
  if (argc < 2)
    g_signal_connect (application, "activate", G_CALLBACK (empty_cb), NULL);
  /* Behind everything the window has to do first. */
  g_idle_add_full (G_PRIORITY_LOW, tell_cb, application, NULL);
  return g_application_run (application, argc, argv);
}
