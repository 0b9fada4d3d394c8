#include "app/yard/yard_view_private.h"

#include <math.h>

#include "app/yard/yard_texture.h"
#include "yard/advice.h"

#define LOOK_TIME 3000 /* us at a time: a large yard takes longer than one may wait for it */

/* px, of the mark's sides: as large as a metre, within reason, so that it hides no stack. */
#define MARK_LEAST 6.0
#define MARK_MOST 16.0

/* The same on light and dark ground. */
static const BedYardColour yellow = { 0.98, 0.80, 0.24 }, ink = { 0.13, 0.11, 0.05 };

/* --- looking ---------------------------------------------------------------------- */

static GHashTable *
table_new (void)
{
  return g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free,
                                (GDestroyNotify) bed_stack_look_free);
}

static void
look_at (BedYardView *self, guint index)
{
  const BedYardStack *stack = self->yard->stacks->pdata[index];

  g_hash_table_insert (self->looking, g_memdup2 (&stack->id, sizeof stack->id),
                       bed_stack_look_new (self->scene, index, &self->notation));
}

static gboolean
is_in (GHashTable *looks, const BedThing *thing)
{
  const BedStackLook *look
      = looks && thing->kind == BED_THING_STACK ? g_hash_table_lookup (looks, &thing->id) : NULL;

  return look && look->advice->len > 0;
}

static void
use_advice (BedYardView *self)
{
  g_autoptr (GHashTable) before = g_steal_pointer (&self->looks);

  self->looks = g_steal_pointer (&self->looking);
  for (guint i = 0; i < self->walk->len; i++)
    {
      const BedThing *thing = &g_array_index (self->walk, BedThing, i);
      if (is_in (before, thing) || is_in (self->looks, thing))
        bed_yard_view_name_spot (self, i);
    }
  gtk_widget_queue_draw (GTK_WIDGET (self));
  g_signal_emit_by_name (self, "advised");
}

/* What was known before is shown until all is known anew. */
static gboolean
look_cb (gpointer data)
{
  BedYardView *self = data;
  gint64 until = g_get_monotonic_time () + LOOK_TIME;

  if (!bed_scene_work_ways (self->scene, until))
    return G_SOURCE_CONTINUE;
  for (; self->looked < self->yard->stacks->len; self->looked++)
    {
      if (g_get_monotonic_time () >= until)
        return G_SOURCE_CONTINUE;
      look_at (self, self->looked);
    }
  self->look_source = 0;
  use_advice (self);
  return G_SOURCE_REMOVE;
}

void
bed_yard_view_begin_looking (BedYardView *self)
{
  self->looking = table_new ();
  self->looked = 0;
  self->look_source = g_idle_add (look_cb, self);
}

void
bed_yard_view_stop_looking (BedYardView *self)
{
  g_clear_handle_id (&self->look_source, g_source_remove);
  g_clear_pointer (&self->looking, g_hash_table_unref);
}

/* --- marks ------------------------------------------------------------------------ */

static double
find_size (BedYardView *self)
{
  return round (CLAMP (self->view.scale, MARK_LEAST, MARK_MOST));
}

/* A triangle with a point in it, told from all else without its colour. */
static void
draw_mark (cairo_t *cr, gpointer data)
{
  double scale = *(double *) data / MARK_MOST;

  cairo_scale (cr, scale, scale);
  cairo_move_to (cr, MARK_MOST / 2, 1.5);
  cairo_line_to (cr, MARK_MOST - 1, MARK_MOST - 1.5);
  cairo_line_to (cr, 1, MARK_MOST - 1.5);
  cairo_close_path (cr);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  bed_colour_set (cr, &yellow, 1);
  cairo_fill_preserve (cr);
  bed_colour_stroke (cr, &ink, 1, 1.4);
  cairo_move_to (cr, MARK_MOST / 2, 5.8);
  cairo_line_to (cr, MARK_MOST / 2, 9.8);
  cairo_move_to (cr, MARK_MOST / 2, 11.6);
  cairo_line_to (cr, MARK_MOST / 2, 12.8);
  bed_colour_stroke (cr, &ink, 1, 1.6);
}

/* The middle of its mark; FALSE when it has none. What is carried goes without. */
static gboolean
find_mark (BedYardView *self, gint64 stack, const BedStackLook *look, BedPoint *at)
{
  BedThing thing = { BED_THING_STACK, stack };
  const BedShape *shape = look->advice->len > 0 ? bed_thing_find_shape (self->index, &thing) : NULL;

  if (!shape || bed_yard_view_is_held (self, &thing))
    return FALSE;
  BedExtent box = bed_shape_extent (shape);
  *at = bed_viewport_to_screen (&self->view, (BedPoint){ box.x + box.width, box.y + box.height });
  return TRUE;
}

void
bed_yard_view_draw_advice (BedYardView *self, GtkSnapshot *snapshot)
{
  double size = find_size (self);
  int factor = gtk_widget_get_scale_factor (GTK_WIDGET (self)), pixels = (int) size * factor;
  GHashTableIter iter;
  gpointer stack, look;
  BedPoint at;

  if (!self->looks)
    return;
  g_autoptr (GdkTexture) mark = bed_yard_texture_new (pixels, pixels, factor, draw_mark, &size);
  g_hash_table_iter_init (&iter, self->looks);
  while (g_hash_table_iter_next (&iter, &stack, &look))
    if (find_mark (self, *(gint64 *) stack, look, &at) && at.x > -size && at.y > -size
        && at.x < self->view.width + size && at.y < self->view.height + size)
      gtk_snapshot_append_texture (snapshot, mark,
                                   &GRAPHENE_RECT_INIT ((float) round (at.x - size / 2),
                                                        (float) round (at.y - size / 2),
                                                        (float) size, (float) size));
}

gint64
bed_yard_view_hit_advice (BedYardView *self, BedPoint screen)
{
  double nearest = find_size (self) / 2 + 2;
  GHashTableIter iter;
  gpointer stack, look;
  gint64 found = 0;
  BedPoint at;

  if (!self->looks || !self->index)
    return 0;
  g_hash_table_iter_init (&iter, self->looks);
  while (g_hash_table_iter_next (&iter, &stack, &look))
    if (find_mark (self, *(gint64 *) stack, look, &at)
        && hypot (at.x - screen.x, at.y - screen.y) < nearest)
      {
        nearest = hypot (at.x - screen.x, at.y - screen.y);
        found = *(gint64 *) stack;
      }
  return found;
}

char *
bed_yard_view_dup_advice (BedYardView *self, gint64 stack)
{
  const BedStackLook *look = self->looks ? g_hash_table_lookup (self->looks, &stack) : NULL;
  GString *said = g_string_new (NULL);

  for (guint i = 0; look && i < look->advice->len; i++)
    g_string_append_printf (said, "%s%s", i ? " " : "",
                            ((BedAdvice *) look->advice->pdata[i])->sentence);
  return g_string_free (said, FALSE);
}

/* --- public ------------------------------------------------------------------------- */

GHashTable *
bed_yard_view_get_looks (BedYardView *self)
{
  g_return_val_if_fail (BED_IS_YARD_VIEW (self), NULL);
  return self->looks;
}

void
bed_yard_view_look_again (BedYardView *self)
{
  g_return_if_fail (BED_IS_YARD_VIEW (self) && self->yard);
  bed_yard_view_stop_looking (self);
  bed_yard_view_begin_looking (self);
}
