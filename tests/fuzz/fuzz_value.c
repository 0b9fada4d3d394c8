/* What is typed into a field: byte 0 the kind of record, byte 1 its field, then the text. What
 * is taken is written into a CSV file so that it reads back as the same. */
#include "fuzz.h"
#include "fuzz_farm.h"
#include "model/farm/kinds.h"
#include "model/farm/value.h"

static BedFarm *farm;

static void
assert_same (BedRecord *record, BedRecord *other, const char *field)
{
  g_assert_cmpint (bed_record_has (record, field), ==, bed_record_has (other, field));
  g_assert_cmpint (bed_record_get_int (record, field), ==, bed_record_get_int (other, field));
  g_assert_cmpstr (bed_record_get_text (record, field), ==, bed_record_get_text (other, field));
}

static void
read_value (BedRecord *record, const char *field, const char *text)
{
  g_autoptr (GError) error = NULL;

  if (!bed_value_parse (farm, record, field, text, &error))
    {
      fuzz_assert_said (error);
      return;
    }
  g_autoptr (BedRecord) again = bed_record_new (bed_record_get_kind (record));
  BedValueReading reading = { *bed_farm_get_notation (farm), NULL };
  g_autofree char *cell = bed_value_dup_csv (farm, record, field);
  g_autofree char *shown = bed_value_dup_text (farm, record, field);
  g_autofree char *sentence = bed_value_dup_sentence (farm, record, field);

  g_assert_true (g_utf8_validate (shown, -1, NULL) && g_utf8_validate (sentence, -1, NULL));
  g_assert_true (bed_value_parse_csv (farm, again, field, &reading, cell, &error));
  assert_same (record, again, field);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  if (size < 2)
    return 0;
  if (!farm)
    farm = fuzz_farm_new ("value.bedlog", 30);
  BedKind kind = data[0] % BED_N_KINDS;
  const BedKindInfo *info = bed_kind_get_info (kind);
  g_autoptr (BedRecord) record = bed_record_new (kind);
  g_autofree char *text = fuzz_dup_text (data + 2, size - 2);

  read_value (record, info->fields[data[1] % info->n_fields].name, text);
  return 0;
}
