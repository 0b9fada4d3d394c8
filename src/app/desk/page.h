#pragma once

#include "app/widgets/big_figures.h"
#include "model/farm/farm.h"
#include <adwaita.h>

/* One page of the desk. A page is one class, one .c and one line in the table
 * at the top of window.c. It is made the first time it is shown and belongs to
 * one farm for all its life. Writing, messages and going elsewhere are in host.h. */
#define BED_TYPE_PAGE (bed_page_get_type ())
G_DECLARE_DERIVABLE_TYPE (BedPage, bed_page, BED, PAGE, AdwBin)

/* A key of the page's own, for the shortcuts page; the page handles it itself. */
typedef struct
{
  const char *accelerator; /* "<Shift>Left" */
  const char *title;       /* N_() */
} BedPageKey;

/* Asks the farm; FALSE where that fails. */
typedef gboolean (*BedPageRead) (BedPage *self, GError **error);

struct _BedPageClass
{
  AdwBinClass parent_class;

  /* What Ctrl+N adds and Ctrl+P prints, N_(): "New batch", "Print tags"; NULL for nothing. */
  const char *add_title;
  const char *print_title;
  /* Ends with a NULL accelerator; may be NULL. */
  const BedPageKey *keys;
  /* The kinds whose records this page shows (BED_KIND_BIT). */
  guint64 kinds;

  /* What is seen, once the farm is known. */
  GtkWidget *(*make) (BedPage *self);
  /* Ask the farm again: at first showing, then whenever records changed. Only called while the
   * page is seen; what happens before waits. Where it fails, or anything it asked did, the page
   * says so in place of its content. */
  BedPageRead refresh;
  /* The rest of it, which takes long on a large farm and is not what one came for: when the page is
   * first shown, after it was painted without, one after another with a frame between them. Ends
   * with NULL; may be NULL. */
  const BedPageRead *refresh_late;
  /* Ctrl+N. Nothing happens when the farm can only be read. */
  void (*add) (BedPage *self);
  /* Ctrl+P. */
  void (*print) (BedPage *self);
  /* Selects that record and brings it in view; only called for the page's ->kinds. */
  void (*show_record) (BedPage *self, BedKind kind, gint64 id);
  /* The chosen one of its ->kinds, which show_record brings back; 0: none. May be NULL. */
  gint64 (*get_record) (BedPage *self, BedKind *kind);
  /* Brings the parts of bed_page_set_parts() in view. NULL: they always are. */
  void (*open_parts) (BedPage *self);
  /* Opens the form for a new record already filled from @draft, with the names of the logs that
   * go with it, NULL for none; only for the page's ->kinds. */
  void (*show_draft) (BedPage *self, BedRecord *draft, const char *logs);
};

/* Borrowed; never NULL for a page in a window. */
BedFarm *bed_page_get_farm (BedPage *self);

void bed_page_add (BedPage *self);
void bed_page_print (BedPage *self);

/* @content under the figures of the page, @extra (may be NULL) at their right. */
GtkWidget *bed_page_column_new (BedPage *self, GtkWidget *extra, GtkWidget *content);

/* Copies; only for a page with a column. */
void bed_page_set_figures (BedPage *self, const BedPageFigure *figures, guint n);

/* The page's own stack, whose children its switch names: Alt+1, Alt+2 ... go to them. A page
 * that is given the keyboard (gtk_widget_grab_focus()) hands it to the one that is seen. */
void bed_page_set_parts (BedPage *self, GtkStack *parts);

/* Shows part @at, from 0, and gives it the keyboard; FALSE where there is none. */
gboolean bed_page_show_part (BedPage *self, guint at);

/* The name of the part that is seen, borrowed; NULL where there are none. No part is seen by a name
 * that none has. */
const char *bed_page_get_part (BedPage *self);
void bed_page_see_part (BedPage *self, const char *name);

void bed_page_show_record (BedPage *self, BedKind kind, gint64 id);

/* The chosen record and its kind; 0: none. */
gint64 bed_page_get_record (BedPage *self, BedKind *kind);
void bed_page_show_draft (BedPage *self, BedRecord *draft, const char *logs);

/* What is said where there is nothing to show: one drawing, what the place is for, one button. */
typedef struct
{
  const char *icon;   /* icon name */
  const char *title;  /* N_() */
  const char *text;   /* N_() */
  const char *button; /* N_(); NULL: no button */
  const char *action; /* what the button does: "win.add", "win.page::woodlot" */
} BedEmpty;

GtkWidget *bed_empty_new (const BedEmpty *empty);

/* A stack of that, "empty", and of @content, named @name. */
GtkWidget *bed_empty_stack_new (const BedEmpty *empty, GtkWidget *content, const char *name);
