#include "app/manual/manual_page.h"

#include "app/manual/manual_text.h"
#include "app/widgets/build.h"
#include "app/widgets/plot.h"

#define PICTURES "/org/bedlog/manual/pictures/"
#define MEASURE 68 /* letters in a line: what is read easily */

typedef struct
{
  BedManualGo go;
  gpointer user_data;
} Reader;

static gboolean
link_cb (GtkLabel *label, const char *target, Reader *reader)
{
  /* The label may go with the page that is left. */
  g_autofree char *kept = g_strdup (target);

  reader->go (kept, reader->user_data);
  return TRUE;
}

/* The words are the program's own, and what is marked in them is escaped (manual_text.c). */
static GtkWidget *
words_new (const char *text, const char *style, Reader *reader)
{
  GtkWidget *words = bed_words_new (NULL, style);
  g_autofree char *markup = bed_manual_dup_markup (text);

  gtk_label_set_markup (GTK_LABEL (words), markup);
  gtk_label_set_max_width_chars (GTK_LABEL (words), MEASURE);
  gtk_label_set_natural_wrap_mode (GTK_LABEL (words), GTK_NATURAL_WRAP_NONE);
  gtk_widget_set_halign (words, GTK_ALIGN_START);
  g_signal_connect (words, "activate-link", G_CALLBACK (link_cb), reader);
  return words;
}

static GtkWidget *
heading_new (const BedManualBlock *block, Reader *reader)
{
  static const char *const styles[] = { "title-1", "title-3", "heading" };
  GtkWidget *heading = words_new (block->text, styles[block->level - 1], reader);

  if (block->level > 1)
    gtk_widget_set_margin_top (heading, 12);
  return heading;
}

static GtkWidget *
point_new (const BedManualBlock *block, Reader *reader)
{
  GtkWidget *mark = bed_label_new (block->mark, "numeric");
  GtkWidget *words = words_new (block->text, NULL, reader);

  gtk_widget_set_valign (mark, GTK_ALIGN_START);
  bed_styled (mark, "manual-mark");
  return bed_row_new (0, mark, words, NULL);
}

/* As many columns as the table has; the last is the widest. */
static GtkWidget *
table_new (const BedManualBlock *block, Reader *reader)
{
  GtkWidget *grid = bed_grid_new (18, 6);
  guint columns = MAX (block->n_columns, 1);

  for (guint i = 0; i < block->cells->len; i++)
    {
      gboolean head = i < columns;
      GtkWidget *cell = words_new (block->cells->pdata[i], head ? "heading" : NULL, reader);
      gboolean last = i % columns == columns - 1;

      gtk_label_set_max_width_chars (GTK_LABEL (cell), last ? 48 : 22);
      gtk_widget_set_valign (cell, GTK_ALIGN_START);
      gtk_grid_attach (GTK_GRID (grid), cell, (int) (i % columns), (int) (i / columns), 1, 1);
    }
  return grid;
}

static void
fit_picture (gpointer picture)
{
  gtk_widget_set_size_request (picture, -1, bed_plot_to_px (picture, 300));
}

static GtkWidget *
picture_new (const BedManualBlock *block)
{
  g_autofree char *file = g_path_get_basename (block->target);
  g_autofree char *path = g_strconcat (PICTURES, file, NULL);
  GtkWidget *picture = gtk_picture_new_for_resource (path);

  gtk_picture_set_alternative_text (GTK_PICTURE (picture), block->text);
  gtk_picture_set_can_shrink (GTK_PICTURE (picture), TRUE);
  fit_picture (picture);
  bed_letters_follow (picture, fit_picture);
  gtk_widget_set_halign (picture, GTK_ALIGN_START);
  return bed_styled (picture, "manual-picture");
}

static GtkWidget *
block_new (const BedManualBlock *block, Reader *reader)
{
  switch (block->kind)
    {
    case BED_BLOCK_HEADING:
      return heading_new (block, reader);
    case BED_BLOCK_POINT:
      return point_new (block, reader);
    case BED_BLOCK_TABLE:
      return table_new (block, reader);
    case BED_BLOCK_PICTURE:
      return picture_new (block);
    case BED_BLOCK_TYPED:
      return bed_words_new (block->text, "monospace");
    case BED_BLOCK_WORDS:
    default:
      return words_new (block->text, NULL, reader);
    }
}

GtkWidget *
bed_manual_page_new (const char *text, BedManualGo go, gpointer user_data)
{
  g_return_val_if_fail (text != NULL && go != NULL, NULL);
  GtkWidget *page = bed_styled (gtk_box_new (GTK_ORIENTATION_VERTICAL, 9), "page");
  Reader *reader = g_new0 (Reader, 1);
  g_autoptr (GPtrArray) blocks = bed_manual_read (text);

  *reader = (Reader){ go, user_data };
  g_object_set_data_full (G_OBJECT (page), "reader", reader, g_free);
  for (guint i = 0; i < blocks->len; i++)
    gtk_box_append (GTK_BOX (page), block_new (blocks->pdata[i], reader));
  return page;
}
