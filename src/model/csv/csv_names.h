#pragma once

#include "model/farm/farm.h"

/* The names of the records of one kind, those stored and those an import has drafted:
 * a look-up for each of many thousand references. For the model room only. */
typedef struct _BedCsvNames BedCsvNames;

/* Those stored now; free with bed_csv_names_free(). */
BedCsvNames *bed_csv_names_new (BedFarm *farm, BedKind kind);
void bed_csv_names_free (BedCsvNames *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedCsvNames, bed_csv_names_free)

/* 0 when there is none; ignores case as the farm does (ASCII). */
gint64 bed_csv_names_find (BedCsvNames *self, const char *name);
void bed_csv_names_add (BedCsvNames *self, const char *name, gint64 id);

/* The name within a third of the letters of @name, or NULL; borrowed. Slow over many
 * names, so after a number of calls it answers NULL: who reads a thousand faults of
 * one kind has one cause to find, not a thousand. */
const char *bed_csv_names_nearest (BedCsvNames *self, const char *name);

/* There is no batch “26B”. Did you mean “26A”? */
char *bed_csv_names_dup_missing (BedCsvNames *self, const char *name);
