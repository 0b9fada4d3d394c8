#include "app/yard/yard_plan.h"

#include <glib/gi18n.h>

#include "app/host/host.h"
#include "app/widgets/build.h"
#include "app/widgets/wrap_layout.h"
#include "app/yard/yard_apply.h"
#include "model/farm/say.h"
#include "model/farm/value.h"
#include "science/language.h"

#define DAYS_AHEAD 7 /* the day until somebody names one */

struct _BedYardPlan
{
  BedPart parent_instance;
  BedFarm *farm;
  char *day;
  BedPlannedDay *draft;
  GtkWidget *entry;
  GtkWidget *words; /* how much is planned */
  GtkWidget *list;  /* GtkBox, filled anew */
  GtkWidget *all;   /* ticks or unticks every one */
  GtkWidget *deeds; /* what takes a plan */
};

G_DEFINE_FINAL_TYPE (BedYardPlan, bed_yard_plan, BED_TYPE_PART)

/* --- the day ---------------------------------------------------------------------- */

static void
show_day (BedYardPlan *self)
{
  g_autofree char *text = bed_date_format (self->day);

  gtk_editable_set_text (GTK_EDITABLE (self->entry), text);
}

static void
day_cb (BedYardPlan *self)
{
  const char *today = bed_farm_get_today (self->farm);
  g_autoptr (GError) error = NULL;
  g_autofree char *day
      = bed_date_parse (gtk_editable_get_text (GTK_EDITABLE (self->entry)), today, &error);

  if (day && strcmp (day, today) < 0)
    g_set_error (&error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID,
                 _ ("That day is over: a plan is for today or a day to come."));
  if (error)
    {
      bed_host_say_error (GTK_WIDGET (self), error);
      show_day (self);
      return;
    }
  g_free (self->day);
  self->day = g_steal_pointer (&day);
  show_day (self);
  g_signal_emit_by_name (self, "day");
}

/* --- the moves ---------------------------------------------------------------------- */

static GtkWidget *
move_new (BedYardPlan *self, const BedPlannedMove *move)
{
  g_autofree char *from = bed_planned_dup_spot (self->draft, &move->from);
  g_autofree char *to = bed_planned_dup_spot (self->draft, &move->to);
  g_autofree char *way = g_strdup_printf ("%s → %s", from, to);
  g_autofree char *trouble = bed_planned_dup_trouble (move);
  g_autofree char *name = bed_dup_labelled (move->code, way);
  GtkWidget *tick = bed_named (gtk_check_button_new (), name);
  GtkWidget *text = bed_column_new (0, bed_label_new (move->code, "numeric"),
                                    bed_words_new (way, "caption"), NULL);

  if (trouble)
    gtk_box_append (GTK_BOX (text), bed_words_new (trouble, "error"));
  gtk_widget_set_hexpand (text, TRUE);
  gtk_widget_set_valign (tick, GTK_ALIGN_START);
  gtk_widget_set_sensitive (tick, move->state == BED_PLANNED_READY);
  g_object_set_data_full (G_OBJECT (tick), "move", g_memdup2 (&move->id, sizeof move->id), g_free);
  return bed_row_new (6, tick, text, NULL);
}

/* The tick of a row. */
static GtkCheckButton *
get_tick (GtkWidget *row)
{
  return GTK_CHECK_BUTTON (gtk_widget_get_first_child (row));
}

static void
all_cb (BedYardPlan *self)
{
  gboolean on = gtk_check_button_get_active (GTK_CHECK_BUTTON (self->all));

  for (GtkWidget *row = gtk_widget_get_first_child (self->list); row;
       row = gtk_widget_get_next_sibling (row))
    if (gtk_widget_get_sensitive (GTK_WIDGET (get_tick (row))))
      gtk_check_button_set_active (get_tick (row), on);
}

/* Stacks may be planned that nothing goes into yet. */
static gboolean
is_any_planned (const BedPlannedDay *draft)
{
  GHashTableIter all;
  gpointer stack;

  g_hash_table_iter_init (&all, draft->names);
  while (g_hash_table_iter_next (&all, &stack, NULL))
    if (*(gint64 *) stack < 0)
      return TRUE;
  return draft->moves->len > 0;
}

static void
fill (BedYardPlan *self)
{
  const GPtrArray *moves = self->draft->moves;
  g_autofree char *planned
      = moves->len ? bed_say (ngettext ("%u log is to be moved, in this order:",
                                        "%u logs are to be moved, in this order:", moves->len),
                              moves->len)
                   : g_strdup (
                       _ ("Nothing is planned for that day. The map shows it: drag stacks to where "
                          "they are to stand then, or let logs be arranged."));

  gtk_label_set_label (GTK_LABEL (self->words), planned);
  bed_box_clear (self->list);
  for (guint i = 0; i < moves->len; i++)
    gtk_box_append (GTK_BOX (self->list), move_new (self, moves->pdata[i]));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->all), FALSE);
  gtk_widget_set_visible (self->all, moves->len > 0);
  gtk_widget_set_sensitive (self->deeds, is_any_planned (self->draft));
}

/* --- what is done ---------------------------------------------------------------------- */

static GArray *
list_ticked (BedYardPlan *self)
{
  GArray *ids = g_array_new (FALSE, FALSE, sizeof (gint64));

  for (GtkWidget *row = gtk_widget_get_first_child (self->list); row;
       row = gtk_widget_get_next_sibling (row))
    if (gtk_check_button_get_active (get_tick (row)))
      g_array_append_vals (ids, g_object_get_data (G_OBJECT (get_tick (row)), "move"), 1);
  return ids;
}

static void
carry_out_cb (BedYardPlan *self)
{
  g_autoptr (GArray) ids = list_ticked (self);
  g_autoptr (GError) error = NULL;

  if (ids->len == 0)
    bed_host_say (GTK_WIDGET (self), _ ("Tick what was moved, or all of it."));
  else
    bed_yard_apply (GTK_WIDGET (self), bed_planned_carry_out (self->farm, self->draft, ids, &error),
                    &error);
}

static void
forget_cb (BedYardPlan *self)
{
  g_autoptr (GError) error = NULL;

  bed_yard_apply (GTK_WIDGET (self), bed_planned_forget (self->farm, self->day, &error), &error);
}

/* --- building ---------------------------------------------------------------------------- */

static void
bed_yard_plan_finalize (GObject *object)
{
  BedYardPlan *self = BED_YARD_PLAN (object);

  g_free (self->day);
  g_clear_pointer (&self->draft, bed_planned_free);
  G_OBJECT_CLASS (bed_yard_plan_parent_class)->finalize (object);
}

static void
bed_yard_plan_class_init (BedYardPlanClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = bed_yard_plan_finalize;
  bed_signal_new (BED_TYPE_YARD_PLAN, "day", 0);
}

static void
bed_yard_plan_init (BedYardPlan *self)
{
}

static GtkWidget *
go_new (const char *label, const char *page)
{
  GtkWidget *button = bed_action_button_new (label, "yard.page");

  gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "s", page);
  return button;
}

static GtkWidget *
pair_new (GtkWidget *one, GtkWidget *other)
{
  GtkWidget *row = bed_wrap_new (6, 6);

  gtk_box_append (GTK_BOX (row), one);
  gtk_box_append (GTK_BOX (row), other);
  return row;
}

static GtkWidget *
make_deeds (BedYardPlan *self)
{
  GtkWidget *carry = bed_styled (bed_button_new (_ ("Carry out"), G_CALLBACK (carry_out_cb), self),
                                 "suggested-action");

  self->deeds = bed_column_new (
      6, pair_new (bed_action_button_new (_ ("Print…"), "win.print"), carry),
      bed_button_new (_ ("Discard the plan"), G_CALLBACK (forget_cb), self), NULL);
  return self->deeds;
}

GtkWidget *
bed_yard_plan_new (BedFarm *farm)
{
  BedYardPlan *self = g_object_new (BED_TYPE_YARD_PLAN, NULL);

  self->farm = bed_part_hold (BED_PART (self), farm);
  self->entry = bed_named (gtk_entry_new (), _ ("Plan for"));
  gtk_editable_set_width_chars (GTK_EDITABLE (self->entry), 12);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (self->entry), 12);
  gtk_widget_set_hexpand (self->entry, TRUE);
  g_signal_connect_object (self->entry, "activate", G_CALLBACK (day_cb), self, G_CONNECT_SWAPPED);
  self->words = bed_words_new (NULL, NULL);
  self->all = gtk_check_button_new_with_label (_ ("All"));
  g_signal_connect_object (self->all, "toggled", G_CALLBACK (all_cb), self, G_CONNECT_SWAPPED);
  self->list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *scroller = bed_scrolled_new (self->list);
  gtk_widget_set_vexpand (scroller, TRUE);
  bed_part_set_child (
      BED_PART (self),
      bed_column_new (
          9, bed_words_new (_ ("Plan"), "title-3"),
          bed_row_new (6, bed_label_new (_ ("Planned for"), NULL), self->entry, NULL), self->words,
          self->all, scroller, make_deeds (self),
          pair_new (go_new (_ ("Today"), "none"), go_new (_ ("Arrange for me…"), "arrange")),
          NULL));
  return GTK_WIDGET (self);
}

/* --- public ------------------------------------------------------------------------------- */

const char *
bed_yard_plan_get_day (BedYardPlan *self)
{
  g_return_val_if_fail (BED_IS_YARD_PLAN (self), NULL);
  const char *today = bed_farm_get_today (self->farm);

  if (!self->day)
    self->day = bed_planned_dup_day (self->farm, NULL);
  if (!self->day)
    self->day = bed_date_add (today, DAYS_AHEAD);
  return self->day;
}

gboolean
bed_yard_plan_show (BedYardPlan *self, GError **error)
{
  g_return_val_if_fail (BED_IS_YARD_PLAN (self), FALSE);
  BedPlannedDay *draft = bed_planned_read (self->farm, bed_yard_plan_get_day (self), error);

  if (!draft)
    return FALSE;
  g_clear_pointer (&self->draft, bed_planned_free);
  self->draft = draft;
  show_day (self);
  fill (self);
  return TRUE;
}
