#include "model/sheet/rows.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/sheet/rows_private.h"
#include "science/language.h"

G_DEFINE_QUARK (bed - rows - error - quark, bed_rows_error)

static void
clear_sheet (gpointer data)
{
  BedRowsSheet *sheet = data;

  g_free (sheet->name);
  g_free (sheet->part);
}

void
bed_rows_add_sheet (BedRows *self, const char *name, const char *part, BedRowSight sight)
{
  BedRowsSheet sheet = { g_strdup (name), g_strdup (part), sight };

  g_array_append_val (self->sheets, sheet);
}

const BedSheetRow *
bed_rows_fail (BedRows *self, guint line, guint column, GError **error, int code,
               const char *message)
{
  self->line = line;
  self->column = column;
  g_set_error_literal (error, BED_ROWS_ERROR, code, message);
  return NULL;
}

const BedSheetRow *
bed_rows_stop (BedRows *self, guint line)
{
  self->line = line;
  self->column = 0;
  return NULL;
}

gboolean
bed_rows_choose_first (BedRows *self, GError **error)
{
  guint first = 0;

  if (self->sheets->len == 0)
    {
      g_set_error_literal (error, BED_ROWS_ERROR, BED_ROWS_ERROR_INVALID,
                           _ ("The workbook has no sheet with rows."));
      return FALSE;
    }
  while (first < self->sheets->len && bed_rows_get_sheet_sight (self, first) == BED_ROW_HIDDEN)
    first++;
  return bed_rows_choose_sheet (self, first < self->sheets->len ? first : 0, error);
}

/* --- opening ---------------------------------------------------------------------- */

void
bed_rows_free (BedRows *self)
{
  if (self->klass)
    self->klass->clear (self);
  bed_source_free (self->source);
  g_array_unref (self->sheets);
  g_array_unref (self->candidates);
  g_free (self);
}

/* What the first bytes are of. */
static gboolean
begins_with (BedSource *source, const char *bytes, gsize n)
{
  char head[8];

  return bed_source_read (source, 0, head, n) == (gssize) n && memcmp (head, bytes, n) == 0;
}

static gboolean
open_as_found (BedRows *self, const BedReading *reading, GError **error)
{
  static const BedReading any = { 0 };

  if (begins_with (self->source, "PK\3\4", 4))
    return bed_rows_open_book (self, error);
  bed_rows_add_sheet (self, "", NULL, BED_ROW_SHOWN);
  if (!begins_with (self->source, "\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", 8))
    return bed_rows_open_text (self, reading ? reading : &any, error);
  g_set_error_literal (error, BED_ROWS_ERROR, BED_ROWS_ERROR_INVALID,
                       _ ("This is a workbook of an old kind (.xls), or one locked with a "
                          "password. Save it as .xlsx, .ods or CSV, without a password."));
  return FALSE;
}

static BedRows *
open_source (BedSource *source, const BedReading *reading, GError **error)
{
  g_autoptr (BedRows) self = g_new0 (BedRows, 1);

  self->source = source;
  self->sheets = g_array_new (FALSE, FALSE, sizeof (BedRowsSheet));
  g_array_set_clear_func (self->sheets, clear_sheet);
  self->candidates = g_array_new (FALSE, FALSE, sizeof (BedCandidate));
  return open_as_found (self, reading, error) ? g_steal_pointer (&self) : NULL;
}

BedRows *
bed_rows_open_file (const char *path, const BedReading *reading, GError **error)
{
  BedSource *source = bed_source_new_file (path, error);

  return source ? open_source (source, reading, error) : NULL;
}

BedRows *
bed_rows_open_bytes (GBytes *bytes, const BedReading *reading, GError **error)
{
  return open_source (bed_source_new_bytes (bytes), reading, error);
}

gboolean
bed_rows_read_as (BedRows *self, const BedReading *reading, GError **error)
{
  g_return_val_if_fail (self->format == BED_ROWS_TEXT, FALSE);

  self->klass->clear (self);
  return bed_rows_open_text (self, reading, error);
}

/* --- sheets ----------------------------------------------------------------------- */

BedRowsFormat
bed_rows_get_format (BedRows *self)
{
  return self->format;
}

guint
bed_rows_get_n_sheets (BedRows *self)
{
  return self->sheets->len;
}

const char *
bed_rows_get_sheet_name (BedRows *self, guint sheet)
{
  g_return_val_if_fail (sheet < self->sheets->len, NULL);
  return g_array_index (self->sheets, BedRowsSheet, sheet).name;
}

BedRowSight
bed_rows_get_sheet_sight (BedRows *self, guint sheet)
{
  g_return_val_if_fail (sheet < self->sheets->len, BED_ROW_SHOWN);
  return g_array_index (self->sheets, BedRowsSheet, sheet).sight;
}

gboolean
bed_rows_choose_sheet (BedRows *self, guint sheet, GError **error)
{
  g_return_val_if_fail (sheet < self->sheets->len, FALSE);
  self->klass->clear (self);
  self->sheet = sheet;
  return self->klass->begin (self, sheet, error);
}

guint
bed_rows_get_sheet (BedRows *self)
{
  return self->sheet;
}

gboolean
bed_rows_choose_sheet_named (BedRows *self, const char *name, GError **error)
{
  g_autoptr (GString) names = g_string_new (NULL);
  g_autofree char *folded = g_utf8_casefold (name, -1);

  for (guint i = 0; i < self->sheets->len; i++)
    {
      const char *other = bed_rows_get_sheet_name (self, i);
      g_autofree char *folded_other = g_utf8_casefold (other, -1);
      if (strcmp (folded, folded_other) == 0)
        return bed_rows_choose_sheet (self, i, error);
      g_string_append_printf (names, "%s“%s”", i > 0 ? bed_comma () : "", other);
    }
  if (self->format == BED_ROWS_TEXT)
    bed_rows_fail (self, 0, 0, error, BED_ROWS_ERROR_INVALID,
                   _ ("This is a text file, which has no sheets. Leave the name of one out."));
  else
    g_set_error (error, BED_ROWS_ERROR, BED_ROWS_ERROR_INVALID,
                 _ ("There is no sheet “%s”. The sheets are: %s."), name, names->str);
  return FALSE;
}

/* --- what was found --------------------------------------------------------------- */

const BedReading *
bed_rows_get_reading (BedRows *self)
{
  return &self->reading;
}

BedSure
bed_rows_get_encoding_sure (BedRows *self)
{
  return self->encoding_sure;
}

BedSure
bed_rows_get_delimiter_sure (BedRows *self)
{
  return self->delimiter_sure;
}

const BedCandidate *
bed_rows_get_candidates (BedRows *self, guint *n)
{
  *n = self->candidates->len;
  return (const BedCandidate *) self->candidates->data;
}

/* --- rows ------------------------------------------------------------------------- */

const BedSheetRow *
bed_rows_next (BedRows *self, GError **error)
{
  return self->klass->next (self, error);
}

guint
bed_rows_get_line (BedRows *self)
{
  return self->line;
}

guint
bed_rows_get_column (BedRows *self)
{
  return self->column;
}
