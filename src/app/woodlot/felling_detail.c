#include "app/woodlot/felling_detail.h"

#include <adwaita.h>
#include <glib/gi18n.h>

#include "app/desk/browser.h"
#include "app/desk/put_right.h"
#include "app/desk/recall_button.h"
#include "app/host/host.h"
#include "app/widgets/big_figures.h"
#include "app/widgets/build.h"
#include "app/widgets/caution_line.h"
#include "app/widgets/facts.h"
#include "app/widgets/table.h"
#include "app/woodlot/woodlot_forms.h"
#include "model/farm/query.h"
#include "model/work/caution.h"

struct _BedFellingDetail
{
  BedPart parent_instance;
  BedFarm *farm;
  GtkWidget *head; /* AdwBin */
  GtkWidget *figures;
  GtkWidget *expected;
  GtkWidget *facts; /* AdwBin */
  GtkWidget *caution;
  BedTable *batches;
};

BED_DEFINE_PLAIN_TYPE (BedFellingDetail, bed_felling_detail, BED_TYPE_PART)

static const BedTableColumn batch_columns[] = {
  { .field = "code", .width = 6 },
  { .field = "inoculated_on", .title = N_ ("Inoculated") },
  { .column = "strain_name", .title = N_ ("Strain") },
  { .column = "stage", .title = N_ ("Stage"), .cell = BED_CELL_STAGE, .width = 10 },
  { .column = "logs",
    .title = N_ ("Logs"),
    .cell = BED_CELL_MEASURE,
    .measure = BED_MEASURE_COUNT },
};

static const BedTableSpec batch_table = {
  .label = N_ ("Batches made of it"),
  .source = "batch_summary",
  .kind = BED_KIND_BATCH,
  .columns = batch_columns,
  .n_columns = G_N_ELEMENTS (batch_columns),
  .order = "inoculated_on DESC, id DESC",
  .empty = N_ ("No batch made of it yet"),
};

static gboolean
show_figures (BedFellingDetail *self, gint64 felling, GError **error)
{
  g_autoptr (BedQuery) query = bed_query_new (
      self->farm, "SELECT trees, logs, waiting, age_days FROM felling_summary WHERE id = ?1");

  bed_query_bind_int (query, 1, felling);
  if (bed_query_next (query))
    {
      g_autofree char *trees = bed_query_is_null (query, 0) ? NULL
                                                            : g_strdup (bed_query_text (query, 0));
      g_autofree char *logs = g_strdup (bed_query_text (query, 1));
      g_autofree char *waiting = g_strdup (bed_query_text (query, 2));
      g_autofree char *days = g_strdup (bed_query_text (query, 3));
      BedPageFigure figures[] = {
        { trees, NULL, bed_count_words (trees, N_ ("Tree"), N_ ("Trees")) },
        { logs, NULL, bed_count_words (logs, N_ ("Bolt cut"), N_ ("Bolts cut")) },
        { waiting, NULL, _ ("Waiting for spawn") },
        { days, NULL, bed_count_words (days, N_ ("Day since felling"), N_ ("Days since felling")) },
      };

      bed_big_figures_set (self->figures, figures, G_N_ELEMENTS (figures));
    }
  return bed_query_finish (query, error);
}

static void
opened_cb (BedFellingDetail *self, gint64 batch)
{
  bed_host_show_record (GTK_WIDGET (self), BED_KIND_BATCH, batch);
}

GtkWidget *
bed_felling_detail_new (BedFarm *farm)
{
  BedFellingDetail *self = g_object_new (BED_TYPE_FELLING_DETAIL, NULL);

  self->farm = bed_part_hold (BED_PART (self), farm);
  self->head = adw_bin_new ();
  self->figures = bed_styled (bed_big_figures_new (), "section");
  self->expected = bed_label_new (NULL, "detail-line");
  gtk_label_set_wrap (GTK_LABEL (self->expected), TRUE);
  self->facts = bed_styled (adw_bin_new (), "section");
  self->caution = bed_styled (bed_caution_line_new (NULL), "section");
  self->batches = bed_table_new_of_one (farm, &batch_table);
  gtk_widget_set_vexpand (GTK_WIDGET (self->batches), TRUE);
  bed_styled (GTK_WIDGET (self->batches), "lines-8");
  bed_put_right_in (self->batches, farm, BED_KIND_BATCH);
  g_signal_connect_swapped (self->batches, "opened", G_CALLBACK (opened_cb), self);
  bed_part_set_child (BED_PART (self),
                      bed_column_new (0, self->head, self->figures, self->expected, self->facts,
                                      self->caution, GTK_WIDGET (self->batches), NULL));
  return GTK_WIDGET (self);
}

gboolean
bed_felling_detail_show (GtkWidget *detail, gint64 felling, GError **error)
{
  BedFellingDetail *self = BED_FELLING_DETAIL (detail);
  g_autoptr (BedRecord) record = bed_farm_load (self->farm, BED_KIND_FELLING, felling, error);
  g_autofree char *where = g_strdup_printf (
      "id IN (SELECT batch FROM log WHERE felling = %" G_GINT64_FORMAT ")", felling);
  g_autofree char *wood = NULL;

  if (!record)
    return FALSE;
  wood = bed_farm_dup_name (self->farm, BED_KIND_WOOD, bed_record_get_int (record, "wood"));
  adw_bin_set_child (
      ADW_BIN (self->head),
      bed_browser_head_new (bed_record_get_text (record, "code"), wood,
                            bed_recall_button_new (BED_KIND_FELLING, bed_record_get_id (record))));
  g_autofree char *expected = bed_woodlot_dup_felling_words (self->farm, record);
  gtk_label_set_label (GTK_LABEL (self->expected), expected);
  adw_bin_set_child (ADW_BIN (self->facts), bed_facts_new (self->farm, record));
  g_autofree char *caution = bed_caution_dup (self->farm, record);
  bed_caution_line_set (self->caution, caution);
  bed_table_set_where (self->batches, where);
  return show_figures (self, felling, error);
}
