#pragma once

#include "model/season/trace.h"

/* How the tables of steps are written. */

#define BED_TRACE_STEP(kind, key, title, sql, ...)                                                 \
  {                                                                                                \
    kind, key, title, sql, (const BedTraceColumn[])                                                \
    {                                                                                              \
      __VA_ARGS__,                                                                                 \
      {                                                                                            \
        NULL                                                                                       \
      }                                                                                            \
    }                                                                                              \
  }
#define BED_TRACE_COLUMN(type, key, label)                                                         \
  {                                                                                                \
    key, label, BED_TRACE_##type                                                                   \
  }

/* Soaks as long before a pick may have to do with it: common practice, no source. */
#define BED_TRACE_SOAKED_BEFORE "'-30 days'"
