#include "app/batches/batch_detail.h"

#include <adwaita.h>
#include <glib/gi18n.h>
#include <math.h>

#include "app/batches/batch_logs.h"
#include "app/batches/care_view.h"
#include "app/batches/life_view.h"
#include "app/batches/plan_panel.h"
#include "app/desk/browser.h"
#include "app/desk/figure_answer.h"
#include "app/desk/put_right.h"
#include "app/desk/recall_button.h"
#include "app/widgets/build.h"
#include "app/widgets/compat.h"
#include "app/widgets/facts.h"
#include "app/widgets/table.h"
#include "model/farm/functions.h"
#include "model/farm/query.h"
#include "model/farm/say.h"
#include "model/farm/stage.h"
#include "model/season/batch_life.h"
#include "science/units.h"

struct _BedBatchDetail
{
  BedPart parent_instance;
  BedFarm *farm;
  gint64 batch;
  gboolean whole;  /* the part that is seen comes with it */
  GtkWidget *head; /* AdwBin */
  GtkWidget *figures;
  GtkWidget *above; /* figures and life */
  BedLifeView *life;
  GtkWidget *stack;
  BedPlanPanel *plan;
  GtkWidget *pattern; /* AdwBin */
  BedBatchLogs *logs;
  BedCareView *care;
  BedTable *crop;
  GtkWidget *cost; /* AdwBin */
};

BED_DEFINE_TYPE (BedBatchDetail, bed_batch_detail, BED_TYPE_PART)

static const BedTableColumn crop_columns[] = {
  { .field = "picked_on", .title = N_ ("Picked on") },
  { .column = "from_what", .title = N_ ("From") },
  { .field = "grade", .width = 5 },
  { .field = "mass", .title = N_ ("Mass") },
  { .column = "lot_code", .title = N_ ("Lot") },
  { .field = "since", .from = 460 },
};

static const BedTableSpec crop_table = {
  .label = N_ ("Picks of the batch"),
  .source = "pick_named",
  .kind = BED_KIND_PICK,
  .columns = crop_columns,
  .n_columns = G_N_ELEMENTS (crop_columns),
  .order = "picked_on DESC, id DESC",
  .empty = N_ ("Nothing picked from this batch yet"),
};

/* --- head ---------------------------------------------------------------------------- */

static void
append (GString *line, const char *text)
{
  if (text && *text)
    g_string_append_printf (line, "%s%s", line->len ? " · " : "", text);
}

/* @counted of them are known by their number alone. */
static char *
dup_logs (int logs, int counted)
{
  g_autofree char *count = bed_say (ngettext ("%d log", "%d logs", logs), logs);

  if (counted == 0)
    return g_steal_pointer (&count);
  if (counted == logs)
    return g_strdup_printf (_ ("%s, only counted"), count);
  return bed_say (_ ("%s, %d of them only counted"), count, counted);
}

static char *
dup_line (BedQuery *summary)
{
  GString *line = g_string_new (NULL);
  g_autofree char *logs
      = dup_logs ((int) bed_query_int (summary, 3), (int) bed_query_int (summary, 6));
  const char *key = bed_query_text (summary, 4);
  g_autofree char *stage = key ? bed_say (_ ("%s, day %d"),
                                          bed_stage_get_word (bed_stage_from_key (key)),
                                          (int) bed_query_int (summary, 5))
                               : NULL;

  append (line, bed_query_text (summary, 1));
  append (line, bed_query_text (summary, 2));
  append (line, logs);
  append (line, stage);
  return g_string_free (line, FALSE);
}

static GtkWidget *
make_tag_button (gint64 batch)
{
  GtkWidget *button = bed_action_button_new (_ ("Print tags…"), "win.print");

  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  return bed_row_new (6, bed_recall_button_new (BED_KIND_BATCH, batch), button, NULL);
}

static gboolean
show_figures (BedBatchDetail *self, GError **error)
{
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  BedFigureAnswers got;

  if (!bed_figures_read_batch (self->farm, self->batch, &got, error))
    return FALSE;
  BedPageFigure figures[] = {
    bed_figure_answer (self->farm, &got, BED_FIGURE_BATCH_LOGS_ALIVE, texts),
    bed_figure_answer (self->farm, &got, BED_FIGURE_BATCH_PICKED_IN_ALL, texts),
    bed_figure_answer (self->farm, &got, BED_FIGURE_BATCH_PICKED_PER_LOG_MADE, texts),
    bed_figure_answer (self->farm, &got, BED_FIGURE_BATCH_COST_PER_LOG, texts),
  };

  bed_big_figures_set (self->figures, figures, G_N_ELEMENTS (figures));
  return TRUE;
}

static gboolean
show_head (BedBatchDetail *self, GError **error)
{
  g_autoptr (BedQuery) summary
      = bed_query_new (self->farm, "SELECT code, wood_name, strain_name, logs, stage, age_days,"
                                   " (SELECT count (*) FROM log l WHERE l.batch = b.id"
                                   " AND l.counted = 'yes') FROM batch_summary b WHERE id = ?1");

  bed_query_bind_int (summary, 1, self->batch);
  if (bed_query_next (summary))
    {
      g_autofree char *line = dup_line (summary);

      adw_bin_set_child (
          ADW_BIN (self->head),
          bed_browser_head_new (bed_query_text (summary, 0), line, make_tag_button (self->batch)));
    }
  return bed_query_finish (summary, error) && show_figures (self, error);
}

/* --- plan ------------------------------------------------------------------------------ */

static gboolean
show_plan (BedBatchDetail *self, GError **error)
{
  g_autoptr (BedRecord) batch = bed_farm_load (self->farm, BED_KIND_BATCH, self->batch, error);
  g_autoptr (GPtrArray) logs = batch ? bed_plan_load_logs (self->farm, self->batch, error) : NULL;
  gint64 spawn;

  if (!logs
      || !bed_query_one (self->farm, "SELECT spawn FROM batch_spawn WHERE batch = ?1", self->batch,
                         &spawn, error))
    return FALSE;
  g_autoptr (BedRecord) lot = spawn ? bed_farm_load (self->farm, BED_KIND_SPAWN, spawn, NULL)
                                    : NULL;
  BedBatchNeeds needs = { batch, logs, lot ? bed_record_get_text (lot, "form") : NULL, self->farm };

  /* What is in store now says nothing of a batch that is made: 0. */
  bed_plan_panel_show (self->plan, &needs, 0);
  adw_bin_set_child (ADW_BIN (self->pattern), bed_facts_new (self->farm, batch));
  return TRUE;
}

/* --- cost ------------------------------------------------------------------------------ */

static void
add_cost (BedBatchDetail *self, GtkWidget *box, const char *label, gint64 amount)
{
  const char *currency = bed_record_get_text (bed_farm_get_settings (self->farm), "currency");
  g_autofree char *money
      = bed_measure_format (BED_MEASURE_MONEY, bed_farm_get_notation (self->farm), amount);
  g_autofree char *text = g_strdup_printf ("%s %s", money, currency);

  bed_facts_add (box, label, text);
}

/* A season of the batch's life that cost something. */
static void
add_year (BedBatchDetail *self, GtkWidget *box, gint64 year, const BedBatchCost *cost)
{
  g_autofree char *season = bed_season_dup_name (self->farm, (int) year);
  /* Translators: name of a season. */
  g_autofree char *label = g_strdup_printf (_ ("In %s"), season);

  if (cost->total)
    add_cost (self, box, label, cost->total);
}

static gboolean
show_cost (BedBatchDetail *self, GError **error)
{
  g_autoptr (BedBatchCosts) costs = bed_batch_life_cost (self->farm, self->batch, error);
  BedFigureAnswers got;
  gint64 spawn, first;

  if (!costs || !bed_figures_read_batch (self->farm, self->batch, &got, error)
      || !bed_query_one (self->farm, "SELECT spawn FROM batch_cost WHERE batch = ?1", self->batch,
                         &spawn, error)
      || !bed_query_one (self->farm, "SELECT bed_season (inoculated_on) FROM batch WHERE id = ?1",
                         self->batch, &first, error))
    return FALSE;
  GtkWidget *box = bed_facts_box_new ();
  add_cost (self, box, _ ("Spawn"), spawn);
  add_cost (self, box, _ ("Bought for it"), costs->whole.materials - spawn);
  add_cost (self, box, _ ("Hours"), costs->whole.labour);
  bed_figure_add_fact (box, self->farm, &got, BED_FIGURE_BATCH_COST);
  bed_figure_add_fact (box, self->farm, &got, BED_FIGURE_BATCH_COST_PER_LOG);
  bed_figure_add_fact (box, self->farm, &got, BED_FIGURE_BATCH_COST_PER_KG);
  for (guint year = 0; year < costs->n_years; year++)
    add_year (self, box, first + year, &costs->by_year[year]);
  adw_bin_set_child (ADW_BIN (self->cost), box);
  return TRUE;
}

/* --- parts ------------------------------------------------------------------------------ */

static gboolean
show_logs (BedBatchDetail *self, GError **error)
{
  bed_batch_logs_show (self->logs, self->batch);
  return TRUE;
}

static gboolean
show_care (BedBatchDetail *self, GError **error)
{
  bed_care_view_show (self->care, self->batch);
  return TRUE;
}

static gboolean
show_crop (BedBatchDetail *self, GError **error)
{
  g_autofree char *of_picks
      = g_strdup_printf ("id IN (SELECT x.pick FROM log l JOIN pick_log x ON x.log = l.id"
                         " WHERE l.batch = %" G_GINT64_FORMAT ")",
                         self->batch);

  bed_table_set_where (self->crop, of_picks);
  return TRUE;
}

/* Each is read when it is seen. */
static const struct
{
  const char *name;
  gboolean (*show) (BedBatchDetail *self, GError **error);
} parts[] = {
  { "plan", show_plan }, { "logs", show_logs }, { "care", show_care },
  { "crop", show_crop }, { "cost", show_cost },
};

static gboolean
show_seen (BedBatchDetail *self, GError **error)
{
  const char *name = gtk_stack_get_visible_child_name (GTK_STACK (self->stack));
  guint at = 0;

  while (at + 1 < G_N_ELEMENTS (parts) && g_strcmp0 (parts[at].name, name) != 0)
    at++;
  return parts[at].show (self, error);
}

/* --- widget ------------------------------------------------------------------------------ */

static void
bed_batch_detail_class_init (BedBatchDetailClass *klass)
{
  bed_signal_new (BED_TYPE_BATCH_DETAIL, "log-opened", 1, G_TYPE_INT64);
}

static void
add_part (BedBatchDetail *self, gpointer part, const char *name, const char *title)
{
  gtk_stack_add_titled (GTK_STACK (self->stack), part, name, title);
  bed_hide_unseen (part);
}

static void
make_parts (BedBatchDetail *self)
{
  self->stack = gtk_stack_new ();
  /* What is not seen takes no room beside the list. */
  gtk_stack_set_hhomogeneous (GTK_STACK (self->stack), FALSE);
  gtk_stack_set_vhomogeneous (GTK_STACK (self->stack), FALSE);
  gtk_widget_set_vexpand (self->stack, TRUE);
  gtk_widget_set_visible (self->stack, FALSE);
  self->plan = bed_plan_panel_new (self->farm);
  self->pattern = adw_bin_new ();
  self->logs = bed_batch_logs_new (self->farm);
  self->care = bed_care_view_new (self->farm);
  self->crop = bed_table_new_of_one (self->farm, &crop_table);
  bed_put_right_in (self->crop, self->farm, BED_KIND_PICK);
  self->cost = bed_styled (adw_bin_new (), "section");
  add_part (self,
            bed_part_new (bed_styled (
                bed_column_new (18, GTK_WIDGET (self->plan), self->pattern, NULL), "section")),
            "plan", _ ("Plan"));
  add_part (self, self->logs, "logs", _ ("Logs"));
  add_part (self, self->care, "care", _ ("Care"));
  add_part (self, self->crop, "crop", _ ("Harvest"));
  add_part (self, bed_part_new (self->cost), "cost", _ ("Cost"));
}

static GtkWidget *
make_life (BedBatchDetail *self)
{
  self->life = bed_life_view_new (self->farm);
  GtkWidget *list = bed_expander_new (_ ("As a list"), bed_life_view_get_list (self->life));
  return bed_styled (bed_column_new (6, GTK_WIDGET (self->life), list, NULL), "section");
}

/* A form is seen whole: what stands over the parts makes room for it. */
static void
turned_cb (BedBatchDetail *self)
{
  gboolean typing = gtk_stack_get_visible_child (GTK_STACK (self->stack)) == GTK_WIDGET (self->care)
                    && bed_care_view_get_form (self->care);

  gtk_widget_set_visible (self->above, !typing);
}

/* With the rest of the batch: what fails is told in one place, and nothing of another batch stays.
 */
static void
seen_cb (BedBatchDetail *self)
{
  GtkWidget *browser = gtk_widget_get_ancestor (GTK_WIDGET (self), BED_TYPE_BROWSER);

  turned_cb (self);
  if (self->batch && browser)
    bed_browser_read (BED_BROWSER (browser));
}

static void
log_opened_cb (BedBatchDetail *self, gint64 log)
{
  g_signal_emit_by_name (self, "log-opened", log);
}

GtkWidget *
bed_batch_detail_new (BedFarm *farm)
{
  BedBatchDetail *self = g_object_new (BED_TYPE_BATCH_DETAIL, NULL);
  GtkWidget *switcher = bed_styled (gtk_stack_switcher_new (), "tabs");

  self->farm = bed_part_hold (BED_PART (self), farm);
  self->head = adw_bin_new ();
  self->figures = bed_styled (bed_big_figures_new (), "section");
  make_parts (self);
  g_signal_connect_swapped (self->logs, "log-opened", G_CALLBACK (log_opened_cb), self);
  gtk_stack_switcher_set_stack (GTK_STACK_SWITCHER (switcher), GTK_STACK (self->stack));
  gtk_widget_set_halign (switcher, GTK_ALIGN_START);
  self->above = bed_column_new (0, self->figures, make_life (self), NULL);
  g_signal_connect_object (self->care, "turned", G_CALLBACK (turned_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->stack, "notify::visible-child", G_CALLBACK (seen_cb), self,
                           G_CONNECT_SWAPPED);
  bed_part_set_child (BED_PART (self),
                      bed_column_new (0, self->head, self->above, switcher, self->stack, NULL));
  return GTK_WIDGET (self);
}

gboolean
bed_batch_detail_show (GtkWidget *detail, gint64 batch, GError **error)
{
  BedBatchDetail *self = BED_BATCH_DETAIL (detail);

  self->batch = batch;
  return show_head (self, error) && bed_life_view_show_batch (self->life, batch, error)
         && (!self->whole || show_seen (self, error));
}

/* FALSE when nothing is shown yet. */
static gboolean
begin_whole (BedBatchDetail *self)
{
  self->whole = TRUE;
  gtk_widget_set_visible (self->stack, TRUE);
  return self->batch != 0;
}

gboolean
bed_batch_detail_show_whole (BedBatchDetail *self, GError **error)
{
  g_return_val_if_fail (BED_IS_BATCH_DETAIL (self), FALSE);
  return self->whole || !begin_whole (self) || show_seen (self, error);
}

void
bed_batch_detail_open_parts (BedBatchDetail *self)
{
  g_return_if_fail (BED_IS_BATCH_DETAIL (self));
  if (!self->whole && begin_whole (self))
    seen_cb (self);
}

gboolean
bed_batch_detail_show_log (BedBatchDetail *self, gint64 log)
{
  g_return_val_if_fail (BED_IS_BATCH_DETAIL (self), FALSE);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "logs");
  return bed_batch_logs_show_log (self->logs, log);
}

GtkStack *
bed_batch_detail_get_parts (BedBatchDetail *self)
{
  g_return_val_if_fail (BED_IS_BATCH_DETAIL (self), NULL);
  return GTK_STACK (self->stack);
}
