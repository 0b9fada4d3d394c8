#pragma once

#include "model/farm/record.h"
#include <gtk/gtk.h>

/* What one types records into. Nobody keeps a list of these: they are found in the tree of a
 * window, hidden ones too, and a window that closes asks before their typing is lost. */
#define BED_TYPE_TYPING (bed_typing_get_type ())
G_DECLARE_INTERFACE (BedTyping, bed_typing, BED, TYPING, GtkWidget)

struct _BedTypingInterface
{
  GTypeInterface parent_interface;

  /* What was typed here and not saved, as a whole sentence: "Half typed and not saved: purchase.".
   * NULL when nothing was. */
  char *(*dup_words) (BedTyping *self);
};

/* That sentence for a new record. */
char *bed_typing_dup_half (BedKind kind);

/* Whether somebody sees typing of theirs in @inside. */
gboolean bed_typing_is_seen (GtkWidget *inside);

/* FALSE when there is no typing in @inside or, where that is a window, in those over it. Else asks,
 * says each in words, and either goes to the first or calls @leave (user_data); where such a
 * question stands in the window already, nothing but that one is asked. Goes with @inside. */
gboolean bed_typing_ask (GtkWidget *inside, GCallback leave, gpointer user_data);

/* From now on @window does not close over typing without asking. */
void bed_typing_guard (GtkWindow *window);
