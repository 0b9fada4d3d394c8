#pragma once

#include "model/season/trace.h"

/* What is called back when something is wrong with a spawn lot, felling, batch, log, soak, water,
 * area, day of picking or lot: every buyer and what is still in store, and where it all came from.
 * It errs towards more: a log may have given to whatever was picked from its stack while it lay
 * there, the day it left included, and from its batch before it was retired. */

typedef struct
{
  BedKind kind;     /* SPAWN, FELLING, BATCH, LOG, SOAK, AREA, LOT; PICK: a day */
  gint64 id;        /* 0 of a day, and of a water */
  const char *text; /* PICK: YYYY-MM-DD; SOAK without id: the key of a water; borrowed */
} BedRecallOf;

/* Whether there is a recall of one record of that kind. */
gboolean bed_recall_is_of (BedKind kind);

/* What @text means, a code, a day or a word for a water: @day (transfer full) is what of->text
 * points to. FALSE with BED_FARM_ERROR_NOT_FOUND. */
gboolean bed_recall_find (BedFarm *farm, const char *text, BedRecallOf *of, char **day,
                          GError **error);

/* "spawn lot S26-1", "picked on 12 May 2026": (transfer full). */
char *bed_recall_dup_words (BedFarm *farm, const BedRecallOf *of);

/* The steps, the same for all kinds, the mass balance last: the one after @last, NULL for the
 * first; NULL when there is none. Their kind says nothing. */
const BedTraceStep *bed_recall_next (const BedTraceStep *last);

/* The rows of a step: one statement whatever the farm holds. */
BedQuery *bed_recall_ask (BedFarm *farm, const BedRecallOf *of, const BedTraceStep *step);
