#include "model/farm/names.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/farm/code.h"
#include "model/farm/farm_private.h"
#include "model/farm/kind_words.h"
#include "model/farm/kinds.h"
#include "model/farm/known.h"
#include "model/farm/query.h"
#include "science/language.h"

/* Bytes of a name that somebody may have mistyped; the work grows with their square. */
#define LONGEST 200

/* Optimal string alignment distance over bytes, the last three rows kept. */
static guint
alignment (const char *a, const char *b)
{
  gsize la = strlen (a), lb = strlen (b);
  g_autofree guint *rows = g_new0 (guint, 3 * (lb + 1));
  guint *before = rows, *above = rows + lb + 1, *row = rows + 2 * (lb + 1);

  for (gsize j = 0; j <= lb; j++)
    above[j] = j;
  for (gsize i = 1; i <= la; i++)
    {
      row[0] = i;
      for (gsize j = 1; j <= lb; j++)
        {
          guint same = a[i - 1] == b[j - 1] ? 0 : 1;
          row[j] = MIN (MIN (above[j], row[j - 1]) + 1, above[j - 1] + same);
          if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
            row[j] = MIN (row[j], before[j - 2] + 1);
        }
      guint *spare = before;
      before = above;
      above = row;
      row = spare;
    }
  return above[lb];
}

guint
bed_near_distance (const char *a, const char *b)
{
  if (strlen (a) > LONGEST || strlen (b) > LONGEST)
    return G_MAXUINT;
  g_autofree char *fold_a = g_utf8_casefold (a, -1);
  g_autofree char *fold_b = g_utf8_casefold (b, -1);

  return alignment (fold_a, fold_b);
}

const char *
bed_near_choose (const char *name, const char *const *texts, guint n, guint part)
{
  guint best = MAX (strlen (name) / part, 1) + 1;
  const char *nearest = NULL;

  for (guint i = 0; i < n; i++)
    {
      guint distance = texts[i] ? bed_near_distance (name, texts[i]) : G_MAXUINT;
      if (distance < best)
        {
          best = distance;
          nearest = texts[i];
        }
    }
  return nearest;
}

/* Names of the kind, as many as @limit lets through, a NULL behind them; NULL when they cannot be
 * asked. */
static GPtrArray *
read_names (BedFarm *farm, BedKind kind, const char *limit)
{
  const BedKindInfo *info = bed_kind_get_info (kind);
  g_autofree char *sql
      = g_strdup_printf ("SELECT \"%s\" FROM \"%s\" %s", info->key, info->name, limit);
  g_autoptr (BedQuery) q = bed_query_new (farm, sql);
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);

  while (bed_query_next (q))
    g_ptr_array_add (names, g_strdup (bed_query_text (q, 0)));
  g_ptr_array_add (names, NULL);
  return bed_query_finish (q, NULL) ? g_steal_pointer (&names) : NULL;
}

char *
bed_near_dup_name (BedFarm *farm, BedKind kind, const char *name)
{
  g_autoptr (GPtrArray) names = read_names (farm, kind, "LIMIT 5000");

  return names ? g_strdup (
             bed_near_choose (name, (const char *const *) names->pdata, names->len - 1, 3))
               : NULL;
}

/* "a, b, c" of up to six names, or NULL when there are none or more. */
static char *
few_names (BedFarm *farm, BedKind kind)
{
  g_autoptr (GPtrArray) names = read_names (farm, kind, "ORDER BY 1 LIMIT 7");

  return names && names->len > 1 && names->len <= 7
             ? g_strjoinv (bed_comma (), (char **) names->pdata)
             : NULL;
}

void
bed_near_set_error (BedFarm *farm, BedKind kind, const char *name, GError **error)
{
  g_autofree char *missing = bed_kind_dup_missing (kind, name);
  g_autofree char *nearest = bed_near_dup_name (farm, kind, name);
  g_autofree char *few = nearest ? NULL : few_names (farm, kind);

  if (nearest)
    /* Translators: the sentence "There is no batch “26X”.", likely name. */
    g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_FOUND, _ ("%s Did you mean “%s”?"),
                 missing, nearest);
  else if (few)
    /* Translators: the sentence "There is no batch “26X”.", list of names. */
    g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_FOUND, _ ("%s There are: %s."), missing,
                 few);
  else
    /* Translators: the sentence "There is no batch “26X”." */
    g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_FOUND, _ ("%s Add it first."), missing);
}

/* The record of the species that people call @name: trade, regional and Latin names; 0 when there
 * is none, or several, with the error. */
static gint64
find_species (BedFarm *self, BedKind kind, const char *name, GError **error)
{
  const char *const *latin = NULL;
  BedKnownName known = bed_known_find (kind, name, &latin);
  g_autofree char *sql
      = g_strdup_printf ("SELECT id, common_name FROM \"%s\" WHERE latin_name = ?1 COLLATE NOCASE",
                         bed_kind_get_info (kind)->name);
  g_autoptr (GString) all = g_string_new (NULL);
  gint64 id = 0;

  for (; latin && *latin; latin++)
    {
      g_autoptr (BedQuery) q = bed_query_new (self, sql);
      bed_query_bind_text (q, 1, *latin);
      if (bed_query_next (q))
        {
          id = bed_query_int (q, 0);
          g_string_append_printf (all, "%s%s", all->len ? bed_comma () : "", bed_query_text (q, 1));
        }
      if (!bed_query_finish (q, error))
        return 0;
    }
  if (known == BED_KNOWN_ONE && id)
    return id;
  if (known == BED_KNOWN_SEVERAL && all->len)
    /* Translators: name typed, list of names. */
    g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_FOUND,
                 _ ("“%s” may be one of several. Write which: %s."), name, all->str);
  else
    bed_near_set_error (self, kind, name, error);
  return 0;
}

gint64
bed_farm_find_named (BedFarm *self, BedKind kind, const char *name, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (self) && kind < BED_N_KINDS && name != NULL, 0);
  const BedKindInfo *info = bed_kind_get_info (kind);

  g_return_val_if_fail (info->key != NULL, 0);
  g_autofree char *code = bed_code_complete (kind, name, error);
  if (!code)
    return 0;
  g_autofree char *sql = g_strdup_printf ("SELECT id FROM \"%s\" WHERE \"%s\" = ?1 COLLATE NOCASE",
                                          info->name, info->key);
  sqlite3_stmt *stmt = bed_farm_statement (self, sql, error);
  if (!stmt)
    return 0;
  bed_farm_bind_text (self, stmt, 1, code);
  int status = bed_farm_step (self, stmt);
  gint64 id = status == SQLITE_ROW ? sqlite3_column_int64 (stmt, 0) : 0;
  if (status != SQLITE_ROW && status != SQLITE_DONE)
    bed_farm_set_error (self, error, _ ("reading a record"));
  sqlite3_reset (stmt);
  if (status == SQLITE_ROW && id == 0)
    g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_CORRUPT,
                 _ ("“%s” stands in the file under the number 0, which no record may have. "
                    "bedlog-tool check says what to do."),
                 code);
  return id;
}

gint64
bed_farm_find_marked (BedFarm *self, const char *mark, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (self) && mark != NULL, 0);
  g_autoptr (BedQuery) q = bed_query_new (
      self, "SELECT id, code FROM log WHERE mark = ?1 COLLATE NOCASE ORDER BY id DESC LIMIT 6");
  g_autoptr (GString) codes = g_string_new (NULL);
  gint64 id = 0;
  guint n = 0;

  bed_query_bind_text (q, 1, mark);
  for (; bed_query_next (q); n++)
    {
      id = bed_query_int (q, 0);
      g_string_append_printf (codes, "%s%s", n ? bed_comma () : "", bed_query_text (q, 1));
    }
  if (!bed_query_finish (q, error))
    return 0;
  if (n > 1)
    /* Translators: a grower's own number of a log, list of codes. */
    g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_FOUND,
                 _ ("Several logs have the own number %s. Write which: %s."), mark, codes->str);
  return n == 1 ? id : 0;
}

gint64
bed_farm_find (BedFarm *self, BedKind kind, const char *name, GError **error)
{
  g_autoptr (GError) why = NULL;
  g_autofree char *trimmed = g_strstrip (g_strdup (name));
  gint64 id = bed_farm_find_named (self, kind, trimmed, &why);

  if (!id && !why && kind == BED_KIND_LOG)
    id = bed_farm_find_marked (self, trimmed, &why);
  if (why)
    g_propagate_error (error, g_steal_pointer (&why));
  else if (!id && (kind == BED_KIND_WOOD || kind == BED_KIND_MUSHROOM))
    id = find_species (self, kind, trimmed, error);
  else if (!id)
    bed_near_set_error (self, kind, trimmed, error);
  return id;
}
