#pragma once

#include "print/page/document.h"
#include <gtk/gtk.h>

/* One page of a document on white paper, as large as there is room. */
#define BED_TYPE_DOCUMENT_VIEW (bed_document_view_get_type ())
G_DECLARE_FINAL_TYPE (BedDocumentView, bed_document_view, BED, DOCUMENT_VIEW, GtkWidget)

BedDocumentView *bed_document_view_new (void);

/* Takes the document; NULL empties the view. The page stays, as far as there is one. */
void bed_document_view_set_document (BedDocumentView *self, BedDocument *document);

/* 0 for an empty view. */
guint bed_document_view_get_n_pages (BedDocumentView *self);

/* From 0; what is past the last is the last. */
guint bed_document_view_get_page (BedDocumentView *self);
void bed_document_view_set_page (BedDocumentView *self, guint page);

/* A stack of the view and of words that are shown in its place when nothing can be drawn. */
GtkWidget *bed_document_view_stack_new (BedDocumentView *self, GtkWidget *words);
