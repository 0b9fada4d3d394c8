#include "app/widgets/build.h"

#include <adwaita.h>

#include "app/widgets/plot.h"

#define MARGIN 48 /* px, of a screen beside a dialog */

static GtkWidget *
fill (GtkOrientation orientation, int spacing, GtkWidget *first, va_list others)
{
  GtkWidget *box = gtk_box_new (orientation, spacing);

  for (GtkWidget *child = first; child; child = va_arg (others, GtkWidget *))
    gtk_box_append (GTK_BOX (box), child);
  return box;
}

GtkWidget *
bed_row_new (int spacing, GtkWidget *first, ...)
{
  GtkWidget *box;
  va_list others;

  va_start (others, first);
  box = fill (GTK_ORIENTATION_HORIZONTAL, spacing, first, others);
  va_end (others);
  return box;
}

GtkWidget *
bed_column_new (int spacing, GtkWidget *first, ...)
{
  GtkWidget *box;
  va_list others;

  va_start (others, first);
  box = fill (GTK_ORIENTATION_VERTICAL, spacing, first, others);
  va_end (others);
  return box;
}

void
bed_box_clear (GtkWidget *box)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (box)))
    gtk_widget_unparent (child);
}

GtkWidget *
bed_grid_new (int column_spacing, int row_spacing)
{
  GtkWidget *grid = gtk_grid_new ();

  gtk_grid_set_column_spacing (GTK_GRID (grid), column_spacing);
  gtk_grid_set_row_spacing (GTK_GRID (grid), row_spacing);
  return grid;
}

GtkWidget *
bed_label_new (const char *text, const char *style)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  return style ? bed_styled (label, style) : label;
}

/* What it is told to say itself comes first, and what is around it where nothing is cut. */
static gboolean
tell_whole_cb (GtkLabel *label, int x, int y, gboolean keyboard, GtkTooltip *tooltip)
{
  if (gtk_widget_get_tooltip_text (GTK_WIDGET (label))
      || !pango_layout_is_ellipsized (gtk_label_get_layout (label)))
    return FALSE;
  gtk_tooltip_set_text (tooltip, gtk_label_get_text (label));
  return TRUE;
}

GtkWidget *
bed_cut_off (GtkWidget *label)
{
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_widget_set_has_tooltip (label, TRUE);
  g_signal_connect (label, "query-tooltip", G_CALLBACK (tell_whole_cb), NULL);
  return label;
}

GtkWidget *
bed_line_new (const char *text, const char *style)
{
  return bed_cut_off (bed_label_new (text, style));
}

GtkWidget *
bed_words_new (const char *text, const char *style)
{
  GtkWidget *label = bed_label_new (text, style);

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  return label;
}

static void
set_up_text_cb (GtkListItemFactory *factory, GtkListItem *item, gpointer cut)
{
  GtkWidget *label = bed_label_new (NULL, NULL);

  if (GPOINTER_TO_INT (cut) != PANGO_ELLIPSIZE_NONE)
    bed_cut_off (label);
  gtk_list_item_set_child (item, label);
}

static void
show_text_cb (GtkListItemFactory *factory, GtkListItem *item)
{
  gtk_label_set_label (GTK_LABEL (gtk_list_item_get_child (item)),
                       gtk_string_object_get_string (gtk_list_item_get_item (item)));
}

GtkListItemFactory *
bed_text_factory_new (PangoEllipsizeMode cut)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();

  g_signal_connect (factory, "setup", G_CALLBACK (set_up_text_cb), GINT_TO_POINTER (cut));
  g_signal_connect (factory, "bind", G_CALLBACK (show_text_cb), NULL);
  return factory;
}

GtkWidget *
bed_styled (GtkWidget *widget, const char *style)
{
  gtk_widget_add_css_class (widget, style);
  return widget;
}

GtkWidget *
bed_named (GtkWidget *widget, const char *name)
{
  /* Since GTK 4.10 a button is called by the label in it, which would go before. */
  gtk_accessible_reset_relation (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_RELATION_LABELLED_BY);
  gtk_accessible_update_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  return widget;
}

void
bed_entry_hint (GtkWidget *entry, const char *text)
{
  gtk_entry_set_placeholder_text (GTK_ENTRY (entry), text);
  gtk_widget_set_tooltip_text (entry, text);
}

GtkWidget *
bed_button_new (const char *label, GCallback clicked, gpointer self)
{
  GtkWidget *button = gtk_button_new_with_label (label);

  g_signal_connect_swapped (button, "clicked", clicked, self);
  return button;
}

GtkWidget *
bed_button_add (GtkWidget *box, const char *label, GCallback clicked, gpointer self)
{
  GtkWidget *button = bed_button_new (label, clicked, self);

  gtk_box_append (GTK_BOX (box), button);
  return button;
}

GtkWidget *
bed_action_button_new (const char *label, const char *action)
{
  GtkWidget *button = gtk_button_new_with_label (label);

  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
  return button;
}

GtkWidget *
bed_icon_button_new (const char *icon, const char *name)
{
  GtkWidget *button = bed_styled (gtk_button_new_from_icon_name (icon), "flat");

  gtk_widget_set_tooltip_text (button, name);
  return bed_named (button, name);
}

GtkWidget *
bed_sketch_new (int width, int height, GtkDrawingAreaDrawFunc draw, gpointer data,
                GDestroyNotify free)
{
  GtkDrawingArea *sketch = g_object_new (GTK_TYPE_DRAWING_AREA, "accessible-role",
                                         GTK_ACCESSIBLE_ROLE_PRESENTATION, NULL);

  gtk_drawing_area_set_content_width (sketch, width);
  gtk_drawing_area_set_content_height (sketch, height);
  gtk_drawing_area_set_draw_func (sketch, draw, data, free);
  return GTK_WIDGET (sketch);
}

/* GTK 4.8 leads the keyboard into what is not opened, and so is in no window. */
GtkWidget *
bed_expander_new (const char *title, GtkWidget *child)
{
  GtkWidget *expander = bed_named (gtk_expander_new (title), title);

  gtk_expander_set_child (GTK_EXPANDER (expander), child);
  g_object_bind_property (expander, "expanded", child, "visible", G_BINDING_SYNC_CREATE);
  return expander;
}

GtkWidget *
bed_scrolled_new (GtkWidget *content)
{
  GtkWidget *scrolled = gtk_scrolled_window_new ();

  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), content);
  return scrolled;
}

GtkWidget *
bed_window_build (GtkWidget *window, GtkWidget *inside, const char *title, GtkWidget *content)
{
  GtkWidget *bar = adw_header_bar_new ();

  gtk_widget_set_vexpand (content, TRUE);
  adw_window_set_content (ADW_WINDOW (window), bed_column_new (0, bar, content, NULL));
  gtk_window_set_title (GTK_WINDOW (window), title);
  gtk_window_set_transient_for (GTK_WINDOW (window), GTK_WINDOW (gtk_widget_get_root (inside)));
  gtk_window_set_modal (GTK_WINDOW (window), TRUE);
  return bar;
}

void
bed_window_set_size (GtkWidget *window, int width, int height)
{
  GListModel *monitors = gdk_display_get_monitors (gtk_widget_get_display (window));
  g_autoptr (GdkMonitor) monitor = g_list_model_get_item (monitors, 0);
  GdkRectangle screen = { 0, 0, G_MAXINT, G_MAXINT };

  if (monitor)
    gdk_monitor_get_geometry (monitor, &screen);
  gtk_window_set_default_size (
      GTK_WINDOW (window), MIN (bed_plot_to_px (window, width), screen.width - MARGIN),
      height < 0 ? -1 : MIN (bed_plot_to_px (window, height), screen.height - MARGIN));
}

void
bed_window_close_on_escape (GtkWidget *window)
{
  GtkEventController *keys = gtk_shortcut_controller_new ();

  gtk_shortcut_controller_add_shortcut (
      GTK_SHORTCUT_CONTROLLER (keys), gtk_shortcut_new (gtk_keyval_trigger_new (GDK_KEY_Escape, 0),
                                                        gtk_named_action_new ("window.close")));
  gtk_widget_add_controller (window, keys);
}

void
bed_signal_new (GType type, const char *name, guint n, ...)
{
  va_list types;

  va_start (types, n);
  g_signal_new_valist (name, type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, n, types);
  va_end (types);
}
