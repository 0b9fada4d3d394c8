/* What the rules say of all that an edit wrote. */
#include "model/farm/edit_private.h"

#include "model/farm/kinds.h"

/* Whether @item refers to a record that was refused, or to one that does. */
gboolean
bed_edit_leans (BedEdit *self, const BedEditItem *item)
{
  const BedKindInfo *info = bed_kind_get_info (item->kind);

  for (guint i = 0; i < info->n_fields; i++)
    {
      gint64 id = info->fields[i].type == BED_FIELD_REFERENCE
                      ? bed_record_get_int (item->record, info->fields[i].name)
                      : 0;
      const BedEditItem *other = id ? g_hash_table_lookup (self->by_id, &id) : NULL;
      if (id < 0 || (other && (other->refused || other->leans))
          || (self->rounds && g_hash_table_contains (self->rounds->refused, &id)))
        return TRUE;
    }
  return FALSE;
}

/* A chain of references is never longer than there are kinds: pick, log, batch. */
static void
mark_leaning (BedEdit *self)
{
  for (gboolean more = bed_faults_find_error (self->faults, 0) != NULL; more;)
    {
      more = FALSE;
      for (guint i = 0; i < self->items->len; i++)
        {
          BedEditItem *item = self->items->pdata[i];
          if (!item->record || item->leans || !bed_edit_leans (self, item))
            continue;
          item->leans = more = TRUE;
        }
    }
}

/* Fewer are asked one by one sooner. */
#define MANY 50

/* Whether the rules are asked of it as of one that is new. */
static gboolean
is_asked_as_new (const BedEditItem *item)
{
  return item->record && !item->before && !item->refused && !item->leans;
}

/* New records have ids of one span, where hardly any other lies. */
static void
gather_many (BedEdit *self, BedRulesRound *round)
{
  BedRulesSpan span[BED_N_KINDS] = { 0 };

  for (guint i = 0; i < self->items->len; i++)
    {
      const BedEditItem *item = self->items->pdata[i];
      if (!is_asked_as_new (item))
        continue;
      BedRulesSpan *of = &span[item->kind];
      of->first = of->n ? MIN (of->first, item->id) : item->id;
      of->last = of->n ? MAX (of->last, item->id) : item->id;
      of->n++;
    }
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    if (self->rounds && self->rounds->span[kind].n)
      bed_rules_gather (self->farm, kind, &self->rounds->span[kind], round);
    else if (span[kind].n >= MANY)
      bed_rules_gather (self->farm, kind, &span[kind], round);
}

/* Of the new ones of rounds, which are not in memory any more, those that something was found at.
 */
static void
ask_of_rounds (BedEdit *self, BedKind kind, BedRulesRound *round)
{
  g_autoptr (GArray) ids = bed_rules_round_dup_found (round, kind);

  for (guint i = 0; i < ids->len; i++)
    {
      /* What cannot be read is the farm's trouble, which the edit looks at. */
      g_autoptr (BedRecord) record
          = bed_farm_load (self->farm, kind, g_array_index (ids, gint64, i), NULL);
      if (record)
        bed_rules_check_written (self->farm, record, round, self->faults);
    }
}

/* Those that lean on a refused record would only echo its fault. */
static void
ask_rules (BedEdit *self, BedRulesScope scope)
{
  g_autoptr (BedRulesRound) round = bed_rules_round_new (scope);

  gather_many (self, round);
  for (guint i = 0; i < self->items->len; i++)
    {
      BedEditItem *item = self->items->pdata[i];
      guint before = self->faults->len;
      if (item->before)
        bed_rules_check_left (self->farm, item->before, item->record, self->faults);
      if (!item->record)
        bed_rules_check_removed (self->farm, item->kind, item->id, item->name, self->faults);
      else if (!item->refused && !item->leans)
        {
          /* Of a changed one the answer may be spared, and must not silence the next. */
          bed_rules_check_written (self->farm, item->record, item->before ? NULL : round,
                                   self->faults);
          bed_rules_spare (item->before, item->record, BED_SPARE_WORDS, self->faults, before);
        }
    }
  for (BedKind kind = 0; self->rounds && kind < BED_N_KINDS; kind++)
    if (self->rounds->span[kind].n)
      ask_of_rounds (self, kind, round);
}

/* Whether a fault is between two records. */
static gboolean
is_any_between (GPtrArray *faults, guint from)
{
  for (guint i = from; i < faults->len; i++)
    if (((const BedFault *) faults->pdata[i])->between)
      return TRUE;
  return FALSE;
}

/* Nothing in the farm refers to any of its records. */
static gboolean
is_all_new (BedEdit *self)
{
  if (self->rounds && !self->rounds->all_new)
    return FALSE;
  for (guint i = 0; i < self->items->len; i++)
    {
      const BedEditItem *item = self->items->pdata[i];
      if (!item->record || item->before || item->refused)
        return FALSE;
    }
  return TRUE;
}

void
bed_edit_ask_rules (BedEdit *self)
{
  guint before = self->faults->len;
  BedRulesScope scope = is_all_new (self) ? BED_RULES_ALL_NEW : BED_RULES_ANY;

  mark_leaning (self);
  ask_rules (self, scope);
  /* Rarely; then with all the places where it can be put right. */
  if (scope == BED_RULES_ALL_NEW && is_any_between (self->faults, before))
    {
      g_ptr_array_set_size (self->faults, (int) before);
      ask_rules (self, BED_RULES_ANY);
    }
  bed_rules_say_once (self->faults);
}
