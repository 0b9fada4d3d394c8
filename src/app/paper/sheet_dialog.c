#include "app/paper/sheet_dialog.h"

#include <glib/gi18n.h>

#include "app/host/typing.h"
#include "app/widgets/build.h"
#include "app/widgets/document_view.h"
#include "model/farm/habits.h"
#include "print/page/sheet.h"
#include "science/units.h"

#define MOST_LABELS 100 /* across or down, as print/sheet.h reads them */

/* As a ruler laid on the sheet gives them. */
enum
{
  PAGE_WIDTH,
  PAGE_HEIGHT,
  COLUMNS,
  ROWS,
  LABEL_WIDTH,
  LABEL_HEIGHT,
  LEFT,
  TOP,
  PITCH_X,
  PITCH_Y,
  N_MEASURES
};

static const char *const names[N_MEASURES] = {
  [PAGE_WIDTH] = N_ ("Page width"),     [PAGE_HEIGHT] = N_ ("Page height"),
  [COLUMNS] = N_ ("Labels across"),     [ROWS] = N_ ("Labels down"),
  [LABEL_WIDTH] = N_ ("Label width"),   [LABEL_HEIGHT] = N_ ("Label height"),
  [LEFT] = N_ ("Left margin"),          [TOP] = N_ ("Top margin"),
  [PITCH_X] = N_ ("Left edge to next"), [PITCH_Y] = N_ ("Top edge to next"),
};

struct _BedSheetDialog
{
  AdwWindow parent_instance;
  BedNotation notation;
  GtkWidget *name;
  GtkWidget *measures[N_MEASURES];
  GtkWidget *seen; /* stack of the outlines and the message */
  GtkWidget *message;
  BedDocumentView *view;
  GtkWidget *add;
  gboolean typed; /* and not added */
  BedSheetAdded added;
  gpointer user_data;
};

static void typing_init (BedTypingInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (BedSheetDialog, bed_sheet_dialog, ADW_TYPE_WINDOW,
                               G_IMPLEMENT_INTERFACE (BED_TYPE_TYPING, typing_init))

static gboolean
is_count (guint measure)
{
  return measure == COLUMNS || measure == ROWS;
}

/* --- reading ------------------------------------------------------------------------- */

/* An entry left empty is @value as it was; the message names the entry. */
static gboolean
read_measure (BedSheetDialog *self, guint measure, gint64 *value, GError **error)
{
  const char *text = gtk_editable_get_text (GTK_EDITABLE (self->measures[measure]));
  BedMeasure kind = is_count (measure) ? BED_MEASURE_COUNT : BED_MEASURE_LENGTH_FINE;

  if (!*text || bed_measure_parse (kind, &self->notation, text, value, error))
    return TRUE;
  g_prefix_error (error, "%s: ", _ (names[measure]));
  return FALSE;
}

/* @sheet borrows its name from the entry. */
static gboolean
read_sheet (BedSheetDialog *self, BedSheet *sheet, GError **error)
{
  gint64 values[N_MEASURES] = { [COLUMNS] = 1, [ROWS] = 1 };

  for (guint i = 0; i < PITCH_X; i++)
    if (!read_measure (self, i, &values[i], error))
      return FALSE;
  /* Labels that lie edge to edge: nothing needs to be typed. */
  values[PITCH_X] = values[LABEL_WIDTH];
  values[PITCH_Y] = values[LABEL_HEIGHT];
  for (guint i = PITCH_X; i < N_MEASURES; i++)
    if (!read_measure (self, i, &values[i], error))
      return FALSE;
  *sheet = (BedSheet){
    .name = (char *) gtk_editable_get_text (GTK_EDITABLE (self->name)),
    .page_width = values[PAGE_WIDTH] / 1000.0,
    .page_height = values[PAGE_HEIGHT] / 1000.0,
    .columns = CLAMP (values[COLUMNS], 0, MOST_LABELS),
    .rows = CLAMP (values[ROWS], 0, MOST_LABELS),
    .label_width = values[LABEL_WIDTH] / 1000.0,
    .label_height = values[LABEL_HEIGHT] / 1000.0,
    .pitch_x = values[PITCH_X] / 1000.0,
    .pitch_y = values[PITCH_Y] / 1000.0,
    .left = values[LEFT] / 1000.0,
    .top = values[TOP] / 1000.0,
  };
  return TRUE;
}

/* --- doing --------------------------------------------------------------------------- */

static void
say (BedSheetDialog *self, const char *message)
{
  gtk_label_set_label (GTK_LABEL (self->message), message);
  gtk_stack_set_visible_child (GTK_STACK (self->seen),
                               message ? self->message : GTK_WIDGET (self->view));
  gtk_widget_set_sensitive (self->add, message == NULL);
}

static void
changed_cb (BedSheetDialog *self)
{
  g_autoptr (GError) error = NULL;
  BedSheet sheet;
  BedDocument *outlines = NULL;

  self->typed = TRUE;
  if (read_sheet (self, &sheet, &error))
    {
      /* What the messages call it until it has a name. */
      if (!*sheet.name)
        sheet.name = (char *) _ ("described here");
      outlines = bed_sheet_check (&sheet, &error) ? bed_sheet_preview_new (&sheet, NULL, NULL)
                                                  : NULL;
    }
  bed_document_view_set_document (self->view, outlines);
  say (self, error ? error->message : NULL);
}

static void
add_cb (BedSheetDialog *self)
{
  g_autofree char *path = bed_sheets_dup_path ();
  g_autofree char *key = NULL;
  g_autoptr (GError) error = NULL;
  BedSheet sheet;

  if (read_sheet (self, &sheet, &error))
    key = bed_sheet_own_add (path, &sheet, self->notation.system, &error);
  if (!key)
    {
      say (self, error->message);
      gtk_widget_set_sensitive (self->add, TRUE);
      return;
    }
  self->typed = FALSE;
  self->added (key, self->user_data);
  gtk_window_close (GTK_WINDOW (self));
}

/* --- building ------------------------------------------------------------------------ */

static GtkWidget *
make_entry (BedSheetDialog *self, GtkGrid *grid, const char *label, int at)
{
  GtkWidget *name = bed_label_new (label, "caption");
  GtkWidget *entry = gtk_entry_new ();

  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 8);
  bed_named (entry, label);
  g_signal_connect_swapped (entry, "changed", G_CALLBACK (changed_cb), self);
  gtk_grid_attach (grid, bed_column_new (6, name, entry, NULL), at < 0 ? 0 : at % 2,
                   at < 0 ? 0 : 1 + at / 2, at < 0 ? 2 : 1, 1);
  return entry;
}

static void
make_entries (BedSheetDialog *self, GtkGrid *grid)
{
  const char *unit = bed_measure_unit (BED_MEASURE_LENGTH_FINE, self->notation.system);

  self->name = make_entry (self, grid, _ ("Name"), -1);
  bed_entry_hint (self->name, _ ("what to choose it by"));
  for (guint i = 0; i < N_MEASURES; i++)
    {
      g_autofree char *label = is_count (i) ? g_strdup (_ (names[i]))
                                            : g_strdup_printf ("%s (%s)", _ (names[i]), unit);

      self->measures[i] = make_entry (self, grid, label, i);
    }
  bed_entry_hint (self->measures[PITCH_X], _ ("the label's width"));
  bed_entry_hint (self->measures[PITCH_Y], _ ("the label's height"));
}

/* A sheet to start from: what lies in the printer, in two rows of two. */
static void
fill_entries (BedSheetDialog *self)
{
  /* A4 and letter, in mm and in. */
  static const char *const sheets[][2][8] = {
    { { "210", "297", "2", "2", "105", "148", "0", "0" },
      { "8.27", "11.69", "2", "2", "4.13", "5.84", "0", "0" } },
    { { "215.9", "279.4", "2", "2", "107.9", "139.7", "0", "0" },
      { "8.5", "11", "2", "2", "4.25", "5.5", "0", "0" } },
  };
  const BedSystem system = self->notation.system;
  const char *const *measures = sheets[bed_habits_has_letter (system)][system];

  for (guint i = 0; i < G_N_ELEMENTS (sheets[0][0]); i++)
    {
      g_autofree char *text = bed_number_say (&self->notation, measures[i]);

      gtk_editable_set_text (GTK_EDITABLE (self->measures[i]), text);
    }
}

static GtkWidget *
make_fields (BedSheetDialog *self)
{
  GtkWidget *grid = bed_grid_new (12, 12);
  GtkWidget *space = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  g_autofree char *path = bed_sheets_dup_path ();
  g_autofree char *kept = g_strdup_printf (_ ("Kept in %s, where it can be changed."), path);
  GtkWidget *where = bed_styled (bed_words_new (kept, "caption"), "dim-label");

  gtk_grid_set_column_homogeneous (GTK_GRID (grid), TRUE);
  make_entries (self, GTK_GRID (grid));
  gtk_label_set_wrap_mode (GTK_LABEL (where), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_max_width_chars (GTK_LABEL (where), 30);
  gtk_widget_set_vexpand (space, TRUE);
  self->add = bed_styled (bed_button_new (_ ("Add sheet"), G_CALLBACK (add_cb), self),
                          "suggested-action");
  return bed_column_new (12, grid, space, where, self->add, NULL);
}

static GtkWidget *
make_outlines (BedSheetDialog *self)
{
  self->view = bed_document_view_new ();
  self->message = bed_words_new (NULL, "error");
  self->seen = bed_document_view_stack_new (self->view, self->message);
  return self->seen;
}

static void
make_window (BedSheetDialog *self, GtkWidget *inside)
{
  GtkWidget *content;

  /* Before the fields: these draw as they are filled. */
  GtkWidget *outlines = make_outlines (self);
  content = bed_styled (bed_row_new (24, make_fields (self), outlines, NULL), "page");
  bed_window_build (GTK_WIDGET (self), inside, _ ("A label sheet of your own"), content);
  bed_window_close_on_escape (GTK_WIDGET (self));
  bed_window_set_size (GTK_WIDGET (self), 740, 600);
  gtk_window_set_destroy_with_parent (GTK_WINDOW (self), TRUE);
}

/* --- typing -------------------------------------------------------------------------- */

static char *
dup_typing_words (BedTyping *typing)
{
  return BED_SHEET_DIALOG (typing)->typed ? g_strdup (_ ("Half typed and not saved: label sheet."))
                                          : NULL;
}

static void
typing_init (BedTypingInterface *iface)
{
  iface->dup_words = dup_typing_words;
}

static void
bed_sheet_dialog_class_init (BedSheetDialogClass *klass)
{
}

static void
bed_sheet_dialog_init (BedSheetDialog *self)
{
}

/* Public */

char *
bed_sheets_dup_path (void)
{
  return g_build_filename (g_get_user_config_dir (), "bedlog", "label-sheets.csv", NULL);
}

void
bed_sheet_dialog_show (GtkWidget *inside, const BedNotation *notation, BedSheetAdded added,
                       gpointer user_data)
{
  BedSheetDialog *self = g_object_new (BED_TYPE_SHEET_DIALOG, NULL);

  self->notation = *notation;
  self->added = added;
  self->user_data = user_data;
  make_window (self, inside);
  fill_entries (self);
  self->typed = FALSE;
  bed_typing_guard (GTK_WINDOW (self));
  gtk_window_present (GTK_WINDOW (self));
}
