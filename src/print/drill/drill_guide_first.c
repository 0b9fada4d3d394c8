#include <glib/gi18n-lib.h>
#include <math.h>

#include "model/farm/say.h"
#include "print/drill/drill_guide_private.h"
#include "science/units.h"

#define MM BED_POINTS_PER_MM

static const BedTextStyle title_style = { 19, 10, 1, BED_WEIGHT_BOLD, BED_ALIGN_LEFT };
static const BedTextStyle text_style = { 9, 9, 12, BED_WEIGHT_REGULAR, BED_ALIGN_LEFT };
static const BedTextStyle head_style = { 10, 8, 1, BED_WEIGHT_BOLD, BED_ALIGN_LEFT };
static const BedTextStyle label_style = { 7.5, 5.5, 1, BED_WEIGHT_REGULAR, BED_ALIGN_LEFT };
static const BedTextStyle value_style = { 12, 7, 1, BED_WEIGHT_BOLD, BED_ALIGN_LEFT };
static const BedTextStyle number_style = { 11, 4, 1, BED_WEIGHT_BOLD, BED_ALIGN_LEFT };

/* Common practice, no source: they defer to those who have one. */
static const char *const cautions[] = {
  N_ ("Local rules, the maker's instructions and a licensed or trained person come before this "
      "sheet."),
  N_ ("Hold the log so that it cannot roll. Wear eye and ear protection and close-fitting "
      "clothes; tie back hair; no loose gloves at a turning bit."),
  N_ ("A bit on an angle grinder has no guard and kicks hard when it binds: side handle on, both "
      "hands, a bit with a stop made for that speed, and never a tool rated below it."),
  N_ ("Hot wax burns and can catch fire. Use a thermostat, never leave it, stop when it smokes, "
      "keep water away and a lid and an extinguisher near."),
  N_ ("Green logs are heavy: two people or a cart, lift with straight back, mind fingers."),
  NULL
};

#define PRINT_IT N_ ("Print at 100 %, not fitted to the page, and measure the bar.")
#define CUT_IT                                                                                     \
  N_ ("Cut along the lines, join the diamonds, tape from behind. The small picture shows the "     \
      "order.")

static const char *const bark_steps[]
    = { PRINT_IT, CUT_IT,
        N_ ("Lay the sheet round the log, the dashed edges together along a clear stripe of bark."),
        N_ ("Mark each hole through the paper, then take the paper off before you drill."), NULL };

static const char *const strip_steps[]
    = { PRINT_IT,
        CUT_IT,
        N_ ("Stick it on card: it serves every log of this pattern. Lay it along the log and mark "
            "each hole of both rows."),
        N_ ("Move it round by its own width, one dashed edge where the other lay, and go on until "
            "you are round. Of an odd number of rows the last one is marked alone."),
        N_ ("Take the strip off before you drill."),
        NULL };

/* Sixteenths, as a rule in inches is read. */
#define PARTS_OF_INCH 16

/* A measure that was typed, as a bit and a rule are marked: "7/16 in". */
static char *
format_typed (const Guide *guide, double mm)
{
  return bed_measure_format_unit_said (BED_MEASURE_LENGTH_FINE, &guide->notation,
                                       (gint64) llround (mm * 1000));
}

/* One that was computed, as fine as anyone drills. */
static char *
format_length (const Guide *guide, double mm)
{
  double part = 25.4 / PARTS_OF_INCH;

  if (guide->notation.system == BED_SYSTEM_US)
    return format_typed (guide, round (mm / part) * part);
  return bed_measure_format_unit_rounded (BED_MEASURE_LENGTH_FINE, &guide->notation, 0,
                                          (gint64) llround (mm * 1000));
}

static char *
format_per_row (const BedDrillPlan *plan)
{
  int first = plan->per_row[0], second = plan->rows > 1 ? plan->per_row[1] : first;

  return first == second ? bed_say ("%d", first)
                         : bed_say (_ ("%d and %d by turns"), first, second);
}

static gboolean
draw_fact (const Guide *guide, cairo_t *cr, const char *label, const char *value, guint index,
           GError **error)
{
  double width = (guide->paper.width - 2 * GUIDE_MARGIN * MM) / 4;
  double x = GUIDE_MARGIN * MM + index % 4 * width, y = (30 + index / 4 * 13) * MM;

  return bed_text_draw (guide->type, cr, label, &(BedBox){ x, y, width - 2 * MM, 4 * MM },
                        &label_style, guide->title, error)
         && bed_text_draw (guide->type, cr, value,
                           &(BedBox){ x, y + 3.6 * MM, width - 2 * MM, 7 * MM }, &value_style,
                           guide->title, error);
}

static gboolean
draw_facts (const Guide *guide, cairo_t *cr, GError **error)
{
  const BedDrillPlan *plan = guide->plan;
  g_autofree char *rows = bed_say ("%d", plan->rows);
  g_autofree char *holes = bed_say ("%u", plan->holes->len);
  g_autofree char *per_row = format_per_row (plan);
  g_autofree char *along = format_typed (guide, plan->along);
  g_autofree char *pitch = format_length (guide, plan->pitch);
  g_autofree char *margin = format_typed (guide, plan->margin);
  g_autofree char *farthest = format_length (guide, plan->farthest.distance);
  g_autofree char *bit = format_typed (guide, guide->drill.hole_diameter);
  g_autofree char *depth = format_typed (guide, guide->drill.hole_depth);
  g_autofree char *hole = guide->drill.hole_diameter > 0 && guide->drill.hole_depth > 0
                              ? g_strdup_printf (_ ("%s, %s deep"), bit, depth)
                              : g_strdup ("–");
  const char *facts[][2] = {
    { _ ("Rows round the log"), rows },
    { _ ("Holes in a row"), per_row },
    { _ ("Holes"), holes },
    { _ ("Hole"), hole },
    { _ ("Along the row"), along },
    { _ ("Between rows"), pitch },
    { _ ("First hole from the end"), margin },
    { _ ("Farthest point of bark"), farthest },
  };

  for (guint i = 0; i < G_N_ELEMENTS (facts); i++)
    if (!draw_fact (guide, cr, facts[i][0], facts[i][1], i, error))
      return FALSE;
  return TRUE;
}

/* The joins and page numbers over the small picture of the bark. */
static gboolean
draw_page_plan (const Guide *guide, cairo_t *cr, const BedBox *place, GError **error)
{
  const Tiling *t = &guide->tiling;
  double scale = place->width / guide->plan->length;

  cairo_set_line_width (cr, 0.6);
  for (guint i = 0; i < t->across * t->down; i++)
    {
      BedBox tile = bed_drill_guide_get_tile (guide, i);
      double k = scale / BED_POINTS_PER_MM;
      /* Along the log from the left, round it from the bottom when pages are turned. */
      double x = place->x + (t->turned ? tile.y : tile.x) * k;
      double w = (t->turned ? tile.height : tile.width) * k;
      double h = (t->turned ? tile.width : tile.height) * k;
      double y = t->turned ? place->y + place->height - tile.x * k - h : place->y + tile.y * k;
      g_autofree char *number = g_strdup_printf ("%u", i + 2);

      cairo_rectangle (cr, x, y, w, h);
      cairo_stroke (cr);
      double plate = bed_text_width (guide->type, number, BED_WEIGHT_BOLD, number_style.size) + 4;
      BedBox box = { x + 2, y + 1, MIN (w, plate), MIN (h, 16) };
      cairo_set_source_rgb (cr, 1, 1, 1);
      cairo_rectangle (cr, x + 0.5, y + 0.5, box.width - 0.5, box.height - 0.5);
      cairo_fill (cr);
      cairo_set_source_rgb (cr, 0, 0, 0);
      if (!bed_text_draw (guide->type, cr, number, &box, &number_style, guide->title, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
draw_list (const Guide *guide, cairo_t *cr, const char *head, const char *const *items, BedBox box,
           GError **error)
{
  if (!bed_text_draw (guide->type, cr, head, &box, &head_style, guide->title, error))
    return FALSE;
  box.y += 6 * MM;
  for (guint i = 0; items[i]; i++)
    {
      BedTextFit fit;

      if (!bed_text_fit (guide->type, _ (items[i]), &box, &text_style, &fit)
          || !bed_text_draw (guide->type, cr, _ (items[i]), &box, &text_style, guide->title, error))
        return FALSE;
      box.y += fit.height + 1.4 * MM;
    }
  return TRUE;
}

/* Public */

const char *const *
bed_drill_cautions (void)
{
  return cautions;
}

gboolean
bed_drill_guide_draw_first (const Guide *guide, cairo_t *cr, GError **error)
{
  double left = GUIDE_MARGIN * MM, width = guide->paper.width - 2 * left;
  BedBox title = { left, left, width, 9 * MM };
  BedBox figure = { left, 60 * MM, width, 75 * MM };
  BedBark small = guide->bark;
  BedBox place = bed_bark_get_place (&small, &figure);
  double below, half = width / 2 - 4 * MM;

  if (!bed_text_draw (guide->type, cr, guide->title, &title, &title_style, guide->title, error)
      || !draw_facts (guide, cr, error))
    return FALSE;
  place.y = figure.y;
  below = place.y + place.height + 10 * MM;
  bed_bark_draw (&small, cr, &place);
  return draw_page_plan (guide, cr, &place, error)
         && draw_list (guide, cr, _ ("How to use it"), guide->strip ? strip_steps : bark_steps,
                       (BedBox){ left, below, half, 100 * MM }, error)
         && draw_list (guide, cr, _ ("Take care"), cautions,
                       (BedBox){ left + width / 2 + 4 * MM, below, half, 100 * MM }, error);
}
