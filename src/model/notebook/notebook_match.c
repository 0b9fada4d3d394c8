#include <glib/gi18n-lib.h>
#include <stdlib.h>
#include <string.h>

#include "model/notebook/notebook_private.h"
#include "science/language.h"

/* What the rows are, and which column is what. */

/* The kinds that a table may be of, and a field or another without which it would hardly be. */
static const struct
{
  BedKind kind;
  const char *date; /* "sale.sold_on" of another kind beside it */
  BedKind date_of;
  const char *anchors[4];
} kinds[] = {
  { BED_KIND_LOG,
    "inoculated_on",
    BED_KIND_BATCH,
    { "code", "small_diameter", "length", "green_mass" } },
  { BED_KIND_PICK, "picked_on", BED_KIND_PICK, { "mass" } },
  { BED_KIND_BATCH, "inoculated_on", BED_KIND_BATCH, { "inoculated_on", "method" } },
  { BED_KIND_FELLING, "felled_on", BED_KIND_FELLING, { "wood", "felled_on" } },
  { BED_KIND_SPAWN, "received_on", BED_KIND_SPAWN, { "form", "mass", "pieces", "cost" } },
  { BED_KIND_LINE, "sold_on", BED_KIND_SALE, { "mass", "price" } },
  { BED_KIND_PURCHASE, "bought_on", BED_KIND_PURCHASE, { "amount" } },
  { BED_KIND_HOURS, "worked_on", BED_KIND_HOURS, { "minutes" } },
  { BED_KIND_RAIN, "fell_on", BED_KIND_RAIN, { "depth" } },
  { BED_KIND_TEMPERATURE, "measured_on", BED_KIND_TEMPERATURE, { "least", "most" } },
  { BED_KIND_SOAKED, "put_in", BED_KIND_SOAK, { "log" } },
  { BED_KIND_SOAK, "put_in", BED_KIND_SOAK, { "put_in", "tank" } },
  { BED_KIND_WEIGHING, "weighed_on", BED_KIND_WEIGHING, { "mass" } },
  { BED_KIND_CHECK, "checked_on", BED_KIND_CHECK, { "colonised", "bark", "weed", "action" } },
  { BED_KIND_WATERING, "watered_on", BED_KIND_WATERING, { "minutes", "method" } },
  { BED_KIND_DRYING, "dried_on", BED_KIND_DRYING, { "dried_mass" } },
  { BED_KIND_DISC, "cut_on", BED_KIND_DISC, { "dry_mass" } },
  { BED_KIND_BUYER, NULL, BED_N_KINDS, { "name" } },
  { BED_KIND_STRAIN, NULL, BED_N_KINDS, { "name", "type" } },
  { BED_KIND_EQUIPMENT, "bought_on", BED_KIND_EQUIPMENT, { "life_years", "salvage", "share" } },
  { BED_KIND_STAND, NULL, BED_N_KINDS, { "name", "area" } },
};

const BedField *
bed_notebook_date_of (BedKind kind, BedKind *of)
{
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    if (kinds[i].kind == kind && kinds[i].date)
      {
        *of = kinds[i].date_of;
        return bed_kind_find_field (kinds[i].date_of, kinds[i].date, NULL);
      }
  return NULL;
}

gboolean
bed_notebook_can_be (BedNotebook *self, BedKind kind, const BedField *field)
{
  for (guint i = 0; i < self->targets->len; i++)
    {
      const BedNotebookTarget *target = &g_array_index (self->targets, BedNotebookTarget, i);
      if (target->kind == kind && target->field == field)
        return TRUE;
    }
  return FALSE;
}

/* --- fields ------------------------------------------------------------------------------ */

/* Of the logs and the felling of a batch only what is common to them. */
static gboolean
may_say (BedKind row, BedKind kind, const BedField *field)
{
  return row != BED_KIND_BATCH || (kind != BED_KIND_LOG && kind != BED_KIND_FELLING)
         || bed_notebook_says_of_logs (kind, field);
}

static void
add_targets (GArray *targets, BedKind row, BedKind kind)
{
  const BedKindInfo *info = bed_kind_get_info (kind);
  guint n;
  const BedField *numbers = bed_notebook_get_numbers (&n);

  for (guint i = 0; i < info->n_fields; i++)
    {
      BedNotebookTarget target = { kind, &info->fields[i] };
      if (may_say (row, kind, target.field))
        g_array_append_val (targets, target);
    }
  for (guint i = 0; row == BED_KIND_BATCH && kind == row && i < n; i++)
    {
      BedNotebookTarget target = { kind, &numbers[i] };
      g_array_append_val (targets, target);
    }
}

/* Fields of the kind itself, then of those beside it. */
static GArray *
list_targets (BedKind kind)
{
  GArray *targets = g_array_new (FALSE, FALSE, sizeof (BedNotebookTarget));

  add_targets (targets, kind, kind);
  for (const BedKind *beside = bed_notebook_besides (kind); *beside != BED_N_KINDS; beside++)
    if (*beside != kind)
      add_targets (targets, kind, *beside);
  return targets;
}

static gboolean
is_taken (const BedNotebookTarget *taken, guint n, BedKind kind, const BedField *field)
{
  for (guint i = 0; i < n; i++)
    if (taken[i].kind == kind && taken[i].field == field)
      return TRUE;
  return FALSE;
}

/* Whether the cells could be of the field at all. */
static gboolean
holds (const BedNotebookMatch *match, const BedField *field)
{
  guint filled = match->filled;

  if (filled == 0)
    return TRUE;
  if (field->type == BED_FIELD_DATE || field->type == BED_FIELD_MOMENT)
    return 2 * (match->days + match->serials + match->maybe) >= filled;
  if (field->type == BED_FIELD_MEASURE)
    return 3 * (match->texts + match->days) <= 2 * filled;
  if (field->type == BED_FIELD_CHOICE)
    return match->days < filled;
  return match->days < filled || field->type == BED_FIELD_NOTE;
}

/* The meaning of a head for rows of @kind. */
static gboolean
choose_meaning (BedKind kind, const BedNotebookMatch *match, const GArray *meanings,
                const BedNotebookTarget *taken, guint n, BedNotebookTarget *target)
{
  BedKind order[BED_N_KINDS + 1];
  guint n_order = 0;

  order[n_order++] = kind;
  for (const BedKind *beside = bed_notebook_besides (kind); *beside != BED_N_KINDS; beside++)
    order[n_order++] = *beside;
  for (guint o = 0; o < n_order; o++)
    for (guint i = 0; i < meanings->len; i++)
      {
        const BedHeadMeaning *meaning = &g_array_index (meanings, BedHeadMeaning, i);
        if (meaning->special != BED_HEAD_FIELD || meaning->kind != order[o] || !meaning->field
            || !may_say (kind, meaning->kind, meaning->field)
            || is_taken (taken, n, meaning->kind, meaning->field) || !holds (match, meaning->field))
          continue;
        *target = (BedNotebookTarget){ meaning->kind, meaning->field };
        return TRUE;
      }
  return FALSE;
}

static gboolean
has_special (const GArray *meanings, BedHeadSpecial special)
{
  for (guint i = 0; meanings && i < meanings->len; i++)
    if (g_array_index (meanings, BedHeadMeaning, i).special == special)
      return TRUE;
  return FALSE;
}

/* The field of a batch that its name is in where it is a column of another kind. */
static BedNotebookTarget
at_its_place (BedKind kind, BedNotebookTarget target)
{
  const BedField *own = NULL;

  if (target.kind == BED_KIND_BATCH && kind != BED_KIND_BATCH
      && strcmp (target.field->name, "code") == 0)
    own = bed_kind_find_field (kind, "batch", NULL);
  return own ? (BedNotebookTarget){ kind, own } : target;
}

/* --- scores ------------------------------------------------------------------------------- */

typedef struct
{
  BedNotebookTarget *targets; /* of each column; no field: none */
  double score;
} Try;

/* Kinds that the head could be of: few say more. */
static double
weigh (const GArray *meanings)
{
  guint64 seen = 0;
  guint n = 0;

  for (guint i = 0; i < meanings->len; i++)
    {
      const BedHeadMeaning *meaning = &g_array_index (meanings, BedHeadMeaning, i);
      guint64 bit = meaning->field ? BED_KIND_BIT (meaning->kind) : 0;
      n += bit && !(seen & bit);
      seen |= bit;
    }
  return n == 0 ? 0.5 : 4.0 / (n + 1);
}

static gboolean
has_anchor (gsize k, const BedNotebookTarget *targets, guint n)
{
  for (gsize a = 0; a < G_N_ELEMENTS (kinds[k].anchors) && kinds[k].anchors[a]; a++)
    {
      const BedField *field = bed_notebook_find_field (kinds[k].kind, kinds[k].anchors[a]);
      if (field && is_taken (targets, n, kinds[k].kind, field))
        return TRUE;
    }
  return FALSE;
}

static gboolean
is_date_head (const GArray *meanings)
{
  return has_special (meanings, BED_HEAD_DATE) || has_special (meanings, BED_HEAD_MONTH)
         || has_special (meanings, BED_HEAD_WEEK_FROM) || has_special (meanings, BED_HEAD_WEEK_TO);
}

/* First the heads that say more than "date", so that they have the first choice. */
static void
try_dates (BedNotebook *self, BedKind kind, const GArray *const *meanings, Try *try)
{
  BedKind of;
  const BedField *date = bed_notebook_date_of (kind, &of);

  for (guint i = 0; date && i < self->matches->len; i++)
    {
      const BedNotebookMatch *match = &g_array_index (self->matches, BedNotebookMatch, i);
      if (try->targets[i].field || !is_date_head (meanings[i])
          || is_taken (try->targets, self->matches->len, of, date)
          || !(holds (match, date)
               || (has_special (meanings[i], BED_HEAD_MONTH) && match->numbers == match->filled)))
        continue;
      try->targets[i] = (BedNotebookTarget){ of, date };
      try->score += 1;
    }
}

static double
count_missing (BedKind kind, const BedNotebookTarget *targets, guint n)
{
  const BedKindInfo *info = bed_kind_get_info (kind);
  double missing = 0;

  for (guint i = 0; i < info->n_fields; i++)
    if (info->fields[i].required && info->fields[i].type == BED_FIELD_MEASURE
        && !is_taken (targets, n, kind, &info->fields[i]))
      missing += 1;
  return missing;
}

/* What stands under weeks and days is what was picked, worked or spent. */
static void
try_crossing (BedNotebook *self, BedKind kind, Try *try)
{
  const char *name = kind == BED_KIND_PICK       ? "mass"
                     : kind == BED_KIND_HOURS    ? "minutes"
                     : kind == BED_KIND_PURCHASE ? "amount"
                                                 : NULL;

  if (self->layout.crossing->len == 0 || self->matches->len == 0 || !name)
    return;
  try->targets[self->matches->len - 1]
      = (BedNotebookTarget){ kind, bed_kind_find_field (kind, name, NULL) };
  try->score += kind == BED_KIND_PICK ? 3 : 2;
}

/* A batch's logs are spoken of where their number is said. */
static gboolean
is_of_none (BedKind kind, BedKind of, const GArray *const *meanings, guint n)
{
  const BedField *logs = bed_notebook_find_field (BED_KIND_BATCH, "logs");

  if (kind != BED_KIND_BATCH || (of != BED_KIND_LOG && of != BED_KIND_FELLING))
    return FALSE;
  for (guint i = 0; i < n; i++)
    for (guint m = 0; meanings[i] && m < meanings[i]->len; m++)
      if (g_array_index (meanings[i], BedHeadMeaning, m).field == logs)
        return FALSE;
  return TRUE;
}

static Try
try_kind (BedNotebook *self, gsize k, const GArray *const *meanings)
{
  guint n = self->matches->len;
  BedKind kind = kinds[k].kind;
  Try try = { g_new0 (BedNotebookTarget, MAX (n, 1)), 0 };

  for (guint i = 0; i < n; i++)
    {
      const BedNotebookMatch *match = &g_array_index (self->matches, BedNotebookMatch, i);
      BedNotebookTarget target;
      if (!meanings[i] || !choose_meaning (kind, match, meanings[i], try.targets, n, &target)
          || is_of_none (kind, target.kind, meanings, n))
        continue;
      try.targets[i] = at_its_place (kind, target);
      try.score += weigh (meanings[i]) * (target.kind == kind ? 1 : 0.7)
                   * (match->guessed ? 0.7 : 1);
    }
  try_crossing (self, kind, &try);
  try_dates (self, kind, meanings, &try);
  try.score -= 0.7 * count_missing (kind, try.targets, n);
  if (!has_anchor (k, try.targets, n))
    try.score = try.score > 0 ? try.score * 0.3 : try.score;
  return try;
}

/* The name of the sheet may say what it is. */
static gboolean
is_named (BedNotebook *self, BedKind kind)
{
  guint n = bed_rows_get_n_sheets (self->rows);
  g_autofree char *unit = NULL;

  for (guint s = 0; n == 1 && s < n; s++)
    {
      const char *name = bed_rows_get_sheet_name (self->rows, s);
      const GArray *meanings = name ? bed_words_read_head (name, &unit) : NULL;
      for (guint i = 0; meanings && i < meanings->len; i++)
        {
          const BedHeadMeaning *meaning = &g_array_index (meanings, BedHeadMeaning, i);
          if (meaning->special == BED_HEAD_FIELD && !meaning->field && meaning->kind == kind)
            return TRUE;
        }
    }
  return FALSE;
}

/* As much as a head that only this kind has; of those that have a day of their own, where there are
 * days. */
static double
weigh_expected (BedNotebook *self, gsize k)
{
  if (!(self->expected & BED_KIND_BIT (kinds[k].kind)))
    return 0;
  for (guint i = 0; i < self->matches->len && kinds[k].date_of == kinds[k].kind; i++)
    if (2 * g_array_index (self->matches, BedNotebookMatch, i).days
        > g_array_index (self->matches, BedNotebookMatch, i).filled)
      return 2;
  return kinds[k].date_of == kinds[k].kind ? 0.5 : 2;
}

/* --- the choice ---------------------------------------------------------------------------- */

static gboolean
is_notes (const BedField *field)
{
  return strcmp (field->name, "notes") == 0;
}

static void
say_field (BedNotebook *self, BedNotebookMatch *match)
{
  const BedNotebookColumn *shown = &match->shown;
  const char *of = shown->field ? _ (bed_kind_get_info (shown->kind)->singular) : NULL;

  g_free (match->why);
  if (match->is_income)
    match->why = g_strdup (_ ("Money that came in: such rows are set aside."));
  else if (match->is_year)
    match->why = g_strdup (_ ("The year of the dates."));
  else if (match->is_each)
    match->why = g_strdup (_ ("What one of its unit costs; the price where no column says it."));
  else if (match->is_unit)
    match->why = g_strdup (_ ("The unit of the numbers beside it."));
  else if (match->of_notes)
    match->why = g_strdup (_ ("Goes into the notes, under its head."));
  else if (!shown->field)
    match->why = g_strdup (_ ("Nothing known fits; left out."));
  else if (shown->sure == BED_MATCH_CHOSEN)
    match->why = g_strdup (_ ("Chosen."));
  else if (*shown->head && match->guessed)
    match->why = g_strdup_printf (_ ("“%s” is near to what some call it: %s, %s."), shown->head, of,
                                  _ (shown->field->label));
  else if (*shown->head)
    /* Translators: head of a column, kind of record, field. */
    match->why = g_strdup_printf (_ ("“%s” is what many call it: %s, %s."), shown->head, of,
                                  _ (shown->field->label));
  else
    match->why = g_strdup_printf (_ ("By what stands in it: %s, %s."), of, _ (shown->field->label));
}

static void
set_field (BedNotebookMatch *match, BedNotebookTarget target, BedMatch sure)
{
  match->shown.kind = target.kind;
  match->shown.field = target.field;
  match->shown.sure = target.field ? sure : BED_MATCH_NONE;
}

/* What is decided of a column: "-", "notes" of several columns, or "kind.field". */
static gboolean
take_decision (BedNotebook *self, guint column, BedNotebookMatch *match)
{
  const char *decided = bed_notebook_decision (self, "field:%u", column);
  const char *point = decided ? strchr (decided, '.') : NULL;

  if (!decided)
    return FALSE;
  g_autofree char *name = point ? g_strndup (decided, point - decided) : NULL;
  BedKind kind = name ? bed_kind_from_name (name) : BED_N_KINDS;
  const BedField *field = kind != BED_N_KINDS ? bed_notebook_find_field (kind, point + 1) : NULL;
  set_field (match, (BedNotebookTarget){ field ? kind : self->kind, field }, BED_MATCH_CHOSEN);
  match->shown.sure = BED_MATCH_CHOSEN;
  return TRUE;
}

/* A column without a known head, of the kind's one number or date that no other has. */
static void
guess_by_content (BedNotebook *self, const char *field, BedFieldType type)
{
  BedKind of = self->kind;
  const BedField *wanted = field ? bed_kind_find_field (self->kind, field, NULL)
                                 : bed_notebook_date_of (self->kind, &of);
  BedNotebookMatch *found = NULL;

  for (guint i = 0; i < self->matches->len; i++)
    {
      BedNotebookMatch *match = &g_array_index (self->matches, BedNotebookMatch, i);
      guint fits = type == BED_FIELD_DATE ? match->days : match->numbers;
      if (match->shown.field == wanted)
        return;
      if (match->shown.field || match->shown.sure == BED_MATCH_CHOSEN || match->is_income
          || match->is_year || match->of_notes || 2 * fits <= match->filled)
        continue;
      if (type == BED_FIELD_DATE && found)
        return; /* two that could be it */
      if (!found)
        found = match;
    }
  if (wanted && found)
    set_field (found, (BedNotebookTarget){ of, wanted }, BED_MATCH_GUESSED);
}

static gboolean
holds_names (BedNotebook *self, const BedNotebookMatch *match, BedKind kind)
{
  if (match->shown.field || match->shown.sure == BED_MATCH_CHOSEN || match->is_income
      || match->is_year || match->is_unit || match->is_each)
    return FALSE;
  for (guint i = 0; i < match->n_samples; i++)
    if (!bed_notebook_find_called (self, kind, match->samples[i]))
      return FALSE;
  return match->n_samples > 0;
}

/* A column without a known head whose first cells all name what the farm has: logs, batches. */
static void
guess_by_names (BedNotebook *self)
{
  const BedKindInfo *info = bed_kind_get_info (self->kind);

  for (guint f = 0; f < info->n_fields; f++)
    {
      const BedField *field = &info->fields[f];
      BedNotebookMatch *found = NULL;
      if (field->type != BED_FIELD_REFERENCE
          || bed_notebook_find_column (self, self->kind, field->name) > 0)
        continue;
      for (guint i = 0; i < self->matches->len && !found; i++)
        {
          BedNotebookMatch *match = &g_array_index (self->matches, BedNotebookMatch, i);
          if (holds_names (self, match, field->refers))
            found = match;
        }
      if (found)
        set_field (found, (BedNotebookTarget){ self->kind, field }, BED_MATCH_GUESSED);
    }
}

static void
take_specials (BedNotebook *self, BedNotebookMatch *match, const GArray *meanings)
{
  const BedField *notes = bed_kind_find_field (self->kind, "notes", NULL);

  match->of_notes = notes && match->shown.field == notes && has_special (meanings, BED_HEAD_NOTES);
  match->is_month = has_special (meanings, BED_HEAD_MONTH);
  match->week = has_special (meanings, BED_HEAD_WEEK_FROM) ? 6
                : has_special (meanings, BED_HEAD_WEEK_TO) ? -6
                                                           : 0;
  if (match->shown.field || match->shown.sure == BED_MATCH_CHOSEN)
    return;
  match->is_income = self->kind == BED_KIND_PURCHASE && has_special (meanings, BED_HEAD_INCOME);
  match->is_year = has_special (meanings, BED_HEAD_YEAR);
  match->is_unit = has_special (meanings, BED_HEAD_UNIT);
  match->is_each = self->kind == BED_KIND_LINE && has_special (meanings, BED_HEAD_EACH);
  if (has_special (meanings, BED_HEAD_NOTES) && notes)
    {
      set_field (match, (BedNotebookTarget){ self->kind, notes }, BED_MATCH_KNOWN);
      match->of_notes = TRUE;
    }
}

static void
match_columns (BedNotebook *self, const Try *try, const GArray *const *meanings)
{
  for (guint i = 0; i < self->matches->len; i++)
    {
      BedNotebookMatch *match = &g_array_index (self->matches, BedNotebookMatch, i);
      match->is_income = match->is_year = match->is_unit = match->of_notes = match->is_each = FALSE;
      if (!take_decision (self, i, match))
        set_field (match, try->targets[i], match->guessed ? BED_MATCH_GUESSED : BED_MATCH_KNOWN);
      take_specials (self, match, meanings[i]);
    }
  /* A chosen field takes it from a guessed one. */
  for (guint i = 0; i < self->matches->len; i++)
    for (guint j = 0; j < self->matches->len; j++)
      {
        BedNotebookMatch *a = &g_array_index (self->matches, BedNotebookMatch, i);
        BedNotebookMatch *b = &g_array_index (self->matches, BedNotebookMatch, j);
        if (i != j && a->shown.field && a->shown.field == b->shown.field
            && a->shown.sure == BED_MATCH_CHOSEN && b->shown.sure != BED_MATCH_CHOSEN
            && !is_notes (a->shown.field))
          set_field (b, (BedNotebookTarget){ self->kind, NULL }, BED_MATCH_NONE);
      }
}

static void
add_kinds (BedNotebook *self, const Try *tries, const gsize *order)
{
  g_array_set_size (self->kinds, 0);
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    g_array_append_val (self->kinds, kinds[order[i]].kind);
}

static void
sort_tries (const Try *tries, gsize *order)
{
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      gsize at = i;
      for (; at > 0 && tries[order[at - 1]].score < tries[i].score; at--)
        order[at] = order[at - 1];
      order[at] = i;
    }
}

/* "Date, Wt (oz)": the heads that made it so. */
static char *
list_heads (BedNotebook *self, const Try *try)
{
  GString *list = g_string_new (NULL);

  for (guint i = 0; i < self->matches->len; i++)
    {
      const BedNotebookMatch *match = &g_array_index (self->matches, BedNotebookMatch, i);
      if (try->targets[i].field && *match->shown.head)
        g_string_append_printf (list, "%s%s", list->len ? bed_comma () : "", match->shown.head);
    }
  return g_string_free (list, FALSE);
}

static gsize
choose_kind (BedNotebook *self, const Try *tries, const gsize *order)
{
  const char *decided = bed_notebook_decision (self, "kind");
  BedKind kind = decided ? bed_kind_from_name (decided) : BED_N_KINDS;
  gsize k = order[0];

  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    if (kinds[i].kind == kind)
      k = i;
  gboolean chosen = kinds[k].kind == kind;
  self->kind = kinds[k].kind;
  self->kind_sure = chosen                                                ? BED_MATCH_CHOSEN
                    : tries[k].score <= 0                                 ? BED_MATCH_NONE
                    : tries[k].score >= 1.3 * tries[order[1]].score + 0.2 ? BED_MATCH_KNOWN
                                                                          : BED_MATCH_GUESSED;
  g_autofree char *heads = list_heads (self, &tries[k]);
  g_free (self->kind_why);
  if (chosen)
    self->kind_why = g_strdup (_ ("Chosen."));
  else if (!*heads)
    self->kind_why = g_strdup (_ ("No head is known; say what the rows are."));
  else
    /* Translators: heads of columns by which it was seen what the rows are. */
    self->kind_why = g_strdup_printf (_ ("By these columns: %s."), heads);
  return k;
}

/* Where there is no other date, a year is one. */
static void
take_year (BedNotebook *self)
{
  BedKind of = self->kind;
  const BedField *date = bed_notebook_date_of (self->kind, &of);

  if (!date || bed_notebook_find_column (self, of, date->name))
    return;
  for (guint i = 0; i < self->matches->len; i++)
    {
      BedNotebookMatch *match = &g_array_index (self->matches, BedNotebookMatch, i);
      if (!match->is_year)
        continue;
      match->is_year = FALSE;
      set_field (match, (BedNotebookTarget){ of, date }, BED_MATCH_KNOWN);
      return;
    }
}

static void
guess_the_rest (BedNotebook *self)
{
  static const char *const numbers[] = { "mass", "amount", "minutes", "depth" };

  guess_by_names (self);
  guess_by_content (self, NULL, BED_FIELD_DATE);
  for (gsize i = 0; i < G_N_ELEMENTS (numbers); i++)
    {
      const BedField *field = bed_kind_find_field (self->kind, numbers[i], NULL);
      if (field && field->required)
        guess_by_content (self, numbers[i], BED_FIELD_MEASURE);
    }
  take_year (self);
}

/* Heads that say more than where it goes: a unit. */
static const GArray **
read_heads (BedNotebook *self)
{
  const GArray **meanings = g_new0 (const GArray *, self->matches->len + 1);

  for (guint i = 0; i < self->matches->len; i++)
    {
      BedNotebookMatch *match = &g_array_index (self->matches, BedNotebookMatch, i);
      g_clear_pointer (&match->unit, g_free);
      meanings[i] = bed_words_read_head (match->shown.head, &match->unit);
      match->guessed = !meanings[i];
      if (!meanings[i])
        {
          g_clear_pointer (&match->unit, g_free);
          meanings[i] = bed_words_guess_head (match->shown.head, &match->unit);
        }
    }
  return meanings;
}

void
bed_notebook_match (BedNotebook *self)
{
  g_autofree const GArray **meanings = read_heads (self);
  Try tries[G_N_ELEMENTS (kinds)];
  gsize order[G_N_ELEMENTS (kinds)];

  for (gsize k = 0; k < G_N_ELEMENTS (kinds); k++)
    {
      tries[k] = try_kind (self, k, meanings);
      if (is_named (self, kinds[k].kind))
        tries[k].score += 2;
      tries[k].score += weigh_expected (self, k);
    }
  sort_tries (tries, order);
  add_kinds (self, tries, order);
  gsize k = choose_kind (self, tries, order);
  g_clear_pointer (&self->targets, g_array_unref);
  self->targets = list_targets (self->kind);
  match_columns (self, &tries[k], meanings);
  guess_the_rest (self);
  for (guint i = 0; i < self->matches->len; i++)
    say_field (self, &g_array_index (self->matches, BedNotebookMatch, i));
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    g_free (tries[i].targets);
}
