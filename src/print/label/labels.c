#include <glib/gi18n-lib.h>

#include "model/farm/say.h"
#include "print/label/label.h"
#include "science/language.h"

struct _BedLabels
{
  char *title;
  GArray *labels;      /* element BedLabel */
  GStringChunk *texts; /* wood, strain and date are the same on a thousand tags: kept once */
  GArray *fits;        /* BedLabelFit of each, once they were fitted */
  BedTypesetter *type;
  BedSheet sheet;
  BedSheetPlace place;
};

static const char *
keep (BedLabels *self, const char *text)
{
  return text ? g_string_chunk_insert_const (self->texts, text) : NULL;
}

static const BedLabel *
get_label (const BedLabels *self, guint index)
{
  return &g_array_index (self->labels, BedLabel, index);
}

static BedLabelFit *
get_fit (const BedLabels *self, guint index)
{
  return &g_array_index (self->fits, BedLabelFit, index);
}

/* The smallest sizes and the most height of each use. */
static void
join_fits (const BedLabels *self, BedLabelFit *common)
{
  for (guint use = 0; use < BED_N_LABEL_USES; use++)
    common[use] = (BedLabelFit){ G_MAXDOUBLE, G_MAXDOUBLE, 0, 0 };
  for (guint i = 0; i < self->labels->len; i++)
    {
      const BedLabelFit *fit = get_fit (self, i);
      BedLabelFit *all = &common[get_label (self, i)->use];

      all->headline = MIN (all->headline, fit->headline);
      all->size = MIN (all->size, fit->size);
      all->height = MAX (all->height, fit->height);
    }
}

/* Each by itself, then all of one use as the tightest of them. */
static gboolean
fit_labels (BedLabels *self, GError **error)
{
  BedBox box = bed_sheet_get_label_box (&self->sheet, NULL, 0);
  BedLabelFit common[BED_N_LABEL_USES];

  g_array_set_size (self->fits, self->labels->len);
  for (guint i = 0; i < self->labels->len; i++)
    if (!bed_label_fit (get_label (self, i), self->type, &box, NULL, get_fit (self, i), error))
      return FALSE;
  join_fits (self, common);
  for (guint i = 0; i < self->labels->len; i++)
    if (!bed_label_fit (get_label (self, i), self->type, &box, &common[get_label (self, i)->use],
                        get_fit (self, i), error))
      return FALSE;
  join_fits (self, common);
  for (guint i = 0; i < self->labels->len; i++)
    get_fit (self, i)->height = common[get_label (self, i)->use].height;
  return TRUE;
}

/* "the date of inoculation (on 24 labels)" for each thing that a label had no room for. */
static void
count_left_out (const BedLabels *self, GHashTable *counts, GPtrArray *order)
{
  for (guint i = 0; i < self->fits->len; i++)
    for (guint line = 0; line < get_label (self, i)->n_lines; line++)
      {
        if (!(get_fit (self, i)->left_out & (1u << line)))
          continue;
        const char *what = get_label (self, i)->lines[line].what;
        guint n = GPOINTER_TO_UINT (g_hash_table_lookup (counts, what));

        if (n == 0)
          g_ptr_array_add (order, (gpointer) what);
        g_hash_table_insert (counts, (gpointer) what, GUINT_TO_POINTER (n + 1));
      }
}

static char *
dup_left_out (const BedLabels *self)
{
  g_autoptr (GHashTable) counts = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (GPtrArray) order = g_ptr_array_new ();
  g_autoptr (GString) list = g_string_new (NULL);

  count_left_out (self, counts, order);
  for (guint i = 0; i < order->len; i++)
    {
      guint n = GPOINTER_TO_UINT (g_hash_table_lookup (counts, order->pdata[i]));
      g_autofree char *where = bed_say (ngettext ("%s (on %u label)", "%s (on %u labels)", n),
                                        (char *) order->pdata[i], n);

      g_string_append_printf (list, "%s%s", i ? bed_comma () : "", where);
    }
  return order->len ? g_strdup_printf (_ ("Left out for want of room: %s."), list->str) : NULL;
}

static char *
dup_note_cb (gpointer data)
{
  BedLabels *self = data;
  g_autofree char *left_out = dup_left_out (self);
  g_autofree char *missing = bed_typesetter_dup_missing (self->type);

  return left_out && missing ? g_strdup_printf ("%s\n%s", missing, left_out)
         : missing           ? g_steal_pointer (&missing)
                             : g_steal_pointer (&left_out);
}

static gboolean
draw_page_cb (cairo_t *cr, guint page, gpointer data, GError **error)
{
  BedLabels *self = data;
  guint first, end;

  if (self->fits->len != self->labels->len && !fit_labels (self, error))
    {
      g_array_set_size (self->fits, 0);
      return FALSE;
    }
  bed_sheet_get_page_range (&self->sheet, &self->place, page, self->labels->len, &first, &end);
  for (guint i = first; i < end; i++)
    {
      BedBox box = bed_sheet_get_label_box (&self->sheet, &self->place, i);

      if (!bed_label_draw (get_label (self, i), cr, self->type, &box, get_fit (self, i), error))
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
  self->fits = g_array_new (FALSE, TRUE, sizeof (BedLabelFit));
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
  g_array_unref (self->fits);
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
      copy.lines[i].what = keep (self, label->lines[i].what ? label->lines[i].what : "");
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
  for (guint i = 0; i < labels->labels->len; i++)
    if (!bed_label_use_check_sheet (get_label (labels, i)->use, sheet, error))
      return NULL;
  labels->sheet = *sheet;
  labels->sheet.key = labels->sheet.name = NULL;
  labels->place = place ? *place : (BedSheetPlace){ 0 };
  guint pages = bed_sheet_get_n_pages (sheet, place, labels->labels->len);
  BedDocumentSpec spec = { .title = labels->title,
                           .paper = bed_sheet_get_paper (sheet),
                           .n_pages = pages,
                           .draw = draw_page_cb,
                           .dup_note = dup_note_cb,
                           .data = labels,
                           .free_data = (GDestroyNotify) bed_labels_free };
  BedDocument *document = bed_document_new (&spec);
  g_steal_pointer (&labels);
  return document;
}
