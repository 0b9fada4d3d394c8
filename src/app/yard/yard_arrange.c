#include "app/yard/yard_arrange.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/widgets/build.h"
#include "app/widgets/drop_down.h"
#include "app/yard/yard_apply.h"
#include "model/farm/kinds.h"
#include "model/farm/query.h"
#include "model/farm/say.h"
#include "science/units.h"
#include "yard/arrange.h"
#include "yard/ground.h"
#include "yard/load.h"

#define WAIT 200 /* ms after a key until it is reckoned anew */
#define MOST_LOGS 100000

/* Logs that are still to come, until somebody says: common practice, no source. */
#define USUAL_LENGTH 1000000  /* um */
#define USUAL_DIAMETER 120000 /* um */

/* The choices of logs before the batches. */
enum
{
  WAITING,
  TO_COME,
  N_OTHERS
};

struct _BedYardArrange
{
  BedPart parent_instance;
  BedFarm *farm;
  const BedScene *scene;
  GArray *batches;   /* gint64, in the order they are offered */
  BedGround *within; /* NULL: all of the area */
  BedArrangement *arrangement;
  char *day;   /* NULL: now */
  gint64 area; /* whose aisle is shown */
  guint source;
  GtkWidget *logs, *kind; /* GtkDropDown */
  GtkWidget *number, *length, *diameter, *aisle;
  GtkWidget *sizes; /* of logs to come */
  GtkWidget *where, *all;
  GtkWidget *result, *fault;
  GtkWidget *build;
  gboolean setting;
};

G_DEFINE_FINAL_TYPE (BedYardArrange, bed_yard_arrange, BED_TYPE_PART)

/* --- what is asked for ------------------------------------------------------------ */

static guint
get_logs_choice (BedYardArrange *self)
{
  return gtk_drop_down_get_selected (GTK_DROP_DOWN (self->logs));
}

static const char *
get_text (GtkWidget *entry)
{
  return gtk_editable_get_text (GTK_EDITABLE (entry));
}

/* Empty: 0, for all. */
static gboolean
read_number (BedYardArrange *self, guint *n, GError **error)
{
  guint64 number = 0;
  const char *text = get_text (self->number);

  if (*text && !g_ascii_string_to_unsigned (text, 10, 1, MOST_LOGS, &number, NULL))
    {
      g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID,
                   _ ("How many logs: a number from 1 to %d."), MOST_LOGS);
      return FALSE;
    }
  *n = (guint) number;
  return TRUE;
}

static gboolean
read_length (BedYardArrange *self, GtkWidget *entry, BedMeasure measure, double *metres,
             GError **error)
{
  gint64 um;

  if (!bed_measure_parse (measure, bed_farm_get_notation (self->farm), get_text (entry), &um,
                          error))
    return FALSE;
  *metres = (double) um / 1e6;
  if (*metres > 0.01)
    return TRUE;
  g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID, _ ("“%s” is too little."),
               get_text (entry));
  return FALSE;
}

static GPtrArray *
read_to_come (BedYardArrange *self, guint n, GError **error)
{
  double length, diameter;

  if (!read_length (self, self->length, BED_MEASURE_LENGTH, &length, error)
      || !read_length (self, self->diameter, BED_MEASURE_LENGTH, &diameter, error))
    return NULL;
  if (n == 0)
    {
      g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID, _ ("Say how many logs come."));
      return NULL;
    }
  return bed_arrange_imagine (n, length, diameter);
}

/* At least one, or NULL. */
static GPtrArray *
read_logs (BedYardArrange *self, GError **error)
{
  guint choice = get_logs_choice (self), n;

  if (!read_number (self, &n, error))
    return NULL;
  if (choice == TO_COME)
    return read_to_come (self, n, error);
  gint64 batch = choice < N_OTHERS || choice - N_OTHERS >= self->batches->len
                     ? 0
                     : g_array_index (self->batches, gint64, choice - N_OTHERS);
  g_autoptr (GPtrArray) logs = bed_arrange_read (self->farm, batch, n, error);
  if (logs && logs->len == 0)
    {
      g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID,
                   _ ("Every log lies in a stack already."));
      return NULL;
    }
  return g_steal_pointer (&logs);
}

static BedArrangeWish
make_wish (BedYardArrange *self, const BedYardStack *like, double aisle)
{
  return (BedArrangeWish){ like, self->within, aisle };
}

static BedYardStack *
make_like (BedYardArrange *self)
{
  return bed_yard_stack_new_for (self->farm,
                                 gtk_drop_down_get_selected (GTK_DROP_DOWN (self->kind)));
}

/* --- what comes of it --------------------------------------------------------------- */

static void
say_result (BedYardArrange *self)
{
  const BedArrangement *all = self->arrangement;
  guint placed = all->logs->len - all->left;
  g_autofree char *logs = bed_say (ngettext ("%u log", "%u logs", placed), placed);
  g_autofree char *stacks
      = bed_say (ngettext ("%u stack", "%u stacks", all->stacks->len), all->stacks->len);
  guint more = all->n_places - all->stacks->len;
  /* TRANSLATORS: "48 logs" in "2 stacks"; then how many more stacks, and logs */
  g_autofree char *text = bed_say (ngettext ("%s in %s. Room for %u stack more, %u logs.",
                                             "%s in %s. Room for %u stacks more, %u logs.", more),
                                   logs, stacks, more, more * all->holds);
  g_autofree char *left = all->left
                              ? bed_say (ngettext ("There is no room for %u log.",
                                                   "There is no room for %u logs.", all->left),
                                         all->left)
                              : g_strdup ("");
  gtk_label_set_label (GTK_LABEL (self->result), text);
  gtk_label_set_label (GTK_LABEL (self->fault), left);
}

static BedArrangement *
reckon (BedYardArrange *self, GError **error)
{
  g_autoptr (BedYardStack) like = make_like (self);
  double aisle;

  if (!read_length (self, self->aisle, BED_MEASURE_LENGTH_LONG, &aisle, error))
    return NULL;
  GPtrArray *logs = read_logs (self, error);
  BedArrangeWish wish = make_wish (self, like, aisle);
  return logs ? bed_arrange (self->scene, &wish, logs) : NULL;
}

static gboolean
reckon_cb (gpointer data)
{
  BedYardArrange *self = data;
  g_autoptr (GError) error = NULL;

  self->source = 0;
  g_clear_pointer (&self->arrangement, bed_arrangement_free);
  if (!self->scene)
    return G_SOURCE_REMOVE;
  self->arrangement = reckon (self, &error);
  if (self->arrangement)
    say_result (self);
  else
    {
      gtk_label_set_label (GTK_LABEL (self->result), "");
      gtk_label_set_label (GTK_LABEL (self->fault), error->message);
    }
  gtk_widget_set_sensitive (self->build, self->arrangement && self->arrangement->stacks->len > 0);
  return G_SOURCE_REMOVE;
}

static void
reckon_soon (BedYardArrange *self)
{
  if (self->setting)
    return;
  gtk_widget_set_visible (self->sizes, get_logs_choice (self) == TO_COME);
  if (!self->source)
    self->source = g_timeout_add (WAIT, reckon_cb, self);
}

/* What was reckoned a moment ago may be of other numbers. */
static void
build_cb (BedYardArrange *self)
{
  g_autoptr (BedYardStack) like = make_like (self);
  g_autoptr (GArray) made = NULL;
  g_autoptr (GError) error = NULL;

  g_clear_handle_id (&self->source, g_source_remove);
  reckon_cb (self);
  if (!self->scene || !self->arrangement || self->arrangement->stacks->len == 0)
    return;
  BedArrangeWish wish = make_wish (self, like, 0);
  BedYardChange *change = bed_arrange_put (self->farm, self->scene->yard->id, self->day, &wish,
                                           self->arrangement, &made, &error);
  if (bed_yard_apply (GTK_WIDGET (self), change, &error))
    g_signal_emit_by_name (self, "arranged", made);
}

/* --- where -------------------------------------------------------------------------- */

static void
free_outline (BedYardArrange *self)
{
  if (self->within)
    g_array_unref (self->within->points);
  g_clear_pointer (&self->within, g_free);
}

static void
show_where (BedYardArrange *self)
{
  gtk_label_set_label (GTK_LABEL (self->where), self->within ? _ ("In the outline that was drawn")
                                                             : _ ("In all of the area"));
  gtk_widget_set_visible (self->all, self->within != NULL);
  reckon_soon (self);
}

static void
draw_cb (BedYardArrange *self)
{
  g_signal_emit_by_name (self, "outline");
}

static void
all_cb (BedYardArrange *self)
{
  bed_yard_arrange_set_outline (self, NULL);
}

/* --- what is offered ------------------------------------------------------------------ */

static void
offer (GtkStringList *words, const char *name, gint64 logs)
{
  g_autofree char *text
      = bed_say (ngettext ("%s · %u log", "%s · %u logs", (gulong) logs), name, (guint) logs);

  gtk_string_list_append (words, text);
}

/* The youngest batches first. */
static gboolean
fill_logs (BedYardArrange *self, GError **error)
{
  GtkStringList *words = gtk_string_list_new (NULL);
  guint chosen = get_logs_choice (self);
  gint64 batch = chosen != GTK_INVALID_LIST_POSITION && chosen >= N_OTHERS
                     ? g_array_index (self->batches, gint64, chosen - N_OTHERS)
                     : 0;
  g_autoptr (BedQuery) q
      = bed_query_new (self->farm, "SELECT 0, NULL, count (*) FROM log_waiting UNION ALL"
                                   " SELECT * FROM (SELECT b.id, b.code, count (*) FROM batch b"
                                   "  JOIN log l ON l.batch = b.id"
                                   "  WHERE bed_alive (l.retired_on, bed_today ()) GROUP BY b.id"
                                   "  ORDER BY b.inoculated_on DESC, b.code LIMIT 200)");

  gboolean first = chosen == GTK_INVALID_LIST_POSITION;

  g_array_set_size (self->batches, 0);
  if (first || batch)
    chosen = WAITING;
  while (bed_query_next (q))
    {
      gint64 id = bed_query_int (q, 0);
      offer (words, id ? bed_query_text (q, 1) : _ ("Waiting"), bed_query_int (q, 2));
      if (!id)
        gtk_string_list_append (words, _ ("Still to come"));
      else
        g_array_append_val (self->batches, id);
      if (id && id == batch)
        chosen = N_OTHERS + self->batches->len - 1;
      first = first && (id || bed_query_int (q, 2) == 0);
    }
  if (first && self->batches->len > 0) /* none waits: rather a batch */
    chosen = N_OTHERS;
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->logs), G_LIST_MODEL (words));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->logs), chosen);
  g_object_unref (words);
  return bed_query_finish (q, error);
}

static void
set_length (BedYardArrange *self, GtkWidget *entry, BedMeasure measure, gint64 um)
{
  g_autofree char *text = bed_measure_format_unit_rounded (
      measure, bed_farm_get_notation (self->farm), measure == BED_MEASURE_LENGTH_LONG ? 2 : 0, um);

  gtk_editable_set_text (GTK_EDITABLE (entry), text);
}

/* --- building -------------------------------------------------------------------------- */

static GtkWidget *
drop_down_new (BedYardArrange *self, const char *name)
{
  GtkWidget *drop_down = bed_drop_down_new (NULL, name);

  gtk_widget_set_hexpand (drop_down, TRUE);
  g_signal_connect_object (drop_down, "notify::selected", G_CALLBACK (reckon_soon), self,
                           G_CONNECT_SWAPPED);
  return drop_down;
}

static GtkWidget *
entry_new (BedYardArrange *self, const char *name)
{
  GtkWidget *entry = bed_named (gtk_entry_new (), name);

  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 8);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (entry), 8);
  g_signal_connect_object (entry, "changed", G_CALLBACK (reckon_soon), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (entry, "activate", G_CALLBACK (build_cb), self, G_CONNECT_SWAPPED);
  return entry;
}

static GtkWidget *
named_row (const char *name, GtkWidget *field)
{
  GtkWidget *label = bed_label_new (name, NULL);

  gtk_widget_set_hexpand (label, TRUE);
  return bed_row_new (12, label, field, NULL);
}

static void
fill_kinds (BedYardArrange *self)
{
  const BedField *field = bed_kind_find_field (BED_KIND_STACK, "kind", NULL);
  GtkStringList *words = gtk_string_list_new (NULL);

  for (guint i = 0; i < BED_N_STACKS; i++)
    gtk_string_list_append (words, bed_field_choice_label (field, bed_stack_kind_key (i)));
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->kind), G_LIST_MODEL (words));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->kind), BED_STACK_CRIB);
  g_object_unref (words);
}

static GtkWidget *
make_logs (BedYardArrange *self)
{
  self->logs = drop_down_new (self, _ ("Which logs"));
  self->number = entry_new (self, _ ("How many"));
  bed_entry_hint (self->number, _ ("all"));
  self->length = entry_new (self, _ ("Length"));
  self->diameter = entry_new (self, _ ("Diameter"));
  set_length (self, self->length, BED_MEASURE_LENGTH, USUAL_LENGTH);
  set_length (self, self->diameter, BED_MEASURE_LENGTH, USUAL_DIAMETER);
  self->sizes = bed_column_new (6, named_row (_ ("Length"), self->length),
                                named_row (_ ("Diameter"), self->diameter), NULL);
  return bed_column_new (6, bed_words_new (_ ("Which logs"), "heading"), self->logs,
                         named_row (_ ("How many"), self->number), self->sizes, NULL);
}

static GtkWidget *
make_places (BedYardArrange *self)
{
  self->kind = drop_down_new (self, _ ("Kind of stack"));
  self->aisle = entry_new (self, _ ("Aisle"));
  self->where = bed_words_new (NULL, NULL);
  self->all = bed_button_new (_ ("All of it"), G_CALLBACK (all_cb), self);
  GtkWidget *draw = bed_button_new (_ ("Draw where…"), G_CALLBACK (draw_cb), self);
  GtkWidget *buttons = bed_row_new (6, draw, self->all, NULL);
  gtk_box_set_homogeneous (GTK_BOX (buttons), TRUE);
  fill_kinds (self);
  return bed_column_new (6, bed_words_new (_ ("In what, and where"), "heading"), self->kind,
                         named_row (_ ("Aisle"), self->aisle), self->where, buttons, NULL);
}

static void
bed_yard_arrange_dispose (GObject *object)
{
  BedYardArrange *self = BED_YARD_ARRANGE (object);

  g_clear_handle_id (&self->source, g_source_remove);
  g_clear_pointer (&self->arrangement, bed_arrangement_free);
  free_outline (self);
  G_OBJECT_CLASS (bed_yard_arrange_parent_class)->dispose (object);
}

static void
bed_yard_arrange_finalize (GObject *object)
{
  g_array_unref (BED_YARD_ARRANGE (object)->batches);
  g_free (BED_YARD_ARRANGE (object)->day);
  G_OBJECT_CLASS (bed_yard_arrange_parent_class)->finalize (object);
}

static void
bed_yard_arrange_class_init (BedYardArrangeClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = bed_yard_arrange_dispose;
  G_OBJECT_CLASS (klass)->finalize = bed_yard_arrange_finalize;
  bed_signal_new (BED_TYPE_YARD_ARRANGE, "outline", 0);
  bed_signal_new (BED_TYPE_YARD_ARRANGE, "arranged", 1, G_TYPE_POINTER);
}

static void
bed_yard_arrange_init (BedYardArrange *self)
{
  self->batches = g_array_new (FALSE, FALSE, sizeof (gint64));
}

/* --- public ------------------------------------------------------------------------------ */

GtkWidget *
bed_yard_arrange_new (BedFarm *farm)
{
  BedYardArrange *self = g_object_new (BED_TYPE_YARD_ARRANGE, NULL);

  self->setting = TRUE;
  self->farm = bed_part_hold (BED_PART (self), farm);
  self->result = bed_styled (bed_words_new (NULL, NULL), "numeric");
  self->fault = bed_words_new (NULL, "error");
  self->build = bed_styled (bed_button_new (_ ("Arrange"), G_CALLBACK (build_cb), self),
                            "suggested-action");
  GtkWidget *logs = make_logs (self), *places = make_places (self);
  GtkWidget *back = bed_action_button_new (_ ("Back"), "yard.page");
  gtk_actionable_set_action_target (GTK_ACTIONABLE (back), "s", "back");
  GtkWidget *buttons = bed_row_new (6, back, self->build, NULL);
  gtk_box_set_homogeneous (GTK_BOX (buttons), TRUE);
  bed_part_set_child (
      BED_PART (self),
      bed_scrolled_new (bed_column_new (12, bed_words_new (_ ("Arrange for me"), "title-3"), logs,
                                        places, self->result, self->fault, buttons, NULL)));
  self->setting = FALSE;
  show_where (self);
  return GTK_WIDGET (self);
}

gboolean
bed_yard_arrange_show (BedYardArrange *self, const BedScene *scene, GError **error)
{
  g_return_val_if_fail (BED_IS_YARD_ARRANGE (self), FALSE);
  self->scene = scene;
  if (!scene)
    return TRUE;
  self->setting = TRUE;
  if (scene->yard->id != self->area)
    {
      set_length (self, self->aisle, BED_MEASURE_LENGTH_LONG, llround (scene->yard->aisle * 1e6));
      free_outline (self);
      self->area = scene->yard->id;
    }
  gboolean well = fill_logs (self, error);
  self->setting = FALSE;
  show_where (self);
  return well;
}

void
bed_yard_arrange_set_outline (BedYardArrange *self, const BedGround *outline)
{
  g_return_if_fail (BED_IS_YARD_ARRANGE (self));
  free_outline (self);
  if (outline)
    {
      self->within = g_new0 (BedGround, 1);
      bed_ground_copy (self->within, outline);
    }
  show_where (self);
}

void
bed_yard_arrange_set_day (BedYardArrange *self, const char *day)
{
  g_return_if_fail (BED_IS_YARD_ARRANGE (self));
  char *copy = g_strdup (day); /* it may be the same text */
  g_free (self->day);
  self->day = copy;
}
