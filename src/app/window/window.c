#include "app/window/window_private.h"

#include <glib/gi18n.h>

#include "app/batches/batches_page.h"
#include "app/history/history_page.h"
#include "app/host/typing.h"
#include "app/host/wait.h"
#include "app/import/import_page.h"
#include "app/lists/care_page.h"
#include "app/lists/names_page.h"
#include "app/money/money_page.h"
#include "app/picking/picking_page.h"
#include "app/season/season_page.h"
#include "app/soaking/soaking_page.h"
#include "app/week/week_page.h"
#include "app/widgets/build.h"
#include "app/widgets/compat.h"
#include "app/widgets/enter.h"
#include "app/widgets/plot.h"
#include "app/widgets/topic.h"
#include "app/window/first_frame.h"
#include "app/window/one_stop.h"
#include "app/window/recent_list.h"
#include "app/woodlot/woodlot_page.h"
#include "app/yard/yard_page.h"
#include "model/farm/value.h"

#define NARROW 900     /* px of usual letters: below it the page names are icons only */
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

int
bed_window_find_page (const char *name)
{
  for (guint i = 0; i < G_N_ELEMENTS (pages); i++)
    if (g_strcmp0 (pages[i].name, name) == 0)
      return i;
  return -1;
}

const char *
bed_window_get_page_name (guint at)
{
  return pages[at].name;
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
      select_page_row (self, bed_window_find_page (gtk_stack_get_visible_child_name (stack)));
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
  select_page_row (
      self, bed_window_find_page (gtk_stack_get_visible_child_name (GTK_STACK (self->pages))));
  update_page_actions (self);
  bed_window_keep_place (self);
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
  g_autofree char *tip = at < BED_WINDOW_PAGE_KEYS ? g_strdup_printf (
                             "%s (Ctrl+%u)", _ (pages[at].title), (at + 1) % BED_WINDOW_PAGE_KEYS)
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

/* Nothing in it has letters, and GTK 4.8 goes on with the height that it had. */
static void
measure_anew (gpointer foot)
{
  gtk_widget_queue_resize (foot);
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
  const char *why = self->farm ? bed_farm_get_read_only_why (self->farm) : NULL;
  const char *said = why;

  if (!why && self->farm && bed_farm_is_held (self->farm))
    said = _ ("Another program is writing to this farm. What you see is from before, and is "
              "brought up to date when it is done.");
  bed_window_name_all ();
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
    bed_window_show_place (self);
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
  bed_window_keep_place (BED_WINDOW (window));
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
  gtk_widget_set_visible (self->farm_names, !self->narrow);
  show_hint (self);
  place_notes (self);
  if (self->narrow)
    gtk_widget_remove_css_class (self->sidebar, "named");
  else
    gtk_widget_add_css_class (self->sidebar, "named");
  adw_header_bar_set_show_start_title_buttons (ADW_HEADER_BAR (self->sidebar_bar), !self->narrow);
  return G_SOURCE_REMOVE;
}

/* libadwaita 1.2 has no breakpoints; changing what is seen while it is being given
 * its size would ask for a new size, so that is done right after. */
static void
bed_window_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  BedWindow *self = BED_WINDOW (widget);

  if (self->narrow != (width < bed_plot_to_px (widget, NARROW)))
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
  bed_window_name_all ();
  G_OBJECT_CLASS (bed_window_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *klass)
{
  gtk_widget_class_bind_template_child (klass, BedWindow, root);
  gtk_widget_class_bind_template_child (klass, BedWindow, sidebar);
  gtk_widget_class_bind_template_child (klass, BedWindow, sidebar_bar);
  gtk_widget_class_bind_template_child (klass, BedWindow, farm_names);
  gtk_widget_class_bind_template_child (klass, BedWindow, farm_name);
  gtk_widget_class_bind_template_child (klass, BedWindow, farm_where);
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
  gtk_widget_class_bind_template_child (klass, BedWindow, start_menu_button);
  gtk_widget_class_bind_template_child (klass, BedWindow, recent_place);
  gtk_widget_class_bind_template_child (klass, BedWindow, farms_section);
  gtk_widget_class_bind_template_child (klass, BedWindow, search_place);
  gtk_widget_class_bind_template_child (klass, BedWindow, state);
  gtk_widget_class_bind_template_child (klass, BedWindow, state_bar);
  gtk_widget_class_bind_template_child (klass, BedWindow, restore_button);
  gtk_widget_class_bind_template_child (klass, BedWindow, pages);
  gtk_widget_class_bind_template_callback (klass, page_row_selected_cb);
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
  bed_window_install_actions (widget_class);
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
  adw_clamp_set_child (ADW_CLAMP (self->recent_place), bed_recent_list_new ());
  bed_name_menu_button (self->menu_button);
  bed_name_menu_button (self->start_menu_button);
  bed_recent_menu_follow (self->menu_button, self->farms_section);
  bed_recent_menu_follow (self->start_menu_button, self->farms_section);
  bed_letters_follow (self->start_foot, measure_anew);
  bed_letters_follow (self->sidebar_foot, measure_anew);
  bed_letters_follow (self->page_foot, measure_anew);
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
  bed_window_take_page_keys (self);
  g_signal_connect_object (self->pages, "notify::visible-child", G_CALLBACK (page_shown_cb), self,
                           G_CONNECT_SWAPPED);
  bed_typing_guard (GTK_WINDOW (self));
  bed_window_set_farm (self, NULL);
}

/* --- public ----------------------------------------------------------------------- */

BedWindow *
bed_window_new (GtkApplication *application, const char *path)
{
  BedWindow *self = g_object_new (BED_TYPE_WINDOW, "application", application, NULL);

  bed_window_take_size (self, path);
  return self;
}

void
bed_window_set_farm (BedWindow *self, BedFarm *farm)
{
  g_return_if_fail (BED_IS_WINDOW (self));

  bed_window_keep_place (self);
  g_clear_pointer (&self->keeper, bed_keeper_free);
  clear_pages (self);
  if (farm)
    bed_farm_set_patience (farm, PATIENCE);
  g_set_object (&self->farm, farm);
  g_signal_group_set_target (self->farm_signals, farm);
  bed_search_set_farm (self->search, farm);
  place_notes (self);
  update_name (self);
  bed_undo_show (self->undo, farm);
  update_page_actions (self);
  if (farm)
    bed_window_show_place (self);
  /* Now: the keyboard goes to the list of pages, which shows what is chosen in it. */
  gtk_stack_set_visible_child_name (GTK_STACK (self->root), farm ? "desk" : "start");
  if (farm)
    bed_window_import_go_on (GTK_WINDOW (self));
  else /* or Tab goes on looking where the keyboard was last, which is out of sight */
    bed_enter (gtk_stack_get_visible_child (GTK_STACK (self->root)));
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
  int at = bed_window_find_page (name);

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
