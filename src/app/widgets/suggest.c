#include "app/widgets/suggest.h"

#include "app/widgets/build.h"
#include "app/widgets/plot.h"

#define LEAST_WIDTH 340 /* px: a name and what is said of it, however narrow the entry */

struct _BedSuggest
{
  GtkPopover parent_instance;
  GtkWidget *list;
  GtkWidget *scrolled;
};

BED_DEFINE_TYPE (BedSuggest, bed_suggest, GTK_TYPE_POPOVER)

static void
free_suggestion (gpointer data)
{
  BedSuggestion *suggestion = data;

  g_free ((char *) suggestion->text);
  g_free (suggestion);
}

static void
choose (BedSuggest *self, GtkListBoxRow *row)
{
  BedSuggestion *suggestion = g_object_get_data (G_OBJECT (row), "suggestion");
  g_autofree char *text = g_strdup (suggestion->text); /* the row may go while it is told */
  guint tag = suggestion->tag;
  gint64 id = suggestion->id;

  gtk_popover_popdown (GTK_POPOVER (self));
  g_signal_emit_by_name (self, "chosen", tag, id, text);
}

static void
move (BedSuggest *self, int step)
{
  GtkListBox *list = GTK_LIST_BOX (self->list);
  GtkListBoxRow *row = gtk_list_box_get_selected_row (list);
  int at = row ? gtk_list_box_row_get_index (row) : -1;
  GtkAdjustment *adjustment;
  graphene_point_t corner;

  row = gtk_list_box_get_row_at_index (list, MAX (0, at + step));
  if (!row || !gtk_list_box_row_get_selectable (row))
    return;
  gtk_list_box_select_row (list, row);
  adjustment = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scrolled));
  if (gtk_widget_compute_point (GTK_WIDGET (row), self->list, &GRAPHENE_POINT_INIT (0, 0), &corner))
    gtk_adjustment_clamp_page (adjustment, corner.y,
                               corner.y + gtk_widget_get_height (GTK_WIDGET (row)));
}

static gboolean
key_pressed_cb (BedSuggest *self, guint keyval, guint keycode, GdkModifierType state)
{
  if (!gtk_widget_get_visible (GTK_WIDGET (self)))
    return GDK_EVENT_PROPAGATE;
  switch (keyval)
    {
    case GDK_KEY_Down:
      move (self, 1);
      return GDK_EVENT_STOP;
    case GDK_KEY_Up:
      move (self, -1);
      return GDK_EVENT_STOP;
    case GDK_KEY_Escape:
      gtk_popover_popdown (GTK_POPOVER (self));
      return GDK_EVENT_STOP;
    default:
      return GDK_EVENT_PROPAGATE;
    }
}

static void
bed_suggest_class_init (BedSuggestClass *klass)
{
  bed_signal_new (BED_TYPE_SUGGEST, "chosen", 3, G_TYPE_UINT, G_TYPE_INT64, G_TYPE_STRING);
}

BedSuggest *
bed_suggest_new (GtkWidget *over, GtkWidget *entry)
{
  BedSuggest *self = g_object_new (BED_TYPE_SUGGEST, NULL);
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();

  self->list = gtk_list_box_new ();
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (self->list), GTK_SELECTION_BROWSE);
  gtk_widget_set_can_focus (self->list, FALSE);
  g_signal_connect_swapped (self->list, "row-activated", G_CALLBACK (choose), self);

  self->scrolled = bed_scrolled_new (self->list);
  gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (self->scrolled), 300);
  gtk_scrolled_window_set_propagate_natural_height (GTK_SCROLLED_WINDOW (self->scrolled), TRUE);

  gtk_popover_set_child (GTK_POPOVER (self), self->scrolled);
  /* It must not take the keyboard from the entry. */
  gtk_popover_set_autohide (GTK_POPOVER (self), FALSE);
  gtk_popover_set_has_arrow (GTK_POPOVER (self), FALSE);
  gtk_popover_set_position (GTK_POPOVER (self), GTK_POS_BOTTOM);
  gtk_widget_set_halign (GTK_WIDGET (self), GTK_ALIGN_START);
  gtk_widget_add_css_class (GTK_WIDGET (self), "suggestions");
  gtk_widget_set_parent (GTK_WIDGET (self), over);
  /* Else it would outlive what it is a child of. */
  g_signal_connect_object (over, "destroy", G_CALLBACK (gtk_widget_unparent), self,
                           G_CONNECT_SWAPPED);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_object (keys, "key-pressed", G_CALLBACK (key_pressed_cb), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (focus, "leave", G_CALLBACK (gtk_popover_popdown), self,
                           G_CONNECT_SWAPPED);
  gtk_widget_add_controller (entry, keys);
  gtk_widget_add_controller (entry, focus);
  return self;
}

void
bed_suggest_clear (BedSuggest *self)
{
  GtkListBoxRow *row;

  while ((row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), 0)))
    gtk_list_box_remove (GTK_LIST_BOX (self->list), GTK_WIDGET (row));
}

void
bed_suggest_add (BedSuggest *self, const BedSuggestion *suggestion)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *text = bed_label_new (suggestion->text, NULL);
  BedSuggestion *kept = g_memdup2 (suggestion, sizeof *suggestion);

  kept->text = g_strdup (suggestion->text);
  kept->detail = NULL;
  g_object_set_data_full (G_OBJECT (row), "suggestion", kept, free_suggestion);
  gtk_widget_set_hexpand (text, TRUE);
  gtk_box_append (GTK_BOX (line), text);
  if (suggestion->detail)
    {
      GtkWidget *detail = gtk_label_new (suggestion->detail);

      gtk_widget_add_css_class (detail, "dim-label");
      bed_cut_off (detail);
      gtk_label_set_max_width_chars (GTK_LABEL (detail), 36);
      gtk_box_append (GTK_BOX (line), detail);
    }
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), line);
  bed_named (row, suggestion->text);
  gtk_list_box_append (GTK_LIST_BOX (self->list), row);
}

void
bed_suggest_say (BedSuggest *self, const char *text)
{
  GtkWidget *row = gtk_list_box_row_new ();

  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), bed_label_new (text, NULL));
  gtk_list_box_row_set_selectable (GTK_LIST_BOX_ROW (row), FALSE);
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row), FALSE);
  bed_named (row, text);
  gtk_list_box_append (GTK_LIST_BOX (self->list), row);
}

void
bed_suggest_present (BedSuggest *self)
{
  GtkListBoxRow *first = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), 0);

  if (!first)
    {
      gtk_popover_popdown (GTK_POPOVER (self));
      return;
    }
  if (!gtk_list_box_row_get_selectable (first))
    first = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), 1);
  gtk_list_box_select_row (GTK_LIST_BOX (self->list), first);
  gtk_widget_set_size_request (
      GTK_WIDGET (self),
      MAX (gtk_widget_get_width (gtk_widget_get_parent (GTK_WIDGET (self))),
           bed_plot_to_px (GTK_WIDGET (self), LEAST_WIDTH)),
      -1);
  gtk_popover_popup (GTK_POPOVER (self));
}

gboolean
bed_suggest_take (BedSuggest *self)
{
  GtkListBoxRow *row = gtk_list_box_get_selected_row (GTK_LIST_BOX (self->list));

  if (!gtk_widget_get_visible (GTK_WIDGET (self)) || !row)
    return FALSE;
  choose (self, row);
  return TRUE;
}
