#include "app/lists/weather_days.h"

#include <glib/gi18n.h>

#include "app/form/day_form.h"
#include "app/host/host.h"
#include "app/widgets/build.h"
#include "app/widgets/compat.h"
#include "app/widgets/table.h"
#include "model/farm/query.h"
#include "model/farm/value.h"

struct _BedWeatherDays
{
  BedPart parent_instance;
  BedFarm *farm;
  GtkWidget *stack; /* "list", "form" */
  BedTable *table;
  BedForm *form; /* NULL until first opened */
};

BED_DEFINE_PLAIN_TYPE (BedWeatherDays, bed_weather_days, BED_TYPE_PART)

static const BedTableColumn columns[] = {
  { .column = "day", .title = N_ ("Day"), .cell = BED_CELL_DATE, .width = 14 },
  { .column = "depth",
    .title = N_ ("Rain"),
    .cell = BED_CELL_MEASURE,
    .measure = BED_MEASURE_LENGTH_FINE },
  { .column = "least",
    .title = N_ ("Lowest"),
    .cell = BED_CELL_MEASURE,
    .measure = BED_MEASURE_TEMPERATURE },
  { .column = "most",
    .title = N_ ("Highest"),
    .cell = BED_CELL_MEASURE,
    .measure = BED_MEASURE_TEMPERATURE },
};

static const BedTableSpec table = {
  .label = N_ ("Weather"),
  .source = "weather_day",
  .columns = columns,
  .n_columns = G_N_ELEMENTS (columns),
  .order = "day DESC",
  .search = "day",
  .kinds = BED_KIND_BIT (BED_KIND_RAIN) | BED_KIND_BIT (BED_KIND_TEMPERATURE),
  .empty = N_ ("No weather recorded yet. Rain alone is enough to watch for dry spells."),
};

static void
left_cb (BedWeatherDays *self)
{
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "list");
  gtk_widget_grab_focus (GTK_WIDGET (self->table));
}

static void
open_day (BedWeatherDays *self, const char *day)
{
  if (!self->form)
    {
      self->form = bed_day_form_new (self->farm);
      g_signal_connect_object (self->form, "left", G_CALLBACK (left_cb), self, G_CONNECT_SWAPPED);
      bed_stack_add (self->stack, GTK_WIDGET (self->form), "form");
    }
  bed_day_form_open (self->form, self->farm, day);
}

/* The rain and the temperature of the row @id, 0 for none; its day, owned by the caller. */
static char *
read_day (BedWeatherDays *self, gint64 id, gint64 *rain, gint64 *heat)
{
  g_autoptr (BedQuery) q
      = bed_query_new (self->farm, "SELECT day, rain, temperature FROM weather_day WHERE id = ?1");
  g_autoptr (GError) error = NULL;

  bed_query_bind_int (q, 1, id);
  g_autofree char *day = bed_query_next (q) ? g_strdup (bed_query_text (q, 0)) : NULL;
  *rain = day ? bed_query_int (q, 1) : 0;
  *heat = day ? bed_query_int (q, 2) : 0;
  if (bed_query_finish (q, &error))
    return g_steal_pointer (&day);
  bed_host_say_error (GTK_WIDGET (self), error);
  return NULL;
}

static void
change_cb (BedWeatherDays *self, gint64 id)
{
  gint64 rain, heat;
  g_autofree char *day = read_day (self, id, &rain, &heat);

  if (day)
    open_day (self, day);
}

static void
remove_cb (BedWeatherDays *self)
{
  gint64 rain, heat;
  g_autofree char *day = read_day (self, bed_table_get_selected (self->table), &rain, &heat);
  g_autofree char *shown = day ? bed_date_format (day) : NULL;
  g_autofree char *sentence = g_strdup_printf (_ ("Removed the weather of %s"), shown);
  g_autoptr (BedEdit) edit = bed_edit_new (self->farm);
  g_autoptr (GError) error = NULL;

  if (!day)
    return;
  if (rain)
    bed_edit_remove (edit, BED_KIND_RAIN, rain);
  if (heat)
    bed_edit_remove (edit, BED_KIND_TEMPERATURE, heat);
  if (!bed_host_commit (GTK_WIDGET (self), edit, sentence, &error))
    bed_host_say_error (GTK_WIDGET (self), error);
}

GtkWidget *
bed_weather_days_new (BedFarm *farm)
{
  BedWeatherDays *self = g_object_new (BED_TYPE_WEATHER_DAYS, NULL);

  self->farm = bed_part_hold (BED_PART (self), farm);
  self->table = bed_table_new (farm, &table);
  self->stack = gtk_stack_new ();
  bed_stack_add (self->stack, GTK_WIDGET (self->table), "list");
  bed_part_set_child (BED_PART (self), self->stack);
  g_signal_connect_swapped (self->table, "change", G_CALLBACK (change_cb), self);
  g_signal_connect_swapped (self->table, "remove", G_CALLBACK (remove_cb), self);
  return GTK_WIDGET (self);
}

void
bed_weather_days_add (BedWeatherDays *self)
{
  g_return_if_fail (BED_IS_WEATHER_DAYS (self));
  open_day (self, NULL);
}
