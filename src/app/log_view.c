#include "app/log_view.h"

#include <adwaita.h>
#include <glib/gi18n.h>

#include "app/compat.h"
#include "app/facts.h"
#include "app/figures.h"
#include "app/forms.h"
#include "app/paper_dialog.h"
#include "app/table.h"
#include "model/query.h"
#include "model/value.h"

struct _BedLogView
{
  GtkWidget parent_instance;
  BedFarm *farm;
  gint64 log;
  GtkWidget *stack; /* "read", "form" */
  GtkWidget *title;
  GtkWidget *line;
  GtkWidget *change;
  GtkWidget *retire;
  GtkWidget *facts; /* AdwBin */
  BedFigures *figures;
  BedTable *picks;
  BedForm *form;
};

enum
{
  LEFT,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (BedLogView, bed_log_view, GTK_TYPE_WIDGET)

static const BedColumn pick_columns[] = {
  { .column = "picked_on", .title = N_ ("Picked"), .cell = BED_CELL_DATE },
  { .column = "grade", .title = N_ ("Grade"), .cell = BED_CELL_CHOICE, .kind = BED_KIND_PICK,
    .width = 5 },
  { .column = "mass", .title = N_ ("Mass"), .cell = BED_CELL_MEASURE,
    .measure = BED_MEASURE_MASS_FINE, .decimals = 0 },
  { .column = "lot_code", .title = N_ ("Lot"), .cell = BED_CELL_TEXT },
  { .column = "from_what", .title = N_ ("From"), .cell = BED_CELL_TEXT },
};

static const BedTableSpec pick_table = {
  .label = N_ ("Picks this log shared in"),
  .source = "pick_named",
  .columns = pick_columns,
  .n_columns = G_N_ELEMENTS (pick_columns),
  .order = "picked_on DESC, id DESC",
  .search = "coalesce (lot_code, '')",
  .empty = N_ ("Nothing picked from it yet"),
};

/* --- reading ------------------------------------------------------------------------- */

static char *
dup_line (BedQuery *log)
{
  GString *line = g_string_new (bed_query_text (log, 1));
  static const int columns[] = { 2, 3, 4 }; /* strain, stage, stack */

  for (guint i = 0; i < G_N_ELEMENTS (columns); i++)
    if (bed_query_text (log, columns[i]))
      g_string_append_printf (line, " · %s", bed_query_text (log, columns[i]));
  return g_string_free (line, FALSE);
}

static void
show_figures (BedLogView *self, BedQuery *log)
{
  const BedNotation *notation = bed_farm_get_notation (self->farm);
  g_autofree char *mass = bed_measure_format_rounded (BED_MEASURE_MASS, notation, 2,
                                                      (gint64) bed_query_real (log, 5));
  g_autofree char *in = bed_query_text (log, 6) ? g_strndup (bed_query_text (log, 6), 10) : NULL;
  g_autofree char *soaked = in ? bed_date_format (in) : NULL;
  g_autofree char *from = bed_query_text (log, 7) ? bed_date_format (bed_query_text (log, 7))
                                                  : NULL;
  BedFigure figures[] = {
    { mass, bed_measure_unit (BED_MEASURE_MASS, notation->system), _ ("picked, its share") },
    { soaked, NULL, _ ("last soaked") },
    { from, NULL, _ ("may be soaked from") },
  };

  bed_figures_set (self->figures, figures, G_N_ELEMENTS (figures));
}

static void
show_log (BedLogView *self)
{
  g_autoptr (BedRecord) record = bed_farm_load (self->farm, BED_KIND_LOG, self->log, NULL);
  g_autoptr (BedQuery) log = bed_query_new (
      self->farm, "SELECT code, wood_name, strain_name, stage, stack_name,"
                  " (SELECT sum (mass) FROM pick_log p WHERE p.log = t.id), soaked_in, soak_from"
                  " FROM log_today t WHERE id = ?1");
  gboolean may_write = !bed_farm_get_read_only_why (self->farm);

  bed_query_bind_int (log, 1, self->log);
  if (!record || !bed_query_next (log))
    {
      /* Undone while it was open. */
      g_signal_emit (self, signals[LEFT], 0);
      return;
    }
  g_autofree char *line = dup_line (log);
  gtk_label_set_label (GTK_LABEL (self->title), bed_query_text (log, 0));
  gtk_label_set_label (GTK_LABEL (self->line), line);
  show_figures (self, log);
  adw_bin_set_child (ADW_BIN (self->facts), bed_facts_new (self->farm, record));
  gtk_widget_set_sensitive (self->change, may_write);
  gtk_widget_set_sensitive (self->retire,
                            may_write && !bed_record_has (record, "retired_on"));
}

/* --- doing --------------------------------------------------------------------------- */

static void
show_part (BedLogView *self, const char *name)
{
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), name);
}

static void
change_cb (BedLogView *self)
{
  g_autoptr (BedRecord) record = bed_farm_load (self->farm, BED_KIND_LOG, self->log, NULL);

  if (!record)
    return;
  bed_form_edit (self->form, record);
  show_part (self, "form");
  bed_form_focus (self->form, NULL);
}

static void
retire_cb (BedLogView *self)
{
  g_autofree char *today = bed_date_format (bed_farm_get_today (self->farm));

  change_cb (self);
  bed_form_set_text (self->form, "retired_on", today);
  bed_form_focus (self->form, "retired_why");
}

static void
print_cb (BedLogView *self)
{
  BedPrintOffer offer = { BED_PRINT_TAG, self->log };

  bed_paper_dialog_show (GTK_WIDGET (self), self->farm, &offer, 1);
}

static void
form_done_cb (BedLogView *self)
{
  show_part (self, "read");
  show_log (self);
  gtk_widget_grab_focus (self->change);
}

static void
leave_cb (BedLogView *self)
{
  g_signal_emit (self, signals[LEFT], 0);
}

static gboolean
escape_cb (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  BedLogView *self = BED_LOG_VIEW (widget);

  /* In the form Esc is the form's own. */
  if (g_strcmp0 (gtk_stack_get_visible_child_name (GTK_STACK (self->stack)), "read") != 0)
    return FALSE;
  leave_cb (self);
  return TRUE;
}

/* --- widget -------------------------------------------------------------------------- */

static void
bed_log_view_dispose (GObject *object)
{
  BedLogView *self = BED_LOG_VIEW (object);

  g_clear_pointer (&self->stack, gtk_widget_unparent);
  g_clear_object (&self->farm);
  G_OBJECT_CLASS (bed_log_view_parent_class)->dispose (object);
}

static void
bed_log_view_class_init (BedLogViewClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = bed_log_view_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_add_binding (GTK_WIDGET_CLASS (klass), GDK_KEY_Escape, 0, escape_cb, NULL);

  signals[LEFT] = g_signal_new ("left", BED_TYPE_LOG_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                G_TYPE_NONE, 0);
}

static void
bed_log_view_init (BedLogView *self)
{
  self->stack = gtk_stack_new ();
  gtk_widget_set_parent (self->stack, GTK_WIDGET (self));
}

static GtkWidget *
add_button (GtkWidget *box, const char *label, GCallback clicked, BedLogView *self)
{
  GtkWidget *button = gtk_button_new_with_label (label);

  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  g_signal_connect_swapped (button, "clicked", clicked, self);
  gtk_box_append (GTK_BOX (box), button);
  return button;
}

static GtkWidget *
make_head (BedLogView *self)
{
  GtkWidget *head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  gtk_widget_add_css_class (add_button (head, _ ("Back"), G_CALLBACK (leave_cb), self), "flat");
  self->title = gtk_label_new (NULL);
  self->line = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (self->title), 0);
  gtk_label_set_xalign (GTK_LABEL (self->line), 0);
  gtk_label_set_ellipsize (GTK_LABEL (self->line), PANGO_ELLIPSIZE_END);
  gtk_widget_add_css_class (self->title, "title-2");
  gtk_widget_add_css_class (self->line, "dim-label");
  gtk_widget_set_hexpand (words, TRUE);
  gtk_box_append (GTK_BOX (words), self->title);
  gtk_box_append (GTK_BOX (words), self->line);
  gtk_box_append (GTK_BOX (head), words);
  add_button (head, _ ("Print tag"), G_CALLBACK (print_cb), self);
  self->retire = add_button (head, _ ("Retire"), G_CALLBACK (retire_cb), self);
  self->change = add_button (head, _ ("Change"), G_CALLBACK (change_cb), self);
  gtk_widget_add_css_class (head, "section");
  return head;
}

static GtkWidget *
make_reading (BedLogView *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  self->figures = bed_figures_new ();
  self->facts = adw_bin_new ();
  self->picks = bed_table_new (self->farm, &pick_table);
  gtk_widget_add_css_class (GTK_WIDGET (self->figures), "section");
  gtk_widget_add_css_class (self->facts, "section");
  gtk_widget_set_vexpand (GTK_WIDGET (self->picks), TRUE);
  gtk_box_append (GTK_BOX (box), make_head (self));
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->figures));
  gtk_box_append (GTK_BOX (box), self->facts);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->picks));
  return box;
}

BedLogView *
bed_log_view_new (BedFarm *farm)
{
  BedLogView *self = g_object_new (BED_TYPE_LOG_VIEW, NULL);

  self->farm = g_object_ref (farm);
  self->form = bed_form_new (farm, bed_forms_get_spec (BED_KIND_LOG));
  gtk_stack_add_named (GTK_STACK (self->stack), make_reading (self), "read");
  gtk_stack_add_named (GTK_STACK (self->stack), GTK_WIDGET (self->form), "form");
  for (GtkWidget *child = gtk_widget_get_first_child (self->stack); child;
       child = gtk_widget_get_next_sibling (child))
    bed_hide_unseen (child);
  g_signal_connect_swapped (self->form, "saved", G_CALLBACK (form_done_cb), self);
  g_signal_connect_swapped (self->form, "left", G_CALLBACK (form_done_cb), self);
  return self;
}

void
bed_log_view_show (BedLogView *self, gint64 log)
{
  g_return_if_fail (BED_IS_LOG_VIEW (self));
  g_autofree char *its_picks = g_strdup_printf (
      "id IN (SELECT pick FROM pick_log WHERE log = %" G_GINT64_FORMAT ")", log);

  self->log = log;
  bed_table_set_where (self->picks, its_picks);
  show_part (self, "read");
  show_log (self);
  gtk_widget_grab_focus (self->change);
}

gint64
bed_log_view_get_log (BedLogView *self)
{
  g_return_val_if_fail (BED_IS_LOG_VIEW (self), 0);
  return self->log;
}

void
bed_log_view_refresh (BedLogView *self)
{
  g_return_if_fail (BED_IS_LOG_VIEW (self));

  if (self->log)
    show_log (self);
}

gboolean
bed_log_view_has_typing (BedLogView *self)
{
  g_return_val_if_fail (BED_IS_LOG_VIEW (self), FALSE);
  return bed_form_has_typing (self->form);
}
