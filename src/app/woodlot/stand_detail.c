#include "app/woodlot/stand_detail.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/desk/detail.h"
#include "app/desk/page_parts.h"
#include "app/widgets/big_figures.h"
#include "app/widgets/facts.h"
#include "app/woodlot/woodlot_forms.h"
#include "model/farm/say.h"
#include "model/season/woodland.h"
#include "science/units.h"

static GtkWidget *
make_figures (BedFarm *farm, BedRecord *stand)
{
  const BedNotation *notation = bed_farm_get_notation (farm);
  BedWoodlandStand found;
  gboolean known = bed_woodland_stand_read (stand, &found, NULL);
  g_autofree char *basal_area
      = bed_record_has (stand, "basal_area") ? bed_measure_format_said (
            BED_MEASURE_BASAL_AREA, notation, bed_record_get_int (stand, "basal_area"))
                                             : NULL;
  g_autofree char *mean = known ? bed_measure_format_rounded (BED_MEASURE_LENGTH, notation, 1,
                                                              llround (found.state.qmd_cm * 1e4))
                                : NULL;
  g_autofree char *stocking = known ? bed_say ("%.0f", found.state.stocking_pct) : NULL;
  g_autofree char *take = known ? bed_say ("%.0f", found.take_trees) : NULL;
  BedPageFigure figures[] = {
    { basal_area, bed_measure_unit (BED_MEASURE_BASAL_AREA, notation->system), _ ("Basal area") },
    { mean, bed_measure_unit (BED_MEASURE_LENGTH, notation->system), _ ("Mean tree") },
    { stocking, "%", _ ("Stocking") },
    { take, NULL, _ ("Trees to take") },
  };

  GtkWidget *shown = bed_big_figures_new ();

  bed_big_figures_set (shown, figures, G_N_ELEMENTS (figures));
  return shown;
}

gboolean
bed_stand_detail_show (GtkWidget *detail, gint64 stand, GError **error)
{
  BedFarm *farm = bed_detail_get_farm (detail);
  g_autoptr (BedRecord) record = bed_farm_load (farm, BED_KIND_STAND, stand, error);
  g_autofree char *words = record ? bed_woodlot_dup_stand_words (farm, record) : NULL;

  if (!record)
    return FALSE;
  bed_detail_begin (detail, record, bed_record_get_text (record, "grows"));
  bed_detail_add (detail, make_figures (farm, record));
  gtk_box_append (GTK_BOX (detail), bed_words_new (words, "detail-line"));
  bed_detail_add (detail, bed_facts_new (farm, record));
  return TRUE;
}
