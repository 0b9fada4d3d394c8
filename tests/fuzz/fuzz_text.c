/* A text file of any bytes: byte 0 how it is read, 0 as it is found to be. Once it has been found
 * out, the same reading forced gives as many rows; the other candidates are read as well. */
#include <string.h>

#include "fuzz.h"
#include "fuzz_rows.h"

static void
read_found (GBytes *bytes)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BedRows) rows = bed_rows_open_bytes (bytes, NULL, &error);
  guint n;

  if (!rows || bed_rows_get_format (rows) != BED_ROWS_TEXT)
    return;
  const BedReading found = *bed_rows_get_reading (rows);
  const BedCandidate *candidates = bed_rows_get_candidates (rows, &n);
  guint all = fuzz_rows_read (g_bytes_ref (bytes), NULL);

  if (n > 0)
    g_assert_cmpuint (fuzz_rows_read (g_bytes_ref (bytes), &found), ==, all);
  for (guint i = 1; i < n; i++)
    {
      g_assert_cmpfloat (candidates[i].score, <=, candidates[i - 1].score + 1e-6);
      fuzz_rows_read (g_bytes_ref (bytes), &candidates[i].reading);
    }
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  static const char delimiters[] = ",;\t|", quotes[] = "\"'\0";

  if (size < 1)
    return 0;
  g_autoptr (GBytes) bytes = g_bytes_new (data + 1, size - 1);
  const BedReading forced = {
    1 + data[0] % 5,
    delimiters[data[0] / 5 % 4],
    quotes[data[0] / 20 % 3],
    data[0] / 60 % 2 ? '\\' : '\0',
  };
  if (data[0] == 0)
    read_found (bytes);
  else
    fuzz_rows_read (g_bytes_ref (bytes), &forced);
  return 0;
}
