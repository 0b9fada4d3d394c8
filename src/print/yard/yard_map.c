#include "print/yard/yard_map.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "print/yard/yard_names.h"

#define MM BED_POINTS_PER_MM
#define MARGIN (12 * MM)
#define HEAD (15 * MM)
#define FOOT (9 * MM)
#define KEY_WIDTH (26 * MM)

typedef struct
{
  BedYard *yard;
  BedScene *scene;
  BedTypesetter *type;
  BedPaper paper;
  BedSystem system;
  char *farm;
  char *date;
} Map;

static void
free_map (gpointer data)
{
  Map *self = data;

  bed_scene_free (self->scene);
  bed_yard_free (self->yard);
  bed_typesetter_free (self->type);
  g_free (self->farm);
  g_free (self->date);
  g_free (self);
}

static gboolean
draw_head (const Map *self, cairo_t *cr, guint scale, GError **error)
{
  g_autofree char *dated = g_strdup_printf ("%s · %s · 1:%u", self->farm, self->date, scale);
  double width = self->paper.width - 2 * MARGIN;
  BedBox title = { MARGIN, MARGIN, width * 0.55, HEAD };
  BedBox about = { MARGIN + width * 0.55, MARGIN + 6, width * 0.45, HEAD };
  BedTextStyle large = { 20, 11, 2, BED_WEIGHT_BOLD, BED_ALIGN_LEFT };
  BedTextStyle small = { 10, 6, 2, BED_WEIGHT_REGULAR, BED_ALIGN_RIGHT };

  cairo_set_source_rgb (cr, 0, 0, 0);
  return bed_text_draw_cut (self->type, cr, self->yard->name ? self->yard->name : "", &title,
                            &large, _ ("the yard map"), error)
         && bed_text_draw_cut (self->type, cr, dated, &about, &small, _ ("the yard map"), error);
}

/* One log end for each batch, with its code. Those that find no room are in the names anyhow. */
static void
draw_key (const Map *self, cairo_t *cr, const BedYardStyle *style)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
  double x = MARGIN, y = self->paper.height - MARGIN - FOOT / 2;

  for (guint i = 0; i < self->yard->stacks->len; i++)
    {
      const BedYardStack *stack = self->yard->stacks->pdata[i];
      for (guint j = 0; j < stack->logs->len; j++)
        {
          const BedYardLog *log = stack->logs->pdata[j];
          BedYardLog sample = { .mark = log->mark, .colonised = -1 };
          if (!log->batch || !g_hash_table_add (seen, log->batch)
              || x + KEY_WIDTH > self->paper.width - MARGIN)
            continue;
          bed_log_end_draw (cr, &sample, (BedPoint){ x + 7, y }, 7, style);
          cairo_set_source_rgb (cr, 0, 0, 0);
          bed_text_show (self->type, cr, log->batch, BED_WEIGHT_REGULAR, 9, x + 18,
                         y + bed_text_cap_height (self->type, 9) / 2);
          x += KEY_WIDTH;
        }
    }
}

static gboolean
draw_page (cairo_t *cr, guint page, gpointer data, GError **error)
{
  Map *self = data;
  BedYardStyle style
      = { bed_palette_get (BED_PALETTE_PAPER), self->type, BED_COLOUR_BY_BATCH, 7.5, self->system };
  BedPlan plan = { self->scene,
                   &style,
                   { .width = self->paper.width - 2 * MARGIN,
                     .height = self->paper.height - 2 * MARGIN - HEAD - FOOT } };
  BedExtent extent = bed_yard_bounds (self->scene);
  guint scale = bed_yard_map_scale (&extent, plan.view.width, plan.view.height);

  if (!draw_head (self, cr, scale, error))
    return FALSE;
  plan.view.scale = 1000 * MM / scale;
  plan.view.middle = (BedPoint){ extent.x + extent.width / 2, extent.y + extent.height / 2 };
  cairo_save (cr);
  cairo_translate (cr, MARGIN, MARGIN + HEAD);
  cairo_rectangle (cr, 0, 0, plan.view.width, plan.view.height);
  cairo_clip (cr);
  bed_plan_draw (cr, &plan);
  cairo_restore (cr);
  draw_key (self, cr, &style);
  return TRUE;
}

guint
bed_yard_map_scale (const BedExtent *extent, double width, double height)
{
  static const guint scales[] = { 50, 100, 200 };

  for (guint i = 0; i < G_N_ELEMENTS (scales); i++)
    if (extent->width * 1000 * MM / scales[i] <= width
        && extent->height * 1000 * MM / scales[i] <= height)
      return scales[i];
  return 500;
}

BedDocument *
bed_yard_map_new (BedYard *yard, const BedYardMapSpec *map)
{
  Map *self = g_new0 (Map, 1);

  self->yard = yard;
  self->scene = bed_scene_new (yard);
  self->type = bed_typesetter_new ();
  self->system = map->system;
  self->farm = g_strdup (map->farm);
  self->date = g_strdup (map->date);
  BedExtent extent = bed_yard_bounds (self->scene);
  self->paper = map->paper;
  if (extent.width > extent.height) /* the sheet lies as the yard does */
    self->paper = (BedPaper){ MAX (map->paper.width, map->paper.height),
                              MIN (map->paper.width, map->paper.height) };
  return bed_document_new (&(BedDocumentSpec){ yard->name ? yard->name : "", self->paper, 1,
                                               draw_page, self, free_map });
}
