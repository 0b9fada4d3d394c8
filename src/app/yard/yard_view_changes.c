#include "app/yard/yard_view_private.h"

/* A stack's shadow, a feature's lines reach this far out of it, px. */
#define SHADOW 5.0
#define LINE 10.0

/* One thing as it was drawn: what it looked like, and how much of the ground shows it. */
typedef struct
{
  guint64 looks;
  BedExtent extent;
} Drawn;

/* FNV-1a, 64 bits: G. Fowler, L. C. Noll, K.-P. Vo; of numbers eight bytes at a time. */
static guint64
mix_one (guint64 hash, guint64 bits)
{
  return (hash ^ bits) * G_GUINT64_CONSTANT (1099511628211);
}

static guint64
mix (guint64 hash, const double *numbers, gsize n)
{
  for (gsize i = 0; i < n; i++)
    {
      const union
      {
        double number;
        guint64 bits;
      } each = { numbers[i] };
      hash = mix_one (hash, each.bits);
    }
  return hash;
}

static guint64
mix_points (guint64 hash, const BedPoint *points, guint n)
{
  for (guint i = 0; i < n; i++)
    hash = mix (hash, (const double[]){ points[i].x, points[i].y }, 2);
  return hash;
}

/* One that is missing is another than one that is empty. */
static guint64
mix_text (guint64 hash, const char *text)
{
  for (const char *at = text; at && *at; at++)
    hash = mix_one (hash, (guchar) *at);
  return mix_one (hash, text ? 0 : 0xff);
}

static guint64
mix_log (const BedYardView *self, guint64 hash, const BedYardLog *log)
{
  const BedYardStyle *style = &self->style;
  const double measures[] = { log->length,
                              log->diameter,
                              log->colonised,
                              log->retired,
                              log->tier,
                              log->slot,
                              bed_colour_by_class (style->colour_by, style->system, log) };

  hash = mix (hash, measures, G_N_ELEMENTS (measures));
  return mix_text (mix_text (hash, log->code), log->batch);
}

static guint64
stack_looks (BedYardView *self, const BedShape *shape)
{
  const BedYardStack *stack = self->yard->stacks->pdata[shape->owner];
  const BedPile *pile = self->scene->piles->pdata[shape->owner];
  const double measures[] = { stack->pose.x, stack->pose.y, stack->pose.turn, pile->length,
                              pile->width,   stack->kind,   pile->tiers,      pile->per_tier };
  guint64 hash = mix (1, measures, G_N_ELEMENTS (measures));

  for (guint i = 0; i < stack->logs->len; i++)
    hash = mix_log (self, hash, stack->logs->pdata[i]);
  return mix_text (hash, stack->name);
}

static guint64
feature_looks (BedYardView *self, const BedShape *shape)
{
  const BedYardFeature *feature = self->yard->features->pdata[shape->owner];
  guint64 hash = mix (2, (const double[]){ shape->radius, feature->kind }, 2);

  return mix_points (hash, shape->points, shape->n_points);
}

/* What stands for the whole of it: the same in all that is drawn. */
static guint64
ground_looks (BedYardView *self)
{
  const double measures[] = { self->yard->width, self->yard->depth, self->style.system };
  const GArray *outline = self->yard->outline;

  return mix_points (mix (3, measures, G_N_ELEMENTS (measures)), (const BedPoint *) outline->data,
                     outline->len);
}

static void
add_drawn (GHashTable *all, guint64 looks, const BedExtent *extent, double out)
{
  Drawn *drawn = g_new (Drawn, 1);

  drawn->looks = looks;
  drawn->extent = (BedExtent){ extent->x - out, extent->y - out, extent->width + 2 * out,
                               extent->height + 2 * out };
  g_hash_table_replace (all, drawn, drawn);
}

static void
add_name (BedYardView *self, GHashTable *all, guint index)
{
  double scale = self->view.scale;
  BedBox box;

  if (!bed_yard_names_get (self->names, index, &box))
    return;
  BedExtent extent
      = { box.x / scale, -(box.y + box.height) / scale, box.width / scale, box.height / scale };
  guint64 hash = mix (4, (const double[]){ box.x, box.y, box.width, box.height }, 4);
  if (index >= self->yard->stacks->len)
    {
      const BedYardFeature *feature = self->yard->features->pdata[index - self->yard->stacks->len];
      add_drawn (all, mix_text (hash, feature->label), &extent, 0);
      return;
    }
  const BedYardStack *stack = self->yard->stacks->pdata[index];
  hash = mix_text (hash, stack->name);
  for (guint i = 0; i < stack->logs->len; i++)
    hash = mix_text (hash, ((BedYardLog *) stack->logs->pdata[i])->batch);
  add_drawn (all, hash, &extent, 0);
}

static GHashTable *
list_drawn (BedYardView *self)
{
  GHashTable *all = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  double pixel = 1 / self->view.scale;

  for (guint i = 0; i < self->scene->shapes->len; i++)
    {
      const BedShape *shape = &g_array_index (self->scene->shapes, BedShape, i);
      BedExtent extent = bed_shape_extent (shape);
      if (shape->role == BED_SHAPE_STACK)
        add_drawn (all, stack_looks (self, shape), &extent, SHADOW * pixel);
      else if (shape->role == BED_SHAPE_FEATURE)
        add_drawn (all, feature_looks (self, shape), &extent, LINE * pixel);
    }
  bed_yard_names_lay (self->names, self->view.scale);
  for (guint i = 0; i < bed_yard_names_get_n (self->names); i++)
    add_name (self, all, i);
  return all;
}

static void
forget_missing (BedYardView *self, GHashTable *in, GHashTable *from)
{
  GHashTableIter iter;
  gpointer drawn;

  g_hash_table_iter_init (&iter, in);
  while (g_hash_table_iter_next (&iter, &drawn, NULL))
    if (!g_hash_table_contains (from, drawn))
      bed_yard_tiles_forget_part (self->tiles, &((Drawn *) drawn)->extent);
}

void
bed_yard_view_note_drawn (BedYardView *self)
{
  BedExtent nowhere = { 0 };

  g_clear_pointer (&self->drawn, g_hash_table_unref);
  if (!self->yard || self->view.scale <= 0)
    return;
  self->drawn = list_drawn (self);
  add_drawn (self->drawn, ground_looks (self), &nowhere, 0);
}

void
bed_yard_view_show_changes (BedYardView *self)
{
  g_autoptr (GHashTable) before = g_steal_pointer (&self->drawn);
  guint64 looks = self->yard ? ground_looks (self) : 0;

  bed_yard_view_note_drawn (self);
  if (!before || !self->drawn || !g_hash_table_contains (before, &looks))
    bed_yard_tiles_forget (self->tiles);
  else
    {
      forget_missing (self, before, self->drawn);
      forget_missing (self, self->drawn, before);
    }
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
