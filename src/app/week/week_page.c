#include "app/week/week_page.h"

#include <glib/gi18n.h>

#include "app/desk/figure_answer.h"
#include "app/desk/page_parts.h"
#include "app/form/day_form.h"
#include "app/form/forms.h"
#include "app/paper/paper_dialog.h"
#include "app/week/due_row.h"
#include "app/week/first_steps.h"
#include "app/week/weather_bar.h"
#include "app/week/week_strip.h"
#include "model/farm/say.h"
#include "model/farm/value.h"
#include "model/season/draft.h"

struct _BedWeekPage
{
  BedPage parent_instance;
  GtkWidget *stack; /* "list", and a form for each kind once opened */
  GtkWidget *title;
  BedFirstSteps *steps;
  BedWeekStrip *strip;
  GtkWidget *sections;
  BedWeatherBar *weather;

  BedFigureAnswers got;
  GPtrArray *items; /* of BedDueItem; those that have no row yet */
  GtkWidget *list;  /* where the newest row is, or NULL; and what that list is of */
  BedDueState state;
  GtkSizeGroup *what, *act; /* of its rows */
  guint rows_source;        /* the others come in idle moments */
};

BED_DEFINE_TYPE (BedWeekPage, bed_week_page, BED_TYPE_PAGE)

#define FIGURES_EARLY 2 /* what is expected comes late */
#define ROWS_FIRST 24   /* more than a window shows */
#define ROWS_MORE 32    /* in an idle moment */

/* The week shown may begin on another day than that of ISO 8601, by which it is numbered and
 * plans go: most of it is of the one of its middle. */
static char *
dup_middle (const char *today)
{
  g_autofree char *start = bed_date_week_start (today);

  return bed_date_add (start, 3);
}

/* "Week 20 · Mon 11 May – Sun 17 May", "Week 53 · Mon 28 Dec 2026 – Sun 3 Jan 2027" */
static char *
dup_title (const char *today)
{
  g_autofree char *start = bed_date_week_start (today);
  g_autofree char *end = bed_date_add (start, 6);
  g_autofree char *middle = dup_middle (today);
  g_autofree char *first = bed_date_format_in_week (start);
  g_autofree char *last = bed_date_format_in_week (end);
  GDate date;

  g_date_clear (&date, 1);
  g_date_set_parse (&date, middle);
  /* Translators: number of the week, its first and its last day. */
  return bed_say (_ ("Week %u · %s – %s"), g_date_get_iso8601_week_of_year (&date), first, last);
}

static char *
dup_state_heading (BedDueState state, const char *today)
{
  g_autofree char *day = bed_date_format_day (today);

  switch (state)
    {
    case BED_DUE_OVERDUE:
      return g_strdup (_ ("Overdue"));
    case BED_DUE_TODAY:
      return g_strdup_printf (_ ("Today, %s"), day);
    case BED_DUE_WEEK:
      return g_strdup (_ ("Later this week"));
    case BED_DUE_LATER:
      return g_strdup (_ ("The weeks after"));
    case BED_DUE_WARNING:
    default:
      return g_strdup (_ ("Warnings"));
    }
}

/* The first @n of them. */
static void
show_figures (BedWeekPage *self, guint n)
{
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  BedPageFigure figures[] = {
    bed_figure_answer (farm, &self->got, BED_FIGURE_WEEK_LOGS_DUE, texts),
    bed_figure_answer (farm, &self->got, BED_FIGURE_WEEK_OVERDUE, texts),
    bed_figure_answer (farm, &self->got, BED_FIGURE_EXPECTED_WEEK, texts),
  };

  bed_page_set_figures (BED_PAGE (self), figures, MIN (n, G_N_ELEMENTS (figures)));
}

static gboolean
show_expected (BedPage *page, GError **error)
{
  BedWeekPage *self = BED_WEEK_PAGE (page);
  BedFarm *farm = bed_page_get_farm (page);
  g_autofree char *middle = dup_middle (bed_farm_get_today (farm));
  g_autoptr (BedSoakPlan) plan = bed_soak_plan_new_done (farm, error);

  if (!plan)
    return FALSE;
  bed_figures_read_soaks (plan, middle, &self->got);
  show_figures (self, FIGURES_EARLY + 1);
  return TRUE;
}

static const BedPageRead late[] = { show_expected, NULL };

static GtkWidget *
add_section (BedWeekPage *self, BedDueState state)
{
  const char *today = bed_farm_get_today (bed_page_get_farm (BED_PAGE (self)));
  g_autofree char *heading = dup_state_heading (state, today);
  GtkWidget *list = bed_named (bed_styled (gtk_list_box_new (), "boxed-list"), heading);

  gtk_list_box_set_selection_mode (GTK_LIST_BOX (list), GTK_SELECTION_NONE);
  gtk_box_append (GTK_BOX (self->sections), bed_section_new (heading, list));
  return list;
}

static void
add_rows (BedWeekPage *self, guint most)
{
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));

  for (; self->items->len && most; most--)
    {
      BedDueItem *item = g_ptr_array_steal_index (self->items, 0);

      if (!self->list || self->state != item->state)
        self->list = add_section (self, item->state);
      self->state = item->state;
      BedDueRow *row = bed_due_row_new (farm, item);
      bed_due_row_align (row, self->what, self->act);
      gtk_list_box_append (GTK_LIST_BOX (self->list), GTK_WIDGET (row));
    }
}

static gboolean
add_rows_cb (gpointer data)
{
  BedWeekPage *self = data;

  /* Rows that came unseen would all be laid out when the page is next shown. */
  if (gtk_widget_get_mapped (GTK_WIDGET (self)))
    add_rows (self, ROWS_MORE);
  if (self->items->len && gtk_widget_get_mapped (GTK_WIDGET (self)))
    return G_SOURCE_CONTINUE;
  self->rows_source = 0;
  return G_SOURCE_REMOVE;
}

static void
add_rows_later (BedWeekPage *self)
{
  if (self->items && self->items->len && !self->rows_source)
    self->rows_source = g_idle_add_full (G_PRIORITY_LOW, add_rows_cb, self, NULL);
}

static void
bed_week_page_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (bed_week_page_parent_class)->map (widget);
  add_rows_later (BED_WEEK_PAGE (widget));
}

/* Takes @items: each row owns its own in the end. */
static void
show_items (BedWeekPage *self, GPtrArray *items)
{
  g_clear_handle_id (&self->rows_source, g_source_remove);
  g_clear_pointer (&self->items, g_ptr_array_unref);
  self->items = items;
  self->list = NULL;
  bed_box_clear (self->sections);
  g_clear_object (&self->what);
  g_clear_object (&self->act);
  self->what = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);
  self->act = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);
  if (items->len == 0)
    gtk_box_append (GTK_BOX (self->sections), bed_words_new (_ ("Nothing is due."), "heading"));
  add_rows (self, ROWS_FIRST);
  add_rows_later (self);
}

static gboolean
bed_week_page_refresh (BedPage *page, GError **error)
{
  BedWeekPage *self = BED_WEEK_PAGE (page);
  g_autoptr (GPtrArray) items = bed_due_list (bed_page_get_farm (page), error);
  g_autofree char *title = dup_title (bed_farm_get_today (bed_page_get_farm (page)));
  g_autoptr (BedWeek) week = items ? bed_week_new (bed_page_get_farm (page), items, error) : NULL;

  if (!week || !bed_first_steps_refresh (self->steps, error)
      || !bed_weather_bar_refresh (self->weather, error))
    return FALSE;
  bed_figures_read_due (items, &self->got);
  show_figures (self, FIGURES_EARLY);
  gtk_label_set_label (GTK_LABEL (self->title), title);
  bed_week_strip_set (self->strip, g_steal_pointer (&week));
  show_items (self, g_steal_pointer (&items));
  return TRUE;
}

/* --- forms of what is recorded from here ------------------------------------------- */

static void
left_cb (BedWeekPage *self)
{
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "list");
  gtk_widget_child_focus (self->stack, GTK_DIR_TAB_FORWARD);
}

/* The batch of the line the keyboard is on, when it asks to weigh one. */
static gint64
get_weighed (BedWeekPage *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *focus = root ? gtk_root_get_focus (root) : NULL;
  GtkWidget *row = focus ? gtk_widget_get_ancestor (focus, BED_TYPE_DUE_ROW) : NULL;

  return row ? bed_due_row_get_weighed (BED_DUE_ROW (row)) : 0;
}

static void
bed_week_page_print (BedPage *page)
{
  BedPrintOffer offers[] = {
    { BED_PRINT_WEEK, 0 },
    { BED_PRINT_DAYS, 0 },
    { BED_PRINT_WEIGHING, get_weighed (BED_WEEK_PAGE (page)) },
    { BED_PRINT_SOAKS, 0 },
    { BED_PRINT_PICKING, 0 },
  };

  bed_paper_dialog_show (GTK_WIDGET (page), bed_page_get_farm (page), offers,
                         G_N_ELEMENTS (offers));
}

static void
bed_week_page_show_draft (BedPage *page, BedRecord *draft, const char *logs)
{
  BedWeekPage *self = BED_WEEK_PAGE (page);
  BedKind kind = bed_record_get_kind (draft);
  BedForm *form = bed_forms_get_in (GTK_STACK (self->stack), bed_page_get_farm (page), kind,
                                    G_CALLBACK (left_cb), self);

  if (kind == BED_KIND_RAIN)
    bed_day_form_open (form, bed_page_get_farm (page), bed_record_get_text (draft, "fell_on"));
  else
    bed_form_open (form, draft, NULL);
}

static void
bed_week_page_add (BedPage *page)
{
  g_autoptr (BedRecord) task = bed_draft_new (bed_page_get_farm (page), BED_KIND_DUE);

  bed_week_page_show_draft (page, task, NULL);
}

static GtkWidget *
bed_week_page_make (BedPage *page)
{
  BedWeekPage *self = BED_WEEK_PAGE (page);
  GtkWidget *reading = gtk_box_new (GTK_ORIENTATION_VERTICAL, 24);

  self->title = bed_words_new (NULL, "week-title");
  gtk_label_set_wrap (GTK_LABEL (self->title), FALSE);
  self->sections = gtk_box_new (GTK_ORIENTATION_VERTICAL, 24);
  self->weather = bed_weather_bar_new (bed_page_get_farm (page));
  self->steps = bed_first_steps_new (bed_page_get_farm (page));
  self->strip = bed_week_strip_new (bed_page_get_farm (page));
  gtk_box_append (GTK_BOX (reading),
                  bed_column_new (9, GTK_WIDGET (self->strip), GTK_WIDGET (self->weather), NULL));
  gtk_box_append (GTK_BOX (reading), GTK_WIDGET (self->steps));
  gtk_box_append (GTK_BOX (reading), self->sections);
  self->stack = gtk_stack_new ();
  gtk_stack_add_named (GTK_STACK (self->stack), bed_reading_new (_ ("This week"), reading), "list");
  return bed_page_column_new (page, self->title, self->stack);
}

static void
bed_week_page_dispose (GObject *object)
{
  BedWeekPage *self = BED_WEEK_PAGE (object);

  g_clear_handle_id (&self->rows_source, g_source_remove);
  g_clear_pointer (&self->items, g_ptr_array_unref);
  g_clear_object (&self->what);
  g_clear_object (&self->act);
  G_OBJECT_CLASS (bed_week_page_parent_class)->dispose (object);
}

static void
bed_week_page_class_init (BedWeekPageClass *klass)
{
  BedPageClass *page_class = BED_PAGE_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = bed_week_page_dispose;
  GTK_WIDGET_CLASS (klass)->map = bed_week_page_map;
  page_class->make = bed_week_page_make;
  page_class->refresh = bed_week_page_refresh;
  page_class->refresh_late = late;
  page_class->add = bed_week_page_add;
  page_class->show_draft = bed_week_page_show_draft;
  page_class->print = bed_week_page_print;
  page_class->print_title = N_ ("Print a sheet to carry out");
  page_class->add_title = N_ ("New task");
  page_class->kinds = BED_KIND_BIT (BED_KIND_DUE) | BED_KIND_BIT (BED_KIND_CHECK)
                      | BED_KIND_BIT (BED_KIND_WEIGHING) | BED_KIND_BIT (BED_KIND_WATERING)
                      | BED_KIND_BIT (BED_KIND_RAIN);
}
