#include "app/form/editor.h"

#include "app/widgets/build.h"

/* Several lines; Enter goes on as everywhere, Shift+Enter makes a new line. */
struct _BedNoteEditor
{
  BedEditor parent_instance;
  GtkWidget *view;
  char *text;
};

#define BED_TYPE_NOTE_EDITOR (bed_note_editor_get_type ())
G_DECLARE_FINAL_TYPE (BedNoteEditor, bed_note_editor, BED, NOTE_EDITOR, BedEditor)

BED_DEFINE_TYPE (BedNoteEditor, bed_note_editor, BED_TYPE_EDITOR)

static GtkTextBuffer *
get_buffer (BedNoteEditor *self)
{
  return gtk_text_view_get_buffer (GTK_TEXT_VIEW (self->view));
}

static const char *
get_text (BedEditor *editor)
{
  BedNoteEditor *self = BED_NOTE_EDITOR (editor);
  GtkTextIter start, end;

  gtk_text_buffer_get_bounds (get_buffer (self), &start, &end);
  g_free (self->text);
  self->text = gtk_text_buffer_get_text (get_buffer (self), &start, &end, FALSE);
  return self->text;
}

static void
set_text (BedEditor *editor, const char *text)
{
  gtk_text_buffer_set_text (get_buffer (BED_NOTE_EDITOR (editor)), text, -1);
}

static gboolean
break_line_cb (GtkWidget *widget, GVariant *parameters, gpointer user_data)
{
  gtk_text_buffer_insert_at_cursor (get_buffer (BED_NOTE_EDITOR (widget)), "\n", 1);
  return GDK_EVENT_STOP;
}

static void
bed_note_editor_finalize (GObject *object)
{
  g_free (BED_NOTE_EDITOR (object)->text);
  G_OBJECT_CLASS (bed_note_editor_parent_class)->finalize (object);
}

static void
bed_note_editor_class_init (BedNoteEditorClass *klass)
{
  BED_EDITOR_CLASS (klass)->get_text = get_text;
  BED_EDITOR_CLASS (klass)->set_text = set_text;
  G_OBJECT_CLASS (klass)->finalize = bed_note_editor_finalize;
  gtk_widget_class_add_binding (GTK_WIDGET_CLASS (klass), GDK_KEY_Return, GDK_SHIFT_MASK,
                                break_line_cb, NULL);
}

GtkWidget *
bed_note_editor_new (void)
{
  BedNoteEditor *self = g_object_new (BED_TYPE_NOTE_EDITOR, NULL);
  GtkWidget *scrolled;

  self->view = gtk_text_view_new ();
  gtk_text_view_set_wrap_mode (GTK_TEXT_VIEW (self->view), GTK_WRAP_WORD_CHAR);
  gtk_text_view_set_accepts_tab (GTK_TEXT_VIEW (self->view), FALSE);
  gtk_text_view_set_left_margin (GTK_TEXT_VIEW (self->view), 9);
  gtk_text_view_set_right_margin (GTK_TEXT_VIEW (self->view), 9);
  gtk_text_view_set_top_margin (GTK_TEXT_VIEW (self->view), 5);
  gtk_text_view_set_bottom_margin (GTK_TEXT_VIEW (self->view), 5);
  scrolled = bed_styled (bed_scrolled_new (self->view), "note");
  gtk_widget_set_overflow (scrolled, GTK_OVERFLOW_HIDDEN);
  bed_editor_set_content (BED_EDITOR (self), scrolled, self->view);
  g_signal_connect_swapped (get_buffer (self), "changed", G_CALLBACK (bed_editor_edited), self);
  return GTK_WIDGET (self);
}
