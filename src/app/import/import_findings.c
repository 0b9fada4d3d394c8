#include "app/import/import_findings.h"

#include <glib/gi18n.h>

#include "app/import/import_preview.h"
#include "app/widgets/build.h"
#include "model/farm/kinds.h"

#define LINES_MOST 40 /* of each: nobody reads more before mending one */

struct _BedImportFindings
{
  GtkWidget parent_instance;
  GtkWidget *box;
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
top (GtkWidget *widget)
{
  gtk_widget_set_valign (widget, GTK_ALIGN_START);
  return widget;
}

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
  return g_strdup_printf (ngettext ("%s And %u more such, down to line %u.",
                                    "%s And %u more such, down to line %u.", fault->more),
                          fault->message, fault->more, fault->to_line);
}

static void
show_faults (BedImportFindings *self, GPtrArray *faults, BedFaultSeverity severity,
             const char *heading)
{
  GtkWidget *grid = NULL;
  int row = 0;

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
      gtk_grid_attach (GTK_GRID (grid), top (bed_label_new (place, "dim-label")), 0, row, 1, 1);
      gtk_grid_attach (GTK_GRID (grid), words, 1, row++, 1, 1);
    }
}

static void
add_change (GtkWidget *grid, const BedImportChange *change, int row)
{
  g_autofree char *name
      = g_strdup_printf ("%s %s", _ (bed_kind_get_info (change->kind)->singular), change->name);
  const char *texts[] = { name, _ (change->field->label), change->from ? change->from : "–", "→",
                          change->to ? change->to : "–" };

  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    gtk_grid_attach (GTK_GRID (grid), bed_line_new (texts[i], i == 1 ? "dim-label" : NULL), i, row,
                     1, 1);
}

static void
show_changes (BedImportFindings *self, const BedImportAnswer *answer)
{
  GtkWidget *grid;

  if (!answer || answer->changes->len == 0)
    return;
  grid = add_section (self, _ ("What is changed"));
  for (guint i = 0; i < answer->changes->len && i < LINES_MOST; i++)
    add_change (grid, answer->changes->pdata[i], i);
  if (answer->n_changes > LINES_MOST)
    {
      guint more = answer->n_changes - LINES_MOST;
      g_autofree char *text = g_strdup_printf (ngettext ("And %u more", "And %u more", more), more);

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
      gtk_grid_attach (GTK_GRID (grid), top (bed_label_new (line, "dim-label")), 0, i, 1, 1);
      gtk_grid_attach (GTK_GRID (grid), top (theirs), 1, i, 1, 1);
      gtk_grid_attach (GTK_GRID (grid), ours, 2, i, 1, 1);
    }
}

static void
bed_import_findings_dispose (GObject *object)
{
  g_clear_pointer (&BED_IMPORT_FINDINGS (object)->box, gtk_widget_unparent);
  G_OBJECT_CLASS (bed_import_findings_parent_class)->dispose (object);
}

static void
bed_import_findings_class_init (BedImportFindingsClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = bed_import_findings_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
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
}
