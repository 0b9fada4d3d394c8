#pragma once

#include "model/farm/farm.h"

/* What is wrong with a record, or with an edit of several. */

typedef enum
{
  BED_FAULT_ERROR,   /* stops the commit */
  BED_FAULT_WARNING, /* said, and written all the same */
} BedFaultSeverity;

typedef struct
{
  BedFaultSeverity severity;
  BedFarmError code; /* INVALID, but for a record that met another's work: see bed_edit_commit() */
  BedRecord *record; /* owned; NULL for a removal */
  const char *field; /* field name, static, or NULL when it is about the whole record */
  char *message;     /* a sentence: what is wrong, what would be right */
  gboolean between;  /* two records, and the sentence names both */
} BedFault;

/* Keeps a reference to @record (may be NULL), takes over @message; @field is static. */
BedFault *bed_fault_new (BedFaultSeverity severity, BedRecord *record, const char *field,
                         char *message);
void bed_fault_free (BedFault *fault);

/* An array that frees them. */
GPtrArray *bed_faults_new (void);

/* The first of them from @from on that is no warning, or NULL. */
const BedFault *bed_faults_find_error (GPtrArray *faults, guint from);
