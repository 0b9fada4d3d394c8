#include "app/woodlot/stand_detail.h"

#include <adwaita.h>
#include <glib/gi18n.h>
#include <math.h>

#include "app/desk/browser.h"
#include "app/desk/page_parts.h"
#include "app/widgets/facts.h"
#include "app/widgets/figures.h"
#include "app/woodlot/woodlot_forms.h"
#include "model/season/woodland.h"
#include "science/units.h"

struct _BedStandDetail
{
  BedPart parent_instance;
  BedFarm *farm;
  GtkWidget *box;
  GtkWidget *head; /* AdwBin */
  BedFigures *figures;
  GtkWidget *words;
  GtkWidget *facts; /* AdwBin */
};

G_DEFINE_FINAL_TYPE (BedStandDetail, bed_stand_detail, BED_TYPE_PART)

static void
show_figures (BedStandDetail *self, BedRecord *stand)
{
  const BedNotation *notation = bed_farm_get_notation (self->farm);
  BedWoodlandStand found;
  gboolean known = bed_woodland_stand_read (stand, &found, NULL);
  g_autofree char *basal_area
      = bed_record_has (stand, "basal_area") ? bed_measure_format_rounded (
            BED_MEASURE_BASAL_AREA, notation, 0, bed_record_get_int (stand, "basal_area"))
                                             : NULL;
  g_autofree char *mean = known ? bed_measure_format_rounded (BED_MEASURE_LENGTH, notation, 1,
                                                              llround (found.state.qmd_cm * 1e4))
                                : NULL;
  g_autofree char *stocking = known ? g_strdup_printf ("%.0f", found.state.stocking_pct) : NULL;
  g_autofree char *take = known ? g_strdup_printf ("%.0f", found.take_trees) : NULL;
  BedPageFigure figures[] = {
    { basal_area, bed_measure_unit (BED_MEASURE_BASAL_AREA, notation->system), _ ("basal area") },
    { mean, bed_measure_unit (BED_MEASURE_LENGTH, notation->system), _ ("mean tree") },
    { stocking, "%", _ ("stocking") },
    { take, NULL, _ ("trees to take") },
  };

  bed_figures_set (self->figures, figures, G_N_ELEMENTS (figures));
}

static void
bed_stand_detail_class_init (BedStandDetailClass *klass)
{
}

static void
bed_stand_detail_init (BedStandDetail *self)
{
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  self->head = adw_bin_new ();
  self->figures = bed_figures_new ();
  self->words = bed_words_new (NULL, "detail-line");
  self->facts = adw_bin_new ();
  gtk_widget_add_css_class (GTK_WIDGET (self->figures), "section");
  gtk_widget_add_css_class (self->facts, "section");
  gtk_box_append (GTK_BOX (self->box), self->head);
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->figures));
  gtk_box_append (GTK_BOX (self->box), self->words);
  gtk_box_append (GTK_BOX (self->box), self->facts);
  bed_part_set_child (BED_PART (self), self->box);
}

GtkWidget *
bed_stand_detail_new (BedFarm *farm)
{
  BedStandDetail *self = g_object_new (BED_TYPE_STAND_DETAIL, NULL);

  self->farm = bed_part_hold (BED_PART (self), farm);
  return GTK_WIDGET (self);
}

gboolean
bed_stand_detail_show (GtkWidget *detail, gint64 stand, GError **error)
{
  BedStandDetail *self = BED_STAND_DETAIL (detail);
  g_autoptr (BedRecord) record = bed_farm_load (self->farm, BED_KIND_STAND, stand, error);
  g_autofree char *words = record ? bed_woodlot_dup_stand_words (self->farm, record) : NULL;

  if (!record)
    return FALSE;
  adw_bin_set_child (ADW_BIN (self->head),
                     bed_browser_head_new (bed_record_get_text (record, "name"),
                                           bed_record_get_text (record, "grows"), NULL));
  show_figures (self, record);
  gtk_label_set_label (GTK_LABEL (self->words), words);
  adw_bin_set_child (ADW_BIN (self->facts), bed_facts_new (self->farm, record));
  return TRUE;
}
