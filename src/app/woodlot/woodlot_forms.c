#include "app/woodlot/woodlot_forms.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/desk/page_parts.h"
#include "app/desk/spawn_rows.h"
#include "app/form/forms.h"
#include "model/farm/say.h"
#include "model/season/woodland.h"
#include "science/units.h"

typedef char *(*DupWords) (BedFarm *farm, BedRecord *record);

/* Lives as long as its form. */
typedef struct
{
  BedForm *form;
  BedFarm *farm;
  GtkWidget *words;
  DupWords dup_words;
} Panel;

static void
free_panel (gpointer data)
{
  Panel *self = data;

  g_object_unref (self->farm);
  g_free (self);
}

static void
show (Panel *self)
{
  g_autofree char *words = self->dup_words (self->farm, bed_form_get_draft (self->form));

  gtk_label_set_label (GTK_LABEL (self->words), words);
}

static GtkWidget *
make_words (void)
{
  GtkWidget *words = bed_words_new (NULL, NULL);

  /* It keeps its place whatever it says. */
  gtk_label_set_width_chars (GTK_LABEL (words), 36);
  gtk_label_set_max_width_chars (GTK_LABEL (words), 44);
  return words;
}

static BedForm *
make_form (BedFarm *farm, BedKind kind, const char *heading, DupWords dup_words)
{
  Panel *self = g_new0 (Panel, 1);
  GtkWidget *panel;

  self->farm = g_object_ref (farm);
  self->form = bed_form_new (farm, bed_forms_get_spec (kind));
  self->words = make_words ();
  self->dup_words = dup_words;
  g_object_set_data_full (G_OBJECT (self->form), "panel", self, free_panel);
  panel = bed_styled (bed_section_new (heading, self->words), "panel");
  bed_form_set_aside (self->form, bed_column_new (0, panel, NULL));
  g_signal_connect_swapped (self->form, "draft-changed", G_CALLBACK (show), self);
  g_signal_connect_swapped (self->form, "begun", G_CALLBACK (show), self);
  show (self);
  return self->form;
}

static char *
dup_basal_area (BedFarm *farm, double m2_ha)
{
  return bed_measure_format_unit_rounded (BED_MEASURE_BASAL_AREA, bed_farm_get_notation (farm), 0,
                                          llround (m2_ha * 1e4));
}

static char *
dup_thinning (BedFarm *farm, const BedWoodlandStand *stand)
{
  g_autofree char *take = dup_basal_area (farm, stand->thinning.remove_basal_area);

  /* Translators: trees in all, basal area, its share, stocking left. */
  return bed_say (
      _ ("Thinning to the basal area to leave takes about %.0f trees: %s, %.0f %% of the basal "
         "area. Stocking after it %.0f %%."),
      stand->take_trees, take, stand->thinning.share_pct, stand->thinning.after.stocking_pct);
}

BedForm *
bed_felling_form_new (BedFarm *farm)
{
  return make_form (farm, BED_KIND_FELLING, _ ("These trees should give"),
                    bed_woodlot_dup_felling_words);
}

BedForm *
bed_stand_form_new (BedFarm *farm)
{
  return make_form (farm, BED_KIND_STAND, _ ("The stand"), bed_woodlot_dup_stand_words);
}

/* Sawdust and grain are weighed, dowels and thimbles counted: the other is not asked for. */
static void
show_measure (BedForm *form)
{
  const char *of = bed_record_get_text (bed_form_get_draft (form), "form");
  gboolean counted = bed_spawn_is_counted (of);

  if (of)
    bed_form_hide_field (form, counted ? "mass" : "pieces");
  if (!of || !counted)
    bed_form_show_field (form, "mass");
  if (!of || counted)
    bed_form_show_field (form, "pieces");
}

BedForm *
bed_spawn_form_new (BedFarm *farm)
{
  BedForm *form = bed_form_new (farm, bed_forms_get_spec (BED_KIND_SPAWN));

  g_signal_connect (form, "draft-changed", G_CALLBACK (show_measure), NULL);
  return form;
}

char *
bed_woodlot_dup_felling_words (BedFarm *farm, BedRecord *felling)
{
  const BedNotation *notation = bed_farm_get_notation (farm);
  g_autoptr (GError) error = NULL;
  BedWoodlandBolts bolts;

  if (!bed_woodland_bolts_read (farm, felling, &bolts, &error))
    return g_strdup_printf (_ ("How many bolts the trees give is not known: %s."), error->message);
  gint64 all = bolts.trees * bolts.bolts, second = bolts.trees * bolts.second;
  g_autofree char *length = bed_measure_format_unit_rounded (BED_MEASURE_LENGTH, notation, 0,
                                                             llround (bolts.bolt_mm * 1000));
  g_autofree char *top
      = bed_measure_format_unit_said (BED_MEASURE_LENGTH, notation, llround (bolts.top_mm * 1000));
  g_autofree char *count = bed_say (ngettext ("About %d bolt", "About %d bolts", all), (int) all);

  const char *as = bolts.by == BED_TREE_AS_MIXED_HARDWOOD ? _ (", taken as a mixed hardwood") : "";
  /* Translators: "About 108 bolts"; length; end diameter; bolts a tree; "", or ", taken as a mixed
   * hardwood"; all by the second rule. */
  return bed_say (_ ("%s of %s down to %s, %u a tree%s (Westfall and others, 2024). By a "
                     "second rule %d (Ek and others, 1984)."),
                  count, length, top, bolts.bolts, as, (int) second);
}

char *
bed_woodlot_dup_stand_words (BedFarm *farm, BedRecord *stand)
{
  const BedNotation *notation = bed_farm_get_notation (farm);
  g_autoptr (GError) error = NULL;
  BedWoodlandStand found;

  if (!bed_woodland_stand_read (stand, &found, &error))
    return g_strdup_printf (_ ("What stands there is not known: %s."), error->message);
  g_autofree char *mean = bed_measure_format_unit_rounded (BED_MEASURE_LENGTH, notation, 1,
                                                           llround (found.state.qmd_cm * 1e4));
  g_autofree char *thinning = found.plan == BED_WOODLAND_THINNING
                                  ? dup_thinning (farm, &found)
                                  : g_strdup (_ ("Nothing is to be taken."));

  /* Translators: diameter; percent; what a thinning takes, a sentence. */
  return bed_say (_ ("The tree of mean basal area is %s thick; stocking %.0f %% (of upland "
                     "oak and hickory: Gingrich, 1967). %s"),
                  mean, found.state.stocking_pct, thinning);
}
