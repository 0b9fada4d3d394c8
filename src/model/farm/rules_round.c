/* Many records asked about at once. Asked one by one, a season's picks take a statement for each
 * rule and each pick; most of them find nothing. */
#include "model/farm/rules_private.h"

#include <string.h>

#include "model/farm/kinds.h"
#include "model/farm/query.h"

typedef struct
{
  const char *sql; /* of a rule, so the pointer tells them apart */
  gint64 id;
} Asked;

/* A kind whose records were asked about all at once. */
typedef struct
{
  BedRulesSpan span;
  GHashTable *found;  /* sql -> set of the ids it finds something at; without it: nowhere */
  GHashTable *faulty; /* ids that anything was found at, a reference that leads nowhere too */
} Gathered;

struct _BedRulesRound
{
  GHashTable *asked; /* set of Asked */
  Gathered *gathered[BED_N_KINDS];
  GHashTable *any; /* only_if of a question -> what it answered, plus 1 */
  BedRulesScope scope;
};

static guint
asked_hash (gconstpointer key)
{
  const Asked *asked = key;

  return g_direct_hash (asked->sql) ^ g_int64_hash (&asked->id);
}

static gboolean
asked_equal (gconstpointer a, gconstpointer b)
{
  const Asked *one = a, *other = b;

  return one->sql == other->sql && one->id == other->id;
}

BedRulesRound *
bed_rules_round_new (BedRulesScope scope)
{
  BedRulesRound *round = g_new0 (BedRulesRound, 1);

  round->asked = g_hash_table_new_full (asked_hash, asked_equal, g_free, NULL);
  round->any = g_hash_table_new (g_str_hash, g_str_equal);
  round->scope = scope;
  return round;
}

static void
gathered_free (Gathered *gathered)
{
  g_hash_table_unref (gathered->found);
  g_hash_table_unref (gathered->faulty);
  g_free (gathered);
}

void
bed_rules_round_free (BedRulesRound *round)
{
  if (!round)
    return;
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    g_clear_pointer (&round->gathered[kind], gathered_free);
  g_hash_table_unref (round->asked);
  g_hash_table_unref (round->any);
  g_free (round);
}

/* --- all at once ------------------------------------------------------------------- */

/* The question of one record, ?1, put to each that @id names. */
static char *
dup_for_each (const char *sql, const char *id)
{
  g_auto (GStrv) parts = g_strsplit (sql, "?1", -1);

  return g_strjoinv (id, parts);
}

#define SUMS                                                                                       \
  "WITH f AS MATERIALIZED (SELECT min (id) AS id, \"%s\" AS sum FROM \"%s\""                       \
  " WHERE id BETWEEN ?1 AND ?2 AND \"%s\" IS NOT NULL GROUP BY 2) "

/* The records of a sum are found where the first of them is. */
static char *
dup_of_sums (const char *table, const BedRuleQuestion *question)
{
  const char *sum = question->sum_of;
  g_autofree char *each = dup_for_each (question->sql, "f.id");

  return g_strdup_printf (SUMS "SELECT w.id FROM \"%s\" w WHERE w.id BETWEEN ?1 AND ?2"
                               " AND w.\"%s\" IN (SELECT f.sum FROM f WHERE EXISTS (%s))",
                          sum, table, sum, table, sum, each);
}

/* Whether there is one such sum. */
static char *
dup_any_sum (const char *table, const BedRuleQuestion *question)
{
  const char *sum = question->sum_of;
  g_autofree char *each = dup_for_each (question->sql, "f.id");

  return g_strdup_printf (SUMS "SELECT 1 FROM f WHERE EXISTS (%s) LIMIT 1", sum, table, sum, each);
}

/* A question about the row alone is asked of all of them in one pass; NULL: it is about more. */
static char *
dup_of_rows (const char *table, const char *sql)
{
  g_autofree char *of_row = g_strdup_printf (" FROM %s WHERE id = ?1 AND ", table);
  const char *at = strstr (sql, " FROM ");
  const char *rest = at && g_str_has_prefix (at, of_row) ? at + strlen (of_row) : NULL;

  if (!rest || strstr (rest, "?1") || strstr (rest, "SELECT"))
    return NULL;
  return g_strdup_printf ("SELECT id FROM %s WHERE id BETWEEN ?1 AND ?2 AND %s", table, rest);
}

static char *
dup_of_all (const char *table, const BedRuleQuestion *question)
{
  char *of_rows = dup_of_rows (table, question->sql);

  if (of_rows)
    return of_rows;
  if (question->sum_of)
    return dup_of_sums (table, question);
  if (question->of_all)
    return g_strdup (question->of_all);
  g_autofree char *each = dup_for_each (question->sql, "w.id");
  return g_strdup_printf ("SELECT w.id FROM \"%s\" w WHERE w.id BETWEEN ?1 AND ?2"
                          " AND EXISTS (%s)",
                          table, each);
}

/* Fewer are asked about themselves sooner than the whole farm is. */
#define WORTH_THE_WHOLE 2000

/* FALSE when the whole farm has nothing that the question could find; asked once a round. */
static gboolean
may_find (BedRulesRound *round, BedFarm *farm, const Gathered *of, const BedRuleQuestion *question)
{
  const char *sql = question->only_if;

  if (!sql)
    return TRUE;
  int answered = GPOINTER_TO_INT (g_hash_table_lookup (round->any, sql));
  if (!answered && of->span.n < WORTH_THE_WHOLE)
    return TRUE;
  if (!answered)
    {
      gint64 any = 0;
      answered = 1 + (!bed_query_one (farm, sql, 0, &any, NULL) || any);
      g_hash_table_insert (round->any, (gpointer) sql, GINT_TO_POINTER (answered));
    }
  return answered == 2;
}

static BedQuery *
ask_span (BedFarm *farm, const char *sql, const BedRulesSpan *span)
{
  BedQuery *q = bed_query_new (farm, sql);

  bed_query_bind_int (q, 1, span->first);
  bed_query_bind_int (q, 2, span->last);
  return q;
}

static gboolean
has_any_sum (BedFarm *farm, BedKind kind, const Gathered *of, const BedRuleQuestion *question)
{
  g_autofree char *sql = dup_any_sum (bed_kind_get_info (kind)->name, question);
  g_autoptr (BedQuery) q = ask_span (farm, sql, &of->span);
  gboolean any = bed_query_next (q);

  return !bed_query_finish (q, NULL) || any;
}

void
bed_rules_round_ask (BedRulesRound *round, BedFarm *farm, BedKind kind,
                     const BedRuleQuestion *question)
{
  Gathered *of = round->gathered[kind];

  if (!may_find (round, farm, of, question)
      || (question->sum_of && !has_any_sum (farm, kind, of, question)))
    return;
  g_autofree char *sql = dup_of_all (bed_kind_get_info (kind)->name, question);
  g_autoptr (BedQuery) q = ask_span (farm, sql, &of->span);
  g_autoptr (GHashTable) ids = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  while (bed_query_next (q))
    {
      gint64 id = bed_query_int (q, 0);
      g_hash_table_add (ids, g_memdup2 (&id, sizeof id));
      g_hash_table_add (of->faulty, g_memdup2 (&id, sizeof id));
    }
  /* A question that failed is the farm's trouble, which the edit looks at. */
  if (bed_query_finish (q, NULL) && g_hash_table_size (ids) > 0)
    g_hash_table_insert (of->found, (gpointer) question->sql, g_steal_pointer (&ids));
}

/* Those whose reference in @field leads nowhere. */
static void
find_lost (BedFarm *farm, BedKind kind, const BedField *field, const Gathered *of)
{
  g_autofree char *sql
      = g_strdup_printf ("SELECT id FROM \"%s\" WHERE id BETWEEN ?1 AND ?2 AND \"%s\" IS NOT NULL"
                         " AND \"%s\" NOT IN (SELECT id FROM \"%s\")",
                         bed_kind_get_info (kind)->name, field->name, field->name,
                         bed_kind_get_info (field->refers)->name);
  g_autoptr (BedQuery) q = ask_span (farm, sql, &of->span);

  while (bed_query_next (q))
    {
      gint64 id = bed_query_int (q, 0);
      g_hash_table_add (of->faulty, g_memdup2 (&id, sizeof id));
    }
  G_GNUC_UNUSED gboolean asked = bed_query_finish (q, NULL); /* else the farm's trouble */
}

void
bed_rules_round_begin (BedRulesRound *round, BedFarm *farm, BedKind kind, const BedRulesSpan *span)
{
  const BedKindInfo *info = bed_kind_get_info (kind);
  Gathered *of = g_new0 (Gathered, 1);

  of->span = *span;
  of->found = g_hash_table_new_full (g_direct_hash, g_direct_equal, NULL,
                                     (GDestroyNotify) g_hash_table_unref);
  of->faulty = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  for (guint i = 0; i < info->n_fields; i++)
    if (info->fields[i].type == BED_FIELD_REFERENCE)
      find_lost (farm, kind, &info->fields[i], of);
  g_clear_pointer (&round->gathered[kind], gathered_free);
  round->gathered[kind] = of;
}

/* --- one by one -------------------------------------------------------------------- */

static const Gathered *
gathered_with (const BedRulesRound *round, BedRecord *record)
{
  const Gathered *of = round ? round->gathered[bed_record_get_kind (record)] : NULL;
  gint64 id = bed_record_get_id (record);

  return of && id >= of->span.first && id <= of->span.last ? of : NULL;
}

gboolean
bed_rules_round_is_well (const BedRulesRound *round, BedRecord *record)
{
  const Gathered *of = gathered_with (round, record);
  gint64 id = bed_record_get_id (record);

  return of && !g_hash_table_contains (of->faulty, &id);
}

static int
by_number (gconstpointer a, gconstpointer b)
{
  gint64 one = *(const gint64 *) a, other = *(const gint64 *) b;

  return one < other ? -1 : one > other;
}

GArray *
bed_rules_round_dup_found (const BedRulesRound *round, BedKind kind)
{
  const Gathered *of = round->gathered[kind];
  GArray *ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  GHashTableIter iter;
  gpointer id;

  if (!of)
    return ids;
  g_hash_table_iter_init (&iter, of->faulty);
  while (g_hash_table_iter_next (&iter, &id, NULL))
    g_array_append_vals (ids, id, 1);
  g_array_sort (ids, by_number);
  return ids;
}

gboolean
bed_rules_round_leaves_out (const BedRulesRound *round, const BedRuleQuestion *question)
{
  return round && round->scope == BED_RULES_ALL_NEW && question->referred;
}

gboolean
bed_rules_round_spares (BedRulesRound *round, BedRecord *record, const BedRuleQuestion *question)
{
  const Gathered *of = gathered_with (round, record);
  gint64 id = bed_record_get_id (record);

  if (!round)
    return FALSE;
  if (bed_rules_round_leaves_out (round, question))
    return TRUE;
  if (of)
    {
      GHashTable *ids = g_hash_table_lookup (of->found, question->sql);
      if (!ids || !g_hash_table_contains (ids, &id))
        return TRUE;
    }
  if (!question->sum_of || !bed_record_has (record, question->sum_of))
    return FALSE;
  Asked key = { question->sql, bed_record_get_int (record, question->sum_of) };
  return !g_hash_table_add (round->asked, g_memdup2 (&key, sizeof key));
}
