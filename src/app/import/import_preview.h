#pragma once

#include "model/notebook/notebook.h"

/* A row of theirs beside what becomes of it. */
typedef struct
{
  guint line;
  char *theirs; /* its cells */
  char *ours;   /* the records it makes, in words */
} BedImportPreview;

/* The first rows, and those of the first part that a question was about (element BedImportPreview).
 * @rows: the sheet once more, from its beginning. No question may be open. */
GPtrArray *bed_import_preview_new (BedFarm *farm, BedNotebook *notebook, BedRows *rows);
