#include <glib/gi18n-lib.h>

#include "print/label/label.h"

void
bed_labels_add_stack_sign (BedLabels *self, const BedStackSign *sign)
{
  g_return_if_fail (self != NULL && sign != NULL && sign->name != NULL);
  g_autofree char *owner = g_strdup_printf (_ ("the sign of the stack “%s”"), sign->name);
  BedLabel label = { .owner = owner, .headline = sign->name, .qr = sign->name };

  bed_label_add_line (&label, &(BedLabelLine){ NULL, sign->batches, BED_WEIGHT_BOLD, 0 });
  bed_label_add_line (&label, &(BedLabelLine){ NULL, sign->count, BED_WEIGHT_REGULAR, 2 });
  bed_label_add_line (&label, &(BedLabelLine){ NULL, sign->kind, BED_WEIGHT_REGULAR, 1 });
  bed_label_add_line (&label, &(BedLabelLine){ NULL, sign->farm, BED_WEIGHT_REGULAR, 3 });
  bed_labels_add (self, &label);
}
