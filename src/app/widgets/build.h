#pragma once

#include <gtk/gtk.h>

/* What is seen is put together from: each hands back the widget it was given or made, so that
 * they go into each other. */

/* The children in their order, NULL ends. C does not say which of them is made first. */
GtkWidget *bed_row_new (int spacing, GtkWidget *first, ...) G_GNUC_NULL_TERMINATED;
GtkWidget *bed_column_new (int spacing, GtkWidget *first, ...) G_GNUC_NULL_TERMINATED;

/* Takes every child out of a box or a grid. */
void bed_box_clear (GtkWidget *box);

/* Spacings in px. */
GtkWidget *bed_grid_new (int column_spacing, int row_spacing);

/* A label at the left: as long as it is; cut at its end where it is too long; wrapped. @style
 * may be NULL. */
GtkWidget *bed_label_new (const char *text, const char *style);
GtkWidget *bed_line_new (const char *text, const char *style);
GtkWidget *bed_words_new (const char *text, const char *style);

/* Cuts @label at its end where there is too little room; then its tooltip is all of it. */
GtkWidget *bed_cut_off (GtkWidget *label);

/* A text of a GtkStringList in a drop-down, cut off at the end where there is little room or whole:
 * PANGO_ELLIPSIZE_END or _NONE. */
GtkListItemFactory *bed_text_factory_new (PangoEllipsizeMode cut);

/* Adds the class of the style sheet. */
GtkWidget *bed_styled (GtkWidget *widget, const char *style);

/* @name is what a screen reader says; copied. */
GtkWidget *bed_named (GtkWidget *widget, const char *name);

/* What the entry says while it is empty, NULL for nothing; whole in its tooltip. Copied. */
void bed_entry_hint (GtkWidget *entry, const char *text);

/* A button that calls @clicked (self). */
GtkWidget *bed_button_new (const char *label, GCallback clicked, gpointer self);

/* The same as the next child of @box. */
GtkWidget *bed_button_add (GtkWidget *box, const char *label, GCallback clicked, gpointer self);

/* A button for the action of that name, "record.change". */
GtkWidget *bed_action_button_new (const char *label, const char *action);

/* A flat button with nothing but an icon; @name is its tooltip and what is read of it. */
GtkWidget *bed_icon_button_new (const char *icon, const char *name);

/* A small drawing beside words that say the same: nothing is read of it. @free (may be NULL) gets
 * @data in the end. */
GtkWidget *bed_sketch_new (int width, int height, GtkDrawingAreaDrawFunc draw, gpointer data,
                           GDestroyNotify free);

/* @child behind @title, closed at first. */
GtkWidget *bed_expander_new (const char *title, GtkWidget *child);

/* @content scrolls up and down and is as wide as there is room. Named by the caller when there may
 * be nothing in it that takes the keyboard, for then it does, to scroll. */
GtkWidget *bed_scrolled_new (GtkWidget *content);

/* Makes @window one of its own over that of @inside, which cannot be used meanwhile, with a bar and
 * @content under it: gives back the bar, an AdwHeaderBar. Not shown yet. */
GtkWidget *bed_window_build (GtkWidget *window, GtkWidget *inside, const char *title,
                             GtkWidget *content);

/* @width x @height px of the usual letters, -1 as needed: it grows with them, up to the screen. */
void bed_window_set_size (GtkWidget *window, int width, int height);

/* Escape closes @window, where nothing in it has a use for it. */
void bed_window_close_on_escape (GtkWidget *window);

/* As G_DEFINE_FINAL_TYPE, for what is put together by its _new() alone and begins as zeros. */
#define BED_DEFINE_TYPE(TypeName, type_name, PARENT)                                               \
  static void type_name##_init (TypeName *self)                                                    \
  {                                                                                                \
  }                                                                                                \
  G_DEFINE_FINAL_TYPE (TypeName, type_name, PARENT)

/* The same for what overrides nothing, either. */
#define BED_DEFINE_PLAIN_TYPE(TypeName, type_name, PARENT)                                         \
  static void type_name##_class_init (TypeName##Class *klass)                                      \
  {                                                                                                \
  }                                                                                                \
  BED_DEFINE_TYPE (TypeName, type_name, PARENT)

/* A signal that gives nothing back, with the GTypes of its @n arguments. */
void bed_signal_new (GType type, const char *name, guint n, ...);
