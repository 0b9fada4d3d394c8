/* Every value by itself: ids above 0, the type its column has, texts that are UTF-8 and hold
 * no character that cannot be seen. */
#include "model/check/check_private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/farm/farm_private.h"
#include "model/farm/kind_words.h"
#include "model/farm/kinds.h"

static int
stored_as (const BedField *field)
{
  switch (field->type)
    {
    case BED_FIELD_REFERENCE:
    case BED_FIELD_MEASURE:
      return SQLITE_INTEGER;
    case BED_FIELD_TEXT:
    case BED_FIELD_NOTE:
    case BED_FIELD_DATE:
    case BED_FIELD_MOMENT:
    case BED_FIELD_CHOICE:
      break;
    }
  return SQLITE_TEXT;
}

/* Bytes. No form takes more; such a record is not looked at any further, as every rule and
 * question would carry its text along. */
#define LONGEST 20000

/* A line of a note ends in a newline, some files bring their carriage returns along. */
static gboolean
has_control (const char *text)
{
  for (; *text; text = g_utf8_next_char (text))
    if (g_unichar_iscntrl (g_utf8_get_char (text)) && !strchr ("\n\r\t", *text))
      return TRUE;
  return FALSE;
}

static void
check_text (BedChecking *self, sqlite3_stmt *row, int column, const char *record, const char *label)
{
  const char *text = (const char *) sqlite3_column_text (row, column);
  gsize length = sqlite3_column_bytes (row, column);

  if (length > LONGEST)
    {
      bed_checking_add (self, BED_CHECK_VALUES, BED_FAULT_ERROR,
                        /* Translators: "log 1234", a field, a number of bytes. */
                        _ ("%s, %s: its text is %lld bytes long, more than can be shown."), record,
                        label, (long long) length);
      g_hash_table_add (self->unreadable, g_strdup (record));
    }
  else if (text && !g_utf8_validate (text, length, NULL))
    {
      g_autofree char *shown = g_utf8_make_valid (text, MIN (length, 60));
      bed_checking_add (self, BED_CHECK_VALUES, BED_FAULT_ERROR,
                        /* Translators: "log 1234", a field, the text as far as it is one. */
                        _ ("%s, %s: “%s” is not text in UTF-8."), record, label, shown);
      g_hash_table_add (self->unreadable, g_strdup (record));
    }
  else if (text && has_control (text))
    bed_checking_add (self, BED_CHECK_VALUES, BED_FAULT_WARNING,
                      _ ("%s, %s: there is a character in it that cannot be seen or printed."),
                      record, label);
}

static void
check_row (BedChecking *self, BedKind kind, sqlite3_stmt *row)
{
  const BedKindInfo *info = bed_kind_get_info (kind);
  gint64 id = sqlite3_column_int64 (row, 0);
  g_autofree char *record = bed_kind_dup_numbered (kind, id);

  if (id < 1)
    bed_checking_add (
        self, BED_CHECK_VALUES, BED_FAULT_ERROR,
        _ ("%s: the number of a record is 1 or more. This one cannot be opened to be changed."),
        record);
  for (guint i = 0; i < info->n_fields; i++)
    {
      int type = sqlite3_column_type (row, i + 1);
      const char *label = _ (info->fields[i].label);
      if (type != SQLITE_NULL && type != stored_as (&info->fields[i]))
        bed_checking_add (self, BED_CHECK_VALUES, BED_FAULT_ERROR,
                          stored_as (&info->fields[i]) == SQLITE_TEXT
                              ? _ ("%s, %s: there is a number where a text belongs.")
                              : _ ("%s, %s: there is something else where a whole number belongs."),
                          record, label);
      else if (type == SQLITE_TEXT)
        check_text (self, row, i + 1, record, label);
    }
  self->checkup->looked_at[BED_CHECK_VALUES] += info->n_fields + 1;
}

static gboolean
check_changes (BedChecking *self, GError **error)
{
  sqlite3_stmt *row = bed_farm_statement (
      self->farm, "SELECT id, at, who, sentence, role FROM change ORDER BY id", error);
  int status = row ? SQLITE_ROW : SQLITE_ERROR;

  while (status == SQLITE_ROW && (status = sqlite3_step (row)) == SQLITE_ROW)
    {
      gint64 id = sqlite3_column_int64 (row, 0);
      g_autofree char *name = g_strdup_printf (_ ("change %lld"), (long long) id);
      if (id < 1)
        bed_checking_add (self, BED_CHECK_VALUES, BED_FAULT_ERROR,
                          _ ("%s: the number of a change is 1 or more."), name);
      check_text (self, row, 1, name, _ ("moment"));
      check_text (self, row, 2, name, _ ("who"));
      check_text (self, row, 3, name, _ ("sentence"));
      self->checkup->looked_at[BED_CHECK_VALUES] += 4;
    }
  if (row && status != SQLITE_DONE)
    bed_farm_set_error (self->farm, error, _ ("reading the history"));
  sqlite3_reset (row);
  return status == SQLITE_DONE;
}

static gboolean
check_kind (BedChecking *self, BedKind kind, GError **error)
{
  g_autofree char *sql = bed_farm_dup_select (kind);
  sqlite3_stmt *row = bed_farm_statement (self->farm, sql, error);
  int status = row ? SQLITE_ROW : SQLITE_ERROR;

  while (status == SQLITE_ROW && (status = sqlite3_step (row)) == SQLITE_ROW)
    check_row (self, kind, row);
  if (row && status != SQLITE_DONE)
    bed_farm_set_error (self->farm, error, _ ("reading the records"));
  sqlite3_reset (row);
  return status == SQLITE_DONE;
}

gboolean
bed_check_values (BedChecking *self, GError **error)
{
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    if (!check_kind (self, kind, error))
      return FALSE;
  return check_changes (self, error);
}
