#include "app/desk/put_right.h"

#include "app/form/quick.h"
#include "app/host/host.h"

#define KIND "bed-rows-kind"

static BedKind
get_kind (BedTable *table)
{
  return GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (table), KIND));
}

static void
change_cb (BedTable *table, gint64 id, BedFarm *farm)
{
  bed_quick_change (GTK_WIDGET (table), farm, get_kind (table), id);
}

static void
remove_cb (BedTable *table, BedFarm *farm)
{
  g_autoptr (GArray) ids = bed_table_dup_selected (table);

  if (ids->len)
    bed_host_remove (GTK_WIDGET (table), farm, get_kind (table), ids);
}

void
bed_put_right_in (BedTable *table, BedFarm *farm, BedKind kind)
{
  g_object_set_data (G_OBJECT (table), KIND, GUINT_TO_POINTER (kind));
  g_signal_connect_object (table, "change", G_CALLBACK (change_cb), farm, 0);
  g_signal_connect_object (table, "remove", G_CALLBACK (remove_cb), farm, 0);
}
