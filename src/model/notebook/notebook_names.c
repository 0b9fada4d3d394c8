#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/farm/code.h"
#include "model/farm/given.h"
#include "model/farm/kind_words.h"
#include "model/farm/known.h"
#include "model/farm/names.h"
#include "model/farm/query.h"
#include "model/farm/woods.h"
#include "model/notebook/notebook_private.h"

/* Names in a cell: what they are called in the farm, whether they are new, or what has to be
 * asked. */

/* Near names are looked for among so many. */
#define MOST_NAMES 3000

static void
read_known (BedNotebook *self, BedKind kind)
{
  const BedKindInfo *info = bed_kind_get_info (kind);
  g_autofree char *sql = g_strdup_printf ("SELECT \"%s\" FROM \"%s\"", info->key, info->name);
  g_autoptr (BedQuery) q = bed_query_new (self->farm, sql);

  self->known[kind] = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  while (bed_query_next (q))
    if (bed_query_text (q, 0))
      g_hash_table_insert (self->known[kind], bed_known_fold (bed_query_text (q, 0)),
                           g_strdup (bed_query_text (q, 0)));
  if (!bed_query_finish (q, NULL)) /* the commit will say what is wrong with the farm */
    g_hash_table_remove_all (self->known[kind]);
}

const char *
bed_notebook_find_known (BedNotebook *self, BedKind kind, const char *name)
{
  g_autofree char *folded = bed_known_fold (name);

  if (!self->known[kind])
    read_known (self, kind);
  return g_hash_table_lookup (self->known[kind], folded);
}

const char *
bed_notebook_find_called (BedNotebook *self, BedKind kind, const char *text)
{
  g_autofree char *code = bed_code_complete (kind, text, NULL);
  const char *known = bed_notebook_find_known (self, kind, text);

  return known || !code ? known : bed_notebook_find_known (self, kind, code);
}

gboolean
bed_notebook_has (BedNotebook *self, BedKind kind, const char *name)
{
  return bed_notebook_find_known (self, kind, name) != NULL;
}

/* A name of this sheet, as it was first written. */
static const char *
find_made (BedNotebook *self, BedKind kind, const char *name)
{
  g_autofree char *folded = bed_known_fold (name);
  g_autofree char *key = g_strdup_printf ("%d:%s", kind, folded);

  return g_hash_table_lookup (self->names, key);
}

static const char *
note_made (BedNotebook *self, BedKind kind, const char *name)
{
  g_autofree char *folded = bed_known_fold (name);

  g_hash_table_insert (self->names, g_strdup_printf ("%d:%s", kind, folded), g_strdup (name));
  return name;
}

/* --- woods and mushrooms ---------------------------------------------------------------- */

/* What the farm calls the species; for a wood that it has not, what the table does. */
static char *
dup_name_of_latin (BedNotebook *self, BedKind kind, const char *latin)
{
  g_autofree char *sql = g_strdup_printf (
      "SELECT common_name FROM \"%s\" WHERE latin_name = ?1 COLLATE NOCASE LIMIT 1",
      bed_kind_get_info (kind)->name);
  g_autoptr (BedQuery) q = bed_query_new (self->farm, sql);
  g_autofree char *name = NULL;

  bed_query_bind_text (q, 1, latin);
  if (bed_query_next (q))
    name = g_strdup (bed_query_text (q, 0));
  if (!bed_query_finish (q, NULL))
    return NULL;
  if (name || kind != BED_KIND_WOOD)
    return g_steal_pointer (&name);
  const BedWood *wood = bed_wood_find (bed_woods_get (), latin, NULL);
  const char *given = wood ? bed_known_get_given (kind, wood->latin) : NULL;
  return wood ? g_strdup (given ? given : wood->name) : NULL;
}

static gboolean
is_species (BedKind kind)
{
  return kind == BED_KIND_WOOD || kind == BED_KIND_MUSHROOM;
}

static void
offer_near_species (BedNotebook *self, BedKind kind, const char *key, const char *name)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new ();
  GHashTableIter iter;
  gpointer each;

  bed_notebook_find_known (self, kind, "");
  g_hash_table_iter_init (&iter, self->known[kind]);
  while (g_hash_table_iter_next (&iter, NULL, &each))
    g_ptr_array_add (names, each);
  const char *near = bed_near_choose (name, (const char *const *) names->pdata, names->len, 3);
  if (near)
    {
      bed_notebook_offer (self, key, near, near);
      bed_notebook_suggest (self, key, near);
    }
}

/* "Hard maple logs", "sugar maple wood". */
static char *
without_filling (const char *name)
{
  static const char *const endings[] = { " logs", " log", " wood", " tree", " trees" };
  g_autofree char *folded = bed_known_fold (name);

  for (gsize i = 0; i < G_N_ELEMENTS (endings); i++)
    if (g_str_has_suffix (folded, endings[i]))
      return g_strndup (folded, strlen (folded) - strlen (endings[i]));
  return g_steal_pointer (&folded);
}

static void
ask_species (BedNotebook *self, BedKind kind, const char *key, const char *name,
             const char *const *latin)
{
  for (; latin && *latin; latin++)
    {
      g_autofree char *called = dup_name_of_latin (self, kind, *latin);
      if (called)
        bed_notebook_offer (self, key, called, called);
    }
  if (bed_notebook_is_new (self, key))
    offer_near_species (self, kind, key, name);
  bed_notebook_let_type (self, key,
                         kind == BED_KIND_WOOD ? _ ("A common or Latin name of a tree")
                                               : _ ("The name of a mushroom of the farm"));
  bed_notebook_offer (self, key, "out", _ ("Leave these rows out"));
}

/* --- questions ------------------------------------------------------------------------------ */

/* Figures, and words of a letter or two. */
static gboolean
tells_apart (const char *word)
{
  return strpbrk (word, "0123456789") || g_utf8_strlen (word, -1) <= 2;
}

/* The next such word, or NULL. */
static const char *
next_telling (char ***words)
{
  while (**words && !tells_apart (**words))
    (*words)++;
  return **words ? *(*words)++ : NULL;
}

/* Shed A and Shed B, row 1 and row 2 are no slips of the pen. */
static gboolean
are_told_apart (const char *a, const char *b)
{
  g_autofree char *fold_a = bed_known_fold (a), *fold_b = bed_known_fold (b);
  g_auto (GStrv) words_a = g_strsplit (fold_a, " ", -1);
  g_auto (GStrv) words_b = g_strsplit (fold_b, " ", -1);
  char **at_a = words_a, **at_b = words_b;
  const char *one, *other;

  do
    {
      one = next_telling (&at_a);
      other = next_telling (&at_b);
      if (g_strcmp0 (one, other) != 0)
        return TRUE;
    }
  while (one);
  return FALSE;
}

typedef struct
{
  const char *name;
  const char *nearest;
  guint distance;
} Near;

static void
look_at (Near *near, const char *other)
{
  if (are_told_apart (near->name, other))
    return;
  guint distance = bed_near_distance (near->name, other);
  if (distance < near->distance)
    {
      near->distance = distance;
      near->nearest = other;
    }
}

/* One that @name may be meant for, of the farm or the sheet. */
static const char *
find_near (BedNotebook *self, BedKind kind, const char *name)
{
  glong letters = g_utf8_strlen (name, -1);
  Near near = { name, NULL, MAX (letters / 5, 1) + 1 };
  g_autofree char *prefix = g_strdup_printf ("%d:", kind);
  GHashTableIter iter;
  gpointer key, value;

  if (letters < 5 || g_hash_table_size (self->known[kind]) > MOST_NAMES
      || g_hash_table_size (self->names) > MOST_NAMES)
    return NULL;
  g_hash_table_iter_init (&iter, self->known[kind]);
  while (g_hash_table_iter_next (&iter, NULL, &value))
    look_at (&near, value);
  g_hash_table_iter_init (&iter, self->names);
  while (g_hash_table_iter_next (&iter, &key, &value))
    if (g_str_has_prefix (key, prefix))
      look_at (&near, value);
  return near.nearest;
}

/* The species that @name is without a doubt; NULL: it has to be asked. */
static char *
dup_species (BedNotebook *self, BedKind kind, const char *name)
{
  g_autofree char *plain = without_filling (name);
  const char *known = bed_notebook_find_known (self, kind, plain);
  const char *const *latin = NULL;
  const BedWood *wood = NULL;

  if (known)
    return g_strdup (known);
  if (bed_known_find (kind, plain, &latin) == BED_KNOWN_ONE)
    return dup_name_of_latin (self, kind, latin[0]);
  if (kind == BED_KIND_WOOD && !latin)
    wood = bed_wood_find (bed_woods_get (), name, NULL);
  return wood && g_ascii_strcasecmp (wood->name, name) == 0 ? g_strdup (wood->name) : NULL;
}

gboolean
bed_notebook_knows (BedNotebook *self, BedKind kind, const char *name)
{
  g_autofree char *known = is_species (kind) ? dup_species (self, kind, name) : NULL;

  return known || !is_species (kind);
}

/* What an answer makes of @name. */
static char *
settle (BedNotebook *self, BedKind kind, const char *name, const char *answer)
{
  if (!answer)
    return NULL;
  if (strcmp (answer, "out") == 0)
    {
      self->left_out = BED_ASIDE_ASKED;
      return NULL;
    }
  if (strcmp (answer, "=new") == 0)
    return g_strdup (note_made (self, kind, name));
  return is_species (kind) ? dup_species (self, kind, answer) : g_strdup (answer);
}

/* One is asked for where there is no telling; new where nothing is near. */
static char *
resolve_new (BedNotebook *self, BedKind kind, const char *key, const char *name, guint column)
{
  const char *near = find_near (self, kind, name);

  if (!near)
    return g_strdup (note_made (self, kind, name));
  const char *answer = bed_notebook_ask (self, key, column,
                                         /* Translators: name in the sheet, known name. */
                                         g_strdup_printf (_ ("“%s”: is it “%s”?"), name, near));
  g_autofree char *label = g_strdup_printf (_ ("Yes, %s"), near);
  bed_notebook_offer (self, key, near, label);
  bed_notebook_offer (self, key, "=new", _ ("No, it is another"));
  bed_notebook_suggest (self, key, near);
  return settle (self, kind, name, answer);
}

static char *
resolve_species (BedNotebook *self, BedKind kind, const char *key, const char *name, guint column)
{
  g_autofree char *plain = without_filling (name);
  char *called = dup_species (self, kind, name);
  const char *const *latin = NULL;

  if (called)
    return called;
  gboolean several = bed_known_find (kind, plain, &latin) == BED_KNOWN_SEVERAL;
  const char *answer = bed_notebook_ask (
      self, key, column,
      several ? g_strdup_printf (_ ("“%s” may be one of several. Which is it?"), name)
              : g_strdup_printf (_ ("“%s” is not known. Which is it?"), name));
  ask_species (self, kind, key, name, latin);
  return settle (self, kind, name, answer);
}

/* Of what there is no record a log, a stack, a spawn lot would be made from a name alone. */
static gboolean
can_be_new (BedKind kind)
{
  return kind == BED_KIND_BATCH || kind == BED_KIND_BUYER || kind == BED_KIND_STAND
         || kind == BED_KIND_STRAIN || kind == BED_KIND_AREA || kind == BED_KIND_FELLING
         || kind == BED_KIND_SALE || kind == BED_KIND_SOAK || kind == BED_KIND_LOT;
}

/* Logs and stacks that the farm does not have: one question for all of the column. */
static char *
ask_missing (BedNotebook *self, BedKind kind, const char *name, guint column)
{
  g_autofree char *key = g_strdup_printf ("missing:%u", column);
  const char *meant = bed_notebook_get_meant (self, kind, name);
  if (meant && bed_notebook_find_called (self, kind, meant))
    return g_strdup (bed_notebook_find_called (self, kind, meant));
  g_autofree char *missing = bed_kind_dup_missing (kind, name);
  const char *answer = bed_notebook_ask (
      self, key, column,
      /* Translators: the sentence "There is no log “26X-1”.", of which there may be more. */
      g_strdup_printf (_ ("%s The same holds for others like it. Go on without?"), missing));

  if (bed_notebook_is_new (self, key))
    {
      bed_notebook_offer (self, key, "empty", _ ("Leave these cells empty"));
      bed_notebook_offer (self, key, "out", _ ("Leave these rows out"));
      bed_notebook_let_type (self, key, _ ("The one that is meant"));
      bed_notebook_let_mean (self, key, kind, name);
    }
  if (g_strcmp0 (answer, "out") == 0)
    self->left_out = BED_ASIDE_ASKED;
  return NULL;
}

/* The text of the cell in the column of the row's batch, or "". */
static const char *
find_batch_cell (BedNotebook *self)
{
  guint column = bed_notebook_find_column (self, self->kind, "batch");

  if (column == 0 || column > self->layout.columns->len || self->layout.crossing->len > 0)
    return "";
  guint at = g_array_index (self->layout.columns, guint, column - 1);
  return at < self->line->n_cells ? self->line->cells[at] : "";
}

/* By its code, or by its own number, where the batch says of which. */
static char *
resolve_log (BedNotebook *self, const char *name, guint column)
{
  const char *batch = find_batch_cell (self);
  g_autofree char *code = bed_code_complete (BED_KIND_LOG, name, NULL);
  g_autoptr (BedQuery) q = bed_query_new (
      self->farm, "SELECT code FROM log WHERE code = ?1 COLLATE NOCASE UNION ALL"
                  " SELECT l.code FROM log l LEFT JOIN batch b ON b.id = l.batch"
                  " WHERE l.mark = ?2 AND (?3 = '' OR b.code = ?3 COLLATE NOCASE) LIMIT 2");
  g_autofree char *found = NULL;
  guint n = 0;

  bed_query_bind_text (q, 1, code ? code : name);
  bed_query_bind_text (q, 2, name);
  bed_query_bind_text (q, 3, batch);
  for (; bed_query_next (q); n++)
    if (n == 0)
      found = g_strdup (bed_query_text (q, 0));
  if (!bed_query_finish (q, NULL) || n != 1)
    return ask_missing (self, BED_KIND_LOG, name, column);
  return g_steal_pointer (&found);
}

char *
bed_notebook_resolve (BedNotebook *self, BedKind kind, const char *name, guint column)
{
  g_autofree char *folded = bed_known_fold (name);
  g_autofree char *key = g_strdup_printf ("name:%s:%s", bed_kind_get_info (kind)->name, folded);

  if (!*folded)
    return NULL;
  if (kind == BED_KIND_LOG)
    return resolve_log (self, name, column);
  const char *known = bed_notebook_find_known (self, kind, name);
  if (!known)
    known = find_made (self, kind, name);
  if (known)
    return g_strdup (known);
  /* Asked in another row already: the nearest is not looked for again. */
  if (g_hash_table_contains (self->questions, key))
    return settle (self, kind, name, bed_notebook_ask (self, key, column, g_strdup ("")));
  if (is_species (kind))
    return resolve_species (self, kind, key, name, column);
  return can_be_new (kind) ? resolve_new (self, kind, key, name, column)
                           : ask_missing (self, kind, name, column);
}

BedRecord *
bed_notebook_new_named (BedNotebook *self, BedKind kind, const char *name)
{
  BedRecord *given = kind == BED_KIND_WOOD ? bed_given_new_wood (self->farm, name) : NULL;
  BedRecord *record = given ? given : bed_record_new (kind);

  bed_record_set_text (record, bed_kind_get_info (kind)->key, name);
  return record;
}
