/* A workbook of any bytes: byte 0 which of its parts the rest is, or the whole archive. */
#include "../zip.h"
#include "fuzz.h"
#include "fuzz_rows.h"

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  if (size < 1)
    return 0;
  g_autofree char *text = fuzz_dup_text (data + 1, size - 1);
  ZipBook book = { NULL };

  switch (data[0] % 5)
    {
    case 0:
      book.sheet = text;
      break;
    case 1:
      book.book = text;
      break;
    case 2:
      book.styles = text;
      break;
    case 3:
      book.shared = text;
      book.sheet = "<worksheet><sheetData><row><c t='s'><v>0</v></c><c t='s'><v>1</v></c></row>"
                   "</sheetData></worksheet>";
      break;
    default:
      fuzz_rows_read (g_bytes_new (data + 1, size - 1), NULL);
      return 0;
    }
  fuzz_rows_read (zip_xlsx (&book), NULL);
  return 0;
}
