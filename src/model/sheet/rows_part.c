#include "model/sheet/rows_part.h"

#include <archive.h>
#include <archive_entry.h>
#include <glib/gi18n-lib.h>
#include <string.h>

/* A workbook has a dozen files and a picture or two a sheet. */
#define MOST_ENTRIES 4096
/* Bytes of one file unpacked; and, beyond the first of these, how many times the whole archive:
 * rows of the same cells over and over come to some fifty. */
#define MOST_UNPACKED (G_GUINT64_CONSTANT (1) << 30)
#define ALWAYS_UNPACKED (32 << 20)
#define MOST_RATIO 100
#define BLOCK (1 << 16)

struct _BedPart
{
  BedSource *source;
  guint64 at; /* of the source */
  struct archive *archive;
  guint64 unpacked;
  GError *why; /* what went wrong beneath the XML */
  xmlTextReader *reader;
  char block[BLOCK];
};

/* --- the archive -------------------------------------------------------------------- */

static la_ssize_t
read_cb (struct archive *archive, void *data, const void **bytes)
{
  BedBookPart *self = data;
  gssize n = bed_source_read (self->source, self->at, self->block, BLOCK);

  *bytes = self->block;
  if (n > 0)
    self->at += n;
  return n;
}

static la_int64_t
skip_cb (struct archive *archive, void *data, la_int64_t n)
{
  BedBookPart *self = data;
  guint64 left = bed_source_get_size (self->source) - self->at;

  n = MIN ((guint64) n, left);
  self->at += n;
  return n;
}

static la_int64_t
seek_cb (struct archive *archive, void *data, la_int64_t offset, int whence)
{
  BedBookPart *self = data;
  gint64 size = bed_source_get_size (self->source);
  gint64 from = whence == SEEK_SET ? 0 : whence == SEEK_CUR ? (gint64) self->at : size;

  if (offset < -from || offset > size - from)
    return ARCHIVE_FATAL;
  self->at = from + offset;
  return self->at;
}

static void
set_damaged (GError **error)
{
  g_set_error_literal (error, BED_ROWS_ERROR, BED_ROWS_ERROR_INVALID,
                       _ ("The workbook is damaged. Open it in a spreadsheet, save it again as "
                          ".xlsx or .ods and try that."));
}

static gboolean
find_entry (BedBookPart *self, const char *name, GError **error)
{
  struct archive_entry *entry;
  int code = ARCHIVE_OK;

  for (int n = 0; n < MOST_ENTRIES; n++)
    {
      code = archive_read_next_header (self->archive, &entry);
      if (code != ARCHIVE_OK && code != ARCHIVE_WARN)
        break;
      const char *here = archive_entry_pathname (entry);
      if (!here || g_ascii_strcasecmp (here, name) != 0)
        continue;
      if (!archive_entry_is_encrypted (entry))
        return TRUE;
      g_set_error_literal (error, BED_ROWS_ERROR, BED_ROWS_ERROR_INVALID,
                           _ ("The workbook is locked with a password. Save it without one."));
      return FALSE;
    }
  if (code == ARCHIVE_EOF)
    g_set_error (
        error, BED_ROWS_ERROR, BED_ROWS_ERROR_INVALID,
        _ ("This archive is no workbook, or a damaged one: it has no %s. Save the sheet as "
           ".xlsx, .ods or CSV."),
        name);
  else if (code == ARCHIVE_OK || code == ARCHIVE_WARN)
    g_set_error (error, BED_ROWS_ERROR, BED_ROWS_ERROR_BOUND,
                 _ ("The archive holds more than %d files, which no workbook does. Save the sheet "
                    "as .xlsx, .ods or CSV."),
                 MOST_ENTRIES);
  else
    set_damaged (error);
  return FALSE;
}

/* Sets @why. */
static gboolean
is_too_large (BedBookPart *self)
{
  guint64 size = bed_source_get_size (self->source);

  if (self->unpacked <= ALWAYS_UNPACKED
      || (self->unpacked <= MOST_UNPACKED && self->unpacked / MOST_RATIO <= size))
    return FALSE;
  g_set_error (&self->why, BED_ROWS_ERROR, BED_ROWS_ERROR_BOUND,
               _ ("The workbook unpacks to more than %d MB, which no sheet of a farm holds. Save "
                  "the sheet as CSV."),
               (int) ((self->unpacked > MOST_UNPACKED ? MOST_UNPACKED : self->unpacked) >> 20));
  return TRUE;
}

static gssize
unpack (BedBookPart *self, char *bytes, gsize n)
{
  gssize got = self->why ? -1 : archive_read_data (self->archive, bytes, n);

  if (got < 0 && !self->why)
    set_damaged (&self->why);
  if (got > 0)
    self->unpacked += got;
  return got > 0 && is_too_large (self) ? -1 : got;
}

static int
unpack_cb (void *data, char *bytes, int n)
{
  return unpack (data, bytes, n);
}

/* What is wrong is told by bed_part_next(), in a sentence. */
static void
quiet_cb (void *data, xmlError *error)
{
}

BedBookPart *
bed_part_open (BedSource *source, const char *name, GError **error)
{
  g_autoptr (BedBookPart) self = g_new0 (BedBookPart, 1);

  self->source = source;
  self->archive = archive_read_new ();
  archive_read_support_format_zip_seekable (self->archive);
  archive_read_set_read_callback (self->archive, read_cb);
  archive_read_set_skip_callback (self->archive, skip_cb);
  archive_read_set_seek_callback (self->archive, seek_cb);
  archive_read_set_callback_data (self->archive, self);
  if (archive_read_open1 (self->archive) != ARCHIVE_OK)
    set_damaged (error);
  else if (find_entry (self, name, error))
    return g_steal_pointer (&self);
  return NULL;
}

void
bed_part_free (BedBookPart *self)
{
  if (self->reader)
    xmlFreeTextReader (self->reader);
  archive_read_free (self->archive);
  g_clear_error (&self->why);
  g_free (self);
}

gssize
bed_part_read_bytes (BedBookPart *self, char *bytes, gsize n, GError **error)
{
  gssize got = unpack (self, bytes, n);

  if (got < 0)
    g_propagate_error (error, g_steal_pointer (&self->why));
  return got;
}

/* --- XML ---------------------------------------------------------------------------- */

static BedPartStep
fail (BedBookPart *self, GError **error)
{
  if (self->why)
    g_propagate_error (error, g_steal_pointer (&self->why));
  else
    set_damaged (error);
  return BED_PART_WRONG;
}

BedPartStep
bed_part_next (BedBookPart *self, GError **error)
{
  int code;

  if (!self->reader)
    {
      self->reader = xmlReaderForIO (unpack_cb, NULL, self, NULL, NULL,
                                     XML_PARSE_NONET | XML_PARSE_COMPACT | XML_PARSE_NOERROR
                                         | XML_PARSE_NOWARNING);
      xmlTextReaderSetStructuredErrorHandler (self->reader, quiet_cb, NULL);
    }
  while ((code = xmlTextReaderRead (self->reader)) == 1)
    {
      int type = xmlTextReaderNodeType (self->reader);
      if (type == XML_READER_TYPE_ELEMENT)
        return BED_PART_BEGIN;
      if (type == XML_READER_TYPE_END_ELEMENT)
        return BED_PART_END;
      if (type == XML_READER_TYPE_TEXT || type == XML_READER_TYPE_CDATA
          || type == XML_READER_TYPE_WHITESPACE || type == XML_READER_TYPE_SIGNIFICANT_WHITESPACE)
        return BED_PART_TEXT;
      if (type != XML_READER_TYPE_DOCUMENT_TYPE && type != XML_READER_TYPE_ENTITY_REFERENCE)
        continue;
      g_set_error_literal (error, BED_ROWS_ERROR, BED_ROWS_ERROR_INVALID,
                           _ ("The workbook holds a document type, which no spreadsheet writes. "
                              "Open it in one, save it again and try that."));
      return BED_PART_WRONG;
    }
  /* A parser that lost its bytes may take what it has for the whole. */
  return code < 0 || self->why ? fail (self, error) : BED_PART_DONE;
}

gboolean
bed_part_is (BedBookPart *self, const char *name)
{
  return strcmp ((const char *) xmlTextReaderConstLocalName (self->reader), name) == 0;
}

/* Not by xmlTextReaderGetAttribute(), which copies: there are three of each of millions of cells.
 */
const char *
bed_part_get (BedBookPart *self, const char *attribute)
{
  const xmlNode *node = xmlTextReaderCurrentNode (self->reader);

  for (const xmlAttr *a = node->properties; a; a = a->next)
    if (strcmp ((const char *) a->name, attribute) == 0)
      return a->children && a->children->content ? (const char *) a->children->content : "";
  return NULL;
}

int
bed_part_get_depth (BedBookPart *self)
{
  return xmlTextReaderDepth (self->reader);
}

gboolean
bed_part_is_empty (BedBookPart *self)
{
  return xmlTextReaderIsEmptyElement (self->reader) == 1;
}

guint
bed_part_get_count (BedBookPart *self, const char *attribute, guint missing, guint most)
{
  const char *text = bed_part_get (self, attribute);

  return text ? MIN (g_ascii_strtoull (text, NULL, 10), most) : missing;
}

const char *
bed_part_get_text (BedBookPart *self)
{
  const xmlChar *text = xmlTextReaderConstValue (self->reader);

  return text ? (const char *) text : "";
}
