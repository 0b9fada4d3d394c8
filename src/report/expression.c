#include "report/expression_private.h"

#include <math.h>
#include <string.h>

#define EQUALS "\"=\"&" /* before a cell in a condition */

typedef enum
{
  PIECE_TEXT,
  PIECE_CELL,       /* of the row */
  PIECE_FIRST_CELL, /* of the first row, which stays when the cell is copied */
  PIECE_CONDITION   /* of the row, in a condition */
} PieceKind;

typedef struct
{
  PieceKind kind;
  guint column;
  gsize from, length; /* in ->literals: the text, or the letters of the column */
} Piece;

struct _BedExpression
{
  BedNode *node; /* NULL: a formula */
  GArray *pieces;
  GString *literals;
  GString *text; /* the answer of bed_expression_text() */
};

/* Helpers */

static void
add_piece (BedExpression *self, PieceKind kind, const char *text, gsize length)
{
  Piece piece = { .kind = kind, .from = self->literals->len, .length = length };

  g_string_append_len (self->literals, text, length);
  g_array_append_val (self->pieces, piece);
}

static void
add_cell (BedExpression *self, const BedScope *scope, PieceKind kind, const char *name,
          gsize length)
{
  guint column = bed_scope_find (scope, name, length);
  char letters[LXW_MAX_COL_NAME_LENGTH];

  lxw_col_to_name (letters, column, kind == PIECE_FIRST_CELL);
  add_piece (self, kind, letters, strlen (letters));
  g_array_index (self->pieces, Piece, self->pieces->len - 1).column = column;
}

/* What does not change from row to row, up to the end of @text. */
static void
add_pieces (BedExpression *self, const BedScope *scope, const char *text)
{
  for (const char *p = text, *end; *p; p = end)
    if (*p == '[')
      {
        PieceKind kind = p[1] == '^'                ? PIECE_FIRST_CELL
                         : p > text && p[-1] == '&' ? PIECE_CONDITION
                                                    : PIECE_CELL;

        p += kind == PIECE_FIRST_CELL ? 2 : 1;
        gsize length = strcspn (p, "]");
        add_cell (self, scope, kind, p, length);
        end = p + length + 1;
      }
    else if (*p == '{')
      {
        gsize length = strcspn (p, "}");
        const char *word = bed_choice_word (p + 1, length - 1);
        end = p + length + 1;
        add_piece (self, PIECE_TEXT, "\"", 1);
        add_piece (self, PIECE_TEXT, word, strlen (word));
        add_piece (self, PIECE_TEXT, "\"", 1);
      }
    else if (g_str_has_prefix (p, "MINOR"))
      {
        g_autofree char *minor
            = g_strdup_printf ("%" G_GINT64_FORMAT, bed_book_minor_units (scope->book));

        end = p + strlen ("MINOR");
        add_piece (self, PIECE_TEXT, minor, strlen (minor));
      }
    else if (g_str_has_prefix (p, "TAXED"))
      {
        end = p + strlen ("TAXED");
        add_piece (self, PIECE_TEXT, bed_book_is_taxed (scope->book) ? "1" : "0", 1);
      }
    else
      {
        end = p + 1;
        while (*end && !strchr ("[{MT", *end))
          end++;
        add_piece (self, PIECE_TEXT, p, end - p);
      }
}

static void
append_number (GString *text, guint number)
{
  char digits[12];
  guint i = sizeof digits;

  do
    digits[--i] = '0' + number % 10;
  while (number /= 10);
  g_string_append_len (text, digits + i, sizeof digits - i);
}

/* A name with a star in it means itself in a condition, not all names like it. Behind "=" Gnumeric
 * takes stars and tildes as they stand, alone it reads them as the others do. */
static gboolean
is_wild (const Piece *piece, const BedScope *scope)
{
  return piece->kind == PIECE_CONDITION && scope->texts && scope->texts[piece->column]
         && strpbrk (scope->texts[piece->column], "~*?");
}

static void
append_piece (BedExpression *self, const Piece *piece, const BedScope *scope)
{
  gboolean wild = is_wild (piece, scope);

  if (wild && g_str_has_suffix (self->text->str, EQUALS)
      && !strchr ("<>=", *scope->texts[piece->column]))
    g_string_truncate (self->text, self->text->len - strlen (EQUALS));
  if (wild)
    g_string_append (self->text, "SUBSTITUTE(SUBSTITUTE(SUBSTITUTE(");
  g_string_append_len (self->text, self->literals->str + piece->from, piece->length);
  if (piece->kind == PIECE_FIRST_CELL)
    g_string_append_c (self->text, '$');
  if (piece->kind != PIECE_TEXT)
    append_number (self->text,
                   (piece->kind == PIECE_FIRST_CELL ? scope->first_row : scope->row) + 1);
  if (wild)
    g_string_append (self->text, ",\"~\",\"~~\"),\"*\",\"~*\"),\"?\",\"~?\")");
}

/* Public */

BedExpression *
bed_formula_new (const char *text, const BedScope *scope)
{
  BedExpression *self = g_new0 (BedExpression, 1);

  self->pieces = g_array_new (FALSE, FALSE, sizeof (Piece));
  self->literals = g_string_new (NULL);
  self->text = g_string_new (NULL);
  add_piece (self, PIECE_TEXT, "=", 1);
  add_pieces (self, scope, text);
  return self;
}

BedExpression *
bed_expression_new (const char *text, const BedScope *scope)
{
  gboolean may_fail = strchr (text, '/') != NULL;
  g_autofree char *whole = may_fail ? g_strconcat ("IFERROR(", text, ",\"\")", NULL) : NULL;
  BedExpression *self = bed_formula_new (whole ? whole : text, scope);

  self->node = bed_node_read (text, scope);
  return self;
}

BedExpression *
bed_live_new (const char *expression, const char *formula, const BedScope *scope)
{
  return expression ? bed_expression_new (expression, scope)
         : formula  ? bed_formula_new (formula, scope)
                    : NULL;
}

void
bed_expression_free (BedExpression *self)
{
  g_clear_pointer (&self->node, bed_node_free);
  g_array_unref (self->pieces);
  g_string_free (self->literals, TRUE);
  g_string_free (self->text, TRUE);
  g_free (self);
}

double
bed_expression_value (BedExpression *self, const BedScope *scope)
{
  double value = self->node ? bed_node_value (self->node, scope) : NAN;

  return isfinite (value) ? value : NAN;
}

const char *
bed_expression_text (BedExpression *self, const BedScope *scope)
{
  g_string_truncate (self->text, 0);
  for (guint i = 0; i < self->pieces->len; i++)
    append_piece (self, &g_array_index (self->pieces, Piece, i), scope);
  return self->text->str;
}
