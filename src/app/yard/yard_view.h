#pragma once

#include "app/yard/yard_things.h"
#include "print/yard/yard_draw.h"
#include <gtk/gtk.h>

/* The yard seen from above. What the hand takes hold of decides what happens: the ground draws a
 * band that chooses what it touches, a thing is chosen and carried with all that is chosen, its
 * handles turn and shape it. The middle button, or Space held, pans; Ctrl and the wheel zoom at the
 * pointer. Tab walks what stands there, with a ring; keys act on what has the ring, or on all that
 * is chosen when that is among them. While something is in the hand only the picture moves: one
 * signal when it is set down; Esc lets go. Alt: nothing is lined up.
 *
 * Signals:
 *   "chosen" ()                          what is chosen changed
 *   "opened" (guint kind, gint64 id)     Enter or double press; a BedThingKind
 *   "carried" (gpointer)                 all that is chosen, set down: by a const BedMotion *
 *   "built" (guint kind, gpointer pose)  a kind of stack put down at a const BedPose *
 *   "drawn" (guint kind, gpointer)       a new thing on the ground, a const BedGround *; kind
 *                                        BED_N_FEATURE_KINDS: the area's outline
 *   "shaped" (gint64 feature, gpointer)  it has that const BedGround * now; 0: the outline
 *   "logs-dropped" (gint64 stack, gpointer)  a const GArray * of gint64 dragged onto a stack
 *   "remove" (), "duplicate" ()          what the keys are about, which is chosen then
 *   "typed" (guint)                      a character typed that nothing here has a use for
 *   "advised" ()                         what the trade warns of is known
 *   "hand" ()                            what is in the hand, or what is chosen, changed
 *   "zoomed" ()                          the scale, or the room there is, changed */
#define BED_TYPE_YARD_VIEW (bed_yard_view_get_type ())
G_DECLARE_FINAL_TYPE (BedYardView, bed_yard_view, BED, YARD_VIEW, GtkWidget)

GtkWidget *bed_yard_view_new (void);

/* Takes @yard (may be NULL). What was in the hand is let go; what is chosen stays where it still
 * is, the part looked at unless the area is another. */
void bed_yard_view_set_yard (BedYardView *self, BedYard *yard);

/* The scene being shown, or NULL; borrowed until the next set_yard. */
const BedScene *bed_yard_view_get_scene (BedYardView *self);

/* The yard itself, of whose logs more may be loaded that is not drawn; then the trade is asked
 * again what it warns of. NULL where there is none; borrowed until the next set_yard. */
BedYard *bed_yard_view_get_yard (BedYardView *self);
void bed_yard_view_look_again (BedYardView *self);

/* What the trade warns of, as far as it is known: BedStackLook by the gint64 of its stack. NULL
 * before the first "advised"; borrowed until the next. */
GHashTable *bed_yard_view_get_looks (BedYardView *self);

void bed_yard_view_set_colour_by (BedYardView *self, BedColourBy colour_by);

/* Of the lengths written in it; before the first set_yard. */
void bed_yard_view_set_notation (BedYardView *self, const BedNotation *notation);

/* Another day's yard can be looked at, not changed. */
typedef enum
{
  BED_YARD_LOOK,
  BED_YARD_CHANGE
} BedYardMode;

void bed_yard_view_set_mode (BedYardView *self, BedYardMode mode);

/* Element BedThing, the first chosen first; borrowed until the next signal "chosen". */
const GArray *bed_yard_view_get_chosen (BedYardView *self);

/* Chooses exactly @things (copied). */
void bed_yard_view_choose (BedYardView *self, const GArray *things);
void bed_yard_view_choose_all (BedYardView *self);

/* The one stack that is chosen; 0 when there is none, or more than one thing is. Choosing it. */
gint64 bed_yard_view_get_selected (BedYardView *self);
void bed_yard_view_select (BedYardView *self, gint64 stack);

/* Brings all that is chosen in sight; nothing moves when it is. */
void bed_yard_view_show_chosen (BedYardView *self);

/* Gives the keyboard to what is chosen, or to the drawing. */
void bed_yard_view_focus_selected (BedYardView *self);

/* --- the hand --- */

/* The next press puts a stack of that kind down; Enter puts it in the middle, Esc lets go. */
void bed_yard_view_place (BedYardView *self, BedStackKind kind);

/* What is drawn beside things of a BedFeatureKind: the area's outline; the same with each side at a
 * right angle to the last. */
enum
{
  BED_DRAW_OUTLINE = BED_N_FEATURE_KINDS,
  BED_DRAW_SQUARE_OUTLINE,
};

/* The next press draws a thing of that kind. A press alone puts one of usual size down, a drag
 * gives its size; what has many points takes one with each press, or Space, gives the last back for
 * Backspace, and ends with Enter or a double press. */
void bed_yard_view_draw_thing (BedYardView *self, guint kind);

/* The next drag measures. */
void bed_yard_view_take_tape (BedYardView *self);

/* Lets go of what is in the hand, and shows the yard as it is. */
void bed_yard_view_let_go (BedYardView *self);

/* What is in the hand, or else what is chosen, in words; empty when there is nothing. Free with
 * g_free(). */
char *bed_yard_view_dup_hand (BedYardView *self, const BedNotation *notation);

/* The numbers that say where it is and how large: metres, radians. */
typedef struct
{
  const char *label; /* translated */
  BedMeasure measure;
  double value;
  gboolean is_side; /* several may be typed, "12 m, 8 m": one side after the other */
} BedHandField;

#define BED_HAND_FIELDS 5
guint bed_yard_view_get_fields (BedYardView *self, BedHandField fields[BED_HAND_FIELDS]);

/* What was typed in their place, exactly: sets down what is in the hand, moves or shapes what is
 * chosen. */
void bed_yard_view_set_fields (BedYardView *self, const double values[BED_HAND_FIELDS]);

/* --- looking --- */

void bed_yard_view_zoom (BedYardView *self, double factor);
void bed_yard_view_pan (BedYardView *self, double dx, double dy);
void bed_yard_view_fit (BedYardView *self);

/* Screen units to a metre. */
double bed_yard_view_get_scale (BedYardView *self);
