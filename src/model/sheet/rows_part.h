#pragma once

#include <libxml/xmlreader.h>

#include "model/sheet/rows_private.h"

/* A file of XML in a zipped workbook, element after element. Bounded in all it unpacks; a document
 * type, which alone could bring entities or name another file, is refused. */
typedef struct _BedPart BedBookPart;

/* NULL with an error, also when the archive has no such file. Names are without regard to case. */
BedBookPart *bed_part_open (BedSource *source, const char *name, GError **error);
void bed_part_free (BedBookPart *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedBookPart, bed_part_free)

typedef enum
{
  BED_PART_BEGIN, /* of an element; one without content has no end of its own */
  BED_PART_END,
  BED_PART_TEXT,
  BED_PART_DONE,
  BED_PART_WRONG, /* with the error */
} BedPartStep;

BedPartStep bed_part_next (BedBookPart *self, GError **error);

/* Of the element where it is: its name without prefix; an attribute, borrowed until the next
 * step, or NULL; how deep it lies, the outermost 0; whether it has no content at all. */
gboolean bed_part_is (BedBookPart *self, const char *name);
const char *bed_part_get (BedBookPart *self, const char *attribute);
int bed_part_get_depth (BedBookPart *self);
gboolean bed_part_is_empty (BedBookPart *self);
/* A whole number from 0 to @most; @missing without the attribute, and @most for more. */
guint bed_part_get_count (BedBookPart *self, const char *attribute, guint missing, guint most);
const char *bed_part_get_text (BedBookPart *self);

/* The bytes as they are, for who looks for something without reading the XML; -1 on error. */
gssize bed_part_read_bytes (BedBookPart *self, char *bytes, gsize n, GError **error);
