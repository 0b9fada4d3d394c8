/* From the text of an expression to a tree. */
#include "report/expression_private.h"

#include <string.h>

#include "model/farm/kinds.h"

typedef struct
{
  const char *at;
  const BedScope *scope;
} Reader;

static BedNode *read_sum (Reader *reader);

/* Helpers */

static BedNode *
new_node (BedNode node)
{
  return g_memdup2 (&node, sizeof node);
}

static BedNode *
new_pair (BedNodeKind kind, BedNode *first, BedNode *second)
{
  return new_node ((BedNode){ .kind = kind, .arguments = { first, second } });
}

static BedNode *
new_number (double number)
{
  return new_node ((BedNode){ .kind = BED_NODE_NUMBER, .number = number });
}

static void
skip_space (Reader *reader)
{
  while (*reader->at == ' ')
    reader->at++;
}

static gboolean
take (Reader *reader, char c)
{
  skip_space (reader);
  if (*reader->at != c)
    return FALSE;
  reader->at++;
  return TRUE;
}

static void
expect (Reader *reader, char c)
{
  if (!take (reader, c))
    g_error ("expected %c at '%s'", c, reader->at);
}

static char *
read_word (Reader *reader)
{
  skip_space (reader);
  const char *start = reader->at;
  while (g_ascii_isalnum (*reader->at) || *reader->at == '_')
    reader->at++;
  return g_strndup (start, reader->at - start);
}

static guint
read_column (Reader *reader)
{
  const char *end = strchr (reader->at, ']');
  guint column = bed_scope_find (reader->scope, reader->at, end - reader->at);

  reader->at = end + 1;
  return column;
}

/* [^x]:[x]): the column down to this row. */
static BedNode *
read_running (Reader *reader)
{
  expect (reader, '[');
  expect (reader, '^');
  read_column (reader);
  expect (reader, ':');
  expect (reader, '[');
  guint column = read_column (reader);
  expect (reader, ')');
  return new_node ((BedNode){ .kind = BED_NODE_RUNNING, .column = column });
}

static const BedKept *
read_kept (Reader *reader)
{
  g_autofree char *name = read_word (reader);
  const BedKept *kept = g_hash_table_lookup (reader->scope->book->kept, name);

  if (!kept)
    g_error ("no column %s yet", name);
  return kept;
}

static void
read_operand (Reader *reader, BedWhere *where)
{
  if (take (reader, '['))
    {
      where->condition.varies = TRUE;
      where->column = read_column (reader);
    }
  else if (take (reader, '{'))
    {
      const char *end = strchr (reader->at, '}');

      where->condition.text = bed_choice_word (reader->at, end - reader->at);
      reader->at = end + 1;
    }
  else
    where->number = read_sum (reader);
}

static BedWhere
read_where (Reader *reader)
{
  BedWhere where = { .condition = { .test = BED_TEST_EQUAL, .column = read_kept (reader) } };

  expect (reader, ',');
  if (take (reader, '"'))
    {
      const char *end = strchr (reader->at, '"');

      where.condition.test = g_str_has_prefix (reader->at, "<>") ? BED_TEST_DIFFERS
                             : *reader->at == '<'                ? BED_TEST_BELOW
                             : *reader->at == '>'                ? BED_TEST_ABOVE
                                                                 : BED_TEST_EQUAL;
      if (where.condition.test == BED_TEST_ABOVE)
        where.condition.number = g_ascii_strtod (reader->at + 1, NULL);
      reader->at = end + 1;
      if (!take (reader, '&'))
        return where;
    }
  read_operand (reader, &where);
  return where;
}

/* SUMIFS, whose values come first, or COUNTIFS. */
static BedNode *
read_conditional (Reader *reader, const BedKept *values)
{
  BedNode *node = new_node ((BedNode){ .kind = BED_NODE_WHERE,
                                       .values = values,
                                       .wheres = g_array_new (FALSE, FALSE, sizeof (BedWhere)) });

  do
    {
      BedWhere where = read_where (reader);

      g_array_append_val (node->wheres, where);
    }
  while (take (reader, ','));
  expect (reader, ')');
  return node;
}

/* SUM, MAX and COUNT take the name of cells, not a value; MAX (0, x) is the other MAX. */
static BedNode *
read_aggregate (Reader *reader, const char *word)
{
  if (!g_str_equal (word, "SUM") && !g_str_equal (word, "MAX") && !g_str_equal (word, "COUNT"))
    return NULL;
  skip_space (reader);
  if (g_ascii_isdigit (*reader->at))
    return NULL;
  if (*reader->at == '[')
    return read_running (reader);
  BedNodeKind kind = *word == 'S' ? BED_NODE_NAME : *word == 'M' ? BED_NODE_MOST : BED_NODE_COUNT;
  BedNode *node = new_node ((BedNode){ .kind = kind, .name = read_word (reader) });
  expect (reader, ')');
  return node;
}

static BedNode *
read_call (Reader *reader, const char *word)
{
  BedNode *node;
  guint n = 0;

  if (g_str_equal (word, "SUMIFS"))
    {
      const BedKept *values = read_kept (reader);

      expect (reader, ',');
      return read_conditional (reader, values);
    }
  if (g_str_has_prefix (word, "COUNTIF"))
    return read_conditional (reader, NULL);
  if ((node = read_aggregate (reader, word)))
    return node;
  node = new_node ((BedNode){ .kind = BED_NODE_CALL, .function = bed_function_find (word) });
  if (!node->function)
    g_error ("no function %s", word);
  do
    {
      g_assert (n < BED_MAX_ARGUMENTS);
      node->arguments[n++] = read_sum (reader);
    }
  while (take (reader, ','));
  expect (reader, ')');
  return node;
}

static BedNode *
read_value (Reader *reader)
{
  if (take (reader, '-'))
    return new_pair (BED_NODE_NEGATE, read_value (reader), NULL);
  if (take (reader, '('))
    {
      BedNode *inside = read_sum (reader);

      expect (reader, ')');
      return inside;
    }
  if (take (reader, '['))
    return new_node ((BedNode){ .kind = BED_NODE_CELL, .column = read_column (reader) });
  if (g_ascii_isdigit (*reader->at))
    {
      char *end;
      double number = g_ascii_strtod (reader->at, &end);

      reader->at = end;
      return new_number (number);
    }
  g_autofree char *word = read_word (reader);
  if (take (reader, '('))
    return read_call (reader, word);
  if (g_str_equal (word, "MINOR"))
    return new_number (bed_book_minor_units (reader->scope->book));
  return new_node ((BedNode){ .kind = BED_NODE_NAME, .name = g_steal_pointer (&word) });
}

static BedNode *
read_product (Reader *reader)
{
  BedNode *node = read_value (reader);

  for (;;)
    if (take (reader, '*'))
      node = new_pair (BED_NODE_MULTIPLY, node, read_value (reader));
    else if (take (reader, '/'))
      node = new_pair (BED_NODE_DIVIDE, node, read_value (reader));
    else
      return node;
}

static BedNode *
read_sum (Reader *reader)
{
  BedNode *node = read_product (reader);

  for (;;)
    if (take (reader, '+'))
      node = new_pair (BED_NODE_ADD, node, read_product (reader));
    else if (take (reader, '-'))
      node = new_pair (BED_NODE_SUBTRACT, node, read_product (reader));
    else
      return node;
}

/* For the parts */

guint
bed_scope_find (const BedScope *scope, const char *name, gsize length)
{
  for (guint i = 0; i < scope->n_names; i++)
    if (scope->names[i] && strlen (scope->names[i]) == length
        && strncmp (scope->names[i], name, length) == 0)
      return i;
  g_error ("no column [%.*s]", (int) length, name);
}

const char *
bed_choice_word (const char *path, gsize length)
{
  g_autofree char *whole = g_strndup (path, length);
  g_auto (GStrv) parts = g_strsplit (whole, ".", 3);
  const BedField *field = bed_kind_find_field (bed_kind_from_name (parts[0]), parts[1], NULL);

  for (const BedChoice *choice = field->choices; choice->key; choice++)
    if (g_str_equal (choice->key, parts[2]))
      return bed_field_choice_label (field, choice->key);
  g_error ("no choice %s", whole);
}

BedNode *
bed_node_read (const char *text, const BedScope *scope)
{
  Reader reader = { .at = text, .scope = scope };
  BedNode *node = read_sum (&reader);

  skip_space (&reader);
  if (*reader.at)
    g_error ("cannot read '%s' in '%s'", reader.at, text);
  return node;
}

void
bed_node_free (BedNode *node)
{
  for (guint i = 0; i < BED_MAX_ARGUMENTS; i++)
    g_clear_pointer (&node->arguments[i], bed_node_free);
  for (guint i = 0; node->wheres && i < node->wheres->len; i++)
    g_clear_pointer (&g_array_index (node->wheres, BedWhere, i).number, bed_node_free);
  g_clear_pointer (&node->wheres, g_array_unref);
  g_clear_pointer (&node->index, bed_index_free);
  g_free (node->name);
  g_free (node);
}
