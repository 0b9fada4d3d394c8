#include "zip.h"

#include <archive_entry.h>
#include <string.h>

static la_ssize_t
write_cb (struct archive *archive, void *data, const void *bytes, size_t n)
{
  g_byte_array_append (data, bytes, n);
  return n;
}

Zip
zip_new (void)
{
  Zip zip = { archive_write_new (), g_byte_array_new () };

  archive_write_set_format_zip (zip.archive);
  archive_write_set_bytes_per_block (zip.archive, 0);
  archive_write_open (zip.archive, zip.bytes, NULL, write_cb, NULL);
  return zip;
}

void
zip_begin (Zip *zip, const char *name)
{
  struct archive_entry *entry = archive_entry_new ();

  archive_entry_set_pathname (entry, name);
  archive_entry_set_filetype (entry, AE_IFREG);
  archive_entry_set_perm (entry, 0644);
  g_assert_cmpint (archive_write_header (zip->archive, entry), ==, ARCHIVE_OK);
  archive_entry_free (entry);
}

void
zip_add (Zip *zip, const char *name, const char *bytes, gssize length)
{
  zip_begin (zip, name);
  archive_write_data (zip->archive, bytes, length < 0 ? strlen (bytes) : (gsize) length);
}

GBytes *
zip_finish (Zip *zip)
{
  archive_write_free (zip->archive);
  return g_byte_array_free_to_bytes (zip->bytes);
}

#define RELATIONS(body)                                                                            \
  "<Relationships xmlns='http://schemas.openxmlformats.org/package/2006/relationships'>" body      \
  "</Relationships>"

static const char default_book[]
    = "<workbook xmlns:r='r'><sheets><sheet name='Old' state='hidden' r:id='rId1'/>"
      "<sheet name='Picks' r:id='rId2'/></sheets></workbook>";

static const char default_styles[]
    = "<styleSheet><numFmts><numFmt numFmtId='164' formatCode='dd\\.mm\\.yyyy\\ hh:mm'/>"
      "<numFmt numFmtId='165' formatCode='0.00&quot; days&quot;;[Red]-0.00'/></numFmts>"
      "<cellStyleXfs><xf numFmtId='14'/></cellStyleXfs><cellXfs><xf numFmtId='0'/>"
      "<xf numFmtId='14'/><xf numFmtId='164'/><xf numFmtId='20'/><xf numFmtId='46'/>"
      "<xf numFmtId='9'/><xf numFmtId='165'/></cellXfs></styleSheet>";

GBytes *
zip_xlsx (const ZipBook *parts)
{
  Zip zip = zip_new ();

  zip_add (&zip, "_rels/.rels",
           RELATIONS ("<Relationship Id='a' Type='x/officeDocument' Target='xl/workbook.xml'/>"),
           -1);
  zip_add (&zip, "xl/workbook.xml", parts->book ? parts->book : default_book, -1);
  zip_add (&zip, "xl/_rels/workbook.xml.rels",
           RELATIONS ("<Relationship Id='rId1' Type='x/worksheet' Target='worksheets/sheet1.xml'/>"
                      "<Relationship Id='rId2' Type='x/worksheet' "
                      "Target='/xl/worksheets/sheet2.xml'/>"
                      "<Relationship Id='s' Type='x/styles' Target='styles.xml'/>"
                      "<Relationship Id='t' Type='x/sharedStrings' Target='sharedStrings.xml'/>"),
           -1);
  zip_add (&zip, "xl/styles.xml", parts->styles ? parts->styles : default_styles, -1);
  zip_add (&zip, "xl/sharedStrings.xml", parts->shared ? parts->shared : "<sst/>", -1);
  zip_add (&zip, "xl/worksheets/sheet1.xml",
           "<worksheet><sheetData><row><c t='str'><v>old</v></c></row></sheetData></worksheet>",
           -1);
  zip_add (&zip, "xl/worksheets/sheet2.xml", parts->sheet ? parts->sheet : "<worksheet/>", -1);
  return zip_finish (&zip);
}

GBytes *
zip_ods (const char *content)
{
  Zip zip = zip_new ();

  zip_add (&zip, "mimetype", "application/vnd.oasis.opendocument.spreadsheet", -1);
  zip_add (&zip, "content.xml", content, -1);
  return zip_finish (&zip);
}
