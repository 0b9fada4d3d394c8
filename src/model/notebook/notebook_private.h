#pragma once

#include "model/farm/record.h"
#include "model/notebook/notebook.h"

/* Between the files of this folder only. */

/* What is looked at before anything is asked, and kept in memory. */
#define BED_NOTEBOOK_FIRST_ROWS 1000
#define BED_NOTEBOOK_FIRST_BYTES (1 << 20)
#define BED_NOTEBOOK_MOST_COLUMNS 200
#define BED_NOTEBOOK_MOST_QUESTIONS 200
#define BED_NOTEBOOK_MOST_ASIDE 200

/* --- words: notebook_words.c ---------------------------------------------------------- */

typedef enum
{
  BED_HEAD_FIELD,
  BED_HEAD_DATE,      /* the date that a row of the kind has */
  BED_HEAD_MONTH,     /* it is a month, by its name or its number */
  BED_HEAD_WEEK_FROM, /* it is the first day of the row's week, or the last */
  BED_HEAD_WEEK_TO,
  BED_HEAD_NOTES, /* its notes */
  BED_HEAD_INCOME,
  BED_HEAD_BALANCE,
  BED_HEAD_YEAR,
  BED_HEAD_TOTAL,
  BED_HEAD_UNIT,
  BED_HEAD_EACH, /* the price of one lb or kg */
} BedHeadSpecial;

typedef struct
{
  BedHeadSpecial special;
  BedKind kind;          /* BED_N_KINDS: of a special one */
  const BedField *field; /* NULL: a word for the kind itself */
} BedHeadMeaning;

/* Element BedHeadMeaning, or NULL for a head that says nothing known. *@unit as it is written in
 * it, or NULL; owned by the caller. */
const GArray *bed_words_read_head (const char *head, char **unit);
/* The same of a head with a word more than is known; a guess. */
const GArray *bed_words_guess_head (const char *head, char **unit);
/* Whether the whole of @text means it. */
gboolean bed_words_is (const char *text, BedHeadSpecial special);
/* What @text means in @group ("month", "unit", or a kind) and @field, or NULL. */
const char *bed_words_find (const char *group, const char *field, const char *text);
/* Nothing, or a word or sign for it. */
gboolean bed_words_is_missing (const char *text);
/* 1 to 12, or 0. */
int bed_words_find_month (const char *text);

/* --- dates: notebook_date.c ----------------------------------------------------------- */

typedef enum
{
  BED_DAY_NONE,
  BED_DAY_YMD,     /* a year, b month, c day */
  BED_DAY_FIGURES, /* a and b are day and month in one order or the other; c year or -1 */
  BED_DAY_WORDS,   /* a day, b month, c year or -1 */
  BED_DAY_MONTH,   /* b month, c year or -1 */
  BED_DAY_WEEK,    /* a week, c year or -1 */
  BED_DAY_NUMBER,  /* a days since an epoch */
  BED_DAY_YEAR,    /* c year, as a farm counts its seasons */
} BedDayForm;

typedef struct
{
  BedDayForm form;
  int a, b, c;
  int hour, minute; /* -1: none */
} BedDay;

/* FALSE when @text is no date in any reading. A bare number is one of days. */
gboolean bed_day_scan (const char *text, BedDay *day);
/* @order for FIGURES and NUMBER, @year where none is written (0: then it fails). A month is its
 * last day, a week its Sunday. YYYY-MM-DD into @text. */
gboolean bed_day_write (const BedDay *day, BedDates order, int year, char text[16]);
/* The first day of a month or a week likewise; FALSE of what is one day. */
gboolean bed_day_write_first (const BedDay *day, int year, char text[16]);
/* Whether the order allows it: BED_DATES_DMY, _MDY of FIGURES. */
gboolean bed_day_fits (const BedDay *day, BedDates order);

/* --- numbers: notebook_number.c --------------------------------------------------------- */

typedef enum
{
  BED_NUMBER_PLAIN, /* for the reader of forms, which says what it is */
  BED_NUMBER_ABOUT, /* "~4" */
  BED_NUMBER_RANGE, /* "4-5": the middle */
} BedNumberForm;

/* Which decimal marks the number in @text may have. */
typedef enum
{
  BED_MARK_ANY = 0,
  BED_MARK_POINT = 1,
  BED_MARK_COMMA = 2,
  BED_MARK_EITHER = 3, /* 1,234 */
} BedDecimalMark;
BedDecimalMark bed_number_find_mark (const char *text);

typedef enum
{
  BED_NUMBER_OF_THINGS,
  BED_NUMBER_OF_MONEY, /* signs of currencies and brackets for minus are taken off */
} BedNumberOf;

/* @text as the forms read it, with a point; owned by the caller. */
char *bed_number_dup_plain (const char *text, char mark, BedNumberOf of, BedNumberForm *form);

/* --- rows: notebook_table.c --------------------------------------------------------------- */

typedef struct
{
  guint line;
  guint n_cells;
  char **cells;
  BedCellKind *kinds;
} BedNotebookLine;

/* How the sheet is laid out. */
typedef struct
{
  GPtrArray *heads; /* char*, one for each column that is read; of a crosswise sheet its last two
                     * are the date above and the cell */
  GArray *columns;  /* guint: where each stands in the sheet */
  GArray *crossing; /* guint: columns of the sheet with a date as head */
  GPtrArray *above; /* their heads */
  guint first_line; /* of the heads of the sheet's first table, 0: no heads */
  guint head_line;  /* of those of the table that is read */
  guint body_line;  /* the rows from here on */
} BedNotebookLayout;

/* What is remembered from row to row to know totals and other tables. */
typedef struct
{
  gboolean in_other_table;
  double *sums, *group; /* of each column of the sheet, in all and since the last total */
  guint n;
  guint rows; /* taken since the last total */
} BedNotebookSorter;

/* @line of the heads of a table; 0: of the first, wherever they are found. */
void bed_layout_find (BedNotebookLayout *self, GPtrArray *first, guint line);
/* Element BedNotebookTable, its text owned by @texts. */
GArray *bed_layout_list_tables (const BedNotebookLayout *self, GPtrArray *first,
                                GStringChunk *texts);
void bed_layout_clear (BedNotebookLayout *self);

void bed_sorter_begin (BedNotebookSorter *self);
void bed_sorter_clear (BedNotebookSorter *self);
BedAside bed_sorter_sort (BedNotebookSorter *self, const BedNotebookLayout *layout,
                          const BedNotebookLine *line, char mark);

BedNotebookLine *bed_line_copy (const BedSheetRow *row);
void bed_line_free (BedNotebookLine *line);
gboolean bed_line_is_number (const BedNotebookLine *line, guint cell, char mark, double *value);

/* --- understanding ---------------------------------------------------------------------------- */

typedef struct
{
  BedNotebookColumn shown;
  char *why;
  char *unit;
  char *samples[BED_NOTEBOOK_SAMPLES];
  guint n_samples;
  /* of the first rows */
  guint filled, numbers, negatives, days, maybe, dots, day_first, month_first, either, no_year,
      serials, serials_late, texts;
  /* of all rows, where the first ones did not say */
  guint later_day_first, later_month_first;
  BedDates found;
  gboolean is_income;  /* money that came in */
  gboolean is_year;    /* of dates without one */
  gboolean turned;     /* a bank's: money spent is negative */
  gboolean is_unit;    /* of the bare numbers of the row */
  gboolean is_each;    /* what one of the row's unit costs */
  gboolean is_month;   /* the dates are months, numbers of months too */
  int week;            /* days from the dates to the other end of their weeks: 6, -6; 0: none */
  gboolean guessed;    /* its head has a word more than is known */
  gboolean of_notes;   /* added to the notes under its head */
  gboolean asks_order; /* dates read both ways */
  gboolean asks_epoch;
} BedNotebookMatch;

typedef struct
{
  BedNotebookQuestion shown;
  GArray *choices; /* BedNotebookChoice */
  guint order;
  BedKind kind;      /* of the name that is typed, of one with ->meant */
  const char *meant; /* what is typed decides this: one name's meaning; NULL: the question itself */
} BedNotebookAsked;

/* A record being made of a row. */
typedef struct
{
  BedRecord *record; /* NULL: none of its kind */
  const char *name;
  GArray *references; /* BedDraftReference */
  gboolean filled;    /* by a cell */
} BedNotebookSlot;

struct _BedNotebook
{
  BedFarm *farm;
  BedRows *rows;
  guint sheet;
  BedNotation notation;

  GPtrArray *first;  /* BedNotebookLine */
  gboolean is_whole; /* they are all there is */
  BedNotebookLayout layout;
  GArray *tables; /* BedNotebookTable */
  guint table;
  GStringChunk *texts; /* heads, sentences and keys that stay for good */

  GHashTable *decided; /* key -> value */
  GPtrArray *past;     /* the same before each decision */

  guint64 expected; /* kinds */
  BedKind kind;
  BedMatch kind_sure;
  char *kind_why;
  GArray *kinds;   /* BedKind */
  GArray *targets; /* BedNotebookTarget */
  GArray *matches; /* BedNotebookMatch */
  char mark;
  gboolean asks_mark;
  guint later_points, later_commas; /* as BedNotebookMatch has */
  char found_mark;                  /* NUL: none */

  /* of the reading on its way, or the last one */
  gboolean is_read;
  BedNotebookSorter sorter;
  GHashTable *questions; /* key -> BedNotebookAsked */
  GArray *asked;         /* BedNotebookQuestion, as handed out */
  GArray *aside;         /* BedNotebookAside */
  guint n_aside[BED_ASIDE_ASKED + 1];
  guint n_rows;
  guint n_records[BED_N_KINDS];
  GHashTable *sums;               /* const BedField* -> gint64* */
  GHashTable *made;               /* "kind:folded name" of shared records handed over */
  GHashTable *names;              /* "kind:folded name" -> name, of the sheet and not of the farm */
  GHashTable *known[BED_N_KINDS]; /* folded name -> name, of the farm */
  char first_day[16], last_day[16];
  guint at; /* of the first rows; then the rows themselves */
  BedNotebookLine *line, *crossed;
  guint crossing; /* the next crossing of the line; G_MAXUINT: it has no more */
  BedNotebookSlot slots[BED_N_KINDS];
  GArray *drafts;  /* BedNotebookDraft */
  GPtrArray *kept; /* names that drafts of the row hold */
  GPtrArray *held; /* their records */
  GPtrArray *kept_references;
  gboolean waits; /* a question was met that has no answer */
  gint64 each;    /* of the row: the price of one, minor units; and of what */
  const char *each_unit;
  gint64 n_logs, n_left; /* of the row's batch, -1: not said */
  GPtrArray *made_now;   /* keys of @made, of this row */
  GPtrArray *waiting;    /* const BedField: whose cells wait for one */
  BedAside left_out;     /* what a cell or an answer says of the row */
  BedNotebookRow row;
};

/* notebook_match.c: kinds, kind, targets, fields and units of all columns. */
void bed_notebook_match (BedNotebook *self);
gboolean bed_notebook_can_be (BedNotebook *self, BedKind kind, const BedField *field);
/* The field with the date of a row of @kind; @of the record it is in. NULL: it has none. */
const BedField *bed_notebook_date_of (BedKind kind, BedKind *of);

/* notebook_columns.c: what stands in the columns. _note_day() and _note_mark() take what the rows
 * after the first ones say; where that settles what would be asked, _settle() is TRUE. */
void bed_notebook_note_day (BedNotebookMatch *match, const BedDay *day);
void bed_notebook_note_mark (BedNotebook *self, const char *text);
gboolean bed_notebook_settle (BedNotebook *self);
void bed_notebook_count_cells (BedNotebook *self);
void bed_notebook_find_orders (BedNotebook *self);
void bed_notebook_find_units (BedNotebook *self);

/* notebook_period.c: weeks, months and seasons that stand where a day might. @match NULL: typed. */
typedef struct
{
  char first[16], last[16]; /* YYYY-MM-DD; first is empty of what is one day */
} BedPeriod;

/* As bed_day_scan(), and years, and the numbers of months where the head says so. */
gboolean bed_period_scan (const BedNotebookMatch *match, const char *text, BedDay *day);
/* FALSE when it is no day in the order of the column. @year as in bed_day_write(). */
gboolean bed_period_find (BedNotebook *self, const BedNotebookMatch *match, const BedDay *day,
                          int year, BedPeriod *period);
/* Whether such may be in it. */
gboolean bed_period_fits (BedNotebook *self, const BedField *field);
/* Into the record what its date does not say: since when it is a total, or a note. */
void bed_period_say (BedNotebook *self, BedRecord *record, const BedField *field,
                     const BedPeriod *period);
/* An answer such as "May 2023"; FALSE when it is none, or the field has none. */
gboolean bed_period_set_typed (BedNotebook *self, BedRecord *record, const BedField *field,
                               const char *text);
/* After what stands in the notes already. */
void bed_notebook_add_note (BedRecord *record, const char *said);

/* notebook_ask.c. @sentence owned by the callee; the question is begun when it is new, else counted
 * once more. The answer given, or NULL. */
const char *bed_notebook_ask (BedNotebook *self, const char *key, guint column, char *sentence);
/* For one just asked the first time; texts are copied. */
void bed_notebook_offer (BedNotebook *self, const char *key, const char *choice, const char *label);
void bed_notebook_let_type (BedNotebook *self, const char *key, const char *what);
/* What is typed is the name that a record of @kind has in the farm, for @name alone. */
void bed_notebook_let_mean (BedNotebook *self, const char *key, BedKind kind, const char *name);
/* What was typed for it, or NULL. */
const char *bed_notebook_get_meant (BedNotebook *self, BedKind kind, const char *name);
void bed_notebook_suggest (BedNotebook *self, const char *key, const char *answer);
gboolean bed_notebook_is_new (BedNotebook *self, const char *key);
void bed_notebook_forget_questions (BedNotebook *self);
const char *bed_notebook_decision (BedNotebook *self, const char *format, ...) G_GNUC_PRINTF (2, 3);

/* notebook_cell.c: a cell into the slot of its column. */
void bed_notebook_read_cell (BedNotebook *self, guint column, const char *text, BedCellKind kind);

/* notebook_names.c: what @name is called in the farm or among the drafts; NULL: the row waits for
 * an answer, or goes without. @column from 1. Owned by the caller. */
char *bed_notebook_resolve (BedNotebook *self, BedKind kind, const char *name, guint column);
gboolean bed_notebook_has (BedNotebook *self, BedKind kind, const char *name);

/* notebook_row.c: makes the drafts of a line; NULL when it is set aside. */
const BedNotebookRow *bed_notebook_read_line (BedNotebook *self, const BedNotebookLine *line);
BedNotebookSlot *bed_notebook_slot (BedNotebook *self, BedKind kind);
void bed_notebook_refer (BedNotebook *self, BedNotebookSlot *slot, const BedField *field,
                         const char *name, guint column);
/* The kinds that a row of @kind may make besides, in the order they need each other; ends with
 * BED_N_KINDS. */
const BedKind *bed_notebook_besides (BedKind kind);

/* Hands over what is in the slot so many times; it is completed before. */
void bed_notebook_make_times (BedNotebook *self, BedKind kind, guint times);
void bed_notebook_empty_slot (BedNotebook *self, BedKind kind);

/* notebook_counted.c: fields as records have them, and those of a batch that none has. */
const BedField *bed_notebook_find_field (BedKind kind, const char *name);
const BedField *bed_notebook_get_numbers (guint *n);
/* Where a row's number of these is kept; NULL of a record's own field. */
gint64 *bed_notebook_number_of (BedNotebook *self, const BedField *field);
/* Whether a row of a batch may say it of its logs, though it lists none. */
gboolean bed_notebook_says_of_logs (BedKind kind, const BedField *field);
/* Before anything is made of the row, and after its batch is. */
void bed_notebook_begin_counted (BedNotebook *self);
void bed_notebook_make_counted (BedNotebook *self);

/* What a name of @kind is called in the farm, or NULL; _called(): also without its check character.
 */
const char *bed_notebook_find_known (BedNotebook *self, BedKind kind, const char *name);
const char *bed_notebook_find_called (BedNotebook *self, BedKind kind, const char *text);
/* Whether a name that somebody typed is one of a wood or a mushroom without a doubt; of other kinds
 * any may be. */
gboolean bed_notebook_knows (BedNotebook *self, BedKind kind, const char *name);
/* A record that only its name is known of, or, of a wood, what the species table says. */
BedRecord *bed_notebook_new_named (BedNotebook *self, BedKind kind, const char *name);

/* notebook_needs.c: what the record of a slot must have and its row does not say. */
void bed_notebook_complete (BedNotebook *self, BedKind kind);
void bed_notebook_ask_for (BedNotebook *self, BedKind kind, const char *field);
/* Whether @answer could be given to the question @key. */
gboolean bed_notebook_can_answer (BedNotebook *self, const char *key, const char *answer,
                                  GError **error);
/* @text into a field, as a person would type it; a reference by its name. */
gboolean bed_notebook_set_typed (BedNotebook *self, BedNotebookSlot *slot, const BedField *field,
                                 const char *text, GError **error);

/* notebook_reading.c: the lines of a crosswise one; NULL when there are no more. */
BedNotebookLine *bed_notebook_cross (const BedNotebookLayout *layout, const BedNotebookLine *line,
                                     guint *crossing);
/* Forgets what was counted, and begins at the first row. */
void bed_notebook_begin_reading (BedNotebook *self);
/* All of the first rows. */
void bed_notebook_read_first (BedNotebook *self);
/* The rows themselves, from the first on. */
gboolean bed_notebook_rewind (BedNotebook *self, GError **error);
/* The next row that is taken, NULL at the end or with @error. */
const BedNotebookRow *bed_notebook_step (BedNotebook *self, GError **error);

/* notebook_matching.c: into the decisions; what it decides wrongly is passed over. */
gboolean bed_notebook_take_matching_text (BedNotebook *self, const char *matching, GError **error);
