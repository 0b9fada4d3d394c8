#include "print/yard/yard_map_private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define NORTH_WIDTH (9 * MM)
#define SMALL_PLAN (30 * MM) /* of the sheets, wide; high as the head */
#define MARK_SIZE 8.0

/* --- the ground -------------------------------------------------------------- */

static BedPlan
make_plan (const BedMap *self, const BedExtent *extent, const BedBox *box)
{
  double points = bed_sheets_get_points (&self->sheets);

  if (self->use == BED_MAP_PICTURE) /* nobody measures on it: as large as it goes */
    points = MIN (box->width / MAX (extent->width, 0.1), box->height / MAX (extent->height, 0.1));
  return (BedPlan){ self->scene,
                    &self->style,
                    { points,
                      { extent->x + extent->width / 2, extent->y + extent->height / 2 },
                      box->width,
                      box->height } };
}

/* Names stay on the sheet whole. */
static void
draw_ground (const BedMap *self, cairo_t *cr, const BedPlan *plan)
{
  BedPoint origin = bed_viewport_to_screen (&plan->view, (BedPoint){ 0, 0 });
  BedBox limits = { -origin.x, -origin.y, plan->view.width, plan->view.height };

  cairo_save (cr);
  cairo_rectangle (cr, 0, 0, plan->view.width, plan->view.height);
  cairo_clip (cr);
  bed_yard_names_limit (self->names, &limits);
  bed_plan_draw (cr, plan, self->names);
  cairo_restore (cr);
}

/* --- joins ------------------------------------------------------------------- */

/* Where the next sheet @dx across and @dy down is laid on: a broken line, a cross at both its
 * quarters to lay on one another, and the other sheet's name. */
static void
draw_join (const BedMap *self, cairo_t *cr, const BedPlan *plan, guint other, int dx, int dy)
{
  g_autofree char *name = bed_sheets_dup_name (&self->sheets, other);
  double w = plan->view.width, h = plan->view.height, in = BED_SHEETS_OVERLAP / 2;
  double x = dx < 0 ? in : dx > 0 ? w - in : w / 2, y = dy < 0 ? in : dy > 0 ? h - in : h / 2;
  double along = dx ? h : w, size = 1.3 * self->style.text_size;
  double wide = bed_text_width (self->type, name, BED_WEIGHT_BOLD, size);

  cairo_move_to (cr, dx ? x : 0, dx ? 0 : y);
  cairo_line_to (cr, dx ? x : w, dx ? h : y);
  cairo_set_dash (cr, (const double[]){ 8, 3, 2, 3 }, 4, 0);
  bed_colour_stroke (cr, &self->style.palette->text, 0.8, 0.7);
  cairo_set_dash (cr, NULL, 0, 0);
  for (int quarter = 1; quarter < 4; quarter += 2)
    {
      double at_x = dx ? x : quarter * along / 4, at_y = dx ? quarter * along / 4 : y;
      cairo_move_to (cr, at_x - MARK_SIZE, at_y);
      cairo_line_to (cr, at_x + MARK_SIZE, at_y);
      cairo_move_to (cr, at_x, at_y - MARK_SIZE);
      cairo_line_to (cr, at_x, at_y + MARK_SIZE);
      cairo_new_sub_path (cr);
      cairo_arc (cr, at_x, at_y, MARK_SIZE / 2, 0, 2 * G_PI);
    }
  bed_colour_stroke (cr, &self->style.palette->text, 1, 0.7);
  cairo_rectangle (cr, x - wide / 2 - 3, y - 0.75 * size, wide + 6, 1.5 * size);
  bed_colour_set (cr, &self->style.palette->ground, 1);
  cairo_fill_preserve (cr);
  bed_colour_stroke (cr, &self->style.palette->text, 1, 0.7);
  bed_text_show (self->type, cr, name, BED_WEIGHT_BOLD, size, x - wide / 2,
                 y + bed_text_cap_height (self->type, size) / 2);
}

static void
draw_joins (const BedMap *self, cairo_t *cr, const BedPlan *plan, guint sheet)
{
  guint across = self->sheets.across, column = sheet % across, row = sheet / across;

  if (column > 0)
    draw_join (self, cr, plan, sheet - 1, -1, 0);
  if (column + 1 < across)
    draw_join (self, cr, plan, sheet + 1, 1, 0);
  if (row > 0)
    draw_join (self, cr, plan, sheet - across, 0, -1);
  if (row + 1 < self->sheets.down)
    draw_join (self, cr, plan, sheet + across, 0, 1);
}

/* All sheets in small over the area's outline, this one dark. */
static void
draw_small_plan (const BedMap *self, cairo_t *cr, guint sheet, const BedBox *box)
{
  const GArray *outline = self->yard->outline;
  BedPlan plan = make_plan (self, &self->sheets.extent, box);

  plan.view.scale
      = MIN (box->width / self->sheets.extent.width, box->height / self->sheets.extent.height);
  cairo_save (cr);
  cairo_translate (cr, box->x, box->y);
  for (guint i = 0; i < self->n_sheets; i++)
    {
      BedExtent of = bed_sheets_get (&self->sheets, i);
      BedPoint at = bed_viewport_to_screen (&plan.view, (BedPoint){ of.x, of.y + of.height });
      cairo_rectangle (cr, at.x, at.y, of.width * plan.view.scale, of.height * plan.view.scale);
      if (i == sheet)
        {
          bed_colour_set (cr, &self->style.palette->dim, 0.5);
          cairo_fill_preserve (cr);
        }
      bed_colour_stroke (cr, &self->style.palette->dim, 1, 0.4);
    }
  bed_plan_trace (cr, &plan, &g_array_index (outline, BedPoint, 0), outline->len);
  cairo_close_path (cr);
  bed_colour_stroke (cr, &self->style.palette->text, 1, 0.8);
  cairo_restore (cr);
}

/* --- what is beside it ------------------------------------------------------- */

static gboolean
draw_head (const BedMap *self, cairo_t *cr, guint sheet, GError **error)
{
  const char *title = self->yard->name ? self->yard->name : "";
  g_autoptr (GString) about = g_string_new (NULL);
  double right = NORTH_WIDTH + (self->n_sheets > 1 ? SMALL_PLAN + 4 * MM : 0);
  BedBox small = { self->paper.width - MARGIN - right, MARGIN, SMALL_PLAN, HEAD - 4 * MM };

  g_string_append_printf (about, "%s · %s", self->farm, self->date);
  if (self->use == BED_MAP_PAPER)
    g_string_append_printf (about, " · 1:%u", self->sheets.scale);
  if (self->n_sheets > 1)
    {
      g_autofree char *name = bed_sheets_dup_name (&self->sheets, sheet);
      g_autofree char *said = g_strdup_printf (_ ("sheet %s of %u"), name, self->n_sheets);
      g_string_append_printf (about, " · %s", said);
      draw_small_plan (self, cr, sheet, &small);
    }
  return bed_map_draw_head (self, cr, title, about->str, right + 3 * MM, error);
}

/* North stands in the head, the bar in the foot: nothing of the yard is under them. */
static void
draw_marks (const BedMap *self, cairo_t *cr, const BedPlan *plan)
{
  BedPlan north = *plan, bar = *plan;
  double bottom = self->paper.height - MARGIN, standing = self->ground.x - MARGIN;

  cairo_save (cr);
  cairo_translate (cr, 0, MARGIN - 4);
  north.view.width = self->paper.width - MARGIN + 0.4 * self->style.text_size;
  bed_plan_draw_north (cr, &north);
  cairo_restore (cr);
  bar.view.height = 2.2 * self->style.text_size;
  cairo_save (cr);
  cairo_translate (cr, MARGIN - 1.4 * self->style.text_size, bottom - bar.view.height);
  bed_plan_draw_scale_bar (cr, &bar);
  cairo_restore (cr);
  if (self->use != BED_MAP_PICTURE)
    return;
  /* Along the other way: stretched as what stands beside it is. */
  cairo_save (cr);
  cairo_translate (cr, MARGIN + standing - 3 * MM - bar.view.height,
                   self->ground.y + self->ground.height);
  cairo_rotate (cr, -G_PI / 2);
  bed_plan_draw_scale_bar (cr, &bar);
  cairo_restore (cr);
}

gboolean
bed_map_draw_sheet (const BedMap *self, cairo_t *cr, guint sheet, GError **error)
{
  BedExtent extent = self->n_sheets > 1 ? bed_sheets_get (&self->sheets, sheet)
                                        : self->sheets.extent;
  BedBox box = self->ground;
  double points = bed_sheets_get_points (&self->sheets);

  if (self->n_sheets > 1) /* no more than what it shows: its edges are where it joins */
    {
      box.x += (box.width - extent.width * points) / 2;
      box.width = extent.width * points;
      box.height = extent.height * points;
    }
  BedPlan plan = make_plan (self, &extent, &box);
  if (!draw_head (self, cr, sheet, error))
    return FALSE;
  cairo_save (cr);
  cairo_translate (cr, box.x, box.y);
  draw_ground (self, cr, &plan);
  if (self->n_sheets > 1)
    draw_joins (self, cr, &plan, sheet);
  cairo_restore (cr);
  draw_marks (self, cr, &plan);
  bed_map_draw_foot (self, cr);
  return TRUE;
}
