#include "app/widgets/topic.h"

#define TOPIC "bed-topic"

void
bed_topic_set (GtkWidget *widget, const char *topic)
{
  g_return_if_fail (GTK_IS_WIDGET (widget) && topic != NULL);
  g_object_set_data_full (G_OBJECT (widget), TOPIC, g_strdup (topic), g_free);
}

const char *
bed_topic_find (GtkWindow *window)
{
  g_return_val_if_fail (GTK_IS_WINDOW (window), NULL);
  GtkWidget *at = gtk_window_get_focus (window);
  const char *topic = NULL;

  for (at = at ? at : GTK_WIDGET (window); at && !topic; at = gtk_widget_get_parent (at))
    topic = g_object_get_data (G_OBJECT (at), TOPIC);
  if (!topic && gtk_window_get_transient_for (window))
    topic = bed_topic_find (gtk_window_get_transient_for (window));
  return topic;
}
