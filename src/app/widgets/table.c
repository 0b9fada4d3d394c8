#include "app/widgets/table.h"

#include <glib/gi18n.h>
#include <string.h>

#include "app/widgets/build.h"
#include "app/widgets/compat.h"
#include "app/widgets/first_rows.h"
#include "app/widgets/table_cell.h"
#include "app/widgets/table_menu.h"
#include "app/widgets/trouble.h"

#define FILTER_AFTER 150 /* ms after the last key */
#define OF_NONE "0"      /* where, until it is known of which record */

struct _BedTable
{
  BedPart parent_instance;
  BedFarm *farm;
  const BedTableSpec *spec;
  BedTableColumn *columns; /* the spec's, resolved */
  char *where;
  char *where_text; /* ?2 in it */
  char *filter;
  GtkWidget *box;
  GtkWidget *search;
  GtkWidget *none; /* said over a table without rows */
  GtkWidget *trouble;
  guint width_source;
  guint trouble_source; /* a row may be asked for while it is being laid out */
  GtkColumnView *view;
  GtkWidget *menu;
  GtkSelectionModel *selection;
  gint64 selected; /* as it was last told */
  BedList *list;
  GtkSliceListModel *shown; /* of the list; the selection's */
  /* GTK 4.8 does not say which column sorts. Each column has a sorter that notes
   * that it was asked; comparing these two with the view's sorter tells which
   * column it asks first, and the answer which way round. */
  GObject *sentinels[2];
  int asked;
};

BED_DEFINE_TYPE (BedTable, bed_table, BED_TYPE_PART)

typedef struct
{
  BedTable *table; /* outlives its columns */
  int column;
} Asking;

static int
ask_column_cb (gconstpointer a, gconstpointer b, gpointer data)
{
  Asking *asking = data;

  if (asking->table->asked < 0)
    asking->table->asked = asking->column;
  return GTK_ORDERING_SMALLER;
}

static char *
dup_order (BedTable *self)
{
  GtkSorter *sorter = gtk_column_view_get_sorter (self->view);
  GtkOrdering answer;
  const BedTableColumn *column;

  self->asked = -1;
  answer = gtk_sorter_compare (sorter, self->sentinels[0], self->sentinels[1]);
  if (self->asked < 0)
    return g_strdup (self->spec->order);
  column = &self->columns[self->asked];
  if (column->order)
    return g_strdup_printf ("%s %s, id", column->order,
                            answer == GTK_ORDERING_SMALLER ? "ASC" : "DESC");
  return g_strdup_printf ("\"%s\" %s, id", column->column,
                          answer == GTK_ORDERING_SMALLER ? "ASC" : "DESC");
}

/* What is typed is ?1: it is no part of the question. */
static char *
dup_where (BedTable *self, const char *filter)
{
  return g_strdup_printf ("%s AND %s%s%s%s", self->spec->where ? self->spec->where : "1",
                          self->where ? self->where : "1", filter ? " AND bed_found (" : "",
                          filter ? self->spec->search : "", filter ? ", ?1)" : "");
}

static void allow (BedTable *self);

static void
selection_changed_cb (BedTable *self)
{
  self->selected = bed_table_get_selected (self);
  allow (self);
  g_signal_emit_by_name (self, "selected", self->selected);
}

static void
say_when_empty (BedTable *self)
{
  gboolean filtered = self->filter && *self->filter;

  gtk_label_set_label (GTK_LABEL (self->none), filtered            ? _ ("Nothing found")
                                               : self->spec->empty ? _ (self->spec->empty)
                                                                   : _ ("Nothing here yet"));
  gtk_widget_set_visible (self->none, g_list_model_get_n_items (G_LIST_MODEL (self->list)) == 0
                                          && g_strcmp0 (self->where, OF_NONE) != 0
                                          && !bed_list_get_trouble (self->list));
}

/* GTK does not tell that what was selected is gone. */
static void
items_changed_cb (BedTable *self)
{
  say_when_empty (self);
  if (bed_table_get_selected (self) != self->selected)
    selection_changed_cb (self);
}

static gboolean
say_trouble_cb (gpointer data)
{
  BedTable *self = data;

  self->trouble_source = 0;
  bed_trouble_say (self->trouble, bed_list_get_trouble (self->list));
  say_when_empty (self);
  return G_SOURCE_REMOVE;
}

static void
trouble_cb (BedTable *self)
{
  if (!self->trouble_source)
    self->trouble_source = g_idle_add_full (G_PRIORITY_HIGH_IDLE, say_trouble_cb, self, NULL);
}

static GtkSelectionModel *
make_selection (BedTable *self)
{
  GListModel *rows = g_object_ref (G_LIST_MODEL (self->list));
  GListModel *model = G_LIST_MODEL (bed_first_rows_new (rows, GTK_WIDGET (self->view)));
  GtkSingleSelection *one;

  self->shown = GTK_SLICE_LIST_MODEL (model);
  if (self->spec->select == BED_TABLE_SELECT_MANY)
    return GTK_SELECTION_MODEL (gtk_multi_selection_new (model));
  one = g_object_new (GTK_TYPE_SINGLE_SELECTION, "autoselect", FALSE, "can-unselect", TRUE, NULL);
  gtk_single_selection_set_model (one, model);
  g_object_unref (model);
  gtk_single_selection_set_selected (one, GTK_INVALID_LIST_POSITION);
  return GTK_SELECTION_MODEL (one);
}

/* Those of @ids that are still among the rows; the first is brought in view. */
static void
select_again (BedTable *self, GArray *ids)
{
  bed_table_select (self, g_array_index (ids, gint64, 0));
  for (guint i = 1; i < ids->len; i++)
    {
      int at = bed_list_find (self->list, g_array_index (ids, gint64, i));

      if (at >= 0)
        gtk_selection_model_select_item (self->selection, at, FALSE);
    }
}

/* A new sort or filter is a new model in the view: GTK 4.8 would ask an old one
 * for every row there is. */
static void
ask_again (BedTable *self)
{
  const char *filter = self->spec->search && self->filter && *self->filter ? self->filter : NULL;
  g_autofree char *where = dup_where (self, filter);
  g_autofree char *order = dup_order (self);
  g_autoptr (GArray) selected = self->list ? bed_table_dup_selected (self) : NULL;
  BedListSpec spec
      = { self->spec->source, where, filter, order, self->spec->kinds, self->where_text };

  g_clear_object (&self->list);
  g_clear_object (&self->selection);
  self->list = bed_list_new (self->farm, &spec);
  self->selection = make_selection (self);
  gtk_column_view_set_model (self->view, self->selection);
  if (selected && selected->len)
    select_again (self, selected);
  g_signal_connect_object (self->selection, "selection-changed", G_CALLBACK (selection_changed_cb),
                           self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->list, "items-changed", G_CALLBACK (items_changed_cb), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (self->list, "trouble", G_CALLBACK (trouble_cb), self, G_CONNECT_SWAPPED);
  bed_trouble_say (self->trouble, bed_list_get_trouble (self->list));
  say_when_empty (self);
  if (selected && selected->len && !bed_table_get_selected (self))
    selection_changed_cb (self);
}

static void
search_changed_cb (BedTable *self)
{
  bed_table_set_filter (self, gtk_editable_get_text (GTK_EDITABLE (self->search)));
}

static void
search_stopped_cb (BedTable *self)
{
  gtk_editable_set_text (GTK_EDITABLE (self->search), "");
  gtk_widget_grab_focus (GTK_WIDGET (self->view));
}

/* Enter in the filter opens the first row found. */
static void
search_activated_cb (BedTable *self)
{
  if (g_list_model_get_n_items (G_LIST_MODEL (self->list)) == 0)
    return;
  bed_table_select (self, bed_list_get_id (self->list, 0));
  gtk_widget_grab_focus (GTK_WIDGET (self->view));
}

/* --- what is done with a row -------------------------------------------------------- */

static gboolean
is_handled (BedTable *self, const char *signal)
{
  return g_signal_has_handler_pending (self, g_signal_lookup (signal, BED_TYPE_TABLE), 0, FALSE);
}

static void
allow (BedTable *self)
{
  gboolean chosen = bed_table_get_selected (self) != 0;
  gboolean may_write = chosen && !bed_farm_get_read_only_why (self->farm);

  gtk_widget_action_set_enabled (GTK_WIDGET (self), "table.open",
                                 chosen && is_handled (self, "opened"));
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "table.change",
                                 may_write && is_handled (self, "change"));
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "table.remove",
                                 may_write && is_handled (self, "remove"));
}

static void
row_action_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  BedTable *self = BED_TABLE (widget);
  gint64 id = bed_table_get_selected (self);

  if (g_strcmp0 (action, "table.open") == 0)
    g_signal_emit_by_name (self, "opened", id);
  else if (g_strcmp0 (action, "table.change") == 0)
    g_signal_emit_by_name (self, "change", id);
  else
    g_signal_emit_by_name (self, "remove");
}

/* Where there is nothing to read Enter puts right. */
static void
activate_cb (BedTable *self, guint position)
{
  gint64 id = bed_list_get_id (self->list, position);

  if (is_handled (self, "opened"))
    g_signal_emit_by_name (self, "opened", id);
  else if (!bed_farm_get_read_only_why (self->farm))
    g_signal_emit_by_name (self, "change", id);
}

/* --- the menu: heads cannot be reached by keyboard in GTK 4.8, either ----------------- */

static void
sort_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  BedTable *self = BED_TABLE (widget);
  g_autoptr (GtkColumnViewColumn) column = NULL;
  gint32 at;

  g_variant_get (parameter, "i", &at);
  column = g_list_model_get_item (gtk_column_view_get_columns (self->view), ABS (at) - 1);
  if (column)
    gtk_column_view_sort_by_column (self->view, column,
                                    at > 0 ? GTK_SORT_ASCENDING : GTK_SORT_DESCENDING);
}

static void
show_menu (BedTable *self, int x, int y)
{
  if (!self->menu)
    {
      const BedTableDeeds deeds = { is_handled (self, "opened"), is_handled (self, "change"),
                                    is_handled (self, "remove") };
      g_autoptr (GMenu) menu = bed_table_menu_new (&deeds, self->columns, self->spec->n_columns);

      self->menu = gtk_popover_menu_new_from_model (G_MENU_MODEL (menu));
      gtk_widget_set_halign (self->menu, GTK_ALIGN_START);
      gtk_popover_set_has_arrow (GTK_POPOVER (self->menu), FALSE);
      gtk_widget_set_parent (self->menu, GTK_WIDGET (self));
      bed_name_menu (self->menu);
    }
  allow (self);
  gtk_popover_set_pointing_to (GTK_POPOVER (self->menu), &(GdkRectangle){ x, y, 1, 1 });
  gtk_popover_popup (GTK_POPOVER (self->menu));
}

/* By the row that has the keyboard. */
static void
show_menu_at (BedTable *self, GtkWidget *row)
{
  double x = 24, y = 48;

  gtk_widget_translate_coordinates (row, GTK_WIDGET (self), 24, gtk_widget_get_height (row), &x,
                                    &y);
  show_menu (self, (int) x, (int) y);
}

/* Before the filter, which looks at every key that the rows get and has a menu of its own. */
static gboolean
key_pressed_cb (BedTable *self, guint keyval, guint keycode, GdkModifierType state)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *row = root ? gtk_root_get_focus (root) : NULL;
  guint held = state & gtk_accelerator_get_default_mod_mask ();

  if (!row || !gtk_widget_is_ancestor (row, GTK_WIDGET (self->view)))
    return GDK_EVENT_PROPAGATE;
  if (keyval == GDK_KEY_Menu || (keyval == GDK_KEY_F10 && held == GDK_SHIFT_MASK))
    show_menu_at (self, row);
  else if (!held && (keyval == GDK_KEY_Delete || keyval == GDK_KEY_KP_Delete))
    gtk_widget_activate_action (GTK_WIDGET (self), "table.remove", NULL);
  else
    return GDK_EVENT_PROPAGATE;
  return GDK_EVENT_STOP;
}

/* The row under the pointer is the one that is meant; of several that are chosen it may be one. */
static void
pressed_cb (BedTable *self, int n, double x, double y, GtkGestureClick *click)
{
  GtkWidget *at = gtk_widget_pick (GTK_WIDGET (self), x, y, GTK_PICK_DEFAULT);
  guint row = bed_table_cell_find_row (at, GTK_WIDGET (self->view));

  if (row == GTK_INVALID_LIST_POSITION)
    return;
  gtk_gesture_set_state (GTK_GESTURE (click), GTK_EVENT_SEQUENCE_CLAIMED);
  if (!gtk_selection_model_is_selected (self->selection, row))
    gtk_selection_model_select_item (self->selection, row, TRUE);
  show_menu (self, (int) x, (int) y);
}

static void
add_controllers (BedTable *self)
{
  GtkGesture *click = gtk_gesture_click_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();

  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (key_pressed_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);

  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (click), GDK_BUTTON_SECONDARY);
  g_signal_connect_swapped (click, "pressed", G_CALLBACK (pressed_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (click));
}

/* --- building ------------------------------------------------------------------ */

/* No word has more room than it needs: what is left goes to the drawing of the row, and where there
 * is none to the words at its end. */
static gboolean
is_expanding (BedTable *self, int at)
{
  const BedTableColumn *column = &self->columns[at];

  if (column->cell == BED_CELL_DRAWN)
    return column->width == 0;
  return at + 1 == (int) self->spec->n_columns && bed_table_cell_is_wide (column);
}

/* As wide as the table is, so many columns it has. Where none of them takes what is left, an empty
 * one does, so that rows end where the table does. */
static gboolean
see_columns_cb (gpointer data)
{
  BedTable *self = data;
  GListModel *columns = gtk_column_view_get_columns (self->view);
  int width = gtk_widget_get_width (GTK_WIDGET (self));
  gboolean filled = FALSE;

  self->width_source = 0;
  for (guint i = 0; i <= self->spec->n_columns; i++)
    {
      g_autoptr (GtkColumnViewColumn) column = g_list_model_get_item (columns, i);
      gboolean seen = i < self->spec->n_columns ? width >= self->columns[i].from : !filled;
      gtk_column_view_column_set_visible (column, seen);
      filled |= seen && gtk_column_view_column_get_expand (column);
    }
  return G_SOURCE_REMOVE;
}

/* While sizes are given no other may be asked for. */
static void
width_changed_cb (BedTable *self)
{
  if (!self->width_source)
    self->width_source = g_idle_add_full (G_PRIORITY_HIGH_IDLE, see_columns_cb, self, NULL);
}

static void
add_column (BedTable *self, int at)
{
  const BedTableColumn *column = &self->columns[at];
  g_autofree char *title = bed_table_cell_dup_title (self->farm, column);
  g_autoptr (GtkColumnViewColumn) made
      = gtk_column_view_column_new (title, bed_table_cell_factory_new (self->farm, column));
  g_autoptr (GtkCustomSorter) sorter = NULL;
  Asking *asking = g_new (Asking, 1);

  asking->table = self;
  asking->column = at;
  sorter = gtk_custom_sorter_new (ask_column_cb, asking, g_free);
  gtk_column_view_column_set_sorter (made, GTK_SORTER (sorter));
  gtk_column_view_column_set_resizable (made, TRUE);
  gtk_column_view_column_set_expand (made, is_expanding (self, at));
  gtk_column_view_column_set_visible (made, column->from == 0);
  gtk_column_view_append_column (self->view, made);
}

/* No wider than what is left. */
static void
add_filling (BedTable *self)
{
  g_autoptr (GtkColumnViewColumn) filling
      = gtk_column_view_column_new (NULL, bed_table_cell_filling_new ());

  gtk_column_view_column_set_fixed_width (filling, 0);
  gtk_column_view_column_set_expand (filling, TRUE);
  gtk_column_view_append_column (self->view, filling);
}

static void
add_search (BedTable *self)
{
  self->search = bed_styled (gtk_search_entry_new (), "filter");
  gtk_search_entry_set_search_delay (GTK_SEARCH_ENTRY (self->search), FILTER_AFTER);
  gtk_search_entry_set_key_capture_widget (GTK_SEARCH_ENTRY (self->search),
                                           GTK_WIDGET (self->view));
  g_object_set (self->search, "placeholder-text", _ ("Filter"), NULL);
  bed_named (self->search, _ ("Filter"));
  g_signal_connect_swapped (self->search, "search-changed", G_CALLBACK (search_changed_cb), self);
  g_signal_connect_swapped (self->search, "stop-search", G_CALLBACK (search_stopped_cb), self);
  g_signal_connect_swapped (self->search, "activate", G_CALLBACK (search_activated_cb), self);
  gtk_box_prepend (GTK_BOX (self->box), self->search);
}

static void
build (BedTable *self)
{
  GtkWidget *scrolled = gtk_scrolled_window_new ();
  GtkWidget *overlay = gtk_overlay_new ();

  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), GTK_WIDGET (self->view));
  g_signal_connect_object (gtk_scrolled_window_get_hadjustment (GTK_SCROLLED_WINDOW (scrolled)),
                           "notify::page-size", G_CALLBACK (width_changed_cb), self,
                           G_CONNECT_SWAPPED);
  self->none = bed_styled (gtk_label_new (NULL), "dim-label");
  gtk_label_set_wrap (GTK_LABEL (self->none), TRUE);
  gtk_label_set_justify (GTK_LABEL (self->none), GTK_JUSTIFY_CENTER);
  gtk_widget_set_can_target (self->none, FALSE);
  gtk_widget_set_valign (self->none, GTK_ALIGN_CENTER);
  gtk_overlay_set_child (GTK_OVERLAY (overlay), scrolled);
  gtk_overlay_add_overlay (GTK_OVERLAY (overlay), self->none);
  gtk_widget_set_vexpand (overlay, TRUE);
  gtk_widget_add_css_class (GTK_WIDGET (self->view), "data-table");
  bed_named (GTK_WIDGET (self->view), _ (self->spec->label));
  self->trouble = bed_trouble_new (self->farm);
  gtk_box_append (GTK_BOX (self->box), self->trouble);
  gtk_box_append (GTK_BOX (self->box), overlay);
  self->columns = g_new (BedTableColumn, self->spec->n_columns);
  for (guint i = 0; i < self->spec->n_columns; i++)
    {
      self->columns[i] = bed_table_cell_resolve (self->spec->kind, &self->spec->columns[i]);
      add_column (self, i);
    }
  add_filling (self);
  for (guint i = 0; i < self->spec->n_columns; i++)
    if (bed_table_cell_is_number (&self->columns[i]))
      bed_align_head_end (self->view, i);
  if (self->spec->search)
    add_search (self);
  g_signal_connect_object (gtk_column_view_get_sorter (self->view), "changed",
                           G_CALLBACK (ask_again), self, G_CONNECT_SWAPPED);
  g_signal_connect_swapped (self->view, "activate", G_CALLBACK (activate_cb), self);
}

/* GTK 4.8 walks every row on Tab, 200,000 stops: Tab leaves the table instead. In one without rows
 * there is nothing to do; what scrolls it would take the keyboard. */
static gboolean
bed_table_focus (GtkWidget *widget, GtkDirectionType direction)
{
  BedTable *self = BED_TABLE (widget);
  GtkWidget *focus = gtk_root_get_focus (gtk_widget_get_root (widget));
  gboolean on_search = focus && self->search && gtk_widget_is_ancestor (focus, self->search);
  gboolean in_rows = focus && gtk_widget_is_ancestor (focus, GTK_WIDGET (self->view));
  gboolean tab = direction == GTK_DIR_TAB_FORWARD || direction == GTK_DIR_TAB_BACKWARD;

  if (tab && (in_rows || g_list_model_get_n_items (G_LIST_MODEL (self->list)) == 0))
    return !on_search && !(in_rows && direction == GTK_DIR_TAB_FORWARD) && self->search
           && gtk_widget_grab_focus (self->search);
  return GTK_WIDGET_CLASS (bed_table_parent_class)->focus (widget, direction);
}

static gboolean
bed_table_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (GTK_WIDGET (BED_TABLE (widget)->view));
}

static void
bed_table_dispose (GObject *object)
{
  BedTable *self = BED_TABLE (object);

  g_clear_handle_id (&self->trouble_source, g_source_remove);
  g_clear_handle_id (&self->width_source, g_source_remove);
  g_clear_pointer (&self->menu, gtk_widget_unparent);
  /* A view that is taken apart sorts anew, column by column. */
  if (gtk_widget_get_first_child (GTK_WIDGET (self)))
    g_signal_handlers_disconnect_by_func (gtk_column_view_get_sorter (self->view), ask_again, self);
  G_OBJECT_CLASS (bed_table_parent_class)->dispose (object);
}

static void
bed_table_finalize (GObject *object)
{
  BedTable *self = BED_TABLE (object);

  g_clear_object (&self->selection);
  g_clear_object (&self->list);
  g_clear_object (&self->sentinels[0]);
  g_clear_object (&self->sentinels[1]);
  g_free (self->columns);
  g_free (self->where);
  g_free (self->where_text);
  g_free (self->filter);
  G_OBJECT_CLASS (bed_table_parent_class)->finalize (object);
}

static void
bed_table_class_init (BedTableClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = bed_table_dispose;
  G_OBJECT_CLASS (klass)->finalize = bed_table_finalize;
  widget_class->focus = bed_table_focus;
  widget_class->grab_focus = bed_table_grab_focus;
  gtk_widget_class_install_action (widget_class, "table.sort", "i", sort_cb);
  gtk_widget_class_install_action (widget_class, "table.open", NULL, row_action_cb);
  gtk_widget_class_install_action (widget_class, "table.change", NULL, row_action_cb);
  gtk_widget_class_install_action (widget_class, "table.remove", NULL, row_action_cb);

  bed_signal_new (BED_TYPE_TABLE, "selected", 1, G_TYPE_INT64);
  bed_signal_new (BED_TYPE_TABLE, "opened", 1, G_TYPE_INT64);
  bed_signal_new (BED_TYPE_TABLE, "change", 1, G_TYPE_INT64);
  bed_signal_new (BED_TYPE_TABLE, "remove", 0);
}

static BedTable *
make (BedFarm *farm, const BedTableSpec *spec, const char *where)
{
  BedTable *self = g_object_new (BED_TYPE_TABLE, NULL);

  self->farm = bed_part_hold (BED_PART (self), farm);
  self->spec = spec;
  self->where = g_strdup (where);
  self->sentinels[0] = g_object_new (G_TYPE_OBJECT, NULL);
  self->sentinels[1] = g_object_new (G_TYPE_OBJECT, NULL);
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  self->view = GTK_COLUMN_VIEW (gtk_column_view_new (NULL));
  bed_part_set_child (BED_PART (self), self->box);
  build (self);
  add_controllers (self);
  ask_again (self);
  return self;
}

BedTable *
bed_table_new (BedFarm *farm, const BedTableSpec *spec)
{
  return make (farm, spec, NULL);
}

BedTable *
bed_table_new_of_one (BedFarm *farm, const BedTableSpec *spec)
{
  return make (farm, spec, OF_NONE);
}

void
bed_table_set_where (BedTable *self, const char *where)
{
  bed_table_set_where_text (self, where, NULL);
}

void
bed_table_set_where_text (BedTable *self, const char *where, const char *text)
{
  g_return_if_fail (BED_IS_TABLE (self));

  if (g_strcmp0 (self->where, where) == 0 && g_strcmp0 (self->where_text, text) == 0)
    return;
  g_free (self->where);
  g_free (self->where_text);
  self->where = g_strdup (where);
  self->where_text = g_strdup (text);
  ask_again (self);
}

void
bed_table_set_filter (BedTable *self, const char *text)
{
  g_return_if_fail (BED_IS_TABLE (self));

  if (g_strcmp0 (self->filter, text) == 0)
    return;
  g_free (self->filter);
  self->filter = g_strdup (text);
  ask_again (self);
}

const char *
bed_table_get_label (BedTable *self)
{
  return _ (self->spec->label);
}

const BedTableColumn *
bed_table_get_columns (BedTable *self, guint *n)
{
  *n = self->spec->n_columns;
  return self->columns;
}

BedList *
bed_table_get_list (BedTable *self)
{
  g_return_val_if_fail (BED_IS_TABLE (self), NULL);
  return self->list;
}

gint64
bed_table_get_selected (BedTable *self)
{
  g_autoptr (GtkBitset) chosen = NULL;

  g_return_val_if_fail (BED_IS_TABLE (self), 0);
  chosen = gtk_selection_model_get_selection (self->selection);
  return gtk_bitset_is_empty (chosen)
             ? 0
             : bed_list_get_id (self->list, gtk_bitset_get_minimum (chosen));
}

GArray *
bed_table_dup_selected (BedTable *self)
{
  GArray *ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autoptr (GtkBitset) chosen = gtk_selection_model_get_selection (self->selection);
  GtkBitsetIter iter;
  guint at;

  for (gboolean more = gtk_bitset_iter_init_first (&iter, chosen, &at); more;
       more = gtk_bitset_iter_next (&iter, &at))
    {
      gint64 id = bed_list_get_id (self->list, at);

      g_array_append_val (ids, id);
    }
  return ids;
}

gboolean
bed_table_select (BedTable *self, gint64 id)
{
  int at;

  g_return_val_if_fail (BED_IS_TABLE (self), FALSE);
  at = bed_list_find (self->list, id);
  if (at < 0)
    return FALSE;
  bed_first_rows_reach (self->shown, at);
  gtk_selection_model_select_item (self->selection, at, TRUE);
  bed_scroll_to_row (self->view, at);
  return TRUE;
}
