#include "app/widgets/in_view.h"

void
bed_bring_in_view (GtkWidget *widget)
{
  GtkWidget *viewport = gtk_widget_get_ancestor (widget, GTK_TYPE_VIEWPORT);
  graphene_rect_t bounds;
  GtkAdjustment *down;
  double value, page, top, bottom;

  if (!viewport || !gtk_widget_compute_bounds (widget, viewport, &bounds))
    return;
  down = gtk_scrollable_get_vadjustment (GTK_SCROLLABLE (viewport));
  value = gtk_adjustment_get_value (down);
  page = gtk_adjustment_get_page_size (down);
  top = value + bounds.origin.y;
  bottom = top + bounds.size.height;
  /* Setting it ends GTK's own scrolling, which clamp_page() would leave to go on to its end. */
  gtk_adjustment_set_value (down, CLAMP (value, bottom - page, MAX (top, bottom - page)));
}
