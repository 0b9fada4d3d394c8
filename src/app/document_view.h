#pragma once

#include <gtk/gtk.h>
#include "print/document.h"

G_BEGIN_DECLS

/* The first page of a document on white paper, as large as there is room. */
#define BED_TYPE_DOCUMENT_VIEW (bed_document_view_get_type ())
G_DECLARE_FINAL_TYPE (BedDocumentView, bed_document_view, BED, DOCUMENT_VIEW, GtkWidget)

BedDocumentView *bed_document_view_new (void);

/* Takes the document; NULL empties the view. */
void bed_document_view_set_document (BedDocumentView *self, BedDocument *document);

G_END_DECLS
