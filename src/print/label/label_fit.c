#include "print/label/label_private.h"

#include <math.h>

/* Taste: the most of the height that the headline's capitals take; the lines' size, of the
 * headline's; air under the headline, of its size; how much smaller than the others a line is set
 * before it is wrapped; the rows it may then take. */
#define HEADLINE_SHARE 0.44
#define MOST_LINE 0.7
#define HEADLINE_AIR 0.14
#define SHRUNK 0.75
#define MOST_ROWS 3

/* Lines that a code in large letters leaves room for; beyond them lines give way to it. */
#define ROWS_UNDER_CODE 3

/* A name in large letters gives way to lines no further than this, points. */
#define LEAST_NAME 12.0

#define STEPS 12
#define NEVER G_MAXDOUBLE

const BedTextStyle bed_headline_floor
    = { BED_HEADLINE_FLOOR, BED_HEADLINE_FLOOR, 2, BED_WEIGHT_BOLD, BED_ALIGN_LEFT };

/* Smallest and largest sizes that are tried together. */
typedef struct
{
  double least_headline, most_headline;
  double least_size, most_size;
} Range;

/* --- lines --------------------------------------------------------------------------- */

static double
get_least (const BedLabelLine *line)
{
  return line->least > 0 ? line->least : BED_LABEL_LEAST;
}

/* Size and rows of one line where the others have @size; its width, or NEVER. */
static double
set_line (BedFace *face, guint index, double size)
{
  const BedLabelLine *line = &face->label->lines[index];
  BedLabelSpot *spot = &face->spots[index];
  double em = bed_text_width (face->type, line->text, line->weight, 1)
              + bed_face_get_caption_em (face, index);
  double wanted = MAX (size * (line->scale > 0 ? line->scale : 1), get_least (line));
  double floor = MAX (wanted * SHRUNK, get_least (line));
  BedTextFit fit;

  spot->rows = 1;
  spot->size = MIN (wanted, face->text.width / em);
  if (spot->size >= floor)
    return em * spot->size;
  spot->size = floor;
  BedTextStyle style = bed_face_get_line_style (face, index, floor);
  BedBox box = { 0, 0, face->text.width - bed_face_get_caption_em (face, index) * floor, G_MAXINT };
  if (box.width <= 0 || !bed_text_fit (face->type, line->text, &box, &style, &fit))
    return NEVER;
  spot->rows = fit.lines;
  return face->text.width;
}

/* The spots of all lines that are kept; the height they take below the headline, or NEVER. */
static double
set_lines (BedFace *face, double size)
{
  const BedLabelSpot *before = NULL;
  double right = 0, y = 0;

  for (guint i = 0; i < face->label->n_lines; i++)
    {
      BedLabelSpot *spot = &face->spots[i];
      if (face->fit.left_out & (1u << i))
        {
          spot->rows = 0;
          continue;
        }
      double width = set_line (face, i, size);
      if (width == NEVER)
        return NEVER;
      double beside = right + BED_BESIDE * spot->size;
      gboolean joins = before && before->rows == 1 && spot->rows == 1 && before->size == spot->size
                       && beside + width <= face->text.width;
      if (!joins)
        y += (before ? BED_LEADING : BED_FIRST_LEADING) * spot->size;
      spot->x = joins ? beside : 0;
      spot->y = y;
      right = spot->x + width;
      y += (spot->rows - 1) * BED_LEADING * spot->size;
      before = spot;
    }
  return y;
}

/* --- headline and lines together ------------------------------------------------------ */

/* FALSE when that is too high. */
static gboolean
set_all (BedFace *face, double headline, double size)
{
  double capital = bed_text_cap_height (face->type, 1);
  double widest = face->text.width / bed_face_get_headline_em (face);
  BedTextFit fit;

  face->used = capital * headline;
  if (headline > widest + 1e-6)
    {
      if (face->label->tail
          || !bed_text_fit (face->type, face->label->headline, &face->text, &bed_headline_floor,
                            &fit))
        return FALSE;
      face->used += fit.height - bed_text_line_height (face->type, BED_HEADLINE_FLOOR);
    }
  double lines = set_lines (face, size);
  if (lines == NEVER)
    return FALSE;
  if (lines > 0)
    face->used += HEADLINE_AIR * headline;
  face->fit.headline = headline;
  face->fit.size = size;
  face->fit.height = face->used + lines;
  return face->fit.height <= face->text.height + 0.01;
}

/* The largest of the range that fits. */
static gboolean
search (BedFace *face, const Range *range)
{
  double low = 0, high = 1;
  double headlines = range->most_headline - range->least_headline;
  double sizes = range->most_size - range->least_size;

  if (set_all (face, range->most_headline, range->most_size))
    return TRUE;
  if (!set_all (face, range->least_headline, range->least_size))
    return FALSE;
  for (int i = 0; i < STEPS; i++)
    {
      double at = (low + high) / 2;
      if (set_all (face, range->least_headline + at * headlines, range->least_size + at * sizes))
        low = at;
      else
        high = at;
    }
  return set_all (face, range->least_headline + low * headlines, range->least_size + low * sizes);
}

/* As large as its width and share of the height allow, and some lines below a code. */
static double
get_most_headline (const BedFace *face)
{
  double capital = bed_text_cap_height (face->type, 1), height = face->text.height;
  double widest = face->text.width / bed_face_get_headline_em (face);
  double size = MIN (widest, height * HEADLINE_SHARE / capital);
  guint rows = MIN (face->label->n_lines, ROWS_UNDER_CODE);

  if (rows)
    size = MIN (size, (height - (BED_FIRST_LEADING + (rows - 1) * BED_LEADING) * BED_LABEL_LEAST)
                          / (capital + HEADLINE_AIR));
  return MAX (size, BED_HEADLINE_FLOOR);
}

/* A code keeps its size whatever stands below it; a name gives way to lines. */
static Range
get_range (const BedFace *face, const BedLabelFit *most)
{
  gboolean is_code = face->label->use == BED_LABEL_TAG || face->label->use == BED_LABEL_SIGN;
  double headline = get_most_headline (face);
  double size = MAX (headline * MOST_LINE, BED_LABEL_LEAST);

  if (most)
    {
      headline = MIN (headline, most->headline);
      size = MIN (size, most->size);
    }
  return (Range){ is_code ? headline : MIN (headline, LEAST_NAME), headline, BED_LABEL_LEAST,
                  size };
}

/* Leaves out the kept line of the highest rank, the last one among equals. */
static gboolean
drop_line (BedFace *face)
{
  const BedLabel *label = face->label;
  int worst = -1;

  for (guint i = 0; i < label->n_lines; i++)
    if (!(face->fit.left_out & (1u << i)) && label->lines[i].rank > 0
        && (worst < 0 || label->lines[i].rank >= label->lines[worst].rank))
      worst = (int) i;
  if (worst < 0)
    return FALSE;
  face->fit.left_out |= 1u << worst;
  return TRUE;
}

/* What there is no room for: the headline, or the longest of the lines that must stand. */
static const char *
find_hindrance (BedFace *face)
{
  const BedLabel *label = face->label;
  const char *longest = label->headline;
  double width = 0;

  face->fit.left_out = ~0u;
  if (!set_all (face, BED_HEADLINE_FLOOR, BED_LABEL_LEAST))
    return longest;
  for (guint i = 0; i < label->n_lines; i++)
    {
      const BedLabelLine *line = &label->lines[i];
      double wide = bed_text_width (face->type, line->text, line->weight, get_least (line));
      if (line->rank > 0 || wide <= width)
        continue;
      width = wide;
      longest = line->text;
    }
  return longest;
}

/* Public, within the labels */

double
bed_face_get_headline_em (const BedFace *face)
{
  double em = bed_text_width (face->type, face->label->headline, BED_WEIGHT_BOLD, 1);

  if (face->label->tail)
    em += bed_text_width (face->type, face->label->tail, BED_WEIGHT_REGULAR, 1);
  return em;
}

double
bed_face_get_caption_em (const BedFace *face, guint line)
{
  const char *caption = face->label->lines[line].caption;

  return caption ? bed_text_width (face->type, caption, BED_WEIGHT_REGULAR, 1) + BED_CAPTION_GAP
                 : 0;
}

BedTextStyle
bed_face_get_line_style (const BedFace *face, guint line, double size)
{
  return (BedTextStyle){ size, size, MOST_ROWS, face->label->lines[line].weight, BED_ALIGN_LEFT };
}

gboolean
bed_face_set (BedFace *face, const BedLabelFit *fit)
{
  face->fit.left_out = fit->left_out;
  return set_all (face, fit->headline, fit->size);
}

gboolean
bed_face_fit (BedFace *face, const BedLabelFit *most, GError **error)
{
  const Range range = get_range (face, most);
  Range lower = range;

  face->fit.left_out = 0;
  do
    if (search (face, &range))
      return TRUE;
  while (drop_line (face));
  /* What must stand comes before large letters. */
  lower.least_headline = BED_HEADLINE_FLOOR;
  if (search (face, &lower))
    return TRUE;
  bed_text_refuse (error, face->label->owner, find_hindrance (face));
  return FALSE;
}
