#include "yard/scene.h"

#include <math.h>

#define DEGREE (G_PI / 180)
#define TURN_STEP (5 * DEGREE)

/* Only what stands this near is lined up with. */
#define NEAR 4.0

/* Bases about 3 ft apart: D. B. Hill, Shiitake: Incubation and Stacking (FOR-83),
 * University of Kentucky. A stack dragged beside another is drawn to that distance too. */
#define SPACING 0.9

static double
to_grid (double value, double step)
{
  return round (value / step) * step;
}

/* The candidate nearest to @value among edges flush, middles flush, side by side and a spacing
 * apart; @value itself when none is within @reach. */
static double
line_up (double value, double half, double other, double reach)
{
  const double offsets[] = { 0, other - half, other + half, other + half + SPACING };
  double best = value, nearest = reach;

  for (guint i = 0; i < G_N_ELEMENTS (offsets); i++)
    for (int side = -1; side <= 1; side += 2)
      {
        double far = fabs (value - side * offsets[i]);
        if (far > nearest)
          continue;
        nearest = far;
        best = side * offsets[i];
      }
  return best;
}

/* Lines the stack up with one neighbour. Returns how many of its axes did (0 to 2), and through
 * @pose where it then stands. */
static guint
try_neighbour (const BedScene *scene, const guint stacks[2], const BedPose *wanted, double reach,
               BedPose *pose)
{
  const BedYardStack *other = g_ptr_array_index (scene->yard->stacks, stacks[1]);
  double apart = bed_turn_normal (wanted->turn - other->pose.turn);
  double quarters = round (apart / (G_PI / 2));
  const BedPile *pile = scene->piles->pdata[stacks[0]], *there = scene->piles->pdata[stacks[1]];
  gboolean crosswise = fmod (fabs (quarters), 2) > 0.5;

  if (fabs (apart - quarters * G_PI / 2) > TURN_STEP)
    return 0;
  /* The middle of the stack in the frame of the other. */
  BedPoint was
      = bed_pose_point (&(BedPose){ 0, 0, -other->pose.turn },
                        (BedPoint){ wanted->x - other->pose.x, wanted->y - other->pose.y });
  double half_x = (crosswise ? pile->width : pile->length) / 2;
  double half_y = (crosswise ? pile->length : pile->width) / 2;
  double x = line_up (was.x, half_x, there->length / 2, reach);
  double y = line_up (was.y, half_y, there->width / 2, reach);
  BedPoint is
      = { x != was.x ? x : to_grid (x, scene->grid), y != was.y ? y : to_grid (y, scene->grid) };
  BedPoint at = bed_pose_point (&other->pose, is);
  *pose = (BedPose){ at.x, at.y, bed_turn_normal (other->pose.turn + quarters * G_PI / 2) };
  return (x != was.x) + (y != was.y);
}

double
bed_turn_normal (double turn)
{
  turn = fmod (turn, 2 * G_PI);
  if (turn > G_PI)
    turn -= 2 * G_PI;
  if (turn <= -G_PI)
    turn += 2 * G_PI;
  return turn;
}

BedSnap
bed_yard_snap (const BedScene *scene, guint index, const BedPose *wanted, double reach)
{
  BedSnap snap = { .neighbour = -1 };
  double nearest = NEAR;
  guint most = 0;

  snap.pose.x = to_grid (wanted->x, scene->grid);
  snap.pose.y = to_grid (wanted->y, scene->grid);
  snap.pose.turn = bed_turn_normal (to_grid (wanted->turn, TURN_STEP));
  for (guint i = 0; i < scene->piles->len; i++)
    {
      BedPose pose;
      double far = i == index ? G_MAXDOUBLE : bed_yard_measure (scene, index, wanted, i).distance;
      guint axes = far > NEAR ? 0
                              : try_neighbour (scene, (guint[]){ index, i }, wanted, reach, &pose);
      if (axes < most || axes == 0 || (axes == most && far >= nearest))
        continue;
      most = axes;
      nearest = far;
      snap.pose = pose;
      snap.neighbour = i;
    }
  return snap;
}

BedPose
bed_yard_beside (const BedScene *scene, guint index)
{
  const BedYardStack *stack = scene->yard->stacks->pdata[index];
  const BedPile *pile = scene->piles->pdata[index];
  const double out[][2] = { { 1, 0 }, { -1, 0 }, { 0, 1 }, { 0, -1 } };
  BedPose best = stack->pose;
  double most = -1;

  for (guint i = 0; i < G_N_ELEMENTS (out); i++)
    {
      BedPoint at = bed_pose_point (
          &stack->pose,
          (BedPoint){ out[i][0] * (pile->length + SPACING), out[i][1] * (pile->width + SPACING) });
      BedPose pose = { at.x, at.y, stack->pose.turn };
      BedMeasurement free_ground;
      double room = SPACING;
      gboolean within = pose.x > 0 && pose.y > 0 && pose.x < scene->yard->width
                        && pose.y < scene->yard->depth;
      if (bed_yard_nearest (scene, index, &pose, &free_ground) >= 0)
        room = MIN (room, free_ground.distance);
      if (within && room > most + 1e-9)
        {
          most = room;
          best = pose;
        }
    }
  return best;
}
