#include "app/batches/log_view.h"

#include <adwaita.h>
#include <glib/gi18n.h>

#include "app/batches/life_view.h"
#include "app/batches/retire_form.h"
#include "app/desk/care_tables.h"
#include "app/desk/figure_answer.h"
#include "app/desk/page_parts.h"
#include "app/desk/put_right.h"
#include "app/desk/recall_button.h"
#include "app/form/forms.h"
#include "app/host/host.h"
#include "app/paper/paper_dialog.h"
#include "app/widgets/big_figures.h"
#include "app/widgets/build.h"
#include "app/widgets/compat.h"
#include "app/widgets/facts.h"
#include "app/widgets/table.h"
#include "app/widgets/wrap_layout.h"
#include "model/farm/query.h"
#include "model/farm/stage.h"
#include "model/farm/value.h"
#include "model/season/draft.h"

#define LIST_BELOW 12
#define LIST_WIDTH 300 /* px, least */
#define LISTS_BESIDE 4

enum
{
  LIST_PICKS,
  LIST_SOAKS,
  LIST_WEIGHINGS,
  LIST_CHECKS,
  LIST_PLACES,
  N_LISTS,
};

enum
{
  FORM_CHANGE,
  FORM_RETIRE,
  FORM_WEIGH,
  N_FORMS,
};

static const char *const form_names[N_FORMS] = { "change", "retire", "weigh" };

struct _BedLogView
{
  BedPart parent_instance;
  BedFarm *farm;
  gint64 log;
  GtkWidget *stack; /* "read", "change", "retire", "weigh" */
  GtkWidget *back;
  GtkWidget *title;
  GtkWidget *line;
  GtkWidget *change;
  GtkWidget *remove;
  GtkWidget *recall; /* AdwBin */
  GtkWidget *retire;
  GtkWidget *weigh;
  BedLifeView *life;
  GtkWidget *facts; /* AdwBin */
  GtkWidget *figures;
  BedTable *lists[N_LISTS];
  BedForm *forms[N_FORMS];
};

BED_DEFINE_TYPE (BedLogView, bed_log_view, BED_TYPE_PART)

static const BedTableColumn pick_columns[] = {
  { .field = "picked_on", .title = N_ ("Picked on") },
  { .field = "grade", .width = 5 },
  { .field = "mass", .title = N_ ("Mass") },
  { .column = "lot_code", .title = N_ ("Lot") },
  { .field = "since", .from = 460 },
};

static const BedTableSpec pick_table = {
  .label = N_ ("Picks this log shared in"),
  .source = "pick_named",
  .kind = BED_KIND_PICK,
  .columns = pick_columns,
  .n_columns = G_N_ELEMENTS (pick_columns),
  .order = "picked_on DESC, id DESC",
  .empty = N_ ("Nothing picked from it yet"),
};

static const BedTableColumn soak_columns[] = {
  { .field = "code" },
  { .field = "put_in" },
  { .field = "taken_out" },
};

static const BedTableSpec soak_table = {
  .label = N_ ("Soaks of the log"),
  .source = "soak_summary",
  .kind = BED_KIND_SOAK,
  .columns = soak_columns,
  .n_columns = G_N_ELEMENTS (soak_columns),
  .order = "put_in DESC, id DESC",
  .empty = N_ ("Not soaked yet"),
};

static char *
dup_stack (BedFarm *farm, BedRow *row)
{
  return bed_farm_dup_name (farm, BED_KIND_STACK, bed_row_int (row, "stack"));
}

static const BedTableColumn place_columns[] = {
  { .field = "since" },
  { .column = "stack",
    .title = N_ ("Stack"),
    .cell = BED_CELL_CUSTOM,
    .dup_text = dup_stack,
    .order = "(SELECT name FROM stack x WHERE x.id = stack)",
    .width = 10 },
  { .field = "until" },
};

static const BedTableSpec place_table = {
  .label = N_ ("Where the log lay"),
  .source = "place",
  .kind = BED_KIND_PLACE,
  .columns = place_columns,
  .n_columns = G_N_ELEMENTS (place_columns),
  .order = "since DESC, id DESC",
  .kinds = BED_KIND_BIT (BED_KIND_PLACE) | BED_KIND_BIT (BED_KIND_STACK),
  .empty = N_ ("In no stack yet"),
};

/* What each list shows of the log, "%s" being its id. */
static const struct
{
  const char *heading; /* N_() */
  const BedTableSpec *table;
  const char *where;
} lists[N_LISTS] = {
  [LIST_PICKS]
  = { N_ ("Picks it shared in"), &pick_table, "id IN (SELECT pick FROM pick_log WHERE log = %s)" },
  [LIST_SOAKS] = { N_ ("Soaks"), &soak_table, "id IN (SELECT soak FROM soaked WHERE log = %s)" },
  [LIST_WEIGHINGS] = { N_ ("Weighings"), &bed_care_weighings, "log = %s" },
  [LIST_CHECKS] = { N_ ("Checks"), &bed_care_checks, "log = %s" },
  [LIST_PLACES] = { N_ ("Where it lay"), &place_table, "log = %s" },
};

/* --- reading ------------------------------------------------------------------------- */

static char *
dup_line (BedQuery *log)
{
  const char *stage = bed_stage_get_word (bed_stage_from_key (bed_query_text (log, 3)));
  const char *strain = bed_query_text (log, 2), *stack = bed_query_text (log, 4);
  GString *line = g_string_new (bed_query_text (log, 1));

  if (strain)
    g_string_append_printf (line, " · %s", strain);
  g_string_append_printf (line, " · %s", stage);
  if (stack && bed_query_int (log, 7))
    /* Translators: where a log lies: name of the stack, tier, slot. */
    g_string_append_printf (line, _ (" · %s, tier %d, slot %d"), stack,
                            (int) bed_query_int (log, 7), (int) bed_query_int (log, 8));
  else if (stack)
    g_string_append_printf (line, " · %s", stack);
  return g_string_free (line, FALSE);
}

static gboolean
show_figures (BedLogView *self, BedQuery *log, GError **error)
{
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *in = bed_query_text (log, 5) ? g_strndup (bed_query_text (log, 5), 10) : NULL;
  g_autofree char *soaked = in ? bed_date_format (in) : NULL;
  g_autofree char *from = bed_query_text (log, 6) ? bed_date_format (bed_query_text (log, 6))
                                                  : NULL;
  BedFigureAnswers got;

  if (!bed_figures_read_log (self->farm, self->log, &got, error))
    return FALSE;
  BedPageFigure figures[] = {
    bed_figure_answer (self->farm, &got, BED_FIGURE_LOG_PICKED_IN_ALL, texts),
    { soaked, NULL, _ ("Last soaked") },
    { from, NULL, _ ("May be soaked from") },
  };

  bed_big_figures_set (self->figures, figures, G_N_ELEMENTS (figures));
  return TRUE;
}

static gboolean
show_log (gpointer view, GError **error)
{
  BedLogView *self = view;
  g_autoptr (BedRecord) record = bed_farm_load (self->farm, BED_KIND_LOG, self->log, NULL);
  g_autoptr (BedQuery) log
      = bed_query_new (self->farm, "SELECT code, wood_name, strain_name, stage, stack_name,"
                                   " soaked_in, soak_from,"
                                   " tier, slot"
                                   " FROM log_today t WHERE id = ?1");
  gboolean may_write = !bed_farm_get_read_only_why (self->farm);

  bed_query_bind_int (log, 1, self->log);
  if (!record || !bed_query_next (log))
    {
      if (!bed_query_finish (log, error))
        return FALSE;
      /* Undone while it was open. */
      g_signal_emit_by_name (self, "left");
      return TRUE;
    }
  g_autofree char *line = dup_line (log);
  gtk_label_set_label (GTK_LABEL (self->title), bed_query_text (log, 0));
  gtk_label_set_label (GTK_LABEL (self->line), line);
  adw_bin_set_child (ADW_BIN (self->recall), bed_recall_button_new (BED_KIND_LOG, self->log));
  if (!show_figures (self, log, error) || !bed_life_view_show_log (self->life, self->log, error))
    return FALSE;
  adw_bin_set_child (ADW_BIN (self->facts), bed_facts_new (self->farm, record));
  gtk_widget_set_sensitive (self->change, may_write);
  gtk_widget_set_sensitive (self->remove, may_write);
  gtk_widget_set_sensitive (self->weigh, may_write);
  gtk_widget_set_sensitive (self->retire, may_write && !bed_record_has (record, "retired_on"));
  return bed_query_finish (log, error);
}

static void
show_and_say (BedLogView *self)
{
  bed_host_read (self, self->farm, show_log);
}

/* --- doing --------------------------------------------------------------------------- */

static void
show_part (BedLogView *self, const char *name)
{
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), name);
}

/* Where Esc goes back from, whatever may be done here. */
static void
focus_reading (BedLogView *self)
{
  gtk_widget_grab_focus (gtk_widget_get_sensitive (self->change) ? self->change : self->back);
}

static void
change_cb (BedLogView *self)
{
  g_autoptr (BedRecord) record
      = bed_host_load (GTK_WIDGET (self), self->farm, BED_KIND_LOG, self->log);

  if (!record)
    return;
  bed_form_open (self->forms[FORM_CHANGE], record, NULL);
}

static void
remove_cb (BedLogView *self)
{
  bed_host_remove_one (GTK_WIDGET (self), self->farm, BED_KIND_LOG, self->log);
}

static void
retire_cb (BedLogView *self)
{
  g_autoptr (GArray) logs = g_array_new (FALSE, FALSE, sizeof (gint64));

  g_array_append_val (logs, self->log);
  bed_retire_form_begin (self->forms[FORM_RETIRE], logs);
}

static void
weigh_cb (BedLogView *self)
{
  g_autoptr (BedRecord) draft = bed_draft_new (self->farm, BED_KIND_WEIGHING);

  bed_record_set_int (draft, "log", self->log);
  bed_form_open (self->forms[FORM_WEIGH], draft, "mass");
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
  show_and_say (self);
  focus_reading (self);
}

static void
leave_cb (BedLogView *self)
{
  g_signal_emit_by_name (self, "left");
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
bed_log_view_class_init (BedLogViewClass *klass)
{
  gtk_widget_class_add_binding (GTK_WIDGET_CLASS (klass), GDK_KEY_Escape, 0, escape_cb, NULL);

  bed_signal_new (BED_TYPE_LOG_VIEW, "left", 0);
}

static GtkWidget *
add_button (GtkWidget *box, const char *label, GCallback clicked, BedLogView *self)
{
  GtkWidget *button = bed_button_add (box, label, clicked, self);

  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  return button;
}

/* On a small window the buttons stand under the name. */
static GtkWidget *
make_head (BedLogView *self)
{
  GtkWidget *first = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *buttons = bed_wrap_new (6, 6), *head = bed_wrap_new (12, 6);

  self->back = add_button (first, _ ("Back"), G_CALLBACK (leave_cb), self);
  gtk_widget_add_css_class (self->back, "flat");
  self->title = bed_label_new (NULL, "title-2");
  self->line = bed_words_new (NULL, "dim-label");
  gtk_box_append (GTK_BOX (first), self->title);
  self->weigh = add_button (buttons, _ ("Weigh"), G_CALLBACK (weigh_cb), self);
  self->recall = adw_bin_new ();
  gtk_box_append (GTK_BOX (buttons), self->recall);
  add_button (buttons, _ ("Print tag"), G_CALLBACK (print_cb), self);
  self->retire = add_button (buttons, _ ("Retire"), G_CALLBACK (retire_cb), self);
  self->change = add_button (buttons, _ ("Change"), G_CALLBACK (change_cb), self);
  self->remove = add_button (buttons, _ ("Remove"), G_CALLBACK (remove_cb), self);
  gtk_widget_add_css_class (self->remove, "flat");
  gtk_widget_set_halign (buttons, GTK_ALIGN_END);
  gtk_box_append (GTK_BOX (head), first);
  gtk_box_append (GTK_BOX (head), buttons);
  return bed_styled (bed_column_new (0, head, self->line, NULL), "section");
}

static GtkWidget *
make_lists (BedLogView *self)
{
  GtkWidget *box = bed_styled (bed_columns_new (LIST_WIDTH, LISTS_BESIDE), "section");
  GtkWidget *all
      = bed_named (bed_scrolled_new (bed_life_view_get_list (self->life)), _ ("Its life"));

  bed_styled (all, "lines-10");
  gtk_box_append (GTK_BOX (box), bed_section_new (_ ("Its life"), all));
  for (guint i = 0; i < N_LISTS; i++)
    {
      GtkWidget *list
          = GTK_WIDGET (self->lists[i] = bed_table_new_of_one (self->farm, lists[i].table));

      bed_put_right_in (self->lists[i], self->farm, lists[i].table->kind);
      bed_styled (list, "lines-10");
      gtk_widget_set_margin_bottom (list, LIST_BELOW);
      gtk_box_append (GTK_BOX (box), bed_section_new (_ (lists[i].heading), list));
    }
  return box;
}

static GtkWidget *
make_reading (BedLogView *self)
{
  GtkWidget *box;

  self->figures = bed_styled (bed_big_figures_new (), "section");
  self->facts = bed_styled (adw_bin_new (), "section");
  self->life = bed_life_view_new (self->farm);
  gtk_widget_add_css_class (GTK_WIDGET (self->life), "section");
  box = bed_column_new (0, make_head (self), self->figures, GTK_WIDGET (self->life), self->facts,
                        make_lists (self), NULL);
  return bed_named (bed_scrolled_new (box), _ ("The log"));
}

BedLogView *
bed_log_view_new (BedFarm *farm)
{
  BedLogView *self = g_object_new (BED_TYPE_LOG_VIEW, NULL);

  self->farm = bed_part_hold (BED_PART (self), farm);
  self->forms[FORM_CHANGE] = bed_form_new (farm, bed_forms_get_spec (BED_KIND_LOG));
  self->forms[FORM_RETIRE] = bed_retire_form_new (farm);
  self->forms[FORM_WEIGH] = bed_form_new (farm, bed_forms_get_spec (BED_KIND_WEIGHING));
  bed_form_set_then (self->forms[FORM_WEIGH], BED_FORM_THEN_LEAVE);
  self->stack = gtk_stack_new ();
  bed_part_set_child (BED_PART (self), self->stack);
  bed_stack_add (self->stack, bed_part_new (make_reading (self)), "read");
  for (guint i = 0; i < N_FORMS; i++)
    {
      bed_stack_add (self->stack, GTK_WIDGET (self->forms[i]), form_names[i]);
      g_signal_connect_swapped (self->forms[i], "left", G_CALLBACK (form_done_cb), self);
    }
  return self;
}

void
bed_log_view_show (BedLogView *self, gint64 log)
{
  g_return_if_fail (BED_IS_LOG_VIEW (self));
  g_autofree char *id = g_strdup_printf ("%" G_GINT64_FORMAT, log);

  self->log = log;
  for (guint i = 0; i < N_LISTS; i++)
    {
      g_auto (GStrv) parts = g_strsplit (lists[i].where, "%s", 2);
      g_autofree char *where = g_strjoinv (id, parts);

      bed_table_set_where (self->lists[i], where);
    }
  show_part (self, "read");
  show_and_say (self);
  focus_reading (self);
}

gint64
bed_log_view_get_log (BedLogView *self)
{
  g_return_val_if_fail (BED_IS_LOG_VIEW (self), 0);
  return self->log;
}

gboolean
bed_log_view_refresh (BedLogView *self, GError **error)
{
  g_return_val_if_fail (BED_IS_LOG_VIEW (self), FALSE);

  return !self->log || show_log (self, error);
}
