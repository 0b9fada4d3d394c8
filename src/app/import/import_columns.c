#include "app/import/import_columns.h"

#include <glib/gi18n.h>

#include "app/host/host.h"
#include "app/import/import_words.h"
#include "app/widgets/build.h"
#include "app/widgets/drop_down.h"
#include "model/farm/kinds.h"

#define HEAD_CHARS 20
#define CELL_CHARS 10

/* One column of theirs, a row here. */
typedef struct
{
  guint at;
  GtkWidget *head;
  GtkWidget *cells;
  GtkWidget *field; /* drop-downs */
  GtkWidget *unit;
  GtkWidget *dates;
  GtkWidget *how;
  GtkWidget *look;
  GtkWidget *shown[5]; /* its cells of the grid */
} Line;

struct _BedImportColumns
{
  GtkWidget parent_instance;
  GtkWidget *grid;
  GPtrArray *lines; /* Line */
  BedImportSheet *sheet;
  gboolean showing; /* what is selected now is no decision */
};

G_DEFINE_FINAL_TYPE (BedImportColumns, bed_import_columns, GTK_TYPE_WIDGET)

static const BedDates date_orders[]
    = { BED_DATES_YMD, BED_DATES_DMY, BED_DATES_MDY, BED_DATES_DAYS_1900, BED_DATES_DAYS_1904 };

/* --- drop-downs ------------------------------------------------------------------ */

static gboolean
has_words (GtkDropDown *drop, GtkStringList *words)
{
  GListModel *model = gtk_drop_down_get_model (drop);
  guint n = g_list_model_get_n_items (G_LIST_MODEL (words));

  if (!model || g_list_model_get_n_items (model) != n)
    return FALSE;
  for (guint i = 0; i < n; i++)
    if (g_strcmp0 (gtk_string_list_get_string (GTK_STRING_LIST (model), i),
                   gtk_string_list_get_string (words, i))
        != 0)
      return FALSE;
  return TRUE;
}

static void
choose (GtkWidget *drop, GtkStringList *words, guint at)
{
  if (!has_words (GTK_DROP_DOWN (drop), words))
    gtk_drop_down_set_model (GTK_DROP_DOWN (drop), G_LIST_MODEL (words));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (drop), at);
}

static GtkWidget *
make_drop (BedImportColumns *self, Line *line, const char *name, GCallback chosen)
{
  GtkWidget *drop = bed_drop_down_new (NULL, name);

  g_object_set_data (G_OBJECT (drop), "line", line);
  g_signal_connect_swapped (drop, "notify::selected", chosen, self);
  return drop;
}

/* --- decisions --------------------------------------------------------------------- */

static Line *
line_of (GtkWidget *drop)
{
  return g_object_get_data (G_OBJECT (drop), "line");
}

static void
end_decision (BedImportColumns *self, gboolean done, const GError *error)
{
  if (!done)
    bed_host_say_error (GTK_WIDGET (self), error);
  bed_import_sheet_end_decision (self->sheet);
}

static void
field_chosen_cb (BedImportColumns *self, GParamSpec *pspec, GtkWidget *drop)
{
  guint at = gtk_drop_down_get_selected (GTK_DROP_DOWN (drop)), n;
  g_autoptr (GError) error = NULL;

  if (self->showing || at == GTK_INVALID_LIST_POSITION)
    return;
  BedNotebook *notebook = bed_import_sheet_begin_decision (self->sheet);
  const BedNotebookTarget *targets = bed_notebook_get_targets (notebook, &n);
  BedNotebookTarget target = { bed_notebook_get_kind (notebook, NULL), NULL };
  if (at > 0 && at <= n)
    target = targets[at - 1];
  gboolean done
      = bed_notebook_set_field (notebook, line_of (drop)->at, target.kind, target.field, &error);
  end_decision (self, done, error);
}

static void
unit_chosen_cb (BedImportColumns *self, GParamSpec *pspec, GtkWidget *drop)
{
  GtkStringObject *chosen = gtk_drop_down_get_selected_item (GTK_DROP_DOWN (drop));
  g_autoptr (GError) error = NULL;

  if (self->showing || !chosen)
    return;
  g_autofree char *unit = g_strdup (gtk_string_object_get_string (chosen));
  BedNotebook *notebook = bed_import_sheet_begin_decision (self->sheet);
  gboolean done = bed_notebook_set_unit (notebook, line_of (drop)->at, unit, &error);
  end_decision (self, done, error);
}

static void
dates_chosen_cb (BedImportColumns *self, GParamSpec *pspec, GtkWidget *drop)
{
  guint at = gtk_drop_down_get_selected (GTK_DROP_DOWN (drop));
  g_autoptr (GError) error = NULL;

  if (self->showing || at >= G_N_ELEMENTS (date_orders))
    return;
  BedNotebook *notebook = bed_import_sheet_begin_decision (self->sheet);
  gboolean done = bed_notebook_set_dates (notebook, line_of (drop)->at, date_orders[at], &error);
  end_decision (self, done, error);
}

static void
look_cb (BedImportColumns *self, GtkWidget *button)
{
  g_signal_emit_by_name (self, "look", line_of (button)->at);
}

/* --- one line ------------------------------------------------------------------------- */

static void
show_field (Line *line, BedNotebook *notebook, const BedNotebookColumn *column)
{
  g_autoptr (GtkStringList) words = gtk_string_list_new (NULL);
  BedKind kind = bed_notebook_get_kind (notebook, NULL);
  guint n, selected = 0;
  const BedNotebookTarget *targets = bed_notebook_get_targets (notebook, &n);

  gtk_string_list_append (words, _ ("(leave out)"));
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *word = bed_import_dup_target (&targets[i], kind);

      gtk_string_list_append (words, word);
      if (targets[i].field == column->field && targets[i].kind == column->kind)
        selected = i + 1;
    }
  choose (line->field, words, column->field ? selected : 0);
  gtk_widget_set_tooltip_text (line->field, column->why);
  gtk_accessible_update_property (GTK_ACCESSIBLE (line->field), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  column->why, -1);
}

static void
show_unit (Line *line, BedNotebook *notebook, const BedNotebookColumn *column)
{
  g_autoptr (GtkStringList) words = gtk_string_list_new (NULL);
  g_auto (GStrv) units = column->field ? bed_import_dup_units (column->field) : NULL;
  guint selected = GTK_INVALID_LIST_POSITION;

  for (guint i = 0; units && units[i]; i++)
    {
      gtk_string_list_append (words, units[i]);
      if (g_strcmp0 (units[i], column->unit) == 0)
        selected = i;
    }
  if (selected == GTK_INVALID_LIST_POSITION && column->unit[0])
    {
      selected = g_list_model_get_n_items (G_LIST_MODEL (words));
      gtk_string_list_append (words, column->unit);
    }
  choose (line->unit, words, selected);
  gtk_widget_set_visible (line->unit, g_list_model_get_n_items (G_LIST_MODEL (words)) > 0);
}

static void
show_dates (Line *line, const BedNotebookColumn *column)
{
  g_autoptr (GtkStringList) words = gtk_string_list_new (NULL);
  guint selected = GTK_INVALID_LIST_POSITION;

  for (guint i = 0; i < G_N_ELEMENTS (date_orders); i++)
    {
      gtk_string_list_append (words, bed_import_get_dates_word (date_orders[i]));
      if (date_orders[i] == column->dates)
        selected = i;
    }
  choose (line->dates, words, selected);
  gtk_widget_set_visible (line->dates, column->dates != BED_DATES_NONE);
}

static void
show_line (BedImportColumns *self, Line *line, BedNotebook *notebook)
{
  const BedNotebookColumn *column = bed_notebook_get_column (notebook, line->at);
  g_autofree char *head = column->head[0] ? g_strdup (column->head)
                                          : g_strdup_printf (_ ("Column %u"), line->at + 1);
  g_autofree char *cells = bed_import_dup_samples (column);
  g_autofree char *how = bed_import_dup_how (column);

  gtk_label_set_label (GTK_LABEL (line->head), head);
  gtk_widget_set_tooltip_text (line->head, head);
  gtk_label_set_label (GTK_LABEL (line->cells), cells);
  gtk_widget_set_tooltip_text (line->cells, cells);
  gtk_label_set_label (GTK_LABEL (line->how), how);
  gtk_widget_set_tooltip_text (line->how, column->why);
  gtk_widget_set_visible (line->look, column->odd > 0);
  show_field (line, notebook, column);
  show_unit (line, notebook, column);
  show_dates (line, column);
}

static Line *
make_line (BedImportColumns *self, guint at)
{
  Line *line = g_new0 (Line, 1);
  g_autofree char *field = g_strdup_printf (_ ("What column %u is"), at + 1);
  g_autofree char *unit = g_strdup_printf (_ ("Unit of column %u"), at + 1);
  g_autofree char *dates = g_strdup_printf (_ ("Dates of column %u"), at + 1);

  line->at = at;
  line->head = bed_line_new ("", "import-head");
  line->cells = bed_line_new ("", "dim-label");
  line->field = make_drop (self, line, field, G_CALLBACK (field_chosen_cb));
  line->unit = make_drop (self, line, unit, G_CALLBACK (unit_chosen_cb));
  line->dates = make_drop (self, line, dates, G_CALLBACK (dates_chosen_cb));
  line->how = bed_label_new ("", "numeric");
  line->look = bed_button_new (_ ("Look"), G_CALLBACK (look_cb), self);
  g_object_set_data (G_OBJECT (line->look), "line", line);
  bed_drop_down_let_search (GTK_DROP_DOWN (line->field));
  bed_styled (line->field, "import-field");
  gtk_label_set_max_width_chars (GTK_LABEL (line->head), HEAD_CHARS);
  gtk_label_set_width_chars (GTK_LABEL (line->cells), CELL_CHARS);
  gtk_widget_set_hexpand (line->cells, TRUE);
  return line;
}

static void
attach_line (BedImportColumns *self, Line *line)
{
  GtkWidget *how = bed_row_new (6, line->dates, line->how, line->look, NULL);
  GtkWidget *cells[] = { line->head, line->cells, line->field, line->unit, how };

  for (guint i = 0; i < G_N_ELEMENTS (cells); i++)
    {
      gtk_widget_set_valign (cells[i], GTK_ALIGN_CENTER);
      gtk_grid_attach (GTK_GRID (self->grid), cells[i], i, line->at + 1, 1, 1);
      line->shown[i] = cells[i];
    }
}

static void
attach_heads (BedImportColumns *self)
{
  const char *heads[]
      = { _ ("Their column"), _ ("First cells"), _ ("Is our"), _ ("Unit"), _ ("How it is read") };

  for (guint i = 0; i < G_N_ELEMENTS (heads); i++)
    gtk_grid_attach (GTK_GRID (self->grid), bed_label_new (heads[i], "field-label"), i, 0, 1, 1);
}

static void
fit_lines (BedImportColumns *self, guint n)
{
  while (self->lines->len > n)
    {
      Line *line = self->lines->pdata[self->lines->len - 1];

      for (guint i = 0; i < G_N_ELEMENTS (line->shown); i++)
        gtk_grid_remove (GTK_GRID (self->grid), line->shown[i]);
      g_ptr_array_set_size (self->lines, self->lines->len - 1);
    }
  while (self->lines->len < n)
    {
      Line *line = make_line (self, self->lines->len);

      attach_line (self, line);
      g_ptr_array_add (self->lines, line);
    }
}

/* --- overrides ---------------------------------------------------------------------------- */

static void
bed_import_columns_dispose (GObject *object)
{
  BedImportColumns *self = BED_IMPORT_COLUMNS (object);

  self->showing = TRUE;
  g_clear_pointer (&self->grid, gtk_widget_unparent);
  g_clear_object (&self->sheet);
  G_OBJECT_CLASS (bed_import_columns_parent_class)->dispose (object);
}

static void
bed_import_columns_finalize (GObject *object)
{
  g_ptr_array_unref (BED_IMPORT_COLUMNS (object)->lines);
  G_OBJECT_CLASS (bed_import_columns_parent_class)->finalize (object);
}

static void
bed_import_columns_class_init (BedImportColumnsClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = bed_import_columns_dispose;
  G_OBJECT_CLASS (klass)->finalize = bed_import_columns_finalize;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  bed_signal_new (G_TYPE_FROM_CLASS (klass), "look", 1, G_TYPE_UINT);
}

static void
bed_import_columns_init (BedImportColumns *self)
{
  self->lines = g_ptr_array_new_with_free_func (g_free);
  self->grid = bed_styled (bed_grid_new (12, 3), "import-columns");
  gtk_widget_set_parent (self->grid, GTK_WIDGET (self));
  attach_heads (self);
}

/* --- public --------------------------------------------------------------------------------- */

GtkWidget *
bed_import_columns_new (void)
{
  return g_object_new (BED_TYPE_IMPORT_COLUMNS, NULL);
}

void
bed_import_columns_show (BedImportColumns *self, BedImportSheet *sheet)
{
  g_return_if_fail (BED_IS_IMPORT_COLUMNS (self));
  BedNotebook *notebook = sheet ? bed_import_sheet_get_notebook (sheet) : NULL;

  g_set_object (&self->sheet, sheet);
  self->showing = TRUE;
  fit_lines (self, notebook ? bed_notebook_get_n_columns (notebook) : 0);
  for (guint i = 0; i < self->lines->len; i++)
    show_line (self, self->lines->pdata[i], notebook);
  self->showing = FALSE;
}
