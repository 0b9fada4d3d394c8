/* What is wrong with a file, where, and how often. */
#include "model/csv/csv_private.h"

#include <glib/gi18n-lib.h>

#include "model/farm/kinds.h"

/* So many that are alike are each told in full. */
#define FEW 3

/* --- alike ------------------------------------------------------------------------ */

typedef struct
{
  guint n;
  BedCsvFault *last; /* kept, borrowed */
} Alike;

/* The message without what it quotes and counts. */
static void
append_shape (GString *shape, const char *message)
{
  for (const char *p = message; *p; p = g_utf8_next_char (p))
    {
      gunichar c = g_utf8_get_char (p);
      const char *end = c == 0x201c   ? g_utf8_strchr (p, -1, 0x201d)
                        : c == 0x201e ? g_utf8_strchr (p, -1, 0x201c)
                        : c == 0xab   ? g_utf8_strchr (p, -1, 0xbb)
                                      : NULL;
      if (end)
        p = end;
      else if (!g_unichar_isdigit (c))
        g_string_append_unichar (shape, c);
    }
}

static Alike *
find_alike (BedCsvImporter *self, const BedCsvFault *fault)
{
  g_autoptr (GString) shape = g_string_new (NULL);

  g_string_append_printf (shape, "%s\n%u %d ", fault->file, fault->column, fault->severity);
  append_shape (shape, fault->message);
  Alike *alike = g_hash_table_lookup (self->alike, shape->str);
  if (!alike)
    {
      alike = g_new0 (Alike, 1);
      g_hash_table_insert (self->alike, g_strdup (shape->str), alike);
    }
  return alike;
}

void
bed_csv_fault_in (BedCsvImporter *self, BedFaultSeverity severity, const char *file, guint line,
                  guint column, char *message)
{
  if (severity == BED_FAULT_ERROR)
    self->errors++;
  bed_csv_add_fault (self->faults, severity, file, line, column, message);
  BedCsvFault *fault = self->faults->pdata[self->faults->len - 1];
  Alike *alike = find_alike (self, fault);
  if (++alike->n <= FEW)
    {
      alike->last = fault;
      return;
    }
  alike->last->more++;
  alike->last->to_line = MAX (alike->last->to_line, line);
  g_ptr_array_set_size (self->faults, (int) self->faults->len - 1);
}

/* --- places ----------------------------------------------------------------------- */

static void
add_at (BedCsvImporter *self, BedFaultSeverity severity, const BedCsvRow *row, guint column,
        char *message)
{
  guint line = column > 0 && column <= row->n_cells ? row->lines[column - 1] : row->line;

  bed_csv_fault_in (self, severity, self->file->path, line, column, message);
}

void
bed_csv_fault_at (BedCsvImporter *self, const BedCsvRow *row, guint column, char *message)
{
  add_at (self, BED_FAULT_ERROR, row, column, message);
}

void
bed_csv_note_at (BedCsvImporter *self, const BedCsvRow *row, guint column, char *message)
{
  add_at (self, BED_FAULT_WARNING, row, column, message);
}

static guint
find_column (const BedCsvFile *file, BedKind kind, const char *field)
{
  return file->notebook ? bed_notebook_find_column (file->notebook, kind, field)
                        : bed_csv_find_column (file->columns, kind, field);
}

static void
take_fault (BedCsvImporter *self, const BedFault *fault)
{
  BedCsvPlace place = { NULL, 0 };
  guint column = 0;

  if (fault->record)
    place = bed_csv_place_of (self, bed_record_get_id (fault->record));
  if (place.file && fault->field)
    column = find_column (place.file, bed_record_get_kind (fault->record), fault->field);
  const char *path = place.file ? place.file->path : self->file ? self->file->path : "";
  bed_csv_fault_in (self, fault->severity, path, place.line, column, g_strdup (fault->message));
}

void
bed_csv_take_faults (BedCsvImporter *self)
{
  GPtrArray *faults = bed_edit_get_faults (self->edit);

  for (guint i = 0; i < faults->len; i++)
    take_fault (self, faults->pdata[i]);
}

/* --- at the end --------------------------------------------------------------------- */

static int
by_position (gconstpointer a, gconstpointer b)
{
  const BedCsvFault *one = *(const BedCsvFault **) a, *other = *(const BedCsvFault **) b;
  int order = g_strcmp0 (one->file, other->file);

  if (order == 0 && one->line != other->line)
    order = one->line < other->line ? -1 : 1;
  if (order == 0 && one->column != other->column)
    order = one->column < other->column ? -1 : 1;
  return order;
}

static const BedCsvFault *
first_error (GPtrArray *faults)
{
  for (guint i = 0; i < faults->len; i++)
    if (((BedCsvFault *) faults->pdata[i])->severity == BED_FAULT_ERROR)
      return faults->pdata[i];
  return NULL;
}

gboolean
bed_csv_end_faults (BedCsvImporter *self, GError **error)
{
  g_ptr_array_sort (self->faults, by_position);
  const BedCsvFault *first = first_error (self->faults);
  if (!first)
    return FALSE;
  g_autofree char *text = bed_csv_fault_dup_text (first);
  if (self->errors > 1)
    g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID,
                 ngettext ("%s (and %u fault more)", "%s (and %u faults more)", self->errors - 1),
                 text, self->errors - 1);
  else
    g_set_error_literal (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID, text);
  return TRUE;
}
