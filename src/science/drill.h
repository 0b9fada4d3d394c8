#pragma once

#include <glib.h>

/* The drilling pattern of a log.
 *
 * Units of this whole room: lengths are millimetres as double, whatever the
 * header says otherwise carries the unit in its name. The farm file keeps
 * micrometres; the caller divides by a thousand.
 *
 * The bark is unrolled: x runs along the log from the large end, y around it.
 * Rows run along the log, `between` apart; neighbouring rows are shifted half
 * the spacing `along`, which makes the diamond of the trade. How well a pattern
 * covers is the distance from a point of the bark to the nearest hole, taken
 * where it is greatest (the covering radius of the lattice; R. Kershner, The
 * number of circles covering a set, American Journal of Mathematics 61, 1939).
 * Derivation: docs/sources.md, "Staggered holes". */

/* The half shift meets itself round the log only when rows are even in number. */
typedef enum
{
  BED_CLOSING_NEAREST, /* nearest whole number of rows; an odd one leaves a seam */
  BED_CLOSING_EVEN,    /* nearest even number: no seam, rows a little off the wish */
  BED_CLOSING_HELIX,   /* nearest whole number, each row shifted along/n times k: no seam */
} BedClosing;

typedef struct
{
  double large_diameter; /* over bark, 10 to 2000 */
  double small_diameter; /* at most the large one; equal for a cylinder */
  double length;         /* 50 to 20000 */
  double along;          /* between holes of a row, 5 to 2000 */
  double between;        /* between rows as wished, 5 to 2000 */
  double margin;         /* first hole from the end, 0 to less than half the length */
  double hole_diameter;  /* 0 to half the small end and to along; 0 when needs are not asked for */
  double hole_depth;     /* 0 to 200 */
  BedClosing closing;
} BedDrill;

typedef struct
{
  double x;  /* from the large end */
  double y;  /* around, at the mean diameter, from the first row */
  int row;   /* from 0 */
  int index; /* along the row, from 0 */
} BedHole;

typedef struct
{
  double distance; /* to the nearest hole; 0 when the log has no such place */
  double x;        /* where that is, as in BedHole */
  double y;
} BedFarthest;

typedef struct
{
  int rows;
  int *per_row;  /* rows of them */
  double *start; /* x of each row's first hole */
  GArray *holes; /* BedHole, row by row */
  double along;
  double margin;
  double length;
  double pitch;         /* between rows, at the mean diameter */
  double pitch_large;   /* at the large end, where they are widest apart */
  double shift;         /* from one row to the next, 0 to along */
  BedFarthest inside;   /* covering distance away from seam and ends */
  BedFarthest seam;     /* where two unshifted rows meet; the same as inside without a seam */
  BedFarthest ends;     /* from the outermost holes to the rims */
  BedFarthest farthest; /* the greatest of the three */
} BedDrillPlan;

/* The plan of @drill, or NULL and BED_SCIENCE_ERROR naming the field at fault.
 * Distances are taken at the large end's row pitch: the wood is never farther
 * from spawn than they say. Free with bed_drill_plan_free(). */
BedDrillPlan *bed_drill_plan_new (const BedDrill *drill, GError **error);

void bed_drill_plan_free (BedDrillPlan *plan);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedDrillPlan, bed_drill_plan_free)

/* Covering radius of endless rows @between apart, holes @along apart, each row
 * shifted by @shift against the one before: |u||v||u-v| / 2|det| of the reduced
 * lattice. With @shift = along/2 and a = between, b = along it is (a2 + b2/4) /
 * (2 max (a, b/2)). Arguments above zero, @shift any. */
double bed_drill_covering (double between, double along, double shift);

/* Needs */

typedef enum
{
  BED_SPAWN_SAWDUST,
  BED_SPAWN_DOWEL,
  BED_SPAWN_THIMBLE,
  BED_SPAWN_GRAIN,
  BED_N_SPAWN_FORMS
} BedSpawnForm;

typedef enum
{
  BED_DRILL_HAND,    /* hand-held electric drill */
  BED_DRILL_GRINDER, /* angle grinder with bit adapter: guard, side handle, goggles, muffs */
  BED_N_DRILL_TOOLS
} BedDrillTool;

typedef enum
{
  BED_SEAL_HOLES,
  BED_SEAL_HOLES_AND_ENDS,
} BedSeal;

/* What one hole, end or log takes. bed_drill_norms_init() fills in defaults that
 * are common practice, no published source: measure your own and replace them. */
typedef struct
{
  double spawn_g_per_ml[BED_N_SPAWN_FORMS]; /* in the hole, packed; dowel, thimble as made */
  double spawn_loss;   /* of sawdust and grain, to what is in the hole: spilled, filled proud */
  double spawn_spread; /* between farms: need over and under by this share of it */
  double wax_g_per_hole;
  double wax_g_per_cm2;                    /* of end face */
  double minutes_per_log;                  /* lift on, turn, lift off, tag */
  double drill_minutes[BED_N_DRILL_TOOLS]; /* per hole */
  double fill_minutes[BED_N_SPAWN_FORMS];  /* per hole */
  double wax_minutes_per_hole;
  double wax_minutes_per_end;
} BedDrillNorms;

typedef struct
{
  int holes;
  int pieces;          /* dowels or thimbles; 0 for loose spawn */
  double spawn_ml;     /* volume of the holes */
  double spawn_g;      /* with what is lost */
  double spawn_low_g;  /* what a careful farm takes */
  double spawn_high_g; /* what a generous one does */
  double wax_g;
  double handle_minutes;
  double drill_minutes;
  double fill_minutes;
  double wax_minutes;
  double minutes; /* of one person, all steps */
} BedDrillNeeds;

typedef struct
{
  BedSpawnForm form;
  BedDrillTool tool;
  BedSeal seal;
} BedDrillWork;

void bed_drill_norms_init (BedDrillNorms *norms);

/* The same as a grower measures it on a working day; 0 or below: not measured. */
typedef struct
{
  double holes_drilled; /* a minute, with the farm's own tool */
  double holes_filled;  /* a minute */
  double holes_waxed;   /* a minute */
  double ends_waxed;    /* a minute */
  double logs_handled;  /* an hour: lifted on, turned, lifted off, tagged */
  double wax_g_100_holes;
  double wax_g_ends;    /* both ends of a log BED_DRILL_USUAL_DIAMETER thick */
  double spawn_g_litre; /* packed as in the hole */
} BedDrillPace;

/* A log of a usual size, mm (about 5 in): common practice, no source. */
#define BED_DRILL_USUAL_DIAMETER 120.0

/* What batches took over what the norms say of them; 0 where it is not known. */
typedef struct
{
  double spawn;
  double spawn_low; /* of the batch that took least, and most */
  double spawn_high;
  double wax;
  double minutes;
} BedDrillShare;

/* The farm's own use in place of common practice. */
void bed_drill_norms_scale (BedDrillNorms *norms, const BedDrillShare *share);

/* Puts what was measured in place of the defaults, of every tool and form of spawn. Spawn that was
 * weighed has no loss beside it. */
void bed_drill_norms_measure (BedDrillNorms *norms, const BedDrillPace *pace);

/* What one log with @holes holes as in @drill takes. Hot wax: never leave it
 * over heat, keep water away from it, stop when it smokes. */
gboolean bed_drill_needs (const BedDrill *drill, int holes, const BedDrillWork *work,
                          const BedDrillNorms *norms, BedDrillNeeds *needs, GError **error);

/* How many holes of @drill this much loose spawn fills. */
gboolean bed_drill_holes_for_spawn (const BedDrill *drill, BedSpawnForm form, double spawn_g,
                                    const BedDrillNorms *norms, int *holes, GError **error);

/* The inverse, both ways. Both set @drill's along and between; closing and margin stay as
 * given. Rows closer than 25 mm are not looked at: nobody drills them. Of helical patterns
 * only those are, whose first row runs from margin to margin. */

/* At most @holes holes, 2 to 2000, and the farthest point as near as it can be. */
gboolean bed_drill_fit_holes (BedDrill *drill, int holes, GError **error);

/* The fewest holes, at most 2000, that leave no point farther than @covering. Where a
 * millimetre more would take less than half of them it is refused, and the error says from
 * which distance on the pattern helps. */
gboolean bed_drill_fit_covering (BedDrill *drill, double covering, GError **error);
