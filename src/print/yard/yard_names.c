#include "print/yard/yard_names.h"

/* With fewer heights of text to a metre than this, names, then contents, are left out. */
#define NAMES_FROM 1.25
#define CONTENTS_FROM 3.6

#define CONTENTS_SIZE 0.9 /* of a name's */

typedef struct
{
  char *contents;                    /* NULL until it is wanted */
  double name_width, contents_width; /* at text size 1; 0 until it is wanted */
  gboolean is_shown, has_contents;
  BedBox box;
} Name;

struct _BedYardNames
{
  const BedScene *scene;
  const BedYardStyle *style;
  double scale;   /* laid out for; 0: for none */
  GArray *names;  /* Name of each stack */
  guint measured; /* of them, from the first */
};

static Name *
get_name (const BedYardNames *self, guint index)
{
  return &g_array_index (self->names, Name, index);
}

static const BedYardStack *
get_stack (const BedYardNames *self, guint index)
{
  return self->scene->yard->stacks->pdata[index];
}

/* The footprint's box. */
static BedBox
find_foot (const BedYardNames *self, guint index)
{
  BedPoint corners[4], low = { G_MAXDOUBLE, G_MAXDOUBLE }, high = { -G_MAXDOUBLE, -G_MAXDOUBLE };

  bed_yard_footprint (self->scene, index, &get_stack (self, index)->pose, corners);
  for (guint i = 0; i < 4; i++)
    {
      low = (BedPoint){ MIN (low.x, corners[i].x), MIN (low.y, -corners[i].y) };
      high = (BedPoint){ MAX (high.x, corners[i].x), MAX (high.y, -corners[i].y) };
    }
  return (BedBox){ low.x * self->scale, low.y * self->scale, (high.x - low.x) * self->scale,
                   (high.y - low.y) * self->scale };
}

static gboolean
overlap (const BedBox *a, const BedBox *b)
{
  return a->x < b->x + b->width && b->x < a->x + a->width && a->y < b->y + b->height
         && b->y < a->y + a->height;
}

static gboolean
is_free (const BedYardNames *self, guint index, const BedBox *box)
{
  for (guint i = 0; i < index; i++)
    if (get_name (self, i)->is_shown && overlap (&get_name (self, i)->box, box))
      return FALSE;
  return TRUE;
}

/* Under the stack, or above it where another name has that place, or across it, or nowhere. */
static gboolean
find_room (const BedYardNames *self, guint index, const BedBox *foot, BedBox *box)
{
  double line = self->style->text_size;
  const double tops[] = { foot->y + foot->height + 0.3 * line, foot->y - box->height - 0.3 * line,
                          foot->y + (foot->height - box->height) / 2 };

  for (guint i = 0; i < G_N_ELEMENTS (tops); i++)
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
    name->name_width = bed_text_width (self->style->type, stack->name, BED_WEIGHT_BOLD, 1);
  if (!contents || name->contents)
    return;
  name->contents = bed_yard_stack_contents (stack);
  name->contents_width
      = bed_text_width (self->style->type, name->contents, BED_WEIGHT_REGULAR, CONTENTS_SIZE);
}

static void
lay_name (BedYardNames *self, guint index)
{
  Name *name = get_name (self, index);
  double size = self->style->text_size;
  BedBox foot = find_foot (self, index), box;

  name->has_contents = self->scale >= CONTENTS_FROM * size;
  measure_name (self, index, name->has_contents);
  box.width = size * MAX (name->name_width, name->has_contents ? name->contents_width : 0) + 4;
  box.height = (name->has_contents ? 2.25 : 1) * size;
  box.x = foot.x + (foot.width - box.width) / 2;
  name->is_shown = find_room (self, index, &foot, &box);
  name->box = box;
}

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

  cairo_rectangle (cr, box->x, box->y, box->width, box->height);
  bed_colour_fill (cr, &palette->ground, 0.6); /* read over grid, hatch and logs */
  bed_colour_set (cr, &palette->text, 1);
  show_centred (self, cr, get_stack (self, index)->name, BED_WEIGHT_BOLD, size,
                (BedPoint){ middle, box->y + 0.9 * size });
  if (!name->has_contents)
    return;
  bed_colour_set (cr, &palette->dim, 1);
  show_centred (self, cr, name->contents, BED_WEIGHT_REGULAR, CONTENTS_SIZE * size,
                (BedPoint){ middle, box->y + 2.05 * size });
}

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
  g_array_set_size (self->names, scene->yard->stacks->len);
  return self;
}

void
bed_yard_names_free (BedYardNames *self)
{
  g_array_unref (self->names);
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
      if (get_stack (self, self->measured)->name)
        measure_name (self, self->measured, TRUE);
    }
  return TRUE;
}

void
bed_yard_names_lay (BedYardNames *self, double scale)
{
  if (scale == self->scale)
    return;
  self->scale = scale;
  for (guint i = 0; i < self->names->len; i++)
    {
      get_name (self, i)->is_shown = FALSE;
      if (get_stack (self, i)->name && scale >= NAMES_FROM * self->style->text_size)
        lay_name (self, i);
    }
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
bed_plan_draw (cairo_t *cr, const BedPlan *plan)
{
  g_autoptr (BedYardNames) names = bed_yard_names_new (plan->scene, plan->style);

  bed_plan_draw_ground (cr, plan);
  for (guint i = 0; i < plan->scene->yard->stacks->len; i++)
    bed_plan_draw_stack (cr, plan, i);
  bed_yard_names_lay (names, plan->view.scale);
  bed_yard_names_draw (names, cr, &plan->view);
  bed_plan_draw_north (cr, plan);
  bed_plan_draw_scale_bar (cr, plan);
}
