#include "app/import/import_reading.h"

#include <glib/gi18n.h>

#include "app/host/host.h"
#include "app/widgets/build.h"
#include "app/widgets/compat.h"
#include "app/widgets/drop_down.h"

struct _BedImportReading
{
  GtkWidget parent_instance;
  GtkWidget *button;
  GtkWidget *encoding; /* drop-downs */
  GtkWidget *delimiter;
  GtkWidget *mark;
  GtkWidget *sheets;
  GtkWidget *tables;
  GtkWidget *text_rows; /* of what a workbook has none */
  GtkWidget *sheet_rows;
  GtkWidget *table_rows; /* where there are several */
  BedImportSheet *sheet;
  gboolean showing;
};

G_DEFINE_FINAL_TYPE (BedImportReading, bed_import_reading, GTK_TYPE_WIDGET)

static const BedEncoding encodings[] = { BED_ENCODING_UTF_8, BED_ENCODING_UTF_16LE,
                                         BED_ENCODING_UTF_16BE, BED_ENCODING_WINDOWS_1252,
                                         BED_ENCODING_LATIN_1 };

static const struct
{
  char delimiter;
  const char *word; /* N_() */
} delimiters[] = {
  { ',', N_ ("Comma") }, { ';', N_ ("Semicolon") }, { '\t', N_ ("Tab") }, { '|', N_ ("Bar") }
};

static const char marks[] = { '.', ',' };

/* --- decisions ---------------------------------------------------------------------- */

static void
read_as (BedImportReading *self, const BedReading *reading, guint sheet)
{
  g_autoptr (GError) error = NULL;

  if (!bed_import_sheet_read_as (self->sheet, reading, sheet, &error))
    bed_host_say_error (GTK_WIDGET (self), error);
}

/* What was found stays but for what is chosen; quotes are found for a delimiter. */
static void
reading_chosen_cb (BedImportReading *self)
{
  guint encoding = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->encoding));
  guint delimiter = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->delimiter));
  BedReading reading = { BED_ENCODING_FOUND, 0, 0, 0 };

  if (self->showing)
    return;
  if (encoding < G_N_ELEMENTS (encodings))
    reading.encoding = encodings[encoding];
  if (delimiter < G_N_ELEMENTS (delimiters))
    {
      reading.delimiter = delimiters[delimiter].delimiter;
      reading.quote = '"';
    }
  read_as (self, &reading, 0);
}

static void
sheet_chosen_cb (BedImportReading *self)
{
  guint at = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->sheets));
  const BedReading none = { BED_ENCODING_FOUND, 0, 0, 0 };

  if (!self->showing && at != GTK_INVALID_LIST_POSITION)
    read_as (self, &none, at);
}

static void
table_chosen_cb (BedImportReading *self)
{
  guint at = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->tables));
  g_autoptr (GError) error = NULL;

  if (!self->showing && at != GTK_INVALID_LIST_POSITION
      && !bed_import_sheet_choose_table (self->sheet, at, &error))
    bed_host_say_error (GTK_WIDGET (self), error);
}

static void
mark_chosen_cb (BedImportReading *self)
{
  guint at = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->mark));
  g_autoptr (GError) error = NULL;

  if (self->showing || at >= G_N_ELEMENTS (marks))
    return;
  BedNotebook *notebook = bed_import_sheet_begin_decision (self->sheet);
  if (!bed_notebook_set_decimal_mark (notebook, marks[at], &error))
    bed_host_say_error (GTK_WIDGET (self), error);
  bed_import_sheet_end_decision (self->sheet);
}

/* --- what is seen -------------------------------------------------------------------- */

static void
show_reading (BedImportReading *self, BedRows *rows)
{
  const BedReading *reading = bed_rows_get_reading (rows);
  guint encoding = GTK_INVALID_LIST_POSITION, delimiter = GTK_INVALID_LIST_POSITION;

  for (guint i = 0; i < G_N_ELEMENTS (encodings); i++)
    if (encodings[i] == reading->encoding)
      encoding = i;
  for (guint i = 0; i < G_N_ELEMENTS (delimiters); i++)
    if (delimiters[i].delimiter == reading->delimiter)
      delimiter = i;
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->encoding), encoding);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->delimiter), delimiter);
}

static void
show_sheets (BedImportReading *self, BedImportSheet *sheet, BedRows *rows)
{
  guint n = bed_rows_get_n_sheets (rows);
  GListModel *shown = gtk_drop_down_get_model (GTK_DROP_DOWN (self->sheets));

  if (!shown || g_list_model_get_n_items (shown) != n)
    {
      g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);

      for (guint i = 0; i < n; i++)
        gtk_string_list_append (names, bed_rows_get_sheet_name (rows, i));
      gtk_drop_down_set_model (GTK_DROP_DOWN (self->sheets), G_LIST_MODEL (names));
    }
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->sheets), bed_import_sheet_get_sheet (sheet));
}

/* A list that is open closes when its model is another. */
static void
set_names (GtkDropDown *drop, GtkStringList *names)
{
  GtkStringList *shown = GTK_STRING_LIST (gtk_drop_down_get_model (drop));
  guint n = g_list_model_get_n_items (G_LIST_MODEL (names)), i = 0;

  while (shown && i < n
         && g_strcmp0 (gtk_string_list_get_string (shown, i), gtk_string_list_get_string (names, i))
                == 0)
    i++;
  if (!shown || i < n || g_list_model_get_n_items (G_LIST_MODEL (shown)) != n)
    gtk_drop_down_set_model (drop, G_LIST_MODEL (names));
}

static void
show_tables (BedImportReading *self, BedNotebook *notebook)
{
  guint n;
  const BedNotebookTable *tables = bed_notebook_get_tables (notebook, &n);
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);

  for (guint i = 0; i < n; i++)
    {
      /* Translators: number of a row, heads of a table. */
      g_autofree char *name = g_strdup_printf (_ ("Row %u: %s"), tables[i].line, tables[i].text);
      gtk_string_list_append (names, name);
    }
  set_names (GTK_DROP_DOWN (self->tables), names);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->tables), bed_notebook_get_table (notebook));
  gtk_widget_set_visible (self->table_rows, n > 1);
}

static GtkWidget *
make_drop (BedImportReading *self, const char *name, GCallback chosen)
{
  GtkWidget *drop = bed_drop_down_new (NULL, name);

  g_signal_connect_swapped (drop, "notify::selected", chosen, self);
  return drop;
}

static void
fill_drops (BedImportReading *self)
{
  g_autoptr (GtkStringList) encoding_names = gtk_string_list_new (NULL);
  g_autoptr (GtkStringList) delimiter_words = gtk_string_list_new (NULL);
  g_autoptr (GtkStringList) mark_words = gtk_string_list_new (NULL);

  for (guint i = 0; i < G_N_ELEMENTS (encodings); i++)
    gtk_string_list_append (encoding_names, bed_encoding_get_name (encodings[i]));
  for (guint i = 0; i < G_N_ELEMENTS (delimiters); i++)
    gtk_string_list_append (delimiter_words, _ (delimiters[i].word));
  gtk_string_list_append (mark_words, _ ("Point: 1.5"));
  gtk_string_list_append (mark_words, _ ("Comma: 1,5"));
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->encoding), G_LIST_MODEL (encoding_names));
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->delimiter), G_LIST_MODEL (delimiter_words));
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->mark), G_LIST_MODEL (mark_words));
}

static GtkWidget *
make_rows (BedImportReading *self)
{
  self->encoding = make_drop (self, _ ("Encoding"), G_CALLBACK (reading_chosen_cb));
  self->delimiter = make_drop (self, _ ("Between cells"), G_CALLBACK (reading_chosen_cb));
  self->mark = make_drop (self, _ ("Decimal mark"), G_CALLBACK (mark_chosen_cb));
  self->sheets = make_drop (self, _ ("Sheet"), G_CALLBACK (sheet_chosen_cb));
  self->tables = make_drop (self, _ ("Table"), G_CALLBACK (table_chosen_cb));
  fill_drops (self);
  self->text_rows
      = bed_column_new (3, bed_label_new (_ ("Encoding"), "field-label"), self->encoding,
                        bed_label_new (_ ("Between cells"), "field-label"), self->delimiter, NULL);
  self->sheet_rows
      = bed_column_new (3, bed_label_new (_ ("Sheet"), "field-label"), self->sheets, NULL);
  self->table_rows
      = bed_column_new (3, bed_label_new (_ ("Table"), "field-label"), self->tables, NULL);
  return bed_styled (bed_column_new (6, self->sheet_rows, self->table_rows, self->text_rows,
                                     bed_label_new (_ ("Decimal mark"), "field-label"), self->mark,
                                     NULL),
                     "section");
}

/* --- overrides --------------------------------------------------------------------------- */

static void
bed_import_reading_dispose (GObject *object)
{
  BedImportReading *self = BED_IMPORT_READING (object);

  self->showing = TRUE;
  g_clear_pointer (&self->button, gtk_widget_unparent);
  g_clear_object (&self->sheet);
  G_OBJECT_CLASS (bed_import_reading_parent_class)->dispose (object);
}

static void
bed_import_reading_class_init (BedImportReadingClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = bed_import_reading_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
bed_import_reading_init (BedImportReading *self)
{
  GtkWidget *popover = gtk_popover_new ();

  self->showing = TRUE;
  gtk_popover_set_child (GTK_POPOVER (popover), make_rows (self));
  self->button = gtk_menu_button_new ();
  gtk_menu_button_set_label (GTK_MENU_BUTTON (self->button), _ ("Change"));
  gtk_menu_button_set_popover (GTK_MENU_BUTTON (self->button), popover);
  bed_name_menu_button (self->button);
  gtk_widget_set_parent (self->button, GTK_WIDGET (self));
}

/* --- public --------------------------------------------------------------------------------- */

GtkWidget *
bed_import_reading_new (void)
{
  return g_object_new (BED_TYPE_IMPORT_READING, NULL);
}

void
bed_import_reading_show (BedImportReading *self, BedImportSheet *sheet)
{
  g_return_if_fail (BED_IS_IMPORT_READING (self));

  g_set_object (&self->sheet, sheet);
  if (!sheet)
    return;
  BedNotebook *notebook = bed_import_sheet_get_notebook (sheet);
  BedRows *rows = bed_notebook_get_rows (notebook);
  gboolean text = bed_rows_get_format (rows) == BED_ROWS_TEXT;
  self->showing = TRUE;
  gtk_widget_set_visible (self->text_rows, text);
  gtk_widget_set_visible (self->sheet_rows, !text);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->mark),
                              bed_notebook_get_decimal_mark (notebook) == ',');
  show_reading (self, rows);
  show_sheets (self, sheet, rows);
  show_tables (self, notebook);
  self->showing = FALSE;
}
