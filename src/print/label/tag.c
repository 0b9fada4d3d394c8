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
