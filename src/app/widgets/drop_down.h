#pragma once

#include <gtk/gtk.h>

/* A drop-down that is read aloud: its name, and what is chosen in it. @words is taken; NULL for
 * later. @name may be NULL: see below. */
GtkWidget *bed_drop_down_new (GtkStringList *words, const char *name);

/* For one that a label names: the label is its name, and this what is read where the keyboard is.
 */
void bed_drop_down_set_name (GtkDropDown *drop, const char *name);

/* A letter finds a word in a long list. */
void bed_drop_down_let_search (GtkDropDown *drop);
