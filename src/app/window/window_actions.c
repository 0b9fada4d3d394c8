/* What the window does, with its keys. */
#include "app/window/window_private.h"

#include <glib/gi18n.h>

#include "app/manual/manual_window.h"
#include "app/paper/recall_dialog.h"
#include "app/widgets/compat.h"
#include "app/window/about_sources.h"
#include "app/window/farm_dialog.h"
#include "app/window/recent.h"
#include "app/window/shortcuts.h"
#include "app/window/window_files.h"

#define PARTS_MOST 9 /* of a page, with a key each */

static void
find_cb (BedWindow *self)
{
  gtk_widget_grab_focus (GTK_WIDGET (self->search));
}

static void shortcuts_cb (BedWindow *self);

static void
about_cb (BedWindow *self)
{
  g_auto (GStrv) sources = bed_about_dup_sources ();

  bed_show_about (GTK_WIDGET (self), (const char *const *) sources);
}

/* Each asks about what is typed in it. The one in front goes last: it is what is opened next. */
static void
quit_cb (BedWindow *self)
{
  GtkApplication *application = gtk_window_get_application (GTK_WINDOW (self));
  g_autoptr (GList) windows
      = g_list_reverse (g_list_copy (gtk_application_get_windows (application)));

  for (GList *l = windows; l; l = l->next)
    if (BED_IS_WINDOW (l->data))
      gtk_window_close (l->data);
}

static void
recall_cb (BedWindow *self)
{
  bed_recall_ask_for (GTK_WIDGET (self), self->farm);
}

/* What is hidden in the list of pages is passed by. */
static void
step_page (BedWindow *self, int step)
{
  GtkListBox *list = GTK_LIST_BOX (self->page_list);
  GtkListBoxRow *row = gtk_list_box_get_selected_row (list);

  do
    row = row ? gtk_list_box_get_row_at_index (list, gtk_list_box_row_get_index (row) + step)
              : NULL;
  while (row && !gtk_widget_get_visible (GTK_WIDGET (row)));
  if (row)
    bed_window_show_page (self, bed_window_get_page_name (gtk_list_box_row_get_index (row)));
}

static void
next_page_cb (BedWindow *self)
{
  step_page (self, 1);
}

static void
previous_page_cb (BedWindow *self)
{
  step_page (self, -1);
}

static void
menu_cb (BedWindow *self)
{
  gtk_menu_button_popup (
      GTK_MENU_BUTTON (self->farm ? self->menu_button : self->start_menu_button));
}

/* What the window does: the action, its key, and its line in the window of keys come from the same
 * row. */
static const struct
{
  const char *name;
  const char *accelerator;       /* NULL: none */
  const char *title;             /* N_() */
  void (*run) (BedWindow *self); /* or one of: */
  void (*run_over) (GtkWindow *self);
  void (*begin) (GtkWindow *self); /* another farm */
  void (*run_page) (BedPage *page);
  void (*reverse) (BedUndo *undo, gint64 change);
} actions[] = {
  { "win.undo", "<Control>z", N_ ("Undo the last change"), .reverse = bed_undo_undo },
  { "win.redo", "<Control><Shift>z", N_ ("Redo"), .reverse = bed_undo_redo },
  { "win.add", "<Control>n", N_ ("Add what this page is about"), .run_page = bed_page_add },
  { "win.print", "<Control>p", N_ ("Print what this page prints"), .run_page = bed_page_print },
  { "win.recall-of", NULL, N_ ("Recall by a code, a day or a water"), .run = recall_cb },
  { "win.find", "<Control>f", N_ ("Find a code or a name"), .run = find_cb },
  { "win.new", "<Control><Shift>n", N_ ("New farm"), .begin = bed_farm_dialog_new_farm },
  { "win.open", "<Control>o", N_ ("Open a farm"), .begin = bed_window_files_open },
  { "win.copy", NULL, N_ ("Save a copy of the farm"), .run_over = bed_window_files_copy },
  { "win.import", "<Control>i", N_ ("Bring in a sheet"), .run_over = bed_window_import_choose },
  { "win.paste", "<Control>v", N_ ("Bring in copied cells"), .run_over = bed_window_import_paste },
  { "win.backups", "<Control>b", N_ ("Backups"), .run_over = bed_window_files_backups },
  { "win.restore", NULL, N_ ("Restore this copy"), .run_over = bed_window_files_restore },
  { "win.settings", "<Control>comma", N_ ("Farm and units"), .run_over = bed_farm_dialog_change },
  { "win.demo", NULL, N_ ("Try the demo farm"), .begin = bed_window_files_demo },
  { "win.next-page", "<Control>Page_Down", N_ ("Next page"), .run = next_page_cb },
  { "win.previous-page", "<Control>Page_Up", N_ ("Page before"), .run = previous_page_cb },
  { "win.menu", "F10", N_ ("Open the menu"), .run = menu_cb },
  { "win.close", "<Control>w", N_ ("Close the window"), .run_over = gtk_window_close },
  { "win.quit", "<Control>q", N_ ("Close all windows"), .run = quit_cb },
  { "win.help", "F1", N_ ("The manual, at what is in front"), .run_over = bed_manual_open_for },
  { "win.shortcuts", "<Control>question", N_ ("Keyboard shortcuts"), .run = shortcuts_cb },
  { "win.about", NULL, N_ ("About Bedlog"), .run = about_cb },
};

static void
shortcuts_cb (BedWindow *self)
{
  static const BedPageKey numbered[] = {
    { "<Control>1", N_ ("First page; Ctrl+2 to Ctrl+9: those after it") },
    { "<Control>0", N_ ("Tenth page") },
    { "<Alt>1", N_ ("First part of the page; Alt+2 to Alt+9: those after it") },
  };
  BedPageKey keys[G_N_ELEMENTS (actions) + G_N_ELEMENTS (numbered) + 1] = { 0 };
  guint n = 0;

  for (guint i = 0; i < G_N_ELEMENTS (actions); i++)
    if (actions[i].accelerator)
      keys[n++] = (BedPageKey){ actions[i].accelerator, actions[i].title };
  for (guint i = 0; i < G_N_ELEMENTS (numbered); i++)
    keys[n++] = numbered[i];
  bed_shortcuts_show (GTK_WIDGET (self), keys, bed_window_get_page (self));
}

static void
action_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  BedWindow *self = BED_WINDOW (widget);
  guint i = 0;

  while (g_strcmp0 (actions[i].name, name) != 0)
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
    {
      /* A sheet waits for no other farm than the one that was about to be made for it. */
      g_clear_pointer (&self->waiting_sheet, g_free);
      actions[i].begin (GTK_WINDOW (self));
    }
}

static void
page_action_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  bed_window_show_page (BED_WINDOW (widget), g_variant_get_string (parameter, NULL));
}

static void
open_recent_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  bed_window_open_beside (BED_WINDOW (widget), g_variant_get_bytestring (parameter));
}

static void
clear_recent_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  bed_recent_clear ();
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

/* --- public ----------------------------------------------------------------------- */

/* Keys are bound on the window, not the application: an entry that has the focus
 * gets its own Ctrl+Z first. */
void
bed_window_install_actions (GtkWidgetClass *klass)
{
  guint key;
  GdkModifierType modifiers;

  for (guint i = 0; i < G_N_ELEMENTS (actions); i++)
    {
      const char *accelerator = actions[i].accelerator;

      gtk_widget_class_install_action (klass, actions[i].name, NULL, action_cb);
      if (accelerator && gtk_accelerator_parse (accelerator, &key, &modifiers))
        gtk_widget_class_add_binding_action (klass, key, modifiers, actions[i].name, NULL);
    }
  gtk_widget_class_install_action (klass, "win.open-written", "s", open_written_cb);
  gtk_widget_class_install_action (klass, "win.open-recent", "ay", open_recent_cb);
  gtk_widget_class_install_action (klass, "win.clear-recent", NULL, clear_recent_cb);
  gtk_widget_class_install_action (klass, "win.undo-change", "x", reverse_change_cb);
  gtk_widget_class_install_action (klass, "win.redo-change", "x", reverse_change_cb);
  gtk_widget_class_install_action (klass, "win.recall", "(ix)", recall_action_cb);
  gtk_widget_class_install_action (klass, "win.page", "s", page_action_cb);
  for (guint i = 0; i < BED_WINDOW_PAGE_KEYS; i++)
    gtk_widget_class_add_binding_action (klass, GDK_KEY_0 + (i + 1) % BED_WINDOW_PAGE_KEYS,
                                         GDK_CONTROL_MASK, "win.page", "s",
                                         bed_window_get_page_name (i));
  gtk_widget_class_install_action (klass, "win.part", "i", part_action_cb);
  for (int i = 0; i < PARTS_MOST; i++)
    gtk_widget_class_add_binding_action (klass, GDK_KEY_1 + i, GDK_ALT_MASK, "win.part", "i", i);
}

/* Before whatever has the keyboard: lists and notes go a page of their own on by the same keys. */
void
bed_window_take_page_keys (BedWindow *self)
{
  GtkEventController *keys = gtk_shortcut_controller_new ();

  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  for (guint i = 0; i < G_N_ELEMENTS (actions); i++)
    if (actions[i].run == next_page_cb || actions[i].run == previous_page_cb)
      gtk_shortcut_controller_add_shortcut (
          GTK_SHORTCUT_CONTROLLER (keys),
          gtk_shortcut_new (gtk_shortcut_trigger_parse_string (actions[i].accelerator),
                            gtk_named_action_new (actions[i].name)));
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}
