#include "science/apportion.h"

#include "science/argument.h"

typedef unsigned __int128 Wide;

typedef struct
{
  gsize index;
  Wide remainder;
} Remainder;

/* Larger remainders first; of equal ones, the earlier weight. */
static int
compare_remainders (const void *a, const void *b)
{
  const Remainder *one = a;
  const Remainder *other = b;

  if (one->remainder != other->remainder)
    return one->remainder > other->remainder ? -1 : 1;
  return one->index < other->index ? -1 : one->index > other->index;
}

gboolean
bed_apportion (gint64 total, const guint64 *weights, gsize n_weights, gint64 *parts, GError **error)
{
  g_return_val_if_fail (n_weights == 0 || (weights != NULL && parts != NULL), FALSE);
  /* -G_MININT64 does not fit a gint64, so the size of the total is unsigned. */
  guint64 size = total < 0 ? 0 - (guint64) total : (guint64) total;
  Wide sum = 0;

  for (gsize i = 0; i < n_weights; i++)
    sum += weights[i];
  if (sum == 0)
    return bed_science_refuse (error, BED_SCIENCE_ERROR_ARGUMENT,
                               "weights: there must be at least one above zero");

  g_autofree Remainder *remainders = g_new (Remainder, n_weights);
  guint64 left = size;
  for (gsize i = 0; i < n_weights; i++)
    {
      Wide product = (Wide) size * weights[i];
      guint64 share = (guint64) (product / sum);
      remainders[i] = (Remainder){ i, product % sum };
      left -= share;
      parts[i] = (gint64) share;
    }
  qsort (remainders, n_weights, sizeof *remainders, compare_remainders);
  for (gsize i = 0; i < left; i++)
    parts[remainders[i].index] = (gint64) ((guint64) parts[remainders[i].index] + 1);
  if (total < 0)
    for (gsize i = 0; i < n_weights; i++)
      parts[i] = (gint64) (0 - (guint64) parts[i]);
  return TRUE;
}
