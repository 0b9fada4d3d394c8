#include "app/week/first_steps.h"

#include <glib/gi18n.h>

#include "app/desk/page_parts.h"
#include "app/host/host.h"
#include "model/farm/query.h"
#include "model/season/draft.h"

/* A step: whether it is done, and the form of what it makes; without one the page where that is
 * done by hand. What later steps need was done, too, in a farm that came in from a sheet. */
static const struct
{
  const char *title; /* N_() */
  const char *text;  /* N_() */
  const char *verb;  /* N_() */
  const char *done;  /* SQL, a number */
  BedKind kind;
  const char *page;
} steps[] = {
  { N_ ("Record the felling"), N_ ("The trees the bolts are cut from: which wood, when, how many."),
    N_ ("New felling"), "SELECT EXISTS (SELECT 1 FROM felling)", BED_KIND_FELLING, NULL },
  { N_ ("Bring the spawn in"), N_ ("Its strain, how much of it, and until when it is good."),
    N_ ("New spawn lot"), "SELECT EXISTS (SELECT 1 FROM spawn) OR EXISTS (SELECT 1 FROM batch)",
    BED_KIND_SPAWN, NULL },
  { N_ ("Inoculate a batch"),
    N_ ("One pattern, one spawn, then a diameter and Enter for each log."), N_ ("New batch"),
    "SELECT EXISTS (SELECT 1 FROM batch)", BED_KIND_BATCH, NULL },
  { N_ ("Give the logs a place"),
    N_ ("Draw the yard once, put a stack in it and the logs on the stack."), N_ ("Go to the yard"),
    "SELECT EXISTS (SELECT 1 FROM place)", BED_N_KINDS, "yard" },
  { N_ ("Soak for the first time"),
    N_ ("After the spawn run, a year or so. Logs that fruit by themselves need none."),
    N_ ("Record soak"), "SELECT EXISTS (SELECT 1 FROM soak) OR EXISTS (SELECT 1 FROM pick)",
    BED_KIND_SOAK, NULL },
  { N_ ("Pick"), N_ ("From what, how heavy: one line each."), N_ ("Go to picking"),
    "SELECT EXISTS (SELECT 1 FROM pick)", BED_N_KINDS, "picking" },
};

#define N_STEPS G_N_ELEMENTS (steps)

struct _BedFirstSteps
{
  BedPart parent_instance;
  BedFarm *farm;
  GtkWidget *ticks[N_STEPS];
  GtkWidget *numbers[N_STEPS];
  GtkWidget *rows[N_STEPS];
  GtkWidget *buttons[N_STEPS];
};

BED_DEFINE_TYPE (BedFirstSteps, bed_first_steps, BED_TYPE_PART)

static void
step_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  BedFirstSteps *self = BED_FIRST_STEPS (widget);
  int at = g_variant_get_int32 (parameter);

  if (steps[at].page)
    {
      gtk_widget_activate_action (widget, "win.page", "s", steps[at].page);
      return;
    }
  g_autoptr (BedRecord) draft = bed_draft_new (self->farm, steps[at].kind);
  bed_host_show_draft (widget, draft, NULL);
}

static void
bed_first_steps_class_init (BedFirstStepsClass *klass)
{
  gtk_widget_class_install_action (GTK_WIDGET_CLASS (klass), "steps.go", "i", step_cb);
}

static GtkWidget *
make_step (BedFirstSteps *self, guint at)
{
  GtkWidget *words = bed_column_new (0, bed_line_new (_ (steps[at].title), "due-what"),
                                     bed_words_new (_ (steps[at].text), "due-detail"), NULL);
  GtkWidget *row = gtk_list_box_row_new ();

  g_autofree char *number = g_strdup_printf ("%u", at + 1);

  self->ticks[at] = gtk_image_new_from_icon_name ("object-select-symbolic");
  self->numbers[at] = bed_label_new (number, "numeric");
  bed_styled (self->numbers[at], "step");
  self->buttons[at] = bed_action_button_new (_ (steps[at].verb), "steps.go");
  gtk_actionable_set_action_target (GTK_ACTIONABLE (self->buttons[at]), "i", (int) at);
  gtk_widget_set_valign (self->buttons[at], GTK_ALIGN_CENTER);
  bed_styled (self->buttons[at], "act");
  gtk_widget_set_hexpand (words, TRUE);
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row), FALSE);
  gtk_widget_set_focusable (row, FALSE);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row),
                              bed_styled (bed_row_new (12, self->ticks[at], self->numbers[at],
                                                       words, self->buttons[at], NULL),
                                          "due"));
  return self->rows[at] = row;
}

BedFirstSteps *
bed_first_steps_new (BedFarm *farm)
{
  BedFirstSteps *self = g_object_new (BED_TYPE_FIRST_STEPS, NULL);
  GtkWidget *list = bed_named (bed_styled (gtk_list_box_new (), "boxed-list"), _ ("First steps"));

  self->farm = bed_part_hold (BED_PART (self), farm);
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (list), GTK_SELECTION_NONE);
  for (guint i = 0; i < N_STEPS; i++)
    gtk_list_box_append (GTK_LIST_BOX (list), make_step (self, i));
  bed_part_set_child (BED_PART (self), bed_section_new (_ ("First steps"), list));
  return self;
}

/* The first that is not done is the one to do now. */
static void
show_step (BedFirstSteps *self, guint at, gboolean done, gboolean next)
{
  g_autofree char *name
      = g_strdup_printf (done ? _ ("Done: %s") : _ ("To do: %s"), _ (steps[at].title));

  gtk_widget_set_visible (self->ticks[at], done);
  gtk_widget_set_visible (self->numbers[at], !done);
  bed_named (self->rows[at], name);
  gtk_widget_set_opacity (self->rows[at], done ? 0.75 : 1);
  gtk_widget_set_visible (self->buttons[at], !done);
  gtk_widget_set_sensitive (self->buttons[at], !bed_farm_get_read_only_why (self->farm));
  if (next)
    gtk_widget_add_css_class (self->buttons[at], "suggested-action");
  else
    gtk_widget_remove_css_class (self->buttons[at], "suggested-action");
}

gboolean
bed_first_steps_refresh (BedFirstSteps *self, GError **error)
{
  g_return_val_if_fail (BED_IS_FIRST_STEPS (self), FALSE);
  gint64 there[N_STEPS];
  gboolean all = TRUE;

  for (guint i = 0; i < N_STEPS; i++)
    if (!bed_query_one (self->farm, steps[i].done, 0, &there[i], error))
      return FALSE;
  for (guint i = 0; i < N_STEPS; i++)
    {
      show_step (self, i, there[i] > 0, all && !there[i]);
      all = all && there[i];
    }
  gtk_widget_set_visible (GTK_WIDGET (self), !all);
  return TRUE;
}
