#pragma once

#include <gtk/gtk.h>

/* A list of suggestions under an entry. Down and Up walk it while one types on;
 * Esc closes it. Whoever owns the entry fills it after each key.
 *
 * Signal "chosen" (guint tag, gint64 id, const char *text): clicked, or
 * bed_suggest_take(). */
#define BED_TYPE_SUGGEST (bed_suggest_get_type ())
G_DECLARE_FINAL_TYPE (BedSuggest, bed_suggest, BED, SUGGEST, GtkPopover)

/* Becomes a child of @over, which must unparent it in its dispose; @entry keeps the keyboard. */
BedSuggest *bed_suggest_new (GtkWidget *over, GtkWidget *entry);

typedef struct
{
  guint tag; /* the owner's: a kind, or what else the row stands for */
  gint64 id;
  const char *text;
  const char *detail; /* dim, NULL for none */
} BedSuggestion;

void bed_suggest_clear (BedSuggest *self);
void bed_suggest_add (BedSuggest *self, const BedSuggestion *suggestion);

/* A line that cannot be chosen. */
void bed_suggest_say (BedSuggest *self, const char *text);

/* Opens when there is something to show, else closes; the first that can be chosen is selected. */
void bed_suggest_present (BedSuggest *self);

/* Chooses the selected row; FALSE when closed or none is selected. */
gboolean bed_suggest_take (BedSuggest *self);
