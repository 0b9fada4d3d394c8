#include <errno.h>
#include <string.h>

#include "model/sheet/rows_private.h"

#define BLOCK (1 << 16)

/* 0x80 to 0x9f of Windows-1252 (Unicode Consortium, CP1252.TXT, 1998); 0: not assigned. */
static const guint16 windows[32]
    = { 0x20ac, 0,      0x201a, 0x0192, 0x201e, 0x2026, 0x2020, 0x2021, 0x02c6, 0x2030, 0x0160,
        0x2039, 0x0152, 0,      0x017d, 0,      0,      0x2018, 0x2019, 0x201c, 0x201d, 0x2022,
        0x2013, 0x2014, 0x02dc, 0x2122, 0x0161, 0x203a, 0x0153, 0,      0x017e, 0x0178 };

static const struct
{
  const char *name;
  BedEncoding encoding;
} names[] = {
  { "UTF-8", BED_ENCODING_UTF_8 },         { "UTF-16LE", BED_ENCODING_UTF_16LE },
  { "UTF-16BE", BED_ENCODING_UTF_16BE },   { "Windows-1252", BED_ENCODING_WINDOWS_1252 },
  { "Latin-1", BED_ENCODING_LATIN_1 },     { "utf8", BED_ENCODING_UTF_8 },
  { "utf-16", BED_ENCODING_UTF_16LE },     { "utf16", BED_ENCODING_UTF_16LE },
  { "utf16le", BED_ENCODING_UTF_16LE },    { "utf16be", BED_ENCODING_UTF_16BE },
  { "cp1252", BED_ENCODING_WINDOWS_1252 }, { "latin1", BED_ENCODING_LATIN_1 },
  { "iso-8859-1", BED_ENCODING_LATIN_1 },
};

BedEncoding
bed_encoding_from_name (const char *name)
{
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    if (g_ascii_strcasecmp (name, names[i].name) == 0)
      return names[i].encoding;
  return BED_ENCODING_FOUND;
}

const char *
bed_encoding_get_name (BedEncoding encoding)
{
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    if (names[i].encoding == encoding)
      return names[i].name;
  return "";
}

/* --- which it is ------------------------------------------------------------------ */

typedef struct
{
  guint64 size, zeros[2]; /* NUL bytes at even and odd places */
  guint64 wide;           /* letters of UTF-8 beyond ASCII */
  guint64 broken;         /* bytes that are none of it */
  gboolean unassigned;    /* one that Windows-1252 has no letter for */
} Tally;

static void
tally_utf8 (Tally *tally, const char *at, const char *end)
{
  while (at < end)
    {
      if ((guchar) *at < 0x80)
        {
          at++;
          continue;
        }
      gunichar c = g_utf8_get_char_validated (at, end - at);
      gboolean whole = c != (gunichar) -1 && c != (gunichar) -2;
      tally->wide += whole;
      tally->broken += !whole;
      tally->unassigned |= !whole && (guchar) *at < 0xa0 && windows[(guchar) *at - 0x80] == 0;
      at += whole ? g_unichar_to_utf8 (c, NULL) : 1;
    }
}

/* Bytes at the end that begin a letter and do not end it. */
static gsize
unfinished (const char *bytes, gsize n)
{
  for (gsize back = 1; back <= MIN (n, 3); back++)
    {
      guchar c = bytes[n - back];
      gsize whole = c >= 0xf0 ? 4 : c >= 0xe0 ? 3 : c >= 0xc0 ? 2 : 1;
      if (c < 0x80 || c >= 0xc0)
        return whole > back ? back : 0;
    }
  return 0;
}

static void
look_through (BedSource *source, Tally *tally)
{
  g_autofree char *block = g_malloc (BLOCK);
  gssize n;

  while ((n = bed_source_read (source, tally->size, block, BLOCK)) > 0)
    {
      /* What is cut at the end of a block is read again with the next. */
      gsize cut = n == BLOCK ? unfinished (block, n) : 0;
      n -= cut;
      tally_utf8 (tally, block, block + n);
      for (const char *zero = block; (zero = memchr (zero, 0, block + n - zero)); zero++)
        tally->zeros[(tally->size + (zero - block)) % 2]++;
      tally->size += n;
    }
}

BedEncoding
bed_decoder_find_mark (BedSource *source)
{
  guchar mark[3] = { 0 };
  gssize n = bed_source_read (source, 0, mark, 3);

  if (n >= 3 && memcmp (mark, "\xef\xbb\xbf", 3) == 0)
    return BED_ENCODING_UTF_8;
  if (n >= 2 && mark[0] == 0xff && mark[1] == 0xfe)
    return BED_ENCODING_UTF_16LE;
  if (n >= 2 && mark[0] == 0xfe && mark[1] == 0xff)
    return BED_ENCODING_UTF_16BE;
  return BED_ENCODING_FOUND;
}

/* Without a mark: UTF-16 of Latin letters is every second byte NUL. One strange byte in a hundred
 * letters of UTF-8 is damage, which is told, and not another encoding. */
BedEncoding
bed_decoder_find_encoding (BedSource *source, BedSure *sure)
{
  BedEncoding mark = bed_decoder_find_mark (source);
  Tally tally = { 0 };

  *sure = BED_SURE_TOLD;
  if (mark)
    return mark;
  look_through (source, &tally);
  *sure = BED_SURE_CHECKED;
  if (tally.zeros[1] > tally.size / 5 && tally.zeros[0] < tally.zeros[1] / 10)
    return BED_ENCODING_UTF_16LE;
  if (tally.zeros[0] > tally.size / 5 && tally.zeros[1] < tally.zeros[0] / 10)
    return BED_ENCODING_UTF_16BE;
  if (tally.broken == 0)
    return BED_ENCODING_UTF_8;
  *sure = BED_SURE_GUESSED;
  if (tally.wide > tally.broken * 4)
    return BED_ENCODING_UTF_8;
  return tally.unassigned ? BED_ENCODING_LATIN_1 : BED_ENCODING_WINDOWS_1252;
}

/* --- a block at a time -------------------------------------------------------------- */

void
bed_decoder_init (BedDecoder *self, BedSource *source, BedEncoding encoding)
{
  *self = (BedDecoder){ .source = source, .encoding = encoding, .text = g_string_new (NULL) };
  if (bed_decoder_find_mark (source) == encoding)
    self->at = encoding == BED_ENCODING_UTF_8 ? 3 : 2;
}

void
bed_decoder_clear (BedDecoder *self)
{
  g_string_free (self->text, TRUE);
}

static gsize
decode_utf8 (BedDecoder *self, const char *bytes, gsize n)
{
  gsize cut = self->ended ? 0 : unfinished (bytes, n);
  const char *end;

  self->broken = !g_utf8_validate_len (bytes, n - cut, &end);
  g_string_append_len (self->text, bytes, end - bytes);
  return n - cut;
}

static gsize
decode_utf16 (BedDecoder *self, const char *bytes, gsize n)
{
  const guchar *at = (const guchar *) bytes, *end = at + n;
  int high = self->encoding == BED_ENCODING_UTF_16BE ? 0 : 1;

  while (end - at >= 2 && !self->broken)
    {
      gunichar c = at[high] << 8 | at[1 - high];
      gboolean first = c >= 0xd800 && c < 0xdc00;
      if (first && end - at < 4)
        break;
      gunichar second = first ? at[2 + high] << 8 | at[3 - high] : 0;
      if (first && second >= 0xdc00 && second < 0xe000)
        c = 0x10000 + ((c - 0xd800) << 10) + (second - 0xdc00);
      if ((self->broken = c == 0 || (c >= 0xd800 && c < 0xe000)))
        break;
      g_string_append_unichar (self->text, c);
      at += first ? 4 : 2;
    }
  self->broken |= self->ended && at < end;
  return at - (const guchar *) bytes;
}

static gsize
decode_bytes (BedDecoder *self, const char *bytes, gsize n)
{
  gboolean is_windows = self->encoding == BED_ENCODING_WINDOWS_1252;

  for (gsize i = 0; i < n; i++)
    {
      guchar c = bytes[i];
      gunichar letter = is_windows && c >= 0x80 && c < 0xa0 ? windows[c - 0x80] : c;
      if ((self->broken = letter == 0))
        break;
      if (letter < 0x80)
        g_string_append_c (self->text, letter);
      else
        g_string_append_unichar (self->text, letter);
    }
  return n;
}

void
bed_decoder_more (BedDecoder *self)
{
  char block[BLOCK];
  gssize n = bed_source_read (self->source, self->at, block, BLOCK);

  self->failed = n < 0;
  self->ended = n < 0 || self->at + n >= bed_source_get_size (self->source) || n == 0;
  if (n <= 0)
    return;
  if (self->encoding == BED_ENCODING_UTF_8)
    self->at += decode_utf8 (self, block, n);
  else if (self->encoding == BED_ENCODING_UTF_16LE || self->encoding == BED_ENCODING_UTF_16BE)
    self->at += decode_utf16 (self, block, n);
  else
    self->at += decode_bytes (self, block, n);
  self->ended |= self->broken;
}
