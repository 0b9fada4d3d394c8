#pragma once

#include "app/yard/yard_tiles.h"
#include "app/yard/yard_view.h"
#include "print/yard/yard_names.h"
#include "yard/features.h"
#include "yard/handle.h"
#include "yard/square.h"

/* Shared by yard_view.c (the widget), yard_view_draw.c (what is seen), yard_view_changes.c
 * (what is drawn anew), yard_view_advice.c (what is warned of), yard_view_hand.c (what is
 * carried), yard_view_shape.c (what is drawn and shaped), yard_view_fields.c (its numbers),
 * yard_view_input.c (the pointer) and yard_view_keys.c. */

typedef enum
{
  BED_HOLD_NOTHING,
  BED_HOLD_GROUND,  /* panning */
  BED_HOLD_BAND,    /* choosing */
  BED_HOLD_MEASURE, /* measuring, or about to */
  BED_HOLD_THINGS,  /* dragging or nudging all that is chosen */
  BED_HOLD_KNOB,    /* turning a stack */
  BED_HOLD_KIND,    /* a new stack, not yet put down */
  BED_HOLD_DRAW,    /* a new thing on the ground, not yet there */
  BED_HOLD_SHAPE,   /* a handle of one, or of the area's outline */
} BedYardHold;

struct _BedYardView
{
  GtkWidget parent_instance;
  BedYard *yard;
  BedScene *scene;
  GHashTable *index;   /* see bed_things_index() */
  GHashTable *drawn;   /* what the pieces show, to know what changed: see yard_view_changes.c */
  GHashTable *looks;   /* BedStackLook by the gint64 of its stack; NULL: not yet known */
  GHashTable *looking; /* the same as it is found out */
  guint look_source, looked;
  BedTypesetter *type;
  BedYardStyle style;
  BedNotation notation;
  BedYardNames *names;
  BedYardTiles *tiles;
  BedViewport view;
  gboolean own_view; /* someone zoomed or panned: no longer fitted to the area */
  BedYardMode mode;
  GArray *walk;     /* BedThing of each spot, in the order they are walked */
  GPtrArray *spots; /* GtkWidget, borrowed */
  GArray *chosen;   /* BedThing */

  BedYardHold hold;
  BedThing gripped;     /* the one of what is chosen that is lined up with others */
  BedMotion motion;     /* of all that is held since it was taken up */
  BedSnapLine lines[2]; /* what it lines up with */
  guint n_lines;
  gboolean loose;        /* Alt: nothing is lined up */
  GdkTexture *picture;   /* of what is held; NULL: too large for one */
  BedExtent picture_of;  /* the ground it shows */
  BedPoint press;        /* where the button went down, screen */
  BedPoint grip;         /* where that took hold: it may have lined up, screen */
  BedPoint band_to;      /* BED_HOLD_BAND, BED_HOLD_MEASURE: the other end, screen */
  gboolean pressed;      /* the button is down: what is drawn gets its size */
  BedViewport view_from; /* when panning began */
  gboolean panned;       /* by the middle button, with something new in the hand */
  gboolean keep_chosen;  /* Shift: the band adds to what was chosen */
  gboolean again;        /* Shift: another of what was put down */
  gboolean is_leaving;   /* by Ctrl+Tab: Tab walks nothing */
  gboolean space;        /* the space bar is down: a drag pans */
  gboolean space_used;

  BedYard *sketch_yard; /* one new stack, or one thing on the ground as it is being drawn */
  BedScene *sketch;
  BedStackKind kind; /* BED_HOLD_KIND */
  guint drawn_kind;  /* BED_HOLD_DRAW, BED_HOLD_SHAPE: BED_N_FEATURE_KINDS: the outline */
  gint64 shaped;     /* BED_HOLD_SHAPE: which; 0: the outline */
  BedGround ground;  /* as it is being drawn; its points are the view's own */
  BedGround from;    /* BED_HOLD_SHAPE: as it was */
  guint n_set;       /* of the points of a band or polygon, without the one at the pointer */
  gboolean square;   /* BED_HOLD_DRAW: each side at a right angle to the last */
  BedHandle handle;  /* under the pointer, or in the hand */
  gboolean on_handle;
  gint64 handle_of;      /* 0: the outline */
  BedPoint pointer;      /* where it was last seen, screen */
  gboolean pointer_seen; /* since something new is in the hand */
  guint zoomed_source;
  guint nudge_source; /* sets what was nudged down after a while */
  guint rest_source;  /* gives the spots their places when looking about is over */
};

/* --- yard_view.c --- */

/* The index of that stack in the yard; the number of the spot with the keyboard; -1 for none. */
int bed_yard_view_find (BedYardView *self, gint64 stack);
int bed_yard_view_find_focused (BedYardView *self);

/* The keyboard to the spot of @thing, or to the drawing where it has none. */
void bed_yard_view_focus_thing (BedYardView *self, const BedThing *thing);

/* The grid stacks are set down on, metres: 0.1 m, or a quarter of a foot. */
double bed_yard_view_grid (BedYardView *self);

/* What spot @i says is what there is to say of it now. */
void bed_yard_view_name_spot (BedYardView *self, guint i);

/* Shows what changed among what does not move; in the view. */
void bed_yard_view_view_changed (BedYardView *self);

/* --- yard_view_draw.c --- */

void bed_yard_view_draw (BedYardView *self, GtkSnapshot *snapshot);

/* Where the turning handle of what is chosen is on the screen; FALSE when there is none. */
gboolean bed_yard_view_handle (BedYardView *self, BedPoint *at);

/* What is held is drawn once, then carried about. */
void bed_yard_view_take_picture (BedYardView *self);

/* --- yard_view_plan.c --- */

void bed_yard_view_draw_plan (BedYardView *self, GtkSnapshot *snapshot);

/* --- yard_view_changes.c --- */

/* The pieces that show what is no longer so are drawn anew; all look otherwise and are drawn
 * anyway.
 */
void bed_yard_view_show_changes (BedYardView *self);
void bed_yard_view_note_drawn (BedYardView *self);

/* --- yard_view_advice.c --- */

/* What the trade warns of is found out when there is time; or no more. */
void bed_yard_view_begin_looking (BedYardView *self);
void bed_yard_view_stop_looking (BedYardView *self);

void bed_yard_view_draw_advice (BedYardView *self, GtkSnapshot *snapshot);

/* The stack whose mark is there, or 0; its sentences, empty when there are none. */
gint64 bed_yard_view_hit_advice (BedYardView *self, BedPoint screen);
char *bed_yard_view_dup_advice (BedYardView *self, gint64 stack);

/* --- yard_view_hand.c --- */

gboolean bed_yard_view_is_held (BedYardView *self, const BedThing *thing);

/* Where that stack stands, or would if it was set down now. */
BedPose bed_yard_view_pose (BedYardView *self, const BedYardStack *stack);

void bed_yard_view_take_up (BedYardView *self, BedYardHold hold, const BedThing *gripped);
void bed_yard_view_set_down (BedYardView *self);
void bed_yard_view_carry (BedYardView *self, BedPoint by);
void bed_yard_view_carry_to (BedYardView *self, BedPoint screen);
void bed_yard_view_turn_to (BedYardView *self, BedPoint screen);
void bed_yard_view_nudge (BedYardView *self, BedPoint by, double turn);
void bed_yard_view_hand_changed (BedYardView *self);

/* Nothing in the hand, without a word of what was. */
void bed_yard_view_empty_hand (BedYardView *self);

/* Whether what is done is done to another thing than the pointer's press begins. */
gboolean bed_yard_view_has_new (BedYardView *self);

/* --- yard_view_shape.c --- */

/* The handles there are to take; element BedHandle, owned. @of: of what; NULL when there is none.
 * Those of the outline are taken where nothing else is. */
GArray *bed_yard_view_list_handles (BedYardView *self, gint64 *of);
gboolean bed_yard_view_find_handle (BedYardView *self, BedPoint screen);
void bed_yard_view_take_handle (BedYardView *self);
void bed_yard_view_drag_handle (BedYardView *self, BedPoint screen, BedAngles angles);

/* What is drawn follows the pointer; a point of it is set there; the last is taken back. */
void bed_yard_view_draw_to (BedYardView *self, BedPoint screen);
void bed_yard_view_draw_press (BedYardView *self, BedPoint screen);
void bed_yard_view_draw_release (BedYardView *self);
void bed_yard_view_set_point (BedYardView *self);
void bed_yard_view_nudge_drawn (BedYardView *self, BedPoint by, double turn);

/* A side of a right-angled outline, after its first: it goes one way or back. */
gboolean bed_yard_view_is_square_side (BedYardView *self);

/* BedPoint, as they would be if the drawing was ended here. */
GArray *bed_yard_view_dup_points (BedYardView *self);
gboolean bed_yard_view_unset_point (BedYardView *self);
gboolean bed_yard_view_is_many (BedYardView *self);

/* What is in the hand is that now; it is put down, or becomes what the handle is of. */
void bed_yard_view_sketch_ground (BedYardView *self);
void bed_yard_view_end_drawing (BedYardView *self);

/* --- yard_view_input.c, yard_view_keys.c --- */

void bed_yard_view_init_input (BedYardView *self);
void bed_yard_view_init_keys (BedYardView *self);
