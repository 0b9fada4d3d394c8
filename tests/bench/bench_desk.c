/* bench-desk [FARM]: the desk as it is started, with that farm open; without a farm an empty
 * window of libadwaita. Prints how long after BENCH_STARTED (monotonic clock, us) the first frame
 * with the farm in it was painted, and the memory then; with BENCH_PAGES set also how long each
 * page takes to open, one after another, and a frame of the yard. */
#include <stdlib.h>
#include <string.h>

#include "app/window/application.h"
#include "app/window/window.h"
#include "app/yard/yard_view.h"
#include "bench.h"

#define SETTLE 150 /* ms, for what comes in by itself after a page is seen */
#define FRAMES 20

static const char *const pages[] = { "woodlot", "batches", "yard",    "soaking", "picking",
                                     "money",   "season",  "history", "week",    NULL };

static gint64 painted, begun; /* us: end of the last frame, and its beginning */
static gboolean opened;
static gint64 first; /* end of the first that showed what was to be opened */

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
  if (opened && !first)
    first = painted;
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

/* --- what is told ---------------------------------------------------------------------- */

/* kB, "VmRSS:" or "VmHWM:". */
static int
memory (const char *what)
{
  g_autofree char *status = NULL;

  g_assert_true (g_file_get_contents ("/proc/self/status", &status, NULL, NULL));
  const char *line = strstr (status, what);
  return line ? atoi (line + strlen (what)) : 0;
}

static void
tell_start (void)
{
  const char *started = g_getenv ("BENCH_STARTED");

  g_print ("start\t%.3f\n", (first - g_ascii_strtoll (started ? started : "0", NULL, 10)) / 1e3);
  settle (SETTLE);
  g_print ("memory\t%d\n", memory ("VmRSS:"));
  g_print ("most\t%d\n", memory ("VmHWM:"));
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

static void
tell_frames (GtkWidget *window)
{
  GtkWidget *yard = find (window, BED_TYPE_YARD_VIEW);
  g_autoptr (GArray) still = g_array_new (FALSE, FALSE, sizeof (double));
  g_autoptr (GArray) zoomed = g_array_new (FALSE, FALSE, sizeof (double));

  for (int i = 0; yard && i < 2 * FRAMES; i++)
    {
      gint64 since = g_get_monotonic_time ();

      if (i % 2)
        bed_yard_view_zoom (BED_YARD_VIEW (yard), i < FRAMES ? 1.1 : 1 / 1.1);
      gtk_widget_queue_draw (yard);
      wait_for_frame (since);
      double took = (painted - begun) / 1e3;
      g_array_append_val (i % 2 ? zoomed : still, took);
    }
  g_print ("frame\t%.3f\nzoomed\t%.3f\n", bench_median (still), bench_median (zoomed));
}

static void
tell_pages (BedWindow *window)
{
  for (const char *const *page = pages; *page; page++)
    {
      gint64 since = g_get_monotonic_time ();

      g_assert_true (bed_window_show_page (window, *page));
      g_print ("page %s\t%.3f\n", *page, (wait_for_frame (since) - since) / 1e3);
      settle (SETTLE);
      if (strcmp (*page, "yard") == 0)
        tell_frames (GTK_WIDGET (window));
    }
  g_print ("memory of all\t%d\n", memory ("VmRSS:"));
}

/* --- running ----------------------------------------------------------------------------- */

static gboolean
tell_cb (gpointer data)
{
  GtkApplication *application = data;
  GtkWindow *window = gtk_application_get_active_window (application);

  if (!first)
    return G_SOURCE_CONTINUE;
  tell_start ();
  if (BED_IS_WINDOW (window) && g_getenv ("BENCH_PAGES"))
    tell_pages (BED_WINDOW (window));
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
