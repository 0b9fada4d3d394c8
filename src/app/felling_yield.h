#pragma once

#include "model/farm.h"

G_BEGIN_DECLS

/* What the trees of a felling give in bolts, by science/tree.h. No GTK. */
typedef struct
{
  int per_tree;
  gint64 all;       /* of all its trees */
  gint64 length_um; /* of a bolt */
  gint64 top_um;    /* down to this diameter */
} BedFellingYield;

/* FALSE when diameter, height or the number of trees is not known, or the wood has no equation;
 * the message says which. */
gboolean bed_felling_yield_init (BedFellingYield *yield, BedFarm *farm, BedRecord *felling,
                                 GError **error);

G_END_DECLS
