#include "app/lot_detail.h"

#include <glib/gi18n.h>

#include "app/browser.h"
#include "app/facts.h"
#include "app/page_parts.h"
#include "model/query.h"
#include "model/value.h"

struct _BedLotDetail
{
  GtkWidget parent_instance;
  BedFarm *farm;
  GtkWidget *box;
};

G_DEFINE_FINAL_TYPE (BedLotDetail, bed_lot_detail, GTK_TYPE_WIDGET)

static char *
dup_mass (BedLotDetail *self, gint64 mass)
{
  return bed_measure_format_unit_rounded (BED_MEASURE_MASS, bed_farm_get_notation (self->farm), 2,
                                          mass);
}

static void
add_mass (BedLotDetail *self, GtkWidget *facts, const char *label, gint64 mass)
{
  g_autofree char *text = dup_mass (self, mass);

  bed_facts_add (facts, label, text);
}

static void
show_head (BedLotDetail *self, BedQuery *lot)
{
  GtkWidget *facts = bed_facts_box_new ();
  g_autofree char *day = bed_date_format (bed_query_text (lot, 1));
  gint64 picked = bed_query_int (lot, 2), gone = 0;
  static const char *const gone_labels[] = { N_ ("Sold fresh"), N_ ("Lost or given"),
                                             N_ ("Dried, fresh mass") };

  gtk_box_append (GTK_BOX (self->box), bed_browser_head_new (bed_query_text (lot, 0), day, NULL));
  add_mass (self, facts, _ ("Picked"), picked);
  for (guint i = 0; i < G_N_ELEMENTS (gone_labels); i++)
    {
      gone += bed_query_int (lot, 3 + i);
      add_mass (self, facts, _ (gone_labels[i]), bed_query_int (lot, 3 + i));
    }
  add_mass (self, facts, _ ("Left"), picked - gone);
  if (!bed_query_is_null (lot, 6))
    bed_facts_add (facts, _ ("Cooled at"), bed_query_text (lot, 6));
  gtk_widget_add_css_class (facts, "section");
  gtk_box_append (GTK_BOX (self->box), facts);
}

/* A list of lines, each a name and what is known of it; @none when there are no rows. */
static void
add_trace (BedLotDetail *self, const char *heading, GPtrArray *lines, const char *none)
{
  GtkWidget *list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *section;

  for (guint i = 0; i < lines->len; i++)
    gtk_box_append (GTK_BOX (list), bed_words_new (lines->pdata[i], NULL));
  if (!lines->len)
    gtk_box_append (GTK_BOX (list), bed_words_new (none, "dim-label"));
  section = bed_section_new (heading, list);
  gtk_widget_add_css_class (section, "section");
  gtk_box_append (GTK_BOX (self->box), section);
}

static void
append (GString *line, const char *before, const char *text)
{
  if (text && *text)
    g_string_append_printf (line, "%s%s%s", line->len ? " · " : "", before, text);
}

static char *
dup_origin (BedQuery *q)
{
  GString *line = g_string_new (NULL);
  g_autofree char *felled = bed_date_format (bed_query_text (q, 7));
  g_autofree char *inoculated = bed_query_text (q, 1) ? bed_date_format (bed_query_text (q, 1))
                                                      : NULL;
  g_autofree char *felling = g_strdup_printf (_ ("%s, felled %s"), bed_query_text (q, 6), felled);

  append (line, _ ("batch "), bed_query_text (q, 0));
  append (line, _ ("inoculated "), inoculated);
  append (line, "", bed_query_text (q, 2));
  append (line, _ ("spawn "), bed_query_text (q, 3));
  append (line, _ ("from "), bed_query_text (q, 4));
  append (line, _ ("its lot "), bed_query_text (q, 5));
  append (line, "", bed_query_text (q, 8));
  append (line, _ ("felling "), felling);
  append (line, "", bed_query_text (q, 9));
  return g_string_free (line, FALSE);
}

static void
show_back (BedLotDetail *self, gint64 lot)
{
  g_autoptr (GPtrArray) lines = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (BedQuery) q = bed_query_new (
      self->farm, "SELECT batch_code, inoculated_on, strain_name, spawn_code, spawn_supplier,"
                  " supplier_lot, felling_code, felled_on, wood_name, stand_name FROM lot_back"
                  " WHERE lot = ?1 ORDER BY batch_code, felling_code");

  bed_query_bind_int (q, 1, lot);
  while (bed_query_next (q))
    g_ptr_array_add (lines, dup_origin (q));
  add_trace (self, _ ("Where it came from"), lines, _ ("Nothing was picked into this lot yet."));
}

static char *
dup_destination (BedLotDetail *self, BedQuery *q)
{
  GString *line = g_string_new (NULL);
  g_autofree char *day = bed_date_format (bed_query_text (q, 1));
  g_autofree char *mass = dup_mass (self, bed_query_int (q, 5));
  const BedField *use = bed_kind_find_field (BED_KIND_LINE, "use", NULL);
  const BedField *form = bed_kind_find_field (BED_KIND_LINE, "form", NULL);

  append (line, "", day);
  append (line, "", bed_query_text (q, 2));
  append (line, "", mass);
  append (line, "", bed_field_choice_label (form, bed_query_text (q, 3)));
  append (line, "", bed_field_choice_label (use, bed_query_text (q, 4)));
  append (line, "", bed_query_text (q, 0));
  return g_string_free (line, FALSE);
}

static void
show_forward (BedLotDetail *self, gint64 lot)
{
  g_autoptr (GPtrArray) lines = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (BedQuery) q = bed_query_new (
      self->farm, "SELECT sale_code, sold_on, buyer_name, form, use, mass FROM lot_forward"
                  " WHERE lot = ?1 ORDER BY sold_on, sale_code");

  bed_query_bind_int (q, 1, lot);
  while (bed_query_next (q))
    g_ptr_array_add (lines, dup_destination (self, q));
  add_trace (self, _ ("Who got it"), lines, _ ("None of it has left the farm."));
}

static void
bed_lot_detail_dispose (GObject *object)
{
  BedLotDetail *self = BED_LOT_DETAIL (object);

  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_object (&self->farm);
  G_OBJECT_CLASS (bed_lot_detail_parent_class)->dispose (object);
}

static void
bed_lot_detail_class_init (BedLotDetailClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = bed_lot_detail_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
bed_lot_detail_init (BedLotDetail *self)
{
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}

GtkWidget *
bed_lot_detail_new (BedFarm *farm)
{
  BedLotDetail *self = g_object_new (BED_TYPE_LOT_DETAIL, NULL);

  self->farm = g_object_ref (farm);
  return GTK_WIDGET (self);
}

void
bed_lot_detail_show (GtkWidget *detail, gint64 lot)
{
  BedLotDetail *self = BED_LOT_DETAIL (detail);
  g_autoptr (BedQuery) q = bed_query_new (
      self->farm, "SELECT code, picked_on, picked, sold, lost, dried, cooled_at FROM lot_summary"
                  " WHERE id = ?1");

  bed_box_clear (self->box);
  bed_query_bind_int (q, 1, lot);
  if (!bed_query_next (q))
    return;
  show_head (self, q);
  show_back (self, lot);
  show_forward (self, lot);
}
