#include "app/window/application.h"

#include <glib/gi18n.h>

#include "app/manual/manual_window.h"
#include "app/window/demo_place.h"
#include "app/window/recent.h"
#include "app/window/window.h"
#include "app/window/window_files.h"

struct _BedApplication
{
  AdwApplication parent_instance;
};

G_DEFINE_FINAL_TYPE (BedApplication, bed_application, ADW_TYPE_APPLICATION)

static const GOptionEntry options[] = {
  { "demo", 0, 0, G_OPTION_ARG_NONE, NULL, N_ ("Open a demo farm to try things on"), NULL },
  { "version", 0, 0, G_OPTION_ARG_NONE, NULL, N_ ("Say which version this is"), NULL },
  { "page", 0, 0, G_OPTION_ARG_STRING, NULL, N_ ("Begin with this page"), N_ ("NAME") },
  { G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, NULL, NULL, N_ ("[FILE…]") },
  { NULL },
};

/* One farm, one window: a second one would show what the first has changed since, and take back
 * its work. One that shows no farm yet is used. @path may be NULL. */
static BedWindow *
find_window (GtkApplication *application, const char *path)
{
  BedWindow *window = path ? bed_window_find (path) : NULL;

  for (GList *l = gtk_application_get_windows (application); l && !window; l = l->next)
    if (BED_IS_WINDOW (l->data) && !bed_window_get_farm (l->data))
      window = l->data;
  return window;
}

static BedWindow *
open_file (GtkApplication *application, GFile *file)
{
  g_autofree char *path = g_file_get_path (file);
  BedWindow *window = find_window (application, path);

  if (!window)
    window = bed_window_new (application, path);
  bed_window_present_first (window);
  /* Another file that was asked for meanwhile may be in this window: then it opens beside. */
  if (!path || !bed_window_find (path))
    bed_window_open_file (window, file);
  return window;
}

/* The one in front; where there is none yet, the farm that was open last, else the first page. */
static BedWindow *
open_none (GtkApplication *application)
{
  g_autoptr (GPtrArray) farms = bed_recent_list ();
  const BedRecentFarm *last = farms->len ? farms->pdata[0] : NULL;
  BedWindow *window = NULL;

  for (GList *l = gtk_application_get_windows (application); l && !window; l = l->next)
    if (BED_IS_WINDOW (l->data))
      window = l->data;
  if (!window && last)
    {
      g_autoptr (GFile) file = g_file_new_for_path (last->path);

      return open_file (application, file);
    }
  if (!window)
    window = bed_window_new (application, NULL);
  gtk_window_present (GTK_WINDOW (window));
  return window;
}

static BedWindow *
open_demo (GtkApplication *application)
{
  BedWindow *window = find_window (application, NULL);

  if (!window)
    window = gtk_application_get_windows (application) ? open_none (application)
                                                       : bed_window_new (application, NULL);
  bed_window_present_first (window);
  bed_window_files_demo (GTK_WINDOW (window));
  return bed_window_files_find_demo () ? BED_WINDOW (bed_window_files_find_demo ()) : window;
}

static BedWindow *
open_asked (GtkApplication *application, GApplicationCommandLine *line)
{
  GVariantDict *dict = g_application_command_line_get_options_dict (line);
  g_autofree const char **files = NULL;
  BedWindow *window = NULL;

  if (g_variant_dict_contains (dict, "demo"))
    return open_demo (application);
  g_variant_dict_lookup (dict, G_OPTION_REMAINING, "^a&ay", &files);
  for (guint i = 0; files && files[i]; i++)
    {
      g_autoptr (GFile) file = g_application_command_line_create_file_for_arg (line, files[i]);

      window = open_file (application, file);
    }
  return window ? window : open_none (application);
}

static int
bed_application_command_line (GApplication *application, GApplicationCommandLine *line)
{
  GVariantDict *dict = g_application_command_line_get_options_dict (line);
  BedWindow *window = open_asked (GTK_APPLICATION (application), line);
  const char *page = NULL;

  if (g_variant_dict_lookup (dict, "page", "&s", &page) && !bed_window_show_page (window, page))
    g_application_command_line_printerr (line, _ ("There is no page called %s.\n"), page);
  return 0;
}

static void
bed_application_startup (GApplication *application)
{
  G_APPLICATION_CLASS (bed_application_parent_class)->startup (application);
  bed_manual_begin ();
  bed_demo_place_sweep ();
}

/* What needs no display. */
static int
bed_application_handle_local_options (GApplication *application, GVariantDict *said)
{
  if (!g_variant_dict_contains (said, "version"))
    return -1;
  g_print ("bedlog %s\n", BED_VERSION);
  return 0;
}

static void
bed_application_class_init (BedApplicationClass *klass)
{
  G_APPLICATION_CLASS (klass)->handle_local_options = bed_application_handle_local_options;
  G_APPLICATION_CLASS (klass)->startup = bed_application_startup;
  G_APPLICATION_CLASS (klass)->command_line = bed_application_command_line;
}

static void
bed_application_init (BedApplication *self)
{
  g_application_add_main_option_entries (G_APPLICATION (self), options);
}

BedApplication *
bed_application_new (void)
{
  return g_object_new (BED_TYPE_APPLICATION, "application-id", "org.bedlog.Bedlog",
                       "resource-base-path", "/org/bedlog/Bedlog", "flags",
                       G_APPLICATION_HANDLES_COMMAND_LINE, NULL);
}
