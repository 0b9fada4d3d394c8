#include "print/drill/drill_guide.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "print/drill/drill_guide_private.h"

#define MOST_PAGES 200

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
static BedBox
get_tile (const Guide *guide, guint tile)
{
  const Tiling *t = &guide->tiling;
  double length = guide->plan->length, round = bed_bark_get_height (&guide->bark);
  double x = tile % t->across * t->width, y = tile / t->across * t->height;
  double width = MIN (t->width, (t->turned ? round : length) - x);
  double height = MIN (t->height, (t->turned ? length : round) - y);

  return (BedBox){ x * BED_POINTS_PER_MM, y * BED_POINTS_PER_MM, width * BED_POINTS_PER_MM,
                   height * BED_POINTS_PER_MM };
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
  BedBox box = get_tile (guide, tile);

  cairo_save (cr);
  cairo_translate (cr, GUIDE_MARGIN * BED_POINTS_PER_MM, GUIDE_MARGIN * BED_POINTS_PER_MM);
  draw_bark_part (guide, cr, &box);
  gboolean drawn = draw_joins (guide, cr, tile, &box, error);
  cairo_restore (cr);
  return drawn;
}

/* The foot */

static gboolean
draw_bar (const Guide *guide, cairo_t *cr, double right, double y, GError **error)
{
  double length = 100 * BED_POINTS_PER_MM, x = right - length;

  cairo_rectangle (cr, x, y - 0.5, length, 1);
  cairo_rectangle (cr, x, y - 5, 0.8, 10);
  cairo_rectangle (cr, right - 0.8, y - 5, 0.8, 10);
  cairo_fill (cr);
  return bed_text_draw (guide->type, cr, _ ("100 mm: measure this before you cut"),
                        &(BedBox){ x + 4, y - 12, length - 8, 11 }, &bar_style, guide->title,
                        error);
}

static gboolean
draw_foot (const Guide *guide, cairo_t *cr, guint page, GError **error)
{
  double left = GUIDE_MARGIN * BED_POINTS_PER_MM;
  double y = guide->paper.height - (GUIDE_MARGIN + GUIDE_FOOT / 2 - 3) * BED_POINTS_PER_MM;
  double right = guide->paper.width - left;
  g_autofree char *words
      = g_strdup_printf (_ ("%s, page %u of %u"), guide->title, page + 1, guide->n_pages);
  BedBox box = { left, y - 6, right - left - 104 * BED_POINTS_PER_MM, 22 };

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

static void
free_guide (gpointer data)
{
  Guide *guide = data;

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
  guide->tiling = get_tiling (plan, &spec->paper);
  guide->bark
      = (BedBark){ plan, spec->drill->hole_diameter, &bed_bark_paper, guide->type, NULL, 9 };
  guide->n_pages = 1 + guide->tiling.across * guide->tiling.down;
  if (guide->n_pages > MOST_PAGES)
    {
      g_set_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_SHEET,
                   _ ("At true size this log takes %u pages; at most %u are printed."),
                   guide->n_pages, MOST_PAGES);
      free_guide (guide);
      return NULL;
    }
  return bed_document_new (&(BedDocumentSpec){ guide->title, spec->paper, guide->n_pages,
                                               draw_page_cb, guide, free_guide });
}
