#include "model/farm/known.h"

#include <gio/gio.h>
#include <string.h>

#include "model/farm/kinds.h"
#include "model_resources.h"

/* --- folding ---------------------------------------------------------------------- */

/* Combining marks above and below letters; those of kana stay. */
static gboolean
is_accent (gunichar c)
{
  return c >= 0x0300 && c <= 0x036f;
}

static void
end_word (GString *folded, gsize start)
{
  static const char *const numbers[] = { "nr", "num", "number", "nummer", "numero", NULL };
  const char *word = folded->str + start;

  if (*word == 'n' && g_strv_contains (numbers, word))
    {
      g_string_truncate (folded, start);
      g_string_append (folded, "no");
    }
}

/* Ends the word from @start on; where the next one begins. */
static gsize
begin_word (GString *folded, gsize start)
{
  end_word (folded, start);
  if (folded->len > 0 && folded->str[folded->len - 1] != ' ')
    g_string_append_c (folded, ' ');
  return folded->len;
}

/* Most of what is in a sheet: the same, without the tables of Unicode. */
static char *
fold_ascii (const char *text)
{
  GString *folded = g_string_sized_new (strlen (text) + 8);
  gsize start = 0;

  for (const char *at = text; *at; at++)
    {
      if (g_ascii_isalnum (*at))
        {
          g_string_append_c (folded, g_ascii_tolower (*at));
          continue;
        }
      if (*at == '#')
        g_string_append (folded, folded->len > start ? " no" : "no");
      start = begin_word (folded, start);
    }
  end_word (folded, start);
  return g_strchomp (g_string_free (folded, FALSE));
}

char *
bed_known_fold (const char *text)
{
  if (g_str_is_ascii (text))
    return fold_ascii (text);
  g_autofree char *small = g_utf8_casefold (text, -1);
  g_autofree char *plain = g_utf8_normalize (small, -1, G_NORMALIZE_ALL);
  GString *folded = g_string_new (NULL);
  gsize start = 0;

  for (const char *at = plain ? plain : ""; *at; at = g_utf8_next_char (at))
    {
      gunichar c = g_utf8_get_char (at);
      if (is_accent (c))
        continue;
      /* N° as typed on keyboards that have no º. */
      gboolean number = c == '#'
                        || (c == 0xb0 && folded->len == start + 1 && folded->len > 0
                            && folded->str[start] == 'n');
      if (!number && (g_unichar_isalnum (c) || g_unichar_ismark (c)))
        {
          g_string_append_unichar (folded, c);
          continue;
        }
      if (c == '#')
        g_string_append (folded, folded->len > start ? " no" : "no");
      else if (number)
        g_string_append_c (folded, 'o');
      start = begin_word (folded, start);
    }
  end_word (folded, start);
  return g_strchomp (g_string_free (folded, FALSE));
}

/* --- names ------------------------------------------------------------------------ */

typedef struct
{
  GPtrArray *latin; /* NULL behind them */
  gboolean doubtful;
} Meaning;

#define FIRST_LANGUAGE 2 /* column of data/given/names.csv */

typedef struct
{
  GHashTable *meanings; /* "wood:red oak" -> Meaning */
  GHashTable *others;   /* "wood:Quercus rubra" -> GString, all its names, also without accents */
  GHashTable *given;    /* "wood:Quercus rubra" -> GStrv, its name in each of the languages */
  char **languages;     /* from FIRST_LANGUAGE on; names as of locales */
} Names;

static void
add_to_others (Names *names, const char *kind, const char *latin, const char *name,
               const char *folded)
{
  g_autofree char *key = g_strconcat (kind, ":", latin, NULL);
  GString *others = g_hash_table_lookup (names->others, key);

  if (!others)
    {
      others = g_string_new (NULL);
      g_hash_table_insert (names->others, g_steal_pointer (&key), others);
    }
  g_string_append_printf (others, " %s %s", name, folded);
}

static void
add_name (Names *names, const char *kind, char *name, const char *latin)
{
  char *doubt = g_str_has_suffix (name, "?") ? strrchr (name, '?') : NULL;

  if (doubt)
    *doubt = '\0';
  g_autofree char *folded = bed_known_fold (name);
  g_autofree char *key = g_strconcat (kind, ":", folded, NULL);
  add_to_others (names, kind, latin, name, folded);
  Meaning *meaning = g_hash_table_lookup (names->meanings, key);
  if (!meaning)
    {
      meaning = g_new0 (Meaning, 1);
      meaning->latin = g_ptr_array_new ();
      g_ptr_array_add (meaning->latin, NULL);
      g_hash_table_insert (names->meanings, g_steal_pointer (&key), meaning);
    }
  meaning->doubtful = meaning->doubtful || doubt;
  for (guint i = 0; i + 1 < meaning->latin->len; i++)
    if (strcmp (meaning->latin->pdata[i], latin) == 0)
      return;
  g_ptr_array_insert (meaning->latin, meaning->latin->len - 1, g_strdup (latin));
}

static char **
read_lines (const char *name)
{
  g_autofree char *path = g_strconcat ("/org/bedlog/model/", name, NULL);
  g_autoptr (GBytes) bytes
      = g_resource_lookup_data (model_get_resource (), path, G_RESOURCE_LOOKUP_FLAGS_NONE, NULL);

  if (!bytes)
    g_error ("%s is not in the program", name);
  return g_strsplit (g_bytes_get_data (bytes, NULL), "\n", -1);
}

/* kind,latin_name,language…: no cell is quoted. Each is a name like any other, too. */
static void
read_given (Names *names)
{
  g_auto (GStrv) lines = read_lines ("given-names.csv");

  names->given = g_hash_table_new (g_str_hash, g_str_equal);
  names->languages = g_strsplit (lines[0], ",", -1);
  for (char **line = lines + 1; *line && **line; line++)
    {
      char **cells = g_strsplit (*line, ",", -1);
      g_hash_table_insert (names->given, g_strconcat (cells[0], ":", cells[1], NULL), cells);
      for (guint i = FIRST_LANGUAGE; cells[i]; i++)
        if (*cells[i])
          add_name (names, cells[0], cells[i], cells[1]);
    }
}

/* kind,latin,name;name;name: no cell is quoted. */
static gpointer
read_names (gpointer none)
{
  Names *names = g_new0 (Names, 1);
  g_auto (GStrv) lines = read_lines ("names.csv");

  names->meanings = g_hash_table_new (g_str_hash, g_str_equal);
  names->others = g_hash_table_new (g_str_hash, g_str_equal);
  for (char **line = lines + 1; *line && **line; line++)
    {
      g_auto (GStrv) cells = g_strsplit (*line, ",", 3);
      g_auto (GStrv) words = g_strsplit (cells[2], ";", -1);
      for (char **word = words; *word; word++)
        add_name (names, cells[0], *word, cells[1]);
      g_autofree char *latin = g_strdup (cells[1]);
      add_name (names, cells[0], latin, cells[1]);
    }
  read_given (names);
  return names;
}

static const Names *
get_names (void)
{
  static GOnce once = G_ONCE_INIT;

  return g_once (&once, read_names, NULL);
}

BedKnownName
bed_known_find (BedKind kind, const char *name, const char *const **latin)
{
  g_autofree char *folded = bed_known_fold (name);
  g_autofree char *key = g_strconcat (bed_kind_get_info (kind)->name, ":", folded, NULL);
  const Meaning *meaning = g_hash_table_lookup (get_names ()->meanings, key);

  if (!meaning)
    return BED_KNOWN_NOT;
  *latin = (const char *const *) meaning->latin->pdata;
  return meaning->doubtful ? BED_KNOWN_SEVERAL : BED_KNOWN_ONE;
}

const char *
bed_known_get_names (const char *kind, const char *latin)
{
  g_autofree char *key = g_strconcat (kind, ":", latin, NULL);
  const GString *others = g_hash_table_lookup (get_names ()->others, key);

  return others ? others->str : "";
}

/* The column of the language that the program itself is read in; 0: none, it has names already. */
static guint
find_language (char **languages)
{
  const char *const *wanted = g_get_language_names ();

  for (; *wanted && !g_str_equal (*wanted, "C") && !g_str_equal (*wanted, "en"); wanted++)
    for (guint i = FIRST_LANGUAGE; languages[i]; i++)
      if (g_str_equal (languages[i], *wanted))
        return i;
  return 0;
}

const char *
bed_known_get_given (BedKind kind, const char *latin)
{
  const Names *names = get_names ();
  guint column = find_language (names->languages);
  g_autofree char *key = g_strconcat (bed_kind_get_info (kind)->name, ":", latin, NULL);
  char **cells = column ? g_hash_table_lookup (names->given, key) : NULL;

  if (!cells)
    return NULL;
  return *cells[column] ? cells[column] : cells[1];
}
