#include <glib/gi18n-lib.h>

#include "print/label/label.h"

struct _BedLabels
{
  char *title;
  GArray *labels;      /* element BedLabel */
  GStringChunk *texts; /* wood, strain and date are the same on a thousand tags: kept once */
  BedTypesetter *type;
  BedSheet sheet;
  BedSheetPlace place;
};

static const char *
keep (BedLabels *self, const char *text)
{
  return text ? g_string_chunk_insert_const (self->texts, text) : NULL;
}

static gboolean
draw_page_cb (cairo_t *cr, guint page, gpointer data, GError **error)
{
  BedLabels *self = data;
  guint first, end;

  bed_sheet_get_page_range (&self->sheet, &self->place, page, self->labels->len, &first, &end);
  for (guint i = first; i < end; i++)
    {
      BedBox box = bed_sheet_get_label_box (&self->sheet, &self->place, i);

      if (!bed_label_draw (&g_array_index (self->labels, BedLabel, i), cr, self->type, &box, error))
        return FALSE;
    }
  return TRUE;
}

/* Public */

BedLabels *
bed_labels_new (const char *title)
{
  BedLabels *self = g_new0 (BedLabels, 1);

  self->title = g_strdup (title);
  self->labels = g_array_new (FALSE, TRUE, sizeof (BedLabel));
  self->texts = g_string_chunk_new (4096);
  self->type = bed_typesetter_new ();
  return self;
}

void
bed_labels_free (BedLabels *self)
{
  if (!self)
    return;
  g_free (self->title);
  g_array_unref (self->labels);
  g_string_chunk_free (self->texts);
  bed_typesetter_free (self->type);
  g_free (self);
}

void
bed_labels_add (BedLabels *self, const BedLabel *label)
{
  g_return_if_fail (self != NULL && label != NULL && label->headline != NULL);
  BedLabel copy = *label;

  copy.owner = keep (self, label->owner);
  copy.headline = keep (self, label->headline);
  copy.tail = keep (self, label->tail);
  copy.qr = keep (self, label->qr);
  for (guint i = 0; i < copy.n_lines; i++)
    {
      copy.lines[i].caption = keep (self, label->lines[i].caption);
      copy.lines[i].text = keep (self, label->lines[i].text);
    }
  g_array_append_val (self->labels, copy);
}

guint
bed_labels_get_n (const BedLabels *self)
{
  return self->labels->len;
}

BedDocument *
bed_labels_document_new (BedLabels *self, const BedSheet *sheet, const BedSheetPlace *place,
                         GError **error)
{
  g_return_val_if_fail (self != NULL && sheet != NULL, NULL);
  g_autoptr (BedLabels) labels = self;

  if (labels->labels->len == 0)
    {
      g_set_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_EMPTY,
                   _ ("There is nothing to print on the labels."));
      return NULL;
    }
  if (!bed_sheet_check (sheet, error) || !bed_sheet_check_place (sheet, place, error))
    return NULL;
  labels->sheet = *sheet;
  labels->sheet.key = labels->sheet.name = NULL;
  labels->place = place ? *place : (BedSheetPlace){ 0 };
  guint pages = bed_sheet_get_n_pages (sheet, place, labels->labels->len);
  BedDocumentSpec spec = { labels->title, bed_sheet_get_paper (sheet),     pages, draw_page_cb,
                           labels,        (GDestroyNotify) bed_labels_free };
  BedDocument *document = bed_document_new (&spec);
  g_steal_pointer (&labels);
  return document;
}
