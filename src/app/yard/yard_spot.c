#include "app/yard/yard_spot.h"

#include "app/widgets/build.h"

struct _BedYardSpot
{
  GtkWidget parent_instance;
  gint64 id;
};

G_DEFINE_FINAL_TYPE (BedYardSpot, bed_yard_spot, GTK_TYPE_WIDGET)

static void
focus_cb (BedYardSpot *self)
{
  g_signal_emit_by_name (self, "focused");
}

static void
press_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  g_signal_emit_by_name (widget, "pressed");
}

static void
bed_yard_spot_class_init (BedYardSpotClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  bed_signal_new (BED_TYPE_YARD_SPOT, "focused", 0);
  bed_signal_new (BED_TYPE_YARD_SPOT, "pressed", 0);
  /* The accessible tree offers a widget's own actions. */
  gtk_widget_class_install_action (widget_class, "spot.press", NULL, press_cb);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_LIST_ITEM);
  gtk_widget_class_set_css_name (widget_class, "spot");
}

static void
bed_yard_spot_init (BedYardSpot *self)
{
  GtkEventController *focus = gtk_event_controller_focus_new ();

  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_can_target (GTK_WIDGET (self), FALSE);
  g_signal_connect_swapped (focus, "enter", G_CALLBACK (focus_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), focus);
}

GtkWidget *
bed_yard_spot_new (gint64 id)
{
  BedYardSpot *self = g_object_new (BED_TYPE_YARD_SPOT, NULL);

  self->id = id;
  return GTK_WIDGET (self);
}

gint64
bed_yard_spot_get_id (BedYardSpot *self)
{
  g_return_val_if_fail (BED_IS_YARD_SPOT (self), 0);
  return self->id;
}

void
bed_yard_spot_set_words (BedYardSpot *self, const char *name, const char *description)
{
  g_return_if_fail (BED_IS_YARD_SPOT (self));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, description, -1);
}
