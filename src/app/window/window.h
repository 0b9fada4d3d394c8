#pragma once

#include "app/desk/page.h"
#include <adwaita.h>

/* The desk: page names, header bar, the page, toasts. Actions: win.add, win.print,
 * win.undo, win.redo, win.find, win.page::NAME, win.help, win.shortcuts. It is the host (host.h) of
 * its pages. */
#define BED_TYPE_WINDOW (bed_window_get_type ())
G_DECLARE_FINAL_TYPE (BedWindow, bed_window, BED, WINDOW, AdwApplicationWindow)

/* As large as that of the farm at @path was, which it is about to show; NULL: it is not known. */
BedWindow *bed_window_new (GtkApplication *application, const char *path);

/* Shows @farm, or the start page when NULL. */
void bed_window_set_farm (BedWindow *self, BedFarm *farm);
BedFarm *bed_window_get_farm (BedWindow *self);

/* Presents it as a desk that is still empty, and comes back when that was painted: for a farm that
 * is opened right after. Without one it is the start page when it is painted next. */
void bed_window_present_first (BedWindow *self);

/* Opens the file here, waiting for another program that holds it, or says in words why not. When
 * another window has it open, that one comes to the front. */
gboolean bed_window_open (BedWindow *self, const char *path);

/* The same in a window of its own where this one shows a farm. */
gboolean bed_window_open_beside (BedWindow *self, const char *path);

/* The same of a file somebody named or dropped, which may be where no program opens files by a
 * path: that is said. */
gboolean bed_window_open_file (BedWindow *self, GFile *file);

/* The window that has this file open, by whatever name, or NULL. */
BedWindow *bed_window_find (const char *path);

/* @name as in the table of pages: "week", "woodlot", "batches", "yard", "soaking", "picking",
 * "money", "season", "history". FALSE when there is none. */
gboolean bed_window_show_page (BedWindow *self, const char *name);

/* The page that is seen; borrowed, may be NULL. */
BedPage *bed_window_get_page (BedWindow *self);
