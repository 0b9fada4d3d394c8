#pragma once

#include "model/farm/query.h"
#include "model/season/figures.h"
#include "report/book_cell.h"
#include "report/workbook_plan.h"
#include <xlsxwriter.h>

/* A workbook being written: formats, units, names, and the first thing that
 * went wrong. Everything inside src/report writes through it; once something
 * went wrong, every call is silent and does nothing more. */

typedef enum
{
  BED_STYLE_BODY,
  BED_STYLE_TOTAL,
  BED_STYLE_FIGURE,  /* a value beside its label */
  BED_STYLE_STRONG,  /* the same, a bottom line */
  BED_STYLE_INPUT,   /* a value the reader is asked to try others in */
  BED_STYLE_WORKING, /* a step of a calculation, dim */
  BED_N_STYLES
} BedStyle;

typedef enum
{
  BED_LOOK_TITLE,
  BED_LOOK_QUESTION,
  BED_LOOK_HEADING,
  BED_LOOK_HEAD,       /* of a column of text */
  BED_LOOK_HEAD_RIGHT, /* of a column of numbers */
  BED_LOOK_LABEL,
  BED_LOOK_LABEL_STRONG,
  BED_LOOK_UNIT,
  BED_LOOK_NOTE,
  BED_N_LOOKS
} BedLook;

#define BED_BOOK_USUAL (-1) /* decimals: those of what is reckoned */
#define BED_BOOK_MOST_DECIMALS 5

/* What is known of a name: of a column of cells, or of a single figure. */
typedef struct
{
  double sum;
  double most;
  double count; /* cells with a number */
} BedSums;

typedef struct
{
  BedFarm *farm;
  const BedWorkbookPlan *plan;
  char *first; /* first day of the season, YYYY-MM-DD */
  char *end;   /* the day after its last */
  lxw_workbook *workbook;
  lxw_format *formats[BED_N_CELLS][BED_N_STYLES][BED_BOOK_MOST_DECIMALS + 1]; /* as asked for */
  lxw_format *looks[BED_N_LOOKS];
  double factors[BED_N_CELLS];
  const char *units[BED_N_CELLS]; /* "kg", "USD/kg"; "" where there is none */
  GHashTable *sums;               /* name -> BedSums */
  GHashTable *ranges;             /* name -> "=Picks!$F$5:$F$9" */
  GHashTable *kept;               /* name -> BedKept, report/kept.h */
  gboolean american;              /* English is spelled so, and the month stands first */
  GStringChunk *strings;
  const char *doing;
  gint64 rows_done;
  gint64 rows_all;
  GError *error;
} BedBook;

/* @path is where to write, not the plan's: the caller renames. */
void bed_book_begin (BedBook *book, BedFarm *farm, const BedWorkbookPlan *plan, const char *path);

/* Writes the file unless something went wrong; frees what the book holds. */
gboolean bed_book_end (BedBook *book, GError **error);

/* The look of a cell whose number is shown with @decimals, or BED_BOOK_USUAL. */
lxw_format *bed_book_format (BedBook *book, BedBookCell cell, BedStyle style, int decimals);

/* What is stored as the number of a cell that holds a typed value, and in @decimals those it was
 * typed with (science/units.h): 11 lb, not the 10.9999998 of whole milligrams; parts of a whole are
 * not typed and come with the usual ones. Sums of them differ from those of milligrams by less
 * than half a milligram each: tests/report/agree.py. */
double bed_book_said (BedBook *book, BedBookCell cell, double stored, int *decimals);

/* Notes a failure of libxlsxwriter; TRUE when all is well so far. */
gboolean bed_book_check (BedBook *book, lxw_error code);

/* Tells how far it is and what is being done (static or interned text), and
 * looks for a cancel; bed_book_tick() counts a row written and does so now and then. */
void bed_book_tell (BedBook *book, const char *doing);
void bed_book_tick (BedBook *book);

/* Gives cells a name; @count cells down from @row of that sheet and column. */
typedef struct
{
  const char *sheet;
  const char *key;  /* "Picks", or NULL */
  const char *name; /* "mass": the name is Picks_mass */
  lxw_row_t row;
  lxw_row_t last;
  lxw_col_t column;
} BedCells;

void bed_book_name (BedBook *book, const BedCells *cells, const BedSums *sums);

/* A question with the season's days and year bound: ?1 first day, ?2 the day after
 * its last, ?3 its year, each where it is asked for. Owned by the caller. */
BedQuery *bed_book_query (BedBook *book, const char *sql);

/* The answer of a question in @cell's shown unit; NAN for NULL. */
double bed_book_ask (BedBook *book, const char *sql, BedBookCell cell);

/* Our own words (never people's) translated, and spelled as in the farm's country. Borrowed. */
const char *bed_book_word (BedBook *book, const char *text);

/* Whether tax on purchases is a cost, and not reclaimed. */
gboolean bed_book_is_taxed (BedBook *book);

/* Whole units shown: 100 for cents. */
gint64 bed_book_minor_units (BedBook *book);
