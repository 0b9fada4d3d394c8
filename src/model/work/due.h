#pragma once

#include "model/farm/farm.h"

/* What is due on the farm today, what is overdue and what to be wary of, each with
 * the rule that says so and the source of the rule. Worked out anew from the
 * records each time; nothing is stored but what the grower put off (kind DUE). */

typedef enum
{
  BED_DUE_LIFT,         /* a soak is still in the tank */
  BED_DUE_PICK,         /* soaked logs are bearing */
  BED_DUE_SOAK,         /* rest or first spawn run is over */
  BED_DUE_WATER,        /* a dry spell */
  BED_DUE_WEIGH,        /* sample logs in a dry spell */
  BED_DUE_LOOK,         /* log ends during the spawn run */
  BED_DUE_INOCULATE,    /* felled bolts wait */
  BED_DUE_TASK,         /* the grower's own */
  BED_DUE_DRYING,       /* warning: a sample log lost too much */
  BED_DUE_SPAWN_DATE,   /* warning: spawn near or past its date */
  BED_DUE_NOTHING_BORN, /* warning: soaked, and nothing picked since */
  BED_DUE_N_RULES
} BedDueRuleId;

typedef struct
{
  BedDueRuleId id;
  const char *nick;    /* static; "rule:NICK" is kept in due.what when put off */
  const char *what;    /* N_(): "Soak" */
  const char *why;     /* N_(): the rule in a sentence or two */
  const char *source;  /* author, title, year; or N_("common practice, no source") */
  gboolean is_warning; /* not work with a day, but to be wary of */
} BedDueRule;

typedef enum
{
  BED_DUE_OVERDUE,
  BED_DUE_TODAY, /* its day has come, and is not over */
  BED_DUE_WEEK,  /* later in the week of bed_date_week_start() */
  BED_DUE_LATER, /* within BED_DUE_DAYS_AHEAD */
  BED_DUE_WARNING,
} BedDueState;

#define BED_DUE_DAYS_AHEAD 28

typedef struct
{
  const BedDueRule *rule; /* static */
  BedDueState state;
  char *day;     /* YYYY-MM-DD, when it is or was due */
  char *subject; /* "Crib 4 · 26A"; unique within its rule */
  char *detail;  /* translated: "rest over since 2 May" */
  BedKind kind;  /* of the record it is about */
  gint64 id;
  gint64 logs; /* it concerns; 0 when it is not about logs */
} BedDueItem;

void bed_due_item_free (BedDueItem *item);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedDueItem, bed_due_item_free)

const BedDueRule *bed_due_rule_get (BedDueRuleId id);

/* Everything that is due, element BedDueItem, by state, day and rule; (transfer full).
 * NULL and an error when the farm cannot be read. */
GPtrArray *bed_due_list (BedFarm *farm, GError **error);

/* The records that the work of @item makes, begun: a soak put in now, a pick of today,
 * a soak lifted now, a weighing, a check, a batch. (transfer full); NULL for what is not
 * recorded, and when it could not be asked (see bed_farm_end_reading()). A record of kind DUE comes
 * back with done_on set. */
BedRecord *bed_due_dup_draft (BedFarm *farm, const BedDueItem *item);

/* The logs that a soak due now would take, or the one that dries out; element gint64,
 * empty for other rules. (transfer full). */
GArray *bed_due_dup_logs (BedFarm *farm, const BedDueItem *item);

/* Puts @item off for @days from today; it can be undone like any edit. A lift cannot be
 * put off: INVALID. */
gboolean bed_due_put_off (BedFarm *farm, const BedDueItem *item, int days, GError **error);
