#include "app/batches/care_view.h"

#include <glib/gi18n.h>

#include "app/batches/care_run_view.h"
#include "app/batches/care_water.h"
#include "app/desk/care_tables.h"
#include "app/desk/page_parts.h"
#include "app/desk/put_right.h"
#include "app/form/form.h"
#include "app/form/forms.h"
#include "app/host/host.h"
#include "app/widgets/table.h"
#include "app/widgets/wrap_layout.h"
#include "model/farm/query.h"
#include "model/season/draft.h"

#define N_LISTS 3

/* What is written down about a batch, "%s" being its id. */
static const struct
{
  BedKind kind;
  const char *verb;    /* N_() */
  const char *heading; /* N_() */
  const BedTableSpec *table;
  const char *where;
} lists[N_LISTS] = {
  { BED_KIND_WEIGHING, N_ ("Record weighing"), N_ ("Weighings"), &bed_care_weighings,
    "log IN (SELECT id FROM log WHERE batch = %s)" },
  { BED_KIND_CHECK, N_ ("Record check"), N_ ("Checks"), &bed_care_checks,
    "(batch = %s OR log IN (SELECT id FROM log WHERE batch = %s))" },
  { BED_KIND_DISC, N_ ("Record disc"), N_ ("Sample discs"), &bed_care_discs, "batch = %s" },
};

struct _BedCareView
{
  BedPart parent_instance;
  BedFarm *farm;
  gint64 batch;
  GtkWidget *stack; /* "care", and a form for each kind once opened */
  BedCareWater *water;
  BedCareRunView *run;
  BedTable *lists[N_LISTS];
};

BED_DEFINE_TYPE (BedCareView, bed_care_view, BED_TYPE_PART)

/* --- forms ------------------------------------------------------------------------------- */

static void
left_cb (BedCareView *self)
{
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "care");
  gtk_widget_child_focus (self->stack, GTK_DIR_TAB_FORWARD);
}

/* A weighing is of the sample log whose turn it is: the one weighed longest ago, else the
 * first of the batch. */
static gint64
find_sample (BedCareView *self)
{
  g_autoptr (GError) error = NULL;
  gint64 log;

  if (!bed_query_one (self->farm,
                      "SELECT l.id FROM log l LEFT JOIN weighing w ON w.log = l.id"
                      " WHERE l.batch = ?1 AND bed_alive (l.retired_on, bed_today ())"
                      " GROUP BY l.id ORDER BY w.log IS NULL, max (w.weighed_on), l.code LIMIT 1",
                      self->batch, &log, &error))
    bed_host_say_error (GTK_WIDGET (self), error);
  return log;
}

static void
record_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  BedCareView *self = BED_CARE_VIEW (widget);
  BedKind kind = lists[g_variant_get_int32 (parameter)].kind;
  g_autoptr (BedRecord) draft = bed_draft_new (self->farm, kind);
  gint64 log = kind == BED_KIND_WEIGHING ? find_sample (self) : 0;

  if (kind != BED_KIND_WEIGHING)
    bed_record_set_int (draft, "batch", self->batch);
  else if (log)
    bed_record_set_int (draft, "log", log);
  bed_form_open (
      bed_forms_get_in (GTK_STACK (self->stack), self->farm, kind, G_CALLBACK (left_cb), self),
      draft, kind == BED_KIND_WEIGHING ? "mass" : NULL);
}

/* --- widget ------------------------------------------------------------------------------ */

static void
bed_care_view_class_init (BedCareViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  gtk_widget_class_install_action (widget_class, "care.record", "i", record_cb);
  bed_signal_new (BED_TYPE_CARE_VIEW, "turned", 0);
}

static void
turned_cb (BedCareView *self)
{
  g_signal_emit_by_name (self, "turned");
}

static GtkWidget *
make_buttons (void)
{
  GtkWidget *box = bed_wrap_new (6, 6);

  for (int i = 0; i < N_LISTS; i++)
    {
      GtkWidget *button = bed_action_button_new (_ (lists[i].verb), "care.record");

      gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "i", i);
      gtk_box_append (GTK_BOX (box), button);
    }
  return box;
}

static GtkWidget *
make_lists (BedCareView *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 24);

  for (guint i = 0; i < N_LISTS; i++)
    {
      self->lists[i] = bed_table_new_of_one (self->farm, lists[i].table);
      bed_put_right_in (self->lists[i], self->farm, lists[i].kind);
      bed_styled (GTK_WIDGET (self->lists[i]), "lines-8");
      gtk_box_append (GTK_BOX (box),
                      bed_section_new (_ (lists[i].heading), GTK_WIDGET (self->lists[i])));
    }
  return box;
}

BedCareView *
bed_care_view_new (BedFarm *farm)
{
  BedCareView *self = g_object_new (BED_TYPE_CARE_VIEW, NULL);
  GtkWidget *box;

  self->farm = bed_part_hold (BED_PART (self), farm);
  self->water = bed_care_water_new (farm);
  self->run = bed_care_run_view_new (farm);
  box = bed_styled (bed_column_new (24, make_buttons (), GTK_WIDGET (self->water),
                                    GTK_WIDGET (self->run), make_lists (self), NULL),
                    "section");
  self->stack = gtk_stack_new ();
  /* What is not seen takes no room beside the list. */
  gtk_stack_set_hhomogeneous (GTK_STACK (self->stack), FALSE);
  gtk_stack_set_vhomogeneous (GTK_STACK (self->stack), FALSE);
  gtk_stack_add_named (GTK_STACK (self->stack), bed_part_new (box), "care");
  g_signal_connect_object (self->stack, "notify::visible-child", G_CALLBACK (turned_cb), self,
                           G_CONNECT_SWAPPED);
  bed_part_set_child (BED_PART (self), self->stack);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "care.record",
                                 !bed_farm_get_read_only_why (farm));
  return self;
}

BedForm *
bed_care_view_get_form (BedCareView *self)
{
  g_return_val_if_fail (BED_IS_CARE_VIEW (self), NULL);
  GtkWidget *seen = gtk_stack_get_visible_child (GTK_STACK (self->stack));

  return BED_IS_FORM (seen) ? BED_FORM (seen) : NULL;
}

void
bed_care_view_show (BedCareView *self, gint64 batch)
{
  g_return_if_fail (BED_IS_CARE_VIEW (self));
  g_autofree char *id = g_strdup_printf ("%" G_GINT64_FORMAT, batch);

  if (batch != self->batch)
    gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "care");
  self->batch = batch;
  bed_care_water_show (self->water, batch);
  bed_care_run_view_show (self->run, batch);
  for (guint i = 0; i < N_LISTS; i++)
    {
      g_auto (GStrv) parts = g_strsplit (lists[i].where, "%s", -1);
      g_autofree char *where = g_strjoinv (id, parts);

      bed_table_set_where (self->lists[i], where);
    }
}
