#pragma once

#include "model/farm/list.h"
#include <gtk/gtk.h>

/* A column of a table. */
typedef enum
{
  BED_CELL_TEXT,
  BED_CELL_DATE,    /* YYYY-MM-DD (of a moment, its day), short */
  BED_CELL_DAY,     /* with the weekday, for planned work */
  BED_CELL_CHOICE,  /* the word for the key, of ->kind and ->field */
  BED_CELL_STAGE,   /* the word for the key, see model/stage.h */
  BED_CELL_MEASURE, /* ->measure, ->decimals; unit in the head */
  BED_CELL_CUSTOM,  /* ->dup_text */
  BED_CELL_DRAWN,   /* ->drawn_new, ->drawn_show; takes what room the others leave */
} BedTableCell;

typedef struct
{
  const char *field;  /* of the table's kind, whose label, measure and words it takes; or NULL: */
  const char *column; /* of the source */
  const char *title;  /* N_(); NULL: the field's label */
  BedTableCell cell;  /* of a field only BED_CELL_CUSTOM and BED_CELL_DAY are said */
  BedMeasure measure;
  int decimals;      /* MEASURE: of what was reckoned; 0: as it was typed */
  BedKind kind;      /* CHOICE: the field is kind.column */
  const char *order; /* SQL to sort by; NULL: the column itself */
  int width;         /* characters, least; 0: as it comes */
  int from;          /* px of the table's width from which on it is seen; 0: always */
  char *(*dup_text) (BedFarm *farm, BedRow *row);
  /* A drawing of the row, and what it says in words, as its accessible label. */
  GtkWidget *(*drawn_new) (BedFarm *farm);
  void (*drawn_show) (GtkWidget *drawn, BedRow *row);
} BedTableColumn;

/* @column with everything that its field says, for a table of @kind. */
BedTableColumn bed_table_cell_resolve (BedKind kind, const BedTableColumn *column);

/* The cells of a table's columns; these are resolved. */
GtkListItemFactory *bed_table_cell_factory_new (BedFarm *farm, const BedTableColumn *column);

/* Cells with nothing in them but a widget: GTK 4.18 measures the one of a cell in a column of fixed
 * width without asking whether there is one. */
GtkListItemFactory *bed_table_cell_filling_new (void);

/* The position of the row that @cell, anything inside @view, is in; GTK_INVALID_LIST_POSITION for
 * none. */
guint bed_table_cell_find_row (GtkWidget *cell, GtkWidget *view);

/* What a cell shows in words: (transfer full). */
char *bed_table_cell_dup_text (BedFarm *farm, const BedTableColumn *column, BedRow *row);

/* "Length (cm)". */
char *bed_table_cell_dup_title (BedFarm *farm, const BedTableColumn *column);

/* Stands right, in tabular figures. */
gboolean bed_table_cell_is_number (const BedTableColumn *column);

/* Whether bed_table_cell_dup_text() says it: what is only drawn has no words. */
gboolean bed_table_cell_has_words (const BedTableColumn *column);

/* Takes what room is left over where nothing is drawn. */
gboolean bed_table_cell_is_wide (const BedTableColumn *column);
