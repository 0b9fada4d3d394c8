#include "app/soaking/soaking_page.h"

#include <glib/gi18n.h>

#include "app/desk/batch_mark.h"
#include "app/desk/crop_detail.h"
#include "app/desk/detail.h"
#include "app/desk/figure_answer.h"
#include "app/desk/page_parts.h"
#include "app/host/host.h"
#include "app/paper/paper_dialog.h"
#include "app/soaking/rotation_view.h"
#include "app/soaking/soak_form.h"
#include "app/widgets/caution_line.h"
#include "app/widgets/chart.h"
#include "app/widgets/plot.h"
#include "app/widgets/table_bar.h"
#include "model/farm/query.h"
#include "model/farm/say.h"
#include "model/farm/value.h"
#include "model/season/soak_plan.h"
#include "model/work/caution.h"
#include "model/work/due.h"
#include "science/units.h"

#define MG_PER_KG 1e6
#define WHOLE_BAR 48.0      /* hours, of the drawing of a soak; few are longer */
#define ROTATION_HEIGHT 620 /* px, some 22 groups */

struct _BedSoakingPage
{
  BedPartsPage parent_instance;
  GtkWidget *parts; /* of the rotation: "empty", "drawn" */
  GtkWidget *tanks;
  BedRotationView *rotation;
  GtkWidget *across; /* scrolls it */
  BedChart *chart;
  GtkWidget *basis;     /* what the expectation rests on */
  BedFigureAnswers got; /* of its figures */
  BedSoakPlan *plan;
  GCancellable *planning;
};

BED_DEFINE_TYPE (BedSoakingPage, bed_soaking_page, BED_TYPE_PARTS_PAGE)

/* --- the soaks written down --------------------------------------------------------- */

static char *
dup_out (BedFarm *farm, BedRow *row)
{
  const char *out = bed_row_text (row, "taken_out");
  g_autofree char *day = out ? g_strndup (out, 10) : NULL;

  return day ? bed_date_format_day (day) : g_strdup (_ ("in the tank"));
}

/* Too short a soak wakes no log and too long a one drowns it: lengths side by side. */
static void
show_hours (GtkWidget *bar, BedRow *row)
{
  int hours = MAX ((int) bed_row_int (row, "hours_in"), 0);
  const double shares[BED_TABLE_BAR_PARTS] = { hours / WHOLE_BAR, 0, 0 };
  g_autofree char *words
      = bed_say (ngettext ("%d hour in the water", "%d hours in the water", (gulong) hours), hours);

  bed_table_bar_set (bar, shares, words);
}

static const BedTableColumn soak_columns[] = {
  { .field = "code" },
  { .field = "tank", .width = 8, .from = 520 },
  { .field = "put_in" },
  { .field = "taken_out", .cell = BED_CELL_CUSTOM, .width = 10, .dup_text = dup_out },
  { .column = "logs",
    .title = N_ ("Logs"),
    .cell = BED_CELL_MEASURE,
    .measure = BED_MEASURE_COUNT },
  { .column = "hours_in",
    .title = N_ ("Hours"),
    .cell = BED_CELL_DRAWN,
    .drawn_new = bed_table_bar_new,
    .drawn_show = show_hours },
};

static const BedTableSpec soak_table = {
  .label = N_ ("Soaks"),
  .source = "soak_summary",
  .kind = BED_KIND_SOAK,
  .columns = soak_columns,
  .n_columns = G_N_ELEMENTS (soak_columns),
  .order = "put_in DESC, id DESC",
  .search = "code || ' ' || tank",
  .kinds = BED_KIND_BIT (BED_KIND_SOAK) | BED_KIND_BIT (BED_KIND_SOAKED),
};

/* --- figures and chart --------------------------------------------------------------- */

/* The first of them while there is no plan. */
static void
show_figures (BedSoakingPage *self)
{
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);

  if (self->plan)
    bed_figures_read_soaks (self->plan, bed_farm_get_today (farm), &self->got);
  BedPageFigure figures[] = {
    bed_figure_answer (farm, &self->got, BED_FIGURE_LOGS_IN_TANK, texts),
    bed_figure_answer (farm, &self->got, BED_FIGURE_LOGS_RESTED, texts),
    bed_figure_answer (farm, &self->got, BED_FIGURE_EXPECTED_WEEK, texts),
  };
  bed_page_set_figures (BED_PAGE (self), figures, self->plan ? G_N_ELEMENTS (figures) : 1);
}

static char *
dup_mass (BedSoakingPage *self, double kg)
{
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));

  return bed_measure_format_unit_rounded (BED_MEASURE_MASS, bed_farm_get_notation (farm), 1,
                                          kg * MG_PER_KG);
}

static double
to_unit (BedSoakingPage *self, double kg)
{
  const BedNotation *notation = bed_farm_get_notation (bed_page_get_farm (BED_PAGE (self)));

  return bed_measure_to_unit (BED_MEASURE_MASS, notation->system, kg * MG_PER_KG);
}

/* Weeks behind are what was picked, this one and those ahead what is expected. */
static void
fill_bar (BedSoakingPage *self, guint w, BedChartBar *bar)
{
  const BedSoakPlan *plan = self->plan;
  g_autofree char *monday = bed_date_add (plan->first_day, 7 * (int) w);
  g_autofree char *day = bed_date_format_in_week (monday);
  gboolean ahead = w >= BED_SOAK_PLAN_WEEKS_BACK;
  const BedInterval *forecast = &plan->forecast[w];
  double kg = ahead ? bed_soak_plan_get_week_mass (plan, monday) / MG_PER_KG : plan->picked_kg[w];
  g_autofree char *mass = dup_mass (self, kg);

  bar->label = g_strdup_printf ("%d", atoi (monday + 8));
  bar->tooltip = ahead ? g_strdup_printf (_ ("week of %s: %s expected"), day, mass)
                       : g_strdup_printf (_ ("week of %s: %s picked"), day, mass);
  bar->value = to_unit (self, kg);
  bar->is_expected = ahead;
  if (ahead && forecast->known == BED_KNOWN_INTERVAL)
    {
      bar->low = to_unit (self, forecast->low);
      bar->high = to_unit (self, forecast->high);
    }
}

static void
show_chart (BedSoakingPage *self)
{
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));
  BedChartBar bars[BED_SOAK_PLAN_WEEKS_BACK + BED_SOAK_PLAN_WEEKS_AHEAD] = { 0 };
  g_autofree char *wanted = dup_mass (self, self->plan->demand_kg);
  g_autofree char *words = self->plan->demand_is_set
                               ? g_strdup_printf (_ ("wanted: %s a week"), wanted)
                               : g_strdup_printf (_ ("an even harvest: %s a week"), wanted);
  BedChartSpec spec = { bed_measure_unit (BED_MEASURE_MASS, bed_farm_get_notation (farm)->system),
                        _ ("Picked and expected by week"), to_unit (self, self->plan->demand_kg),
                        words, BED_ROTATION_VIEW_NAMES };

  for (guint w = 0; w < G_N_ELEMENTS (bars); w++)
    fill_bar (self, w, &bars[w]);
  bed_chart_set (self->chart, &spec, bars, G_N_ELEMENTS (bars));
  for (guint w = 0; w < G_N_ELEMENTS (bars); w++)
    {
      g_free ((char *) bars[w].label);
      g_free ((char *) bars[w].tooltip);
    }
}

static void
show_basis (BedSoakingPage *self)
{
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));
  g_autofree char *mass = bed_measure_format_unit_rounded (
      BED_MEASURE_MASS_FINE, bed_farm_get_notation (farm), 0, self->plan->kg_per_log * MG_PER_KG);
  g_autofree char *text
      = self->plan->kg_is_own
            ? g_strdup_printf (
                _ ("Worked out with %s a log and soak, this farm's mean over two years. The "
                   "whiskers cover 8 weeks in 10, judged by the last eight weeks."),
                mass)
            : g_strdup_printf (
                _ ("Worked out with %s a log and soak, the middle of 1/4 to 1/2 lb (S. Gabriel, "
                   "2012), until this farm has picks of its own."),
                mass);

  gtk_label_set_label (GTK_LABEL (self->basis), text);
}

/* All groups, but hundreds would put the chart out of reach. */
static void
fit_rotation (gpointer page)
{
  BedSoakingPage *self = BED_SOAKING_PAGE (page);
  int height;

  if (!self->rotation)
    return;
  gtk_widget_measure (GTK_WIDGET (self->rotation), GTK_ORIENTATION_VERTICAL, -1, NULL, &height,
                      NULL, NULL);
  gtk_scrolled_window_set_min_content_height (GTK_SCROLLED_WINDOW (self->across),
                                              MIN (height, ROTATION_HEIGHT));
}

static void
show_plan (BedSoakingPage *self)
{
  bed_rotation_view_set_plan (self->rotation, self->plan);
  fit_rotation (self);
  show_figures (self);
  show_chart (self);
  show_basis (self);
  gtk_stack_set_visible_child_name (GTK_STACK (self->parts),
                                    self->plan->groups->len ? "drawn" : "empty");
}

/* --- planning, in a thread: a big yard takes the solver a second --------------- */

/* Task data: where the plan waits for the thread, which takes it. */
static void
free_waiting (BedSoakPlan **waiting)
{
  g_clear_pointer (waiting, bed_soak_plan_free);
  g_free (waiting);
}

static void
solve (GTask *task, gpointer source, gpointer waiting, GCancellable *cancellable)
{
  g_autoptr (BedSoakPlan) plan = g_steal_pointer ((BedSoakPlan **) waiting);
  GError *error = NULL;

  if (bed_soak_plan_solve (plan, &error))
    g_task_return_pointer (task, g_steal_pointer (&plan), (GDestroyNotify) bed_soak_plan_free);
  else
    g_task_return_error (task, error);
}

static void
solved_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  BedSoakingPage *self = BED_SOAKING_PAGE (source);
  g_autoptr (GError) error = NULL;
  BedSoakPlan *plan = g_task_propagate_pointer (G_TASK (result), &error);

  if (!plan)
    {
      if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
        gtk_label_set_label (GTK_LABEL (self->basis), error->message);
      return;
    }
  bed_rotation_view_set_plan (self->rotation, NULL);
  g_clear_pointer (&self->plan, bed_soak_plan_free);
  self->plan = plan;
  show_plan (self);
}

/* Two copies: one is drawn while the other is being planned. */
static gboolean
begin_plan (BedSoakingPage *self, GError **error)
{
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));
  g_autoptr (BedSoakPlan) plan = bed_soak_plan_new (farm, error);

  if (!plan)
    return FALSE;
  bed_rotation_view_set_plan (self->rotation, NULL);
  g_clear_pointer (&self->plan, bed_soak_plan_free);
  self->plan = g_steal_pointer (&plan);
  show_plan (self);

  if (self->planning)
    g_cancellable_cancel (self->planning);
  g_clear_object (&self->planning);
  self->planning = g_cancellable_new ();
  g_autoptr (GTask) task = g_task_new (self, self->planning, solved_cb, NULL);
  BedSoakPlan **waiting = g_new0 (BedSoakPlan *, 1);
  *waiting = bed_soak_plan_copy (self->plan);
  g_task_set_task_data (task, waiting, (GDestroyNotify) free_waiting);
  g_task_run_in_thread (task, solve);
  return TRUE;
}

/* --- the tank ------------------------------------------------------------------ */

static void
lift_cb (GtkButton *button, BedSoakingPage *self)
{
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));
  gint64 *id = g_object_get_data (G_OBJECT (button), "bed-soak");
  g_autoptr (BedRecord) soak = bed_host_load (GTK_WIDGET (self), farm, BED_KIND_SOAK, *id);
  g_autoptr (BedEdit) edit = bed_edit_new (farm);
  g_autoptr (GError) error = NULL;

  if (!soak)
    return;
  g_autofree char *sentence
      = g_strdup_printf (_ ("Lifted soak %s"), bed_record_get_text (soak, "code"));
  bed_record_set_text (soak, "taken_out", bed_farm_get_now (farm));
  bed_edit_put (edit, soak);
  if (!bed_host_commit (GTK_WIDGET (self), edit, sentence, &error))
    bed_host_say_error (GTK_WIDGET (self), error);
}

static GtkWidget *
make_tank_row (BedSoakingPage *self, BedQuery *q)
{
  GtkWidget *item = gtk_list_box_row_new ();
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));
  GtkWidget *button = bed_styled (gtk_button_new_with_label (_ ("Lift soak")), "suggested-action");
  gint64 id = bed_query_int (q, 0);
  /* Translators: code of the soak, tank, logs in it, hours. */
  g_autofree char *text = bed_say (_ ("%s · %s, %d logs, in for %d h"), bed_query_text (q, 1),
                                   bed_query_text (q, 2), (int) bed_query_int (q, 3),
                                   (int) bed_query_int (q, 4));
  GtkWidget *label = bed_words_new (text, NULL);

  g_object_set_data_full (G_OBJECT (button), "bed-soak", g_memdup2 (&id, sizeof id), g_free);
  g_signal_connect (button, "clicked", G_CALLBACK (lift_cb), self);
  gtk_widget_set_focus_on_click (button, FALSE);
  gtk_widget_set_sensitive (button, !bed_farm_get_read_only_why (farm));
  gtk_widget_set_hexpand (label, TRUE);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (item),
                              bed_styled (bed_row_new (12, label, button, NULL), "due"));
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (item), FALSE);
  gtk_widget_set_focusable (item, FALSE);
  return bed_named (item, text);
}

/* Of any soak, and of the water of @soak. */
static GtkWidget *
make_caution (BedFarm *farm, gint64 soak)
{
  g_autoptr (BedRecord) record = bed_farm_load (farm, BED_KIND_SOAK, soak, NULL);
  g_autofree char *words = record ? bed_caution_dup (farm, record) : NULL;

  return bed_caution_line_new (words);
}

static gboolean
show_tanks (BedSoakingPage *self, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (
      bed_page_get_farm (BED_PAGE (self)),
      "SELECT id, code, tank, logs, hours_since FROM soak_summary WHERE taken_out IS NULL"
      " ORDER BY put_in");
  GtkWidget *list = NULL;

  bed_box_clear (self->tanks);
  while (bed_query_next (q))
    {
      if (!list)
        {
          list = bed_named (bed_styled (gtk_list_box_new (), "boxed-list"), _ ("In the tank"));
          gtk_list_box_set_selection_mode (GTK_LIST_BOX (list), GTK_SELECTION_NONE);
          gtk_box_append (
              GTK_BOX (self->tanks),
              bed_section_new (_ ("In the tank"),
                               bed_column_new (6, list,
                                               make_caution (bed_page_get_farm (BED_PAGE (self)),
                                                             bed_query_int (q, 0)),
                                               NULL)));
        }
      gtk_list_box_append (GTK_LIST_BOX (list), make_tank_row (self, q));
    }
  gtk_widget_set_visible (self->tanks, list != NULL);
  return bed_query_finish (q, error);
}

/* --- the page ------------------------------------------------------------------ */

static gboolean
refresh_tanks (BedPartsPage *page, GError **error)
{
  BedSoakingPage *self = BED_SOAKING_PAGE (page);
  BedFarm *farm = bed_page_get_farm (BED_PAGE (page));

  if (!show_tanks (self, error)
      || !bed_figures_read_farm (farm, BED_FIGURE_LOGS_IN_TANK, BED_FIGURE_LOGS_IN_TANK, &self->got,
                                 error))
    return FALSE;
  show_figures (self);
  if (!self->plan)
    gtk_stack_set_visible_child_name (
        GTK_STACK (self->parts), bed_farm_count (farm, BED_KIND_BATCH) > 0 ? "drawn" : "empty");
  return TRUE;
}

static gboolean
read_marks (BedPage *page, GError **error)
{
  return bed_batch_mark_read (bed_page_get_farm (page), error);
}

/* It asks of every log when it was last soaked. */
static gboolean
read_plan (BedPage *page, GError **error)
{
  return begin_plan (BED_SOAKING_PAGE (page), error);
}

static const BedPageRead late[] = { read_marks, read_plan, NULL };

static void
offer_logs (BedPage *page, const char *logs)
{
  BedBrowser *soaks = bed_parts_page_get_list (BED_PARTS_PAGE (page), BED_KIND_SOAK);
  BedForm *form = bed_browser_get_form (soaks);

  /* Not to a soak that is being changed, which is asked about first. */
  if (!bed_record_get_id (bed_form_get_original (form)))
    bed_soak_form_offer_logs (form, logs);
}

static void
bed_soaking_page_show_draft (BedPage *page, BedRecord *draft, const char *logs)
{
  BED_PAGE_CLASS (bed_soaking_page_parent_class)->show_draft (page, draft, logs);
  if (logs)
    offer_logs (page, logs);
}

static void
bed_soaking_page_add (BedPage *page)
{
  BedDueItem any = { .rule = bed_due_rule_get (BED_DUE_SOAK) };
  g_autoptr (BedRecord) draft = bed_due_dup_draft (bed_page_get_farm (page), &any);

  if (draft)
    bed_soaking_page_show_draft (page, draft, NULL);
}

static void
bed_soaking_page_print (BedPage *page)
{
  BedPrintOffer offers[] = { { BED_PRINT_SOAKS, 0 }, { BED_PRINT_WEIGHING, 0 } };

  bed_paper_dialog_show (GTK_WIDGET (page), bed_page_get_farm (page), offers,
                         G_N_ELEMENTS (offers));
}

/* Enter on a group of the drawing: a soak of it. */
static void
opened_cb (BedSoakingPage *self, guint index)
{
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));
  const BedSoakGroup *group = self->plan->groups->pdata[index];
  g_autofree char *name = group->stack ? bed_farm_dup_name (farm, BED_KIND_STACK, group->stack)
                                       : bed_farm_dup_name (farm, BED_KIND_BATCH, group->batch);

  bed_page_add (BED_PAGE (self));
  if (name && !bed_farm_get_read_only_why (farm))
    offer_logs (BED_PAGE (self), name);
}

static void
bed_soaking_page_dispose (GObject *object)
{
  BedSoakingPage *self = BED_SOAKING_PAGE (object);

  if (self->planning)
    g_cancellable_cancel (self->planning);
  g_clear_object (&self->planning);
  if (self->rotation)
    bed_rotation_view_set_plan (self->rotation, NULL);
  self->rotation = NULL;
  g_clear_pointer (&self->plan, bed_soak_plan_free);
  G_OBJECT_CLASS (bed_soaking_page_parent_class)->dispose (object);
}

static GtkWidget *
make_drawn (BedSoakingPage *self)
{
  self->tanks = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  self->rotation = bed_rotation_view_new (bed_page_get_farm (BED_PAGE (self)));
  self->chart = bed_chart_new ();
  self->basis = bed_styled (bed_words_new (NULL, "dim-label"), "caption");
  g_signal_connect_swapped (self->rotation, "opened", G_CALLBACK (opened_cb), self);
  self->across = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->across), GTK_WIDGET (self->rotation));
  bed_letters_follow (self, fit_rotation);
  GtkWidget *chart
      = bed_section_new (_ ("Picked, and expected of these soaks"),
                         bed_column_new (6, GTK_WIDGET (self->chart), self->basis, NULL));
  return bed_scrolled_new (
      bed_styled (bed_column_new (24, self->tanks, self->across, chart, NULL), "page"));
}

static GtkWidget *
make_rotation (BedPartsPage *page)
{
  static const BedEmpty empty
      = { "bed-soaking-symbolic", N_ ("No logs to soak yet"),
          N_ ("Logs of a batch appear here with the week in which they may first be "
              "soaked, and then in turn, so that there is something to pick each week."),
          N_ ("Go to the batches"), "win.page::batches" };
  BedSoakingPage *self = BED_SOAKING_PAGE (page);

  self->parts = bed_empty_stack_new (&empty, make_drawn (self), "drawn");
  return self->parts;
}

static const BedPagePart parts[] = {
  { .name = "rotation", .title = N_ ("Rotation"), .make = make_rotation },
  { .name = "soaks",
    .title = N_ ("Soaks"),
    .list = { .kind = BED_KIND_SOAK,
              .table = &soak_table,
              .empty
              = { "bed-soaking-symbolic", N_ ("No soak yet"),
                  N_ ("A soak wakes resting logs: a day in cold water, and about a week later they "
                      "fruit. Record which logs went in, and the rotation follows."),
                  N_ ("Record soak"), "win.add" },
              .detail_new = bed_detail_new,
              .detail_show = bed_soak_detail_show,
              .form_new = bed_soak_form_new } },
  { .name = NULL },
};

static void
bed_soaking_page_class_init (BedSoakingPageClass *klass)
{
  BedPageClass *page_class = BED_PAGE_CLASS (klass);
  BedPartsPageClass *parts_class = BED_PARTS_PAGE_CLASS (klass);
  static const BedPageKey keys[] = {
    { "Up", N_ ("In the rotation: the group above") },
    { "Down", N_ ("In the rotation: the group below") },
    { "Return", N_ ("In the rotation: record a soak of the group") },
    { NULL, NULL },
  };

  parts_class->parts = parts;
  parts_class->refresh_own = refresh_tanks;
  G_OBJECT_CLASS (klass)->dispose = bed_soaking_page_dispose;
  page_class->refresh_late = late;
  page_class->add = bed_soaking_page_add;
  page_class->show_draft = bed_soaking_page_show_draft;
  page_class->print = bed_soaking_page_print;
  page_class->print_title = N_ ("Print the soaking or weighing sheet");
  page_class->add_title = N_ ("Record soak");
  page_class->keys = keys;
  page_class->kinds = BED_KIND_BIT (BED_KIND_SOAK);
}
