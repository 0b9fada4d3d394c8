#include "app/picking/lot_detail.h"

#include <glib/gi18n.h>

#include "app/desk/browser.h"
#include "app/desk/page_parts.h"
#include "app/desk/recall_button.h"
#include "app/form/form.h"
#include "app/form/forms.h"
#include "app/host/host.h"
#include "app/widgets/compat.h"
#include "app/widgets/enter.h"
#include "app/widgets/facts.h"
#include "model/farm/kinds.h"
#include "model/farm/query.h"
#include "model/farm/say.h"
#include "model/farm/value.h"
#include "model/season/draft.h"
#include "model/season/trace.h"
#include "science/units.h"

struct _BedLotDetail
{
  BedPart parent_instance;
  BedFarm *farm;
  gint64 lot;
  GtkWidget *stack; /* "lot", "drying" */
  GtkWidget *box;
};

G_DEFINE_FINAL_TYPE (BedLotDetail, bed_lot_detail, BED_TYPE_PART)

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
show_head (BedLotDetail *self, const BedTraceStep *step, BedQuery *lot, gint64 id)
{
  int code = bed_trace_find_column (step, "code"), on = bed_trace_find_column (step, "picked_on");
  int picked = bed_trace_find_column (step, "picked_mg");
  GtkWidget *facts = bed_facts_box_new ();
  g_autofree char *day = bed_date_format (bed_query_text (lot, on));
  gint64 left = bed_query_int (lot, picked);

  GtkWidget *sell = bed_action_button_new (_ ("Sell"), "lot.sell");

  gtk_widget_set_valign (sell, GTK_ALIGN_CENTER);
  gtk_box_append (
      GTK_BOX (self->box),
      bed_browser_head_new (bed_query_text (lot, code), day,
                            bed_row_new (6, bed_recall_button_new (BED_KIND_LOT, id), sell, NULL)));
  /* What was picked, and where it went. */
  for (int i = 0; step->columns[i].key; i++)
    if (step->columns[i].type == BED_TRACE_MASS)
      {
        left -= i == picked ? 0 : bed_query_int (lot, i);
        add_mass (self, facts, _ (step->columns[i].label), bed_query_int (lot, i));
      }
  add_mass (self, facts, _ ("Left"), left);
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

static GtkWidget *
make_origin (const BedTraceColumn *columns, BedQuery *q)
{
  GtkWidget *facts = bed_facts_box_new ();

  for (int i = 0; columns[i].key; i++)
    {
      const char *value = bed_query_text (q, i);
      g_autofree char *text = !value || !*value                   ? NULL
                              : columns[i].type == BED_TRACE_DATE ? bed_date_format (value)
                                                                  : g_strdup (value);
      if (text)
        bed_facts_add (facts, _ (columns[i].label), text);
    }
  return facts;
}

static gboolean
show_back (BedLotDetail *self, gint64 lot, GError **error)
{
  GtkWidget *list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  const BedTraceStep *step = bed_trace_find (BED_KIND_LOT, "from");
  g_autoptr (BedQuery) q = bed_trace_ask (self->farm, step, lot);

  while (bed_query_next (q))
    {
      if (gtk_widget_get_first_child (list))
        gtk_box_append (GTK_BOX (list), gtk_separator_new (GTK_ORIENTATION_HORIZONTAL));
      gtk_box_append (GTK_BOX (list), make_origin (step->columns, q));
    }
  add_trace (self, _ ("Where it came from"), list, _ ("Nothing was picked into this lot yet."));
  return bed_query_finish (q, error);
}

static char *
dup_destination (BedLotDetail *self, const BedTraceStep *step, BedQuery *q)
{
  static const char *const keys[] = { "sold_on", "buyer", "mass_mg", "form", "use", "sale" };
  GString *line = g_string_new (NULL);

  for (guint i = 0; i < G_N_ELEMENTS (keys); i++)
    {
      int column = bed_trace_find_column (step, keys[i]);
      const char *value = bed_query_text (q, column);
      const BedField *choice = bed_kind_find_field (BED_KIND_LINE, keys[i], NULL);
      g_autofree char *text = step->columns[column].type == BED_TRACE_MASS
                                  ? dup_mass (self, bed_query_int (q, column))
                              : step->columns[column].type == BED_TRACE_DATE
                                  ? bed_date_format (value)
                              : choice && choice->choices
                                  ? g_strdup (bed_field_choice_label (choice, value))
                                  : g_strdup (value);

      if (text && *text)
        g_string_append_printf (line, "%s%s", line->len ? " · " : "", text);
    }
  return g_string_free (line, FALSE);
}

static gboolean
show_forward (BedLotDetail *self, gint64 lot, GError **error)
{
  GtkWidget *list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  const BedTraceStep *step = bed_trace_find (BED_KIND_LOT, "to");
  g_autoptr (BedQuery) q = bed_trace_ask (self->farm, step, lot);

  while (bed_query_next (q))
    {
      g_autofree char *line = dup_destination (self, step, q);
      gtk_box_append (GTK_BOX (list), bed_words_new (line, "numeric"));
    }
  add_trace (self, _ ("Who got it"), list, _ ("None of it has left the farm."));
  return bed_query_finish (q, error);
}

/* --- dryings ------------------------------------------------------------------------ */

static void
left_cb (BedLotDetail *self)
{
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "lot");
  bed_enter (self->box);
}

/* What is left of a lot is dried at once, most often. */
static BedRecord *
make_drying (BedLotDetail *self, GError **error)
{
  gint64 rest;

  if (!bed_query_one (self->farm, "SELECT rest FROM lot_left WHERE id = ?1", self->lot, &rest,
                      error))
    return NULL;
  BedRecord *drying = bed_draft_new (self->farm, BED_KIND_DRYING);
  bed_record_set_int (drying, "lot", self->lot);
  if (rest > 0)
    bed_record_set_int (drying, "fresh_mass", rest);
  return drying;
}

/* Opens the form of a drying: of a new one, with what is left of the lot as the fresh mass, when
 * the parameter is 0. */
static void
dry_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  BedLotDetail *self = BED_LOT_DETAIL (widget);
  gint64 drying = g_variant_get_int64 (parameter);
  g_autoptr (GError) error = NULL;
  g_autoptr (BedRecord) record = drying
                                     ? bed_farm_load (self->farm, BED_KIND_DRYING, drying, &error)
                                     : make_drying (self, &error);

  if (record)
    bed_form_open (bed_forms_get_in (GTK_STACK (self->stack), self->farm, BED_KIND_DRYING,
                                     G_CALLBACK (left_cb), self),
                   record, drying ? NULL : "fresh_mass");
  else
    bed_host_say_error (widget, error);
}

static void
sell_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  BedLotDetail *self = BED_LOT_DETAIL (widget);
  g_autoptr (GError) error = NULL;

  if (!bed_farm_begin_reading (self->farm))
    return;
  g_autofree char *lot = bed_farm_dup_name (self->farm, BED_KIND_LOT, self->lot);
  g_autoptr (BedRecord) sale = bed_draft_new (self->farm, BED_KIND_SALE);
  if (!bed_farm_end_reading (self->farm, &error))
    bed_host_say_error (widget, error);
  else if (lot)
    bed_host_show_draft (widget, sale, lot);
}

static void
undry_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  BedLotDetail *self = BED_LOT_DETAIL (widget);
  g_autofree char *lot = bed_farm_dup_name (self->farm, BED_KIND_LOT, self->lot);
  g_autofree char *sentence = g_strdup_printf (_ ("Removed a drying of lot %s"), lot);
  g_autoptr (BedEdit) edit = bed_edit_new (self->farm);
  g_autoptr (GError) error = NULL;

  bed_edit_remove (edit, BED_KIND_DRYING, g_variant_get_int64 (parameter));
  if (!bed_host_commit (widget, edit, sentence, &error))
    bed_host_say_error (widget, error);
}

static char *
dup_drying (BedLotDetail *self, BedQuery *q)
{
  const BedNotation *notation = bed_farm_get_notation (self->farm);
  gint64 fresh = bed_query_int (q, 2), dried = bed_query_int (q, 3);
  g_autofree char *day = bed_date_format (bed_query_text (q, 1));
  g_autofree char *in = bed_measure_format_unit_said (BED_MEASURE_MASS, notation, fresh);
  g_autofree char *out = bed_measure_format_unit_said (BED_MEASURE_MASS_FINE, notation, dried);

  /* Translators: day; fresh mass; dried mass; fresh over dried. */
  return bed_say (_ ("%s · %s fresh gave %s dried, %.1f to 1"), day, in, out,
                  (double) fresh / (double) dried);
}

static GtkWidget *
make_button (const char *icon, const char *name, const char *action, gint64 drying)
{
  GtkWidget *button = bed_icon_button_new (icon, name);

  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
  gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "x", drying);
  gtk_widget_set_focus_on_click (button, FALSE);
  return button;
}

static GtkWidget *
make_drying_row (BedLotDetail *self, BedQuery *q)
{
  g_autofree char *text = dup_drying (self, q);
  GtkWidget *words = bed_words_new (text, "numeric");
  gint64 id = bed_query_int (q, 0);

  gtk_widget_set_hexpand (words, TRUE);
  return bed_row_new (
      6, words, make_button ("document-edit-symbolic", _ ("Change this drying"), "lot.dry", id),
      make_button ("user-trash-symbolic", _ ("Remove this drying"), "lot.undry", id), NULL);
}

static gboolean
show_dryings (BedLotDetail *self, GError **error)
{
  GtkWidget *list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *dry = bed_action_button_new (_ ("Record drying"), "lot.dry");
  g_autoptr (BedQuery) q = bed_query_new (
      self->farm, "SELECT id, dried_on, fresh_mass, dried_mass FROM drying WHERE lot = ?1"
                  " ORDER BY dried_on, id");

  bed_query_bind_int (q, 1, self->lot);
  while (bed_query_next (q))
    gtk_box_append (GTK_BOX (list), make_drying_row (self, q));
  if (!gtk_widget_get_first_child (list))
    gtk_box_append (GTK_BOX (list), bed_words_new (_ ("None of it was dried."), "dim-label"));
  gtk_actionable_set_action_target (GTK_ACTIONABLE (dry), "x", (gint64) 0);
  gtk_widget_set_halign (dry, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (list), dry);
  add_trace (self, _ ("Dried"), list, "");
  return bed_query_finish (q, error);
}

static void
bed_lot_detail_class_init (BedLotDetailClass *klass)
{
  gtk_widget_class_install_action (GTK_WIDGET_CLASS (klass), "lot.dry", "x", dry_cb);
  gtk_widget_class_install_action (GTK_WIDGET_CLASS (klass), "lot.undry", "x", undry_cb);
  gtk_widget_class_install_action (GTK_WIDGET_CLASS (klass), "lot.sell", NULL, sell_cb);
}

static void
bed_lot_detail_init (BedLotDetail *self)
{
  self->stack = gtk_stack_new ();
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  /* What is not seen takes no room beside the list. */
  gtk_stack_set_hhomogeneous (GTK_STACK (self->stack), FALSE);
  gtk_stack_set_vhomogeneous (GTK_STACK (self->stack), FALSE);
  bed_stack_add (self->stack, bed_part_new (self->box), "lot");
  bed_part_set_child (BED_PART (self), self->stack);
}

GtkWidget *
bed_lot_detail_new (BedFarm *farm)
{
  BedLotDetail *self = g_object_new (BED_TYPE_LOT_DETAIL, NULL);
  gboolean can = !bed_farm_get_read_only_why (farm);

  self->farm = bed_part_hold (BED_PART (self), farm);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "lot.dry", can);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "lot.undry", can);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "lot.sell", can);
  return GTK_WIDGET (self);
}

gboolean
bed_lot_detail_show (GtkWidget *detail, gint64 lot, GError **error)
{
  BedLotDetail *self = BED_LOT_DETAIL (detail);
  const BedTraceStep *step = bed_trace_find (BED_KIND_LOT, "lot");
  g_autoptr (BedQuery) q = bed_trace_ask (self->farm, step, lot);

  bed_box_clear (self->box);
  if (lot != self->lot)
    gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "lot");
  self->lot = lot;
  if (bed_query_next (q))
    show_head (self, step, q, lot);
  return bed_query_finish (q, error) && show_dryings (self, error)
         && show_forward (self, lot, error) && show_back (self, lot, error);
}
