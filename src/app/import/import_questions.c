#include "app/import/import_questions.h"

#include <glib/gi18n.h>

#include "app/widgets/build.h"
#include "app/widgets/drop_down.h"
#include "app/widgets/in_view.h"
#include "app/widgets/wrap_layout.h"
#include "model/farm/say.h"

#define BUTTONS_MOST 8 /* more choices stand in a list */

struct _BedImportQuestions
{
  GtkWidget parent_instance;
  GtkWidget *box;
  GtkWidget *heading;
  GtkWidget *usual; /* answers all that have a likely answer */
  GtkWidget *list;
  GtkWidget *panel; /* the one that is asked; NULL: none is open */
  guint view_source;
  GtkWidget *first; /* what takes the keyboard of it */
  GtkWidget *entry; /* where its answer may be typed; NULL: it may not */
  BedImportSheet *sheet;
  char *asked;      /* its key */
  char *refused;    /* why its last answer was no answer; NULL: there was none */
  gboolean follows; /* an answer was given here: the keyboard goes on to the next */
};

G_DEFINE_FINAL_TYPE (BedImportQuestions, bed_import_questions, GTK_TYPE_WIDGET)

/* --- answers ----------------------------------------------------------------------- */

/* @text NULL asks again. */
static void
answer (BedImportQuestions *self, const char *key, const char *text)
{
  g_autofree char *kept_key = g_strdup (key);
  g_autofree char *kept_text = g_strdup (text);
  g_autoptr (GError) error = NULL;
  BedNotebook *notebook = bed_import_sheet_begin_decision (self->sheet);
  gboolean done = bed_notebook_answer (notebook, kept_key, kept_text, &error);

  g_free (self->asked);
  self->asked = done && text ? NULL : g_strdup (kept_key);
  self->follows = TRUE;
  g_free (self->refused);
  self->refused = done ? NULL : g_strdup (error->message);
  bed_import_sheet_end_decision (self->sheet);
}

static void
set_text (GtkWidget *widget, const char *name, const char *text)
{
  g_object_set_data_full (G_OBJECT (widget), name, g_strdup (text), g_free);
}

static const char *
get_text (GtkWidget *widget, const char *name)
{
  return g_object_get_data (G_OBJECT (widget), name);
}

static void
choice_cb (BedImportQuestions *self, GtkWidget *button)
{
  answer (self, get_text (button, "question"), get_text (button, "answer"));
}

static void
typed_cb (BedImportQuestions *self, GtkWidget *entry)
{
  const char *text = gtk_editable_get_text (GTK_EDITABLE (entry));

  if (text[0])
    answer (self, get_text (entry, "question"), text);
}

static void
take_typed_cb (GtkWidget *entry)
{
  gtk_widget_activate (entry);
}

static void
take_chosen_cb (BedImportQuestions *self, GtkWidget *button)
{
  GtkWidget *drop = gtk_widget_get_prev_sibling (button);
  const char *const *keys = g_object_get_data (G_OBJECT (drop), "keys");
  guint at = gtk_drop_down_get_selected (GTK_DROP_DOWN (drop));

  if (at != GTK_INVALID_LIST_POSITION)
    answer (self, get_text (button, "question"), keys[at]);
}

static void
usual_cb (BedImportQuestions *self)
{
  BedNotebook *notebook = bed_import_sheet_begin_decision (self->sheet);

  g_clear_pointer (&self->refused, g_free);
  self->follows = TRUE;
  if (notebook)
    bed_notebook_take_usual (notebook);
  bed_import_sheet_end_decision (self->sheet);
}

static void
again_cb (BedImportQuestions *self, GtkWidget *button)
{
  answer (self, get_text (button, "question"), NULL);
}

/* The thread has the notebook, which is asked for its questions: no decision, but all is told. */
static void
ask_cb (BedImportQuestions *self, GtkWidget *button)
{
  g_autofree char *asked = g_strdup (get_text (button, "question"));

  g_free (self->asked);
  self->asked = g_steal_pointer (&asked);
  g_clear_pointer (&self->refused, g_free);
  self->follows = TRUE;
  bed_import_sheet_begin_decision (self->sheet);
  bed_import_sheet_end_decision (self->sheet);
}

/* --- the one that is asked ------------------------------------------------------------ */

static GtkWidget *
make_choice (BedImportQuestions *self, const BedNotebookQuestion *question,
             const BedNotebookChoice *choice)
{
  GtkWidget *button = bed_button_new (choice->label, G_CALLBACK (choice_cb), self);
  gboolean likely = g_strcmp0 (choice->key, question->offer) == 0;

  set_text (button, "question", question->key);
  set_text (button, "answer", choice->key);
  if (likely)
    bed_styled (button, "suggested-action");
  if (likely || !self->first)
    self->first = button;
  return button;
}

static GtkWidget *
make_choices (BedImportQuestions *self, const BedNotebookQuestion *question)
{
  GtkWidget *box = bed_wrap_new (6, 6);

  for (guint i = 0; i < question->n_choices; i++)
    gtk_box_append (GTK_BOX (box), make_choice (self, question, &question->choices[i]));
  return box;
}

static GtkWidget *
make_list (BedImportQuestions *self, const BedNotebookQuestion *question)
{
  g_autoptr (GStrvBuilder) keys = g_strv_builder_new ();
  GtkStringList *words = gtk_string_list_new (NULL);
  GtkWidget *drop = bed_drop_down_new (words, question->sentence);
  GtkWidget *take = bed_button_new (_ ("Take this"), G_CALLBACK (take_chosen_cb), self);
  guint selected = 0;

  for (guint i = 0; i < question->n_choices; i++)
    {
      gtk_string_list_append (words, question->choices[i].label);
      g_strv_builder_add (keys, question->choices[i].key);
      if (g_strcmp0 (question->choices[i].key, question->offer) == 0)
        selected = i;
    }
  bed_drop_down_let_search (GTK_DROP_DOWN (drop));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (drop), selected);
  g_object_set_data_full (G_OBJECT (drop), "keys", g_strv_builder_end (keys),
                          (GDestroyNotify) g_strfreev);
  set_text (take, "question", question->key);
  self->first = take;
  return bed_row_new (6, drop, take, NULL);
}

static gboolean
is_choice (const BedNotebookQuestion *question, const char *key)
{
  for (guint i = 0; i < question->n_choices; i++)
    if (g_strcmp0 (question->choices[i].key, key) == 0)
      return TRUE;
  return FALSE;
}

static GtkWidget *
make_entry (BedImportQuestions *self, const BedNotebookQuestion *question)
{
  GtkWidget *entry = gtk_entry_new ();
  GtkWidget *take = bed_button_new (_ ("Take"), G_CALLBACK (take_typed_cb), entry);

  set_text (entry, "question", question->key);
  bed_entry_hint (entry, question->typed);
  if (question->offer && !is_choice (question, question->offer))
    gtk_editable_set_text (GTK_EDITABLE (entry), question->offer);
  bed_named (entry, question->typed);
  g_signal_connect_swapped (entry, "activate", G_CALLBACK (typed_cb), self);
  self->entry = entry;
  if (!self->first)
    self->first = entry;
  return bed_row_new (6, entry, take, NULL);
}

static char *
dup_place (const BedNotebookQuestion *question)
{
  g_autofree char *count
      = bed_say (ngettext ("%u place", "%u places", question->count), question->count);

  if (question->line == 0)
    return g_steal_pointer (&count);
  if (question->column == 0)
    return g_strdup_printf (_ ("%s, the first in line %u"), count, question->line);
  return g_strdup_printf (_ ("%s, the first in line %u, column %u"), count, question->line,
                          question->column);
}

static GtkWidget *
make_asked (BedImportQuestions *self, const BedNotebookQuestion *question)
{
  g_autofree char *place = dup_place (question);
  GtkWidget *panel = bed_styled (bed_column_new (6, bed_words_new (question->sentence, "heading"),
                                                 bed_line_new (place, "dim-label"), NULL),
                                 "panel");

  self->panel = panel;
  if (question->n_choices > BUTTONS_MOST)
    gtk_box_append (GTK_BOX (panel), make_list (self, question));
  else if (question->n_choices > 0)
    gtk_box_append (GTK_BOX (panel), make_choices (self, question));
  if (question->typed)
    gtk_box_append (GTK_BOX (panel), make_entry (self, question));
  if (self->refused)
    gtk_box_append (GTK_BOX (panel), bed_words_new (self->refused, "error"));
  return panel;
}

/* --- the others -------------------------------------------------------------------------- */

static const char *
choice_word (const BedNotebookQuestion *question, const char *answer)
{
  for (guint i = 0; i < question->n_choices; i++)
    if (g_strcmp0 (question->choices[i].key, answer) == 0)
      return question->choices[i].label;
  return answer;
}

static GtkWidget *
make_line (BedImportQuestions *self, const BedNotebookQuestion *question)
{
  GtkWidget *sentence = bed_line_new (question->sentence, question->answer ? "dim-label" : NULL);
  const char *word = choice_word (question, question->answer ? question->answer : question->offer);
  GtkWidget *said = bed_line_new (word ? word : "", question->answer ? NULL : "dim-label");
  GtkWidget *button = question->answer
                          ? bed_button_new (_ ("Ask again"), G_CALLBACK (again_cb), self)
                          : bed_button_new (_ ("Answer"), G_CALLBACK (ask_cb), self);
  g_autofree char *name
      = g_strdup_printf ("%s: %s", gtk_button_get_label (GTK_BUTTON (button)), question->sentence);

  set_text (button, "question", question->key);
  bed_named (button, name);
  gtk_widget_set_hexpand (sentence, TRUE);
  return bed_styled (bed_row_new (12, sentence, said, button, NULL), "import-question");
}

/* --- all of them ---------------------------------------------------------------------------- */

/* Open ones come first. */
static const BedNotebookQuestion *
find_asked (BedImportQuestions *self, const BedNotebookQuestion *questions, guint n)
{
  for (guint i = 0; i < n && self->asked; i++)
    if (!questions[i].answer && g_strcmp0 (questions[i].key, self->asked) == 0)
      return &questions[i];
  return n > 0 && !questions[0].answer ? &questions[0] : NULL;
}

static void
show_heading (BedImportQuestions *self, guint open, guint usual, guint n)
{
  g_autofree char *all = bed_say (ngettext ("Take %u as usual", "Take %u as usual", usual), usual);

  g_autofree char *text
      = open ? bed_say (ngettext ("%u question", "%u questions", open), open)
             : bed_say (ngettext ("%u question answered", "%u questions answered", n), n);

  gtk_label_set_label (GTK_LABEL (self->heading), text);
  gtk_button_set_label (GTK_BUTTON (self->usual), all);
  gtk_widget_set_visible (self->usual, usual > 1);
  gtk_widget_set_visible (GTK_WIDGET (self), n > 0);
}

static void
fill (BedImportQuestions *self, BedNotebook *notebook)
{
  guint n;
  const BedNotebookQuestion *questions = bed_notebook_get_questions (notebook, &n);
  const BedNotebookQuestion *asked = find_asked (self, questions, n);
  g_autofree char *key = asked ? g_strdup (asked->key) : NULL;

  show_heading (self, bed_notebook_count_open (notebook), bed_notebook_count_usual (notebook), n);
  for (guint i = 0; i < n; i++)
    {
      const BedNotebookQuestion *each = &questions[i];

      gtk_box_append (GTK_BOX (self->list),
                      asked && each == asked ? make_asked (self, asked) : make_line (self, each));
    }
  g_free (self->asked);
  self->asked = g_steal_pointer (&key);
}

static void
go_on (BedImportQuestions *self)
{
  self->follows = FALSE;
  if (!bed_import_questions_enter (self))
    g_signal_emit_by_name (self, "all-answered");
}

/* --- overrides ---------------------------------------------------------------------------- */

static void
bed_import_questions_dispose (GObject *object)
{
  BedImportQuestions *self = BED_IMPORT_QUESTIONS (object);

  g_clear_handle_id (&self->view_source, g_source_remove);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_object (&self->sheet);
  G_OBJECT_CLASS (bed_import_questions_parent_class)->dispose (object);
}

static void
bed_import_questions_finalize (GObject *object)
{
  g_free (BED_IMPORT_QUESTIONS (object)->asked);
  g_free (BED_IMPORT_QUESTIONS (object)->refused);
  G_OBJECT_CLASS (bed_import_questions_parent_class)->finalize (object);
}

static void
bed_import_questions_class_init (BedImportQuestionsClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = bed_import_questions_dispose;
  G_OBJECT_CLASS (klass)->finalize = bed_import_questions_finalize;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  bed_signal_new (G_TYPE_FROM_CLASS (klass), "all-answered", 0);
}

static void
bed_import_questions_init (BedImportQuestions *self)
{
  self->heading = bed_label_new ("", "heading");
  self->list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  self->usual = bed_button_new ("", G_CALLBACK (usual_cb), self);
  gtk_widget_set_tooltip_text (self->usual,
                               _ ("What no column says is as on most farms: see beside each"));
  gtk_widget_set_hexpand (self->heading, TRUE);
  self->box
      = bed_column_new (6, bed_row_new (12, self->heading, self->usual, NULL), self->list, NULL);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}

/* --- public --------------------------------------------------------------------------------- */

GtkWidget *
bed_import_questions_new (void)
{
  return g_object_new (BED_TYPE_IMPORT_QUESTIONS, NULL);
}

/* More are found while the rest is read: whoever is about to answer keeps the keyboard, and what
 * was typed. */
void
bed_import_questions_show (BedImportQuestions *self, BedImportSheet *sheet)
{
  g_return_if_fail (BED_IS_IMPORT_QUESTIONS (self));
  gboolean had = gtk_widget_get_focus_child (self->list) != NULL;
  g_autofree char *asked = g_strdup (self->asked);
  g_autofree char *typed
      = self->entry ? g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->entry))) : NULL;

  g_set_object (&self->sheet, sheet);
  self->panel = self->first = self->entry = NULL;
  bed_box_clear (self->list);
  if (sheet)
    fill (self, bed_import_sheet_get_notebook (sheet));
  if (typed && self->entry && g_strcmp0 (asked, self->asked) == 0)
    gtk_editable_set_text (GTK_EDITABLE (self->entry), typed);
  if (self->follows)
    go_on (self);
  else if (had && bed_import_questions_enter (self) && self->first == self->entry)
    gtk_editable_set_position (GTK_EDITABLE (self->entry), -1);
}

static gboolean
view_cb (gpointer data)
{
  BedImportQuestions *self = data;

  self->view_source = 0;
  if (self->panel)
    bed_bring_in_view (self->panel);
  return G_SOURCE_REMOVE;
}

gboolean
bed_import_questions_enter (BedImportQuestions *self)
{
  g_return_val_if_fail (BED_IS_IMPORT_QUESTIONS (self), FALSE);
  if (!self->first)
    return FALSE;
  if (!self->view_source)
    self->view_source = g_idle_add_full (G_PRIORITY_LOW, view_cb, self, NULL);
  return gtk_widget_grab_focus (self->first);
}

void
bed_import_questions_go_back (BedImportQuestions *self)
{
  g_return_if_fail (BED_IS_IMPORT_QUESTIONS (self) && self->sheet);

  if (!bed_notebook_go_back (bed_import_sheet_begin_decision (self->sheet)))
    gtk_widget_error_bell (GTK_WIDGET (self));
  g_clear_pointer (&self->asked, g_free);
  g_clear_pointer (&self->refused, g_free);
  self->follows = TRUE;
  bed_import_sheet_end_decision (self->sheet);
}

void
bed_import_questions_ask_about (BedImportQuestions *self, guint column)
{
  g_return_if_fail (BED_IS_IMPORT_QUESTIONS (self) && self->sheet);
  guint n;
  BedNotebook *notebook = bed_import_sheet_begin_decision (self->sheet);
  const BedNotebookQuestion *questions = bed_notebook_get_questions (notebook, &n);

  for (guint i = 0; i < n; i++)
    if (questions[i].column == column + 1 && !questions[i].answer)
      {
        g_free (self->asked);
        self->asked = g_strdup (questions[i].key);
        break;
      }
  self->follows = TRUE;
  bed_import_sheet_end_decision (self->sheet);
}
