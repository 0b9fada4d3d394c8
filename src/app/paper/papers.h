#pragma once

#include "model/farm/farm.h"
#include "print/label/label.h"
#include "print/page/document.h"
#include "print/yard/yard_map.h"

/* Everything the desk prints, in one table: what it is called, whether it goes on
 * labels, and how its pages are made. The pages themselves are drawn by src/print,
 * the same for the tool. */

typedef enum
{
  BED_PRINT_TAGS,           /* subject: batch; of ->logs when there are any */
  BED_PRINT_TAG,            /* log */
  BED_PRINT_GUIDE,          /* batch */
  BED_PRINT_GUIDE_BARK,     /* batch */
  BED_PRINT_INOCULATION,    /* batch */
  BED_PRINT_WEIGHING,       /* batch, or 0 */
  BED_PRINT_TALLY,          /* felling, or 0 */
  BED_PRINT_MEASURING,      /* felling, or 0 */
  BED_PRINT_SPAWN,          /* spawn lot */
  BED_PRINT_MAP,            /* area */
  BED_PRINT_SIGN,           /* stack */
  BED_PRINT_SIGNS,          /* area: every stack that stands in it */
  BED_PRINT_MOVES,          /* stack, or 0 */
  BED_PRINT_PLAN,           /* none: of ->day */
  BED_PRINT_SOAKS,          /* none: what the rotation has next */
  BED_PRINT_CRATES,         /* lot */
  BED_PRINT_PICKING,        /* stack, or 0 */
  BED_PRINT_WEEK,           /* none: what is due this week */
  BED_PRINT_DAYS,           /* none: the day of each person */
  BED_PRINT_WEIGHING_STACK, /* stack */
  BED_PRINT_RECALL,         /* a record of the kind ->of; 0: of ->day, or the water so called */
  BED_PRINT_SHOWN,          /* none: what ->shown shows, called ->day */
  BED_N_PRINTS
} BedPrint;

/* One thing a page offers to print. */
typedef struct
{
  BedPrint what;
  gint64 subject;        /* id, see BedPrint */
  const char *day;       /* YYYY-MM-DD; NULL: of a map today, of a plan the first;
                            of a recall the day or water,
                            of crates that of packing, NULL as the lot says */
  GArray *logs;          /* BED_PRINT_TAGS: these logs only (gint64); NULL: all that live */
  GArray *stacks;        /* BED_PRINT_MAP: those that are chosen (gint64); may be NULL */
  BedColourBy colour_by; /* BED_PRINT_MAP */
  BedKind of;            /* BED_PRINT_RECALL */
  gpointer shown;        /* BED_PRINT_SHOWN: a GtkWidget that outlives the offer */
} BedPrintOffer;

/* What is chosen in the dialog. */
typedef struct
{
  const BedSheet *sheet; /* labels only */
  BedSheetPlace place;
  guint copies;                /* labels only, at least 1 */
  gint64 mass;                 /* crates: mg in one, 0: the whole lot */
  gint64 price;                /* crates: minor units, 0: none */
  guint scale;                 /* map: 1:scale, 0: as goes on one sheet */
  BedMapElevations elevations; /* map: those that follow */
} BedPrintChoice;

/* "Log tags", translated. */
const char *bed_print_title (BedPrint what);
gboolean bed_print_is_label (BedPrint what);

/* Labels only: what they are for. */
BedLabelUse bed_print_get_use (BedPrint what);

/* The pages; NULL with the error of src/print or of the farm. */
BedDocument *bed_print_make (BedFarm *farm, const BedPrintOffer *offer,
                             const BedPrintChoice *choice, GError **error);

/* How many labels that is; 0 with the error of src/print or of the farm. */
guint bed_print_count_labels (BedFarm *farm, const BedPrintOffer *offer,
                              const BedPrintChoice *choice, GError **error);

/* A name for the file, without suffix: "Log tags 26A". */
char *bed_print_dup_file_name (BedFarm *farm, const BedPrintOffer *offer);
