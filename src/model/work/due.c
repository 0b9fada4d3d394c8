#include "model/work/due_private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/farm/edit.h"
#include "model/farm/kinds.h"
#include "model/farm/query.h"
#include "model/farm/value.h"

#define FIRST_WORD 6
#define MARK "rule:" /* begins what is put off of the work worked out */

/* A date column reads as people write dates. */
static char *
dup_word (gpointer row, int column)
{
  const char *text = bed_query_text (row, FIRST_WORD + column);

  if (text && strlen (text) == 10 && text[4] == '-' && text[7] == '-')
    return bed_date_format_day (text);
  return g_strdup (text ? text : "");
}

/* A rest that ends in the future reads otherwise. */
static const char *
choose_detail (const BedDueQuestion *question, const char *day, const char *today)
{
  if (question->rule.id == BED_DUE_SOAK && strcmp (day, today) > 0)
    return _ ("may be soaked from {1}");
  return _ (question->detail);
}

typedef struct
{
  char *today; /* a copy: the farm's own lives until it is asked again, as bed_today() does */
  char *week_end;
  char *last_day;      /* nothing after it is listed */
  GHashTable *put_off; /* "rule:soak|Crib 4" -> YYYY-MM-DD */
} Frame;

static char *
dup_put_off_key (const BedDueRule *rule, const char *subject)
{
  return g_strdup_printf (MARK "%s|%s", rule->nick, subject);
}

static void
clear_frame (Frame *frame)
{
  g_free (frame->today);
  g_free (frame->week_end);
  g_free (frame->last_day);
  g_hash_table_unref (frame->put_off);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Frame, clear_frame)

static void
init_frame (Frame *frame, BedFarm *farm)
{
  g_autofree char *first = bed_date_week_start (bed_farm_get_today (farm));

  frame->today = g_strdup (bed_farm_get_today (farm));
  frame->week_end = bed_date_add (first, 6);
  frame->last_day = bed_date_add (frame->today, BED_DUE_DAYS_AHEAD);
  frame->put_off = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
}

static gboolean
read_put_off (Frame *frame, BedFarm *farm, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (
      farm, "SELECT what || '|' || coalesce (subject, ''), max (put_off_until) FROM due"
            " WHERE what GLOB '" MARK "*' AND done_on IS NULL AND put_off_until > bed_today ()"
            " GROUP BY 1");

  while (bed_query_next (q))
    g_hash_table_replace (frame->put_off, g_strdup (bed_query_text (q, 0)),
                          g_strdup (bed_query_text (q, 1)));
  return bed_query_finish (q, error);
}

static BedDueState
find_state (const Frame *frame, const BedDueItem *item, gboolean overdue)
{
  if (item->rule->is_warning)
    return BED_DUE_WARNING;
  if (overdue)
    return BED_DUE_OVERDUE;
  if (strcmp (item->day, frame->today) <= 0)
    return BED_DUE_TODAY;
  return strcmp (item->day, frame->week_end) <= 0 ? BED_DUE_WEEK : BED_DUE_LATER;
}

static BedDueItem *
read_item (const Frame *frame, const BedDueQuestion *question, BedQuery *row)
{
  BedDueItem *item = g_new0 (BedDueItem, 1);
  const char *day = bed_query_text (row, 3);
  gboolean overdue = bed_query_int (row, 4) != 0;

  item->rule = &question->rule;
  item->kind = bed_kind_from_name (bed_query_text (row, 0));
  item->id = bed_query_int (row, 1);
  item->subject = g_strdup (bed_query_text (row, 2));
  item->logs = bed_query_int (row, 5);
  item->detail = bed_value_fill (choose_detail (question, day, frame->today), dup_word, row);
  g_autofree char *key = dup_put_off_key (item->rule, item->subject);
  const char *put_off = g_hash_table_lookup (frame->put_off, key);
  if (put_off)
    {
      day = put_off;
      overdue = FALSE;
    }
  item->day = g_strdup (day);
  item->state = find_state (frame, item, overdue);
  return item;
}

/* A warning that was put off is silent until its day. */
static gboolean
is_listed (const Frame *frame, const BedDueItem *item)
{
  g_autofree char *key = dup_put_off_key (item->rule, item->subject);

  if (item->state == BED_DUE_WARNING)
    return !g_hash_table_contains (frame->put_off, key);
  return strcmp (item->day, frame->last_day) <= 0;
}

static gboolean
ask (BedFarm *farm, const Frame *frame, const BedDueQuestion *question, GPtrArray *items,
     GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (farm, question->sql);

  while (bed_query_next (q))
    {
      /* An aggregate over nothing is a row of NULLs. */
      if (bed_query_is_null (q, 1) || bed_query_is_null (q, 3))
        continue;
      g_autoptr (BedDueItem) item = read_item (frame, question, q);
      if (is_listed (frame, item))
        g_ptr_array_add (items, g_steal_pointer (&item));
    }
  return bed_query_finish (q, error);
}

static int
compare (gconstpointer a, gconstpointer b)
{
  const BedDueItem *x = *(BedDueItem *const *) a, *y = *(BedDueItem *const *) b;
  int by_day = strcmp (x->day, y->day);

  if (x->state != y->state)
    return x->state < y->state ? -1 : 1;
  /* What may be done today is work of today, however long it might have been. */
  if (x->state != BED_DUE_TODAY && by_day)
    return by_day;
  if (x->rule->id != y->rule->id)
    return x->rule->id < y->rule->id ? -1 : 1;
  return by_day ? by_day : g_strcmp0 (x->subject, y->subject);
}

void
bed_due_item_free (BedDueItem *item)
{
  g_free (item->day);
  g_free (item->subject);
  g_free (item->detail);
  g_free (item);
}

const BedDueRule *
bed_due_rule_get (BedDueRuleId id)
{
  g_return_val_if_fail (id < BED_DUE_N_RULES, NULL);

  return &bed_due_questions[id].rule;
}

GPtrArray *
bed_due_list (BedFarm *farm, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), NULL);
  g_autoptr (GPtrArray) items = g_ptr_array_new_with_free_func ((GDestroyNotify) bed_due_item_free);
  g_auto (Frame) frame = { 0 };

  init_frame (&frame, farm);
  if (!read_put_off (&frame, farm, error))
    return NULL;
  for (int i = 0; i < BED_DUE_N_RULES; i++)
    if (!ask (farm, &frame, &bed_due_questions[i], items, error))
      return NULL;
  g_ptr_array_sort (items, compare);
  return g_steal_pointer (&items);
}

static BedRecord *
dup_soak_draft (BedFarm *farm)
{
  BedRecord *draft = bed_record_new (BED_KIND_SOAK);
  g_autoptr (BedQuery) q
      = bed_query_new (farm, "SELECT tank, water FROM soak ORDER BY put_in DESC LIMIT 1");

  bed_record_set_text (draft, "put_in", bed_farm_get_now (farm));
  if (bed_query_next (q))
    {
      bed_record_set_text (draft, "tank", bed_query_text (q, 0));
      bed_record_set_text (draft, "water", bed_query_text (q, 1));
    }
  if (!bed_query_finish (q, NULL))
    g_clear_object (&draft);
  return draft;
}

static BedRecord *
dup_dated_draft (BedFarm *farm, BedKind kind, const char *field)
{
  BedRecord *draft = bed_record_new (kind);

  bed_record_set_text (draft, field, bed_farm_get_today (farm));
  return draft;
}

/* A pick is of the stack the soaked logs lie in, when that is one. */
static BedRecord *
dup_pick_draft (BedFarm *farm, const BedDueItem *item)
{
  BedRecord *draft = dup_dated_draft (farm, BED_KIND_PICK, "picked_on");
  g_autoptr (BedQuery) q = bed_query_new (
      farm, "SELECT min (x.stack), count (DISTINCT coalesce (x.stack, 0)) FROM soaked d LEFT JOIN"
            " place x ON x.log = d.log AND x.until IS NULL WHERE d.soak = ?1");

  bed_query_bind_int (q, 1, item->id);
  if (bed_query_next (q) && bed_query_int (q, 1) == 1 && !bed_query_is_null (q, 0))
    bed_record_set_int (draft, "stack", bed_query_int (q, 0));
  if (!bed_query_finish (q, NULL))
    g_clear_object (&draft);
  return draft;
}

static BedRecord *
dup_done_draft (BedFarm *farm, BedKind kind, gint64 id, const char *field, const char *when)
{
  BedRecord *record = bed_farm_load (farm, kind, id, NULL);

  if (record)
    bed_record_set_text (record, field, when);
  return record;
}

static BedRecord *
dup_subject_draft (BedFarm *farm, const BedDueItem *item, BedKind kind, const char *date)
{
  BedRecord *draft = dup_dated_draft (farm, kind, date);
  const char *field = bed_kind_get_info (item->kind)->name;

  if (bed_kind_find_field (kind, field, NULL))
    bed_record_set_int (draft, field, item->id);
  return draft;
}

BedRecord *
bed_due_dup_draft (BedFarm *farm, const BedDueItem *item)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && item != NULL, NULL);

  switch (item->rule->id)
    {
    case BED_DUE_LIFT:
      return dup_done_draft (farm, BED_KIND_SOAK, item->id, "taken_out", bed_farm_get_now (farm));
    case BED_DUE_TASK:
      return dup_done_draft (farm, BED_KIND_DUE, item->id, "done_on", bed_farm_get_today (farm));
    case BED_DUE_PICK:
    case BED_DUE_NOTHING_BORN:
      return dup_pick_draft (farm, item);
    case BED_DUE_SOAK:
    case BED_DUE_DRYING:
      return dup_soak_draft (farm);
    case BED_DUE_WATER:
      return dup_subject_draft (farm, item, BED_KIND_WATERING, "watered_on");
    case BED_DUE_WEIGH:
      return dup_subject_draft (farm, item, BED_KIND_WEIGHING, "weighed_on");
    case BED_DUE_LOOK:
      return dup_subject_draft (farm, item, BED_KIND_CHECK, "checked_on");
    case BED_DUE_INOCULATE:
    case BED_DUE_SPAWN_DATE:
      return dup_dated_draft (farm, BED_KIND_BATCH, "inoculated_on");
    case BED_DUE_N_RULES:
    default:
      g_return_val_if_reached (NULL);
    }
}

GArray *
bed_due_dup_logs (BedFarm *farm, const BedDueItem *item)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && item != NULL, NULL);
  GArray *logs = g_array_new (FALSE, FALSE, sizeof (gint64));
  const char *where = item->kind == BED_KIND_STACK ? "stack = ?1" : "stack IS NULL AND batch = ?1";
  g_autofree char *sql = g_strdup_printf ("SELECT id FROM log_forced WHERE %s AND inside = 0"
                                          " AND ready_on <= bed_today () ORDER BY id",
                                          where);

  if (item->rule->id == BED_DUE_DRYING)
    g_array_append_val (logs, item->id);
  if (item->rule->id != BED_DUE_SOAK)
    return logs;
  g_autoptr (BedQuery) q = bed_query_new (farm, sql);
  bed_query_bind_int (q, 1, item->id);
  while (bed_query_next (q))
    {
      gint64 id = bed_query_int (q, 0);
      g_array_append_val (logs, id);
    }
  if (!bed_query_finish (q, NULL))
    g_array_set_size (logs, 0);
  return logs;
}

/* The record that keeps that the work of @item is put off. */
static BedRecord *
load_put_off (BedFarm *farm, const BedDueItem *item, GError **error)
{
  if (item->rule->id == BED_DUE_TASK)
    return bed_farm_load (farm, BED_KIND_DUE, item->id, error);
  BedRecord *record = bed_record_new (BED_KIND_DUE);
  g_autofree char *what = g_strdup_printf (MARK "%s", item->rule->nick);
  bed_record_set_text (record, "due_on", item->day);
  bed_record_set_text (record, "what", what);
  bed_record_set_text (record, "subject", item->subject);
  return record;
}

/* A task of the grower's own that is called like a mark would be one with that date: it moves. */
static const char *
find_put_off_field (BedRecord *record, const BedDueItem *item)
{
  if (item->rule->id == BED_DUE_TASK
      && g_str_has_prefix (bed_record_get_text (record, "what"), MARK))
    return "due_on";
  return "put_off_until";
}

gboolean
bed_due_put_off (BedFarm *farm, const BedDueItem *item, int days, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && item != NULL && days > 0, FALSE);

  if (item->rule->id == BED_DUE_LIFT)
    return bed_farm_refuse (error, BED_FARM_ERROR_INVALID, _ ("Logs in the tank cannot wait."));
  g_autoptr (BedRecord) record = load_put_off (farm, item, error);
  if (!record)
    return FALSE;
  g_autofree char *until = bed_date_add (bed_farm_get_today (farm), days);
  g_autofree char *shown = bed_date_format_day (until);
  /* Translators: what is put off, what it is about, until when. */
  g_autofree char *sentence = g_strdup_printf (_ ("Put off: %s, %s, until %s"),
                                               _ (item->rule->what), item->subject, shown);
  bed_record_set_text (record, find_put_off_field (record, item), until);
  return bed_edit_put_one (farm, record, sentence, error);
}
