#include "report/book.h"

#include "model/farm/functions.h"
#include "model/farm/query.h"
#include "model/season/outlook.h"
#include "report/kept.h"
#include "science/units.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* Everywhere at hand, or a font of the same widths is. */
#define FONT "Arial"
#define INK 0x2E2A25
#define EARTH 0x5A4632
#define DIM 0x857B6E
#define RULE 0xD9D2C5
#define HEAD_FILL 0xEAE4D8
#define INPUT_FILL 0xFFF7D6

#define MOST_WHOLE 9e15 /* a double holds whole numbers up to it */

/* How many times money, mass, time, length and hundredths go into a value: the
 * factor from what is stored to what is shown, and the unit in the head. */
typedef struct
{
  const char *number; /* number format; N stands for a number with so many decimals: */
  int decimals;       /* of what is reckoned; of money the currency's */
  gint8 money, mass, time, length, percent;
  const char *per;  /* N_(), further unit below the line */
  const char *unit; /* N_(), instead of the one that follows from the above */
} Dimension;

#define OR_DASH "N;-N;\u2013"
#define RED_BELOW_NOUGHT "N;[Red]-N;\u2013"

static const Dimension dimensions[BED_N_CELLS] = {
  [BED_BOOK_CELL_TEXT] = { "@" },
  [BED_BOOK_CELL_DATE] = { "d mmm yyyy" }, /* in this order, or the farm's country's */
  [BED_BOOK_CELL_MOMENT] = { "d mmm yyyy hh:mm" },
  [BED_BOOK_CELL_COUNT] = { OR_DASH },
  [BED_BOOK_CELL_YEAR] = { "0" },
  [BED_BOOK_CELL_NUMBER] = { "N", 2 },
  [BED_BOOK_CELL_PERCENT] = { "N%", 1, .percent = 1 },
  [BED_BOOK_CELL_MASS] = { OR_DASH, 2, .mass = 1 },
  [BED_BOOK_CELL_LENGTH] = { "N", 1, .length = 1 },
  [BED_BOOK_CELL_HOURS] = { "N", 2, .time = 1 },
  [BED_BOOK_CELL_MONEY] = { RED_BELOW_NOUGHT, .money = 1 },
  [BED_BOOK_CELL_MONEY_PER_HOUR] = { RED_BELOW_NOUGHT, .money = 1, .per = "h" },
  [BED_BOOK_CELL_MONEY_PER_MASS] = { RED_BELOW_NOUGHT, .money = 1, .mass = -1 },
  [BED_BOOK_CELL_MASS_PER_LOG] = { "N", 2, .mass = 1, .per = N_ ("log") },
  [BED_BOOK_CELL_MONEY_PER_LOG] = { RED_BELOW_NOUGHT, .money = 1, .per = N_ ("log") },
  [BED_BOOK_CELL_MASS_PER_HOUR] = { "N", 2, .mass = 1, .time = -1 },
  [BED_BOOK_CELL_LOGS_PER_HOUR] = { "N", 1, .time = -1, .unit = N_ ("logs/h") },
  [BED_BOOK_CELL_HOURS_PER_MASS] = { "N", 2, .time = 1, .mass = -1 },
};

/* Helpers */

static void
set_sides (lxw_format *format, BedBookCell cell)
{
  format_set_font_name (format, FONT);
  format_set_font_size (format, 9);
  format_set_font_color (format, INK);
  format_set_align (format, LXW_ALIGN_VERTICAL_CENTER);
  if (bed_cell_is_text (cell))
    {
      format_set_indent (format, 1);
      format_set_text_wrap (format);
    }
  else
    format_set_align (format, LXW_ALIGN_RIGHT);
}

static void
set_style (lxw_format *format, BedStyle style)
{
  format_set_bottom_color (format, RULE);
  switch (style)
    {
    case BED_STYLE_BODY:
    case BED_STYLE_FIGURE:
      format_set_bottom (format, LXW_BORDER_HAIR);
      break;
    case BED_STYLE_TOTAL:
    case BED_STYLE_STRONG:
      format_set_bold (format);
      format_set_top (format, LXW_BORDER_THIN);
      format_set_top_color (format, EARTH);
      break;
    case BED_STYLE_INPUT:
      format_set_bg_color (format, INPUT_FILL);
      format_set_border (format, LXW_BORDER_HAIR);
      format_set_border_color (format, DIM);
      break;
    case BED_STYLE_WORKING:
      format_set_font_color (format, DIM);
      break;
    case BED_N_STYLES:
    default:
      g_assert_not_reached ();
    }
}

/* The day stands where the farm's country has it; the month is a word, so that nobody can mistake
 * one for the other. */
static const char *
pattern_of (BedBook *book, BedBookCell cell)
{
  if (book->american && cell == BED_BOOK_CELL_DATE)
    return "mmm d, yyyy";
  if (book->american && cell == BED_BOOK_CELL_MOMENT)
    return "mmm d, yyyy hh:mm";
  return dimensions[cell].number;
}

static char *
dup_number_format (const char *pattern, int decimals)
{
  g_autofree char *zeros = g_strnfill (decimals, '0');
  g_autofree char *number = g_strconcat ("#,##0", decimals ? "." : "", zeros, NULL);
  g_auto (GStrv) parts = g_strsplit (pattern, "N", -1);

  return g_strjoinv (number, parts);
}

/* Columns are as wide as so many digits of the workbook's own font, which is that of the cells
 * nobody gave a look. libxlsxwriter reckons with digits of seven pixels, and so do the widths here:
 * Arial's of ten points are. */
static void
set_widths (BedBook *book)
{
  lxw_format *usual = STAILQ_FIRST (book->workbook->formats);

  format_set_font_name (usual, FONT);
  format_set_font_size (usual, 10);
}

static lxw_format *
new_look (BedBook *book, double size, guint32 colour)
{
  lxw_format *look = workbook_add_format (book->workbook);

  format_set_font_name (look, FONT);
  format_set_font_size (look, size);
  format_set_font_color (look, colour);
  format_set_align (look, LXW_ALIGN_VERTICAL_CENTER);
  format_set_indent (look, 1);
  return look;
}

static void
make_head (BedBook *book, BedLook which, guint8 align)
{
  lxw_format *look = book->looks[which] = new_look (book, 9, EARTH);

  format_set_bold (look);
  format_set_text_wrap (look);
  format_set_align (look, align);
  /* On both sides: a number's head ends where the next text's head begins. */
  format_set_indent (look, 1);
  format_set_align (look, LXW_ALIGN_VERTICAL_BOTTOM);
  format_set_bg_color (look, HEAD_FILL);
  format_set_bottom (look, LXW_BORDER_THIN);
  format_set_bottom_color (look, EARTH);
}

static void
make_looks (BedBook *book)
{
  book->looks[BED_LOOK_TITLE] = new_look (book, 16, EARTH);
  format_set_bold (book->looks[BED_LOOK_TITLE]);
  format_set_text_wrap (book->looks[BED_LOOK_TITLE]);
  book->looks[BED_LOOK_QUESTION] = new_look (book, 9, DIM);
  format_set_text_wrap (book->looks[BED_LOOK_QUESTION]);
  book->looks[BED_LOOK_HEADING] = new_look (book, 11, EARTH);
  format_set_bold (book->looks[BED_LOOK_HEADING]);
  make_head (book, BED_LOOK_HEAD, LXW_ALIGN_LEFT);
  make_head (book, BED_LOOK_HEAD_RIGHT, LXW_ALIGN_RIGHT);
  book->looks[BED_LOOK_LABEL] = new_look (book, 9, INK);
  format_set_bottom (book->looks[BED_LOOK_LABEL], LXW_BORDER_HAIR);
  format_set_bottom_color (book->looks[BED_LOOK_LABEL], RULE);
  book->looks[BED_LOOK_LABEL_STRONG] = new_look (book, 9, INK);
  format_set_bold (book->looks[BED_LOOK_LABEL_STRONG]);
  format_set_top (book->looks[BED_LOOK_LABEL_STRONG], LXW_BORDER_THIN);
  format_set_top_color (book->looks[BED_LOOK_LABEL_STRONG], EARTH);
  book->looks[BED_LOOK_UNIT] = new_look (book, 8, DIM);
  book->looks[BED_LOOK_NOTE] = new_look (book, 9, INK);
  format_set_text_wrap (book->looks[BED_LOOK_NOTE]);
  format_set_align (book->looks[BED_LOOK_NOTE], LXW_ALIGN_VERTICAL_TOP);
}

static char *
dup_unit (const Dimension *d, BedSystem system, const char *currency)
{
  const char *above = d->money > 0    ? currency
                      : d->mass > 0   ? bed_measure_unit (BED_MEASURE_MASS, system)
                      : d->length > 0 ? bed_measure_unit (BED_MEASURE_LENGTH, system)
                      : d->time > 0   ? "h"
                                      : "";
  const char *below = d->mass < 0   ? bed_measure_unit (BED_MEASURE_MASS, system)
                      : d->time < 0 ? "h"
                      : d->per      ? _ (d->per)
                                    : NULL;

  if (d->unit)
    return g_strdup (_ (d->unit));
  return below ? g_strdup_printf ("%s/%s", above, below) : g_strdup (above);
}

static void
make_units (BedBook *book)
{
  const BedNotation *notation = bed_farm_get_notation (book->farm);
  const char *currency = bed_record_get_text (bed_farm_get_settings (book->farm), "currency");
  /* So many of what is stored are one of what is shown. */
  double money = bed_book_minor_units (book);
  double mass = notation->system == BED_SYSTEM_US ? 453592.37 : 1e6;
  double length = notation->system == BED_SYSTEM_US ? 25400 : 10000;

  for (BedBookCell cell = 0; cell < BED_N_CELLS; cell++)
    {
      const Dimension *d = &dimensions[cell];
      g_autofree char *unit = dup_unit (d, notation->system, currency);

      book->factors[cell] = pow (money, d->money) * pow (mass, d->mass) * pow (60, d->time)
                            * pow (length, d->length) * pow (10000, d->percent);
      book->units[cell] = g_intern_string (unit);
    }
}

/* Farm time is written as if it were UTC: properties carry a zone, farms do not. */
static time_t
parse_moment (const char *moment)
{
  g_autoptr (GTimeZone) utc = g_time_zone_new_utc ();
  g_autofree char *text = g_strconcat (moment, ":00", NULL);
  g_autoptr (GDateTime) at = g_date_time_new_from_iso8601 (text, utc);

  return at ? g_date_time_to_unix (at) : 0;
}

static void
set_properties (BedBook *book)
{
  g_autofree char *season = bed_season_dup_name (book->farm, book->plan->season);
  g_autofree char *title = g_strdup_printf (_ ("Season %s"), season);
  const char *farm = bed_record_get_text (bed_farm_get_settings (book->farm), "name");
  g_autofree char *whole = g_strdup_printf ("%s, %s", farm, title);
  lxw_doc_properties properties = {
    .title = whole,
    .subject = (char *) _ ("Season workbook of a log farm"),
    .company = (char *) farm,
    .comments = (char *) _ ("Written by Bedlog. Totals are live formulas."),
    .created = parse_moment (bed_farm_get_now (book->farm)),
  };

  bed_book_check (book, workbook_set_properties (book->workbook, &properties));
}

/* What the progress is counted in. */
static gint64
count_rows (BedBook *book)
{
  return bed_book_ask (book,
                       "SELECT (SELECT count (*) FROM log) + (SELECT count (*) FROM pick"
                       " WHERE picked_on >= ?1 AND picked_on < ?2) + 100",
                       BED_BOOK_CELL_TEXT);
}

/* In constant memory rows go to a file of each sheet's own, and libxlsxwriter does
 * not look whether they got there: a full disk would make a short sheet. */
static void
check_rows (BedBook *book)
{
  lxw_worksheet *worksheet;

  STAILQ_FOREACH (worksheet, book->workbook->worksheets, list_pointers)
  {
    FILE *rows = worksheet->optimize_tmpfile;

    errno = 0;
    if (rows && (fflush (rows) != 0 || ferror (rows)))
      bed_book_check (book, LXW_ERROR_CREATING_TMPFILE);
  }
}

/* Public */

void
bed_book_begin (BedBook *book, BedFarm *farm, const BedWorkbookPlan *plan, const char *path)
{
  lxw_workbook_options options = { .constant_memory = LXW_TRUE };

  *book = (BedBook){ .farm = farm, .plan = plan };
  book->first = bed_season_first (farm, plan->season);
  book->end = bed_season_first (farm, plan->season + 1);
  book->sums = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  /* Known before its cell is written. */
  g_hash_table_insert (
      book->sums, g_strdup ("Season"),
      g_memdup2 (&(BedSums){ .sum = plan->season, .most = plan->season }, sizeof (BedSums)));
  book->ranges = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  book->kept
      = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) bed_kept_free);
  book->strings = g_string_chunk_new (4096);
  book->american = bed_farm_get_notation (farm)->system == BED_SYSTEM_US;
  book->workbook = workbook_new_opt (path, &options);
  if (!book->workbook)
    {
      g_set_error (&book->error, G_IO_ERROR, G_IO_ERROR_FAILED, _ ("No workbook could be begun."));
      return;
    }
  if (!bed_outlook_read (farm, plan->season, &book->error))
    return;
  set_widths (book);
  make_units (book);
  make_looks (book);
  set_properties (book);
  book->rows_all = count_rows (book);
}

gboolean
bed_book_end (BedBook *book, GError **error)
{
  if (book->workbook && !book->error)
    check_rows (book);
  if (book->workbook && !book->error)
    bed_book_check (book, workbook_close (book->workbook));
  else if (book->workbook)
    lxw_workbook_free (book->workbook);
  g_clear_pointer (&book->sums, g_hash_table_unref);
  g_clear_pointer (&book->ranges, g_hash_table_unref);
  g_clear_pointer (&book->kept, g_hash_table_unref);
  g_clear_pointer (&book->strings, g_string_chunk_free);
  g_clear_pointer (&book->first, g_free);
  g_clear_pointer (&book->end, g_free);
  if (!book->error)
    return TRUE;
  g_propagate_error (error, g_steal_pointer (&book->error));
  return FALSE;
}

gboolean
bed_book_check (BedBook *book, lxw_error code)
{
  /* The codes below this one are about the file, and errno says what about it. */
  gboolean file = code != LXW_NO_ERROR && code < LXW_ERROR_FEATURE_NOT_SUPPORTED;
  int saved = errno;

  if (code != LXW_NO_ERROR && !book->error)
    g_set_error (&book->error, G_IO_ERROR,
                 file && saved ? (int) g_io_error_from_errno (saved) : G_IO_ERROR_FAILED,
                 _ ("The workbook could not be written: %s"),
                 file && saved ? g_strerror (saved) : lxw_strerror (code));
  return book->error == NULL;
}

lxw_format *
bed_book_format (BedBook *book, BedBookCell cell, BedStyle style, int decimals)
{
  const Dimension *d = &dimensions[cell];
  int usual = d->money > 0 ? bed_farm_get_notation (book->farm)->money_decimals : d->decimals;
  int n = CLAMP (decimals < 0 ? usual : decimals, 0, BED_BOOK_MOST_DECIMALS);
  lxw_format **format = &book->formats[cell][style][n];
  g_autofree char *number = NULL;

  if (*format)
    return *format;
  *format = workbook_add_format (book->workbook);
  number = dup_number_format (pattern_of (book, cell), n);
  set_sides (*format, cell);
  set_style (*format, style);
  format_set_num_format (*format, number);
  return *format;
}

double
bed_book_said (BedBook *book, BedBookCell cell, double stored, int *decimals)
{
  static const BedMeasure measures[BED_N_CELLS] = {
    [BED_BOOK_CELL_MASS] = BED_MEASURE_MASS,
    [BED_BOOK_CELL_LENGTH] = BED_MEASURE_LENGTH,
    [BED_BOOK_CELL_PERCENT] = BED_MEASURE_PERCENT,
  };
  double said = stored / book->factors[cell];

  *decimals = BED_BOOK_USUAL;
  if (measures[cell] == 0 || stored != nearbyint (stored) || fabs (stored) >= MOST_WHOLE)
    return said;
  double number = bed_measure_to_said (measures[cell], bed_farm_get_notation (book->farm),
                                       (gint64) stored, decimals);
  return cell == BED_BOOK_CELL_PERCENT ? said : number;
}

void
bed_book_tell (BedBook *book, const char *doing)
{
  const BedWorkbookPlan *plan = book->plan;

  if (book->error)
    return;
  book->doing = doing;
  if (plan->progress)
    plan->progress (MIN (1.0, book->rows_done / (double) book->rows_all), doing,
                    plan->progress_data);
  g_cancellable_set_error_if_cancelled (plan->cancellable, &book->error);
}

void
bed_book_tick (BedBook *book)
{
  if (++book->rows_done % 256 == 0)
    bed_book_tell (book, book->doing);
}

void
bed_book_name (BedBook *book, const BedCells *cells, const BedSums *sums)
{
  g_autofree char *name = cells->key ? g_strdup_printf ("%s_%s", cells->key, cells->name)
                                     : g_strdup (cells->name);
  char from[LXW_MAX_CELL_NAME_LENGTH], to[LXW_MAX_CELL_NAME_LENGTH];

  lxw_rowcol_to_cell_abs (from, cells->row, cells->column, LXW_TRUE, LXW_TRUE);
  lxw_rowcol_to_cell_abs (to, cells->last, cells->column, LXW_TRUE, LXW_TRUE);
  char *range = cells->row == cells->last ? g_strdup_printf ("='%s'!%s", cells->sheet, from)
                                          : g_strdup_printf ("='%s'!%s:%s", cells->sheet, from, to);
  bed_book_check (book, workbook_define_name (book->workbook, name, range));
  g_hash_table_replace (book->ranges, g_strdup (name), range);
  g_hash_table_replace (book->sums, g_strdup (name), g_memdup2 (sums, sizeof *sums));
}

BedQuery *
bed_book_query (BedBook *book, const char *sql)
{
  BedQuery *q = bed_query_new (book->farm, sql);

  if (strstr (sql, "?1"))
    bed_query_bind_text (q, 1, book->first);
  if (strstr (sql, "?2"))
    bed_query_bind_text (q, 2, book->end);
  if (strstr (sql, "?3"))
    bed_query_bind_int (q, 3, book->plan->season);
  return q;
}

double
bed_book_ask (BedBook *book, const char *sql, BedBookCell cell)
{
  g_autoptr (BedQuery) q = bed_book_query (book, sql);
  double value = NAN;

  if (bed_query_next (q) && !bed_query_is_null (q, 0))
    value = bed_query_real (q, 0) / book->factors[cell];
  return bed_query_finish (q, book->error ? NULL : &book->error) ? value : NAN;
}

const char *
bed_book_word (BedBook *book, const char *text)
{
  static const char *const spellings[][2] = { { "abour", "abor" },  { "olour", "olor" },
                                              { "mould", "mold" },  { "litre", "liter" },
                                              { "metre", "meter" }, { "grey", "gray" } };
  const char *word = _ (text);

  /* Translated, it is no English. */
  if (!book->american || word != text)
    return word;
  g_autoptr (GString) spelled = g_string_new (word);
  guint n = 0;
  for (guint i = 0; i < G_N_ELEMENTS (spellings); i++)
    n += g_string_replace (spelled, spellings[i][0], spellings[i][1], 0);
  return n ? g_string_chunk_insert_const (book->strings, spelled->str) : word;
}

gboolean
bed_book_is_taxed (BedBook *book)
{
  return g_strcmp0 (bed_record_get_text (bed_farm_get_settings (book->farm), "tax_reclaimed"), "no")
         == 0;
}

gint64
bed_book_minor_units (BedBook *book)
{
  gint64 units = 1;

  for (int i = 0; i < bed_farm_get_notation (book->farm)->money_decimals; i++)
    units *= 10;
  return units;
}
