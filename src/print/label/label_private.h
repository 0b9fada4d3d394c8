#pragma once

#include "print/label/label.h"

/* Inside the labels only: one label being laid out. Points. */

/* Smallest size of a headline. */
#define BED_HEADLINE_FLOOR 8.0

/* Distances of baselines below the headline and among the lines, of the lower line's size, and
 * between two on one row; taste. */
#define BED_FIRST_LEADING 1.4
#define BED_LEADING 1.28
#define BED_BESIDE 1.3

/* From a caption to its text, of its size. */
#define BED_CAPTION_GAP 0.35

/* Where a line stands. */
typedef struct
{
  double size;
  guint rows;  /* 0 when left out */
  double x, y; /* from the left edge; of its first baseline, from the headline's last */
} BedLabelSpot;

typedef struct
{
  const BedLabel *label;
  BedTypesetter *type;
  BedQr *qr;   /* NULL: none */
  BedBox code; /* of the QR code with its quiet zone */
  BedBox text; /* from the top of the headline's capitals to the last baseline */
  double used; /* height of the headline and the air below it */
  BedLabelFit fit;
  BedLabelSpot spots[BED_LABEL_MOST_LINES];
} BedFace;

extern const BedTextStyle bed_headline_floor;

/* Finds sizes and spots for face->text, no larger than @most; BED_PRINT_ERROR_TEXT when there
 * are none. */
gboolean bed_face_fit (BedFace *face, const BedLabelFit *most, GError **error);

/* The same as it was fitted. */
gboolean bed_face_set (BedFace *face, const BedLabelFit *fit);

/* Width of the headline at 1 point. */
double bed_face_get_headline_em (const BedFace *face);

/* Width of that line's caption and the gap after it, at 1 point; 0 where it has none. */
double bed_face_get_caption_em (const BedFace *face, guint line);

/* The style a line is wrapped in at that size. */
BedTextStyle bed_face_get_line_style (const BedFace *face, guint line, double size);
