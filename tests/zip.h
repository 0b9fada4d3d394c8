#pragma once

#include <archive.h>
#include <glib.h>

/* Archives made in memory, of the least that each format of a workbook asks for. */
typedef struct
{
  struct archive *archive;
  GByteArray *bytes;
} Zip;

Zip zip_new (void);
void zip_begin (Zip *zip, const char *name);
void zip_add (Zip *zip, const char *name, const char *bytes, gssize length);
GBytes *zip_finish (Zip *zip);

/* The files of an .xlsx with two sheets, the first hidden; NULL: one that will do. */
typedef struct
{
  const char *book, *styles, *shared, *sheet;
} ZipBook;

GBytes *zip_xlsx (const ZipBook *parts);
/* @content: the whole of content.xml. */
GBytes *zip_ods (const char *content);
