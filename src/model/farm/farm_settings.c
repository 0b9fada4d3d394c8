#include "model/farm/farm_settings.h"

static const struct
{
  const char *field, *text;
} texts[] = {
  { "unit_system", "metric" }, { "currency", "USD" },       { "hemisphere", "north" },
  { "season_start", "01-01" }, { "moisture_basis", "wet" },
};

static const struct
{
  const char *field;
  gint64 value;
} numbers[] = {
  { "moisture_alarm", 3000 }, /* hundredths of a percent */
  { "moisture_low", 3500 },   { "moisture_high", 4500 },        { "wait_least", 14 }, /* days */
  { "wait_most", 56 },        { "rest_weeks", BED_REST_WEEKS },
};

BedRecord *
bed_farm_settings_new (void)
{
  BedRecord *settings = bed_record_new (BED_KIND_FARM);

  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    bed_record_set_text (settings, texts[i].field, texts[i].text);
  for (gsize i = 0; i < G_N_ELEMENTS (numbers); i++)
    bed_record_set_int (settings, numbers[i].field, numbers[i].value);
  return settings;
}
