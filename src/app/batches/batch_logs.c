#include "app/batches/batch_logs.h"

#include <glib/gi18n.h>

#include "app/batches/retire_form.h"
#include "app/desk/put_right.h"
#include "app/host/host.h"
#include "app/paper/paper_dialog.h"
#include "app/widgets/build.h"
#include "app/widgets/compat.h"
#include "app/widgets/table.h"
#include "model/farm/query.h"
#include "model/farm/say.h"

struct _BedBatchLogs
{
  BedPart parent_instance;
  BedFarm *farm;
  gint64 batch;
  GtkWidget *stack; /* "list", "form" */
  BedTable *table;
  GtkWidget *chosen;
  BedForm *retire;
};

BED_DEFINE_TYPE (BedBatchLogs, bed_batch_logs, BED_TYPE_PART)

static const BedTableColumn columns[] = {
  { .field = "code", .width = 10 },
  { .field = "small_diameter", .title = N_ ("Diameter") },
  { .field = "length", .from = 640 },
  { .column = "stage", .title = N_ ("Stage"), .cell = BED_CELL_STAGE, .width = 9 },
  { .column = "stack_name", .title = N_ ("Stack") },
  { .column = "soaked_in", .title = N_ ("Last soak"), .cell = BED_CELL_DATE },
  { .column = "picked_alone",
    .title = N_ ("Picked"),
    .cell = BED_CELL_MEASURE,
    .measure = BED_MEASURE_MASS,
    .decimals = 2 },
};

static const BedTableSpec table = {
  .label = N_ ("Logs of the batch"),
  .source = "log_today",
  .kind = BED_KIND_LOG,
  .columns = columns,
  .n_columns = G_N_ELEMENTS (columns),
  .order = "code",
  .search = "code || ' ' || bed_stage_word (stage) || ' ' || coalesce (stack_name, '')",
  .empty = N_ ("No logs yet: press Change, then type each diameter and Enter"),
  .select = BED_TABLE_SELECT_MANY,
};

/* --- what is chosen ------------------------------------------------------------------ */

/* The chosen logs that live. */
static GArray *
dup_alive (BedBatchLogs *self, GError **error)
{
  g_autoptr (GArray) logs = bed_table_dup_selected (self->table);

  for (guint i = logs->len; i-- > 0;)
    {
      gint64 retired;

      if (!bed_query_one (self->farm, "SELECT retired_on IS NOT NULL FROM log WHERE id = ?1",
                          g_array_index (logs, gint64, i), &retired, error))
        return NULL;
      if (retired)
        g_array_remove_index (logs, i);
    }
  return g_steal_pointer (&logs);
}

static void
selected_cb (BedBatchLogs *self)
{
  g_autoptr (GArray) logs = bed_table_dup_selected (self->table);
  g_autofree char *count
      = logs->len ? bed_say (ngettext ("%u log chosen", "%u logs chosen", logs->len), logs->len)
                  : g_strdup (_ ("Enter opens a log; with Shift or Ctrl several are chosen"));

  gtk_label_set_label (GTK_LABEL (self->chosen), count);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "logs.print", logs->len > 0);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "logs.retire",
                                 logs->len > 0 && !bed_farm_get_read_only_why (self->farm));
}

static void
opened_cb (BedBatchLogs *self, gint64 log)
{
  g_signal_emit_by_name (self, "log-opened", log);
}

static void
form_left_cb (BedBatchLogs *self)
{
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "list");
  gtk_widget_grab_focus (GTK_WIDGET (self->table));
}

static void
retire_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  BedBatchLogs *self = BED_BATCH_LOGS (widget);
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) logs = dup_alive (self, &error);

  if (!logs)
    {
      bed_host_say_error (widget, error);
      return;
    }
  if (logs->len == 0)
    {
      bed_host_say (widget, _ ("The chosen logs are retired already"));
      return;
    }
  if (!self->retire)
    {
      self->retire = bed_retire_form_new (self->farm);
      g_signal_connect_object (self->retire, "left", G_CALLBACK (form_left_cb), self,
                               G_CONNECT_SWAPPED);
      bed_stack_add (self->stack, GTK_WIDGET (self->retire), "form");
    }
  bed_retire_form_begin (self->retire, logs);
}

static void
print_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  BedBatchLogs *self = BED_BATCH_LOGS (widget);
  g_autoptr (GArray) logs = bed_table_dup_selected (self->table);
  BedPrintOffer offer = { BED_PRINT_TAGS, self->batch, .logs = logs };

  bed_paper_dialog_show (widget, self->farm, &offer, 1);
}

/* --- widget -------------------------------------------------------------------------- */

static void
bed_batch_logs_class_init (BedBatchLogsClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  gtk_widget_class_install_action (widget_class, "logs.retire", NULL, retire_cb);
  gtk_widget_class_install_action (widget_class, "logs.print", NULL, print_cb);

  bed_signal_new (BED_TYPE_BATCH_LOGS, "log-opened", 1, G_TYPE_INT64);
}

static GtkWidget *
make_bar (BedBatchLogs *self)
{
  GtkWidget *print = bed_action_button_new (_ ("Print chosen tags…"), "logs.print");
  GtkWidget *retire = bed_action_button_new (_ ("Retire logs"), "logs.retire");

  self->chosen = bed_line_new (NULL, "dim-label");
  gtk_widget_set_hexpand (self->chosen, TRUE);
  return bed_styled (bed_row_new (6, self->chosen, print, retire, NULL), "foot");
}

BedBatchLogs *
bed_batch_logs_new (BedFarm *farm)
{
  BedBatchLogs *self = g_object_new (BED_TYPE_BATCH_LOGS, NULL);

  self->farm = bed_part_hold (BED_PART (self), farm);
  self->table = bed_table_new_of_one (farm, &table);
  bed_put_right_in (self->table, farm, BED_KIND_LOG);
  gtk_widget_set_vexpand (GTK_WIDGET (self->table), TRUE);
  bed_styled (GTK_WIDGET (self->table), "lines-10");
  self->stack = gtk_stack_new ();
  /* What is not seen takes no room beside the list. */
  gtk_stack_set_hhomogeneous (GTK_STACK (self->stack), FALSE);
  gtk_stack_set_vhomogeneous (GTK_STACK (self->stack), FALSE);
  bed_stack_add (self->stack, bed_column_new (0, GTK_WIDGET (self->table), make_bar (self), NULL),
                 "list");
  bed_part_set_child (BED_PART (self), self->stack);
  g_signal_connect_swapped (self->table, "selected", G_CALLBACK (selected_cb), self);
  g_signal_connect_swapped (self->table, "opened", G_CALLBACK (opened_cb), self);
  selected_cb (self);
  return self;
}

void
bed_batch_logs_show (BedBatchLogs *self, gint64 batch)
{
  g_return_if_fail (BED_IS_BATCH_LOGS (self));
  g_autofree char *where = g_strdup_printf ("batch = %" G_GINT64_FORMAT, batch);

  if (batch != self->batch)
    gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "list");
  self->batch = batch;
  bed_table_set_where (self->table, where);
  selected_cb (self);
}

gboolean
bed_batch_logs_show_log (BedBatchLogs *self, gint64 log)
{
  g_return_val_if_fail (BED_IS_BATCH_LOGS (self), FALSE);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "list");
  gtk_widget_grab_focus (GTK_WIDGET (self->table));
  return bed_table_select (self->table, log);
}
