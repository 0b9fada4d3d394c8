#pragma once

#include "deed.h"

/* What a farm holds after so many steps of a deed: [0] before the first (NULL: no farm). */
typedef struct
{
  const Deed *deed;
  char **digests;
  GHashTable *copies; /* what copies may hold besides, as digests; empty at first */
  GHashTable *sound;  /* digests of recovered files that were judged already */
} Judge;

Judge *judge_new (const Deed *deed);
void judge_free (Judge *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Judge, judge_free)

/* What is wrong with the folder of @site after a crash in the step after @acked steps had been
 * said to be done; NULL when nothing is. Opens the farm as a person would. */
char *judge_site (Judge *self, const char *folder, guint acked);

/* What check finds; NULL when nothing. */
char *judge_soundness (BedFarm *farm);
