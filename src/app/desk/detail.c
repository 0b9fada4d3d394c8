#include "app/desk/detail.h"

#include "app/desk/browser.h"
#include "app/desk/recall_button.h"
#include "app/widgets/build.h"
#include "model/farm/kinds.h"

#define FARM "bed-farm"

GtkWidget *
bed_detail_new (BedFarm *farm)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  g_object_set_data_full (G_OBJECT (box), FARM, g_object_ref (farm), g_object_unref);
  return box;
}

BedFarm *
bed_detail_get_farm (GtkWidget *detail)
{
  return g_object_get_data (G_OBJECT (detail), FARM);
}

void
bed_detail_begin (GtkWidget *detail, BedRecord *record, const char *line)
{
  const char *key = bed_kind_get_info (bed_record_get_kind (record))->key;

  bed_box_clear (detail);
  gtk_box_append (GTK_BOX (detail),
                  bed_browser_head_new (bed_record_get_text (record, key), line,
                                        bed_recall_button_new (bed_record_get_kind (record),
                                                               bed_record_get_id (record))));
}

void
bed_detail_add (GtkWidget *detail, GtkWidget *content)
{
  gtk_widget_add_css_class (content, "section");
  gtk_box_append (GTK_BOX (detail), content);
}
