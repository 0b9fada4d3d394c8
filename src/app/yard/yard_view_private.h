#pragma once

#include "app/yard/yard_view.h"
#include "yard/corner.h"
#include "yard/snap.h"

/* Shared by yard_view.c (what is seen) and yard_view_input.c (pointer and keys). */

typedef enum
{
  BED_HOLD_NOTHING,
  BED_HOLD_GROUND, /* panning */
  BED_HOLD_STACK,  /* dragging or nudging */
  BED_HOLD_HANDLE, /* turning */
  BED_HOLD_KIND,   /* a new stack, not yet put down */
  BED_HOLD_CORNER, /* of the area or of something in it */
} BedYardHold;

struct _BedYardView
{
  GtkWidget parent_instance;
  BedYard *yard;
  BedScene *scene;
  BedTypesetter *type;
  BedYardStyle style;
  BedViewport view;
  gboolean own_view; /* someone zoomed or panned: no longer fitted to the area */
  BedYardMode mode;
  GskRenderNode *still; /* what does not move; NULL: to be drawn anew */
  int still_without;    /* the stack it leaves out */
  GPtrArray *spots;     /* GtkWidget of each stack, borrowed */
  gint64 selected;

  BedYardHold hold;
  int moving;            /* index of the stack in the hand, or -1 */
  BedPose pose;          /* where it would come to stand */
  BedPose from;          /* where it was taken up */
  int beside;            /* the neighbour it lines up with, or -1 */
  BedPoint grip;         /* where the pointer took it, screen */
  BedViewport view_from; /* when panning began */
  BedStackKind kind;     /* BED_HOLD_KIND */
  BedScene *new_scene;   /* BED_HOLD_KIND: the yard with the new stack as its last */
  BedYard *new_yard;
  BedPoint pointer;      /* where it was last seen, screen */
  gboolean pointer_seen; /* since a new stack is in the hand */
  gboolean on_corner;    /* the pointer is on ->corner, or has it in the hand */
  BedCorner corner;
  BedPoint corner_from; /* where it was taken up */
  guint zoomed_source;
  guint nudge_source; /* sets a nudged stack down after a while */
};

/* Adds the gestures and keys. */
void bed_yard_view_init_input (BedYardView *self);

/* Where the turning handle of the selected stack is on the screen; FALSE when there is none. */
gboolean bed_yard_view_handle (BedYardView *self, BedPoint *at);

/* The scene of what is in the hand: the shown one, or the one with the new stack. */
const BedScene *bed_yard_view_hand_scene (BedYardView *self);

/* The grid stacks are set down on, metres: 0.1 m, or a quarter of a foot. */
double bed_yard_view_grid (BedYardView *self);

/* Shows what changed among what does not move; in the view. */
void bed_yard_view_ground_changed (BedYardView *self);
void bed_yard_view_view_changed (BedYardView *self);

/* The index of that stack; of the one with the keyboard; -1 for none. */
int bed_yard_view_find (BedYardView *self, gint64 stack);
int bed_yard_view_find_focused (BedYardView *self);
