#include <errno.h>
#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/sheet/rows_private.h"

/* What of a text is looked at to find how it is written, in bytes of UTF-8. */
#define LOOKED_AT (1 << 16)

typedef struct
{
  BedDecoder decoder;
  BedSplitter splitter;
  gsize taken; /* of the decoder's text */
} Text;

static void
text_clear (BedRows *self)
{
  Text *text = self->state;

  if (!text)
    return;
  bed_decoder_clear (&text->decoder);
  bed_splitter_clear (&text->splitter);
  g_clear_pointer (&self->state, g_free);
}

/* Spreadsheets of some countries begin a file with the line "sep=;": its length, or 0. */
static gsize
read_told (const GString *text, BedReading *reading)
{
  if (text->len < 6 || g_ascii_strncasecmp (text->str, "sep=", 4) != 0
      || !strchr ("\r\n", text->str[5]))
    return 0;
  *reading = (BedReading){ reading->encoding, text->str[4], '"', 0 };
  return text->str[5] == '\r' && text->str[6] == '\n' ? 7 : 6;
}

static gboolean
begin (BedRows *self, guint sheet, GError **error)
{
  Text *text = g_new0 (Text, 1);
  BedReading told = self->reading;

  text_clear (self);
  self->state = text;
  bed_decoder_init (&text->decoder, self->source, self->reading.encoding);
  bed_decoder_more (&text->decoder);
  text->taken = read_told (text->decoder.text, &told);
  bed_splitter_init (&text->splitter, &self->reading);
  text->splitter.at_line = text->taken > 0 ? 2 : 1;
  return TRUE;
}

/* --- rows ----------------------------------------------------------------------------- */

static const BedSheetRow *
fail_split (BedRows *self, BedRowSplit split, GError **error)
{
  BedSplitter *splitter = &((Text *) self->state)->splitter;
  guint column = splitter->line.cells->len + 1;

  if (split == BED_SPLIT_QUOTE)
    return bed_rows_fail (
        self, splitter->begun_on, column, error, BED_ROWS_ERROR_INVALID,
        _ ("A quotation mark is left open or stands inside a field. Put the whole field in "
           "quotation marks and write each one inside it twice."));
  if (split == BED_SPLIT_WIDE)
    return bed_rows_fail (
        self, splitter->line.row.line, 0, error, BED_ROWS_ERROR_BOUND,
        _ ("The line has more than 16,384 cells, which no sheet of a farm has. Is "
           "it a list of another kind?"));
  return bed_rows_fail (self, splitter->line.row.line, 0, error, BED_ROWS_ERROR_BOUND,
                        _ ("The row is longer than 32 MB, which no row of a farm is. Is a "
                           "quotation mark left open?"));
}

static const BedSheetRow *
fail_decoding (BedRows *self, GError **error)
{
  Text *text = self->state;

  if (text->decoder.failed)
    return bed_rows_fail (self, 0, 0, error, BED_ROWS_ERROR_FAILED, g_strerror (errno));
  g_autofree char *message
      = g_strdup_printf (_ ("This is not %s text. Save the file as CSV with UTF-8 characters."),
                         bed_encoding_get_name (self->reading.encoding));
  return bed_rows_fail (self, text->splitter.at_line, 0, error, BED_ROWS_ERROR_INVALID, message);
}

static const BedSheetRow *
next (BedRows *self, GError **error)
{
  Text *text = self->state;
  BedDecoder *decoder = &text->decoder;

  for (;;)
    {
      gboolean last = decoder->ended && !decoder->broken && !decoder->failed;
      gsize taken;
      BedRowSplit split = bed_splitter_feed (&text->splitter, decoder->text->str + text->taken,
                                             decoder->text->len - text->taken,
                                             last ? BED_TEXT_IS_LAST : BED_TEXT_GOES_ON, &taken);
      text->taken += taken;
      if (split == BED_SPLIT_ROW)
        return bed_line_finish (&text->splitter.line);
      if (split != BED_SPLIT_MORE)
        return fail_split (self, split, error);
      if (decoder->broken || decoder->failed)
        return fail_decoding (self, error);
      if (decoder->ended)
        return NULL;
      g_string_truncate (decoder->text, 0);
      text->taken = 0;
      bed_decoder_more (decoder);
    }
}

/* --- opening -------------------------------------------------------------------------- */

static void
find_delimiter (BedRows *self)
{
  BedDecoder decoder;

  bed_decoder_init (&decoder, self->source, self->reading.encoding);
  while (!decoder.ended && decoder.text->len < LOOKED_AT)
    bed_decoder_more (&decoder);
  gsize length = MIN (decoder.text->len, LOOKED_AT);
  gboolean whole = decoder.ended && !decoder.broken && length == decoder.text->len;
  if (read_told (decoder.text, &self->reading))
    self->delimiter_sure = BED_SURE_TOLD;
  else
    {
      g_array_unref (self->candidates);
      self->candidates = bed_dialect_find (decoder.text->str, length,
                                           whole ? BED_TEXT_IS_LAST : BED_TEXT_GOES_ON);
      const BedCandidate *best = (const BedCandidate *) self->candidates->data;
      BedEncoding encoding = self->reading.encoding;
      self->reading = best->reading;
      self->delimiter_sure = best->width > 1 && best->rows_alike == best->rows ? BED_SURE_CHECKED
                                                                               : BED_SURE_GUESSED;
      for (guint i = 0; i < self->candidates->len; i++)
        g_array_index (self->candidates, BedCandidate, i).reading.encoding = encoding;
      self->reading.encoding = encoding;
    }
  bed_decoder_clear (&decoder);
}

static const BedRowsClass text_class = { begin, next, text_clear };

/* "UTF-16" does not say the order of the bytes; a mark does. */
static BedEncoding
settle_order (BedSource *source, BedEncoding asked)
{
  BedEncoding mark = bed_decoder_find_mark (source);
  gboolean wide = asked == BED_ENCODING_UTF_16LE || asked == BED_ENCODING_UTF_16BE;

  return wide && (mark == BED_ENCODING_UTF_16LE || mark == BED_ENCODING_UTF_16BE) ? mark : asked;
}

gboolean
bed_rows_open_text (BedRows *self, const BedReading *reading, GError **error)
{
  self->format = BED_ROWS_TEXT;
  self->klass = &text_class;
  self->reading = *reading;
  self->encoding_sure = self->delimiter_sure = BED_SURE_FORCED;
  self->reading.encoding = settle_order (self->source, reading->encoding);
  if (!self->reading.encoding)
    self->reading.encoding = bed_decoder_find_encoding (self->source, &self->encoding_sure);
  if (!self->reading.delimiter)
    find_delimiter (self);
  return begin (self, 0, error);
}
