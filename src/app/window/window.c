#include "app/window/window_private.h"

#include <glib/gi18n.h>

#include "app/batches/batches_page.h"
#include "app/history/history_page.h"
#include "app/host/typing.h"
#include "app/host/wait.h"
#include "app/import/import_page.h"
#include "app/lists/care_page.h"
#include "app/lists/names_page.h"
#include "app/manual/manual_window.h"
#include "app/money/money_page.h"
#include "app/paper/recall_dialog.h"
#include "app/picking/picking_page.h"
#include "app/season/season_page.h"
#include "app/soaking/soaking_page.h"
#include "app/week/week_page.h"
#include "app/widgets/build.h"
#include "app/widgets/compat.h"
#include "app/widgets/topic.h"
#include "app/window/actions.h"
#include "app/window/farm_dialog.h"
#include "app/window/first_frame.h"
#include "app/window/one_stop.h"
#include "app/window/shortcuts.h"
#include "app/window/window_files.h"
#include "app/woodlot/woodlot_page.h"
#include "app/yard/yard_page.h"
#include "model/farm/value.h"

#define NARROW 900     /* px: below it the page names are icons only */
#define KEYS 10        /* pages that have one: Ctrl+1 to Ctrl+9, Ctrl+0 */
#define PARTS_MOST 9   /* of a page, with a key each */
#define LOOK_EVERY 500 /* ms: what is done elsewhere is seen within a second */
#define PATIENCE 100   /* ms the desk stands still for another program's lock, at most */

/* The pages, in the order of Ctrl+1..9. The last is not seen in the list before it was opened. */
static const struct
{
  const char *name;
  const char *title; /* N_() */
  const char *icon;
  GType (*get_type) (void);
} pages[BED_WINDOW_PAGES] = {
  { "week", N_ ("This week"), "bed-week-symbolic", bed_week_page_get_type },
  { "woodlot", N_ ("Woodlot"), "bed-woodlot-symbolic", bed_woodlot_page_get_type },
  { "batches", N_ ("Batches"), "bed-batches-symbolic", bed_batches_page_get_type },
  { "yard", N_ ("Yard"), "bed-yard-symbolic", bed_yard_page_get_type },
  { "soaking", N_ ("Soaking"), "bed-soaking-symbolic", bed_soaking_page_get_type },
  { "picking", N_ ("Picking"), "bed-picking-symbolic", bed_picking_page_get_type },
  { "money", N_ ("Money"), "bed-money-symbolic", bed_money_page_get_type },
  { "season", N_ ("Season"), "bed-season-symbolic", bed_season_page_get_type },
  { "history", N_ ("History"), "bed-history-symbolic", bed_history_page_get_type },
  { "care", N_ ("Care and weather"), "bed-care-symbolic", bed_care_page_get_type },
  { "names", N_ ("Names and lists"), "bed-names-symbolic", bed_names_page_get_type },
  { "import", N_ ("Bring in a sheet"), "bed-import-symbolic", bed_import_page_get_type },
};

G_DEFINE_FINAL_TYPE_WITH_CODE (BedWindow, bed_window, ADW_TYPE_APPLICATION_WINDOW,
                               G_IMPLEMENT_INTERFACE (BED_TYPE_HOST, bed_window_host_init))

/* --- pages ------------------------------------------------------------------- */

static int
find_page (const char *name)
{
  for (guint i = 0; i < G_N_ELEMENTS (pages); i++)
    if (g_strcmp0 (pages[i].name, name) == 0)
      return i;
  return -1;
}

/* A page without show_record only takes drafts of its kinds. */
int
bed_window_find_page_of_kind (BedKind kind, BedWindowPageUse use)
{
  for (guint i = 0; i < G_N_ELEMENTS (pages); i++)
    {
      g_autoptr (GTypeClass) klass = g_type_class_ref (pages[i].get_type ());

      if (BED_PAGE_CLASS (klass)->kinds & BED_KIND_BIT (kind)
          && (use == BED_WINDOW_PAGE_DRAFT || BED_PAGE_CLASS (klass)->show_record))
        return i;
    }
  return -1;
}

static void
update_page_actions (BedWindow *self)
{
  BedPage *page = bed_window_get_page (self);
  BedPageClass *klass = page ? BED_PAGE_GET_CLASS (page) : NULL;
  gboolean writable = self->farm && !bed_farm_get_read_only_why (self->farm);
  const char *name = page ? gtk_stack_get_visible_child_name (GTK_STACK (self->pages)) : NULL;

  bed_topic_set (GTK_WIDGET (self), name ? name : "welcome");
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.add",
                                 klass && klass->add_title && writable);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.print", klass && klass->print_title);
  gtk_widget_set_tooltip_text (self->add_button,
                               klass && klass->add_title ? _ (klass->add_title) : NULL);
  gtk_widget_set_visible (self->print_button, klass && klass->print_title);
  gtk_widget_set_tooltip_text (self->print_button,
                               klass && klass->print_title ? _ (klass->print_title) : NULL);
}

static void
select_page_row (BedWindow *self, int at)
{
  GtkListBox *list = GTK_LIST_BOX (self->page_list);
  GtkListBoxRow *row = gtk_list_box_get_row_at_index (list, at);

  if (row)
    gtk_widget_set_visible (GTK_WIDGET (row), TRUE);
  gtk_list_box_select_row (list, row);
}

/* NULL while another program holds the farm, and when the farm could not be read, which is said:
 * another page is seen meanwhile. The first one says it itself, for it asks again when it is
 * shown. */
static GtkWidget *
make_page (BedWindow *self, int at)
{
  g_autoptr (GtkWidget) page = NULL;
  g_autoptr (GError) error = NULL;

  if (!bed_farm_begin_reading (self->farm))
    return NULL;
  page = g_object_ref_sink (g_object_new (pages[at].get_type (), "farm", self->farm, NULL));
  if (!bed_farm_end_reading (self->farm, &error) && bed_window_get_page (self))
    {
      bed_toasts_say (self->notes, error->message, BED_TOAST_PLAIN, 0);
      return NULL;
    }
  return GTK_WIDGET (gtk_stack_page_get_child (
      gtk_stack_add_named (GTK_STACK (self->pages), page, pages[at].name)));
}

/* Pages are made when they are first looked at; where that cannot be: the page that is seen, or
 * NULL. */
BedPage *
bed_window_show_page_at (BedWindow *self, int at)
{
  GtkStack *stack = GTK_STACK (self->pages);
  GtkWidget *page = gtk_stack_get_child_by_name (stack, pages[at].name);

  if (!page)
    page = make_page (self, at);
  if (!page)
    {
      select_page_row (self, find_page (gtk_stack_get_visible_child_name (stack)));
      return bed_window_get_page (self);
    }
  gtk_stack_set_visible_child (stack, page);
  return BED_PAGE (page);
}

/* Whoever showed it. */
static void
page_shown_cb (BedWindow *self)
{
  if (!self->farm)
    return;
  select_page_row (self, find_page (gtk_stack_get_visible_child_name (GTK_STACK (self->pages))));
  update_page_actions (self);
}

static void
page_row_selected_cb (BedWindow *self, GtkListBoxRow *row)
{
  if (row && self->farm)
    bed_window_show_page_at (self, gtk_list_box_row_get_index (row));
}

static void
add_page_row (BedWindow *self, guint at)
{
  GtkWidget *row = gtk_list_box_row_new ();
  g_autofree char *tip
      = at < KEYS ? g_strdup_printf ("%s (Ctrl+%u)", _ (pages[at].title), (at + 1) % KEYS)
                  : g_strdup (_ (pages[at].title));

  self->labels[at] = gtk_label_new (_ (pages[at].title));
  gtk_list_box_row_set_child (
      GTK_LIST_BOX_ROW (row),
      bed_row_new (12, gtk_image_new_from_icon_name (pages[at].icon), self->labels[at], NULL));
  gtk_widget_set_tooltip_text (row, tip);
  gtk_widget_set_visible (row, at + 1 < BED_WINDOW_PAGES);
  bed_named (row, _ (pages[at].title));
  gtk_list_box_append (GTK_LIST_BOX (self->page_list), row);
}

static void
clear_pages (BedWindow *self)
{
  GtkWidget *page;

  while ((page = gtk_widget_get_first_child (self->pages)))
    gtk_stack_remove (GTK_STACK (self->pages), page);
}

/* --- what is seen of the farm -------------------------------------------------- */

/* Of the demo farm; it stands where it covers nothing. */
static void
show_hint (BedWindow *self)
{
  gboolean stays = self->farm && bed_farm_get_fixed_now (self->farm);
  g_autofree char *day = stays ? bed_date_format (bed_farm_get_today (self->farm)) : NULL;
  g_autofree char *text = day ? g_strdup_printf (_ ("Try anything. In this farm it stays %s."), day)
                              : NULL;

  gtk_label_set_label (GTK_LABEL (self->hint), text ? text : "");
  gtk_widget_set_visible (self->hint, text && !self->narrow);
}

/* Under the pages' names; where these are icons, in a line kept free under the page. */
static void
place_notes (BedWindow *self)
{
  GtkWidget *place = !self->farm    ? self->start_foot
                     : self->narrow ? self->page_foot
                                    : self->sidebar_foot;

  gtk_widget_set_visible (self->page_foot, self->narrow);
  bed_toasts_stand_in (self->notes, ADW_BIN (place),
                       place == self->sidebar_foot ? GTK_ORIENTATION_VERTICAL
                                                   : GTK_ORIENTATION_HORIZONTAL);
}

static void
update_name (BedWindow *self)
{
  const char *name = self->farm ? bed_record_get_text (bed_farm_get_settings (self->farm), "name")
                                : "Bedlog";
  const char *why = self->farm ? bed_farm_get_read_only_why (self->farm) : NULL;
  const char *said = why;

  if (!why && self->farm && bed_farm_is_held (self->farm))
    said = _ ("Another program is writing to this farm. What you see is from before, and is "
              "brought up to date when it is done.");
  gtk_label_set_label (GTK_LABEL (self->farm_name), name);
  gtk_window_set_title (GTK_WINDOW (self), name);
  gtk_label_set_label (GTK_LABEL (self->state), said ? said : "");
  g_autofree char *of = self->farm ? bed_backup_dup_farm (bed_farm_get_path (self->farm)) : NULL;
  gtk_widget_set_visible (self->state_bar, said != NULL);
  show_hint (self);
  gtk_widget_set_visible (self->restore_button, of != NULL);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.restore", of != NULL);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.backups", self->farm != NULL);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.settings", self->farm && !why);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.copy", self->farm != NULL);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.recall-of", self->farm != NULL);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.import", !why);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.paste", self->farm && !why);
}

static void
farm_changed_cb (BedWindow *self, guint64 kinds)
{
  bed_undo_show (self->undo, self->farm);
  if (kinds & BED_KIND_BIT (BED_KIND_FARM))
    update_name (self);
}

static void
farm_state_changed_cb (BedWindow *self)
{
  update_name (self);
  update_page_actions (self);
  bed_undo_show (self->undo, self->farm);
  if (!bed_window_get_page (self) && !bed_farm_is_held (self->farm))
    bed_window_show_page_at (self, 0);
}

static gboolean
look_cb (gpointer data)
{
  BedWindow *self = BED_WINDOW (data);

  /* Nothing is told of others' work in the middle of one's own. */
  if (self->farm && !bed_wait_is_on ())
    bed_farm_look_again (self->farm);
  return G_SOURCE_CONTINUE;
}

/* --- actions ------------------------------------------------------------------- */

static void
find_cb (BedWindow *self)
{
  gtk_widget_grab_focus (GTK_WIDGET (self->search));
}

static void shortcuts_cb (BedWindow *self);

static void
about_cb (BedWindow *self)
{
  bed_show_about (GTK_WIDGET (self));
}

/* Each asks about what is typed in it. */
static void
quit_cb (BedWindow *self)
{
  GtkApplication *application = gtk_window_get_application (GTK_WINDOW (self));
  g_autoptr (GList) windows = g_list_copy (gtk_application_get_windows (application));

  for (GList *l = windows; l; l = l->next)
    if (BED_IS_WINDOW (l->data))
      gtk_window_close (l->data);
}

static void
recall_cb (BedWindow *self)
{
  bed_recall_ask_for (GTK_WIDGET (self), self->farm);
}

static const struct
{
  BedAction action;
  void (*run) (BedWindow *self); /* or one of: */
  void (*run_over) (GtkWindow *self);
  void (*leave) (GtkWindow *self); /* the farm: typing cannot be kept past it and is asked about */
  void (*run_page) (BedPage *page);
  void (*reverse) (BedUndo *undo, gint64 change);
} actions[] = {
  { { "win.undo", "<Control>z", N_ ("Undo the last change") }, .reverse = bed_undo_undo },
  { { "win.redo", "<Control><Shift>z", N_ ("Redo") }, .reverse = bed_undo_redo },
  { { "win.add", "<Control>n", N_ ("Add what this page is about") }, .run_page = bed_page_add },
  { { "win.print", "<Control>p", N_ ("Print what this page prints") }, .run_page = bed_page_print },
  { { "win.recall-of", NULL, N_ ("Recall by a code, a day or a water") }, .run = recall_cb },
  { { "win.find", "<Control>f", N_ ("Find a code or a name") }, .run = find_cb },
  { { "win.new", "<Control><Shift>n", N_ ("New farm") }, .leave = bed_farm_dialog_new_farm },
  { { "win.open", "<Control>o", N_ ("Open a farm") }, .leave = bed_window_files_open },
  { { "win.copy", NULL, N_ ("Save a copy of the farm") }, .run_over = bed_window_files_copy },
  { { "win.import", "<Control>i", N_ ("Bring in a sheet") }, .run_over = bed_window_import_choose },
  { { "win.paste", "<Control>v", N_ ("Bring in copied cells") },
    .run_over = bed_window_import_paste },
  { { "win.backups", "<Control>b", N_ ("Backups") }, .run_over = bed_window_files_backups },
  { { "win.restore", NULL, N_ ("Restore this copy") }, .run_over = bed_window_files_restore },
  { { "win.settings", "<Control>comma", N_ ("Farm and units") },
    .run_over = bed_farm_dialog_change },
  { { "win.demo", NULL, N_ ("Try the demo farm") }, .leave = bed_window_files_demo },
  { { "win.close", "<Control>w", N_ ("Close the window") }, .run_over = gtk_window_close },
  { { "win.quit", "<Control>q", N_ ("Close all windows") }, .run = quit_cb },
  { { "win.help", "F1", N_ ("The manual, at what is in front") }, .run_over = bed_manual_open_for },
  { { "win.shortcuts", "<Control>question", N_ ("Keyboard shortcuts") }, .run = shortcuts_cb },
  { { "win.about", NULL, N_ ("About Bedlog") }, .run = about_cb },
};

static void
shortcuts_cb (BedWindow *self)
{
  BedAction plain[G_N_ELEMENTS (actions) + 2];

  for (guint i = 0; i < G_N_ELEMENTS (actions); i++)
    plain[i] = actions[i].action;
  plain[G_N_ELEMENTS (actions)]
      = (BedAction){ "win.page", "<Control>1",
                     N_ ("The first page, and so on to Ctrl+9 and Ctrl+0"), NULL };
  plain[G_N_ELEMENTS (actions) + 1]
      = (BedAction){ "win.part", "<Alt>1", N_ ("The first part of the page, and so on"), NULL };
  bed_shortcuts_show (GTK_WIDGET (self), plain, G_N_ELEMENTS (plain), bed_window_get_page (self));
}

/* A sheet waits for no other farm than the one that was about to be made for it. */
static void
leave_farm (BedWindow *self, void (*leave) (GtkWindow *self))
{
  g_clear_pointer (&self->waiting_sheet, g_free);
  if (!bed_typing_ask (GTK_WIDGET (self), G_CALLBACK (leave), self))
    leave (GTK_WINDOW (self));
}

static void
action_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  BedWindow *self = BED_WINDOW (widget);
  guint i = 0;

  while (g_strcmp0 (actions[i].action.name, name) != 0)
    i++; /* it is one of them */
  if (actions[i].run)
    actions[i].run (self);
  else if (actions[i].run_page)
    actions[i].run_page (bed_window_get_page (self));
  else if (actions[i].reverse)
    actions[i].reverse (self->undo, 0);
  else if (actions[i].run_over)
    actions[i].run_over (GTK_WINDOW (self));
  else
    leave_farm (self, actions[i].leave);
}

static void
page_action_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  bed_window_show_page (BED_WINDOW (widget), g_variant_get_string (parameter, NULL));
}

static void
open_written_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  bed_open_uri (widget, g_variant_get_string (parameter, NULL));
}

static void
reverse_change_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  gint64 change = g_variant_get_int64 (parameter);

  if (g_strcmp0 (name, "win.undo-change") == 0)
    bed_undo_undo (BED_WINDOW (widget)->undo, change);
  else
    bed_undo_redo (BED_WINDOW (widget)->undo, change);
}

static void
recall_action_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  gint32 kind;
  gint64 id;

  g_variant_get (parameter, "(ix)", &kind, &id);
  bed_recall_show (widget, BED_WINDOW (widget)->farm, (BedKind) kind, id);
}

static void
part_action_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  BedPage *page = bed_window_get_page (BED_WINDOW (widget));

  if (page)
    bed_page_show_part (page, g_variant_get_int32 (parameter));
}

static void
found_cb (BedWindow *self, guint kind, gint64 id)
{
  bed_host_show_record (GTK_WIDGET (self), kind, id);
}

/* --- overrides ------------------------------------------------------------------ */

static gboolean
bed_window_close_request (GtkWindow *window)
{
  /* Here, and not when the last reference goes: the program may end before that. */
  g_clear_pointer (&BED_WINDOW (window)->keeper, bed_keeper_free);
  return GTK_WINDOW_CLASS (bed_window_parent_class)->close_request (window);
}

static gboolean
narrow_cb (gpointer data)
{
  BedWindow *self = BED_WINDOW (data);

  self->narrow_source = 0;
  for (guint i = 0; i < G_N_ELEMENTS (pages); i++)
    gtk_widget_set_visible (self->labels[i], !self->narrow);
  gtk_widget_set_visible (self->farm_name, !self->narrow);
  show_hint (self);
  place_notes (self);
  gtk_widget_set_size_request (self->sidebar, self->narrow ? -1 : 200, -1);
  adw_header_bar_set_show_start_title_buttons (ADW_HEADER_BAR (self->sidebar_bar), !self->narrow);
  return G_SOURCE_REMOVE;
}

/* libadwaita 1.2 has no breakpoints; changing what is seen while it is being given
 * its size would ask for a new size, so that is done right after. */
static void
bed_window_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  BedWindow *self = BED_WINDOW (widget);

  if (self->narrow != (width < NARROW))
    {
      self->narrow = !self->narrow;
      if (!self->narrow_source)
        self->narrow_source = g_idle_add (narrow_cb, self);
    }
  GTK_WIDGET_CLASS (bed_window_parent_class)->size_allocate (widget, width, height, baseline);
}

static void
bed_window_dispose (GObject *object)
{
  BedWindow *self = BED_WINDOW (object);

  g_clear_handle_id (&self->narrow_source, g_source_remove);
  g_clear_pointer (&self->keeper, bed_keeper_free);
  g_clear_handle_id (&self->look_source, g_source_remove);
  g_clear_pointer (&self->undo, bed_undo_free);
  g_clear_pointer (&self->notes, bed_toasts_free);
  g_clear_object (&self->farm_signals);
  g_clear_object (&self->farm);
  g_clear_pointer (&self->waiting_sheet, g_free);
  G_OBJECT_CLASS (bed_window_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *klass)
{
  gtk_widget_class_bind_template_child (klass, BedWindow, root);
  gtk_widget_class_bind_template_child (klass, BedWindow, sidebar);
  gtk_widget_class_bind_template_child (klass, BedWindow, sidebar_bar);
  gtk_widget_class_bind_template_child (klass, BedWindow, farm_name);
  gtk_widget_class_bind_template_child (klass, BedWindow, page_list);
  gtk_widget_class_bind_template_child (klass, BedWindow, hint);
  gtk_widget_class_bind_template_child (klass, BedWindow, start_foot);
  gtk_widget_class_bind_template_child (klass, BedWindow, sidebar_foot);
  gtk_widget_class_bind_template_child (klass, BedWindow, page_foot);
  gtk_widget_class_bind_template_child (klass, BedWindow, undo_button);
  gtk_widget_class_bind_template_child (klass, BedWindow, redo_button);
  gtk_widget_class_bind_template_child (klass, BedWindow, add_button);
  gtk_widget_class_bind_template_child (klass, BedWindow, print_button);
  gtk_widget_class_bind_template_child (klass, BedWindow, menu_button);
  gtk_widget_class_bind_template_child (klass, BedWindow, search_place);
  gtk_widget_class_bind_template_child (klass, BedWindow, state);
  gtk_widget_class_bind_template_child (klass, BedWindow, state_bar);
  gtk_widget_class_bind_template_child (klass, BedWindow, restore_button);
  gtk_widget_class_bind_template_child (klass, BedWindow, pages);
  gtk_widget_class_bind_template_callback (klass, page_row_selected_cb);
}

/* Keys are bound on the window, not the application: an entry that has the focus
 * gets its own Ctrl+Z first. */
static void
install_actions (GtkWidgetClass *klass)
{
  guint key;
  GdkModifierType modifiers;

  for (guint i = 0; i < G_N_ELEMENTS (actions); i++)
    {
      const BedAction *action = &actions[i].action;

      gtk_widget_class_install_action (klass, action->name, NULL, action_cb);
      if (action->accelerator && gtk_accelerator_parse (action->accelerator, &key, &modifiers))
        gtk_widget_class_add_binding_action (klass, key, modifiers, action->name, NULL);
    }
  gtk_widget_class_install_action (klass, "win.open-written", "s", open_written_cb);
  gtk_widget_class_install_action (klass, "win.undo-change", "x", reverse_change_cb);
  gtk_widget_class_install_action (klass, "win.redo-change", "x", reverse_change_cb);
  gtk_widget_class_install_action (klass, "win.recall", "(ix)", recall_action_cb);
  gtk_widget_class_install_action (klass, "win.page", "s", page_action_cb);
  for (guint i = 0; i < KEYS; i++)
    gtk_widget_class_add_binding_action (klass, GDK_KEY_0 + (i + 1) % KEYS, GDK_CONTROL_MASK,
                                         "win.page", "s", pages[i].name);
  gtk_widget_class_install_action (klass, "win.part", "i", part_action_cb);
  for (int i = 0; i < PARTS_MOST; i++)
    gtk_widget_class_add_binding_action (klass, GDK_KEY_1 + i, GDK_ALT_MASK, "win.part", "i", i);
}

static void
bed_window_class_init (BedWindowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (BED_TYPE_ONE_STOP);
  G_OBJECT_CLASS (klass)->dispose = bed_window_dispose;
  widget_class->size_allocate = bed_window_size_allocate;
  GTK_WINDOW_CLASS (klass)->close_request = bed_window_close_request;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/bedlog/Bedlog/window.ui");
  bind_children (widget_class);
  install_actions (widget_class);
}

static void
bed_window_init (BedWindow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  for (GtkWidget *child = gtk_widget_get_first_child (self->root); child;
       child = gtk_widget_get_next_sibling (child))
    bed_hide_unseen (child);
  /* What is clicked up there leaves the keyboard where it is: the next Enter is meant for the
   * line that is being typed. The template says so of the others; this one wraps a button. */
  gtk_widget_set_focus_on_click (gtk_widget_get_first_child (self->menu_button), FALSE);
  self->notes = bed_toasts_new ();
  self->undo = bed_undo_new (GTK_WINDOW (self), self->undo_button, self->redo_button, self->notes);
  self->look_source = g_timeout_add (LOOK_EVERY, look_cb, self);
  self->search = bed_search_new ();
  adw_bin_set_child (ADW_BIN (self->search_place), GTK_WIDGET (self->search));
  g_signal_connect_swapped (self->search, "found", G_CALLBACK (found_cb), self);
  self->farm_signals = g_signal_group_new (BED_TYPE_FARM);
  g_signal_group_connect_swapped (self->farm_signals, "changed", G_CALLBACK (farm_changed_cb),
                                  self);
  g_signal_group_connect_swapped (self->farm_signals, "state-changed",
                                  G_CALLBACK (farm_state_changed_cb), self);
  for (guint i = 0; i < G_N_ELEMENTS (pages); i++)
    add_page_row (self, i);
  bed_window_import_take_drops (GTK_WINDOW (self));
  g_signal_connect_object (self->pages, "notify::visible-child", G_CALLBACK (page_shown_cb), self,
                           G_CONNECT_SWAPPED);
  bed_typing_guard (GTK_WINDOW (self));
  bed_window_set_farm (self, NULL);
}

/* --- public ----------------------------------------------------------------------- */

BedWindow *
bed_window_new (GtkApplication *application)
{
  return g_object_new (BED_TYPE_WINDOW, "application", application, NULL);
}

void
bed_window_set_farm (BedWindow *self, BedFarm *farm)
{
  g_return_if_fail (BED_IS_WINDOW (self));

  g_clear_pointer (&self->keeper, bed_keeper_free);
  clear_pages (self);
  if (farm)
    bed_farm_set_patience (farm, PATIENCE);
  g_set_object (&self->farm, farm);
  g_signal_group_set_target (self->farm_signals, farm);
  bed_search_set_farm (self->search, farm);
  gtk_stack_set_visible_child_name (GTK_STACK (self->root), farm ? "desk" : "start");
  place_notes (self);
  update_name (self);
  bed_undo_show (self->undo, farm);
  update_page_actions (self);
  if (!farm)
    return;
  bed_window_show_page_at (self, 0);
  bed_window_import_go_on (GTK_WINDOW (self));
}

void
bed_window_present_first (BedWindow *self)
{
  g_return_if_fail (BED_IS_WINDOW (self));

  if (!self->farm)
    gtk_stack_set_visible_child_name (GTK_STACK (self->root), "desk");
  bed_first_frame (GTK_WINDOW (self));
  gtk_stack_set_visible_child_name (GTK_STACK (self->root), self->farm ? "desk" : "start");
}

BedFarm *
bed_window_get_farm (BedWindow *self)
{
  g_return_val_if_fail (BED_IS_WINDOW (self), NULL);
  return self->farm;
}

gboolean
bed_window_show_page (BedWindow *self, const char *name)
{
  int at = find_page (name);

  g_return_val_if_fail (BED_IS_WINDOW (self), FALSE);
  if (at < 0 || !self->farm)
    return FALSE;
  BedPage *page = bed_window_show_page_at (self, at);
  if (page)
    gtk_widget_grab_focus (GTK_WIDGET (page));
  return TRUE;
}

BedPage *
bed_window_get_page (BedWindow *self)
{
  g_return_val_if_fail (BED_IS_WINDOW (self), NULL);
  GtkWidget *page = gtk_stack_get_visible_child (GTK_STACK (self->pages));

  return page ? BED_PAGE (page) : NULL;
}
