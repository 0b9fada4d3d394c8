#include "app/woodlot/spawn_detail.h"

#include <adwaita.h>
#include <glib/gi18n.h>

#include "app/desk/browser.h"
#include "app/desk/page_parts.h"
#include "app/desk/put_right.h"
#include "app/desk/recall_button.h"
#include "app/form/quick.h"
#include "app/host/host.h"
#include "app/widgets/build.h"
#include "app/widgets/facts.h"
#include "app/widgets/table.h"
#include "model/farm/query.h"
#include "model/farm/value.h"
#include "model/season/draft.h"

#define BED_TYPE_SPAWN_DETAIL (bed_spawn_detail_get_type ())
G_DECLARE_FINAL_TYPE (BedSpawnDetail, bed_spawn_detail, BED, SPAWN_DETAIL, BedPart)

struct _BedSpawnDetail
{
  BedPart parent_instance;
  BedFarm *farm;
  gint64 spawn;
  GtkWidget *head;  /* AdwBin */
  GtkWidget *facts; /* AdwBin */
  BedTable *list;
};

BED_DEFINE_TYPE (BedSpawnDetail, bed_spawn_detail, BED_TYPE_PART)

static const BedTableColumn columns[] = {
  { .field = "gone_on" },
  { .field = "why" },
  { .field = "mass" },
  { .field = "pieces" },
};

static const BedTableSpec table = {
  .label = N_ ("Written off"),
  .source = "spawn_gone",
  .kind = BED_KIND_SPAWN_GONE,
  .columns = columns,
  .n_columns = G_N_ELEMENTS (columns),
  .order = "gone_on DESC, id DESC",
  .empty = N_ ("Nothing written off"),
  .kinds = BED_KIND_BIT (BED_KIND_SPAWN_GONE),
};

/* All that is left, which is what is thrown away at the end of a winter. */
static void
write_off_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  BedSpawnDetail *self = BED_SPAWN_DETAIL (widget);
  g_autoptr (BedRecord) draft = bed_draft_new (self->farm, BED_KIND_SPAWN_GONE);
  g_autoptr (BedQuery) q = bed_query_new (
      self->farm, "SELECT mass_left, pieces_left, use_by < bed_today () FROM spawn_left"
                  " WHERE id = ?1");
  g_autoptr (GError) error = NULL;

  bed_query_bind_int (q, 1, self->spawn);
  bed_record_set_int (draft, "spawn", self->spawn);
  if (bed_query_next (q))
    {
      if (bed_query_int (q, 0) > 0)
        bed_record_set_int (draft, "mass", bed_query_int (q, 0));
      if (bed_query_int (q, 1) > 0)
        bed_record_set_int (draft, "pieces", bed_query_int (q, 1));
      if (bed_query_int (q, 2))
        bed_record_set_text (draft, "why", "past use");
    }
  if (bed_query_finish (q, &error))
    bed_quick_add (widget, self->farm, draft);
  else
    bed_host_say_error (widget, error);
}

static void
bed_spawn_detail_class_init (BedSpawnDetailClass *klass)
{
  gtk_widget_class_install_action (GTK_WIDGET_CLASS (klass), "spawn.write-off", NULL, write_off_cb);
}

GtkWidget *
bed_spawn_detail_new (BedFarm *farm)
{
  BedSpawnDetail *self = g_object_new (BED_TYPE_SPAWN_DETAIL, NULL);

  self->farm = bed_part_hold (BED_PART (self), farm);
  self->head = adw_bin_new ();
  self->facts = bed_styled (adw_bin_new (), "section");
  self->list = bed_table_new_of_one (farm, &table);
  bed_put_right_in (self->list, farm, BED_KIND_SPAWN_GONE);
  bed_styled (GTK_WIDGET (self->list), "lines-8");
  /* Seen without a row, too: hidden, it could not say that it was not read. */
  GtkWidget *gone
      = bed_styled (bed_section_new (_ ("Written off"), GTK_WIDGET (self->list)), "section");
  bed_part_set_child (BED_PART (self), bed_column_new (0, self->head, self->facts, gone, NULL));
  return GTK_WIDGET (self);
}

static GtkWidget *
make_buttons (BedSpawnDetail *self)
{
  GtkWidget *off = bed_action_button_new (_ ("Write off"), "spawn.write-off");
  GtkWidget *recall = bed_recall_button_new (BED_KIND_SPAWN, self->spawn);

  gtk_widget_set_tooltip_text (off, _ ("What is thrown away, spoiled or past its date"));
  gtk_widget_set_valign (off, GTK_ALIGN_CENTER);
  return bed_row_new (6, recall, off, NULL);
}

gboolean
bed_spawn_detail_show (GtkWidget *detail, gint64 spawn, GError **error)
{
  BedSpawnDetail *self = BED_SPAWN_DETAIL (detail);
  g_autoptr (BedRecord) record = bed_farm_load (self->farm, BED_KIND_SPAWN, spawn, error);
  g_autofree char *where = g_strdup_printf ("spawn = %" G_GINT64_FORMAT, spawn);

  if (!record)
    return FALSE;
  g_autofree char *strain = bed_value_dup_sentence (self->farm, record, "strain");
  self->spawn = spawn;
  adw_bin_set_child (
      ADW_BIN (self->head),
      bed_browser_head_new (bed_record_get_text (record, "code"), strain, make_buttons (self)));
  adw_bin_set_child (ADW_BIN (self->facts), bed_facts_new (self->farm, record));
  bed_table_set_where (self->list, where);
  gtk_widget_action_set_enabled (detail, "spawn.write-off",
                                 !bed_farm_get_read_only_why (self->farm));
  return TRUE;
}
