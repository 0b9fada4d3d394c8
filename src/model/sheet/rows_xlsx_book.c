#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/sheet/rows_xlsx.h"

/* What an .xlsx says beside its sheets (ECMA-376 part 1): which there are, how numbers look, the
 * texts that cells share. */

#define MOST_SHEETS 1024
#define MOST_LOOKS 65536
/* Bytes of the texts that the cells share: they have to be held. */
#define MOST_SHARED (64 << 20)

/* --- places ------------------------------------------------------------------------- */

/* @target as it stands in the relations of @part: beside it, or from the top. */
static char *
resolve (const char *part, const char *target)
{
  if (*target == '/')
    return g_strdup (target + 1);
  g_autofree char *folder = g_path_get_dirname (part);
  g_autofree char *joined = strcmp (folder, ".") == 0 ? g_strdup (target)
                                                      : g_build_path ("/", folder, target, NULL);
  g_autofree char *from_top = g_canonicalize_filename (joined, "/");
  return g_strdup (from_top + 1);
}

/* xl/workbook.xml -> xl/_rels/workbook.xml.rels */
static char *
relations_of (const char *part)
{
  g_autofree char *folder = g_path_get_dirname (part);
  g_autofree char *name = g_path_get_basename (part);

  return g_strdup_printf ("%s/_rels/%s.rels", folder, name);
}

/* The part that a relation leads to: by its id, or the first whose type ends in @type. NULL when
 * there is none. */
static char *
find_related (BedSource *source, const char *part, const char *id, const char *type)
{
  g_autofree char *name = *part ? relations_of (part) : g_strdup ("_rels/.rels");
  g_autoptr (BedBookPart) relations = bed_part_open (source, name, NULL);
  BedPartStep step;

  while (relations && (step = bed_part_next (relations, NULL)) < BED_PART_DONE)
    {
      if (step != BED_PART_BEGIN || !bed_part_is (relations, "Relationship"))
        continue;
      const char *found = bed_part_get (relations, id ? "Id" : "Type");
      const char *target = bed_part_get (relations, "Target");
      if (found && target && (id ? strcmp (found, id) == 0 : g_str_has_suffix (found, type)))
        return resolve (part, target);
    }
  return NULL;
}

char *
bed_xlsx_find_book (BedSource *source)
{
  char *part = find_related (source, "", NULL, "/officeDocument");

  return part ? part : g_strdup ("xl/workbook.xml");
}

/* --- sheets --------------------------------------------------------------------------- */

static gboolean
add_sheet (BedRows *self, BedBookPart *book, const char *book_name)
{
  const char *name = bed_part_get (book, "name"), *state = bed_part_get (book, "state");
  const char *id = bed_part_get (book, "id");
  g_autofree char *part = id ? find_related (self->source, book_name, id, NULL) : NULL;

  /* A sheet of a chart alone has no rows. */
  if (part && name && !strstr (part, "chartsheets/"))
    bed_rows_add_sheet (self, name, part,
                        state && strcmp (state, "visible") != 0 ? BED_ROW_HIDDEN : BED_ROW_SHOWN);
  return self->sheets->len < MOST_SHEETS;
}

gboolean
bed_xlsx_read_book (BedRows *self, const char *name, GError **error)
{
  g_autoptr (BedBookPart) book = bed_part_open (self->source, name, error);
  BedPartStep step = BED_PART_WRONG;

  while (book && (step = bed_part_next (book, error)) < BED_PART_DONE)
    if (step == BED_PART_BEGIN && bed_part_is (book, "sheet") && !add_sheet (self, book, name))
      {
        g_set_error (error, BED_ROWS_ERROR, BED_ROWS_ERROR_BOUND,
                     _ ("The workbook has more than %d sheets. Save the one with the records by "
                        "itself."),
                     MOST_SHEETS);
        return FALSE;
      }
  return step == BED_PART_DONE;
}

static gboolean
is_on (const char *text)
{
  return text && (strcmp (text, "1") == 0 || strcmp (text, "true") == 0);
}

static gboolean
read_epoch (BedXlsx *self, BedSource *source, const char *name, GError **error)
{
  g_autoptr (BedBookPart) book = bed_part_open (source, name, error);
  BedPartStep step = BED_PART_WRONG;

  while (book && (step = bed_part_next (book, error)) < BED_PART_DONE)
    if (step == BED_PART_BEGIN && bed_part_is (book, "workbookPr"))
      self->epoch = is_on (bed_part_get (book, "date1904")) ? BED_EPOCH_1904 : BED_EPOCH_1900;
  return step == BED_PART_DONE;
}

/* --- looks ---------------------------------------------------------------------------- */

static void
take_style (BedXlsx *self, BedBookPart *styles, GHashTable *formats, gboolean in_cells)
{
  guint id = bed_part_get_count (styles, "numFmtId", 0, G_MAXUINT16);

  if (bed_part_is (styles, "numFmt"))
    {
      const char *format = bed_part_get (styles, "formatCode");
      if (format)
        g_hash_table_insert (formats, GUINT_TO_POINTER (id),
                             GUINT_TO_POINTER (1 + bed_look_of_format (format)));
    }
  else if (in_cells && bed_part_is (styles, "xf") && self->looks->len < MOST_LOOKS)
    {
      guint own = GPOINTER_TO_UINT (g_hash_table_lookup (formats, GUINT_TO_POINTER (id)));
      guint8 look = own ? own - 1 : bed_look_of_number (id);
      g_array_append_val (self->looks, look);
    }
}

static gboolean
read_looks (BedXlsx *self, BedSource *source, const char *name, GError **error)
{
  g_autoptr (GHashTable) formats = g_hash_table_new (NULL, NULL);
  g_autofree char *place = find_related (source, name, NULL, "/styles");
  g_autoptr (BedBookPart) styles = place ? bed_part_open (source, place, error) : NULL;
  gboolean in_cells = FALSE;
  BedPartStep step = place ? BED_PART_WRONG : BED_PART_DONE;

  while (styles && (step = bed_part_next (styles, error)) < BED_PART_DONE)
    {
      if (step != BED_PART_TEXT && bed_part_is (styles, "cellXfs"))
        in_cells = step == BED_PART_BEGIN && !bed_part_is_empty (styles);
      if (step == BED_PART_BEGIN)
        take_style (self, styles, formats, in_cells);
    }
  return step == BED_PART_DONE;
}

/* --- shared texts ----------------------------------------------------------------------- */

/* _x000D_ stands for a byte that XML has no room for. */
void
bed_xlsx_append_text (GString *to, const char *text)
{
  const char *escape;

  while ((escape = strstr (text, "_x")))
    {
      char *end;
      gunichar letter = g_ascii_isxdigit (escape[2]) ? strtoul (escape + 2, &end, 16) : 0;
      gboolean is_one = letter > 0 && end == escape + 6 && *end == '_'
                        && g_unichar_validate (letter);
      g_string_append_len (to, text, escape - text + (is_one ? 0 : 2));
      if (is_one)
        g_string_append_unichar (to, letter);
      text = escape + (is_one ? 7 : 2);
    }
  g_string_append (to, text);
}

gboolean
bed_xlsx_text_step (BedXlsxText *self, BedBookPart *part, BedPartStep step, GString *to)
{
  if (step == BED_PART_TEXT)
    {
      if (self->in_text && !self->in_reading)
        bed_xlsx_append_text (to, bed_part_get_text (part));
      return FALSE;
    }
  gboolean open = step == BED_PART_BEGIN && !bed_part_is_empty (part);
  if (bed_part_is (part, "t"))
    self->in_text = open;
  else if (bed_part_is (part, "rPh")) /* how a word is spoken */
    self->in_reading = open;
  return !open && (bed_part_is (part, "si") || bed_part_is (part, "is"));
}

static gboolean
read_shared (BedXlsx *self, BedSource *source, const char *name, GError **error)
{
  g_autofree char *place = find_related (source, name, NULL, "/sharedStrings");
  g_autoptr (BedBookPart) part = place ? bed_part_open (source, place, error) : NULL;
  BedPartStep step = place ? BED_PART_WRONG : BED_PART_DONE;
  BedXlsxText text = { 0 };
  gsize start = 0;

  while (part && (step = bed_part_next (part, error)) < BED_PART_DONE)
    {
      if (!bed_xlsx_text_step (&text, part, step, self->shared))
        continue;
      g_string_append_c (self->shared, '\0');
      g_array_append_val (self->shared_at, start);
      start = self->shared->len;
      if (start + self->shared_at->len * sizeof start <= MOST_SHARED)
        continue;
      g_set_error (error, BED_ROWS_ERROR, BED_ROWS_ERROR_BOUND,
                   _ ("The workbook holds more than %d MB of different texts. Save the sheet as "
                      "CSV."),
                   MOST_SHARED >> 20);
      return FALSE;
    }
  return step == BED_PART_DONE;
}

gboolean
bed_xlsx_read_beside (BedXlsx *self, BedSource *source, const char *book, GError **error)
{
  self->looks = g_array_new (FALSE, FALSE, sizeof (guint8));
  self->shared = g_string_new (NULL);
  self->shared_at = g_array_new (FALSE, FALSE, sizeof (gsize));
  return read_epoch (self, source, book, error) && read_looks (self, source, book, error)
         && read_shared (self, source, book, error);
}
