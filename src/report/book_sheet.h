#pragma once

#include "report/book_chart.h"

/* A sheet is a table of blocks, a block a table of columns, of figures or of
 * notes. This is the only way cells are written: pen.h. */

typedef enum
{
  BED_TOTAL_NONE,
  BED_TOTAL_SUM,
  BED_TOTAL_SAME, /* the column's expression, over the totals */
} BedTotal;

typedef struct
{
  const char *field; /* "line.use": its label, kind of cell and words are taken; or NULL: */
  const char *title; /* N_(); the unit is added to it; NULL: the field's label */
  BedBookCell cell;
  int width;              /* characters */
  const char *name;       /* its cells are called KEY_name; NULL: they have no name */
  const char *formula;    /* live; the question's value is what it comes to today */
  const char *expression; /* live; takes no column of the question */
  BedTotal total;
  BedStyle style; /* BED_STYLE_WORKING: a step, left out of the print */
} BedBookColumn;

typedef struct
{
  const char *key;   /* of a season's figure in the table of figures, which gives its label and,
                      * with neither formula nor expression, its value; the cell is figure_KEY */
  const char *label; /* N_(); NULL with a key */
  BedBookCell cell;
  const char *name;       /* of the cell, whole; may be NULL */
  const char *formula;    /* live, @sql giving what it comes to today */
  const char *expression; /* live */
  const char *sql;        /* its first value; with neither of the above, the cell's plain value */
  const char *note;       /* N_() or NULL */
  const char *before;     /* its value a season ago, in a block that compares: SQL, or NULL */
  BedStyle style;         /* BED_STYLE_BODY reads as BED_STYLE_FIGURE */
} BedBookFigure;

#define BED_COLUMN_BEFORE 3 /* of the value a season ago */

/* SQL: the share of logs alive at the beginning of that year of life. The table has no row for a
 * year without a loss: the last before it stands. */
#define BED_ALIVE_AT(age)                                                                          \
  "coalesce ((SELECT v.survival FROM log_survival v WHERE v.age < " age                            \
  " ORDER BY v.age DESC LIMIT 1), 1.0)"

/* SQL: dried mushrooms in store before @day, mg. */
#define BED_DRIED_LEFT(day)                                                                        \
  "coalesce ((SELECT sum (dried_mass) FROM drying WHERE dried_on < " day "), 0)"                   \
  " - coalesce ((SELECT sum (n.mass) FROM line n JOIN sale v ON v.id = n.sale"                     \
  " WHERE n.form = 'dried' AND v.sold_on < " day "), 0)"

/* A line between figures. */
#define BED_FIGURE_HEADING(text)                                                                   \
  {                                                                                                \
    .label = text                                                                                  \
  }

typedef struct
{
  const char *heading; /* N_() or NULL */
  const char *key;     /* first half of the names of a table's cells */
  const BedBookColumn *columns;
  guint n_columns;
  /* One column each for the columns without an expression, in order. ?1 first
   * day of the season, ?2 the day after its last, ?3 its year. */
  const char *sql;
  const BedBookFigure *figures;
  guint n_figures;
  gboolean compared;        /* figures have their value a season ago beside them */
  const char *const *notes; /* N_(), a NULL at the end */
  gboolean sentences;       /* of the table of figures, below the notes */
} BedBlock;

typedef struct _BedBookSheet BedBookSheet;
struct _BedBookSheet
{
  const char *name;     /* of the tab, N_(), 31 characters at most */
  const char *question; /* N_(): what the sheet answers */
  const BedBlock *blocks;
  guint n_blocks;
  gboolean one_page; /* when printed; else as many as it is long: then it has one table and no more,
                      * since a program repeats the heads of one on the pages that follow */
  gboolean list;     /* entry by entry: printed when the plan asks for it */
  /* Below the last block, with what room it has in the print; or NULL. Its row is found. */
  const BedBookChart *chart;
  lxw_row_t chart_rows;
  /* Charts and pictures elsewhere; @row is the first free one. It also says what is printed. May be
   * NULL. */
  void (*draw) (BedBook *book, lxw_worksheet *worksheet, lxw_row_t row);
};

#define BED_COLUMN(t, c, w, ...)                                                                   \
  {                                                                                                \
    .title = t, .cell = BED_BOOK_CELL_##c, .width = w, ##__VA_ARGS__                               \
  }
#define BED_COLUMN_OF(f, w, ...)                                                                   \
  {                                                                                                \
    .field = f, .width = w, ##__VA_ARGS__                                                          \
  }
#define BED_FIGURE(l, c, ...)                                                                      \
  {                                                                                                \
    .label = l, .cell = BED_BOOK_CELL_##c, ##__VA_ARGS__                                           \
  }
#define BED_FIGURE_OF(k, c, ...)                                                                   \
  {                                                                                                \
    .key = k, .cell = BED_BOOK_CELL_##c, ##__VA_ARGS__                                             \
  }
#define BED_SUMMED .total = BED_TOTAL_SUM
#define BED_AGAIN .total = BED_TOTAL_SAME
#define BED_WORKING .style = BED_STYLE_WORKING
#define BED_BLOCK_TABLE(k, c, q) .key = k, .columns = c, .n_columns = G_N_ELEMENTS (c), .sql = q
#define BED_BLOCK_FIGURES(f) .figures = f, .n_figures = G_N_ELEMENTS (f)
#define BED_BLOCKS(b) .blocks = b, .n_blocks = G_N_ELEMENTS (b)
#define BED_ONE_TABLE(k, c, q)                                                                     \
  .blocks = &(const BedBlock){ BED_BLOCK_TABLE (k, c, q) }, .n_blocks = 1

/* The sheets, each in the file of its name. */
extern const BedBookSheet bed_sheet_summary;
extern const BedBookSheet bed_sheet_figures;
extern const BedBookSheet bed_sheet_batches;
extern const BedBookSheet bed_sheet_spent;
extern const BedBookSheet bed_sheet_life;
extern const BedBookSheet bed_sheet_comparison;
extern const BedBookSheet bed_sheet_sizes;
extern const BedBookSheet bed_sheet_weeks;
extern const BedBookSheet bed_sheet_picks;
extern const BedBookSheet bed_sheet_lots;
extern const BedBookSheet bed_sheet_sales;
extern const BedBookSheet bed_sheet_purchases;
extern const BedBookSheet bed_sheet_spawn;
extern const BedBookSheet bed_sheet_hours;
extern const BedBookSheet bed_sheet_tasks;
extern const BedBookSheet bed_sheet_equipment;
extern const BedBookSheet bed_sheet_store;
extern const BedBookSheet bed_sheet_stock;
extern const BedBookSheet bed_sheet_costs;
extern const BedBookSheet bed_sheet_pools;
extern const BedBookSheet bed_sheet_budget;
extern const BedBookSheet bed_sheet_level;
extern const BedBookSheet bed_sheet_seasons;
extern const BedBookSheet bed_sheet_months;
extern const BedBookSheet bed_sheet_buyers;
extern const BedBookSheet bed_sheet_batch_life;
extern const BedBookSheet bed_sheet_invest;
extern const BedBookSheet bed_sheet_making;
extern const BedBookSheet bed_sheet_logs;
extern const BedBookSheet bed_sheet_stacks;
extern const BedBookSheet bed_sheet_survival;
extern const BedBookSheet bed_sheet_trace;
extern const BedBookSheet bed_sheet_organic;
extern const BedBookSheet bed_sheet_sources;
extern const BedBookSheet bed_sheet_crop;
extern const BedBookSheet bed_sheet_wood;
extern const BedBookSheet bed_sheet_checks;
extern const BedBookSheet bed_sheet_deliveries;
extern const BedBookSheet bed_sheet_inputs;
extern const BedBookSheet bed_sheet_water;
extern const BedBookSheet bed_sheet_soaks;
extern const BedBookSheet bed_sheet_maps;
extern const BedBookSheet bed_sheet_next;
extern const BedBookSheet bed_sheet_ages;
extern const BedBookSheet bed_sheet_history;
extern const BedBookSheet bed_sheet_coming;
extern const BedBookSheet bed_sheet_notes;
