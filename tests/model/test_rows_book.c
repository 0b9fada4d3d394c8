/* Sheets of workbooks as rows: every kind of cell, what is merged, hidden or repeated, and what is
 * refused. The archives are made here, of the least that each format asks for. */
#include "../zip.h"

#include <string.h>

#include "model/sheet/rows.h"

/* --- archives ---------------------------------------------------------------------- */

static GBytes *
xlsx_new (const char *settings, const char *shared, const char *sheet)
{
  g_autofree char *book = g_strdup_printf (
      "<workbook xmlns:r='r'>%s<sheets><sheet name='Old' state='hidden' r:id='rId1'/>"
      "<sheet name='Picks' r:id='rId2'/></sheets></workbook>",
      settings);

  return zip_xlsx (&(ZipBook){ .book = book, .shared = shared, .sheet = sheet });
}

static GBytes *
ods_new (const char *tables)
{
  g_autofree char *content = g_strdup_printf (
      "<office:document-content xmlns:office='o' xmlns:table='t' xmlns:text='x' xmlns:style='s'>"
      "<office:automatic-styles><style:style style:name='ta2'><style:table-properties "
      "table:display='false'/></style:style></office:automatic-styles><office:body>"
      "<office:spreadsheet>%s</office:spreadsheet></office:body></office:document-content>",
      tables);

  return zip_ods (content);
}

/* --- rows ---------------------------------------------------------------------------- */

/* "3h n:12 t:oak" and so on: number of the row, h when it is hidden, each cell with the letter of
 * its kind. */
static char *
dup_rows (BedRows *rows, GError **error)
{
  static const char letters[] = "-tn%dhbe";
  g_autoptr (GString) shown = g_string_new (NULL);
  const BedSheetRow *row;

  while ((row = bed_rows_next (rows, error)))
    {
      g_string_append_printf (shown, "%u%s", row->line, row->sight == BED_ROW_HIDDEN ? "h" : "");
      for (guint i = 0; i < row->n_cells; i++)
        g_string_append_printf (shown, " %c:%s", letters[row->cells[i].kind], row->cells[i].text);
      g_string_append_c (shown, '\n');
    }
  return g_string_free (g_steal_pointer (&shown), FALSE);
}

static void
assert_rows (GBytes *bytes, const char *expected)
{
  g_autoptr (GBytes) taken = bytes;
  g_autoptr (GError) error = NULL;
  g_autoptr (BedRows) rows = bed_rows_open_bytes (taken, NULL, &error);

  g_assert_no_error (error);
  g_autofree char *shown = dup_rows (rows, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (shown, ==, expected);
}

/* Takes @bytes. Opening or reading fails so. */
static void
refuses (GBytes *bytes, int code, guint line, const char *words)
{
  g_autoptr (GBytes) taken = bytes;
  g_autoptr (GError) error = NULL;
  g_autoptr (BedRows) rows = bed_rows_open_bytes (taken, NULL, &error);
  g_autofree char *shown G_GNUC_UNUSED = rows ? dup_rows (rows, &error) : NULL;

  g_assert_error (error, BED_ROWS_ERROR, code);
  g_test_message ("%s", error->message);
  g_assert_nonnull (strstr (error->message, words));
  if (rows)
    g_assert_cmpuint (bed_rows_get_line (rows), ==, line);
}

static const char no_shared[] = "<sst/>";

/* --- .xlsx ------------------------------------------------------------------------------ */

static void
test_xlsx_cells (void)
{
  assert_rows (
      xlsx_new ("",
                "<sst><si><t>Red oak</t></si><si><r><t xml:space='preserve'>two </t></r><r><t>runs"
                "</t></r><rPh><t>said so</t></rPh></si><si><t>line_x000A_break _x_</t></si></sst>",
                "<worksheet><sheetData>"
                "<row r='2'><c r='A2' t='s'><v>0</v></c><c r='C2' t='s'><v>1</v></c>"
                "<c r='D2' t='s'><v>2</v></c><c r='E2' t='s'><v>99</v></c></row>"
                "<row r='4' hidden='1'><c><v>0.30000000000000004</v></c><c><v>1E3</v></c>"
                "<c><v>1e-7</v></c><c><v>-2.50</v></c><c><v>12345678901234567890</v></c></row>"
                "<row><c t='b'><v>1</v></c><c t='b'><v>0</v></c><c t='e'><v>#DIV/0!</v></c>"
                "<c t='inlineStr'><is><t>in </t><r><t>line</t></r></is></c>"
                "<c t='str'><f>A1&amp;\"x\"</f><v>made &lt;x&gt;</v></c>"
                "<c t='d'><v>2026-05-18</v></c><c><f>1+1</f><v>2</v></c><c><f>1+1</f></c></row>"
                "<row><c/><c/><c s='1'/></row></sheetData></worksheet>"),
      "2 t:Red oak -: t:two runs t:line\nbreak _x_ -:\n"
      "4h n:0.3 n:1000 n:0.0000001 n:-2.5 n:12345678901234567168\n"
      "5 b:TRUE b:FALSE e:#DIV/0! t:in line t:made <x> d:2026-05-18 n:2\n6\n");
}

#define SERIALS                                                                                    \
  "<worksheet><sheetData><row><c s='1'><v>45074</v></c><c s='2'><v>45074.604166666664</v></c>"     \
  "<c s='2'><v>45074</v></c><c s='3'><v>0.604166666666667</v></c>"                                 \
  "<c s='4'><v>1.5208449074074</v></c><c s='5'><v>0.35</v></c><c s='6'><v>3</v></c>"               \
  "<c s='1'><v>59</v></c><c s='1'><v>61</v></c><c s='1'><v>-1</v></c></row></sheetData></worksheet>"

/* 28 May 2023 is day 45074 since 1900; 1 March 1900 is day 61 for the spreadsheets. */
static void
test_xlsx_dates (void)
{
  assert_rows (xlsx_new ("", no_shared, SERIALS),
               "1 d:2023-05-28 d:2023-05-28T14:30 d:2023-05-28 h:14:30 h:36:30:01 %:35% n:3 "
               "d:1900-02-28 d:1900-03-01 n:-1\n");
  /* The same day is 1462 days less since 1904. */
  assert_rows (xlsx_new ("<workbookPr date1904='1'/>", no_shared,
                         "<worksheet><sheetData><row><c s='1'><v>43612</v></c><c s='1'><v>0</v></c>"
                         "</row></sheetData></worksheet>"),
               "1 d:2023-05-28 d:1904-01-01\n");
}

static void
test_xlsx_merged (void)
{
  assert_rows (xlsx_new ("", no_shared,
                         "<worksheet><sheetData><row r='1'><c t='str'><v>May</v></c><c/><c t='str'>"
                         "<v>June</v></c></row><row r='2'><c t='str'><v>Shed A</v></c><c><v>1</v>"
                         "</c></row><row r='3'><c/><c><v>2</v></c></row><row r='4'><c r='B4'><v>3"
                         "</v></c></row></sheetData><mergeCells><mergeCell ref='A2:A3'/>"
                         "<mergeCell ref=\"A1:B1\"/><mergeCell ref='broken'/></mergeCells>"
                         "</worksheet>"),
               "1 t:May t:May t:June\n2 t:Shed A n:1\n3 t:Shed A n:2\n4 -: n:3\n");
}

static void
test_sheets (void)
{
  g_autoptr (GBytes) bytes = xlsx_new ("", no_shared, "<worksheet/>");
  g_autoptr (GError) error = NULL;
  g_autoptr (BedRows) rows = bed_rows_open_bytes (bytes, NULL, &error);

  g_assert_no_error (error);
  g_assert_cmpint (bed_rows_get_format (rows), ==, BED_ROWS_XLSX);
  g_assert_cmpuint (bed_rows_get_n_sheets (rows), ==, 2);
  g_assert_cmpstr (bed_rows_get_sheet_name (rows, 0), ==, "Old");
  g_assert_cmpint (bed_rows_get_sheet_sight (rows, 0), ==, BED_ROW_HIDDEN);
  g_assert_cmpstr (bed_rows_get_sheet_name (rows, 1), ==, "Picks");
  g_assert_null (bed_rows_next (rows, &error));
  g_assert_no_error (error);
  g_assert_true (bed_rows_choose_sheet_named (rows, "old", &error));
  g_autofree char *shown = dup_rows (rows, &error);
  g_assert_cmpstr (shown, ==, "1 t:old\n");
  g_assert_false (bed_rows_choose_sheet_named (rows, "Logs", &error));
  g_assert_error (error, BED_ROWS_ERROR, BED_ROWS_ERROR_INVALID);
  g_assert_nonnull (strstr (error->message, "“Old”, “Picks”"));
}

/* --- .ods ------------------------------------------------------------------------------- */

/* Names have their prefixes in a real file; the reader does not look at them. */
static const char ods_cells[]
    = "<tracked-changes><table><table-row><table-cell><p>no</p></table-cell></table-row></table>"
      "</tracked-changes><table name='Old' style-name='ta2'><table-row><table-cell><p>old</p>"
      "</table-cell></table-row></table><table name='Picks'><table-row number-rows-repeated='2'>"
      "<table-cell number-columns-repeated='16384'/></table-row><table-row>"
      "<table-cell value-type='float' value='6.5'><p>6,5 kg</p></table-cell>"
      "<table-cell value-type='percentage' value='0.35'><p>35 %</p></table-cell>"
      "<table-cell value-type='currency' value='12.5'><p>12,50</p></table-cell>"
      "<table-cell value-type='date' date-value='2026-05-18'><p>x</p></table-cell>"
      "<table-cell value-type='date' date-value='2026-05-18T14:30:00'><p>x</p></table-cell>"
      "<table-cell value-type='time' time-value='PT36H30M00S'><p>x</p></table-cell>"
      "<table-cell value-type='boolean' boolean-value='true'><p>WAHR</p></table-cell>"
      "<table-cell value-type='string'><p>#DIV/0!</p></table-cell>"
      "<table-cell value-type='float' value='0'><p>Err:502</p></table-cell></table-row>"
      "<table-row visibility='filter'><table-cell number-columns-repeated='2'/>"
      "<table-cell number-columns-repeated='2'><annotation><p>a note</p></annotation>\n"
      "<p>two<s c='2'/>lines<span>!</span></p>\n<p/><p>of<tab/>it</p></table-cell>"
      "<table-cell number-columns-repeated='16380'/></table-row>"
      "<table-row number-rows-repeated='2'><table-cell><p>same</p></table-cell></table-row>"
      "<table-row number-rows-repeated='1048570'><table-cell "
      "number-columns-repeated='16384'/>"
      "</table-row></table>";

static void
test_ods_cells (void)
{
  assert_rows (ods_new (ods_cells),
               "3 n:6.5 %:35% n:12.5 d:2026-05-18 d:2026-05-18T14:30 h:36:30 b:TRUE e:#DIV/0! "
               "e:Err:502\n"
               "4h -: -: t:two  lines!\n\nof\tit t:two  lines!\n\nof\tit\n5 t:same\n6 t:same\n");
}

static const char ods_merged[]
    = "<table name='A'><table-row><table-cell number-columns-spanned='2' number-rows-spanned='2'>"
      "<p>May</p></table-cell><covered-table-cell/><table-cell><p>June</p></table-cell></table-row>"
      "<table-row><covered-table-cell number-columns-repeated='2'/><table-cell><p>2</p>"
      "</table-cell></table-row><table-row><table-cell number-columns-repeated='2'/><table-cell>"
      "<p>3</p></table-cell></table-row></table>";

static void
test_ods_merged (void)
{
  assert_rows (ods_new (ods_merged), "1 t:May t:May t:June\n2 t:May t:May t:2\n3 -: -: t:3\n");
}

/* --- as a spreadsheet writes them ------------------------------------------------------- */

/* The two hold the same sheets; of the .xlsx its writer shows the first as well. */
static void
test_kept (gconstpointer name)
{
  g_autofree char *path
      = g_build_filename (g_getenv ("BEDLOG_SOURCE"), "tests", "model", "sheets", name, NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (BedRows) rows = bed_rows_open_file (path, NULL, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (bed_rows_get_n_sheets (rows), ==, 3);
  g_assert_true (bed_rows_choose_sheet_named (rows, "Yards", &error));
  g_autofree char *yards = dup_rows (rows, &error);
  g_assert_cmpstr (yards, ==,
                   "1 t:name t:shade t:notes\n2 t:Süd, below %:80% t:by the brook\n"
                   "3h t:Hill 🍄 %:65.5% t:by the brook\n");
  g_assert_true (bed_rows_choose_sheet_named (rows, "Rain", &error));
  g_autofree char *rain = dup_rows (rows, &error);
  g_assert_cmpstr (rain, ==, "1 d:2026-05-18 h:14:30 b:TRUE e:#DIV/0! d:2026-05-19 t:ab\n");
}

/* --- what is refused ------------------------------------------------------------------------ */

static GBytes *
many_entries (void)
{
  Zip zip = zip_new ();

  for (int i = 0; i < 5000; i++)
    {
      g_autofree char *name = g_strdup_printf ("file-%d", i);
      zip_add (&zip, name, "", 0);
    }
  return zip_finish (&zip);
}

/* A hundred megabytes of rows, which come to a third of one. */
static GBytes *
bomb (void)
{
  Zip zip = zip_new ();
  g_autoptr (GString) rows = g_string_new (NULL);

  for (int i = 0; i < 1 << 16; i++)
    g_string_append (rows, "<row></row>     ");
  zip_begin (&zip, "content.xml");
  archive_write_data (zip.archive, "<a>", 3);
  for (int i = 0; i < 100; i++)
    archive_write_data (zip.archive, rows->str, rows->len);
  return zip_finish (&zip);
}

static GBytes *
one_entry (const char *name, const char *text)
{
  Zip zip = zip_new ();

  zip_add (&zip, name, text, -1);
  return zip_finish (&zip);
}

static GBytes *
cut (GBytes *bytes, gsize keep)
{
  g_autoptr (GBytes) taken = bytes;

  return g_bytes_new (g_bytes_get_data (taken, NULL), MIN (keep, g_bytes_get_size (taken)));
}

static GBytes *
ods_row (const char *row)
{
  g_autofree char *table = g_strdup_printf ("<table>%s</table>", row);

  return ods_new (table);
}

static GBytes *
xlsx_row (const char *row)
{
  g_autofree char *sheet
      = g_strdup_printf ("<worksheet><sheetData>%s</sheetData></worksheet>", row);

  return xlsx_new ("", no_shared, sheet);
}

static void
test_refused_archives (void)
{
  refuses (one_entry ("letter.txt", "Dear"), BED_ROWS_ERROR_INVALID, 0, "no workbook");
  refuses (many_entries (), BED_ROWS_ERROR_BOUND, 0, "4096 files");
  refuses (bomb (), BED_ROWS_ERROR_BOUND, 0, "unpacks to more than");
  refuses (cut (xlsx_row ("<row/>"), 300), BED_ROWS_ERROR_INVALID, 0, "damaged");
  refuses (g_bytes_new ("PK\3\4", 4), BED_ROWS_ERROR_INVALID, 0, "damaged");
  refuses (g_bytes_new ("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1 and more", 17), BED_ROWS_ERROR_INVALID, 0,
           "old kind");
}

static void
test_refused_xml (void)
{
  refuses (one_entry ("content.xml", "<a><b>"), BED_ROWS_ERROR_INVALID, 0, "damaged");
  refuses (one_entry ("content.xml", "<!DOCTYPE a [<!ENTITY b 'lol'><!ENTITY c '&b;&b;&b;'>]>"
                                     "<a>&c;</a>"),
           BED_ROWS_ERROR_INVALID, 0, "document type");
  refuses (one_entry ("content.xml", "<!DOCTYPE a SYSTEM 'file:///etc/passwd'><a/>"),
           BED_ROWS_ERROR_INVALID, 0, "document type");
  /* The parser looks some way ahead: enough for it to lie before what is broken. */
  g_autofree char *space = g_strnfill (2000, ' ');
  g_autofree char *late = g_strconcat ("<row r='7'/>", space, "<row r='8'><c>", NULL);
  refuses (xlsx_row (late), BED_ROWS_ERROR_INVALID, 8, "damaged");
}

static void
test_refused_bounds (void)
{
  refuses (xlsx_row ("<row><c r='XFE1' t='str'><v>x</v></c></row>"), BED_ROWS_ERROR_BOUND, 1,
           "16,384");
  refuses (xlsx_row ("<row r='1048577'/>"), BED_ROWS_ERROR_BOUND, 1048577, "1,048,576");
  refuses (xlsx_row ("<row r='3'/><row r='2'/>"), BED_ROWS_ERROR_BOUND, 2, "order");
  refuses (ods_row ("<table-row><table-cell number-columns-repeated='1000000'>"
                    "<p>x</p></table-cell></table-row>"),
           BED_ROWS_ERROR_BOUND, 1, "16,384");
  refuses (ods_row ("<table-row number-rows-repeated='1000000'><table-cell>"
                    "<p>x</p></table-cell></table-row>"),
           BED_ROWS_ERROR_BOUND, 1, "10,000 times");
  refuses (ods_row ("<table-row number-rows-repeated='1048576'/><table-row>"
                    "<table-cell><p>x</p></table-cell></table-row>"),
           BED_ROWS_ERROR_BOUND, 1048577, "1,048,576");
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/rows-book/xlsx-cells", test_xlsx_cells);
  g_test_add_func ("/rows-book/xlsx-dates", test_xlsx_dates);
  g_test_add_func ("/rows-book/xlsx-merged", test_xlsx_merged);
  g_test_add_func ("/rows-book/sheets", test_sheets);
  g_test_add_func ("/rows-book/ods-cells", test_ods_cells);
  g_test_add_func ("/rows-book/ods-merged", test_ods_merged);
  g_test_add_data_func ("/rows-book/kept-xlsx", "yards.xlsx", test_kept);
  g_test_add_data_func ("/rows-book/kept-ods", "yards.ods", test_kept);
  g_test_add_func ("/rows-book/refused-archives", test_refused_archives);
  g_test_add_func ("/rows-book/refused-xml", test_refused_xml);
  g_test_add_func ("/rows-book/refused-bounds", test_refused_bounds);
  return g_test_run ();
}
