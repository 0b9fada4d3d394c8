#include <glib/gi18n-lib.h>

#include "model/farm/habits.h"
#include "print/label/label_private.h"

/* From the label's edge to the quiet zone, and at least to any text, mm: what a
 * sheet printer may be off. */
#define EDGE 0.5
#define LEAST_PADDING 1.5
#define MOST_PADDING 12.0

/* A module any phone reads at arm's length, mm: common practice, no source. */
#define EASY_MODULE 0.8

/* A label taller than this part of its width carries the code below the text. */
#define TALL 0.78

/* Beside a code a little height left over goes between headline and lines, so that the last line
 * stands on the code's lower edge; more than that, of a line's size, would tear them apart and goes
 * above and below. */
#define MOST_SLACK 0.9

/* What labels are for; the least of them, mm, as tests/print/test_label.c measures: of smaller ones
 * the code is not read when it is blurred, or what must stand has no room in its size; and a sheet
 * on which they can be read from where they are looked at: a sign across the yard, a crate across a
 * stall, a tag from the hand. */
static const struct
{
  const char *word;
  const char *name; /* N_() */
  double width, height;
  const char *letter, *a4;
} uses[BED_N_LABEL_USES] = {
  [BED_LABEL_TAG] = { "tags", N_ ("log tags"), 35, 16.5, "letter-3x10", "a4-3x7" },
  [BED_LABEL_SIGN] = { "signs", N_ ("stack signs"), 95, 45, "letter-1x2", "a4-1x2" },
  [BED_LABEL_CRATE] = { "crates", N_ ("crate labels"), 60, 45, "letter-2x5", "a4-2x5" },
  [BED_LABEL_SPAWN] = { "spawn", N_ ("spawn labels"), 57, 28, "letter-2x5", "a4-2x5" },
};

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
is_tall (const BedBox *box)
{
  return box->height > box->width * TALL;
}

/* FALSE when there is no code of its text. */
static gboolean
place (BedFace *face, const BedBox *box, GError **error)
{
  const BedLabel *label = face->label;

  face->qr = label->qr ? bed_qr_new (label->qr, error) : NULL;
  if (label->qr && !face->qr)
    return FALSE;
  if (is_tall (box))
    place_tall (face, box);
  else
    place_wide (face, box);
  return TRUE;
}

static gboolean
draw_headline (const BedFace *face, cairo_t *cr, GError **error)
{
  const BedLabel *label = face->label;
  double size = face->fit.headline, x = face->text.x;
  double y = face->text.y + bed_text_cap_height (face->type, size);

  if (bed_face_get_headline_em (face) * size > face->text.width + 0.01)
    {
      BedBox box = { x, y - bed_text_ascent (face->type, size), face->text.width, G_MAXINT };

      return bed_text_draw (face->type, cr, label->headline, &box, &bed_headline_floor,
                            label->owner, error);
    }
  bed_text_show (face->type, cr, label->headline, BED_WEIGHT_BOLD, size, x, y);
  if (label->tail)
    {
      x += bed_text_width (face->type, label->headline, BED_WEIGHT_BOLD, size);
      bed_text_show (face->type, cr, label->tail, BED_WEIGHT_REGULAR, size, x, y);
    }
  return TRUE;
}

/* As much is free of this label as of the fullest of its neighbours, so that their lines are
 * level. */
static void
spread (BedFace *face, const BedLabelFit *fit)
{
  double slack = MAX (0, face->text.height - MAX (fit->height, face->fit.height));

  if (slack <= MOST_SLACK * face->fit.size)
    {
      face->used += slack;
      return;
    }
  face->text.y += slack / 2;
  face->text.height -= slack;
}

/* A dot in the gap tells apart what stands side by side. */
static void
draw_dot (const BedFace *face, cairo_t *cr, const BedLabelSpot *spot, double y)
{
  double width = bed_text_width (face->type, "·", BED_WEIGHT_REGULAR, spot->size);

  bed_text_show (face->type, cr, "·", BED_WEIGHT_REGULAR, spot->size,
                 face->text.x + spot->x - (BED_BESIDE * spot->size + width) / 2, y);
}

static gboolean
draw_line (const BedFace *face, cairo_t *cr, guint index, GError **error)
{
  const BedLabelLine *line = &face->label->lines[index];
  const BedLabelSpot *spot = &face->spots[index];
  double indent = bed_face_get_caption_em (face, index) * spot->size;
  double x = face->text.x + spot->x, y = face->text.y + face->used + spot->y;

  if (spot->x > 0)
    draw_dot (face, cr, spot, y);
  if (line->caption)
    bed_text_show (face->type, cr, line->caption, BED_WEIGHT_REGULAR, spot->size, x, y);
  if (spot->rows == 1)
    {
      bed_text_show (face->type, cr, line->text, line->weight, spot->size, x + indent, y);
      return TRUE;
    }
  BedTextStyle style = bed_face_get_line_style (face, index, spot->size);
  BedBox box = { x + indent, y - bed_text_ascent (face->type, spot->size),
                 face->text.width - indent, G_MAXINT };
  return bed_text_draw (face->type, cr, line->text, &box, &style, face->label->owner, error);
}

static gboolean
draw_face (BedFace *face, cairo_t *cr, const BedBox *box, const BedLabelFit *fit, GError **error)
{
  if (face->qr && !bed_qr_draw (face->qr, cr, &face->code, face->label->owner, error))
    return FALSE;
  bed_face_set (face, fit);
  if (!is_tall (box))
    spread (face, fit);
  if (!draw_headline (face, cr, error))
    return FALSE;
  for (guint i = 0; i < face->label->n_lines; i++)
    if (face->spots[i].rows && !draw_line (face, cr, i, error))
      return FALSE;
  return TRUE;
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
bed_label_fit (const BedLabel *label, BedTypesetter *type, const BedBox *box,
               const BedLabelFit *most, BedLabelFit *fit, GError **error)
{
  g_return_val_if_fail (label != NULL && label->headline != NULL && label->owner != NULL, FALSE);
  BedFace face = { .label = label, .type = type };
  /* The code first: a label too small for it has no room for text either. */
  gboolean fits = place (&face, box, error)
                  && (!face.qr || bed_qr_check (face.qr, face.code.width, label->owner, error))
                  && bed_face_fit (&face, most, error);

  bed_qr_free (face.qr);
  *fit = face.fit;
  return fits;
}

gboolean
bed_label_draw (const BedLabel *label, cairo_t *cr, BedTypesetter *type, const BedBox *box,
                const BedLabelFit *fit, GError **error)
{
  g_return_val_if_fail (label != NULL && cr != NULL && fit != NULL, FALSE);
  BedFace face = { .label = label, .type = type };
  gboolean drawn = place (&face, box, error) && draw_face (&face, cr, box, fit, error);

  bed_qr_free (face.qr);
  return drawn;
}

const char *
bed_label_use_get_word (BedLabelUse use)
{
  g_return_val_if_fail (use < BED_N_LABEL_USES, NULL);
  return uses[use].word;
}

const char *
bed_label_use_get_sheet (BedLabelUse use, BedSystem system)
{
  g_return_val_if_fail (use < BED_N_LABEL_USES, NULL);
  return bed_habits_has_letter (system) ? uses[use].letter : uses[use].a4;
}

gboolean
bed_label_use_check_sheet (BedLabelUse use, const BedSheet *sheet, GError **error)
{
  g_return_val_if_fail (use < BED_N_LABEL_USES && sheet != NULL, FALSE);
  double longer = MAX (sheet->label_width, sheet->label_height);
  double shorter = MIN (sheet->label_width, sheet->label_height);

  if (longer >= uses[use].width && shorter >= uses[use].height)
    return TRUE;
  g_set_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_SHEET,
               /* Translators: a sheet, what is printed ("log tags"), millimetres. */
               _ ("The sheet %s is not for %s: a label of it must have at least %g by %g mm."),
               sheet->name, _ (uses[use].name), uses[use].width, uses[use].height);
  return FALSE;
}
