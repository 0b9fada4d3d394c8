#include "report/pen.h"

#include "model/farm/functions.h"
#include "model/farm/habits.h"
#include "report/page_text.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#define FOOT_FONT "Arial,Regular"
#define WIDTH_LABEL 40
#define WIDTH_VALUE 15
#define WIDTH_UNIT 10
#define WIDTH_OTHER 9      /* of a column nobody set */
#define WIDTH_NOTES 76     /* of a sheet of notes alone */
#define WIDTH_PORTRAIT 138 /* characters that still read well on an upright page */
#define WIDTH_LANDSCAPE 215

enum
{
  PAPER_LETTER = 1,
  PAPER_A4 = 9
};

/* How the columns lie on paper. */
typedef struct
{
  int widths[64]; /* characters, 0 where nobody set one */
  lxw_col_t used; /* up to the first working step */
} Layout;

/* Helpers */

/* What each figure of a season is, as the table of figures has it. */
static void
write_sentences (BedPen *pen)
{
  for (BedFigureId id = 0; id < BED_N_FIGURES; id++)
    {
      const BedFigure *figure = bed_figure_get (id);
      g_autofree char *note = g_strdup_printf ("%s: %s", bed_book_word (pen->book, figure->label),
                                               bed_book_word (pen->book, figure->sentence));

      if (figure->scope == BED_FIGURE_OF_SEASON)
        bed_pen_across (pen, note, BED_LOOK_NOTE);
    }
}

/* Of the longest label beside a figure. */
static int
get_label_width (const BedPen *pen, const BedBlock *block)
{
  int width = 0;

  for (guint i = 0; i < block->n_figures; i++)
    if (!bed_book_figure_is_heading (&block->figures[i]))
      width = MAX (
          width,
          (int) g_utf8_strlen (bed_book_figure_get_label (pen->book, &block->figures[i]), -1) + 2);
  return MIN (width, WIDTH_LABEL);
}

static void
add_widths (const BedPen *pen, const BedBlock *block, Layout *layout)
{
  const int figures[] = { get_label_width (pen, block), WIDTH_VALUE, WIDTH_UNIT };
  gboolean noted = FALSE;

  for (guint i = 0; i < block->n_columns; i++)
    {
      layout->widths[i]
          = MAX (layout->widths[i], bed_book_column_width (pen->book, &block->columns[i]));
      if (block->columns[i].style != BED_STYLE_WORKING)
        layout->used = MAX (layout->used, i + 1);
    }
  for (guint i = 0; i < block->n_figures; i++)
    noted |= block->figures[i].note || block->figures[i].cell == BED_BOOK_CELL_TEXT;
  for (guint i = 0; block->n_figures && i < G_N_ELEMENTS (figures); i++)
    layout->widths[i] = MAX (layout->widths[i], figures[i]);
  if (block->n_figures)
    layout->used = MAX (layout->used, noted             ? BED_NOTE_COLUMNS
                                      : block->compared ? BED_COLUMN_BEFORE + 1
                                                        : BED_COLUMN_BEFORE);
  if (block->compared)
    layout->widths[BED_COLUMN_BEFORE] = WIDTH_VALUE;
  if (block->notes && pen->sheet->n_blocks == 1)
    layout->widths[0] = WIDTH_NOTES;
}

static void
set_widths (BedPen *pen)
{
  Layout layout = { .used = 1 };

  for (guint b = 0; b < pen->sheet->n_blocks; b++)
    add_widths (pen, &pen->sheet->blocks[b], &layout);
  for (guint i = 0; i < G_N_ELEMENTS (layout.widths); i++)
    {
      int width = layout.widths[i];

      if (width)
        bed_book_check (pen->book, worksheet_set_column (pen->worksheet, i, i, width, NULL));
      pen->width += i < layout.used ? MAX (width, WIDTH_OTHER) : 0;
    }
  pen->used = layout.used;
  if (pen->width > WIDTH_PORTRAIT)
    worksheet_set_landscape (pen->worksheet);
  /* Of a list that is not printed the totals are, on one page. */
  pen->two_wide = pen->width > WIDTH_LANDSCAPE && bed_pen_prints (pen, 0);
}

static void
set_page (BedPen *pen)
{
  BedBook *book = pen->book;
  const char *farm = bed_record_get_text (bed_farm_get_settings (book->farm), "name");
  g_autofree char *name = bed_season_dup_name (book->farm, book->plan->season);
  g_autofree char *season = g_strdup_printf (_ (", season %s"), name);
  g_autoptr (GString) footer = g_string_new (NULL);
  BedSystem system = bed_farm_get_notation (book->farm)->system;

  bed_page_text_append (footer, &(BedPageText){ "&L", FOOT_FONT, 9 }, farm);
  bed_page_text_append (footer, &(BedPageText){ "", FOOT_FONT, 9 }, season);
  g_string_append (footer, "&C&9&A&R&9&P / &N");
  worksheet_set_paper (pen->worksheet, bed_habits_has_letter (system) ? PAPER_LETTER : PAPER_A4);
  worksheet_set_margins (pen->worksheet, 0.5, 0.5, 0.5, 0.7);
  worksheet_fit_to_pages (pen->worksheet, 1, 0);
  worksheet_center_horizontally (pen->worksheet);
  worksheet_set_default_row (pen->worksheet, BED_ROW_HEIGHT, LXW_FALSE);
  worksheet_gridlines (pen->worksheet, LXW_HIDE_ALL_GRIDLINES);
  bed_book_check (book, worksheet_set_footer (pen->worksheet, footer->str));
}

/* Two pages side by side: the first column and the heads on each, and the title above
 * both, since in a cell it would end where the repeated column ends. */
static void
set_two_wide (BedPen *pen)
{
  g_autoptr (GString) header = g_string_new (NULL);

  bed_page_text_append (header, &(BedPageText){ "&L", "Arial,Bold", 14 }, _ (pen->sheet->name));
  worksheet_fit_to_pages (pen->worksheet, 2, 0);
  pen->print_from = BED_FIRST_BLOCK_ROW;
  worksheet_set_margins (pen->worksheet, 0.5, 0.5, 0.8, 0.7);
  bed_book_check (pen->book, worksheet_repeat_columns (pen->worksheet, 0, 0));
  bed_book_check (pen->book, worksheet_set_header (pen->worksheet, header->str));
}

static void
write_top (BedPen *pen)
{
  BedBook *book = pen->book;
  const char *farm = bed_record_get_text (bed_farm_get_settings (book->farm), "name");
  g_autofree char *season = bed_season_dup_name (book->farm, book->plan->season);
  g_autofree char *title = g_strdup_printf ("%s · %s %s", _ (pen->sheet->name), farm, season);

  bed_pen_across (pen, title, BED_LOOK_TITLE);
  bed_pen_across (pen, bed_book_word (book, pen->sheet->question), BED_LOOK_QUESTION);
  pen->row = BED_FIRST_BLOCK_ROW;
}

static void
draw_chart (BedPen *pen)
{
  BedBookChart chart = *pen->sheet->chart;

  chart.row = pen->row + 1;
  if (!pen->book->error)
    bed_book_chart_draw (pen->book, pen->worksheet, &chart);
  pen->row += pen->sheet->chart_rows;
}

/* Public */

void
bed_book_sheet_write (BedBook *book, lxw_worksheet *worksheet, const BedBookSheet *sheet)
{
  BedPen pen = { .book = book, .worksheet = worksheet, .sheet = sheet };

  bed_book_tell (book, _ (sheet->name));
  if (book->error)
    return;
  set_page (&pen);
  set_widths (&pen);
  if (pen.two_wide)
    set_two_wide (&pen);
  write_top (&pen);
  for (guint b = 0; b < sheet->n_blocks && !book->error; b++)
    {
      const BedBlock *block = &sheet->blocks[b];

      if (b > 0)
        pen.row++;
      if (block->heading)
        {
          bed_pen_text (&pen, 0, bed_book_word (book, block->heading),
                        book->looks[BED_LOOK_HEADING]);
          pen.row++;
        }
      if (block->columns)
        bed_pen_table (&pen, block);
      if (block->compared)
        bed_pen_seasons (&pen);
      for (guint i = 0; i < block->n_figures && !book->error; i++)
        {
          if (i > 0 && bed_book_figure_is_heading (&block->figures[i]))
            pen.row++;
          bed_pen_figure (&pen, &block->figures[i]);
        }
      for (const char *const *note = block->notes; note && *note; note++)
        bed_pen_across (&pen, bed_book_word (book, *note), BED_LOOK_NOTE);
      if (block->sentences)
        write_sentences (&pen);
    }
  if (sheet->one_page)
    worksheet_fit_to_pages (worksheet, 1, 1);
  if (sheet->chart)
    draw_chart (&pen);
  if (sheet->draw && !book->error)
    sheet->draw (book, worksheet, pen.row);
  else
    bed_book_check (book,
                    worksheet_print_area (worksheet, pen.print_from, 0, pen.row - 1, pen.used - 1));
}
