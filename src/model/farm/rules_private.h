#pragma once

#include "model/farm/rules.h"
#include <sqlite3.h>

/* The files of the rules among themselves. */

/* An error at @field. */
void bed_rules_add (GPtrArray *faults, BedRecord *record, const char *field, const char *format,
                    ...) G_GNUC_PRINTF (4, 5);

/* Asks @sql about @record (?1 is its id) and adds a fault for each row; {1} {2}… of @message
 * are the row's columns. */
typedef struct
{
  BedFaultSeverity severity;
  const char *field;
  const char *sql;
  const char *message; /* N_() */
  gboolean between;    /* see BedFault */
  const char *sum_of;  /* reference whose records are added up: the answer is the same for all of
                          them, and costs as much as they are many */
  gboolean referred;   /* by another end of the pair: while both are new, that one is asked */
  const char *of_all;  /* the ids it finds something at, from ?1 to ?2; NULL: by @sql for each */
  const char *only_if; /* static; of the whole farm, where many are asked about: while it answers
                          0, the rule finds nothing */
} BedRuleQuestion;

void bed_rules_ask (BedFarm *farm, BedRecord *record, const BedRuleQuestion *question,
                    GPtrArray *faults);

/* A log's volume in um3, as a cylinder of its thicker end. Masses are mg: a thousand kg/m3 are
 * 1e-9 mg/um3. */
#define BED_RULES_VOLUME                                                                           \
  "(0.7854 * l.length * max (l.small_diameter, coalesce (l.large_diameter, 0))"                    \
  " * max (l.small_diameter, coalesce (l.large_diameter, 0)))"

/* Walls of wood cells: S. V. Glass, S. L. Zelinka, Wood Handbook (FPL-GTR-190), Forest Products
 * Laboratory, 2010, chapter 4, maximum moisture content: 1.54 times water. Wood with all its
 * hollows full weighs less than that. Soaked through, a wood of
 * basic density 0.7 weighs 0.7 + 1 - 0.7 / 1.54 = 1.25 times water (own arithmetic). */
#define BED_RULES_HEAVIEST "1.54e-9 * " BED_RULES_VOLUME
#define BED_RULES_SOAKED "1.25e-9 * " BED_RULES_VOLUME

/* A round begins to ask about all records of @kind with an id in the span at once; then each
 * question of the kind follows, whose @sql must be static. */
void bed_rules_round_begin (BedRulesRound *round, BedFarm *farm, BedKind kind,
                            const BedRulesSpan *span);
void bed_rules_round_ask (BedRulesRound *round, BedFarm *farm, BedKind kind,
                          const BedRuleQuestion *question);

/* The pairs that records of @kind are an end of. */
void bed_rules_gather_pairs (BedFarm *farm, BedKind kind, BedRulesRound *round);

/* Nothing was found at it when all were asked about. @round may be NULL, here and below. */
gboolean bed_rules_round_is_well (const BedRulesRound *round, BedRecord *record);

/* That this need not be asked of this one; else it counts as asked now. */
gboolean bed_rules_round_spares (BedRulesRound *round, BedRecord *record,
                                 const BedRuleQuestion *question);

/* The other end of the pair is asked. */
gboolean bed_rules_round_leaves_out (const BedRulesRound *round, const BedRuleQuestion *question);

/* Every pair of records that @record is an end of. */
void bed_rules_check_pairs (BedFarm *farm, BedRecord *record, BedRulesRound *round,
                            GPtrArray *faults);
