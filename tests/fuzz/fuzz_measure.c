/* What is typed as a measure: byte 0 the measure, byte 1 how numbers are written, then the
 * text, or a unit, a line end and the text. What is read is shown again so that it reads back
 * as the same. */
#include <string.h>

#include "fuzz.h"
#include "science/units.h"

static void
assert_reads_back (BedMeasure measure, const BedNotation *notation, gint64 value)
{
  g_autofree char *plain = bed_measure_format (measure, notation, value);
  g_autofree char *with_unit = bed_measure_format_unit (measure, notation, value);
  const char *shown[] = { plain, with_unit };

  for (gsize i = 0; i < G_N_ELEMENTS (shown); i++)
    {
      g_autoptr (GError) error = NULL;
      gint64 again;

      if (bed_measure_parse (measure, notation, shown[i], &again, &error))
        g_assert_cmpint (again, ==, value);
      else /* more figures than anyone types */
        g_assert_error (error, BED_UNITS_ERROR, BED_UNITS_ERROR_RANGE);
    }
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  if (size < 2)
    return 0;
  BedMeasure measure = data[0] % BED_N_MEASURES;
  static const char marks[] = { 0, '.', ',', '\'', ' ' };
  BedNotation notation = { data[1] & 1 ? BED_SYSTEM_US : BED_SYSTEM_METRIC, data[1] & 2 ? ',' : '.',
                           (data[1] >> 2) % 5 };
  char mark = marks[data[1] / 20 % G_N_ELEMENTS (marks)];
  notation.thousands_mark = mark == notation.decimal_mark ? 0 : mark;
  notation.groups = data[1] / 5 % 3;
  g_autofree char *text = fuzz_dup_text (data + 2, size - 2);
  g_autoptr (GError) error = NULL;
  char *line_end = strchr (text, '\n');
  const char *unit = line_end ? text : NULL, *number = line_end ? line_end + 1 : text;
  gint64 value;

  if (line_end)
    *line_end = '\0';
  if (bed_measure_parse_in (measure, &notation, unit, number, &value, &error))
    assert_reads_back (measure, &notation, value);
  else
    fuzz_assert_said (error);
  return 0;
}
