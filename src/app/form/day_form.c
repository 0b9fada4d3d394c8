#include "app/form/day_form.h"

#include <glib/gi18n.h>

#include "model/farm/kinds.h"
#include "model/farm/query.h"
#include "model/farm/value.h"
#include "model/season/draft.h"

#define N_ROWS 2

static const char *const fields[N_ROWS] = { "least", "most" };

static const BedFormGroup groups[] = {
  { NULL, { "fell_on", "depth", NULL } },
};

static const BedFormSpec spec = {
  .kind = BED_KIND_RAIN,
  .title = N_ ("Weather of a day"),
  .groups = groups,
  .n_groups = G_N_ELEMENTS (groups),
  .lacking = "depth",
};

typedef struct
{
  BedFarm *farm;
  BedFieldRow *rows[N_ROWS];
  BedRecord *before; /* the temperatures as they were when the form began */
  BedRecord *heat;
  char *day;  /* of ->before */
  char *next; /* the day after the one that was saved */
} Day;

static void
free_day (gpointer data)
{
  Day *self = data;

  g_clear_object (&self->before);
  g_clear_object (&self->heat);
  g_free (self->day);
  g_free (self->next);
  g_free (self);
}

/* The id of what @sql finds of the day; 0 for nothing. */
static gint64
find (BedFarm *farm, const char *sql, const char *day)
{
  g_autoptr (BedQuery) q = bed_query_new (farm, sql);

  bed_query_bind_text (q, 1, day);
  gint64 id = bed_query_next (q) ? bed_query_int (q, 0) : 0;
  return bed_query_finish (q, NULL) ? id : 0; /* the form, which reads, hears of it */
}

static BedRecord *
load_heat (Day *self, const char *day)
{
  gint64 id = find (self->farm, "SELECT id FROM temperature WHERE measured_on = ?1", day);
  BedRecord *heat = id ? bed_farm_load (self->farm, BED_KIND_TEMPERATURE, id, NULL) : NULL;

  return heat ? heat : bed_record_new (BED_KIND_TEMPERATURE);
}

static void
show_heat (Day *self, BedRecord *heat)
{
  g_set_object (&self->heat, heat);
  for (guint i = 0; i < N_ROWS; i++)
    bed_field_row_set_draft (self->rows[i], heat);
}

static void
begin_day (Day *self, const char *day)
{
  g_autoptr (BedRecord) heat = load_heat (self, day ? day : "");

  g_free (self->day);
  self->day = g_strdup (day);
  g_clear_object (&self->before);
  self->before = bed_record_copy (heat);
  show_heat (self, heat);
}

static void
begun_cb (BedForm *form, Day *self)
{
  BedRecord *original = bed_form_get_original (form);

  if (!bed_record_get_id (original) && self->next)
    bed_form_set_text (form, "fell_on", self->next);
  g_clear_pointer (&self->next, g_free);
  begin_day (self, bed_record_get_text (bed_form_get_draft (form), "fell_on"));
}

static gboolean
is_typed (Day *self)
{
  for (guint i = 0; i < N_ROWS; i++)
    if (bed_record_differs (self->heat, self->before, fields[i]))
      return TRUE;
  return FALSE;
}

/* Another day has other temperatures; those of a stored day move with it, and what is typed
 * stays. */
static void
draft_changed_cb (BedForm *form, Day *self)
{
  const char *day = bed_record_get_text (bed_form_get_draft (form), "fell_on");

  if (!bed_record_get_id (bed_form_get_original (form)) && day && !is_typed (self)
      && g_strcmp0 (day, self->day) != 0)
    begin_day (self, day);
}

static void
gather_cb (BedForm *form, BedEdit *edit, BedRecord *rain, Day *self)
{
  const char *day = bed_record_get_text (rain, "fell_on");
  gboolean any = bed_record_has (self->heat, "least") || bed_record_has (self->heat, "most");
  gboolean moved = bed_record_get_id (self->heat) && g_strcmp0 (day, self->day) != 0
                   && !bed_record_get_id (rain);
  g_autoptr (BedRecord) heat = bed_form_dup_draft (form, self->heat);
  g_autofree char *shown = day ? bed_date_format (day) : NULL;
  g_autofree char *sentence = g_strdup_printf (_ ("Recorded the weather of %s"), shown);

  if (!any && !bed_record_has (rain, "depth") && !bed_record_get_id (self->heat)
      && !bed_record_get_id (rain))
    bed_form_refuse (form, _ ("Type the rain, the temperatures, or both."));
  /* Typed for a day that is new, not for the one that was shown. */
  if (moved)
    bed_record_set_id (heat, 0);
  bed_record_set_text (heat, "measured_on", day);
  if (any)
    bed_edit_put (edit, heat);
  else if (bed_record_get_id (heat))
    bed_edit_remove (edit, BED_KIND_TEMPERATURE, bed_record_get_id (heat));
  bed_form_set_sentence (form, sentence);
}

/* Notebooks are typed day by day. */
static void
saved_cb (BedForm *form, BedRecord *rain, Day *self)
{
  g_autofree char *next = bed_date_add (bed_record_get_text (rain, "fell_on"), 1);

  if (strcmp (next, bed_farm_get_today (self->farm)) <= 0)
    self->next = g_steal_pointer (&next);
}

BedForm *
bed_day_form_new (BedFarm *farm)
{
  BedForm *form = bed_form_new (farm, &spec);
  GtkWidget *grid = bed_form_columns_new ();
  Day *self = g_new0 (Day, 1);

  self->farm = farm;
  for (guint i = 0; i < N_ROWS; i++)
    {
      const BedField *field = bed_kind_find_field (BED_KIND_TEMPERATURE, fields[i], NULL);

      self->rows[i] = bed_field_row_new (farm, field);
      gtk_box_append (GTK_BOX (grid), GTK_WIDGET (self->rows[i]));
      bed_form_add_row (form, self->rows[i]);
    }
  bed_form_set_below (form, grid);
  g_object_set_data_full (G_OBJECT (form), "bed-day", self, free_day);
  begin_day (self, bed_record_get_text (bed_form_get_draft (form), "fell_on"));
  g_signal_connect (form, "begun", G_CALLBACK (begun_cb), self);
  g_signal_connect (form, "draft-changed", G_CALLBACK (draft_changed_cb), self);
  g_signal_connect (form, "gather", G_CALLBACK (gather_cb), self);
  g_signal_connect (form, "saved", G_CALLBACK (saved_cb), self);
  return form;
}

void
bed_day_form_open (BedForm *form, BedFarm *farm, const char *day)
{
  const char *of = day ? day : bed_farm_get_today (farm);
  gint64 id = find (farm, "SELECT id FROM rain WHERE fell_on = ?1", of);
  g_autoptr (BedRecord) stored = id ? bed_farm_load (farm, BED_KIND_RAIN, id, NULL) : NULL;
  g_autoptr (BedRecord) fresh = bed_draft_new (farm, BED_KIND_RAIN);

  bed_record_set_text (fresh, "fell_on", of);
  bed_form_open (form, stored ? stored : fresh, stored || day ? "depth" : NULL);
}
