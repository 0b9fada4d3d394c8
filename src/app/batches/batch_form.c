#include "app/batches/batch_form.h"

#include <glib/gi18n.h>

#include "app/batches/log_entry.h"
#include "app/batches/plan_panel.h"
#include "app/desk/spawn_rows.h"
#include "app/form/forms.h"
#include "app/widgets/build.h"
#include "model/farm/code.h"
#include "model/farm/say.h"
#include "model/season/pattern.h"

/* Lives as long as its form. */
typedef struct
{
  BedForm *form;
  BedFarm *farm;
  GPtrArray *logs; /* of the batch that are stored already */
  BedSpawnRows *spawn;
  BedLogEntry *entry;
  BedPlanPanel *panel;
} BatchForm;

static void
free_batch_form (gpointer data)
{
  BatchForm *self = data;

  g_ptr_array_unref (self->logs);
  g_object_unref (self->farm);
  g_free (self);
}

static char *
dup_spawn_form (BatchForm *self)
{
  gint64 spawn = bed_spawn_rows_get_lot (self->spawn);
  g_autoptr (BedRecord) record = spawn ? bed_farm_load (self->farm, BED_KIND_SPAWN, spawn, NULL)
                                       : NULL;

  return record ? g_strdup (bed_record_get_text (record, "form")) : NULL;
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

static void
show_plan (BatchForm *self)
{
  g_autofree char *spawn_form = dup_spawn_form (self);
  g_autoptr (GPtrArray) logs = dup_all_logs (self);
  BedBatchNeeds needs = { bed_form_get_draft (self->form), logs, spawn_form, self->farm };

  bed_plan_panel_show (self->panel, &needs, bed_spawn_rows_get_lot (self->spawn));
  bed_spawn_rows_offer (self->spawn, bed_plan_panel_get_totals (self->panel));
}

/* --- beginning --------------------------------------------------------------------- */

static void
begun_cb (BatchForm *self)
{
  gint64 batch = bed_record_get_id (bed_form_get_original (self->form));
  g_autoptr (GPtrArray) logs = bed_plan_load_logs (self->farm, batch, NULL);

  g_ptr_array_set_size (self->logs, 0);
  if (logs) /* else the form, which reads, says so */
    add_all (self->logs, logs);
  bed_spawn_rows_load (self->spawn, batch);
  bed_log_entry_clear (self->entry);
}

/* --- saving ------------------------------------------------------------------------ */

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
  sentence
      = bed_say (ngettext ("Inoculated %u log, batch %s", "Inoculated %u logs, batch %s", logs),
                 logs, bed_record_get_text (batch, "code"));
  bed_form_set_sentence (self->form, sentence);
}

static void
gather_cb (BatchForm *self, BedEdit *edit, BedRecord *batch)
{
  guint logs = put_logs (self, edit, batch);

  show_plan (self);
  bed_spawn_rows_put (self->spawn, edit, bed_record_get_id (batch),
                      bed_plan_panel_get_totals (self->panel));
  name_save (self, batch, logs);
}

/* --- building ------------------------------------------------------------------------ */

BedForm *
bed_batch_form_new (BedFarm *farm)
{
  BatchForm *self = g_new0 (BatchForm, 1);
  GtkWidget *aside;

  self->farm = g_object_ref (farm);
  self->form = bed_form_new (farm, bed_forms_get_spec (BED_KIND_BATCH));
  self->logs = g_ptr_array_new_with_free_func (g_object_unref);
  self->panel = bed_plan_panel_new (farm);
  g_object_set_data_full (G_OBJECT (self->form), "batch-form", self, free_batch_form);

  self->spawn = bed_spawn_rows_new (farm, self->form);
  self->entry = bed_log_entry_new (farm, self->form);
  /* Beside the fields: most of what is typed is typed here, and is in sight from the start. */
  aside = bed_column_new (12, GTK_WIDGET (self->panel), GTK_WIDGET (self->entry), NULL);
  bed_form_set_below (self->form, GTK_WIDGET (self->spawn));
  bed_form_set_aside (self->form, aside);
  bed_form_set_then (self->form, BED_FORM_THEN_LEAVE);
  g_signal_connect_swapped (self->form, "begun", G_CALLBACK (begun_cb), self);
  g_signal_connect_swapped (self->form, "gather", G_CALLBACK (gather_cb), self);
  g_signal_connect_swapped (self->form, "draft-changed", G_CALLBACK (show_plan), self);
  g_signal_connect_object (self->form, "saved", G_CALLBACK (bed_log_entry_clear), self->entry,
                           G_CONNECT_SWAPPED);
  g_signal_connect_swapped (self->entry, "changed", G_CALLBACK (show_plan), self);
  begun_cb (self);
  show_plan (self);
  return self->form;
}
