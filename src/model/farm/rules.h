#pragma once

#include "model/farm/fault.h"

/* The rules of the farm. For BedEdit, inside its transaction. Found faults are
 * added to @faults (element BedFault). */

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
 * dates are in order, nothing is in two places or used up twice. @round (NULL: ask all): what
 * need not be asked of @record, because it was asked of another before, or will be. */
typedef struct _BedRulesRound BedRulesRound;

void bed_rules_check_written (BedFarm *farm, BedRecord *record, BedRulesRound *round,
                              GPtrArray *faults);

/* Records asked one after the other: what is the same for many, such as a sum over all picks of a
 * log, is asked once. */
typedef enum
{
  BED_RULES_ANY,
  BED_RULES_ALL_NEW, /* nothing refers to any of them but others of the round, so what is between
                        two is asked at one end only; where there is a fault, a round of ANY says
                        it at both */
} BedRulesScope;

BedRulesRound *bed_rules_round_new (BedRulesScope scope);
void bed_rules_round_free (BedRulesRound *round);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedRulesRound, bed_rules_round_free)

/* Asks about all records of @kind with ids from @first to @last at once, so that
 * bed_rules_check_written() asks of each only what it is known to break. Worth it for many; they
 * are written, and none is changed until the round is over. */
typedef struct
{
  gint64 first, last;
  guint n; /* how many are asked about */
} BedRulesSpan;

void bed_rules_gather (BedFarm *farm, BedKind kind, const BedRulesSpan *span, BedRulesRound *round);

/* The ids (gint64, ascending) of those that any rule found something at; owned by the caller. */
GArray *bed_rules_round_dup_found (const BedRulesRound *round, BedKind kind);

/* What @before took part in must hold without it: @after (NULL: removed) is what became of it. */
void bed_rules_check_left (BedFarm *farm, BedRecord *before, BedRecord *after, GPtrArray *faults);

/* Takes out what is between two records and said at both. */
void bed_rules_say_once (GPtrArray *faults);

/* Nothing refers to a record that is gone. @name is what people called it. */
void bed_rules_check_removed (BedFarm *farm, BedKind kind, gint64 id, const char *name,
                              GPtrArray *faults);
