#include "app/yard/yard_page.h"

#include <glib/gi18n.h>

#include "app/form/form.h"
#include "app/form/forms.h"
#include "app/host/host.h"
#include "app/paper/paper_dialog.h"
#include "app/widgets/build.h"
#include "app/widgets/enter.h"
#include "app/widgets/plot.h"
#include "app/yard/yard_bar.h"
#include "app/yard/yard_deeds.h"
#include "app/yard/yard_forms.h"
#include "app/yard/yard_hand_line.h"
#include "app/yard/yard_panel.h"
#include "app/yard/yard_seen.h"
#include "app/yard/yard_strip.h"
#include "app/yard/yard_view.h"
#include "model/farm/query.h"
#include "yard/load.h"
#include "yard/load_logs.h"

struct _BedYardPage
{
  BedPage parent_instance;
  gint64 area;     /* 0: the first there is */
  gboolean whole;  /* what comes late came once: now it comes at once */
  GtkStack *stack; /* "empty", "yard", "area", "feature" */
  BedYardStrip *strip;
  GtkStack *middle; /* "plan", "stack" */
  BedYardView *view;
  GtkWidget *large; /* the elevation of the opened stack */
  GtkWidget *back;
  BedYardPanel *panel;
  BedYardHandLine *line;
  BedYardBar *bar;
  BedForm *area_form;
  BedForm *feature_form;
};

#define NARROW 1000 /* px: below it the map needs what strip and panel can give */

BED_DEFINE_TYPE (BedYardPage, bed_yard_page, BED_TYPE_PAGE)

static BedFarm *
get_farm (BedYardPage *self)
{
  return bed_page_get_farm (BED_PAGE (self));
}

/* --- what is seen --------------------------------------------------------------- */

static BedYardMode
get_mode (BedYardPage *self)
{
  return bed_yard_bar_is_today (self->bar) && !bed_farm_get_read_only_why (get_farm (self))
             ? BED_YARD_CHANGE
             : BED_YARD_LOOK;
}

/* The day whose plan is drawn over today, or NULL. */
static const char *
get_plan (BedYardPage *self)
{
  return bed_yard_bar_is_today (self->bar)
             ? bed_yard_pages_get_day (bed_yard_panel_get_pages (self->panel))
             : NULL;
}

static void
show_panel (BedYardPage *self)
{
  BedYardShown shown
      = { bed_yard_view_get_scene (self->view),   bed_yard_view_get_selected (self->view),
          bed_yard_view_get_chosen (self->view),  get_mode (self),
          bed_yard_bar_get_colour_by (self->bar), get_plan (self) };

  bed_yard_panel_set_looks (self->panel, bed_yard_view_get_looks (self->view));
  bed_yard_panel_show (self->panel, &shown);
}

/* A plan is drawn over today. */
static BedYardSeen
get_seen (BedYardPage *self)
{
  BedFarm *farm = get_farm (self);
  const char *plan = get_plan (self);
  const char *day = plan ? bed_farm_get_today (farm) : bed_yard_bar_get_day (self->bar);

  return (BedYardSeen){ farm,       self->area, day, plan, bed_yard_bar_get_colour_by (self->bar),
                        self->whole };
}

/* The yard of the chosen area and day in the drawing; what was selected stays. */
static gboolean
load_yard (gpointer page, GError **error)
{
  BedYardPage *self = page;
  BedYardSeen seen = get_seen (self);
  BedYard *yard = bed_yard_seen_load (&seen, error);

  if (!yard)
    return FALSE;
  bed_yard_deeds_set_plan (self->view, seen.plan);
  bed_yard_panel_clear (self->panel);
  bed_yard_view_set_mode (self->view, get_mode (self));
  bed_yard_view_set_notation (self->view, bed_farm_get_notation (seen.farm));
  bed_yard_view_set_yard (self->view, yard);
  bed_yard_show_figures (BED_PAGE (self), bed_yard_view_get_scene (self->view));
  show_panel (self);
  return TRUE;
}

/* Before the page is painted for the first time none but today. */
static gboolean
read_days (BedYardPage *self, GError **error)
{
  BedFarm *farm = get_farm (self);
  g_autoptr (GPtrArray) days = self->whole ? bed_yard_days (farm, self->area, error)
                                           : g_ptr_array_new ();

  if (days)
    bed_yard_bar_set_days (self->bar, days, bed_farm_get_today (farm));
  return days != NULL;
}

static gboolean
read_area (gpointer page, GError **error)
{
  BedYardPage *self = page;

  return read_days (self, error) && load_yard (self, error)
         && bed_yard_strip_set (self->strip, get_farm (self),
                                bed_yard_view_get_scene (self->view)->yard, error);
}

static void
show_area (BedYardPage *self)
{
  bed_host_read (self, get_farm (self), read_area);
}

static void
show_sheet (BedYardPage *self, const char *name)
{
  gtk_stack_set_visible_child_name (self->stack, name);
}

static gboolean
is_typing (BedYardPage *self)
{
  const char *name = gtk_stack_get_visible_child_name (self->stack);
  return g_strcmp0 (name, "area") == 0 || g_strcmp0 (name, "feature") == 0;
}

static gboolean
bed_yard_page_refresh (BedPage *page, GError **error)
{
  BedYardPage *self = BED_YARD_PAGE (page);

  if (!bed_yard_seen_find_area (get_farm (self), &self->area, error)
      || (self->area && !read_area (self, error)))
    return FALSE;
  if (!is_typing (self))
    show_sheet (self, self->area ? "yard" : "empty");
  return TRUE;
}

/* The days there is something to see on, and the stages, which the trade's warnings look at. */
static gboolean
read_rest (BedPage *page, GError **error)
{
  BedYardPage *self = BED_YARD_PAGE (page);
  BedYard *yard = self->whole ? NULL : bed_yard_view_get_yard (self->view);

  self->whole = TRUE;
  if (!yard)
    return TRUE;
  if (!read_days (self, error)
      || !bed_yard_load_stages (yard, get_farm (self), get_seen (self).day, error))
    return FALSE;
  bed_yard_view_look_again (self->view);
  return TRUE;
}

static const BedPageRead late[] = { read_rest, NULL };

/* --- forms ---------------------------------------------------------------------- */

static void
edit_form (BedYardPage *self, BedKind kind, gint64 id)
{
  BedForm *form = kind == BED_KIND_AREA ? self->area_form : self->feature_form;
  g_autoptr (BedRecord) record = id ? bed_host_load (GTK_WIDGET (self), get_farm (self), kind, id)
                                    : bed_record_new (kind);

  if (!record)
    return;
  if (kind == BED_KIND_FEATURE && !id)
    bed_record_set_int (record, "area", self->area);
  bed_form_open (form, record, NULL);
}

static void
edit_cb (BedYardPage *self, guint kind, gint64 id)
{
  if (bed_farm_get_read_only_why (get_farm (self)))
    bed_host_say (GTK_WIDGET (self), bed_farm_get_read_only_why (get_farm (self)));
  else
    edit_form (self, kind, id);
}

/* --- what is done --------------------------------------------------------------- */

static void
chosen_cb (BedYardPage *self)
{
  if (!bed_yard_view_get_selected (self->view))
    gtk_stack_set_visible_child_name (self->middle, "plan");
  show_panel (self);
}

static void
opened_cb (BedYardPage *self, guint kind, gint64 id)
{
  if (kind == BED_THING_FEATURE)
    {
      edit_cb (self, BED_KIND_FEATURE, id);
      return;
    }
  bed_yard_view_select (self->view, id);
  gtk_stack_set_visible_child_name (self->middle, "stack");
  gtk_widget_child_focus (self->large, GTK_DIR_TAB_FORWARD);
}

static void
close_stack (BedYardPage *self)
{
  if (g_strcmp0 (gtk_stack_get_visible_child_name (self->middle), "stack") != 0)
    return;
  gtk_stack_set_visible_child_name (self->middle, "plan");
  bed_yard_view_focus_selected (self->view);
}

static gboolean
stack_key_cb (BedYardPage *self, guint key)
{
  if (key != GDK_KEY_Escape)
    return FALSE;
  close_stack (self);
  return TRUE;
}

static void
advised_cb (BedYardPage *self)
{
  bed_yard_panel_set_looks (self->panel, bed_yard_view_get_looks (self->view));
}

static void
details_cb (BedYardPage *self, gint64 feature)
{
  edit_cb (self, BED_KIND_FEATURE, feature);
}

/* All stacks that hold logs of it. */
static void
batch_cb (BedYardPage *self, const char *batch)
{
  g_autoptr (GArray) stacks = bed_group_of_batch (bed_yard_view_get_scene (self->view), batch);

  bed_yard_view_choose (self->view, stacks);
}

static void
duplicate_cb (BedYardPage *self)
{
  g_signal_emit_by_name (self->view, "duplicate");
}

static void
choose_feature_cb (BedYardPage *self, gint64 feature)
{
  g_autoptr (GArray) one = g_array_new (FALSE, FALSE, sizeof (BedThing));
  BedThing thing = { BED_THING_FEATURE, feature };

  g_array_append_val (one, thing);
  bed_yard_view_choose (self->view, one);
  bed_yard_view_show_chosen (self->view);
}

static gboolean
may_change (BedYardPage *self)
{
  if (get_mode (self) == BED_YARD_CHANGE)
    return TRUE;
  bed_host_say (GTK_WIDGET (self), _ ("This is the yard of another day: go to today first."));
  return FALSE;
}

static void
build_cb (BedYardPage *self, guint kind)
{
  if (may_change (self))
    bed_yard_view_place (self->view, kind);
}

static void
draw_cb (BedYardPage *self, guint kind)
{
  if (may_change (self))
    bed_yard_deeds_draw (self->view, kind);
}

static void
area_chosen_cb (BedYardPage *self, gint64 area)
{
  if (area == self->area)
    return;
  self->area = area;
  bed_yard_view_select (self->view, 0);
  show_area (self);
  /* The list of areas is made anew, and a code is typed on the map. */
  bed_yard_view_focus_selected (self->view);
}

static void
show_stack_record (BedYardPage *self, gint64 stack)
{
  g_autoptr (GError) error = NULL;
  gint64 area;

  if (!bed_query_one (get_farm (self), "SELECT area FROM stack WHERE id = ?1", stack, &area,
                      &error))
    bed_host_say_error (GTK_WIDGET (self), error);
  if (!area)
    return;
  self->area = area;
  show_area (self);
  bed_yard_view_select (self->view, stack);
}

/* One that is half typed may be asked for while another area or day is seen. */
static void
select_cb (BedYardPage *self, gint64 stack)
{
  const BedScene *scene = bed_yard_view_get_scene (self->view);

  if (!stack || (scene && bed_yard_find_stack (scene->yard, stack, NULL)))
    {
      bed_yard_view_select (self->view, stack);
      bed_yard_view_show_chosen (self->view);
      return;
    }
  bed_yard_bar_show_today (self->bar);
  show_stack_record (self, stack);
}

/* --- the hand line -------------------------------------------------------------- */

static void
find_cb (BedYardPage *self, const char *text)
{
  gint64 stack, log;

  if (bed_yard_find_code (GTK_WIDGET (self), get_farm (self), text, &stack, &log))
    {
      select_cb (self, stack);
      bed_yard_view_show_chosen (self->view);
      if (log)
        bed_yard_panel_select_log (self->panel, log);
    }
  bed_yard_view_focus_selected (self->view);
}

/* To the drawing, whose stacks are walked by Tab; to the form, or to the first step. */
static gboolean
bed_yard_page_grab_focus (GtkWidget *widget)
{
  BedYardPage *self = BED_YARD_PAGE (widget);
  GtkWidget *seen = gtk_stack_get_visible_child (self->stack);

  if (g_strcmp0 (gtk_stack_get_visible_child_name (self->stack), "yard") != 0)
    return bed_enter (seen);
  bed_yard_view_focus_selected (self->view);
  return TRUE;
}

static void
form_left_cb (BedYardPage *self)
{
  show_sheet (self, self->area ? "yard" : "empty");
  gtk_widget_grab_focus (GTK_WIDGET (self));
}

static void
area_saved_cb (BedYardPage *self, BedRecord *area)
{
  self->area = bed_record_get_id (area);
  show_area (self);
}

/* --- the bar -------------------------------------------------------------------- */

static void
day_cb (BedYardPage *self)
{
  bed_host_read (self, get_farm (self), load_yard);
}

static void
plan_cb (BedYardPage *self)
{
  bed_yard_view_select (self->view, 0);
  bed_host_read (self, get_farm (self), load_yard);
}

static void
colour_by_cb (BedYardPage *self)
{
  BedColourBy by = bed_yard_bar_get_colour_by (self->bar);

  bed_yard_view_set_colour_by (self->view, by);
  if (bed_colour_by_asks (by) && bed_yard_view_get_scene (self->view))
    bed_host_read (self, get_farm (self), load_yard); /* which brings it */
  else
    show_panel (self);
}

static void
zoom_cb (BedYardPage *self, double factor)
{
  if (factor > 0)
    bed_yard_view_zoom (self->view, factor);
  else
    bed_yard_view_fit (self->view);
}

/* The scale, or the room there is for it. */
static void
zoomed_cb (gpointer page)
{
  BedYardPage *self = page;
  gboolean narrow = bed_plot_width (GTK_WIDGET (self)) < NARROW;

  bed_yard_bar_set_scale (self->bar, bed_yard_view_get_scale (self->view));
  bed_yard_strip_set_look (self->strip, narrow ? BED_STRIP_PICTURES : BED_STRIP_WORDS);
  bed_yard_panel_set_width (self->panel, narrow ? BED_PANEL_NARROW : BED_PANEL_WIDE);
}

/* --- a page --------------------------------------------------------------------- */

static void
bed_yard_page_add (BedPage *page)
{
  BedYardPage *self = BED_YARD_PAGE (page);

  if (!self->area)
    edit_form (self, BED_KIND_AREA, 0);
  else
    build_cb (self, BED_STACK_CRIB);
}

static void
bed_yard_page_print (BedPage *page)
{
  BedYardPage *self = BED_YARD_PAGE (page);
  gint64 stack = bed_yard_view_get_selected (self->view);
  g_autoptr (GArray) stacks = bed_things_list_stacks (bed_yard_view_get_chosen (self->view));
  /* The last two are the selected stack's. */
  BedPrintOffer offers[] = {
    { BED_PRINT_MAP, self->area, bed_yard_bar_get_day (self->bar),
      .colour_by = bed_yard_bar_get_colour_by (self->bar), .stacks = stacks },
    { BED_PRINT_SIGNS, self->area },
    { BED_PRINT_MOVES, stack },
    { BED_PRINT_PLAN, .day = get_plan (self) },
    { BED_PRINT_SIGN, stack },
    { BED_PRINT_WEIGHING_STACK, stack },
  };

  if (self->area)
    bed_paper_dialog_show (GTK_WIDGET (self), get_farm (self), offers,
                           G_N_ELEMENTS (offers) - (stack ? 0 : 2));
}

static void
show_place_record (BedYardPage *self, gint64 id)
{
  g_autoptr (BedRecord) place
      = bed_host_load (GTK_WIDGET (self), get_farm (self), BED_KIND_PLACE, id);

  if (!place)
    return;
  show_stack_record (self, bed_record_get_int (place, "stack"));
  bed_yard_panel_select_log (self->panel, bed_record_get_int (place, "log"));
}

static void
bed_yard_page_show_record (BedPage *page, BedKind kind, gint64 id)
{
  BedYardPage *self = BED_YARD_PAGE (page);

  show_sheet (self, self->area ? "yard" : "empty");
  if (kind == BED_KIND_STACK)
    show_stack_record (self, id);
  else if (kind == BED_KIND_AREA)
    area_chosen_cb (self, id);
  else if (kind == BED_KIND_FEATURE)
    edit_form (self, kind, id);
  else if (kind == BED_KIND_PLACE)
    show_place_record (self, id);
}

static gint64
bed_yard_page_get_record (BedPage *page, BedKind *kind)
{
  BedYardPage *self = BED_YARD_PAGE (page);
  gint64 stack = bed_yard_view_get_selected (self->view);

  *kind = stack ? BED_KIND_STACK : BED_KIND_AREA;
  return stack ? stack : self->area;
}

/* The opened stack in the place of the plan. */
static GtkWidget *
make_opened (BedYardPage *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->back = gtk_button_new_with_label (_ ("Back to the yard"));
  gtk_widget_set_halign (self->back, GTK_ALIGN_START);
  gtk_widget_set_tooltip_text (self->back, _ ("Esc"));
  self->large = bed_yard_panel_new_large (self->panel);
  gtk_widget_set_vexpand (self->large, TRUE);
  GtkWidget *box = bed_styled (bed_column_new (6, self->back, self->large, NULL), "yard-opened");
  g_signal_connect_object (keys, "key-pressed", G_CALLBACK (stack_key_cb), self, G_CONNECT_SWAPPED);
  gtk_widget_add_controller (box, keys);
  return box;
}

static gboolean
page_key_cb (BedYardPage *self, guint key)
{
  GtkWidget *panel = GTK_WIDGET (self->panel);

  if (key != GDK_KEY_F9)
    return FALSE;
  gtk_widget_set_visible (panel, !gtk_widget_get_visible (panel));
  return TRUE;
}

static GtkWidget *
make_yard (BedYardPage *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkWidget *middle = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  GtkWidget *box = bed_page_column_new (BED_PAGE (self), NULL, middle);

  self->strip = BED_YARD_STRIP (bed_yard_strip_new ());
  self->view = BED_YARD_VIEW (bed_yard_view_new ());
  self->panel = BED_YARD_PANEL (bed_yard_panel_new (get_farm (self)));
  self->middle = GTK_STACK (gtk_stack_new ());
  gtk_stack_set_transition_type (self->middle, GTK_STACK_TRANSITION_TYPE_CROSSFADE);
  gtk_stack_add_named (self->middle, GTK_WIDGET (self->view), "plan");
  gtk_stack_add_named (self->middle, make_opened (self), "stack");
  gtk_widget_set_hexpand (GTK_WIDGET (self->middle), TRUE);
  gtk_widget_set_vexpand (GTK_WIDGET (self->middle), TRUE);
  self->line = BED_YARD_HAND_LINE (bed_yard_hand_line_new (get_farm (self), self->view));
  self->bar = BED_YARD_BAR (bed_yard_bar_new ());
  gtk_box_append (GTK_BOX (middle), GTK_WIDGET (self->strip));
  gtk_box_append (GTK_BOX (middle), gtk_separator_new (GTK_ORIENTATION_VERTICAL));
  gtk_box_append (GTK_BOX (middle), GTK_WIDGET (self->middle));
  gtk_box_append (GTK_BOX (middle), gtk_separator_new (GTK_ORIENTATION_VERTICAL));
  gtk_box_append (GTK_BOX (middle), GTK_WIDGET (self->panel));
  gtk_box_append (GTK_BOX (box), gtk_separator_new (GTK_ORIENTATION_HORIZONTAL));
  g_signal_connect_object (keys, "key-pressed", G_CALLBACK (page_key_cb), self, G_CONNECT_SWAPPED);
  gtk_widget_add_controller (box, keys);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->line));
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->bar));
  return box;
}

static void
connect_parts (BedYardPage *self)
{
  GtkWidget *group = bed_yard_panel_get_group (self->panel);
  const struct
  {
    gpointer from;
    const char *signal;
    GCallback callback;
  } parts[] = {
    { self->strip, "area", G_CALLBACK (area_chosen_cb) },
    { self->strip, "edit", G_CALLBACK (edit_cb) },
    { self->strip, "feature", G_CALLBACK (choose_feature_cb) },
    { self->strip, "build", G_CALLBACK (build_cb) },
    { self->strip, "draw", G_CALLBACK (draw_cb) },
    { self->view, "chosen", G_CALLBACK (chosen_cb) },
    { self->view, "opened", G_CALLBACK (opened_cb) },
    { self->view, "advised", G_CALLBACK (advised_cb) },
    { self->line, "find", G_CALLBACK (find_cb) },
    { bed_yard_panel_get_pages (self->panel), "plan", G_CALLBACK (plan_cb) },
    { group, "details", G_CALLBACK (details_cb) },
    { self->view, "zoomed", G_CALLBACK (zoomed_cb) },
    { self->panel, "select", G_CALLBACK (select_cb) },
    { self->panel, "duplicate", G_CALLBACK (duplicate_cb) },
    { self->panel, "batch", G_CALLBACK (batch_cb) },
    { self->back, "clicked", G_CALLBACK (close_stack) },
    { self->bar, "day", G_CALLBACK (day_cb) },
    { self->bar, "colour-by", G_CALLBACK (colour_by_cb) },
    { self->bar, "zoom", G_CALLBACK (zoom_cb) },
    { self->area_form, "left", G_CALLBACK (form_left_cb) },
    { self->area_form, "saved", G_CALLBACK (area_saved_cb) },
    { self->feature_form, "left", G_CALLBACK (form_left_cb) },
  };

  bed_yard_deeds_connect (self->view, group,
                          bed_yard_pages_get_arrange (bed_yard_panel_get_pages (self->panel)),
                          get_farm (self));
  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    g_signal_connect_object (parts[i].from, parts[i].signal, parts[i].callback, self,
                             G_CONNECT_SWAPPED);
  g_signal_connect_object (self->strip, "tape", G_CALLBACK (bed_yard_view_take_tape), self->view,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (self->panel, "put", G_CALLBACK (bed_yard_view_focus_selected),
                           self->view, G_CONNECT_SWAPPED);
  bed_letters_follow (self, zoomed_cb);
  bed_yard_view_set_colour_by (self->view, bed_yard_bar_get_colour_by (self->bar));
}

static GtkWidget *
bed_yard_page_make (BedPage *page)
{
  BedYardPage *self = BED_YARD_PAGE (page);
  static const BedEmpty empty
      = { "bed-yard-symbolic", N_ ("No area yet"),
          N_ ("An area is a shaded piece of ground where logs lie. Here you build "
              "stacks, put logs in them and see where every log is."),
          N_ ("New area"), "win.add" };

  self->area_form = bed_forms_new (get_farm (self), BED_KIND_AREA);
  bed_form_set_then (self->area_form, BED_FORM_THEN_LEAVE);
  self->feature_form = bed_forms_new (get_farm (self), BED_KIND_FEATURE);
  self->stack = GTK_STACK (bed_empty_stack_new (&empty, make_yard (self), "yard"));
  gtk_stack_add_named (self->stack, GTK_WIDGET (self->area_form), "area");
  gtk_stack_add_named (self->stack, GTK_WIDGET (self->feature_form), "feature");
  connect_parts (self);
  return GTK_WIDGET (self->stack);
}

static const BedPageKey keys[] = {
  { "Tab", N_ ("Next stack, tree, path …") },
  { "Home", N_ ("The first of them") },
  { "End", N_ ("The last of them") },
  { "<Control>Tab", N_ ("Leave the map at once; with Shift to what is before it") },
  { "Return", N_ ("Open it: walk its logs; set down what is in the hand") },
  { "space", N_ ("Choose it, too; held while dragging: pan") },
  { "<Control>a", N_ ("Choose all there is") },
  { "Left", N_ ("Move what is chosen; with Shift by an aisle") },
  { "<Alt>Left", N_ ("Look farther") },
  { "bracketleft", N_ ("Turn it; with Shift by one degree") },
  { "bracketright", N_ ("Turn it the other way") },
  { "<Control>d", N_ ("A copy beside it") },
  { "Delete", N_ ("Take it down, or away; of a log: out of its stack") },
  { "BackSpace", N_ ("Take the last point of a drawing back") },
  { "plus", N_ ("Larger") },
  { "minus", N_ ("Smaller") },
  { "period", N_ ("See it all") },
  { "f", N_ ("Find a log or a stack") },
  { "F9", N_ ("Hide or show the panel") },
  { NULL, NULL },
};

static void
bed_yard_page_class_init (BedYardPageClass *klass)
{
  BedPageClass *page_class = BED_PAGE_CLASS (klass);

  page_class->make = bed_yard_page_make;
  page_class->add_title = N_ ("Build a stack");
  page_class->print_title = N_ ("Print the map, signs or a sheet");
  GTK_WIDGET_CLASS (klass)->grab_focus = bed_yard_page_grab_focus;
  page_class->keys = keys;
  page_class->kinds = BED_KIND_BIT (BED_KIND_AREA) | BED_KIND_BIT (BED_KIND_FEATURE)
                      | BED_KIND_BIT (BED_KIND_STACK) | BED_KIND_BIT (BED_KIND_PLACE)
                      | BED_KIND_BIT (BED_KIND_LOG) | BED_KIND_BIT (BED_KIND_BATCH)
                      | BED_KIND_BIT (BED_KIND_PLANNED_STACK)
                      | BED_KIND_BIT (BED_KIND_PLANNED_MOVE);
  page_class->refresh = bed_yard_page_refresh;
  page_class->refresh_late = late;
  page_class->add = bed_yard_page_add;
  page_class->print = bed_yard_page_print;
  page_class->show_record = bed_yard_page_show_record;
  page_class->get_record = bed_yard_page_get_record;
}
