#include "app/desk/browser.h"

#include <glib/gi18n.h>

#include "app/desk/recall_button.h"
#include "app/form/forms.h"
#include "app/host/host.h"
#include "app/widgets/build.h"
#include "app/widgets/compat.h"
#include "app/widgets/facts.h"
#include "app/widgets/split.h"
#include "app/widgets/trouble.h"
#include "app/widgets/wrap_layout.h"
#include "model/farm/kind_words.h"
#include "model/farm/kinds.h"

struct _BedBrowser
{
  BedPart parent_instance;
  BedFarm *farm;
  const BedBrowserSpec *spec;
  GtkWidget *stack; /* "empty", "first", "read", "form" */
  BedTable *table;
  BedSplit *split;
  GtkWidget *detail;     /* "own" and "other" of what is read beside the table */
  const BedEmpty *first; /* what must come first, or NULL */
  GtkWidget *own;        /* of ->detail_new, and what is typed in it; or NULL */
  BedForm *form;         /* NULL until first opened */
};

BED_DEFINE_TYPE (BedBrowser, bed_browser, BED_TYPE_PART)

static GtkWidget *
make_facts (BedFarm *farm, BedRecord *record)
{
  BedKind kind = bed_record_get_kind (record);
  const char *title = bed_kind_get_info (kind)->key ? bed_record_get_name (record)
                                                    : bed_kind_get_heading (kind);
  GtkWidget *recall = bed_recall_button_new (kind, bed_record_get_id (record));

  return bed_column_new (0, bed_browser_head_new (title, NULL, recall),
                         bed_styled (bed_facts_new (farm, record), "section"), NULL);
}

/* Own stays in the tree, and what is typed in it is found there. */
static void
show_other (BedBrowser *self, GtkWidget *other)
{
  GtkStack *stack = GTK_STACK (self->detail);
  GtkWidget *before = gtk_stack_get_child_by_name (stack, "other");

  if (before)
    gtk_stack_remove (stack, before);
  bed_stack_add (self->detail, bed_part_new (other), "other");
  gtk_stack_set_visible_child_name (stack, "other");
}

/* What shows @id beside the table; NULL where it could not be read. */
static GtkWidget *
read_one (BedBrowser *self, gint64 id, GError **error)
{
  g_autoptr (BedRecord) there = bed_farm_load (self->farm, self->spec->kind, id, error);

  if (!there)
    return NULL;
  if (!self->own)
    return make_facts (self->farm, there);
  return self->spec->detail_show (self->own, id, error) ? self->own : NULL;
}

static gboolean
read_selected (BedBrowser *self, GError **error)
{
  gint64 id = bed_table_get_selected (self->table);
  g_autoptr (GError) why = NULL;
  GtkWidget *shown = id ? read_one (self, id, &why) : NULL;
  gboolean may_write = shown && !bed_farm_get_read_only_why (self->farm);
  /* Of a record that is gone the table tells in a moment. */
  gboolean none = !id || g_error_matches (why, BED_FARM_ERROR, BED_FARM_ERROR_NOT_FOUND);

  if (shown == self->own && shown)
    gtk_stack_set_visible_child (GTK_STACK (self->detail), shown);
  else if (shown)
    show_other (self, shown);
  else if (none)
    show_other (self, bed_styled (gtk_label_new (_ ("Choose one in the list")), "dim-label"));
  else
    g_propagate_error (error, g_steal_pointer (&why));
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "record.change", may_write);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "record.remove", may_write);
  return shown || none;
}

static void
show_first_step (BedBrowser *self, const BedEmpty *first)
{
  GtkWidget *before = gtk_stack_get_child_by_name (GTK_STACK (self->stack), "first");

  if (before)
    gtk_stack_remove (GTK_STACK (self->stack), before);
  self->first = first;
  if (first)
    bed_stack_add (self->stack, bed_empty_new (first), "first");
}

static void
show_reading (BedBrowser *self)
{
  gboolean any = bed_farm_count (self->farm, self->spec->kind) > 0;
  const BedEmpty *first
      = !any && self->spec->find_first_step ? self->spec->find_first_step (self->farm) : NULL;

  if (first != self->first)
    show_first_step (self, first);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), any     ? "read"
                                                             : first ? "first"
                                                                     : "empty");
}

void
bed_browser_read (BedBrowser *self)
{
  g_return_if_fail (BED_IS_BROWSER (self));
  g_autoptr (GError) error = NULL;

  /* While another program holds the farm the one that was read stays. */
  if (!bed_farm_begin_reading (self->farm))
    return;
  gboolean read = read_selected (self, &error);
  if (bed_farm_end_reading (self->farm, error ? NULL : &error) && read)
    return;
  GtkWidget *trouble = bed_trouble_new (self->farm);
  bed_trouble_say (trouble, error);
  show_other (self, trouble);
}

/* A page opens on something to read, and reads it when it is seen. */
static void
select_first (BedBrowser *self)
{
  if (g_list_model_get_n_items (G_LIST_MODEL (bed_table_get_list (self->table))) > 0)
    bed_table_select (self->table, bed_list_get_id (bed_table_get_list (self->table), 0));
}

static void
opened_cb (BedBrowser *self)
{
  bed_split_show_detail (self->split);
  gtk_widget_child_focus (self->detail, GTK_DIR_TAB_FORWARD);
}

static void
saved_cb (BedBrowser *self, BedRecord *record)
{
  bed_table_select (self->table, bed_record_get_id (record));
}

static void
left_cb (BedBrowser *self)
{
  show_reading (self);
  bed_split_show_detail (self->split);
  gtk_widget_grab_focus (GTK_WIDGET (self));
}

static void
change_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  BedBrowser *self = BED_BROWSER (widget);
  BedForm *form = bed_browser_get_form (self);
  g_autoptr (BedRecord) record
      = bed_host_load (widget, self->farm, self->spec->kind, bed_table_get_selected (self->table));

  if (record)
    bed_form_open (form, record, NULL);
}

/* Not asked about: the toast takes it back. */
static void
remove_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  BedBrowser *self = BED_BROWSER (widget);

  bed_host_remove_one (widget, self->farm, self->spec->kind, bed_table_get_selected (self->table));
}

static void
row_change_cb (BedBrowser *self)
{
  gtk_widget_activate_action (GTK_WIDGET (self), "record.change", NULL);
}

static void
row_remove_cb (BedBrowser *self)
{
  gtk_widget_activate_action (GTK_WIDGET (self), "record.remove", NULL);
}

/* To what is read or typed here; where the list makes room for what was chosen, to that. */
static gboolean
bed_browser_grab_focus (GtkWidget *widget)
{
  BedBrowser *self = BED_BROWSER (widget);
  GtkWidget *seen = gtk_stack_get_visible_child (GTK_STACK (self->stack));

  if (seen == GTK_WIDGET (self->split) && gtk_widget_get_child_visible (GTK_WIDGET (self->table)))
    return gtk_widget_grab_focus (GTK_WIDGET (self->table));
  if (seen != GTK_WIDGET (self->form))
    return gtk_widget_child_focus (seen, GTK_DIR_TAB_FORWARD);
  bed_form_focus (self->form, NULL);
  return TRUE;
}

static void
bed_browser_class_init (BedBrowserClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  widget_class->grab_focus = bed_browser_grab_focus;
  gtk_widget_class_install_action (widget_class, "record.change", NULL, change_cb);
  gtk_widget_class_install_action (widget_class, "record.remove", NULL, remove_cb);
}

BedBrowser *
bed_browser_new (BedFarm *farm, const BedBrowserSpec *spec)
{
  BedBrowser *self = g_object_new (BED_TYPE_BROWSER, NULL);

  self->farm = bed_part_hold (BED_PART (self), farm);
  self->spec = spec;
  self->table = bed_table_new (farm, spec->table);
  self->stack = gtk_stack_new ();
  self->detail = gtk_stack_new ();
  gtk_stack_set_hhomogeneous (GTK_STACK (self->detail), FALSE);
  gtk_stack_set_vhomogeneous (GTK_STACK (self->detail), FALSE);
  if (spec->detail_new)
    {
      self->own = spec->detail_new (farm);
      bed_stack_add (self->detail, self->own, "own");
    }
  self->split = bed_split_new (GTK_WIDGET (self->table), bed_scrolled_new (self->detail));
  bed_stack_add (self->stack, bed_empty_new (&spec->empty), "empty");
  bed_stack_add (self->stack, GTK_WIDGET (self->split), "read");
  bed_part_set_child (BED_PART (self), self->stack);
  g_signal_connect_swapped (self->table, "opened", G_CALLBACK (opened_cb), self);
  g_signal_connect_swapped (self->table, "change", G_CALLBACK (row_change_cb), self);
  g_signal_connect_swapped (self->table, "remove", G_CALLBACK (row_remove_cb), self);
  show_reading (self);
  select_first (self);
  g_signal_connect_swapped (self->table, "selected", G_CALLBACK (bed_browser_read), self);
  return self;
}

GtkWidget *
bed_browser_get_detail (BedBrowser *self)
{
  g_return_val_if_fail (BED_IS_BROWSER (self), NULL);
  return self->own;
}

BedForm *
bed_browser_get_form (BedBrowser *self)
{
  g_return_val_if_fail (BED_IS_BROWSER (self), NULL);

  if (self->form)
    return self->form;
  self->form = self->spec->form_new ? self->spec->form_new (self->farm)
                                    : bed_forms_new (self->farm, self->spec->kind);
  g_signal_connect_object (self->form, "saved", G_CALLBACK (saved_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->form, "left", G_CALLBACK (left_cb), self, G_CONNECT_SWAPPED);
  bed_stack_add (self->stack, GTK_WIDGET (self->form), "form");
  return self->form;
}

void
bed_browser_add (BedBrowser *self, BedRecord *draft)
{
  BedForm *form = bed_browser_get_form (self);

  bed_form_open (form, draft, NULL);
}

void
bed_browser_show (BedBrowser *self, gint64 id)
{
  g_return_if_fail (BED_IS_BROWSER (self));

  show_reading (self);
  if (!bed_table_select (self->table, id))
    {
      bed_table_set_filter (self->table, NULL);
      bed_table_select (self->table, id);
    }
  bed_split_show_detail (self->split);
  gtk_widget_grab_focus (GTK_WIDGET (self->table));
}

void
bed_browser_show_detail (BedBrowser *self)
{
  g_return_if_fail (BED_IS_BROWSER (self));
  bed_split_show_detail (self->split);
}

void
bed_browser_show_rows (BedBrowser *self)
{
  g_return_if_fail (BED_IS_BROWSER (self));
  bed_list_show_again (bed_table_get_list (self->table));
}

gint64
bed_browser_get_selected (BedBrowser *self)
{
  g_return_val_if_fail (BED_IS_BROWSER (self), 0);
  return bed_table_get_selected (self->table);
}

gboolean
bed_browser_refresh (BedBrowser *self, GError **error)
{
  const char *seen;

  g_return_val_if_fail (BED_IS_BROWSER (self), FALSE);
  seen = gtk_stack_get_visible_child_name (GTK_STACK (self->stack));
  if (g_strcmp0 (seen, "form") != 0)
    show_reading (self);
  return read_selected (self, error);
}

GtkWidget *
bed_browser_head_new (const char *name, const char *line, GtkWidget *extra)
{
  GtkWidget *buttons = bed_wrap_new (6, 6), *row = bed_wrap_new (12, 6);
  GtkWidget *head = bed_styled (bed_column_new (6, row, NULL), "detail-head");
  GtkWidget *change = bed_action_button_new (_ ("Change"), "record.change");
  GtkWidget *drop = bed_styled (bed_action_button_new (_ ("Remove"), "record.remove"), "flat");

  gtk_box_append (GTK_BOX (row), bed_line_new (name, "title-2"));
  gtk_box_append (GTK_BOX (row), buttons);
  gtk_widget_set_halign (buttons, GTK_ALIGN_END);
  if (extra)
    gtk_box_append (GTK_BOX (buttons), extra);
  /* Under the buttons: beside them it has the room of a few words. */
  if (line)
    gtk_box_append (GTK_BOX (head), bed_words_new (line, "dim-label"));
  gtk_widget_set_valign (change, GTK_ALIGN_CENTER);
  gtk_widget_set_valign (drop, GTK_ALIGN_CENTER);
  gtk_widget_set_focus_on_click (drop, FALSE); /* the next Enter does not remove another */
  gtk_box_append (GTK_BOX (buttons), change);
  gtk_box_append (GTK_BOX (buttons), drop);
  return head;
}
