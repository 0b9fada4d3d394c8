#include "print/label/label_private.h"

/* From the label's edge to the quiet zone, and at least to any text, mm: what a
 * sheet printer may be off. */
#define EDGE 0.5
#define LEAST_PADDING 1.5
#define MOST_PADDING 12.0

/* A little height left over goes between headline and lines; of a line's size. */
#define MOST_SLACK 0.9

/* A module any phone reads at arm's length, mm: common practice, no source. */
#define EASY_MODULE 0.8

/* A label taller than this part of its width carries the code below the text. */
#define TALL 0.78

static double
from_mm (double mm)
{
  return mm * BED_POINTS_PER_MM;
}

static double
get_quiet (const BedFace *face)
{
  return face->code.width * BED_QR_QUIET_ZONE / bed_qr_get_modules (face->qr);
}

/* The code at the right, as high as the label; the text beside it, level with
 * the code's own dark edges. */
static void
place_wide (BedFace *face, const BedBox *box)
{
  double padding = CLAMP (box->height * 0.1, from_mm (LEAST_PADDING), from_mm (MOST_PADDING));
  double left = MIN (padding, from_mm (5)), edge = from_mm (EDGE);

  face->text = (BedBox){ box->x + left, box->y + padding, box->width - 2 * left,
                         box->height - 2 * padding };
  if (!face->qr)
    return;
  /* Beyond an easy module the room is better given to the headline. */
  double easy = from_mm (EASY_MODULE) * bed_qr_get_modules (face->qr);
  double side = MIN (MIN (box->height - 2 * edge, box->width * 0.42), MAX (easy, box->width * 0.3));
  face->code = (BedBox){ box->x + box->width - edge - side, box->y + (box->height - side) / 2, side,
                         side };
  double quiet = get_quiet (face);
  double top = MIN (face->code.y + quiet - box->y, box->height * 0.17);
  face->text.y = box->y + top;
  face->text.height = box->height - 2 * top;
  face->text.width = face->code.x - face->text.x;
}

/* The code at the foot, its dark edge under the left edge of the text. */
static void
place_tall (BedFace *face, const BedBox *box)
{
  double edge = from_mm (EDGE), right = box->width * 0.08;
  double padding = CLAMP (right, from_mm (LEAST_PADDING), from_mm (MOST_PADDING));

  if (face->qr)
    {
      double side = MIN (box->width * 0.72, box->height * 0.5);

      face->code = (BedBox){ box->x + edge, box->y + box->height - edge - side, side, side };
      padding = MAX (padding, edge + get_quiet (face));
      face->code.x = box->x + padding - get_quiet (face);
      face->code.y = box->y + box->height - padding + get_quiet (face) - side;
    }
  face->text = (BedBox){ box->x + padding, box->y + padding, box->width - padding - right,
                         box->height - 2 * padding };
  if (face->qr)
    face->text.height = face->code.y - face->text.y;
}

static gboolean
draw_headline (const BedFace *face, GError **error)
{
  const BedLabel *label = face->label;
  double x = face->text.x;
  double y = face->text.y + bed_text_cap_height (face->type, face->headline);

  if (bed_face_get_headline_em (face) * face->headline > face->text.width + 0.01)
    {
      BedBox box = face->text;

      box.y = y - bed_text_ascent (face->type, face->headline);
      return bed_text_draw (face->type, face->cr, label->headline, &box, &bed_headline_floor,
                            label->owner, error);
    }
  bed_text_show (face->type, face->cr, label->headline, BED_WEIGHT_BOLD, face->headline, x, y);
  if (label->tail)
    {
      x += bed_text_width (face->type, label->headline, BED_WEIGHT_BOLD, face->headline);
      bed_text_show (face->type, face->cr, label->tail, BED_WEIGHT_REGULAR, face->headline, x, y);
    }
  return TRUE;
}

/* Height left over. Beside a code a little of it goes between headline and
 * lines, so that the last line stands on the code's lower edge; more than that
 * would tear them apart and goes above and below. */
static double
get_slack (const BedFace *face)
{
  double lines = bed_face_get_rows_em (bed_face_count_rows (face)) * face->size;

  return MAX (0, face->text.height - face->used - lines);
}

static void
centre_text (BedFace *face)
{
  double slack = get_slack (face);

  if (slack <= MOST_SLACK * face->size && bed_face_count_rows (face))
    {
      face->used += slack;
      return;
    }
  face->text.y += slack / 2;
  face->text.height -= slack;
}

static gboolean
draw_line (const BedFace *face, guint index, double baseline, GError **error)
{
  const BedLabelLine *line = &face->label->lines[index];
  double indent = bed_face_get_indent (face, index);

  if (line->caption)
    bed_text_show (face->type, face->cr, line->caption, BED_WEIGHT_REGULAR, face->size,
                   face->text.x, baseline);
  if (face->rows[index] == 1)
    {
      bed_text_show (face->type, face->cr, line->text, line->weight, face->size,
                     face->text.x + indent, baseline);
      return TRUE;
    }
  BedTextStyle style = bed_face_get_line_style (face, index);
  BedBox box = { face->text.x + indent, baseline - bed_text_ascent (face->type, face->size),
                 face->text.width - indent, G_MAXINT };
  return bed_text_draw (face->type, face->cr, line->text, &box, &style, face->label->owner, error);
}

static gboolean
draw_lines (const BedFace *face, GError **error)
{
  double y = face->text.y + face->used + BED_FIRST_LEADING * face->size;

  for (guint i = 0; i < face->label->n_lines; i++)
    {
      if (!face->rows[i])
        continue;
      if (!draw_line (face, i, y, error))
        return FALSE;
      y += face->rows[i] * BED_LEADING * face->size;
    }
  return TRUE;
}

static gboolean
draw_face (BedFace *face, const BedBox *box, GError **error)
{
  gboolean tall = box->height > box->width * TALL;

  if (tall)
    place_tall (face, box);
  else
    place_wide (face, box);
  /* The code first: a label too small for it has no room for text either. */
  if (face->qr && !bed_qr_draw (face->qr, face->cr, &face->code, face->label->owner, error))
    return FALSE;
  if (!bed_face_fit (face, error))
    return FALSE;
  if (!tall)
    centre_text (face);
  return draw_headline (face, error) && draw_lines (face, error);
}

/* Public */

void
bed_label_add_line (BedLabel *label, const BedLabelLine *line)
{
  g_return_if_fail (label != NULL && line != NULL);
  g_return_if_fail (label->n_lines < BED_LABEL_MOST_LINES);

  if (line->text && *line->text)
    label->lines[label->n_lines++] = *line;
}

gboolean
bed_label_draw (const BedLabel *label, cairo_t *cr, BedTypesetter *type, const BedBox *box,
                GError **error)
{
  g_return_val_if_fail (label != NULL && label->headline != NULL && label->owner != NULL, FALSE);
  g_autoptr (BedQr) qr = label->qr ? bed_qr_new (label->qr, error) : NULL;

  if (label->qr && !qr)
    return FALSE;
  BedFace face = { .label = label, .cr = cr, .type = type, .qr = qr };
  return draw_face (&face, box, error);
}
