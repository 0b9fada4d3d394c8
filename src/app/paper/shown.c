#include "app/paper/shown.h"

#include "app/widgets/plot.h"
#include "app/widgets/table.h"
#include "print/field/list_sheet.h"

/* More rows than this of a table nobody reads on paper. */
#define MOST_ROWS 2000

typedef struct
{
  BedFarm *farm;
  BedListSheet *sheet;
  double width;        /* of the paper, points */
  const char *heading; /* the last one seen, borrowed; NULL once it stands over something */
} Walk;

static void
begin_part (Walk *walk, const char *otherwise)
{
  bed_list_sheet_drop_empty (walk->sheet);
  bed_list_sheet_add_part (walk->sheet, walk->heading ? walk->heading : otherwise);
  walk->heading = NULL;
}

/* The words of a widget in a cell: a label's, or all that stand in it. */
static void
add_words (GtkWidget *widget, GString *words)
{
  if (!gtk_widget_get_visible (widget))
    return;
  if (GTK_IS_LABEL (widget))
    {
      const char *text = gtk_label_get_text (GTK_LABEL (widget));
      if (*text)
        g_string_append_printf (words, "%s%s", words->len ? " " : "", text);
      return;
    }
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child;
       child = gtk_widget_get_next_sibling (child))
    add_words (child, words);
}

static char *
dup_words (GtkWidget *widget)
{
  GString *words = g_string_new (NULL);

  if (widget)
    add_words (widget, words);
  return g_string_free (words, words->len == 0);
}

/* --- figures ----------------------------------------------------------------------------- */

/* Each is a column of its value with its unit over its caption. */
static void
add_figures (Walk *walk, GtkWidget *figures)
{
  begin_part (walk, NULL);
  bed_list_sheet_add_column (walk->sheet, "", BED_ALIGN_LEFT);
  bed_list_sheet_add_column (walk->sheet, "", BED_ALIGN_RIGHT);
  for (GtkWidget *figure = gtk_widget_get_first_child (figures); figure;
       figure = gtk_widget_get_next_sibling (figure))
    {
      g_autofree char *value = dup_words (gtk_widget_get_first_child (figure));
      g_autofree char *caption = dup_words (gtk_widget_get_last_child (figure));
      bed_list_sheet_add_row (walk->sheet, (const char *[]){ caption, value });
    }
}

/* --- grids of words ---------------------------------------------------------------------- */

static void
measure_grid (GtkWidget *grid, int *columns, int *rows)
{
  *columns = *rows = 0;
  for (GtkWidget *child = gtk_widget_get_first_child (grid); child;
       child = gtk_widget_get_next_sibling (child))
    {
      int column, row, width, height;

      gtk_grid_query_child (GTK_GRID (grid), child, &column, &row, &width, &height);
      *columns = MAX (*columns, column + width);
      *rows = MAX (*rows, row + height);
    }
}

static BedTextAlign
get_align (GtkWidget *grid, int column, int row)
{
  GtkWidget *child = gtk_grid_get_child_at (GTK_GRID (grid), column, row);

  return GTK_IS_LABEL (child) && gtk_label_get_xalign (GTK_LABEL (child)) > 0.5f ? BED_ALIGN_RIGHT
                                                                                 : BED_ALIGN_LEFT;
}

/* The first row is the heads where its last words are dim, as those of a value are not. */
static void
add_grid (Walk *walk, GtkWidget *grid)
{
  int columns, rows, first = 0;

  measure_grid (grid, &columns, &rows);
  if (columns == 0)
    return;
  GtkWidget *head = gtk_grid_get_child_at (GTK_GRID (grid), columns - 1, 0);
  first = head && rows > 1 && gtk_widget_has_css_class (head, "dim-label");
  begin_part (walk, NULL);
  for (int i = 0; i < columns; i++)
    {
      g_autofree char *words = first ? dup_words (gtk_grid_get_child_at (GTK_GRID (grid), i, 0))
                                     : NULL;
      bed_list_sheet_add_column (walk->sheet, words ? words : "",
                                 get_align (grid, i, MIN (first, rows - 1)));
    }
  for (int row = first; row < rows; row++)
    {
      g_autoptr (GPtrArray) cells = g_ptr_array_new_with_free_func (g_free);
      for (int i = 0; i < columns; i++)
        g_ptr_array_add (cells, dup_words (gtk_grid_get_child_at (GTK_GRID (grid), i, row)));
      bed_list_sheet_add_row (walk->sheet, (const char *const *) cells->pdata);
    }
}

/* --- tables ------------------------------------------------------------------------------ */

static void
add_table (Walk *walk, BedTable *table)
{
  GListModel *rows = G_LIST_MODEL (bed_table_get_list (table));
  guint n_columns;
  const BedTableColumn *columns = bed_table_get_columns (table, &n_columns);
  guint n = MIN (g_list_model_get_n_items (rows), MOST_ROWS);

  begin_part (walk, bed_table_get_label (table));
  for (guint i = 0; i < n_columns; i++)
    {
      g_autofree char *head = bed_table_cell_dup_title (walk->farm, &columns[i]);
      if (!bed_table_cell_has_words (&columns[i]))
        continue;
      bed_list_sheet_add_column (walk->sheet, head,
                                 bed_table_cell_is_number (&columns[i]) ? BED_ALIGN_RIGHT
                                                                        : BED_ALIGN_LEFT);
    }
  for (guint at = 0; at < n; at++)
    {
      g_autoptr (BedRow) row = g_list_model_get_item (rows, at);
      g_autoptr (GPtrArray) cells = g_ptr_array_new_with_free_func (g_free);
      for (guint i = 0; i < n_columns; i++)
        if (bed_table_cell_has_words (&columns[i]))
          g_ptr_array_add (cells, bed_table_cell_dup_text (walk->farm, &columns[i], row));
      bed_list_sheet_add_row (walk->sheet, (const char *const *) cells->pdata);
    }
}

/* --- charts ------------------------------------------------------------------------------ */

/* A pixel of the screen, points. */
#define PIXEL 0.75

/* Narrower ones are marks beside words. */
#define LEAST_CHART 200

typedef struct
{
  GskRenderNode *node; /* NULL: nothing was drawn */
  double width, height;
} Chart;

static void
free_chart (gpointer data)
{
  Chart *chart = data;

  g_clear_pointer (&chart->node, gsk_render_node_unref);
  g_free (chart);
}

static gboolean
draw_chart_cb (cairo_t *cr, const BedBox *box, gpointer data, GError **error)
{
  const Chart *chart = data;
  double scale = MIN (MIN (box->width / chart->width, box->height / chart->height), PIXEL);

  if (!chart->node)
    return TRUE;
  cairo_save (cr);
  cairo_translate (cr, box->x, box->y);
  cairo_scale (cr, scale, scale);
  gsk_render_node_draw (chart->node, cr);
  cairo_restore (cr);
  return TRUE;
}

static void
add_chart (Walk *walk, GtkWidget *widget)
{
  Chart chart = { bed_ink_draw_on_paper (widget), gtk_widget_get_width (widget),
                  gtk_widget_get_height (widget) };
  double scale = MIN (walk->width / chart.width, PIXEL);
  const BedSheetFigure figure
      = { chart.height * scale, draw_chart_cb, g_memdup2 (&chart, sizeof chart), free_chart };

  bed_list_sheet_drop_empty (walk->sheet);
  bed_list_sheet_add_drawing (walk->sheet, walk->heading, &figure);
  walk->heading = NULL;
}

static gboolean
is_chart (GtkWidget *widget)
{
  return gtk_accessible_get_accessible_role (GTK_ACCESSIBLE (widget)) == GTK_ACCESSIBLE_ROLE_IMG
         && gtk_widget_get_mapped (widget) && gtk_widget_get_width (widget) >= LEAST_CHART;
}

/* --- all that is there ------------------------------------------------------------------- */

static void
walk_through (Walk *walk, GtkWidget *widget)
{
  if (!gtk_widget_get_child_visible (widget) || !gtk_widget_get_visible (widget))
    return;
  if (BED_IS_TABLE (widget))
    add_table (walk, BED_TABLE (widget));
  else if (is_chart (widget))
    add_chart (walk, widget);
  else if (GTK_IS_GRID (widget))
    add_grid (walk, widget);
  else if (gtk_widget_has_css_class (widget, "figures"))
    add_figures (walk, widget);
  else if (GTK_IS_LABEL (widget) && gtk_widget_has_css_class (widget, "heading"))
    walk->heading = gtk_label_get_text (GTK_LABEL (widget));
  else
    for (GtkWidget *child = gtk_widget_get_first_child (widget); child;
         child = gtk_widget_get_next_sibling (child))
      walk_through (walk, child);
}

/* Public */

BedDocument *
bed_shown_document_new (BedFarm *farm, GtkWidget *shown, const char *title, const BedPaper *paper)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && GTK_IS_WIDGET (shown), NULL);
  g_autoptr (BedListSheet) sheet = bed_list_sheet_new (farm, title);
  Walk walk = { farm, sheet, paper->width - 24 * BED_POINTS_PER_MM, NULL };

  walk_through (&walk, shown);
  bed_list_sheet_drop_empty (sheet);
  return bed_list_sheet_document_new (g_steal_pointer (&sheet), paper);
}
