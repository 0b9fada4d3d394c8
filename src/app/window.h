#pragma once

#include <adwaita.h>
#include "app/page.h"
#include "model/edit.h"

G_BEGIN_DECLS

/* The desk: page names, header bar, the page, toasts. Actions: win.add, win.print,
 * win.undo, win.redo, win.find, win.page::NAME, win.help, win.shortcuts. */
#define BED_TYPE_WINDOW (bed_window_get_type ())
G_DECLARE_FINAL_TYPE (BedWindow, bed_window, BED, WINDOW, AdwApplicationWindow)

BedWindow *bed_window_new (GtkApplication *application);

/* Shows @farm, or the start page when NULL. */
void bed_window_set_farm (BedWindow *self, BedFarm *farm);
BedFarm *bed_window_get_farm (BedWindow *self);

/* Opens the file, waiting for another program that holds it, or says in words why not. When
 * another window has it open, that one comes to the front. */
gboolean bed_window_open (BedWindow *self, const char *path);

/* Whether something typed is not saved. */
gboolean bed_window_has_typing (BedWindow *self);

/* Copies of its farm are kept from now on, as long as it shows it. */
void bed_window_keep_backups (BedWindow *self);

/* The window that has this file open, by whatever name, or NULL. @application may be NULL. */
BedWindow *bed_window_find (GtkApplication *application, const char *path);

/* @name as in the table of pages: "week", "woodlot", "batches", "yard", "soaking", "picking",
 * "money", "season", "history". FALSE when there is none. */
gboolean bed_window_show_page (BedWindow *self, const char *name);

/* What a page may ask of its window. @inside is any widget in it. */

/* Commits and says @sentence in a toast with Undo, or that nothing was changed; waits, with a
 * Cancel, while another program holds the farm. FALSE and nothing said when refused: show
 * bed_edit_get_faults() at the fields, and @error for what is not about a field. */
gboolean bed_window_commit (GtkWidget *inside, BedEdit *edit, const char *sentence,
                            GError **error);

/* A toast; for an error its message. */
void bed_window_say (GtkWidget *inside, const char *text);
void bed_window_say_error (GtkWidget *inside, const GError *error);

/* The last change in a toast with Undo, when the model made it. */
void bed_window_say_undo (GtkWidget *inside);

/* The page that is seen; borrowed, may be NULL. */
BedPage *bed_window_get_page (GtkWidget *inside);

/* To the page that shows such records, with that one in view. */
void bed_window_show_record (GtkWidget *inside, BedKind kind, gint64 id);

/* To the page of that kind, with its form filled from @draft. */
void bed_window_show_draft (GtkWidget *inside, BedRecord *draft);

G_END_DECLS
