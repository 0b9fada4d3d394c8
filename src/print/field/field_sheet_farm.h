#pragma once

#include "model/farm/farm.h"
#include "print/field/field_sheet_kinds.h"

/* Which sheet, about what. Ids may be 0. */
typedef struct
{
  BedPaperKind kind;
  gint64 batch;   /* inoculation, measuring, weighing, moves: its logs */
  gint64 felling; /* felling: its fields; measuring: its logs not yet in a batch */
  gint64 stack;   /* weighing, picking, moves: log by log of this stack */
  BedPaper paper;
  guint empty_rows; /* at least, after what is known; the last page is filled up */
  const char *day;  /* plan: YYYY-MM-DD; NULL: the first anything is planned for */
} BedFieldSheetRequest;

/* The field sheet with what the farm knows already. Without any subject:
 * soaking lists what the rotation (model/soak_plan.h) has in its first week with
 * anything to soak, picking the stacks soaked lately, the others are empty. NULL
 * with the farm's error. */
BedDocument *bed_field_sheet_document_for_farm (BedFarm *farm, const BedFieldSheetRequest *request,
                                                GError **error);
