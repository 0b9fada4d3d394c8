#pragma once

#include "model/farm/farm.h"

/* The names of the records of one kind, those stored and those an import has drafted:
 * a look-up for each of many thousand references. Of many names those met lately are held, and
 * the farm is asked for the others. For the model room only. */
typedef struct _BedCsvNames BedCsvNames;

/* Those stored now; free with bed_csv_names_free(). */
BedCsvNames *bed_csv_names_new (BedFarm *farm, BedKind kind);
void bed_csv_names_free (BedCsvNames *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedCsvNames, bed_csv_names_free)

/* 0 when there is none; ignores case as the farm does (ASCII). */
gint64 bed_csv_names_find (BedCsvNames *self, const char *name);
void bed_csv_names_add (BedCsvNames *self, const char *name, gint64 id);

/* Of a record that was given no name, and will have one when it is written. */
void bed_csv_names_add_unnamed (BedCsvNames *self);

/* All that were added are written: what is not held can be asked for. Those with an id below 0
 * are never written, and held. */
void bed_csv_names_settle (BedCsvNames *self);

/* The next of the tries to find a nearest name: who reads a thousand faults of one kind has one
 * cause to find, not a thousand. */
gboolean bed_csv_names_try (BedCsvNames *self);
