#include "app/yard/yard_tiles.h"

#include <math.h>

#include "app/yard/yard_texture.h"

/* A piece costs about a millisecond, so that few overrun the time there is for them. */
#define SIZE 128 /* screen units of a side */

/* Pieces kept beyond those a screen shows; the least lately seen go. */
#define MOST_KEPT 400u

/* Pieces enlarged or reduced by more than this are no stand-in: one sees nothing in them, or it
 * takes longer than to draw new ones. */
#define MOST_LARGER 6.0
#define MOST_SMALLER 2.0

/* How many pieces beyond those seen are drawn ahead, at each side. */
#define AHEAD 1

typedef enum
{
  TILE_GOOD,
  TILE_OLD,   /* to be drawn anew when there is time */
  TILE_WRONG, /* not to be shown */
} TileState;

typedef struct
{
  int x, y; /* from the area's origin, x east, y south */
  GdkTexture *texture;
  TileState state;
  guint64 seen; /* the frame it was last seen in */
} Tile;

struct _BedYardTiles
{
  BedTileDraw draw;
  gpointer data;
  double scale; /* of ->tiles */
  int device;
  GHashTable *tiles;
  GHashTable *before; /* those of the scale before; NULL when ->tiles show all there is to see */
  double before_scale;
  guint64 frame;
  gboolean at_once; /* nothing can stand in for what is missing */
};

/* The pieces a view shows. */
typedef struct
{
  int left, top, right, bottom; /* both ends count */
  BedPoint origin;              /* of the area, screen units, on whole pixels */
} Seen;

static guint
tile_hash (gconstpointer key)
{
  const Tile *tile = key;

  return (guint) tile->x * 73856093u ^ (guint) tile->y * 19349663u;
}

static gboolean
tile_equal (gconstpointer a, gconstpointer b)
{
  const Tile *one = a, *other = b;

  return one->x == other->x && one->y == other->y;
}

static void
tile_free (gpointer data)
{
  g_object_unref (((Tile *) data)->texture);
  g_free (data);
}

static GHashTable *
table_new (void)
{
  return g_hash_table_new_full (tile_hash, tile_equal, tile_free, NULL);
}

static Tile *
find (GHashTable *tiles, int x, int y)
{
  return g_hash_table_lookup (tiles, &(Tile){ .x = x, .y = y });
}

static Seen
find_seen (const BedViewport *view, int device, double size)
{
  BedPoint at = bed_viewport_to_screen (view, (BedPoint){ 0, 0 });
  BedPoint origin = { round (at.x * device) / device, round (at.y * device) / device };

  return (Seen){ (int) floor (-origin.x / size), (int) floor (-origin.y / size),
                 (int) floor ((view->width - origin.x) / size),
                 (int) floor ((view->height - origin.y) / size), origin };
}

/* --- drawing one ---------------------------------------------------------------- */

typedef struct
{
  BedYardTiles *tiles;
  BedViewport view;
} Piece;

static void
draw_piece (cairo_t *cr, gpointer data)
{
  Piece *piece = data;

  piece->tiles->draw (cr, &piece->view, piece->tiles->data);
}

static void
draw_tile (BedYardTiles *self, int x, int y)
{
  Piece piece = { self, { .scale = self->scale, .width = SIZE, .height = SIZE } };
  int pixels = SIZE * self->device;
  Tile *tile = find (self->tiles, x, y);

  if (!tile)
    {
      tile = g_new0 (Tile, 1);
      tile->x = x;
      tile->y = y;
      g_hash_table_add (self->tiles, tile);
    }
  g_clear_object (&tile->texture);
  piece.view.middle = (BedPoint){ (x + 0.5) * SIZE / self->scale, -(y + 0.5) * SIZE / self->scale };
  tile->texture = bed_yard_texture_new (pixels, pixels, self->device, draw_piece, &piece);
  tile->state = TILE_GOOD;
  tile->seen = self->frame;
}

/* Draws the missing, or old, pieces of @seen until @until, wrong ones in any case; FALSE when not
 * all are drawn. */
static gboolean
draw_seen (BedYardTiles *self, const Seen *seen, gint64 until)
{
  gboolean whole = TRUE;

  for (int y = seen->top; y <= seen->bottom; y++)
    for (int x = seen->left; x <= seen->right; x++)
      {
        Tile *tile = find (self->tiles, x, y);
        if (tile)
          tile->seen = self->frame;
        if (tile && tile->state == TILE_GOOD)
          continue;
        if ((tile && tile->state == TILE_WRONG) || g_get_monotonic_time () < until)
          draw_tile (self, x, y);
        else
          whole = FALSE;
      }
  return whole;
}

/* --- keeping -------------------------------------------------------------------- */

static gboolean
is_unseen (gpointer key, gpointer value, gpointer data)
{
  const BedYardTiles *self = data;

  return ((Tile *) key)->seen + 1 < self->frame;
}

/* Those of the scale looked at now; the others stand in for them until they are drawn. Whether it
 * is another scale than before. */
static gboolean
use_scale (BedYardTiles *self, double scale, int device)
{
  if (scale == self->scale && device == self->device)
    return FALSE;
  /* In the midst of a zoom few are drawn at any one scale: the last whole set stands. */
  if (!self->before)
    {
      self->before = g_steal_pointer (&self->tiles);
      self->before_scale = self->scale;
      self->tiles = table_new ();
    }
  g_hash_table_remove_all (self->tiles);
  self->scale = scale;
  self->device = device;
  return TRUE;
}

/* How much those of the scale before are enlarged to stand in; 0 when they do not. */
static double
find_zoom (const BedYardTiles *self)
{
  double zoom = self->before && self->before_scale > 0 ? self->scale / self->before_scale : 0;

  return zoom >= 1 / MOST_SMALLER && zoom <= MOST_LARGER ? zoom : 0;
}

static void
lay (GHashTable *tiles, GtkSnapshot *snapshot, const Seen *seen, double size, guint64 frame)
{
  for (int y = seen->top; y <= seen->bottom; y++)
    for (int x = seen->left; x <= seen->right; x++)
      {
        Tile *tile = find (tiles, x, y);
        if (!tile)
          continue;
        tile->seen = frame;
        gtk_snapshot_append_texture (snapshot, tile->texture,
                                     &GRAPHENE_RECT_INIT ((float) (seen->origin.x + x * size),
                                                          (float) (seen->origin.y + y * size),
                                                          (float) size, (float) size));
      }
}

/* --- public --------------------------------------------------------------------- */

BedYardTiles *
bed_yard_tiles_new (BedTileDraw draw, gpointer data)
{
  BedYardTiles *self = g_new0 (BedYardTiles, 1);

  self->draw = draw;
  self->data = data;
  self->tiles = table_new ();
  self->at_once = TRUE;
  return self;
}

void
bed_yard_tiles_free (BedYardTiles *self)
{
  g_hash_table_unref (self->tiles);
  g_clear_pointer (&self->before, g_hash_table_unref);
  g_free (self);
}

void
bed_yard_tiles_refresh (BedYardTiles *self)
{
  GHashTableIter iter;
  gpointer tile;

  g_hash_table_iter_init (&iter, self->tiles);
  while (g_hash_table_iter_next (&iter, &tile, NULL))
    if (((Tile *) tile)->state == TILE_GOOD)
      ((Tile *) tile)->state = TILE_OLD;
}

void
bed_yard_tiles_forget (BedYardTiles *self)
{
  g_hash_table_remove_all (self->tiles);
  g_clear_pointer (&self->before, g_hash_table_unref);
  self->at_once = TRUE;
}

void
bed_yard_tiles_forget_part (BedYardTiles *self, const BedExtent *part)
{
  double side = SIZE / self->scale;

  if (self->scale <= 0)
    return;
  for (int y = (int) floor (-(part->y + part->height) / side); y <= (int) floor (-part->y / side);
       y++)
    for (int x = (int) floor (part->x / side); x <= (int) floor ((part->x + part->width) / side);
         x++)
      {
        Tile *tile = find (self->tiles, x, y);
        if (tile)
          tile->state = TILE_WRONG;
      }
}

gboolean
bed_yard_tiles_snapshot (BedYardTiles *self, GtkSnapshot *snapshot, const BedViewport *view,
                         int device, gint64 budget)
{
  gint64 until = self->at_once ? G_MAXINT64 : g_get_monotonic_time () + budget;

  /* In the midst of a zoom what is drawn now would be thrown away with the next frame. */
  if (use_scale (self, view->scale, device) && find_zoom (self) > 0 && !self->at_once)
    until = 0;
  self->frame++;
  Seen seen = find_seen (view, device, SIZE);
  Seen around = { seen.left - AHEAD, seen.top - AHEAD, seen.right + AHEAD, seen.bottom + AHEAD,
                  seen.origin };
  gboolean whole = draw_seen (self, &seen, until);
  if (whole)
    g_clear_pointer (&self->before, g_hash_table_unref);
  double zoom = find_zoom (self);
  if (zoom > 0)
    {
      double size = SIZE * zoom;
      Seen before = find_seen (view, device, size);
      lay (self->before, snapshot, &before, size, self->frame);
    }
  lay (self->tiles, snapshot, &seen, SIZE, self->frame);
  gboolean done = whole && !self->at_once && draw_seen (self, &around, until);
  self->at_once = FALSE;
  if (g_hash_table_size (self->tiles) > MOST_KEPT)
    g_hash_table_foreach_remove (self->tiles, is_unseen, self);
  return done;
}
