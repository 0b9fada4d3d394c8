#include "print/drill/drill_guide.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "print/drill/drill_guide_private.h"

#define MOST_PAGES 200

/* From the middle of a hole to where sheets of a strip are joined, mm. */
#define JOIN_CLEARANCE 12.0

/* Bark drawn beyond the cutting line, so that a cut a little off shows no white. */
#define BLEED (2 * BED_POINTS_PER_MM)

static const BedTextStyle foot_style = { 8, 6, 2, BED_WEIGHT_REGULAR, BED_ALIGN_LEFT };
static const BedTextStyle bar_style = { 8, 6, 1, BED_WEIGHT_BOLD, BED_ALIGN_CENTRE };
static const BedTextStyle mark_style = { 7, 5, 1, BED_WEIGHT_REGULAR, BED_ALIGN_CENTRE };

static guint
count_tiles (double length, double tile)
{
  return (guint) MAX (1, ceil (length / tile - 1e-9));
}

/* Pages of one size: the last one is no sliver that nobody can tape. */
static Tiling
share_evenly (Tiling tiling, double width, double height)
{
  tiling.width = width / tiling.across;
  tiling.height = height / tiling.down;
  return tiling;
}

/* The log along the page or across it, whichever takes fewer pages. */
static Tiling
get_tiling (const BedDrillPlan *plan, const BedPaper *paper)
{
  double length = plan->length, round = plan->rows * plan->pitch;
  Tiling upright = { .turned = TRUE }, flat = { .turned = FALSE };

  flat.width = upright.width = paper->width / BED_POINTS_PER_MM - 2 * GUIDE_MARGIN;
  flat.height = upright.height = paper->height / BED_POINTS_PER_MM - 2 * GUIDE_MARGIN - GUIDE_FOOT;
  flat.across = count_tiles (length, flat.width);
  flat.down = count_tiles (round, flat.height);
  upright.across = count_tiles (round, upright.width);
  upright.down = count_tiles (length, upright.height);
  return upright.across * upright.down < flat.across * flat.down
             ? share_evenly (upright, round, length)
             : share_evenly (flat, length, round);
}

/* The strip */

/* Two rows with half the way to the next on either side: laid edge to edge they go round the log.
 * The same number of holes further on is the same strip, so it has no farthest point of its own. */
static BedDrillPlan *
new_strip (const BedDrill *drill)
{
  BedDrillPlan *strip = bed_drill_plan_new (drill, NULL);

  if (!strip || drill->closing == BED_CLOSING_HELIX || strip->rows < 3)
    {
      bed_drill_plan_free (strip);
      return NULL;
    }
  strip->rows = 2;
  strip->farthest.distance = 0;
  while (strip->holes->len
         && g_array_index (strip->holes, BedHole, strip->holes->len - 1).row >= strip->rows)
    g_array_set_size (strip->holes, strip->holes->len - 1);
  return strip;
}

/* The last place up to @end where no join comes near a hole. */
static double
find_cut (const BedDrillPlan *strip, double end)
{
  double at = end;

  /* By their rows, not along the log: moved past one hole it may come near another. */
  for (guint i = 0; i < strip->holes->len && at > 0; i++)
    for (guint k = 0; k < strip->holes->len; k++)
      {
        double x = g_array_index (strip->holes, BedHole, k).x;
        if (fabs (x - at) < JOIN_CLEARANCE)
          at = x - JOIN_CLEARANCE;
      }
  return at;
}

/* @n pieces as long as one another, but for the holes; FALSE when one is longer than @most. */
static gboolean
cut_strip (Tiling *tiling, const BedDrillPlan *strip, guint n, double most)
{
  double last = 0;

  g_array_set_size (tiling->cuts, 0);
  g_array_append_val (tiling->cuts, last);
  for (guint i = 1; i <= n; i++)
    {
      double at = i < n ? find_cut (strip, strip->length * i / n) : strip->length;
      if (at <= last || at > last + most)
        return FALSE;
      g_array_append_val (tiling->cuts, at);
      last = at;
    }
  return TRUE;
}

/* The log along the page, where the strip is no wider than that; FALSE when it goes on none. */
static gboolean
tile_strip (Tiling *tiling, const BedDrillPlan *strip, const BedPaper *paper)
{
  double wide = paper->width / BED_POINTS_PER_MM - 2 * GUIDE_MARGIN;
  double high = paper->height / BED_POINTS_PER_MM - 2 * GUIDE_MARGIN - GUIDE_FOOT;
  double round = strip->rows * strip->pitch;

  tiling->turned = round <= wide;
  if (!tiling->turned && round > high)
    return FALSE;
  double most = tiling->turned ? high : wide;
  guint n = count_tiles (strip->length, most);
  tiling->cuts = g_array_new (FALSE, FALSE, sizeof (double));
  while (!cut_strip (tiling, strip, n, most))
    if (n++ > MOST_PAGES)
      return FALSE;
  tiling->across = tiling->turned ? 1 : tiling->cuts->len - 1;
  tiling->down = tiling->turned ? tiling->cuts->len - 1 : 1;
  return TRUE;
}

/* Where tile @index begins along the log, millimetres. */
static double
get_cut (const Tiling *t, guint index)
{
  return t->cuts ? g_array_index (t->cuts, double, index)
                 : index * (t->turned ? t->height : t->width);
}

/* The pages of the bark */

/* Puts the bark's corner at the origin of the whole drawing laid out in tiles. */
static void
turn_bark (const Guide *guide, cairo_t *cr)
{
  if (!guide->tiling.turned)
    return;
  cairo_translate (cr, bed_bark_get_height (&guide->bark) * BED_POINTS_PER_MM, 0);
  cairo_rotate (cr, G_PI / 2);
}

/* The part of the whole drawing on this page, points. */
BedBox
bed_drill_guide_get_tile (const Guide *guide, guint tile)
{
  const Tiling *t = &guide->tiling;
  double length = guide->plan->length, round = bed_bark_get_height (&guide->bark);
  guint column = tile % t->across, row = tile / t->across;
  guint along = t->turned ? row : column, around = t->turned ? column : row;
  double from = get_cut (t, along), to = MIN (get_cut (t, along + 1), length);
  double size = t->cuts ? round : t->turned ? t->width : t->height;
  double low = around * size, high = MIN (low + size, round);

  const double mm = BED_POINTS_PER_MM;
  return t->turned ? (BedBox){ low * mm, from * mm, (high - low) * mm, (to - from) * mm }
                   : (BedBox){ from * mm, low * mm, (to - from) * mm, (high - low) * mm };
}

static void
draw_bark_part (const Guide *guide, cairo_t *cr, const BedBox *tile)
{
  cairo_save (cr);
  cairo_rectangle (cr, -BLEED, -BLEED, tile->width + 2 * BLEED, tile->height + 2 * BLEED);
  cairo_clip (cr);
  cairo_translate (cr, -tile->x, -tile->y);
  turn_bark (guide, cr);
  bed_bark_draw_at (&guide->bark, cr, BED_POINTS_PER_MM);
  cairo_restore (cr);
}

/* Half of it on this page, half on the next: whole again when they are joined. */
static void
add_diamond (cairo_t *cr, double x, double y)
{
  const double r = 2.5 * BED_POINTS_PER_MM;

  cairo_move_to (cr, x, y - r);
  cairo_line_to (cr, x + r, y);
  cairo_line_to (cr, x, y + r);
  cairo_line_to (cr, x - r, y);
  cairo_close_path (cr);
}

/* A join: the line to cut along, two diamonds to bring together, the page that comes next. */
static gboolean
draw_join (const Guide *guide, cairo_t *cr, const Join *join, GError **error)
{
  g_autofree char *words = g_strdup_printf (_ ("page %u"), join->page);
  double dx = join->x2 - join->x1, dy = join->y2 - join->y1;
  double along = hypot (dx, dy), width = MIN (60, along);

  cairo_set_line_width (cr, 0.5);
  cairo_move_to (cr, join->x1, join->y1);
  cairo_line_to (cr, join->x2, join->y2);
  add_diamond (cr, join->x1 + dx / 4, join->y1 + dy / 4);
  add_diamond (cr, join->x1 + dx * 3 / 4, join->y1 + dy * 3 / 4);
  cairo_stroke (cr);
  cairo_save (cr);
  cairo_translate (cr, join->x1 + dx / 2, join->y1 + dy / 2);
  cairo_rotate (cr, atan2 (dy, dx));
  gboolean drawn = bed_text_draw (guide->type, cr, words, &(BedBox){ -width / 2, -11, width, 10 },
                                  &mark_style, guide->title, error);
  cairo_restore (cr);
  return drawn;
}

/* Each join's line runs so that the words beside it fall outside the part to keep. */
static gboolean
draw_joins (const Guide *guide, cairo_t *cr, guint tile, const BedBox *box, GError **error)
{
  guint across = guide->tiling.across, down = guide->tiling.down;
  guint column = tile % across, row = tile / across, page = tile + 2;
  double w = box->width, h = box->height;
  const struct
  {
    gboolean is;
    Join join;
  } sides[] = {
    { column > 0, { 0, h, 0, 0, page - 1 } },
    { column + 1 < across, { w, 0, w, h, page + 1 } },
    { row > 0, { 0, 0, w, 0, page - across } },
    { row + 1 < down, { w, h, 0, h, page + across } },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (sides); i++)
    if (sides[i].is && !draw_join (guide, cr, &sides[i].join, error))
      return FALSE;
  return TRUE;
}

static gboolean
draw_tile (const Guide *guide, cairo_t *cr, guint tile, GError **error)
{
  BedBox box = bed_drill_guide_get_tile (guide, tile);

  cairo_save (cr);
  cairo_translate (cr, GUIDE_MARGIN * BED_POINTS_PER_MM, GUIDE_MARGIN * BED_POINTS_PER_MM);
  draw_bark_part (guide, cr, &box);
  gboolean drawn = draw_joins (guide, cr, tile, &box, error);
  cairo_restore (cr);
  return drawn;
}

/* The foot */

/* In the farm's own measure. */
static gboolean
draw_bar (const Guide *guide, cairo_t *cr, double right, double y, GError **error)
{
  gboolean us = guide->notation.system == BED_SYSTEM_US;
  double length = (us ? 101.6 : 100) * BED_POINTS_PER_MM, x = right - length;

  cairo_rectangle (cr, x, y - 0.5, length, 1);
  cairo_rectangle (cr, x, y - 5, 0.8, 10);
  cairo_rectangle (cr, right - 0.8, y - 5, 0.8, 10);
  cairo_fill (cr);
  return bed_text_draw (
      guide->type, cr,
      us ? _ ("4 in: measure this before you cut") : _ ("100 mm: measure this before you cut"),
      &(BedBox){ x + 4, y - 12, length - 8, 11 }, &bar_style, guide->title, error);
}

static gboolean
draw_foot (const Guide *guide, cairo_t *cr, guint page, GError **error)
{
  double left = GUIDE_MARGIN * BED_POINTS_PER_MM;
  double y = guide->paper.height - (GUIDE_MARGIN + GUIDE_FOOT / 2 - 3) * BED_POINTS_PER_MM;
  double right = guide->paper.width - left;
  g_autofree char *words
      = g_strdup_printf (_ ("%s, page %u of %u"), guide->title, page + 1, guide->n_pages);
  BedBox box = { left, y - 6, right - left - 106 * BED_POINTS_PER_MM, 22 };

  return bed_text_draw (guide->type, cr, words, &box, &foot_style, guide->title, error)
         && draw_bar (guide, cr, right, y, error);
}

static gboolean
draw_page_cb (cairo_t *cr, guint page, gpointer data, GError **error)
{
  Guide *guide = data;
  gboolean drawn = page == 0 ? bed_drill_guide_draw_first (guide, cr, error)
                             : draw_tile (guide, cr, page - 1, error);

  return drawn && draw_foot (guide, cr, page, error);
}

static char *
dup_note_cb (gpointer data)
{
  return bed_typesetter_dup_missing (((Guide *) data)->type);
}

static void
free_guide (gpointer data)
{
  Guide *guide = data;

  g_clear_pointer (&guide->tiling.cuts, g_array_unref);
  bed_drill_plan_free (guide->strip);
  bed_drill_plan_free (guide->plan);
  bed_typesetter_free (guide->type);
  g_free (guide->title);
  g_free (guide);
}

/* Public */

BedDocument *
bed_drill_guide_new (const BedDrillGuide *spec, GError **error)
{
  g_return_val_if_fail (spec != NULL && spec->drill != NULL, NULL);
  BedDrillPlan *plan = bed_drill_plan_new (spec->drill, error);

  if (!plan)
    return NULL;
  Guide *guide = g_new0 (Guide, 1);
  guide->plan = plan;
  guide->drill = *spec->drill;
  guide->notation = *spec->notation;
  guide->title = g_strdup (spec->title ? spec->title : _ ("Drilling guide"));
  guide->type = bed_typesetter_new ();
  guide->paper = spec->paper;
  guide->strip = spec->extent == BED_GUIDE_STRIP ? new_strip (spec->drill) : NULL;
  if (guide->strip && !tile_strip (&guide->tiling, guide->strip, &spec->paper))
    g_clear_pointer (&guide->strip, bed_drill_plan_free);
  if (!guide->strip)
    guide->tiling = get_tiling (plan, &spec->paper);
  guide->bark = (BedBark){ guide->strip ? guide->strip : plan,
                           spec->drill->hole_diameter,
                           &bed_bark_paper,
                           guide->type,
                           NULL,
                           9 };
  guide->n_pages = 1 + guide->tiling.across * guide->tiling.down;
  if (guide->n_pages > MOST_PAGES)
    {
      g_set_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_SHEET,
                   _ ("At true size this log takes %u pages; at most %u are printed."),
                   guide->n_pages, MOST_PAGES);
      free_guide (guide);
      return NULL;
    }
  return bed_document_new (&(BedDocumentSpec){ .title = guide->title,
                                               .paper = spec->paper,
                                               .n_pages = guide->n_pages,
                                               .draw = draw_page_cb,
                                               .data = guide,
                                               .free_data = free_guide,
                                               .dup_note = dup_note_cb });
}
