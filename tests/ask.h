#pragma once

#include "model/farm/query.h"

/* A question with one number as answer, that does not fail. */
static inline gint64
ask_one (BedFarm *farm, const char *sql, gint64 parameter)
{
  g_autoptr (GError) error = NULL;
  gint64 answer;

  g_assert_true (bed_query_one (farm, sql, parameter, &answer, &error));
  g_assert_no_error (error);
  return answer;
}
