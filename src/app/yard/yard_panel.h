#pragma once

#include "app/widgets/part.h"
#include "app/yard/yard_pages.h"
#include "model/farm/farm.h"

/* Beside the yard: the selected stack with its elevation, its logs, what the trade
 * warns of, and its form; or, when none is selected, what the colours say and
 * which stacks want a look.
 *
 * Signals: "select" (gint64 stack), "duplicate" (),
 * "batch" (const char *): its stacks are to be chosen. */
#define BED_TYPE_YARD_PANEL (bed_yard_panel_get_type ())
G_DECLARE_FINAL_TYPE (BedYardPanel, bed_yard_panel, BED, YARD_PANEL, BedPart)

GtkWidget *bed_yard_panel_new (BedFarm *farm);

/* What is shown. Borrows the scene: call bed_yard_panel_clear() before it goes. */
typedef struct
{
  const BedScene *scene;
  gint64 stack;         /* the only thing chosen, where it is a stack; else 0 */
  const GArray *chosen; /* BedThing */
  BedYardMode mode;
  BedColourBy colour_by;
  const char *plan; /* the day whose plan it is, YYYY-MM-DD; NULL: it is no plan */
} BedYardShown;

void bed_yard_panel_show (BedYardPanel *self, const BedYardShown *shown);
/* See bed_yard_view_get_looks(); of the scene that is shown, or is about to be. */
void bed_yard_panel_set_looks (BedYardPanel *self, GHashTable *looks);

void bed_yard_panel_clear (BedYardPanel *self);

/* The same elevation as large as there is room: for the page, which gives it its place and
 * takes it. It shows and does what the small one does. */
GtkWidget *bed_yard_panel_new_large (BedYardPanel *self);

/* The log with the frame, or 0, and framing one. */
void bed_yard_panel_select_log (BedYardPanel *self, gint64 log);

/* What is shown when something else than one stack is chosen: a BedYardGroupPanel. Borrowed. */
GtkWidget *bed_yard_panel_get_group (BedYardPanel *self);

/* What is shown when nothing is chosen. Borrowed. */
BedYardPages *bed_yard_panel_get_pages (BedYardPanel *self);

/* As wide as the window has room for. */
typedef enum
{
  BED_PANEL_WIDE,
  BED_PANEL_NARROW
} BedPanelWidth;

void bed_yard_panel_set_width (BedYardPanel *self, BedPanelWidth width);
