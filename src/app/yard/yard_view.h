#pragma once

#include "app/yard/yard_things.h"
#include "print/yard/yard_draw.h"
#include <gtk/gtk.h>

/* The yard seen from above. What the hand takes hold of decides what happens: the ground draws a
 * band that chooses what it touches, a thing is chosen and carried with all that is chosen, its
 * handle turns it. The middle button, or Space held, pans; Ctrl and the wheel zoom at the pointer.
 * Tab walks what stands there, with a ring; keys act on what has the ring, or on all that is chosen
 * when that is among them. While something is in the hand only the picture moves: one signal when
 * it is set down; Esc lets go.
 *
 * Signals:
 *   "chosen" ()                          what is chosen changed
 *   "opened" (guint kind, gint64 id)     Enter or double press
 *   "carried" (gpointer)                 set down: a const BedYardCarried *
 *   "built" (guint kind, gpointer pose)  a kind of stack put down at a const BedPose *
 *   "log-dropped" (gint64 stack, gint64 log)  a log dragged onto a stack
 *   "shaped" (gpointer corner, gpointer point)  a const BedCorner * (yard/corner.h) of the area or
 *                                        of something in it, set down at a const BedPoint *
 *   "remove" (), "duplicate" ()          what the keys are about, which is chosen then
 *   "typed" (guint)                      a character typed that nothing here has a use for
 *   "hand" ()                            what bed_yard_view_get_hand() says changed
 *   "zoomed" ()                          the scale changed */
#define BED_TYPE_YARD_VIEW (bed_yard_view_get_type ())
G_DECLARE_FINAL_TYPE (BedYardView, bed_yard_view, BED, YARD_VIEW, GtkWidget)

GtkWidget *bed_yard_view_new (void);

/* Takes @yard (may be NULL). What was in the hand is let go; what is chosen stays where it still
 * is, the part looked at unless the area is another. */
void bed_yard_view_set_yard (BedYardView *self, BedYard *yard);

/* The scene being shown, or NULL; borrowed until the next set_yard. */
const BedScene *bed_yard_view_get_scene (BedYardView *self);

void bed_yard_view_set_colour_by (BedYardView *self, BedColourBy colour_by);

/* Of the lengths written in it; before the first set_yard. */
void bed_yard_view_set_system (BedYardView *self, BedSystem system);

/* Another day's yard can be looked at, not changed. */
typedef enum
{
  BED_YARD_LOOK,
  BED_YARD_CHANGE
} BedYardMode;

void bed_yard_view_set_mode (BedYardView *self, BedYardMode mode);

/* Element BedYardThing, the first chosen first; borrowed until the next signal "chosen". */
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

/* How all that is carried moves: turned by @turn about @pivot, then moved by @by. */
typedef struct
{
  const GArray *things; /* BedYardThing */
  BedPoint by, pivot;
  double turn;
} BedYardCarried;

/* Where a pose comes to be. */
BedPose bed_yard_carried_pose (const BedYardCarried *carried, const BedPose *pose);

typedef enum
{
  BED_HAND_EMPTY,
  BED_HAND_CHOSEN, /* nothing is held; some things are chosen */
  BED_HAND_CARRIES,
  BED_HAND_NEW_STACK,
} BedYardHandState;

typedef struct
{
  BedYardHandState state;
  guint n;            /* things chosen or carried */
  BedYardThing thing; /* when there is one */
  BedStackKind kind;  /* of a new stack */
  BedPose pose;       /* of one stack, old or new */
  BedPoint by;        /* of several: so far */
  double turn;
  double distance;       /* to the nearest neighbour of a stack in the hand; negative: none near */
  const char *neighbour; /* its name; borrowed until the next change */
} BedYardHand;

void bed_yard_view_get_hand (BedYardView *self, BedYardHand *hand);

/* One stack to stand at @pose; several things to move by @by and turn; then set down. */
void bed_yard_view_set_pose (BedYardView *self, const BedPose *pose);
void bed_yard_view_set_moved (BedYardView *self, BedPoint by, double turn);

/* The next press puts a stack of that kind down; Enter puts it in the middle, Esc lets go. */
void bed_yard_view_place (BedYardView *self, BedStackKind kind);

/* Lets go of what is in the hand, and shows the yard as it is. */
void bed_yard_view_let_go (BedYardView *self);

/* --- looking --- */

void bed_yard_view_zoom (BedYardView *self, double factor);
void bed_yard_view_pan (BedYardView *self, double dx, double dy);
void bed_yard_view_fit (BedYardView *self);

/* Screen units to a metre. */
double bed_yard_view_get_scale (BedYardView *self);
