#include <glib/gi18n-lib.h>

#include "print/label/label.h"

void
bed_labels_add_spawn_label (BedLabels *self, const BedSpawnLabel *spawn)
{
  g_return_if_fail (self != NULL && spawn != NULL && spawn->code != NULL);
  g_autofree char *owner = g_strdup_printf (_ ("the label of spawn lot %s"), spawn->code);
  const char *name = spawn->strain && *spawn->strain ? spawn->strain : spawn->code;
  BedLabel label = { .owner = owner, .headline = name, .qr = spawn->code };

  bed_label_add_line (&label, &(BedLabelLine){ _ ("Lot"), spawn->code, BED_WEIGHT_BOLD, 0 });
  bed_label_add_line (&label, &(BedLabelLine){ _ ("Use by"), spawn->use_by, BED_WEIGHT_BOLD, 1 });
  bed_label_add_line (&label,
                      &(BedLabelLine){ _ ("Received"), spawn->received, BED_WEIGHT_REGULAR, 5 });
  bed_label_add_line (&label, &(BedLabelLine){ NULL, spawn->mushroom, BED_WEIGHT_REGULAR, 4 });
  bed_label_add_line (&label, &(BedLabelLine){ NULL, spawn->form, BED_WEIGHT_REGULAR, 2 });
  bed_label_add_line (&label, &(BedLabelLine){ NULL, spawn->quantity, BED_WEIGHT_REGULAR, 3 });
  bed_labels_add (self, &label);
}
