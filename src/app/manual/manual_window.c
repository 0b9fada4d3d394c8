#include "app/manual/manual_window.h"

#include <glib/gi18n.h>
#include <string.h>

#include "app/manual/manual_book.h"
#include "app/manual/manual_page.h"
#include "app/widgets/build.h"
#include "app/widgets/topic.h"

struct _BedManualWindow
{
  AdwWindow parent_instance;
  GtkWidget *search;
  GtkWidget *contents; /* GtkListBox, a row a page */
  GtkWidget *none;     /* nothing found */
  GtkWidget *scrolled; /* around the page */
  GArray *before;      /* guint: pages to go back to */
  guint shown;
};

G_DEFINE_FINAL_TYPE (BedManualWindow, bed_manual_window, ADW_TYPE_WINDOW)

/* The one that is open. */
static BedManualWindow *open_manual;

/* --- a page ------------------------------------------------------------------------ */

static void go_cb (const char *target, gpointer data);

static const BedManualPage *
get_page (guint at)
{
  guint n;
  const BedManualPage *pages = bed_manual_get_pages (&n);

  return at < n ? &pages[at] : NULL;
}

static void
show_page (BedManualWindow *self, guint at)
{
  const BedManualPage *page = get_page (at);
  GtkListBox *contents = GTK_LIST_BOX (self->contents);

  if (!page)
    return;
  GtkWidget *content = bed_manual_page_new (page->text, go_cb, self);
  self->shown = at;
  gtk_window_set_title (GTK_WINDOW (self), page->title);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scrolled), content);
  gtk_adjustment_set_value (
      gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scrolled)), 0);
  gtk_list_box_select_row (contents, gtk_list_box_get_row_at_index (contents, (int) at));
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "manual.back", self->before->len > 0);
}

static void
go_to (BedManualWindow *self, guint at)
{
  if (at == self->shown)
    return;
  g_array_append_val (self->before, self->shown);
  show_page (self, at);
}

static void
back_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  BedManualWindow *self = BED_MANUAL_WINDOW (widget);
  guint last;

  if (!self->before->len)
    return;
  last = g_array_index (self->before, guint, self->before->len - 1);
  g_array_set_size (self->before, self->before->len - 1);
  show_page (self, last);
}

/* "../safety.md#heading" is known by the name of its file. */
static void
go_cb (const char *target, gpointer data)
{
  BedManualWindow *self = BED_MANUAL_WINDOW (data);
  g_auto (GStrv) parts = g_strsplit (target, "#", 2);
  g_autofree char *name = g_path_get_basename (parts[0]);
  int at = bed_manual_find (name);

  if (at >= 0)
    go_to (self, (guint) at);
}

/* --- contents and search ------------------------------------------------------------ */

static void
row_activated_cb (BedManualWindow *self, GtkListBoxRow *row)
{
  go_to (self, (guint) gtk_list_box_row_get_index (row));
}

static gboolean
filter_cb (GtkListBoxRow *row, gpointer data)
{
  BedManualWindow *self = BED_MANUAL_WINDOW (data);
  const BedManualPage *page = get_page ((guint) gtk_list_box_row_get_index (row));

  return bed_manual_page_has (page, gtk_editable_get_text (GTK_EDITABLE (self->search)));
}

static GtkListBoxRow *
find_first (BedManualWindow *self)
{
  GtkListBoxRow *row;

  for (int i = 0; (row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->contents), i)); i++)
    if (filter_cb (row, self))
      return row;
  return NULL;
}

static void
search_changed_cb (BedManualWindow *self)
{
  gtk_list_box_invalidate_filter (GTK_LIST_BOX (self->contents));
  gtk_widget_set_visible (self->none, !find_first (self));
}

/* Enter: the first that was found. */
static void
search_activate_cb (BedManualWindow *self)
{
  GtkListBoxRow *first = find_first (self);

  if (first)
    row_activated_cb (self, first);
}

/* Esc takes back what is searched first, then closes. */
static void
escape (BedManualWindow *self)
{
  if (*gtk_editable_get_text (GTK_EDITABLE (self->search)))
    gtk_editable_set_text (GTK_EDITABLE (self->search), "");
  else
    gtk_window_close (GTK_WINDOW (self));
}

static void
escape_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  escape (BED_MANUAL_WINDOW (widget));
}

static void
find_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  gtk_widget_grab_focus (BED_MANUAL_WINDOW (widget)->search);
}

static void
add_row (BedManualWindow *self, const BedManualPage *page)
{
  GtkWidget *row = gtk_list_box_row_new ();

  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), bed_words_new (page->title, NULL));
  bed_named (row, page->title);
  gtk_list_box_append (GTK_LIST_BOX (self->contents), row);
}

static GtkWidget *
make_contents (BedManualWindow *self)
{
  guint n;
  const BedManualPage *pages = bed_manual_get_pages (&n);
  GtkWidget *scrolled;

  self->contents = bed_styled (gtk_list_box_new (), "navigation-sidebar");
  bed_named (self->contents, _ ("Contents"));
  for (guint i = 0; i < n; i++)
    add_row (self, &pages[i]);
  gtk_list_box_set_filter_func (GTK_LIST_BOX (self->contents), filter_cb, self, NULL);
  g_signal_connect_swapped (self->contents, "row-activated", G_CALLBACK (row_activated_cb), self);
  gtk_widget_add_css_class (self->contents, "manual-contents");
  scrolled = bed_scrolled_new (self->contents);
  gtk_widget_set_vexpand (scrolled, TRUE);
  return scrolled;
}

static GtkWidget *
make_side (BedManualWindow *self)
{
  GtkWidget *side;

  self->search = bed_styled (gtk_search_entry_new (), "filter");
  bed_named (self->search, _ ("Find in the manual"));
  g_object_set (self->search, "placeholder-text", _ ("Find in the manual"), NULL);
  gtk_search_entry_set_search_delay (GTK_SEARCH_ENTRY (self->search), 0);
  self->none = bed_styled (bed_words_new (_ ("No page says that."), "dim-label"), "page");
  gtk_widget_set_visible (self->none, FALSE);
  side = bed_column_new (0, self->search, self->none, make_contents (self), NULL);
  bed_styled (side, "manual-side");
  g_signal_connect_swapped (self->search, "search-changed", G_CALLBACK (search_changed_cb), self);
  g_signal_connect_swapped (self->search, "activate", G_CALLBACK (search_activate_cb), self);
  g_signal_connect_swapped (self->search, "stop-search", G_CALLBACK (escape), self);
  return bed_styled (side, "pages");
}

/* A window that was closed is not shown again. */
static void
bed_manual_window_dispose (GObject *object)
{
  if (open_manual == BED_MANUAL_WINDOW (object))
    open_manual = NULL;
  G_OBJECT_CLASS (bed_manual_window_parent_class)->dispose (object);
}

static void
bed_manual_window_finalize (GObject *object)
{
  g_array_unref (BED_MANUAL_WINDOW (object)->before);
  G_OBJECT_CLASS (bed_manual_window_parent_class)->finalize (object);
}

static void
bed_manual_window_class_init (BedManualWindowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = bed_manual_window_dispose;
  G_OBJECT_CLASS (klass)->finalize = bed_manual_window_finalize;
  gtk_widget_class_install_action (widget_class, "manual.escape", NULL, escape_cb);
  gtk_widget_class_install_action (widget_class, "manual.find", NULL, find_cb);
  gtk_widget_class_install_action (widget_class, "manual.back", NULL, back_cb);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "manual.escape", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_f, GDK_CONTROL_MASK, "manual.find",
                                       NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_w, GDK_CONTROL_MASK, "window.close",
                                       NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Left, GDK_ALT_MASK, "manual.back",
                                       NULL);
}

static void
bed_manual_window_init (BedManualWindow *self)
{
  GtkWidget *bar = adw_header_bar_new ();
  GtkWidget *back = bed_icon_button_new ("go-previous-symbolic", _ ("Back (Alt+Left)"));

  self->before = g_array_new (FALSE, FALSE, sizeof (guint));
  gtk_actionable_set_action_name (GTK_ACTIONABLE (back), "manual.back");
  adw_header_bar_pack_start (ADW_HEADER_BAR (bar), back);
  self->scrolled
      = bed_named (bed_scrolled_new (gtk_box_new (GTK_ORIENTATION_VERTICAL, 0)), _ ("Manual"));
  gtk_widget_set_hexpand (self->scrolled, TRUE);
  GtkWidget *content = bed_row_new (
      0, make_side (self), gtk_separator_new (GTK_ORIENTATION_VERTICAL), self->scrolled, NULL);
  gtk_widget_set_vexpand (content, TRUE);
  adw_window_set_content (ADW_WINDOW (self), bed_column_new (0, bar, content, NULL));
  bed_window_set_size (GTK_WIDGET (self), 980, 720);
  bed_topic_set (GTK_WIDGET (self), "keys");
  show_page (self, 0);
}

/* --- F1 ----------------------------------------------------------------------------- */

static gboolean
help_cb (GtkWidget *window, GVariant *args, gpointer none)
{
  bed_manual_open_for (GTK_WINDOW (window));
  return GDK_EVENT_STOP;
}

/* Dialogs and questions are windows, too. */
static void
windows_changed_cb (GListModel *windows, guint at, guint removed, guint added)
{
  for (guint i = at; i < at + added; i++)
    {
      g_autoptr (GtkWidget) window = g_list_model_get_item (windows, i);
      GtkEventController *keys = gtk_shortcut_controller_new ();

      gtk_shortcut_controller_add_shortcut (
          GTK_SHORTCUT_CONTROLLER (keys),
          gtk_shortcut_new (gtk_keyval_trigger_new (GDK_KEY_F1, 0),
                            gtk_callback_action_new (help_cb, NULL, NULL)));
      gtk_widget_add_controller (window, keys);
    }
}

void
bed_manual_begin (void)
{
  GListModel *windows = gtk_window_get_toplevels ();

  windows_changed_cb (windows, 0, 0, g_list_model_get_n_items (windows));
  g_signal_connect (windows, "items-changed", G_CALLBACK (windows_changed_cb), NULL);
}

/* It is of a group of its own: a dialog that must be answered does not lock it. */
static BedManualWindow *
make_manual (void)
{
  BedManualWindow *self = g_object_new (BED_TYPE_MANUAL_WINDOW, NULL);
  g_autoptr (GtkWindowGroup) group = gtk_window_group_new ();

  gtk_window_group_add_window (group, GTK_WINDOW (self));
  return self;
}

void
bed_manual_open_for (GtkWindow *window)
{
  g_return_if_fail (GTK_IS_WINDOW (window));
  int at = bed_manual_find_topic (bed_topic_find (window));

  if (!open_manual)
    open_manual = make_manual ();
  go_to (open_manual, at < 0 ? 0 : (guint) at);
  gtk_window_present (GTK_WINDOW (open_manual));
}
