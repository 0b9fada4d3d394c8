#include "print/yard/yard_names.h"

#include <math.h>

#include "yard/ground.h"

/* With fewer heights of text to a metre than this, labels, names, then contents, are left out. */
#define LABELS_FROM 1.0
#define NAMES_FROM 1.25
#define CONTENTS_FROM 3.6

#define CONTENTS_SIZE 0.9 /* of a name's */
#define LABEL_SIZE 0.92

typedef struct
{
  char *contents;                    /* NULL until it is wanted */
  double name_width, contents_width; /* at text size 1; 0 until it is wanted */
  gboolean is_shown, has_contents;
  BedBox box;
} Name;

/* Where a stack stands: metres, y down. */
typedef struct
{
  guint index;
  BedPoint corners[4];
  double left, right, top, bottom;
} Foot;

struct _BedYardNames
{
  const BedScene *scene;
  const BedYardStyle *style;
  double scale;   /* laid out for; 0: for none */
  BedBox limits;  /* as wide as nothing: none */
  GArray *names;  /* Name of each stack, then of each feature */
  GArray *feet;   /* Foot, from left to right */
  guint *feet_of; /* stack -> its place among them */
  double widest;  /* of them, metres */
  guint measured; /* names, from the first */
};

static Name *
get_name (const BedYardNames *self, guint index)
{
  return &g_array_index (self->names, Name, index);
}

/* NULL for a feature. */
static const BedYardStack *
get_stack (const BedYardNames *self, guint index)
{
  const GPtrArray *stacks = self->scene->yard->stacks;

  return index < stacks->len ? stacks->pdata[index] : NULL;
}

static const BedYardFeature *
get_feature (const BedYardNames *self, guint index)
{
  return self->scene->yard->features->pdata[index - self->scene->yard->stacks->len];
}

/* NULL: it has none. */
static const char *
get_text (const BedYardNames *self, guint index)
{
  const BedYardStack *stack = get_stack (self, index);

  return stack ? stack->name : get_feature (self, index)->label;
}

/* --- what is in the way ------------------------------------------------------ */

static int
compare_feet (gconstpointer a, gconstpointer b)
{
  double left = ((const Foot *) a)->left, than = ((const Foot *) b)->left;

  return left < than ? -1 : left > than;
}

static void
find_feet (BedYardNames *self)
{
  guint n = self->scene->yard->stacks->len;

  self->feet = g_array_sized_new (FALSE, FALSE, sizeof (Foot), n);
  self->feet_of = g_new0 (guint, n);
  for (guint i = 0; i < n; i++)
    {
      Foot foot = { i, { { 0 } }, G_MAXDOUBLE, -G_MAXDOUBLE, G_MAXDOUBLE, -G_MAXDOUBLE };
      bed_yard_footprint (self->scene, i, &get_stack (self, i)->pose, foot.corners);
      for (guint j = 0; j < 4; j++)
        {
          BedPoint *corner = &foot.corners[j];
          corner->y = -corner->y;
          foot.left = MIN (foot.left, corner->x);
          foot.right = MAX (foot.right, corner->x);
          foot.top = MIN (foot.top, corner->y);
          foot.bottom = MAX (foot.bottom, corner->y);
        }
      self->widest = MAX (self->widest, foot.right - foot.left);
      g_array_append_val (self->feet, foot);
    }
  g_array_sort (self->feet, compare_feet);
  for (guint i = 0; i < n; i++)
    self->feet_of[g_array_index (self->feet, Foot, i).index] = i;
}

static gboolean
overlap (const BedBox *a, const BedBox *b)
{
  return a->x < b->x + b->width && b->x < a->x + a->width && a->y < b->y + b->height
         && b->y < a->y + a->height;
}

/* Whether a side of the footprint has it on one hand and the box on the other. */
static gboolean
is_apart (const Foot *foot, const BedBox *box)
{
  const BedPoint corners[] = { { box->x, box->y },
                               { box->x + box->width, box->y },
                               { box->x, box->y + box->height },
                               { box->x + box->width, box->y + box->height } };

  for (guint side = 0; side < 4; side++)
    {
      BedPoint a = foot->corners[side], b = foot->corners[(side + 1) % 4];
      BedPoint inside = foot->corners[(side + 2) % 4];
      double dx = b.x - a.x, dy = b.y - a.y;
      double hand = dx * (inside.y - a.y) - dy * (inside.x - a.x);
      gboolean apart = TRUE;
      for (guint i = 0; apart && i < 4; i++)
        apart = (dx * (corners[i].y - a.y) - dy * (corners[i].x - a.x)) * hand <= 0;
      if (apart)
        return TRUE;
    }
  return FALSE;
}

/* Whether a stack other than @own stands on the box. */
static gboolean
is_on_stack (const BedYardNames *self, guint own, const BedBox *box)
{
  BedBox at = { box->x / self->scale, box->y / self->scale, box->width / self->scale,
                box->height / self->scale };
  guint low = 0, high = self->feet->len;

  while (low < high)
    {
      guint middle = (low + high) / 2;
      if (g_array_index (self->feet, Foot, middle).left < at.x - self->widest)
        low = middle + 1;
      else
        high = middle;
    }
  for (; low < self->feet->len; low++)
    {
      const Foot *foot = &g_array_index (self->feet, Foot, low);
      if (foot->left >= at.x + at.width)
        return FALSE;
      if (foot->index != own && foot->right > at.x && foot->bottom > at.y
          && foot->top < at.y + at.height && !is_apart (foot, &at))
        return TRUE;
    }
  return FALSE;
}

static gboolean
is_free (const BedYardNames *self, guint index, const BedBox *box)
{
  const BedBox *limits = &self->limits;

  if (limits->width > 0
      && (box->x < limits->x || box->y < limits->y
          || box->x + box->width > limits->x + limits->width
          || box->y + box->height > limits->y + limits->height))
    return FALSE;
  for (guint i = 0; i < index; i++)
    if (get_name (self, i)->is_shown && overlap (&get_name (self, i)->box, box))
      return FALSE;
  return !is_on_stack (self, index, box);
}

/* --- places ------------------------------------------------------------------ */

/* Whether what has its middle there is named on this sheet. */
static gboolean
is_here (const BedYardNames *self, BedPoint middle)
{
  const BedBox *limits = &self->limits;

  return limits->width == 0
         || (middle.x >= limits->x && middle.x <= limits->x + limits->width && middle.y >= limits->y
             && middle.y <= limits->y + limits->height);
}

/* Not over the edge of the sheet where a step aside helps. */
static double
keep_within (const BedYardNames *self, double x, double width)
{
  const BedBox *limits = &self->limits;

  return limits->width > width ? CLAMP (x, limits->x, limits->x + limits->width - width) : x;
}

static gboolean
find_room (const BedYardNames *self, guint index, const double *tops, guint n, BedBox *box)
{
  box->x = keep_within (self, box->x, box->width);
  for (guint i = 0; i < n; i++)
    {
      box->y = tops[i];
      if (is_free (self, index, box))
        return TRUE;
    }
  return FALSE;
}

static void
measure_name (BedYardNames *self, guint index, gboolean contents)
{
  Name *name = get_name (self, index);
  const BedYardStack *stack = get_stack (self, index);

  if (name->name_width == 0)
    name->name_width = bed_text_width (self->style->type, get_text (self, index),
                                       stack ? BED_WEIGHT_BOLD : BED_WEIGHT_REGULAR,
                                       stack ? 1 : LABEL_SIZE);
  if (!stack || !contents || name->contents)
    return;
  name->contents = bed_yard_stack_contents (stack);
  name->contents_width
      = bed_text_width (self->style->type, name->contents, BED_WEIGHT_REGULAR, CONTENTS_SIZE);
}

/* Under the stack, or above it where something has that place, or across it, or nowhere. */
static gboolean
lay_name (BedYardNames *self, guint index, gboolean contents)
{
  Name *name = get_name (self, index);
  double line = self->style->text_size, scale = self->scale;
  const Foot *foot = &g_array_index (self->feet, Foot, self->feet_of[index]);
  BedBox *box = &name->box;

  measure_name (self, index, contents);
  name->has_contents = contents;
  box->width = line * MAX (name->name_width, contents ? name->contents_width : 0) + 4;
  box->height = (contents ? 2.25 : 1) * line;
  BedPoint middle
      = { (foot->left + foot->right) / 2 * scale, (foot->top + foot->bottom) / 2 * scale };
  box->x = middle.x - box->width / 2;
  const double tops[] = { foot->bottom * scale + 0.3 * line,
                          foot->top * scale - box->height - 0.3 * line,
                          middle.y - box->height / 2 };
  return is_here (self, middle) && find_room (self, index, tops, G_N_ELEMENTS (tops), box);
}

/* The label in the middle of the feature; under what would be hidden by it, in the upper edge of a
 * cloth, which has others under it. */
static gboolean
lay_label (BedYardNames *self, guint index)
{
  const BedYardFeature *feature = get_feature (self, index);
  Name *name = get_name (self, index);
  double size = LABEL_SIZE * self->style->text_size, y = 0, top = G_MAXDOUBLE;
  BedPoint corners[4], middle = { 0, 0 };
  BedShape shape = bed_ground_get_shape (&feature->ground, corners);

  measure_name (self, index, FALSE);
  for (guint i = 0; i < shape.n_points; i++)
    {
      middle.x += shape.points[i].x * self->scale / shape.n_points;
      middle.y -= shape.points[i].y * self->scale / shape.n_points;
      top = MIN (top, -shape.points[i].y * self->scale);
    }
  y = middle.y;
  if (shape.form == BED_SHAPE_DISC)
    y += MIN (shape.radius * self->scale * 0.45, 2.2 * size) + size * 0.4;
  if (feature->kind == BED_FEATURE_SHADE_CLOTH && shape.form == BED_SHAPE_AREA)
    y = top + size;
  else if (feature->kind == BED_FEATURE_TAP || feature->kind == BED_FEATURE_FENCE)
    y += 1.2 * size; /* beside it, not through it */
  else if (feature->kind == BED_FEATURE_BUILDING)
    y -= 0.9 * size; /* above the ridge */
  name->box.width = name->name_width * self->style->text_size;
  name->box.height = 1.1 * size;
  name->box.x = middle.x - name->box.width / 2;
  y -= name->box.height / 2;
  const double tops[] = { y, y - 1.4 * size, y + 1.4 * size };
  return is_here (self, middle) && find_room (self, index, tops, G_N_ELEMENTS (tops), &name->box);
}

/* --- drawing ----------------------------------------------------------------- */

static void
show_centred (BedYardNames *self, cairo_t *cr, const char *text, BedTextWeight weight, double size,
              BedPoint at)
{
  double width = bed_text_width (self->style->type, text, weight, size);

  bed_text_show (self->style->type, cr, text, weight, size, at.x - width / 2, at.y);
}

static void
draw_name (BedYardNames *self, cairo_t *cr, guint index, const BedBox *box)
{
  const Name *name = get_name (self, index);
  const BedPalette *palette = self->style->palette;
  double size = self->style->text_size, middle = box->x + box->width / 2;
  gboolean of_stack = get_stack (self, index) != NULL;

  if (of_stack)
    {
      cairo_rectangle (cr, box->x, box->y, box->width, box->height);
      bed_colour_fill (cr, &palette->ground, 0.6); /* read over grid, hatch and logs */
    }
  bed_colour_set (cr, of_stack ? &palette->text : &palette->dim, 1);
  show_centred (self, cr, get_text (self, index), of_stack ? BED_WEIGHT_BOLD : BED_WEIGHT_REGULAR,
                of_stack ? size : LABEL_SIZE * size,
                (BedPoint){ middle, box->y + (of_stack ? 0.9 : 0.83) * size });
  if (!name->has_contents)
    return;
  bed_colour_set (cr, &palette->dim, 1);
  show_centred (self, cr, name->contents, BED_WEIGHT_REGULAR, CONTENTS_SIZE * size,
                (BedPoint){ middle, box->y + 2.05 * size });
}

/* --- public ------------------------------------------------------------------ */

static void
clear_name (gpointer data)
{
  g_free (((Name *) data)->contents);
}

BedYardNames *
bed_yard_names_new (const BedScene *scene, const BedYardStyle *style)
{
  BedYardNames *self = g_new0 (BedYardNames, 1);

  self->scene = scene;
  self->style = style;
  self->names = g_array_new (FALSE, TRUE, sizeof (Name));
  g_array_set_clear_func (self->names, clear_name);
  g_array_set_size (self->names, scene->yard->stacks->len + scene->yard->features->len);
  find_feet (self);
  return self;
}

void
bed_yard_names_free (BedYardNames *self)
{
  g_array_unref (self->names);
  g_array_unref (self->feet);
  g_free (self->feet_of);
  g_free (self);
}

gboolean
bed_yard_names_measure (BedYardNames *self, gint64 budget)
{
  gint64 until = g_get_monotonic_time () + budget;

  for (; self->measured < self->names->len; self->measured++)
    {
      if (g_get_monotonic_time () >= until)
        return FALSE;
      if (get_text (self, self->measured))
        measure_name (self, self->measured, TRUE);
    }
  return TRUE;
}

void
bed_yard_names_limit (BedYardNames *self, const BedBox *limits)
{
  self->limits = *limits;
  self->scale = 0;
}

void
bed_yard_names_lay (BedYardNames *self, double scale)
{
  double heights = scale / self->style->text_size;

  if (scale == self->scale)
    return;
  self->scale = scale;
  for (guint i = 0; i < self->names->len; i++)
    {
      Name *name = get_name (self, i);
      name->is_shown = FALSE;
      name->has_contents = FALSE;
      if (!get_text (self, i))
        continue;
      if (!get_stack (self, i))
        name->is_shown = heights >= LABELS_FROM && lay_label (self, i);
      else if (heights >= NAMES_FROM)
        name->is_shown = (heights >= CONTENTS_FROM && lay_name (self, i, TRUE))
                         || lay_name (self, i, FALSE);
    }
}

guint
bed_yard_names_get_n (const BedYardNames *self)
{
  return self->names->len;
}

gboolean
bed_yard_names_get (const BedYardNames *self, guint index, BedBox *box)
{
  *box = get_name (self, index)->box;
  return get_name (self, index)->is_shown;
}

void
bed_yard_names_draw (BedYardNames *self, cairo_t *cr, const BedViewport *view)
{
  BedPoint origin = bed_viewport_to_screen (view, (BedPoint){ 0, 0 });
  BedBox seen = { 0, 0, view->width, view->height };

  for (guint i = 0; i < self->names->len; i++)
    {
      BedBox box;
      if (!bed_yard_names_get (self, i, &box))
        continue;
      box.x += origin.x;
      box.y += origin.y;
      if (overlap (&box, &seen))
        draw_name (self, cr, i, &box);
    }
}

void
bed_plan_draw (cairo_t *cr, const BedPlan *plan, BedYardNames *names)
{
  bed_plan_draw_ground (cr, plan);
  for (guint i = 0; i < plan->scene->yard->stacks->len; i++)
    if (bed_plan_sees_stack (plan, i))
      bed_plan_draw_stack (cr, plan, i);
  bed_yard_names_lay (names, plan->view.scale);
  bed_yard_names_draw (names, cr, &plan->view);
}
