#include "app/yard/yard_view_private.h"

#include <glib/gi18n.h>
#include <math.h>

#include "model/farm/kinds.h"
#include "model/farm/say.h"
#include "science/language.h"
#include "science/units.h"

#define NEAR 10.0 /* m: a neighbour farther off is not spoken of */

/* --- numbers -------------------------------------------------------------------- */

static guint
add_field (BedHandField *fields, guint n, const char *label, double value)
{
  fields[n] = (BedHandField){ label, BED_MEASURE_LENGTH_LONG, value, FALSE };
  return n + 1;
}

static guint
add_turn (BedHandField *fields, guint n, double value)
{
  fields[n] = (BedHandField){ _ ("Turned"), BED_MEASURE_ANGLE, value, FALSE };
  return n + 1;
}

static guint
add_place (BedHandField *fields, BedPoint at)
{
  return add_field (fields, add_field (fields, 0, _ ("West"), at.x), _ ("South"), at.y);
}

static BedPoint *
get_point (const BedGround *ground, guint i)
{
  return &g_array_index (ground->points, BedPoint, i);
}

/* The corner nearest to the area's origin, by which what has many points is placed. */
static BedPoint
find_corner (const BedGround *ground)
{
  BedPoint corners[4];
  BedShape shape = bed_ground_get_shape (ground, corners);

  shape.radius = 0;
  BedExtent extent = bed_shape_extent (&shape);
  return (BedPoint){ extent.x, extent.y };
}

static guint
list_ground (const BedGround *ground, BedHandField *fields)
{
  gboolean box = ground->form == BED_GROUND_BOX, band = ground->form == BED_GROUND_BAND;
  gboolean many = band || ground->form == BED_GROUND_POLYGON;
  guint n = add_place (fields, many ? find_corner (ground) : *get_point (ground, 0));

  if (box || band)
    n = add_field (fields, n, _ ("Width"), ground->width);
  if (box)
    n = add_turn (fields, add_field (fields, n, _ ("Depth"), ground->depth), ground->turn);
  if (ground->form == BED_GROUND_DISC)
    n = add_field (fields, n, _ ("Radius"), ground->radius);
  return n;
}

/* Lengths that are none stay what they were. */
static void
set_length (double *length, double value)
{
  if (value > 0)
    *length = value;
}

/* Of what gets its size from the pointer at this moment: no more than that. */
static guint
list_size (const BedGround *ground, BedHandField *fields)
{
  if (ground->form == BED_GROUND_DISC)
    return add_field (fields, 0, _ ("Radius"), ground->radius);
  return add_field (fields, add_field (fields, 0, _ ("Width"), ground->width), _ ("Depth"),
                    ground->depth);
}

/* The corner where it was begun stays. */
static void
set_size (BedYardView *self, const double *values)
{
  BedGround *ground = &self->ground;
  BedPoint from = bed_viewport_to_world (&self->view, self->grip), *middle = get_point (ground, 0);

  if (ground->form == BED_GROUND_DISC)
    {
      set_length (&ground->radius, values[0]);
      return;
    }
  set_length (&ground->width, values[0]);
  set_length (&ground->depth, values[1]);
  middle->x = from.x + (middle->x < from.x ? -0.5 : 0.5) * ground->width;
  middle->y = from.y + (middle->y < from.y ? -0.5 : 0.5) * ground->depth;
}

static gboolean
is_sizing (BedYardView *self)
{
  return self->hold == BED_HOLD_DRAW && self->pressed
         && (self->ground.form == BED_GROUND_BOX || self->ground.form == BED_GROUND_DISC);
}

static void
set_ground (BedGround *ground, const double *values)
{
  gboolean box = ground->form == BED_GROUND_BOX, band = ground->form == BED_GROUND_BAND;
  BedPoint from = band || ground->form == BED_GROUND_POLYGON ? find_corner (ground)
                                                             : *get_point (ground, 0);
  BedMotion motion = { .by = { values[0] - from.x, values[1] - from.y } };

  bed_motion_ground (&motion, ground);
  if (box || band)
    set_length (&ground->width, values[2]);
  if (box)
    {
      set_length (&ground->depth, values[3]);
      ground->turn = values[4];
    }
  if (ground->form == BED_GROUND_DISC)
    set_length (&ground->radius, values[2]);
}

/* The next point of a band or polygon: where it begins, then how far on and which way. */
static guint
list_next_point (BedYardView *self, BedHandField *fields)
{
  BedPoint to = *get_point (&self->ground, self->n_set);
  gboolean band = self->ground.form == BED_GROUND_BAND;

  if (self->n_set == 0)
    return add_place (fields, to);
  BedPoint from = *get_point (&self->ground, self->n_set - 1);
  guint n = add_field (fields, 0, _ ("Length"), hypot (to.x - from.x, to.y - from.y));
  fields[0].is_side = self->square;
  if (bed_yard_view_is_square_side (self))
    return n;
  n = add_turn (fields, n, atan2 (to.y - from.y, to.x - from.x));
  return band ? add_field (fields, n, _ ("Width"), self->ground.width) : n;
}

static void
set_next_point (BedYardView *self, const double *values)
{
  BedPoint *to = get_point (&self->ground, self->n_set);

  if (self->n_set == 0)
    *to = (BedPoint){ values[0], values[1] };
  else if (bed_yard_view_is_square_side (self))
    *to = bed_square_next (self->ground.points, self->n_set, *to, values[0]);
  else
    {
      BedPoint from = *get_point (&self->ground, self->n_set - 1);
      *to = (BedPoint){ from.x + values[0] * cos (values[1]),
                        from.y + values[0] * sin (values[1]) };
      if (self->ground.form == BED_GROUND_BAND)
        set_length (&self->ground.width, values[2]);
    }
  bed_yard_view_set_point (self);
}

/* Both ends of the measuring line. */
static guint
list_tape (BedYardView *self, BedHandField *fields)
{
  BedPoint from = bed_viewport_to_world (&self->view, self->grip);
  BedPoint to = bed_viewport_to_world (&self->view, self->band_to);
  guint n = add_field (fields, 0, _ ("From west"), from.x);

  n = add_field (fields, n, _ ("From south"), from.y);
  n = add_field (fields, n, _ ("To west"), to.x);
  return add_field (fields, n, _ ("To south"), to.y);
}

static void
set_tape (BedYardView *self, const double *values)
{
  self->grip = bed_viewport_to_screen (&self->view, (BedPoint){ values[0], values[1] });
  self->band_to = bed_viewport_to_screen (&self->view, (BedPoint){ values[2], values[3] });
  bed_yard_view_hand_changed (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* The stack the numbers are of: a new one, or the only one chosen. */
static const BedYardStack *
get_stack (BedYardView *self)
{
  int index = bed_yard_view_find (self, bed_yard_view_get_selected (self));

  if (self->hold == BED_HOLD_KIND)
    return self->sketch_yard->stacks->pdata[0];
  return index >= 0 ? self->yard->stacks->pdata[index] : NULL;
}

static gboolean
get_chosen_ground (BedYardView *self, gint64 *feature, BedGround *ground)
{
  BedThing one = bed_things_get_only (self->chosen);

  *feature = one.id;
  return one.id != 0 && one.kind == BED_THING_FEATURE
         && bed_feature_get_ground (self->yard, one.id, ground);
}

guint
bed_yard_view_get_fields (BedYardView *self, BedHandField fields[BED_HAND_FIELDS])
{
  BedGround ground;
  gint64 feature;

  g_return_val_if_fail (BED_IS_YARD_VIEW (self), 0);
  if (self->hold == BED_HOLD_MEASURE)
    return list_tape (self, fields);
  if (self->hold == BED_HOLD_DRAW && bed_yard_view_is_many (self))
    return list_next_point (self, fields);
  if (is_sizing (self))
    return list_size (&self->ground, fields);
  if (self->hold == BED_HOLD_DRAW || self->hold == BED_HOLD_SHAPE)
    return list_ground (&self->ground, fields);
  const BedYardStack *stack = get_stack (self);
  if (stack)
    {
      BedPose pose = bed_yard_view_pose (self, stack);
      return add_turn (fields, add_place (fields, (BedPoint){ pose.x, pose.y }), pose.turn);
    }
  if (self->hold == BED_HOLD_NOTHING && get_chosen_ground (self, &feature, &ground))
    return list_ground (&ground, fields);
  if (self->chosen->len == 0)
    return 0;
  guint n = add_field (fields, 0, _ ("East"), self->motion.by.x);
  n = add_field (fields, n, _ ("North"), self->motion.by.y);
  return add_turn (fields, n, self->motion.turn);
}

/* --- what was typed ------------------------------------------------------------- */

static void
set_stack (BedYardView *self, const BedYardStack *stack, const double *values)
{
  if (self->hold != BED_HOLD_KIND)
    bed_yard_view_take_up (self, BED_HOLD_THINGS, &g_array_index (self->chosen, BedThing, 0));
  self->motion.about = (BedPoint){ stack->pose.x, stack->pose.y };
  self->motion.by = (BedPoint){ values[0] - stack->pose.x, values[1] - stack->pose.y };
  self->motion.turn = bed_turn_normal (values[2] - stack->pose.turn);
  bed_yard_view_set_down (self);
}

static void
set_chosen (BedYardView *self, const double *values)
{
  BedGround ground;
  gint64 feature;

  if (get_chosen_ground (self, &feature, &ground))
    {
      BedGround typed = { 0 };
      bed_ground_copy (&typed, &ground);
      set_ground (&typed, values);
      g_signal_emit_by_name (self, "shaped", feature, &typed);
      g_array_unref (typed.points);
      return;
    }
  bed_yard_view_take_up (self, BED_HOLD_THINGS, &g_array_index (self->chosen, BedThing, 0));
  self->motion.by = (BedPoint){ values[0], values[1] };
  self->motion.turn = bed_turn_normal (values[2]);
  bed_yard_view_set_down (self);
}

void
bed_yard_view_set_fields (BedYardView *self, const double values[BED_HAND_FIELDS])
{
  g_return_if_fail (BED_IS_YARD_VIEW (self));
  if (self->yard && self->hold == BED_HOLD_MEASURE)
    set_tape (self, values);
  if (!self->yard || self->mode == BED_YARD_LOOK || self->hold == BED_HOLD_MEASURE)
    return;
  const BedYardStack *stack = get_stack (self);
  if (self->hold == BED_HOLD_DRAW && bed_yard_view_is_many (self))
    set_next_point (self, values);
  else if (self->hold == BED_HOLD_DRAW || self->hold == BED_HOLD_SHAPE)
    {
      if (is_sizing (self))
        set_size (self, values);
      else
        set_ground (&self->ground, values);
      bed_yard_view_end_drawing (self);
    }
  else if (stack)
    set_stack (self, stack, values);
  else if (self->chosen->len > 0)
    set_chosen (self, values);
}

/* --- words ---------------------------------------------------------------------- */

static char *
say_length (const BedNotation *notation, double metres)
{
  return bed_measure_format_unit_rounded (BED_MEASURE_LENGTH_LONG, notation, 2,
                                          (gint64) round (metres * 1e6));
}

static const char *
name_kind (BedYardView *self)
{
  if (self->drawn_kind == BED_DRAW_OUTLINE)
    return self->square ? _ ("right-angled outline") : _ ("outline");
  return bed_field_choice_label (bed_kind_find_field (BED_KIND_FEATURE, "kind", NULL),
                                 bed_feature_kind_key (self->drawn_kind));
}

/* "path: 4.4 m long, 0.8 m wide" */
static char *
say_ground (const char *name, const BedGround *ground, const BedNotation *notation)
{
  g_autofree char *size = bed_ground_describe (ground, notation);

  return bed_dup_labelled (name, size);
}

/* "Crib 3: 2.1 m from Crib 2", or what lines it up. */
static char *
say_stack (BedYardView *self, const BedYardStack *stack, const BedNotation *notation)
{
  BedPose pose = bed_yard_view_pose (self, stack);
  int index = bed_yard_view_find (self, stack->id);
  const char *kind = bed_field_choice_label (bed_kind_find_field (BED_KIND_STACK, "kind", NULL),
                                             bed_stack_kind_key (stack->kind));
  const char *name = stack->name ? stack->name : kind;
  BedMeasurement found = { 0 };
  int other = index >= 0 ? bed_yard_nearest (self->scene, (guint) index, &pose, &found) : -1;

  if (other < 0 || found.distance > NEAR)
    return g_strdup (name);
  g_autofree char *far = say_length (notation, found.distance);
  const BedYardStack *neighbour = self->yard->stacks->pdata[other];
  /* TRANSLATORS: "Crib 3: 2.1 m from Crib 2" */
  return g_strdup_printf (_ ("%s: %s from %s"), name, far, neighbour->name);
}

static char *
say_measured (BedYardView *self, const BedNotation *notation)
{
  double dx = self->band_to.x - self->grip.x, dy = self->band_to.y - self->grip.y;

  if (!self->pressed && dx == 0 && dy == 0)
    return g_strdup (_ ("Measure: drag from one place to another, or type both"));
  return say_length (notation, hypot (dx, dy) / self->view.scale);
}

static char *
say_several (BedYardView *self)
{
  guint n = self->chosen->len;

  return bed_say (ngettext ("%u thing", "%u things", n), n);
}

static char *
say_drawn (BedYardView *self, const BedNotation *notation)
{
  if (self->hold == BED_HOLD_DRAW && bed_yard_view_is_many (self) && self->n_set == 0)
    return g_strdup_printf (_ ("%s: press where it begins"), name_kind (self));
  /* Two points of an outline are not yet one. */
  if (self->ground.form == BED_GROUND_POLYGON && self->ground.points->len < 3)
    return g_strdup (name_kind (self));
  return say_ground (name_kind (self), &self->ground, notation);
}

char *
bed_yard_view_dup_hand (BedYardView *self, const BedNotation *notation)
{
  BedGround ground;
  gint64 feature;

  g_return_val_if_fail (BED_IS_YARD_VIEW (self), NULL);
  if (self->hold == BED_HOLD_MEASURE)
    return say_measured (self, notation);
  if (self->hold == BED_HOLD_DRAW || self->hold == BED_HOLD_SHAPE)
    return say_drawn (self, notation);
  const BedYardStack *stack = get_stack (self);
  if (stack)
    return say_stack (self, stack, notation);
  if (get_chosen_ground (self, &feature, &ground))
    {
      g_autofree char *name
          = bed_feature_dup_name (bed_yard_find_feature (self->yard, feature, NULL));
      return say_ground (name, &ground, notation);
    }
  return self->chosen->len > 0 ? say_several (self) : g_strdup ("");
}
