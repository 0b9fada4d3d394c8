#include "app/week/weather_bar.h"

#include <glib/gi18n.h>

#include "app/host/host.h"
#include "app/widgets/build.h"
#include "app/widgets/wrap_layout.h"
#include "model/farm/weather.h"
#include "model/season/draft.h"

static const struct
{
  BedKind kind;
  const char *verb; /* N_() */
} records[] = {
  { BED_KIND_RAIN, N_ ("Record weather") },
  { BED_KIND_WATERING, N_ ("Record watering") },
};

struct _BedWeatherBar
{
  BedPart parent_instance;
  BedFarm *farm;
  GtkWidget *words;
};

BED_DEFINE_TYPE (BedWeatherBar, bed_weather_bar, BED_TYPE_PART)

static const char *
get_advice (const BedWeatherDry *dry)
{
  if (dry->rule == BED_WEATHER_UNKNOWN)
    return _ ("Record rain, and dry spells show here.");
  switch (dry->advice)
    {
    case BED_DRY_SPELL_WET:
      return _ ("Water the yard overnight, or weigh sample logs first to be sure.");
    case BED_DRY_SPELL_WATCH:
      return _ ("Needs water soon.");
    case BED_DRY_SPELL_NONE:
    default:
      return _ ("No need to water yet.");
    }
}

static void
record_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  BedWeatherBar *self = BED_WEATHER_BAR (widget);
  g_autoptr (BedRecord) draft
      = bed_draft_new (self->farm, records[g_variant_get_int32 (parameter)].kind);

  bed_host_show_draft (widget, draft, NULL);
}

static void
bed_weather_bar_class_init (BedWeatherBarClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  gtk_widget_class_install_action (widget_class, "weather.record", "i", record_cb);
}

BedWeatherBar *
bed_weather_bar_new (BedFarm *farm)
{
  BedWeatherBar *self = g_object_new (BED_TYPE_WEATHER_BAR, NULL);
  GtkWidget *buttons = bed_wrap_new (6, 6), *line = bed_wrap_new (12, 6);

  self->farm = bed_part_hold (BED_PART (self), farm);
  self->words = bed_words_new (NULL, NULL);
  for (int i = 0; i < (int) G_N_ELEMENTS (records); i++)
    {
      GtkWidget *button = bed_action_button_new (_ (records[i].verb), "weather.record");

      gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "i", i);
      gtk_box_append (GTK_BOX (buttons), button);
    }
  GtkWidget *days = bed_action_button_new (_ ("Days recorded"), "win.page");
  gtk_actionable_set_action_target (GTK_ACTIONABLE (days), "s", "care");
  gtk_box_append (GTK_BOX (buttons), bed_styled (days, "flat"));
  gtk_widget_set_halign (buttons, GTK_ALIGN_END);
  gtk_box_append (GTK_BOX (line), self->words);
  gtk_box_append (GTK_BOX (line), buttons);
  bed_part_set_child (BED_PART (self), line);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "weather.record",
                                 !bed_farm_get_read_only_why (farm));
  return self;
}

gboolean
bed_weather_bar_refresh (BedWeatherBar *self, GError **error)
{
  g_return_val_if_fail (BED_IS_WEATHER_BAR (self), FALSE);
  g_autofree char *words = NULL;
  g_autofree char *text = NULL;
  BedWeatherDry dry;

  if (!bed_weather_dry_read (self->farm, &dry, error))
    return FALSE;
  words = bed_weather_dry_dup_words (self->farm, &dry);
  /* Translators: "9 dry days; 38 mm evaporated", then what to do, a sentence. */
  text = g_strdup_printf (_ ("Today: %s. %s"), words, get_advice (&dry));
  gtk_label_set_label (GTK_LABEL (self->words), text);
  return TRUE;
}
