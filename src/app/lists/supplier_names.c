#include "app/lists/supplier_names.h"

#include <glib/gi18n.h>

#include "app/host/host.h"
#include "app/host/typing.h"
#include "app/widgets/build.h"
#include "app/widgets/table.h"
#include "model/farm/kinds.h"
#include "model/farm/query.h"

struct _BedSupplierNames
{
  BedPart parent_instance;
  BedFarm *farm;
  BedTable *table;
  GtkWidget *entry;
  char *name; /* as it stands in the records, or NULL */
};

static void bed_supplier_names_typing_init (BedTypingInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (BedSupplierNames, bed_supplier_names, BED_TYPE_PART,
                               G_IMPLEMENT_INTERFACE (BED_TYPE_TYPING,
                                                      bed_supplier_names_typing_init))

/* Whose field "supplier" it is; the view supplier_name counts them. */
static const BedKind kinds[] = { BED_KIND_SPAWN, BED_KIND_PURCHASE, BED_KIND_FELLING };

#define COUNT(of, head)                                                                            \
  {                                                                                                \
    .column = of, .title = head, .cell = BED_CELL_MEASURE, .measure = BED_MEASURE_COUNT            \
  }

static const BedTableColumn columns[] = {
  { .column = "name", .title = N_ ("Supplier") },
  COUNT ("lots", N_ ("Spawn lots")),
  COUNT ("purchases", N_ ("Purchases")),
  COUNT ("fellings", N_ ("Fellings")),
  { .column = "last_on", .title = N_ ("Last"), .cell = BED_CELL_DATE },
};

static const BedTableSpec table = {
  .label = N_ ("Suppliers"),
  .source = "supplier_name",
  .columns = columns,
  .n_columns = G_N_ELEMENTS (columns),
  .order = "name",
  .search = "name",
  .kinds = BED_KIND_BIT (BED_KIND_SPAWN) | BED_KIND_BIT (BED_KIND_PURCHASE)
           | BED_KIND_BIT (BED_KIND_FELLING),
  .empty = N_ ("No supplier yet. They come with spawn lots, purchases and bolts bought."),
};

static void
selected_cb (BedSupplierNames *self, gint64 id)
{
  g_autoptr (BedQuery) q
      = bed_query_new (self->farm, "SELECT name FROM supplier_name WHERE id = ?1");
  g_autoptr (GError) error = NULL;

  bed_query_bind_int (q, 1, id);
  g_free (self->name);
  self->name = bed_query_next (q) ? g_strdup (bed_query_text (q, 0)) : NULL;
  gtk_editable_set_text (GTK_EDITABLE (self->entry), self->name ? self->name : "");
  gtk_widget_set_sensitive (self->entry, self->name && !bed_farm_get_read_only_why (self->farm));
  if (!bed_query_finish (q, &error))
    bed_host_say_error (GTK_WIDGET (self), error);
}

static void
change_cb (BedSupplierNames *self)
{
  gtk_widget_grab_focus (self->entry);
}

/* All of that kind that name it. */
static gboolean
put_kind (BedSupplierNames *self, BedEdit *edit, BedKind kind, const char *name, GError **error)
{
  g_autofree char *sql = g_strdup_printf (
      "SELECT id FROM \"%s\" WHERE supplier = ?1 COLLATE NOCASE", bed_kind_get_info (kind)->name);
  g_autoptr (BedQuery) q = bed_query_new (self->farm, sql);

  bed_query_bind_text (q, 1, self->name);
  while (bed_query_next (q))
    {
      g_autoptr (BedRecord) record = bed_farm_load (self->farm, kind, bed_query_int (q, 0), error);

      if (!record)
        return FALSE;
      bed_record_set_text (record, "supplier", name);
      bed_edit_put (edit, record);
    }
  return bed_query_finish (q, error);
}

static void
rename_cb (BedSupplierNames *self)
{
  g_autofree char *name
      = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->entry))));
  g_autoptr (BedEdit) edit = bed_edit_new (self->farm);
  /* Translators: a supplier, and what it is called now. */
  g_autofree char *sentence
      = g_strdup_printf (_ ("Renamed supplier %s to %s"), self->name ? self->name : "", name);
  g_autoptr (GError) error = NULL;
  gboolean put = TRUE;

  if (!self->name || !*name)
    return;
  for (guint i = 0; i < G_N_ELEMENTS (kinds) && put; i++)
    put = put_kind (self, edit, kinds[i], name, &error);
  if (!put || !bed_host_commit (GTK_WIDGET (self), edit, sentence, &error))
    bed_host_say_error (GTK_WIDGET (self), error);
  else
    gtk_widget_grab_focus (GTK_WIDGET (self->table));
}

static char *
dup_typing_words (BedTyping *typing)
{
  BedSupplierNames *self = BED_SUPPLIER_NAMES (typing);
  const char *typed = gtk_editable_get_text (GTK_EDITABLE (self->entry));

  return self->name && strcmp (typed, self->name) != 0
             ? g_strdup (_ ("A changed supplier is not saved."))
             : NULL;
}

static void
bed_supplier_names_typing_init (BedTypingInterface *iface)
{
  iface->dup_words = dup_typing_words;
}

static void
bed_supplier_names_finalize (GObject *object)
{
  g_free (BED_SUPPLIER_NAMES (object)->name);
  G_OBJECT_CLASS (bed_supplier_names_parent_class)->finalize (object);
}

static void
bed_supplier_names_class_init (BedSupplierNamesClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = bed_supplier_names_finalize;
}

static void
bed_supplier_names_init (BedSupplierNames *self)
{
}

GtkWidget *
bed_supplier_names_new (BedFarm *farm)
{
  BedSupplierNames *self = g_object_new (BED_TYPE_SUPPLIER_NAMES, NULL);
  GtkWidget *rename = bed_button_new (_ ("Rename everywhere"), G_CALLBACK (rename_cb), self);

  self->farm = bed_part_hold (BED_PART (self), farm);
  self->table = bed_table_new (farm, &table);
  self->entry = bed_named (gtk_entry_new (), _ ("Name of the supplier"));
  gtk_widget_set_sensitive (self->entry, FALSE);
  gtk_widget_set_hexpand (self->entry, TRUE);
  gtk_widget_set_vexpand (GTK_WIDGET (self->table), TRUE);
  g_object_bind_property (self->entry, "sensitive", rename, "sensitive", G_BINDING_SYNC_CREATE);
  bed_part_set_child (
      BED_PART (self),
      bed_column_new (0, GTK_WIDGET (self->table),
                      bed_styled (bed_row_new (6, self->entry, rename, NULL), "foot"), NULL));
  g_signal_connect_swapped (self->entry, "activate", G_CALLBACK (rename_cb), self);
  g_signal_connect_swapped (self->table, "selected", G_CALLBACK (selected_cb), self);
  g_signal_connect_swapped (self->table, "change", G_CALLBACK (change_cb), self);
  return GTK_WIDGET (self);
}
