#include <errno.h>
#include <gio/gio.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>

#include "print/page/sheet.h"

#define HEADS                                                                                      \
  "key,paper,unit,page_width,page_height,columns,rows,label_width,label_height,pitch_x,pitch_y,"   \
  "left,top\n"

#define OWN "own-"

/* What the user's file holds; the heads alone where it is not there yet. */
static char *
load (const char *path, GError **error)
{
  g_autoptr (GError) fault = NULL;
  char *csv = NULL;

  if (g_file_get_contents (path, &csv, NULL, &fault))
    return csv;
  if (g_error_matches (fault, G_FILE_ERROR, G_FILE_ERROR_NOENT))
    return g_strdup (HEADS);
  g_propagate_error (error, g_steal_pointer (&fault));
  return NULL;
}

static GPtrArray *
parse (const char *path, const char *csv, GError **error)
{
  GPtrArray *sheets = bed_sheet_list_parse (csv, error);

  if (!sheets)
    g_prefix_error (error, "%s: ", path);
  return sheets;
}

/* One past the highest number in use: a sheet taken out by hand gives none away. */
static guint64
find_number (GPtrArray *sheets)
{
  guint64 highest = 0;

  for (guint i = 0; i < sheets->len; i++)
    {
      const BedSheet *sheet = sheets->pdata[i];

      if (g_str_has_prefix (sheet->key, OWN))
        highest = MAX (highest, g_ascii_strtoull (sheet->key + strlen (OWN), NULL, 10));
    }
  return highest + 1;
}

/* As fine as it was typed: a thousandth of a millimetre, and as much of an inch. */
static void
append_length (GString *line, double mm, BedSystem system)
{
  gboolean inches = system == BED_SYSTEM_US;
  char number[G_ASCII_DTOSTR_BUF_SIZE];

  g_ascii_formatd (number, sizeof number, inches ? "%.5f" : "%.3f", inches ? mm / 25.4 : mm);
  for (char *end = number + strlen (number) - 1; *end == '0' || *end == '.'; end--)
    {
      gboolean point = *end == '.';

      *end = '\0';
      if (point)
        break;
    }
  g_string_append_printf (line, ",%s", number);
}

static char *
dup_line (const BedSheet *sheet, const char *key, BedSystem system)
{
  GString *line = g_string_new (NULL);
  const double page[] = { sheet->page_width, sheet->page_height };
  const double label[] = { sheet->label_width, sheet->label_height, sheet->pitch_x,
                           sheet->pitch_y,     sheet->left,         sheet->top };

  g_string_append_printf (line, "%s,%s,%s", key, sheet->name,
                          system == BED_SYSTEM_US ? "in" : "mm");
  for (gsize i = 0; i < G_N_ELEMENTS (page); i++)
    append_length (line, page[i], system);
  g_string_append_printf (line, ",%u,%u", sheet->columns, sheet->rows);
  for (gsize i = 0; i < G_N_ELEMENTS (label); i++)
    append_length (line, label[i], system);
  g_string_append_c (line, '\n');
  return g_string_free (line, FALSE);
}

static gboolean
check_name (const char *name, GError **error)
{
  g_autofree char *bare = g_strstrip (g_strdup (name ? name : ""));

  if (*bare && !strpbrk (bare, ",\"\r\n"))
    return TRUE;
  g_set_error_literal (error, BED_PRINT_ERROR, BED_PRINT_ERROR_SHEET,
                       *bare ? _ ("The name of a sheet holds no comma and no quotation mark.")
                             : _ ("Give the sheet a name to choose it by."));
  return FALSE;
}

static gboolean
save (const char *path, const char *csv, GError **error)
{
  g_autofree char *folder = g_path_get_dirname (path);

  if (g_mkdir_with_parents (folder, 0700) == 0)
    return g_file_set_contents (path, csv, -1, error);
  g_set_error (error, G_FILE_ERROR, g_file_error_from_errno (errno), "%s: %s", folder,
               g_strerror (errno));
  return FALSE;
}

/* Public */

GPtrArray *
bed_sheet_list_new_with (const char *path, GError **error)
{
  g_return_val_if_fail (path != NULL, NULL);
  g_autofree char *csv = load (path, error);
  g_autoptr (GPtrArray) own = csv ? parse (path, csv, error) : NULL;

  if (!own)
    return NULL;
  GPtrArray *sheets = bed_sheet_list_new ();
  g_ptr_array_extend_and_steal (sheets, g_steal_pointer (&own));
  return sheets;
}

char *
bed_sheet_own_add (const char *path, const BedSheet *sheet, BedSystem system, GError **error)
{
  g_return_val_if_fail (path != NULL && sheet != NULL, NULL);

  if (!check_name (sheet->name, error) || !bed_sheet_check (sheet, error))
    return NULL;
  g_autofree char *csv = load (path, error);
  g_autoptr (GPtrArray) own = csv ? parse (path, csv, error) : NULL;
  if (!own)
    return NULL;
  g_autofree char *key = g_strdup_printf (OWN "%" G_GUINT64_FORMAT, find_number (own));
  g_autofree char *line = dup_line (sheet, key, system);
  g_autofree char *longer = g_strconcat (csv, g_str_has_suffix (csv, "\n") ? "" : "\n", line, NULL);
  /* Read back before it is kept: what is in the file can always be read. */
  g_autoptr (GPtrArray) again = parse (path, longer, error);
  return again && save (path, longer, error) ? g_steal_pointer (&key) : NULL;
}
