#include "app/week/due_row.h"

#include <glib/gi18n.h>

#include "app/form/quick.h"
#include "app/host/host.h"
#include "app/host/wait.h"
#include "app/paper/paper_dialog.h"
#include "app/widgets/build.h"
#include "app/widgets/plot.h"
#include "model/farm/edit.h"
#include "model/farm/say.h"
#include "model/farm/source.h"
#include "model/farm/value.h"
#include "science/language.h"

#define DAY_WIDTH 96 /* px of usual letters: as in the style sheet */
#define PUT_OFF_DAYS 7

struct _BedDueRow
{
  GtkListBoxRow parent_instance;
  BedFarm *farm;
  BedDueItem *item;
  GtkWidget *what;
  GtkWidget *act;
  GtkWidget *why;
};

BED_DEFINE_TYPE (BedDueRow, bed_due_row, GTK_TYPE_LIST_BOX_ROW)

/* What the button does, in words; NULL for no button. */
static const char *
get_verb (const BedDueItem *item)
{
  switch (item->rule->id)
    {
    case BED_DUE_LIFT:
      return _ ("Record out");
    case BED_DUE_PICK:
    case BED_DUE_NOTHING_BORN:
      return _ ("Record pick");
    case BED_DUE_SOAK:
    case BED_DUE_DRYING:
      return _ ("Record soak");
    case BED_DUE_WATER:
      return _ ("Record watering");
    case BED_DUE_WEIGH:
      return _ ("Record weighing");
    case BED_DUE_LOOK:
      return _ ("Record check");
    case BED_DUE_INOCULATE:
    case BED_DUE_SPAWN_DATE:
      return _ ("New batch");
    case BED_DUE_TASK:
      return _ ("Done");
    case BED_DUE_N_RULES:
    default:
      g_return_val_if_reached (NULL);
    }
}

static void
finish_task (BedDueRow *self, BedRecord *task)
{
  g_autoptr (BedEdit) edit = bed_edit_new (self->farm);
  g_autofree char *sentence = g_strdup_printf (_ ("Done: %s"), self->item->subject);
  g_autoptr (GError) error = NULL;

  bed_edit_put (edit, task);
  if (!bed_host_commit (GTK_WIDGET (self), edit, sentence, &error))
    bed_host_say_error (GTK_WIDGET (self), error);
}

static char *
dup_logs (BedDueRow *self)
{
  g_autoptr (GArray) logs = bed_due_dup_logs (self->farm, self->item);

  return bed_source_dup_names (self->farm, logs);
}

/* The form goes to another page, and this row may be gone when it comes back. */
static void
act_cb (BedDueRow *self)
{
  BedDueRuleId rule = self->item->rule->id;
  gboolean soak = rule == BED_DUE_SOAK || rule == BED_DUE_DRYING;
  g_autoptr (GError) error = NULL;

  if (!bed_farm_begin_reading (self->farm))
    return;
  g_autoptr (BedRecord) draft = bed_due_dup_draft (self->farm, self->item);
  g_autofree char *logs = soak ? dup_logs (self) : NULL;
  if (!bed_farm_end_reading (self->farm, &error))
    bed_host_say_error (GTK_WIDGET (self), error);
  else if (draft && rule == BED_DUE_TASK)
    finish_task (self, draft);
  else if (draft)
    bed_host_show_draft (GTK_WIDGET (self), draft, logs);
}

static void
sheet_cb (BedDueRow *self)
{
  BedPrintOffer offer = { BED_PRINT_WEIGHING, bed_due_row_get_weighed (self) };

  bed_paper_dialog_show (GTK_WIDGET (self), self->farm, &offer, 1);
}

static gboolean
try_put_off_cb (gpointer data, GError **error)
{
  BedDueRow *self = data;

  return bed_due_put_off (self->farm, self->item, PUT_OFF_DAYS, error);
}

static void
put_off_cb (BedDueRow *self)
{
  g_autoptr (BedDueRow) kept = g_object_ref (self);
  GtkWidget *window = GTK_WIDGET (gtk_widget_get_root (GTK_WIDGET (self)));
  g_autoptr (GError) error = NULL;

  /* The list is made anew before this returns: self is out of it then. */
  if (!bed_wait_to_write (window, try_put_off_cb, kept, &error))
    bed_host_say_error (window, error);
  else
    bed_host_say_undo (window);
}

/* A task of one's own is a record. */
static void
change_cb (BedDueRow *self)
{
  bed_quick_change (GTK_WIDGET (self), self->farm, BED_KIND_DUE, self->item->id);
}

static void
remove_cb (BedDueRow *self)
{
  g_autoptr (BedDueRow) kept = g_object_ref (self);
  GtkWidget *window = GTK_WIDGET (gtk_widget_get_root (GTK_WIDGET (self)));

  /* The list is made anew before this returns: self is out of it then. */
  bed_host_remove_one (window, kept->farm, BED_KIND_DUE, kept->item->id);
}

static void
add_why_button (BedDueRow *self, GtkWidget *box, const char *label, GCallback clicked)
{
  GtkWidget *button = bed_button_add (box, label, clicked, self);

  gtk_widget_add_css_class (button, "flat");
  gtk_widget_set_focus_on_click (button, FALSE);
}

static void
bed_due_row_dispose (GObject *object)
{
  BedDueRow *self = BED_DUE_ROW (object);

  g_clear_pointer (&self->item, bed_due_item_free);
  g_clear_object (&self->farm);
  G_OBJECT_CLASS (bed_due_row_parent_class)->dispose (object);
}

static void
bed_due_row_class_init (BedDueRowClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = bed_due_row_dispose;
}

static void
indent (gpointer why)
{
  gtk_widget_set_margin_start (why, bed_plot_to_px (why, DAY_WIDTH) + 12);
}

/* Its sentences are long, and few are asked for: of hundreds of rows it would be most of the work.
 */
static GtkWidget *
make_why (BedDueRow *self)
{
  GtkWidget *box;
  GtkWidget *source = bed_words_new (_ (self->item->rule->source), "caption");

  gtk_widget_add_css_class (source, "dim-label");
  box = bed_column_new (6, bed_words_new (_ (self->item->rule->why), NULL), source, NULL);
  indent (box);
  bed_letters_follow (box, indent);
  gtk_widget_set_margin_top (box, 6);
  if (self->item->rule->id != BED_DUE_LIFT && !bed_farm_get_read_only_why (self->farm))
    {
      GtkWidget *buttons = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

      add_why_button (self, buttons, _ ("Put off a week"), G_CALLBACK (put_off_cb));
      if (self->item->rule->id == BED_DUE_TASK)
        {
          add_why_button (self, buttons, _ ("Change"), G_CALLBACK (change_cb));
          add_why_button (self, buttons, _ ("Remove"), G_CALLBACK (remove_cb));
        }
      gtk_box_append (GTK_BOX (box), buttons);
    }
  return box;
}

static void
why_toggled_cb (BedDueRow *self, GtkToggleButton *button)
{
  GtkRevealer *why = GTK_REVEALER (self->why);

  if (!gtk_revealer_get_child (why))
    gtk_revealer_set_child (why, make_why (self));
  gtk_revealer_set_reveal_child (why, gtk_toggle_button_get_active (button));
}

static GtkWidget *
make_cell (const char *text, const char *style, const char *width)
{
  return bed_styled (bed_line_new (text, style), width);
}

static void
add_sheet_button (BedDueRow *self, GtkWidget *line)
{
  g_autofree char *name = g_strdup_printf (_ ("Print weighing sheet: %s"), self->item->subject);
  GtkWidget *button = bed_icon_button_new ("document-print-symbolic", name);

  g_signal_connect_swapped (button, "clicked", G_CALLBACK (sheet_cb), self);
  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (line), button);
}

static void
add_buttons (BedDueRow *self, GtkWidget *line)
{
  GtkWidget *why = gtk_toggle_button_new_with_label (_ ("Why?"));
  GtkWidget *act = bed_button_new (get_verb (self->item), G_CALLBACK (act_cb), self);
  g_autofree char *name = bed_dup_labelled (get_verb (self->item), self->item->subject);
  g_autofree char *asked
      = g_strdup_printf (_ ("Why? %s: %s"), _ (self->item->rule->what), self->item->subject);

  gtk_widget_add_css_class (why, "flat");
  bed_named (act, name);
  bed_named (why, asked);
  gtk_widget_set_sensitive (act, !bed_farm_get_read_only_why (self->farm));
  self->act = bed_styled (act, "act");
  gtk_widget_set_valign (act, GTK_ALIGN_CENTER);
  gtk_widget_set_valign (why, GTK_ALIGN_CENTER);
  gtk_widget_set_focus_on_click (act, FALSE);
  g_signal_connect_swapped (why, "toggled", G_CALLBACK (why_toggled_cb), self);
  if (bed_due_row_get_weighed (self))
    add_sheet_button (self, line);
  gtk_box_append (GTK_BOX (line), why);
  gtk_box_append (GTK_BOX (line), act);
}

static char *
dup_subject (const BedDueItem *item)
{
  if (!item->logs || item->kind == BED_KIND_LOG)
    return g_strdup (item->subject);
  /* Translators: what is due, and how many logs that is. */
  return bed_say (g_dngettext (GETTEXT_PACKAGE, "%s, %d log", "%s, %d logs", item->logs),
                  item->subject, (int) item->logs);
}

BedDueRow *
bed_due_row_new (BedFarm *farm, BedDueItem *item)
{
  BedDueRow *self = g_object_new (BED_TYPE_DUE_ROW, NULL);
  GtkWidget *line;
  GtkWidget *words;
  const char *today = bed_farm_get_today (farm);
  g_autofree char *day = bed_date_format_day (item->state == BED_DUE_TODAY ? today : item->day);
  g_autofree char *subject = dup_subject (item);
  g_autofree char *whole
      = g_strdup_printf ("%s: %s, %s, %s", day, _ (item->rule->what), subject, item->detail);

  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (self), FALSE);
  gtk_widget_set_focusable (GTK_WIDGET (self), FALSE);
  bed_named (GTK_WIDGET (self), whole);
  self->farm = g_object_ref (farm);
  self->item = item;
  self->why = gtk_revealer_new ();
  words = bed_column_new (0, bed_line_new (subject, NULL),
                          bed_words_new (item->detail, "due-detail"), NULL);
  gtk_widget_set_hexpand (words, TRUE);
  gtk_widget_set_valign (words, GTK_ALIGN_CENTER);
  self->what = bed_styled (bed_words_new (_ (item->rule->what), "due-what"), "due-name");
  line = bed_row_new (12, make_cell (day, "numeric", "due-day"), self->what, words, NULL);
  add_buttons (self, line);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (self),
                              bed_styled (bed_column_new (0, line, self->why, NULL), "due"));
  g_autofree char *name = g_strdup_printf ("%s, %s", _ (item->rule->what), subject);
  bed_named (GTK_WIDGET (self), name);
  return self;
}

void
bed_due_row_align (BedDueRow *self, GtkSizeGroup *what, GtkSizeGroup *act)
{
  g_return_if_fail (BED_IS_DUE_ROW (self));
  gtk_size_group_add_widget (what, self->what);
  gtk_size_group_add_widget (act, self->act);
}

gint64
bed_due_row_get_weighed (BedDueRow *self)
{
  g_return_val_if_fail (BED_IS_DUE_ROW (self), 0);
  return self->item->rule->id == BED_DUE_WEIGH ? self->item->id : 0;
}
