#include <glib/gi18n-lib.h>

#include "print/label/label.h"

/* "3.00 kg · 36.00 USD"; either may be missing. */
static char *
join_amount (const char *mass, const char *price)
{
  gboolean both = mass && *mass && price && *price;

  return g_strconcat (mass ? mass : "", both ? " · " : "", price ? price : "", NULL);
}

/* Public */

/* Mushroom, mass and lot are what a buyer and a recall need: they are never left out. */
void
bed_labels_add_crate_label (BedLabels *self, const BedCrateLabel *crate)
{
  g_return_if_fail (self != NULL && crate != NULL && crate->lot != NULL);
  g_autofree char *owner = g_strdup_printf (_ ("the crate label of lot %s"), crate->lot);
  g_autofree char *amount = join_amount (crate->mass, crate->price);
  const char *name = crate->mushroom && *crate->mushroom ? crate->mushroom : crate->lot;
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
