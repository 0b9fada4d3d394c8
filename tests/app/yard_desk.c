#include "yard_desk.h"

static void
settle (GtkWidget *widget)
{
  for (int i = 0; i < 500 && !(gtk_widget_get_mapped (widget) && gtk_widget_get_width (widget) > 0);
       i++)
    g_main_context_iteration (NULL, TRUE);
  g_assert_cmpint (gtk_widget_get_width (widget), >, 0);
}

void
yard_desk_show (YardDesk *desk)
{
  desk->window = gtk_window_new ();
  gtk_window_set_default_size (GTK_WINDOW (desk->window), 800, 600);
  gtk_window_set_child (GTK_WINDOW (desk->window), desk->view);
  gtk_window_present (GTK_WINDOW (desk->window));
  settle (desk->view);
  gtk_window_set_focus (GTK_WINDOW (desk->window), NULL); /* a new window gives it to the first */
}

void
yard_desk_close (YardDesk *desk)
{
  gpointer view = desk->view;

  g_object_add_weak_pointer (G_OBJECT (view), &view);
  gtk_window_destroy (GTK_WINDOW (desk->window));
  for (int i = 0; i < 50 && view; i++)
    g_main_context_iteration (NULL, FALSE);
  g_assert_null (view);
}

gpointer
yard_desk_find (YardDesk *desk, GType type)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (desk->view);

  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
    {
      g_autoptr (GObject) controller = g_list_model_get_item (controllers, i);
      if (G_TYPE_CHECK_INSTANCE_TYPE (controller, type))
        return controller;
    }
  g_assert_not_reached ();
}

gboolean
yard_desk_press (YardDesk *desk, guint key, GdkModifierType state)
{
  gboolean handled = FALSE;
  gpointer keys = yard_desk_find (desk, GTK_TYPE_EVENT_CONTROLLER_KEY);

  g_signal_emit_by_name (keys, "key-pressed", key, 0, state, &handled);
  g_signal_emit_by_name (keys, "key-released", key, 0, state);
  return handled;
}
