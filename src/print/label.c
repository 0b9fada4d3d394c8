#include "print/label.h"

#include <glib/gi18n-lib.h>

/* From the label's edge to the quiet zone, and at least to any text, mm: what a
 * sheet printer may be off. */
#define EDGE 0.5
#define LEAST_PADDING 1.5
#define MOST_PADDING 12.0

/* Smallest sizes, points: a headline that is still larger than print, and small print. */
#define HEADLINE_FLOOR 7.0
#define LINE_FLOOR 5.5

/* Taste: the most of the height that the headline's capitals take; the size of
 * the lines between these parts of the headline's; air under the headline, of
 * its size; distances of baselines and from a caption, of the lines' size. */
#define HEADLINE_SHARE 0.44
#define LEAST_LINE 0.3
#define MOST_LINE 0.5
#define HEADLINE_AIR 0.14
#define FIRST_LEADING 1.4
#define LEADING 1.28
#define CAPTION_GAP 0.6
#define MOST_SLACK 0.9

/* A module any phone reads at arm's length, mm: common practice, no source. */
#define EASY_MODULE 0.8

/* A label taller than this part of its width carries the code below the text. */
#define TALL 0.7

typedef struct
{
  const BedLabel *label;
  cairo_t *cr;
  BedTypesetter *type;
  BedQr *qr;        /* NULL: none */
  BedBox code;      /* of the QR code with its quiet zone */
  BedBox text;      /* from the top of the headline's capitals to the last baseline */
  double headline;  /* size */
  double used;      /* height of the headline, from its capitals' top to its last baseline */
  double size;      /* of the lines */
  double captions;  /* width of the caption column at that size */
  guint rows[BED_LABEL_MOST_LINES]; /* of each line, 0 when left out */
} Face;

static double
from_mm (double mm)
{
  return mm * BED_POINTS_PER_MM;
}

static double
get_quiet (const Face *face)
{
  return face->code.width * BED_QR_QUIET_ZONE / bed_qr_get_modules (face->qr);
}

/* The code at the right, as high as the label; the text beside it, level with
 * the code's own dark edges. */
static void
place_wide (Face *face, const BedBox *box)
{
  double padding = CLAMP (box->height * 0.1, from_mm (LEAST_PADDING), from_mm (MOST_PADDING));
  double left = MIN (padding, from_mm (5)), edge = from_mm (EDGE);

  face->text = (BedBox){ box->x + left, box->y + padding, box->width - 2 * left,
                         box->height - 2 * padding };
  if (!face->qr)
    return;
  /* Beyond an easy module the room is better given to the headline. */
  double easy = from_mm (EASY_MODULE) * bed_qr_get_modules (face->qr);
  double side = MIN (MIN (box->height - 2 * edge, box->width * 0.42),
                     MAX (easy, box->width * 0.3));
  face->code = (BedBox){ box->x + box->width - edge - side, box->y + (box->height - side) / 2,
                         side, side };
  double quiet = get_quiet (face);
  double top = MIN (face->code.y + quiet - box->y, box->height * 0.17);
  face->text.y = box->y + top;
  face->text.height = box->height - 2 * top;
  face->text.width = face->code.x - face->text.x;
}

/* The code at the foot, its dark edge under the left edge of the text. */
static void
place_tall (Face *face, const BedBox *box)
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

/* The headline */

static guint
count_rows (const Face *face)
{
  guint rows = 0;

  for (guint i = 0; i < face->label->n_lines; i++)
    rows += face->rows[i];
  return rows;
}

/* Height of the lines at 1 point, from the headline's last baseline to the last line's. */
static double
get_lines_em (guint rows)
{
  return rows ? FIRST_LEADING + (rows - 1) * LEADING : 0;
}

static double
get_headline_em (const Face *face)
{
  double em = bed_text_width (face->type, face->label->headline, BED_WEIGHT_BOLD, 1);

  if (face->label->tail)
    em += bed_text_width (face->type, face->label->tail, BED_WEIGHT_REGULAR, 1);
  return em;
}

static const BedTextStyle headline_floor = { HEADLINE_FLOOR, HEADLINE_FLOOR, 2, BED_WEIGHT_BOLD,
                                             BED_ALIGN_LEFT };

/* The largest headline that leaves @rows lines of LEAST_LINE of its size their room. */
static double
get_headline_room (const Face *face, guint rows)
{
  double capital = bed_text_cap_height (face->type, 1);
  double needed = rows ? capital + HEADLINE_AIR + LEAST_LINE * get_lines_em (rows) : capital;

  return MIN (face->text.height / needed, face->text.height * HEADLINE_SHARE / capital);
}

/* As large as the width and its share of the height allow; at its floor a name
 * may wrap, a code may not. */
static gboolean
fit_headline (Face *face, guint rows, GError **error)
{
  double capital = bed_text_cap_height (face->type, 1) + (rows ? HEADLINE_AIR : 0);
  BedTextFit fit;

  face->headline = MIN (face->text.width / get_headline_em (face), get_headline_room (face, rows));
  face->headline = MAX (face->headline, MIN (HEADLINE_FLOOR, face->text.width
                                                               / get_headline_em (face)));
  face->used = capital * face->headline;
  if (face->headline >= HEADLINE_FLOOR)
    return TRUE;
  if (face->label->tail
      || !bed_text_fit (face->type, face->label->headline, &face->text, &headline_floor, &fit))
    {
      bed_text_refuse (error, face->label->owner, face->label->headline);
      return FALSE;
    }
  face->headline = HEADLINE_FLOOR;
  face->used = fit.height - bed_text_line_height (face->type, HEADLINE_FLOOR)
               + capital * HEADLINE_FLOOR;
  return TRUE;
}

static gboolean
draw_headline (const Face *face, GError **error)
{
  const BedLabel *label = face->label;
  double x = face->text.x;
  double y = face->text.y + bed_text_cap_height (face->type, face->headline);

  if (get_headline_em (face) * face->headline > face->text.width + 0.01)
    {
      BedBox box = face->text;

      box.y = y - bed_text_ascent (face->type, face->headline);
      return bed_text_draw (face->type, face->cr, label->headline, &box, &headline_floor,
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

/* The lines */

/* Width of the caption column at 1 point. */
static double
get_captions_em (const Face *face)
{
  double widest = 0;

  for (guint i = 0; i < face->label->n_lines; i++)
    if (face->rows[i] && face->label->lines[i].caption)
      widest = MAX (widest, bed_text_width (face->type, face->label->lines[i].caption,
                                            BED_WEIGHT_REGULAR, 1));
  return widest > 0 ? widest + CAPTION_GAP : 0;
}

static double
get_indent (const Face *face, guint line)
{
  return face->label->lines[line].caption ? face->captions : 0;
}

/* The size at which every kept line fits on one row, whatever that is. */
static double
get_common_size (const Face *face)
{
  double room = face->text.height - face->used;
  double size = MIN (room / get_lines_em (count_rows (face)), face->headline * MOST_LINE);
  double captions = get_captions_em (face);

  for (guint i = 0; i < face->label->n_lines; i++)
    if (face->rows[i])
      {
        const BedLabelLine *line = &face->label->lines[i];
        double em = bed_text_width (face->type, line->text, line->weight, 1);

        size = MIN (size, face->text.width / (em + (line->caption ? captions : 0)));
      }
  return size;
}

static BedTextStyle
get_line_style (const BedLabelLine *line)
{
  return (BedTextStyle){ LINE_FLOOR, LINE_FLOOR, 3, line->weight, BED_ALIGN_LEFT };
}

/* Sets every kept line at the floor, wrapped where it must be. */
static gboolean
wrap_lines (Face *face, GError **error)
{
  face->size = LINE_FLOOR;
  face->captions = get_captions_em (face) * face->size;
  for (guint i = 0; i < face->label->n_lines; i++)
    if (face->rows[i])
      {
        const BedLabelLine *line = &face->label->lines[i];
        BedTextStyle style = get_line_style (line);
        BedBox box = { 0, 0, face->text.width - get_indent (face, i), G_MAXINT };
        BedTextFit fit;

        if (!bed_text_fit (face->type, line->text, &box, &style, &fit))
          {
            bed_text_refuse (error, face->label->owner, line->text);
            return FALSE;
          }
        face->rows[i] = fit.lines;
      }
  return TRUE;
}

/* Leaves out the kept line of the highest rank, the last one among equals. */
static gboolean
drop_line (Face *face)
{
  int worst = -1;

  for (guint i = 0; i < face->label->n_lines; i++)
    if (face->rows[i] && face->label->lines[i].rank > 0
        && (worst < 0 || face->label->lines[i].rank >= face->label->lines[worst].rank))
      worst = (int) i;
  if (worst < 0)
    return FALSE;
  face->rows[worst] = 0;
  return TRUE;
}

/* Sets the headline and the lines that are kept; FALSE without @error when that is too high. */
static gboolean
fit_kept (Face *face, GError **error)
{
  guint rows = count_rows (face);

  if (!fit_headline (face, rows, error))
    return FALSE;
  if (rows == 0)
    return face->used <= face->text.height + 0.01;
  face->size = get_common_size (face);
  face->captions = get_captions_em (face) * face->size;
  if (face->size >= LINE_FLOOR)
    return TRUE;
  return wrap_lines (face, error)
         && get_lines_em (count_rows (face)) * face->size
              <= face->text.height - face->used + 0.01;
}

/* One size for all lines; at the floor they wrap; where that is too high, one is left out. */
static gboolean
fit_text (Face *face, GError **error)
{
  g_autoptr (GError) fault = NULL;

  for (guint i = 0; i < face->label->n_lines; i++)
    face->rows[i] = 1;
  while (!fit_kept (face, &fault))
    {
      if (!fault && drop_line (face))
        {
          for (guint i = 0; i < face->label->n_lines; i++)
            face->rows[i] = MIN (face->rows[i], 1);
          continue;
        }
      if (fault)
        g_propagate_error (error, g_steal_pointer (&fault));
      else
        bed_text_refuse (error, face->label->owner,
                         face->label->n_lines ? face->label->lines[0].text
                                              : face->label->headline);
      return FALSE;
    }
  return TRUE;
}

/* Height left over. Beside a code a little of it goes between headline and
 * lines, so that the last line stands on the code's lower edge; more than that
 * would tear them apart and goes above and below. */
static double
get_slack (const Face *face)
{
  double lines = get_lines_em (count_rows (face)) * face->size;

  return MAX (0, face->text.height - face->used - lines);
}

static void
centre_text (Face *face)
{
  double slack = get_slack (face);

  if (slack <= MOST_SLACK * face->size && count_rows (face))
    {
      face->used += slack;
      return;
    }
  face->text.y += slack / 2;
  face->text.height -= slack;
}

static gboolean
draw_line (const Face *face, guint index, double baseline, GError **error)
{
  const BedLabelLine *line = &face->label->lines[index];
  double indent = get_indent (face, index);

  if (line->caption)
    bed_text_show (face->type, face->cr, line->caption, BED_WEIGHT_REGULAR, face->size,
                   face->text.x, baseline);
  if (face->rows[index] == 1)
    {
      bed_text_show (face->type, face->cr, line->text, line->weight, face->size,
                     face->text.x + indent, baseline);
      return TRUE;
    }
  BedTextStyle style = get_line_style (line);
  BedBox box = { face->text.x + indent, baseline - bed_text_ascent (face->type, face->size),
                 face->text.width - indent, G_MAXINT };
  return bed_text_draw (face->type, face->cr, line->text, &box, &style, face->label->owner, error);
}

static gboolean
draw_lines (const Face *face, GError **error)
{
  double y = face->text.y + face->used + FIRST_LEADING * face->size;

  for (guint i = 0; i < face->label->n_lines; i++)
    {
      if (!face->rows[i])
        continue;
      if (!draw_line (face, i, y, error))
        return FALSE;
      y += face->rows[i] * LEADING * face->size;
    }
  return TRUE;
}

static gboolean
draw_face (Face *face, const BedBox *box, GError **error)
{
  gboolean tall = box->height > box->width * TALL;

  if (tall)
    place_tall (face, box);
  else
    place_wide (face, box);
  /* The code first: a label too small for it has no room for text either. */
  if (face->qr && !bed_qr_draw (face->qr, face->cr, &face->code, face->label->owner, error))
    return FALSE;
  if (!fit_text (face, error))
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
  Face face = { .label = label, .cr = cr, .type = type, .qr = qr };
  return draw_face (&face, box, error);
}
