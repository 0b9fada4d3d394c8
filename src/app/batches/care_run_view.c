#include "app/batches/care_run_view.h"

#include <adwaita.h>
#include <glib/gi18n.h>
#include <string.h>

#include "app/batches/care_water.h"
#include "app/desk/page_parts.h"
#include "app/widgets/facts.h"
#include "model/farm/run.h"
#include "model/farm/say.h"
#include "model/farm/value.h"

struct _BedCareRunView
{
  BedPart parent_instance;
  BedFarm *farm;
  GtkWidget *bar;
  GtkWidget *facts; /* AdwBin */
  GtkWidget *basis;
};

BED_DEFINE_PLAIN_TYPE (BedCareRunView, bed_care_run_view, BED_TYPE_PART)

static char *
dup_full (BedCareRunView *self, const BedRun *run)
{
  g_autofree char *day = run->full_on ? bed_date_format (run->full_on) : NULL;

  if (day && run->full_late && strcmp (run->full_late, bed_farm_get_today (self->farm)) <= 0)
    return g_strdup_printf (_ ("since about %s"), day);
  return bed_care_dup_when (run->full_on, run->full_early, run->full_late);
}

static char *
dup_effort (BedCareRunView *self, const BedRun *run)
{
  if (run->unit == BED_RUN_BY_DAYS)
    return bed_say (ngettext ("%d day", "%d days", run->age_days), run->age_days);
  return bed_say (_ ("%d days, %.0f degree days"), run->age_days, run->effort);
}

static char *
dup_basis (const BedRun *run)
{
  const char *prior = run->is_of_strain ? _ ("Expected by the strain's own months")
                                        : _ ("Expected by the type of strain and the wood (wide "
                                             "and warm 6 to 12 months, cold 12 to 18)");
  g_autofree char *checks = run->checks
                                ? bed_say (ngettext ("%u check of the log ends",
                                                     "%u checks of the log ends", run->checks),
                                           run->checks)
                                : g_strdup (_ ("log ends not checked yet"));
  const char *unit
      = run->unit == BED_RUN_BY_HEAT ? _ (
            "degree days from 5 to 30 °C, each day as a sine wave (Baskerville and Emin, 1969)")
                                     : _ ("counted in days: too few temperatures are entered");

  /* Translators: what is expected; the looks; how time is counted. */
  return g_strdup_printf (
      _ ("%s; %s; %s. A log is called ready once the months its strain takes at least are over "
         "(a full year where nobody timed it: Hill, University of Kentucky FOR-85) and, where "
         "log ends were checked, they say so; or once it was soaked or picked from."),
      prior, checks, unit);
}

/* What nobody looked at is expected, not known. */
static char *
dup_percent (const BedRun *run)
{
  if (run->checks)
    return bed_say ("%.0f %% (%.0f – %.0f)", run->run.pct, run->run.pct_low, run->run.pct_high);
  if (run->run.pct_low > 99.5)
    return g_strdup (_ ("not checked; its months are over"));
  return bed_say (_ ("not checked; %.0f – %.0f %% by its months"), run->run.pct_low,
                  run->run.pct_high);
}

static void
show_run (BedCareRunView *self, const BedRun *run)
{
  GtkWidget *box = bed_facts_box_new ();
  g_autofree char *percent = dup_percent (run);
  g_autofree char *full = dup_full (self, run);
  g_autofree char *forcing = run->ready_on ? bed_date_format (run->ready_on)
                                           : g_strdup (_ ("cannot be told yet"));
  g_autofree char *effort = dup_effort (self, run);
  g_autofree char *basis = dup_basis (run);

  gtk_widget_set_visible (self->bar, run->checks > 0);
  gtk_level_bar_set_value (GTK_LEVEL_BAR (self->bar), run->run.pct / 100);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->bar), GTK_ACCESSIBLE_PROPERTY_VALUE_TEXT,
                                  percent, -1);
  bed_facts_add (box, _ ("Colonised"), percent);
  bed_facts_add (box, _ ("Full"), full);
  bed_facts_add (box, _ ("First forcing from"), forcing);
  bed_facts_add (box, _ ("Since inoculation"), effort);
  adw_bin_set_child (ADW_BIN (self->facts), box);
  gtk_label_set_label (GTK_LABEL (self->basis), basis);
}

BedCareRunView *
bed_care_run_view_new (BedFarm *farm)
{
  BedCareRunView *self = g_object_new (BED_TYPE_CARE_RUN_VIEW, NULL);

  self->farm = bed_part_hold (BED_PART (self), farm);
  self->bar = gtk_level_bar_new ();
  self->facts = adw_bin_new ();
  self->basis = bed_styled (bed_words_new (NULL, "caption"), "dim-label");
  /* Colours for low and full would say that a young batch is bad. */
  gtk_level_bar_remove_offset_value (GTK_LEVEL_BAR (self->bar), GTK_LEVEL_BAR_OFFSET_LOW);
  gtk_level_bar_remove_offset_value (GTK_LEVEL_BAR (self->bar), GTK_LEVEL_BAR_OFFSET_HIGH);
  gtk_level_bar_remove_offset_value (GTK_LEVEL_BAR (self->bar), GTK_LEVEL_BAR_OFFSET_FULL);
  bed_named (self->bar, _ ("Colonised"));
  bed_part_set_child (BED_PART (self),
                      bed_section_new (_ ("Spawn run"), bed_column_new (12, self->bar, self->facts,
                                                                        self->basis, NULL)));
  return self;
}

void
bed_care_run_view_show (BedCareRunView *self, gint64 batch)
{
  g_auto (BedRun) run = { 0 };
  g_autoptr (GError) error = NULL;

  if (bed_run_read (self->farm, batch, &run, &error))
    show_run (self, &run);
  else
    {
      adw_bin_set_child (ADW_BIN (self->facts), NULL);
      gtk_level_bar_set_value (GTK_LEVEL_BAR (self->bar), 0);
      gtk_label_set_label (GTK_LABEL (self->basis), error->message);
    }
}
