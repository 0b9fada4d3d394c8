#pragma once

#include <glib.h>

/* SQLite's memory, which runs out where it is told to. To be called before anything else. */
void memory_watch (void);

/* The @at-th allocation from now on fails, from 1; @lasting: and all after it. 0: none. */
typedef enum
{
  MEMORY_ONCE,
  MEMORY_FROM_THEN_ON,
} MemoryLasting;
void memory_break (guint at, MemoryLasting lasting);
guint memory_get_broken (void);
guint memory_get_seen (void);
