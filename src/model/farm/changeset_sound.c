/* A stored changeset is bytes in a file that may come from anywhere. SQLite reads one on trust
 * (it may go round and round in a crafted one), so its form is looked at first: the format as
 * SQLite's sqlite3session.c describes it. */
#include "model/farm/changeset.h"

#include <string.h>

#include "model/farm/kinds.h"

/* A count of bytes in a changeset never needs more than an int. */
#define LONGEST_NUMBER 5

typedef struct
{
  const guchar *at, *end;
  int n_columns;
  gboolean broken;
} Reader;

static guchar
take_byte (Reader *reader)
{
  if (reader->broken || reader->at == reader->end)
    {
      reader->broken = TRUE;
      return 0;
    }
  return *reader->at++;
}

/* Seven bits a byte, the high bit says that more follow. */
static gsize
take_number (Reader *reader)
{
  gsize number = 0;
  int n = 0;
  guchar byte;

  do
    {
      byte = take_byte (reader);
      number = number << 7 | (byte & 0x7f);
    }
  while (byte & 0x80 && ++n < LONGEST_NUMBER);
  reader->broken |= n == LONGEST_NUMBER || number > G_MAXINT32;
  return number;
}

static void
skip (Reader *reader, gsize length)
{
  if (reader->broken || (gsize) (reader->end - reader->at) < length)
    reader->broken = TRUE;
  else
    reader->at += length;
}

/* One value: 0 left out, then as SQLITE_INTEGER to SQLITE_NULL. Its type. */
static int
take_value (Reader *reader)
{
  int type = take_byte (reader);

  if (type == SQLITE_INTEGER || type == SQLITE_FLOAT)
    skip (reader, 8);
  else if (type == SQLITE_TEXT || type == SQLITE_BLOB)
    skip (reader, take_number (reader));
  else if (type > SQLITE_NULL)
    reader->broken = TRUE;
  return type;
}

/* Values of one row. The id leads; in the new half of an update it is left out. */
static void
take_row (Reader *reader, int id_type, gboolean may_leave_out)
{
  for (int i = 0; i < reader->n_columns && !reader->broken; i++)
    {
      int type = take_value (reader);
      if (i == 0 ? type != id_type : type == 0 && !may_leave_out)
        reader->broken = TRUE;
    }
}

static void
take_change (Reader *reader, int operation)
{
  take_byte (reader); /* whether a trigger did it */
  switch (operation)
    {
    case SQLITE_INSERT:
    case SQLITE_DELETE:
      take_row (reader, SQLITE_INTEGER, FALSE);
      break;
    case SQLITE_UPDATE:
      take_row (reader, SQLITE_INTEGER, TRUE);
      take_row (reader, 0, TRUE);
      break;
    default:
      reader->broken = TRUE;
    }
}

/* The head of a table's rows: how many columns, which are its key, its name. An older schema
 * may have had fewer columns, none had more. */
static void
take_table (Reader *reader)
{
  gsize n_columns = take_number (reader);
  const guchar *key = reader->at;

  skip (reader, n_columns);
  const guchar *name = reader->at;
  const guchar *nul = reader->broken ? NULL : memchr (name, '\0', reader->end - name);
  if (!nul || n_columns < 1 || key[0] != 1)
    {
      reader->broken = TRUE;
      return;
    }
  for (gsize i = 1; i < n_columns; i++)
    reader->broken |= key[i] != 0;
  BedKind kind = bed_kind_from_name ((const char *) name);
  reader->broken |= kind == BED_N_KINDS || n_columns > bed_kind_get_info (kind)->n_fields + 1;
  reader->n_columns = (int) n_columns;
  reader->at = nul + 1;
}

gboolean
bed_changeset_is_sound (const BedChangeset *changeset)
{
  g_return_val_if_fail (changeset != NULL, FALSE);
  if (changeset->size == 0)
    return TRUE; /* nothing was changed, and there may be no bytes to point at */
  const guchar *bytes = changeset->data;
  Reader reader = { bytes, bytes + changeset->size, 0, FALSE };

  while (!reader.broken && reader.at < reader.end)
    {
      int byte = take_byte (&reader);
      if (byte == 'T')
        take_table (&reader);
      else if (reader.n_columns == 0)
        reader.broken = TRUE;
      else
        take_change (&reader, byte);
    }
  return !reader.broken;
}
