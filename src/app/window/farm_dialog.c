#include "app/window/farm_dialog.h"

#include <adwaita.h>
#include <glib/gi18n.h>

#include "app/form/forms.h"
#include "app/host/host.h"
#include "app/host/typing.h"
#include "app/widgets/build.h"
#include "app/widgets/compat.h"
#include "model/farm/farm_settings.h"
#include "model/farm/habits.h"

static const BedFormGroup new_groups[] = {
  { NULL, { "name", "unit_system", "currency", "hemisphere", "season_start", "labour_rate" } },
};

static char *
dup_new_sentence (BedFarm *farm, BedRecord *record)
{
  return g_strdup (_ ("Named the farm"));
}

static const BedFormSpec new_spec = {
  .kind = BED_KIND_FARM,
  .title = N_ ("Name, units and money"),
  .groups = new_groups,
  .n_groups = G_N_ELEMENTS (new_groups),
  .dup_sentence = dup_new_sentence,
};

static BedRecord *
make_settings (void)
{
  BedRecord *settings = bed_farm_settings_new ();
  const char *units = bed_habits_get_units ();
  g_autofree char *currency = bed_habits_dup_currency ();

  bed_record_set_text (settings, "name", _ ("My farm"));
  bed_record_set_text (settings, "unit_system", units ? units : "metric");
  bed_record_set_text (settings, "currency", currency ? currency : "EUR");
  return settings;
}

static GtkWidget *
make_dialog (GtkWindow *over, const char *title, BedForm *form)
{
  GtkWidget *dialog = adw_window_new ();

  bed_window_build (dialog, GTK_WIDGET (over), title, GTK_WIDGET (form));
  bed_window_set_size (dialog, 700, -1); /* as high as the form */
  bed_form_set_then (form, BED_FORM_THEN_LEAVE);
  bed_typing_guard (GTK_WINDOW (dialog));
  g_signal_connect_swapped (form, "left", G_CALLBACK (gtk_window_close), dialog);
  return dialog;
}

/* --- a new farm ------------------------------------------------------------------ */

/* The form needs a farm to speak with before there is one: an empty one in memory,
 * whose settings become those of the file. */
typedef struct
{
  GtkWindow *window;
  BedRecord *settings;
} NewFarm;

static void
path_chosen_cb (const char *path, gpointer data)
{
  NewFarm *new_farm = data;
  g_autoptr (BedFarm) farm = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *whole = NULL;

  if (path)
    {
      whole = g_str_has_suffix (path, ".bedlog") ? g_strdup (path)
                                                 : g_strconcat (path, ".bedlog", NULL);
      farm = bed_farm_new (whole, new_farm->settings, &error);
      if (!farm)
        bed_tell (GTK_WIDGET (new_farm->window), _ ("The farm could not be made"), error->message);
      else
        {
          g_clear_object (&farm);
          bed_host_open_beside (GTK_WIDGET (new_farm->window), whole);
        }
    }
  g_object_unref (new_farm->window);
  g_object_unref (new_farm->settings);
  g_free (new_farm);
}

static void
named_cb (GtkWindow *window, BedRecord *settings, BedForm *form)
{
  NewFarm *new_farm = g_new0 (NewFarm, 1);
  g_autofree char *name = g_strconcat (bed_record_get_text (settings, "name"), ".bedlog", NULL);
  BedFileAsk ask = { _ ("Where to keep the farm"), _ ("Make farm"), name, "bedlog", _ ("Farms") };

  g_strdelimit (name, "/\\:", '-');
  new_farm->window = g_object_ref (window);
  new_farm->settings = bed_record_copy (settings);
  bed_ask_save_file (GTK_WIDGET (window), &ask, path_chosen_cb, new_farm);
}

void
bed_farm_dialog_new_farm (GtkWindow *window)
{
  g_autoptr (BedRecord) settings = make_settings ();
  g_autoptr (GError) error = NULL;
  g_autoptr (BedFarm) draft = bed_farm_new_draft (settings, &error);
  GtkWidget *dialog;
  BedForm *form;

  if (!draft)
    {
      bed_tell (GTK_WIDGET (window), _ ("The farm could not be made"), error->message);
      return;
    }
  form = bed_form_new (draft, &new_spec);
  bed_form_edit (form, bed_farm_get_settings (draft));
  dialog = make_dialog (window, _ ("New farm"), form);
  g_signal_connect_object (form, "saved", G_CALLBACK (named_cb), window, G_CONNECT_SWAPPED);
  gtk_window_present (GTK_WINDOW (dialog));
  bed_form_focus (form, NULL);
}

void
bed_farm_dialog_change (GtkWindow *window)
{
  BedFarm *farm = bed_host_get_farm (GTK_WIDGET (window));
  BedForm *form = bed_form_new (farm, bed_forms_get_spec (BED_KIND_FARM));

  bed_form_edit (form, bed_farm_get_settings (farm));
  gtk_window_present (GTK_WINDOW (make_dialog (window, _ ("Farm and units"), form)));
  bed_form_focus (form, NULL);
}
