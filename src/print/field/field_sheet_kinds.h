#pragma once

#include "model/farm/kind.h"
#include "print/field/field_sheet.h"
#include "science/measure.h"

/* The ten sheets. Names, units and choices come from the table of fields,
 * the order is the form's: what is copied from paper to a form is copied straight
 * down (tests/app/test_papers.c reads both). */

typedef enum
{
  BED_PAPER_FELLING,     /* one felling, its trees tallied */
  BED_PAPER_MEASURING,   /* logs: length, diameters, weight */
  BED_PAPER_INOCULATION, /* one batch: pattern, drilling plan, its logs */
  BED_PAPER_WEIGHING,    /* sample logs */
  BED_PAPER_SOAK,        /* the soaks of a week */
  BED_PAPER_PICKING,
  BED_PAPER_MOVES,
  BED_PAPER_PLAN, /* the planned moves of a day */
  BED_PAPER_WEEK, /* what is due this week */
  BED_PAPER_DAY,  /* a person's day: what is due, and the hours */
  BED_N_PAPERS
} BedPaperKind;

#define BED_PAPER_COLUMNS 14 /* of a sheet at most, and the one that ends them */

#define BED_TO_TICK "□" /* in a column of what is done */

typedef struct
{
  const char *field; /* of the line's record; NULL for a column of the sheet's own */
  const char *head;  /* N_(), for the sheet's own and where the field's label says too much */
  double weight;
  BedColumnKind kind;
} BedPaperColumn;

typedef struct
{
  const char *name;      /* what the tool is told: "felling" */
  const char *title;     /* N_() */
  BedKind sheet;         /* the record whose fields the boxes are */
  BedKind line;          /* the record one line becomes */
  const char *boxes[15]; /* field names, NULL at the end */
  BedKind more;          /* a second record the sheet is about, and its fields */
  const char *more_boxes[4];
  BedPaperColumn columns[BED_PAPER_COLUMNS]; /* weight 0 at the end */
  const char *cautions[6];                   /* N_(), NULL at the end */
} BedPaperForm;

/* Static. */
const BedPaperForm *bed_paper_get_form (BedPaperKind kind);

/* The kind of that name, or BED_N_PAPERS. */
BedPaperKind bed_paper_kind_from_name (const char *name);

typedef struct
{
  const BedNotation *notation;
  const char *subtitle; /* farm and day, or NULL */
  const char *about;    /* added to the title: "26A"; or NULL */
  GHashTable *values;   /* field name -> text known for its box; or NULL */
  GPtrArray *more;      /* such tables of the second record, one each; or NULL. Boxes for one more
                           follow them. */
} BedPaperHead;

/* The sheet of @kind with its boxes, columns and cautions and no line yet. */
BedFieldSheet *bed_field_sheet_new_kind (BedPaperKind kind, const BedPaperHead *head);
