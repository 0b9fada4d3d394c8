#pragma once

#include "print/yard/yard_map.h"
#include "print/yard/yard_names.h"
#include "print/yard/yard_sheets.h"

/* Shared by yard_map.c (what pages there are), yard_map_sheet.c (the ground), yard_map_key.c and
 * yard_map_stacks.c (elevations). Points. */

#define MM BED_POINTS_PER_MM
#define MARGIN (12 * MM)
#define HEAD (17 * MM)
#define TEXT_SIZE 7.5

/* How the key lies: in columns, after its heading. */
typedef struct
{
  GPtrArray *lines;       /* BedKeyLine */
  double heading, column; /* wide */
  guint in_foot;          /* rows it takes in the foot; 0: it has pages of its own */
} BedMapKey;

typedef struct
{
  BedYard *yard;
  BedScene *scene;
  BedTypesetter *type;
  BedYardNames *names;
  BedYardStyle style;
  BedPaper paper;
  BedMapUse use;
  char *farm;
  char *date;
  BedBox ground; /* of the page, for the drawing */
  BedSheets sheets;
  BedMapKey key;
  GArray *elevations; /* guint, indices of stacks */
  guint n_sheets, n_keys, n_elevations;
} BedMap;

/* The head of a page: what it is, and in small what else is to be known of it. */
gboolean bed_map_draw_head (const BedMap *self, cairo_t *cr, const char *title, const char *about,
                            double right, GError **error);

gboolean bed_map_draw_sheet (const BedMap *self, cairo_t *cr, guint sheet, GError **error);

/* Measures the key for a page that is @width wide between its margins, and how much of the foot
 * it takes; draws it there; the pages it has of its own, and each of them. */
double bed_map_lay_key (BedMap *self, double width);
void bed_map_draw_foot (const BedMap *self, cairo_t *cr);
guint bed_map_count_keys (const BedMap *self);
gboolean bed_map_draw_keys (const BedMap *self, cairo_t *cr, guint page, GError **error);

guint bed_map_count_elevations (const BedMap *self);
gboolean bed_map_draw_elevations (const BedMap *self, cairo_t *cr, guint page, GError **error);
