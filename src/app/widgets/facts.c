#include "app/widgets/facts.h"

#include <glib/gi18n.h>

#include "app/widgets/build.h"
#include "app/widgets/wrap_layout.h"
#include "model/farm/kinds.h"
#include "model/farm/value.h"

GtkWidget *
bed_facts_box_new (void)
{
  return bed_columns_new (200, 3);
}

void
bed_facts_add (GtkWidget *box, const char *label, const char *value)
{
  GtkWidget *said = bed_words_new (value, "numeric");

  gtk_label_set_selectable (GTK_LABEL (said), TRUE);
  /* Selectable text would be a stop of Tab and show a cursor. */
  gtk_widget_set_can_focus (said, FALSE);
  gtk_box_append (
      GTK_BOX (box),
      bed_styled (bed_column_new (0, bed_line_new (label, "fact-label"), said, NULL), "fact"));
}

GtkWidget *
bed_facts_new (BedFarm *farm, BedRecord *record)
{
  const BedKindInfo *info = bed_kind_get_info (bed_record_get_kind (record));
  GtkWidget *box = bed_facts_box_new ();

  for (guint i = 0; i < info->n_fields; i++)
    if (bed_record_has (record, info->fields[i].name)
        && g_strcmp0 (info->fields[i].name, info->key) != 0)
      {
        g_autofree char *value = bed_value_dup_sentence (farm, record, info->fields[i].name);

        bed_facts_add (box, _ (info->fields[i].label), value);
      }
  return box;
}
