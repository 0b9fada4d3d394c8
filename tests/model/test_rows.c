/* Other people's text files as rows: encodings, delimiters, quotes and line ends that were found,
 * and what is refused. */
#include <glib/gstdio.h>
#include <string.h>

#include "model/sheet/rows.h"

/* Rows as "1:a|b" with the line each begins on, a line each. */
static char *
dup_rows (BedRows *rows, GError **error)
{
  g_autoptr (GString) shown = g_string_new (NULL);
  const BedSheetRow *row;

  while ((row = bed_rows_next (rows, error)))
    {
      g_string_append_printf (shown, "%u:", row->line);
      for (guint i = 0; i < row->n_cells; i++)
        g_string_append_printf (shown, "%s%s", i > 0 ? "|" : "", row->cells[i].text);
      g_string_append_c (shown, '\n');
    }
  return g_string_free (g_steal_pointer (&shown), FALSE);
}

static BedRows *
open_text (const char *text, gsize length, const BedReading *reading)
{
  g_autoptr (GBytes) bytes = g_bytes_new (text, length);
  g_autoptr (GError) error = NULL;
  BedRows *rows = bed_rows_open_bytes (bytes, reading, &error);

  g_assert_no_error (error);
  return rows;
}

static void
assert_rows (const char *text, gsize length, const BedReading *reading, const char *expected)
{
  g_autoptr (BedRows) rows = open_text (text, length, reading);
  g_autoptr (GError) error = NULL;
  g_autofree char *shown = dup_rows (rows, &error);

  g_assert_no_error (error);
  g_assert_cmpstr (shown, ==, expected);
}

/* @text as bytes of @charset. */
static char *
encode (const char *text, const char *charset, gsize *length)
{
  char *bytes = g_convert (text, -1, charset, "UTF-8", NULL, length, NULL);

  g_assert_nonnull (bytes);
  return bytes;
}

/* --- habits -------------------------------------------------------------------------- */

/* As farms keep them: invented scenes in many habits and languages. */
static const struct
{
  const char *charset;
  BedEncoding encoding;
  char delimiter, quote, escape;
  const char *text, *rows;
} habits[] = {
  /* A spreadsheet in English. */
  { "UTF-8", BED_ENCODING_UTF_8, ',', '"', 0,
    "Date,Row,Wt (oz),Remarks\r\n28-May-23,Shed A,6.5,\"after rain, firm\"\r\n"
    "29-May-23,Shed A,1 lb 2 oz,\r\n",
    "1:Date|Row|Wt (oz)|Remarks\n2:28-May-23|Shed A|6.5|after rain, firm\n"
    "3:29-May-23|Shed A|1 lb 2 oz|\n" },
  /* One in German: semicolons, decimal commas. */
  { "WINDOWS-1252", BED_ENCODING_WINDOWS_1252, ';', '"', 0,
    "Datum;Schuppen;Gewicht kg;Erlös\r\n28.05.2023;Süd;6,5;12,50 €\r\n29.05.2023;Süd;7,25;\r\n",
    "1:Datum|Schuppen|Gewicht kg|Erlös\n2:28.05.2023|Süd|6,5|12,50 €\n3:29.05.2023|Süd|7,25|\n" },
  /* One in French on an old Mac: lone carriage returns, no end to the last line. */
  { "ISO-8859-1", BED_ENCODING_WINDOWS_1252, ';', '"', 0,
    "Récolté le;Poids;Qualité\r12/06/2024;0,85;A\r13/06/2024;1,10;B",
    "1:Récolté le|Poids|Qualité\n2:12/06/2024|0,85|A\n3:13/06/2024|1,10|B\n" },
  /* Unicode text of a spreadsheet: UTF-16, tabs. */
  { "UTF-16LE", BED_ENCODING_UTF_16LE, '\t', '"', 0,
    "\xef\xbb\xbf採取日\t原木\t重さ\n2024-04-01\tクヌギ\t320\n2024-04-02\tコナラ\t280\n",
    "1:採取日|原木|重さ\n2:2024-04-01|クヌギ|320\n3:2024-04-02|コナラ|280\n" },
  /* The other order, and no mark. */
  { "UTF-16BE", BED_ENCODING_UTF_16BE, ',', '"', 0, "Log,Dia,Len\nA1,4.5,40\nA2,5,40\n",
    "1:Log|Dia|Len\n2:A1|4.5|40\n3:A2|5|40\n" },
  /* A bank: every cell quoted, amounts with groups and brackets, blank lines above the head. */
  { "UTF-8", BED_ENCODING_UTF_8, ',', '"', 0,
    "\"Account\",\"Orchard savings\"\n\n\"Date\",\"Text\",\"Amount\"\n"
    "\"05/02/2024\",\"MARKET, STALL 4\",\"1,240.00\"\n\"05/09/2024\",\"SPAWN; SAWDUST\","
    "\"(86.40)\"\n\"05/12/2024\",\"WAX\",\"(20.00)\"\n",
    "1:Account|Orchard savings\n2:\n3:Date|Text|Amount\n4:05/02/2024|MARKET, STALL 4|1,240.00\n"
    "5:05/09/2024|SPAWN; SAWDUST|(86.40)\n6:05/12/2024|WAX|(20.00)\n" },
  /* A database: backslash before a quote. */
  { "UTF-8", BED_ENCODING_UTF_8, ',', '"', '\\',
    "code,note\n\"L1\",\"5\\\" hole, waxed\"\n\"L2\",\"said \\\"good\\\"\"\n\"L3\",\"a\\b\"\n",
    "1:code|note\n2:L1|5\" hole, waxed\n3:L2|said \"good\"\n4:L3|a\\b\n" },
  /* Typed by hand: inches, and no quoting at all. */
  { "UTF-8", BED_ENCODING_UTF_8, ',', 0, 0, "log,size\nA1,4\" x 40\"\nA2,5\" x 42\"\n",
    "1:log|size\n2:A1|4\" x 40\"\n3:A2|5\" x 42\"\n" },
  /* A weather station's day. */
  { "UTF-8", BED_ENCODING_UTF_8, ',', '"', 0,
    "STATION,DATE,PRCP,TMAX,TMIN\nXX0001,2024-03-01,0.0,11.2,-1.5\n"
    "XX0001,2024-03-02,4.6,9.0,\nXX0001,2024-03-03,,8.5,0.4\n",
    "1:STATION|DATE|PRCP|TMAX|TMIN\n2:XX0001|2024-03-01|0.0|11.2|-1.5\n"
    "3:XX0001|2024-03-02|4.6|9.0|\n4:XX0001|2024-03-03||8.5|0.4\n" },
  /* A phone's notes: bars, space about them, apostrophes. */
  { "UTF-8", BED_ENCODING_UTF_8, '|', '"', 0,
    "day | who | picked\n3 May | D's crew | 4 lb\n4 May | M | 3 lb, 2 oz\n",
    "1:day|who|picked\n2:3 May|D's crew|4 lb\n3:4 May|M|3 lb, 2 oz\n" },
  /* Single quotes, and a comma in them. */
  { "UTF-8", BED_ENCODING_UTF_8, ',', '\'', 0,
    "'wood','where'\n'oak, red','brook'\n'maple','hill, north'\n",
    "1:wood|where\n2:oak, red|brook\n3:maple|hill, north\n" },
  /* The delimiter told in the first line, against all appearance. */
  { "UTF-8", BED_ENCODING_UTF_8, ';', '"', 0, "sep=;\r\na,b;c,d\r\n1,5;2,5\r\n",
    "2:a,b|c,d\n3:1,5|2,5\n" },
  /* One column, with what could be a delimiter in a note. */
  { "UTF-8", BED_ENCODING_UTF_8, ',', '"', 0, "Remarks\nall well\nrained again\n",
    "1:Remarks\n2:all well\n3:rained again\n" },
  /* Polish notes of several lines within quotes. */
  { "UTF-8", BED_ENCODING_UTF_8, ';', '"', 0,
    "Data;Uwagi;Ilość\n2024-05-01;\"dąb\nolcha; buk\";12\n2024-05-02;\"sucho\";9\n",
    "1:Data|Uwagi|Ilość\n2:2024-05-01|dąb\nolcha; buk|12\n4:2024-05-02|sucho|9\n" },
};

static void
test_habits (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (habits); i++)
    {
      gsize length;
      g_autofree char *bytes = encode (habits[i].text, habits[i].charset, &length);
      g_autoptr (BedRows) rows = open_text (bytes, length, NULL);
      const BedReading *reading = bed_rows_get_reading (rows);
      g_autofree char *shown = dup_rows (rows, NULL);

      g_test_message ("habit %zu: %s, delimiter %c, quote %d, escape %d", i,
                      bed_encoding_get_name (reading->encoding), reading->delimiter, reading->quote,
                      reading->escape);
      g_assert_cmpstr (shown, ==, habits[i].rows);
      g_assert_cmpint (reading->encoding, ==, habits[i].encoding);
      g_assert_cmpint (reading->delimiter, ==, habits[i].delimiter);
      g_assert_cmpint (reading->quote, ==, habits[i].quote);
      g_assert_cmpint (reading->escape, ==, habits[i].escape);
    }
}

/* --- what was found -------------------------------------------------------------------- */

static void
test_candidates (void)
{
  static const char text[] = "Datum;kg\n28.05.2023;6,5\n29.05.2023;7,5\n";
  g_autoptr (BedRows) rows = open_text (text, strlen (text), NULL);
  guint n;
  const BedCandidate *found = bed_rows_get_candidates (rows, &n);

  g_assert_cmpuint (n, ==, 2);
  g_assert_cmpint (found[0].reading.delimiter, ==, ';');
  g_assert_cmpuint (found[0].rows, ==, 3);
  g_assert_cmpuint (found[0].rows_alike, ==, 3);
  g_assert_cmpuint (found[0].width, ==, 2);
  g_assert_cmpint (found[1].reading.delimiter, ==, ',');
  g_assert_cmpfloat (found[0].score, >, found[1].score);
  g_assert_cmpint (bed_rows_get_delimiter_sure (rows), ==, BED_SURE_CHECKED);
  g_assert_cmpint (bed_rows_get_encoding_sure (rows), ==, BED_SURE_CHECKED);

  /* What was found may be overruled. */
  g_assert_true (bed_rows_read_as (rows, &found[1].reading, NULL));
  g_autofree char *shown = dup_rows (rows, NULL);
  g_assert_cmpstr (shown, ==, "1:Datum;kg\n2:28.05.2023;6|5\n3:29.05.2023;7|5\n");
  g_assert_cmpint (bed_rows_get_delimiter_sure (rows), ==, BED_SURE_FORCED);
}

static void
test_encodings (void)
{
  const BedReading latin = { BED_ENCODING_LATIN_1, ',', '"', 0 };
  const BedReading any = { BED_ENCODING_FOUND, ',', '"', 0 };

  assert_rows ("S\xfc\x80,a\n", 5, &any, "1:Sü€|a\n");
  assert_rows ("S\xfc\x80,a\n", 5, &latin, "1:Sü\xc2\x80|a\n");
  /* Windows-1252 has no letter 0x81. */
  assert_rows ("S\xfc\x81,a\n", 5, &any, "1:Sü\xc2\x81|a\n");
  assert_rows ("\xef\xbb\xbfSüd\n", 8, &any, "1:Süd\n");
  assert_rows ("\xff\xfe"
               "A\0,\0b\0\n\0",
               10, &any, "1:A|b\n");
  /* A letter of two units. */
  assert_rows ("\xfe\xff\xd8\x3c\xdf\x44\0,\0b", 10, &any, "1:🍄|b\n");
  /* A mark knows the order of the bytes better than a name. */
  const BedReading wide = { BED_ENCODING_UTF_16LE, ',', '"', 0 };
  assert_rows ("\xfe\xff\0A\0,\0b", 8, &wide, "1:A|b\n");
  assert_rows ("", 0, NULL, "");
  assert_rows ("\n\n", 2, NULL, "1:\n2:\n");
  g_assert_cmpint (bed_encoding_from_name ("windows-1252"), ==, BED_ENCODING_WINDOWS_1252);
  g_assert_cmpint (bed_encoding_from_name ("ISO-8859-1"), ==, BED_ENCODING_LATIN_1);
  g_assert_cmpint (bed_encoding_from_name ("klingon"), ==, BED_ENCODING_FOUND);
}

/* Text comes in blocks: letters, line ends and quotes lie across their edges in every way. */
static void
test_edges (void)
{
  const BedReading own = { BED_ENCODING_FOUND, ',', '"', 0 };

  for (gsize before = (1 << 16) - 8; before < (1 << 16) + 2; before++)
    {
      g_autofree char *head = g_strnfill (before, 'x');
      g_autofree char *text = g_strconcat (head, "ü\r\n\"a\"\"b\r\nc\",🍄\r\n", NULL);
      g_autofree char *expected = g_strconcat ("1:", head, "ü\n2:a\"b\r\nc|🍄\n", NULL);
      assert_rows (text, strlen (text), &own, expected);
      gsize length;
      g_autofree char *wide = encode (text, "UTF-16LE", &length);
      assert_rows (wide, length, &own, expected);
    }
}

static void
test_splitting (void)
{
  const BedReading own = { BED_ENCODING_UTF_8, ',', '"', 0 };
  static const char text[] = " a , \"b \" ,\t c d \t\r\n,\"\"\n\"x\n\ny\",z\rlast,";

  assert_rows (text, strlen (text), &own, "1:a|b |c d\n2:|\n3:x\n\ny|z\n6:last|\n");
}

/* --- what is refused ---------------------------------------------------------------------- */

static void
refuses (const char *text, gsize length, const BedReading *reading, int code, guint line,
         guint column, const char *words)
{
  g_autoptr (BedRows) rows = open_text (text, length, reading);
  g_autoptr (GError) error = NULL;
  g_autofree char *shown G_GNUC_UNUSED = dup_rows (rows, &error);

  g_assert_error (error, BED_ROWS_ERROR, code);
  g_assert_nonnull (strstr (error->message, words));
  g_assert_cmpuint (bed_rows_get_line (rows), ==, line);
  g_assert_cmpuint (bed_rows_get_column (rows), ==, column);
}

static void
test_refused (void)
{
  const BedReading own = { BED_ENCODING_UTF_8, ',', '"', 0 };
  const BedReading wide = { BED_ENCODING_UTF_16LE, ',', '"', 0 };
  g_autofree char *commas = g_strnfill (20000, ',');
  g_autofree char *open = g_strnfill (33 << 20, 'x');

  refuses ("a\nb,\"c\nd", 8, &own, BED_ROWS_ERROR_INVALID, 2, 2, "left open");
  refuses ("a\nb,\"c\"d", 8, &own, BED_ROWS_ERROR_INVALID, 2, 2, "inside a field");
  refuses ("a\nb\n\xfc\n", 6, &own, BED_ROWS_ERROR_INVALID, 3, 0, "not UTF-8");
  refuses ("a\nb\0c\n", 6, &own, BED_ROWS_ERROR_INVALID, 2, 0, "not UTF-8");
  refuses ("a\0\0\xdc", 4, &wide, BED_ROWS_ERROR_INVALID, 1, 0, "not UTF-16");
  refuses ("a\0\n\0b", 5, &wide, BED_ROWS_ERROR_INVALID, 2, 0, "not UTF-16");
  refuses (commas, 20000, &own, BED_ROWS_ERROR_BOUND, 1, 0, "16,384");
  refuses (open, 33 << 20, &own, BED_ROWS_ERROR_BOUND, 1, 0, "32 MB");
  /* Mostly UTF-8, and one byte of it damaged: told, and not taken for another encoding. */
  refuses ("ä\nö\nü\nß\né\n\xff\n", 17, NULL, BED_ROWS_ERROR_INVALID, 6, 0, "not UTF-8");
}

static void
test_files (void)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = NULL;
  int fd = g_file_open_tmp ("rows-XXXXXX", &path, NULL);

  g_assert_true (g_file_set_contents (path, "a;b\n1;2\n", -1, NULL));
  g_close (fd, NULL);
  g_autoptr (BedRows) rows = bed_rows_open_file (path, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpint (bed_rows_get_format (rows), ==, BED_ROWS_TEXT);
  g_assert_cmpuint (bed_rows_get_n_sheets (rows), ==, 1);
  g_autofree char *shown = dup_rows (rows, &error);
  g_assert_cmpstr (shown, ==, "1:a|b\n2:1|2\n");
  g_assert_false (bed_rows_choose_sheet_named (rows, "Picks", &error));
  g_assert_error (error, BED_ROWS_ERROR, BED_ROWS_ERROR_INVALID);
  g_clear_error (&error);
  g_unlink (path);
  g_assert_null (bed_rows_open_file (path, NULL, &error));
  g_assert_error (error, BED_ROWS_ERROR, BED_ROWS_ERROR_NOT_FOUND);
  g_clear_error (&error);
  g_assert_null (bed_rows_open_file (g_get_tmp_dir (), NULL, &error));
  g_assert_error (error, BED_ROWS_ERROR, BED_ROWS_ERROR_FAILED);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/rows/habits", test_habits);
  g_test_add_func ("/rows/candidates", test_candidates);
  g_test_add_func ("/rows/encodings", test_encodings);
  g_test_add_func ("/rows/edges", test_edges);
  g_test_add_func ("/rows/splitting", test_splitting);
  g_test_add_func ("/rows/refused", test_refused);
  g_test_add_func ("/rows/files", test_files);
  return g_test_run ();
}
