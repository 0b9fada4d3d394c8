#include "app/yard/yard_view_private.h"

#include <math.h>

#include "app/yard/yard_texture.h"
#include "science/units.h"

#define HANDLE_OUT 20.0 /* how far the turning handle stands off the footprint, px */

/* What is carried is one picture up to this size, px; beyond it only outlines move. */
#define MOST_PICTURE 2400.0

/* Time to draw the ground anew in, of each frame, us: what moves over it takes the rest. */
#define BUDGET 3000

#define SHADOW 5.0 /* px: how far a stack's reaches out of it */

/* --- the ground ----------------------------------------------------------------- */

static gboolean
is_seen (const BedViewport *view, const BedExtent *extent, double out)
{
  BedPoint low = bed_viewport_to_screen (view, (BedPoint){ extent->x, extent->y });
  BedPoint high = bed_viewport_to_screen (
      view, (BedPoint){ extent->x + extent->width, extent->y + extent->height });

  return high.x > -out && low.x < view->width + out && low.y > -out && high.y < view->height + out;
}

static void
draw_tile (cairo_t *cr, const BedViewport *view, gpointer data)
{
  BedYardView *self = data;
  BedPlan plan = { self->scene, &self->style, *view };

  bed_plan_draw_ground (cr, &plan);
  for (guint i = 0; i < self->yard->stacks->len; i++)
    {
      BedThing thing = { BED_THING_STACK, ((BedYardStack *) self->yard->stacks->pdata[i])->id };
      BedExtent extent = bed_shape_extent (bed_thing_find_shape (self->index, &thing));
      if (is_seen (view, &extent, SHADOW))
        bed_plan_draw_stack (cr, &plan, i);
    }
  bed_yard_names_lay (self->names, view->scale);
  bed_yard_names_draw (self->names, cr, view);
}

/* --- over it -------------------------------------------------------------------- */

static graphene_rect_t
bounds_of (const BedPoint *points, guint n, double margin)
{
  double left = G_MAXDOUBLE, right = -G_MAXDOUBLE, top = G_MAXDOUBLE, bottom = -G_MAXDOUBLE;

  for (guint i = 0; i < n; i++)
    {
      left = MIN (left, points[i].x);
      right = MAX (right, points[i].x);
      top = MIN (top, points[i].y);
      bottom = MAX (bottom, points[i].y);
    }
  return GRAPHENE_RECT_INIT ((float) floor (left - margin), (float) floor (top - margin),
                             (float) ceil (right - left + 2 * margin + 1),
                             (float) ceil (bottom - top + 2 * margin + 1));
}

/* Begins a drawing that holds those points. */
static cairo_t *
draw_over (GtkSnapshot *snapshot, const BedPoint *points, guint n, double margin)
{
  graphene_rect_t bounds = bounds_of (points, n, margin);

  return gtk_snapshot_append_cairo (snapshot, &bounds);
}

static BedPoint
to_screen (BedYardView *self, BedPoint point)
{
  return bed_viewport_to_screen (&self->view, point);
}

static void trace (BedYardView *self, cairo_t *cr, const BedShape *shape, gboolean held);

/* The two sides of a line with a width, of each of its parts by itself. */
static void
trace_sides (BedYardView *self, cairo_t *cr, const BedShape *shape, gboolean held)
{
  for (guint i = 0; i + 1 < shape->n_points; i++)
    {
      BedPoint a = shape->points[i], b = shape->points[i + 1];
      double far = hypot (b.x - a.x, b.y - a.y);
      BedPoint out = far > 0 ? (BedPoint){ -(b.y - a.y) / far * shape->radius,
                                           (b.x - a.x) / far * shape->radius }
                             : (BedPoint){ 0, 0 };
      const BedPoint corners[] = { { a.x + out.x, a.y + out.y },
                                   { b.x + out.x, b.y + out.y },
                                   { b.x - out.x, b.y - out.y },
                                   { a.x - out.x, a.y - out.y } };
      BedShape part = { .form = BED_SHAPE_AREA, .points = corners, .n_points = 4 };
      trace (self, cr, &part, held);
    }
}

/* The outline of a shape, as it is held or stands, into the path. */
static void
trace (BedYardView *self, cairo_t *cr, const BedShape *shape, gboolean held)
{
  if (shape->form == BED_SHAPE_LINE && shape->radius > 0)
    {
      trace_sides (self, cr, shape, held);
      return;
    }
  for (guint i = 0; i < shape->n_points; i++)
    {
      BedPoint point = held ? bed_motion_point (&self->motion, shape->points[i]) : shape->points[i];
      BedPoint at = to_screen (self, point);
      if (shape->form == BED_SHAPE_DISC)
        {
          cairo_new_sub_path (cr);
          cairo_arc (cr, at.x, at.y, MAX (4, shape->radius * self->view.scale), 0, 2 * G_PI);
        }
      else if (i == 0)
        cairo_move_to (cr, at.x, at.y);
      else
        cairo_line_to (cr, at.x, at.y);
    }
  if (shape->form == BED_SHAPE_AREA)
    cairo_close_path (cr);
}

static graphene_rect_t
whole (BedYardView *self)
{
  return GRAPHENE_RECT_INIT (0, 0, (float) self->view.width, (float) self->view.height);
}

static gboolean
trace_thing (BedYardView *self, cairo_t *cr, const BedThing *thing)
{
  const BedShape *shape = bed_thing_find_shape (self->index, thing);
  gboolean held = bed_yard_view_is_held (self, thing);

  if (!shape)
    return FALSE;
  BedExtent extent = bed_shape_extent (shape);
  if (held || is_seen (&self->view, &extent, 10))
    trace (self, cr, shape, held);
  return TRUE;
}

/* A frame around each thing that is chosen, all of them one path. */
static void
draw_frames (BedYardView *self, GtkSnapshot *snapshot)
{
  graphene_rect_t bounds = whole (self);

  if (self->chosen->len == 0)
    return;
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &bounds);
  for (guint i = 0; i < self->chosen->len; i++)
    trace_thing (self, cr, &g_array_index (self->chosen, BedThing, i));
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  bed_colour_stroke (cr, &self->style.palette->accent, 1, 2);
  cairo_destroy (cr);
}

/* The ring of the keyboard: around the frame, and dashed, so that one is told from the other. */
static void
draw_ring (BedYardView *self, GtkSnapshot *snapshot)
{
  int at = bed_yard_view_find_focused (self);
  graphene_rect_t bounds = whole (self);

  if (at < 0)
    return;
  const BedThing *thing = &g_array_index (self->walk, BedThing, at);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &bounds);
  trace_thing (self, cr, thing);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_path_t *path = cairo_copy_path (cr);
  bed_colour_stroke (cr, &self->style.palette->ground, 0.9, 7);
  cairo_append_path (cr, path);
  cairo_path_destroy (path);
  cairo_set_dash (cr, (const double[]){ 7, 3 }, 2, 0);
  bed_colour_stroke (cr, &self->style.palette->text, 1, 3);
  cairo_destroy (cr);
  if (bed_things_find (self->chosen, thing) >= 0)
    draw_frames (self, snapshot);
}

static void
draw_knob (BedYardView *self, GtkSnapshot *snapshot)
{
  int index = bed_yard_view_find (self, bed_yard_view_get_selected (self));
  BedPoint ends[2];

  if (!bed_yard_view_handle (self, &ends[1]))
    return;
  BedPose pose = bed_yard_view_pose (self, self->yard->stacks->pdata[index]);
  ends[0] = (BedPoint){ ends[1].x - HANDLE_OUT * cos (pose.turn),
                        ends[1].y + HANDLE_OUT * sin (pose.turn) };
  cairo_t *cr = draw_over (snapshot, ends, 2, 8);
  cairo_move_to (cr, ends[0].x, ends[0].y);
  cairo_line_to (cr, ends[1].x, ends[1].y);
  bed_colour_stroke (cr, &self->style.palette->accent, 1, 1.5);
  cairo_arc (cr, ends[1].x, ends[1].y, 5, 0, 2 * G_PI);
  bed_colour_fill (cr, &self->style.palette->accent, 1);
  cairo_destroy (cr);
}

/* Square for what goes two ways, round for what goes one. */
static void
draw_handle (BedYardView *self, cairo_t *cr, const BedHandle *handle)
{
  BedPoint at = to_screen (self, handle->point);
  gboolean round = handle->kind == BED_HANDLE_TURN || handle->kind == BED_HANDLE_RIM;

  cairo_new_sub_path (cr);
  if (round)
    cairo_arc (cr, at.x, at.y, 5, 0, 2 * G_PI);
  else
    cairo_rectangle (cr, at.x - 4, at.y - 4, 8, 8);
}

/* All of what is chosen; else the one under the pointer, which shows that it can be taken. */
static void
draw_handles (BedYardView *self, GtkSnapshot *snapshot)
{
  graphene_rect_t bounds = whole (self);
  gint64 of;
  g_autoptr (GArray) handles = bed_yard_view_list_handles (self, &of);

  if (self->hold != BED_HOLD_NOTHING || (!of && !self->on_handle))
    return;
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &bounds);
  for (guint i = 0; of && handles && i < handles->len; i++)
    draw_handle (self, cr, &g_array_index (handles, BedHandle, i));
  if (self->on_handle)
    draw_handle (self, cr, &self->handle);
  bed_colour_set (cr, &self->style.palette->around, 1);
  cairo_fill_preserve (cr);
  bed_colour_stroke (cr, &self->style.palette->accent, 1, 1.6);
  cairo_destroy (cr);
}

/* --- what is held --------------------------------------------------------------- */

static void
draw_held (BedYardView *self, cairo_t *cr, const BedViewport *view)
{
  BedPlan plan = { self->sketch ? self->sketch : self->scene, &self->style, *view };

  for (guint i = 0; i < plan.scene->shapes->len; i++)
    {
      const BedShape *shape = &g_array_index (plan.scene->shapes, BedShape, i);
      if (shape->role != BED_SHAPE_FEATURE && shape->role != BED_SHAPE_STACK)
        continue;
      BedThing thing = bed_thing_of_shape (plan.scene, shape);
      if (!self->sketch && !bed_yard_view_is_held (self, &thing))
        continue;
      if (shape->role == BED_SHAPE_STACK)
        bed_plan_draw_stack (cr, &plan, shape->owner);
      else
        bed_feature_draw (cr, &plan, shape);
    }
}

typedef struct
{
  BedYardView *self;
  BedViewport view;
} Held;

static void
draw_held_cb (cairo_t *cr, gpointer data)
{
  Held *held = data;

  draw_held (held->self, cr, &held->view);
}

/* The part of the ground that holds all that is held, with its shadows. */
static BedExtent
held_extent (BedYardView *self)
{
  double out = 2 * SHADOW / self->view.scale;
  BedExtent extent = self->sketch
                         ? bed_shape_extent (&g_array_index (self->sketch->shapes, BedShape, 0))
                         : bed_group_extent (self->scene, self->chosen);

  return (BedExtent){ extent.x - out, extent.y - out, extent.width + 2 * out,
                      extent.height + 2 * out };
}

void
bed_yard_view_take_picture (BedYardView *self)
{
  if (self->view.scale <= 0) /* nobody has seen it yet */
    return;
  BedExtent extent = held_extent (self);
  int factor = gtk_widget_get_scale_factor (GTK_WIDGET (self));
  double width = extent.width * self->view.scale, height = extent.height * self->view.scale;
  BedPoint middle = { extent.x + extent.width / 2, extent.y + extent.height / 2 };
  Held held = { self, { self->view.scale, middle, width, height } };

  g_clear_object (&self->picture);
  self->picture_of = extent;
  if (width > MOST_PICTURE || height > MOST_PICTURE || width < 1 || height < 1)
    return;
  self->picture = bed_yard_texture_new ((int) ceil (width * factor), (int) ceil (height * factor),
                                        factor, draw_held_cb, &held);
}

/* Where it was taken from: pale, so that one sees where it goes back to. */
static void
draw_ghosts (BedYardView *self, GtkSnapshot *snapshot)
{
  graphene_rect_t bounds = whole (self);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &bounds);

  for (guint i = 0; i < self->chosen->len; i++)
    {
      const BedShape *shape
          = bed_thing_find_shape (self->index, &g_array_index (self->chosen, BedThing, i));
      if (shape)
        trace (self, cr, shape, FALSE);
    }
  bed_colour_fill (cr, &self->style.palette->ground, 0.7);
  cairo_destroy (cr);
}

static void
draw_picture (BedYardView *self, GtkSnapshot *snapshot)
{
  const BedMotion *motion = &self->motion;
  BedPoint corner = { self->picture_of.x, self->picture_of.y + self->picture_of.height };
  BedPoint about = to_screen (self, motion->about), from = to_screen (self, corner);
  double scale = self->view.scale;

  gtk_snapshot_save (snapshot);
  gtk_snapshot_translate (snapshot,
                          &GRAPHENE_POINT_INIT ((float) (about.x + motion->by.x * scale),
                                                (float) (about.y - motion->by.y * scale)));
  gtk_snapshot_rotate (snapshot, (float) (-motion->turn * 180 / G_PI));
  gtk_snapshot_append_texture (snapshot, self->picture,
                               &GRAPHENE_RECT_INIT ((float) (from.x - about.x),
                                                    (float) (from.y - about.y),
                                                    (float) (self->picture_of.width * scale),
                                                    (float) (self->picture_of.height * scale)));
  gtk_snapshot_restore (snapshot);
}

/* A line with its length at its middle. */
static void
draw_measure (BedYardView *self, GtkSnapshot *snapshot, const BedPoint ends[2], double metres)
{
  g_autofree char *label
      = g_strdup_printf ("%.2f %s", metres / bed_yard_unit (self->style.system),
                         bed_measure_unit (BED_MEASURE_LENGTH_LONG, self->style.system));
  double size = self->style.text_size;
  double width = bed_text_width (self->type, label, BED_WEIGHT_BOLD, size);
  BedPoint middle = { (ends[0].x + ends[1].x) / 2, (ends[0].y + ends[1].y) / 2 };
  cairo_t *cr = draw_over (snapshot, ends, 2, 60);

  cairo_move_to (cr, ends[0].x, ends[0].y);
  cairo_line_to (cr, ends[1].x, ends[1].y);
  bed_colour_stroke (cr, &self->style.palette->accent, 1, 1.5);
  if (metres > 0)
    {
      cairo_rectangle (cr, middle.x - width / 2 - 3, middle.y - 5 - size, width + 6, 1.4 * size);
      bed_colour_fill (cr, &self->style.palette->ground, 0.8);
      bed_colour_set (cr, &self->style.palette->text, 1);
      bed_text_show (self->type, cr, label, BED_WEIGHT_BOLD, size, middle.x - width / 2,
                     middle.y - 5);
    }
  cairo_destroy (cr);
}

/* What it lines up with, and how far that is. */
static void
draw_lines (BedYardView *self, GtkSnapshot *snapshot)
{
  for (guint i = 0; i < self->n_lines; i++)
    {
      const BedSnapLine *line = &self->lines[i];
      BedPoint ends[] = { to_screen (self, line->from), to_screen (self, line->to) };
      draw_measure (self, snapshot, ends, line->distance);
    }
}

/* The footprint of a new stack: a frame, as what is chosen has. */
static void
draw_new_frame (BedYardView *self, GtkSnapshot *snapshot)
{
  const BedYardStack *stack = self->sketch_yard->stacks->pdata[0];
  BedPose pose = bed_yard_view_pose (self, stack);
  BedPoint corners[4];

  bed_yard_footprint (self->sketch, 0, &pose, corners);
  for (guint i = 0; i < 4; i++)
    corners[i] = to_screen (self, corners[i]);
  cairo_t *cr = draw_over (snapshot, corners, 4, 6);
  for (guint i = 0; i < 4; i++)
    cairo_line_to (cr, corners[i].x, corners[i].y);
  cairo_close_path (cr);
  bed_colour_stroke (cr, &self->style.palette->accent, 1, 2);
  cairo_destroy (cr);
}

/* What is being drawn or shaped, and over it its points. */
static void
draw_sketch (BedYardView *self, GtkSnapshot *snapshot)
{
  graphene_rect_t bounds = whole (self);
  BedPoint corners[4];
  BedGround ground = self->ground;
  g_autoptr (GArray) ended = self->square ? bed_yard_view_dup_points (self) : NULL;

  if (ended)
    ground.points = ended;
  BedShape shape = bed_ground_get_shape (&ground, corners);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &bounds);
  if (self->sketch)
    draw_held (self, cr, &self->view);
  trace (self, cr, &shape, FALSE);
  bed_colour_stroke (cr, &self->style.palette->accent, 1, 1.6);
  for (guint i = 0; i < self->ground.points->len; i++)
    {
      BedPoint at = to_screen (self, g_array_index (self->ground.points, BedPoint, i));
      cairo_new_sub_path (cr);
      cairo_arc (cr, at.x, at.y, 3, 0, 2 * G_PI);
    }
  bed_colour_fill (cr, &self->style.palette->accent, 1);
  cairo_destroy (cr);
}

static void
draw_tape (BedYardView *self, GtkSnapshot *snapshot)
{
  BedPoint ends[] = { self->grip, self->band_to };
  double far = hypot (ends[1].x - ends[0].x, ends[1].y - ends[0].y);

  if (far > 0)
    draw_measure (self, snapshot, ends, far / self->view.scale);
}

static void
draw_band (BedYardView *self, GtkSnapshot *snapshot)
{
  BedPoint ends[] = { self->grip, self->band_to };
  cairo_t *cr = draw_over (snapshot, ends, 2, 3);

  cairo_rectangle (cr, ends[0].x, ends[0].y, ends[1].x - ends[0].x, ends[1].y - ends[0].y);
  bed_colour_set (cr, &self->style.palette->accent, 0.15);
  cairo_fill_preserve (cr);
  bed_colour_stroke (cr, &self->style.palette->accent, 1, 1);
  cairo_destroy (cr);
}

/* As much of the map as they take: a node as large as all of it costs as much as the ground. */
static void
draw_marks (BedYardView *self, GtkSnapshot *snapshot)
{
  BedPlan plan = { self->scene, &self->style, self->view };
  float size = (float) (4 * self->style.text_size);
  graphene_rect_t north = GRAPHENE_RECT_INIT ((float) self->view.width - size, 0, size, size);
  graphene_rect_t scale = GRAPHENE_RECT_INIT (0, (float) self->view.height - size, 6 * size, size);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &north);

  bed_plan_draw_north (cr, &plan);
  cairo_destroy (cr);
  cr = gtk_snapshot_append_cairo (snapshot, &scale);
  bed_plan_draw_scale_bar (cr, &plan);
  cairo_destroy (cr);
}

/* --- all of it ------------------------------------------------------------------ */

/* What is not drawn yet. */
static void
fill_ground (BedYardView *self, GtkSnapshot *snapshot)
{
  const BedYardColour *colour = &self->style.palette->around;
  graphene_rect_t bounds = whole (self);

  gtk_snapshot_append_color (
      snapshot, &(GdkRGBA){ (float) colour->red, (float) colour->green, (float) colour->blue, 1 },
      &bounds);
}

static gboolean
draw_on_cb (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  gtk_widget_queue_draw (widget);
  return G_SOURCE_REMOVE;
}

static void
draw_hand (BedYardView *self, GtkSnapshot *snapshot)
{
  if (self->hold == BED_HOLD_KIND)
    draw_new_frame (self, snapshot);
  else if (self->hold == BED_HOLD_DRAW || self->hold == BED_HOLD_SHAPE)
    draw_sketch (self, snapshot);
  else if (self->hold == BED_HOLD_BAND)
    draw_band (self, snapshot);
  else if (self->hold == BED_HOLD_MEASURE)
    draw_tape (self, snapshot);
  draw_lines (self, snapshot);
}

void
bed_yard_view_draw (BedYardView *self, GtkSnapshot *snapshot)
{
  int factor = gtk_widget_get_scale_factor (GTK_WIDGET (self));
  gboolean carries = self->hold == BED_HOLD_THINGS || self->hold == BED_HOLD_KNOB;

  if (!self->tiles)
    self->tiles = bed_yard_tiles_new (draw_tile, self);
  if (!self->drawn)
    bed_yard_view_show_changes (self);
  fill_ground (self, snapshot);
  if (!bed_yard_tiles_snapshot (self->tiles, snapshot, &self->view, factor, BUDGET)
      || !bed_yard_names_measure (self->names, BUDGET))
    gtk_widget_add_tick_callback (GTK_WIDGET (self), draw_on_cb, NULL, NULL);
  draw_marks (self, snapshot);
  bed_yard_view_draw_plan (self, snapshot);
  bed_yard_view_draw_advice (self, snapshot);
  if (carries)
    draw_ghosts (self, snapshot);
  if (self->picture)
    draw_picture (self, snapshot);
  draw_frames (self, snapshot);
  draw_ring (self, snapshot);
  draw_knob (self, snapshot);
  draw_handles (self, snapshot);
  draw_hand (self, snapshot);
}

gboolean
bed_yard_view_handle (BedYardView *self, BedPoint *at)
{
  int index = bed_yard_view_find (self, bed_yard_view_get_selected (self));
  BedPoint corners[4];

  if (index < 0 || self->mode == BED_YARD_LOOK || bed_yard_view_has_new (self))
    return FALSE;
  BedPose pose = bed_yard_view_pose (self, self->yard->stacks->pdata[index]);
  bed_yard_footprint (self->scene, (guint) index, &pose, corners);
  BedPoint side = to_screen (
      self, (BedPoint){ (corners[1].x + corners[2].x) / 2, (corners[1].y + corners[2].y) / 2 });
  at->x = side.x + HANDLE_OUT * cos (pose.turn);
  at->y = side.y - HANDLE_OUT * sin (pose.turn);
  return TRUE;
}
