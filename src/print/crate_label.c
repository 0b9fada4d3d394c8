#include <glib/gi18n-lib.h>

#include "print/label.h"

/* Mushroom, mass and lot are what a buyer and a recall need: they are never left out. */
void
bed_labels_add_crate_label (BedLabels *self, const BedCrateLabel *crate)
{
  g_return_if_fail (self != NULL && crate != NULL && crate->lot != NULL);
  g_autofree char *owner = g_strdup_printf (_ ("the crate label of lot %s"), crate->lot);
  const char *name = crate->mushroom && *crate->mushroom ? crate->mushroom : crate->lot;
  g_autofree char *amount = crate->price && *crate->price
                              ? g_strdup_printf ("%s · %s", crate->mass, crate->price)
                              : g_strdup (crate->mass);
  BedLabel label = { .owner = owner, .headline = name, .qr = crate->lot };

  bed_label_add_line (&label, &(BedLabelLine){ NULL, amount, BED_WEIGHT_BOLD, 0 });
  bed_label_add_line (&label, &(BedLabelLine){ _ ("Lot"), crate->lot, BED_WEIGHT_BOLD, 0 });
  bed_label_add_line (&label,
                      &(BedLabelLine){ _ ("Picked"), crate->picked, BED_WEIGHT_REGULAR, 2 });
  bed_label_add_line (&label,
                      &(BedLabelLine){ _ ("Packed"), crate->packed, BED_WEIGHT_REGULAR, 4 });
  bed_label_add_line (&label, &(BedLabelLine){ NULL, crate->keep, BED_WEIGHT_BOLD, 1 });
  bed_label_add_line (&label, &(BedLabelLine){ NULL, crate->farm, BED_WEIGHT_REGULAR, 3 });
  bed_labels_add (self, &label);
}
