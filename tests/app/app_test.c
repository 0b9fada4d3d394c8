#include "app_test.h"

#include "model/farm/kinds.h"

#include <string.h>

void
app_begin (void)
{
  g_autoptr (GtkCssProvider) style = gtk_css_provider_new ();

  adw_init ();
  gtk_css_provider_load_from_resource (style, "/org/bedlog/Bedlog/style.css");
  gtk_style_context_add_provider_for_display (gdk_display_get_default (),
                                              GTK_STYLE_PROVIDER (style),
                                              GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
}

static gboolean
over_cb (gpointer data)
{
  *(gboolean *) data = TRUE;
  return G_SOURCE_REMOVE;
}

void
app_settle (guint ms)
{
  gboolean over = FALSE;

  g_timeout_add (ms, over_cb, &over);
  while (!over)
    g_main_context_iteration (NULL, TRUE);
}

GtkWidget *
app_show (GtkWidget *content)
{
  GtkWidget *window = gtk_window_new ();

  gtk_window_set_default_size (GTK_WINDOW (window), 1000, 700);
  gtk_window_set_child (GTK_WINDOW (window), content);
  gtk_window_present (GTK_WINDOW (window));
  app_settle (100);
  return window;
}

static void
gone_cb (gpointer data, GObject *where)
{
  *(gboolean *) data = TRUE;
}

void
app_close (GtkWidget *window, GtkWidget *widget)
{
  gboolean gone = widget == NULL;

  if (widget)
    g_object_weak_ref (G_OBJECT (widget), gone_cb, &gone);
  gtk_window_destroy (GTK_WINDOW (window));
  app_settle (50);
  g_assert_true (gone);
}

/* Asked again and again: the size that a window is first given, and GTK then takes for the one that
 * is wanted, may come after what is asked. */
void
app_widen (GtkWidget *window, int width)
{
  for (int i = 0; i < 100 && ABS (gtk_widget_get_width (window) - width) >= 50; i++)
    {
      gtk_window_set_default_size (GTK_WINDOW (window), width, 600);
      app_settle (50);
    }
  g_assert_cmpint (ABS (gtk_widget_get_width (window) - width), <, 50);
  app_settle (100);
}

static GtkWidget *
find (GtkWidget *inside, GType type, gboolean (*matches) (GtkWidget *widget, const char *text),
      const char *text)
{
  if (g_type_is_a (G_OBJECT_TYPE (inside), type) && matches (inside, text))
    return inside;
  for (GtkWidget *child = gtk_widget_get_first_child (inside); child;
       child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find (child, type, matches, text);

      if (found)
        return found;
    }
  return NULL;
}

static gboolean
is_button (GtkWidget *widget, const char *text)
{
  return g_strcmp0 (gtk_button_get_label (GTK_BUTTON (widget)), text) == 0;
}

static gboolean
is_label (GtkWidget *widget, const char *text)
{
  return strstr (gtk_label_get_label (GTK_LABEL (widget)), text) != NULL;
}

GtkWidget *
app_find_button (GtkWidget *inside, const char *label)
{
  return find (inside, GTK_TYPE_BUTTON, is_button, label);
}

GtkWidget *
app_find_label (GtkWidget *inside, const char *part)
{
  return find (inside, GTK_TYPE_LABEL, is_label, part);
}

gpointer
app_find_of_type (gpointer inside, GType type)
{
  if (G_TYPE_CHECK_INSTANCE_TYPE (inside, type))
    return inside;
  for (GtkWidget *child = gtk_widget_get_first_child (inside); child;
       child = gtk_widget_get_next_sibling (child))
    {
      gpointer found = app_find_of_type (child, type);

      if (found)
        return found;
    }
  return NULL;
}

BedFieldRow *
app_find_row (gpointer inside, const char *field)
{
  if (BED_IS_FIELD_ROW (inside) && g_str_equal (bed_field_row_get_field (inside)->name, field))
    return inside;
  for (GtkWidget *child = gtk_widget_get_first_child (inside); child;
       child = gtk_widget_get_next_sibling (child))
    {
      BedFieldRow *found = app_find_row (child, field);

      if (found)
        return found;
    }
  return NULL;
}

void
app_paste (GtkWidget *entry, const char *text)
{
  gdk_clipboard_set_text (gtk_widget_get_clipboard (entry), text);
  g_signal_emit_by_name (gtk_editable_get_delegate (GTK_EDITABLE (entry)), "paste-clipboard");
  app_settle (50);
}
