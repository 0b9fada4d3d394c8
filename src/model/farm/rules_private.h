#pragma once

#include "model/farm/rules.h"
#include <sqlite3.h>

/* The three files of the rules among themselves. */

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

/* Every pair of records that @record is an end of. */
void bed_rules_check_pairs (BedFarm *farm, BedRecord *record, BedRulesRound *round,
                            GPtrArray *faults);
