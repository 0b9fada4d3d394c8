/* An .ods of any bytes: byte 0 whether the rest is its content or the whole archive. */
#include "../zip.h"
#include "fuzz.h"
#include "fuzz_rows.h"

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  if (size < 1)
    return 0;
  g_autofree char *text = fuzz_dup_text (data + 1, size - 1);

  fuzz_rows_read (data[0] % 2 ? g_bytes_new (data + 1, size - 1) : zip_ods (text), NULL);
  return 0;
}
