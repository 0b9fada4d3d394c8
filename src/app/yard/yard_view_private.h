#pragma once

#include "app/yard/yard_tiles.h"
#include "app/yard/yard_view.h"
#include "print/yard/yard_names.h"
#include "yard/corner.h"
#include "yard/snap.h"

/* Shared by yard_view.c (the widget), yard_view_draw.c (what is seen), yard_view_hand.c (what is
 * held), yard_view_input.c (the pointer) and yard_view_keys.c. */

typedef enum
{
  BED_HOLD_NOTHING,
  BED_HOLD_GROUND, /* panning */
  BED_HOLD_BAND,   /* choosing */
  BED_HOLD_THINGS, /* dragging or nudging all that is chosen */
  BED_HOLD_HANDLE, /* turning it */
  BED_HOLD_KIND,   /* a new stack, not yet put down */
  BED_HOLD_CORNER, /* of the area or of something in it */
} BedYardHold;

struct _BedYardView
{
  GtkWidget parent_instance;
  BedYard *yard;
  BedScene *scene;
  GHashTable *index; /* see bed_things_index() */
  GHashTable *drawn; /* what the pieces show, to know what changed: see yard_view_draw.c */
  BedTypesetter *type;
  BedYardStyle style;
  BedYardNames *names;
  BedYardTiles *tiles;
  BedViewport view;
  gboolean own_view; /* someone zoomed or panned: no longer fitted to the area */
  BedYardMode mode;
  GArray *walk;     /* BedYardThing of each spot, in the order they are walked */
  GPtrArray *spots; /* GtkWidget, borrowed */
  GArray *chosen;   /* BedYardThing */

  BedYardHold hold;
  BedYardThing gripped;  /* the one of them that is lined up with others */
  BedPoint pivot;        /* of all that is held, where it was taken up */
  BedPoint by;           /* how far it was carried since */
  double turn;           /* and turned */
  int beside;            /* the neighbour it lines up with, or -1 */
  GdkTexture *picture;   /* of what is held; NULL: too large for one */
  BedExtent picture_of;  /* the ground it shows */
  BedPoint grip;         /* where the pointer took it, screen */
  BedPoint band_to;      /* BED_HOLD_BAND: the other corner, screen */
  BedViewport view_from; /* when panning began */
  gboolean keep_chosen;  /* Shift: the band adds to what was chosen */
  gboolean space;        /* the space bar is down: a drag pans */
  gboolean space_used;
  BedStackKind kind;   /* BED_HOLD_KIND */
  BedScene *new_scene; /* BED_HOLD_KIND: the yard with the new stack as its last */
  BedYard *new_yard;
  BedPoint pointer;      /* where it was last seen, screen */
  gboolean pointer_seen; /* since a new stack is in the hand */
  gboolean on_corner;    /* the pointer is on ->corner, or has it in the hand */
  BedCorner corner;
  BedPoint corner_from; /* where it was taken up */
  guint zoomed_source;
  guint nudge_source; /* sets what was nudged down after a while */
  guint rest_source;  /* gives the spots their places when looking about is over */
};

/* --- yard_view.c --- */

/* The index of that stack in the yard; the number of the spot with the keyboard; -1 for none. */
int bed_yard_view_find (BedYardView *self, gint64 stack);
int bed_yard_view_find_focused (BedYardView *self);

/* The keyboard to the spot of @thing, or to the drawing where it has none. */
void bed_yard_view_focus_thing (BedYardView *self, const BedYardThing *thing);

/* The grid stacks are set down on, metres: 0.1 m, or a quarter of a foot. */
double bed_yard_view_grid (BedYardView *self);

/* Shows what changed among what does not move; in the view. */
void bed_yard_view_view_changed (BedYardView *self);

/* --- yard_view_draw.c --- */

void bed_yard_view_draw (BedYardView *self, GtkSnapshot *snapshot);

/* Where the turning handle of what is chosen is on the screen; FALSE when there is none. */
gboolean bed_yard_view_handle (BedYardView *self, BedPoint *at);

/* What is held is drawn once, then carried about. */
void bed_yard_view_take_picture (BedYardView *self);

/* The pieces that show what is no longer so are drawn anew. */
void bed_yard_view_show_changes (BedYardView *self);

/* The ground is drawn anew at once, where @part of it changed. */
void bed_yard_view_ground_changed (BedYardView *self, const BedExtent *part);

/* --- yard_view_hand.c --- */

/* The scene of what is in the hand: the shown one, or the one with the new stack, and which of its
 * stacks is gripped (-1: none). */
const BedScene *bed_yard_view_hand_scene (BedYardView *self);
int bed_yard_view_gripped_stack (BedYardView *self);

/* Where stack @index of the hand's scene stands, or would if it was set down now. */
BedPose bed_yard_view_pose (BedYardView *self, guint index);
BedYardCarried bed_yard_view_get_carried (BedYardView *self);
gboolean bed_yard_view_is_held (BedYardView *self, const BedYardThing *thing);

void bed_yard_view_take_up (BedYardView *self, BedYardHold hold, const BedYardThing *gripped);
void bed_yard_view_set_down (BedYardView *self);
void bed_yard_view_carry (BedYardView *self, BedPoint by);
void bed_yard_view_carry_to (BedYardView *self, BedPoint screen);
void bed_yard_view_turn_to (BedYardView *self, BedPoint screen);
void bed_yard_view_nudge (BedYardView *self, BedPoint by, double turn);
void bed_yard_view_carry_corner (BedYardView *self, BedPoint to);
void bed_yard_view_hand_changed (BedYardView *self);

/* --- yard_view_input.c, yard_view_keys.c --- */

void bed_yard_view_init_input (BedYardView *self);
void bed_yard_view_init_keys (BedYardView *self);
