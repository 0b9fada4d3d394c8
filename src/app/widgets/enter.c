#include "app/widgets/enter.h"

/* What in it had the keyboard last, if it is still seen. Typing goes on behind a text: a stack that
 * shows it again has selected all of it, and the next key would type over it. */
static gboolean
go_back (GtkWidget *widget)
{
  GtkWidget *last = widget, *child;
  gboolean taken;

  while ((child = gtk_widget_get_focus_child (last)))
    last = child;
  if (last == widget || !gtk_widget_get_mapped (last))
    return FALSE;
  taken = gtk_widget_grab_focus (last);
  if (taken && GTK_IS_TEXT (last))
    gtk_editable_set_position (GTK_EDITABLE (last), -1);
  return taken;
}

/* Else GTK would go on from where the keyboard was, one further at each visit. */
static void
forget_focus (GtkWidget *widget)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_focus_child (widget)))
    {
      gtk_widget_set_focus_child (widget, NULL);
      widget = child;
    }
}

gboolean
bed_enter (GtkWidget *widget)
{
  if (!widget)
    return FALSE;
  if (go_back (widget))
    return TRUE;
  forget_focus (widget);
  return gtk_widget_grab_focus (widget) || gtk_widget_child_focus (widget, GTK_DIR_TAB_FORWARD);
}
