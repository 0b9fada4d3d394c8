#include "app/window/application.h"

#include <glib/gi18n.h>

#include "app/desk/settings.h"
#include "app/manual/manual_window.h"
#include "app/window/window.h"

struct _BedApplication
{
  AdwApplication parent_instance;
};

G_DEFINE_FINAL_TYPE (BedApplication, bed_application, ADW_TYPE_APPLICATION)

static const GOptionEntry options[] = {
  { "demo", 0, 0, G_OPTION_ARG_NONE, NULL, N_ ("Open a demo farm to try things on"), NULL },
  { "version", 0, 0, G_OPTION_ARG_NONE, NULL, N_ ("Say which version this is"), NULL },
  { "page", 0, 0, G_OPTION_ARG_STRING, NULL, N_ ("Begin with this page"), N_ ("NAME") },
  { G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, NULL, NULL, N_ ("[FILE]") },
  { NULL },
};

/* The file that is asked for, or the last one; NULL when there is none. */
static char *
dup_path (GApplicationCommandLine *line)
{
  GVariantDict *dict = g_application_command_line_get_options_dict (line);
  g_autofree const char **files = NULL;
  g_autofree char *last = bed_settings_dup_last_farm ();

  if (g_variant_dict_contains (dict, "demo"))
    return NULL;
  g_variant_dict_lookup (dict, G_OPTION_REMAINING, "^a&ay", &files);
  if (files && files[0])
    {
      g_autoptr (GFile) file = g_application_command_line_create_file_for_arg (line, files[0]);

      return g_file_get_path (file);
    }
  return last && g_file_test (last, G_FILE_TEST_EXISTS) ? g_steal_pointer (&last) : NULL;
}

/* One farm, one window: a second one would show what the first has changed since, and take back
 * its work. One that shows no farm yet is used; a demo has a farm of its own each time. */
static BedWindow *
find_window (GtkApplication *application, const char *path)
{
  BedWindow *window = path ? bed_window_find (application, path) : NULL;

  for (GList *l = gtk_application_get_windows (application); l && !window; l = l->next)
    if (BED_IS_WINDOW (l->data) && !bed_window_get_farm (l->data))
      window = l->data;
  return window;
}

static int
bed_application_command_line (GApplication *application, GApplicationCommandLine *line)
{
  GVariantDict *dict = g_application_command_line_get_options_dict (line);
  g_autofree char *path = dup_path (line);
  BedWindow *window = find_window (GTK_APPLICATION (application), path);
  const char *page = NULL;

  if (!window)
    {
      window = bed_window_new (GTK_APPLICATION (application));
      bed_settings_restore_window (GTK_WINDOW (window));
    }
  if (path || g_variant_dict_contains (dict, "demo"))
    bed_window_present_first (window);
  else
    gtk_window_present (GTK_WINDOW (window));
  if (g_variant_dict_contains (dict, "demo"))
    gtk_widget_activate_action (GTK_WIDGET (window), "win.demo", NULL);
  else if (path && !bed_window_get_farm (window))
    bed_window_open (window, path);
  if (g_variant_dict_lookup (dict, "page", "&s", &page) && !bed_window_show_page (window, page))
    g_application_command_line_printerr (line, _ ("There is no page called %s.\n"), page);
  return 0;
}

static void
bed_application_startup (GApplication *application)
{
  G_APPLICATION_CLASS (bed_application_parent_class)->startup (application);
  bed_manual_begin ();
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
