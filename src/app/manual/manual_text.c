#include "app/manual/manual_text.h"

#include <string.h>

static void
block_free (gpointer data)
{
  BedManualBlock *block = data;

  g_free (block->mark);
  g_free (block->text);
  g_free (block->target);
  g_clear_pointer (&block->cells, g_ptr_array_unref);
  g_free (block);
}

static BedManualBlock *
add_block (GPtrArray *blocks, BedManualBlockKind kind, const char *text)
{
  BedManualBlock *block = g_new0 (BedManualBlock, 1);

  block->kind = kind;
  block->text = g_strstrip (g_strdup (text));
  g_ptr_array_add (blocks, block);
  return block;
}

/* --- lines ------------------------------------------------------------------------ */

typedef struct
{
  GPtrArray *blocks;
  gboolean apart; /* an empty line is before this one */
} Reader;

static BedManualBlock *
get_last (Reader *self)
{
  return self->blocks->len ? self->blocks->pdata[self->blocks->len - 1] : NULL;
}

/* Length of "* " or "12. ", 0 where a line begins otherwise. */
static gsize
measure_mark (const char *line)
{
  gsize digits = strspn (line, "0123456789");

  if (g_str_has_prefix (line, "* "))
    return 2;
  return digits && g_str_has_prefix (line + digits, ". ") ? digits + 2 : 0;
}

static void
read_heading (Reader *self, const char *line)
{
  int level = (int) strspn (line, "#");

  add_block (self->blocks, BED_BLOCK_HEADING, line + level)->level = MIN (level, 3);
}

static void
read_point (Reader *self, const char *line)
{
  gsize mark = measure_mark (line);
  BedManualBlock *block = add_block (self->blocks, BED_BLOCK_POINT, line + mark);

  block->mark = *line == '*' ? g_strdup ("•") : g_strndup (line, mark - 1);
}

/* ![what is told of it](file) */
static void
read_picture (Reader *self, const char *line)
{
  const char *middle = strstr (line, "](");
  const char *end = middle ? strchr (middle, ')') : NULL;

  if (!end)
    return;
  g_autofree char *told = g_strndup (line + 2, (gsize) (middle - line) - 2);
  add_block (self->blocks, BED_BLOCK_PICTURE, told)->target
      = g_strndup (middle + 2, (gsize) (end - middle) - 2);
}

/* The rule under the head says nothing. */
static void
read_row (Reader *self, const char *line)
{
  BedManualBlock *last = get_last (self);
  g_auto (GStrv) cells = g_strsplit (line + 1, "|", -1);
  guint n = g_strv_length (cells);

  if (g_str_has_prefix (line, "|--") || g_str_has_prefix (line, "| --") || n < 2)
    return;
  if (!last || last->kind != BED_BLOCK_TABLE)
    {
      last = add_block (self->blocks, BED_BLOCK_TABLE, "");
      last->cells = g_ptr_array_new_with_free_func (g_free);
      last->n_columns = n - 1;
    }
  for (guint i = 0; i < last->n_columns; i++)
    g_ptr_array_add (last->cells, g_strdup (i < n ? g_strstrip (cells[i]) : ""));
}

/* A line that goes on with the words before it, but for an empty one between. */
static void
read_words (Reader *self, const char *line)
{
  BedManualBlock *last = get_last (self);

  if (last && !self->apart && (last->kind == BED_BLOCK_WORDS || last->kind == BED_BLOCK_POINT))
    {
      g_autofree char *before = last->text;
      g_autofree char *more = g_strstrip (g_strdup (line));
      last->text = g_strconcat (before, " ", more, NULL);
    }
  else
    add_block (self->blocks, BED_BLOCK_WORDS, line);
}

static void
read_typed (Reader *self, const char *line)
{
  BedManualBlock *last = get_last (self);

  if (last && last->kind == BED_BLOCK_TYPED)
    {
      g_autofree char *before = last->text;
      last->text = g_strconcat (before, "\n", line, NULL);
    }
  else
    add_block (self->blocks, BED_BLOCK_TYPED, line);
}

static void
read_line (Reader *self, const char *line)
{
  if (*line == '#')
    read_heading (self, line);
  else if (measure_mark (line))
    read_point (self, line);
  else if (g_str_has_prefix (line, "!["))
    read_picture (self, line);
  else if (*line == '|')
    read_row (self, line);
  else if (g_str_has_prefix (line, "    ") && self->apart)
    read_typed (self, line + 4);
  else
    read_words (self, line);
}

GPtrArray *
bed_manual_read (const char *text)
{
  g_return_val_if_fail (text != NULL, NULL);
  Reader reader = { g_ptr_array_new_with_free_func (block_free), TRUE };
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);

  for (char **line = lines; *line; line++)
    {
      /* What is hidden is for the reader of the file. */
      if (**line && !g_str_has_prefix (*line, "<!--"))
        read_line (&reader, *line);
      reader.apart = !**line || (reader.apart && g_str_has_prefix (*line, "    "));
    }
  return reader.blocks;
}

/* --- within a block ---------------------------------------------------------------- */

typedef struct
{
  GString *said;
  gboolean markup; /* or nothing but the words */
} Writer;

typedef struct
{
  const char *mark, *opens, *closes;
} Style;

static const Style styles[]
    = { { "**", "<b>", "</b>" }, { "`", "<tt>", "</tt>" }, { "*", "<i>", "</i>" } };

static void
add_tag (Writer *self, const char *tag)
{
  if (self->markup)
    g_string_append (self->said, tag);
}

static void
add_words (Writer *self, const char *text, gsize length)
{
  g_autofree char *escaped = self->markup ? g_markup_escape_text (text, (gssize) length)
                                          : g_strndup (text, length);

  g_string_append (self->said, escaped);
}

/* Where what stands between two of the marks at @at ends; NULL: it is a plain character. */
static const char *
find_end (const char *at, const char *mark)
{
  gsize length = strlen (mark);

  if (!g_str_has_prefix (at, mark) || at[length] == ' ' || !at[length])
    return NULL;
  return strstr (at + length, mark);
}

/* [words](target); where it ends, or NULL. */
static const char *
add_link (Writer *self, const char *at)
{
  const char *middle = *at == '[' ? strstr (at, "](") : NULL;
  const char *end = middle ? strchr (middle, ')') : NULL;

  if (!end)
    return NULL;
  g_autofree char *target = g_strndup (middle + 2, (gsize) (end - middle) - 2);
  g_autofree char *opens = g_markup_printf_escaped ("<a href=\"%s\">", target);
  add_tag (self, opens);
  add_words (self, at + 1, (gsize) (middle - at) - 1);
  add_tag (self, "</a>");
  return end + 1;
}

static const char *
add_styled (Writer *self, const char *at)
{
  for (gsize i = 0; i < G_N_ELEMENTS (styles); i++)
    {
      const char *end = find_end (at, styles[i].mark);
      gsize length = strlen (styles[i].mark);

      if (!end)
        continue;
      add_tag (self, styles[i].opens);
      add_words (self, at + length, (gsize) (end - at) - length);
      add_tag (self, styles[i].closes);
      return end + length;
    }
  return NULL;
}

static char *
write_words (const char *text, Writer writer)
{
  for (const char *at = text; *at;)
    {
      const char *next = add_link (&writer, at);

      next = next ? next : add_styled (&writer, at);
      if (!next)
        {
          next = g_utf8_next_char (at);
          add_words (&writer, at, (gsize) (next - at));
        }
      at = next;
    }
  return g_string_free (writer.said, FALSE);
}

char *
bed_manual_dup_markup (const char *text)
{
  g_return_val_if_fail (text != NULL, NULL);
  return write_words (text, (Writer){ g_string_new (NULL), TRUE });
}

char *
bed_manual_dup_plain (const char *text)
{
  g_return_val_if_fail (text != NULL, NULL);
  return write_words (text, (Writer){ g_string_new (NULL), FALSE });
}
