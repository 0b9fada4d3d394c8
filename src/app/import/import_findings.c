#include "app/import/import_findings.h"

#include <glib/gi18n.h>

#include "app/host/host.h"
#include "app/import/import_preview.h"
#include "app/widgets/build.h"
#include "app/widgets/in_view.h"
#include "model/farm/kind_words.h"
#include "model/farm/kinds.h"
#include "model/farm/say.h"

#define LINES_MOST 40 /* of each: nobody reads more before mending one */

struct _BedImportFindings
{
  GtkWidget parent_instance;
  GtkWidget *box;
  BedImportSheet *sheet;
  GtkWidget *choice; /* what becomes of what differs, where it has to be said */
  GtkWidget *next;   /* sets the first row below the last one that was set aside aside */
  guint follows;     /* that row; 0: none, or the keyboard is elsewhere by now */
};

G_DEFINE_FINAL_TYPE (BedImportFindings, bed_import_findings, GTK_TYPE_WIDGET)

static GtkWidget *
add_section (BedImportFindings *self, const char *heading)
{
  GtkWidget *grid = bed_grid_new (12, 3);

  gtk_box_append (GTK_BOX (self->box),
                  bed_column_new (6, bed_label_new (heading, "heading"), grid, NULL));
  return grid;
}

static GtkWidget *
middle (GtkWidget *widget)
{
  gtk_widget_set_valign (widget, GTK_ALIGN_CENTER);
  return widget;
}

/* --- rows set aside ------------------------------------------------------------------ */

static void
set_aside (BedImportFindings *self, guint line)
{
  g_autoptr (GError) error = NULL;
  BedNotebook *notebook = bed_import_sheet_begin_decision (self->sheet);

  if (!bed_notebook_set_aside (notebook, line, BED_ASIDE_ASKED, &error))
    bed_host_say_error (GTK_WIDGET (self), error);
  self->follows = line;
  bed_import_sheet_end_decision (self->sheet);
}

static guint
line_of (GtkWidget *button)
{
  return button ? GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "line")) : 0;
}

static void
aside_cb (BedImportFindings *self, GtkWidget *button)
{
  set_aside (self, line_of (button));
}

static void
aside_action_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  guint line = line_of (gtk_root_get_focus (gtk_widget_get_root (widget)));

  if (line)
    set_aside (BED_IMPORT_FINDINGS (widget), line);
}

/* Of rows that are seen twice the first button goes on. */
static GtkWidget *
make_aside (BedImportFindings *self, guint line)
{
  g_autofree char *name = g_strdup_printf (_ ("Set line %u aside"), line);
  GtkWidget *button = bed_button_new (_ ("Set aside"), G_CALLBACK (aside_cb), self);

  g_object_set_data (G_OBJECT (button), "line", GUINT_TO_POINTER (line));
  gtk_widget_set_tooltip_text (button, _ ("It is not brought in (Delete)"));
  if (!self->next && self->follows && line > self->follows)
    self->next = button;
  return bed_named (button, name);
}

/* What is right goes in without them. */
static void
all_aside_cb (BedImportFindings *self)
{
  GPtrArray *faults = bed_import_sheet_get_faults (self->sheet);
  g_autoptr (GArray) lines = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint i = 0; faults && i < faults->len; i++)
    {
      const BedCsvFault *fault = faults->pdata[i];
      if (fault->severity == BED_FAULT_ERROR && fault->line)
        g_array_append_val (lines, fault->line);
    }
  BedNotebook *notebook = bed_import_sheet_begin_decision (self->sheet);
  for (guint i = 0; i < lines->len; i++)
    bed_notebook_set_aside (notebook, g_array_index (lines, guint, i), BED_ASIDE_ASKED, NULL);
  bed_import_sheet_end_decision (self->sheet);
  g_signal_emit_by_name (self, "decided");
}

static GtkWidget *
make_all_aside (BedImportFindings *self)
{
  GtkWidget *button = bed_button_new (_ ("Set all aside"), G_CALLBACK (all_aside_cb), self);

  gtk_widget_set_tooltip_text (button, _ ("What is right goes in without them"));
  return bed_named (button, _ ("Set all of these aside"));
}

/* --- what is found -------------------------------------------------------------------- */

static char *
dup_place (const BedCsvFault *fault)
{
  if (fault->line == 0)
    return g_strdup (_ ("The sheet"));
  if (fault->column == 0)
    return g_strdup_printf (_ ("Line %u"), fault->line);
  return g_strdup_printf (_ ("Line %u, column %u"), fault->line, fault->column);
}

static char *
dup_message (const BedCsvFault *fault)
{
  if (fault->more == 0)
    return g_strdup (fault->message);
  return bed_say (ngettext ("%s And %u more such, down to line %u.",
                            "%s And %u more such, down to line %u.", fault->more),
                  fault->message, fault->more, fault->to_line);
}

static void
show_faults (BedImportFindings *self, GPtrArray *faults, BedFaultSeverity severity,
             const char *heading)
{
  GtkWidget *grid = NULL;
  int row = 0;
  guint rows = 0; /* that can be set aside */

  for (guint i = 0; faults && i < faults->len && row < LINES_MOST; i++)
    {
      const BedCsvFault *fault = faults->pdata[i];

      if (fault->severity != severity)
        continue;
      g_autofree char *place = dup_place (fault);
      g_autofree char *message = dup_message (fault);
      GtkWidget *words = bed_words_new (message, NULL);

      if (!grid)
        grid = add_section (self, heading);
      gtk_widget_set_hexpand (words, TRUE);
      gtk_grid_attach (GTK_GRID (grid), middle (bed_label_new (place, "dim-label")), 0, row, 1, 1);
      gtk_grid_attach (GTK_GRID (grid), words, 1, row, 1, 1);
      if (severity == BED_FAULT_ERROR && fault->line)
        {
          gtk_grid_attach (GTK_GRID (grid), middle (make_aside (self, fault->line)), 2, row, 1, 1);
          rows++;
        }
      row++;
    }
  if (rows > 1)
    gtk_grid_attach (GTK_GRID (grid), make_all_aside (self), 2, row, 1, 1);
}

static void
add_change (GtkWidget *grid, const BedImportChange *change, int row)
{
  g_autofree char *name = bed_kind_dup_named (change->kind, change->name);
  const char *texts[] = { name, _ (change->field->label), change->from ? change->from : "–", "→",
                          change->to ? change->to : "–" };

  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    gtk_grid_attach (GTK_GRID (grid), bed_line_new (texts[i], i == 1 ? "dim-label" : NULL), i, row,
                     1, 1);
}

static void
decide (BedImportFindings *self, BedImportDiffers differs)
{
  bed_import_sheet_set_differs (self->sheet, differs);
  g_signal_emit_by_name (self, "decided");
}

static void
change_cb (BedImportFindings *self)
{
  decide (self, BED_DIFFERS_AMENDED);
}

static void
leave_cb (BedImportFindings *self)
{
  decide (self, BED_DIFFERS_LEFT);
}

static void
add_choice (BedImportFindings *self)
{
  static const char *const words[] = {
    [BED_DIFFERS_REFUSED] = N_ ("Change them in the farm?"),
    [BED_DIFFERS_AMENDED] = N_ ("They are changed in the farm."),
    [BED_DIFFERS_LEFT] = N_ ("They stay in the farm as they are."),
  };
  BedImportDiffers differs = bed_import_sheet_get_differs (self->sheet);
  GtkWidget *box = bed_row_new (12, bed_label_new (_ (words[differs]), NULL), NULL);

  if (differs != BED_DIFFERS_AMENDED)
    self->choice = bed_button_add (box, _ ("Change them"), G_CALLBACK (change_cb), self);
  if (differs != BED_DIFFERS_LEFT)
    bed_button_add (box, _ ("Leave them as they are"), G_CALLBACK (leave_cb), self);
  if (differs != BED_DIFFERS_REFUSED)
    self->choice = NULL;
  gtk_box_append (GTK_BOX (self->box), box);
}

static void
show_changes (BedImportFindings *self, const BedImportAnswer *answer)
{
  GtkWidget *grid;

  if (!bed_import_sheet_may_differ (self->sheet))
    return;
  grid = add_section (
      self,
      answer ? _ ("What differs from what the farm has")
             : _ ("So many rows are not tried out first. Some may differ from what the farm has."));
  add_choice (self);
  if (!answer)
    return;
  for (guint i = 0; i < answer->changes->len && i < LINES_MOST; i++)
    add_change (grid, answer->changes->pdata[i], i);
  if (answer->n_changes > LINES_MOST)
    {
      guint more = answer->n_changes - LINES_MOST;
      g_autofree char *text = bed_say (ngettext ("And %u more", "And %u more", more), more);

      gtk_grid_attach (GTK_GRID (grid), bed_label_new (text, "dim-label"), 0, LINES_MOST, 5, 1);
    }
}

static void
show_preview (BedImportFindings *self, GPtrArray *previews)
{
  GtkWidget *grid = NULL;

  for (guint i = 0; previews && i < previews->len; i++)
    {
      const BedImportPreview *preview = previews->pdata[i];
      g_autofree char *line = g_strdup_printf (_ ("Line %u"), preview->line);
      GtkWidget *ours = bed_words_new (preview->ours, NULL);
      GtkWidget *theirs = bed_words_new (preview->theirs, "dim-label");

      if (!grid)
        grid = add_section (self, _ ("Rows, and what becomes of them"));
      gtk_widget_set_hexpand (ours, TRUE);
      gtk_widget_set_hexpand (theirs, TRUE);
      gtk_grid_attach (GTK_GRID (grid), middle (bed_label_new (line, "dim-label")), 0, i, 1, 1);
      gtk_grid_attach (GTK_GRID (grid), middle (theirs), 1, i, 1, 1);
      gtk_grid_attach (GTK_GRID (grid), ours, 2, i, 1, 1);
      gtk_grid_attach (GTK_GRID (grid), middle (make_aside (self, preview->line)), 3, i, 1, 1);
    }
}

static void
bed_import_findings_dispose (GObject *object)
{
  g_clear_pointer (&BED_IMPORT_FINDINGS (object)->box, gtk_widget_unparent);
  g_clear_object (&BED_IMPORT_FINDINGS (object)->sheet);
  G_OBJECT_CLASS (bed_import_findings_parent_class)->dispose (object);
}

static void
bed_import_findings_class_init (BedImportFindingsClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = bed_import_findings_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  bed_signal_new (G_TYPE_FROM_CLASS (klass), "decided", 0);
  gtk_widget_class_install_action (GTK_WIDGET_CLASS (klass), "import.aside", NULL, aside_action_cb);
  gtk_widget_class_add_binding_action (GTK_WIDGET_CLASS (klass), GDK_KEY_Delete, 0, "import.aside",
                                       NULL);
}

static void
bed_import_findings_init (BedImportFindings *self)
{
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 18);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}

GtkWidget *
bed_import_findings_new (void)
{
  return g_object_new (BED_TYPE_IMPORT_FINDINGS, NULL);
}

void
bed_import_findings_show (BedImportFindings *self, BedImportSheet *sheet)
{
  g_return_if_fail (BED_IS_IMPORT_FINDINGS (self));

  g_set_object (&self->sheet, sheet);
  self->choice = self->next = NULL;
  bed_box_clear (self->box);
  if (sheet)
    {
      GPtrArray *faults = bed_import_sheet_get_faults (sheet);

      show_faults (self, faults, BED_FAULT_ERROR, _ ("Why it cannot be brought in yet"));
      show_changes (self, bed_import_sheet_get_answer (sheet));
      show_faults (self, faults, BED_FAULT_WARNING, _ ("Worth knowing"));
      show_preview (self, bed_import_sheet_get_preview (sheet));
    }
  gtk_widget_set_visible (GTK_WIDGET (self), gtk_widget_get_first_child (self->box) != NULL);
  if (self->next && gtk_widget_grab_focus (self->next))
    self->follows = 0;
}

gboolean
bed_import_findings_enter (BedImportFindings *self)
{
  g_return_val_if_fail (BED_IS_IMPORT_FINDINGS (self), FALSE);

  if (!self->choice)
    return FALSE;
  bed_bring_in_view (self->choice);
  return gtk_widget_grab_focus (self->choice);
}
