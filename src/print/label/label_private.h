#pragma once

#include "print/label/label.h"

/* Inside the labels only: one label being laid out. Points. */

/* Smallest sizes: a headline that is still larger than print, and small print. */
#define BED_HEADLINE_FLOOR 7.0
#define BED_LINE_FLOOR 5.5

/* Distances of baselines below the headline and among the lines, of their size; taste. */
#define BED_FIRST_LEADING 1.4
#define BED_LEADING 1.28

typedef struct
{
  const BedLabel *label;
  cairo_t *cr;
  BedTypesetter *type;
  BedQr *qr;       /* NULL: none */
  BedBox code;     /* of the QR code with its quiet zone */
  BedBox text;     /* from the top of the headline's capitals to the last baseline */
  double headline; /* size */
  double used;     /* height of the headline and the air below it */
  double size;     /* of the lines */
  double captions; /* width of the caption column at that size */
  guint rows[BED_LABEL_MOST_LINES]; /* of each line, 0 when left out */
} BedFace;

extern const BedTextStyle bed_headline_floor;

/* Finds sizes and rows for face->text; BED_PRINT_ERROR_TEXT when there are none. */
gboolean bed_face_fit (BedFace *face, GError **error);

guint bed_face_count_rows (const BedFace *face);

/* Height of so many rows at 1 point, from the headline's last baseline to the last row's. */
double bed_face_get_rows_em (guint rows);

/* Width of the headline at 1 point. */
double bed_face_get_headline_em (const BedFace *face);

/* Left edge of that line's text, from face->text's. */
double bed_face_get_indent (const BedFace *face, guint line);

/* The style a line is wrapped in. */
BedTextStyle bed_face_get_line_style (const BedFace *face, guint line);
