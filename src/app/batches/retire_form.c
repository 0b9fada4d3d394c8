#include "app/batches/retire_form.h"

#include <glib/gi18n.h>

#include "app/desk/page_parts.h"
#include "app/form/forms.h"
#include "app/host/host.h"
#include "model/farm/source.h"

#define USUAL_WHY "spent"

/* Lives as long as its form. */
typedef struct
{
  BedForm *form;
  BedFarm *farm;
  GArray *logs; /* gint64; the first is the form's own */
  GArray
      *next; /* those it was asked for with, or NULL: while there is typing of others they wait */
  GtkWidget *names;
} Retire;

static const BedFormGroup groups[] = { { NULL, { "retired_on", "retired_why", NULL } } };

static const BedFormSpec spec = {
  .kind = BED_KIND_LOG,
  .title = N_ ("Retire logs"),
  .groups = groups,
  .n_groups = G_N_ELEMENTS (groups),
};

static void
free_retire (gpointer data)
{
  Retire *self = data;

  g_array_unref (self->logs);
  g_clear_pointer (&self->next, g_array_unref);
  g_object_unref (self->farm);
  g_free (self);
}

/* The others are retired with the form's own, on the same day and for the same reason. */
static void
gather_cb (Retire *self, BedEdit *edit, BedRecord *first)
{
  g_autofree char *sentence = bed_forms_dup_retired (first, self->logs->len);

  for (guint i = 1; i < self->logs->len; i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (BedRecord) log
          = bed_farm_load (self->farm, BED_KIND_LOG, g_array_index (self->logs, gint64, i), &error);

      if (g_error_matches (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_FOUND))
        continue;
      if (!log)
        {
          bed_form_refuse (self->form, error->message);
          return;
        }
      bed_record_take_field (log, first, "retired_on");
      bed_record_take_field (log, first, "retired_why");
      bed_edit_put (edit, log);
    }
  bed_form_set_sentence (self->form, sentence);
}

static void
begun_cb (Retire *self)
{
  if (!self->next)
    return;
  g_array_unref (self->logs);
  self->logs = g_steal_pointer (&self->next);
  g_autofree char *names = bed_source_dup_names (self->farm, self->logs);
  gtk_label_set_label (GTK_LABEL (self->names), names);
}

BedForm *
bed_retire_form_new (BedFarm *farm)
{
  Retire *self = g_new0 (Retire, 1);

  self->farm = g_object_ref (farm);
  self->form = bed_form_new (farm, &spec);
  self->logs = g_array_new (FALSE, FALSE, sizeof (gint64));
  self->names = bed_words_new (NULL, "dim-label");
  g_object_set_data_full (G_OBJECT (self->form), "retire", self, free_retire);
  bed_form_set_below (self->form, self->names);
  bed_form_set_then (self->form, BED_FORM_THEN_LEAVE);
  g_signal_connect_swapped (self->form, "begun", G_CALLBACK (begun_cb), self);
  g_signal_connect_swapped (self->form, "gather", G_CALLBACK (gather_cb), self);
  return self->form;
}

void
bed_retire_form_begin (BedForm *form, GArray *logs)
{
  g_return_if_fail (BED_IS_FORM (form) && logs != NULL && logs->len > 0);
  Retire *self = g_object_get_data (G_OBJECT (form), "retire");
  g_autoptr (BedRecord) first = bed_host_load (GTK_WIDGET (form), self->farm, BED_KIND_LOG,
                                               g_array_index (logs, gint64, 0));

  if (!first)
    return;
  g_clear_pointer (&self->next, g_array_unref);
  self->next = g_array_copy (logs);
  bed_record_set_text (first, "retired_on", bed_farm_get_today (self->farm));
  bed_record_set_text (first, "retired_why", USUAL_WHY);
  bed_form_open (form, first, "retired_why");
  /* The day and the reason that were typed for the same stay, with others beside it. */
  if (bed_record_get_id (bed_form_get_original (form)) == bed_record_get_id (first))
    begun_cb (self);
}
