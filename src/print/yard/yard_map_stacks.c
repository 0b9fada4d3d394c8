#include "print/yard/yard_map_private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define NAME_SIZE 11.0
#define ABOUT_SIZE 8.5
#define NAME_ROOM (9 * MM)
#define CAPTION_ROOM (5 * MM)
#define GAP (6 * MM)

/* One below the other on an upright page; on one that lies two beside one another. */
static void
count_places (const BedMap *self, guint *columns, guint *rows)
{
  gboolean lying = self->paper.width > self->paper.height;

  *columns = lying ? 2 : 1;
  *rows = lying ? 2 : 3;
}

guint
bed_map_count_elevations (const BedMap *self)
{
  guint columns, rows;

  count_places (self, &columns, &rows);
  return (self->elevations->len + columns * rows - 1) / (columns * rows);
}

static gboolean
draw_stack (const BedMap *self, cairo_t *cr, guint index, const BedBox *box, GError **error)
{
  const BedYardStack *stack = self->yard->stacks->pdata[index];
  g_autoptr (BedElevation) elevation = bed_elevation_new (stack, BED_FACES_AS_FITS);
  g_autofree char *about = bed_yard_stack_about (stack);
  BedExtent extent = { 0, 0, elevation->width, elevation->height };
  BedViewport view
      = { .width = box->width, .height = box->height - NAME_ROOM - CAPTION_ROOM - GAP };
  BedElevationDrawing drawing = { elevation, &self->style, view, NULL };
  BedBox name = { box->x, box->y, box->width * 0.4, NAME_ROOM };
  BedBox beside = { box->x + name.width + 6, box->y + 2, box->width - name.width - 6, NAME_ROOM };
  BedTextStyle bold = { NAME_SIZE, 7, 1, BED_WEIGHT_BOLD, BED_ALIGN_LEFT };
  BedTextStyle small = { ABOUT_SIZE, 5, 2, BED_WEIGHT_REGULAR, BED_ALIGN_RIGHT };

  cairo_set_source_rgb (cr, 0, 0, 0);
  if (!bed_text_draw_cut (self->type, cr, stack->name ? stack->name : "", &name, &bold,
                          _ ("the yard map"), error)
      || !bed_text_draw_cut (self->type, cr, about, &beside, &small, _ ("the yard map"), error))
    return FALSE;
  cairo_save (cr);
  cairo_translate (cr, box->x, box->y + NAME_ROOM);
  bed_viewport_fit (&drawing.view, &extent, 4);
  bed_elevation_draw (cr, &drawing);
  cairo_restore (cr);
  return TRUE;
}

gboolean
bed_map_draw_elevations (const BedMap *self, cairo_t *cr, guint page, GError **error)
{
  guint columns, rows;
  count_places (self, &columns, &rows);
  g_autofree char *about = g_strdup_printf ("%s · %s", self->farm, self->date);
  g_autofree char *title
      = g_strdup_printf (_ ("Stacks of %s"), self->yard->name ? self->yard->name : "");
  double width = self->paper.width - 2 * MARGIN, height = self->paper.height - 2 * MARGIN - HEAD;
  BedBox box = { 0, 0, (width - (columns - 1) * GAP) / columns, height / rows };
  guint first = page * columns * rows;
  gboolean drawn = bed_map_draw_head (self, cr, title, about, 0, error);

  for (guint i = first; drawn && i < MIN (first + columns * rows, self->elevations->len); i++)
    {
      box.x = MARGIN + (i - first) % columns * (box.width + GAP);
      box.y = MARGIN + HEAD + (i - first) / columns * box.height;
      drawn = draw_stack (self, cr, g_array_index (self->elevations, guint, i), &box, error);
    }
  return drawn;
}
