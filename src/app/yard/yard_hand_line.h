#pragma once

#include "app/widgets/part.h"
#include "app/yard/yard_view.h"

/* The line under the map: what the hand holds or points at, in numbers that can be typed. Tab goes
 * from one to the next, Enter sets them all, Esc gives the keyboard back. At its end one types, or
 * scans, the code of a log or the name of a stack, to be shown where it is.
 *
 * Signals: "set" (gpointer const double *, as the fields), "find" (const char *), "left" (). */
#define BED_TYPE_YARD_HAND_LINE (bed_yard_hand_line_get_type ())
G_DECLARE_FINAL_TYPE (BedYardHandLine, bed_yard_hand_line, BED, YARD_HAND_LINE, BedPart)

GtkWidget *bed_yard_hand_line_new (void);

/* Where @n is 0 nothing can be typed but a code. What is half typed stays as it is typed. */
void bed_yard_hand_line_show (BedYardHandLine *self, const char *sentence,
                              const BedHandField *fields, guint n, const BedNotation *notation);

/* Begins the first number, or where that is none a code, with that character; 0: a code, empty. */
void bed_yard_hand_line_type (BedYardHandLine *self, gunichar character);
