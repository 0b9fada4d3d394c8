#pragma once

#include "app/host/host.h"
#include "app/widgets/toasts.h"
#include "app/window/keeper.h"
#include "app/window/search.h"
#include "app/window/undo.h"
#include "app/window/window.h"

/* For window.c and the other window_*.c only. */

#define BED_WINDOW_PAGES 12
#define BED_WINDOW_PAGE_KEYS 10 /* of the first: Ctrl+1 to Ctrl+9, Ctrl+0 */

struct _BedWindow
{
  AdwApplicationWindow parent_instance;
  BedFarm *farm;
  BedKeeper *keeper; /* of a farm that may be written to */
  GSignalGroup *farm_signals;
  BedToasts *notes;
  BedUndo *undo;
  guint look_source;
  GtkWidget *labels[BED_WINDOW_PAGES];
  gboolean narrow;
  guint narrow_source;
  char *waiting_sheet; /* path, until there is a farm for it; NULL: none */

  GtkWidget *root;
  GtkWidget *sidebar;
  GtkWidget *sidebar_bar;
  GtkWidget *farm_names, *farm_name, *farm_where;
  GtkWidget *page_list;
  GtkWidget *hint;                                  /* under the pages' names */
  GtkWidget *start_foot, *sidebar_foot, *page_foot; /* where the notes stand */
  GtkWidget *undo_button;
  GtkWidget *redo_button;
  GtkWidget *add_button;
  GtkWidget *print_button;
  GtkWidget *menu_button;
  GtkWidget *start_menu_button;
  GtkWidget *recent_place;
  GMenu *farms_section;
  GtkWidget *search_place;
  GtkWidget *state;
  GtkWidget *state_bar;
  GtkWidget *restore_button;
  GtkWidget *pages;
  BedSearch *search;
};

typedef enum
{
  BED_WINDOW_PAGE_RECORD, /* it shows a stored one */
  BED_WINDOW_PAGE_DRAFT,  /* it has a form for a new one */
} BedWindowPageUse;

/* Where the page of such records is; -1: nowhere. */
int bed_window_find_page_of_kind (BedKind kind, BedWindowPageUse use);

/* -1: there is no page of that name. */
int bed_window_find_page (const char *name);
const char *bed_window_get_page_name (guint at);

/* Pages are made when they are first looked at, and not empty while another program holds the
 * farm: NULL then, or the page that is seen. */
BedPage *bed_window_show_page_at (BedWindow *self, int at);

/* Actions and keys of the class, and those of a window: window_actions.c. */
void bed_window_install_actions (GtkWidgetClass *klass);
void bed_window_take_page_keys (BedWindow *self);

/* What the window is for its pages: window_host.c. */
void bed_window_host_init (BedHostInterface *iface);

/* The titles of all windows: the farm's name, and where its file is while two have one name. */
void bed_window_name_all (void);

/* The page and record one was at when the farm was last open, else the first page; and keeping it,
 * with the size of the window. See recent.h: window_place.c. */
void bed_window_show_place (BedWindow *self);
void bed_window_keep_place (BedWindow *self);

/* The size the window of the farm at @path had; NULL, and of one that had none: that of the farm
 * that was open last. Before it is seen. */
void bed_window_take_size (BedWindow *self, const char *path);

/* Sheets of other programs come in: chosen, pasted, or dropped on the window: window_import.c.
 * Without a farm the sheet waits until one has been made. */
void bed_window_import_choose (GtkWindow *window);
void bed_window_import_paste (GtkWindow *window);
void bed_window_import_take_drops (GtkWindow *window);

/* Cells pasted where records of that kind are typed: after them it is back there. */
gboolean bed_window_import_cells (BedWindow *self, const char *text, BedKind kind);

/* The farm that a sheet waited for is there. */
void bed_window_import_go_on (GtkWindow *window);
