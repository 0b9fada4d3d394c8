/* What is typed as a date: read, it is a day of the calendar that reads back as itself. */
#include "fuzz.h"
#include "model/farm/value.h"

#define TODAY "2026-05-12"

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_autofree char *text = fuzz_dup_text (data, size);
  g_autoptr (GError) error = NULL;
  g_autofree char *date = bed_date_parse (text, TODAY, &error);

  if (!date)
    {
      fuzz_assert_said (error);
      return 0;
    }
  g_assert_true (g_regex_match_simple ("^\\d{4}-\\d{2}-\\d{2}$", date, 0, 0));
  g_autofree char *again = bed_date_parse (date, TODAY, NULL);
  g_assert_cmpstr (again, ==, date);
  g_autofree char *shown = bed_date_format (date);
  g_autofree char *read = bed_date_parse (shown, TODAY, NULL);
  g_assert_cmpstr (read, ==, date);
  g_autofree char *next = bed_date_add (date, 1);
  g_assert_cmpint (bed_date_days (date, next), ==, 1);
  return 0;
}
