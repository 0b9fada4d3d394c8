#include <glib/gi18n-lib.h>
#include <string.h>

#include "print/label/label.h"

/* The check character tells nothing to the eye: it is set in regular weight, so
 * that batch and number stand out. */
static void
split_code (const char *code, char **head, char **tail)
{
  const char *last = strrchr (code, '-');
  gboolean checked = last && strchr (code, '-') != last;

  *head = checked ? g_strndup (code, last - code) : g_strdup (code);
  *tail = checked ? g_strdup (last) : NULL;
}

/* "3.00 kg · 36.00 USD"; either may be missing. */
static char *
join_amount (const char *mass, const char *price)
{
  gboolean both = mass && *mass && price && *price;

  return g_strconcat (mass ? mass : "", both ? " · " : "", price ? price : "", NULL);
}

/* Public */

void
bed_labels_add_log_tag (BedLabels *self, const BedLogTag *tag)
{
  g_return_if_fail (self != NULL && tag != NULL && tag->code != NULL);
  g_autofree char *owner = g_strdup_printf (_ ("the log tag %s"), tag->code);
  g_autofree char *head = NULL, *tail = NULL;

  split_code (tag->code, &head, &tail);
  BedLabel label = { .owner = owner, .headline = head, .tail = tail, .qr = tag->code };
  bed_label_add_line (&label, &(BedLabelLine){ NULL, tag->strain, BED_WEIGHT_BOLD, 1 });
  bed_label_add_line (&label, &(BedLabelLine){ NULL, tag->wood, BED_WEIGHT_REGULAR, 2 });
  bed_label_add_line (&label, &(BedLabelLine){ NULL, tag->date, BED_WEIGHT_REGULAR, 3 });
  bed_labels_add (self, &label);
}

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
