#include "print/label/label_private.h"

/* Taste: the most of the height that the headline's capitals take; the size of
 * the lines between these parts of the headline's, more where its width made it
 * small and height is left; air under the headline, of
 * its size; from a caption to its text, of the lines' size. */
#define HEADLINE_SHARE 0.44
#define LEAST_LINE 0.3
#define MOST_LINE 0.5
#define MOST_LINE_NARROW 0.75
#define HEADLINE_AIR 0.14
#define CAPTION_GAP 0.6

const BedTextStyle bed_headline_floor
    = { BED_HEADLINE_FLOOR, BED_HEADLINE_FLOOR, 2, BED_WEIGHT_BOLD, BED_ALIGN_LEFT };

/* The largest headline that leaves @rows lines of LEAST_LINE of its size their room. */
static double
get_headline_room (const BedFace *face, guint rows)
{
  double capital = bed_text_cap_height (face->type, 1);
  double below = rows ? HEADLINE_AIR + LEAST_LINE * bed_face_get_rows_em (rows) : 0;

  return MIN (face->text.height / (capital + below), face->text.height * HEADLINE_SHARE / capital);
}

/* As large as the width and its share of the height allow; at its floor a name
 * may wrap, a code may not. */
static gboolean
fit_headline (BedFace *face, guint rows, GError **error)
{
  double capital = bed_text_cap_height (face->type, 1) + (rows ? HEADLINE_AIR : 0);
  double widest = face->text.width / bed_face_get_headline_em (face);
  BedTextFit fit;

  /* Below its floor the headline does not make room for lines: these are left out. */
  face->headline = MIN (widest, MAX (get_headline_room (face, rows), BED_HEADLINE_FLOOR));
  face->used = capital * face->headline;
  if (face->headline >= BED_HEADLINE_FLOOR)
    return TRUE;
  if (face->label->tail
      || !bed_text_fit (face->type, face->label->headline, &face->text, &bed_headline_floor, &fit))
    {
      bed_text_refuse (error, face->label->owner, face->label->headline);
      return FALSE;
    }
  face->headline = BED_HEADLINE_FLOOR;
  face->used = fit.height - bed_text_line_height (face->type, BED_HEADLINE_FLOOR)
               + capital * BED_HEADLINE_FLOOR;
  return TRUE;
}

/* Width of the caption column at 1 point. */
static double
get_captions_em (const BedFace *face)
{
  double widest = 0;

  for (guint i = 0; i < face->label->n_lines; i++)
    if (face->rows[i] && face->label->lines[i].caption)
      widest = MAX (widest, bed_text_width (face->type, face->label->lines[i].caption,
                                            BED_WEIGHT_REGULAR, 1));
  return widest > 0 ? widest + CAPTION_GAP : 0;
}

/* The size at which every kept line fits on one row, whatever that is. */
static double
get_common_size (const BedFace *face)
{
  double room = face->text.height - face->used;
  double rows = bed_face_get_rows_em (bed_face_count_rows (face));
  double full = get_headline_room (face, bed_face_count_rows (face));
  double most = MIN (full * MOST_LINE, face->headline * MOST_LINE_NARROW);
  double size = MIN (room / rows, MAX (most, face->headline * MOST_LINE));
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

/* Sets every kept line at the floor, wrapped where it must be. */
static gboolean
wrap_lines (BedFace *face, GError **error)
{
  face->size = BED_LINE_FLOOR;
  face->captions = get_captions_em (face) * face->size;
  for (guint i = 0; i < face->label->n_lines; i++)
    if (face->rows[i])
      {
        const BedLabelLine *line = &face->label->lines[i];
        BedTextStyle style = bed_face_get_line_style (face, i);
        BedBox box = { 0, 0, face->text.width - bed_face_get_indent (face, i), G_MAXINT };
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
drop_line (BedFace *face)
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
fit_kept (BedFace *face, GError **error)
{
  guint rows = bed_face_count_rows (face);

  if (!fit_headline (face, rows, error))
    return FALSE;
  if (rows == 0)
    return face->used <= face->text.height + 0.01;
  face->size = get_common_size (face);
  face->captions = get_captions_em (face) * face->size;
  if (face->size >= BED_LINE_FLOOR)
    return TRUE;
  return wrap_lines (face, error)
         && bed_face_get_rows_em (bed_face_count_rows (face)) * face->size
                <= face->text.height - face->used + 0.01;
}

/* Public, within the labels */

guint
bed_face_count_rows (const BedFace *face)
{
  guint rows = 0;

  for (guint i = 0; i < face->label->n_lines; i++)
    rows += face->rows[i];
  return rows;
}

double
bed_face_get_rows_em (guint rows)
{
  return rows ? BED_FIRST_LEADING + (rows - 1) * BED_LEADING : 0;
}

double
bed_face_get_headline_em (const BedFace *face)
{
  double em = bed_text_width (face->type, face->label->headline, BED_WEIGHT_BOLD, 1);

  if (face->label->tail)
    em += bed_text_width (face->type, face->label->tail, BED_WEIGHT_REGULAR, 1);
  return em;
}

double
bed_face_get_indent (const BedFace *face, guint line)
{
  return face->label->lines[line].caption ? face->captions : 0;
}

BedTextStyle
bed_face_get_line_style (const BedFace *face, guint line)
{
  return (BedTextStyle){ BED_LINE_FLOOR, BED_LINE_FLOOR, 3, face->label->lines[line].weight,
                         BED_ALIGN_LEFT };
}

/* One size for all lines; at the floor they wrap; where that is too high, one is left out. */
gboolean
bed_face_fit (BedFace *face, GError **error)
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
                         face->label->n_lines ? face->label->lines[0].text : face->label->headline);
      return FALSE;
    }
  return TRUE;
}
