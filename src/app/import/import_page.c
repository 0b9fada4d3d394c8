#include "app/import/import_page.h"

#include <glib/gi18n.h>

#include "app/host/host.h"
#include "app/import/import_columns.h"
#include "app/import/import_findings.h"
#include "app/import/import_foot.h"
#include "app/import/import_kind.h"
#include "app/import/import_questions.h"
#include "app/import/import_reading.h"
#include "app/import/import_sheet.h"
#include "app/import/import_words.h"
#include "app/widgets/build.h"
#include "app/widgets/compat.h"
#include "model/farm/say.h"

struct _BedImportPage
{
  BedPage parent_instance;
  BedImportSheet *sheet; /* NULL: none is open */
  GtkWidget *stack;      /* "empty", "sheet", "done" */
  GtkWidget *name;
  GtkWidget *how;
  GtkWidget *reading;
  GtkWidget *kind;
  GtkWidget *columns;
  GtkWidget *questions;
  GtkWidget *findings;
  GtkWidget *foot;
  GtkWidget *done;
  GtkWidget *left; /* what is said of rows set aside, with their button */
  GtkWidget *said; /* how many */
  GtkWidget *return_button;
  char *aside; /* they, as text; NULL: none */
  char *back;  /* the page that cells came from; NULL: none, or it is left to */
};

BED_DEFINE_TYPE (BedImportPage, bed_import_page, BED_TYPE_PAGE)

/* --- what is seen -------------------------------------------------------------------- */

static void
show_head (BedImportPage *self, BedNotebook *notebook)
{
  g_autofree char *rows
      = bed_say (ngettext ("%u row", "%u rows", bed_notebook_count_rows (notebook)),
                 bed_notebook_count_rows (notebook));
  g_autofree char *reading
      = bed_import_dup_reading (notebook, bed_import_sheet_get_sheet (self->sheet));
  g_autofree char *how = g_strdup_printf (
      "%s · %s%s", rows, reading,
      bed_notebook_is_crosswise (notebook) ? _ (" · its columns are turned into rows") : "");

  gtk_label_set_label (GTK_LABEL (self->name), bed_import_sheet_get_name (self->sheet));
  gtk_label_set_label (GTK_LABEL (self->how), how);
}

static void
show (BedImportPage *self)
{
  show_head (self, bed_import_sheet_get_notebook (self->sheet));
  bed_import_reading_show (BED_IMPORT_READING (self->reading), self->sheet);
  bed_import_kind_show (BED_IMPORT_KIND (self->kind), self->sheet);
  bed_import_columns_show (BED_IMPORT_COLUMNS (self->columns), self->sheet);
  bed_import_findings_show (BED_IMPORT_FINDINGS (self->findings), self->sheet);
  bed_import_foot_show (BED_IMPORT_FOOT (self->foot), self->sheet);
  /* Last: from them the keyboard goes on to the button of the foot. */
  bed_import_questions_show (BED_IMPORT_QUESTIONS (self->questions), self->sheet);
}

static void
drop_sheet (BedImportPage *self)
{
  if (!self->sheet)
    return;
  g_signal_handlers_disconnect_by_data (self->sheet, self);
  bed_import_sheet_stop (self->sheet);
  bed_import_reading_show (BED_IMPORT_READING (self->reading), NULL);
  bed_import_kind_show (BED_IMPORT_KIND (self->kind), NULL);
  bed_import_columns_show (BED_IMPORT_COLUMNS (self->columns), NULL);
  bed_import_questions_show (BED_IMPORT_QUESTIONS (self->questions), NULL);
  bed_import_findings_show (BED_IMPORT_FINDINGS (self->findings), NULL);
  bed_import_foot_show (BED_IMPORT_FOOT (self->foot), NULL);
  g_clear_object (&self->sheet);
}

static void
go_where_it_came_from (BedImportPage *self)
{
  gtk_widget_activate_action (GTK_WIDGET (self), "win.page", "s", self->back);
}

static void
copy_cb (BedImportPage *self)
{
  gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (self)), self->aside);
  bed_host_say (GTK_WIDGET (self), _ ("Copied: put them right and paste them again"));
}

static void
show_left (BedImportPage *self, guint n)
{
  g_autofree char *said = bed_say (ngettext ("%u row was set aside, and is not in.",
                                             "%u rows were set aside, and are not in.", n),
                                   n);

  gtk_label_set_label (GTK_LABEL (self->said), said);
  gtk_widget_set_visible (self->left, n > 0);
  gtk_widget_set_visible (self->return_button, self->back != NULL);
}

/* Cells that were pasted elsewhere lead back there, unless rows are left that are to be put right.
 */
static void
brought_cb (BedImportPage *self, const char *said)
{
  guint n;

  g_free (self->aside);
  self->aside = bed_import_sheet_dup_aside (self->sheet, &n);
  gtk_label_set_label (GTK_LABEL (self->done), said);
  show_left (self, n);
  drop_sheet (self);
  bed_farm_look_again (bed_page_get_farm (BED_PAGE (self)));
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack),
                                    self->back && !self->aside ? "empty" : "done");
  if (self->back && !self->aside)
    {
      bed_host_say (GTK_WIDGET (self), said);
      go_where_it_came_from (self);
      return;
    }
  gtk_widget_grab_focus (GTK_WIDGET (self));
}

/* --- the keyboard --------------------------------------------------------------------- */

static void
answered_cb (BedImportPage *self)
{
  bed_import_foot_enter (BED_IMPORT_FOOT (self->foot));
}

static void
ask_cb (BedImportPage *self)
{
  if (!bed_import_questions_enter (BED_IMPORT_QUESTIONS (self->questions)))
    bed_import_findings_enter (BED_IMPORT_FINDINGS (self->findings));
}

static void
go_back (BedImportPage *self)
{
  if (self->sheet && !bed_import_sheet_is_bringing (self->sheet))
    bed_import_questions_go_back (BED_IMPORT_QUESTIONS (self->questions));
}

static void
look_cb (BedImportPage *self, guint column)
{
  bed_import_questions_ask_about (BED_IMPORT_QUESTIONS (self->questions), column);
}

static void
enter (BedImportPage *self)
{
  if (!bed_import_questions_enter (BED_IMPORT_QUESTIONS (self->questions)))
    bed_import_foot_enter (BED_IMPORT_FOOT (self->foot));
}

/* --- making ------------------------------------------------------------------------------ */

static GtkWidget *
make_head (BedImportPage *self)
{
  self->name = bed_line_new ("", "title-4");
  self->how = bed_line_new ("", "dim-label");
  self->reading = bed_import_reading_new ();
  gtk_widget_set_hexpand (self->how, TRUE);
  return bed_row_new (12, self->name, self->how, self->reading, NULL);
}

static GtkWidget *
make_sheet (BedImportPage *self)
{
  self->kind = bed_import_kind_new ();
  self->columns = bed_import_columns_new ();
  self->questions = bed_import_questions_new ();
  self->findings = bed_import_findings_new ();
  g_signal_connect_swapped (self->findings, "decided", G_CALLBACK (answered_cb), self);
  self->foot = bed_import_foot_new (bed_page_get_farm (BED_PAGE (self)));
  g_signal_connect_swapped (self->columns, "look", G_CALLBACK (look_cb), self);
  g_signal_connect_swapped (self->questions, "all-answered", G_CALLBACK (answered_cb), self);
  g_signal_connect_swapped (self->foot, "ask", G_CALLBACK (ask_cb), self);
  g_signal_connect_swapped (self->foot, "back", G_CALLBACK (go_back), self);
  g_signal_connect_swapped (self->foot, "brought", G_CALLBACK (brought_cb), self);
  GtkWidget *content = bed_styled (bed_column_new (18, make_head (self), self->kind, self->columns,
                                                   self->questions, self->findings, NULL),
                                   "page");
  GtkWidget *scrolled = bed_scrolled_new (content);
  gtk_widget_set_vexpand (scrolled, TRUE);
  return bed_column_new (0, scrolled, self->foot, NULL);
}

static GtkWidget *
make_done (BedImportPage *self)
{
  GtkWidget *buttons = bed_row_new (12, bed_action_button_new (_ ("Another sheet…"), "win.import"),
                                    bed_action_button_new (_ ("Take it back"), "win.undo"), NULL);
  GtkWidget *see = gtk_button_new_with_label (_ ("See what was added"));

  gtk_actionable_set_detailed_action_name (GTK_ACTIONABLE (see), "win.page::history");
  bed_styled (see, "suggested-action");
  gtk_box_prepend (GTK_BOX (buttons), see);
  self->return_button
      = bed_button_add (buttons, _ ("Go back"), G_CALLBACK (go_where_it_came_from), self);
  gtk_widget_set_halign (buttons, GTK_ALIGN_CENTER);
  self->done = bed_words_new ("", "title-4");
  gtk_label_set_justify (GTK_LABEL (self->done), GTK_JUSTIFY_CENTER);
  gtk_label_set_xalign (GTK_LABEL (self->done), 0.5);
  self->said = bed_label_new ("", NULL);
  self->left = bed_row_new (12, self->said, NULL);
  bed_button_add (self->left, _ ("Copy"), G_CALLBACK (copy_cb), self);
  gtk_widget_set_halign (self->left, GTK_ALIGN_CENTER);
  GtkWidget *column
      = bed_styled (bed_column_new (24, self->done, self->left, buttons, NULL), "page");
  gtk_widget_set_valign (column, GTK_ALIGN_CENTER);
  return column;
}

static const BedEmpty empty = {
  .icon = "bed-import-symbolic",
  .title = N_ ("Bring in a sheet"),
  .text = N_ ("What you kept in a spreadsheet or a text file until now. Drop the file here, choose "
              "it, or copy its cells and press Ctrl+V. Nothing is added before you have seen it."),
  .button = N_ ("Choose a file…"),
  .action = "win.import",
};

/* --- overrides ----------------------------------------------------------------------------- */

static GtkWidget *
bed_import_page_make (BedPage *page)
{
  BedImportPage *self = BED_IMPORT_PAGE (page);

  self->stack = bed_empty_stack_new (&empty, make_sheet (self), "sheet");
  bed_stack_add (self->stack, make_done (self), "done");
  return self->stack;
}

static gboolean
bed_import_page_refresh (BedPage *page, GError **error)
{
  BedImportPage *self = BED_IMPORT_PAGE (page);

  if (!self->sheet || bed_import_sheet_is_bringing (self->sheet))
    return TRUE;
  return bed_import_sheet_look_again (self->sheet, error);
}

static void
bed_import_page_dispose (GObject *object)
{
  BedImportPage *self = BED_IMPORT_PAGE (object);

  if (self->sheet)
    {
      g_signal_handlers_disconnect_by_data (self->sheet, self);
      bed_import_sheet_stop (self->sheet);
      g_clear_object (&self->sheet);
    }
  g_clear_pointer (&self->aside, g_free);
  g_clear_pointer (&self->back, g_free);
  G_OBJECT_CLASS (bed_import_page_parent_class)->dispose (object);
}

static const BedPageKey keys[] = {
  { "Return", N_ ("Answer the question as offered, and on to the next") },
  { "<Alt>Left", N_ ("Take the last decision back") },
  { "Delete", N_ ("Set the row aside") },
  { NULL, NULL },
};

static gboolean
back_cb (GtkWidget *widget, GVariant *parameters, gpointer user_data)
{
  go_back (BED_IMPORT_PAGE (widget));
  return GDK_EVENT_STOP;
}

static void
bed_import_page_class_init (BedImportPageClass *klass)
{
  BedPageClass *page_class = BED_PAGE_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = bed_import_page_dispose;
  page_class->keys = keys;
  page_class->make = bed_import_page_make;
  page_class->refresh = bed_import_page_refresh;
  gtk_widget_class_add_binding (GTK_WIDGET_CLASS (klass), GDK_KEY_Left, GDK_ALT_MASK, back_cb,
                                NULL);
}

/* --- public ----------------------------------------------------------------------------------- */

void
bed_import_page_open (BedImportPage *self, const BedImportSource *source)
{
  g_return_if_fail (BED_IS_IMPORT_PAGE (self) && source != NULL);
  g_autoptr (GError) error = NULL;
  BedImportSheet *sheet
      = bed_import_sheet_new (bed_page_get_farm (BED_PAGE (self)), source, &error);

  if (!sheet)
    {
      bed_tell (GTK_WIDGET (self), _ ("This could not be read as a sheet"), error->message);
      return;
    }
  drop_sheet (self);
  self->sheet = sheet;
  g_free (self->back);
  self->back = g_strdup (source->back);
  g_signal_connect_swapped (sheet, "understood", G_CALLBACK (show), self);
  g_signal_connect_swapped (sheet, "read", G_CALLBACK (show), self);
  g_signal_connect_swapped (sheet, "brought", G_CALLBACK (show), self);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "sheet");
  bed_import_sheet_begin (sheet);
  enter (self);
}
