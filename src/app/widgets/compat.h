#pragma once

#include <gtk/gtk.h>

/* The only file that uses what newer GTK and libadwaita replaced: file, message
 * and about dialogs, opening addresses. All answer later, through a callback. */

typedef struct
{
  const char *title;         /* translated: "Save tags" */
  const char *accept;        /* translated: "Save" */
  const char *name;          /* suggested file name, in any words; NULL when opening */
  const char *suffixes;      /* "pdf", "png svg", in any case of letters; NULL: all files */
  const char *suffixes_name; /* translated: "PDF files" */
} BedFileAsk;

/* @words as the name of a file on any disk: no folder in it, nothing hidden, nothing a program
 * would take for an option, and short enough. @words may end in a suffix. Owned by the caller. */
char *bed_dup_file_name (const char *words);

/* @path is NULL when the person thought better of it. */
typedef void (*BedFileChosen) (const char *path, gpointer user_data);

void bed_ask_open_file (GtkWidget *inside, const BedFileAsk *ask, BedFileChosen chosen,
                        gpointer user_data);
void bed_ask_save_file (GtkWidget *inside, const BedFileAsk *ask, BedFileChosen chosen,
                        gpointer user_data);

/* The same for a folder; @name and @suffixes are not used. */
void bed_ask_folder (GtkWidget *inside, const BedFileAsk *ask, BedFileChosen chosen,
                     gpointer user_data);

/* An AdwMessageDialog without responses yet; more may be put into the box that is its extra child.
 * @text may be NULL. */
GtkWidget *bed_message_new (GtkWindow *window, const char *heading, const char *text);

/* One sentence that must be read; for what a toast is too small for. */
void bed_tell (GtkWidget *inside, const char *heading, const char *text);

/* A question that undo cannot replace: @agreed is called (user_data, "agree", the dialog) when the
 * person presses @agree. */
typedef struct
{
  const char *heading; /* all translated */
  const char *text;
  const char *agree; /* "Close without saving" */
  const char *stay;  /* "Keep typing" */
} BedQuestion;

/* The dialog, borrowed: what @agreed needs may live with it. */
GtkWidget *bed_ask (GtkWidget *inside, const BedQuestion *question, GCallback agreed,
                    gpointer user_data);

/* The same for a way on that destroys nothing. */
GtkWidget *bed_offer (GtkWidget *inside, const BedQuestion *question, GCallback agreed,
                      gpointer user_data);

/* In the program that the desktop has for it; says so where there is none. */
void bed_open_uri (GtkWidget *inside, const char *uri);

/* @sources: whose published numbers stand in the program; ends with NULL. */
void bed_show_about (GtkWidget *inside, const char *const *sources);

/* What a column view of GTK 4.8 does not offer. */
void bed_scroll_to_row (GtkColumnView *view, guint position);
void bed_align_head_end (GtkColumnView *view, guint column);

/* GTK 4.18 tells a screen reader no name of an item of a menu (a GtkPopoverMenu): call this for
 * each menu. */
void bed_name_menu (GtkWidget *menu);

/* The same for what a GtkMenuButton opens; and GTK 4.18 has a button within it that is called by
 * nothing: by its label, or its tooltip. */
void bed_name_menu_button (GtkWidget *button);

/* GTK 4.8 tells a screen reader of every page of a stack as if all were seen: call
 * this for each child. */
void bed_hide_unseen (GtkWidget *child);

/* Adds @child to @stack under @name, and does that. */
void bed_stack_add (GtkWidget *stack, GtkWidget *child, const char *name);
