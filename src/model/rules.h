#pragma once

#include "model/edit.h"

G_BEGIN_DECLS

/* The rules of the farm. For BedEdit, inside its transaction. Found faults are
 * added to @faults (element BedFault). */

/* Keeps a reference to @record (may be NULL), takes over @message; @field is static. */
BedFault *bed_fault_new (BedFaultSeverity severity, BedRecord *record, const char *field,
                         char *message);
void bed_fault_free (BedFault *fault);

/* What can be seen in the record alone: required fields, limits, choices, dates
 * that are dates and not in the future, texts of one line and no strange characters. */
void bed_rules_check_fields (BedFarm *farm, BedRecord *record, GPtrArray *faults);

/* What an earlier Bedlog, or a strange hand, let in must not hold up other work: of the faults
 * from @from on, those that this edit neither made nor touched become warnings. @before is the
 * record as it is stored; NULL: it is new, and nothing is spared. */
typedef enum
{
  BED_SPARE_FIELDS, /* at fields that are as they were */
  BED_SPARE_WORDS,  /* all, when texts alone differ: rules compare no texts */
} BedSpare;

void bed_rules_spare (BedRecord *before, BedRecord *record, BedSpare what, GPtrArray *faults,
                      guint from);

/* What must hold before it is written: nothing else has its name or its day. */
void bed_rules_check_unique (BedFarm *farm, BedRecord *record, GPtrArray *faults);

/* What must hold once all of an edit is written: references lead somewhere,
 * dates are in order, nothing is in two places or used up twice. @asked (NULL: ask all): what
 * was asked of records before this one and is the same for it, such as a sum over all picks of
 * a log; kept over the records of one edit, bed_rules_asked_new(), g_hash_table_unref(). */
void bed_rules_check_written (BedFarm *farm, BedRecord *record, GHashTable *asked,
                              GPtrArray *faults);
GHashTable *bed_rules_asked_new (void);

/* What @before took part in must hold without it: @after (NULL: removed) is what became of it. */
void bed_rules_check_left (BedFarm *farm, BedRecord *before, BedRecord *after, GPtrArray *faults);

/* Takes out what is between two records and said at both. */
void bed_rules_say_once (GPtrArray *faults);

/* Nothing refers to a record that is gone. @name is what people called it. */
void bed_rules_check_removed (BedFarm *farm, BedKind kind, gint64 id, const char *name,
                              GPtrArray *faults);

G_END_DECLS
