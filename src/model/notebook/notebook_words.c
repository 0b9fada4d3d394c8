#include <gio/gio.h>
#include <stdlib.h>
#include <string.h>

#include "model/farm/csv_read.h"
#include "model/farm/known.h"
#include "model/notebook/notebook_private.h"
#include "model_resources.h"

/* The words people have for what a column or a cell says, in several languages: two tables in
 * data/notebook. */

typedef struct
{
  GHashTable *heads; /* folded head -> GArray of BedHeadMeaning */
  GHashTable *words; /* "kind.field:folded word" -> value */
  GHashTable *signs; /* the same of what has no letters, as it is written */
} Words;

static BedCsvTable *
read_table (const char *name)
{
  g_autofree char *path = g_strconcat ("/org/bedlog/model/", name, NULL);
  g_autoptr (GBytes) bytes
      = g_resource_lookup_data (model_get_resource (), path, G_RESOURCE_LOOKUP_FLAGS_NONE, NULL);
  g_autoptr (GPtrArray) faults
      = g_ptr_array_new_with_free_func ((GDestroyNotify) bed_csv_fault_free);
  gsize length = 0;
  const char *text = bytes ? g_bytes_get_data (bytes, &length) : NULL;
  BedCsvTable *table = text ? bed_csv_table_parse (name, text, length, faults) : NULL;

  if (!table)
    g_error ("data/notebook/%s cannot be read", name);
  return table;
}

static void
add_head (GHashTable *heads, const char *head, const BedHeadMeaning *meaning)
{
  g_autofree char *folded = bed_known_fold (head);
  GArray *meanings = g_hash_table_lookup (heads, folded);

  if (!meanings)
    {
      meanings = g_array_new (FALSE, FALSE, sizeof (BedHeadMeaning));
      g_hash_table_insert (heads, g_steal_pointer (&folded), meanings);
    }
  g_array_append_val (meanings, *meaning);
}

static BedHeadSpecial
special_from_name (const char *name)
{
  static const char *const names[] = { "",        "date",  "month",  "week from",
                                       "week to", "notes", "income", "balance",
                                       "year",    "total", "unit",   "each" };

  for (guint i = 1; i < G_N_ELEMENTS (names); i++)
    if (strcmp (names[i], name) == 0)
      return i;
  return BED_HEAD_FIELD;
}

/* Each field by the name it has in files and on the screen, besides what people write. */
static void
add_own_names (GHashTable *heads)
{
  for (BedKind kind = 1; kind < BED_N_KINDS; kind++)
    for (guint i = 0; i < bed_kind_get_info (kind)->n_fields; i++)
      {
        const BedField *field = &bed_kind_get_info (kind)->fields[i];
        BedHeadMeaning meaning = { BED_HEAD_FIELD, kind, field };
        add_head (heads, field->name, &meaning);
        if (strcmp (field->label, "Date") != 0) /* the row's own, whatever it is of */
          add_head (heads, field->label, &meaning);
      }
}

static void
read_heads (GHashTable *heads)
{
  g_autoptr (BedCsvTable) table = read_table ("heads.csv");

  for (guint i = 1; i < table->rows->len; i++)
    {
      const char **cells = ((const BedCsvRow *) table->rows->pdata[i])->cells;
      BedHeadMeaning meaning = { BED_HEAD_FIELD, bed_kind_from_name (cells[0]), NULL };
      g_auto (GStrv) words = g_strsplit (cells[2], ";", -1);
      if (meaning.kind == BED_N_KINDS)
        meaning.special = special_from_name (cells[1]);
      else if (*cells[1])
        meaning.field = bed_notebook_find_field (meaning.kind, cells[1]);
      if (*cells[1] && meaning.special == BED_HEAD_FIELD && !meaning.field)
        continue; /* a field that this version does not have */
      for (char **word = words; *word; word++)
        add_head (heads, *word, &meaning);
    }
}

static void
read_words (Words *self)
{
  g_autoptr (BedCsvTable) table = read_table ("words.csv");

  for (guint i = 1; i < table->rows->len; i++)
    {
      const char **cells = ((const BedCsvRow *) table->rows->pdata[i])->cells;
      g_auto (GStrv) words = g_strsplit (cells[3], ";", -1);
      for (char **word = words; *word; word++)
        {
          g_autofree char *folded = bed_known_fold (*word);
          GHashTable *into = *folded ? self->words : self->signs;
          g_hash_table_insert (
              into, g_strdup_printf ("%s.%s:%s", cells[0], cells[1], *folded ? folded : *word),
              g_strdup (cells[2]));
        }
    }
}

static gpointer
read_all (gpointer none)
{
  Words *self = g_new (Words, 1);

  self->heads = g_hash_table_new (g_str_hash, g_str_equal);
  self->words = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  self->signs = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  read_heads (self->heads);
  add_own_names (self->heads);
  read_words (self);
  return self;
}

static const Words *
get (void)
{
  static GOnce once = G_ONCE_INIT;

  return g_once (&once, read_all, NULL);
}

const char *
bed_words_find (const char *group, const char *field, const char *text)
{
  g_autofree char *folded = bed_known_fold (text);
  g_autofree char *key = g_strconcat (group, ".", field, ":", *folded ? folded : text, NULL);

  return g_hash_table_lookup (*folded ? get ()->words : get ()->signs, key);
}

static const GArray *
find_folded (const char *head)
{
  g_autofree char *folded = bed_known_fold (head);
  const GArray *meanings = *folded ? g_hash_table_lookup (get ()->heads, folded) : NULL;
  g_auto (GStrv) words = meanings ? NULL : g_strsplit (folded, " ", -1);

  if (meanings || !words[0])
    return meanings;
  /* "Date de récolte" and "date récolte" are one, in a table that has one of them. */
  g_autofree char *joined = g_strjoinv ("", words);
  return g_hash_table_lookup (get ()->heads, joined);
}

/* "Weight (oz)", "Dia [in]", "Wt, oz", "Length in cm", "Rain mm", "kg picked": the head without the
 * unit, and the unit. */
static char *
cut_unit (const char *head, char **unit)
{
  const char *open = strpbrk (head, "([{");
  const char *close = open ? strpbrk (open, ")]}") : NULL;

  if (close)
    {
      g_autofree char *inside = g_strstrip (g_strndup (open + 1, close - open - 1));
      const char *known = bed_words_find ("unit", "", inside);
      *unit = g_strdup (known ? known : inside);
      g_autofree char *before = g_strndup (head, open - head);
      return g_strconcat (before, " ", close + 1, NULL);
    }
  g_autofree char *folded = bed_known_fold (head);
  char *last = strrchr (folded, ' '), *first = strchr (folded, ' ');
  const char *known = last ? bed_words_find ("unit", "", last + 1) : NULL;
  if (known)
    {
      *last = '\0';
      for (guint i = 0; i < 2; i++)
        if (g_str_has_suffix (folded, i ? " en" : " in"))
          folded[strlen (folded) - 3] = '\0';
      *unit = g_strdup (known);
      return g_steal_pointer (&folded);
    }
  g_autofree char *begun = first ? g_strndup (folded, first - folded) : NULL;
  known = begun ? bed_words_find ("unit", "", begun) : NULL;
  if (!known)
    return NULL;
  *unit = g_strdup (known);
  return g_strdup (first + 1);
}

/* "$/lb", "Price/lb (EUR)": what one of the unit costs, and none of the row. */
static gboolean
is_price_of_one (const char *head)
{
  const char *bar = strchr (head, '/');
  g_autofree char *after = bar ? g_strstrip (g_strndup (bar + 1, strcspn (bar + 1, " ()[]")))
                               : NULL;

  return after && bed_words_find ("unit", "", after) && bar > head
         && !bed_words_find ("unit", "", head);
}

const GArray *
bed_words_read_head (const char *head, char **unit)
{
  const GArray *meanings = find_folded (head);
  const char *of_unit = bed_words_find ("unit", "", head);
  g_autofree char *cut = NULL;

  *unit = NULL;
  if (is_price_of_one (head))
    {
      const char *known = bed_words_find ("unit", "", strchr (head, '/') + 1);
      *unit = g_strdup (known);
      return find_folded ("unit price");
    }
  if (meanings)
    {
      *unit = g_strdup (of_unit);
      return meanings;
    }
  cut = cut_unit (head, unit);
  meanings = cut ? find_folded (cut) : NULL;
  if (!meanings && cut && *unit && strpbrk (head, "([{"))
    {
      /* "Rain total (mm) June": what is in brackets may be no unit, and more than one thing. */
      g_autofree char *deeper = NULL, *rest = cut_unit (cut, &deeper);
      meanings = rest ? find_folded (rest) : NULL;
    }
  return meanings;
}

/* "Shiitake variety", "Date soaked": a word more than is known. */
const GArray *
bed_words_guess_head (const char *head, char **unit)
{
  g_autofree char *folded = bed_known_fold (head);
  char *first = strchr (folded, ' '), *last = strrchr (folded, ' ');

  *unit = NULL;
  if (!first)
    return NULL;
  const GArray *meanings = strlen (first + 1) >= 3 ? bed_words_read_head (first + 1, unit) : NULL;
  *last = '\0';
  if (!meanings && strlen (folded) >= 3)
    {
      g_clear_pointer (unit, g_free);
      meanings = bed_words_read_head (folded, unit);
    }
  return meanings;
}

gboolean
bed_words_is (const char *head, BedHeadSpecial special)
{
  g_autofree char *folded = bed_known_fold (head);
  const GArray *meanings = *folded ? g_hash_table_lookup (get ()->heads, folded) : NULL;

  for (guint i = 0; meanings && i < meanings->len; i++)
    if (g_array_index (meanings, BedHeadMeaning, i).special == special)
      return TRUE;
  return FALSE;
}

/* Written out by nobody in more letters than that. */
#define LONGEST_MISSING 20

gboolean
bed_words_is_missing (const char *text)
{
  return !*text
         || (!g_ascii_isdigit (*text) && strlen (text) <= LONGEST_MISSING
             && bed_words_find ("missing", "", text));
}

int
bed_words_find_month (const char *text)
{
  const char *month = bed_words_find ("month", "", text);

  return month ? atoi (month) : 0;
}
