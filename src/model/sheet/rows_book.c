#include "model/sheet/rows_part.h"

/* An .ods has its content under a fixed name. */
gboolean
bed_rows_open_book (BedRows *self, GError **error)
{
  g_autoptr (BedBookPart) content = bed_part_open (self->source, "content.xml", NULL);

  return content ? bed_rows_open_ods (self, error) : bed_rows_open_xlsx (self, error);
}
