#pragma once

#include "model/farm/farm.h"
#include "model/farm/kinds.h"
#include "model/sheet/rows.h"
#include <gio/gio.h>

/* Somebody's own table, understood: what its rows are, what each column means, how dates and
 * numbers are written in it, and what has to be asked. Nothing is written to the farm, and nothing
 * that is not understood is guessed: it is a question, or it is set aside and shown.
 *
 * The first rows are understood at once. bed_notebook_read_all() goes through the whole sheet, for
 * counts, totals and the questions of later rows; then bed_notebook_begin() and _next() hand over
 * the records to add, row by row. What is remembered grows with the different names in the sheet,
 * not with its rows.
 *
 * Texts and arrays that are got are borrowed until the next decision or reading. One thread at a
 * time, as the farm. */
typedef struct _BedNotebook BedNotebook;

/* Keeps a reference to @farm and takes over @rows, whose chosen sheet and reading are used; NULL
 * with an error when the rows cannot be read (BED_ROWS_ERROR), or hold no table (INVALID of
 * BED_FARM_ERROR). */
BedNotebook *bed_notebook_new (BedFarm *farm, BedRows *rows, GError **error);
void bed_notebook_free (BedNotebook *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedNotebook, bed_notebook_free)

/* Where it comes from such records are kept (BED_KIND_BIT): of kinds that its columns fit alike,
 * and where no head is known, it is rather one of these. No decision. */
void bed_notebook_expect (BedNotebook *self, guint64 kinds);

/* The rows it reads; choosing another sheet or reading of them needs a new notebook. */
BedRows *bed_notebook_get_rows (BedNotebook *self);

/* --- what was understood ------------------------------------------------------------ */

typedef enum
{
  BED_MATCH_NONE,    /* nothing known fits: the column is left out */
  BED_MATCH_GUESSED, /* by what stands in it, or one of several that fit */
  BED_MATCH_KNOWN,   /* a head that says it */
  BED_MATCH_CHOSEN,  /* decided by a person, now or when the matching was kept */
} BedMatch;

typedef enum
{
  BED_DATES_NONE, /* the column has no dates, or all of them can be read one way only */
  BED_DATES_YMD,
  BED_DATES_DMY,
  BED_DATES_MDY,
  BED_DATES_DAYS_1900, /* numbers of days, as spreadsheets count them */
  BED_DATES_DAYS_1904,
} BedDates;

/* What the rows are: each makes a record of this kind, besides what other columns make of it. */
BedKind bed_notebook_get_kind (BedNotebook *self, BedMatch *sure);
/* Why, a sentence; never NULL. */
const char *bed_notebook_get_kind_why (BedNotebook *self);
/* All kinds that can be chosen, likely ones first. */
const BedKind *bed_notebook_get_kinds (BedNotebook *self, guint *n);

#define BED_NOTEBOOK_SAMPLES 3

typedef struct
{
  const char *head;                          /* as it stands there, "" where it has none */
  const char *samples[BED_NOTEBOOK_SAMPLES]; /* its first cells that are not empty; NULL: no more */
  BedKind kind; /* of the record that the field belongs to: the rows' kind, or one beside it */
  const BedField *field; /* NULL: left out */
  const char *unit;      /* in which bare numbers are taken; "" where there is none */
  BedDates dates;
  BedMatch sure;
  const char *why; /* a sentence: why this field, which unit was taken; never NULL */
  guint filled;    /* cells with anything in them, of the rows read so far */
  guint read;      /* of them, those understood as they are */
  guint odd;       /* those a question is about, or that leave their row out */
} BedNotebookColumn;

guint bed_notebook_get_n_columns (BedNotebook *self);
const BedNotebookColumn *bed_notebook_get_column (BedNotebook *self, guint column);

/* What a column of this sheet could mean. */
typedef struct
{
  BedKind kind;
  const BedField *field;
} BedNotebookTarget;
const BedNotebookTarget *bed_notebook_get_targets (BedNotebook *self, guint *n);

typedef enum
{
  BED_ASIDE_NOT,   /* taken */
  BED_ASIDE_BLANK, /* these are counted, and not among the rows set aside */
  BED_ASIDE_ABOVE, /* above the heads: a title, a note */
  BED_ASIDE_HEAD,  /* the heads again */
  BED_ASIDE_TOTAL, /* a sum of rows above */
  BED_ASIDE_NOTE,  /* text in a single cell */
  BED_ASIDE_TABLE, /* of another table in the same sheet */
  BED_ASIDE_OTHER, /* money that came in, among purchases; a row without what every one needs */
  BED_ASIDE_ASKED, /* a person said so, for the row or in the answer to a question */
} BedAside;

typedef struct
{
  guint line; /* as BedSheetRow */
  BedAside why;
  const char *text; /* its cells, joined and shortened */
} BedNotebookAside;

/* The first of the rows set aside, at most some hundred; bed_notebook_count_aside() has all. */
const BedNotebookAside *bed_notebook_get_aside (BedNotebook *self, guint *n);
guint bed_notebook_count_aside (BedNotebook *self, BedAside why);
/* "total", "the heads again": translated. */
const char *bed_aside_get_word (BedAside why);

/* Weeks, months or days as columns: each such cell is taken as a row of its own. */
gboolean bed_notebook_is_crosswise (BedNotebook *self);

/* A sheet may hold several tables one below the other: of those that begin in its first rows one is
 * read, at first the first; the others are set aside. */
typedef struct
{
  guint line;       /* of its heads; 0: it has none */
  const char *text; /* its heads, joined and shortened */
} BedNotebookTable;

const BedNotebookTable *bed_notebook_get_tables (BedNotebook *self, guint *n);
guint bed_notebook_get_table (BedNotebook *self);
/* Reads another: all that was decided is gone, as with another sheet. INVALID when there is none
 * of this number, from 0. */
gboolean bed_notebook_choose_table (BedNotebook *self, guint table, GError **error);

/* --- questions ---------------------------------------------------------------------- */

typedef struct
{
  const char *key;
  const char *label; /* translated, or a name as it is */
} BedNotebookChoice;

/* One question for all rows alike. */
typedef struct
{
  const char *key;      /* what it is about: the same question has the same key */
  const char *sentence; /* for people */
  guint line, column;   /* the first place, from 1; 0: the whole sheet, the whole row */
  guint count;          /* cells or rows it is about, of those read so far */
  const BedNotebookChoice *choices;
  guint n_choices;
  const char *typed;  /* what may be typed as an answer beside the choices, or NULL */
  const char *offer;  /* the answer that is likely right: key of a choice or text; NULL: none */
  const char *answer; /* NULL: open */
} BedNotebookQuestion;

/* Open ones first, else in the order of their first places. Those answered stay. */
const BedNotebookQuestion *bed_notebook_get_questions (BedNotebook *self, guint *n);
guint bed_notebook_count_open (BedNotebook *self);

/* --- decisions ---------------------------------------------------------------------- */
/* After each all is understood anew (of the first rows; read_all() again for the rest). INVALID
 * with a sentence and nothing changed when it cannot be. */

gboolean bed_notebook_set_kind (BedNotebook *self, BedKind kind, GError **error);
/* @field NULL: leave the column out. */
gboolean bed_notebook_set_field (BedNotebook *self, guint column, BedKind kind,
                                 const BedField *field, GError **error);
/* As in a head: "oz", "cm". */
gboolean bed_notebook_set_unit (BedNotebook *self, guint column, const char *unit, GError **error);
gboolean bed_notebook_set_dates (BedNotebook *self, guint column, BedDates dates, GError **error);
/* '.' or ','. */
gboolean bed_notebook_set_decimal_mark (BedNotebook *self, char mark, GError **error);
char bed_notebook_get_decimal_mark (BedNotebook *self);
/* @answer: key of a choice, or text where it may be typed; NULL opens the question again. */
gboolean bed_notebook_answer (BedNotebook *self, const char *key, const char *answer,
                              GError **error);
/* Whether it is open, no column says it and most farms would answer alike. */
gboolean bed_notebook_is_usual (const BedNotebookQuestion *question);
guint bed_notebook_count_usual (BedNotebook *self);
/* Answers all of them so, with those that come up by it, as one decision. */
void bed_notebook_take_usual (BedNotebook *self);
/* BED_ASIDE_NOT takes a row that was set aside, BED_ASIDE_ASKED sets one aside. */
gboolean bed_notebook_set_aside (BedNotebook *self, guint line, BedAside aside, GError **error);

/* Takes the last decision back; FALSE when there is none. */
gboolean bed_notebook_go_back (BedNotebook *self);
guint bed_notebook_count_decisions (BedNotebook *self);

/* All decisions and what was understood with them, as text that can be kept: a key file, with
 * columns by their heads. Owned by the caller. */
char *bed_notebook_dup_matching (BedNotebook *self);
/* Decides as @matching says, columns by their heads; heads that are not there are passed over.
 * Counts as one decision. */
gboolean bed_notebook_take_matching (BedNotebook *self, const char *matching, GError **error);
/* What a matching is kept under: the heads, without regard to case and spaces. Owned by the
 * caller. */
char *bed_notebook_dup_heads (BedNotebook *self);

/* --- what would be added -------------------------------------------------------------- */

/* Goes through the whole sheet. @cancellable may be NULL. */
gboolean bed_notebook_read_all (BedNotebook *self, GCancellable *cancellable, GError **error);
/* Whether it has been since the last decision; else what follows is of the first rows. */
gboolean bed_notebook_is_read (BedNotebook *self);

guint bed_notebook_count_rows (BedNotebook *self); /* that are taken */
/* Records of @kind that would be made, before those the farm has are left out. */
guint bed_notebook_count_records (BedNotebook *self, BedKind kind);
/* The sum of a measure over them, in its fine unit: 0 where nothing says it. */
gint64 bed_notebook_sum (BedNotebook *self, BedKind kind, const BedField *field);
/* The first and the last day of the rows, YYYY-MM-DD, or NULL. */
const char *bed_notebook_get_first_day (BedNotebook *self);
const char *bed_notebook_get_last_day (BedNotebook *self);

/* --- the records ---------------------------------------------------------------------- */

/* A record that another is meant by a name; it is in the farm, or among the drafts before. */
typedef struct
{
  const BedField *field; /* to be set, of the draft's record */
  const char *name;      /* BedNotebookDraft.name, or what people call the record in the farm */
  guint column;          /* from 1; 0: it follows from others */
} BedDraftReference;

typedef enum
{
  BED_DRAFT_OWN,    /* of this row alone */
  BED_DRAFT_SHARED, /* unless the farm has one of this name: once for all rows that name it */
} BedDraftMaking;

typedef struct
{
  BedRecord *record; /* without id and references; borrowed: take a reference to keep it */
  BedDraftMaking making;
  const char *name; /* what later drafts call it; NULL: nothing refers to it. Of a felling, lot or
                     * sale without a code of its own it is no code: one is given at the edit. */
  const BedDraftReference *references;
  guint n_references;
  guint times; /* so many alike; more than one of counted logs alone */
} BedNotebookDraft;

typedef struct
{
  guint line;
  const BedNotebookDraft
      *drafts; /* each after those it refers to; a shared one in its first row only */
  guint n_drafts;
} BedNotebookRow;

/* From the first row on. INVALID while a question is open. */
gboolean bed_notebook_begin (BedNotebook *self, GError **error);
/* NULL at the end, or with @error. */
const BedNotebookRow *bed_notebook_next (BedNotebook *self, GError **error);
/* The column, from 1, that filled a field; 0 when none did. */
guint bed_notebook_find_column (BedNotebook *self, BedKind kind, const char *field);
