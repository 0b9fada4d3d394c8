#include "app/batch_form.h"

#include <adwaita.h>
#include <glib/gi18n.h>
#include <math.h>

#include "app/columns_layout.h"
#include "app/forms.h"
#include "app/log_entry.h"
#include "app/plan_panel.h"
#include "model/code.h"
#include "model/pattern.h"
#include "model/query.h"

enum
{
  ROW_SPAWN,
  ROW_MASS,
  ROW_PIECES,
  N_ROWS
};

static const char *const row_fields[N_ROWS] = { "spawn", "mass", "pieces" };

/* Lives as long as its form. */
typedef struct
{
  BedForm *form;
  BedFarm *farm;
  BedRecord *used; /* kind SPAWN_USED: the draft of the spawn rows */
  GPtrArray *logs; /* of the batch that are stored already */
  BedFieldRow *rows[N_ROWS];
  BedLogEntry *entry;
  BedPlanPanel *panel;
} BatchForm;

static void
free_batch_form (gpointer data)
{
  BatchForm *self = data;

  g_clear_object (&self->used);
  g_ptr_array_unref (self->logs);
  g_object_unref (self->farm);
  g_free (self);
}

static char *
dup_spawn_form (BatchForm *self)
{
  gint64 spawn = bed_record_get_int (self->used, "spawn");
  g_autoptr (BedRecord) record
      = spawn ? bed_farm_load (self->farm, BED_KIND_SPAWN, spawn, NULL) : NULL;

  return record ? g_strdup (bed_record_get_text (record, "form")) : NULL;
}

static gboolean
is_counted (const char *spawn_form)
{
  return g_strcmp0 (spawn_form, "dowel") == 0 || g_strcmp0 (spawn_form, "thimble") == 0;
}

static void
add_all (GPtrArray *all, GPtrArray *logs)
{
  for (guint i = 0; i < logs->len; i++)
    g_ptr_array_add (all, g_object_ref (g_ptr_array_index (logs, i)));
}

static GPtrArray *
dup_all_logs (BatchForm *self)
{
  GPtrArray *all = g_ptr_array_new_with_free_func (g_object_unref);

  add_all (all, self->logs);
  add_all (all, bed_log_entry_get_lines (self->entry));
  return all;
}

/* What the plan needs stands in the amount until one is typed. */
static void
offer_amount (BatchForm *self, const char *spawn_form)
{
  const BedBatchTotals *totals = bed_plan_panel_get_totals (self->panel);
  gboolean counted = is_counted (spawn_form);
  BedFieldRow *row = self->rows[counted ? ROW_PIECES : ROW_MASS];
  GtkWidget *entry = bed_editor_get_focus_widget (bed_field_row_get_editor (row));
  g_autofree char *need = NULL;

  gtk_widget_set_visible (GTK_WIDGET (self->rows[ROW_PIECES]), counted);
  gtk_widget_set_visible (GTK_WIDGET (self->rows[ROW_MASS]), !counted);
  if (totals->plan && totals->logs && counted)
    need = g_strdup_printf ("%" G_GINT64_FORMAT, totals->pieces);
  else if (totals->plan && totals->logs)
    need = bed_measure_format_rounded (BED_MEASURE_MASS, bed_farm_get_notation (self->farm), 2,
                                       llround (totals->spawn_g * 1000));
  gtk_entry_set_placeholder_text (GTK_ENTRY (entry), need);
}

static void
show_plan (BatchForm *self)
{
  g_autofree char *spawn_form = dup_spawn_form (self);
  g_autoptr (GPtrArray) logs = dup_all_logs (self);
  BedBatchNeeds needs = { bed_form_get_draft (self->form), logs, spawn_form };

  bed_plan_panel_show (self->panel, &needs, bed_record_get_int (self->used, "spawn"));
  offer_amount (self, spawn_form);
}

/* --- beginning --------------------------------------------------------------------- */

static void
load_logs (BatchForm *self, gint64 batch)
{
  g_autoptr (BedQuery) query = bed_query_new (self->farm, "SELECT id FROM log WHERE batch = ?1");

  g_ptr_array_set_size (self->logs, 0);
  bed_query_bind_int (query, 1, batch);
  while (batch && bed_query_next (query))
    {
      BedRecord *log = bed_farm_load (self->farm, BED_KIND_LOG, bed_query_int (query, 0), NULL);

      if (log)
        g_ptr_array_add (self->logs, log);
    }
  bed_query_finish (query, NULL);
}

/* A batch with several spawn lots shows the first entered; the others stay as they are. */
static BedRecord *
load_used (BatchForm *self, gint64 batch)
{
  gint64 id = batch ? bed_query_one (self->farm, "SELECT min (id) FROM spawn_used"
                                                 " WHERE batch = ?1", batch) : 0;
  BedRecord *used = id ? bed_farm_load (self->farm, BED_KIND_SPAWN_USED, id, NULL) : NULL;

  return used ? used : bed_record_new (BED_KIND_SPAWN_USED);
}

static void
begun_cb (BatchForm *self)
{
  gint64 batch = bed_record_get_id (bed_form_get_original (self->form));

  load_logs (self, batch);
  g_clear_object (&self->used);
  self->used = load_used (self, batch);
  for (int i = 0; i < N_ROWS; i++)
    bed_field_row_set_draft (self->rows[i], self->used);
  bed_log_entry_clear (self->entry);
}

/* --- saving ------------------------------------------------------------------------ */

static gboolean
has_amount (BedRecord *used)
{
  return bed_record_has (used, "mass") || bed_record_has (used, "pieces");
}

/* An amount left empty is what the plan needs, once there are logs to plan for. */
static void
fill_amount (BatchForm *self, BedRecord *used)
{
  const BedBatchTotals *totals = bed_plan_panel_get_totals (self->panel);

  if (has_amount (used) || !totals->plan || totals->logs == 0)
    return;
  if (totals->pieces)
    bed_record_set_int (used, "pieces", totals->pieces);
  else
    bed_record_set_int (used, "mass", llround (totals->spawn_g * 1000));
}

static void
put_spawn (BatchForm *self, BedEdit *edit, BedRecord *batch)
{
  if (!bed_record_has (self->used, "spawn"))
    {
      if (bed_record_get_id (self->used))
        bed_edit_remove (edit, BED_KIND_SPAWN_USED, bed_record_get_id (self->used));
      return;
    }
  g_autoptr (BedRecord) used = bed_record_copy (self->used);
  bed_record_set_int (used, "batch", bed_record_get_id (batch));
  fill_amount (self, used);
  bed_edit_put (edit, used);
}

static guint
put_logs (BatchForm *self, BedEdit *edit, BedRecord *batch)
{
  GPtrArray *lines = bed_log_entry_take_pending (self->entry);

  for (guint i = 0; i < lines->len; i++)
    {
      g_autoptr (BedRecord) log = bed_record_copy (g_ptr_array_index (lines, i));
      int holes = bed_pattern_count_holes (batch, log);

      bed_record_set_int (log, "batch", bed_record_get_id (batch));
      if (holes)
        bed_record_set_int (log, "holes", holes);
      bed_edit_put (edit, log);
    }
  return lines->len;
}

static void
name_save (BatchForm *self, BedRecord *batch, guint logs)
{
  const char *date = bed_record_get_text (batch, "inoculated_on");
  g_autofree char *sentence = NULL;

  if (!bed_record_has (batch, "code") && date)
    {
      g_autofree char *code = bed_code_next_batch (self->farm, date);

      bed_record_set_text (batch, "code", code);
    }
  if (logs == 0)
    return;
  sentence = g_strdup_printf (ngettext ("Inoculated %u log, batch %s",
                                        "Inoculated %u logs, batch %s", logs),
                              logs, bed_record_get_text (batch, "code"));
  bed_form_set_sentence (self->form, sentence);
}

static void
gather_cb (BatchForm *self, BedEdit *edit, BedRecord *batch)
{
  guint logs = put_logs (self, edit, batch);

  show_plan (self);
  put_spawn (self, edit, batch);
  name_save (self, batch, logs);
}

/* --- building ------------------------------------------------------------------------ */

static GtkWidget *
make_spawn_rows (BatchForm *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  GtkWidget *heading = gtk_label_new (_ ("Spawn"));
  GtkWidget *grid = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);

  gtk_label_set_xalign (GTK_LABEL (heading), 0);
  gtk_widget_add_css_class (heading, "heading");
  gtk_widget_set_layout_manager (grid, bed_columns_layout_new (BED_FORM_COLUMN_WIDTH, 2));
  for (int i = 0; i < N_ROWS; i++)
    {
      self->rows[i] = bed_field_row_new (
          self->farm, bed_kind_find_field (BED_KIND_SPAWN_USED, row_fields[i], NULL));
      gtk_box_append (GTK_BOX (grid), GTK_WIDGET (self->rows[i]));
      bed_form_add_row (self->form, self->rows[i]);
    }
  gtk_box_append (GTK_BOX (box), heading);
  gtk_box_append (GTK_BOX (box), grid);
  return box;
}

static GtkWidget *
make_caution (void)
{
  GtkWidget *label = gtk_label_new (
      _ ("Grinder: guard, side handle, eye and ear protection. Wax: never leave it over heat, no "
         "water near it, stop when it smokes. Lift logs with the knees, or with two."));

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_width_chars (GTK_LABEL (label), 40);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 50);
  gtk_widget_add_css_class (label, "caption");
  gtk_widget_add_css_class (label, "dim-label");
  return label;
}

BedForm *
bed_batch_form_new (BedFarm *farm)
{
  BatchForm *self = g_new0 (BatchForm, 1);
  GtkWidget *below = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  GtkWidget *aside = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);

  self->farm = g_object_ref (farm);
  self->form = bed_form_new (farm, bed_forms_get_spec (BED_KIND_BATCH));
  self->used = bed_record_new (BED_KIND_SPAWN_USED);
  self->logs = g_ptr_array_new_with_free_func (g_object_unref);
  self->panel = bed_plan_panel_new (farm);
  g_object_set_data_full (G_OBJECT (self->form), "batch-form", self, free_batch_form);

  gtk_box_append (GTK_BOX (below), make_spawn_rows (self));
  self->entry = bed_log_entry_new (farm, self->form);
  gtk_box_append (GTK_BOX (below), GTK_WIDGET (self->entry));
  gtk_box_append (GTK_BOX (aside), GTK_WIDGET (self->panel));
  gtk_box_append (GTK_BOX (aside), bed_log_entry_get_list (self->entry));
  gtk_box_append (GTK_BOX (aside), make_caution ());
  bed_form_set_below (self->form, below);
  bed_form_set_aside (self->form, aside);
  bed_form_set_then (self->form, BED_FORM_THEN_LEAVE);
  g_signal_connect_swapped (self->form, "begun", G_CALLBACK (begun_cb), self);
  g_signal_connect_swapped (self->form, "gather", G_CALLBACK (gather_cb), self);
  g_signal_connect_swapped (self->form, "draft-changed", G_CALLBACK (show_plan), self);
  g_signal_connect_swapped (self->entry, "changed", G_CALLBACK (show_plan), self);
  begun_cb (self);
  show_plan (self);
  return self->form;
}
