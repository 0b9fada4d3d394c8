#include <string.h>

#include "model/farm/kinds.h"
#include "model/farm/known.h"
#include "model/notebook/notebook_private.h"

/* Questions: one for all rows alike. */

const char *
bed_notebook_decision (BedNotebook *self, const char *format, ...)
{
  va_list values;

  va_start (values, format);
  g_autofree char *key = g_strdup_vprintf (format, values);
  va_end (values);
  return g_hash_table_lookup (self->decided, key);
}

static void
asked_free (gpointer data)
{
  BedNotebookAsked *asked = data;

  g_array_unref (asked->choices);
  g_free (asked);
}

void
bed_notebook_forget_questions (BedNotebook *self)
{
  if (!self->questions)
    self->questions = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, asked_free);
  g_hash_table_remove_all (self->questions);
  g_array_set_size (self->asked, 0);
}

const char *
bed_notebook_ask (BedNotebook *self, const char *key, guint column, char *sentence)
{
  BedNotebookAsked *asked = g_hash_table_lookup (self->questions, key);
  const char *answer = bed_notebook_decision (self, "%s", key);

  if (!asked && (answer || g_hash_table_size (self->questions) < BED_NOTEBOOK_MOST_QUESTIONS))
    {
      asked = g_new0 (BedNotebookAsked, 1);
      asked->choices = g_array_new (FALSE, FALSE, sizeof (BedNotebookChoice));
      asked->shown.key = g_string_chunk_insert_const (self->texts, key);
      asked->shown.sentence = g_string_chunk_insert_const (self->texts, sentence);
      asked->shown.line = self->line ? self->line->line : 0;
      asked->shown.column = column;
      asked->shown.answer = answer;
      asked->order = g_hash_table_size (self->questions);
      g_hash_table_insert (self->questions, (char *) asked->shown.key, asked);
    }
  if (asked)
    asked->shown.count++;
  self->waits = self->waits || !answer;
  g_free (sentence);
  return answer;
}

gboolean
bed_notebook_is_new (BedNotebook *self, const char *key)
{
  const BedNotebookAsked *asked = g_hash_table_lookup (self->questions, key);

  return asked && asked->shown.count == 1;
}

void
bed_notebook_offer (BedNotebook *self, const char *key, const char *choice, const char *label)
{
  BedNotebookAsked *asked = g_hash_table_lookup (self->questions, key);
  BedNotebookChoice offered = { g_string_chunk_insert_const (self->texts, choice),
                                g_string_chunk_insert_const (self->texts, label) };

  if (asked && asked->shown.count == 1)
    g_array_append_val (asked->choices, offered);
}

void
bed_notebook_let_type (BedNotebook *self, const char *key, const char *what)
{
  BedNotebookAsked *asked = g_hash_table_lookup (self->questions, key);

  if (asked)
    asked->shown.typed = g_string_chunk_insert_const (self->texts, what);
}

static char *
dup_meant (BedKind kind, const char *name)
{
  g_autofree char *folded = bed_known_fold (name);

  return g_strdup_printf ("meant:%s:%s", bed_kind_get_info (kind)->name, folded);
}

void
bed_notebook_let_mean (BedNotebook *self, const char *key, BedKind kind, const char *name)
{
  BedNotebookAsked *asked = g_hash_table_lookup (self->questions, key);
  g_autofree char *meant = dup_meant (kind, name);

  if (!asked)
    return;
  asked->kind = kind;
  asked->meant = g_string_chunk_insert_const (self->texts, meant);
}

const char *
bed_notebook_get_meant (BedNotebook *self, BedKind kind, const char *name)
{
  g_autofree char *meant = dup_meant (kind, name);

  return bed_notebook_decision (self, "%s", meant);
}

void
bed_notebook_suggest (BedNotebook *self, const char *key, const char *answer)
{
  BedNotebookAsked *asked = g_hash_table_lookup (self->questions, key);

  if (asked)
    asked->shown.offer = g_string_chunk_insert_const (self->texts, answer);
}

static int
by_order (gconstpointer a, gconstpointer b)
{
  const BedNotebookAsked *one = *(gconstpointer *) a, *other = *(gconstpointer *) b;

  if (!one->shown.answer != !other->shown.answer)
    return one->shown.answer ? 1 : -1;
  return one->order < other->order ? -1 : one->order > other->order;
}

const BedNotebookQuestion *
bed_notebook_get_questions (BedNotebook *self, guint *n)
{
  g_autoptr (GPtrArray) all = g_ptr_array_new ();
  GHashTableIter iter;
  gpointer asked;

  g_hash_table_iter_init (&iter, self->questions);
  while (g_hash_table_iter_next (&iter, NULL, &asked))
    g_ptr_array_add (all, asked);
  g_ptr_array_sort (all, by_order);
  g_array_set_size (self->asked, 0);
  for (guint i = 0; i < all->len; i++)
    {
      BedNotebookAsked *each = all->pdata[i];
      each->shown.choices = (const BedNotebookChoice *) each->choices->data;
      each->shown.n_choices = each->choices->len;
      g_array_append_val (self->asked, each->shown);
    }
  *n = self->asked->len;
  return (const BedNotebookQuestion *) self->asked->data;
}

guint
bed_notebook_count_open (BedNotebook *self)
{
  guint n, open = 0;
  const BedNotebookQuestion *questions = bed_notebook_get_questions (self, &n);

  for (guint i = 0; i < n; i++)
    open += questions[i].answer == NULL;
  return open;
}
