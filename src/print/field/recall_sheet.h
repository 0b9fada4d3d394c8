#pragma once

#include "model/season/recall.h"
#include "print/page/document.h"

/* A recall on paper: who has it and what is in store first, where it came from, the mass balance
 * last. Where that takes more than a page the first has it in short, down to the balance, and each
 * sale, lot and soak is on those after it. NULL with the farm's error. */
BedDocument *bed_recall_sheet_new (BedFarm *farm, const BedRecallOf *of, const BedPaper *paper,
                                   GError **error);
