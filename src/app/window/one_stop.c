#include "app/window/one_stop.h"

#include "app/widgets/build.h"

struct _BedOneStop
{
  AdwBin parent_instance;
};

BED_DEFINE_TYPE (BedOneStop, bed_one_stop, ADW_TYPE_BIN)

static gboolean
bed_one_stop_focus (GtkWidget *widget, GtkDirectionType direction)
{
  GtkRoot *root = gtk_widget_get_root (widget);
  GtkWidget *focus = root ? gtk_root_get_focus (root) : NULL;
  GtkWidget *child = adw_bin_get_child (ADW_BIN (widget));
  GtkListBoxRow *chosen
      = GTK_IS_LIST_BOX (child) ? gtk_list_box_get_selected_row (GTK_LIST_BOX (child)) : NULL;
  gboolean tab = direction == GTK_DIR_TAB_FORWARD || direction == GTK_DIR_TAB_BACKWARD;

  if (tab && focus && gtk_widget_is_ancestor (focus, widget))
    return FALSE;
  if (tab && chosen)
    return gtk_widget_grab_focus (GTK_WIDGET (chosen));
  return GTK_WIDGET_CLASS (bed_one_stop_parent_class)->focus (widget, direction);
}

static void
bed_one_stop_class_init (BedOneStopClass *klass)
{
  GTK_WIDGET_CLASS (klass)->focus = bed_one_stop_focus;
}
