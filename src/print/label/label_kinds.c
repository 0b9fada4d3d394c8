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

/* What a crate weighs and which lot it is are read across a stall, points: common practice, no
 * source. */
#define CRATE_LEAST 10.0

static void
add (BedLabel *label, guint rank, const char *what, const char *text)
{
  bed_label_add_line (label, &(BedLabelLine){ .what = what, .text = text, .rank = rank });
}

static void
add_bold (BedLabel *label, guint rank, const char *what, const char *text)
{
  bed_label_add_line (
      label,
      &(BedLabelLine){ .what = what, .text = text, .rank = rank, .weight = BED_WEIGHT_BOLD });
}

static void
add_named (BedLabel *label, guint rank, const char *what, const char *caption, const char *text)
{
  bed_label_add_line (
      label, &(BedLabelLine){ .what = what, .caption = caption, .text = text, .rank = rank });
}

/* Public */

void
bed_labels_add_log_tag (BedLabels *self, const BedLogTag *tag)
{
  g_return_if_fail (self != NULL && tag != NULL && tag->code != NULL);
  g_autofree char *owner = g_strdup_printf (_ ("the log tag %s"), tag->code);
  g_autofree char *head = NULL, *tail = NULL;

  split_code (tag->code, &head, &tail);
  BedLabel label
      = { .use = BED_LABEL_TAG, .owner = owner, .headline = head, .tail = tail, .qr = tag->code };
  add_bold (&label, 1, _ ("the strain"), tag->strain);
  add (&label, 2, _ ("the wood"), tag->wood);
  add (&label, 3, _ ("the day of inoculation"), tag->date);
  bed_labels_add (self, &label);
}

void
bed_labels_add_stack_sign (BedLabels *self, const BedStackSign *sign)
{
  g_return_if_fail (self != NULL && sign != NULL && sign->name != NULL);
  g_autofree char *owner = g_strdup_printf (_ ("the sign of the stack “%s”"), sign->name);
  BedLabel label
      = { .use = BED_LABEL_SIGN, .owner = owner, .headline = sign->name, .qr = sign->name };

  add_bold (&label, 0, NULL, sign->mushroom);
  add_bold (&label, 0, NULL, sign->strain);
  add (&label, 1, _ ("the wood"), sign->wood);
  add_named (&label, 1, _ ("the day of inoculation"), _ ("Inoculated"), sign->inoculated);
  add_named (&label, 2, _ ("the batches"), _ ("Batch"), sign->batches);
  add_named (&label, 1, _ ("the rotation group"), _ ("Soak group"), sign->group);
  add (&label, 3, _ ("the count of logs"), sign->count);
  add (&label, 4, _ ("the farm"), sign->farm);
  bed_labels_add (self, &label);
}

/* What a buyer, an inspector and a recall need is never left out: mushroom, mass, lot, farm. */
void
bed_labels_add_crate_label (BedLabels *self, const BedCrateLabel *crate)
{
  g_return_if_fail (self != NULL && crate != NULL && crate->lot != NULL);
  g_autofree char *owner = g_strdup_printf (_ ("the crate label of lot %s"), crate->lot);
  const char *name = crate->mushroom && *crate->mushroom ? crate->mushroom : crate->lot;
  BedLabel label = { .use = BED_LABEL_CRATE, .owner = owner, .headline = name, .qr = crate->lot };

  add (&label, 4, _ ("the Latin name"), crate->latin);
  bed_label_add_line (&label, &(BedLabelLine){ .caption = _ ("Net"),
                                               .text = crate->mass,
                                               .weight = BED_WEIGHT_BOLD,
                                               .least = CRATE_LEAST,
                                               .scale = 1.4 });
  bed_label_add_line (&label, &(BedLabelLine){ .caption = _ ("Lot"),
                                               .text = crate->lot,
                                               .weight = BED_WEIGHT_BOLD,
                                               .least = CRATE_LEAST,
                                               .scale = 1.4 });
  add_named (&label, 2, _ ("the day of picking"), C_ ("day", "Picked"), crate->picked);
  add_named (&label, 3, _ ("the day of packing"), _ ("Packed"), crate->packed);
  add_bold (&label, 0, NULL, crate->keep);
  add_bold (&label, 0, NULL, crate->farm);
  add (&label, 1, _ ("the address"), crate->address);
  add (&label, 5, _ ("the contact"), crate->contact);
  add (&label, 0, NULL, crate->organic);
  add_bold (&label, 1, _ ("the price"), crate->price);
  bed_labels_add (self, &label);
}

void
bed_labels_add_spawn_label (BedLabels *self, const BedSpawnLabel *spawn)
{
  g_return_if_fail (self != NULL && spawn != NULL && spawn->code != NULL);
  g_autofree char *owner = g_strdup_printf (_ ("the label of spawn lot %s"), spawn->code);
  const char *name = spawn->strain && *spawn->strain ? spawn->strain : spawn->code;
  BedLabel label = { .use = BED_LABEL_SPAWN, .owner = owner, .headline = name, .qr = spawn->code };

  bed_label_add_line (
      &label,
      &(BedLabelLine){ .caption = _ ("Lot"), .text = spawn->code, .weight = BED_WEIGHT_BOLD });
  bed_label_add_line (&label, &(BedLabelLine){ .what = _ ("the day to use it by"),
                                               .caption = _ ("Use by"),
                                               .text = spawn->use_by,
                                               .weight = BED_WEIGHT_BOLD,
                                               .rank = 1 });
  add (&label, 3, _ ("the form"), spawn->form);
  add (&label, 4, _ ("the quantity"), spawn->quantity);
  add (&label, 5, _ ("the mushroom"), spawn->mushroom);
  add (&label, 2, _ ("that it is organic"), spawn->organic);
  add_named (&label, 2, _ ("the supplier"), _ ("From"), spawn->supplier);
  add_named (&label, 2, _ ("the supplier's lot"), _ ("Their lot"), spawn->supplier_lot);
  add_named (&label, 6, _ ("the day it came"), _ ("Received"), spawn->received);
  bed_labels_add (self, &label);
}
