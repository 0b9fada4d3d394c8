#include "app/yard/yard_panel.h"

#include <glib/gi18n.h>

#include "app/form/form.h"
#include "app/host/host.h"
#include "app/host/typing.h"
#include "app/widgets/build.h"
#include "app/widgets/plot.h"
#include "app/widgets/wrap_layout.h"
#include "app/yard/yard_apply.h"
#include "app/yard/yard_elevation.h"
#include "app/yard/yard_group_panel.h"
#include "app/yard/yard_overview.h"
#include "app/yard/yard_put.h"
#include "app/yard/yard_stood.h"
#include "model/farm/say.h"
#include "science/units.h"
#include "yard/planned_farm.h"

#define WIDTH 300
#define WIDTH_NARROW 216

struct _BedYardPanel
{
  BedPart parent_instance;
  BedFarm *farm;
  BedYardShown shown;
  GHashTable *looks; /* see bed_yard_panel_set_looks() */
  gint64 framed;     /* the log with the frame, across refreshes */
  GtkWidget *holder; /* keeps the one width, whatever is shown */
  GtkWidget *stack;  /* "none", "stack", "group" */
  GtkWidget *group;
  GtkWidget *pages;
  GtkWidget *name;
  GtkWidget *contents;
  GtkWidget *measures;
  GtkWidget *switcher;
  GtkWidget *tabs; /* "logs", "details" */
  GtkWidget *elevation;
  GtkWidget *large; /* weak */
  GtkWidget *log_buttons;
  GtkWidget *log_name;
  GtkWidget *log_facts;
  GtkWidget *advice;
  GtkWidget *put;
  GtkWidget *actions;
  BedForm *form;
  GtkWidget *stood; /* GtkBox, filled anew: where it stood before */
};

BED_DEFINE_TYPE (BedYardPanel, bed_yard_panel, BED_TYPE_PART)

static const BedFormGroup stack_groups[] = {
  { NULL, { "name", "kind", "area", NULL } },
  { N_ ("Where it stands"), { "x", "y", "turn", NULL } },
  { N_ ("How it is laid"), { "tiers", "per_tier", NULL } },
  { NULL, { "built_on", "taken_down_on", "notes", NULL } },
};

static const BedFormSpec stack_form
    = { .kind = BED_KIND_STACK, .groups = stack_groups, .n_groups = G_N_ELEMENTS (stack_groups) };

/* --- what is shown -------------------------------------------------------------- */

static const BedYardStack *
get_stack (BedYardPanel *self, guint *index)
{
  if (!self->shown.scene || !self->shown.stack)
    return NULL;
  return bed_yard_find_stack (self->shown.scene->yard, self->shown.stack, index);
}

static const BedYardLog *
get_log (BedYardPanel *self)
{
  const BedYardStack *stack = get_stack (self, NULL);

  return stack ? bed_yard_stack_find_log (stack, self->framed) : NULL;
}

static char *
format_length (BedYardPanel *self, double metres)
{
  const BedNotation *notation = bed_farm_get_notation (self->farm);

  return bed_measure_format_unit_rounded (BED_MEASURE_LENGTH_LONG, notation, 2,
                                          llround (metres * 1e6));
}

/* --- advice --------------------------------------------------------------------- */

/* NULL while it is not known. */
static const BedStackLook *
find_look (BedYardPanel *self)
{
  return self->looks ? g_hash_table_lookup (self->looks, &self->shown.stack) : NULL;
}

/* --- nothing selected ----------------------------------------------------------- */

static void
show_none (BedYardPanel *self)
{
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "none");
  bed_yard_pages_show (BED_YARD_PAGES (self->pages), self->shown.scene, self->shown.mode,
                       self->shown.colour_by);
}

/* An overview's button. */
static void
select_cb (GtkWidget *widget, const char *name, GVariant *stack)
{
  g_signal_emit_by_name (widget, "select", g_variant_get_int64 (stack));
}

/* --- the framed log ------------------------------------------------------------- */

static void
show_log (BedYardPanel *self)
{
  const BedYardLog *log = get_log (self);
  const BedNotation *notation = bed_farm_get_notation (self->farm);

  gtk_widget_set_visible (self->log_buttons, log != NULL);
  if (!log)
    {
      gtk_label_set_label (GTK_LABEL (self->log_name), _ ("No log chosen"));
      gtk_label_set_label (GTK_LABEL (self->log_facts),
                           _ ("Click a log end, or walk them with the arrows"));
      return;
    }
  g_autofree char *thick
      = bed_measure_format_unit_said (BED_MEASURE_LENGTH, notation, llround (log->diameter * 1e6));
  g_autofree char *long_
      = bed_measure_format_unit_said (BED_MEASURE_LENGTH, notation, llround (log->length * 1e6));
  g_autofree char *grown
      = log->colonised >= 0 ? bed_say (_ ("%.0f %% colonised"), 100 * log->colonised) : NULL;
  g_autofree char *facts
      = g_strjoin (" · ", thick, long_, log->retired ? _ ("retired") : grown, NULL);
  gtk_label_set_label (GTK_LABEL (self->log_name), log->code);
  gtk_label_set_label (GTK_LABEL (self->log_facts), facts);
}

static void
frame_log (BedYardPanel *self, gint64 log)
{
  self->framed = log;
  for (guint i = 0; i < 2; i++)
    {
      GtkWidget *elevation = i ? self->large : self->elevation;
      if (elevation && bed_yard_elevation_get_log (BED_YARD_ELEVATION (elevation)) != log)
        bed_yard_elevation_select_log (BED_YARD_ELEVATION (elevation), log);
    }
  show_log (self);
}

static void
log_selected_cb (BedYardPanel *self, gint64 log)
{
  if (log != self->framed)
    frame_log (self, log);
}

static void
logs_moved_cb (BedYardPanel *self, const GArray *logs, guint tier, guint slot)
{
  BedLogGoal goal = { get_stack (self, NULL), tier, slot };
  g_autoptr (GError) error = NULL;

  if (!goal.to || logs->len == 0)
    return;
  self->framed = g_array_index (logs, gint64, 0);
  bed_yard_apply (GTK_WIDGET (self),
                  self->shown.plan
                      ? bed_planned_move_logs (self->farm, self->shown.plan, logs, &goal, &error)
                      : bed_yard_move_logs (self->farm, logs, &goal, &error),
                  &error);
}

static void
logs_taken_out_cb (BedYardPanel *self, const GArray *logs)
{
  g_autoptr (GError) error = NULL;

  if (self->shown.plan)
    bed_host_say (GTK_WIDGET (self), _ ("In a plan logs go from stack to stack."));
  else
    bed_yard_apply (GTK_WIDGET (self), bed_yard_take_out_logs (self->farm, logs, &error), &error);
}

/* The one that is seen: small beside the map, or in its place. */
static BedYardElevation *
get_elevation (BedYardPanel *self)
{
  return BED_YARD_ELEVATION (self->large && gtk_widget_get_mapped (self->large) ? self->large
                                                                                : self->elevation);
}

static void
take_out_cb (BedYardPanel *self)
{
  g_autoptr (GArray) logs
      = g_array_copy ((GArray *) bed_yard_elevation_get_chosen (get_elevation (self)));

  if (logs->len > 0 && self->shown.mode == BED_YARD_CHANGE)
    logs_taken_out_cb (self, logs);
}

static void
batch_cb (GtkWidget *widget, const char *name, GVariant *batch)
{
  g_signal_emit_by_name (widget, "batch", g_variant_get_string (batch, NULL));
}

static void
alike_cb (GtkWidget *widget, const char *name, GVariant *alike)
{
  bed_yard_elevation_choose (get_elevation (BED_YARD_PANEL (widget)), g_variant_get_uint32 (alike));
}

static void
open_log_cb (BedYardPanel *self)
{
  if (get_log (self))
    bed_host_show_record (GTK_WIDGET (self), BED_KIND_LOG, self->framed);
}

/* Several are chosen: how many. */
static void
logs_chosen_cb (BedYardPanel *self, guint n)
{
  if (n < 2)
    {
      show_log (self);
      return;
    }
  g_autofree char *name = bed_say (ngettext ("%u log", "%u logs", n), n);
  gtk_label_set_label (GTK_LABEL (self->log_name), name);
  gtk_label_set_label (GTK_LABEL (self->log_facts), _ ("Drag them, or press Enter to carry them"));
  gtk_widget_set_visible (self->log_buttons, TRUE);
}

static void
put_cb (GtkWidget *widget, const char *name, GVariant *batch)
{
  BedYardPanel *self = BED_YARD_PANEL (widget);
  const BedYardStack *stack = get_stack (self, NULL);
  g_autoptr (GError) error = NULL;

  gtk_menu_button_popdown (GTK_MENU_BUTTON (self->put));
  if (stack)
    bed_yard_apply (widget,
                    bed_yard_put_batch (self->farm, stack, g_variant_get_int64 (batch), &error),
                    &error);
}

/* Back on the map the next stack is found by its name. */
static void
put_logs_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  BedYardPanel *self = BED_YARD_PANEL (widget);
  BedLogGoal goal = { .to = get_stack (self, NULL) };
  g_autoptr (GArray) logs = bed_yard_put_dup_logs (parameter, &goal.since);
  g_autoptr (GError) error = NULL;

  if (!goal.to
      || !bed_yard_apply (widget, bed_yard_put_logs (self->farm, logs, &goal, &error), &error))
    return;
  gtk_menu_button_popdown (GTK_MENU_BUTTON (self->put));
  g_signal_emit_by_name (self, "put");
}

/* --- the stack ------------------------------------------------------------------ */

static void
edit_stack (BedYardPanel *self)
{
  g_autoptr (BedRecord) record
      = bed_farm_load (self->farm, BED_KIND_STACK, self->shown.stack, NULL);

  if (record)
    bed_form_edit (self->form, record);
  bed_box_clear (self->stood);
  gtk_box_append (GTK_BOX (self->stood), bed_yard_stood_new (self->farm, self->shown.stack));
  gtk_widget_set_sensitive (GTK_WIDGET (self->form), self->shown.mode == BED_YARD_CHANGE);
}

/* Before what is typed about another stack is lost it is asked about; to keep it selects that one
 * again, see form_mapped_cb(). */
static void
show_form (BedYardPanel *self)
{
  if (!bed_form_has_typing (self->form))
    {
      edit_stack (self);
      return;
    }
  gtk_widget_set_sensitive (GTK_WIDGET (self->form), TRUE);
  if (bed_record_get_id (bed_form_get_original (self->form)) == self->shown.stack)
    return;
  gtk_stack_set_visible_child_name (GTK_STACK (self->tabs), "logs");
  bed_typing_ask (GTK_WIDGET (self->form), G_CALLBACK (edit_stack), self);
}

/* Along the ground; NULL where none is drawn, or no way leads to it. */
static char *
dup_water (BedYardPanel *self)
{
  const BedStackLook *look = find_look (self);

  if (!look || look->to_water < 0)
    return NULL;
  g_autofree char *length = format_length (self, look->to_water);
  /* TRANSLATORS: a distance along the ground */
  return g_strdup_printf (_ ("%s to water"), length);
}

static void
show_measures (BedYardPanel *self, const BedPile *pile, const BedYardStack *stack)
{
  g_autofree char *length = format_length (self, pile->length);
  g_autofree char *width = format_length (self, pile->width);
  g_autofree char *height = format_length (self, pile->height);
  g_autofree char *water = dup_water (self);
  g_autofree char *text
      = stack->logs->len > 0
            /* TRANSLATORS: logs there are of logs it holds, length by width, height */
            ? bed_say (_ ("%u of %u places · %s × %s · %s high"), stack->logs->len, pile->holds,
                       length, width, height)
            : bed_say (_ ("holds %u · %s × %s"), pile->holds, length, width);

  g_autofree char *said = g_strjoin (water ? " · " : "", text, water, NULL);
  gtk_label_set_label (GTK_LABEL (self->measures), said);
}

static void
show_elevation (BedYardPanel *self, GtkWidget *widget, const BedYardStack *stack)
{
  BedYardElevation *elevation = BED_YARD_ELEVATION (widget);

  bed_yard_elevation_set_mode (elevation, self->shown.mode);
  bed_yard_elevation_set_colour_by (elevation, self->shown.colour_by);
  bed_yard_elevation_set_stack (elevation, stack, bed_farm_get_notation (self->farm));
}

static void
show_stack (BedYardPanel *self, const BedYardStack *stack, guint index)
{
  g_autofree char *contents = bed_yard_stack_about (stack);
  gboolean change = self->shown.mode == BED_YARD_CHANGE;

  gtk_label_set_label (GTK_LABEL (self->name), stack->name);
  gtk_label_set_label (GTK_LABEL (self->contents), contents);
  show_measures (self, self->shown.scene->piles->pdata[index], stack);
  show_elevation (self, self->elevation, stack);
  if (self->large)
    show_elevation (self, self->large, stack);
  frame_log (self, get_log (self) ? self->framed : 0);
  bed_yard_advice_fill (self->advice, find_look (self));
  /* A planned stack has no record of that kind. */
  gtk_widget_set_visible (self->switcher, !self->shown.plan);
  if (self->shown.plan)
    gtk_stack_set_visible_child_name (GTK_STACK (self->tabs), "logs");
  else
    show_form (self);
  gtk_widget_set_sensitive (self->put, change && !self->shown.plan);
  gtk_widget_set_sensitive (self->actions, change && !self->shown.plan);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "stack");
}

static void
take_down_cb (BedYardPanel *self)
{
  g_autoptr (GError) error = NULL;

  bed_yard_apply (GTK_WIDGET (self), bed_yard_take_down (self->farm, self->shown.stack, &error),
                  &error);
}

static void
duplicate_cb (BedYardPanel *self)
{
  g_signal_emit_by_name (self, "duplicate");
}

static void
close_cb (BedYardPanel *self)
{
  g_signal_emit_by_name (self, "select", G_GINT64_CONSTANT (0));
}

/* Shown again for what is half typed in it, when its stack is not the selected one. */
static void
form_mapped_cb (BedYardPanel *self)
{
  gint64 stack = bed_record_get_id (bed_form_get_original (self->form));

  if (stack != self->shown.stack)
    g_signal_emit_by_name (self, "select", stack);
}

static void
form_left_cb (BedYardPanel *self)
{
  gtk_stack_set_visible_child_name (GTK_STACK (self->tabs), "logs");
}

/* --- building ------------------------------------------------------------------- */

static GtkWidget *
button_new (BedYardPanel *self, const char *text, GCallback clicked)
{
  GtkWidget *button = bed_button_new (text, clicked, self);

  gtk_widget_set_focus_on_click (button, FALSE);
  bed_cut_off (gtk_button_get_child (GTK_BUTTON (button)));
  return button;
}

static GtkWidget *
make_head (BedYardPanel *self)
{
  GtkWidget *close = bed_styled (gtk_button_new_from_icon_name ("window-close-symbolic"), "flat");

  self->name = bed_line_new (NULL, "title-3");
  gtk_widget_set_hexpand (self->name, TRUE);
  gtk_widget_set_tooltip_text (close, _ ("Back to the map (Esc)"));
  bed_named (close, _ ("Back to the map"));
  g_signal_connect_object (close, "clicked", G_CALLBACK (close_cb), self, G_CONNECT_SWAPPED);
  GtkWidget *top = bed_row_new (6, self->name, close, NULL);
  self->contents = bed_words_new (NULL, NULL);
  self->measures
      = bed_styled (bed_styled (bed_words_new (NULL, "dim-label"), "caption"), "numeric");
  return bed_column_new (3, top, self->contents, self->measures, NULL);
}

/* What is chosen with the log that has the frame. */
static GtkWidget *
make_alike (void)
{
  static const struct
  {
    const char *label, *name; /* N_() */
    BedLogsAlike alike;
  } buttons[] = {
    { N_ ("Tier"), N_ ("Choose its tier"), BED_LOGS_OF_TIER },
    { N_ ("Batch"), N_ ("Choose its batch"), BED_LOGS_OF_BATCH },
    { N_ ("All"), N_ ("All logs"), BED_LOGS_ALL },
  };
  GtkWidget *row = bed_styled (gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0), "linked");

  gtk_box_set_homogeneous (GTK_BOX (row), TRUE);
  for (guint i = 0; i < G_N_ELEMENTS (buttons); i++)
    {
      GtkWidget *button
          = bed_named (gtk_button_new_with_label (_ (buttons[i].label)), _ (buttons[i].name));
      bed_cut_off (gtk_button_get_child (GTK_BUTTON (button)));
      gtk_widget_set_tooltip_text (button, _ (buttons[i].name));
      gtk_actionable_set_action_name (GTK_ACTIONABLE (button), "yard.alike");
      gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "u", buttons[i].alike);
      gtk_widget_set_focus_on_click (button, FALSE);
      gtk_box_append (GTK_BOX (row), button);
    }
  return row;
}

static GtkWidget *
make_log_box (BedYardPanel *self)
{
  GtkWidget *open
      = bed_styled (button_new (self, _ ("Open log"), G_CALLBACK (open_log_cb)), "flat");
  GtkWidget *out = bed_styled (button_new (self, _ ("Take out"), G_CALLBACK (take_out_cb)), "flat");

  GtkWidget *head = bed_wrap_new (6, 0);
  self->log_name = bed_line_new (NULL, "heading");
  self->log_facts = bed_styled (bed_words_new (NULL, "dim-label"), "caption");
  self->log_buttons = bed_row_new (0, open, out, NULL);
  gtk_widget_set_halign (self->log_buttons, GTK_ALIGN_END);
  gtk_box_append (GTK_BOX (head), self->log_name);
  gtk_box_append (GTK_BOX (head), self->log_buttons);
  return bed_column_new (3, head, self->log_facts, make_alike (), NULL);
}

static GtkWidget *
elevation_new (BedYardPanel *self, BedFacesFlow flow)
{
  GtkWidget *elevation = bed_yard_elevation_new (flow);

  gtk_widget_add_css_class (elevation, "yard-elevation");
  g_signal_connect_object (elevation, "log-selected", G_CALLBACK (log_selected_cb), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (elevation, "log-opened", G_CALLBACK (open_log_cb), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (elevation, "logs-chosen", G_CALLBACK (logs_chosen_cb), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (elevation, "logs-moved", G_CALLBACK (logs_moved_cb), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (elevation, "logs-taken-out", G_CALLBACK (logs_taken_out_cb), self,
                           G_CONNECT_SWAPPED);
  return elevation;
}

static GtkWidget *
make_elevation (BedYardPanel *self)
{
  self->elevation = elevation_new (self, BED_FACES_DOWN);
  gtk_widget_set_valign (self->elevation, GTK_ALIGN_START);
  self->advice = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *scroller = bed_scrolled_new (bed_column_new (9, self->advice, self->elevation, NULL));
  /* As large as its width allows, not squeezed into what is seen. */
  gtk_scrollable_set_vscroll_policy (
      GTK_SCROLLABLE (gtk_scrolled_window_get_child (GTK_SCROLLED_WINDOW (scroller))),
      GTK_SCROLL_NATURAL);
  gtk_widget_set_vexpand (scroller, TRUE);
  return scroller;
}

/* The elevation scrolls; what is done with it stays in sight below. */
static GtkWidget *
make_logs (BedYardPanel *self)
{
  self->actions = bed_wrap_new (6, 6);
  gtk_box_append (GTK_BOX (self->actions),
                  button_new (self, _ ("Duplicate"), G_CALLBACK (duplicate_cb)));
  gtk_box_append (GTK_BOX (self->actions),
                  button_new (self, _ ("Take down"), G_CALLBACK (take_down_cb)));
  self->put = bed_yard_put_new (self->farm);
  return bed_column_new (9, make_elevation (self), make_log_box (self), self->put, self->actions,
                         NULL);
}

static void
bed_yard_panel_dispose (GObject *object)
{
  BedYardPanel *self = BED_YARD_PANEL (object);

  g_clear_weak_pointer (&self->large);
  g_clear_pointer (&self->looks, g_hash_table_unref);
  G_OBJECT_CLASS (bed_yard_panel_parent_class)->dispose (object);
}

static void
bed_yard_panel_class_init (BedYardPanelClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = bed_yard_panel_dispose;
  bed_signal_new (BED_TYPE_YARD_PANEL, "select", 1, G_TYPE_INT64);
  bed_signal_new (BED_TYPE_YARD_PANEL, "duplicate", 0);
  bed_signal_new (BED_TYPE_YARD_PANEL, "put", 0);
  bed_signal_new (BED_TYPE_YARD_PANEL, "batch", 1, G_TYPE_STRING);
  gtk_widget_class_install_action (GTK_WIDGET_CLASS (klass), "yard.select", "x", select_cb);
  gtk_widget_class_install_action (GTK_WIDGET_CLASS (klass), "yard.alike", "u", alike_cb);
  gtk_widget_class_install_action (GTK_WIDGET_CLASS (klass), "yard.batch", "s", batch_cb);
  gtk_widget_class_install_action (GTK_WIDGET_CLASS (klass), "yard.put", "x", put_cb);
  gtk_widget_class_install_action (GTK_WIDGET_CLASS (klass), "yard.put-logs", "(axs)", put_logs_cb);
}

static GtkWidget *
make_stack (BedYardPanel *self)
{
  self->tabs = gtk_stack_new ();
  gtk_widget_set_vexpand (self->tabs, TRUE);
  gtk_stack_set_hhomogeneous (GTK_STACK (self->tabs), FALSE);
  gtk_stack_add_titled (GTK_STACK (self->tabs), make_logs (self), "logs", _ ("Logs"));
  self->form = bed_form_new (self->farm, &stack_form);
  bed_form_set_then (self->form, BED_FORM_THEN_LEAVE);
  self->stood = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  bed_form_set_below (self->form, self->stood);
  g_signal_connect_object (self->form, "left", G_CALLBACK (form_left_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->form, "map", G_CALLBACK (form_mapped_cb), self, G_CONNECT_SWAPPED);
  /* The panel keeps its width: what is wider is scrolled. */
  GtkWidget *scroller = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), GTK_WIDGET (self->form));
  gtk_stack_add_titled (GTK_STACK (self->tabs), scroller, "details", _ ("Details"));
  self->switcher = gtk_stack_switcher_new ();
  gtk_stack_switcher_set_stack (GTK_STACK_SWITCHER (self->switcher), GTK_STACK (self->tabs));
  return bed_column_new (9, make_head (self), self->switcher, self->tabs, NULL);
}

/* --- public --------------------------------------------------------------------- */

GtkWidget *
bed_yard_panel_new (BedFarm *farm)
{
  BedYardPanel *self = g_object_new (BED_TYPE_YARD_PANEL, NULL);

  self->farm = bed_part_hold (BED_PART (self), farm);
  self->stack = bed_styled (gtk_stack_new (), "yard-panel");
  self->pages = bed_yard_pages_new (farm);
  gtk_stack_add_named (GTK_STACK (self->stack), self->pages, "none");
  gtk_stack_add_named (GTK_STACK (self->stack), make_stack (self), "stack");
  self->group = bed_yard_group_panel_new ();
  gtk_stack_add_named (GTK_STACK (self->stack), self->group, "group");
  /* What does not fit is cut off, not the map. */
  self->holder = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->holder), GTK_POLICY_EXTERNAL,
                                  GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->holder), self->stack);
  gtk_widget_set_hexpand (self->holder, FALSE); /* though what is in it would */
  bed_part_set_child (BED_PART (self), self->holder);
  bed_yard_panel_set_width (self, BED_PANEL_WIDE);
  return GTK_WIDGET (self);
}

void
bed_yard_panel_show (BedYardPanel *self, const BedYardShown *shown)
{
  g_return_if_fail (BED_IS_YARD_PANEL (self));
  guint index = 0;

  if (shown->stack != self->shown.stack)
    self->framed = 0;
  self->shown = *shown;
  const BedYardStack *stack = get_stack (self, &index);
  if (stack)
    show_stack (self, stack, index);
  else if (shown->scene && shown->chosen->len > 0)
    {
      bed_yard_group_panel_show (BED_YARD_GROUP_PANEL (self->group), shown->scene->yard,
                                 shown->chosen, bed_farm_get_notation (self->farm), shown->mode);
      gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "group");
    }
  else
    show_none (self);
}

void
bed_yard_panel_set_looks (BedYardPanel *self, GHashTable *looks)
{
  g_return_if_fail (BED_IS_YARD_PANEL (self));
  guint index;

  if (looks == self->looks)
    return;
  g_clear_pointer (&self->looks, g_hash_table_unref);
  self->looks = looks ? g_hash_table_ref (looks) : NULL;
  bed_yard_pages_set_looks (BED_YARD_PAGES (self->pages), looks);
  const BedYardStack *stack = get_stack (self, &index);
  if (!stack)
    return;
  show_measures (self, self->shown.scene->piles->pdata[index], stack);
  bed_yard_advice_fill (self->advice, find_look (self));
}

void
bed_yard_panel_clear (BedYardPanel *self)
{
  g_return_if_fail (BED_IS_YARD_PANEL (self));
  bed_yard_elevation_set_stack (BED_YARD_ELEVATION (self->elevation), NULL, NULL);
  if (self->large)
    bed_yard_elevation_set_stack (BED_YARD_ELEVATION (self->large), NULL, NULL);
  bed_yard_pages_show (BED_YARD_PAGES (self->pages), NULL, self->shown.mode, self->shown.colour_by);
  self->shown.scene = NULL;
}

GtkWidget *
bed_yard_panel_new_large (BedYardPanel *self)
{
  g_return_val_if_fail (BED_IS_YARD_PANEL (self), NULL);
  GtkWidget *large = elevation_new (self, BED_FACES_AS_FITS);
  g_set_weak_pointer (&self->large, large);
  return large;
}

void
bed_yard_panel_select_log (BedYardPanel *self, gint64 log)
{
  g_return_if_fail (BED_IS_YARD_PANEL (self));
  frame_log (self, log);
}

GtkWidget *
bed_yard_panel_get_group (BedYardPanel *self)
{
  g_return_val_if_fail (BED_IS_YARD_PANEL (self), NULL);
  return self->group;
}

BedYardPages *
bed_yard_panel_get_pages (BedYardPanel *self)
{
  g_return_val_if_fail (BED_IS_YARD_PANEL (self), NULL);
  return BED_YARD_PAGES (self->pages);
}

void
bed_yard_panel_set_width (BedYardPanel *self, BedPanelWidth width)
{
  g_return_if_fail (BED_IS_YARD_PANEL (self));
  int least = width == BED_PANEL_WIDE ? WIDTH : WIDTH_NARROW;

  gtk_widget_set_size_request (self->holder, bed_plot_to_px (self->holder, least), -1);
}
