/* Logs as people name them: many at once, with what is the same left out. */
#include "model/farm/source.h"

#include <glib/gi18n-lib.h>
#include <stdlib.h>
#include <string.h>

#include "model/farm/names.h"
#include "model/farm/query.h"
#include "science/check_character.h"

/* Words of a name: "The low crib by the brook". */
#define MOST_WORDS 8

typedef struct
{
  int number;
  gint64 id;
  gboolean alive;
} Numbered;

typedef struct
{
  BedFarm *farm;
  GArray *logs; /* gint64 */
  GHashTable *seen;
  char *stem;       /* what numbers go on from: "26A-"; NULL: nothing */
  GArray *numbered; /* Numbered: all logs of the stem, by number */
} Reader;

/* --- logs -------------------------------------------------------------------------------- */

static void
add_once (Reader *self, gint64 id)
{
  if (g_hash_table_add (self->seen, GSIZE_TO_POINTER (id)))
    g_array_append_val (self->logs, id);
}

static gboolean
add_rows (Reader *self, const char *sql, gint64 parameter, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (self->farm, sql);

  bed_query_bind_int (q, 1, parameter);
  while (bed_query_next (q))
    add_once (self, bed_query_int (q, 0));
  return bed_query_finish (q, error);
}

static gboolean
add_all_of (Reader *self, BedKind kind, gint64 id, GError **error)
{
  if (kind == BED_KIND_STACK)
    return add_rows (
        self,
        "SELECT x.log FROM place x JOIN log l ON l.id = x.log WHERE x.stack = ?1"
        " AND x.until IS NULL AND bed_alive (l.retired_on, bed_today ()) ORDER BY l.code",
        id, error);
  return add_rows (self,
                   "SELECT id FROM log WHERE batch = ?1 AND bed_alive (retired_on, bed_today ())"
                   " ORDER BY code",
                   id, error);
}

/* --- codes ------------------------------------------------------------------------------- */

/* "26A-" and 17 of 26A-017-K and of 26A-17; -1 where no number ends it. */
static int
split_number (const char *code, char **stem)
{
  gsize end = strlen (code);

  if (end > 2 && code[end - 2] == '-' && bed_check_character_valid (code))
    end -= 2;
  gsize from = end;
  while (from > 0 && g_ascii_isdigit (code[from - 1]))
    from--;
  if (from == end || from == 0 || end - from > 6)
    return -1;
  *stem = g_strndup (code, from);
  return atoi (code + from);
}

static int
by_number (gconstpointer a, gconstpointer b)
{
  return ((const Numbered *) a)->number - ((const Numbered *) b)->number;
}

/* FALSE when it cannot be asked. */
static gboolean
go_on_from (Reader *self, const char *stem, GError **error)
{
  if (self->stem && g_ascii_strcasecmp (self->stem, stem) == 0)
    return TRUE;
  g_autoptr (BedQuery) q
      = bed_query_new (self->farm, "SELECT id, code, bed_alive (retired_on, bed_today ()) FROM log"
                                   " WHERE substr (code, 1, length (?1)) = ?1 COLLATE NOCASE");

  g_free (self->stem);
  self->stem = g_strdup (stem);
  g_array_set_size (self->numbered, 0);
  bed_query_bind_text (q, 1, stem);
  while (bed_query_next (q))
    {
      g_autofree char *its = NULL;
      Numbered log = { split_number (bed_query_text (q, 1), &its), bed_query_int (q, 0),
                       bed_query_int (q, 2) != 0 };
      if (its && g_ascii_strcasecmp (its, stem) == 0)
        g_array_append_val (self->numbered, log);
    }
  g_array_sort (self->numbered, by_number);
  return bed_query_finish (q, error);
}

static void
go_on_from_nothing (Reader *self)
{
  g_clear_pointer (&self->stem, g_free);
  g_array_set_size (self->numbered, 0);
}

static const Numbered *
find_number (Reader *self, int number)
{
  for (guint i = 0; i < self->numbered->len; i++)
    if (g_array_index (self->numbered, Numbered, i).number == number)
      return &g_array_index (self->numbered, Numbered, i);
  return NULL;
}

static gboolean
refuse_number (Reader *self, int number, GError **error)
{
  const Numbered *logs = (const Numbered *) self->numbered->data;
  guint n = self->numbered->len;

  if (n == 0)
    return bed_farm_refuse (error, BED_FARM_ERROR_NOT_FOUND, _ ("There is no log %s%d."),
                            self->stem, number);
  /* Translators: the log that is not there, the first and the last that are. */
  return bed_farm_refuse (error, BED_FARM_ERROR_NOT_FOUND,
                          _ ("There is no log %s%d. There are %s%d to %d."), self->stem, number,
                          self->stem, logs[0].number, logs[n - 1].number);
}

/* --- ranges ------------------------------------------------------------------------------ */

typedef struct
{
  char *stem; /* NULL: that which numbers go on from */
  int first, last;
} Range;

static gboolean
is_number (const char *word)
{
  gsize n = strspn (word, "0123456789");

  return n > 0 && n <= 6 && !word[n];
}

/* "26A-1" and "12", or "26A-12". */
static gboolean
read_ends (const char *left, const char *right, Range *range)
{
  g_autofree char *stem = NULL, *other = NULL;

  range->first = is_number (left) ? atoi (left) : split_number (left, &stem);
  range->last = is_number (right) ? atoi (right) : split_number (right, &other);
  if (range->first < 0 || range->last < 0
      || (other && (!stem || g_ascii_strcasecmp (stem, other) != 0)))
    return FALSE;
  range->stem = g_steal_pointer (&stem);
  return TRUE;
}

/* What 26A-1-12 may be: a code has one character behind its number, and on a tag three figures. */
typedef enum
{
  DASH_NONE,
  DASH_RANGE,
  DASH_EITHER,
} Dash;

static Dash
read_dashed (const char *word, Range *range)
{
  const char *dash = strrchr (word, '-');
  g_autofree char *left = dash ? g_strndup (word, dash - word) : NULL;

  if (!dash || !is_number (dash + 1) || !read_ends (left, dash + 1, range))
    return DASH_NONE;
  gsize figures = 0;
  while (figures < strlen (left) && g_ascii_isdigit (left[strlen (left) - 1 - figures]))
    figures++;
  if (is_number (left) || dash[2])
    return DASH_RANGE;
  return figures < 3 ? DASH_EITHER : DASH_NONE;
}

static gboolean
add_range (Reader *self, const Range *range, GError **error)
{
  int first = MIN (range->first, range->last), last = MAX (range->first, range->last);

  if (range->stem && !go_on_from (self, range->stem, error))
    return FALSE;
  if (!find_number (self, range->first))
    return refuse_number (self, range->first, error);
  if (!find_number (self, range->last))
    return refuse_number (self, range->last, error);
  for (guint i = 0; i < self->numbered->len; i++)
    {
      const Numbered *log = &g_array_index (self->numbered, Numbered, i);
      if (log->number >= first && log->number <= last && log->alive)
        add_once (self, log->id);
    }
  return TRUE;
}

/* 1: taken, 0: it is no range, -1: with @error. */
static int
take_range (Reader *self, const char *word, GError **error)
{
  g_auto (GStrv) ends = g_strsplit (word, "..", 2);
  Range range = { 0 };
  Dash dash = DASH_RANGE;

  if (!ends[1])
    dash = read_dashed (word, &range);
  else if (!read_ends (ends[0], ends[1], &range))
    dash = DASH_NONE;
  g_autofree char *stem = range.stem;
  if (dash == DASH_NONE || (!stem && !self->stem))
    return 0;
  if (dash == DASH_EITHER)
    return bed_farm_refuse (error, BED_FARM_ERROR_INVALID,
                            /* Translators: what was typed, a log, the first and last of several. */
                            _ ("“%s” may be log %s%d or several. Write %s%d..%d for several."),
                            word, stem, range.first, stem, range.first, range.last)
               ? 0
               : -1;
  return add_range (self, &range, error) ? 1 : -1;
}

/* --- words ------------------------------------------------------------------------------- */

static gboolean
begins_number (const char *word)
{
  return word && g_ascii_isdigit (*word) && strspn (word, "0123456789.-") == strlen (word);
}

/* A batch with numbers behind it is no batch, but what they go on from. */
static gboolean
take_named (Reader *self, BedKind kind, gint64 id, const char *name, const char *next,
            GError **error)
{
  g_autofree char *stem = NULL;

  if (kind == BED_KIND_LOG)
    {
      g_autofree char *code = bed_farm_dup_name (self->farm, BED_KIND_LOG, id);
      add_once (self, id);
      return !code || split_number (code, &stem) < 0 || go_on_from (self, stem, error);
    }
  if (kind == BED_KIND_BATCH && begins_number (next))
    {
      stem = g_strconcat (name, "-", NULL);
      return go_on_from (self, stem, error);
    }
  go_on_from_nothing (self);
  return add_all_of (self, kind, id, error);
}

/* How many of the words are the longest name that begins here; 0: none is, or with @error. */
static guint
find_longest (Reader *self, char **words, BedKind *kind, gint64 *id, char **name, GError **error)
{
  guint n = MIN (g_strv_length (words), MOST_WORDS);

  for (; n > 0; n--)
    {
      char *cut = words[n];
      words[n] = NULL;
      g_autofree char *joined = g_strjoinv (" ", words);
      words[n] = cut;
      g_autoptr (GError) why = NULL;
      *id = bed_source_find_named (self->farm, joined, kind, &why);
      if (*id)
        {
          *name = g_steal_pointer (&joined);
          return n;
        }
      if (why)
        {
          g_propagate_error (error, g_steal_pointer (&why));
          return 0;
        }
    }
  return 0;
}

/* A number with a code before it, else an own number. */
static int
take_number (Reader *self, const char *word, GError **error)
{
  g_autoptr (GError) why = NULL;
  gint64 id = 0;

  if (self->stem && is_number (word))
    {
      const Numbered *log = find_number (self, atoi (word));
      if (!log)
        return refuse_number (self, atoi (word), error) ? 1 : -1;
      id = log->id;
    }
  else
    id = bed_farm_find_marked (self->farm, word, &why);
  if (id)
    add_once (self, id);
  if (why)
    g_propagate_error (error, g_steal_pointer (&why));
  return why ? -1 : id != 0;
}

/* What was not understood: of a code whose like there are the number, else all of it, since names
 * may be of several words. */
static void
refuse (Reader *self, char **words, GError **error)
{
  g_autofree char *all = g_strjoinv (" ", words), *stem = NULL;
  int number = split_number (words[0], &stem);

  if (number >= 0 && !go_on_from (self, stem, error))
    return;
  if (number >= 0 && self->numbered->len > 0)
    refuse_number (self, number, error);
  else
    bed_source_set_error (self->farm, all, error);
}

/* How many words were taken; 0 with @error. */
static guint
take_words (Reader *self, char **words, GError **error)
{
  g_autoptr (GError) mistyped = NULL;
  g_autofree char *name = NULL;
  gint64 id = 0;
  BedKind kind;
  gboolean follows = self->stem && begins_number (words[0]);
  guint n = follows ? 0 : find_longest (self, words, &kind, &id, &name, &mistyped);

  if (n > 0)
    return take_named (self, kind, id, name, words[n], error) ? n : 0;
  int taken = take_range (self, words[0], error);
  if (taken == 0 && !mistyped)
    taken = take_number (self, words[0], error);
  if (taken == 0 && mistyped)
    g_propagate_error (error, g_steal_pointer (&mistyped));
  else if (taken == 0)
    refuse (self, words, error);
  return taken > 0;
}

/* One between two commas, its ranges without spaces; first as it stands, which may be a name. */
static gboolean
take_item (Reader *self, char *item, GError **error)
{
  static const char *const dots[] = { "…", "...", "–" };
  g_autoptr (GString) plain = g_string_new (g_strstrip (item));
  BedKind kind;
  gint64 id = self->stem && begins_number (item)
                  ? 0
                  : bed_source_find_named (self->farm, item, &kind, NULL);

  if (id)
    return take_named (self, kind, id, item, NULL, error);
  for (guint i = 0; i < G_N_ELEMENTS (dots); i++)
    g_string_replace (plain, dots[i], "..", 0);
  while (g_string_replace (plain, " ..", "..", 0) + g_string_replace (plain, ".. ", "..", 0) > 0)
    ;
  g_auto (GStrv) split = g_strsplit_set (plain->str, " \t\r", -1);
  g_autoptr (GPtrArray) words = g_ptr_array_new ();
  for (guint i = 0; split[i]; i++)
    if (*split[i])
      g_ptr_array_add (words, split[i]);
  guint n = words->len;
  g_ptr_array_add (words, NULL);
  for (guint at = 0, taken; at < n; at += taken)
    if (!(taken = take_words (self, (char **) words->pdata + at, error)))
      return FALSE;
  return TRUE;
}

GArray *
bed_source_find_logs (BedFarm *farm, const char *text, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && text != NULL, NULL);
  g_auto (GStrv) items = g_strsplit_set (text, ",;\n", -1);
  g_autoptr (GArray) logs = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autoptr (GArray) numbered = g_array_new (FALSE, FALSE, sizeof (Numbered));
  g_autoptr (GHashTable) seen = g_hash_table_new (NULL, NULL);
  Reader self = { farm, logs, seen, NULL, numbered };
  gboolean done = TRUE;

  for (guint i = 0; items[i] && done; i++)
    done = take_item (&self, items[i], error);
  g_free (self.stem);
  return done ? g_steal_pointer (&logs) : NULL;
}
