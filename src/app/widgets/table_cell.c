#include "app/widgets/table_cell.h"

#include <glib/gi18n.h>

#include "app/widgets/build.h"
#include "model/farm/kinds.h"
#include "model/farm/stage.h"
#include "model/farm/value.h"
#include "science/units.h"

#define ITEM "bed-list-item" /* of what a cell shows: its GtkListItem */

typedef struct
{
  BedFarm *farm;
  BedTableColumn column;
} Cell;

static void
free_cell (gpointer data, GClosure *closure)
{
  Cell *cell = data;

  g_object_unref (cell->farm);
  g_free (cell);
}

static char *
dup_date (const char *text, char *(*format) (const char *date))
{
  g_autofree char *day = text ? g_strndup (text, 10) : NULL;

  return day ? format (day) : g_strdup ("");
}

static char *
dup_measure (BedFarm *farm, const BedTableColumn *column, BedRow *row)
{
  const BedNotation *notation = bed_farm_get_notation (farm);
  gint64 value;

  if (!bed_row_has (row, column->column))
    return g_strdup ("");
  value = bed_row_int (row, column->column);
  if (column->decimals == 0)
    return bed_measure_format_said (column->measure, notation, value);
  return bed_measure_format_rounded (column->measure, notation, column->decimals, value);
}

/* What asks the farm for a name, and could not, says so where the name would be. */
static char *
dup_custom (BedFarm *farm, const BedTableColumn *column, BedRow *row)
{
  g_autoptr (GError) error = NULL;

  if (!bed_farm_begin_reading (farm))
    return g_strdup ("");
  char *text = column->dup_text (farm, row);
  if (bed_farm_end_reading (farm, &error))
    return text;
  g_free (text);
  return g_strdup (error->message);
}

char *
bed_table_cell_dup_text (BedFarm *farm, const BedTableColumn *column, BedRow *row)
{
  const char *text = column->cell == BED_CELL_MEASURE ? NULL : bed_row_text (row, column->column);

  switch (column->cell)
    {
    case BED_CELL_DATE:
      return dup_date (text, bed_date_format);
    case BED_CELL_DAY:
      return dup_date (text, bed_date_format_day);
    case BED_CELL_CHOICE:
      return g_strdup (text ? bed_field_choice_label (
                           bed_kind_find_field (column->kind, column->column, NULL), text)
                            : "");
    case BED_CELL_STAGE:
      return g_strdup (text ? bed_stage_get_word (bed_stage_from_key (text)) : "");
    case BED_CELL_MEASURE:
      return dup_measure (farm, column, row);
    case BED_CELL_CUSTOM:
      return dup_custom (farm, column, row);
    case BED_CELL_DRAWN:
    case BED_CELL_TEXT:
    default:
      return g_strdup (text ? text : "");
    }
}

static void
show (GtkListItem *item, Cell *cell)
{
  GtkWidget *label = gtk_list_item_get_child (item);

  if (cell->column.cell == BED_CELL_DRAWN)
    {
      cell->column.drawn_show (label, gtk_list_item_get_item (item));
      return;
    }
  g_autofree char *text
      = bed_table_cell_dup_text (cell->farm, &cell->column, gtk_list_item_get_item (item));
  gtk_label_set_label (GTK_LABEL (label), text);
}

static void
row_changed_cb (BedRow *row, GtkListItem *item)
{
  show (item, g_object_get_data (G_OBJECT (item), "cell"));
}

static GtkWidget *
make_label (const Cell *cell)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), bed_table_cell_is_number (&cell->column) ? 1 : 0);
  /* Words may be cut; of a day or a number what is left would be another one. */
  if (!bed_table_cell_is_number (&cell->column) && cell->column.cell != BED_CELL_DATE
      && cell->column.cell != BED_CELL_DAY)
    bed_cut_off (label);
  if (cell->column.width)
    gtk_label_set_width_chars (GTK_LABEL (label), cell->column.width);
  if (bed_table_cell_is_number (&cell->column))
    gtk_widget_add_css_class (label, "numeric");
  return label;
}

static void
setup_cb (GtkSignalListItemFactory *factory, GtkListItem *item, Cell *cell)
{
  GtkWidget *child = cell->column.cell == BED_CELL_DRAWN ? cell->column.drawn_new (cell->farm)
                                                         : make_label (cell);

  g_object_set_data (G_OBJECT (item), "cell", cell);
  gtk_list_item_set_child (item, child);
  g_object_set_data (G_OBJECT (child), ITEM, item);
}

static void
bind_cb (GtkSignalListItemFactory *factory, GtkListItem *item, Cell *cell)
{
  g_signal_connect (gtk_list_item_get_item (item), "changed", G_CALLBACK (row_changed_cb), item);
  show (item, cell);
}

/* Cells are used again for other rows: what is not cut here acts on the wrong one. */
static void
unbind_cb (GtkSignalListItemFactory *factory, GtkListItem *item, Cell *cell)
{
  g_signal_handlers_disconnect_by_func (gtk_list_item_get_item (item), row_changed_cb, item);
}

static BedTableCell
cell_of (const BedField *field)
{
  if (field->type == BED_FIELD_DATE || field->type == BED_FIELD_MOMENT)
    return BED_CELL_DATE;
  if (field->type == BED_FIELD_CHOICE)
    return BED_CELL_CHOICE;
  return field->type == BED_FIELD_MEASURE ? BED_CELL_MEASURE : BED_CELL_TEXT;
}

BedTableColumn
bed_table_cell_resolve (BedKind kind, const BedTableColumn *column)
{
  const BedField *field = column->field ? bed_kind_find_field (kind, column->field, NULL) : NULL;
  BedTableColumn whole = *column;

  g_assert (field || column->column); /* a table names a field that there is not */
  if (!field)
    return whole;
  whole.column = field->name;
  whole.title = column->title ? column->title : field->label;
  if (column->cell == BED_CELL_TEXT)
    whole.cell = cell_of (field);
  whole.measure = field->measure;
  whole.kind = kind;
  return whole;
}

GtkListItemFactory *
bed_table_cell_factory_new (BedFarm *farm, const BedTableColumn *column)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
  Cell *cell = g_new (Cell, 1);

  cell->farm = g_object_ref (farm);
  cell->column = *column;
  g_signal_connect_data (factory, "setup", G_CALLBACK (setup_cb), cell, free_cell, 0);
  g_signal_connect (factory, "bind", G_CALLBACK (bind_cb), cell);
  g_signal_connect (factory, "unbind", G_CALLBACK (unbind_cb), cell);
  return factory;
}

static GtkListItem *
find_item (GtkWidget *inside)
{
  GtkListItem *item = g_object_get_data (G_OBJECT (inside), ITEM);

  for (GtkWidget *child = gtk_widget_get_first_child (inside); child && !item;
       child = gtk_widget_get_next_sibling (child))
    item = find_item (child);
  return item;
}

guint
bed_table_cell_find_row (GtkWidget *cell, GtkWidget *view)
{
  GtkListItem *item = NULL;

  /* Not up to what holds all rows: that is the child of the view. */
  for (; cell && cell != view && gtk_widget_get_parent (cell) != view && !item;
       cell = gtk_widget_get_parent (cell))
    item = find_item (cell);
  return item ? gtk_list_item_get_position (item) : GTK_INVALID_LIST_POSITION;
}

char *
bed_table_cell_dup_title (BedFarm *farm, const BedTableColumn *column)
{
  const char *unit = "";

  if (column->cell == BED_CELL_MEASURE && column->measure == BED_MEASURE_MONEY)
    unit = bed_record_get_text (bed_farm_get_settings (farm), "currency");
  else if (column->cell == BED_CELL_MEASURE)
    unit = bed_measure_unit (column->measure, bed_farm_get_notation (farm)->system);
  if (!unit || !*unit)
    return g_strdup (_ (column->title));
  /* Translators: a column head, what it shows and its unit. */
  return g_strdup_printf (_ ("%s (%s)"), _ (column->title), unit);
}

gboolean
bed_table_cell_is_number (const BedTableColumn *column)
{
  return column->cell == BED_CELL_MEASURE;
}

gboolean
bed_table_cell_is_wide (const BedTableColumn *column)
{
  return column->cell == BED_CELL_TEXT && column->width == 0;
}

gboolean
bed_table_cell_has_words (const BedTableColumn *column)
{
  return column->cell != BED_CELL_DRAWN || column->width;
}

static void
set_up_filling_cb (GtkListItemFactory *factory, GtkListItem *item)
{
  gtk_list_item_set_child (item, gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0));
}

GtkListItemFactory *
bed_table_cell_filling_new (void)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();

  g_signal_connect (factory, "setup", G_CALLBACK (set_up_filling_cb), NULL);
  return factory;
}
