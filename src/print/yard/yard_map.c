#include "print/yard/yard_map_private.h"

#include <glib/gi18n-lib.h>

#define LEAST_SCALE 20
#define MOST_SCALE 2000
#define BAR_ROOM (12 * MM) /* of a picture, for the bar that stands */

static void
free_map (gpointer data)
{
  BedMap *self = data;

  bed_yard_names_free (self->names);
  g_ptr_array_unref (self->key.lines);
  g_array_unref (self->elevations);
  bed_scene_free (self->scene);
  bed_yard_free (self->yard);
  bed_typesetter_free (self->type);
  g_free (self->farm);
  g_free (self->date);
  g_free (self);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedMap, free_map)

gboolean
bed_map_draw_head (const BedMap *self, cairo_t *cr, const char *title, const char *about,
                   double right, GError **error)
{
  double width = self->paper.width - 2 * MARGIN;
  BedBox left = { MARGIN, MARGIN, width * 0.5, HEAD };
  BedBox beside = { MARGIN + width * 0.5, MARGIN + 6, width * 0.5 - right, HEAD };
  BedTextStyle large = { 20, 11, 2, BED_WEIGHT_BOLD, BED_ALIGN_LEFT };
  BedTextStyle small = { 10, 6, 2, BED_WEIGHT_REGULAR, BED_ALIGN_RIGHT };

  cairo_set_source_rgb (cr, 0, 0, 0);
  return bed_text_draw_cut (self->type, cr, title, &left, &large, _ ("the yard map"), error)
         && bed_text_draw_cut (self->type, cr, about, &beside, &small, _ ("the yard map"), error);
}

static gboolean
draw_page (cairo_t *cr, guint page, gpointer data, GError **error)
{
  BedMap *self = data;

  if (page < self->n_sheets)
    return bed_map_draw_sheet (self, cr, page, error);
  page -= self->n_sheets;
  return page < self->n_keys ? bed_map_draw_keys (self, cr, page, error)
                             : bed_map_draw_elevations (self, cr, page - self->n_keys, error);
}

/* --- how it lies ------------------------------------------------------------- */

/* The part of the page that is ground, once the key has what it needs of the foot. */
static void
set_paper (BedMap *self, BedPaper paper)
{
  double width = paper.width - 2 * MARGIN, bar = self->use == BED_MAP_PICTURE ? BAR_ROOM : 0;

  self->paper = paper;
  double foot = bed_map_lay_key (self, width);
  self->ground = (BedBox){ MARGIN + bar, MARGIN + HEAD, width - bar,
                           paper.height - 2 * MARGIN - HEAD - foot };
}

static void
lay_sheets (BedMap *self, guint scale)
{
  BedExtent extent = bed_yard_bounds (self->scene);
  const BedBox *ground = &self->ground;

  if (scale == 0)
    scale = bed_sheets_find_scale (&extent, ground->width, ground->height);
  bed_sheets_lay (&self->sheets, &extent, scale, ground->width, ground->height);
  /* The numbers of a strange file: more sheets than a guint counts. */
  double n = (double) self->sheets.across * self->sheets.down;
  self->n_sheets = self->use == BED_MAP_PICTURE ? 1 : (guint) MIN (n, 1e9);
}

/* The sheet lies as the yard does, or the other way when that takes fewer. */
static void
choose_paper (BedMap *self, const BedYardMapSpec *spec)
{
  BedExtent extent = bed_yard_bounds (self->scene);
  BedPaper upright = { MIN (spec->paper.width, spec->paper.height),
                       MAX (spec->paper.width, spec->paper.height) };
  BedPaper lying = { upright.height, upright.width };
  gboolean wide = extent.width > extent.height;

  set_paper (self, wide ? upright : lying);
  lay_sheets (self, spec->scale);
  guint other = self->n_sheets;
  set_paper (self, wide ? lying : upright);
  lay_sheets (self, spec->scale);
  if (spec->scale == 0 || other >= self->n_sheets)
    return;
  set_paper (self, wide ? upright : lying);
  lay_sheets (self, spec->scale);
}

static gboolean
check_sheets (const BedMap *self, const BedYardMapSpec *spec, GError **error)
{
  if (spec->scale && (spec->scale < LEAST_SCALE || spec->scale > MOST_SCALE))
    g_set_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_SHEET,
                 _ ("A map is drawn at 1:%u to 1:%u, not at 1:%u."), LEAST_SCALE, MOST_SCALE,
                 spec->scale);
  else if (self->n_sheets > BED_SHEETS_MOST)
    g_set_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_SHEET,
                 _ ("At 1:%u the map takes %u sheets, more than %u; choose a smaller scale."),
                 self->sheets.scale, self->n_sheets, BED_SHEETS_MOST);
  else
    return TRUE;
  return FALSE;
}

/* --- what is in it ----------------------------------------------------------- */

static void
find_elevations (BedMap *self, const BedYardMapSpec *spec)
{
  self->elevations = g_array_new (FALSE, FALSE, sizeof (guint));
  if (spec->elevations == BED_ELEVATIONS_NONE)
    return;
  for (guint i = 0; i < self->yard->stacks->len; i++)
    {
      gint64 id = ((BedYardStack *) self->yard->stacks->pdata[i])->id;
      gboolean wanted = spec->elevations == BED_ELEVATIONS_ALL;
      for (guint j = 0; !wanted && spec->stacks && j < spec->stacks->len; j++)
        wanted = g_array_index (spec->stacks, gint64, j) == id;
      if (wanted)
        g_array_append_val (self->elevations, i);
    }
}

static BedMap *
make_map (BedYard *yard, const BedYardMapSpec *spec)
{
  BedMap *self = g_new0 (BedMap, 1);

  self->yard = yard;
  self->scene = bed_scene_new (yard);
  self->type = bed_typesetter_new ();
  self->style = (BedYardStyle){ bed_palette_get (BED_PALETTE_PAPER),
                                self->type,
                                spec->colour_by,
                                TEXT_SIZE,
                                spec->system,
                                BED_DETAIL_BY_SCALE };
  self->names = bed_yard_names_new (self->scene, &self->style);
  self->use = spec->use;
  self->farm = g_strdup (spec->farm ? spec->farm : "");
  self->date = g_strdup (spec->date);
  self->key.lines = bed_yard_key_new (yard, spec->colour_by, spec->system);
  find_elevations (self, spec);
  return self;
}

static char *
dup_note (gpointer data)
{
  return bed_typesetter_dup_missing (((BedMap *) data)->type);
}

BedDocument *
bed_yard_map_new (BedYard *yard, const BedYardMapSpec *spec, GError **error)
{
  g_return_val_if_fail (yard != NULL && spec != NULL, NULL);
  g_autoptr (BedMap) self = make_map (yard, spec);

  choose_paper (self, spec);
  if (!check_sheets (self, spec, error))
    return NULL;
  self->n_keys = bed_map_count_keys (self);
  self->n_elevations = bed_map_count_elevations (self);
  BedDocumentSpec document = { yard->name ? yard->name : "",
                               self->paper,
                               self->n_sheets + self->n_keys + self->n_elevations,
                               draw_page,
                               self,
                               free_map,
                               dup_note };
  self = NULL; /* the document's */
  return bed_document_new (&document);
}
