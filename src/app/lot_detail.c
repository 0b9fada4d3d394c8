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

/* Cooling, as people write moments and temperatures. */
static void
add_cooling (BedLotDetail *self, GtkWidget *facts, gint64 id)
{
  static const char *const fields[] = { "cooled_at", "cooled_to", "notes" };
  g_autoptr (BedRecord) lot = bed_farm_load (self->farm, BED_KIND_LOT, id, NULL);

  for (guint i = 0; lot && i < G_N_ELEMENTS (fields); i++)
    if (bed_record_has (lot, fields[i]))
      {
        g_autofree char *value = bed_value_dup_sentence (self->farm, lot, fields[i]);
        bed_facts_add (facts, _ (bed_kind_find_field (BED_KIND_LOT, fields[i], NULL)->label),
                       value);
      }
}

static void
show_head (BedLotDetail *self, BedQuery *lot, gint64 id)
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
  add_cooling (self, facts, id);
  gtk_widget_add_css_class (facts, "section");
  gtk_box_append (GTK_BOX (self->box), facts);
}

/* @content is a list; @none is said when nothing is in it. */
static void
add_trace (BedLotDetail *self, const char *heading, GtkWidget *content, const char *none)
{
  GtkWidget *section = bed_section_new (heading, content);

  if (!gtk_widget_get_first_child (content))
    gtk_box_append (GTK_BOX (content), bed_words_new (none, "dim-label"));
  gtk_widget_add_css_class (section, "section");
  gtk_box_append (GTK_BOX (self->box), section);
}

/* The columns of lot_back in the order they are read: where the wood and the spawn are from. */
static const struct
{
  const char *column;
  const char *label; /* N_() */
  gboolean is_date;
} origins[] = {
  { "batch_code", N_ ("Batch"), FALSE },        { "inoculated_on", N_ ("Inoculated on"), TRUE },
  { "strain_name", N_ ("Strain"), FALSE },      { "spawn_code", N_ ("Spawn lot"), FALSE },
  { "spawn_supplier", N_ ("Spawn from"), FALSE }, { "supplier_lot", N_ ("Its lot"), FALSE },
  { "wood_name", N_ ("Wood"), FALSE },          { "felling_code", N_ ("Felling"), FALSE },
  { "felled_on", N_ ("Felled on"), TRUE },      { "stand_name", N_ ("Stand"), FALSE },
};

static char *
dup_back_sql (void)
{
  GString *sql = g_string_new ("SELECT ");

  for (guint i = 0; i < G_N_ELEMENTS (origins); i++)
    g_string_append_printf (sql, "%s%s", i ? ", " : "", origins[i].column);
  g_string_append (sql, " FROM lot_back WHERE lot = ?1 ORDER BY batch_code, felling_code");
  return g_string_free (sql, FALSE);
}

static GtkWidget *
make_origin (BedQuery *q)
{
  GtkWidget *facts = bed_facts_box_new ();

  for (guint i = 0; i < G_N_ELEMENTS (origins); i++)
    {
      const char *value = bed_query_text (q, i);
      g_autofree char *text = !value || !*value ? NULL
                              : origins[i].is_date ? bed_date_format (value) : g_strdup (value);
      if (text)
        bed_facts_add (facts, _ (origins[i].label), text);
    }
  return facts;
}

static void
show_back (BedLotDetail *self, gint64 lot)
{
  GtkWidget *list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  g_autofree char *sql = dup_back_sql ();
  g_autoptr (BedQuery) q = bed_query_new (self->farm, sql);

  bed_query_bind_int (q, 1, lot);
  while (bed_query_next (q))
    {
      if (gtk_widget_get_first_child (list))
        gtk_box_append (GTK_BOX (list), gtk_separator_new (GTK_ORIENTATION_HORIZONTAL));
      gtk_box_append (GTK_BOX (list), make_origin (q));
    }
  add_trace (self, _ ("Where it came from"), list, _ ("Nothing was picked into this lot yet."));
}

static void
append (GString *line, const char *text)
{
  if (text && *text)
    g_string_append_printf (line, "%s%s", line->len ? " · " : "", text);
}

static char *
dup_destination (BedLotDetail *self, BedQuery *q)
{
  GString *line = g_string_new (NULL);
  g_autofree char *day = bed_date_format (bed_query_text (q, 1));
  g_autofree char *mass = dup_mass (self, bed_query_int (q, 5));
  const BedField *use = bed_kind_find_field (BED_KIND_LINE, "use", NULL);
  const BedField *form = bed_kind_find_field (BED_KIND_LINE, "form", NULL);

  append (line, day);
  append (line, bed_query_text (q, 2));
  append (line, mass);
  append (line, bed_field_choice_label (form, bed_query_text (q, 3)));
  append (line, bed_field_choice_label (use, bed_query_text (q, 4)));
  append (line, bed_query_text (q, 0));
  return g_string_free (line, FALSE);
}

static void
show_forward (BedLotDetail *self, gint64 lot)
{
  GtkWidget *list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  g_autoptr (BedQuery) q = bed_query_new (
      self->farm, "SELECT sale_code, sold_on, buyer_name, form, use, mass FROM lot_forward"
                  " WHERE lot = ?1 ORDER BY sold_on, sale_code");

  bed_query_bind_int (q, 1, lot);
  while (bed_query_next (q))
    {
      g_autofree char *line = dup_destination (self, q);
      gtk_box_append (GTK_BOX (list), bed_words_new (line, "numeric"));
    }
  add_trace (self, _ ("Who got it"), list, _ ("None of it has left the farm."));
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
      self->farm, "SELECT code, picked_on, picked, sold, lost, dried FROM lot_summary"
                  " WHERE id = ?1");

  bed_box_clear (self->box);
  bed_query_bind_int (q, 1, lot);
  if (!bed_query_next (q))
    return;
  show_head (self, q, lot);
  show_back (self, lot);
  show_forward (self, lot);
}
