#include <gio/gio.h>
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "print-resources.h"
#include "print/page/sheet.h"

#define MOST_LABELS 100

typedef enum
{
  COLUMN_KEY,
  COLUMN_PAPER,
  COLUMN_UNIT,
  COLUMN_PAGE_WIDTH,
  COLUMN_PAGE_HEIGHT,
  COLUMN_COLUMNS,
  COLUMN_ROWS,
  COLUMN_LABEL_WIDTH,
  COLUMN_LABEL_HEIGHT,
  COLUMN_PITCH_X,
  COLUMN_PITCH_Y,
  COLUMN_LEFT,
  COLUMN_TOP,
  N_COLUMNS
} Column;

static const char *const heads[N_COLUMNS + 1] = {
  "key",         "paper",        "unit",    "page_width", "page_height", "columns", "rows",
  "label_width", "label_height", "pitch_x", "pitch_y",    "left",        "top",     NULL,
};

/* "2.625" as it stands in the file, without the zeros a format would add. */
static char *
dup_name (char **cells)
{
  if (!strcmp (cells[COLUMN_COLUMNS], "1") && !strcmp (cells[COLUMN_ROWS], "1"))
    return g_strdup_printf ("%s, %s × %s %s", cells[COLUMN_PAPER], cells[COLUMN_LABEL_WIDTH],
                            cells[COLUMN_LABEL_HEIGHT], cells[COLUMN_UNIT]);
  return g_strdup_printf ("%s, %s × %s, %s × %s %s", cells[COLUMN_PAPER], cells[COLUMN_COLUMNS],
                          cells[COLUMN_ROWS], cells[COLUMN_LABEL_WIDTH], cells[COLUMN_LABEL_HEIGHT],
                          cells[COLUMN_UNIT]);
}

static gboolean
refuse_cell (guint line, Column column, const char *text, GError **error)
{
  g_set_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_SHEET,
               column == COLUMN_UNIT
                   ? _ ("Line %u, %s: “%s” is not a unit here; write mm or in.")
                   : _ ("Line %u, %s: “%s” is not a number; write one like 63.5."),
               line, heads[column], text);
  return FALSE;
}

/* Reads one dimension into millimetres. */
static gboolean
read_number (char **cells, guint line, Column column, double *value, GError **error)
{
  const char *text = cells[column];
  char *end = NULL;
  double number = g_ascii_strtod (text, &end);

  if (end == text || *end || !isfinite (number))
    return refuse_cell (line, column, text, error);
  *value = strcmp (cells[COLUMN_UNIT], "in") ? number : number * 25.4;
  return TRUE;
}

static gboolean
read_count (char **cells, guint line, Column column, guint *value, GError **error)
{
  guint64 number = 0;

  if (!g_ascii_string_to_unsigned (cells[column], 10, 1, MOST_LABELS, &number, NULL))
    {
      g_set_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_SHEET,
                   _ ("Line %u, %s: “%s” is not a whole number from 1 to %d."), line, heads[column],
                   cells[column], MOST_LABELS);
      return FALSE;
    }
  *value = (guint) number;
  return TRUE;
}

static gboolean
read_cells (BedSheet *sheet, char **cells, guint line, GError **error)
{
  struct
  {
    Column column;
    double *value;
  } numbers[] = {
    { COLUMN_PAGE_WIDTH, &sheet->page_width },
    { COLUMN_PAGE_HEIGHT, &sheet->page_height },
    { COLUMN_LABEL_WIDTH, &sheet->label_width },
    { COLUMN_LABEL_HEIGHT, &sheet->label_height },
    { COLUMN_PITCH_X, &sheet->pitch_x },
    { COLUMN_PITCH_Y, &sheet->pitch_y },
    { COLUMN_LEFT, &sheet->left },
    { COLUMN_TOP, &sheet->top },
  };

  if (strcmp (cells[COLUMN_UNIT], "mm") != 0 && strcmp (cells[COLUMN_UNIT], "in") != 0)
    return refuse_cell (line, COLUMN_UNIT, cells[COLUMN_UNIT], error);
  for (gsize i = 0; i < G_N_ELEMENTS (numbers); i++)
    if (!read_number (cells, line, numbers[i].column, numbers[i].value, error))
      return FALSE;
  return read_count (cells, line, COLUMN_COLUMNS, &sheet->columns, error)
         && read_count (cells, line, COLUMN_ROWS, &sheet->rows, error);
}

static char **
split_line (const char *text, guint line, GError **error)
{
  g_auto (GStrv) cells = g_strsplit (text, ",", -1);

  if (g_strv_length (cells) != N_COLUMNS)
    {
      g_autofree char *all = g_strjoinv (",", (char **) heads);

      g_set_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_SHEET,
                   _ ("Line %u has %u columns; there should be %d: %s."), line,
                   g_strv_length (cells), N_COLUMNS, all);
      return NULL;
    }
  for (guint i = 0; cells[i]; i++)
    g_strstrip (cells[i]);
  return g_steal_pointer (&cells);
}

static BedSheet *
parse_line (const char *text, guint line, GError **error)
{
  g_auto (GStrv) cells = split_line (text, line, error);
  g_autoptr (BedSheet) sheet = g_new0 (BedSheet, 1);

  if (!cells || !read_cells (sheet, cells, line, error))
    return NULL;
  sheet->key = g_strdup (cells[COLUMN_KEY]);
  sheet->name = dup_name (cells);
  if (!bed_sheet_check (sheet, error))
    {
      g_prefix_error (error, _ ("Line %u: "), line);
      return NULL;
    }
  return g_steal_pointer (&sheet);
}

/* Two sheets of the same labels are told apart by how far these lie from each other. */
static void
distinguish (GPtrArray *sheets, BedSheet *sheet, const char *line)
{
  g_auto (GStrv) cells = g_strsplit (line, ",", -1);

  for (guint i = 0; i < sheets->len; i++)
    {
      const BedSheet *other = sheets->pdata[i];

      if (strcmp (other->name, sheet->name) != 0)
        continue;
      g_autofree char *name = g_steal_pointer (&sheet->name);
      /* Translators: a sheet of labels, then from edge to edge, then its unit. */
      sheet->name = g_strdup_printf (_ ("%s, %s %s apart"), name, cells[COLUMN_PITCH_X],
                                     cells[COLUMN_UNIT]);
      return;
    }
}

static gboolean
check_heads (const char *text, GError **error)
{
  g_auto (GStrv) cells = split_line (text, 1, error);

  if (!cells)
    return FALSE;
  for (guint i = 0; i < N_COLUMNS && cells[i]; i++)
    if (strcmp (cells[i], heads[i]) != 0)
      {
        g_set_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_SHEET,
                     _ ("Line 1: column %u is headed “%s”; it should be “%s”."), i + 1, cells[i],
                     heads[i]);
        return FALSE;
      }
  return TRUE;
}

/* Public */

GPtrArray *
bed_sheet_list_new (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = g_resource_lookup_data (bed_print_get_resource (),
                                                     "/org/bedlog/Bedlog/print/label-sheets.csv",
                                                     G_RESOURCE_LOOKUP_FLAGS_NONE, &error);
  GPtrArray *sheets = NULL;

  /* GResource ends its data with a zero. Both are built in: a fault is ours. */
  if (bytes)
    sheets = bed_sheet_list_parse (g_bytes_get_data (bytes, NULL), &error);
  if (!sheets)
    g_error ("data/label-sheets.csv: %s", error->message);
  return sheets;
}

GPtrArray *
bed_sheet_list_parse (const char *csv, GError **error)
{
  g_return_val_if_fail (csv != NULL, NULL);
  g_autoptr (GPtrArray) sheets = g_ptr_array_new_with_free_func ((GDestroyNotify) bed_sheet_free);
  g_auto (GStrv) lines = g_strsplit (csv, "\n", -1);

  if (!check_heads (lines[0] ? lines[0] : "", error))
    return NULL;
  for (guint i = 1; lines[i]; i++)
    {
      if (!*g_strstrip (lines[i]))
        continue;
      BedSheet *sheet = parse_line (lines[i], i + 1, error);
      if (!sheet)
        return NULL;
      distinguish (sheets, sheet, lines[i]);
      g_ptr_array_add (sheets, sheet);
    }
  return g_steal_pointer (&sheets);
}

const BedSheet *
bed_sheet_list_find (GPtrArray *sheets, const char *key, GError **error)
{
  g_return_val_if_fail (sheets != NULL && key != NULL, NULL);
  g_autoptr (GString) keys = g_string_new (NULL);

  for (guint i = 0; i < sheets->len; i++)
    {
      BedSheet *sheet = sheets->pdata[i];

      if (!g_ascii_strcasecmp (sheet->key, key))
        return sheet;
      g_string_append_printf (keys, "%s%s", i ? ", " : "", sheet->key);
    }
  g_set_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_SHEET,
               _ ("There is no label sheet “%s”. There are: %s."), key, keys->str);
  return NULL;
}
